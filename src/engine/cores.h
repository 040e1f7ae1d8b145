/* src/engine/cores.h - a lower bound on one level, raised by what cannot be cheap together.
 *
 * Owns     the terms as they stand now; all lies in the arena of the model.
 * May use  engine/search.
 *
 * Every term is assumed to cost its least. Where that cannot be, the terms of the conflict cost more
 * between them: they give what they have in common to a new term, their sum, whose least is raised.
 * The level is then the old terms' rest and the new ones, and its bounds are closer. After
 * C. Ansotegui, M. Bonet and J. Levy, "SAT-based MaxSAT algorithms" (2013), and A. Morgado, C. Dodaro
 * and J. Marques-Silva, "Core-guided MaxSAT with soft cardinality constraints" (2014); over integers
 * as in G. Gange, J. Berg, E. Demirovic and P. Stuckey, "Core-guided and core-boosted search for CP"
 * (2020).
 *
 * All of it holds only while the guard of the level does: "if there is anything better, then ...".
 */
#ifndef BP_ENGINE_CORES_H
#define BP_ENGINE_CORES_H

#include "engine/search.h"

typedef struct bpi_cores {
    bpi_linear *level;
    bpi_linear now;      /* the level in the terms of now; limits as the level's */
    int32_t *low, *step; /* per term of now: proved least, if anything is better; tried beyond it */
    bpi_lit *assume;     /* guard, then terms */
    uint32_t *core;      /* terms of a conflict */
    uint32_t room;       /* most terms */
    uint64_t shrink;     /* work to try a conflict without one of its terms */
    bool full;           /* no more terms can be made */
} bpi_cores;

bool bpi_cores_init(bpi_cores *g, bpi_search *s,
                    bpi_linear *level); /* at the root; false: memory */

/* Raise the bound for so much work. BPI_FOUND: a better schedule; BPI_NONE: there is none. */
bpi_outcome bpi_cores_run(bpi_cores *g, bpi_search *s, uint64_t slice);

/* Nothing better than this, if anything is better than the best. */
int64_t bpi_cores_bound(const bpi_cores *g);

#endif

/* src/engine/linear.h - a weighted sum of lower bounds that may not pass a limit.
 *
 * Owns     nothing; terms lie in the arena of the model.
 * May use  engine/core.
 *
 *   base + sum of coef[k] * view[k] <= most, each coef above 0
 *
 * There are two limits: one for good, and one while `guard` holds. The second only ever falls while
 * the guard is in use, so a clause learned from it stays true with "not guard" in it; when the
 * objective is settled the guard is dropped and all those clauses with it.
 */
#ifndef BP_ENGINE_LINEAR_H
#define BP_ENGINE_LINEAR_H

#include "engine/core.h"

typedef struct bpi_linear {
    int64_t *coef;
    uint32_t *view;
    bpi_lit *scratch; /* terms + 1 */
    uint32_t terms;
    int64_t base;
    int64_t most, most_guarded; /* INT64_MAX: none */
    bpi_lit guard;
    uint32_t prop;
} bpi_linear;

bpi_run bpi_linear_run;
bool bpi_linear_start(bpi_core *c, bpi_linear *n); /* as a propagator; false: no memory */
int64_t bpi_linear_low(const bpi_core *c, const bpi_linear *n);  /* least value by the bounds now */
int64_t bpi_linear_root(const bpi_core *c, const bpi_linear *n); /* the same by the root bounds */

#endif

/* src/prep/cure.h - changes of a show that would give it a plan.
 *
 * Owns     the changes, in the caller's arena.
 * May use  engine (its public header), prep/ease, prep/fact, prep/several, prep/grown, live/, base/.
 *
 * Every change named was tried: the problem was built with it and solved again. First single ones:
 * a fact of the conflict loosened, another cook, another oven, a container less; the least trouble
 * comes first. Where none helps, one change of several facts; where there is none, or one of too
 * many, a larger kitchen with what else it takes. What all of it may cost is bounded; what was not
 * tried for want of work is said.
 */
#ifndef BP_PREP_CURE_H
#define BP_PREP_CURE_H

#include "prep/prep.h"

typedef struct bpi_cure {
    const char *text;    /* "call Ines at 06:05"             */
    const char *pointer; /* what would change; "" if unknown */
    bool whole;          /* with it alone there is a plan    */
} bpi_cure;

typedef struct bpi_cures {
    const bpi_cure *cure;
    uint32_t n;
    bool cut;                 /* some that might help were given up for want of work */
    const uint32_t *loosened; /* facts that the change of several of them loosens */
    uint32_t loosens;
    uint64_t work;
} bpi_cures;

/* Counted work: for one question; for all changes of one thing; for one change of several things,
 * which is looked for only where no single one helps; so much more for the largest of those, where
 * there is still none. Together about four seconds of an ordinary machine. */
#define BPI_CURE_EACH    UINT64_C(12000000)
#define BPI_CURE_SINGLE  UINT64_C(60000000)
#define BPI_CURE_SEVERAL UINT64_C(300000000)
#define BPI_CURE_LAST    UINT64_C(200000000)

/* Changes against a conflict of those facts of `p`, which has no schedule; no facts: the conflict is
 * not known. Errors: BP_ENOMEM,
 * BP_EINTERNAL, BP_ELIMIT. */
bp_code bpi_cure_find(bpi_cures *out, bpi_arena *a, const bpi_prep *p, const uint32_t *fact,
                      uint32_t facts, bp_errors *errs);

#endif

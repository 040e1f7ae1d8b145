/* src/prep/why.h - why a show has no plan, what would give it one, and the least late schedule.
 *
 * Owns     the answer, in the caller's arena.
 * May use  engine (its public header), prep/ease, prep/solve, live/, base/.
 *
 * Every change named was tried: the problem was built with it and solved again.
 */
#ifndef BP_PREP_WHY_H
#define BP_PREP_WHY_H

#include "prep/prep.h"
#include "prep/solve.h"

typedef struct bpi_cure {
    const char *text;    /* "call Ines at 06:05"             */
    const char *pointer; /* what would change; "" if unknown */
    bool whole;          /* with it alone there is a plan    */
} bpi_cure;

typedef struct bpi_why_not {
    const uint32_t *fact; /* numbers of prep.fact that cannot hold together */
    uint32_t facts;
    bool minimal;
    const bpi_cure *cure;
    uint32_t cures;
    bpi_prep *late; /* the problem that may be late, and its schedule; NULL: none either */
    bpi_schedule *late_schedule;
    uint64_t work;
} bpi_why_not;

/* Explain prep `p`, which has no schedule. `limits` bound each solve. `cures`: look for changes.
 *
 * Errors  BP_ENOMEM, BP_EINTERNAL, BP_ELIMIT.
 */
bp_code bpi_why_make(bpi_why_not **out, bpi_arena *a, const bpi_prep *p,
                     const bp_eng_limits *limits, bool cures, bp_errors *errs);

#endif

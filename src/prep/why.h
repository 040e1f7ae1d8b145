/* src/prep/why.h - why a show has no plan, what would give it one, and the least late schedule.
 *
 * Owns     the answer, in the caller's arena.
 * May use  engine (its public header), prep/ease, prep/cure, prep/solve, live/, base/.
 */
#ifndef BP_PREP_WHY_H
#define BP_PREP_WHY_H

#include "prep/cure.h"
#include "prep/prep.h"
#include "prep/solve.h"

typedef struct bpi_why_not {
    const uint32_t *fact; /* numbers of prep.fact that cannot hold together */
    uint32_t facts;       /* 0 and minimal: they would change nothing; 0: not found in time */
    bool unsure;          /* that there is no schedule was not proved: facts are those that the
                             change of several loosens                                      */
    bool minimal;
    bpi_cures cures;
    bpi_prep *late;   /* the problem that may be late, and its schedule; NULL: none either */
    bool late_unsure; /* none was found, but none was excluded within the work */
    bpi_schedule *late_schedule;
    uint64_t work;
} bpi_why_not;

/* Explain prep `p`, made with `implied`, for which no schedule was found; limits->none: it was proved
 * that there is none, and the facts are never empty for want of work. limits->work bounds the
 * conflict and the late schedule each, 0: what keeps the whole within a few seconds. `cures`: look for
 * changes. `threads`: with two or more, and without limits->tell, the late schedule is sought beside
 * the conflict and the changes; the answer is the same.
 *
 * Errors  BP_ENOMEM, BP_EINTERNAL, BP_ELIMIT.
 */
bp_code bpi_why_make(bpi_why_not **out, bpi_arena *a, const bpi_prep *p,
                     const bp_eng_limits *limits, bool cures, uint32_t threads, bp_errors *errs);

#endif

/* src/prep/solve.h - a schedule for the jobs of a show, and who stands where in it.
 *
 * Owns     the schedule, in the caller's arena.
 * May use  engine (its public header), prep/prep.h, base/.
 * Units    engine time: whole minutes from prep.zero.
 *
 * After the engine: containers move to the better of the places that keep them as long, ovens are
 * switched on as late as they can be, each wait gets its place by name, and each job the latest
 * start that still works. None of it makes a goal worse.
 */
#ifndef BP_PREP_SOLVE_H
#define BP_PREP_SOLVE_H

#include "prep/prep.h"

/* Counted work: until the first schedule, and then to make it better. The second keeps a morning of
 * 80 operations well under a second; the first is spent only where a plan is hard to find. A build for
 * slow checks (BRIEF=1) is content sooner. */
#define BPI_SOLVE_FIRST UINT64_C(400000000)
#ifdef BPI_BRIEF
#define BPI_SOLVE_BETTER UINT64_C(4000000)
#else
#define BPI_SOLVE_BETTER UINT64_C(18000000)
#endif

typedef struct bpi_schedule {
    bp_eng_status status; /* FEASIBLE or OPTIMAL: the members below hold a schedule */
    int32_t *start, *length;
    uint32_t *option; /* within the job                                          */
    int32_t *latest;  /* latest start, all else left as it is: a load moves with what it loads,
                         a wait gives way                                        */
    uint32_t *place;  /* of the kitchen; BPI_NO_INDEX: none                      */
    int64_t value[BP_ENG_LEVELS], bound[BP_ENG_LEVELS];
    uint32_t proved;
    uint64_t work;
    const bpi_prep *prep; /* the prep, each job with the containers of those that are part of it */
} bpi_schedule;

/* Solve. limits->work bounds both searches together; 0: the two above. Errors: BP_ENOMEM,
 * BP_EINTERNAL. No schedule is no error: the status says so. */
bp_code bpi_solve(bpi_schedule **out, bpi_arena *a, const bpi_prep *p, const bp_eng_limits *limits,
                  bp_errors *errs);

/* What job j does in the schedule. */
const bpi_way *bpi_schedule_way(const bpi_prep *p, const bpi_schedule *s, uint32_t j);
/* The job that j is part of; itself: none. */
uint32_t bpi_schedule_lead(const bpi_prep *p, const bpi_schedule *s, uint32_t j);
int64_t bpi_schedule_from(const bpi_prep *p, const bpi_schedule *s, uint32_t j); /* plan time */
int64_t bpi_schedule_to(const bpi_prep *p, const bpi_schedule *s, uint32_t j);
bool bpi_schedule_out(const bpi_prep *p, const bpi_schedule *s,
                      uint32_t j); /* left out, or empty */

#endif

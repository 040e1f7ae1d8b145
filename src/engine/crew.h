/* src/engine/crew.h - the energy that a group of resources must give bounds how early they start.
 *
 * Owns     nothing; its arrays lie in the arena of the model.
 * May use  engine/core, linear.
 *
 * A level holds, with one weight, "at - first" of a group of resources of capacity 1, where
 * first is the earliest start on the resource. A job is an activity that some member of the
 * group has to do while its literal `in` holds. Until time t a job whose latest start is s has had
 * at least d = clamp(t - s, 0, length) of it, and a member that started at first has given at most
 * t - first. So for every t
 *
 *   sum of (at - first)  >=  sum of d  +  sum over members of (at - max(t, latest first))
 *
 * A break in which a member surely has started counts as a job of its own. The same with one
 * member and the jobs surely its own bounds its first start directly.
 */
#ifndef BP_ENGINE_CREW_H
#define BP_ENGINE_CREW_H

#include "engine/core.h"
#include "engine/linear.h"

typedef struct bpi_job {
    bpi_ref start;
    int32_t length; /* at least, while in; above 0                          */
    bpi_lit in;     /* some member does it                                  */
    bpi_lit *on;    /* per member: done by it; false where it cannot be     */
} bpi_job;

typedef struct bpi_break {
    uint32_t member;
    int32_t from, to;
} bpi_break;

typedef struct bpi_member {
    uint32_t first; /* view */
    int32_t at;
} bpi_member;

typedef struct bpi_crew {
    bpi_linear *goal;
    bool *mine; /* per term of goal: it is a member's */
    int64_t weight;
    bpi_member *member;
    bpi_job *job;
    bpi_break *rest;
    uint32_t members, jobs, rests;
    uint32_t *order;  /* of the moments: 2 per job, 2 per break, 1 per member; by their time */
    int32_t *time;    /* scratch, of each of them                                            */
    bpi_lit *because; /* scratch: jobs * 2 + rests + members + terms + 3 */
    uint32_t prop;
} bpi_crew;

bpi_run bpi_crew_run;

#endif

/* src/engine/cumulative.h - activities that share a renewable resource.
 *
 * Owns     nothing; tasks and limits lie in the arena of the model.
 * May use  engine/core.
 *
 * Time-table reasoning with explanations at single times, after A. Schutt, T. Feydt, P. Stuckey and
 * M. Wallace, "Explaining the cumulative propagator" (Constraints, 2011). It is written in starts
 * and ends, so it needs no case for lengths that vary or are 0:
 *
 *   a task surely runs at p when start <= p and end >= p + 1; where there is no room for it at p,
 *   end >= p + 1 implies start >= p + 1, and start <= p implies end <= p
 */
#ifndef BP_ENGINE_CUMULATIVE_H
#define BP_ENGINE_CUMULATIVE_H

#include "engine/core.h"

typedef struct bpi_task {
    bpi_ref start, end;
    bpi_lit on;
    int32_t amount;
    uint32_t act;
} bpi_task;

/* In [from, to) the limit is that of the first candidate whose guard holds; none: no limit. */
typedef struct bpi_limit {
    int32_t capacity;
    bpi_lit guard;
} bpi_limit;
typedef struct bpi_segment {
    int32_t from, to;
    uint32_t first, limits;
} bpi_segment;

typedef struct bpi_profile {
    int32_t from, to;
    int32_t height, capacity; /* capacity INT32_MAX: none */
    bpi_lit guard;
} bpi_profile;

/* A task as it stood when it was last looked at, so that only what changed is looked at again. */
typedef struct bpi_seen {
    int32_t start, end;         /* earliest start, latest end; start INT32_MIN: not looked at */
    int32_t part_from, part_to; /* where it surely runs; INT32_MAX: nowhere           */
    bool on, changed;
} bpi_seen;

typedef struct bpi_cumulative {
    bpi_task *task;
    uint32_t tasks;
    int32_t most_amount;
    bpi_segment *segment; /* ascending, touching, from 0 to the horizon */
    uint32_t segments;
    bpi_limit *limit;
    /* scratch */
    uint32_t *by_from, *by_to; /* tasks by start and end of their sure parts; kept nearly sorted */
    bpi_seen *seen;            /* per task */
    bpi_profile *profile;      /* room for 2 * tasks + segments + 1 */
    uint32_t profiles;
    int32_t tightest;  /* most of height - capacity, of all pieces              */
    bool built;        /* the profile is that of the parts in `seen`            */
    bool loose_limits; /* some guard is not settled: limits may change any time */
    bpi_lit *because;  /* room for 3 * tasks + 8 */
    uint32_t prop;
} bpi_cumulative;

bpi_run bpi_cumulative_run;

#endif

/* src/day/after.c - a log against its plan.
 *
 * Owns     the actual times of beats and slots.
 * May use  day/floor, day/deeds, base/, the public headers.
 */
#include "backpot/after.h"

#include <string.h>

#include "base/arena.h"
#include "base/error.h"
#include "day/deeds.h"
#include "day/floor.h"
#include "day/log.h"

typedef struct making {
    const bp_plan *plan;
    bp_floor *floor;
    bp_actual *beat, *air;
} making;

/* Slots go by the plan as the show has it: no mishap of the kitchen changes their beats. */
static bp_code follow(making *m, bp_after *after, const bp_log *log, bp_errors *errs)
{
    bp_code rc = BP_OK;
    for (uint32_t i = 0; rc == BP_OK && i < log->events; i++) {
        if (bp_event_members(log->event[i].kind) & BP_HAS_OP)
            continue;
        if (!bpi_deeds_known(m->plan, &log->event[i])) {
            after->unknown++;
            continue;
        }
        bp_log one = {.file = log->file, .head = log->head, .event = &log->event[i], .events = 1};
        m->floor->followed = 0;
        rc = bp_floor_follow(m->floor, &one, errs);
    }
    return rc;
}

/* A beat lasts until the next one begins, the last one until the slot is off air. */
static void read_floor(making *m)
{
    for (uint32_t i = 0; i < m->plan->airs; i++) {
        const bpi_floor_air *a = &m->floor->air[i];
        bool off = a->phase == BP_FLOOR_OFF;
        for (uint32_t k = 0; k < a->n; k++) {
            bp_actual *b = &m->beat[m->plan->air[i].beats.first + a->begun[k].beat];
            b->from = a->begun[k].from;
            b->to = k + 1 < a->n ? a->begun[k + 1].from
                    : off        ? bpi_floor_slot_time(a, a->since)
                                 : BP_NO_TIME;
        }
        if (a->phase != BP_FLOOR_BEFORE)
            m->air[i] = (bp_actual){a->hit, off ? a->since : BP_NO_TIME};
    }
}

static bp_actual *blank(bpi_arena *a, uint32_t n)
{
    bp_actual *list = BPI_TAKE(a, n, bp_actual);
    for (uint32_t i = 0; list && i < n; i++)
        list[i] = (bp_actual){BP_NO_TIME, BP_NO_TIME};
    return list;
}

static bp_code make(bp_after *after, bpi_arena *a, const bp_plan *const *plans, uint32_t n,
                    const bp_log *log, bp_errors *errs)
{
    const bp_plan *plan = plans[0];
    making m = {.plan = plan, .beat = blank(a, plan->beats), .air = blank(a, plan->airs)};
    char *file = BPI_TAKE(a, strlen(log->file) + 1, char);
    if (!m.beat || !m.air || !file)
        return bpi_error_no_memory(errs);
    memcpy(file, log->file, strlen(log->file));
    bp_code rc = bp_floor_new(&m.floor, plan, errs);
    if (rc == BP_OK)
        rc = follow(&m, after, log, errs);
    if (rc == BP_OK)
        read_floor(&m);
    if (rc == BP_OK)
        rc = bpi_deeds_make(&after->op, &after->ops, &after->unknown, a, plans, n, log, errs);
    bp_floor_free(m.floor);
    after->plan = plan;
    after->file = file;
    after->rehearsal = log->head.rehearsal;
    after->other = strcmp(log->head.stamp, plan->stamp) != 0;
    after->beat = m.beat;
    after->air = m.air;
    return rc;
}

bp_code bp_after_make(bp_after **out, const bp_plan *const *plan, uint32_t plans, const bp_log *log,
                      bp_errors *errs)
{
    *out = NULL;
    bp_code rc = bpi_log_is_of(log, plan[0]->show_id, NULL, errs);
    if (rc != BP_OK)
        return rc;
    bpi_arena *a = bpi_arena_new();
    bp_after *after = a ? BPI_TAKE(a, 1, bp_after) : NULL;
    if (!after) {
        bpi_arena_free(a);
        return bpi_error_no_memory(errs);
    }
    after->own = a;
    rc = make(after, a, plan, plans, log, errs);
    if (rc == BP_OK)
        *out = after;
    else
        bpi_arena_free(a);
    return rc;
}

void bp_after_free(bp_after *after)
{
    if (after)
        bpi_arena_free(after->own);
}

static int64_t over(const bp_actual *a, int64_t planned)
{
    return a->from == BP_NO_TIME || a->to == BP_NO_TIME ? BP_NO_TIME : a->to - a->from - planned;
}

int64_t bp_after_op_over(const bp_after *after, uint32_t op)
{
    const bp_after_op *x = &after->op[op];
    return over(&x->done, x->plan->op[x->op].to - x->plan->op[x->op].from);
}

int64_t bp_after_beat_over(const bp_after *after, uint32_t beat)
{
    return over(&after->beat[beat], after->plan->beat[beat].length);
}

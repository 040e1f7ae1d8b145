/* src/day/after.c - a log against its plan.
 *
 * Owns     the actual times.
 * May use  day/floor, base/, the public headers.
 */
#include "backpot/after.h"

#include <string.h>

#include "backpot/kitchen.h"
#include "base/arena.h"
#include "base/error.h"
#include "day/floor.h"
#include "day/log.h"

typedef struct making {
    const bp_plan *plan;
    bp_floor *floor;
    bp_kitchen *kitchen;
    bp_actual *op, *beat, *air;
} making;

/* Does the plan have what the event names? A log of an earlier version may name other things. */
static bool is_known(const bp_plan *p, const bp_event *e)
{
    unsigned has = bp_event_members(e->kind);
    const bp_air *air = NULL;
    bool op = false, beat = false;
    for (uint32_t i = 0; i < p->airs; i++)
        if ((has & BP_HAS_AIR) && strcmp(p->air[i].id, e->air) == 0)
            air = &p->air[i];
    for (uint32_t i = 0; air && (has & BP_HAS_BEAT) && i < air->beats.n; i++)
        beat |= strcmp(p->beat[air->beats.first + i].id, e->beat) == 0;
    for (uint32_t i = 0; (has & BP_HAS_OP) && i < p->ops; i++)
        op |= strcmp(p->op[i].key, e->op) == 0;
    return (!(has & BP_HAS_AIR) || air) && (!(has & BP_HAS_BEAT) || beat) &&
           (!(has & BP_HAS_OP) || op);
}

static bp_code follow(making *m, bp_after *after, const bp_log *log, bp_errors *errs)
{
    bp_code rc = BP_OK;
    int64_t last = 0;
    for (uint32_t i = 0; rc == BP_OK && i < log->events; i++) {
        last = log->event[i].at;
        if (!is_known(m->plan, &log->event[i])) {
            after->unknown++;
            continue;
        }
        bp_log one = {.file = log->file, .head = log->head, .event = &log->event[i], .events = 1};
        m->floor->followed = 0;
        rc = bp_floor_follow(m->floor, &one, errs);
        if (rc == BP_OK && m->kitchen)
            rc = bp_kitchen_apply(m->kitchen, &log->event[i], errs);
    }
    if (rc != BP_OK || !m->kitchen)
        return rc;
    bp_kitchen_view v;
    bp_kitchen_look(&v, m->kitchen, last);
    for (uint32_t o = 0; o < m->plan->ops; o++)
        m->op[o] = (bp_actual){v.task[o].started, v.task[o].done};
    return BP_OK;
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

static bp_code make(bp_after *after, bpi_arena *a, const bp_plan *plan, const bp_log *log,
                    bp_errors *errs)
{
    making m = {.plan = plan,
                .op = blank(a, plan->ops),
                .beat = blank(a, plan->beats),
                .air = blank(a, plan->airs)};
    char *file = BPI_TAKE(a, strlen(log->file) + 1, char);
    if (!m.op || !m.beat || !m.air || !file)
        return bpi_error_no_memory(errs);
    memcpy(file, log->file, strlen(log->file));
    bp_code rc = bp_floor_new(&m.floor, plan, errs);
    if (rc == BP_OK && plan->ops)
        rc = bp_kitchen_new(&m.kitchen, plan, errs);
    if (rc == BP_OK)
        rc = follow(&m, after, log, errs);
    if (rc == BP_OK)
        read_floor(&m);
    bp_floor_free(m.floor);
    bp_kitchen_free(m.kitchen);
    after->plan = plan;
    after->file = file;
    after->rehearsal = log->head.rehearsal;
    after->other = strcmp(log->head.stamp, plan->stamp) != 0;
    after->op = m.op;
    after->beat = m.beat;
    after->air = m.air;
    return rc;
}

bp_code bp_after_make(bp_after **out, const bp_plan *plan, const bp_log *log, bp_errors *errs)
{
    *out = NULL;
    bp_code rc = bpi_log_is_of(log, plan->show_id, NULL, errs);
    if (rc != BP_OK)
        return rc;
    bpi_arena *a = bpi_arena_new();
    bp_after *after = a ? BPI_TAKE(a, 1, bp_after) : NULL;
    if (!after) {
        bpi_arena_free(a);
        return bpi_error_no_memory(errs);
    }
    after->own = a;
    rc = make(after, a, plan, log, errs);
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
    return over(&after->op[op], after->plan->op[op].to - after->plan->op[op].from);
}

int64_t bp_after_beat_over(const bp_after *after, uint32_t beat)
{
    return over(&after->beat[beat], after->plan->beat[beat].length);
}

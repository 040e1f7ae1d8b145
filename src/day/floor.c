#include "day/floor.h"

#include <assert.h>
#include <string.h>

#include "base/error.h"
#include "base/limits.h"
#include "base/memory.h"

#define MOST_LENGTH 86400 /* s: of a slot */

bp_code bp_floor_new(bp_floor **out, const bp_plan *plan, bp_errors *errs)
{
    *out = NULL;
    if (plan->airs == 0)
        return bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE, "the plan has no appearance", "");
    bp_floor *f = bpi_mem_get(sizeof *f);
    if (f)
        f->air = bpi_mem_get(plan->airs * sizeof *f->air);
    if (!f || !f->air) {
        bpi_mem_drop(f);
        return bpi_error_no_memory(errs);
    }
    f->plan = plan;
    *out = f;
    return BP_OK;
}

void bp_floor_free(bp_floor *f)
{
    if (!f)
        return;
    bpi_mem_drop(f->air);
    bpi_mem_drop(f);
}

int64_t bpi_floor_slot_time(const bpi_floor_air *a, int64_t now)
{
    if (a->phase == BP_FLOOR_BEFORE)
        return 0;
    if (a->phase != BP_FLOOR_ON)
        now = a->since;
    int64_t t = now - a->hit - a->held;
    return t > 0 ? t : 0;
}

/* ---- what an event names --------------------------------------------------------------------- */

typedef struct named {
    const bp_air *air;
    bpi_floor_air *state;
    uint32_t beat; /* within the appearance */
} named;

static bp_code refuse(bp_errors *errs, bpi_where at, const char *wrong, const char *right)
{
    return bpi_error_add(errs, BP_EVALUE, at, wrong, right);
}

static bp_code find(named *out, const bp_floor *f, const bp_event *e, bpi_where at, bp_errors *errs)
{
    const bp_plan *p = f->plan;
    unsigned has = bp_event_members(e->kind);
    *out = (named){.beat = BP_NO_INDEX};
    for (uint32_t i = 0; (has & BP_HAS_AIR) && i < p->airs; i++)
        if (strcmp(p->air[i].id, e->air) == 0) {
            out->air = &p->air[i];
            out->state = &f->air[i];
        }
    if ((has & BP_HAS_AIR) && !out->air)
        return bpi_error_f(errs, BP_EVALUE, at, "", "the plan has no appearance \"%.60s\"", e->air);
    assert(out->air || !(has & BP_HAS_BEAT)); /* who names a beat names its appearance */
    for (uint32_t i = 0; (has & BP_HAS_BEAT) && i < out->air->beats.n; i++)
        if (strcmp(p->beat[out->air->beats.first + i].id, e->beat) == 0)
            out->beat = i;
    if ((has & BP_HAS_BEAT) && out->beat == BP_NO_INDEX)
        return bpi_error_f(errs, BP_EVALUE, at, "", "%.60s has no beat \"%.60s\"", e->air, e->beat);
    return BP_OK;
}

static uint32_t on_air(const bpi_floor_air *a)
{
    return a->n ? a->begun[a->n - 1].beat : BP_NO_INDEX;
}

/* ---- may it? --------------------------------------------------------------------------------- */

static bp_code check_back(const named *n, bpi_where at, bp_errors *errs)
{
    const bpi_floor_air *a = n->state;
    if (on_air(a) == n->beat)
        return BP_OK;
    if (a->phase == BP_FLOOR_OFF)
        return refuse(errs, at, "the slot has ended with another beat", "");
    if (a->n < 2 || a->begun[a->n - 2].beat != n->beat)
        return refuse(errs, at, "this is not the beat before the one on air", "");
    return BP_OK;
}

static bp_code check(const bp_floor *f, const bp_event *e, named *n, bpi_where at, bp_errors *errs)
{
    bp_code rc = find(n, f, e, at, errs);
    if (rc != BP_OK || !n->state)
        return rc;
    const bpi_floor_air *a = n->state;
    bool on = a->phase == BP_FLOOR_ON || a->phase == BP_FLOOR_HELD;
    int64_t length = n->air->slot - a->cut - e->seconds;
    switch (e->kind) {
    case BP_DAY_LATE:
        if (a->phase != BP_FLOOR_BEFORE)
            return refuse(errs, at, "the slot has begun: it cannot be late any more",
                          "cut it instead");
        return BP_OK;
    case BP_DAY_BEAT:
        if (!on)
            return refuse(errs, at, "no beat can begin: the slot is not on air", "");
        if (a->n && n->beat < on_air(a))
            return refuse(errs, at, "this beat has gone by", "go back one instead");
        if (a->out >> n->beat & 1)
            return refuse(errs, at, "this beat was dropped", "keep it first");
        return BP_OK;
    case BP_DAY_BACK:
        return a->phase == BP_FLOOR_BEFORE
                   ? refuse(errs, at, "there is no way back: the slot has not begun", "")
                   : check_back(n, at, errs);
    case BP_DAY_HOLD:
    case BP_DAY_GO_ON:
        return on ? BP_OK : refuse(errs, at, "the slot is not on air", "");
    case BP_DAY_OFF:
        return a->phase != BP_FLOOR_BEFORE ? BP_OK : refuse(errs, at, "the slot has not begun", "");
    case BP_DAY_DROP:
        if (a->phase == BP_FLOOR_OFF || (a->n && n->beat <= on_air(a)))
            return refuse(errs, at, "this beat has begun, or has gone by", "drop one to come");
        return BP_OK;
    case BP_DAY_CUT:
        if (a->phase == BP_FLOOR_OFF)
            return refuse(errs, at, "the slot has ended", "");
        if (length < 0 || length > MOST_LENGTH)
            return refuse(errs, at, "no slot can have this length", "cut less");
        return BP_OK;
    case BP_DAY_OPEN:
    case BP_DAY_HIT:
    case BP_DAY_KEEP:
    case BP_DAY_START:
    case BP_DAY_DONE:
    case BP_DAY_UNDO:
    case BP_DAY_MISHAP:
    case BP_DAY_NOTE:
    case BP_DAY_KINDS:
        break;
    }
    return BP_OK;
}

bp_code bp_floor_can(const bp_floor *f, const bp_event *e, bp_errors *errs)
{
    named n;
    return check(f, e, &n, BPI_NOWHERE, errs);
}

/* ---- it happens ------------------------------------------------------------------------------ */

static void end_hold(bpi_floor_air *a, int64_t at)
{
    if (a->phase != BP_FLOOR_HELD)
        return;
    a->held += at - a->since;
    a->phase = BP_FLOOR_ON;
}

static void happen(const named *n, const bp_event *e)
{
    bpi_floor_air *a = n->state;
    switch (e->kind) {
    case BP_DAY_LATE:
        a->late = e->seconds;
        break;
    case BP_DAY_HIT:
        if (a->phase == BP_FLOOR_BEFORE) {
            a->phase = BP_FLOOR_ON;
            a->hit = e->at;
        }
        break;
    case BP_DAY_BEAT:
        if (on_air(a) != n->beat)
            a->begun[a->n++] = (bpi_begun){n->beat, bpi_floor_slot_time(a, e->at)};
        break;
    case BP_DAY_BACK:
        if (a->phase == BP_FLOOR_OFF)
            a->phase = BP_FLOOR_ON; /* as if it had never ended */
        else if (on_air(a) != n->beat)
            a->n--;
        break;
    case BP_DAY_HOLD:
        if (a->phase == BP_FLOOR_ON) {
            a->phase = BP_FLOOR_HELD;
            a->since = e->at;
        }
        break;
    case BP_DAY_GO_ON:
        end_hold(a, e->at);
        break;
    case BP_DAY_DROP:
        assert(n->beat < BPI_MAX_BEATS); /* an event without its beat is refused */
        a->out |= UINT64_C(1) << n->beat;
        break;
    case BP_DAY_KEEP:
        a->out &= ~(UINT64_C(1) << n->beat);
        break;
    case BP_DAY_CUT:
        a->cut += e->seconds;
        break;
    case BP_DAY_OFF:
        if (a->phase != BP_FLOOR_OFF) {
            end_hold(a, e->at);
            a->phase = BP_FLOOR_OFF;
            a->since = e->at;
        }
        break;
    case BP_DAY_OPEN:
    case BP_DAY_START:
    case BP_DAY_DONE:
    case BP_DAY_UNDO:
    case BP_DAY_MISHAP:
    case BP_DAY_NOTE:
    case BP_DAY_KINDS:
        break;
    }
}

static bp_code apply(bp_floor *f, const bp_event *e, bpi_where at, bp_errors *errs)
{
    named n;
    bp_code rc = check(f, e, &n, at, errs);
    if (rc == BP_OK && n.state)
        happen(&n, e);
    return rc;
}

bp_code bp_floor_apply(bp_floor *f, const bp_event *e, bp_errors *errs)
{
    return apply(f, e, BPI_NOWHERE, errs);
}

bp_code bp_floor_follow(bp_floor *f, const bp_log *log, bp_errors *errs)
{
    for (; f->followed < log->events; f->followed++) {
        const bp_event *e = &log->event[f->followed];
        bp_code rc = apply(f, e, (bpi_where){.file = log->file, .line = e->line, .col = 1}, errs);
        if (rc != BP_OK)
            return rc;
        f->mishaps += e->kind == BP_DAY_MISHAP;
    }
    return BP_OK;
}

bool bp_floor_is_behind(const bp_floor *f)
{
    return f->mishaps > f->plan->mishaps;
}

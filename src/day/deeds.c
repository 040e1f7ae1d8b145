#include "day/deeds.h"

#include <stdlib.h>
#include <string.h>

#include "backpot/kitchen.h"
#include "base/error.h"

typedef struct deeds {
    bp_after_op *row;
    uint32_t rows;
    bool *touched;      /* of each operation of the plan in force: ticked since it is */
    int64_t from, next; /* plan time: the plan is in force from here, until here      */
} deeds;

bool bpi_deeds_known(const bp_plan *p, const bp_event *e)
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

static bool has_begun(const bp_after_op *r)
{
    return r->done.from != BP_NO_TIME || r->done.to != BP_NO_TIME;
}

/* The last that goes by the key; NULL: none. */
static bp_after_op *find(const deeds *d, const char *key)
{
    for (uint32_t i = d->rows; i-- > 0;)
        if (strcmp(d->row[i].plan->op[d->row[i].op].key, key) == 0)
            return &d->row[i];
    return NULL;
}

/* One operation of a plan while it was in force. Its past is that of the plans before it, on whole minutes:
 * of that only what was ticked since is taken. */
static void take(deeds *d, const bp_plan *p, uint32_t o, const bp_task *t)
{
    const bp_op *op = &p->op[o];
    bp_after_op *r = find(d, op->key);
    bool past = op->from < d->from, due = !past && op->from < d->next;
    if (r && past && has_begun(r)) {
        bool ended = t->done != BP_NO_TIME && t->done >= d->from;
        if (d->touched[o] && t->done == BP_NO_TIME && t->started == BP_NO_TIME)
            r->done.from = BP_NO_TIME;
        if (d->touched[o] || (ended && r->done.to == BP_NO_TIME))
            r->done.to = t->done;
        return;
    }
    bp_actual done = {BP_NO_TIME, BP_NO_TIME};
    if (!past)
        done = (bp_actual){t->started, t->done};
    else if (d->touched[o])
        done.to = t->done;
    bp_after_op now = {p, o, done};
    if (!due && !has_begun(&now))
        return;
    if (r && !has_begun(r))
        *r = now; /* it was put off */
    else
        d->row[d->rows++] = now;
}

/* The ticks from event *i on, until the next mishap or, by the last plan, until the end. `k` is NULL where
 * the plan has no operations. */
static bp_code follow(deeds *d, bp_kitchen *k, const bp_plan *p, bool last, const bp_log *log,
                      uint32_t *i, uint32_t *unknown, bp_errors *errs)
{
    bp_code rc = BP_OK;
    int64_t at = *i ? log->event[*i - 1].at : 0;
    for (; rc == BP_OK && *i < log->events; ++*i) {
        const bp_event *e = &log->event[*i];
        at = e->at;
        if (!last && e->kind == BP_DAY_MISHAP)
            break;
        if (!(bp_event_members(e->kind) & BP_HAS_OP))
            continue;
        if (!bpi_deeds_known(p, e)) {
            ++*unknown;
            continue;
        }
        rc = bp_kitchen_apply(k, e, errs);
        for (uint32_t o = 0; o < p->ops; o++)
            d->touched[o] |= strcmp(p->op[o].key, e->op) == 0;
    }
    *i += !last && *i < log->events; /* past the mishap */
    if (rc != BP_OK || !k)
        return rc;
    bp_kitchen_view v;
    bp_kitchen_look(&v, k, at);
    for (uint32_t o = 0; o < p->ops; o++)
        take(d, p, o, &v.task[o]);
    return BP_OK;
}

static int by_start(const void *a, const void *b)
{
    const bp_after_op *x = a, *y = b;
    int64_t s = x->plan->op[x->op].from, t = y->plan->op[y->op].from;
    if (s != t)
        return s < t ? -1 : 1;
    if (x->plan != y->plan)
        return x->plan->mishaps < y->plan->mishaps ? -1 : 1;
    return x->op < y->op ? -1 : 1;
}

bp_code bpi_deeds_make(const bp_after_op **out, uint32_t *n, uint32_t *unknown, bpi_arena *a,
                       const bp_plan *const *plan, uint32_t plans, const bp_log *log,
                       bp_errors *errs)
{
    uint32_t all = 0, most = 0, event = 0;
    for (uint32_t k = 0; k < plans; k++) {
        all += plan[k]->ops;
        most = plan[k]->ops > most ? plan[k]->ops : most;
    }
    deeds d = {.row = BPI_TAKE(a, all, bp_after_op), .touched = BPI_TAKE(a, most, bool)};
    if (!d.row || !d.touched)
        return bpi_error_no_memory(errs);
    bp_code rc = BP_OK;
    for (uint32_t k = 0; rc == BP_OK && k < plans; k++) {
        bp_kitchen *kitchen = NULL;
        bool last = k + 1 == plans;
        d.from = k ? plan[k]->mended_at : INT64_MIN;
        d.next = last ? INT64_MAX : plan[k + 1]->mended_at;
        memset(d.touched, 0, most * sizeof *d.touched);
        if (plan[k]->ops > 0)
            rc = bp_kitchen_new(&kitchen, plan[k], errs);
        if (rc == BP_OK)
            rc = follow(&d, kitchen, plan[k], last, log, &event, unknown, errs);
        bp_kitchen_free(kitchen);
    }
    qsort(d.row, d.rows, sizeof *d.row, by_start);
    *out = d.row;
    *n = d.rows;
    return rc;
}

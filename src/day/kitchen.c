/* src/day/kitchen.c - where each operation of a day stands.
 *
 * Owns     the ticks, and the forecast made of them.
 * May use  base/, the public headers.
 * Units    plan time, whole seconds.
 */
#include "backpot/kitchen.h"

#include <string.h>

#include "base/arena.h"
#include "base/error.h"

struct bp_kitchen {
    const bp_plan *plan;
    bpi_arena *a;
    int64_t *started, *done; /* of each operation; BP_NO_TIME: not ticked                      */
    uint32_t *opener;        /* of what cooks unattended: the operation that puts it on         */
    uint32_t *closer;        /* and that takes it off; BP_NO_INDEX: none                        */
    uint32_t *pair;          /* of who helps: what with; of that: who helps; BP_NO_INDEX: neither */
    bool *before;            /* ops x ops, by row: must the one of the column have ended first? */
    uint32_t *nth;           /* of each operation: which event ticked it last; 0: not ticked    */
    uint32_t events;         /* ticks so far                                                    */
    uint32_t followed;       /* events taken from the log                                       */
    uint32_t mishaps;        /* of them                                                         */
    bp_task *task;
    int64_t *on_set;
    uint32_t *at;
};

bool bp_op_is_ticked(bp_op_kind kind)
{
    return kind != BP_OP_WAIT && kind != BP_OP_SET && kind != BP_OP_PASSIVE && kind != BP_OP_OVEN;
}

static bool cooks(bp_op_kind kind)
{
    return kind == BP_OP_PASSIVE || kind == BP_OP_OVEN;
}

/* ---- what hangs on what ---------------------------------------------------------------------- */

static bool share(const bp_plan *p, const bp_op *a, const bp_op *b)
{
    if (a->person != BP_NO_INDEX && a->person == b->person)
        return true;
    for (uint32_t i = 0; i < a->serves.n; i++)
        for (uint32_t k = 0; k < b->serves.n; k++)
            if (p->index[a->serves.first + i] == p->index[b->serves.first + k])
                return true;
    return false;
}

/* Is it the load, or the take-off, of what cooks? */
static bool belongs(const bp_op *x, const bp_op *op)
{
    size_t n = strlen(op->key);
    return strncmp(x->key, op->key, n) == 0 && x->key[n] == '/';
}

/* What has no load of its own is put on in passing, by who ends what comes before. */
static void find_ends(bp_kitchen *k, uint32_t o)
{
    const bp_plan *p = k->plan;
    const bp_op *op = &p->op[o];
    bool load = false;
    k->opener[o] = k->closer[o] = BP_NO_INDEX;
    for (uint32_t i = 0; i < p->ops && cooks(op->kind); i++) {
        const bp_op *x = &p->op[i];
        if (!bp_op_is_ticked(x->kind) || x->kind == BP_OP_HELP || !share(p, x, op))
            continue;
        if (x->to == op->from && !load) {
            k->opener[o] = i;
            load = x->kind == BP_OP_LOAD && belongs(x, op);
        }
        if (x->from == op->to && x->kind == BP_OP_TAKE_OFF && belongs(x, op))
            k->closer[o] = i;
    }
}

/* Who helps begins with what they help with. */
static void find_pair(bp_kitchen *k, uint32_t o)
{
    const bp_plan *p = k->plan;
    for (uint32_t i = 0; i < p->ops && p->op[o].kind == BP_OP_HELP; i++)
        if (p->op[i].kind == BP_OP_ACTIVE && p->op[i].from == p->op[o].from &&
            belongs(&p->op[o], &p->op[i])) {
            k->pair[o] = i;
            k->pair[i] = o;
        }
}

/* A mended plan has what was done so far as it was. */
static void take_past(bp_kitchen *k, uint32_t o)
{
    const bp_plan *p = k->plan;
    if (!p->mended || !bp_op_is_ticked(p->op[o].kind) || p->op[o].from >= p->mended_at)
        return;
    k->started[o] = p->op[o].from;
    if (p->op[o].to <= p->mended_at)
        k->done[o] = p->op[o].to;
}

bp_code bp_kitchen_new(bp_kitchen **out, const bp_plan *plan, bp_errors *errs)
{
    *out = NULL;
    if (plan->ops == 0)
        return bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE, "the plan has no operation", "");
    bpi_arena *a = bpi_arena_new();
    bp_kitchen *k = a ? BPI_TAKE(a, 1, bp_kitchen) : NULL;
    if (k) {
        uint32_t n = plan->ops;
        *k = (bp_kitchen){.plan = plan, .a = a};
        k->started = BPI_TAKE(a, n, int64_t);
        k->done = BPI_TAKE(a, n, int64_t);
        k->nth = BPI_TAKE(a, n, uint32_t);
        k->opener = BPI_TAKE(a, n, uint32_t);
        k->closer = BPI_TAKE(a, n, uint32_t);
        k->pair = BPI_TAKE(a, n, uint32_t);
        k->before = BPI_TAKE(a, (size_t)n * n, bool);
        k->task = BPI_TAKE(a, n, bp_task);
        k->on_set = BPI_TAKE(a, plan->containers, int64_t);
        k->at = BPI_TAKE(a, plan->persons, uint32_t);
    }
    if (!k || !k->started || !k->done || !k->nth || !k->opener || !k->closer || !k->pair ||
        !k->before || !k->task || !k->on_set || !k->at) {
        bpi_arena_free(a);
        bpi_error_no_memory(errs);
        return BP_ENOMEM;
    }
    for (uint32_t o = 0; o < plan->ops; o++)
        k->pair[o] = BP_NO_INDEX;
    for (uint32_t o = 0; o < plan->ops; o++) {
        k->started[o] = k->done[o] = BP_NO_TIME;
        find_pair(k, o);
        take_past(k, o);
        find_ends(k, o);
        for (uint32_t i = 0; i < o; i++)
            k->before[(size_t)o * plan->ops + i] =
                plan->op[i].to <= plan->op[o].from && share(plan, &plan->op[i], &plan->op[o]);
    }
    *out = k;
    return BP_OK;
}

void bp_kitchen_free(bp_kitchen *k)
{
    if (k)
        bpi_arena_free(k->a);
}

/* ---- events ---------------------------------------------------------------------------------- */

static bp_code check(const bp_kitchen *k, const bp_event *e, uint32_t *op, bpi_where at,
                     bp_errors *errs)
{
    *op = BP_NO_INDEX;
    if (!(bp_event_members(e->kind) & BP_HAS_OP))
        return BP_OK;
    for (uint32_t o = 0; o < k->plan->ops; o++)
        if (strcmp(k->plan->op[o].key, e->op) == 0)
            *op = o;
    if (*op == BP_NO_INDEX)
        return bpi_error_f(errs, BP_EVALUE, at, "", "the plan has no operation \"%.80s\"", e->op);
    if (!bp_op_is_ticked(k->plan->op[*op].kind))
        return bpi_error_f(errs, BP_EVALUE, at, "it begins and ends by itself",
                           "nobody does \"%.80s\"", e->op);
    return BP_OK;
}

bp_code bp_kitchen_can(const bp_kitchen *k, const bp_event *e, bp_errors *errs)
{
    uint32_t op;
    return check(k, e, &op, BPI_NOWHERE, errs);
}

static bp_code apply(bp_kitchen *k, const bp_event *e, bpi_where at, bp_errors *errs)
{
    uint32_t op;
    bp_code rc = check(k, e, &op, at, errs);
    if (rc != BP_OK || op == BP_NO_INDEX)
        return rc;
    if (e->kind == BP_DAY_START && k->started[op] == BP_NO_TIME && k->done[op] == BP_NO_TIME)
        k->started[op] = e->at;
    else if (e->kind == BP_DAY_DONE && k->done[op] == BP_NO_TIME)
        k->done[op] = e->at;
    else if (e->kind == BP_DAY_UNDO && k->done[op] != BP_NO_TIME)
        k->done[op] = BP_NO_TIME;
    else if (e->kind == BP_DAY_UNDO)
        k->started[op] = BP_NO_TIME;
    bool ticked = k->started[op] != BP_NO_TIME || k->done[op] != BP_NO_TIME;
    k->events++;
    if (e->kind != BP_DAY_UNDO || !ticked)
        k->nth[op] = ticked ? k->events : 0;
    return BP_OK;
}

bp_code bp_kitchen_apply(bp_kitchen *k, const bp_event *e, bp_errors *errs)
{
    return apply(k, e, BPI_NOWHERE, errs);
}

bp_code bp_kitchen_follow(bp_kitchen *k, const bp_log *log, bp_errors *errs)
{
    for (; k->followed < log->events; k->followed++) {
        const bp_event *e = &log->event[k->followed];
        bool early = k->mishaps < k->plan->mishaps, mishap = e->kind == BP_DAY_MISHAP;
        k->mishaps += mishap;
        if (early)
            continue;            /* the plan has it */
        bp_errors unheard = {0}; /* another plan has it no more, or does not know of it yet */
        bool another = k->plan->mended || k->mishaps > k->plan->mishaps;
        bp_code rc = apply(k, e, (bpi_where){.file = log->file, .line = e->line, .col = 1},
                           another ? &unheard : errs);
        if (rc != BP_OK && !another)
            return rc;
    }
    return BP_OK;
}

bool bp_kitchen_is_behind(const bp_kitchen *k)
{
    return k->mishaps > k->plan->mishaps;
}

/* ---- how it stands --------------------------------------------------------------------------- */

static int64_t latest(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

/* When it can begin: as planned, but not before now nor before what must have ended. */
static int64_t expected(const bp_kitchen *k, uint32_t o, int64_t now)
{
    int64_t from = latest(k->plan->op[o].from, now);
    for (uint32_t i = 0; i < o; i++)
        if (k->before[(size_t)o * k->plan->ops + i])
            from = latest(from, k->task[i].to);
    return from;
}

static void stand_hand(bp_kitchen *k, uint32_t o, int64_t now)
{
    const bp_op *op = &k->plan->op[o];
    bp_task *t = &k->task[o];
    *t = (bp_task){BP_TASK_TO_COME, k->started[o], k->done[o], 0, 0, BP_NO_TIME, BP_NO_TIME};
    if (t->done != BP_NO_TIME) {
        t->state = BP_TASK_DONE;
        t->to = t->done;
        t->from = t->started != BP_NO_TIME ? t->started : t->done - (op->to - op->from);
    } else if (t->started != BP_NO_TIME) {
        t->state = BP_TASK_UNDER_WAY;
        t->from = t->started;
        t->to = latest(now, t->from + (op->to - op->from));
    } else {
        uint32_t other = k->pair[o]; /* two at once: when both can */
        t->from = expected(k, o, now);
        if (other != BP_NO_INDEX && k->started[other] == BP_NO_TIME && k->done[other] == BP_NO_TIME)
            t->from = latest(t->from, expected(k, other, now));
        t->to = t->from + (op->to - op->from);
    }
}

/* It began when it was put on; it may come off as soon as its window opens, and not before planned
 * unless it would be too long then. */
static void stand_unattended(bp_kitchen *k, uint32_t o, int64_t now)
{
    const bp_op *op = &k->plan->op[o];
    bp_task *t = &k->task[o];
    uint32_t opener = k->opener[o], closer = k->closer[o];
    bool window = op->off_least != BP_NO_TIME;
    int64_t least = window ? op->off_least - op->from : op->to - op->from;
    int64_t most = window ? op->off_most - op->from : least;
    *t = (bp_task){BP_TASK_TO_COME, BP_NO_TIME, BP_NO_TIME, 0, 0, BP_NO_TIME, BP_NO_TIME};
    if (opener != BP_NO_INDEX && k->done[opener] != BP_NO_TIME) {
        t->state = BP_TASK_UNDER_WAY;
        t->from = t->started = k->done[opener];
    } else
        t->from = opener != BP_NO_INDEX ? k->task[opener].to : expected(k, o, now);
    t->to = latest(t->from + least, op->to < t->from + most ? op->to : t->from + most);
    if (closer != BP_NO_INDEX) {
        int64_t off = k->started[closer] != BP_NO_TIME ? k->started[closer] : k->done[closer];
        if (off != BP_NO_TIME) {
            t->state = BP_TASK_DONE;
            t->to = t->done = off;
            if (t->started == BP_NO_TIME) /* nobody said when it was put on: in time, at any rate */
                t->from = op->from + least <= off ? op->from : off - least;
        } else if (t->state == BP_TASK_UNDER_WAY)
            t->to = latest(t->to, now);
    } else if (t->state == BP_TASK_UNDER_WAY && t->to <= now) {
        t->state = BP_TASK_DONE;
        t->done = t->to;
    }
    if (window) {
        t->off_least = t->from + least;
        t->off_most = t->from + most;
    }
}

static void stand(bp_kitchen *k, uint32_t o, int64_t now)
{
    const bp_op *op = &k->plan->op[o];
    if (cooks(op->kind))
        stand_unattended(k, o, now);
    else if (bp_op_is_ticked(op->kind))
        stand_hand(k, o, now);
    else { /* waiting gives way */
        int64_t from = expected(k, o, INT64_MIN);
        k->task[o] =
            (bp_task){BP_TASK_TO_COME, BP_NO_TIME, BP_NO_TIME, from, from, BP_NO_TIME, BP_NO_TIME};
    }
}

/* Of what is watched, the first that is due, or with `due` not asked for the first of all. */
static uint32_t watched_of(const bp_kitchen *k, uint32_t person, int64_t now, bool due)
{
    uint32_t best = BP_NO_INDEX;
    for (uint32_t o = 0; o < k->plan->ops; o++)
        if (k->plan->op[o].person == person && k->plan->op[o].watch &&
            k->task[o].state == BP_TASK_UNDER_WAY && (!due || k->task[o].to <= now) &&
            (best == BP_NO_INDEX || k->task[o].to < k->task[best].to))
            best = o;
    return best;
}

/* What is watched to its end comes first, then what is in hand, then what is to begin while something is
 * watched, then that. */
static uint32_t at_of(const bp_kitchen *k, uint32_t person, int64_t now)
{
    const bp_plan *p = k->plan;
    uint32_t first = BP_NO_INDEX, due = watched_of(k, person, now, true);
    uint32_t watched = watched_of(k, person, now, false);
    if (due != BP_NO_INDEX)
        return due;
    for (uint32_t o = p->ops; o-- > 0;) {
        if (p->op[o].person != person || k->task[o].state == BP_TASK_DONE || o == watched)
            continue;
        if (k->task[o].state == BP_TASK_TO_COME)
            first = o;
        else if (!p->op[o].watch)
            return o;
    }
    bool meanwhile = first != BP_NO_INDEX && watched != BP_NO_INDEX &&
                     (p->op[first].light || p->op[first].watch) &&
                     p->op[first].from < p->op[watched].to;
    return watched == BP_NO_INDEX || meanwhile ? first : watched;
}

void bp_kitchen_look(bp_kitchen_view *v, bp_kitchen *k, int64_t now)
{
    const bp_plan *p = k->plan;
    for (uint32_t o = 0; o < p->ops; o++) /* by start: what must have ended comes first */
        stand(k, o, now);
    for (uint32_t c = 0; c < p->containers; c++)
        k->on_set[c] = p->container[c].on_set;
    for (uint32_t o = 0; o < p->ops; o++)
        for (uint32_t i = 0; p->op[o].kind == BP_OP_CARRY && i < p->op[o].serves.n; i++)
            k->on_set[p->index[p->op[o].serves.first + i]] = k->task[o].to;
    for (uint32_t i = 0; i < p->persons; i++)
        k->at[i] = at_of(k, i, now);
    *v = (bp_kitchen_view){now, k->task, k->on_set, k->at, BP_NO_INDEX};
    for (uint32_t o = 0; o < p->ops; o++)
        if (k->nth[o] && (v->last == BP_NO_INDEX || k->nth[o] > k->nth[v->last]))
            v->last = o;
}

uint32_t bp_kitchen_after(const bp_kitchen *k, const bp_kitchen_view *v, uint32_t op)
{
    for (uint32_t o = 0; o < k->plan->ops; o++)
        if (o != op && k->plan->op[o].person == k->plan->op[op].person &&
            v->task[o].state == BP_TASK_TO_COME && (o > op || v->task[op].state != BP_TASK_TO_COME))
            return o;
    return BP_NO_INDEX;
}

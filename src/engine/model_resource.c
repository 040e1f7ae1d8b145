/* src/engine/model_resource.c - resources: tasks, calendars, the order of different states.
 *
 * Owns     nothing; part of engine/model.
 * May use  engine/model, cumulative.
 */
#include "engine/model.h"

#include <stdlib.h>

#include "base/arena.h"

typedef struct user {
    uint32_t act, option; /* option: counted over all */
    const bp_eng_need *need;
    bpi_lit on;   /* takes the option                        */
    bpi_lit runs; /* and lasts longer than 0; with states only */
} user;

static const bp_eng_need *need_of(const bp_eng_problem *p, uint32_t option, uint32_t res)
{
    const bp_eng_option *o = &p->option[option];
    for (uint32_t n = 0; n < o->needs; n++)
        if (p->need[o->need0 + n].res == res)
            return &p->need[o->need0 + n];
    return NULL;
}

/* Do all options of the activity need the same of the resource? Then the choice does not matter. */
static bool all_alike(const bp_eng_problem *p, uint32_t act, const bp_eng_need *as)
{
    for (uint32_t k = 0; k < p->activity[act].options; k++) {
        const bp_eng_need *n = need_of(p, p->activity[act].option0 + k, as->res);
        if (!n || n->amount != as->amount || n->state != as->state)
            return false;
    }
    return true;
}

static bool gather(const bpi_model *m, user **list, uint32_t *first)
{
    const bp_eng_problem *p = m->p;
    for (uint32_t pass = 0; pass < 2; pass++) {
        for (uint32_t a = 0; a < p->activities; a++)
            for (uint32_t k = 0; k < p->activity[a].options; k++) {
                uint32_t o = p->activity[a].option0 + k;
                for (uint32_t n = 0; n < p->option[o].needs; n++) {
                    const bp_eng_need *need = &p->need[p->option[o].need0 + n];
                    bool same = all_alike(p, a, need);
                    if (same && k)
                        continue;
                    uint32_t at = first[need->res + 1 + (pass == 0)]++;
                    if (pass)
                        (*list)[at] =
                            (user){a, o, need, same ? BPI_LIT_TRUE : m->option[o], BPI_LIT_TRUE};
                }
            }
        if (pass)
            break;
        /* Counts stand two places up; summing gives, one place up, where each list starts. */
        for (uint32_t r = 0; r < p->resources; r++)
            first[r + 2] += first[r + 1];
        *list = BPI_TAKE(m->arena, first[p->resources + 1], user);
        if (!*list)
            return false;
    }
    return true;
}

static int by_number(const void *a, const void *b)
{
    int32_t x = *(const int32_t *)a, y = *(const int32_t *)b;
    return (x > y) - (x < y);
}

/* The limits that hold in [from, to), least first: all spans there, and the usual capacity unless a
 * span lifts it. */
static uint32_t limits_in(const bpi_model *m, uint32_t res, int32_t from, bpi_limit *out)
{
    const bp_eng_problem *p = m->p;
    const bp_eng_resource *r = &p->resource[res];
    uint32_t n = 0;
    bool lifted = false;
    for (uint32_t s = 0; s < p->spans; s++) {
        const bp_eng_span *v = &p->span[s];
        if (v->res != res || from < v->from || from >= v->to)
            continue;
        lifted = lifted || v->capacity >= r->capacity;
        out[n++] = (bpi_limit){v->capacity, m->fact[v->fact]};
    }
    if (!lifted)
        out[n++] = (bpi_limit){r->capacity, m->fact[r->fact]};
    for (uint32_t k = 1; k < n; k++) /* few; equal ones stay in order */
        for (uint32_t j = k; j && out[j].capacity < out[j - 1].capacity; j--) {
            bpi_limit x = out[j];
            out[j] = out[j - 1];
            out[j - 1] = x;
        }
    return n;
}

static bool make_segments(bpi_model *m, uint32_t res, bpi_cumulative *r)
{
    const bp_eng_problem *p = m->p;
    uint32_t spans = 0, cuts = 0;
    for (uint32_t s = 0; s < p->spans; s++)
        spans += p->span[s].res == res;
    int32_t *cut = BPI_TAKE(m->arena, 2 * (size_t)spans + 2, int32_t);
    bpi_limit *here = BPI_TAKE(m->arena, (size_t)spans + 1, bpi_limit);
    if (!cut || !here)
        return false;
    cut[cuts++] = 0;
    for (uint32_t s = 0; s < p->spans; s++) {
        if (p->span[s].res != res)
            continue;
        if (p->span[s].from > 0 && p->span[s].from < p->horizon)
            cut[cuts++] = p->span[s].from;
        if (p->span[s].to < p->horizon)
            cut[cuts++] = p->span[s].to;
    }
    qsort(cut, cuts, sizeof *cut, by_number); /* plain numbers: equal ones cannot be told apart */
    r->segment = BPI_TAKE(m->arena, cuts, bpi_segment);
    void *limit = NULL;
    size_t limits = 0, room = 0;
    if (!r->segment)
        return false;
    for (uint32_t k = 0; k < cuts; k++) {
        if (k && cut[k] == cut[k - 1])
            continue;
        uint32_t n = limits_in(m, res, cut[k], here);
        bpi_segment *s = &r->segment[r->segments++];
        *s = (bpi_segment){cut[k], p->horizon, (uint32_t)limits, n};
        if (r->segments > 1)
            s[-1].to = cut[k];
        for (uint32_t j = 0; j < n; j++) {
            bpi_limit *l = bpi_arena_more(m->arena, &limit, &room, limits, sizeof *l);
            if (!l)
                return false;
            *l = here[j];
            limits++;
        }
    }
    r->limit = limit;
    return true;
}

static bool make_scratch(bpi_model *m, bpi_cumulative *r)
{
    size_t n = r->tasks;
    r->by_from = BPI_TAKE(m->arena, n, uint32_t);
    r->by_to = BPI_TAKE(m->arena, n, uint32_t);
    r->seen = BPI_TAKE(m->arena, n, bpi_seen);
    r->profile = BPI_TAKE(m->arena, 2 * n + r->segments + 1, bpi_profile);
    r->because = BPI_TAKE(m->arena, 3 * n + 8, bpi_lit);
    if (!r->by_from || !r->by_to || !r->seen || !r->profile || !r->because)
        return false;
    for (uint32_t t = 0; t < n; t++) {
        r->by_from[t] = r->by_to[t] = t;
        r->seen[t] = (bpi_seen){.start = INT32_MIN, .part_from = INT32_MAX, .part_to = INT32_MAX};
        if (r->task[t].amount > r->most_amount)
            r->most_amount = r->task[t].amount;
    }
    return true;
}

bool bpi_model_cumulative(bpi_model *m, bpi_cumulative *r)
{
    bpi_core *c = &m->core;
    int64_t all = 0;
    int32_t least = INT32_MAX;
    for (uint32_t t = 0; t < r->tasks; t++)
        all += r->task[t].amount;
    for (uint32_t s = 0; s < r->segments; s++)
        if (r->segment[s].limits && r->limit[r->segment[s].first].capacity < least)
            least = r->limit[r->segment[s].first].capacity;
    if (all <= least) /* never short */
        return true;
    if (!make_scratch(m, r))
        return false;
    r->prop = bpi_core_propagator(c, bpi_cumulative_run, r, BPI_SLOW);
    if (r->prop == UINT32_MAX)
        return false;
    for (uint32_t t = 0; t < r->tasks; t++) {
        const bpi_task *k = &r->task[t];
        const uint32_t view[] = {k->start.view, k->start.view ^ 1, k->end.view, k->end.view ^ 1,
                                 k->on.view};
        for (uint32_t v = 0; v < 5; v++)
            if (!bpi_core_wake(c, r->prop, view[v]))
                return false;
    }
    for (uint32_t s = 0; s < r->segments; s++)
        for (uint32_t k = 0; k < r->segment[s].limits; k++) {
            uint32_t view = r->limit[r->segment[s].first + k].guard.view;
            r->loose_limits = r->loose_limits || view > 1;
            if (!bpi_core_wake(c, r->prop, view))
                return false;
        }
    return true;
}

static bool make_cumulative(bpi_model *m, uint32_t res, const user *u, uint32_t n)
{
    bpi_cumulative *r = &m->resource[res];
    r->task = BPI_TAKE(m->arena, n, bpi_task);
    if (!r->task || !make_segments(m, res, r))
        return false;
    for (uint32_t k = 0; k < n; k++)
        if (u[k].need->amount > 0 && !bpi_lit_fails(&m->core, u[k].on))
            r->task[r->tasks++] = (bpi_task){m->start[u[k].act], m->end[u[k].act], u[k].on,
                                             u[k].need->amount, u[k].act};
    return bpi_model_cumulative(m, r);
}

/* One of the two ends before the other starts, with the time to change between them. */
static bool add_order(bpi_model *m, const user *a, const user *b, int32_t ab, int32_t ba,
                      bpi_lit fact)
{
    bpi_core *c = &m->core;
    bool always = bpi_lit_holds(c, a->runs) && bpi_lit_holds(c, b->runs) && bpi_lit_holds(c, fact);
    uint32_t v = bpi_core_var(c, 0, 1);
    if (v == UINT32_MAX)
        return false;
    bpi_lit first = {v, 1}, second = bpi_lit_not(first);
    if (!always) {
        v = bpi_core_var(c, 0, 1);
        if (v == UINT32_MAX)
            return false;
        second = (bpi_lit){v, 1};
        bpi_lit one[5] = {first, second, bpi_lit_not(a->runs), bpi_lit_not(b->runs),
                          bpi_lit_not(fact)};
        if (!bpi_core_clause(c, one, 5))
            return false;
    }
    return bpi_core_arc(c, m->end[a->act], m->start[b->act], ab, first) &&
           bpi_core_arc(c, m->end[b->act], m->start[a->act], ba, second);
}

static bool make_states(bpi_model *m, uint32_t res, user *u, uint32_t n)
{
    const bp_eng_resource *r = &m->p->resource[res];
    bpi_lit fact = m->fact[r->fact_change];
    if (!r->states || bpi_lit_fails(&m->core, fact))
        return true;
    for (uint32_t k = 0; k < n; k++) {
        if (bpi_lit_holds(&m->core, u[k].on) && m->p->activity[u[k].act].options > 1)
            u[k].runs = bpi_ref_least(m->length[u[k].act], 1);
        else if (!bpi_model_runs(m, u[k].act, u[k].option, &u[k].runs))
            return false;
    }
    for (uint32_t k = 0; k < n; k++)
        for (uint32_t j = 0; j < k; j++) {
            int32_t from = u[j].need->state, to = u[k].need->state;
            const int32_t *change = &m->p->change[r->change0];
            if (u[j].act == u[k].act || from == to)
                continue;
            if (!add_order(m, &u[j], &u[k], change[from * (int32_t)r->states + to],
                           change[to * (int32_t)r->states + from], fact))
                return false;
        }
    return true;
}

bool bpi_model_resources(bpi_model *m)
{
    uint32_t n = m->p->resources;
    uint32_t *first = BPI_TAKE(m->arena, (size_t)n + 3, uint32_t);
    user *list = NULL;
    m->resource = BPI_TAKE(m->arena, n, bpi_cumulative);
    if (!first || !m->resource || !gather(m, &list, first))
        return false;
    for (uint32_t r = 0; r < n; r++)
        if (!make_states(m, r, &list[first[r]], first[r + 1] - first[r]) ||
            !make_cumulative(m, r, &list[first[r]], first[r + 1] - first[r]))
            return false;
    return true;
}

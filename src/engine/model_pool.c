/* src/engine/model_pool.c - finds resources that do the same work, and pools them.
 *
 * Owns     nothing; part of engine/model.
 * May use  engine/model, cumulative.
 *
 * Cooks of whom any will do are a group: whoever does what, together they give no more than all of
 * them have. So the group is a resource too, whose tasks need no choice to be made first.
 */
#include "engine/model.h"

#include "base/arena.h"

enum { MOST_CELLS = 1 << 20 };

typedef struct pools {
    bpi_model *m;
    uint32_t *up;    /* per resource: another of its group, in the end the first */
    int32_t **given; /* per resource, per time; NULL: no firm limits             */
} pools;

static uint32_t top(pools *g, uint32_t r)
{
    while (g->up[r] != r)
        r = g->up[r] = g->up[g->up[r]];
    return r;
}

/* What it gives at each time. NULL without *no_memory: it may have no limit somewhere. */
static int32_t *calendar(const bpi_model *m, uint32_t res, bool *no_memory)
{
    const bp_eng_problem *p = m->p;
    const bp_eng_resource *r = &p->resource[res];
    int32_t *given = BPI_TAKE(m->arena, (size_t)p->horizon, int32_t);
    *no_memory = !given;
    if (!given)
        return NULL;
    for (int32_t t = 0; t < p->horizon; t++)
        given[t] = bpi_lit_holds(&m->core, m->fact[r->fact]) ? r->capacity : INT32_MAX;
    for (uint32_t pass = 0; pass < 2; pass++) /* what lifts the usual limit, then what limits */
        for (uint32_t s = 0; s < p->spans; s++) {
            const bp_eng_span *v = &p->span[s];
            int32_t to = v->to < p->horizon ? v->to : p->horizon;
            bool holds = bpi_lit_holds(&m->core, m->fact[v->fact]);
            for (int32_t t = v->from; t < to && v->res == res; t++)
                if (pass == 0 && v->capacity >= r->capacity)
                    given[t] = INT32_MAX;
                else if (pass == 1 && holds && v->capacity < given[t])
                    given[t] = v->capacity;
        }
    for (int32_t t = 0; t < p->horizon; t++)
        if (given[t] > BP_ENG_MOST_TIME)
            return NULL;
    return given;
}

static const bp_eng_need *need_in(pools *g, uint32_t option, uint32_t group)
{
    const bp_eng_problem *p = g->m->p;
    const bp_eng_option *o = &p->option[option];
    for (uint32_t n = o->need0; n < o->need0 + o->needs; n++)
        if (p->need[n].amount > 0 && top(g, p->need[n].res) == group)
            return &p->need[n];
    return NULL;
}

static bool always_in(const bp_eng_problem *p, const bp_eng_activity *a, uint32_t res)
{
    for (uint32_t k = 0; k < a->options; k++) {
        const bp_eng_option *o = &p->option[a->option0 + k];
        bool some = false;
        for (uint32_t n = o->need0; n < o->need0 + o->needs; n++)
            some = some || p->need[n].res == res;
        if (!some)
            return false;
    }
    return true;
}

/* Put together the resources between which an activity chooses, all else being the same. */
static void join(pools *g, const bp_eng_activity *a)
{
    const bp_eng_problem *p = g->m->p;
    uint32_t before = UINT32_MAX;
    for (uint32_t k = 0; k < a->options && a->options > 1; k++) {
        const bp_eng_option *o = &p->option[a->option0 + k];
        uint32_t own = UINT32_MAX, owns = 0;
        for (uint32_t n = o->need0; n < o->need0 + o->needs; n++)
            if (p->need[n].amount > 0 && !always_in(p, a, p->need[n].res)) {
                own = p->need[n].res;
                owns++;
            }
        if (owns != 1 || !g->given[own])
            continue;
        if (before != UINT32_MAX)
            g->up[top(g, own)] = top(g, before);
        before = own;
    }
}

/* The least an activity takes of the group; 0: it may do without. */
static int32_t least_of_group(pools *g, uint32_t act, uint32_t group)
{
    const bp_eng_activity *a = &g->m->p->activity[act];
    int32_t least = INT32_MAX;
    for (uint32_t k = 0; k < a->options && least > 0; k++) {
        const bp_eng_need *n = need_in(g, a->option0 + k, group);
        int32_t amount = n ? n->amount : 0;
        least = amount < least ? amount : least;
    }
    return least == INT32_MAX ? 0 : least;
}

/* What all of the group give together, as pieces of one height. */
static bool make_segments(pools *g, uint32_t group, bpi_cumulative *r)
{
    const bp_eng_problem *p = g->m->p;
    for (uint32_t pass = 0; pass < 2; pass++) {
        int64_t last = -1;
        r->segments = 0;
        for (int32_t t = 0; t < p->horizon; t++) {
            int64_t sum = 0;
            for (uint32_t k = 0; k < p->resources; k++)
                sum += g->given[k] && top(g, k) == group ? g->given[k][t] : 0;
            if (sum == last)
                continue;
            uint32_t n = r->segments++;
            last = sum;
            if (pass == 0)
                continue;
            r->segment[n] = (bpi_segment){t, p->horizon, n, 1};
            r->limit[n] = (bpi_limit){(int32_t)sum, BPI_LIT_TRUE};
            if (n)
                r->segment[n - 1].to = t;
        }
        if (pass == 0) {
            r->segment = BPI_TAKE(g->m->arena, r->segments, bpi_segment);
            r->limit = BPI_TAKE(g->m->arena, r->segments, bpi_limit);
            if (!r->segment || !r->limit)
                return false;
        }
    }
    return true;
}

static bool make_group(pools *g, uint32_t group)
{
    bpi_model *m = g->m;
    const bp_eng_problem *p = m->p;
    uint32_t members = 0, tasks = 0;
    for (uint32_t r = 0; r < p->resources; r++)
        members += top(g, r) == group;
    if (members < 2)
        return true;
    bpi_cumulative *r = BPI_TAKE(m->arena, 1, bpi_cumulative);
    if (!r)
        return false;
    for (uint32_t a = 0; a < p->activities; a++)
        tasks += least_of_group(g, a, group) > 0;
    r->task = BPI_TAKE(m->arena, tasks, bpi_task);
    if (!r->task || !make_segments(g, group, r))
        return false;
    for (uint32_t a = 0; a < p->activities; a++) {
        int32_t amount = least_of_group(g, a, group);
        if (amount > 0)
            r->task[r->tasks++] = (bpi_task){m->start[a], m->end[a], BPI_LIT_TRUE, amount, a};
    }
    return r->segments == 0 || bpi_model_cumulative(m, r);
}

bool bpi_model_pools(bpi_model *m)
{
    const bp_eng_problem *p = m->p;
    pools g = {.m = m};
    bool choice = false;
    for (uint32_t a = 0; a < p->activities; a++)
        choice = choice || p->activity[a].options > 1;
    if (!choice || (int64_t)p->horizon * p->resources > MOST_CELLS)
        return true;
    g.up = BPI_TAKE(m->arena, p->resources, uint32_t);
    g.given = BPI_TAKE(m->arena, p->resources, int32_t *);
    if (!g.up || !g.given)
        return false;
    for (uint32_t r = 0; r < p->resources; r++) {
        bool no_memory;
        g.up[r] = r;
        g.given[r] = calendar(m, r, &no_memory);
        if (no_memory)
            return false;
    }
    for (uint32_t a = 0; a < p->activities; a++)
        join(&g, &p->activity[a]);
    for (uint32_t r = 0; r < p->resources; r++)
        if (top(&g, r) == r && g.given[r] && !make_group(&g, r))
            return false;
    return true;
}

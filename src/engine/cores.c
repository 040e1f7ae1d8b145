#include "engine/cores.h"

#include "base/arena.h"

enum {
    MOST_SUMS = 400,
    SHRINK_SLICE = 20000, /* work to try a conflict without one of its terms */
    MOST_SHRUNK = 40,     /* terms of a conflict that is worth it            */
};

/* As many as the values can carry. */
#define MOST_SUM (INT32_MAX / 8)

bool bpi_cores_init(bpi_cores *g, bpi_search *s, bpi_linear *level)
{
    bpi_arena *a = s->m->arena;
    bpi_core *c = &s->m->core;
    *g = (bpi_cores){.level = level, .room = level->terms + MOST_SUMS, .shrink = SHRINK_SLICE};
    bpi_linear *n = &g->now;
    n->coef = BPI_TAKE(a, g->room, int64_t);
    n->view = BPI_TAKE(a, g->room, uint32_t);
    n->scratch = BPI_TAKE(a, (size_t)g->room + 1, bpi_lit);
    g->low = BPI_TAKE(a, g->room, int32_t);
    g->step = BPI_TAKE(a, g->room, int32_t);
    g->assume = BPI_TAKE(a, (size_t)g->room + 1, bpi_lit);
    g->core = BPI_TAKE(a, g->room, uint32_t);
    if (!n->coef || !n->view || !n->scratch || !g->low || !g->step || !g->assume || !g->core)
        return false;
    n->base = level->base;
    n->guard = level->guard;
    n->most = n->most_guarded = INT64_MAX;
    for (uint32_t k = 0; k < level->terms; k++) {
        uint32_t at = 0;
        while (at < n->terms && n->view[at] != level->view[k])
            at++;
        if (at == n->terms) {
            n->view[n->terms] = level->view[k];
            n->coef[n->terms++] = 0;
        }
        n->coef[at] += level->coef[k];
    }
    bool fine = bpi_linear_start(c, n) && bpi_core_wake(c, n->prop, n->guard.view);
    for (uint32_t k = 0; k < n->terms && fine; k++) {
        g->low[k] = c->low[n->view[k]];
        fine = bpi_core_wake(c, n->prop, n->view[k]);
    }
    return fine;
}

int64_t bpi_cores_bound(const bpi_cores *g)
{
    int64_t sum = g->now.base;
    for (uint32_t k = 0; k < g->now.terms; k++)
        sum += g->now.coef[k] * g->low[k];
    return sum;
}

/* What each term costs at least if there is anything better. */
static bool find_lows(bpi_cores *g, bpi_search *s)
{
    bpi_core *c = &s->m->core;
    if (!bpi_search_root(s))
        return false;
    if (bpi_lit_fails(c, g->now.guard))
        return true;
    if (!bpi_core_decide(c, g->now.guard))
        return false;
    if (bpi_core_propagate(c)) /* else the search will say so */
        for (uint32_t k = 0; k < g->now.terms; k++)
            if (c->low[g->now.view[k]] > g->low[k])
                g->low[k] = c->low[g->now.view[k]];
    return bpi_search_root(s);
}

static bpi_lit cheap(const bpi_cores *g, uint32_t k)
{
    return bpi_lit_not((bpi_lit){g->now.view[k], g->low[k] + g->step[k] + 1});
}

/* The terms of the last conflict, into core. */
static uint32_t terms_of(bpi_cores *g, const bpi_search *s)
{
    uint32_t n = 0;
    for (uint32_t k = 0; k < g->now.terms; k++) {
        bpi_lit l = cheap(g, k);
        bool in = false;
        for (uint32_t i = 0; i < s->cores && !in; i++)
            in = s->core_of[i].view == l.view && s->core_of[i].least == l.least;
        if (in)
            g->core[n++] = k;
    }
    return n;
}

static bpi_outcome try_terms(bpi_cores *g, bpi_search *s, uint32_t n, uint64_t slice)
{
    g->assume[0] = g->now.guard;
    for (uint32_t k = 0; k < n; k++)
        g->assume[k + 1] = cheap(g, g->core[k]);
    s->assume = g->assume;
    s->assumes = n + 1;
    s->slice = slice;
    bool ready = bpi_search_root(s);
    bpi_core_queue(&s->m->core, g->now.prop);
    bpi_core_queue(&s->m->core, g->level->prop);
    return ready ? bpi_search_run(s) : bpi_search_failed(s);
}

/* All terms, the dear ones first: what is light gets into a conflict only where it must. */
static uint32_t all_terms(bpi_cores *g)
{
    uint32_t n = g->now.terms;
    for (uint32_t k = 0; k < n; k++) {
        uint32_t at = k;
        for (; at && g->now.coef[g->core[at - 1]] < g->now.coef[k]; at--)
            g->core[at] = g->core[at - 1];
        g->core[at] = k;
    }
    return n;
}

/* Leave out of the conflict what it holds without. BPI_NONE: it is in core, *n terms. */
static bpi_outcome shrink(bpi_cores *g, bpi_search *s, uint32_t *n)
{
    uint32_t kept = 0; /* the first of core are needed */
    while (kept<*n && * n> 1 && *n <= MOST_SHRUNK && !bpi_search_spent(s)) {
        uint32_t out = g->core[kept], all = *n;
        for (uint32_t k = kept; k + 1 < all; k++)
            g->core[k] = g->core[k + 1];
        bpi_outcome o = try_terms(g, s, all - 1, s->m->core.work + g->shrink);
        if (o == BPI_FOUND || o == BPI_NO_MEMORY)
            return o;
        if (o == BPI_NONE) {
            /* Terms stay in the order of their numbers; those found needed are still in it. */
            uint32_t first = kept < all - 1 ? g->core[kept] : UINT32_MAX;
            *n = terms_of(g, s);
            for (kept = 0; kept < *n && g->core[kept] < first; kept++)
                ;
            continue;
        }
        for (uint32_t k = all - 1; k > kept; k--)
            g->core[k] = g->core[k - 1];
        g->core[kept++] = out;
    }
    return BPI_NONE;
}

static void drop_empty(bpi_cores *g)
{
    uint32_t kept = 0;
    for (uint32_t k = 0; k < g->now.terms; k++) {
        if (g->now.coef[k] == 0)
            continue;
        g->now.coef[kept] = g->now.coef[k];
        g->now.view[kept] = g->now.view[k];
        g->low[kept] = g->low[k];
        g->step[kept++] = g->step[k];
    }
    g->now.terms = kept;
}

/* A new variable, at least the sum of the terms of the core. UINT32_MAX: none could be made. */
static uint32_t make_sum(bpi_cores *g, bpi_search *s, uint32_t n)
{
    bpi_core *c = &s->m->core;
    int64_t low = 0, high = 0;
    for (uint32_t k = 0; k < n; k++) {
        uint32_t view = g->now.view[g->core[k]];
        low += c->low[view];
        high -= c->low[view ^ 1];
    }
    if (g->now.terms == g->room || low < -MOST_SUM || high > MOST_SUM) {
        g->full = true;
        return UINT32_MAX;
    }
    bpi_linear *sum = BPI_TAKE(s->m->arena, 1, bpi_linear);
    uint32_t x = bpi_core_var(c, (int32_t)low, (int32_t)high);
    if (!sum || x == UINT32_MAX || !bpi_search_widen(s))
        return UINT32_MAX;
    sum->coef = BPI_TAKE(s->m->arena, (size_t)n + 1, int64_t);
    sum->view = BPI_TAKE(s->m->arena, (size_t)n + 1, uint32_t);
    sum->scratch = BPI_TAKE(s->m->arena, (size_t)n + 2, bpi_lit);
    if (!sum->coef || !sum->view || !sum->scratch || !bpi_linear_start(c, sum))
        return UINT32_MAX;
    sum->guard = g->now.guard;
    sum->most = INT64_MAX;
    sum->most_guarded = 0;
    bool fine = bpi_core_wake(c, sum->prop, sum->guard.view);
    for (uint32_t k = 0; k <= n && fine; k++) {
        sum->coef[k] = 1;
        sum->view[k] = k < n ? g->now.view[g->core[k]] : x ^ 1;
        fine = bpi_core_wake(c, sum->prop, sum->view[k]);
    }
    sum->terms = n + 1;
    return fine && bpi_core_wake(c, g->now.prop, x) ? x : UINT32_MAX;
}

/* The terms of the core cannot all be cheap. False: no memory. */
static bool raise(bpi_cores *g, bpi_search *s, uint32_t n)
{
    bpi_core *c = &s->m->core;
    int64_t weight = INT64_MAX, low = 0;
    int32_t step = g->step[g->core[0]]; /* a core is never empty */
    for (uint32_t k = 0; k < n; k++) {
        uint32_t t = g->core[k];
        weight = g->now.coef[t] < weight ? g->now.coef[t] : weight;
        step = g->step[t] < step ? g->step[t] : step;
        low += g->low[t];
    }
    uint32_t t = g->core[0], view = g->now.view[t];
    if (n > 1) {
        view = make_sum(g, s, n);
        if (view == UINT32_MAX)
            return g->full;
        for (uint32_t k = 0; k < n; k++) {
            g->now.coef[g->core[k]] -= weight;
            g->step[g->core[k]] = 0;
        }
        t = g->now.terms++;
        g->now.coef[t] = weight;
        g->now.view[t] = view;
        g->step[t] = 0;
    } else {
        g->step[t] = step * 2 + 1;
    }
    g->low[t] = (int32_t)low + step + 1;
    bpi_lit more[2] = {bpi_lit_not(g->now.guard), {view, g->low[t]}};
    bool fine = bpi_core_clause(c, more, 2);
    drop_empty(g);
    return fine;
}

bpi_outcome bpi_cores_run(bpi_cores *g, bpi_search *s, uint64_t slice)
{
    bpi_core *c = &s->m->core;
    while (c->work < slice && !g->full && !bpi_search_spent(s)) {
        bpi_outcome o =
            find_lows(g, s) ? try_terms(g, s, all_terms(g), slice) : bpi_search_failed(s);
        uint32_t n = 0;
        if (o == BPI_NONE) {
            n = terms_of(g, s);
            o = n ? shrink(g, s, &n) : o;
        }
        if (o != BPI_NONE) {
            for (uint32_t k = 0; k < g->now.terms; k++)
                g->step[k] = 0;
            return o;
        }
        if (n == 0)
            return BPI_NONE;
        bpi_search_root(s); /* where nothing is feasible the next round says so */
        if (c->no_memory || !raise(g, s, n))
            return BPI_NO_MEMORY;
    }
    return BPI_LIMIT;
}

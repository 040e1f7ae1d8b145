#include "engine/sgs.h"

#include <string.h>

#include "base/arena.h"

enum { MOST_CELLS = 1 << 22 }; /* of `left`: 16 MiB */

static const bp_eng_option *only_option(const bpi_sgs *g, uint32_t a)
{
    return &g->m->p->option[g->m->p->activity[a].option0];
}

static bool is_off(const bpi_sgs *g, uint32_t fact)
{
    return bpi_lit_fails(&g->m->core, g->m->fact[fact]);
}

static bool is_plain(const bpi_sgs *g)
{
    const bp_eng_problem *p = g->m->p;
    if (p->levels == 0 || p->clauses || p->activities == 0 ||
        ((int64_t)p->horizon + 1) * (p->resources + 1) > MOST_CELLS)
        return false;
    for (uint32_t a = 0; a < p->activities; a++) {
        const bp_eng_option *o = only_option(g, a);
        if (p->activity[a].options != 1 || o->least != o->most || is_off(g, o->fact))
            return false;
    }
    for (uint32_t r = 0; r < p->resources; r++)
        if (p->resource[r].states && !is_off(g, p->resource[r].fact_change))
            return false;
    uint32_t first_level = 0;
    for (uint32_t t = 0; t < p->terms; t++) {
        bool early = p->term[t].kind == BP_ENG_STARTS || p->term[t].kind == BP_ENG_ENDS ||
                     p->term[t].kind == BP_ENG_LATE;
        if (p->term[t].level == 0 && !early)
            return false;
        first_level += p->term[t].level == 0 && p->term[t].weight > 0;
    }
    return first_level > 0;
}

static bool take(bpi_sgs *g)
{
    const bp_eng_problem *p = g->m->p;
    bpi_arena *a = g->m->arena;
    size_t n = p->activities, cells = (size_t)g->times * (p->resources + 1);
    g->length = BPI_TAKE(a, n, int32_t);
    g->release = BPI_TAKE(a, n, int32_t);
    g->deadline = BPI_TAKE(a, n, int32_t);
    g->tail = BPI_TAKE(a, n, int32_t);
    g->rank = BPI_TAKE(a, n, uint32_t);
    g->before = BPI_TAKE(a, p->lags, bpi_tie);
    g->after = BPI_TAKE(a, p->lags, bpi_tie);
    g->before0 = BPI_TAKE(a, n + 2, uint32_t);
    g->after0 = BPI_TAKE(a, n + 2, uint32_t);
    g->capacity = BPI_TAKE(a, cells, int32_t);
    g->left = BPI_TAKE(a, cells, int32_t);
    g->start = BPI_TAKE(a, n, int32_t);
    g->placed = BPI_TAKE(a, n, bool);
    g->order = BPI_TAKE(a, n, uint32_t);
    g->spare = BPI_TAKE(a, n, uint32_t);
    g->stack = BPI_TAKE(a, n, uint32_t);
    g->key = BPI_TAKE(a, n, int32_t);
    return g->length && g->release && g->deadline && g->tail && g->rank && g->before && g->after &&
           g->before0 && g->after0 && g->capacity && g->left && g->start && g->placed && g->order &&
           g->spare && g->stack && g->key;
}

/* Lags between two activities, as lags between their starts, in the lists of both. */
static void gather_ties(bpi_sgs *g)
{
    const bp_eng_problem *p = g->m->p;
    for (uint32_t pass = 0; pass < 2; pass++) {
        for (uint32_t k = 0; k < p->lags; k++) {
            const bp_eng_lag *l = &p->lag[k];
            if (l->from >= p->activities || l->to >= p->activities || l->from == l->to ||
                is_off(g, l->fact))
                continue;
            int32_t least = l->least + (l->from_end == BP_ENG_END ? g->length[l->from] : 0) -
                            (l->to_end == BP_ENG_END ? g->length[l->to] : 0);
            uint32_t b = g->before0[l->to + 1 + (pass == 0)]++,
                     f = g->after0[l->from + 1 + (pass == 0)]++;
            if (pass) {
                g->before[b] = (bpi_tie){l->from, least};
                g->after[f] = (bpi_tie){l->to, least};
            }
        }
        if (pass == 0) /* counts stand two places up; sums, one up, where each list starts */
            for (uint32_t a = 0; a < p->activities; a++) {
                g->before0[a + 1] += g->before0[a];
                g->after0[a + 1] += g->after0[a];
            }
    }
}

/* Take away, again and again, what has nothing before it that is left. Then tails, from the last. */
static void rank_all(bpi_sgs *g)
{
    uint32_t n = g->m->p->activities, found = 0;
    for (uint32_t a = 0; a < n; a++) {
        g->spare[a] = g->before0[a + 1] - g->before0[a];
        if (g->spare[a] == 0)
            g->order[found++] = a;
    }
    for (uint32_t k = 0; k < found; k++)
        for (uint32_t i = g->after0[g->order[k]]; i < g->after0[g->order[k] + 1]; i++)
            if (--g->spare[g->after[i].other] == 0)
                g->order[found++] = g->after[i].other;
    g->tied = found < n;
    for (uint32_t k = found; k-- > 0;) {
        uint32_t a = g->order[k];
        g->rank[a] = k;
        g->tail[a] = g->length[a];
        for (uint32_t i = g->after0[a]; i < g->after0[a + 1]; i++) {
            int32_t way = g->after[i].least + g->tail[g->after[i].other];
            if (way > g->tail[a])
                g->tail[a] = way;
        }
    }
}

static int32_t *row(const bpi_sgs *g, int32_t *of, uint32_t res)
{
    return of + (size_t)res * (size_t)g->times;
}

static void set_capacities(bpi_sgs *g)
{
    const bp_eng_problem *p = g->m->p;
    for (uint32_t r = 0; r < p->resources; r++) {
        int32_t *cell = row(g, g->capacity, r), usual = p->resource[r].capacity;
        for (int32_t t = 0; t < g->times; t++)
            cell[t] = is_off(g, p->resource[r].fact) ? INT32_MAX : usual;
        for (uint32_t s = 0; s < p->spans; s++) {
            const bp_eng_span *v = &p->span[s];
            if (v->res != r || (is_off(g, v->fact) && v->capacity < usual))
                continue; /* off: the usual capacity holds */
            for (int32_t t = v->from; t < v->to && t < g->times; t++)
                if (v->capacity >= usual) /* it lifts the usual one first */
                    cell[t] = INT32_MAX;
        }
        for (uint32_t s = 0; s < p->spans; s++) {
            const bp_eng_span *v = &p->span[s];
            for (int32_t t = v->from; v->res == r && t < v->to && t < g->times; t++)
                if (!is_off(g, v->fact) && v->capacity < cell[t])
                    cell[t] = v->capacity;
        }
    }
}

bool bpi_sgs_init(bpi_sgs *g, bpi_model *m)
{
    *g = (bpi_sgs){.m = m, .times = m->p->horizon + 1};
    g->plain = is_plain(g);
    if (!g->plain)
        return true;
    if (!take(g))
        return false;
    const bpi_core *c = &m->core;
    for (uint32_t a = 0; a < m->p->activities; a++) {
        g->length[a] = only_option(g, a)->least;
        g->release[a] = bpi_ref_low(c, m->start[a]);
        g->deadline[a] = bpi_ref_high(c, m->start[a]);
    }
    gather_ties(g);
    rank_all(g);
    set_capacities(g);
    return true;
}

/* The first time from t on with room for activity a; above `last`: none. */
static int32_t first_room(bpi_sgs *g, uint32_t a, int32_t t, int32_t last)
{
    const bp_eng_option *o = only_option(g, a);
    const bp_eng_need *need = &g->m->p->need[o->need0];
    int32_t length = g->length[a];
    for (uint32_t fine = 0, n = 0; fine < o->needs && t <= last; n = n + 1 < o->needs ? n + 1 : 0) {
        const int32_t *left = row(g, g->left, need[n].res);
        fine++;
        for (int32_t u = t + length - 1; u >= t; u--)
            if (left[u] < need[n].amount) {
                g->m->core.work++;
                fine = 1; /* the others must be asked again */
                t = u + 1;
                if (t > last)
                    break;
                u = t + length;
            }
    }
    return t;
}

/* The last time up to t with room for activity a, which has room at `first`. */
static int32_t last_room(bpi_sgs *g, uint32_t a, int32_t t, int32_t first)
{
    const bp_eng_option *o = only_option(g, a);
    const bp_eng_need *need = &g->m->p->need[o->need0];
    int32_t length = g->length[a];
    for (uint32_t fine = 0, n = 0; fine < o->needs && t > first; n = n + 1 < o->needs ? n + 1 : 0) {
        const int32_t *left = row(g, g->left, need[n].res);
        fine++;
        for (int32_t u = t; u < t + length && t > first; u++)
            if (left[u] < need[n].amount) {
                g->m->core.work++;
                fine = 1;
                t = u - length;
                u = t - 1;
            }
    }
    return t > first ? t : first;
}

/* sign 1: a runs at its start[]; -1: it does not any more. */
static void occupy(bpi_sgs *g, uint32_t a, int32_t sign)
{
    const bp_eng_option *o = only_option(g, a);
    for (uint32_t n = o->need0; n < o->need0 + o->needs; n++) {
        int32_t *left = row(g, g->left, g->m->p->need[n].res);
        int32_t amount = sign * g->m->p->need[n].amount;
        for (int32_t u = g->start[a]; u < g->start[a] + g->length[a]; u++)
            left[u] -= amount;
    }
    g->m->core.work += 2;
}

static void empty(bpi_sgs *g)
{
    size_t cells = (size_t)g->times * g->m->p->resources;
    if (cells)
        memcpy(g->left, g->capacity, cells * sizeof *g->left);
    memset(g->placed, 0, g->m->p->activities * sizeof *g->placed);
    g->m->core.work += cells / 64;
}

static bool place(bpi_sgs *g, uint32_t a)
{
    int32_t t = g->release[a];
    for (uint32_t i = g->before0[a]; i < g->before0[a + 1]; i++) {
        int32_t from = g->start[g->before[i].other] + g->before[i].least;
        if (from > t)
            t = from;
    }
    g->start[a] = first_room(g, a, t, g->deadline[a]);
    g->placed[a] = true;
    if (g->start[a] > g->deadline[a])
        return false;
    occupy(g, a, 1);
    return true;
}

/* One that must come before and does not stand yet; BP_ENG_NONE: none. */
static uint32_t missing(const bpi_sgs *g, uint32_t a)
{
    for (uint32_t i = g->before0[a]; i < g->before0[a + 1]; i++)
        if (!g->placed[g->before[i].other])
            return g->before[i].other;
    return BP_ENG_NONE;
}

bool bpi_sgs_forward(bpi_sgs *g, const uint32_t *order)
{
    empty(g);
    for (uint32_t k = 0; k < g->m->p->activities; k++) {
        uint32_t depth = 0;
        if (g->placed[order[k]])
            continue;
        g->stack[depth++] = order[k];
        while (depth) { /* what must come before goes first, however far back */
            uint32_t b = missing(g, g->stack[depth - 1]);
            if (b != BP_ENG_NONE)
                g->stack[depth++] = b;
            else if (!place(g, g->stack[--depth]))
                return false;
        }
    }
    return true;
}

/* By key, equal ones by number: a merge sort, from runs of one up. */
void bpi_sgs_sort(bpi_sgs *g, uint32_t *order)
{
    uint32_t n = g->m->p->activities, *from = order, *to = g->spare;
    for (uint32_t a = 0; a < n; a++)
        order[a] = a;
    for (uint32_t run = 1; run < n; run *= 2) {
        for (uint32_t lo = 0; lo < n; lo += 2 * run) {
            uint32_t mid = lo + run < n ? lo + run : n, hi = mid + run < n ? mid + run : n;
            for (uint32_t i = lo, j = mid, k = lo; k < hi; k++)
                to[k] = i < mid && (j >= hi || g->key[from[i]] <= g->key[from[j]]) ? from[i++]
                                                                                   : from[j++];
        }
        uint32_t *x = from;
        from = to;
        to = x;
    }
    if (from != order)
        memcpy(order, from, n * sizeof *order);
    g->m->core.work += n;
}

void bpi_sgs_order(bpi_sgs *g, uint32_t *order)
{
    for (uint32_t a = 0; a < g->m->p->activities; a++)
        g->key[a] = g->start[a];
    bpi_sgs_sort(g, order);
}

static int32_t latest(const bpi_sgs *g, uint32_t a, int32_t end)
{
    int32_t t = end - g->length[a] < g->deadline[a] ? end - g->length[a] : g->deadline[a];
    for (uint32_t i = g->after0[a]; i < g->after0[a + 1]; i++) {
        int32_t to = g->start[g->after[i].other] - g->after[i].least;
        if (to < t)
            t = to;
    }
    return t;
}

static int32_t earliest(const bpi_sgs *g, uint32_t a)
{
    int32_t t = g->release[a];
    for (uint32_t i = g->before0[a]; i < g->before0[a + 1]; i++) {
        int32_t from = g->start[g->before[i].other] + g->before[i].least;
        if (from > t)
            t = from;
    }
    return t;
}

void bpi_sgs_shift(bpi_sgs *g)
{
    uint32_t n = g->m->p->activities;
    int32_t end = 0;
    empty(g);
    for (uint32_t a = 0; a < n; a++) {
        occupy(g, a, 1);
        end = g->start[a] + g->length[a] > end ? g->start[a] + g->length[a] : end;
        g->key[a] = -(g->start[a] + g->length[a]);
    }
    bpi_sgs_sort(g, g->order);
    for (uint32_t k = 0; k < n; k++) {
        uint32_t a = g->order[k];
        occupy(g, a, -1);
        g->start[a] = last_room(g, a, latest(g, a, end), g->start[a]);
        occupy(g, a, 1);
    }
    bpi_sgs_order(g, g->order);
    for (uint32_t k = 0; k < n; k++) {
        uint32_t a = g->order[k];
        occupy(g, a, -1);
        g->start[a] = first_room(g, a, earliest(g, a), g->start[a]);
        occupy(g, a, 1);
    }
}

int64_t bpi_sgs_value(const bpi_sgs *g)
{
    const bp_eng_problem *p = g->m->p;
    int64_t sum = 0;
    for (uint32_t t = 0; t < p->terms; t++) {
        const bp_eng_term *v = &p->term[t];
        int64_t at = g->start[v->a < p->activities ? v->a : 0];
        if (v->level)
            continue;
        if (v->kind != BP_ENG_STARTS)
            at += g->length[v->a];
        if (v->kind == BP_ENG_LATE)
            at = at > v->at ? at - v->at : 0;
        sum += v->weight * at;
    }
    return sum;
}

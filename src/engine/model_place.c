/* src/engine/model_place.c - starts and ends as few variables as will do.
 *
 * Owns     nothing; part of engine/model.
 * May use  engine/model.
 *
 * Where two ends always lie as far apart (an activity of one length, or two that meet) they are one
 * variable with two numbers added. A chain of steps and waits then has half the variables, and what
 * is learned of an end is known of the start that it is.
 */
#include "engine/model.h"

#include "base/arena.h"

/* An end of an activity: 2a its start, 2a + 1 its end. It lies `off` after the end `up`. */
typedef struct point {
    uint32_t up;
    int32_t off;
} point;

typedef struct places {
    point *at;
    int32_t *least, *most; /* per activity: its length */
} places;

static point top_of(places *g, uint32_t x)
{
    point p = {x, 0};
    while (g->at[p.up].up != p.up) {
        point *q = &g->at[p.up];
        if (g->at[q->up].up != q->up) { /* skip one on the way */
            q->off += g->at[q->up].off;
            q->up = g->at[q->up].up;
        }
        p.off += q->off;
        p.up = q->up;
    }
    return p;
}

/* y lies `off` after x. */
static void tie(places *g, uint32_t x, uint32_t y, int32_t off)
{
    point a = top_of(g, x), b = top_of(g, y);
    if (a.up != b.up) /* else the arcs say whether it can be */
        g->at[b.up] = (point){a.up, a.off + off - b.off};
}

static void find_lengths(bpi_model *m, places *g, uint32_t act)
{
    const bp_eng_activity *a = &m->p->activity[act];
    bpi_core *c = &m->core;
    int32_t horizon = m->p->horizon, least = INT32_MAX, most = 0;
    for (uint32_t k = 0; k < a->options; k++) {
        const bp_eng_option *o = &m->p->option[a->option0 + k];
        int32_t longest = bpi_lit_holds(c, m->fact[o->fact]) ? o->most : horizon;
        least = o->least < least ? o->least : least;
        most = longest > most ? longest : most;
    }
    if (least > horizon) { /* nothing can be said but that: keep the variables well formed */
        c->broken = true;
        least = horizon;
    }
    most = most > horizon ? horizon : most;
    g->least[act] = least;
    g->most[act] = most < least ? least : most;
}

static bool firm(const bpi_model *m, const bp_eng_lag *l)
{
    return l->if_act == BP_ENG_NONE && l->from != BP_ENG_ORIGIN && l->to != BP_ENG_ORIGIN &&
           bpi_lit_holds(&m->core, m->fact[l->fact]);
}

static uint32_t point_of(uint32_t act, bp_eng_end end)
{
    return 2 * act + (end == BP_ENG_END);
}

/* Two lags that leave no room between them. */
static bool tie_lags(bpi_model *m, places *g)
{
    const bp_eng_problem *p = m->p;
    uint32_t *first = BPI_TAKE(m->arena, (size_t)p->activities + 2, uint32_t);
    uint32_t *lag = BPI_TAKE(m->arena, p->lags, uint32_t);
    if (!first || !lag)
        return false;
    for (uint32_t n = 0; n < p->lags; n++)
        if (firm(m, &p->lag[n]))
            first[p->lag[n].from + 2]++;
    for (uint32_t a = 0; a < p->activities; a++)
        first[a + 2] += first[a + 1];
    for (uint32_t n = 0; n < p->lags; n++)
        if (firm(m, &p->lag[n]))
            lag[first[p->lag[n].from + 1]++] = n;
    for (uint32_t n = 0; n < p->lags; n++) {
        const bp_eng_lag *l = &p->lag[n];
        if (!firm(m, l) || l->from >= l->to)
            continue;
        for (uint32_t k = first[l->to]; k < first[l->to + 1]; k++) {
            const bp_eng_lag *r = &p->lag[lag[k]];
            if (r->to == l->from && r->to_end == l->from_end && r->from_end == l->to_end &&
                r->least == -l->least)
                tie(g, point_of(l->from, l->from_end), point_of(l->to, l->to_end), l->least);
        }
    }
    return true;
}

/* One variable for all ends with the same top, as wide as the narrowest of them. */
static bool make_variables(bpi_model *m, places *g)
{
    uint32_t points = 2 * m->p->activities;
    int32_t horizon = m->p->horizon;
    int32_t *low = BPI_TAKE(m->arena, points, int32_t), *high = BPI_TAKE(m->arena, points, int32_t);
    uint32_t *view = BPI_TAKE(m->arena, points, uint32_t);
    if (!low || !high || !view)
        return false;
    for (uint32_t x = 0; x < points; x++) {
        low[x] = INT32_MIN;
        high[x] = INT32_MAX;
    }
    for (uint32_t x = 0; x < points; x++) {
        point t = top_of(g, x);
        int32_t from = x & 1 ? g->least[x / 2] : 0;
        int32_t to = x & 1 ? horizon : horizon - g->least[x / 2];
        low[t.up] = from - t.off > low[t.up] ? from - t.off : low[t.up];
        high[t.up] = to - t.off < high[t.up] ? to - t.off : high[t.up];
    }
    for (uint32_t x = 0; x < points; x++) {
        point t = top_of(g, x);
        if (view[t.up] == 0) {
            if (low[t.up] > high[t.up]) {
                m->core.broken = true;
                high[t.up] = low[t.up];
            }
            view[t.up] = bpi_core_var(&m->core, low[t.up], high[t.up]);
            if (view[t.up] == UINT32_MAX)
                return false;
        }
        *(x & 1 ? &m->end[x / 2] : &m->start[x / 2]) = (bpi_ref){view[t.up], t.off};
    }
    return true;
}

bool bpi_model_places(bpi_model *m)
{
    const bp_eng_problem *p = m->p;
    places g = {BPI_TAKE(m->arena, (size_t)p->activities * 2, point),
                BPI_TAKE(m->arena, p->activities, int32_t),
                BPI_TAKE(m->arena, p->activities, int32_t)};
    m->start = BPI_TAKE(m->arena, p->activities, bpi_ref);
    m->length = BPI_TAKE(m->arena, p->activities, bpi_ref);
    m->end = BPI_TAKE(m->arena, p->activities, bpi_ref);
    if (!g.at || !g.least || !g.most || !m->start || !m->length || !m->end)
        return false;
    for (uint32_t a = 0; a < p->activities; a++) {
        g.at[2 * (size_t)a] = (point){2 * a, 0};
        g.at[2 * (size_t)a + 1] = (point){2 * a + 1, 0};
        find_lengths(m, &g, a);
        if (g.least[a] == g.most[a])
            tie(&g, 2 * a, 2 * a + 1, g.least[a]);
    }
    if (!tie_lags(m, &g) || !make_variables(m, &g))
        return false;
    for (uint32_t a = 0; a < p->activities; a++) {
        m->length[a] = bpi_ref_fixed(g.least[a]);
        if (g.least[a] == g.most[a])
            continue;
        uint32_t length = bpi_core_var(&m->core, g.least[a], g.most[a]);
        if (length == UINT32_MAX)
            return false;
        m->length[a] = (bpi_ref){length, 0};
        if (!bpi_model_sum(m, m->end[a], m->start[a], m->length[a]))
            return false;
    }
    return true;
}

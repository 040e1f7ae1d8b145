#include "engine/lns.h"

#include <string.h>

#include "base/arena.h"

enum { LEAST_OPEN = 6 };

bool bpi_lns_init(bpi_lns *n, const bpi_search *s)
{
    const bp_eng_problem *p = s->m->p;
    /* start from both sides, length from both sides, option; and the caller's */
    size_t most = (size_t)p->activities * 5 + 1;
    *n = (bpi_lns){.random = 0x9E3779B97F4A7C15u, .size = LEAST_OPEN * 2};
    n->assume = BPI_TAKE(s->m->arena, most, bpi_lit);
    n->open = BPI_TAKE(s->m->arena, p->activities, bool);
    return n->assume && n->open;
}

/* xorshift64*: S. Vigna (2016). */
static uint32_t draw(bpi_lns *n, uint32_t below)
{
    uint64_t x = n->random;
    x ^= x >> 12;
    x ^= x << 25;
    x ^= x >> 27;
    n->random = x;
    return (uint32_t)((x * 0x2545F4914F6CDD1Du) >> 33) % below;
}

/* Those nearest in time to a moment of the best schedule. */
static void open_window(bpi_lns *n, const bpi_search *s)
{
    uint32_t all = s->m->p->activities;
    int32_t middle = s->best.start[draw(n, all)];
    for (int32_t reach = 1;; reach += 1 + reach / 4) {
        uint32_t found = 0;
        for (uint32_t a = 0; a < all; a++) {
            int64_t from = s->best.start[a], to = from + s->best.length[a];
            n->open[a] = from <= (int64_t)middle + reach && to >= (int64_t)middle - reach;
            found += n->open[a];
        }
        if (found >= n->size || found == all || reach > BP_ENG_MOST_TIME)
            return;
    }
}

/* Those tied by lags to a few, drawn again until there are enough. */
static void open_chains(bpi_lns *n, const bpi_search *s)
{
    const bp_eng_problem *p = s->m->p;
    uint32_t found = 0;
    for (uint32_t tries = 0; tries < p->activities && found < n->size; tries++) {
        n->open[draw(n, p->activities)] = true;
        for (bool more = true; more && found < n->size;) {
            more = false;
            for (uint32_t i = 0; i < p->lags && found < n->size; i++) {
                const bp_eng_lag *l = &p->lag[i];
                if (l->from >= p->activities || l->to >= p->activities ||
                    n->open[l->from] == n->open[l->to])
                    continue;
                n->open[l->from] = n->open[l->to] = more = true;
                found++;
            }
        }
        found = 0;
        for (uint32_t a = 0; a < p->activities; a++)
            found += n->open[a];
    }
}

static uint32_t stay(bpi_lns *n, const bpi_search *s, uint32_t k, uint32_t a, int32_t slack)
{
    const bpi_model *m = s->m;
    int32_t start = s->best.start[a];
    n->assume[k++] = bpi_ref_least(m->start[a], start - slack);
    n->assume[k++] = bpi_ref_most(m->start[a], start + slack);
    return k;
}

static uint32_t keep_option(bpi_lns *n, const bpi_search *s, uint32_t k, uint32_t a)
{
    const bp_eng_activity *v = &s->m->p->activity[a];
    if (v->options > 1)
        n->assume[k++] = s->m->option[v->option0 + s->best.option[a]];
    return k;
}

/* An activity of open length between two that stay is where they leave it, so only those of one
 * length are held: then what waits can give way to what moves. */
static bool one_length(const bpi_search *s, uint32_t a)
{
    const bp_eng_problem *p = s->m->p;
    const bp_eng_option *o = &p->option[p->activity[a].option0 + s->best.option[a]];
    return o->least == o->most;
}

bool bpi_lns_one_end(const bp_eng_problem *p, uint32_t level)
{
    uint32_t ends = 0, all = 0;
    for (uint32_t t = 0; t < p->terms; t++) {
        bp_eng_kind kind = p->term[t].kind;
        if (p->term[t].level != level || p->term[t].weight == 0)
            continue;
        ends += kind == BP_ENG_STARTS || kind == BP_ENG_ENDS;
        all++;
    }
    return ends == 1 && all == 1;
}

/* Where the end of all is to come earlier, keeping what follows the open part where it is would
 * forbid just that. So all of it moves by one unit, and the open part has to make the room. */
static uint32_t squeeze(bpi_lns *n, const bpi_search *s)
{
    uint32_t all = s->m->p->activities, found = 0, k = 1;
    const int32_t *start = s->best.start, *length = s->best.length;
    int32_t middle = start[draw(n, all)], reach = 1;
    for (; reach <= BP_ENG_MOST_TIME; reach += 1 + reach / 8) {
        found = 0;
        for (uint32_t a = 0; a < all; a++) {
            n->open[a] = start[a] < (int64_t)middle + reach &&
                         (int64_t)start[a] + length[a] > (int64_t)middle - reach;
            found += n->open[a];
        }
        if (found >= n->size || found == all)
            break;
    }
    for (uint32_t a = 0; a < all; a++)
        if (!n->open[a]) {
            bool after = start[a] >= (int64_t)middle + reach;
            n->assume[k++] = bpi_ref_least(s->m->start[a], start[a] - after);
            n->assume[k++] = bpi_ref_most(s->m->start[a], start[a] - after);
            k = keep_option(n, s, k, a);
        }
    return k;
}

uint32_t bpi_lns_pick(bpi_lns *n, const bpi_search *s)
{
    uint32_t all = s->m->p->activities, k = 1, kind = draw(n, 8);
    if (n->squeeze && kind != 1)
        return squeeze(n, s);
    if (kind == 0) { /* who does what stays, when is open */
        for (uint32_t a = 0; a < all; a++)
            k = keep_option(n, s, k, a);
        return k;
    }
    if (kind == 1) { /* everything may move a little */
        int32_t slack = 1 + (int32_t)draw(n, 12);
        for (uint32_t a = 0; a < all; a++)
            if (one_length(s, a))
                k = stay(n, s, k, a, slack);
        return k;
    }
    memset(n->open, 0, all * sizeof *n->open);
    if (kind < 5)
        open_window(n, s);
    else
        open_chains(n, s);
    for (uint32_t a = 0; a < all; a++)
        if (!n->open[a] && one_length(s, a)) {
            k = keep_option(n, s, k, a);
            k = stay(n, s, k, a, 0);
        }
    return k;
}

void bpi_lns_learn(bpi_lns *n, const bpi_search *s, bool all)
{
    uint32_t most = s->m->p->activities;
    if (all)
        n->size += 1 + n->size / 16;
    else
        n->size -= n->size / 16;
    if (n->size > most)
        n->size = most;
    if (n->size < LEAST_OPEN)
        n->size = LEAST_OPEN;
}

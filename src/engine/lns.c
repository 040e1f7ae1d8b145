#include "engine/lns.h"

#include <string.h>

#include "base/arena.h"
#include "engine/costly.h"
#include "engine/draw.h"

enum { FIRST_OPEN = 12, MOST_SLACK = 12, ODDS = 32, MOST_ODDS = 512 };

bool bpi_lns_init(bpi_lns *n, const bpi_search *s)
{
    const bp_eng_problem *p = s->m->p;
    /* start from both sides, length from both sides, option; or options alone; and the first two */
    size_t most = (size_t)p->activities * 5 + p->options + 2;
    *n = (bpi_lns){.random = 0x9E3779B97F4A7C15u, .size = FIRST_OPEN};
    n->needed = BPI_TAKE(s->m->arena, p->resources, bool);
    n->assume = BPI_TAKE(s->m->arena, most, bpi_lit);
    n->open = BPI_TAKE(s->m->arena, p->activities, bool);
    return n->assume && n->open && n->needed;
}

static uint32_t open_within(bpi_lns *n, const bpi_search *s, int32_t middle, int32_t reach)
{
    uint32_t found = 0;
    for (uint32_t a = 0; a < s->m->p->activities; a++) {
        int64_t from = s->best.start[a], to = from + s->best.length[a];
        n->open[a] = from <= (int64_t)middle + reach && to >= (int64_t)middle - reach;
        found += n->open[a];
    }
    return found;
}

/* Those nearest in time to the start of an activity in the best schedule. */
static void open_near(bpi_lns *n, const bpi_search *s, uint32_t act)
{
    int32_t middle = s->best.start[act], least = 0, most = BP_ENG_MOST_TIME;
    while (least < most) {
        int32_t reach = least + (most - least) / 2;
        if (open_within(n, s, middle, reach) >= n->size)
            most = reach;
        else
            least = reach + 1;
    }
    open_within(n, s, middle, least);
}

/* Those tied by lags to a few, drawn again until there are enough. */
static void open_chains(bpi_lns *n, const bpi_search *s)
{
    const bp_eng_problem *p = s->m->p;
    uint32_t found = 0;
    for (uint32_t tries = 0; tries < p->activities && found < n->size; tries++) {
        n->open[bpi_draw(&n->random, p->activities)] = true;
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
    uint32_t all = s->m->p->activities, found = 0, k = 2;
    const int32_t *start = s->best.start, *length = s->best.length;
    int32_t middle = start[bpi_draw(&n->random, all)], reach = 1;
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

/* ---- the kinds ---------------------------------------------------------------------------- */

/* An activity of some term that costs; any where none does. */
static uint32_t costly(bpi_lns *n, const bpi_search *s)
{
    const bp_eng_problem *p = s->m->p;
    uint32_t found = bpi_draw(&n->random, p->activities), seen = 0, where;
    for (uint32_t t = 0; t < p->terms; t++)
        if (p->term[t].level == n->level && bpi_costly_term(s, &p->term[t], &where) > 0 &&
            bpi_draw(&n->random, ++seen) == 0)
            found = where;
    return found;
}

/* All that is done on one of its resources. */
static void open_resource(bpi_lns *n, const bpi_search *s, uint32_t act)
{
    const bp_eng_problem *p = s->m->p;
    const bp_eng_option *o = &p->option[bpi_costly_option(s, act)];
    if (o->needs == 0)
        return;
    uint32_t res = p->need[o->need0 + bpi_draw(&n->random, o->needs)].res;
    for (uint32_t a = 0; a < p->activities; a++)
        n->open[a] = bpi_costly_takes(p, bpi_costly_option(s, a), res);
}

static bpi_lns_kind kind_of_round(bpi_lns *n)
{
    uint32_t all = 0, k = 0;
    for (uint32_t i = 0; i < BPI_LNS_KINDS; i++)
        all += n->odds[i];
    uint32_t at = bpi_draw(&n->random, all);
    while (at >= n->odds[k])
        at -= n->odds[k++];
    return (bpi_lns_kind)k;
}

static uint32_t pick(bpi_lns *n, const bpi_search *s)
{
    uint32_t all = s->m->p->activities, k = 2;
    int32_t slack = n->kind == BPI_LNS_SHIFT ? 1 + (int32_t)bpi_draw(&n->random, MOST_SLACK) : 0;
    memset(n->open, 0, all * sizeof *n->open);
    if (n->kind == BPI_LNS_WINDOW)
        open_near(n, s, bpi_draw(&n->random, all));
    else if (n->kind == BPI_LNS_CHAINS)
        open_chains(n, s);
    else if (n->kind == BPI_LNS_COSTLY)
        open_near(n, s, costly(n, s));
    else if (n->kind == BPI_LNS_RESOURCE)
        open_resource(n, s, costly(n, s));
    for (uint32_t a = 0; a < all; a++) {
        if (n->open[a] || (n->kind != BPI_LNS_WHEN && !one_length(s, a)))
            continue;
        if (n->kind != BPI_LNS_WHO && n->kind != BPI_LNS_SHIFT)
            k = keep_option(n, s, k, a);
        if (n->kind != BPI_LNS_WHEN)
            k = stay(n, s, k, a, slack);
    }
    return k;
}

uint32_t bpi_lns_pick(bpi_lns *n, const bpi_search *s)
{
    n->assume[1] = BPI_LIT_TRUE;
    if (n->squeeze && bpi_draw(&n->random, 8) != 1) {
        n->kind = BPI_LNS_SQUEEZE;
        return squeeze(n, s);
    }
    if (!n->total.gain) {
        n->kind = n->squeeze ? BPI_LNS_SHIFT : kind_of_round(n);
        n->assumes = pick(n, s);
    }
    n->assume[1] = bpi_total_ask(&n->total, s);
    return n->assumes;
}

/* ---- doing without ------------------------------------------------------------------------ */

/* The next resource after `member` whose time costs. UINT32_MAX: none. */
static uint32_t next_member(const bpi_lns *n, const bpi_search *s)
{
    const bp_eng_problem *p = s->m->p;
    uint32_t next = UINT32_MAX, first = UINT32_MAX, where;
    for (uint32_t t = 0; t < p->terms; t++) {
        const bp_eng_term *v = &p->term[t];
        if (v->level != n->level || (v->kind != BP_ENG_CALL && v->kind != BP_ENG_REACH) ||
            n->needed[v->a] || bpi_costly_term(s, v, &where) <= 0)
            continue;
        first = v->a < first ? v->a : first;
        if (n->member != UINT32_MAX && v->a > n->member && v->a < next)
            next = v->a;
    }
    return next == UINT32_MAX ? first : next;
}

uint32_t bpi_lns_fewer(bpi_lns *n, const bpi_search *s)
{
    const bp_eng_problem *p = s->m->p;
    if (!n->total.gain) {
        uint32_t k = 2, member = next_member(n, s);
        if (member == UINT32_MAX)
            return 0;
        n->member = member;
        n->kind = BPI_LNS_FEWER;
        for (uint32_t a = 0; a < p->activities; a++)
            for (uint32_t o = 0; o < p->activity[a].options && p->activity[a].options > 1; o++)
                if (bpi_costly_takes(p, p->activity[a].option0 + o, member))
                    n->assume[k++] = bpi_lit_not(s->m->option[p->activity[a].option0 + o]);
        n->assumes = k;
    }
    n->assume[1] = bpi_total_ask(&n->total, s);
    return n->assumes;
}

/* ---- what a level and a round teach -------------------------------------------------------- */

bool bpi_lns_level(bpi_lns *n, bpi_search *s, uint32_t level)
{
    n->level = level;
    n->squeeze = bpi_lns_one_end(s->m->p, level);
    n->member = UINT32_MAX;
    n->total = (bpi_total){.level = level};
    for (uint32_t k = 0; k < BPI_LNS_KINDS; k++)
        n->odds[k] = ODDS;
    memset(n->needed, 0, s->m->p->resources * sizeof *n->needed);
    return n->squeeze || bpi_total_init(&n->total, s, level);
}

void bpi_lns_leave(bpi_lns *n)
{
    bpi_total_leave(&n->total);
}

void bpi_lns_won(bpi_lns *n, int64_t by)
{
    if (n->kind < BPI_LNS_KINDS && n->odds[n->kind] < MOST_ODDS)
        n->odds[n->kind] += ODDS / 2;
    if (n->kind != BPI_LNS_SQUEEZE)
        bpi_total_won(&n->total, by);
}

void bpi_lns_learn(bpi_lns *n, const bpi_search *s, bool all)
{
    uint32_t most = s->m->p->activities;
    if (n->kind != BPI_LNS_SQUEEZE && bpi_total_lost(&n->total))
        return; /* only too much was asked */
    if (n->kind == BPI_LNS_FEWER)
        n->needed[n->member] = all;
    if (n->kind < BPI_LNS_KINDS)
        n->odds[n->kind] -= n->odds[n->kind] / 16;
    if (n->kind < BPI_LNS_WINDOW || n->kind == BPI_LNS_RESOURCE || n->kind == BPI_LNS_FEWER)
        return; /* they have no size */
    if (all)
        n->size += 1 + n->size / 16;
    else
        n->size -= n->size / 16;
    if (n->size > most)
        n->size = most;
}

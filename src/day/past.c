#include "day/past.h"

#include <assert.h>
#include <string.h>

/* ---- lags ------------------------------------------------------------------------------------ */

static bool is_known(const bpi_past *past, uint32_t act, bp_eng_end end)
{
    return act == BP_ENG_ORIGIN ||
           (past->chosen[act] != BPI_NO_INDEX && (end == BP_ENG_START || !past->open[act]));
}

/* What came to the set too late is late. */
static bool is_set_by(const bpi_past *past, const bp_eng_lag *l)
{
    return l->fact && past->fact[l->fact].kind == BPI_FACT_SET_BY;
}

/* A rule, or an oven that was to be on for another load first, by which something yet to come should have
 * been over before what has happened. */
static bool is_broken(const bpi_past *past, const bp_eng_lag *l)
{
    bool oven = l->if_act != BP_ENG_NONE && past->job[l->if_act].kind == BP_OP_PREHEAT;
    int32_t to;
    if ((!l->fact && !oven) || l->least < 0 || l->from == BP_ENG_ORIGIN || l->to == BP_ENG_ORIGIN ||
        is_known(past, l->from, l->from_end) || !is_known(past, l->to, l->to_end))
        return false;
    to = l->to_end == BP_ENG_START ? past->from[l->to] : past->to[l->to];
    return to - l->least < past->now;
}

void bpi_past_drop_lags(bp_eng_problem *q, bp_eng_lag *lag, uint32_t lags, const bpi_past *past)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < q->lags; i++) {
        if (i < lags && is_broken(past, &lag[i]))
            continue;
        if (i >= lags || !is_known(past, lag[i].from, lag[i].from_end) ||
            !is_known(past, lag[i].to, lag[i].to_end) || is_set_by(past, &lag[i]))
            lag[kept++] = lag[i];
    }
    q->lags = kept;
}

/* ---- resources ------------------------------------------------------------------------------- */

static const bp_eng_need *need_of(const bp_eng_problem *q, const bpi_past *past, uint32_t act,
                                  uint32_t res)
{
    if (past->chosen[act] == BPI_NO_INDEX)
        return NULL;
    const bp_eng_option *o = &q->option[q->activity[act].option0 + past->chosen[act]];
    for (uint32_t i = 0; i < o->needs; i++)
        if (q->need[o->need0 + i].res == res)
            return &q->need[o->need0 + i];
    return NULL;
}

/* What had begun and goes on after t takes so much; *until: the first of it ends then. */
static int32_t used_after(const bp_eng_problem *q, const bpi_past *past, uint32_t res, int32_t t,
                          int32_t *until)
{
    int32_t used = 0;
    *until = q->horizon;
    for (uint32_t j = 0; j < q->activities; j++) {
        const bp_eng_need *n = need_of(q, past, j, res);
        if (!n || past->to[j] <= t)
            continue;
        used += n->amount;
        if (past->to[j] < *until)
            *until = past->to[j];
    }
    return used;
}

void bpi_past_make_room(bp_eng_problem *q, bp_eng_resource *resource, bp_eng_span *span,
                        const bpi_past *past)
{
    for (uint32_t i = 0; i < q->spans; i++)
        if (span[i].from < past->now)
            span[i].from = span[i].to < past->now ? span[i].to : past->now;
    for (uint32_t r = 0; r < q->resources; r++) {
        int32_t usual = resource[r].capacity, t = past->now, until, used;
        int32_t all = used_after(q, past, r, INT32_MIN, &until);
        if (all <= usual)
            all = usual; /* never too much, but perhaps where there was a break */
        resource[r].capacity = all;
        resource[r].fact = 0;
        while ((used = used_after(q, past, r, t, &until)) > usual) {
            span[q->spans++] = (bp_eng_span){r, t, until, used, 0};
            t = until;
        }
        if (all > usual && t < q->horizon)
            span[q->spans++] = (bp_eng_span){r, t, q->horizon, usual, 0};
    }
    uint32_t kept = 0;
    for (uint32_t i = 0; i < q->spans; i++)
        if (span[i].from < span[i].to)
            span[kept++] = span[i];
    q->spans = kept;
}

/* ---- ovens ----------------------------------------------------------------------------------- */

/* Of those in the oven at once, whose heat it has: of what is still in it, else of what went in last. */
static bool is_above(const bpi_past *past, uint32_t a, uint32_t b)
{
    if (past->open[a] != past->open[b])
        return past->open[a];
    return past->from[a] != past->from[b] ? past->from[a] > past->from[b] : a > b;
}

static int32_t state_of(const bp_eng_problem *q, const bpi_past *past, uint32_t j, uint32_t res)
{
    const bp_eng_need *n = need_of(q, past, past->heat[j], res);
    assert(n); /* it has the heat of a load of the same oven, or its own */
    return n->state;
}

static bool clashes(const bp_eng_problem *q, const bpi_past *past, uint32_t a, uint32_t b,
                    uint32_t res)
{
    if (a == b || !need_of(q, past, a, res) || !need_of(q, past, b, res) ||
        past->from[b] < past->from[a])
        return false;
    const bp_eng_resource *r = &q->resource[res];
    int32_t x = state_of(q, past, a, res), y = state_of(q, past, b, res);
    int32_t change = q->change[r->change0 + (uint32_t)x * r->states + (uint32_t)y];
    return x != y && past->from[b] < past->to[a] + change;
}

static void set_state(bp_eng_problem *q, bp_eng_option *option, bp_eng_need *need, uint32_t res,
                      int32_t state)
{
    uint32_t first = q->needs;
    for (uint32_t i = 0; i < option->needs; i++) {
        need[q->needs] = need[option->need0 + i];
        if (need[q->needs].res == res)
            need[q->needs].state = state;
        q->needs++;
    }
    option->need0 = first;
}

/* Both, and all that have the heat of either. */
static void merge(const bp_eng_problem *q, const bpi_past *past, uint32_t a, uint32_t b)
{
    uint32_t x = past->heat[a], y = past->heat[b], above = is_above(past, x, y) ? x : y;
    for (uint32_t j = 0; j < q->activities; j++)
        if (past->heat[j] == x || past->heat[j] == y)
            past->heat[j] = above;
}

void bpi_past_mix_heats(bp_eng_problem *q, bp_eng_option *option, bp_eng_need *need,
                        const bpi_past *past)
{
    for (uint32_t r = 0; r < q->resources; r++) {
        if (q->resource[r].states == 0)
            continue;
        for (uint32_t j = 0; j < q->activities; j++)
            past->heat[j] = j;
        for (bool more = true; more;) { /* each time two more are one */
            more = false;
            for (uint32_t a = 0; a < q->activities; a++)
                for (uint32_t b = 0; b < q->activities; b++)
                    if (clashes(q, past, a, b, r)) {
                        merge(q, past, a, b);
                        more = true;
                    }
        }
        for (uint32_t j = 0; j < q->activities; j++)
            if (past->heat[j] != j)
                set_state(q, &option[q->activity[j].option0 + past->chosen[j]], need, r,
                          state_of(q, past, j, r));
    }
}

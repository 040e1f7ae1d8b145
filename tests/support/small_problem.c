/* tests/support/small_problem.c - random small problems, and a search that tries everything.
 *
 * Owns     nothing.
 * May use  the public header of the engine.
 */
#include "support/small_problem.h"

#include <string.h>

void small_init(small_problem *s, int32_t horizon, uint32_t facts, uint32_t levels)
{
    *s = (small_problem){.p = {.horizon = horizon, .facts = facts, .levels = levels}};
    s->p.activity = s->activity;
    s->p.option = s->option;
    s->p.need = s->need;
    s->p.lag = s->lag;
    s->p.resource = s->resource;
    s->p.span = s->span;
    s->p.change = s->change;
    s->p.literal = s->literal;
    s->p.clause = s->clause;
    s->p.term = s->term;
}

uint32_t small_resource(small_problem *s, int32_t capacity, uint32_t fact)
{
    s->resource[s->p.resources] = (bp_eng_resource){.capacity = capacity, .fact = fact};
    return s->p.resources++;
}

uint32_t small_activity(small_problem *s)
{
    s->activity[s->p.activities] = (bp_eng_activity){s->p.options, 0};
    return s->p.activities++;
}

uint32_t small_option(small_problem *s, int32_t least, int32_t most, uint32_t fact, int32_t who)
{
    s->option[s->p.options++] = (bp_eng_option){s->p.needs, 0, least, most, fact, who};
    return s->activity[s->p.activities - 1].options++;
}

void small_need(small_problem *s, uint32_t res, int32_t amount, int32_t state)
{
    s->need[s->p.needs++] = (bp_eng_need){res, amount, state};
    s->option[s->p.options - 1].needs++;
}

uint32_t small_task(small_problem *s, int32_t length, uint32_t res, int32_t amount)
{
    uint32_t a = small_activity(s);
    small_option(s, length, length, 0, -1);
    if (amount)
        small_need(s, res, amount, -1);
    return a;
}

void small_lag(small_problem *s, uint32_t from, bp_eng_end from_end, uint32_t to, bp_eng_end to_end,
               int32_t least, uint32_t fact)
{
    s->lag[s->p.lags++] = (bp_eng_lag){from, to, from_end, to_end, least, BP_ENG_NONE, 0, fact};
}

void small_after(small_problem *s, uint32_t first, uint32_t then)
{
    small_lag(s, first, BP_ENG_END, then, BP_ENG_START, 0, 0);
}

void small_span(small_problem *s, uint32_t res, int32_t from, int32_t to, int32_t capacity,
                uint32_t fact)
{
    s->span[s->p.spans++] = (bp_eng_span){res, from, to, capacity, fact};
}

void small_term(small_problem *s, uint32_t level, bp_eng_kind kind, uint32_t a, uint32_t b,
                int32_t at, int32_t weight)
{
    s->term[s->p.terms++] = (bp_eng_term){level, kind, a, b, at, weight};
}

uint32_t small_draw(uint32_t *state, uint32_t below)
{
    uint32_t x = *state ? *state : 2463534242u;
    x ^= x << 13;
    x ^= x >> 17;
    x ^= x << 5;
    *state = x;
    return (x >> 8) % below;
}

static int32_t draw(uint32_t *g, int32_t low, int32_t high)
{
    return low + (int32_t)small_draw(g, (uint32_t)(high - low + 1));
}

void small_random(small_problem *s, uint32_t seed)
{
    uint32_t g = seed * 2654435761u + 1, facts = 1 + small_draw(&g, 5);
    for (int k = 0; k < 8; k++)
        small_draw(&g, 2);
    uint32_t levels = 1 + small_draw(&g, 3), activities = 2 + small_draw(&g, 3);
    small_init(s, draw(&g, 4, 8), facts, levels);
    uint32_t resources = 1 + small_draw(&g, 3);
    for (uint32_t r = 0; r < resources; r++) {
        small_resource(s, draw(&g, 0, 3), small_draw(&g, facts));
        if (small_draw(&g, 3) == 0) {
            bp_eng_resource *v = &s->resource[r];
            v->states = 1 + small_draw(&g, 3);
            v->change0 = s->p.changes;
            v->fact_change = small_draw(&g, facts);
            for (uint32_t x = 0; x < v->states; x++)
                for (uint32_t y = 0; y < v->states; y++)
                    s->change[s->p.changes++] = x == y ? 0 : draw(&g, 0, 2);
        }
    }
    for (uint32_t a = 0; a < activities; a++) {
        small_activity(s);
        uint32_t options = 1 + small_draw(&g, 3);
        for (uint32_t o = 0; o < options; o++) {
            int32_t least = draw(&g, 0, 2);
            small_option(s, least, least + draw(&g, 0, 2) * draw(&g, 0, 1), small_draw(&g, facts),
                         draw(&g, -1, 1));
            for (uint32_t r = 0; r < resources; r++)
                if (small_draw(&g, 2))
                    small_need(s, r, draw(&g, 0, 2),
                               s->resource[r].states
                                   ? draw(&g, 0, (int32_t)s->resource[r].states - 1)
                                   : -1);
        }
    }
    uint32_t lags = small_draw(&g, 6);
    for (uint32_t n = 0; n < lags; n++) {
        uint32_t from = small_draw(&g, activities + 1), to = small_draw(&g, activities);
        bool turned = small_draw(&g, 2);
        if (from == activities)
            from = BP_ENG_ORIGIN;
        small_lag(s, turned ? to : from, (bp_eng_end)small_draw(&g, 2), turned ? from : to,
                  (bp_eng_end)small_draw(&g, 2), turned ? draw(&g, -5, -1) : draw(&g, -3, 3),
                  small_draw(&g, facts));
        if (small_draw(&g, 3) == 0) {
            bp_eng_lag *l = &s->lag[n];
            l->if_act = small_draw(&g, activities);
            l->if_opt = small_draw(&g, s->activity[l->if_act].options);
        }
    }
    uint32_t spans = small_draw(&g, 4);
    for (uint32_t n = 0; n < spans; n++) {
        int32_t from = draw(&g, 0, 7);
        small_span(s, small_draw(&g, resources), from, from + draw(&g, 1, 4), draw(&g, 0, 3),
                   small_draw(&g, facts));
    }
    uint32_t clauses = small_draw(&g, 3);
    for (uint32_t n = 0; n < clauses; n++) {
        s->clause[n] = (bp_eng_clause){s->p.literals, 1 + small_draw(&g, 2), small_draw(&g, facts)};
        s->p.clauses++;
        for (uint32_t k = 0; k < s->clause[n].literals; k++) {
            uint32_t a = small_draw(&g, activities);
            s->literal[s->p.literals++] =
                (bp_eng_literal){a, small_draw(&g, s->activity[a].options), small_draw(&g, 2)};
        }
    }
    uint32_t terms = 1 + small_draw(&g, 6);
    for (uint32_t n = 0; n < terms; n++) {
        bp_eng_kind kind = (bp_eng_kind)small_draw(&g, BP_ENG_MOVED + 1);
        bool res = kind == BP_ENG_CALL || kind == BP_ENG_REACH;
        uint32_t a = small_draw(&g, res ? resources : activities), b = small_draw(&g, activities);
        if (kind == BP_ENG_TAKES)
            b = small_draw(&g, s->activity[a].options);
        small_term(s, small_draw(&g, levels), kind, a, b, draw(&g, -1, 9), draw(&g, 0, 3));
    }
    /* Now and then two ends keep one distance: the reverse of a lag, with no room between. */
    for (uint32_t n = 0; n < lags; n++)
        if (small_draw(&g, 4) == 0) {
            bp_eng_lag l = s->lag[n];
            s->lag[n].fact = small_draw(&g, 2) ? 0 : l.fact;
            small_lag(s, l.to, l.to_end, l.from, l.from_end, -l.least, s->lag[n].fact);
        }
}

typedef struct brute {
    const small_problem *s;
    const bool *off;
    int32_t start[SMALL_ROWS], end[SMALL_ROWS];
    uint32_t opt[SMALL_ROWS];
    bool found;
    int64_t best[BP_ENG_LEVELS];
} brute;

static bool on(const brute *b, uint32_t fact)
{
    return !(fact && b->off && b->off[fact]);
}

static const bp_eng_need *takes(const brute *b, uint32_t a, uint32_t r)
{
    const bp_eng_option *o = &b->s->option[b->s->activity[a].option0 + b->opt[a]];
    for (uint32_t n = o->need0; n < o->need0 + o->needs; n++)
        if (b->s->need[n].res == r && b->end[a] > b->start[a])
            return &b->s->need[n];
    return NULL;
}

/* Everything that can be said once activities 0..n-1 stand: each rule is only ever more broken. */
static bool possible(const brute *b, uint32_t n)
{
    const small_problem *s = b->s;
    for (uint32_t k = 0; k < s->p.lags; k++) {
        const bp_eng_lag *l = &s->lag[k];
        if ((l->from < BP_ENG_ORIGIN && l->from >= n) || (l->to < BP_ENG_ORIGIN && l->to >= n) ||
            !on(b, l->fact))
            continue;
        if (l->if_act != BP_ENG_NONE && (l->if_act >= n || b->opt[l->if_act] != l->if_opt))
            continue;
        int32_t x = l->from == BP_ENG_ORIGIN ? 0 : (l->from_end ? b->end : b->start)[l->from];
        int32_t y = l->to == BP_ENG_ORIGIN ? 0 : (l->to_end ? b->end : b->start)[l->to];
        if (y < x + l->least)
            return false;
    }
    for (uint32_t r = 0; r < s->p.resources; r++)
        for (int32_t t = 0; t < s->p.horizon; t++) {
            int32_t sum = 0;
            for (uint32_t a = 0; a < n; a++)
                if (takes(b, a, r) && b->start[a] <= t && t < b->end[a])
                    sum += takes(b, a, r)->amount;
            bool usual = true;
            for (uint32_t k = 0; k < s->p.spans; k++) {
                const bp_eng_span *v = &s->span[k];
                if (v->res != r || t < v->from || t >= v->to)
                    continue;
                if (v->capacity >= s->resource[r].capacity)
                    usual = false;
                if (on(b, v->fact) && sum > v->capacity)
                    return false;
            }
            if (usual && on(b, s->resource[r].fact) && sum > s->resource[r].capacity)
                return false;
        }
    for (uint32_t r = 0; r < s->p.resources; r++)
        for (uint32_t x = 0; x < n && s->resource[r].states && on(b, s->resource[r].fact_change);
             x++)
            for (uint32_t y = 0; y < x; y++) {
                const bp_eng_need *p = takes(b, x, r), *q = takes(b, y, r);
                if (!p || !q || p->state == q->state)
                    continue;
                const int32_t *c = &s->change[s->resource[r].change0];
                int32_t w = (int32_t)s->resource[r].states;
                if (b->start[y] < b->end[x] + c[p->state * w + q->state] &&
                    b->start[x] < b->end[y] + c[q->state * w + p->state])
                    return false;
            }
    if (n < s->p.activities)
        return true;
    for (uint32_t k = 0; k < s->p.clauses; k++) {
        bool some = !on(b, s->clause[k].fact);
        for (uint32_t j = 0; j < s->clause[k].literals; j++) {
            const bp_eng_literal *l = &s->literal[s->clause[k].literal0 + j];
            some = some || (l->negated ? b->opt[l->act] != l->opt : b->opt[l->act] == l->opt);
        }
        if (!some)
            return false;
    }
    return true;
}

static int64_t cost(const brute *b, const bp_eng_term *t)
{
    const small_problem *s = b->s;
    int32_t first = INT32_MAX, last = INT32_MIN;
    if (t->kind == BP_ENG_CALL || t->kind == BP_ENG_REACH) {
        for (uint32_t a = 0; a < s->p.activities; a++)
            if (takes(b, a, t->a) && takes(b, a, t->a)->amount > 0) {
                first = b->start[a] < first ? b->start[a] : first;
                last = b->end[a] > last ? b->end[a] : last;
            }
        if (first == INT32_MAX)
            return 0;
        return t->kind == BP_ENG_CALL ? t->at - first : last - first;
    }
    int32_t start = b->start[t->a], end = b->end[t->a];
    if (t->kind == BP_ENG_STARTS)
        return start;
    if (t->kind == BP_ENG_ENDS)
        return end;
    if (t->kind == BP_ENG_LASTS)
        return end - start;
    if (t->kind == BP_ENG_LATE)
        return end > t->at ? end - t->at : 0;
    if (t->kind == BP_ENG_TAKES)
        return b->opt[t->a] == t->b ? 1 : 0;
    if (t->kind == BP_ENG_MOVED)
        return start == t->at ? 0 : 1;
    int32_t p = s->option[s->activity[t->a].option0 + b->opt[t->a]].who;
    int32_t q = s->option[s->activity[t->b].option0 + b->opt[t->b]].who;
    return p != -1 && q != -1 && p != q;
}

static void place(brute *b, uint32_t a)
{
    const small_problem *s = b->s;
    if (a == s->p.activities) {
        int64_t v[BP_ENG_LEVELS] = {0};
        for (uint32_t t = 0; t < s->p.terms; t++)
            v[s->term[t].level] += s->term[t].weight * cost(b, &s->term[t]);
        bool better = !b->found;
        for (uint32_t k = 0; k < s->p.levels && !better; k++) {
            if (v[k] > b->best[k])
                return;
            better = v[k] < b->best[k];
        }
        if (better)
            memcpy(b->best, v, sizeof v);
        b->found = true;
        return;
    }
    for (b->opt[a] = 0; b->opt[a] < s->activity[a].options; b->opt[a]++) {
        const bp_eng_option *o = &s->option[s->activity[a].option0 + b->opt[a]];
        int32_t most = on(b, o->fact) ? o->most : s->p.horizon;
        for (b->start[a] = 0; b->start[a] <= s->p.horizon; b->start[a]++)
            for (int32_t l = o->least; l <= most && b->start[a] + l <= s->p.horizon; l++) {
                b->end[a] = b->start[a] + l;
                if (possible(b, a + 1))
                    place(b, a + 1);
            }
    }
}

bool small_brute(const small_problem *s, const bool *off, int64_t value[BP_ENG_LEVELS])
{
    brute b = {.s = s, .off = off};
    place(&b, 0);
    memcpy(value, b.best, sizeof b.best);
    return b.found;
}

/* src/engine/verify.c - a solution tested against its problem.
 *
 * Owns     nothing.
 * May use  the public header only.
 *
 * One row after the other, with nothing but the problem's own arrays. It shares no code with the
 * search, so that a mistake in one is seen by the other.
 */
#include "backpot/engine.h"

#include <stdarg.h>
#include <stdio.h>

typedef struct verifier {
    const bp_eng_problem *p;
    const bp_eng_solution *s;
    const bool *off;
    char *why;
    size_t room;
} verifier;

#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
static bool
no(const verifier *v, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    if (v->why && v->room)
        vsnprintf(v->why, v->room, format, args);
    va_end(args);
    return false;
}

static bool is_off(const verifier *v, uint32_t fact)
{
    return fact && v->off && v->off[fact];
}

static int64_t time_of(const verifier *v, uint32_t act, bp_eng_end end)
{
    if (act == BP_ENG_ORIGIN)
        return 0;
    return (int64_t)v->s->start[act] + (end == BP_ENG_END ? v->s->length[act] : 0);
}

static const bp_eng_option *taken(const verifier *v, uint32_t act)
{
    return &v->p->option[v->p->activity[act].option0 + v->s->option[act]];
}

/* What an activity takes of a resource while it runs; NULL: nothing, or it does not run. */
static const bp_eng_need *use(const verifier *v, uint32_t act, uint32_t res)
{
    const bp_eng_option *o = taken(v, act);
    for (uint32_t n = 0; n < o->needs && v->s->length[act] > 0; n++)
        if (v->p->need[o->need0 + n].res == res)
            return &v->p->need[o->need0 + n];
    return NULL;
}

/* Who uses a resource. Where they are too many to be listed it is asked of every activity again:
 * slower, but nothing here can run out of memory. */
enum { LISTED = 1024 };
typedef struct users {
    uint32_t act[LISTED], n;
    bool listed;
} users;

static void find_users(const verifier *v, uint32_t res, users *u)
{
    u->n = 0;
    for (uint32_t a = 0; a < v->p->activities && u->n <= LISTED; a++)
        if (use(v, a, res)) {
            if (u->n < LISTED)
                u->act[u->n] = a;
            u->n++;
        }
    u->listed = u->n <= LISTED;
    if (!u->listed)
        u->n = v->p->activities;
}

static uint32_t user(const users *u, uint32_t k)
{
    return u->listed ? u->act[k] : k;
}

static bool activities_hold(const verifier *v)
{
    for (uint32_t a = 0; a < v->p->activities; a++) {
        if (v->s->option[a] >= v->p->activity[a].options)
            return no(v, "activity %u takes no option of its own", a);
        const bp_eng_option *o = taken(v, a);
        if (v->s->start[a] < 0 || v->s->length[a] < 0 || time_of(v, a, BP_ENG_END) > v->p->horizon)
            return no(v, "activity %u is not within 0 and the horizon", a);
        if (v->s->length[a] < o->least)
            return no(v, "activity %u is shorter than its option allows", a);
        if (v->s->length[a] > o->most && !is_off(v, o->fact))
            return no(v, "activity %u is longer than its option allows", a);
    }
    return true;
}

static bool lags_hold(const verifier *v)
{
    for (uint32_t n = 0; n < v->p->lags; n++) {
        const bp_eng_lag *l = &v->p->lag[n];
        if (is_off(v, l->fact) ||
            (l->if_act != BP_ENG_NONE && v->s->option[l->if_act] != l->if_opt))
            continue;
        if (time_of(v, l->to, l->to_end) < time_of(v, l->from, l->from_end) + l->least)
            return no(v, "lag %u does not hold", n);
    }
    for (uint32_t n = 0; n < v->p->clauses; n++) {
        const bp_eng_clause *k = &v->p->clause[n];
        bool some = is_off(v, k->fact);
        for (uint32_t j = 0; j < k->literals; j++) {
            const bp_eng_literal *l = &v->p->literal[k->literal0 + j];
            some = some || (v->s->option[l->act] == l->opt) != l->negated;
        }
        if (!some)
            return no(v, "clause %u does not hold", n);
    }
    return true;
}

/* The capacity at one time; INT64_MAX: boundless. A span takes the place of the usual capacity;
 * where it is switched off the usual one is back, but not where another span allows as much or
 * more. */
static int64_t capacity_at(const verifier *v, uint32_t res, int32_t t)
{
    const bp_eng_resource *r = &v->p->resource[res];
    int64_t least = INT64_MAX;
    bool lifted = false;
    for (uint32_t n = 0; n < v->p->spans; n++) {
        const bp_eng_span *s = &v->p->span[n];
        if (s->res != res || t < s->from || t >= s->to)
            continue;
        if (s->capacity >= r->capacity)
            lifted = true;
        if (!is_off(v, s->fact) && s->capacity < least)
            least = s->capacity;
    }
    if (!lifted && !is_off(v, r->fact) && r->capacity < least)
        least = r->capacity;
    return least;
}

static bool fits_at(const verifier *v, uint32_t res, const users *u, int32_t t)
{
    int64_t sum = 0;
    for (uint32_t k = 0; k < u->n; k++) {
        uint32_t a = user(u, k);
        if (v->s->start[a] > t || t >= time_of(v, a, BP_ENG_END))
            continue;
        const bp_eng_need *n = use(v, a, res);
        sum += n ? n->amount : 0;
    }
    return sum <= capacity_at(v, res, t) || no(v, "resource %u is overloaded at %d", res, t);
}

/* The load rises only where an activity starts, the capacity falls only where a span starts or
 * ends. */
static bool capacities_hold(const verifier *v, uint32_t res, const users *u)
{
    for (uint32_t k = 0; k < u->n; k++)
        if (use(v, user(u, k), res) && !fits_at(v, res, u, v->s->start[user(u, k)]))
            return false;
    for (uint32_t n = 0; n < v->p->spans; n++)
        if (v->p->span[n].res == res &&
            (!fits_at(v, res, u, v->p->span[n].from) || !fits_at(v, res, u, v->p->span[n].to)))
            return false;
    return true;
}

static bool apart(const verifier *v, uint32_t res, uint32_t a, uint32_t b)
{
    const bp_eng_resource *r = &v->p->resource[res];
    const bp_eng_need *x = use(v, a, res), *y = use(v, b, res);
    if (a == b || !x || !y || x->state == y->state ||
        time_of(v, a, BP_ENG_START) > time_of(v, b, BP_ENG_START))
        return true;
    const int32_t *change = &v->p->change[r->change0];
    int32_t gap = change[(uint32_t)x->state * r->states + (uint32_t)y->state];
    int32_t back = change[(uint32_t)y->state * r->states + (uint32_t)x->state];
    return time_of(v, a, BP_ENG_END) + gap <= time_of(v, b, BP_ENG_START) ||
           time_of(v, b, BP_ENG_END) + back <= time_of(v, a, BP_ENG_START);
}

static bool states_hold(const verifier *v, uint32_t res, const users *u)
{
    const bp_eng_resource *r = &v->p->resource[res];
    if (!r->states || is_off(v, r->fact_change))
        return true;
    for (uint32_t k = 0; k < u->n; k++)
        for (uint32_t j = 0; j < u->n; j++)
            if (!apart(v, res, user(u, k), user(u, j)))
                return no(v, "activities %u and %u meet on resource %u in different states",
                          user(u, k), user(u, j), res);
    return true;
}

static int64_t on_resource(const verifier *v, const bp_eng_term *t)
{
    int64_t first = INT64_MAX, last = 0;
    for (uint32_t a = 0; a < v->p->activities; a++) {
        const bp_eng_need *n = use(v, a, t->a);
        if (!n || n->amount == 0)
            continue;
        if (v->s->start[a] < first)
            first = v->s->start[a];
        if (time_of(v, a, BP_ENG_END) > last)
            last = time_of(v, a, BP_ENG_END);
    }
    if (first == INT64_MAX)
        return 0;
    return t->kind == BP_ENG_CALL ? t->at - first : last - first;
}

static int64_t term_value(const verifier *v, const bp_eng_term *t)
{
    switch (t->kind) {
    case BP_ENG_STARTS:
        return v->s->start[t->a];
    case BP_ENG_ENDS:
        return time_of(v, t->a, BP_ENG_END);
    case BP_ENG_LASTS:
        return v->s->length[t->a];
    case BP_ENG_LATE: {
        int64_t over = time_of(v, t->a, BP_ENG_END) - t->at;
        return over > 0 ? over : 0;
    }
    case BP_ENG_CALL:
    case BP_ENG_REACH:
        return on_resource(v, t);
    case BP_ENG_TAKES:
        return v->s->option[t->a] == t->b;
    case BP_ENG_SPLIT: {
        int32_t a = taken(v, t->a)->who, b = taken(v, t->b)->who;
        return a != b && a >= 0 && b >= 0;
    }
    case BP_ENG_MOVED:
        return v->s->start[t->a] != t->at;
    }
    return 0;
}

static int64_t level_value(const verifier *v, uint32_t level)
{
    int64_t sum = 0;
    for (uint32_t n = 0; n < v->p->terms; n++)
        if (v->p->term[n].level == level)
            sum += v->p->term[n].weight * term_value(v, &v->p->term[n]);
    return sum;
}

void bp_eng_value(const bp_eng_problem *p, bp_eng_solution *s)
{
    const verifier v = {p, s, NULL, NULL, 0};
    for (uint32_t k = 0; k < p->levels; k++)
        s->value[k] = level_value(&v, k);
}

static bool values_hold(const verifier *v)
{
    for (uint32_t k = 0; k < v->p->levels; k++) {
        int64_t sum = level_value(v, k);
        if (sum != v->s->value[k])
            return no(v, "level %u has the value %lld, not %lld", k, (long long)sum,
                      (long long)v->s->value[k]);
    }
    return true;
}

bool bp_eng_verify(const bp_eng_problem *p, const bp_eng_solution *s, const bool *off, char *why,
                   size_t room)
{
    verifier v = {p, s, off, why, room};
    if (why && room)
        why[0] = '\0';
    if (!s->start || !s->length || !s->option || s->activities != p->activities)
        return no(&v, "there is no schedule for %u activities", p->activities);
    if (!activities_hold(&v) || !lags_hold(&v))
        return false;
    for (uint32_t r = 0; r < p->resources; r++) {
        users u;
        find_users(&v, r, &u);
        if (!capacities_hold(&v, r, &u) || !states_hold(&v, r, &u))
            return false;
    }
    return values_hold(&v);
}

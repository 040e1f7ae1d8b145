/* Answers that must not change when a problem is told in another way. */
#include <check.h>
#include <string.h>

#include "backpot/engine.h"
#include "support/small_problem.h"

enum { CASES = 150 };

static bp_errors errs;

static bp_eng_solution *solved(const small_problem *s)
{
    bp_eng_solution *out = NULL;
    errs.n = errs.more = 0;
    ck_assert_msg(bp_eng_solve(&out, &s->p, NULL, &errs) == BP_OK, "%s", errs.item[0].wrong);
    return out;
}

static void same_answer(const small_problem *a, const small_problem *b, uint32_t seed)
{
    bp_eng_solution *x = solved(a), *y = solved(b);
    ck_assert_msg(x->status == y->status, "seed %u: status %d and %d", seed, x->status, y->status);
    for (uint32_t k = 0; k < a->p.levels; k++)
        ck_assert_msg(x->value[k] == y->value[k], "seed %u level %u", seed, k);
    bp_eng_solution_free(x);
    bp_eng_solution_free(y);
}

/* The same length whatever is taken. */
static bool one_length(const small_problem *s, uint32_t act)
{
    const bp_eng_activity *a = &s->activity[act];
    const bp_eng_option *first = &s->option[a->option0];
    for (uint32_t k = 0; k < a->options; k++)
        if (first[k].least != first->least || first[k].most != first->least || first[k].fact)
            return false;
    return true;
}

/* Backward it is the end that has moved or not, which is the start moved where the length is one. */
static bool keeps_its_value(const small_problem *s, const bp_eng_term *t)
{
    return t->kind == BP_ENG_LASTS || t->kind == BP_ENG_REACH || t->kind == BP_ENG_TAKES ||
           t->kind == BP_ENG_SPLIT || (t->kind == BP_ENG_MOVED && one_length(s, t->a));
}

/* Time runs backwards: ends become starts, lags turn, spans and change times too. */
static void mirror(small_problem *s)
{
    int32_t h = s->p.horizon;
    for (uint32_t n = 0; n < s->p.lags; n++) {
        bp_eng_lag *l = &s->lag[n];
        bp_eng_lag old = *l;
        l->from = old.to;
        l->from_end = old.to_end == BP_ENG_START ? BP_ENG_END : BP_ENG_START;
        l->to = old.from;
        l->to_end = old.from_end == BP_ENG_START ? BP_ENG_END : BP_ENG_START;
        if (l->from == BP_ENG_ORIGIN) /* the origin is now the horizon */
            l->least = old.least + h;
        if (l->to == BP_ENG_ORIGIN)
            l->least = old.least - h;
    }
    uint32_t kept = 0;
    for (uint32_t n = 0; n < s->p.spans; n++) {
        bp_eng_span v = s->span[n];
        int32_t to = h - v.from;
        v.from = h - v.to < 0 ? 0 : h - v.to;
        v.to = to;
        if (v.to > v.from) /* one beyond the horizon binds nothing */
            s->span[kept++] = v;
    }
    s->p.spans = kept;
    for (uint32_t r = 0; r < s->p.resources; r++) {
        uint32_t w = s->resource[r].states;
        for (uint32_t x = 0; x < w; x++)
            for (uint32_t y = 0; y < x; y++) {
                int32_t *c = &s->change[s->resource[r].change0], t = c[x * w + y];
                c[x * w + y] = c[y * w + x];
                c[y * w + x] = t;
            }
    }
}

START_TEST(time_may_run_backwards)
{
    for (uint32_t seed = 1; seed <= CASES; seed++) {
        small_problem s, t;
        small_random(&s, seed);
        uint32_t kept = 0;
        for (uint32_t n = 0; n < s.p.terms; n++)
            if (keeps_its_value(&s, &s.term[n]))
                s.term[kept++] = s.term[n];
        s.p.terms = kept;
        small_random(&t, seed); /* the same rows; copying would keep pointers to the first */
        memcpy(t.term, s.term, sizeof s.term);
        t.p.terms = kept;
        mirror(&t);
        for (uint32_t n = 0; n < kept; n++)
            if (t.term[n].kind == BP_ENG_MOVED)
                t.term[n].at =
                    t.p.horizon - t.term[n].at - t.option[t.activity[t.term[n].a].option0].least;
        same_answer(&s, &t, seed);
    }
}
END_TEST

START_TEST(activities_may_change_their_numbers)
{
    for (uint32_t seed = 1; seed <= CASES; seed++) {
        small_problem s, t;
        small_random(&s, seed);
        small_random(&t, seed);
        uint32_t n = s.p.activities, option = 0;
        for (uint32_t a = 0; a < n; a++) { /* activity a becomes n - 1 - a */
            t.activity[a] = s.activity[n - 1 - a];
            for (uint32_t o = 0; o < t.activity[a].options; o++)
                t.option[option + o] = s.option[t.activity[a].option0 + o];
            t.activity[a].option0 = option;
            option += t.activity[a].options;
        }
        for (uint32_t k = 0; k < t.p.lags; k++) {
            bp_eng_lag *l = &t.lag[k];
            l->from = l->from < n ? n - 1 - l->from : l->from;
            l->to = l->to < n ? n - 1 - l->to : l->to;
            l->if_act = l->if_act < n ? n - 1 - l->if_act : l->if_act;
        }
        for (uint32_t k = 0; k < t.p.literals; k++)
            t.literal[k].act = n - 1 - t.literal[k].act;
        for (uint32_t k = 0; k < t.p.terms; k++) {
            bp_eng_term *v = &t.term[k];
            if (v->kind != BP_ENG_CALL && v->kind != BP_ENG_REACH)
                v->a = n - 1 - v->a;
            if (v->kind == BP_ENG_SPLIT)
                v->b = n - 1 - v->b;
        }
        same_answer(&s, &t, seed);
    }
}
END_TEST

START_TEST(resources_may_change_their_numbers)
{
    for (uint32_t seed = 1; seed <= CASES; seed++) {
        small_problem s, t;
        small_random(&s, seed);
        small_random(&t, seed);
        uint32_t n = s.p.resources;
        for (uint32_t r = 0; r < n; r++)
            t.resource[r] = s.resource[n - 1 - r];
        for (uint32_t k = 0; k < t.p.needs; k++)
            t.need[k].res = n - 1 - t.need[k].res;
        for (uint32_t k = 0; k < t.p.spans; k++)
            t.span[k].res = n - 1 - t.span[k].res;
        for (uint32_t k = 0; k < t.p.terms; k++)
            if (t.term[k].kind == BP_ENG_CALL || t.term[k].kind == BP_ENG_REACH)
                t.term[k].a = n - 1 - t.term[k].a;
        same_answer(&s, &t, seed);
    }
}
END_TEST

/* A second kitchen just like the first, with work of its own, costs just as much again. */
START_TEST(twice_the_day_in_twice_the_kitchen_costs_twice)
{
    uint32_t feasible = 0;
    for (uint32_t seed = 1; seed <= CASES; seed++) {
        small_problem s, t;
        small_random(&s, seed);
        small_random(&t, seed);
        bp_eng_problem *p = &t.p;
        uint32_t acts = p->activities, options = p->options, needs = p->needs, res = p->resources;
        if (2 * needs > SMALL_ROWS || 2 * p->literals > SMALL_ROWS)
            continue;
#define TWICE(row, rows)                                                                           \
    for (uint32_t k = 0; k < (rows); k++)                                                          \
        t.row[(rows) + k] = t.row[k];
        TWICE(activity, acts)
        TWICE(option, options)
        TWICE(need, needs)
        TWICE(resource, res)
        TWICE(lag, p->lags)
        TWICE(span, p->spans)
        TWICE(clause, p->clauses)
        TWICE(literal, p->literals)
        TWICE(term, p->terms)
#undef TWICE
        for (uint32_t k = acts; k < 2 * acts; k++)
            t.activity[k].option0 += options;
        for (uint32_t k = options; k < 2 * options; k++)
            t.option[k].need0 += needs;
        for (uint32_t k = needs; k < 2 * needs; k++)
            t.need[k].res += res;
        for (uint32_t k = p->lags; k < 2 * p->lags; k++) {
            t.lag[k].from += t.lag[k].from < acts ? acts : 0;
            t.lag[k].to += t.lag[k].to < acts ? acts : 0;
            t.lag[k].if_act += t.lag[k].if_act < acts ? acts : 0;
        }
        for (uint32_t k = p->spans; k < 2 * p->spans; k++)
            t.span[k].res += res;
        for (uint32_t k = p->clauses; k < 2 * p->clauses; k++)
            t.clause[k].literal0 += p->literals;
        for (uint32_t k = p->literals; k < 2 * p->literals; k++)
            t.literal[k].act += acts;
        for (uint32_t k = p->terms; k < 2 * p->terms; k++) {
            bool of_resource = t.term[k].kind == BP_ENG_CALL || t.term[k].kind == BP_ENG_REACH;
            t.term[k].a += of_resource ? res : acts;
            t.term[k].b += t.term[k].kind == BP_ENG_SPLIT ? acts : 0;
        }
        p->activities *= 2;
        p->options *= 2;
        p->needs *= 2;
        p->resources *= 2;
        p->lags *= 2;
        p->spans *= 2;
        p->clauses *= 2;
        p->literals *= 2;
        p->terms *= 2;
        bp_eng_solution *x = solved(&s), *y = solved(&t);
        ck_assert_msg(x->status == y->status, "seed %u: status %d and %d", seed, x->status,
                      y->status);
        for (uint32_t k = 0; k < s.p.levels; k++)
            ck_assert_msg(2 * x->value[k] == y->value[k], "seed %u level %u: %lld, then %lld", seed,
                          k, (long long)x->value[k], (long long)y->value[k]);
        feasible += x->status == BP_ENG_OPTIMAL;
        bp_eng_solution_free(x);
        bp_eng_solution_free(y);
    }
    ck_assert_uint_gt(feasible, CASES / 4);
}
END_TEST

START_TEST(twice_the_capacity_for_twice_the_amounts_changes_nothing)
{
    for (uint32_t seed = 1; seed <= CASES; seed++) {
        small_problem s, t;
        small_random(&s, seed);
        small_random(&t, seed);
        for (uint32_t k = 0; k < t.p.needs; k++)
            t.need[k].amount *= 2;
        for (uint32_t k = 0; k < t.p.resources; k++)
            t.resource[k].capacity = t.resource[k].capacity * 2 + 1;
        for (uint32_t k = 0; k < t.p.spans; k++)
            t.span[k].capacity = t.span[k].capacity * 2 + 1;
        same_answer(&s, &t, seed);
    }
}
END_TEST

Suite *suite_engine_mirror(void);
Suite *suite_engine_mirror(void)
{
    Suite *suite = suite_create("engine/mirror");
    TCase *c = tcase_create("metamorphic");
    tcase_add_test(c, time_may_run_backwards);
    tcase_add_test(c, activities_may_change_their_numbers);
    tcase_add_test(c, resources_may_change_their_numbers);
    tcase_add_test(c, twice_the_day_in_twice_the_kitchen_costs_twice);
    tcase_add_test(c, twice_the_capacity_for_twice_the_amounts_changes_nothing);
    suite_add_tcase(suite, c);
    return suite;
}

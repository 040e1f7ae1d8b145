/* Planning anew, close to a plan that was told to people: what has begun stays, the rest moves as
 * little as can be. Held against trying everything. */
#include <check.h>
#include <string.h>

#include "backpot/engine.h"
#include "support/kitchen_day.h"
#include "support/small_problem.h"

enum { CASES = 300 };

static bp_errors errs;

static bp_eng_solution *solved(const bp_eng_problem *p, const bp_eng_limits *limits)
{
    bp_eng_solution *out = NULL;
    errs.n = errs.more = 0;
    ck_assert_msg(bp_eng_solve(&out, p, limits, &errs) == BP_OK, "%s", errs.item[0].wrong);
    return out;
}

/* The starts of `was` are the plan that was told; before `now` they are past. */
static void hold_to(small_problem *s, const bp_eng_solution *was, int32_t now)
{
    s->p.terms = 0;
    s->p.levels = 2;
    for (uint32_t a = 0; a < s->p.activities; a++) {
        small_term(s, 0, BP_ENG_MOVED, a, 0, was->start[a], 1 + (int32_t)(a % 3));
        small_term(s, 1, BP_ENG_ENDS, a, 0, 0, 1);
        if (was->start[a] >= now)
            continue;
        small_lag(s, BP_ENG_ORIGIN, BP_ENG_START, a, BP_ENG_START, was->start[a], 0);
        small_lag(s, a, BP_ENG_START, BP_ENG_ORIGIN, BP_ENG_START, -was->start[a], 0);
    }
}

/* Something happened at `now`: a step takes longer, or a resource gives less for a while. */
static void mishap(small_problem *s, uint32_t seed, int32_t now)
{
    uint32_t g = seed;
    for (int k = 0; k < 8; k++)
        small_draw(&g, 2);
    uint32_t a = small_draw(&g, s->p.activities);
    if (small_draw(&g, 2)) {
        for (uint32_t o = s->activity[a].option0;
             o < s->activity[a].option0 + s->activity[a].options; o++) {
            s->option[o].least++;
            s->option[o].most++;
        }
    } else {
        small_span(s, small_draw(&g, s->p.resources), now, now + 2, 0, 0);
    }
}

START_TEST(as_little_moves_as_trying_everything_finds)
{
    uint32_t same = 0, moved = 0, none = 0;
    for (uint32_t seed = 1; seed <= CASES; seed++) {
        small_problem s;
        int64_t best[BP_ENG_LEVELS];
        small_random(&s, seed);
        bp_eng_solution *was = solved(&s.p, NULL);
        if (was->status == BP_ENG_OPTIMAL) {
            int32_t now = (int32_t)(seed % 4);
            hold_to(&s, was, now);
            mishap(&s, seed, now);
            bp_eng_limits limits = {.hint = was->start};
            bool any = small_brute(&s, NULL, best);
            bp_eng_solution *is = solved(&s.p, &limits);
            ck_assert_msg(is->status == (any ? BP_ENG_OPTIMAL : BP_ENG_INFEASIBLE), "seed %u",
                          seed);
            for (uint32_t k = 0; k < 2 && any; k++)
                ck_assert_msg(is->value[k] == best[k], "seed %u level %u: %lld, not %lld", seed, k,
                              (long long)is->value[k], (long long)best[k]);
            for (uint32_t a = 0; a < s.p.activities && any; a++)
                ck_assert(was->start[a] >= now || is->start[a] == was->start[a]);
            same += any && is->value[0] == 0;
            moved += any && is->value[0] > 0;
            none += !any;
            bp_eng_solution_free(is);
        }
        bp_eng_solution_free(was);
    }
    ck_assert_uint_gt(same, 10);
    ck_assert_uint_gt(moved, 10);
    ck_assert_uint_gt(none, 10);
}
END_TEST

/* A whole kitchen day: with nothing amiss nothing moves, and that is proved. */
START_TEST(a_day_with_nothing_amiss_stays_as_it_is)
{
    static bp_eng_term term[200];
    kitchen_day d;
    ck_assert(kitchen_day_init(&d, (uint32_t)_i, 40));
    ck_assert_uint_le(d.p.activities, 200);
    bp_eng_limits first = {.first = true};
    bp_eng_solution *was = solved(&d.p, &first);
    ck_assert_int_eq(was->status, BP_ENG_FEASIBLE);
    for (uint32_t a = 0; a < d.p.activities; a++)
        term[a] = (bp_eng_term){0, BP_ENG_MOVED, a, 0, was->start[a], 1};
    d.p.term = term;
    d.p.terms = d.p.activities;
    d.p.levels = 1;
    bp_eng_limits limits = {.hint = was->start};
    bp_eng_solution *is = solved(&d.p, &limits);
    ck_assert_int_eq(is->status, BP_ENG_OPTIMAL);
    ck_assert_int_eq(is->value[0], 0);
    ck_assert_mem_eq(is->start, was->start, d.p.activities * sizeof *is->start);
    bp_eng_solution_free(is);
    bp_eng_solution_free(was);
    kitchen_day_release(&d);
}
END_TEST

Suite *suite_engine_replan(void);
Suite *suite_engine_replan(void)
{
    Suite *suite = suite_create("engine/replan");
    TCase *c = tcase_create("moved");
    tcase_add_test(c, as_little_moves_as_trying_everything_finds);
    tcase_add_loop_test(c, a_day_with_nothing_amiss_stays_as_it_is, 1, 7);
    suite_add_tcase(suite, c);
    return suite;
}

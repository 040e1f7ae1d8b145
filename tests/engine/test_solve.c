#include <check.h>
#include <string.h>

#include "backpot/engine.h"
#include "base/memory.h"
#include "support/small_problem.h"

static bp_errors errs;

static bp_eng_solution *solved(const small_problem *s, const bp_eng_limits *limits)
{
    bp_eng_solution *out = NULL;
    errs.n = errs.more = 0;
    bp_code code = bp_eng_solve(&out, &s->p, limits, &errs);
    ck_assert_msg(code == BP_OK, "%s", errs.n ? errs.item[0].wrong : "");
    char why[200];
    if (out->start)
        ck_assert_msg(bp_eng_verify(&s->p, out, limits ? limits->off : NULL, why, sizeof why), "%s",
                      why);
    return out;
}

enum { RANDOM_CASES = 400 };

START_TEST(small_problems_have_the_values_found_by_trying_everything)
{
    uint32_t feasible = 0;
    for (uint32_t seed = 1; seed <= RANDOM_CASES; seed++) {
        small_problem s;
        int64_t best[BP_ENG_LEVELS];
        small_random(&s, seed);
        bool any = small_brute(&s, NULL, best);
        bp_eng_solution *out = solved(&s, NULL);
        ck_assert_msg(out->status == (any ? BP_ENG_OPTIMAL : BP_ENG_INFEASIBLE),
                      "seed %u: status %d", seed, out->status);
        for (uint32_t k = 0; k < s.p.levels && any; k++) {
            ck_assert_msg(out->value[k] == best[k], "seed %u level %u: %lld, not %lld", seed, k,
                          (long long)out->value[k], (long long)best[k]);
            ck_assert_int_eq(out->bound[k], best[k]);
        }
        ck_assert_uint_eq(out->proved, any ? s.p.levels : 0);
        feasible += any;
        bp_eng_solution_free(out);
    }
    ck_assert_uint_gt(feasible, RANDOM_CASES / 4);
    ck_assert_uint_lt(feasible, RANDOM_CASES - RANDOM_CASES / 10);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(facts_switched_off_are_not_kept)
{
    for (uint32_t seed = 1; seed <= RANDOM_CASES / 3; seed++) {
        small_problem s;
        int64_t best[BP_ENG_LEVELS];
        small_random(&s, seed);
        uint32_t g = seed;
        bool off[8] = {false};
        for (uint32_t f = 0; f < s.p.facts; f++)
            off[f] = small_draw(&g, 2);
        bp_eng_limits limits = {.off = off};
        bool any = small_brute(&s, off, best);
        bp_eng_solution *out = solved(&s, &limits);
        ck_assert_msg(out->status == (any ? BP_ENG_OPTIMAL : BP_ENG_INFEASIBLE), "seed %u", seed);
        for (uint32_t k = 0; k < s.p.levels && any; k++)
            ck_assert_msg(out->value[k] == best[k], "seed %u level %u: %lld, not %lld", seed, k,
                          (long long)out->value[k], (long long)best[k]);
        bp_eng_solution_free(out);
    }
}
END_TEST

/* Resources of capacity 1 with breaks whose first starts are to be late: the bound by energy is at
 * work in each of these, with facts on and off. */
START_TEST(what_a_crew_must_give_never_forbids_the_best)
{
    for (uint32_t seed = 1; seed <= RANDOM_CASES / 2; seed++) {
        small_problem s;
        int64_t best[BP_ENG_LEVELS];
        bool off[8] = {false};
        uint32_t g = seed;
        small_random(&s, 7000 + seed);
        for (uint32_t r = 0; r < s.p.resources; r++) {
            s.resource[r].capacity = 1;
            small_term(&s, 0, BP_ENG_CALL, r, 0, (int32_t)small_draw(&g, 9), 1);
        }
        for (uint32_t k = 0; k < s.p.spans; k++)
            s.span[k].capacity = small_draw(&g, 3) == 0;
        for (uint32_t k = 0; k < s.p.needs; k++)
            s.need[k].amount = s.need[k].amount > 0;
        for (uint32_t f = 1; f < s.p.facts; f++)
            off[f] = small_draw(&g, 4) == 0;
        bp_eng_limits limits = {.off = off};
        bool any = small_brute(&s, off, best);
        bp_eng_solution *out = solved(&s, &limits);
        ck_assert_msg(out->status == (any ? BP_ENG_OPTIMAL : BP_ENG_INFEASIBLE), "seed %u", seed);
        for (uint32_t k = 0; k < s.p.levels && any; k++)
            ck_assert_msg(out->value[k] == best[k], "seed %u level %u: %lld, not %lld", seed, k,
                          (long long)out->value[k], (long long)best[k]);
        bp_eng_solution_free(out);
    }
}
END_TEST

START_TEST(every_request_for_memory_fails_once)
{
    for (uint32_t seed = 1; seed <= 12; seed++) {
        small_problem s;
        small_random(&s, seed);
        bool fired = true;
        for (long k = 0; fired; k++)
            for (int after = 0; after < 2; after++) {
                bp_eng_solution *out = NULL;
                errs.n = errs.more = 0;
                bpi_mem_fail_at(k, after);
                bp_code code = bp_eng_solve(&out, &s.p, NULL, &errs);
                fired = bpi_mem_failed();
                bpi_mem_fail_at(-1, 0);
                ck_assert_msg(code == (fired ? BP_ENOMEM : BP_OK), "seed %u request %ld: code %d",
                              seed, k, code);
                ck_assert_int_eq(out != NULL, code == BP_OK);
                bp_eng_solution_free(out);
                ck_assert_int_eq(bpi_mem_alive(), 0);
            }
    }
}
END_TEST

START_TEST(equal_problems_give_equal_answers)
{
    for (uint32_t seed = 1; seed <= 50; seed++) {
        small_problem s;
        small_random(&s, seed);
        bp_eng_solution *a = solved(&s, NULL), *b = solved(&s, NULL);
        ck_assert_uint_eq(a->work, b->work);
        ck_assert_int_eq(a->status, b->status);
        for (uint32_t k = 0; k < s.p.activities && a->start; k++) {
            ck_assert_int_eq(a->start[k], b->start[k]);
            ck_assert_int_eq(a->length[k], b->length[k]);
            ck_assert_uint_eq(a->option[k], b->option[k]);
        }
        bp_eng_solution_free(a);
        bp_eng_solution_free(b);
    }
}
END_TEST

Suite *suite_engine_solve(void);
Suite *suite_engine_solve(void)
{
    Suite *s = suite_create("engine/solve");
    TCase *c = tcase_create("random");
    tcase_set_timeout(c, 120);
    tcase_add_test(c, small_problems_have_the_values_found_by_trying_everything);
    tcase_add_test(c, facts_switched_off_are_not_kept);
    tcase_add_test(c, what_a_crew_must_give_never_forbids_the_best);
    tcase_add_test(c, every_request_for_memory_fails_once);
    tcase_add_test(c, equal_problems_give_equal_answers);
    suite_add_tcase(s, c);
    return s;
}

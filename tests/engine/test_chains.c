#include "engine/chains.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"
#include "support/kitchen_day.h"
#include "support/small_problem.h"

static small_problem p;
static bpi_model model;
static bpi_chains chains;

/* Three chains: 0-3 (ends at most at 12), 1-4 (at most at 20), 2 alone (at most at 16). */
static void begin(bool backward)
{
    small_init(&p, 20, 1, 1);
    uint32_t res = small_resource(&p, 9, 0);
    for (uint32_t k = 0; k < 5; k++)
        small_task(&p, 2, res, 1);
    small_after(&p, 0, 3);
    small_after(&p, 1, 4);
    small_lag(&p, 3, BP_ENG_END, BP_ENG_ORIGIN, BP_ENG_START, -12, 0);
    small_lag(&p, 2, BP_ENG_END, BP_ENG_ORIGIN, BP_ENG_START, -16, 0);
    small_lag(&p, BP_ENG_ORIGIN, BP_ENG_START, 0, BP_ENG_START, 1, 0);
    ck_assert(bpi_model_init(&model, &p.p, NULL, false, true));
    ck_assert(bpi_core_propagate(&model.core));
    ck_assert(bpi_chains_init(&chains, &model, backward, 4));
}

static void end(void)
{
    bpi_chains_release(&chains);
    bpi_model_release(&model);
}

START_TEST(the_latest_chain_comes_first_backward)
{
    static const uint32_t act[] = {1, 4, 2, 0, 3}, first[] = {0, 2, 3, 5};
    begin(true);
    ck_assert_uint_eq(chains.chains, 3);
    ck_assert_mem_eq(chains.act, act, sizeof act);
    ck_assert_mem_eq(chains.first, first, sizeof first);
    end();
}
END_TEST

START_TEST(the_earliest_chain_comes_first_forward)
{
    static const uint32_t act[] = {1, 4, 2, 0, 3}; /* 0 is released at 1; then by number */
    begin(false);
    ck_assert_uint_eq(chains.chains, 3);
    ck_assert_mem_eq(chains.act, act, sizeof act);
    end();
}
END_TEST

START_TEST(few_activities_are_one_chain)
{
    begin(true);
    ck_assert(bpi_chains_init(&chains, &model, true, 5));
    ck_assert_uint_eq(chains.chains, 1);
    for (uint32_t k = 0; k < 5; k++)
        ck_assert_uint_eq(chains.act[k], k);
    end();
}
END_TEST

START_TEST(each_activity_stands_in_one_chain)
{
    kitchen_day day;
    ck_assert(kitchen_day_init_wide(&day, (uint32_t)_i, 300));
    ck_assert(bpi_model_init(&model, &day.p, NULL, false, true));
    ck_assert(bpi_core_propagate(&model.core));
    ck_assert(bpi_chains_init(&chains, &model, true, 256));
    ck_assert_uint_ge(chains.chains, 20); /* containers of at most 12 steps */
    bool seen[1000] = {false};
    uint32_t chain_of[1000];
    ck_assert_uint_le(day.p.activities, 1000);
    for (uint32_t k = 0; k < chains.chains; k++)
        for (uint32_t j = chains.first[k]; j < chains.first[k + 1]; j++) {
            ck_assert(!seen[chains.act[j]]);
            seen[chains.act[j]] = true;
            chain_of[chains.act[j]] = k;
        }
    ck_assert_uint_eq(chains.first[chains.chains], day.p.activities);
    for (uint32_t k = 0; k < day.p.lags; k++)
        if (day.p.lag[k].from < BP_ENG_ORIGIN && day.p.lag[k].to < BP_ENG_ORIGIN)
            ck_assert_uint_eq(chain_of[day.p.lag[k].from], chain_of[day.p.lag[k].to]);
    end();
    kitchen_day_release(&day);
}
END_TEST

/* The answer is verified inside; here that there is one, by little work, and the same each time. */
START_TEST(a_wide_day_is_planned_within_the_usual_work)
{
    static bp_errors errs;
    kitchen_day day;
    bp_eng_limits limits = {.first = true};
    bp_eng_solution *s = NULL, *t = NULL;
    ck_assert(kitchen_day_init_wide(&day, (uint32_t)_i, 2000));
    ck_assert_int_eq(bp_eng_solve(&s, &day.p, &limits, &errs), BP_OK);
    ck_assert_int_eq(s->status, BP_ENG_FEASIBLE);
    ck_assert_int_eq(bp_eng_solve(&t, &day.p, &limits, &errs), BP_OK);
    ck_assert_uint_eq(s->work, t->work);
    ck_assert_mem_eq(s->start, t->start, s->activities * sizeof *s->start);
    bp_eng_solution_free(s);
    bp_eng_solution_free(t);
    kitchen_day_release(&day);
}
END_TEST

START_TEST(each_refused_request_is_told)
{
    static bp_errors errs;
    kitchen_day day;
    bp_eng_limits limits = {.first = true};
    ck_assert(kitchen_day_init_wide(&day, 3, 20));
    bp_code code = BP_ENOMEM;
    for (long n = 0; code == BP_ENOMEM; n++) {
        bp_eng_solution *s = NULL;
        bpi_mem_fail_at(n, 0);
        code = bp_eng_solve(&s, &day.p, &limits, &errs);
        bpi_mem_fail_at(-1, 0);
        ck_assert(code == BP_OK ? s != NULL : s == NULL);
        bp_eng_solution_free(s);
        errs.n = errs.more = 0;
    }
    ck_assert_int_eq(code, BP_OK);
    kitchen_day_release(&day);
}
END_TEST

Suite *suite_engine_chains(void);
Suite *suite_engine_chains(void)
{
    Suite *suite = suite_create("engine/chains");
    TCase *c = tcase_create("order");
    tcase_add_test(c, the_latest_chain_comes_first_backward);
    tcase_add_test(c, the_earliest_chain_comes_first_forward);
    tcase_add_test(c, few_activities_are_one_chain);
    tcase_add_loop_test(c, each_activity_stands_in_one_chain, 1, 6);
    tcase_add_loop_test(c, a_wide_day_is_planned_within_the_usual_work, 1, 4);
    tcase_add_test(c, each_refused_request_is_told);
    suite_add_tcase(suite, c);
    return suite;
}

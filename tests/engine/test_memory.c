/* No memory: each request of the engine is refused in turn, alone and with all that follow. */
#include <check.h>

#include "backpot/engine.h"
#include "base/memory.h"
#include "support/kitchen_day.h"
#include "support/small_problem.h"

static bp_errors errs;

/* Does it end in the right code, with one message, and nothing kept? False: no request was met. */
static bool refused(const bp_eng_problem *p, const bp_eng_limits *limits, bool explain, long k,
                    int after)
{
    bp_eng_solution *out = NULL;
    bp_eng_conflict *c = NULL;
    long alive = bpi_mem_alive();
    errs.n = errs.more = 0;
    bpi_mem_fail_at(k, after);
    bp_code code =
        explain ? bp_eng_explain(&c, p, limits, &errs) : bp_eng_solve(&out, p, limits, &errs);
    bool met = bpi_mem_failed();
    bpi_mem_fail_at(-1, 0);
    ck_assert_msg(code == (met ? BP_ENOMEM : BP_OK), "request %ld: code %d", k, code);
    ck_assert_uint_eq(errs.n, met);
    ck_assert(met ? !out && !c : explain ? c != NULL : out != NULL);
    bp_eng_solution_free(out);
    bp_eng_conflict_free(c);
    ck_assert_int_eq(bpi_mem_alive(), alive);
    return met;
}

/* The first 60 requests, then ever fewer: most of the later ones let the same arrays grow. */
static long sweep(const bp_eng_problem *p, const bp_eng_limits *limits, bool explain, int after)
{
    long met = 0;
    for (long k = 0; refused(p, limits, explain, k, after); k += 1 + k / 60)
        met++;
    return met;
}

/* A day of cooks, ovens and places: crews, states, pools and all levels of a kitchen. */
START_TEST(a_day_of_a_kitchen)
{
    kitchen_day d;
    const bp_eng_limits limits = {.work = 2000000};
    ck_assert(kitchen_day_init(&d, 5, 12));
    ck_assert_int_gt(sweep(&d.p, &limits, false, _i), 50);
    kitchen_day_release(&d);
}
END_TEST

/* Orders are bred where nothing is to choose but starts. */
START_TEST(a_network_of_activities)
{
    small_problem s;
    uint32_t g = 11;
    small_init(&s, 60, 1, 2);
    small_resource(&s, 3, 0);
    small_resource(&s, 2, 0);
    for (uint32_t a = 0; a < 14; a++) {
        small_task(&s, 1 + (int32_t)small_draw(&g, 6), small_draw(&g, 2), 1);
        if (a > 2)
            small_after(&s, small_draw(&g, a), a);
        small_term(&s, 0, BP_ENG_ENDS, a, 0, 0, 1 + (int32_t)small_draw(&g, 3));
        small_term(&s, 1, BP_ENG_MOVED, a, 0, (int32_t)small_draw(&g, 30), 1);
    }
    const bp_eng_limits limits = {.work = 1000000};
    ck_assert_int_gt(sweep(&s.p, &limits, false, _i), 50);
}
END_TEST

/* Random ones use every kind of row; those without a schedule are explained, by both ways. */
START_TEST(small_problems)
{
    long met = 0;
    for (uint32_t seed = 1; seed <= 40; seed++) {
        small_problem s;
        bp_eng_solution *out = NULL;
        small_random(&s, 300 + seed);
        const bp_eng_limits limits = {.work = 300000, .none = true};
        met += sweep(&s.p, &limits, false, _i);
        ck_assert_int_eq(bp_eng_solve(&out, &s.p, NULL, &errs), BP_OK);
        if (out->status == BP_ENG_INFEASIBLE) {
            const bp_eng_limits little = {.work = 1000, .none = true};
            met += sweep(&s.p, &limits, true, _i);
            met += sweep(&s.p, &little, true, _i);
        }
        bp_eng_solution_free(out);
    }
    ck_assert_int_gt(met, 500);
}
END_TEST

Suite *suite_engine_memory(void);
Suite *suite_engine_memory(void)
{
    Suite *suite = suite_create("engine/memory");
    TCase *c = tcase_create("refused");
    tcase_add_loop_test(c, a_day_of_a_kitchen, 0, 2);
    tcase_add_loop_test(c, a_network_of_activities, 0, 2);
    tcase_add_loop_test(c, small_problems, 0, 2);
    suite_add_tcase(suite, c);
    return suite;
}

/* What follows at the root from the rows of a problem, before anything is decided. */
#include "engine/model.h"

#include <check.h>

#include "base/memory.h"
#include "support/small_problem.h"

static small_problem s;
static bpi_model m;

/* False: there is no schedule, and it is seen at once. */
static bool begin(void)
{
    ck_assert(bpi_model_init(&m, &s.p, NULL, false, true));
    return bpi_core_propagate(&m.core);
}

static void end(void)
{
    bpi_model_release(&m);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

/* One that either of two cooks can do, with something from a store of its own. */
static void by_either(uint32_t one, uint32_t other, uint32_t store, uint32_t its)
{
    small_activity(&s);
    small_option(&s, 5, 5, 0, -1);
    small_need(&s, one, 1, -1);
    small_need(&s, store, 1, -1);
    small_option(&s, 5, 5, 0, -1);
    small_need(&s, other, 1, -1);
    small_need(&s, its, 1, -1);
}

/* Jobs of 5 within 9 all run at 4, so two cooks do two of them. That the two are one group is known from
 * another job alone, which either can do, or which may be left out. */
static void jobs_for_two_cooks(uint32_t jobs, bool may_be_left_out)
{
    small_init(&s, 9, 1, 0);
    uint32_t one = small_resource(&s, 1, 0), other = small_resource(&s, 1, 0),
             store = small_resource(&s, 9, 0), its = small_resource(&s, 9, 0);
    small_activity(&s);
    if (may_be_left_out)
        small_option(&s, 0, 0, 0, -1);
    small_option(&s, 0, 0, 0, -1);
    small_need(&s, one, 1, -1);
    small_option(&s, 0, 0, 0, -1);
    small_need(&s, other, 1, -1);
    for (uint32_t k = 0; k < jobs; k++)
        by_either(one, other, store, its);
}

START_TEST(cooks_of_whom_any_will_do_have_what_all_have)
{
    jobs_for_two_cooks(2, _i);
    ck_assert(begin());
    end();
    jobs_for_two_cooks(3, _i);
    ck_assert(!begin());
    end();
}
END_TEST

/* Two jobs of 10 within 30 take 20 of their cook, who has begun by 10. What the oven does beside them is none
 * of his. */
START_TEST(a_cook_has_begun_by_what_he_must_have_done)
{
    small_init(&s, 30, 1, 1);
    uint32_t cook = small_resource(&s, 1, 0), oven = small_resource(&s, 1, 0);
    small_task(&s, 10, cook, 1);
    small_task(&s, 10, oven, 1);
    small_task(&s, 10, cook, 1);
    small_term(&s, 0, BP_ENG_CALL, cook, 0, 30, 1);
    ck_assert(begin());
    ck_assert_int_eq(-m.core.low[m.first[cook] ^ 1], 10);
    end();
}
END_TEST

/* Three of something: two are taken until 10, and one more than is left is wanted. */
START_TEST(what_is_one_too_much_waits)
{
    small_init(&s, 30, 1, 0);
    uint32_t r = small_resource(&s, 3, 0), first = small_task(&s, 10, r, 2),
             fits = small_task(&s, 5, r, 1), waits = small_task(&s, 5, r, 2);
    small_lag(&s, first, BP_ENG_START, BP_ENG_ORIGIN, BP_ENG_START, 0, 0);
    ck_assert(begin());
    ck_assert_int_eq(bpi_ref_low(&m.core, m.start[fits]), 0);
    ck_assert_int_eq(bpi_ref_low(&m.core, m.start[waits]), 10);
    end();
}
END_TEST

Suite *suite_engine_model(void);
Suite *suite_engine_model(void)
{
    Suite *s_ = suite_create("engine/model");
    TCase *c = tcase_create("model");
    tcase_add_loop_test(c, cooks_of_whom_any_will_do_have_what_all_have, 0, 2);
    tcase_add_test(c, a_cook_has_begun_by_what_he_must_have_done);
    tcase_add_test(c, what_is_one_too_much_waits);
    suite_add_tcase(s_, c);
    return s_;
}

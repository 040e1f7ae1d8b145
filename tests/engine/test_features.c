/* One hand-made case for each kind of row, with answers found on paper. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/engine.h"
#include "base/memory.h"
#include "support/kitchen_day.h"
#include "support/small_problem.h"

static bp_errors errs;
static small_problem s;

static bp_eng_solution *solved(const bp_eng_limits *limits)
{
    bp_eng_solution *out = NULL;
    char why[200];
    errs.n = errs.more = 0;
    ck_assert_msg(bp_eng_solve(&out, &s.p, limits, &errs) == BP_OK, "%s", errs.item[0].wrong);
    if (out->start)
        ck_assert_msg(bp_eng_verify(&s.p, out, limits ? limits->off : NULL, why, sizeof why), "%s",
                      why);
    return out;
}

static void optimum_is(int64_t first, int64_t second)
{
    bp_eng_solution *out = solved(NULL);
    ck_assert_int_eq(out->status, BP_ENG_OPTIMAL);
    ck_assert_int_eq(out->value[0], first);
    ck_assert_int_eq(out->value[1], second);
    bp_eng_solution_free(out);
}

static uint32_t free_task(int32_t length)
{
    return small_task(&s, length, 0, 0);
}

START_TEST(a_maximum_lag_pulls_the_first_activity_towards_the_second)
{
    small_init(&s, 50, 1, 2);
    uint32_t a = free_task(3), b = free_task(4);
    small_after(&s, a, b);
    small_lag(&s, BP_ENG_ORIGIN, BP_ENG_START, b, BP_ENG_START, 20, 0);
    small_lag(&s, b, BP_ENG_START, a, BP_ENG_END, -5, 0); /* b starts at most 5 after a ends */
    small_term(&s, 0, BP_ENG_ENDS, b, 0, 0, 1);
    small_term(&s, 1, BP_ENG_STARTS, a, 0, 0, 1);
    optimum_is(24, 12);
}
END_TEST

START_TEST(two_at_once_where_the_capacity_is_two)
{
    small_init(&s, 50, 1, 2);
    uint32_t r = small_resource(&s, 2, 0), all = free_task(0);
    for (int k = 0; k < 5; k++)
        small_after(&s, small_task(&s, 4, r, 1), all);
    small_term(&s, 0, BP_ENG_STARTS, all, 0, 0, 1);
    optimum_is(12, 0);
}
END_TEST

START_TEST(a_break_is_not_worked_through)
{
    small_init(&s, 50, 1, 2);
    uint32_t r = small_resource(&s, 1, 0), a = small_task(&s, 5, r, 1), b = small_task(&s, 5, r, 1);
    small_span(&s, r, 7, 10, 0, 0);
    small_term(&s, 0, BP_ENG_ENDS, a, 0, 0, 1);
    small_term(&s, 0, BP_ENG_ENDS, b, 0, 0, 1);
    optimum_is(5 + 15, 0);
}
END_TEST

START_TEST(a_span_may_lift_the_capacity)
{
    small_init(&s, 50, 1, 2);
    uint32_t r = small_resource(&s, 1, 0), a = small_task(&s, 5, r, 1), b = small_task(&s, 5, r, 1);
    small_span(&s, r, 0, 6, 2, 0);
    small_term(&s, 0, BP_ENG_ENDS, a, 0, 0, 1);
    small_term(&s, 0, BP_ENG_ENDS, b, 0, 0, 1);
    optimum_is(10, 0);
}
END_TEST

START_TEST(an_oven_takes_time_to_change_its_state)
{
    small_init(&s, 90, 1, 2);
    static const int32_t change[4] = {0, 10, 4, 0};
    uint32_t oven = small_resource(&s, 2, 0), all = free_task(0);
    memcpy(s.change, change, sizeof change);
    s.p.changes = 4;
    s.resource[oven].states = 2;
    for (int k = 0; k < 3; k++) { /* two share the oven in state 0, one needs state 1 */
        uint32_t a = small_activity(&s);
        small_option(&s, 20, 20, 0, -1);
        small_need(&s, oven, 1, k == 2);
        small_after(&s, a, all);
    }
    small_term(&s, 0, BP_ENG_STARTS, all, 0, 0, 1);
    optimum_is(44, 0); /* state 1 first: 20 + 4 + 20 */
}
END_TEST

START_TEST(a_heating_step_is_left_out_where_it_is_not_needed)
{
    small_init(&s, 60, 1, 2);
    uint32_t heat = small_activity(&s);
    small_option(&s, 0, 0, 0, -1);
    small_option(&s, 10, 10, 0, -1);
    uint32_t bake = free_task(20);
    small_lag(&s, heat, BP_ENG_END, bake, BP_ENG_START, 0, 0);
    s.lag[0].if_act = heat;
    s.lag[0].if_opt = 1;
    small_term(&s, 0, BP_ENG_ENDS, bake, 0, 0, 1);
    small_term(&s, 1, BP_ENG_LASTS, heat, 0, 0, 1);
    optimum_is(20, 0);
    s.literal[0] = (bp_eng_literal){heat, 0, true}; /* now it must be done */
    s.p.literals = 1;
    s.clause[0] = (bp_eng_clause){0, 1, 0};
    s.p.clauses = 1;
    optimum_is(30, 10);
}
END_TEST

START_TEST(waiting_lasts_no_longer_than_its_place_allows)
{
    small_init(&s, 100, 2, 2);
    uint32_t cook = free_task(10), wait = small_activity(&s);
    small_option(&s, 0, 30, 1, -1);
    small_lag(&s, cook, BP_ENG_END, wait, BP_ENG_START, 0, 0);
    small_lag(&s, wait, BP_ENG_START, cook, BP_ENG_END, 0, 0);
    small_lag(&s, BP_ENG_ORIGIN, BP_ENG_START, wait, BP_ENG_END, 90, 0);
    small_term(&s, 0, BP_ENG_STARTS, cook, 0, 0, 1);
    optimum_is(50, 0);
    bool off[2] = {false, true};
    bp_eng_limits limits = {.off = off};
    bp_eng_solution *out = solved(&limits);
    ck_assert_int_eq(out->value[0], 0);
    bp_eng_solution_free(out);
}
END_TEST

START_TEST(late_is_counted_from_its_time)
{
    small_init(&s, 50, 1, 2);
    uint32_t r = small_resource(&s, 1, 0), a = small_task(&s, 6, r, 1), b = small_task(&s, 9, r, 1);
    small_term(&s, 0, BP_ENG_LATE, a, 0, 8, 1);
    small_term(&s, 0, BP_ENG_LATE, b, 0, 10, 1);
    optimum_is(5, 0); /* a first: b ends at 15; b first: a ends at 15, 7 late */
}
END_TEST

START_TEST(call_counts_from_the_first_start_and_an_unused_cook_costs_nothing)
{
    small_init(&s, 50, 1, 2);
    uint32_t r = small_resource(&s, 1, 0), q = small_resource(&s, 1, 0);
    for (int k = 0; k < 2; k++) {
        uint32_t a = small_activity(&s);
        small_option(&s, 6, 6, 0, 0);
        small_need(&s, r, 1, -1);
        small_option(&s, 6, 6, 0, 1);
        small_need(&s, q, 1, -1);
        small_lag(&s, a, BP_ENG_END, BP_ENG_ORIGIN, BP_ENG_START, -40, 0);
    }
    small_term(&s, 0, BP_ENG_CALL, r, 0, 45, 1);
    small_term(&s, 0, BP_ENG_CALL, q, 0, 45, 1);
    small_term(&s, 1, BP_ENG_SPLIT, 0, 1, 0, 3);
    optimum_is(17,
               0); /* one cook does both, from 28 on: two cooks would be called 11 before each */
}
END_TEST

START_TEST(reach_is_the_length_of_the_day_of_a_resource)
{
    small_init(&s, 50, 1, 2);
    uint32_t r = small_resource(&s, 1, 0), a = small_task(&s, 3, r, 1), b = small_task(&s, 3, r, 1);
    small_lag(&s, a, BP_ENG_END, b, BP_ENG_START, 5, 0);
    small_term(&s, 0, BP_ENG_REACH, r, 0, 0, 2);
    small_term(&s, 1, BP_ENG_STARTS, a, 0, 0, 1);
    optimum_is(22, 0);
}
END_TEST

START_TEST(moved_and_takes_are_counted)
{
    small_init(&s, 50, 1, 2);
    uint32_t r = small_resource(&s, 1, 0), a = small_task(&s, 5, r, 1), b = small_activity(&s);
    small_option(&s, 5, 5, 0, -1);
    small_need(&s, r, 1, -1);
    small_option(&s, 7, 7, 0, -1);
    small_term(&s, 0, BP_ENG_MOVED, a, 0, 3, 1);
    small_term(&s, 0, BP_ENG_MOVED, b, 0, 4, 1); /* at once with a: only by the second option */
    small_term(&s, 1, BP_ENG_TAKES, b, 1, 0, 4);
    optimum_is(0, 4);
}
END_TEST

START_TEST(a_problem_without_activities_has_an_empty_schedule)
{
    small_init(&s, 0, 1, 0);
    bp_eng_solution *out = solved(NULL);
    ck_assert_int_eq(out->status, BP_ENG_OPTIMAL);
    bp_eng_solution_free(out);
}
END_TEST

START_TEST(a_hint_and_the_first_schedule_are_enough_where_asked)
{
    small_init(&s, 500, 1, 1);
    uint32_t r = small_resource(&s, 1, 0);
    for (int k = 0; k < 10; k++)
        small_term(&s, 0, BP_ENG_ENDS, small_task(&s, 5, r, 1), 0, 0, 1);
    int32_t hint[10] = {0};
    bp_eng_limits limits = {.first = true, .hint = hint};
    bp_eng_solution *out = solved(&limits);
    ck_assert_int_eq(out->status, BP_ENG_FEASIBLE);
    ck_assert_uint_eq(out->proved, 0);
    ck_assert_int_le(out->bound[0], out->value[0]);
    bp_eng_solution_free(out);
}
END_TEST

static bool stop_at_once(void *ctx, const bp_eng_progress *p)
{
    ++*(int *)ctx;
    return p->value < 0;
}

START_TEST(the_caller_may_stop_and_keeps_the_best_so_far)
{
    kitchen_day d;
    int told = 0;
    ck_assert(kitchen_day_init(&d, 3, 40));
    bp_eng_limits limits = {.tell = stop_at_once, .ctx = &told};
    bp_eng_solution *out = NULL;
    char why[200];
    ck_assert_int_eq(bp_eng_solve(&out, &d.p, &limits, &errs), BP_OK);
    ck_assert_int_ge(told, 1);
    ck_assert_int_ne(out->status, BP_ENG_OPTIMAL);
    ck_assert(out->start == NULL || bp_eng_verify(&d.p, out, NULL, why, sizeof why));
    bp_eng_solution_free(out);
    kitchen_day_release(&d);
}
END_TEST

static bool stop_later(void *ctx, const bp_eng_progress *p)
{
    (void)p;
    return --*(int *)ctx > 0;
}

/* Wherever it is stopped, what is given holds, and is no worse than what was told of first. */
START_TEST(the_caller_may_stop_at_any_word)
{
    kitchen_day d;
    ck_assert(kitchen_day_init(&d, 3, 30));
    bool ended = false;
    int64_t first = 0, last = INT64_MAX;
    for (int words = 2; !ended && words < 400; words += 1 + words / 8) {
        int left = words;
        bp_eng_limits limits = {.tell = stop_later, .ctx = &left, .work = 6000000};
        bp_eng_solution *out = NULL;
        char why[200];
        ck_assert_int_eq(bp_eng_solve(&out, &d.p, &limits, &errs), BP_OK);
        ended = left > 0;
        ck_assert(ended || out->status != BP_ENG_OPTIMAL);
        ck_assert_ptr_nonnull(out->start);
        ck_assert_msg(bp_eng_verify(&d.p, out, NULL, why, sizeof why), "%s", why);
        ck_assert(out->bound[0] <= out->value[0]);
        ck_assert_int_le(out->value[0], last); /* the same run, stopped later */
        first = words == 2 ? out->value[0] : first;
        last = out->value[0];
        bp_eng_solution_free(out);
    }
    ck_assert(ended);
    ck_assert_int_le(last, first);
    kitchen_day_release(&d);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

/* Time goes on where the work ends: what work 1 cannot find a second does, and a proof ends it. */
START_TEST(seconds_go_on_past_the_work)
{
    small_init(&s, 60, 1, 2);
    uint32_t r = small_resource(&s, 1, 0);
    for (int k = 0; k < 6; k++) {
        uint32_t a = small_activity(&s); /* by two options, so that no order alone builds it */
        small_option(&s, 4, 4, 0, -1);
        small_need(&s, r, 1, -1);
        small_option(&s, 5, 5, 0, -1);
        small_need(&s, r, 1, -1);
        small_term(&s, 0, BP_ENG_ENDS, a, 0, 0, 1);
        small_term(&s, 1, BP_ENG_TAKES, a, 1, 0, 1);
    }
    bp_eng_limits limits = {.work = 1};
    bp_eng_solution *out = solved(&limits);
    ck_assert_int_eq(out->status, BP_ENG_UNKNOWN);
    bp_eng_solution_free(out);
    limits.seconds = 3600;
    out = solved(&limits);
    ck_assert_int_eq(out->status, BP_ENG_OPTIMAL);
    ck_assert_int_eq(out->value[0], 4 + 8 + 12 + 16 + 20 + 24);
    ck_assert_int_eq(out->value[1], 0);
    bp_eng_solution_free(out);
}
END_TEST

/* After the first schedule only so much more work: the same search, ended sooner. */
START_TEST(better_bounds_the_work_from_the_first_schedule_on)
{
    kitchen_day d;
    bp_eng_solution *out = NULL;
    char why[200];
    ck_assert(kitchen_day_init(&d, 9, 60));
    bp_eng_limits limits = {.work = 8000000};
    ck_assert_int_eq(bp_eng_solve(&out, &d.p, &limits, &errs), BP_OK);
    uint64_t whole = out->work;
    int64_t value = out->value[1];
    bp_eng_solution_free(out);
    limits.better = 200000;
    ck_assert_int_eq(bp_eng_solve(&out, &d.p, &limits, &errs), BP_OK);
    ck_assert_msg(bp_eng_verify(&d.p, out, NULL, why, sizeof why), "%s", why);
    ck_assert_uint_lt(out->work, whole / 2);
    ck_assert_int_ne(out->status, BP_ENG_OPTIMAL);
    ck_assert_int_ge(out->value[1], value);
    bp_eng_solution_free(out);
    kitchen_day_release(&d);
}
END_TEST

START_TEST(without_work_nothing_is_known)
{
    kitchen_day d;
    ck_assert(kitchen_day_init(&d, 3, 60));
    bp_eng_limits limits = {.work = 1};
    bp_eng_solution *out = NULL;
    ck_assert_int_eq(bp_eng_solve(&out, &d.p, &limits, &errs), BP_OK);
    ck_assert_int_eq(out->status, BP_ENG_UNKNOWN);
    ck_assert_ptr_null(out->start);
    bp_eng_solution_free(out);
    kitchen_day_release(&d);
}
END_TEST

/* Bounds stand below values, and what is proved has them equal. */
START_TEST(kitchen_days_are_planned)
{
    for (uint32_t seed = 1; seed <= 6; seed++) {
        kitchen_day d;
        char why[200];
        ck_assert(kitchen_day_init(&d, seed, 40));
        bp_eng_solution *out = NULL;
        ck_assert_int_eq(bp_eng_solve(&out, &d.p, NULL, &errs), BP_OK);
        ck_assert_ptr_nonnull(out->start);
        ck_assert_msg(bp_eng_verify(&d.p, out, NULL, why, sizeof why), "%s", why);
        for (uint32_t k = 0; k < d.p.levels; k++)
            ck_assert(k < out->proved ? out->bound[k] == out->value[k]
                                      : out->bound[k] <= out->value[k]);
        bp_eng_solution_free(out);
        kitchen_day_release(&d);
    }
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

Suite *suite_engine_features(void);
Suite *suite_engine_features(void)
{
    Suite *suite = suite_create("engine/features");
    TCase *c = tcase_create("by hand");
    tcase_add_test(c, a_maximum_lag_pulls_the_first_activity_towards_the_second);
    tcase_add_test(c, two_at_once_where_the_capacity_is_two);
    tcase_add_test(c, a_break_is_not_worked_through);
    tcase_add_test(c, a_span_may_lift_the_capacity);
    tcase_add_test(c, an_oven_takes_time_to_change_its_state);
    tcase_add_test(c, a_heating_step_is_left_out_where_it_is_not_needed);
    tcase_add_test(c, waiting_lasts_no_longer_than_its_place_allows);
    tcase_add_test(c, late_is_counted_from_its_time);
    tcase_add_test(c, call_counts_from_the_first_start_and_an_unused_cook_costs_nothing);
    tcase_add_test(c, reach_is_the_length_of_the_day_of_a_resource);
    tcase_add_test(c, moved_and_takes_are_counted);
    tcase_add_test(c, a_problem_without_activities_has_an_empty_schedule);
    tcase_add_test(c, a_hint_and_the_first_schedule_are_enough_where_asked);
    tcase_add_test(c, the_caller_may_stop_and_keeps_the_best_so_far);
    tcase_add_test(c, the_caller_may_stop_at_any_word);
    tcase_add_test(c, seconds_go_on_past_the_work);
    tcase_add_test(c, better_bounds_the_work_from_the_first_schedule_on);
    tcase_add_test(c, without_work_nothing_is_known);
    tcase_add_test(c, kitchen_days_are_planned);
    suite_add_tcase(suite, c);
    return suite;
}

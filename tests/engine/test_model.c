/* What follows at the root from the rows of a problem, before anything is decided. */
#include "engine/model.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

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

/* One of the two has two hands for a while. Then all three jobs run, if that is while all must: from 4 to 5,
 * where a job from 0 and a job to 9 meet. */
START_TEST(a_cook_of_two_hands_does_two_jobs)
{
    static const struct {
        int32_t from, to;
        bool fits;
    } two_hands[] = {{0, 9, true}, {4, 5, true}, {0, 4, false}, {5, 9, false}};
    for (size_t k = 0; k < sizeof two_hands / sizeof *two_hands; k++) {
        jobs_for_two_cooks(3, _i);
        small_span(&s, 0, two_hands[k].from, two_hands[k].to, 2, 0);
        bp_eng_solution *found;
        ck_assert_int_eq(bp_eng_solve(&found, &s.p, NULL, NULL), BP_OK);
        ck_assert_int_eq(found->status == BP_ENG_OPTIMAL, two_hands[k].fits);
        bp_eng_solution_free(found);
    }
}
END_TEST

/* Nothing takes time where there is none: what has no length stands at 0, and anything else has no place. */
START_TEST(in_no_time_only_what_takes_none_is_done)
{
    for (int32_t length = 0; length < 2; length++) {
        small_init(&s, 0, 1, 0);
        uint32_t r = small_resource(&s, 1, 0), a = small_task(&s, length, r, 1);
        ck_assert_int_eq(begin(), length == 0);
        if (length == 0)
            ck_assert_int_eq(bpi_ref_high(&m.core, m.start[a]), 0);
        end();
    }
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
    bp_eng_solution *found;
    ck_assert_int_eq(bp_eng_solve(&found, &s.p, NULL, NULL), BP_OK);
    ck_assert_int_eq(found->status, BP_ENG_OPTIMAL);
    ck_assert_int_eq(found->value[0], 20);
    bp_eng_solution_free(found);
}
END_TEST

/* Two cooks, each of whom costs from when he first starts; each has four jobs, all with the same tools. */
static void jobs_of_two_cooks(uint32_t tools)
{
    small_init(&s, 60, 1, 1);
    for (uint32_t r = 0; r < 2 + tools; r++)
        small_resource(&s, 1, 0);
    for (uint32_t a = 0; a < 8; a++) {
        small_task(&s, 5, a % 2, 1);
        for (uint32_t r = 2; r < 2 + tools; r++)
            small_need(&s, r, 1, -1);
    }
    small_term(&s, 0, BP_ENG_CALL, 0, 0, 60, 1);
    small_term(&s, 0, BP_ENG_CALL, 1, 0, 60, 1);
}

/* What cannot be had is told by whoever asked for it, not first by whoever looks at the end. */
START_TEST(every_refused_request_is_told_at_once)
{
    bool refused = false;
    /* More and more watch each start, so that its list grows now for the one and now for the other. */
    for (uint32_t tools = 0; tools < 6; tools++)
        for (long k = 0; k == 0 || refused; k++) {
            ck_assert_int_lt(k, 2000);
            jobs_of_two_cooks(tools);
            bpi_mem_fail_at(k, 0);
            bool fine = bpi_model_init(&m, &s.p, NULL, false, true);
            refused = bpi_mem_failed();
            bpi_mem_fail_at(-1, 0);
            ck_assert_msg(fine == !refused, "request %ld with %u tools", k, (unsigned)tools);
            end();
        }
    uint32_t told = 0;
    small_init(&s, 30, 1, 0);
    uint32_t r = small_resource(&s, 1, 0), a = small_task(&s, 5, r, 1);
    ck_assert(begin());
    for (long k = 0; k < 600; k++) {
        bpi_mem_fail_at(k % 3, 0);
        bool fine = bpi_model_sum(&m, m.end[a], m.start[a], m.end[a]);
        refused = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_msg(fine == !refused, "sum %ld", k);
        told += refused;
    }
    ck_assert_uint_gt(told, 2);
    end();
}
END_TEST

/* Solve it with each list in a block of its own, in which nothing stands behind the last row. */
static bp_eng_solution *solve_without_room(bp_eng_problem p)
{
    void *block[11];
    size_t n = 0;
#define CUT(rows, count)                                                                           \
    do {                                                                                           \
        block[n] = malloc(p.count * sizeof *p.rows);                                               \
        if (p.count)                                                                               \
            memcpy(block[n], p.rows, p.count * sizeof *p.rows);                                    \
        p.rows = block[n++];                                                                       \
    } while (0)
    CUT(activity, activities);
    CUT(option, options);
    CUT(need, needs);
    CUT(lag, lags);
    CUT(resource, resources);
    CUT(span, spans);
    CUT(change, changes);
    CUT(literal, literals);
    CUT(clause, clauses);
    CUT(term, terms);
#undef CUT
    bp_eng_solution *found = NULL;
    ck_assert_int_eq(bp_eng_solve(&found, &p, NULL, NULL), BP_OK);
    while (n)
        free(block[--n]);
    return found;
}

/* What stands behind a list changes nothing, and where nothing does, nothing is read there: the run under the
 * address sanitizer would stop. */
START_TEST(no_list_is_read_past_its_end)
{
    uint32_t solved = 0;
    for (uint32_t seed = 1; seed <= 60; seed++) {
        small_random(&s, seed);
        ck_assert_uint_lt(s.p.spans, SMALL_ROWS);
        s.span[s.p.spans] =
            (bp_eng_span){0, 0, s.p.horizon + 1, 0, 0}; /* would close the first resource */
        bp_eng_solution *loose, *tight = solve_without_room(s.p);
        ck_assert_int_eq(bp_eng_solve(&loose, &s.p, NULL, NULL), BP_OK);
        ck_assert_int_eq(loose->status, tight->status);
        ck_assert_uint_eq(loose->work, tight->work);
        for (uint32_t k = 0; loose->start && k < s.p.levels; k++)
            ck_assert_int_eq(loose->value[k], tight->value[k]);
        solved += loose->start != NULL;
        bp_eng_solution_free(loose);
        bp_eng_solution_free(tight);
    }
    ck_assert_uint_gt(solved, 20);
    /* Where only starts are to choose, too: three jobs of 5, a break from 7 to 9: they end at 5, 14
     * and 19. */
    uint64_t work[2];
    for (int behind = 0; behind < 2; behind++) {
        small_init(&s, 30, 1, 1);
        uint32_t r = small_resource(&s, 1, 0);
        small_span(&s, r, 7, 9, 0, 0);
        for (uint32_t a = 0; a < 3; a++) {
            small_task(&s, 5, r, 1);
            small_term(&s, 0, BP_ENG_ENDS, a, 0, 0, 1);
        }
        s.span[1] = behind ? (bp_eng_span){r, 0, 31, 0, 0} : s.span[0];
        bp_eng_solution *found;
        ck_assert_int_eq(bp_eng_solve(&found, &s.p, NULL, NULL), BP_OK);
        ck_assert_int_eq(found->value[0], 5 + 14 + 19);
        work[behind] = found->work;
        bp_eng_solution_free(found);
    }
    ck_assert_uint_eq(work[0], work[1]);
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
    tcase_add_loop_test(c, a_cook_of_two_hands_does_two_jobs, 0, 2);
    tcase_add_test(c, in_no_time_only_what_takes_none_is_done);
    tcase_add_test(c, a_cook_has_begun_by_what_he_must_have_done);
    tcase_add_test(c, every_refused_request_is_told_at_once);
    tcase_add_test(c, no_list_is_read_past_its_end);
    tcase_add_test(c, what_is_one_too_much_waits);
    suite_add_tcase(s_, c);
    return s_;
}

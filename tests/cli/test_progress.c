#include "cli/progress.h"

#include <check.h>
#include <signal.h>
#include <string.h>

static void line_is(uint32_t goal, int64_t value, int64_t bound, const char *expected)
{
    char line[100];
    ck_assert_uint_eq(bpi_progress_line(line, sizeof line, goal, value, bound), strlen(expected));
    ck_assert_str_eq(line, expected);
}

START_TEST(the_line_tells_goal_bound_and_gap)
{
    line_is(1, 173, 163, "crew time: 173 min, at least 163, gap 5 %; Ctrl-C keeps this plan");
    line_is(2, 2688, 977,
            "waiting: 2688 weighted min, at least 977, gap 63 %; Ctrl-C keeps this plan");
    line_is(3, 4, -7, "hand-overs: 4 times, at least 0, gap 100 %; Ctrl-C keeps this plan");
    line_is(0, 0, 0, "late: 0 min, the least there can be; Ctrl-C keeps this plan");
    line_is(1, 56, 56, "crew time: 56 min, the least there can be; Ctrl-C keeps this plan");
    line_is(UINT32_MAX, 0, 0, ""); /* no plan yet */
    char little[8];
    ck_assert_uint_eq(bpi_progress_line(little, sizeof little, 1, 2, 1), 7);
    ck_assert_str_eq(little, "crew ti");
}
END_TEST

START_TEST(the_first_interrupt_ends_the_search_alone)
{
    bp_plan_options options = {.seconds = 9};
    struct sigaction act = {.sa_handler = SIG_DFL};
    sigaction(SIGINT, &act, NULL); /* the test runner's own */
    bpi_progress_begin(&options);
    ck_assert(options.tell(options.ctx, 1, 9, 3, 1000));
    ck_assert_int_eq(raise(SIGINT), 0);
    ck_assert(!options.tell(options.ctx, 1, 9, 3, 2000));
    sigaction(SIGINT, NULL, &act);
    ck_assert(act.sa_handler == SIG_DFL); /* the second one ends the program */
    ck_assert(bpi_progress_end());

    bpi_progress_begin(&options); /* anew */
    ck_assert(options.tell(options.ctx, 1, 9, 3, 3000));
    ck_assert(!bpi_progress_end());
    sigaction(SIGINT, NULL, &act);
    ck_assert(act.sa_handler == SIG_DFL);
}
END_TEST

START_TEST(an_ignored_interrupt_stays_ignored)
{
    bp_plan_options options = {.seconds = 9};
    struct sigaction ignore = {.sa_handler = SIG_IGN};
    sigaction(SIGINT, &ignore, NULL);
    bpi_progress_begin(&options);
    ck_assert_int_eq(raise(SIGINT), 0);
    ck_assert(options.tell(options.ctx, 1, 9, 3, 1000));
    ck_assert(!bpi_progress_end());
}
END_TEST

Suite *suite_cli_progress(void);
Suite *suite_cli_progress(void)
{
    Suite *s = suite_create("cli/progress");
    TCase *c = tcase_create("progress");
    tcase_add_test(c, the_line_tells_goal_bound_and_gap);
    tcase_add_test(c, the_first_interrupt_ends_the_search_alone);
    tcase_add_test(c, an_ignored_interrupt_stays_ignored);
    suite_add_tcase(s, c);
    return s;
}

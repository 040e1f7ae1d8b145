#include "out/strike.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/memory.h"
#include "support/plan_sample.h"

static plan_sample sample;
static bpi_text text;

static const char *written(void)
{
    bpi_text_release(&text);
    ck_assert_int_eq(bpi_strike_text_write(&text, &sample.plan, NULL), BP_OK);
    return text.s;
}

/* The code of line number k of an appearance, from its title on. */
static void is_line(const char *title, int k, const char *code)
{
    const char *at = strstr(written(), title);
    ck_assert_ptr_nonnull(at);
    for (int i = -1; i < k; i++) {
        at = strstr(at + 1, "\n  [ ] ");
        ck_assert_ptr_nonnull(at);
    }
    ck_assert_msg(strncmp(at + 7, code, strlen(code)) == 0, "line %d is %.40s", k, at + 7);
}

static void set_up(void)
{
    plan_sample_fill(&sample);
    for (uint32_t i = 0; i < sample.plan.containers; i++)
        sample.container[i].use_by = BP_NO_TIME;
}

static void tear_down(void)
{
    bpi_text_release(&text);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

START_TEST(what_spoils_first_stands_first)
{
    const char *title = sample.plan.air[0].title;
    int64_t end = sample.plan.air[0].hit + sample.plan.air[0].slot;
    is_line(title, 0, sample.container[0].code);
    is_line(title, 1, sample.container[1].code);
    sample.container[1].use_by = end + 7200;
    sample.container[3].use_by = end + 3600;
    sample.container[2].use_by = end + 7200;
    is_line(title, 0, sample.container[3].code);
    is_line(title, 1, sample.container[1].code);
    is_line(title, 2, sample.container[2].code);
    is_line(title, 3, sample.container[0].code);
}
END_TEST

START_TEST(the_time_is_the_plans_and_what_is_over_goes_at_once)
{
    char clock[BP_CLOCK_ROOM], want[80];
    int64_t end = sample.plan.air[0].hit + sample.plan.air[0].slot;
    for (int late = 0; late < 2; late++) {
        sample.container[0].use_by = end + !late;
        snprintf(want, sizeof want, "; thrown away by: %s%s\n",
                 bp_plan_clock(clock, &sample.plan, end + !late), late ? ", at once" : "");
        ck_assert_msg(strstr(written(), want) != NULL, "%s", want);
    }
    ck_assert_ptr_nonnull(strstr(text.s, "; thrown away by: no limit told\n"));
    ck_assert_ptr_nonnull(strstr(text.s, "A stricter local code comes first."));
    ck_assert_ptr_nonnull(strstr(text.s, sample.plan.defer));
}
END_TEST

START_TEST(who_clears_and_what_is_washed_and_what_stood_alone)
{
    for (uint32_t i = 0; i < sample.plan.ops; i++)
        if (sample.op[i].kind == BP_OP_RESET)
            sample.op[i].air = 0; /* it clears what is over */
    written();
    ck_assert_ptr_nonnull(strstr(text.s, "Cleared from 08:29 to 08:33: Inês\n"));
    ck_assert_ptr_nonnull(strstr(text.s, "; nobody is planned for it, by whom: ____"));
    ck_assert_ptr_nonnull(strstr(text.s, "           [ ] wash 1 x soup pot, 4 L\n"));
    ck_assert_ptr_nonnull(strstr(text.s, "           [ ] wash 1 x stick blender\n"));
    ck_assert_ptr_nonnull(strstr(text.s, "\n  [ ] 3 x tasting spoon, front\n"));
    ck_assert_ptr_nonnull(strstr(text.s, "\n  [ ] 1 x fire blanket\n"));
    ck_assert_ptr_null(strstr(text.s, "wash 3 x tasting spoon"));
}
END_TEST

/* Spoons of two dishes are one line, those elsewhere another. */
START_TEST(what_is_alike_stands_in_one_line)
{
    bp_stand spoon = {
        .kind = BP_GOOD_SUPPLY, .item = "spoon", .note = "", .count = 2, .station = "front"};
    bp_stand list[4] = {spoon, spoon, spoon, spoon};
    for (uint32_t i = 0; i < 4; i++)
        list[i].container = i;
    list[1].station = "stove";
    list[3].kind = BP_GOOD_TOOL; /* washed with its container */
    sample.plan.stand = list;
    sample.plan.stands = 4;
    written();
    ck_assert_ptr_nonnull(strstr(text.s, "\n  [ ] 4 x spoon, front\n  [ ] 2 x spoon, stove\n"));
    ck_assert_ptr_null(strstr(text.s, "\n  [ ] 2 x spoon, front"));
}
END_TEST

Suite *suite_out_strike(void);
Suite *suite_out_strike(void)
{
    Suite *s = suite_create("out/strike");
    TCase *c = tcase_create("strike");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, what_spoils_first_stands_first);
    tcase_add_test(c, the_time_is_the_plans_and_what_is_over_goes_at_once);
    tcase_add_test(c, what_is_alike_stands_in_one_line);
    tcase_add_test(c, who_clears_and_what_is_washed_and_what_stood_alone);
    suite_add_tcase(s, c);
    return s;
}

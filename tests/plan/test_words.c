#include "backpot/plan.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"
#include "base/zone.h"

START_TEST(every_kind_stage_and_role_has_its_own_name)
{
    const char *seen[32];
    int n = 0;
    for (int k = BP_OP_ACTIVE; k <= BP_OP_HELP; k++)
        seen[n++] = bp_op_kind_name((bp_op_kind)k);
    for (int k = BP_RAW; k <= BP_FINISHED; k++)
        seen[n++] = bp_stage_name((bp_stage)k);
    for (int k = BP_ROLE_AIR; k <= BP_ROLE_SPARE; k++)
        seen[n++] = bp_role_name((bp_role)k);
    for (int k = BP_NO; k <= BP_UNSURE; k++)
        seen[n++] = bp_truth_name((bp_truth)k);
    for (int k = BP_GOOD_FOOD; k <= BP_GOOD_SUPPLY; k++)
        seen[n++] = bp_good_kind_name((bp_good_kind)k);
    for (int i = 0; i < n; i++) {
        ck_assert(seen[i] && seen[i][0]);
        for (int j = 0; j < i; j++)
            ck_assert_str_ne(seen[i], seen[j]);
    }
    ck_assert_str_eq(bp_op_kind_name((bp_op_kind)99), "unknown");
    ck_assert_str_eq(bp_stage_name((bp_stage)-1), "unknown");
    ck_assert_str_eq(bp_role_name((bp_role)99), "unknown");
    ck_assert_str_eq(bp_truth_name((bp_truth)99), "unknown");
    ck_assert_str_eq(bp_good_kind_name((bp_good_kind)-1), "unknown");
    ck_assert_str_eq(bp_pack_for_name((bp_pack_for)99), "unknown");
    ck_assert_str_eq(bp_pack_for_name(BP_PACK_STRIKE), "strike");
    ck_assert_str_eq(bp_pack_for_name(BP_PACK_TASTING), "tasting"); /* as a kind of container is */
}
END_TEST

/* Lisbon on the day its clocks go back, 2026-10-25: 02:00 WEST becomes 01:00 WET (tzdata). */
static const struct {
    int64_t t;
    const char *text;
} moments[] = {
    {0, "00:00"},
    {-1, "Sat 23:59:59"},
    {3600, "01:00 (UTC+01:00)"},
    {7200, "01:00 (UTC+00:00)"},
    {10800, "02:00"},
    {25 * 3600, "Mon 00:00"},
};

START_TEST(moments_are_put_on_the_wall_clock_of_the_plan)
{
    bp_plan plan = {
        .zone = "Europe/Lisbon", .year = 2026, .month = 10, .day = 25, .midnight = 1792882800};
    char out[BP_CLOCK_ROOM];
    for (size_t i = 0; i < sizeof moments / sizeof *moments; i++)
        ck_assert_str_eq(bp_plan_clock(out, &plan, moments[i].t), moments[i].text);
    plan.zone = "Nowhere/Land";
    ck_assert_str_eq(bp_plan_clock(out, &plan, 0), "??:??");
    bpi_zone_release_all();
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(lengths_of_any_size_fit)
{
    char out[BP_CLOCK_ROOM];
    ck_assert_str_eq(bp_length_text(out, 40), "40 s");
    ck_assert_str_eq(bp_length_text(out, 4200), "1 h 10 min");
    ck_assert_str_eq(bp_length_text(out, INT64_MIN), "-2562047788015215 h 30 min 8 s");
    ck_assert_uint_lt(strlen(out), BP_CLOCK_ROOM);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

Suite *suite_plan_words(void);
Suite *suite_plan_words(void)
{
    Suite *s = suite_create("plan/words");
    TCase *c = tcase_create("words");
    tcase_add_test(c, every_kind_stage_and_role_has_its_own_name);
    tcase_add_test(c, moments_are_put_on_the_wall_clock_of_the_plan);
    tcase_add_test(c, lengths_of_any_size_fit);
    suite_add_tcase(s, c);
    return s;
}

/* chance.pdf: made for any plan, whole, and the same each time. */
#include "out/chance.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"
#include "support/plan_sample.h"

static plan_sample sample;
static bp_errors errs;

static void write_once(bpi_text *t, bool letter)
{
    *t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_chance_write(t, &sample.plan, letter, &errs), BP_OK);
    ck_assert_uint_gt(t->len, 1000);
    ck_assert_mem_eq(t->s, "%PDF-", 5);
}

START_TEST(a_plan_with_a_chance_and_one_without_make_a_page)
{
    bpi_text one, two, without;
    plan_sample_fill_planned(&sample);
    write_once(&one, false);
    write_once(&two, false);
    ck_assert_uint_eq(one.len, two.len);
    ck_assert_mem_eq(one.s, two.s, one.len);
    sample.plan.chance = NULL;
    write_once(&without, true);
    ck_assert_uint_lt(without.len, one.len);
    bpi_text_release(&one);
    bpi_text_release(&two);
    bpi_text_release(&without);
}
END_TEST

/* Every day at the very end of what bins can tell, or on one side only. */
START_TEST(any_days_can_be_drawn)
{
    static uint32_t bins[BP_CHANCE_BINS];
    static bp_chance chance;
    static const uint32_t places[][2] = {{0, 0}, {511, 511}, {0, 511}, {256, 256}, {257, 300}};
    bpi_text t;
    plan_sample_fill_planned(&sample);
    memset(bins, 0, sizeof bins);
    bins[places[_i][0]] = 1;
    bins[places[_i][1]] += 1999;
    chance = *sample.plan.chance;
    chance.bin = bins;
    sample.plan.chance = &chance;
    write_once(&t, false);
    bpi_text_release(&t);
}
END_TEST

START_TEST(every_request_fails_once)
{
    plan_sample_fill_planned(&sample);
    bool fired = true;
    for (long k = 0; fired; k++) {
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_mem_fail_at(k, 0);
        bp_code rc = bpi_chance_write(&t, &sample.plan, false, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert(!fired || t.len == 0);
        bpi_text_release(&t);
    }
}
END_TEST

Suite *suite_out_chance(void);
Suite *suite_out_chance(void)
{
    Suite *s = suite_create("out/chance");
    TCase *c = tcase_create("all");
    tcase_add_test(c, a_plan_with_a_chance_and_one_without_make_a_page);
    tcase_add_loop_test(c, any_days_can_be_drawn, 0, 5);
    tcase_add_test(c, every_request_fails_once);
    suite_add_tcase(s, c);
    return s;
}

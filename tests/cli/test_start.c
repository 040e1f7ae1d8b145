/* Where a rehearsal begins, by the plan of tests/support/plan_sample. */
#include "cli/start.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

#include "support/plan_sample.h"

static plan_sample sample;
static const bp_plan *plan = &sample.plan;
static bp_errors errs;
static bpi_start start;

static void set_up(void)
{
    plan_sample_fill_planned(&sample);
    memset(&errs, 0, sizeof errs);
}

static const bp_beat *beat_of(uint32_t air, uint32_t i)
{
    return &plan->beat[plan->air[air].beats.first + i];
}

START_TEST(in_the_kitchen_it_begins_with_an_operation)
{
    char clock[BP_CLOCK_ROOM];
    const bp_op *op = &plan->op[plan->ops / 2];
    ck_assert_int_eq(bpi_start_moment(&start, plan, NULL, &errs), BP_OK);
    ck_assert_int_eq(start.at, plan->op[0].from - 10);
    ck_assert_int_eq(bpi_start_moment(&start, plan, bp_plan_clock(clock, plan, op->from), &errs),
                     BP_OK);
    ck_assert_int_eq(start.at, op->from);
    ck_assert_uint_eq(errs.n, 0);
    ck_assert_int_eq(bpi_start_moment(&start, plan, "25:00", &errs), BP_EVALUE);
    ck_assert_str_eq(errs.item[0].wrong, "nothing begins at \"25:00\"");
}
END_TEST

START_TEST(on_the_floor_it_begins_before_a_hit_or_at_a_beat)
{
    ck_assert_uint_eq(plan->airs, 2);
    ck_assert_int_eq(bpi_start_beat(&start, plan, NULL, NULL, &errs), BP_OK);
    ck_assert_uint_eq(start.air, 0);
    ck_assert_int_eq(bpi_start_at(plan, &start), plan->air[0].hit - 10);
    ck_assert_int_eq(bpi_start_beat(&start, plan, plan->air[1].id, NULL, &errs), BP_OK);
    ck_assert_uint_eq(start.air, 1);
    ck_assert_uint_eq(start.beat, BP_NO_INDEX);
    ck_assert_int_eq(bpi_start_at(plan, &start), plan->air[1].hit - 10);
    ck_assert_int_eq(bpi_start_beat(&start, plan, plan->air[1].id, beat_of(1, 1)->id, &errs),
                     BP_OK);
    ck_assert_uint_eq(start.air, 1);
    ck_assert_uint_eq(start.beat, 1);
    ck_assert_int_eq(bpi_start_at(plan, &start), beat_of(1, 1)->from);
    ck_assert_uint_eq(errs.n, 0);
}
END_TEST

START_TEST(what_is_not_on_air_is_no_beginning)
{
    char want[120];
    bp_beat *b = (bp_beat *)beat_of(0, 2);
    ck_assert_int_eq(bpi_start_beat(&start, plan, "evening", NULL, &errs), BP_EVALUE);
    ck_assert_str_eq(errs.item[0].wrong, "the show has no appearance \"evening\"");
    ck_assert_int_eq(bpi_start_beat(&start, plan, NULL, "nothing", &errs), BP_EVALUE);
    snprintf(want, sizeof want, "%s has no beat \"nothing\"", plan->air[0].id);
    ck_assert_str_eq(errs.item[1].wrong, want);
    b->dropped = true;
    ck_assert_int_eq(bpi_start_beat(&start, plan, NULL, b->id, &errs), BP_EVALUE);
    snprintf(want, sizeof want, "the beat \"%s\" was dropped to fit the slot", b->id);
    ck_assert_str_eq(errs.item[2].wrong, want);
}
END_TEST

/* What was before it went as planned: the first slot is off air, of the second the beats up to the one
 * asked for have begun, without the one that was dropped. */
START_TEST(all_before_went_as_planned)
{
    static bpi_watch watch;
    bp_floor_view v;
    uint64_t before = 0;
    ck_assert_uint_ge(plan->air[1].beats.n, 4);
    ((bp_beat *)beat_of(1, 1))->dropped = true;
    for (uint32_t i = 0; i < 3; i++)
        before |= beat_of(1, i)->dropped ? 0 : UINT64_C(1) << i;
    start = (bpi_start){.air = 1, .beat = 3};
    ((bp_beat *)beat_of(1, 3))->dropped = false;
    ck_assert_int_eq(bpi_watch_init(&watch, plan, NULL, &errs), BP_OK);
    bpi_start_run_up(&watch, &start);
    int64_t at = bpi_start_at(plan, &start);
    ck_assert_int_eq(bp_floor_look(&v, bpi_watch_floor(&watch), at, &errs), BP_OK);
    ck_assert_uint_eq(v.air, 1);
    ck_assert_int_eq(v.phase, BP_FLOOR_ON);
    ck_assert_uint_eq(v.beat, 3);
    ck_assert_uint_eq(v.done, before);
    bpi_watch_release(&watch);

    ck_assert_int_eq(bpi_watch_init(&watch, plan, NULL, &errs), BP_OK);
    start.beat = BP_NO_INDEX; /* before the second hit: the first is over, the second not begun */
    bpi_start_run_up(&watch, &start);
    at = bpi_start_at(plan, &start);
    ck_assert_int_eq(bp_floor_look(&v, bpi_watch_floor(&watch), at, &errs), BP_OK);
    ck_assert_uint_eq(v.air, 1);
    ck_assert_int_eq(v.phase, BP_FLOOR_BEFORE);
    bpi_watch_release(&watch);
}
END_TEST

Suite *suite_cli_start(void);
Suite *suite_cli_start(void)
{
    Suite *s = suite_create("cli/start");
    TCase *t = tcase_create("start");
    tcase_add_checked_fixture(t, set_up, NULL);
    tcase_add_test(t, in_the_kitchen_it_begins_with_an_operation);
    tcase_add_test(t, on_the_floor_it_begins_before_a_hit_or_at_a_beat);
    tcase_add_test(t, what_is_not_on_air_is_no_beginning);
    tcase_add_test(t, all_before_went_as_planned);
    suite_add_tcase(s, t);
    return s;
}

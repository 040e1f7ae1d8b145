/* The parts of mending a day, each refused its memory: they say so, and keep nothing. */
#include <check.h>
#include <string.h>

#include "backpot/kitchen.h"
#include "backpot/show.h"
#include "base/memory.h"
#include "day/actual.h"
#include "day/bind.h"
#include "plan/fill.h"

#define SHOW "tests/plan/terrine.json"

static bp_errors errs;
static bp_show *show;
static bpi_arena *whole; /* what lasts through all tries */
static bpi_prep *before, *anew;
static bpi_schedule *schedule;
static bpi_fill filled;
static bp_kitchen *kitchen;

static void set_up(void)
{
    bpi_live *live = NULL;
    bp_eng_limits limits = {0};
    errs = (bp_errors){0};
    ck_assert_int_eq(bp_show_open(&show, SHOW, &errs), BP_OK);
    whole = bpi_arena_new();
    ck_assert_ptr_nonnull(whole);
    ck_assert_int_eq(bpi_live_make(&live, whole, show, &errs), BP_OK);
    ck_assert_int_eq(bpi_prep_make(&before, whole, show, live, NULL, &errs), BP_OK);
    ck_assert_int_eq(bpi_prep_make(&anew, whole, show, live, NULL, &errs), BP_OK);
    ck_assert_int_eq(bpi_solve(&schedule, whole, before, &limits, &errs), BP_OK);
    ck_assert_ptr_nonnull(schedule->start);
    filled = (bpi_fill){.a = whole, .show = show, .written = show, .live = live};
    filled.prep = schedule->prep;
    filled.schedule = schedule;
    filled.plan = BPI_TAKE(whole, 1, bp_plan);
    ck_assert_ptr_nonnull(filled.plan);
    ck_assert_int_eq(bpi_fill_all(&filled, false, false, &errs), BP_OK);
    ck_assert_int_eq(bp_kitchen_new(&kitchen, filled.plan, &errs), BP_OK);
}

static void tear_down(void)
{
    bp_kitchen_free(kitchen);
    bpi_arena_free(whole);
    bp_show_free(show);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

/* As day/mend does it, in an arena of its own. */
static bp_code mend(bpi_arena *a, bpi_prep *p)
{
    bpi_day day;
    bpi_match match = {0};
    const int32_t *hint = NULL;
    bp_code rc = bpi_day_init(&day, a, before, schedule, &errs);
    if (rc != BP_OK)
        return rc;
    day.ticked = true;
    day.now = 200; /* min: in the middle of the morning */
    rc = bpi_actual_take(&day, kitchen, filled.op_of, &errs);
    if (rc == BP_OK)
        rc = bpi_match_make(&match, p, &day, &errs);
    if (rc == BP_OK)
        rc = bpi_bind(p, &day, &match, false, &hint, &errs);
    if (rc == BP_OK && !bpi_match_names(&match, p, &day, day.schedule))
        rc = BP_ENOMEM; /* it says nothing itself */
    return rc;
}

/* Of a build with a block for each request every one is refused in turn. */
START_TEST(each_request_refused_is_told)
{
    bool fired = true;
    long k = 0;
    for (; fired; k++) {
        bpi_prep p = *anew; /* its problem gets more rows */
        bpi_arena *a = bpi_arena_new();
        ck_assert_ptr_nonnull(a);
        errs = (bp_errors){0};
        bpi_mem_fail_at(k, 0);
        bp_code rc = mend(a, &p);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert_uint_le(errs.n, fired);
        bpi_arena_free(a);
    }
    ck_assert_int_gt(k, 1);
}
END_TEST

Suite *suite_day_refused(void);
Suite *suite_day_refused(void)
{
    Suite *s = suite_create("day/refused");
    TCase *c = tcase_create("refused");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, each_request_refused_is_told);
    suite_add_tcase(s, c);
    return s;
}

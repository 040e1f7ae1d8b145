#include "backpot/draft.h"

#include <check.h>
#include <string.h>

#include "backpot/output.h"
#include "base/each.h"
#include "base/memory.h"
#include "model/show.h"

static bp_errors errs;
static const bp_plan_options quick = {.work = 2000000, .no_fixes = true, .days = 1};

static bp_show *open_show(const char *file)
{
    bp_show *show = NULL;
    memset(&errs, 0, sizeof errs);
    ck_assert_int_eq(bp_show_open(&show, file, &errs), BP_OK);
    return show;
}

START_TEST(each_draft_is_planned_and_costs_what_its_plan_costs)
{
    bp_show *show = open_show("shows/cottage-remote.json");
    bp_drafts *all = NULL;
    ck_assert_int_eq(bp_drafts_make(&all, show, 4, &quick, &errs), BP_OK);
    ck_assert_uint_eq(all->drafts, 4);
    for (uint32_t i = 0; i < all->drafts; i++) {
        const bp_draft *d = &all->draft[i];
        ck_assert_str_eq(d->segment, "remote");
        ck_assert_uint_eq(d->number, i + 1);
        ck_assert_int_eq(d->plan->verdict, BP_PLANNED);
        ck_assert_uint_eq(d->swap_outs, d->plan->containers); /* nobody teases, one appearance */
        int32_t worth = 0;
        for (uint32_t k = 0; k < d->plan->beats; k++)
            worth += d->plan->beat[k].worth;
        ck_assert_int_eq(d->worth, worth);
        ck_assert(d->plan->air[0].drafted);
        ck_assert(i == 0 || d->worth <= d[-1].worth);
    }
    char *text = NULL;
    size_t len = 0;
    ck_assert_int_eq(bp_drafts_write(&text, &len, all, &errs), BP_OK);
    ck_assert_ptr_nonnull(
        strstr(text, "draft 2  worth 400; 5 swap-outs, 1 burner on the set; crew"));
    ck_assert_ptr_nonnull(strstr(text, "to cook: A1 after: prep; A2 after: simmer; A3 finished;"));
    ck_assert_uint_eq(strlen(text), len);
    bp_free(text);
    bp_drafts_free(all);
    bp_show_free(show);
}
END_TEST

START_TEST(written_beats_are_not_drafted)
{
    bp_show *show = open_show("shows/harbour-breakfast.json");
    bp_drafts *all = NULL;
    char *text = NULL;
    size_t len = 0;
    ck_assert_int_eq(bp_drafts_make(&all, show, 1, &quick, &errs), BP_OK);
    ck_assert_uint_eq(all->drafts, 0);
    ck_assert_int_eq(bp_drafts_write(&text, &len, all, &errs), BP_OK);
    ck_assert_str_eq(text, "Every segment has its beats written: nothing is drafted.\n");
    bp_free(text);
    bp_drafts_free(all);
    bp_drafts_free(NULL);
    bp_show_free(show);
}
END_TEST

START_TEST(a_draft_that_the_kitchen_cannot_make_is_told_as_such)
{
    bp_show *show = open_show("shows/cottage-remote.json");
    bpi_cook *cook = (bpi_cook *)show->kitchen.cook; /* lent as const: a test may write to it */
    bpi_shift *shift = (bpi_shift *)cook->shift;
    shift->call = shift->wrap - 600;
    bp_drafts *all = NULL;
    char *text = NULL;
    size_t len = 0;
    ck_assert_int_eq(bp_drafts_make(&all, show, 1, &quick, &errs), BP_OK);
    ck_assert_uint_eq(all->drafts, 1);
    ck_assert(!all->draft[0].plan || all->draft[0].plan->verdict != BP_PLANNED);
    ck_assert_int_eq(bp_drafts_write(&text, &len, all, &errs), BP_OK);
    ck_assert(strstr(text, "the kitchen cannot make it") || strstr(text, "may be used"));
    bp_free(text);
    bp_drafts_free(all);
    bp_show_free(show);
}
END_TEST

START_TEST(a_segment_without_a_draft_is_an_error_at_its_limits)
{
    bp_show *show = open_show("shows/cottage-remote.json");
    bpi_segment *g = (bpi_segment *)show->segment;
    bp_drafts *all = NULL;
    g->draft.stated = true;
    g->draft.swaps = 1;
    ck_assert_int_eq(bp_drafts_make(&all, show, 1, &quick, &errs), BP_ENOFIT);
    ck_assert_ptr_null(all);
    ck_assert_str_eq(errs.item[0].wrong,
                     "segment remote has no draft that fills its slot within its limits");
    g->draft.stated = false;
    g->draft.swaps = UINT32_MAX;
    g->slot = 20;
    ck_assert_int_eq(bp_drafts_make(&all, show, 1, &quick, &errs), BP_ENOFIT);
    bp_show_free(show);
}
END_TEST

static char *drafts_said(const bp_show *show, uint32_t threads, uint64_t *work)
{
    bp_plan_options options = quick;
    bp_drafts *all = NULL;
    char *text = NULL;
    size_t len = 0;
    options.threads = threads;
    ck_assert_int_eq(bp_drafts_make(&all, show, 4, &options, &errs), BP_OK);
    ck_assert_uint_eq(all->drafts, 4);
    *work = 0;
    for (uint32_t i = 0; i < all->drafts; i++)
        *work += all->draft[i].plan->work * (i + 1);
    ck_assert_int_eq(bp_drafts_write(&text, &len, all, &errs), BP_OK);
    bp_drafts_free(all);
    return text;
}

static bool go_on(void *ctx, uint32_t goal, int64_t value, int64_t bound, uint64_t work)
{
    (void)goal, (void)value, (void)bound, (void)work;
    return ++*(uint32_t *)ctx > 0;
}

START_TEST(threads_change_no_draft)
{
    bp_show *show = open_show("shows/cottage-remote.json");
    uint64_t work = 0, other = 0;
    char *alone = drafts_said(show, 1, &work);
    bpi_each_begun();
    static const uint32_t threads[] = {2, 3, 9};
    for (size_t t = 0; t < sizeof threads / sizeof *threads; t++) {
        char *text = drafts_said(show, threads[t], &other);
        ck_assert_uint_ge(bpi_each_begun(), threads[t] > 4 ? 3 : threads[t] - 1);
        ck_assert_str_eq(text, alone);
        ck_assert_uint_eq(other, work);
        bp_free(text);
    }
    bpi_each_refuse(1);
    char *refused = drafts_said(show, 2, &other);
    bpi_each_refuse(0);
    ck_assert_str_eq(refused, alone);
    bp_free(refused);
    bp_free(alone);
    /* Who is told of the search is told by the thread that asked. */
    bp_drafts *all = NULL;
    bp_plan_options options = quick;
    uint32_t told = 0;
    options.threads = 4;
    options.tell = go_on;
    options.ctx = &told;
    bpi_each_begun();
    ck_assert_int_eq(bp_drafts_make(&all, show, 2, &options, &errs), BP_OK);
    ck_assert_uint_eq(bpi_each_begun(), 0);
    ck_assert_uint_gt(told, 0);
    bp_drafts_free(all);
    bp_show_free(show);
}
END_TEST

/* More days than can be played, and times that luck may change: each plan fails, in whichever thread. */
START_TEST(a_plan_that_fails_in_another_thread_is_told_once)
{
    bp_show *show = open_show("shows/cottage-remote.json");
    long alive = bpi_mem_alive();
    bp_errors alone;
    for (uint32_t r = 0; r < show->recipes; r++)
        for (uint32_t i = 0; i < show->recipe[r].steps; i++) {
            bpi_step *step = (bpi_step *)&show->recipe[r].step[i]; /* lent as const */
            step->time.uncertain = true;
            step->time.least = step->time.likely;
            step->time.most = step->time.likely + 60;
        }
    for (uint32_t threads = 1; threads < 4; threads++) {
        bp_drafts *all = NULL;
        bp_plan_options options = quick;
        options.days = 2000000000;
        options.threads = threads;
        memset(&errs, 0, sizeof errs);
        ck_assert_int_eq(bp_drafts_make(&all, show, 4, &options, &errs), BP_EINTERNAL);
        ck_assert_ptr_null(all);
        ck_assert_uint_eq(errs.n, 1);
        if (threads == 1)
            alone = errs;
        ck_assert_str_eq(errs.item[0].wrong, alone.item[0].wrong);
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
    bp_show_free(show);
}
END_TEST

/* A plan is thousands of requests: all of the first, then some of each part. */
START_TEST(requests_that_fail_leave_nothing_behind)
{
    bp_show *show = open_show("shows/cottage-remote.json");
    long alive = bpi_mem_alive();
    bool fired = true;
    for (long k = 0; fired; k += k < 40 ? 1 : 1 + k / 4) {
        bp_drafts *all = NULL;
        memset(&errs, 0, sizeof errs);
        bpi_mem_fail_at(k, 1);
        bp_code rc = bp_drafts_make(&all, show, 1, &quick, &errs);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        bp_drafts_free(all);
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
    bp_drafts *all = NULL;
    ck_assert_int_eq(bp_drafts_make(&all, show, 1, &quick, &errs), BP_OK);
    alive = bpi_mem_alive();
    fired = true;
    for (long k = 0; fired; k++) {
        char *text = NULL;
        size_t len = 0;
        bpi_mem_fail_at(k, 0);
        bp_code rc = bp_drafts_write(&text, &len, all, &errs);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        bp_free(text);
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
    bp_drafts_free(all);
    bp_show_free(show);
}
END_TEST

Suite *suite_plan_drafts(void);
Suite *suite_plan_drafts(void)
{
    Suite *s = suite_create("plan/drafts");
    TCase *c = tcase_create("drafts");
    tcase_add_test(c, each_draft_is_planned_and_costs_what_its_plan_costs);
    tcase_add_test(c, written_beats_are_not_drafted);
    tcase_add_test(c, a_draft_that_the_kitchen_cannot_make_is_told_as_such);
    tcase_add_test(c, a_segment_without_a_draft_is_an_error_at_its_limits);
    tcase_add_test(c, threads_change_no_draft);
    tcase_add_test(c, a_plan_that_fails_in_another_thread_is_told_once);
    tcase_add_test(c, requests_that_fail_leave_nothing_behind);
    suite_add_tcase(s, c);
    return s;
}

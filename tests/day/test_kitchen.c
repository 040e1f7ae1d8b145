/* The kitchen on the day: ticks in, tasks and a forecast out, on a shipped show's plan. */
#include "backpot/kitchen.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/show.h"
#include "base/memory.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;
static bp_kitchen *kitchen;
static bp_kitchen_view view;

static void make_plan(void)
{
    bp_plan_options options = {.work = 4000000}; /* enough for a plan, not for the best one */
    errs = (bp_errors){0};
    ck_assert(bp_show_open(&show, "shows/harbour-breakfast.json", &errs) == BP_OK);
    ck_assert(bp_plan_make(&plan, show, &options, &errs) == BP_OK);
}

static void free_plan(void)
{
    bp_plan_free(plan);
    bp_show_free(show);
}

static void set_up(void)
{
    errs = (bp_errors){0};
    ck_assert_int_eq(bp_kitchen_new(&kitchen, plan, &errs), BP_OK);
}

static void tear_down(void)
{
    bp_kitchen_free(kitchen);
}

static bp_code happen(bp_event_kind kind, const char *op, int64_t at)
{
    bp_event e = {.kind = kind, .at = at, .air = "", .beat = "", .op = op, .text = ""};
    return bp_kitchen_apply(kitchen, &e, &errs);
}

/* Operations by start; the first, or the last, of a kind. */
static uint32_t first_of(bp_op_kind kind)
{
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].kind == kind)
            return o;
    ck_abort_msg("none of this kind");
    return 0;
}

static uint32_t with_key(const char *head, const char *tail)
{
    for (uint32_t o = 0; o < plan->ops; o++) {
        size_t n = strlen(head);
        if (strncmp(plan->op[o].key, head, n) == 0 && strcmp(plan->op[o].key + n, tail) == 0)
            return o;
    }
    ck_abort_msg("no %s%s", head, tail);
    return 0;
}

/* All of it as planned, until `now`. */
static void as_planned(int64_t now)
{
    for (uint32_t o = 0; o < plan->ops; o++) {
        if (!bp_op_is_ticked(plan->op[o].kind) || plan->op[o].from >= now)
            continue;
        ck_assert_int_eq(happen(BP_DAY_START, plan->op[o].key, plan->op[o].from), BP_OK);
        if (plan->op[o].to <= now)
            ck_assert_int_eq(happen(BP_DAY_DONE, plan->op[o].key, plan->op[o].to), BP_OK);
    }
}

START_TEST(before_it_begins_the_forecast_is_the_plan)
{
    bp_kitchen_look(&view, kitchen, plan->op[0].from - 600);
    for (uint32_t o = 0; o < plan->ops; o++) {
        const bp_op *op = &plan->op[o];
        ck_assert_int_eq(view.task[o].state, BP_TASK_TO_COME);
        ck_assert_int_eq(view.task[o].from, op->from);
        if (op->kind != BP_OP_WAIT && op->kind != BP_OP_SET)
            ck_assert_int_eq(view.task[o].to, op->to);
        bool cooks = op->kind == BP_OP_PASSIVE || op->kind == BP_OP_OVEN;
        ck_assert_int_eq(view.task[o].off_least, cooks ? op->off_least : BP_NO_TIME);
        ck_assert_int_eq(view.task[o].off_most, cooks ? op->off_most : BP_NO_TIME);
    }
    for (uint32_t c = 0; c < plan->containers; c++)
        ck_assert_int_eq(view.on_set[c], plan->container[c].on_set);
    ck_assert_uint_eq(view.last, BP_NO_INDEX);
}
END_TEST

/* At any moment of a day that goes as planned, all is expected as planned. */
START_TEST(as_planned_nothing_is_late)
{
    int64_t first = plan->op[0].from, last = first;
    for (uint32_t o = 0; o < plan->ops; o++)
        last = plan->op[o].to > last ? plan->op[o].to : last;
    last += 59;
    for (int64_t now = first; now <= last; now += 60) {
        as_planned(now);
        bp_kitchen_look(&view, kitchen, now);
        for (uint32_t o = 0; o < plan->ops; o++) {
            bp_task_state want = plan->op[o].to <= now    ? BP_TASK_DONE
                                 : plan->op[o].from < now ? BP_TASK_UNDER_WAY
                                                          : BP_TASK_TO_COME;
            if (bp_op_is_ticked(plan->op[o].kind))
                ck_assert_msg(view.task[o].state == want && view.task[o].to == plan->op[o].to, "%s",
                              plan->op[o].key);
        }
        for (uint32_t c = 0; c < plan->containers; c++)
            ck_assert_int_eq(view.on_set[c], plan->container[c].on_set);
        for (uint32_t i = 0; i < plan->persons; i++)
            if (view.at[i] != BP_NO_INDEX)
                ck_assert(view.task[view.at[i]].state != BP_TASK_DONE);
    }
    for (uint32_t i = 0; i < plan->persons; i++)
        ck_assert_uint_eq(view.at[i], BP_NO_INDEX);
}
END_TEST

/* Put on three minutes late, it comes off so much later, in a window that has moved with it. */
START_TEST(a_window_moves_with_what_is_put_on)
{
    uint32_t oven = first_of(BP_OP_OVEN);
    uint32_t load = with_key(plan->op[oven].key, "/load");
    uint32_t off = with_key(plan->op[oven].key, "/take-off");
    const bp_op *op = &plan->op[oven];
    as_planned(plan->op[load].from);
    happen(BP_DAY_START, plan->op[load].key, op->from + 120);
    happen(BP_DAY_DONE, plan->op[load].key, op->from + 180);
    bp_kitchen_look(&view, kitchen, op->from + 240);
    ck_assert_int_eq(view.task[oven].state, BP_TASK_UNDER_WAY);
    ck_assert_int_eq(view.task[oven].from, op->from + 180);
    ck_assert_int_eq(view.task[oven].off_least, op->off_least + 180);
    ck_assert_int_eq(view.task[oven].off_most, op->off_most + 180);
    ck_assert_int_ge(view.task[off].from, op->off_least + 180);
    bp_kitchen_look(&view, kitchen, op->off_most + 300); /* nobody has come */
    ck_assert_int_eq(view.task[oven].to, op->off_most + 300);
    happen(BP_DAY_START, plan->op[off].key, op->off_most + 310);
    bp_kitchen_look(&view, kitchen, op->off_most + 320);
    ck_assert_int_eq(view.task[oven].state, BP_TASK_DONE);
    ck_assert_int_eq(view.task[oven].done, op->off_most + 310);
}
END_TEST

/* What comes after for the same cook or container is expected later, and no earlier. */
START_TEST(what_is_late_delays_what_hangs_on_it)
{
    const bp_op *first = &plan->op[0];
    happen(BP_DAY_START, first->key, first->from + 1200);
    bp_kitchen_look(&view, kitchen, first->from + 1230);
    ck_assert_uint_eq(view.at[first->person], 0);
    ck_assert_int_eq(view.task[0].to, first->to + 1200);
    uint32_t next = bp_kitchen_after(kitchen, &view, 0);
    ck_assert_uint_ne(next, BP_NO_INDEX);
    ck_assert_int_ge(view.task[next].from, first->to + 1200);
    uint32_t late = 0;
    for (uint32_t c = 0; c < plan->containers; c++) {
        ck_assert_int_ge(view.on_set[c], plan->container[c].on_set);
        late += view.on_set[c] > plan->container[c].set_by;
    }
    ck_assert_uint_gt(late, 0);
}
END_TEST

START_TEST(the_last_tick_is_taken_back)
{
    const bp_op *op = &plan->op[0];
    bp_kitchen_look(&view, kitchen, op->from);
    uint32_t second = bp_kitchen_after(kitchen, &view, 0);
    happen(BP_DAY_START, op->key, op->from);
    happen(BP_DAY_DONE, op->key, op->to);
    happen(BP_DAY_START, plan->op[second].key, op->to);
    bp_kitchen_look(&view, kitchen, op->to);
    ck_assert_uint_eq(view.last, second);
    happen(BP_DAY_UNDO, plan->op[second].key, op->to);
    bp_kitchen_look(&view, kitchen, op->to);
    ck_assert_uint_eq(view.last, 0);
    ck_assert_int_eq(view.task[second].state, BP_TASK_TO_COME);
    happen(BP_DAY_UNDO, op->key, op->to);
    bp_kitchen_look(&view, kitchen, op->to);
    ck_assert_int_eq(view.task[0].state, BP_TASK_UNDER_WAY); /* it had begun all the same */
    ck_assert_int_eq(view.task[0].started, op->from);
    happen(BP_DAY_UNDO, op->key, op->to);
    bp_kitchen_look(&view, kitchen, op->to);
    ck_assert_uint_eq(view.last, BP_NO_INDEX);
    ck_assert_int_eq(view.task[0].state, BP_TASK_TO_COME);
    happen(BP_DAY_DONE, op->key, op->to); /* only its end was ticked */
    happen(BP_DAY_DONE, op->key, op->to + 60);
    bp_kitchen_look(&view, kitchen, op->to + 60);
    ck_assert_int_eq(view.task[0].done, op->to);
    ck_assert_int_eq(view.task[0].from, op->from);
}
END_TEST

/* Taken off by a tick, and nobody ticked that it was put on: it was, in time to be done, however late
 * the clock asks. */
START_TEST(what_was_taken_off_had_been_put_on)
{
    uint32_t off = first_of(BP_OP_TAKE_OFF);
    const char *key = plan->op[off].key;
    int n = (int)(strrchr(key, '/') - key);
    char head[128];
    snprintf(head, sizeof head, "%.*s", n, key);
    uint32_t cooks = with_key(head, "");
    const bp_op *op = &plan->op[cooks];
    int64_t least = (op->off_least != BP_NO_TIME ? op->off_least : op->to) - op->from,
            early = _i == 0 ? 0 : 120;
    ck_assert_int_gt(least, early);
    int64_t at = op->from + least - early;
    ck_assert_int_eq(happen(BP_DAY_DONE, key, at), BP_OK);
    bp_kitchen_look(&view, kitchen, at + 36000);
    ck_assert_int_eq(view.task[cooks].state, BP_TASK_DONE);
    ck_assert_int_eq(view.task[cooks].to, at);
    ck_assert_int_eq(view.task[cooks].from, op->from - early);
}
END_TEST

START_TEST(what_nobody_does_is_not_ticked)
{
    ck_assert_int_eq(happen(BP_DAY_START, "main/none", 0), BP_EVALUE);
    ck_assert(strstr(errs.item[0].wrong, "no operation \"main/none\"") != NULL);
    errs = (bp_errors){0};
    ck_assert_int_eq(happen(BP_DAY_DONE, plan->op[first_of(BP_OP_OVEN)].key, 0), BP_EVALUE);
    ck_assert(strstr(errs.item[0].wrong, "nobody does") != NULL);
    bp_event hold = {.kind = BP_DAY_HOLD, .air = "main", .beat = "", .op = "", .text = ""};
    ck_assert_int_eq(bp_kitchen_can(kitchen, &hold, &errs), BP_OK); /* the floor's */
    bp_event events[] = {
        {.kind = BP_DAY_OPEN, .air = "", .beat = "", .op = "", .text = "", .line = 2},
        {.kind = BP_DAY_START, .air = "", .beat = "", .op = plan->op[0].key, .text = "", .line = 3},
        {.kind = BP_DAY_DONE, .air = "", .beat = "", .op = "gone", .text = "", .line = 4}};
    bp_log log = {.file = "day.log", .event = events, .events = 3};
    errs = (bp_errors){0};
    ck_assert_int_eq(bp_kitchen_follow(kitchen, &log, &errs), BP_EVALUE);
    ck_assert_uint_eq(errs.item[0].line, 4);
    bp_kitchen_look(&view, kitchen, 60);
    ck_assert_int_eq(view.task[0].state, BP_TASK_UNDER_WAY);
}
END_TEST

/* A mended plan has what was ticked before its mishap; what came after it is ticked in it. */
START_TEST(a_mended_plan_goes_on_after_its_mishap)
{
    bp_plan mended = *plan;
    const bp_op *a = &plan->op[first_of(BP_OP_ACTIVE)], *b = a;
    while (!bp_op_is_ticked(b->kind) || b->from <= a->to)
        b++;
    mended.mended = true;
    mended.mended_at = a->to;
    mended.mishaps = 1;
    bp_event event[] = {{.kind = BP_DAY_START, .at = a->from + 7, .op = a->key},
                        {.kind = BP_DAY_MISHAP, .at = a->to, .op = "", .text = "behind"},
                        {.kind = BP_DAY_START, .at = a->to + 9, .op = "of the plan before"},
                        {.kind = BP_DAY_START, .at = b->from + 11, .op = b->key},
                        {.kind = BP_DAY_MISHAP, .at = b->to, .op = "", .text = "behind"}};
    bp_log log = {.file = "t.log", .event = event, .events = 4};
    bp_kitchen_free(kitchen);
    ck_assert_int_eq(bp_kitchen_new(&kitchen, &mended, &errs), BP_OK);
    ck_assert_int_eq(bp_kitchen_follow(kitchen, &log, &errs), BP_OK);
    bp_kitchen_look(&view, kitchen, b->from + 12);
    ck_assert_int_eq(view.task[a - plan->op].started, a->from); /* as the plan has it */
    ck_assert_int_eq(view.task[a - plan->op].done, a->to);
    ck_assert_int_eq(view.task[b - plan->op].started, b->from + 11);
    ck_assert(!bp_kitchen_is_behind(kitchen));
    log.events = 5;
    ck_assert_int_eq(bp_kitchen_follow(kitchen, &log, &errs), BP_OK);
    ck_assert(bp_kitchen_is_behind(kitchen));
}
END_TEST

/* A mould that two turn out: whoever is late, they begin together. */
START_TEST(who_helps_begins_with_what_they_help_with)
{
    bp_show *two = NULL;
    bp_plan *pair = NULL, *harbour = plan;
    ck_assert_int_eq(bp_show_open(&two, "tests/plan/terrine.json", &errs), BP_OK);
    ck_assert_int_eq(bp_plan_make(&pair, two, NULL, &errs), BP_OK);
    bp_kitchen_free(kitchen);
    ck_assert_int_eq(bp_kitchen_new(&kitchen, pair, &errs), BP_OK);
    plan = pair;
    uint32_t help = first_of(BP_OP_HELP), with = 0;
    while (pair->op[with].kind != BP_OP_ACTIVE || pair->op[with].from != pair->op[help].from)
        with++;
    for (int64_t late = -120; late <= 300; late += 60) {
        bp_kitchen_look(&view, kitchen, pair->op[help].from + late);
        ck_assert_int_eq(view.task[help].from, view.task[with].from);
        ck_assert_int_ge(view.task[help].from, pair->op[help].from + (late > 0 ? late : 0));
    }
    int64_t now = pair->op[help].from + 60;
    as_planned(pair->op[help].from);
    ck_assert_int_eq(happen(BP_DAY_START, pair->op[with].key, now), BP_OK);
    bp_kitchen_look(&view, kitchen, now + 30);
    ck_assert_int_eq(view.task[help].from, now + 30); /* it began without them */
    plan = harbour;
    bp_kitchen_free(kitchen);
    kitchen = NULL;
    bp_plan_free(pair);
    bp_show_free(two);
}
END_TEST

START_TEST(without_memory_there_is_none)
{
    bp_kitchen *k = NULL;
    long alive = bpi_mem_alive();
    bool fired = true;
    for (long n = 0; fired; n++) {
        errs = (bp_errors){0};
        bpi_mem_fail_at(n, 0);
        bp_code rc = bp_kitchen_new(&k, plan, &errs);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert((k == NULL) == fired);
        bp_kitchen_free(k);
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
    bp_plan none = *plan;
    none.ops = 0;
    ck_assert_int_eq(bp_kitchen_new(&k, &none, &errs), BP_EVALUE);
    ck_assert_ptr_null(k);
}
END_TEST

Suite *suite_day_kitchen(void);
Suite *suite_day_kitchen(void)
{
    Suite *s = suite_create("day/kitchen");
    TCase *c = tcase_create("kitchen");
    tcase_add_unchecked_fixture(c, make_plan, free_plan);
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, before_it_begins_the_forecast_is_the_plan);
    tcase_add_test(c, as_planned_nothing_is_late);
    tcase_add_test(c, a_window_moves_with_what_is_put_on);
    tcase_add_test(c, what_is_late_delays_what_hangs_on_it);
    tcase_add_test(c, the_last_tick_is_taken_back);
    tcase_add_loop_test(c, what_was_taken_off_had_been_put_on, 0, 2);
    tcase_add_test(c, what_nobody_does_is_not_ticked);
    tcase_add_test(c, a_mended_plan_goes_on_after_its_mishap);
    tcase_add_test(c, who_helps_begins_with_what_they_help_with);
    tcase_add_test(c, without_memory_there_is_none);
    suite_add_tcase(s, c);
    return s;
}

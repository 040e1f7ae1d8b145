/* Plans mended by the log of a day. bp_plan_mend_day has each tested by the checker; here it is asked that
 * the past is what was ticked, and that the kitchen goes on from there. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/kitchen.h"
#include "backpot/mend.h"
#include "backpot/show.h"
#include "base/memory.h"
#include "support/share.h"

#define HARBOUR "shows/harbour-breakfast.json"
#define LOCK    "shows/lock-keeper-day-ahead.json"
#define PANS    "tests/plan/shows/pans.json"
#define HELP    "tests/plan/terrine.json"
#define CABINET "tests/plan/cabinet.json"
#define MOST    400
#define NEVER   INT64_MAX

static bp_errors errs;
static bp_show *show;
static bp_plan *asked, *plan, *before;
static int64_t now;
static bp_event event[MOST];
static bp_log day;

static void make_plan_of(const char *file)
{
    errs = (bp_errors){0};
    ck_assert(bp_show_open(&show, file, &errs) == BP_OK);
    ck_assert(bp_plan_make(&asked, show, NULL, &errs) == BP_OK);
}

static void make_plan(void)
{
    make_plan_of(HARBOUR);
}

static void free_plan(void)
{
    bp_plan_free(asked);
    bp_show_free(show);
}

static void set_up(void)
{
    errs = (bp_errors){0};
    plan = before = NULL;
    day = (bp_log){.file = "day.log", .head = {asked->show_id, asked->stamp, false}};
    day.event = event;
}

static void drop(void)
{
    bp_plan_free(plan);
    bp_plan_free(before);
    plan = before = NULL;
}

static bp_event *add(bp_event_kind kind, int64_t at, const char *op)
{
    ck_assert_uint_lt(day.events, MOST);
    bp_event *e = &event[day.events++];
    *e = (bp_event){.kind = kind, .at = at, .air = "", .beat = "", .op = op, .text = ""};
    e->line = day.events + 1;
    return e;
}

static void say(int64_t at, const char *words)
{
    add(BP_DAY_MISHAP, at, "")->text = words;
}

static const bp_op *find(const bp_plan *p, const char *key)
{
    for (uint32_t i = 0; i < p->ops; i++)
        if (strcmp(p->op[i].key, key) == 0)
            return &p->op[i];
    return NULL;
}

static const bp_container *box(const bp_plan *p, const char *code)
{
    for (uint32_t i = 0; i < p->containers; i++)
        if (strcmp(p->container[i].code, code) == 0)
            return &p->container[i];
    return NULL;
}

/* Everything until then as planned, but for one key, whose start and end are so; NEVER: not ticked. */
static void as_planned_but(int64_t until, const char *key, int64_t start, int64_t end)
{
    for (int64_t t = asked->op[0].from; t <= until; t++)
        for (uint32_t i = 0; i < asked->ops; i++) {
            const bp_op *op = &asked->op[i];
            bool other = key && strcmp(op->key, key) == 0;
            if (!bp_op_is_ticked(op->kind) || op->kind == BP_OP_STAND_BY)
                continue;
            if ((other ? end : op->to) == t)
                add(BP_DAY_DONE, t, op->key);
            if ((other ? start : op->from) == t)
                add(BP_DAY_START, t, op->key);
        }
}

/* Nothing comes of what is not taken off: no ticks for its container from then on. */
static void keep_back(const bp_op *off)
{
    uint32_t kept = 0, box = asked->index[off->serves.first];
    for (uint32_t i = 0; i < day.events; i++) {
        const bp_op *op = find(asked, event[i].op);
        if (op->from < off->from || !op->serves.n || asked->index[op->serves.first] != box)
            event[kept++] = event[i];
    }
    day.events = kept;
}

static bp_code mend(const char *words)
{
    return bp_plan_mend_day(&plan, &before, &now, show, &day, &words, words ? 1 : 0, &errs);
}

#define AT(hour, minute) ((int64_t)((hour)*60 + (minute)) * 60)

START_TEST(a_day_to_plan_is_mended_as_without_its_log)
{
    as_planned_but(AT(7, 24), NULL, 0, 0);
    ck_assert_msg(mend("07:24 A4 burnt") == BP_OK, "%s", errs.item[0].wrong);
    bp_plan *ticked = plan;
    const char *line[] = {"07:24 A4 burnt"};
    bp_plan_free(before);
    ck_assert(bp_plan_mend(&plan, &before, &now, show, line, 1, &errs) == BP_OK);
    ck_assert_uint_eq(ticked->ops, plan->ops);
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *op = find(ticked, plan->op[i].key);
        ck_assert_msg(op && op->from == plan->op[i].from && op->to == plan->op[i].to &&
                          op->person == plan->op[i].person,
                      "%s", plan->op[i].key);
    }
    bp_plan_free(ticked);
    drop();
}
END_TEST

/* Two minutes late is late by two minutes, whatever comes: nothing else is. */
START_TEST(what_came_to_the_set_too_late_is_late)
{
    const bp_container *b1 = box(asked, "B1");
    const bp_op *carry = find(asked, "main/squash/B1.carry");
    ck_assert(b1 && carry);
    as_planned_but(b1->set_by + 120, carry->key, carry->from, b1->set_by + 120);
    ck_assert_int_eq(mend("08:21 behind"), BP_ENOFIT);
    ck_assert_ptr_nonnull(plan);
    ck_assert_int_eq(plan->verdict, BP_LATE);
    for (uint32_t i = 0; i < plan->containers; i++)
        ck_assert_int_eq(plan->container[i].late,
                         strcmp(plan->container[i].code, "B1") == 0 ? 120 : 0);
    drop();
}
END_TEST

/* B1 roasts for 25 to 28 minutes. In the oven at the last of them it may come out at once; a minute later
 * it is left on too long, and nothing that is planned then is in time. */
START_TEST(what_is_left_on_too_long_is_late)
{
    const bp_op *off = find(asked, "main/squash/B1/roast/take-off");
    const bp_op *roast = find(asked, "main/squash/B1/roast");
    ck_assert(off && roast);
    const int64_t most = roast->from + 28 * 60;
    for (int late = 0; late < 3; late++) {
        int64_t t = most + late * (late == 2 ? 900 : 60);
        char words[40];
        day.events = 0;
        as_planned_but(t - 1, off->key, NEVER, NEVER);
        keep_back(off);
        snprintf(words, sizeof words, "%02d:%02d behind", (int)(t / 3600), (int)(t / 60 % 60));
        ck_assert_msg(mend(words) == (late ? BP_ENOFIT : BP_OK), "%s: %d", words,
                      plan ? (int)plan->verdict : -1);
        ck_assert_ptr_nonnull(plan);
        ck_assert_int_eq(plan->verdict, late ? BP_LATE : BP_PLANNED);
        ck_assert_int_ge(find(plan, off->key)->from, t);
        drop();
    }
}
END_TEST

/* Minutes that somebody works past what the show allows them. */
static int64_t overtime(const bp_plan *p)
{
    int64_t sum = 0;
    for (uint32_t i = 0; i < p->stints; i++)
        if (p->stint[i].release > p->stint[i].wrap)
            sum += (p->stint[i].release - p->stint[i].wrap) / 60;
    return sum;
}

/* The evening before has work to the minute of its wrap. Whatever is begun there and not ended two minutes
 * later, there is a plan; it is late by a minute's work past the wrap, where nothing else gives way. */
START_TEST(an_evening_may_go_on_past_its_wrap)
{
    uint32_t nth = 0, tried = 0, late = 0;
    free_plan();
    make_plan_of(LOCK);
    set_up();
    for (uint32_t i = 0; i < asked->ops && asked->op[i].from < 0; i++) {
        const bp_op *op = &asked->op[i];
        int64_t t = op->from + 120;
        char words[40];
        if (!bp_op_is_ticked(op->kind) || nth++ % share())
            continue;
        day.events = 0;
        as_planned_but(t - 60, op->key, op->from, NEVER);
        snprintf(words, sizeof words, "-1d %02d:%02d behind", (int)((t + 86400) / 3600),
                 (int)((t + 86400) / 60 % 60));
        bp_code rc = mend(words);
        ck_assert_msg((rc == BP_OK || rc == BP_ENOFIT) && plan, "%s, %s: %s", op->key, words,
                      errs.n ? errs.item[0].wrong : "");
        ck_assert_msg((rc == BP_ENOFIT) == (overtime(plan) > 0), "%s, %s", op->key, words);
        ck_assert_int_le(overtime(plan), 3);
        late += rc == BP_ENOFIT;
        tried++;
        errs = (bp_errors){0};
        drop();
    }
    ck_assert_uint_ge(tried, 12 / share());
    ck_assert(late > 0 || share() > 1);
    free_plan();
    make_plan();
}
END_TEST

/* At seconds that are no whole minutes they count from the next one on. */
START_TEST(a_tick_counts_from_the_next_minute)
{
    const bp_op *chop = find(asked, "main/soup/A1/chop");
    as_planned_but(chop->from + 90, chop->key, chop->from + 61, NEVER);
    ck_assert_msg(mend("07:15 behind") == BP_OK || plan, "%s", errs.item[0].wrong);
    const bp_op *op = find(plan, chop->key);
    ck_assert_int_eq(op->from, chop->from + 120);
    ck_assert_int_gt(op->to, now);
    drop();
}
END_TEST

START_TEST(what_was_not_ticked_is_still_to_come)
{
    const bp_op *chop = find(asked, "main/soup/A1/chop");
    char words[40];
    as_planned_but(chop->from + 300, chop->key, NEVER, NEVER);
    int minute = (int)(chop->from / 60) + 5;
    snprintf(words, sizeof words, "%02d:%02d behind", minute / 60, minute % 60);
    bp_code rc = mend(words);
    ck_assert_msg(rc == BP_OK || rc == BP_ENOFIT, "%s", errs.item[0].wrong);
    ck_assert_ptr_nonnull(plan);
    ck_assert_int_ge(find(plan, chop->key)->from, now);
    drop();
    add(BP_DAY_START, chop->from + 300, chop->key);
    add(BP_DAY_UNDO, chop->from + 301, chop->key);
    rc = mend(words);
    ck_assert_msg(rc == BP_OK || rc == BP_ENOFIT, "%s", errs.item[0].wrong);
    ck_assert_int_ge(find(plan, chop->key)->from, now);
    drop();
}
END_TEST

/* Nobody pressed a key for it, and what builds on it was done: so was it. */
START_TEST(what_must_have_been_done_was)
{
    const bp_op *chop = find(asked, "main/soup/A1/chop"), *next = find(asked, "main/soup/A1/sweat");
    ck_assert(chop && next);
    as_planned_but(next->from, chop->key, NEVER, NEVER);
    char words[40];
    snprintf(words, sizeof words, "%02d:%02d behind",
             (int)(next->from / 3600 + (next->from / 60 % 60 == 59)),
             (int)((next->from / 60 + 1) % 60));
    bp_code rc = mend(words);
    ck_assert_msg(rc == BP_OK || rc == BP_ENOFIT, "%s", errs.item[0].wrong);
    ck_assert_int_le(find(plan, chop->key)->to, next->from);
    drop();
}
END_TEST

/* Two were begun to be put on by one cook, and neither is on: they are on one after the other, for what is
 * on for the same time could not be taken off by one cook else. */
START_TEST(two_are_not_put_on_in_the_same_minute)
{
    uint32_t tried = 0;
    free_plan();
    make_plan_of(LOCK);
    set_up();
    for (uint32_t i = 0; i < asked->ops; i++)
        for (uint32_t k = 0; k < asked->ops; k++) {
            const bp_op *x = &asked->op[i], *y = &asked->op[k];
            if (x->kind != BP_OP_LOAD || y->kind != BP_OP_LOAD || x->to != y->from ||
                x->person != y->person)
                continue;
            day.events = 0;
            as_planned_but(y->from, x->key, x->from, NEVER);
            int64_t t = y->from + 60;
            char words[40];
            snprintf(words, sizeof words, "%s%02d:%02d behind", t < 0 ? "-1d " : "",
                     (int)((t + 86400) % 86400 / 3600), (int)((t + 86400) / 60 % 60));
            bp_code rc = mend(words);
            ck_assert_msg((rc == BP_OK || rc == BP_ENOFIT) && plan, "%s, %s: %s", y->key, words,
                          errs.n ? errs.item[0].wrong : "");
            const bp_op *first = find(plan, x->key), *second = find(plan, y->key);
            ck_assert(first && second);
            ck_assert_int_eq(first->from, x->from);
            ck_assert_int_eq(second->from, y->from);
            ck_assert_int_lt(first->to, second->to);
            tried++;
            errs = (bp_errors){0};
            drop();
        }
    ck_assert_uint_ge(tried, 2);
    free_plan();
    make_plan();
}
END_TEST

/* One thing alone was ticked: what that builds on was done at some time, all else is still to come, and what
 * waits after what is to come waits then, not before. */
static void mend_each(const char *file, uint32_t step, uint32_t least)
{
    uint32_t nth = 0, tried = 0;
    free_plan();
    make_plan_of(file);
    for (uint32_t i = step - 1; i < asked->ops; i += step) {
        const bp_op *op = &asked->op[i];
        int64_t t = op->to + 180;
        char words[40];
        if (!bp_op_is_ticked(op->kind) || op->kind == BP_OP_STAND_BY || nth++ % share())
            continue;
        set_up();
        add(BP_DAY_DONE, op->to + 45, op->key);
        snprintf(words, sizeof words, "%02d:%02d behind", (int)(t / 3600), (int)(t / 60 % 60));
        bp_code rc = mend(words);
        ck_assert_msg((rc == BP_OK || rc == BP_ENOFIT) && plan, "%s, %s: %s", op->key, words,
                      errs.n ? errs.item[0].wrong : "");
        ck_assert_int_le(find(plan, op->key)->to, now);
        drop();
        tried++;
    }
    ck_assert_uint_ge(tried, least / share());
    free_plan();
    make_plan();
}

/* Vessels are washed, and a set is cleared between two hits. */
START_TEST(a_day_that_was_hardly_ticked_is_mended)
{
    mend_each(PANS, 1, 40);
}
END_TEST

START_TEST(one_of_two_who_work_together_ticks_for_both)
{
    mend_each(HELP, 1, 8);
}
END_TEST

/* A load that nobody ticked the oven on for. */
START_TEST(an_oven_that_is_on_needs_no_tick)
{
    mend_each(HARBOUR, 3, 10);
}
END_TEST

/* Nobody ticked that the cabinet was switched on, and something stands in it. */
START_TEST(a_cabinet_that_is_hot_needs_no_tick)
{
    mend_each(CABINET, 1, 12);
}
END_TEST

/* The second mishap is mended from where the first left it; the kitchen goes on from the last plan. */
START_TEST(a_day_is_mended_twice_and_goes_on)
{
    as_planned_but(AT(7, 24), NULL, 0, 0);
    say(AT(7, 24), "07:24 A4 burnt");
    ck_assert_msg(mend(NULL) == BP_OK, "%s", errs.item[0].wrong);
    ck_assert_uint_eq(plan->mishaps, 1);
    const bp_op *next = NULL;
    for (uint32_t i = 0; i < plan->ops && !next; i++)
        if (plan->op[i].from >= now && bp_op_is_ticked(plan->op[i].kind))
            next = &plan->op[i];
    ck_assert_ptr_nonnull(next);
    char key[80];
    int64_t from = next->from + 180;
    snprintf(key, sizeof key, "%s", next->key);
    bp_plan *first = plan, *first_before = before;
    bp_kitchen *kitchen = NULL;
    ck_assert_int_eq(bp_kitchen_new(&kitchen, asked, &errs), BP_OK);
    ck_assert_int_eq(bp_kitchen_follow(kitchen, &day, &errs), BP_OK);
    ck_assert(bp_kitchen_is_behind(kitchen));
    bp_kitchen_free(kitchen);
    ck_assert_int_eq(bp_kitchen_new(&kitchen, first, &errs), BP_OK);
    ck_assert_int_eq(bp_kitchen_follow(kitchen, &day, &errs), BP_OK);
    ck_assert(!bp_kitchen_is_behind(kitchen));
    bp_kitchen_view v;
    bp_kitchen_look(&v, kitchen, now);
    for (uint32_t i = 0; i < first->ops; i++) {
        const bp_op *op = &first->op[i];
        if (bp_op_is_ticked(op->kind) && op->from < now)
            ck_assert_msg(v.task[i].state == (op->to <= now ? BP_TASK_DONE : BP_TASK_UNDER_WAY),
                          "%s", op->key);
        else if (bp_op_is_ticked(op->kind))
            ck_assert_msg(v.task[i].state == BP_TASK_TO_COME, "%s", op->key);
    }
    bp_kitchen_free(kitchen);
    add(BP_DAY_START, from, key);
    char words[40];
    snprintf(words, sizeof words, "%02d:%02d behind", (int)(from / 3600),
             (int)(from / 60 % 60 + 1));
    bp_code rc = mend(words);
    ck_assert_msg(rc == BP_OK || rc == BP_ENOFIT, "%s", errs.item[0].wrong);
    ck_assert_uint_eq(plan->mishaps, 2); /* with the one that is to be entered */
    ck_assert_str_eq(before->stamp, first->stamp);
    ck_assert_int_eq(find(plan, key)->from, from);
    ck_assert(strcmp(plan->stamp, first->stamp) != 0);
    bp_plan *said = plan; /* entered, it is the same plan for whoever reads the log */
    bp_plan_free(before);
    say(now, words);
    ck_assert_int_eq(mend(NULL), rc);
    ck_assert_str_eq(plan->stamp, said->stamp);
    ck_assert_uint_eq(plan->mishaps, said->mishaps);
    bp_plan_free(said);
    bp_plan_free(first);
    bp_plan_free(first_before);
    drop();
}
END_TEST

static void refused(bp_code code, const char *words, const char *what)
{
    errs = (bp_errors){0};
    ck_assert_int_eq(mend(words), code);
    bool told = false;
    for (uint32_t i = 0; i < errs.n; i++)
        told |= strstr(errs.item[i].wrong, what) != NULL;
    ck_assert_msg(told, "%s: %s", words ? words : "", errs.item[0].wrong);
    ck_assert(!plan && !before);
}

START_TEST(what_does_not_fit_is_refused)
{
    refused(BP_EVALUE, NULL, "between 1 and 20 mishaps can be mended at once, not 0");
    refused(BP_EVALUE, "07:24 A4 burnt", "by the log nothing has been done for A4 by then");
    day.head.show = "another";
    refused(BP_EVALUE, "07:24 behind", "this is the log of the show \"another\"");
    day.head.show = asked->show_id;
    day.head.stamp = "00000000";
    refused(BP_EVALUE, "07:24 behind", "this log was begun with version 00000000");
    day.head.stamp = asked->stamp;
    add(BP_DAY_START, AT(7, 0), "main/soup/Q9/chop");
    refused(BP_EVALUE, "07:24 behind", "the plan has no operation \"main/soup/Q9/chop\"");
    day.events = 0;
    say(AT(7, 0), "07:00 Q9 burnt");
    refused(BP_EVALUE, NULL, "there is no container \"Q9\"");
    ck_assert_str_eq(errs.item[1].file, "day.log");
    ck_assert_uint_eq(errs.item[1].line, 2);
    const char *line[] = {"07:00 behind"};
    ck_assert_int_eq(bp_plan_mend(&plan, &before, &now, show, line, 1, &errs), BP_EVALUE);
}
END_TEST

#define MEMORY_STEP 499 /* every so many requests: each run takes three plans */

START_TEST(without_memory_nothing_is_kept)
{
    as_planned_but(AT(7, 24), NULL, 0, 0);
    long alive = bpi_mem_alive();
    bool fired = true;
    for (long k = 0; fired; k += MEMORY_STEP * share()) {
        errs = (bp_errors){0};
        bpi_mem_fail_at(k, 1);
        bp_code rc = mend("07:24 A4 burnt");
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert((plan != NULL) == (rc == BP_OK) && (before != NULL) == (rc == BP_OK));
        drop();
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
}
END_TEST

Suite *suite_day_ticked(void);
Suite *suite_day_ticked(void)
{
    Suite *s = suite_create("day/ticked");
    TCase *c = tcase_create("ticked");
    tcase_add_unchecked_fixture(c, make_plan, free_plan);
    tcase_add_checked_fixture(c, set_up, NULL);
    tcase_add_test(c, a_day_to_plan_is_mended_as_without_its_log);
    tcase_add_test(c, what_came_to_the_set_too_late_is_late);
    tcase_add_test(c, what_is_left_on_too_long_is_late);
    tcase_add_test(c, an_evening_may_go_on_past_its_wrap);
    tcase_add_test(c, two_are_not_put_on_in_the_same_minute);
    tcase_add_test(c, a_tick_counts_from_the_next_minute);
    tcase_add_test(c, what_was_not_ticked_is_still_to_come);
    tcase_add_test(c, what_must_have_been_done_was);
    tcase_add_test(c, a_day_that_was_hardly_ticked_is_mended);
    tcase_add_test(c, one_of_two_who_work_together_ticks_for_both);
    tcase_add_test(c, an_oven_that_is_on_needs_no_tick);
    tcase_add_test(c, a_cabinet_that_is_hot_needs_no_tick);
    tcase_add_test(c, a_day_is_mended_twice_and_goes_on);
    tcase_add_test(c, what_does_not_fit_is_refused);
    tcase_add_test(c, without_memory_nothing_is_kept);
    suite_add_tcase(s, c);
    return s;
}

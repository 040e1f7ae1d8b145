/* A second pair of hands: tests/plan/terrine.json, a show of our own making. What the engine proves of
 * it is the check, and that a second cook is there and free whenever the step is done. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"
#include "backpot/kitchen.h"
#include "backpot/mend.h"
#include "base/memory.h"
#include "model/show.h"
#include "support/prep_show.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

static char *terrine(void)
{
    return prep_show_file("tests/plan/terrine.json");
}

#define HELP "\"help\": {},"

static bp_code make(const char *help)
{
    return prep_show_plan(&plan, &show, prep_show_change(terrine(), HELP, help), 0, &errs);
}

static void done(void)
{
    prep_show_free(&plan, &show);
}

static const bp_op *find(const char *key)
{
    for (uint32_t o = 0; o < plan->ops; o++)
        if (strcmp(plan->op[o].key, key) == 0)
            return &plan->op[o];
    return NULL;
}

static const bp_op *helper_of(const bp_op *op)
{
    char key[80];
    snprintf(key, sizeof key, "%s/help", op->key);
    return find(key);
}

/* Each turning out has two cooks, the second for so many seconds; 0: all of it. How many there are. */
static uint32_t two_at_once(int64_t lasts)
{
    uint32_t n = 0, helps = 0;
    for (uint32_t o = 0; o < plan->ops; o++) {
        const bp_op *op = &plan->op[o];
        helps += op->kind == BP_OP_HELP;
        if (op->kind != BP_OP_ACTIVE || !strstr(op->key, "/turn"))
            continue;
        const bp_op *by = helper_of(op);
        ck_assert_ptr_nonnull(by);
        ck_assert_int_eq(by->kind, BP_OP_HELP);
        ck_assert_uint_ne(by->person, op->person);
        ck_assert_int_eq(by->from, op->from);
        ck_assert_int_eq(by->to - by->from, lasts ? lasts : op->to - op->from);
        ck_assert_uint_eq(by->serves.n, op->serves.n);
        ck_assert_uint_eq(by->uses.n, 0);
        ck_assert_str_eq(by->caution, op->caution); /* whoever stands there is to know it */
        ck_assert_int_eq(by->latest_from, op->latest_from);
        n++;
    }
    ck_assert_uint_eq(helps, n);
    return n;
}

static int64_t crew_time(void)
{
    ck_assert_str_eq(plan->goal[1].name, "crew time");
    ck_assert(plan->goal[0].value == 0 && plan->goal[1].proved);
    return plan->goal[1].value;
}

/* Two terrines, one board. Alone, Ines or Rui may fill (10 min), turn out (6) and carry (1) each one;
 * with help both are at both turnings, one after the other. On the set by 08:05, there until 08:12:
 * alone the call is 07:41 for one and 07:47 for the other, with one board; with help each has to be
 * there at 07:42: 17 + 6 min before 08:05. */
START_TEST(two_are_there_at_once)
{
    ck_assert_int_eq(make(HELP), BP_OK);
    ck_assert_uint_eq(two_at_once(0), 2);
    int64_t with = crew_time();
    ck_assert_int_eq(with, 60);
    ck_assert_str_eq(find("plate/dish/A2/turn")->text, find("plate/dish/A2/turn")->person == 0
                                                           ? "Turn the terrine out (Rui helps)"
                                                           : "Turn the terrine out (Ines helps)");
    ck_assert_str_eq(find("plate/dish/A2/turn/help")->text, find("plate/dish/A2/turn")->person == 0
                                                                ? "Help Ines: Turn the terrine out"
                                                                : "Help Rui: Turn the terrine out");
    done();
    ck_assert_int_eq(make(""), BP_OK);
    ck_assert_int_lt(crew_time(), with);
    for (uint32_t o = 0; o < plan->ops; o++)
        ck_assert(plan->op[o].kind != BP_OP_HELP);
    done();
}
END_TEST

/* Said as the six minutes that the step takes anyway, it is the same plan; shorter, never a dearer
 * one. */
START_TEST(help_for_all_of_it_is_help_for_as_long)
{
    ck_assert_int_eq(make(HELP), BP_OK);
    int64_t all = crew_time();
    done();
    ck_assert_int_eq(make("\"help\": {\"time\": \"6 min\"},"), BP_OK);
    ck_assert_uint_eq(two_at_once(360), 2);
    ck_assert_int_eq(crew_time(), all);
    done();
    ck_assert_int_eq(make("\"help\": {\"time\": \"61 s\"},"), BP_OK); /* two whole minutes */
    ck_assert_uint_eq(two_at_once(120), 2);
    ck_assert_int_le(crew_time(), all);
    ck_assert_ptr_nonnull(strstr(find("plate/dish/A1/turn")->text, "for the first 2 min)"));
    done();
}
END_TEST

START_TEST(who_helps_has_the_skill)
{
    ck_assert_int_eq(make("\"help\": {\"skill\": \"lifting\"},"), BP_OK);
    ck_assert_uint_eq(two_at_once(0), 2);
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].kind == BP_OP_HELP)
            ck_assert_str_eq(plan->person[plan->op[o].person].name, "Rui");
    done();
}
END_TEST

/* Both on one board: once two at it, for eight minutes, for both containers. */
START_TEST(a_batch_has_one_helper)
{
    static const char *const how[] = {"", ", \"split\": true, \"across\": true"};
    char text[160];
    snprintf(text, sizeof text, HELP " \"together\": {\"once\": \"4 min\", \"each\": \"2 min\"%s},",
             how[_i]);
    ck_assert_int_eq(make(text), BP_OK);
    ck_assert_uint_eq(two_at_once(0), 1);
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].kind == BP_OP_HELP) {
            ck_assert_uint_eq(plan->op[o].serves.n, 2);
            ck_assert_int_eq(plan->op[o].to - plan->op[o].from, 480);
        }
    ck_assert_int_eq(crew_time(), 60 - 2 * 4); /* four minutes less for both of them */
    done();
}
END_TEST

/* Where the second is not there it is late, and it is said that it takes two. */
START_TEST(without_a_second_cook_it_is_said_what_is_missing)
{
    char *text = prep_show_change(terrine(), "\"call\": \"06:30\"", "\"call\": \"08:00\"");
    bp_plan_options options = {0}; /* with changes that help */
    errs = (bp_errors){0};
    ck_assert_int_eq(bp_show_read(&show, text, strlen(text), "t.json", NULL, &errs), BP_OK);
    free(text);
    ck_assert_int_eq(bp_plan_make(&plan, show, &options, &errs), BP_ENOFIT);
    bool two = false, called = false, another = false;
    for (uint32_t i = 0; i < plan->facts; i++) {
        two |= strcmp(plan->fact[i].text, "\"Turn the terrine out\" takes two cooks at once") == 0;
        called |= strcmp(plan->fact[i].text, "Rui can be called from 08:00") == 0;
    }
    for (uint32_t i = 0; i < plan->fixes; i++)
        another |= strcmp(plan->fix[i].text, "have one more cook, with the hours of Ines") == 0;
    ck_assert(two && called && another);
    ck_assert_uint_eq(two_at_once(0), 2); /* in the late plan, too */
    done();
}
END_TEST

START_TEST(one_cook_alone_cannot_be_two)
{
    char *text = terrine();
    char *from = strstr(text, ",\n      {\"id\": \"rui\""), *to = strstr(text, "\n    ],");
    ck_assert(from && to);
    memmove(from, to, strlen(to) + 1);
    memset(&errs, 0, sizeof errs);
    ck_assert_int_eq(bp_show_read(&show, text, strlen(text), "t.json", NULL, &errs), BP_EVALUE);
    free(text);
    ck_assert_str_eq(errs.item[0].wrong, "step \"turn\" takes two cooks, and the kitchen has one");
    bp_show_free(show);
    show = NULL;
}
END_TEST

/* ---- the checker --------------------------------------------------------------------------- */

static void objects(const char *what)
{
    ck_assert_msg(prep_show_objects(plan, show, what, &errs), "not objected to: %s", what);
}

START_TEST(the_checker_objects)
{
    ck_assert_int_eq(make("\"help\": {\"skill\": \"lifting\"},"), BP_OK);
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    bp_op *by = (bp_op *)find("plate/dish/A1/turn/help"), was = *by;
    ck_assert_ptr_nonnull(by);
    by->to -= 60;
    objects("it lasts another time than step turn asks for");
    *by = was;
    by->from += 60;
    by->to += 60;
    objects("nobody helps");
    *by = was;
    by->person = find("plate/dish/A1/turn")->person;
    objects("has not the skill lifting, to help");
    objects("at the same time");
    *by = was;
    by->uses = find("plate/dish/A1/turn")->uses;
    objects("it takes again what it helps with");
    *by = was;
    by->serves = find("plate/dish/A2/turn")->serves;
    objects("nobody helps");
    *by = was;
    by->key = "plate/dish/A1/fill/help";
    objects("nothing in the show asks for it");
    *by = was;
    bpi_step *s = (bpi_step *)&show->recipe[0].step[1];
    s->help = false;
    objects("nothing in the show asks for it");
    done();
}
END_TEST

/* ---- how likely it holds --------------------------------------------------------------------- */

/* The terrine of the one container has no uncertain step of its own; what Rui runs over with for the
 * other dish holds it up where he is to help, and only there. */
START_TEST(who_helps_late_holds_it_up)
{
    static const char *const help[] = {"\"help\": {\"skill\": \"lifting\"},", ""};
    char *text = prep_show_change(
        terrine(), "{\"low\": \"5 min\", \"likely\": \"6 min\", \"high\": \"14 min\"}",
        "\"6 min\", \"skill\": \"turning\"");
    text = prep_show_change(text, HELP, help[_i]);
    text = prep_show_change(text, "\"wrap\": \"10:00\"}",
                            "\"wrap\": \"10:00\", \"skills\": [\"turning\"]}");
    text =
        prep_show_change(text, "\"spares\": {\"finished\": 1}}",
                         "\"taste\": false}, {\"id\": \"salad\", \"title\": \"Salad\", \"recipe\": "
                         "\"salad\", \"taste\": false, \"lead\": \"12 min\"}");
    text = prep_show_change(text, "\"taste\": false, \"taste\"", "\"taste\"");
    text = prep_show_change(
        text, "\"time\": \"60-120 s\", \"keep\": true}",
        "\"time\": \"40-60 s\", \"keep\": true}, {\"id\": \"too\", \"text\": \"Salad\", "
        "\"dish\": \"salad\", \"shows\": \"finished\", \"time\": \"40-60 s\"}");
    text = prep_show_change(
        text, "\"recipes\": [",
        "\"recipes\": [{\"id\": \"salad\", \"title\": \"Salad\", \"steps\": [{\"id\": "
        "\"cut\", \"text\": \"Cut\", \"kind\": \"active\", \"skill\": \"lifting\", "
        "\"time\": {\"low\": \"10 min\", \"likely\": \"10 min\", \"high\": \"40 min\"}, "
        "\"hold\": {\"set\": \"1 h\"}}]}, ");
    bp_plan_options options = {.days = 4000, .seed = 5};
    memset(&errs, 0, sizeof errs);
    bp_code rc = bp_show_read(&show, text, strlen(text), "t.json", NULL, &errs);
    free(text);
    ck_assert_msg(rc == BP_OK, "%s", errs.item[0].wrong);
    rc = bp_plan_make(&plan, show, &options, &errs);
    ck_assert_msg(rc == BP_OK, "%s", errs.item[0].wrong);
    const bp_op *cut = NULL;
    for (uint32_t o = 0; o < plan->ops; o++)
        if (strcmp(plan->op[o].text, "Cut") == 0)
            cut = &plan->op[o];
    ck_assert_ptr_nonnull(cut);
    ck_assert_str_eq(plan->person[cut->person].name, "Rui");
    ck_assert_ptr_nonnull(plan->chance);
    ck_assert_uint_eq(plan->chance->uncertain, 1);
    for (uint32_t c = 0; c < plan->containers; c++) {
        bool terrine = plan->container[c].code[0] == 'A';
        if (terrine && _i == 1)
            ck_assert_uint_eq(plan->chance->odds[c].on_time, 4000);
        else if (terrine)
            ck_assert_uint_lt(plan->chance->odds[c].on_time, 4000);
    }
    done();
}
END_TEST

/* ---- on the day ------------------------------------------------------------------------------ */

static bp_plan *before;
static int64_t now;

static bp_code mend(const char *line)
{
    errs = (bp_errors){0};
    ck_assert_int_eq(bp_show_open(&show, "tests/plan/terrine.json", &errs), BP_OK);
    return bp_plan_mend(&plan, &before, &now, show, &line, 1, &errs);
}

/* The checker has tested each mended plan; here: both stay as long, and the second is another. */
START_TEST(a_step_that_takes_longer_keeps_both)
{
    bp_code rc = mend("07:54 A2 turn until 08:01");
    ck_assert_msg(rc == BP_ENOFIT, "%s", errs.item[0].wrong);
    const bp_op *op = find("plate/dish/A2/turn");
    ck_assert_int_eq(op->to, 8 * 3600 + 60);
    ck_assert_uint_eq(two_at_once(0), 2);
    bp_plan_free(before);
    done();
}
END_TEST

START_TEST(what_is_lost_is_turned_out_by_two_again)
{
    bp_code rc = mend("07:53 A1 dropped");
    ck_assert_msg(rc == BP_ENOFIT, "%s", errs.item[0].wrong);
    ck_assert_uint_eq(two_at_once(0), 2);
    ck_assert_int_ge(find("plate/dish/A1/turn")->from, now);
    bp_plan_free(before);
    done();
}
END_TEST

START_TEST(who_is_away_does_not_help)
{
    bp_code rc = mend("07:40 Rui away until 08:00");
    ck_assert_msg(rc == BP_ENOFIT, "%s", errs.item[0].wrong);
    ck_assert_uint_eq(two_at_once(0), 2);
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].kind == BP_OP_HELP)
            ck_assert_int_ge(plan->op[o].from, 8 * 3600);
    bp_plan_free(before);
    done();
}
END_TEST

static void tick(bp_kitchen *k, bp_event_kind kind, const char *op, int64_t at)
{
    bp_event e = {.kind = kind, .at = at, .air = "", .beat = "", .op = op, .text = ""};
    ck_assert_int_eq(bp_kitchen_apply(k, &e, &errs), BP_OK);
}

/* The one who is late keeps the other waiting: both begin when both can. */
START_TEST(the_kitchens_clock_begins_both_at_once)
{
    ck_assert_int_eq(make(HELP), BP_OK);
    const bp_op *op = find("plate/dish/A2/turn"), *by = helper_of(op);
    const bp_op *last = NULL; /* what who helps does before it */
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].person == by->person && plan->op[o].to <= by->from)
            last = &plan->op[o];
    ck_assert_ptr_nonnull(last);
    ck_assert(strstr(last->key, "/fill"));
    bp_kitchen *k;
    bp_kitchen_view view;
    ck_assert_int_eq(bp_kitchen_new(&k, plan, &errs), BP_OK);
    for (uint32_t o = 0; o < plan->ops;
         o++) /* one fills as planned, the other five minutes later */
        if (plan->op[o].kind == BP_OP_ACTIVE && strstr(plan->op[o].key, "/fill")) {
            tick(k, BP_DAY_START, plan->op[o].key,
                 plan->op[o].from + (&plan->op[o] == last ? 300 : 0));
            if (&plan->op[o] != last)
                tick(k, BP_DAY_DONE, plan->op[o].key, plan->op[o].to);
        }
    int64_t late = last->to + 300;
    bp_kitchen_look(&view, k, last->to + 60); /* who has filled is free, and waits */
    for (uint32_t o = 0; o < plan->ops; o++)
        if (&plan->op[o] == op || &plan->op[o] == by) {
            ck_assert_int_eq(view.task[o].from, late);
            ck_assert_int_eq(view.task[o].to, late + 360);
        }
    tick(k, BP_DAY_DONE, last->key, late);
    tick(k, BP_DAY_START, op->key, late);
    tick(k, BP_DAY_START, by->key, late + 20);
    bp_kitchen_look(&view, k, late + 60);
    for (uint32_t o = 0; o < plan->ops; o++)
        if (&plan->op[o] == op || &plan->op[o] == by)
            ck_assert_int_eq(view.task[o].state, BP_TASK_UNDER_WAY);
    bp_kitchen_free(k);
    done();
}
END_TEST

START_TEST(without_memory_no_plan)
{
    char *text = terrine();
    bp_plan_options options = {.work = 200000};
    errs = (bp_errors){0};
    ck_assert_int_eq(bp_show_read(&show, text, strlen(text), "t.json", NULL, &errs), BP_OK);
    free(text);
    bool done_it = false;
    for (long k = 0; !done_it; k += 1 + k / 64) {
        plan = NULL;
        errs = (bp_errors){0};
        bpi_mem_fail_at(k, 1);
        bp_code rc = bp_plan_make(&plan, show, &options, &errs);
        done_it = !bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, done_it ? BP_OK : BP_ENOMEM);
        ck_assert(done_it || !plan);
    }
    done();
}
END_TEST

Suite *suite_plan_help(void);
Suite *suite_plan_help(void)
{
    Suite *s = suite_create("plan/help");
    TCase *c = tcase_create("help");
    tcase_add_test(c, two_are_there_at_once);
    tcase_add_test(c, help_for_all_of_it_is_help_for_as_long);
    tcase_add_test(c, who_helps_has_the_skill);
    tcase_add_loop_test(c, a_batch_has_one_helper, 0, 2);
    tcase_add_test(c, without_a_second_cook_it_is_said_what_is_missing);
    tcase_add_test(c, one_cook_alone_cannot_be_two);
    tcase_add_test(c, the_checker_objects);
    tcase_add_loop_test(c, who_helps_late_holds_it_up, 0, 2);
    tcase_add_test(c, a_step_that_takes_longer_keeps_both);
    tcase_add_test(c, what_is_lost_is_turned_out_by_two_again);
    tcase_add_test(c, who_is_away_does_not_help);
    tcase_add_test(c, the_kitchens_clock_begins_both_at_once);
    tcase_add_test(c, without_memory_no_plan);
    suite_add_tcase(s, c);
    return s;
}

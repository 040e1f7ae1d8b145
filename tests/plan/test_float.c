/* A segment that floats: its hit may come so much later, and all keeps until then. What stands on
 * the set from the same moment to the same moment is the same problem for the kitchen, whether the
 * show says so as a float or as a later hit with a longer lead: that is the check. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"
#include "support/prep_show.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

#define KITCHEN                                                                                    \
    "\"cooks\": [{\"id\": \"a\", \"name\": \"Ana\", \"call\": \"06:00\", \"wrap\": \"%s\"}, "      \
    "{\"id\": \"b\", \"name\": \"Bo\", \"call\": \"06:00\", \"wrap\": \"%s\"}], \"burners\": 1"
#define RECIPE                                                                                     \
    "{\"id\": \"r\", \"title\": \"Stew\", \"serves\": 4, \"steps\": [{\"id\": \"chop\", "          \
    "\"text\": "                                                                                   \
    "\"Chop\", \"kind\": \"active\", \"time\": \"7 min\", \"hold\": {\"counter\": \"%s\", "        \
    "\"set\": \"%s\"}}, {\"id\": \"stew\", \"text\": \"Stew\", \"kind\": \"passive\", \"time\": "  \
    "\"15-18 min\", \"burner\": true, \"hold\": {\"counter\": \"20 min\", \"set\": \"30 "          \
    "min\"}}]}"
#define GOALS 4
#define DISH  "{\"id\": \"d\", \"recipe\": \"r\"}"

/* Kitchen and recipe as these say; the segment's times are `times`. */
typedef struct telling {
    const char *times, *wrap, *counter, *set;
} telling;

static bp_code make(telling t)
{
    char kitchen[400], recipe[700], dish[] = DISH;
    static const char was[] = "\"hit\": \"08:00\", \"slot\": \"3:00\", \"lead\": \"5 min\"";
    snprintf(kitchen, sizeof kitchen, KITCHEN, t.wrap, t.wrap);
    snprintf(recipe, sizeof recipe, RECIPE, t.counter, t.set);
    char *text = prep_show_text(kitchen, recipe, dish, PREP_SHOW_IN_AND_OUT("chop"));
    text = prep_show_change(text, was, t.times);
    bp_plan_options options = {.days = 1};
    memset(&errs, 0, sizeof errs);
    ck_assert_msg(bp_show_read(&show, text, strlen(text), "t.json", NULL, &errs) == BP_OK, "%s",
                  errs.item[0].wrong);
    free(text);
    return bp_plan_make(&plan, show, &options, &errs);
}

static void done(void)
{
    prep_show_free(&plan, &show);
}

static const struct {
    int64_t floats;
    const char *floating, *later; /* the later hit with the longer lead */
} pairs[] = {
    {300, "\"hit\": \"08:00\", \"float\": \"5 min\", \"slot\": \"3:00\", \"lead\": \"5 min\"",
     "\"hit\": \"08:05\", \"slot\": \"3:00\", \"lead\": \"10 min\""},
    {720, "\"hit\": \"08:00\", \"float\": \"12 min\", \"slot\": \"3:00\", \"lead\": \"5 min\"",
     "\"hit\": \"08:12\", \"slot\": \"3:00\", \"lead\": \"17 min\""},
    {90, "\"hit\": \"08:00\", \"float\": \"90 s\", \"slot\": \"2:50\", \"lead\": \"5 min\"",
     "\"hit\": \"08:01:30\", \"slot\": \"2:50\", \"lead\": \"390 s\""},
    {1380, /* 23 min: what is on the set for 28 min has no time left on the counter */
     "\"hit\": \"08:00\", \"float\": \"23 min\", \"slot\": \"1:59\", \"lead\": \"5 min\", "
     "\"hands\": 1",
     "\"hit\": \"08:23\", \"slot\": \"1:59\", \"lead\": \"28 min\", \"hands\": 1"},
};

START_TEST(to_float_is_to_come_later_and_be_dressed_as_early)
{
    const telling t = {pairs[_i].floating, "09:30", "10 min", "35 min"};
    int64_t value[GOALS], last[8], set_by[8], on_set[8];
    ck_assert_int_eq(make(t), BP_OK);
    uint32_t goals = plan->goals, boxes = plan->containers;
    ck_assert_uint_le(goals, GOALS);
    ck_assert(boxes >= 2 && boxes <= 8);
    ck_assert_int_eq(plan->air[0].floats, pairs[_i].floats);
    ck_assert(plan->air[0].hit_to >= plan->air[0].hit + pairs[_i].floats);
    for (uint32_t g = 0; g < goals; g++) {
        ck_assert(plan->goal[g].proved);
        value[g] = plan->goal[g].value;
    }
    for (uint32_t c = 0; c < boxes; c++) {
        last[c] = plan->container[c].last;
        set_by[c] = plan->container[c].set_by;
        on_set[c] = plan->container[c].needed + pairs[_i].floats;
    }
    done();
    const telling later = {pairs[_i].later, "09:30", "10 min", "35 min"};
    ck_assert_int_eq(make(later), BP_OK);
    ck_assert_uint_eq(plan->goals, goals);
    ck_assert_uint_eq(plan->containers, boxes);
    ck_assert_int_eq(plan->air[0].floats, 0);
    for (uint32_t g = 0; g < goals; g++) {
        ck_assert(plan->goal[g].proved);
        ck_assert_int_eq(plan->goal[g].value, value[g]);
    }
    for (uint32_t c = 0; c < boxes; c++) {
        ck_assert_int_eq(plan->container[c].last, last[c]);
        ck_assert_int_eq(plan->container[c].set_by, set_by[c]);
        ck_assert_int_eq(plan->container[c].needed, on_set[c]);
    }
    done();
}
END_TEST

/* Is there a fact, and an offer, with these words in it? */
static bool is_said(const char *words)
{
    for (uint32_t i = 0; i < plan->facts; i++)
        if (strstr(plan->fact[i].text, words))
            return true;
    return false;
}

static bool is_offered(const char *words)
{
    for (uint32_t i = 0; i < plan->fixes; i++)
        if (strstr(plan->fix[i].text, words))
            return true;
    return false;
}

/* On the set from 07:55 to 08:03 at least: 8 min of 30, so it may float by 22. */
START_TEST(what_does_not_keep_so_long_says_how_far_it_may_float)
{
    static const char form[] =
        "\"hit\": \"08:00\", \"float\": \"%d min\", \"slot\": \"3:00\", \"lead\": \"5 min\"";
    char times[120];
    for (int floats = 21; floats <= 24; floats++) {
        snprintf(times, sizeof times, form, floats);
        const telling t = {times, "09:30", "10 min", "35 min"};
        bool fits = floats <= 22;
        ck_assert_int_eq(make(t), fits ? BP_OK : BP_ENOFIT);
        ck_assert_int_eq(is_said("may come 24 min later than its hit"), floats == 24);
        ck_assert_int_eq(is_said("keeps 30 min on the set"), !fits);
        ck_assert_int_eq(is_offered("let \"S\" come at most 22 min later than its hit"), !fits);
        done();
    }
}
END_TEST

/* Both must be free at 08:10, and the slot of the latest hit ends at 08:13. */
START_TEST(who_stands_by_stays_until_the_latest_hit_is_over)
{
    static const char times[] = "\"hit\": \"08:00\", \"float\": \"10 min\", \"slot\": \"3:00\", "
                                "\"lead\": \"5 min\", \"hands\": 1";
    telling t = {times, "08:10", "10 min", "35 min"};
    ck_assert_int_eq(make(t), BP_ENOFIT);
    ck_assert(is_said("\"S\" may come 10 min later than its hit"));
    ck_assert(is_said("1 cook stands by on the set for \"S\""));
    ck_assert(is_said("must be free at 08:10"));
    ck_assert(is_offered("let \"S\" come at most 7 min later than its hit"));
    done();
    t.wrap = "08:13";
    ck_assert_int_eq(make(t), BP_OK);
    for (uint32_t i = 0; i < plan->ops; i++)
        if (plan->op[i].kind == BP_OP_STAND_BY) {
            ck_assert_int_eq(plan->op[i].from, plan->air[0].set_by);
            ck_assert_int_eq(plan->op[i].to, plan->air[0].hit + 13 * 60);
        }
    done();
}
END_TEST

/* The slot of the first, at its latest, ends at 08:13; nothing of the second is carried before the
 * set is clear. */
START_TEST(the_set_is_cleared_after_the_latest_hit)
{
    static const char times[] = "\"hit\": [\"08:00\", \"09:00\"], \"float\": \"10 min\", \"slot\": "
                                "\"3:00\", \"lead\": \"5 min\", \"reset\": \"4 min\"";
    const telling t = {times, "09:30", "10 min", "35 min"};
    ck_assert_int_eq(make(t), BP_OK);
    int64_t clear = 0;
    for (uint32_t i = 0; i < plan->ops; i++)
        if (plan->op[i].kind == BP_OP_RESET) {
            ck_assert_int_ge(plan->op[i].from, plan->air[0].hit + 13 * 60);
            clear = plan->op[i].to;
        }
    ck_assert_int_gt(clear, 0);
    for (uint32_t c = 0; c < plan->containers; c++)
        if (plan->container[c].air == 1)
            ck_assert_int_ge(plan->container[c].on_set, clear);
    ck_assert_int_ge(plan->air[1].hit_from, plan->air[0].hit + 13 * 60);
    done();
}
END_TEST

Suite *suite_plan_float(void);
Suite *suite_plan_float(void)
{
    Suite *s = suite_create("plan/float");
    TCase *c = tcase_create("float");
    tcase_add_loop_test(c, to_float_is_to_come_later_and_be_dressed_as_early, 0,
                        (int)(sizeof pairs / sizeof *pairs));
    tcase_add_test(c, what_does_not_keep_so_long_says_how_far_it_may_float);
    tcase_add_test(c, who_stands_by_stays_until_the_latest_hit_is_over);
    tcase_add_test(c, the_set_is_cleared_after_the_latest_hit);
    suite_add_tcase(s, c);
    return s;
}

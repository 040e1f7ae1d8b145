/* Watched steps, and light work beside them: tests/plan/custard.json, a show of our own making, and figures
 * worked out by hand. What the engine proves is the check. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/kitchen.h"
#include "backpot/mend.h"
#include "base/memory.h"
#include "support/prep_show.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

#define STIR "\"watch\": 40"
#define HULL "\"light\": true"

static void make(const char *stir, const char *hull)
{
    char *text = prep_show_file("tests/plan/custard.json");
    text = prep_show_change(text, STIR, stir);
    text = prep_show_change(text, HULL, hull);
    ck_assert_int_eq(prep_show_plan(&plan, &show, text, 0, &errs), BP_OK);
}

static void done(void)
{
    prep_show_free(&plan, &show);
}

static uint32_t find(const char *key)
{
    for (uint32_t o = 0; o < plan->ops; o++)
        if (strcmp(plan->op[o].key, key) == 0)
            return o;
    ck_abort_msg("no %s", key);
    return 0;
}

static bp_op *op(const char *key)
{
    return (bp_op *)&plan->op[find(key)];
}

/* Stirring takes 20 min, hulling 15, each is carried in 2, and both stand there by 08:05; the slot ends at
 * 08:12. One after the other that is 20 + 15 + 4 + 7 = 46 min from call to release; at once
 * 20 + 4 + 7 = 31. */
START_TEST(what_goes_beside_is_done_beside)
{
    static const struct {
        const char *stir, *hull;
        int64_t crew;
    } days[] = {
        {STIR, HULL, 31},
        {"\"watch\": 49", HULL, 31},
        {"\"watch\": 50", HULL, 46}, /* light work takes more than half */
        {STIR, "\"light\": false", 46},
        {HULL, HULL, 46}, /* nobody has two pairs of hands */
        {STIR, "\"watch\": 60", 31},
        {STIR, "\"watch\": 61", 46},
    };
    make(days[_i].stir, days[_i].hull);
    ck_assert_str_eq(plan->goal[1].name, "crew time");
    ck_assert(plan->goal[0].value == 0 && plan->goal[1].proved);
    ck_assert_int_eq(plan->goal[1].value, days[_i].crew);
    const bp_op *stir = op("plate/bowl/A1/stir"), *hull = op("plate/fruit/B1/hull");
    ck_assert_int_eq(stir->to - stir->from, 1200);
    ck_assert_int_eq(hull->to - hull->from, 900);
    ck_assert_int_eq(stir->from < hull->to && hull->from < stir->to, days[_i].crew == 31);
    done();
}
END_TEST

static void objects(const char *what)
{
    ck_assert_msg(prep_show_objects(plan, show, what, &errs), "not objected to: %s", what);
}

START_TEST(the_checker_counts_attention_by_itself)
{
    make(STIR, HULL);
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    bp_op *stir = op("plate/bowl/A1/stir"), *hull = op("plate/fruit/B1/hull"), was = *hull;
    bpi_step *watched = (bpi_step *)&show->recipe[0].step[0];
    bpi_step *light = (bpi_step *)&show->recipe[1].step[0];
    watched->watch = 50;
    objects("the show says otherwise how it is watched");
    stir->watch = 50;
    objects("Ines does light work and watches with 50 % of their attention");
    watched->watch = stir->watch = 40;
    light->light = false;
    objects("the show says otherwise how it is watched");
    hull->light = false;
    objects("Ines does plate/bowl/A1/stir at the same time");
    hull->watch = light->watch = 60;
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    hull->watch = light->watch = 61;
    objects("Ines watches with 101 % of their attention");
    light->watch = 0;
    light->light = true;
    *hull = was;
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    bp_op *carry = op("plate/bowl/A1.carry");
    carry->light = true;
    objects("the show says otherwise how it is watched");
    done();
}
END_TEST

/* ---- on the day ------------------------------------------------------------------------------ */

static void tick(bp_kitchen *k, bp_event_kind kind, const char *key, int64_t at)
{
    bp_event e = {.kind = kind, .at = at, .air = "", .beat = "", .op = key, .text = ""};
    ck_assert_int_eq(bp_kitchen_apply(k, &e, &errs), BP_OK);
}

static uint32_t at(bp_kitchen *k, int64_t now)
{
    bp_kitchen_view view;
    bp_kitchen_look(&view, k, now);
    return view.at[0];
}

/* While it is watched what goes beside it is to begin, then is in hand; then it, until it is due. */
START_TEST(the_clock_shows_what_is_to_be_done_meanwhile)
{
    make(STIR, HULL);
    uint32_t s = find("plate/bowl/A1/stir"), h = find("plate/fruit/B1/hull");
    const bp_op *stir = &plan->op[s], *hull = &plan->op[h];
    bp_kitchen *k;
    ck_assert_int_eq(bp_kitchen_new(&k, plan, &errs), BP_OK);
    ck_assert_uint_eq(at(k, stir->from), s);
    tick(k, BP_DAY_START, stir->key, stir->from);
    ck_assert_uint_eq(at(k, stir->from + 60), h);
    tick(k, BP_DAY_START, hull->key, stir->from + 60);
    ck_assert_uint_eq(at(k, stir->from + 120), h);
    tick(k, BP_DAY_DONE, hull->key, stir->from + 900);
    ck_assert_uint_eq(at(k, stir->from + 960), s);
    ck_assert_uint_eq(at(k, stir->to + 60), s);
    tick(k, BP_DAY_DONE, stir->key, stir->to + 60);
    ck_assert_int_eq(plan->op[at(k, stir->to + 60)].kind, BP_OP_CARRY);
    bp_kitchen_free(k);
    done();
}
END_TEST

START_TEST(what_is_due_comes_before_what_is_in_hand)
{
    make(STIR, HULL);
    uint32_t s = find("plate/bowl/A1/stir"), h = find("plate/fruit/B1/hull");
    const bp_op *stir = &plan->op[s];
    bp_kitchen *k;
    ck_assert_int_eq(bp_kitchen_new(&k, plan, &errs), BP_OK);
    tick(k, BP_DAY_START, stir->key, stir->from);
    tick(k, BP_DAY_START, plan->op[h].key, stir->to - 300); /* ten minutes late */
    ck_assert_uint_eq(at(k, stir->to - 60), h);
    ck_assert_uint_eq(at(k, stir->to), s);
    tick(k, BP_DAY_DONE, stir->key, stir->to);
    ck_assert_uint_eq(at(k, stir->to + 60), h);
    bp_kitchen_free(k);
    done();
}
END_TEST

/* What was going on at once is still going on at once; the checker has tested the mended plan. */
START_TEST(both_go_on_in_a_mended_plan)
{
    static const char *const lines[] = {"07:50 A1 stir until 08:02", "07:50 B1 hull until 08:03"};
    bp_plan *before = NULL;
    int64_t now = 0;
    errs = (bp_errors){0};
    ck_assert_int_eq(bp_show_open(&show, "tests/plan/custard.json", &errs), BP_OK);
    bp_code rc = bp_plan_mend(&plan, &before, &now, show, &lines[_i], 1, &errs);
    ck_assert_msg(rc == BP_OK || (rc == BP_ENOFIT && plan), "%s", errs.item[0].wrong);
    const bp_op *stir = op("plate/bowl/A1/stir"), *hull = op("plate/fruit/B1/hull");
    ck_assert_int_lt(stir->from, now);
    ck_assert_int_lt(hull->from, now);
    ck_assert_int_gt(stir->to, now);
    ck_assert_int_gt(hull->to, now);
    ck_assert_int_eq(stir->to, 8 * 3600 + (_i == 0 ? 120 : 60));
    ck_assert_int_eq(hull->to, 8 * 3600 + (_i == 1 ? 180 : 60));
    bp_plan_free(before);
    done();
}
END_TEST

/* A pot that is lost is stirred again, and what is light goes on beside it. */
START_TEST(what_is_lost_is_watched_anew)
{
    const char *line = "07:50 A1 burnt";
    bp_plan *before = NULL;
    int64_t now = 0;
    errs = (bp_errors){0};
    ck_assert_int_eq(bp_show_open(&show, "tests/plan/custard.json", &errs), BP_OK);
    ck_assert_int_eq(bp_plan_mend(&plan, &before, &now, show, &line, 1, &errs), BP_ENOFIT);
    const bp_op *stir = op("plate/bowl/A1/stir");
    ck_assert_int_eq(stir->from, now);
    ck_assert_int_eq(stir->watch, 40);
    bp_plan_free(before);
    done();
}
END_TEST

Suite *suite_plan_watch(void);
Suite *suite_plan_watch(void)
{
    Suite *s = suite_create("plan/watch");
    TCase *c = tcase_create("watch");
    tcase_set_timeout(c, 0);
    tcase_add_loop_test(c, what_goes_beside_is_done_beside, 0, 7);
    tcase_add_test(c, the_checker_counts_attention_by_itself);
    tcase_add_test(c, the_clock_shows_what_is_to_be_done_meanwhile);
    tcase_add_test(c, what_is_due_comes_before_what_is_in_hand);
    tcase_add_loop_test(c, both_go_on_in_a_mended_plan, 0, 2);
    tcase_add_test(c, what_is_lost_is_watched_anew);
    suite_add_tcase(s, c);
    return s;
}

/* A rehearsal with a stage of its own: tests/plan/rehearsal.json, a show of our own making. */
#include <check.h>
#include <string.h>

#include "backpot/output.h"
#include "support/prep_show.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

static void make(const char *says)
{
    char *text = prep_show_file("tests/plan/rehearsal.json");
    text = prep_show_change(text, "\"rehearsal\": true,", says);
    ck_assert_int_eq(prep_show_plan(&plan, &show, text, 0, &errs), BP_OK);
}

static void done(void)
{
    prep_show_free(&plan, &show);
}

/* By hand: it begins at 06:40 with 5 min of lead; 20 min are stirred and 2 carried before 06:35, so that
 * Ines is called at 06:13 at the latest. Its custard is not that of the hit: 2 l of milk. */
START_TEST(it_has_a_custard_of_its_own)
{
    make("\"rehearsal\": true,");
    ck_assert_uint_eq(plan->airs, 2);
    ck_assert(plan->air[0].rehearsal && !plan->air[1].rehearsal);
    ck_assert_str_eq(plan->air[0].title, "Rehearsal: Custard and berries");
    ck_assert_str_eq(plan->air[1].title, "Custard and berries");
    ck_assert_uint_eq(plan->containers, 3);
    ck_assert_uint_eq(plan->container[0].air, 0);
    ck_assert_int_le(plan->container[0].on_set, (6 * 60 + 35) * 60);
    ck_assert_int_ge(plan->container[1].on_set, (6 * 60 + 41) * 60);
    ck_assert_int_eq(plan->stint[0].call, (6 * 60 + 13) * 60);
    bool milk = false;
    for (uint32_t g = 0; g < plan->goods; g++)
        if (strcmp(plan->good[g].item, "milk") == 0)
            milk = strcmp(plan->good[g].need, "2 l") == 0;
    ck_assert(milk);
    done();
}
END_TEST

/* Nothing but its name hangs on the word. */
START_TEST(it_is_cooked_as_for_a_hit)
{
    int64_t from[64], value[4];
    make("\"rehearsal\": true,");
    uint32_t ops = plan->ops;
    ck_assert_uint_le(ops, 64);
    for (uint32_t o = 0; o < ops; o++)
        from[o] = plan->op[o].from;
    for (uint32_t g = 0; g < 4; g++)
        value[g] = plan->goal[g].value;
    done();
    make("");
    ck_assert(!plan->air[0].rehearsal);
    ck_assert_str_eq(plan->air[0].title, "Custard and berries");
    ck_assert_uint_eq(plan->ops, ops);
    for (uint32_t o = 0; o < ops; o++)
        ck_assert_int_eq(plan->op[o].from, from[o]);
    for (uint32_t g = 0; g < 4; g++)
        ck_assert_int_eq(plan->goal[g].value, value[g]);
    done();
}
END_TEST

START_TEST(the_checker_objects)
{
    make("\"rehearsal\": true,");
    bp_air *air = (bp_air *)&plan->air[0];
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    air->rehearsal = false;
    ck_assert(prep_show_objects(plan, show, "it is a rehearsal in one of show and plan", &errs));
    air->rehearsal = true;
    const char *title = air->title;
    air->title = "Custard and berries";
    ck_assert(prep_show_objects(plan, show, "its title is not that of the show", &errs));
    air->title = "R";
    ck_assert(prep_show_objects(plan, show, "its title is not that of the show", &errs));
    air->title = title;
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    done();
}
END_TEST

Suite *suite_plan_rehearsal(void);
Suite *suite_plan_rehearsal(void)
{
    Suite *s = suite_create("plan/rehearsal");
    TCase *c = tcase_create("rehearsal");
    tcase_add_test(c, it_has_a_custard_of_its_own);
    tcase_add_test(c, it_is_cooked_as_for_a_hit);
    tcase_add_test(c, the_checker_objects);
    suite_add_tcase(s, c);
    return s;
}

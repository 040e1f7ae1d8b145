/* Unattended steps for several containers at once: one pot that is divided, one tray. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"
#include "support/prep_show.h"

#define WORK 4000000 /* enough for a plan, not for the best one */

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

/* A dish that is needed three times: as it comes from the heat, finished, and a spare of that. */
static bp_code make(const char *kitchen, const char *cook, const char *hold)
{
    static char recipe[1200], all[600];
    snprintf(all, sizeof all,
             "\"cooks\": [{\"id\": \"kim\", \"call\": \"04:00\", \"wrap\": \"09:00\"}], "
             "\"vessels\": [{\"id\": \"pot\", \"name\": \"pot\", \"count\": 3}], "
             "\"places\": [{\"id\": \"h\", \"name\": \"cupboard\", \"keeps\": \"hot\", \"count\": "
             "6}], %s",
             kitchen);
    snprintf(recipe, sizeof recipe,
             "{\"id\": \"r\", \"title\": \"R\", \"steps\": ["
             "{\"id\": \"cook\", \"text\": \"Cook it\", %s, \"vessels\": [\"pot\"], "
             "\"hold\": {\"hot\": \"%s\", \"set\": \"20 min\"}}, "
             "{\"id\": \"dress\", \"text\": \"Dress it\", \"kind\": \"active\", \"time\": \"3 "
             "min\"}]}",
             cook, hold);
    char *text =
        prep_show_text(all, recipe,
                       "{\"id\": \"d\", \"title\": \"D\", \"recipe\": \"r\", \"taste\": false, "
                       "\"spares\": {\"finished\": 1}}",
                       PREP_SHOW_IN_AND_OUT("cook"));
    return prep_show_plan(&plan, &show, text, WORK, &errs);
}

static void done(void)
{
    prep_show_free(&plan, &show);
}

/* Operations of that kind for "cook" or, of ovens, at all; the containers that the last serves. */
static uint32_t count(bp_op_kind kind, uint32_t *serves)
{
    uint32_t n = 0;
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].kind == kind) {
            n++;
            *serves = plan->op[o].serves.n;
        }
    return n;
}

static const bp_op *first(bp_op_kind kind)
{
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].kind == kind)
            return &plan->op[o];
    ck_abort_msg("there is none");
}

#define BURNER "\"burners\": 1"
#define SIMMER "\"kind\": \"passive\", \"time\": \"40-45 min\", \"burner\": true"
#define ONE_POSITION                                                                               \
    "\"ovens\": [{\"id\": \"o\", \"name\": \"oven\", \"positions\": 1, \"heats\": \"10 C/min\"}]"
#define BAKE "\"kind\": \"oven\", \"time\": \"20-24 min\", \"oven\": {\"temperature\": \"200 C\"}"

/* One burner: apart, three pots one after the other; in one pot, once. The engine proves that there
 * is no plan apart with so little of the cook's time. */
START_TEST(one_big_pot_is_divided_where_that_is_less_work)
{
    uint32_t n = 0;
    ck_assert_int_eq(make(BURNER, SIMMER, "2 h"), BP_OK);
    ck_assert_uint_eq(count(BP_OP_PASSIVE, &n), 3);
    ck_assert_str_eq(plan->goal[1].name, "crew time");
    int64_t least_apart = plan->goal[1].bound;
    done();
    ck_assert_int_eq(make(BURNER, SIMMER ", \"together\": {\"split\": true}", "2 h"), BP_OK);
    ck_assert_uint_eq(count(BP_OP_PASSIVE, &n), 1);
    ck_assert_uint_eq(n, 3);
    ck_assert_uint_eq(count(BP_OP_LOAD, &n), 1);
    ck_assert_uint_eq(n, 3);
    ck_assert_uint_eq(count(BP_OP_TAKE_OFF, &n), 1);
    ck_assert_uint_eq(n, 3);
    ck_assert_int_lt(plan->goal[1].value, least_apart);
    done();
}
END_TEST

/* One pot comes off at one time. Two dishes are dressed for three minutes each before they are
 * carried: what keeps for four minutes only cannot wait for that, and two burners cook apart. */
START_TEST(what_keeps_too_briefly_is_cooked_apart)
{
    uint32_t n = 0;
    ck_assert_int_eq(make("\"burners\": 3", SIMMER ", \"together\": {\"split\": true}", "2 h"),
                     BP_OK);
    ck_assert_uint_eq(count(BP_OP_PASSIVE, &n), 1);
    done();
    ck_assert_int_eq(make("\"burners\": 3", SIMMER ", \"together\": {\"split\": true}", "3 min"),
                     BP_OK);
    ck_assert_uint_gt(count(BP_OP_PASSIVE, &n), 1);
    done();
    ck_assert_int_eq(make("\"burners\": 3", SIMMER ", \"together\": {}", "2 min"), BP_ENOFIT);
    done();
}
END_TEST

START_TEST(a_tray_holds_two_so_the_third_is_a_second_load)
{
    uint32_t n = 0;
    ck_assert_int_eq(make(ONE_POSITION, BAKE ", \"together\": {\"most\": 2}", "2 h"), BP_OK);
    ck_assert_uint_eq(count(BP_OP_OVEN, &n), 2);
    ck_assert_uint_eq(count(BP_OP_LOAD, &n), 2);
    ck_assert_uint_eq(count(BP_OP_PREHEAT, &n), 1);
    uint32_t served = 0;
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].kind == BP_OP_OVEN)
            served += plan->op[o].serves.n;
    ck_assert_uint_eq(served, 3);
    done();
    ck_assert_int_eq(make(ONE_POSITION, BAKE ", \"together\": {}", "2 h"), BP_OK);
    ck_assert_uint_eq(count(BP_OP_OVEN, &n), 1);
    ck_assert_uint_eq(n, 3);
    ck_assert_uint_eq(count(BP_OP_PREHEAT, &n), 1);
    done();
}
END_TEST

/* However many are in it, an oven is switched on before: a batch of any number has its own time. */
START_TEST(an_oven_is_hot_for_a_batch_of_any_number)
{
    static const char *const batches[] = {
        "\"together\": {\"each\": \"4 min\"}", "\"together\": {\"each\": \"4 min\", \"most\": 2}",
        "\"together\": {\"each\": \"4 min\", \"split\": true}",
        "\"together\": {\"each\": \"4 min\", \"most\": 2, \"split\": true}"};
    char cook[300];
    snprintf(cook, sizeof cook, "%s, %s", BAKE, batches[_i]);
    uint32_t n = 0;
    ck_assert_int_eq(make(ONE_POSITION, cook, "2 h"), BP_OK);
    ck_assert_uint_ge(count(BP_OP_OVEN, &n), 1);
    ck_assert_uint_eq(count(BP_OP_PREHEAT, &n), 1);
    const bp_op *on = first(BP_OP_PREHEAT), *bake = first(BP_OP_OVEN);
    ck_assert_int_ge(bake->from - on->to, 18 * 60); /* 20 to 200 C at 10 a minute */
    done();
}
END_TEST

/* 40 to 45 min for one, and 6 min more for each further one. */
START_TEST(a_bigger_pot_takes_longer)
{
    ck_assert_int_eq(make(BURNER, SIMMER ", \"together\": {\"each\": \"6 min\"}", "2 h"), BP_OK);
    const bp_op *op = first(BP_OP_PASSIVE);
    ck_assert_uint_eq(op->serves.n, 3);
    ck_assert_int_ge(op->to - op->from, 52 * 60);
    ck_assert_int_le(op->to - op->from, 57 * 60);
    ck_assert_int_eq(op->off_least - op->from, 52 * 60);
    ck_assert_int_eq(op->off_most - op->from, 57 * 60);
    done();
    ck_assert_int_eq(
        make(BURNER, SIMMER ", \"together\": {\"each\": \"6 min\", \"most\": 2}", "2 h"), BP_OK);
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].kind == BP_OP_PASSIVE) {
            op = &plan->op[o];
            ck_assert_int_eq(op->off_least - op->from, (34 + 6 * (int64_t)op->serves.n) * 60);
        }
    done();
}
END_TEST

/* Split as it likes, each load takes what it holds. */
START_TEST(a_split_pot_takes_what_it_holds)
{
    ck_assert_int_eq(make("\"burners\": 2",
                          SIMMER ", \"together\": {\"each\": \"30 min\", \"split\": true}", "2 h"),
                     BP_OK);
    uint32_t served = 0;
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].kind == BP_OP_PASSIVE) {
            const bp_op *op = &plan->op[o];
            served += op->serves.n;
            ck_assert_int_eq(op->off_least - op->from, (10 + 30 * (int64_t)op->serves.n) * 60);
            ck_assert_int_ge(op->to, op->off_least);
        }
    ck_assert_uint_eq(served, 3);
    done();
}
END_TEST

/* What is neither on the heat nor told a window stays where it is, divided or not. */
START_TEST(dough_rises_together_and_nobody_ends_it)
{
    uint32_t n = 0;
    ck_assert_int_eq(make(BURNER,
                          "\"kind\": \"passive\", \"time\": \"1 h\", \"keep\": \"hot\", "
                          "\"together\": {}",
                          "2 h"),
                     BP_OK);
    ck_assert_uint_eq(count(BP_OP_PASSIVE, &n), 1);
    ck_assert_uint_eq(n, 3);
    ck_assert_uint_eq(count(BP_OP_TAKE_OFF, &n), 0);
    done();
}
END_TEST

START_TEST(an_uncertain_pot_is_planned_at_its_likely_time)
{
    ck_assert_int_eq(make(BURNER,
                          "\"kind\": \"passive\", \"burner\": true, \"time\": {\"low\": \"30 "
                          "min\", \"likely\": \"40 min\", \"high\": \"60 min\"}, \"together\": "
                          "{\"each\": \"5 min\"}",
                          "2 h"),
                     BP_OK);
    const bp_op *op = first(BP_OP_PASSIVE);
    ck_assert_int_eq(op->to - op->from, 50 * 60);
    ck_assert_ptr_nonnull(plan->chance);
    done();
}
END_TEST

Suite *suite_plan_batch(void);
Suite *suite_plan_batch(void)
{
    Suite *s = suite_create("plan/batch");
    TCase *c = tcase_create("batch");
    tcase_add_test(c, one_big_pot_is_divided_where_that_is_less_work);
    tcase_add_test(c, what_keeps_too_briefly_is_cooked_apart);
    tcase_add_test(c, a_tray_holds_two_so_the_third_is_a_second_load);
    tcase_add_loop_test(c, an_oven_is_hot_for_a_batch_of_any_number, 0, 4);
    tcase_add_test(c, a_bigger_pot_takes_longer);
    tcase_add_test(c, a_split_pot_takes_what_it_holds);
    tcase_add_test(c, dough_rises_together_and_nobody_ends_it);
    tcase_add_test(c, an_uncertain_pot_is_planned_at_its_likely_time);
    suite_add_tcase(s, c);
    return s;
}

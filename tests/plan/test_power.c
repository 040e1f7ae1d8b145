/* Electric circuits bind the plan: tests/plan/shows/one-circuit.json at several amperes.
 *
 * Two plates of 1800 W, a kettle of 2400 W and a blender of 600 W on one circuit of 230 V; watts are
 * amperes times volts (SI: 1 W = 1 V x 1 A). At 40 A all of it may be on at once, at 16 A (3680 W) two
 * plates but no plate with the kettle, at 11 A (2530 W) one thing at a time. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/backpot.h"
#include "model/show.h"
#include "support/prep_show.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

static bp_code make_at(uint32_t amperes, int64_t call_later)
{
    bp_plan_options options = {.work = 4000000};
    memset(&errs, 0, sizeof errs);
    ck_assert_int_eq(bp_show_open(&show, "tests/plan/shows/one-circuit.json", &errs), BP_OK);
    ((bpi_circuit *)&show->kitchen.circuit[0])->amperes = amperes;
    for (uint32_t c = 0; c < show->kitchen.cooks; c++)
        ((bpi_shift *)&show->kitchen.cook[c].shift[0])->call += call_later;
    return bp_plan_make(&plan, show, &options, &errs);
}

static void done(void)
{
    bp_plan_free(plan);
    bp_show_free(show);
}

static const bp_goal *goal(const char *name)
{
    for (uint32_t i = 0; i < plan->goals; i++)
        if (strcmp(plan->goal[i].name, name) == 0)
            return &plan->goal[i];
    ck_abort_msg("no goal is called %s", name);
    return NULL;
}

/* Watts drawn from the first circuit in that minute, by the plan's own words. */
static uint32_t drawn_at(int64_t t)
{
    uint32_t watts = 0;
    for (uint32_t i = 0; i < plan->draws; i++) {
        const bp_op *op = &plan->op[plan->draw[i].op];
        if (plan->draw[i].circuit == 0 && op->from <= t && t < op->to)
            watts += plan->draw[i].watts;
    }
    return watts;
}

static const struct {
    uint32_t amperes, most;
} rows[] = {{40, 9200}, {16, 3680}, {11, 2530}};

START_TEST(never_more_is_drawn_than_the_circuit_carries)
{
    ck_assert_int_eq(make_at(rows[_i].amperes, 0), BP_OK);
    uint32_t most = 0;
    for (int64_t t = -86400; t < 86400; t += 60)
        most = drawn_at(t) > most ? drawn_at(t) : most;
    ck_assert_uint_gt(most, 0);
    ck_assert_uint_le(most, rows[_i].most);
    ck_assert_uint_eq(plan->circuit[0].watts, rows[_i].most);
    ck_assert_uint_eq(plan->circuit[0].most, most);
    ck_assert_uint_eq(drawn_at(plan->circuit[0].most_at), most);
    bool told = false;
    for (uint32_t i = 0; i < plan->findings; i++)
        told |= plan->finding[i].weight == BP_NOTE &&
                strstr(plan->finding[i].text, "the electrician and the local code come first") &&
                strstr(plan->finding[i].text, "circuit wall sockets: at most ");
    ck_assert(told);
    done();
}
END_TEST

/* What may not be on together is done one after the other: the engine proves that it takes longer. */
START_TEST(a_smaller_circuit_costs_crew_time)
{
    int64_t value[3];
    for (size_t i = 0; i < 3; i++) {
        ck_assert_int_eq(make_at(rows[i].amperes, 0), BP_OK);
        ck_assert(goal("crew time")->proved);
        value[i] = goal("crew time")->value;
        done();
    }
    ck_assert_int_le(value[0], value[1]);
    ck_assert_int_lt(value[1], value[2]);
}
END_TEST

/* Called at 07:25 two pots simmer one after the other on 11 A, and the second is late; on 16 A not. */
START_TEST(a_circuit_is_named_where_there_is_no_plan)
{
    ck_assert_int_eq(make_at(16, 6900), BP_OK);
    done();
    ck_assert_int_eq(make_at(11, 6900), BP_ENOFIT);
    bool fact = false, fix = false;
    for (uint32_t i = 0; i < plan->facts; i++)
        fact |=
            strcmp(plan->fact[i].text, "circuit wall sockets carries 11 A at 230 V, 2530 W") == 0 &&
            strcmp(plan->fact[i].pointer, "/kitchen/circuits/0") == 0;
    for (uint32_t i = 0; i < plan->fixes; i++)
        fix |= strstr(plan->fix[i].text, "circuit wall sockets would have to carry ") != NULL;
    ck_assert(fact);
    ck_assert(fix);
    done();
}
END_TEST

/* When the greens take longer than planned, what is plugged in after them waits. */
START_TEST(the_chance_is_played_with_the_circuits)
{
    ck_assert_int_eq(make_at(11, 0), BP_OK);
    ck_assert_ptr_nonnull(plan->chance);
    ck_assert_uint_gt(plan->chance->uncertain, 0);
    ck_assert_uint_gt(plan->chance->days, plan->chance->on_time);
    done();
}
END_TEST

START_TEST(without_memory_no_show_and_no_plan)
{
    prep_show_refuse("tests/plan/shows/one-circuit.json", NULL);
}
END_TEST

Suite *suite_plan_power(void);
Suite *suite_plan_power(void)
{
    Suite *s = suite_create("plan/power");
    TCase *c = tcase_create("power");
    tcase_add_loop_test(c, never_more_is_drawn_than_the_circuit_carries, 0,
                        sizeof rows / sizeof *rows);
    tcase_add_test(c, a_smaller_circuit_costs_crew_time);
    tcase_add_test(c, a_circuit_is_named_where_there_is_no_plan);
    tcase_add_test(c, without_memory_no_show_and_no_plan);
    tcase_add_test(c, the_chance_is_played_with_the_circuits);
    suite_add_tcase(s, c);
    return s;
}

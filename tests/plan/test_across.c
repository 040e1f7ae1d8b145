/* One job for containers of several segments: tests/plan/mill.json, a show of our own making, two
 * segments of three dishes, two of which begin with the same leeks. What the engine proves of it is
 * the check: no figure is compared with another program's. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"
#include "backpot/mend.h"
#include "support/prep_show.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

static char *mill(void)
{
    return prep_show_file("tests/plan/mill.json");
}

#define HOW   "\"together\": {\"once\": \"8 min\", \"each\": \"2 min\", \"across\": true},"
#define KEEPS "\"cold\": \"3 h\", \"counter\": \"1 h\""

static bp_code make(const char *how, const char *keeps)
{
    char *text = prep_show_change(prep_show_change(mill(), HOW, how), KEEPS, keeps);
    return prep_show_plan(&plan, &show, text, 0, &errs);
}

static void done(void)
{
    prep_show_free(&plan, &show);
}

/* Operations of that kind whose key ends in the step; `serves`: most containers of one. */
static uint32_t count(bp_op_kind kind, const char *step, uint32_t *serves)
{
    uint32_t n = 0;
    *serves = 0;
    for (uint32_t o = 0; o < plan->ops; o++) {
        const bp_op *op = &plan->op[o];
        if (op->kind != kind || !strstr(op->key, step))
            continue;
        n++;
        *serves = op->serves.n > *serves ? op->serves.n : *serves;
    }
    return n;
}

static void crew_time_is(int64_t minutes)
{
    ck_assert_str_eq(plan->goal[1].name, "crew time");
    ck_assert(plan->goal[0].proved && plan->goal[1].proved);
    ck_assert_int_eq(plan->goal[0].value, 0);
    ck_assert_int_eq(plan->goal[1].value, minutes);
    ck_assert_int_eq(plan->goal[1].bound, minutes);
}

START_TEST(one_job_for_both_segments_takes_less_crew_time_than_apart)
{
    uint32_t n;
    ck_assert_int_eq(make("", KEEPS), BP_OK); /* each apart: four times ten minutes */
    ck_assert_uint_eq(plan->airs, 2);
    ck_assert_uint_eq(plan->dishes, 3);
    ck_assert_uint_eq(count(BP_OP_ACTIVE, "/slice", &n), 4);
    crew_time_is(77);
    done();
    /* For one appearance at a time: twice twelve. */
    ck_assert_int_eq(make("\"together\": {\"once\": \"8 min\", \"each\": \"2 min\"},", KEEPS),
                     BP_OK);
    ck_assert_uint_eq(count(BP_OP_ACTIVE, "/slice", &n), 2);
    crew_time_is(61);
    done();
    /* For both: once sixteen. */
    ck_assert_int_eq(make(HOW, KEEPS), BP_OK);
    ck_assert_uint_eq(count(BP_OP_ACTIVE, "/slice", &n), 1);
    ck_assert_uint_eq(n, 4);
    crew_time_is(54);
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].serves.n == 4) {
            ck_assert_uint_eq(plan->op[o].air, 0);
            ck_assert_uint_eq(plan->op[o].dish, BP_NO_INDEX);
        }
    done();
}
END_TEST

/* What keeps for twelve minutes cannot be cut before the first segment for the second. */
START_TEST(a_shorter_hold_splits_the_job_again)
{
    uint32_t n;
    ck_assert_int_eq(make(HOW, "\"cold\": \"12 min\", \"counter\": \"12 min\""), BP_OK);
    ck_assert_uint_eq(count(BP_OP_ACTIVE, "/slice", &n), 2);
    ck_assert_uint_lt(n, 4);
    crew_time_is(61);
    done();
}
END_TEST

START_TEST(a_job_takes_no_more_than_it_holds)
{
    uint32_t n;
    ck_assert_int_eq(
        make("\"together\": {\"once\": \"8 min\", \"each\": \"2 min\", \"across\": true, "
             "\"most\": 3},",
             KEEPS),
        BP_OK);
    ck_assert_uint_eq(count(BP_OP_ACTIVE, "/slice", &n), 2);
    ck_assert_uint_le(n, 3);
    done();
}
END_TEST

/* One pot for both segments: one on, one off, and what waits from one batch to the next waits as one. */
START_TEST(one_pot_is_divided_between_segments)
{
    uint32_t n;
    char *text = prep_show_change(
        mill(), "      {\"id\": \"sweat\"",
        "      {\"id\": \"boil\", \"text\": \"Boil\", \"kind\": \"passive\", \"time\": \"20 "
        "min\", \"burner\": true, \"vessels\": [\"pan\"], \"together\": {\"across\": true}, "
        "\"hold\": {\"counter\": \"1 h\"}},\n      {\"id\": \"sweat\"");
    text = prep_show_change(text, "\"burners\": 2", "\"burners\": 1");
    ck_assert_int_eq(prep_show_plan(&plan, &show, text, 0, &errs), BP_OK);
    ck_assert_uint_eq(count(BP_OP_PASSIVE, "/boil", &n), 1);
    ck_assert_uint_eq(n, 4);
    ck_assert_uint_eq(count(BP_OP_LOAD, "/boil", &n), 1);
    ck_assert_uint_eq(n, 4);
    ck_assert_uint_eq(count(BP_OP_TAKE_OFF, "/boil", &n), 1);
    ck_assert_uint_eq(n, 4);
    uint32_t waits = count(BP_OP_WAIT, "/wait/slice/boil", &n);
    ck_assert(waits == 0 || (waits == 1 && n == 4));
    done();
}
END_TEST

/* The key of the batch stays that of before, in its own segment, though its first is made anew. */
START_TEST(a_container_lost_from_such_a_batch_is_made_alone)
{
    static const char *const lost[] = {"A1", "C1"};
    char line[32];
    snprintf(line, sizeof line, "07:57 %s burnt", lost[_i]);
    const char *lines[] = {line};
    bp_plan *before;
    int64_t now;
    errs = (bp_errors){0};
    ck_assert_int_eq(bp_show_open(&show, "tests/plan/mill.json", &errs), BP_OK);
    ck_assert_int_eq(bp_plan_mend(&plan, &before, &now, show, lines, 1, &errs), BP_ENOFIT);
    uint32_t found = 0;
    for (uint32_t o = 0; o < plan->ops; o++) {
        const bp_op *op = &plan->op[o];
        if (strcmp(op->key, "early/rye/A1/slice") == 0)
            found += op->serves.n == 3;
        else if (strcmp(op->key, _i ? "late/eggs/C1.again/slice" : "early/rye/A1.again/slice") == 0)
            found += op->serves.n == 1 && op->from >= now;
    }
    ck_assert_uint_eq(found, 2);
    bp_plan_free(before);
    done();
}
END_TEST

/* The checker does not take a batch for several appearances where the show does not say so, nor one
 * that is said to be of another appearance than the first. */
START_TEST(the_checker_objects)
{
    ck_assert_int_eq(make(HOW, KEEPS), BP_OK);
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].serves.n == 4) {
            ((bp_op *)&plan->op[o])->air = 1;
            ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_EINTERNAL);
            ck_assert_ptr_nonnull(strstr(errs.item[0].wrong, "the first of its containers"));
            ((bp_op *)&plan->op[o])->air = 0;
        }
    bp_show_free(show);
    char *text = prep_show_change(mill(), ", \"across\": true", ", \"split\": true");
    memset(&errs, 0, sizeof errs);
    ck_assert_int_eq(bp_show_read(&show, text, strlen(text), "t.json", NULL, &errs), BP_OK);
    free(text);
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_EINTERNAL);
    ck_assert_ptr_nonnull(strstr(errs.item[0].wrong, "different recipes or appearances"));
    done();
}
END_TEST

Suite *suite_plan_across(void);
Suite *suite_plan_across(void)
{
    Suite *s = suite_create("plan/across");
    TCase *c = tcase_create("across");
    tcase_add_test(c, one_job_for_both_segments_takes_less_crew_time_than_apart);
    tcase_add_test(c, a_shorter_hold_splits_the_job_again);
    tcase_add_test(c, a_job_takes_no_more_than_it_holds);
    tcase_add_test(c, one_pot_is_divided_between_segments);
    tcase_add_loop_test(c, a_container_lost_from_such_a_batch_is_made_alone, 0, 2);
    tcase_add_test(c, the_checker_objects);
    suite_add_tcase(s, c);
    return s;
}

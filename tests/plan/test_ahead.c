/* What is cooked the day before, cooled, kept cold and heated again, where that serves the plan. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"

#define SHOW "shows/lock-keeper-day-ahead.json"
#define WORK 4000000 /* enough for a plan, not for the best one */

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

/* The shipped show, with `other` wherever `was` stands; pairs, ended by NULL. */
static bp_code read_changed(const char *const *pairs)
{
    static char text[20000], next[20000];
    FILE *f = fopen(SHOW, "r");
    ck_assert_ptr_nonnull(f);
    size_t len = fread(text, 1, sizeof text - 1, f);
    fclose(f);
    text[len] = '\0';
    for (; pairs && pairs[0]; pairs += 2) {
        size_t to = 0, was = strlen(pairs[0]), other = strlen(pairs[1]);
        ck_assert_msg(strstr(text, pairs[0]) != NULL, "%s", pairs[0]);
        for (const char *at = text; *at;) {
            bool here = strncmp(at, pairs[0], was) == 0;
            ck_assert_uint_lt(to + other + 1, sizeof next);
            memcpy(next + to, here ? pairs[1] : at, here ? other : 1);
            to += here ? other : 1;
            at += here ? was : 1;
        }
        next[to] = '\0';
        memcpy(text, next, to + 1);
    }
    memset(&errs, 0, sizeof errs);
    return bp_show_read(&show, text, strlen(text), SHOW, NULL, &errs);
}

static bp_code make(const char *const *pairs)
{
    bp_plan_options options = {.work = WORK, .no_fixes = true, .days = 1};
    ck_assert_msg(read_changed(pairs) == BP_OK, "%s", errs.item[0].wrong);
    return bp_plan_make(&plan, show, &options, &errs);
}

static void done(void)
{
    bp_plan_free(plan);
    bp_show_free(show);
    plan = NULL;
    show = NULL;
}

/* The operation of that key; NULL: there is none. */
static const bp_op *op_of(const char *box, const char *rest)
{
    char key[100];
    snprintf(key, sizeof key, "supper/soup/%s/%s", box, rest);
    for (uint32_t o = 0; o < plan->ops; o++)
        if (strcmp(plan->op[o].key, key) == 0)
            return &plan->op[o];
    return NULL;
}

static const bp_op *must_have(const char *box, const char *rest)
{
    const bp_op *op = op_of(box, rest);
    ck_assert_msg(op != NULL, "%s has no %s", box, rest);
    return op;
}

static bool stands_in(const bp_op *op, bp_thing_kind kind)
{
    for (uint32_t i = 0; i < op->uses.n; i++)
        if (plan->thing[plan->index[op->uses.first + i]].kind == kind)
            return true;
    return false;
}

static const bp_finding *finding(const char *code, const char *rule)
{
    for (uint32_t i = 0; i < plan->findings; i++) {
        const bp_finding *x = &plan->finding[i];
        if (x->container != BP_NO_INDEX && strcmp(plan->container[x->container].code, code) == 0 &&
            strstr(x->rule, rule))
            return x;
    }
    return NULL;
}

static const char *const soups[] = {"A2", "A3", "A4"};

START_TEST(an_early_hit_has_its_soup_from_the_day_before)
{
    ck_assert_int_eq(make(NULL), BP_OK);
    const char *box = soups[_i];
    const bp_op *pour = must_have(box, "pour"), *chill = must_have(box, "chill");
    const bp_op *store = must_have(box, "wait/chill/reheat"), *again = must_have(box, "reheat");
    ck_assert_int_lt(chill->to, 0); /* before midnight */
    ck_assert_uint_ne(pour->person, BP_NO_INDEX);
    ck_assert_uint_ne(must_have(box, "chill/load")->person, BP_NO_INDEX);
    ck_assert_uint_ne(must_have(box, "chill/take-off")->person, BP_NO_INDEX);
    ck_assert(stands_in(pour, BP_VESSEL));
    ck_assert(stands_in(chill, BP_PLACE_COUNTER));
    ck_assert(stands_in(store, BP_PLACE_COLD));
    ck_assert_int_lt(store->from, 0);
    ck_assert_int_gt(store->to, 0);
    ck_assert_int_gt(again->from, 0);
    ck_assert(stands_in(again, BP_BURNER));
    ck_assert_int_ge(again->to - again->from, 14 * 60);
    ck_assert_int_le(again->to - again->from, 20 * 60);
    /* FDA Food Code 2022, 3-501.14(A): 57 to 21 °C within 2 h, to 5 °C within 6 h in all. */
    const bp_finding *cooled = finding(box, "3-501.14");
    ck_assert_ptr_nonnull(cooled);
    ck_assert_int_eq(cooled->weight, BP_NOTE);
    ck_assert_ptr_nonnull(strstr(cooled->text, "21 °C (70 °F) after "));
    ck_assert_ptr_nonnull(strstr(cooled->text, "5 °C (41 °F) after "));
    ck_assert(!plan->stopped);
    done();
}
END_TEST

static const char *const hours[] = {"\"hit\": \"07:20\"", "\"hit\": \"10:20\"", "\"09:00\"",
                                    "\"12:00\"", NULL};

START_TEST(a_late_hit_has_it_fresh_for_that_is_less_work)
{
    ck_assert_int_eq(make(hours), BP_OK);
    for (size_t i = 0; i < sizeof soups / sizeof *soups; i++) {
        ck_assert_ptr_null(op_of(soups[i], "pour"));
        ck_assert_ptr_null(op_of(soups[i], "chill"));
        ck_assert_ptr_null(op_of(soups[i], "reheat"));
    }
    uint32_t simmered = 0;
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].kind == BP_OP_PASSIVE) {
            simmered += plan->op[o].serves.n;
            ck_assert_int_gt(plan->op[o].from, 0);
        }
    ck_assert_uint_eq(simmered, 3);
    for (uint32_t i = 0; i < plan->stints; i++)
        ck_assert_int_gt(plan->stint[i].wrap, 0); /* nobody the evening before */
    done();
}
END_TEST

/* Food on its way down too slowly: no pan of 20 cm is cold in time in a refrigerator. */
START_TEST(a_deep_pan_is_a_stop_that_names_the_section_and_a_cure)
{
    static const char *const deep[] = {"\"in\": \"ice bath\", \"depth\": \"5 cm\"",
                                       "\"in\": \"refrigerator\", \"depth\": \"20 cm\"", NULL};
    ck_assert_int_eq(make(deep), BP_EUNSAFE);
    ck_assert(plan->stopped);
    const bp_finding *x = finding(soups[_i], "3-501.14");
    ck_assert_ptr_nonnull(x);
    ck_assert_int_eq(x->weight, BP_STOP);
    ck_assert_ptr_nonnull(strstr(x->text, "shallow pans, at most "));
    ck_assert_ptr_nonnull(strstr(x->text, "ice bath"));
    ck_assert_ptr_nonnull(strstr(x->text, "smaller batch"));
    done();
}
END_TEST

START_TEST(without_a_hold_that_lasts_the_night_there_is_no_plan)
{
    static const char *const brief[] = {"\"cold\": \"2 d\"", "\"cold\": \"4 h\"", NULL};
    ck_assert_int_eq(make(brief), BP_ENOFIT);
    ck_assert_uint_gt(plan->facts, 0);
    done();
}
END_TEST

/* It takes its place in the refrigerator: with two for three of them, one is made some other way. */
START_TEST(the_refrigerator_has_room_for_so_many)
{
    static const char *const small[] = {"\"keeps\": \"cold\", \"count\": 6",
                                        "\"keeps\": \"cold\", \"count\": 2", NULL};
    ck_assert_int_eq(make(small), BP_ENOFIT);
    done();
}
END_TEST

START_TEST(it_may_be_heated_again_in_an_oven)
{
    static const char *const oven[] = {
        "\"kind\": \"passive\", \"time\": \"14-20 min\", \"ahead\": \"simmer\",\n"
        "         \"burner\": true, \"vessels\": [\"pot\"]",
        "\"kind\": \"oven\", \"time\": \"25-30 min\", \"ahead\": \"simmer\", "
        "\"oven\": {\"temperature\": \"210 C\"}",
        "\"positions\": 2", "\"positions\": 4", NULL};
    ck_assert_int_eq(make(oven), BP_OK);
    uint32_t heats = 0;
    for (uint32_t o = 0; o < plan->ops; o++)
        heats += plan->op[o].kind == BP_OP_PREHEAT;
    ck_assert_uint_ge(heats, 1);
    for (size_t i = 0; i < sizeof soups / sizeof *soups; i++)
        ck_assert(stands_in(must_have(soups[i], "reheat"), BP_OVEN));
    done();
}
END_TEST

/* Where it is not heated again, nobody switches an oven on for it. */
START_TEST(an_oven_is_not_heated_for_what_is_left_out)
{
    static const char *const oven[] = {
        "\"kind\": \"passive\", \"time\": \"14-20 min\", \"ahead\": \"simmer\",\n"
        "         \"burner\": true, \"vessels\": [\"pot\"]",
        "\"kind\": \"oven\", \"time\": \"25-30 min\", \"ahead\": \"simmer\", "
        "\"oven\": {\"temperature\": \"210 C\"}",
        "\"hit\": \"07:20\"",
        "\"hit\": \"10:20\"",
        "\"09:00\"",
        "\"12:00\"",
        NULL};
    ck_assert_int_eq(make(oven), BP_OK);
    uint32_t heats = 0, bakes = 0;
    for (uint32_t o = 0; o < plan->ops; o++) {
        heats += plan->op[o].kind == BP_OP_PREHEAT;
        bakes += plan->op[o].kind == BP_OP_OVEN;
    }
    ck_assert_uint_eq(bakes, 1); /* the bread */
    ck_assert_uint_eq(heats, 1);
    done();
}
END_TEST

/* The checker: half of the way is no way. */
START_TEST(each_step_of_the_way_is_asked_for)
{
    static const char *const parts[] = {
        "pour", "chill", "reheat", "wait/chill/reheat", "chill/load", "reheat/take-off"};
    ck_assert_int_eq(make(NULL), BP_OK);
    bp_op *op = (bp_op *)must_have("A3", parts[_i]);
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    bp_slice serves = op->serves;
    op->serves = must_have("A4", "pour")->serves;
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_EINTERNAL);
    op->serves = serves;
    op->from += 60;
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_EINTERNAL);
    op->from -= 60;
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    done();
}
END_TEST

/* It is no state of the dish, so no beat can show or do it. */
START_TEST(no_beat_names_what_may_be_left_out)
{
    static const char *const beats[][2] = {{"\"does\": [\"cut\"]", "\"does\": [\"pour\"]"},
                                           {"{\"after\": \"simmer\"}", "{\"after\": \"chill\"}"}};
    const char *const pairs[] = {beats[_i][0], beats[_i][1], NULL};
    ck_assert_int_eq(read_changed(pairs), BP_EVALUE);
    ck_assert_uint_eq(errs.n, 1);
    ck_assert_ptr_nonnull(strstr(errs.item[0].wrong, "may be left out"));
}
END_TEST

Suite *suite_plan_ahead(void);
Suite *suite_plan_ahead(void)
{
    Suite *s = suite_create("plan/ahead");
    TCase *c = tcase_create("ahead");
    tcase_add_loop_test(c, an_early_hit_has_its_soup_from_the_day_before, 0, 3);
    tcase_add_test(c, a_late_hit_has_it_fresh_for_that_is_less_work);
    tcase_add_loop_test(c, a_deep_pan_is_a_stop_that_names_the_section_and_a_cure, 0, 3);
    tcase_add_test(c, without_a_hold_that_lasts_the_night_there_is_no_plan);
    tcase_add_test(c, the_refrigerator_has_room_for_so_many);
    tcase_add_test(c, it_may_be_heated_again_in_an_oven);
    tcase_add_test(c, an_oven_is_not_heated_for_what_is_left_out);
    tcase_add_loop_test(c, each_step_of_the_way_is_asked_for, 0, 6);
    tcase_add_loop_test(c, no_beat_names_what_may_be_left_out, 0, 2);
    suite_add_tcase(s, c);
    return s;
}

#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/engine.h"
#include "support/kitchen_day.h"
#include "support/small_problem.h"

static bp_errors errs;
static kitchen_day d;
static bp_eng_solution *s;
static char why[200];

static void setup(void)
{
    ck_assert(kitchen_day_init(&d, 7, 30));
    ck_assert_int_eq(bp_eng_solve(&s, &d.p, NULL, &errs), BP_OK);
    ck_assert(bp_eng_verify(&d.p, s, NULL, why, sizeof why));
    ck_assert_str_eq(why, "");
}

static void teardown(void)
{
    bp_eng_solution_free(s);
    kitchen_day_release(&d);
}

static void refused_because(const char *part)
{
    ck_assert(!bp_eng_verify(&d.p, s, NULL, why, sizeof why));
    ck_assert_msg(strstr(why, part) != NULL, "%s", why);
    ck_assert(!bp_eng_verify(&d.p, s, NULL, NULL, 0));
}

START_TEST(every_value_that_is_off_by_one_is_seen)
{
    for (uint32_t k = 0; k < d.p.levels; k++)
        for (int by = -1; by <= 1; by += 2) {
            s->value[k] += by;
            refused_because("level");
            s->value[k] -= by;
        }
}
END_TEST

/* In a kitchen day everything hangs together: no step can move alone without breaking a rule, or at
 * least changing a value. */
START_TEST(every_step_that_moves_alone_is_seen)
{
    uint32_t seen = 0, kept = 0;
    for (uint32_t a = 0; a < d.p.activities; a++)
        for (int by = -40; by <= 40; by += 20) {
            if (by == 0)
                continue;
            s->start[a] += by;
            if (bp_eng_verify(&d.p, s, NULL, why, sizeof why))
                kept++; /* a step with slack, such as measuring */
            else
                seen++;
            s->start[a] -= by;
        }
    ck_assert_uint_gt(seen, 3 * kept);
}
END_TEST

START_TEST(lengths_and_options_out_of_range_are_seen)
{
    for (uint32_t a = 0; a < d.p.activities; a++) {
        s->length[a] += 1000;
        refused_because("activity");
        s->length[a] -= 1000;
        uint32_t o = s->option[a];
        s->option[a] = d.p.activity[a].options;
        refused_because("option");
        s->option[a] = o;
        int32_t t = s->start[a];
        s->start[a] = -1;
        refused_because("within 0");
        s->start[a] = t;
    }
    s->activities--;
    refused_because("no schedule");
    s->activities++;
}
END_TEST

/* Each rule alone, on two activities that can break nothing else. */
START_TEST(each_rule_is_tested)
{
    small_problem p;
    int32_t start[2] = {0, 0}, length[2] = {4, 4};
    uint32_t opt[2] = {0, 0};
    bp_eng_solution t = {.activities = 2, .start = start, .length = length, .option = opt};
    static const int32_t change[4] = {0, 3, 5, 0};
    small_init(&p, 20, 2, 0);
    uint32_t r = small_resource(&p, 2, 1);
    small_task(&p, 4, r, 1);
    small_task(&p, 4, r, 2);
    bool off[2] = {false, true};
    ck_assert(!bp_eng_verify(&p.p, &t, NULL, why, sizeof why));
    ck_assert_str_eq(why, "resource 0 is overloaded at 0");
    ck_assert(bp_eng_verify(&p.p, &t, off, why, sizeof why));
    start[1] = 4;
    ck_assert(bp_eng_verify(&p.p, &t, NULL, why, sizeof why));
    small_span(&p, r, 5, 7, 1, 1);
    ck_assert(!bp_eng_verify(&p.p, &t, NULL, why, sizeof why));
    ck_assert_str_eq(why, "resource 0 is overloaded at 5");
    ck_assert(bp_eng_verify(&p.p, &t, off, why, sizeof why));
    start[1] = 7;
    small_lag(&p, 0, BP_ENG_END, 1, BP_ENG_START, 4, 1);
    ck_assert(!bp_eng_verify(&p.p, &t, NULL, why, sizeof why));
    ck_assert_str_eq(why, "lag 0 does not hold");
    ck_assert(bp_eng_verify(&p.p, &t, off, why, sizeof why));
    start[1] = 8;
    ck_assert(bp_eng_verify(&p.p, &t, NULL, why, sizeof why));
    memcpy(p.change, change, sizeof change);
    p.p.changes = 4;
    p.resource[r].states = 2;
    p.resource[r].fact_change = 1;
    p.need[0].state = 1;
    p.need[1].state = 0;
    start[1] = 9; /* from state 1 to 0 takes 5: not before 9 */
    ck_assert(bp_eng_verify(&p.p, &t, NULL, why, sizeof why));
    start[1] = 8;
    ck_assert(!bp_eng_verify(&p.p, &t, NULL, why, sizeof why));
    ck_assert_str_eq(why, "activities 0 and 1 meet on resource 0 in different states");
    ck_assert(bp_eng_verify(&p.p, &t, off, why, sizeof why));
    start[1] = 9;
    p.literal[0] = (bp_eng_literal){0, 0, true};
    p.p.literals = 1;
    p.clause[0] = (bp_eng_clause){0, 1, 1};
    p.p.clauses = 1;
    ck_assert(!bp_eng_verify(&p.p, &t, NULL, why, sizeof why));
    ck_assert_str_eq(why, "clause 0 does not hold");
    ck_assert(bp_eng_verify(&p.p, &t, off, why, sizeof why));
}
END_TEST

static small_problem rules;
static int32_t begins[2], lasts[2];
static uint32_t takes[2];

static bool good(const bool *off)
{
    const bp_eng_solution t = {
        .activities = rules.p.activities, .start = begins, .length = lasts, .option = takes};
    return bp_eng_verify(&rules.p, &t, off, why, sizeof why);
}

/* The length of an option, with its fact on and off. */
START_TEST(a_length_is_held_to_its_option)
{
    const bool off[2] = {false, true};
    small_init(&rules, 20, 2, 0);
    small_activity(&rules);
    small_option(&rules, 2, 4, 1, -1);
    begins[0] = 0;
    takes[0] = 0;
    lasts[0] = 1;
    ck_assert(!good(NULL));
    ck_assert_str_eq(why, "activity 0 is shorter than its option allows");
    ck_assert(!good(off)); /* the fact is that of the upper limit alone */
    for (lasts[0] = 2; lasts[0] <= 4; lasts[0]++)
        ck_assert(good(NULL));
    ck_assert(!good(NULL));
    ck_assert_str_eq(why, "activity 0 is longer than its option allows");
    ck_assert(good(off));
    lasts[0] = -1;
    ck_assert(!good(off));
    ck_assert_str_eq(why, "activity 0 is not within 0 and the horizon");
    lasts[0] = 20;
    ck_assert(good(off));
    begins[0] = 1;
    ck_assert(!good(off));
    ck_assert_str_eq(why, "activity 0 is not within 0 and the horizon");
}
END_TEST

/* What has no length uses nothing; a span may end within an activity and leave too little. */
START_TEST(a_resource_is_used_while_something_runs)
{
    small_init(&rules, 20, 1, 0);
    uint32_t r = small_resource(&rules, 1, 0);
    small_activity(&rules);
    small_option(&rules, 0, 4, 0, -1);
    small_need(&rules, r, 2, -1);
    begins[0] = 0;
    takes[0] = 0;
    lasts[0] = 0;
    ck_assert(good(NULL));
    small_span(&rules, r, 0, 3, 2, 0);
    lasts[0] = 3;
    ck_assert(good(NULL));
    lasts[0] = 4;
    ck_assert(!good(NULL));
    ck_assert_str_eq(why, "resource 0 is overloaded at 3");
}
END_TEST

/* A state overtaken: the later of the two by start ends first, and too soon all the same. */
START_TEST(states_exclude_each_other_whichever_comes_first)
{
    static const int32_t change[4] = {0, 1, 2, 0};
    small_init(&rules, 20, 1, 0);
    uint32_t oven = small_resource(&rules, 2, 0);
    memcpy(rules.change, change, sizeof change);
    rules.p.changes = 4;
    rules.resource[oven].states = 2;
    for (int32_t state = 0; state < 2; state++) {
        small_activity(&rules);
        small_option(&rules, 5, 5, 0, -1);
        small_need(&rules, oven, 1, state);
    }
    lasts[0] = lasts[1] = 5;
    takes[0] = takes[1] = 0;
    for (begins[0] = 0; begins[0] <= 15; begins[0]++)
        for (begins[1] = 0; begins[1] <= 15; begins[1]++) {
            bool fine = begins[1] >= begins[0] + 6 || begins[0] >= begins[1] + 7;
            ck_assert_msg(good(NULL) == fine, "%d and %d: %s", begins[0], begins[1], why);
        }
}
END_TEST

/* The value of each kind of term, counted on paper. */
START_TEST(values_are_filled_in_as_they_are_tested)
{
    small_init(&rules, 20, 1, 3);
    uint32_t r = small_resource(&rules, 2, 0), unused = small_resource(&rules, 1, 0);
    for (int32_t who = 0; who < 2; who++) {
        small_activity(&rules);
        small_option(&rules, 0, 9, 0, -1);
        small_option(&rules, 1, 9, 0, who);
        small_need(&rules, r, 1, -1);
    }
    begins[0] = 3, lasts[0] = 4, takes[0] = 1;
    begins[1] = 5, lasts[1] = 6, takes[1] = 1;
    small_term(&rules, 0, BP_ENG_STARTS, 0, 0, 0, 1);     /* 3  */
    small_term(&rules, 0, BP_ENG_ENDS, 1, 0, 0, 10);      /* 110 */
    small_term(&rules, 0, BP_ENG_LASTS, 1, 0, 0, 100);    /* 600 */
    small_term(&rules, 1, BP_ENG_LATE, 1, 0, 9, 1);       /* 2  */
    small_term(&rules, 1, BP_ENG_LATE, 0, 0, 9, 10);      /* 0  */
    small_term(&rules, 1, BP_ENG_CALL, r, 0, 10, 100);    /* 700 */
    small_term(&rules, 1, BP_ENG_REACH, r, 0, 0, 1000);   /* 8000 */
    small_term(&rules, 1, BP_ENG_CALL, unused, 0, 10, 1); /* 0  */
    small_term(&rules, 2, BP_ENG_TAKES, 0, 1, 0, 1);      /* 1  */
    small_term(&rules, 2, BP_ENG_TAKES, 0, 0, 0, 10);     /* 0  */
    small_term(&rules, 2, BP_ENG_SPLIT, 0, 1, 0, 100);    /* 100 */
    small_term(&rules, 2, BP_ENG_MOVED, 0, 0, 3, 1000);   /* 0  */
    small_term(&rules, 2, BP_ENG_MOVED, 1, 0, 3, 10000);  /* 10000 */
    bp_eng_solution t = {.activities = 2, .start = begins, .length = lasts, .option = takes};
    bp_eng_value(&rules.p, &t);
    ck_assert_int_eq(t.value[0], 713);
    ck_assert_int_eq(t.value[1], 8702);
    ck_assert_int_eq(t.value[2], 10101);
    ck_assert(bp_eng_verify(&rules.p, &t, NULL, why, sizeof why));
    takes[1] = 0; /* by nobody, on nothing: no split, and the resource is in use from 3 to 7 */
    bp_eng_value(&rules.p, &t);
    ck_assert_int_eq(t.value[1], 4702);
    ck_assert_int_eq(t.value[2], 10001);
    ck_assert(bp_eng_verify(&rules.p, &t, NULL, why, sizeof why));
}
END_TEST

START_TEST(an_answer_without_arrays_is_no_schedule)
{
    small_init(&rules, 20, 1, 0);
    small_task(&rules, 0, 0, 0);
    begins[0] = lasts[0] = 0;
    takes[0] = 0;
    bp_eng_solution t = {.activities = 1, .start = begins, .length = lasts, .option = takes};
    ck_assert(bp_eng_verify(&rules.p, &t, NULL, why, sizeof why));
    t.start = NULL;
    ck_assert(!bp_eng_verify(&rules.p, &t, NULL, why, sizeof why));
    ck_assert_str_eq(why, "there is no schedule for 1 activities");
    t.start = begins, t.length = NULL;
    ck_assert(!bp_eng_verify(&rules.p, &t, NULL, NULL, 0));
    t.length = lasts, t.option = NULL;
    ck_assert(!bp_eng_verify(&rules.p, &t, NULL, why, 0));
}
END_TEST

/* More than the checker keeps a list of: one after the other, an oven that changes halfway. */
START_TEST(a_resource_of_many_users_is_tested)
{
    enum { MANY = 1500, HALF = MANY / 2 };
    static bp_eng_activity activity[MANY];
    static bp_eng_option option[MANY];
    static bp_eng_need need[MANY];
    static int32_t start[MANY], length[MANY];
    static uint32_t taken[MANY];
    static const int32_t change[] = {0, 2, 2, 0};
    static const bp_eng_resource oven = {.capacity = 1, .states = 2};
    for (uint32_t a = 0; a < MANY; a++) {
        activity[a] = (bp_eng_activity){a, 1};
        option[a] = (bp_eng_option){a, 1, 1, 1, 0, -1};
        need[a] = (bp_eng_need){0, 1, a >= HALF};
        start[a] = (int32_t)a + (a >= HALF ? 2 : 0);
        length[a] = 1;
    }
    bp_eng_problem p = {.horizon = MANY + 2,
                        .facts = 1,
                        .activity = activity,
                        .activities = MANY,
                        .option = option,
                        .options = MANY,
                        .need = need,
                        .needs = MANY,
                        .resource = &oven,
                        .resources = 1,
                        .change = change,
                        .changes = 4};
    bp_eng_solution t = {.activities = MANY, .start = start, .length = length, .option = taken};
    ck_assert(bp_eng_verify(&p, &t, NULL, why, sizeof why));
    start[MANY - 1]--;
    ck_assert(!bp_eng_verify(&p, &t, NULL, why, sizeof why));
    ck_assert_msg(strstr(why, "overloaded at 1500") != NULL, "%s", why);
    start[MANY - 1]++;
    need[HALF].state = 0;
    need[HALF + 1].state = 0;
    ck_assert(!bp_eng_verify(&p, &t, NULL, why, sizeof why));
    ck_assert_msg(strstr(why, "activities 750 and 752 meet") != NULL, "%s", why);
}
END_TEST

Suite *suite_engine_verify(void);
Suite *suite_engine_verify(void)
{
    Suite *suite = suite_create("engine/verify");
    TCase *c = tcase_create("mutations");
    tcase_add_checked_fixture(c, setup, teardown);
    tcase_add_test(c, every_value_that_is_off_by_one_is_seen);
    tcase_add_test(c, every_step_that_moves_alone_is_seen);
    tcase_add_test(c, lengths_and_options_out_of_range_are_seen);
    tcase_add_test(c, each_rule_is_tested);
    tcase_add_test(c, a_resource_of_many_users_is_tested);
    suite_add_tcase(suite, c);
    c = tcase_create("rules");
    tcase_add_test(c, a_length_is_held_to_its_option);
    tcase_add_test(c, a_resource_is_used_while_something_runs);
    tcase_add_test(c, states_exclude_each_other_whichever_comes_first);
    tcase_add_test(c, values_are_filled_in_as_they_are_tested);
    tcase_add_test(c, an_answer_without_arrays_is_no_schedule);
    suite_add_tcase(suite, c);
    return suite;
}

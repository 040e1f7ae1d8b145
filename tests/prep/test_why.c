/* What is said where a show has no plan: the conflict, the changes, the late schedule, and that none
 * of it takes more counted work than was set aside. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/each.h"
#include "base/limits.h"
#include "base/memory.h"
#include "prep/cure.h"
#include "prep/ease.h"
#include "prep/fact.h"
#include "prep/why.h"
#include "support/prep_show.h"

#define COOK(id, name, call, wrap)                                                                 \
    "{\"id\": \"" id "\", \"name\": \"" name "\", \"call\": \"" call "\", \"wrap\": \"" wrap "\"}"
#define KITCHEN(cooks, burners)                                                                    \
    "\"cooks\": [" cooks "], \"burners\": " burners ", \"ovens\": [{\"id\": \"o\", \"name\": "     \
    "\"oven\", \"positions\": 1, \"heats\": \"10 C/min\", \"cools\": \"5 C/min\", \"cold\": "      \
    "\"20 C\"}], \"vessels\": [{\"id\": \"pot\", \"name\": \"pot\", \"count\": 2}],"               \
    "\"places\": [{\"id\": \"h\", \"name\": \"hot\", \"keeps\": \"hot\", \"count\": 2}]"
#define STEP(id, rest)   "{\"id\": \"" id "\", \"text\": \"" id "\", " rest "}"
#define ACTIVE(id, time) STEP(id, "\"kind\": \"active\", \"time\": \"" time "\"")
#define RECIPE(steps)    "{\"id\": \"r\", \"title\": \"R\", \"steps\": [" steps "]}"
#define DISH             "{\"id\": \"d\", \"title\": \"D\", \"recipe\": \"r\", \"taste\": false}"
#define FINISHED                                                                                   \
    "{\"id\": \"end\", \"text\": \"end\", \"dish\": \"d\", \"shows\": \"finished\", \"time\": "    \
    "\"20-180 s\"}"
#define BO(call, wrap) COOK("b", "Bo", call, wrap)

static prep_show p;
static bpi_why_not *why;

static void explain_of(const char *kitchen, const char *recipe, const char *dish, bool cures)
{
    static const bp_eng_limits none;
    prep_show_init(&p, prep_show_text(kitchen, recipe, dish, FINISHED));
    bpi_schedule *s = NULL;
    ck_assert_int_eq(bpi_solve(&s, p.arena, p.prep, &none, NULL), BP_OK);
    ck_assert_int_eq(s->status, BP_ENG_INFEASIBLE);
    ck_assert_int_eq(bpi_why_make(&why, p.arena, p.prep, &none, cures, 1, NULL), BP_OK);
}

static void explain(const char *kitchen, const char *recipe, bool cures)
{
    explain_of(kitchen, recipe, DISH, cures);
}

static void done(void)
{
    prep_show_release(&p);
}

static bool offers(const char *text)
{
    for (uint32_t i = 0; i < why->cures.n; i++)
        if (strcmp(why->cures.cure[i].text, text) == 0)
            return true;
    return false;
}

static bool names(const char *text)
{
    for (uint32_t i = 0; i < why->facts; i++) {
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_fact_put(&t, p.prep, why->fact[i]);
        bool same = t.s && strcmp(t.s, text) == 0;
        bpi_text_release(&t);
        if (same)
            return true;
    }
    return false;
}

static uint32_t fact_of(bpi_fact_kind kind)
{
    for (uint32_t f = 1; f < p.prep->problem.facts; f++)
        if (p.prep->fact[f].kind == kind)
            return f;
    ck_abort_msg("no such fact");
    return 0;
}

/* One pot for two: nobody is there to take it off inside its window, which a longer one would help. */
START_TEST(the_window_of_a_batch_is_a_fact)
{
    explain_of(
        "\"cooks\": [{\"id\": \"b\", \"name\": \"Bo\", \"call\": \"06:00\", \"wrap\": "
        "\"09:00\", \"breaks\": [{\"from\": \"06:12\", \"to\": \"07:20\"}]}], \"burners\": 1",
        RECIPE(STEP("cook", "\"kind\": \"passive\", \"time\": \"40-45 min\", \"burner\": true, "
                            "\"together\": {}, \"hold\": {\"counter\": \"2 h\"}")),
        "{\"id\": \"d\", \"title\": \"D\", \"recipe\": \"r\", \"taste\": false, \"spares\": "
        "{\"finished\": 1}}",
        true);
    ck_assert(names("\"cook\" must come off after 40 min to 45 min"));
    ck_assert(names("Bo has a break from 06:12 to 07:20"));
    ck_assert(offers("leave \"cook\" on up to 23 min longer")); /* on at 06:12, off at 07:20 */
    ck_assert(offers("call Bo at 05:30"));
}
END_TEST

/* 40 minutes by hand and a minute to carry, on the set by 07:55: Bo has to come at 07:14 or sooner,
 * which is 07:10 on the grid of five minutes. */
START_TEST(a_call_is_moved_to_the_five_minutes_that_just_do)
{
    explain(KITCHEN(BO("07:20", "09:00"), "1"), RECIPE(ACTIVE("cut", "40 min")), true);
    ck_assert(names("Bo can be called from 07:20"));
    ck_assert(why->minimal);
    ck_assert(offers("call Bo at 07:10 (Thu)") || offers("call Bo at 07:10"));
    ck_assert(!why->cures.cut);
}
END_TEST

/* The same with a wrap that comes before it could be done: 41 minutes before 07:30. Staying longer is
 * no help, for that would be too late on the set. */
START_TEST(a_call_is_moved_ahead_of_the_wrap)
{
    explain(KITCHEN(BO("07:20", "07:30"), "1"), RECIPE(ACTIVE("cut", "40 min")), true);
    ck_assert_uint_eq(why->cures.n, 1);
    ck_assert(offers("call Bo at 06:45"));
}
END_TEST

START_TEST(a_second_cook_is_offered_where_hands_are_short)
{
    explain(
        KITCHEN(BO("07:20", "09:00"), "1"),
        RECIPE(STEP("cut", "\"kind\": \"active\", \"time\": \"20 min\", \"after\": []") "," STEP(
            "peel",
            "\"kind\": \"active\", \"time\": \"20 min\", \"after\": []") "," STEP("join",
                                                                                  "\"kind\": "
                                                                                  "\"active\", "
                                                                                  "\"time\": \"1 "
                                                                                  "min\", "
                                                                                  "\"after\": "
                                                                                  "[\"cut\", "
                                                                                  "\"peel\"]")),
        true);
    ck_assert(offers("have one more cook, with the hours of Bo"));
}
END_TEST

START_TEST(without_the_wish_no_changes_are_looked_for)
{
    explain(KITCHEN(BO("07:20", "09:00"), "1"), RECIPE(ACTIVE("cut", "40 min")), false);
    ck_assert_uint_eq(why->cures.n, 0);
    ck_assert(why->late_schedule != NULL);
    ck_assert_int_eq(why->late_schedule->value[0], 6); /* 07:20 and 41 min: six after 07:55 */
    ck_assert(!why->late_unsure);
}
END_TEST

START_TEST(no_answer_takes_more_work_than_is_set_aside)
{
    explain(KITCHEN(BO("07:20", "07:30"), "1"), RECIPE(ACTIVE("cut", "40 min")), true);
    ck_assert_uint_le(why->cures.work, BPI_CURE_SINGLE + BPI_CURE_SEVERAL);
    ck_assert_uint_ge(why->work, why->cures.work);
}
END_TEST

START_TEST(an_empty_purse_answers_no_and_says_that_it_was_empty)
{
    explain(KITCHEN(BO("07:20", "09:00"), "1"), RECIPE(ACTIVE("cut", "40 min")), false);
    uint32_t call = fact_of(BPI_FACT_CALL);
    int32_t by[64] = {0};
    ck_assert_uint_le(p.prep->problem.facts, 64);
    by[call] = 60;
    bool yes, none, mark[64] = {0};
    bpi_purse purse = {0};
    ck_assert_int_eq(bpi_ease_try(&yes, p.prep, by, &purse, NULL), BP_OK);
    ck_assert(!yes);
    ck_assert(purse.cut);
    ck_assert_int_eq(by[call], 60);
    purse.cut = false;
    ck_assert_int_eq(bpi_ease_conflict(&none, mark, p.prep, by, &purse, NULL), BP_OK);
    ck_assert(none);
    ck_assert(purse.cut);
}
END_TEST

START_TEST(an_amount_is_tightened_to_what_the_schedule_uses)
{
    explain(KITCHEN(BO("07:20", "09:00"), "1"), RECIPE(ACTIVE("cut", "40 min")), false);
    uint32_t call = fact_of(BPI_FACT_CALL), wrap = fact_of(BPI_FACT_WRAP);
    int32_t by[64] = {0};
    by[call] = 60;
    by[wrap] = 60;
    bool yes, none, mark[64] = {0};
    bpi_purse purse = {.left = 1000000, .each = 1000000};
    ck_assert_int_eq(bpi_ease_try(&yes, p.prep, by, &purse, NULL), BP_OK);
    ck_assert(yes);
    ck_assert_int_ge(by[call], 10); /* what is needed at least, and on the grid */
    ck_assert_int_eq(by[call] % 5, 0);
    ck_assert_int_eq(by[wrap], 0); /* not used at all */
    ck_assert_int_eq(bpi_ease_least(by, call, p.prep, &purse, NULL), BP_OK);
    ck_assert_int_eq(by[call], 10);
    ck_assert_int_eq(bpi_ease_conflict(&none, mark, p.prep, by, &purse, NULL), BP_OK);
    ck_assert(none);
    by[call] = 5;
    ck_assert_int_eq(bpi_ease_conflict(&none, mark, p.prep, by, &purse, NULL), BP_OK);
    ck_assert(!none);
    ck_assert(mark[call]);
    ck_assert(!mark[wrap]);
}
END_TEST

/* A problem that no reader of ours lets through: the fault is ours, not the show's. */
START_TEST(a_problem_that_is_wrong_is_an_internal_error)
{
    static const bp_eng_limits none;
    explain(KITCHEN(BO("07:20", "09:00"), "1"), RECIPE(ACTIVE("cut", "40 min")), false);
    bpi_prep wrong = *p.prep;
    wrong.problem.horizon = -1;
    bpi_schedule *s = NULL;
    bpi_purse purse = {.left = 1000, .each = 1000};
    bool yes = true;
    ck_assert_int_eq(bpi_solve(&s, p.arena, &wrong, &none, NULL), BP_EINTERNAL);
    ck_assert_ptr_null(s);
    ck_assert_int_eq(bpi_ease_feasible(&yes, &wrong.problem, &purse, NULL), BP_EINTERNAL);
    ck_assert(!yes);
}
END_TEST

static char *answer(uint32_t threads)
{
    static const bp_eng_limits none;
    bpi_arena *a = bpi_arena_new();
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_why_not *w = NULL;
    ck_assert_int_eq(bpi_why_make(&w, a, p.prep, &none, true, threads, NULL), BP_OK);
    for (uint32_t i = 0; i < w->facts; i++)
        bpi_text_f(&t, "fact %u\n", (unsigned)w->fact[i]);
    for (uint32_t i = 0; i < w->cures.n; i++)
        bpi_text_f(&t, "%s %s\n", w->cures.cure[i].text, w->cures.cure[i].pointer);
    bpi_text_f(&t, "%d %d %llu\n", w->minimal, w->late_unsure, (unsigned long long)w->work);
    ck_assert_ptr_nonnull(w->late_schedule);
    for (uint32_t i = 0; i < w->late->problem.activities; i++)
        bpi_text_f(&t, "%d+%d ", (int)w->late_schedule->start[i], (int)w->late_schedule->length[i]);
    char *said = bpi_arena_copy(p.arena, t.s, t.len);
    bpi_text_release(&t);
    bpi_arena_free(a); /* what the other thread found was in it */
    return said;
}

static bool go_on(void *ctx, const bp_eng_progress *now)
{
    (void)now;
    return ++*(uint32_t *)ctx > 0;
}

START_TEST(threads_change_no_answer)
{
    explain(KITCHEN(BO("08:50", "12:00"), "1"),
            RECIPE(ACTIVE("cut", "30 min") "," ACTIVE("stir", "10 min")), true);
    bpi_each_begun();
    char *alone = answer(1);
    ck_assert(strstr(alone, "call Bo at") != NULL);
    ck_assert_uint_eq(bpi_each_begun(), 0);
    for (uint32_t threads = 2; threads < 5; threads++) {
        ck_assert_str_eq(answer(threads), alone);
        ck_assert_uint_eq(bpi_each_begun(), 1);
    }
    bpi_each_refuse(1);
    ck_assert_str_eq(answer(2), alone);
    bpi_each_refuse(0);
    /* Who is told of the search is told by the thread that asked. */
    uint32_t told = 0;
    const bp_eng_limits limits = {.tell = go_on, .ctx = &told};
    ck_assert_int_eq(bpi_why_make(&why, p.arena, p.prep, &limits, true, 2, NULL), BP_OK);
    ck_assert_uint_eq(bpi_each_begun(), 0);
    ck_assert_uint_gt(told, 0);
}
END_TEST

/* The conflict is asked of the problem as it is, the late schedule of one that is made anew. */
START_TEST(an_error_of_the_late_schedule_is_told_once)
{
    static const bp_eng_limits none;
    static bp_errors errs;
    explain(KITCHEN(BO("08:50", "12:00"), "1"), RECIPE(ACTIVE("cut", "30 min")), false);
    bpi_prep prep = *p.prep;
    bpi_live live = *prep.live;
    bpi_air air = live.air[0];
    bpi_swap *swap = BPI_TAKE(p.arena, BPI_MAX_SWAPS + 1, bpi_swap);
    ck_assert_ptr_nonnull(swap);
    for (uint32_t i = 0; i <= BPI_MAX_SWAPS; i++)
        swap[i] = air.swap[0];
    air.swap = swap;
    air.swaps = BPI_MAX_SWAPS + 1;
    live.air = &air;
    live.airs = 1;
    prep.live = &live;
    long alive = bpi_mem_alive();
    for (uint32_t threads = 1; threads < 3; threads++) {
        bpi_arena *a = bpi_arena_new();
        memset(&errs, 0, sizeof errs);
        ck_assert_int_eq(bpi_why_make(&why, a, &prep, &none, false, threads, &errs), BP_ELIMIT);
        ck_assert_ptr_null(why);
        ck_assert_uint_eq(errs.n, 1);
        ck_assert_int_eq(errs.item[0].code, BP_ELIMIT);
        bpi_arena_free(a);
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
}
END_TEST

Suite *suite_prep_why(void);
Suite *suite_prep_why(void)
{
    Suite *s = suite_create("prep/why");
    TCase *c = tcase_create("why");
    tcase_add_checked_fixture(c, NULL, done);
    tcase_add_test(c, the_window_of_a_batch_is_a_fact);
    tcase_add_test(c, a_call_is_moved_to_the_five_minutes_that_just_do);
    tcase_add_test(c, a_call_is_moved_ahead_of_the_wrap);
    tcase_add_test(c, a_second_cook_is_offered_where_hands_are_short);
    tcase_add_test(c, without_the_wish_no_changes_are_looked_for);
    tcase_add_test(c, no_answer_takes_more_work_than_is_set_aside);
    tcase_add_test(c, an_empty_purse_answers_no_and_says_that_it_was_empty);
    tcase_add_test(c, a_problem_that_is_wrong_is_an_internal_error);
    tcase_add_test(c, threads_change_no_answer);
    tcase_add_test(c, an_error_of_the_late_schedule_is_told_once);
    tcase_add_test(c, an_amount_is_tightened_to_what_the_schedule_uses);
    suite_add_tcase(s, c);
    return s;
}

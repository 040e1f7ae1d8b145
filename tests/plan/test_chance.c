/* How likely a plan holds: against closed forms, and what it must mean for a crew. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"
#include "base/memory.h"
#include "support/prep_show.h"
#include "support/share.h"

enum { DAYS = 40000 };

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

static void make(char *text, uint32_t days, uint64_t seed)
{
    bp_plan_options options = {.work = 4000000, .days = days, .seed = seed};
    errs.n = errs.more = 0;
    bp_code rc = bp_show_read(&show, text, strlen(text), "t.json", NULL, &errs);
    free(text);
    ck_assert_msg(rc == BP_OK, "%s", errs.item[0].wrong);
    rc = bp_plan_make(&plan, show, &options, &errs);
    ck_assert_msg(rc == BP_OK, "%s", errs.item[0].wrong);
}

static void done(void)
{
    prep_show_free(&plan, &show);
}

#define KITCHEN(cooks) cooks ", \"burners\": 2"
#define ONE_COOK       KITCHEN("\"cooks\": [{\"id\": \"ana\", \"call\": \"06:00\", \"wrap\": \"09:00\"}]")
#define DISH           "{\"id\": \"d\", \"title\": \"D\", \"recipe\": \"r\", \"taste\": false}"
#define BEAT                                                                                       \
    "{\"id\": \"b\", \"text\": \"B\", \"dish\": \"d\", \"shows\": \"finished\", \"time\": \"3 "    \
    "min\"}"

/* One recipe of one hands-on step of that time, with `more` members. */
static char *one_step(const char *time, const char *more)
{
    static char recipe[600];
    snprintf(recipe, sizeof recipe,
             "{\"id\": \"r\", \"title\": \"R\", \"steps\": [{\"id\": \"s\", \"text\": \"S\", "
             "\"kind\": \"active\", \"time\": %s%s}]}",
             time, more);
    return prep_show_text(ONE_COOK, recipe, DISH, BEAT);
}

static double chance(uint32_t n)
{
    return n / (double)DAYS;
}

/* Low equal to likely, 10 to 20 min: Beta(1, 5), so that P(length <= 10 + x min) = 1 - (1 - x/10)^5.
 * The plan has no room, so what an earlier call gives is all there is; a length counts as whole
 * seconds. */
START_TEST(an_earlier_call_buys_what_the_closed_form_says)
{
    make(one_step("{\"low\": \"10 min\", \"likely\": \"10 min\", \"high\": \"20 min\"}", ""), DAYS,
         3);
    const bp_chance *c = plan->chance;
    ck_assert_ptr_nonnull(c);
    ck_assert_uint_eq(c->days, DAYS);
    ck_assert_uint_eq(c->uncertain, 1);
    ck_assert_uint_eq(plan->containers, 1);
    ck_assert_int_eq(plan->container[0].on_set, plan->container[0].set_by);
    ck_assert_uint_eq(c->earlies, 6);
    for (uint32_t i = 0; i < c->earlies; i++) {
        double x = fmin(1, ((double)c->early[i].by + 0.5) / 600), p = 1 - pow(1 - x, 5);
        ck_assert_double_eq_tol(chance(c->early[i].on_time), p,
                                4 * sqrt(p * (1 - p) / DAYS) + 1e-4);
    }
    ck_assert_uint_eq(c->early[0].on_time, c->on_time);
    ck_assert_uint_eq(c->odds[0].on_time, c->on_time);
    /* Half of the days end by the median: (1 - x/10)^5 = 1/2. */
    double half = 600 * (1 - pow(0.5, 0.2));
    ck_assert_double_eq_tol((double)(c->odds[0].half - plan->container[0].set_by), half, 31);
    ck_assert_uint_eq(c->drivers, 1);
    ck_assert_uint_eq(c->driver[0].late, DAYS - c->on_time);
    ck_assert_str_eq(plan->op[c->driver[0].op].text, "S");
    done();
}
END_TEST

START_TEST(no_step_with_low_and_high_no_figures)
{
    make(one_step("\"10 min\"", ""), DAYS, 0);
    ck_assert_ptr_null(plan->chance);
    char *text = NULL;
    size_t len = 0;
    ck_assert_int_eq(bp_summary_write(&text, &len, plan, &errs), BP_OK);
    ck_assert_ptr_nonnull(strstr(text, "How likely it holds is not worked out"));
    bp_free(text);
    done();
}
END_TEST

START_TEST(a_step_that_cannot_overrun_is_always_in_time)
{
    make(one_step("{\"low\": \"4 min\", \"likely\": \"10 min\", \"high\": \"10 min\"}", ""), DAYS,
         0);
    ck_assert_uint_eq(plan->chance->on_time, DAYS);
    ck_assert_uint_eq(plan->chance->drivers, 0);
    /* Nobody starts before the planned start, so nothing is on set before it is planned. */
    ck_assert_int_eq(plan->chance->odds[0].half, plan->container[0].set_by);
    done();
}
END_TEST

/* One job for two containers takes 2 x 10 min, and is as uncertain in proportion. */
START_TEST(a_job_for_several_is_uncertain_in_proportion)
{
    static const char recipe[] =
        "{\"id\": \"r\", \"title\": \"R\", \"steps\": [{\"id\": \"s\", \"text\": \"S\", \"kind\": "
        "\"active\", \"time\": {\"low\": \"10 min\", \"likely\": \"10 min\", \"high\": \"20 "
        "min\"}, "
        "\"together\": {\"once\": \"0 s\", \"each\": \"10 min\"}}]}";
    static const char dish[] =
        "{\"id\": \"d\", \"title\": \"D\", \"recipe\": \"r\", \"taste\": false, "
        "\"spares\": {\"finished\": 1}}";
    make(prep_show_text(ONE_COOK, recipe, dish, BEAT), DAYS, 1);
    ck_assert_uint_eq(plan->containers, 2);
    ck_assert_uint_eq(plan->chance->uncertain, 1);
    /* The last on set has no room; 10 min more of the 20 that may come: 1 - (1 - 1/2)^5. */
    for (uint32_t i = 0; i < plan->chance->earlies; i++)
        if (plan->chance->early[i].by == 600)
            ck_assert_double_eq_tol(chance(plan->chance->early[i].on_time), 31.0 / 32, 0.005);
    done();
}
END_TEST

/* One cook makes two dishes, one after the other: what runs over in the first holds up the second. */
START_TEST(who_is_late_is_late_with_the_next_too)
{
    static const char recipes[] =
        "{\"id\": \"r\", \"title\": \"R\", \"steps\": [{\"id\": \"s\", \"text\": \"S\", \"kind\": "
        "\"active\", \"time\": \"10 min\"}]}, "
        "{\"id\": \"q\", \"title\": \"Q\", \"steps\": [{\"id\": \"u\", \"text\": \"U\", \"kind\": "
        "\"active\", \"time\": {\"low\": \"10 min\", \"likely\": \"10 min\", \"high\": \"20 "
        "min\"}}]}";
    static const char dishes[] = DISH ", {\"id\": \"e\", \"title\": \"E\", \"recipe\": \"q\", "
                                      "\"taste\": false, \"lead\": \"15 min\"}";
    static const char beats[] = "{\"id\": \"b\", \"text\": \"B\", \"dish\": \"d\", \"shows\": "
                                "\"finished\", \"time\": \"90 s\"}, "
                                "{\"id\": \"c\", \"text\": \"C\", \"dish\": \"e\", \"shows\": "
                                "\"finished\", \"time\": \"90 s\"}";
    make(prep_show_text(ONE_COOK, recipes, dishes, beats), DAYS, 1);
    const bp_chance *c = plan->chance;
    uint32_t first = UINT32_MAX, second = UINT32_MAX;
    for (uint32_t i = 0; i < plan->ops; i++) {
        first = strcmp(plan->op[i].text, "U") == 0 ? i : first;
        second = strcmp(plan->op[i].text, "S") == 0 ? i : second;
    }
    ck_assert_uint_lt(first, second); /* its lead is longer */
    ck_assert_uint_ne(second, UINT32_MAX);
    ck_assert_int_eq(plan->op[second].from, plan->op[first].to + 60); /* carried in between */
    ck_assert_uint_eq(c->drivers, 1);
    ck_assert_uint_eq(c->driver[0].op, first);
    ck_assert_uint_eq(c->driver[0].late, DAYS - c->on_time);
    for (uint32_t i = 0; i < plan->containers; i++) /* the other dish, too */
        ck_assert_uint_lt(c->odds[i].on_time, DAYS);
    done();
}
END_TEST

START_TEST(the_shipped_show_has_figures_that_hang_together)
{
    bp_plan_options options = {.days = 4000, .seed = (uint64_t)_i};
    errs.n = errs.more = 0;
    ck_assert_int_eq(bp_show_open(&show, "shows/harbour-breakfast.json", &errs), BP_OK);
    ck_assert_int_eq(bp_plan_make(&plan, show, &options, &errs), BP_OK);
    const bp_chance *c = plan->chance;
    ck_assert_ptr_nonnull(c);
    uint32_t least = UINT32_MAX, all = 0, held = 0;
    for (uint32_t i = 0; i < plan->containers; i++) {
        least = c->odds[i].on_time < least ? c->odds[i].on_time : least;
        ck_assert_int_ge(c->odds[i].half, plan->container[i].on_set);
        ck_assert_int_ge(c->odds[i].nine_tenths, c->odds[i].half);
    }
    for (uint32_t k = 0; k < BP_CHANCE_BINS; k++) {
        all += c->bin[k];
        held += k <= BP_CHANCE_BINS / 2 ? c->bin[k] : 0;
    }
    ck_assert_uint_eq(all, c->days);
    ck_assert_uint_eq(held, c->on_time);
    ck_assert_uint_le(c->on_time, least);
    for (uint32_t i = 1; i < c->earlies; i++)
        ck_assert_uint_ge(c->early[i].on_time, c->early[i - 1].on_time);
    for (uint32_t i = 0; i < c->drivers; i++) {
        ck_assert_uint_le(c->driver[i].late, c->days - c->on_time);
        if (i)
            ck_assert_uint_le(c->driver[i].late, c->driver[i - 1].late);
    }
    done();
}
END_TEST

START_TEST(the_same_seed_gives_the_same_figures)
{
    static const char time[] = "{\"low\": \"8 min\", \"likely\": \"10 min\", \"high\": \"20 min\"}";
    uint32_t on_time[3];
    for (int i = 0; i < 3; i++) {
        make(one_step(time, ""), DAYS, i == 2 ? 9 : 5);
        on_time[i] = plan->chance->early[1].on_time;
        done();
    }
    ck_assert_uint_eq(on_time[0], on_time[1]);
    ck_assert_uint_ne(on_time[0], on_time[2]);
}
END_TEST

/* Beta(1, 5) again: with b minutes more the chance is 1 - (1 - b/10)^5; 5 min are needed for 95 %
 * (0.96875; with 4 min 0.92224). */
START_TEST(what_is_asked_for_is_reached_by_as_few_minutes_as_do)
{
    char *text =
        one_step("{\"low\": \"10 min\", \"likely\": \"10 min\", \"high\": \"20 min\"}", "");
    bp_plan_options options = {.work = 4000000, .days = DAYS, .chance = 95};
    ck_assert_int_eq(bp_show_read(&show, text, strlen(text), "t.json", NULL, &errs), BP_OK);
    free(text);
    ck_assert_int_eq(bp_plan_make(&plan, show, &options, &errs), BP_OK);
    const bp_chance *c = plan->chance;
    ck_assert_uint_eq(c->asked, 95);
    ck_assert_uint_eq(c->buffers, 1);
    ck_assert_str_eq(c->buffer[0].recipe, "r");
    ck_assert_str_eq(c->buffer[0].step, "s");
    ck_assert_int_eq(c->buffer[0].seconds, 300);
    ck_assert_double_eq_tol(chance(c->on_time), 0.96875, 0.005);
    ck_assert_uint_lt(c->without, DAYS / 100);
    /* The plan is one of the show as written, and is held to it. */
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    bp_chance other = *c;
    bp_buffer more = c->buffer[0];
    other.buffer = &more;
    plan->chance = &other;
    more.seconds = 660; /* the step never takes so long */
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_EINTERNAL);
    more.seconds = 240; /* the plan has other lengths */
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_EINTERNAL);
    other.buffers = 0;
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_EINTERNAL);
    done();
}
END_TEST

/* The cook comes 13 min before the set-by and carries for one: 2 min more are all there is. */
START_TEST(where_there_is_no_room_the_best_that_was_reached_is_said)
{
    static const char recipe[] =
        "{\"id\": \"r\", \"title\": \"R\", \"steps\": [{\"id\": \"s\", \"text\": \"S\", \"kind\": "
        "\"active\", \"time\": {\"low\": \"10 min\", \"likely\": \"10 min\", \"high\": \"20 "
        "min\"}}]}";
    static const char cook[] =
        KITCHEN("\"cooks\": [{\"id\": \"ana\", \"call\": \"07:42\", \"wrap\": \"09:00\"}]");
    char *text = prep_show_text(cook, recipe, DISH, BEAT);
    bp_plan_options options = {.work = 4000000, .days = DAYS, .chance = 95};
    ck_assert_int_eq(bp_show_read(&show, text, strlen(text), "t.json", NULL, &errs), BP_OK);
    free(text);
    ck_assert_int_eq(bp_plan_make(&plan, show, &options, &errs), BP_OK);
    ck_assert_uint_eq(plan->chance->buffers, 1);
    ck_assert_int_eq(plan->chance->buffer[0].seconds, 120);
    ck_assert_double_eq_tol(chance(plan->chance->on_time), 1 - pow(0.8, 5), 0.01);
    size_t len = 0;
    ck_assert_int_eq(bp_summary_write(&text, &len, plan, &errs), BP_OK);
    ck_assert_ptr_nonnull(strstr(text, "95 % was asked for; this is the best that was reached"));
    bp_free(text);
    done();
}
END_TEST

START_TEST(the_shipped_show_holds_as_asked)
{
    bp_plan_options options = {.days = 2000, .chance = 90};
    uint32_t on_time[2];
    for (int i = 0; i < 2; i++) {
        errs.n = errs.more = 0;
        ck_assert_int_eq(bp_show_open(&show, "shows/harbour-breakfast.json", &errs), BP_OK);
        ck_assert_int_eq(bp_plan_make(&plan, show, &options, &errs), BP_OK);
        ck_assert_uint_ge(plan->chance->on_time, 1800);
        ck_assert_uint_gt(plan->chance->on_time, plan->chance->without);
        ck_assert_uint_gt(plan->chance->buffers, 1);
        ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
        on_time[i] = plan->chance->on_time;
        done();
    }
    ck_assert_uint_eq(on_time[0], on_time[1]);
}
END_TEST

START_TEST(without_memory_no_plan)
{
    long refused = 0;
    for (long k = 0;; k += share()) {
        char *text =
            one_step("{\"low\": \"8 min\", \"likely\": \"10 min\", \"high\": \"20 min\"}", "");
        bp_plan_options options = {.work = 400000, .days = 100, .chance = _i ? 50 : 0};
        ck_assert_int_eq(bp_show_read(&show, text, strlen(text), "t.json", NULL, &errs), BP_OK);
        free(text);
        bpi_mem_fail_at(k, 1);
        bp_code rc = bp_plan_make(&plan, show, &options, NULL);
        bool failed = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, failed ? BP_ENOMEM : BP_OK);
        if (failed)
            ck_assert_ptr_null(plan);
        refused += failed;
        done();
        if (!failed)
            break;
    }
    ck_assert_int_gt(refused, 0);
}
END_TEST

Suite *suite_plan_chance(void);
Suite *suite_plan_chance(void)
{
    Suite *s = suite_create("plan/chance");
    TCase *t = tcase_create("all");
    tcase_add_test(t, an_earlier_call_buys_what_the_closed_form_says);
    tcase_add_test(t, no_step_with_low_and_high_no_figures);
    tcase_add_test(t, a_step_that_cannot_overrun_is_always_in_time);
    tcase_add_test(t, a_job_for_several_is_uncertain_in_proportion);
    tcase_add_test(t, who_is_late_is_late_with_the_next_too);
    tcase_add_loop_test(t, the_shipped_show_has_figures_that_hang_together, 0, 2);
    tcase_add_test(t, the_same_seed_gives_the_same_figures);
    tcase_add_test(t, what_is_asked_for_is_reached_by_as_few_minutes_as_do);
    tcase_add_test(t, where_there_is_no_room_the_best_that_was_reached_is_said);
    tcase_add_test(t, the_shipped_show_holds_as_asked);
    tcase_add_loop_test(t, without_memory_no_plan, 0, 2);
    suite_add_tcase(s, t);
    return s;
}

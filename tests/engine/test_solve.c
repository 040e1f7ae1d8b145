#include <check.h>
#include <string.h>

#include "backpot/engine.h"
#include "base/memory.h"
#include "support/small_problem.h"

static bp_errors errs;

static bp_eng_solution *solved(const small_problem *s, const bp_eng_limits *limits)
{
    bp_eng_solution *out = NULL;
    errs.n = errs.more = 0;
    bp_code code = bp_eng_solve(&out, &s->p, limits, &errs);
    ck_assert_msg(code == BP_OK, "%s", errs.n ? errs.item[0].wrong : "");
    char why[200];
    if (out->start)
        ck_assert_msg(bp_eng_verify(&s->p, out, limits ? limits->off : NULL, why, sizeof why), "%s",
                      why);
    return out;
}

/* Has it a schedule? With what is found by trying everything, the search must agree: all is proved. */
static bool as_by_brute_force(const small_problem *s, const bp_eng_limits *limits, uint32_t seed)
{
    int64_t best[BP_ENG_LEVELS];
    bool any = small_brute(s, limits ? limits->off : NULL, best);
    bp_eng_solution *out = solved(s, limits);
    ck_assert_msg(out->status == (any ? BP_ENG_OPTIMAL : BP_ENG_INFEASIBLE), "seed %u: status %d",
                  seed, out->status);
    for (uint32_t k = 0; k < s->p.levels && any; k++) {
        ck_assert_msg(out->value[k] == best[k], "seed %u level %u: %lld, not %lld", seed, k,
                      (long long)out->value[k], (long long)best[k]);
        ck_assert_int_eq(out->bound[k], best[k]);
    }
    ck_assert_uint_eq(out->proved, any ? s->p.levels : 0);
    bp_eng_solution_free(out);
    return any;
}

enum { RANDOM_CASES = 400 };

START_TEST(small_problems_have_the_values_found_by_trying_everything)
{
    uint32_t feasible = 0;
    for (uint32_t seed = 1; seed <= RANDOM_CASES; seed++) {
        small_problem s;
        small_random(&s, seed);
        feasible += as_by_brute_force(&s, NULL, seed);
    }
    ck_assert_uint_gt(feasible, RANDOM_CASES / 4);
    ck_assert_uint_lt(feasible, RANDOM_CASES - RANDOM_CASES / 10);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(facts_switched_off_are_not_kept)
{
    for (uint32_t seed = 1; seed <= RANDOM_CASES / 3; seed++) {
        small_problem s;
        small_random(&s, seed);
        uint32_t g = seed;
        bool off[8] = {false};
        for (uint32_t f = 0; f < s.p.facts; f++)
            off[f] = small_draw(&g, 2);
        bp_eng_limits limits = {.off = off};
        as_by_brute_force(&s, &limits, seed);
    }
}
END_TEST

/* Resources of capacity 1 with breaks whose first starts are to be late: the bound by energy is at
 * work in each of these, with facts on and off. */
START_TEST(what_a_crew_must_give_never_forbids_the_best)
{
    for (uint32_t seed = 1; seed <= RANDOM_CASES / 2; seed++) {
        small_problem s;
        bool off[8] = {false};
        uint32_t g = seed;
        small_random(&s, 7000 + seed);
        for (uint32_t r = 0; r < s.p.resources; r++) {
            s.resource[r].capacity = 1;
            small_term(&s, 0, BP_ENG_CALL, r, 0, (int32_t)small_draw(&g, 9), 1);
        }
        for (uint32_t k = 0; k < s.p.spans; k++)
            s.span[k].capacity = small_draw(&g, 3) == 0;
        for (uint32_t k = 0; k < s.p.needs; k++)
            s.need[k].amount = s.need[k].amount > 0;
        for (uint32_t f = 1; f < s.p.facts; f++)
            off[f] = small_draw(&g, 4) == 0;
        bp_eng_limits limits = {.off = off};
        as_by_brute_force(&s, &limits, seed);
    }
}
END_TEST

/* Cooks with breaks, and jobs that have to be done by some time, that may cost to be left to others, in one
 * or two ways, or may be left undone. */
static void crew_day(small_problem *s, uint32_t seed)
{
    uint32_t g = seed, cooks = 1 + seed % 3;
    small_init(s, 9, 1, 2);
    for (uint32_t k = 0; k < cooks; k++) {
        small_resource(s, 1, 0);
        small_term(s, 0, BP_ENG_CALL, k, 0, 6 + (int32_t)small_draw(&g, 4), 2);
        if (small_draw(&g, 2)) {
            int32_t from = 2 + (int32_t)small_draw(&g, 4);
            small_span(s, k, from, from + 1 + (int32_t)small_draw(&g, 2), 0, 0);
        }
    }
    for (uint32_t a = 0; a < 4; a++) {
        uint32_t act = small_activity(s), others = small_draw(&g, 3);
        int32_t length = 1 + (int32_t)small_draw(&g, 3);
        for (uint32_t k = 0; k < cooks; k++)
            if (k == 0 || small_draw(&g, 3)) {
                small_option(s, length, length + (int32_t)small_draw(&g, 2), 0, (int32_t)k);
                small_need(s, k, 1, -1);
            }
        for (uint32_t k = 0; k < others; k++) {
            int32_t least = (int32_t)small_draw(&g, 3);
            uint32_t opt = small_option(s, least, least, 0, -1);
            small_term(s, 0, BP_ENG_TAKES, act, opt, 0,
                       2 * length + (int32_t)small_draw(&g, 4) - 2);
        }
        small_lag(s, act, BP_ENG_END, BP_ENG_ORIGIN, BP_ENG_START, -4 - (int32_t)small_draw(&g, 6),
                  0);
        small_term(s, 1, BP_ENG_ENDS, act, 0, 0, 1);
    }
    if (small_draw(&g, 2))
        small_after(s, 0, 1);
}

/* Where a bound forbids the best, or the reason of a step leaves something out, the plan is dearer. */
START_TEST(what_may_be_left_to_others_is_done_by_whom_it_costs_least)
{
    for (uint32_t seed = 1; seed <= RANDOM_CASES / 3; seed++) {
        small_problem s;
        crew_day(&s, seed);
        as_by_brute_force(&s, NULL, seed);
    }
}
END_TEST

START_TEST(every_request_for_memory_fails_once)
{
    for (uint32_t seed = 1; seed <= 12; seed++) {
        small_problem s;
        small_random(&s, seed);
        bool fired = true;
        for (long k = 0; fired; k++)
            for (int after = 0; after < 2; after++) {
                bp_eng_solution *out = NULL;
                errs.n = errs.more = 0;
                bpi_mem_fail_at(k, after);
                bp_code code = bp_eng_solve(&out, &s.p, NULL, &errs);
                fired = bpi_mem_failed();
                bpi_mem_fail_at(-1, 0);
                ck_assert_msg(code == (fired ? BP_ENOMEM : BP_OK), "seed %u request %ld: code %d",
                              seed, k, code);
                ck_assert_int_eq(out != NULL, code == BP_OK);
                bp_eng_solution_free(out);
                ck_assert_int_eq(bpi_mem_alive(), 0);
            }
    }
}
END_TEST

START_TEST(equal_problems_give_equal_answers)
{
    for (uint32_t seed = 1; seed <= 50; seed++) {
        small_problem s;
        small_random(&s, seed);
        bp_eng_solution *a = solved(&s, NULL), *b = solved(&s, NULL);
        ck_assert_uint_eq(a->work, b->work);
        ck_assert_int_eq(a->status, b->status);
        for (uint32_t k = 0; k < s.p.activities && a->start; k++) {
            ck_assert_int_eq(a->start[k], b->start[k]);
            ck_assert_int_eq(a->length[k], b->length[k]);
            ck_assert_uint_eq(a->option[k], b->option[k]);
        }
        bp_eng_solution_free(a);
        bp_eng_solution_free(b);
    }
}
END_TEST

/* Many tasks by weights of their own on few machines: good schedules are easy, proofs are not. With
 * `tied` some must also start within a time of each other, so that no order builds a schedule. */
static void jumble(small_problem *s, uint32_t seed, bool tied)
{
    uint32_t g = seed;
    small_init(s, 200, 1, 1);
    for (uint32_t r = 0; r < 2; r++)
        small_resource(s, 2 + (int32_t)r, 0);
    for (uint32_t a = 0; a < 26; a++) {
        small_task(s, 2 + (int32_t)small_draw(&g, 9), a % 2, 1 + (int32_t)small_draw(&g, 2));
        if (a > 3 && a % 2) {
            uint32_t b = small_draw(&g, a);
            small_lag(s, b, BP_ENG_START, a, BP_ENG_START, 1 + (int32_t)small_draw(&g, 5), 0);
            if (tied)
                small_lag(s, a, BP_ENG_START, b, BP_ENG_START, -30, 0);
        }
        small_term(s, 0, BP_ENG_ENDS, a, 0, 0, 1 + (int32_t)small_draw(&g, 9));
    }
}

/* Where it begins does not decide how good it gets: what the search finds first is bred from, too. */
START_TEST(a_plain_problem_is_made_better_from_any_first_schedule)
{
    for (uint32_t seed = 1; seed <= 4; seed++) {
        small_problem s;
        jumble(&s, seed, _i == 1);
        bp_eng_limits limits = {.first = true};
        bp_eng_solution *first = solved(&s, &limits), *best, *other;
        ck_assert_int_eq(first->status, BP_ENG_FEASIBLE);
        limits = (bp_eng_limits){.work = 4000000};
        best = solved(&s, &limits);
        int32_t late[SMALL_ROWS];
        for (uint32_t a = 0; a < s.p.activities; a++)
            late[a] = 150; /* a hint, and a poor one */
        limits.hint = late;
        other = solved(&s, &limits);
        ck_assert_int_lt(best->value[0], first->value[0]);
        ck_assert_int_lt(other->value[0], first->value[0]);
        ck_assert_int_ge(other->value[0], best->bound[0]);
        ck_assert_int_ge(best->value[0], other->bound[0]);
        bp_eng_solution_free(first);
        bp_eng_solution_free(best);
        bp_eng_solution_free(other);
    }
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

static bool stop(void *ctx, const bp_eng_progress *p)
{
    *(bool *)ctx = *(bool *)ctx || p->found;
    return !p->found;
}

START_TEST(a_plain_problem_may_be_stopped_at_its_first_schedule)
{
    small_problem s;
    bool found = false;
    jumble(&s, 1, false);
    const bp_eng_limits limits = {.tell = stop, .ctx = &found};
    bp_eng_solution *out = solved(&s, &limits);
    ck_assert(found);
    ck_assert_int_eq(out->status, BP_ENG_FEASIBLE);
    ck_assert_int_lt(out->bound[0], out->value[0]);
    bp_eng_solution_free(out);
}
END_TEST

/* The caller breaks its promise and changes the problem under way. */
static bool tamper(void *ctx, const bp_eng_progress *p)
{
    small_problem *s = ctx;
    s->lag[0].least = p->found ? 100 : s->lag[0].least;
    return !p->found;
}

START_TEST(a_schedule_that_fails_its_check_does_not_leave)
{
    small_problem s;
    bp_eng_solution *out = NULL;
    jumble(&s, 1, false);
    const bp_eng_limits limits = {.tell = tamper, .ctx = &s};
    errs.n = errs.more = 0;
    ck_assert_int_eq(bp_eng_solve(&out, &s.p, &limits, &errs), BP_EINTERNAL);
    ck_assert_ptr_null(out);
    ck_assert_uint_eq(errs.n, 1);
    ck_assert_ptr_nonnull(strstr(errs.item[0].wrong, "a schedule failed its check: "));
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(what_is_longer_than_the_day_has_no_schedule)
{
    small_problem s;
    small_init(&s, 5, 1, 1);
    small_activity(&s);
    small_option(&s, 6, 9, 0, -1);
    small_option(&s, 7, 7, 0, -1);
    small_term(&s, 0, BP_ENG_ENDS, 0, 0, 0, 1);
    bp_eng_solution *out = solved(&s, NULL);
    ck_assert_int_eq(out->status, BP_ENG_INFEASIBLE);
    bp_eng_solution_free(out);
    s.option[0].least = 5;
    out = solved(&s, NULL);
    ck_assert_int_eq(out->status, BP_ENG_OPTIMAL);
    ck_assert_int_eq(out->value[0], 5);
    bp_eng_solution_free(out);
}
END_TEST

/* Memory fails at any time of a search that goes round: in the bound, the neighbourhoods, the orders. */
START_TEST(a_long_search_is_refused_memory_at_any_time)
{
    small_problem s;
    jumble(&s, 2, _i == 1);
    const bp_eng_limits limits = {.work = 2500000};
    bool fired = true;
    for (long k = 0; fired; k += 1 + k / 12) {
        bp_eng_solution *out = NULL;
        errs.n = errs.more = 0;
        bpi_mem_fail_at(k, 0);
        bp_code code = bp_eng_solve(&out, &s.p, &limits, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_msg(code == (fired ? BP_ENOMEM : BP_OK), "request %ld: code %d", k, code);
        ck_assert_int_eq(out != NULL, code == BP_OK);
        bp_eng_solution_free(out);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

Suite *suite_engine_solve(void);
Suite *suite_engine_solve(void)
{
    Suite *s = suite_create("engine/solve");
    TCase *c = tcase_create("random");
    tcase_add_test(c, small_problems_have_the_values_found_by_trying_everything);
    tcase_add_test(c, facts_switched_off_are_not_kept);
    tcase_add_test(c, what_a_crew_must_give_never_forbids_the_best);
    tcase_add_test(c, what_may_be_left_to_others_is_done_by_whom_it_costs_least);
    tcase_add_test(c, every_request_for_memory_fails_once);
    tcase_add_test(c, equal_problems_give_equal_answers);
    tcase_add_loop_test(c, a_plain_problem_is_made_better_from_any_first_schedule, 0, 2);
    tcase_add_test(c, a_plain_problem_may_be_stopped_at_its_first_schedule);
    tcase_add_test(c, a_schedule_that_fails_its_check_does_not_leave);
    tcase_add_test(c, what_is_longer_than_the_day_has_no_schedule);
    tcase_add_loop_test(c, a_long_search_is_refused_memory_at_any_time, 0, 2);
    suite_add_tcase(s, c);
    return s;
}

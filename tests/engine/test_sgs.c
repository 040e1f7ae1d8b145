/* Schedules built one activity after the other, on problems made here. */
#include "engine/sgs.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"
#include "engine/breed.h"
#include "support/small_problem.h"

enum { CASES = 200, ACTIVITIES = 12 };

/* A network with two resources, a break on one of them, a release, and the end of all as the aim.
 * With `tied` some lags are maximum lags too, loose enough for a schedule to be likely. */
static void network(small_problem *s, uint32_t seed, bool tied)
{
    uint32_t g = seed * 2654435761u + 1;
    small_init(s, 200, 1, 1);
    small_resource(s, 3 + (int32_t)small_draw(&g, 3), 0);
    small_resource(s, 2, 0);
    int32_t from = (int32_t)small_draw(&g, 20);
    small_span(s, 0, from, from + 1 + (int32_t)small_draw(&g, 6), (int32_t)small_draw(&g, 3), 0);
    for (uint32_t a = 0; a < ACTIVITIES; a++) {
        small_task(s, (int32_t)small_draw(&g, 6), small_draw(&g, 2),
                   1 + (int32_t)small_draw(&g, 2));
        for (uint32_t b = 0; b < a; b++) {
            if (small_draw(&g, 5))
                continue;
            int32_t least = (int32_t)small_draw(&g, 5) - 1;
            small_lag(s, b, BP_ENG_START, a, small_draw(&g, 2) ? BP_ENG_START : BP_ENG_END, least,
                      0);
            if (tied && small_draw(&g, 3) == 0)
                small_lag(s, a, BP_ENG_START, b, BP_ENG_START, -least - 30, 0);
        }
    }
    small_lag(s, BP_ENG_ORIGIN, BP_ENG_START, small_draw(&g, ACTIVITIES), BP_ENG_START, 5, 0);
    uint32_t last = small_task(s, 0, 0, 0);
    for (uint32_t a = 0; a < last; a++)
        small_after(s, a, last);
    small_term(s, 0, BP_ENG_STARTS, last, 0, 0, 1);
}

static bool holds(const small_problem *s, const bpi_sgs *g, const bool *off, char *why, size_t room)
{
    uint32_t option[SMALL_ROWS] = {0};
    bp_eng_solution out = {.status = BP_ENG_FEASIBLE,
                           .activities = s->p.activities,
                           .start = g->start,
                           .length = g->length,
                           .option = option};
    out.value[0] = bpi_sgs_value(g);
    return bp_eng_verify(&s->p, &out, off, why, room);
}

static void is_schedule(const small_problem *s, const bpi_sgs *g, uint32_t seed)
{
    char why[200] = "";
    ck_assert_msg(holds(s, g, NULL, why, sizeof why), "seed %u: %s", seed, why);
}

static void begin(bpi_model *m, bpi_sgs *g, const small_problem *s)
{
    ck_assert(bpi_model_init(m, &s->p, NULL, false, true));
    ck_assert(bpi_core_propagate(&m->core));
    ck_assert(bpi_sgs_init(g, m));
}

START_TEST(any_order_gives_a_schedule_and_shifting_never_a_later_end)
{
    uint32_t shorter = 0;
    for (uint32_t seed = 1; seed <= CASES; seed++) {
        small_problem s;
        bpi_model m;
        bpi_sgs g;
        network(&s, seed, false);
        begin(&m, &g, &s);
        ck_assert(g.plain && !g.tied);
        uint32_t order[SMALL_ROWS], state = seed;
        for (uint32_t a = 0; a < s.p.activities; a++)
            g.key[a] = (int32_t)small_draw(&state, 1000);
        bpi_sgs_sort(&g, order);
        for (uint32_t k = 1; k < s.p.activities; k++)
            ck_assert_int_le(g.key[order[k - 1]], g.key[order[k]]);
        ck_assert(bpi_sgs_forward(&g, order));
        is_schedule(&s, &g, seed);
        int64_t before = bpi_sgs_value(&g);
        bpi_sgs_shift(&g);
        is_schedule(&s, &g, seed);
        ck_assert_int_le(bpi_sgs_value(&g), before);
        shorter += bpi_sgs_value(&g) < before;
        bpi_sgs_order(&g, order); /* and from the order of its starts one can be built again */
        ck_assert(bpi_sgs_forward(&g, order));
        is_schedule(&s, &g, seed);
        bpi_model_release(&m);
    }
    ck_assert_uint_gt(shorter, 0);
}
END_TEST

START_TEST(a_schedule_with_maximum_lags_stays_one_when_shifted)
{
    uint32_t tied = 0;
    for (uint32_t seed = 1; seed <= CASES; seed++) {
        small_problem s;
        bpi_model m;
        bpi_sgs g;
        bp_eng_solution *out = NULL;
        bp_eng_limits first = {.first = true};
        network(&s, seed, true);
        ck_assert_int_eq(bp_eng_solve(&out, &s.p, &first, NULL), BP_OK);
        if (out->start) {
            begin(&m, &g, &s);
            ck_assert(g.plain);
            tied += g.tied;
            memcpy(g.start, out->start, s.p.activities * sizeof *g.start);
            bpi_sgs_shift(&g);
            is_schedule(&s, &g, seed);
            ck_assert_int_le(bpi_sgs_value(&g), out->value[0]);
            bpi_model_release(&m);
        }
        bp_eng_solution_free(out);
    }
    ck_assert_uint_gt(tied, CASES / 4);
}
END_TEST

START_TEST(children_are_schedules_and_the_same_each_time)
{
    for (uint32_t seed = 1; seed <= 20; seed++) {
        small_problem s;
        bpi_model m[2];
        bpi_breed b[2];
        network(&s, seed, false);
        for (int k = 0; k < 2; k++) {
            ck_assert(bpi_model_init(&m[k], &s.p, NULL, false, true));
            ck_assert(bpi_core_propagate(&m[k].core));
            ck_assert(bpi_breed_init(&b[k], &m[k]));
        }
        int64_t best = INT64_MAX;
        for (int n = 0; n < 400; n++) {
            bool better = bpi_breed_step(&b[0]);
            ck_assert(better == bpi_breed_step(&b[1]));
            ck_assert_mem_eq(b[0].sgs.start, b[1].sgs.start, s.p.activities * sizeof(int32_t));
            is_schedule(&s, &b[0].sgs, seed);
            int64_t value = bpi_sgs_value(&b[0].sgs);
            ck_assert(better == (value < best));
            best = value < best ? value : best;
            ck_assert_int_eq(b[0].best_value, best);
        }
        bp_eng_solution *out = NULL; /* and never better than the least there is */
        ck_assert_int_eq(bp_eng_solve(&out, &s.p, NULL, NULL), BP_OK);
        ck_assert_int_eq(out->status, BP_ENG_OPTIMAL);
        ck_assert_int_le(out->value[0], best);
        bp_eng_solution_free(out);
        bpi_model_release(&m[0]);
        bpi_model_release(&m[1]);
    }
}
END_TEST

START_TEST(only_plain_problems_are_built_so)
{
    small_problem s;
    bpi_model m;
    bpi_sgs g;
    network(&s, 1, false);
    small_activity(&s);
    small_option(&s, 1, 2, 0, -1); /* a length to choose */
    begin(&m, &g, &s);
    ck_assert(!g.plain);
    bpi_model_release(&m);
    network(&s, 1, false);
    small_activity(&s);
    small_option(&s, 1, 1, 0, -1);
    small_option(&s, 1, 1, 0, -1); /* a choice */
    begin(&m, &g, &s);
    ck_assert(!g.plain);
    bpi_model_release(&m);
    network(&s, 1, false);
    s.term[0].kind = BP_ENG_LASTS; /* nothing that wants to be early */
    begin(&m, &g, &s);
    ck_assert(!g.plain);
    bpi_model_release(&m);
}
END_TEST

/* Facts behind capacities, breaks and lags, some of them off. */
START_TEST(what_is_off_does_not_bind_what_is_built)
{
    uint32_t bound = 0;
    for (uint32_t seed = 1; seed <= CASES; seed++) {
        small_problem s;
        bpi_model m;
        bpi_sgs g;
        network(&s, seed, false);
        uint32_t state = seed, order[SMALL_ROWS];
        bool off[4] = {false};
        s.p.facts = 4;
        for (uint32_t f = 1; f < 4; f++)
            off[f] = small_draw(&state, 2);
        for (uint32_t r = 0; r < s.p.resources; r++)
            s.resource[r].fact = small_draw(&state, 4);
        small_span(&s, 1, 3, 9, (int32_t)small_draw(&state, 4), 0);
        for (uint32_t k = 0; k < s.p.spans; k++)
            s.span[k].fact = small_draw(&state, 4);
        for (uint32_t k = 0; k < s.p.lags; k++)
            s.lag[k].fact = s.lag[k].to + 1 == s.p.activities ? 0 : small_draw(&state, 4);
        ck_assert(bpi_model_init(&m, &s.p, off, false, true));
        ck_assert(bpi_core_propagate(&m.core));
        ck_assert(bpi_sgs_init(&g, &m));
        ck_assert(g.plain);
        for (uint32_t a = 0; a < s.p.activities; a++)
            g.key[a] = (int32_t)small_draw(&state, 1000);
        bpi_sgs_sort(&g, order);
        for (int turn = 0; turn < 2; turn++) {
            char why[200] = "";
            ck_assert(turn || bpi_sgs_forward(&g, order));
            if (turn)
                bpi_sgs_shift(&g);
            ck_assert_msg(holds(&s, &g, off, why, sizeof why), "seed %u: %s", seed, why);
            bound += !holds(&s, &g, NULL, why, sizeof why);
        }
        bpi_model_release(&m);
    }
    ck_assert_uint_gt(bound, CASES / 4); /* else nothing was off that mattered */
}
END_TEST

/* With hardly more time than the best schedule takes, many orders end too late: they give none, and what
 * was best before stays. */
START_TEST(an_order_that_misses_a_deadline_gives_nothing)
{
    uint32_t failed = 0, made = 0;
    for (uint32_t seed = 1; seed <= 20; seed++) {
        small_problem s;
        bpi_model m;
        bpi_breed b;
        bp_eng_solution *out = NULL;
        network(&s, seed, false);
        ck_assert_int_eq(bp_eng_solve(&out, &s.p, NULL, NULL), BP_OK);
        s.p.horizon = (int32_t)out->value[0];
        ck_assert(bpi_model_init(&m, &s.p, NULL, false, true));
        ck_assert(bpi_core_propagate(&m.core));
        ck_assert(bpi_breed_init(&b, &m));
        for (int n = 0; n < 200; n++) {
            uint32_t dull = b.dull;
            bool better = bpi_breed_step(&b);
            if (!better && b.dull == dull + 1)
                failed++;
            if (better) {
                made++;
                is_schedule(&s, &b.sgs, seed);
                ck_assert_int_eq(b.best_value, out->value[0]);
            }
        }
        bool had = b.have; /* one from elsewhere is taken, and taken once */
        bpi_breed_take(&b, out->start);
        is_schedule(&s, &b.sgs, seed);
        ck_assert(b.have);
        ck_assert_int_eq(b.best_value, out->value[0]);
        uint32_t alive = b.alive;
        ck_assert_uint_ge(alive, had ? 1 : 0);
        bpi_breed_take(&b, out->start);
        ck_assert_uint_eq(b.alive, alive);
        bp_eng_solution_free(out);
        bpi_model_release(&m);
    }
    ck_assert_uint_gt(failed, 20);
    ck_assert_uint_gt(made, 0);
}
END_TEST

/* Many that are alike but for their order: parents are crossed, and every child has each activity once. */
START_TEST(crossing_keeps_each_activity_once)
{
    small_problem s;
    bpi_model m;
    bpi_breed b;
    small_init(&s, 400, 1, 1);
    small_resource(&s, 2, 0);
    for (uint32_t a = 0; a < 16; a++) {
        small_task(&s, 1 + (int32_t)a % 7, 0, 1 + a % 2);
        small_term(&s, 0, BP_ENG_ENDS, a, 0, 0, 1 + (int32_t)a % 3);
    }
    ck_assert(bpi_model_init(&m, &s.p, NULL, false, true));
    ck_assert(bpi_core_propagate(&m.core));
    ck_assert(bpi_breed_init(&b, &m));
    for (uint32_t n = 0; n < 3000; n++) {
        bool seen[SMALL_ROWS] = {false};
        bpi_breed_step(&b);
        for (uint32_t k = 0; k < s.p.activities; k++) {
            ck_assert_uint_lt(b.child[k], s.p.activities);
            ck_assert(!seen[b.child[k]]);
            seen[b.child[k]] = true;
        }
        is_schedule(&s, &b.sgs, n);
    }
    ck_assert_uint_eq(b.alive, BPI_BREED_ALIVE);
    bpi_model_release(&m);
}
END_TEST

START_TEST(a_day_too_long_for_a_table_is_not_built_so)
{
    small_problem s;
    bpi_model m;
    bpi_sgs g;
    network(&s, 1, false);
    s.p.horizon = 1000000;
    small_resource(&s, 1, 0);
    begin(&m, &g, &s);
    ck_assert(g.plain);
    bpi_model_release(&m);
    small_resource(&s, 1, 0);
    begin(&m, &g, &s);
    ck_assert(!g.plain);
    bpi_model_release(&m);
}
END_TEST

START_TEST(each_refused_request_is_told)
{
    small_problem s;
    network(&s, 1, false);
    long met = 0;
    for (bool more = true; more; met += more) {
        bpi_model m;
        bpi_breed b;
        ck_assert(bpi_model_init(&m, &s.p, NULL, false, true));
        ck_assert(bpi_core_propagate(&m.core));
        bpi_mem_fail_at(met, 0);
        bool fine = bpi_breed_init(&b, &m);
        more = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert(fine == !more);
        bpi_model_release(&m);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
#ifdef BPI_ARENA_EACH /* else one block serves them all */
    ck_assert_int_gt(met, 20);
#endif
}
END_TEST

Suite *suite_engine_sgs(void);
Suite *suite_engine_sgs(void)
{
    Suite *suite = suite_create("engine/sgs");
    TCase *c = tcase_create("sgs");
    tcase_add_test(c, any_order_gives_a_schedule_and_shifting_never_a_later_end);
    tcase_add_test(c, a_schedule_with_maximum_lags_stays_one_when_shifted);
    tcase_add_test(c, children_are_schedules_and_the_same_each_time);
    tcase_add_test(c, only_plain_problems_are_built_so);
    tcase_add_test(c, what_is_off_does_not_bind_what_is_built);
    tcase_add_test(c, an_order_that_misses_a_deadline_gives_nothing);
    tcase_add_test(c, crossing_keeps_each_activity_once);
    tcase_add_test(c, a_day_too_long_for_a_table_is_not_built_so);
    tcase_add_test(c, each_refused_request_is_told);
    suite_add_tcase(suite, c);
    return suite;
}

#include "engine/lns.h"

#include <check.h>
#include <string.h>

#include "support/kitchen_day.h"

/* A day with a schedule found, and the search still standing at it. */
static kitchen_day day;
static bpi_model model;
static bpi_search search;

static void begin(uint32_t seed)
{
    ck_assert(kitchen_day_init(&day, seed, 40));
    ck_assert(bpi_model_init(&model, &day.p, NULL, false, true));
    ck_assert(bpi_search_init(&search, &model));
    ck_assert(bpi_core_propagate(&model.core));
    ck_assert_int_eq(bpi_search_run(&search), BPI_FOUND);
}

static void end(void)
{
    bpi_search_release(&search);
    bpi_model_release(&model);
    kitchen_day_release(&day);
}

START_TEST(what_stays_is_what_the_best_schedule_says)
{
    begin((uint32_t)_i);
    bpi_lns n;
    ck_assert(bpi_lns_init(&n, &search));
    for (int round = 0; round < 200; round++) {
        uint32_t k = bpi_lns_pick(&n, &search);
        ck_assert_uint_ge(k, 1);
        for (uint32_t i = 1; i < k; i++)
            ck_assert(bpi_lit_holds(&model.core, n.assume[i]));
        bpi_lns_learn(&n, &search, round % 3 == 0);
        ck_assert_uint_ge(n.size, 1);
        ck_assert_uint_le(n.size, day.p.activities);
    }
    end();
}
END_TEST

START_TEST(the_same_problem_gives_the_same_rounds)
{
    begin(3);
    bpi_lns a, b;
    ck_assert(bpi_lns_init(&a, &search) && bpi_lns_init(&b, &search));
    bool differ = false;
    uint32_t before = 0;
    for (int round = 0; round < 100; round++) {
        uint32_t k = bpi_lns_pick(&a, &search);
        ck_assert_uint_eq(k, bpi_lns_pick(&b, &search));
        for (uint32_t i = 1; i < k; i++) {
            ck_assert_uint_eq(a.assume[i].view, b.assume[i].view);
            ck_assert_int_eq(a.assume[i].least, b.assume[i].least);
        }
        differ = differ || (round > 0 && k != before);
        before = k;
    }
    ck_assert_msg(differ, "every round leaves the same open");
    end();
}
END_TEST

START_TEST(work_from_the_first_schedule_on_is_bounded_by_itself)
{
    ck_assert(kitchen_day_init(&day, 7, 60));
    bp_eng_limits first = {.first = true}, little = {.better = 1}, much = {.better = 5000000};
    bp_eng_solution *f, *l, *m;
    ck_assert_int_eq(bp_eng_solve(&f, &day.p, &first, NULL), BP_OK);
    ck_assert_int_eq(bp_eng_solve(&l, &day.p, &little, NULL), BP_OK);
    ck_assert_int_eq(bp_eng_solve(&m, &day.p, &much, NULL), BP_OK);
    ck_assert(f->start && l->start && m->start);
    ck_assert_uint_lt(l->work, f->work + 1000000); /* it looks at the limit now and then */
    ck_assert_uint_gt(m->work, l->work);
    /* More work never makes a plan worse, in the order of rank. */
    int order = 0;
    for (uint32_t k = 0; k < day.p.levels && !order; k++)
        order = (m->value[k] > l->value[k]) - (m->value[k] < l->value[k]);
    ck_assert_int_le(order, 0);
    bp_eng_solution_free(f);
    bp_eng_solution_free(l);
    bp_eng_solution_free(m);
    kitchen_day_release(&day);
}
END_TEST

Suite *suite_engine_lns(void);
Suite *suite_engine_lns(void)
{
    Suite *s = suite_create("engine/lns");
    TCase *c = tcase_create("lns");
    tcase_add_loop_test(c, what_stays_is_what_the_best_schedule_says, 1, 5);
    tcase_add_test(c, the_same_problem_gives_the_same_rounds);
    tcase_add_test(c, work_from_the_first_schedule_on_is_bounded_by_itself);
    suite_add_tcase(s, c);
    return s;
}

#include "engine/lns.h"

#include <check.h>
#include <string.h>

#include "engine/costly.h"
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
    ck_assert(bpi_search_root(&search));
}

/* Does the best schedule say so, of a start or an option? Other literals are none of a neighbourhood. */
static bool said(bpi_lit l)
{
    for (uint32_t a = 0; a < day.p.activities; a++) {
        bpi_ref r = model.start[a];
        int32_t v = search.best.start[a] - r.add;
        if (r.view / 2 == l.view / 2)
            return l.view == r.view ? v >= l.least : -v >= l.least;
        for (uint32_t k = 0; k < day.p.activity[a].options; k++) {
            bpi_lit o = model.option[day.p.activity[a].option0 + k];
            if (o.view == l.view && o.least == l.least && k == search.best.option[a])
                return true;
        }
    }
    return false;
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
    ck_assert(bpi_lns_init(&n, &search) && bpi_lns_level(&n, &search, (uint32_t)_i % 4));
    uint32_t seen[BPI_LNS_KINDS] = {0};
    for (int round = 0; round < 300; round++) {
        uint32_t k = bpi_lns_pick(&n, &search);
        ck_assert_uint_ge(k, 2);
        ck_assert_uint_lt(n.kind, BPI_LNS_KINDS);
        seen[n.kind]++;
        for (uint32_t i = 2; i < k; i++)
            ck_assert(said(n.assume[i]));
        bpi_lns_learn(&n, &search, round % 3 == 0);
        ck_assert_uint_ge(n.size, 1);
        ck_assert_uint_le(n.size, day.p.activities);
    }
    for (uint32_t kind = 0; kind < BPI_LNS_KINDS; kind++)
        ck_assert_uint_gt(seen[kind], 0);
    end();
}
END_TEST

START_TEST(the_same_problem_gives_the_same_rounds)
{
    begin(3);
    bpi_lns a, b;
    ck_assert(bpi_lns_init(&a, &search) && bpi_lns_init(&b, &search));
    ck_assert(bpi_lns_level(&a, &search, 1) && bpi_lns_level(&b, &search, 1));
    bool differ = false;
    uint32_t before = 0;
    for (int round = 0; round < 100; round++) {
        uint32_t k = bpi_lns_pick(&a, &search);
        ck_assert_uint_eq(k, bpi_lns_pick(&b, &search));
        for (uint32_t i = 2; i < k; i++) {
            ck_assert_uint_eq(a.assume[i].view, b.assume[i].view);
            ck_assert_int_eq(a.assume[i].least, b.assume[i].least);
        }
        bpi_lns_learn(&a, &search, false);
        bpi_lns_learn(&b, &search, false);
        differ = differ || (round > 0 && k != before);
        before = k;
    }
    ck_assert_msg(differ, "every round leaves the same open");
    end();
}
END_TEST

START_TEST(while_a_neighbourhood_gives_it_is_asked_for_more)
{
    begin(4);
    bpi_lns n;
    ck_assert(bpi_lns_init(&n, &search) && bpi_lns_level(&n, &search, 2));
    ck_assert_uint_ne(n.total.view, 0);
    const int64_t value = search.value[2];
    uint32_t k = bpi_lns_pick(&n, &search), odds = n.odds[n.kind];
    bpi_lns_kind kind = n.kind;
    bpi_lit first = n.assume[2];
    ck_assert_int_eq(n.assume[1].view, n.total.view ^ 1);
    ck_assert_int_eq(-n.assume[1].least, value - 1);
    bpi_lns_won(&n, 3);
    ck_assert_uint_gt(n.odds[kind], odds);
    ck_assert_uint_eq(bpi_lns_pick(&n, &search), k);
    ck_assert_uint_eq(n.assume[2].view, first.view);
    ck_assert_int_eq(-n.assume[1].least, value - 6);
    bpi_lns_learn(&n, &search, false); /* too much was asked: less of the same */
    ck_assert_uint_eq(bpi_lns_pick(&n, &search), k);
    ck_assert_int_eq(-n.assume[1].least, value - 1);
    odds = n.odds[kind];
    bpi_lns_learn(&n, &search, false); /* now the neighbourhood is done */
    ck_assert_uint_lt(n.odds[kind], odds);
    ck_assert_int_eq(n.total.gain, 0);
    end();
}
END_TEST

/* How many are left open follows from how rounds end, of those kinds alone that have a size. */
START_TEST(a_size_is_learned_where_there_is_one)
{
    static const struct {
        bpi_lns_kind kind;
        bool sized;
    } rows[] = {{BPI_LNS_WHEN, false},  {BPI_LNS_WHO, false},      {BPI_LNS_SHIFT, false},
                {BPI_LNS_WINDOW, true}, {BPI_LNS_CHAINS, true},    {BPI_LNS_COSTLY, true},
                {BPI_LNS_FEWER, false}, {BPI_LNS_RESOURCE, false}, {BPI_LNS_SQUEEZE, true}};
    begin(4);
    bpi_lns n;
    ck_assert(bpi_lns_init(&n, &search) && bpi_lns_level(&n, &search, 1));
    n.member = 0;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        n.kind = rows[i].kind;
        n.total.gain = 0;
        n.size = 20;
        bpi_lns_learn(&n, &search, true);
        ck_assert_msg((n.size > 20) == rows[i].sized, "row %zu: %u", i, n.size);
        n.size = 20;
        bpi_lns_learn(&n, &search, false);
        ck_assert_msg((n.size < 20) == rows[i].sized, "row %zu: %u", i, n.size);
    }
    end();
}
END_TEST

START_TEST(what_is_done_without_goes_round_and_ends)
{
    begin(4);
    bpi_lns n;
    ck_assert(bpi_lns_init(&n, &search) && bpi_lns_level(&n, &search, 1));
    uint32_t used = 0, tried = 0, where;
    for (uint32_t t = 0; t < day.p.terms; t++)
        used += day.p.term[t].level == 1 && bpi_costly_term(&search, &day.p.term[t], &where) > 0;
    ck_assert_uint_gt(used, 1);
    for (uint32_t k, last = UINT32_MAX; (k = bpi_lns_fewer(&n, &search)) > 0; last = n.member) {
        ck_assert_uint_ne(n.member, last);
        uint32_t off = 2;
        for (uint32_t a = 0; a < day.p.activities; a++)
            for (uint32_t o = 0; o < day.p.activity[a].options; o++)
                off += day.p.activity[a].options > 1 &&
                       bpi_costly_takes(&day.p, day.p.activity[a].option0 + o, n.member);
        ck_assert_uint_eq(k, off);
        tried++;
        bpi_lns_learn(&n, &search, tried > used); /* too large the first time, then proved needed */
        ck_assert_uint_le(tried, 2 * used);
    }
    ck_assert_uint_eq(tried, 2 * used);
    end();
}
END_TEST

/* What costs beyond the least at the root, and that least, is the value. */
START_TEST(costs_add_up_to_the_value)
{
    begin((uint32_t)_i);
    for (uint32_t level = 0; level < day.p.levels; level++) {
        int64_t sum = 0;
        uint32_t where;
        for (uint32_t t = 0; t < day.p.terms; t++)
            if (day.p.term[t].level == level) {
                sum += bpi_costly_term(&search, &day.p.term[t], &where);
                ck_assert_uint_lt(where, day.p.activities + day.p.resources);
            }
        int64_t least = level == 2 ? bpi_linear_root(&model.core, &model.level[2]) : 0;
        ck_assert_int_eq(sum + least, search.value[level]);
    }
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
    tcase_add_test(c, while_a_neighbourhood_gives_it_is_asked_for_more);
    tcase_add_test(c, a_size_is_learned_where_there_is_one);
    tcase_add_test(c, what_is_done_without_goes_round_and_ends);
    tcase_add_loop_test(c, costs_add_up_to_the_value, 1, 8);
    tcase_add_test(c, work_from_the_first_schedule_on_is_bounded_by_itself);
    suite_add_tcase(s, c);
    return s;
}

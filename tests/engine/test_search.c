/* The search below its public door: what it does when it begins anew, and without memory. */
#include "engine/search.h"

#include <check.h>

#include "base/memory.h"
#include "support/small_problem.h"

/* Tasks in a row, in one unit of time too few where `short_by` is 1. */
static void row(small_problem *s, uint32_t tasks, int32_t short_by)
{
    small_init(s, (int32_t)tasks * 3 - short_by, 1, 1);
    uint32_t r = small_resource(s, 1, 0);
    for (uint32_t k = 0; k < tasks; k++)
        small_task(s, 3, r, 1);
    small_term(s, 0, BP_ENG_ENDS, 0, 0, 0, 1);
}

/* With room for few learned clauses; `refused` is the request that fails, -1: none. */
static bpi_outcome searched(const small_problem *p, long refused, bpi_search *counts)
{
    bpi_model m;
    bpi_search s;
    ck_assert(bpi_model_init(&m, &p->p, NULL, false, true));
    ck_assert(bpi_search_init(&s, &m));
    ck_assert(bpi_core_propagate(&m.core));
    s.most_learned = 5;
    bpi_mem_fail_at(refused, 0);
    bpi_outcome o = bpi_search_run(&s);
    bool met = bpi_mem_failed();
    bpi_mem_fail_at(-1, 0);
    ck_assert_int_eq(o == BPI_NO_MEMORY, met);
    if (counts)
        *counts = s;
    bpi_search_release(&s);
    bpi_model_release(&m);
    ck_assert_int_eq(bpi_mem_alive(), 0);
    return o;
}

START_TEST(what_is_forgotten_is_learned_again)
{
    small_problem p;
    bpi_search counts;
    row(&p, 7, 0);
    ck_assert_int_eq(searched(&p, -1, NULL), BPI_FOUND);
    row(&p, 8, 1);
    ck_assert_int_eq(searched(&p, -1, &counts), BPI_NONE);
    ck_assert_uint_gt(counts.restarts, 2);
    ck_assert_uint_gt(counts.most_learned, 0);
}
END_TEST

START_TEST(a_schedule_that_is_adopted_is_the_best)
{
    static const int32_t start[] = {3, 0, 6};
    small_problem p;
    bpi_model m;
    bpi_search s;
    row(&p, 3, 0);
    ck_assert(bpi_model_init(&m, &p.p, NULL, false, true) && bpi_search_init(&s, &m));
    ck_assert(bpi_core_propagate(&m.core));
    ck_assert(!s.have && !s.have_phase);
    bpi_search_adopt(&s, start);
    ck_assert(s.have && s.have_phase);
    ck_assert_int_eq(s.value[0], 6); /* the first ends then */
    for (uint32_t a = 0; a < 3; a++) {
        ck_assert_int_eq(s.best.start[a], start[a]);
        ck_assert_int_eq(s.best.length[a], 3);
        ck_assert_uint_eq(s.best.option[a], 0);
    }
    bpi_search_release(&s);
    bpi_model_release(&m);
}
END_TEST

START_TEST(each_refused_request_is_told)
{
    small_problem p;
    long met = 0;
    row(&p, 7, 1);
    while (searched(&p, met, NULL) == BPI_NO_MEMORY)
        met++;
    ck_assert_int_gt(met, 20);
    ck_assert_int_eq(searched(&p, met, NULL), BPI_NONE);
}
END_TEST

/* Assumptions that exclude each other are named, and those that do not matter are not. */
START_TEST(what_is_assumed_in_vain_is_named)
{
    small_problem p;
    row(&p, 3, 0);
    long met = 0;
    for (bool more = true; more; met += more) {
        bpi_model m;
        bpi_search s;
        ck_assert(bpi_model_init(&m, &p.p, NULL, false, true));
        ck_assert(bpi_search_init(&s, &m));
        ck_assert(bpi_core_propagate(&m.core));
        /* The first two at once; the third somewhere. */
        const bpi_lit assume[] = {bpi_ref_least(m.start[2], 0), bpi_ref_most(m.start[0], 1),
                                  bpi_ref_least(m.start[2], 1), bpi_ref_most(m.start[1], 1)};
        s.assume = assume;
        s.assumes = 4;
        bpi_mem_fail_at(met, 0);
        bpi_outcome o = bpi_search_run(&s);
        more = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(o, more ? BPI_NO_MEMORY : BPI_NONE);
        for (uint32_t k = 0; k < s.cores && !more; k++)
            ck_assert_uint_ne(s.core_of[k].view, assume[0].view);
        if (!more)
            ck_assert_uint_eq(s.cores, 2);
        bpi_search_release(&s);
        bpi_model_release(&m);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
    ck_assert_int_gt(met, 0);
}
END_TEST

Suite *suite_engine_search(void);
Suite *suite_engine_search(void)
{
    Suite *s = suite_create("engine/search");
    TCase *c = tcase_create("search");
    tcase_add_test(c, what_is_forgotten_is_learned_again);
    tcase_add_test(c, a_schedule_that_is_adopted_is_the_best);
    tcase_add_test(c, each_refused_request_is_told);
    tcase_add_test(c, what_is_assumed_in_vain_is_named);
    suite_add_tcase(s, c);
    return s;
}

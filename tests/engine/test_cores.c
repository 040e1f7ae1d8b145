/* A bound raised by conflicts alone must end at the value found by trying everything. */
#include "engine/cores.h"

#include <check.h>

#include "base/memory.h"
#include "support/small_problem.h"

enum { CASES = 600 };

static uint64_t raised, sums;

/* Makes one level least by raising its bound only, a little work at a time. */
static void level_is(bpi_search *s, uint32_t level, int64_t best, uint32_t seed)
{
    bpi_cores g;
    bpi_linear *n = &s->m->level[level];
    ck_assert(bpi_search_root(s));
    ck_assert(bpi_cores_init(&g, s, n));
    if (seed % 2) /* conflicts as they come: small problems are closed while they are shrunk */
        g.shrink = 0;
    int64_t first = bpi_cores_bound(&g);
    uint32_t views = s->m->core.views;
    bpi_outcome o = BPI_FOUND;
    while (o != BPI_NONE) {
        n->most_guarded = g.now.most_guarded = s->value[level] - 1;
        o = bpi_cores_run(&g, s, s->m->core.work + 30000);
        ck_assert_int_ne(o, BPI_NO_MEMORY);
        ck_assert_msg(bpi_cores_bound(&g) <= best || s->value[level] == best,
                      "seed %u level %u: bound %lld above %lld", seed, level,
                      (long long)bpi_cores_bound(&g), (long long)best);
        ck_assert(!g.full);
    }
    raised += bpi_cores_bound(&g) > first;
    sums += s->m->core.views > views; /* a sum of terms was made */
    ck_assert_msg(s->value[level] == best, "seed %u level %u: %lld, not %lld", seed, level,
                  (long long)s->value[level], (long long)best);
    s->assumes = 0;
    n->most = best;
    n->most_guarded = g.now.most_guarded = INT64_MAX;
    bpi_core_back(&s->m->core, 0);
    bpi_atoms_undo(&s->learn.atoms, 0);
    ck_assert(bpi_core_set(&s->m->core, bpi_lit_not(n->guard), 0));
    bpi_core_queue(&s->m->core, n->prop);
}

/* All levels of a problem; how many, or none where it has no schedule. */
static uint32_t levels_are(const small_problem *p, uint32_t seed)
{
    int64_t best[BP_ENG_LEVELS];
    bpi_model m;
    bpi_search s;
    if (!small_brute(p, NULL, best))
        return 0;
    ck_assert(bpi_model_init(&m, &p->p, NULL, false, true));
    ck_assert(bpi_search_init(&s, &m));
    ck_assert(bpi_core_propagate(&m.core));
    ck_assert_int_eq(bpi_search_run(&s), BPI_FOUND);
    for (uint32_t k = 0; k < p->p.levels; k++)
        level_is(&s, k, best[k], seed);
    bpi_search_release(&s);
    bpi_model_release(&m);
    return p->p.levels;
}

START_TEST(a_bound_raised_by_conflicts_ends_at_the_best)
{
    uint32_t levels = 0;
    raised = 0;
    for (uint32_t seed = 1; seed <= CASES; seed++) {
        small_problem p;
        small_random(&p, seed);
        levels += levels_are(&p, seed);
    }
    ck_assert_uint_gt(levels, CASES / 2);
    ck_assert_uint_gt(raised, CASES / 20);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

/* Tasks of one or two resources that are all wanted at the same time, by different weights. */
START_TEST(sums_of_terms_end_at_the_best_too)
{
    sums = 0;
    for (uint32_t seed = 1; seed <= CASES / 4; seed++) {
        small_problem p;
        uint32_t g = seed;
        small_init(&p, 9, 1, 2);
        uint32_t r = small_resource(&p, 1 + (int32_t)small_draw(&g, 2), 0);
        for (uint32_t t = 0; t < 4; t++) {
            uint32_t a = small_task(&p, 1 + (int32_t)small_draw(&g, 3), r, 1);
            small_term(&p, 0, BP_ENG_LATE, a, 0, 2 + (int32_t)small_draw(&g, 3),
                       1 + (int32_t)small_draw(&g, 4));
            small_term(&p, 1, BP_ENG_ENDS, a, 0, 0, 1 + (int32_t)small_draw(&g, 3));
        }
        levels_are(&p, seed);
    }
    ck_assert_uint_gt(sums, CASES / 20);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

/* Raised while one request is refused: that is told, or the bound ends at the best. */
static bool refused(const small_problem *p, int64_t best, long request, uint64_t shrink)
{
    bpi_model m;
    bpi_search s;
    bpi_cores g;
    ck_assert(bpi_model_init(&m, &p->p, NULL, false, true));
    ck_assert(bpi_search_init(&s, &m));
    ck_assert(bpi_core_propagate(&m.core));
    ck_assert_int_eq(bpi_search_run(&s), BPI_FOUND);
    ck_assert(bpi_search_root(&s));
    bpi_mem_fail_at(request, 0);
    bpi_linear *n = &m.level[0];
    bpi_outcome o = bpi_cores_init(&g, &s, n) ? BPI_LIMIT : BPI_NO_MEMORY;
    g.shrink = shrink;
    while (o == BPI_FOUND || o == BPI_LIMIT) {
        n->most_guarded = g.now.most_guarded = s.value[0] - 1;
        o = bpi_cores_run(&g, &s, m.core.work + 30000);
    }
    bool met = bpi_mem_failed();
    bpi_mem_fail_at(-1, 0);
    ck_assert_int_eq(o == BPI_NO_MEMORY, met);
    if (!met)
        ck_assert_int_eq(s.value[0], best);
    bpi_search_release(&s);
    bpi_model_release(&m);
    ck_assert_int_eq(bpi_mem_alive(), 0);
    return met;
}

/* Tasks that are all wanted at the same time, by weights that differ. */
static void rivals(small_problem *p, uint32_t tasks)
{
    small_init(p, 3 * (int32_t)tasks, 1, 1);
    uint32_t r = small_resource(p, 1, 0);
    for (uint32_t t = 0; t < tasks; t++)
        small_term(p, 0, BP_ENG_LATE, small_task(p, 2 + (int32_t)t % 2, r, 1), 0, 3,
                   1 + (int32_t)t % 3);
}

START_TEST(each_refused_request_is_told)
{
    for (uint32_t seed = 0; seed < 2; seed++) {
        small_problem p;
        int64_t best[BP_ENG_LEVELS];
        rivals(&p, 4);
        ck_assert(small_brute(&p, NULL, best));
        long met = 0;
        while (refused(&p, best[0], met, seed ? 0 : 20000))
            met++;
        ck_assert_int_gt(met, 10);
    }
}
END_TEST

/* Where no more terms can be made the bound stays where it is, below the best. */
START_TEST(without_room_for_terms_the_bound_stays_true)
{
    small_problem p;
    int64_t best[BP_ENG_LEVELS];
    bpi_model m;
    bpi_search s;
    bpi_cores g;
    rivals(&p, 5);
    ck_assert(small_brute(&p, NULL, best));
    ck_assert(bpi_model_init(&m, &p.p, NULL, false, true));
    ck_assert(bpi_search_init(&s, &m));
    ck_assert(bpi_core_propagate(&m.core));
    ck_assert_int_eq(bpi_search_run(&s), BPI_FOUND);
    ck_assert(bpi_search_root(&s));
    ck_assert(bpi_cores_init(&g, &s, &m.level[0]));
    g.room = g.now.terms;
    g.shrink = 0; /* conflicts as they come */
    bpi_outcome o = BPI_FOUND;
    for (int turns = 0; o == BPI_FOUND && turns < 1000; turns++) {
        m.level[0].most_guarded = g.now.most_guarded = s.value[0] - 1;
        o = bpi_cores_run(&g, &s, UINT64_MAX);
    }
    ck_assert_int_eq(o, BPI_LIMIT);
    ck_assert(g.full);
    ck_assert_int_le(bpi_cores_bound(&g), best[0]);
    uint64_t before = m.core.work;
    ck_assert_int_eq(bpi_cores_run(&g, &s, UINT64_MAX), BPI_LIMIT); /* and no work goes into it */
    ck_assert_uint_eq(m.core.work, before);
    bpi_search_release(&s);
    bpi_model_release(&m);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

Suite *suite_engine_cores(void);
Suite *suite_engine_cores(void)
{
    Suite *s = suite_create("engine/cores");
    TCase *t = tcase_create("cores");
    tcase_add_test(t, a_bound_raised_by_conflicts_ends_at_the_best);
    tcase_add_test(t, sums_of_terms_end_at_the_best_too);
    tcase_add_test(t, each_refused_request_is_told);
    tcase_add_test(t, without_room_for_terms_the_bound_stays_true);
    suite_add_tcase(s, t);
    return s;
}

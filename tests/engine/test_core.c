#include "engine/core.h"

#include <check.h>

#include "base/memory.h"
#include "engine/grow.h"
#include "engine/learn.h"

/* Several levels may begin before the first of them is propagated: whichever level is gone back to,
 * what follows from those left must follow again. */
START_TEST(levels_begun_together_are_propagated_again)
{
    bpi_core c;
    ck_assert(bpi_core_init(&c));
    uint32_t x = bpi_core_var(&c, 0, 10), y = bpi_core_var(&c, 0, 20), z = bpi_core_var(&c, 0, 1);
    ck_assert(bpi_core_arc(&c, (bpi_ref){x, 0}, (bpi_ref){y, 0}, 3, BPI_LIT_TRUE));
    ck_assert(bpi_core_propagate(&c));
    ck_assert_int_eq(c.low[y], 3);
    ck_assert(bpi_core_decide(&c, (bpi_lit){x, 5}));
    ck_assert(bpi_core_decide(&c, (bpi_lit){z, 1}));
    ck_assert(bpi_core_decide(&c, (bpi_lit){x, 7}));
    ck_assert(bpi_core_propagate(&c));
    ck_assert_int_eq(c.low[y], 10);
    bpi_core_back(&c, 2);
    ck_assert_int_eq(c.low[y], 3); /* it followed after the third began */
    ck_assert(bpi_core_propagate(&c));
    ck_assert_int_eq(c.low[y], 8);
    bpi_core_back(&c, 0);
    ck_assert(bpi_core_propagate(&c));
    ck_assert_int_eq(c.low[y], 3);
    bpi_core_release(&c);
}
END_TEST

/* A lag longer than any day only says that it cannot hold; one as far below says nothing. */
START_TEST(lags_beyond_every_bound_are_kept_small)
{
    bpi_core c;
    ck_assert(bpi_core_init(&c));
    uint32_t x = bpi_core_var(&c, 0, 10), y = bpi_core_var(&c, 0, 10), z = bpi_core_var(&c, 0, 1);
    bpi_lit cond = {z, 1};
    ck_assert(bpi_core_arc(&c, (bpi_ref){x, 0}, (bpi_ref){y, 0}, -(INT64_C(1) << 40), cond));
    ck_assert(!bpi_lit_fails(&c, cond));
    ck_assert(bpi_core_arc(&c, (bpi_ref){x, 0}, (bpi_ref){y, 0}, INT64_C(1) << 40, cond));
    ck_assert(bpi_lit_fails(&c, cond));
    ck_assert(bpi_core_propagate(&c));
    ck_assert_int_eq(c.low[y], 0);
    bpi_core_release(&c);
}
END_TEST

/* The trail has a step for each bound that moved, and no other. */
START_TEST(what_holds_already_leaves_no_step)
{
    bpi_core c;
    ck_assert(bpi_core_init(&c));
    uint32_t x = bpi_core_var(&c, 2, 10);
    uint32_t steps = c.trails;
    ck_assert(bpi_core_set(&c, (bpi_lit){x, 2}, 0));
    ck_assert_uint_eq(c.trails, steps);
    ck_assert(bpi_core_set(&c, (bpi_lit){x, 3}, 0));
    ck_assert_uint_eq(c.trails, steps + 1);
    ck_assert(bpi_core_set(&c, (bpi_lit){x, 3}, 0));
    ck_assert_uint_eq(c.trails, steps + 1);
    bpi_core_release(&c);
}
END_TEST

/* A conflict of what holds at the root leaves nothing to go back to, whatever was decided since. */
START_TEST(a_conflict_of_the_root_alone_ends_it)
{
    bpi_core c;
    bpi_learn g;
    ck_assert(bpi_core_init(&c));
    uint32_t x = bpi_core_var(&c, 2, 10), y = bpi_core_var(&c, 0, 10);
    ck_assert(bpi_learn_init(&g, &c));
    ck_assert(bpi_core_propagate(&c));
    ck_assert(bpi_core_decide(&c, (bpi_lit){y, 5}));
    const bpi_lit why = {x, 2};
    ck_assert(!bpi_core_conflict(&c, &why, 1));
    ck_assert(!c.broken);
    ck_assert(!bpi_learn_conflict(&g));
    ck_assert(c.broken && !c.no_memory);
    ck_assert(!bpi_core_propagate(&c));
    bpi_learn_release(&g);
    bpi_core_release(&c);
}
END_TEST

/* x and y are raised by clauses and lags until they clash; what is learned says that z is false.
 * False: memory was refused on the way. */
static bool learns(bpi_core *c, bpi_learn *g)
{
    if (!bpi_core_init(c))
        return false;
    uint32_t x = bpi_core_var(c, 0, 10), y = bpi_core_var(c, 0, 10), z = bpi_core_var(c, 0, 1),
             w = bpi_core_var(c, 0, 1);
    if (w == UINT32_MAX || z == UINT32_MAX || y == UINT32_MAX || x == UINT32_MAX)
        return false;
    const bpi_lit not_z = {z ^ 1, 0}, not_w = {w ^ 1, 0};
    const bpi_lit first[] = {not_z, not_w, {x, 6}}, second[] = {not_z, not_w, {y ^ 1, -7}};
    if (!bpi_core_clause(c, first, 3) || !bpi_core_clause(c, second, 3) ||
        !bpi_core_arc(c, (bpi_ref){x, 0}, (bpi_ref){y, 0}, 3, BPI_LIT_TRUE) ||
        !bpi_learn_init(g, c) || !bpi_core_propagate(c) || !bpi_core_decide(c, (bpi_lit){w, 1}) ||
        !bpi_core_propagate(c) || !bpi_core_decide(c, (bpi_lit){z, 1}))
        return false;
    bool clash = !bpi_core_propagate(c);
    ck_assert(clash);
    if (!bpi_learn_conflict(g))
        return false;
    ck_assert_uint_eq(c->levels, 1);
    ck_assert(bpi_lit_holds(c, not_z)); /* w was decided before, so z is what gives */
    return true;
}

/* Lags alone lead to the clash: the first room for its reasons is asked for then. */
START_TEST(a_clash_without_room_for_its_reasons_is_told)
{
    for (int refuse = 0; refuse < 2; refuse++) {
        bpi_core c;
        ck_assert(bpi_core_init(&c));
        uint32_t x = bpi_core_var(&c, 0, 10), y = bpi_core_var(&c, 0, 10),
                 z = bpi_core_var(&c, 0, 5);
        ck_assert(bpi_core_arc(&c, (bpi_ref){x, 0}, (bpi_ref){y, 0}, 2, BPI_LIT_TRUE));
        ck_assert(bpi_core_arc(&c, (bpi_ref){y, 0}, (bpi_ref){z, 0}, -3, (bpi_lit){x, 4}));
        ck_assert(bpi_core_propagate(&c));
        ck_assert(bpi_core_decide(&c, (bpi_lit){x, 4}));
        ck_assert(bpi_core_propagate(&c));
        ck_assert_int_eq(c.low[z], 3);
        ck_assert(bpi_core_decide(&c, (bpi_lit){z ^ 1, -3})); /* z is 3, so y is 6 and x 4 */
        ck_assert(bpi_core_propagate(&c));
        ck_assert(bpi_core_decide(&c, (bpi_lit){y ^ 1, -6}));
        ck_assert(bpi_core_propagate(&c));
        bpi_mem_fail_at(refuse ? 0 : -1, 1);
        bool fine = bpi_core_set(&c, (bpi_lit){z, 4}, BPI_WHY(BPI_WHY_DECIDED, 0));
        bpi_mem_fail_at(-1, 0);
        ck_assert(!fine);
        ck_assert(c.no_memory == (refuse == 1));
        ck_assert_uint_eq(c.whys, refuse ? 0 : 1); /* what it was decided against: z is at most 3 */
        bpi_core_release(&c);
    }
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

/* A learned clause longer than any conflict before: all of it fails at once. */
START_TEST(a_long_clause_that_fails_needs_room)
{
    for (int refuse = 0; refuse < 2; refuse++) {
        bpi_core c;
        bpi_lit l[40];
        uint32_t view[40], place;
        ck_assert(bpi_core_init(&c));
        uint32_t all = bpi_core_var(&c, 0, 1);
        for (uint32_t k = 0; k < 40; k++) {
            view[k] = bpi_core_var(&c, 0, 1);
            ck_assert(view[k] != UINT32_MAX);
            l[k] = (bpi_lit){view[k], 1};
            ck_assert(
                bpi_core_arc(&c, (bpi_ref){all, 0}, (bpi_ref){view[k] ^ 1, 0}, -1, BPI_LIT_TRUE));
        }
        ck_assert(bpi_core_propagate(&c));
        ck_assert(bpi_clause_learn(&c, l, 40, 1, &place));
        ck_assert(bpi_core_decide(&c, (bpi_lit){all, 1}));
        ck_assert_uint_lt(c.why_room, 40);
        /* Room for the trail is asked for first; the clause is last. */
        ck_assert(BPI_GROW(c.trail, c.trail_room, 100));
        for (uint32_t k = 0; k < 40; k++)
            ck_assert(BPI_GROW(c.watch[view[k] ^ 1].item, c.watch[view[k] ^ 1].item_room, 2));
        bpi_mem_fail_at(refuse ? 0 : -1, 1);
        bool fine = bpi_core_propagate(&c);
        bpi_mem_fail_at(-1, 0);
        ck_assert(!fine);
        ck_assert(c.no_memory == (refuse == 1));
        ck_assert_uint_eq(c.whys, refuse ? 0 : 40);
        bpi_core_release(&c);
    }
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(each_refused_request_of_learning_is_told)
{
    long met = 0;
    for (bool more = true; more; met += more) {
        bpi_core c = {0};
        bpi_learn g = {0};
        bpi_mem_fail_at(met, 0);
        bool fine = learns(&c, &g);
        more = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert(fine == !more);
        ck_assert(c.no_memory == more);
        bpi_learn_release(&g);
        bpi_core_release(&c);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
    ck_assert_int_gt(met, 20);
}
END_TEST

Suite *suite_engine_core(void);
Suite *suite_engine_core(void)
{
    Suite *s = suite_create("engine/core");
    TCase *c = tcase_create("core");
    tcase_add_test(c, levels_begun_together_are_propagated_again);
    tcase_add_test(c, lags_beyond_every_bound_are_kept_small);
    tcase_add_test(c, what_holds_already_leaves_no_step);
    tcase_add_test(c, a_conflict_of_the_root_alone_ends_it);
    tcase_add_test(c, a_clash_without_room_for_its_reasons_is_told);
    tcase_add_test(c, a_long_clause_that_fails_needs_room);
    tcase_add_test(c, each_refused_request_of_learning_is_told);
    suite_add_tcase(s, c);
    return s;
}

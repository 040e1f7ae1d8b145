/* The literals that the search decides next: the most active open one, of equals the oldest. */
#include "engine/atoms.h"

#include <check.h>

enum { VARIABLES = 5 };

static bpi_core core;
static bpi_atoms atoms;

static void setup(void)
{
    ck_assert(bpi_core_init(&core));
    for (uint32_t k = 0; k < VARIABLES; k++)
        ck_assert_uint_eq(bpi_core_var(&core, 0, 10), 2 + 2 * k);
    bpi_atoms_init(&atoms, &core);
}

static void teardown(void)
{
    bpi_atoms_release(&atoms);
    bpi_core_release(&core);
}

static void bump(uint32_t variable, int32_t cut, int times)
{
    for (int k = 0; k < times; k++)
        ck_assert(bpi_atoms_bump(&atoms, (bpi_lit){2 + 2 * variable, cut}));
}

static void next_is(uint32_t variable, int32_t cut)
{
    bpi_lit l;
    ck_assert(bpi_atoms_pick(&atoms, &l));
    ck_assert_uint_eq(l.view, 2 + 2 * variable);
    ck_assert_int_eq(l.least, cut);
}

START_TEST(the_most_active_comes_first_and_comes_back)
{
    bpi_lit none;
    ck_assert(!bpi_atoms_pick(&atoms, &none));
    for (uint32_t k = 0; k < VARIABLES; k++)
        bump(k, 5, 1 + (int)(3 * k) % VARIABLES); /* 1, 4, 2, 5, 3 times */
    bump(0, 4, 5);                                /* as often as variable 3, but newer */
    /* "x <= 5" is the same atom as "x >= 6": counted together. */
    ck_assert(bpi_atoms_bump(&atoms, (bpi_lit){3, -5}));
    bump(0, 6, 5);
    next_is(0, 6);
    next_is(3, 5);
    next_is(0, 4);
    ck_assert(bpi_core_decide(&core, (bpi_lit){4, 7})); /* variable 1 is at 5 now */
    next_is(4, 5);
    next_is(2, 5);
    next_is(0, 5);
    ck_assert(!bpi_atoms_pick(&atoms, &none));
    bpi_core_back(&core, 0);
    bpi_atoms_undo(&atoms, 1);
    next_is(1, 5);
    next_is(4, 5);
    bpi_atoms_undo(&atoms, 0);
    next_is(0, 6);
}
END_TEST

/* Late conflicts count for more; however late they grow no further than they have bits for. */
START_TEST(ten_thousand_conflicts_keep_the_order)
{
    bump(0, 5, 4);
    bump(1, 5, 2);
    bump(2, 5, 1);
    for (int k = 0; k < 10000; k++) {
        bpi_atoms_fade(&atoms);
        if (k % 1000 == 999)
            bump(3 + (uint32_t)k / 1000 % 2, 5, 1);
    }
    for (uint32_t a = 0; a < atoms.atoms; a++)
        ck_assert_uint_eq(atoms.atom[a].activity.part >> 52, 1);
    next_is(4, 5);
    next_is(3, 5);
    next_is(0, 5); /* faded to nothing, so by age */
    next_is(1, 5);
    next_is(2, 5);
}
END_TEST

START_TEST(what_is_settled_at_the_root_does_not_come_back)
{
    bump(0, 5, 3);
    bump(1, 5, 2);
    bump(2, 5, 1);
    ck_assert(bpi_core_set(&core, (bpi_lit){2, 5}, 0));  /* 0 is at least 5 */
    ck_assert(bpi_core_set(&core, (bpi_lit){5, -4}, 0)); /* 1 is at most 4  */
    ck_assert(bpi_core_propagate(&core));
    next_is(2, 5);
    bpi_atoms_undo(&atoms, 0);
    next_is(2, 5);
    bpi_lit none;
    ck_assert(!bpi_atoms_pick(&atoms, &none));
    bump(0, 5, 9); /* nor is it given where it is bumped again */
    ck_assert(!bpi_atoms_pick(&atoms, &none));
}
END_TEST

Suite *suite_engine_atoms(void);
Suite *suite_engine_atoms(void)
{
    Suite *suite = suite_create("engine/atoms");
    TCase *c = tcase_create("atoms");
    tcase_add_checked_fixture(c, setup, teardown);
    tcase_add_test(c, the_most_active_comes_first_and_comes_back);
    tcase_add_test(c, ten_thousand_conflicts_keep_the_order);
    tcase_add_test(c, what_is_settled_at_the_root_does_not_come_back);
    suite_add_tcase(suite, c);
    return suite;
}

#include "engine/core.h"

#include <check.h>

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

Suite *suite_engine_core(void);
Suite *suite_engine_core(void)
{
    Suite *s = suite_create("engine/core");
    TCase *c = tcase_create("core");
    tcase_add_test(c, levels_begun_together_are_propagated_again);
    suite_add_tcase(s, c);
    return s;
}

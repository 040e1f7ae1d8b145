#include "model/allergen.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

START_TEST(the_nine_of_us_law_and_the_fourteen_of_eu_law_are_there)
{
    /* FALCPA 2004 names eight, the FASTER Act of 2021 adds sesame; Annex II to Regulation (EU)
     * 1169/2011 has points 1 to 14. Counts from memory of both texts. */
    unsigned us = 0, points = 0;
    for (uint32_t i = 0; i < bpi_allergen_count; i++) {
        unsigned point = 0;
        us += bpi_allergens[i].us != NULL;
        ck_assert(bpi_allergens[i].us || bpi_allergens[i].eu);
        if (bpi_allergens[i].eu)
            ck_assert_int_eq(sscanf(bpi_allergens[i].eu, "Annex II %u", &point), 1);
        ck_assert_uint_le(point, 14);
        points |= 1u << point;
    }
    ck_assert_uint_eq(us, 9);
    ck_assert_uint_eq(points >> 1, (1u << 14) - 1);
    ck_assert_uint_le(bpi_allergen_count, 31); /* a set is a bit set */
}
END_TEST

START_TEST(each_is_found_by_its_own_name)
{
    for (uint32_t i = 0; i < bpi_allergen_count; i++)
        ck_assert_uint_eq(bpi_allergen_find(bpi_allergens[i].name), i);
    ck_assert_uint_eq(bpi_allergen_find("Milk"), bpi_allergen_count);
    ck_assert_uint_eq(bpi_allergen_find(""), bpi_allergen_count);
}
END_TEST

START_TEST(a_set_is_listed_in_table_order)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_allergen_put(&t, 0);
    ck_assert_uint_eq(t.len, 0);
    bpi_allergen_put(&t, 1u << bpi_allergen_find("celery") | 1u << bpi_allergen_find("milk"));
    ck_assert_str_eq(t.s, "milk, celery");
    bpi_text_release(&t);
}
END_TEST

Suite *suite_model_allergen(void);
Suite *suite_model_allergen(void)
{
    Suite *s = suite_create("model/allergen");
    TCase *c = tcase_create("allergen");
    tcase_add_test(c, the_nine_of_us_law_and_the_fourteen_of_eu_law_are_there);
    tcase_add_test(c, each_is_found_by_its_own_name);
    tcase_add_test(c, a_set_is_listed_in_table_order);
    suite_add_tcase(s, c);
    return s;
}

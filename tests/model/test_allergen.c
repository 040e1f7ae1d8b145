#include "model/allergen.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

START_TEST(the_nine_of_us_law_and_the_fourteen_of_eu_law_are_there)
{
    /* FALCPA 2004 names eight, the FASTER Act of 2021 adds sesame; Annex II to Regulation (EU)
     * 1169/2011 has points 1 to 14. Counts from memory of both texts; FS-409 of
     * tests/safety/published.csv: nine since 2023-01-01. */
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
    bpi_allergen_put(&t, 0, BPI_LAW_ANY);
    ck_assert_uint_eq(t.len, 0);
    bpi_allergen_put(&t, 1u << bpi_allergen_find("celery") | 1u << bpi_allergen_find("milk"),
                     BPI_LAW_ANY);
    ck_assert_str_eq(t.s, "milk, celery");
    bpi_text_release(&t);
}
END_TEST

static uint32_t set_of(const char *a, const char *b)
{
    return 1u << bpi_allergen_find(a) | 1u << bpi_allergen_find(b);
}

/* The nine of 21 U.S.C. 321(qq)(1); the fourteen of Annex II, in its words. */
START_TEST(a_law_lists_its_own_in_its_words)
{
    static const struct {
        const char *a, *b, *us, *eu;
    } sets[] = {
        {"celery", "milk", "milk", "milk, celery"},
        {"wheat", "cereals containing gluten", "wheat", "cereals containing gluten (wheat)"},
        {"tree nuts", "crustacean shellfish", "crustacean shellfish, tree nuts",
         "crustaceans, nuts"},
        {"lupin", "molluscs", "", "lupin, molluscs"}};
    for (size_t i = 0; i < sizeof sets / sizeof *sets; i++) {
        bpi_text us = BPI_TEXT_EMPTY, eu = BPI_TEXT_EMPTY;
        bpi_text_put(&us, "");
        bpi_text_put(&eu, "");
        bpi_allergen_put(&us, set_of(sets[i].a, sets[i].b), BPI_LAW_US);
        bpi_allergen_put(&eu, set_of(sets[i].a, sets[i].b), BPI_LAW_EU);
        ck_assert_str_eq(us.s, sets[i].us);
        ck_assert_str_eq(eu.s, sets[i].eu);
        bpi_text_release(&us);
        bpi_text_release(&eu);
    }
}
END_TEST

START_TEST(who_may_have_no_gluten_may_have_no_wheat)
{
    uint32_t wheat = 1u << bpi_allergen_find("wheat"), milk = 1u << bpi_allergen_find("milk");
    uint32_t gluten = 1u << bpi_allergen_find("cereals containing gluten");
    ck_assert_uint_eq(bpi_allergen_meet(gluten, wheat | milk), wheat);
    ck_assert_uint_eq(bpi_allergen_meet(wheat, gluten | milk), 0); /* barley is no wheat */
    ck_assert_uint_eq(bpi_allergen_meet(milk, milk | wheat), milk);
    ck_assert_uint_eq(bpi_allergen_meet(0, milk | wheat), 0);
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
    tcase_add_test(c, a_law_lists_its_own_in_its_words);
    tcase_add_test(c, who_may_have_no_gluten_may_have_no_wheat);
    suite_add_tcase(s, c);
    return s;
}

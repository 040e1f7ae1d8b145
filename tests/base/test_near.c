#include "base/near.h"

#include <check.h>
#include <string.h>

/* The first two are the textbook examples of edit distance (kitten/sitting, Saturday/Sunday); the
 * swap is what Damerau counts as one edit (Communications of the ACM 7(3), 1964). From memory. */
static const struct {
    const char *a, *b;
    unsigned distance;
} rows[] = {
    {"kitten", "sitting", 3}, {"saturday", "sunday", 3}, {"", "", 0},
    {"", "abc", 3},           {"teh", "the", 1},         {"dishs", "dishes", 1},
    {"ca", "abc", 3},         {"Burners", "burners", 0}, {"same", "same", 0},
    {"abcd", "wxyz", 4},
};

START_TEST(edits_are_counted_in_both_directions)
{
    const char *a = rows[_i].a, *b = rows[_i].b;
    ck_assert_uint_eq(bpi_near_distance(a, strlen(a), b, strlen(b), 9), rows[_i].distance);
    ck_assert_uint_eq(bpi_near_distance(b, strlen(b), a, strlen(a), 9), rows[_i].distance);
}
END_TEST

START_TEST(more_than_most_is_most_and_one)
{
    ck_assert_uint_eq(bpi_near_distance("kitten", 6, "sitting", 7, 2), 3);
    char longer[64];
    memset(longer, 'a', sizeof longer);
    ck_assert_uint_eq(bpi_near_distance(longer, 63, longer, 63, 3), 0);
    ck_assert_uint_eq(bpi_near_distance(longer, 64, longer, 64, 3), 4);
}
END_TEST

static const char *nearest(const char *want)
{
    static const char *const known[] = {"dishes", "beats", "beat", "id", "burners", "ovens", "at"};
    bpi_near n = bpi_near_to(want, strlen(want));
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        bpi_near_offer(&n, known[i]);
    return n.name;
}

START_TEST(the_name_that_was_meant_is_found)
{
    ck_assert_str_eq(nearest("dishs"), "dishes");
    ck_assert_str_eq(nearest("brunres"), "burners");
    ck_assert_str_eq(nearest("beats"), "beats");
    ck_assert_str_eq(nearest("baets"), "beats");
    ck_assert_str_eq(nearest("di"), "id");
    ck_assert_ptr_null(nearest("crew"));
    ck_assert_ptr_null(nearest("q"));
    ck_assert_ptr_null(nearest(""));
}
END_TEST

START_TEST(the_first_of_equals_is_kept)
{
    bpi_near n = bpi_near_to("oven", 4);
    bpi_near_offer(&n, "ovens");
    bpi_near_offer(&n, "woven");
    ck_assert_str_eq(n.name, "ovens");
}
END_TEST

Suite *suite_base_near(void);
Suite *suite_base_near(void)
{
    Suite *s = suite_create("base/near");
    TCase *c = tcase_create("near");
    tcase_add_loop_test(c, edits_are_counted_in_both_directions, 0,
                        (int)(sizeof rows / sizeof *rows));
    tcase_add_test(c, more_than_most_is_most_and_one);
    tcase_add_test(c, the_name_that_was_meant_is_found);
    tcase_add_test(c, the_first_of_equals_is_kept);
    suite_add_tcase(s, c);
    return s;
}

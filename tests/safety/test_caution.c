#include "safety/caution.h"

#include <check.h>
#include <string.h>

START_TEST(every_hazard_has_one_caution_with_its_source)
{
    size_t n = 0;
    const bpi_caution *rows = bpi_cautions(&n);
    ck_assert_uint_eq(n, 9);
    for (size_t i = 0; i < n; i++) {
        ck_assert_int_eq(rows[i].hazard, 1 << i);
        ck_assert(strlen(rows[i].name) > 0 && strlen(rows[i].source) > 0);
        ck_assert_int_eq(rows[i].text[strlen(rows[i].text) - 1], '.');
    }
}
END_TEST

START_TEST(cautions_of_a_set_stand_one_a_line)
{
    size_t n = 0;
    const bpi_caution *rows = bpi_cautions(&n);
    bpi_text t = BPI_TEXT_EMPTY, want = BPI_TEXT_EMPTY;
    bpi_caution_put(&t, 0);
    ck_assert_uint_eq(t.len, 0);
    bpi_caution_put(&t, BPI_HOT_OIL | BPI_KNIFE);
    bpi_text_f(&want, "%s\n%s", rows[0].text, rows[3].text);
    ck_assert_str_eq(t.s, want.s);
    bpi_text_release(&t);
    bpi_text_release(&want);
}
END_TEST

START_TEST(the_deferring_words_name_both_who_come_first)
{
    const char *words = bpi_defer_words();
    ck_assert_ptr_nonnull(strstr(words, "Local code"));
    ck_assert_ptr_nonnull(strstr(words, "licensed kitchen manager"));
    ck_assert_ptr_nonnull(strstr(words, "certifies nothing"));
}
END_TEST

Suite *suite_safety_caution(void);
Suite *suite_safety_caution(void)
{
    Suite *s = suite_create("safety/caution");
    TCase *c = tcase_create("caution");
    tcase_add_test(c, every_hazard_has_one_caution_with_its_source);
    tcase_add_test(c, cautions_of_a_set_stand_one_a_line);
    tcase_add_test(c, the_deferring_words_name_both_who_come_first);
    suite_add_tcase(s, c);
    return s;
}

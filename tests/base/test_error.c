#include "base/error.h"

#include <check.h>
#include <string.h>

#include "base/utf8.h"

static bp_errors errs;

static const bp_error *add(bpi_where where, const char *wrong, const char *right)
{
    errs = (bp_errors){0};
    ck_assert_int_eq(bpi_error_add(&errs, BP_EVALUE, where, wrong, right), BP_EVALUE);
    ck_assert_uint_eq(errs.n, 1);
    return &errs.item[0];
}

static const char *line(const bp_error *e)
{
    static char out[1000];
    size_t len = bp_error_text(out, sizeof out, e);
    ck_assert_uint_eq(len, strlen(out));
    return out;
}

START_TEST(an_error_is_printed_with_its_place)
{
    bpi_where full = {"shows/evening.json", "/a/0", 12, 18},
              file = {"shows/evening.json", NULL, 0, 0};
    ck_assert_str_eq(line(add(full, "unit \"mins\" is not known", "write \"min\"")),
                     "shows/evening.json:12:18: unit \"mins\" is not known; write \"min\"");
    ck_assert_str_eq(errs.item[0].pointer, "/a/0");
    ck_assert_str_eq(line(add(file, "it is a folder", "")), "shows/evening.json: it is a folder");
    ck_assert_str_eq(line(add(BPI_NOWHERE, "out of memory", "")), "out of memory");
    ck_assert_str_eq(errs.item[0].pointer, "");
}
END_TEST

START_TEST(a_printf_form_fills_the_text_in)
{
    errs = (bp_errors){0};
    bp_code rc =
        bpi_error_f(&errs, BP_ERANGE, BPI_NOWHERE, "at most 9", "%d is %s", 12, "too many");
    ck_assert_int_eq(rc, BP_ERANGE);
    ck_assert_str_eq(line(&errs.item[0]), "12 is too many; at most 9");
}
END_TEST

START_TEST(a_text_that_is_too_long_is_cut_at_a_whole_character)
{
    char wrong[600];
    for (size_t from = 0; from < 4; from++) { /* the cut falls on each byte of a character */
        memset(wrong, 'x', from);
        for (size_t i = from; i + 3 < sizeof wrong; i += 3)
            memcpy(wrong + i, "\xE2\x82\xAC", 4);
        const bp_error *e = add(BPI_NOWHERE, wrong, wrong);
        size_t len = strlen(e->wrong);
        ck_assert_uint_eq(bpi_utf8_bad(e->wrong, len), len);
        ck_assert_uint_gt(len, sizeof e->wrong - 5);
        ck_assert_str_eq(e->wrong, e->right);
    }
}
END_TEST

START_TEST(more_errors_than_fit_are_counted)
{
    errs = (bp_errors){0};
    for (unsigned i = 0; i < BP_MAX_ERRORS + 3; i++)
        bpi_error_f(&errs, BP_EVALUE, BPI_NOWHERE, "", "error %u", i);
    ck_assert_uint_eq(errs.n, BP_MAX_ERRORS);
    ck_assert_uint_eq(errs.more, 3);
    ck_assert_str_eq(errs.item[BP_MAX_ERRORS - 1].wrong, "error 63");
    ck_assert_int_eq(bpi_error_no_memory(NULL), BP_ENOMEM); /* nobody listens */
}
END_TEST

START_TEST(control_characters_do_not_reach_the_terminal)
{
    const bp_error *e = add(BPI_NOWHERE, "bell\x07 and \x1B[31m", "");
    ck_assert_str_eq(line(e), "bell\xEF\xBF\xBD and \xEF\xBF\xBD[31m");
}
END_TEST

START_TEST(the_print_form_says_how_long_it_would_be)
{
    const bp_error *e = add(BPI_NOWHERE, "twelve bytes", "");
    char out[13];
    ck_assert_uint_eq(bp_error_text(out, sizeof out, e), 12);
    ck_assert_str_eq(out, "twelve bytes");
    ck_assert_uint_eq(bp_error_text(out, 5, e), 12);
    ck_assert_str_eq(out, "twel");
    ck_assert_uint_eq(bp_error_text(NULL, 0, e), 12);
}
END_TEST

START_TEST(every_code_has_a_text)
{
    for (int code = BP_OK; code < BP_NCODES; code++)
        for (int other = BP_OK; other < code; other++)
            ck_assert_str_ne(bp_code_text((bp_code)code), bp_code_text((bp_code)other));
    ck_assert_str_eq(bp_code_text(BP_OK), "no error");
    ck_assert_str_eq(bp_code_text(BP_NCODES), "unknown code");
    ck_assert_str_eq(bp_code_text((bp_code)-1), "unknown code");
}
END_TEST

START_TEST(a_list_kept_aside_is_taken_whole_and_in_order)
{
    static bp_errors aside, to;
    memset(&aside, 0, sizeof aside);
    memset(&to, 0, sizeof to);
    bpi_error_add(&to, BP_EIO, BPI_NOWHERE, "first", "");
    bpi_error_add(&aside, BP_ERANGE, (bpi_where){"a.json", "/x", 3, 7}, "second", "less");
    bpi_error_add(&aside, BP_ELIMIT, BPI_NOWHERE, "third", "");
    aside.more = 2;
    bpi_error_take(&to, &aside);
    bpi_error_take(NULL, &aside);
    ck_assert_uint_eq(to.n, 3);
    ck_assert_uint_eq(to.more, 2);
    ck_assert_str_eq(to.item[0].wrong, "first");
    ck_assert_int_eq(to.item[1].code, BP_ERANGE);
    ck_assert_str_eq(to.item[1].file, "a.json");
    ck_assert_str_eq(to.item[1].pointer, "/x");
    ck_assert_uint_eq(to.item[1].line, 3);
    ck_assert_uint_eq(to.item[1].col, 7);
    ck_assert_str_eq(to.item[1].right, "less");
    ck_assert_str_eq(to.item[2].wrong, "third");
    while (to.n < BP_MAX_ERRORS)
        bpi_error_add(&to, BP_EIO, BPI_NOWHERE, "more", "");
    bpi_error_take(&to, &aside);
    ck_assert_uint_eq(to.n, BP_MAX_ERRORS);
    ck_assert_uint_eq(to.more, 6);
}
END_TEST

Suite *suite_base_error(void);
Suite *suite_base_error(void)
{
    Suite *s = suite_create("base/error");
    TCase *c = tcase_create("error");
    tcase_add_test(c, an_error_is_printed_with_its_place);
    tcase_add_test(c, a_printf_form_fills_the_text_in);
    tcase_add_test(c, a_text_that_is_too_long_is_cut_at_a_whole_character);
    tcase_add_test(c, more_errors_than_fit_are_counted);
    tcase_add_test(c, control_characters_do_not_reach_the_terminal);
    tcase_add_test(c, the_print_form_says_how_long_it_would_be);
    tcase_add_test(c, every_code_has_a_text);
    tcase_add_test(c, a_list_kept_aside_is_taken_whole_and_in_order);
    suite_add_tcase(s, c);
    return s;
}

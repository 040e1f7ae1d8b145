#include "base/text.h"

#include <check.h>
#include <stdint.h>
#include <string.h>

#include "base/limits.h"
#include "base/memory.h"

START_TEST(what_is_appended_is_there_in_order)
{
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_ptr_null(t.s);
    bpi_text_put(&t, "one");
    bpi_text_char(&t, ' ');
    bpi_text_add(&t, "twofold", 3);
    bpi_text_f(&t, " %d%s", 3, "!");
    ck_assert_str_eq(t.s, "one two 3!");
    ck_assert_uint_eq(t.len, 10);
    ck_assert(!t.failed);
    bpi_text_release(&t);
    ck_assert_ptr_null(t.s);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(a_nul_inside_is_kept)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_add(&t, "a\0b", 3);
    bpi_text_char(&t, '\0');
    ck_assert_uint_eq(t.len, 4);
    ck_assert_mem_eq(t.s, "a\0b\0", 5);
    bpi_text_release(&t);
}
END_TEST

START_TEST(appending_nothing_makes_an_empty_text)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_add(&t, NULL, 0);
    ck_assert_str_eq(t.s, "");
    bpi_text_release(&t);
}
END_TEST

START_TEST(it_grows_past_every_first_size)
{
    bpi_text t = BPI_TEXT_EMPTY;
    for (unsigned i = 0; i < 10 * BPI_TEXT_FIRST; i++)
        bpi_text_f(&t, "%c", 'a' + (char)(i % 26));
    ck_assert_uint_eq(t.len, 10 * BPI_TEXT_FIRST);
    for (size_t i = 0; i < t.len; i++)
        ck_assert_int_eq(t.s[i], 'a' + (char)(i % 26));
    bpi_text_release(&t);
}
END_TEST

START_TEST(reset_keeps_the_room_and_forgets_the_failure)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_put(&t, "something");
    size_t room = t.room;
    t.failed = true;
    bpi_text_reset(&t);
    ck_assert_str_eq(t.s, "");
    ck_assert_uint_eq(t.room, room);
    bpi_text_put(&t, "else");
    ck_assert_str_eq(t.s, "else");
    bpi_text_release(&t);
    bpi_text_reset(&t); /* of an empty one */
    ck_assert_ptr_null(t.s);
}
END_TEST

START_TEST(after_a_failure_nothing_more_is_appended)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_put(&t, "kept");
    bpi_mem_fail_at(0, 0);
    for (int i = 0; i < BPI_TEXT_FIRST; i++)
        bpi_text_put(&t, "more");
    bpi_mem_fail_at(-1, 0);
    ck_assert(t.failed);
    size_t len = t.len;
    bpi_text_char(&t, 'x');
    bpi_text_f(&t, "x");
    bpi_text_add(&t, "x", 1);
    ck_assert_uint_eq(t.len, len);
    ck_assert_int_eq(strncmp(t.s, "kept", 4), 0);
    ck_assert_int_eq(t.s[t.len], 0);
    bpi_text_release(&t);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(a_length_past_all_memory_is_refused)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_add(&t, "x", SIZE_MAX / 2);
    ck_assert(t.failed);
    ck_assert_uint_eq(t.len, 0);
    bpi_text_release(&t);
}
END_TEST

Suite *suite_base_text(void);
Suite *suite_base_text(void)
{
    Suite *s = suite_create("base/text");
    TCase *c = tcase_create("text");
    tcase_add_test(c, what_is_appended_is_there_in_order);
    tcase_add_test(c, a_nul_inside_is_kept);
    tcase_add_test(c, appending_nothing_makes_an_empty_text);
    tcase_add_test(c, it_grows_past_every_first_size);
    tcase_add_test(c, reset_keeps_the_room_and_forgets_the_failure);
    tcase_add_test(c, after_a_failure_nothing_more_is_appended);
    tcase_add_test(c, a_length_past_all_memory_is_refused);
    suite_add_tcase(s, c);
    return s;
}

#include "base/uuid.h"

#include <check.h>
#include <string.h>

#include "base/digest.h"

static const char *named(bpi_uuid space, const char *name)
{
    static char text[BPI_UUID_TEXT];
    bpi_uuid_text(text, bpi_uuid_named(space, name, strlen(name)));
    return text;
}

/* RFC 9562 appendix A.4 "Example of a UUIDv5 Value"; the first also in RFC 4122's errata and in the
 * documentation of Python's uuid module with another name (python.org, from docs of uuid.uuid5). */
START_TEST(the_published_example_comes_out)
{
    ck_assert_str_eq(named(bpi_uuid_dns(), "www.example.com"),
                     "2ed6657d-e927-568b-95e1-2665a8aea6a2");
    ck_assert_str_eq(named(bpi_uuid_dns(), "python.org"), "886313e1-3b8a-5372-9b90-0c9aee199e5d");
}
END_TEST

START_TEST(version_and_variant_are_set_for_every_name)
{
    char name[2] = {0, 0};
    for (int c = 1; c < 128; c++) {
        name[0] = (char)c;
        const char *text = named(bpi_uuid_backpot(), name);
        ck_assert_uint_eq(strlen(text), 36);
        ck_assert_int_eq(text[14], '5');                 /* RFC 9562 5.5 */
        ck_assert_ptr_nonnull(strchr("89ab", text[19])); /* RFC 9562 4.1 */
    }
}
END_TEST

START_TEST(length_counts_and_not_a_closing_nul)
{
    bpi_uuid a = bpi_uuid_named(bpi_uuid_dns(), "a\0b", 3);
    bpi_uuid b = bpi_uuid_named(bpi_uuid_dns(), "a\0c", 3);
    bpi_uuid c = bpi_uuid_named(bpi_uuid_dns(), "a", 1);
    ck_assert_mem_ne(a.byte, b.byte, sizeof a.byte);
    ck_assert_mem_ne(a.byte, c.byte, sizeof a.byte);
}
END_TEST

START_TEST(a_digest_tells_contents_apart)
{
    char a[BPI_DIGEST_TEXT], b[BPI_DIGEST_TEXT], again[BPI_DIGEST_TEXT];
    bpi_digest_text(a, "show", 4);
    bpi_digest_text(b, "shov", 4);
    bpi_digest_text(again, "show", 4);
    ck_assert_str_ne(a, b);
    ck_assert_str_eq(a, again);
    ck_assert_uint_eq(strlen(a), 8);
    ck_assert_uint_eq(strspn(a, "0123456789abcdef"), 8);
    ck_assert_str_eq(
        a, strtok(strcpy((char[BPI_UUID_TEXT]){0}, named(bpi_uuid_backpot(), "show")), "-"));
}
END_TEST

Suite *suite_base_uuid(void);
Suite *suite_base_uuid(void)
{
    Suite *s = suite_create("base/uuid");
    TCase *c = tcase_create("uuid");
    tcase_add_test(c, the_published_example_comes_out);
    tcase_add_test(c, version_and_variant_are_set_for_every_name);
    tcase_add_test(c, length_counts_and_not_a_closing_nul);
    tcase_add_test(c, a_digest_tells_contents_apart);
    suite_add_tcase(s, c);
    return s;
}

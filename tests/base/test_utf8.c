#include "base/utf8.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"

/* Well-formed and ill-formed sequences from Table 3-7 of the Unicode Standard (chapter 3, D92) and
 * RFC 3629 section 4: the first and last of each row, and what stands just outside. */
static const struct {
    const char *name;
    const char *bytes;
    size_t len;
    uint32_t code; /* 0: ill-formed */
} rows[] = {
    {"first of one byte", "\x01", 1, 0x01},
    {"last of one byte", "\x7F", 1, 0x7F},
    {"first of two bytes", "\xC2\x80", 2, 0x80},
    {"last of two bytes", "\xDF\xBF", 2, 0x7FF},
    {"first of three bytes", "\xE0\xA0\x80", 3, 0x800},
    {"last before the surrogates", "\xED\x9F\xBF", 3, 0xD7FF},
    {"first after the surrogates", "\xEE\x80\x80", 3, 0xE000},
    {"last of three bytes", "\xEF\xBF\xBF", 3, 0xFFFF},
    {"first of four bytes", "\xF0\x90\x80\x80", 4, 0x10000},
    {"last of all", "\xF4\x8F\xBF\xBF", 4, 0x10FFFF},
    {"a lone continuation", "\x80", 1, 0},
    {"overlong solidus, two bytes", "\xC0\xAF", 2, 0},
    {"overlong, C1 leads", "\xC1\xBF", 2, 0},
    {"overlong, three bytes", "\xE0\x9F\xBF", 3, 0},
    {"overlong, four bytes", "\xF0\x8F\xBF\xBF", 4, 0},
    {"first surrogate", "\xED\xA0\x80", 3, 0},
    {"last surrogate", "\xED\xBF\xBF", 3, 0},
    {"above the last", "\xF4\x90\x80\x80", 4, 0},
    {"F5 leads", "\xF5\x80\x80\x80", 4, 0},
    {"FF leads", "\xFF", 1, 0},
    {"cut off after one of two", "\xC3", 1, 0},
    {"cut off after two of three", "\xE2\x82", 2, 0},
    {"cut off after three of four", "\xF0\x9F\x8D", 3, 0},
    {"a letter where the second byte should be", "\xC3(", 2, 0},
    {"a letter where the third byte should be", "\xE2\x82(", 3, 0},
};

START_TEST(each_sequence_is_told_apart)
{
    uint32_t code = 0;
    size_t n = bpi_utf8_step(rows[_i].bytes, rows[_i].len, &code);
    ck_assert_msg(n == (rows[_i].code ? rows[_i].len : 0), "%s: length %zu", rows[_i].name, n);
    ck_assert_msg(code == rows[_i].code, "%s: U+%04X", rows[_i].name, (unsigned)code);
    ck_assert_uint_eq(bpi_utf8_bad(rows[_i].bytes, rows[_i].len), rows[_i].code ? rows[_i].len : 0);
}
END_TEST

START_TEST(every_code_point_that_may_be_written_is_read_back)
{
    for (uint32_t c = 1; c <= 0x10FFFF; c++) {
        char s[4];
        size_t n = c < 0x80 ? 1 : c < 0x800 ? 2 : c < 0x10000 ? 3 : 4;
        static const unsigned lead[] = {0, 0, 0xC0, 0xE0, 0xF0};
        for (size_t i = n; i-- > 1;)
            s[i] = (char)(0x80 | (c >> (6 * (n - 1 - i)) & 0x3F));
        s[0] = (char)(lead[n] | c >> (6 * (n - 1)));
        uint32_t code = 0;
        size_t read = bpi_utf8_step(s, n, &code);
        bool surrogate = c >= 0xD800 && c <= 0xDFFF;
        if (surrogate ? read != 0 : read != n || code != c) /* an assertion each would take long */
            ck_abort_msg("U+%04X: length %zu, U+%04X", (unsigned)c, read, (unsigned)code);
    }
}
END_TEST

START_TEST(nothing_is_valid_and_has_no_character)
{
    uint32_t code = 7;
    ck_assert_uint_eq(bpi_utf8_step("", 0, &code), 0);
    ck_assert_uint_eq(code, 7);
    ck_assert_uint_eq(bpi_utf8_bad("", 0), 0);
}
END_TEST

START_TEST(the_first_bad_byte_is_found)
{
    ck_assert_uint_eq(bpi_utf8_bad("caf\xC3\xA9 \xFF!", 8), 6);
    ck_assert_uint_eq(bpi_utf8_count("caf\xC3\xA9 \xC2\xBD", 8), 6);
    ck_assert_uint_eq(bpi_utf8_count("a\xFF"
                                     "b",
                                     3),
                      3);
}
END_TEST

START_TEST(control_and_direction_characters_are_found)
{
    static const struct {
        const char *text;
        bool lines;
        size_t at;
        uint32_t code;
    } cases[] = {
        {"plain \xC2\xBD cup", false, 12, 0},
        {"two\nlines", false, 3, '\n'},
        {"two\nlines", true, 9, 0},
        {"bell\x07", true, 4, 7},
        {"del\x7F", true, 3, 0x7F},
        {"c1\xC2\x9B", true, 2, 0x9B},
        {"mark\xE2\x80\x8E", true, 4, 0x200E},
        {"mark\xE2\x80\x8F", true, 4, 0x200F},
        {"embed\xE2\x80\xAA", true, 5, 0x202A},
        {"override\xE2\x80\xAE", true, 8, 0x202E},
        {"isolate\xE2\x81\xA6", true, 7, 0x2066},
        {"isolate\xE2\x81\xA9", true, 7, 0x2069},
        {"joiner\xE2\x80\x8D is let through", false, 24, 0},
        {"line\xE2\x80\xA8", true, 4, 0x2028},
        {"bad\xC3", true, 3, 0xFFFD},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        uint32_t code = 0;
        const char *t = cases[i].text;
        ck_assert_msg(bpi_utf8_unplain(t, strlen(t), cases[i].lines, &code) == cases[i].at, "%s",
                      t);
        ck_assert_uint_eq(code, cases[i].code);
    }
}
END_TEST

START_TEST(a_text_becomes_safe_for_one_line)
{
    static const struct {
        const char *from, *to;
    } cases[] = {
        {"", ""},
        {"\xC2\xBD cup \xE7\xB1\xB3", "\xC2\xBD cup \xE7\xB1\xB3"},
        {"a\r\nb\tc", "a b c"},
        {"a\n\n\nb", "a b"},
        {"a \n b", "a   b"},
        {"\x1B[31mred", "\xEF\xBF\xBD[31mred"},
        {"x\xE2\x80\xAEy\xE2\x81\xA9z", "xyz"},
        {"cut \xE2\x82", "cut \xEF\xBF\xBD\xEF\xBF\xBD"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        bpi_text out = BPI_TEXT_EMPTY;
        bpi_text_put(&out, "");
        bpi_utf8_plain(&out, cases[i].from, strlen(cases[i].from));
        ck_assert_str_eq(out.s, cases[i].to);
        uint32_t code;
        ck_assert_uint_eq(bpi_utf8_unplain(out.s, out.len, false, &code), out.len);
        bpi_text_release(&out);
    }
}
END_TEST

Suite *suite_base_utf8(void);
Suite *suite_base_utf8(void)
{
    Suite *s = suite_create("base/utf8");
    TCase *c = tcase_create("utf8");
    tcase_add_loop_test(c, each_sequence_is_told_apart, 0, (int)(sizeof rows / sizeof *rows));
    tcase_add_test(c, every_code_point_that_may_be_written_is_read_back);
    tcase_add_test(c, nothing_is_valid_and_has_no_character);
    tcase_add_test(c, the_first_bad_byte_is_found);
    tcase_add_test(c, control_and_direction_characters_are_found);
    tcase_add_test(c, a_text_becomes_safe_for_one_line);
    suite_add_tcase(s, c);
    return s;
}

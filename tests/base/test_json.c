#include "base/json.h"

#include <check.h>
#include <cjson/cJSON.h>
#include <string.h>

#include "base/limits.h"
#include "base/memory.h"
#include "base/utf8.h"

static bp_errors errs;

static bpi_node *read_n(bpi_arena *a, const char *text, size_t len, bp_code *rc)
{
    bpi_node *root = NULL;
    errs = (bp_errors){0};
    *rc = bpi_json_read(&root, a, "t.json", text, len, &errs);
    ck_assert_int_eq(*rc == BP_OK, root != NULL);
    ck_assert_int_eq(*rc == BP_OK, errs.n == 0);
    return root;
}

/* Read what must be good. */
static bpi_node *read_good(bpi_arena *a, const char *text)
{
    bp_code rc;
    bpi_node *root = read_n(a, text, strlen(text), &rc);
    ck_assert_msg(root != NULL, "%s: %s", text, errs.item[0].wrong);
    return root;
}

/* Texts that RFC 8259 does not allow, or that RFC 7493 (I-JSON) rules out, and the byte to blame.
 * Numbers in brackets are sections of RFC 8259. Most of them are let through by cJSON 1.7.15. */
static const struct {
    const char *section, *text;
    size_t len; /* 0: strlen */
    bp_code code;
    unsigned line, col;
} refused[] = {
    {"2 empty", "", 0, BP_ESYNTAX, 1, 1},
    {"2 blank only", " \n ", 0, BP_ESYNTAX, 2, 2},
    {"2 two values", "1 2", 0, BP_ESYNTAX, 1, 3},
    {"2 text after the value", "{} x", 0, BP_ESYNTAX, 1, 4},
    {"2 NUL after the value", "{}\0", 3, BP_ESYNTAX, 1, 3},
    {"2 form feed is no blank", "[1,\f2]", 0, BP_ESYNTAX, 1, 4},
    {"2 vertical tab is no blank", "[\v1]", 0, BP_ESYNTAX, 1, 2},
    {"2 no-break space is no blank",
     "[\xC2\xA0"
     "1]",
     0, BP_ESYNTAX, 1, 2},
    {"2 NUL is no blank",
     "[\0"
     "1]",
     4, BP_ESYNTAX, 1, 2},
    {"3 a word in capitals", "[True]", 0, BP_ESYNTAX, 1, 2},
    {"3 another word", "[nul]", 0, BP_ESYNTAX, 1, 2},
    {"3 a word goes on", "[nullx]", 0, BP_ESYNTAX, 1, 6},
    {"3 NaN", "[NaN]", 0, BP_ESYNTAX, 1, 2},
    {"3 Infinity", "[-Infinity]", 0, BP_ESYNTAX, 1, 2},
    {"4 no closing brace", "{\"a\":1", 0, BP_ESYNTAX, 1, 7},
    {"4 name without marks", "{a:1}", 0, BP_ESYNTAX, 1, 2},
    {"4 name in single marks", "{'a':1}", 0, BP_ESYNTAX, 1, 2},
    {"4 no colon", "{\"a\" 1}", 0, BP_ESYNTAX, 1, 6},
    {"4 no value", "{\"a\":}", 0, BP_ESYNTAX, 1, 6},
    {"4 comma at the end", "{\"a\":1,}", 0, BP_ESYNTAX, 1, 7},
    {"4 comma alone", "{,}", 0, BP_ESYNTAX, 1, 2},
    {"4 two commas", "{\"a\":1,,\"b\":2}", 0, BP_ESYNTAX, 1, 8},
    {"4 no comma", "{\"a\":1 \"b\":2}", 0, BP_ESYNTAX, 1, 8},
    {"4 name twice", "{\"a\":1,\n \"a\":2}", 0, BP_ESYNTAX, 2, 2},
    {"4 name twice, once escaped", "{\"a\":1,\n\"\\u0061\":2}", 0, BP_ESYNTAX, 2, 1},
    {"5 no closing bracket", "[1", 0, BP_ESYNTAX, 1, 3},
    {"5 comma at the end", "[1,]", 0, BP_ESYNTAX, 1, 3},
    {"5 comma at the end of a line", "[1,\n]", 0, BP_ESYNTAX, 1, 3},
    {"5 brackets do not match", "[1}", 0, BP_ESYNTAX, 1, 3},
    {"6 leading zero", "[007]", 0, BP_ESYNTAX, 1, 2},
    {"6 leading zero after a minus", "[-012]", 0, BP_ESYNTAX, 1, 2},
    {"6 no digit after the point", "[1.]", 0, BP_ESYNTAX, 1, 2},
    {"6 no digit before the point", "[-.5]", 0, BP_ESYNTAX, 1, 2},
    {"6 point first", "[.5]", 0, BP_ESYNTAX, 1, 2},
    {"6 plus sign", "[+1]", 0, BP_ESYNTAX, 1, 2},
    {"6 lone minus", "[-]", 0, BP_ESYNTAX, 1, 2},
    {"6 no exponent", "[1e]", 0, BP_ESYNTAX, 1, 2},
    {"6 no exponent after its sign", "[1E+]", 0, BP_ESYNTAX, 1, 2},
    {"6 no digit after the point, but an exponent", "[1.e1]", 0, BP_ESYNTAX, 1, 2},
    {"6 hexadecimal", "[0x1]", 0, BP_ESYNTAX, 1, 3},
    {"6 past a double", "[1e309]", 0, BP_ERANGE, 1, 2},
    {"6 past a double, below zero", "[-1e999]", 0, BP_ERANGE, 1, 2},
    {"6 past a double, spelt out", "[179769313486231590e291]", 0, BP_ERANGE, 1, 2},
    {"6 past a double, many places", "[0.0001e99999999999999999999]", 0, BP_ERANGE, 1, 2},
    {"7 not closed", "[\"abc", 0, BP_ESYNTAX, 1, 2},
    {"7 not closed, marks escaped", "[\"abc\\\"]", 0, BP_ESYNTAX, 1, 2},
    {"7 single marks", "['a']", 0, BP_ESYNTAX, 1, 2},
    {"7 bare line feed", "[\"a\nb\"]", 0, BP_ESYNTAX, 1, 4},
    {"7 bare tab", "[\"a\tb\"]", 0, BP_ESYNTAX, 1, 4},
    {"7 bare NUL", "[\"a\0b\"]", 7, BP_ESYNTAX, 1, 4},
    {"7 bare unit separator", "[\"\x1F\"]", 0, BP_ESYNTAX, 1, 3},
    {"7 unknown escape", "[\"\\x41\"]", 0, BP_ESYNTAX, 1, 3},
    {"7 escaped apostrophe", "[\"\\'\"]", 0, BP_ESYNTAX, 1, 3},
    {"7 short hexadecimal", "[\"\\u12\"]", 0, BP_ESYNTAX, 1, 3},
    {"7 wrong hexadecimal", "[\"\\u00G0\"]", 0, BP_ESYNTAX, 1, 3},
    {"7 escaped NUL", "[\"a\\u0000b\"]", 0, BP_ESYNTAX, 1, 4},
    {"8.2 first surrogate alone", "[\"\\uD83D\"]", 0, BP_ESYNTAX, 1, 3},
    {"8.2 first surrogate, then a letter", "[\"\\uD83Dx\"]", 0, BP_ESYNTAX, 1, 3},
    {"8.2 two first surrogates", "[\"\\uD83D\\uD83D\\uDE00\"]", 0, BP_ESYNTAX, 1, 3},
    {"8.2 second surrogate alone", "[\"\\uDE00\"]", 0, BP_ESYNTAX, 1, 3},
    {"8.1 byte order mark", "\xEF\xBB\xBF{}", 0, BP_ESYNTAX, 1, 1},
    {"8.1 Latin-1", "[\"caf\xE9\"]", 0, BP_ESYNTAX, 1, 6},
    {"8.1 overlong", "[\"\xC0\xAF\"]", 0, BP_ESYNTAX, 1, 3},
    {"8.1 surrogate in bytes", "[\"\xED\xA0\x80\"]", 0, BP_ESYNTAX, 1, 3},
    {"8.1 UTF-16", "[\0]\0", 4, BP_ESYNTAX, 1, 2},
    {"no comments", "{\"a\":1} // x", 0, BP_ESYNTAX, 1, 9},
    {"no comments inside", "[1 /*x*/]", 0, BP_ESYNTAX, 1, 4},
};

START_TEST(what_is_not_json_is_refused_at_its_place)
{
    bpi_arena *a = bpi_arena_new();
    bp_code rc;
    size_t len = refused[_i].len ? refused[_i].len : strlen(refused[_i].text);
    read_n(a, refused[_i].text, len, &rc);
    ck_assert_msg(rc == refused[_i].code, "%s: %s", refused[_i].section, bp_code_text(rc));
    const bp_error *e = &errs.item[0];
    ck_assert_msg(e->line == refused[_i].line && e->col == refused[_i].col, "%s: at %u:%u, %s",
                  refused[_i].section, (unsigned)e->line, (unsigned)e->col, e->wrong);
    ck_assert_str_eq(e->file, "t.json");
    ck_assert_str_ne(e->wrong, "");
    ck_assert_str_ne(e->right, "");
    ck_assert_uint_eq(bpi_utf8_bad(e->wrong, strlen(e->wrong)), strlen(e->wrong));
    bpi_arena_free(a);
}
END_TEST

START_TEST(the_example_of_the_standard_is_read) /* RFC 8259 section 13, first example */
{
    static const char text[] = "{\n"
                               "  \"Image\": {\n"
                               "      \"Width\":  800,\n"
                               "      \"Height\": 600,\n"
                               "      \"Title\":  \"View from 15th Floor\",\n"
                               "      \"Thumbnail\": {\n"
                               "          \"Url\":    \"http://www.example.com/image/481989943\",\n"
                               "          \"Height\": 125,\n"
                               "          \"Width\":  100\n"
                               "      },\n"
                               "      \"Animated\" : false,\n"
                               "      \"IDs\": [116, 943, 234, 38793]\n"
                               "    }\n"
                               "}\n";
    bpi_arena *a = bpi_arena_new();
    bpi_node *root = read_good(a, text);
    bpi_node *image = bpi_node_member(root, "Image");
    ck_assert_uint_eq(image->count, 6);
    ck_assert_int_eq(bpi_node_member(image, "Width")->integer, 800);
    ck_assert(bpi_node_is(bpi_node_member(image, "Title"), "View from 15th Floor"));
    ck_assert(!bpi_node_is(bpi_node_member(image, "Title"), "View"));
    ck_assert_ptr_null(bpi_node_member(image, "width")); /* case counts */
    ck_assert_ptr_null(bpi_node_member(image, "Alt"));
    ck_assert_ptr_null(bpi_node_member(bpi_node_member(image, "Width"), "Width"));
    bpi_node *ids = bpi_node_member(image, "IDs");
    bpi_node *last = ids->first->next->next->next;
    ck_assert_int_eq(last->integer, 38793);
    ck_assert_uint_eq(last->index, 3);
    ck_assert_ptr_null(last->next);
    ck_assert_str_eq(last->at.pointer, "/Image/IDs/3");
    ck_assert_uint_eq(last->at.line, 12);
    ck_assert_uint_eq(last->at.col, 30);
    ck_assert_mem_eq(text + last->from, "38793]", last->to - last->from + 1);
    bpi_node *url = bpi_node_member(bpi_node_member(image, "Thumbnail"), "Url");
    ck_assert_str_eq(url->at.pointer, "/Image/Thumbnail/Url");
    ck_assert_uint_eq(url->name_at.line, 7);
    ck_assert_uint_eq(url->name_at.col, 11);
    ck_assert_uint_eq(url->at.col, 21);
    ck_assert(!bpi_node_member(image, "Animated")->truth);
    bpi_arena_free(a);
}
END_TEST

START_TEST(pointers_are_escaped_as_the_standard_says) /* RFC 6901 section 5 */
{
    bpi_arena *a = bpi_arena_new();
    bpi_node *root = read_good(a, "{\"foo\":[\"bar\",\"baz\"],\"\":0,\"a/b\":1,\"c%d\":2,\"e^f\":3,"
                                  "\"g|h\":4,\"i\\\\j\":5,\"k\\\"l\":6,\" \":7,\"m~n\":8}");
    static const char *const pointers[] = {"/foo", "/",     "/a~1b", "/c%d", "/e^f",
                                           "/g|h", "/i\\j", "/k\"l", "/ ",   "/m~0n"};
    size_t i = 0;
    ck_assert_str_eq(root->at.pointer, "");
    ck_assert_str_eq(root->first->first->at.pointer, "/foo/0");
    for (bpi_node *n = root->first; n; n = n->next)
        ck_assert_str_eq(n->at.pointer, pointers[i++]);
    ck_assert_uint_eq(i, 10);
    bpi_arena_free(a);
}
END_TEST

START_TEST(a_pointer_that_is_too_long_points_at_what_is_around)
{
    char text[400] = "{\"a\":{\"";
    size_t n = strlen(text);
    memset(text + n, '/', 100); /* each of them takes two */
    strcpy(text + n + 100, "\":[1]}}");
    bpi_arena *a = bpi_arena_new();
    bpi_node *root = read_good(a, text);
    ck_assert_str_eq(root->first->first->at.pointer, "/a");
    ck_assert_str_eq(root->first->first->first->at.pointer, "/a");
    bpi_arena_free(a);
}
END_TEST

static const struct {
    const char *text;
    double number;
    bool whole;
    int64_t integer;
} numbers[] = {
    {"0", 0, true, 0},
    {"-0", -0.0, true, 0},
    {"-1", -1, true, -1},
    {"9007199254740993", 9007199254740992.0, true, 9007199254740993}, /* 2^53 + 1 */
    {"9223372036854775807", 9223372036854775808.0, true, INT64_MAX},
    {"-9223372036854775808", -9223372036854775808.0, true, INT64_MIN},
    {"9223372036854775808", 9223372036854775808.0, false, 0},
    {"-9223372036854775809", -9223372036854775808.0, false, 0},
    {"1.0", 1, true, 1},
    {"12e2", 1200, true, 1200},
    {"1E+2", 100, true, 100},
    {"2.9", 2.9, false, 0},
    {"0.1", 0.1, false, 0},
    {"-2.5e-3", -0.0025, false, 0},
    {"1e300", 1e300, false, 0},
    {"1.7976931348623157e308", 1.7976931348623157e308, false, 0},
    {"0.00017976931348623157e312", 1.7976931348623157e308, false, 0},
    {"1e-400", 0, true, 0},
    {"0e999", 0, true, 0},
};

START_TEST(numbers_are_kept_whole_and_near)
{
    bpi_arena *a = bpi_arena_new();
    bpi_node *n = read_good(a, numbers[_i].text);
    ck_assert_int_eq(n->kind, BPI_NUMBER);
    ck_assert_msg(n->number == numbers[_i].number, "%s", numbers[_i].text);
    ck_assert_msg(n->whole == numbers[_i].whole, "%s", numbers[_i].text);
    ck_assert_int_eq(n->integer, numbers[_i].integer);
    bpi_arena_free(a);
}
END_TEST

START_TEST(a_number_has_a_longest_form)
{
    char text[64] = "0.";
    bpi_arena *a = bpi_arena_new();
    bp_code rc;
    memset(text + 2, '1', 60);
    read_n(a, text, 60, &rc);
    ck_assert_int_eq(rc, BP_OK);
    read_n(a, text, 61, &rc);
    ck_assert_int_eq(rc, BP_ELIMIT);
    bpi_arena_free(a);
}
END_TEST

START_TEST(texts_are_decoded)
{
    bpi_arena *a = bpi_arena_new();
    bpi_node *n =
        read_good(a, "[\"\\\"\\\\\\/\\b\\f\\n\\r\\t\", \"\\u00bd\\u00BD\", \"\\uD83C\\uDF72\", "
                     "\"\xC2\xBD\", \"\", \"\x7F\"]")
            ->first;
    ck_assert_str_eq(n->text, "\"\\/\b\f\n\r\t");
    n = n->next;
    ck_assert_str_eq(n->text, "\xC2\xBD\xC2\xBD");
    n = n->next;
    ck_assert_str_eq(n->text, "\xF0\x9F\x8D\xB2");
    n = n->next;
    ck_assert_str_eq(n->text, "\xC2\xBD");
    ck_assert_uint_eq(n->len, 2);
    n = n->next;
    ck_assert_uint_eq(n->len, 0);
    n = n->next;
    ck_assert_str_eq(n->text, "\x7F");
    bpi_arena_free(a);
}
END_TEST

START_TEST(what_hides_nothing_is_reported_in_one_go)
{
    bpi_arena *a = bpi_arena_new();
    bp_code rc;
    static const char text[] = "{\"a\": 01,\n \"b\": \"\\q \\u0000\",\n \"c\": [1,],\n \"d\": 2.\n";
    read_n(a, text, strlen(text), &rc);
    ck_assert_int_eq(rc, BP_ESYNTAX);
    static const unsigned lines[] = {1, 2, 2, 3, 4, 5};
    ck_assert_uint_eq(errs.n, 6);
    for (size_t i = 0; i < 6; i++)
        ck_assert_uint_eq(errs.item[i].line, lines[i]);
    bpi_arena_free(a);
}
END_TEST

START_TEST(every_member_that_stands_twice_is_reported)
{
    bpi_arena *a = bpi_arena_new();
    bp_code rc;
    static const char text[] =
        "{\"b\":1, \"a\":2,\n\"b\":{\"x\":1, \"x\":2}, \"A\":1,\n\"a\":3, \"b\":4}";
    read_n(a, text, strlen(text), &rc);
    ck_assert_int_eq(rc, BP_ESYNTAX);
    ck_assert_uint_eq(errs.n, 4);
    char line[300];
    bp_error_text(line, sizeof line, &errs.item[0]);
    ck_assert_str_eq(line,
                     "t.json:2:1: member \"b\" stands twice; keep one; the first is on line 1");
    ck_assert_str_eq(errs.item[1].pointer, "/a");
    ck_assert_uint_eq(errs.item[2].col, 8);
    ck_assert_str_eq(errs.item[3].pointer, "/b/x");
    bpi_arena_free(a);
}
END_TEST

static void put_depth(char *text, unsigned depth)
{
    memset(text, '[', depth);
    memset(text + depth, ']', depth);
    text[2 * depth] = '\0';
}

START_TEST(depth_has_a_bound)
{
    char text[2 * BPI_MAX_DEPTH + 3];
    bpi_arena *a = bpi_arena_new();
    bp_code rc;
    put_depth(text, BPI_MAX_DEPTH);
    read_good(a, text);
    put_depth(text, BPI_MAX_DEPTH + 1);
    read_n(a, text, strlen(text), &rc);
    ck_assert_int_eq(rc, BP_ELIMIT);
    ck_assert_uint_eq(errs.item[0].col, BPI_MAX_DEPTH + 1);
    bpi_arena_free(a);
}
END_TEST

START_TEST(values_have_a_bound)
{
    size_t most = BPI_MAX_VALUES; /* the list itself is one of them */
    char *text = bpi_mem_get(2 * most + 8);
    for (size_t i = 0; i < most; i++)
        memcpy(text + 2 * i, i ? ",1" : "[1", 2);
    bpi_arena *a = bpi_arena_new();
    bp_code rc;
    memcpy(text + 2 * (most - 1), "]", 2);
    bpi_node *root = read_n(a, text, strlen(text), &rc);
    ck_assert_int_eq(rc, BP_OK);
    ck_assert_uint_eq(root->count, most - 1);
    memcpy(text + 2 * (most - 1), ",1]", 4);
    read_n(a, text, strlen(text), &rc);
    ck_assert_int_eq(rc, BP_ELIMIT);
    bpi_arena_free(a);
    bpi_mem_drop(text);
}
END_TEST

START_TEST(size_has_a_bound)
{
    char *text = bpi_mem_get(BPI_MAX_FILE + 1);
    memset(text, ' ', BPI_MAX_FILE + 1);
    text[0] = '1';
    bpi_arena *a = bpi_arena_new();
    bp_code rc;
    read_n(a, text, BPI_MAX_FILE, &rc);
    ck_assert_int_eq(rc, BP_OK);
    read_n(a, text, BPI_MAX_FILE + 1, &rc);
    ck_assert_int_eq(rc, BP_ELIMIT);
    bpi_arena_free(a);
    bpi_mem_drop(text);
}
END_TEST

START_TEST(many_members_are_compared_in_good_time)
{
    bpi_text t = BPI_TEXT_EMPTY;
    for (unsigned i = 0; i < 100000; i++)
        bpi_text_f(&t, "%s\"m%u\":1", i ? "," : "{", i);
    bpi_text_put(&t, ",\"m7\":2}");
    bpi_arena *a = bpi_arena_new();
    bp_code rc;
    read_n(a, t.s, t.len, &rc);
    ck_assert_int_eq(rc, BP_ESYNTAX);
    ck_assert_uint_eq(errs.n, 1);
    bpi_arena_free(a);
    bpi_text_release(&t);
}
END_TEST

static const char small[] =
    "{\"a\": [1, 2.5, \"x\"], \"b\": {\"c\": null, \"d\": true}, \"e\": \"y\"}";

START_TEST(every_request_for_memory_may_fail)
{
    cJSON_Hooks hooks = {bpi_mem_get, bpi_mem_drop}; /* so that cJSON's requests are among them */
    cJSON_InitHooks(&hooks);
    for (int after = 0; after < 2; after++) {
        bool fired = true;
        for (long k = 0; fired; k++) {
            ck_assert_int_lt(k, 1000);
            bpi_arena *a = bpi_arena_new();
            bpi_node *root = NULL;
            errs = (bp_errors){0};
            bpi_mem_fail_at(k, after);
            bp_code rc = bpi_json_read(&root, a, "t.json", small, strlen(small), &errs);
            fired = bpi_mem_failed();
            bpi_mem_fail_at(-1, 0);
            ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
            ck_assert_int_eq(root == NULL, fired);
            ck_assert_uint_eq(errs.n, fired);
            bpi_arena_free(a);
            ck_assert_int_eq(bpi_mem_alive(), 0);
        }
    }
    cJSON_InitHooks(NULL);
}
END_TEST

START_TEST(any_cut_and_any_changed_byte_ends_in_an_answer)
{
    char text[sizeof small];
    for (size_t i = 0; i < sizeof small - 1; i++)
        for (int c = 0; c < 256; c++) {
            memcpy(text, small, sizeof small);
            text[i] = (char)c;
            bpi_arena *a = bpi_arena_new();
            bp_code rc;
            read_n(a, text, sizeof small - 1, &rc); /* holds code, tree and errors together */
            read_n(a, text, i, &rc);
            ck_assert_int_ne(rc, BP_EINTERNAL);
            bpi_arena_free(a);
        }
}
END_TEST

START_TEST(a_text_that_is_written_reads_back_as_it_was)
{
    static const char *const texts[] = {"", "plain", "\"\\/\b\f\n\r\t", "\x01\x1F\x7F",
                                        "\xC2\xBD cup \xE7\xB1\xB3 \xF0\x9F\x8D\xB2"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_json_put_string(&t, texts[i], strlen(texts[i]));
        bpi_arena *a = bpi_arena_new();
        ck_assert_str_eq(read_good(a, t.s)->text, texts[i]);
        bpi_arena_free(a);
        bpi_text_release(&t);
    }
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_json_put_string(&t, "a\xFFz\0y", 5);
    ck_assert_str_eq(t.s, "\"a\xEF\xBF\xBDz\\u0000y\"");
    bpi_text_release(&t);
}
END_TEST

START_TEST(kinds_have_names)
{
    ck_assert_str_eq(bpi_kind_text(BPI_NULL), "null");
    ck_assert_str_eq(bpi_kind_text(BPI_OBJECT), "an object");
}
END_TEST

Suite *suite_base_json(void);
Suite *suite_base_json(void)
{
    Suite *s = suite_create("base/json");
    TCase *c = tcase_create("json");
    tcase_add_loop_test(c, what_is_not_json_is_refused_at_its_place, 0,
                        (int)(sizeof refused / sizeof *refused));
    tcase_add_test(c, the_example_of_the_standard_is_read);
    tcase_add_test(c, pointers_are_escaped_as_the_standard_says);
    tcase_add_test(c, a_pointer_that_is_too_long_points_at_what_is_around);
    tcase_add_loop_test(c, numbers_are_kept_whole_and_near, 0,
                        (int)(sizeof numbers / sizeof *numbers));
    tcase_add_test(c, a_number_has_a_longest_form);
    tcase_add_test(c, texts_are_decoded);
    tcase_add_test(c, what_hides_nothing_is_reported_in_one_go);
    tcase_add_test(c, every_member_that_stands_twice_is_reported);
    tcase_add_test(c, depth_has_a_bound);
    tcase_add_test(c, values_have_a_bound);
    tcase_add_test(c, size_has_a_bound);
    tcase_add_test(c, many_members_are_compared_in_good_time);
    tcase_add_test(c, every_request_for_memory_may_fail);
    tcase_add_test(c, any_cut_and_any_changed_byte_ends_in_an_answer);
    tcase_add_test(c, a_text_that_is_written_reads_back_as_it_was);
    tcase_add_test(c, kinds_have_names);
    suite_add_tcase(s, c);
    return s;
}

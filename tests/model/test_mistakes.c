#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/show.h"
#include "base/file.h"
#include "base/memory.h"
#include "base/text.h"

/* tests/model/mistakes.txt says what each mistake in tests/model/base.json is told as; the same
 * rows are given to an independent JSON Schema validator by tests/scripts/schema.sh. */

#define BASE "tests/model/base.json"

static bp_errors errs;

static char *whole(const char *path)
{
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_file_read(&t, path, 1u << 20, NULL), BP_OK);
    return t.s;
}

/* A show text read as if it stood beside base.json; what is said, a line each. */
static bp_code read_text(bpi_text *said, const char *text, size_t len)
{
    bp_show *show = NULL;
    char line[800];
    errs.n = errs.more = 0;
    bp_code code = bp_show_read(&show, text, len, "base.json", "tests/model", &errs);
    ck_assert_int_eq(code == BP_OK, show != NULL);
    ck_assert_int_eq(code == BP_OK, errs.n == 0);
    if (errs.n)
        ck_assert_int_eq(code, errs.item[0].code);
    for (uint32_t i = 0; i < errs.n; i++) {
        bp_error_text(line, sizeof line, &errs.item[i]);
        bpi_text_f(said, "%s\n", line);
        ck_assert_msg(errs.item[i].line && errs.item[i].right[0], "%s", line);
    }
    bp_show_free(show);
    return code;
}

/* Take the next line off *from: its text after `mark`, or NULL where it does not begin so. */
static char *take_line(char **from, const char *mark)
{
    size_t n = strlen(mark);
    if (strncmp(*from, mark, n) != 0)
        return NULL;
    char *line = *from + n, *end = strchr(line, '\n');
    ck_assert_ptr_nonnull(end);
    *end = '\0';
    *from = end + 1;
    return line;
}

/* A line end is written \n in the table. */
static void put_unescaped(bpi_text *out, const char *s)
{
    for (; *s; s++)
        if (s[0] == '\\' && s[1] == 'n') {
            bpi_text_char(out, '\n');
            s++;
        } else {
            bpi_text_char(out, *s);
        }
}

static void put_changed(bpi_text *out, const char *base, const char *old, const char *new)
{
    bpi_text was = BPI_TEXT_EMPTY;
    put_unescaped(&was, old);
    const char *at = strstr(base, was.s);
    ck_assert_msg(at, "base.json does not hold %s", old);
    bpi_text_add(out, base, (size_t)(at - base));
    put_unescaped(out, new);
    bpi_text_put(out, at + was.len);
    bpi_text_release(&was);
}

START_TEST(each_mistake_is_told_as_the_table_has_it)
{
    char *base = whole(BASE), *table = whole("tests/model/mistakes.txt"), *at = table;
    int rows = 0, good = 0;
    while (take_line(&at, "#"))
        ;
    while (take_line(&at, "")) { /* the empty line before each block */
        bpi_text text = BPI_TEXT_EMPTY, said = BPI_TEXT_EMPTY, want = BPI_TEXT_EMPTY;
        const char *name = take_line(&at, ""), *by = take_line(&at, "by ");
        const char *old = take_line(&at, "- "), *new = take_line(&at, "+ "), *line = NULL;
        new = new ? new : take_line(&at, "+");
        ck_assert_msg(name && by && old && new, "block \"%s\" is not readable", name);
        while ((line = take_line(&at, "= ")) != NULL)
            bpi_text_f(&want, "%s\n", line);
        put_changed(&text, base, old, new);
        bp_code code = read_text(&said, text.s, text.len);
        ck_assert_msg((code == BP_OK) == (strcmp(by, "good") == 0), "%s: %s", name,
                      said.s ? said.s : "accepted");
        ck_assert_msg(strcmp(said.s ? said.s : "", want.s ? want.s : "") == 0,
                      "%s:\nsaid  %s\nwant  %s", name, said.s, want.s);
        good += code == BP_OK;
        rows++;
        bpi_text_release(&text);
        bpi_text_release(&said);
        bpi_text_release(&want);
        if (*at == '\0')
            break;
    }
    ck_assert_int_ge(rows, 120);
    ck_assert_int_ge(good, 10);
    bpi_mem_drop(base);
    bpi_mem_drop(table);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(all_mistakes_are_told_in_one_run_from_top_to_bottom)
{
    static const char text[] = "{\"backpot\": 1, \"id\": \"x\", \"title\": \"\", \"date\": \"?\",\n"
                               " \"zone\": \"UTC\", \"kitchen\": {\"burners\": 99},\n"
                               " \"recipes\": [], \"segments\": 4}";
    bpi_text said = BPI_TEXT_EMPTY;
    ck_assert_int_eq(read_text(&said, text, sizeof text - 1), BP_EVALUE);
    ck_assert_uint_eq(errs.n, 6);
    for (uint32_t i = 1; i < errs.n; i++)
        ck_assert(errs.item[i - 1].line < errs.item[i].line ||
                  (errs.item[i - 1].line == errs.item[i].line &&
                   errs.item[i - 1].col < errs.item[i].col));
    ck_assert_str_eq(errs.item[2].pointer, "/kitchen");
    ck_assert_str_eq(errs.item[3].pointer, "/kitchen/burners");
    bpi_text_release(&said);
}
END_TEST

START_TEST(what_is_no_object_is_refused)
{
    static const char *const texts[] = {"", "[]", "1", "{", "null", "\"show\""};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        bpi_text said = BPI_TEXT_EMPTY;
        bp_show *show = NULL;
        errs.n = errs.more = 0;
        ck_assert_int_ne(bp_show_read(&show, texts[i], strlen(texts[i]), "base.json", NULL, &errs),
                         BP_OK);
        ck_assert_ptr_null(show);
        ck_assert_uint_ge(errs.n, 1);
        bpi_text_release(&said);
    }
    bp_show *show = NULL;
    ck_assert_int_ne(bp_show_read(&show, "[]", 2, "x", NULL, NULL), BP_OK); /* no list to fill */
    ck_assert_ptr_null(show);
}
END_TEST

START_TEST(every_request_fails_once)
{
    char *base = whole(BASE);
    size_t len = strlen(base);
    long alive = bpi_mem_alive();
    for (int after = 0; after < 2; after++) {
        int fired = 1;
        for (long k = 0; fired; k++) {
            bp_show *show = NULL;
            errs.n = errs.more = 0;
            bpi_mem_fail_at(k, after);
            bp_code code = bp_show_read(&show, base, len, "base.json", NULL, &errs);
            fired = bpi_mem_failed();
            bpi_mem_fail_at(-1, 0);
            ck_assert_int_eq(code, fired ? BP_ENOMEM : BP_OK);
            ck_assert_uint_eq(errs.n, fired ? 1 : 0);
            bp_show_free(show);
            ck_assert_int_eq(bpi_mem_alive(), alive);
        }
    }
    bpi_mem_drop(base);
}
END_TEST

START_TEST(every_request_fails_once_while_mistakes_are_told)
{
    static const char text[] = "{\"backpot\": 1, \"id\": \"x\", \"title\": \"\", \"date\": \"?\",\n"
                               " \"zone\": \"UTC\", \"kitchen\": {\"carry\": \"9 h\"},\n"
                               " \"recipes\": [\"no.json\"], \"segments\": 4}";
    int fired = 1;
    for (long k = 0; fired; k++) {
        bp_show *show = NULL;
        errs.n = errs.more = 0;
        bpi_mem_fail_at(k, 0);
        bp_code code = bp_show_read(&show, text, sizeof text - 1, "x.json", "tests/model", &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(code, fired ? BP_ENOMEM : BP_EVALUE);
        ck_assert_ptr_null(show);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

Suite *suite_model_mistakes(void);
Suite *suite_model_mistakes(void)
{
    Suite *s = suite_create("model/mistakes");
    TCase *c = tcase_create("mistakes");
    tcase_add_test(c, each_mistake_is_told_as_the_table_has_it);
    tcase_add_test(c, all_mistakes_are_told_in_one_run_from_top_to_bottom);
    tcase_add_test(c, what_is_no_object_is_refused);
    tcase_add_test(c, every_request_fails_once);
    tcase_add_test(c, every_request_fails_once_while_mistakes_are_told);
    suite_add_tcase(s, c);
    return s;
}

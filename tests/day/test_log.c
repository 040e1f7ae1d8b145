#include <check.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "backpot/day.h"
#include "base/file.h"
#include "base/memory.h"
#include "base/sys.h"

#define HEAD                                                                                       \
    "{\"backpot\":\"log\",\"format\":1,\"show\":\"t\",\"stamp\":\"0123abcd\",\"rehearsal\":false}" \
    "\n"
#define HIT  "{\"at\":100,\"event\":\"hit\",\"air\":\"main\"}\n"
#define BEAT "{\"at\":100,\"event\":\"beat\",\"air\":\"main\",\"beat\":\"hello\"}\n"

static const bp_log_head head = {"t", "0123abcd", false};
static bp_errors errs;
static char dir[64], path[96];

static void set_up(void)
{
    errs = (bp_errors){0};
    strcpy(dir, "/tmp/backpot-test-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(dir));
    snprintf(path, sizeof path, "%s/day.log", dir);
}

static void tear_down(void)
{
    bpi_sys_chunk(0);
    bpi_sys_fail_at(-1, 0, 0);
    unlink(path);
    ck_assert_int_eq(rmdir(dir), 0);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

static void put(const char *content)
{
    ck_assert_int_eq(bpi_file_write(path, content, strlen(content), &errs), BP_OK);
}

static void is(const char *content)
{
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_file_read(&t, path, 100000, &errs), BP_OK);
    ck_assert_str_eq(t.s, content);
    bpi_text_release(&t);
}

static bp_event hit(int64_t at)
{
    return (bp_event){.kind = BP_DAY_HIT, .at = at, .air = "main"};
}

/* ---- reading ------------------------------------------------------------------------------- */

START_TEST(every_kind_comes_back_as_it_was_written)
{
    bp_logbook *book = NULL;
    bp_log *log = NULL;
    ck_assert_int_eq(bp_logbook_open(&book, path, &head, &errs), BP_OK);
    for (int k = 0; k < BP_DAY_KINDS; k++) {
        bp_event e = {.kind = (bp_event_kind)k,
                      .at = -90 + k,
                      .air = "main/2",
                      .beat = "b-\"1\"\\",
                      .op = "main/soup/A2/simmer",
                      .text = "Die Suppe ist übergekocht",
                      .seconds = -30};
        ck_assert_int_eq(bp_logbook_add(book, &e, &errs), BP_OK);
    }
    bp_logbook_close(book);
    ck_assert_int_eq(bp_log_read(&log, path, &errs), BP_OK);
    ck_assert_uint_eq(log->events, BP_DAY_KINDS);
    ck_assert_str_eq(log->head.show, "t");
    ck_assert_str_eq(log->head.stamp, "0123abcd");
    ck_assert(!log->head.rehearsal && !log->torn);
    for (int k = 0; k < BP_DAY_KINDS; k++) {
        const bp_event *e = &log->event[k];
        unsigned has = bp_event_members((bp_event_kind)k);
        ck_assert_int_eq((int)e->kind, k);
        ck_assert_int_eq(e->at, -90 + k);
        ck_assert_uint_eq(e->line, (unsigned)k + 2);
        ck_assert_str_eq(e->air, has & BP_HAS_AIR ? "main/2" : "");
        ck_assert_str_eq(e->beat, has & BP_HAS_BEAT ? "b-\"1\"\\" : "");
        ck_assert_str_eq(e->op, has & BP_HAS_OP ? "main/soup/A2/simmer" : "");
        ck_assert_str_eq(e->text, has & BP_HAS_TEXT ? "Die Suppe ist übergekocht" : "");
        ck_assert_int_eq(e->seconds, has & BP_HAS_SECONDS ? -30 : 0);
    }
    const bp_event *mishap = NULL;
    ck_assert_uint_eq(bp_log_mishaps(log, &mishap), 1);
    ck_assert_ptr_eq(mishap, &log->event[BP_DAY_MISHAP]);
    log->events = BP_DAY_MISHAP;
    ck_assert_uint_eq(bp_log_mishaps(log, &mishap), 0);
    ck_assert_ptr_null(mishap);
    bp_log_free(log);
}
END_TEST

START_TEST(a_last_line_that_was_cut_off_is_left_out)
{
    static const char full[] = HEAD HIT BEAT;
    size_t one = strlen(HEAD), two = one + strlen(HIT), all = strlen(full);
    for (size_t n = one; n <= all; n++) { /* at every byte */
        bp_log *log = NULL;
        ck_assert_int_eq(bpi_file_write(path, full, n, &errs), BP_OK);
        ck_assert_int_eq(bp_log_read(&log, path, &errs), BP_OK);
        ck_assert_uint_eq(log->events, n < two ? 0 : n < all ? 1 : 2);
        ck_assert(log->torn == (n != one && n != two && n != all));
        bp_log_free(log);
    }
}
END_TEST

static const struct {
    const char *content, *says;
} mistakes[] = {
    {"", "day.log:1:1: this log has no whole line; its first line is its head"},
    {"{}\n", "day.log:1:1: this is not the head of a log; a log begins with "
             "{\"backpot\":\"log\",\"format\":1,...}"},
    {"{\"backpot\":\"log\",\"format\":2}\n", "day.log:1:27: this log is of a newer format than "
                                             "this program reads; use the backpot that wrote "
                                             "it; this one reads format 1"},
    {"{\"backpot\":\"log\",\"format\":0}\n",
     "day.log:1:27: this format of a log is not known; format 1 is"},
    {"{\"backpot\":\"log\",\"format\":1.5}\n",
     "day.log:1:27: this format of a log is not known; format 1 is"},
    {"{\"backpot\":\"log\",\"format\":1,\"show\":\"t\",\"stamp\":\"x\"}\n",
     "day.log:1:1: \"rehearsal\" is missing here"},
    {"{\"backpot\":\"log\",\"format\":1,\"show\":\"t\",\"stamp\":\"x\",\"rehearsal\":1}\n",
     "day.log:1:64: \"rehearsal\" is neither true nor false"},
    {HEAD "nonsense\n", "day.log:2:1: 'n' is not expected here; "},
    {HEAD HIT "\n" BEAT, "day.log:3:1: "},
    {HEAD "[]\n", "day.log:2:1: a line of a log is an object; write "},
    {HEAD "{\"at\":1,\"event\":\"hitt\",\"air\":\"main\"}\n",
     "day.log:2:17: no event is called \"hitt\"; write \"hit\""},
    {HEAD "{\"at\":1,\"event\":\"hit\"}\n", "day.log:2:1: \"air\" is missing here"},
    {HEAD "{\"at\":1,\"event\":\"hit\",\"air\":\"m\",\"baet\":\"x\"}\n",
     "day.log:2:33: \"baet\" has no meaning in this line; "},
    {HEAD "{\"at\":1.5,\"event\":\"hit\",\"air\":\"m\"}\n",
     "day.log:2:7: \"at\" is not a whole number of seconds"},
    {HEAD "{\"at\":99999999,\"event\":\"hit\",\"air\":\"m\"}\n",
     "day.log:2:7: \"at\" is out of range; "},
    {HEAD "{\"at\":1,\"event\":\"hit\",\"air\":\"\"}\n",
     "day.log:2:29: \"air\" is not a text of 1 to 300 bytes"},
    {HEAD "{\"at\":1,\"event\":\"note\",\"text\":\"a\\u0007b\"}\n",
     "day.log:2:31: a log holds no control characters"},
    {HEAD "{\"at\":100,\"event\":\"open\"}\n{\"at\":99,\"event\":\"open\"}\n",
     "day.log:3:1: this event lies before the one on the line above it; "},
    {HEAD "{\"at\":1,\"at\":1,\"event\":\"open\"}\n", "day.log:2:9: "},
};

START_TEST(a_mistake_is_told_with_its_place)
{
    char line[1200];
    bp_log *log = NULL;
    put(mistakes[_i].content);
    ck_assert_int_ne(bp_log_read(&log, path, &errs), BP_OK);
    ck_assert_ptr_null(log);
    ck_assert_uint_ge(errs.n, 1);
    bp_error_text(line, sizeof line, &errs.item[0]);
    ck_assert_msg(strstr(line, mistakes[_i].says) != NULL, "%s", line);
}
END_TEST

START_TEST(all_mistakes_are_told_at_once)
{
    bp_log *log = NULL;
    put(HEAD "{\"at\":1}\n{\"event\":\"open\"}\nx\n{\"at\":5,\"event\":\"open\"}\n");
    ck_assert_int_eq(bp_log_read(&log, path, &errs), BP_EVALUE);
    ck_assert_uint_eq(errs.n, 3);
    for (uint32_t i = 0; i < 3; i++)
        ck_assert_uint_eq(errs.item[i].line, i + 2);
}
END_TEST

/* ---- adding -------------------------------------------------------------------------------- */

START_TEST(what_was_cut_off_is_taken_away_by_the_next_line)
{
    static const char full[] = HEAD HIT BEAT;
    size_t two = strlen(HEAD HIT);
    for (size_t n = 0; n <= strlen(full); n++) {
        bp_logbook *book = NULL;
        bp_event e = {.kind = BP_DAY_NOTE, .at = 200, .text = "x"};
        ck_assert_int_eq(bpi_file_write(path, full, n, &errs), BP_OK);
        ck_assert_int_eq(bp_logbook_open(&book, path, &head, &errs), BP_OK);
        ck_assert_int_eq(bp_logbook_add(book, &e, &errs), BP_OK);
        bp_logbook_close(book);
        is(n == strlen(full) ? HEAD HIT BEAT "{\"at\":200,\"event\":\"note\",\"text\":\"x\"}\n"
           : n >= two        ? HEAD HIT "{\"at\":200,\"event\":\"note\",\"text\":\"x\"}\n"
                             : HEAD "{\"at\":200,\"event\":\"note\",\"text\":\"x\"}\n");
    }
}
END_TEST

START_TEST(another_file_is_left_alone)
{
    static const struct {
        const char *content;
        bp_code code;
    } rows[] = {
        {"not a log", BP_ESYNTAX},
        {"{\"backpot\": 1}\n", BP_EVALUE},
        {"{\"backpot\":\"log\",\"format\":1,\"show\":\"u\",\"stamp\":\"0123abcd\","
         "\"rehearsal\":false}\n",
         BP_EVALUE},
        {"{\"backpot\":\"log\",\"format\":1,\"show\":\"t\",\"stamp\":\"0123abce\","
         "\"rehearsal\":false}\n",
         BP_EVALUE},
        {"{\"backpot\":\"log\",\"format\":1,\"show\":\"t\",\"stamp\":\"0123abcd\","
         "\"rehearsal\":true}\n",
         BP_EVALUE},
        {HEAD "x\n", BP_ESYNTAX},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bp_logbook *book = NULL;
        put(rows[i].content);
        ck_assert_int_eq(bp_logbook_open(&book, path, &head, &errs), rows[i].code);
        ck_assert_ptr_null(book);
        is(rows[i].content);
    }
    bp_logbook *book = NULL;
    ck_assert_int_eq(bp_logbook_open(&book, dir, &head, &errs), BP_EIO);
    ck_assert_int_eq(bp_logbook_open(&book, "/dev/null", &head, &errs), BP_EIO);
}
END_TEST

START_TEST(a_moment_never_lies_before_the_last)
{
    bp_logbook *book = NULL;
    bp_event a = hit(100), b = hit(90);
    ck_assert_int_eq(bp_logbook_open(&book, path, &head, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_add(book, &a, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_add(book, &b, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_log(book)->event[1].at, 100);
    bp_logbook_close(book);
    is(HEAD HIT HIT);
}
END_TEST

START_TEST(what_cannot_be_read_back_is_not_written)
{
    bp_logbook *book = NULL;
    bp_event rows[] = {{.kind = BP_DAY_NOTE, .text = ""},
                       {.kind = BP_DAY_NOTE, .text = "a\nb"},
                       {.kind = BP_DAY_NOTE, .text = "\xff"},
                       {.kind = BP_DAY_NOTE, .text = "x", .at = 9999999},
                       {.kind = BP_DAY_CUT, .air = "main", .seconds = 90000},
                       {.kind = BP_DAY_HIT}};
    ck_assert_int_eq(bp_logbook_open(&book, path, &head, &errs), BP_OK);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_int_ne(bp_logbook_add(book, &rows[i], &errs), BP_OK);
    bp_logbook_close(book);
    is(HEAD);
}
END_TEST

START_TEST(two_books_read_each_other)
{
    bp_logbook *a = NULL, *b = NULL;
    bp_event e = hit(100);
    ck_assert_int_eq(bp_logbook_open(&a, path, &head, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_open(&b, path, &head, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_add(a, &e, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_catch_up(b, &errs), BP_OK);
    ck_assert_uint_eq(bp_logbook_log(b)->events, 1);
    ck_assert_int_eq(bp_logbook_add(b, &e, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_add(a, &e, &errs), BP_OK);
    ck_assert_uint_eq(bp_logbook_log(a)->events, 3);
    bp_logbook_close(a);
    bp_logbook_close(b);
    is(HEAD HIT HIT HIT);
}
END_TEST

/* Four programs add fifty lines each; every line is there, whole, and in order. */
START_TEST(many_writers_do_not_mix_their_lines)
{
    enum { WRITERS = 4, LINES = 50 };
    pid_t child[WRITERS];
    for (int w = 0; w < WRITERS; w++) {
        child[w] = fork();
        ck_assert_int_ge(child[w], 0);
        if (child[w] == 0) {
            bp_logbook *book = NULL;
            bp_errors own = {0};
            bool good = bp_logbook_open(&book, path, &head, &own) == BP_OK;
            bpi_sys_chunk(7); /* a line takes many writes */
            for (int i = 0; i < LINES && good; i++) {
                bp_event e = {.kind = BP_DAY_START, .at = i, .op = "main/soup/A2/simmer"};
                good = bp_logbook_add(book, &e, &own) == BP_OK;
            }
            bp_logbook_close(book);
            _exit(good ? 0 : 1);
        }
    }
    for (int w = 0; w < WRITERS; w++) {
        int status = 1;
        ck_assert_int_eq(waitpid(child[w], &status, 0), child[w]);
        ck_assert_int_eq(status, 0);
    }
    bp_log *log = NULL;
    ck_assert_msg(bp_log_read(&log, path, &errs) == BP_OK, "%s", errs.item[0].wrong);
    ck_assert_uint_eq(log->events, WRITERS * LINES);
    ck_assert(!log->torn);
    bp_log_free(log);
}
END_TEST

START_TEST(a_log_that_was_made_shorter_is_noticed)
{
    bp_logbook *book = NULL;
    bp_event e = hit(100);
    ck_assert_int_eq(bp_logbook_open(&book, path, &head, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_add(book, &e, &errs), BP_OK);
    ck_assert_int_eq(truncate(path, (off_t)strlen(HEAD)), 0);
    ck_assert_int_eq(bp_logbook_add(book, &e, &errs), BP_EIO);
    bp_logbook_close(book);
    is(HEAD);
}
END_TEST

/* Removed while it is open: the next look puts it back, whoever looks first, and nobody's line is lost. */
START_TEST(a_log_that_was_removed_comes_back)
{
    bp_logbook *one = NULL, *two = NULL;
    bp_event e = hit(100);
    ck_assert_int_eq(bp_logbook_open(&one, path, &head, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_open(&two, path, &head, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_add(one, &e, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_catch_up(two, &errs), BP_OK);
    ck_assert_int_eq(unlink(path), 0);
    ck_assert_int_eq(bp_logbook_catch_up(one, &errs), BP_OK);
    is(HEAD HIT);
    ck_assert_int_eq(bp_logbook_add(one, &e, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_add(two, &e, &errs), BP_OK);
    is(HEAD HIT HIT HIT);
    ck_assert_int_eq(bp_logbook_catch_up(one, &errs), BP_OK);
    ck_assert_uint_eq(bp_logbook_log(one)->events, 3);
    ck_assert_uint_eq(bp_logbook_log(two)->events, 3);

    /* One that was half put back is filled. */
    ck_assert_int_eq(unlink(path), 0);
    put(HEAD);
    ck_assert_int_eq(bp_logbook_catch_up(two, &errs), BP_OK);
    is(HEAD HIT HIT HIT);
    ck_assert_int_eq(bp_logbook_catch_up(one, &errs), BP_OK);

    /* Another file is left alone, until it goes; a line meanwhile is refused, not lost. */
    ck_assert_int_eq(unlink(path), 0);
    put("mine\n");
    ck_assert_int_eq(bp_logbook_catch_up(one, &errs), BP_EIO);
    ck_assert_ptr_nonnull(strstr(errs.item[errs.n - 1].wrong, "another file stands in its place"));
    ck_assert_int_eq(bp_logbook_add(one, &e, &errs), BP_EIO);
    is("mine\n");
    ck_assert_int_eq(unlink(path), 0);
    ck_assert_int_eq(bp_logbook_add(one, &e, &errs), BP_OK);
    is(HEAD HIT HIT HIT HIT);
    ck_assert_int_eq(bp_logbook_catch_up(two, &errs), BP_OK);
    ck_assert_uint_eq(bp_logbook_log(two)->events, 4);

    /* So with its folder. */
    ck_assert_int_eq(unlink(path), 0);
    ck_assert_int_eq(rmdir(dir), 0);
    ck_assert_int_eq(bp_logbook_catch_up(one, &errs), BP_EIO);
    ck_assert_int_eq(mkdir(dir, 0700), 0);
    ck_assert_int_eq(bp_logbook_catch_up(one, &errs), BP_OK);
    is(HEAD HIT HIT HIT HIT);
    bp_logbook_close(one);
    bp_logbook_close(two);
}
END_TEST

/* Each call fails while a removed log is put back: then, or at the next look, it is there and whole. */
START_TEST(putting_it_back_fails_at_each_call)
{
    for (int after = 0; after < 2; after++) {
        bool fired = true;
        for (long k = 0; fired; k++) {
            bp_logbook *book = NULL;
            bp_event e = hit(100);
            ck_assert_int_lt(k, 200);
            unlink(path);
            ck_assert_int_eq(bp_logbook_open(&book, path, &head, &errs), BP_OK);
            ck_assert_int_eq(bp_logbook_add(book, &e, &errs), BP_OK);
            ck_assert_int_eq(unlink(path), 0);
            bpi_sys_chunk(11);
            bpi_sys_fail_at(k, ENOSPC, after);
            bp_code rc = bp_logbook_catch_up(book, &errs);
            fired = bpi_sys_failed();
            bpi_sys_fail_at(-1, 0, 0);
            bpi_sys_chunk(0);
            ck_assert(rc == BP_OK || (rc == BP_EIO && fired));
            ck_assert_int_eq(bp_logbook_add(book, &e, &errs), BP_OK);
            is(HEAD HIT HIT);
            bp_logbook_close(book);
        }
    }
}
END_TEST

/* ---- faults -------------------------------------------------------------------------------- */

/* Each system call fails once, then once with all after it. Whatever was said to be written is there
 * afterwards, whatever was not is not, and the next line can be added. */
START_TEST(every_system_call_fails_once)
{
    static const int errors[] = {EIO, ENOSPC, EINTR};
    for (int after = 0; after < 2; after++)
        for (int kind = 0; kind < 3 - after; kind++) { /* to be interrupted for ever is no fault */
            bool fired = true;
            for (long k = 0; fired; k++) {
                bp_logbook *book = NULL;
                bp_event e = hit(100);
                ck_assert_int_lt(k, 200);
                unlink(path);
                bpi_sys_chunk(11);
                bpi_sys_fail_at(k, errors[kind], after);
                bp_code opened = bp_logbook_open(&book, path, &head, &errs);
                bp_code added = opened == BP_OK ? bp_logbook_add(book, &e, &errs) : opened;
                fired = bpi_sys_failed();
                bpi_sys_fail_at(-1, 0, 0);
                ck_assert(added == BP_OK || added == BP_EIO);
                ck_assert((opened == BP_OK) == (book != NULL));
                if (opened != BP_OK)
                    ck_assert_int_eq(bp_logbook_open(&book, path, &head, &errs), BP_OK);
                bool there = added == BP_OK;
                ck_assert_int_eq(bp_logbook_catch_up(book, &errs), BP_OK);
                uint32_t n = bp_logbook_log(book)->events;
                ck_assert(!there || n == 1);
                ck_assert_int_eq(bp_logbook_add(book, &e, &errs), BP_OK);
                ck_assert_uint_eq(bp_logbook_log(book)->events, n + 1);
                bp_logbook_close(book);
                is(n ? HEAD HIT HIT : HEAD HIT);
            }
        }
}
END_TEST

START_TEST(every_request_for_memory_fails_once)
{
    for (int after = 0; after < 2; after++) {
        bool fired = true;
        for (long k = 0; fired; k++) {
            bp_logbook *book = NULL;
            bp_log *log = NULL;
            bp_event e = hit(100);
            put(HEAD HIT BEAT);
            bpi_mem_fail_at(k, after);
            bp_code rc = bp_logbook_open(&book, path, &head, &errs);
            if (rc == BP_OK)
                rc = bp_logbook_add(book, &e, &errs);
            bp_logbook_close(book);
            if (rc == BP_OK)
                rc = bp_log_read(&log, path, &errs);
            bp_log_free(log);
            fired = bpi_mem_failed();
            bpi_mem_fail_at(-1, 0);
            ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
            ck_assert_int_eq(bpi_mem_alive(), 0);
        }
    }
}
END_TEST

Suite *suite_day_log(void);
Suite *suite_day_log(void)
{
    Suite *s = suite_create("day/log");
    TCase *c = tcase_create("log");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, every_kind_comes_back_as_it_was_written);
    tcase_add_test(c, a_last_line_that_was_cut_off_is_left_out);
    tcase_add_loop_test(c, a_mistake_is_told_with_its_place, 0,
                        (int)(sizeof mistakes / sizeof *mistakes));
    tcase_add_test(c, all_mistakes_are_told_at_once);
    tcase_add_test(c, what_was_cut_off_is_taken_away_by_the_next_line);
    tcase_add_test(c, another_file_is_left_alone);
    tcase_add_test(c, a_moment_never_lies_before_the_last);
    tcase_add_test(c, what_cannot_be_read_back_is_not_written);
    tcase_add_test(c, two_books_read_each_other);
    tcase_add_test(c, many_writers_do_not_mix_their_lines);
    tcase_add_test(c, a_log_that_was_made_shorter_is_noticed);
    tcase_add_test(c, a_log_that_was_removed_comes_back);
    tcase_add_test(c, putting_it_back_fails_at_each_call);
    tcase_add_test(c, every_system_call_fails_once);
    tcase_add_test(c, every_request_for_memory_fails_once);
    suite_add_tcase(s, c);
    return s;
}

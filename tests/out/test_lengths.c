#include "backpot/output.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "out/cut.h"
#include "support/plan_sample.h"

static plan_sample sample;
static bp_errors errs;

static void setup(void)
{
    plan_sample_fill_planned(&sample);
    memset(&errs, 0, sizeof errs);
}

static char *told(const char *lose, const char *slot)
{
    const bp_lengths_options how = {lose, slot};
    char *text = NULL;
    size_t len = 0;
    ck_assert_int_eq(bp_lengths_write(&text, &len, &sample.plan, &how, &errs), BP_OK);
    ck_assert_uint_eq(strlen(text), len);
    return text;
}

static void has(const char *text, const char *line)
{
    ck_assert_msg(strstr(text, line) != NULL, "no \"%s\" in\n%s", line, text);
}

START_TEST(stretches_and_losses_are_told)
{
    char *text = told(NULL, NULL);
    has(text, "\nmain at 08:24:00: Dois pratos");
    has(text, "  no longer than 4:25: every beat is at its longest\n");
    has(text, "   4:25 to  4:25  5 croutons  (as planned)\n");
    has(text, "   4:24 to  2:40  5 croutons, 6 toss; not needed: B1\n");
    has(text, "\n  lost before the hit       0:00    0:30    1:00    1:30\n");
    has(text, "\n  slot                      4:25    3:55    3:25    2:55\n");
    has(text, "\n  lost when this begins       0:30");
    bp_free(text);
}
END_TEST

START_TEST(one_length_is_told_beat_by_beat)
{
    char *text = told(NULL, "3:30");
    has(text, "\n  in 3:30\n   1  08:24:00   0:00");
    ck_assert(!strstr(text, "lost"));
    bp_free(text);
    text = told(NULL, "20 s"); /* two must stay: 15 s and 25 s */
    has(text, "  what must stay runs 0:20 over\n");
    bp_free(text);
    text = told(NULL, "20 min");
    has(text, "  what there is falls ");
    bp_free(text);
}
END_TEST

START_TEST(losses_are_those_that_are_named)
{
    char *text = told("0:10,45 s", NULL);
    has(text, "\n  lost before the hit       0:00    0:10    0:45\n");
    bp_free(text);
    static const char *const wrong[] = {"soon",  "",     "0:10,", "1:00,2,x",
                                        "-0:10", "0:00", "4:25",  "1 s,2 s,3 s,4 s,5 s"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        const bp_lengths_options how = {wrong[i], NULL};
        size_t len = 9;
        errs.n = 0;
        ck_assert_msg(bp_lengths_write(&text, &len, &sample.plan, &how, &errs) == BP_EVALUE, "%s",
                      wrong[i]);
        ck_assert(text == NULL && len == 0 && errs.n == 1);
        ck_assert(errs.item[0].right[0]);
    }
}
END_TEST

START_TEST(a_cell_says_what_goes)
{
    bpi_arena *a = bpi_arena_new();
    bp_slot_fit fit;
    ck_assert_int_eq(bpi_cut_make(&fit, &sample.plan, 0, 7, 20, &errs), BP_OK);
    ck_assert_str_eq(bpi_cut_text(a, &sample.plan, 0, 7, &fit),
                     "out: 9"); /* no keep on the close */
    ck_assert_int_eq(bpi_cut_make(&fit, &sample.plan, 0, 7, 40, &errs), BP_OK);
    ck_assert_str_eq(bpi_cut_text(a, &sample.plan, 0, 7, &fit), "out: 9; 0:20 over");
    ck_assert_int_eq(bpi_cut_make(&fit, &sample.plan, 0, 7, -120, &errs), BP_OK);
    ck_assert_str_eq(bpi_cut_text(a, &sample.plan, 0, 7, &fit), "1:40 short");
    ck_assert_str_eq(bpi_cut_unused(a, &sample.plan, 0, 0x1CF), "B1");
    bpi_arena_free(a);
}
END_TEST

/* The first beats of the sample at three stations of a row, whose middle one has room for one. */
START_TEST(what_is_in_the_way_is_told_where_it_is_not_as_planned)
{
    bpi_arena *a = bpi_arena_new();
    bp_beat *b = (bp_beat *)&sample.plan.beat[sample.plan.air[0].beats.first];
    const uint32_t n = sample.plan.air[0].beats.n;
    const uint64_t all = bpi_cut_done(&sample.plan, 0, n);
    bp_slot_way way;
    for (uint32_t i = 0; i < n; i++) {
        b[i].post = i % 3 + 1;
        b[i].room = b[i].post == 2 ? 1 : 0;
        b[i].station = b[i].post == 2 ? "counter" : "other";
    }
    uint32_t most = 0;
    for (uint32_t i = 0; i < n; i++) {
        uint32_t there = all >> i & 1 ? bp_slot_stand(&sample.plan, 0, all, i, 1) : 0;
        most = there > most ? there : most;
    }
    ck_assert_uint_gt(most, 1);
    char full[80];
    snprintf(full, sizeof full, "counter holds %u, has room for 1", (unsigned)most);
    ck_assert_str_eq(bpi_cut_way(a, &sample.plan, 0, all), full); /* nothing is hot */
    ck_assert_str_eq(bpi_cut_way(a, &sample.plan, 0, 0), "");
    char *text = told("0:20", NULL);
    has(text, "\n      with 0:20 less, counter holds ");
    bp_free(text);
    for (uint32_t c = 0; c < sample.plan.containers; c++)
        ((bp_container *)sample.plan.container)[c].comes_hot = true;
    bp_slot_ways(&way, &sample.plan, 0, all);
    ck_assert_uint_ne(way.hot, 0);
    ck_assert_str_eq(bpi_cut_way(a, &sample.plan, 0, all), full); /* that is as planned */
    bpi_arena_free(a);
}
END_TEST

START_TEST(without_memory_nothing_is_told)
{
    const bp_lengths_options all = {"0:20", NULL}, one = {NULL, "3:00"};
    for (int which = 0; which < 2; which++) {
        bool fired = true;
        for (long k = 0; fired; k++) {
            char *text = NULL;
            size_t len = 0;
            errs.n = errs.more = 0;
            bpi_mem_fail_at(k, 0);
            bp_code rc = bp_lengths_write(&text, &len, &sample.plan, which ? &one : &all, &errs);
            bpi_mem_fail_at(-1, 0);
            fired = rc == BP_ENOMEM;
            ck_assert(fired || rc == BP_OK);
            ck_assert(fired == (text == NULL));
            bp_free(text);
            ck_assert_int_eq(bpi_mem_alive(), 0);
        }
    }
}
END_TEST

Suite *suite_out_lengths(void);
Suite *suite_out_lengths(void)
{
    Suite *s = suite_create("out/lengths");
    TCase *c = tcase_create("lengths");
    tcase_add_checked_fixture(c, setup, NULL);
    tcase_add_test(c, stretches_and_losses_are_told);
    tcase_add_test(c, one_length_is_told_beat_by_beat);
    tcase_add_test(c, losses_are_those_that_are_named);
    tcase_add_test(c, a_cell_says_what_goes);
    tcase_add_test(c, what_is_in_the_way_is_told_where_it_is_not_as_planned);
    tcase_add_test(c, without_memory_nothing_is_told);
    suite_add_tcase(s, c);
    return s;
}

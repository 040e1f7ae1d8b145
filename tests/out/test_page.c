/* Every paper is held to the same promises; each has a row here. What stands on the pages is for
 * tests/scripts/pages.sh to read back with another program's eyes. */
#include "out/page.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "out/cue.h"
#include "out/fetch_sheet.h"
#include "out/label.h"
#include "out/pack.h"
#include "out/prep.h"
#include "out/strike.h"
#include "out/timeline.h"
#include "support/plan_sample.h"
#include "support/share.h"

typedef bp_code write_fn(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);

static const struct {
    const char *name;
    write_fn *write;
    const char *begins;
} papers[] = {
    {"cue sheet", bpi_cue_sheet_write, "%PDF-"},
    {"labels", bpi_labels_write, "%PDF-"},
    {"timeline", bpi_timeline_pdf_write, "%PDF-"},
    {"timeline picture", bpi_timeline_svg_write, "<?xml"},
    {"prep sheet", bpi_prep_sheet_write, "%PDF-"},
    {"pack list", bpi_pack_sheet_write, "%PDF-"},
    {"strike list", bpi_strike_sheet_write, "%PDF-"},
    {"pull list", bpi_pull_sheet_write, "%PDF-"},
};

enum { PAPERS = sizeof papers / sizeof *papers };

static plan_sample sample;
static bp_errors errs;

static void begin_again(void)
{
    errs.n = errs.more = 0;
    plan_sample_fill(&sample);
}

START_TEST(two_runs_are_equal_byte_for_byte)
{
    begin_again();
    for (int letter = 0; letter < 2; letter++) {
        bpi_text a = BPI_TEXT_EMPTY, b = BPI_TEXT_EMPTY;
        ck_assert_int_eq(papers[_i].write(&a, &sample.plan, letter, &errs), BP_OK);
        ck_assert_int_eq(papers[_i].write(&b, &sample.plan, letter, &errs), BP_OK);
        ck_assert_uint_gt(a.len, 1000);
        ck_assert_int_eq(strncmp(a.s, papers[_i].begins, strlen(papers[_i].begins)), 0);
        ck_assert_uint_eq(a.len, b.len);
        ck_assert_int_eq(memcmp(a.s, b.s, a.len), 0);
        bpi_text_release(&a);
        bpi_text_release(&b);
    }
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(the_paper_size_is_the_one_asked_for)
{
    begin_again();
    bpi_text a4 = BPI_TEXT_EMPTY, letter = BPI_TEXT_EMPTY;
    ck_assert_int_eq(papers[_i].write(&a4, &sample.plan, false, &errs), BP_OK);
    ck_assert_int_eq(papers[_i].write(&letter, &sample.plan, true, &errs), BP_OK);
    bool picture = papers[_i].begins[0] == '<'; /* as large as it needs to be */
    ck_assert_int_eq(a4.len == letter.len && memcmp(a4.s, letter.s, a4.len) == 0, picture);
    bpi_text_release(&a4);
    bpi_text_release(&letter);
}
END_TEST

START_TEST(another_plan_gives_other_bytes)
{
    begin_again();
    bpi_text a = BPI_TEXT_EMPTY, b = BPI_TEXT_EMPTY;
    ck_assert_int_eq(papers[_i].write(&a, &sample.plan, false, &errs), BP_OK);
    sample.plan.stamp = "00000000";
    ck_assert_int_eq(papers[_i].write(&b, &sample.plan, false, &errs), BP_OK);
    ck_assert(a.len != b.len || memcmp(a.s, b.s, a.len) != 0);
    bpi_text_release(&a);
    bpi_text_release(&b);
}
END_TEST

START_TEST(an_empty_plan_gives_a_page_too)
{
    begin_again();
    bpi_text out = BPI_TEXT_EMPTY;
    bp_plan *p = &sample.plan;
    p->airs = p->beats = p->teases = p->containers = p->ops = p->stints = p->persons = p->dishes =
        0;
    p->verdict = BP_NONE;
    ck_assert_int_eq(papers[_i].write(&out, p, false, &errs), BP_OK);
    ck_assert_uint_gt(out.len, 500);
    bpi_text_release(&out);
}
END_TEST

/* A little of everything: the whole sample would be drawn once for each request. */
static void keep_a_little(void)
{
    bp_plan *p = &sample.plan;
    p->airs = 1;
    sample.air[0].beats.n = 5;
    p->ops = 12;
    p->containers = 9; /* those the beats and the tease name */
}

START_TEST(every_request_for_memory_may_fail)
{
    begin_again();
    keep_a_little();
    bool fired = true;
    for (long k = 0; fired; k += share()) {
        bpi_text out = BPI_TEXT_EMPTY;
        bpi_text_put(&out, "before");
        errs.n = errs.more = 0;
        bpi_mem_fail_at(k, 0);
        bp_code rc = papers[_i].write(&out, &sample.plan, false, &errs);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        if (fired)
            ck_assert_str_eq(out.s, "before");
        bpi_text_release(&out);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

START_TEST(a_letter_that_no_font_has_is_an_error)
{
    begin_again();
    bpi_text out = BPI_TEXT_EMPTY;
    sample.plan.title = "\xF3\xB0\x80\x80"; /* U+F0000: private, in no font */
    ck_assert_int_eq(papers[_i].write(&out, &sample.plan, false, &errs), BP_EIO);
    ck_assert_uint_eq(errs.n, 1);
    ck_assert_ptr_nonnull(strstr(errs.item[0].wrong, "no font"));
    ck_assert_uint_eq(out.len, 0);
    bpi_text_release(&out);
}
END_TEST

/* As many bytes as a show file lets through, in one unbroken word and in many. */
START_TEST(a_text_longer_than_a_page_is_split_not_lost)
{
    static char lines[2 * 1999], word[2001];
    begin_again();
    for (size_t i = 0; i + 1 < sizeof lines; i++)
        lines[i] = i % 2 ? '\n' : 'x';
    memset(word, 'W', sizeof word - 1);
    sample.op[0].detail = lines;
    sample.beat[1].words = lines;
    sample.beat[2].text = word;
    sample.container[0].allergens = word;
    bpi_text out = BPI_TEXT_EMPTY;
    ck_assert_int_eq(papers[_i].write(&out, &sample.plan, false, &errs), BP_OK);
    bpi_text_release(&out);
}
END_TEST

Suite *suite_out_page(void);
Suite *suite_out_page(void)
{
    Suite *s = suite_create("out/page");
    TCase *c = tcase_create("papers");
    tcase_add_loop_test(c, two_runs_are_equal_byte_for_byte, 0, PAPERS);
    tcase_add_loop_test(c, the_paper_size_is_the_one_asked_for, 0, PAPERS);
    tcase_add_loop_test(c, another_plan_gives_other_bytes, 0, PAPERS);
    tcase_add_loop_test(c, an_empty_plan_gives_a_page_too, 0, PAPERS);
    tcase_add_loop_test(c, every_request_for_memory_may_fail, 0, PAPERS);
    tcase_add_loop_test(c, a_letter_that_no_font_has_is_an_error, 0, PAPERS);
    tcase_add_loop_test(c, a_text_longer_than_a_page_is_split_not_lost, 0, PAPERS);
    suite_add_tcase(s, c);
    return s;
}

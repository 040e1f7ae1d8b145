/* report.pdf: made of any day, whole, on one page, and the same each time. */
#include "backpot/after.h"

#include <check.h>
#include <string.h>

#include "backpot/show.h"
#include "base/memory.h"
#include "support/plan_sample.h"

#define MOST 200

static plan_sample sample;
static bp_errors errs;
static bp_after_op op[MOST];
static bp_actual beat[MOST], air[MOST];
static bp_after after;

/* Everything as planned, then so many seconds longer. */
static void set_up(int64_t longer)
{
    plan_sample_fill_planned(&sample);
    const bp_plan *p = &sample.plan;
    errs = (bp_errors){0};
    ck_assert(p->ops <= MOST && p->beats <= MOST && p->airs <= MOST);
    for (uint32_t i = 0; i < p->ops; i++)
        op[i] = (bp_after_op){p, i, {p->op[i].from, p->op[i].to + longer}};
    for (uint32_t i = 0; i < p->airs; i++) {
        air[i] = (bp_actual){p->air[i].hit, p->air[i].hit + p->air[i].slot + longer};
        for (uint32_t k = 0; k < p->air[i].beats.n; k++) {
            const bp_beat *b = &p->beat[p->air[i].beats.first + k];
            int64_t from = b->dropped ? BP_NO_TIME : b->from - p->air[i].hit;
            beat[p->air[i].beats.first + k] =
                (bp_actual){from, b->dropped ? BP_NO_TIME : from + b->length + longer};
        }
    }
    after =
        (bp_after){.plan = p, .file = "day.log", .op = op, .ops = p->ops, .beat = beat, .air = air};
}

static void forget(bp_actual *list, uint32_t n)
{
    for (uint32_t i = 0; i < n; i++)
        list[i] = (bp_actual){BP_NO_TIME, BP_NO_TIME};
}

static uint32_t pages(const char *s, size_t len)
{
    static const char mark[] = "/Type /Page %";
    uint32_t n = 0;
    for (size_t i = 0; i + sizeof mark - 1 <= len; i++)
        n += memcmp(s + i, mark, sizeof mark - 1) == 0;
    return n;
}

static size_t write_once(char **out)
{
    size_t len = 0;
    ck_assert_int_eq(bp_report_write(out, &len, &after, &errs), BP_OK);
    ck_assert_uint_gt(len, 1000);
    ck_assert_mem_eq(*out, "%PDF-", 5);
    ck_assert_uint_eq(pages(*out, len), 1);
    return len;
}

START_TEST(the_same_day_makes_the_same_page)
{
    char *one = NULL, *two = NULL, *other = NULL;
    set_up(90);
    size_t a = write_once(&one), b = write_once(&two);
    ck_assert_uint_eq(a, b);
    ck_assert_mem_eq(one, two, a);
    set_up(120);
    size_t c = write_once(&other);
    ck_assert(a != c || memcmp(one, other, a) != 0);
    bp_free(one);
    bp_free(two);
    bp_free(other);
}
END_TEST

/* A log may tell of anything: nothing, one half, ends before begins, days apart. */
START_TEST(any_day_can_be_drawn)
{
    char *out = NULL;
    for (int k = 0; k < 7; k++) {
        set_up(k == 6 ? -7200 : 60);
        if (k == 0 || k == 1)
            for (uint32_t i = 0; i < after.ops; i++)
                forget(&op[i].done, 1);
        if (k == 0 || k == 2) {
            forget(beat, sample.plan.beats);
            forget(air, sample.plan.airs);
        }
        if (k == 3) /* only begun */
            for (uint32_t i = 0; i < sample.plan.ops; i++)
                op[i].done.to = BP_NO_TIME;
        if (k == 4)
            for (uint32_t i = 0; i < sample.plan.airs; i++)
                air[i].to = BP_NO_TIME;
        if (k == 5)
            op[0].done = (bp_actual){op[0].done.from - 600000, op[0].done.to + 600000};
        after.unknown = k == 2 ? 3 : 0;
        after.rehearsal = after.other = k == 2;
        write_once(&out);
        bp_free(out);
    }
}
END_TEST

START_TEST(every_request_fails_once)
{
    char *out = NULL;
    size_t len = 0;
    bool fired = true;
    set_up(60);
    for (long k = 0; fired; k++) {
        errs = (bp_errors){0};
        bpi_mem_fail_at(k, 0);
        bp_code rc = bp_report_write(&out, &len, &after, &errs);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert((out == NULL) == fired);
        bp_free(out);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

/* Two of a cook at once: with one of them watched both are to be seen, and the page is another. */
START_TEST(what_is_watched_shares_the_height)
{
    char *hidden = NULL, *both = NULL;
    set_up(0);
    bp_op *first = NULL;
    for (uint32_t i = 0; i < after.ops && !first; i++)
        for (uint32_t k = i + 1; k < after.ops && !first; k++)
            if (op[i].plan->op[i].person != BP_NO_INDEX &&
                op[i].plan->op[k].person == op[i].plan->op[i].person) {
                op[k].done = op[i].done;
                first = (bp_op *)&op[i].plan->op[i];
            }
    ck_assert_ptr_nonnull(first);
    size_t a = write_once(&hidden);
    first->watch = 40;
    size_t b = write_once(&both);
    ck_assert(a != b || memcmp(hidden, both, a) != 0);
    bp_free(hidden);
    bp_free(both);
}
END_TEST

Suite *suite_out_report(void);
Suite *suite_out_report(void)
{
    Suite *s = suite_create("out/report");
    TCase *c = tcase_create("report");
    tcase_add_test(c, the_same_day_makes_the_same_page);
    tcase_add_test(c, any_day_can_be_drawn);
    tcase_add_test(c, what_is_watched_shares_the_height);
    tcase_add_test(c, every_request_fails_once);
    suite_add_tcase(s, c);
    return s;
}

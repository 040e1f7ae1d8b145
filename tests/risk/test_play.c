/* Days played: closed forms, what a network means, and the same result however it is played. */
#include <check.h>
#include <math.h>
#include <string.h>

#include "backpot/risk.h"
#include "base/memory.h"

enum { DAYS = 200000 };

static bp_risk_activity activity[100];
static bp_risk_link link[200];
static bp_risk_due due[8];
static bp_risk_network net;
static bp_risk_options options;
static bp_errors errs;

static void start(void)
{
    memset(activity, 0, sizeof activity);
    memset(link, 0, sizeof link);
    memset(due, 0, sizeof due);
    net = (bp_risk_network){.activity = activity, .link = link, .due = due};
    options = (bp_risk_options){.days = DAYS, .seed = 7};
    errs.n = errs.more = 0;
}

static uint32_t add(int32_t low, int32_t likely, int32_t high)
{
    uint32_t n = net.activities++;
    activity[n] = (bp_risk_activity){.low = low,
                                     .likely = likely,
                                     .high = high,
                                     .planned = likely,
                                     .group = BP_RISK_NONE,
                                     .stream = n};
    return n;
}

static void after(uint32_t from, uint32_t to)
{
    link[net.links++] = (bp_risk_link){.from = from, .to = to};
}

static void end_by(uint32_t act, int32_t most)
{
    due[net.dues++] = (bp_risk_due){.act = act, .since = BP_RISK_NONE, .most = most};
}

static bp_risk_result *play(void)
{
    bp_risk_result *r = NULL;
    ck_assert_msg(bp_risk_play(&r, &net, &options, &errs) == BP_OK, "%s", errs.item[0].wrong);
    return r;
}

static double mean_of(const bp_risk_activity *a)
{
    return a->shape == BP_RISK_PERT ? (a->low + 4.0 * a->likely + a->high) / 6
                                    : (a->low + (double)a->likely + a->high) / 3;
}

static double variance_of(const bp_risk_activity *a)
{
    double l = a->low, m = a->likely, h = a->high, mu = mean_of(a);
    return a->shape == BP_RISK_PERT ? (mu - l) * (h - mu) / 7
                                    : (l * l + m * m + h * h - l * m - l * h - m * h) / 18;
}

/* Means and variances of independent lengths add up. */
START_TEST(a_chain_has_the_sum_of_means_and_variances)
{
    double mean = 0, variance = 0;
    for (int i = 0; i < 12; i++) {
        uint32_t a = add(1000 * i, 1000 * i + 2000, 1000 * i + 2000 + 1500 * i);
        activity[a].shape = i % 2 ? BP_RISK_TRIANGLE : BP_RISK_PERT;
        if (a)
            after(a - 1, a);
        mean += mean_of(&activity[a]);
        variance += variance_of(&activity[a]);
    }
    end_by(11, 0);
    bp_risk_result *r = play();
    ck_assert_double_eq_tol((double)r->fate[0].mean / 1000, mean, 4 * sqrt(variance / DAYS) + 1);
    ck_assert_double_eq_tol((double)r->fate[0].deviation / 1000 / sqrt(variance), 1,
                            4 / sqrt(2.0 * DAYS) + 0.002);
    bp_risk_result_free(r);
}
END_TEST

/* In one group the variance of a sum has its covariances too. `share` is the correlation of the
 * normal deviations; for two equal symmetric lengths that of the lengths is within 0.03 of it. */
START_TEST(a_group_that_shares_its_luck_varies_more)
{
    static const uint32_t shares[] = {0, 300, 500, 1000};
    net.groups = 1;
    net.share = shares[_i];
    for (int i = 0; i < 4; i++) {
        uint32_t a = add(2000, 6000, 10000);
        activity[a].group = 0;
        if (a)
            after(a - 1, a);
    }
    end_by(3, 0);
    bp_risk_result *r = play();
    double one = variance_of(&activity[0]), rho = shares[_i] / 1000.0;
    double got = pow((double)r->fate[0].deviation / 1000, 2);
    ck_assert_double_eq_tol((got / one - 4) / 12, rho, 0.03);
    if (shares[_i] == 0 || shares[_i] == 1000) /* exact but for the days played */
        ck_assert_double_eq_tol((got / one - 4) / 12, rho,
                                4 * sqrt(2.0 / DAYS) * (4 + 12 * rho) / 12);
    bp_risk_result_free(r);
}
END_TEST

/* Greatest of two independent lengths: P(max <= x) = F(x)^2. Triangle from 0 over 0 to 1: F(x) =
 * 1 - (1 - x)^2, so E max = integral of 1 - F^2 = 1/5 + 2/3 - ... = 7/15. */
START_TEST(two_that_meet_end_with_the_later_one)
{
    for (int i = 0; i < 2; i++) {
        uint32_t a = add(0, 0, 900000);
        activity[a].shape = BP_RISK_TRIANGLE;
    }
    uint32_t end = add(0, 0, 0);
    after(0, end);
    after(1, end);
    end_by(end, 450000);
    bp_risk_result *r = play();
    /* F(1/2) = 3/4 */
    ck_assert_double_eq_tol((double)r->good / DAYS, 0.5625, 4 * sqrt(0.5625 * 0.4375 / DAYS));
    ck_assert_double_eq_tol((double)r->fate[0].mean / 1000 / 900000, 7.0 / 15,
                            4 * 0.25 / sqrt(DAYS));
    /* Equal lengths: each is the later one, and so critical, on half of the days. */
    ck_assert_double_eq_tol((double)r->part[0].critical / DAYS, 0.5, 4 * 0.5 / sqrt(DAYS));
    ck_assert_uint_ge(r->part[0].critical + r->part[1].critical, DAYS);
    bp_risk_result_free(r);
}
END_TEST

START_TEST(a_uniform_word_gives_the_closed_form_of_a_triangle)
{
    uint32_t a = add(1000, 3000, 9000);
    activity[a].shape = BP_RISK_TRIANGLE;
    for (int32_t k = 0; k < 8; k++)
        end_by(a, 1000 + 1000 * (k + 1) - 1);
    bp_risk_result *r = play();
    for (int32_t k = 0; k < 8; k++) {
        double x = 1000 * (k + 1) + 1000 - 0.5;
        double p = x <= 3000 ? (x - 1000) * (x - 1000) / (8000.0 * 2000)
                             : 1 - (9000 - x) * (9000 - x) / (8000.0 * 6000);
        ck_assert_double_eq_tol((double)r->fate[k].held / DAYS, p, 4 * 0.5 / sqrt(DAYS));
    }
    bp_risk_result_free(r);
}
END_TEST

/* ---- what a network means ---------------------------------------------------------------- */

START_TEST(a_step_waits_for_its_release_and_its_lags)
{
    uint32_t a = add(10, 10, 10), b = add(20, 20, 20), c = add(5, 5, 5);
    activity[b].release = 100;
    after(a, b);
    link[net.links++] = (bp_risk_link){.from = b, .to = c, .from_start = true, .lag = 7};
    end_by(a, 10);
    end_by(b, 119);
    end_by(c, 112);
    due[net.dues++] = (bp_risk_due){.act = c, .start = true, .since = a, .most = 106};
    due[net.dues++] = (bp_risk_due){.act = c, .start = true, .since = b, .most = 7};
    bp_risk_result *r = play();
    static const int32_t late[] = {0, 1, 0, 1, 0};
    for (int i = 0; i < 5; i++) {
        ck_assert_int_eq(r->fate[i].least, late[i]);
        ck_assert_int_eq(r->fate[i].most, late[i]);
        ck_assert_uint_eq(r->fate[i].held, late[i] ? 0 : DAYS);
        ck_assert_int_eq(r->fate[i].deviation, 0);
    }
    ck_assert_uint_eq(r->good, 0);
    bp_risk_result_free(r);
}
END_TEST

START_TEST(an_overrun_counts_where_it_held_up_what_came_late)
{
    /* b waits for a, which may overrun; c has so much room that its overruns never matter. */
    uint32_t a = add(50, 60, 100), b = add(10, 10, 10), c = add(5, 30, 60);
    after(a, b);
    after(c, b);
    activity[b].release = 70;
    end_by(b, 80);
    bp_risk_result *r = play();
    uint32_t bad = DAYS - r->good;
    ck_assert_uint_gt(bad, 0);
    ck_assert_uint_eq(r->part[a].late, bad); /* later than 70 is longer than 60 */
    ck_assert_uint_eq(r->part[b].late, 0);
    ck_assert_uint_eq(r->part[c].late, 0);
    ck_assert_uint_eq(r->part[b].critical, DAYS);
    ck_assert_uint_eq(r->part[a].critical, bad);
    bp_risk_result_free(r);
}
END_TEST

START_TEST(bins_and_quantiles_count_every_day)
{
    uint32_t a = add(0, 500, 1000);
    end_by(a, 500);
    options.bin = 10;
    bp_risk_result *r = play();
    uint32_t all = 0, held = 0;
    for (uint32_t k = 0; k < BP_RISK_BINS; k++) {
        all += r->fate[0].bin[k];
        held += k <= BP_RISK_BINS / 2 ? r->fate[0].bin[k] : 0;
        ck_assert_uint_eq(r->fate[0].bin[k], r->bin[k]);
    }
    ck_assert_uint_eq(all, DAYS);
    ck_assert_uint_eq(held, r->fate[0].held);
    int32_t half = bp_risk_quantile(r->bin, DAYS, 10, 500);
    ck_assert_int_ge(half, 0); /* symmetric */
    ck_assert_int_le(half, 10);
    ck_assert_int_le(bp_risk_quantile(r->bin, DAYS, 10, 1), -400);
    ck_assert_int_ge(bp_risk_quantile(r->bin, DAYS, 10, 1000), 400);
    bp_risk_result_free(r);
    options.bin = 1; /* now most lies outside */
    r = play();
    ck_assert_int_eq(bp_risk_quantile(r->bin, DAYS, 1, 1000), INT32_MAX);
    bp_risk_result_free(r);
}
END_TEST

/* ---- same in, same out ------------------------------------------------------------------- */

static void a_mixed_network(void)
{
    net.groups = 3;
    net.share = 400;
    for (int32_t i = 0; i < 100; i++) {
        uint32_t a = add(10 + i, 40 + 2 * i, 90 + 3 * i);
        activity[a].group = i % 4 < 3 ? (uint32_t)i % 4 : BP_RISK_NONE;
        activity[a].release = 35 * i;
        for (uint32_t k = 1; k <= 2 && k * 3 <= a; k++)
            after(a - 3 * k, a);
    }
    for (uint32_t i = 0; i < 8; i++)
        end_by(92 + i, 6000);
}

static void same(const bp_risk_result *a, const bp_risk_result *b)
{
    ck_assert_uint_eq(a->good, b->good);
    ck_assert_mem_eq(a->bin, b->bin, BP_RISK_BINS * sizeof *a->bin);
    ck_assert_mem_eq(a->part, b->part, net.activities * sizeof *a->part);
    for (uint32_t i = 0; i < net.dues; i++) {
        ck_assert_uint_eq(a->fate[i].held, b->fate[i].held);
        ck_assert_int_eq(a->fate[i].mean, b->fate[i].mean);
        ck_assert_int_eq(a->fate[i].deviation, b->fate[i].deviation);
    }
}

START_TEST(threads_change_nothing)
{
    a_mixed_network();
    options.days = 12345; /* the last block is not whole */
    bp_risk_result *one = play();
    options.threads = (uint32_t)_i;
    bp_risk_result *many = play();
    same(one, many);
    bp_risk_result_free(one);
    bp_risk_result_free(many);
}
END_TEST

/* The figures are this program's own, kept so that another machine or compiler has to repeat them. */
START_TEST(the_same_seed_gives_the_same_days_everywhere)
{
    a_mixed_network();
    options.days = 10000;
    bp_risk_result *r = play();
    ck_assert_uint_eq(r->good, 9936);
    ck_assert_int_eq(r->fate[7].mean, 5217922);
    ck_assert_int_eq(r->fate[7].deviation, 290569);
    bp_risk_result_free(r);
    options.seed = 8;
    r = play();
    ck_assert_uint_ne(r->good, 9936);
    bp_risk_result_free(r);
}
END_TEST

START_TEST(a_stream_is_the_same_luck_in_any_network)
{
    uint32_t a = add(0, 500, 1000);
    activity[a].stream = UINT64_C(0x123456789abcdef0);
    end_by(a, 600);
    bp_risk_result *one = play();
    bp_risk_activity kept = activity[a];
    start();
    add(3, 4, 5);
    uint32_t b = add(0, 0, 0);
    activity[b] = kept;
    end_by(b, 600);
    bp_risk_result *two = play();
    ck_assert_uint_eq(one->good, two->good);
    ck_assert_int_eq(one->fate[0].mean, two->fate[0].mean);
    bp_risk_result_free(one);
    bp_risk_result_free(two);
}
END_TEST

/* ---- what is refused --------------------------------------------------------------------- */

static void refused(const char *word)
{
    bp_risk_result *r = NULL;
    errs.n = 0;
    ck_assert_int_eq(bp_risk_play(&r, &net, &options, &errs), BP_EVALUE);
    ck_assert_ptr_null(r);
    ck_assert_uint_eq(errs.n, 1);
    ck_assert_msg(strstr(errs.item[0].wrong, word) != NULL, "%s", errs.item[0].wrong);
}

START_TEST(a_network_that_is_not_well_formed_is_refused)
{
    uint32_t a = add(1, 2, 3), b = add(1, 2, 3);
    after(a, b);
    after(b, a);
    refused("waits for itself");
    net.links = 1;
    activity[a].likely = 4;
    refused("lengths out of order");
    activity[a].likely = 2;
    activity[a].release = -1;
    refused("release");
    activity[a].release = 999999;
    refused("longer than");
    activity[a].release = 0;
    activity[a].group = 0;
    refused("group");
    activity[a].group = BP_RISK_NONE;
    link[0].to = 2;
    refused("link 0");
    link[0].to = b;
    end_by(2, 0);
    refused("due 0");
    net.dues = 0;
    net.share = 1001;
    refused("share");
    net.share = 0;
    options.days = BP_RISK_MOST_DAYS + 1;
    refused("days");
    options.days = 0;
    bp_risk_result *r = play();
    ck_assert_uint_eq(r->days, BP_RISK_DAYS);
    ck_assert_uint_eq(r->good, BP_RISK_DAYS); /* nothing is due */
    bp_risk_result_free(r);
    bp_risk_result_free(NULL);
}
END_TEST

START_TEST(without_memory_nothing_is_handed_out)
{
    a_mixed_network();
    options.days = 300;
    options.threads = 2;
    for (long k = 0;; k++) {
        bp_risk_result *r = NULL;
        long before = bpi_mem_alive();
        bpi_mem_fail_at(k, 0);
        bp_code rc = bp_risk_play(&r, &net, &options, &errs);
        int failed = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        if (!failed) {
            ck_assert_int_eq(rc, BP_OK);
            bp_risk_result_free(r);
            break;
        }
        ck_assert_int_eq(rc, BP_ENOMEM);
        ck_assert_ptr_null(r);
        ck_assert_int_eq(bpi_mem_alive(), before);
    }
}
END_TEST

Suite *suite_risk_play(void);
Suite *suite_risk_play(void)
{
    Suite *s = suite_create("risk/play");
    TCase *t = tcase_create("all");
    tcase_add_checked_fixture(t, start, NULL);
    tcase_add_test(t, a_chain_has_the_sum_of_means_and_variances);
    tcase_add_loop_test(t, a_group_that_shares_its_luck_varies_more, 0, 4);
    tcase_add_test(t, two_that_meet_end_with_the_later_one);
    tcase_add_test(t, a_uniform_word_gives_the_closed_form_of_a_triangle);
    tcase_add_test(t, a_step_waits_for_its_release_and_its_lags);
    tcase_add_test(t, an_overrun_counts_where_it_held_up_what_came_late);
    tcase_add_test(t, bins_and_quantiles_count_every_day);
    tcase_add_loop_test(t, threads_change_nothing, 1, 8);
    tcase_add_test(t, the_same_seed_gives_the_same_days_everywhere);
    tcase_add_test(t, a_stream_is_the_same_luck_in_any_network);
    tcase_add_test(t, a_network_that_is_not_well_formed_is_refused);
    tcase_add_test(t, without_memory_nothing_is_handed_out);
    suite_add_tcase(s, t);
    return s;
}

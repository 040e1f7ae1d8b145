/* Published project networks with three-point estimates, and the chances that follow from them.
 *
 * Times are in thousandths of the source's unit. */
#include <check.h>
#include <math.h>
#include <string.h>

#include "backpot/risk.h"

typedef struct row {
    const char *network, *name;
    int32_t low, likely, high;
    uint32_t after[4]; /* rows of the same network, counted from 1; 0: none */
    bool critical;     /* on the published critical path                    */
} row;

static const row table[] = {
    /* porta-vac: Anderson et al., An Introduction to Management Science (Cengage, 2014), ch. 9, pp.
     * 384-387; read. */
    {"porta-vac", "A", 4000, 5000, 12000, {0}, true},
    {"porta-vac", "B", 1000, 1500, 5000, {0}, false},
    {"porta-vac", "C", 2000, 3000, 4000, {1}, false},
    {"porta-vac", "D", 3000, 4000, 11000, {1}, false},
    {"porta-vac", "E", 2000, 3000, 4000, {1}, true},
    {"porta-vac", "F", 1500, 2000, 2500, {3}, false},
    {"porta-vac", "G", 1500, 3000, 4500, {4}, false},
    {"porta-vac", "H", 2500, 3500, 7500, {2, 5}, true},
    {"porta-vac", "I", 1500, 2000, 2500, {8}, true},
    {"porta-vac", "J", 1000, 2000, 3000, {6, 7, 9}, true},
    /* reliable: Hillier and Lieberman, Introduction to Operations Research, Reliable Construction Co.;
     * estimates and predecessors from memory, arithmetic checked. */
    {"reliable", "A", 1000, 2000, 3000, {0}, true},
    {"reliable", "B", 2000, 3500, 8000, {1}, true},
    {"reliable", "C", 6000, 9000, 18000, {2}, true},
    {"reliable", "D", 4000, 5500, 10000, {3}, false},
    {"reliable", "E", 1000, 4500, 5000, {3}, true},
    {"reliable", "F", 4000, 4000, 10000, {5}, true},
    {"reliable", "G", 5000, 6500, 11000, {4}, false},
    {"reliable", "H", 5000, 8000, 17000, {5, 7}, false},
    {"reliable", "I", 3000, 7500, 9000, {3}, false},
    {"reliable", "J", 3000, 9000, 9000, {6, 9}, true},
    {"reliable", "K", 4000, 4000, 4000, {10}, false},
    {"reliable", "L", 1000, 5500, 7000, {10}, true},
    {"reliable", "M", 1000, 2000, 3000, {8}, false},
    {"reliable", "N", 5000, 5500, 9000, {11, 12}, true},
    /* fourteen-AN: exercise of fourteen activities A to N with a worked table of answers; estimates
     * read. */
    {"fourteen-AN", "A", 5000, 5000, 7000, {0}, true},
    {"fourteen-AN", "B", 1000, 2000, 5000, {0}, false},
    {"fourteen-AN", "C", 5000, 5000, 5000, {1}, true},
    {"fourteen-AN", "D", 4000, 8000, 13000, {1}, false},
    {"fourteen-AN", "E", 1000, 10000, 17000, {2, 3}, true},
    {"fourteen-AN", "F", 1000, 5000, 7000, {4}, false},
    {"fourteen-AN", "G", 2000, 6000, 9000, {4}, false},
    {"fourteen-AN", "H", 4000, 4000, 6000, {5, 6}, true},
    {"fourteen-AN", "I", 2000, 7000, 10000, {7, 8}, true},
    {"fourteen-AN", "J", 2000, 4000, 7000, {9}, false},
    {"fourteen-AN", "K", 6000, 10000, 13000, {9}, true},
    {"fourteen-AN", "L", 2000, 6000, 6000, {10}, false},
    {"fourteen-AN", "M", 2000, 2000, 3000, {11}, true},
    {"fourteen-AN", "N", 7000, 7000, 12000, {12, 13}, true},
    /* lecture-L27: lecture L27, Project Scheduling: PERT Networks; estimates read. */
    {"lecture-L27", "1-2", 2000, 5000, 8000, {0}, true},
    {"lecture-L27", "1-3", 1000, 4000, 7000, {0}, false},
    {"lecture-L27", "2-3", 0, 0, 0, {1}, true},
    {"lecture-L27", "2-4", 2000, 4000, 6000, {1}, false},
    {"lecture-L27", "2-6", 5000, 7000, 12000, {1}, false},
    {"lecture-L27", "3-4", 3000, 5000, 10000, {2, 3}, true},
    {"lecture-L27", "3-5", 3000, 6000, 9000, {2, 3}, false},
    {"lecture-L27", "4-5", 4000, 6000, 10000, {4, 6}, true},
    {"lecture-L27", "4-6", 2000, 5000, 8000, {4, 6}, false},
    {"lecture-L27", "5-6", 2000, 4000, 6000, {7, 8}, true},
};

enum { ROWS = sizeof table / sizeof *table, MOST = 32, DAYS = 400000 };

static bp_risk_activity activity[MOST];
static bp_risk_link link[4 * MOST];
static bp_risk_due due[MOST];
static bp_risk_network net;

/* The network of that name, each of its ends due at `most`. */
static void load(const char *name, bp_risk_shape shape, int32_t most)
{
    uint32_t first = 0, n = 0, links = 0, dues = 0;
    bool leads[MOST] = {false};
    while (strcmp(table[first].network, name) != 0)
        first++;
    for (; first + n < ROWS && strcmp(table[first + n].network, name) == 0; n++) {
        const row *r = &table[first + n];
        activity[n] = (bp_risk_activity){.low = r->low,
                                         .likely = r->likely,
                                         .high = r->high,
                                         .planned = r->likely,
                                         .shape = shape,
                                         .group = BP_RISK_NONE,
                                         .stream = n};
        for (int i = 0; i < 4 && r->after[i]; i++) {
            link[links++] = (bp_risk_link){.from = r->after[i] - 1, .to = n};
            leads[r->after[i] - 1] = true;
        }
    }
    /* One activity of no length after all ends: completion. */
    activity[n] = (bp_risk_activity){.group = BP_RISK_NONE};
    for (uint32_t i = 0; i < n; i++)
        if (!leads[i])
            link[links++] = (bp_risk_link){.from = i, .to = n};
    due[dues++] = (bp_risk_due){.act = n, .since = BP_RISK_NONE, .most = most};
    net = (bp_risk_network){.activity = activity,
                            .activities = n + 1,
                            .link = link,
                            .links = links,
                            .due = due,
                            .dues = dues};
}

static bp_risk_result *play(void)
{
    bp_risk_result *r = NULL;
    bp_risk_options o = {.days = DAYS, .seed = 1};
    ck_assert_int_eq(bp_risk_play(&r, &net, &o, NULL), BP_OK);
    return r;
}

/* Simulations of four million days each with the xoshiro256** generator, activities independent,
 * made once for this check by other code; mean and deviation in the source's unit. */
static const struct {
    const char *network;
    bp_risk_shape shape;
    double mean, deviation;
    int32_t due[2];
    double chance[2];
} simulated[] = {
    {"porta-vac", BP_RISK_PERT, 17.3188, 1.6978, {17000, 20000}, {0.4602, 0.92941}},
    {"porta-vac", BP_RISK_TRIANGLE, 19.1804, 2.263, {17000, 20000}, {0.17701, 0.65528}},
    {"reliable", BP_RISK_PERT, 44.3256, 2.9336, {44000, 47000}, {0.47395, 0.81652}},
    {"reliable", BP_RISK_TRIANGLE, 46.2333, 3.6944, {44000, 47000}, {0.28528, 0.59402}},
    {"fourteen-AN", BP_RISK_PERT, 51.6285, 3.1704, {55000, 0}, {0.85165, 0}},
    {"fourteen-AN", BP_RISK_TRIANGLE, 52.6436, 3.5674, {55000, 0}, {0.74397, 0}},
    {"lecture-L27", BP_RISK_PERT, 21.1799, 2.0416, {23000, 0}, {0.81165, 0}},
    {"lecture-L27", BP_RISK_TRIANGLE, 22.032, 2.3047, {23000, 0}, {0.66781, 0}},
};

START_TEST(mean_deviation_and_chance_agree_with_another_simulation)
{
    for (int k = 0; k < 2 && simulated[_i].due[k]; k++) {
        load(simulated[_i].network, simulated[_i].shape, simulated[_i].due[k]);
        bp_risk_result *r = play();
        /* four standard errors of both simulations, and the last digit printed */
        double error = sqrt(1.0 / DAYS + 1.0 / 4000000);
        ck_assert_double_eq_tol((double)r->fate[0].mean / 1e6, simulated[_i].mean,
                                4 * simulated[_i].deviation * error + 0.0005);
        ck_assert_double_eq_tol((double)r->fate[0].deviation / 1e6, simulated[_i].deviation,
                                4 * simulated[_i].deviation * error + 0.0005);
        double p = simulated[_i].chance[k];
        ck_assert_double_eq_tol((double)r->good / DAYS, p, 4 * sqrt(p * (1 - p)) * error + 0.0002);
        ck_assert_uint_eq(r->good, r->fate[0].held);
        bp_risk_result_free(r);
    }
}
END_TEST

/* The textbook answer adds up the critical path alone and takes the sum for normal. Played with that
 * path only, the mean is the printed one, and the chance is near; the variance is that of the beta
 * distribution and not ((b - a) / 6)^2. */
static const struct {
    const char *network;
    double mean;   /* expected completion, as printed */
    int32_t due;   /* deadline of the source          */
    double chance; /* of the normal approximation     */
    double within; /* what the approximation is off   */
} textbook[] = {
    {"porta-vac", 17, 20000, 0.965489, 0.02}, /* Anderson, p. 387: z = 1.82, 0.9656 */
    {"reliable", 44, 47000, 0.841345, 0.02},  /* from memory: printed 0.84          */
    {"fourteen-AN", 50.8333, 55000, 0.893496, 0.03},
    {"lecture-L27", 20.8333, 0, 0, 0}, /* printed 20.83                      */
};

START_TEST(the_critical_path_alone_gives_the_printed_mean_and_chance)
{
    uint32_t n = 0, first = 0;
    double variance = 0;
    load(textbook[_i].network, BP_RISK_PERT, textbook[_i].due);
    while (strcmp(table[first].network, textbook[_i].network) != 0)
        first++;
    for (uint32_t i = first; i < ROWS && strcmp(table[i].network, textbook[_i].network) == 0; i++)
        if (table[i].critical) {
            bp_risk_activity *a = &activity[n];
            *a = activity[i - first];
            double mean = (a->low + 4.0 * a->likely + a->high) / 6;
            variance += (mean - a->low) * (a->high - mean) / 7;
            if (n)
                link[n - 1] = (bp_risk_link){.from = n - 1, .to = n};
            n++;
        }
    net.activities = n;
    net.links = n - 1;
    due[0].act = n - 1;
    bp_risk_result *r = play();
    double deviation = sqrt(variance) / 1000;
    ck_assert_double_eq_tol((double)r->fate[0].mean / 1e6, textbook[_i].mean,
                            4 * deviation / sqrt(DAYS) + 0.0005);
    ck_assert_double_eq_tol((double)r->fate[0].deviation / 1e6, deviation,
                            4 * deviation / sqrt(2.0 * DAYS) + 0.002);
    if (textbook[_i].due)
        ck_assert_double_eq_tol((double)r->good / DAYS, textbook[_i].chance, textbook[_i].within);
    for (uint32_t i = 0; i < n; i++) /* one path: always critical */
        ck_assert_uint_eq(r->part[i].critical, DAYS);
    bp_risk_result_free(r);
}
END_TEST

/* Every activity of a published critical path is critical more often than not; and the days of the
 * ends of the network add up to all days. */
START_TEST(the_published_critical_path_is_critical_most_often)
{
    static const char *const names[] = {"porta-vac", "reliable", "fourteen-AN", "lecture-L27"};
    load(names[_i], BP_RISK_PERT, 0);
    bp_risk_result *r = play();
    uint32_t first = 0;
    while (strcmp(table[first].network, names[_i]) != 0)
        first++;
    for (uint32_t i = 0; i + 1 < net.activities; i++)
        ck_assert_msg((r->part[i].critical * 2 > DAYS) == table[first + i].critical ||
                          activity[i].low == activity[i].high,
                      "%s %s: critical on %u days", names[_i], table[first + i].name,
                      r->part[i].critical);
    bp_risk_result_free(r);
}
END_TEST

Suite *suite_risk_networks(void);
Suite *suite_risk_networks(void)
{
    Suite *suite = suite_create("risk/networks");
    TCase *c = tcase_create("published");
    tcase_add_loop_test(c, mean_deviation_and_chance_agree_with_another_simulation, 0, 8);
    tcase_add_loop_test(c, the_critical_path_alone_gives_the_printed_mean_and_chance, 0, 4);
    tcase_add_loop_test(c, the_published_critical_path_is_critical_most_often, 0, 4);
    suite_add_tcase(suite, c);
    return suite;
}

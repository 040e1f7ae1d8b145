/* tests/bench/risk_bench.c - how long it takes to play many days of a network.
 *
 * risk-bench [DAYS [OPERATIONS [THREADS]]]: made-up kitchens: operations in three rows of work, each
 * held up by the two before it in its row, half of them in a group with a common share of luck.
 */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "backpot/risk.h"

enum { MOST = 4000 };

static double seconds(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

int main(int argc, char **argv)
{
    static bp_risk_activity activity[MOST];
    static bp_risk_link link[2 * MOST];
    static bp_risk_due due[12];
    bp_risk_network net = {
        .activity = activity, .link = link, .due = due, .groups = 4, .share = 500};
    bp_risk_options o = {.days = 1000000, .seed = 1, .bin = 30, .threads = 2};
    uint32_t n = argc > 2 ? (uint32_t)strtoul(argv[2], NULL, 10) : 100;
    if (argc > 1)
        o.days = (uint32_t)strtoul(argv[1], NULL, 10);
    if (argc > 3)
        o.threads = (uint32_t)strtoul(argv[3], NULL, 10);
    if (n < 12 || n > MOST)
        return 2;
    for (uint32_t i = 0; i < n; i++) {
        int32_t likely = 60 * (2 + (int32_t)(i * 7 % 11));
        activity[i] = (bp_risk_activity){.low = likely * 3 / 4,
                                         .likely = likely,
                                         .high = likely * 2,
                                         .planned = likely,
                                         .release = 450 * (int32_t)(i / 3),
                                         .group = i % 8 < 4 ? i % 8 : BP_RISK_NONE,
                                         .stream = i};
        for (uint32_t k = 1; k <= 2 && 3 * k <= i; k++)
            link[net.links++] = (bp_risk_link){.from = i - 3 * k, .to = i};
    }
    net.activities = n;
    for (uint32_t i = 0; i < 12; i++)
        due[net.dues++] = (bp_risk_due){
            .act = n - 12 + i, .since = BP_RISK_NONE, .most = 450 * (int32_t)(n / 3) + 2400};
    double t = seconds();
    bp_risk_result *r = NULL;
    if (bp_risk_play(&r, &net, &o, NULL) != BP_OK)
        return 1;
    printf("%u days of %u operations, %u threads: %.2f s; good on %u days\n", (unsigned)r->days,
           (unsigned)n, (unsigned)o.threads, seconds() - t, (unsigned)r->good);
    bp_risk_result_free(r);
    return 0;
}

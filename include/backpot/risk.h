/* backpot/risk.h - a network of activities of uncertain length, played through many days.
 *
 * Numbers in, counts out; nothing here knows of food. The caller holds a network as plain arrays;
 * playing reads it only. Times are whole units of the caller's choice (a kitchen uses seconds) on
 * one axis that starts at 0.
 *
 *   activity   takes a length between low and high, likeliest at likely, new every day; it starts as
 *              soon as its release and its links allow, and does not pause
 *   link       start(to) >= end(from) + lag, or start(from) + lag: what must come before, or who does
 *              it next; no circles
 *   due        a moment that must not come later than so: an end or a start, counted from 0 or from
 *              another activity's start. A day is good when every due holds
 *   group      activities that share their luck: the same cook, the same oven
 *
 * Length. PERT: low + (high - low) x Beta(p, q) with p = 1 + 4 (likely - low) / (high - low) and
 * q = 1 + 4 (high - likely) / (high - low), the usual reading of the three-point estimate of D. G.
 * Malcolm and others, "Application of a technique for research and development program evaluation",
 * Operations Research 7 (1959). Triangle: density rising evenly from low to likely, and falling
 * evenly to high. Both are drawn by inversion: length = Q(z), z standard normal.
 *
 * Luck. In a group z = sqrt(share) x F + sqrt(1 - share) x E, with one F for each group and day and
 * one E for each activity and day, all independent and standard normal: any two of a group then
 * correlate by `share`, whatever their own lengths. Without a group z = E.
 *
 * Same in, same out. Random words come from a counter (Philox4x32-10) of day and stream, and all is
 * counted in whole numbers: the same network, seed and days give the same result on every machine,
 * with any number of threads.
 */
#ifndef BP_RISK_H
#define BP_RISK_H

#include <stdbool.h>
#include <stdint.h>

#include "backpot/error.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BP_RISK_NONE      UINT32_MAX
#define BP_RISK_MOST_TIME 1000000 /* no activity may end later, were each to take `high`       */
#define BP_RISK_MOST_DAYS 10000000
#define BP_RISK_DAYS      100000 /* where none are asked for: +-0.3 in a hundred at the worst */
#define BP_RISK_BINS      512    /* of a histogram; the first and the last are open           */

typedef enum bp_risk_shape { BP_RISK_PERT, BP_RISK_TRIANGLE } bp_risk_shape;

typedef struct bp_risk_activity {
    int32_t low, likely, high; /* 0 <= low <= likely <= high                                     */
    int32_t planned;           /* longer than this it is an overrun                              */
    int32_t release;           /* does not start before; 0 and up                                */
    bp_risk_shape shape;
    uint32_t group;  /* BP_RISK_NONE: none                                                       */
    uint64_t stream; /* which luck is its own: equal streams draw alike, in any network          */
} bp_risk_activity;

typedef struct bp_risk_link {
    uint32_t from, to;
    bool from_start; /* counted from the start of `from`, not its end                            */
    int32_t lag;     /* within +- BP_RISK_MOST_TIME                                              */
} bp_risk_link;

typedef struct bp_risk_due {
    uint32_t act;
    bool start;     /* the start of `act`, not its end                                           */
    uint32_t since; /* counted from the start of this activity; BP_RISK_NONE: from 0             */
    int32_t most;   /* within +- BP_RISK_MOST_TIME                                               */
} bp_risk_due;

typedef struct bp_risk_network {
    const bp_risk_activity *activity;
    uint32_t activities;
    const bp_risk_link *link;
    uint32_t links;
    const bp_risk_due *due;
    uint32_t dues;
    uint32_t groups;
    uint32_t share; /* of the group in the luck, in thousandths: 0..1000                         */
} bp_risk_network;

/* An all-zero value means the defaults. */
typedef struct bp_risk_options {
    uint32_t days;    /* 0: BP_RISK_DAYS                                                         */
    uint64_t seed;    /*                                                                         */
    uint32_t bin;     /* width of a bin of the histograms, in units of time; 0: 1                */
    uint32_t threads; /* 0 or 1: this one alone; up to 64                                        */
} bp_risk_options;

/* How one due fared. Lateness is its moment less `most`: above 0 it was missed. */
typedef struct bp_risk_fate {
    uint32_t held;       /* days                                                                 */
    int32_t least, most; /* lateness of the best and of the worst day                            */
    int64_t mean, deviation; /* of its moment, in thousandths of the unit; deviation: of the days
                                played, not of a sample                                          */
    const uint32_t *bin; /* BP_RISK_BINS counts of lateness: number k counts days with lateness in
                            ((k - 257) x width, (k - 256) x width]: up to 256 on time            */
} bp_risk_fate;

/* What one activity has to do with it. On a day its chain is found from a due backwards: an activity
 * that started at its release begins the chain; another waited for the first of its links that held
 * it so long, and the chain goes on there. */
typedef struct bp_risk_part {
    uint32_t
        critical; /* days on which it lay on the chain of the due with the greatest lateness  */
    uint32_t
        late; /* days on which it overran its planned length and lay on the chain of a missed due */
} bp_risk_part;

typedef struct bp_risk_result {
    uint32_t days, good; /* good: every due held                                                 */
    const bp_risk_fate *fate; /* per due                                                         */
    const uint32_t *bin;      /* as in a fate, of the greatest lateness of each day              */
    const bp_risk_part *part; /* per activity                                                    */
    void *own;
} bp_risk_result;

/* Play the network.
 *
 * Owner   *out is new, release it with bp_risk_result_free; NULL on failure.
 * Errors  BP_EVALUE (the network is not well formed: the message says which row), BP_ENOMEM.
 */
bp_code bp_risk_play(bp_risk_result **out, const bp_risk_network *network,
                     const bp_risk_options *options, bp_errors *errs);
void bp_risk_result_free(bp_risk_result *result); /* NULL does nothing */

/* The least lateness, rounded up to a whole bin, that `thousandths` (1..1000) of the days do not
 * pass; INT32_MAX where it lies in the last bin. */
int32_t bp_risk_quantile(const uint32_t bin[BP_RISK_BINS], uint32_t days, uint32_t width,
                         uint32_t thousandths);

#ifdef __cplusplus
}
#endif
#endif

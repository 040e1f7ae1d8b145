/* src/plan/network.h - a schedule as a network of uncertain lengths, to be played.
 *
 * Owns     the network, in the caller's arena.
 * May use  plan/fill, prep/, risk (its public header), base/.
 * Units    seconds from `zero`, a plan time; whole minutes where a plan spans more than a week.
 *
 * Every job is an activity, released at its planned start. A lag from a start or an end to a start is
 * a link. Who or what is busy goes on as planned: each cook, burner, position of an oven, tool, watt of
 * a circuit and room of a place is a chain of the jobs that take it, in the order of their starts, given
 * to whom it was last free of, so that no more is tied together than the plan ties. A wait, and a step that
 * waits where it is, is over when the next one starts.
 */
#ifndef BP_PLAN_NETWORK_H
#define BP_PLAN_NETWORK_H

#include "backpot/risk.h"
#include "plan/fill.h"

typedef struct bpi_network {
    bp_risk_network risk; /* activity: per job; due: one for each carried container */
    bp_risk_activity *activity;
    uint32_t *box; /* per due: the container */
    int64_t zero, unit;
    uint32_t uncertain;
} bpi_network;

/* Luck shared by the steps of one cook, and by the bakes of one oven, in thousandths. Our
 * assumption, no source: who is slow today is slow at everything, but not only that counts. */
#define BPI_NETWORK_SHARE 500

/* Starts may be moved to `early` seconds before zero's first job. Errors: BP_ENOMEM. */
bp_code bpi_network_make(bpi_network **out, bpi_arena *a, const bpi_fill *f, int64_t early,
                         bp_errors *errs);

/* Does job j hang on a slot, not on the call of the crew? */
bool bpi_network_pinned(const bpi_fill *f, uint32_t j);

#endif

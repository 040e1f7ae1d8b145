/* src/risk/network.h - a network made ready to be played: checked, in order, its lengths as tables.
 *
 * Owns     the order and the tables, in the caller's arena; the network itself stays the caller's.
 * May use  risk/shape, base/.
 */
#ifndef BP_RISK_NETWORK_H
#define BP_RISK_NETWORK_H

#include "backpot/risk.h"
#include "base/arena.h"
#include "risk/shape.h"

typedef struct bpi_net {
    const bp_risk_network *of;
    const uint32_t *order;       /* activities, each after all that its links come from      */
    const uint32_t *first;       /* per activity: its links in `into` ...                     */
    const uint32_t *into;        /* ... up to first[activity + 1], in the caller's order      */
    const int32_t *const *table; /* per activity; NULL: always of length low                  */
    const int32_t *usual;        /* per due: its moment were each length the likely one       */
    bpi_normal normal;
    int32_t own, common; /* roots of the shares of luck, in 2^-15 */
} bpi_net;

/* Errors: BP_EVALUE, BP_ENOMEM. */
bp_code bpi_net_make(bpi_net **out, bpi_arena *a, const bp_risk_network *of, bp_errors *errs);

/* The link that held activity `act` so long, given the starts and ends of one day; BP_RISK_NONE: it
 * started at its release. `start` and `end` are every `step`-th number. */
uint32_t bpi_net_binding(const bpi_net *n, uint32_t act, const int32_t *start, const int32_t *end,
                         uint32_t step);

#endif

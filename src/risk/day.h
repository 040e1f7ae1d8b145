/* src/risk/day.h - days played in blocks, and what is counted of them.
 *
 * Owns     nothing; a player works in storage that is given to it, so that playing cannot fail.
 * May use  risk/network, risk/philox.
 *
 * One block is BPI_DAYS days. Each quantity is a row with a number for each of them, and each step of
 * the work runs along a row: links, lengths and luck for all days at once.
 */
#ifndef BP_RISK_DAY_H
#define BP_RISK_DAY_H

#include "risk/network.h"

enum { BPI_DAYS = 256 };

/* Sums over days; adding two is exact and in any order the same. */
typedef struct bpi_tally {
    uint32_t good;
    uint32_t *held;        /* per due                                                  */
    int64_t *sum;          /* of the moments less the usual                            */
    uint64_t *squares;     /* of the same                                              */
    int32_t *least, *most; /* lateness                                                 */
    uint32_t *bin;         /* BP_RISK_BINS for each due, then of the greatest lateness */
    bp_risk_part *part;    /* per activity                                             */
} bpi_tally;

typedef struct bpi_player {
    const bpi_net *net;
    uint32_t days, width, key0, key1;
    uint32_t first, stride; /* blocks: first, first + stride, ...                      */
    int32_t *start, *end;   /* activities x BPI_DAYS                                    */
    int32_t *length;        /* the same                                                */
    int32_t *luck;          /* groups x BPI_DAYS                                        */
    int32_t *late;          /* dues x BPI_DAYS: lateness                                */
    uint32_t *seen;         /* per activity: number of the day it was last counted on  */
    bpi_tally tally;
} bpi_player;

/* Storage for one player. false: no memory. */
bool bpi_player_init(bpi_player *p, bpi_arena *a, const bpi_net *net);

void bpi_player_run(bpi_player *p);
void bpi_tally_add(bpi_tally *to, const bpi_tally *from, const bp_risk_network *of);

#endif

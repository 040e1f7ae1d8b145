/* src/day/floor.h - where each slot of a day stands.
 *
 * Owns     the state of each appearance; it changes by events alone (day/floor) and is looked at for
 *          a moment (day/look).
 * May use  the public headers.
 * Units    plan time, whole seconds; slot time is seconds since the hit, holds left out.
 */
#ifndef BP_DAY_FLOOR_H
#define BP_DAY_FLOOR_H

#include "backpot/floor.h"

/* A beat that was begun, and at which slot time. */
typedef struct bpi_begun {
    uint32_t beat;
    int64_t from;
} bpi_begun;

typedef struct bpi_floor_air {
    bp_floor_phase phase;
    int64_t late;                   /* the hit is planned so much later             */
    int64_t hit;                    /* moment; once it has come                     */
    int64_t cut;                    /* of the slot                                  */
    int64_t held;                   /* in all holds that are over                   */
    int64_t since;                  /* HELD: moment it began; OFF: moment it ended  */
    uint64_t out;                   /* dropped by hand                              */
    bpi_begun begun[BP_SLOT_BEATS]; /* ascending by beat; the last is on air */
    uint32_t n;
} bpi_floor_air;

struct bp_floor {
    const bp_plan *plan;
    bpi_floor_air *air; /* one each of plan.air */
    uint32_t followed;  /* events taken from the log */
    uint32_t mishaps;   /* of them                   */
};

/* Slot time at a moment; it does not run while held, nor once off air. */
int64_t bpi_floor_slot_time(const bpi_floor_air *a, int64_t now);

#endif

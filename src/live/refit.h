/* src/live/refit.h - what is left of a slot that is under way, fitted anew.
 *
 * Owns     nothing.
 * May use  live/drop, live/fit.
 * Units    whole seconds from the hit; a set of beats is one bit each.
 *
 * Before the hit this is the same choice as live/live makes: of the beats that can still come, the
 * set of greatest worth that fits (live/drop), its lengths by water-filling (live/fit). Under way
 *
 *   done      on air       still to come
 *   |---|x|---|-----*......|......|.....|        * elapsed      x left out: it cannot come any more
 *             | spent
 *
 *   - a beat that was left out is gone, and so is whatever needs it;
 *   - the beat on air stays, and lasts at least what it has lasted;
 *   - a beat that must stay comes even when what it needs is gone: it is called stranded.
 * There is always an answer. When nothing fits exactly, it says by how much: the beats that must
 * stay, at their least, run over; or all there are, at their most, fall short.
 */
#ifndef BP_LIVE_REFIT_H
#define BP_LIVE_REFIT_H

#include <stdbool.h>
#include <stdint.h>

#include "base/error.h"
#include "base/limits.h"

/* A beat as numbers. */
typedef struct bpi_slot_beat {
    int64_t least, likely, most; /* 0 <= least <= likely <= most <= BPI_FIT_MOST      */
    int32_t worth;               /* 0..1000; as a weight of its length at least 1     */
    bool keep;                   /* must stay                                         */
    bool ready;                  /* all it works with is there; if not, it cannot come */
    uint64_t needs;              /* other beats it is nothing without                 */
    int64_t place;               /* as in live/drop: walking there is part of its time */
} bpi_slot_beat;

typedef struct bpi_refit_now {
    uint32_t beat;   /* on air, or next; the number of beats: none is left               */
    bool begun;      /* it is on air                                                     */
    int64_t spent;   /* seconds of it so far; 0 where it has not begun                   */
    int64_t elapsed; /* seconds since the hit, at least `spent`                          */
    int64_t length;  /* of the whole slot, as it is to be now                            */
    uint64_t done;   /* beats before it that were on air; the others before it are gone  */
    uint64_t out;    /* beats not begun that are not to come, whatever they are worth    */
} bpi_refit_now;

typedef struct bpi_refitted {
    int64_t over;      /* seconds past the length; below 0: short of it; 0: exact        */
    uint64_t kept;     /* beats on air now and to come                                   */
    uint64_t stranded; /* of these, those that need a beat that is gone                  */
    int64_t from[BPI_MAX_BEATS]; /* seconds since the hit; 0 where it does not come      */
    int64_t last[BPI_MAX_BEATS]; /* how long it lasts, `spent` counted in                */
} bpi_refitted;

/* Fit the beats from `now` on into what is left of the slot.
 *
 * Errors  BP_EUNSURE (the effort of live/drop ran out), BP_ENOMEM: *out is untouched, nothing is
 *         added to a list.
 */
bp_code bpi_refit(bpi_refitted *out, const bpi_slot_beat *beat, uint32_t n,
                  const bpi_refit_now *now);

#endif

/* src/live/version.h - what a slot becomes at every length: the family of its versions.
 *
 * Owns     the list, in the caller's arena.
 * May use  live/drop, live/refit.
 * Units    whole seconds; a set of beats is one bit each.
 *
 * A version is one choice of beats; it holds for a stretch of lengths, within which the beats grow and
 * shrink (live/fit). Every second from the longest length down to the shortest that still makes
 * sense is worked out by itself: as slots get shorter, a beat may go, and come back for a longer
 * one that goes instead. A length that no choice of beats fills belongs to no version.
 */
#ifndef BP_LIVE_VERSION_H
#define BP_LIVE_VERSION_H

#include <stdint.h>

#include "base/arena.h"
#include "base/error.h"
#include "live/refit.h"

typedef struct bpi_version {
    int64_t least, most; /* the lengths it holds for, both counted in */
    uint64_t kept;
} bpi_version;

/* Work out the versions of these beats, longest first, up to `longest` or what they fill at most. The
 * family ends with the shortest version that still has one of the beats in `sense` (those that show
 * a finished dish); where `sense` is empty, with the shortest that has a beat.
 *
 * Errors  BP_EUNSURE, BP_ENOMEM: nothing is added to a list.
 */
bp_code bpi_version_make(const bpi_version **out, uint32_t *versions, bpi_arena *a,
                         const bpi_slot_beat *beat, uint32_t n, uint64_t sense, int64_t longest);

#endif

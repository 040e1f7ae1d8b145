/* backpot/slot.h - a slot under way: what is left of it, fitted anew.
 *
 * All that is needed stands in the plan: the beats with their bounds and worth, what each hangs on,
 * and which containers are cooked. So a clock on the floor needs no show file.
 *
 * Units   whole seconds from the hit; a set of beats is one bit each, from the first beat of the
 *         appearance, dropped ones counted in.
 */
#ifndef BP_SLOT_H
#define BP_SLOT_H

#include "backpot/plan.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BP_SLOT_BEATS 64 /* most beats of an appearance */

/* Where the slot stands. All zero but `length`: before the hit, and every length can be asked for. */
typedef struct bp_slot_now {
    uint32_t beat; /* of the appearance, from 0: on air, or next; its number of beats: none left */
    bool begun;    /* it is on air: it stays, and lasts at least `spent`                       */
    int64_t spent; /* seconds of it so far; 0 where it has not begun                           */
    int64_t elapsed; /* seconds since the hit, at least `spent`; after a late start, too         */
    int64_t length;  /* of the whole slot, from the hit, as it is to be now                      */
    uint64_t done;   /* beats before `beat` that were on air; the others before it cannot come   */
    uint64_t out;    /* beats not begun that are not to come, whatever they are worth            */
} bp_slot_now;

typedef struct bp_slot_fit {
    int64_t over;      /* seconds past the length; below 0: short of it; 0: it fits exactly     */
    uint64_t kept;     /* beats on air now and to come                                          */
    uint64_t stranded; /* of these: must stay, and yet a beat they need was left out            */
    int64_t from[BP_SLOT_BEATS];   /* seconds since the hit; 0 for a beat that does not come    */
    int64_t length[BP_SLOT_BEATS]; /* how long it lasts in all, `spent` counted in              */
} bp_slot_fit;

/* Fit the beats from now on into what is left: of all that can still come, the set of greatest
 * worth, and lengths as near to the likely ones as that allows. Exact; the same answer as the plan's
 * own for its own slot.
 *
 * There is an answer even when nothing fits: the beats that must stay, at their shortest, with
 * `over` above 0; or everything at its longest with `over` below 0; or the nearest length that has
 * a choice. Containers that no beat of `done` or `kept` works with stay unused (bp_slot_uses).
 * Errors  BP_EVALUE (no such appearance or beat, or times that cannot be: elapsed under spent),
 *         BP_EUNSURE (beats that need each other in a tangle: no best set was proved), BP_ENOMEM;
 *         *out is untouched.
 */
bp_code bp_slot_refit(bp_slot_fit *out, const bp_plan *plan, uint32_t air, const bp_slot_now *now,
                      bp_errors *errs);

/* Which beats find their camera still on its way: late[i] is for how many seconds, 0 for most beats.
 * A camera stays at a beat's station until that beat ends, and must be at the next beat's when the
 * walk to that is over; if the stations differ it takes the beat's `camera_move` between the two.
 * `from` and `length` are those of the beats of `kept`, as in bp_slot_fit. */
void bp_slot_cameras(int64_t late[BP_SLOT_BEATS], const bp_plan *plan, uint32_t air, uint64_t kept,
                     const int64_t from[BP_SLOT_BEATS], const int64_t length[BP_SLOT_BEATS]);

/* What is in the way where only the beats of `kept` come. A container stands with the last of them that
 * worked with it, before that where it was set down for the slot as planned, and is gone after the
 * last. */
typedef struct bp_slot_way {
    uint64_t hot;  /* beats to which somebody walks past a hot container, or brings one along */
    uint64_t full; /* beats while which more stand at a station than it has room for          */
} bp_slot_way;
void bp_slot_ways(bp_slot_way *out, const bp_plan *plan, uint32_t air, uint64_t kept);
/* So many stand, while beat `during` is on, at the station of beat `at`; both counted within the
 * appearance. */
uint32_t bp_slot_stand(const bp_plan *plan, uint32_t air, uint64_t kept, uint32_t during,
                       uint32_t at);

/* Does one of these beats of the container's appearance work with it or show it? */
bool bp_slot_uses(const bp_plan *plan, uint32_t container, uint64_t beats);

#ifdef __cplusplus
}
#endif
#endif

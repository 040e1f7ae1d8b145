/* backpot/floor.h - the floor on the day: where each slot stands, as told by the events of its log.
 *
 * A floor is a plan and the events so far. It holds no clock: every question names the moment it is
 * asked for, so that a slot can be run in a test, in a rehearsal or on air by the same code, and
 * comes back from its log exactly as it was.
 *
 *     BEFORE --hit--> ON --off-air--> OFF        beat, back, drop, keep, cut leave the phase alone;
 *                    |  ^              |         late moves the hit; back from OFF is ON again
 *                  hold go-on         back
 *                    v  |              |
 *                    HELD           -> ON
 *
 * Units   moments are plan time, lengths whole seconds. The time of a slot runs from its hit and
 *         stands still while it is held. A set of beats is a bit each from the appearance's first.
 */
#ifndef BP_FLOOR_H
#define BP_FLOOR_H

#include "backpot/day.h"
#include "backpot/plan.h"
#include "backpot/slot.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bp_floor bp_floor;

/* A day on which nothing has happened yet. The plan must outlive it.
 *
 * Owner   *out is new, release it with bp_floor_free; NULL on failure.
 * Errors  BP_EVALUE (the plan has no appearance), BP_ENOMEM.
 */
bp_code bp_floor_new(bp_floor **out, const bp_plan *plan, bp_errors *errs);
void bp_floor_free(bp_floor *floor); /* NULL does nothing */

/* Can this happen now? Errors: BP_EVALUE says why not: an appearance or a beat that the plan does not
 * have, a beat before the hit, a beat that has gone by, a slot of less than no length. What is so
 * already (a hold while held) is no mistake: two people may press the same key. Events of the
 * kitchen always can. */
bp_code bp_floor_can(const bp_floor *floor, const bp_event *event, bp_errors *errs);

/* Let it happen. Errors: as above; the floor is then as it was. */
bp_code bp_floor_apply(bp_floor *floor, const bp_event *event, bp_errors *errs);

/* Let everything happen that stands in the log and has not yet been taken from it. Errors: as above,
 * with the file and line of the event; those before it have happened. */
bp_code bp_floor_follow(bp_floor *floor, const bp_log *log, bp_errors *errs);

/* Has a mishap been followed that the plan does not know of? Mend the plan (backpot/mend.h), and begin anew
 * with that: beats and slots are the same, containers come at other times. */
bool bp_floor_is_behind(const bp_floor *floor);

typedef enum bp_floor_phase {
    BP_FLOOR_BEFORE,
    BP_FLOOR_ON,
    BP_FLOOR_HELD,
    BP_FLOOR_OFF
} bp_floor_phase;

/* Everything a clock on the floor shows of one appearance. */
typedef struct bp_floor_view {
    int64_t now;
    uint32_t air; /* of plan.air */
    bp_floor_phase phase;
    int64_t hit;       /* when it began; before that, when it is to begin                   */
    int64_t length;    /* of the slot, after every cut                                      */
    int64_t elapsed;   /* of the slot; 0 before the hit                                     */
    int64_t held;      /* how long this hold has lasted                                     */
    uint32_t beat;     /* on air, counted within the appearance; BP_NO_INDEX: none          */
    uint32_t next;     /* comes after it, or first; BP_NO_INDEX: none                       */
    int64_t beat_long; /* what the beat on air has been given                               */
    int64_t beat_left; /* of that; below 0: it runs over                                    */
    int64_t drift;     /* over what is planned for the beats left, at the planned lengths:
                          above 0 so much must be made up, below 0 so much can be given     */
    uint64_t done;     /* beats that were on air before                                     */
    uint64_t out;      /* not to come, as somebody said                                     */
    uint64_t gone;     /* neither done nor said to be out, and cannot come or do not fit    */
    bp_slot_fit fit;   /* the beats on air and to come; fit.over above 0: even the shortest
                          version runs over by so much                                      */
    uint32_t spoils;   /* of plan.container: comes later than it keeps; BP_NO_INDEX: none   */
    int64_t spoils_at; /* when it is past its best, or no longer safe                       */
    bool unsafe;       /* the latter                                                        */
    int64_t camera_late[BP_SLOT_BEATS]; /* of beats on air and to come: seconds for which their
                                           camera is still on its way, as bp_slot_cameras      */
    bp_slot_way way;                    /* of all beats done, on air and to come               */
} bp_floor_view;

/* How things stand at a moment, for the appearance that is on or comes next; a minute after one is
 * off air the one after it is shown.
 * Errors  BP_EUNSURE, BP_ENOMEM, as bp_slot_refit. */
bp_code bp_floor_look(bp_floor_view *v, const bp_floor *f, int64_t now, bp_errors *errs);

/* Containers that come on with a beat, or go off after it, as things stand: those of plan.container
 * whose first, or last, beat done or to come it is. Returns how many; at most `room` are put. */
uint32_t bp_floor_comes(uint32_t *list, uint32_t room, const bp_floor *floor,
                        const bp_floor_view *view, uint32_t beat);
uint32_t bp_floor_goes(uint32_t *list, uint32_t room, const bp_floor *floor,
                       const bp_floor_view *view, uint32_t beat);

#ifdef __cplusplus
}
#endif
#endif

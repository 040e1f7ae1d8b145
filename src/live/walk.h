/* src/live/walk.h - which containers the beats of a slot work with, and which beats they share.
 *
 * Owns     nothing.
 * May use  model/, live/live.h.
 * Units    whole seconds; sets are a bit per beat of the slot or per step of the recipe.
 *
 * A beat needs its dish in one state, an exact set of steps: all that must come before the steps it
 * does, or raw, or after a step and all before it. The container of the dish that is in this state
 * when the beat comes goes on; if there is none, one is cooked ahead to that state. Everything is
 * judged at the least lengths, so that a beat cut short still works:
 *
 *   - an active step done on air is complete if its time fits the least length of its beat;
 *   - an unattended step begun last in a beat runs from the end of that beat, and is complete if
 * its time passes in the least lengths of the beats until the dish comes back, and if at their most
 *     it is not overdone: past its doneness window, or, without one, past its time and its hold on
 *     the set;
 *   - a step that is not complete is only shown, and whatever needs it done gets another container.
 *
 * (An uncertain step takes its likely time, any other its least.) A beat that goes on with a
 * container has the beats that brought it there as needs, so the same containers serve every
 * shorter version of the slot.
 */
#ifndef BP_LIVE_WALK_H
#define BP_LIVE_WALK_H

#include <stdint.h>

#include "live/live.h"
#include "model/show.h"

/* Why a container is not simply the one before. */
typedef enum bpi_why {
    BPI_WHY_RAW,   /* it starts the dish from its measured ingredients               */
    BPI_WHY_AHEAD, /* `step` comes before, and no beat shows it                      */
    BPI_WHY_SHORT, /* `step` was begun in beat `from` and is not done by beat `until` */
    BPI_WHY_LONG,  /* `step` would be overdone by then                               */
    BPI_WHY_BACK   /* the container before is past this state                        */
} bpi_why;

/* One container on air. */
typedef struct bpi_chain {
    uint32_t dish;
    uint64_t steps; /* done ahead                */
    uint64_t beats; /* that work with it         */
    bpi_why why;
    uint32_t step;        /* BPI_NO_INDEX: none   */
    uint32_t from, until; /* with SHORT and LONG  */
} bpi_chain;

/* Find the containers of all dishes, in order of the beat that first needs each. `chain` has room
 * for `beats`; beats outside `kept` are not on air. `needs[i]` gets the beats without which beat i
 * would need another container (to be added to its own needs). Only least and most of `fitted` are
 * read. Beats that show the finished dish work with the beauty, which is not among the chains.
 * Returns the number of chains. */
uint32_t bpi_walk(bpi_chain *chain, uint64_t *needs, const bpi_recipe *recipe,
                  const bpi_segment *segment, const bpi_beat *beat, const bpi_fitted *fitted,
                  uint32_t beats, uint64_t kept);

/* What a beat needs of its dish: true with the steps that must be done; false: nothing. */
bool bpi_walk_needs(uint64_t *steps, const bpi_recipe *recipe, const bpi_beat *beat);

/* Time a step is given when it is done on air. */
int64_t bpi_walk_time(const bpi_step *step);

#endif

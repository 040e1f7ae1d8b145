/* src/live/stage.h - every container that one appearance wants, with its times and its reason.
 *
 * Owns     nothing; what it makes lives in the arena.
 * May use  model/, live/live.h, live/walk, live/swaps.
 * Units    plan time and whole seconds.
 *
 * Beside the containers that the beats work with (live/walk) these are: for each dish its beauty,
 * the finished dish, which stands there whether a beat shows it or not; a hero for a tease that the
 * beauty cannot stand through; a finished dish to eat of; and the spares asked for, one of each
 * state that the dish is wanted in.
 */
#ifndef BP_LIVE_STAGE_H
#define BP_LIVE_STAGE_H

#include <stdint.h>

#include "base/arena.h"
#include "base/error.h"
#include "live/live.h"
#include "live/walk.h"
#include "model/show.h"

/* Fill in air->swap, swaps and portions from the chains; its beats are fitted.
 *
 * Errors  BP_ENOMEM; BP_ELIMIT (more than BPI_MAX_SWAPS).
 */
bp_code bpi_stage_make(bpi_air *air, bpi_arena *a, const bpi_show *show, const bpi_chain *chain,
                       uint32_t chains, bp_errors *errs);

/* Hosts, tasters and one more; 0: nobody eats. */
uint32_t bpi_stage_portions(const bpi_segment *segment);

/* The hit that a tease belongs to: the first one from it on, or the last of all. */
uint32_t bpi_stage_tease_hit(const bpi_segment *segment, const bpi_tease *tease);

/* The quarters of a recipe that serve so many, at least one, in lowest terms. */
bpi_ratio bpi_stage_quarters(uint32_t portions, uint32_t serves);

/* How long a container in this state may stand on the set: the least hold of its last steps. */
int64_t bpi_stage_hold_set(const bpi_recipe *recipe, uint64_t steps);

#endif

/* src/out/cut.h - what becomes of a slot when it loses time: before the hit, or on air.
 *
 * Owns     the losses that are asked about where nobody names others.
 * May use  backpot/slot.h, base/; reads the plan.
 * Units    whole seconds.
 *
 * The cue sheet and `backpot lengths` tell the same from it.
 */
#ifndef BP_OUT_CUT_H
#define BP_OUT_CUT_H

#include "backpot/slot.h"
#include "base/arena.h"
#include "base/error.h"

#define BPI_CUTS 4 /* most losses side by side */

/* Losses that leave something of the slot. */
typedef struct bpi_losses {
    int64_t loss[BPI_CUTS]; /* above 0: that much is lost; below 0: gained */
    uint32_t n;
} bpi_losses;

/* 0:30, 1:00 and 1:30: common practice, no source. */
bpi_losses bpi_cut_usual(const bp_air *air);

/* The slot with `loss` less, told when beat `at` of the appearance is to begin (not begun; 0: before
 * the hit; those dropped count). Errors: BP_ENOMEM, BP_EUNSURE. */
bp_code bpi_cut_make(bp_slot_fit *out, const bp_plan *plan, uint32_t air, uint32_t at, int64_t loss,
                     bp_errors *errs);

/* The beats before `at` that are on air as planned. */
uint64_t bpi_cut_done(const bp_plan *plan, uint32_t air, uint32_t at);

/* Is it one at whose start a floor may be told: on air, and not the first? */
bool bpi_cut_is_boundary(const bp_plan *plan, uint32_t air, uint32_t at);

/* What goes, for a cell: "as planned", "all stay" (shorter), "out: 4, 6", "out: 4; 0:12 over". Beats are
 * numbered from 1. NULL: no memory. */
const char *bpi_cut_text(bpi_arena *a, const bp_plan *plan, uint32_t air, uint32_t at,
                         const bp_slot_fit *fit);

/* What is in the way with these beats and is not as planned: "hot in the way to 5; stove holds 4, has
 * room for 3", each station that is too full; "" nothing. NULL: no memory. */
const char *bpi_cut_way(bpi_arena *a, const bp_plan *plan, uint32_t air, uint64_t beats);

/* Codes of the containers that beats were to work with and now do not: "A2 B1"; "" none. NULL: no
 * memory. */
const char *bpi_cut_unused(bpi_arena *a, const bp_plan *plan, uint32_t air, uint64_t beats);

#endif

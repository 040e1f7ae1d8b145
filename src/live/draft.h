/* src/live/draft.h - beats for a slot that names none, from how its recipes are shown.
 *
 * Owns     the usual lengths of a welcome, a reveal, a tasting and a close.
 * May use  model/, live/drop, live/propose, live/stage, live/station.
 * Units    whole seconds.
 *
 * The slot opens; then, dish by dish, come the steps that have an "air" part, in the order of the
 * recipe, as far as the slot has room, those most worth seeing first (live/drop), and the finished
 * dish; then everybody eats, if anybody does; and it closes. A step is shown at the station that its
 * recipe names, else where the one before it is; all else happens at the first of the row.
 */
#ifndef BP_LIVE_DRAFT_H
#define BP_LIVE_DRAFT_H

#include <stdint.h>

#include "base/arena.h"
#include "base/error.h"
#include "live/live.h"
#include "live/propose.h"
#include "model/show.h"

/* Propose beats. When no choice of them fills the slot, *out is what the drafting chose from, for a
 * clash to be told about.
 *
 * Owner   *out lives in `a`; texts are those of the show where they are the same.
 * Errors  BP_ENOMEM, BP_EUNSURE, BP_ELIMIT (more than BPI_MAX_BEATS to choose from), BP_ENOFIT (a choice
 *         fills the slot, but none as "draft" of the segment wants it: nothing is added to the list).
 */
bp_code bpi_draft(const bpi_beat **out, uint32_t *beats, bpi_arena *a, const bpi_show *show,
                  const bpi_segment *segment, bp_errors *errs);

/* The drafts of a slot that differ in what they ask of the kitchen, best first: at most `most`, up to
 * BPI_PROPOSE_MOST. `within` has the limits, of which "take" is not looked at.
 *
 * Errors  BP_ENOFIT (none; nothing is added to the list), and as above.
 */
bp_code bpi_draft_list(bpi_proposal *out, uint32_t *n, uint32_t most, const bpi_show *show,
                       const bpi_segment *segment, const bpi_drafting *within, bp_errors *errs);

#endif

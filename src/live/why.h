/* src/live/why.h - why a container exists, in the words of the show.
 *
 * Owns     nothing.
 * May use  model/, live/walk, base/span.
 *
 * Beats are numbered from 1 in the order of the segment, dropped ones counted in, so that a number
 * means the same beat on every paper. Example: "the simmer takes 15 min, beat 3 gives it 40 s".
 */
#ifndef BP_LIVE_WHY_H
#define BP_LIVE_WHY_H

#include "base/text.h"
#include "live/live.h"
#include "live/walk.h"

void bpi_why_chain(bpi_text *out, const bpi_air *air, const bpi_recipe *recipe,
                   const bpi_chain *chain);

#endif

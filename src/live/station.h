/* src/live/station.h - where on the set beats happen and containers stand.
 *
 * Owns     nothing.
 * May use  model/, live/live.h, live/drop.
 * Units    whole seconds; indices as in live/live.h.
 *
 * A container stands at the station of the beat that first works with it, goes along to that of each
 * further beat, and is taken away after its last. One that no beat works with stands at none.
 */
#ifndef BP_LIVE_STATION_H
#define BP_LIVE_STATION_H

#include <stdbool.h>
#include <stdint.h>

#include "live/live.h"
#include "model/show.h"

/* Seconds along the row of stations; 0 where the beat has none. */
int64_t bpi_station_place(const bpi_segment *segment, const bpi_beat *beat);

/* The farthest that anybody has to walk to beat i, from those of `set` before it. */
int64_t bpi_station_farthest(const bpi_segment *segment, const bpi_beat *beat, uint64_t set,
                             uint32_t i);

/* The station at which a container stands while beat `beat`, which is kept, is on air; BPI_NO_INDEX: at
 * none, or no more. */
uint32_t bpi_station_of(const bpi_air *air, const bpi_swap *swap, uint32_t beat);

/* The most containers that stand at a station at once, and in which beat first. */
uint32_t bpi_station_most(uint32_t *beat, const bpi_air *air, uint32_t station);

/* The station that a container is set at: the first that a beat which works with it names; "": none. */
const char *bpi_station_name(const bpi_air *air, const bpi_swap *swap);

/* Its place in the order in which the set is dressed, from 0; what no entry names comes after all that one
 * does. BPI_NO_INDEX: in none, for the segment asks for no order, or a tease shows it. */
uint32_t bpi_station_dress(const bpi_segment *segment, const bpi_air *air, const bpi_swap *swap);

/* Was it on a burner or in an oven, ahead or on air up to this beat (BPI_NO_INDEX: ahead), and not
 * cooled since? */
bool bpi_station_hot(const bpi_recipe *recipe, const bpi_air *air, const bpi_swap *swap,
                     uint32_t beat);

#endif

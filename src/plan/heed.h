/* src/plan/heed.h - findings and readings of a plan as they grow.
 *
 * Owns     their lists, in the plan's arena; who is allergic to what they eat; which stops are accepted.
 * May use  plan/fill, safety/, model/, base/.
 *
 * Running out of memory is a mark of the fill.
 */
#ifndef BP_PLAN_HEED_H
#define BP_PLAN_HEED_H

#include "plan/fill.h"
#include "safety/path.h"

typedef struct bpi_heed {
    bpi_fill *f;
    void *finding, *reading;
    size_t findings, room, readings, reading_room;
} bpi_heed;

/* Heaviest first; equal ones as they come. */
void bpi_heed_finding(bpi_heed *h, const bp_finding *x);

/* Hosts and tasters who are allergic to what is in container `box`, if they eat of it. */
void bpi_heed_eaters(bpi_heed *h, uint32_t box);

/* The readings of `n` containers by moment, one row for what is one reading of several; before them
 * raw animal food as it is received. */
void bpi_heed_readings(bpi_heed *h, const bpi_path_result *result, uint32_t n);

/* Tools and vessels that more is needed of at one time than there is. */
void bpi_heed_gear(bpi_heed *h);

/* What each circuit carries at most, and who answers for it. */
void bpi_heed_power(bpi_heed *h);

/* Mark the stops that the show accepts; what is left stops the plan. */
void bpi_heed_accepted(bpi_heed *h);

#endif

/* src/model/thermal.h - how fast food cools, by a simple published model.
 *
 * Owns     the arithmetic, in whole numbers: the same answer on every machine.
 * May use  base/, model/show.
 * Units    thousandths of a degree Celsius; whole seconds, rounded up; a rate constant k counts
 *          picoseconds^-1: 1e12 of it are one a second. Depths are micrometres.
 *
 * Cooling. Newton's law, T(t) = A + (T0 - A) exp(-k t): one temperature for the whole of the food and
 * surroundings A that stay as they are. k comes from a reading, k = ln((T0 - A) / (T1 - A)) / t1, or for
 * a layer that gives heat off on two faces from k = 2 h / (rho c depth) (the lumped model).
 *
 * Where a step says down to what it cools, its time is worked out so. The depth says it all: more food at
 * the same depth is a wider pan, or one more, and takes no longer.
 *
 * Limits of the model. It is right for what is stirred, or thin; what is thick and still is warmer in
 * its middle. Lids, crowded shelves and a warm refrigerator slow it. It decides whether a plan may be
 * printed, never whether food is safe: the probe does.
 *
 * Source   Newton's law and readings: OpenStax Calculus and Algebra, as the tests name them. Heat
 *          transfer coefficients: Berk, Food Process Engineering and Technology, Table 3.3 (still air
 *          10, still liquid 100, moving air 50 to 100 W/m2K). Heat capacity of pea soup 4.10 kJ/kgK:
 *          Geankoplis, Transport Processes, Table A.4-1; density of water.
 */
#ifndef BP_MODEL_THERMAL_H
#define BP_MODEL_THERMAL_H

#include <stdint.h>

#include "model/show.h"

#define BPI_THERMAL_NEVER INT64_MAX
#define BPI_THERMAL_MOST  (INT64_C(30) * 86400) /* s: what takes longer never happens in a kitchen */

/* W/m2K by what is around the food. */
#define BPI_THERMAL_STILL_AIR  10
#define BPI_THERMAL_MOVING_AIR 50
#define BPI_THERMAL_WATER      100

/* Natural logarithm of num/den in thousand-millionths; num >= den > 0, both below 2^33. */
int64_t bpi_thermal_ln(int64_t num, int64_t den);

/* exp(-x) in thousand-millionths, for x >= 0 in thousand-millionths. */
int64_t bpi_thermal_exp(int64_t x);

/* k from a reading: `from` became `then` after `seconds` in `around`. 0: the reading says nothing (it
 * did not come nearer to `around`, or passed it, or no time went by). */
int64_t bpi_thermal_rate(int32_t from, int32_t then, int32_t around, int64_t seconds);

/* k of a layer `depth_um` thick that gives off `h` W/m2K on two faces; depth above 0. */
int64_t bpi_thermal_layer(int64_t depth_um, int32_t h);

/* W/m2K around the food. */
int32_t bpi_thermal_coefficient(bpi_cool_in in);

/* k of what a step says: by its reading, where there is one, else by its depth. */
int64_t bpi_thermal_of(const bpi_cool *how);

/* The thickest layer with at least that k; k above 0. */
int64_t bpi_thermal_depth(int64_t k, int32_t h);

/* Temperature after `seconds`. */
int32_t bpi_thermal_after(int32_t from, int32_t around, int64_t k, int64_t seconds);

/* Seconds until it is at `to`, rounded up; 0 where it is there already, or beyond on the side of
 * `around`; BPI_THERMAL_NEVER: not within BPI_THERMAL_MOST. */
int64_t bpi_thermal_until(int32_t from, int32_t to, int32_t around, int64_t k);

#endif

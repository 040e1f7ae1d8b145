/* src/model/heating.h - how long it takes to heat food, by its heat capacity and the power put in.
 *
 * Owns     the arithmetic, in whole numbers: the same answer on every machine.
 * May use  model/show.
 * Units    milligrams; thousandths of a degree Celsius; whole seconds, rounded up.
 *
 *              P t = m c (T1 - T0)
 *
 * Limits of the model. Of the watts that are put in, a stated share reaches the food, the same from
 * the first minute to the last; what the pot itself takes, and what a pot without its lid gives off,
 * is in that share. The food is stirred, or thin. Nothing boils away, and nothing freezes or thaws.
 * The time ends when the food is there, not when it is done.
 *
 * Source   heat capacities: Geankoplis, Transport Processes and Separation Process Principles, 4th ed.,
 *          Table A.4-1. Published examples and tests: tests/model/test_heating.c.
 */
#ifndef BP_MODEL_HEATING_H
#define BP_MODEL_HEATING_H

#include <stdint.h>

#include "model/show.h"

#define BPI_HEATING_MOST (INT64_C(30) * 86400) /* s: nothing is heated for so long */

/* J/kgK of a food, by a name that "of" may have; its number is bpi_heating.of. */
typedef struct bpi_heating_food {
    const char *name;
    int32_t c;
} bpi_heating_food;
extern const bpi_heating_food bpi_heating_foods[]; /* a NULL name ends it */

#define BPI_HEATING_HEAVIEST INT64_C(5000000000) /* mg: 5 t; more takes BPI_HEATING_MOST */

/* Mass of what is in a container of that size, rounded up. */
int64_t bpi_heating_mass(const bpi_heating *h, bpi_ratio size);

/* Seconds to heat so much of it, up to BPI_HEATING_MOST; watts and percent above 0. */
int64_t bpi_heating_seconds(const bpi_heating *h, int64_t mass_mg);

#endif

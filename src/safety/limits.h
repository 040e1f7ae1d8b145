/* src/safety/limits.h - published limits for food that needs time or temperature control.
 *
 * Owns     the table; static text.
 * May use  base/, model/.
 * Units    temperatures both as the Code prints them (whole °C, whole °F) and, for comparing, in
 *          thousandths of a degree Celsius; times are whole seconds.
 * Source   FDA Food Code, 2017 and 2022 editions. The federal text was not at hand: each row says
 *          where it was read, a state code that carries the federal wording under its own number,
 *          or that it is from memory. The Code rounds: 135 °F stands beside 57 °C, which is
 *          134.6 °F. Neither is worked out from the other here.
 */
#ifndef BP_SAFETY_LIMITS_H
#define BP_SAFETY_LIMITS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/text.h"
#include "model/show.h"

typedef enum bpi_limit_id {
    BPI_LIMIT_COOK_WHOLE,   /* whole-muscle meat, fish, eggs to order         */
    BPI_LIMIT_COOK_GROUND,  /* ground meat, eggs for a group                  */
    BPI_LIMIT_COOK_POULTRY, /* poultry, stuffed food                          */
    BPI_LIMIT_COOK_PLANT,   /* fruit and vegetables cooked for hot holding    */
    BPI_LIMIT_REHEAT,       /* cooked, cooled, heated again for hot holding   */
    BPI_LIMIT_REHEAT_TIME,  /* at most so long from cold to the above         */
    BPI_LIMIT_COOL_FIRST,   /* 57 °C to this within this                      */
    BPI_LIMIT_COOL_ALL,     /* 57 °C to this within this, in all              */
    BPI_LIMIT_HOLD_HOT,     /* at or above                                    */
    BPI_LIMIT_HOLD_COLD,    /* at or below                                    */
    BPI_LIMIT_DATE_MARK,    /* ready-to-eat, kept cold for longer             */
    BPI_LIMIT_KEEP_COLD,    /* ready-to-eat, kept cold: at most               */
    BPI_LIMIT_UNCONTROLLED, /* time alone as the control: at most             */
    BPI_LIMITS
} bpi_limit_id;

typedef struct bpi_limit {
    const char *what;
    int16_t celsius, fahrenheit; /* as printed; BPI_NO_DEGREES: the rule states no temperature */
    int64_t seconds;             /* 0: the rule states no time, or an instant                  */
    const char *rule;            /* "FDA Food Code 3-501.19(B)"                                */
    const char *seen;            /* where the row was read                                     */
} bpi_limit;

#define BPI_NO_DEGREES INT16_MIN

const bpi_limit *bpi_limit_of(bpi_limit_id id);

/* The least core temperature for a kind of food; NULL: BPI_FOOD_OTHER, for which none is published.
 */
const bpi_limit *bpi_limit_cook(bpi_food food);

/* Is `temp_mC` at or above what is printed, in whichever of the two units it is the lower? A show
 * that says 165 F (73.889 °C) meets a limit printed as 74 °C (165 °F), and so does 74 C. */
bool bpi_limit_reached(const bpi_limit *limit, int32_t temp_mC);

void bpi_limit_put(bpi_text *out, const bpi_limit *limit); /* "74 °C (165 °F)"              */
void bpi_temp_put(bpi_text *out, int32_t temp_mC);         /* "73.9 °C (165 °F)", rounded   */

#endif

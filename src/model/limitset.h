/* src/model/limitset.h - one jurisdiction's limits for food that needs time or temperature control.
 *
 * Owns     the names of the limits, and the sets that are built in (model/limits/NAME.json).
 * May use  base/. Reading is model/readlimits.
 * Units    temperatures as printed, in thousandths of a degree Celsius; times are whole seconds.
 *
 * A set is one JSON object, built in or named by a show file:
 *
 *     {"backpot_limits": 1, "id": "harbour-town", "title": "Harbour Town by-law 12",
 *      "base": "us-food-code",
 *      "rows": [{"limit": "hold hot", "celsius": "60 C", "fahrenheit": "140 F",
 *                "rule": "By-law 12, section 4", "source": "the by-law as posted in 2026"}]}
 *
 * With "base", a built-in set stands wherever the object has no row of that limit; without it, every
 * limit must have one, but for those marked optional. Several rows of one cooking limit are
 * alternatives: another temperature for another time. Every row says its rule and where it was read.
 * A code may print °C and °F that are not the same to the degree: neither is worked out from the other.
 */
#ifndef BP_MODEL_LIMITSET_H
#define BP_MODEL_LIMITSET_H

#include <stdint.h>

/* number, name in a file; must a row state a temperature, a time; may a set lack it */
#define BPI_LIMIT_NAMES(X)                                                                         \
    X(BPI_LIMIT_COOK_WHOLE, "cook whole meat", true, false, false)                                 \
    X(BPI_LIMIT_COOK_GROUND, "cook ground", true, false, false)                                    \
    X(BPI_LIMIT_COOK_POULTRY, "cook poultry", true, false, false)                                  \
    X(BPI_LIMIT_COOK_ROAST, "cook roast", true, false, true)                                       \
    X(BPI_LIMIT_COOK_PLANT, "cook plant", true, false, true)                                       \
    X(BPI_LIMIT_REHEAT, "reheat", true, false, false)                                              \
    X(BPI_LIMIT_REHEAT_PACKAGED, "reheat packaged", true, false, true)                             \
    X(BPI_LIMIT_REHEAT_TIME, "reheat time", false, true, true)                                     \
    X(BPI_LIMIT_RECEIVE_COLD, "receive cold", true, false, true)                                   \
    X(BPI_LIMIT_RECEIVE_EGGS, "receive eggs", true, false, true)                                   \
    X(BPI_LIMIT_RECEIVE_HOT, "receive hot", true, false, true)                                     \
    X(BPI_LIMIT_THAW_COLD, "thaw cold", true, false, true)                                         \
    X(BPI_LIMIT_THAW_WATER, "thaw in water", true, true, true)                                     \
    X(BPI_LIMIT_COOL_FROM, "cool from", true, false, false)                                        \
    X(BPI_LIMIT_COOL_FIRST, "cool first", true, true, false)                                       \
    X(BPI_LIMIT_COOL_ALL, "cool all", true, true, false)                                           \
    X(BPI_LIMIT_COOL_UNHEATED, "cool unheated", true, true, true)                                  \
    X(BPI_LIMIT_HOLD_HOT, "hold hot", true, false, false)                                          \
    X(BPI_LIMIT_HOLD_ROAST, "hold hot roast", true, false, true)                                   \
    X(BPI_LIMIT_HOLD_COLD, "hold cold", true, false, false)                                        \
    X(BPI_LIMIT_DATE_MARK, "date mark", false, true, true)                                         \
    X(BPI_LIMIT_KEEP_COLD, "keep cold", false, true, true)                                         \
    X(BPI_LIMIT_UNCONTROLLED, "uncontrolled", false, true, false)                                  \
    X(BPI_LIMIT_APART, "apart", false, false, true)

#define BPI_AS_ENUM(number, name, temp, time, optional) number,
typedef enum bpi_limit_id { BPI_LIMIT_NAMES(BPI_AS_ENUM) BPI_LIMITS } bpi_limit_id;
#undef BPI_AS_ENUM

typedef struct bpi_limit {
    int32_t celsius, fahrenheit; /* as printed in each, both in thousandths of a degree Celsius;
                                    equal where a row has one of them; BPI_NO_TEMP: none        */
    int64_t seconds;             /* 0: no time is stated, or an instant                         */
    const char *rule;            /* "FDA Food Code 3-501.19(B)"                                 */
    const char *source;          /* where the row was read                                      */
} bpi_limit;

typedef struct bpi_limits {
    const char *id, *title;
    const bpi_limit *row[BPI_LIMITS]; /* the first of each */
    uint32_t rows[BPI_LIMITS]; /* 0: the set has none; always above 0 for what is not optional */
} bpi_limits;

/* A set that is built in. */
typedef struct bpi_limit_file {
    const char *name;
    const unsigned char *bytes; /* JSON, without a NUL */
    uint32_t len;
} bpi_limit_file;
extern const bpi_limit_file bpi_limit_files[];
extern const uint32_t bpi_limit_file_count;

#define BPI_LIMITS_DEFAULT "us-food-code"

#endif

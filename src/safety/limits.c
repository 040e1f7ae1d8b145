#include "safety/limits.h"

#include <inttypes.h>

const bpi_limit *bpi_limit_of(const bpi_limits *set, bpi_limit_id id)
{
    return set->rows[id] ? set->row[id] : NULL;
}

bpi_limit_id bpi_limit_cook(bpi_food food)
{
    switch (food) {
    case BPI_FOOD_WHOLE_MEAT:
        return BPI_LIMIT_COOK_WHOLE;
    case BPI_FOOD_GROUND:
        return BPI_LIMIT_COOK_GROUND;
    case BPI_FOOD_POULTRY:
        return BPI_LIMIT_COOK_POULTRY;
    case BPI_FOOD_ROAST:
        return BPI_LIMIT_COOK_ROAST;
    case BPI_FOOD_REHEATED:
        return BPI_LIMIT_REHEAT;
    case BPI_FOOD_PACKAGED:
        return BPI_LIMIT_REHEAT_PACKAGED;
    case BPI_FOOD_PLANT:
        return BPI_LIMIT_COOK_PLANT;
    case BPI_FOOD_OTHER:
        break;
    }
    return BPI_LIMITS;
}

const bpi_limit *bpi_limit_named(const bpi_limits *set, bpi_limit_id id)
{
    if (id >= BPI_LIMITS || set->rows[id] == 0)
        return NULL;
    for (uint32_t i = 0; i < set->rows[id]; i++)
        if (set->row[id][i].seconds <= BPI_LIMIT_PROBE)
            return &set->row[id][i];
    return set->row[id];
}

/* What was read from °F was rounded to a thousandth of °C, hence the one to spare. */
bool bpi_limit_reached(const bpi_limit *limit, int32_t temp_mC)
{
    return temp_mC >= limit->celsius || temp_mC + 1 >= limit->fahrenheit;
}

bool bpi_limit_below(const bpi_limit *limit, int32_t temp_mC)
{
    return temp_mC <= limit->celsius || temp_mC <= limit->fahrenheit + 1;
}

bool bpi_limit_cooked(const bpi_limits *set, bpi_limit_id id, int32_t core_mC, int64_t held)
{
    int64_t time = held > BPI_LIMIT_PROBE ? held : BPI_LIMIT_PROBE;
    if (id >= BPI_LIMITS || core_mC == BPI_NO_TEMP)
        return false;
    for (uint32_t i = 0; i < set->rows[id]; i++)
        if (bpi_limit_reached(&set->row[id][i], core_mC) && set->row[id][i].seconds <= time)
            return true;
    return false;
}

static int64_t rounded(int64_t n, int64_t by)
{
    return (n >= 0 ? n + by / 2 : n - by / 2) / by;
}

static void put_tenths(bpi_text *out, int64_t tenth)
{
    uint64_t size = (uint64_t)(tenth < 0 ? -tenth : tenth);
    bpi_text_f(out, "%s%" PRIu64, tenth < 0 ? "-" : "", size / 10);
    if (size % 10)
        bpi_text_f(out, ".%" PRIu64, size % 10);
}

static int64_t in_fahrenheit(int32_t mC)
{
    return rounded(mC * INT64_C(9), 5000) + 32;
}

void bpi_limit_put(bpi_text *out, const bpi_limit *limit)
{
    put_tenths(out, rounded(limit->celsius, 100));
    bpi_text_f(out, " °C (%" PRId64 " °F)", in_fahrenheit(limit->fahrenheit));
}

void bpi_temp_put(bpi_text *out, int32_t temp_mC)
{
    put_tenths(out, rounded(temp_mC, 100));
    bpi_text_f(out, " °C (%" PRId64 " °F)", in_fahrenheit(temp_mC));
}

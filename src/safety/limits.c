#include "safety/limits.h"

#include <inttypes.h>

#define VA_700 "Virginia 12VAC5-421-700, which carries the wording of 2017"
#define DE(n)  "Delaware 16 Del. Admin. Code " n
#define MEMORY "from memory"

static const bpi_limit limits[BPI_LIMITS] = {
    [BPI_LIMIT_COOK_WHOLE] = {"whole meat, fish, eggs to order: core", 63, 145, 15,
                              "FDA Food Code 3-401.11(A)(1)", VA_700},
    [BPI_LIMIT_COOK_GROUND] = {"ground meat or fish, eggs for a group: core", 68, 155, 17,
                               "FDA Food Code 3-401.11(A)(2)", VA_700},
    [BPI_LIMIT_COOK_POULTRY] = {"poultry, stuffed food: core", 74, 165, 0,
                                "FDA Food Code 3-401.11(A)(3)", VA_700},
    [BPI_LIMIT_COOK_PLANT] = {"fruit and vegetables cooked for hot holding", 57, 135, 0,
                              "FDA Food Code 3-401.13", MEMORY},
    [BPI_LIMIT_REHEAT] = {"cooked, cooled and heated again for hot holding: core", 74, 165, 15,
                          "FDA Food Code 3-403.11(A)", DE("3-403.11")},
    [BPI_LIMIT_REHEAT_TIME] = {"from cold keeping to the reheating temperature", BPI_NO_DEGREES,
                               BPI_NO_DEGREES, INT64_C(2) * 3600, "FDA Food Code 3-403.11(D)",
                               DE("3-403.11")},
    [BPI_LIMIT_COOL_FIRST] = {"cooling from 57 °C (135 °F), first part: down to", 21, 70,
                              INT64_C(2) * 3600, "FDA Food Code 3-501.14(A)(1)", DE("3-501.14")},
    [BPI_LIMIT_COOL_ALL] = {"cooling from 57 °C (135 °F), in all: down to", 5, 41,
                            INT64_C(6) * 3600, "FDA Food Code 3-501.14(A)(2)", DE("3-501.14")},
    [BPI_LIMIT_HOLD_HOT] = {"hot holding: at or above", 57, 135, 0, "FDA Food Code 3-501.16(A)(1)",
                            "Wisconsin ATCP 75 Appendix 3-501.16"},
    [BPI_LIMIT_HOLD_COLD] = {"cold holding: at or below", 5, 41, 0, "FDA Food Code 3-501.16(A)(2)",
                             "Wisconsin ATCP 75 Appendix 3-501.16"},
    [BPI_LIMIT_DATE_MARK] = {"ready-to-eat, kept cold for longer: date mark", 5, 41,
                             INT64_C(24) * 3600, "FDA Food Code 3-501.17(A)",
                             "Virginia 12VAC5-421-830"},
    /* The day of preparation is day 1, so the last of 7 days begins 6 days after. */
    [BPI_LIMIT_KEEP_COLD] = {"ready-to-eat, kept cold: at most, the first day counted", 5, 41,
                             INT64_C(7) * 24 * 3600, "FDA Food Code 3-501.17(A)",
                             "Virginia 12VAC5-421-830"},
    [BPI_LIMIT_UNCONTROLLED] = {"without temperature control: at most", BPI_NO_DEGREES,
                                BPI_NO_DEGREES, INT64_C(4) * 3600, "FDA Food Code 3-501.19(B)",
                                DE("3-501.19")},
};

const bpi_limit *bpi_limit_of(bpi_limit_id id)
{
    return &limits[id];
}

const bpi_limit *bpi_limit_cook(bpi_food food)
{
    switch (food) {
    case BPI_FOOD_WHOLE_MEAT:
        return &limits[BPI_LIMIT_COOK_WHOLE];
    case BPI_FOOD_GROUND:
        return &limits[BPI_LIMIT_COOK_GROUND];
    case BPI_FOOD_POULTRY:
        return &limits[BPI_LIMIT_COOK_POULTRY];
    case BPI_FOOD_REHEATED:
        return &limits[BPI_LIMIT_REHEAT];
    case BPI_FOOD_PLANT:
        return &limits[BPI_LIMIT_COOK_PLANT];
    case BPI_FOOD_OTHER:
        break;
    }
    return NULL;
}

bool bpi_limit_reached(const bpi_limit *limit, int32_t temp_mC)
{
    /* 9 x thousandths of °C against 5 x thousandths of °F, so that nothing is rounded; what was
     * read from °F was itself rounded to a thousandth of °C, hence the one to spare. */
    return temp_mC >= limit->celsius * 1000 ||
           INT64_C(9) * (temp_mC + 1) > INT64_C(5000) * (limit->fahrenheit - 32);
}

void bpi_limit_put(bpi_text *out, const bpi_limit *limit)
{
    bpi_text_f(out, "%d °C (%d °F)", limit->celsius, limit->fahrenheit);
}

static int64_t rounded(int64_t n, int64_t by)
{
    return (n >= 0 ? n + by / 2 : n - by / 2) / by;
}

void bpi_temp_put(bpi_text *out, int32_t temp_mC)
{
    int64_t tenth = rounded(temp_mC, 100);
    uint64_t size = (uint64_t)(tenth < 0 ? -tenth : tenth);
    bpi_text_f(out, "%s%" PRIu64, tenth < 0 ? "-" : "", size / 10);
    if (size % 10)
        bpi_text_f(out, ".%" PRIu64, size % 10);
    bpi_text_f(out, " °C (%" PRId64 " °F)", rounded(temp_mC * INT64_C(9), 5000) + 32);
}

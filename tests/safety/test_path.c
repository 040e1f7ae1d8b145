#include "safety/path.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/show.h"
#include "base/limits.h"
#include "base/memory.h"

#define MIN INT64_C(60)
#define H   INT64_C(3600)

static const bpi_ingredient chicken = {.item = "chicken thighs", .raw_animal = true};

static const bpi_ingredient rice = {.item = "rice"};

static const bpi_step dice = {.text = "Dice", .core_mC = BPI_NO_TEMP};
static const bpi_step rinse = {
    .text = "Rinse", .core_mC = BPI_NO_TEMP, .ingredient = &rice, .ingredients = 1};
static const bpi_step marinate = {
    .text = "Marinate", .core_mC = BPI_NO_TEMP, .ingredient = &chicken, .ingredients = 1};
static const bpi_step braise_74 = {.text = "Braise",
                                   .core_mC = 74000,
                                   .food = BPI_FOOD_POULTRY,
                                   .ingredient = &chicken,
                                   .ingredients = 1};
static const bpi_step braise_60 = {.text = "Braise",
                                   .core_mC = 60000,
                                   .food = BPI_FOOD_POULTRY,
                                   .ingredient = &chicken,
                                   .ingredients = 1};
static const bpi_step braise_unstated = {.text = "Braise",
                                         .core_mC = BPI_NO_TEMP,
                                         .food = BPI_FOOD_POULTRY,
                                         .ingredient = &chicken,
                                         .ingredients = 1};
static const bpi_step sear = {.text = "Sear", .core_mC = BPI_NO_TEMP, .food = BPI_FOOD_POULTRY};
static const bpi_step brown_other_63 = {
    .text = "Brown", .core_mC = 63000, .ingredient = &chicken, .ingredients = 1};
static const bpi_step simmer_plant = {
    .text = "Simmer", .core_mC = BPI_NO_TEMP, .food = BPI_FOOD_PLANT};
static const bpi_step patty_67 = {.text = "Fry", .core_mC = 67000, .food = BPI_FOOD_GROUND};
static const bpi_step fillet_62 = {.text = "Grill", .core_mC = 62000, .food = BPI_FOOD_WHOLE_MEAT};
static const bpi_step chill = {.text = "Chill", .core_mC = BPI_NO_TEMP};
static const bpi_step reheat_74 = {.text = "Reheat", .core_mC = 74000, .food = BPI_FOOD_REHEATED};
static const bpi_step reheat_70 = {.text = "Reheat", .core_mC = 70000, .food = BPI_FOOD_REHEATED};

/* Cooling as a show states it. */
#define COOLS(in_, depth_, around_)                                                                \
    {                                                                                              \
        .text = "Cool", .core_mC = BPI_NO_TEMP, .cool = {                                          \
            .in = in_,                                                                             \
            .depth_um = depth_,                                                                    \
            .around_mC = around_,                                                                  \
            .from_mC = BPI_NO_TEMP                                                                 \
        }                                                                                          \
    }
static const bpi_step cool_50_fridge = COOLS(BPI_COOL_REFRIGERATOR, 50000, 2800);
static const bpi_step cool_25_fridge = COOLS(BPI_COOL_REFRIGERATOR, 25000, 2800);
static const bpi_step cool_50_ice = COOLS(BPI_COOL_ICE_BATH, 50000, 0);
static const bpi_step cool_25_room = COOLS(BPI_COOL_ROOM, 25000, 21000);
/* Read once: 90 to 40 °C in half an hour; that is 0.43 of the way to 2.8 °C left. */
static const bpi_step cool_read = {.text = "Cool",
                                   .core_mC = BPI_NO_TEMP,
                                   .cool = {.in = BPI_COOL_REFRIGERATOR,
                                            .depth_um = 50000,
                                            .around_mC = 2800,
                                            .from_mC = BPI_NO_TEMP,
                                            .read_mC = {90000, 40000},
                                            .read_s = 1800}};
static const bpi_step cool_100_cold_made = {
    .text = "Cool",
    .core_mC = BPI_NO_TEMP,
    .cool = {.in = BPI_COOL_REFRIGERATOR, .depth_um = 100000, .around_mC = 2800, .from_mC = 30000}};
static const bpi_step cool_50_chiller = COOLS(BPI_COOL_CHILLER, 50000, 0);
static const bpi_step cool_400_chiller = COOLS(BPI_COOL_CHILLER, 400000, 0);
static const bpi_step cool_400_ice = COOLS(BPI_COOL_ICE_BATH, 400000, 0);
static const bpi_step cool_400_fridge = COOLS(BPI_COOL_REFRIGERATOR, 400000, 2800);
static const bpi_step patty_63_short = {
    .text = "Fry", .core_mC = 63000, .core_for = 60, .food = BPI_FOOD_GROUND};
static const bpi_step warm_pack = {.text = "Warm", .core_mC = 57222, .food = BPI_FOOD_PACKAGED};
static const bpi_step roast_145 = {.text = "Roast", .core_mC = 62778, .food = BPI_FOOD_ROAST};
static const bpi_step stew = {.text = "Stew", .core_mC = 90000};
static const bpi_step thaw_counter = {
    .text = "Thaw", .core_mC = BPI_NO_TEMP, .thaw = BPI_THAW_COUNTER};
static const bpi_step thaw_cold = {.text = "Thaw", .core_mC = BPI_NO_TEMP, .thaw = BPI_THAW_COLD};
static const bpi_step thaw_water = {.text = "Thaw", .core_mC = BPI_NO_TEMP, .thaw = BPI_THAW_WATER};

static const bpi_place cool_cupboard = {.keep = BPI_HOT, .temp_mC = 54000};
static const bpi_place hot_cupboard = {.keep = BPI_HOT, .temp_mC = 57222}; /* 135 F */
static const bpi_place plain_fridge = {.keep = BPI_COLD, .temp_mC = BPI_NO_TEMP};
static const bpi_place warm_fridge = {.keep = BPI_COLD, .temp_mC = 7000};

#define STRETCHES 6
typedef struct story {
    const char *name;
    bpi_stretch s[STRETCHES]; /* to == from ends the list */
    bool finished, eaten;
    int64_t last;
    int64_t uncontrolled, use_by; /* what it must come to */
    bool cooked;
    struct {
        bp_weight weight;
        int64_t at;
        const char *rule, *text; /* `text`: a part of it */
    } want[3];                   /* rule NULL ends the list */
} story;

#define EVER BP_NO_TIME

static const story stories[] = {
    {"nothing perishable is never counted",
     {{0, 9 * H, BPI_STAY_COUNTER, false, &dice, NULL},
      {9 * H, 10 * H, BPI_STAY_SET, false, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     EVER,
     true,
     {{0}}},
    {"counter and set are summed, hot keeping is not; what is left counts from the end",
     {{0, 10 * MIN, BPI_STAY_COUNTER, true, &dice, NULL},
      {10 * MIN, 30 * MIN, BPI_STAY_COOK, true, &dice, NULL},
      {30 * MIN, 90 * MIN, BPI_STAY_HOT, true, NULL, NULL},
      {90 * MIN, 91 * MIN, BPI_STAY_COUNTER, true, NULL, NULL},
      {91 * MIN, 120 * MIN, BPI_STAY_SET, true, NULL, NULL}},
     true,
     false,
     EVER,
     40 * MIN,
     120 * MIN + 4 * H - 40 * MIN,
     true,
     {{0}}},
    {"a gap between stretches is time on the counter",
     {{0, 10 * MIN, BPI_STAY_HOT, true, NULL, NULL},
      {25 * MIN, 30 * MIN, BPI_STAY_SET, true, NULL, NULL}},
     true,
     false,
     EVER,
     20 * MIN,
     30 * MIN + 4 * H - 20 * MIN,
     true,
     {{0}}},
    {"two branches side by side are out of control once",
     {{0, 2 * H, BPI_STAY_COUNTER, true, &dice, NULL},
      {1 * H, 3 * H, BPI_STAY_COUNTER, true, &dice, NULL},
      {1 * H, 2 * H, BPI_STAY_COUNTER, true, NULL, NULL},
      {4 * H, 4 * H + 30 * MIN, BPI_STAY_HOT, true, NULL, NULL}},
     true,
     false,
     EVER,
     4 * H,
     4 * H + 30 * MIN,
     true,
     {{0}}},
    {"the clock starts where the food becomes perishable",
     {{0, 3 * H, BPI_STAY_COUNTER, false, &dice, NULL},
      {3 * H, 5 * H, BPI_STAY_SET, true, NULL, NULL}},
     true,
     false,
     EVER,
     2 * H,
     7 * H,
     true,
     {{0}}},
    {"four hours to the second are within 3-501.19(B) (FS-120)",
     {{0, 4 * H, BPI_STAY_SET, true, NULL, NULL}},
     true,
     false,
     EVER,
     4 * H,
     4 * H,
     true,
     {{0}}},
    {"one second more is not",
     {{0, 4 * H + 1, BPI_STAY_SET, true, NULL, NULL}},
     true,
     false,
     EVER,
     4 * H + 1,
     4 * H,
     true,
     {{BP_STOP, 4 * H, "FDA Food Code 3-501.19(B)", "more than 4 h"}}},
    {"neither the refrigerator nor the stove sets the clock back",
     {{0, 2 * H, BPI_STAY_COUNTER, true, &dice, NULL},
      {2 * H, 5 * H, BPI_STAY_COLD, true, NULL, NULL},
      {5 * H, 6 * H, BPI_STAY_COOK, true, &dice, NULL},
      {6 * H, 9 * H, BPI_STAY_SET, true, NULL, NULL}},
     true,
     false,
     EVER,
     5 * H,
     8 * H,
     true,
     {{BP_STOP, 8 * H, "FDA Food Code 3-501.19(B)", "keep it hot or cold for longer"}}},
    {"what stands there after it was last needed is not held against it",
     {{0, 6 * H, BPI_STAY_SET, true, NULL, NULL}},
     true,
     false,
     1 * H,
     1 * H,
     4 * H,
     true,
     {{0}}},
    {"time until it is last needed counts though the stretches end before",
     {{0, 1 * H, BPI_STAY_SET, true, NULL, NULL}},
     true,
     false,
     5 * H,
     5 * H,
     4 * H,
     true,
     {{BP_STOP, 4 * H, "FDA Food Code 3-501.19(B)", "prepare it later"}}},
    {"poultry at 74 C, eaten (FS-010)",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL}, {H, 2 * H, BPI_STAY_SET, true, NULL, NULL}},
     true,
     true,
     EVER,
     H,
     5 * H,
     true,
     {{0}}},
    {"poultry at 60 C",
     {{0, H, BPI_STAY_COOK, true, &braise_60, NULL}},
     true,
     false,
     EVER,
     0,
     5 * H,
     false,
     {{BP_STOP, 0, "FDA Food Code 3-401.11(A)(3)",
       "the target core of \"Braise\" is 60 °C (140 °F), below what its kind of food needs; cook "
       "it to 74 °C (165 °F)"},
      {BP_CAUTION, EVER, "FDA Food Code 3-401.11(A)(3)", "no later step states a core"}}},
    {"ground meat at 67 C (FS-004, FS-006)",
     {{0, H, BPI_STAY_COOK, true, &patty_67, NULL}},
     true,
     false,
     EVER,
     0,
     5 * H,
     true,
     {{BP_STOP, 0, "FDA Food Code 3-401.11(A)(2)", "cook it to 68 °C (155 °F) held for 17 s"}}},
    {"fish at 62 C (FS-001, FS-003)",
     {{0, H, BPI_STAY_COOK, true, &fillet_62, NULL}},
     true,
     false,
     EVER,
     0,
     5 * H,
     true,
     {{BP_STOP, 0, "FDA Food Code 3-401.11(A)(1)", "cook it to 63 °C (145 °F) held for 15 s"}}},
    {"vegetables with no core are a note (FS-052)",
     {{0, H, BPI_STAY_COOK, true, &simmer_plant, NULL}},
     true,
     false,
     EVER,
     0,
     5 * H,
     true,
     {{BP_NOTE, 0, "FDA Food Code 3-401.13", "at least 57 °C (135 °F)"}}},
    {"poultry with no core",
     {{0, H, BPI_STAY_COOK, true, &braise_unstated, NULL}},
     true,
     false,
     EVER,
     0,
     5 * H,
     false,
     {{BP_CAUTION, 0, "FDA Food Code 3-401.11(A)(3)", "no target core"},
      {BP_CAUTION, EVER, "FDA Food Code 3-401.11(A)(3)", "Braise"}}},
    {"a sear without a core is made good by the braise after it",
     {{0, 5 * MIN, BPI_STAY_COOK, true, &sear, NULL},
      {5 * MIN, H, BPI_STAY_COOK, true, &braise_74, NULL}},
     true,
     true,
     EVER,
     0,
     5 * H,
     true,
     {{0}}},
    {"a mid-cook pot is judged by the finished one",
     {{0, 5 * MIN, BPI_STAY_COOK, true, &braise_60, NULL}},
     false,
     false,
     EVER,
     0,
     5 * MIN + 4 * H,
     false,
     {{0}}},
    {"raw meat of no stated kind needs the highest core in the table",
     {{0, H, BPI_STAY_COOK, true, &brown_other_63, NULL}},
     true,
     false,
     EVER,
     0,
     5 * H,
     false,
     {{BP_CAUTION, EVER, "FDA Food Code 3-401.11(A)(3)", "Brown"}}},
    {"raw meat after the cooking is raw again",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, H + MIN, BPI_STAY_COUNTER, true, &marinate, NULL}},
     true,
     false,
     EVER,
     MIN,
     H + MIN + 4 * H - MIN,
     false,
     {{BP_CAUTION, EVER, "FDA Food Code 3-401.11(A)(3)", "Marinate"}}},
    {"tasting what was not cooked through",
     {{0, H, BPI_STAY_COLD, true, &marinate, NULL}},
     true,
     true,
     EVER,
     0,
     5 * H,
     false,
     {{BP_STOP, H, "FDA Food Code 3-401.11(A)(3)", "cooked through after \"Marinate\""}}},
    {"tasting from a mid-cook pot",
     {{0, H, BPI_STAY_COOK, true, &simmer_plant, NULL}},
     false,
     true,
     EVER,
     0,
     5 * H,
     true,
     {{BP_NOTE, 0, "FDA Food Code 3-401.13", "Simmer"},
      {BP_STOP, H, "FDA Food Code 3-401.11(A)(3)", "not a finished dish"}}},
    {"kept cold straight after heat (FS-080 to FS-084)",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL}, {H, 3 * H, BPI_STAY_COLD, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     7 * H,
     true,
     {{BP_CAUTION, H, "FDA Food Code 3-501.14(A)(1)",
       "down to 21 °C (70 °F) within 2 h and 5 °C (41 °F) within 6 h in all"}}},
    {"a step that chills it and does not say how",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 3 * H, BPI_STAY_COLD, true, &chill, NULL},
      {3 * H, 5 * H, BPI_STAY_COLD, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     9 * H,
     true,
     {{BP_CAUTION, H, "FDA Food Code 3-501.14(A)(1)", "\"Chill\" does not say how"}}},
    {"cold keeping before any heat is nobody's concern",
     {{0, H, BPI_STAY_COLD, true, NULL, NULL}, {H, 2 * H, BPI_STAY_HOT, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     6 * H,
     true,
     {{0}}},
    {"kept hot after chilling without heating it (FS-060)",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 3 * H, BPI_STAY_COLD, true, &chill, NULL},
      {3 * H, 4 * H, BPI_STAY_HOT, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     8 * H,
     true,
     {{BP_CAUTION, H, "FDA Food Code 3-501.14(A)(1)", "\"Chill\" does not say how"},
      {BP_STOP, 3 * H, "FDA Food Code 3-403.11(A)", "heats it to 74 °C (165 °F)"}}},
    {"reheated to 70 C only",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 3 * H, BPI_STAY_COLD, true, &chill, NULL},
      {3 * H, 4 * H, BPI_STAY_COOK, true, &reheat_70, NULL},
      {4 * H, 5 * H, BPI_STAY_HOT, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     9 * H,
     true,
     {{BP_CAUTION, H, "FDA Food Code 3-501.14(A)(1)", "\"Chill\" does not say how"},
      {BP_STOP, 3 * H, "FDA Food Code 3-403.11(A)", "70 °C"},
      {BP_STOP, 4 * H, "FDA Food Code 3-403.11(A)", "kept hot after it was chilled"}}},
    {"reheated to 74 C within 2 h",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 3 * H, BPI_STAY_COLD, true, &chill, NULL},
      {3 * H, 5 * H, BPI_STAY_COOK, true, &reheat_74, NULL},
      {5 * H, 6 * H, BPI_STAY_HOT, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     10 * H,
     true,
     {{BP_CAUTION, H, "FDA Food Code 3-501.14(A)(1)", "\"Chill\" does not say how"}}},
    {"reheated too slowly (FS-065)",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 3 * H, BPI_STAY_COLD, true, &chill, NULL},
      {3 * H, 5 * H + 1, BPI_STAY_COOK, true, &reheat_74, NULL}},
     true,
     false,
     EVER,
     0,
     9 * H + 1,
     true,
     {{BP_CAUTION, H, "FDA Food Code 3-501.14(A)(1)", "\"Chill\" does not say how"},
      {BP_STOP, 3 * H, "FDA Food Code 3-403.11(D)", "within 2 h"}}},
    {"cooked the day before and kept cold for more than 24 h (FS-110)",
     {{-30 * H, -29 * H, BPI_STAY_COOK, true, &braise_74, NULL},
      {-29 * H, -26 * H, BPI_STAY_COLD, true, &chill, NULL},
      {-26 * H, 2 * H, BPI_STAY_COLD, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     6 * H,
     true,
     {{BP_CAUTION, -29 * H, "FDA Food Code 3-501.14(A)(1)", "\"Chill\" does not say how"},
      {BP_NOTE, -29 * H, "FDA Food Code 3-501.17(A)", "its day 7 at most"}}},
    {"made on Monday it may be used on Sunday (FS-111) ...",
     {{-140 * H, -139 * H, BPI_STAY_COOK, true, &braise_74, NULL},
      {-139 * H, 2 * H, BPI_STAY_COLD, true, &chill, NULL}},
     true,
     false,
     EVER,
     0,
     6 * H,
     true,
     {{BP_CAUTION, -139 * H, "FDA Food Code 3-501.14(A)(1)", "\"Chill\" does not say how"},
      {BP_NOTE, -139 * H, "FDA Food Code 3-501.17(A)", "write on it the date"}}},
    {"... but not on the Monday after",
     {{-147 * H, -146 * H, BPI_STAY_COOK, true, &braise_74, NULL},
      {-146 * H, 1 * H, BPI_STAY_COLD, true, &chill, NULL}},
     true,
     false,
     EVER,
     0,
     5 * H,
     true,
     {{BP_CAUTION, -146 * H, "FDA Food Code 3-501.14(A)(1)", "\"Chill\" does not say how"},
      {BP_STOP, -146 * H, "FDA Food Code 3-501.17(A)", "past its day 7"}}},

    /* ---- cooling; worked out by hand from T(t) = A + (T0 - A) exp(-k t), k = 2 h / (rho c depth):
     * 5 cm in still air: k = 20 / (4.1e6 x 0.05) = 9.756e-5 a second, from 74 to 57 °C at 2.8 °C in
     * ln(71.2 / 54.2) / k = 2797 s, rounded up; 21.11 °C after ln(54.2 / 18.31) / k = 11 123 s
     * more: past 2 h. */
    {"5 cm deep in a refrigerator is not down to 21 C within 2 h (FS-080 to FS-082)",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 8 * H, BPI_STAY_COLD, true, &cool_50_fridge, NULL},
      {8 * H, 9 * H, BPI_STAY_COLD, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     13 * H,
     true,
     {{BP_STOP, 3 * H + 46 * MIN, "FDA Food Code 3-501.14(A)(1)",
       "spread it in shallow pans, at most 3 cm deep, or stir it in an ice bath, or cook a "
       "smaller batch"}}},
    /* 2.5 cm: k = 1.951e-4; 57 to 21.11 °C in 5562 s; to 5 °C in ln(54.2 / 2.2) / k = 16 420 s. */
    {"2.5 cm deep it keeps both (FS-081, FS-083, FS-084)",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 8 * H, BPI_STAY_COLD, true, &cool_25_fridge, NULL}},
     true,
     false,
     EVER,
     0,
     12 * H,
     true,
     {{BP_NOTE, H + 23 * MIN, "FDA Food Code 3-501.14(A)(2)",
       "21 °C (70 °F) after 1 h 33 min, 5 °C (41 °F) after 4 h 34 min; the probe decides"}}},
    /* The same pan, the hour of cooling and what comes after told as two stretches: T goes on from where
     * the first ended. */
    {"cooling that goes on over the end of a stretch takes as long as in one",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 2 * H, BPI_STAY_COLD, true, &cool_25_fridge, NULL},
      {2 * H, 3 * H, BPI_STAY_COLD, true, &cool_25_fridge, NULL},
      {3 * H, 8 * H, BPI_STAY_COLD, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     12 * H,
     true,
     {{BP_NOTE, H + 23 * MIN, "FDA Food Code 3-501.14(A)(2)",
       "21 °C (70 °F) after 1 h 33 min, 5 °C (41 °F) after 4 h 34 min; the probe decides"}}},
    /* In ice water k = 9.756e-4: 74 to 57 in 268 s, 57 to 21.11 in 1018 s, to 5 °C in 2495 s. */
    {"an ice bath on the counter, then the refrigerator; cooling is not time out of control",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 2 * H, BPI_STAY_COUNTER, true, &cool_50_ice, NULL},
      {2 * H, 8 * H, BPI_STAY_COLD, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     12 * H,
     true,
     {{BP_NOTE, H + 4 * MIN, "FDA Food Code 3-501.14(A)(2)",
       "21 °C (70 °F) after 17 min, 5 °C (41 °F) after 42 min"}}},
    {"in a room at 21 C it never gets to 5 C, so the refrigerator has to finish it",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 10 * H, BPI_STAY_COUNTER, true, &cool_25_room, NULL}},
     true,
     false,
     EVER,
     0,
     14 * H,
     true,
     {{BP_STOP, 3 * H + 33 * MIN, "FDA Food Code 3-501.14(A)(1)", "in the room at 21 °C"}}},
    /* k = ln(87.2 / 37.2) / 1800 = 4.733e-4: 57 to 21.11 in 2293 s, to 5 °C in 6770 s. */
    {"a reading of such a pan counts for more than its depth",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 8 * H, BPI_STAY_COLD, true, &cool_read, NULL}},
     true,
     false,
     EVER,
     0,
     12 * H,
     true,
     {{BP_NOTE, H + 9 * MIN, "FDA Food Code 3-501.14(A)(2)",
       "21 °C (70 °F) after 39 min, 5 °C (41 °F) after 1 h 53 min"}}},
    {"what is heated again before the limit has run out breaks none",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 2 * H, BPI_STAY_COLD, true, &cool_50_fridge, NULL},
      {2 * H, 3 * H, BPI_STAY_COOK, true, &reheat_74, NULL}},
     true,
     false,
     EVER,
     0,
     7 * H,
     true,
     {{BP_NOTE, H + 46 * MIN, "FDA Food Code 3-501.14(A)(2)", "when it is used"}}},
    {"food made cold from the room has 4 h to 5 C (FS-085)",
     {{0, H, BPI_STAY_COUNTER, true, &dice, NULL},
      {H, 8 * H, BPI_STAY_COLD, true, &cool_50_fridge, NULL}},
     true,
     false,
     EVER,
     H,
     8 * H + 3 * H,
     true,
     {{BP_STOP, 5 * H, "FDA Food Code 3-501.14(B)", "within 4 h of being made"}}},
    {"a cupboard set too cool (FS-100)",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 2 * H, BPI_STAY_HOT, true, NULL, &cool_cupboard}},
     true,
     false,
     EVER,
     0,
     6 * H,
     true,
     {{BP_STOP, H, "FDA Food Code 3-501.16(A)(1)", "keep it at least 57 °C (135 °F)"}}},
    {"135 F is hot enough",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 2 * H, BPI_STAY_HOT, true, NULL, &hot_cupboard}},
     true,
     false,
     EVER,
     0,
     6 * H,
     true,
     {{0}}},
    {"a refrigerator set too warm (FS-102)",
     {{0, H, BPI_STAY_COLD, true, NULL, &warm_fridge}},
     true,
     false,
     EVER,
     0,
     5 * H,
     true,
     {{BP_STOP, 0, "FDA Food Code 3-501.16(A)(2)", "keep it at most 5 °C (41 °F)"}}},
    {"thawed on the counter",
     {{0, H, BPI_STAY_COUNTER, true, &thaw_counter, NULL}},
     true,
     false,
     EVER,
     H,
     4 * H,
     true,
     {{BP_STOP, 0, "FDA Food Code 3-501.13(A)", "under running water, or as part of cooking"}}},
    {"thawed in the cold (FS-073)",
     {{0, 9 * H, BPI_STAY_COLD, true, &thaw_cold, NULL}},
     true,
     false,
     EVER,
     0,
     13 * H,
     true,
     {{0}}},
    {"thawed in water and cooked within 4 h (FS-075)",
     {{0, 3 * H, BPI_STAY_COUNTER, true, &thaw_water, NULL},
      {3 * H, 4 * H, BPI_STAY_COUNTER, true, &dice, NULL},
      {4 * H, 5 * H, BPI_STAY_COOK, true, &braise_74, NULL}},
     true,
     false,
     EVER,
     H,
     5 * H + 3 * H,
     true,
     {{0}}},
    {"time out of control goes on after the limit, and is told once",
     {{0, 5 * H, BPI_STAY_SET, true, NULL, NULL}, {5 * H, 6 * H, BPI_STAY_SET, true, NULL, NULL}},
     true,
     false,
     EVER,
     6 * H,
     4 * H,
     true,
     {{BP_STOP, 4 * H, "FDA Food Code 3-501.19(B)", "more than 4 h"}}},
    {"findings stand in the order of time, not of stretches",
     {{0, 5 * H, BPI_STAY_SET, true, NULL, NULL},
      {H, 2 * H, BPI_STAY_COLD, true, NULL, &warm_fridge}},
     true,
     false,
     5 * H,
     5 * H,
     4 * H,
     true,
     {{BP_STOP, H, "FDA Food Code 3-501.16(A)(2)", "keep it at most 5 °C"},
      {BP_STOP, 4 * H, "FDA Food Code 3-501.19(B)", "more than 4 h"}}},
    {"a place set wrong is told of once, and of what spoils alone",
     {{0, H, BPI_STAY_COLD, false, NULL, &warm_fridge},
      {H, 2 * H, BPI_STAY_COLD, true, NULL, &warm_fridge},
      {2 * H, 3 * H, BPI_STAY_COLD, true, NULL, &warm_fridge}},
     true,
     false,
     EVER,
     0,
     7 * H,
     true,
     {{BP_STOP, H, "FDA Food Code 3-501.16(A)(2)", "keep it at most 5 °C"}}},
    {"what does not spoil may be cold and hot again",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 30 * H, BPI_STAY_COLD, false, NULL, NULL},
      {30 * H, 31 * H, BPI_STAY_HOT, false, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     35 * H,
     true,
     {{0}}},
    {"hot keeping after chilling is told of once",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 3 * H, BPI_STAY_COLD, true, &chill, NULL},
      {3 * H, 4 * H, BPI_STAY_HOT, true, NULL, NULL},
      {4 * H, 5 * H, BPI_STAY_HOT, true, NULL, NULL},
      {5 * H, 6 * H, BPI_STAY_HOT, false, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     10 * H,
     true,
     {{BP_CAUTION, H, "FDA Food Code 3-501.14(A)(1)", "\"Chill\" does not say how"},
      {BP_STOP, 3 * H, "FDA Food Code 3-403.11(A)", "heats it to 74 °C (165 °F)"}}},
    {"the date is asked for once, however often it is put back (FS-110)",
     {{-30 * H, -29 * H, BPI_STAY_COOK, true, &braise_74, NULL},
      {-29 * H, -2 * H, BPI_STAY_COLD, true, &chill, NULL},
      {-2 * H, 2 * H, BPI_STAY_COLD, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     6 * H,
     true,
     {{BP_CAUTION, -29 * H, "FDA Food Code 3-501.14(A)(1)", "\"Chill\" does not say how"},
      {BP_NOTE, -29 * H, "FDA Food Code 3-501.17(A)", "its day 7 at most"}}},
    {"heat of which no step is told makes food warm and no more",
     {{0, H, BPI_STAY_COOK, true, NULL, NULL}, {H, 2 * H, BPI_STAY_COLD, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     6 * H,
     true,
     {{BP_CAUTION, H, "FDA Food Code 3-501.14(A)(1)", "kept cold straight after heat"}}},
    {"ground meat at 63 C held for a minute (FS-007: three)",
     {{0, H, BPI_STAY_COOK, true, &patty_63_short, NULL}},
     true,
     false,
     EVER,
     0,
     5 * H,
     true,
     {{BP_STOP, 0, "FDA Food Code 3-401.11(A)(2)",
       "is 63 °C (145 °F) held for 1 min, below what its kind of food needs; cook it to 68 °C"}}},
    {"food of a sealed pack is heated again to 135 F (FS-064)",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 3 * H, BPI_STAY_COLD, true, &chill, NULL},
      {3 * H, 4 * H, BPI_STAY_COOK, true, &warm_pack, NULL},
      {4 * H, 5 * H, BPI_STAY_HOT, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     9 * H,
     true,
     {{BP_CAUTION, H, "FDA Food Code 3-501.14(A)(1)", "\"Chill\" does not say how"}}},

    /* In moving air k = 100 / (4.1e6 x 0.05) = 4.878e-4: from 74 to 57 °C at 0 °C in ln(74 / 57) / k = 536 s,
     * to 21.11 in ln(57 / 21.11) / k = 2036 s, to 5 in ln(57 / 5) / k = 4989 s. */
    {"5 cm deep in a blast chiller",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 8 * H, BPI_STAY_COLD, true, &cool_50_chiller, NULL}},
     true,
     false,
     EVER,
     0,
     12 * H,
     true,
     {{BP_NOTE, H + 8 * MIN, "FDA Food Code 3-501.14(A)(2)",
       "5.0 cm deep in a blast chiller at 0 °C (32 °F): by the model 21 °C (70 °F) after 34 min, "
       "5 °C (41 °F) after 1 h 24 min"}}},
    /* 40 cm in ice water: k = 1.2195e-4; 74 to 57 in 2141 s, to 21.11 in 8145 s more. */
    {"a pot of 40 cm in an ice bath is not told to stand in an ice bath",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 8 * H, BPI_STAY_COUNTER, true, &cool_400_ice, NULL}},
     true,
     false,
     EVER,
     0,
     12 * H,
     true,
     {{BP_STOP, 3 * H + 35 * MIN, "FDA Food Code 3-501.14(A)(1)",
       "of 57 °C (135 °F); spread it in shallow pans, at most 30 cm deep, or cook a smaller "
       "batch"}}},
    /* 40 cm in still air: k = 1.2195e-5: from 74 to 57 in ln(71.2 / 54.2) / k = 22 371 s. */
    {"one of 40 cm in a refrigerator is, and told how wide the bath may be",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 20 * H, BPI_STAY_COLD, true, &cool_400_fridge, NULL}},
     true,
     false,
     EVER,
     0,
     24 * H,
     true,
     {{BP_STOP, 9 * H + 12 * MIN, "FDA Food Code 3-501.14(A)(1)",
       "at most 3 cm deep, or stir it in an ice bath, at most 30 cm across, or cook a smaller "
       "batch"}}},
    /* In the room for 1 h 54 min at 2.5 cm (k = 1.951e-4), 74 to 57 in 1988 s; 4852 s more leave
     * 21 + 36 x 0.388 = 35 °C; at 2.8 °C then to 21.11 in ln(32.2 / 18.31) / k = 2890 s: past 2 h. */
    {"what is shallow already is not told to be spread",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, H + 114 * MIN, BPI_STAY_COUNTER, true, &cool_25_room, NULL},
      {H + 114 * MIN, 8 * H, BPI_STAY_COLD, true, &cool_25_fridge, NULL}},
     true,
     false,
     EVER,
     0,
     12 * H,
     true,
     {{BP_STOP, 3 * H + 33 * MIN, "FDA Food Code 3-501.14(A)(1)",
       "of 57 °C (135 °F); stir it in an ice bath, or cook a smaller batch"}}},
    /* 2.5 cm as above: at 21.11 °C after 5562 s; 3 h 30 min is 8 - 2 = 7612 s after the clock began. */
    {"down to the first limit, and heated again before the second",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 3 * H + 30 * MIN, BPI_STAY_COLD, true, &cool_25_fridge, NULL},
      {3 * H + 30 * MIN, 4 * H, BPI_STAY_COOK, true, &reheat_74, NULL}},
     true,
     false,
     EVER,
     0,
     8 * H,
     true,
     {{BP_NOTE, H + 23 * MIN, "FDA Food Code 3-501.14(A)(2)", "21 °C (70 °F) after 1 h 33 min; "}}},
    {"heated again before it was down to 57 C: the clock never began",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, H + 5 * MIN, BPI_STAY_COLD, true, &cool_50_fridge, NULL},
      {H + 5 * MIN, 2 * H, BPI_STAY_COOK, true, &reheat_74, NULL}},
     true,
     false,
     EVER,
     0,
     6 * H,
     true,
     {{0}}},
    /* No core is stated, so it cools from 95 °C: 2.5 cm to 57 in ln(92.2 / 54.2) / 1.951e-4 = 2723 s. */
    {"food of unstated heat cools from near the boil",
     {{0, H, BPI_STAY_COOK, true, &simmer_plant, NULL},
      {H, 8 * H, BPI_STAY_COLD, true, &cool_25_fridge, NULL}},
     true,
     false,
     EVER,
     0,
     12 * H,
     true,
     {{BP_NOTE, 0, "FDA Food Code 3-401.13", "Simmer"},
      {BP_NOTE, H + 45 * MIN, "FDA Food Code 3-501.14(A)(2)",
       "21 °C (70 °F) after 1 h 33 min, 5 °C (41 °F) after 4 h 34 min"}}},
    /* 10 cm, k = 4.878e-5, made at 30 °C: 21.11 after 8114 s, past the 2 h that do not count here. */
    {"what never was hot has the one limit alone (FS-085)",
     {{0, 9 * H, BPI_STAY_COLD, true, &cool_100_cold_made, NULL}},
     true,
     false,
     EVER,
     0,
     13 * H,
     true,
     {{BP_STOP, 4 * H, "FDA Food Code 3-501.14(B)", "within 4 h of being made"}}},
    /* 2.5 cm from the room: ln(18.2 / 2.2) / 1.951e-4 = 10 831 s. */
    {"cold already, it is cooled as from the room, and its first cold counts",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 3 * H, BPI_STAY_COLD, true, &chill, NULL},
      {3 * H, 9 * H, BPI_STAY_COLD, true, &cool_25_fridge, NULL}},
     true,
     false,
     EVER,
     0,
     13 * H,
     true,
     {{BP_CAUTION, H, "FDA Food Code 3-501.14(A)(1)", "\"Chill\" does not say how"},
      {BP_NOTE, 3 * H, "FDA Food Code 3-501.14(B)", "the model 5 °C (41 °F) after 3 h 1 min; "}}},
    {"what does not spoil is not followed while it cools",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 8 * H, BPI_STAY_COLD, false, &cool_50_fridge, NULL}},
     true,
     false,
     EVER,
     0,
     12 * H,
     true,
     {{0}}},
    /* In ice water for 10 min (5 cm, k = 9.756e-4): 74 to 57 in 268 s, 332 s more leave 57 x 0.7233 =
     * 41.2 °C; half an hour in the room at k = 9.756e-5 leaves 21 + 20.2 x 0.839 = 38.0; the refrigerator
     * (2.8) takes ln(35.2 / 18.31) / k = 6700 s: 332 + 1800 + 6700 s, past 2 h. Without the room it would
     * take 332 + ln(38.4 / 18.31) / k = 7924 s. */
    {"what lies between two steps is in the room; a place of no stated heat is a refrigerator",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, H + 10 * MIN, BPI_STAY_COUNTER, true, &cool_50_ice, NULL},
      {H + 40 * MIN, 14 * H, BPI_STAY_COLD, true, NULL, &plain_fridge},
      {2 * H, 3 * H, BPI_STAY_COLD, true, NULL, &plain_fridge},
      {14 * H, 15 * H, BPI_STAY_COLD, true, NULL, NULL},
      {15 * H, 16 * H, BPI_STAY_COLD, true, NULL, NULL}},
     true,
     false,
     EVER,
     30 * MIN,
     16 * H + 4 * H - 30 * MIN,
     true,
     {{BP_STOP, 3 * H + 4 * MIN, "FDA Food Code 3-501.14(A)(1)", "within 2 h of 57 °C"}}},
    /* As above, but it is left standing: 41.2 °C is never at 21 within the 2 h that began at 268 s. */
    {"taken out of the ice and left in the room it is not down in time, and out of control",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, H + 10 * MIN, BPI_STAY_COUNTER, true, &cool_50_ice, NULL},
      {H + 10 * MIN, 4 * H, BPI_STAY_COUNTER, true, NULL, NULL}},
     true,
     false,
     EVER,
     170 * MIN,
     4 * H + 4 * H - 170 * MIN,
     true,
     {{BP_STOP, 3 * H + 4 * MIN, "FDA Food Code 3-501.14(A)(1)", "within 2 h of 57 °C"}}},
    /* 40 cm in moving air: k = 6.0976e-5: 74 to 57 °C in 4281 s, to 21.11 in 16 290 s more. To be there in
     * 2 h takes k = 1.380e-4, which is 17.68 cm. */
    {"too deep for a blast chiller, by the half centimetre",
     {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
      {H, 20 * H, BPI_STAY_COLD, true, &cool_400_chiller, NULL}},
     true,
     false,
     EVER,
     0,
     24 * H,
     true,
     {{BP_STOP, 4 * H + 11 * MIN, "FDA Food Code 3-501.14(A)(1)",
       "in shallow pans, at most 17.5 cm deep, or stir it in an ice bath, at most 30 cm across, or "
       "cook a smaller batch"}}},
    {"heat of which no step is told makes nothing good",
     {{0, H, BPI_STAY_COOK, true, &patty_67, NULL}, {H, 2 * H, BPI_STAY_COOK, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     6 * H,
     true,
     {{BP_STOP, 0, "FDA Food Code 3-401.11(A)(2)", "below what its kind of food needs"}}},
    {"a step with ingredients none of which is raw animal food brings nothing in",
     {{0, H, BPI_STAY_COUNTER, true, &rinse, NULL}},
     true,
     true,
     EVER,
     H,
     4 * H,
     true,
     {{0}}},
    {"a moment of the day before is told on the minute before it",
     {{-5 * MIN - 30, H, BPI_STAY_COUNTER, true, &thaw_cold, NULL}},
     true,
     false,
     EVER,
     H + 5 * MIN + 30,
     4 * H - 5 * MIN - 30,
     true,
     {{BP_STOP, -6 * MIN, "FDA Food Code 3-501.13(A)", "thaws outside the cold"}}},
    {"water thaws it, though the step keeps it cold: what follows counts on (FS-075)",
     {{0, 5 * H, BPI_STAY_COLD, true, &thaw_water, NULL},
      {5 * H, 6 * H, BPI_STAY_COUNTER, true, &dice, NULL}},
     true,
     false,
     EVER,
     H,
     9 * H,
     true,
     {{BP_STOP, 4 * H, "FDA Food Code 3-501.13(B)", "or cook or chill it sooner"}}},
    {"a step that thaws in the cold, and does not stand in it",
     {{0, H, BPI_STAY_COUNTER, true, &thaw_cold, NULL}},
     true,
     false,
     EVER,
     H,
     4 * H,
     true,
     {{BP_STOP, 0, "FDA Food Code 3-501.13(A)", "thaws outside the cold"}}},
    {"thawed in water twice, the clock runs on (FS-075)",
     {{0, 3 * H, BPI_STAY_COUNTER, true, &thaw_water, NULL},
      {3 * H, 4 * H + 1, BPI_STAY_COUNTER, true, &thaw_water, NULL},
      {4 * H + 1, 5 * H, BPI_STAY_COLD, true, NULL, NULL}},
     true,
     false,
     EVER,
     0,
     9 * H,
     true,
     {{BP_STOP, 4 * H, "FDA Food Code 3-501.13(B)", "or cook or chill it sooner"}}},
    {"a second longer, what is done to it after counted (FS-075)",
     {{0, 3 * H, BPI_STAY_COUNTER, true, &thaw_water, NULL},
      {3 * H, 4 * H + 1, BPI_STAY_COUNTER, true, &dice, NULL},
      {4 * H + 1, 5 * H, BPI_STAY_COOK, true, &braise_74, NULL}},
     true,
     false,
     EVER,
     H + 1,
     5 * H + 3 * H - 1,
     true,
     {{BP_STOP, 4 * H, "FDA Food Code 3-501.13(B)", "thaw it in the refrigerator"}}},
};

/* For its limits: the default set. */
static bp_show *show_of(void)
{
    bp_show *show = NULL;
    ck_assert_int_eq(bp_show_open(&show, "tests/model/base.json", NULL), BP_OK);
    return show;
}

static bpi_path path_of(const story *s, const bpi_limits *limits)
{
    bpi_path path = {limits, s->s, 0, s->finished, s->eaten, s->last};
    while (path.stretches < STRETCHES && s->s[path.stretches].from < s->s[path.stretches].to)
        path.stretches++;
    return path;
}

START_TEST(each_story_comes_to_its_findings)
{
    const story *s = &stories[_i];
    bpi_arena *a = bpi_arena_new();
    bp_show *show = show_of();
    bpi_path path = path_of(s, show->limits);
    bpi_path_result r;
    ck_assert_int_eq(bpi_path_check(&r, a, &path, NULL), BP_OK);
    ck_assert_msg(r.uncontrolled == s->uncontrolled, "%s: out of control for %ld s", s->name,
                  (long)r.uncontrolled);
    ck_assert_msg(r.use_by == s->use_by, "%s: use by %ld", s->name, (long)r.use_by);
    ck_assert_msg(r.cooked == s->cooked, "%s: cooked %d", s->name, r.cooked);
    uint32_t n = 0;
    for (; n < 3 && s->want[n].rule; n++) {
        ck_assert_msg(n < r.findings, "%s: nothing of \"%s\"", s->name, s->want[n].text);
        const bp_finding *f = &r.finding[n];
        ck_assert_msg(strstr(f->text, s->want[n].text) != NULL, "%s: \"%s\"", s->name, f->text);
        ck_assert_msg(strcmp(f->rule, s->want[n].rule) == 0, "%s: %s", s->name, f->rule);
        ck_assert_msg(f->weight == s->want[n].weight, "%s: \"%s\" weighs %d", s->name, f->text,
                      f->weight);
        ck_assert_msg(f->at == s->want[n].at, "%s: \"%s\" at %ld", s->name, f->text, (long)f->at);
        ck_assert_uint_eq(f->container, BP_NO_INDEX);
    }
    ck_assert_msg(r.findings == n, "%s: also \"%s\"", s->name, r.finding[n].text);
    bpi_arena_free(a);
    bp_show_free(show);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(an_empty_path_has_nothing_to_say)
{
    bpi_arena *a = bpi_arena_new();
    bp_show *show = show_of();
    bpi_path path = {.limits = show->limits, .last = BP_NO_TIME};
    bpi_path_result r;
    ck_assert_int_eq(bpi_path_check(&r, a, &path, NULL), BP_OK);
    ck_assert_uint_eq(r.findings, 0);
    ck_assert(r.use_by == BP_NO_TIME && r.cooked);
    ck_assert_uint_eq(r.readings, 0);
    bpi_arena_free(a);
    bp_show_free(show);
}
END_TEST

START_TEST(every_request_fails_once)
{
    static bp_errors errs;
    bool fired = true;
    bp_show *show = show_of();
    long alive = bpi_mem_alive();
    for (long k = 0; fired; k++) {
        errs.n = errs.more = 0;
        bpi_arena *a = bpi_arena_new();
        bpi_path path = path_of(&stories[_i], show->limits);
        bpi_path_result r;
        bpi_mem_fail_at(k, 0);
        bp_code rc = bpi_path_check(&r, a, &path, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert_uint_eq(errs.n, fired ? 1 : 0);
        bpi_arena_free(a);
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
    bp_show_free(show);
}
END_TEST

/* ---- sets that lack what a set may lack ------------------------------------------------------ */

/* What is found along `s` by a set without `lacks`: the texts, one a line; then the readings. */
static const char *told(const bpi_stretch *s, uint32_t n, const bpi_limits *set, bpi_limit_id lacks)
{
    static char out[2000];
    bpi_limits less = *set;
    if (lacks < BPI_LIMITS)
        less.rows[lacks] = 0;
    bpi_arena *a = bpi_arena_new();
    bpi_path path = {&less, s, n, true, false, BP_NO_TIME};
    bpi_path_result r;
    ck_assert_int_eq(bpi_path_check(&r, a, &path, NULL), BP_OK);
    size_t len = 0;
    for (uint32_t i = 0; i < r.findings; i++)
        len += (size_t)snprintf(out + len, sizeof out - len, "%s: %s\n", r.finding[i].rule,
                                r.finding[i].text);
    for (uint32_t i = 0; i < r.readings; i++)
        len += (size_t)snprintf(out + len, sizeof out - len, "%+lld s %s: %s\n",
                                (long long)r.reading[i].at, r.reading[i].rule, r.reading[i].text);
    out[len] = '\0';
    bpi_arena_free(a);
    return out;
}

START_TEST(a_set_without_a_row_asks_for_nothing_of_it)
{
    bp_show *show = show_of();
    const bpi_limits *set = show->limits;
    static const bpi_stretch days[] = {{-200 * H, -199 * H, BPI_STAY_COOK, true, &braise_74, NULL},
                                       {-199 * H, H, BPI_STAY_COLD, true, &chill, NULL}};
    ck_assert_ptr_nonnull(strstr(told(days, 2, set, BPI_LIMITS), "past its day 7"));
    ck_assert_ptr_nonnull(strstr(told(days, 2, set, BPI_LIMIT_DATE_MARK), "past its day 7"));
    ck_assert_ptr_null(strstr(told(days, 2, set, BPI_LIMIT_KEEP_COLD), "kept cold"));
    static const bpi_stretch day[] = {{-40 * H, -39 * H, BPI_STAY_COOK, true, &braise_74, NULL},
                                      {-39 * H, H, BPI_STAY_COLD, true, &chill, NULL}};
    ck_assert_ptr_nonnull(strstr(told(day, 2, set, BPI_LIMITS), "for more than 24 h"));
    ck_assert_ptr_null(strstr(told(day, 2, set, BPI_LIMIT_DATE_MARK), "kept cold"));

    static const bpi_stretch thaws[] = {{0, 5 * H, BPI_STAY_COUNTER, true, &thaw_water, NULL}};
    ck_assert_str_eq(
        told(thaws, 1, set, BPI_LIMITS),
        "FDA Food Code 3-501.13(B): above 5 °C (41 °F) for more than 4 h from thawing in "
        "water on; thaw it in the refrigerator, or cook or chill it sooner\n"
        "+0 s FDA Food Code 3-501.13(B): Thaw: running water at most 21 °C (70 °F)\n");
    ck_assert_str_eq(told(thaws, 1, set, BPI_LIMIT_THAW_WATER),
                     "+0 s FDA Food Code 3-501.13(A): Thaw: running water at most 5 °C (41 °F)\n");
    ck_assert_str_eq(
        told(thaws, 1, set, BPI_LIMIT_THAW_COLD),
        "FDA Food Code 3-501.13(B): above 21 °C (70 °F) for more than 4 h from thawing in "
        "water on; thaw it in the refrigerator, or cook or chill it sooner\n");

    static const bpi_stretch plants[] = {{0, H, BPI_STAY_COOK, true, &simmer_plant, NULL}};
    ck_assert_ptr_nonnull(strstr(told(plants, 1, set, BPI_LIMITS), "no target core"));
    ck_assert_str_eq(told(plants, 1, set, BPI_LIMIT_COOK_PLANT), "");
    static const bpi_stretch slow[] = {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
                                       {H, 2 * H, BPI_STAY_COLD, true, &chill, NULL},
                                       {2 * H, 5 * H, BPI_STAY_COOK, true, &reheat_74, NULL}};
    ck_assert_ptr_nonnull(strstr(told(slow, 3, set, BPI_LIMITS), "3-403.11(D)"));
    ck_assert_ptr_null(strstr(told(slow, 3, set, BPI_LIMIT_REHEAT_TIME), "3-403.11(D)"));
    static const bpi_stretch made[] = {{0, 9 * H, BPI_STAY_COLD, true, &cool_100_cold_made, NULL}};
    ck_assert_ptr_nonnull(strstr(told(made, 1, set, BPI_LIMITS), "3-501.14(B)"));
    ck_assert_str_eq(told(made, 1, set, BPI_LIMIT_COOL_UNHEATED), "");
    bp_show_free(show);
}
END_TEST

/* A town that wants food down to the freezing point of water: ice water never gets it there. */
START_TEST(an_ice_bath_is_not_offered_where_it_does_not_help)
{
    bp_show *show = show_of();
    bpi_limit freezing = *show->limits->row[BPI_LIMIT_COOL_ALL];
    bpi_limits set = *show->limits;
    freezing.celsius = freezing.fahrenheit = 0;
    set.row[BPI_LIMIT_COOL_ALL] = &freezing;
    static const bpi_stretch s[] = {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
                                    {H, 9 * H, BPI_STAY_COLD, true, &cool_25_fridge, NULL}};
    ck_assert_ptr_nonnull(strstr(told(s, 2, &set, BPI_LIMITS), "; cook a smaller batch\n"));
    ck_assert_ptr_null(strstr(told(s, 2, &set, BPI_LIMITS), "ice bath"));
    bp_show_free(show);
}
END_TEST

/* TM 10-412 (2003) card A-32(1), as in the set us-armed-forces: a roast is held at 145 °F for 3 min, and the
 * card has no row that a probe shows at once. */
START_TEST(a_core_that_must_be_held_is_asked_to_be)
{
    bp_show *show = show_of();
    const bpi_limit card = {.celsius = 62778,
                            .fahrenheit = 62778,
                            .seconds = 180,
                            .rule = "Armed Forces Recipe Service A-32(1)",
                            .source = ""};
    bpi_limits set = *show->limits;
    set.row[BPI_LIMIT_COOK_ROAST] = &card;
    set.rows[BPI_LIMIT_COOK_ROAST] = 1;
    static const bpi_stretch s[] = {{0, H, BPI_STAY_COOK, true, &roast_145, NULL}};
    ck_assert_str_eq(
        told(s, 1, &set, BPI_LIMITS),
        "Armed Forces Recipe Service A-32(1): the target core of \"Roast\" is 62.8 °C (145 "
        "°F), and is not said to be held; write \"core_for\", or cook it to 62.8 °C (145 °F) "
        "held for 3 min\n"
        "+3600 s Armed Forces Recipe Service A-32(1): Roast: core at least 62.8 °C (145 °F), "
        "for 3 min\n");
    bp_show_free(show);
}
END_TEST

/* Every two hours and at the end while it is hot, once at the end of the cold; on the minute before, of the
 * day before too; nothing after it is last needed, nothing of what does not spoil. */
START_TEST(readings_are_asked_for_in_time_order)
{
    bp_show *show = show_of();
    static const bpi_stretch s[] = {
        {-5 * H, -4 * H - 29 * MIN - 30, BPI_STAY_COOK, true, &patty_63_short, NULL},
        {-4 * H - 29 * MIN - 30, H, BPI_STAY_HOT, true, NULL, NULL},
        {-4 * H, -2 * H, BPI_STAY_COOK, true, &stew, NULL},
        {H, 2 * H, BPI_STAY_HOT, false, NULL, NULL}};
    const char *text = told(s, 4, show->limits, BPI_LIMITS);
    static const char *const want[] = {
        ("-16200 s FDA Food Code 3-401.11(A)(2): Fry: core at least 63 °C (145 °F), held for 1 "
         "min\n"),
        "-9000 s FDA Food Code 3-501.16(A)(1): Kept hot: at least 57 °C (135 °F)\n",
        "-7200 s : Stew: core at least 90 °C (194 °F)\n",
        "-1800 s FDA Food Code 3-501.16(A)(1): Kept hot: at least 57 °C (135 °F)\n",
        "+3600 s FDA Food Code 3-501.16(A)(1): Kept hot: at least 57 °C (135 °F)\n"};
    const char *at = strstr(text, want[0]);
    for (size_t i = 0; i < sizeof want / sizeof *want; i++) {
        ck_assert_msg(at && strncmp(at, want[i], strlen(want[i])) == 0, "%zu in %s", i, text);
        at += strlen(want[i]);
    }
    ck_assert_str_eq(at, "");
    bp_show_free(show);
}
END_TEST

/* FDA Food Code 3-501.14: what was hot is read at both limits, what never was at one. */
START_TEST(cooling_is_read_at_each_of_its_limits)
{
    bp_show *show = show_of();
    static const bpi_stretch hot[] = {{0, H, BPI_STAY_COOK, true, &braise_74, NULL},
                                      {H, 9 * H, BPI_STAY_COLD, true, &cool_25_fridge, NULL}};
    const char *text = told(hot, 2, show->limits, BPI_LIMITS);
    ck_assert_ptr_nonnull(
        strstr(text, "Cooling: down to 21 °C (70 °F) within 2 h of 57 °C (135 °F)"));
    ck_assert_ptr_nonnull(
        strstr(text, "Cooling: down to 5 °C (41 °F) within 6 h of 57 °C (135 °F)"));
    static const bpi_stretch made[] = {{0, 9 * H, BPI_STAY_COLD, true, &cool_25_fridge, NULL}};
    text = told(made, 1, show->limits, BPI_LIMITS);
    ck_assert_ptr_nonnull(strstr(text, "Cooling: down to 5 °C (41 °F) within 4 h;"));
    ck_assert_ptr_null(strstr(text, "21 °C"));
    bp_show_free(show);
}
END_TEST

/* A wait that begins when it was last needed is not read. */
START_TEST(nothing_is_read_after_it_is_last_needed)
{
    bp_show *show = show_of();
    static const bpi_stretch s[] = {{0, H, BPI_STAY_HOT, true, NULL, NULL},
                                    {H, 2 * H, BPI_STAY_HOT, true, NULL, NULL}};
    bpi_arena *a = bpi_arena_new();
    bpi_path path = {show->limits, s, 2, true, false, H};
    bpi_path_result r;
    ck_assert_int_eq(bpi_path_check(&r, a, &path, NULL), BP_OK);
    ck_assert_uint_eq(r.readings, 1);
    ck_assert_int_eq(r.reading[0].at, H);
    bpi_arena_free(a);
    bp_show_free(show);
}
END_TEST

Suite *suite_safety_path(void);
Suite *suite_safety_path(void)
{
    Suite *s = suite_create("safety/path");
    TCase *c = tcase_create("path");
    tcase_add_loop_test(c, each_story_comes_to_its_findings, 0, sizeof stories / sizeof *stories);
    tcase_add_test(c, an_empty_path_has_nothing_to_say);
    tcase_add_loop_test(c, every_request_fails_once, 0, sizeof stories / sizeof *stories);
    tcase_add_test(c, a_set_without_a_row_asks_for_nothing_of_it);
    tcase_add_test(c, an_ice_bath_is_not_offered_where_it_does_not_help);
    tcase_add_test(c, a_core_that_must_be_held_is_asked_to_be);
    tcase_add_test(c, readings_are_asked_for_in_time_order);
    tcase_add_test(c, cooling_is_read_at_each_of_its_limits);
    tcase_add_test(c, nothing_is_read_after_it_is_last_needed);
    suite_add_tcase(s, c);
    return s;
}

#include "safety/path.h"

#include <check.h>
#include <string.h>

#include "base/limits.h"
#include "base/memory.h"

#define MIN INT64_C(60)
#define H   INT64_C(3600)

static const bpi_ingredient chicken = {.item = "chicken thighs", .raw_animal = true};

static const bpi_step dice = {.text = "Dice", .core_mC = BPI_NO_TEMP};
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
     {{0, 9 * H, BPI_STAY_COUNTER, false, &dice}, {9 * H, 10 * H, BPI_STAY_SET, false, NULL}},
     true,
     false,
     EVER,
     0,
     EVER,
     true,
     {{0}}},
    {"counter and set are summed, hot keeping is not; what is left counts from the end",
     {{0, 10 * MIN, BPI_STAY_COUNTER, true, &dice},
      {10 * MIN, 30 * MIN, BPI_STAY_COOK, true, &dice},
      {30 * MIN, 90 * MIN, BPI_STAY_HOT, true, NULL},
      {90 * MIN, 91 * MIN, BPI_STAY_COUNTER, true, NULL},
      {91 * MIN, 120 * MIN, BPI_STAY_SET, true, NULL}},
     true,
     false,
     EVER,
     40 * MIN,
     120 * MIN + 4 * H - 40 * MIN,
     true,
     {{0}}},
    {"a gap between stretches is time on the counter",
     {{0, 10 * MIN, BPI_STAY_HOT, true, NULL}, {25 * MIN, 30 * MIN, BPI_STAY_SET, true, NULL}},
     true,
     false,
     EVER,
     20 * MIN,
     30 * MIN + 4 * H - 20 * MIN,
     true,
     {{0}}},
    {"two branches side by side are out of control once",
     {{0, 2 * H, BPI_STAY_COUNTER, true, &dice},
      {1 * H, 3 * H, BPI_STAY_COUNTER, true, &dice},
      {1 * H, 2 * H, BPI_STAY_COUNTER, true, NULL},
      {4 * H, 4 * H + 30 * MIN, BPI_STAY_HOT, true, NULL}},
     true,
     false,
     EVER,
     4 * H,
     4 * H + 30 * MIN,
     true,
     {{0}}},
    {"the clock starts where the food becomes perishable",
     {{0, 3 * H, BPI_STAY_COUNTER, false, &dice}, {3 * H, 5 * H, BPI_STAY_SET, true, NULL}},
     true,
     false,
     EVER,
     2 * H,
     7 * H,
     true,
     {{0}}},
    {"four hours to the second are within 3-501.19(B) (FS-120)",
     {{0, 4 * H, BPI_STAY_SET, true, NULL}},
     true,
     false,
     EVER,
     4 * H,
     4 * H,
     true,
     {{0}}},
    {"one second more is not",
     {{0, 4 * H + 1, BPI_STAY_SET, true, NULL}},
     true,
     false,
     EVER,
     4 * H + 1,
     4 * H,
     true,
     {{BP_STOP, 4 * H, "FDA Food Code 3-501.19(B)", "more than 4 h"}}},
    {"neither the refrigerator nor the stove sets the clock back",
     {{0, 2 * H, BPI_STAY_COUNTER, true, &dice},
      {2 * H, 5 * H, BPI_STAY_COLD, true, NULL},
      {5 * H, 6 * H, BPI_STAY_COOK, true, &dice},
      {6 * H, 9 * H, BPI_STAY_SET, true, NULL}},
     true,
     false,
     EVER,
     5 * H,
     8 * H,
     true,
     {{BP_STOP, 8 * H, "FDA Food Code 3-501.19(B)", "keep it hot or cold for longer"}}},
    {"what stands there after it was last needed is not held against it",
     {{0, 6 * H, BPI_STAY_SET, true, NULL}},
     true,
     false,
     1 * H,
     1 * H,
     4 * H,
     true,
     {{0}}},
    {"time until it is last needed counts though the stretches end before",
     {{0, 1 * H, BPI_STAY_SET, true, NULL}},
     true,
     false,
     5 * H,
     5 * H,
     4 * H,
     true,
     {{BP_STOP, 4 * H, "FDA Food Code 3-501.19(B)", "prepare it later"}}},
    {"poultry at 74 C, eaten (FS-010)",
     {{0, H, BPI_STAY_COOK, true, &braise_74}, {H, 2 * H, BPI_STAY_SET, true, NULL}},
     true,
     true,
     EVER,
     H,
     5 * H,
     true,
     {{0}}},
    {"poultry at 60 C",
     {{0, H, BPI_STAY_COOK, true, &braise_60}},
     true,
     false,
     EVER,
     0,
     5 * H,
     false,
     {{BP_STOP, 0, "FDA Food Code 3-401.11(A)(3)",
       "the target core of \"Braise\" is 60 °C (140 °F), below 74 °C (165 °F)"},
      {BP_CAUTION, EVER, "FDA Food Code 3-401.11(A)", "no later step states a core"}}},
    {"ground meat at 67 C (FS-004, FS-006)",
     {{0, H, BPI_STAY_COOK, true, &patty_67}},
     true,
     false,
     EVER,
     0,
     5 * H,
     true,
     {{BP_STOP, 0, "FDA Food Code 3-401.11(A)(2)",
       "below 68 °C (155 °F); cook it to that held for 17 s"}}},
    {"fish at 62 C (FS-001, FS-003)",
     {{0, H, BPI_STAY_COOK, true, &fillet_62}},
     true,
     false,
     EVER,
     0,
     5 * H,
     true,
     {{BP_STOP, 0, "FDA Food Code 3-401.11(A)(1)",
       "below 63 °C (145 °F); cook it to that held for 15 s"}}},
    {"vegetables with no core are a note (FS-052)",
     {{0, H, BPI_STAY_COOK, true, &simmer_plant}},
     true,
     false,
     EVER,
     0,
     5 * H,
     true,
     {{BP_NOTE, 0, "FDA Food Code 3-401.13", "at least 57 °C (135 °F)"}}},
    {"poultry with no core",
     {{0, H, BPI_STAY_COOK, true, &braise_unstated}},
     true,
     false,
     EVER,
     0,
     5 * H,
     false,
     {{BP_CAUTION, 0, "FDA Food Code 3-401.11(A)(3)", "no target core"},
      {BP_CAUTION, EVER, "FDA Food Code 3-401.11(A)", "Braise"}}},
    {"a sear without a core is made good by the braise after it",
     {{0, 5 * MIN, BPI_STAY_COOK, true, &sear}, {5 * MIN, H, BPI_STAY_COOK, true, &braise_74}},
     true,
     true,
     EVER,
     0,
     5 * H,
     true,
     {{0}}},
    {"a mid-cook pot is judged by the finished one",
     {{0, 5 * MIN, BPI_STAY_COOK, true, &braise_60}},
     false,
     false,
     EVER,
     0,
     5 * MIN + 4 * H,
     false,
     {{0}}},
    {"raw meat of no stated kind needs the highest core in the table",
     {{0, H, BPI_STAY_COOK, true, &brown_other_63}},
     true,
     false,
     EVER,
     0,
     5 * H,
     false,
     {{BP_CAUTION, EVER, "FDA Food Code 3-401.11(A)", "Brown"}}},
    {"raw meat after the cooking is raw again",
     {{0, H, BPI_STAY_COOK, true, &braise_74}, {H, H + MIN, BPI_STAY_COUNTER, true, &marinate}},
     true,
     false,
     EVER,
     MIN,
     H + MIN + 4 * H - MIN,
     false,
     {{BP_CAUTION, EVER, "FDA Food Code 3-401.11(A)", "Marinate"}}},
    {"tasting what was not cooked through",
     {{0, H, BPI_STAY_COLD, true, &marinate}},
     true,
     true,
     EVER,
     0,
     5 * H,
     false,
     {{BP_STOP, H, "FDA Food Code 3-401.11(A)", "cooked through after \"Marinate\""}}},
    {"tasting from a mid-cook pot",
     {{0, H, BPI_STAY_COOK, true, &simmer_plant}},
     false,
     true,
     EVER,
     0,
     5 * H,
     true,
     {{BP_NOTE, 0, "FDA Food Code 3-401.13", "Simmer"},
      {BP_STOP, H, "FDA Food Code 3-401.11(A)", "not a finished dish"}}},
    {"kept cold straight after heat (FS-080 to FS-084)",
     {{0, H, BPI_STAY_COOK, true, &braise_74}, {H, 3 * H, BPI_STAY_COLD, true, NULL}},
     true,
     false,
     EVER,
     0,
     7 * H,
     true,
     {{BP_CAUTION, H, "FDA Food Code 3-501.14(A)",
       "to 21 °C (70 °F) within 2 h and 5 °C (41 °F) within 6 h in all"}}},
    {"a step that chills it leaves a note with the times",
     {{0, H, BPI_STAY_COOK, true, &braise_74},
      {H, 3 * H, BPI_STAY_COLD, true, &chill},
      {3 * H, 5 * H, BPI_STAY_COLD, true, NULL}},
     true,
     false,
     EVER,
     0,
     9 * H,
     true,
     {{BP_NOTE, H, "FDA Food Code 3-501.14(A)", "\"Chill\": check that it is down to 21 °C"}}},
    {"cold keeping before any heat is nobody's concern",
     {{0, H, BPI_STAY_COLD, true, NULL}, {H, 2 * H, BPI_STAY_HOT, true, NULL}},
     true,
     false,
     EVER,
     0,
     6 * H,
     true,
     {{0}}},
    {"kept hot after chilling without heating it (FS-060)",
     {{0, H, BPI_STAY_COOK, true, &braise_74},
      {H, 3 * H, BPI_STAY_COLD, true, &chill},
      {3 * H, 4 * H, BPI_STAY_HOT, true, NULL}},
     true,
     false,
     EVER,
     0,
     8 * H,
     true,
     {{BP_NOTE, H, "FDA Food Code 3-501.14(A)", "Chill"},
      {BP_CAUTION, 3 * H, "FDA Food Code 3-403.11(A)", "heats it to 74 °C (165 °F)"}}},
    {"reheated to 70 C only",
     {{0, H, BPI_STAY_COOK, true, &braise_74},
      {H, 3 * H, BPI_STAY_COLD, true, &chill},
      {3 * H, 4 * H, BPI_STAY_COOK, true, &reheat_70},
      {4 * H, 5 * H, BPI_STAY_HOT, true, NULL}},
     true,
     false,
     EVER,
     0,
     9 * H,
     true,
     {{BP_NOTE, H, "FDA Food Code 3-501.14(A)", "Chill"},
      {BP_STOP, 3 * H, "FDA Food Code 3-403.11(A)", "70 °C"},
      {BP_CAUTION, 4 * H, "FDA Food Code 3-403.11(A)", "kept hot after it was chilled"}}},
    {"reheated to 74 C within 2 h",
     {{0, H, BPI_STAY_COOK, true, &braise_74},
      {H, 3 * H, BPI_STAY_COLD, true, &chill},
      {3 * H, 5 * H, BPI_STAY_COOK, true, &reheat_74},
      {5 * H, 6 * H, BPI_STAY_HOT, true, NULL}},
     true,
     false,
     EVER,
     0,
     10 * H,
     true,
     {{BP_NOTE, H, "FDA Food Code 3-501.14(A)", "Chill"}}},
    {"reheated too slowly (FS-065)",
     {{0, H, BPI_STAY_COOK, true, &braise_74},
      {H, 3 * H, BPI_STAY_COLD, true, &chill},
      {3 * H, 5 * H + 1, BPI_STAY_COOK, true, &reheat_74}},
     true,
     false,
     EVER,
     0,
     9 * H + 1,
     true,
     {{BP_NOTE, H, "FDA Food Code 3-501.14(A)", "Chill"},
      {BP_CAUTION, 3 * H, "FDA Food Code 3-403.11(D)", "within 2 h"}}},
    {"cooked the day before and kept cold for more than 24 h (FS-110)",
     {{-30 * H, -29 * H, BPI_STAY_COOK, true, &braise_74},
      {-29 * H, -26 * H, BPI_STAY_COLD, true, &chill},
      {-26 * H, 2 * H, BPI_STAY_COLD, true, NULL}},
     true,
     false,
     EVER,
     0,
     6 * H,
     true,
     {{BP_NOTE, -29 * H, "FDA Food Code 3-501.14(A)", "Chill"},
      {BP_NOTE, -29 * H, "FDA Food Code 3-501.17(A)", "seventh day"}}},
    {"made on Monday it may be used on Sunday (FS-111) ...",
     {{-140 * H, -139 * H, BPI_STAY_COOK, true, &braise_74},
      {-139 * H, 2 * H, BPI_STAY_COLD, true, &chill}},
     true,
     false,
     EVER,
     0,
     6 * H,
     true,
     {{BP_NOTE, -139 * H, "FDA Food Code 3-501.14(A)", "Chill"},
      {BP_NOTE, -139 * H, "FDA Food Code 3-501.17(A)", "write on it the date"}}},
    {"... but not on the Monday after",
     {{-147 * H, -146 * H, BPI_STAY_COOK, true, &braise_74},
      {-146 * H, 1 * H, BPI_STAY_COLD, true, &chill}},
     true,
     false,
     EVER,
     0,
     5 * H,
     true,
     {{BP_NOTE, -146 * H, "FDA Food Code 3-501.14(A)", "Chill"},
      {BP_STOP, -146 * H, "FDA Food Code 3-501.17(A)", "past its seventh day"}}},
};

static bpi_path path_of(const story *s)
{
    bpi_path path = {s->s, 0, s->finished, s->eaten, s->last};
    while (path.stretches < STRETCHES && s->s[path.stretches].from < s->s[path.stretches].to)
        path.stretches++;
    return path;
}

START_TEST(each_story_comes_to_its_findings)
{
    const story *s = &stories[_i];
    bpi_arena *a = bpi_arena_new();
    bpi_path path = path_of(s);
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
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(an_empty_path_has_nothing_to_say)
{
    bpi_arena *a = bpi_arena_new();
    bpi_path path = {.last = BP_NO_TIME};
    bpi_path_result r;
    ck_assert_int_eq(bpi_path_check(&r, a, &path, NULL), BP_OK);
    ck_assert_uint_eq(r.findings, 0);
    ck_assert(r.use_by == BP_NO_TIME && r.cooked);
    bpi_arena_free(a);
}
END_TEST

START_TEST(every_request_fails_once)
{
    static bp_errors errs;
    bool fired = true;
    for (long k = 0; fired; k++) {
        errs.n = errs.more = 0;
        bpi_arena *a = bpi_arena_new();
        bpi_path path = path_of(&stories[sizeof stories / sizeof *stories - 1]);
        bpi_path_result r;
        bpi_mem_fail_at(k, 0);
        bp_code rc = bpi_path_check(&r, a, &path, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert_uint_eq(errs.n, fired ? 1 : 0);
        bpi_arena_free(a);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

Suite *suite_safety_path(void);
Suite *suite_safety_path(void)
{
    Suite *s = suite_create("safety/path");
    TCase *c = tcase_create("path");
    tcase_add_loop_test(c, each_story_comes_to_its_findings, 0, sizeof stories / sizeof *stories);
    tcase_add_test(c, an_empty_path_has_nothing_to_say);
    tcase_add_test(c, every_request_fails_once);
    suite_add_tcase(s, c);
    return s;
}

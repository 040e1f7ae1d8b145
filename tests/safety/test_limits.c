#include "safety/limits.h"

#include <check.h>
#include <string.h>

#include "backpot/show.h"
#include "base/memory.h"

static bp_show *show; /* for its limits: the default set */

static void open_show(void)
{
    ck_assert_int_eq(bp_show_open(&show, "tests/model/base.json", NULL), BP_OK);
}

static void close_show(void)
{
    bp_show_free(show);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

/* Each edge in both units, as a show file would have it: thousandths of °C, °F rounded to one. */
static const struct {
    const char *name;
    bpi_food food;
    int32_t temp_mC;
    bool reached;
    int64_t held;
} edges[] = {
    {"63 C for whole meat", BPI_FOOD_WHOLE_MEAT, 63000, true, 0},
    {"145 F for whole meat is 62.778 C", BPI_FOOD_WHOLE_MEAT, 62778, true, 0},
    {"144 F for whole meat", BPI_FOOD_WHOLE_MEAT, 62222, false, 0},
    {"68 C for ground meat, below 155 F", BPI_FOOD_GROUND, 68000, true, 0},
    {"67.9 C for ground meat", BPI_FOOD_GROUND, 67900, false, 0},
    {"74 C for poultry", BPI_FOOD_POULTRY, 74000, true, 0},
    {"165 F for poultry is 73.889 C", BPI_FOOD_POULTRY, 73889, true, 0},
    {"73.8 C for poultry", BPI_FOOD_POULTRY, 73800, false, 0},
    {"57 C for plants, below 135 F", BPI_FOOD_PLANT, 57000, true, 0},
    {"134 F for plants", BPI_FOOD_PLANT, 56667, false, 0},
    {"165 F reheated", BPI_FOOD_REHEATED, 73889, true, 0},
    {"135 F reheated", BPI_FOOD_REHEATED, 57222, false, 0},
    {"63 C held for 3 min is as good for ground meat (FS-007)", BPI_FOOD_GROUND, 63000, true, 180},
    {"63 C held for 2 min 59 s is not", BPI_FOOD_GROUND, 63000, false, 179},
    {"66 C held for 1 min (FS-008)", BPI_FOOD_GROUND, 66000, true, 60},
    {"70 C at once (FS-009)", BPI_FOOD_GROUND, 70000, true, 0},
    {"a roast at 130 F needs 112 min (FS-020)", BPI_FOOD_ROAST, 54444, true, 112 * 60},
    {"a roast at 130 F for a minute less", BPI_FOOD_ROAST, 54444, false, 111 * 60},
    {"a roast at 145 F for 4 min (FS-029)", BPI_FOOD_ROAST, 62778, true, 240},
    {"a roast at 145 F of which nothing is said", BPI_FOOD_ROAST, 62778, false, 0},
    {"a roast at 158 F at once (FS-036)", BPI_FOOD_ROAST, 70000, true, 0},
    {"from a sealed pack, 135 F (FS-064)", BPI_FOOD_PACKAGED, 57222, true, 0},
};

START_TEST(a_limit_is_reached_in_whichever_unit_it_was_written)
{
    ck_assert_msg(bpi_limit_cooked(show->limits, bpi_limit_cook(edges[_i].food), edges[_i].temp_mC,
                                   edges[_i].held) == edges[_i].reached,
                  "%s", edges[_i].name);
}
END_TEST

START_TEST(other_food_has_no_published_core)
{
    ck_assert_int_eq(bpi_limit_cook(BPI_FOOD_OTHER), BPI_LIMITS);
    ck_assert(!bpi_limit_cooked(show->limits, BPI_LIMITS, 100000, 0));
    ck_assert_ptr_null(bpi_limit_named(show->limits, BPI_LIMITS));
    bpi_limits less = *show->limits; /* a set need not say anything of plants */
    less.rows[BPI_LIMIT_COOK_PLANT] = 0;
    ck_assert_ptr_null(bpi_limit_named(&less, BPI_LIMIT_COOK_PLANT));
    ck_assert(!bpi_limit_cooked(&less, BPI_LIMIT_COOK_PLANT, 100000, 0));
}
END_TEST

static const struct {
    int32_t temp_mC;
    const char *text;
} temps[] = {
    {74000, "74 °C (165 °F)"},  {73889, "73.9 °C (165 °F)"}, {0, "0 °C (32 °F)"},
    {-20000, "-20 °C (-4 °F)"}, {-17778, "-17.8 °C (0 °F)"}, {57222, "57.2 °C (135 °F)"},
    {-49, "0 °C (32 °F)"},
};

START_TEST(temperatures_are_written_in_both_units)
{
    for (size_t i = 0; i < sizeof temps / sizeof *temps; i++) {
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_temp_put(&t, temps[i].temp_mC);
        ck_assert_str_eq(t.s, temps[i].text);
        bpi_text_release(&t);
    }
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_limit_put(&t, bpi_limit_of(show->limits, BPI_LIMIT_HOLD_HOT));
    ck_assert_str_eq(t.s, "57 °C (135 °F)");
    bpi_text_release(&t);
}
END_TEST

/* What is cold enough in the one unit is so in the other. */
START_TEST(a_limit_from_above_is_kept_in_either_unit)
{
    const bpi_limit *cold = bpi_limit_of(show->limits, BPI_LIMIT_HOLD_COLD);
    ck_assert(bpi_limit_below(cold, 5000) && bpi_limit_below(cold, 4000));
    ck_assert(!bpi_limit_below(cold, 5556)); /* 42 °F */
    const bpi_limit *first = bpi_limit_of(show->limits, BPI_LIMIT_COOL_FIRST);
    ck_assert(bpi_limit_below(first, 21111) && !bpi_limit_below(first, 21200)); /* 70 °F */
}
END_TEST

/* A cook is told a row that the probe itself can show, where there is one. */
START_TEST(a_cook_is_told_a_row_that_a_probe_shows)
{
    ck_assert_int_eq(bpi_limit_named(show->limits, BPI_LIMIT_COOK_GROUND)->seconds, 17);
    ck_assert_int_eq(bpi_limit_named(show->limits, BPI_LIMIT_COOK_ROAST)->seconds, 22);
}
END_TEST

Suite *suite_safety_limits(void);
Suite *suite_safety_limits(void)
{
    Suite *s = suite_create("safety/limits");
    TCase *c = tcase_create("limits");
    tcase_add_checked_fixture(c, open_show, close_show);
    tcase_add_loop_test(c, a_limit_is_reached_in_whichever_unit_it_was_written, 0,
                        sizeof edges / sizeof *edges);
    tcase_add_test(c, other_food_has_no_published_core);
    tcase_add_test(c, temperatures_are_written_in_both_units);
    tcase_add_test(c, a_limit_from_above_is_kept_in_either_unit);
    tcase_add_test(c, a_cook_is_told_a_row_that_a_probe_shows);
    suite_add_tcase(s, c);
    return s;
}

#include "safety/claim.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "support/rows.h"

/* The published thresholds: rows FS-200 to FS-245 (claims, 21 CFR 101.54 to 101.62), FS-300 to FS-334
 * (daily values, 21 CFR 101.9(c)) and FS-375 (energy of fat) of tests/safety/published.csv, which
 * says where each was read. The figure of each row is taken from there, and the verdict is asked for
 * just under it, at it and just over it. */
#define ROWS "tests/safety/published.csv"

#define MG   INT64_C(1000000)
#define G    INT64_C(1000000000)
#define KCAL INT64_C(1000)

static rows all;
static long alive; /* blocks in use between two tests: those of the rows */

static double value_of(const char *id)
{
    const row *r = rows_find(&all, id);
    ck_assert_msg(r != NULL, "%s is not there", id);
    return strtod(r->field[2], NULL);
}

/* The figure of a row in the unit of its nutrient: "0.5" "g per RACC", "5" "kcal ...", "35" "mg ...". */
static int64_t limit_of(const char *id)
{
    const row *r = rows_find(&all, id);
    ck_assert_msg(r != NULL, "%s is not there", id);
    int64_t unit = strncmp(r->field[3], "kcal", 4) == 0  ? KCAL
                   : strncmp(r->field[3], "mcg", 3) == 0 ? 1000
                   : strncmp(r->field[3], "mg", 2) == 0  ? MG
                   : r->field[3][0] == 'g'               ? G
                                                         : 0;
    ck_assert_msg(unit > 0, "%s: unit %s", id, r->field[3]);
    return (int64_t)(strtod(r->field[2], NULL) * 1000 + 0.5) * unit / 1000;
}

static bpi_claim_test ask(const bpi_claim *c, const bpi_nutrition *n, const char *rule)
{
    bpi_text figure = BPI_TEXT_EMPTY, why = BPI_TEXT_EMPTY;
    bpi_claim_test t = bpi_claim_judge(c, n, &figure, &why);
    ck_assert(!figure.failed && !why.failed && why.len > 0);
    if (rule)
        ck_assert_msg(strcmp(t.rule, rule) == 0, "%s decides, not %s: %s", t.rule, rule, why.s);
    bpi_text_release(&figure);
    bpi_text_release(&why);
    return t;
}

static bpi_nutrition food(bool meal)
{
    bpi_nutrition n;
    bpi_nutrition_init(&n);
    n.stated = true;
    n.meal = meal;
    n.serving = 1000; /* 100 g: what a threshold for 100 g, or for the reference amount, is for */
    n.reference = meal ? BPI_NOT_STATED : 1000;
    return n;
}

/* "101.61(b)(4)" of a row. */
static const char *rule_of(const char *id)
{
    return rows_find(&all, id)->field[5];
}

/* ---- so much, no more -------------------------------------------------------------------- */

static const struct {
    const char *id;
    bpi_says says;
    bpi_nutrient_id of, looked_at; /* of what it is said; whose figure it is */
    bool meal, less;               /* less: at the figure it does not hold any more */
} amounts[] = {
    {"FS-210", BPI_SAYS_FREE, BPI_ENERGY, BPI_ENERGY, false, true},
    {"FS-210", BPI_SAYS_FREE, BPI_ENERGY, BPI_ENERGY, true, true},
    {"FS-211", BPI_SAYS_LOW, BPI_ENERGY, BPI_ENERGY, false, false},
    {"FS-212", BPI_SAYS_LOW, BPI_ENERGY, BPI_ENERGY, true, false},
    {"FS-214", BPI_SAYS_FREE, BPI_SUGARS, BPI_SUGARS, false, true},
    {"FS-220", BPI_SAYS_FREE, BPI_SODIUM, BPI_SODIUM, false, true},
    {"FS-221", BPI_SAYS_VERY_LOW, BPI_SODIUM, BPI_SODIUM, false, false},
    {"FS-222", BPI_SAYS_VERY_LOW, BPI_SODIUM, BPI_SODIUM, true, false},
    {"FS-223", BPI_SAYS_LOW, BPI_SODIUM, BPI_SODIUM, false, false},
    {"FS-224", BPI_SAYS_LOW, BPI_SODIUM, BPI_SODIUM, true, false},
    {"FS-230", BPI_SAYS_FREE, BPI_FAT, BPI_FAT, false, true},
    {"FS-231", BPI_SAYS_LOW, BPI_FAT, BPI_FAT, false, false},
    {"FS-232", BPI_SAYS_LOW, BPI_FAT, BPI_FAT, true, false},
    {"FS-235", BPI_SAYS_FREE, BPI_SATURATED_FAT, BPI_SATURATED_FAT, false, true},
    {"FS-236", BPI_SAYS_FREE, BPI_SATURATED_FAT, BPI_TRANS_FAT, false, true},
    {"FS-237", BPI_SAYS_LOW, BPI_SATURATED_FAT, BPI_SATURATED_FAT, false, false},
    {"FS-239", BPI_SAYS_LOW, BPI_SATURATED_FAT, BPI_SATURATED_FAT, true, false},
    {"FS-241", BPI_SAYS_FREE, BPI_CHOLESTEROL, BPI_CHOLESTEROL, false, true},
    {"FS-242", BPI_SAYS_LOW, BPI_CHOLESTEROL, BPI_CHOLESTEROL, false, false},
    {"FS-243", BPI_SAYS_LOW, BPI_CHOLESTEROL, BPI_SATURATED_FAT, false, false},
};

START_TEST(an_amount_holds_up_to_its_figure)
{
    for (size_t i = 0; i < sizeof amounts / sizeof *amounts; i++) {
        int64_t limit = limit_of(amounts[i].id);
        const bpi_claim c = {
            .says = (int)amounts[i].says, .said = "low", .of = (int)amounts[i].of, .than = ""};
        for (int64_t off = -1; off <= 1; off++) {
            bpi_nutrition n = food(amounts[i].meal);
            for (int k = 0; k < BPI_NUTRIENTS; k++)
                n.amount[k] = 0; /* nothing else stands in the way */
            if (amounts[i].looked_at != BPI_ENERGY)
                n.amount[BPI_ENERGY] = 900 * KCAL;
            n.amount[amounts[i].looked_at] = limit + off;
            bool holds = off < 0 || (off == 0 && !amounts[i].less);
            bpi_claim_test t = ask(&c, &n, holds ? NULL : rule_of(amounts[i].id));
            ck_assert_msg(t.verdict == (holds ? BP_YES : BP_NO), "%s %+d: %s", amounts[i].id,
                          (int)off, bp_truth_name(t.verdict));
        }
        bpi_nutrition n = food(amounts[i].meal);
        ck_assert_msg(ask(&c, &n, NULL).verdict == BP_UNSURE, "%s: not stated", amounts[i].id);
    }
}
END_TEST

START_TEST(a_small_reference_amount_is_judged_in_50_g_too)
{
    /* 30 g or less: 101.60(b)(2), 101.61(b)(2) and (4), 101.62(b)(2). */
    const bpi_claim c = {.says = BPI_SAYS_LOW, .said = "low", .of = BPI_SODIUM, .than = ""};
    bpi_nutrition n = food(false);
    n.serving = n.reference = 300;
    n.amount[BPI_SODIUM] = 84 * MG; /* 140 mg in 50 g */
    ck_assert_int_eq(ask(&c, &n, "101.61(b)(4)").verdict, BP_YES);
    n.amount[BPI_SODIUM]++;
    ck_assert_int_eq(ask(&c, &n, "101.61(b)(4)").verdict, BP_NO);
    n.reference = 301; /* and 301/300 of that is still below 140 mg */
    ck_assert_int_eq(ask(&c, &n, NULL).verdict, BP_YES);
}
END_TEST

START_TEST(a_figure_is_worked_out_for_the_reference_amount)
{
    const bpi_claim c = {.says = BPI_SAYS_LOW, .said = "low", .of = BPI_SODIUM, .than = ""};
    bpi_nutrition n = food(false);
    n.serving = 3000, n.reference = 2400;
    n.amount[BPI_SODIUM] = 175 * MG; /* 140 mg in 240 g */
    ck_assert_int_eq(ask(&c, &n, NULL).verdict, BP_YES);
    n.amount[BPI_SODIUM]++;
    ck_assert_int_eq(ask(&c, &n, NULL).verdict, BP_NO);
    n.reference = BPI_NOT_STATED;
    ck_assert_int_eq(ask(&c, &n, NULL).verdict, BP_UNSURE);
    n.reference = 2400, n.serving = BPI_NOT_STATED;
    ck_assert_int_eq(ask(&c, &n, NULL).verdict, BP_UNSURE);
    n.meal = true, n.serving = 3000; /* 58 mg in 100 g */
    ck_assert_int_eq(ask(&c, &n, "101.61(b)(5)").verdict, BP_YES);
}
END_TEST

START_TEST(free_of_it_is_judged_in_a_serving_and_in_the_reference_amount)
{
    const bpi_claim c = {.says = BPI_SAYS_FREE, .said = "free", .of = BPI_SODIUM, .than = ""};
    bpi_nutrition n = food(false);
    n.serving = 500, n.amount[BPI_SODIUM] = 3 * MG; /* 6 mg in the reference amount */
    ck_assert_int_eq(ask(&c, &n, "101.61(b)(1)").verdict, BP_NO);
    n.serving = 2000, n.amount[BPI_SODIUM] = 6 * MG; /* 3 mg, yet 6 mg in a serving */
    ck_assert_int_eq(ask(&c, &n, "101.61(b)(1)").verdict, BP_NO);
    n.reference = BPI_NOT_STATED; /* that is enough to know */
    ck_assert_int_eq(ask(&c, &n, "101.61(b)(1)").verdict, BP_NO);
    n.amount[BPI_SODIUM] = 4 * MG;
    ck_assert_int_eq(ask(&c, &n, NULL).verdict, BP_UNSURE);
}
END_TEST

/* ---- shares of the energy ---------------------------------------------------------------- */

START_TEST(a_share_of_the_energy_holds_up_to_its_figure)
{
    static const struct {
        const char *id;
        bpi_nutrient_id of;
        bool meal, less;
    } shares[] = {{"FS-233", BPI_FAT, true, false},
                  {"FS-238", BPI_SATURATED_FAT, false, false},
                  {"FS-240", BPI_SATURATED_FAT, true, true}};
    double factor = value_of("FS-375"); /* kcal in a gram of fat */
    for (size_t i = 0; i < sizeof shares / sizeof *shares; i++) {
        const bpi_claim c = {
            .says = BPI_SAYS_LOW, .said = "low", .of = (int)shares[i].of, .than = ""};
        for (int off = -1; off <= 1; off++) {
            bpi_nutrition n = food(shares[i].meal);
            n.amount[shares[i].of] = G / 2;
            /* So much energy that 0.5 g of fat are just the share, in thousandths of a kcal. */
            double energy = 0.5 * factor * 100 / value_of(shares[i].id) * 1000;
            n.amount[BPI_ENERGY] = (int64_t)(energy + 0.5) - off;
            ck_assert_msg(energy == (double)(int64_t)energy, "%s", shares[i].id);
            bool holds = off < 0 || (off == 0 && !shares[i].less);
            ck_assert_msg(ask(&c, &n, holds ? NULL : rule_of(shares[i].id)).verdict ==
                              (holds ? BP_YES : BP_NO),
                          "%s %+d", shares[i].id, off);
        }
        bpi_nutrition n = food(shares[i].meal);
        n.amount[shares[i].of] = G / 2;
        ck_assert_int_eq(ask(&c, &n, rule_of(shares[i].id)).verdict, BP_UNSURE);
    }
}
END_TEST

/* ---- less than something else ------------------------------------------------------------ */

static const struct {
    const char *id;
    bpi_says says;
    bpi_nutrient_id of;
} lesses[] = {
    {"FS-207", BPI_SAYS_LIGHT, BPI_SODIUM},   {"FS-213", BPI_SAYS_REDUCED, BPI_ENERGY},
    {"FS-215", BPI_SAYS_REDUCED, BPI_SUGARS}, {"FS-225", BPI_SAYS_REDUCED, BPI_SODIUM},
    {"FS-234", BPI_SAYS_REDUCED, BPI_FAT},    {"FS-245", BPI_SAYS_REDUCED, BPI_CHOLESTEROL},
};

START_TEST(reduced_is_less_than_the_same_weight_of_the_other_food)
{
    for (size_t i = 0; i < sizeof lesses / sizeof *lesses; i++) {
        int64_t part = (int64_t)value_of(lesses[i].id);
        bpi_claim c = {.says = (int)lesses[i].says,
                       .said = "reduced",
                       .of = (int)lesses[i].of,
                       .than = "the tin"};
        bpi_nutrition_init(&c.than_of);
        c.than_of.serving = 2000; /* twice the weight */
        c.than_of.amount[lesses[i].of] = 200000;
        for (int off = -1; off <= 1; off++) {
            bpi_nutrition n = food(false);
            n.amount[lesses[i].of] = 1000 * (100 - part) + off;
            ck_assert_msg(ask(&c, &n, rule_of(lesses[i].id)).verdict == (off <= 0 ? BP_YES : BP_NO),
                          "%s %+d", lesses[i].id, off);
        }
        bpi_nutrition n = food(false);
        ck_assert_int_eq(ask(&c, &n, NULL).verdict, BP_UNSURE);
        n.amount[lesses[i].of] = 1;
        c.than_of.serving = BPI_NOT_STATED;
        ck_assert_int_eq(ask(&c, &n, NULL).verdict, BP_UNSURE);
        c.than = "";
        ck_assert_int_eq(ask(&c, &n, NULL).verdict, BP_UNSURE);
    }
}
END_TEST

START_TEST(light_has_half_the_fat_or_where_it_is_lean_a_third_less_energy)
{
    ck_assert(value_of("FS-204") == 50 && value_of("FS-206") == 50 && value_of("FS-205") == 33.333);
    bpi_claim c = {.says = BPI_SAYS_LIGHT, .said = "light", .of = BPI_ENERGY, .than = "the other"};
    bpi_nutrition_init(&c.than_of);
    c.than_of.serving = 1000;
    c.than_of.amount[BPI_FAT] = 20 * G;
    c.than_of.amount[BPI_ENERGY] = 300 * KCAL;
    bpi_nutrition n = food(false);
    static const struct {
        int64_t fat, energy;
        bp_truth is;
        const char *rule;
    } cases[] = {
        {10 * G, 300 * KCAL, BP_YES, "101.56(b)(2)"},    /* half the fat, 30 % of the energy  */
        {10 * G + 1, 300 * KCAL, BP_NO, "101.56(b)(2)"}, /* a hair more, and as much energy   */
        {11 * G, 200 * KCAL, BP_YES, "101.56(b)(2)"},    /* 49.5 %: a third less energy       */
        {11 * G, 200 * KCAL + 1, BP_NO, "101.56(b)(2)"}, /* a hair more                       */
        {12 * G, 200 * KCAL, BP_NO, "101.56(b)(1)"},     /* 54 % from fat: only fat counts    */
        {10 * G, 180 * KCAL, BP_YES, "101.56(b)(1)"},    /* just 50 %, and half the fat       */
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        n.amount[BPI_FAT] = cases[i].fat;
        n.amount[BPI_ENERGY] = cases[i].energy;
        ck_assert_msg(ask(&c, &n, cases[i].rule).verdict == cases[i].is, "case %zu", i);
    }
    n.amount[BPI_FAT] = BPI_NOT_STATED;
    ck_assert_int_eq(ask(&c, &n, NULL).verdict, BP_UNSURE);
    n.meal = true; /* of a meal it is another rule, which is not among the rows */
    ck_assert_int_eq(ask(&c, &n, "").verdict, BP_UNSURE);
}
END_TEST

/* ---- daily values ------------------------------------------------------------------------ */

static const struct {
    const char *id, *name;
    bpi_nutrient_id of;
} dailies[] = {
    {"FS-300", "fat", BPI_FAT},
    {"FS-301", "saturated fat", BPI_SATURATED_FAT},
    {"FS-302", "cholesterol", BPI_CHOLESTEROL},
    {"FS-303", "carbohydrate", BPI_CARBOHYDRATE},
    {"FS-304", "sodium", BPI_SODIUM},
    {"FS-305", "fiber", BPI_FIBER},
    {"FS-306", "protein", BPI_PROTEIN},
    {"FS-307", "added sugars", BPI_ADDED_SUGARS},
    {"FS-308", "vitamin A", BPI_VITAMIN_A},
    {"FS-309", "vitamin C", BPI_VITAMIN_C},
    {"FS-310", "calcium", BPI_CALCIUM},
    {"FS-311", "iron", BPI_IRON},
    {"FS-312", "vitamin D", BPI_VITAMIN_D},
    {"FS-313", "vitamin E", BPI_VITAMIN_E},
    {"FS-314", "vitamin K", BPI_VITAMIN_K},
    {"FS-315", "thiamin", BPI_THIAMIN},
    {"FS-316", "riboflavin", BPI_RIBOFLAVIN},
    {"FS-317", "niacin", BPI_NIACIN},
    {"FS-318", "vitamin B6", BPI_VITAMIN_B6},
    {"FS-319", "folate", BPI_FOLATE},
    {"FS-320", "vitamin B12", BPI_VITAMIN_B12},
    {"FS-321", "biotin", BPI_BIOTIN},
    {"FS-322", "pantothenic acid", BPI_PANTOTHENIC},
    {"FS-323", "phosphorus", BPI_PHOSPHORUS},
    {"FS-324", "iodine", BPI_IODINE},
    {"FS-325", "magnesium", BPI_MAGNESIUM},
    {"FS-326", "zinc", BPI_ZINC},
    {"FS-327", "selenium", BPI_SELENIUM},
    {"FS-328", "copper", BPI_COPPER},
    {"FS-329", "manganese", BPI_MANGANESE},
    {"FS-330", "chromium", BPI_CHROMIUM},
    {"FS-331", "molybdenum", BPI_MOLYBDENUM},
    {"FS-332", "chloride", BPI_CHLORIDE},
    {"FS-333", "potassium", BPI_POTASSIUM},
    {"FS-334", "choline", BPI_CHOLINE},
};

static bp_truth of_daily(bpi_says says, bpi_nutrient_id of, int64_t amount, const char *rule)
{
    const bpi_claim c = {.says = (int)says, .said = "high", .of = (int)of, .than = ""};
    bpi_nutrition n = food(false);
    n.amount[of] = amount;
    return ask(&c, &n, rule).verdict;
}

START_TEST(every_daily_value_is_the_published_one)
{
    int64_t high = (int64_t)value_of("FS-200"), from = (int64_t)value_of("FS-201");
    int64_t to = (int64_t)value_of("FS-202");
    for (size_t i = 0; i < sizeof dailies / sizeof *dailies; i++) {
        const char *id = dailies[i].id;
        int64_t daily = limit_of(id);
        bpi_nutrient_id of = dailies[i].of;
        const bpi_nutrient *n = &bpi_nutrients[of];
        ck_assert_str_eq(n->name, dailies[i].name);
        ck_assert_msg(strstr(rows_find(&all, id)->field[1], n->name), "%s: %s", id, n->name);
        ck_assert_msg(n->daily == daily, "%s: %lld", id, (long long)n->daily);
        ck_assert_str_eq(n->where, rule_of(id));
        ck_assert_int_eq(of_daily(BPI_SAYS_HIGH, of, daily * high / 100, rule_of("FS-200")),
                         BP_YES);
        ck_assert_int_eq(of_daily(BPI_SAYS_HIGH, of, daily * high / 100 - 1, rule_of("FS-200")),
                         BP_NO);
        ck_assert_int_eq(of_daily(BPI_SAYS_GOOD, of, daily * from / 100, rule_of("FS-201")),
                         BP_YES);
        ck_assert_int_eq(of_daily(BPI_SAYS_GOOD, of, daily * from / 100 - 1, rule_of("FS-201")),
                         BP_NO);
        ck_assert_int_eq(of_daily(BPI_SAYS_GOOD, of, daily * to / 100, rule_of("FS-202")), BP_YES);
        ck_assert_int_eq(of_daily(BPI_SAYS_GOOD, of, daily * to / 100 + 1, rule_of("FS-202")),
                         BP_NO);
        ck_assert_int_eq(of_daily(BPI_SAYS_HIGH, of, BPI_NOT_STATED, NULL), BP_UNSURE);
    }
    ck_assert_int_eq(of_daily(BPI_SAYS_HIGH, BPI_TRANS_FAT, G, ""), BP_UNSURE); /* none published */
}
END_TEST

/* 460 mg of the 2300 mg of sodium are a fifth; 5 g of the 28 g of fiber are 17.86 %. */
START_TEST(a_figure_says_what_part_of_the_daily_value_it_is)
{
    static const struct {
        bpi_nutrient_id of;
        int64_t amount;
        const char *figure;
    } figures[] = {
        {BPI_SODIUM, 460 * MG, "sodium 460 mg a serving, 20 % of the daily value"},
        {BPI_FIBER, 5 * G, "fiber 5 g a serving, 18 % of the daily value"},
        {BPI_TRANS_FAT, G, "trans fat 1 g a serving"}, /* none is published */
    };
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++) {
        const bpi_claim c = {
            .says = BPI_SAYS_LOW, .said = "low", .of = (int)figures[i].of, .than = ""};
        bpi_nutrition n = food(false);
        bpi_text figure = BPI_TEXT_EMPTY, why = BPI_TEXT_EMPTY;
        n.amount[figures[i].of] = figures[i].amount;
        bpi_claim_judge(&c, &n, &figure, &why);
        ck_assert_str_eq(figure.s, figures[i].figure);
        bpi_text_release(&figure);
        bpi_text_release(&why);
    }
}
END_TEST

START_TEST(more_is_more_by_a_part_of_the_daily_value)
{
    int64_t part = (int64_t)value_of("FS-203"); /* from memory, as the row says */
    bpi_claim c = {.says = BPI_SAYS_MORE, .said = "more", .of = BPI_IRON, .than = "the other"};
    bpi_nutrition_init(&c.than_of);
    c.than_of.serving = 1000;
    c.than_of.amount[BPI_IRON] = MG;
    for (int off = -1; off <= 1; off++) {
        bpi_nutrition n = food(false);
        n.amount[BPI_IRON] = MG + limit_of("FS-311") * part / 100 + off;
        ck_assert_int_eq(ask(&c, &n, rule_of("FS-203")).verdict, off < 0 ? BP_NO : BP_YES);
    }
}
END_TEST

/* What is not stated, of either food: the verdict is unsure, and says what is lacking. */
START_TEST(a_comparison_says_what_it_lacks)
{
    static const struct {
        bpi_says says;
        bpi_nutrient_id of;
        int64_t fat, energy, iron;     /* of the food             */
        int64_t fat_there, iron_there; /* of what it is held against */
        int64_t serving, serving_there, reference;
        const char *lacks;
    } cases[] = {
        {BPI_SAYS_LIGHT, BPI_ENERGY, G, BPI_NOT_STATED, 0, G, 0, 1000, 1000, 1000,
         "how much energy is in a serving of it is not stated"},
        {BPI_SAYS_LIGHT, BPI_ENERGY, G, KCAL, 0, BPI_NOT_STATED, 0, 1000, 1000, 1000,
         "how much fat is in a serving of the tin is not stated"},
        {BPI_SAYS_REDUCED, BPI_FAT, G, KCAL, 0, G, 0, BPI_NOT_STATED, 1000, 1000,
         "the weight of a serving of both foods is not stated"},
        {BPI_SAYS_REDUCED, BPI_FAT, G, KCAL, 0, G, 0, 1000, BPI_NOT_STATED, 1000,
         "the weight of a serving of both foods is not stated"},
        {BPI_SAYS_MORE, BPI_IRON, G, KCAL, 9 * MG, G, BPI_NOT_STATED, 1000, 1000, 1000,
         "how much iron is in a serving of the tin is not stated"},
        {BPI_SAYS_MORE, BPI_IRON, G, KCAL, 9 * MG, G, MG, 1000, 1000, BPI_NOT_STATED,
         "the reference amount of such food is not stated"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        bpi_claim c = {
            .says = (int)cases[i].says, .said = "so", .of = (int)cases[i].of, .than = "the tin"};
        bpi_nutrition_init(&c.than_of);
        c.than_of.serving = cases[i].serving_there;
        c.than_of.amount[BPI_FAT] = cases[i].fat_there;
        c.than_of.amount[BPI_ENERGY] = KCAL;
        c.than_of.amount[BPI_IRON] = cases[i].iron_there;
        bpi_nutrition n = food(false);
        n.serving = cases[i].serving;
        n.reference = cases[i].reference;
        n.amount[BPI_FAT] = cases[i].fat;
        n.amount[BPI_ENERGY] = cases[i].energy;
        n.amount[BPI_IRON] = cases[i].iron;
        bpi_text figure = BPI_TEXT_EMPTY, why = BPI_TEXT_EMPTY;
        ck_assert_int_eq(bpi_claim_judge(&c, &n, &figure, &why).verdict, BP_UNSURE);
        ck_assert_str_eq(why.s, cases[i].lacks);
        bpi_text_release(&figure);
        bpi_text_release(&why);
    }
}
END_TEST

/* Low in saturated fat: a gram at most in the reference amount, which is not stated, and 15 % of the energy
 * at most (FS-237, FS-238). 1 g of fat is 9 kcal: of 50 kcal 18 %, so it is not, whatever the first row
 * would say; of 100 kcal 9 %, and the first row is what is lacking. */
START_TEST(a_row_that_fails_decides_whatever_another_one_lacks)
{
    const bpi_claim c = {.says = BPI_SAYS_LOW, .said = "low", .of = BPI_SATURATED_FAT, .than = ""};
    bpi_nutrition n = food(false);
    n.reference = BPI_NOT_STATED;
    n.amount[BPI_SATURATED_FAT] = G;
    n.amount[BPI_ENERGY] = 50 * KCAL;
    ck_assert_int_eq(ask(&c, &n, rule_of("FS-238")).verdict, BP_NO);
    n.amount[BPI_ENERGY] = 100 * KCAL;
    ck_assert_int_eq(ask(&c, &n, rule_of("FS-237")).verdict, BP_UNSURE);
}
END_TEST

START_TEST(every_request_for_memory_may_be_refused)
{
    bpi_claim c = {.says = BPI_SAYS_LIGHT, .said = "light", .of = BPI_ENERGY, .than = "the tin"};
    bpi_nutrition n = food(false);
    bpi_nutrition_init(&c.than_of);
    c.than_of.serving = 1000;
    for (int i = 0; i < 3; i++) {
        if (i ==
            1) /* rows of both foods, the last of which may be refused where the first was not */
            c = (bpi_claim){.says = BPI_SAYS_LOW, .said = "low", .of = BPI_CHOLESTEROL, .than = ""};
        if (i == 2)
            c.of = BPI_SUGARS; /* no row at all */
        n.amount[BPI_FAT] = c.than_of.amount[BPI_FAT] = 20 * G;
        n.amount[BPI_ENERGY] = c.than_of.amount[BPI_ENERGY] = 300 * KCAL;
        n.amount[BPI_CHOLESTEROL] = n.amount[BPI_SATURATED_FAT] = n.amount[BPI_SUGARS] = 0;
        bool fired = true;
        for (long k = 0; fired; k++) {
            bpi_text figure = BPI_TEXT_EMPTY, why = BPI_TEXT_EMPTY;
            bpi_mem_fail_at(k, 0);
            bpi_claim_judge(&c, &n, &figure, &why);
            fired = bpi_mem_failed();
            bpi_mem_fail_at(-1, 0);
            ck_assert_int_eq(figure.failed || why.failed, fired);
            bpi_text_release(&figure);
            bpi_text_release(&why);
            ck_assert_int_eq(bpi_mem_alive(), alive);
        }
    }
}
END_TEST

/* ---- the rest ---------------------------------------------------------------------------- */

START_TEST(much_fat_is_told_with_little_cholesterol)
{
    const bpi_claim c = {.says = BPI_SAYS_LOW, .said = "low", .of = BPI_CHOLESTEROL, .than = ""};
    for (int off = 0; off <= 1; off++) {
        bpi_text figure = BPI_TEXT_EMPTY, why = BPI_TEXT_EMPTY;
        bpi_nutrition n = food(false);
        n.amount[BPI_CHOLESTEROL] = n.amount[BPI_SATURATED_FAT] = 0;
        n.amount[BPI_FAT] = limit_of("FS-244") + off;
        ck_assert_int_eq(bpi_claim_judge(&c, &n, &figure, &why).verdict, BP_YES);
        ck_assert_msg((strstr(why.s, "101.62(d)(2)(iii)") != NULL) == (off > 0), "%s", why.s);
        bpi_text_release(&figure);
        bpi_text_release(&why);
    }
    /* Without what the 13 g are for nothing is told: reduced needs no reference amount, free in a meal no
     * weight of a serving. */
    static const struct {
        bpi_says says;
        int64_t serving, reference;
        bool meal;
    } cases[] = {{BPI_SAYS_REDUCED, 1000, BPI_NOT_STATED, false},
                 {BPI_SAYS_FREE, BPI_NOT_STATED, BPI_NOT_STATED, true}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        bpi_claim less = {
            .says = (int)cases[i].says, .said = "so", .of = BPI_CHOLESTEROL, .than = "the tin"};
        bpi_nutrition_init(&less.than_of);
        less.than_of.serving = 1000;
        less.than_of.amount[BPI_CHOLESTEROL] = 100 * MG;
        bpi_nutrition n = food(cases[i].meal);
        n.serving = cases[i].serving;
        n.reference = cases[i].reference;
        n.amount[BPI_CHOLESTEROL] = 0;
        n.amount[BPI_FAT] = 20 * G;
        bpi_text figure = BPI_TEXT_EMPTY, why = BPI_TEXT_EMPTY;
        ck_assert_int_eq(bpi_claim_judge(&less, &n, &figure, &why).verdict, BP_YES);
        ck_assert_ptr_null(strstr(why.s, "101.62(d)(2)(iii)"));
        bpi_text_release(&figure);
        bpi_text_release(&why);
    }
}
END_TEST

START_TEST(what_no_row_is_about_is_not_judged)
{
    static const struct {
        bpi_says says;
        bpi_nutrient_id of;
        bool meal;
    } cases[] = {{BPI_SAYS_LOW, BPI_SUGARS, false},      {BPI_SAYS_VERY_LOW, BPI_FAT, false},
                 {BPI_SAYS_LOW, BPI_CHOLESTEROL, true},  {BPI_SAYS_HIGH, BPI_FIBER, true},
                 {BPI_SAYS_REDUCED, BPI_PROTEIN, false}, {BPI_SAYS_LIGHT, BPI_FAT, false}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const bpi_claim c = {
            .says = (int)cases[i].says, .said = "so", .of = (int)cases[i].of, .than = ""};
        bpi_nutrition n = food(cases[i].meal);
        for (int k = 0; k < BPI_NUTRIENTS; k++)
            n.amount[k] = 0;
        ck_assert_msg(ask(&c, &n, "").verdict == BP_UNSURE, "case %zu", i);
    }
}
END_TEST

START_TEST(amounts_are_told_in_the_unit_of_their_nutrient)
{
    static const struct {
        int64_t amount;
        bpi_nutrient_id of;
        const char *text;
    } cases[] = {{210 * KCAL, BPI_ENERGY, "210 kcal"},
                 {KCAL / 2, BPI_ENERGY, "0.5 kcal"},
                 {7 * G, BPI_FIBER, "7 g"},
                 {G / 4, BPI_FAT, "0.25 g"},
                 {140 * MG, BPI_SODIUM, "140 mg"},
                 {20 * MG, BPI_CHOLESTEROL, "20 mg"},
                 {2400, BPI_VITAMIN_B12, "2.4 mcg"},
                 {4500 * MG / 1000, BPI_IRON, "4.5 mg"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_claim_amount_put(&t, cases[i].amount, cases[i].of);
        ck_assert_str_eq(t.s, cases[i].text);
        bpi_text_release(&t);
    }
}
END_TEST

static void read_rows(void)
{
    all = rows_read(ROWS);
    alive = bpi_mem_alive();
}

static void drop_rows(void)
{
    rows_release(&all);
}

Suite *suite_safety_claim(void);
Suite *suite_safety_claim(void)
{
    Suite *s = suite_create("safety/claim");
    TCase *c = tcase_create("claim");
    tcase_add_checked_fixture(c, read_rows, drop_rows);
    tcase_add_test(c, an_amount_holds_up_to_its_figure);
    tcase_add_test(c, a_small_reference_amount_is_judged_in_50_g_too);
    tcase_add_test(c, a_figure_is_worked_out_for_the_reference_amount);
    tcase_add_test(c, free_of_it_is_judged_in_a_serving_and_in_the_reference_amount);
    tcase_add_test(c, a_share_of_the_energy_holds_up_to_its_figure);
    tcase_add_test(c, reduced_is_less_than_the_same_weight_of_the_other_food);
    tcase_add_test(c, light_has_half_the_fat_or_where_it_is_lean_a_third_less_energy);
    tcase_add_test(c, every_daily_value_is_the_published_one);
    tcase_add_test(c, a_figure_says_what_part_of_the_daily_value_it_is);
    tcase_add_test(c, more_is_more_by_a_part_of_the_daily_value);
    tcase_add_test(c, a_comparison_says_what_it_lacks);
    tcase_add_test(c, a_row_that_fails_decides_whatever_another_one_lacks);
    tcase_add_test(c, every_request_for_memory_may_be_refused);
    tcase_add_test(c, much_fat_is_told_with_little_cholesterol);
    tcase_add_test(c, what_no_row_is_about_is_not_judged);
    tcase_add_test(c, amounts_are_told_in_the_unit_of_their_nutrient);
    suite_add_tcase(s, c);
    return s;
}

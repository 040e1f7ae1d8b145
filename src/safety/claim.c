#include "safety/claim.h"

#include <inttypes.h>

#define MG        INT64_C(1000000)
#define G         INT64_C(1000000000)
#define KCAL      INT64_C(1000)
#define OF_100_G  1000 /* tenths of a gram */
#define OF_50_G   500
#define SMALL     300 /* a reference amount of 30 g or less is judged for 50 g, too */
#define DISCLOSED (13 * G)

/* ---- the thresholds ---------------------------------------------------------------------- */

typedef enum test {
    DAILY_LEAST, /* per cent of the daily value, at least  */
    DAILY_MOST,  /* at most                                */
    DAILY_MORE,  /* at least so much more of it than the other food */
    MOST,        /* at most so much                        */
    MOST_SMALL,  /* and in 50 g, where the reference amount is small */
    BELOW,       /* less than so much, in the reference amount and in a serving */
    SHARE_MOST,  /* per cent of the energy, at most        */
    SHARE_BELOW, /* less than                              */
    LESS         /* per cent less than the other food, at least */
} test;

#define ANY (-1)

typedef struct row {
    bpi_says says;
    int of; /* bpi_nutrient_id; ANY: one with a daily value */
    enum { FOOD = 1, MEAL, BOTH } where;
    test test;
    int nutrient; /* that is looked at; ANY: the one it is said of */
    int64_t limit;
    const char *rule;
} row;

static const row rows[] = {
    {BPI_SAYS_HIGH, ANY, FOOD, DAILY_LEAST, ANY, 20, "101.54(b)(1)"},
    {BPI_SAYS_GOOD, ANY, FOOD, DAILY_LEAST, ANY, 10, "101.54(c)(1)"},
    {BPI_SAYS_GOOD, ANY, FOOD, DAILY_MOST, ANY, 19, "101.54(c)(1)"},
    {BPI_SAYS_MORE, ANY, FOOD, DAILY_MORE, ANY, 10, "101.54(e)"}, /* from memory */
    {BPI_SAYS_LIGHT, BPI_SODIUM, BOTH, LESS, ANY, 50, "101.56(c)"},

    {BPI_SAYS_FREE, BPI_ENERGY, BOTH, BELOW, ANY, 5 * KCAL, "101.60(b)(1)"},
    {BPI_SAYS_LOW, BPI_ENERGY, FOOD, MOST_SMALL, ANY, 40 * KCAL, "101.60(b)(2)"},
    {BPI_SAYS_LOW, BPI_ENERGY, MEAL, MOST, ANY, 120 * KCAL, "101.60(b)(3)"},
    {BPI_SAYS_REDUCED, BPI_ENERGY, BOTH, LESS, ANY, 25, "101.60(b)(4)"},
    {BPI_SAYS_FREE, BPI_SUGARS, BOTH, BELOW, ANY, G / 2, "101.60(c)(1)"}, /* from memory */
    {BPI_SAYS_REDUCED, BPI_SUGARS, BOTH, LESS, ANY, 25, "101.60(c)(5)"},  /* from memory */

    {BPI_SAYS_FREE, BPI_SODIUM, BOTH, BELOW, ANY, 5 * MG, "101.61(b)(1)"},
    {BPI_SAYS_VERY_LOW, BPI_SODIUM, FOOD, MOST_SMALL, ANY, 35 * MG, "101.61(b)(2)"},
    {BPI_SAYS_VERY_LOW, BPI_SODIUM, MEAL, MOST, ANY, 35 * MG, "101.61(b)(3)"},
    {BPI_SAYS_LOW, BPI_SODIUM, FOOD, MOST_SMALL, ANY, 140 * MG, "101.61(b)(4)"},
    {BPI_SAYS_LOW, BPI_SODIUM, MEAL, MOST, ANY, 140 * MG, "101.61(b)(5)"},
    {BPI_SAYS_REDUCED, BPI_SODIUM, BOTH, LESS, ANY, 25, "101.61(b)(6)"},

    {BPI_SAYS_FREE, BPI_FAT, BOTH, BELOW, ANY, G / 2, "101.62(b)(1)"},
    {BPI_SAYS_LOW, BPI_FAT, FOOD, MOST_SMALL, ANY, 3 * G, "101.62(b)(2)"},
    {BPI_SAYS_LOW, BPI_FAT, MEAL, MOST, ANY, 3 * G, "101.62(b)(3)"},
    {BPI_SAYS_LOW, BPI_FAT, MEAL, SHARE_MOST, ANY, 30, "101.62(b)(3)"},
    {BPI_SAYS_REDUCED, BPI_FAT, BOTH, LESS, ANY, 25, "101.62(b)(4)"},

    {BPI_SAYS_FREE, BPI_SATURATED_FAT, BOTH, BELOW, ANY, G / 2, "101.62(c)(1)"},
    {BPI_SAYS_FREE, BPI_SATURATED_FAT, BOTH, BELOW, BPI_TRANS_FAT, G / 2, "101.62(c)(1)"},
    {BPI_SAYS_LOW, BPI_SATURATED_FAT, FOOD, MOST, ANY, G, "101.62(c)(2)"},
    {BPI_SAYS_LOW, BPI_SATURATED_FAT, FOOD, SHARE_MOST, ANY, 15, "101.62(c)(2)"},
    {BPI_SAYS_LOW, BPI_SATURATED_FAT, MEAL, MOST, ANY, G, "101.62(c)(3)"},
    {BPI_SAYS_LOW, BPI_SATURATED_FAT, MEAL, SHARE_BELOW, ANY, 10, "101.62(c)(3)"},

    {BPI_SAYS_FREE, BPI_CHOLESTEROL, BOTH, BELOW, ANY, 2 * MG, "101.62(d)(1)"},
    {BPI_SAYS_FREE, BPI_CHOLESTEROL, FOOD, MOST, BPI_SATURATED_FAT, 2 * G,
     "101.62(d)(1)"}, /* from memory */
    {BPI_SAYS_LOW, BPI_CHOLESTEROL, FOOD, MOST, ANY, 20 * MG, "101.62(d)(2)"},
    {BPI_SAYS_LOW, BPI_CHOLESTEROL, FOOD, MOST, BPI_SATURATED_FAT, 2 * G, "101.62(d)(2)"},
    {BPI_SAYS_REDUCED, BPI_CHOLESTEROL, BOTH, LESS, ANY, 25, "101.62(d)(4)"},
};

/* ---- amounts in words -------------------------------------------------------------------- */

static void put_thousandths(bpi_text *out, int64_t n, const char *unit)
{
    int places = 3;
    int64_t behind = n % 1000;
    for (; places > 0 && behind % 10 == 0; places--)
        behind /= 10;
    bpi_text_f(out, "%" PRId64, n / 1000);
    if (places)
        bpi_text_f(out, ".%0*" PRId64, places, behind);
    bpi_text_f(out, " %s", unit);
}

static bool in_grams(bpi_nutrient_id n)
{
    return n != BPI_CHOLESTEROL && n != BPI_SODIUM && n > BPI_ENERGY && n <= BPI_PROTEIN;
}

void bpi_claim_amount_put(bpi_text *out, int64_t amount, bpi_nutrient_id n)
{
    if (n == BPI_ENERGY)
        put_thousandths(out, amount, "kcal");
    else if (in_grams(n))
        put_thousandths(out, amount / MG, "g");
    else if (bpi_nutrients[n].daily && bpi_nutrients[n].daily < MG)
        put_thousandths(out, amount, "mcg");
    else
        put_thousandths(out, amount / 1000, "mg");
}

static void put_grams(bpi_text *out, int64_t tenths)
{
    put_thousandths(out, tenths * 100, "g");
}

/* ---- one row ----------------------------------------------------------------------------- */

typedef struct judge {
    const bpi_claim *claim;
    const bpi_nutrition *food;
    int64_t base; /* tenths of a gram that thresholds are for; BPI_NOT_STATED */
    bpi_text *why;
} judge;

static bp_truth lacks(const judge *j, const char *what)
{
    bpi_text_f(j->why, "%s is not stated", what);
    return BP_UNSURE;
}

/* Is all there that an amount in `base` is worked out from? */
static bool can_weigh(const judge *j, bpi_nutrient_id n)
{
    if (j->food->amount[n] == BPI_NOT_STATED) {
        bpi_text_f(j->why, "how much %s is in a serving is not stated", bpi_nutrients[n].name);
        return false;
    }
    if (j->food->serving == BPI_NOT_STATED)
        return lacks(j, "the weight of a serving") == BP_YES;
    if (j->base == BPI_NOT_STATED)
        return lacks(j, "the reference amount of such food") == BP_YES;
    return true;
}

/* amount in a serving <=> limit in `base`: below, at or above 0. */
static int compare(const judge *j, int64_t amount, int64_t base, int64_t limit)
{
    int64_t a = amount * base, b = limit * j->food->serving;
    return a < b ? -1 : a > b;
}

static void put_in(const judge *j, int64_t base)
{
    bpi_text_put(j->why, " in ");
    put_grams(j->why, base);
}

static bp_truth fails(const judge *j, bpi_nutrient_id n, int64_t base, bool fail)
{
    if (!fail)
        return BP_YES;
    bpi_text_put(j->why, "; it has ");
    bpi_claim_amount_put(j->why, j->food->amount[n] * base / j->food->serving, n);
    return BP_NO;
}

static bp_truth judge_daily(const judge *j, const row *r, bpi_nutrient_id n)
{
    if (!can_weigh(j, n))
        return BP_UNSURE;
    int64_t a = j->food->amount[n] * j->base; /* up to 2 x 10^16: a hundredfold fits */
    int64_t b = bpi_nutrients[n].daily * j->food->serving;
    bool most = r->test == DAILY_MOST;
    bpi_text_f(j->why, "at %s %" PRId64 " %% of the daily value", most ? "most" : "least",
               r->limit);
    put_in(j, j->base);
    return fails(j, n, j->base, most ? a * 100 > b * r->limit : a * 100 < b * r->limit);
}

static bp_truth judge_most(const judge *j, const row *r, bpi_nutrient_id n)
{
    if (!can_weigh(j, n))
        return BP_UNSURE;
    bool small = r->test == MOST_SMALL && j->base <= SMALL;
    bpi_text_f(j->why, "%s at most ", bpi_nutrients[n].name);
    bpi_claim_amount_put(j->why, r->limit, n);
    put_in(j, j->base);
    if (small)
        bpi_text_put(j->why, " and in 50 g");
    bp_truth is = fails(j, n, j->base, compare(j, j->food->amount[n], j->base, r->limit) > 0);
    if (is == BP_YES && small)
        is = fails(j, n, OF_50_G, compare(j, j->food->amount[n], OF_50_G, r->limit) > 0);
    return is;
}

/* A meal is judged by its serving alone. */
static bp_truth judge_below(const judge *j, const row *r, bpi_nutrient_id n)
{
    int64_t amount = j->food->amount[n];
    bpi_text_f(j->why, "%s less than ", bpi_nutrients[n].name);
    bpi_claim_amount_put(j->why, r->limit, n);
    bpi_text_put(j->why, " in a serving");
    if (amount != BPI_NOT_STATED && amount >= r->limit) {
        bpi_text_put(j->why, "; it has ");
        bpi_claim_amount_put(j->why, amount, n);
        return BP_NO;
    }
    if (amount != BPI_NOT_STATED && j->food->meal)
        return BP_YES;
    bpi_text_put(j->why, amount == BPI_NOT_STATED ? "; " : ", ");
    if (!can_weigh(j, n))
        return BP_UNSURE;
    bpi_text_put(j->why, "and");
    put_in(j, j->base);
    return fails(j, n, j->base, compare(j, amount, j->base, r->limit) >= 0);
}

/* 9 kcal a gram of fat: 21 CFR 101.9(c)(1)(i)(B), from memory. */
static int64_t energy_of_fat(int64_t ng)
{
    return ng * 9 / MG;
}

static bp_truth judge_share(const judge *j, const row *r, bpi_nutrient_id n)
{
    int64_t fat = j->food->amount[n], energy = j->food->amount[BPI_ENERGY];
    if (fat == BPI_NOT_STATED || energy == BPI_NOT_STATED) {
        bpi_text_f(j->why, "how much %s is in a serving is not stated",
                   bpi_nutrients[fat == BPI_NOT_STATED ? n : BPI_ENERGY].name);
        return BP_UNSURE;
    }
    bool most = r->test == SHARE_MOST;
    int64_t a = fat * 9 * 100, b = energy * r->limit * MG;
    bpi_text_f(j->why, "%s %" PRId64 " %% of the energy from %s", most ? "at most" : "less than",
               r->limit, bpi_nutrients[n].name);
    if (most ? a <= b : a < b)
        return BP_YES;
    bpi_text_put(j->why, "; it has ");
    put_thousandths(j->why, energy_of_fat(fat), "kcal of");
    bpi_text_char(j->why, ' ');
    put_thousandths(j->why, energy, "kcal");
    return BP_NO;
}

/* Is all there that the same weight of both foods is compared by? */
static bool can_compare(const judge *j, bpi_nutrient_id n)
{
    const bpi_nutrition *than = &j->claim->than_of;
    if (!j->claim->than[0])
        return lacks(j, "what it is compared with") == BP_YES;
    if (j->food->amount[n] == BPI_NOT_STATED || than->amount[n] == BPI_NOT_STATED) {
        bpi_text_f(j->why, "how much %s is in a serving of %s is not stated", bpi_nutrients[n].name,
                   j->food->amount[n] == BPI_NOT_STATED ? "it" : j->claim->than);
        return false;
    }
    if (j->food->serving == BPI_NOT_STATED || than->serving == BPI_NOT_STATED)
        return lacks(j, "the weight of a serving of both foods") == BP_YES;
    return true;
}

/* At least num/den less than in the same weight of the other food? */
static bool is_less(const judge *j, bpi_nutrient_id n, int64_t num, int64_t den)
{
    const bpi_nutrition *than = &j->claim->than_of;
    return j->food->amount[n] * than->serving * den <=
           than->amount[n] * j->food->serving * (den - num);
}

static bp_truth judge_less(const judge *j, const row *r, bpi_nutrient_id n)
{
    if (!can_compare(j, n))
        return BP_UNSURE;
    bpi_text_f(j->why, "at least %" PRId64 " %% less %s than the same weight of %s", r->limit,
               bpi_nutrients[n].name, j->claim->than);
    return is_less(j, n, r->limit, 100) ? BP_YES : BP_NO;
}

/* Rounded against the claim, by less than a nanogram each way. */
static bp_truth judge_more(const judge *j, const row *r, bpi_nutrient_id n)
{
    const bpi_nutrition *than = &j->claim->than_of;
    if (!can_compare(j, n) || !can_weigh(j, n))
        return BP_UNSURE;
    int64_t here = j->food->amount[n] * j->base / j->food->serving;
    int64_t there = (than->amount[n] * j->base + than->serving - 1) / than->serving;
    bpi_text_f(j->why, "at least %" PRId64 " %% of the daily value more than the same weight of %s",
               r->limit, j->claim->than);
    put_in(j, j->base);
    return (here - there) * 100 >= bpi_nutrients[n].daily * r->limit ? BP_YES : BP_NO;
}

static bp_truth judge_row(const judge *j, const row *r)
{
    bpi_nutrient_id n = (bpi_nutrient_id)(r->nutrient == ANY ? j->claim->of : r->nutrient);
    switch (r->test) {
    case DAILY_LEAST:
    case DAILY_MOST:
        return judge_daily(j, r, n);
    case DAILY_MORE:
        return judge_more(j, r, n);
    case MOST:
    case MOST_SMALL:
        return judge_most(j, r, n);
    case BELOW:
        return judge_below(j, r, n);
    case SHARE_MOST:
    case SHARE_BELOW:
        return judge_share(j, r, n);
    case LESS:
        break;
    }
    return judge_less(j, r, n);
}

/* "Light": of a food with half of its energy from fat or more, half the fat; of any other, half the fat
 * or two thirds of the energy. 21 CFR 101.56(b). */
static bpi_claim_test judge_light(const judge *j)
{
    bpi_claim_test t = {BP_UNSURE, "101.56(b)(2)"};
    int64_t fat = j->food->amount[BPI_FAT], energy = j->food->amount[BPI_ENERGY];
    if (!can_compare(j, BPI_FAT) || !can_compare(j, BPI_ENERGY))
        return t;
    bool fatty = fat * 9 * 100 >= energy * 50 * MG, half = is_less(j, BPI_FAT, 1, 2);
    t.verdict = half || (!fatty && is_less(j, BPI_ENERGY, 1, 3)) ? BP_YES : BP_NO;
    if (fatty)
        t.rule = "101.56(b)(1)";
    bpi_text_f(j->why, "at least half less fat%s than the same weight of %s",
               fatty ? "" : ", or a third less energy,", j->claim->than);
    return t;
}

/* ---- the claim --------------------------------------------------------------------------- */

static void put_figure(bpi_text *out, const bpi_nutrition *food, bpi_nutrient_id n)
{
    if (food->amount[n] == BPI_NOT_STATED)
        return;
    bpi_text_f(out, "%s ", bpi_nutrients[n].name);
    bpi_claim_amount_put(out, food->amount[n], n);
    bpi_text_put(out, " a serving");
    int64_t daily = bpi_nutrients[n].daily;
    if (daily)
        bpi_text_f(out, ", %" PRId64 " %% of the daily value",
                   (food->amount[n] * 100 + daily / 2) / daily);
}

static bool is_for(const row *r, const bpi_claim *c, bool meal)
{
    return (int)r->says == c->says && (r->where & (meal ? MEAL : FOOD)) &&
           (r->of == ANY ? bpi_nutrients[c->of].daily > 0 : r->of == c->of);
}

/* Who says of much fat that it has little cholesterol says how much fat there is. */
static void disclose(const judge *j, bp_truth verdict)
{
    int64_t fat = j->food->amount[BPI_FAT];
    if (j->claim->of != BPI_CHOLESTEROL || verdict != BP_YES || fat == BPI_NOT_STATED ||
        j->food->serving == BPI_NOT_STATED || j->base == BPI_NOT_STATED ||
        compare(j, fat, j->base, DISCLOSED) <= 0)
        return;
    bpi_text_put(j->why, "; say, too, that it has ");
    bpi_claim_amount_put(j->why, fat, BPI_FAT);
    bpi_text_put(j->why, " of fat a serving, 21 CFR 101.62(d)(2)(iii)");
}

bpi_claim_test bpi_claim_judge(const bpi_claim *c, const bpi_nutrition *food, bpi_text *figure,
                               bpi_text *why)
{
    bpi_text one = BPI_TEXT_EMPTY, said = BPI_TEXT_EMPTY;
    bpi_claim_test t = {BP_YES, ""};
    judge j = {c, food, food->meal ? OF_100_G : food->reference, &one};
    bool any = c->says == BPI_SAYS_LIGHT && c->of == BPI_ENERGY && !food->meal;
    put_figure(figure, food, (bpi_nutrient_id)c->of);
    bpi_text_put(&said, "");
    if (any) {
        t = judge_light(&j);
        bpi_text_put(&said, one.len ? one.s : "");
    }
    /* The first row that fails decides; else the first that lacks something; else all of them. */
    for (size_t i = 0; i < sizeof rows / sizeof *rows && t.verdict != BP_NO; i++) {
        if (!is_for(&rows[i], c, food->meal))
            continue;
        why->failed |= one.failed;
        bpi_text_reset(&one);
        any = true;
        bp_truth is = judge_row(&j, &rows[i]);
        if (t.verdict == BP_UNSURE && is != BP_NO)
            continue;
        if (is != BP_YES) {
            why->failed |= said.failed;
            bpi_text_reset(&said);
        }
        bpi_text_f(&said, "%s%s", said.len ? "; " : "", one.len ? one.s : "");
        t = (bpi_claim_test){is, rows[i].rule};
    }
    if (!any) {
        t.verdict = BP_UNSURE;
        bpi_text_f(&said, "no threshold is published for %s%s", c->said,
                   food->meal ? " of a meal or main dish" : " of it");
    }
    j.why = &said;
    disclose(&j, t.verdict);
    bpi_text_put(why, said.len ? said.s : "");
    why->failed |= one.failed || said.failed;
    bpi_text_release(&one);
    bpi_text_release(&said);
    return t;
}

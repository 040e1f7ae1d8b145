#include "goods/measure.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static bpi_quantity quantity(const char *text)
{
    bpi_quantity q;
    bpi_fault f;
    ck_assert_msg(bpi_quantity_read(&q, text, strlen(text), &f), "%s", text);
    return q;
}

/* The measure of a text; its word lives until the next but seven calls. */
static bpi_measure measure(const char *text)
{
    static bpi_quantity kept[8];
    static unsigned turn;
    bpi_quantity *q = &kept[turn++ % 8];
    bpi_measure m;
    *q = quantity(text);
    ck_assert(bpi_measure_of(&m, q));
    return m;
}

static const char *print(const bpi_measure *m)
{
    static char out[200];
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_measure_put(&t, m);
    snprintf(out, sizeof out, "%s", t.s);
    bpi_text_release(&t);
    return out;
}

static const char *scaled(const char *text, uint32_t num, uint32_t den)
{
    bpi_measure m = measure(text);
    ck_assert(bpi_measure_scale(&m, num, den));
    return print(&m);
}

/* Exact values in mL and g. GNU: the definitions file of GNU units 2.22 (gallon 231 cubic inches, pound
 * 0.45359237 kg). UOC: unitofconversion.com, US cooking volume. NIST Handbook 44 Appendix C and SP 811
 * Appendix B give the same numbers (from memory). */
static const struct {
    const char *id, *text, *value;
} exact[] = {
    {"UN-001 GNU", "1 gallon", "3785.411784"},
    {"UN-002 GNU", "1 quart", "946.352946"},
    {"UN-003 GNU", "1 pint", "473.176473"},
    {"UN-004 GNU", "1 cup", "236.5882365"},
    {"UN-005 GNU", "1/2 cup", "118.29411825"},
    {"UN-006 UOC", "1 fl oz", "29.5735295625"},
    {"UN-007 UOC", "1 tbsp", "14.78676478125"},
    {"UN-008 UOC", "1 tsp", "4.92892159375"},
    {"UN-009 GNU", "1 lb", "453.59237"},
    {"UN-010 GNU", "1 oz", "28.349523125"},
    {"SI", "1 l", "1000"},
    {"SI", "1 cl", "10"},
    {"SI", "1 dl", "100"},
    {"SI", "1 kg", "1000"},
    {"SI", "1 mg", "0.001"},
};

/* "236.5882365" as 2365882365 / 10^7, without floating point. */
static void decimal(const char *s, int64_t *num, int64_t *den)
{
    *num = 0;
    *den = 1;
    for (bool point = false; *s; s++) {
        if (*s == '.') {
            point = true;
            continue;
        }
        *num = *num * 10 + (*s - '0');
        if (point)
            *den *= 10;
    }
}

START_TEST(units_are_exact)
{
    int64_t num, den;
    bpi_measure m = measure(exact[_i].text);
    decimal(exact[_i].value, &num, &den);
    num *= 1000000 / (den > 1000000 ? 1000000 : den); /* mL to nL, g to ug */
    den = den > 1000000 ? den / 1000000 : 1;
    ck_assert_msg(m.num * den == num * m.den, "%s: %lld/%lld", exact[_i].id, (long long)m.num,
                  (long long)m.den);
}
END_TEST

/* 231 cubic inches of 2.54 cm (UN-011 GNU, UN-012 from memory): 231 * 254^3 / 1000 nL exactly. */
START_TEST(a_gallon_is_231_cubic_inches)
{
    bpi_measure m = measure("1 gallon");
    ck_assert_int_eq(m.num * 1000, INT64_C(231) * 254 * 254 * 254 * 1000 * m.den);
}
END_TEST

/* UN-013 to UN-015, GNU units: spoons and ounces of a cup. */
START_TEST(spoons_make_a_cup)
{
    ck_assert_str_eq(scaled("1 tbsp", 16, 1), "1 cup");
    ck_assert_str_eq(scaled("1 tsp", 3, 1), "1 tbsp");
    ck_assert_str_eq(scaled("1 fl oz", 8, 1), "1 cup");
    ck_assert_str_eq(scaled("1 cup", 16, 1), "1 gallon");
    ck_assert_str_eq(scaled("1 oz", 16, 1), "1 lb");
}
END_TEST

/* NIST SP 430 table 1 (nist.gov/pml/owm/metric-household), UN-040 to UN-047, and the equivalences of
 * nist.gov/pml/owm/cooking-measurement-equivalencies, UN-063 and UN-065: rounded values, in tenths.
 * (Its 114 g for 1/4 lb, UN-064, is 4 x 28.5; the exact value is 113.4 g.) */
static const struct {
    const char *text;
    int64_t tenths, step;
} rounded[] = {
    {"1 tsp", 49, 1},      {"1 tbsp", 150, 10}, {"1 fl oz", 300, 10}, {"1/4 cup", 590, 10},
    {"1/2 cup", 1180, 10}, {"1 cup", 2370, 10}, {"1 pint", 4730, 10}, {"1 quart", 9460, 10},
    {"1 oz", 280, 10},     {"1 lb", 4540, 10},
};

START_TEST(units_round_to_the_household_table)
{
    bpi_measure m = measure(rounded[_i].text);
    int64_t unit = rounded[_i].step * 100000; /* nL or ug in one step */
    int64_t nearest = (2 * m.num + unit * m.den) / (2 * unit * m.den) * rounded[_i].step;
    ck_assert_int_eq(nearest, rounded[_i].tenths);
}
END_TEST

/* The cup is the customary one: neither that of a food label (21 CFR 101.9(b)(5)(viii), UN-030 to
 * UN-034: within 2 % of it) nor the metric one (UN-020, 250 mL). */
START_TEST(other_cups_are_not_ours)
{
    static const struct {
        const char *text;
        int64_t label; /* mL or g */
    } rows[] = {{"1 tsp", 5}, {"1 tbsp", 15}, {"1 cup", 240}, {"1 fl oz", 30}, {"1 oz", 28}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bpi_measure m = measure(rows[i].text);
        int64_t label = rows[i].label * 1000000 * m.den, off = m.num - label;
        ck_assert_int_ne(off, 0);
        ck_assert_int_lt((off < 0 ? -off : off) * 50, label);
    }
    ck_assert_int_ne(measure("1 cup").num, measure("250 ml").num);
}
END_TEST

static const struct {
    const char *text;
    uint32_t num, den;
    const char *printed;
} prints[] = {
    {"1 1/2 cup", 1, 1, "1 1/2 cups"},
    {"1 1/2 cup", 3, 2, "2 1/4 cups"},
    {"1/2 cup", 1, 1, "1/2 cup"},
    {"7 tsp", 1, 1, "2 tbsp + 1 tsp"},
    {"6 tbsp", 1, 1, "1/4 cup + 2 tbsp"},
    {"1 cup", 1, 3, "1/3 cup"},
    {"1 cup", 1, 8, "2 tbsp"},
    {"1 cup", 1, 5, "3 tbsp + 2/3 tsp"}, /* 9.6 tsp: up to the next mark */
    {"1 cup", 1, 7, "2 tbsp + 1 tsp"},   /* 6.857 tsp: past 3/4, so up to a whole one */
    {"1 tsp", 1, 16, "1/8 tsp"},
    {"1 pint", 1, 1, "2 cups"},
    {"5 cups", 1, 1, "1 quart + 1 cup"},
    {"2 gallons", 1, 1, "2 gallons"},
    {"1 1/2 lb", 1, 1, "1 lb + 8 oz"},
    {"7 1/2 oz", 2, 1, "15 oz"},
    {"1 lb", 1, 3, "5 1/3 oz"},
    {"680 g", 1, 1, "680 g"},
    {"400 g", 1, 3, "134 g"}, /* 133.3: up */
    {"500 g", 5, 2, "1.25 kg"},
    {"999.9 g", 1, 1, "1 kg"},
    {"1 kg", 1, 1, "1 kg"},
    {"1.2 l", 1, 2, "600 ml"},
    {"2 dl", 1, 1, "200 ml"},
    {"1 l", 5, 4, "1.25 l"},
    {"7 g", 1, 2, "3.5 g"},
    {"9.95 g", 1, 1, "10 g"},
    {"1 g", 1, 20, "50 mg"},
    {"1 ml", 1, 3, "0.4 ml"},
    {"1.23 kg", 1, 1, "1.23 kg"},
    {"1234 g", 1, 1, "1.234 kg"},
    {"1005 ml", 1, 1, "1.005 l"},
    {"3", 1, 1, "3"},
    {"3", 1, 2, "1 1/2"},
    {"1 bunch", 3, 2, "1 1/2 bunches"},
    {"1 bunch", 1, 2, "1/2 bunch"},
    {"2 leaves", 1, 2, "1 leaf"},
    {"1 egg", 1, 17, "1/8 egg"},
    {"2 knob", 2, 1, "4 knob"}, /* a word of the show's own has no plural we know */
    {"2 x 400 g can", 1, 1, "2 x 400 g can"},
    {"2 x 400 g can", 1, 2, "400 g can"},
    {"2 x 400 g can", 3, 4, "1 1/2 x 400 g can"},
    {"400 g can", 2, 1, "2 x 400 g can"},
    {"2 x 150 g", 2, 1, "4 x 150 g"},
    {"", 5, 1, "to taste"},
};

START_TEST(amounts_print_as_a_cook_measures)
{
    ck_assert_str_eq(scaled(prints[_i].text, prints[_i].num, prints[_i].den), prints[_i].printed);
}
END_TEST

START_TEST(only_like_is_added_to_like)
{
    static const struct {
        const char *a, *b, *sum; /* NULL: they are not alike */
    } rows[] = {
        {"1 cup", "2 tbsp", "1 cup + 2 tbsp"},
        {"1/3 cup", "1/4 cup", "1/2 cup + 1 tbsp + 1 tsp"}, /* 7/12 cup is 28 tsp */
        {"8 oz", "1 lb", "1 lb + 8 oz"},
        {"400 g", "0.8 kg", "1.2 kg"},
        {"1 cup", "250 ml", "487 ml"}, /* 486.588 */
        {"2", "1/2", "2 1/2"},
        {"1 bunch", "2 bunches", "3 bunches"},
        {"2 x 400 g can", "400 g can", "3 x 400 g can"},
        {"", "", "to taste"},
        {"1 cup", "200 g", NULL},
        {"1 cup", "1", NULL},
        {"1 bunch", "1 sprig", NULL},
        {"1 knob", "1 lump", NULL},
        {"400 g can", "400 g", NULL},
        {"400 g can", "800 g can", NULL},
        {"400 g can", "400 g jar", NULL},
        {"1 pinch", "", NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bpi_measure a = measure(rows[i].a), b = measure(rows[i].b);
        ck_assert_msg(bpi_measure_alike(&a, &b) == (rows[i].sum != NULL), "row %zu", i);
        ck_assert_int_eq(bpi_measure_alike(&a, &b), bpi_measure_alike(&b, &a));
        if (!rows[i].sum)
            continue;
        bpi_measure ab = a, ba = b;
        ck_assert(bpi_measure_add(&ab, &b) && bpi_measure_add(&ba, &a));
        ck_assert_str_eq(print(&ab), rows[i].sum);
        ck_assert_str_eq(print(&ba), rows[i].sum);
    }
}
END_TEST

START_TEST(thirds_and_spoons_do_not_drift)
{
    bpi_measure sum = measure("1/3 tsp"), third = measure("1/3 tsp");
    for (int i = 1; i < 144; i++)
        ck_assert(bpi_measure_add(&sum, &third));
    ck_assert_str_eq(print(&sum), "1 cup");
    bpi_measure m = measure("1 gallon");
    for (uint32_t k = 2; k <= 12; k++)
        ck_assert(bpi_measure_scale(&m, 1, k));
    for (uint32_t k = 2; k <= 12; k++)
        ck_assert(bpi_measure_scale(&m, k, 1));
    ck_assert_str_eq(print(&m), "1 gallon");
}
END_TEST

START_TEST(what_cannot_be_held_is_refused)
{
    bpi_measure m = measure("100000 gallons"), before = m;
    ck_assert(!bpi_measure_scale(&m, UINT32_MAX, 1));
    ck_assert_mem_eq(&m, &before, sizeof m);
    bpi_measure tiny = measure("0.0001 tsp");
    ck_assert(bpi_measure_scale(&tiny, 1, 4294967291u)); /* a prime */
    before = m;
    ck_assert(!bpi_measure_add(&m, &tiny));
    ck_assert_mem_eq(&m, &before, sizeof m);
    ck_assert_str_eq(print(&tiny), "1/8 tsp");
}
END_TEST

/* Fractions over primes of 32 bits: whichever product passes 64 bits, both sides stay as they were. */
START_TEST(sums_past_what_can_be_held_are_refused)
{
    enum { P = INT32_MAX }; /* a prime, as are 4294967291 and 4294967279 */
    static const int64_t BIG = INT64_MAX, Q = 4294967291, R = 4294967279;
    static const struct {
        int64_t num, den, more, by;
    } rows[] = {
        {BIG, 1, 1, P},   /* BIG * P      */
        {1, P, BIG, 1},   /* P * BIG      */
        {BIG, 1, BIG, 1}, /* BIG + BIG    */
        {1, Q, 1, R},     /* over Q * R   */
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bpi_measure a = {.dimension = BPI_MASS, .word = "", .num = rows[i].num, .den = rows[i].den};
        bpi_measure b = {.dimension = BPI_MASS, .word = "", .num = rows[i].more, .den = rows[i].by};
        bpi_measure sum = a, need = a, there = b;
        ck_assert_msg(!bpi_measure_add(&sum, &b), "row %zu", i);
        ck_assert(sum.num == a.num && sum.den == a.den);
        if (rows[i].by == rows[i].den) /* a difference of these is held */
            continue;
        ck_assert(bpi_measure_take(&need, &there)); /* all is still needed */
        ck_assert(need.num == a.num && need.den == a.den);
        ck_assert(there.num == b.num && there.den == b.den);
    }
    bpi_measure tiny = measure("0.0001 tsp");
    ck_assert(bpi_measure_scale(&tiny, 1, 4294967291u));
    bpi_measure before = tiny;
    ck_assert(!bpi_measure_scale(&tiny, 1, 4294967279u));
    ck_assert(tiny.num == before.num && tiny.den == before.den);
}
END_TEST

/* 500 g of 500 g: nothing is needed, and nothing is left. */
START_TEST(what_is_there_is_taken_off_exactly)
{
    static const struct {
        const char *need, *there;
        bool more;
        const char *needed, *left;
    } rows[] = {
        {"500 g", "500 g", false, "", ""},
        {"1 cup", "4 tbsp", true, "3/4 cup", ""},
        {"1/3 cup", "1/2 cup", false, "", "2 tbsp + 2 tsp"},
        {"2 x 400 g can", "1 x 400 g can", true, "400 g can", ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bpi_measure need = measure(rows[i].need), there = measure(rows[i].there);
        ck_assert(bpi_measure_take(&need, &there) == rows[i].more);
        if (rows[i].more)
            ck_assert_str_eq(print(&need), rows[i].needed);
        else
            ck_assert(need.num == 0 && need.den == 1);
        if (rows[i].left[0])
            ck_assert_str_eq(print(&there), rows[i].left);
        else
            ck_assert(there.num == 0 && there.den == 1);
    }
    /* 1/2 g less 1/6 g is 1/3 g, whichever is needed, in lowest terms. */
    bpi_measure half = {.dimension = BPI_MASS, .word = "", .num = 1, .den = 2}, sixth = half;
    sixth.den = 6;
    bpi_measure need = half, there = sixth;
    ck_assert(bpi_measure_take(&need, &there));
    ck_assert(need.num == 1 && need.den == 3 && there.num == 0 && there.den == 1);
    ck_assert(!bpi_measure_take(&sixth, &half));
    ck_assert(half.num == 1 && half.den == 3 && sixth.num == 0 && sixth.den == 1);
}
END_TEST

/* What no spoon or mark can be worked out for is printed all the same, and not a bit less: customary
 * amounts as metric ones, fractions as whole pieces, packs whose number cannot be held as one. */
START_TEST(what_is_past_marks_is_printed_in_full)
{
#define MOST INT64_C(9223372036854775783)
#define PART INT64_C(10000000019)
    static const struct {
        bpi_measure m;
        const char *printed;
    } rows[] = {
        /* a prime of 63 bits: eight or 32 times that cannot be held */
        {{.dimension = BPI_MASS, .customary = true, .word = "", .num = MOST, .den = 1},
         "9223372036.855 kg"},
        {{.dimension = BPI_VOLUME, .customary = true, .word = "", .num = MOST, .den = 1},
         "9223372036.855 l"},
        /* a little over a millionth, in parts of an ounce and of a spoon that pass 60 bits */
        {{.dimension = BPI_MASS, .customary = true, .word = "", .num = PART + 4, .den = PART},
         "1 mg"},
        {{.dimension = BPI_VOLUME, .customary = true, .word = "", .num = PART + 4, .den = PART},
         "0.1 ml"},
        {{.dimension = BPI_COUNT, .word = "egg", .num = 7, .den = INT64_MAX / 2}, "1 egg"},
        {{.dimension = BPI_MASS,
          .word = "can",
          .num = INT64_C(2000000000),
          .den = INT64_C(4611686018427387847), /* over a prime: times 400 g that passes 64 bits */
          .each_num = INT64_C(400000001),
          .each_den = 1},
         "1 mg can"},
    };
#undef MOST
#undef PART
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_str_eq(print(&rows[i].m), rows[i].printed);
    /* How many packs it takes cannot be held either: it is left to judge. */
    bpi_measure need = rows[0].m, pack = {.dimension = BPI_MASS, .word = "", .num = 1, .den = 3};
    ck_assert_int_eq(bpi_measure_packs(&need, &pack), 0);
}
END_TEST

/* A count of the very same number may still be another fraction of a pack. */
START_TEST(packs_of_another_size_are_not_alike)
{
    bpi_measure can = measure("400 g can"), third = measure("400/3 g can");
    ck_assert(can.each_num == third.each_num && can.each_den != third.each_den);
    ck_assert(!bpi_measure_alike(&can, &third));
    bpi_text t = BPI_TEXT_EMPTY;
    third.den = 1; /* three of them */
    bpi_measure_put_packs(&t, 2, &third);
    ck_assert_str_eq(t.s, "2 x (3 x 134 g can)");
    bpi_text_release(&t);
}
END_TEST

/* By the stated weight, and only of what is measured as it says. */
START_TEST(a_weight_makes_a_mass_of_its_own_measure)
{
    static const struct {
        const char *weight, *amount, *mass; /* NULL: refused */
    } rows[] = {
        {"1 cup = 125 g", "2 cup", "9 oz"},   /* 250 g = 8.82 oz, past 3/4 */
        {"1 cup = 125 g", "400 ml", "212 g"}, /* 400 / 236.588 x 125 = 211.3 */
        {"1 clove = 3 g", "5 cloves", "15 g"},
        {"1 clove = 3 g", "1 cup", NULL},
        {"1 cup = 125 g", "2 x 1 cup", NULL}, /* in packs */
        {"", "1 cup", NULL},                  /* none is stated */
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bpi_weight w = {.number = NULL};
        bpi_fault f;
        if (rows[i].weight[0])
            ck_assert(bpi_weight_read(&w, rows[i].weight, strlen(rows[i].weight), &f));
        bpi_measure m = measure(rows[i].amount), before = m;
        ck_assert_msg(bpi_measure_weigh(&m, &w) == (rows[i].mass != NULL), "row %zu", i);
        if (rows[i].mass)
            ck_assert_str_eq(print(&m), rows[i].mass);
        else
            ck_assert(m.dimension == before.dimension && m.num == before.num &&
                      m.den == before.den);
    }
    /* Larger than can be held, by the measure and by the mass. */
    bpi_weight w = {.number = NULL};
    bpi_fault f;
    ck_assert(bpi_weight_read(&w, "0.0001 ml = 99999 kg", 20, &f));
    bpi_measure m = {.dimension = BPI_VOLUME, .word = "", .num = INT64_MAX, .den = 1};
    ck_assert(!bpi_measure_weigh(&m, &w));
    m.den = INT64_MAX - 1;
    ck_assert(!bpi_measure_weigh(&m, &w));
    ck_assert(m.dimension == BPI_VOLUME && m.num == INT64_MAX && m.den == INT64_MAX - 1);
}
END_TEST

START_TEST(packs_are_rounded_up_to_whole_ones)
{
    static const struct {
        const char *need, *pack;
        int64_t packs;
        const char *printed;
    } rows[] = {
        {"800 g", "400 g can", 2, "2 x 400 g can"},
        {"801 g", "400 g can", 3, "3 x 400 g can"},
        {"1 g", "400 g can", 1, "1 x 400 g can"},
        {"2 lb", "1 kg", 1, "1 x 1 kg"},
        {"7", "6", 2, "2 x 6"},
        {"1/2 bunch", "1 bunch", 1, "1 bunch"},
        {"2 1/2 bunches", "1 bunch", 3, "3 bunches"},
        {"3 x 330 ml", "6 x 330 ml", 1, "1 x (6 x 330 ml)"},
        {"2 x 400 g can", "400 g can", 2, "2 x 400 g can"},
        {"1 cup", "500 g bag", 0, NULL},
        {"2 x 400 g can", "800 g can", 0, NULL},
        {"3", "1 bunch", 0, NULL},
        {"3 knob", "1 lump", 0, NULL}, /* two words of the show's own */
        {"800 g", "2 x 400 g can", 1, "1 x (2 x 400 g can)"},
        {"2 x 400 g can", "1 kg", 1, "1 x 1 kg"},
        {"", "500 g", 0, NULL},
        {"", "", 0, NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bpi_measure need = measure(rows[i].need), pack = measure(rows[i].pack);
        int64_t packs = bpi_measure_packs(&need, &pack);
        ck_assert_msg(packs == rows[i].packs, "row %zu: %lld", i, (long long)packs);
        if (!packs)
            continue;
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_measure_put_packs(&t, packs, &pack);
        ck_assert_msg(strcmp(t.s, rows[i].printed) == 0, "row %zu: %s", i, t.s);
        bpi_text_release(&t);
    }
}
END_TEST

/* Printed measures of public-domain recipe cards that give two sizes, the large one for twice the
 * people. D-20: USDA Recipes for Schools D-20 (docslib.org/doc/8513285). H-040B: USDA recipe H-040B
 * (whatscooking.fns.usda.gov, quantity recipes). E-10: USDA recipe E-10 (scribd.com/document/579567566).
 * E-09: USDA recipe E-09 (fliphtml5.com/pqkj/tcof). Parts are joined by '+' and "Tbsp", "qt", "gal"
 * spelt as here; amounts are as printed. */
static const struct {
    const char *card, *small, *large;
} cards[] = {
    {"D-20 beef", "7 lb", "14 lb"},
    {"D-20 onion", "14 oz", "1 lb + 12 oz"},
    {"D-20 onion", "2 1/3 cups", "1 quart + 2/3 cup"},
    {"D-20 dehydrated onion", "2 1/2 oz", "5 oz"},
    {"D-20 dehydrated onion", "1 1/4 cups", "2 1/2 cups"},
    {"D-20 garlic", "1 tbsp + 1 1/2 tsp", "3 tbsp"},
    {"D-20 green pepper", "8 oz", "1 lb"},
    {"D-20 green pepper", "1 1/2 cups + 2 tbsp", "3 1/4 cups"},
    {"D-20 pepper", "2 tsp", "1 tbsp + 1 tsp"},
    {"D-20 chili powder", "3 tbsp", "1/4 cup + 2 tbsp"},
    {"D-20 paprika", "1 tbsp", "2 tbsp"},
    {"D-20 cumin", "1 oz", "2 oz"},
    {"D-20 cumin", "1/4 cup", "1/2 cup"},
    {"D-20 tomatoes", "3 lb + 3 oz", "6 lb + 6 oz"},
    {"D-20 tomatoes", "1 quart + 2 1/4 cups", "3 quarts + 1/2 cup"},
    {"D-20 water", "2 quarts + 1 cup", "1 gallon + 2 cups"},
    {"D-20 tomato paste", "1 lb + 12 oz", "3 lb + 8 oz"},
    {"D-20 tomato paste", "3 cups + 2 tbsp", "1 quart + 2 1/4 cups"},
    {"D-20 beans", "3 lb + 6 oz", "6 lb + 12 oz"},
    {"D-20 beans", "1 quart + 3 1/2 cups", "3 quarts + 3 cups"},
    {"D-20 dry beans", "2 lb + 4 oz", "4 lb + 8 oz"},
    {"D-20 dry beans", "1 quart + 2 cups", "3 quarts"},
    {"D-20 cheddar", "1 lb + 8 oz", "3 lb"},
    {"H-040B chicken", "13 oz", "1 lb + 10 oz"},
    {"H-040B chicken", "2 3/4 cups + 2 2/3 tsp", "1 quart + 1 1/2 cups + 1 tbsp + 2 1/3 tsp"},
    {"H-040B turkey", "12 oz", "1 lb + 8 oz"},
    {"H-040B turkey", "2 1/2 cups + 1 tbsp + 1 1/4 tsp", "1 quart + 1 cup + 2 tbsp + 2 1/2 tsp"},
    {"H-040B broth", "2 quarts", "1 gallon"},
    {"H-040B tomatoes", "1 quart + 1 1/2 cups", "2 quarts + 3 cups"},
    {"H-040B celery", "5 oz", "10 oz"},
    {"H-040B celery", "1 cup", "2 cups"},
    {"H-040B onion", "1/2 cup", "1 cup"},
    {"H-040B pepper", "1/2 tsp", "1 tsp"},
    {"H-040B parsley", "1/8 cup", "1/4 cup"},
    {"H-040B sugar", "2 tsp", "1 tbsp + 1 tsp"},
    {"H-040B corn", "1 1/4 cups + 2 tbsp + 1 tsp", "2 3/4 cups + 2 tsp"},
    {"H-040B peas", "1 lb + 2 oz", "2 lb + 4 oz"},
    {"H-040B peas", "3 1/2 cups + 2 tbsp", "1 quart + 3 1/4 cups"},
    {"H-040B green beans", "7 1/2 oz", "15 oz"},
    {"E-10 water", "1 gallon + 2 quarts", "3 gallons"},
    {"E-10 salt", "1 tbsp + 1 tsp", "2 tbsp + 2 tsp"},
    {"E-10 macaroni", "1 lb + 5 oz", "2 lb + 10 oz"},
    {"E-10 macaroni", "1 quart + 1/2 cup", "2 quarts + 1 cup"},
    {"E-10 mayonnaise", "1 1/2 cups", "3 cups"},
    {"E-10 onion", "1/3 cup", "2/3 cup"},
    {"E-10 mustard", "1 1/2 tsp", "1 tbsp"},
    {"E-10 paprika", "3/4 tsp", "1 1/2 tsp"},
    {"E-09 potatoes", "9 lb + 5 oz", "18 lb + 10 oz"},
    {"E-09 celery", "1 lb + 2 oz", "2 lb + 4 oz"},
    {"E-09 celery", "1 quart + 1/4 cup", "2 quarts + 1/2 cup"},
    {"E-09 onion", "1 1/4 cups", "2 1/2 cups"},
    {"E-09 relish", "2/3 cup", "1 1/3 cups"},
    {"E-09 eggs", "12", "24"},
    {"E-09 dressing", "1 lb + 10 oz", "3 lb + 4 oz"},
};

/* Sum of the parts of "1 cup + 2 tbsp". */
static bpi_measure parts(const char *text)
{
    char copy[100];
    snprintf(copy, sizeof copy, "%s", text);
    char *next = strstr(copy, " + ");
    if (next)
        *next = '\0';
    bpi_measure sum = measure(copy);
    for (char *part = next; part; part = next) {
        part += 3;
        next = strstr(part, " + ");
        if (next)
            *next = '\0';
        bpi_measure more = measure(part);
        ck_assert(bpi_measure_alike(&sum, &more) && bpi_measure_add(&sum, &more));
    }
    return sum;
}

START_TEST(twice_the_small_column_prints_as_the_large_one)
{
    bpi_measure m = parts(cards[_i].small);
    ck_assert(bpi_measure_scale(&m, 2, 1));
    ck_assert_msg(strcmp(print(&m), cards[_i].large) == 0, "%s: %s", cards[_i].card, print(&m));
    ck_assert(bpi_measure_scale(&m, 1, 2));
    bpi_measure small = parts(cards[_i].small);
    ck_assert(m.num == small.num && m.den == small.den);
}
END_TEST

/* What is printed, read back, is never less than the amount and not more than the last mark above. */
START_TEST(printing_never_leaves_a_cook_short)
{
    static const char *const units[] = {"tsp", "tbsp", "cup", "oz", "lb", "ml", "g", "l"};
    uint32_t seed = 1;
    for (int i = 0; i < 3000; i++) {
        char text[40];
        seed = seed * 1664525u + 1013904223u;
        snprintf(text, sizeof text, "%u/%u %s", 1 + (seed >> 8) % 40, 1 + (seed >> 16) % 12,
                 units[(seed >> 24) % 8]);
        bpi_measure m = measure(text);
        ck_assert(bpi_measure_scale(&m, 1 + (seed >> 5) % 9, 1 + (seed >> 11) % 9));
        if (m.den > 100000 || m.num / m.den < 100000)
            continue; /* less than a tenth of a gram: printed as the least there is */
        bpi_measure back = parts(print(&m));
        bpi_measure more = m;
        /* a mark up: 1/4 tsp, 1/4 oz (under 8 g), 1 ml, 1 g */
        bpi_measure mark = measure(m.dimension == BPI_MASS ? "8 g" : "1.3 ml");
        ck_assert(bpi_measure_add(&more, &mark));
        long double is = (long double)m.num / (long double)m.den;
        long double got = (long double)back.num / (long double)back.den;
        long double top = (long double)more.num / (long double)more.den;
        ck_assert_msg(got >= is * (1 - 1e-15L) && got < top, "%s: %s", text, print(&m));
    }
}
END_TEST

Suite *suite_goods_measure(void);
Suite *suite_goods_measure(void)
{
#define ROWS(table) (int)(sizeof(table) / sizeof *(table))
    Suite *s = suite_create("goods/measure");
    TCase *c = tcase_create("measure");
    tcase_add_loop_test(c, units_are_exact, 0, ROWS(exact));
    tcase_add_test(c, a_gallon_is_231_cubic_inches);
    tcase_add_test(c, spoons_make_a_cup);
    tcase_add_loop_test(c, units_round_to_the_household_table, 0, ROWS(rounded));
    tcase_add_test(c, other_cups_are_not_ours);
    tcase_add_loop_test(c, amounts_print_as_a_cook_measures, 0, ROWS(prints));
    tcase_add_test(c, only_like_is_added_to_like);
    tcase_add_test(c, thirds_and_spoons_do_not_drift);
    tcase_add_test(c, what_cannot_be_held_is_refused);
    tcase_add_test(c, packs_are_rounded_up_to_whole_ones);
    tcase_add_test(c, sums_past_what_can_be_held_are_refused);
    tcase_add_test(c, what_is_there_is_taken_off_exactly);
    tcase_add_test(c, what_is_past_marks_is_printed_in_full);
    tcase_add_test(c, packs_of_another_size_are_not_alike);
    tcase_add_test(c, a_weight_makes_a_mass_of_its_own_measure);
    tcase_add_loop_test(c, twice_the_small_column_prints_as_the_large_one, 0, ROWS(cards));
    tcase_add_test(c, printing_never_leaves_a_cook_short);
    suite_add_tcase(s, c);
    return s;
}

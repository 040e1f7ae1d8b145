#include "safety/thermal.h"

#include <check.h>
#include <stdbool.h>
#include <stdlib.h>

/* Worked problems on Newton's law of cooling as published, ids of the collection of check values:
 * start, surroundings and one later reading in whole °F; then a time to a temperature, or a
 * temperature at a time. "printed" is what the book prints (source seen), "exact" is the same problem
 * without rounding on the way (computed for the collection).
 *
 *   OS-CALC1  OpenStax Calculus Volume 1, Exponential Growth and Decay (module m53651)
 *   OS-CALC2  OpenStax Calculus Volume 2, Separable Equations (module m53704)
 *   OS-ALG    OpenStax Algebra/Precalculus, Exponential and Logarithmic Models (module m49367)
 *
 * Tolerance: k to 3 in 10 000 and times to 2 s + 1 in 10 000 of the exact answer, for a show's
 * temperatures are held to a thousandth of a degree Celsius; a printed answer to the last digit that
 * is printed. */
static const struct {
    const char *id;
    int from, around, then; /* °F */
    int64_t after;          /* s */
    double k;               /* a second */
    int to;                 /* °F; 0: a temperature is asked for */
    double exact;           /* s, or °F at `at` */
    double printed, within; /* s; 0: the book prints none */
    int64_t at;
} cooling[] = {
    {"PH-COF C0 P0, OS-CALC1", 200, 70, 180, 120, 0.08352704 / 60, 175, 2.55695 * 60, 150, 6, 0},
    {"PH-COF C1 P1, OS-CALC1", 200, 70, 180, 120, 0.08352704 / 60, 155, 5.08677 * 60, 300, 30, 0},
    {"PH-COW C0 P0, OS-CALC1", 200, 75, 185, 120, 0.06391669 / 60, 175, 3.49116 * 60, 210, 6, 0},
    {"PH-COW C1 P1, OS-CALC1", 200, 75, 185, 120, 0.06391669 / 60, 155, 6.98233 * 60, 420, 30, 0},
    {"PH-TUC C0, OS-CALC1", 165, 70, 155, 600, 0.01112256 / 60, 0, 146.0526, 0, 0, 1200},
    {"PH-THW C0 P0, OS-CALC1", 1, 44, 12, 7200, 0.14773211 / 3600, 33, 9.22822 * 3600, 33180, 60,
     0},
    {"PH-PIZ C0 P0, OS-CALC2", 200, 75, 190, 60, 0.08338161 / 60, 150, 6.12636 * 60, 367.2, 1, 0},
    {"PH-CAK C0, OS-CALC2", 450, 70, 330, 600, 0.03794896 / 60, 75, 114.11994 * 60, 0, 0, 0},
    {"PH-ICE C0, OS-CALC2", 210, 20, 170, 7200, 0.11819439 / 3600, 30, 24.91183 * 3600, 0, 0, 0},
    {"PH-MEL C0, OS-CALC2", 10, 80, 20, 600, 0.01541507 / 60, 40, 36.30317 * 60, 0, 0, 0},
    {"PH-CHE C0 P0, OS-ALG", 165, 35, 150, 600, 0.01226023 / 60, 70, 107.02786 * 60, 6420, 30, 0},
    {"PH-PIT C0 P0, OS-ALG", 40, 70, 45, 3600, 0.18232156 / 3600, 60, 6.02569 * 3600, 21693.6, 4,
     0},
    {"PH-SOU C0 P0, OS-ALG", 100, 69, 95, 900, 0.01172604 / 60, 80, 88.35818 * 60, 5280, 30, 0},
    {"PH-SOU C1, OS-ALG", 100, 69, 95, 900, 0.01172604 / 60, 0, 74.3392, 0, 0, 9000},
    {"PH-TUA C0 P0, OS-ALG", 165, 75, 145, 1800, 0.00837715 / 60, 110, 112.74262 * 60, 6780, 30, 0},
    {"PH-TUA C1, OS-ALG", 165, 75, 145, 1800, 0.00837715 / 60, 0, 134.2018, 0, 0, 3000},
};

static int32_t mC(double fahrenheit)
{
    double x = (fahrenheit - 32) * 5000 / 9;
    return (int32_t)(x < 0 ? x - 0.5 : x + 0.5);
}

static double off(double a, double b)
{
    return a > b ? a - b : b - a;
}

START_TEST(cooling_is_as_published)
{
    int32_t from = mC(cooling[_i].from), around = mC(cooling[_i].around);
    int64_t k = bpi_thermal_rate(from, mC(cooling[_i].then), around, cooling[_i].after);
    ck_assert_msg(off((double)k / 1e12, cooling[_i].k) < cooling[_i].k * 3e-4, "%s: k is %ld",
                  cooling[_i].id, (long)k);
    if (cooling[_i].to == 0) {
        int32_t there = bpi_thermal_after(from, around, k, cooling[_i].at);
        ck_assert_msg(abs(there - mC(cooling[_i].exact)) <= 3, "%s: %d", cooling[_i].id, there);
        return;
    }
    int64_t t = bpi_thermal_until(from, mC(cooling[_i].to), around, k);
    ck_assert_msg(off((double)t, cooling[_i].exact) <= 2 + cooling[_i].exact / 1e4, "%s: %ld s",
                  cooling[_i].id, (long)t);
    if (cooling[_i].printed > 0)
        ck_assert_msg(off((double)t, cooling[_i].printed) <= cooling[_i].within, "%s: %ld s",
                      cooling[_i].id, (long)t);
    /* There, and not a second earlier. */
    int32_t to = mC(cooling[_i].to), then = bpi_thermal_after(from, around, k, t);
    ck_assert_msg(from > around ? then <= to + 1 : then >= to - 1, "%s", cooling[_i].id);
}
END_TEST

/* PH-TUA-KP, PH-CHE-KP, PH-PIZ-KP: k as the books print it, to their last digit. */
START_TEST(rates_are_as_printed)
{
    double turkey = (double)bpi_thermal_rate(mC(165), mC(145), mC(75), 1800) * 60 / 1e12;
    double cheesecake = (double)bpi_thermal_rate(mC(165), mC(150), mC(35), 600) * 60 / 1e12;
    double pizza = (double)bpi_thermal_rate(mC(200), mC(190), mC(75), 60) * 60 / 1e12;
    ck_assert_msg(off(turkey, 0.008377) < 1e-6, "%f", turkey);
    ck_assert_msg(off(cheesecake, 0.0123) < 5e-5, "%f", cheesecake);
    ck_assert_msg(off(pizza, 0.08338) < 1e-5, "%f", pizza);
}
END_TEST

/* PH-RULE-1 to 5 (computed for the collection): the two limits of FDA Food Code 3-501.14(A) in a
 * refrigerator at 37 °F, from 135 °F, by printed °F. */
START_TEST(the_first_limit_decides_in_a_refrigerator)
{
    int64_t first = bpi_thermal_rate(mC(135), mC(70), mC(37), 7200);
    ck_assert_msg(off((double)first * 3600 / 1e12, 0.54423) < 1e-4, "%ld", (long)first);
    ck_assert(off((double)bpi_thermal_until(mC(135), mC(41), mC(37), first), 5.8774 * 3600) < 10);
    int64_t second = bpi_thermal_rate(mC(135), mC(41), mC(37), 21600);
    ck_assert_msg(off((double)second * 3600 / 1e12, 0.53311) < 1e-4, "%ld", (long)second);
    ck_assert(off((double)bpi_thermal_until(mC(135), mC(70), mC(37), second), 2.0417 * 3600) < 10);
    ck_assert(bpi_thermal_until(mC(135), mC(70), mC(70), first) == BPI_THERMAL_NEVER);
}
END_TEST

/* PH-100 to PH-103: Roberts and others, Food Protection Trends 33(1):27-31 (2013), abstract: chili and
 * tomato sauce 5.1 and 7.6 cm deep; the only arrangement that met both limits was 5.1 cm deep in a
 * walk-in freezer; three gallons in a stockpot in the walk-in refrigerator were slowest. Theirs are
 * measurements, ours a model: held to are who passes and who is slowest. Freezer at -18 °C, walk-in at
 * 2.8 °C: common practice, no source. A 3 gal stockpot is 24 cm wide at the least: same. */
START_TEST(pans_cool_as_they_were_measured_to)
{
    static const struct {
        int64_t depth;
        int32_t around;
        bool meets;
    } pans[] = {{51000, -18000, true},
                {76000, -18000, false},
                {51000, 2800, false},
                {76000, 2800, false},
                {240000, 2800, false}};
    int64_t slowest = 0;
    for (size_t i = 0; i < sizeof pans / sizeof *pans; i++) {
        int64_t k = bpi_thermal_layer(pans[i].depth, BPI_THERMAL_STILL_AIR);
        int64_t first = bpi_thermal_until(57000, 21000, pans[i].around, k);
        int64_t all = bpi_thermal_until(57000, 5000, pans[i].around, k);
        ck_assert_msg((first <= 7200 && all <= 21600) == pans[i].meets, "pan %zu: %ld s, %ld s", i,
                      (long)first, (long)all);
        ck_assert(i < 4 || all > slowest);
        slowest = all > slowest ? all : slowest;
    }
}
END_TEST

/* FS-089 (Solano County, cooling foods properly): 2 in deep at the most. In an ice bath that is well
 * within the limits, and the depth that the model allows gives the k that it was asked for. */
START_TEST(a_depth_answers_for_its_rate)
{
    int64_t k = bpi_thermal_rate(57000, 21000, 2800, 7200);
    int64_t depth = bpi_thermal_depth(k, BPI_THERMAL_STILL_AIR);
    ck_assert(bpi_thermal_until(57000, 21000, 2800, bpi_thermal_layer(depth, 10)) <= 7200);
    ck_assert(bpi_thermal_until(57000, 21000, 2800, bpi_thermal_layer(depth + 200, 10)) > 7200);
    ck_assert(bpi_thermal_until(57000, 5000, 0, bpi_thermal_layer(50800, BPI_THERMAL_WATER)) <
              7200);
}
END_TEST

START_TEST(edges)
{
    ck_assert_int_eq(bpi_thermal_ln(5, 5), 0);
    ck_assert(off((double)bpi_thermal_ln(2, 1), 693147181) <= 5);
    ck_assert(off((double)bpi_thermal_ln(INT64_C(1) << 32, 1), 32 * 693147181.0) <= 40);
    ck_assert(off((double)bpi_thermal_ln(10, 1), 2302585093) <= 8);
    ck_assert_int_eq(bpi_thermal_exp(0), 1000000000);
    ck_assert(off((double)bpi_thermal_exp(1000000000), 367879441) <= 5);
    ck_assert_int_eq(bpi_thermal_exp(INT64_C(40000000000)), 0);
    ck_assert_int_eq(bpi_thermal_rate(60000, 70000, 20000, 60), 0); /* got warmer */
    ck_assert_int_eq(bpi_thermal_rate(60000, 50000, 20000, 0), 0);  /* in no time */
    ck_assert_int_eq(bpi_thermal_rate(60000, 50000, 20000, 1) / 60,
                     bpi_thermal_rate(60000, 50000, 20000, 60));
    ck_assert_int_eq(bpi_thermal_rate(60000, 10000, 20000, 60), 0); /* passed the room */
    ck_assert_int_eq(bpi_thermal_rate(60000, 50000, 20000, 0), 0);
    ck_assert_int_eq(bpi_thermal_rate(20000, 20000, 20000, 60), 0);
    ck_assert_int_eq(bpi_thermal_until(20000, 30000, 5000, 1000), 0); /* colder already */
    ck_assert(bpi_thermal_until(57000, 5000, 5000, 100000000) == BPI_THERMAL_NEVER);
    ck_assert(bpi_thermal_until(57000, 21000, 5000, 1) == BPI_THERMAL_NEVER);
    ck_assert_int_eq(bpi_thermal_after(57000, 5000, INT64_MAX, 3), 5000);
    ck_assert_int_eq(bpi_thermal_after(57000, 5000, 0, 3600), 57000);
    /* Not a second went by, or less than none; one second counts, and so does the least k. */
    ck_assert_int_eq(bpi_thermal_after(57000, 5000, 500000000000, 0), 57000);
    ck_assert_int_eq(bpi_thermal_after(57000, 5000, 500000000000, -60), 57000);
    ck_assert_int_eq(bpi_thermal_after(57000, 5000, 500000000000, 1), 36539); /* 5 + 52 e^-0.5 */
    ck_assert_int_eq(bpi_thermal_after(57000, 5000, 1, INT64_C(500000000000)), 36539);
}
END_TEST

Suite *suite_safety_thermal(void);
Suite *suite_safety_thermal(void)
{
    Suite *s = suite_create("safety/thermal");
    TCase *c = tcase_create("thermal");
    tcase_add_loop_test(c, cooling_is_as_published, 0, sizeof cooling / sizeof *cooling);
    tcase_add_test(c, rates_are_as_printed);
    tcase_add_test(c, the_first_limit_decides_in_a_refrigerator);
    tcase_add_test(c, pans_cool_as_they_were_measured_to);
    tcase_add_test(c, a_depth_answers_for_its_rate);
    tcase_add_test(c, edges);
    suite_add_tcase(s, c);
    return s;
}

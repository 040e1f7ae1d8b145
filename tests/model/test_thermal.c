#include "model/thermal.h"

#include <check.h>
#include <stdbool.h>

/* Worked problems on Newton's law of cooling are held in test_physics.c. */

static int32_t mC(double fahrenheit)
{
    double x = (fahrenheit - 32) * 5000 / 9;
    return (int32_t)(x < 0 ? x - 0.5 : x + 0.5);
}

static double off(double a, double b)
{
    return a > b ? a - b : b - a;
}

/* PH-RULE-1 to PH-RULE-5 (computed for the collection): the two limits of FDA Food Code 3-501.14(A) in a
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

Suite *suite_model_thermal(void);
Suite *suite_model_thermal(void)
{
    Suite *s = suite_create("model/thermal");
    TCase *c = tcase_create("thermal");
    tcase_add_test(c, the_first_limit_decides_in_a_refrigerator);
    tcase_add_test(c, pans_cool_as_they_were_measured_to);
    tcase_add_test(c, a_depth_answers_for_its_rate);
    tcase_add_test(c, edges);
    suite_add_tcase(s, c);
    return s;
}

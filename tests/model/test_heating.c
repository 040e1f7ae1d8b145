#include "model/heating.h"

#include <check.h>
#include <string.h>

static bpi_heating water(int64_t mass_mg, int32_t from, int32_t to, uint32_t watts,
                         uint32_t percent)
{
    return (bpi_heating){
        .mass_mg = mass_mg, .from_mC = from, .to_mC = to, .watts = watts, .percent = percent};
}

static int64_t time_of(bpi_heating h)
{
    return bpi_heating_seconds(&h, h.mass_mg);
}

/* Heating water, P t = m c dT, as published; ids of the collection of check values.
 *   PH-200 to PH-202  T. Murphy, theoildrum.com/node/9287: 500 ml from 18 to 100 °C, 4.184 J/gK:
 *                     printed 171.6 kJ, exact 171.544 kJ
 *   PH-203 to PH-208  P. Scheckel, fastcompany.com/3062598: a quart (317 BTU, 334 450 J, so 84.5 K)
 *                     on 1300 W of induction, of which 317 of 430 BTU reach it: 350 s
 *   PH-209 to PH-211  the same on gas of 7000 BTU/h (2051 W), of which 317 of 992 BTU: 510 s
 *   PH-218            1 kg by 80 K, 1000 W that reach it: 334.7 s, with 4.184 J/gK
 * Tolerance: 1 s of rounding and 4.185 for 4.184, of what was computed; 1 % of what was measured, for
 * its shares are whole hundredths here. */
static const struct {
    const char *id;
    int64_t mass_mg;
    int32_t from, to;
    uint32_t watts, percent;
    int64_t least, most; /* s */
} published[] = {
    {"PH-201 PH-202", 500000, 18000, 100000, 1000, 100, 172, 173},
    {"PH-204 PH-208", 946353, 15500, 100000, 1300, 74, 347, 353},
    {"PH-209 PH-211", 946353, 15500, 100000, 2051, 32, 505, 515},
    {"PH-218", 1000000, 20000, 100000, 1000, 100, 335, 336},
};

START_TEST(heating_is_as_published)
{
    int64_t t = time_of(water(published[_i].mass_mg, published[_i].from, published[_i].to,
                              published[_i].watts, published[_i].percent));
    ck_assert_msg(t >= published[_i].least && t <= published[_i].most, "%s: %ld s",
                  published[_i].id, (long)t);
}
END_TEST

/* PH-212 to PH-217: a glass maker's laboratory boils 0.75 l on induction, coil and gas in about 4, 7 and 8
 * min and names no power; the US DOE gives 84, 74 and 40 %. The power that the model needs for that is
 * that of a hob zone, of a coil and of a gas burner: 1 to 3 kW. */
START_TEST(laboratory_times_ask_for_a_usual_hob)
{
    static const struct {
        uint32_t percent;
        int64_t seconds;
    } row[] = {{84, 240}, {74, 420}, {40, 480}};
    for (int i = 0; i < 3; i++) {
        ck_assert_int_gt(time_of(water(750000, 20000, 100000, 700, row[i].percent)),
                         row[i].seconds);
        ck_assert_int_lt(time_of(water(750000, 20000, 100000, 3000, row[i].percent)),
                         row[i].seconds);
    }
}
END_TEST

/* PH-G24, PH-G13, PH-G17, PH-G22, PH-G19: Geankoplis, Table A.4-1. */
START_TEST(heat_capacities_are_as_published)
{
    static const bpi_heating_food rows[] = {
        {"water", 4185}, {"milk", 3850}, {"soup", 4100}, {"tomatoes", 3980}, {"potatoes", 3520}};
    for (int i = 0; i < 5; i++) {
        bpi_heating h = water(1000000, 20000, 21000, 1000, 100);
        h.of = i;
        ck_assert_str_eq(bpi_heating_foods[i].name, rows[i].name);
        ck_assert_int_eq(bpi_heating_foods[i].c, rows[i].c);
        ck_assert_int_eq(time_of(h), (rows[i].c + 999) / 1000);
    }
    ck_assert_ptr_null(bpi_heating_foods[5].name);
}
END_TEST

START_TEST(edges)
{
    ck_assert_int_eq(time_of(water(0, 20000, 100000, 1000, 100)), 0);
    ck_assert_int_eq(time_of(water(1000000, 20000, 20000, 1000, 100)), 0);
    ck_assert_int_eq(time_of(water(1000000, 30000, 20000, 1000, 100)), 0);
    ck_assert_int_eq(time_of(water(1000000, 20000, 21000, 1395, 100)), 3); /* even: not up */
    ck_assert_int_eq(time_of(water(1000001, 20000, 21000, 1395, 100)), 4);
    ck_assert_int_eq(time_of(water(BPI_HEATING_HEAVIEST, 1000, 100000, 20000, 100)), 103579);
    ck_assert_int_eq(time_of(water(BPI_HEATING_HEAVIEST + 1, 1000, 100000, 20000, 100)),
                     BPI_HEATING_MOST);
    ck_assert_int_eq(time_of(water(BPI_HEATING_HEAVIEST, 1000, 100000, 50, 1)), BPI_HEATING_MOST);
    bpi_heating h = water(1000, 20000, 100000, 1000, 100);
    ck_assert_int_eq(bpi_heating_mass(&h, (bpi_ratio){1, 1}), 1000);
    ck_assert_int_eq(bpi_heating_mass(&h, (bpi_ratio){3, 2}), 1500);
    ck_assert_int_eq(bpi_heating_mass(&h, (bpi_ratio){1, 3}), 334);
}
END_TEST

Suite *suite_model_heating(void);
Suite *suite_model_heating(void)
{
    Suite *s = suite_create("model/heating");
    TCase *c = tcase_create("heating");
    tcase_add_loop_test(c, heating_is_as_published, 0, sizeof published / sizeof *published);
    tcase_add_test(c, laboratory_times_ask_for_a_usual_hob);
    tcase_add_test(c, heat_capacities_are_as_published);
    tcase_add_test(c, edges);
    suite_add_tcase(s, c);
    return s;
}

#include "model/temperature.h"

#include <check.h>
#include <string.h>

/* Exact values are (F - 32) x 5/9 (the definition of the scale, NIST SP 811 B.8). `printed` is the
 * whole degree Celsius that the FDA Food Code (2022) prints beside the Fahrenheit value; 0: it
 * prints none. */
static const struct {
    const char *text;
    int32_t mC;
    int printed;
} good[] = {
    {"41 F", 5000, 5},
    {"45 F", 7222, 7},
    {"70 F", 21111, 21},
    {"130 F", 54444, 54},
    {"135 F", 57222, 57},
    {"145 F", 62778, 63},
    {"150 F", 65556, 66},
    {"155 F", 68333, 68},
    {"158 F", 70000, 70},
    {"165 F", 73889, 74},
    {"250 F", 121111, 121},
    {"325 F", 162778, 163},
    {"350 F", 176667, 177},
    {"400 F", 204444, 0},
    {"212 F", 100000, 0},
    {"32 F", 0, 0},
    {"-40 F", -40000, 0},
    {"-4 F", -20000, 0},
    {"200 C", 200000, 0},
    {"200 \xC2\xB0"
     "C",
     200000, 0},
    {"200\xC2\xB0"
     "C",
     200000, 0},
    {"400F", 204444, 0},
    {"62.5 C", 62500, 0},
    {"145.4 F", 63000, 0},
    {"-18 C", -18000, 0},
    {"\xE2\x88\x92"
     "18 C",
     -18000, 0},
    {"0 C", 0, 0},
    {"31 F", -556, 0},
};

START_TEST(temperatures_are_read)
{
    bpi_fault f;
    int32_t mC = 1;
    ck_assert_msg(bpi_temperature_read(&mC, good[_i].text, strlen(good[_i].text), &f), "%s: %s",
                  good[_i].text, f.wrong);
    ck_assert_int_eq(mC, good[_i].mC);
    if (good[_i].printed)
        ck_assert_int_eq((mC + 500) / 1000, good[_i].printed);
}
END_TEST

static const struct {
    const char *text;
    size_t at;
    const char *wrong;
} bad[] = {
    {"", 0, "a temperature needs a number here"},
    {"hot", 0, "a temperature needs a number here"},
    {"200", 3, "the temperature has no unit"},
    {"200 K", 4, "the unit of a temperature is \"C\" or \"F\""},
    {"200 c", 4, "the unit of a temperature is \"C\" or \"F\""},
    {"200  C", 4, "the unit of a temperature is \"C\" or \"F\""},
    {"62,5 C", 2, "a comma cannot stand in a number"},
    {"62. C", 3, "a digit is missing after the decimal point"},
    {"62.55 C", 4, "a temperature has at most one digit after the point"},
    {"200 C!", 5, "\"!\" cannot follow a temperature"},
    {"200 C/min", 5, "\"/min\" cannot follow a temperature"},
    {"99999999999999999999 C", 0, "no kitchen has such a temperature"},
    {"-274 C", 0, "no kitchen has such a temperature"},
};

START_TEST(what_is_no_temperature_is_named)
{
    bpi_fault f;
    int32_t mC = 1;
    ck_assert(!bpi_temperature_read(&mC, bad[_i].text, strlen(bad[_i].text), &f));
    ck_assert_str_eq(f.wrong, bad[_i].wrong);
    ck_assert_uint_eq(f.at, bad[_i].at);
    ck_assert_int_eq(mC, 1);
}
END_TEST

START_TEST(a_rate_is_a_difference)
{
    bpi_fault f;
    int32_t mC = 0;
    ck_assert(bpi_rate_read(&mC, "9 F/min", 7, &f));
    ck_assert_int_eq(mC, 5000);
    ck_assert(bpi_rate_read(&mC, "12 C/min", 8, &f));
    ck_assert_int_eq(mC, 12000);
    ck_assert(!bpi_rate_read(&mC, "12 C", 4, &f));
    ck_assert_str_eq(f.wrong, "degrees a minute end in \"/min\"");
    ck_assert(!bpi_rate_read(&mC, "12 C/h", 6, &f));
}
END_TEST

Suite *suite_model_temperature(void);
Suite *suite_model_temperature(void)
{
    Suite *s = suite_create("model/temperature");
    TCase *c = tcase_create("temperature");
    tcase_add_loop_test(c, temperatures_are_read, 0, sizeof good / sizeof *good);
    tcase_add_loop_test(c, what_is_no_temperature_is_named, 0, sizeof bad / sizeof *bad);
    tcase_add_test(c, a_rate_is_a_difference);
    suite_add_tcase(s, c);
    return s;
}

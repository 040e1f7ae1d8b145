#include "base/civil.h"

#include <check.h>
#include <string.h>

/* RFC 3339 appendix B prints a day-of-the-week function; the dates below are from calendars:
 * 1970-01-01 is day 0 of POSIX (IEEE Std 1003.1, 4.16) and was a Thursday; 2000-01-01 a Saturday
 * (ISO 8601:2004 3.2.2: 2000-01-01 is the reference Saturday); the rest by counting on from there.
 */
static const struct {
    bpi_date date;
    int64_t days;
    int weekday;
} known[] = {
    {{1970, 1, 1}, 0, 4},
    {{1969, 12, 31}, -1, 3},
    {{2000, 1, 1}, 10957, 6},
    {{2000, 2, 29}, 11016, 2},
    {{2001, 1, 1}, 11323, 1},
    {{2038, 1, 19}, 24855, 2}, /* 2^31 seconds after the epoch fall on this day: 2147483648/86400 */
    {{1858, 11, 17}, -40587, 3}, /* Modified Julian Day 0; MJD of the epoch is 40587             */
    {{-4713, 11, 24}, -2440588, 1}, /* Julian Day 0; JD of the epoch's noon is 2440588            */
};

START_TEST(known_days_come_out)
{
    ck_assert_int_eq(bpi_civil_days(known[_i].date), known[_i].days);
    ck_assert_int_eq(bpi_civil_weekday(known[_i].days), known[_i].weekday);
    bpi_date back = bpi_civil_date(known[_i].days);
    ck_assert_int_eq(back.year, known[_i].date.year);
    ck_assert_int_eq(back.month, known[_i].date.month);
    ck_assert_int_eq(back.day, known[_i].date.day);
}
END_TEST

START_TEST(every_day_of_a_thousand_years_follows_the_one_before)
{
    bpi_date d = {1600, 1, 1};
    int64_t days = bpi_civil_days(d);
    int weekday = bpi_civil_weekday(days);
    while (d.year < 2600) {
        ck_assert(bpi_civil_valid(d));
        ck_assert_int_eq(bpi_civil_days(d), days);
        ck_assert_int_eq(bpi_civil_weekday(days), weekday);
        bpi_date back = bpi_civil_date(days);
        ck_assert(back.year == d.year && back.month == d.month && back.day == d.day);
        if (++d.day > bpi_civil_month_days(d.year, d.month)) {
            d.day = 1;
            if (++d.month > 12) {
                d.month = 1;
                d.year++;
            }
        }
        days++;
        weekday = weekday % 7 + 1;
    }
}
END_TEST

START_TEST(the_ends_of_the_years_hold)
{
    static const int32_t years[] = {INT32_MIN, -1, 0, 1, INT32_MAX};
    for (size_t i = 0; i < sizeof years / sizeof *years; i++) {
        bpi_date d = {years[i], 12, 31};
        bpi_date back = bpi_civil_date(bpi_civil_days(d));
        ck_assert(back.year == d.year && back.month == 12 && back.day == 31);
    }
}
END_TEST

START_TEST(leap_years_follow_the_gregorian_rule)
{
    ck_assert_int_eq(bpi_civil_month_days(1900, 2), 28);
    ck_assert_int_eq(bpi_civil_month_days(2000, 2), 29);
    ck_assert_int_eq(bpi_civil_month_days(2026, 2), 28);
    ck_assert_int_eq(bpi_civil_month_days(2028, 2), 29);
    ck_assert_int_eq(bpi_civil_month_days(2026, 0), 0);
    ck_assert_int_eq(bpi_civil_month_days(2026, 13), 0);
}
END_TEST

START_TEST(a_date_is_read_only_when_it_exists)
{
    static const char *const bad[] = {"2026-02-29",
                                      "2026-13-01",
                                      "2026-00-10",
                                      "2026-04-31",
                                      "2026-04-00",
                                      "2026-4-01",
                                      "26-04-01",
                                      "2026/04/01",
                                      "2026-04-1a",
                                      "+026-04-01",
                                      "20260401",
                                      "2026-04-011",
                                      ""};
    bpi_date d = {1, 2, 3};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        ck_assert_msg(!bpi_civil_read(&d, bad[i], strlen(bad[i])), "%s", bad[i]);
    ck_assert(d.year == 1 && d.month == 2 && d.day == 3);
    ck_assert(bpi_civil_read(&d, "2028-02-29", 10));
    ck_assert(d.year == 2028 && d.month == 2 && d.day == 29);
}
END_TEST

START_TEST(names_of_days_and_months)
{
    ck_assert_str_eq(bpi_civil_day_name(1), "Mon");
    ck_assert_str_eq(bpi_civil_day_name(7), "Sun");
    ck_assert_str_eq(bpi_civil_day_name(0), "?");
    ck_assert_str_eq(bpi_civil_day_name(8), "?");
    ck_assert_str_eq(bpi_civil_month_name(12), "Dec");
    ck_assert_str_eq(bpi_civil_month_name(13), "?");
}
END_TEST

Suite *suite_base_civil(void);
Suite *suite_base_civil(void)
{
    Suite *s = suite_create("base/civil");
    TCase *c = tcase_create("civil");
    tcase_add_loop_test(c, known_days_come_out, 0, (int)(sizeof known / sizeof *known));
    tcase_add_test(c, every_day_of_a_thousand_years_follows_the_one_before);
    tcase_add_test(c, the_ends_of_the_years_hold);
    tcase_add_test(c, leap_years_follow_the_gregorian_rule);
    tcase_add_test(c, a_date_is_read_only_when_it_exists);
    tcase_add_test(c, names_of_days_and_months);
    suite_add_tcase(s, c);
    return s;
}

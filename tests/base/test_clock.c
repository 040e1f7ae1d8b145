#include "base/clock.h"

#include <check.h>
#include <string.h>

#include "base/limits.h"
#include "base/memory.h"

static bpi_arena *arena;
static bpi_text text;

static void set_up(void)
{
    arena = bpi_arena_new();
}

static void tear_down(void)
{
    bpi_text_release(&text);
    bpi_arena_free(arena);
    bpi_zone_release_all();
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

static bool init(bpi_clock *c, const char *zone, int year, int month, int day)
{
    bpi_zone *z = NULL;
    ck_assert_int_eq(bpi_zone_open(&z, arena, zone, strlen(zone)), BP_OK);
    return bpi_clock_init(c, z, (bpi_date){year, month, day});
}

static const char *put(const bpi_clock *c, int64_t t, unsigned form)
{
    bpi_text_reset(&text);
    bpi_clock_put(&text, c, t, form);
    return text.s;
}

static const char *put_utc(const bpi_clock *c, int64_t t)
{
    bpi_text_reset(&text);
    bpi_clock_put_utc(&text, c, t);
    return text.s;
}

#define HM(h, m) ((int64_t)(h)*3600 + (m)*60)

START_TEST(on_a_plain_day_plan_time_is_the_time_of_day)
{
    bpi_clock c;
    int64_t t[2];
    ck_assert(init(&c, "America/New_York", 2026, 12, 3)); /* a Thursday */
    ck_assert_str_eq(put_utc(&c, 0), "2026-12-03T05:00:00Z");
    ck_assert_int_eq(bpi_clock_times(&c, 0, 5, 42, 0, t), 1);
    ck_assert_int_eq(t[0], HM(5, 42));
    ck_assert_int_eq(bpi_clock_times(&c, -1, 16, 0, 30, t), 1);
    ck_assert_int_eq(t[0], HM(-8, 0) + 30);
    ck_assert_str_eq(put(&c, HM(5, 42), 0), "05:42");
    ck_assert_str_eq(put(&c, HM(5, 42) + 30, 0), "05:42:30");
    ck_assert_str_eq(put(&c, HM(5, 42), BPI_CLOCK_SECONDS), "05:42:00");
    ck_assert_str_eq(put(&c, HM(-8, 0), 0), "Wed 16:00");
    ck_assert_str_eq(put(&c, HM(-8, 0), BPI_CLOCK_DAY_OFFSET), "-1d 16:00");
    ck_assert_str_eq(put(&c, HM(-8, 0), BPI_CLOCK_NO_DAY | BPI_CLOCK_SECONDS), "16:00:00");
    ck_assert_str_eq(put(&c, HM(24, 0), 0), "Fri 00:00");
    ck_assert_str_eq(put(&c, HM(25, 5), BPI_CLOCK_DAY_OFFSET), "+1d 01:05");
    ck_assert_str_eq(put(&c, -1, 0), "Wed 23:59:59");
    ck_assert_int_eq(bpi_clock_date(&c, -1).day, 2);
    ck_assert_int_eq(bpi_clock_of_utc(&c, bpi_clock_utc(&c, 77)), 77);
}
END_TEST

START_TEST(an_hour_that_is_skipped_does_not_pass)
{
    bpi_clock c;
    int64_t t[2];
    ck_assert(init(&c, "Europe/Paris", 2026, 3, 29));
    ck_assert_int_eq(bpi_clock_times(&c, 0, 1, 59, 59, t), 1);
    ck_assert_int_eq(t[0], HM(2, 0) - 1);
    ck_assert_int_eq(bpi_clock_times(&c, 0, 2, 30, 0, t), 0);
    ck_assert_int_eq(bpi_clock_times(&c, 0, 3, 0, 0, t), 1);
    ck_assert_int_eq(t[0], HM(2, 0)); /* one second after 01:59:59 */
    ck_assert_int_eq(bpi_clock_times(&c, 0, 8, 24, 0, t), 1);
    ck_assert_int_eq(t[0], HM(7, 24));
    ck_assert_str_eq(put(&c, t[0], 0), "08:24");
    ck_assert_int_eq(bpi_clock_wall(&c, t[0]).offset, 7200);
    ck_assert_int_eq(bpi_clock_times(&c, 1, 0, 0, 0, t), 1);
    ck_assert_int_eq(t[0], HM(23, 0)); /* a day of 23 hours */
}
END_TEST

START_TEST(a_doubled_hour_has_two_times_and_says_which)
{
    bpi_clock c;
    int64_t t[2];
    ck_assert(init(&c, "Europe/Paris", 2026, 10, 25));
    ck_assert_int_eq(bpi_clock_times(&c, 0, 2, 30, 0, t), 2);
    ck_assert_int_eq(t[0], HM(2, 30));
    ck_assert_int_eq(t[1], HM(3, 30));
    ck_assert_str_eq(put(&c, t[0], 0), "02:30 (UTC+02:00)");
    ck_assert_str_eq(put(&c, t[1], 0), "02:30 (UTC+01:00)");
    ck_assert_str_eq(put_utc(&c, t[0]), "2026-10-25T00:30:00Z");
    ck_assert(bpi_clock_wall(&c, t[1]).twice);
    ck_assert_str_eq(put(&c, HM(4, 0), 0), "03:00");
    ck_assert_int_eq(bpi_clock_times(&c, 0, 8, 24, 0, t), 1);
    ck_assert_int_eq(t[0], HM(9, 24));
    ck_assert(init(&c, "America/New_York", 2026, 11, 1));
    ck_assert_str_eq(put(&c, HM(1, 30), 0), "01:30 (UTC-04:00)");
    ck_assert(init(&c, "America/St_Johns", 2026, 11, 1));
    ck_assert_str_eq(put(&c, HM(1, 30), 0), "01:30 (UTC-02:30)");
}
END_TEST

/* Beirut skips from 00:00 to 01:00 on the last Sunday of March (tzdata, rule Lebanon); in Havana
 * the hour from 00:00 stands twice on the first Sunday of November (rule Cuba). */
START_TEST(a_day_without_midnight_begins_at_its_first_instant)
{
    bpi_clock c;
    int64_t t[2];
    ck_assert(init(&c, "Asia/Beirut", 2026, 3, 29));
    ck_assert_str_eq(put(&c, 0, 0), "01:00");
    ck_assert_str_eq(put(&c, -1, 0), "Sat 23:59:59");
    ck_assert_int_eq(bpi_clock_times(&c, 0, 0, 30, 0, t), 0);
    ck_assert_int_eq(bpi_clock_times(&c, 0, 6, 0, 0, t), 1);
    ck_assert_int_eq(t[0], HM(5, 0));
    ck_assert(init(&c, "America/Havana", 2026, 11, 1));
    ck_assert_str_eq(put(&c, 0, 0), "00:00 (UTC-04:00)");
    ck_assert_str_eq(put(&c, HM(1, 0), 0), "00:00 (UTC-05:00)");
    ck_assert_str_eq(put(&c, -60, 0), "Sat 23:59");
}
END_TEST

START_TEST(a_day_the_zone_left_out_is_no_show_day)
{
    bpi_clock c;
    ck_assert(!init(&c, "Pacific/Apia", 2011, 12, 30)); /* Samoa crossed the date line */
    ck_assert(init(&c, "Pacific/Apia", 2011, 12, 31));
    ck_assert_str_eq(put(&c, 0, 0), "00:00");
    ck_assert_str_eq(put(&c, -1, BPI_CLOCK_DAY_OFFSET), "-2d 23:59:59");
    ck_assert(init(&c, "Pacific/Apia", 2011, 12, 29));
}
END_TEST

START_TEST(dates_have_bounds)
{
    bpi_clock c;
    ck_assert(!init(&c, "UTC", BPI_MIN_YEAR - 1, 12, 31));
    ck_assert(init(&c, "UTC", BPI_MIN_YEAR, 1, 1));
    ck_assert(init(&c, "UTC", BPI_MAX_YEAR, 12, 31));
    ck_assert(!init(&c, "UTC", BPI_MAX_YEAR + 1, 1, 1));
    ck_assert(!init(&c, "UTC", 2026, 2, 29));
}
END_TEST

START_TEST(every_quarter_of_every_day_comes_back)
{
    static const char *const zones[] = {"Europe/Paris", "America/New_York", "Asia/Beirut",
                                        "Australia/Lord_Howe"};
    for (size_t z = 0; z < 4; z++)
        for (int month = 1; month <= 12; month++) {
            bpi_clock c;
            ck_assert(init(&c, zones[z], 2026, month, bpi_civil_month_days(2026, month)));
            for (int64_t t = -HM(48, 0); t < HM(48, 0); t += 900) {
                bpi_wall w = bpi_clock_wall(&c, t);
                int64_t back[2];
                int n = bpi_clock_times(&c, w.day, w.hour, w.minute, w.second, back);
                ck_assert_int_eq(n, w.twice ? 2 : 1);
                ck_assert(back[0] == t || (n == 2 && back[1] == t));
            }
        }
}
END_TEST

Suite *suite_base_clock(void);
Suite *suite_base_clock(void)
{
    Suite *s = suite_create("base/clock");
    TCase *c = tcase_create("clock");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, on_a_plain_day_plan_time_is_the_time_of_day);
    tcase_add_test(c, an_hour_that_is_skipped_does_not_pass);
    tcase_add_test(c, a_doubled_hour_has_two_times_and_says_which);
    tcase_add_test(c, a_day_without_midnight_begins_at_its_first_instant);
    tcase_add_test(c, a_day_the_zone_left_out_is_no_show_day);
    tcase_add_test(c, dates_have_bounds);
    tcase_add_test(c, every_quarter_of_every_day_comes_back);
    suite_add_tcase(s, c);
    return s;
}

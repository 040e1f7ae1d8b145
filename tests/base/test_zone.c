#include "base/zone.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/civil.h"
#include "base/limits.h"
#include "base/memory.h"

static bpi_arena *arena;

static void set_up(void)
{
    arena = bpi_arena_new();
}

static void tear_down(void)
{
    bpi_arena_free(arena);
    bpi_zone_release_all();
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

static bpi_zone *zone(const char *name)
{
    bpi_zone *z = NULL;
    ck_assert_msg(bpi_zone_open(&z, arena, name, strlen(name)) == BP_OK, "%s", name);
    ck_assert_str_eq(bpi_zone_name(z), name);
    ck_assert_ptr_nonnull(bpi_zone_ical(z));
    return z;
}

static int64_t at(int year, int month, int day, int hour, int minute)
{
    return bpi_civil_days((bpi_date){year, month, day}) * BPI_DAY + hour * 3600 + minute * 60;
}

START_TEST(only_names_of_zones_are_opened)
{
    static const char *const bad[] = {"",
                                      "Europe/Atlantis",
                                      "../zoneinfo/Europe/Paris",
                                      "/usr/share/zoneinfo/Europe/Paris",
                                      "Europe",
                                      "Europe/Paris ",
                                      "Europe/Par\xC3\xAFs",
                                      "right/Europe/Paris",
                                      "Europe//Paris",
                                      "Europe/Paris/",
                                      "localtime",
                                      "posixrules",
                                      "Factory",
                                      "tzdata.zi",
                                      "Europe\\Paris",
                                      "posix/Europe/Paris",
                                      "zone.tab"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        bpi_zone *z = (bpi_zone *)&arena;
        ck_assert_msg(bpi_zone_open(&z, arena, bad[i], strlen(bad[i])) == BP_EVALUE, "%s", bad[i]);
        ck_assert_ptr_null(z);
    }
    bpi_zone *z = NULL;
    ck_assert_int_eq(bpi_zone_open(&z, arena, "Europe/Paris\0x", 14), BP_EVALUE);
    zone("UTC");
    zone("US/Pacific");
    zone("Etc/GMT+5");
    zone("America/Argentina/Buenos_Aires");
}
END_TEST

/* Offsets and instants of change as the time zone database (tzdata 2025b; the rules of each region)
 * has them; the European ones also follow Directive 2000/84/EC (last Sunday of March and October,
 * 01:00 UTC), those of New York 15 U.S.C. 260a (second Sunday of March, first of November, 2 a.m.).
 */
START_TEST(changes_of_the_clock_are_found)
{
    static const struct {
        const char *zone;
        int from[3]; /* look from here ... */
        int to[3];   /* ... to here        */
        int change[5];
        int before, after; /* minutes east of UTC */
    } rows[] = {
        {"Europe/Paris", {2026, 1, 1}, {2026, 6, 1}, {2026, 3, 29, 1, 0}, 60, 120},
        {"Europe/Paris", {2026, 6, 1}, {2027, 1, 1}, {2026, 10, 25, 1, 0}, 120, 60},
        {"Europe/London", {2026, 1, 1}, {2026, 6, 1}, {2026, 3, 29, 1, 0}, 0, 60},
        {"America/New_York", {2026, 1, 1}, {2026, 6, 1}, {2026, 3, 8, 7, 0}, -300, -240},
        {"America/New_York", {2026, 6, 1}, {2027, 1, 1}, {2026, 11, 1, 6, 0}, -240, -300},
        {"Australia/Sydney", {2026, 1, 1}, {2026, 6, 1}, {2026, 4, 4, 16, 0}, 660, 600},
        {"Australia/Lord_Howe", {2026, 1, 1}, {2026, 6, 1}, {2026, 4, 4, 15, 0}, 660, 630},
        {"Pacific/Apia", {2011, 12, 1}, {2012, 1, 5}, {2011, 12, 30, 10, 0}, -600, 840},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const bpi_zone *z = zone(rows[i].zone);
        int64_t from = at(rows[i].from[0], rows[i].from[1], rows[i].from[2], 0, 0);
        int64_t to = at(rows[i].to[0], rows[i].to[1], rows[i].to[2], 0, 0);
        const int *c = rows[i].change;
        int64_t change = at(c[0], c[1], c[2], c[3], c[4]), found = 0;
        ck_assert_msg(bpi_zone_next_change(z, from, to, &found) && found == change, "%s",
                      rows[i].zone);
        ck_assert_int_eq(bpi_zone_offset(z, change - 1), rows[i].before * 60);
        ck_assert_int_eq(bpi_zone_offset(z, change), rows[i].after * 60);
        found = 0;
        ck_assert(bpi_zone_last_change(z, to, from, &found) && found == change);
        /* both ends of both ranges */
        ck_assert(!bpi_zone_next_change(z, change, to, &found));
        ck_assert(!bpi_zone_next_change(z, from, change - 1, &found));
        ck_assert(bpi_zone_next_change(z, change - 1, change, &found) && found == change);
        ck_assert(!bpi_zone_last_change(z, change, from, &found));
        ck_assert(!bpi_zone_last_change(z, to, change + 1, &found));
        ck_assert(bpi_zone_last_change(z, change + 1, change, &found) && found == change);
    }
    int64_t found = 7;
    ck_assert(!bpi_zone_next_change(zone("Asia/Tokyo"), at(2026, 1, 1, 0, 0), at(2027, 1, 1, 0, 0),
                                    &found));
    ck_assert(
        !bpi_zone_next_change(zone("UTC"), at(2026, 1, 1, 0, 0), at(2027, 1, 1, 0, 0), &found));
    ck_assert_int_eq(found, 7);
    ck_assert_int_eq(bpi_zone_offset(zone("Asia/Kolkata"), at(2026, 1, 1, 0, 0)), 330 * 60);
}
END_TEST

/* RFC 5545 3.3.5: a local time that stands twice means the first, and its examples for New York:
 * 2007-11-04 01:30 is both 05:30Z and 06:30Z; 2007-03-11 02:30 does not exist. */
START_TEST(local_times_have_no_one_or_two_instants)
{
    static const struct {
        const char *zone;
        int local[5];
        int n;
        int utc[2][5];
    } rows[] = {
        {"America/New_York", {1998, 1, 19, 2, 0}, 1, {{1998, 1, 19, 7, 0}}},
        {"America/New_York", {2007, 11, 4, 1, 30}, 2, {{2007, 11, 4, 5, 30}, {2007, 11, 4, 6, 30}}},
        {"America/New_York", {2007, 3, 11, 2, 30}, 0, {{0}}},
        {"America/New_York", {2007, 3, 11, 1, 59}, 1, {{2007, 3, 11, 6, 59}}},
        {"America/New_York", {2007, 3, 11, 3, 0}, 1, {{2007, 3, 11, 7, 0}}},
        {"Europe/Paris", {2026, 3, 29, 2, 30}, 0, {{0}}},
        {"Europe/Paris", {2026, 3, 29, 2, 0}, 0, {{0}}},
        {"Europe/Paris", {2026, 3, 29, 3, 0}, 1, {{2026, 3, 29, 1, 0}}},
        {"Europe/Paris", {2026, 10, 25, 2, 30}, 2, {{2026, 10, 25, 0, 30}, {2026, 10, 25, 1, 30}}},
        {"Europe/Paris", {2026, 10, 25, 2, 0}, 2, {{2026, 10, 25, 0, 0}, {2026, 10, 25, 1, 0}}},
        {"Europe/Paris", {2026, 10, 25, 3, 0}, 1, {{2026, 10, 25, 2, 0}}},
        {"Europe/Paris", {2026, 10, 25, 1, 59}, 1, {{2026, 10, 24, 23, 59}}},
        {"Australia/Lord_Howe",
         {2026, 4, 5, 1, 45},
         2,
         {{2026, 4, 4, 14, 45}, {2026, 4, 4, 15, 15}}},
        {"Pacific/Kiritimati", {2026, 6, 1, 8, 0}, 1, {{2026, 5, 31, 18, 0}}},
        {"Pacific/Niue", {2026, 6, 1, 20, 0}, 1, {{2026, 6, 2, 7, 0}}},
        {"Pacific/Apia", {2011, 12, 30, 12, 0}, 0, {{0}}}, /* the day that Samoa left out */
        {"Asia/Tokyo", {2026, 3, 29, 2, 30}, 1, {{2026, 3, 28, 17, 30}}},
        {"UTC", {2026, 3, 29, 2, 30}, 1, {{2026, 3, 29, 2, 30}}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const int *l = rows[i].local;
        int64_t utc[2];
        int n = bpi_zone_instants(zone(rows[i].zone), at(l[0], l[1], l[2], l[3], l[4]), utc);
        ck_assert_msg(n == rows[i].n, "row %zu: %d", i, n);
        for (int k = 0; k < n; k++) {
            const int *u = rows[i].utc[k];
            ck_assert_msg(utc[k] == at(u[0], u[1], u[2], u[3], u[4]), "row %zu", i);
        }
    }
}
END_TEST

START_TEST(every_minute_around_a_change_comes_back)
{
    static const char *const names[] = {"Europe/Paris", "America/New_York", "Australia/Lord_Howe",
                                        "America/Santiago", "Africa/Cairo"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const bpi_zone *z = zone(names[i]);
        int64_t change = at(2026, 1, 1, 0, 0);
        while (bpi_zone_next_change(z, change, at(2028, 1, 1, 0, 0), &change))
            for (int64_t u = change - 3 * 3600; u < change + 3 * 3600; u += 60) {
                int64_t utc[2];
                int n = bpi_zone_instants(z, u + bpi_zone_offset(z, u), utc);
                ck_assert(n >= 1 && (utc[0] == u || (n == 2 && utc[1] == u)));
            }
    }
}
END_TEST

/* An independent reader of the same data: the C library's localtime_r. */
START_TEST(offsets_agree_with_the_c_library)
{
    static const char *const names[] = {"Europe/Paris",      "Europe/London",    "America/New_York",
                                        "America/Sao_Paulo", "Australia/Sydney", "Asia/Tokyo",
                                        "Asia/Kathmandu",    "Africa/Cairo",     "America/Havana"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const bpi_zone *z = zone(names[i]);
        setenv("TZ", names[i], 1);
        tzset();
        for (int64_t u = at(2024, 1, 1, 0, 0); u < at(BPI_MAX_YEAR, 12, 31, 0, 0); u += 6 * 3600) {
            time_t t = (time_t)u;
            struct tm tm;
            ck_assert_ptr_nonnull(localtime_r(&t, &tm));
            int64_t local = at(tm.tm_year + 1900, tm.tm_mon + 1, tm.tm_mday, tm.tm_hour, tm.tm_min);
            ck_assert_msg(bpi_zone_offset(z, u) == local - u, "%s at %lld", names[i], (long long)u);
        }
    }
    unsetenv("TZ");
    tzset();
}
END_TEST

START_TEST(years_out_of_bounds_get_the_nearest_answer)
{
    const bpi_zone *z = zone("Europe/Paris");
    ck_assert_int_eq(bpi_zone_offset(z, INT64_MIN), 3600);
    ck_assert_int_eq(bpi_zone_offset(z, at(2038, 7, 1, 0, 0)), 3600); /* as on 31 December 2037 */
    ck_assert_int_eq(bpi_zone_offset(z, INT64_MAX), 3600);
}
END_TEST

START_TEST(every_request_for_memory_may_fail)
{
    zone("Europe/Paris"); /* libical's own requests are done */
    bool fired = true;
    for (long k = 0; fired; k++) {
        bpi_arena *a = bpi_arena_new();
        bpi_zone *z = NULL;
        bpi_mem_fail_at(k, 0);
        bp_code rc = bpi_zone_open(&z, a, "Europe/Paris", 12);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert_int_eq(z == NULL, fired);
        bpi_arena_free(a);
    }
}
END_TEST

Suite *suite_base_zone(void);
Suite *suite_base_zone(void)
{
    Suite *s = suite_create("base/zone");
    TCase *c = tcase_create("zone");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, only_names_of_zones_are_opened);
    tcase_add_test(c, changes_of_the_clock_are_found);
    tcase_add_test(c, local_times_have_no_one_or_two_instants);
    tcase_add_test(c, every_minute_around_a_change_comes_back);
    tcase_add_test(c, offsets_agree_with_the_c_library);
    tcase_add_test(c, years_out_of_bounds_get_the_nearest_answer);
    tcase_add_test(c, every_request_for_memory_may_fail);
    suite_add_tcase(s, c);
    return s;
}

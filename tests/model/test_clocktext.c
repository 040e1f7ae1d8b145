#include "model/clocktext.h"

#include <check.h>
#include <string.h>

#include "base/arena.h"

static const struct {
    const char *text;
    int32_t day;
    int hour, minute, second;
    int32_t offset; /* -1: none */
} good[] = {
    {"08:24", 0, 8, 24, 0, -1},          {"08:24:30", 0, 8, 24, 30, -1},
    {"00:00", 0, 0, 0, 0, -1},           {"23:59:59", 0, 23, 59, 59, -1},
    {"-1d 16:00", -1, 16, 0, 0, -1},     {"+1d 00:30", 1, 0, 30, 0, -1},
    {"-7d 00:00", -7, 0, 0, 0, -1},      {"+0d 08:00", 0, 8, 0, 0, -1},
    {"01:30+01:00", 0, 1, 30, 0, 3600},  {"01:30-03:30", 0, 1, 30, 0, -12600},
    {"01:30:15+00:00", 0, 1, 30, 15, 0},
};

START_TEST(clock_times_are_read)
{
    bpi_fault f;
    bpi_clocktext t;
    ck_assert_msg(bpi_clocktext_read(&t, good[_i].text, strlen(good[_i].text), &f), "%s: %s",
                  good[_i].text, f.wrong);
    ck_assert_int_eq(t.day, good[_i].day);
    ck_assert_int_eq(t.hour, good[_i].hour);
    ck_assert_int_eq(t.minute, good[_i].minute);
    ck_assert_int_eq(t.second, good[_i].second);
    ck_assert_int_eq(t.with_offset ? t.offset : -1, good[_i].offset);
}
END_TEST

static const struct {
    const char *text;
    size_t at;
    const char *wrong;
} bad[] = {
    {"", 0, "this is not a clock time"},
    {"noon", 0, "this is not a clock time"},
    {"8:24", 0, "the hour has one digit"},
    {"0824", 0, "this is not a clock time"},
    {"08:2", 3, "the minute needs two digits"},
    {"08:24:3", 6, "the second needs two digits"},
    {"08:24 am", 5, "\" am\" cannot follow a clock time"},
    {"08:24Z", 5, "\"Z\" cannot follow a clock time"},
    {"24:00", 0, "the clock never reads 24:00"},
    {"24:01", 0, "there is no such clock time"},
    {"08:60", 0, "there is no such clock time"},
    {"08:24:60", 0, "there is no such clock time"},
    {"-1 16:00", 0, "the day before the clock time is not readable"},
    {"-1d16:00", 0, "the day before the clock time is not readable"},
    {"-d 16:00", 0, "the day before the clock time is not readable"},
    {"-8d 16:00", 0, "the day is too far from the show"},
    {"+2d 16:00", 0, "the day is too far from the show"},
    {"-99999999999999d 16:00", 0, "the day is too far from the show"},
    {"01:30+1:00", 5, "the offset from UTC is not readable"},
    {"01:30+15:00", 5, "the offset from UTC is not readable"},
    {"01:30+01:60", 5, "the offset from UTC is not readable"},
    {"01:30+01", 5, "the offset from UTC is not readable"},
};

START_TEST(what_is_no_clock_time_is_named)
{
    bpi_fault f;
    bpi_clocktext t = {.hour = 77};
    const char *text = bad[_i].text;
    ck_assert_msg(!bpi_clocktext_read(&t, text, strlen(text), &f), "%s was accepted", text);
    ck_assert_str_eq(f.wrong, bad[_i].wrong);
    ck_assert_uint_eq(f.at, bad[_i].at);
    ck_assert(f.right[0]);
    ck_assert_int_eq(t.hour, 77);
}
END_TEST

/* Clock changes of the tz database (2025b), each also in the law of the place: last Sundays of
 * March and October in the EU (Directive 2000/84/EC, at 01:00 UTC), second Sunday of March and
 * first of November in the US (15 U.S.C. 260a, at 02:00 local). */
static const struct {
    const char *zone;
    bpi_date date;
    const char *text;
    int64_t at;        /* plan time: elapsed since local midnight */
    const char *wrong; /* NULL: accepted */
    const char *right;
} placed[] = {
    {"Europe/Paris", {2026, 3, 29}, "01:59:59", 7199, NULL, NULL},
    {"Europe/Paris", {2026, 3, 29}, "03:00", 7200, NULL, NULL},
    {"Europe/Paris",
     {2026, 3, 29},
     "02:30",
     0,
     "the clock skips this time that day",
     "write a time before 02:00 or from 03:00 on: it jumps there"},
    {"Europe/Paris",
     {2026, 3, 29},
     "02:00",
     0,
     "the clock skips this time that day",
     "write a time before 02:00 or from 03:00 on: it jumps there"},
    {"Europe/Paris",
     {2026, 3, 30},
     "-1d 02:30",
     0,
     "the clock skips this time that day",
     "write a time before 02:00 or from 03:00 on: it jumps there"},
    {"Europe/Paris",
     {2026, 3, 28},
     "+1d 02:30",
     0,
     "the clock skips this time that day",
     "write a time before 02:00 or from 03:00 on: it jumps there"},
    {"Europe/Paris", {2026, 10, 25}, "02:30", 9000, NULL, NULL}, /* the first of two */
    {"Europe/Paris", {2026, 10, 25}, "02:30+02:00", 9000, NULL, NULL},
    {"Europe/Paris", {2026, 10, 25}, "02:30+01:00", 12600, NULL, NULL},
    {"Europe/Paris", {2026, 10, 25}, "03:00", 14400, NULL, NULL},
    {"Europe/Paris",
     {2026, 10, 25},
     "02:30+05:00",
     0,
     "the zone does not have this offset at that time",
     "write +02:00 or +01:00"},
    {"Europe/Paris", {2026, 7, 1}, "08:00+02:00", 28800, NULL, NULL},
    {"Europe/Paris",
     {2026, 7, 1},
     "08:00+01:00",
     0,
     "the zone does not have this offset at that time",
     "write +02:00, or no offset"},
    {"America/New_York",
     {2026, 3, 8},
     "02:15",
     0,
     "the clock skips this time that day",
     "write a time before 02:00 or from 03:00 on: it jumps there"},
    {"America/New_York", {2026, 11, 1}, "01:30-05:00", 9000, NULL, NULL},
    {"America/New_York", {2026, 11, 1}, "01:30", 5400, NULL, NULL},
    {"Asia/Tokyo", {2026, 3, 29}, "02:30", 9000, NULL, NULL},
    {"Asia/Tokyo", {2026, 3, 29}, "-1d 16:00", -28800, NULL, NULL},
    {"UTC", {2026, 3, 29}, "02:30+00:00", 9000, NULL, NULL},
};

START_TEST(clock_times_are_placed)
{
    bpi_arena *a = bpi_arena_new();
    bpi_zone *zone = NULL;
    bpi_clock clock;
    bpi_clocktext t;
    bpi_fault f;
    int64_t at = 77;
    const char *text = placed[_i].text;
    ck_assert_int_eq(bpi_zone_open(&zone, a, placed[_i].zone, strlen(placed[_i].zone)), BP_OK);
    ck_assert(bpi_clock_init(&clock, zone, placed[_i].date));
    ck_assert(bpi_clocktext_read(&t, text, strlen(text), &f));
    bool ok = bpi_clocktext_place(&at, &clock, &t, &f);
    ck_assert_msg(ok == !placed[_i].wrong, "%s", text);
    ck_assert_int_eq(at, ok ? placed[_i].at : 77);
    if (!ok) {
        ck_assert_str_eq(f.wrong, placed[_i].wrong);
        ck_assert_str_eq(f.right, placed[_i].right);
    }
    bpi_arena_free(a);
}
END_TEST

Suite *suite_model_clocktext(void);
Suite *suite_model_clocktext(void)
{
    Suite *s = suite_create("model/clocktext");
    TCase *c = tcase_create("clocktext");
    tcase_add_loop_test(c, clock_times_are_read, 0, sizeof good / sizeof *good);
    tcase_add_loop_test(c, what_is_no_clock_time_is_named, 0, sizeof bad / sizeof *bad);
    tcase_add_loop_test(c, clock_times_are_placed, 0, sizeof placed / sizeof *placed);
    suite_add_tcase(s, c);
    return s;
}

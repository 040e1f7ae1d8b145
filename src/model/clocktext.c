#include "model/clocktext.h"

#include <stdio.h>
#include <string.h>

#include "base/limits.h"

static const char form[] = "write it like \"08:24\", \"08:24:30\" or \"-1d 16:00\"";

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Exactly two digits. */
static bool two(const char *text, size_t len, size_t *at, int *out)
{
    if (len - *at < 2 || !is_digit(text[*at]) || !is_digit(text[*at + 1]))
        return false;
    *out = (text[*at] - '0') * 10 + (text[*at + 1] - '0');
    *at += 2;
    return true;
}

static bool read_day(bpi_clocktext *t, const char *text, size_t len, size_t *at, bpi_fault *f)
{
    if (len == 0 || (text[0] != '-' && text[0] != '+'))
        return true;
    size_t i = 1;
    int32_t n = 0;
    for (; i < len && is_digit(text[i]); i++)
        n = n > 1000 ? n : n * 10 + (text[i] - '0');
    if (i == 1 || len - i < 2 || text[i] != 'd' || text[i + 1] != ' ')
        return bpi_fault_set(f, 0, "write it like \"-1d 16:00\" for the day before",
                             "the day before the clock time is not readable");
    t->day = text[0] == '-' ? -n : n;
    if (t->day < -BPI_MAX_DAYS || t->day > 1)
        return bpi_fault_set(f, 0, "from -7d to +1d can be planned",
                             "the day is too far from the show");
    *at = i + 2;
    return true;
}

static bool read_offset(bpi_clocktext *t, const char *text, size_t len, size_t *at, bpi_fault *f)
{
    if (*at == len || (text[*at] != '+' && text[*at] != '-'))
        return true;
    size_t i = *at + 1;
    int h = 0, m = 0;
    bool ok = two(text, len, &i, &h) && i < len && text[i++] == ':' && two(text, len, &i, &m);
    if (!ok || h > 14 || m > 59)
        return bpi_fault_set(f, *at, "write it like \"01:30+01:00\"",
                             "the offset from UTC is not readable");
    t->with_offset = true;
    t->offset = (text[*at] == '-' ? -1 : 1) * (h * 3600 + m * 60);
    t->offset_at = *at;
    *at = i;
    return true;
}

bool bpi_clocktext_read(bpi_clocktext *out, const char *text, size_t len, bpi_fault *f)
{
    bpi_clocktext t = {0};
    size_t at = 0;
    if (!read_day(&t, text, len, &at, f))
        return false;
    t.time_at = at;
    if (len - at >= 4 && is_digit(text[at]) && text[at + 1] == ':')
        return bpi_fault_set(f, at, "write two digits for the hour, such as \"08:24\"",
                             "the hour has one digit");
    if (!two(text, len, &at, &t.hour) || at == len || text[at] != ':')
        return bpi_fault_set(f, t.time_at, form, "this is not a clock time");
    at++;
    if (!two(text, len, &at, &t.minute))
        return bpi_fault_set(f, at, form, "the minute needs two digits");
    if (at < len && text[at] == ':') {
        at++;
        if (!two(text, len, &at, &t.second))
            return bpi_fault_set(f, at, form, "the second needs two digits");
    }
    if (t.hour == 24 && t.minute == 0 && t.second == 0)
        return bpi_fault_set(f, t.time_at, "write \"+1d 00:00\"", "the clock never reads 24:00");
    if (t.hour > 23 || t.minute > 59 || t.second > 59)
        return bpi_fault_set(f, t.time_at, "the clock runs from 00:00:00 to 23:59:59",
                             "there is no such clock time");
    if (!read_offset(&t, text, len, &at, f))
        return false;
    if (at != len)
        return bpi_fault_set(f, at, form, "\"%.*s\" cannot follow a clock time",
                             (int)(len - at < 20 ? len - at : 20), text + at);
    *out = t;
    return true;
}

/* The gap that swallows a local time: what the clock reads as it jumps, and after it. */
static bool gap_around(const bpi_clock *c, const bpi_clocktext *t, int64_t *from, int64_t *to)
{
    int64_t days = bpi_civil_days(c->date) + t->day;
    int64_t local = days * BPI_DAY + t->hour * INT64_C(3600) + t->minute * INT64_C(60) + t->second;
    const int64_t two_days = INT64_C(2) * BPI_DAY;
    int64_t at = local - two_days;
    while (bpi_zone_next_change(c->zone, at, local + two_days, &at)) {
        *from = at + bpi_zone_offset(c->zone, at - 1);
        *to = at + bpi_zone_offset(c->zone, at);
        if (*from <= local && local < *to)
            return true;
    }
    return false;
}

static int of_day(int64_t local, int unit, int most)
{
    return (int)(((local % BPI_DAY + BPI_DAY) % BPI_DAY) / unit % most);
}

static void put_offset(char *out, size_t room, int32_t offset)
{
    int n = offset < 0 ? -offset : offset;
    snprintf(out, room, "%c%02d:%02d", offset < 0 ? '-' : '+', n / 3600, n / 60 % 60);
}

bool bpi_clocktext_place(int64_t *out, const bpi_clock *clock, const bpi_clocktext *t, bpi_fault *f)
{
    int64_t at[2] = {0, 0};
    int n = bpi_clock_times(clock, t->day, t->hour, t->minute, t->second, at);
    if (n == 0) {
        int64_t from = 0, to = 0;
        bpi_fault_set(f, t->time_at, "write a time that the clock shows",
                      "the clock skips this time that day");
        if (gap_around(clock, t, &from, &to))
            bpi_fault_right(f, "write a time before %02d:%02d or from %02d:%02d on: it jumps there",
                            of_day(from, 3600, 24), of_day(from, 60, 60), of_day(to, 3600, 24),
                            of_day(to, 60, 60));
        return false;
    }
    if (!t->with_offset) {
        *out = at[0];
        return true;
    }
    char fits[2][16];
    for (int i = 0; i < n; i++) {
        int32_t offset = bpi_zone_offset(clock->zone, bpi_clock_utc(clock, at[i]));
        if (offset == t->offset) {
            *out = at[i];
            return true;
        }
        put_offset(fits[i], sizeof fits[i], offset);
    }
    bpi_fault_set(f, t->offset_at, "", "the zone does not have this offset at that time");
    return n == 1 ? bpi_fault_right(f, "write %s, or no offset", fits[0])
                  : bpi_fault_right(f, "write %s or %s", fits[0], fits[1]);
}

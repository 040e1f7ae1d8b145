#include "base/clock.h"

#include "base/limits.h"

static int64_t floor_day(int64_t seconds)
{
    return seconds / BPI_DAY - (seconds % BPI_DAY < 0);
}

bool bpi_clock_init(bpi_clock *c, const bpi_zone *zone, bpi_date date)
{
    if (!bpi_civil_valid(date) || date.year < BPI_MIN_YEAR || date.year > BPI_MAX_YEAR)
        return false;
    int64_t local = bpi_civil_days(date) * BPI_DAY, utc[2];
    if (bpi_zone_instants(zone, local, utc) == 0) {
        /* The clock skips midnight: the day begins with the change that lands at or after it. */
        utc[0] = local - 2 * BPI_DAY;
        do {
            if (!bpi_zone_next_change(zone, utc[0], local + 2 * BPI_DAY, &utc[0]))
                return false;
        } while (utc[0] + bpi_zone_offset(zone, utc[0]) < local);
        if (floor_day(utc[0] + bpi_zone_offset(zone, utc[0])) != bpi_civil_days(date))
            return false; /* the clock skips the whole day */
    }
    *c = (bpi_clock){.zone = zone, .date = date, .midnight_utc = utc[0]};
    return true;
}

int64_t bpi_clock_utc(const bpi_clock *c, int64_t t)
{
    return c->midnight_utc + t;
}

int64_t bpi_clock_of_utc(const bpi_clock *c, int64_t utc)
{
    return utc - c->midnight_utc;
}

bpi_wall bpi_clock_wall(const bpi_clock *c, int64_t t)
{
    int64_t utc = bpi_clock_utc(c, t), both[2];
    int32_t offset = bpi_zone_offset(c->zone, utc);
    int64_t local = utc + offset, day = floor_day(local), second = local - day * BPI_DAY;
    return (bpi_wall){
        .day = (int32_t)(day - bpi_civil_days(c->date)),
        .hour = (int)(second / 3600),
        .minute = (int)(second / 60 % 60),
        .second = (int)(second % 60),
        .offset = offset,
        .twice = bpi_zone_instants(c->zone, local, both) == 2,
    };
}

bpi_date bpi_clock_date(const bpi_clock *c, int64_t t)
{
    int64_t utc = bpi_clock_utc(c, t);
    return bpi_civil_date(floor_day(utc + bpi_zone_offset(c->zone, utc)));
}

int bpi_clock_times(const bpi_clock *c, int32_t day, int hour, int minute, int second, int64_t t[2])
{
    int64_t local = (bpi_civil_days(c->date) + day) * BPI_DAY + hour * 3600 + minute * 60 + second;
    int n = bpi_zone_instants(c->zone, local, t);
    for (int i = 0; i < n; i++)
        t[i] = bpi_clock_of_utc(c, t[i]);
    return n;
}

void bpi_clock_put(bpi_text *out, const bpi_clock *c, int64_t t, unsigned form)
{
    bpi_wall w = bpi_clock_wall(c, t);
    if (w.day != 0 && !(form & BPI_CLOCK_NO_DAY)) {
        if (form & BPI_CLOCK_DAY_OFFSET)
            bpi_text_f(out, "%+dd ", (int)w.day);
        else
            bpi_text_f(out, "%s ",
                       bpi_civil_day_name(bpi_civil_weekday(bpi_civil_days(c->date) + w.day)));
    }
    bpi_text_f(out, "%02d:%02d", w.hour, w.minute);
    if (w.second || (form & BPI_CLOCK_SECONDS))
        bpi_text_f(out, ":%02d", w.second);
    if (w.twice) {
        int minutes = (w.offset < 0 ? -w.offset : w.offset) / 60;
        bpi_text_f(out, " (UTC%c%02d:%02d)", w.offset < 0 ? '-' : '+', minutes / 60, minutes % 60);
    }
}

void bpi_clock_put_utc(bpi_text *out, const bpi_clock *c, int64_t t)
{
    int64_t utc = bpi_clock_utc(c, t), day = floor_day(utc), second = utc - day * BPI_DAY;
    bpi_date d = bpi_civil_date(day);
    bpi_text_f(out, "%04d-%02d-%02dT%02d:%02d:%02dZ", (int)d.year, d.month, d.day,
               (int)(second / 3600), (int)(second / 60 % 60), (int)(second % 60));
}

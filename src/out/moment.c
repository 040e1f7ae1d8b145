#include "out/moment.h"

#include "base/limits.h"

bp_code bpi_moment_clock(bpi_clock *clock, bpi_zone *zone, const bp_plan *plan, bp_errors *errs)
{
    bpi_where where = {.file = plan->file};
    if (bpi_zone_find(zone, plan->zone) != BP_OK)
        return bpi_error_f(errs, BP_EVALUE, where, "an IANA name such as Europe/Paris",
                           "there is no time zone \"%.64s\"", plan->zone);
    if (plan->year < BPI_MIN_YEAR || plan->year > BPI_MAX_YEAR)
        return bpi_error_f(errs, BP_ERANGE, where, "a year from 1970 to 2037",
                           "the clock changes of %d are not known", plan->year);
    *clock = (bpi_clock){zone, {plan->year, plan->month, plan->day}, plan->midnight};
    return BP_OK;
}

void bpi_moment_put(bpi_text *out, const bpi_clock *clock, int64_t t)
{
    bpi_date d = bpi_clock_date(clock, t);
    bpi_wall w = bpi_clock_wall(clock, t);
    int minutes = (w.offset < 0 ? -w.offset : w.offset) / 60;
    bpi_text_f(out, "%04d-%02d-%02dT%02d:%02d:%02d%c%02d:%02d", (int)d.year, d.month, d.day, w.hour,
               w.minute, w.second, w.offset < 0 ? '-' : '+', minutes / 60, minutes % 60);
}

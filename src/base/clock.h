/* src/base/clock.h - plan time and the clock on the wall.
 *
 * Owns     nothing.
 * May use  base/.
 * Units    plan time is whole elapsed seconds since local midnight of the show day, below zero on
 * the days before. On a day with a clock change it is not the wall clock: an hour that is skipped
 *          does not pass.
 */
#ifndef BP_BASE_CLOCK_H
#define BP_BASE_CLOCK_H

#include <stdbool.h>
#include <stdint.h>

#include "base/civil.h"
#include "base/text.h"
#include "base/zone.h"

typedef struct bpi_clock {
    const bpi_zone *zone; /* outlives the clock                                              */
    bpi_date date;        /* the show day                                                    */
    int64_t midnight_utc; /* the instant of its 00:00, the first one where there are two; the
                             first instant of the day where the clock skips 00:00            */
} bpi_clock;

/* false: the date is not valid, outside BPI_MIN_YEAR to BPI_MAX_YEAR, or the zone skipped that day.
 */
bool bpi_clock_init(bpi_clock *c, const bpi_zone *zone, bpi_date date);

/* What the wall clock reads. */
typedef struct bpi_wall {
    int32_t day;              /* calendar days after the show day; -1 the day before */
    int hour, minute, second; /* 0-23, 0-59, 0-59                                    */
    int32_t offset;           /* seconds east of UTC at that instant                 */
    bool twice;               /* the clock reads this at two instants                */
} bpi_wall;

bpi_wall bpi_clock_wall(const bpi_clock *c, int64_t t);
bpi_date bpi_clock_date(const bpi_clock *c, int64_t t);

/* Plan times at which the wall clock reads this, earlier first: 0 (skipped), 1 or 2. `hour` 0-23,
 * `minute` and `second` 0-59. */
int bpi_clock_times(const bpi_clock *c, int32_t day, int hour, int minute, int second,
                    int64_t t[2]);

int64_t bpi_clock_utc(const bpi_clock *c, int64_t t); /* plan time to instant and back */
int64_t bpi_clock_of_utc(const bpi_clock *c, int64_t utc);

typedef enum bpi_clock_form {
    BPI_CLOCK_SECONDS = 1,    /* seconds even when they are 00                        */
    BPI_CLOCK_DAY_OFFSET = 2, /* "-1d 16:00", as a show file has it, not "Wed 16:00"  */
    BPI_CLOCK_NO_DAY = 4      /* no day mark                                          */
} bpi_clock_form;

/* Append "05:42", "05:42:30"; with a day mark when it is not the show day: "Wed 16:00". A time that
 * the clock reads twice gets its offset: "02:30 (UTC+02:00)". `form`: 0 or flags above. */
void bpi_clock_put(bpi_text *out, const bpi_clock *c, int64_t t, unsigned form);

/* Append "2026-10-25T00:30:00Z". */
void bpi_clock_put_utc(bpi_text *out, const bpi_clock *c, int64_t t);

#endif

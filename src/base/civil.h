/* src/base/civil.h - the proleptic Gregorian calendar as numbers.
 *
 * Owns     nothing.
 * May use  the C library.
 * Units    days count from 1970-01-01 (day 0); years are astronomical (0 is 1 BC).
 */
#ifndef BP_BASE_CIVIL_H
#define BP_BASE_CIVIL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define BPI_DAY 86400 /* seconds of a civil day as the calendar counts it */

typedef struct bpi_date {
    int32_t year;
    int month, day; /* from 1 */
} bpi_date;

int bpi_civil_month_days(int32_t year, int month); /* 28 to 31; 0: no such month */
bool bpi_civil_valid(bpi_date date);

/* Day number of a valid date, and back. Exact for every year an int32_t holds. */
int64_t bpi_civil_days(bpi_date date);
bpi_date bpi_civil_date(int64_t days);

int bpi_civil_weekday(int64_t days);         /* ISO 8601: 1 Monday ... 7 Sunday        */
const char *bpi_civil_day_name(int day);     /* "Mon" ... "Sun" for 1 ... 7            */
const char *bpi_civil_month_name(int month); /* "Jan" ... "Dec"                       */

/* Exactly YYYY-MM-DD with a day that exists; false: anything else, *date is kept. */
bool bpi_civil_read(bpi_date *date, const char *s, size_t len);

#endif

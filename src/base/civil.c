#include "base/civil.h"

/* Days from 0000-03-01 to 1970-01-01. Years are counted from March, so that a leap day ends one. */
#define EPOCH_FROM_MARCH_0 719468
#define DAYS_400_YEARS     146097

int bpi_civil_month_days(int32_t year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    if (month < 1 || month > 12)
        return 0;
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return month == 2 && leap ? 29 : days[month - 1];
}

bool bpi_civil_valid(bpi_date date)
{
    return date.day >= 1 && date.day <= bpi_civil_month_days(date.year, date.month);
}

static int64_t floor_div(int64_t a, int64_t b)
{
    return a / b - (a % b < 0);
}

int64_t bpi_civil_days(bpi_date date)
{
    int64_t year = (int64_t)date.year - (date.month < 3);
    int64_t era = floor_div(year, 400), in_era = year - era * 400;
    int64_t month = (date.month + 9) % 12; /* March is 0 */
    int64_t in_year = (153 * month + 2) / 5 + date.day - 1;
    return era * DAYS_400_YEARS + in_era * 365 + in_era / 4 - in_era / 100 + in_year -
           EPOCH_FROM_MARCH_0;
}

bpi_date bpi_civil_date(int64_t days)
{
    days += EPOCH_FROM_MARCH_0;
    int64_t era = floor_div(days, DAYS_400_YEARS), day = days - era * DAYS_400_YEARS;
    int64_t in_era = (day - day / 1460 + day / 36524 - day / 146096) / 365;
    int64_t in_year = day - (365 * in_era + in_era / 4 - in_era / 100);
    int64_t month = (5 * in_year + 2) / 153;
    bpi_date date;
    date.day = (int)(in_year - (153 * month + 2) / 5 + 1);
    date.month = (int)(month < 10 ? month + 3 : month - 9);
    date.year = (int32_t)(era * 400 + in_era + (date.month < 3));
    return date;
}

int bpi_civil_weekday(int64_t days)
{
    return (int)(days + 3 - floor_div(days + 3, 7) * 7) + 1; /* day 0 was a Thursday */
}

const char *bpi_civil_day_name(int day)
{
    static const char *const names[] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
    return day >= 1 && day <= 7 ? names[day - 1] : "?";
}

const char *bpi_civil_month_name(int month)
{
    static const char *const names[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                        "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    return month >= 1 && month <= 12 ? names[month - 1] : "?";
}

bool bpi_civil_read(bpi_date *date, const char *s, size_t len)
{
    if (len != 10)
        return false;
    int part[3] = {0, 0, 0};
    for (size_t i = 0, k = 0; i < 10; i++) {
        if (i == 4 || i == 7) {
            if (s[i] != '-')
                return false;
            k++;
        } else if (s[i] < '0' || s[i] > '9') {
            return false;
        } else {
            part[k] = part[k] * 10 + (s[i] - '0');
        }
    }
    bpi_date read = {part[0], part[1], part[2]};
    if (!bpi_civil_valid(read))
        return false;
    *date = read;
    return true;
}

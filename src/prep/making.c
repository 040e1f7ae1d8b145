#include "prep/making.h"

static int64_t floor_div(int64_t a, int64_t b)
{
    return a / b - (a % b < 0);
}

int32_t bpi_minutes_up(int64_t seconds)
{
    return (int32_t)-floor_div(-seconds, 60);
}

int32_t bpi_minutes_down(int64_t seconds)
{
    return (int32_t)floor_div(seconds, 60);
}

int32_t bpi_making_up(const bpi_making *m, int64_t t)
{
    return bpi_minutes_up(t - m->zero);
}

int32_t bpi_making_down(const bpi_making *m, int64_t t)
{
    return bpi_minutes_down(t - m->zero);
}

#include "model/thermal.h"

#include <assert.h>

#define ONE  INT64_C(1000000000) /* fixed point: thousand-millionths */
#define LN2  INT64_C(693147181)
#define PICO INT64_C(1000000000000)

/* rho c in kJ/m3K: 1000 kg/m3 of 4.10 kJ/kgK. */
#define HEAT_OF_VOLUME INT64_C(4100)

/* ln y = n ln 2 + 2 (z + z^3/3 + z^5/5 ...), z = (m - 1) / (m + 1), m = y / 2^n in [1, 2). */
int64_t bpi_thermal_ln(int64_t num, int64_t den)
{
    assert(den > 0 && num >= den && num < INT64_C(1) << 33);
    int64_t n = 0;
    while (num / 2 >= den) {
        den *= 2;
        n++;
    }
    int64_t z = (num - den) * ONE / (num + den), square = z * z / ONE, term = z, sum = 0;
    for (int64_t i = 1; term; i += 2) {
        sum += term / i;
        term = term * square / ONE;
    }
    return n * LN2 + 2 * sum;
}

/* exp(-x) = 2^-n (1 - r + r^2/2 - r^3/6 ...), x = n ln 2 + r. */
int64_t bpi_thermal_exp(int64_t x)
{
    int64_t n = x / LN2, r = x % LN2, term = ONE, sum = 0;
    if (n >= 31)
        return 0;
    for (int64_t i = 1; term; i++) {
        sum += term;
        term = -term * r / ONE / i;
    }
    return sum >> n;
}

int64_t bpi_thermal_rate(int32_t from, int32_t then, int32_t around, int64_t seconds)
{
    int64_t before = (int64_t)from - around, after = (int64_t)then - around;
    if (before < 0) {
        before = -before;
        after = -after;
    }
    if (seconds <= 0 || after <= 0 || after >= before)
        return 0;
    return bpi_thermal_ln(before, after) * (PICO / ONE) / seconds;
}

int64_t bpi_thermal_layer(int64_t depth_um, int32_t h)
{
    assert(depth_um > 0);
    return 2 * h * (PICO * 1000 / HEAT_OF_VOLUME) / depth_um; /* W / (kJ/m3K x um) */
}

int32_t bpi_thermal_coefficient(bpi_cool_in in)
{
    return in == BPI_COOL_ICE_BATH  ? BPI_THERMAL_WATER
           : in == BPI_COOL_CHILLER ? BPI_THERMAL_MOVING_AIR
                                    : BPI_THERMAL_STILL_AIR;
}

int64_t bpi_thermal_of(const bpi_cool *how)
{
    return how->read_s
               ? bpi_thermal_rate(how->read_mC[0], how->read_mC[1], how->around_mC, how->read_s)
               : bpi_thermal_layer(how->depth_um, bpi_thermal_coefficient(how->in));
}

int64_t bpi_thermal_depth(int64_t k, int32_t h)
{
    assert(k > 0);
    return 2 * h * (PICO * 1000 / HEAT_OF_VOLUME) / k;
}

int32_t bpi_thermal_after(int32_t from, int32_t around, int64_t k, int64_t seconds)
{
    int64_t x;
    if (seconds <= 0 || k <= 0)
        return from;
    if (__builtin_mul_overflow(k, seconds, &x))
        return around;
    int64_t gap = (int64_t)from - around;
    return around + (int32_t)(gap * bpi_thermal_exp(x / (PICO / ONE)) / ONE);
}

int64_t bpi_thermal_until(int32_t from, int32_t to, int32_t around, int64_t k)
{
    int64_t gap = (int64_t)from - around, rest = (int64_t)to - around;
    if (gap < 0) {
        gap = -gap;
        rest = -rest;
    }
    if (rest >= gap)
        return 0;
    if (rest <= 0 || k <= 0)
        return BPI_THERMAL_NEVER;
    int64_t pico = bpi_thermal_ln(gap, rest) * (PICO / ONE);
    int64_t seconds = pico / k + (pico % k != 0);
    return seconds > BPI_THERMAL_MOST ? BPI_THERMAL_NEVER : seconds;
}

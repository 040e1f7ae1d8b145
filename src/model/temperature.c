#include "model/temperature.h"

#include <string.h>

#define MOST_TENTHS 100000 /* 10 000 degrees: digits stop counting there */

static bool take(const char *text, size_t len, size_t *at, const char *want)
{
    size_t n = strlen(want);
    if (len - *at < n || memcmp(text + *at, want, n) != 0)
        return false;
    *at += n;
    return true;
}

static int64_t divide_nearest(int64_t n, int64_t d)
{
    return n < 0 ? -((-n + d / 2) / d) : (n + d / 2) / d;
}

static bool read(int32_t *out, const char *text, size_t len, bool rate, bpi_fault *f)
{
    const char *right = rate ? "write it like \"12 C/min\" or \"20 F/min\""
                             : "write it like \"200 C\" or \"400 F\"";
    size_t at = 0;
    bool minus = take(text, len, &at, "-") || take(text, len, &at, "\xE2\x88\x92");
    size_t digits = at;
    int64_t tenths = 0;
    while (at < len && text[at] >= '0' && text[at] <= '9') {
        tenths = tenths >= MOST_TENTHS ? tenths : (tenths + (text[at] - '0')) * 10;
        at++;
    }
    if (at == digits)
        return bpi_fault_set(f, at, right, "a temperature needs a number here");
    if (at < len && text[at] == ',')
        return bpi_fault_set(f, at, "write a decimal point: \"62.5 C\"",
                             "a comma cannot stand in a number");
    if (take(text, len, &at, ".")) {
        if (at >= len || text[at] < '0' || text[at] > '9')
            return bpi_fault_set(f, at, right, "a digit is missing after the decimal point");
        tenths += text[at++] - '0';
        if (at < len && text[at] >= '0' && text[at] <= '9')
            return bpi_fault_set(f, at, "write one digit, such as \"62.5 C\"",
                                 "a temperature has at most one digit after the point");
    }
    if (minus)
        tenths = -tenths;
    if (tenths > MOST_TENTHS || tenths < -2731)
        return bpi_fault_set(f, 0, right, "no kitchen has such a temperature");
    take(text, len, &at, " ");
    take(text, len, &at, "\xC2\xB0");
    bool fahrenheit = take(text, len, &at, "F");
    if (!fahrenheit && !take(text, len, &at, "C")) {
        if (at == len)
            return bpi_fault_set(f, at, right, "the temperature has no unit");
        return bpi_fault_set(f, at, right, "the unit of a temperature is \"C\" or \"F\"");
    }
    if (rate && !take(text, len, &at, "/min"))
        return bpi_fault_set(f, at, right, "degrees a minute end in \"/min\"");
    if (at != len)
        return bpi_fault_set(f, at, "take it out", "\"%.*s\" cannot follow a temperature",
                             (int)(len - at < 20 ? len - at : 20), text + at);
    int64_t mC = !fahrenheit ? tenths * 100 : divide_nearest((tenths - (rate ? 0 : 320)) * 500, 9);
    *out = (int32_t)mC;
    return true;
}

bool bpi_temperature_read(int32_t *out, const char *text, size_t len, bpi_fault *f)
{
    return read(out, text, len, false, f);
}

bool bpi_rate_read(int32_t *out, const char *text, size_t len, bpi_fault *f)
{
    return read(out, text, len, true, f);
}

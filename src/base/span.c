#include "base/span.h"

#include <inttypes.h>

/* The sign is written and the size returned, so that INT64_MIN is no special case. */
static uint64_t put_sign(bpi_text *out, int64_t seconds)
{
    if (seconds >= 0)
        return (uint64_t)seconds;
    bpi_text_char(out, '-');
    return 0 - (uint64_t)seconds;
}

void bpi_span_words(bpi_text *out, int64_t seconds)
{
    uint64_t n = put_sign(out, seconds);
    uint64_t h = n / 3600, m = n / 60 % 60, s = n % 60;
    if (h)
        bpi_text_f(out, "%" PRIu64 " h", h);
    if (m)
        bpi_text_f(out, "%s%" PRIu64 " min", h ? " " : "", m);
    if (s || n == 0)
        bpi_text_f(out, "%s%" PRIu64 " s", n >= 60 ? " " : "", s);
}

void bpi_span_minutes(bpi_text *out, int64_t seconds)
{
    uint64_t n = put_sign(out, seconds);
    bpi_text_f(out, "%" PRIu64 ":%02" PRIu64, n / 60, n % 60);
}

void bpi_span_hours(bpi_text *out, int64_t seconds)
{
    uint64_t n = put_sign(out, seconds);
    bpi_text_f(out, "%02" PRIu64 ":%02" PRIu64 ":%02" PRIu64, n / 3600, n / 60 % 60, n % 60);
}

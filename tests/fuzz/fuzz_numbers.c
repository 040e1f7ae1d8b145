/* tests/fuzz/fuzz_numbers.c - any text is read as a length, a quantity, a temperature or a moment of
 * the clock within its documented bounds, or refused with a reason that points into the text.
 */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/civil.h"
#include "base/limits.h"
#include "base/near.h"
#include "base/span.h"
#include "model/clocktext.h"
#include "model/duration.h"
#include "model/quantity.h"
#include "model/temperature.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len);

static void hold(bool good)
{
    if (!good)
        abort();
}

static void refused(const bpi_fault *f, size_t len)
{
    hold(f->wrong[0] != '\0');
    hold(f->at <= len);
    hold(memchr(f->wrong, '\0', sizeof f->wrong) && memchr(f->right, '\0', sizeof f->right));
}

static void lengths(const char *text, size_t len)
{
    bpi_fault f = {0};
    int64_t a = -1, b = -1;
    if (bpi_span_read(&a, text, len, &f)) {
        hold(a >= 0 && a <= BPI_MAX_LENGTH);
        bpi_text words = BPI_TEXT_EMPTY;
        bpi_span_words(&words, a);
        hold(words.failed || words.len > 0);
        bpi_text_release(&words);
    } else {
        refused(&f, len);
    }
    if (bpi_slot_read(&a, text, len, &f))
        hold(a >= 0 && a <= BPI_MAX_LENGTH);
    else
        refused(&f, len);
    if (bpi_window_read(&a, &b, text, len, &f))
        hold(a >= 0 && a <= b && b <= BPI_MAX_LENGTH);
    else
        refused(&f, len);
}

static void quantities(const char *text, size_t len)
{
    bpi_fault f = {0};
    bpi_quantity q = {0};
    int64_t num, den;
    if (bpi_quantity_read(&q, text, len, &f)) {
        hold(q.den >= 1 || q.dimension == BPI_NO_AMOUNT);
        hold(q.dimension == BPI_NO_AMOUNT || (q.num > 0 && q.den <= BPI_MAX_DEN));
        hold(q.packs <= BPI_MAX_PACKS && q.unit <= bpi_unit_count);
        hold(q.dimension == BPI_NO_AMOUNT || q.num / q.den <= BPI_MAX_AMOUNT);
    } else {
        refused(&f, len);
    }
    if (bpi_fraction_read(&num, &den, text, len, &f))
        hold(num > 0 && den >= 1 && den <= BPI_MAX_DEN && num / den <= BPI_MAX_AMOUNT);
    else
        refused(&f, len);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len)
{
    const char *text = (const char *)data;
    bpi_fault f = {0};
    int32_t mC;
    bpi_clocktext clock;
    lengths(text, len);
    quantities(text, len);
    if (!bpi_temperature_read(&mC, text, len, &f))
        refused(&f, len);
    if (!bpi_rate_read(&mC, text, len, &f))
        refused(&f, len);
    if (bpi_clocktext_read(&clock, text, len, &f)) {
        hold(clock.day >= -BPI_MAX_DAYS && clock.day <= 1);
        hold(clock.hour >= 0 && clock.hour < 24 && clock.minute >= 0 && clock.minute < 60);
        hold(clock.second >= 0 && clock.second < 60);
    } else {
        refused(&f, len);
    }
    return 0;
}

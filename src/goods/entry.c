#include "goods/entry.h"

#include <assert.h>

#include "goods/measure.h"

void bpi_entry_put(bpi_text *out, const bpi_ingredient *in, bpi_ratio size)
{
    bpi_measure m;
    bool amount = in->amount.dimension != BPI_NO_AMOUNT;
    if (amount) {
        if (size.num == size.den) {
            bpi_text_put(out, in->amount_text);
        } else if (bpi_measure_of(&m, &in->amount) && bpi_measure_scale(&m, size.num, size.den)) {
            bpi_measure_put(out, &m);
        } else { /* past what can be held exactly: the sum is left to the cook */
            bpi_text_f(out, "%u/%u x %s", (unsigned)size.num, (unsigned)size.den, in->amount_text);
        }
        bpi_text_char(out, ' ');
    }
    bpi_text_put(out, in->item);
    if (!amount)
        bpi_text_put(out, ", to taste");
    if (in->note[0])
        bpi_text_f(out, ", %s", in->note);
}

static uint64_t divisor(uint64_t a, uint64_t b)
{
    while (b) {
        uint64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

bpi_ratio bpi_ratio_add(bpi_ratio a, bpi_ratio b)
{
    uint64_t g = divisor(a.den, b.den), num;
    uint64_t left = a.num * (b.den / g), right = b.num * (a.den / g), den = a.den * (b.den / g);
    if (__builtin_add_overflow(left, right, &num))
        return (bpi_ratio){UINT32_MAX, 1};
    g = divisor(num, den);
    num /= g;
    den /= g;
    assert(den > 0);
    if (den > UINT32_MAX || num > UINT32_MAX) { /* up to a whole number: never short */
        num = num / den + 1;
        return (bpi_ratio){num > UINT32_MAX ? UINT32_MAX : (uint32_t)num, 1};
    }
    return (bpi_ratio){(uint32_t)num, (uint32_t)den};
}

void bpi_entry_put_step(bpi_text *out, const bpi_step *step, bpi_ratio size)
{
    for (uint32_t i = 0; i < step->ingredients; i++) {
        if (i)
            bpi_text_char(out, '\n');
        bpi_entry_put(out, &step->ingredient[i], size);
    }
}

#include "risk/normal.h"

/* The density is taken at z = -i / 1024, i up to 8 x 1024. */
enum { FINE = 1024, STEPS = BPI_Z_MOST * FINE };

/* log2(e) in 2^-30: 1.44269504088896340736. */
#define LOG2_E INT64_C(1549082005)

/* 2^62 x exp(-z^2 / 2), at least 1. */
static uint64_t density(const bpi_fix *f, int i)
{
    int64_t half_square = (int64_t)i * i * LOG2_E / (2 * FINE * FINE);
    bpi_float d = bpi_fix_exp2(f, -half_square);
    int shift = 31 + d.exponent; /* 62 - 31 */
    uint64_t v = shift >= 0 ? (uint64_t)d.mantissa << shift : (uint64_t)d.mantissa >> -shift;
    return v ? v : 1;
}

static bpi_float as_float(uint64_t part, uint64_t twice_whole)
{
    bpi_float r = {0, 0};
    while (!(part >> 62)) { /* part < twice_whole < 2^63 */
        part <<= 1;
        r.exponent--;
    }
    /* part / whole by long division, 33 bits of it */
    uint64_t q = 0, rest = part;
    for (int k = 0; k < 33; k++) {
        q <<= 1;
        if (rest >= twice_whole) {
            rest -= twice_whole;
            q |= 1;
        }
        rest <<= 1;
    }
    if (q >> 32) { /* 1 or more: q counts 2^-32 */
        r.mantissa = (uint32_t)(q >> 1);
    } else {
        r.mantissa = (uint32_t)q;
        r.exponent--;
    }
    return r;
}

/* z where the sum reaches `want`; from -i to 1 - i it grows by `add`. */
static int32_t z_between(int i, uint64_t sum, uint64_t add, uint64_t want)
{
    uint64_t part = add ? ((want - sum) << (BPI_Z_BITS - 10)) / add : 0;
    return (int32_t)part - i * (1 << (BPI_Z_BITS - 10));
}

void bpi_normal_init(bpi_normal *n, const bpi_fix *f)
{
    /* Of each density 51 bits count, so that twice the sum stays below 2^63. */
    uint64_t total = 0, last = density(f, STEPS) >> 11;
    for (int i = STEPS - 1; i >= 0; i--) {
        uint64_t d = density(f, i) >> 11;
        total += (last + d) / 2;
        last = d;
    }
    uint64_t twice = 2 * total; /* chance 1 */
    uint64_t sum = 0;
    uint32_t main = 1, tail = 1; /* next entries */
    last = density(f, STEPS) >> 11;
    n->main[0] = n->tail[0] = -(13 << (BPI_Z_BITS - 1)); /* 6.5: words end at 6.23 */
    for (int i = STEPS; i > 0; i--) {
        if (i % (STEPS / (BPI_Z_CELLS / 2)) == 0)
            n->below[(STEPS - i) / (STEPS / (BPI_Z_CELLS / 2))] = as_float(sum ? sum : 1, twice);
        uint64_t d = density(f, i - 1) >> 11, add = (last + d) / 2;
        for (; tail <= BPI_Z_TAIL && sum + add >= (twice >> 22) * tail; tail++)
            n->tail[tail] = z_between(i, sum, add, (twice >> 22) * tail);
        for (; main <= BPI_Z_MAIN && sum + add >= (twice >> 12) * main; main++)
            n->main[main] = z_between(i, sum, add, (twice >> 12) * main);
        sum += add;
        last = d;
    }
    n->main[BPI_Z_MAIN] = 0;
}

#include "risk/fixed.h"

uint64_t bpi_fix_sqrt(uint64_t x)
{
    uint64_t root = 0;
    for (uint64_t bit = UINT64_C(1) << 31; bit; bit >>= 1) {
        uint64_t next = root | bit;
        if (next * next <= x)
            root = next;
    }
    return root;
}

void bpi_fix_init(bpi_fix *f)
{
    uint64_t t = UINT64_C(1) << 32; /* 2, in 2^-31 */
    for (int k = 0; k < BPI_FIX_BITS; k++) {
        t = bpi_fix_sqrt(t << 31);
        f->factor[k] = (uint32_t)t;
    }
}

/* Bit by bit: squaring doubles the logarithm. */
int64_t bpi_fix_log2(uint64_t x)
{
    int whole = 63;
    while (!(x >> whole & 1))
        whole--;
    uint64_t m = whole >= 31 ? x >> (whole - 31) : x << (31 - whole); /* 1..2, in 2^-31 */
    int64_t log = (int64_t)whole << BPI_FIX_BITS;
    for (int k = BPI_FIX_BITS - 1; k >= 0; k--) {
        m = (m * m) >> 31;
        if (m >> 32) {
            m >>= 1;
            log += INT64_C(1) << k;
        }
    }
    return log;
}

bpi_float bpi_fix_exp2(const bpi_fix *f, int64_t y)
{
    int64_t whole = y / BPI_FIX_ONE - (y % BPI_FIX_ONE < 0);
    int64_t rest = y - whole * BPI_FIX_ONE;
    uint64_t m = UINT64_C(1) << 31;
    for (int k = 0; k < BPI_FIX_BITS; k++)
        if (rest >> (BPI_FIX_BITS - 1 - k) & 1)
            m = (m * f->factor[k]) >> 31;
    return (bpi_float){m >> 32 ? UINT32_MAX : (uint32_t)m, (int32_t)whole};
}

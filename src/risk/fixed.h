/* src/risk/fixed.h - powers and logarithms of two in whole numbers: the same bits on every machine.
 *
 * Owns     nothing; the table of factors lives with the caller.
 * May use  the C library.
 * Units    logarithms count 2^-30; a power is a mantissa of 32 bits and an exponent.
 *
 * Errors are below 2^-25 of the value: far less than what a million days can tell.
 */
#ifndef BP_RISK_FIXED_H
#define BP_RISK_FIXED_H

#include <stdint.h>

#define BPI_FIX_BITS 30
#define BPI_FIX_ONE  (INT64_C(1) << BPI_FIX_BITS)

/* factor[k] = 2^(2^-(k+1)), counted in 2^-31. */
typedef struct bpi_fix {
    uint32_t factor[BPI_FIX_BITS];
} bpi_fix;

/* A number above 0: mantissa x 2^(exponent - 31), 2^31 <= mantissa < 2^32. */
typedef struct bpi_float {
    uint32_t mantissa;
    int32_t exponent;
} bpi_float;

void bpi_fix_init(bpi_fix *f);
int64_t bpi_fix_log2(uint64_t x); /* of x >= 1 */
bpi_float bpi_fix_exp2(const bpi_fix *f, int64_t y);

uint64_t bpi_fix_sqrt(uint64_t x); /* rounded down */

#endif

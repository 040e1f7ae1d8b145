/* src/risk/philox.h - random words by counter: the same place gives the same word, in any order.
 *
 * Owns     nothing.
 * May use  the C library.
 *
 * Philox4x32-10 of J. K. Salmon, M. A. Moraes, R. O. Dror and D. E. Shaw, "Parallel random numbers:
 * as easy as 1, 2, 3" (SC11, 2011). Nothing is carried from word to word, so days may be played in
 * any order and by any number of threads.
 */
#ifndef BP_RISK_PHILOX_H
#define BP_RISK_PHILOX_H

#include <stdint.h>

/* Four words for a counter of four words and a key of two. */
static inline void bpi_philox(uint32_t out[4], const uint32_t counter[4], uint32_t key0,
                              uint32_t key1)
{
    uint32_t a = counter[0], b = counter[1], c = counter[2], d = counter[3];
    for (int round = 0; round < 10; round++) {
        uint64_t p = (uint64_t)a * 0xD2511F53u, q = (uint64_t)c * 0xCD9E8D57u;
        a = (uint32_t)(q >> 32) ^ b ^ key0;
        b = (uint32_t)q;
        c = (uint32_t)(p >> 32) ^ d ^ key1;
        d = (uint32_t)p;
        key0 += 0x9E3779B9u;
        key1 += 0xBB67AE85u;
    }
    out[0] = a;
    out[1] = b;
    out[2] = c;
    out[3] = d;
}

#endif

/* src/live/fit.h - lengths of beats that sum to the slot exactly.
 *
 * Owns     nothing.
 * May use  the C library.
 * Units    whole seconds.
 *
 * Minimises the sum of weight x (length - likely)^2 with least <= length <= most and the lengths
 * summing to the slot. That is a separable convex allocation of whole units, for which taking the
 * cheapest next second again and again is exact (O. Gross, A class of discrete-type minimization
 * problems, RAND RM-1644, 1956; T. Ibaraki and N. Katoh, Resource Allocation Problems, MIT Press
 * 1988, chapter 4; both cited from memory). Here the price up to which seconds are taken, the
 * multiplier of the water-filling, is found by bisection over integers.
 */
#ifndef BP_LIVE_FIT_H
#define BP_LIVE_FIT_H

#include <stdint.h>

#define BPI_FIT_MOST   (INT64_C(1) << 31) /* greatest time: squares and prices stay in 64 bits */
#define BPI_FIT_WEIGHT (INT64_C(1) << 20) /* greatest weight                                   */

typedef struct bpi_fit_beat {
    int64_t least, likely, most; /* 0 <= least <= likely <= most <= BPI_FIT_MOST */
    int64_t weight;              /* 1 to BPI_FIT_WEIGHT                          */
    int64_t length;              /* the result                                   */
} bpi_fit_beat;

typedef enum bpi_fit_end {
    BPI_FIT_OK,
    BPI_FIT_OVER, /* even the least lengths overrun the slot: nothing is set */
    BPI_FIT_SHORT /* even the most do not fill it: nothing is set            */
} bpi_fit_end;

/* Set the length of each. Where seconds cost the same, the earlier beat gets them. */
bpi_fit_end bpi_fit(bpi_fit_beat *beat, uint32_t n, int64_t slot);

#endif

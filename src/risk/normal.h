/* src/risk/normal.h - the normal distribution by tables of whole numbers.
 *
 * Owns     the tables; the caller holds them.
 * May use  risk/fixed.
 * Units    deviations z count 2^-16 standard deviations; a random word u stands for (u + 1/2) / 2^32.
 *
 * The density is added up from far below to 0 by the trapezium rule in steps of 1/1024, and the sum
 * is scaled to one half. By its inverse a random word becomes a deviation: 2048 cells of equal chance
 * on each side of 0, the outermost in 1024 cells more; straight lines between.
 */
#ifndef BP_RISK_NORMAL_H
#define BP_RISK_NORMAL_H

#include <stdint.h>

#include "risk/fixed.h"

#define BPI_Z_BITS  16
#define BPI_Z_MOST  8    /* deviations of the grid: -8 to 8         */
#define BPI_Z_CELLS 1024 /* of the grid; each 1/64 of a deviation   */

enum { BPI_Z_MAIN = 2048, BPI_Z_TAIL = 1024 };

typedef struct bpi_normal {
    int32_t main[BPI_Z_MAIN + 1];     /* z below 0 with chance i / 4096            */
    int32_t tail[BPI_Z_TAIL + 1];     /* the same for i / 2^22                     */
    bpi_float below[BPI_Z_CELLS / 2]; /* chance below the grid's z number i, z < 0 */
} bpi_normal;

void bpi_normal_init(bpi_normal *n, const bpi_fix *f);

/* The deviation of a random word. */
static inline int32_t bpi_normal_z(const bpi_normal *n, uint32_t u)
{
    uint32_t up = u >> 31 ? UINT32_MAX : 0;
    uint32_t p = u ^ up; /* the same chance on the lower side */
    const int32_t *t = n->main;
    uint32_t cell = p >> 20, bits = 20;
    if (cell == 0) {
        t = n->tail;
        cell = p >> 10;
        bits = 10;
    }
    int64_t rest = p & ((UINT32_C(1) << bits) - 1);
    int32_t z =
        t[cell] + (int32_t)(((int64_t)t[cell + 1] - t[cell]) * (2 * rest + 1) >> (bits + 1));
    return up ? -z : z;
}

#endif

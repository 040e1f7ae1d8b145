/* src/risk/shape.h - the length of an activity as a table over the standard normal deviation.
 *
 * Owns     nothing; tables live in the caller's arena.
 * May use  risk/normal, base/arena.
 * Units    lengths count 1/256 of the caller's unit.
 *
 * The density is added up in 2048 cells from low to high, from either side, and for each deviation of
 * the grid the place is found below which the chance is the same. Between two of the grid a length
 * lies on a straight line.
 */
#ifndef BP_RISK_SHAPE_H
#define BP_RISK_SHAPE_H

#include "backpot/risk.h"
#include "base/arena.h"
#include "risk/normal.h"

#define BPI_LENGTH_BITS 8

enum { BPI_SHAPE_CELLS = 2048 };

typedef struct bpi_shapes {
    bpi_fix fix;
    bpi_normal normal;
    int64_t log[BPI_SHAPE_CELLS]; /* log2 of the middles of the cells */
} bpi_shapes;

void bpi_shapes_init(bpi_shapes *s);

/* BPI_Z_CELLS + 1 lengths, of an activity with low < high. NULL: no memory. */
const int32_t *bpi_shape_make(const bpi_shapes *s, bpi_arena *a, const bp_risk_activity *act);

/* The length at a deviation, rounded to whole units. */
static inline int32_t bpi_shape_length(const int32_t *table, int32_t z)
{
    const int32_t most = (BPI_Z_MOST << BPI_Z_BITS) - 1;
    enum { BITS = BPI_Z_BITS + 4 - 10, HALF = 1 << (BPI_LENGTH_BITS - 1) };
    z = z > most ? most : z < -most ? -most : z;
    uint32_t at = (uint32_t)(z + (BPI_Z_MOST << BPI_Z_BITS));
    uint32_t cell = at >> BITS;
    int64_t rest = at & ((1u << BITS) - 1), a = table[cell], b = table[cell + 1];
    return (int32_t)((a + ((b - a) * rest >> BITS) + HALF) >> BPI_LENGTH_BITS);
}

#endif

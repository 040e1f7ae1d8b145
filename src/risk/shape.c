#include "risk/shape.h"

void bpi_shapes_init(bpi_shapes *s)
{
    bpi_fix_init(&s->fix);
    bpi_normal_init(&s->normal, &s->fix);
    int64_t scale = bpi_fix_log2(2 * BPI_SHAPE_CELLS);
    for (uint32_t i = 0; i < BPI_SHAPE_CELLS; i++)
        s->log[i] = bpi_fix_log2(2 * i + 1) - scale;
}

/* Chance of each cell against the likeliest one, which has 2^20. */
static void weigh(const bpi_shapes *s, const bp_risk_activity *act, uint32_t *weight)
{
    int64_t below = (int64_t)act->likely - act->low, above = (int64_t)act->high - act->likely;
    int64_t range = below + above, most = INT64_MIN;
    if (act->shape == BP_RISK_TRIANGLE) {
        for (int64_t i = 0; i < BPI_SHAPE_CELLS; i++) {
            int64_t x = (2 * i + 1) * range, end = 2 * BPI_SHAPE_CELLS; /* x / end from low */
            bool rising = x < below * end;
            int64_t up = rising ? x : end * range - x, of = (rising ? below : above) * end;
            weight[i] = (uint32_t)((up << 20) / of);
        }
        return;
    }
    for (int pass = 0; pass < 2; pass++)
        for (uint32_t i = 0; i < BPI_SHAPE_CELLS; i++) {
            int64_t log = 4 * (below * s->log[i] + above * s->log[BPI_SHAPE_CELLS - 1 - i]) / range;
            if (pass == 0)
                most = log > most ? log : most;
            else {
                bpi_float w = bpi_fix_exp2(&s->fix, log - most); /* at most 1 */
                weight[i] = w.exponent < -20 ? 0 : w.mantissa >> (11 - w.exponent);
            }
        }
}

/* How far from the low end (or, with `back`, from the high end), in 2^-32 of the range, the chance is
 * that of deviations below the grid's numbers 0..512. */
static void places(const bpi_shapes *s, const uint32_t *weight, bool back, uint32_t *place)
{
    uint64_t whole = 0, sum = 0;
    for (uint32_t i = 0; i < BPI_SHAPE_CELLS; i++)
        whole += weight[i];
    uint32_t cell = 0;
    for (uint32_t k = 0; k < BPI_Z_CELLS / 2; k++) {
        bpi_float p = s->normal.below[k]; /* < 1/2: whole x p, in 2^-32 */
        int shift = -1 - p.exponent;
        uint64_t want = shift > 63 ? 0 : (whole * p.mantissa) >> shift;
        uint64_t w = weight[back ? BPI_SHAPE_CELLS - 1 - cell : cell];
        while (cell + 1 < BPI_SHAPE_CELLS && (sum + w) << 32 <= want) {
            sum += w;
            cell++;
            w = weight[back ? BPI_SHAPE_CELLS - 1 - cell : cell];
        }
        uint64_t rest = want > sum << 32 ? want - (sum << 32) : 0;
        uint64_t part = w ? rest / w : 0; /* of the cell, in 2^-32 */
        part = part > UINT32_MAX ? UINT32_MAX : part;
        place[k] = (uint32_t)((((uint64_t)cell << 32) + part) / BPI_SHAPE_CELLS);
    }
}

const int32_t *bpi_shape_make(const bpi_shapes *s, bpi_arena *a, const bp_risk_activity *act)
{
    enum { HALF = BPI_Z_CELLS / 2 };
    int32_t *table = BPI_TAKE(a, BPI_Z_CELLS + 1, int32_t);
    uint32_t *weight = BPI_TAKE(a, BPI_SHAPE_CELLS, uint32_t);
    uint32_t *place = BPI_TAKE(a, HALF, uint32_t);
    if (!table || !weight || !place)
        return NULL;
    weigh(s, act, weight);
    uint64_t range = (uint64_t)(act->high - act->low) << BPI_LENGTH_BITS;
    int32_t low = act->low << BPI_LENGTH_BITS, high = act->high << BPI_LENGTH_BITS;
    places(s, weight, false, place);
    for (uint32_t k = 0; k < HALF; k++)
        table[k] = low + (int32_t)(range * place[k] >> 32);
    places(s, weight, true, place);
    for (uint32_t k = 0; k < HALF; k++)
        table[BPI_Z_CELLS - k] = high - (int32_t)(range * place[k] >> 32);
    /* At 0 the two sides meet. */
    int64_t left = 2 * (int64_t)table[HALF - 1] - table[HALF - 2],
            right = 2 * (int64_t)table[HALF + 1] - table[HALF + 2];
    table[HALF] = (int32_t)((left + right) / 2);
    return table;
}

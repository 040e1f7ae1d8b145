#include "live/fit.h"

#include <assert.h>

/* The second that takes a beat from x-1 to x costs weight * (2 * (x - likely) - 1): each costs more
 * than the one before, by twice the weight. */

static int64_t floor_half(int64_t v)
{
    return v >= 0 ? v / 2 : -((1 - v) / 2);
}

static int64_t floor_div(int64_t v, int64_t by)
{
    return v >= 0 ? v / by : -((-v + by - 1) / by);
}

/* The length with every second taken that costs `price` or less. */
static int64_t length_at(const bpi_fit_beat *b, int64_t price)
{
    int64_t x = b->likely + floor_half(floor_div(price, b->weight) + 1);
    return x < b->least ? b->least : x > b->most ? b->most : x;
}

static int64_t sum_at(const bpi_fit_beat *beat, uint32_t n, int64_t price)
{
    int64_t sum = 0;
    for (uint32_t i = 0; i < n; i++)
        sum += length_at(&beat[i], price);
    return sum;
}

bpi_fit_end bpi_fit(bpi_fit_beat *beat, uint32_t n, int64_t slot)
{
    int64_t least = 0, most = 0, dearest = 1;
    for (uint32_t i = 0; i < n; i++) {
        assert(0 <= beat[i].least && beat[i].least <= beat[i].likely);
        assert(beat[i].likely <= beat[i].most && beat[i].most <= BPI_FIT_MOST);
        assert(1 <= beat[i].weight && beat[i].weight <= BPI_FIT_WEIGHT);
        least += beat[i].least;
        most += beat[i].most;
        int64_t price = beat[i].weight * (2 * (beat[i].most - beat[i].least) + 1);
        if (price > dearest)
            dearest = price;
    }
    if (least > slot)
        return BPI_FIT_OVER;
    if (most < slot)
        return BPI_FIT_SHORT;

    int64_t low = -dearest - 1, high = dearest; /* sum at low <= slot <= sum at high */
    while (high - low > 1) {
        int64_t mid = low + (high - low) / 2;
        if (sum_at(beat, n, mid) <= slot)
            low = mid;
        else
            high = mid;
    }
    if (sum_at(beat, n, high) <= slot)
        low = high;
    int64_t rest = slot - sum_at(beat, n, low);
    for (uint32_t i = 0; i < n; i++) {
        beat[i].length = length_at(&beat[i], low);
        if (rest > 0 && length_at(&beat[i], low + 1) > beat[i].length) {
            beat[i].length++; /* exactly one second of each beat costs low + 1 */
            rest--;
        }
    }
    assert(rest == 0);
    return BPI_FIT_OK;
}

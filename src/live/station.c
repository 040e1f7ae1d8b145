#include "live/station.h"

#include <string.h>

#include "live/drop.h"

int64_t bpi_station_place(const bpi_segment *segment, const bpi_beat *beat)
{
    return beat->at < segment->stations ? segment->station[beat->at].place : 0;
}

int64_t bpi_station_farthest(const bpi_segment *segment, const bpi_beat *beat, uint64_t set,
                             uint32_t i)
{
    int64_t to = bpi_station_place(segment, &beat[i]), most = 0;
    for (uint32_t k = 0; k < i; k++) {
        int64_t walk = (set >> k & 1) ? bpi_drop_walk(bpi_station_place(segment, &beat[k]), to) : 0;
        most = walk > most ? walk : most;
    }
    return most;
}

uint32_t bpi_station_of(const bpi_air *air, const bpi_swap *swap, uint32_t beat)
{
    if (swap->first_beat == BPI_NO_INDEX || beat > swap->last_beat)
        return BPI_NO_INDEX;
    uint32_t last = swap->first_beat;
    for (uint32_t i = swap->first_beat; i <= beat; i++)
        if (swap->beats >> i & 1)
            last = i;
    return air->beat[last].at;
}

/* Other dishes may have theirs in between. */
const char *bpi_station_name(const bpi_air *air, const bpi_swap *swap)
{
    for (uint32_t i = 0; i < air->beats; i++)
        if ((swap->beats >> i & 1) && air->beat[i].station[0])
            return air->beat[i].station;
    return "";
}

uint32_t bpi_station_dress(const bpi_segment *segment, const bpi_air *air, const bpi_swap *swap)
{
    if (!segment->dresses || swap->tease != BPI_NO_INDEX)
        return BPI_NO_INDEX;
    uint32_t i = 0;
    while (i < segment->dresses && strcmp(segment->dress[i], segment->dish[swap->dish].id) != 0 &&
           strcmp(segment->dress[i], bpi_station_name(air, swap)) != 0)
        i++;
    return i;
}

uint32_t bpi_station_most(uint32_t *beat, const bpi_air *air, uint32_t station)
{
    uint32_t most = 0;
    for (uint32_t i = 0; i < air->beats; i++) {
        uint32_t n = 0;
        for (uint32_t c = 0; c < air->swaps && !air->fitted[i].dropped; c++)
            n += bpi_station_of(air, &air->swap[c], i) == station;
        if (n > most) {
            most = n;
            *beat = i;
        }
    }
    return most;
}

bool bpi_station_hot(const bpi_recipe *recipe, const bpi_air *air, const bpi_swap *swap,
                     uint32_t beat)
{
    uint64_t steps = swap->steps;
    for (uint32_t i = 0; beat != BPI_NO_INDEX && i <= beat; i++)
        for (uint32_t k = 0; (swap->beats >> i & 1) && k < air->beat[i].does_n; k++)
            steps |= UINT64_C(1) << air->beat[i].does[k];
    for (uint32_t s = 0; s < recipe->steps; s++) {
        const bpi_step *step = &recipe->step[s];
        bool hot = (steps >> s & 1) && (step->burner || step->kind == BPI_OVEN);
        for (uint32_t t = 0; t < recipe->steps; t++) {
            const bpi_step *later = &recipe->step[t];
            if ((steps >> t & 1) && (later->before_all >> s & 1) &&
                (later->keep == BPI_COLD || later->cool.in != BPI_COOL_NOT))
                hot = false;
        }
        if (hot)
            return true;
    }
    return false;
}

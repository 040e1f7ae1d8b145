#include "model/show.h"

#include <string.h>

const char *bpi_keep_name(bpi_keep k)
{
    static const char *const names[BPI_KEEPS] = {"counter", "hot", "cold"};
    return names[k];
}

const char *bpi_per_words(bpi_per per)
{
    static const char *const words[] = {
        [BPI_PER_SHOW] = "for the show",        [BPI_PER_COOK] = "a cook",
        [BPI_PER_APPEARANCE] = "an appearance", [BPI_PER_CONTAINER] = "a container",
        [BPI_PER_TASTE] = "a person and dish",  [BPI_PER_BEAT] = "a beat",
        [BPI_PER_STRIKE] = "a strike"};
    return words[per];
}

const char *bpi_stage_name(bpi_stage s)
{
    static const char *const names[BPI_STAGES] = {"raw", "mid-cook", "finished"};
    return names[s];
}

int32_t bpi_place_warms(const bpi_place *place)
{
    int32_t by = place->temp_mC - place->cold_mC;
    return by > 0 ? (by + place->heat_mC_min - 1) / place->heat_mC_min : 0;
}

uint32_t bpi_circuit_watts(const bpi_circuit *c)
{
    return c->amperes * c->volts; /* at most 400 A at 1000 V */
}

static const char *dressed_name(const bpi_segment *segment, const char *id)
{
    for (uint32_t d = 0; d < segment->dishes; d++)
        if (strcmp(segment->dish[d].id, id) == 0)
            return segment->dish[d].title;
    return id;
}

static bool is_dressed(const bpi_segment *segment, const char *id)
{
    for (uint32_t i = 0; i < segment->dresses; i++)
        if (strcmp(segment->dress[i], id) == 0)
            return true;
    return false;
}

void bpi_segment_put_dress(bpi_text *out, const bpi_segment *segment)
{
    bool rest = false;
    for (uint32_t i = 0; i < segment->dresses; i++)
        bpi_text_f(out, "%s%s", i ? ", then " : "", dressed_name(segment, segment->dress[i]));
    for (uint32_t d = 0; d < segment->dishes && segment->dresses; d++)
        rest |= !is_dressed(segment, segment->dish[d].id);
    bpi_text_put(out, rest ? ", then all else" : "");
}

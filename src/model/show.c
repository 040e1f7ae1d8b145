#include "model/show.h"

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
        [BPI_PER_TASTE] = "a person and dish",  [BPI_PER_BEAT] = "a beat"};
    return words[per];
}

const char *bpi_stage_name(bpi_stage s)
{
    static const char *const names[BPI_STAGES] = {"raw", "mid-cook", "finished"};
    return names[s];
}

uint32_t bpi_circuit_watts(const bpi_circuit *c)
{
    return c->amperes * c->volts; /* at most 400 A at 1000 V */
}

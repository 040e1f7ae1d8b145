#include "model/show.h"

const char *bpi_keep_name(bpi_keep k)
{
    static const char *const names[BPI_KEEPS] = {"counter", "hot", "cold"};
    return names[k];
}

const char *bpi_stage_name(bpi_stage s)
{
    static const char *const names[BPI_STAGES] = {"raw", "mid-cook", "finished"};
    return names[s];
}

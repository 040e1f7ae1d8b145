#include "goods/pack.h"

#include <string.h>

/* The next use of the tool in order of start, stage and list; `uses`: there is none. */
static uint32_t next_of(uint32_t tool, const bpi_pull_use *use, uint32_t uses, const bool *done)
{
    uint32_t best = uses;
    for (uint32_t i = 0; i < uses; i++) {
        if (done[i] || use[i].tool != tool || use[i].from >= use[i].to)
            continue;
        if (best == uses || use[i].from < use[best].from ||
            (use[i].from == use[best].from && use[i].stage < use[best].stage))
            best = i;
    }
    return best;
}

static uint32_t most_in(uint32_t tool, uint32_t stage, const bpi_pull_use *use, uint32_t uses)
{
    uint32_t most = 0;
    for (uint32_t i = 0; i < uses; i++) { /* in between the number only falls */
        uint32_t n = 0;
        if (use[i].tool != tool || use[i].stage != stage)
            continue;
        for (uint32_t k = 0; k < uses; k++)
            n += use[k].tool == tool && use[k].stage == stage && use[k].from <= use[i].from &&
                 use[i].from < use[k].to;
        most = n > most ? n : most;
    }
    return most;
}

bool bpi_pack_tool(bpi_pack_count *count, uint32_t stages, uint32_t tool, const bpi_pull_use *use,
                   uint32_t uses, bpi_arena *a)
{
    bool *done = BPI_TAKE(a, uses + 1, bool);
    int64_t *busy = BPI_TAKE(a, uses + 1, int64_t); /* until when each of them is */
    uint32_t there = 0, at;
    if (!done || !busy)
        return false;
    memset(done, 0, (uses + 1) * sizeof *done);
    for (uint32_t s = 0; s < stages; s++)
        count[s] = (bpi_pack_count){0, most_in(tool, s, use, uses)};
    while ((at = next_of(tool, use, uses, done)) < uses) {
        uint32_t one = 0;
        while (one < there && busy[one] > use[at].from)
            one++;
        if (one == there) {
            there++;
            count[use[at].stage].packed++;
        }
        busy[one] = use[at].to;
        done[at] = true;
    }
    return true;
}

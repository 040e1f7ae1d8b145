#include "live/change.h"

#include <string.h>

#include "base/limits.h"

bool bpi_change_begin(bpi_change *out, bpi_arena *a, const bpi_show *show, uint32_t segment,
                      const bpi_beat *beat, uint32_t beats)
{
    bpi_show *s = BPI_TAKE(a, 1, bpi_show);
    bpi_segment *g = BPI_TAKE(a, show->segments, bpi_segment);
    bpi_beat *b = BPI_TAKE(a, beats, bpi_beat);
    if (!s || !g || !b)
        return false;
    *s = *show;
    memcpy(g, show->segment, show->segments * sizeof *g);
    memcpy(b, beat, beats * sizeof *b);
    s->segment = g;
    g[segment].beat = b;
    g[segment].beats = beats;
    *out = (bpi_change){s, &g[segment], b};
    return true;
}

static uint64_t bit(uint32_t i)
{
    return UINT64_C(1) << i;
}

/* What a set of beats is when those left out are counted no more. */
static uint64_t renumber(uint64_t set, uint32_t n, uint64_t out)
{
    uint64_t now = 0;
    uint32_t k = 0;
    for (uint32_t i = 0; i < n; i++)
        if (!(out & bit(i))) {
            now |= set & bit(i) ? bit(k) : 0;
            k++;
        }
    return now;
}

uint64_t bpi_change_leave_out(bpi_change *c, uint64_t beats)
{
    uint32_t n = c->segment->beats, left = 0;
    for (uint64_t before = 0; before != beats;) {
        before = beats;
        for (uint32_t i = 0; i < n; i++)
            if (c->beat[i].needs & beats)
                beats |= bit(i);
    }
    for (uint32_t i = 0; i < n; i++) {
        if ((beats & bit(i)) && c->beat[i].keep)
            return 0;
        left += !(beats & bit(i));
    }
    if (left == 0)
        return 0;
    left = 0;
    for (uint32_t i = 0; i < n; i++)
        if (!(beats & bit(i))) {
            bpi_beat b = c->beat[i];
            b.needs = renumber(b.needs, n, beats);
            c->beat[left++] = b;
        }
    c->segment->beats = left;
    return beats;
}

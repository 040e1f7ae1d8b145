#include "live/version.h"

#include "base/memory.h"
#include "live/drop.h"

/* The beats that can come, as live/drop wants them; a beat that is not ready, and what needs it, is
 * made one that fits no slot. Returns what they fill at most. */
static int64_t put_choice(bpi_drop_beat *choice, const bpi_slot_beat *beat, uint32_t n,
                          int64_t longest)
{
    uint64_t out = 0;
    for (uint32_t i = 0; i < n; i++)
        out |= beat[i].ready ? 0 : UINT64_C(1) << i;
    for (uint64_t before = ~out; before != out;) {
        before = out;
        for (uint32_t i = 0; i < n; i++)
            if (beat[i].needs & out)
                out |= UINT64_C(1) << i;
    }
    for (uint32_t i = 0; i < n; i++) {
        choice[i] = (bpi_drop_beat){.least = beat[i].least,
                                    .most = beat[i].most,
                                    .worth = beat[i].worth,
                                    .keep = beat[i].keep,
                                    .needs = beat[i].needs,
                                    .place = beat[i].place};
        if (out >> i & 1)
            choice[i].least = choice[i].most = longest + 1;
    }
    int64_t least = 0, most = 0;
    bpi_drop_span(&least, &most, choice, n, ~out);
    return most;
}

/* Stretches of equal sets, longest first. `version` has room for all. */
static uint32_t gather(bpi_version *version, const uint64_t *kept, const bool *fits,
                       int64_t shortest, int64_t longest)
{
    uint32_t n = 0;
    for (int64_t slot = longest; slot >= shortest; slot--) {
        if (!fits[slot])
            continue;
        if (n > 0 && version[n - 1].kept == kept[slot])
            version[n - 1].least = slot; /* a set fits every slot between two that it fits */
        else
            version[n++] = (bpi_version){slot, slot, kept[slot]};
    }
    return n;
}

bp_code bpi_version_make(const bpi_version **out, uint32_t *versions, bpi_arena *a,
                         const bpi_slot_beat *beat, uint32_t n, uint64_t sense, int64_t longest)
{
    bpi_drop_beat choice[BPI_MAX_BEATS];
    int64_t most = put_choice(choice, beat, n, longest);
    longest = most < longest ? most : longest;
    uint64_t *kept = bpi_mem_get(((size_t)longest + 1) * sizeof *kept);
    bool *fits = bpi_mem_get(((size_t)longest + 1) * sizeof *fits);
    bpi_version *list = BPI_TAKE(a, (size_t)longest + 1, bpi_version);
    bp_code rc = kept && fits && list ? BP_OK : BP_ENOMEM;
    if (rc == BP_OK)
        rc = bpi_drop_each(kept, fits, choice, n, 0, longest);
    int64_t shortest = 0;
    while (rc == BP_OK && shortest <= longest &&
           (!fits[shortest] || !kept[shortest] || (sense && !(kept[shortest] & sense))))
        shortest++;
    if (rc == BP_OK) {
        *versions = gather(list, kept, fits, shortest, longest);
        *out = list;
    }
    bpi_mem_drop(kept);
    bpi_mem_drop(fits);
    return rc;
}

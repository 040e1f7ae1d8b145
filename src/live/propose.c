#include "live/propose.h"

#include <assert.h>

#include "base/limits.h"
#include "base/memory.h"
#include "live/drop.h"
#include "live/stage.h"
#include "live/station.h"
#include "live/walk.h"

#define COUNT_ROOM (2 * BPI_MAX_BEATS) /* as in live/drop: worth, then the number of beats */

/* What a choice asks of the kitchen: sorted, so that equal ones look equal. */
typedef struct asked {
    uint32_t n;
    uint32_t dish[BPI_MAX_BEATS];
    uint64_t steps[BPI_MAX_BEATS];
} asked;

typedef struct search {
    const bpi_propose_ask *ask;
    uint32_t fixed; /* containers that any choice needs */
    int64_t most_after[BPI_MAX_BEATS + 1];
    int32_t *table; /* [beat][seconds left]: most value of this beat and later, only time counted */
    bpi_proposal *out;
    int64_t *value; /* of each of them        */
    asked *of;      /* and what it asks for   */
    uint32_t n;
    uint64_t work;
} search;

static uint64_t bit(uint32_t i)
{
    return UINT64_C(1) << i;
}

static int64_t place_of(const bpi_propose_ask *a, uint32_t i)
{
    return bpi_station_place(a->segment, &a->beat[i]);
}

static int32_t value_of(const bpi_beat *b)
{
    return b->worth * COUNT_ROOM + 1;
}

static bool fill_table(search *s)
{
    const bpi_propose_ask *a = s->ask;
    size_t width = (size_t)a->segment->slot + 1;
    s->table = bpi_mem_get((a->beats + 1) * width * sizeof *s->table);
    for (uint32_t i = a->beats; s->table && i-- > 0;) {
        const int32_t *after = s->table + (i + 1) * width;
        int32_t *here = s->table + i * width;
        for (size_t left = 0; left < width; left++) {
            here[left] = after[left];
            size_t least = (size_t)a->fitted[i].least;
            if (least <= left && after[left - least] + value_of(&a->beat[i]) > here[left])
                here[left] = after[left - least] + value_of(&a->beat[i]);
        }
    }
    return s->table != NULL;
}

/* ---- what a choice asks for -------------------------------------------------------------- */

/* Containers that do not hang on the choice: the beauty of each dish, and one to eat of. */
static uint32_t count_fixed(const bpi_propose_ask *a)
{
    uint32_t n = a->segment->dishes;
    for (uint32_t d = 0; d < a->segment->dishes; d++)
        n += bpi_stage_portions(a->segment) > 0 && a->segment->dish[d].taste;
    return n;
}

/* Spares, one set for each state of the stage that the dish is wanted in; measured ones even where it
 * is not, and finished ones for the beauty. */
static uint32_t count_spares(const search *s, const asked *of)
{
    uint32_t n = 0;
    const bpi_segment *g = s->ask->segment;
    for (uint32_t d = 0; d < g->dishes; d++) {
        uint32_t raw = 0, mid = 0;
        for (uint32_t c = 0; c < of->n; c++)
            if (of->dish[c] == d &&
                (c == 0 || of->dish[c - 1] != d || of->steps[c - 1] != of->steps[c])) {
                raw += of->steps[c] == 0;
                mid += of->steps[c] != 0;
            }
        n += g->dish[d].spares[BPI_RAW] * (raw ? raw : 1) + g->dish[d].spares[BPI_MID] * mid +
             g->dish[d].spares[BPI_FINISHED];
    }
    return n;
}

static void sort_asked(asked *of, const bpi_chain *chain, uint32_t chains)
{
    of->n = 0;
    for (uint32_t c = 0; c < chains; c++) {
        uint32_t k = of->n++;
        for (; k > 0 && (of->dish[k - 1] > chain[c].dish ||
                         (of->dish[k - 1] == chain[c].dish && of->steps[k - 1] > chain[c].steps));
             k--) {
            of->dish[k] = of->dish[k - 1];
            of->steps[k] = of->steps[k - 1];
        }
        of->dish[k] = chain[c].dish;
        of->steps[k] = chain[c].steps;
    }
}

static bool is_same(const asked *a, const asked *b)
{
    for (uint32_t i = 0; i < a->n && a->n == b->n; i++)
        if (a->dish[i] != b->dish[i] || a->steps[i] != b->steps[i])
            return false;
    return a->n == b->n;
}

/* Beats during which the container is on a burner: those that do such a step, and, after one that is
 * left alone before it is done, all until the container is taken up again, or to the end. */
static uint64_t heated(const search *s, const bpi_chain *c)
{
    uint64_t on = 0;
    bool alone = false;
    const bpi_recipe *r = &s->ask->recipe[s->ask->segment->dish[c->dish].recipe];
    for (uint32_t i = 0; i < s->ask->beats; i++) {
        const bpi_beat *b = &s->ask->beat[i];
        if (c->beats & bit(i)) {
            int64_t left = s->ask->fitted[i].least;
            alone = false;
            for (uint32_t k = 0; k < b->does_n; k++) {
                const bpi_step *step = &r->step[b->does[k]];
                left -= bpi_walk_time(step);
                on |= step->burner ? bit(i) : 0;
                alone = step->burner && step->kind != BPI_ACTIVE && left < 0;
            }
        }
        on |= alone ? bit(i) : 0;
    }
    return on;
}

static uint32_t count_burners(const search *s, const bpi_chain *chain, uint32_t chains)
{
    uint64_t on[BPI_MAX_BEATS];
    uint32_t most = 0;
    for (uint32_t c = 0; c < chains; c++)
        on[c] = heated(s, &chain[c]);
    for (uint32_t i = 0; i < s->ask->beats; i++) {
        uint32_t n = 0;
        for (uint32_t c = 0; c < chains; c++)
            n += on[c] >> i & 1;
        most = n > most ? n : most;
    }
    return most;
}

/* ---- the search -------------------------------------------------------------------------- */

static void put_at(search *s, uint32_t k, const bpi_proposal *p, int64_t value, const asked *of)
{
    s->out[k] = *p;
    s->value[k] = value;
    s->of[k] = *of;
}

/* Take one out, or put one in: of equals, the first one found stays in front. */
static void enter(search *s, const bpi_proposal *p, int64_t value, const asked *of)
{
    uint32_t same = 0;
    while (same < s->n && !is_same(&s->of[same], of))
        same++;
    if (same < s->n && s->value[same] >= value)
        return;
    if (same == s->n && s->n < s->ask->list)
        s->n++;
    else if (same == s->n)
        same--; /* the last one goes; what came here is worth more */
    uint32_t k = same;
    for (; k > 0 && s->value[k - 1] < value; k--)
        put_at(s, k, &s->out[k - 1], s->value[k - 1], &s->of[k - 1]);
    put_at(s, k, p, value, of);
}

static void look_at(search *s, uint64_t kept, int64_t value)
{
    bpi_chain chain[BPI_MAX_BEATS];
    uint64_t needs[BPI_MAX_BEATS];
    asked of;
    const bpi_propose_ask *a = s->ask;
    bpi_fitted fitted[BPI_MAX_BEATS];
    s->work += a->beats;
    for (uint32_t i = 0; i < a->beats; i++) {
        fitted[i] = a->fitted[i];
        fitted[i].farthest = bpi_station_farthest(a->segment, a->beat, kept, i);
    }
    uint32_t chains =
        bpi_walk(chain, needs, a->recipe, a->segment, a->beat, fitted, a->beats, kept);
    sort_asked(&of, chain, chains);
    bpi_proposal p = {.kept = kept, .worth = (int32_t)(value / COUNT_ROOM)};
    p.swaps = chains + s->fixed + count_spares(s, &of);
    p.burners = count_burners(s, chain, chains);
    if (p.swaps <= a->swaps && p.burners <= a->burners)
        enter(s, &p, value, &of);
}

/* `place`: where the last beat kept is. The bounds know of no walk that is still to come but the
 * farthest. */
static void try_from(search *s, uint32_t i, uint64_t kept, int64_t used, int64_t most,
                     int64_t value, int64_t place)
{
    const bpi_propose_ask *a = s->ask;
    int64_t slot = a->segment->slot;
    if (s->work > BPI_PROPOSE_WORK)
        return;
    s->work++;
    if (used > slot || most + s->most_after[i] < slot)
        return;
    if (s->n == a->list &&
        value + s->table[i * ((size_t)slot + 1) + (size_t)(slot - used)] <= s->value[s->n - 1])
        return;
    if (i == a->beats) {
        look_at(s, kept, value);
        return;
    }
    int64_t walk = bpi_drop_walk(place, place_of(a, i));
    try_from(s, i + 1, kept | bit(i), used + walk + a->fitted[i].least,
             most + walk + a->fitted[i].most, value + value_of(&a->beat[i]), place_of(a, i));
    if (!a->beat[i].keep)
        try_from(s, i + 1, kept, used, most, value, place);
}

bp_code bpi_propose(bpi_proposal *out, uint32_t *n, const bpi_propose_ask *ask)
{
    int64_t value[BPI_PROPOSE_MOST];
    assert(ask->beats <= BPI_MAX_BEATS && ask->list >= 1 && ask->list <= BPI_PROPOSE_MOST);
    search s = {.ask = ask, .fixed = count_fixed(ask), .out = out, .value = value};
    *n = 0;
    for (uint32_t i = ask->beats; i-- > 0;)
        s.most_after[i] = s.most_after[i + 1] + ask->fitted[i].most +
                          bpi_station_farthest(ask->segment, ask->beat, ~UINT64_C(0), i);
    s.of = bpi_mem_get(BPI_PROPOSE_MOST * sizeof *s.of);
    bool memory = s.of && fill_table(&s);
    if (memory)
        try_from(&s, 0, 0, 0, 0, 0, BPI_NO_PLACE);
    bpi_mem_drop(s.table);
    bpi_mem_drop(s.of);
    if (!memory)
        return BP_ENOMEM;
    if (s.work > BPI_PROPOSE_WORK)
        return BP_EUNSURE;
    *n = s.n;
    return s.n ? BP_OK : BP_ENOFIT;
}

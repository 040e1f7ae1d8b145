#include "live/drop.h"

#include <assert.h>

#include "base/limits.h"
#include "base/memory.h"

/* Worth and number of beats in one figure: a set that is worth more wins, then the larger one. */
#define COUNT_ROOM (2 * BPI_MAX_BEATS)

#define SEEN_ROOM (1u << 15) /* states remembered; a newer one takes the place of an older */

/* All that the choice among later beats depends on, and the most value it was reached with. */
typedef struct seen {
    uint64_t in, out;
    int64_t slot, used, most, value, at;
    uint32_t next; /* beat + 1; 0: empty */
} seen;

typedef struct search {
    const bpi_drop_beat *beat;
    uint32_t n;
    int64_t slot, room;                    /* room: seconds the table reaches to */
    uint64_t needs[BPI_MAX_BEATS];         /* and what these need, itself too   */
    uint64_t needed[BPI_MAX_BEATS];        /* by: those that fall with it, itself too */
    int64_t most_after[BPI_MAX_BEATS + 1]; /* of this beat and all later, far walks and all */
    int32_t *table; /* [beat][seconds left]: most value of this beat and later, needs forgotten */
    seen *seen;
    uint64_t best;
    int64_t best_value; /* -1: none yet */
    uint64_t work;
} search;

static uint64_t bit(uint32_t i)
{
    return UINT64_C(1) << i;
}

uint64_t bpi_drop_closure(const bpi_drop_beat *beat, uint32_t n, uint64_t set)
{
    for (uint64_t before = 0; before != set;) {
        before = set;
        for (uint32_t i = 0; i < n; i++)
            if (set & bit(i))
                set |= beat[i].needs;
    }
    return set;
}

int64_t bpi_drop_walk(int64_t from, int64_t to)
{
    if (from == BPI_NO_PLACE)
        return 0;
    return from < to ? to - from : from - to;
}

void bpi_drop_span(int64_t *least, int64_t *most, const bpi_drop_beat *beat, uint32_t n,
                   uint64_t set)
{
    int64_t at = BPI_NO_PLACE;
    *least = *most = 0;
    for (uint32_t i = 0; i < n; i++) {
        if (!(set & bit(i)))
            continue;
        int64_t walk = bpi_drop_walk(at, beat[i].place);
        *least += beat[i].least + walk;
        *most += beat[i].most + walk;
        at = beat[i].place;
    }
}

/* The farthest that anybody has to come to beat i. */
static int64_t farthest(const bpi_drop_beat *beat, uint32_t i)
{
    int64_t far = 0;
    for (uint32_t k = 0; k < i; k++)
        if (bpi_drop_walk(beat[k].place, beat[i].place) > far)
            far = bpi_drop_walk(beat[k].place, beat[i].place);
    return far;
}

static int32_t value_of(const bpi_drop_beat *b)
{
    return b->worth * COUNT_ROOM + 1;
}

static bool fill_table(search *s)
{
    size_t width = (size_t)s->room + 1;
    s->table = bpi_mem_get((s->n + 1) * width * sizeof *s->table);
    if (!s->table)
        return false;
    for (uint32_t i = s->n; i-- > 0;) {
        const int32_t *after = s->table + (i + 1) * width;
        int32_t *here = s->table + i * width;
        int64_t least = s->beat[i].least;
        for (int64_t left = 0; left <= s->room; left++) {
            here[left] = after[left];
            if (least <= left && after[left - least] + value_of(&s->beat[i]) > here[left])
                here[left] = after[left - least] + value_of(&s->beat[i]);
        }
    }
    return true;
}

/* Was this state reached before with as much? Then nothing better comes of it, and of what is equal
 * the first one stays. Remembers it if not. */
static bool is_old(search *s, seen now)
{
    uint64_t hash = now.next;
    const uint64_t parts[] = {
        now.in,          now.out, (uint64_t)now.slot, (uint64_t)now.used, (uint64_t)now.most,
        (uint64_t)now.at};
    for (size_t k = 0; k < sizeof parts / sizeof *parts; k++)
        hash = (hash ^ parts[k] ^ hash >> 29) * UINT64_C(0x9E3779B97F4A7C15);
    seen *place = &s->seen[hash >> 32 & (SEEN_ROOM - 1)];
    if (place->next == now.next && place->in == now.in && place->out == now.out &&
        place->slot == now.slot && place->used == now.used && place->most == now.most &&
        place->at == now.at && place->value >= now.value)
        return true;
    *place = now;
    return false;
}

/* Beats before `i` are decided, the last of them is at `at`; `in` and `out` also hold later ones that
 * these decide. */
static void try_from(search *s, uint32_t i, uint64_t in, uint64_t out, int64_t used, int64_t most,
                     int64_t value, int64_t at)
{
    assert((in & out) == 0); /* both hold all that follows from what was decided */
    if (s->work > BPI_DROP_WORK)
        return;
    s->work++;
    if (used > s->slot || most + s->most_after[i] < s->slot)
        return;
    if (i == s->n) {
        if (value > s->best_value) { /* of equals, the first one found stays */
            s->best_value = value;
            s->best = in;
        }
        return;
    }
    int64_t left = s->slot - used < s->room ? s->slot - used : s->room;
    if (value + s->table[i * ((size_t)s->room + 1) + (size_t)left] <= s->best_value)
        return;
    uint64_t later = ~(bit(i) - 1);
    int64_t filled = most < s->slot ? most : s->slot;
    if (is_old(s, (seen){in & later, out & later, s->slot, used, filled, value, at, i + 1}))
        return;
    const bpi_drop_beat *b = &s->beat[i];
    int64_t walk = bpi_drop_walk(at, b->place);
    if (!(out & bit(i)))
        try_from(s, i + 1, in | s->needs[i], out, used + b->least + walk, most + b->most + walk,
                 value + value_of(b), b->place);
    if (!(in & bit(i)))
        try_from(s, i + 1, in, out | s->needed[i], used, most, value, at);
}

/* What does not depend on the slot; `most` is the longest that will be asked for. */
static uint64_t begin(search *s, int64_t most)
{
    uint64_t must = 0;
    int64_t least = 0;
    for (uint32_t i = s->n; i-- > 0;) {
        s->needs[i] = bpi_drop_closure(s->beat, s->n, bit(i));
        s->most_after[i] = s->most_after[i + 1] + s->beat[i].most + farthest(s->beat, i);
        least += s->beat[i].least;
        if (s->beat[i].keep)
            must |= bit(i);
    }
    for (uint32_t i = 0; i < s->n; i++)
        for (uint32_t j = 0; j < s->n; j++)
            if (s->needs[j] & bit(i))
                s->needed[i] |= bit(j);
    s->room = least < most ? least : most;
    return bpi_drop_closure(s->beat, s->n, must);
}

static void search_one(search *s, uint64_t must, int64_t slot)
{
    s->slot = slot;
    s->best_value = -1;
    s->best = 0;
    s->work = 0;
    try_from(s, 0, must, 0, 0, 0, 0, BPI_NO_PLACE);
}

bp_code bpi_drop_each(uint64_t *kept, bool *fits, const bpi_drop_beat *beat, uint32_t n,
                      int64_t least, int64_t most)
{
    assert(n <= BPI_MAX_BEATS && least >= 0);
    search s = {.beat = beat, .n = n};
    uint64_t must = begin(&s, most);
    if (most < least)
        return BP_OK;
    if (!fill_table(&s))
        return BP_ENOMEM;
    s.seen = bpi_mem_get(SEEN_ROOM * sizeof *s.seen);
    bp_code rc = s.seen ? BP_OK : BP_ENOMEM;
    for (int64_t slot = least; rc == BP_OK && slot <= most; slot++) {
        search_one(&s, must, slot);
        kept[slot - least] = s.best;
        fits[slot - least] = s.best_value >= 0;
        if (s.work > BPI_DROP_WORK)
            rc = BP_EUNSURE;
    }
    bpi_mem_drop(s.seen);
    bpi_mem_drop(s.table);
    return rc;
}

bp_code bpi_drop(uint64_t *kept, const bpi_drop_beat *beat, uint32_t n, int64_t slot)
{
    uint64_t set = 0;
    bool fits = false;
    if (slot < 0)
        return BP_ENOFIT;
    bp_code rc = bpi_drop_each(&set, &fits, beat, n, slot, slot);
    if (rc != BP_OK)
        return rc;
    if (!fits)
        return BP_ENOFIT;
    *kept = set;
    return BP_OK;
}

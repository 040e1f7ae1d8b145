/* src/plan/stand.c - what stands on the set besides the containers.
 *
 * Owns     plan.stand and stand_of; how many of each supply the day takes.
 * May use  plan/fill, goods/pull, live/tool, prep/, base/.
 */
#include <string.h>

#include "goods/pull.h"
#include "live/tool.h"
#include "plan/fill.h"

typedef struct stands {
    bpi_fill *f;
    void *list, *supply;
    size_t n, room, supply_room;
} stands;

static void add(stands *s, const bp_stand *x, uint32_t supply)
{
    bpi_arena *a = s->f->a;
    bp_stand *to = s->f->failed ? NULL : bpi_arena_more(a, &s->list, &s->room, s->n, sizeof *to);
    uint32_t *of = !to ? NULL : bpi_arena_more(a, &s->supply, &s->supply_room, s->n, sizeof *of);
    if (!of) {
        s->f->failed = true;
        return;
    }
    *to = *x;
    *of = supply;
    s->n++;
}

static bool names(const bpi_beat *b, uint32_t supply)
{
    for (uint32_t i = 0; i < b->supplies; i++)
        if (b->supply[i] == supply)
            return true;
    return false;
}

/* The first beat of the appearance on air that names it, or, for what is eaten, at which there is
 * tasting; BPI_NO_INDEX: none. */
static uint32_t beat_of(const bpi_air *air, uint32_t supply, bool taste)
{
    for (uint32_t i = 0; i < air->beats; i++)
        if (!air->fitted[i].dropped &&
            (names(&air->beat[i], supply) || (taste && air->beat[i].taste)))
            return i;
    return BPI_NO_INDEX;
}

/* ---- with a container ---------------------------------------------------------------------- */

static void add_tools(stands *s, uint32_t box, bp_stand x)
{
    bpi_fill *f = s->f;
    const bpi_swap *w = bpi_fill_swap(f, box);
    uint32_t beat0 = f->plan->air[x.air].beats.first;
    for (uint32_t k = 0; k < f->show->kitchen.tools; k++) {
        const bpi_tool *tool = &f->show->kitchen.tool[k];
        uint32_t beat = 0;
        x.count = bpi_live_tool(f->show, &f->live->air[x.air], w, k, &beat);
        if (!x.count)
            continue;
        x.kind = tool->vessel ? BP_GOOD_VESSEL : BP_GOOD_TOOL;
        x.item = bpi_fill_copy(f, tool->name);
        x.note = bpi_fill_copy(f, tool->size);
        x.beat = beat0 + beat;
        add(s, &x, BPI_NO_INDEX);
    }
}

static void add_bowls(stands *s, uint32_t box, bp_stand x)
{
    bpi_fill *f = s->f;
    const bpi_recipe *r = &f->show->recipe[f->prep->box[box].recipe];
    for (uint32_t k = 0; k < r->steps; k++)
        x.count += bpi_fill_measured(f, box) >> k & 1 ? r->step[k].ingredients : 0;
    if (!x.count)
        return;
    x.kind = BP_GOOD_VESSEL;
    x.item = bpi_fill_copy(f, BPI_PULL_BOWL_NAME);
    x.note = "";
    x.beat = f->container[box].beat;
    add(s, &x, BPI_NO_INDEX);
}

static void add_supply(stands *s, uint32_t k, uint32_t count, bp_stand x)
{
    const bpi_supply *supply = &s->f->show->supply[k];
    bpi_text note = BPI_TEXT_EMPTY;
    if (!count)
        return;
    bpi_text_f(&note, "%u %s", (unsigned)supply->count, bpi_per_words(supply->per));
    x.kind = BP_GOOD_SUPPLY;
    x.item = bpi_fill_copy(s->f, supply->item);
    x.note = bpi_fill_text(s->f, &note);
    x.count = count;
    add(s, &x, k);
}

static void add_box(stands *s, uint32_t box)
{
    bpi_fill *f = s->f;
    uint32_t a = f->prep->box[box].air;
    const bpi_air *air = &f->live->air[a];
    const bpi_segment *seg = &f->show->segment[air->segment];
    bp_stand x = {.air = a,
                  .container = box,
                  .beat = f->container[box].beat,
                  .station = f->container[box].station};
    add_tools(s, box, x);
    for (uint32_t k = 0; k < f->show->supplies; k++) {
        const bpi_supply *supply = &f->show->supply[k];
        uint32_t beat = beat_of(air, k, true);
        if (supply->per == BPI_PER_CONTAINER)
            add_supply(s, k, supply->count, x);
        else if (supply->per == BPI_PER_TASTE && bpi_fill_swap(f, box)->portions) {
            bp_stand taste = x;
            if (beat != BPI_NO_INDEX)
                taste.beat = f->plan->air[a].beats.first + beat;
            add_supply(s, k, supply->count * (seg->hosts + seg->tasters), taste);
        }
    }
    add_bowls(s, box, x);
}

/* ---- with none ----------------------------------------------------------------------------- */

static bool first_to_name(const bpi_fill *f, uint32_t air, uint32_t supply)
{
    for (uint32_t a = 0; a < air; a++)
        if (beat_of(&f->live->air[a], supply, false) != BPI_NO_INDEX)
            return false;
    return true;
}

static void add_at_beat(stands *s, uint32_t a, uint32_t beat, uint32_t k, uint32_t count)
{
    bpi_fill *f = s->f;
    bp_stand x = {.air = a, .container = BP_NO_INDEX, .beat = BP_NO_INDEX, .station = ""};
    if (beat != BPI_NO_INDEX) {
        x.beat = f->plan->air[a].beats.first + beat;
        x.station = bpi_fill_copy(f, f->live->air[a].beat[beat].station);
    }
    add_supply(s, k, count, x);
}

/* Of one that the whole day, or each cook who is called, has. */
static uint32_t once(const bpi_fill *f, uint32_t supply)
{
    const bpi_supply *s = &f->show->supply[supply];
    uint32_t n = s->per == BPI_PER_SHOW ? 1 : 0;
    for (uint32_t p = 0; s->per == BPI_PER_COOK && p < f->plan->persons; p++)
        n += f->plan->person[p].stints.n > 0;
    return n * s->count;
}

static uint32_t on_set(const bpi_fill *f, uint32_t supply)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < f->plan->stands; i++)
        n += f->stand_of[i] == supply ? f->plan->stand[i].count : 0;
    return n;
}

static void add_loose(stands *s, uint32_t a)
{
    bpi_fill *f = s->f;
    const bpi_air *air = &f->live->air[a];
    for (uint32_t k = 0; k < f->show->supplies; k++) {
        const bpi_supply *supply = &f->show->supply[k];
        uint32_t beat = beat_of(air, k, false);
        if (supply->per == BPI_PER_APPEARANCE)
            add_at_beat(s, a, beat, k, supply->count);
        else if ((supply->per == BPI_PER_SHOW || supply->per == BPI_PER_COOK) &&
                 beat != BPI_NO_INDEX && first_to_name(f, a, k))
            add_at_beat(s, a, beat, k, once(f, k));
        for (uint32_t i = 0; supply->per == BPI_PER_BEAT && i < air->beats; i++)
            if (!air->fitted[i].dropped && names(&air->beat[i], k))
                add_at_beat(s, a, i, k, supply->count);
    }
}

/* ---- all of it ----------------------------------------------------------------------------- */

uint32_t bpi_fill_supplies_off(const bpi_fill *f, uint32_t supply)
{
    const bpi_supply *s = &f->show->supply[supply];
    if (s->per == BPI_PER_STRIKE)
        return s->count * f->live->airs; /* comes to the set when that is cleared */
    bool kitchen = s->per == BPI_PER_SHOW || s->per == BPI_PER_COOK;
    return kitchen && !on_set(f, supply) ? once(f, supply) : 0;
}

uint32_t bpi_fill_supplies(const bpi_fill *f, uint32_t supply)
{
    return on_set(f, supply) + bpi_fill_supplies_off(f, supply);
}

void bpi_fill_stands(bpi_fill *f)
{
    stands s = {.f = f};
    for (uint32_t a = 0; f->prep && a < f->live->airs && !f->failed; a++) {
        for (uint32_t b = 0; b < f->prep->boxes && !f->failed; b++)
            if (f->prep->box[b].air == a)
                add_box(&s, b);
        add_loose(&s, a);
    }
    f->plan->stand = s.list;
    f->plan->stands = (uint32_t)s.n;
    f->stand_of = s.supply;
}

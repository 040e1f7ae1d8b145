#include "live/stage.h"

#include <string.h>

#include "base/limits.h"
#include "base/span.h"
#include "base/text.h"
#include "live/why.h"

typedef struct maker {
    bpi_air *air;
    bpi_arena *arena;
    const bpi_show *show;
    const bpi_segment *segment;
    void *list;
    size_t room, n;
    bpi_text text;
    bool full; /* one more than BPI_MAX_SWAPS was wanted */
} maker;

uint32_t bpi_stage_portions(const bpi_segment *segment)
{
    uint32_t eaters = segment->hosts + segment->tasters;
    return eaters ? eaters + 1 : 0;
}

uint32_t bpi_stage_tease_hit(const bpi_segment *segment, const bpi_tease *tease)
{
    uint32_t hit = 0;
    while (hit + 1 < segment->hits && segment->hit[hit].at < tease->at)
        hit++;
    return hit;
}

bpi_ratio bpi_stage_quarters(uint32_t portions, uint32_t serves)
{
    uint64_t quarters = ((uint64_t)portions * 4 + serves - 1) / serves;
    bpi_ratio r = {(uint32_t)quarters, 4};
    while (r.num % 2 == 0 && r.den > 1) {
        r.num /= 2;
        r.den /= 2;
    }
    return r;
}

int64_t bpi_stage_hold_set(const bpi_recipe *recipe, uint64_t steps)
{
    uint64_t inner = 0; /* steps that another one of the set comes after */
    for (uint32_t s = 0; s < recipe->steps; s++)
        if (steps >> s & 1)
            inner |= recipe->step[s].before_all;
    int64_t hold = BPI_NO_LIMIT;
    for (uint32_t s = 0; s < recipe->steps; s++)
        if ((steps & ~inner) >> s & 1 && recipe->step[s].hold_set < hold)
            hold = recipe->step[s].hold_set;
    return hold;
}

static const bpi_recipe *recipe_of(const maker *m, uint32_t dish)
{
    return &m->show->recipe[m->segment->dish[dish].recipe];
}

static int64_t lead_of(const maker *m, uint32_t dish)
{
    int64_t own = m->segment->dish[dish].lead;
    return own == BPI_NO_TIME ? m->segment->lead : own;
}

static bpi_stage stage_of(const bpi_recipe *r, uint64_t steps)
{
    return steps == r->all ? BPI_FINISHED : steps == 0 ? BPI_RAW : BPI_MID;
}

/* A container of this dish in this state, for the whole slot; its reason is taken from m->text. */
static bpi_swap *add(maker *m, uint32_t dish, bpi_role role, uint64_t steps)
{
    const char *why = m->text.failed ? NULL : bpi_arena_copy(m->arena, m->text.s, m->text.len);
    bpi_text_reset(&m->text);
    m->full = m->n == BPI_MAX_SWAPS;
    if (m->full)
        return NULL;
    bpi_swap *s = bpi_arena_more(m->arena, &m->list, &m->room, m->n, sizeof *s);
    if (!s || !why)
        return NULL;
    m->n++;
    const bpi_dish *d = &m->segment->dish[dish];
    s->dish = dish;
    s->role = role;
    s->steps = steps;
    s->stage = stage_of(recipe_of(m, dish), steps);
    s->size = d->size[s->stage];
    s->first_beat = s->last_beat = s->tease = BPI_NO_INDEX;
    s->set_by = m->air->at - lead_of(m, dish);
    s->needed = m->air->at;
    s->last = bpi_live_end(m->show, m->air);
    s->why = why;
    s->where = d->where;
    return s;
}

/* Needed by the kept ones of these beats; false: none is kept. */
static bool needed_by(const maker *m, bpi_swap *s, uint64_t beats)
{
    bool any = false;
    for (uint32_t i = 0; i < m->air->beats; i++) {
        const bpi_fitted *f = &m->air->fitted[i];
        if (!(beats >> i & 1) || f->dropped)
            continue;
        if (!any) {
            s->first_beat = i;
            s->needed = f->from;
            s->where = m->air->beat[i].where;
        }
        s->beats |= UINT64_C(1) << i;
        s->last_beat = i;
        s->last = f->from + f->length + m->segment->floats;
        any = true;
    }
    return any;
}

static uint64_t kept_beats(const bpi_air *air)
{
    uint64_t kept = 0;
    for (uint32_t i = 0; i < air->beats; i++)
        if (!air->fitted[i].dropped)
            kept |= UINT64_C(1) << i;
    return kept;
}

static bool add_chain(maker *m, const bpi_chain *c)
{
    if ((c->beats & kept_beats(m->air)) == 0)
        return true; /* nobody cooks for a beat that is not on air */
    bpi_why_chain(&m->text, m->air, recipe_of(m, c->dish), c);
    bpi_swap *s = add(m, c->dish, BPI_ROLE_AIR, c->steps);
    if (!s)
        return false;
    needed_by(m, s, c->beats);
    return true;
}

static bool stands_beside(const bpi_beat *beat, uint32_t dish)
{
    for (uint32_t i = 0; i < beat->besides; i++)
        if (beat->beside[i] == dish)
            return true;
    return false;
}

/* Beats that show the dish finished, or beside which it stands. */
static uint64_t beauty_beats(const maker *m, uint32_t dish)
{
    uint64_t beats = 0, steps = 0;
    for (uint32_t i = 0; i < m->air->beats; i++) {
        const bpi_beat *b = &m->air->beat[i];
        if (stands_beside(b, dish) ||
            (b->dish == dish && bpi_walk_needs(&steps, recipe_of(m, dish), b) &&
             steps == recipe_of(m, dish)->all))
            beats |= UINT64_C(1) << i;
    }
    return beats & kept_beats(m->air);
}

static bool is_earlier(const bpi_tease *a, const bpi_tease *b)
{
    return a->at < b->at || (a->at == b->at && a < b); /* both of one list */
}

/* The latest tease of the dish before `before`; BPI_NO_INDEX: none. Equal times: the later one. */
static uint32_t tease_before(const maker *m, uint32_t dish, uint32_t before)
{
    uint32_t found = BPI_NO_INDEX;
    const bpi_tease *t = m->segment->tease;
    for (uint32_t i = 0; i < m->segment->teases; i++) {
        if (t[i].dish != dish || bpi_stage_tease_hit(m->segment, &t[i]) != m->air->hit)
            continue;
        if (before != BPI_NO_INDEX && !is_earlier(&t[i], &t[before]))
            continue;
        if (found == BPI_NO_INDEX || t[i].at >= t[found].at)
            found = i;
    }
    return found;
}

/* Let the container stand through the tease if it keeps its quality so long. */
static bool covers(const maker *m, bpi_swap *s, uint32_t tease)
{
    const bpi_tease *t = &m->segment->tease[tease];
    int64_t set_by = t->at - lead_of(m, s->dish);
    int64_t last = t->at + t->length > s->last ? t->at + t->length : s->last;
    if (set_by > s->set_by)
        set_by = s->set_by;
    if (last - set_by > bpi_stage_hold_set(recipe_of(m, s->dish), s->steps))
        return false;
    s->set_by = set_by;
    s->last = last;
    if (t->at < s->needed)
        s->needed = t->at;
    s->tease = tease;
    return true;
}

/* The beauty, and a hero for each stretch of teases that it cannot stand through. Teases are taken
 * latest first; each container reaches back as far as it can, which makes the fewest. */
static bool add_beauty(maker *m, uint32_t dish)
{
    const bpi_recipe *r = recipe_of(m, dish);
    uint64_t beats = beauty_beats(m, dish);
    uint32_t first = 0;
    while (beats && !(beats >> first & 1))
        first++;
    if (beats)
        bpi_text_f(&m->text, "beat %u shows the finished dish", first + 1);
    else
        bpi_text_put(&m->text, "the finished dish stands on the set");
    bpi_swap *s = add(m, dish, BPI_ROLE_BEAUTY, r->all);
    if (!s)
        return false;
    needed_by(m, s, beats);
    uint32_t tease = BPI_NO_INDEX;
    while ((tease = tease_before(m, dish, tease)) != BPI_NO_INDEX) {
        if (covers(m, s, tease))
            continue;
        const bpi_tease *t = &m->segment->tease[tease];
        bpi_text_put(&m->text, "the tease at ");
        bpi_clock_put(&m->text, &m->show->clock, t->at, 0);
        bpi_text_put(&m->text, " needs one of its own: a finished one keeps ");
        bpi_span_words(&m->text, bpi_stage_hold_set(r, r->all));
        bpi_text_put(&m->text, " on the set");
        s = add(m, dish, BPI_ROLE_TEASE, r->all);
        if (!s)
            return false;
        s->set_by = t->at - lead_of(m, dish);
        s->needed = t->at;
        s->last = t->at + t->length;
        s->tease = tease;
        s->where = t->where;
    }
    return true;
}

static bool add_taste(maker *m, uint32_t dish)
{
    const bpi_recipe *r = recipe_of(m, dish);
    uint32_t portions = m->air->portions, eaters = m->segment->hosts + m->segment->tasters;
    if (portions == 0 || !m->segment->dish[dish].taste)
        return true;
    uint64_t beats = 0;
    for (uint32_t i = 0; i < m->air->beats; i++)
        if (m->air->beat[i].taste &&
            (m->air->beat[i].dish == dish || m->air->beat[i].dish == BPI_NO_INDEX))
            beats |= UINT64_C(1) << i;
    bpi_text_f(&m->text, "%u %s from it, and one portion more", eaters,
               eaters == 1 ? "person eats" : "people eat");
    bpi_swap *s = add(m, dish, BPI_ROLE_TASTE, r->all);
    if (!s)
        return false;
    s->size = bpi_stage_quarters(portions, r->serves);
    s->portions = portions;
    if (!needed_by(m, s, beats))
        s->needed = m->air->at + m->segment->slot; /* after it */
    return true;
}

static bool add_spare(maker *m, const bpi_swap *like, uint32_t number)
{
    for (uint32_t k = 0; k < number; k++) {
        bpi_text_put(&m->text, "a spare was asked for");
        bpi_swap *s = add(m, like->dish, BPI_ROLE_SPARE, like->steps);
        if (!s)
            return false;
        s->needed = like->needed > m->air->at ? like->needed : m->air->at;
        s->last = like->last;
    }
    return true;
}

/* For each state of the dish at this stage, `number` more of it. Measured ones can be asked for
 * even where no beat shows them; a dish that is never caught mid-cook has no such state to be
 * spared. */
static bool add_spares(maker *m, uint32_t dish, bpi_stage stage, uint32_t number)
{
    size_t asked = m->n;
    uint64_t seen[BPI_MAX_SWAPS];
    uint32_t states = 0;
    for (size_t i = 0; number > 0 && i < asked; i++) {
        const bpi_swap like = ((const bpi_swap *)m->list)[i];
        bool is_new = like.dish == dish && like.stage == stage && like.role <= BPI_ROLE_BEAUTY;
        for (uint32_t k = 0; k < states; k++)
            if (seen[k] == like.steps)
                is_new = false;
        if (!is_new)
            continue;
        seen[states++] = like.steps;
        if (!add_spare(m, &like, number))
            return false;
    }
    const bpi_swap raw = {
        .dish = dish, .needed = m->air->at, .last = bpi_live_end(m->show, m->air)};
    return states > 0 || stage != BPI_RAW || add_spare(m, &raw, number);
}

static bool add_all(maker *m, const bpi_chain *chain, uint32_t chains)
{
    for (uint32_t c = 0; c < chains; c++)
        if (!add_chain(m, &chain[c]))
            return false;
    for (uint32_t d = 0; d < m->segment->dishes; d++)
        if (!add_beauty(m, d) || !add_taste(m, d))
            return false;
    for (uint32_t d = 0; d < m->segment->dishes; d++)
        for (bpi_stage g = BPI_RAW; g < BPI_STAGES; g++)
            if (!add_spares(m, d, g, m->segment->dish[d].spares[g]))
                return false;
    return true;
}

static int is_after(const bpi_swap *a, const bpi_swap *b)
{
    if (a->needed != b->needed)
        return a->needed > b->needed;
    if (a->dish != b->dish)
        return a->dish > b->dish;
    return a->role > b->role;
}

static void sort_by_need(bpi_swap *s, size_t n)
{
    for (size_t i = 1; i < n; i++) {
        bpi_swap one = s[i];
        size_t k = i;
        for (; k > 0 && is_after(&s[k - 1], &one); k--)
            s[k] = s[k - 1];
        s[k] = one;
    }
}

bp_code bpi_stage_make(bpi_air *air, bpi_arena *a, const bpi_show *show, const bpi_chain *chain,
                       uint32_t chains, bp_errors *errs)
{
    maker m = {.air = air, .arena = a, .show = show, .segment = &show->segment[air->segment]};
    air->portions = bpi_stage_portions(m.segment);
    bool made = add_all(&m, chain, chains);
    bpi_text_release(&m.text);
    if (m.full)
        return bpi_error_f(errs, BP_ELIMIT, m.segment->where,
                           "fewer spares, or fewer beats that each need a container",
                           "this segment needs more than %d containers", BPI_MAX_SWAPS);
    if (!made)
        return bpi_error_no_memory(errs);
    sort_by_need(m.list, m.n);
    air->swap = m.list;
    air->swaps = (uint32_t)m.n;
    return BP_OK;
}

#include "live/stage.h"

#include "base/limits.h"
#include "base/span.h"
#include "live/swaps.h"
#include "live/why.h"

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

static uint64_t kept_beats(const bpi_air *air)
{
    uint64_t kept = 0;
    for (uint32_t i = 0; i < air->beats; i++)
        if (!air->fitted[i].dropped)
            kept |= UINT64_C(1) << i;
    return kept;
}

static bool add_chain(bpi_swaps *m, const bpi_chain *c)
{
    if ((c->beats & kept_beats(m->air)) == 0)
        return true; /* nobody cooks for a beat that is not on air */
    bpi_why_chain(&m->text, m->air, bpi_swaps_recipe(m, c->dish), c);
    bpi_swap *s = bpi_swaps_add(m, c->dish, BPI_ROLE_AIR, c->steps);
    if (!s)
        return false;
    bpi_swaps_needed(m, s, c->beats);
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
static uint64_t beauty_beats(const bpi_swaps *m, uint32_t dish)
{
    uint64_t beats = 0, steps = 0;
    for (uint32_t i = 0; i < m->air->beats; i++) {
        const bpi_beat *b = &m->air->beat[i];
        if (stands_beside(b, dish) ||
            (b->dish == dish && bpi_walk_needs(&steps, bpi_swaps_recipe(m, dish), b) &&
             steps == bpi_swaps_recipe(m, dish)->all))
            beats |= UINT64_C(1) << i;
    }
    return beats & kept_beats(m->air);
}

static bool is_earlier(const bpi_tease *a, const bpi_tease *b)
{
    return a->at < b->at || (a->at == b->at && a < b); /* both of one list */
}

/* The latest tease of the dish before `before`; BPI_NO_INDEX: none. Equal times: the later one. */
static uint32_t tease_before(const bpi_swaps *m, uint32_t dish, uint32_t before)
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
static bool covers(const bpi_swaps *m, bpi_swap *s, uint32_t tease)
{
    const bpi_tease *t = &m->segment->tease[tease];
    int64_t set_by = t->at - bpi_swaps_lead(m, s->dish);
    int64_t last = t->at + t->length > s->last ? t->at + t->length : s->last;
    if (set_by > s->set_by)
        set_by = s->set_by;
    if (last - set_by > bpi_stage_hold_set(bpi_swaps_recipe(m, s->dish), s->steps))
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
static bool add_beauty(bpi_swaps *m, uint32_t dish)
{
    const bpi_recipe *r = bpi_swaps_recipe(m, dish);
    uint64_t beats = beauty_beats(m, dish);
    uint32_t first = 0;
    while (beats && !(beats >> first & 1))
        first++;
    if (beats)
        bpi_text_f(&m->text, "beat %u shows the finished dish", first + 1);
    else
        bpi_text_put(&m->text, "the finished dish stands on the set");
    bpi_swap *s = bpi_swaps_add(m, dish, BPI_ROLE_BEAUTY, r->all);
    if (!s)
        return false;
    bpi_swaps_needed(m, s, beats);
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
        s = bpi_swaps_add(m, dish, BPI_ROLE_TEASE, r->all);
        if (!s)
            return false;
        s->set_by = t->at - bpi_swaps_lead(m, dish);
        s->needed = t->at;
        s->last = t->at + t->length;
        s->tease = tease;
        s->where = t->where;
    }
    return true;
}

static bool add_taste(bpi_swaps *m, uint32_t dish)
{
    const bpi_recipe *r = bpi_swaps_recipe(m, dish);
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
    bpi_swap *s = bpi_swaps_add(m, dish, BPI_ROLE_TASTE, r->all);
    if (!s)
        return false;
    s->size = bpi_stage_quarters(portions, r->serves);
    s->portions = portions;
    if (!bpi_swaps_needed(m, s, beats))
        s->needed = m->air->at + m->segment->slot; /* after it */
    return true;
}

static bool add_spare(bpi_swaps *m, const bpi_swap *like, uint32_t number)
{
    for (uint32_t k = 0; k < number; k++) {
        bpi_text_put(&m->text, "a spare was asked for");
        bpi_swap *s = bpi_swaps_add(m, like->dish, BPI_ROLE_SPARE, like->steps);
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
static bool add_spares(bpi_swaps *m, uint32_t dish, bpi_stage stage, uint32_t number)
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

static bool add_all(bpi_swaps *m, const bpi_chain *chain, uint32_t chains)
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

bp_code bpi_stage_make(bpi_air *air, bpi_arena *a, const bpi_show *show, const bpi_chain *chain,
                       uint32_t chains, bp_errors *errs)
{
    bpi_swaps m = {.air = air, .arena = a, .show = show, .segment = &show->segment[air->segment]};
    air->portions = bpi_stage_portions(m.segment);
    bool made = add_all(&m, chain, chains);
    bpi_text_release(&m.text);
    if (m.full)
        return bpi_error_f(errs, BP_ELIMIT, m.segment->where,
                           "fewer spares, or fewer beats that each need a container",
                           "this segment needs more than %d containers", BPI_MAX_SWAPS);
    if (!made)
        return bpi_error_no_memory(errs);
    bpi_swaps_sort(&m);
    air->swap = m.list;
    air->swaps = (uint32_t)m.n;
    return BP_OK;
}

#include "live/swaps.h"

#include "base/limits.h"

const bpi_recipe *bpi_swaps_recipe(const bpi_swaps *m, uint32_t dish)
{
    return &m->show->recipe[m->segment->dish[dish].recipe];
}

int64_t bpi_swaps_lead(const bpi_swaps *m, uint32_t dish)
{
    int64_t own = m->segment->dish[dish].lead;
    return own == BPI_NO_TIME ? m->segment->lead : own;
}

static bpi_stage stage_of(const bpi_recipe *r, uint64_t steps)
{
    return steps == r->all ? BPI_FINISHED : steps == 0 ? BPI_RAW : BPI_MID;
}

bpi_swap *bpi_swaps_add(bpi_swaps *m, uint32_t dish, bpi_role role, uint64_t steps)
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
    s->stage = stage_of(bpi_swaps_recipe(m, dish), steps);
    s->size = d->size[s->stage];
    s->first_beat = s->last_beat = s->tease = BPI_NO_INDEX;
    s->set_by = m->air->at - bpi_swaps_lead(m, dish);
    s->needed = m->air->at;
    s->last = bpi_live_end(m->show, m->air);
    s->why = why;
    s->where = d->where;
    return s;
}

bool bpi_swaps_needed(const bpi_swaps *m, bpi_swap *s, uint64_t beats)
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

static int is_after(const bpi_swap *a, const bpi_swap *b)
{
    if (a->needed != b->needed)
        return a->needed > b->needed;
    if (a->dish != b->dish)
        return a->dish > b->dish;
    return a->role > b->role;
}

void bpi_swaps_sort(bpi_swaps *m)
{
    bpi_swap *s = m->list;
    for (size_t i = 1; i < m->n; i++) {
        bpi_swap one = s[i];
        size_t k = i;
        for (; k > 0 && is_after(&s[k - 1], &one); k--)
            s[k] = s[k - 1];
        s[k] = one;
    }
}

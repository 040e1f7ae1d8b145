#include "plan/fill.h"

#include <string.h>

#include "safety/caution.h"

const char *bpi_fill_copy(bpi_fill *f, const char *text)
{
    const char *kept = bpi_arena_copy(f->a, text, strlen(text));
    if (!kept)
        f->failed = true;
    return kept ? kept : "";
}

const char *bpi_fill_text(bpi_fill *f, bpi_text *text)
{
    const char *kept = text->failed ? NULL : bpi_arena_copy(f->a, text->s, text->len);
    if (!kept)
        f->failed = true;
    bpi_text_release(text);
    return kept ? kept : "";
}

void *bpi_fill_room(bpi_fill *f, size_t n, size_t size)
{
    void *room = f->failed ? NULL : bpi_arena_take(f->a, n, size);
    if (!room)
        f->failed = true;
    return room;
}

bp_slice bpi_fill_begin(const bpi_fill *f)
{
    return (bp_slice){f->indexes, 0};
}

void bpi_fill_push(bpi_fill *f, bp_slice *slice, uint32_t n)
{
    void *list = f->index;
    uint32_t *place =
        f->failed ? NULL : bpi_arena_more(f->a, &list, &f->index_room, f->indexes, sizeof *place);
    if (!place) {
        f->failed = true;
        return;
    }
    f->index = list;
    *place = n;
    f->indexes++;
    slice->n++;
}

const bpi_swap *bpi_fill_swap(const bpi_fill *f, uint32_t box)
{
    const bpi_box *b = &f->prep->box[box];
    return &f->live->air[b->air].swap[b->swap];
}

void bpi_fill_head(bpi_fill *f)
{
    bp_plan *p = f->plan;
    const bpi_show *s = f->show;
    p->format = BP_PLAN_FORMAT;
    p->show_id = bpi_fill_copy(f, s->id);
    p->title = bpi_fill_copy(f, s->title);
    p->file = bpi_fill_copy(f, s->file);
    p->zone = bpi_fill_copy(f, s->zone_name);
    p->year = s->clock.date.year;
    p->month = s->clock.date.month;
    p->day = s->clock.date.day;
    p->midnight = s->clock.midnight_utc;
    p->stamp = bpi_fill_copy(f, s->stamp);
    p->letter = s->paper == BPI_LETTER;
    p->alarm = s->alarm;
    p->defer = bpi_fill_copy(f, bpi_defer_words());
}

void bp_plan_free(bp_plan *plan)
{
    if (plan)
        bpi_arena_free(plan->own);
}

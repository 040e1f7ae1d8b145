#include "live/telling.h"

#include "base/span.h"

const char *bpi_teller_text(bpi_teller *t)
{
    const char *s = t->text.failed ? NULL : bpi_arena_copy(t->to->arena, t->text.s, t->text.len);
    bpi_text_reset(&t->text);
    t->failed |= s == NULL;
    return s;
}

void bpi_teller_clash(bpi_teller *t, bpi_where where)
{
    const char *text = bpi_teller_text(t);
    bpi_clash *c =
        bpi_arena_more(t->to->arena, &t->to->clash, &t->to->clash_room, t->to->clash_n, sizeof *c);
    t->failed |= c == NULL;
    if (t->failed)
        return;
    *c = (bpi_clash){text, where};
    t->to->clash_n++;
}

bool bpi_teller_cure(bpi_teller *t, const char *text, bpi_where where, const bpi_show *show)
{
    bpi_remedy *place =
        bpi_arena_more(t->to->arena, &t->to->cure, &t->to->cure_room, t->to->cure_n, sizeof *place);
    t->failed |= !place || !text || !show;
    if (t->failed)
        return false;
    *place = (bpi_remedy){text, where, show};
    t->to->cure_n++;
    return true;
}

void bpi_teller_slot(bpi_teller *t)
{
    bpi_text_f(&t->text, "the slot of %s is ", t->segment->id);
    bpi_span_minutes(&t->text, t->slot);
    bpi_teller_clash(t, t->segment->slot_where);
}

const char *bpi_teller_after(const bpi_clashes *to, uint32_t n)
{
    return to->cure_n > n ? ((const bpi_remedy *)to->cure)[n].text : "";
}

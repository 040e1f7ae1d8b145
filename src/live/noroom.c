#include "live/noroom.h"

#include "base/text.h"
#include "live/change.h"
#include "live/station.h"
#include "live/telling.h"

/* The segment with as much room as is needed; NULL: no memory. */
static const bpi_show *with_room(bpi_teller *t, const bpi_air *air)
{
    const bpi_segment *g = t->segment;
    bpi_change c;
    bpi_station *station = BPI_TAKE(t->to->arena, g->stations, bpi_station);
    if (!station || !bpi_change_begin(&c, t->to->arena, t->show, air->segment, t->beat, t->n))
        return NULL;
    for (uint32_t i = 0; i < g->stations; i++) {
        uint32_t beat, most = bpi_station_most(&beat, air, i);
        station[i] = g->station[i];
        if (most > station[i].room)
            station[i].room = most;
    }
    c.segment->station = station;
    return c.show;
}

bp_code bpi_noroom_tell(bpi_clashes *to, const bpi_show *show, const bpi_air *air, bp_errors *errs)
{
    const bpi_segment *segment = &show->segment[air->segment];
    const bpi_beat none = {0};
    bpi_teller t = {.to = to,
                    .show = show,
                    .segment = segment,
                    .beat = segment->beats ? segment->beat : &none,
                    .n = segment->beats,
                    .slot = segment->slot};
    bpi_text cure = BPI_TEXT_EMPTY;
    bpi_where where = BPI_NOWHERE;
    for (uint32_t i = 0; i < segment->stations; i++) {
        const bpi_station *s = &segment->station[i];
        uint32_t beat = 0, most = bpi_station_most(&beat, air, i);
        if (most <= s->room)
            continue;
        bpi_text_f(&cure, "%s station %s room for %u", cure.len ? "," : "give", s->id,
                   (unsigned)most);
        bpi_text_f(&t.text, "station %s has room for %u container%s", s->id, (unsigned)s->room,
                   s->room == 1 ? "" : "s");
        bpi_teller_clash(&t, s->where);
        bpi_text_f(&t.text, "%u stand there when beat %s is on air", (unsigned)most,
                   air->beat[beat].id);
        bpi_teller_clash(&t, air->beat[beat].where);
        where = where.line ? where : s->where;
    }
    bp_code rc = BP_OK;
    if (cure.len) {
        bpi_text_put(&t.text, cure.s);
        const char *text = bpi_teller_text(&t);
        t.failed |= cure.failed;
        if (bpi_teller_cure(&t, text, segment->stations_where, with_room(&t, air)))
            rc =
                bpi_error_f(errs, BP_ENOFIT, where, text,
                            "more containers stand at a station of segment %s than it has room for",
                            segment->id);
    }
    t.failed |= cure.failed;
    bpi_text_release(&cure);
    bpi_text_release(&t.text);
    return t.failed ? bpi_error_no_memory(errs) : rc;
}

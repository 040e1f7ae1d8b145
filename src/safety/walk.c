#include "safety/walk.h"

static const char *kept_text(bpi_walk *w, bpi_text *text)
{
    const char *kept = text->failed ? NULL : bpi_arena_copy(w->a, text->s, text->len);
    bpi_text_release(text);
    if (!kept)
        w->failed = true;
    return kept;
}

/* On the whole minute before it: nobody reads seconds off a kitchen clock. */
static int64_t minute(int64_t t)
{
    int64_t over = t % 60;
    return t - (over < 0 ? over + 60 : over);
}

void bpi_walk_add(bpi_walk *w, bp_weight weight, int64_t at, const char *rule, bpi_text *text)
{
    const char *kept = kept_text(w, text);
    bp_finding *f =
        kept ? bpi_arena_more(w->a, &w->finding, &w->room, w->findings, sizeof *f) : NULL;
    if (!f) {
        w->failed = true;
        return;
    }
    w->findings++;
    *f = (bp_finding){.weight = weight,
                      .container = BP_NO_INDEX,
                      .at = at == BP_NO_TIME ? at : minute(at),
                      .rule = rule,
                      .text = kept};
}

void bpi_walk_probe(bpi_walk *w, int64_t at, const char *rule, bpi_text *text)
{
    const char *kept = kept_text(w, text);
    bpi_reading *p =
        kept ? bpi_arena_more(w->a, &w->probe, &w->probe_room, w->probes, sizeof *p) : NULL;
    if (!p) {
        w->failed = true;
        return;
    }
    w->probes++;
    *p = (bpi_reading){minute(at), rule, kept};
}

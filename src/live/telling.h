/* src/live/telling.h - facts in the way of a segment, and cures, as they are put together.
 *
 * Owns     the lists of both, over all segments of a show; texts live in their arena.
 * May use  model/, live/drop, live/live.
 * Units    whole seconds.
 *
 * A teller is of one segment. It goes on when memory has run out, with `failed` set: that is told once,
 * at the end, by who made it. Its text is put together in `text`, and taken by the calls below.
 */
#ifndef BP_LIVE_TELLING_H
#define BP_LIVE_TELLING_H

#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/limits.h"
#include "base/text.h"
#include "live/drop.h"
#include "live/live.h"
#include "model/show.h"

/* Lists that grow, over all segments of a show. */
typedef struct bpi_clashes {
    bpi_arena *arena;
    void *clash, *cure; /* of bpi_clash, of bpi_remedy */
    size_t clash_room, cure_room;
    uint32_t clash_n, cure_n;
} bpi_clashes;

typedef struct bpi_teller {
    bpi_clashes *to;
    const bpi_show *show;
    const bpi_segment *segment;
    const bpi_beat *beat;
    const bpi_fitted *fitted;
    bpi_drop_beat choice[BPI_MAX_BEATS];
    uint32_t n;
    bool drafted, failed;
    bpi_text text;
    uint64_t must;             /* beats that stay */
    int64_t slot, least, most; /* least of those that stay; most of all */
} bpi_teller;

/* The text that was put together; NULL: no memory. */
const char *bpi_teller_text(bpi_teller *t);

/* It is a fact in the way. */
void bpi_teller_clash(bpi_teller *t, bpi_where where);

/* This text is a cure, which makes this show of it. false, and nothing is added: no memory, or one of
 * them is NULL for want of it. */
bool bpi_teller_cure(bpi_teller *t, const char *text, bpi_where where, const bpi_show *show);

/* How long the slot is, as a fact. */
void bpi_teller_slot(bpi_teller *t);

/* The first cure after the first n; "": there is none. */
const char *bpi_teller_after(const bpi_clashes *to, uint32_t n);

#endif

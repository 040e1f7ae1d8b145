#include "live/clash.h"

#include <string.h>

#include "base/limits.h"
#include "base/span.h"
#include "base/text.h"
#include "live/change.h"
#include "live/draft.h"
#include "live/station.h"

typedef struct teller {
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
} teller;

static const char *take_text(teller *t)
{
    const char *s = t->text.failed
                        ? NULL
                        : bpi_arena_copy(t->to->arena, t->text.s ? t->text.s : "", t->text.len);
    bpi_text_reset(&t->text);
    t->failed |= s == NULL;
    return s;
}

/* The text that was put together is a fact in the way. */
static void add_clash(teller *t, bpi_where where)
{
    const char *text = take_text(t);
    bpi_clash *c =
        bpi_arena_more(t->to->arena, &t->to->clash, &t->to->clash_room, t->to->clash_n, sizeof *c);
    t->failed |= c == NULL;
    if (t->failed)
        return;
    *c = (bpi_clash){text, where};
    t->to->clash_n++;
}

/* The show with the change that is on trial: slot and beats as they are to be. NULL: no memory. */
static const bpi_show *changed(teller *t, int64_t slot, uint32_t beat, const bpi_beat *as)
{
    bpi_change c;
    if (!bpi_change_begin(&c, t->to->arena, t->show, (uint32_t)(t->segment - t->show->segment),
                          t->beat, t->n))
        return NULL;
    c.segment->slot = slot;
    if (as) {
        c.beat[beat] = *as;
    } else if (t->drafted) { /* and is then drafted anew */
        c.segment->beat = t->segment->beat;
        c.segment->beats = t->segment->beats;
    }
    return c.show;
}

/* The text that was put together is a cure, if the beats as they stand in t->choice now come out;
 * else it is dropped. `as` is the beat as it would be; NULL: none changes. */
static bool add_cure(teller *t, int64_t slot, uint32_t beat, const bpi_beat *as)
{
    uint64_t kept = 0;
    bp_code rc = bpi_drop(&kept, t->choice, t->n, slot);
    t->failed |= rc == BP_ENOMEM;
    if (rc != BP_OK) {
        bpi_text_reset(&t->text);
        return false;
    }
    const char *text = take_text(t);
    const bpi_show *show = changed(t, slot, beat, as);
    bpi_remedy *place =
        bpi_arena_more(t->to->arena, &t->to->cure, &t->to->cure_room, t->to->cure_n, sizeof *place);
    t->failed |= place == NULL || show == NULL;
    if (t->failed)
        return false;
    *place = (bpi_remedy){text, as ? as->where : t->segment->slot_where, show};
    t->to->cure_n++;
    return true;
}

static bool cure_slot(teller *t, int64_t slot)
{
    bpi_text_f(&t->text, "make the slot of %s ", t->segment->id);
    bpi_span_minutes(&t->text, slot);
    return add_cure(t, slot, 0, NULL);
}

static void cure_letting_go(teller *t)
{
    for (uint32_t i = 0; i < t->n; i++) {
        if (!t->choice[i].keep || t->drafted)
            continue;
        bpi_beat as = t->beat[i];
        as.keep = t->choice[i].keep = false;
        bpi_text_f(&t->text, "let beat %s be dropped", t->beat[i].id);
        add_cure(t, t->slot, i, &as);
        t->choice[i].keep = true;
    }
}

/* Fewer words are tried as silence that lasts as long: which ones go is the writer's choice. */
static void cure_saying_less(teller *t)
{
    for (uint32_t i = 0; i < t->n; i++) {
        int64_t was = t->choice[i].least, silent = t->beat[i].time.least;
        if (!t->fitted[i].words_floor)
            continue;
        int64_t least = was - (t->least - t->slot) > silent ? was - (t->least - t->slot) : silent;
        bpi_beat as = t->beat[i];
        as.words = "";
        as.time.least = t->choice[i].least = least;
        as.time.likely = as.time.likely > least ? as.time.likely : least;
        as.time.most = as.time.most > least ? as.time.most : least;
        bpi_text_f(&t->text, "cut the words of beat %s to %lld", t->beat[i].id,
                   (long long)(least * t->segment->pace / 60));
        add_cure(t, t->slot, i, &as);
        t->choice[i].least = was;
    }
}

/* Beats that help when they may last longer; of a draft, only steps have a length in the file. */
static void cure_stretching(teller *t, int64_t by)
{
    for (uint32_t i = 0; i < t->n; i++) {
        if (t->drafted && t->beat[i].does_n == 0)
            continue;
        t->choice[i].most += by;
        bpi_beat as = t->beat[i];
        as.time.most = t->choice[i].most;
        bpi_text_f(&t->text, "let beat %s last up to ", t->beat[i].id);
        bpi_span_words(&t->text, t->choice[i].most);
        add_cure(t, t->slot, i, &as);
        t->choice[i].most -= by;
    }
}

static void put_slot(teller *t)
{
    bpi_text_f(&t->text, "the slot of %s is ", t->segment->id);
    bpi_span_minutes(&t->text, t->slot);
    add_clash(t, t->segment->slot_where);
}

/* Walking is a fact of its own, where there is any between these beats. */
static void put_walking(teller *t, uint64_t set)
{
    int64_t with = 0, without = 0, most = 0;
    bpi_drop_beat still[BPI_MAX_BEATS];
    memcpy(still, t->choice, t->n * sizeof *still);
    for (uint32_t i = 0; i < t->n; i++)
        still[i].place = 0;
    bpi_drop_span(&with, &most, t->choice, t->n, set);
    bpi_drop_span(&without, &most, still, t->n, set);
    if (with == without)
        return;
    bpi_text_put(&t->text, "walking between their stations takes ");
    bpi_span_words(&t->text, with - without);
    add_clash(t, t->segment->stations_where);
}

static void tell_overrun(teller *t)
{
    for (uint32_t i = 0; i < t->n; i++) {
        if (!(t->must >> i & 1))
            continue;
        bpi_text_f(&t->text, "beat %s takes at least ", t->beat[i].id);
        bpi_span_words(&t->text, t->choice[i].least);
        if (t->fitted[i].words_floor)
            bpi_text_f(&t->text, " for its words, %u a minute,", t->segment->pace);
        bpi_text_put(&t->text,
                     t->choice[i].keep ? " and must stay" : " and is needed by one that must stay");
        add_clash(t, t->beat[i].where);
    }
    put_walking(t, t->must);
    cure_slot(t, t->least);
    cure_letting_go(t);
    cure_saying_less(t);
}

static void tell_short(teller *t)
{
    for (uint32_t i = 0; i < t->n; i++) {
        bpi_text_f(&t->text, "beat %s lasts at most ", t->beat[i].id);
        bpi_span_words(&t->text, t->choice[i].most);
        add_clash(t, t->beat[i].where);
    }
    put_walking(t, ~UINT64_C(0));
    cure_slot(t, t->most);
    cure_stretching(t, t->slot - t->most);
}

/* All together overrun, those that must stay do not, and no choice in between comes out even. */
static void tell_gap(teller *t)
{
    int64_t least = 0, most = 0, aside = 0;
    bpi_drop_span(&least, &aside, t->choice, t->n, ~UINT64_C(0));
    bpi_drop_span(&aside, &most, t->choice, t->n, t->must);
    bpi_text_put(&t->text, "all its beats take at least ");
    bpi_span_minutes(&t->text, least);
    add_clash(t, t->segment->where);
    put_walking(t, ~UINT64_C(0));
    bpi_text_put(&t->text,
                 "no choice of beats that keeps what must stay, and what each needs, fills it");
    add_clash(t, t->segment->where);
    for (int64_t less = t->slot - 1; less >= t->least && !cure_slot(t, less) && !t->failed; less--)
        ;
    for (int64_t more = t->slot + 1; more <= least && !cure_slot(t, more) && !t->failed; more++)
        ;
    if (most < t->slot)
        cure_stretching(t, t->slot - most);
}

static const char *cure_after(const bpi_clashes *to, uint32_t n)
{
    return to->cure_n > n ? ((const bpi_remedy *)to->cure)[n].text : "";
}

bp_code bpi_clash_tell(bpi_clashes *to, const bpi_show *show, uint32_t number, const bpi_beat *beat,
                       const bpi_fitted *fitted, const bpi_drop_beat *choice, uint32_t n,
                       bool drafted, bp_errors *errs)
{
    const bpi_segment *segment = &show->segment[number];
    teller t = {.to = to,
                .show = show,
                .segment = segment,
                .beat = beat,
                .fitted = fitted,
                .n = n,
                .drafted = drafted,
                .slot = segment->slot};
    memcpy(t.choice, choice, n * sizeof *choice);
    for (uint32_t i = 0; i < n; i++)
        if (choice[i].keep)
            t.must |= UINT64_C(1) << i;
    t.must = bpi_drop_closure(choice, n, t.must);
    int64_t aside = 0;
    bpi_drop_span(&aside, &t.most, choice, n, ~UINT64_C(0));
    bpi_drop_span(&t.least, &aside, choice, n, t.must);

    uint32_t cures_before = to->cure_n;
    put_slot(&t);
    const char *what = "cannot be chosen so that they fill it exactly";
    int64_t by = 0;
    if (t.least > t.slot) {
        what = "that must stay overrun it by";
        by = t.least - t.slot;
        tell_overrun(&t);
    } else if (t.most < t.slot) {
        what = "do not fill it: at their longest they miss";
        by = t.slot - t.most;
        tell_short(&t);
    } else {
        tell_gap(&t);
    }
    bpi_text_release(&t.text);
    if (t.failed)
        return bpi_error_no_memory(errs);
    char seconds[32] = "";
    if (by > 0) {
        bpi_text_put(&t.text, " ");
        bpi_span_words(&t.text, by);
        if (!t.text.failed)
            memcpy(seconds, t.text.s, t.text.len < sizeof seconds ? t.text.len + 1 : 0);
        bool failed = t.text.failed;
        bpi_text_release(&t.text);
        if (failed)
            return bpi_error_no_memory(errs);
    }
    const char *right = cure_after(to, cures_before);
    return bpi_error_f(errs, BP_ENOFIT, segment->slot_where, right, "the beats of segment %s %s%s",
                       segment->id, what, seconds);
}

/* ---- a draft that keeps no limit ---------------------------------------------------------- */

/* The text that was put together is a cure, if the segment is drafted so. */
static bp_code cure_draft(teller *t, const bpi_drafting *as, bool *found, bp_errors *errs)
{
    bpi_proposal proposal[BPI_PROPOSE_MOST];
    bpi_change c;
    uint32_t n = 0;
    bp_code rc = bpi_draft_list(proposal, &n, as->take, t->show, t->segment, as, errs);
    *found = rc == BP_OK && n >= as->take;
    if (!*found) {
        bpi_text_reset(&t->text);
        return rc == BP_ENOFIT ? BP_OK : rc;
    }
    const char *text = take_text(t);
    uint32_t number = (uint32_t)(t->segment - t->show->segment);
    bool begun = bpi_change_begin(&c, t->to->arena, t->show, number, t->beat, t->n);
    bpi_remedy *place =
        bpi_arena_more(t->to->arena, &t->to->cure, &t->to->cure_room, t->to->cure_n, sizeof *place);
    t->failed |= !begun || !place;
    if (t->failed)
        return BP_OK; /* told once, at the end */
    c.segment->draft = *as;
    *place = (bpi_remedy){text, as->where, c.show};
    t->to->cure_n++;
    return BP_OK;
}

/* The least that one of the limits must be, the other left as it is. */
static bp_code cure_limit(teller *t, bool swaps, bp_errors *errs)
{
    bpi_drafting as = t->segment->draft;
    uint32_t *limit = swaps ? &as.swaps : &as.burners;
    bool found = false;
    bp_code rc = BP_OK;
    for (uint32_t n = *limit; n < BPI_MAX_BEATS && !found && rc == BP_OK && !t->failed;) {
        *limit = ++n;
        bpi_text_f(&t->text, "allow %u %s%s on the set of %s", (unsigned)n,
                   swaps ? "swap-out" : "burner", n == 1 ? "" : "s", t->segment->id);
        rc = cure_draft(t, &as, &found, errs);
    }
    return rc;
}

static bp_code cure_take(teller *t, bp_errors *errs)
{
    bpi_drafting as = t->segment->draft;
    bool found = false;
    bp_code rc = BP_OK;
    while (as.take > 1 && !found && rc == BP_OK && !t->failed) {
        as.take--;
        bpi_text_f(&t->text, "take draft %u of %s", (unsigned)as.take, t->segment->id);
        rc = cure_draft(t, &as, &found, errs);
    }
    return rc;
}

static void put_limits(teller *t)
{
    const bpi_drafting *d = &t->segment->draft;
    const char *id = t->segment->id;
    put_slot(t);
    if (d->swaps != UINT32_MAX) {
        bpi_text_f(&t->text, "at most %u swap-out%s may stand on the set of %s", (unsigned)d->swaps,
                   d->swaps == 1 ? "" : "s", id);
        add_clash(t, d->where);
    }
    if (d->burners != UINT32_MAX) {
        bpi_text_f(&t->text, "at most %u burner%s may be in use on the set of %s",
                   (unsigned)d->burners, d->burners == 1 ? "" : "s", id);
        add_clash(t, d->where);
    }
    if (d->take > 1) {
        bpi_text_f(&t->text, "draft %u of %s is taken", (unsigned)d->take, id);
        add_clash(t, d->where);
    }
}

bp_code bpi_clash_tell_draft(bpi_clashes *to, const bpi_show *show, uint32_t number,
                             bp_errors *errs)
{
    const bpi_segment *segment = &show->segment[number];
    const bpi_drafting *d = &segment->draft;
    const bpi_beat none = {0};
    teller t = {.to = to, .show = show, .segment = segment, .beat = &none, .slot = segment->slot};
    uint32_t cures_before = to->cure_n;
    put_limits(&t);
    bp_code rc = t.failed ? BP_OK : cure_take(&t, errs);
    if (rc == BP_OK && d->swaps != UINT32_MAX && !t.failed)
        rc = cure_limit(&t, true, errs);
    if (rc == BP_OK && d->burners != UINT32_MAX && !t.failed)
        rc = cure_limit(&t, false, errs);
    bpi_text_release(&t.text);
    if (rc != BP_OK)
        return rc;
    if (t.failed)
        return bpi_error_no_memory(errs);
    return bpi_error_f(errs, BP_ENOFIT, d->where, cure_after(to, cures_before),
                       "no draft of segment %s is as its \"draft\" wants it", segment->id);
}

/* ---- more containers than a station has room for ------------------------------------------ */

/* The segment with as much room as is needed; NULL: no memory. */
static const bpi_show *with_room(teller *t, const bpi_air *air)
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

bp_code bpi_clash_tell_room(bpi_clashes *to, const bpi_show *show, const bpi_air *air,
                            bp_errors *errs)
{
    const bpi_segment *segment = &show->segment[air->segment];
    const bpi_beat none = {0};
    teller t = {.to = to,
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
        add_clash(&t, s->where);
        bpi_text_f(&t.text, "%u stand there when beat %s is on air", (unsigned)most,
                   air->beat[beat].id);
        add_clash(&t, air->beat[beat].where);
        where = where.line ? where : s->where;
    }
    bp_code rc = BP_OK;
    if (cure.len) {
        bpi_text_put(&t.text, cure.s);
        const char *text = take_text(&t);
        const bpi_show *as = with_room(&t, air);
        bpi_remedy *place =
            bpi_arena_more(to->arena, &to->cure, &to->cure_room, to->cure_n, sizeof *place);
        t.failed |= cure.failed || !as || !place;
        if (!t.failed) {
            *place = (bpi_remedy){text, segment->stations_where, as};
            to->cure_n++;
            rc =
                bpi_error_f(errs, BP_ENOFIT, where, text,
                            "more containers stand at a station of segment %s than it has room for",
                            segment->id);
        }
    }
    t.failed |= cure.failed;
    bpi_text_release(&cure);
    bpi_text_release(&t.text);
    return t.failed ? bpi_error_no_memory(errs) : rc;
}

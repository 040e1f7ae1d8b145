#include "live/clash.h"

#include <assert.h>
#include <string.h>

#include "base/span.h"
#include "base/text.h"
#include "live/change.h"
#include "live/telling.h"

/* The show with the change that is on trial: slot and beats as they are to be. NULL: no memory. */
static const bpi_show *changed(bpi_teller *t, int64_t slot, uint32_t beat, const bpi_beat *as)
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
static bool add_cure(bpi_teller *t, int64_t slot, uint32_t beat, const bpi_beat *as)
{
    uint64_t kept = 0;
    bp_code rc = bpi_drop(&kept, t->choice, t->n, slot);
    t->failed |= rc == BP_ENOMEM;
    if (rc != BP_OK) {
        bpi_text_reset(&t->text);
        return false;
    }
    const char *text = bpi_teller_text(t);
    const bpi_show *show = changed(t, slot, beat, as);
    return bpi_teller_cure(t, text, as ? as->where : t->segment->slot_where, show);
}

static bool cure_slot(bpi_teller *t, int64_t slot)
{
    bpi_text_f(&t->text, "make the slot of %s ", t->segment->id);
    bpi_span_minutes(&t->text, slot);
    return add_cure(t, slot, 0, NULL);
}

static void cure_letting_go(bpi_teller *t)
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
static void cure_saying_less(bpi_teller *t)
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
static void cure_stretching(bpi_teller *t, int64_t by)
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

/* Walking is a fact of its own, where there is any between these beats. */
static void put_walking(bpi_teller *t, uint64_t set)
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
    bpi_teller_clash(t, t->segment->stations_where);
}

static void tell_overrun(bpi_teller *t)
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
        bpi_teller_clash(t, t->beat[i].where);
    }
    put_walking(t, t->must);
    cure_slot(t, t->least);
    cure_letting_go(t);
    cure_saying_less(t);
}

static void tell_short(bpi_teller *t)
{
    for (uint32_t i = 0; i < t->n; i++) {
        bpi_text_f(&t->text, "beat %s lasts at most ", t->beat[i].id);
        bpi_span_words(&t->text, t->choice[i].most);
        bpi_teller_clash(t, t->beat[i].where);
    }
    put_walking(t, ~UINT64_C(0));
    cure_slot(t, t->most);
    cure_stretching(t, t->slot - t->most);
}

/* All together overrun, those that must stay do not, and no choice in between comes out even. */
static void tell_gap(bpi_teller *t)
{
    int64_t least = 0, most = 0, aside = 0;
    bpi_drop_span(&least, &aside, t->choice, t->n, ~UINT64_C(0));
    bpi_drop_span(&aside, &most, t->choice, t->n, t->must);
    bpi_text_put(&t->text, "all its beats take at least ");
    bpi_span_minutes(&t->text, least);
    bpi_teller_clash(t, t->segment->where);
    put_walking(t, ~UINT64_C(0));
    bpi_text_put(&t->text,
                 "no choice of beats that keeps what must stay, and what each needs, fills it");
    bpi_teller_clash(t, t->segment->where);
    for (int64_t less = t->slot - 1; less >= t->least && !cure_slot(t, less) && !t->failed; less--)
        ;
    for (int64_t more = t->slot + 1; more <= least && !cure_slot(t, more) && !t->failed; more++)
        ;
    assert(most < t->slot); /* else those that must stay would fill it */
    cure_stretching(t, t->slot - most);
}

bp_code bpi_clash_tell(bpi_clashes *to, const bpi_show *show, uint32_t number, const bpi_beat *beat,
                       const bpi_fitted *fitted, const bpi_drop_beat *choice, uint32_t n,
                       bool drafted, bp_errors *errs)
{
    const bpi_segment *segment = &show->segment[number];
    bpi_teller t = {.to = to,
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
    bpi_teller_slot(&t);
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
        assert(t.text.failed || t.text.len < sizeof seconds); /* of a slot of hours at most */
        bool failed = t.text.failed;
        if (!failed)
            memcpy(seconds, t.text.s, t.text.len + 1);
        bpi_text_release(&t.text);
        if (failed)
            return bpi_error_no_memory(errs);
    }
    const char *right = bpi_teller_after(to, cures_before);
    return bpi_error_f(errs, BP_ENOFIT, segment->slot_where, right, "the beats of segment %s %s%s",
                       segment->id, what, seconds);
}

/* src/out/lengths.c - what each slot becomes at every length, as text for a terminal.
 *
 * Owns     the shape of the text: bp_lengths_write of backpot/output.h.
 * May use  out/cut, model/duration, base/; reads the plan.
 */
#include <stdio.h>
#include <string.h>

#include "backpot/output.h"
#include "base/error.h"
#include "base/span.h"
#include "base/text.h"
#include "base/utf8.h"
#include "model/duration.h"
#include "out/cut.h"
#include "out/facts.h"

typedef struct teller {
    bpi_text *t;
    bpi_arena *a;
    const bp_plan *plan;
    uint32_t number;
    const bp_air *air;
    bpi_losses losses; /* that were asked about; none: the usual ones */
    int64_t slot;      /* to be told in full; 0: none                  */
    bp_errors *errs;
} teller;

static const bp_beat *beat_of(const teller *w, uint32_t i)
{
    return &w->plan->beat[w->air->beats.first + i];
}

static const char *minutes(teller *w, int64_t seconds)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_span_minutes(&t, seconds);
    const char *s = t.failed ? NULL : bpi_arena_copy(w->a, t.s, t.len);
    bpi_text_release(&t);
    w->t->failed |= s == NULL;
    return s ? s : "";
}

/* A text of the plan in a column so wide, cut at a whole character where it is longer; 0: as wide as
 * it is. */
static void put_column(bpi_text *t, const char *s, int wide)
{
    int n = 0;
    for (; *s && (n < wide || !wide); n++) {
        size_t len = 1;
        while ((s[len] & 0xC0) == 0x80)
            len++;
        bpi_text_f(t, "%.*s", (int)len, s);
        s += len;
    }
    bpi_text_f(t, "%*s", wide > n ? wide - n : 0, "");
}

static void put_left_out(teller *w, uint64_t kept)
{
    const char *between = "";
    for (uint32_t i = 0; i < w->air->beats.n; i++)
        if (!(kept >> i & 1)) {
            bpi_text_f(w->t, "%s%u %s", between, (unsigned)i + 1, beat_of(w, i)->id);
            between = ", ";
        }
    bpi_text_put(w->t, *between ? "" : "nothing");
}

/* One stretch a line, longest first; and the lengths that nothing fills. */
static void put_versions(teller *w)
{
    bpi_text_put(w->t, "\n  slot            left out\n");
    for (uint32_t k = 0; k < w->air->versions.n; k++) {
        const bp_version *v = &w->plan->version[w->air->versions.first + k];
        const bp_version *longer = v - (k > 0); /* itself: there is none */
        if (longer != v && longer->least != v->most + 1)
            bpi_text_f(w->t, "  %5s to %5s  no choice of beats fills it exactly\n",
                       minutes(w, longer->least - 1), minutes(w, v->most + 1));
        bpi_text_f(w->t, "  %5s to %5s  ", minutes(w, v->most), minutes(w, v->least));
        put_left_out(w, v->kept);
        if (v->unused.n) {
            const char *codes = bpi_fact_codes(w->a, w->plan, v->unused);
            bpi_text_f(w->t, "; not needed: %s", codes ? codes : "");
            w->t->failed |= codes == NULL;
        }
        if (v->least <= w->air->slot && w->air->slot <= v->most)
            bpi_text_put(w->t, "  (as planned)");
        bpi_text_char(w->t, '\n');
    }
}

static void put_way(teller *w, uint64_t kept, const char *less)
{
    const char *way = bpi_cut_way(w->a, w->plan, w->number, kept);
    w->t->failed |= way == NULL;
    if (way && *way)
        bpi_text_f(w->t, "      with %s less, %s\n", less, way);
}

/* Beat by beat, the lengths it has when so much is lost before the hit. */
static bp_code put_before(teller *w)
{
    bp_slot_fit fit[BPI_CUTS];
    bpi_text_put(w->t, "\n  lost before the hit       0:00");
    for (uint32_t k = 0; k < w->losses.n; k++) {
        bp_code rc = bpi_cut_make(&fit[k], w->plan, w->number, 0, w->losses.loss[k], w->errs);
        if (rc != BP_OK)
            return rc;
        bpi_text_f(w->t, "  %6s", minutes(w, w->losses.loss[k]));
    }
    bpi_text_f(w->t, "\n  slot                     %5s", minutes(w, w->air->slot));
    for (uint32_t k = 0; k < w->losses.n; k++)
        bpi_text_f(w->t, "  %6s", minutes(w, w->air->slot - w->losses.loss[k]));
    bpi_text_char(w->t, '\n');
    for (uint32_t i = 0; i < w->air->beats.n; i++) {
        const bp_beat *b = beat_of(w, i);
        bpi_text_f(w->t, "  %2u  ", (unsigned)i + 1);
        put_column(w->t, b->id, 18);
        bpi_text_f(w->t, "  %5s", b->dropped ? "out" : minutes(w, b->length));
        for (uint32_t k = 0; k < w->losses.n; k++)
            bpi_text_f(w->t, "  %6s", fit[k].kept >> i & 1 ? minutes(w, fit[k].length[i]) : "out");
        bpi_text_char(w->t, '\n');
    }
    for (uint32_t k = 0; k < w->losses.n; k++) {
        const char *codes = bpi_cut_unused(w->a, w->plan, w->number, fit[k].kept);
        w->t->failed |= codes == NULL;
        if (codes && *codes)
            bpi_text_f(w->t, "      with %s less, not needed: %s\n", minutes(w, w->losses.loss[k]),
                       codes);
        put_way(w, fit[k].kept, minutes(w, w->losses.loss[k]));
        if (fit[k].over)
            bpi_text_f(w->t, "      with %s less, %s %s\n", minutes(w, w->losses.loss[k]),
                       minutes(w, fit[k].over < 0 ? -fit[k].over : fit[k].over),
                       fit[k].over < 0 ? "short" : "over");
    }
    return BP_OK;
}

/* What goes when the loss is told at the start of a beat. */
static bp_code put_on_air(teller *w)
{
    bpi_text_put(w->t, "\n  lost when this begins       ");
    for (uint32_t k = 0; k < w->losses.n; k++)
        put_column(w->t, minutes(w, w->losses.loss[k]), k + 1 < w->losses.n ? 24 : 0);
    bpi_text_char(w->t, '\n');
    for (uint32_t i = 0; i < w->air->beats.n; i++) {
        if (!bpi_cut_is_boundary(w->plan, w->number, i))
            continue;
        bpi_text_f(w->t, "  %2u  ", (unsigned)i + 1);
        put_column(w->t, beat_of(w, i)->id, 15);
        bpi_text_f(w->t, " %5s  ", minutes(w, beat_of(w, i)->time_in));
        for (uint32_t k = 0; k < w->losses.n; k++) {
            bp_slot_fit fit;
            bp_code rc = bpi_cut_make(&fit, w->plan, w->number, i, w->losses.loss[k], w->errs);
            if (rc != BP_OK)
                return rc;
            const char *s = bpi_cut_text(w->a, w->plan, w->number, i, &fit);
            w->t->failed |= s == NULL;
            put_column(w->t, s ? s : "", k + 1 < w->losses.n ? 24 : 0);
        }
        bpi_text_char(w->t, '\n');
    }
    return BP_OK;
}

/* The slot at one length, as a running order. */
static bp_code put_one(teller *w)
{
    bp_slot_fit fit;
    bp_code rc = bpi_cut_make(&fit, w->plan, w->number, 0, w->air->slot - w->slot, w->errs);
    if (rc != BP_OK)
        return rc;
    bpi_text_f(w->t, "\n  in %s\n", minutes(w, w->slot));
    for (uint32_t i = 0; i < w->air->beats.n; i++) {
        char clock[BP_CLOCK_ROOM];
        const bp_beat *b = beat_of(w, i);
        if (fit.kept >> i & 1)
            bpi_text_f(w->t, "  %2u  %s  %5s  %5s  %s\n", (unsigned)i + 1,
                       bpi_fact_clock(clock, w->plan, w->air->hit + fit.from[i]),
                       minutes(w, fit.from[i]), minutes(w, fit.length[i]), b->text);
        else
            bpi_text_f(w->t, "  %2u  left out                %s\n", (unsigned)i + 1, b->text);
    }
    const char *codes = bpi_cut_unused(w->a, w->plan, w->number, fit.kept);
    w->t->failed |= codes == NULL;
    if (codes && *codes)
        bpi_text_f(w->t, "  not needed: %s\n", codes);
    if (fit.over > 0)
        bpi_text_f(w->t, "  what must stay runs %s over\n", minutes(w, fit.over));
    if (fit.over < 0)
        bpi_text_f(w->t, "  what there is falls %s short\n", minutes(w, -fit.over));
    return BP_OK;
}

static void put_moved(teller *w)
{
    char clock[BP_CLOCK_ROOM];
    if (w->air->hit_from == BP_NO_TIME || w->plan->verdict != BP_PLANNED)
        return;
    bpi_text_f(w->t, "  with all cooked as planned, the hit can be from %s: before it %s\n",
               bp_plan_clock(clock, w->plan, w->air->hit_from), w->air->hit_from_why);
    if (w->air->hit_to != BP_NO_TIME)
        bpi_text_f(w->t, "  to %s: after it %s\n", bp_plan_clock(clock, w->plan, w->air->hit_to),
                   w->air->hit_to_why);
}

static bp_code put_air(teller *w)
{
    const bpi_losses asked = w->losses;
    char clock[BP_CLOCK_ROOM];
    bpi_text_f(w->t, "\n%s at %s: %s, slot %s", w->air->id,
               bpi_fact_clock(clock, w->plan, w->air->hit), w->air->title,
               minutes(w, w->air->slot));
    if (w->air->floats)
        bpi_text_f(w->t, ", may come until %s",
                   bpi_fact_clock(clock, w->plan, w->air->hit + w->air->floats));
    bpi_text_char(w->t, '\n');
    if (w->air->versions.n)
        bpi_text_f(w->t, "  no longer than %s: %s\n",
                   minutes(w, w->plan->version[w->air->versions.first].most), w->air->longest_why);
    put_moved(w);
    if (w->slot)
        return put_one(w);
    if (w->air->versions.n)
        put_versions(w);
    if (!asked.n)
        w->losses = bpi_cut_usual(w->air);
    bp_code rc = put_before(w);
    if (rc == BP_OK)
        rc = put_on_air(w);
    w->losses = asked;
    return rc;
}

/* ---- what is asked ----------------------------------------------------------------------- */

static bp_code read_time(int64_t *out, const char *text, size_t len, bp_errors *errs)
{
    bpi_fault f = {0, "", ""};
    if (bpi_slot_read(out, text, len, &f) && *out > 0 && *out < 86400)
        return BP_OK;
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "write it like 0:40 or \"40 s\"",
                       "\"%.*s\" is no length of a slot", len < 60 ? (int)len : 60, text);
}

static bp_code read_asked(teller *w, const bp_lengths_options *o)
{
    bp_code rc = BP_OK;
    if (o->slot)
        rc = read_time(&w->slot, o->slot, strlen(o->slot), w->errs);
    for (const char *p = o->lose; p && rc == BP_OK;) {
        size_t len = strcspn(p, ",");
        if (w->losses.n == BPI_CUTS)
            return bpi_error_f(w->errs, BP_EVALUE, BPI_NOWHERE, "write fewer",
                               "at most %d losses stand side by side", BPI_CUTS);
        rc = read_time(&w->losses.loss[w->losses.n++], p, len, w->errs);
        p = p[len] ? p + len + 1 : NULL;
    }
    for (uint32_t i = 0; i < w->plan->airs && rc == BP_OK; i++)
        for (uint32_t k = 0; k < w->losses.n && rc == BP_OK; k++)
            if (w->losses.loss[k] >= w->plan->air[i].slot)
                rc = bpi_error_f(w->errs, BP_EVALUE, BPI_NOWHERE, "name a shorter loss",
                                 "nothing of the slot of %s would be left", w->plan->air[i].id);
    return rc;
}

bp_code bp_lengths_write(char **out, size_t *len, const bp_plan *plan,
                         const bp_lengths_options *options, bp_errors *errs)
{
    bpi_text t = BPI_TEXT_EMPTY, plain = BPI_TEXT_EMPTY;
    *out = NULL;
    *len = 0;
    teller w = {.t = &t, .plan = plan, .errs = errs, .a = bpi_arena_new()};
    bp_code rc = w.a ? read_asked(&w, options) : bpi_error_no_memory(errs);
    bpi_text_f(&t, "%s\n", plan->title);
    for (uint32_t i = 0; i < plan->airs && rc == BP_OK; i++) {
        w.number = i;
        w.air = &plan->air[i];
        rc = put_air(&w);
    }
    for (const char *s = t.failed ? "" : t.s; *s;) { /* each line made safe for a terminal */
        size_t n = strcspn(s, "\n");
        bpi_utf8_plain(&plain, s, n);
        bpi_text_char(&plain, '\n');
        s += n + (s[n] == '\n');
    }
    bool failed = t.failed || plain.failed;
    bpi_text_release(&t);
    bpi_arena_free(w.a);
    if (rc == BP_OK && failed)
        rc = bpi_error_no_memory(errs);
    if (rc != BP_OK) {
        bpi_text_release(&plain);
        return rc;
    }
    *out = plain.s; /* for the caller to release */
    *len = plain.len;
    return BP_OK;
}

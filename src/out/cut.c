#include "out/cut.h"

#include "base/span.h"
#include "out/facts.h"

static const bp_beat *beat_of(const bp_plan *plan, uint32_t air, uint32_t i)
{
    return &plan->beat[plan->air[air].beats.first + i];
}

bpi_losses bpi_cut_usual(const bp_air *air)
{
    static const int64_t usual[] = {30, 60, 90};
    bpi_losses l = {.n = 0};
    for (uint32_t i = 0; i < sizeof usual / sizeof *usual; i++)
        if (usual[i] < air->slot)
            l.loss[l.n++] = usual[i];
    return l;
}

uint64_t bpi_cut_done(const bp_plan *plan, uint32_t air, uint32_t at)
{
    uint64_t done = 0;
    for (uint32_t i = 0; i < at; i++)
        done |= beat_of(plan, air, i)->dropped ? 0 : UINT64_C(1) << i;
    return done;
}

bool bpi_cut_is_boundary(const bp_plan *plan, uint32_t air, uint32_t at)
{
    return !beat_of(plan, air, at)->dropped && bpi_cut_done(plan, air, at) != 0;
}

bp_code bpi_cut_make(bp_slot_fit *out, const bp_plan *plan, uint32_t air, uint32_t at, int64_t loss,
                     bp_errors *errs)
{
    const bp_slot_now now = {.beat = at,
                             .elapsed = at ? beat_of(plan, air, at)->time_in : 0,
                             .length = plan->air[air].slot - loss,
                             .done = bpi_cut_done(plan, air, at)};
    return bp_slot_refit(out, plan, air, &now, errs);
}

const char *bpi_cut_text(bpi_arena *a, const bp_plan *plan, uint32_t air, uint32_t at,
                         const bp_slot_fit *fit)
{
    bpi_text t = BPI_TEXT_EMPTY;
    const char *between = "out: ";
    bool other = false;
    for (uint32_t i = at; i < plan->air[air].beats.n; i++) {
        const bp_beat *b = beat_of(plan, air, i);
        bool comes = fit->kept >> i & 1;
        other |= comes && fit->length[i] != b->length;
        if (b->dropped || comes)
            continue;
        bpi_text_f(&t, "%s%u", between, (unsigned)i + 1);
        between = ", ";
    }
    for (uint32_t i = at; i < plan->air[air].beats.n; i++)
        if (beat_of(plan, air, i)->dropped && (fit->kept >> i & 1)) {
            bpi_text_f(&t, "%sback: %u", t.len ? "; " : "", (unsigned)i + 1);
        }
    if (t.len == 0 && fit->over == 0)
        bpi_text_put(&t, other ? "all stay" : "as planned");
    if (fit->over != 0) {
        bpi_text_put(&t, t.len ? "; " : "");
        bpi_span_minutes(&t, fit->over < 0 ? -fit->over : fit->over);
        bpi_text_put(&t, fit->over < 0 ? " short" : " over");
    }
    return bpi_fact_keep(a, &t);
}

const char *bpi_cut_unused(bpi_arena *a, const bp_plan *plan, uint32_t air, uint64_t beats)
{
    const uint64_t all = bpi_cut_done(plan, air, plan->air[air].beats.n);
    bpi_text t = BPI_TEXT_EMPTY;
    for (uint32_t c = 0; c < plan->containers; c++) {
        bool teased = false;
        for (uint32_t i = 0; i < plan->air[air].teases.n; i++)
            teased |= plan->tease[plan->air[air].teases.first + i].container == c;
        if (plan->container[c].air == air && !teased && bp_slot_uses(plan, c, all) &&
            !bp_slot_uses(plan, c, beats))
            bpi_text_f(&t, "%s%s", t.len ? " " : "", plan->container[c].code);
    }
    return bpi_fact_keep(a, &t);
}

/* Is it the first beat at its station? */
static bool is_first_there(const bp_plan *plan, uint32_t air, uint32_t i)
{
    for (uint32_t k = 0; k < i; k++)
        if (beat_of(plan, air, k)->post == beat_of(plan, air, i)->post)
            return false;
    return true;
}

static uint32_t most_at(const bp_plan *plan, uint32_t air, uint64_t kept, uint32_t at)
{
    uint32_t most = 0;
    for (uint32_t i = 0; i < plan->air[air].beats.n; i++) {
        uint32_t n = kept >> i & 1 ? bp_slot_stand(plan, air, kept, i, at) : 0;
        most = n > most ? n : most;
    }
    return most;
}

const char *bpi_cut_way(bpi_arena *a, const bp_plan *plan, uint32_t air, uint64_t beats)
{
    bp_slot_way way, planned;
    bpi_text t = BPI_TEXT_EMPTY;
    const char *between = "hot in the way to ";
    bp_slot_ways(&way, plan, air, beats);
    bp_slot_ways(&planned, plan, air, bpi_cut_done(plan, air, plan->air[air].beats.n));
    for (uint32_t i = 0; i < plan->air[air].beats.n; i++)
        if (way.hot & ~planned.hot & UINT64_C(1) << i) {
            bpi_text_f(&t, "%s%u", between, (unsigned)i + 1);
            between = ", ";
        }
    for (uint32_t k = 0; way.full && k < plan->air[air].beats.n; k++) {
        const bp_beat *b = beat_of(plan, air, k);
        uint32_t most = is_first_there(plan, air, k) ? most_at(plan, air, beats, k) : 0;
        if (b->room && most > b->room)
            bpi_text_f(&t, "%s%s holds %u, has room for %u", t.len ? "; " : "", b->station,
                       (unsigned)most, (unsigned)b->room);
    }
    return bpi_fact_keep(a, &t);
}

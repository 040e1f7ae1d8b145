#include "live/live.h"

#include "base/limits.h"
#include "live/clash.h"
#include "live/draft.h"
#include "live/drop.h"
#include "live/fit.h"
#include "live/nodraft.h"
#include "live/noroom.h"
#include "live/stage.h"
#include "live/station.h"
#include "live/walk.h"
#include "live/words.h"

typedef struct maker {
    bpi_arena *arena;
    const bpi_show *show;
    bpi_air *air;
    uint32_t airs;
    bpi_clashes clashes;
    bp_errors *errs;
} maker;

/* One segment, the same for each of its hits. */
typedef struct slot {
    const bpi_segment *segment;
    uint32_t index;
    const bpi_beat *beat;
    uint32_t n;
    bool drafted;
    bpi_fitted fitted[BPI_MAX_BEATS]; /* from: seconds into the slot */
    bpi_chain chain[BPI_MAX_BEATS];
    uint32_t chains;
} slot;

static void put_bounds(slot *s)
{
    for (uint32_t i = 0; i < s->n; i++) {
        const bpi_length *t = &s->beat[i].time;
        int64_t spoken = bpi_words_time(s->beat[i].words, s->segment->pace);
        bpi_fitted *f = &s->fitted[i];
        *f = (bpi_fitted){.least = t->least, .likely = t->likely, .most = t->most};
        f->words_floor = spoken > f->least;
        if (f->least < spoken)
            f->least = spoken;
        if (f->likely < spoken)
            f->likely = spoken;
        if (f->most < spoken)
            f->most = spoken;
        f->farthest = bpi_station_farthest(s->segment, s->beat, ~UINT64_C(0), i);
    }
}

/* Set the lengths of the beats that stay: the more a beat is worth, the nearer to its likely one.
 */
static void fit_kept(slot *s, uint64_t kept)
{
    bpi_fit_beat fit[BPI_MAX_BEATS];
    uint32_t n = 0;
    int64_t at = BPI_NO_PLACE;
    for (uint32_t i = 0; i < s->n; i++) {
        bpi_fitted *f = &s->fitted[i];
        f->walk = 0;
        if (!(kept >> i & 1))
            continue;
        f->walk = bpi_drop_walk(at, bpi_station_place(s->segment, &s->beat[i]));
        at = bpi_station_place(s->segment, &s->beat[i]);
        fit[n++] = (bpi_fit_beat){.least = f->least + f->walk,
                                  .likely = f->likely + f->walk,
                                  .most = f->most + f->walk,
                                  .weight = s->beat[i].worth > 1 ? s->beat[i].worth : 1};
    }
    bpi_fit(fit, n, s->segment->slot); /* cannot fail: the choice fits */
    int64_t from = 0;
    n = 0;
    for (uint32_t i = 0; i < s->n; i++) {
        bpi_fitted *f = &s->fitted[i];
        f->dropped = !(kept >> i & 1);
        if (f->dropped)
            continue;
        f->from = from;
        f->length = fit[n++].length;
        from += f->length;
    }
}

/* What each beat hangs on, and whether its container is cooked: one that has a beat that is kept, or
 * the beauty, which always is. */
static void put_needs(const maker *m, slot *s, const uint64_t *needs, uint64_t kept)
{
    for (uint32_t i = 0; i < s->n; i++) {
        bpi_fitted *f = &s->fitted[i];
        uint64_t steps = 0;
        f->needs = s->beat[i].needs | needs[i];
        const bpi_recipe *r = s->beat[i].dish == BPI_NO_INDEX
                                  ? NULL
                                  : &m->show->recipe[s->segment->dish[s->beat[i].dish].recipe];
        f->ready = !r || !bpi_walk_needs(&steps, r, &s->beat[i]) || steps == r->all;
        for (uint32_t c = 0; c < s->chains; c++)
            f->ready |= (s->chain[c].beats >> i & 1) && (s->chain[c].beats & kept);
    }
}

/* A beat that goes on with a container needs the beats before it on that container, so that the
 * same containers serve the slot when it is cut further. Only if beats that must stay cannot be
 * kept that way are the containers worked out anew for the beats that do stay. */
static bp_code choose_and_fit(maker *m, slot *s)
{
    uint64_t needs[BPI_MAX_BEATS], kept = 0;
    s->chains = bpi_walk(s->chain, needs, m->show->recipe, s->segment, s->beat, s->fitted, s->n,
                         ~UINT64_C(0));
    bpi_drop_beat choice[BPI_MAX_BEATS];
    for (uint32_t i = 0; i < s->n; i++)
        choice[i] = (bpi_drop_beat){.least = s->fitted[i].least,
                                    .most = s->fitted[i].most,
                                    .worth = s->beat[i].worth,
                                    .keep = s->beat[i].keep,
                                    .needs = s->beat[i].needs | needs[i],
                                    .place = bpi_station_place(s->segment, &s->beat[i])};
    bp_code rc = bpi_drop(&kept, choice, s->n, s->segment->slot);
    if (rc == BP_ENOFIT) {
        for (uint32_t i = 0; i < s->n; i++)
            choice[i].needs = s->beat[i].needs;
        rc = bpi_drop(&kept, choice, s->n, s->segment->slot);
        if (rc == BP_OK)
            s->chains = bpi_walk(s->chain, needs, m->show->recipe, s->segment, s->beat, s->fitted,
                                 s->n, kept);
    }
    switch (rc) {
    case BP_OK:
        fit_kept(s, kept);
        put_needs(m, s, needs, kept);
        return BP_OK;
    case BP_ENOFIT:
        return bpi_clash_tell(&m->clashes, m->show, s->index, s->beat, s->fitted, choice, s->n,
                              s->drafted, m->errs);
    case BP_EUNSURE:
        return bpi_error_f(
            m->errs, BP_EUNSURE, s->segment->where, "let fewer beats need each other",
            "no best choice among the beats of segment %s was found", s->segment->id);
    default:
        return bpi_error_no_memory(m->errs);
    }
}

static bp_code add_hits(maker *m, const slot *s)
{
    bp_code end = BP_OK;
    for (uint32_t h = 0; h < s->segment->hits; h++) {
        bpi_air *air = &m->air[m->airs++];
        bpi_fitted *fitted = BPI_TAKE(m->arena, s->n, bpi_fitted);
        if (!fitted)
            return bpi_error_no_memory(m->errs);
        air->segment = s->index;
        air->hit = h;
        air->at = s->segment->hit[h].at;
        air->drafted = s->drafted;
        air->beat = s->beat;
        air->beats = s->n;
        air->fitted = fitted;
        for (uint32_t i = 0; i < s->n; i++) {
            fitted[i] = s->fitted[i];
            if (!fitted[i].dropped)
                fitted[i].from += air->at;
        }
        bp_code rc = bpi_stage_make(air, m->arena, m->show, s->chain, s->chains, m->errs);
        if (rc != BP_OK)
            return rc;
        if (h == 0) /* the same at every hit */
            end = bpi_noroom_tell(&m->clashes, m->show, air, m->errs);
        if (end != BP_OK && end != BP_ENOFIT)
            return end;
    }
    return end;
}

static bp_code add_segment(maker *m, uint32_t index)
{
    slot s = {.segment = &m->show->segment[index], .index = index};
    s.beat = s.segment->beat;
    s.n = s.segment->beats;
    s.drafted = s.n == 0;
    if (s.drafted) {
        bp_code rc = bpi_draft(&s.beat, &s.n, m->arena, m->show, s.segment, m->errs);
        if (rc == BP_ENOFIT)
            return bpi_nodraft_tell(&m->clashes, m->show, index, m->errs);
        if (rc != BP_OK)
            return rc;
    }
    put_bounds(&s);
    bp_code rc = choose_and_fit(m, &s);
    return rc == BP_OK ? add_hits(m, &s) : rc;
}

static void sort_by_hit(bpi_air *air, uint32_t n)
{
    for (uint32_t i = 1; i < n; i++) {
        bpi_air one = air[i];
        uint32_t k = i;
        for (; k > 0 && air[k - 1].at > one.at; k--)
            air[k] = air[k - 1];
        air[k] = one;
    }
}

static bp_code limit_swaps(const maker *m)
{
    uint32_t swaps = 0;
    for (uint32_t i = 0; i < m->airs; i++)
        swaps += m->air[i].swaps;
    if (swaps <= BPI_MAX_SWAPS)
        return BP_OK;
    return bpi_error_f(
        m->errs, BP_ELIMIT, m->show->segment[0].where, "plan its segments as shows of their own",
        "this show needs %u containers; at most %d are planned", swaps, BPI_MAX_SWAPS);
}

int64_t bpi_live_end(const bpi_show *show, const bpi_air *air)
{
    const bpi_segment *seg = &show->segment[air->segment];
    return air->at + seg->slot + seg->floats;
}

bp_code bpi_live_make(bpi_live **out, bpi_arena *a, const bpi_show *show, bp_errors *errs)
{
    *out = NULL;
    uint32_t hits = 0;
    for (uint32_t i = 0; i < show->segments; i++)
        hits += show->segment[i].hits;
    bpi_live *live = BPI_TAKE(a, 1, bpi_live);
    maker m = {.arena = a,
               .show = show,
               .air = BPI_TAKE(a, hits, bpi_air),
               .clashes = {.arena = a},
               .errs = errs};
    if (!live || !m.air)
        return bpi_error_no_memory(errs);
    bp_code end = BP_OK;
    for (uint32_t i = 0; i < show->segments; i++) {
        bp_code rc = add_segment(&m, i);
        if (rc == BP_ENOFIT)
            end = rc; /* tell of the other segments too */
        else if (rc != BP_OK)
            return rc;
    }
    if (end == BP_OK)
        end = limit_swaps(&m);
    if (end == BP_ELIMIT)
        return end;
    sort_by_hit(m.air, m.airs);
    live->air = m.air;
    live->airs = m.airs;
    live->clash = m.clashes.clash;
    live->clashes = m.clashes.clash_n;
    live->cure = m.clashes.cure;
    live->cures = m.clashes.cure_n;
    *out = live;
    return end;
}

uint64_t bpi_live_on_air(const bpi_air *air, const bpi_swap *swap)
{
    uint64_t steps = 0;
    for (uint32_t i = swap->first_beat; i < air->beats && i <= swap->last_beat; i++) {
        const bpi_beat *beat = &air->beat[i];
        for (uint32_t k = 0;
             beat->dish == swap->dish && !air->fitted[i].dropped && k < beat->does_n; k++)
            steps |= UINT64_C(1) << beat->does[k];
    }
    return steps & ~swap->steps;
}

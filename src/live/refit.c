#include "live/refit.h"

#include <assert.h>

#include "live/drop.h"
#include "live/fit.h"

/* The beats that can still come, packed; number[k] is the k-th one's own. */
typedef struct rest {
    const bpi_refit_now *now;
    bpi_drop_beat choice[BPI_MAX_BEATS];
    int64_t likely[BPI_MAX_BEATS];
    uint32_t number[BPI_MAX_BEATS], n;
    uint32_t before;   /* 1: the first of them is where the last beat done was, and takes no time */
    uint64_t stranded; /* by their own numbers */
    int64_t begin;     /* seconds since the hit: where the first of them starts */
    int64_t room;      /* from there to the end                                 */
} rest;

static uint64_t bit(uint32_t i)
{
    return UINT64_C(1) << i;
}

static uint64_t first_beats(uint32_t n)
{
    return n < 64 ? bit(n) - 1 : ~UINT64_C(0);
}

static int64_t larger(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

/* Beats from now on that can come: nothing that they need is gone, unless they must stay. */
static uint64_t still_possible(const bpi_slot_beat *beat, uint32_t n, const bpi_refit_now *now)
{
    uint64_t done = now->done & first_beats(now->beat);
    uint64_t can = first_beats(n) & ~first_beats(now->beat) & ~now->out;
    for (uint32_t i = now->beat; i < n; i++)
        if (!beat[i].ready && !(now->begun && i == now->beat))
            can &= ~bit(i);
    if (now->begun && now->beat < n)
        can |= bit(now->beat);
    for (uint64_t before = 0; before != can;) {
        before = can;
        for (uint32_t i = now->beat; i < n; i++) {
            bool stays = beat[i].keep || (now->begun && i == now->beat);
            if ((can & bit(i)) && !stays && (beat[i].needs & ~(can | done)))
                can &= ~bit(i);
        }
    }
    return can;
}

static void pack(rest *r, const bpi_slot_beat *beat, uint32_t n)
{
    const bpi_refit_now *now = r->now;
    uint64_t can = still_possible(beat, n, now), done = now->done & first_beats(now->beat);
    uint32_t place[BPI_MAX_BEATS] = {0};
    for (uint32_t i = 0; i < now->beat; i++)
        if (done & bit(i)) {
            r->choice[0] = (bpi_drop_beat){.keep = true, .place = beat[i].place};
            r->before = 1;
        }
    r->n = r->before;
    for (uint32_t i = now->beat; i < n; i++)
        if (can & bit(i)) {
            place[i] = r->n;
            r->number[r->n++] = i;
        }
    for (uint32_t k = r->before; k < r->n; k++) {
        uint32_t i = r->number[k];
        const bpi_slot_beat *b = &beat[i];
        bool on_air = now->begun && i == now->beat;
        int64_t walk = r->before ? bpi_drop_walk(r->choice[0].place, b->place) : 0;
        int64_t floor = on_air && now->spent > walk ? now->spent - walk : 0;
        if (b->needs & ~(can | done))
            r->stranded |= bit(i);
        r->choice[k] = (bpi_drop_beat){.least = larger(b->least, floor),
                                       .most = larger(b->most, floor),
                                       .worth = b->worth,
                                       .keep = b->keep || on_air,
                                       .place = b->place};
        r->likely[k] = larger(b->likely, floor);
        for (uint32_t j = now->beat; j < n; j++)
            if (b->needs & can & bit(j))
                r->choice[k].needs |= bit(place[j]);
    }
}

static uint64_t must_stay(const rest *r)
{
    uint64_t must = 0;
    for (uint32_t k = 0; k < r->n; k++)
        must |= r->choice[k].keep ? bit(k) : 0;
    return bpi_drop_closure(r->choice, r->n, must);
}

/* Choose for `room` or for the nearest length that has a choice, rather short than over. */
static bp_code choose_near(uint64_t *kept, int64_t *length, const rest *r)
{
    uint64_t must = must_stay(r);
    int64_t least = 0, most = 0, aside = 0;
    bpi_drop_span(&aside, &most, r->choice, r->n, first_beats(r->n));
    bpi_drop_span(&least, &aside, r->choice, r->n, must);
    *kept = must;
    *length = least;
    if (least > r->room || r->n == 0)
        return BP_OK;
    *kept = first_beats(r->n);
    *length = most;
    if (most < r->room)
        return BP_OK;
    for (int64_t by = 0;; by++) {
        /* There is one at `least`, where those that must stay are alone, and one at `most`. */
        assert(r->room - by >= least && r->room + by <= most);
        bp_code rc = bpi_drop(kept, r->choice, r->n, *length = r->room - by);
        if (rc == BP_ENOFIT && by > 0)
            rc = bpi_drop(kept, r->choice, r->n, *length = r->room + by);
        if (rc != BP_ENOFIT)
            return rc;
    }
}

static void put_lengths(bpi_refitted *out, const rest *r, uint64_t kept, int64_t length)
{
    bpi_fit_beat fit[BPI_MAX_BEATS];
    uint32_t n = 0;
    int64_t place = r->before ? r->choice[0].place : BPI_NO_PLACE;
    for (uint32_t k = r->before; k < r->n; k++)
        if (kept & bit(k)) {
            int64_t walk = bpi_drop_walk(place, r->choice[k].place);
            place = r->choice[k].place;
            fit[n++] = (bpi_fit_beat){.least = r->choice[k].least + walk,
                                      .likely = r->likely[k] + walk,
                                      .most = r->choice[k].most + walk,
                                      .weight = r->choice[k].worth > 1 ? r->choice[k].worth : 1};
        }
    bpi_fit_end end = bpi_fit(fit, n, length);
    assert(end == BPI_FIT_OK); /* the choice fits */
    (void)end;
    int64_t at = r->begin;
    n = 0;
    for (uint32_t k = r->before; k < r->n; k++) {
        if (!(kept & bit(k)))
            continue;
        out->kept |= bit(r->number[k]);
        out->from[r->number[k]] = at;
        out->last[r->number[k]] = fit[n].length;
        at += fit[n++].length;
    }
    out->over = at - r->now->length;
    out->stranded = r->stranded & out->kept;
}

bp_code bpi_refit(bpi_refitted *out, const bpi_slot_beat *beat, uint32_t n,
                  const bpi_refit_now *now)
{
    assert(n <= BPI_MAX_BEATS && now->beat <= n);
    rest r = {.now = now, .begin = now->elapsed - (now->begun ? now->spent : 0)};
    r.room = now->length - r.begin;
    pack(&r, beat, n);
    uint64_t kept = 0;
    int64_t length = 0;
    bp_code rc = choose_near(&kept, &length, &r);
    if (rc != BP_OK)
        return rc;
    *out = (bpi_refitted){0};
    put_lengths(out, &r, kept, length);
    return BP_OK;
}

/* src/day/look.c - how a slot stands at a moment.
 *
 * Owns     nothing.
 * May use  day/floor, the public headers.
 * Units    plan time, whole seconds.
 */
#include "day/floor.h"

#define LINGER 60 /* s: so long a slot that is off air is still shown */

static uint64_t bit(uint32_t i)
{
    return UINT64_C(1) << i;
}

/* The first that is not off air, unless the one before it has just ended; else the last. */
static uint32_t which(const bp_floor *f, int64_t now)
{
    uint32_t n = f->plan->airs;
    for (uint32_t i = 0; i < n; i++) {
        bool off = f->air[i].phase == BP_FLOOR_OFF;
        if (!off || (now < f->air[i].since + LINGER &&
                     (i + 1 == n || f->air[i + 1].phase == BP_FLOOR_BEFORE)))
            return i;
    }
    return n - 1;
}

static const bp_beat *beat_of(const bp_floor *f, const bp_floor_view *v, uint32_t i)
{
    return &f->plan->beat[f->plan->air[v->air].beats.first + i];
}

static uint32_t beats_of(const bp_floor *f, const bp_floor_view *v)
{
    uint32_t n = f->plan->air[v->air].beats.n;
    return n < BP_SLOT_BEATS ? n : BP_SLOT_BEATS;
}

/* What the plan gives a beat; a dropped one that comes back gets its likely length. */
static int64_t planned(const bp_beat *b)
{
    return b->dropped ? b->likely : b->length;
}

/* The refit takes the beat on air as lasting at least what it has lasted. What it was given is what
 * the same refit says as of its first second. */
static bp_code fit(bp_floor_view *v, const bp_floor *f, const bpi_floor_air *a, bp_errors *errs)
{
    int64_t from = a->n ? a->begun[a->n - 1].from : 0;
    bp_slot_now now = {.beat = v->beat == BP_NO_INDEX ? 0 : v->beat,
                       .begun = v->beat != BP_NO_INDEX,
                       .elapsed = v->beat == BP_NO_INDEX ? v->elapsed : from,
                       .length = v->length,
                       .done = v->done,
                       .out = v->out};
    bp_code rc = bp_slot_refit(&v->fit, f->plan, v->air, &now, errs);
    if (rc != BP_OK || v->beat == BP_NO_INDEX)
        return rc;
    v->beat_long = v->fit.length[v->beat];
    v->beat_left = v->beat_long - (v->elapsed - from);
    if (v->beat_left >= 0)
        return BP_OK;
    now.spent = v->elapsed - from;
    now.elapsed = v->elapsed;
    return bp_slot_refit(&v->fit, f->plan, v->air, &now, errs);
}

static void put_drift(bp_floor_view *v, const bp_floor *f)
{
    int64_t need = v->elapsed;
    for (uint32_t i = 0; i < beats_of(f, v); i++) {
        const bp_beat *b = beat_of(f, v, i);
        if (i == v->beat) {
            int64_t spent = v->beat_long - v->beat_left;
            need += planned(b) > spent ? planned(b) - spent : 0;
        } else if (v->fit.kept & bit(i)) {
            need += planned(b);
        }
    }
    v->drift = need - v->length;
}

/* The first container still to come that will not keep until its last beat. */
static void put_spoils(bp_floor_view *v, const bp_floor *f, const bpi_floor_air *a)
{
    v->spoils = BP_NO_INDEX;
    int64_t shift = v->hit + a->held + v->held; /* moment of slot time 0 */
    for (uint32_t i = 0; i < beats_of(f, v); i++) {
        bp_slice on = beat_of(f, v, i)->on;
        if (!(v->fit.kept & bit(i)))
            continue;
        int64_t until = shift + v->fit.from[i] + v->fit.length[i];
        for (uint32_t k = 0; k < on.n; k++) {
            uint32_t c = f->plan->index[on.first + k];
            const bp_container *box = &f->plan->container[c];
            bool unsafe = box->use_by != BP_NO_TIME && until > box->use_by;
            bool stale = box->best_by != BP_NO_TIME && until > box->best_by;
            if ((v->spoils == BP_NO_INDEX && stale) || (unsafe && !v->unsafe)) {
                v->spoils = c;
                v->spoils_at = unsafe ? box->use_by : box->best_by;
                v->unsafe = unsafe;
            }
        }
    }
}

/* Beats that are done lasted until the next one was begun. */
static void put_ways(bp_floor_view *v, const bp_floor *f, const bpi_floor_air *a)
{
    int64_t from[BP_SLOT_BEATS], length[BP_SLOT_BEATS];
    for (uint32_t i = 0; i < beats_of(f, v); i++) {
        from[i] = v->fit.from[i];
        length[i] = v->fit.length[i];
    }
    for (uint32_t k = 0; k + 1 < a->n; k++) {
        from[a->begun[k].beat] = a->begun[k].from;
        length[a->begun[k].beat] = a->begun[k + 1].from - a->begun[k].from;
    }
    bp_slot_cameras(v->camera_late, f->plan, v->air, v->done | v->fit.kept, from, length);
    bp_slot_ways(&v->way, f->plan, v->air, v->done | v->fit.kept);
    for (uint32_t i = 0; i < beats_of(f, v); i++)
        if (v->done & bit(i))
            v->camera_late[i] = 0;
}

bp_code bp_floor_look(bp_floor_view *v, const bp_floor *f, int64_t now, bp_errors *errs)
{
    uint32_t air = which(f, now);
    const bpi_floor_air *a = &f->air[air];
    const bp_air *plan = &f->plan->air[air];
    *v = (bp_floor_view){.now = now,
                         .air = air,
                         .phase = a->phase,
                         .hit = a->phase == BP_FLOOR_BEFORE ? plan->hit + a->late : a->hit,
                         .length = plan->slot - a->cut,
                         .elapsed = bpi_floor_slot_time(a, now),
                         .held = a->phase == BP_FLOOR_HELD && now > a->since ? now - a->since : 0,
                         .beat = BP_NO_INDEX,
                         .next = BP_NO_INDEX,
                         .out = a->out,
                         .spoils = BP_NO_INDEX};
    for (uint32_t i = 0; i + 1 < a->n || (a->phase == BP_FLOOR_OFF && i < a->n); i++)
        v->done |= bit(a->begun[i].beat);
    uint32_t n = beats_of(f, v);
    if (a->phase != BP_FLOOR_OFF) {
        if (a->n)
            v->beat = a->begun[a->n - 1].beat;
        bp_code rc = fit(v, f, a, errs);
        if (rc != BP_OK)
            return rc;
        for (uint32_t i = v->beat == BP_NO_INDEX ? 0 : v->beat + 1; i < n; i++)
            if (v->next == BP_NO_INDEX && (v->fit.kept & bit(i)))
                v->next = i;
        put_drift(v, f);
        put_spoils(v, f, a);
        put_ways(v, f, a);
    }
    v->gone = (n < 64 ? bit(n) - 1 : ~UINT64_C(0)) & ~v->done & ~v->out & ~v->fit.kept;
    return BP_OK;
}

/* ---- containers ------------------------------------------------------------------------------ */

/* Is it the first (last) beat, done or to come, that the container is on? */
static bool is_end(const bp_floor *f, const bp_floor_view *v, uint32_t container, uint32_t beat,
                   bool last)
{
    uint64_t all = v->done | v->fit.kept, here = bit(beat);
    uint64_t others = last ? all & ~here & ~(here - 1) : all & (here - 1);
    return bp_slot_uses(f->plan, container, here) && !bp_slot_uses(f->plan, container, others);
}

static uint32_t ends(uint32_t *list, uint32_t room, const bp_floor *f, const bp_floor_view *v,
                     uint32_t beat, bool last)
{
    uint32_t n = 0;
    for (uint32_t c = 0; beat < beats_of(f, v) && c < f->plan->containers; c++)
        if (f->plan->container[c].air == v->air && is_end(f, v, c, beat, last)) {
            if (n < room)
                list[n] = c;
            n++;
        }
    return n;
}

uint32_t bp_floor_comes(uint32_t *list, uint32_t room, const bp_floor *f, const bp_floor_view *v,
                        uint32_t beat)
{
    return ends(list, room, f, v, beat, false);
}

uint32_t bp_floor_goes(uint32_t *list, uint32_t room, const bp_floor *f, const bp_floor_view *v,
                       uint32_t beat)
{
    return ends(list, room, f, v, beat, true);
}

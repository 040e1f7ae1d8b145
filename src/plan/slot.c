/* src/plan/slot.c - a slot under way, from the plan alone.
 *
 * Owns     nothing: it puts the beats of a plan into the numbers of live/refit and back.
 * May use  live/refit, live/drop, base/.
 */
#include "backpot/slot.h"

#include <assert.h>
#include <string.h>

#include "live/drop.h"
#include "live/refit.h"

_Static_assert(BP_SLOT_BEATS == BPI_MAX_BEATS, "the public bound is that of the reader");

static bp_code refuse(bp_errors *errs, const char *wrong)
{
    return bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE, wrong,
                         "ask for a state that the slot can be in");
}

static bp_code check_now(const bp_air *a, const bp_slot_now *now, bp_errors *errs)
{
    if (now->beat > a->beats.n || (now->begun && now->beat == a->beats.n))
        return refuse(errs, "the appearance has no such beat");
    if (now->spent < 0 || now->elapsed < now->spent || (!now->begun && now->spent > 0))
        return refuse(errs, "a beat cannot have lasted so long by now");
    if (now->length < 0 || now->length > INT32_MAX || now->elapsed > INT32_MAX)
        return refuse(errs, "a slot cannot have this length");
    return BP_OK;
}

bp_code bp_slot_refit(bp_slot_fit *out, const bp_plan *plan, uint32_t air, const bp_slot_now *now,
                      bp_errors *errs)
{
    if (air >= plan->airs || plan->air[air].beats.n > BP_SLOT_BEATS)
        return refuse(errs, "the plan has no such appearance");
    const bp_air *a = &plan->air[air];
    bp_code rc = check_now(a, now, errs);
    if (rc != BP_OK)
        return rc;
    bpi_slot_beat beat[BPI_MAX_BEATS];
    for (uint32_t i = 0; i < a->beats.n; i++) {
        const bp_beat *b = &plan->beat[a->beats.first + i];
        beat[i] = (bpi_slot_beat){b->least, b->likely, b->most,  b->worth,
                                  b->keep,  b->ready,  b->needs, b->place};
    }
    const bpi_refit_now at = {now->beat,   now->begun, now->spent, now->elapsed,
                              now->length, now->done,  now->out};
    bpi_refitted fit;
    rc = bpi_refit(&fit, beat, a->beats.n, &at);
    if (rc == BP_ENOMEM)
        return bpi_error_no_memory(errs);
    if (rc != BP_OK)
        return bpi_error_add(errs, rc, BPI_NOWHERE, "no best choice of the beats left was found",
                             "let fewer beats need each other");
    *out = (bp_slot_fit){.over = fit.over, .kept = fit.kept, .stranded = fit.stranded};
    for (uint32_t i = 0; i < a->beats.n; i++) {
        out->from[i] = fit.from[i];
        out->length[i] = fit.last[i];
    }
    return BP_OK;
}

/* The last beat of `kept` before beat i that is on its camera; BP_NO_INDEX: none. */
static uint32_t camera_was(const bp_beat *beat, uint64_t kept, uint32_t i)
{
    for (uint32_t k = i; k-- > 0;)
        if ((kept >> k & 1) && strcmp(beat[k].camera, beat[i].camera) == 0)
            return k;
    return BP_NO_INDEX;
}

void bp_slot_cameras(int64_t late[BP_SLOT_BEATS], const bp_plan *plan, uint32_t air, uint64_t kept,
                     const int64_t from[BP_SLOT_BEATS], const int64_t length[BP_SLOT_BEATS])
{
    const bp_beat *beat = &plan->beat[plan->air[air].beats.first];
    int64_t place = BPI_NO_PLACE;
    for (uint32_t i = 0; i < plan->air[air].beats.n && i < BP_SLOT_BEATS; i++) {
        late[i] = 0;
        if (!(kept >> i & 1))
            continue;
        int64_t wanted = from[i] + bpi_drop_walk(place, beat[i].place);
        uint32_t was = beat[i].camera_move > 0 ? camera_was(beat, kept, i) : BP_NO_INDEX;
        place = beat[i].place;
        if (was == BP_NO_INDEX || strcmp(beat[was].station, beat[i].station) == 0)
            continue;
        int64_t there = from[was] + length[was] + beat[i].camera_move;
        late[i] = there > wanted ? there - wanted : 0;
    }
}

/* Where a container stands while beat i is on, by its last beat of `kept` up to then: a beat of the
 * appearance; BP_NO_INDEX: it is gone, or does not come. */
static uint32_t stands_with(const bp_plan *plan, uint32_t c, uint64_t kept, uint32_t i)
{
    uint32_t at = BP_NO_INDEX;
    bool later = false;
    for (uint32_t k = 0; k < plan->air[plan->container[c].air].beats.n && k < BP_SLOT_BEATS; k++) {
        uint64_t bit = UINT64_C(1) << k;
        bool on = bp_slot_uses(plan, c, bit), was_meant = at == BP_NO_INDEX;
        if (on && (was_meant || ((kept & bit) && k <= i)))
            at = k;
        later |= on && (kept & bit) && k >= i;
    }
    return later ? at : BP_NO_INDEX;
}

/* Its last beat of `kept` before beat i leaves it hot; before any, as it came. */
static bool is_hot(const bp_plan *plan, uint32_t c, uint64_t kept, uint32_t i)
{
    for (uint32_t k = i; k-- > 0;)
        if ((kept >> k & 1) && bp_slot_uses(plan, c, UINT64_C(1) << k))
            return plan->container[c].hot >> k & 1;
    return plan->container[c].comes_hot;
}

static bool is_between(uint32_t from, uint32_t at, uint32_t to)
{
    return from < to ? from < at && at < to : to < at && at < from;
}

/* Is container c in the way from beat `last` to beat i, or comes along? */
static bool is_in_the_way(const bp_plan *plan, uint32_t c, uint64_t kept, uint32_t last, uint32_t i)
{
    const bp_beat *beat = &plan->beat[plan->air[plan->container[c].air].beats.first];
    uint32_t before = stands_with(plan, c, kept, last), now = stands_with(plan, c, kept, i);
    if (before == BP_NO_INDEX || now == BP_NO_INDEX || !is_hot(plan, c, kept, i))
        return false;
    return is_between(beat[last].post, beat[before].post, beat[i].post) ||
           (bp_slot_uses(plan, c, UINT64_C(1) << i) && beat[before].post != beat[i].post);
}

uint32_t bp_slot_stand(const bp_plan *plan, uint32_t air, uint64_t kept, uint32_t during,
                       uint32_t at)
{
    const bp_beat *beat = &plan->beat[plan->air[air].beats.first];
    uint32_t n = 0;
    for (uint32_t c = 0; c < plan->containers; c++) {
        uint32_t k =
            plan->container[c].air == air ? stands_with(plan, c, kept, during) : BP_NO_INDEX;
        n += k != BP_NO_INDEX && beat[k].post == beat[at].post;
    }
    return n;
}

void bp_slot_ways(bp_slot_way *out, const bp_plan *plan, uint32_t air, uint64_t kept)
{
    const bp_slice beats = plan->air[air].beats;
    const bp_beat *beat = &plan->beat[beats.first];
    uint32_t last = BP_NO_INDEX;
    *out = (bp_slot_way){0};
    for (uint32_t i = 0; i < beats.n && i < BP_SLOT_BEATS; i++) {
        if (!(kept >> i & 1) || beat[i].post == 0)
            continue;
        bool walks = last != BP_NO_INDEX && beat[last].post != beat[i].post;
        for (uint32_t c = 0; walks && c < plan->containers; c++)
            if (plan->container[c].air == air && is_in_the_way(plan, c, kept, last, i))
                out->hot |= UINT64_C(1) << i;
        for (uint32_t k = 0; k < beats.n; k++)
            if (beat[k].room && bp_slot_stand(plan, air, kept, i, k) > beat[k].room)
                out->full |= UINT64_C(1) << i;
        last = i;
    }
}

bool bp_slot_uses(const bp_plan *plan, uint32_t container, uint64_t beats)
{
    const bp_air *a = &plan->air[plan->container[container].air];
    for (uint32_t i = 0; i < a->beats.n && i < BP_SLOT_BEATS; i++) {
        const bp_beat *b = &plan->beat[a->beats.first + i];
        for (uint32_t k = 0; (beats >> i & 1) && k < b->on.n; k++)
            if (plan->index[b->on.first + k] == container)
                return true;
    }
    return false;
}

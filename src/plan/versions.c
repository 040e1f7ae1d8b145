/* src/plan/versions.c - what each appearance becomes when its slot is cut, or grows.
 *
 * Owns     plan.version, filled in from live/version for the beats whose containers are cooked.
 * May use  plan/fill, live/, base/.
 *
 * A longer slot is good as long as the same containers serve it: no step left alone comes to be
 * overdone, nothing stands past its hold, nobody stands by past their wrap, and the set is cleared
 * and the next hit met as planned.
 */
#include "plan/fill.h"

#include "live/refit.h"
#include "live/station.h"
#include "live/version.h"
#include "live/walk.h"
#include "plan/crew_until.h"

typedef struct family {
    bpi_fill *f;
    uint32_t number; /* of the appearance */
    const bpi_air *air;
    const bpi_segment *segment;
    bpi_slot_beat beat[BPI_MAX_BEATS];
    uint64_t reveals; /* beats that show a finished dish, or where it is eaten */
} family;

static uint64_t bit(uint32_t i)
{
    return UINT64_C(1) << i;
}

static void put_beats(family *g)
{
    for (uint32_t i = 0; i < g->air->beats; i++) {
        const bpi_fitted *t = &g->air->fitted[i];
        const bpi_beat *b = &g->air->beat[i];
        uint64_t steps = 0;
        g->beat[i] =
            (bpi_slot_beat){t->least, t->likely, t->most,  b->worth,
                            b->keep,  t->ready,  t->needs, bpi_station_place(g->segment, b)};
        const bpi_recipe *r =
            b->dish == BPI_NO_INDEX ? NULL : &g->f->show->recipe[g->segment->dish[b->dish].recipe];
        if (!t->dropped && (b->taste || (r && bpi_walk_needs(&steps, r, b) && steps == r->all)))
            g->reveals |= bit(i);
    }
}

static bool is_here(const family *g, uint32_t box)
{
    return g->f->prep->box[box].air == g->number;
}

/* ---- how long it may become -------------------------------------------------------------- */

/* The containers that the beats work with, in a slot of this length. */
static uint32_t walk(bpi_chain *chain, const family *g, int64_t slot)
{
    uint64_t needs[BPI_MAX_BEATS];
    bpi_segment longer = *g->segment;
    longer.slot = slot;
    return bpi_walk(chain, needs, g->f->show->recipe, &longer, g->air->beat, g->air->fitted,
                    g->air->beats, ~UINT64_C(0));
}

static bool same_containers(const family *g, int64_t slot)
{
    bpi_chain now[BPI_MAX_BEATS], then[BPI_MAX_BEATS];
    uint32_t n = walk(now, g, g->segment->slot);
    if (walk(then, g, slot) != n)
        return false;
    for (uint32_t c = 0; c < n; c++)
        if (now[c].dish != then[c].dish || now[c].steps != then[c].steps ||
            now[c].beats != then[c].beats)
            return false;
    return true;
}

/* The last moment on camera of a container when the slot is so long. */
static int64_t last_of(const family *g, uint32_t box, const bpi_refitted *fit, int64_t slot)
{
    const bpi_swap *w = bpi_fill_swap(g->f, box);
    if (w->role == BPI_ROLE_TEASE)
        return w->last;
    for (uint32_t i = g->air->beats; i-- > 0;)
        if (w->beats & fit->kept & bit(i))
            return g->air->at + fit->from[i] + fit->last[i];
    return g->air->at + slot; /* of no beat: it stands through the slot */
}

static const char *no_longer(family *g, const char *why, const char *who)
{
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_f(&text, "%s%s", who, why);
    return bpi_fill_text(g->f, &text);
}

/* Why the slot cannot be so long with what is cooked for it. NULL: it can. */
static const char *too_long(family *g, int64_t slot, const bpi_refitted *fit)
{
    const bp_plan *p = g->f->plan;
    int64_t end = g->air->at + slot;
    if (fit->over != 0 && slot > g->segment->slot)
        return no_longer(g, "no choice of beats fills it", "");
    if (!same_containers(g, slot))
        return no_longer(g, "a step that is left alone on the set would be overdone", "");
    for (uint32_t b = 0; b < g->f->prep->boxes; b++)
        if (is_here(g, b) && p->container[b].best_by != BP_NO_TIME &&
            last_of(g, b, fit, slot) > p->container[b].best_by)
            return no_longer(g, " would stand past its best", p->container[b].code);
    bpi_until why;
    uint32_t person;
    if (end <= bpi_crew_until(&why, &person, p, g->number))
        return NULL;
    return no_longer(g, bpi_until_text(why), person == BP_NO_INDEX ? "" : p->person[person].name);
}

/* The longest slot that what is cooked can serve, and why it can be no longer. BP_ENOMEM is for the
 * caller to say. */
static bp_code find_longest(family *g, int64_t *longest)
{
    int64_t most = 0;
    for (uint32_t i = 0; i < g->air->beats; i++)
        most += g->beat[i].ready ? g->beat[i].most + g->air->fitted[i].farthest : 0;
    *longest = g->segment->slot;
    g->f->air[g->number].longest_why = "every beat is at its longest";
    for (int64_t slot = *longest + 1; slot <= most; slot++) {
        const bpi_refit_now now = {.length = slot};
        bpi_refitted fit;
        bp_code rc = bpi_refit(&fit, g->beat, g->air->beats, &now);
        if (rc != BP_OK)
            return rc == BP_ENOMEM ? rc : BP_OK;
        const char *why = too_long(g, slot, &fit);
        if (why && fit.over == 0) {
            g->f->air[g->number].longest_why = why;
            return BP_OK;
        }
        if (fit.over == 0)
            *longest = slot;
    }
    return BP_OK;
}

/* ---- the versions ------------------------------------------------------------------------ */

static bp_slice unused(family *g, uint64_t kept)
{
    bp_slice list = bpi_fill_begin(g->f);
    for (uint32_t b = 0; b < g->f->prep->boxes; b++) {
        const bpi_swap *w = bpi_fill_swap(g->f, b);
        if (is_here(g, b) && w->beats && !(w->beats & kept) && w->tease == BPI_NO_INDEX)
            bpi_fill_push(g->f, &list, b);
    }
    return list;
}

static bp_code lengths(bp_slice *list, family *g, int64_t slot, bp_errors *errs)
{
    const bpi_refit_now now = {.length = slot};
    bpi_refitted fit;
    bp_code rc = bpi_refit(&fit, g->beat, g->air->beats, &now);
    if (rc != BP_OK)
        return bpi_error_no_memory(errs); /* it was chosen before: the effort was enough */
    *list = bpi_fill_begin(g->f);
    for (uint32_t i = 0; i < g->air->beats; i++)
        bpi_fill_push(g->f, list, (uint32_t)fit.last[i]);
    return BP_OK;
}

static bp_code fill_family(bpi_fill *f, uint32_t number, bpi_arena *a, bp_version **row,
                           size_t *room, bp_errors *errs)
{
    const bpi_version *version = NULL;
    uint32_t n = 0;
    int64_t longest = 0;
    family g = {.f = f, .number = number, .air = &f->live->air[number]};
    g.segment = &f->show->segment[g.air->segment];
    put_beats(&g);
    bp_code rc = find_longest(&g, &longest);
    if (rc == BP_OK)
        rc = bpi_version_make(&version, &n, a, g.beat, g.air->beats, g.reveals, longest);
    if (rc == BP_EUNSURE)
        return BP_OK; /* beats in a tangle of needs: no family is told, which the lists show */
    if (rc != BP_OK)
        return bpi_error_no_memory(errs);
    f->air[number].versions.first = f->plan->versions;
    for (uint32_t i = 0; i < n && rc == BP_OK && !f->failed; i++) {
        void *list = *row;
        bp_version *v = bpi_arena_more(f->a, &list, room, f->plan->versions, sizeof *v);
        if (!v)
            return bpi_error_no_memory(errs);
        *row = list;
        *v = (bp_version){version[i].least, version[i].most, version[i].kept, {0}, {0}, {0}};
        v->unused = unused(&g, v->kept);
        rc = lengths(&v->at_least, &g, v->least, errs);
        if (rc == BP_OK)
            rc = lengths(&v->at_most, &g, v->most, errs);
        f->plan->versions++;
        f->air[number].versions.n++;
    }
    return rc;
}

bp_code bpi_fill_versions(bpi_fill *f, bp_errors *errs)
{
    bpi_arena *a = bpi_arena_new();
    bp_version *row = NULL;
    size_t room = 0;
    bp_code rc = a ? BP_OK : bpi_error_no_memory(errs);
    for (uint32_t i = 0; i < f->live->airs && rc == BP_OK && !f->failed; i++)
        rc = fill_family(f, i, a, &row, &room, errs);
    bpi_arena_free(a);
    f->plan->version = row;
    return rc;
}

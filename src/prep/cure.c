#include "prep/cure.h"

#include <string.h>

#include "base/text.h"
#include "live/change.h"
#include "prep/ease.h"
#include "prep/fact.h"

#define MOST_CURES 12 /* enough to choose from */

typedef struct seeking {
    const bpi_prep *p;
    bpi_arena *a;
    const uint32_t *fact; /* the conflict */
    uint32_t facts;
    bpi_purse purse;
    bpi_cure cure[MOST_CURES];
    uint32_t cures;
    int32_t *by;
    bp_errors *errs;
} seeking;

static bp_code add_cure(seeking *q, bpi_text *text, const char *pointer)
{
    char *kept = text->failed || !text->s ? NULL : bpi_arena_copy(q->a, text->s, text->len);
    bpi_text_release(text);
    if (!kept)
        return bpi_error_no_memory(q->errs);
    if (q->cures < MOST_CURES)
        q->cure[q->cures++] = (bpi_cure){kept, pointer ? pointer : "", true};
    return BP_OK;
}

/* ---- one fact loosened ------------------------------------------------------------------- */

static bp_code loosen_one(seeking *q, uint32_t fact)
{
    bool yes;
    q->by[fact] = bpi_fact_most(q->p, fact);
    bp_code rc = bpi_ease_try(&yes, q->p, q->by, &q->purse, q->errs);
    if (rc == BP_OK && yes)
        rc = bpi_ease_least(q->by, fact, q->p, &q->purse, q->errs);
    if (rc == BP_OK && yes && q->by[fact]) {
        bpi_text text = BPI_TEXT_EMPTY;
        bpi_fact_put_change(&text, q->p, fact, q->by[fact]);
        rc = add_cure(q, &text, q->p->fact[fact].where.pointer);
    }
    q->by[fact] = 0;
    return rc;
}

/* ---- another cook, another oven ---------------------------------------------------------- */

static bp_code try_show(seeking *q, const bpi_show *show, bool *yes)
{
    bpi_prep *p = NULL;
    bpi_arena *a = bpi_arena_new();
    if (!a)
        return bpi_error_no_memory(q->errs);
    bp_code rc = bpi_prep_make(&p, a, show, q->p->live, NULL, q->errs);
    if (rc == BP_OK)
        rc = bpi_ease_feasible(yes, &p->problem, &q->purse, q->errs);
    bpi_arena_free(a);
    return rc;
}

static bp_code another_cook(seeking *q, uint32_t c)
{
    bpi_show show = *q->p->show;
    uint32_t n = show.kitchen.cooks;
    bpi_cook *cook = BPI_TAKE(q->a, n + 1, bpi_cook);
    if (!cook)
        return bpi_error_no_memory(q->errs);
    memcpy(cook, show.kitchen.cook, n * sizeof *cook);
    cook[n] = cook[c];
    show.kitchen.cook = cook;
    show.kitchen.cooks = n + 1;
    bool yes = false;
    bp_code rc = try_show(q, &show, &yes);
    if (rc != BP_OK || !yes)
        return rc;
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_f(&text, "have one more cook, with the hours%s of %s",
               cook[c].skills ? " and skills" : "", cook[c].name);
    return add_cure(q, &text, "/kitchen/cooks");
}

static bp_code another_oven(seeking *q, uint32_t o)
{
    bpi_show show = *q->p->show;
    uint32_t n = show.kitchen.ovens;
    bpi_oven *oven = BPI_TAKE(q->a, n + 1, bpi_oven);
    if (!oven)
        return bpi_error_no_memory(q->errs);
    memcpy(oven, show.kitchen.oven, n * sizeof *oven);
    oven[n] = oven[o];
    show.kitchen.oven = oven;
    show.kitchen.ovens = n + 1;
    bool yes = false;
    bp_code rc = try_show(q, &show, &yes);
    if (rc != BP_OK || !yes)
        return rc;
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_f(&text, "have a second oven like the %s", oven[o].name);
    return add_cure(q, &text, "/kitchen/ovens");
}

static bool in_conflict(const seeking *q, bpi_fact_kind kind, uint32_t a)
{
    for (uint32_t i = 0; i < q->facts; i++) {
        const bpi_fact *f = &q->p->fact[q->fact[i]];
        if (f->kind == kind && (a == BPI_NO_INDEX || f->a == a))
            return true;
    }
    return false;
}

static bp_code more_of_them(seeking *q)
{
    bp_code rc = BP_OK;
    const bpi_kitchen *k = &q->p->show->kitchen;
    bool crew = in_conflict(q, BPI_FACT_SKILL, BPI_NO_INDEX) ||
                in_conflict(q, BPI_FACT_HANDS, BPI_NO_INDEX);
    for (uint32_t c = 0; c < k->cooks && rc == BP_OK; c++)
        if (crew || in_conflict(q, BPI_FACT_COOK, c))
            rc = another_cook(q, c);
    for (uint32_t o = 0; o < k->ovens && rc == BP_OK; o++)
        if (in_conflict(q, BPI_FACT_CHANGE, o) || in_conflict(q, BPI_FACT_POSITIONS, o) ||
            in_conflict(q, BPI_FACT_PREHEAT, o))
            rc = another_oven(q, o);
    return rc;
}

/* ---- a container less -------------------------------------------------------------------- */

/* The rest of the kitchen's work, as it stands, without container b. */
static bp_code try_skip(bool *yes, seeking *q, uint32_t b)
{
    bpi_arena *a = bpi_arena_new();
    bool *skip = a ? BPI_TAKE(a, q->p->boxes, bool) : NULL;
    bpi_prep *less = NULL;
    if (!skip) {
        bpi_arena_free(a);
        return bpi_error_no_memory(q->errs);
    }
    const bpi_prep_change change = {.skip = skip};
    skip[b] = true;
    bp_code rc = bpi_prep_make(&less, a, q->p->show, q->p->live, &change, q->errs);
    if (rc == BP_OK)
        rc = bpi_ease_feasible(yes, &less->problem, &q->purse, q->errs);
    bpi_arena_free(a);
    return rc;
}

/* The show without the beats that work with a container: what is left is fitted and staged anew.
 * `out`: the beats that go; 0: one of them must stay. */
static bp_code try_less_air(bool *yes, uint64_t *out, seeking *q, const bpi_air *air,
                            uint64_t beats)
{
    bpi_arena *a = bpi_arena_new();
    bpi_change c;
    bp_code rc = BP_OK;
    if (!a || !bpi_change_begin(&c, a, q->p->show, air->segment, air->beat, air->beats))
        rc = bpi_error_no_memory(q->errs);
    *out = rc == BP_OK ? bpi_change_leave_out(&c, beats) : 0;
    if (*out)
        rc = bpi_ease_show(yes, c.show, &q->purse, q->errs);
    bpi_arena_free(a);
    return rc;
}

static void put_left_out(bpi_text *text, const bpi_air *air, uint64_t out)
{
    bool many = (out & (out - 1)) != 0, first = true;
    bpi_text_f(text, ": leave out the beat%s ", many ? "s" : "");
    for (uint32_t i = 0; i < air->beats; i++) {
        if (!(out >> i & 1))
            continue;
        out &= ~(UINT64_C(1) << i);
        bpi_text_f(text, "%s\"%s\"", first ? "" : out ? ", " : " and ", air->beat[i].text);
        first = false;
    }
}

static bp_code do_without(seeking *q)
{
    const bpi_prep *p = q->p;
    bp_code rc = BP_OK;
    for (uint32_t b = 0; rc == BP_OK && b < p->boxes && q->cures < MOST_CURES; b++) {
        const bpi_air *air = &p->live->air[p->box[b].air];
        const bpi_swap *w = &air->swap[p->box[b].swap];
        const bpi_dish *dish = &p->show->segment[air->segment].dish[w->dish];
        uint64_t out = 0;
        bool yes = false;
        if (w->role == BPI_ROLE_SPARE || w->role == BPI_ROLE_TEASE)
            rc = try_skip(&yes, q, b);
        else if (w->role == BPI_ROLE_AIR && w->beats)
            rc = try_less_air(&yes, &out, q, air, w->beats);
        if (rc != BP_OK || !yes)
            continue;
        bpi_text text = BPI_TEXT_EMPTY;
        bpi_text_f(&text, "do without %s (%s, %s)", p->box[b].code, dish->title,
                   w->role == BPI_ROLE_SPARE   ? "a spare"
                   : w->role == BPI_ROLE_TEASE ? "for the tease"
                                               : bpi_stage_name(w->stage));
        if (out)
            put_left_out(&text, air, out);
        rc = add_cure(q, &text, w->where.pointer);
    }
    return rc;
}

/* ---- several facts at once --------------------------------------------------------------- */

static bool may_loosen(const bpi_prep *p, uint32_t fact)
{
    return bpi_fact_ease(p->fact[fact].kind) != BPI_EASE_NOT && bpi_fact_most(p, fact) > 0;
}

/* Loosen the facts of one conflict as far as it goes, then those of a conflict that is still there,
 * until none is left; where one hangs on nothing that can be loosened, no such change helps. Where
 * no conflict is known, all facts. */
static bp_code loosen_all(seeking *q, bool *yes)
{
    uint32_t facts = q->p->problem.facts;
    bool *mark = BPI_TAKE(q->a, facts, bool);
    if (!mark)
        return bpi_error_no_memory(q->errs);
    memset(mark, q->facts == 0, facts * sizeof *mark);
    for (uint32_t i = 0; i < q->facts; i++)
        mark[q->fact[i]] = true;
    bp_code rc = BP_OK;
    bool none = false, more = true;
    while (rc == BP_OK && !none && more) {
        more = false;
        for (uint32_t f = 1; f < facts; f++)
            if (mark[f] && !q->by[f] && may_loosen(q->p, f)) {
                q->by[f] = bpi_fact_most(q->p, f);
                more = true;
            }
        if (more)
            rc = bpi_ease_conflict(&none, mark, q->p, q->by, &q->purse, q->errs);
    }
    return rc == BP_OK && more ? bpi_ease_try(yes, q->p, q->by, &q->purse, q->errs) : rc;
}

/* Take back, one after the other, what is not needed; then make the rest small. */
static bp_code loosen_less(seeking *q)
{
    bp_code rc = BP_OK;
    for (uint32_t f = 1; f < q->p->problem.facts && rc == BP_OK; f++) {
        int32_t most = q->by[f];
        bool without = false;
        if (!most)
            continue;
        q->by[f] = 0;
        rc = bpi_ease_try(&without, q->p, q->by, &q->purse, q->errs);
        if (!without)
            q->by[f] = most;
    }
    for (uint32_t f = 1; f < q->p->problem.facts && rc == BP_OK; f++)
        if (q->by[f])
            rc = bpi_ease_least(q->by, f, q->p, &q->purse, q->errs);
    return rc;
}

static bp_code several(seeking *q)
{
    bool yes = false;
    bp_code rc = loosen_all(q, &yes);
    if (rc != BP_OK || !yes)
        return rc;
    q->purse.cut = false;
    rc = loosen_less(q);
    bpi_text text = BPI_TEXT_EMPTY;
    const char *pointer = NULL;
    for (uint32_t f = 1; f < q->p->problem.facts && rc == BP_OK; f++) {
        if (!q->by[f])
            continue;
        if (text.len)
            bpi_text_put(&text, ", and ");
        bpi_fact_put_change(&text, q->p, f, q->by[f]);
        pointer = pointer ? pointer : q->p->fact[f].where.pointer;
    }
    if (q->purse.cut)
        bpi_text_put(&text, "; less may do, this was not tried to the end");
    if (rc == BP_OK && pointer)
        return add_cure(q, &text, pointer);
    bpi_text_release(&text);
    return rc;
}

/* ---- all of it --------------------------------------------------------------------------- */

static bp_code find_single(seeking *q)
{
    bp_code rc = BP_OK;
    for (uint32_t i = 0; i < q->facts && rc == BP_OK; i++)
        if (may_loosen(q->p, q->fact[i]))
            rc = loosen_one(q, q->fact[i]);
    if (rc == BP_OK)
        rc = more_of_them(q);
    if (rc == BP_OK)
        rc = do_without(q);
    return rc;
}

bp_code bpi_cure_find(bpi_cures *out, bpi_arena *a, const bpi_prep *p, const uint32_t *fact,
                      uint32_t facts, bp_errors *errs)
{
    *out = (bpi_cures){0};
    seeking q = {.p = p, .a = a, .fact = fact, .facts = facts, .errs = errs};
    q.purse = (bpi_purse){.left = BPI_CURE_SINGLE, .each = BPI_CURE_EACH};
    q.by = BPI_TAKE(a, p->problem.facts, int32_t);
    if (!q.by)
        return bpi_error_no_memory(errs);
    bp_code rc = find_single(&q);
    bool cut = q.purse.cut;
    uint64_t work = BPI_CURE_SINGLE - q.purse.left;
    if (rc == BP_OK && q.cures == 0) {
        q.purse = (bpi_purse){.left = BPI_CURE_SEVERAL, .each = BPI_CURE_EACH};
        rc = several(&q);
        cut = cut || q.purse.cut;
        work += BPI_CURE_SEVERAL - q.purse.left;
    }
    bpi_cure *kept = BPI_TAKE(a, q.cures, bpi_cure);
    if (rc == BP_OK && !kept)
        rc = bpi_error_no_memory(errs);
    if (rc != BP_OK)
        return rc;
    memcpy(kept, q.cure, q.cures * sizeof *kept);
    *out = (bpi_cures){kept, q.cures, cut, work};
    return BP_OK;
}

#include "prep/cure.h"

#include <string.h>

#include "base/text.h"
#include "live/change.h"
#include "prep/ease.h"
#include "prep/fact.h"
#include "prep/grown.h"
#include "prep/several.h"

#define MOST_CURES 12 /* enough to choose from                                              */
#define MOST_PARTS 3  /* a change of more things than that: look for one of a cook more too  */

/* How much trouble a change is that is not one of facts: see bpi_fact_trouble. */
enum { LESS_TROUBLE = 2, COOK_TROUBLE = 2, OVEN_TROUBLE = 3, LONG_TROUBLE = BPI_FACT_TROUBLES };

typedef struct seeking {
    const bpi_prep *p;
    bpi_arena *a;
    const uint32_t *fact; /* the conflict */
    uint32_t facts;
    bpi_purse purse;
    bpi_cure cure[MOST_CURES];
    int trouble[MOST_CURES];
    uint32_t cures;
    int32_t *by;
    bp_errors *errs;
} seeking;

/* The least trouble first. Takes the text. */
static bp_code add_cure(seeking *q, bpi_text *text, const char *pointer, int trouble)
{
    char *kept = text->failed || !text->s ? NULL : bpi_arena_copy(q->a, text->s, text->len);
    bpi_text_release(text);
    if (!kept)
        return bpi_error_no_memory(q->errs);
    if (q->cures == MOST_CURES)
        return BP_OK;
    uint32_t at = q->cures++;
    for (; at > 0 && q->trouble[at - 1] > trouble; at--) {
        q->cure[at] = q->cure[at - 1];
        q->trouble[at] = q->trouble[at - 1];
    }
    q->cure[at] = (bpi_cure){kept, pointer ? pointer : "", true};
    q->trouble[at] = trouble;
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
        rc = add_cure(q, &text, q->p->fact[fact].where.pointer,
                      bpi_fact_trouble(q->p->fact[fact].kind));
    }
    q->by[fact] = 0;
    return rc;
}

/* ---- another cook, another oven ---------------------------------------------------------- */

static bp_code one_more(seeking *q, bpi_more what, uint32_t like)
{
    bpi_arena *a = bpi_arena_new();
    bpi_show show = *q->p->show;
    bpi_prep *p = NULL;
    bool yes = false;
    bp_code rc = a && bpi_grown_add(&show, a, what, like) ? BP_OK : bpi_error_no_memory(q->errs);
    if (rc == BP_OK)
        rc = bpi_prep_make(&p, a, &show, q->p->live, NULL, q->errs);
    if (rc == BP_OK)
        rc = bpi_ease_feasible(&yes, &p->problem, &q->purse, q->errs);
    bpi_arena_free(a);
    if (rc != BP_OK || !yes)
        return rc;
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_grown_put(&text, q->p->show, what, like);
    return add_cure(q, &text, bpi_grown_pointer(what),
                    what == BPI_MORE_COOKS ? COOK_TROUBLE : OVEN_TROUBLE);
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
                in_conflict(q, BPI_FACT_HELP, BPI_NO_INDEX) ||
                in_conflict(q, BPI_FACT_HANDS, BPI_NO_INDEX);
    for (uint32_t c = 0; c < k->cooks && rc == BP_OK; c++)
        if (crew || in_conflict(q, BPI_FACT_COOK, c))
            rc = one_more(q, BPI_MORE_COOKS, c);
    for (uint32_t o = 0; o < k->ovens && rc == BP_OK; o++)
        if (in_conflict(q, BPI_FACT_CHANGE, o) || in_conflict(q, BPI_FACT_POSITIONS, o) ||
            in_conflict(q, BPI_FACT_PREHEAT, o))
            rc = one_more(q, BPI_MORE_OVENS, o);
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
        rc = add_cure(q, &text, w->where.pointer, LESS_TROUBLE);
    }
    return rc;
}

/* ---- several things at once -------------------------------------------------------------- */

/* One change of all that `text` says already, which it takes, and of the facts of `p` loosened so. */
static bp_code add_several(seeking *q, bpi_text *text, const char *pointer, const bpi_prep *p,
                           const int32_t *by)
{
    bpi_several_put(text, &pointer, by, p);
    if (q->purse.cut)
        bpi_text_put(text, "; less may do, this was not tried to the end");
    if (text->len)
        return add_cure(q, text, pointer, LONG_TROUBLE);
    bpi_text_release(text);
    return BP_OK;
}

static bp_code several(seeking *q, uint32_t *parts)
{
    bool yes = false;
    bp_code rc = bpi_several(&yes, q->by, q->p, q->fact, q->facts, &q->purse, q->errs);
    *parts = rc == BP_OK && yes ? bpi_several_count(q->by, q->p) : 0;
    bpi_text text = BPI_TEXT_EMPTY;
    return *parts ? add_several(q, &text, NULL, q->p, q->by) : rc;
}

/* The cook who can do the most, for the longest. */
static uint32_t best_cook(const bpi_kitchen *k)
{
    uint32_t best = 0;
    for (uint32_t c = 1; c < k->cooks; c++) {
        const bpi_cook *is = &k->cook[best], *may = &k->cook[c];
        if (may->skills > is->skills ||
            (may->skills == is->skills && may->shift[0].call < is->shift[0].call))
            best = c;
    }
    return best;
}

/* How far the kitchen grows: more each time, until there is a plan. */
typedef enum growth { ONE_COOK, COOK_AND_OVENS, TWICE, GROWTHS } growth;

static bool grow(bpi_show *show, bpi_text *text, bpi_arena *a, growth by)
{
    const bpi_show *was = show;
    bpi_kitchen k = show->kitchen;
    bool fine = true;
    for (uint32_t c = 0; c < k.cooks && fine; c++)
        if (by == TWICE || c == best_cook(&k)) {
            bpi_text_put(text, text->len ? ", and " : "");
            bpi_grown_put(text, was, BPI_MORE_COOKS, c);
            fine = bpi_grown_add(show, a, BPI_MORE_COOKS, c);
        }
    for (uint32_t o = 0; o < k.ovens && fine && by != ONE_COOK; o++) {
        bpi_text_put(text, ", and ");
        bpi_grown_put(text, was, BPI_MORE_OVENS, o);
        fine = bpi_grown_add(show, a, BPI_MORE_OVENS, o);
    }
    return fine;
}

/* A larger kitchen, and what else it takes in it, if that is less than so many facts. */
static bp_code larger(bool *yes, seeking *q, growth by, uint32_t than)
{
    bpi_arena *a = bpi_arena_new();
    bpi_show show = *q->p->show;
    bpi_prep *p = NULL;
    bpi_text text = BPI_TEXT_EMPTY;
    int32_t *amount = NULL;
    *yes = false;
    bp_code rc = a && grow(&show, &text, a, by) ? BP_OK : bpi_error_no_memory(q->errs);
    const bpi_prep_change change = {.implied = true};
    if (rc == BP_OK)
        rc = bpi_prep_make(&p, a, &show, q->p->live, &change, q->errs);
    if (rc == BP_OK && !(amount = BPI_TAKE(a, p->problem.facts, int32_t)))
        rc = bpi_error_no_memory(q->errs);
    q->purse.cut = false;
    if (rc == BP_OK)
        rc = bpi_several(yes, amount, p, NULL, 0, &q->purse, q->errs);
    if (rc == BP_OK && *yes && bpi_several_count(amount, p) + 1 < than)
        rc = add_several(q, &text, bpi_grown_pointer(BPI_MORE_COOKS), p, amount);
    bpi_text_release(&text);
    bpi_arena_free(a);
    return rc;
}

/* Several facts; where that is not found, or too much for a cook to take in, a larger kitchen. Each
 * gets its share of the work, the later ones more, for they are surer to end with a yes. */
static bp_code together(seeking *q, bool *cut, uint64_t *work)
{
    uint64_t left = BPI_CURE_SEVERAL, given = left;
    uint32_t parts = 0;
    q->purse = (bpi_purse){.left = left / 2, .each = BPI_CURE_EACH};
    bp_code rc = several(q, &parts);
    *cut = q->purse.cut;
    left -= left / 2 - q->purse.left;
    bool yes = parts > 0 && parts <= MOST_PARTS;
    for (growth g = ONE_COOK; rc == BP_OK && !yes && g < GROWTHS; g++) {
        if (g != ONE_COOK && parts)
            break;        /* there is a change already */
        if (g == TWICE) { /* nothing yet: the surest, and work for it */
            left += BPI_CURE_LAST;
            given += BPI_CURE_LAST;
        }
        uint64_t share = left / (GROWTHS - (unsigned)g);
        q->purse = (bpi_purse){.left = share, .each = BPI_CURE_EACH};
        rc = larger(&yes, q, g, parts ? parts : UINT32_MAX);
        *cut = *cut || q->purse.cut;
        left -= share - q->purse.left;
    }
    *work += given - left;
    return rc;
}

/* ---- all of it --------------------------------------------------------------------------- */

static bp_code find_single(seeking *q)
{
    bp_code rc = BP_OK;
    for (uint32_t i = 0; i < q->facts && rc == BP_OK; i++)
        if (bpi_several_may(q->p, q->fact[i]))
            rc = loosen_one(q, q->fact[i]);
    if (rc == BP_OK)
        rc = more_of_them(q);
    if (rc == BP_OK)
        rc = do_without(q);
    return rc;
}

/* Facts that the change of several things loosens: where no conflict is known, the suspects. */
static bool keep_loosened(bpi_cures *out, bpi_arena *a, const seeking *q)
{
    uint32_t n = bpi_several_count(q->by, q->p);
    uint32_t *fact = BPI_TAKE(a, n, uint32_t);
    if (!fact)
        return false;
    out->loosened = fact;
    for (uint32_t f = 1; f < q->p->problem.facts; f++)
        if (q->by[f])
            fact[out->loosens++] = f;
    return true;
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
    bool cut = q.purse.cut, cut_more = false;
    uint64_t work = BPI_CURE_SINGLE - q.purse.left;
    if (rc == BP_OK && q.cures == 0)
        rc = together(&q, &cut_more, &work);
    bpi_cure *kept = BPI_TAKE(a, q.cures, bpi_cure);
    if (rc == BP_OK && (!kept || !keep_loosened(out, a, &q)))
        rc = bpi_error_no_memory(errs);
    if (rc != BP_OK)
        return rc;
    memcpy(kept, q.cure, q.cures * sizeof *kept);
    out->cure = kept;
    out->n = q.cures;
    out->cut = cut || cut_more;
    out->work = work;
    return BP_OK;
}

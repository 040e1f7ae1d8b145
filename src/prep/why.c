#include "prep/why.h"

#include <string.h>

#include "base/text.h"
#include "prep/ease.h"
#include "prep/fact.h"

#define MOST_CURES  12 /* enough to choose from, and each costs several solves */
#define MOST_ROUNDS 6  /* conflicts loosened one after another before giving up */

typedef struct asking {
    const bpi_prep *p;
    bpi_arena *a;
    bp_eng_limits limits;
    bpi_why_not *out;
    bpi_cure cure[MOST_CURES];
    int32_t *by;
    bp_errors *errs;
} asking;

static bp_code add_cure(asking *q, bpi_text *text, const char *pointer)
{
    char *kept = text->failed || !text->s ? NULL : bpi_arena_copy(q->a, text->s, text->len);
    bpi_text_release(text);
    if (!kept)
        return bpi_error_no_memory(q->errs);
    if (q->out->cures < MOST_CURES)
        q->cure[q->out->cures++] = (bpi_cure){kept, pointer ? pointer : "", true};
    return BP_OK;
}

/* ---- one fact loosened ------------------------------------------------------------------- */

static bp_code loosen_one(asking *q, uint32_t fact)
{
    bool yes;
    q->by[fact] = bpi_fact_most(q->p, fact);
    if (q->by[fact] <= 0)
        return BP_OK;
    bp_code rc = bpi_ease_try(&yes, q->p, q->by, &q->limits, q->errs);
    if (rc == BP_OK && yes)
        rc = bpi_ease_least(q->by, fact, q->p, &q->limits, q->errs);
    if (rc == BP_OK && yes) {
        bpi_text text = BPI_TEXT_EMPTY;
        bpi_fact_put_change(&text, q->p, fact, q->by[fact]);
        rc = add_cure(q, &text, q->p->fact[fact].where.pointer);
    }
    q->by[fact] = 0;
    return rc;
}

/* ---- another cook, another oven ---------------------------------------------------------- */

static bp_code try_show(asking *q, const bpi_show *show, bool *yes)
{
    bpi_prep *p = NULL;
    bpi_arena *a = bpi_arena_new();
    if (!a)
        return bpi_error_no_memory(q->errs);
    bp_code rc = bpi_prep_make(&p, a, show, q->p->live, NULL, q->errs);
    if (rc == BP_OK)
        rc = bpi_ease_feasible(yes, &p->problem, &q->limits, q->errs);
    bpi_arena_free(a);
    return rc;
}

static bp_code another_cook(asking *q, uint32_t c)
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

static bp_code another_oven(asking *q, uint32_t o)
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

static bool in_conflict(const asking *q, bpi_fact_kind kind, uint32_t a)
{
    for (uint32_t i = 0; i < q->out->facts; i++) {
        const bpi_fact *f = &q->p->fact[q->out->fact[i]];
        if (f->kind == kind && (a == BPI_NO_INDEX || f->a == a))
            return true;
    }
    return false;
}

static bp_code more_of_them(asking *q)
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

static bool may_be_left_out(const bpi_prep *p, const bpi_box *box)
{
    const bpi_air *air = &p->live->air[box->air];
    const bpi_swap *w = &air->swap[box->swap];
    if (w->role == BPI_ROLE_SPARE || w->role == BPI_ROLE_TEASE)
        return true;
    if (w->role != BPI_ROLE_AIR || w->first_beat == BPI_NO_INDEX)
        return false;
    for (uint32_t i = w->first_beat; i <= w->last_beat && i < air->beats; i++)
        if (air->beat[i].dish == w->dish && air->beat[i].keep)
            return false;
    return true;
}

static bp_code do_without(asking *q)
{
    const bpi_prep *p = q->p;
    bool *skip = BPI_TAKE(q->a, p->boxes, bool);
    if (!skip)
        return bpi_error_no_memory(q->errs);
    for (uint32_t b = 0; b < p->boxes && q->out->cures < MOST_CURES; b++) {
        if (!may_be_left_out(p, &p->box[b]))
            continue;
        const bpi_air *air = &p->live->air[p->box[b].air];
        const bpi_swap *w = &air->swap[p->box[b].swap];
        const bpi_dish *dish = &p->show->segment[air->segment].dish[w->dish];
        bpi_prep_change change = {.skip = skip};
        bpi_prep *less = NULL;
        bool yes = false;
        bpi_arena *a = bpi_arena_new();
        if (!a)
            return bpi_error_no_memory(q->errs);
        skip[b] = true;
        bp_code rc = bpi_prep_make(&less, a, p->show, p->live, &change, q->errs);
        if (rc == BP_OK)
            rc = bpi_ease_feasible(&yes, &less->problem, &q->limits, q->errs);
        bpi_arena_free(a);
        skip[b] = false;
        if (rc == BP_OK && yes) {
            bpi_text text = BPI_TEXT_EMPTY;
            bpi_text_f(&text, "do without %s (%s, %s)", p->box[b].code, dish->title,
                       w->role == BPI_ROLE_SPARE   ? "a spare"
                       : w->role == BPI_ROLE_TEASE ? "for the tease"
                                                   : bpi_stage_name(w->stage));
            if (w->role == BPI_ROLE_AIR)
                bpi_text_f(&text, ": leave out the beat \"%s\"", air->beat[w->first_beat].text);
            rc = add_cure(q, &text, w->where.pointer);
        }
        if (rc != BP_OK)
            return rc;
    }
    return BP_OK;
}

/* ---- several facts at once --------------------------------------------------------------- */

/* The facts of a conflict, loosened as far as it goes, until no conflict is left. */
static bp_code loosen_all(asking *q, bool *yes)
{
    bool *off = BPI_TAKE(q->a, q->p->problem.facts, bool);
    if (!off)
        return bpi_error_no_memory(q->errs);
    for (uint32_t i = 0; i < q->out->facts; i++)
        off[q->out->fact[i]] = true;
    *yes = false;
    for (int round = 0; round < MOST_ROUNDS && !*yes; round++) {
        for (uint32_t f = 1; f < q->p->problem.facts; f++)
            if (off[f] && bpi_fact_ease(q->p->fact[f].kind) != BPI_EASE_NOT)
                q->by[f] = bpi_fact_most(q->p, f);
        bp_code rc = bpi_ease_try(yes, q->p, q->by, &q->limits, q->errs);
        if (rc != BP_OK || *yes)
            return rc;
        bp_eng_conflict *c = NULL;
        bp_eng_limits limits = q->limits;
        limits.off = off;
        rc = bp_eng_explain(&c, &q->p->problem, &limits, NULL);
        if (rc != BP_OK) /* with them off there is a schedule: more of the same would not do */
            return rc == BP_ENOMEM ? bpi_error_no_memory(q->errs) : BP_OK;
        for (uint32_t i = 0; i < c->facts; i++)
            off[c->fact[i]] = true;
        bool none = c->facts == 0;
        bp_eng_conflict_free(c);
        if (none)
            return BP_OK;
    }
    return BP_OK;
}

static bp_code several(asking *q)
{
    bool yes = false;
    bp_code rc = loosen_all(q, &yes);
    if (rc != BP_OK || !yes)
        return rc;
    bpi_text text = BPI_TEXT_EMPTY;
    const char *pointer = NULL;
    for (uint32_t f = 1; f < q->p->problem.facts && rc == BP_OK; f++) {
        if (!q->by[f])
            continue;
        int32_t most = q->by[f];
        bool without;
        q->by[f] = 0;
        rc = bpi_ease_try(&without, q->p, q->by, &q->limits, q->errs);
        if (rc != BP_OK || without)
            continue;
        q->by[f] = most;
        rc = bpi_ease_least(q->by, f, q->p, &q->limits, q->errs);
    }
    for (uint32_t f = 1; f < q->p->problem.facts && rc == BP_OK; f++) {
        if (!q->by[f])
            continue;
        if (text.len)
            bpi_text_put(&text, ", and ");
        bpi_fact_put_change(&text, q->p, f, q->by[f]);
        pointer = pointer ? pointer : q->p->fact[f].where.pointer;
    }
    if (rc == BP_OK && text.len)
        return add_cure(q, &text, pointer);
    bpi_text_release(&text);
    return rc;
}

static bp_code find_cures(asking *q)
{
    bp_code rc = BP_OK;
    for (uint32_t i = 0; i < q->out->facts && rc == BP_OK; i++)
        if (bpi_fact_ease(q->p->fact[q->out->fact[i]].kind) != BPI_EASE_NOT)
            rc = loosen_one(q, q->out->fact[i]);
    if (rc == BP_OK)
        rc = more_of_them(q);
    if (rc == BP_OK)
        rc = do_without(q);
    if (rc == BP_OK && q->out->cures == 0)
        rc = several(q);
    return rc;
}

/* ---- all of it --------------------------------------------------------------------------- */

static bp_code find_conflict(asking *q)
{
    bp_eng_conflict *c = NULL;
    bp_code rc = bp_eng_explain(&c, &q->p->problem, &q->limits, NULL);
    if (rc == BP_ENOMEM)
        return bpi_error_no_memory(q->errs);
    if (rc == BP_EVALUE)
        return bpi_error_add(q->errs, BP_EINTERNAL, BPI_NOWHERE, "a conflict that is none", "");
    if (rc != BP_OK)
        return BP_OK; /* not found within the work: the facts stay empty */
    uint32_t *fact = BPI_TAKE(q->a, c->facts, uint32_t);
    if (fact && c->facts)
        memcpy(fact, c->fact, c->facts * sizeof *fact);
    q->out->fact = fact;
    q->out->facts = c->facts;
    q->out->minimal = c->minimal;
    q->out->work += c->work;
    bp_eng_conflict_free(c);
    return fact ? BP_OK : bpi_error_no_memory(q->errs);
}

#define LATE_FIRST 8                      /* min late that are tried first */
#define LATE_WORK  (BPI_SOLVE_BETTER / 4) /* for each: a plan so late is easily found, or not */

static bp_code make_late(bpi_prep **late, asking *q, bpi_arena *a, int32_t at_most)
{
    bpi_prep_change change = {.late = true, .at_most = at_most};
    return bpi_prep_make(late, a, q->p->show, q->p->live, &change, q->errs);
}

static bp_code can_be(bool *yes, asking *q, int32_t at_most)
{
    bpi_prep *late = NULL;
    bpi_arena *a = bpi_arena_new();
    if (!a)
        return bpi_error_no_memory(q->errs);
    bp_eng_limits limits = q->limits;
    if (!limits.work || limits.work > LATE_WORK)
        limits.work = LATE_WORK;
    *yes = false;
    bp_code rc = make_late(&late, q, a, at_most);
    if (rc == BP_OK)
        rc = bpi_ease_feasible(yes, &late->problem, &limits, q->errs);
    bpi_arena_free(a);
    return rc;
}

/* A schedule in which nothing is very late, so that the search for the least late one does not
 * begin at the end of the axis, hours away: the least bound that is found by doubling and halving. */
static bp_code nothing_very_late(bpi_prep **late, bpi_schedule **s, asking *q)
{
    int32_t no = 0, most = LATE_FIRST;
    bool yes = false;
    bp_code rc = can_be(&yes, q, most);
    while (rc == BP_OK && !yes && most < BPI_PREP_MARGIN / 60) {
        no = most;
        most *= 2;
        rc = can_be(&yes, q, most);
    }
    if (rc != BP_OK || !yes)
        return rc;
    while (rc == BP_OK && most - no > 1 + most / 16) {
        int32_t middle = no + (most - no) / 2;
        rc = can_be(&yes, q, middle);
        *(yes ? &most : &no) = middle;
    }
    if (rc == BP_OK)
        rc = make_late(late, q, q->a, most);
    if (rc == BP_OK)
        rc = bpi_solve(s, q->a, *late, &q->limits, q->errs);
    if (rc == BP_OK)
        q->out->work += (*s)->work;
    return rc;
}

static bool better(const bpi_schedule *s, const bpi_schedule *than)
{
    return s && s->start && s->value[0] < than->value[0];
}

/* What the search without a bound on lateness proved, said of a schedule `s` found with one: that it
 * is as late at least, and the crew's time then. Later goals it proved for other crew time. */
static void take_bounds(bpi_schedule *s, const bpi_schedule *proved)
{
    for (int k = 0; k < BP_ENG_LEVELS; k++) {
        int64_t bound = k < 2 ? proved->bound[k] : 0;
        s->bound[k] = bound < s->value[k] ? bound : s->value[k];
    }
    s->proved = s->bound[0] == s->value[0];
    s->status = BP_ENG_FEASIBLE;
}

static bp_code find_late(asking *q, const bp_eng_limits *limits)
{
    bpi_prep *late = NULL, *near = NULL;
    bpi_schedule *s = NULL, *bounded = NULL, *again = NULL;
    bp_code rc = make_late(&late, q, q->a, 0);
    if (rc == BP_OK)
        rc = bpi_solve(&s, q->a, late, limits, q->errs);
    if (rc != BP_OK)
        return rc;
    q->out->work += s->work;
    if (!s->start)
        return BP_OK;
    if (s->value[0] > s->bound[0])
        rc = nothing_very_late(&near, &bounded, q);
    if (rc == BP_OK && better(bounded, s)) {
        bp_eng_limits from_there = *limits;
        from_there.hint = bounded->start;
        rc = bpi_solve(&again, q->a, late, &from_there, q->errs);
        q->out->work += rc == BP_OK ? again->work : 0;
        take_bounds(bounded, s);
        s = bounded;
    } else {
        near = late;
    }
    if (rc != BP_OK)
        return rc;
    if (better(again, s)) {
        s = again;
        near = late;
    }
    q->out->late = near;
    q->out->late_schedule = s;
    return BP_OK;
}

bp_code bpi_why_make(bpi_why_not **out, bpi_arena *a, const bpi_prep *p,
                     const bp_eng_limits *limits, bool cures, bp_errors *errs)
{
    *out = NULL;
    asking q = {.p = p, .a = a, .limits = *limits, .errs = errs};
    q.limits.seconds = 0; /* time that is given goes to the late schedule, not to each question */
    q.limits.tell = NULL;
    q.limits.hint = NULL;
    q.out = BPI_TAKE(a, 1, bpi_why_not);
    q.by = BPI_TAKE(a, p->problem.facts, int32_t);
    if (!q.out || !q.by)
        return bpi_error_no_memory(errs);
    bp_code rc = find_conflict(&q);
    if (rc == BP_OK && cures)
        rc = find_cures(&q);
    if (rc == BP_OK)
        rc = find_late(&q, limits);
    if (rc != BP_OK)
        return rc;
    bpi_cure *kept = BPI_TAKE(a, q.out->cures, bpi_cure);
    if (!kept)
        return bpi_error_no_memory(errs);
    memcpy(kept, q.cure, q.out->cures * sizeof *kept);
    q.out->cure = kept;
    *out = q.out;
    return BP_OK;
}

#include "prep/why.h"

#include <string.h>

#include "base/each.h"
#include "prep/cure.h"
#include "prep/ease.h"

#define CONFLICT_WORK UINT64_C(60000000)  /* counted: to find a conflict and make it small       */
#define LATE_MOST     UINT64_C(100000000) /* until the first late schedule: hardly anything binds */
#define LATE_FIRST    8                   /* min late that are tried first                       */
#define LATE_WORK     (BPI_SOLVE_BETTER / 6) /* for each: a plan so late is easily found, or not */

typedef struct asking {
    const bpi_prep *p;
    bpi_arena *a;
    bp_eng_limits limits;
    bpi_why_not *out;
    bp_errors *errs;
} asking;

/* ---- the conflict ------------------------------------------------------------------------ */

static bp_code find_conflict(asking *q)
{
    bp_eng_limits limits = q->limits;
    if (!limits.work || limits.work > CONFLICT_WORK)
        limits.work = CONFLICT_WORK;
    bp_eng_conflict *c = NULL;
    bp_code rc = bp_eng_explain(&c, &q->p->problem, &limits, NULL);
    if (rc == BP_ENOMEM)
        return bpi_error_no_memory(q->errs);
    if (rc == BP_EVALUE && limits.none)
        return bpi_error_add(q->errs, BP_EINTERNAL, BPI_NOWHERE, "a conflict that is none", "");
    q->out->unsure = rc != BP_OK && !limits.none;
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

/* ---- the least late schedule ------------------------------------------------------------- */

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
    bpi_purse purse = {.left = LATE_WORK, .each = LATE_WORK};
    *yes = false;
    bp_code rc = make_late(&late, q, a, at_most);
    if (rc == BP_OK)
        rc = bpi_ease_feasible(yes, &late->problem, &purse, q->errs);
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
    bp_eng_limits bounded_work = *limits;
    if (!limits->work) {
        bounded_work.work = LATE_MOST;
        bounded_work.better = BPI_SOLVE_BETTER;
    }
    bp_code rc = make_late(&late, q, q->a, 0);
    if (rc == BP_OK)
        rc = bpi_solve(&s, q->a, late, &bounded_work, q->errs);
    if (rc != BP_OK)
        return rc;
    q->out->work += s->work;
    q->out->late_unsure = s->status == BP_ENG_UNKNOWN;
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

/* ---- both ---------------------------------------------------------------------------------- */

/* Neither knows of the other: each has its arena, its errors and its part of the answer. */
typedef struct both {
    asking why, late;
    const bp_eng_limits *limits;
    bool cures;
    bp_code why_rc, late_rc;
} both;

static bp_code find_why(asking *q, bool cures)
{
    bp_code rc = find_conflict(q);
    if (rc == BP_OK && cures)
        rc = bpi_cure_find(&q->out->cures, q->a, q->p, q->out->fact, q->out->facts, q->errs);
    q->out->work += q->out->cures.work;
    if (rc == BP_OK && q->out->unsure) {
        q->out->fact = q->out->cures.loosened;
        q->out->facts = q->out->cures.loosens;
    }
    return rc;
}

static void one_of_both(void *ctx, uint32_t i)
{
    both *b = ctx;
    if (i == 0)
        b->why_rc = find_why(&b->why, b->cures);
    else
        b->late_rc = find_late(&b->late, b->limits);
}

/* What was found, why first: an error there is the one that is told. */
static bp_code put_together(both *b, bp_errors *errs)
{
    bpi_why_not *out = b->why.out;
    const bpi_why_not *late = b->late.out;
    if (b->why_rc != BP_OK)
        return b->why_rc;
    if (b->late_rc != BP_OK)
        bpi_error_take(errs, b->late.errs);
    out->late = late->late;
    out->late_unsure = late->late_unsure;
    out->late_schedule = late->late_schedule;
    out->work += late->work;
    return b->late_rc;
}

bp_code bpi_why_make(bpi_why_not **out, bpi_arena *a, const bpi_prep *p,
                     const bp_eng_limits *limits, bool cures, uint32_t threads, bp_errors *errs)
{
    *out = NULL;
    both b = {
        .why = {.p = p, .a = a, .limits = *limits, .errs = errs}, .limits = limits, .cures = cures};
    b.why.limits.seconds =
        0; /* time that is given goes to the late schedule, not to each question */
    b.why.limits.tell = NULL;
    b.why.limits.hint = NULL;
    b.late = b.why;
    b.late.a = bpi_arena_new();
    b.why.out = BPI_TAKE(a, 1, bpi_why_not);
    if (b.late.a) {
        b.late.out = BPI_TAKE(b.late.a, 1, bpi_why_not);
        b.late.errs = BPI_TAKE(b.late.a, 1, bp_errors);
    }
    bp_code rc = BP_ENOMEM;
    if (b.why.out && b.late.a && b.late.out && b.late.errs) {
        bpi_each(limits->tell ? 1 : threads, 2, one_of_both, &b);
        rc = put_together(&b, errs);
    } else {
        bpi_error_no_memory(errs);
    }
    bpi_arena_join(a, b.late.a);
    if (rc == BP_OK)
        *out = b.why.out;
    return rc;
}

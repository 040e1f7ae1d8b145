/* src/plan/make.c - a show in, a whole plan out.
 *
 * Owns     the order of the work: live side, prep problem, schedule or explanation, filling in,
 *          the independent check: a plan that it objects to is not handed out.
 * May use  everything below: live/, prep/, safety/, goods/, model/, base/.
 */
#include "plan/buffer.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "prep/ease.h"
#include "prep/fact.h"
#include "base/limits.h"
#include "plan/whynot.h"
#include "prep/why.h"

typedef struct telling {
    const bp_plan_options *options;
    uint32_t first; /* number of the plan's goal that the engine's level 0 is */
} telling;

static bool tell(void *ctx, const bp_eng_progress *p)
{
    const telling *t = ctx;
    uint32_t goal = p->found ? t->first + p->level : UINT32_MAX;
    return t->options->tell(t->options->ctx, goal, p->value, p->bound, p->work);
}

static bool has_schedule(const bpi_schedule *s)
{
    return s && s->start != NULL;
}

/* ---- goals ------------------------------------------------------------------------------- */

static void fill_goals(bpi_fill *f, bool late, bool moved)
{
    static const struct {
        const char *name, *unit;
    } words[] = {{"late", "min"},
                 {"moved", "changes"},
                 {"crew time", "min"},
                 {"waiting", "weighted min"},
                 {"hand-overs", "times"}};
    uint32_t n = sizeof words / sizeof *words;
    bp_goal *goal = BPI_FILL(f, n, bp_goal);
    if (!goal || !f->schedule)
        return;
    f->plan->proved = true;
    uint32_t level = 0, kept = 0;
    for (uint32_t i = 0; i < n; i++) {
        if (i == 1 && !moved)
            continue;
        bp_goal *g = &goal[kept++];
        *g = (bp_goal){words[i].name, words[i].unit, 0, 0, true};
        if (i > 0 || late) {
            g->value = f->schedule->value[level];
            g->bound = f->schedule->bound[level];
            g->proved = level < f->schedule->proved;
            level++;
        }
        f->plan->proved &= g->proved;
    }
    f->plan->goal = goal;
    f->plan->goals = kept;
}

/* ---- no plan ----------------------------------------------------------------------------- */

static bp_code say_no(const bp_plan *plan, bp_errors *errs)
{
    bpi_where where = BPI_NOWHERE;
    assert(plan);
    if (plan->facts)
        where = (bpi_where){plan->fact[0].file, plan->fact[0].pointer, plan->fact[0].line,
                            plan->fact[0].col};
    if (plan->unsure)
        return bpi_error_f(errs, BP_EUNSURE, where,
                           plan->fixes ? plan->fix[0].text : "allow more search effort",
                           "no plan was found, and none was excluded, within the search effort%s%s",
                           plan->facts ? ": " : "", plan->facts ? plan->fact[0].text : "");
    return bpi_error_f(errs, BP_ENOFIT, where, plan->fixes ? plan->fix[0].text : "",
                       "the show cannot be planned as written: %s",
                       plan->facts ? plan->fact[0].text : "no schedule exists");
}

/* One error for each stop that nobody accepts, at its dish in the show file. */
bp_code bpi_fill_stopped(const bp_plan *plan, const bpi_show *show, bp_errors *errs)
{
    for (uint32_t i = 0; i < plan->findings; i++) {
        const bp_finding *x = &plan->finding[i];
        bpi_where where = {.file = show->file};
        if (x->weight != BP_STOP || x->accepted[0])
            continue;
        const char *cure = strchr(x->text, ';');
        char right[200];
        snprintf(right, sizeof right, "%s, or accept the stop by name in \"safety\"",
                 cure ? cure + strspn(cure, "; ") : "cure it");
        bpi_error_f(errs, BP_EUNSAFE, where, right, "food safety stop: %s, %s: %.*s",
                    x->container == BP_NO_INDEX ? "plan" : plan->container[x->container].code,
                    x->rule, cure ? (int)(cure - x->text) : (int)strlen(x->text), x->text);
    }
    return BP_EUNSAFE;
}

/* ---- the work ---------------------------------------------------------------------------- */

/* Everything that hangs on the schedule, or on its absence. */
bp_code bpi_fill_all(bpi_fill *f, bool late, bool moved, bp_errors *errs)
{
    bpi_fill_head(f);
    bpi_fill_things(f);
    bpi_fill_air(f);
    if (f->prep && !f->failed)
        bpi_fill_ops(f);
    if (f->prep && !f->failed)
        bpi_fill_power(f);
    if (!f->failed)
        bpi_fill_people(f);
    bp_code rc = bpi_fill_safety(f, errs);
    if (rc == BP_OK && f->schedule && !f->failed)
        rc = bpi_fill_versions(f, errs);
    if (rc == BP_OK && f->schedule && !f->failed)
        bpi_fill_moved(f);
    if (rc == BP_OK && !f->failed)
        bpi_fill_stands(f);
    if (rc == BP_OK)
        rc = bpi_fill_goods(f, errs);
    if (rc == BP_OK && !f->failed)
        bpi_fill_packs(f);
    fill_goals(f, late, moved);
    f->plan->index = f->index;
    f->plan->indexes = f->indexes;
    return rc;
}

static bp_code explain(bpi_fill *f, bpi_arena *a, const bpi_prep *p, const bp_eng_limits *limits,
                       const bp_plan_options *options, bp_errors *errs)
{
    bpi_why_not *why = NULL;
    bp_code rc = bpi_why_make(&why, a, p, limits, !options->no_fixes, options->threads, errs);
    if (rc != BP_OK)
        return rc;
    f->plan->verdict = BP_NONE;
    f->prep = p;
    if (why->late) {
        f->plan->verdict = BP_LATE;
        f->prep = why->late_schedule->prep;
        f->schedule = why->late_schedule;
    }
    f->plan->work += why->work;
    bpi_whynot_kitchen(f, p, why, options->no_fixes);
    return bpi_fill_all(f, true, false, errs);
}

/* `a` holds what is needed only until the plan is filled in. */
static bp_code plan_show(bpi_fill *f, bpi_arena *a, const bp_plan_options *options, bp_errors *errs)
{
    bool trial = f->buffers > 0; /* nobody asks why it does not fit */
    bpi_live *live = NULL;
    bp_code rc = bpi_live_make(&live, a, f->show, errs);
    f->live = live;
    if (rc == BP_ENOFIT && live) {
        f->plan->verdict = BP_NONE;
        rc = bpi_whynot_air(f, !options->no_fixes, errs);
        if (rc == BP_OK)
            rc = bpi_fill_all(f, false, false, errs);
        return rc != BP_OK ? rc : BP_ENOFIT;
    }
    if (rc != BP_OK)
        return rc;

    bpi_prep *prep = NULL;
    bpi_schedule *schedule = NULL;
    telling t = {options, 1};
    bp_eng_limits limits = {.work = options->work, .seconds = options->seconds};
    if (options->tell) {
        limits.tell = tell;
        limits.ctx = &t;
    }
    rc = bpi_prep_make(&prep, a, f->show, live, NULL, errs);
    if (rc == BP_OK)
        rc = bpi_solve(&schedule, a, prep, &limits, errs);
    if (rc != BP_OK)
        return rc;
    f->plan->work = schedule->work;
    if (has_schedule(schedule)) {
        f->plan->verdict = BP_PLANNED;
        f->prep = schedule->prep;
        f->schedule = schedule;
        rc = bpi_fill_all(f, false, false, errs);
        return rc == BP_OK ? bpi_fill_chance(f, options, errs) : rc;
    }
    if (trial)
        return BP_ENOFIT;
    t.first = 0;
    limits.none = schedule->status == BP_ENG_INFEASIBLE;
    const bpi_prep_change change = {.implied = true};
    rc = bpi_prep_make(&prep, a, f->show, live, &change, errs);
    if (rc == BP_OK)
        rc = explain(f, a, prep, &limits, options, errs);
    return rc != BP_OK ? rc : f->plan->unsure ? BP_EUNSURE : BP_ENOFIT;
}

/* No plan, but all that is known of why. */
static bool without_plan(bp_code rc, const bp_plan *plan)
{
    return rc == BP_ENOFIT || (rc == BP_EUNSURE && plan && plan->unsure);
}

/* One plan of the show with these buffers, verified. *out is set where there is a plan, and
 * where there is none without buffers. */
static bp_code make_once(bp_plan **out, bpi_fill f, const bp_plan_options *options, bp_errors *errs)
{
    *out = NULL;
    bpi_arena *kept = bpi_arena_new(), *a = bpi_arena_new();
    bp_code rc = BP_ENOMEM;
    const bp_buffer *wrong = NULL;
    f.a = kept;
    if (kept && a) {
        f.plan = BPI_TAKE(kept, 1, bp_plan);
        f.show = f.buffers ? bpi_buffer_show(a, f.written, f.buffer, f.buffers, &wrong) : f.written;
        assert(!wrong);
    }
    if (f.plan && f.show) {
        f.plan->own = kept;
        rc = plan_show(&f, a, options, errs);
    }
    bool begun = f.plan && f.show;
    bpi_arena_free(a);
    if (f.failed || !begun) {
        bpi_error_no_memory(errs);
        rc = BP_ENOMEM;
    }
    if (rc == BP_OK || (without_plan(rc, f.plan) && f.plan->verdict == BP_LATE)) {
        bp_code proof = bp_plan_verify(f.plan, f.written, errs);
        rc = proof == BP_OK ? rc : proof;
    }
    if (rc == BP_OK || (without_plan(rc, f.plan) && !f.buffers))
        *out = f.plan;
    else
        bpi_arena_free(kept);
    return rc;
}

typedef struct buffered {
    const bpi_show *show;
    const bp_plan_options *options;
    uint32_t without; /* days on time */
    bp_errors *errs;
} buffered;

static bp_code try_buffers(bp_plan **out, void *ctx, const bp_buffer *buffer, uint32_t n,
                           uint64_t *loss)
{
    const buffered *b = ctx;
    bpi_fill f = {
        .written = b->show, .buffer = buffer, .buffers = n, .loss = loss, .without = b->without};
    bp_code rc = make_once(out, f, b->options, b->errs);
    return rc == BP_ENOFIT ? BP_OK : rc;
}

/* *plan is the plan without buffers, and `loss` its late days per step. */
static bp_code hold(bp_plan **plan, const bpi_show *show, const bp_plan_options *options,
                    uint64_t *loss, bp_errors *errs)
{
    buffered b = {show, options, (*plan)->chance->on_time, errs};
    return bpi_buffer_make(plan, show, options->chance, loss, try_buffers, &b, errs);
}

bp_code bp_plan_make(bp_plan **out, const bp_show *show, const bp_plan_options *options,
                     bp_errors *errs)
{
    static const bp_plan_options defaults;
    const bp_plan_options *o = options ? options : &defaults;
    *out = NULL;
    bpi_arena *a = bpi_arena_new();
    bpi_fill f = {.written = show};
    if (a && o->chance)
        f.loss = BPI_TAKE(a, (size_t)show->recipes * BPI_MAX_STEPS, uint64_t);
    bp_code rc =
        a && (f.loss || !o->chance) ? make_once(out, f, o, errs) : bpi_error_no_memory(errs);
    if (rc == BP_OK && o->chance && *out && (*out)->chance)
        rc = hold(out, show, o, f.loss, errs);
    bpi_arena_free(a);
    if (rc != BP_OK && !without_plan(rc, *out)) {
        bp_plan_free(*out);
        *out = NULL;
        return rc;
    }
    assert(*out); /* with no plan too: what is known of the day, and why */
    if (rc != BP_OK)
        rc = say_no(*out, errs);
    if ((*out)->stopped)
        rc = bpi_fill_stopped(*out, show, errs);
    return rc;
}

/* src/engine/solve.c - the public door to solving: levels one after the other, limits, progress.
 *
 * Owns     the answer being made.
 * May use  engine/check, search; verifies every schedule by engine/verify before it leaves.
 */
#include <string.h>

#include "backpot/engine.h"
#include "base/error.h"
#include "base/memory.h"
#include "engine/breed.h"
#include "engine/check.h"
#include "engine/cores.h"
#include "engine/lns.h"
#include "engine/search.h"

/* What the work of a level goes into, in turn. */
typedef enum turn { WHOLE, FEWER, NEAR, RAISE, TURNS } turn;

typedef struct run {
    const bp_eng_problem *p;
    bp_eng_limits limits;
    bpi_model model;
    bpi_search search;
    bpi_lns lns;
    bpi_cores cores; /* of the level at hand */
    bpi_total whole; /* of the level at hand, as asked of the whole problem */
    bpi_breed breed;
    bp_eng_solution *out;
    uint32_t level;
    uint64_t most; /* work in all */
    int64_t end_ms;
    uint64_t next_tell;
} run;

void bp_eng_solution_free(bp_eng_solution *s)
{
    if (!s)
        return;
    bpi_mem_drop(s->start);
    bpi_mem_drop(s->length);
    bpi_mem_drop(s->option);
    bpi_mem_drop(s);
}

/* A proved bound on level k, given the levels before. */
static int64_t least_possible(const run *r, uint32_t k)
{
    int64_t root = bpi_linear_root(&r->model.core, &r->model.level[k]);
    if (r->cores.level != &r->model.level[k])
        return root; /* not begun */
    int64_t raised = bpi_cores_bound(&r->cores), value = r->search.value[k];
    int64_t total = bpi_total_bound(&r->whole, &r->model.core);
    raised = total > raised ? total : raised;
    raised = raised < value ? raised : value;
    return raised > root ? raised : root;
}

static bool tell(run *r, bool found)
{
    if (!r->limits.tell)
        return true;
    bp_eng_progress p = {.level = r->level, .found = found, .work = r->model.core.work};
    if (r->level < r->p->levels) {
        p.value = found ? r->search.value[r->level] : 0;
        p.bound = least_possible(r, r->level);
    }
    return r->limits.tell(r->limits.ctx, &p);
}

static bool ask_to_stop(bpi_search *s)
{
    run *r = s->ctx;
    if (r->model.core.work < r->next_tell)
        return false;
    r->next_tell = r->model.core.work + 1000000;
    return !tell(r, s->have);
}

/* Each level may use part of what is left, so that the later ones get their turn: little where they are
 * at their bound now, none after the last. */
static void share_limits(run *r, uint32_t level)
{
    uint64_t most = r->most, used = r->model.core.work;
    uint64_t left = used < most ? most - used : 0, part = 0;
    for (uint32_t k = level + 1; k < r->p->levels; k++)
        part = part == 4 || r->search.value[k] > least_possible(r, k) ? 4 : 16;
    r->search.work_limit = part ? used + left - left / part : most;
    if (r->end_ms) {
        int64_t now = bpi_search_now_ms(), left_ms = r->end_ms > now ? r->end_ms - now : 1;
        r->search.until_ms = part ? now + left_ms - left_ms / (int64_t)part : r->end_ms;
    }
}

/* Only the assumption that something better exists is in the way: there is nothing better. */
static bool none_better(const bpi_search *s, bpi_lit guard)
{
    for (uint32_t i = 0; i < s->cores; i++)
        if (s->core_of[i].view != guard.view || s->core_of[i].least != guard.least)
            return false;
    return true;
}

#define FIRST_SLICE   300000  /* work: the whole problem first, small ones are closed by it */
#define ROUND_SLICE   150000  /* work of one neighbourhood                                 */
#define SQUEEZE_SLICE 4000000 /* the same where the end of all is at stake: see engine/lns */
#define BUILD_FIRST   200000  /* work on schedules built one by one, before anything else    */
#define BUILD_SHARE   3       /* of the neighbourhoods' work, so much again                  */

/* Build schedules, for so much work, while level 0 of a plain problem is the one to be made less. */
static void build_schedules(run *r, uint32_t k, uint64_t until)
{
    bpi_breed *b = &r->breed;
    bpi_core *c = &r->model.core;
    if (!b->sgs.plain || k)
        return;
    if (r->search.have && (!b->have || r->search.value[0] < b->best_value))
        bpi_breed_take(b, r->search.best.start);
    while (!b->sgs.tied && c->work < until &&
           (!b->have || b->best_value > bpi_linear_root(c, &r->model.level[0])))
        bpi_breed_step(b);
    if (!b->have || (r->search.have && b->best_value >= r->search.value[0]))
        return;
    bpi_search_adopt(&r->search, b->best);
    if (!tell(r, true))
        r->search.stopped = true;
}

/* From now on only what is better than the best counts. */
static void tighten(run *r, uint32_t k)
{
    bpi_linear *n = &r->model.level[k];
    n->most_guarded = r->cores.now.most_guarded = r->search.value[k] - 1;
    bpi_core_queue(&r->model.core, n->prop);
    bpi_core_queue(&r->model.core, r->cores.now.prop);
}

/* What the run assumes, from the second on; the first is that anything is better. 0: nothing is left
 * to do in this turn. */
static uint32_t assume(run *r, turn now)
{
    bpi_search *s = &r->search;
    if (now == NEAR)
        return bpi_lns_pick(&r->lns, s);
    if (now == FEWER)
        return bpi_lns_fewer(&r->lns, s);
    /* For one unit the guard will do, and what is learned then speaks of terms, not of their total. */
    r->lns.assume[1] = r->whole.gain > 1 ? bpi_total_ask(&r->whole, s) : BPI_LIT_TRUE;
    return 2;
}

/* How far a run goes on: the whole problem only for a part of its turn where much is asked for. */
static uint64_t slice_of(const run *r, turn now, uint64_t end)
{
    uint64_t work = r->model.core.work, part = end > work ? (end - work) / 4 : 0;
    part = part < ROUND_SLICE ? ROUND_SLICE : part;
    if (now == NEAR)
        return work + (r->lns.squeeze ? SQUEEZE_SLICE : ROUND_SLICE);
    return now == WHOLE && r->whole.gain > 1 ? work + part : end;
}

/* One run on the whole problem, on a neighbourhood, or on the bound: at the root, or `again` from where
 * it found the last schedule. */
static bpi_outcome one_run(run *r, uint32_t k, turn now, bool again, uint64_t end)
{
    bpi_search *s = &r->search;
    bpi_core *c = &r->model.core;
    bpi_linear *n = &r->model.level[k];
    tighten(r, k);
    if (now == RAISE)
        return bpi_cores_run(&r->cores, s, end);
    if (!again) {
        r->lns.assume[0] = n->guard;
        s->assume = r->lns.assume;
        s->assumes = assume(r, now);
    }
    if (s->assumes == 0)
        return BPI_LIMIT;
    int64_t had = s->value[k];
    s->slice = slice_of(r, now, end);
    bpi_outcome o = bpi_search_run(s);
    if (o == BPI_FOUND && now == WHOLE)
        bpi_total_won(&r->whole, had - s->value[k]);
    else if (o == BPI_FOUND)
        bpi_lns_won(&r->lns, had - s->value[k]);
    else if (now != WHOLE)
        bpi_lns_learn(&r->lns, s, o == BPI_NONE);
    else
        bpi_total_lost(&r->whole);
    return o == BPI_NONE && !c->broken && !none_better(s, n->guard) ? BPI_LIMIT : o;
}

/* Search the whole problem, then what does without a resource whose time costs, neighbourhoods of the
 * best schedule, and what bounds the level: each for as much work as the others, more each time. False:
 * no memory. */
static bool look_for_better(run *r, uint32_t k, bool *proved)
{
    bpi_search *s = &r->search;
    bpi_core *c = &r->model.core;
    uint64_t phase = FIRST_SLICE, phase_end = c->work + phase;
    turn now = WHOLE;
    bool again = false;
    *proved = false;
    while (!*proved && !bpi_search_spent(s)) {
        if (r->search.value[k] <= least_possible(r, k)) {
            *proved = true;
            break;
        }
        if (c->work >= phase_end || (now == RAISE && r->cores.full) || s->assumes == 0) {
            now = (turn)((now + 1) % TURNS);
            phase += now == WHOLE ? phase / 2 : 0;
            again = false;
            r->lns.total.gain = r->whole.gain = 0;
            s->assumes = 1;
            phase_end = c->work + phase;
            if (now == NEAR)
                build_schedules(r, k, c->work + phase / BUILD_SHARE);
            continue;
        }
        /* Where there is a total to ask for less of, it begins anew. */
        again = again && now != RAISE && !r->whole.view;
        bpi_outcome o = again || bpi_search_root(s) ? one_run(r, k, now, again, phase_end)
                                                    : bpi_search_failed(s);
        if (o == BPI_NO_MEMORY)
            return false;
        again = o == BPI_FOUND;
        *proved = o == BPI_NONE;
        if (again && !tell(r, true))
            s->stopped = true;
        if (again && now == NEAR)
            build_schedules(r, k, 0); /* shift it */
    }
    return true;
}

/* Make level k least. Sets *proved; false: no memory. */
static bool improve(run *r, uint32_t k, bool *proved)
{
    bpi_search *s = &r->search;
    bpi_core *c = &r->model.core;
    bpi_linear *n = &r->model.level[k];
    share_limits(r, k);
    *proved = false;
    if (!bpi_search_root(s) || !bpi_cores_init(&r->cores, s, n))
        return false; /* no memory: the best schedule holds at the root */
    s->assumes = 1;
    s->goal[0] = n->prop;
    s->goal[1] = r->cores.now.prop;
    if (!bpi_lns_level(&r->lns, s, k))
        return false;
    r->whole = r->lns.total;
    if (!look_for_better(r, k, proved))
        return false;
    int64_t bound = least_possible(r, k);
    bpi_lns_leave(&r->lns);
    /* What was learned for "better than best" falls away with the guard; the value stays. */
    s->slice = UINT64_MAX;
    s->goal[0] = s->goal[1] = UINT32_MAX;
    n->most = r->search.value[k];
    n->most_guarded = r->cores.now.most_guarded = INT64_MAX;
    bpi_core_back(c, 0);
    bpi_atoms_undo(&s->learn.atoms, 0);
    if (!bpi_core_set(c, bpi_lit_not(n->guard), 0) && c->no_memory)
        return false;
    r->out->value[k] = n->most;
    bpi_core_queue(c, n->prop);
    if (!bpi_core_propagate(c) && c->no_memory)
        return false;
    r->out->bound[k] = *proved ? n->most : bound;
    return bpi_clause_reduce(c);
}

static bool copy_out(run *r)
{
    bp_eng_solution *o = r->out;
    size_t n = r->p->activities;
    o->start = bpi_mem_get(n * sizeof *o->start);
    o->length = bpi_mem_get(n * sizeof *o->length);
    o->option = bpi_mem_get(n * sizeof *o->option);
    if (!o->start || !o->length || !o->option)
        return false;
    memcpy(o->start, r->search.best.start, n * sizeof *o->start);
    memcpy(o->length, r->search.best.length, n * sizeof *o->length);
    memcpy(o->option, r->search.best.option, n * sizeof *o->option);
    return true;
}

static void take_hint(run *r)
{
    if (!r->limits.hint)
        return;
    for (uint32_t a = 0; a < r->p->activities; a++)
        bpi_search_hint(&r->search, a, r->limits.hint[a]);
    r->search.have_phase = true;
}

static bool run_levels(run *r)
{
    uint32_t levels = r->p->levels;
    bool all = true;
    for (uint32_t k = 0; k < levels; k++) {
        bool proved;
        r->level = k;
        if (!improve(r, k, &proved))
            return false;
        all = all && proved;
        if (all)
            r->out->proved = k + 1;
    }
    r->out->status = all ? BP_ENG_OPTIMAL : BP_ENG_FEASIBLE;
    /* A level that was not proved may have become better while a later one was searched. */
    for (uint32_t k = 0; k < levels; k++)
        r->out->value[k] = r->search.value[k];
    return true;
}

static bpi_outcome first_schedule(run *r)
{
    if (!bpi_breed_init(&r->breed, &r->model))
        return BPI_NO_MEMORY;
    if (!r->limits.hint && !r->breed.sgs.tied)
        build_schedules(r, 0, r->model.core.work + (r->limits.first ? 1 : BUILD_FIRST));
    return r->search.have ? BPI_FOUND : bpi_search_run(&r->search);
}

static bool solve(run *r)
{
    bpi_core *c = &r->model.core;
    if (!bpi_model_init(&r->model, r->p, r->limits.off, false, true) ||
        !bpi_search_init(&r->search, &r->model) || !bpi_lns_init(&r->lns, &r->search))
        return false;
    bpi_search *s = &r->search;
    s->stop = ask_to_stop;
    s->ctx = r;
    take_hint(r);
    share_limits(r, UINT32_MAX - 1);
    bpi_outcome o = bpi_core_propagate(c) ? first_schedule(r) : BPI_NONE;
    if (c->no_memory || o == BPI_NO_MEMORY)
        return false;
    r->out->status = o == BPI_NONE ? BP_ENG_INFEASIBLE : BP_ENG_UNKNOWN;
    if (o != BPI_FOUND)
        return true;
    r->out->status = BP_ENG_FEASIBLE;
    if (r->limits.better && r->most > c->work && r->limits.better < r->most - c->work)
        r->most = c->work + r->limits.better;
    for (uint32_t k = 0; k < r->p->levels; k++) {
        r->out->value[k] = r->search.value[k];
        r->out->bound[k] = bpi_linear_root(c, &r->model.level[k]);
    }
    if (!tell(r, true))
        s->stopped = true;
    return (r->limits.first || run_levels(r)) && copy_out(r);
}

bp_code bp_eng_solve(bp_eng_solution **out, const bp_eng_problem *p, const bp_eng_limits *limits,
                     bp_errors *errs)
{
    *out = NULL;
    bp_code code = bpi_problem_check(p, errs);
    if (code != BP_OK)
        return code;
    run r = {.p = p};
    if (limits)
        r.limits = *limits;
    if (r.limits.seconds)
        r.end_ms = bpi_search_now_ms() + (int64_t)r.limits.seconds * 1000;
    r.most = r.limits.work ? r.limits.work : BP_ENG_WORK;
    r.out = bpi_mem_get(sizeof *r.out);
    bool fine = r.out && solve(&r);
    if (fine) {
        r.out->activities = p->activities;
        r.out->work = r.model.core.work;
    }
    bpi_search_release(&r.search);
    bpi_model_release(&r.model);
    char why[200];
    if (!fine)
        code = bpi_error_no_memory(errs);
    else if (r.out->start && !bp_eng_verify(p, r.out, r.limits.off, why, sizeof why))
        code = bpi_error_f(errs, BP_EINTERNAL, BPI_NOWHERE, "", "a schedule failed its check: %s",
                           why);
    if (code == BP_OK)
        *out = r.out;
    else
        bp_eng_solution_free(r.out);
    return code;
}

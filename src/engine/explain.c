/* src/engine/explain.c - a conflict made as small as it goes.
 *
 * Owns     the facts still in it.
 * May use  engine/check, search; solving at the root (backpot/engine.h).
 *
 * Each fact is a literal that the search assumes; the learning
 * gives the assumptions a proof hangs on, and deletion leaves out what can be left out. Assumed
 * facts propagate less than given ones: where a caller has a proof and the search under assumptions
 * finds none, all facts are the conflict, and solving without some of them makes it smaller. */
#include "backpot/engine.h"
#include "base/arena.h"
#include "base/error.h"
#include "base/memory.h"
#include "engine/check.h"
#include "engine/search.h"

#define ROOT_PART 8 /* one solve may take this part of the work that is left */

typedef struct job {
    const bp_eng_problem *p;
    bpi_model model;
    bpi_search search;
    bpi_lit *assume;
    bool *in; /* per fact: in the conflict */
    uint64_t most, spent;
    bool minimal;
} job;

void bp_eng_conflict_free(bp_eng_conflict *c)
{
    if (!c)
        return;
    bpi_mem_drop(c->fact);
    bpi_mem_drop(c);
}

/* Can the facts marked hold together, all others being off? BPI_NONE: no, `in` is then the core. */
static bpi_outcome try_facts(job *j)
{
    bpi_search *s = &j->search;
    uint32_t n = 0;
    for (uint32_t f = 1; f < j->p->facts; f++)
        if (j->in[f])
            j->assume[n++] = j->model.fact[f];
    s->assumes = n;
    /* The others are held false, so that the search does not try them. */
    for (uint32_t f = 1; f < j->p->facts; f++)
        if (!j->in[f] && j->model.fact[f].view > 1)
            j->assume[s->assumes++] = bpi_lit_not(j->model.fact[f]);
    s->assume = j->assume;
    s->have = false; /* nothing to improve: build anew */
    s->since_restart = s->restarts = 0;
    bpi_outcome o = BPI_NONE;
    s->cores = 0;
    if (bpi_search_root(s))
        o = bpi_search_run(s);
    if (s->m->core.no_memory)
        return BPI_NO_MEMORY;
    if (o != BPI_NONE)
        return o;
    for (uint32_t f = 1; f < j->p->facts; f++) {
        bool kept = false;
        for (uint32_t k = 0; k < s->cores && j->in[f] && !kept; k++)
            kept = s->core_of[k].view == j->model.fact[f].view; /* not its opposite */
        j->in[f] = kept;
    }
    return o;
}

/* Leave out one after the other. A fact stays where a schedule was found without it, or (then the
 * result is not proved minimal) where the work ran out. */
static bool shrink(job *j)
{
    bool *before = BPI_TAKE(j->model.arena, j->p->facts, bool);
    if (!before)
        return false;
    j->minimal = true;
    for (uint32_t f = j->p->facts; f-- > 1;) {
        if (!j->in[f])
            continue;
        for (uint32_t g = 0; g < j->p->facts; g++)
            before[g] = j->in[g];
        j->in[f] = false;
        uint64_t used = j->model.core.work, left = j->most > used ? j->most - used : 0;
        j->search.work_limit = used + left / 4;
        bpi_outcome o = try_facts(j);
        if (o == BPI_NO_MEMORY)
            return false;
        if (o == BPI_NONE)
            continue;
        j->minimal = j->minimal && o == BPI_FOUND;
        for (uint32_t g = 0; g < j->p->facts; g++)
            j->in[g] = before[g];
    }
    return true;
}

/* Is the problem with the facts marked, the others off, proved infeasible where they are given? */
static bp_code solve_facts(job *j, bp_eng_status *status, bool *off, uint64_t work)
{
    for (uint32_t f = 0; f < j->p->facts; f++)
        off[f] = f > 0 && !j->in[f];
    const bp_eng_limits limits = {.first = true, .work = work, .off = off};
    bp_eng_solution *s = NULL;
    bp_code rc = bp_eng_solve(&s, j->p, &limits, NULL);
    if (rc != BP_OK)
        return rc;
    *status = s->status;
    j->spent += s->work;
    bp_eng_solution_free(s);
    return BP_OK;
}

static uint64_t left_of(const job *j)
{
    return j->most > j->spent ? j->most - j->spent : 0;
}

/* Leave out the facts from number `from` on, `size` of those that are in. *next: where to go on.
 * Put back where that is not proved to leave a conflict. */
static bp_code leave_out(job *j, bool *off, bool *before, uint32_t from, uint32_t size,
                         uint32_t *next)
{
    uint32_t out = 0, f = from;
    for (uint32_t g = 0; g < j->p->facts; g++)
        before[g] = j->in[g];
    for (; f < j->p->facts && out < size; f++)
        if (j->in[f]) {
            j->in[f] = false;
            out++;
        }
    *next = f;
    uint64_t left = left_of(j);
    if (!out)
        return BP_OK;
    bp_eng_status status = BP_ENG_UNKNOWN;
    bp_code rc = left ? solve_facts(j, &status, off, left / ROOT_PART + 1) : BP_OK;
    if (rc == BP_OK && status == BP_ENG_INFEASIBLE)
        return BP_OK;
    if (size == 1 && status == BP_ENG_UNKNOWN)
        j->minimal = false;
    for (uint32_t g = 0; g < j->p->facts; g++)
        j->in[g] = before[g];
    return rc;
}

/* All facts, then fewer: many at a time first, one at a time last. */
static bpi_outcome all_facts(job *j, const bool * not )
{
    bool *off = BPI_TAKE(j->model.arena, j->p->facts, bool);
    bool *before = BPI_TAKE(j->model.arena, j->p->facts, bool);
    if (!off || !before)
        return BPI_NO_MEMORY;
    for (uint32_t f = 1; f < j->p->facts; f++)
        j->in[f] = !(not &&not [f]);
    j->minimal = true;
    for (uint32_t size = j->p->facts / 2; size; size /= 2)
        for (uint32_t f = 1; f < j->p->facts;)
            if (leave_out(j, off, before, f, size, &f) != BP_OK)
                return BPI_NO_MEMORY;
    return BPI_NONE;
}

static bool give(const job *j, bp_eng_conflict *out)
{
    for (uint32_t f = 1; f < j->p->facts; f++)
        out->facts += j->in[f];
    out->fact = bpi_mem_get((size_t)out->facts * sizeof *out->fact);
    if (!out->fact)
        return false;
    out->facts = 0;
    for (uint32_t f = 1; f < j->p->facts; f++)
        if (j->in[f])
            out->fact[out->facts++] = f;
    out->minimal = j->minimal;
    out->work = j->spent;
    return true;
}

static bpi_outcome explain(job *j, const bp_eng_limits *limits)
{
    if (!bpi_model_init(&j->model, j->p, limits ? limits->off : NULL, true, false) ||
        !bpi_search_init(&j->search, &j->model))
        return BPI_NO_MEMORY;
    j->assume = BPI_TAKE(j->model.arena, j->p->facts, bpi_lit);
    j->in = BPI_TAKE(j->model.arena, j->p->facts, bool);
    if (!j->assume || !j->in)
        return BPI_NO_MEMORY;
    for (uint32_t f = 1; f < j->p->facts; f++)
        j->in[f] = !(limits && limits->off && limits->off[f]);
    j->most = limits && limits->work ? limits->work : BP_ENG_WORK;
    bool none = limits && limits->none;
    j->search.work_limit = none ? j->most / 2 : j->most;
    bpi_outcome o = try_facts(j);
    if (o == BPI_NONE && !shrink(j))
        return BPI_NO_MEMORY;
    j->spent = j->model.core.work;
    return o == BPI_LIMIT && none ? all_facts(j, limits->off) : o;
}

bp_code bp_eng_explain(bp_eng_conflict **out, const bp_eng_problem *p, const bp_eng_limits *limits,
                       bp_errors *errs)
{
    *out = NULL;
    bp_code code = bpi_problem_check(p, errs);
    if (code != BP_OK)
        return code;
    job j = {.p = p};
    bpi_outcome o = explain(&j, limits);
    bp_eng_conflict *c = NULL;
    if (o == BPI_FOUND)
        code = bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE, "the problem has a schedule",
                             "explain only what was proved infeasible");
    else if (o == BPI_LIMIT)
        code = bpi_error_add(errs, BP_EUNSURE, BPI_NOWHERE,
                             "the work ran out before a conflict was proved", "allow more work");
    else if (o == BPI_NO_MEMORY || !(c = bpi_mem_get(sizeof *c)) || !give(&j, c))
        code = bpi_error_no_memory(errs);
    bpi_search_release(&j.search);
    bpi_model_release(&j.model);
    if (code == BP_OK)
        *out = c;
    else
        bp_eng_conflict_free(c);
    return code;
}

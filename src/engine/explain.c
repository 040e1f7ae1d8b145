/* src/engine/explain.c - a conflict made as small as it goes.
 *
 * Owns     the facts still in it.
 * May use  engine/check, search.
 *
 * Each fact is a literal that the search assumes; the learning
 * gives the assumptions a proof hangs on, and deletion leaves out what can be left out. */
#include "backpot/engine.h"
#include "base/arena.h"
#include "base/error.h"
#include "base/memory.h"
#include "engine/check.h"
#include "engine/search.h"

typedef struct job {
    const bp_eng_problem *p;
    bpi_model model;
    bpi_search search;
    bpi_lit *assume;
    bool *in; /* per fact: in the conflict */
    uint64_t most;
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
    out->work = j->model.core.work;
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
    j->search.work_limit = j->most;
    bpi_outcome o = try_facts(j);
    if (o == BPI_NONE && !shrink(j))
        return BPI_NO_MEMORY;
    return o;
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

#include "prep/several.h"

#include <string.h>

typedef struct easing {
    const bpi_prep *p;
    int32_t *by;
    bpi_purse *purse;
    bp_errors *errs;
} easing;

bool bpi_several_may(const bpi_prep *p, uint32_t fact)
{
    return bpi_fact_ease(p->fact[fact].kind) != BPI_EASE_NOT && bpi_fact_most(p, fact) > 0;
}

static void loosen_none(const easing *e)
{
    memset(e->by, 0, e->p->problem.facts * sizeof *e->by);
}

/* Loosen what is marked as far as it goes. False: there was nothing left to loosen. */
static bool loosen_marked(const easing *e, const bool *mark)
{
    bool any = false;
    for (uint32_t f = 1; f < e->p->problem.facts; f++)
        if ((!mark || mark[f]) && !e->by[f] && bpi_several_may(e->p, f)) {
            e->by[f] = bpi_fact_most(e->p, f);
            any = true;
        }
    return any;
}

/* Loosen the facts of one conflict, then those of a conflict that is still there, until none is
 * found. */
static bp_code conflict_by_conflict(bool *yes, const easing *e, const uint32_t *fact,
                                    uint32_t facts)
{
    uint32_t n = e->p->problem.facts;
    bpi_arena *a = bpi_arena_new();
    bool *mark = a ? BPI_TAKE(a, n, bool) : NULL;
    bool none = false, more = true;
    bp_code rc = BP_OK;
    *yes = false;
    if (!mark) {
        bpi_arena_free(a);
        return bpi_error_no_memory(e->errs);
    }
    for (uint32_t i = 0; i < facts; i++)
        mark[fact[i]] = true;
    if (!facts)
        rc = bpi_ease_conflict(&none, mark, e->p, e->by, e->purse, e->errs);
    while (rc == BP_OK && !none && more) {
        more = loosen_marked(e, mark);
        if (more)
            rc = bpi_ease_conflict(&none, mark, e->p, e->by, e->purse, e->errs);
    }
    bpi_arena_free(a);
    return rc == BP_OK && more ? bpi_ease_try(yes, e->p, e->by, e->purse, e->errs) : rc;
}

/* Everything that can be loosened, as far as it goes: if this gives no schedule nothing here does. */
static bp_code everything(bool *yes, const easing *e)
{
    bpi_purse all = {.left = e->purse->left, .each = e->purse->left / 2};
    loosen_none(e);
    loosen_marked(e, NULL);
    bp_code rc = bpi_ease_try(yes, e->p, e->by, &all, e->errs);
    e->purse->left = all.left;
    e->purse->cut = e->purse->cut || all.cut;
    return rc;
}

/* Is there a schedule without what is loosened from fact `from` up to `to` and is so much trouble?
 * It is then no longer loosened. */
static bp_code take_back(bool *yes, const easing *e, uint32_t from, uint32_t to, int trouble)
{
    uint32_t n = e->p->problem.facts;
    bpi_arena *a = bpi_arena_new();
    int32_t *had = a ? BPI_TAKE(a, n, int32_t) : NULL;
    bool any = false;
    bp_code rc = BP_OK;
    *yes = false;
    if (!had) {
        bpi_arena_free(a);
        return bpi_error_no_memory(e->errs);
    }
    memcpy(had, e->by, n * sizeof *had);
    for (uint32_t f = from; f < to; f++)
        if (e->by[f] && bpi_fact_trouble(e->p->fact[f].kind) == trouble) {
            e->by[f] = 0;
            any = true;
        }
    if (any)
        rc = bpi_ease_try(yes, e->p, e->by, e->purse, e->errs);
    if (rc == BP_OK && !*yes)
        memcpy(e->by, had, n * sizeof *had);
    bpi_arena_free(a);
    return rc;
}

/* Take back what is not needed, the most trouble first, all that is as much at once, then one after
 * the other; then make the rest small. */
static bp_code loosen_less(const easing *e)
{
    bp_code rc = BP_OK;
    uint32_t n = e->p->problem.facts;
    for (int trouble = BPI_FACT_TROUBLES; trouble-- > 0 && rc == BP_OK;) {
        bool yes;
        rc = take_back(&yes, e, 1, n, trouble);
        for (uint32_t f = 1; f < n && rc == BP_OK && !yes; f++) {
            bool without;
            rc = take_back(&without, e, f, f + 1, trouble);
        }
    }
    for (uint32_t f = 1; f < e->p->problem.facts && rc == BP_OK; f++)
        if (e->by[f])
            rc = bpi_ease_least(e->by, f, e->p, e->purse, e->errs);
    return rc;
}

bp_code bpi_several(bool *yes, int32_t *by, const bpi_prep *p, const uint32_t *fact, uint32_t facts,
                    bpi_purse *purse, bp_errors *errs)
{
    const easing e = {p, by, purse, errs};
    bp_code rc = BP_OK;
    *yes = false;
    if (!facts) {
        rc = bpi_ease_try(yes, p, by, purse, errs);
        if (rc != BP_OK || *yes)
            return rc;
    }
    /* Half of the purse, so that everything at once gets its turn. */
    bpi_purse half = {.left = purse->left / 2, .each = purse->each};
    const easing first = {p, by, &half, errs};
    rc = conflict_by_conflict(yes, &first, fact, facts);
    purse->left -= purse->left / 2 - half.left;
    if (rc == BP_OK && !*yes)
        rc = everything(yes, &e);
    if (rc != BP_OK || !*yes) {
        loosen_none(&e);
        return rc;
    }
    purse->cut = false;
    return loosen_less(&e);
}

/* What a fact stands for where the show file says one thing for several: the lead of a segment, for
 * all its hits. 0: an earlier fact stands for it. Else the largest amount of them. */
static int32_t amount_of(const int32_t *by, const bpi_prep *p, uint32_t fact)
{
    const bpi_fact *one = &p->fact[fact];
    int32_t most = by[fact];
    if (one->kind != BPI_FACT_SET_BY || !most)
        return most;
    for (uint32_t f = 1; f < p->problem.facts; f++) {
        const bpi_fact *other = &p->fact[f];
        if (!by[f] || other->kind != one->kind || other->a != one->a || other->b != one->b)
            continue;
        if (f < fact)
            return 0;
        most = by[f] > most ? by[f] : most;
    }
    return most;
}

uint32_t bpi_several_count(const int32_t *by, const bpi_prep *p)
{
    uint32_t n = 0;
    for (uint32_t f = 1; f < p->problem.facts; f++)
        n += amount_of(by, p, f) != 0;
    return n;
}

void bpi_several_put(bpi_text *out, const char **pointer, const int32_t *by, const bpi_prep *p)
{
    for (uint32_t f = 1; f < p->problem.facts; f++) {
        int32_t amount = amount_of(by, p, f);
        if (!amount)
            continue;
        if (out->len)
            bpi_text_put(out, ", and ");
        bpi_fact_put_change(out, p, f, amount);
        if (!*pointer)
            *pointer = p->fact[f].where.pointer;
    }
}

#include "prep/ease.h"

#include <string.h>

/* A copy of the rows that facts loosen. */
typedef struct loose {
    bp_eng_problem problem;
    bp_eng_span *span;
    bp_eng_option *option;
    bp_eng_lag *lag;
    bp_eng_resource *resource;
    bp_eng_clause *clause;
} loose;

static uint64_t for_one(const bpi_purse *purse)
{
    return purse->each < purse->left ? purse->each : purse->left;
}

static void pay(bpi_purse *purse, uint64_t work)
{
    purse->left -= work < purse->left ? work : purse->left;
}

static bp_code ask(bp_eng_solution **out, const bp_eng_problem *p, bpi_purse *purse,
                   bp_errors *errs)
{
    *out = NULL;
    if (!purse->left) {
        purse->cut = true;
        return BP_OK;
    }
    bp_eng_limits limits = {.first = true, .work = for_one(purse)};
    bp_eng_solution *s = NULL;
    bp_code rc = bp_eng_solve(&s, p, &limits, errs);
    if (rc != BP_OK)
        return rc == BP_EVALUE ? BP_EINTERNAL : rc;
    pay(purse, s->work);
    if (s->start) {
        *out = s;
        return BP_OK;
    }
    purse->cut = purse->cut || s->status == BP_ENG_UNKNOWN;
    bp_eng_solution_free(s);
    return BP_OK;
}

bp_code bpi_ease_feasible(bool *yes, const bp_eng_problem *p, bpi_purse *purse, bp_errors *errs)
{
    bp_eng_solution *s = NULL;
    bp_code rc = ask(&s, p, purse, errs);
    *yes = s != NULL;
    bp_eng_solution_free(s);
    return rc;
}

static void *copy(bpi_arena *a, const void *v, uint32_t n, size_t size)
{
    void *c = bpi_arena_take(a, n, size);
    if (c && n)
        memcpy(c, v, n * size);
    return c;
}

static bool loose_init(loose *q, bpi_arena *a, const bpi_prep *p)
{
    const bp_eng_problem *from = &p->problem;
    q->problem = *from;
    q->span = copy(a, from->span, from->spans, sizeof *q->span);
    q->option = copy(a, from->option, from->options, sizeof *q->option);
    q->lag = copy(a, from->lag, from->lags, sizeof *q->lag);
    q->resource = copy(a, from->resource, from->resources, sizeof *q->resource);
    q->clause = copy(a, from->clause, from->clauses, sizeof *q->clause);
    if (!q->span || !q->option || !q->lag || !q->resource || !q->clause)
        return false;
    q->problem.span = q->span;
    q->problem.option = q->option;
    q->problem.lag = q->lag;
    q->problem.resource = q->resource;
    q->problem.clause = q->clause;
    return true;
}

static bool concerns(uint32_t fact, uint32_t only)
{
    return only == BPI_NO_INDEX || fact == only;
}

/* Of those who stand by, the last ones need not: their clauses go. */
static void loosen_hands(loose *q, const bpi_prep *p, const int32_t *by)
{
    const bp_eng_problem *from = &p->problem;
    q->problem.clauses = 0;
    for (uint32_t i = 0; i < from->clauses; i++) {
        const bp_eng_clause *c = &from->clause[i];
        const bpi_fact *f = &p->fact[c->fact];
        if (f->kind == BPI_FACT_HANDS &&
            p->job[from->literal[c->literal0].act].number + (uint32_t)by[c->fact] >=
                p->show->segment[f->a].hands)
            continue;
        q->clause[q->problem.clauses++] = *c;
    }
}

/* Set the rows of fact `only` (BPI_NO_INDEX: of all) from what the show says and `by`. Which way a
 * span of a calendar grows: it loses from its end before a call, at its front after a wrap. */
static void loosen(loose *q, const bpi_prep *p, const int32_t *by, uint32_t only)
{
    const bp_eng_problem *from = &p->problem;
    for (uint32_t i = 0; i < from->resources; i++)
        if (concerns(from->resource[i].fact, only))
            q->resource[i].capacity = from->resource[i].capacity + by[from->resource[i].fact];
    for (uint32_t i = 0; i < from->spans; i++) {
        bp_eng_span *s = &q->span[i];
        if (!concerns(s->fact, only))
            continue;
        int32_t x = by[s->fact];
        *s = from->span[i];
        if (p->fact[s->fact].kind == BPI_FACT_CALL)
            s->to = s->to - x < 0 ? 0 : s->to - x;
        else
            s->from = s->from + x > from->horizon ? from->horizon : s->from + x;
        if (x && s->from >= s->to) { /* nothing is left of it */
            s->from = 0;
            s->to = 1;
            s->capacity = q->resource[s->res].capacity;
        }
    }
    for (uint32_t i = 0; i < from->options; i++)
        if (concerns(from->option[i].fact, only)) {
            int32_t was = from->option[i].most; /* it may lie beyond the horizon already */
            int64_t most = (int64_t)was + by[from->option[i].fact];
            int32_t end = was > from->horizon ? was : from->horizon;
            q->option[i].most = (int32_t)(most > end ? end : most);
        }
    for (uint32_t i = 0; i < from->lags; i++)
        if (concerns(from->lag[i].fact, only))
            q->lag[i].least = from->lag[i].least - by[from->lag[i].fact];
    loosen_hands(q, p, by);
}

/* Amounts that put a call or a wrap on a full five minutes: offset + step k, k < count, and then
 * the amount given. */
typedef struct scale {
    int32_t offset, step, count, last;
} scale;

static scale scale_of(const bpi_prep *p, uint32_t fact, int32_t last)
{
    const bpi_fact *f = &p->fact[fact];
    scale s = {0, 1, 0, last};
    if (f->kind == BPI_FACT_CALL || f->kind == BPI_FACT_WRAP) {
        const bpi_shift *shift = &p->show->kitchen.cook[f->a].shift[f->b];
        bool call = f->kind == BPI_FACT_CALL;
        int minute = bpi_clock_wall(&p->show->clock, call ? shift->call : shift->wrap).minute;
        s.step = 5;
        s.offset = call ? minute % 5 : (5 - minute % 5) % 5;
    }
    if (last > s.offset)
        s.count = (last - s.offset + s.step - 1) / s.step;
    return s;
}

static int32_t amount(const scale *s, int32_t k)
{
    return k < s->count ? s->offset + k * s->step : s->last;
}

/* Each amount as small as this schedule of the loosened problem allows. */
static void tighten(loose *q, const bpi_prep *p, int32_t *by, bp_eng_solution *s)
{
    char why[200];
    bp_eng_problem *bare = &q->problem; /* so that only what must hold is asked */
    bare->terms = 0;
    bare->levels = 0;
    memset(s->value, 0, sizeof s->value);
    for (uint32_t f = 1; f < p->problem.facts; f++) {
        if (!by[f])
            continue;
        scale amounts = scale_of(p, f, by[f]);
        int32_t low = -1, high = amounts.count; /* -1: not at all; high: it holds */
        while (low < high) {
            int32_t middle = low + (high - low) / 2;
            by[f] = middle < 0 ? 0 : amount(&amounts, middle);
            loosen(q, p, by, f);
            if (bp_eng_verify(bare, s, NULL, why, sizeof why))
                high = middle;
            else
                low = middle + 1;
        }
        by[f] = high < 0 ? 0 : amount(&amounts, high);
        loosen(q, p, by, f);
    }
}

bp_code bpi_ease_try(bool *yes, const bpi_prep *p, int32_t *by, bpi_purse *purse, bp_errors *errs)
{
    *yes = false;
    bpi_arena *a = bpi_arena_new();
    loose q;
    bp_eng_solution *s = NULL;
    bp_code rc = BP_OK;
    if (!a || !loose_init(&q, a, p)) {
        rc = bpi_error_no_memory(errs);
    } else {
        loosen(&q, p, by, BPI_NO_INDEX);
        rc = ask(&s, &q.problem, purse, errs);
        *yes = s != NULL;
        if (s)
            tighten(&q, p, by, s);
    }
    bp_eng_solution_free(s);
    bpi_arena_free(a);
    return rc;
}

bp_code bpi_ease_least(int32_t *by, uint32_t fact, const bpi_prep *p, bpi_purse *purse,
                       bp_errors *errs)
{
    scale amounts = scale_of(p, fact, by[fact]);
    int32_t low = 0, high = amounts.count, least = by[fact];
    while (low < high) {
        int32_t middle = low + (high - low) / 2;
        bool yes;
        by[fact] = amount(&amounts, middle);
        bp_code rc = bpi_ease_try(&yes, p, by, purse, errs);
        if (rc != BP_OK)
            return rc;
        if (yes) { /* and perhaps with less than was asked for */
            least = by[fact];
            high = (least - amounts.offset) / amounts.step;
        } else {
            low = middle + 1;
        }
    }
    by[fact] = least;
    return BP_OK;
}

bp_code bpi_ease_conflict(bool *none, bool *mark, const bpi_prep *p, const int32_t *by,
                          bpi_purse *purse, bp_errors *errs)
{
    *none = true;
    bpi_arena *a = bpi_arena_new();
    loose q;
    if (!a || !loose_init(&q, a, p)) {
        bpi_arena_free(a);
        return bpi_error_no_memory(errs);
    }
    loosen(&q, p, by, BPI_NO_INDEX);
    bp_eng_limits limits = {.work = for_one(purse)};
    bp_eng_conflict *c = NULL;
    bp_code rc = purse->left ? bp_eng_explain(&c, &q.problem, &limits, NULL) : BP_EUNSURE;
    if (rc == BP_OK) {
        pay(purse, c->work);
        *none = false;
        for (uint32_t i = 0; i < c->facts; i++)
            mark[c->fact[i]] = true;
    } else if (rc == BP_EUNSURE) {
        pay(purse, limits.work);
        purse->cut = true;
    }
    bp_eng_conflict_free(c);
    bpi_arena_free(a);
    return rc == BP_ENOMEM ? bpi_error_no_memory(errs) : BP_OK;
}

bp_code bpi_ease_show(bool *yes, const bpi_show *show, bpi_purse *purse, bp_errors *errs)
{
    *yes = false;
    bpi_arena *a = bpi_arena_new();
    bp_errors *aside = a ? BPI_TAKE(a, 1, bp_errors) : NULL; /* that it does not fit is no error */
    bpi_live *live = NULL;
    bpi_prep *p = NULL;
    bp_code rc = aside ? bpi_live_make(&live, a, show, aside) : BP_ENOMEM;
    if (rc == BP_OK)
        rc = bpi_prep_make(&p, a, show, live, NULL, aside);
    if (rc == BP_OK)
        rc = bpi_ease_feasible(yes, &p->problem, purse, aside);
    bpi_arena_free(a);
    if (rc == BP_ENOMEM)
        return bpi_error_no_memory(errs);
    return rc == BP_EINTERNAL ? bpi_error_add(errs, rc, BPI_NOWHERE, "a trial went wrong", "")
                              : BP_OK;
}

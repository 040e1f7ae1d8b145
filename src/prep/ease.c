#include "prep/ease.h"

#include <string.h>

bp_code bpi_ease_feasible(bool *yes, const bp_eng_problem *p, const bp_eng_limits *limits,
                          bp_errors *errs)
{
    bp_eng_limits first = *limits;
    bp_eng_solution *s = NULL;
    first.first = true;
    *yes = false;
    bp_code rc = bp_eng_solve(&s, p, &first, errs);
    if (rc != BP_OK)
        return rc == BP_EVALUE ? BP_EINTERNAL : rc;
    *yes = s->status == BP_ENG_FEASIBLE || s->status == BP_ENG_OPTIMAL;
    bp_eng_solution_free(s);
    return BP_OK;
}

static void *copy(bpi_arena *a, const void *v, uint32_t n, size_t size)
{
    void *c = bpi_arena_take(a, n, size);
    if (c && n)
        memcpy(c, v, n * size);
    return c;
}

/* Which way a span of a calendar grows: it loses from its end before a call, at its front after a
 * wrap. */
static void loosen(bp_eng_problem *q, const bpi_prep *p, const int32_t *by, bp_eng_span *span,
                   bp_eng_option *option, bp_eng_lag *lag, bp_eng_resource *resource)
{
    for (uint32_t i = 0; i < q->spans; i++) {
        int32_t x = by[span[i].fact];
        if (p->fact[span[i].fact].kind == BPI_FACT_CALL)
            span[i].to = span[i].to - x < 0 ? 0 : span[i].to - x;
        else
            span[i].from = span[i].from + x > q->horizon ? q->horizon : span[i].from + x;
        if (x && span[i].from >= span[i].to) { /* nothing is left of it */
            span[i].from = 0;
            span[i].to = 1;
            span[i].capacity = resource[span[i].res].capacity;
        }
    }
    for (uint32_t i = 0; i < q->options; i++) {
        int64_t most = (int64_t)option[i].most + by[option[i].fact];
        option[i].most = (int32_t)(most > q->horizon ? q->horizon : most);
    }
    for (uint32_t i = 0; i < q->lags; i++)
        lag[i].least -= by[lag[i].fact];
    for (uint32_t i = 0; i < q->resources; i++)
        resource[i].capacity += by[resource[i].fact];
    q->span = span;
    q->option = option;
    q->lag = lag;
    q->resource = resource;
}

bp_code bpi_ease_try(bool *yes, const bpi_prep *p, const int32_t *by, const bp_eng_limits *limits,
                     bp_errors *errs)
{
    *yes = false;
    bpi_arena *a = bpi_arena_new();
    if (!a)
        return bpi_error_no_memory(errs);
    bp_eng_problem q = p->problem;
    bp_eng_span *span = copy(a, q.span, q.spans, sizeof *span);
    bp_eng_option *option = copy(a, q.option, q.options, sizeof *option);
    bp_eng_lag *lag = copy(a, q.lag, q.lags, sizeof *lag);
    bp_eng_resource *resource = copy(a, q.resource, q.resources, sizeof *resource);
    bp_code rc = BP_OK;
    if (!span || !option || !lag || !resource)
        rc = bpi_error_no_memory(errs);
    else {
        loosen(&q, p, by, span, option, lag, resource);
        rc = bpi_ease_feasible(yes, &q, limits, errs);
    }
    bpi_arena_free(a);
    return rc;
}

/* Amounts that put a call or a wrap on a full five minutes: offset + 5 k. */
static void grid(const bpi_prep *p, uint32_t fact, int32_t *offset, int32_t *step)
{
    const bpi_fact *f = &p->fact[fact];
    *offset = 0;
    *step = 1;
    if (f->kind != BPI_FACT_CALL && f->kind != BPI_FACT_WRAP)
        return;
    const bpi_shift *s = &p->show->kitchen.cook[f->a].shift[f->b];
    bpi_wall w = bpi_clock_wall(&p->show->clock, f->kind == BPI_FACT_CALL ? s->call : s->wrap);
    *step = 5;
    *offset = f->kind == BPI_FACT_CALL ? w.minute % 5 : (5 - w.minute % 5) % 5;
}

bp_code bpi_ease_least(int32_t *by, uint32_t fact, const bpi_prep *p, const bp_eng_limits *limits,
                       bp_errors *errs)
{
    int32_t offset, step, most = by[fact];
    grid(p, fact, &offset, &step);
    int32_t low = 0, high = (most - offset + step - 1) / step; /* high is feasible or beyond most */
    if (offset + high * step > most)
        high--;
    while (low < high) {
        int32_t middle = low + (high - low) / 2;
        bool yes;
        by[fact] = offset + middle * step;
        bp_code rc = bpi_ease_try(&yes, p, by, limits, errs);
        if (rc != BP_OK)
            return rc;
        if (yes)
            high = middle;
        else
            low = middle + 1;
    }
    bool yes = false;
    by[fact] = offset + high * step;
    bp_code rc = by[fact] < most ? bpi_ease_try(&yes, p, by, limits, errs) : BP_OK;
    if (!yes)
        by[fact] = most;
    return rc;
}

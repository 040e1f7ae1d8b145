#include "prep/rows.h"

static void *add(bpi_rows *r, bpi_list *l, size_t size)
{
    void *place = r->failed || l->n == UINT32_MAX - 2
                      ? NULL
                      : bpi_arena_more(r->a, &l->v, &l->room, l->n, size);
    if (!place) {
        r->failed = true;
        return NULL;
    }
    l->n++;
    return place;
}

#define ADD(r, list, T, ...)                                                                       \
    do {                                                                                           \
        const T row_ = __VA_ARGS__;                                                                \
        T *added_ = add((r), &(r)->list, sizeof(T));                                               \
        if (added_)                                                                                \
            *added_ = row_;                                                                        \
    } while (0)

static uint32_t last(const bpi_list *l)
{
    return l->n ? l->n - 1 : 0;
}

uint32_t bpi_rows_fact(bpi_rows *r, bpi_fact_kind kind, uint32_t a, uint32_t b, uint32_t c,
                       int64_t at, bpi_where where)
{
    for (uint32_t i = 0; i < r->fact.n; i++) {
        const bpi_fact *f = BPI_ROW(r->fact, bpi_fact, i);
        if (f->kind == kind && f->a == a && f->b == b && f->c == c && f->at == at)
            return i;
    }
    if (r->fact.n == 0)
        ADD(r, fact, bpi_fact, {.kind = BPI_FACT_NONE});
    if (kind == BPI_FACT_NONE)
        return 0;
    ADD(r, fact, bpi_fact, {kind, a, b, c, at, where});
    return last(&r->fact);
}

uint32_t bpi_rows_resource(bpi_rows *r, bpi_res what, int32_t capacity, uint32_t fact)
{
    ADD(r, res, bpi_res, what);
    ADD(r, resource, bp_eng_resource, {.capacity = capacity, .fact = fact});
    return last(&r->resource);
}

void bpi_rows_span(bpi_rows *r, uint32_t res, int32_t from, int32_t to, int32_t capacity,
                   uint32_t fact)
{
    if (from < 0)
        from = 0;
    if (from < to)
        ADD(r, span, bp_eng_span, {res, from, to, capacity, fact});
}

void bpi_rows_change(bpi_rows *r, int32_t minutes)
{
    ADD(r, change, int32_t, {minutes});
}

uint32_t bpi_rows_job(bpi_rows *r, bpi_job job, const uint32_t *serve, uint32_t serves)
{
    job.serve0 = r->serve.n;
    job.serves = serves;
    for (uint32_t i = 0; i < serves; i++) {
        uint32_t *place = add(r, &r->serve, sizeof(uint32_t));
        if (place)
            *place = serve[i];
    }
    ADD(r, job, bpi_job, job);
    ADD(r, activity, bp_eng_activity, {.option0 = r->option.n});
    return last(&r->activity);
}

uint32_t bpi_rows_option(bpi_rows *r, bpi_way way, int32_t least, int32_t most, uint32_t fact)
{
    if (r->failed || !r->activity.n)
        return 0;
    int32_t who = way.cook == BPI_NO_INDEX ? -1 : (int32_t)way.cook;
    ADD(r, way, bpi_way, way);
    ADD(r, option, bp_eng_option,
        {.need0 = r->need.n, .least = least, .most = most, .fact = fact, .who = who});
    return BPI_ROW(r->activity, bp_eng_activity, r->activity.n - 1)->options++;
}

void bpi_rows_need(bpi_rows *r, uint32_t res, int32_t amount, int32_t state)
{
    if (r->failed || !r->option.n)
        return;
    ADD(r, need, bp_eng_need, {res, amount, state});
    BPI_ROW(r->option, bp_eng_option, r->option.n - 1)->needs++;
}

void bpi_rows_lag_if(bpi_rows *r, uint32_t from, bp_eng_end from_end, uint32_t to,
                     bp_eng_end to_end, int32_t least, uint32_t act, uint32_t opt, uint32_t fact)
{
    ADD(r, lag, bp_eng_lag, {from, to, from_end, to_end, least, act, opt, fact});
}

void bpi_rows_lag(bpi_rows *r, uint32_t from, bp_eng_end from_end, uint32_t to, bp_eng_end to_end,
                  int32_t least, uint32_t fact)
{
    bpi_rows_lag_if(r, from, from_end, to, to_end, least, BP_ENG_NONE, 0, fact);
}

void bpi_rows_meet(bpi_rows *r, uint32_t a, uint32_t b)
{
    bpi_rows_lag(r, a, BP_ENG_END, b, BP_ENG_START, 0, 0);
    bpi_rows_lag(r, b, BP_ENG_START, a, BP_ENG_END, 0, 0);
}

void bpi_rows_not_before(bpi_rows *r, uint32_t act, bp_eng_end end, int32_t time, uint32_t fact)
{
    bpi_rows_lag(r, BP_ENG_ORIGIN, BP_ENG_START, act, end, time, fact);
}

void bpi_rows_not_after(bpi_rows *r, uint32_t act, bp_eng_end end, int32_t time, uint32_t fact)
{
    bpi_rows_lag(r, act, end, BP_ENG_ORIGIN, BP_ENG_START, -time, fact);
}

void bpi_rows_literal(bpi_rows *r, uint32_t act, uint32_t opt, bool negated)
{
    ADD(r, literal, bp_eng_literal, {act, opt, negated});
}

void bpi_rows_clause(bpi_rows *r, uint32_t literals, uint32_t fact)
{
    ADD(r, clause, bp_eng_clause, {r->literal.n - literals, literals, fact});
}

void bpi_rows_term(bpi_rows *r, uint32_t level, bp_eng_kind kind, uint32_t a, uint32_t b,
                   int32_t at, int64_t weight)
{
    ADD(r, term, bp_eng_term, {level, kind, a, b, at, (int32_t)weight});
}

void bpi_rows_problem(const bpi_rows *r, bp_eng_problem *p, int32_t horizon, uint32_t levels)
{
    *p = (bp_eng_problem){
        .horizon = horizon,
        .facts = r->fact.n,
        .levels = levels,
        .activity = r->activity.v,
        .activities = r->activity.n,
        .option = r->option.v,
        .options = r->option.n,
        .need = r->need.v,
        .needs = r->need.n,
        .lag = r->lag.v,
        .lags = r->lag.n,
        .resource = r->resource.v,
        .resources = r->resource.n,
        .span = r->span.v,
        .spans = r->span.n,
        .change = r->change.v,
        .changes = r->change.n,
        .literal = r->literal.v,
        .literals = r->literal.n,
        .clause = r->clause.v,
        .clauses = r->clause.n,
        .term = r->term.v,
        .terms = r->term.n,
    };
}

#include "day/late.h"

void bpi_late_run_over(bpi_binding *b, uint32_t j, bp_eng_option *o, int32_t from)
{
    b->term[b->q.terms++] =
        (bp_eng_term){.kind = BP_ENG_LATE, .a = j, .at = from + o->most, .weight = 1};
    o->most = b->q.horizon;
    o->fact = 0;
}

/* ---- standing about --------------------------------------------------------------------------- */

/* Does that option of a wait have no place in this kitchen, or no time? */
static bool has_no_place(const bpi_binding *b, const bp_eng_option *o)
{
    for (uint32_t i = 0; i < o->needs; i++) {
        uint32_t res = b->q.need[o->need0 + i].res;
        if (b->p->res[res].kind == BPI_RES_KEEP && b->q.resource[res].capacity == 0)
            return true;
    }
    return o->most == 0;
}

/* A wait that has no place at all; *option: the first that is neither left out nor part of another. */
static bool is_nowhere(const bpi_binding *b, uint32_t j, uint32_t *option)
{
    const bp_eng_activity *a = &b->q.activity[j];
    *option = BPI_NO_INDEX;
    for (uint32_t o = 0; o < a->options && b->p->job[j].kind == BP_OP_WAIT; o++) {
        const bpi_way *way = &b->p->way[a->option0 + o];
        if (way->out || way->with)
            continue;
        if (!has_no_place(b, &b->option[a->option0 + o]))
            return false;
        *option = *option == BPI_NO_INDEX ? o : *option;
    }
    return *option != BPI_NO_INDEX;
}

/* What may wait nowhere is put aside all the same where hands are missing, and each minute of it is late. */
static void put_aside(bpi_binding *b, uint32_t j)
{
    uint32_t at, first = b->q.needs;
    if (!is_nowhere(b, j, &at))
        return;
    bool stands = b->chosen[j] != BPI_NO_INDEX; /* it does already, and counts as what runs over */
    if (stands)
        at = b->chosen[j];
    bp_eng_option *o = &b->option[b->q.activity[j].option0 + at];
    for (uint32_t i = 0; i < o->needs; i++)
        if (b->p->res[b->need[o->need0 + i].res].kind != BPI_RES_KEEP)
            b->need[b->q.needs++] = b->need[o->need0 + i];
    o->need0 = first;
    o->needs = b->q.needs - first;
    if (stands)
        return;
    o->most = b->q.horizon;
    o->fact = 0;
    b->term[b->q.terms++] = (bp_eng_term){.kind = BP_ENG_LASTS, .a = j, .weight = 1};
}

/* ---- past a wrap ------------------------------------------------------------------------------ */

static bool is_of_shift(const bpi_way *way, const bpi_res *shift)
{
    return !way->out && way->cook == shift->a && way->shift == shift->b;
}

/* Work of a shift may go on past its wrap, and is late then; other work is not put there. */
static void work_on(bpi_binding *b, const bpi_res *shift, int32_t wrap)
{
    const bpi_day *d = b->d;
    for (uint32_t j = 0; j < b->q.activities; j++) {
        const bp_eng_activity *a = &b->q.activity[j];
        uint32_t k = b->was[j];
        if (b->chosen[j] != BPI_NO_INDEX && !b->open[j] && b->to[j] <= d->now)
            continue; /* it is over */
        bool of_it = k != BPI_NO_INDEX &&
                     is_of_shift(bpi_schedule_way(d->prep, d->schedule,
                                                  bpi_schedule_lead(d->prep, d->schedule, k)),
                                 shift);
        if (of_it && b->p->job[j].kind != BP_OP_WASH) {
            b->term[b->q.terms++] =
                (bp_eng_term){.kind = BP_ENG_LATE, .a = j, .at = wrap, .weight = 1};
            continue;
        }
        for (uint32_t o = 0; o < a->options; o++)
            if (is_of_shift(&b->p->way[a->option0 + o], shift)) {
                bpi_binding_lag(b, j, BP_ENG_END, BP_ENG_ORIGIN, BP_ENG_START, -wrap);
                b->lag[b->q.lags - 1].if_act = j;
                b->lag[b->q.lags - 1].if_opt = o;
            }
    }
}

/* Is there time left before the next shift of that cook? */
static bool is_to_come(const bpi_binding *b, const bpi_res *shift)
{
    const bpi_shift *next = &b->p->show->kitchen.cook[shift->a].shift[shift->b + 1];
    return next->call > b->p->zero + (int64_t)b->d->now * 60;
}

/* A plan that may be late may also keep somebody in the evening before: the problem has that of the last
 * shift of each alone. */
static void open_wraps(bpi_binding *b)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < b->q.spans; i++) {
        const bp_eng_span *x = &b->span[i];
        const bpi_res *res = &b->p->res[x->res];
        if (b->p->fact[x->fact].kind == BPI_FACT_WRAP && is_to_come(b, res))
            work_on(b, res, x->from);
        else
            b->span[kept++] = *x;
    }
    b->q.spans = kept;
}

void bpi_late_allow(bpi_binding *b)
{
    for (uint32_t j = 0; j < b->q.activities; j++)
        put_aside(b, j);
    open_wraps(b);
}

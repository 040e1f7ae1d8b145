/* src/prep/warm.c - hot places that are heated: who switches one on, and when.
 *
 * Owns     where one working day ends and the next begins.
 * May use  prep/making.
 */
#include "prep/making.h"

/* ---- days ------------------------------------------------------------------------------------ */

/* The first call after t, as the show has it, where nobody's shift is at t; INT64_MAX: none comes, or
 * somebody is there. */
static int64_t call_after(const bpi_kitchen *k, int64_t t)
{
    int64_t next = INT64_MAX;
    for (uint32_t c = 0; c < k->cooks; c++)
        for (uint32_t s = 0; s < k->cook[c].shifts; s++) {
            const bpi_shift *shift = &k->cook[c].shift[s];
            if (shift->call <= t && t < shift->wrap)
                return INT64_MAX;
            next = shift->call > t && shift->call < next ? shift->call : next;
        }
    return next;
}

/* The wraps that a night follows, each once, ascending. */
void bpi_warm_days(bpi_making *m)
{
    const bpi_kitchen *k = &m->show->kitchen;
    uint32_t shifts = 0, n = 0;
    for (uint32_t c = 0; c < k->cooks; c++)
        shifts += k->cook[c].shifts;
    int32_t *night = BPI_TAKE(m->rows.a, shifts, int32_t);
    m->rows.failed |= !night;
    for (uint32_t c = 0; c < k->cooks && night; c++)
        for (uint32_t s = 0; s < k->cook[c].shifts; s++) {
            int64_t wrap = k->cook[c].shift[s].wrap, call = call_after(k, wrap);
            if (call == INT64_MAX || call - wrap < BPI_NIGHT)
                continue;
            int32_t middle = bpi_making_down(m, wrap + (call - wrap) / 2);
            uint32_t at = 0;
            while (at < n && night[at] < middle)
                at++;
            if (at < n && night[at] == middle)
                continue;
            for (uint32_t i = n++; i > at; i--)
                night[i] = night[i - 1];
            night[at] = middle;
        }
    m->night = night;
    m->nights = n;
}

/* That end of a job lies on the day, where it takes the option. */
static void on_day(bpi_making *m, uint32_t j, bp_eng_end end, uint32_t option, uint32_t day)
{
    bpi_rows *r = &m->rows;
    if (day > 0)
        bpi_rows_lag_if(r, BP_ENG_ORIGIN, BP_ENG_START, j, end, m->night[day - 1], j, option, 0);
    if (day < m->nights)
        bpi_rows_lag_if(r, j, end, BP_ENG_ORIGIN, BP_ENG_START, -m->night[day], j, option, 0);
}

/* ---- switching on ---------------------------------------------------------------------------- */

static bool is_for(const bpi_kitchen *k, const bpi_job *on, const bpi_way *way)
{
    return way->place == on->number % k->places + 1 && way->day == on->number / k->places;
}

bool bpi_is_warmed(const bpi_prep *p, const bpi_job *on, const bpi_way *way)
{
    return on->kind == BP_OP_WARM_UP && is_for(&p->show->kitchen, on, way);
}

/* Whatever stands there on that day stands in a hot place. */
static void hot_for(bpi_making *m, uint32_t on, uint32_t fact, uint32_t j)
{
    bpi_rows *r = &m->rows;
    const bpi_kitchen *k = &m->show->kitchen;
    const bpi_job job = *BPI_ROW(r->job, bpi_job, on);
    const bp_eng_activity a = *BPI_ROW(r->activity, bp_eng_activity, j);
    int32_t warm = bpi_place_warms(&k->place[job.number % k->places]);
    for (uint32_t o = 0; o < a.options && !r->failed; o++) {
        if (!is_for(k, &job, BPI_ROW(r->way, bpi_way, a.option0 + o)))
            continue;
        on_day(m, j, BP_ENG_START, o, job.number / k->places);
        on_day(m, j, BP_ENG_END, o, job.number / k->places);
        bpi_rows_lag_if(r, on, BP_ENG_END, j, BP_ENG_START, warm, j, o, fact);
        bpi_rows_literal(r, on, 0, true);
        bpi_rows_literal(r, j, o, true);
        bpi_rows_clause(r, 2, fact);
    }
}

static void switch_on(bpi_making *m, uint32_t place, uint32_t day, uint32_t jobs)
{
    bpi_rows *r = &m->rows;
    const bpi_kitchen *k = &m->show->kitchen;
    const bpi_job job = {.kind = BP_OP_WARM_UP,
                         .air = BPI_NO_INDEX,
                         .recipe = BPI_NO_INDEX,
                         .step = BPI_NO_INDEX,
                         .next = BPI_NO_INDEX,
                         .number = place + day * k->places,
                         .optional = true};
    uint32_t on = bpi_rows_job(r, job, NULL, 0);
    bpi_crew_left_out(m);
    bpi_crew_options(m, BPI_PREHEAT, BPI_NO_INDEX);
    if (r->failed)
        return;
    const bp_eng_activity a = *BPI_ROW(r->activity, bp_eng_activity, on);
    for (uint32_t o = 1; o < a.options; o++)
        on_day(m, on, BP_ENG_START, o, day);
    uint32_t fact = bpi_rows_fact(r, BPI_FACT_WARM_UP, place, 0, 0, 0, k->place[place].where);
    for (uint32_t j = 0; j < jobs && !r->failed; j++)
        hot_for(m, on, fact, j);
}

void bpi_warm_make(bpi_making *m)
{
    uint32_t jobs = m->rows.activity.n;
    for (uint32_t i = 0; i < m->show->kitchen.places; i++)
        for (uint32_t d = 0; m->show->kitchen.place[i].heat_mC_min && d <= m->nights; d++)
            if (!m->rows.failed)
                switch_on(m, i, d, jobs);
}

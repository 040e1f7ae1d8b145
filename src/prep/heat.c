/* src/prep/heat.c - ovens: temperatures as states, the time a change takes, switching on.
 *
 * Owns     the change tables.
 * May use  prep/making.
 */
#include "prep/making.h"

static bool takes(const bpi_step *s, uint32_t oven)
{
    return s->kind == BPI_OVEN && (s->oven == BPI_NO_INDEX || s->oven == oven);
}

static int32_t minutes(int64_t difference_mC, int32_t mC_min)
{
    return (int32_t)((difference_mC + mC_min - 1) / mC_min);
}

static int32_t change(const bpi_oven *oven, int32_t from, int32_t to)
{
    if (to >= from)
        return minutes((int64_t)to - from, oven->heat_mC_min);
    return minutes((int64_t)from - to, oven->cool_mC_min);
}

/* Every temperature a recipe of the show asks of this oven, each once, ascending. */
static uint32_t temperatures(const bpi_show *show, uint32_t oven, int32_t *out)
{
    uint32_t n = 0;
    for (uint32_t r = 0; r < show->recipes; r++)
        for (uint32_t s = 0; s < show->recipe[r].steps; s++) {
            const bpi_step *step = &show->recipe[r].step[s];
            if (!takes(step, oven))
                continue;
            uint32_t at = 0;
            while (at < n && out[at] < step->oven_mC)
                at++;
            if (at < n && out[at] == step->oven_mC)
                continue;
            for (uint32_t i = n; i > at; i--)
                out[i] = out[i - 1];
            out[at] = step->oven_mC;
            n++;
        }
    return n;
}

void bpi_heat_states(bpi_making *m)
{
    bpi_rows *r = &m->rows;
    const bpi_kitchen *kitchen = &m->show->kitchen;
    size_t steps = 0;
    for (uint32_t i = 0; i < m->show->recipes; i++)
        steps += m->show->recipe[i].steps;
    const int32_t **temp = BPI_TAKE(r->a, kitchen->ovens, const int32_t *);
    uint32_t *temps = BPI_TAKE(r->a, kitchen->ovens, uint32_t);
    if (r->failed || !temp || !temps) {
        r->failed = true;
        return;
    }
    m->temp = temp;
    m->temps = temps;
    for (uint32_t o = 0; o < kitchen->ovens && !r->failed; o++) {
        const bpi_oven *oven = &kitchen->oven[o];
        int32_t *t = BPI_TAKE(r->a, steps, int32_t);
        if (!t) {
            r->failed = true;
            return;
        }
        temp[o] = t;
        temps[o] = temperatures(m->show, o, t);
        bp_eng_resource *res = BPI_ROW(r->resource, bp_eng_resource, m->oven0 + o);
        res->states = temps[o];
        res->change0 = r->change.n;
        for (uint32_t i = 0; i < temps[o]; i++)
            for (uint32_t j = 0; j < temps[o]; j++)
                bpi_rows_change(r, change(oven, t[i], t[j]));
        res->fact_change = bpi_rows_fact(r, BPI_FACT_CHANGE, o, 0, 0, 0, oven->where);
    }
}

int32_t bpi_heat_state(const bpi_making *m, uint32_t oven, int32_t temp_mC)
{
    for (uint32_t i = 0; i < m->temps[oven]; i++)
        if (m->temp[oven][i] == temp_mC)
            return (int32_t)i;
    return 0;
}

/* Switched on once, early enough for each load that goes in; left out where none does. */
static void preheat(bpi_making *m, uint32_t o)
{
    bpi_rows *r = &m->rows;
    const bpi_oven *oven = &m->show->kitchen.oven[o];
    uint32_t act = BPI_NO_INDEX;
    uint32_t fact = 0;
    for (uint32_t j = 0; j < r->activity.n && !r->failed; j++) {
        const bpi_job *job = BPI_ROW(r->job, bpi_job, j);
        if (job->kind != BP_OP_OVEN)
            continue;
        int32_t temp = m->show->recipe[job->recipe].step[job->step].oven_mC;
        bp_eng_activity row = *BPI_ROW(r->activity, bp_eng_activity, j);
        for (uint32_t k = 0; k < row.options && !r->failed; k++) {
            if (BPI_ROW(r->way, bpi_way, row.option0 + k)->oven != o)
                continue;
            if (act == BPI_NO_INDEX) {
                bpi_job on = {.kind = BP_OP_PREHEAT,
                              .air = BPI_NO_INDEX,
                              .recipe = BPI_NO_INDEX,
                              .step = BPI_NO_INDEX,
                              .next = BPI_NO_INDEX,
                              .number = o,
                              .optional = true};
                act = bpi_rows_job(r, on, NULL, 0);
                bpi_crew_left_out(m);
                bpi_crew_options(m, BPI_PREHEAT, BPI_NO_INDEX);
                fact = bpi_rows_fact(r, BPI_FACT_PREHEAT, o, 0, 0, 0, oven->where);
            }
            bpi_rows_lag_if(r, act, BP_ENG_END, j, BP_ENG_START,
                            temp > oven->cold_mC ? change(oven, oven->cold_mC, temp) : 0, j, k,
                            fact);
            bpi_rows_literal(r, act, 0, true);
            bpi_rows_literal(r, j, k, true);
            bpi_rows_clause(r, 2, fact);
        }
    }
}

void bpi_heat_make(bpi_making *m)
{
    for (uint32_t o = 0; o < m->show->kitchen.ovens; o++)
        preheat(m, o);
}

/* src/prep/heat.c - ovens: temperatures as states, the time a change takes, switching on.
 *
 * Owns     the change tables.
 * May use  prep/making.
 */
#include "prep/making.h"

bool bpi_heat_takes(const bpi_step *s, uint32_t oven)
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
            if (!bpi_heat_takes(step, oven))
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

void bpi_heat_door(bpi_making *m, uint32_t hands, uint32_t bake)
{
    bpi_rows *r = &m->rows;
    if (m->show->kitchen.ovens < 2 || r->failed)
        return;
    const bp_eng_activity h = *BPI_ROW(r->activity, bp_eng_activity, hands);
    const bp_eng_activity a = *BPI_ROW(r->activity, bp_eng_activity, bake);
    for (uint32_t k = 0; k < h.options && !r->failed; k++) {
        uint32_t oven = BPI_ROW(r->way, bpi_way, h.option0 + k)->oven, literals = 1;
        if (oven == BPI_NO_INDEX)
            continue;
        bpi_rows_literal(r, hands, k, true);
        for (uint32_t l = 0; l < a.options && !r->failed; l++)
            if (BPI_ROW(r->way, bpi_way, a.option0 + l)->oven == oven) {
                bpi_rows_literal(r, bake, l, false);
                literals++;
            }
        bpi_rows_clause(r, literals, 0);
    }
}

/* A load in one oven: its job, its option there, and the jobs that put it in and take it out, which
 * are made directly before and after it. */
typedef struct bake {
    uint32_t job, option, in, out;
    int32_t mC;
} bake;

/* Every job that may bake in the oven; returns how many. */
static uint32_t find_bakes(const bpi_making *m, uint32_t oven, bake *out)
{
    const bpi_rows *r = &m->rows;
    uint32_t n = 0;
    for (uint32_t j = 0; j < r->activity.n && !r->failed; j++) {
        const bpi_job *job = BPI_ROW(r->job, bpi_job, j);
        const bp_eng_activity *a = BPI_ROW(r->activity, bp_eng_activity, j);
        for (uint32_t k = 0; job->kind == BP_OP_OVEN && k < a->options; k++)
            if (BPI_ROW(r->way, bpi_way, a->option0 + k)->oven == oven)
                out[n++] = (bake){j, k, j - 1, j + 1,
                                  m->show->recipe[job->recipe].step[job->step].oven_mC};
    }
    return n;
}

/* Minutes that an oven may stand hot and empty. */
static int32_t idle(const bpi_making *m, uint32_t oven)
{
    return bpi_minutes_down(m->show->kitchen.oven[oven].idle);
}

static uint32_t idle_fact(bpi_making *m, uint32_t oven)
{
    const bpi_oven *o = &m->show->kitchen.oven[oven];
    return bpi_rows_fact(&m->rows, BPI_FACT_IDLE, oven, 0, 0, 0, o->idle_where);
}

/* Not at once with its other choices: option k of activity a only with option l of activity b. */
static void only_with(bpi_rows *r, uint32_t a, uint32_t k, uint32_t b, uint32_t l)
{
    bpi_rows_literal(r, a, k, true);
    bpi_rows_literal(r, b, l, false);
    bpi_rows_clause(r, 2, 0);
}

/* The oven is on for `x` from an earlier load `y`: an option of the preheat of x to be left out. */
static void stays_on(bpi_making *m, uint32_t heat, uint32_t oven, const bake *x, const bake *y)
{
    bpi_rows *r = &m->rows;
    const bpi_oven *o = &m->show->kitchen.oven[oven];
    bpi_way way = {BPI_NO_INDEX, BPI_NO_INDEX, oven, -1, true, 0, 0, 0};
    uint32_t k = bpi_rows_option(r, way, 0, 0, 0);
    only_with(r, heat, k, x->job, x->option);
    only_with(r, heat, k, y->job, y->option);
    bpi_rows_lag_if(r, y->job, BP_ENG_START, x->job, BP_ENG_START, y->job < x->job ? 0 : 1, heat, k,
                    0);
    bpi_rows_lag_if(r, x->in, BP_ENG_START, y->out, BP_ENG_END,
                    -(change(o, y->mC, x->mC) + idle(m, oven)), heat, k, idle_fact(m, oven));
}

/* A load is put in after its preheat, once the oven is hot, and not long after that. A batch has a
 * bake for each number of containers. */
static void heated(bpi_making *m, uint32_t heat, uint32_t o, const bake *x)
{
    bpi_rows *r = &m->rows;
    const bpi_oven *oven = &m->show->kitchen.oven[o];
    uint32_t fact = bpi_rows_fact(r, BPI_FACT_PREHEAT, o, 0, 0, 0, oven->where);
    int32_t warm = x->mC > oven->cold_mC ? change(oven, oven->cold_mC, x->mC) : 0;
    bpi_rows_lag_if(r, heat, BP_ENG_END, x->in, BP_ENG_START, warm, x->job, x->option, fact);
    bpi_rows_lag_if(r, x->in, BP_ENG_START, heat, BP_ENG_END, -(warm + idle(m, o)), x->job,
                    x->option, idle_fact(m, o));
    bpi_rows_literal(r, heat, 0, true);
    bpi_rows_literal(r, x->job, x->option, true);
    bpi_rows_clause(r, 2, fact);
}

/* A load needs an oven that is hot: switched on for it, or for one before it. */
static void preheat(bpi_making *m, uint32_t j, bake *const *bakes, const uint32_t *n)
{
    bpi_rows *r = &m->rows;
    bpi_job on = {.kind = BP_OP_PREHEAT,
                  .air = BPI_NO_INDEX,
                  .recipe = BPI_NO_INDEX,
                  .step = BPI_NO_INDEX,
                  .next = BPI_NO_INDEX,
                  .number = j,
                  .optional = true};
    uint32_t heat = bpi_rows_job(r, on, NULL, 0);
    bpi_crew_left_out(m);
    bpi_crew_options(m, BPI_PREHEAT, BPI_NO_INDEX);
    const bp_eng_activity a = *BPI_ROW(r->activity, bp_eng_activity, j);
    for (uint32_t k = 0; k < a.options && !r->failed; k++)
        if (BPI_ROW(r->way, bpi_way, a.option0 + k)->out)
            only_with(r, j, k, heat, 0); /* nothing to heat it for */
    for (uint32_t o = 0; o < m->show->kitchen.ovens; o++) {
        for (uint32_t at = 0; at < n[o] && !r->failed; at++) {
            if (bakes[o][at].job != j)
                continue;
            heated(m, heat, o, &bakes[o][at]);
            for (uint32_t i = 0; i < n[o]; i++)
                if (bakes[o][i].job != j)
                    stays_on(m, heat, o, &bakes[o][at], &bakes[o][i]);
        }
    }
}

void bpi_heat_make(bpi_making *m)
{
    bpi_rows *r = &m->rows;
    uint32_t ovens = m->show->kitchen.ovens, jobs = r->activity.n;
    bake **bakes = BPI_TAKE(r->a, ovens, bake *);
    uint32_t *n = BPI_TAKE(r->a, ovens, uint32_t);
    r->failed |= !bakes || !n;
    for (uint32_t o = 0; o < ovens && !r->failed; o++) {
        bakes[o] = BPI_TAKE(r->a, r->option.n, bake);
        r->failed |= !bakes[o];
        if (bakes[o])
            n[o] = find_bakes(m, o, bakes[o]);
    }
    for (uint32_t j = 0; j < jobs && !r->failed; j++)
        if (BPI_ROW(r->job, bpi_job, j)->kind == BP_OP_OVEN)
            preheat(m, j, bakes, n);
}

/* src/prep/wait.c - what stands between two jobs of a container: where it waits, and how long.
 *
 * Owns     nothing.
 * May use  prep/making.
 */
#include "base/limits.h"
#include "prep/making.h"

/* The vessel goes on with its food where both steps name it; one that is washed: prep/vessel. */
static void shared_vessels(bpi_making *m, const bpi_step *a, const bpi_step *b)
{
    for (uint32_t i = 0; i < a->tools; i++) {
        uint32_t tool = a->tool[i];
        if (!m->show->kitchen.tool[tool].vessel || m->show->kitchen.tool[tool].wash)
            continue;
        uint32_t nth = 0, also = 0; /* the nth of this vessel in a; how many in b */
        for (uint32_t j = 0; j <= i; j++)
            nth += a->tool[j] == tool;
        for (uint32_t j = 0; j < b->tools; j++)
            also += b->tool[j] == tool;
        if (nth <= also)
            bpi_crew_extra(m, m->tool0 + tool, 1);
    }
}

static void wait_option(bpi_making *m, uint32_t kind, int64_t hold, uint32_t fact)
{
    int32_t most = hold == BPI_NO_LIMIT ? m->horizon : bpi_minutes_down(hold);
    if (most > m->horizon)
        most = m->horizon;
    bpi_crew_stand(m, kind, 0, most, hold == BPI_NO_LIMIT ? 0 : fact);
}

uint32_t bpi_wait_job(bpi_making *m, const bpi_job *after, uint32_t next, uint32_t box, bool aside)
{
    bpi_rows *r = &m->rows;
    const bpi_recipe *recipe = &m->show->recipe[after->recipe];
    bpi_job job = {.kind = BP_OP_WAIT,
                   .air = after->air,
                   .recipe = after->recipe,
                   .step = after->step,
                   .next = next};
    bool left_alone = after->kind == BP_OP_PASSIVE && !after->takes_off;
    job.optional = aside;
    uint32_t wait = bpi_rows_job(r, job, &box, 1);
    if (aside)
        bpi_crew_left_out(m);
    if (after->step == BPI_NO_INDEX) {
        uint32_t fact = bpi_rows_fact(r, BPI_FACT_HOLD, after->recipe, BPI_NO_INDEX, BPI_COUNTER, 0,
                                      recipe->where);
        wait_option(m, BPI_COUNTER, BPI_MEASURE_HOLD, fact);
    } else {
        const bpi_step *s = &recipe->step[after->step];
        /* A batch that is divided goes on in something else. */
        if (next != BPI_NO_INDEX && (!s->together || recipe->step[next].together))
            shared_vessels(m, s, &recipe->step[next]);
        bpi_vessel_at_wait(m, box, after->step, next);
        uint32_t found = 0;
        uint32_t home = s->keep < 0 ? BPI_COUNTER : (uint32_t)s->keep;
        for (uint32_t k = 0; k < BPI_KEEPS; k++) {
            if ((left_alone || !s->hold_stated) ? k != home : s->hold[k] <= 0)
                continue;
            wait_option(m, k, s->hold_stated ? s->hold[k] : BPI_NO_LIMIT,
                        bpi_rows_fact(r, BPI_FACT_HOLD, after->recipe, after->step, k, 0,
                                      s->hold_where[k]));
            found++;
        }
        if (!found) {
            bpi_rows_option(
                r, (bpi_way){BPI_NO_INDEX, BPI_NO_INDEX, BPI_NO_INDEX, -1, false, 0, 0, 0}, 0, 0,
                bpi_rows_fact(r, BPI_FACT_NO_HOLD, after->recipe, after->step, 0, 0, s->where));
            if (m->change.implied && m->keep[BPI_COUNTER] != BPI_NO_INDEX)
                bpi_rows_need(r, m->keep[BPI_COUNTER], 1, -1);
            bpi_crew_needs(m);
        }
    }
    m->extras = 0;
    return wait;
}

uint32_t bpi_wait_make(bpi_making *m, const bpi_job *after, uint32_t from, uint32_t to,
                       uint32_t next, uint32_t box)
{
    uint32_t wait = bpi_wait_job(m, after, next, box, false);
    bpi_rows_meet(&m->rows, from, wait);
    bpi_rows_meet(&m->rows, wait, to);
    return wait;
}

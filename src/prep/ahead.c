/* src/prep/ahead.c - what is cooked ahead, cooled, stored and made ready again: the engine chooses.
 *
 * Owns     the choice, one for each container and step.
 * May use  prep/making, model/ahead.
 *
 *   at once   | simmer | waits ------------------------------------------------ | serve
 *   ahead     | simmer | waits | cool | waits ... waits | reheat | waits | serve
 *
 * Both ways stand one behind the other in one chain of jobs that meet; those of the way not taken are
 * left out, and last no time.
 */
#include "model/ahead.h"

#include "base/limits.h"
#include "prep/making.h"

/* Job a is left out (or, `unlike` it, is not) just where job b is. */
static void as(bpi_rows *r, uint32_t a, uint32_t b, bool unlike)
{
    bpi_rows_literal(r, a, 0, true);
    bpi_rows_literal(r, b, 0, unlike);
    bpi_rows_clause(r, 2, 0);
    bpi_rows_literal(r, a, 0, false);
    bpi_rows_literal(r, b, 0, !unlike);
    bpi_rows_clause(r, 2, 0);
}

static bpi_job job_at(const bpi_making *m, uint32_t job)
{
    return *BPI_ROW(m->rows.job, bpi_job, job);
}

bpi_ahead_waits bpi_ahead_make(bpi_making *m, uint32_t from, uint32_t main, uint32_t to,
                               uint32_t next, uint32_t box)
{
    bpi_rows *r = &m->rows;
    bpi_job after = job_at(m, from);
    const bpi_recipe *recipe = &m->show->recipe[after.recipe];
    bpi_ahead_waits w = {.step = bpi_ahead_first(recipe, after.step)};
    w.fresh = bpi_wait_job(m, &after, next, box, true);
    bpi_rows_meet(r, from, w.fresh);
    bpi_passage way[BPI_MAX_STEPS + 1] = {{box, after.step, next, from, w.fresh, main, to, true}};
    uint32_t ways = 1;
    uint32_t last = w.fresh, taken = BPI_NO_INDEX;
    for (uint32_t s = w.step; s != BPI_NO_INDEX && !r->failed; s = bpi_ahead_next(recipe, s)) {
        uint32_t wait = bpi_wait_job(m, &after, s, box, true), first = 0, end = 0;
        bpi_rows_meet(r, last, wait);
        way[ways++] = (bpi_passage){box, after.step, s, last, wait, main, to, true};
        bpi_steps_aside(m, box, s, &first, &end);
        bpi_rows_meet(r, wait, first);
        taken = taken == BPI_NO_INDEX ? first : taken;
        last = end;
        w.step = s;
        if (!r->failed)
            after = job_at(m, last);
    }
    w.again = r->failed ? 0 : bpi_wait_job(m, &after, next, box, true);
    bpi_rows_meet(r, last, w.again);
    bpi_rows_meet(r, w.again, to);
    way[ways++] = (bpi_passage){box, after.step, next, last, w.again, main, to, true};
    for (uint32_t j = w.fresh; j <= w.again && !r->failed; j++)
        if (j != taken)
            as(r, j, taken, j == w.fresh);
    for (uint32_t i = 0; i < ways && !r->failed; i++) /* after all that `as` has taken as one row */
        bpi_vessel_empty(m, &way[i]);
    return w;
}

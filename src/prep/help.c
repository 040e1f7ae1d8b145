/* src/prep/help.c - a second pair of hands at a hands-on step.
 *
 * Owns     the job of who helps, and what ties it to the job it helps with.
 * May use  prep/making.
 */
#include "prep/making.h"

int32_t bpi_help_minutes(const bpi_step *s, int32_t length)
{
    int32_t time = bpi_minutes_up(s->help_time);
    return s->help_time == 0 || time > length ? length : time;
}

static const bpi_step *step_of(const bpi_making *m, uint32_t help)
{
    const bpi_job *job = BPI_ROW(m->rows.job, bpi_job, help);
    return &m->show->recipe[job->recipe].step[job->step];
}

void bpi_help_options(bpi_making *m, uint32_t help, int32_t least, int32_t most)
{
    if (m->rows.failed)
        return;
    const bpi_job job = *BPI_ROW(m->rows.job, bpi_job, help);
    const bpi_step *s = step_of(m, help);
    uint32_t alone = bpi_rows_option(
        &m->rows, (bpi_way){BPI_NO_INDEX, BPI_NO_INDEX, BPI_NO_INDEX, -1, true, 0, 0, 0}, least,
        most, 0);
    bpi_crew_options_between(m, least, most, s->help_skill);
    bpi_rows_literal(&m->rows, help, alone, true);
    bpi_rows_clause(
        &m->rows, 1,
        bpi_rows_fact(&m->rows, BPI_FACT_HELP, job.recipe, job.step, 0, 0, s->help_where));
}

void bpi_help_meet(bpi_making *m, uint32_t help)
{
    if (m->rows.failed)
        return;
    uint32_t at = BPI_ROW(m->rows.job, bpi_job, help)->number;
    for (int e = 0; e < (step_of(m, help)->help_time ? 1 : 2); e++) {
        bp_eng_end end = e ? BP_ENG_END : BP_ENG_START;
        bpi_rows_lag(&m->rows, at, end, help, end, 0, 0);
        bpi_rows_lag(&m->rows, help, end, at, end, 0, 0);
    }
}

void bpi_help_make(bpi_making *m, uint32_t at, int32_t length)
{
    if (m->rows.failed)
        return;
    bpi_job job = *BPI_ROW(m->rows.job, bpi_job, at);
    uint32_t box = BPI_ROW(m->rows.serve, uint32_t, job.serve0)[0];
    job.kind = BP_OP_HELP;
    job.number = at;
    uint32_t help = bpi_rows_job(&m->rows, job, &box, 1);
    int32_t minutes = m->rows.failed ? 0 : bpi_help_minutes(step_of(m, help), length);
    bpi_help_options(m, help, minutes, minutes);
    bpi_help_meet(m, help);
}

/* src/prep/joint.c - one job for several containers, or one each: the engine chooses.
 *
 * Owns     the options that join, and what they ask of each other.
 * May use  prep/making.
 *
 * The containers that need a step which may be done together stand in a row, the one with most to
 * do ahead first. Each has a job. It is done by a cook, for itself and some that follow it in the row
 * (an option for each number of them), or it is part of the job of one before it: then it starts and
 * ends with that, and takes nothing. So a batch is some neighbours in the row, and the first has the
 * work. What a batch holds at most, and whether it may be split, is said by the step.
 *
 * An unattended step has such a row of its own, and so has what puts it on and what takes it off: who
 * is part of whom there follows it.
 */
#include <assert.h>

#include "base/limits.h"
#include "model/heating.h"
#include "prep/making.h"

static uint32_t most_of(const bpi_row *w)
{
    return w->s->together_most < w->n ? w->s->together_most : w->n;
}

int32_t bpi_joint_minutes(const bpi_making *m, const bpi_step *s, const uint32_t *box, uint32_t n)
{
    int64_t time = s->together_once + s->together_each * n, mass = 0;
    for (uint32_t i = 0; i < n && s->heat.mass_mg; i++) {
        const bpi_box *b = &m->box[box[i]];
        mass += bpi_heating_mass(&s->heat, m->live->air[b->air].swap[b->swap].size);
    }
    int32_t length = bpi_minutes_up(mass ? bpi_heating_seconds(&s->heat, mass) : time);
    return length < 1 ? 1 : length;
}

/* Of q containers from place i on. */
static int32_t minutes_of(const bpi_making *m, const bpi_row *w, uint32_t i, uint32_t q)
{
    return bpi_joint_minutes(m, w->s, w->box + i, q);
}

/* The batch that a place of the row is in where batches are not split: all but one are full. */
static uint32_t batch_of(const bpi_row *w, uint32_t i)
{
    assert(w->s->together_most > 0);
    return w->slot[i] / w->s->together_most;
}

static bool is_first(const bpi_row *w, uint32_t i)
{
    return i == 0 || batch_of(w, i - 1) != batch_of(w, i);
}

/* May the job at place i of the row be part of the one at k? */
static bool may_join(const bpi_row *w, uint32_t i, uint32_t k)
{
    if (!w->s->together_split)
        return is_first(w, k) && batch_of(w, i) == batch_of(w, k);
    return i - k < most_of(w);
}

/* May it be done for itself and what follows, q in all? */
static bool may_lead(const bpi_row *w, uint32_t i, uint32_t q)
{
    if (!w->s->together_split)
        return is_first(w, i) && i + q <= w->n && batch_of(w, i + q - 1) == batch_of(w, i) &&
               (i + q == w->n || is_first(w, i + q));
    return i + q <= w->n && q <= most_of(w);
}

uint32_t bpi_joint_option(const bpi_making *m, uint32_t job, uint32_t lead)
{
    const bp_eng_activity *a = BPI_ROW(m->rows.activity, bp_eng_activity, job);
    for (uint32_t k = 0; k < a->options; k++)
        if (BPI_ROW(m->rows.way, bpi_way, a->option0 + k)->with == lead + 1)
            return k;
    return BPI_NO_INDEX;
}

/* The job of place i, for its own appearance. */
static uint32_t job_at(bpi_making *m, bpi_job like, const bpi_row *w, uint32_t i)
{
    like.air = m->box[w->box[i]].air;
    return bpi_rows_job(&m->rows, like, &w->box[i], 1);
}

/* What makes the last job, at place i, part of one of `job` before it. `fact`: what its lengths are
 * owed to. */
static void part_options(bpi_making *m, const bpi_row *w, uint32_t i, const uint32_t *job,
                         int32_t least, int32_t most, uint32_t fact)
{
    for (uint32_t k = 0; k < i; k++)
        if (may_join(w, i, k))
            bpi_rows_option(
                &m->rows,
                (bpi_way){BPI_NO_INDEX, BPI_NO_INDEX, BPI_NO_INDEX, -1, true, job[k] + 1, 0, 0},
                least, most, fact);
}

static void add_options(bpi_making *m, const bpi_row *w, uint32_t i)
{
    uint32_t most = most_of(w);
    part_options(m, w, i, w->job, minutes_of(m, w, 0, 2), minutes_of(m, w, 0, most), 0);
    for (uint32_t q = most; q > 0; q--) {
        if (!may_lead(w, i, q))
            continue;
        bpi_crew_extra_step(m, w->box[i], w->s, true, true);
        bpi_crew_options_step(m, minutes_of(m, w, i, q), w->s);
        m->extras = 0;
    }
}

/* Option k of job a, only with (or without) option l of job b. */
static void rule(bpi_rows *r, uint32_t a, uint32_t k, uint32_t b, uint32_t l, bool without)
{
    if (l == BPI_NO_INDEX && without)
        return;
    bpi_rows_literal(r, a, k, true);
    if (l != BPI_NO_INDEX)
        bpi_rows_literal(r, b, l, without);
    bpi_rows_clause(r, l == BPI_NO_INDEX ? 1 : 2, 0);
}

static void meet(bpi_making *m, uint32_t job, uint32_t option, uint32_t lead)
{
    for (int e = 0; e < 2; e++) {
        bp_eng_end end = e ? BP_ENG_END : BP_ENG_START;
        bpi_rows_lag_if(&m->rows, lead, end, job, end, 0, job, option, 0);
        bpi_rows_lag_if(&m->rows, job, end, lead, end, 0, job, option, 0);
    }
}

/* Part of the job at k: all between are, and that one is itself no part of another. */
static void part_rules(bpi_making *m, const bpi_row *w, uint32_t i, uint32_t k)
{
    uint32_t option = bpi_joint_option(m, w->job[i], w->job[k]);
    meet(m, w->job[i], option, w->job[k]);
    if (k + 1 < i)
        rule(&m->rows, w->job[i], option, w->job[i - 1],
             bpi_joint_option(m, w->job[i - 1], w->job[k]), false);
    for (uint32_t j = 0; k + 1 == i && j < k; j++)
        rule(&m->rows, w->job[i], option, w->job[k], bpi_joint_option(m, w->job[k], w->job[j]),
             true);
}

/* Options of a job that hands are put to: one for each shift. */
static uint32_t shifts_of(const bpi_making *m)
{
    uint32_t n = 0;
    for (uint32_t c = 0; c < m->show->kitchen.cooks; c++)
        n += m->show->kitchen.cook[c].shifts;
    return n;
}

/* Done for q, by one of so many options: the last of them is part of it, and the one after is not. */
static void lead_rules(bpi_making *m, const bpi_row *w, uint32_t i, uint32_t options)
{
    bpi_rows *r = &m->rows;
    const bp_eng_activity a = *BPI_ROW(r->activity, bp_eng_activity, w->job[i]);
    uint32_t k = 0;
    while (k < a.options && BPI_ROW(r->way, bpi_way, a.option0 + k)->with)
        k++;
    for (uint32_t q = most_of(w); q > 0; q--) {
        if (!may_lead(w, i, q))
            continue;
        for (uint32_t o = 0; o < options && !r->failed; o++, k++) {
            if (q > 1)
                rule(r, w->job[i], k, w->job[i + q - 1],
                     bpi_joint_option(m, w->job[i + q - 1], w->job[i]), false);
            if (i + q < w->n)
                rule(r, w->job[i], k, w->job[i + q], bpi_joint_option(m, w->job[i + q], w->job[i]),
                     true);
        }
    }
}

static void follow(bpi_making *m, const bpi_row *w, uint32_t i, const uint32_t *job);

/* A second pair of hands for each batch. */
static void help_rows(bpi_making *m, bpi_job like, const bpi_row *w, uint32_t *help)
{
    int32_t least = bpi_help_minutes(w->s, minutes_of(m, w, 0, 1));
    int32_t most = bpi_help_minutes(w->s, minutes_of(m, w, 0, most_of(w)));
    like.kind = BP_OP_HELP;
    for (uint32_t i = 0; i < w->n && !m->rows.failed; i++) {
        like.number = w->job[i];
        help[i] = job_at(m, like, w, i);
        part_options(m, w, i, help, least, most, 0);
        if (w->s->together_split || is_first(w, i))
            bpi_help_options(m, help[i], least, most);
        bpi_help_meet(m, help[i]);
    }
    for (uint32_t i = 0; i < w->n && !m->rows.failed; i++)
        follow(m, w, i, help);
}

void bpi_joint_make(bpi_making *m, bpi_job like, bpi_row w, uint32_t *help)
{
    w.s = &m->show->recipe[like.recipe].step[like.step];
    for (uint32_t i = 0; i < w.n && !m->rows.failed; i++) {
        w.job[i] = job_at(m, like, &w, i);
        add_options(m, &w, i);
    }
    for (uint32_t i = 0; i < w.n && !m->rows.failed; i++) {
        for (uint32_t k = 0; k < i; k++)
            if (may_join(&w, i, k))
                part_rules(m, &w, i, k);
        lead_rules(m, &w, i, shifts_of(m));
    }
    if (w.s->help)
        help_rows(m, like, &w, help);
}

/* ---- unattended ---------------------------------------------------------------------------- */

/* Does anybody put so much in, at place i, for themselves? */
static bool may_lead_any(const bpi_row *w, uint32_t i)
{
    return w->s->together_split || is_first(w, i);
}

/* Hands for a batch: the job of place i, or part of one before. */
static void hands(bpi_making *m, bpi_job like, const bpi_row *w, uint32_t i, uint32_t *job,
                  int64_t time)
{
    int32_t length = bpi_minutes_up(time) < 1 ? 1 : bpi_minutes_up(time);
    bool on = like.kind == BP_OP_LOAD;
    job[i] = job_at(m, like, w, i);
    part_options(m, w, i, job, length, length, 0);
    if (!may_lead_any(w, i))
        return;
    bpi_crew_extra_step(m, w->box[i], w->s, on, false);
    bpi_crew_hands(m, w->s, length);
    m->extras = 0;
}

/* Part of another where the step is, and only there. */
static void follow(bpi_making *m, const bpi_row *w, uint32_t i, const uint32_t *job)
{
    for (uint32_t k = 0; k < i && !m->rows.failed; k++) {
        uint32_t here = bpi_joint_option(m, job[i], job[k]);
        uint32_t there = bpi_joint_option(m, w->job[i], w->job[k]);
        if (here == BPI_NO_INDEX)
            continue;
        meet(m, job[i], here, job[k]);
        rule(&m->rows, job[i], here, w->job[i], there, false);
        rule(&m->rows, w->job[i], there, job[i], here, false);
    }
}

/* The step itself: for so many containers where each makes it longer, else for as many as there are. */
static uint32_t unattended(bpi_making *m, bpi_job like, const bpi_row *w, uint32_t i, uint32_t fact)
{
    uint32_t most = most_of(w), options = 0;
    int32_t over = bpi_steps_slack(w->s);
    w->job[i] = job_at(m, like, w, i);
    bool sizes = w->s->heat.mass_mg; /* it matters which they are, not only how many */
    /* As long as the one it is part of, whose own option bounds it. */
    part_options(m, w, i, w->job, sizes ? 1 : minutes_of(m, w, 0, 1),
                 sizes ? m->horizon : minutes_of(m, w, 0, most) + over, fact);
    for (uint32_t q = most; q > 0; q--) {
        if (!may_lead(w, i, q))
            continue;
        int32_t least = minutes_of(m, w, i, q);
        options = bpi_steps_unattended(m, w->box[i], w->s, least, least + over, fact);
        if (w->s->together_each == 0)
            break;
    }
    return options;
}

void bpi_joint_unattended(bpi_making *m, bpi_job like, bpi_row w, bpi_ends ends)
{
    const bpi_kitchen *kitchen = &m->show->kitchen;
    bpi_job load = like, off = like;
    w.s = &m->show->recipe[like.recipe].step[like.step];
    load.kind = BP_OP_LOAD;
    off.kind = BP_OP_TAKE_OFF;
    like.kind = w.s->kind == BPI_OVEN ? BP_OP_OVEN : BP_OP_PASSIVE;
    like.loads = true;
    like.takes_off = ends.last != NULL;
    uint32_t fact = !ends.last ? 0
                               : bpi_rows_fact(&m->rows, BPI_FACT_WINDOW, like.recipe, like.step, 0,
                                               0, w.s->time_where);
    uint32_t options = 0;
    for (uint32_t i = 0; i < w.n && !m->rows.failed; i++) {
        hands(m, load, &w, i, ends.first, kitchen->load);
        uint32_t n = unattended(m, like, &w, i, fact);
        options = n ? n : options;
        bpi_rows_meet(&m->rows, ends.first[i], w.job[i]);
        bpi_heat_door(m, ends.first[i], w.job[i]);
        if (!ends.last)
            continue;
        hands(m, off, &w, i, ends.last, kitchen->take_off);
        bpi_rows_meet(&m->rows, w.job[i], ends.last[i]);
        bpi_heat_door(m, ends.last[i], w.job[i]);
    }
    for (uint32_t i = 0; i < w.n && !m->rows.failed; i++) {
        for (uint32_t k = 0; k < i; k++)
            if (may_join(&w, i, k))
                part_rules(m, &w, i, k);
        if (w.s->together_each)
            lead_rules(m, &w, i, options);
        follow(m, &w, i, ends.first);
        if (ends.last)
            follow(m, &w, i, ends.last);
    }
}

void bpi_joint_wait(bpi_making *m, uint32_t wait, uint32_t lead, uint32_t from, uint32_t out,
                    uint32_t to, uint32_t in)
{
    bpi_rows *r = &m->rows;
    uint32_t k = bpi_rows_option(
        r, (bpi_way){BPI_NO_INDEX, BPI_NO_INDEX, BPI_NO_INDEX, -1, true, lead + 1, 0, 0}, 0,
        m->horizon, 0);
    meet(m, wait, k, lead);
    rule(r, wait, k, from, out, false);
    rule(r, wait, k, to, in, false);
    bpi_rows_literal(r, from, out, true);
    bpi_rows_literal(r, to, in, true);
    bpi_rows_literal(r, wait, k, false);
    bpi_rows_clause(r, 3, 0);
}

/* src/prep/goal.c - the objective: crew time, waiting, hand-overs, in this order.
 *
 * Owns     the weights.
 * May use  prep/making.
 */
#include "prep/making.h"

/* One minute of waiting weighs what part of its hold it eats up, in 240ths: four hours or more
 * weigh 1, ten minutes 24. What keeps without limit still weighs 1, so that nothing is done for no
 * reason long before it is wanted. */
static int64_t fade(int32_t hold_min, int32_t horizon)
{
    if (hold_min >= horizon)
        return 1;
    int64_t weight = (240 + (int64_t)hold_min - 1) / (hold_min < 1 ? 1 : hold_min);
    return weight < 1 ? 1 : weight > 240 ? 240 : weight;
}

static int32_t slot_end(const bpi_making *m, uint32_t air)
{
    return bpi_making_up(m, bpi_live_end(m->show, &m->live->air[air]));
}

static void crew_time(bpi_making *m, uint32_t level)
{
    bpi_rows *r = &m->rows;
    int32_t end = 0;
    for (uint32_t i = 0; i < m->live->airs; i++) {
        int32_t e = slot_end(m, i);
        end = e > end ? e : end;
    }
    for (uint32_t i = 0; i < r->resource.n; i++) {
        const bpi_res *res = BPI_ROW(r->res, bpi_res, i);
        if (res->kind != BPI_RES_SHIFT)
            continue;
        const bpi_shift *shift = &m->show->kitchen.cook[res->a].shift[res->b];
        int32_t wrap = bpi_making_down(m, shift->wrap);
        if (shift->wrap > 0)
            bpi_rows_term(r, level, BP_ENG_CALL, i, 0, wrap < end ? wrap : end, 1);
        else
            bpi_rows_term(r, level, BP_ENG_REACH, i, 0, 0, 1);
    }
}

static int32_t longest(const bpi_rows *r, uint32_t act)
{
    const bp_eng_activity *a = BPI_ROW(r->activity, bp_eng_activity, act);
    int32_t most = 0;
    for (uint32_t i = 0; i < a->options; i++) {
        int32_t m = BPI_ROW(r->option, bp_eng_option, a->option0 + i)->most;
        most = m > most ? m : most;
    }
    return most;
}

static bool hands_on(const bpi_job *job)
{
    switch (job->kind) {
    case BP_OP_ACTIVE:
    case BP_OP_LOAD:
    case BP_OP_TAKE_OFF:
    case BP_OP_MEASURE:
    case BP_OP_CARRY:
        return true;
    default:
        return false;
    }
}

/* What meets what: the job that ends where this one starts, by the rows of bpi_rows_meet. */
static void hand_overs(bpi_making *m, uint32_t level)
{
    bpi_rows *r = &m->rows;
    uint32_t n = r->activity.n;
    uint32_t *before = BPI_TAKE(r->a, n, uint32_t); /* one of them; a wait or a bake has just one */
    if (!before) {
        r->failed = true;
        return;
    }
    for (uint32_t i = 0; i < r->lag.n; i++) {
        const bp_eng_lag *l = BPI_ROW(r->lag, bp_eng_lag, i);
        if (l->from_end == BP_ENG_END && l->to_end == BP_ENG_START && l->least == 0 &&
            l->fact == 0 && l->to != BP_ENG_ORIGIN && l->from != BP_ENG_ORIGIN)
            before[l->to] = l->from;
    }
    for (uint32_t i = 0; i < r->lag.n && !r->failed; i++) {
        bp_eng_lag l = *BPI_ROW(r->lag, bp_eng_lag, i);
        if (l.from_end != BP_ENG_END || l.to_end != BP_ENG_START || l.least != 0 || l.fact != 0 ||
            l.to == BP_ENG_ORIGIN || l.from == BP_ENG_ORIGIN)
            continue;
        if (!hands_on(BPI_ROW(r->job, bpi_job, l.to)))
            continue;
        uint32_t a = hands_on(BPI_ROW(r->job, bpi_job, l.from)) ? l.from : before[l.from];
        if (hands_on(BPI_ROW(r->job, bpi_job, a)))
            bpi_rows_term(r, level, BP_ENG_SPLIT, a, l.to, 0, 1);
    }
}

static bool by_a_cook(const bpi_rows *r, const bp_eng_activity *a)
{
    for (uint32_t k = 0; k < a->options; k++)
        if (BPI_ROW(r->way, bpi_way, a->option0 + k)->cook != BPI_NO_INDEX)
            return true;
    return false;
}

/* Work past the last wrap of anybody is late, as a swap-out is. A vessel is washed for work that counts
 * itself; what nobody washes is said to be at the end of the axis. */
static void past_wrap(bpi_making *m)
{
    bpi_rows *r = &m->rows;
    int32_t wrap = 0, end = 0; /* of all work as it was meant */
    for (uint32_t c = 0; c < m->show->kitchen.cooks; c++) {
        const bpi_cook *cook = &m->show->kitchen.cook[c];
        int32_t t = bpi_making_down(m, cook->shift[cook->shifts - 1].wrap);
        wrap = t > wrap ? t : wrap;
    }
    for (uint32_t i = 0; i < m->live->airs; i++) {
        int32_t t =
            slot_end(m, i) + bpi_minutes_up(m->show->segment[m->live->air[i].segment].reset);
        end = t > end ? t : end;
    }
    for (uint32_t i = 0; i < r->activity.n && !r->failed; i++) {
        bp_eng_activity a = *BPI_ROW(r->activity, bp_eng_activity, i);
        if (!by_a_cook(r, &a) || BPI_ROW(r->job, bpi_job, i)->kind == BP_OP_WASH)
            continue;
        bpi_rows_term(r, 0, BP_ENG_LATE, i, 0, wrap, 1);
        if (m->change.at_most)
            bpi_rows_not_after(r, i, BP_ENG_END, (wrap > end ? wrap : end) + m->change.at_most, 0);
    }
}

void bpi_goal_make(bpi_making *m)
{
    bpi_rows *r = &m->rows;
    uint32_t up = m->change.late ? 1 : 0;
    if (m->change.late)
        past_wrap(m);
    crew_time(m, up + BPI_GOAL_CREW);
    for (uint32_t i = 0; i < r->activity.n; i++) {
        const bpi_job *job = BPI_ROW(r->job, bpi_job, i);
        if (job->kind == BP_OP_WAIT || job->kind == BP_OP_SET)
            bpi_rows_term(r, up + BPI_GOAL_WAIT, BP_ENG_LASTS, i, 0, 0,
                          fade(longest(r, i), m->horizon));
        else if (job->kind == BP_OP_RESET)
            bpi_rows_term(r, up + BPI_GOAL_WAIT, BP_ENG_LATE, i, 0,
                          slot_end(m, job->air) + longest(r, i), 1);
    }
    if (!r->failed)
        hand_overs(m, up + BPI_GOAL_HANDS);
}

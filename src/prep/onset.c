/* src/prep/onset.c - measuring, carrying, standing on set; reset and stand-by.
 *
 * Owns     what happens between kitchen and camera.
 * May use  prep/making, live/station.
 */
#include "live/station.h"
#include "prep/making.h"

static const bpi_swap *swap_of(const bpi_making *m, const bpi_box *box)
{
    return &m->live->air[box->air].swap[box->swap];
}

static bpi_job job_of(bp_op_kind kind, uint32_t air, uint32_t recipe)
{
    return (bpi_job){
        .kind = kind, .air = air, .recipe = recipe, .step = BPI_NO_INDEX, .next = BPI_NO_INDEX};
}

static const bpi_segment *segment_of(const bpi_making *m, uint32_t air)
{
    return &m->show->segment[m->live->air[air].segment];
}

static int64_t slot_end(const bpi_making *m, uint32_t air)
{
    return bpi_live_end(m->show, &m->live->air[air]);
}

/* `late` is a moment of the latest hit; at the earliest it is this. */
static int64_t if_on_time(const bpi_making *m, uint32_t air, int64_t late)
{
    return late - segment_of(m, air)->floats;
}

static uint32_t float_fact(bpi_making *m, uint32_t air)
{
    return bpi_rows_fact(&m->rows, BPI_FACT_FLOAT, m->live->air[air].segment, 0, 0, 0,
                         segment_of(m, air)->floats_where);
}

/* Not before a moment of the latest hit: that it floats is a fact, that there is a hit is none. */
static void not_before_late(bpi_making *m, uint32_t act, bp_eng_end end, uint32_t air, int64_t late)
{
    int32_t early = bpi_making_up(m, if_on_time(m, air, late));
    bpi_rows_not_before(&m->rows, act, end, early, 0);
    if (bpi_making_up(m, late) > early)
        bpi_rows_not_before(&m->rows, act, end, bpi_making_up(m, late), float_fact(m, air));
}

static int32_t carry_minutes(const bpi_making *m)
{
    int32_t length = bpi_minutes_up(m->show->kitchen.carry);
    return length < 1 ? 1 : length;
}

void bpi_onset_carry(bpi_making *m, uint32_t b)
{
    bpi_rows *r = &m->rows;
    bpi_box *box = &m->box[b];
    const bpi_swap *w = swap_of(m, box);
    const bpi_air *air = &m->live->air[box->air];
    const bpi_segment *seg = &m->show->segment[air->segment];
    const bpi_dish *dish = &seg->dish[w->dish];
    box->carry = bpi_rows_job(r, job_of(BP_OP_CARRY, box->air, box->recipe), &b, 1);
    bpi_vessel_at_set(m, b);
    bpi_crew_options(m, carry_minutes(m), BPI_NO_INDEX);
    m->extras = 0;

    bool own = dish->lead != BPI_NO_TIME;
    bpi_where where = own ? dish->lead_where : seg->lead_where;
    if (!where.file)
        where = seg->hit[air->hit].where;
    int32_t set_by = bpi_making_down(m, w->set_by);
    if (!m->change.late)
        bpi_rows_not_after(r, box->carry, BP_ENG_END, set_by,
                           bpi_rows_fact(r, BPI_FACT_SET_BY, air->segment,
                                         own ? w->dish : BPI_NO_INDEX, air->hit, w->set_by, where));
    else
        bpi_rows_term(r, 0, BP_ENG_LATE, box->carry, 0, set_by, 1);
    if (m->change.late && m->change.at_most)
        bpi_rows_not_after(r, box->carry, BP_ENG_END, set_by + m->change.at_most, 0);
}

void bpi_onset_set(bpi_making *m, uint32_t b, int64_t hold_set, uint32_t fact)
{
    bpi_rows *r = &m->rows;
    bpi_box *box = &m->box[b];
    const bpi_swap *w = swap_of(m, box);
    int32_t last = bpi_making_up(m, w->last);
    int32_t most = m->horizon;
    if (hold_set == BPI_NO_LIMIT)
        fact = 0;
    else if (hold_set < (int64_t)m->horizon * 60)
        most = last - bpi_making_up(m, w->last - hold_set);
    box->set = bpi_rows_job(r, job_of(BP_OP_SET, box->air, box->recipe), &b, 1);
    bpi_rows_option(r, (bpi_way){BPI_NO_INDEX, BPI_NO_INDEX, BPI_NO_INDEX, -1, false, 0, 0, 0}, 0,
                    most, fact);
    bpi_vessel_at_set(m, b);
    bpi_crew_needs(m);
    m->extras = 0;
    bpi_rows_meet(r, box->carry, box->set);
    if (w->role == BPI_ROLE_TEASE)
        bpi_rows_not_before(r, box->set, BP_ENG_END, last, 0);
    else
        not_before_late(m, box->set, BP_ENG_END, box->air, w->last);
    if (!m->change.late)
        bpi_rows_not_after(r, box->set, BP_ENG_END, last, 0);
}

void bpi_onset_set_too(bpi_making *m, uint32_t b, int64_t hold_set, uint32_t fact)
{
    const bpi_box *box = &m->box[b];
    int64_t last = swap_of(m, box)->last;
    if (hold_set < (int64_t)m->horizon * 60)
        bpi_rows_lag(&m->rows, box->set, BP_ENG_END, box->set, BP_ENG_START,
                     bpi_making_up(m, last - hold_set) - bpi_making_up(m, last), fact);
}

typedef struct bpi_roomed {
    uint32_t box, wait, fact;
    int64_t hold;
} bpi_roomed;

/* From the last moment, which is where that is beyond question a number, else the end of the set. */
static void room(bpi_making *m, const bpi_roomed *w, bool number)
{
    bpi_rows *r = &m->rows;
    const bp_eng_activity *a = BPI_ROW(r->activity, bp_eng_activity, w->wait);
    const bpi_box *box = &m->box[w->box];
    int64_t last = swap_of(m, box)->last;
    int32_t from = bpi_making_up(m, last - w->hold - (int64_t)carry_minutes(m) * 60);
    for (uint32_t k = 0; k < a->options && !r->failed; k++) {
        int32_t keep = BPI_ROW(r->way, bpi_way, a->option0 + k)->keep;
        if (keep != BPI_COUNTER && !(m->change.implied && keep < 0)) /* which may become one */
            continue;
        if (number)
            bpi_rows_lag_if(r, BP_ENG_ORIGIN, BP_ENG_START, w->wait, BP_ENG_START, from, w->wait, k,
                            w->fact);
        else
            bpi_rows_lag_if(r, box->set, BP_ENG_END, w->wait, BP_ENG_START,
                            from - bpi_making_up(m, last), w->wait, k, w->fact);
    }
}

void bpi_onset_room(bpi_making *m, uint32_t b, uint32_t wait, int64_t hold, uint32_t fact)
{
    const bpi_roomed w = {b, wait, fact, hold};
    if (m->rows.failed || hold >= (int64_t)m->horizon * 60)
        return;
    if (segment_of(m, m->box[b].air)->floats == 0) {
        room(m, &w, true);
        return;
    }
    bpi_roomed *place = bpi_arena_more(m->rows.a, &m->roomed.v, &m->roomed.room, m->roomed.n,
                                       sizeof *place); /* its set is not there yet */
    m->rows.failed = !place;
    if (place)
        ((bpi_roomed *)m->roomed.v)[m->roomed.n++] = w;
}

static uint32_t items_of(const bpi_recipe *recipe, uint64_t steps)
{
    uint32_t items = 0;
    for (uint32_t i = 0; i < recipe->steps; i++)
        items += steps >> i & 1 ? recipe->step[i].ingredients : 0;
    return items;
}

/* Measured, and waiting to be carried: by whoever, in at least so many minutes. */
static void measure(bpi_making *m, uint32_t b, uint32_t items, uint32_t least)
{
    bpi_rows *r = &m->rows;
    bpi_box *box = &m->box[b];
    bpi_where where = m->show->recipe[box->recipe].where;
    uint32_t length = (items + BPI_MEASURE_EACH - 1) / BPI_MEASURE_EACH;
    bpi_job job = job_of(BP_OP_MEASURE, box->air, box->recipe);
    uint32_t act = bpi_rows_job(r, job, &b, 1);
    bpi_crew_options(m, (int32_t)(length < least ? least : length), BPI_NO_INDEX);
    uint32_t wait = bpi_wait_make(m, &job, act, box->carry, BPI_NO_INDEX, b);
    bpi_onset_room(m, b, wait, BPI_MEASURE_HOLD,
                   bpi_rows_fact(r, BPI_FACT_HOLD_SET, box->recipe, BPI_NO_INDEX, 0, 0, where));
}

void bpi_onset_beside(bpi_making *m, uint32_t b)
{
    const bpi_box *box = &m->box[b];
    uint64_t steps = bpi_live_on_air(&m->live->air[box->air], swap_of(m, box));
    uint32_t items = items_of(&m->show->recipe[box->recipe], steps);
    if (items)
        measure(m, b, items, 1);
}

void bpi_onset_measured(bpi_making *m, uint32_t b)
{
    bpi_rows *r = &m->rows;
    const bpi_recipe *recipe = &m->show->recipe[m->box[b].recipe];
    uint32_t fact =
        bpi_rows_fact(r, BPI_FACT_HOLD_SET, m->box[b].recipe, BPI_NO_INDEX, 0, 0, recipe->where);
    bpi_onset_carry(m, b);
    measure(m, b, items_of(recipe, recipe->all), BPI_MEASURE_LEAST);
    bpi_onset_set(m, b, BPI_MEASURE_HOLD, fact);
}

/* Whoever does it does it until the latest hit's slot is over. */
static void until_late(bpi_making *m, uint32_t act, int32_t late, int32_t most, uint32_t fact)
{
    bpi_rows *r = &m->rows;
    for (uint32_t k = 1; !r->failed; k++) {
        const bp_eng_activity *a = BPI_ROW(r->activity, bp_eng_activity, act);
        if (k >= a->options)
            break;
        BPI_ROW(r->option, bp_eng_option, a->option0 + k)->most = most;
        bpi_rows_lag_if(r, BP_ENG_ORIGIN, BP_ENG_START, act, BP_ENG_END, late, act, k, fact);
    }
}

static void stand_by(bpi_making *m, uint32_t air)
{
    bpi_rows *r = &m->rows;
    const bpi_air *a = &m->live->air[air];
    const bpi_segment *seg = &m->show->segment[a->segment];
    int32_t from = bpi_making_down(m, a->at - seg->lead);
    int32_t late = bpi_making_up(m, slot_end(m, air));
    int32_t to = bpi_making_up(m, if_on_time(m, air, slot_end(m, air)));
    for (uint32_t i = 0; i < seg->hands; i++) {
        bpi_job job = job_of(BP_OP_STAND_BY, air, BPI_NO_INDEX);
        job.number = i;
        job.optional = true;
        uint32_t act = bpi_rows_job(r, job, NULL, 0);
        bpi_crew_left_out(m);
        bpi_crew_options(m, to - from, BPI_NO_INDEX);
        if (late > to)
            until_late(m, act, late, late - from, float_fact(m, air));
        bpi_rows_not_before(r, act, BP_ENG_START, from, 0);
        bpi_rows_not_after(r, act, BP_ENG_START, from, 0);
        bpi_rows_literal(r, act, 0, true);
        bpi_rows_clause(r, 1,
                        bpi_rows_fact(r, BPI_FACT_HANDS, a->segment, 0, 0, 0, seg->hands_where));
    }
}

/* A container for a tease that comes before the slot before has ended cannot wait for its reset. */
static bool teased_before(const bpi_making *m, const bpi_box *box, int64_t end)
{
    const bpi_swap *w = swap_of(m, box);
    return w->tease != BPI_NO_INDEX && w->set_by < end;
}

static void reset(bpi_making *m, uint32_t air)
{
    bpi_rows *r = &m->rows;
    const bpi_air *a = &m->live->air[air];
    const bpi_segment *seg = &m->show->segment[a->segment];
    int32_t length = bpi_minutes_up(seg->reset);
    uint32_t fact = bpi_rows_fact(r, BPI_FACT_RESET, a->segment, 0, 0, 0,
                                  seg->reset_where.file ? seg->reset_where : seg->where);
    bpi_job job = job_of(BP_OP_RESET, air, BPI_NO_INDEX);
    job.optional = true;
    uint32_t act = bpi_rows_job(r, job, NULL, 0);
    bpi_crew_left_out(m);
    bpi_crew_options(m, length < 1 ? 1 : length, BPI_NO_INDEX);
    not_before_late(m, act, BP_ENG_START, air, slot_end(m, air));
    bpi_rows_literal(r, act, 0, true);
    bpi_rows_clause(r, 1, fact);
    for (uint32_t b = 0; b < m->boxes; b++)
        if (m->box[b].air > air && m->box[b].carry != BPI_NO_INDEX &&
            !teased_before(m, &m->box[b], slot_end(m, air)))
            bpi_rows_lag(r, act, BP_ENG_END, m->box[b].carry, BP_ENG_START, 0, fact);
}

/* ---- dressing ------------------------------------------------------------------------------- */

/* BPI_NO_INDEX: in no order, or it is not carried. */
static uint32_t dressed_as(const bpi_making *m, uint32_t air, uint32_t b)
{
    const bpi_box *box = &m->box[b];
    if (box->air != air || box->carry == BPI_NO_INDEX)
        return BPI_NO_INDEX;
    return bpi_station_dress(segment_of(m, air), &m->live->air[air], swap_of(m, box));
}

/* The least place above `rank` that a container has; BPI_NO_INDEX: none has. */
static uint32_t place_after(const bpi_making *m, uint32_t air, uint32_t rank)
{
    uint32_t next = BPI_NO_INDEX;
    for (uint32_t b = 0; b < m->boxes; b++) {
        uint32_t is = dressed_as(m, air, b);
        if (is != BPI_NO_INDEX && is > rank && is < next)
            next = is;
    }
    return next;
}

/* What is set at one place waits for all of the place before, and so for those before that. */
static void dress(bpi_making *m, uint32_t air)
{
    const bpi_segment *seg = segment_of(m, air);
    uint32_t fact = 0;
    for (uint32_t rank = 0; rank <= seg->dresses && seg->dresses; rank++) {
        uint32_t next = place_after(m, air, rank);
        for (uint32_t a = 0; a < m->boxes; a++)
            for (uint32_t b = 0; b < m->boxes && dressed_as(m, air, a) == rank; b++) {
                if (next == BPI_NO_INDEX || dressed_as(m, air, b) != next)
                    continue;
                if (!fact)
                    fact = bpi_rows_fact(&m->rows, BPI_FACT_DRESS, m->live->air[air].segment, 0, 0,
                                         0, seg->dress_where);
                bpi_rows_lag(&m->rows, m->box[a].carry, BP_ENG_END, m->box[b].carry, BP_ENG_START,
                             0, fact);
            }
    }
}

void bpi_onset_make(bpi_making *m)
{
    for (size_t i = 0; i < m->roomed.n && !m->rows.failed; i++)
        room(m, (const bpi_roomed *)m->roomed.v + i, false);
    for (uint32_t i = 0; i < m->live->airs; i++) {
        stand_by(m, i);
        dress(m, i);
        if (i + 1 < m->live->airs)
            reset(m, i);
    }
    bpi_vessel_strike(m);
}

/* src/prep/vessel.c - vessels that are washed before they are used again: what food is in, where it is
 * emptied, and the washing.
 *
 * Owns     what of each vessel a container's food is in at each step.
 * May use  prep/making, model/ahead.
 *
 *   | simmer | waits | blend | ... | carry | set |   the pot, as long as no step names another
 *                    | dirty ...       | wash |      where "blend" names a bowl
 *
 * A vessel that is emptied is dirty until somebody washes it, or to the end of the axis: then nobody
 * does. Where there are as many of a kind as are ever used, nothing is dirty that anybody wants.
 */
#include "base/limits.h"
#include "model/ahead.h"
#include "prep/making.h"

static const bpi_swap *swap_of(const bpi_making *m, uint32_t box)
{
    return &m->live->air[m->box[box].air].swap[m->box[box].swap];
}

static const bpi_recipe *recipe_of(const bpi_making *m, uint32_t box)
{
    return &m->show->recipe[m->box[box].recipe];
}

static bool skipped(const bpi_making *m, uint32_t box)
{
    return m->change.skip && m->change.skip[box];
}

static bool names_vessel(const bpi_making *m, const bpi_step *s)
{
    for (uint32_t i = 0; i < s->tools; i++)
        if (m->show->kitchen.tool[s->tool[i]].vessel)
            return true;
    return false;
}

static uint32_t named(const bpi_step *s, uint32_t tool)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < s->tools; i++)
        n += s->tool[i] == tool;
    return n;
}

static uint16_t *inside(const bpi_making *m, uint32_t box, uint32_t step)
{
    return &m->inside[((size_t)box * BPI_MAX_STEPS + step) * m->vessels];
}

/* The step that goes on with the vessels of step p; BPI_NO_INDEX: they go to the set. */
static uint32_t heir(const bpi_making *m, uint32_t box, uint32_t p)
{
    const bpi_recipe *r = recipe_of(m, box);
    for (uint32_t i = 0; i < r->steps; i++)
        if ((swap_of(m, box)->steps >> r->order[i] & 1) &&
            (bpi_steps_before(r, r->order[i]) >> p & 1))
            return r->order[i];
    return BPI_NO_INDEX;
}

/* A batch that its last job together has divided goes on in something else; so does one that may be
 * cooked ahead, as each container is by itself. */
static bool divided(const bpi_recipe *r, uint32_t p, uint32_t next)
{
    return r->step[p].together && (next == BPI_NO_INDEX || !r->step[next].together ||
                                   bpi_ahead_first(r, p) != BPI_NO_INDEX);
}

static uint32_t last_ahead(const bpi_recipe *r, uint32_t p)
{
    uint32_t last = BPI_NO_INDEX;
    for (uint32_t a = bpi_ahead_first(r, p); a != BPI_NO_INDEX; a = bpi_ahead_next(r, a))
        last = a;
    return last;
}

/* How many of vessel k go on from step p to what comes after it, whichever way. */
static uint16_t passed(const bpi_making *m, uint32_t box, uint32_t p, uint32_t next, uint32_t k)
{
    const bpi_recipe *r = recipe_of(m, box);
    uint32_t last = last_ahead(r, p);
    if (divided(r, p, next) ||
        (last != BPI_NO_INDEX && inside(m, box, last)[k] != inside(m, box, p)[k]))
        return 0;
    return inside(m, box, p)[k];
}

/* Of vessel k: what step s has of the first of those it builds on, up to `upto`. */
static uint32_t had_before(const bpi_making *m, uint32_t box, uint32_t s, uint32_t upto, uint32_t k)
{
    uint64_t before = bpi_steps_before(recipe_of(m, box), s);
    uint32_t n = 0;
    for (uint32_t p = 0; p < upto; p++)
        if ((before >> p & 1) && heir(m, box, p) == s)
            n += passed(m, box, p, s, k);
    return n;
}

static void find_inside(bpi_making *m, uint32_t box, uint32_t s, uint32_t from)
{
    const bpi_recipe *r = recipe_of(m, box);
    bool own = names_vessel(m, &r->step[s]);
    for (uint32_t k = 0; k < m->vessels; k++) {
        uint32_t n = named(&r->step[s], m->wash_tool[k]);
        if (!own && from != BPI_NO_INDEX)
            n = divided(r, from, s) ? 0 : inside(m, box, from)[k];
        else if (!own)
            n = had_before(m, box, s, r->steps, k);
        inside(m, box, s)[k] = (uint16_t)n;
    }
}

/* How many of vessel k the food is in when it goes to the set. */
static uint32_t came_in(const bpi_making *m, uint32_t box, uint32_t k)
{
    const bpi_recipe *r = recipe_of(m, box);
    uint32_t came = 0;
    for (uint32_t s = 0; s < r->steps; s++)
        if ((swap_of(m, box)->steps >> s & 1) && heir(m, box, s) == BPI_NO_INDEX)
            came += passed(m, box, s, BPI_NO_INDEX, k);
    return came;
}

static uint32_t at_set(const bpi_making *m, uint32_t box, uint32_t k)
{
    const bpi_recipe *r = recipe_of(m, box);
    uint64_t air = bpi_live_on_air(&m->live->air[m->box[box].air], swap_of(m, box));
    uint32_t came = came_in(m, box, k), most = 0;
    for (uint32_t s = 0; s < r->steps; s++) {
        uint32_t n = air >> s & 1 ? named(&r->step[s], m->wash_tool[k]) : 0;
        most = n > most ? n : most;
    }
    return came > most ? came : most;
}

/* How many of vessel k are taken clean for a container, at most. */
static uint32_t taken(const bpi_making *m, uint32_t box, uint32_t k)
{
    const bpi_recipe *r = recipe_of(m, box);
    uint64_t steps = swap_of(m, box)->steps;
    uint32_t n = at_set(m, box, k), came = 0;
    for (uint32_t s = 0; s < r->steps; s++) {
        bool ahead = r->step[s].ahead != BPI_NO_INDEX && (steps >> r->step[s].ahead & 1);
        if (!(steps >> s & 1) && !ahead)
            continue;
        uint32_t had = ahead ? 0 : had_before(m, box, s, r->steps, k);
        n += inside(m, box, s)[k] > had ? inside(m, box, s)[k] - had : 0;
        if (!ahead && heir(m, box, s) == BPI_NO_INDEX)
            came += passed(m, box, s, BPI_NO_INDEX, k);
    }
    return n - came;
}

void bpi_vessel_find(bpi_making *m)
{
    const bpi_kitchen *kitchen = &m->show->kitchen;
    uint32_t *tool = BPI_TAKE(m->rows.a, kitchen->tools, uint32_t);
    bool *scarce = BPI_TAKE(m->rows.a, kitchen->tools, bool);
    m->rows.failed |= !tool || !scarce;
    for (uint32_t t = 0; t < kitchen->tools && !m->rows.failed; t++)
        if (kitchen->tool[t].wash)
            tool[m->washed++] = t;
    m->vessels = m->washed;
    for (uint32_t t = 0; t < kitchen->tools && !m->rows.failed; t++)
        if (kitchen->tool[t].vessel && !kitchen->tool[t].wash)
            tool[m->vessels++] = t;
    m->wash_tool = tool;
    m->scarce = scarce;
    m->inside = BPI_TAKE(m->rows.a, (size_t)m->boxes * BPI_MAX_STEPS * m->vessels, uint16_t);
    m->rows.failed |= !m->inside;
    for (uint32_t b = 0; b < m->boxes && m->vessels && !m->rows.failed; b++) {
        const bpi_recipe *r = recipe_of(m, b);
        for (uint32_t i = 0; i < r->steps && !skipped(m, b); i++) {
            uint32_t s = r->order[i], from = s;
            if (!(swap_of(m, b)->steps >> s & 1))
                continue;
            find_inside(m, b, s, BPI_NO_INDEX);
            for (uint32_t a = bpi_ahead_first(r, s); a != BPI_NO_INDEX; a = bpi_ahead_next(r, a)) {
                find_inside(m, b, a, from);
                from = a;
            }
        }
    }
    for (uint32_t k = 0; k < m->washed && !m->rows.failed; k++) {
        uint64_t uses = 0;
        for (uint32_t b = 0; b < m->boxes; b++)
            uses += skipped(m, b) ? 0 : taken(m, b, k);
        scarce[k] = uses > kitchen->tool[m->wash_tool[k]].count;
    }
}

const uint16_t *bpi_vessel_gone(bpi_making *m)
{
    uint32_t tools = m->show->kitchen.tools;
    uint16_t *gone = BPI_TAKE(m->rows.a, (size_t)m->boxes * tools, uint16_t);
    m->rows.failed |= !gone;
    for (uint32_t b = 0; b < m->boxes && gone; b++)
        for (uint32_t k = m->washed; k < m->vessels; k++)
            gone[(size_t)b * tools + m->wash_tool[k]] = (uint16_t)came_in(m, b, k);
    return gone;
}

/* ---- where food is -------------------------------------------------------------------------- */

static void take(bpi_making *m, uint32_t k, uint32_t n)
{
    if (n)
        bpi_crew_extra(m, m->tool0 + m->wash_tool[k], (int32_t)n);
}

void bpi_vessel_at_step(bpi_making *m, uint32_t box, uint32_t step)
{
    if (!m->washed || names_vessel(m, &recipe_of(m, box)->step[step]))
        return; /* it takes what it names */
    for (uint32_t k = 0; k < m->washed; k++)
        take(m, k, inside(m, box, step)[k]);
}

/* Do the vessels of `step` wait for `next`? */
static bool waits_in(const bpi_making *m, uint32_t box, uint32_t step, uint32_t next)
{
    const bpi_recipe *r = recipe_of(m, box);
    uint32_t of = r->step[step].ahead != BPI_NO_INDEX ? r->step[step].ahead : step;
    if (divided(r, step, next))
        return false;
    return (next != BPI_NO_INDEX && r->step[next].ahead == of) || heir(m, box, of) == next;
}

void bpi_vessel_at_wait(bpi_making *m, uint32_t box, uint32_t step, uint32_t next)
{
    for (uint32_t k = 0; k < m->washed && waits_in(m, box, step, next); k++)
        take(m, k, inside(m, box, step)[k]);
}

void bpi_vessel_at_set(bpi_making *m, uint32_t box)
{
    for (uint32_t k = 0; k < m->washed; k++)
        take(m, k, at_set(m, box, k));
}

/* ---- where it is emptied, and the washing ----------------------------------------------------- */

/* What makes it so that nothing is emptied there: any of these options. */
typedef struct excuse {
    uint32_t job, option;
} excuse;

typedef struct emptied {
    uint32_t box, step, k, amount;
    uint32_t after; /* the job at whose end it is */
    const excuse *unless;
    uint32_t n;
} emptied;

/* Job a takes its first option just where one of the excuses holds. */
static void left_out_with(bpi_making *m, uint32_t a, const emptied *e)
{
    bpi_rows *r = &m->rows;
    bpi_rows_literal(r, a, 0, true);
    for (uint32_t i = 0; i < e->n; i++)
        bpi_rows_literal(r, e->unless[i].job, e->unless[i].option, false);
    bpi_rows_clause(r, e->n + 1, 0);
    for (uint32_t i = 0; i < e->n; i++) {
        bpi_rows_literal(r, a, 0, false);
        bpi_rows_literal(r, e->unless[i].job, e->unless[i].option, true);
        bpi_rows_clause(r, 2, 0);
    }
}

static bpi_job job_of(const bpi_making *m, const emptied *e, bp_op_kind kind)
{
    return (bpi_job){.kind = kind,
                     .air = m->box[e->box].air,
                     .recipe = m->box[e->box].recipe,
                     .step = e->step,
                     .next = BPI_NO_INDEX,
                     .number = m->wash_tool[e->k],
                     .optional = e->n > 0};
}

/* It stands dirty. */
static uint32_t dirty(bpi_making *m, const emptied *e)
{
    bpi_rows *r = &m->rows;
    uint32_t stands = bpi_rows_job(r, job_of(m, e, BP_OP_DIRTY), &e->box, 1);
    if (e->n)
        bpi_crew_left_out(m);
    take(m, e->k, e->amount);
    bpi_rows_option(r, (bpi_way){BPI_NO_INDEX, BPI_NO_INDEX, BPI_NO_INDEX, -1, false, 0, 0, 0}, 0,
                    m->horizon, 0);
    bpi_crew_needs(m);
    m->extras = 0;
    bpi_rows_meet(r, e->after, stands);
    if (e->n)
        left_out_with(m, stands, e);
    return stands;
}

static uint32_t options_of(const bpi_making *m, uint32_t job)
{
    return BPI_ROW(m->rows.activity, bp_eng_activity, job)->options;
}

/* When the last slot is over, or may be where all may be late: nothing is washed after it, as nobody uses
 * it again, and whoever did nothing else would be called below nothing early. */
static int32_t end_of_work(const bpi_making *m)
{
    int32_t end = 0;
    for (uint32_t i = 0; i < m->live->airs; i++) {
        int32_t t = bpi_making_up(m, bpi_live_end(m->show, &m->live->air[i]));
        end = t > end ? t : end;
    }
    if (m->change.late)
        end = m->change.at_most ? end + m->change.at_most : m->horizon;
    return end < m->horizon ? end : m->horizon;
}

/* It stands dirty, and then somebody washes it, or nobody does to the end. Returns the washing. */
static uint32_t washed(bpi_making *m, const emptied *e)
{
    bpi_rows *r = &m->rows;
    const bpi_tool *tool = &m->show->kitchen.tool[m->wash_tool[e->k]];
    uint32_t stands = dirty(m, e);
    uint32_t wash = bpi_rows_job(r, job_of(m, e, BP_OP_WASH), &e->box, 1);
    if (e->n)
        bpi_crew_left_out(m);
    take(m, e->k, e->amount);
    if (tool->wash_at != BPI_NO_INDEX)
        bpi_crew_extra(m, m->tool0 + tool->wash_at, 1);
    uint32_t never = bpi_rows_option(
        r, (bpi_way){BPI_NO_INDEX, BPI_NO_INDEX, BPI_NO_INDEX, -1, true, 0, 0, 0}, 0, 0, 0);
    bpi_crew_options(m, bpi_minutes_up(tool->wash * e->amount), BPI_NO_INDEX);
    m->extras = 0;
    bpi_rows_meet(r, stands, wash);
    int32_t end = end_of_work(m);
    for (uint32_t o = never + 1; !r->failed && o < options_of(m, wash); o++)
        bpi_rows_lag_if(r, wash, BP_ENG_END, BP_ENG_ORIGIN, BP_ENG_START, -end, wash, o, 0);
    bpi_rows_lag_if(r, BP_ENG_ORIGIN, BP_ENG_START, wash, BP_ENG_START, m->horizon, wash, never,
                    bpi_rows_fact(r, BPI_FACT_WASH, m->wash_tool[e->k], 0, 0, 0, tool->wash_where));
    if (e->n)
        left_out_with(m, wash, e);
    return wash;
}

/* The options of a job that make it part of another, or that do not. */
static uint32_t excuses(const bpi_making *m, excuse *out, uint32_t job, bool part)
{
    const bp_eng_activity *a = BPI_ROW(m->rows.activity, bp_eng_activity, job);
    uint32_t n = 0;
    for (uint32_t o = 0; o < a->options; o++)
        if ((BPI_ROW(m->rows.way, bpi_way, a->option0 + o)->with != 0) == part)
            out[n++] = (excuse){job, o};
    return n;
}

/* Of vessel k, how many of `step` the step after it does not go on with. */
static uint32_t not_kept(const bpi_making *m, const bpi_passage *w, uint32_t k)
{
    const bpi_recipe *r = recipe_of(m, w->box);
    uint32_t there = inside(m, w->box, w->step)[k], of = r->step[w->step].ahead, kept;
    of = of == BPI_NO_INDEX ? w->step : of;
    if (w->next == BPI_NO_INDEX)
        return there - passed(m, w->box, of, w->next, k);
    kept = inside(m, w->box, w->next)[k];
    if (r->step[w->next].ahead != of) {
        uint32_t others = had_before(m, w->box, w->next, of, k);
        kept = kept > others ? kept - others : 0;
    }
    return there > kept ? there - kept : 0;
}

void bpi_vessel_empty(bpi_making *m, const bpi_passage *w)
{
    if (!m->washed || m->rows.failed)
        return;
    const bpi_recipe *r = recipe_of(m, w->box);
    bool parts = divided(r, w->step, w->next), first = heir(m, w->box, w->step) == w->next;
    bool batch = !parts && w->next != BPI_NO_INDEX && r->step[w->next].together;
    /* What is cooked ahead has two ways on: it is divided before it takes either. */
    if (parts ? !first ||
                    (w->aside && w->next != BPI_NO_INDEX && r->step[w->next].ahead != BPI_NO_INDEX)
              : !waits_in(m, w->box, w->step, w->next))
        return;
    excuse *unless = BPI_TAKE(
        m->rows.a,
        (size_t)options_of(m, w->main) + options_of(m, w->wait) + options_of(m, w->to) + 1, excuse);
    m->rows.failed |= !unless;
    for (uint32_t k = 0; k < m->washed && !m->rows.failed; k++) {
        uint32_t there = inside(m, w->box, w->step)[k];
        emptied e = {
            w->box, w->step, k, parts ? there : not_kept(m, w, k), parts ? w->last : w->wait,
            unless, 0};
        if (parts)
            e.n = excuses(m, unless, w->main, true);
        else if (w->aside)
            unless[e.n++] = (excuse){w->wait, 0};
        else if (batch) /* waits of one batch that stay one have one vessel */
            e.n = excuses(m, unless, w->wait, true);
        if (batch && !e.amount) { /* in a vessel of its own, it joins a batch that has one */
            e.amount = there;
            e.n += excuses(m, unless + e.n, w->to, false);
        }
        if (m->scarce[k] && e.amount)
            washed(m, &e);
    }
}

static uint32_t reset_of(const bpi_making *m, uint32_t air)
{
    for (uint32_t j = 0; j < m->rows.job.n; j++)
        if (BPI_ROW(m->rows.job, bpi_job, j)->kind == BP_OP_RESET &&
            BPI_ROW(m->rows.job, bpi_job, j)->air == air)
            return j;
    return BPI_NO_INDEX;
}

void bpi_vessel_strike(bpi_making *m)
{
    for (uint32_t b = 0; b < m->boxes && m->washed && !m->rows.failed; b++) {
        uint32_t reset = reset_of(m, m->box[b].air);
        if (skipped(m, b) || m->box[b].set == BPI_NO_INDEX)
            continue;
        for (uint32_t k = 0; k < m->washed && !m->rows.failed; k++) {
            emptied e = {b, BPI_NO_INDEX, k, at_set(m, b, k), m->box[b].set, NULL, 0};
            if (!m->scarce[k] || !e.amount)
                continue;
            if (reset == BPI_NO_INDEX) { /* the last appearance: nobody clears it */
                bpi_rows_not_before(&m->rows, dirty(m, &e), BP_ENG_END, m->horizon, 0);
                continue;
            }
            uint32_t wash = washed(m, &e);
            for (uint32_t o = 1; !m->rows.failed && o < options_of(m, wash); o++)
                bpi_rows_lag_if(&m->rows, reset, BP_ENG_END, wash, BP_ENG_START, 0, wash, o, 0);
        }
    }
}

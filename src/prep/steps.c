/* src/prep/steps.c - the steps of every container as jobs, and the waits between them.
 *
 * Owns     the order in which containers come to a step that may be done together.
 * May use  prep/making.
 */
#include "base/limits.h"
#include "model/ahead.h"
#include "prep/making.h"

/* The jobs of a container's step. */
typedef struct node {
    uint32_t box, step;
    uint32_t first, main, last;
} node;

typedef struct nodes {
    node *of;        /* boxes x BPI_MAX_STEPS */
    uint32_t *order; /* boxes: of one appearance and recipe, the one with most to do first; of
                        several appearances, where a step may serve them, the earlier one first */
    uint32_t *row, *slot, *job, *first, *last, *help; /* scratch, boxes */
} nodes;

static const bpi_swap *swap_of(const bpi_making *m, uint32_t box)
{
    return &m->live->air[m->box[box].air].swap[m->box[box].swap];
}

static bool skipped(const bpi_making *m, uint32_t box)
{
    return m->change.skip && m->change.skip[box];
}

static bool is_apart(const bpi_making *m, uint32_t box)
{
    return m->change.apart && m->change.apart[box];
}

uint64_t bpi_steps_before(const bpi_recipe *r, uint32_t s)
{
    uint64_t after = r->step[s].after;
    uint64_t kept = after;
    for (uint32_t i = 0; i < r->steps; i++)
        if (after >> i & 1)
            kept &= ~r->step[i].before_all;
    return kept;
}

static node *node_of(const nodes *g, uint32_t box, uint32_t step)
{
    return &g->of[box * BPI_MAX_STEPS + step];
}

/* Seconds of work and cooking ahead. */
static int64_t load_of(const bpi_making *m, uint32_t box)
{
    const bpi_recipe *r = &m->show->recipe[m->box[box].recipe];
    int64_t sum = 0;
    for (uint32_t s = 0; s < r->steps; s++)
        if (swap_of(m, box)->steps >> s & 1)
            sum += r->step[s].together && r->step[s].kind == BPI_ACTIVE ? r->step[s].together_each
                                                                        : r->step[s].time.likely;
    return sum;
}

static const bpi_recipe *recipe_of(const bpi_making *m, const node *n)
{
    return &m->show->recipe[m->box[n->box].recipe];
}

static bool any_across(const bpi_making *m)
{
    for (uint32_t i = 0; i < m->show->recipes; i++)
        for (uint32_t s = 0; s < m->show->recipe[i].steps; s++)
            if (m->show->recipe[i].step[s].together_across)
                return true;
    return false;
}

/* Does container a stand before b in a row? */
static bool stands_before(const bpi_making *m, uint32_t a, uint32_t b, bool across)
{
    if (across && m->box[a].air != m->box[b].air)
        return m->box[a].air < m->box[b].air;
    return load_of(m, a) >= load_of(m, b);
}

static bool find_nodes(bpi_making *m, nodes *g)
{
    g->of = BPI_TAKE(m->rows.a, (size_t)m->boxes * BPI_MAX_STEPS, node);
    g->order = BPI_TAKE(m->rows.a, m->boxes, uint32_t);
    g->row = BPI_TAKE(m->rows.a, m->boxes, uint32_t);
    g->slot = BPI_TAKE(m->rows.a, m->boxes, uint32_t);
    g->job = BPI_TAKE(m->rows.a, m->boxes, uint32_t);
    g->first = BPI_TAKE(m->rows.a, m->boxes, uint32_t);
    g->last = BPI_TAKE(m->rows.a, m->boxes, uint32_t);
    g->help = BPI_TAKE(m->rows.a, m->boxes, uint32_t);
    if (!g->of || !g->order || !g->row || !g->slot || !g->job || !g->first || !g->last ||
        !g->help) {
        m->rows.failed = true;
        return false;
    }
    bool across = any_across(m);
    for (uint32_t b = 0; b < m->boxes; b++) {
        uint32_t at = b;
        for (; at > 0 && !stands_before(m, g->order[at - 1], b, across); at--)
            g->order[at] = g->order[at - 1];
        g->order[at] = b;
        for (uint32_t s = 0; s < BPI_MAX_STEPS; s++)
            *node_of(g, b, s) = (node){.box = b, .step = s};
    }
    return true;
}

/* Least and most minutes of an unattended step; false: no whole minute lies between. */
static bool window(const bpi_step *s, int32_t *least, int32_t *most)
{
    if (s->time.window) {
        *least = bpi_minutes_up(s->time.least);
        *most = bpi_minutes_down(s->time.most);
    } else if (s->time.uncertain)
        *least = *most = bpi_minutes_up(s->time.likely);
    else {
        *least = bpi_minutes_up(s->time.likely);
        *most = bpi_minutes_down(s->time.likely);
    }
    return *least <= *most;
}

static bool stays(const bpi_step *s)
{
    uint32_t keep = s->keep < 0 ? BPI_COUNTER : (uint32_t)s->keep;
    return !s->burner && !s->time.window && (!s->hold_stated || s->hold[keep] > 0);
}

static bpi_job job_of(const bpi_making *m, const node *n, bp_op_kind kind)
{
    return (bpi_job){.kind = kind,
                     .air = m->box[n->box].air,
                     .recipe = m->box[n->box].recipe,
                     .step = n->step,
                     .next = BPI_NO_INDEX};
}

/* Its work; or, where the job is another's than that, to put it on or take it off. */
static uint32_t hands_on(bpi_making *m, bpi_job job, const node *n, const bpi_step *s, int64_t time)
{
    uint32_t number = bpi_rows_job(&m->rows, job, &n->box, 1);
    int32_t length = bpi_minutes_up(time) < 1 ? 1 : bpi_minutes_up(time);
    if (job.optional)
        bpi_crew_left_out(m);
    if (job.kind == BP_OP_ACTIVE)
        bpi_crew_options_step(m, length, s);
    else
        bpi_crew_hands(m, s, length);
    m->extras = 0;
    return number;
}

int32_t bpi_steps_slack(const bpi_step *s)
{
    int32_t least, most;
    return window(s, &least, &most) ? most - least : 0;
}

/* There is one: the reader lets no step through that bakes where there is no such oven. */
static uint32_t oven_options(bpi_making *m, const bpi_step *s, int32_t least, int32_t most,
                             uint32_t fact)
{
    bpi_rows *r = &m->rows;
    uint32_t n = 0;
    for (uint32_t o = 0; o < m->show->kitchen.ovens; o++) {
        if (!bpi_heat_takes(s, o))
            continue;
        bpi_rows_option(r, (bpi_way){BPI_NO_INDEX, BPI_NO_INDEX, o, -1, false, 0, 0, 0}, least,
                        most, fact);
        bpi_rows_need(r, m->oven0 + o, 1, bpi_heat_state(m, o, s->oven_mC));
        bpi_crew_needs(m);
        n++;
    }
    return n;
}

uint32_t bpi_steps_unattended(bpi_making *m, uint32_t box, const bpi_step *s, int32_t least,
                              int32_t most, uint32_t fact)
{
    uint32_t n = 1;
    bpi_crew_extra_step(m, box, s, true, true);
    if (s->kind == BPI_OVEN)
        n = oven_options(m, s, least, most, fact);
    else if (s->keep >= 0)
        n = bpi_crew_stand(m, (uint32_t)s->keep, least, most, fact);
    else {
        bpi_rows_option(&m->rows,
                        (bpi_way){BPI_NO_INDEX, BPI_NO_INDEX, BPI_NO_INDEX, -1, false, 0, 0, 0},
                        least, most, fact);
        bpi_crew_needs(m);
    }
    m->extras = 0;
    return n;
}

/* An unattended step may follow at once on what ended with hands on the same container. */
static bool may_follow(const bpi_making *m, const node *n, const bpi_step *s)
{
    uint64_t before = bpi_steps_before(recipe_of(m, n), n->step);
    if (s->kind != BPI_PASSIVE || s->ingredients || !before || (before & (before - 1)))
        return false;
    uint32_t p = 0;
    while (!(before >> p & 1))
        p++;
    const bpi_step *ps = &recipe_of(m, n)->step[p];
    int32_t least, most;
    bool left_alone = ps->kind == BPI_PASSIVE && window(ps, &least, &most) && stays(ps);
    return !ps->together && !left_alone && bpi_ahead_first(recipe_of(m, n), p) == BPI_NO_INDEX;
}

/* Does container b need the step of n, for an appearance that it may be done together for? */
static bool needs_too(const bpi_making *m, const node *n, uint32_t b)
{
    return m->box[b].recipe == m->box[n->box].recipe && !skipped(m, b) &&
           (m->box[b].air == m->box[n->box].air ||
            recipe_of(m, n)->step[n->step].together_across) &&
           (swap_of(m, b)->steps >> n->step & 1);
}

/* In one row: all that need it but those for which nothing is done together. */
static bool in_row(const bpi_making *m, const node *n, uint32_t b)
{
    return is_apart(m, n->box) ? b == n->box : needs_too(m, n, b) && !is_apart(m, b);
}

/* A step that may be done together: the jobs of all containers that need it. */
static void joint_jobs(bpi_making *m, const nodes *g, const node *n)
{
    uint32_t row = 0, slot = 0;
    for (uint32_t i = 0; i < m->boxes; i++) {
        uint32_t b = g->order[i];
        if (in_row(m, n, b)) {
            g->slot[row] = slot;
            g->row[row++] = b;
        }
        slot += needs_too(m, n, b);
    }
    bpi_job job = job_of(m, n, BP_OP_ACTIVE);
    const bpi_row w = {NULL, row, g->row, g->slot, g->job};
    const bpi_step *s = &recipe_of(m, n)->step[n->step];
    bool hands = s->kind == BPI_ACTIVE, leaves = !hands && (s->kind == BPI_OVEN || !stays(s));
    if (hands)
        bpi_joint_make(m, job, w, g->help);
    else
        bpi_joint_unattended(m, job, w, (bpi_ends){g->first, leaves ? g->last : NULL});
    for (uint32_t i = 0; i < row; i++) {
        node *of = node_of(g, g->row[i], n->step);
        of->first = hands ? g->job[i] : g->first[i];
        of->main = g->job[i];
        of->last = leaves ? g->last[i] : g->job[i];
    }
}

static bool first_in_row(const bpi_making *m, const node *n)
{
    for (uint32_t b = 0; b < n->box; b++)
        if (in_row(m, n, b))
            return false;
    return true;
}

/* The jobs of a step for one container. `aside`: each may be left out, by its first option. */
static void own_jobs(bpi_making *m, node *n, bool aside)
{
    bpi_rows *r = &m->rows;
    const bpi_kitchen *kitchen = &m->show->kitchen;
    const bpi_step *s = &recipe_of(m, n)->step[n->step];
    int32_t least, most;
    bool fits = window(s, &least, &most);
    bool oven = s->kind == BPI_OVEN;
    if (s->kind == BPI_ACTIVE ||
        (s->kind == BPI_PASSIVE && !fits && (s->burner || s->time.window))) {
        int64_t time = s->kind == BPI_ACTIVE ? s->time.likely : s->time.least;
        bpi_crew_extra_step(m, n->box, s, true, true);
        if (s->kind == BPI_PASSIVE && s->keep >= 0)
            bpi_crew_extra(m, m->keep[s->keep], 1);
        bpi_job job = job_of(m, n, BP_OP_ACTIVE);
        job.optional = aside;
        n->first = n->main = n->last = hands_on(m, job, n, s, time);
        if (s->help)
            bpi_help_make(m, n->main, bpi_minutes_up(time) < 1 ? 1 : bpi_minutes_up(time));
        return;
    }
    if (!fits)
        most = least;
    if (s->heat.mass_mg)
        least = most = bpi_joint_minutes(m, s, &n->box, 1);

    bpi_job load = job_of(m, n, BP_OP_LOAD);
    load.optional = aside || may_follow(m, n, s);
    bpi_crew_extra_step(m, n->box, s, true, false);
    n->first = hands_on(m, load, n, s, kitchen->load);

    uint32_t fact = 0;
    bool leaves = oven || !stays(s);
    if (leaves)
        fact =
            bpi_rows_fact(r, BPI_FACT_WINDOW, m->box[n->box].recipe, n->step, 0, 0, s->time_where);
    bpi_job job = job_of(m, n, oven ? BP_OP_OVEN : BP_OP_PASSIVE);
    job.loads = true;
    job.takes_off = leaves;
    job.optional = aside;
    n->main = n->last = bpi_rows_job(r, job, &n->box, 1);
    if (aside)
        bpi_crew_left_out(m);
    bpi_steps_unattended(m, n->box, s, least, most, fact);
    bpi_rows_meet(r, n->first, n->main);
    bpi_heat_door(m, n->first, n->main);

    if (leaves) {
        bpi_crew_extra_step(m, n->box, s, false, false);
        bpi_job off = job_of(m, n, BP_OP_TAKE_OFF);
        off.optional = aside;
        n->last = hands_on(m, off, n, s, kitchen->take_off);
        bpi_rows_meet(r, n->main, n->last);
        bpi_heat_door(m, n->last, n->main);
    }
}

void bpi_steps_aside(bpi_making *m, uint32_t box, uint32_t step, uint32_t *first, uint32_t *last)
{
    node n = {.box = box, .step = step};
    own_jobs(m, &n, true);
    *first = n.first;
    *last = n.last;
}

static void node_jobs(bpi_making *m, const nodes *g, node *n)
{
    if (!recipe_of(m, n)->step[n->step].together)
        own_jobs(m, n, false);
    else if (first_in_row(m, n))
        joint_jobs(m, g, n);
}

static uint32_t wait_of(const bpi_making *m, uint32_t box, uint32_t step, uint32_t next)
{
    for (uint32_t j = 0; j < m->rows.job.n; j++) {
        const bpi_job *job = BPI_ROW(m->rows.job, bpi_job, j);
        if (job->kind == BP_OP_WAIT && job->step == step && job->next == next &&
            BPI_ROW(m->rows.serve, uint32_t, job->serve0)[0] == box)
            return j;
    }
    return BPI_NO_INDEX;
}

/* What is of one batch before and after waits as one, in one place. */
static void joint_wait(bpi_making *m, const nodes *g, uint32_t b, uint32_t wait)
{
    const bpi_job job = *BPI_ROW(m->rows.job, bpi_job, wait);
    for (uint32_t i = 0; i < m->boxes && g->order[i] != b && !m->rows.failed; i++) {
        uint32_t lead = g->order[i];
        if (m->box[lead].recipe != m->box[b].recipe || skipped(m, lead) ||
            !(swap_of(m, lead)->steps >> job.step & swap_of(m, lead)->steps >> job.next & 1))
            continue;
        uint32_t from = node_of(g, b, job.step)->last, to = node_of(g, b, job.next)->first;
        uint32_t out = bpi_joint_option(m, from, node_of(g, lead, job.step)->last);
        uint32_t in = bpi_joint_option(m, to, node_of(g, lead, job.next)->first);
        if (out != BPI_NO_INDEX && in != BPI_NO_INDEX)
            bpi_joint_wait(m, wait, wait_of(m, lead, job.step, job.next), from, out, to, in);
    }
}

static void edges(bpi_making *m, const nodes *g, uint32_t b)
{
    bpi_rows *r = &m->rows;
    const bpi_recipe *recipe = &m->show->recipe[m->box[b].recipe];
    for (uint32_t i = 0; i < recipe->steps; i++) {
        uint32_t s = recipe->order[i];
        if (!(swap_of(m, b)->steps >> s & 1))
            continue;
        const node *to = node_of(g, b, s);
        uint64_t before = bpi_steps_before(recipe, s);
        for (uint32_t p = 0; p < recipe->steps && !r->failed; p++) {
            if (!(before >> p & 1))
                continue;
            const node *from = node_of(g, b, p);
            if (bpi_ahead_first(recipe, p) != BPI_NO_INDEX) {
                bpi_ahead_make(m, from->last, from->main, to->first, s, b);
                continue;
            }
            bpi_job after = *BPI_ROW(r->job, bpi_job, from->last);
            uint32_t wait = bpi_wait_make(m, &after, from->last, to->first, s, b);
            if (!r->failed && recipe->step[p].together && recipe->step[s].together)
                joint_wait(m, g, b, wait);
            bpi_vessel_empty(
                m, &(bpi_passage){b, p, s, from->last, wait, from->main, to->main, false});
            if (!r->failed && BPI_ROW(r->job, bpi_job, to->first)->optional)
                bpi_rows_lag_if(r, to->first, BP_ENG_START, from->last, BP_ENG_END, 0, to->first, 0,
                                0);
        }
    }
}

/* Together on the counter and on set: as long as the longer of the two holds. */
static void room(bpi_making *m, uint32_t b, uint32_t wait, const bpi_step *s, uint32_t step)
{
    uint32_t recipe = m->box[b].recipe;
    if (m->rows.failed || !s->hold_stated || s->hold_set == BPI_NO_LIMIT)
        return;
    if (s->hold_set > s->hold[BPI_COUNTER])
        bpi_onset_room(
            m, b, wait, s->hold_set,
            bpi_rows_fact(&m->rows, BPI_FACT_HOLD_SET, recipe, step, 0, 0, s->hold_set_where));
    else
        bpi_onset_room(m, b, wait, s->hold[BPI_COUNTER],
                       bpi_rows_fact(&m->rows, BPI_FACT_HOLD, recipe, step, BPI_COUNTER, 0,
                                     s->hold_where[BPI_COUNTER]));
}

/* The steps nothing of the container builds on lead to the set. */
static void ends(bpi_making *m, const nodes *g, uint32_t b)
{
    bpi_rows *r = &m->rows;
    const bpi_recipe *recipe = &m->show->recipe[m->box[b].recipe];
    uint64_t steps = swap_of(m, b)->steps;
    int64_t hold = BPI_NO_LIMIT;
    uint32_t least = BPI_NO_INDEX;
    uint64_t built_on = 0;
    for (uint32_t s = 0; s < recipe->steps; s++)
        if (steps >> s & 1)
            built_on |= recipe->step[s].before_all;
    bpi_onset_carry(m, b);
    for (uint32_t s = 0; s < recipe->steps && !r->failed; s++) {
        if (!(steps >> s & 1) || (built_on >> s & 1))
            continue;
        const node *n = node_of(g, b, s);
        if (bpi_ahead_first(recipe, s) != BPI_NO_INDEX) {
            bpi_ahead_waits w =
                bpi_ahead_make(m, n->last, n->main, m->box[b].carry, BPI_NO_INDEX, b);
            room(m, b, w.fresh, &recipe->step[s], s);
            room(m, b, w.again, &recipe->step[w.step], w.step);
        } else {
            bpi_job after = *BPI_ROW(r->job, bpi_job, n->last);
            uint32_t wait = bpi_wait_make(m, &after, n->last, m->box[b].carry, BPI_NO_INDEX, b);
            room(m, b, wait, &recipe->step[s], s);
            bpi_vessel_empty(m, &(bpi_passage){b, s, BPI_NO_INDEX, n->last, wait, n->main,
                                               m->box[b].carry, false});
        }
        if (least == BPI_NO_INDEX || recipe->step[s].hold_set < hold) {
            hold = recipe->step[s].hold_set;
            least = s;
        }
    }
    if (least != BPI_NO_INDEX)
        bpi_onset_set(m, b, hold,
                      bpi_rows_fact(r, BPI_FACT_HOLD_SET, m->box[b].recipe, least, 0, 0,
                                    recipe->step[least].hold_set_where));
    for (uint32_t s = 0; s < recipe->steps && m->change.implied && !r->failed; s++)
        if (steps >> s & 1 && !(built_on >> s & 1) && s != least)
            bpi_onset_set_too(m, b, recipe->step[s].hold_set,
                              bpi_rows_fact(r, BPI_FACT_HOLD_SET, m->box[b].recipe, s, 0, 0,
                                            recipe->step[s].hold_set_where));
    if (!r->failed)
        bpi_onset_beside(m, b);
}

void bpi_steps_make(bpi_making *m)
{
    nodes g = {0};
    if (m->rows.failed || !find_nodes(m, &g))
        return;
    for (uint32_t b = 0; b < m->boxes; b++) {
        const bpi_recipe *recipe = &m->show->recipe[m->box[b].recipe];
        for (uint32_t i = 0; i < recipe->steps && !skipped(m, b) && !m->rows.failed; i++)
            if (swap_of(m, b)->steps >> recipe->order[i] & 1)
                node_jobs(m, &g, node_of(&g, b, recipe->order[i]));
    }
    for (uint32_t i = 0; i < m->boxes && !m->rows.failed; i++) {
        uint32_t b = g.order[i];
        if (skipped(m, b))
            continue;
        edges(m, &g, b);
        if (swap_of(m, b)->steps)
            ends(m, &g, b);
        else
            bpi_onset_measured(m, b);
    }
}

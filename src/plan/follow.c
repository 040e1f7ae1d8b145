/* src/plan/follow.c - every container followed against the published limits of food safety.
 *
 * Owns     findings, use-bys and readings of the plan.
 * May use  plan/fill, plan/heed, safety/path, safety/board, prep/, base/.
 */
#include <assert.h>

#include "plan/heed.h"
#include "safety/board.h"
#include "safety/path.h"

static const bpi_step *step_of(const bpi_fill *f, const bpi_job *job)
{
    return job->step == BPI_NO_INDEX ? NULL : &f->show->recipe[job->recipe].step[job->step];
}

static bool serves(const bpi_fill *f, const bpi_job *job, uint32_t box)
{
    for (uint32_t i = 0; i < job->serves; i++)
        if (f->prep->serve[job->serve0 + i] == box)
            return true;
    return false;
}

static bool raw_perishable(const bpi_recipe *r)
{
    for (uint32_t s = 0; s < r->steps; s++)
        for (uint32_t i = 0; i < r->step[s].ingredients; i++)
            if (r->step[s].ingredient[i].raw_animal)
                return true;
    return false;
}

static bool end_perishable(const bpi_recipe *r, uint64_t steps)
{
    uint64_t built_on = 0;
    bool any = false;
    for (uint32_t s = 0; s < r->steps; s++)
        if (steps >> s & 1)
            built_on |= r->step[s].before_all;
    for (uint32_t s = 0; s < r->steps; s++)
        any |= ((steps & ~built_on) >> s & 1) && r->step[s].perishable;
    return steps ? any : raw_perishable(r);
}

static bpi_stay kept(int32_t keep)
{
    return keep == BPI_HOT ? BPI_STAY_HOT : keep == BPI_COLD ? BPI_STAY_COLD : BPI_STAY_COUNTER;
}

static bpi_stretch stretch_of(const bpi_fill *f, uint32_t j, uint32_t box)
{
    const bpi_job *job = &f->prep->job[j];
    const bpi_step *s = step_of(f, job);
    const bpi_recipe *r = &f->show->recipe[f->prep->box[box].recipe];
    bpi_stretch x = {.from = bpi_schedule_from(f->prep, f->schedule, j),
                     .to = bpi_schedule_to(f->prep, f->schedule, j),
                     .stay = BPI_STAY_COUNTER,
                     .perishable =
                         s ? s->perishable : end_perishable(r, bpi_fill_swap(f, box)->steps)};
    bool unattended = job->kind == BP_OP_WAIT || job->kind == BP_OP_PASSIVE;
    if (unattended && f->schedule->place[j] != BPI_NO_INDEX)
        x.place = &f->show->kitchen.place[f->schedule->place[j]];
    switch (job->kind) {
    case BP_OP_ACTIVE:
    case BP_OP_PASSIVE:
        assert(s);
        x.stay = s->burner ? BPI_STAY_COOK : kept(s->keep);
        x.step = s;
        break;
    case BP_OP_OVEN:
        x.stay = BPI_STAY_COOK;
        x.step = s;
        break;
    case BP_OP_WAIT:
        x.stay = kept(bpi_schedule_way(f->prep, f->schedule, j)->keep);
        break;
    case BP_OP_SET:
        x.stay = BPI_STAY_SET;
        break;
    default:
        break;
    }
    return x;
}

/* What is measured for the set stands beside a cooked container: it is not the container. */
static bool is_beside(const bpi_fill *f, const bpi_job *job)
{
    bool measured =
        job->kind == BP_OP_MEASURE || (job->kind == BP_OP_WAIT && job->step == BPI_NO_INDEX);
    return measured && bpi_fill_swap(f, f->prep->serve[job->serve0])->steps;
}

static uint32_t stretches_of(const bpi_fill *f, uint32_t box, bpi_stretch *list)
{
    uint32_t n = 0;
    for (uint32_t j = 0; j < f->prep->problem.activities; j++) {
        bp_op_kind kind = f->prep->job[j].kind;
        if (kind == BP_OP_WASH || kind == BP_OP_DIRTY || kind == BP_OP_HELP)
            continue; /* the vessel is empty; who helps is beside it */
        if (is_beside(f, &f->prep->job[j]) || !serves(f, &f->prep->job[j], box) ||
            bpi_schedule_out(f->prep, f->schedule, j))
            continue;
        bpi_stretch x = stretch_of(f, j, box);
        uint32_t at = n++;
        for (; at > 0 && list[at - 1].from > x.from; at--)
            list[at] = list[at - 1];
        list[at] = x;
    }
    return n;
}

/* ---- boards ---------------------------------------------------------------------------------- */

static uint32_t board_uses(const bpi_fill *f, bpi_board_use *use)
{
    const bp_eng_problem *q = &f->prep->problem;
    uint32_t n = 0;
    for (uint32_t j = 0; j < q->activities; j++) {
        const bpi_job *job = &f->prep->job[j];
        const bpi_step *s = step_of(f, job);
        if (!s || job->kind != BP_OP_ACTIVE || bpi_schedule_out(f->prep, f->schedule, j))
            continue;
        const bpi_recipe *r = &f->show->recipe[job->recipe];
        for (uint32_t t = 0; t < s->tools; t++) {
            if (!f->show->kitchen.tool[s->tool[t]].board)
                continue;
            bpi_board_use x = {s->tool[t],
                               bpi_schedule_from(f->prep, f->schedule, j),
                               f->prep->serve[job->serve0],
                               s->text,
                               bpi_board_raw(s),
                               bpi_board_ready(r, job->step)};
            uint32_t at = n++;
            for (; use && at > 0 && use[at - 1].from > x.from; at--)
                use[at] = use[at - 1];
            if (use)
                use[at] = x;
        }
    }
    return n;
}

static bp_code heed_boards(bpi_heed *h, bp_errors *errs)
{
    bpi_fill *f = h->f;
    uint32_t n = board_uses(f, NULL), found = 0;
    bpi_board_use *use = BPI_FILL(f, n, bpi_board_use);
    bp_finding *list = BPI_FILL(f, n, bp_finding);
    if (f->failed)
        return BP_OK;
    board_uses(f, use);
    bp_code rc = bpi_board_check(list, &found, f->a, f->show, use, n, errs);
    for (uint32_t i = 0; i < found && rc == BP_OK; i++)
        bpi_heed_finding(h, &list[i]);
    return rc;
}

/* ---- all of it ------------------------------------------------------------------------------- */

bp_code bpi_fill_safety(bpi_fill *f, bp_errors *errs)
{
    f->plan->limits = bpi_fill_copy(f, f->show->limits->title);
    if (!f->schedule || f->failed)
        return BP_OK;
    bpi_heed h = {.f = f};
    uint32_t n = f->prep->boxes;
    bpi_stretch *list = BPI_FILL(f, f->prep->problem.activities, bpi_stretch);
    bpi_path_result *result = BPI_FILL(f, n, bpi_path_result);
    if (f->failed)
        return BP_OK;
    for (uint32_t b = 0; b < n; b++) {
        const bpi_swap *w = bpi_fill_swap(f, b);
        bpi_path path = {.limits = f->show->limits,
                         .stretch = list,
                         .stretches = stretches_of(f, b, list),
                         .finished = w->steps == f->show->recipe[f->prep->box[b].recipe].all,
                         .eaten = w->portions > 0,
                         .last = w->last};
        bp_code rc = bpi_path_check(&result[b], f->a, &path, errs);
        if (rc != BP_OK)
            return rc;
        f->container[b].use_by = result[b].use_by;
        for (uint32_t i = 0; i < result[b].findings; i++) {
            bp_finding x = result[b].finding[i];
            x.container = b;
            bpi_heed_finding(&h, &x);
        }
        bpi_heed_eaters(&h, b);
    }
    bpi_heed_readings(&h, result, n);
    bp_code rc = f->failed ? BP_OK : heed_boards(&h, errs);
    if (rc == BP_OK)
        bpi_heed_gear(&h);
    bpi_heed_power(&h);
    bpi_heed_accepted(&h);
    f->plan->finding = h.finding;
    f->plan->findings = f->failed ? 0 : (uint32_t)h.findings;
    f->plan->reading = h.reading;
    f->plan->readings = f->failed ? 0 : (uint32_t)h.readings;
    return rc;
}

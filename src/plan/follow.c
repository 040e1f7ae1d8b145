/* src/plan/follow.c - every container followed against the published limits of food safety.
 *
 * Owns     findings and use-bys of the plan.
 * May use  plan/fill, safety/path, prep/, base/.
 */
#include "plan/fill.h"

#include <assert.h>

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

/* Heaviest first; equal ones in the order of the containers. */
static void add_findings(bpi_fill *f, const bpi_path_result *r, uint32_t box, bp_finding *list,
                         uint32_t *n)
{
    for (uint32_t i = 0; i < r->findings; i++) {
        bp_finding x = r->finding[i];
        x.container = box;
        x.rule = bpi_fill_copy(f, x.rule);
        uint32_t at = (*n)++;
        for (; at > 0 && list[at - 1].weight < x.weight; at--)
            list[at] = list[at - 1];
        list[at] = x;
    }
}

bp_code bpi_fill_safety(bpi_fill *f, bp_errors *errs)
{
    if (!f->schedule || f->failed)
        return BP_OK;
    uint32_t n = f->prep->boxes, found = 0, all = 0;
    bpi_stretch *list = BPI_FILL(f, f->prep->problem.activities, bpi_stretch);
    bpi_path_result *result = BPI_FILL(f, n, bpi_path_result);
    if (f->failed)
        return BP_OK;
    for (uint32_t b = 0; b < n; b++) {
        const bpi_swap *w = bpi_fill_swap(f, b);
        bpi_path path = {.stretch = list,
                         .stretches = stretches_of(f, b, list),
                         .finished = w->steps == f->show->recipe[f->prep->box[b].recipe].all,
                         .eaten = w->portions > 0,
                         .last = w->last};
        bp_code rc = bpi_path_check(&result[b], f->a, &path, errs);
        if (rc != BP_OK)
            return rc;
        f->container[b].use_by = result[b].use_by;
        all += result[b].findings;
    }
    bp_finding *finding = BPI_FILL(f, all, bp_finding);
    for (uint32_t b = 0; b < n && !f->failed; b++)
        add_findings(f, &result[b], b, finding, &found);
    f->plan->finding = finding;
    f->plan->findings = f->failed ? 0 : found;
    return BP_OK;
}

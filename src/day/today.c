#include "day/today.h"

#include <assert.h>
#include <string.h>

bp_code bpi_day_init(bpi_day *d, bpi_arena *a, const bpi_prep *prep, const bpi_schedule *schedule,
                     bp_errors *errs)
{
    uint32_t ovens = prep->show->kitchen.ovens;
    *d = (bpi_day){.a = a, .prep = prep, .schedule = schedule, .now = INT32_MIN};
    d->lag = prep->problem.lag;
    d->lags = prep->problem.lags;
    d->lost = BPI_TAKE(a, prep->boxes, bool);
    d->apart = BPI_TAKE(a, prep->boxes, bool);
    d->dead = BPI_TAKE(a, ovens, int64_t);
    if (!d->lost || !d->apart || !d->dead)
        return bpi_error_no_memory(errs);
    for (uint32_t o = 0; o < ovens; o++)
        d->dead[o] = BP_NO_TIME;
    return BP_OK;
}

/* ---- taking in a mishap ---------------------------------------------------------------------- */

int32_t bpi_day_from(const bpi_day *d, uint32_t j)
{
    return d->schedule->start[j];
}

int32_t bpi_day_to(const bpi_day *d, uint32_t j)
{
    return d->schedule->start[j] + d->schedule->length[j];
}

static bool runs(const bpi_day *d, uint32_t j)
{
    return !bpi_schedule_out(d->prep, d->schedule, j) && bpi_day_from(d, j) < d->now &&
           bpi_day_to(d, j) > d->now;
}

/* A load that is begun to be put in, and bakes or will; the job before it puts it in. */
static bool is_in(const bpi_day *d, uint32_t bake)
{
    return !bpi_schedule_out(d->prep, d->schedule, bake) && bpi_day_from(d, bake - 1) < d->now &&
           bpi_day_to(d, bake) > d->now;
}

bool bpi_day_serves(const bpi_prep *p, uint32_t j, uint32_t box)
{
    for (uint32_t i = 0; i < p->job[j].serves; i++)
        if (p->serve[p->job[j].serve0 + i] == box)
            return true;
    return false;
}

static const char *source(const bpi_day *d)
{
    return d->ticked ? "log" : "plan";
}

/* What took longer for it counts no more. */
static void lose(bpi_day *d, uint32_t box)
{
    uint32_t kept = 0;
    d->lost[box] = d->apart[box] = true;
    for (uint32_t i = 0; i < d->longers; i++)
        if (d->longer[i].container != box)
            d->longer[kept++] = d->longer[i];
    d->longers = kept;
}

static bp_code lose_container(bpi_day *d, uint32_t box, bp_errors *errs)
{
    const bpi_prep *p = d->prep;
    bool begun = false;
    for (uint32_t j = 0; j < p->problem.activities; j++)
        begun |= bpi_day_serves(p, j, box) && bpi_day_from(d, j) < d->now;
    if (!begun)
        return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "look up its code on the sheets",
                           "by the %s nothing has been done for %s by then", source(d),
                           p->box[box].code);
    uint32_t set = p->box[box].set;
    if (set != BPI_NO_INDEX && bpi_day_to(d, set) <= d->now)
        return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "",
                           "by the %s %s is not needed any more by then", source(d),
                           p->box[box].code);
    lose(d, box);
    return BP_OK;
}

/* With whatever is in it, or is being put in. */
static void lose_oven(bpi_day *d, uint32_t oven, int64_t at)
{
    const bpi_prep *p = d->prep;
    d->dead[oven] = at;
    for (uint32_t j = 0; j < p->problem.activities; j++)
        if (p->job[j].kind == BP_OP_OVEN && is_in(d, j) &&
            bpi_schedule_way(p, d->schedule, j)->oven == oven)
            for (uint32_t i = 0; i < p->job[j].serves; i++)
                lose(d, p->serve[p->job[j].serve0 + i]);
}

static int64_t plan_time(const bpi_day *d, int32_t t)
{
    return d->prep->zero + (int64_t)t * 60;
}

/* What a cook has in hand is finished first. */
static bp_code send_away(bpi_day *d, const bpi_mishap *m, bp_errors *errs)
{
    int64_t from = plan_time(d, d->now);
    for (uint32_t j = 0; j < d->prep->problem.activities; j++)
        if (runs(d, j) && bpi_schedule_way(d->prep, d->schedule, j)->cook == m->number &&
            plan_time(d, bpi_day_to(d, j)) > from)
            from = plan_time(d, bpi_day_to(d, j));
    if (from >= m->until)
        return bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE,
                             "this cook has work in hand until then, and is back when it is done",
                             "");
    d->away[d->aways++] = (struct bpi_absence){m->number, from, m->until};
    return BP_OK;
}

bool bpi_day_is_step(bp_op_kind k)
{
    return k == BP_OP_ACTIVE || k == BP_OP_PASSIVE || k == BP_OP_OVEN;
}

/* What stands on it goes to another, if one is free. */
static bp_code lose_burner(bpi_day *d, bp_errors *errs)
{
    const bpi_prep *p = d->prep;
    uint32_t there = p->show->kitchen.burners, used = 0;
    if (d->burners >= there)
        return bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE, "all burners of the kitchen are dead",
                             "");
    for (uint32_t j = 0; j < p->problem.activities; j++) {
        const bp_eng_option *o =
            &p->problem.option[p->problem.activity[j].option0 + d->schedule->option[j]];
        for (uint32_t i = 0; i < o->needs && runs(d, j); i++)
            if (p->res[p->problem.need[o->need0 + i].res].kind == BPI_RES_BURNER)
                used += (uint32_t)p->problem.need[o->need0 + i].amount;
    }
    if (used + d->burners >= there)
        return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE,
                           "say first which container comes off the heat: \"07:10 B2 lost\"",
                           "by the %s all %u burners are in use then", source(d),
                           there - d->burners);
    d->burner[d->burners++] = plan_time(d, d->now);
    return BP_OK;
}

/* Of all containers it is done for. */
static bp_code told_of(bpi_day *d, uint32_t j, int64_t to, bp_errors *errs)
{
    const bpi_prep *p = d->prep;
    uint32_t lead = bpi_schedule_lead(p, d->schedule, j);
    for (uint32_t k = 0; k < p->problem.activities; k++) {
        if (bpi_schedule_lead(p, d->schedule, k) != lead)
            continue;
        if (d->longers == BPI_DAY_ROWS)
            return bpi_error_add(errs, BP_ELIMIT, BPI_NOWHERE, "too much takes longer", "");
        d->longer[d->longers++] =
            (struct bpi_longer){p->serve[p->job[k].serve0], p->job[k].step, to};
    }
    return BP_OK;
}

static bp_code lengthen(bpi_day *d, const bpi_mishap *m, bp_errors *errs)
{
    const bpi_prep *p = d->prep;
    for (uint32_t j = 0; j < p->problem.activities; j++) {
        if (!bpi_day_is_step(p->job[j].kind) || p->job[j].step != m->step ||
            !bpi_day_serves(p, j, m->number))
            continue;
        int32_t to = bpi_minutes_up(m->until - p->zero);
        bool under_way = bpi_day_from(d, j) < d->now && bpi_day_to(d, j) >= d->now;
        if (!under_way)
            return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "say it of the step that is",
                               "by the %s this step is not under way then", source(d));
        if (to <= bpi_day_to(d, j))
            return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "",
                               "by the %s this step lasts so long anyway", source(d));
        return told_of(d, j, plan_time(d, to), errs);
    }
    return bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE, "this container has no such step done ahead",
                         "");
}

bp_code bpi_day_go_on(bpi_day *d, const bpi_mishap *m, bp_errors *errs)
{
    int32_t now = bpi_minutes_up(m->at - d->prep->zero);
    if (now < d->now && !d->ticked)
        return bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE, "it lies before what was said before it",
                             "say what went wrong in the order in which it did");
    d->now = now > d->now ? now : d->now;
    if (d->now < 0)
        d->now = 0;
    memset(d->lost, 0, d->prep->boxes * sizeof *d->lost);
    return BP_OK;
}

bp_code bpi_day_take(bpi_day *d, const bpi_mishap *m, bp_errors *errs)
{
    assert(d->aways < BPI_DAY_ROWS && d->burners < BPI_DAY_ROWS); /* a day has fewer lines */
    switch (m->kind) {
    case BPI_MISHAP_LOST:
        return lose_container(d, m->number, errs);
    case BPI_MISHAP_BURNER:
        return lose_burner(d, errs);
    case BPI_MISHAP_DEAD:
        lose_oven(d, m->number, plan_time(d, d->now));
        return BP_OK;
    case BPI_MISHAP_AWAY:
        return send_away(d, m, errs);
    case BPI_MISHAP_LONGER:
        return lengthen(d, m, errs);
    case BPI_MISHAP_BEHIND:
        break;
    }
    if (!d->ticked)
        return bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE,
                             "by the plan nobody is behind: all is taken to have gone to plan",
                             "name the log of the day");
    return BP_OK;
}

#include "day/match.h"

bool bpi_match_lost(const bpi_prep *p, const bpi_day *d, uint32_t j)
{
    for (uint32_t i = 0; i < p->job[j].serves; i++)
        if (d->lost[p->serve[p->job[j].serve0 + i]])
            return true;
    return false;
}

static bool serves_same(const bpi_prep *a, const bpi_job *x, const bpi_prep *b, const bpi_job *y)
{
    bool same = x->serves == y->serves;
    for (uint32_t i = 0; same && i < x->serves; i++)
        same = a->serve[x->serve0 + i] == b->serve[y->serve0 + i];
    return same;
}

static uint32_t find_was(const bpi_match *m, const bpi_prep *p, const bpi_day *d, uint32_t j)
{
    const bpi_prep *old = d->prep;
    const bpi_job *job = &p->job[j];
    for (uint32_t k = 0; k < old->problem.activities; k++) {
        const bpi_job *o = &old->job[k];
        if (o->kind != job->kind || o->air != job->air || o->recipe != job->recipe ||
            o->step != job->step || o->next != job->next)
            continue;
        bool owed = job->kind == BP_OP_PREHEAT || job->kind == BP_OP_HELP;
        if ((owed ? m->was[job->number] : job->number) == o->number &&
            (job->kind == BP_OP_PREHEAT || serves_same(p, job, old, o)))
            return k;
    }
    return BPI_NO_INDEX;
}

/* Jobs of a row are numbered in its order. */
static uint32_t find_lead(const bpi_match *m, const bpi_prep *p, const bpi_day *d, uint32_t j)
{
    if (m->was[j] == BPI_NO_INDEX || bpi_match_lost(p, d, j))
        return j;
    uint32_t lead = bpi_schedule_lead(d->prep, d->schedule, m->was[j]);
    for (uint32_t i = 0; i < j; i++)
        if (m->was[i] != BPI_NO_INDEX && !bpi_match_lost(p, d, i) &&
            bpi_schedule_lead(d->prep, d->schedule, m->was[i]) == lead)
            return i;
    return j;
}

bp_code bpi_match_make(bpi_match *m, const bpi_prep *p, const bpi_day *d, bp_errors *errs)
{
    uint32_t n = p->problem.activities;
    m->was = BPI_TAKE(d->a, n, uint32_t);
    m->lead = BPI_TAKE(d->a, n, uint32_t);
    if (!m->was || !m->lead)
        return bpi_error_no_memory(errs);
    for (uint32_t j = 0; j < n; j++)
        m->was[j] = find_was(m, p, d, j);
    for (uint32_t j = 0; j < n; j++)
        m->lead[j] = find_lead(m, p, d, j);
    return BP_OK;
}

uint32_t bpi_match_work(const bpi_match *m, const bpi_day *d, uint32_t j)
{
    uint32_t k = m->was[j];
    return k != BPI_NO_INDEX && m->lead[j] == j ? bpi_schedule_lead(d->prep, d->schedule, k) : k;
}

/* The container that job k of the plan before went by: the first of its batch. */
static uint32_t name_before(const bpi_day *d, uint32_t k)
{
    const bpi_prep *p = d->prep;
    uint32_t lead = bpi_schedule_lead(p, d->schedule, k), name = BPI_NO_INDEX;
    if (d->name)
        return d->name[lead];
    for (uint32_t i = 0; i < p->problem.activities; i++)
        if (bpi_schedule_lead(p, d->schedule, i) == lead && p->job[i].serves &&
            p->serve[p->job[i].serve0] < name)
            name = p->serve[p->job[i].serve0];
    return name;
}

const uint32_t *bpi_match_names(const bpi_match *m, const bpi_prep *p, const bpi_day *d,
                                const bpi_schedule *s)
{
    uint32_t n = p->problem.activities;
    uint32_t *name = BPI_TAKE(d->a, n, uint32_t);
    for (uint32_t j = 0; name && j < n; j++)
        name[j] = BPI_NO_INDEX;
    for (uint32_t j = 0; name && j < n; j++) {
        uint32_t *of = &name[bpi_schedule_lead(p, s, j)];
        if (p->job[j].serves && p->serve[p->job[j].serve0] < *of)
            *of = p->serve[p->job[j].serve0];
    }
    for (uint32_t j = 0; name && j < n; j++) {
        if (m->was[j] == BPI_NO_INDEX || m->lead[j] != j || bpi_match_lost(p, d, j))
            continue;
        uint32_t before = name_before(d, m->was[j]);
        if (before != BPI_NO_INDEX && d->apart[before]) /* nobody else can have it any more */
            name[bpi_schedule_lead(p, s, j)] = before;
    }
    return name;
}

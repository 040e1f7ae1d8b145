#include "engine/crew.h"

static int32_t high(const bpi_core *c, uint32_t view)
{
    return -c->low[view ^ 1];
}

static int32_t clamp(int32_t x, int32_t most)
{
    return x < 0 ? 0 : x > most ? most : x;
}

/* What job j has had by t, at least. */
static int32_t had(const bpi_core *c, const bpi_job *j, int32_t t)
{
    return clamp(t - bpi_ref_high(c, j->start), j->length);
}

/* What a break takes from its member by t: nothing while the member may start after it began. */
static int32_t rested(const bpi_core *c, const bpi_crew *w, const bpi_break *b, int32_t t)
{
    return high(c, w->member[b->member].first) <= b->from ? clamp(t - b->from, b->to - b->from) : 0;
}

static int64_t least_cost(const bpi_core *c, const bpi_crew *w, int32_t t)
{
    int64_t sum = 0;
    for (uint32_t k = 0; k < w->jobs; k++)
        sum += had(c, &w->job[k], t);
    for (uint32_t k = 0; k < w->rests; k++)
        sum += rested(c, w, &w->rest[k], t);
    for (uint32_t k = 0; k < w->members; k++) {
        int32_t first = high(c, w->member[k].first);
        sum += w->member[k].at - (first > t ? first : t);
    }
    return sum;
}

static bool on_its_own(const bpi_crew *w, uint32_t member, const bpi_core *c, int32_t t)
{
    for (uint32_t k = 0; k < w->rests; k++)
        if (w->rest[k].member == member && rested(c, w, &w->rest[k], t))
            return true;
    return false;
}

/* Literals behind least_cost, without job `but` or member `without`. */
static uint32_t because(const bpi_core *c, bpi_crew *w, int32_t t, uint32_t but, uint32_t without,
                        bpi_lit guard)
{
    uint32_t n = 0;
    w->because[n++] = guard;
    for (uint32_t k = 0; k < w->jobs; k++) {
        int32_t d = had(c, &w->job[k], t);
        if (k != but && d > 0)
            w->because[n++] = bpi_ref_most(w->job[k].start, t - d);
    }
    for (uint32_t k = 0; k < w->members; k++) {
        int32_t first = high(c, w->member[k].first);
        if (k == without)
            continue;
        if (first < t && !on_its_own(w, k, c, t))
            first = t;
        w->because[n++] = (bpi_lit){w->member[k].first ^ 1, -first};
    }
    for (uint32_t k = 0; k < w->goal->terms; k++)
        if (!w->mine[k])
            w->because[n++] = (bpi_lit){w->goal->view[k], c->low[w->goal->view[k]]};
    return n;
}

static int64_t others(const bpi_core *c, const bpi_crew *w)
{
    int64_t sum = w->goal->base;
    for (uint32_t k = 0; k < w->members; k++)
        sum -= w->weight * w->member[k].at;
    for (uint32_t k = 0; k < w->goal->terms; k++)
        if (!w->mine[k])
            sum += w->goal->coef[k] * c->low[w->goal->view[k]];
    return sum;
}

/* With the cost at most `spare` more, what can job j still have had by t? */
static bool push_jobs(bpi_core *c, bpi_crew *w, int32_t t, int64_t spare, bpi_lit guard)
{
    for (uint32_t k = 0; k < w->jobs; k++) {
        const bpi_job *j = &w->job[k];
        int64_t most = had(c, j, t) + spare;
        if (most >= j->length || t - most <= bpi_ref_low(c, j->start))
            continue;
        uint32_t n = because(c, w, t, k, UINT32_MAX, guard);
        if (!bpi_core_set_stored(c, bpi_ref_least(j->start, t - (int32_t)most), w->because, n,
                                 BPI_WHY_STORED))
            return false;
    }
    for (uint32_t k = 0; k < w->members; k++) {
        uint32_t first = w->member[k].first;
        int64_t least = high(c, first) - spare;
        if (least <= t || least <= c->low[first])
            continue;
        uint32_t n = because(c, w, t, UINT32_MAX, k, guard);
        if (!bpi_core_set_stored(c, (bpi_lit){first, (int32_t)least}, w->because, n,
                                 BPI_WHY_STORED))
            return false;
    }
    return true;
}

/* Times at which the bound may have its peak: where a job or a break has been had in full. */
static uint32_t peaks(const bpi_core *c, bpi_crew *w)
{
    uint32_t n = 0;
    for (uint32_t k = 0; k < w->jobs; k++)
        w->time[n++] = bpi_ref_high(c, w->job[k].start) + w->job[k].length;
    for (uint32_t k = 0; k < w->rests; k++)
        w->time[n++] = w->rest[k].to;
    for (uint32_t k = 1; k < n; k++) {
        int32_t x = w->time[k];
        uint32_t at = k;
        for (; at && w->time[at - 1] > x; at--)
            w->time[at] = w->time[at - 1];
        w->time[at] = x;
    }
    uint32_t kept = 0;
    for (uint32_t k = 0; k < n; k++)
        if (kept == 0 || w->time[kept - 1] != w->time[k])
            w->time[kept++] = w->time[k];
    return kept;
}

static bool keep_below(bpi_core *c, bpi_crew *w, int64_t most, bpi_lit guard)
{
    if (most == INT64_MAX || !bpi_lit_holds(c, guard))
        return true;
    int64_t room = most - others(c, w);
    uint32_t n = peaks(c, w);
    int32_t longest = 0;
    for (uint32_t k = 0; k < w->jobs; k++)
        longest = w->job[k].length > longest ? w->job[k].length : longest;
    c->work += (uint64_t)n * (w->jobs + w->members) / 8;
    for (uint32_t k = 0; k < n; k++) {
        int64_t cost = least_cost(c, w, w->time[k]);
        /* Both are whole: room / weight rounds the right way where room is not below 0. */
        int64_t spare = (room >= 0 ? room / w->weight : -1) - cost;
        if (spare < 0)
            return bpi_core_conflict(c, w->because,
                                     because(c, w, w->time[k], UINT32_MAX, UINT32_MAX, guard));
        if (spare < longest && !push_jobs(c, w, w->time[k], spare, guard))
            return false;
    }
    return true;
}

/* The same for one member and the jobs that are surely its own: first <= t - what they had. */
static bool bound_first(bpi_core *c, bpi_crew *w, uint32_t member)
{
    uint32_t first = w->member[member].first;
    for (uint32_t k = 0; k < w->jobs; k++) {
        if (!bpi_lit_holds(c, w->job[k].on[member]))
            continue;
        int32_t t = bpi_ref_high(c, w->job[k].start) + w->job[k].length, sum = 0;
        uint32_t n = 0;
        for (uint32_t j = 0; j < w->jobs; j++) {
            int32_t d = had(c, &w->job[j], t);
            if (d == 0 || !bpi_lit_holds(c, w->job[j].on[member]))
                continue;
            sum += d;
            w->because[n++] = w->job[j].on[member];
            w->because[n++] = bpi_ref_most(w->job[j].start, t - d);
        }
        c->work += w->jobs / 8;
        bool after_break = false;
        for (uint32_t j = 0; j < w->rests; j++)
            if (w->rest[j].member == member && rested(c, w, &w->rest[j], t)) {
                sum += rested(c, w, &w->rest[j], t);
                after_break = true;
            }
        if (t - sum >= high(c, first))
            continue;
        if (after_break)
            w->because[n++] = (bpi_lit){first ^ 1, -high(c, first)};
        if (!bpi_core_set_stored(c, (bpi_lit){first ^ 1, sum - t}, w->because, n, BPI_WHY_STORED))
            return false;
    }
    return true;
}

bool bpi_crew_run(bpi_core *c, void *self)
{
    bpi_crew *w = self;
    for (uint32_t k = 0; k < w->members; k++)
        if (!bound_first(c, w, k))
            return false;
    return keep_below(c, w, w->goal->most, BPI_LIT_TRUE) &&
           keep_below(c, w, w->goal->most_guarded, w->goal->guard);
}

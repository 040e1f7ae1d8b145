#include "engine/crew.h"

static int32_t high(const bpi_core *c, uint32_t view)
{
    return -c->low[view ^ 1];
}

static int32_t clamp(int32_t x, int32_t most)
{
    return x < 0 ? 0 : x > most ? most : x;
}

/* What job j has had by t, at least, if a member does it. */
static int32_t would_have(const bpi_core *c, const bpi_job *j, int32_t t)
{
    return clamp(t - bpi_ref_high(c, j->start), j->length);
}

/* What it surely has had of the group by t. */
static int32_t had(const bpi_core *c, const bpi_job *j, int32_t t)
{
    return bpi_lit_holds(c, j->in) ? would_have(c, j, t) : 0;
}

/* What a break takes from its member by t: nothing while the member may start after it began. */
static int32_t rested(const bpi_core *c, const bpi_crew *w, const bpi_break *b, int32_t t)
{
    return high(c, w->member[b->member].first) <= b->from ? clamp(t - b->from, b->to - b->from) : 0;
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
        if (k == but || d == 0)
            continue;
        if (w->job[k].in.view) /* else it is always in */
            w->because[n++] = w->job[k].in;
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

/* Job k can have had no more than `most` of the group by t: then it starts later, or not in it. */
static bool push_job(bpi_core *c, bpi_crew *w, uint32_t k, int32_t t, int32_t most, bpi_lit guard)
{
    const bpi_job *j = &w->job[k];
    bool in = bpi_lit_holds(c, j->in);
    bpi_lit l = bpi_ref_least(j->start, t - most);
    if (in ? bpi_lit_holds(c, l) : would_have(c, j, t) <= most)
        return true;
    uint32_t n = because(c, w, t, k, UINT32_MAX, guard);
    w->because[n++] = in ? j->in : bpi_lit_not(l);
    return bpi_core_set_stored(c, in ? l : bpi_lit_not(j->in), w->because, n, BPI_WHY_STORED);
}

/* With the cost at most `spare` more, what can each job, and each member, still have had by t? */
static bool push_jobs(bpi_core *c, bpi_crew *w, int32_t t, int64_t spare, bpi_lit guard)
{
    c->work += (w->jobs + w->members) / 8;
    for (uint32_t k = 0; k < w->jobs; k++) {
        const bpi_job *j = &w->job[k];
        int64_t most = had(c, j, t) + spare;
        if (most < j->length && !bpi_lit_fails(c, j->in) &&
            !push_job(c, w, k, t, (int32_t)most, guard))
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

/* ---- moments: where what is given begins, or ceases, to grow ------------------------------ */

/* Moment n: start and end of job n / 2, then those of the breaks, then first starts of members. */
static int32_t time_of(const bpi_core *c, const bpi_crew *w, uint32_t n)
{
    if (n < 2 * w->jobs) {
        const bpi_job *j = &w->job[n / 2];
        return bpi_ref_high(c, j->start) + (n % 2 ? j->length : 0);
    }
    n -= 2 * w->jobs;
    if (n < 2 * w->rests)
        return n % 2 ? w->rest[n / 2].to : w->rest[n / 2].from;
    return high(c, w->member[n - 2 * w->rests].first);
}

/* From the order of the last time little has moved. */
static uint32_t sort_moments(bpi_core *c, bpi_crew *w)
{
    uint32_t all = 2 * (w->jobs + w->rests) + w->members, moved = 0;
    for (uint32_t n = 0; n < all; n++)
        w->time[n] = time_of(c, w, n);
    for (uint32_t k = 1; k < all; k++) {
        uint32_t n = w->order[k], at = k;
        for (; at && w->time[w->order[at - 1]] > w->time[n]; at--)
            w->order[at] = w->order[at - 1];
        w->order[at] = n;
        moved += k - at;
    }
    c->work += all / 8 + moved / 16;
    return all;
}

/* By how much more is given in each minute from moment n on: of all, or of `member` and what is surely
 * its own. */
static int32_t slope(const bpi_core *c, const bpi_crew *w, uint32_t n, uint32_t member)
{
    bool all = member == w->members, counts;
    if (n < 2 * w->jobs) {
        const bpi_job *j = &w->job[n / 2];
        counts = bpi_lit_holds(c, all ? j->in : j->on[member]);
    } else if (n < 2 * (w->jobs + w->rests)) {
        const bpi_break *b = &w->rest[n / 2 - w->jobs];
        counts = (all || b->member == member) && high(c, w->member[b->member].first) <= b->from;
    } else {
        return all ? -1 : 0;
    }
    return counts ? 1 - 2 * (int32_t)(n % 2) : 0;
}

/* Does moment n end what a peak of the bound may lie at the end of? */
static bool may_peak(const bpi_core *c, const bpi_crew *w, uint32_t n)
{
    return n % 2 && n < 2 * (w->jobs + w->rests) &&
           (n >= 2 * w->jobs || !bpi_lit_fails(c, w->job[n / 2].in));
}

static bool keep_below(bpi_core *c, bpi_crew *w, uint32_t moments, int64_t most, bpi_lit guard)
{
    if (most == INT64_MAX || !bpi_lit_holds(c, guard))
        return true;
    int64_t room = most - others(c, w), cost = 0, grows = 0;
    /* Both are whole: room / weight rounds the right way where room is not below 0. */
    room = room >= 0 ? room / w->weight : -1;
    int32_t longest = 0, before = w->time[w->order[0]];
    for (uint32_t k = 0; k < w->jobs; k++)
        longest = w->job[k].length > longest ? w->job[k].length : longest;
    for (uint32_t k = 0; k < w->members; k++)
        cost += w->member[k].at -
                (high(c, w->member[k].first) > before ? high(c, w->member[k].first) : before);
    for (uint32_t k = 0; k < moments; k++) {
        uint32_t n = w->order[k];
        int32_t t = w->time[n];
        cost += grows * (t - before);
        before = t;
        grows += slope(c, w, n, w->members);
        if (!may_peak(c, w, n))
            continue;
        int64_t spare = room - cost;
        if (spare < 0)
            return bpi_core_conflict(c, w->because,
                                     because(c, w, t, UINT32_MAX, UINT32_MAX, guard));
        if (spare < longest && !push_jobs(c, w, t, spare, guard))
            return false;
    }
    return true;
}

/* What member has had to do by t, and why. */
static uint32_t because_own(bpi_core *c, bpi_crew *w, uint32_t member, int32_t t)
{
    uint32_t n = 0;
    bool after_break = false;
    for (uint32_t j = 0; j < w->jobs; j++) {
        int32_t d = would_have(c, &w->job[j], t);
        if (d == 0 || !bpi_lit_holds(c, w->job[j].on[member]))
            continue;
        w->because[n++] = w->job[j].on[member];
        w->because[n++] = bpi_ref_most(w->job[j].start, t - d);
    }
    for (uint32_t j = 0; j < w->rests; j++)
        after_break = after_break || (w->rest[j].member == member && rested(c, w, &w->rest[j], t));
    uint32_t first = w->member[member].first;
    if (after_break)
        w->because[n++] = (bpi_lit){first ^ 1, -high(c, first)};
    return n;
}

/* The same for one member and the jobs that are surely its own: first <= t - what they had. */
static bool bound_first(bpi_core *c, bpi_crew *w, uint32_t moments, uint32_t member)
{
    uint32_t first = w->member[member].first;
    int32_t sum = 0, grows = 0, before = w->time[w->order[0]], best = high(c, first), best_at = 0;
    for (uint32_t k = 0; k < moments; k++) {
        uint32_t n = w->order[k];
        int32_t t = w->time[n], rise = slope(c, w, n, member);
        sum += grows * (t - before);
        before = t;
        grows += rise;
        if (rise < 0 && n < 2 * w->jobs && t - sum < best) {
            best = t - sum;
            best_at = t;
        }
    }
    if (best == high(c, first))
        return true;
    uint32_t n = because_own(c, w, member, best_at);
    return bpi_core_set_stored(c, (bpi_lit){first ^ 1, -best}, w->because, n, BPI_WHY_STORED);
}

bool bpi_crew_run(bpi_core *c, void *self)
{
    bpi_crew *w = self;
    uint32_t moments = sort_moments(c, w), trails = c->trails;
    c->work += moments / 4;
    for (uint32_t k = 0; k < w->members; k++)
        if (!bound_first(c, w, moments, k))
            return false;
    if (c->trails != trails)
        sort_moments(c, w);
    return keep_below(c, w, moments, w->goal->most, BPI_LIT_TRUE) &&
           keep_below(c, w, moments, w->goal->most_guarded, w->goal->guard);
}

/* src/engine/model_crew.c - finds the group of resources whose first starts are to be late.
 *
 * Owns     nothing; part of engine/model.
 * May use  engine/model, crew.
 */
#include "engine/model.h"

#include "base/arena.h"
#include "engine/crew.h"

/* Members times activities: a wider group costs more to look at than its bound is worth. */
enum { MOST_CELLS = 1 << 13 };

/* One capacity or 0 at all times. A span of that capacity that is switched off leaves no limit. */
static bool is_steady(const bpi_model *m, uint32_t res)
{
    const bp_eng_problem *p = m->p;
    const bp_eng_resource *r = &p->resource[res];
    bool fine = r->capacity > 0 && bpi_lit_holds(&m->core, m->fact[r->fact]);
    for (uint32_t n = 0; n < p->spans; n++) {
        const bp_eng_span *v = &p->span[n];
        if (v->res == res)
            fine = fine && (v->capacity == 0 || (v->capacity == r->capacity &&
                                                 bpi_lit_holds(&m->core, m->fact[v->fact])));
    }
    return fine;
}

static uint32_t member_of(const uint32_t *res, uint32_t members, uint32_t r)
{
    for (uint32_t k = 0; k < members; k++)
        if (res[k] == r)
            return k;
    return UINT32_MAX;
}

/* The member that an option takes more than half of, so that no two do at once; members: none. */
static uint32_t member_taken(const bp_eng_problem *p, const uint32_t *res, uint32_t members,
                             uint32_t option)
{
    const bp_eng_option *o = &p->option[option];
    for (uint32_t n = o->need0; n < o->need0 + o->needs; n++) {
        const bp_eng_need *need = &p->need[n];
        uint32_t member = member_of(res, members, need->res);
        if (member != UINT32_MAX && need->amount > p->resource[need->res].capacity / 2)
            return member;
    }
    return members;
}

/* Whether some member does it: true where every option takes one, else a literal of its own unless
 * there is one already. False: no memory. */
static bool in_group(bpi_model *m, uint32_t act, const uint32_t *taken, uint32_t members,
                     bpi_lit *in)
{
    const bp_eng_activity *a = &m->p->activity[act];
    uint32_t outside = 0, n = 0;
    for (uint32_t o = 0; o < a->options; o++)
        if (taken[o] == members) {
            outside++;
            *in = bpi_lit_not(m->option[a->option0 + o]);
        }
    if (outside < 2) {
        *in = outside ? *in : BPI_LIT_TRUE;
        return true;
    }
    bpi_lit *some = BPI_TAKE(m->arena, (size_t)outside + 1, bpi_lit);
    uint32_t v = bpi_core_var(&m->core, 0, 1);
    if (!some || v == UINT32_MAX)
        return false;
    *in = some[n++] = (bpi_lit){v, 1};
    for (uint32_t o = 0; o < a->options; o++) {
        bpi_lit pair[2] = {bpi_lit_not(m->option[a->option0 + o]), *in};
        if (taken[o] == members) {
            some[n++] = m->option[a->option0 + o];
            pair[1] = bpi_lit_not(*in);
        }
        if (!bpi_core_clause(&m->core, pair, 2))
            return false;
    }
    return bpi_core_clause(&m->core, some, n);
}

/* A job of the group: while some member does it, it lasts longer than 0. */
static bool add_job(bpi_model *m, bpi_crew *w, const uint32_t *res, uint32_t act, uint32_t *taken)
{
    const bp_eng_problem *p = m->p;
    const bp_eng_activity *a = &p->activity[act];
    bpi_job j = {.start = m->start[act], .length = INT32_MAX};
    j.on = BPI_TAKE(m->arena, w->members, bpi_lit);
    if (!j.on)
        return false;
    for (uint32_t k = 0; k < w->members; k++)
        j.on[k] = BPI_LIT_FALSE;
    for (uint32_t o = 0; o < a->options; o++) {
        taken[o] = member_taken(p, res, w->members, a->option0 + o);
        if (taken[o] == w->members)
            continue;
        if (!bpi_lit_fails(&m->core, j.on[taken[o]]))
            return true; /* rare: two options with one member */
        j.on[taken[o]] = m->option[a->option0 + o];
        int32_t least = p->option[a->option0 + o].least;
        j.length = least < j.length ? least : j.length;
    }
    int32_t least = bpi_ref_low(&m->core, m->length[act]);
    j.length = least > j.length ? least : j.length;
    if (j.length == INT32_MAX || j.length <= 0)
        return true;
    if (!in_group(m, act, taken, w->members, &j.in))
        return false;
    w->job[w->jobs++] = j;
    return true;
}

static bool add_jobs(bpi_model *m, bpi_crew *w, const uint32_t *res)
{
    const bp_eng_problem *p = m->p;
    uint32_t *taken = BPI_TAKE(m->arena, p->options, uint32_t); /* of one activity at a time */
    w->job = BPI_TAKE(m->arena, p->activities, bpi_job);
    w->rest = BPI_TAKE(m->arena, p->spans, bpi_break);
    if (!w->job || !w->rest || !taken)
        return false;
    for (uint32_t a = 0; a < p->activities; a++)
        if (!add_job(m, w, res, a, taken))
            return false;
    for (uint32_t s = 0; s < p->spans; s++) {
        const bp_eng_span *v = &p->span[s];
        uint32_t member = member_of(res, w->members, v->res);
        bool apart =
            member != UINT32_MAX && v->capacity == 0 && bpi_lit_holds(&m->core, m->fact[v->fact]);
        for (uint32_t k = 0; k < w->rests; k++) /* where two overlap the first counts */
            apart = apart && (w->rest[k].member != member || w->rest[k].to <= v->from ||
                              v->to <= w->rest[k].from);
        if (apart)
            w->rest[w->rests++] = (bpi_break){member, v->from, v->to};
    }
    return true;
}

static bool start_crew(bpi_model *m, bpi_crew *w)
{
    bpi_core *c = &m->core;
    size_t times = 2 * ((size_t)w->jobs + w->rests) + w->members;
    w->time = BPI_TAKE(m->arena, times, int32_t);
    w->order = BPI_TAKE(m->arena, times, uint32_t);
    w->because = BPI_TAKE(m->arena, times + w->goal->terms + 4, bpi_lit);
    w->prop = bpi_core_propagator(c, bpi_crew_run, w, BPI_SLOW);
    if (!w->time || !w->order || !w->because || w->prop == UINT32_MAX ||
        !bpi_core_wake(c, w->prop, w->goal->guard.view))
        return false;
    for (size_t k = 0; k < times; k++)
        w->order[k] = (uint32_t)k;
    for (uint32_t k = 0; k < w->jobs; k++) {
        if (!bpi_core_wake(c, w->prop, w->job[k].start.view ^ 1) ||
            !bpi_core_wake(c, w->prop, w->job[k].in.view))
            return false;
        for (uint32_t j = 0; j < w->members; j++)
            if (!bpi_core_wake(c, w->prop, w->job[k].on[j].view))
                return false;
    }
    for (uint32_t k = 0; k < w->members; k++)
        if (!bpi_core_wake(c, w->prop, w->member[k].first ^ 1))
            return false;
    return true;
}

bool bpi_model_crew(bpi_model *m, uint32_t level, const uint32_t *first_of, const uint32_t *term_of)
{
    const bp_eng_problem *p = m->p;
    bpi_crew *w = BPI_TAKE(m->arena, 1, bpi_crew);
    uint32_t *res = BPI_TAKE(m->arena, p->terms, uint32_t);
    if (!w || !res)
        return false;
    w->goal = &m->level[level];
    w->mine = BPI_TAKE(m->arena, w->goal->terms, bool);
    w->member = BPI_TAKE(m->arena, p->terms, bpi_member);
    if (!w->mine || !w->member)
        return false;
    for (uint32_t t = 0; t < p->terms; t++) {
        const bp_eng_term *v = &p->term[t];
        if (v->level != level || v->kind != BP_ENG_CALL || v->weight == 0 || !is_steady(m, v->a) ||
            member_of(res, w->members, v->a) != UINT32_MAX ||
            (w->members && w->weight != v->weight))
            continue;
        w->weight = v->weight;
        w->mine[term_of[t]] = true;
        res[w->members] = v->a;
        w->member[w->members++] = (bpi_member){first_of[t], v->at};
    }
    if ((uint64_t)w->members * p->activities > MOST_CELLS)
        return true;
    if (w->members == 0 || !add_jobs(m, w, res))
        return w->members == 0;
    return w->jobs == 0 || start_crew(m, w);
}

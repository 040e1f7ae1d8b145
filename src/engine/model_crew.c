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

/* Capacity 1 or 0 at all times. A span of capacity 1 that is switched off leaves no limit. */
static bool one_at_a_time(const bpi_model *m, uint32_t res)
{
    const bp_eng_problem *p = m->p;
    const bp_eng_resource *r = &p->resource[res];
    bool fine = r->capacity == 1 && bpi_lit_holds(&m->core, m->fact[r->fact]);
    for (uint32_t n = 0; n < p->spans; n++) {
        const bp_eng_span *v = &p->span[n];
        if (v->res == res)
            fine = fine && (v->capacity == 0 ||
                            (v->capacity == 1 && bpi_lit_holds(&m->core, m->fact[v->fact])));
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

/* A job of the group: every option takes a member for a time above 0. */
static bool is_job(const bpi_model *m, const uint32_t *res, uint32_t members, uint32_t act,
                   bpi_lit *on)
{
    const bp_eng_problem *p = m->p;
    const bp_eng_activity *a = &p->activity[act];
    if (bpi_ref_low(&m->core, m->length[act]) <= 0)
        return false;
    for (uint32_t k = 0; k < members; k++)
        on[k] = BPI_LIT_FALSE;
    for (uint32_t o = a->option0; o < a->option0 + a->options; o++) {
        uint32_t found = UINT32_MAX;
        for (uint32_t n = p->option[o].need0; n < p->option[o].need0 + p->option[o].needs; n++) {
            uint32_t member = member_of(res, members, p->need[n].res);
            if (p->need[n].amount > 0 && member != UINT32_MAX)
                found = member;
        }
        if (found == UINT32_MAX || !bpi_lit_fails(&m->core, on[found]))
            return false; /* the second is rare: two options with one member */
        on[found] = m->option[o];
    }
    return true;
}

static bool add_jobs(bpi_model *m, bpi_crew *w, const uint32_t *res)
{
    const bp_eng_problem *p = m->p;
    w->job = BPI_TAKE(m->arena, p->activities, bpi_job);
    w->rest = BPI_TAKE(m->arena, p->spans, bpi_break);
    if (!w->job || !w->rest)
        return false;
    for (uint32_t a = 0; a < p->activities; a++) {
        bpi_lit *on = BPI_TAKE(m->arena, w->members, bpi_lit);
        if (!on)
            return false;
        if (is_job(m, res, w->members, a, on))
            w->job[w->jobs++] = (bpi_job){m->start[a], bpi_ref_low(&m->core, m->length[a]), on};
    }
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
    w->because = BPI_TAKE(m->arena, times + w->goal->terms + 4, bpi_lit);
    w->prop = bpi_core_propagator(c, bpi_crew_run, w, BPI_SLOW);
    if (!w->time || !w->because || w->prop == UINT32_MAX ||
        !bpi_core_wake(c, w->prop, w->goal->guard.view))
        return false;
    for (uint32_t k = 0; k < w->jobs; k++) {
        if (!bpi_core_wake(c, w->prop, w->job[k].start.view ^ 1))
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
        if (v->level != level || v->kind != BP_ENG_CALL || v->weight == 0 ||
            !one_at_a_time(m, v->a) || member_of(res, w->members, v->a) != UINT32_MAX ||
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

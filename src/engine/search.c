#include "engine/search.h"

#include <assert.h>
#include <string.h>
#include <time.h>

#include "base/arena.h"
#include "base/memory.h"
#include "engine/grow.h"

enum { RESTART_UNIT = 100, FEW = 256 };

int64_t bpi_search_now_ms(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (int64_t)t.tv_sec * 1000 + t.tv_nsec / 1000000;
}

bool bpi_search_init(bpi_search *s, bpi_model *m)
{
    *s = (bpi_search){
        .m = m, .work_limit = UINT64_MAX, .slice = UINT64_MAX, .goal = {UINT32_MAX, UINT32_MAX}};
    s->best.start = BPI_TAKE(m->arena, m->p->activities, int32_t);
    s->best.length = BPI_TAKE(m->arena, m->p->activities, int32_t);
    s->best.option = BPI_TAKE(m->arena, m->p->activities, uint32_t);
    s->most_learned = 2000 + m->core.clause.givens / 4;
    for (uint32_t t = 0; t < m->p->terms; t++)
        s->backward = s->backward || m->p->term[t].kind == BP_ENG_CALL;
    return s->best.start && s->best.length && s->best.option &&
           bpi_learn_init(&s->learn, &m->core) && bpi_search_widen(s);
}

bool bpi_search_widen(bpi_search *s)
{
    bpi_core *c = &s->m->core;
    uint32_t had = s->learn.views / 2, vars = c->views / 2;
    if (!s->phase)
        had = 0;
    if (!BPI_GROW(s->phase, s->phase_room, vars)) {
        c->no_memory = true;
        return false;
    }
    assert(s->phase || vars == 0);
    for (uint32_t v = had; v < vars; v++)
        s->phase[v] = s->have ? c->low[2 * (size_t)v] : 0;
    return bpi_learn_widen(&s->learn);
}

void bpi_search_release(bpi_search *s)
{
    bpi_mem_drop(s->phase);
    bpi_learn_release(&s->learn);
    bpi_chains_release(&s->chains);
    bpi_mem_drop(s->core_of);
    *s = (bpi_search){0};
}

bool bpi_search_root(bpi_search *s)
{
    s->cores = 0;
    bpi_core_back(&s->m->core, 0);
    bpi_atoms_undo(&s->learn.atoms, 0);
    return bpi_core_propagate(&s->m->core);
}

bpi_outcome bpi_search_failed(const bpi_search *s)
{
    return s->m->core.no_memory ? BPI_NO_MEMORY : BPI_NONE;
}

/* 1 1 2 1 1 2 4 ...: M. Luby, A. Sinclair and D. Zuckerman (1993). */
static uint64_t luby(uint64_t k)
{
    uint64_t size = 1; /* of the part that ends with a power of two; k counts from 1 */
    for (k++;;) {
        while (size < k)
            size = 2 * size + 1;
        if (size == k)
            return (size + 1) / 2;
        k -= (size - 1) / 2;
        size = 1;
    }
}

static bool fixed(const bpi_core *c, bpi_ref r)
{
    return bpi_ref_low(c, r) == bpi_ref_high(c, r);
}

/* Which activity of a chain comes next when a schedule is built from one side; BP_ENG_NONE: all
 * stand. */
static uint32_t next_activity(bpi_search *s, uint32_t chain)
{
    const bpi_model *m = s->m;
    const bpi_core *c = &m->core;
    uint32_t found = BP_ENG_NONE;
    int64_t least = 0, least2 = 0;
    for (uint32_t k = s->chains.first[chain]; k < s->chains.first[chain + 1]; k++) {
        uint32_t a = s->chains.act[k];
        if (fixed(c, m->start[a]))
            continue;
        int64_t low = bpi_ref_low(c, m->start[a]), high = bpi_ref_high(c, m->start[a]);
        int64_t key = s->backward ? -(int64_t)bpi_ref_high(c, m->end[a]) : low;
        int64_t key2 = s->backward ? -low : high;
        if (found == BP_ENG_NONE || key < least || (key == least && key2 < least2)) {
            found = a;
            least = key;
            least2 = key2;
        }
    }
    s->m->core.work += (s->chains.first[chain + 1] - s->chains.first[chain]) / 4;
    return found;
}

static bool open_option(const bpi_search *s, uint32_t a, bpi_lit *out)
{
    const bpi_model *m = s->m;
    const bp_eng_activity *v = &m->p->activity[a];
    bool some = false;
    for (uint32_t k = 0; k < v->options; k++) {
        /* Begin with another one for each activity, to spread them. */
        bpi_lit l = m->option[v->option0 + (a + k) % v->options];
        if (bpi_lit_holds(&m->core, l))
            return false;
        if (bpi_lit_fails(&m->core, l))
            continue;
        bool liked =
            s->have_phase && (l.view & 1 ? -s->phase[l.view / 2] : s->phase[l.view / 2]) >= l.least;
        if (!some || liked)
            *out = l;
        some = true;
        if (liked)
            break;
    }
    return some;
}

/* Build a chain from one side: the next activity gets an option, then its place. False: all of it
 * is fixed. */
static bool decide_chain(bpi_search *s, uint32_t chain, bpi_lit *out)
{
    const bpi_model *m = s->m;
    const bpi_core *c = &m->core;
    uint32_t a = next_activity(s, chain);
    if (a != BP_ENG_NONE) {
        if (open_option(s, a, out))
            return true;
        *out = s->backward ? bpi_ref_least(m->start[a], bpi_ref_high(c, m->start[a]))
                           : bpi_ref_most(m->start[a], bpi_ref_low(c, m->start[a]));
        return true;
    }
    for (uint32_t k = s->chains.first[chain]; k < s->chains.first[chain + 1]; k++)
        if (open_option(s, s->chains.act[k], out))
            return true;
    for (uint32_t k = s->chains.first[chain]; k < s->chains.first[chain + 1]; k++) {
        a = s->chains.act[k];
        if (!fixed(c, m->length[a])) {
            *out = bpi_ref_most(m->length[a], bpi_ref_low(c, m->length[a]));
            return true;
        }
    }
    return false;
}

/* One chain after the other, from the first that was open when this level began. */
static bool decide_schedule(bpi_search *s, bpi_lit *out)
{
    uint32_t *at = &s->chains.cursor[s->m->core.levels];
    for (; *at < s->chains.chains; ++*at)
        if (decide_chain(s, *at, out))
            return true;
    return false;
}

/* A decision opens a level; what stood before it stands. False: no memory. */
static bool decide(bpi_search *s, bpi_lit l)
{
    bpi_core *c = &s->m->core;
    if (!BPI_GROW(s->chains.cursor, s->chains.cursor_room, (uint64_t)c->levels + 2)) {
        c->no_memory = true;
        return false;
    }
    s->chains.cursor[c->levels + 1] = s->chains.cursor[c->levels];
    return bpi_core_decide(c, l);
}

static bool decide_active(bpi_search *s, bpi_lit *out)
{
    bpi_lit l;
    if (!bpi_atoms_pick(&s->learn.atoms, &l))
        return false;
    bool up = s->have_phase ? s->phase[l.view / 2] >= l.least : s->backward;
    *out = up ? l : bpi_lit_not(l);
    return true;
}

/* 1: *out is to be decided; 0: all assumptions hold; -1: one fails, core_of says why. */
static int next_assumption(bpi_search *s, bpi_lit *out)
{
    bpi_core *c = &s->m->core;
    for (uint32_t k = 0; k < s->assumes; k++) {
        bpi_lit l = s->assume[k];
        if (bpi_lit_holds(c, l))
            continue;
        *out = l;
        if (!bpi_lit_fails(c, l))
            return 1;
        s->cores = 0;
        if (!BPI_GROW(s->core_of, s->core_room, 1)) {
            c->no_memory = true;
            return -1;
        }
        s->core_of[s->cores++] = l;
        c->why[0] = bpi_lit_not(l);
        c->whys = 1;
        bpi_learn_core(&s->learn, &s->core_of, &s->cores, &s->core_room);
        bpi_core_back(c, 0);
        bpi_atoms_undo(&s->learn.atoms, 0);
        return -1;
    }
    return 0;
}

static void keep(bpi_search *s)
{
    const bpi_model *m = s->m;
    const bpi_core *c = &m->core;
    for (uint32_t v = 0; v < c->views / 2; v++)
        s->phase[v] = c->low[2 * (size_t)v];
    for (uint32_t a = 0; a < m->p->activities; a++) {
        s->best.start[a] = bpi_ref_low(c, m->start[a]);
        s->best.length[a] = bpi_ref_low(c, m->length[a]);
        for (uint32_t k = 0; k < m->p->activity[a].options; k++)
            if (bpi_lit_holds(c, m->option[m->p->activity[a].option0 + k]))
                s->best.option[a] = k;
    }
    /* What bounds a cost and is still open goes where it costs least. */
    for (uint32_t k = 0; m->level && k < m->p->levels; k++)
        for (uint32_t t = 0; t < m->level[k].terms; t++) {
            uint32_t view = m->level[k].view[t];
            s->phase[view / 2] = view & 1 ? -c->low[view] : c->low[view];
        }
    bpi_model_values(m, &s->best, s->value);
    s->have = s->have_phase = true;
}

void bpi_search_hint(bpi_search *s, uint32_t act, int32_t start)
{
    bpi_ref r = s->m->start[act];
    int32_t v = start - r.add;
    s->phase[r.view / 2] = r.view & 1 ? -v : v;
}

void bpi_search_adopt(bpi_search *s, const int32_t *start)
{
    const bp_eng_problem *p = s->m->p;
    for (uint32_t a = 0; a < p->activities; a++) {
        s->best.start[a] = start[a];
        s->best.length[a] = p->option[p->activity[a].option0].least;
        s->best.option[a] = 0;
        bpi_search_hint(s, a, start[a]);
    }
    bpi_model_values(s->m, &s->best, s->value);
    s->have = s->have_phase = true;
}

bool bpi_search_spent(bpi_search *s)
{
    if (s->stopped || (s->stop && s->stop(s)))
        s->stopped = true;
    if (s->stopped)
        return true;
    if (s->m->core.work < s->work_limit)
        return false;
    return s->until_ms == 0 || bpi_search_now_ms() >= s->until_ms;
}

/* Until there is a schedule a restart throws away all chains that stand, so the more there are the
 * rarer it is. */
static uint64_t restart_unit(const bpi_search *s)
{
    return RESTART_UNIT + (s->have || s->chains.chains == 1 ? 0 : s->m->p->activities);
}

/* What fails on the way stays written in the core. */
static void restart(bpi_search *s)
{
    bpi_core *c = &s->m->core;
    s->since_restart = 0;
    s->restarts++;
    if (bpi_search_root(s) && c->clause.learneds > s->most_learned) {
        s->most_learned += s->most_learned / 20;
        bpi_clause_reduce(c);
    }
}

static bool start_chains(bpi_search *s)
{
    uint32_t levels = s->m->core.levels;
    if (s->chains.chains == 0 && !bpi_chains_init(&s->chains, s->m, s->backward, FEW))
        return false;
    if (!BPI_GROW(s->chains.cursor, s->chains.cursor_room, (uint64_t)levels + 1))
        return false;
    if (levels == 0)
        s->chains.cursor[0] = 0;
    return true;
}

bpi_outcome bpi_search_run(bpi_search *s)
{
    bpi_core *c = &s->m->core;
    uint64_t next_look = c->work;
    s->cores = 0;
    if (!BPI_GROW(c->why, c->why_room, 1) || !start_chains(s))
        return BPI_NO_MEMORY;
    for (;;) {
        if (!bpi_core_propagate(c) || c->no_memory) {
            if (c->no_memory || c->broken || !bpi_learn_conflict(&s->learn))
                return bpi_search_failed(s);
            s->conflicts++;
            s->since_restart++;
            for (uint32_t k = 0; k < 2; k++) /* a limit may be newer than the level gone back to */
                if (s->goal[k] != UINT32_MAX)
                    bpi_core_queue(c, s->goal[k]);
            continue;
        }
        if (c->work >= next_look) {
            next_look = c->work + 20000;
            if (c->work >= s->slice || bpi_search_spent(s))
                return BPI_LIMIT;
        }
        if (s->since_restart >= luby(s->restarts) * restart_unit(s)) {
            restart(s);
            continue;
        }
        bpi_lit l;
        int more = next_assumption(s, &l);
        if (more < 0)
            return bpi_search_failed(s);
        if (more == 0) {
            bool active = s->have || s->restarts % 2 == 1;
            if (!(active && decide_active(s, &l)) && !decide_schedule(s, &l)) {
                if (c->no_memory)
                    return BPI_NO_MEMORY;
                keep(s);
                return BPI_FOUND;
            }
        }
        do { /* all that is assumed first, then what follows from it: that is much less work */
            if (!decide(s, l))
                return BPI_NO_MEMORY;
        } while (more > 0 && (more = next_assumption(s, &l)) > 0);
        if (more < 0)
            return bpi_search_failed(s);
    }
}

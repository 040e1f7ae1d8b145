#include "engine/model.h"

#include "base/arena.h"
#include "base/memory.h"

static bool sum_part(bpi_core *c, uint32_t to, uint32_t x, uint32_t y, int32_t add)
{
    int32_t least = c->low[x] + c->low[y] + add;
    bpi_lit because[2] = {{x, c->low[x]}, {y, c->low[y]}};
    return bpi_core_set_stored(c, (bpi_lit){to, least}, because, 2, BPI_WHY_SUM);
}

/* a = b + c, to bounds: three inequalities, each in both directions. */
static bool run_sum(bpi_core *c, void *self)
{
    const bpi_sum *s = self;
    uint32_t a = s->a.view, b = s->b.view, l = s->c.view;
    int32_t add = s->b.add + s->c.add - s->a.add;
    c->work += 2;
    return sum_part(c, a, b, l, add) && sum_part(c, a ^ 1, b ^ 1, l ^ 1, -add) &&
           sum_part(c, b, a, l ^ 1, -add) && sum_part(c, b ^ 1, a ^ 1, l, add) &&
           sum_part(c, l, a, b ^ 1, -add) && sum_part(c, l ^ 1, a ^ 1, b, add);
}

bool bpi_model_sum(bpi_model *m, bpi_ref a, bpi_ref b, bpi_ref c)
{
    bpi_sum *s = BPI_TAKE(m->arena, 1, bpi_sum);
    if (!s)
        return false;
    *s = (bpi_sum){a, b, c};
    uint32_t prop = bpi_core_propagator(&m->core, run_sum, s, BPI_QUICK);
    if (prop == UINT32_MAX)
        return false;
    const uint32_t view[] = {a.view, b.view, c.view};
    for (uint32_t k = 0; k < 3; k++)
        if (!bpi_core_wake(&m->core, prop, view[k]) || !bpi_core_wake(&m->core, prop, view[k] ^ 1))
            return false;
    return true;
}

static bool make_facts(bpi_model *m, const bool *off, bool ask)
{
    m->fact = BPI_TAKE(m->arena, m->p->facts, bpi_lit);
    if (!m->fact)
        return false;
    for (uint32_t f = 0; f < m->p->facts; f++) {
        m->fact[f] = BPI_LIT_TRUE;
        if (f && off && off[f])
            m->fact[f] = BPI_LIT_FALSE;
        else if (f && ask) {
            uint32_t v = bpi_core_var(&m->core, 0, 1);
            if (v == UINT32_MAX)
                return false;
            m->fact[f] = (bpi_lit){v, 1};
        }
    }
    return true;
}

/* Exactly one option is taken. */
static bool make_choice(bpi_model *m, const bp_eng_activity *a)
{
    bpi_core *c = &m->core;
    bpi_lit *o = &m->option[a->option0];
    if (a->options == 1) {
        o[0] = BPI_LIT_TRUE;
        return true;
    }
    uint32_t n = a->options == 2 ? 1 : a->options;
    for (uint32_t k = 0; k < n; k++) {
        uint32_t v = bpi_core_var(c, 0, 1);
        if (v == UINT32_MAX)
            return false;
        o[k] = (bpi_lit){v, 1};
    }
    if (a->options == 2) {
        o[1] = bpi_lit_not(o[0]);
        return true;
    }
    for (uint32_t k = 0; k < n; k++)
        for (uint32_t j = 0; j < k; j++) {
            bpi_lit pair[2] = {bpi_lit_not(o[j]), bpi_lit_not(o[k])};
            if (!bpi_core_clause(c, pair, 2))
                return false;
        }
    return bpi_core_clause(c, o, n);
}

/* The limits on a length that hang on the option, and what is left when options fall away. */
static bool bound_length(bpi_model *m, uint32_t act)
{
    const bp_eng_activity *a = &m->p->activity[act];
    bpi_core *c = &m->core;
    bpi_lit *some = BPI_TAKE(m->arena, (size_t)a->options + 1, bpi_lit);
    if (!some)
        return false;
    for (uint32_t k = 0; k < a->options; k++) {
        const bp_eng_option *o = &m->p->option[a->option0 + k];
        bpi_lit no = bpi_lit_not(m->option[a->option0 + k]);
        bpi_lit least[2] = {no, bpi_ref_least(m->length[act], o->least)};
        bpi_lit most[3] = {no, bpi_lit_not(m->fact[o->fact]),
                           bpi_ref_most(m->length[act], o->most)};
        if (!bpi_core_clause(c, least, 2) || !bpi_core_clause(c, most, 3))
            return false;
        uint32_t longer = 0, shorter = 0;
        bool firm = true;
        for (uint32_t j = 0; j < a->options; j++) {
            const bp_eng_option *q = &m->p->option[a->option0 + j];
            if (q->most > o->most)
                some[longer++] = m->option[a->option0 + j];
            else if (!bpi_lit_holds(c, m->fact[q->fact]))
                firm = false;
        }
        some[longer++] = most[2];
        if (firm && !bpi_core_clause(c, some, longer))
            return false;
        for (uint32_t j = 0; j < a->options; j++)
            if (m->p->option[a->option0 + j].least < o->least)
                some[shorter++] = m->option[a->option0 + j];
        some[shorter++] = least[1];
        if (!bpi_core_clause(c, some, shorter))
            return false;
    }
    return true;
}

bool bpi_model_runs(bpi_model *m, uint32_t a, uint32_t o, bpi_lit *out)
{
    bpi_core *c = &m->core;
    bpi_lit on = m->option[o], some = bpi_ref_least(m->length[a], 1);
    *out = on;
    if (m->p->option[o].least >= 1 || bpi_lit_holds(c, some))
        return true;
    if (bpi_lit_holds(c, on)) {
        *out = some;
        return true;
    }
    uint32_t v = bpi_core_var(c, 0, 1);
    if (v == UINT32_MAX)
        return false;
    *out = (bpi_lit){v, 1};
    bpi_lit down1[2] = {bpi_lit_not(*out), on}, down2[2] = {bpi_lit_not(*out), some};
    bpi_lit up[3] = {bpi_lit_not(on), bpi_lit_not(some), *out};
    return bpi_core_clause(c, down1, 2) && bpi_core_clause(c, down2, 2) &&
           bpi_core_clause(c, up, 3);
}

static bpi_ref end_of(const bpi_model *m, uint32_t act, bp_eng_end end)
{
    if (act == BP_ENG_ORIGIN)
        return bpi_ref_fixed(0);
    return end == BP_ENG_START ? m->start[act] : m->end[act];
}

static bool add_lag(bpi_model *m, const bp_eng_lag *l)
{
    bpi_core *c = &m->core;
    bpi_lit fact = m->fact[l->fact], cond = fact;
    if (bpi_lit_fails(c, fact))
        return true;
    if (l->if_act != BP_ENG_NONE) {
        bpi_lit on = m->option[m->p->activity[l->if_act].option0 + l->if_opt];
        cond = on;
        if (!bpi_lit_holds(c, fact) && !bpi_lit_holds(c, on)) {
            uint32_t v = bpi_core_var(c, 0, 1);
            if (v == UINT32_MAX)
                return false;
            cond = (bpi_lit){v, 1};
            bpi_lit both[3] = {bpi_lit_not(fact), bpi_lit_not(on), cond};
            if (!bpi_core_clause(c, both, 3))
                return false;
        } else if (bpi_lit_holds(c, on)) {
            cond = fact;
        }
    }
    return bpi_core_arc(c, end_of(m, l->from, l->from_end), end_of(m, l->to, l->to_end), l->least,
                        cond);
}

static bool add_clause(bpi_model *m, const bp_eng_clause *k)
{
    bpi_lit *l = BPI_TAKE(m->arena, (size_t)k->literals + 1, bpi_lit);
    if (!l)
        return false;
    for (uint32_t n = 0; n < k->literals; n++) {
        const bp_eng_literal *x = &m->p->literal[k->literal0 + n];
        bpi_lit on = m->option[m->p->activity[x->act].option0 + x->opt];
        l[n] = x->negated ? bpi_lit_not(on) : on;
    }
    l[k->literals] = bpi_lit_not(m->fact[k->fact]);
    return bpi_core_clause(&m->core, l, k->literals + 1);
}

static bool build(bpi_model *m, const bool *off, bool ask, bool goals)
{
    const bp_eng_problem *p = m->p;
    m->option = BPI_TAKE(m->arena, p->options, bpi_lit);
    if (!m->option || !make_facts(m, off, ask) || !bpi_model_places(m))
        return false;
    for (uint32_t a = 0; a < p->activities; a++)
        if (!make_choice(m, &p->activity[a]) || (m->length[a].view > 1 && !bound_length(m, a)))
            return false;
    for (uint32_t n = 0; n < p->lags; n++)
        if (!add_lag(m, &p->lag[n]))
            return false;
    for (uint32_t n = 0; n < p->clauses; n++)
        if (!add_clause(m, &p->clause[n]))
            return false;
    return bpi_model_resources(m) && (!goals || bpi_model_goals(m)) && (ask || bpi_model_pools(m));
}

bool bpi_model_init(bpi_model *m, const bp_eng_problem *p, const bool *off, bool ask, bool goals)
{
    *m = (bpi_model){.p = p, .arena = bpi_arena_new()};
    if (!m->arena || !bpi_core_init(&m->core) || !build(m, off, ask, goals) || m->core.no_memory)
        return false;
    for (uint32_t k = 0; k < m->core.props; k++)
        bpi_core_queue(&m->core, k);
    return true;
}

void bpi_model_release(bpi_model *m)
{
    bpi_core_release(&m->core);
    bpi_arena_free(m->arena);
    *m = (bpi_model){0};
}

/* src/engine/model_goal.c - objectives: each term becomes bounds that can only cost more.
 *
 * Owns     nothing; part of engine/model.
 * May use  engine/model, linear.
 */
#include "engine/model.h"

#include "base/arena.h"

typedef struct goal {
    bpi_linear *n;
    size_t coef_room, view_room;
    uint32_t *first_of, *term_of; /* per term of the problem, for the crew */
    uint32_t now;                 /* the term being added                  */
} goal;

static bool add_coef(bpi_model *m, goal *g, bpi_ref r, int64_t coef)
{
    g->n->base += coef * r.add;
    if (r.view < 2)
        return true; /* a constant */
    void *list = g->n->coef;
    int64_t *coefs = bpi_arena_more(m->arena, &list, &g->coef_room, g->n->terms, sizeof *coefs);
    g->n->coef = list;
    list = g->n->view;
    uint32_t *views = bpi_arena_more(m->arena, &list, &g->view_room, g->n->terms, sizeof *views);
    g->n->view = list;
    if (!coefs || !views)
        return false;
    *coefs = coef;
    *views = r.view;
    g->n->terms++;
    return true;
}

static bool add_literal(bpi_model *m, goal *g, bpi_lit l, int64_t coef)
{
    /* literal "view >= least" of a Boolean view: 1 - least is what has to be added to count it */
    return add_coef(m, g, (bpi_ref){l.view, 1 - l.least}, coef);
}

static bool new_flag(bpi_model *m, bpi_lit *out)
{
    uint32_t v = bpi_core_var(&m->core, 0, 1);
    *out = (bpi_lit){v, 1};
    return v != UINT32_MAX;
}

static bool late(bpi_model *m, goal *g, const bp_eng_term *t)
{
    int32_t most = m->p->horizon > t->at ? m->p->horizon - t->at : 0;
    uint32_t v = bpi_core_var(&m->core, 0, most);
    return v != UINT32_MAX &&
           bpi_core_arc(&m->core, m->end[t->a], (bpi_ref){v, 0}, -(int64_t)t->at, BPI_LIT_TRUE) &&
           add_coef(m, g, (bpi_ref){v, 0}, t->weight);
}

static bool takes(const bp_eng_problem *p, uint32_t option, uint32_t res)
{
    const bp_eng_option *o = &p->option[option];
    for (uint32_t n = o->need0; n < o->need0 + o->needs; n++)
        if (p->need[n].res == res && p->need[n].amount > 0)
            return true;
    return false;
}

static uint32_t takers(const bp_eng_problem *p, uint32_t res)
{
    uint32_t count = 0;
    for (uint32_t o = 0; o < p->options; o++)
        count += takes(p, o, res);
    return count;
}

/* CALL and REACH: `first` is at most every start on the resource, `last` at least every end. */
static bool on_resource(bpi_model *m, goal *g, const bp_eng_term *t)
{
    const bp_eng_problem *p = m->p;
    bpi_core *c = &m->core;
    bool reach = t->kind == BP_ENG_REACH;
    /* Unused, CALL costs nothing: then `first` may be `at`, wherever that is, and no better. */
    uint32_t first =
        reach ? bpi_core_var(c, 0, p->horizon)
              : bpi_core_var(c, t->at < 0 ? t->at : 0, t->at > p->horizon ? t->at : p->horizon);
    m->first[t->a] = first == UINT32_MAX ? 0 : first;
    uint32_t last = reach ? bpi_core_var(c, 0, p->horizon) : 0;
    uint32_t users = 0;
    bpi_lit *used = BPI_TAKE(m->arena, (size_t)takers(p, t->a) + 1, bpi_lit);
    if (first == UINT32_MAX || last == UINT32_MAX || !used)
        return false;
    for (uint32_t a = 0; a < p->activities; a++)
        for (uint32_t o = p->activity[a].option0;
             o < p->activity[a].option0 + p->activity[a].options; o++) {
            bpi_lit runs;
            if (!takes(p, o, t->a))
                continue;
            if (!bpi_model_runs(m, a, o, &runs) ||
                !bpi_core_arc(c, (bpi_ref){first, 0}, m->start[a], 0, runs) ||
                (reach && !bpi_core_arc(c, m->end[a], (bpi_ref){last, 0}, 0, runs)))
                return false;
            used[users++] = runs;
        }
    bpi_ref minus = {first ^ 1, 0};
    if (reach) { /* the span is never below 0, also while both ends are open */
        uint32_t span = bpi_core_var(c, 0, p->horizon);
        return span != UINT32_MAX &&
               bpi_model_sum(m, (bpi_ref){last, 0}, (bpi_ref){first, 0}, (bpi_ref){span, 0}) &&
               add_coef(m, g, (bpi_ref){span, 0}, t->weight);
    }
    g->first_of[g->now] = first;
    g->term_of[g->now] = g->n->terms;
    g->n->base += (int64_t)t->weight * t->at;
    used[users++] = bpi_ref_most((bpi_ref){first, 0}, t->at);
    return bpi_core_clause(c, used, users) && add_coef(m, g, minus, t->weight);
}

static bool split(bpi_model *m, goal *g, const bp_eng_term *t)
{
    const bp_eng_problem *p = m->p;
    const uint32_t act[2] = {t->a, t->b};
    bpi_lit apart;
    size_t most = (size_t)p->activity[t->a].options + p->activity[t->b].options;
    bpi_lit *l = BPI_TAKE(m->arena, most + 2, bpi_lit);
    if (!l || !new_flag(m, &apart))
        return false;
    for (uint32_t side = 0; side < 2; side++) {
        const bp_eng_activity *a = &p->activity[act[side]], *b = &p->activity[act[1 - side]];
        for (uint32_t x = a->option0; x < a->option0 + a->options; x++) {
            uint32_t n = 0;
            if (p->option[x].who < 0)
                continue;
            l[n++] = bpi_lit_not(m->option[x]);
            l[n++] = apart;
            for (uint32_t y = b->option0; y < b->option0 + b->options; y++)
                if (p->option[y].who < 0 || p->option[y].who == p->option[x].who)
                    l[n++] = m->option[y];
            if (!bpi_core_clause(&m->core, l, n))
                return false;
        }
    }
    return add_literal(m, g, apart, t->weight);
}

static bool moved(bpi_model *m, goal *g, const bp_eng_term *t)
{
    bpi_lit away;
    if (!new_flag(m, &away))
        return false;
    bpi_lit up[2] = {away, bpi_ref_least(m->start[t->a], t->at)};
    bpi_lit down[2] = {away, bpi_ref_most(m->start[t->a], t->at)};
    return bpi_core_clause(&m->core, up, 2) && bpi_core_clause(&m->core, down, 2) &&
           add_literal(m, g, away, t->weight);
}

static bool add_term(bpi_model *m, goal *g, const bp_eng_term *t)
{
    if (t->weight == 0)
        return true;
    switch (t->kind) {
    case BP_ENG_STARTS:
        return add_coef(m, g, m->start[t->a], t->weight);
    case BP_ENG_ENDS:
        return add_coef(m, g, m->end[t->a], t->weight);
    case BP_ENG_LASTS:
        return add_coef(m, g, m->length[t->a], t->weight);
    case BP_ENG_LATE:
        return late(m, g, t);
    case BP_ENG_CALL:
    case BP_ENG_REACH:
        return on_resource(m, g, t);
    case BP_ENG_TAKES:
        return add_literal(m, g, m->option[m->p->activity[t->a].option0 + t->b], t->weight);
    case BP_ENG_SPLIT:
        return split(m, g, t);
    case BP_ENG_MOVED:
        return moved(m, g, t);
    }
    return true;
}

bool bpi_model_goals(bpi_model *m)
{
    const bp_eng_problem *p = m->p;
    bpi_core *c = &m->core;
    m->level = BPI_TAKE(m->arena, p->levels, bpi_linear);
    m->first = BPI_TAKE(m->arena, p->resources, uint32_t);
    if (!m->level || !m->first)
        return false;
    for (uint32_t k = 0; k < p->levels; k++) {
        bpi_linear *n = &m->level[k];
        goal g = {.n = n,
                  .first_of = BPI_TAKE(m->arena, p->terms, uint32_t),
                  .term_of = BPI_TAKE(m->arena, p->terms, uint32_t)};
        if (!g.first_of || !g.term_of)
            return false;
        for (g.now = 0; g.now < p->terms; g.now++)
            if (p->term[g.now].level == k && !add_term(m, &g, &p->term[g.now]))
                return false;
        n->most = n->most_guarded = INT64_MAX;
        n->scratch = BPI_TAKE(m->arena, (size_t)n->terms + 1, bpi_lit);
        if (!n->scratch || !bpi_linear_start(c, n) || !new_flag(m, &n->guard) ||
            !bpi_core_wake(c, n->prop, n->guard.view))
            return false;
        for (uint32_t t = 0; t < n->terms; t++)
            if (!bpi_core_wake(c, n->prop, n->view[t]))
                return false;
        if (!bpi_model_crew(m, k, g.first_of, g.term_of))
            return false;
    }
    return true;
}

/* What a term costs in a schedule. Auxiliary variables are not asked: they only bound the cost. */
static int64_t term_cost(const bpi_model *m, const bpi_schedule *s, const bp_eng_term *t)
{
    const bp_eng_problem *p = m->p;
    int64_t start = t->a < p->activities ? s->start[t->a] : 0;
    int64_t end = t->a < p->activities ? start + s->length[t->a] : 0;
    switch (t->kind) {
    case BP_ENG_STARTS:
        return start;
    case BP_ENG_ENDS:
        return end;
    case BP_ENG_LASTS:
        return end - start;
    case BP_ENG_LATE:
        return end > t->at ? end - t->at : 0;
    case BP_ENG_TAKES:
        return s->option[t->a] == t->b;
    case BP_ENG_MOVED:
        return start != t->at;
    case BP_ENG_SPLIT: {
        int32_t x = p->option[p->activity[t->a].option0 + s->option[t->a]].who;
        int32_t y = p->option[p->activity[t->b].option0 + s->option[t->b]].who;
        return x != y && x >= 0 && y >= 0;
    }
    case BP_ENG_CALL:
    case BP_ENG_REACH:
        break;
    }
    int64_t first = INT64_MAX, last = 0;
    for (uint32_t a = 0; a < p->activities; a++) {
        const bp_eng_option *o = &p->option[p->activity[a].option0 + s->option[a]];
        for (uint32_t n = o->need0; n < o->need0 + o->needs; n++) {
            if (p->need[n].res != t->a || p->need[n].amount == 0 || s->length[a] == 0)
                continue;
            first = s->start[a] < first ? s->start[a] : first;
            last = s->start[a] + s->length[a] > last ? s->start[a] + s->length[a] : last;
        }
    }
    if (first == INT64_MAX)
        return 0;
    return t->kind == BP_ENG_CALL ? t->at - first : last - first;
}

void bpi_model_values(const bpi_model *m, const bpi_schedule *s, int64_t value[BP_ENG_LEVELS])
{
    for (uint32_t k = 0; k < BP_ENG_LEVELS; k++)
        value[k] = 0;
    for (uint32_t n = 0; n < m->p->terms; n++)
        value[m->p->term[n].level] += m->p->term[n].weight * term_cost(m, s, &m->p->term[n]);
}

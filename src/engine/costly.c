#include "engine/costly.h"

bool bpi_costly_takes(const bp_eng_problem *p, uint32_t o, uint32_t res)
{
    const bp_eng_option *v = &p->option[o];
    for (uint32_t k = v->need0; k < v->need0 + v->needs; k++)
        if (p->need[k].res == res && p->need[k].amount > 0)
            return true;
    return false;
}

/* CALL and REACH: of the first activity on the resource. */
static int64_t on_resource(const bpi_search *s, const bp_eng_term *t, uint32_t *where)
{
    const bpi_schedule *b = &s->best;
    int64_t first = INT64_MAX, last = 0;
    for (uint32_t a = 0; a < s->m->p->activities; a++) {
        if (b->length[a] == 0 || !bpi_costly_takes(s->m->p, bpi_costly_option(s, a), t->a))
            continue;
        int64_t end = (int64_t)b->start[a] + b->length[a];
        last = end > last ? end : last;
        if (b->start[a] < first) {
            first = b->start[a];
            *where = a;
        }
    }
    if (first == INT64_MAX)
        return 0;
    return t->weight * ((t->kind == BP_ENG_CALL ? t->at : last) - first);
}

static int64_t least(const bpi_core *c, bpi_ref r)
{
    return (int64_t)c->root[r.view] + r.add;
}

int64_t bpi_costly_term(const bpi_search *s, const bp_eng_term *t, uint32_t *where)
{
    const bp_eng_problem *p = s->m->p;
    const bpi_core *c = &s->m->core;
    const bpi_schedule *b = &s->best;
    if (t->kind == BP_ENG_CALL || t->kind == BP_ENG_REACH)
        return on_resource(s, t, where);
    int64_t start = b->start[t->a], length = b->length[t->a], weight = t->weight;
    *where = t->a;
    switch (t->kind) {
    case BP_ENG_STARTS:
        return weight * (start - least(c, s->m->start[t->a]));
    case BP_ENG_ENDS:
        return weight * (start + length - least(c, s->m->end[t->a]));
    case BP_ENG_LASTS:
        return weight * (length - least(c, s->m->length[t->a]));
    case BP_ENG_LATE:
        return start + length > t->at ? weight * (start + length - t->at) : 0;
    case BP_ENG_TAKES:
        return b->option[t->a] == t->b ? weight : 0;
    case BP_ENG_MOVED:
        return start != t->at ? weight : 0;
    case BP_ENG_SPLIT: {
        int32_t x = p->option[bpi_costly_option(s, t->a)].who;
        int32_t y = p->option[bpi_costly_option(s, t->b)].who;
        return x != y && x >= 0 && y >= 0 ? weight : 0;
    }
    default:
        return 0;
    }
}

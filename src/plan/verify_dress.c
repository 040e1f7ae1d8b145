/* src/plan/verify_dress.c - the set is dressed in the order that the show asks for. */
#include <string.h>

#include "plan/verify.h"

/* Told as the show has it: each entry once, in its order. */
static void test_told(bpi_verify *v, uint32_t air)
{
    const bpi_segment *g = &v->show->segment[v->segment[air]];
    const char *told = v->plan->air[air].dress;
    bool good = g->dresses || !*told;
    for (uint32_t i = 0; i < g->dresses && good; i++) {
        const char *name = g->dress[i];
        for (uint32_t d = 0; d < g->dishes; d++)
            if (strcmp(g->dish[d].id, g->dress[i]) == 0)
                name = g->dish[d].title;
        const char *then = i ? ", then " : "";
        good = strncmp(told, then, strlen(then)) == 0 &&
               strncmp(told + strlen(then), name, strlen(name)) == 0;
        told += good ? strlen(then) + strlen(name) : 0;
    }
    if (!good || (*told && strcmp(told, ", then all else") != 0))
        bpi_object(v, v->plan->air[air].id, "the order of dressing is not that of the show");
}

/* A container comes after what is named before it; what is not named, after all that is. */
static uint32_t turn_of(const bpi_verify *v, uint32_t c)
{
    const bpi_segment *g = &v->show->segment[v->segment[v->plan->container[c].air]];
    for (uint32_t i = 0; i < g->dresses; i++)
        if (strcmp(g->dress[i], g->dish[v->dish[c]].id) == 0 ||
            strcmp(g->dress[i], v->plan->container[c].station) == 0)
            return i;
    return g->dresses;
}

static bool is_teased(const bp_plan *p, uint32_t c)
{
    for (uint32_t i = 0; i < p->teases; i++)
        if (p->tease[i].container == c)
            return true;
    return false;
}

/* What was on its way to the set before now had its turn then, and what is made anew has none. */
static bool is_bound(const bpi_verify *v, uint32_t c, const bp_op *then, uint32_t d)
{
    const bpi_amends *m = v->amends;
    return !m || (then->from >= m->now && !m->apart[c] && !m->apart[d]);
}

void bpi_verify_dress(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    for (uint32_t a = 0; a < p->airs; a++)
        test_told(v, a);
    for (uint32_t i = 0; i < p->ops; i++)
        for (uint32_t k = 0; k < p->ops; k++) {
            const bp_op *first = &p->op[i], *then = &p->op[k];
            if (first->kind != BP_OP_CARRY || then->kind != BP_OP_CARRY ||
                first->air != then->air || !first->serves.n || !then->serves.n)
                continue;
            uint32_t c = p->index[first->serves.first], d = p->index[then->serves.first];
            if (!is_teased(p, c) && !is_teased(p, d) && turn_of(v, c) < turn_of(v, d) &&
                then->from < first->to && is_bound(v, c, then, d))
                bpi_object(v, then->key, "it is carried before %s stands on the set",
                           p->container[c].code);
        }
}

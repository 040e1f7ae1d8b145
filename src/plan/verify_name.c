/* src/plan/verify_name.c - the numbers and names of a plan resolve: in the plan, and in the show.
 *
 * Owns     nothing.
 * May use  plan/verify and what it names.
 */
#include "plan/verify.h"

#include <stdio.h>
#include <string.h>

/* ---- numbers are in range ---------------------------------------------------------------- */

static bool in_list(bp_slice s, uint32_t n)
{
    return s.n <= n && s.first <= n - s.n;
}

static bool refers(const bp_plan *p, bp_slice s, uint32_t n)
{
    if (!in_list(s, p->indexes))
        return false;
    for (uint32_t i = 0; i < s.n; i++)
        if (p->index[s.first + i] >= n)
            return false;
    return true;
}

static bool maybe(uint32_t i, uint32_t n)
{
    return i == BP_NO_INDEX || i < n;
}

static void test_ranges(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    for (uint32_t i = 0; i < p->persons; i++)
        if (!in_list(p->person[i].stints, p->stints))
            bpi_object(v, p->person[i].id, "stints are out of range");
    for (uint32_t i = 0; i < p->stints; i++)
        if (p->stint[i].person >= p->persons)
            bpi_object(v, "stints", "number %u is of nobody", i);
    for (uint32_t i = 0; i < p->airs; i++)
        if (!in_list(p->air[i].beats, p->beats) || !in_list(p->air[i].teases, p->teases))
            bpi_object(v, p->air[i].id, "beats or teases are out of range");
    for (uint32_t i = 0; i < p->beats; i++)
        if (!refers(p, p->beat[i].in, p->containers) || !refers(p, p->beat[i].out, p->containers) ||
            !refers(p, p->beat[i].on, p->containers) || !maybe(p->beat[i].dish, p->dishes))
            bpi_object(v, p->beat[i].id, "containers or dish are out of range");
    for (uint32_t i = 0; i < p->airs; i++)
        if (!in_list(p->air[i].versions, p->versions))
            bpi_object(v, p->air[i].id, "versions are out of range");
    for (uint32_t i = 0; i < p->versions; i++)
        if (!refers(p, p->version[i].unused, p->containers) ||
            !in_list(p->version[i].at_least, p->indexes) ||
            !in_list(p->version[i].at_most, p->indexes))
            bpi_object(v, "versions", "lists of number %u are out of range", i);
    for (uint32_t i = 0; i < p->teases; i++)
        if (!maybe(p->tease[i].container, p->containers))
            bpi_object(v, "teases", "number %u shows no container", i);
    for (uint32_t i = 0; i < p->containers; i++)
        if (p->container[i].dish >= p->dishes || p->container[i].air >= p->airs ||
            !maybe(p->container[i].beat, p->beats) || p->container[i].stage > BP_FINISHED ||
            p->container[i].role > BP_ROLE_SPARE || p->container[i].size_den == 0)
            bpi_object(v, p->container[i].code, "dish, appearance, beat or size are out of range");
    for (uint32_t i = 0; i < p->ops; i++)
        if (!refers(p, p->op[i].serves, p->containers) || !refers(p, p->op[i].uses, p->things) ||
            !maybe(p->op[i].person, p->persons) || !maybe(p->op[i].air, p->airs) ||
            !maybe(p->op[i].dish, p->dishes) || p->op[i].kind > BP_OP_WARM_UP)
            bpi_object(v, p->op[i].key, "cook, containers, things or dish are out of range");
    for (uint32_t i = 0; i < p->findings; i++)
        if (!maybe(p->finding[i].container, p->containers))
            bpi_object(v, "findings", "number %u is about no container", i);
}

/* ---- names are those of the show --------------------------------------------------------- */

static bool is_air(const bp_air *a, const bpi_segment *g, uint32_t hit)
{
    size_t len = strlen(g->id);
    if (strncmp(a->id, g->id, len) != 0 || a->hit != g->hit[hit].at)
        return false;
    if (g->hits == 1)
        return a->id[len] == '\0';
    char number[16];
    snprintf(number, sizeof number, "/%u", hit + 1);
    return strcmp(a->id + len, number) == 0;
}

static void name_airs(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    uint32_t hits = 0;
    for (uint32_t g = 0; g < v->show->segments; g++)
        for (uint32_t h = 0; h < v->show->segment[g].hits; h++) {
            uint32_t found = 0;
            for (uint32_t i = 0; i < p->airs; i++)
                if (is_air(&p->air[i], &v->show->segment[g], h)) {
                    v->segment[i] = g;
                    v->hit[i] = h;
                    found++;
                }
            if (found != 1)
                bpi_object(v, v->show->segment[g].id, "hit %u is planned %u times", h + 1, found);
            hits++;
        }
    if (p->airs != hits)
        bpi_object(v, "appearances", "%u are planned, the show has %u", p->airs, hits);
}

static void name_containers(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    for (uint32_t i = 0; i < p->containers; i++) {
        const bp_container *c = &p->container[i];
        const bpi_segment *g = &v->show->segment[v->segment[c->air]];
        v->dish[i] = BPI_NO_INDEX;
        for (uint32_t d = 0; d < g->dishes; d++)
            if (strcmp(g->dish[d].id, p->dish[c->dish].id) == 0)
                v->dish[i] = d;
        if (v->dish[i] == BPI_NO_INDEX) {
            bpi_object(v, c->code, "dish %s is not in segment %s", p->dish[c->dish].id, g->id);
            continue;
        }
        v->recipe[i] = &v->show->recipe[g->dish[v->dish[i]].recipe];
        for (uint32_t k = 0; k < i; k++)
            if (strcmp(p->container[k].code, c->code) == 0)
                bpi_object(v, c->code, "two containers have this code");
    }
}

/* The nth part of a key from its end, between '/'. */
static const char *part(const char *key, uint32_t nth, size_t *len)
{
    const char *end = key + strlen(key);
    for (;; nth--) {
        const char *from = end;
        while (from > key && from[-1] != '/')
            from--;
        if (nth == 0) {
            *len = (size_t)(end - from);
            return from;
        }
        if (from == key)
            return NULL;
        end = from - 1;
    }
}

static uint32_t step_named(const bpi_recipe *r, const char *id, size_t len)
{
    for (uint32_t s = 0; id && s < r->steps; s++)
        if (strlen(r->step[s].id) == len && memcmp(r->step[s].id, id, len) == 0)
            return s;
    return BPI_NO_INDEX;
}

static void name_ops(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    for (uint32_t i = 0; i < p->ops; i++) {
        const bp_op *o = &p->op[i];
        v->step[i] = BPI_NO_INDEX;
        for (uint32_t k = 0; k < i; k++)
            if (strcmp(p->op[k].key, o->key) == 0)
                bpi_object(v, o->key, "two operations have this key");
        bool step = o->kind == BP_OP_ACTIVE || o->kind == BP_OP_PASSIVE || o->kind == BP_OP_OVEN;
        bool beside = o->kind == BP_OP_LOAD || o->kind == BP_OP_TAKE_OFF || o->kind == BP_OP_WAIT ||
                      o->kind == BP_OP_HELP;
        if (!step && !beside)
            continue;
        if (o->serves.n == 0) {
            bpi_object(v, o->key, "it is for no container");
            continue;
        }
        uint32_t c = p->index[o->serves.first];
        size_t len = strlen(o->key);
        if (o->kind == BP_OP_WAIT && len > 5 && strcmp(o->key + len - 5, ".wait") == 0)
            continue; /* measured */
        const char *id = part(o->key, step ? 0 : 1, &len);
        v->step[i] = step_named(v->recipe[c], id, len);
        if (v->step[i] == BPI_NO_INDEX)
            bpi_object(v, o->key, "no step of recipe %s has this name", v->recipe[c]->id);
    }
}

bool bpi_verify_names(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    v->segment = BPI_TAKE(v->arena, p->airs, uint32_t);
    v->hit = BPI_TAKE(v->arena, p->airs, uint32_t);
    v->dish = BPI_TAKE(v->arena, p->containers, uint32_t);
    v->recipe = BPI_TAKE(v->arena, p->containers, const bpi_recipe *);
    v->step = BPI_TAKE(v->arena, p->ops, uint32_t);
    v->known = BPI_TAKE(v->arena, p->ops, bool);
    v->want = BPI_TAKE(v->arena, p->beats, bpi_want);
    if (!v->segment || !v->hit || !v->dish || !v->recipe || !v->step || !v->known || !v->want)
        return false;
    test_ranges(v);
    if (!v->objected)
        name_airs(v);
    if (!v->objected)
        name_containers(v);
    if (!v->objected)
        name_ops(v);
    return true;
}

#include "plan/verify.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "plan/buffer.h"

#define MEASURED_HOLD 14400 /* s on the counter or on set: common practice, no source */

void bpi_object(bpi_verify *v, const char *what, const char *form, ...)
{
    char text[200];
    va_list args;
    va_start(args, form);
    vsnprintf(text, sizeof text, form, args);
    va_end(args);
    v->objected = true;
    bpi_error_f(v->errs, BP_EINTERNAL, BPI_NOWHERE, "", "%s: %s", what, text);
}

int64_t bpi_minute_down(int64_t seconds)
{
    int64_t over = seconds % 60;
    return seconds - (over < 0 ? over + 60 : over);
}

int64_t bpi_minute_up(int64_t seconds)
{
    return -bpi_minute_down(-seconds);
}

uint32_t bpi_among(const bp_plan *p, bp_slice slice, uint32_t number)
{
    uint32_t times = 0;
    for (uint32_t i = 0; i < slice.n; i++)
        times += p->index[slice.first + i] == number;
    return times;
}

bool bpi_is_hands_on(bp_op_kind kind)
{
    return kind != BP_OP_PASSIVE && kind != BP_OP_OVEN && kind != BP_OP_WAIT && kind != BP_OP_SET;
}

const bpi_dish *bpi_dish_of(const bpi_verify *v, uint32_t container)
{
    const bp_container *c = &v->plan->container[container];
    return &v->show->segment[v->segment[c->air]].dish[v->dish[container]];
}

int64_t bpi_slot_end(const bpi_verify *v, uint32_t air)
{
    return v->plan->air[air].hit + v->plan->air[air].slot;
}

int64_t bpi_set_hold(const bpi_recipe *recipe, uint64_t steps)
{
    if (steps == 0)
        return MEASURED_HOLD;
    int64_t hold = BPI_NO_LIMIT;
    for (uint32_t s = 0; s < recipe->steps; s++) {
        bool last = steps >> s & 1;
        for (uint32_t t = 0; t < recipe->steps; t++)
            if ((steps >> t & 1) && (recipe->step[t].before_all >> s & 1))
                last = false;
        if (last && recipe->step[s].hold_set < hold)
            hold = recipe->step[s].hold_set;
    }
    return hold;
}

static bool on_the_counter(const bpi_verify *v, const bp_op *op)
{
    for (uint32_t i = 0; i < op->uses.n; i++)
        if (v->plan->thing[v->plan->index[op->uses.first + i]].kind == BP_PLACE_COUNTER)
            return true;
    return false;
}

int64_t bpi_keeps_until(const bpi_verify *v, uint32_t c)
{
    const bp_plan *p = v->plan;
    int64_t carried = BP_NO_TIME, hold = bpi_set_hold(v->recipe[c], p->container[c].steps);
    for (uint32_t o = 0; o < p->ops; o++)
        if (p->op[o].kind == BP_OP_CARRY && bpi_among(p, p->op[o].serves, c))
            carried = p->op[o].from;
    for (uint32_t o = 0; o < p->ops; o++) {
        const bp_op *op = &p->op[o];
        bool bowls = op->kind == BP_OP_MEASURE && op->to == carried;
        bool waits = op->kind == BP_OP_WAIT && op->to == carried && on_the_counter(v, op);
        if (!bpi_among(p, op->serves, c) || (!bowls && !waits))
            continue;
        int64_t room = MEASURED_HOLD, waited = bowls ? 0 : op->to - op->from;
        if (waits && v->step[o] != BPI_NO_INDEX) {
            const bpi_step *s = &v->recipe[c]->step[v->step[o]];
            if (!s->hold_stated)
                continue;
            room = s->hold[BPI_COUNTER] > s->hold_set ? s->hold[BPI_COUNTER] : s->hold_set;
        }
        if (room != BPI_NO_LIMIT && room - waited < hold)
            hold = room - waited;
    }
    return hold == BPI_NO_LIMIT ? hold : p->container[c].on_set + hold;
}

uint64_t bpi_on_air(const bpi_verify *v, uint32_t c)
{
    const bp_plan *p = v->plan;
    uint64_t steps = 0;
    for (uint32_t k = 0; k < p->beats; k++)
        for (uint32_t i = 0; bpi_among(p, p->beat[k].on, c) && i < v->want[k].does_n; i++)
            if (v->want[k].dish == v->dish[c])
                steps |= UINT64_C(1) << v->want[k].does[i];
    return steps & ~p->container[c].steps;
}

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
            !maybe(p->op[i].dish, p->dishes) || p->op[i].kind > BP_OP_STAND_BY)
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
        bool beside = o->kind == BP_OP_LOAD || o->kind == BP_OP_TAKE_OFF || o->kind == BP_OP_WAIT;
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

/* What a plan allows beyond the likely times is no longer than the show says a step may take; with
 * that, it is held to everything. false: no memory. */
static bool add_buffers(bpi_verify *v)
{
    const bp_chance *c = v->plan->chance;
    if (!c || !c->buffers)
        return true;
    const bp_buffer *wrong = NULL;
    const bpi_show *show = bpi_buffer_show(v->arena, v->show, c->buffer, c->buffers, &wrong);
    if (wrong)
        bpi_object(v, wrong->step, "the show has no room for its buffer");
    else if (show)
        v->show = show;
    return show || wrong;
}

bp_code bp_plan_verify(const bp_plan *plan, const bp_show *show, bp_errors *errs)
{
    bpi_verify v = {.plan = plan, .show = show, .errs = errs, .arena = bpi_arena_new()};
    bool memory = v.arena && add_buffers(&v);
    if (memory && !v.objected)
        memory = bpi_verify_names(&v);
    if (memory && !v.objected)
        memory = bpi_verify_air(&v);
    if (memory && !v.objected) {
        bpi_verify_walk(&v);
        bpi_verify_version(&v);
        bpi_verify_box(&v);
        bpi_verify_step(&v);
        bpi_verify_crew(&v);
        bpi_verify_use(&v);
        bpi_verify_goal(&v);
    }
    bpi_arena_free(v.arena);
    if (!memory)
        return bpi_error_no_memory(errs);
    return v.objected ? BP_EINTERNAL : BP_OK;
}

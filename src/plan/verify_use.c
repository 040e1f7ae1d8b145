/* src/plan/verify_use.c - what is occupied, never more than there is; ovens. */
#include <string.h>

#include "plan/verify.h"

static const bp_thing *thing_of(const bpi_verify *v, const bp_op *op, uint32_t i)
{
    return &v->plan->thing[v->plan->index[op->uses.first + i]];
}

/* How many of a kind the show has; BP_NO_INDEX: not limited. */
static uint32_t room_of(const bpi_verify *v, const bp_thing *t)
{
    const bpi_kitchen *k = &v->show->kitchen;
    if (t->kind == BP_BURNER)
        return k->burners;
    for (uint32_t i = 0; t->kind == BP_OVEN && i < k->ovens; i++)
        if (strcmp(k->oven[i].id, t->id) == 0)
            return k->oven[i].positions;
    for (uint32_t i = 0; (t->kind == BP_TOOL || t->kind == BP_VESSEL) && i < k->tools; i++)
        if (k->tool[i].vessel == (t->kind == BP_VESSEL) && strcmp(k->tool[i].id, t->id) == 0)
            return k->tool[i].count;
    static const bp_thing_kind kinds[BPI_KEEPS] = {
        [BPI_COUNTER] = BP_PLACE_COUNTER, [BPI_HOT] = BP_PLACE_HOT, [BPI_COLD] = BP_PLACE_COLD};
    bool named = false;
    for (uint32_t i = 0; i < k->places; i++) {
        if (kinds[k->place[i].keep] != t->kind)
            continue;
        named = true;
        if (strcmp(k->place[i].id, t->id) == 0)
            return k->place[i].count;
    }
    if (t->kind == BP_SET || (t->kind == BP_PLACE_COUNTER && !named))
        return BP_NO_INDEX;
    return 0; /* the show has no such thing */
}

static void test_thing(bpi_verify *v, uint32_t t)
{
    const bp_plan *p = v->plan;
    const bp_thing *thing = &p->thing[t];
    uint32_t room = room_of(v, thing);
    if (room == BP_NO_INDEX)
        return;
    if (thing->count != room)
        bpi_object(v, thing->id, "the plan counts %u, the show %u", thing->count, room);
    for (uint32_t o = 0; o < p->ops; o++) { /* use is greatest where something starts */
        uint32_t used = 0;
        if (!bpi_among(p, p->op[o].uses, t))
            continue;
        for (uint32_t k = 0; k < p->ops; k++)
            if (p->op[k].from <= p->op[o].from && p->op[o].from < p->op[k].to)
                used += bpi_among(p, p->op[k].uses, t);
        if (used > room)
            bpi_object(v, p->op[o].key, "%u of %s are in use at once, there are %u", used,
                       thing->id, room);
    }
}

/* Does it use the tool as often as asked? */
static void test_tool(bpi_verify *v, const bp_op *op, uint32_t tool, uint32_t times)
{
    const bpi_tool *t = &v->show->kitchen.tool[tool];
    uint32_t used = 0;
    for (uint32_t i = 0; i < op->uses.n; i++)
        used += thing_of(v, op, i)->kind == (t->vessel ? BP_VESSEL : BP_TOOL) &&
                strcmp(thing_of(v, op, i)->id, t->id) == 0;
    if (used < times)
        bpi_object(v, op->key, "it does not occupy its %s", t->id);
}

static void test_tools(bpi_verify *v, const bp_op *op, const bpi_step *s, bool vessels_only)
{
    for (uint32_t i = 0; i < s->tools; i++) {
        uint32_t times = 0;
        for (uint32_t k = 0; k < s->tools; k++)
            times += s->tool[k] == s->tool[i];
        if (!vessels_only || v->show->kitchen.tool[s->tool[i]].vessel)
            test_tool(v, op, s->tool[i], times);
    }
}

static uint32_t count_of(const bpi_verify *v, const bp_op *op, bp_thing_kind kind)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < op->uses.n; i++)
        n += thing_of(v, op, i)->kind == kind;
    return n;
}

/* A pot stays with its food where this step and the next name it. */
static void test_pot(bpi_verify *v, uint32_t o, const bpi_step *s)
{
    const bp_plan *p = v->plan;
    const bp_op *wait = &p->op[o];
    uint32_t c = p->index[wait->serves.first];
    if (s->together && wait->serves.n == 1)
        return; /* the batch is divided: each part is in something of its own */
    for (uint32_t k = 0; k < p->ops; k++) {
        const bp_op *next = &p->op[k];
        bool starts = next->kind == BP_OP_LOAD || next->kind == BP_OP_ACTIVE;
        if (!starts || next->from != wait->to || !bpi_among(p, next->serves, c) ||
            !(v->recipe[c]->step[v->step[k]].after >> v->step[o] & 1))
            continue;
        const bpi_step *n = &v->recipe[c]->step[v->step[k]];
        for (uint32_t i = 0; i < s->tools; i++) {
            uint32_t here = 0, there = 0;
            for (uint32_t j = 0; j < s->tools; j++)
                here += s->tool[j] == s->tool[i];
            for (uint32_t j = 0; j < n->tools; j++)
                there += n->tool[j] == s->tool[i];
            if (there && v->show->kitchen.tool[s->tool[i]].vessel)
                test_tool(v, wait, s->tool[i], here < there ? here : there);
        }
    }
}

static void test_op(bpi_verify *v, uint32_t o)
{
    const bp_op *op = &v->plan->op[o];
    if (v->step[o] == BPI_NO_INDEX)
        return;
    const bpi_step *s = &v->recipe[v->plan->index[op->serves.first]]->step[v->step[o]];
    static const bp_thing_kind places[BPI_KEEPS] = {
        [BPI_COUNTER] = BP_PLACE_COUNTER, [BPI_HOT] = BP_PLACE_HOT, [BPI_COLD] = BP_PLACE_COLD};
    bool main = op->kind == BP_OP_ACTIVE || op->kind == BP_OP_PASSIVE || op->kind == BP_OP_OVEN;
    if (op->kind == BP_OP_WAIT) {
        test_pot(v, o, s);
        return;
    }
    test_tools(v, op, s, !main);
    if (s->burner && (main || op->kind == BP_OP_LOAD) && count_of(v, op, BP_BURNER) != 1)
        bpi_object(v, op->key, "it is on no burner");
    if (main && s->kind == BPI_PASSIVE && s->keep >= 0 && count_of(v, op, places[s->keep]) != 1)
        bpi_object(v, op->key, "it does not stand %s", bpi_keep_name((bpi_keep)s->keep));
    if (op->kind == BP_OP_OVEN && count_of(v, op, BP_OVEN) != 1)
        bpi_object(v, op->key, "it is in no oven");
}

/* ---- ovens ------------------------------------------------------------------------------- */

static int64_t change(const bpi_oven *oven, int32_t from, int32_t to)
{
    int64_t by = (int64_t)to - from, rate = by > 0 ? oven->heat_mC_min : oven->cool_mC_min;
    by = by > 0 ? by : -by;
    return (by + rate - 1) / rate * 60;
}

static bool bakes_in(const bpi_verify *v, const bp_op *op, const char *oven)
{
    bool in = false;
    for (uint32_t i = 0; op->kind == BP_OP_OVEN && i < op->uses.n; i++)
        in |= thing_of(v, op, i)->kind == BP_OVEN && strcmp(thing_of(v, op, i)->id, oven) == 0;
    return in;
}

/* The preheat of an oven is known by its key. */
static const bp_op *preheat_of(const bpi_verify *v, const char *oven, uint32_t *n)
{
    const bp_op *found = NULL;
    size_t len = strlen(oven);
    *n = 0;
    for (uint32_t o = 0; o < v->plan->ops; o++) {
        const bp_op *op = &v->plan->op[o];
        if (op->kind == BP_OP_PREHEAT && strncmp(op->key, "oven/", 5) == 0 &&
            strncmp(op->key + 5, oven, len) == 0 && strcmp(op->key + 5 + len, "/preheat") == 0) {
            found = op;
            ++*n;
        }
    }
    return found;
}

static void test_oven(bpi_verify *v, uint32_t k)
{
    const bp_plan *p = v->plan;
    const bpi_oven *oven = &v->show->kitchen.oven[k];
    uint32_t bakes = 0, heats = 0;
    const bp_op *heat = preheat_of(v, oven->id, &heats);
    for (uint32_t a = 0; a < p->ops; a++) {
        const bp_op *x = &p->op[a];
        if (!bakes_in(v, x, oven->id))
            continue;
        bakes++;
        const bpi_step *s = &v->recipe[p->index[x->serves.first]]->step[v->step[a]];
        if (s->oven != BPI_NO_INDEX && s->oven != k)
            bpi_object(v, x->key, "it must bake in another oven than %s", oven->id);
        int64_t warm = s->oven_mC > oven->cold_mC ? change(oven, oven->cold_mC, s->oven_mC) : 0;
        if (heat && heat->to + warm > x->from)
            bpi_object(v, x->key, "oven %s is not hot yet", oven->id);
        for (uint32_t b = 0; b < p->ops; b++) {
            const bp_op *y = &p->op[b];
            if (!bakes_in(v, y, oven->id) || y->from > x->from || a == b)
                continue;
            int32_t other = v->recipe[p->index[y->serves.first]]->step[v->step[b]].oven_mC;
            if (other == s->oven_mC)
                continue;
            if (x->from < y->to)
                bpi_object(v, x->key, "it shares the oven with %s at another temperature", y->key);
            else if (x->from - y->to < change(oven, other, s->oven_mC))
                bpi_object(v, x->key, "oven %s has not changed from the temperature of %s yet",
                           oven->id, y->key);
        }
    }
    if (heats != (bakes ? 1u : 0u))
        bpi_object(v, oven->id, "it is switched on %u times for %u bakes", heats, bakes);
}

void bpi_verify_use(bpi_verify *v)
{
    for (uint32_t t = 0; t < v->plan->things; t++)
        test_thing(v, t);
    for (uint32_t o = 0; o < v->plan->ops; o++)
        test_op(v, o);
    uint32_t heats = 0, ovens = 0, n = 0;
    for (uint32_t k = 0; k < v->show->kitchen.ovens; k++) {
        test_oven(v, k);
        preheat_of(v, v->show->kitchen.oven[k].id, &n);
        ovens += n;
    }
    for (uint32_t o = 0; o < v->plan->ops; o++)
        heats += v->plan->op[o].kind == BP_OP_PREHEAT;
    if (heats != ovens)
        bpi_object(v, "ovens", "one that the show has not is switched on");
}

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
        if (!bpi_among(p, p->op[o].uses, t) || bpi_is_past(v, &p->op[o]))
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

static uint32_t positions(const bpi_verify *v, const bp_op *op)
{
    const bpi_kitchen *k = &v->show->kitchen;
    uint32_t n = 0;
    for (uint32_t i = 0; i < op->uses.n; i++)
        for (uint32_t t = 0; t < k->tools && thing_of(v, op, i)->kind == BP_VESSEL; t++)
            if (k->tool[t].vessel && strcmp(k->tool[t].id, thing_of(v, op, i)->id) == 0)
                n += k->tool[t].room;
    return n > 1 ? n : 1;
}

uint32_t bpi_places(const bpi_verify *v, const bp_op *op, bool *right)
{
    uint32_t places = 0, taken = 0, asked = positions(v, op);
    for (uint32_t i = 0; i < op->uses.n; i++) {
        uint32_t thing = v->plan->index[op->uses.first + i];
        const bp_thing *t = &v->plan->thing[thing];
        if (t->kind != BP_PLACE_COUNTER && t->kind != BP_PLACE_HOT && t->kind != BP_PLACE_COLD)
            continue;
        bool first = true;
        for (uint32_t k = 0; k < i; k++)
            first &= v->plan->index[op->uses.first + k] != thing;
        places += first;
        taken++;
        if (room_of(v, t) == BP_NO_INDEX)
            asked = 1; /* room without bound is not counted */
    }
    *right = taken == asked;
    return places;
}

static uint32_t count_of(const bpi_verify *v, const bp_op *op, bp_thing_kind kind)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < op->uses.n; i++)
        n += thing_of(v, op, i)->kind == kind;
    return n;
}

/* Does a step come directly after another, or after what that one makes ready again? */
static bool goes_on(const bpi_recipe *r, uint32_t step, uint32_t next)
{
    uint64_t after = r->step[next].after;
    return (after >> step & 1) ||
           (r->step[step].ahead != BPI_NO_INDEX && r->step[next].ahead == BPI_NO_INDEX &&
            (after >> r->step[step].ahead & 1));
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
            !goes_on(v->recipe[c], v->step[o], v->step[k]))
            continue;
        const bpi_step *n = &v->recipe[c]->step[v->step[k]];
        for (uint32_t i = 0; i < s->tools; i++) {
            uint32_t here = 0, there = 0;
            for (uint32_t j = 0; j < s->tools; j++)
                here += s->tool[j] == s->tool[i];
            for (uint32_t j = 0; j < n->tools; j++)
                there += n->tool[j] == s->tool[i];
            if (there && v->show->kitchen.tool[s->tool[i]].vessel &&
                !v->show->kitchen.tool[s->tool[i]].wash) /* verify_vessel */
                test_tool(v, wait, s->tool[i], here < there ? here : there);
        }
    }
}

/* Who loads an oven or empties it is told which. */
static void test_door(bpi_verify *v, uint32_t o)
{
    const bp_plan *p = v->plan;
    const bp_op *op = &p->op[o];
    for (uint32_t k = 0; k < p->ops; k++) {
        bool beside = op->kind == BP_OP_LOAD ? p->op[k].from == op->to : p->op[k].to == op->from;
        if (p->op[k].kind != BP_OP_OVEN || v->step[k] != v->step[o] || !beside ||
            !bpi_among(p, p->op[k].serves, p->index[op->serves.first]))
            continue;
        for (uint32_t i = 0; i < p->op[k].uses.n; i++)
            if (thing_of(v, &p->op[k], i)->kind == BP_OVEN &&
                bpi_among(p, op->uses, p->index[p->op[k].uses.first + i]) != 1)
                bpi_object(v, op->key, "it names another oven than %s",
                           thing_of(v, &p->op[k], i)->id);
    }
}

static void test_op(bpi_verify *v, uint32_t o)
{
    const bp_op *op = &v->plan->op[o];
    if (v->step[o] == BPI_NO_INDEX || op->kind == BP_OP_HELP) /* it is at what the step occupies */
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
    if (s->burner && count_of(v, op, BP_BURNER) != 1) /* the pot stands there until it is off */
        bpi_object(v, op->key, "it is on no burner");
    bool stands = main && s->kind == BPI_PASSIVE && s->keep >= 0;
    bool right = true;
    if (stands && (bpi_places(v, op, &right) != 1 || count_of(v, op, places[s->keep]) == 0))
        bpi_object(v, op->key, "it does not stand %s", bpi_keep_name((bpi_keep)s->keep));
    else if (!right)
        bpi_object(v, op->key, "it takes other positions than its vessels say");
    if (op->kind == BP_OP_OVEN && count_of(v, op, BP_OVEN) != 1)
        bpi_object(v, op->key, "it is in no oven");
    if (s->kind == BPI_OVEN && !main)
        test_door(v, o);
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

/* A preheat is known by its key: the oven's, with a number from 2 where it is not the first. */
static bool is_preheat(const bp_op *op, const char *oven)
{
    static const char end[] = "/preheat";
    size_t len = strlen(oven);
    if (op->kind != BP_OP_PREHEAT || strncmp(op->key, "oven/", 5) != 0 ||
        strncmp(op->key + 5, oven, len) != 0 ||
        strncmp(op->key + 5 + len, end, sizeof end - 1) != 0)
        return false;
    const char *rest = op->key + 5 + len + sizeof end - 1;
    return rest[0] == '\0' ||
           (rest[0] == '/' && strspn(rest + 1, "0123456789") == strlen(rest + 1));
}

static const bpi_step *baked(const bpi_verify *v, uint32_t o)
{
    return &v->recipe[v->plan->index[v->plan->op[o].serves.first]]->step[v->step[o]];
}

/* What a bake is in the oven for: from when it is begun to be put in until it is out. */
typedef struct stay {
    int64_t from, to;
} stay;

static stay stay_of(const bpi_verify *v, uint32_t o)
{
    const bp_plan *p = v->plan;
    const bp_op *op = &p->op[o];
    stay in = {op->from, op->to};
    for (uint32_t k = 0; k < p->ops; k++) {
        if (v->step[k] != v->step[o] || !bpi_among(p, p->op[k].serves, p->index[op->serves.first]))
            continue;
        if (p->op[k].kind == BP_OP_LOAD && p->op[k].to == op->from)
            in.from = p->op[k].from;
        else if (p->op[k].kind == BP_OP_TAKE_OFF && p->op[k].from == op->to)
            in.to = p->op[k].to;
    }
    return in;
}

/* Is the oven on for this bake from one that went in before it? */
static bool still_on(const bpi_verify *v, const bpi_oven *oven, uint32_t o)
{
    const bp_op *x = &v->plan->op[o];
    for (uint32_t k = 0; k < v->plan->ops; k++) {
        const bp_op *y = &v->plan->op[k];
        if (bakes_in(v, y, oven->id) && y->from < x->from &&
            stay_of(v, o).from - stay_of(v, k).to <=
                change(oven, baked(v, k)->oven_mC, baked(v, o)->oven_mC) +
                    bpi_minute_down(oven->idle))
            return true;
    }
    return false;
}

/* Is it the first in the plan of those that go in at its time? */
static bool first_at_its_time(const bpi_verify *v, const bpi_oven *oven, uint32_t o)
{
    for (uint32_t k = 0; k < o; k++)
        if (bakes_in(v, &v->plan->op[k], oven->id) && v->plan->op[k].from == v->plan->op[o].from)
            return false;
    return true;
}

/* Hot when it is begun to be put in, and not left so for long before. */
static bool heated(const bpi_verify *v, const bpi_oven *oven, uint32_t o)
{
    int32_t mC = baked(v, o)->oven_mC;
    int64_t warm = mC > oven->cold_mC ? change(oven, oven->cold_mC, mC) : 0;
    for (uint32_t k = 0; k < v->plan->ops; k++) {
        int64_t empty = stay_of(v, o).from - v->plan->op[k].to - warm;
        if (is_preheat(&v->plan->op[k], oven->id) && empty >= 0 &&
            empty <= bpi_minute_down(oven->idle))
            return true;
    }
    return false;
}

/* Was b in the oven with another load that had the say over its temperature: one that is still in it, or
 * else that went in later? Only a day does that, no plan. */
static bool is_overruled(const bpi_verify *v, const bpi_oven *oven, uint32_t b)
{
    if (!v->amends || !bpi_is_past(v, &v->plan->op[b]))
        return false;
    stay y = stay_of(v, b);
    for (uint32_t k = 0; k < v->plan->ops; k++) {
        if (!bakes_in(v, &v->plan->op[k], oven->id) || !bpi_is_past(v, &v->plan->op[k]))
            continue;
        stay z = stay_of(v, k);
        int32_t mC = baked(v, b)->oven_mC, other = baked(v, k)->oven_mC;
        bool stays = z.to > v->amends->now, both = stays == (y.to > v->amends->now);
        if (mC != other && z.from < y.to + change(oven, mC, other) &&
            y.from < z.to + change(oven, other, mC) && (both ? z.from >= y.from : stays))
            return true;
    }
    return false;
}

static void test_pair(bpi_verify *v, const bpi_oven *oven, uint32_t a, uint32_t b)
{
    const bp_op *x = &v->plan->op[a], *y = &v->plan->op[b];
    if (!bakes_in(v, y, oven->id) || y->from > x->from || a == b)
        return; /* only now is there a step that b bakes */
    int32_t mC = baked(v, a)->oven_mC, other = baked(v, b)->oven_mC;
    stay late = stay_of(v, a), early = stay_of(v, b);
    bool past = v->amends && v->amends->ticked && late.from < v->amends->now;
    if (mC == other || (past && bpi_is_past(v, y)) || is_overruled(v, oven, b))
        return;
    if (late.from < early.to)
        bpi_object(v, x->key, "it shares the oven with %s at another temperature", y->key);
    else if (late.from - early.to < change(oven, other, mC))
        bpi_object(v, x->key, "oven %s has not changed from the temperature of %s yet", oven->id,
                   y->key);
}

static void test_oven(bpi_verify *v, uint32_t k)
{
    const bp_plan *p = v->plan;
    const bpi_oven *oven = &v->show->kitchen.oven[k];
    uint32_t starts = 0, heats = 0;
    for (uint32_t a = 0; a < p->ops; a++) {
        heats += is_preheat(&p->op[a], oven->id);
        if (!bakes_in(v, &p->op[a], oven->id))
            continue;
        if (baked(v, a)->oven != BPI_NO_INDEX && baked(v, a)->oven != k)
            bpi_object(v, p->op[a].key, "it must bake in another oven than %s", oven->id);
        if (!still_on(v, oven, a) && !bpi_is_past(v, &p->op[a])) {
            starts += first_at_its_time(v, oven, a);
            if (!heated(v, oven, a))
                bpi_object(v, p->op[a].key,
                           "oven %s is not hot then, or stands hot and empty too long before it",
                           oven->id);
        }
        for (uint32_t b = 0; b < p->ops; b++)
            test_pair(v, oven, a, b);
    }
    /* On a mended day it may have been switched on for a load that is lost. */
    if (v->amends ? heats < starts : heats != starts)
        bpi_object(v, oven->id, "it is switched on %u times and has to be %u times", heats, starts);
}

void bpi_verify_use(bpi_verify *v)
{
    for (uint32_t t = 0; t < v->plan->things; t++)
        test_thing(v, t);
    for (uint32_t o = 0; o < v->plan->ops; o++)
        test_op(v, o);
    for (uint32_t k = 0; k < v->show->kitchen.ovens; k++)
        test_oven(v, k);
    for (uint32_t o = 0; o < v->plan->ops; o++) {
        bool of_an_oven = v->plan->op[o].kind != BP_OP_PREHEAT;
        for (uint32_t k = 0; k < v->show->kitchen.ovens; k++)
            of_an_oven |= is_preheat(&v->plan->op[o], v->show->kitchen.oven[k].id);
        if (!of_an_oven)
            bpi_object(v, v->plan->op[o].key, "the show has no such oven");
    }
}

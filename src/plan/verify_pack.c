/* src/plan/verify_pack.c - what is packed is what is used, counted from operations and what stands. */
#include <string.h>

#include "plan/verify.h"

static bool is_thing(const bp_thing *t, const bpi_tool *tool)
{
    return t->kind == (tool->vessel ? BP_VESSEL : BP_TOOL) && strcmp(t->id, tool->id) == 0;
}

static bool is_sink(const bpi_verify *v, const bp_op *op, uint32_t tool)
{
    for (uint32_t i = 0; i < v->show->kitchen.tools && op->kind == BP_OP_WASH; i++)
        if (v->show->kitchen.tool[i].vessel && v->show->kitchen.tool[i].wash_at == tool)
            return true;
    return false;
}

#define EVERYWHERE (UINT32_MAX - 1) /* BP_NO_INDEX: the kitchen; else the set of an appearance */

static uint32_t has(const bpi_verify *v, const bp_op *op, uint32_t tool)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < op->uses.n && !is_sink(v, op, tool); i++)
        n += is_thing(&v->plan->thing[v->plan->index[op->uses.first + i]],
                      &v->show->kitchen.tool[tool]);
    return n;
}

/* So many of a tool stand with a container; of one that is followed its operations tell. */
static uint32_t stands(const bpi_verify *v, uint32_t c, uint32_t tool)
{
    const bpi_tool *t = &v->show->kitchen.tool[tool];
    uint32_t n = 0;
    for (uint32_t i = 0; i < v->plan->stands && !t->wash; i++) {
        const bp_stand *s = &v->plan->stand[i];
        if (s->container == c && s->kind == (t->vessel ? BP_GOOD_VESSEL : BP_GOOD_TOOL) &&
            strcmp(s->item, t->name) == 0 && strcmp(s->note, t->size) == 0)
            n += s->count;
    }
    return n;
}

/* A vessel that is not washed goes with its food: from the end of the last operation that has it until it
 * is carried, and then on the set until that is clear, save those that a beat has there anyhow. */
typedef struct gone {
    uint32_t n, on_set;
    int64_t from, carried, to;
} gone;

static gone gone_with(bpi_verify *v, uint32_t c, uint32_t tool)
{
    const bp_plan *p = v->plan;
    const bpi_tool *t = &v->show->kitchen.tool[tool];
    gone g = {.to = INT64_MIN}; /* what comes too late has no time on the set */
    uint32_t n = t->vessel && !t->wash ? bpi_comes_in(v, c, tool) : 0,
             up = n ? stands(v, c, tool) : 0;
    bool clear = false, held = false;
    for (uint32_t o = 0; o < p->ops && n; o++) {
        const bp_op *op = &p->op[o];
        if (op->kind == BP_OP_RESET && op->air == p->container[c].air) {
            g.to = op->to;
            clear = true;
        }
        if (!bpi_among(p, op->serves, c))
            continue;
        if (op->kind == BP_OP_CARRY) {
            g.carried = op->to;
        } else if (op->kind == BP_OP_SET) {
            g.to = clear ? g.to : op->to;
        } else if (has(v, op, tool)) {
            g.from = held && g.from > op->to ? g.from : op->to;
            held = true;
        }
    }
    g.n = n;
    g.on_set = n > up ? n - up : 0;
    g.from = held ? g.from : g.carried;
    return g;
}

static uint32_t used_at(const bpi_verify *v, const gone *with, uint32_t tool, uint32_t where,
                        int64_t at)
{
    const bp_plan *p = v->plan;
    uint32_t n = 0;
    for (uint32_t o = 0; o < p->ops; o++) {
        const bp_op *op = &p->op[o];
        uint32_t place = op->kind == BP_OP_SET ? op->air : BP_NO_INDEX;
        if ((where == EVERYWHERE || where == place) && op->from <= at && at < op->to)
            n += has(v, op, tool);
    }
    for (uint32_t c = 0; c < p->containers; c++)
        if ((where == EVERYWHERE || where == p->container[c].air) && p->container[c].set_by <= at &&
            at < p->container[c].last)
            n += stands(v, c, tool);
    for (uint32_t c = 0; c < p->containers; c++) {
        const gone g = with[c];
        if (g.n && (where == EVERYWHERE || where == BP_NO_INDEX) && g.from <= at && at < g.carried)
            n += g.n;
        if (g.n && (where == EVERYWHERE || where == p->container[c].air) && g.carried <= at &&
            at < g.to)
            n += g.on_set;
    }
    return n;
}

/* Use is greatest where something begins. */
static uint32_t most_at_once(const bpi_verify *v, const gone *with, uint32_t tool, uint32_t where)
{
    const bp_plan *p = v->plan;
    uint32_t most = 0, n;
    for (uint32_t o = 0; o < p->ops; o++) {
        if (!has(v, &p->op[o], tool))
            continue;
        n = used_at(v, with, tool, where, p->op[o].from);
        most = n > most ? n : most;
    }
    for (uint32_t c = 0; c < p->containers; c++) {
        if (!stands(v, c, tool))
            continue;
        n = used_at(v, with, tool, where, p->container[c].set_by);
        most = n > most ? n : most;
    }
    for (uint32_t c = 0; c < p->containers; c++) {
        const gone g = with[c];
        for (uint32_t i = 0; i < 2 && g.n; i++) {
            n = used_at(v, with, tool, where, i ? g.from : g.carried);
            most = n > most ? n : most;
        }
    }
    return most;
}

/* Two kinds of one name and size cannot be told apart in the plan. */
static bool alone(const bpi_verify *v, uint32_t tool)
{
    const bpi_tool *t = &v->show->kitchen.tool[tool];
    for (uint32_t i = 0; i < v->show->kitchen.tools; i++) {
        const bpi_tool *o = &v->show->kitchen.tool[i];
        if (i != tool && o->vessel == t->vessel && strcmp(o->name, t->name) == 0 &&
            strcmp(o->size, t->size) == 0)
            return false;
    }
    return strcmp(t->name, "small bowl") != 0;
}

static bool is_packed(const bp_pack *x, bp_good_kind kind, const char *item)
{
    return x->kind == kind && strcmp(x->item, item) == 0;
}

/* The pull list tells it, too. */
static void test_pulled(bpi_verify *v, bp_good_kind kind, const char *item, const char *note,
                        bool provided)
{
    for (uint32_t i = 0; i < v->plan->goods; i++) {
        const bp_good *g = &v->plan->good[i];
        if (g->kind == kind && strcmp(g->item, item) == 0 &&
            (!note || strcmp(g->note, note) == 0) && g->provided != provided)
            bpi_object(v, item, "who provides it is told wrong on the pull list");
    }
}

/* Of one that is washed, those count too that stand dirty, which no operation tells: at least what is in
 * use, and no more than there are, unless a past that was ticked broke that rule. */
static bool is_so_many(const bpi_verify *v, const bpi_tool *t, uint32_t told, uint32_t used)
{
    bool broken = v->amends && v->amends->ticked;
    return t->wash ? told >= used && (told <= t->count || broken) : told == used;
}

static void test_tool(bpi_verify *v, gone *with, uint32_t k)
{
    const bpi_tool *t = &v->show->kitchen.tool[k];
    for (uint32_t c = 0; c < v->plan->containers; c++)
        with[c] = gone_with(v, c, k);
    uint32_t packed = 0, most = most_at_once(v, with, k, EVERYWHERE);
    test_pulled(v, t->vessel ? BP_GOOD_VESSEL : BP_GOOD_TOOL, t->name, t->size, t->provided);
    for (uint32_t where = 0; where <= v->plan->airs; where++) {
        uint32_t air = where < v->plan->airs ? where : BP_NO_INDEX, told = 0;
        for (uint32_t i = 0; i < v->plan->packs; i++) {
            const bp_pack *x = &v->plan->pack[i];
            if (x->air != air ||
                !is_packed(x, t->vessel ? BP_GOOD_VESSEL : BP_GOOD_TOOL, t->name) ||
                strcmp(x->note, t->size) != 0)
                continue;
            told += x->in_use;
            packed += x->count;
            if (x->provided != t->provided)
                bpi_object(v, t->id, "who provides it is told wrong");
        }
        uint32_t is = most_at_once(v, with, k, air);
        if (!is_so_many(v, t, told, is))
            bpi_object(v, t->id, "%u are told to be in use at %s, and %u are", told,
                       air == BP_NO_INDEX ? "the kitchen" : v->plan->air[air].id, is);
    }
    if (!is_so_many(v, t, packed, most))
        bpi_object(v, t->id, "%u are packed, and %u are in use at once", packed, most);
}

/* Of a supply as many as the day takes: one for each time that it is used, whoever is called. */
static void test_supply(bpi_verify *v, uint32_t k)
{
    const bp_plan *p = v->plan;
    const bpi_supply *s = &v->show->supply[k];
    uint32_t packed = 0, stands = 0, cooks = 0;
    for (uint32_t i = 0; i < v->show->supplies; i++)
        if (i != k && strcmp(v->show->supply[i].item, s->item) == 0)
            return;
    bool strike = s->per == BPI_PER_STRIKE;
    for (uint32_t i = 0; i < p->packs; i++)
        if (is_packed(&p->pack[i], BP_GOOD_SUPPLY, s->item)) {
            if (strike != (p->pack[i].use == BP_PACK_STRIKE) ||
                (strike && p->pack[i].count != s->count))
                bpi_object(v, s->item, "it is packed for another use");
            packed += p->pack[i].count;
            if (p->pack[i].provided != s->provided)
                bpi_object(v, s->item, "who provides it is told wrong");
        }
    for (uint32_t i = 0; i < p->stands; i++)
        if (p->stand[i].kind == BP_GOOD_SUPPLY && strcmp(p->stand[i].item, s->item) == 0)
            stands += p->stand[i].count;
    for (uint32_t i = 0; i < p->persons; i++)
        cooks += p->person[i].stints.n > 0;
    uint32_t want = s->per == BPI_PER_SHOW   ? s->count
                    : s->per == BPI_PER_COOK ? s->count * cooks
                    : strike                 ? s->count * p->airs
                                             : stands;
    test_pulled(v, BP_GOOD_SUPPLY, s->item, NULL, s->provided);
    if (packed != want)
        bpi_object(v, s->item, "%u are packed, and the day takes %u", packed, want);
}

bool bpi_verify_pack(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    for (uint32_t i = 0; i < p->packs; i++) {
        const bp_pack *x = &p->pack[i];
        bool kitchen = x->use == BP_PACK_KITCHEN;
        if (kitchen != (x->air == BP_NO_INDEX) || (!kitchen && x->air >= p->airs) ||
            x->use > BP_PACK_STRIKE || x->kind == BP_GOOD_FOOD) {
            bpi_object(v, "pack", "number %u refers to nothing", i);
            return true;
        }
    }
    gone *with = BPI_TAKE(v->arena, p->containers + 1, gone);
    for (uint32_t k = 0; k < v->show->kitchen.tools && with; k++)
        if (alone(v, k))
            test_tool(v, with, k);
    for (uint32_t k = 0; k < v->show->supplies; k++)
        test_supply(v, k);
    return with != NULL;
}

/* src/plan/verify_vessel.c - vessels that are washed before they are used again.
 *
 * Each operation has what its food is in; and, from the operations alone: what ends and is not gone on
 * with is dirty, what is on the set stays there until it is cleared, and no more are in use, on the
 * set, dirty and being washed than there are. */
#include <string.h>

#include "base/limits.h"
#include "plan/verify.h"

/* One kind of vessel. */
typedef struct kind {
    bpi_verify *v;
    uint32_t tool, thing;
    uint32_t *held; /* of each operation                                */
    uint32_t *rest; /* of those, what no other operation goes on with   */
    int64_t spare;  /* so many more may be washed than are seen to be dirty */
} kind;

static const bp_op *op_of(const bpi_verify *v, uint32_t o)
{
    return &v->plan->op[o];
}

static bool is_for(const bpi_verify *v, uint32_t o, uint32_t c)
{
    return op_of(v, o)->kind != BP_OP_HELP && bpi_among(v->plan, op_of(v, o)->serves, c) > 0;
}

/* ---- what a container is in, by the show --------------------------------------------------- */

static bool names_any(const bpi_verify *v, const bpi_step *s)
{
    bool any = false;
    for (uint32_t i = 0; i < s->tools; i++)
        any |= v->show->kitchen.tool[s->tool[i]].vessel;
    return any;
}

static uint32_t names(const bpi_step *s, uint32_t tool)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < s->tools; i++)
        n += s->tool[i] == tool;
    return n;
}

/* Does step s build on p with no other between? */
static bool builds_on(const bpi_recipe *r, uint32_t s, uint32_t p)
{
    if (!(r->step[s].after >> p & 1))
        return false;
    for (uint32_t i = 0; i < r->steps; i++)
        if ((r->step[s].after >> i & 1) && (r->step[i].before_all >> p & 1))
            return false;
    return true;
}

/* The first step of the container that builds on p; BPI_NO_INDEX: it goes to the set. */
static uint32_t goes_on(const bpi_verify *v, uint32_t c, uint32_t p)
{
    const bpi_recipe *r = v->recipe[c];
    for (uint32_t i = 0; i < r->steps; i++)
        if ((v->plan->container[c].steps >> r->order[i] & 1) && builds_on(r, r->order[i], p))
            return r->order[i];
    return BPI_NO_INDEX;
}

/* A batch is emptied at its end, unless the next step is done together too and it is not one that may
 * be cooked ahead. */
static bool is_divided(const bpi_recipe *r, uint32_t p, uint32_t next)
{
    bool ahead = false;
    for (uint32_t s = 0; s < r->steps; s++)
        ahead |= r->step[s].ahead == p;
    return r->step[p].together && (ahead || next == BPI_NO_INDEX || !r->step[next].together);
}

typedef struct contents {
    uint32_t in[BPI_MAX_STEPS];  /* vessels of the kind at each step               */
    uint32_t out[BPI_MAX_STEPS]; /* those that what comes after it has, either way */
    uint32_t came;               /* what it goes to the set in ... */
    uint32_t set;                /* ... or a beat has for it there */
} contents;

/* The steps for what p has cooked ahead, each in what the one before was in where it names nothing. */
static void follow_ahead(const kind *k, uint32_t c, uint32_t p, contents *x)
{
    const bpi_recipe *r = k->v->recipe[c];
    uint32_t in = is_divided(r, p, BPI_NO_INDEX) ? 0 : x->in[p];
    for (uint32_t a = 0; a < r->steps; a++)
        if (r->step[a].ahead == p) {
            in = names_any(k->v, &r->step[a]) ? names(&r->step[a], k->tool) : in;
            x->in[a] = in;
            x->out[p] = in;
        }
    if (x->out[p] != x->in[p])
        x->out[p] = 0;
}

static void follow(const kind *k, uint32_t c, contents *x)
{
    const bpi_verify *v = k->v;
    const bpi_recipe *r = v->recipe[c];
    uint64_t steps = v->plan->container[c].steps, air = bpi_on_air(v, c);
    *x = (contents){{0}, {0}, 0, 0};
    for (uint32_t i = 0; i < r->steps; i++) {
        uint32_t s = r->order[i];
        if (!(steps >> s & 1))
            continue;
        x->in[s] = names(&r->step[s], k->tool);
        for (uint32_t p = 0; p < r->steps && !names_any(v, &r->step[s]); p++)
            if (builds_on(r, s, p) && goes_on(v, c, p) == s && !is_divided(r, p, s))
                x->in[s] += x->out[p];
        x->out[s] = x->in[s];
        follow_ahead(k, c, s, x);
    }
    for (uint32_t s = 0; s < r->steps; s++)
        if ((steps >> s & 1) && goes_on(v, c, s) == BPI_NO_INDEX && !is_divided(r, s, BPI_NO_INDEX))
            x->set += x->out[s];
    x->came = x->set;
    for (uint32_t s = 0; s < r->steps; s++)
        if ((air >> s & 1) && names(&r->step[s], k->tool) > x->set)
            x->set = names(&r->step[s], k->tool);
}

uint32_t bpi_comes_in(bpi_verify *v, uint32_t c, uint32_t tool)
{
    const kind k = {.v = v, .tool = tool};
    contents x;
    follow(&k, c, &x);
    return x.came;
}

/* ---- what each operation has --------------------------------------------------------------- */

/* Has its step begun before it, as with what loads it? */
static bool has_begun(const bpi_verify *v, uint32_t o, uint32_t c)
{
    for (uint32_t i = 0; i < v->plan->ops; i++)
        if (op_of(v, i)->from < op_of(v, o)->from && v->step[i] == v->step[o] &&
            v->step[i] != BPI_NO_INDEX && op_of(v, i)->kind != BP_OP_WAIT && is_for(v, i, c))
            return true;
    return false;
}

/* Is what starts when the wait ends what goes on with the vessels? */
static bool leads_on(const bpi_verify *v, uint32_t wait, uint32_t c)
{
    const bpi_recipe *r = v->recipe[c];
    uint32_t s = v->step[wait], of = r->step[s].ahead == BPI_NO_INDEX ? s : r->step[s].ahead;
    uint32_t next = goes_on(v, c, of);
    for (uint32_t o = 0; o < v->plan->ops; o++) {
        const bp_op *op = op_of(v, o);
        if (op->from != op_of(v, wait)->to || !is_for(v, o, c) || op->kind == BP_OP_WAIT ||
            has_begun(v, o, c))
            continue;
        uint32_t t = v->step[o];
        bool way = t != BPI_NO_INDEX && r->step[t].ahead == of && t != s;
        bool on = t == BPI_NO_INDEX ? op->kind == BP_OP_CARRY && next == t : next == t;
        if ((way || on) && !is_divided(r, s, t))
            return true;
    }
    return false;
}

static bool on_set(bp_op_kind k)
{
    return k == BP_OP_CARRY || k == BP_OP_SET;
}

static uint32_t needs(const kind *k, uint32_t o, uint32_t c, const contents *x)
{
    const bpi_verify *v = k->v;
    bp_op_kind what = op_of(v, o)->kind;
    uint32_t s = v->step[o];
    if (on_set(what))
        return x->set;
    if (s == BPI_NO_INDEX)
        return 0;
    if (what == BP_OP_WAIT)
        return leads_on(v, o, c) ? x->in[s] : 0;
    return names_any(v, &v->recipe[c]->step[s]) ? 0 : x->in[s]; /* what it names: verify_use */
}

/* Waits from one step to several at once: one of them has its vessels. */
static uint32_t held_with(const kind *k, uint32_t o, uint32_t c)
{
    const bpi_verify *v = k->v;
    uint32_t n = 0;
    for (uint32_t i = 0; i < v->plan->ops; i++)
        if (i == o || (op_of(v, o)->kind == BP_OP_WAIT && op_of(v, i)->kind == BP_OP_WAIT &&
                       v->step[i] == v->step[o] && op_of(v, i)->from == op_of(v, o)->from &&
                       op_of(v, i)->to == op_of(v, o)->to && is_for(v, i, c)))
            n += k->held[i];
    return n;
}

/* A batch is in what one of its containers is in. */
static bool another_needs_less(const kind *k, uint32_t o, uint32_t c, uint32_t need)
{
    const bp_op *op = op_of(k->v, o);
    contents x;
    for (uint32_t i = 0; i < op->serves.n; i++) {
        uint32_t other = k->v->plan->index[op->serves.first + i];
        if (other == c)
            continue;
        follow(k, other, &x);
        if (needs(k, o, other, &x) < need)
            return true;
    }
    return false;
}

static void test_contents(const kind *k, uint32_t c)
{
    contents x;
    follow(k, c, &x);
    for (uint32_t o = 0; o < k->v->plan->ops; o++) {
        uint32_t need = is_for(k->v, o, c) ? needs(k, o, c, &x) : 0;
        if (need > held_with(k, o, c) && !another_needs_less(k, o, c, need))
            bpi_object(k->v, op_of(k->v, o)->key, "its food is in no %s",
                       k->v->show->kitchen.tool[k->tool].id);
    }
}

/* ---- what is let go, and washed ------------------------------------------------------------ */

/* Does operation y, which starts when x ends, go on with what x has? */
static bool goes_into(const bpi_verify *v, uint32_t x, uint32_t y)
{
    const bp_op *a = op_of(v, x), *b = op_of(v, y);
    if (x == y || a->to != b->from || a->kind == BP_OP_WASH || b->kind == BP_OP_WASH)
        return false;
    for (uint32_t i = 0; i < a->serves.n; i++) {
        uint32_t c = v->plan->index[a->serves.first + i];
        if (!is_for(v, y, c))
            continue;
        const bpi_recipe *r = v->recipe[c];
        uint32_t s = v->step[x], t = v->step[y];
        if (s == BPI_NO_INDEX || s == t)
            return true;
        uint32_t of = r->step[s].ahead == BPI_NO_INDEX ? s : r->step[s].ahead;
        bool way = t != BPI_NO_INDEX && r->step[t].ahead == of;
        return (way || goes_on(v, c, of) == t) && !is_divided(r, s, t);
    }
    return false;
}

static bool same_for(const bpi_verify *v, const bp_op *a, const bp_op *b)
{
    bool same = a->serves.n == b->serves.n;
    for (uint32_t i = 0; same && i < a->serves.n; i++)
        same = bpi_among(v->plan, b->serves, v->plan->index[a->serves.first + i]) == 1;
    return same;
}

static bool is_together(const bpi_verify *v, uint32_t o)
{
    return v->step[o] != BPI_NO_INDEX && op_of(v, o)->serves.n &&
           v->recipe[v->plan->index[op_of(v, o)->serves.first]]->step[v->step[o]].together;
}

/* What goes from one batch straight into another, grouped anew, is counted by the planner as in one of
 * its own between the two: so many may be washed that nobody can see were dirty. */
static int64_t grouped_anew(const kind *k)
{
    const bpi_verify *v = k->v;
    int64_t n = 0;
    for (uint32_t x = 0; x < v->plan->ops; x++)
        for (uint32_t y = 0; k->held[x] && y < v->plan->ops; y++)
            if (is_together(v, x) && v->step[x] != v->step[y] && goes_into(v, x, y) &&
                !same_for(v, op_of(v, x), op_of(v, y)))
                n += (int64_t)k->held[x] * op_of(v, y)->serves.n;
    return n;
}

static void pass_on(const kind *k, uint32_t y)
{
    uint32_t want = k->held[y];
    for (uint32_t x = 0; x < k->v->plan->ops && want; x++)
        if (k->rest[x] && goes_into(k->v, x, y)) {
            uint32_t n = k->rest[x] < want ? k->rest[x] : want;
            k->rest[x] -= n;
            want -= n;
        }
}

/* When the set that operation o carries to, or is on, is cleared. */
static int64_t cleared(const bpi_verify *v, uint32_t o)
{
    for (uint32_t i = 0; i < v->plan->ops; i++)
        if (op_of(v, i)->kind == BP_OP_RESET && op_of(v, i)->air == op_of(v, o)->air)
            return op_of(v, i)->to;
    return INT64_MAX;
}

static void test_moment(const kind *k, uint32_t at)
{
    const bpi_verify *v = k->v;
    const bpi_tool *tool = &v->show->kitchen.tool[k->tool];
    int64_t now = op_of(v, at)->from, used = 0, dirty = 0;
    for (uint32_t o = 0; o < v->plan->ops; o++) {
        const bp_op *op = op_of(v, o);
        if (!k->held[o] || op->from > now)
            continue;
        if (now < op->to)
            used += k->held[o];
        if (op->kind == BP_OP_WASH)
            dirty -= k->held[o];
        else if (op->to <= now && on_set(op->kind) && now < cleared(v, o))
            used += k->rest[o];
        else if (op->to <= now)
            dirty += k->rest[o];
    }
    int64_t taken = used + (dirty > 0 ? dirty : 0), unseen = -dirty;
    if (unseen > k->spare)
        bpi_object(k->v, op_of(v, at)->key, "%lld more of %s are washed than are dirty",
                   (long long)unseen, tool->id);
    else if (taken > tool->count)
        bpi_object(k->v, op_of(v, at)->key, "%lld of %s are in use or dirty, there are %u",
                   (long long)taken, tool->id, tool->count);
}

static void test_wash(const kind *k, uint32_t o)
{
    const bp_op *op = op_of(k->v, o);
    const bpi_tool *tool = &k->v->show->kitchen.tool[k->tool];
    uint32_t sinks = 0, sink = tool->wash_at != BPI_NO_INDEX;
    for (uint32_t i = 0; sink && i < op->uses.n; i++) {
        const bp_thing *t = &k->v->plan->thing[k->v->plan->index[op->uses.first + i]];
        sinks +=
            t->kind == BP_TOOL && strcmp(t->id, k->v->show->kitchen.tool[tool->wash_at].id) == 0;
    }
    int64_t time = bpi_minute_up(tool->wash * k->held[o]);
    if (op->to - op->from != time && !bpi_is_past(k->v, op))
        bpi_object(k->v, op->key, "washing up takes %lld s", (long long)time);
    if (sinks != sink)
        bpi_object(k->v, op->key, "it does not occupy its %s",
                   k->v->show->kitchen.tool[tool->wash_at].id);
    else if (op->uses.n != k->held[o] + sink || op->serves.n)
        bpi_object(k->v, op->key, "more than %s is washed there, or it is for a container",
                   tool->id);
    k->v->known[o] = true;
}

static bool test_kind(bpi_verify *v, uint32_t tool)
{
    const bp_plan *p = v->plan;
    kind k = {.v = v, .tool = tool, .thing = BP_NO_INDEX};
    for (uint32_t t = 0; t < p->things; t++)
        if (p->thing[t].kind == BP_VESSEL &&
            strcmp(p->thing[t].id, v->show->kitchen.tool[tool].id) == 0)
            k.thing = t;
    k.held = BPI_TAKE(v->arena, p->ops, uint32_t);
    k.rest = BPI_TAKE(v->arena, p->ops, uint32_t);
    if (!k.held || !k.rest)
        return false;
    for (uint32_t o = 0; o < p->ops; o++)
        k.held[o] = k.rest[o] = bpi_among(p, p->op[o].uses, k.thing);
    for (uint32_t c = 0; c < p->containers; c++)
        test_contents(&k, c);
    k.spare = grouped_anew(&k);
    for (uint32_t o = 0; o < p->ops; o++)
        pass_on(&k, o);
    for (uint32_t o = 0; o < p->ops; o++) {
        if (k.held[o])
            test_moment(&k, o);
        if (k.held[o] && p->op[o].kind == BP_OP_WASH)
            test_wash(&k, o);
    }
    return true;
}

bool bpi_verify_vessel(bpi_verify *v)
{
    bool memory = true;
    for (uint32_t t = 0; t < v->show->kitchen.tools && memory; t++)
        if (v->show->kitchen.tool[t].wash)
            memory = test_kind(v, t);
    for (uint32_t o = 0; o < v->plan->ops && memory; o++)
        if (op_of(v, o)->kind == BP_OP_WASH && !v->known[o])
            bpi_object(v, op_of(v, o)->key, "nothing in the show asks for it");
    return memory;
}

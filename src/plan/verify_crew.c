/* src/plan/verify_crew.c - cooks, and the work that an appearance itself asks of them.
 *
 * One thing at a time, in a shift, outside breaks, with the skill; stints; reset and stand-by. */
#include "plan/verify.h"

static bool overlap(const bp_op *a, const bp_op *b)
{
    return a->from < b->to && b->from < a->to;
}

static const bpi_cook *cook_of(const bpi_verify *v, uint32_t person)
{
    return &v->show->kitchen.cook[person];
}

/* The shift that holds an operation; a late plan may run past the wrap. */
static const bpi_shift *shift_of(const bpi_verify *v, const bp_op *op)
{
    const bpi_cook *k = cook_of(v, op->person);
    for (uint32_t i = k->shifts; i-- > 0;)
        if (op->from >= k->shift[i].call)
            return op->to <= k->shift[i].wrap || v->plan->verdict == BP_LATE || bpi_is_past(v, op)
                       ? &k->shift[i]
                       : NULL;
    return bpi_is_past(v, op) && k->shifts ? &k->shift[0] : NULL;
}

static bool has_skill(const bpi_cook *k, uint32_t skill)
{
    for (uint32_t i = 0; i < k->skills; i++)
        if (k->skill[i] == skill)
            return true;
    return skill == BPI_NO_INDEX;
}

/* The step that a cook does with their hands there; NULL: what no step says more of. */
static const bpi_step *hands_of(const bpi_verify *v, uint32_t o)
{
    const bp_op *op = &v->plan->op[o];
    if (op->kind != BP_OP_ACTIVE)
        return NULL;
    const bpi_step *s = &v->recipe[v->plan->index[op->serves.first]]->step[v->step[o]];
    return s->kind == BPI_ACTIVE ? s : NULL;
}

/* May one cook do both at once? One of them is watched, and the other too, or light. */
static bool go_together(const bpi_verify *v, uint32_t x, uint32_t y)
{
    const bpi_step *a = hands_of(v, x), *b = hands_of(v, y);
    return a && b && ((a->watch && (b->watch || b->light)) || (b->watch && a->light));
}

/* What a cook watches as it begins: all that it can be in all, less than half beside light work. */
static void test_attention(bpi_verify *v, uint32_t o)
{
    const bp_plan *p = v->plan;
    const bp_op *op = &p->op[o];
    uint32_t watched = 0;
    bool light = false;
    for (uint32_t i = 0; i < p->ops; i++) {
        if (p->op[i].person != op->person || !bpi_is_hands_on(p->op[i].kind) ||
            p->op[i].from > op->from || p->op[i].to <= op->from)
            continue;
        const bpi_step *s = hands_of(v, i);
        watched += s ? s->watch : 0;
        light |= s && s->light;
    }
    if (watched > 100)
        bpi_object(v, op->key, "%s watches with %u %% of their attention",
                   cook_of(v, op->person)->name, watched);
    else if (light && watched >= 50)
        bpi_object(v, op->key, "%s does light work and watches with %u %% of their attention",
                   cook_of(v, op->person)->name, watched);
}

static void test_shares(bpi_verify *v, uint32_t o)
{
    const bp_op *op = &v->plan->op[o];
    const bpi_step *s = hands_of(v, o);
    if (op->watch != (s ? s->watch : 0) || op->light != (s && s->light))
        bpi_object(v, op->key, "the show says otherwise how it is watched");
}

static void test_op(bpi_verify *v, uint32_t o)
{
    const bp_plan *p = v->plan;
    const bp_op *op = &p->op[o];
    test_shares(v, o);
    if (!bpi_is_hands_on(op->kind)) {
        if (op->person != BP_NO_INDEX)
            bpi_object(v, op->key, "a cook is tied to what is unattended");
        return;
    }
    if (op->person == BP_NO_INDEX) {
        bpi_object(v, op->key, "nobody does it");
        return;
    }
    const bpi_cook *k = cook_of(v, op->person);
    if (!shift_of(v, op))
        bpi_object(v, op->key, "%s is not at work then", k->name);
    for (uint32_t i = 0; i < k->rests; i++)
        if (op->from < k->rest[i].to && k->rest[i].from < op->to && !bpi_is_past(v, op))
            bpi_object(v, op->key, "%s has a break then", k->name);
    for (uint32_t i = 0; i < o; i++)
        if (p->op[i].person == op->person && bpi_is_hands_on(p->op[i].kind) &&
            overlap(&p->op[i], op) && !go_together(v, i, o) &&
            !(bpi_is_past(v, op) && bpi_is_past(v, &p->op[i])))
            bpi_object(v, op->key, "%s does %s at the same time", k->name, p->op[i].key);
    if (!bpi_is_past(v, op))
        test_attention(v, o);
    if (op->kind == BP_OP_ACTIVE) {
        const bpi_step *s = &v->recipe[p->index[op->serves.first]]->step[v->step[o]];
        if (!has_skill(k, s->skill))
            bpi_object(v, op->key, "%s has not the skill %s", k->name, v->show->skill[s->skill]);
    } else if (op->kind == BP_OP_HELP) {
        const bpi_step *s = &v->recipe[p->index[op->serves.first]]->step[v->step[o]];
        if (!has_skill(k, s->help_skill))
            bpi_object(v, op->key, "%s has not the skill %s, to help", k->name,
                       v->show->skill[s->help_skill]);
    }
}

static void test_stint(bpi_verify *v, uint32_t person, const bp_stint *t)
{
    const bp_plan *p = v->plan;
    const bpi_cook *k = cook_of(v, person);
    bool shift = false;
    for (uint32_t i = 0; i < k->shifts; i++)
        shift |= k->shift[i].call == t->earliest && k->shift[i].wrap == t->wrap;
    if (t->person != person || !shift)
        bpi_object(v, k->id, "a stint is not in one of their shifts");
    int64_t first = INT64_MAX, last = INT64_MIN, wrap = t->wrap;
    for (uint32_t o = 0; o < p->ops; o++) {
        const bp_op *op = &p->op[o];
        const bpi_shift *in =
            op->person == person && bpi_is_hands_on(op->kind) ? shift_of(v, op) : NULL;
        if (!in || in->call != t->earliest)
            continue;
        first = op->from < first ? op->from : first;
        last = op->to > last ? op->to : last;
        if (bpi_is_past(v, op) && op->to > wrap)
            wrap = op->to;
    }
    if (t->call != first)
        bpi_object(v, k->id, "the call is not when their work starts");
    if (t->release < last || (t->release > wrap && v->plan->verdict != BP_LATE))
        bpi_object(v, k->id, "the release is before their work ends, or after the wrap");
}

static void test_person(bpi_verify *v, uint32_t person)
{
    const bp_plan *p = v->plan;
    const bp_slice stints = p->person[person].stints;
    for (uint32_t i = 0; i < stints.n; i++)
        test_stint(v, person, &p->stint[stints.first + i]);
    for (uint32_t o = 0; o < p->ops; o++) {
        if (p->op[o].person != person || !bpi_is_hands_on(p->op[o].kind))
            continue;
        bool in = false;
        for (uint32_t i = 0; i < stints.n; i++)
            in |= p->op[o].from >= p->stint[stints.first + i].call &&
                  p->op[o].to <= p->stint[stints.first + i].release;
        if (!in)
            bpi_object(v, p->op[o].key, "it is in no stint of %s", p->person[person].name);
    }
}

static bool comes_before_reset(const bpi_verify *v, uint32_t c, int64_t end)
{
    const bp_plan *p = v->plan;
    const bp_air *a = &p->air[p->container[c].air];
    for (uint32_t t = 0; t < a->teases.n; t++)
        if (p->tease[a->teases.first + t].container == c && p->container[c].set_by < end)
            return true;
    return false;
}

static void test_reset(bpi_verify *v, uint32_t air)
{
    const bp_plan *p = v->plan;
    const bp_op *reset = NULL;
    uint32_t n = 0;
    for (uint32_t o = 0; o < p->ops; o++)
        if (p->op[o].kind == BP_OP_RESET && p->op[o].air == air) {
            reset = &p->op[o];
            n++;
        }
    if (n != (air + 1 < p->airs ? 1u : 0u)) {
        bpi_object(v, p->air[air].id, "the set is cleared %u times after it", n);
        return;
    }
    if (!reset)
        return;
    int64_t time = bpi_minute_up(v->show->segment[v->segment[air]].reset);
    if (bpi_is_past(v, reset))
        return;
    if (reset->from < bpi_slot_latest(v, air))
        bpi_object(v, reset->key, "the set is cleared while it is on air");
    if (reset->to - reset->from < (time < 60 ? 60 : time))
        bpi_object(v, reset->key, "clearing the set takes longer");
    for (uint32_t o = 0; o < p->ops; o++) {
        const bp_op *op = &p->op[o];
        if (op->kind != BP_OP_CARRY || op->serves.n == 0 || bpi_is_past(v, op))
            continue;
        uint32_t c = p->index[op->serves.first];
        if (p->container[c].air > air && op->from < reset->to &&
            !comes_before_reset(v, c, bpi_slot_latest(v, air)))
            bpi_object(v, op->key, "it is carried before the set is clear");
    }
}

static void test_stand_by(bpi_verify *v, uint32_t air)
{
    const bp_plan *p = v->plan;
    uint32_t n = 0;
    for (uint32_t o = 0; o < p->ops; o++) {
        const bp_op *op = &p->op[o];
        if (op->kind != BP_OP_STAND_BY || op->air != air)
            continue;
        n++;
        if (op->from > p->air[air].set_by || op->to < bpi_slot_latest(v, air))
            bpi_object(v, op->key, "they are not there from set-by to the end of the slot");
    }
    if (n != v->show->segment[v->segment[air]].hands)
        bpi_object(v, p->air[air].id, "%u stand by, %u are asked for", n,
                   v->show->segment[v->segment[air]].hands);
}

void bpi_verify_crew(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    if (p->persons != v->show->kitchen.cooks) {
        bpi_object(v, "cooks", "%u are planned with, the show has %u", p->persons,
                   v->show->kitchen.cooks);
        return;
    }
    for (uint32_t o = 0; o < p->ops; o++)
        test_op(v, o);
    for (uint32_t i = 0; i < p->persons; i++)
        test_person(v, i);
    for (uint32_t i = 0; i < p->airs; i++) {
        test_reset(v, i);
        test_stand_by(v, i);
    }
}

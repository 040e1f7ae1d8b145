/* src/plan/verify_box.c - what containers there are.
 *
 * Stages, times, sizes, beauties, heroes of teases, tastings, spares. */
#include <string.h>

#include "plan/verify.h"

static int64_t lead_of(const bpi_verify *v, uint32_t container)
{
    const bpi_dish *d = bpi_dish_of(v, container);
    return d->lead == BPI_NO_TIME
               ? v->show->segment[v->segment[v->plan->container[container].air]].lead
               : d->lead;
}

static bool has_state(const bp_container *c, const bpi_recipe *r)
{
    if ((c->steps & ~r->all) != 0)
        return false;
    for (uint32_t s = 0; s < r->steps; s++)
        if ((c->steps >> s & 1) && (r->step[s].before_all & ~c->steps))
            return false;
    return true;
}

static bp_stage stage_of(const bp_container *c, const bpi_recipe *r)
{
    return c->steps == 0 ? BP_RAW : c->steps == r->all ? BP_FINISHED : BP_MID;
}

static void test_state(bpi_verify *v, uint32_t i)
{
    const bp_container *c = &v->plan->container[i];
    const bpi_recipe *r = v->recipe[i];
    if (!has_state(c, r))
        bpi_object(v, c->code, "its steps lack one that must come before");
    if (c->stage != stage_of(c, r))
        bpi_object(v, c->code, "its stage is not what its steps make it");
    if (c->role != BP_ROLE_AIR && c->role != BP_ROLE_SPARE && c->stage != BP_FINISHED)
        bpi_object(v, c->code, "a beauty, a hero and a tasting must be finished");
    if (c->role == BP_ROLE_AIR && c->beat == BP_NO_INDEX)
        bpi_object(v, c->code, "no beat works with it");
    const bpi_ratio *size = &bpi_dish_of(v, i)->size[c->stage];
    if (c->role != BP_ROLE_TASTE &&
        (uint64_t)c->size_num * size->den != (uint64_t)size->num * c->size_den)
        bpi_object(v, c->code, "its size is not that of the show");
    if (strcmp(c->state, "finished") == 0 && c->stage != BP_FINISHED)
        bpi_object(v, c->code, "its label calls it finished");
    if (strcmp(c->state, "measured") == 0 && c->stage != BP_RAW)
        bpi_object(v, c->code, "its label calls it measured");
}

/* A spare is wanted when the first one like it is; measured ones, where no other is, in the slot. */
static bool is_spare_of_something(const bpi_verify *v, uint32_t i)
{
    const bp_container *c = &v->plan->container[i];
    int64_t hit = v->plan->air[c->air].hit;
    bool alone = true;
    for (uint32_t k = 0; k < v->plan->containers; k++) {
        const bp_container *o = &v->plan->container[k];
        if (o->air != c->air || v->dish[k] != v->dish[i] || o->steps != c->steps ||
            (o->role != BP_ROLE_AIR && o->role != BP_ROLE_BEAUTY))
            continue;
        alone = false;
        if (c->last == o->last && c->needed == (o->needed > hit ? o->needed : hit))
            return true;
    }
    return alone && c->needed == hit && c->last == bpi_slot_latest(v, c->air);
}

/* Moments on camera of all beats that work with it and all teases that show it. */
static void test_times(bpi_verify *v, uint32_t i)
{
    const bp_plan *p = v->plan;
    const bp_container *c = &p->container[i];
    const bp_air *a = &p->air[c->air];
    int64_t set_by = a->hit - lead_of(v, i), needed = INT64_MAX, last = INT64_MIN;
    uint32_t ins = 0, outs = 0;
    for (uint32_t k = 0; k < p->beats; k++) {
        const bp_beat *b = &p->beat[k];
        bool here = k >= a->beats.first && k - a->beats.first < a->beats.n;
        uint32_t in = bpi_among(p, b->in, i), out = bpi_among(p, b->out, i),
                 on = bpi_among(p, b->on, i);
        if (!here && in + out + on)
            bpi_object(v, c->code, "beat %s of another appearance works with it", b->id);
        if (in && c->beat != k)
            bpi_object(v, c->code, "it comes on in beat %s, and that is not its first", b->id);
        if (c->beat == k && !on && !b->dropped)
            bpi_object(v, c->code, "its first beat %s does not work with it", b->id);
        ins += in;
        outs += out;
        if (in || out || on) {
            needed = b->from < needed ? b->from : needed;
            last = b->from + b->length > last ? b->from + b->length : last;
        }
    }
    if (last != INT64_MIN)
        last += bpi_slot_latest(v, c->air) - bpi_slot_end(v, c->air);
    bool used = c->beat != BP_NO_INDEX;
    if (ins != (used ? 1u : 0u) || outs != ins)
        bpi_object(v, c->code, "it comes on %u times and goes off %u times", ins, outs);
    for (uint32_t k = 0; k < a->teases.n; k++) {
        const bp_tease *t = &p->tease[a->teases.first + k];
        if (t->container != i)
            continue;
        int64_t by = t->at - lead_of(v, i);
        set_by = by < set_by ? by : set_by;
        needed = t->at < needed ? t->at : needed;
        last = t->at + t->length > last ? t->at + t->length : last;
    }
    if (c->set_by != set_by)
        bpi_object(v, c->code, "its set-by is not the hit, or tease, less the lead");
    if (last ==
        INT64_MIN) { /* on no camera: a beauty stands through the slot, the rest is after it */
        last = bpi_slot_latest(v, c->air);
        needed = c->role == BP_ROLE_BEAUTY ? a->hit : bpi_slot_end(v, c->air);
    }
    if (c->role != BP_ROLE_SPARE && (c->needed != needed || c->last != last))
        bpi_object(v, c->code, "needed and last are not those of its beats and teases");
    if (c->role == BP_ROLE_SPARE && !is_spare_of_something(v, i))
        bpi_object(v, c->code, "needed and last are of nothing that it could stand in for");
    if (c->needed > c->last || c->set_by > c->needed)
        bpi_object(v, c->code, "set-by, needed and last are not in order");
}

/* Was all that is done to it done before now? How long it stood since is then as it was. */
static bool was_done(const bpi_verify *v, uint32_t i)
{
    const bp_plan *p = v->plan;
    for (uint32_t o = 0; o < p->ops; o++) {
        const bp_op *op = &p->op[o];
        bool still = op->kind == BP_OP_WAIT || op->kind == BP_OP_MEASURE ||
                     op->kind == BP_OP_CARRY || op->kind == BP_OP_SET;
        if (!still && bpi_among(p, op->serves, i) && !bpi_is_past(v, op))
            return false;
    }
    return true;
}

static void test_on_set(bpi_verify *v, uint32_t i)
{
    const bp_container *c = &v->plan->container[i];
    int64_t late = c->on_set > c->set_by ? c->on_set - c->set_by : 0;
    if (c->on_set == BP_NO_TIME) {
        bpi_object(v, c->code, "it is never on set");
        return;
    }
    if (c->late != late)
        bpi_object(v, c->code, "it is %lld s late and says %lld", (long long)late,
                   (long long)c->late);
    if (late && v->plan->verdict != BP_LATE)
        bpi_object(v, c->code, "it is on set after its set-by");
    int64_t keeps = bpi_keeps_until(v, i);
    if (c->best_by != (keeps == BPI_NO_LIMIT ? BP_NO_TIME : keeps))
        bpi_object(v, c->code, "best by is not when its hold on the set ends");
    bool past = v->amends && v->amends->ticked && (c->on_set <= v->amends->now || was_done(v, i));
    if (keeps != BPI_NO_LIMIT && c->last > keeps && c->last > c->on_set && !past)
        bpi_object(v, c->code, "it stands on the set, after the counter, longer than it keeps");
}

/* Cooked and carried as planned, is it good for a hit so much later? */
static bool bears(const bpi_verify *v, uint32_t i, int64_t later)
{
    const bp_plan *p = v->plan;
    const bp_container *c = &p->container[i];
    const bp_air *a = &p->air[c->air];
    int64_t first = c->role == BP_ROLE_TASTE ? bpi_slot_end(v, c->air) : a->hit;
    for (uint32_t k = a->beats.n; k-- > 0;)
        if (bpi_among(p, p->beat[a->beats.first + k].on, i))
            first = p->beat[a->beats.first + k].from;
    if (c->role == BP_ROLE_SPARE)
        first = c->needed;
    int64_t last = c->last - (bpi_slot_latest(v, c->air) - bpi_slot_end(v, c->air)) + later;
    return c->on_set <= first + later && (c->best_by == BP_NO_TIME || last <= c->best_by) &&
           (c->use_by == BP_NO_TIME || last <= c->use_by);
}

static void test_moved(bpi_verify *v, uint32_t i)
{
    const bp_container *c = &v->plan->container[i];
    int64_t hit = v->plan->air[c->air].hit;
    bool hero = c->role == BP_ROLE_TEASE;
    if (hero != (c->hit_from == BP_NO_TIME) || (hero && c->hit_to != BP_NO_TIME))
        bpi_object(v, c->code, "a hit from which it is good is told wrong");
    if (hero || c->hit_from == BP_NO_TIME)
        return;
    bool narrow = c->hit_to != BP_NO_TIME && c->hit_to < c->hit_from;
    if (bears(v, i, c->hit_from - hit - 1) || (!narrow && !bears(v, i, c->hit_from - hit)))
        bpi_object(v, c->code, "it is not good for hits from the one it names");
    bool endless = c->best_by == BP_NO_TIME && c->use_by == BP_NO_TIME;
    if (endless != (c->hit_to == BP_NO_TIME))
        bpi_object(v, c->code, "whether a later hit breaks it is told wrong");
    if (c->hit_to != BP_NO_TIME &&
        (bears(v, i, c->hit_to - hit + 1) || (!narrow && !bears(v, i, c->hit_to - hit))))
        bpi_object(v, c->code, "it is not good for hits to the one it names");
    const bp_air *a = &v->plan->air[c->air];
    if (a->hit_from < c->hit_from ||
        (c->hit_to != BP_NO_TIME && (a->hit_to == BP_NO_TIME || a->hit_to > c->hit_to)))
        bpi_object(v, a->id, "the hit can move further than %s bears", c->code);
}

/* Containers of one dish at one appearance in one role. */
static uint32_t count(const bpi_verify *v, uint32_t air, uint32_t dish, bp_role role)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < v->plan->containers; i++)
        n += v->plan->container[i].air == air && v->dish[i] == dish &&
             v->plan->container[i].role == role;
    return n;
}

static void test_dish(bpi_verify *v, uint32_t air, uint32_t dish)
{
    const bpi_segment *g = &v->show->segment[v->segment[air]];
    const bpi_dish *d = &g->dish[dish];
    uint32_t eaters = g->hosts + g->tasters;
    if (count(v, air, dish, BP_ROLE_BEAUTY) != 1)
        bpi_object(v, d->id, "it must have one finished dish to show at %s", v->plan->air[air].id);
    if (count(v, air, dish, BP_ROLE_TASTE) != (d->taste && eaters ? 1u : 0u))
        bpi_object(v, d->id, "what is eaten at %s is not as the show says", v->plan->air[air].id);
}

static void test_portions(bpi_verify *v, uint32_t i)
{
    const bp_container *c = &v->plan->container[i];
    const bp_air *a = &v->plan->air[c->air];
    if (c->role != BP_ROLE_TASTE) {
        if (c->portions)
            bpi_object(v, c->code, "nobody eats from this one");
        return;
    }
    if (c->portions != a->portions)
        bpi_object(v, c->code, "%u portions for %u wanted", c->portions, a->portions);
    if ((uint64_t)c->size_num * v->recipe[i]->serves < (uint64_t)c->portions * c->size_den)
        bpi_object(v, c->code, "it is too small for its portions");
}

/* For each state of a dish, as many spares as asked for; of raw, even where nothing else is raw. */
static void test_spares(bpi_verify *v, uint32_t i)
{
    const bp_container *c = &v->plan->container[i];
    if (c->role == BP_ROLE_TASTE || c->role == BP_ROLE_TEASE)
        return;
    uint32_t spares = 0, others = 0;
    for (uint32_t k = 0; k < v->plan->containers; k++) {
        const bp_container *o = &v->plan->container[k];
        if (o->air != c->air || v->dish[k] != v->dish[i] || o->steps != c->steps)
            continue;
        spares += o->role == BP_ROLE_SPARE;
        others += o->role == BP_ROLE_AIR || o->role == BP_ROLE_BEAUTY;
    }
    if (spares != bpi_dish_of(v, i)->spares[c->stage])
        bpi_object(v, c->code, "%u spares of this state, %u asked for", spares,
                   bpi_dish_of(v, i)->spares[c->stage]);
    if (others == 0 && c->stage != BP_RAW)
        bpi_object(v, c->code, "it is a spare of nothing");
}

static uint32_t hit_of_tease(const bpi_segment *g, const bpi_tease *t)
{
    uint32_t hit = 0;
    while (hit + 1 < g->hits && g->hit[hit].at < t->at)
        hit++;
    return hit;
}

static void test_teases(bpi_verify *v, uint32_t air)
{
    const bp_plan *p = v->plan;
    const bp_air *a = &p->air[air];
    const bpi_segment *g = &v->show->segment[v->segment[air]];
    uint32_t wanted = 0;
    for (uint32_t t = 0; t < g->teases; t++) {
        if (hit_of_tease(g, &g->tease[t]) != v->hit[air])
            continue;
        wanted++;
        uint32_t shown = 0;
        for (uint32_t k = 0; k < a->teases.n; k++) {
            const bp_tease *x = &p->tease[a->teases.first + k];
            if (x->at != g->tease[t].at || x->length != g->tease[t].length ||
                x->container == BP_NO_INDEX || p->container[x->container].air != air ||
                v->dish[x->container] != g->tease[t].dish)
                continue;
            const bp_container *c = &p->container[x->container];
            shown++;
            if (c->stage != BP_FINISHED)
                bpi_object(v, c->code, "a tease shows it and it is not finished");
            if (c->set_by > x->at || c->last < x->at + x->length)
                bpi_object(v, c->code, "a tease shows it and it is not there by then");
        }
        if (!shown)
            bpi_object(v, a->id, "no finished %s stands there for a tease",
                       g->dish[g->tease[t].dish].id);
    }
    if (a->teases.n != wanted)
        bpi_object(v, a->id, "%u teases are planned, the show has %u", a->teases.n, wanted);
}

void bpi_verify_box(bpi_verify *v)
{
    for (uint32_t i = 0; i < v->plan->containers; i++) {
        test_state(v, i);
        test_times(v, i);
        test_on_set(v, i);
        test_moved(v, i);
        test_portions(v, i);
        test_spares(v, i);
    }
    for (uint32_t a = 0; a < v->plan->airs; a++) {
        const bpi_segment *g = &v->show->segment[v->segment[a]];
        for (uint32_t d = 0; d < g->dishes; d++)
            test_dish(v, a, d);
        test_teases(v, a);
    }
}

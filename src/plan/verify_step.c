/* src/plan/verify_step.c - the path of each container.
 *
 * Every step once, in order, of its length; loaded and taken off by a cook; waiting only where and
 * as long as it keeps; carried, and on set. */
#include <string.h>

#include "model/heating.h"
#include "plan/verify.h"

#define MEASURED_HOLD 14400 /* s, as in verify.c */

static const bp_op *op_of(const bpi_verify *v, uint32_t o)
{
    return &v->plan->op[o];
}

static bool is_main(bp_op_kind k)
{
    return k == BP_OP_ACTIVE || k == BP_OP_PASSIVE || k == BP_OP_OVEN;
}

/* The operation of this kind for this step of this container, starting or ending then;
 * BP_NO_TIME: whenever. BP_NO_INDEX: there is none. */
static uint32_t find_from(const bpi_verify *v, uint32_t c, bp_op_kind kind, uint32_t step,
                          int64_t from, int64_t to, uint32_t nth)
{
    for (uint32_t o = 0; o < v->plan->ops; o++)
        if (op_of(v, o)->kind == kind && v->step[o] == step &&
            (from == BP_NO_TIME || op_of(v, o)->from == from) &&
            (to == BP_NO_TIME || op_of(v, o)->to == to) &&
            bpi_among(v->plan, op_of(v, o)->serves, c) && nth-- == 0)
            return o;
    return BP_NO_INDEX;
}

static uint32_t find(const bpi_verify *v, uint32_t c, bp_op_kind kind, uint32_t step, int64_t from,
                     int64_t to)
{
    return find_from(v, c, kind, step, from, to, 0);
}

static uint32_t main_of(const bpi_verify *v, uint32_t c, uint32_t step)
{
    for (uint32_t o = 0; o < v->plan->ops; o++)
        if (is_main(op_of(v, o)->kind) && v->step[o] == step &&
            bpi_among(v->plan, op_of(v, o)->serves, c))
            return o;
    return BP_NO_INDEX;
}

/* Steps that `s` builds on with no other between. */
static uint64_t directly_before(const bpi_recipe *r, uint32_t s)
{
    uint64_t direct = r->step[s].after;
    for (uint32_t p = 0; p < r->steps; p++)
        if (r->step[s].after >> p & 1)
            direct &= ~r->step[p].before_all;
    return direct;
}

/* ---- lengths ----------------------------------------------------------------------------- */

typedef struct bounds {
    int64_t least, most; /* seconds, whole minutes */
    bool watched;        /* no whole minute lies in its window: a cook stays with it */
} bounds;

/* Minutes to heat what is in these containers: the energy over the power, counted anew. */
static int64_t heating(const bpi_verify *v, const bpi_heating *h, bp_slice serves)
{
    int64_t mass = 0,
            minute = (int64_t)h->watts * h->percent * 60 / 100; /* J, of a whole percent */
    int64_t spare = (int64_t)h->watts * h->percent * 60 % 100;  /* hundredths of one     */
    for (uint32_t i = 0; i < serves.n; i++) {
        uint32_t c = v->plan->index[serves.first + i];
        const bpi_ratio *size = &bpi_dish_of(v, c)->size[v->plan->container[c].stage];
        mass += (h->mass_mg * size->num + size->den - 1) / size->den;
    }
    if (mass > BPI_HEATING_HEAVIEST)
        return BPI_HEATING_MOST / 60;
    int64_t power = minute * 1000000000 + spare * 10000000; /* nJ a minute */
    int64_t energy = mass * bpi_heating_foods[h->of].c * (h->to_mC - h->from_mC);
    return (energy + power - 1) / power;
}

static bounds bounds_of(const bpi_verify *v, uint32_t o, const bpi_step *s)
{
    uint32_t n = op_of(v, o)->serves.n;
    if (s->heat.mass_mg) {
        int64_t length = 60 * heating(v, &s->heat, op_of(v, o)->serves);
        return (bounds){length, length, false};
    }
    bounds b = {bpi_minute_up(s->time.least), bpi_minute_down(s->time.most), false};
    if (s->together && s->kind != BPI_ACTIVE) {
        int64_t more = s->together_each * (n - 1);
        b.least = bpi_minute_up(s->time.uncertain ? s->time.likely : s->time.least) + more;
        b.most = (s->time.uncertain ? bpi_minute_up(s->time.likely) : b.most) + more;
        if (b.most < b.least)
            b.most = b.least;
    } else if (s->together)
        b.least = b.most = bpi_minute_up(s->together_once + s->together_each * n);
    else if (s->kind == BPI_ACTIVE || s->time.uncertain)
        b.least = b.most = bpi_minute_up(s->time.likely);
    else if (b.least > b.most) {
        b.most = b.least;
        b.watched = s->kind == BPI_PASSIVE && (s->burner || s->time.window);
    }
    if (s->kind == BPI_ACTIVE && b.least < 60)
        b.least = b.most = 60;
    return b;
}

/* Nobody need take it off: it simply waits on where it is. */
static bool may_stay(const bpi_step *s)
{
    if (s->kind != BPI_PASSIVE || s->burner || s->time.window)
        return false;
    return !s->hold_stated || s->hold[s->keep < 0 ? BPI_COUNTER : s->keep] > 0;
}

static void test_length(bpi_verify *v, uint32_t o, const bpi_step *s)
{
    static const bp_op_kind kinds[] = {
        [BPI_ACTIVE] = BP_OP_ACTIVE, [BPI_PASSIVE] = BP_OP_PASSIVE, [BPI_OVEN] = BP_OP_OVEN};
    const bp_op *op = op_of(v, o);
    bounds b = bounds_of(v, o, s);
    if (op->kind != (b.watched ? BP_OP_ACTIVE : kinds[s->kind]))
        bpi_object(v, op->key, "it is of another kind than its step");
    bool given = bpi_is_given(v, o);
    if (!given && op->to - op->from < b.least)
        bpi_object(v, op->key, "it is shorter than step %s takes", s->id);
    int64_t told_to = bpi_is_past(v, op) ? bpi_told(v, o) : BP_NO_TIME;
    if ((!given || (bpi_is_past(v, op) && op->to != told_to)) && bpi_runs_over(v, op, b.most))
        bpi_object(v, op->key, "it is longer than step %s may last", s->id);
    if (op->oven_mC != s->oven_mC)
        bpi_object(v, op->key, "its oven temperature is not that of step %s", s->id);
    if (op->core_mC != s->core_mC)
        bpi_object(v, op->key, "its core temperature is not that of step %s", s->id);
}

/* ---- who it is for ----------------------------------------------------------------------- */

/* No more jobs than the containers need that have this step: all but one are full. */
static void test_whole(bpi_verify *v, uint32_t o, const bpi_step *s)
{
    const bp_plan *p = v->plan;
    const bool *apart = v->amends ? v->amends->apart : NULL;
    uint32_t first = p->index[op_of(v, o)->serves.first], all = 0, jobs = 0;
    for (uint32_t c = 0; c < p->containers; c++)
        all += v->recipe[c] == v->recipe[first] && p->container[c].air == p->container[first].air &&
               (p->container[c].steps >> v->step[o] & 1);
    for (uint32_t k = 0; k < p->ops; k++)
        jobs += op_of(v, k)->kind == op_of(v, o)->kind && v->step[k] == v->step[o] &&
                op_of(v, k)->air == op_of(v, o)->air && op_of(v, k)->serves.n &&
                v->recipe[p->index[op_of(v, k)->serves.first]] == v->recipe[first] &&
                !(apart && apart[p->index[op_of(v, k)->serves.first]]);
    if (jobs > all / s->together_most + (all % s->together_most != 0))
        bpi_object(v, op_of(v, o)->key, "it is one of %u jobs and may not be split so", jobs);
}

static void test_served(bpi_verify *v, uint32_t o, const bpi_step *s)
{
    const bp_op *op = op_of(v, o);
    uint32_t first = v->plan->index[op->serves.first];
    uint32_t air = v->plan->container[first].air; /* the first of them */
    for (uint32_t i = 0; i < op->serves.n; i++) {
        uint32_t c = v->plan->index[op->serves.first + i], its = v->plan->container[c].air;
        if (v->recipe[c] != v->recipe[first] || (its != air && !s->together_across))
            bpi_object(v, op->key, "it serves containers of different recipes or appearances");
        else if (!(v->plan->container[c].steps >>
                       (s->ahead == BPI_NO_INDEX ? v->step[o] : s->ahead) &
                   1))
            bpi_object(v, op->key, "container %s is not to have step %s done ahead",
                       v->plan->container[c].code, s->id);
        air = its < air ? its : air;
        if (bpi_among(v->plan, op->serves, c) != 1)
            bpi_object(v, op->key, "it serves a container twice");
    }
    if (op->serves.n > (s->together ? s->together_most : 1))
        bpi_object(v, op->key, "it serves %u containers, and one job takes %u", op->serves.n,
                   s->together ? s->together_most : 1);
    if (v->amends && v->amends->apart[first] && op->serves.n > 1)
        bpi_object(v, op->key, "what was lost is done together with others");
    else if (s->together && !s->together_split && s->together_most)
        test_whole(v, o, s);
    if (op->air != air)
        bpi_object(v, op->key, "it is for another appearance than the first of its containers");
}

static bool same_served(const bp_plan *p, const bp_op *a, const bp_op *b)
{
    bool same = a->serves.n == b->serves.n;
    for (uint32_t i = 0; same && i < a->serves.n; i++)
        same = bpi_among(p, b->serves, p->index[a->serves.first + i]) == 1;
    return same;
}

/* ---- loading and taking off -------------------------------------------------------------- */

static void test_hand(bpi_verify *v, uint32_t o, int64_t length)
{
    const bp_op *op = op_of(v, o);
    int64_t least = bpi_minute_up(length) < 60 ? 60 : bpi_minute_up(length);
    if (op->to - op->from != least && !bpi_is_past(v, op))
        bpi_object(v, op->key, "it lasts %lld s, not %lld", (long long)(op->to - op->from),
                   (long long)least);
    v->known[o] = true;
}

/* Somebody else is there from its start, for all of it or as long as the step says. */
static void test_help(bpi_verify *v, uint32_t c, uint32_t o, const bpi_step *s)
{
    const bp_op *op = op_of(v, o);
    uint32_t help = find(v, c, BP_OP_HELP, v->step[o], bpi_is_past(v, op) ? BP_NO_TIME : op->from,
                         BP_NO_TIME); /* in the past each ticked for themselves */
    if (!s->help || op->kind != BP_OP_ACTIVE)
        return;
    if (help == BP_NO_INDEX) {
        bpi_object(v, op->key, "nobody helps");
        return;
    }
    const bp_op *by = op_of(v, help);
    v->known[help] = true;
    if (!same_served(v->plan, by, op))
        bpi_object(v, by->key, "it serves others than what it helps with");
    if (by->uses.n)
        bpi_object(v, by->key, "it takes again what it helps with");
    if (by->to - by->from != (s->help_time ? bpi_minute_up(s->help_time) : op->to - op->from) &&
        !bpi_is_past(v, by))
        bpi_object(v, by->key, "it lasts another time than step %s asks for", s->id);
}

/* Whoever has just finished what comes before may start it in passing. */
static bool starts_in_passing(const bpi_verify *v, uint32_t c, uint32_t o, const bpi_step *s)
{
    const bp_op *op = op_of(v, o);
    if (s->kind != BPI_PASSIVE || s->ingredients || op->serves.n != 1)
        return false;
    uint64_t before = directly_before(v->recipe[c], v->step[o]);
    for (uint32_t k = 0; k < v->plan->ops; k++) {
        const bp_op *x = op_of(v, k);
        if (x->to == op->from && bpi_is_hands_on(x->kind) && x->kind != BP_OP_HELP &&
            v->step[k] != BPI_NO_INDEX && (before >> v->step[k] & 1) && same_served(v->plan, x, op))
            return true;
    }
    return false;
}

/* When hands are first put to the step, and when it lets the container go. */
typedef struct reach {
    int64_t from, to;
} reach;

static reach reach_of(bpi_verify *v, uint32_t c, uint32_t o)
{
    const bp_op *op = op_of(v, o);
    const bpi_step *s = &v->recipe[c]->step[v->step[o]];
    reach r = {op->from, op->to};
    v->known[o] = true;
    test_help(v, c, o, s);
    if (op->kind == BP_OP_ACTIVE)
        return r;
    uint32_t load = find(v, c, BP_OP_LOAD, v->step[o], BP_NO_TIME, op->from);
    if (load != BP_NO_INDEX) {
        test_hand(v, load, v->show->kitchen.load);
        r.from = op_of(v, load)->from;
        if (!same_served(v->plan, op_of(v, load), op))
            bpi_object(v, op_of(v, load)->key, "it serves others than what it loads");
    } else if (!starts_in_passing(v, c, o, s)) {
        bpi_object(v, op->key, "nobody puts it on");
    }
    uint32_t off = find(v, c, BP_OP_TAKE_OFF, v->step[o], op->to, BP_NO_TIME);
    if (off != BP_NO_INDEX) {
        test_hand(v, off, v->show->kitchen.take_off);
        r.to = op_of(v, off)->to;
        if (!same_served(v->plan, op_of(v, off), op))
            bpi_object(v, op_of(v, off)->key, "it serves others than what it takes off");
        bounds b = bounds_of(v, o, s);
        const bp_op *ends[] = {op, op_of(v, off)};
        for (int k = 0; k < 2 && !bpi_is_given(v, o); k++)
            if (ends[k]->off_least != op->from + b.least || ends[k]->off_most != op->from + b.most)
                bpi_object(v, ends[k]->key, "its doneness window is told wrong");
    } else if (!may_stay(s)) {
        bpi_object(v, op->key, "nobody takes it off at its end");
    }
    return r;
}

/* ---- waiting ----------------------------------------------------------------------------- */

static int32_t keep_of(const bpi_verify *v, const bp_op *op)
{
    for (uint32_t i = 0; i < op->uses.n; i++)
        switch (v->plan->thing[v->plan->index[op->uses.first + i]].kind) {
        case BP_PLACE_COUNTER:
            return BPI_COUNTER;
        case BP_PLACE_HOT:
            return BPI_HOT;
        case BP_PLACE_COLD:
            return BPI_COLD;
        default:
            break;
        }
    return -1;
}

/* Is there no place in this kitchen where it may wait after the step? */
static bool has_nowhere(const bpi_verify *v, const bpi_step *s)
{
    bool anywhere = !s || !s->hold_stated || s->hold[BPI_COUNTER] > 0;
    for (uint32_t i = 0; i < v->show->kitchen.places && !anywhere; i++)
        anywhere = s->hold[v->show->kitchen.place[i].keep] > 0;
    return !anywhere;
}

static void test_hold(bpi_verify *v, uint32_t o, const bpi_step *s)
{
    const bp_op *op = op_of(v, o);
    bool right;
    uint32_t places = bpi_places(v, op, &right);
    int32_t keep = keep_of(v, op);
    if (places !=
        1) { /* a day that goes wrong has it stand about though there is no place for it */
        bool aside = v->amends && v->plan->verdict == BP_LATE && has_nowhere(v, s);
        if (places > 1 || (!bpi_is_past(v, op) && !aside))
            bpi_object(v, op->key, "it waits in %u places", places);
        return;
    }
    if (!right)
        bpi_object(v, op->key, "it takes other positions than its vessels say");
    int64_t hold = !s ? MEASURED_HOLD : s->hold_stated ? s->hold[keep] : BPI_NO_LIMIT;
    int32_t home = !s || s->keep < 0 ? BPI_COUNTER : s->keep;
    bool fixed = !s || !s->hold_stated ||
                 (s->kind == BPI_PASSIVE && may_stay(s) && !bounds_of(v, o, s).watched);
    if (fixed && keep != home &&
        find(v, v->plan->index[op->serves.first], BP_OP_TAKE_OFF, v->step[o], BP_NO_TIME,
             op->from) == BP_NO_INDEX)
        bpi_object(v, op->key, "it waits in another place than where it is");
    if (hold != BPI_NO_LIMIT && bpi_runs_over(v, op, hold))
        bpi_object(v, op->key, "it waits %lld s and keeps %lld there",
                   (long long)(op->to - op->from), (long long)hold);
    if (op->hold_until != (hold == BPI_NO_LIMIT ? BP_NO_TIME : op->from + hold))
        bpi_object(v, op->key, "it tells wrong how long it keeps");
}

/* Between the end of a step and what comes next: nothing, or a wait that fills it. */
/* `nth`: of the waits from that step at those times; a step may be waited with for several. */
static void test_gap(bpi_verify *v, uint32_t c, uint32_t step, int64_t from, int64_t to,
                     const char *next, uint32_t nth)
{
    const bp_container *box = &v->plan->container[c];
    if (to < from) {
        bpi_object(v, box->code, "%s starts before %s has ended", next,
                   step == BPI_NO_INDEX ? "measuring" : v->recipe[c]->step[step].id);
        return;
    }
    if (to == from)
        return;
    uint32_t wait = find_from(v, c, BP_OP_WAIT, step, from, to, nth);
    if (wait == BP_NO_INDEX) {
        bpi_object(v, box->code, "between %s and %s it is nowhere for %lld s",
                   step == BPI_NO_INDEX ? "measuring" : v->recipe[c]->step[step].id, next,
                   (long long)(to - from));
        return;
    }
    v->known[wait] = true;
    test_hold(v, wait, step == BPI_NO_INDEX ? NULL : &v->recipe[c]->step[step]);
}

/* From the end of a step to what comes next: at once, or by way of every step that is for what is
 * cooked ahead, in the order of the file. */
static void test_way(bpi_verify *v, uint32_t c, uint32_t step, int64_t from, int64_t to,
                     const char *next, uint32_t nth)
{
    const bpi_recipe *r = v->recipe[c];
    uint32_t done = 0, asked = 0, at = step;
    for (uint32_t s = 0; s < r->steps; s++) {
        asked += r->step[s].ahead == step;
        done += r->step[s].ahead == step && main_of(v, c, s) != BP_NO_INDEX;
    }
    if (done && done < asked)
        bpi_object(v, v->plan->container[c].code,
                   "%u of %u steps are done after %s is cooked ahead", done, asked,
                   r->step[step].id);
    for (uint32_t s = 0; s < r->steps; s++) {
        uint32_t o = r->step[s].ahead == step ? main_of(v, c, s) : BP_NO_INDEX;
        if (o == BP_NO_INDEX)
            continue;
        reach x = reach_of(v, c, o);
        test_gap(v, c, at, from, x.from, r->step[s].id, 0);
        from = x.to;
        at = s;
    }
    test_gap(v, c, at, from, to, next, nth);
}

/* ---- one container ----------------------------------------------------------------------- */

static uint32_t carry_of(const bpi_verify *v, uint32_t c)
{
    return find(v, c, BP_OP_CARRY, BPI_NO_INDEX, BP_NO_TIME, BP_NO_TIME);
}

static void test_carry(bpi_verify *v, uint32_t c, uint32_t carry)
{
    const bp_container *box = &v->plan->container[c];
    const bp_op *op = op_of(v, carry);
    test_hand(v, carry, v->show->kitchen.carry);
    if (op->serves.n != 1)
        bpi_object(v, op->key, "one container is carried at a time");
    if (op->to != box->on_set)
        bpi_object(v, box->code, "it is on set when its carry does not end");
    uint32_t set = find(v, c, BP_OP_SET, BPI_NO_INDEX, op->to, BP_NO_TIME);
    if (set == BP_NO_INDEX) {
        if (op->to < bpi_minute_up(box->last))
            bpi_object(v, box->code, "after its carry it does not stand on the set");
        return;
    }
    v->known[set] = true;
    const bp_op *on = op_of(v, set);
    const bpi_segment *g = &v->show->segment[v->segment[box->air]];
    uint32_t here = 0, elsewhere = 0;
    for (uint32_t i = 0; i < on->uses.n; i++) {
        const bp_thing *t = &v->plan->thing[v->plan->index[on->uses.first + i]];
        bool its = t->kind == BP_SET && strcmp(t->id, g->id) == 0;
        here += its;
        elsewhere += !its && t->kind != BP_VESSEL;
    }
    if (here != 1 || elsewhere)
        bpi_object(v, on->key, "it does not stand on the set of segment %s", g->id);
    int64_t end = bpi_minute_up(box->last), keeps = bpi_keeps_until(v, c);
    if (on->to < end || (on->to > end && v->plan->verdict != BP_LATE))
        bpi_object(v, on->key, "it does not stand there until it is last needed");
    if (on->hold_until != (keeps == BPI_NO_LIMIT ? BP_NO_TIME : keeps))
        bpi_object(v, on->key, "it tells wrong how long it keeps");
}

static void test_measure(bpi_verify *v, uint32_t c, const bp_op *carry)
{
    uint32_t items = 0;
    bool raw = v->plan->container[c].steps == 0;
    uint64_t steps = raw ? v->recipe[c]->all : bpi_on_air(v, c);
    for (uint32_t s = 0; s < v->recipe[c]->steps; s++)
        items += steps >> s & 1 ? v->recipe[c]->step[s].ingredients : 0;
    if (!raw && items == 0)
        return;
    uint32_t o = find(v, c, BP_OP_MEASURE, BPI_NO_INDEX, BP_NO_TIME, BP_NO_TIME);
    if (o == BP_NO_INDEX) {
        bpi_object(v, v->plan->container[c].code, "nobody measures it");
        return;
    }
    int64_t minutes = (items + 2) / 3;
    test_hand(v, o, (raw && minutes < 2 ? 2 : minutes) * 60);
    test_gap(v, c, BPI_NO_INDEX, op_of(v, o)->to, carry->from, "its carry", 0);
}

/* Steps before `s` that wait with step `k` for as long: each has a wait of its own. */
static uint32_t alike(const bpi_recipe *r, uint64_t there, const reach *reached, uint32_t k,
                      uint32_t s)
{
    uint32_t n = 0;
    for (uint32_t t = 0; t < s; t++)
        n += (there >> t & 1) && (directly_before(r, t) >> k & 1) &&
             reached[t].from == reached[s].from;
    return n;
}

static void test_container(bpi_verify *v, uint32_t c)
{
    const bp_container *box = &v->plan->container[c];
    const bpi_recipe *r = v->recipe[c];
    uint32_t at = carry_of(v, c);
    if (at == BP_NO_INDEX) {
        bpi_object(v, box->code, "nobody carries it to the set");
        return;
    }
    test_carry(v, c, at);
    const bp_op *carry = op_of(v, at);
    test_measure(v, c, carry);
    reach reached[64] = {{0, 0}};
    uint64_t there = 0, built_on = 0;
    for (uint32_t s = 0; s < r->steps; s++) {
        if (!(box->steps >> s & 1))
            continue;
        built_on |= directly_before(r, s);
        uint32_t o = main_of(v, c, s);
        if (o == BP_NO_INDEX) {
            bpi_object(v, box->code, "step %s is not done for it", r->step[s].id);
            continue;
        }
        reached[s] = reach_of(v, c, o);
        there |= UINT64_C(1) << s;
    }
    for (uint32_t s = 0; s < r->steps; s++) {
        if (!(there >> s & 1))
            continue;
        uint64_t before = directly_before(r, s) & there;
        for (uint32_t k = 0; k < r->steps; k++)
            if (before >> k & 1)
                test_way(v, c, k, reached[k].to, reached[s].from, r->step[s].id,
                         alike(r, there, reached, k, s));
        if (!(built_on >> s & 1))
            test_way(v, c, s, reached[s].to, carry->from, "its carry", 0);
    }
}

void bpi_verify_step(bpi_verify *v)
{
    for (uint32_t o = 0; o < v->plan->ops; o++) {
        const bp_op *op = op_of(v, o);
        if (op->from >= op->to)
            bpi_object(v, op->key, "it ends before it has begun");
        if (op->from % 60 || op->to % 60)
            bpi_object(v, op->key, "it is not on whole minutes");
        if (op->latest_from < op->from)
            bpi_object(v, op->key, "its latest start is before its start");
        if (!is_main(op->kind))
            continue;
        const bpi_step *s = &v->recipe[v->plan->index[op->serves.first]]->step[v->step[o]];
        test_length(v, o, s);
        test_served(v, o, s);
    }
    for (uint32_t c = 0; c < v->plan->containers; c++)
        test_container(v, c);
    for (uint32_t o = 0; o < v->plan->ops; o++) {
        bp_op_kind k = op_of(v, o)->kind;
        if (!v->known[o] && k != BP_OP_PREHEAT && k != BP_OP_RESET && k != BP_OP_STAND_BY &&
            k != BP_OP_WASH && k != BP_OP_WARM_UP)
            bpi_object(v, op_of(v, o)->key, "nothing in the show asks for it");
    }
}

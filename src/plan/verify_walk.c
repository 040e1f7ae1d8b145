/* src/plan/verify_walk.c - each beat finds its dish in the state it needs, at the least lengths.
 *
 * The containers on set are played forward through the beats that work with them; where more than
 * one would do, each is tried. Written from the words of live/walk.h, not from its code. */
#include <assert.h>
#include <string.h>

#include "base/limits.h"
#include "plan/verify.h"

#define MOST_TRIES 100000u

typedef struct standing {
    uint64_t done;
    uint32_t open;  /* step begun, not complete; BPI_NO_INDEX: none */
    uint32_t since; /* beat that began it                           */
    int64_t put_in; /* seconds of hands on it                       */
    bool alone;     /* it goes on unattended                        */
} standing;

typedef struct play {
    bpi_verify *v;
    uint32_t air, dish;
    const bpi_recipe *recipe;
    standing box[BPI_MAX_SWAPS]; /* beside the plan's containers */
    uint32_t tries, deepest;
} play;

static const bp_beat *beat_of(const play *p, uint32_t i)
{
    return &p->v->plan->beat[p->v->plan->air[p->air].beats.first + i];
}

static const bpi_want *want_of(const play *p, uint32_t i)
{
    return &p->v->want[p->v->plan->air[p->air].beats.first + i];
}

static int64_t time_of(const bpi_step *s)
{
    return s->time.uncertain ? s->time.likely : s->time.least;
}

/* Has the open step come to its end by itself when beat i comes, and is it not overdone? */
static bool came_out(const play *p, const standing *s, uint32_t i)
{
    const bpi_step *step = &p->recipe->step[s->open];
    int64_t least = 0, most = beat_of(p, s->since)->most;
    for (uint32_t k = s->since + 1; k < i; k++)
        if (!beat_of(p, k)->dropped) {
            least += beat_of(p, k)->least;
            most += beat_of(p, k)->most + beat_of(p, k)->walk;
        }
    if (most > p->v->plan->air[p->air].slot)
        most = p->v->plan->air[p->air].slot;
    if (!s->alone || least < time_of(step))
        return false;
    if (step->time.window)
        return most <= step->time.most;
    return step->hold_set == BPI_NO_LIMIT || most - time_of(step) <= step->hold_set;
}

/* The container as it is when beat i takes it up; false: it is not in the state that is needed. */
static bool take_up(const play *p, standing *s, uint32_t i)
{
    const bpi_want *w = want_of(p, i);
    bool more = s->open != BPI_NO_INDEX && w->does_n > 0 && w->does[0] == s->open;
    if (s->open != BPI_NO_INDEX && !more) {
        if (!came_out(p, s, i))
            return false;
        s->done |= UINT64_C(1) << s->open;
        s->open = BPI_NO_INDEX;
    }
    return s->done == w->steps;
}

static void work(const play *p, standing *s, uint32_t i)
{
    const bpi_want *w = want_of(p, i);
    int64_t left = beat_of(p, i)->least;
    for (uint32_t k = 0; k < w->does_n; k++) {
        assert(w->does[k] < p->recipe->steps); /* the reader resolved it */
        const bpi_step *step = &p->recipe->step[w->does[k]];
        bool more = s->open == w->does[k];
        int64_t time = time_of(step) - (more && !s->alone ? s->put_in : 0);
        if ((step->before_all & ~s->done) == 0 && time <= left) {
            s->done |= UINT64_C(1) << w->does[k];
            s->open = BPI_NO_INDEX;
            s->put_in = 0;
            left -= time;
            continue;
        }
        s->put_in = left + (more ? s->put_in : 0);
        s->since = more ? s->since : i;
        s->open = w->does[k];
        s->alone = step->kind != BPI_ACTIVE && k + 1 == w->does_n;
        return;
    }
}

/* Do the beats from i on find what they need? */
static bool serves_from(play *p, uint32_t i)
{
    const bp_plan *plan = p->v->plan;
    while (i < plan->air[p->air].beats.n &&
           (beat_of(p, i)->dropped || !want_of(p, i)->state || want_of(p, i)->dish != p->dish))
        i++;
    if (i == plan->air[p->air].beats.n)
        return true;
    if (i > p->deepest)
        p->deepest = i;
    bp_slice on = beat_of(p, i)->on;
    for (uint32_t k = on.n; k-- > 0 && p->tries < MOST_TRIES;) {
        uint32_t c = plan->index[on.first + k];
        bp_role role = plan->container[c].role;
        if (plan->container[c].air != p->air || p->v->dish[c] != p->dish ||
            (role != BP_ROLE_AIR && role != BP_ROLE_BEAUTY))
            continue;
        standing was = p->box[c];
        p->tries++;
        if (take_up(p, &p->box[c], i)) {
            work(p, &p->box[c], i);
            if (serves_from(p, i + 1))
                return true;
        }
        p->box[c] = was;
    }
    return false;
}

/* A beat that goes on with a container needs those before it that did something to it. */
static void test_brought(bpi_verify *v, uint32_t air)
{
    const bp_plan *plan = v->plan;
    bp_slice beats = plan->air[air].beats;
    for (uint32_t k = 0; k < beats.n; k++) {
        const bp_beat *b = &plan->beat[beats.first + k];
        for (uint32_t j = 0; j < k; j++) {
            const bp_beat *before = &plan->beat[beats.first + j];
            bool same = false;
            for (uint32_t i = 0; i < b->on.n; i++)
                same |= bpi_among(plan, before->on, plan->index[b->on.first + i]) > 0;
            if (same && v->want[beats.first + j].does_n && v->want[beats.first + k].state &&
                v->want[beats.first + k].dish == v->want[beats.first + j].dish &&
                !(b->needs >> j & 1))
                bpi_object(v, b->id, "it does not need beat %s, which worked on its container",
                           before->id);
        }
    }
}

void bpi_verify_walk(bpi_verify *v)
{
    const bp_plan *plan = v->plan;
    if (plan->containers > BPI_MAX_SWAPS) {
        bpi_object(v, "containers", "there are more than %d", BPI_MAX_SWAPS);
        return;
    }
    for (uint32_t a = 0; a < plan->airs; a++) {
        const bpi_segment *g = &v->show->segment[v->segment[a]];
        test_brought(v, a);
        for (uint32_t d = 0; d < g->dishes; d++) {
            play p = {.v = v, .air = a, .dish = d, .recipe = &v->show->recipe[g->dish[d].recipe]};
            for (uint32_t c = 0; c < plan->containers; c++)
                p.box[c] = (standing){.done = plan->container[c].steps, .open = BPI_NO_INDEX};
            if (!serves_from(&p, 0))
                bpi_object(v, beat_of(&p, p.deepest)->id,
                           "no container of dish %s is in the state it needs", g->dish[d].id);
        }
    }
}

#include "live/walk.h"

#include <assert.h>
#include <stdbool.h>

#include "base/limits.h"

/* A container as it stands on the set. */
typedef struct pot {
    uint64_t done;
    uint32_t step;    /* begun and not complete; BPI_NO_INDEX: none      */
    uint32_t begun;   /* the beat that began it                          */
    bool unattended;  /* it goes on by itself                            */
    int64_t given;    /* attended: seconds of it done so far             */
    uint64_t changed; /* beats that did something to it                  */
} pot;

typedef struct walk {
    const bpi_recipe *recipe;
    const bpi_beat *beat;
    const bpi_fitted *fitted;
    int64_t slot;
    uint64_t kept;
    bpi_chain *chain;
    pot pot[BPI_MAX_BEATS]; /* beside each chain */
    uint32_t chains;
    uint64_t *needs;
} walk;

static uint64_t bit(uint32_t i)
{
    return UINT64_C(1) << i;
}

int64_t bpi_walk_time(const bpi_step *step)
{
    return step->time.uncertain ? step->time.likely : step->time.least;
}

/* All that must come before the steps done, but what is itself done here or follows from it. */
static uint64_t before_does(const bpi_recipe *r, const bpi_beat *b)
{
    uint64_t does = 0, before = 0;
    for (uint32_t k = 0; k < b->does_n; k++) {
        does |= bit(b->does[k]);
        before |= r->step[b->does[k]].before_all;
    }
    uint64_t need = before & ~does;
    for (uint32_t s = 0; s < r->steps; s++)
        if (r->step[s].before_all & does)
            need &= ~bit(s);
    return need;
}

bool bpi_walk_needs(uint64_t *steps, const bpi_recipe *recipe, const bpi_beat *beat)
{
    if (beat->dish == BPI_NO_INDEX)
        return false;
    switch (beat->shows) {
    case BPI_SHOWS_STEPS:
        *steps = before_does(recipe, beat);
        return true;
    case BPI_SHOWS_RAW:
        *steps = 0;
        return true;
    case BPI_SHOWS_AFTER:
        *steps = recipe->step[beat->after].before_all | bit(beat->after);
        return true;
    case BPI_SHOWS_FINISHED:
        *steps = recipe->all;
        return true;
    case BPI_SHOWS_NOTHING:
        break;
    }
    return false;
}

/* Least seconds between the end of one beat and the start of a later one. */
static int64_t least_between(const walk *w, uint32_t from, uint32_t until)
{
    int64_t sum = 0;
    for (uint32_t i = from + 1; i < until; i++)
        sum += (w->kept & bit(i)) ? w->fitted[i].least : 0;
    return sum;
}

/* Most seconds between the start of one and the start of the other. */
static int64_t most_between(const walk *w, uint32_t from, uint32_t until)
{
    int64_t sum = 0;
    for (uint32_t i = from; i < until; i++)
        sum += (w->kept & bit(i)) ? w->fitted[i].most + w->fitted[i].farthest : 0;
    return sum < w->slot ? sum : w->slot;
}

/* Longest an unattended step may go on before somebody comes back to it. */
static int64_t overdone_after(const bpi_step *s)
{
    if (s->time.window)
        return s->time.most;
    int64_t time = bpi_walk_time(s);
    return s->hold_set > BPI_NO_LIMIT - time ? BPI_NO_LIMIT : time + s->hold_set;
}

static bool has_come_to_time(const walk *w, const pot *p, uint32_t until)
{
    return least_between(w, p->begun, until) >= bpi_walk_time(&w->recipe->step[p->step]);
}

static bool is_overdone(const walk *w, const pot *p, uint32_t until)
{
    return most_between(w, p->begun, until) > overdone_after(&w->recipe->step[p->step]);
}

/* Can beat i, which needs these steps, go on with this container? */
static bool goes_on(const walk *w, const pot *p, uint32_t i, uint64_t steps)
{
    if (p->step == BPI_NO_INDEX)
        return p->done == steps;
    const bpi_beat *b = &w->beat[i];
    if (b->does_n > 0 && b->does[0] == p->step && p->done == steps)
        return true; /* more of the same step */
    return p->unattended && (p->done | bit(p->step)) == steps && has_come_to_time(w, p, i) &&
           !is_overdone(w, p, i);
}

/* Beat i takes the container up again: what was left alone meanwhile is done. */
static void take_up(walk *w, uint32_t c, uint32_t i)
{
    pot *p = &w->pot[c];
    w->needs[i] |= p->changed;
    const bpi_beat *b = &w->beat[i];
    if (p->step == BPI_NO_INDEX || (b->does_n > 0 && b->does[0] == p->step))
        return;
    for (uint32_t k = p->begun + 1; k < i; k++)
        w->needs[i] |= bit(k) & w->kept; /* they give it its time */
    p->done |= bit(p->step);
    p->step = BPI_NO_INDEX;
}

/* Do on the container what beat i does, as far as its least length goes. */
static void work_on(walk *w, uint32_t c, uint32_t i)
{
    pot *p = &w->pot[c];
    const bpi_beat *b = &w->beat[i];
    int64_t left = w->fitted[i].least;
    for (uint32_t k = 0; k < b->does_n; k++) {
        uint32_t s = b->does[k];
        assert(s < w->recipe->steps);
        const bpi_step *step = &w->recipe->step[s];
        bool more = p->step == s;
        int64_t time = bpi_walk_time(step) - (more && !p->unattended ? p->given : 0);
        p->changed |= bit(i);
        if (time <= left && (step->before_all & ~p->done) == 0) {
            left -= time;
            p->done |= bit(s);
            p->step = BPI_NO_INDEX;
            p->given = 0;
            continue;
        }
        p->unattended = step->kind != BPI_ACTIVE && k + 1 == b->does_n;
        p->given = (more ? p->given : 0) + left;
        if (!more)
            p->begun = i;
        p->step = s;
        return;
    }
}

/* The step of a set that takes longest, the first of equals; BPI_NO_INDEX: the set is empty. */
static uint32_t longest_of(const bpi_recipe *r, uint64_t set)
{
    uint32_t longest = BPI_NO_INDEX;
    for (uint32_t s = 0; s < r->steps; s++)
        if ((set & bit(s)) && (longest == BPI_NO_INDEX ||
                               bpi_walk_time(&r->step[s]) > bpi_walk_time(&r->step[longest])))
            longest = s;
    return longest;
}

/* `last` is the container the dish was last seen in; NULL: none yet. */
static void explain(const walk *w, bpi_chain *c, const pot *last, uint32_t i)
{
    c->step = longest_of(w->recipe, last ? c->steps & ~last->done : c->steps);
    c->why = BPI_WHY_AHEAD;
    if (c->steps == 0) {
        c->why = BPI_WHY_RAW;
    } else if (last && last->step != BPI_NO_INDEX && (c->steps & bit(last->step))) {
        c->step = last->step;
        c->from = last->begun;
        c->until = i;
        c->why = last->unattended && has_come_to_time(w, last, i) && is_overdone(w, last, i)
                     ? BPI_WHY_LONG
                     : BPI_WHY_SHORT;
    } else if (last && c->step == BPI_NO_INDEX) {
        c->why = BPI_WHY_BACK;
    }
}

static void walk_dish(walk *w, uint32_t dish, uint32_t beats)
{
    uint32_t first = w->chains, last = BPI_NO_INDEX;
    for (uint32_t i = 0; i < beats; i++) {
        uint64_t steps = 0;
        if (!(w->kept & bit(i)) || w->beat[i].dish != dish ||
            !bpi_walk_needs(&steps, w->recipe, &w->beat[i]) || steps == w->recipe->all)
            continue;
        uint32_t c = w->chains;
        while (c > first && !goes_on(w, &w->pot[c - 1], i, steps))
            c--;
        if (c > first) {
            c--;
        } else {
            c = w->chains++;
            w->chain[c] = (bpi_chain){.dish = dish, .steps = steps};
            explain(w, &w->chain[c], last == BPI_NO_INDEX ? NULL : &w->pot[last], i);
            w->pot[c] = (pot){.done = steps, .step = BPI_NO_INDEX};
        }
        w->chain[c].beats |= bit(i);
        take_up(w, c, i);
        work_on(w, c, i);
        last = c;
    }
}

static void sort_by_first_beat(bpi_chain *chain, uint32_t n)
{
    for (uint32_t i = 1; i < n; i++) {
        bpi_chain c = chain[i];
        uint64_t first = c.beats & (~c.beats + 1);
        uint32_t k = i;
        for (; k > 0 && (chain[k - 1].beats & (~chain[k - 1].beats + 1)) > first; k--)
            chain[k] = chain[k - 1];
        chain[k] = c;
    }
}

uint32_t bpi_walk(bpi_chain *chain, uint64_t *needs, const bpi_recipe *recipe,
                  const bpi_segment *segment, const bpi_beat *beat, const bpi_fitted *fitted,
                  uint32_t beats, uint64_t kept)
{
    assert(beats <= BPI_MAX_BEATS);
    walk w = {.beat = beat,
              .fitted = fitted,
              .slot = segment->slot,
              .kept = kept,
              .chain = chain,
              .needs = needs};
    for (uint32_t i = 0; i < beats; i++)
        needs[i] = 0;
    for (uint32_t d = 0; d < segment->dishes; d++) {
        w.recipe = &recipe[segment->dish[d].recipe];
        walk_dish(&w, d, beats);
    }
    sort_by_first_beat(chain, w.chains);
    return w.chains;
}

/* tests/support/kitchen_day.c - made-up days of a small kitchen; the header says what is in one.
 *
 * Owns     the maker while it runs.
 * May use  tests/support/small_problem for random numbers.
 */
#include "support/kitchen_day.h"

#include <stdlib.h>

#include "support/small_problem.h"

enum {
    PLACES = 3,
    MOST_COOKS = 4,
    PER_STEP = 8,
    /* of a wide day; minutes */
    CREW_STEPS = 50,
    FIRST_HIT = 300,
    HITS = 24,
    HIT_EVERY = 30
};

typedef struct maker {
    bp_eng_activity *activity;
    bp_eng_option *option;
    bp_eng_need *need;
    bp_eng_lag *lag;
    bp_eng_resource *resource;
    bp_eng_span *span;
    int32_t *change;
    bp_eng_term *term;
    bp_eng_problem *p;
    uint32_t g;                                       /* random */
    uint32_t cook, cooks, burner, oven, ovens, place; /* of the crew at hand */
    uint32_t helper;                                  /* a cook of the crew before it */
    bool helpers;                                     /* there is such a crew         */
    int32_t hit;
} maker;

static int32_t draw(maker *m, int32_t low, int32_t high)
{
    return low + (int32_t)small_draw(&m->g, (uint32_t)(high - low + 1));
}

static uint32_t activity(maker *m)
{
    m->activity[m->p->activities] = (bp_eng_activity){m->p->options, 0};
    return m->p->activities++;
}

static void option(maker *m, int32_t least, int32_t most, int32_t who, uint32_t res, int32_t state)
{
    m->need[m->p->needs] = (bp_eng_need){res, 1, state};
    m->option[m->p->options++] = (bp_eng_option){m->p->needs++, 1, least, most, 0, who};
    m->activity[m->p->activities - 1].options++;
}

static void lag(maker *m, uint32_t from, bp_eng_end x, uint32_t to, bp_eng_end y, int32_t least)
{
    m->lag[m->p->lags++] = (bp_eng_lag){from, to, x, y, least, BP_ENG_NONE, 0, 0};
}

static void term(maker *m, uint32_t level, bp_eng_kind kind, uint32_t a, uint32_t b, int32_t at,
                 int32_t weight)
{
    m->term[m->p->terms++] = (bp_eng_term){level, kind, a, b, at, weight};
}

static uint32_t by_hand(maker *m, int32_t length)
{
    uint32_t a = activity(m);
    uint32_t sure = (uint32_t)draw(m, 0, (int32_t)m->cooks - 1);
    for (uint32_t c = 0; c < m->cooks; c++)
        if (c == sure || draw(m, 0, 3) > 0)
            option(m, length, length, (int32_t)(m->cook + c), m->cook + c, -1);
    if (m->helpers && draw(m, 0, 7) == 0)
        option(m, length, length, (int32_t)m->helper, m->helper, -1);
    return a;
}

static uint32_t cooking(maker *m)
{
    uint32_t a = activity(m);
    int32_t least = draw(m, 2, 8) * 5, most = least + draw(m, 0, 3) * 2;
    if (draw(m, 0, 2) > 0) {
        option(m, least, most, -1, m->burner, -1);
        return a;
    }
    int32_t state = draw(m, 0, 2);
    for (uint32_t o = 0; o < m->ovens; o++)
        option(m, least, most, -1, m->oven + o, state);
    return a;
}

static uint32_t waiting(maker *m, int32_t weight)
{
    static const int32_t keeps[PLACES] = {20, 45, 120}; /* counter, hot, cold */
    uint32_t a = activity(m);
    for (uint32_t k = 0; k < PLACES; k++)
        if (k == 1 || draw(m, 0, 1))
            option(m, 0, keeps[k], -1, m->place + k, -1);
    term(m, 2, BP_ENG_LASTS, a, 0, 0, weight);
    return a;
}

static void chain(maker *m, uint32_t from, uint32_t to, int32_t slack)
{
    lag(m, from, BP_ENG_END, to, BP_ENG_START, 0);
    if (slack >= 0)
        lag(m, to, BP_ENG_START, from, BP_ENG_END, -slack);
}

static void container(maker *m)
{
    int32_t by = m->hit - draw(m, 0, 4) * 3, weight = draw(m, 1, 5);
    uint32_t last = by_hand(m, draw(m, 2, 6)), hand = last;
    uint32_t rounds = (uint32_t)draw(m, 1, 2);
    for (uint32_t r = 0; r < rounds; r++) {
        uint32_t cut = by_hand(m, draw(m, 2, 10)), cook = cooking(m), off = by_hand(m, 1);
        chain(m, last, cut, draw(m, 0, 1) ? 30 : -1);
        chain(m, cut, cook, draw(m, 0, 1) ? 5 : 0);
        chain(m, cook, off, 0);
        term(m, 3, BP_ENG_SPLIT, hand, cut, 0, 1);
        term(m, 3, BP_ENG_SPLIT, cut, off, 0, 1);
        last = hand = off;
    }
    uint32_t wait = waiting(m, weight), dress = by_hand(m, draw(m, 2, 3)),
             stand = waiting(m, weight);
    chain(m, last, wait, 0);
    chain(m, wait, dress, 0);
    chain(m, dress, stand, 0);
    term(m, 3, BP_ENG_SPLIT, hand, dress, 0, 1);
    lag(m, stand, BP_ENG_END, BP_ENG_ORIGIN, BP_ENG_START, -m->hit); /* no later than the hit  */
    lag(m, BP_ENG_ORIGIN, BP_ENG_START, stand, BP_ENG_END, m->hit);  /* and it stands till then */
    term(m, 0, BP_ENG_LATE, dress, 0, by, 1);
}

static uint32_t resource(maker *m, int32_t capacity)
{
    m->resource[m->p->resources] = (bp_eng_resource){.capacity = capacity};
    return m->p->resources++;
}

static void make_kitchen(maker *m)
{
    m->cook = m->p->resources;
    m->cooks = (uint32_t)draw(m, 2, MOST_COOKS);
    for (uint32_t k = 0; k < m->cooks; k++) {
        uint32_t c = resource(m, 1);
        int32_t call = draw(m, 0, 2) * 15, rest = m->hit / 2 + draw(m, -4, 4) * 10;
        if (call)
            m->span[m->p->spans++] = (bp_eng_span){c, 0, call, 0, 0};
        m->span[m->p->spans++] = (bp_eng_span){c, rest, rest + 15, 0, 0};
        m->span[m->p->spans++] = (bp_eng_span){c, m->hit, m->p->horizon + 1, 0, 0};
        term(m, 1, BP_ENG_CALL, c, 0, m->hit, 1);
    }
    m->burner = resource(m, 4);
    m->ovens = (uint32_t)draw(m, 1, 2);
    m->oven = m->p->resources;
    for (uint32_t o = 0; o < m->ovens; o++) {
        bp_eng_resource *r = &m->resource[resource(m, 2)];
        r->states = 3;
        r->change0 = m->p->changes;
        for (int32_t x = 0; x < 3; x++)
            for (int32_t y = 0; y < 3; y++)
                m->change[m->p->changes++] = x == y ? 0 : 5 + 5 * (y > x);
    }
    m->place = m->p->resources;
    resource(m, 4);
    resource(m, 3);
    resource(m, 6);
}

static bool start(kitchen_day *d, maker *m, uint32_t seed, uint32_t steps)
{
    *d = (kitchen_day){.p = {.facts = 1, .levels = 4}};
    size_t n = (size_t)steps + 32;
    const size_t size[] = {sizeof(bp_eng_activity), sizeof(bp_eng_option),   sizeof(bp_eng_need),
                           sizeof(bp_eng_lag),      sizeof(bp_eng_resource), sizeof(bp_eng_span),
                           sizeof(int32_t),         sizeof(bp_eng_term)};
    for (size_t k = 0; k < sizeof size / sizeof *size; k++)
        if (!(d->rows[k] = calloc(n * PER_STEP, size[k]))) {
            kitchen_day_release(d);
            return false;
        }
    *m = (maker){.activity = d->rows[0],
                 .option = d->rows[1],
                 .need = d->rows[2],
                 .lag = d->rows[3],
                 .resource = d->rows[4],
                 .span = d->rows[5],
                 .change = d->rows[6],
                 .term = d->rows[7],
                 .p = &d->p,
                 .g = seed * 2654435761u + 7};
    for (int k = 0; k < 8; k++)
        small_draw(&m->g, 2);
    return true;
}

static void finish(kitchen_day *d, const maker *m)
{
    d->p.activity = m->activity;
    d->p.option = m->option;
    d->p.need = m->need;
    d->p.lag = m->lag;
    d->p.resource = m->resource;
    d->p.span = m->span;
    d->p.change = m->change;
    d->p.term = m->term;
}

bool kitchen_day_init(kitchen_day *d, uint32_t seed, uint32_t steps)
{
    maker m;
    if (!start(d, &m, seed, steps))
        return false;
    /* The morning grows with the work: some three minutes of hands for each step. */
    m.hit = 180 + (int32_t)steps * 2;
    d->p.horizon = m.hit + 30;
    make_kitchen(&m);
    do
        container(&m);
    while (d->p.activities + 8 <= steps);
    finish(d, &m);
    return true;
}

bool kitchen_day_init_wide(kitchen_day *d, uint32_t seed, uint32_t steps)
{
    maker m;
    if (!start(d, &m, seed, steps))
        return false;
    uint32_t crews = (steps + CREW_STEPS - 1) / CREW_STEPS;
    d->p.horizon = FIRST_HIT + (HITS - 1) * HIT_EVERY + 30;
    for (uint32_t k = 0; k < crews; k++) {
        uint32_t upto = (uint32_t)((uint64_t)steps * (k + 1) / crews);
        m.hit = FIRST_HIT + (int32_t)(k % HITS) * HIT_EVERY;
        m.helper = m.cook; /* a cook of the crew before it */
        m.helpers = k > 0;
        make_kitchen(&m);
        do
            container(&m);
        while (d->p.activities + 8 <= upto);
    }
    finish(d, &m);
    return true;
}

void kitchen_day_release(kitchen_day *d)
{
    for (size_t k = 0; k < sizeof d->rows / sizeof *d->rows; k++)
        free(d->rows[k]);
    *d = (kitchen_day){0};
}

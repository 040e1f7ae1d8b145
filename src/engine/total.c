#include "engine/total.h"

#include "base/arena.h"

/* As much as a variable can carry. */
#define MOST_TOTAL (INT32_MAX / 8)

bool bpi_total_init(bpi_total *t, bpi_search *s, uint32_t level)
{
    bpi_core *c = &s->m->core;
    bpi_arena *a = s->m->arena;
    const bpi_linear *goal = &s->m->level[level];
    int64_t low = bpi_linear_root(c, goal), high = s->value[level];
    *t = (bpi_total){.level = level};
    if (low < -MOST_TOTAL || high > MOST_TOTAL || high <= low)
        return true;
    bpi_linear *sum = BPI_TAKE(a, 1, bpi_linear);
    uint32_t x = bpi_core_var(c, (int32_t)low, (int32_t)high), n = goal->terms + 1;
    if (!sum || x == UINT32_MAX || !bpi_search_widen(s))
        return false;
    *sum = (bpi_linear){.coef = BPI_TAKE(a, n, int64_t),
                        .view = BPI_TAKE(a, n, uint32_t),
                        .scratch = BPI_TAKE(a, (size_t)n + 1, bpi_lit),
                        .terms = n,
                        .base = goal->base,
                        .guard = BPI_LIT_FALSE,
                        .most = 0,
                        .most_guarded = INT64_MAX};
    bool fine = sum->coef && sum->view && sum->scratch && bpi_linear_start(c, sum);
    for (uint32_t k = 0; k < n && fine; k++) { /* goal - total <= 0 */
        sum->coef[k] = k < goal->terms ? goal->coef[k] : 1;
        sum->view[k] = k < goal->terms ? goal->view[k] : x ^ 1;
        fine = bpi_core_wake(c, sum->prop, sum->view[k]);
    }
    t->sum = sum;
    t->view = x;
    return fine;
}

void bpi_total_leave(bpi_total *t)
{
    if (t->view)
        t->sum->most = INT64_MAX;
}

bpi_lit bpi_total_ask(const bpi_total *t, const bpi_search *s)
{
    if (!t->view)
        return BPI_LIT_TRUE;
    int64_t want = s->value[t->level] - (t->gain ? t->gain : 1), low = s->m->core.root[t->view];
    return (bpi_lit){t->view ^ 1, (int32_t) - (want < low ? low : want)};
}

void bpi_total_won(bpi_total *t, int64_t by)
{
    t->gain = 2 * by;
}

bool bpi_total_lost(bpi_total *t)
{
    bool less = t->view && t->gain > 1;
    t->gain = less ? t->gain / 4 + (t->gain < 4) : 0;
    return less;
}

int64_t bpi_total_bound(const bpi_total *t, const bpi_core *c)
{
    return t->view ? c->root[t->view] : INT64_MIN;
}

#include "engine/linear.h"

#include <assert.h>

int64_t bpi_linear_low(const bpi_core *c, const bpi_linear *n)
{
    int64_t sum = n->base;
    for (uint32_t k = 0; k < n->terms; k++)
        sum += n->coef[k] * c->low[n->view[k]];
    return sum;
}

int64_t bpi_linear_root(const bpi_core *c, const bpi_linear *n)
{
    int64_t sum = n->base;
    for (uint32_t k = 0; k < n->terms; k++)
        sum += n->coef[k] * c->root[n->view[k]];
    return sum;
}

/* Literals of all terms but `skip` whose bounds before step `at` add up far enough; `spare` is what
 * may be left out. */
static uint32_t because(const bpi_core *c, const bpi_linear *n, uint32_t at, uint32_t skip,
                        int64_t spare, bpi_lit guard)
{
    uint32_t count = 0;
    n->scratch[count++] = guard;
    for (uint32_t k = 0; k < n->terms; k++) {
        int32_t low = bpi_core_low_before(c, n->view[k], at), root = c->root[n->view[k]];
        if (k == skip || low <= root)
            continue;
        int64_t give = spare / n->coef[k];
        if (give >= (int64_t)low - root) {
            spare -= n->coef[k] * ((int64_t)low - root);
            continue;
        }
        spare -= give * n->coef[k];
        n->scratch[count++] = (bpi_lit){n->view[k], (int32_t)(low - give)};
    }
    return count;
}

/* Why a term may not reach what step `at` forbids it: all terms of a wide sum stop for reasons as
 * long as the sum, and few of them are ever wanted. */
static uint32_t why_stopped(const bpi_core *c, void *self, uint32_t at, int32_t least,
                            const bpi_lit **out)
{
    (void)least; /* the reason is of all that the step says: see BENCHMARKS, kitchen days */
    const bpi_linear *n = self;
    uint32_t view = c->trail[at].view ^ 1;
    int64_t sum = n->base;
    for (uint32_t k = 0; k < n->terms; k++)
        sum += n->coef[k] * bpi_core_low_before(c, n->view[k], at);
    int64_t rise = 1 - (int64_t)c->trail[at].now - bpi_core_low_before(c, view, at);
    *out = n->scratch;
    for (uint32_t k = 0;; k++) {
        assert(k < n->terms); /* a limit only falls while a step stands */
        int64_t least_sum = sum + n->coef[k] * rise;
        if (n->view[k] != view)
            continue;
        if (least_sum > n->most)
            return because(c, n, at, k, least_sum - n->most - 1, BPI_LIT_TRUE);
        if (least_sum > n->most_guarded)
            return because(c, n, at, k, least_sum - n->most_guarded - 1, n->guard);
    }
}

bool bpi_linear_start(bpi_core *c, bpi_linear *n)
{
    n->prop = bpi_core_propagator(c, bpi_linear_run, n, BPI_SLOW);
    if (n->prop == UINT32_MAX)
        return false;
    bpi_core_ask(c, n->prop, why_stopped);
    return true;
}

static bool keep_below(bpi_core *c, const bpi_linear *n, int64_t most, bpi_lit guard)
{
    if (most == INT64_MAX || bpi_lit_fails(c, guard))
        return true;
    int64_t sum = bpi_linear_low(c, n);
    if (sum > most) {
        if (bpi_lit_holds(c, guard))
            return bpi_core_conflict(c, n->scratch,
                                     because(c, n, BPI_NO_STEP, UINT32_MAX, sum - most - 1, guard));
        uint32_t count = because(c, n, BPI_NO_STEP, UINT32_MAX, sum - most - 1, BPI_LIT_TRUE);
        return bpi_core_set_stored(c, bpi_lit_not(guard), n->scratch, count, BPI_WHY_STORED);
    }
    if (!bpi_lit_holds(c, guard))
        return true;
    for (uint32_t k = 0; k < n->terms; k++) {
        int32_t low = c->low[n->view[k]];
        int64_t room = (most - sum) / n->coef[k], high = -(int64_t)c->low[n->view[k] ^ 1];
        if (room >= high - low)
            continue;
        int32_t top = (int32_t)(low + room);
        if (!bpi_core_set(c, (bpi_lit){n->view[k] ^ 1, -top}, BPI_WHY(BPI_WHY_ASK, n->prop)))
            return false;
    }
    return true;
}

/* Counted for a run without a limit, which looks at no term: of wide sums not more than this. */
enum { IDLE_MOST = 200 };

bool bpi_linear_run(bpi_core *c, void *self)
{
    const bpi_linear *n = self;
    if (n->most == INT64_MAX && bpi_lit_fails(c, n->guard))
        return true;
    bool idle = n->most == INT64_MAX && n->most_guarded == INT64_MAX;
    c->work += idle && n->terms > IDLE_MOST ? IDLE_MOST : n->terms;
    return keep_below(c, n, n->most, BPI_LIT_TRUE) && keep_below(c, n, n->most_guarded, n->guard);
}

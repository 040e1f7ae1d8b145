#include "engine/chains.h"

#include "base/arena.h"
#include "base/memory.h"

static uint32_t top(uint32_t *up, uint32_t a)
{
    while (up[a] != a)
        a = up[a] = up[up[a]];
    return a;
}

/* What a chain is sorted by: least first. */
static int64_t key_of(const bpi_model *m, uint32_t a, bool backward)
{
    return backward ? -(int64_t)bpi_ref_high(&m->core, m->end[a])
                    : (int64_t)bpi_ref_low(&m->core, m->start[a]);
}

/* By the key of each one's top, equal ones by that top's number: a merge sort from runs of one. */
static void sort(uint32_t *act, uint32_t *spare, uint32_t n, const uint32_t *up, const int64_t *key)
{
    uint32_t *from = act, *to = spare;
    for (uint32_t run = 1; run < n; run *= 2) {
        for (uint32_t lo = 0; lo < n; lo += 2 * run) {
            uint32_t mid = lo + run < n ? lo + run : n, hi = mid + run < n ? mid + run : n;
            for (uint32_t i = lo, j = mid, k = lo; k < hi; k++) {
                bool left = j >= hi;
                if (i < mid && j < hi) {
                    uint32_t x = up[from[i]], y = up[from[j]];
                    left = key[x] < key[y] || (key[x] == key[y] && x <= y);
                }
                to[k] = left ? from[i++] : from[j++];
            }
        }
        uint32_t *x = from;
        from = to;
        to = x;
    }
    for (uint32_t k = 0; from != act && k < n; k++)
        act[k] = from[k];
}

bool bpi_chains_init(bpi_chains *g, bpi_model *m, bool backward, uint32_t few)
{
    const bp_eng_problem *p = m->p;
    uint32_t n = p->activities;
    uint32_t *up = BPI_TAKE(m->arena, n, uint32_t), *spare = BPI_TAKE(m->arena, n, uint32_t);
    int64_t *key = BPI_TAKE(m->arena, n, int64_t);
    g->act = BPI_TAKE(m->arena, n, uint32_t);
    g->first = BPI_TAKE(m->arena, (size_t)n + 1, uint32_t);
    if (!up || !spare || !key || !g->act || !g->first)
        return false;
    for (uint32_t a = 0; a < n; a++)
        up[a] = g->act[a] = a;
    for (uint32_t k = 0; k < p->lags; k++) {
        const bp_eng_lag *l = &p->lag[k];
        if (n <= few || l->from >= n || l->to >= n)
            continue;
        uint32_t x = top(up, l->from), y = top(up, l->to);
        up[x > y ? x : y] = x > y ? y : x;
    }
    for (uint32_t a = 0; a < n && n <= few; a++)
        up[a] = 0;
    for (uint32_t a = 0; a < n; a++) { /* a top is the least of its chain, so it comes first */
        int64_t own = key_of(m, a, backward);
        up[a] = top(up, a);
        key[up[a]] = up[a] == a || own < key[up[a]] ? own : key[up[a]];
    }
    sort(g->act, spare, n, up, key);
    g->chains = 0;
    for (uint32_t k = 0; k < n; k++)
        if (k == 0 || up[g->act[k]] != up[g->act[k - 1]])
            g->first[g->chains++] = k;
    g->first[g->chains] = n;
    return true;
}

void bpi_chains_release(bpi_chains *g)
{
    bpi_mem_drop(g->cursor);
    *g = (bpi_chains){0};
}

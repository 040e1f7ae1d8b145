#include "engine/breed.h"

#include <string.h>

#include "base/arena.h"
#include "engine/draw.h"

enum { DULL = 5000 };

bool bpi_breed_init(bpi_breed *b, bpi_model *m)
{
    *b = (bpi_breed){.random = 0x9E3779B97F4A7C15u};
    if (!bpi_sgs_init(&b->sgs, m))
        return false;
    if (!b->sgs.plain)
        return true;
    uint32_t n = m->p->activities;
    for (uint32_t k = 0; k < BPI_BREED_ALIVE; k++)
        if (!(b->order[k] = BPI_TAKE(m->arena, n, uint32_t)))
            return false;
    b->child = BPI_TAKE(m->arena, n, uint32_t);
    b->chosen = BPI_TAKE(m->arena, n, bool);
    b->best = BPI_TAKE(m->arena, n, int32_t);
    return b->child && b->chosen && b->best;
}

static uint64_t print_of(const bpi_sgs *g)
{
    uint64_t h = 14695981039346656037u; /* FNV-1a by words */
    for (uint32_t a = 0; a < g->m->p->activities; a++)
        h = (h ^ (uint32_t)g->start[a]) * 1099511628211u;
    return h;
}

/* The schedule that stands in sgs: better than all before? And into the place of the worst. */
static bool let_in(bpi_breed *b)
{
    bpi_sgs *g = &b->sgs;
    int64_t value = bpi_sgs_value(g);
    uint64_t print = print_of(g);
    bool better = !b->have || value < b->best_value;
    if (better) {
        b->have = true;
        b->best_value = value;
        memcpy(b->best, g->start, g->m->p->activities * sizeof *b->best);
    }
    b->dull++;
    uint32_t place = 0;
    for (uint32_t k = 0; k < b->alive; k++) {
        if (b->print[k] == print)
            return better;
        if (b->value[k] > b->value[place])
            place = k;
    }
    if (b->alive < BPI_BREED_ALIVE)
        place = b->alive++;
    else if (value > b->value[place])
        return better;
    b->dull = 0;
    b->value[place] = value;
    b->print[place] = print;
    bpi_sgs_order(g, b->order[place]);
    return better;
}

/* Shift while it helps. */
static void settle(bpi_sgs *g)
{
    int64_t value = bpi_sgs_value(g), old;
    do {
        old = value;
        bpi_sgs_shift(g);
        value = bpi_sgs_value(g);
    } while (value < old);
}

void bpi_breed_take(bpi_breed *b, const int32_t *start)
{
    memcpy(b->sgs.start, start, b->sgs.m->p->activities * sizeof *start);
    settle(&b->sgs);
    let_in(b);
}

/* Long tails first, some more at random than others; the first of all quite so. */
static void random_order(bpi_breed *b)
{
    bpi_sgs *g = &b->sgs;
    uint32_t n = g->m->p->activities;
    int32_t longest = 0;
    for (uint32_t a = 0; a < n; a++)
        longest = g->tail[a] > longest ? g->tail[a] : longest;
    uint32_t noise = b->have ? (uint32_t)longest * (1 + bpi_draw(&b->random, 8)) / 16 + 1 : 1;
    for (uint32_t a = 0; a < n; a++)
        g->key[a] = (int32_t)bpi_draw(&b->random, noise) - g->tail[a];
    bpi_sgs_sort(g, b->child);
}

/* The better of two drawn. */
static uint32_t parent(bpi_breed *b)
{
    uint32_t x = bpi_draw(&b->random, b->alive), y = bpi_draw(&b->random, b->alive);
    return b->value[y] < b->value[x] ? y : x;
}

/* Places [from, to) of one parent's order stay where they are; the rest follow the other's. */
static void cross(bpi_breed *b)
{
    uint32_t n = b->sgs.m->p->activities;
    const uint32_t *one = b->order[parent(b)], *other = b->order[parent(b)];
    uint32_t size = n / 4 + bpi_draw(&b->random, n / 2 + 1),
             from = bpi_draw(&b->random, n - size + 1), to = from + size;
    memset(b->chosen, 0, n * sizeof *b->chosen);
    for (uint32_t k = from; k < to && k < n; k++)
        b->chosen[one[k]] = true;
    uint32_t at = 0;
    for (uint32_t k = 0; k < n; k++) {
        if (at == from)
            while (at < to)
                b->child[at] = one[at], at++;
        if (!b->chosen[other[k]])
            b->child[at++] = other[k];
    }
    while (at < n && at >= from && at < to)
        b->child[at] = one[at], at++;
    for (uint32_t k = 1; k < n; k++) /* now and then two neighbours change places */
        if (bpi_draw(&b->random, 20) == 0) {
            uint32_t x = b->child[k];
            b->child[k] = b->child[k - 1];
            b->child[k - 1] = x;
        }
    b->sgs.m->core.work += n / 2;
}

/* Some that follow each other come in any order. */
static void stir(bpi_breed *b)
{
    uint32_t n = b->sgs.m->p->activities, size = 4 + bpi_draw(&b->random, 20);
    size = size < n ? size : n;
    uint32_t from = bpi_draw(&b->random, n - size + 1);
    memcpy(b->child, b->order[parent(b)], n * sizeof *b->child);
    for (uint32_t k = size; k > 1; k--) {
        uint32_t i = from + k - 1, j = from + bpi_draw(&b->random, k), x = b->child[i];
        b->child[i] = b->child[j];
        b->child[j] = x;
    }
}

bool bpi_breed_step(bpi_breed *b)
{
    if (b->dull > DULL) { /* they are all of one kind: begin anew */
        b->alive = 0;
        b->dull = 0;
    }
    if (b->alive < BPI_BREED_ALIVE)
        random_order(b);
    else if (bpi_draw(&b->random, 2))
        cross(b);
    else
        stir(b);
    if (!bpi_sgs_forward(&b->sgs, b->child)) {
        b->dull++;
        return false;
    }
    settle(&b->sgs);
    return let_in(b);
}

#include "engine/learn.h"

#include <assert.h>
#include <limits.h>
#include <string.h>

#include "base/memory.h"
#include "engine/grow.h"

enum { NONE = INT32_MIN, DEEPEST = 8 };

static bool lack(bpi_learn *g)
{
    g->core->no_memory = true;
    return false;
}

bool bpi_learn_init(bpi_learn *g, bpi_core *c)
{
    *g = (bpi_learn){.core = c};
    bpi_atoms_init(&g->atoms, c);
    return bpi_learn_widen(g);
}

bool bpi_learn_widen(bpi_learn *g)
{
    uint32_t views = g->core->views;
    if (!BPI_GROW(g->need, g->need_room, views) || !BPI_GROW(g->pos, g->pos_room, views) ||
        !BPI_GROW(g->listed, g->listed_room, views))
        return lack(g);
    for (; g->views < views; g->views++) {
        g->need[g->views] = NONE;
        g->listed[g->views] = false;
    }
    return true;
}

void bpi_learn_release(bpi_learn *g)
{
    bpi_mem_drop(g->need);
    bpi_mem_drop(g->pos);
    bpi_mem_drop(g->touched);
    bpi_mem_drop(g->listed);
    bpi_mem_drop(g->because);
    bpi_mem_drop(g->clause);
    bpi_mem_drop(g->stamp);
    bpi_atoms_release(&g->atoms);
    *g = (bpi_learn){0};
}

/* The conflict needs literal l, which holds. Counts views whose need is met at the current level.
 */
static bool need(bpi_learn *g, bpi_lit l, uint32_t *open)
{
    bpi_core *c = g->core;
    if (l.least <= c->root[l.view] || g->need[l.view] >= l.least)
        return true;
    uint32_t at = bpi_core_step(c, l);
    assert(at != BPI_NO_STEP); /* what is needed holds */
    uint32_t start = c->level[c->levels - 1];
    bool fresh = g->need[l.view] == NONE;
    bool was_open = !fresh && g->pos[l.view] >= start;
    if (at >= start) {
        if (!was_open)
            ++*open;
    } else if (!g->listed[l.view]) {
        if (!BPI_GROW(g->touched, g->touched_room, (uint64_t)g->toucheds + 1))
            return lack(g);
        g->touched[g->toucheds++] = l.view;
        g->listed[l.view] = true;
    }
    g->need[l.view] = l.least;
    g->pos[l.view] = at;
    return bpi_atoms_bump(&g->atoms, l);
}

static uint32_t highest_level(const bpi_core *c, const bpi_lit *l, uint32_t n)
{
    uint32_t most = 0;
    for (uint32_t k = 0; k < n; k++) {
        uint32_t at = bpi_core_step(c, l[k]);
        if (at != BPI_NO_STEP && c->trail[at].level > most)
            most = c->trail[at].level;
    }
    return most;
}

static void undo_last_step(bpi_core *c)
{
    const bpi_step *s = &c->trail[--c->trails];
    c->low[s->view] = s->old;
    c->last[s->view] = s->before;
}

/* Do the other needs of the clause imply step `at` reaching `least`? */
static bool implied(bpi_learn *g, uint32_t at, int32_t least, uint32_t depth)
{
    bpi_core *c = g->core;
    if ((c->trail[at].why & 7) == BPI_WHY_DECIDED || depth > DEEPEST)
        return false;
    uint32_t first = g->becauses;
    if (!bpi_core_explain(c, at, least, &g->because, &g->becauses, &g->because_room))
        return false;
    bool all = true;
    for (uint32_t k = first; k < g->becauses && all; k++) {
        bpi_lit l = g->because[k];
        c->work++;
        /* Only what held before: two literals must not stand in for each other. */
        if (g->need[l.view] >= l.least && g->pos[l.view] < at)
            continue;
        uint32_t p = bpi_core_step(c, l);
        all = p == BPI_NO_STEP || (p < at && implied(g, p, l.least, depth + 1));
    }
    g->becauses = first;
    return all;
}

static bool add_literal(bpi_learn *g, bpi_lit l)
{
    if (!BPI_GROW(g->clause, g->clause_room, (uint64_t)g->clauses + 1))
        return lack(g);
    g->clause[g->clauses++] = bpi_lit_not(l);
    return true;
}

/* Gather the lower levels' needs, without those the rest implies. */
static bool gather(bpi_learn *g)
{
    bpi_core *c = g->core;
    g->becauses = 0;
    for (uint32_t k = 0; k < g->toucheds; k++) {
        uint32_t v = g->touched[k];
        if (g->need[v] == NONE || g->pos[v] >= c->level[c->levels - 1])
            continue; /* met at the current level after all */
        if (implied(g, g->pos[v], g->need[v], 0)) {
            /* The need stays as a mark: what it was implied by is earlier and stays too. */
            continue;
        }
        if (!add_literal(g, (bpi_lit){v, g->need[v]}))
            return false;
    }
    return !c->no_memory;
}

static uint32_t count_levels(bpi_learn *g, uint32_t *second)
{
    bpi_core *c = g->core;
    uint32_t distinct = 1, at_second = 0;
    *second = 0;
    g->stamp_now++;
    for (uint32_t k = 1; k < g->clauses; k++) {
        uint32_t level = c->trail[g->pos[g->clause[k].view ^ 1]].level;
        if (g->stamp[level] != g->stamp_now) {
            g->stamp[level] = g->stamp_now;
            distinct++;
        }
        if (level > *second) {
            *second = level;
            at_second = k;
        }
    }
    if (g->clauses > 1) {
        bpi_lit l = g->clause[1];
        g->clause[1] = g->clause[at_second];
        g->clause[at_second] = l;
    }
    return distinct;
}

static void clear_needs(bpi_learn *g)
{
    for (uint32_t k = 0; k < g->toucheds; k++) {
        g->need[g->touched[k]] = NONE;
        g->listed[g->touched[k]] = false;
    }
    g->toucheds = 0;
}

/* Walk back to the one step of this level that the conflict hangs on. */
static bool resolve(bpi_learn *g, uint32_t open)
{
    bpi_core *c = g->core;
    for (;;) {
        bpi_step s = c->trail[c->trails - 1];
        int32_t least = g->need[s.view];
        if (least == NONE || least <= s.old) {
            undo_last_step(c);
            continue;
        }
        if (open == 1) {
            g->need[s.view] = NONE;
            return add_literal(g, (bpi_lit){s.view, least});
        }
        g->need[s.view] = NONE;
        open--;
        g->becauses = 0;
        if (!bpi_core_explain(c, c->trails - 1, least, &g->because, &g->becauses, &g->because_room))
            return false;
        undo_last_step(c);
        for (uint32_t k = 0; k < g->becauses; k++)
            if (!need(g, g->because[k], &open))
                return false;
        c->work += g->becauses;
    }
}

bool bpi_learn_conflict(bpi_learn *g)
{
    bpi_core *c = g->core;
    if (c->no_memory)
        return false;
    uint32_t level = c->levels ? highest_level(c, c->why, c->whys) : 0;
    if (level == 0) {
        c->broken = true;
        return false;
    }
    bpi_core_back(c, level);
    uint32_t most = c->levels + 1;
    if (!BPI_GROW(g->stamp, g->stamp_room, most))
        return lack(g);
    for (; g->stamped < most; g->stamped++)
        g->stamp[g->stamped] = 0;
    uint32_t open = 0, place = 0, second = 0;
    g->clauses = 0;
    bool fine = true;
    for (uint32_t k = 0; k < c->whys && fine; k++)
        fine = need(g, c->why[k], &open);
    fine = fine && resolve(g, open) && gather(g);
    uint32_t lbd = fine ? count_levels(g, &second) : 0;
    clear_needs(g);
    if (!fine)
        return false;
    /* The steps of this level are partly undone; the rest go the usual way. */
    bpi_core_back(c, second);
    bpi_atoms_undo(&g->atoms, second);
    bpi_atoms_fade(&g->atoms);
    if (g->clauses == 1)
        return bpi_core_set(c, g->clause[0], 0);
    return bpi_clause_learn(c, g->clause, g->clauses, lbd, &place) &&
           bpi_core_set(c, g->clause[0], BPI_WHY(BPI_WHY_CLAUSE, place));
}

bool bpi_learn_core(bpi_learn *g, bpi_lit **out, uint32_t *outs, uint32_t *out_room)
{
    bpi_core *c = g->core;
    bool fine = true;
    uint32_t open = 0;
    for (uint32_t k = 0; k < c->whys && fine; k++)
        fine = c->levels == 0 || need(g, c->why[k], &open);
    while (fine && c->trails && c->levels) {
        bpi_step s = c->trail[c->trails - 1];
        int32_t least = g->need[s.view];
        if (least != NONE && least > s.old) {
            g->need[s.view] = NONE;
            if ((s.why & 7) == BPI_WHY_DECIDED) {
                fine = BPI_GROW(*out, *out_room, (uint64_t)*outs + 1) || lack(g);
                if (fine)
                    (*out)[(*outs)++] = (bpi_lit){s.view, s.now};
            } else {
                g->becauses = 0;
                fine = bpi_core_explain(c, c->trails - 1, least, &g->because, &g->becauses,
                                        &g->because_room);
                undo_last_step(c);
                for (uint32_t k = 0; k < g->becauses && fine; k++)
                    fine = need(g, g->because[k], &open);
                continue;
            }
        }
        undo_last_step(c);
    }
    for (uint32_t v = 0; v < g->views; v++)
        g->need[v] = NONE;
    clear_needs(g);
    return fine;
}

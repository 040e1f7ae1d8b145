#include "engine/atoms.h"

#include <string.h>

#include "base/memory.h"
#include "engine/grow.h"

#define TOP (UINT64_C(1) << 52)

static uint64_t half(uint64_t part, int64_t times)
{
    return times == 0 ? part : times > 60 ? 0 : ((part >> (times - 1)) + 1) / 2;
}

/* Rounded. What is too small to count beside the larger is lost; the larger has its top bit set. */
static bpi_activity sum(bpi_activity a, bpi_activity b)
{
    bpi_activity more = a.twos < b.twos ? b : a, less = a.twos < b.twos ? a : b;
    uint64_t part = more.part + half(less.part, (int64_t)more.twos - less.twos);
    if (part < 2 * TOP)
        return (bpi_activity){part, more.twos};
    return (bpi_activity){half(part, 1), more.twos + 1};
}

void bpi_atoms_init(bpi_atoms *g, bpi_core *c)
{
    *g = (bpi_atoms){.core = c, .step = {TOP, 0}};
}

void bpi_atoms_release(bpi_atoms *g)
{
    bpi_mem_drop(g->atom);
    bpi_mem_drop(g->table);
    bpi_mem_drop(g->heap);
    bpi_mem_drop(g->popped);
    *g = (bpi_atoms){0};
}

static bool before(const bpi_atoms *g, uint32_t a, uint32_t b)
{
    bpi_activity x = g->atom[a].activity, y = g->atom[b].activity;
    if (x.twos != y.twos)
        return x.twos > y.twos;
    return x.part > y.part || (x.part == y.part && a < b);
}

static void put(bpi_atoms *g, uint32_t slot, uint32_t a)
{
    g->heap[slot] = a;
    g->atom[a].place = slot;
}

static void rise(bpi_atoms *g, uint32_t slot)
{
    uint32_t a = g->heap[slot];
    while (slot && before(g, a, g->heap[(slot - 1) / 2])) {
        put(g, slot, g->heap[(slot - 1) / 2]);
        slot = (slot - 1) / 2;
    }
    put(g, slot, a);
}

static void sink(bpi_atoms *g, uint32_t slot)
{
    uint32_t a = g->heap[slot];
    for (;;) {
        uint32_t child = 2 * slot + 1;
        if (child >= g->heaps)
            break;
        if (child + 1 < g->heaps && before(g, g->heap[child + 1], g->heap[child]))
            child++;
        if (!before(g, g->heap[child], a))
            break;
        put(g, slot, g->heap[child]);
        slot = child;
    }
    put(g, slot, a);
}

static void insert(bpi_atoms *g, uint32_t a)
{
    if (g->atom[a].place != UINT32_MAX)
        return;
    put(g, g->heaps++, a); /* room was made with the atom */
    rise(g, g->heaps - 1);
}

static uint32_t hash(uint32_t view, int32_t cut)
{
    uint64_t x = ((uint64_t)view << 32 | (uint32_t)cut) * 0x9E3779B97F4A7C15u;
    return (uint32_t)(x >> 32);
}

static bool grow_table(bpi_atoms *g)
{
    uint32_t room = g->table_room ? g->table_room * 2 : 64;
    uint32_t *t = bpi_mem_get((size_t)room * sizeof *t);
    if (!t)
        return false;
    for (uint32_t a = 0; a < g->atoms; a++) {
        uint32_t h = hash(g->atom[a].view, g->atom[a].cut) & (room - 1);
        while (t[h])
            h = (h + 1) & (room - 1);
        t[h] = a + 1;
    }
    bpi_mem_drop(g->table);
    g->table = t;
    g->table_room = room;
    return true;
}

static bool find(bpi_atoms *g, uint32_t view, int32_t cut, uint32_t *out)
{
    if ((uint64_t)g->atoms * 2 >= g->table_room && !grow_table(g))
        return false;
    uint32_t h = hash(view, cut) & (g->table_room - 1);
    for (; g->table[h]; h = (h + 1) & (g->table_room - 1)) {
        const bpi_atom *a = &g->atom[g->table[h] - 1];
        if (a->view == view && a->cut == cut) {
            *out = g->table[h] - 1;
            return true;
        }
    }
    if (!BPI_GROW(g->atom, g->atom_room, (uint64_t)g->atoms + 1) ||
        !BPI_GROW(g->heap, g->heap_room, (uint64_t)g->atoms + 1))
        return false;
    g->atom[g->atoms] = (bpi_atom){view, cut, {0, 0}, UINT32_MAX};
    g->table[h] = g->atoms + 1;
    *out = g->atoms++;
    return true;
}

bool bpi_atoms_bump(bpi_atoms *g, bpi_lit l)
{
    if (l.view & 1)
        l = bpi_lit_not(l);
    uint32_t a;
    if (!find(g, l.view, l.least, &a)) {
        g->core->no_memory = true;
        return false;
    }
    g->atom[a].activity = sum(g->atom[a].activity, g->step);
    if (g->atom[a].place != UINT32_MAX)
        rise(g, g->atom[a].place);
    else
        insert(g, a);
    return true;
}

void bpi_atoms_fade(bpi_atoms *g)
{
    g->step = sum(g->step, (bpi_activity){(g->step.part + 9) / 19,
                                          g->step.twos}); /* 20/19: 0.95 the other way */
}

bool bpi_atoms_pick(bpi_atoms *g, bpi_lit *out)
{
    bpi_core *c = g->core;
    while (g->heaps) {
        uint32_t a = g->heap[0];
        if (!BPI_GROW(g->popped, g->popped_room, (uint64_t)g->poppeds + 1)) {
            c->no_memory = true;
            return false;
        }
        uint32_t tail = g->heap[--g->heaps];
        g->atom[a].place = UINT32_MAX;
        if (g->heaps) {
            put(g, 0, tail);
            sink(g, 0);
        }
        bpi_lit l = {g->atom[a].view, g->atom[a].cut};
        if (l.least <= c->root[l.view] || 1 - l.least <= c->root[l.view ^ 1])
            continue; /* settled for good: it need not come back */
        g->popped[g->poppeds].atom = a;
        g->popped[g->poppeds++].level = c->levels;
        if (!bpi_lit_holds(c, l) && !bpi_lit_fails(c, l)) {
            *out = l;
            return true;
        }
    }
    return false;
}

void bpi_atoms_undo(bpi_atoms *g, uint32_t level)
{
    /* An atom taken at `level` may be the decision that opened level + 1. */
    while (g->poppeds && g->popped[g->poppeds - 1].level >= level)
        insert(g, g->popped[--g->poppeds].atom);
}

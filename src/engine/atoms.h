/* src/engine/atoms.h - literals ordered by how active they were in late conflicts.
 *
 * Owns     a table of the literals seen, their activities, a heap of those that may be open.
 * May use  engine/core.
 *
 * The heap breaks ties by age, so equal input gives equal order.
 */
#ifndef BP_ENGINE_ATOMS_H
#define BP_ENGINE_ATOMS_H

#include "engine/core.h"

/* part x 2^twos, in whole numbers, so that equal input gives equal order on every machine: the top bit of
 * part is set, or all is 0. It grows for ever, as a count of some billions of conflicts has to. */
typedef struct bpi_activity {
    uint64_t part;
    int32_t twos;
} bpi_activity;

/* "x >= cut" on the positive view of a variable, which the search may decide either way. */
typedef struct bpi_atom {
    uint32_t view;
    int32_t cut;
    bpi_activity activity;
    uint32_t place; /* in the heap; UINT32_MAX: not there */
} bpi_atom;

/* Taken off the heap at this level: decided there, or found settled. */
typedef struct bpi_popped {
    uint32_t atom, level;
} bpi_popped;

typedef struct bpi_atoms {
    bpi_core *core;
    bpi_atom *atom;
    uint32_t atoms, atom_room;
    uint32_t *table; /* open addressing; atom number + 1 */
    uint32_t table_room;
    uint32_t *heap; /* most active first */
    uint32_t heaps, heap_room;
    bpi_popped *popped;
    uint32_t poppeds, popped_room;
    bpi_activity step; /* what a bump adds */
} bpi_atoms;

void bpi_atoms_init(bpi_atoms *g, bpi_core *c);
void bpi_atoms_release(bpi_atoms *g);

bool bpi_atoms_bump(bpi_atoms *g, bpi_lit l); /* false: no memory */
void bpi_atoms_fade(bpi_atoms *g);            /* after each conflict */

/* The most active open literal of all; false: none, or no memory. Undo gives back those taken at
 * `level` and above. */
bool bpi_atoms_pick(bpi_atoms *g, bpi_lit *out);
void bpi_atoms_undo(bpi_atoms *g, uint32_t level);

#endif

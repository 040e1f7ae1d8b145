/* src/engine/learn.h - what a conflict teaches: one clause, the level to go back to, or a core.
 *
 * Owns     the marks of one analysis.
 * May use  engine/core, atoms.
 *
 * First unique implication point and clause minimisation after J. Marques-Silva and K. Sakallah
 * (GRASP, 1999) and N. Een and N. Sorensson (MiniSat, 2003); literals on integer bounds after
 * P. Stuckey (lazy clause generation, 2010).
 */
#ifndef BP_ENGINE_LEARN_H
#define BP_ENGINE_LEARN_H

#include "engine/atoms.h"
#include "engine/core.h"

typedef struct bpi_learn {
    bpi_core *core;
    int32_t *need; /* per view: the bound the conflict needs; INT32_MIN: none */
    uint32_t *pos; /* its step                                                */
    uint32_t need_room, pos_room, views;
    bool *listed;      /* per view: in touched           */
    uint32_t *touched; /* views that may have a need at a lower level */
    uint32_t toucheds, touched_room, listed_room;
    bpi_lit *because; /* of the step being resolved */
    uint32_t becauses, because_room;
    bpi_lit *clause; /* learned: first the literal to assert */
    uint32_t clauses, clause_room;
    uint32_t *stamp; /* per level, to count levels */
    uint32_t stamp_room, stamped, stamp_now;

    bpi_atoms atoms;
} bpi_learn;

bool bpi_learn_init(bpi_learn *g, bpi_core *c); /* after all variables are made */
bool bpi_learn_widen(bpi_learn *g);             /* variables were added; false: no memory */
void bpi_learn_release(bpi_learn *g);

/* Learn from core->why, go back, assert. False: no memory, or (core->broken) nothing is feasible.
 */
bool bpi_learn_conflict(bpi_learn *g);

/* The assumptions (decisions of the levels there are) that together imply literals of core->why:
 * appended to *out as they were decided. For a literal that an assumption finds false. */
bool bpi_learn_core(bpi_learn *g, bpi_lit **out, uint32_t *outs, uint32_t *out_room);

#endif

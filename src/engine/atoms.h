/* src/engine/atoms.h - literals ordered by how active they were in late conflicts.
 *
 * Owns     the part of bpi_learn below `atom`: table, heap and activities.
 * May use  engine/learn.
 *
 * The heap breaks ties by age, so equal input gives equal order.
 */
#ifndef BP_ENGINE_ATOMS_H
#define BP_ENGINE_ATOMS_H

#include "engine/learn.h"

bool bpi_atoms_bump(bpi_learn *g, bpi_lit l); /* false: no memory */
void bpi_atoms_fade(bpi_learn *g);            /* after each conflict */

#endif

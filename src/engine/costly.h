/* src/engine/costly.h - what of a level costs more than it must in a schedule, and where.
 *
 * Owns     nothing.
 * May use  engine/search.
 */
#ifndef BP_ENGINE_COSTLY_H
#define BP_ENGINE_COSTLY_H

#include "engine/search.h"

/* What a term costs in the best schedule beyond its least at the root. *where: an activity that it
 * hangs on, for CALL and REACH the first one on the resource. */
int64_t bpi_costly_term(const bpi_search *s, const bp_eng_term *t, uint32_t *where);

/* Does option `o` (counted over all) take some of the resource? */
bool bpi_costly_takes(const bp_eng_problem *p, uint32_t o, uint32_t res);

/* The option (counted over all) that an activity takes in the best schedule. */
static inline uint32_t bpi_costly_option(const bpi_search *s, uint32_t act)
{
    return s->m->p->activity[act].option0 + s->best.option[act];
}

#endif

/* src/day/binding.h - what the parts of day/bind hand on to each other while a problem is tied to a day.
 *
 * Owns     nothing.
 * May use  day/match, day/today, prep/.
 */
#ifndef BP_DAY_BINDING_H
#define BP_DAY_BINDING_H

#include "day/match.h"
#include "day/today.h"

typedef struct bpi_binding {
    const bpi_day *d;
    bpi_prep *p;
    bp_eng_problem q; /* the problem with room for more */
    bp_eng_lag *lag;
    bp_eng_span *span;
    bp_eng_clause *clause;
    bp_eng_literal *literal;
    bp_eng_option *option;
    bp_eng_term *term;
    bp_eng_resource *resource;
    bp_eng_need *need;
    const bpi_match *match;
    const uint32_t *was; /* of each job: its number before; BPI_NO_INDEX: none */
    int32_t *hint;
    uint32_t *heat;   /* of each job: a preheat that is now owed to it, by its number before */
    uint32_t *chosen; /* of each job: as in day/past, with the four below */
    int32_t *from, *to;
    bool *open;
    uint32_t *mixed;
    bool late; /* the first level is lateness */
} bpi_binding;

/* One end of a job comes at least so long after another; always. */
void bpi_binding_lag(bpi_binding *b, uint32_t from, bp_eng_end from_end, uint32_t to,
                     bp_eng_end to_end, int32_t least);

#endif

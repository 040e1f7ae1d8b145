/* src/day/past.h - what has happened asks for nothing any more.
 *
 * Owns     the room that resources are given in the past.
 * May use  prep/, the engine's public header, base/.
 * Units    engine time.
 *
 * A day that did not go as planned may have broken any rule: two things in one hand, a pot off the heat
 * too late, work before a call. Nothing can be done about it, so it binds only what is still to come.
 */
#ifndef BP_DAY_PAST_H
#define BP_DAY_PAST_H

#include "prep/prep.h"

/* What had begun of a problem; arrays have a row for each activity. */
typedef struct bpi_past {
    const uint32_t *chosen;   /* its option; BPI_NO_INDEX: it had not begun                     */
    const int32_t *from, *to; /* `to`: at the earliest where it goes on                         */
    const bool *open;         /* its end is not known yet                                       */
    uint32_t *heat;           /* room for as many: whose heat it has, while heats are mixed     */
    const bpi_job *job;       /* by the numbers of the problem, as is `fact`                    */
    const bpi_fact *fact;
    int32_t now;
} bpi_past;

/* Leave out the first `lags` of q between moments that are known, but for set-bys, and rules by which what is
 * still to come should have been over before what has happened. */
void bpi_past_drop_lags(bp_eng_problem *q, bp_eng_lag *lag, uint32_t lags, const bpi_past *past);

/* Until now there is as much of everything as was used, and then as long as too much is in use; spans have
 * room for as many more as there are activities and resources. */
void bpi_past_make_room(bp_eng_problem *q, bp_eng_resource *resource, bp_eng_span *span,
                        const bpi_past *past);

/* Loads of different temperatures that were in an oven at once, or with too little time between, were all at
 * one: that of what is still in it, else of what went in last. Options and needs are copies, needs with
 * room for those of all chosen options once more. */
void bpi_past_mix_heats(bp_eng_problem *q, bp_eng_option *option, bp_eng_need *need,
                        const bpi_past *past);

#endif

/* src/prep/ease.h - would the show have a plan if some facts were a little different?
 *
 * Owns     the answer to that question, asked again and again with other amounts.
 * May use  engine (its public header), prep/fact, live/, base/.
 * Units    minutes for times, pieces for counts, as bpi_fact_ease says.
 */
#ifndef BP_PREP_EASE_H
#define BP_PREP_EASE_H

#include "prep/fact.h"

/* Counted work that many questions may take together, so that an answer comes in time however much
 * is wrong with a show. A question asked of an empty purse is answered no at once. */
typedef struct bpi_purse {
    uint64_t left;
    uint64_t each; /* most for one question                            */
    bool cut;      /* a no was for want of work: there may yet be a yes */
} bpi_purse;

/* Is there a schedule when each fact is loosened by by[fact] (0: kept as it is)? With yes, each
 * amount is made as small as the schedule found allows, which costs nothing; a call or a wrap lands
 * on a full five minutes. Errors: BP_ENOMEM, BP_EINTERNAL. */
bp_code bpi_ease_try(bool *yes, const bpi_prep *p, int32_t *by, bpi_purse *purse, bp_errors *errs);

/* Make by[fact] as small as it can be with a schedule, the others no larger than they are; it is
 * feasible as given. */
bp_code bpi_ease_least(int32_t *by, uint32_t fact, const bpi_prep *p, bpi_purse *purse,
                       bp_errors *errs);

/* The same for a whole show: its beats fitted, its containers and its kitchen planned anew. */
bp_code bpi_ease_show(bool *yes, const bpi_show *show, bpi_purse *purse, bp_errors *errs);

/* The same for a whole problem as it is. */
bp_code bpi_ease_feasible(bool *yes, const bp_eng_problem *p, bpi_purse *purse, bp_errors *errs);

/* Mark facts that cannot hold together although they are loosened so. *none: there is no such
 * conflict, or it was not found within the purse. Errors: BP_ENOMEM. */
bp_code bpi_ease_conflict(bool *none, bool *mark, const bpi_prep *p, const int32_t *by,
                          bpi_purse *purse, bp_errors *errs);

#endif

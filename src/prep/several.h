/* src/prep/several.h - facts loosened together, so that there is a schedule.
 *
 * Owns     nothing: the amounts are the caller's.
 * May use  prep/ease, prep/fact, base/.
 * Units    minutes and pieces, as bpi_fact_ease says.
 */
#ifndef BP_PREP_SEVERAL_H
#define BP_PREP_SEVERAL_H

#include "prep/ease.h"

/* Find amounts by[fact] (one a fact of `p`, all 0 before) with which `p` has a schedule, each as small
 * as the purse allows and few of them; purse->cut afterwards: fewer or less may do. `fact`: a
 * conflict; none: not known, and by stays 0 where p has a schedule as it is. *yes: found.
 * Errors: BP_ENOMEM, BP_EINTERNAL. */
bp_code bpi_several(bool *yes, int32_t *by, const bpi_prep *p, const uint32_t *fact, uint32_t facts,
                    bpi_purse *purse, bp_errors *errs);

/* How many facts are loosened so; and the changes: "call Ines at 05:05, and have 2 burners".
 * *pointer, where it is NULL, becomes that of the first. */
uint32_t bpi_several_count(const int32_t *by, const bpi_prep *p);
void bpi_several_put(bpi_text *out, const char **pointer, const int32_t *by, const bpi_prep *p);

/* Can this fact be loosened at all? */
bool bpi_several_may(const bpi_prep *p, uint32_t fact);

#endif

/* src/prep/ease.h - would the show have a plan if some facts were a little different?
 *
 * Owns     the answer to that question, asked again and again with other amounts.
 * May use  engine (its public header), prep/fact, base/.
 * Units    minutes for times, pieces for counts, as bpi_fact_ease says.
 */
#ifndef BP_PREP_EASE_H
#define BP_PREP_EASE_H

#include "prep/fact.h"

/* Is there a schedule when each fact is loosened by by[fact] (0: kept as it is)? Errors: BP_ENOMEM,
 * BP_EINTERNAL. Where the work runs out the answer is no. */
bp_code bpi_ease_try(bool *yes, const bpi_prep *p, const int32_t *by, const bp_eng_limits *limits,
                     bp_errors *errs);

/* Make by[fact] as small as it can be with a schedule, the others kept; it is feasible as given. A
 * call or a wrap lands on a full five minutes. */
bp_code bpi_ease_least(int32_t *by, uint32_t fact, const bpi_prep *p, const bp_eng_limits *limits,
                       bp_errors *errs);

/* The same for a whole problem as it is. */
bp_code bpi_ease_feasible(bool *yes, const bp_eng_problem *p, const bp_eng_limits *limits,
                          bp_errors *errs);

#endif

/* src/plan/whynot.h - why there is no plan, and what would help, written into the plan.
 *
 * Owns     nothing: facts and changes are the plan's.
 * May use  plan/fill, prep/why, prep/cure, prep/ease, live/, base/.
 */
#ifndef BP_PLAN_WHYNOT_H
#define BP_PLAN_WHYNOT_H

#include "plan/fill.h"
#include "prep/why.h"

/* Beats do not fit their slots: what is in each other's way, and what would make them fit (each planned
 * whole, and those that give a plan come first). Where none gives one, changes of all slots that do not fit,
 * and of the kitchen, are sought together. `fixes`: look for a plan at all.
 * Errors: BP_ENOMEM, BP_EINTERNAL, BP_ELIMIT. */
bp_code bpi_whynot_air(bpi_fill *f, bool fixes, bp_errors *errs);

/* The kitchen cannot do it: what prep found. */
void bpi_whynot_kitchen(bpi_fill *f, const bpi_prep *p, const bpi_why_not *why, bool no_fixes);

#endif

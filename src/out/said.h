/* src/out/said.h - the panels of the cue sheet for what is said: claims, and answers kept ready.
 *
 * Owns     their tables.
 * May use  out/page, out/table, out/facts; reads the plan.
 */
#ifndef BP_OUT_SAID_H
#define BP_OUT_SAID_H

#include "out/page.h"

/* "yes", "NO, do not say it", "NOT ENOUGH DATA": may a claim be made? */
const char *bpi_said_truth(bp_truth truth);

/* What is said of nutrients in appearance `air`, and what decides whether it may be. */
void bpi_said_claims_draw(bpi_page *p, uint32_t air);

/* Answers to what hosts may ask in appearance `air`. */
void bpi_said_replies_draw(bpi_page *p, uint32_t air);

#endif

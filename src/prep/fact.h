/* src/prep/fact.h - facts that limit a plan, in the show file's own words.
 *
 * Owns     the wording of facts and of changes to them.
 * May use  prep/prep.h, base/.
 */
#ifndef BP_PREP_FACT_H
#define BP_PREP_FACT_H

#include "base/text.h"
#include "prep/prep.h"

/* "Ines can be called from 05:30". */
void bpi_fact_put(bpi_text *out, const bpi_prep *p, uint32_t fact);

/* How a fact may be loosened: by minutes (a call sooner, a hold longer), by pieces (a burner, a watt more)
 * or not at all. */
typedef enum bpi_ease { BPI_EASE_NOT, BPI_EASE_MINUTES, BPI_EASE_PIECES } bpi_ease;
bpi_ease bpi_fact_ease(bpi_fact_kind kind);

/* How much trouble it is to loosen it, 0 the least: a call is a word, a longer hold another recipe. */
#define BPI_FACT_TROUBLES 6
int bpi_fact_trouble(bpi_fact_kind kind);

/* Most it makes sense to loosen it by, in minutes or pieces: a lead not below two minutes, a shift not
 * into the one before. */
int32_t bpi_fact_most(const bpi_prep *p, uint32_t fact);

/* The change that loosens it by that much: "call Ines at 05:05". */
void bpi_fact_put_change(bpi_text *out, const bpi_prep *p, uint32_t fact, int32_t by);

#endif

/* src/safety/claim.h - what is said on air of a nutrient, against published thresholds.
 *
 * Owns     the thresholds of 21 CFR 101.54 to 101.62, and the verdict.
 * May use  model/, base/.
 * Units    as in model/nutrient.h.
 * Source   beside each row; tests/safety/claims.csv has the rows with how each is known.
 *
 * The thresholds are law for labels in the USA, not for what is said on air; they are what a viewer
 * may take the words to mean. A figure is judged for the reference amount of its kind of food (for a
 * meal or main dish, for 100 g), worked out exactly from what is in a serving.
 */
#ifndef BP_SAFETY_CLAIM_H
#define BP_SAFETY_CLAIM_H

#include "backpot/plan.h"
#include "base/text.h"
#include "model/show.h"

typedef struct bpi_claim_test {
    bp_truth verdict;
    const char *rule; /* of the row that decides, "101.54(c)(1)"; "": no row is published */
} bpi_claim_test;

/* Judge a claim of food; texts are appended: `figure`, what is in a serving ("fiber 7 g a serving, 25 %
 * of the daily value"), and `why`, what decides. */
bpi_claim_test bpi_claim_judge(const bpi_claim *claim, const bpi_nutrition *food, bpi_text *figure,
                               bpi_text *why);

/* "5 g", "120 mg", "2.4 mcg", "210 kcal". */
void bpi_claim_amount_put(bpi_text *out, int64_t amount, bpi_nutrient_id nutrient);

#endif

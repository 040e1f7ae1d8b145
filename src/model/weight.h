/* src/model/weight.h - what a measured amount of a food weighs: "1 cup = 125 g", or a published food.
 *
 * Owns     the table of published weights, and reading one from a text.
 * May use  model/quantity, base/.
 * Units    amounts as written; goods/ makes fractions of them.
 * Source   USDA National Nutrient Database for Standard Reference, release 28, file WEIGHT: the rows
 *          whose measure is a volume, the largest of each food and cut. A name here is that of the
 *          food there, then how it is cut or packed: chopped and sliced onions differ by a third.
 */
#ifndef BP_MODEL_WEIGHT_H
#define BP_MODEL_WEIGHT_H

#include "model/quantity.h"

typedef struct bpi_weight_row {
    const char *name;           /* "Onions, raw, chopped"               */
    const char *number;         /* of the food in the database: "11282" */
    const char *measure, *mass; /* "1 cup", "160 g"                     */
} bpi_weight_row;

extern const bpi_weight_row bpi_weight_rows[]; /* by name */
extern const uint32_t bpi_weight_row_count;

typedef struct bpi_weight {
    bpi_quantity measure; /* a volume or a count; BPI_NO_AMOUNT: no weight is stated */
    bpi_quantity mass;
    const char *number; /* of the published row; NULL: the show says it itself     */
} bpi_weight;

/* Read "1 cup = 125 g", or the name of a row in any case. false: *f is filled in, *out unchanged. */
bool bpi_weight_read(bpi_weight *out, const char *text, size_t len, bpi_fault *f);

#endif

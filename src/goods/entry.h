/* src/goods/entry.h - one ingredient as a line for a cook.
 *
 * Owns     nothing.
 * May use  goods/measure, model/show, base/.
 */
#ifndef BP_GOODS_ENTRY_H
#define BP_GOODS_ENTRY_H

#include "base/text.h"
#include "model/show.h"

/* Append "1 1/2 cups red lentils, rinsed" for `size` times the recipe (the sum of the sizes where one
 * job serves several containers). At size 1 the amount stands as the show file has it; an ingredient
 * without an amount is "salt, to taste". */
void bpi_entry_put(bpi_text *out, const bpi_ingredient *in, bpi_ratio size);

/* The sum of two sizes, in lowest terms; where that cannot be held, the next whole number. */
bpi_ratio bpi_ratio_add(bpi_ratio a, bpi_ratio b);

/* Append every ingredient of a step, one a line, without a line end behind the last. */
void bpi_entry_put_step(bpi_text *out, const bpi_step *step, bpi_ratio size);

#endif

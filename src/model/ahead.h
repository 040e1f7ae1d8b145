/* src/model/ahead.h - the steps of a recipe put in order, with those that are for what is cooked ahead.
 *
 * Owns     "ahead": which steps may have it, and what such a step must not.
 * May use  model/graph, model/read, base/.
 *
 * A step with "ahead" is no part of the dish: it cools, stores or reheats what the step it names has
 * made, and is done only for containers that are cooked ahead. No step comes after it but the next
 * one with the same "ahead"; what comes after the step it names then comes after the last of them.
 * Where the last of them states no hold, the dish keeps as after the step that they are for.
 */
#ifndef BP_MODEL_AHEAD_H
#define BP_MODEL_AHEAD_H

#include "model/read.h"

/* Give each step of the recipe what it comes after, where the file does not say, and put all in
 * order. A step without "after" comes after the one before it in the file that has no "ahead". */
void bpi_ahead_read(bpi_reader *r, bpi_recipe *recipe, bpi_step *step, const bpi_node *nodes);

/* The first step that is for what `step` has cooked ahead, or the next after `from`; BPI_NO_INDEX: none. */
uint32_t bpi_ahead_first(const bpi_recipe *recipe, uint32_t step);
uint32_t bpi_ahead_next(const bpi_recipe *recipe, uint32_t from);

#endif

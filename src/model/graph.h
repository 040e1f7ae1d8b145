/* src/model/graph.h - the steps of a recipe as a directed acyclic graph.
 *
 * Owns     the order of the steps, and what each inherits from those before it.
 * May use  base/.
 */
#ifndef BP_MODEL_GRAPH_H
#define BP_MODEL_GRAPH_H

#include "model/read.h"

/* Fill in `before_all` and inherited `perishable` of each step, and `order` and `all` of the
 * recipe. `step` are the recipe's, `nodes` their list in the file. A cycle is a mistake, named step
 * by step. */
void bpi_graph_order(bpi_reader *r, bpi_recipe *recipe, bpi_step *step, const bpi_node *nodes);

#endif

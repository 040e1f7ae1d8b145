/* src/model/recipefile.h - a recipe that stands in a file of its own.
 *
 * Owns     which paths a show may name: relative, inside the folder of the show, no "..".
 * May use  base/.
 */
#ifndef BP_MODEL_RECIPEFILE_H
#define BP_MODEL_RECIPEFILE_H

#include "model/read.h"

/* Read the recipe file that `path`, a text of the show file, names; its bytes count into the stamp.
 * NULL: a mistake was added, at the place of the path where the file cannot be read. */
const bpi_node *bpi_recipe_file(bpi_reader *r, const bpi_node *path);

#endif

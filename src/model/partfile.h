/* src/model/partfile.h - a part of a show that stands in a file of its own: a recipe, a set of limits.
 *
 * Owns     which paths a show may name: relative, inside the folder of the show, no "..".
 * May use  base/.
 */
#ifndef BP_MODEL_PARTFILE_H
#define BP_MODEL_PARTFILE_H

#include "model/read.h"

/* Read the file that `path`, a text of the show file in `member`, names; its bytes count into the
 * stamp. `kind` names it in messages: "recipe"; `right` is what would be a right path.
 * NULL: a mistake was added, at the place of the path where the file cannot be read. */
const bpi_node *bpi_part_file(bpi_reader *r, const bpi_node *path, const char *member,
                              const char *kind, const char *right);

#endif

/* src/prep/grown.h - a show with one more cook or oven, like one that it has.
 *
 * Owns     the longer list, in the caller's arena; the show shares all else with the one it is of.
 * May use  model/, base/.
 */
#ifndef BP_PREP_GROWN_H
#define BP_PREP_GROWN_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/text.h"
#include "model/show.h"

typedef enum bpi_more { BPI_MORE_COOKS, BPI_MORE_OVENS } bpi_more;

/* One more like number `like`, after the others. false: no memory. */
bool bpi_grown_add(bpi_show *show, bpi_arena *a, bpi_more what, uint32_t like);

/* "have one more cook, with the hours of Ines", and the JSON Pointer of what that changes. */
void bpi_grown_put(bpi_text *out, const bpi_show *show, bpi_more what, uint32_t like);
const char *bpi_grown_pointer(bpi_more what);

#endif

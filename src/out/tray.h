/* src/out/tray.h - what stands on each station, left to right, and what is on its tray: tray-map.pdf and
 * tray-map.txt.
 *
 * Owns     the shape of both; their order and words are out/spot's.
 * May use  out/page, out/paper, out/table, out/plain, out/spot, base/; reads the plan.
 */
#ifndef BP_OUT_TRAY_H
#define BP_OUT_TRAY_H

#include <stdbool.h>

#include "backpot/plan.h"
#include "base/error.h"
#include "base/text.h"

/* Append the PDF to `out`, on US Letter or A4.
 *
 * Shape   for each appearance a new page, for each of its stations a table: the containers that stand
 *         there, left to right in the order in which the beats use them (what no beat asks for last),
 *         each with a box to tick, its code, and what stands on its tray: tools and vessels that beats
 *         take up, supplies, and what is measured. Supplies that belong to no container have a row.
 * Errors  BP_EIO (a font is missing), BP_ENOMEM; `out` is then as it was.
 */
bp_code bpi_tray_map_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);

/* The same as a list to tick by hand; lines end in a line feed. Errors: BP_ENOMEM. */
bp_code bpi_tray_text_write(bpi_text *out, const bp_plan *plan, bp_errors *errs);

#endif

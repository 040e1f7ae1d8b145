/* src/out/tray.h - tray-map.pdf: what stands on each station, left to right, and what is on its tray.
 *
 * Owns     the order and the words of the sheet.
 * May use  out/page, out/paper, out/table, out/facts, base/; reads the plan.
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
 *         there, left to right in the order in which the beats use them (those that no beat asks for
 *         last), each with a box to tick, its code, and what is measured beside it on its tray.
 * Errors  BP_EIO (a font is missing), BP_ENOMEM; `out` is then as it was.
 */
bp_code bpi_tray_map_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);

#endif

/* src/out/log.h - the pages of the prep sheet that are about food safety: what to heed, and the log of
 * readings to be filled in by hand.
 *
 * Owns     their order and words.
 * May use  out/page, out/table, out/facts, base/; reads the plan.
 *
 *   | When  | Containers | What must be reached, rule   | Read at | Degrees | Initials |
 *   | 07:52 | A2 A3      | Simmer: core at least 74 °C  | ______  | ______  | ______   |
 */
#ifndef BP_OUT_LOG_H
#define BP_OUT_LOG_H

#include "out/page.h"

/* Draw both, on new pages; nothing where the plan has neither. */
void bpi_log_draw(bpi_page *p);

#endif

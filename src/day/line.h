/* src/day/line.h - one line of a log as text and as an event.
 *
 * Owns     the members that a line has.
 * May use  base/, the public header.
 * Units    plan time and whole seconds.
 * Source   RFC 8259 for a line.
 */
#ifndef BP_DAY_LINE_H
#define BP_DAY_LINE_H

#include "backpot/day.h"
#include "base/arena.h"
#include "base/error.h"
#include "base/text.h"

/* Bounds of a moment: a show reaches back seven days, and nobody logs it the week after. */
#define BPI_LINE_AT      (INT64_C(8) * 86400)
#define BPI_LINE_SECONDS INT64_C(86400)

/* Read a head or an event from one line without its newline; `line` counts from 1. What they point
 * to lives in `a`. Errors: all mistakes of the line: BP_ESYNTAX, BP_EVALUE, BP_ERANGE, BP_ELIMIT,
 * BP_ENOMEM. */
bp_code bpi_line_head(bp_log_head *out, bpi_arena *a, const char *file, uint32_t line,
                      const char *text, size_t len, bp_errors *errs);
bp_code bpi_line_event(bp_event *out, bpi_arena *a, const char *file, uint32_t line,
                       const char *text, size_t len, bp_errors *errs);

/* Append a head or an event with its newline. */
void bpi_line_put_head(bpi_text *out, const bp_log_head *head);
void bpi_line_put_event(bpi_text *out, const bp_event *event);

/* Can this event be read back? Errors: BP_EVALUE, BP_ERANGE. */
bp_code bpi_line_check(const bp_event *event, bp_errors *errs);

#endif

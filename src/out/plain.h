/* src/out/plain.h - what the lists for a terminal and a spreadsheet share.
 *
 * Owns     nothing.
 * May use  out/facts, base/, glib (widths of characters); reads the plan.
 *
 * Table  RFC 4180 with CR LF, UTF-8. A cell that a spreadsheet would take for a formula (it begins with
 *        = + - @, of any width) gets an apostrophe in front, which spreadsheets take for "this is
 *        text"; another program has to take it off.
 */
#ifndef BP_OUT_PLAIN_H
#define BP_OUT_PLAIN_H

#include <stdbool.h>
#include <stddef.h>

#include "backpot/plan.h"
#include "base/text.h"

/* A text for one line. */
void bpi_plain_put(bpi_text *out, const char *s);

/* Columns that a text takes on paper with letters of one width; a wide East Asian character takes two. */
size_t bpi_plain_width(const char *s);

/* "Pull list: Harbour Breakfast", the date and the plan's stamp. */
void bpi_plain_head(bpi_text *out, const char *name, const bp_plan *plan);
/* An empty line, and the words that defer to the local code. */
void bpi_plain_foot(bpi_text *out, const bp_plan *plan);

/* The cells of one line of a table. */
void bpi_plain_cells(bpi_text *out, const char *const *cell, size_t n);

#endif

/* src/out/jput.h - JSON written member by member, one a line.
 *
 * Owns     commas and indentation; the text is the caller's.
 * May use  base/.
 * Source   RFC 8259.
 *
 * `name` is NULL for a member of a list.
 */
#ifndef BP_OUT_JPUT_H
#define BP_OUT_JPUT_H

#include <stdbool.h>
#include <stdint.h>

#include "base/text.h"

typedef struct bpi_jput {
    bpi_text *out;
    int depth;
    bool any; /* something stands in the object or list in hand */
} bpi_jput;

void bpi_jput_open(bpi_jput *j, const char *name, char bracket); /* '{' or '[' */
void bpi_jput_close(bpi_jput *j, char bracket);                  /* '}' or ']' */
void bpi_jput_text(bpi_jput *j, const char *name, const char *s);
void bpi_jput_number(bpi_jput *j, const char *name, int64_t n);
void bpi_jput_flag(bpi_jput *j, const char *name, bool b);
void bpi_jput_null(bpi_jput *j, const char *name);
void bpi_jput_name(bpi_jput *j, const char *name); /* the value is written by the caller */

#endif

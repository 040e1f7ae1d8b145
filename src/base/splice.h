/* src/base/splice.h - parts of a text replaced, and no other byte touched.
 *
 * Owns     nothing.
 * May use  base/.
 * Units    bytes.
 */
#ifndef BP_BASE_SPLICE_H
#define BP_BASE_SPLICE_H

#include <stddef.h>

#include "base/error.h"
#include "base/text.h"

typedef struct bpi_splice {
    size_t from, to; /* of the text before: from <= i < to; equal: something is put in there */
    const char *with;
    size_t len;
} bpi_splice;

/* Append `text` to `out` with each part replaced. Parts are ascending and apart; they may touch.
 * Errors: BP_ERANGE (parts out of order or beyond the text; a mistake of the caller), BP_ENOMEM;
 * `out` is then as it was. */
bp_code bpi_splice_apply(bpi_text *out, const char *text, size_t len, const bpi_splice *part,
                         size_t parts, bp_errors *errs);

#endif

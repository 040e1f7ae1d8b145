/* src/base/utf8.h - UTF-8 as Unicode and RFC 3629 have it, and text made safe for one line.
 *
 * Owns     nothing.
 * May use  base/text.
 * Units    offsets and lengths are bytes.
 */
#ifndef BP_BASE_UTF8_H
#define BP_BASE_UTF8_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/text.h"

/* The first character of s[0..len): its length, 1 to 4, and its code point. 0: no valid character
 * stands there (overlong form, surrogate, above U+10FFFF, cut off, or nothing); *code is kept. */
size_t bpi_utf8_step(const char *s, size_t len, uint32_t *code);

/* Offset of the first byte that does not belong to a valid character; `len` when all is valid. */
size_t bpi_utf8_bad(const char *s, size_t len);

/* Characters in valid UTF-8; an invalid byte counts as one. */
size_t bpi_utf8_count(const char *s, size_t len);

bool bpi_utf8_is_control(uint32_t code); /* C0, DEL, C1, line and paragraph separator        */
bool bpi_utf8_is_bidi(uint32_t code);    /* marks, embeddings, overrides and isolates        */

/* Offset of the first control character (`lines`: line feed and tab are let through), bidirectional
 * control or invalid byte; `len` when there is none. *code gets the character, U+FFFD if invalid.
 */
size_t bpi_utf8_unplain(const char *s, size_t len, bool lines, uint32_t *code);

/* Append `s` for one line of a terminal, a calendar or a page: a run of tabs, line ends and
 * separators becomes one blank; bidirectional controls are left out; any other control character
 * and every invalid byte becomes U+FFFD. */
void bpi_utf8_plain(bpi_text *out, const char *s, size_t len);

#endif

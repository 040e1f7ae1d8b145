/* src/base/text.h - a text that grows.
 *
 * Owns     its bytes, which always end in NUL.
 * May use  base/memory.
 *
 * A failed append leaves a mark instead of a return value to be tested each time: write on, then ask
 * `failed` once. After it nothing more is appended.
 */
#ifndef BP_BASE_TEXT_H
#define BP_BASE_TEXT_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

typedef struct bpi_text {
    char *s; /* NULL while nothing was appended */
    size_t len, room;
    bool failed; /* out of memory */
} bpi_text;

#define BPI_TEXT_EMPTY ((bpi_text){0})

void bpi_text_add(bpi_text *t, const char *s, size_t len);
void bpi_text_put(bpi_text *t, const char *s); /* up to its NUL */
void bpi_text_char(bpi_text *t, char c);
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
void bpi_text_f(bpi_text *t, const char *format, ...);
void bpi_text_reset(bpi_text *t);   /* empty, keeps its room */
void bpi_text_release(bpi_text *t); /* empty, keeps nothing  */

#endif

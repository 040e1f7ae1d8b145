/* src/base/near.h - the known name that was probably meant.
 *
 * Owns     nothing.
 * May use  the C library.
 *
 *   bpi_near n = bpi_near_to("dishs", 5);
 *   for (each known name) bpi_near_offer(&n, name);
 *   n.name                                             "dishes", or NULL: none is near
 */
#ifndef BP_BASE_NEAR_H
#define BP_BASE_NEAR_H

#include <stddef.h>

/* Edits (insert, drop, change, swap two neighbours) from one name to the other, ASCII letters
 * without regard to case; `most` + 1 when it is more than `most` or a name is longer than 63 bytes.
 */
unsigned bpi_near_distance(const char *a, size_t a_len, const char *b, size_t b_len, unsigned most);

typedef struct bpi_near {
    const char *want;
    size_t len;
    unsigned best;    /* distance of `name`, or one more than what still counts as near */
    const char *name; /* nearest so far; the first among equals; NULL: none is near     */
} bpi_near;

bpi_near bpi_near_to(const char *want, size_t len);
void bpi_near_offer(bpi_near *n, const char *known);

#endif

/* src/base/digest.h - a short mark of a content, for telling two versions of a plan apart.
 *
 * Owns     nothing.
 * May use  base/uuid.
 */
#ifndef BP_BASE_DIGEST_H
#define BP_BASE_DIGEST_H

#include <stddef.h>

#define BPI_DIGEST_TEXT 9

/* Eight hexadecimal digits of a SHA-1 over the bytes. A mark for people, no protection: two
 * contents share one by chance once in four thousand million. */
void bpi_digest_text(char out[BPI_DIGEST_TEXT], const char *bytes, size_t len);

#endif

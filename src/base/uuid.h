/* src/base/uuid.h - names that stay the same: UUIDs made from a name (RFC 9562 version 5).
 *
 * Owns     nothing.
 * May use  libuuid.
 */
#ifndef BP_BASE_UUID_H
#define BP_BASE_UUID_H

#include <stddef.h>

typedef struct bpi_uuid {
    unsigned char byte[16];
} bpi_uuid;

#define BPI_UUID_TEXT 37 /* bytes of the text form with its NUL */

bpi_uuid bpi_uuid_dns(void);     /* the namespace of domain names, RFC 9562 6.6          */
bpi_uuid bpi_uuid_backpot(void); /* the namespace of everything this program names       */

/* The UUID of `name` in a namespace: equal for equal input, everywhere. */
bpi_uuid bpi_uuid_named(bpi_uuid space, const char *name, size_t len);

void bpi_uuid_text(char out[BPI_UUID_TEXT], bpi_uuid u); /* lower case */

#endif

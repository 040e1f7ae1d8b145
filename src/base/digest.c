#include "base/digest.h"

#include <string.h>

#include "base/uuid.h"

void bpi_digest_text(char out[BPI_DIGEST_TEXT], const char *bytes, size_t len)
{
    char text[BPI_UUID_TEXT];
    bpi_uuid_text(text, bpi_uuid_named(bpi_uuid_backpot(), bytes, len));
    memcpy(out, text, BPI_DIGEST_TEXT - 1); /* the digits before the first '-' are hash alone */
    out[BPI_DIGEST_TEXT - 1] = '\0';
}

#include "base/uuid.h"

#include <string.h>
#include <uuid.h>

bpi_uuid bpi_uuid_dns(void)
{
    return (bpi_uuid){{0x6b, 0xa7, 0xb8, 0x10, 0x9d, 0xad, 0x11, 0xd1, 0x80, 0xb4, 0x00, 0xc0, 0x4f,
                       0xd4, 0x30, 0xc8}};
}

/* "invalid" is reserved (RFC 2606), so nobody else can own this name. */
bpi_uuid bpi_uuid_backpot(void)
{
    static const char name[] = "backpot.invalid";
    return bpi_uuid_named(bpi_uuid_dns(), name, sizeof name - 1);
}

bpi_uuid bpi_uuid_named(bpi_uuid space, const char *name, size_t len)
{
    bpi_uuid made;
    uuid_generate_sha1(made.byte, space.byte, name, len);
    return made;
}

void bpi_uuid_text(char out[BPI_UUID_TEXT], bpi_uuid u)
{
    uuid_unparse_lower(u.byte, out);
}

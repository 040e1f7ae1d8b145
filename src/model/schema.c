/* src/model/schema.c - the schema of a show file.
 *
 * Owns     the JSON Schema of a show file, as the library hands it out.
 * May use  the bytes that the Makefile makes of src/model/schema.json.
 */
#include "backpot/show.h"

/* src/model/schema.json, made into numbers by the Makefile, and a NUL. */
static const unsigned char schema[] = {
#include "model/schema.inc"
    0};

const char *bp_schema_text(size_t *len)
{
    *len = sizeof schema - 1;
    return (const char *)schema;
}

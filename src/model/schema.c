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

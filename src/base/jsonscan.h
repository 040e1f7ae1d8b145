/* src/base/jsonscan.h - the strict pass over a JSON text: is it RFC 8259, and where is each value?
 *
 * Owns     the list of marks, in the caller's arena.
 * May use  base/.
 * Units    offsets are bytes; lines and columns count from 1, columns in bytes.
 */
#ifndef BP_BASE_JSONSCAN_H
#define BP_BASE_JSONSCAN_H

#include <stdint.h>

#include "base/arena.h"
#include "base/error.h"

/* One value, in the order in which values begin (pre-order of the tree). */
typedef struct bpi_json_mark {
    uint32_t from, to;            /* the bytes of the value: from <= i < to       */
    uint32_t line, col;           /* of its first byte                            */
    uint32_t name_line, name_col; /* of the member's name; 0: not a member        */
} bpi_json_mark;

typedef struct bpi_json_marks {
    bpi_json_mark *item;
    size_t n, room;
} bpi_json_marks;

/* Scan `text`. BP_OK: it is RFC 8259 within the bounds of base/limits.h (member names may still
 * stand twice: that needs decoded names). Otherwise every mistake that does not hide the rest has
 * been added to `errs`; the scan stops at the first that does. */
bp_code bpi_json_scan(bpi_json_marks *out, bpi_arena *a, const char *file, const char *text,
                      size_t len, bp_errors *errs);

#endif

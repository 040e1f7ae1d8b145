/* src/base/json.h - a JSON text as a tree that knows where each value stands.
 *
 * Owns     the tree, which lives in the caller's arena; nothing of the input is kept.
 * May use  base/, cJSON.
 * Units    lines and columns count from 1, columns in bytes.
 *
 * Reading is strict (RFC 8259): base/jsonscan refuses what cJSON would let through and records the
 * positions; cJSON then decodes the same bytes, and both are walked side by side in pre-order.
 *
 *   object -first-> member -next-> member -next-> NULL      name, name_at: members of objects only
 *                   |first
 *                   element -next-> ...
 */
#ifndef BP_BASE_JSON_H
#define BP_BASE_JSON_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/error.h"
#include "base/text.h"

typedef enum bpi_kind {
    BPI_NULL,
    BPI_BOOL,
    BPI_NUMBER,
    BPI_STRING,
    BPI_ARRAY,
    BPI_OBJECT
} bpi_kind;

typedef struct bpi_node bpi_node;
struct bpi_node {
    bpi_kind kind;
    bool truth;        /* BPI_BOOL                                                            */
    bool whole;        /* BPI_NUMBER: it is an integer, and `integer` is it exactly           */
    uint32_t count;    /* children of an array or object                                      */
    uint32_t index;    /* place among its parent's children, from 0                           */
    double number;     /* BPI_NUMBER; always finite                                           */
    int64_t integer;   /* BPI_NUMBER, when whole                                              */
    const char *text;  /* BPI_STRING; valid UTF-8 without NUL inside, NUL at its end           */
    size_t len;        /* bytes of text                                                       */
    const char *name;  /* member of an object: its name, as text; else NULL                    */
    size_t name_len;   /* bytes of name                                                       */
    bpi_where at;      /* the value; pointer: see below                                       */
    bpi_where name_at; /* its name; the value's place where it has none                       */
    size_t from, to;   /* bytes of the value in the input: from <= i < to                     */
    bpi_node *parent, *first, *next;
};

/* Read one JSON text.
 *
 * Shape    *out is the outermost value. Every node has the JSON Pointer (RFC 6901) of its value in
 *          at.pointer, "" for the outermost; where that is longer than an error can hold (127
 *          bytes), it is the pointer of the nearest value around it that fits.
 * Owner    the tree lives in `a`, together with a copy of `file` (how messages name the input).
 * Bounds   BPI_MAX_FILE, BPI_MAX_DEPTH, BPI_MAX_VALUES.
 * Errors   BP_ESYNTAX for what is not JSON, and for a member that stands twice; BP_ELIMIT;
 * BP_ENOMEM. Everything that does not hide what follows is reported in one go. *out is then NULL.
 * Source   RFC 8259; RFC 3629; RFC 6901; RFC 7493 2.3 (no duplicate names).
 */
bp_code bpi_json_read(bpi_node **out, bpi_arena *a, const char *file, const char *text, size_t len,
                      bp_errors *errs);

/* The member of that very name (case counts); NULL: none, or not an object. */
bpi_node *bpi_node_member(const bpi_node *object, const char *name);

bool bpi_node_is(const bpi_node *string, const char *text); /* a string, and equal to it */

const char *bpi_kind_text(bpi_kind kind); /* "null", "true or false", "a number", "a text", ... */

/* Append a JSON string with its quotation marks. Only what RFC 8259 wants escaped is escaped; an
 * invalid byte becomes U+FFFD, so that the output is always valid. */
void bpi_json_put_string(bpi_text *out, const char *s, size_t len);

#endif

/* backpot/error.h - what went wrong, where, and what would be right.
 *
 * Every function of the library that can fail returns a bp_code and adds to a bp_errors that the
 * caller holds. Room in it is fixed, so that running out of memory can be reported too. The library
 * never prints and never exits.
 */
#ifndef BP_ERROR_H
#define BP_ERROR_H

#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* One list holds number, name and text, so that they cannot drift apart. */
#define BP_CODES(X)                                                                                \
    X(BP_OK, "no error")                                                                           \
    X(BP_ESYNTAX, "not JSON")                                                                      \
    X(BP_EVALUE, "a value is not usable")                                                          \
    X(BP_ERANGE, "a number is out of range")                                                       \
    X(BP_ELIMIT, "larger than a documented limit")                                                 \
    X(BP_ENOFIT, "no plan exists")                                                                 \
    X(BP_EUNSAFE, "food safety forbids the plan")                                                  \
    X(BP_EUNSURE, "the search ended without an answer")                                            \
    X(BP_EIO, "a file could not be read or written")                                               \
    X(BP_ENOMEM, "out of memory")                                                                  \
    X(BP_EINTERNAL, "a mistake in backpot itself")

#define BP_AS_ENUM(name, text) name,
typedef enum { BP_CODES(BP_AS_ENUM) BP_NCODES } bp_code;
#undef BP_AS_ENUM

#define BP_MAX_ERRORS 64

/* One mistake. Every text ends in NUL and is cut at a whole UTF-8 character when it is too long. */
typedef struct bp_error {
    bp_code code;
    uint32_t line, col; /* from 1; col counts bytes; 0: no position             */
    char file[128];     /* as the caller named it                              */
    char pointer[128];  /* JSON Pointer (RFC 6901) of the value; "" where none */
    char wrong[200];    /* what is wrong                                       */
    char right[200];    /* what would be right; "" where nothing helps         */
} bp_error;

/* Mistakes in the order they were found. An all-zero value is an empty list. */
typedef struct bp_errors {
    uint32_t n, more; /* kept; counted but not kept */
    bp_error item[BP_MAX_ERRORS];
} bp_errors;

/* The fixed text of a code; never NULL. */
const char *bp_code_text(bp_code code);

/* Print form, "file:line:col: what is wrong; what would be right", without a newline.
 *
 * Returns the length without the closing NUL. Like snprintf, `out` gets at most `room` bytes with
 * the NUL, and a return value of `room` or more says that the text was cut. Control characters in
 * the texts are shown as U+FFFD, so the line is safe on a terminal.
 */
size_t bp_error_text(char *out, size_t room, const bp_error *e);

#ifdef __cplusplus
}
#endif
#endif

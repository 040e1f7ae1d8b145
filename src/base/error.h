/* src/base/error.h - adding to a list of errors.
 *
 * Owns     the texts of the codes and the print form.
 * May use  the public header.
 */
#ifndef BP_BASE_ERROR_H
#define BP_BASE_ERROR_H

#include "backpot/error.h"

/* A place in a file that was read. Texts live as long as what was read. */
typedef struct bpi_where {
    const char *file;    /* NULL: nowhere                 */
    const char *pointer; /* JSON Pointer; NULL: none       */
    uint32_t line, col;  /* from 1; 0: no position         */
} bpi_where;

#define BPI_NOWHERE ((bpi_where){0})

/* Add one error and return `code`, so that a caller can `return bpi_error_add(...)`. `wrong` and
 * `right` are whole sentences without a full stop; `right` may be "". A text too long for its room
 * is cut at a whole character. `errs` may be NULL: nothing is kept. */
bp_code bpi_error_add(bp_errors *errs, bp_code code, bpi_where where, const char *wrong,
                      const char *right);

/* The same with a printf form for `wrong`; `right` comes first. */
#if defined(__GNUC__)
__attribute__((format(printf, 5, 6)))
#endif
bp_code
bpi_error_f(bp_errors *errs, bp_code code, bpi_where where, const char *right, const char *format,
            ...);

/* Add all of a list that was kept aside; `errs` may be NULL. */
void bpi_error_take(bp_errors *errs, const bp_errors *from);

/* Shorthand for the commonest one. */
bp_code bpi_error_no_memory(bp_errors *errs);

#endif

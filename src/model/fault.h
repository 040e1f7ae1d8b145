/* src/model/fault.h - what is wrong with one text form (a length, an amount, a time, ...).
 *
 * Owns     nothing.
 * May use  base/.
 * Units    offsets are bytes.
 */
#ifndef BP_MODEL_FAULT_H
#define BP_MODEL_FAULT_H

#include <stdbool.h>
#include <stddef.h>

typedef struct bpi_fault {
    size_t at;       /* offset of the first byte that cannot be right          */
    char wrong[160]; /* what is wrong, such as: unit "mins" is not known        */
    char right[160]; /* what would be right, such as: write "min"               */
} bpi_fault;

/* Fill in a fault; always returns false, so that a reader can `return bpi_fault_set(...)`. `right`
 * comes before the printf form of `wrong`; both are cut to their room. */
#if defined(__GNUC__)
__attribute__((format(printf, 4, 5)))
#endif
bool bpi_fault_set(bpi_fault *f, size_t at, const char *right, const char *wrong, ...);

/* The same with a printf form for `right` too: fill `right` afterwards. */
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
bool bpi_fault_right(bpi_fault *f, const char *right, ...);

#endif

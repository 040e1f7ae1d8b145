/* src/day/mishap.h - what went wrong, read from one line.
 *
 * Owns     the words for it.
 * May use  prep/, model/, base/.
 * Units    plan time.
 */
#ifndef BP_DAY_MISHAP_H
#define BP_DAY_MISHAP_H

#include "base/error.h"
#include "prep/prep.h"

typedef enum bpi_mishap_kind {
    BPI_MISHAP_LOST,   /* number: of prep.box      */
    BPI_MISHAP_DEAD,   /* number: of kitchen.oven  */
    BPI_MISHAP_BURNER, /* one more of them         */
    BPI_MISHAP_AWAY,   /* number: of kitchen.cook  */
    BPI_MISHAP_LONGER, /* number: of prep.box; step */
    BPI_MISHAP_BEHIND, /* nothing but what the log says */
} bpi_mishap_kind;

typedef struct bpi_mishap {
    bpi_mishap_kind kind;
    int64_t at, until; /* until: of AWAY and LONGER */
    uint32_t number, step;
} bpi_mishap;

/* Read a line. Errors: BP_EVALUE, with what would be understood. */
bp_code bpi_mishap_read(bpi_mishap *out, const bpi_prep *p, const char *line, bp_errors *errs);

#endif

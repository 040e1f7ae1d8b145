/* src/out/earlier.h - a calendar that an earlier run wrote, read back strictly.
 *
 * Owns     the list of its events, in the caller's arena; their bytes stay the caller's.
 * May use  base/.
 * Source   RFC 5545 3.1 (lines), 3.6 (components).
 *
 * Only a calendar of this program and of this show is accepted, byte for byte as it was written:
 * whether an event has changed is asked of its bytes, and what is gone is kept by its bytes.
 */
#ifndef BP_OUT_EARLIER_H
#define BP_OUT_EARLIER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/error.h"
#include "base/uuid.h"

/* Properties that mark a calendar as ours; the writer writes them, the reader asks for them. */
#define BPI_CALENDAR_PRODID "-//backpot//prep calendar 1//EN"
#define BPI_CALENDAR_SHOW   "X-BACKPOT-SHOW"
#define BPI_CALENDAR_COOKS  "X-BACKPOT-COOKS"

typedef struct bpi_earlier_event {
    const char *bytes; /* BEGIN:VEVENT to END:VEVENT, with their CRLF */
    size_t len;
    char uid[BPI_UUID_TEXT];
    int sequence;
    bool cancelled;
    bool kept; /* for the caller: it is still wanted */
} bpi_earlier_event;

typedef struct bpi_earlier {
    bpi_earlier_event *event;
    uint32_t events;
    const char *cooks; /* ids with one blank between; "" where the calendar names none */
} bpi_earlier;

/* Read one. `name` is how messages call the file; `show` the id of the show it must belong to.
 * Errors: BP_EIO (not one of ours, of another show, or damaged: with the line), BP_ENOMEM. */
bp_code bpi_earlier_read(bpi_earlier *out, bpi_arena *a, const char *bytes, size_t len,
                         const char *name, const char *show, bp_errors *errs);

bpi_earlier_event *bpi_earlier_find(const bpi_earlier *e, const char *uid); /* NULL: none */

#endif

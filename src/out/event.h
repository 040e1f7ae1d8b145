/* src/out/event.h - one event of a calendar, written and unwritten by libical.
 *
 * Owns     nothing; the texts of an entry are the caller's.
 * May use  base/, libical.
 * Units    plan time, whole seconds.
 * Source   RFC 5545 3.6.1 VEVENT, 3.6.6 VALARM, 3.8.7.4 SEQUENCE; RFC 9562 version 5 for the UID.
 *
 * Start and end stand in the zone of the plan where every reader agrees on the instant, and in UTC
 * form where not: within a day of a clock change readers resolve skipped and doubled hours in their
 * own ways. A cancelled event always stands in UTC form, so that it needs no zone any more.
 */
#ifndef BP_OUT_EVENT_H
#define BP_OUT_EVENT_H

#include <stdbool.h>
#include <stdint.h>

#include "base/clock.h"
#include "base/error.h"
#include "base/text.h"
#include "base/uuid.h"

typedef struct bpi_entry {
    char uid[BPI_UUID_TEXT];
    int sequence;
    bool cancelled;
    bool busy;        /* takes somebody's time                                          */
    bool alarm;       /* rings `lead` before the start                                  */
    int64_t lead;     /* seconds, not below zero                                        */
    int64_t from, to; /* equal: a moment                                             */
    bpi_text summary, description, location, category; /* plain; lines end in '\n'    */
} bpi_entry;

void bpi_entry_release(bpi_entry *e); /* its texts */

/* Append one VEVENT with CRLF and folded lines. *local is set when it names the zone of the clock.
 * Errors: BP_ENOMEM, also when a text of the entry has failed. */
bp_code bpi_event_write(bpi_text *out, const bpi_entry *e, const bpi_clock *clock, bool *local,
                        bp_errors *errs);

/* Read what event_write wrote back, all but the alarm. `file` is how messages call the calendar.
 * Errors: BP_EIO, BP_ENOMEM; *out is then empty. */
bp_code bpi_event_read(bpi_entry *out, const char *bytes, size_t len, const bpi_clock *clock,
                       const char *file, bp_errors *errs);

/* Append what libical 3.0 folded. Where a line without a blank is just so long that its CR is the
 * 75th byte, libical folds between the CR and the LF: what is torn so is mended. No value holds a CR. */
void bpi_event_put_folded(bpi_text *out, const char *text);

#endif

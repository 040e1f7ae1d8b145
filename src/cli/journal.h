/* src/cli/journal.h - events of a clock on their way to its log.
 *
 * Owns     what the events happen to, and the events that could not be written yet.
 * May use  the public headers, base/. No terminal.
 * Units    plan time.
 *
 * A clock goes on whatever happens to the log: an event that cannot be written happens all the
 * same, is tried again at every tick, and an alarm says so until it is on the disk.
 */
#ifndef BP_CLI_JOURNAL_H
#define BP_CLI_JOURNAL_H

#include "backpot/day.h"
#include "backpot/plan.h"

#define BPI_JOURNAL_LOST 1024 /* events waiting for a disk; more keys are pressed on no day */

/* A kind of thing that events happen to, such as a bp_floor. */
typedef struct bpi_day_kind {
    bp_code (*make)(void **out, const bp_plan *plan, bp_errors *errs);
    void (*drop)(void *state);
    bp_code (*can)(const void *state, const bp_event *event, bp_errors *errs);
    bp_code (*apply)(void *state, const bp_event *event, bp_errors *errs);
    bp_code (*follow)(void *state, const bp_log *log, bp_errors *errs);
    bool (*behind)(const void *state); /* a mishap that its plan does not know of was followed */
} bpi_day_kind;

extern const bpi_day_kind bpi_day_floor; /* bp_floor */

typedef struct bpi_journal {
    const bpi_day_kind *kind;
    const bp_plan *plan;
    void *state;
    bp_logbook *book; /* NULL: nothing is written */
    bp_event lost[BPI_JOURNAL_LOST];
    uint32_t lost_n;
    char message[160]; /* why the last event could not be; "" */
    char alarm[200];   /* "" */
} bpi_journal;

/* Ready, with everything that the log holds. The plan must outlive it; the book is the caller's.
 * Errors: those of kind->make and kind->follow; nothing is then held. */
bp_code bpi_journal_init(bpi_journal *j, const bpi_day_kind *kind, const bp_plan *plan,
                         bp_logbook *book, bp_errors *errs);
void bpi_journal_release(bpi_journal *j);

/* Take in what others wrote, try again what could not be written. */
void bpi_journal_tick(bpi_journal *j);

/* From the log alone, by this plan of the same day. Errors: as of init; all is then as it was. */
bp_code bpi_journal_anew(bpi_journal *j, const bp_plan *plan, bp_errors *errs);
/* Something happens. */
void bpi_journal_event(bpi_journal *j, const bp_event *event);

/* An alarm with the first of the errors. */
void bpi_journal_alarm(bpi_journal *j, const char *what, const bp_errors *errs);

#endif

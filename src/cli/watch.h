/* src/cli/watch.h - what the keys of the clock do: events, questions, the log.
 *
 * Owns     the question being asked.
 * May use  the public headers, base/, cli/journal, cli/screen.h for the numbers of keys. No terminal.
 * Units    plan time.
 */
#ifndef BP_CLI_WATCH_H
#define BP_CLI_WATCH_H

#include "backpot/floor.h"
#include "cli/journal.h"

typedef enum bpi_ask {
    BPI_ASK_NOTHING,
    BPI_ASK_CUT,
    BPI_ASK_LATE,
    BPI_ASK_EARLY, /* really on air, so long before the hit? */
    BPI_ASK_LEAVE
} bpi_ask;

typedef struct bpi_watch {
    const bp_plan *plan;
    bpi_journal log;
    uint32_t mark; /* beat of the appearance in view; BP_NO_INDEX: none */
    bpi_ask ask;
    char typed[12];
    bool leave;
} bpi_watch;

/* Ready, with everything that the log holds. The plan must outlive it; the book is the caller's.
 * Errors: those of bp_floor_new and bp_floor_follow; nothing is then held. */
bp_code bpi_watch_init(bpi_watch *w, const bp_plan *plan, bp_logbook *book, bp_errors *errs);
void bpi_watch_release(bpi_watch *w);

/* Go on by this plan of the same day, with everything that the log holds. Errors: as above; all is then as
 * it was. */
bp_code bpi_watch_go_on(bpi_watch *w, const bp_plan *plan, bp_errors *errs);

/* Where the slots stand. */
const bp_floor *bpi_watch_floor(const bpi_watch *w);

/* Take in what others wrote, try again what could not be written. */
void bpi_watch_tick(bpi_watch *w);

/* A key was pressed at that moment. */
void bpi_watch_key(bpi_watch *w, int key, int64_t now);

/* Something happened that no key says. */
void bpi_watch_event(bpi_watch *w, const bp_event *event);

/* The question being asked with what was typed so far, else the last message; never NULL. */
const char *bpi_watch_message(bpi_watch *w);

#endif

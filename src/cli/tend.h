/* src/cli/tend.h - what the keys of the kitchen's clock do.
 *
 * Owns     the mark.
 * May use  the public headers, base/, cli/journal, cli/board for who has which number, cli/screen.h for
 *          the numbers of keys. No terminal.
 * Units    plan time.
 *
 * A cook's key ends what is in hand; what comes next begins with it where it is due, else with the
 * same key pressed again.
 */
#ifndef BP_CLI_TEND_H
#define BP_CLI_TEND_H

#include "backpot/kitchen.h"
#include "cli/journal.h"

extern const bpi_day_kind bpi_day_kitchen; /* bp_kitchen */

typedef struct bpi_tend {
    const bp_plan *plan;
    bpi_journal log;
    uint32_t mark; /* of plan.person; BP_NO_INDEX: none */
    bool leave;
} bpi_tend;

/* Ready, with everything that the log holds. The plan must outlive it; the book is the caller's.
 * Errors: those of bp_kitchen_new and bp_kitchen_follow; nothing is then held. */
bp_code bpi_tend_init(bpi_tend *t, const bp_plan *plan, bp_logbook *book, bp_errors *errs);
void bpi_tend_release(bpi_tend *t);
/* Go on by this plan of the same day, with everything that the log holds. Errors: as above; all is then as
 * it was. */
bp_code bpi_tend_go_on(bpi_tend *t, const bp_plan *plan, bp_errors *errs);

bp_kitchen *bpi_tend_kitchen(const bpi_tend *t);

/* A key was pressed at that moment. */
void bpi_tend_key(bpi_tend *t, int key, int64_t now);

/* Everything that was to begin before `now`, or to end by then, did so: for a rehearsal from there. */
void bpi_tend_catch_up(bpi_tend *t, int64_t now);

#endif

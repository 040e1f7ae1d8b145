/* src/cli/start.h - where a rehearsal begins.
 *
 * Owns     nothing.
 * May use  the public headers, base/, cli/watch. No terminal.
 * Units    plan time.
 */
#ifndef BP_CLI_START_H
#define BP_CLI_START_H

#include "cli/watch.h"

typedef struct bpi_start {
    uint32_t air, beat; /* beat within it; BP_NO_INDEX: shortly before the hit */
    int64_t at;         /* in the kitchen */
} bpi_start;

/* In the kitchen: when the first operation begins that does so then; `from` NULL: shortly before all of
 * it. On the floor: at an appearance, at a beat; NULL: the first, before its hit. Errors: BP_EVALUE. */
bp_code bpi_start_moment(bpi_start *out, const bp_plan *plan, const char *from, bp_errors *errs);
bp_code bpi_start_beat(bpi_start *out, const bp_plan *plan, const char *air, const char *beat,
                       bp_errors *errs);

/* Everything that went before went as planned. */
void bpi_start_run_up(bpi_watch *w, const bpi_start *s);

/* When a rehearsal on the floor begins. */
int64_t bpi_start_at(const bp_plan *p, const bpi_start *s);

#endif

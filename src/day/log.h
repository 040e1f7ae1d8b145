/* src/day/log.h - the lines of a log taken in one after the other.
 *
 * Owns     the list of events while it grows.
 * May use  base/, day/line.
 */
#ifndef BP_DAY_LOG_H
#define BP_DAY_LOG_H

#include "backpot/day.h"
#include "base/arena.h"

typedef struct bpi_log {
    bp_log log;
    bpi_arena *a;
    void *list; /* log.event, still open to more */
    size_t room;
    size_t taken; /* bytes of the file taken in: whole lines */
    uint32_t lines;
} bpi_log;

/* Ready for the first byte of the file called `path`. The arena is made here and lives in *l.
 * Errors: BP_ENOMEM; nothing is then held. */
bp_code bpi_log_init(bpi_log *l, const char *path, bp_errors *errs);
void bpi_log_release(bpi_log *l);

/* Take in the bytes that follow those taken so far. What comes after the last newline is left, and
 * log.torn says that there is some. A line with a mistake ends it with `whole` set: what came before
 * counts; otherwise all mistakes are told and *l is as good as empty. */
bp_code bpi_log_take(bpi_log *l, const char *bytes, size_t len, bool whole, bp_errors *errs);

/* Is it a log of the show, and of this version of it (stamp NULL: of any)? Errors: BP_EVALUE. */
bp_code bpi_log_is_of(const bp_log *log, const char *show, const char *stamp, bp_errors *errs);

/* Are these bytes nothing but a head that was cut off? */
bool bpi_log_is_stub(const bp_log_head *head, const char *bytes, size_t len, bool *no_memory);

#endif

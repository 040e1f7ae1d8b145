/* backpot/day.h - the day itself: what happened, as it is written down.
 *
 * The log of a day is a text file of JSON objects (RFC 8259), one a line, to which lines are only
 * ever added. The first line is its head; each other line is one event:
 *
 *     {"backpot":"log","format":1,"show":"harbour-breakfast","stamp":"1a2b3c4d","rehearsal":false}
 *     {"at":30240,"event":"hit","air":"main"}
 *     {"at":30240,"event":"beat","air":"main","beat":"hello"}
 *
 * Units   moments are plan time, as in backpot/plan.h: whole seconds since local midnight of the
 *         show day. They never decrease from line to line.
 * Loss    a line counts once its newline is on the disk. A last line without one was cut off while
 *         it was being written, and is as if it had never been.
 */
#ifndef BP_DAY_H
#define BP_DAY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "backpot/error.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BP_LOG_FORMAT 1

/* Members that an event has beside "at" and "event"; all of them, and no others. */
#define BP_HAS_AIR     1u  /* "air": id of an appearance, as bp_air.id             */
#define BP_HAS_BEAT    2u  /* "beat": id of a beat of it                           */
#define BP_HAS_OP      4u  /* "op": key of an operation, as bp_op.key              */
#define BP_HAS_SECONDS 8u  /* "seconds": a length; below zero where that has sense */
#define BP_HAS_TEXT    16u /* "text": in words                                     */

/* number, word in the file, members, meaning */
#define BP_EVENTS(X)                                                                               \
    X(BP_DAY_OPEN, "open", 0, "a clock was opened, or opened again")                               \
    X(BP_DAY_LATE, "late", BP_HAS_AIR | BP_HAS_SECONDS,                                            \
      "the hit is so much later than planned, in all")                                             \
    X(BP_DAY_HIT, "hit", BP_HAS_AIR, "the slot began")                                             \
    X(BP_DAY_BEAT, "beat", BP_HAS_AIR | BP_HAS_BEAT, "this beat began, and the one before ended")  \
    X(BP_DAY_BACK, "back", BP_HAS_AIR | BP_HAS_BEAT,                                               \
      "the last \"beat\" was a mistake: this one went on all the time")                            \
    X(BP_DAY_HOLD, "hold", BP_HAS_AIR, "the slot stands still: its time does not pass")            \
    X(BP_DAY_GO_ON, "go-on", BP_HAS_AIR, "the hold is over")                                       \
    X(BP_DAY_DROP, "drop", BP_HAS_AIR | BP_HAS_BEAT, "this beat will not be done")                 \
    X(BP_DAY_KEEP, "keep", BP_HAS_AIR | BP_HAS_BEAT, "it will be done after all")                  \
    X(BP_DAY_CUT, "cut", BP_HAS_AIR | BP_HAS_SECONDS,                                              \
      "the slot is so much shorter than before; below zero: longer")                               \
    X(BP_DAY_OFF, "off-air", BP_HAS_AIR, "the slot ended")                                         \
    X(BP_DAY_START, "start", BP_HAS_OP, "this operation of the kitchen began")                     \
    X(BP_DAY_DONE, "done", BP_HAS_OP, "it is done")                                                \
    X(BP_DAY_UNDO, "undo", BP_HAS_OP, "its last tick was a mistake")                               \
    X(BP_DAY_MISHAP, "mishap", BP_HAS_TEXT, "something went wrong, as it was said")                \
    X(BP_DAY_NOTE, "note", BP_HAS_TEXT, "a remark")

#define BP_AS_ENUM(number, word, members, meaning) number,
typedef enum { BP_EVENTS(BP_AS_ENUM) BP_DAY_KINDS } bp_event_kind;
#undef BP_AS_ENUM

const char *bp_event_word(bp_event_kind kind); /* "go-on"; never NULL */
unsigned bp_event_members(bp_event_kind kind); /* BP_HAS_...          */

/* Texts are valid UTF-8 without control characters; "" where the kind has no such member. */
typedef struct bp_event {
    bp_event_kind kind;
    int64_t at;
    const char *air, *beat, *op, *text;
    int64_t seconds;
    uint32_t line; /* of the log, from 1; not looked at when an event is added */
} bp_event;

typedef struct bp_log_head {
    const char *show;  /* bp_plan.show_id                                          */
    const char *stamp; /* bp_plan.stamp: the version of the show that was followed */
    bool rehearsal;
} bp_log_head;

typedef struct bp_log {
    const char *file; /* as the caller named it */
    bp_log_head head;
    const bp_event *event; /* in the order of the file */
    uint32_t events;
    bool torn; /* its last line was cut off, and left out */
    void *own; /* storage; not for the caller             */
} bp_log;

/* Read a log.
 *
 * Owner   *out is new, release it with bp_log_free; NULL on failure.
 * Errors  all mistakes in one go, each with its line and column: BP_ESYNTAX, BP_EVALUE, BP_ERANGE,
 *         BP_ELIMIT; BP_EIO; BP_ENOMEM. The first code is returned. Whether the ids in it are those
 *         of a plan is not looked at.
 */
bp_code bp_log_read(bp_log **out, const char *path, bp_errors *errs);
void bp_log_free(bp_log *log); /* NULL does nothing */

/* How many mishaps (BP_DAY_MISHAP) it holds; *last: the last of them, in the log; NULL: none. */
uint32_t bp_log_mishaps(const bp_log *log, const bp_event **last);

/* A log that is open for adding to. Several programs may have the same one open: each adds whole
 * lines, and reads what the others have added. */
typedef struct bp_logbook bp_logbook;

/* Open the log at `path` and read it; make it where there is none. A last line that was cut off is
 * taken away by the next one added.
 *
 * Owner   *out is new, release it with bp_logbook_close; NULL on failure.
 * Errors  those of bp_log_read; BP_EVALUE where its head is another than `head`: it belongs to
 *         another show, to another version of it, or to a rehearsal. The file is then untouched.
 */
bp_code bp_logbook_open(bp_logbook **out, const char *path, const bp_log_head *head,
                        bp_errors *errs);
void bp_logbook_close(bp_logbook *book); /* NULL does nothing */

/* What is in it so far; grows with the two calls below. Its texts live until bp_logbook_close, the
 * list of events until the next call. */
const bp_log *bp_logbook_log(const bp_logbook *book);

/* Read what others have added. A log that was removed is put back, with every line it had. Errors: those of
 * bp_log_read; BP_EIO where it cannot be put back (its folder is gone, another file stands there), until
 * it can; whole lines before a mistake count. */
bp_code bp_logbook_catch_up(bp_logbook *book, bp_errors *errs);

/* Catch up, add one event and wait until it is on the disk; it is then the last of the log. Its
 * moment is raised to that of the event before where it is earlier.
 *
 * Errors  BP_EIO (full disk, failed device, held by another program for more than a second: the
 *         log is then as it was), BP_EVALUE (a text that cannot stand in a log), BP_ENOMEM, and
 *         those of bp_log_read.
 */
bp_code bp_logbook_add(bp_logbook *book, const bp_event *event, bp_errors *errs);

#ifdef __cplusplus
}
#endif
#endif

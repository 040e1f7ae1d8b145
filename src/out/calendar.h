/* src/out/calendar.h - a plan as iCalendar files: one for the kitchen, one for each cook.
 *
 * Owns     which operations become events, and when an event counts as changed.
 * May use  base/, out/event, out/tell, out/earlier, out/moment; reads the plan.
 * Source   RFC 5545; RFC 7986 (NAME, DESCRIPTION of a calendar).
 *
 *   prep.ics        each appearance on air, each hands-on operation, and each unattended one (which
 *                   takes nobody's time and does not ring: taking it off does)
 *   prep-COOK.ics   each appearance, and what that cook does by hand
 *
 * UID       version 5 of "SHOW/FILE/KEY" in the namespace of base/uuid.h, KEY the key of the
 *           operation or "on-air:ID" of the appearance. The same operation has a UID of its own in
 *           each file, since it can leave one cook's calendar for another's.
 * SEQUENCE  0 at first; one more than in the earlier file where any other byte of the event differs.
 * Gone      an event of the earlier file that the plan has no more is kept as cancelled, one
 *           SEQUENCE higher, its summary marked; after that its bytes stay as they are.
 * DTSTAMP   UTC midnight of the show day's date and SEQUENCE seconds; LAST-MODIFIED the same. There
 *           is no METHOD, so it is the time of the last revision (RFC 5545 3.8.7.2).
 */
#ifndef BP_OUT_CALENDAR_H
#define BP_OUT_CALENDAR_H

#include "backpot/output.h"
#include "backpot/plan.h"
#include "base/arena.h"
#include "base/error.h"
#include "base/text.h"
#include "out/earlier.h"

#define BPI_CALENDAR_ROOM 64

/* "prep.ics" where `cook` is NULL, else "prep-COOK.ics"; a character of the id that does not suit
 * every file system becomes '-', with a digest of the id behind it. Returns `out`. */
char *bpi_calendar_file(char out[BPI_CALENDAR_ROOM], const char *cook);

/* Ids, with one blank between, of the cooks who get a calendar: those with something to do, and
 * those who had one before (`earlier`, as bpi_earlier.cooks), so that it can say that it is off.
 * NULL: no memory. */
const char *bpi_calendar_cooks(bpi_arena *a, const bp_plan *plan, const char *earlier);

/* Append one calendar: of the kitchen (`cook` NULL) or of the cook with that id; one whom the plan
 * does not know gets what was there before, cancelled. `earlier` may be empty; its `kept` marks are
 * changed. `cooks` is put into the kitchen's calendar.
 *
 * Errors   BP_ERANGE (a year outside 1970 to 2037), BP_EVALUE (no such zone), BP_EIO (an event of
 *          the earlier calendar cannot be read), BP_ENOMEM; `out` may then hold a part.
 */
bp_code bpi_calendar_write(bpi_text *out, const bp_plan *plan, const char *cook,
                           bpi_earlier *earlier, const char *cooks, bp_errors *errs);

#endif

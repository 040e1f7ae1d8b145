/* src/base/zone.h - time zones by their IANA names, from libical's reading of the system's data.
 *
 * Owns     handles in the caller's arena; libical owns the zone data, one set for the process.
 * May use  base/, libical.
 * Units    instants are seconds since 1970-01-01T00:00:00Z without leap seconds; a local time is
 * the same count of what the clock on the wall reads; offsets are seconds east of UTC. Threads
 * libical reads a zone when it is first asked for and shares it: open and use zones from one thread
 * at a time.
 *
 * Only look-ups from UTC to an offset are used. libical's own local-to-UTC conversion is wrong in a
 * gap and in a doubled hour.
 */
#ifndef BP_BASE_ZONE_H
#define BP_BASE_ZONE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "backpot/error.h"
#include "base/arena.h"

/* To be filled by find or open, and passed around whole. */
typedef struct bpi_zone {
    const char *name;
    void *ical; /* icaltimezone, libical's own */
    bool utc;   /* libical's UTC has no component to look up */
} bpi_zone;

/* Find a zone by name without any memory; `name` must outlive *z. BP_EVALUE as below; *z is kept. */
bp_code bpi_zone_find(bpi_zone *z, const char *name);

/* Open a zone by name, such as "Europe/Paris" or "UTC". Errors: BP_EVALUE (not a name of letters,
 * digits, '_', '+', '-' and '/', or no such zone), BP_ENOMEM; *out is then NULL. */
bp_code bpi_zone_open(bpi_zone **out, bpi_arena *a, const char *name, size_t len);

const char *bpi_zone_name(const bpi_zone *z);
void *
bpi_zone_ical(const bpi_zone *z); /* its icaltimezone, for writing a calendar; still libical's */

/* Seconds east of UTC at an instant. Outside BPI_MIN_YEAR to BPI_MAX_YEAR: as at the nearer end. */
int32_t bpi_zone_offset(const bpi_zone *z, int64_t utc);

/* The instants at which the wall clock reads `local`, earlier first: 0 (a gap: skipped), 1, or 2 (a
 * doubled hour). */
int bpi_zone_instants(const bpi_zone *z, int64_t local, int64_t utc[2]);

/* The first instant in (after, until] at which the offset changes, or the last in [from, before).
 * false: none, *at is kept. */
bool bpi_zone_next_change(const bpi_zone *z, int64_t after, int64_t until, int64_t *at);
bool bpi_zone_last_change(const bpi_zone *z, int64_t before, int64_t from, int64_t *at);

/* At the end of a process that wants nothing left: drop libical's zones. No handle may be used
 * after it; opening a zone reads its data again. */
void bpi_zone_release_all(void);

#endif

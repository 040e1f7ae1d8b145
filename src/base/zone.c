#include "base/zone.h"

#include <libical/ical.h>
#include <pthread.h>
#include <string.h>

#include "base/civil.h"
#include "base/limits.h"
#include "base/memory.h"

/* The name becomes part of a path inside libical, which checks nothing. */
static bool is_safe(const char *name, size_t len)
{
    /* Beside the zones, too: what this machine is set to, and what stands for "not set". */
    static const char *const settings[] = {"localtime", "posixrules", "Factory"};
    for (size_t i = 0; i < sizeof settings / sizeof *settings; i++)
        if (strlen(settings[i]) == len && memcmp(name, settings[i], len) == 0)
            return false;
    if (len == 0 || len > 64 || name[0] == '/')
        return false;
    /* Beside the zones lie two more sets of the same; the clocks of "right" count leap seconds. */
    if (len > 6 && (memcmp(name, "right/", 6) == 0 || memcmp(name, "posix/", 6) == 0))
        return false;
    for (size_t i = 0; i < len; i++) {
        char c = name[i];
        bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
        if (c == '/' && (i + 1 == len || name[i + 1] == '/'))
            return false; /* the same file by another name */
        if (!letter && !(c >= '0' && c <= '9') && (c == '\0' || !strchr("_+-/", c)))
            return false;
    }
    return true;
}

/* libical fills its list of zones, reads a zone and works out its changes when they are first asked
 * for; a second thread may then see a list that is not full yet (3.0.16, icaltimezone.c). So all of that
 * is done here, one thread at a time; what comes after only reads. */
static pthread_mutex_t alone = PTHREAD_MUTEX_INITIALIZER;

static bp_code find_alone(bpi_zone *z, const char *name)
{
    icaltimezone *ical = icaltimezone_get_builtin_timezone(name);
    if (!ical)
        return BP_EVALUE;
    bool utc = ical == icaltimezone_get_utc_timezone();
    if (!utc && !icaltimezone_get_component(ical))
        return BP_EVALUE; /* listed, but its data cannot be read */
    *z = (bpi_zone){name, ical, utc};
    bpi_zone_offset(z, INT64_MAX); /* all its changes are worked out while there is room */
    return BP_OK;
}

bp_code bpi_zone_find(bpi_zone *z, const char *name)
{
    if (!is_safe(name, strlen(name)))
        return BP_EVALUE;
    pthread_mutex_lock(&alone);
    bp_code rc = find_alone(z, name);
    pthread_mutex_unlock(&alone);
    return rc;
}

bp_code bpi_zone_open(bpi_zone **out, bpi_arena *a, const char *name, size_t len)
{
    *out = NULL;
    if (!is_safe(name, len))
        return BP_EVALUE;
    char *own = bpi_arena_copy(a, name, len);
    bpi_zone *z = BPI_TAKE(a, 1, bpi_zone);
    if (!own || !z || !bpi_mem_room(BPI_ROOM_ZONE))
        return BP_ENOMEM;
    bp_code rc = bpi_zone_find(z, own);
    if (rc == BP_OK)
        *out = z;
    return rc;
}

const char *bpi_zone_name(const bpi_zone *z)
{
    return z->name;
}

void *bpi_zone_ical(const bpi_zone *z)
{
    return z->ical;
}

int32_t bpi_zone_offset(const bpi_zone *z, int64_t utc)
{
    if (z->utc)
        return 0;
    static const bpi_date first = {BPI_MIN_YEAR, 1, 1}, end = {BPI_MAX_YEAR + 1, 1, 1};
    int64_t least = bpi_civil_days(first) * BPI_DAY, most = bpi_civil_days(end) * BPI_DAY - 1;
    utc = utc < least ? least : utc > most ? most : utc;

    int64_t day = utc / BPI_DAY, second = utc % BPI_DAY; /* not below zero: see least */
    bpi_date date = bpi_civil_date(day);
    struct icaltimetype tt = icaltime_null_time();
    tt.year = date.year;
    tt.month = date.month;
    tt.day = date.day;
    tt.hour = (int)(second / 3600);
    tt.minute = (int)(second / 60 % 60);
    tt.second = (int)(second % 60);
    tt.zone = icaltimezone_get_utc_timezone();
    return icaltimezone_get_utc_offset_of_utc_time(z->ical, &tt, NULL);
}

/* No zone is more than 16 hours from UTC, and none changes its clock twice within a step. */
#define FAR  (16 * 3600)
#define STEP (6 * 3600)

int bpi_zone_instants(const bpi_zone *z, int64_t local, int64_t utc[2])
{
    /* An instant that reads `local` is `local` less an offset in force somewhere around it: try
     * each such offset, and keep the instants at which it is the one in force. */
    int n = 0;
    int64_t found[2] = {0, 0};
    for (int64_t probe = local - FAR; probe <= local + FAR; probe += STEP / 2) {
        int64_t u = local - bpi_zone_offset(z, probe);
        if (u + bpi_zone_offset(z, u) != local)
            continue;
        bool known = false;
        for (int i = 0; i < n; i++)
            known = known || found[i] == u;
        if (!known && n < 2)
            found[n++] = u;
    }
    if (n == 2 && found[0] > found[1]) {
        int64_t later = found[0];
        found[0] = found[1];
        found[1] = later;
    }
    for (int i = 0; i < n; i++)
        utc[i] = found[i];
    return n;
}

/* The instant in (low, high] from which `after` holds, where `before` holds at low and another
 * offset at high, with one change between them. */
static int64_t bisect(const bpi_zone *z, int64_t low, int64_t high)
{
    int32_t before = bpi_zone_offset(z, low);
    while (high - low > 1) {
        int64_t middle = low + (high - low) / 2;
        if (bpi_zone_offset(z, middle) == before)
            low = middle;
        else
            high = middle;
    }
    return high;
}

bool bpi_zone_next_change(const bpi_zone *z, int64_t after, int64_t until, int64_t *at)
{
    for (int64_t low = after; low < until;) {
        int64_t high = until - low > STEP ? low + STEP : until;
        if (bpi_zone_offset(z, low) != bpi_zone_offset(z, high)) {
            *at = bisect(z, low, high);
            return true;
        }
        low = high;
    }
    return false;
}

bool bpi_zone_last_change(const bpi_zone *z, int64_t before, int64_t from, int64_t *at)
{
    for (int64_t high = before - 1; high >= from;) {
        int64_t low = high - from >= STEP ? high - STEP : from - 1;
        if (bpi_zone_offset(z, low) != bpi_zone_offset(z, high)) {
            *at = bisect(z, low, high);
            return true;
        }
        high = low;
    }
    return false;
}

void bpi_zone_release_all(void)
{
    if (!bpi_mem_room(
            65536)) /* to free its ring libical first asks for it: the end frees it, too */
        return;
    icaltimezone_free_builtin_timezones();
    icalmemory_free_ring();
}

#include "out/event.h"

#include <libical/ical.h>
#include <string.h>

#include "base/utf8.h"
#include "base/zone.h"

void bpi_entry_release(bpi_entry *e)
{
    bpi_text_release(&e->summary);
    bpi_text_release(&e->description);
    bpi_text_release(&e->location);
    bpi_text_release(&e->category);
}

/* ---- times ------------------------------------------------------------------------------- */

/* The same count of seconds as a date and a time, whatever clock it is read from. */
static struct icaltimetype ical_time(int64_t seconds, bool utc)
{
    int64_t day = seconds / BPI_DAY - (seconds % BPI_DAY < 0), second = seconds - day * BPI_DAY;
    bpi_date date = bpi_civil_date(day);
    struct icaltimetype t = icaltime_null_time();
    t.year = date.year;
    t.month = date.month;
    t.day = date.day;
    t.hour = (int)(second / 3600);
    t.minute = (int)(second / 60 % 60);
    t.second = (int)(second % 60);
    if (utc)
        t.zone = icaltimezone_get_utc_timezone();
    return t;
}

static int64_t seconds_of(struct icaltimetype t)
{
    bpi_date date = {t.year, t.month, t.day};
    return bpi_civil_days(date) * BPI_DAY + INT64_C(3600) * t.hour + INT64_C(60) * t.minute +
           t.second;
}

/* Is there a clock change within a day of it? */
static bool is_near_change(const bpi_entry *e, const bpi_clock *clock)
{
    int64_t at = 0;
    return bpi_zone_next_change(clock->zone, bpi_clock_utc(clock, e->from) - BPI_DAY,
                                bpi_clock_utc(clock, e->to) + BPI_DAY, &at);
}

/* Revisions of an event are told apart by SEQUENCE; the stamp goes with it, from the day of the
 * show, so that the same plan gives the same bytes at any hour. */
static struct icaltimetype stamp(const bpi_entry *e, const bpi_clock *clock)
{
    return ical_time(bpi_civil_days(clock->date) * BPI_DAY + e->sequence, true);
}

/* ---- writing ----------------------------------------------------------------------------- */

static bool add(icalcomponent *c, icalproperty *p)
{
    if (p)
        icalcomponent_add_property(c, p);
    return p != NULL;
}

static bool add_time(icalcomponent *c, bool end, int64_t t, const bpi_clock *clock, bool local)
{
    int64_t utc = bpi_clock_utc(clock, t);
    int64_t shown = local ? utc + bpi_zone_offset(clock->zone, utc) : utc;
    struct icaltimetype time = ical_time(shown, !local);
    icalproperty *p = end ? icalproperty_new_dtend(time) : icalproperty_new_dtstart(time);
    icalparameter *zone = p && local ? icalparameter_new_tzid(bpi_zone_name(clock->zone)) : NULL;
    if (zone)
        icalproperty_add_parameter(p, zone);
    return add(c, p) && (zone || !local);
}

static bool add_alarm(icalcomponent *event, const bpi_entry *e)
{
    icalcomponent *alarm = icalcomponent_new(ICAL_VALARM_COMPONENT);
    if (!alarm)
        return false;
    icalcomponent_add_component(event, alarm);
    return add(alarm, icalproperty_new_action(ICAL_ACTION_DISPLAY)) &&
           add(alarm, icalproperty_new_description(e->summary.s)) &&
           add(alarm, icalproperty_new_trigger(icaltriggertype_from_int((int)-e->lead)));
}

static bool fill(icalcomponent *c, const bpi_entry *e, const bpi_clock *clock, bool local)
{
    return add(c, icalproperty_new_uid(e->uid)) && add(c, icalproperty_new_sequence(e->sequence)) &&
           add(c, icalproperty_new_dtstamp(stamp(e, clock))) &&
           add(c, icalproperty_new_lastmodified(stamp(e, clock))) &&
           add_time(c, false, e->from, clock, local) &&
           (e->to <= e->from || add_time(c, true, e->to, clock, local)) &&
           add(c, icalproperty_new_summary(e->summary.s)) &&
           (e->description.len == 0 || add(c, icalproperty_new_description(e->description.s))) &&
           (e->location.len == 0 || add(c, icalproperty_new_location(e->location.s))) &&
           (e->category.len == 0 || add(c, icalproperty_new_categories(e->category.s))) &&
           add(c, icalproperty_new_status(e->cancelled ? ICAL_STATUS_CANCELLED
                                                       : ICAL_STATUS_CONFIRMED)) &&
           add(c, icalproperty_new_transp(e->busy && !e->cancelled ? ICAL_TRANSP_OPAQUE
                                                                   : ICAL_TRANSP_TRANSPARENT)) &&
           (!e->alarm || e->cancelled || add_alarm(c, e));
}

void bpi_event_put_folded(bpi_text *out, const char *text)
{
    static const char torn[] = "\r\r\n \n";
    for (const char *s; (s = strstr(text, torn)) != NULL; text = s + sizeof torn - 1) {
        bpi_text_add(out, text, (size_t)(s - text));
        bpi_text_put(out, "\r\n");
    }
    bpi_text_put(out, text);
}

bp_code bpi_event_write(bpi_text *out, const bpi_entry *e, const bpi_clock *clock, bool *local,
                        bp_errors *errs)
{
    if (!e->summary.s || e->summary.failed || e->description.failed || e->location.failed ||
        e->category.failed)
        return bpi_error_no_memory(errs);
    bool zoned = !e->cancelled && !clock->zone->utc && !is_near_change(e, clock);
    icalcomponent *c = icalcomponent_new(ICAL_VEVENT_COMPONENT);
    char *text = NULL;
    if (c && fill(c, e, clock, zoned))
        text = icalcomponent_as_ical_string_r(c);
    if (text)
        bpi_event_put_folded(out, text);
    bool failed = !text || out->failed;
    icalmemory_free_buffer(text);
    if (c)
        icalcomponent_free(c);
    if (failed)
        return bpi_error_no_memory(errs);
    *local = *local || zoned;
    return BP_OK;
}

/* ---- reading ----------------------------------------------------------------------------- */

/* libical makes a tab of "\\t", which we never write; and a line end belongs into descriptions. */
static bool keep(bpi_text *to, const char *from, bool lines)
{
    uint32_t code = 0;
    size_t len = from ? strlen(from) : 0;
    if (len == 0)
        return true;
    bpi_text_add(to, from, len);
    return bpi_utf8_unplain(from, len, lines, &code) == len && !strchr(from, '\t');
}

static bool read_time(int64_t *out, icalproperty *p, struct icaltimetype t, const bpi_clock *clock)
{
    icalparameter *tzid = p ? icalproperty_get_first_parameter(p, ICAL_TZID_PARAMETER) : NULL;
    /* libical's own test lets month 13 and hour 25 through. */
    if (!p || t.is_date || !bpi_civil_valid((bpi_date){t.year, t.month, t.day}) || t.hour < 0 ||
        t.hour > 23 || t.minute < 0 || t.minute > 59 || t.second < 0 || t.second > 59)
        return false;
    int64_t utc[2] = {seconds_of(t), 0};
    if (tzid) {
        bpi_zone zone;
        if (bpi_zone_find(&zone, icalparameter_get_tzid(tzid)) != BP_OK ||
            bpi_zone_instants(&zone, seconds_of(t), utc) == 0)
            return false;
    }
    *out = bpi_clock_of_utc(clock, utc[0]);
    return true;
}

static bool take(bpi_entry *e, icalcomponent *c, const bpi_clock *clock)
{
    icalproperty *start = icalcomponent_get_first_property(c, ICAL_DTSTART_PROPERTY);
    icalproperty *end = icalcomponent_get_first_property(c, ICAL_DTEND_PROPERTY);
    icalproperty *category = icalcomponent_get_first_property(c, ICAL_CATEGORIES_PROPERTY);
    const char *uid = icalcomponent_get_uid(c);
    const char *summary = icalcomponent_get_summary(c);
    if (!start || !uid || strlen(uid) != BPI_UUID_TEXT - 1 || !summary ||
        icalcomponent_count_errors(c) > 0)
        return false;
    if (!read_time(&e->from, start, icalproperty_get_dtstart(start), clock))
        return false;
    e->to = e->from;
    if (end && !read_time(&e->to, end, icalproperty_get_dtend(end), clock))
        return false;
    memcpy(e->uid, uid, BPI_UUID_TEXT);
    e->sequence = icalcomponent_get_sequence(c);
    e->cancelled = icalcomponent_get_status(c) == ICAL_STATUS_CANCELLED;
    return keep(&e->summary, summary, false) &&
           keep(&e->description, icalcomponent_get_description(c), true) &&
           keep(&e->location, icalcomponent_get_location(c), false) &&
           keep(&e->category, category ? icalproperty_get_categories(category) : NULL, false);
}

bp_code bpi_event_read(bpi_entry *out, const char *bytes, size_t len, const bpi_clock *clock,
                       const char *file, bp_errors *errs)
{
    *out = (bpi_entry){0};
    bpi_text copy = BPI_TEXT_EMPTY; /* libical wants a NUL */
    bpi_text_add(&copy, bytes, len);
    if (copy.failed)
        return bpi_error_no_memory(errs);
    icalcomponent *c = icalparser_parse_string(copy.s);
    bpi_text_release(&copy);
    bool good = c && icalcomponent_isa(c) == ICAL_VEVENT_COMPONENT && take(out, c, clock);
    if (c)
        icalcomponent_free(c);
    bp_code rc = BP_OK;
    if (!good)
        rc = bpi_error_add(errs, BP_EIO, (bpi_where){.file = file},
                           "an event of the earlier calendar cannot be read",
                           "delete it, or write to another folder");
    else if (out->summary.failed || out->description.failed || out->location.failed ||
             out->category.failed)
        rc = bpi_error_no_memory(errs);
    if (rc != BP_OK) {
        bpi_entry_release(out);
        *out = (bpi_entry){0};
    }
    return rc;
}

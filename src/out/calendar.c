#include "out/calendar.h"

#include <libical/ical.h>
#include <stdio.h>
#include <string.h>

#include "base/digest.h"
#include "base/memory.h"
#include "base/uuid.h"
#include "out/event.h"
#include "out/moment.h"
#include "out/tell.h"

/* One calendar being written. */
typedef struct scribe {
    const bp_plan *plan;
    const char *cook; /* NULL: the kitchen's */
    uint32_t person;  /* of the cook; BP_NO_INDEX */
    char file[BPI_CALENDAR_ROOM];
    bpi_zone zone;
    bpi_clock clock;
    bpi_earlier *earlier;
    bpi_text events; /* written so far          */
    bool local;      /* one of them names the zone */
    bp_errors *errs;
} scribe;

/* ---- names ------------------------------------------------------------------------------- */

char *bpi_calendar_file(char out[BPI_CALENDAR_ROOM], const char *cook)
{
    if (!cook) {
        snprintf(out, BPI_CALENDAR_ROOM, "prep.ics");
        return out;
    }
    char id[41] = "", mark[BPI_DIGEST_TEXT + 1] = "";
    size_t len = strlen(cook), n = 0;
    bool changed = len == 0 || len > 40;
    for (; n < len && n < sizeof id - 1; n++) {
        char c = cook[n];
        bool fits = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
        id[n] = fits ? c : '-';
        changed = changed || !fits;
    }
    if (changed) {
        mark[0] = '-';
        bpi_digest_text(mark + 1, cook, len);
    }
    snprintf(out, BPI_CALENDAR_ROOM, "prep-%s%s.ics", id, mark);
    return out;
}

static bool has_work(const bp_plan *plan, uint32_t person)
{
    for (uint32_t i = 0; i < plan->ops; i++)
        if (plan->op[i].person == person)
            return true;
    return false;
}

/* Does the list of ids, with one blank between, hold this one? */
static bool lists(const char *ids, const char *id)
{
    size_t n = strlen(id);
    for (const char *s = ids; n && (s = strstr(s, id)) != NULL; s += n)
        if ((s == ids || s[-1] == ' ') && (s[n] == '\0' || s[n] == ' '))
            return true;
    return false;
}

static bool is_person(const bp_plan *plan, const char *id, size_t len)
{
    for (uint32_t i = 0; i < plan->persons; i++)
        if (strlen(plan->person[i].id) == len && memcmp(plan->person[i].id, id, len) == 0)
            return true;
    return false;
}

const char *bpi_calendar_cooks(bpi_arena *a, const bp_plan *plan, const char *earlier)
{
    bpi_text t = BPI_TEXT_EMPTY;
    for (uint32_t i = 0; i < plan->persons; i++) {
        const char *id = plan->person[i].id;
        if (has_work(plan, i) || lists(earlier, id))
            bpi_text_f(&t, "%s%s", t.len ? " " : "", id);
    }
    for (const char *s = earlier; *s;) {
        size_t n = strcspn(s, " ");
        if (n && !is_person(plan, s, n)) {
            bpi_text_put(&t, t.len ? " " : "");
            bpi_text_add(&t, s, n);
        }
        s += n + (s[n] == ' ');
    }
    const char *kept = t.failed ? NULL : bpi_arena_copy(a, t.s ? t.s : "", t.len);
    bpi_text_release(&t);
    return kept;
}

/* ---- one event after the other ----------------------------------------------------------- */

static void name_it(bpi_entry *e, const scribe *s, const char *what, const char *key)
{
    bpi_text name = BPI_TEXT_EMPTY;
    bpi_text_f(&name, "%s/%s/%s%s", s->plan->show_id, s->file, what, key);
    if (name.failed)
        e->summary.failed = true; /* as if that text had failed: noticed when it is written */
    else
        bpi_uuid_text(e->uid, bpi_uuid_named(bpi_uuid_backpot(), name.s, name.len));
    bpi_text_release(&name);
}

/* Writes the event with the SEQUENCE it had, and with the next one where its bytes then differ. */
static bp_code put_event(scribe *s, bpi_entry *e)
{
    bpi_earlier_event *old = bpi_earlier_find(s->earlier, e->uid);
    size_t from = s->events.len;
    if (old) {
        e->sequence = old->sequence;
        old->kept = true;
    }
    bp_code rc = bpi_event_write(&s->events, e, &s->clock, &s->local, s->errs);
    if (rc != BP_OK || !old)
        return rc;
    if (s->events.len - from == old->len && memcmp(s->events.s + from, old->bytes, old->len) == 0)
        return BP_OK;
    s->events.len = from;
    s->events.s[from] = '\0';
    e->sequence++;
    return bpi_event_write(&s->events, e, &s->clock, &s->local, s->errs);
}

static bp_code put_airs(scribe *s)
{
    bp_code rc = BP_OK;
    for (uint32_t i = 0; i < s->plan->airs && rc == BP_OK; i++) {
        const bp_air *air = &s->plan->air[i];
        bpi_entry e = {.busy = true, .alarm = true, .lead = s->plan->alarm};
        e.from = air->hit;
        e.to = air->hit + air->slot;
        bpi_tell_air(&e, s->plan, &s->clock, air);
        name_it(&e, s, "on-air:", air->id);
        rc = put_event(s, &e);
        bpi_entry_release(&e);
    }
    return rc;
}

static bool is_wanted(const scribe *s, const bp_op *op)
{
    if (s->cook)
        return op->person == s->person;
    return op->person != BP_NO_INDEX || op->kind == BP_OP_PASSIVE || op->kind == BP_OP_OVEN;
}

static bp_code put_ops(scribe *s)
{
    bp_code rc = BP_OK;
    for (uint32_t i = 0; i < s->plan->ops && rc == BP_OK; i++) {
        const bp_op *op = &s->plan->op[i];
        if (!is_wanted(s, op))
            continue;
        bool by_hand = op->person != BP_NO_INDEX;
        bpi_entry e = {.busy = by_hand, .alarm = by_hand, .lead = s->plan->alarm};
        e.from = op->from;
        e.to = op->to;
        bpi_tell_op(&e, s->plan, &s->clock, op);
        name_it(&e, s, "", op->key);
        rc = put_event(s, &e);
        bpi_entry_release(&e);
    }
    return rc;
}

static bp_code cancel(scribe *s, const bpi_earlier_event *old)
{
    static const char mark[] = "Cancelled: ";
    bpi_entry e;
    bp_code rc = bpi_event_read(&e, old->bytes, old->len, &s->clock, s->file, s->errs);
    if (rc != BP_OK)
        return rc;
    bpi_text marked = BPI_TEXT_EMPTY;
    bpi_text_f(&marked, "%s%s", mark, e.summary.s);
    bpi_text_release(&e.summary);
    e.summary = marked;
    e.cancelled = true;
    e.sequence = old->sequence + 1;
    rc = bpi_event_write(&s->events, &e, &s->clock, &s->local, s->errs);
    bpi_entry_release(&e);
    return rc;
}

static bp_code put_gone(scribe *s)
{
    bp_code rc = BP_OK;
    for (uint32_t i = 0; i < s->earlier->events && rc == BP_OK; i++) {
        const bpi_earlier_event *old = &s->earlier->event[i];
        if (old->kept)
            continue;
        if (old->cancelled)
            bpi_text_add(&s->events, old->bytes, old->len);
        else
            rc = cancel(s, old);
    }
    return rc;
}

/* ---- the calendar around them ------------------------------------------------------------ */

static bool add(icalcomponent *c, icalproperty *p)
{
    if (p)
        icalcomponent_add_property(c, p);
    return p != NULL;
}

/* libical leaves ';' and ',' in an X- value bare and doubles a backslash. */
static bool add_x(icalcomponent *c, const char *name, const char *value)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_tell_plain(&t, value, strlen(value));
    for (size_t i = 0; i < t.len; i++)
        if (strchr(";,\\", t.s[i]))
            t.s[i] = ' ';
    icalproperty *p = t.failed ? NULL : icalproperty_new_x(t.s ? t.s : "");
    if (p)
        icalproperty_set_x_name(p, name);
    bpi_text_release(&t);
    return add(c, p);
}

/* The rules of the zone from a year before the plan on, under its plain name: a year is enough for
 * any reader to know which of them is in force, and a full set goes back to 1891. */
static bool add_zone(icalcomponent *c, const scribe *s)
{
    icalcomponent *zone = icalcomponent_new_clone(icaltimezone_get_component(s->zone.ical));
    if (!zone)
        return false;
    icalcomponent_add_component(c, zone);
    struct icaltimetype start = icaltime_null_time();
    start.year = s->plan->year - 1;
    start.month = start.day = 1;
    icaltimezone_truncate_vtimezone(zone, start, icaltime_null_time(), 0);
    icalproperty *tzid = icalcomponent_get_first_property(zone, ICAL_TZID_PROPERTY);
    if (tzid)
        icalproperty_set_tzid(tzid, bpi_zone_name(&s->zone));
    return tzid != NULL;
}

static void put_title(bpi_text *out, const scribe *s)
{
    const char *who = s->person != BP_NO_INDEX ? s->plan->person[s->person].name : s->cook;
    bpi_tell_plain(out, s->plan->title, strlen(s->plan->title));
    bpi_text_put(out, who ? ": " : "");
    bpi_tell_plain(out, who ? who : "", who ? strlen(who) : 0);
}

static bool fill(icalcomponent *c, const scribe *s, const char *cooks)
{
    bpi_text title = BPI_TEXT_EMPTY, about = BPI_TEXT_EMPTY;
    put_title(&title, s);
    bpi_text_f(&about, "Plan %s. ", s->plan->stamp);
    bpi_tell_plain(&about, s->plan->defer, strlen(s->plan->defer));
    bool good = !title.failed && !about.failed && title.s && about.s &&
                add(c, icalproperty_new_version("2.0")) &&
                add(c, icalproperty_new_prodid(BPI_CALENDAR_PRODID)) &&
                add(c, icalproperty_new_calscale("GREGORIAN")) &&
                add(c, icalproperty_new_name(title.s)) && add_x(c, "X-WR-CALNAME", title.s) &&
                add(c, icalproperty_new_description(about.s)) &&
                add_x(c, BPI_CALENDAR_SHOW, s->plan->show_id) &&
                (s->cook || !*cooks || add_x(c, BPI_CALENDAR_COOKS, cooks)) &&
                (!s->local || add_zone(c, s));
    bpi_text_release(&title);
    bpi_text_release(&about);
    return good;
}

static bp_code put_calendar(bpi_text *out, const scribe *s, const char *cooks)
{
    static const char end[] = "END:VCALENDAR\r\n";
    icalcomponent *c = icalcomponent_new(ICAL_VCALENDAR_COMPONENT);
    char *text = c && fill(c, s, cooks) ? icalcomponent_as_ical_string_r(c) : NULL;
    size_t len = text ? strlen(text) : 0;
    bool good = len > sizeof end - 1 && strcmp(text + len - (sizeof end - 1), end) == 0;
    if (good) { /* the events stand between its last component and its end */
        text[len - (sizeof end - 1)] = '\0';
        bpi_event_put_folded(out, text);
        bpi_text_add(out, s->events.s, s->events.len);
        bpi_text_add(out, end, sizeof end - 1);
    }
    icalmemory_free_buffer(text);
    if (c)
        icalcomponent_free(c);
    return good && !out->failed ? BP_OK : bpi_error_no_memory(s->errs);
}

bp_code bpi_calendar_write(bpi_text *out, const bp_plan *plan, const char *cook,
                           bpi_earlier *earlier, const char *cooks, bp_errors *errs)
{
    scribe s = {.plan = plan, .cook = cook, .person = BP_NO_INDEX, .earlier = earlier};
    s.errs = errs;
    for (uint32_t i = 0; cook && i < plan->persons; i++)
        if (strcmp(plan->person[i].id, cook) == 0)
            s.person = i;
    bpi_calendar_file(s.file, cook);
    if (!bpi_mem_room(BPI_ROOM_CALENDAR))
        return bpi_error_no_memory(errs);
    bp_code rc = bpi_moment_clock(&s.clock, &s.zone, plan, errs);
    bool live = !cook || (s.person != BP_NO_INDEX && has_work(plan, s.person));
    if (rc == BP_OK && live)
        rc = put_airs(&s);
    if (rc == BP_OK && live)
        rc = put_ops(&s);
    if (rc == BP_OK)
        rc = put_gone(&s);
    if (rc == BP_OK)
        rc = put_calendar(out, &s, cooks);
    bpi_text_release(&s.events);
    return rc;
}

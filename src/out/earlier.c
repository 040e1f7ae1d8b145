#include "out/earlier.h"

#include <string.h>

#include "base/text.h"
#include "base/utf8.h"

#define LINE_MOST     75 /* octets of a line before its CRLF, RFC 5545 3.1 */
#define SEQUENCE_MOST 1000000000
#define CURE          "delete it, or write to another folder"

typedef struct reader {
    const char *bytes, *name;
    size_t len, at; /* `at`: the first byte not read yet */
    uint32_t line;  /* of the file, from 1               */
    bpi_text text;  /* the line in hand, unfolded        */
    bp_errors *errs;
} reader;

static bp_code bad(const reader *r, const char *wrong)
{
    bpi_where where = {.file = r->name, .line = r->line, .col = r->line ? 1 : 0};
    return bpi_error_add(r->errs, BP_EIO, where, wrong, CURE);
}

/* One line of the file, without its CRLF. */
static bp_code read_physical(reader *r, const char **s, size_t *len)
{
    const char *from = r->bytes + r->at;
    const char *end = memchr(from, '\n', r->len - r->at);
    r->line++;
    if (!end || end == from || end[-1] != '\r')
        return bad(r, "this line of the earlier calendar does not end in CR LF");
    *s = from;
    *len = (size_t)(end - from) - 1;
    r->at += *len + 2;
    if (*len == 0 || *len > LINE_MOST)
        return bad(r, "this line of the earlier calendar is empty or longer than 75 bytes");
    return BP_OK;
}

/* The next line, unfolded. BP_OK with r->text.len 0: the end. */
static bp_code read_line(reader *r)
{
    bpi_text_reset(&r->text);
    if (r->at >= r->len)
        return BP_OK;
    const char *s = NULL;
    size_t len = 0;
    bp_code rc = read_physical(r, &s, &len);
    if (rc != BP_OK)
        return rc;
    bpi_text_add(&r->text, s, len);
    while (r->at < r->len && r->bytes[r->at] == ' ') {
        rc = read_physical(r, &s, &len);
        if (rc != BP_OK)
            return rc;
        bpi_text_add(&r->text, s + 1, len - 1);
    }
    if (r->text.failed)
        return bpi_error_no_memory(r->errs);
    uint32_t code = 0;
    if (bpi_utf8_unplain(r->text.s, r->text.len, false, &code) != r->text.len)
        return bad(r, "this line of the earlier calendar holds a byte that no text has");
    return BP_OK;
}

/* The value of a property without parameters; NULL: the line is another. */
static const char *value_of(const reader *r, const char *property)
{
    size_t n = strlen(property);
    const char *s = r->text.s;
    return strncmp(s, property, n) == 0 && s[n] == ':' ? s + n + 1 : NULL;
}

static bool is(const reader *r, const char *line)
{
    return strcmp(r->text.s, line) == 0;
}

static bool read_uid(char out[BPI_UUID_TEXT], const char *s)
{
    if (strlen(s) != BPI_UUID_TEXT - 1 || strspn(s, "0123456789abcdef-") != BPI_UUID_TEXT - 1)
        return false;
    memcpy(out, s, BPI_UUID_TEXT);
    return true;
}

static bool read_sequence(int *out, const char *s)
{
    int n = 0;
    if (!*s)
        return false;
    for (; *s; s++) {
        if (*s < '0' || *s > '9' || n > SEQUENCE_MOST / 10)
            return false;
        n = n * 10 + (*s - '0');
    }
    *out = n;
    return true;
}

/* After BEGIN:VEVENT, up to and with its END. */
static bp_code read_event(reader *r, bpi_earlier_event *e)
{
    uint32_t inside = 0; /* alarms */
    bool uid = false, sequence = false;
    for (;;) {
        bp_code rc = read_line(r);
        if (rc != BP_OK)
            return rc;
        const char *value = NULL;
        if (r->text.len == 0)
            return bad(r, "the earlier calendar ends inside an event");
        if (is(r, "BEGIN:VALARM") && inside == 0)
            inside = 1;
        else if (is(r, "END:VALARM") && inside == 1)
            inside = 0;
        else if (is(r, "END:VEVENT") && inside == 0)
            break;
        else if (strncmp(r->text.s, "BEGIN:", 6) == 0 || strncmp(r->text.s, "END:", 4) == 0)
            return bad(r, "the parts of the earlier calendar are not nested as they should be");
        else if (inside)
            continue;
        else if ((value = value_of(r, "UID")) != NULL) {
            if (uid || !read_uid(e->uid, value))
                return bad(r, "this UID in the earlier calendar is none of ours");
            uid = true;
        } else if ((value = value_of(r, "SEQUENCE")) != NULL) {
            if (sequence || !read_sequence(&e->sequence, value))
                return bad(r, "this SEQUENCE in the earlier calendar is no usable number");
            sequence = true;
        } else if (is(r, "STATUS:CANCELLED"))
            e->cancelled = true;
    }
    if (!uid || !sequence)
        return bad(r, "an event of the earlier calendar has no UID or no SEQUENCE");
    return BP_OK;
}

/* A time zone, or anything else that is not looked into. */
static bp_code skip_component(reader *r)
{
    for (uint32_t depth = 1; depth > 0;) {
        bp_code rc = read_line(r);
        if (rc != BP_OK)
            return rc;
        if (r->text.len == 0)
            return bad(r, "the earlier calendar ends inside a component");
        if (strncmp(r->text.s, "BEGIN:", 6) == 0)
            depth++;
        else if (strncmp(r->text.s, "END:", 4) == 0)
            depth--;
    }
    return BP_OK;
}

/* Ours, but of another form, which may mean something else. */
static bool is_other_version(const char *prodid)
{
    static const char ours[] = "-//backpot//prep calendar ";
    return strncmp(prodid, ours, sizeof ours - 1) == 0;
}

static bp_code read_body(reader *r, bpi_earlier *out, bpi_arena *a, const char *show)
{
    void *list = NULL;
    size_t room = 0;
    bool ours = false, of_show = false;
    for (;;) {
        size_t from = r->at;
        const char *value = NULL;
        bp_code rc = read_line(r);
        if (rc != BP_OK)
            return rc;
        if (r->text.len == 0)
            return bad(r, "the earlier calendar ends before END:VCALENDAR");
        if (is(r, "END:VCALENDAR"))
            break;
        if (is(r, "BEGIN:VEVENT")) {
            if (!ours || !of_show)
                return bad(r, "the earlier calendar was not written by this program");
            bpi_earlier_event *e = bpi_arena_more(a, &list, &room, out->events, sizeof *e);
            if (!e)
                return bpi_error_no_memory(r->errs);
            out->event = list;
            rc = read_event(r, e);
            if (rc == BP_OK && bpi_earlier_find(out, e->uid))
                rc = bad(r, "an event stands twice in the earlier calendar");
            e->bytes = r->bytes + from;
            e->len = r->at - from;
            out->events++;
        } else if (strncmp(r->text.s, "BEGIN:", 6) == 0) {
            rc = skip_component(r);
        } else if ((value = value_of(r, "PRODID")) != NULL) {
            ours = strcmp(value, BPI_CALENDAR_PRODID) == 0;
            if (!ours)
                return bad(r, is_other_version(value)
                                  ? "the earlier calendar was written by another version of backpot"
                                  : "the earlier calendar was not written by this program");
        } else if ((value = value_of(r, BPI_CALENDAR_SHOW)) != NULL) {
            of_show = strcmp(value, show) == 0;
            if (!of_show)
                return bad(r, "the earlier calendar belongs to another show");
        } else if ((value = value_of(r, BPI_CALENDAR_COOKS)) != NULL) {
            out->cooks = bpi_arena_copy(a, value, strlen(value));
            if (!out->cooks)
                return bpi_error_no_memory(r->errs);
        }
        if (rc != BP_OK)
            return rc;
    }
    if (!ours || !of_show)
        return bad(r, "the earlier calendar was not written by this program");
    return r->at == r->len ? BP_OK : bad(r, "something follows the end of the earlier calendar");
}

bp_code bpi_earlier_read(bpi_earlier *out, bpi_arena *a, const char *bytes, size_t len,
                         const char *name, const char *show, bp_errors *errs)
{
    *out = (bpi_earlier){.cooks = ""};
    reader r = {.bytes = bytes, .name = name, .len = len, .errs = errs};
    bp_code rc = read_line(&r);
    if (rc == BP_OK && (r.text.len == 0 || !is(&r, "BEGIN:VCALENDAR")))
        rc = bad(&r, "the earlier file is no calendar");
    if (rc == BP_OK)
        rc = read_body(&r, out, a, show);
    bpi_text_release(&r.text);
    if (rc != BP_OK)
        *out = (bpi_earlier){.cooks = ""};
    return rc;
}

bpi_earlier_event *bpi_earlier_find(const bpi_earlier *e, const char *uid)
{
    for (uint32_t i = 0; i < e->events; i++)
        if (strcmp(e->event[i].uid, uid) == 0)
            return &e->event[i];
    return NULL;
}

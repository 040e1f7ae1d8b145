#include "model/duration.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "base/near.h"

#define MOST_NUMBER 10000000 /* digits stop counting here: far above BPI_MAX_LENGTH, no overflow */

typedef struct unit {
    const char *name;
    int64_t seconds;
} unit;

static const unit units[] = {{"d", 86400}, {"h", 3600}, {"min", 60}, {"s", 1}};
#define UNITS (sizeof units / sizeof *units)

/* What people write instead. */
static const struct {
    const char *other, *name;
} others[] = {
    {"day", "d"}, {"days", "d"}, {"hour", "h"},   {"hours", "h"},    {"hr", "h"},
    {"hrs", "h"}, {"m", "min"},  {"mins", "min"}, {"minute", "min"}, {"minutes", "min"},
    {"sec", "s"}, {"secs", "s"}, {"second", "s"}, {"seconds", "s"},
};

/* Where reading stands in a text. */
typedef struct cursor {
    const char *s;
    size_t at, len;
    bpi_fault *f;
} cursor;

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static char peek(const cursor *c)
{
    return c->at < c->len ? c->s[c->at] : '\0';
}

static bool take(cursor *c, const char *text)
{
    size_t n = strlen(text);
    if (c->len - c->at < n || memcmp(c->s + c->at, text, n) != 0)
        return false;
    c->at += n;
    return true;
}

/* Does a hyphen or an en dash stand here, perhaps after one blank? Take it and the blank behind. */
static bool take_dash(cursor *c)
{
    cursor d = *c;
    take(&d, " ");
    if (!take(&d, "-") && !take(&d, "\xE2\x80\x93"))
        return false;
    take(&d, " ");
    *c = d;
    return true;
}

static bool too_long(cursor *c, size_t at)
{
    return bpi_fault_set(c->f, at, "at most 7 d can be planned", "the length is more than 7 days");
}

static bool read_number(cursor *c, int64_t *out)
{
    size_t from = c->at;
    int64_t n = 0;
    for (; is_digit(peek(c)); c->at++)
        n = n >= MOST_NUMBER ? n : n * 10 + (peek(c) - '0');
    if (c->at == from) {
        if (take(c, "-") || take(c, "\xE2\x88\x92"))
            return bpi_fault_set(c->f, from, "write it without the minus sign",
                                 "a length of time cannot be negative");
        return bpi_fault_set(c->f, from, "write it like \"8 min\", \"20 s\" or \"1 h 10 min\"",
                             c->len == 0 ? "the length of time is empty"
                                         : "a length of time needs a number here");
    }
    if (peek(c) == '.' || peek(c) == ',')
        return bpi_fault_set(c->f, c->at, "write \"1 h 30 min\", not \"1.5 h\"",
                             "a length of time is made of whole numbers");
    *out = n;
    return true;
}

static bool read_unit(cursor *c, size_t *out)
{
    take(c, " ");
    size_t from = c->at;
    while (is_letter(peek(c)))
        c->at++;
    const char *name = c->s + from;
    size_t len = c->at - from;
    if (len == 0) {
        cursor dash = *c;
        if (take_dash(&dash) && is_digit(peek(&dash)))
            return bpi_fault_set(c->f, from, "write one length, such as \"8 min\"",
                                 "a window cannot stand here");
        if (peek(c) == ':')
            return bpi_fault_set(c->f, from, "write \"4 min 25 s\"",
                                 "minutes:seconds is the form of a slot only");
        return bpi_fault_set(c->f, from, "write one of \"s\", \"min\", \"h\", \"d\"",
                             "the number has no unit");
    }
    for (size_t i = 0; i < UNITS; i++)
        if (strlen(units[i].name) == len && memcmp(units[i].name, name, len) == 0) {
            *out = i;
            return true;
        }
    const char *meant = NULL;
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (bpi_near_distance(others[i].other, strlen(others[i].other), name, len, 0) == 0)
            meant = others[i].name;
    bpi_near near = bpi_near_to(name, len);
    for (size_t i = 0; i < UNITS; i++)
        bpi_near_offer(&near, units[i].name);
    meant = meant ? meant : near.name;
    int shown = len < 20 ? (int)len : 20;
    bpi_fault_set(c->f, from, "write one of \"s\", \"min\", \"h\", \"d\"",
                  "unit \"%.*s\" is not known", shown, name);
    return meant ? bpi_fault_right(c->f, "write \"%s\"", meant) : false;
}

/* "1 h 10 min", whose first number stood at `start`; stops at the end or before a dash. *parts
 * counts. */
static bool read_parts(cursor *c, size_t start, int64_t first, int64_t *out, size_t *first_unit,
                       int *parts)
{
    int64_t sum = 0, n = first;
    size_t last = 0;
    for (*parts = 0;;) {
        size_t at = c->at, u = 0;
        if (!read_unit(c, &u))
            return false;
        if (*parts && u <= last)
            return bpi_fault_set(c->f, at, "write each unit once, the larger first: \"1 h 10 min\"",
                                 "\"%s\" cannot follow \"%s\"", units[u].name, units[last].name);
        if (*parts == 0)
            *first_unit = u;
        last = u;
        sum += n * units[u].seconds; /* at most 4 * 10^8 * 86400 */
        (*parts)++;
        cursor ahead = *c;
        take(&ahead, " ");
        if (!is_digit(peek(&ahead)))
            break;
        *c = ahead;
        if (!read_number(c, &n))
            return false;
    }
    if (sum > BPI_MAX_LENGTH)
        return too_long(c, start);
    *out = sum;
    return true;
}

static bool read_iso(cursor *c, int64_t *out)
{
    static const struct {
        char letter;
        bool clock; /* only after "T" */
        int64_t seconds;
    } forms[] = {{'D', false, 86400}, {'H', true, 3600}, {'M', true, 60}, {'S', true, 1}};
    const char *right = "write it like \"PT15M\", \"PT1H10M\" or \"P1D\", or plainly \"15 min\"";
    size_t start = c->at, next = 0;
    int64_t sum = 0;
    bool clock = false, any = false;
    c->at++; /* the "P" */
    for (;;) {
        if (!clock && take(c, "T")) {
            clock = true;
            any = false;
        }
        if (!is_digit(peek(c)))
            break;
        int64_t n = 0;
        if (!read_number(c, &n))
            return false;
        size_t i = next;
        while (i < 4 && (forms[i].letter != peek(c) || forms[i].clock != clock))
            i++;
        if (i == 4)
            return bpi_fault_set(c->f, c->at, right,
                                 "this is not an ISO 8601 length in days, hours, minutes, seconds");
        c->at++;
        next = i + 1;
        any = true;
        sum += n * forms[i].seconds;
    }
    if (!any)
        return bpi_fault_set(c->f, c->at, right, "the ISO 8601 length is not complete");
    if (sum > BPI_MAX_LENGTH)
        return too_long(c, start);
    *out = sum;
    return true;
}

static bool at_end(cursor *c, const char *what)
{
    if (c->at == c->len)
        return true;
    return bpi_fault_set(c->f, c->at, "take it out", "\"%.*s\" cannot follow %s",
                         (int)(c->len - c->at < 20 ? c->len - c->at : 20), c->s + c->at, what);
}

static bool read_span(cursor *c, int64_t *out)
{
    int64_t first = 0;
    size_t u = 0;
    int parts = 0;
    if (peek(c) == 'P')
        return read_iso(c, out);
    size_t start = c->at;
    return read_number(c, &first) && read_parts(c, start, first, out, &u, &parts);
}

bool bpi_span_read(int64_t *out, const char *text, size_t len, bpi_fault *f)
{
    cursor c = {text, 0, len, f};
    int64_t seconds = 0;
    if (!read_span(&c, &seconds))
        return false;
    cursor d = c;
    if (take_dash(&d))
        return bpi_fault_set(f, c.at, "write one length, such as \"8 min\"",
                             "a window cannot stand here");
    if (!at_end(&c, "a length of time"))
        return false;
    *out = seconds;
    return true;
}

bool bpi_slot_read(int64_t *out, const char *text, size_t len, bpi_fault *f)
{
    cursor c = {text, 0, len, f};
    size_t digits = 0;
    while (digits < len && is_digit(text[digits]))
        digits++;
    if (digits == 0 || digits == len || text[digits] != ':')
        return bpi_span_read(out, text, len, f);
    int64_t minutes = 0, seconds = 0;
    if (!read_number(&c, &minutes))
        return false;
    size_t at = ++c.at;
    if (!read_number(&c, &seconds))
        return false;
    if (c.at - at != 2 || seconds > 59)
        return bpi_fault_set(f, at, "write two digits from 00 to 59, such as \"4:25\"",
                             "the seconds of minutes:seconds are not right");
    if (!at_end(&c, "minutes:seconds"))
        return false;
    if (minutes * 60 + seconds > BPI_MAX_LENGTH)
        return too_long(&c, 0);
    *out = minutes * 60 + seconds;
    return true;
}

bool bpi_window_read(int64_t *least, int64_t *most, const char *text, size_t len, bpi_fault *f)
{
    cursor c = {text, 0, len, f};
    int64_t low = 0, high = 0, n = 0;
    size_t u = 0;
    int parts = 0;
    if (peek(&c) == 'P') {
        if (!read_iso(&c, &low))
            return false;
        high = low;
    } else {
        if (!read_number(&c, &n))
            return false;
        if (take_dash(&c)) { /* "15-18 min": the unit stands once */
            size_t second = c.at;
            int64_t m = 0;
            if (!read_number(&c, &m) || !read_parts(&c, second, m, &high, &u, &parts))
                return false;
            if (parts > 1)
                return bpi_fault_set(f, second, "give both ends a unit: \"1 min - 2 min 30 s\"",
                                     "the first number of the window has no unit");
            low = n * units[u].seconds;
        } else {
            if (!read_parts(&c, 0, n, &low, &u, &parts))
                return false;
            high = low;
            if (take_dash(&c) && !read_span(&c, &high))
                return false;
        }
    }
    if (!at_end(&c, "a length of time"))
        return false;
    if (low > high)
        return bpi_fault_set(f, 0, "write the shorter length first",
                             "the window ends before it begins");
    *least = low;
    *most = high;
    return true;
}

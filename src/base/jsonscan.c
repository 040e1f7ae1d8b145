#include "base/jsonscan.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"
#include "base/utf8.h"

#define MOST_NUMBER 60 /* characters: cJSON keeps a number in 64 bytes while it reads it */

typedef struct scan {
    bpi_json_marks *out;
    bpi_arena *a;
    const char *file;
    const char *s;
    size_t len, i;    /* the byte to be read next           */
    size_t line_from; /* where its line begins              */
    uint32_t line;    /* its number                         */
    unsigned depth;
    bool bad, stop; /* something was reported; it hides the rest */
    bp_code code;   /* of the first report                */
    bp_errors *errs;
} scan;

static bpi_where here(const scan *c, size_t at)
{
    return (bpi_where){.file = c->file, .line = c->line, .col = (uint32_t)(at - c->line_from + 1)};
}

static void report(scan *c, size_t at, bp_code code, const char *wrong, const char *right)
{
    bpi_error_add(c->errs, code, here(c, at), wrong, right);
    if (!c->bad)
        c->code = code;
    c->bad = true;
}

/* Report what makes it impossible to say how the text goes on. */
static bool give_up(scan *c, size_t at, bp_code code, const char *wrong, const char *right)
{
    report(c, at, code, wrong, right);
    c->stop = true;
    return false;
}

static bool at_end(const scan *c)
{
    return c->i >= c->len;
}

/* What stands at `at`, for a message. */
static void found(const scan *c, size_t at, char out[32])
{
    uint32_t code = 0;
    size_t n = at < c->len ? bpi_utf8_step(c->s + at, c->len - at, &code) : 0;
    if (at >= c->len)
        snprintf(out, 32, "the end of the text");
    else if (n == 0)
        snprintf(out, 32, "byte 0x%02X", (unsigned)(unsigned char)c->s[at]);
    else if (bpi_utf8_is_control(code) || bpi_utf8_is_bidi(code) || code == 0xFEFF)
        snprintf(out, 32, "character U+%04X", (unsigned)code);
    else
        snprintf(out, 32, "'%.*s'", (int)n, c->s + at);
}

static bool unexpected(scan *c, const char *right)
{
    char what[32], wrong[64];
    found(c, c->i, what);
    snprintf(wrong, sizeof wrong, "%s is not expected here", what);
    return give_up(c, c->i, BP_ESYNTAX, wrong, right);
}

static void skip_blanks(scan *c)
{
    for (; !at_end(c); c->i++) {
        char x = c->s[c->i];
        if (x == '\n') {
            c->line++;
            c->line_from = c->i + 1;
        } else if (x != ' ' && x != '\t' && x != '\r') {
            return;
        }
    }
}

static int hex4(const scan *c, size_t at)
{
    int code = 0;
    for (size_t i = at; i < at + 4; i++) {
        char x = i < c->len ? c->s[i] : '\0';
        int digit = x >= '0' && x <= '9'   ? x - '0'
                    : x >= 'a' && x <= 'f' ? x - 'a' + 10
                    : x >= 'A' && x <= 'F' ? x - 'A' + 10
                                           : -1;
        if (digit < 0)
            return -1;
        code = code * 16 + digit;
    }
    return code;
}

/* The escape at c->i, which is a backslash. Steps over as much of it as can be told. */
static void scan_escape(scan *c)
{
    size_t at = c->i;
    char x = at + 1 < c->len ? c->s[at + 1] : '\0';
    if (x != 'u') {
        if (x == '\0' || !strchr("\"\\/bfnrt", x))
            report(c, at, BP_ESYNTAX, "no such escape in a text",
                   "after '\\' stands one of \" \\ / b f n r t, or u and four hexadecimal digits");
        /* A raw control character or the end after it is met again by the caller. */
        c->i += (unsigned char)x >= 0x20 && (unsigned char)x < 0x80 ? 2 : 1;
        return;
    }
    int code = hex4(c, at + 2);
    c->i += 2;
    if (code < 0) {
        report(c, at, BP_ESYNTAX, "\\u without four hexadecimal digits", "such as \\u00BD");
        return;
    }
    c->i += 4;
    if (code == 0) {
        report(c, at, BP_ESYNTAX, "\\u0000 in a text", "leave it out: it ends a text in C");
    } else if (code >= 0xDC00 && code <= 0xDFFF) {
        report(c, at, BP_ESYNTAX, "second half of a surrogate pair without the first",
               "write the character itself");
    } else if (code >= 0xD800 && code <= 0xDBFF) {
        bool escaped = c->i + 1 < c->len && c->s[c->i] == '\\' && c->s[c->i + 1] == 'u';
        int low = escaped ? hex4(c, c->i + 2) : -1;
        if (low >= 0xDC00 && low <= 0xDFFF)
            c->i += 6;
        else
            report(c, at, BP_ESYNTAX, "first half of a surrogate pair without the second",
                   "write the character itself");
    }
}

/* A string at c->i, which is a quotation mark. Mistakes inside it hide nothing, but a line end
 * does: the closing mark was most likely forgotten. */
static bool scan_string(scan *c)
{
    size_t from = c->i++;
    bool bytes_bad = false;
    while (!at_end(c)) {
        unsigned char x = (unsigned char)c->s[c->i];
        uint32_t code = 0;
        size_t n = 1;
        if (x == '"') {
            c->i++;
            return true;
        }
        if (x == '\\') {
            scan_escape(c);
            continue;
        }
        if (x == '\n' || x == '\r')
            return give_up(c, c->i, BP_ESYNTAX, "a line ends inside a text",
                           "close the text with '\"'; a line end in it is written \\n");
        if (x < 0x20) {
            char what[32], wrong[64];
            found(c, c->i, what);
            snprintf(wrong, sizeof wrong, "%s stands bare in a text", what);
            report(c, c->i, BP_ESYNTAX, wrong,
                   x == '\t' ? "write \\t" : "write it as \\u and four digits");
        } else if ((n = bpi_utf8_step(c->s + c->i, c->len - c->i, &code)) == 0) {
            n = 1;
            if (!bytes_bad) /* once a text: one wrong character has several wrong bytes */
                report(c, c->i, BP_ESYNTAX, "bytes that are not UTF-8", "save the file as UTF-8");
            bytes_bad = true;
        }
        c->i += n;
    }
    return give_up(c, from, BP_ESYNTAX, "a text is not closed", "close it with '\"'");
}

static bool is_digit(const scan *c)
{
    return !at_end(c) && c->s[c->i] >= '0' && c->s[c->i] <= '9';
}

static size_t skip_digits(scan *c)
{
    size_t from = c->i;
    while (is_digit(c))
        c->i++;
    return c->i - from;
}

/* Is the number's size past what a double holds? Told from its digits alone: strtod would follow
 * the locale. Largest is 1.7976931348623157e308; the digits are compared with its halfway to the
 * next. */
static bool is_huge(const char *s, size_t len)
{
    static const char most[] = "17976931348623158079"; /* 2^1024 - 2^970 begins so */
    char digits[sizeof most];
    size_t n = 0;
    long before = 0; /* digits before the point, from the first that is not 0 */
    bool point = false;
    size_t i = 0;
    for (; i < len && s[i] != 'e' && s[i] != 'E'; i++) {
        if (s[i] == '.') {
            point = true;
        } else if (s[i] != '-') {
            if (n || s[i] != '0') {
                if (n < sizeof most - 1)
                    digits[n++] = s[i];
                before += !point;
            } else {
                before -= point;
            }
        }
    }
    if (n == 0)
        return false;
    long exponent = 0;
    bool minus = i + 1 < len && s[i + 1] == '-';
    for (; i < len; i++)
        if (s[i] >= '0' && s[i] <= '9' && exponent < 100000000)
            exponent = exponent * 10 + (s[i] - '0');
    long size = before + (minus ? -exponent : exponent); /* 0.ddd x 10^size */
    while (n < sizeof most - 1)
        digits[n++] = '0';
    digits[n] = '\0';
    return size > 309 || (size == 309 && strcmp(digits, most) >= 0);
}

static bool scan_number(scan *c)
{
    size_t from = c->i;
    if (c->s[c->i] == '-')
        c->i++;
    size_t first = c->i, digits = skip_digits(c);
    const char *wrong = NULL, *right = "";
    if (digits == 0) {
        wrong = "a number without a digit before its point";
        right = "such as -1 or 0.5";
    } else if (digits > 1 && c->s[first] == '0') {
        wrong = "a number begins with 0";
        right = "leave the leading 0 out";
    }
    if (!at_end(c) && c->s[c->i] == '.') {
        c->i++;
        if (skip_digits(c) == 0) {
            wrong = "a number without a digit after its point";
            right = "such as 1.0";
        }
    }
    if (!at_end(c) && (c->s[c->i] == 'e' || c->s[c->i] == 'E')) {
        c->i++;
        if (!at_end(c) && (c->s[c->i] == '+' || c->s[c->i] == '-'))
            c->i++;
        if (skip_digits(c) == 0) {
            wrong = "a number without a digit in its exponent";
            right = "such as 1e3";
        }
    }
    if (wrong)
        report(c, from, BP_ESYNTAX, wrong, right);
    else if (c->i - from > MOST_NUMBER)
        report(c, from, BP_ELIMIT, "a number with too many characters", "at most 60 are read");
    else if (is_huge(c->s + from, c->i - from))
        report(c, from, BP_ERANGE, "a number too large to be kept", "at most about 1.8e308");
    return true;
}

static bool scan_word(scan *c)
{
    static const char *const words[] = {"null", "true", "false"};
    for (size_t k = 0; k < 3; k++) {
        size_t n = strlen(words[k]);
        if (c->len - c->i >= n && memcmp(c->s + c->i, words[k], n) == 0) {
            c->i += n;
            return true;
        }
    }
    return unexpected(
        c, "a value is an object {}, a list [], a text \"...\", a number, true, false or "
           "null");
}

static bool add_mark(scan *c, size_t *index)
{
    bpi_json_marks *out = c->out;
    if (out->n >= BPI_MAX_VALUES)
        return give_up(c, c->i, BP_ELIMIT, "too many values in one file",
                       "split it into recipe files");
    bpi_json_mark *m =
        bpi_arena_more(c->a, (void **)&out->item, &out->room, out->n, sizeof *out->item);
    if (!m) {
        bpi_error_no_memory(c->errs);
        c->code = BP_ENOMEM;
        c->bad = c->stop = true;
        return false;
    }
    bpi_where w = here(c, c->i);
    *m = (bpi_json_mark){.from = (uint32_t)c->i, .line = w.line, .col = w.col};
    *index = out->n++;
    return true;
}

static bool scan_value(scan *c, bpi_where name);

static bool scan_member(scan *c)
{
    if (at_end(c) || c->s[c->i] != '"')
        return unexpected(c, "a member begins with its name in quotation marks");
    bpi_where name = here(c, c->i);
    if (!scan_string(c))
        return false;
    skip_blanks(c);
    if (at_end(c) || c->s[c->i] != ':')
        return unexpected(c, "a ':' stands between a name and its value");
    c->i++;
    skip_blanks(c);
    return scan_value(c, name);
}

/* A list or an object, from its opening bracket. The recursion is bounded by BPI_MAX_DEPTH. */
static bool scan_inside(scan *c, char close)
{
    if (++c->depth > BPI_MAX_DEPTH)
        return give_up(c, c->i, BP_ELIMIT, "lists and objects stand too deep in one another",
                       "a show needs 8 levels; 32 are read");
    size_t open_line = c->line;
    c->i++;
    skip_blanks(c);
    bool more = at_end(c) || c->s[c->i] != close;
    while (more) {
        if (!(close == '}' ? scan_member(c) : scan_value(c, BPI_NOWHERE)))
            return false;
        skip_blanks(c);
        if (!at_end(c) && c->s[c->i] == close)
            break;
        if (at_end(c) || c->s[c->i] != ',') {
            char right[96];
            snprintf(right, sizeof right,
                     "',' before the next one, or '%c' to close what line %zu opened", close,
                     open_line);
            return unexpected(c, right);
        }
        size_t comma = c->i++;
        bpi_where w = here(c, comma);
        skip_blanks(c);
        if (!at_end(c) && c->s[c->i] == close) { /* hides nothing: go on */
            bpi_error_add(c->errs, BP_ESYNTAX, w, "a ',' before the closing bracket",
                          "leave it out");
            c->code = c->bad ? c->code : BP_ESYNTAX;
            c->bad = true;
            more = false;
        }
    }
    c->i++;
    c->depth--;
    return true;
}

static bool scan_value(scan *c, bpi_where name)
{
    size_t index = 0;
    if (!add_mark(c, &index))
        return false;
    c->out->item[index].name_line = name.line;
    c->out->item[index].name_col = name.col;
    char x = at_end(c) ? '\0' : c->s[c->i];
    bool ok = x == '{'                             ? scan_inside(c, '}')
              : x == '['                           ? scan_inside(c, ']')
              : x == '"'                           ? scan_string(c)
              : x == '-' || (x >= '0' && x <= '9') ? scan_number(c)
                                                   : scan_word(c);
    c->out->item[index].to = (uint32_t)c->i;
    return ok;
}

bp_code bpi_json_scan(bpi_json_marks *out, bpi_arena *a, const char *file, const char *text,
                      size_t len, bp_errors *errs)
{
    *out = (bpi_json_marks){0};
    scan c = {.out = out, .a = a, .file = file, .s = text, .len = len, .line = 1, .errs = errs};
    if (len > BPI_MAX_FILE) {
        char right[64];
        snprintf(right, sizeof right, "at most %u bytes are read", (unsigned)BPI_MAX_FILE);
        give_up(&c, 0, BP_ELIMIT, "the file is too large", right);
        return c.code;
    }
    if (len >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) {
        report(&c, 0, BP_ESYNTAX, "a byte order mark before the text",
               "save the file as UTF-8 without it");
        c.i = c.line_from = 3;
    }
    skip_blanks(&c);
    if (at_end(&c) && !c.bad)
        give_up(&c, c.i, BP_ESYNTAX, "there is no value", "a show file is one object {}");
    else if (scan_value(&c, BPI_NOWHERE)) {
        skip_blanks(&c);
        if (!at_end(&c))
            unexpected(&c, "nothing follows the outermost value");
    }
    return c.bad ? c.code : BP_OK;
}

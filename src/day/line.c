#include "day/line.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "base/json.h"
#include "base/limits.h"
#include "base/near.h"
#include "base/utf8.h"

#define MOST_ID 300 /* bytes: an operation's key is made of five ids */

static const struct {
    const char *word;
    unsigned members;
} kinds[] = {
#define ROW(number, word, members, meaning) [number] = {word, members},
    BP_EVENTS(ROW)
#undef ROW
};

const char *bp_event_word(bp_event_kind kind)
{
    return (unsigned)kind < BP_DAY_KINDS ? kinds[kind].word : "";
}

unsigned bp_event_members(bp_event_kind kind)
{
    return (unsigned)kind < BP_DAY_KINDS ? kinds[kind].members : 0;
}

/* ---- reading ------------------------------------------------------------------------------- */

typedef struct reader {
    bp_errors *errs;
    uint32_t line;
    bp_code code; /* of the first mistake */
} reader;

static void wrong(reader *r, bp_code code, bpi_where at, const char *what, const char *right)
{
    at.line = r->line;
    bpi_error_add(r->errs, code, at, what, right);
    if (r->code == BP_OK)
        r->code = code;
}

/* The line as a tree. The JSON reader counts lines from the start of what it is given. */
static const bpi_node *tree(reader *r, bpi_arena *a, const char *file, const char *text, size_t len)
{
    bpi_node *node = NULL;
    bp_errors own = {0};
    r->code = bpi_json_read(&node, a, file, text, len, &own);
    for (uint32_t i = 0; i < own.n; i++) {
        const bp_error *e = &own.item[i];
        bpi_where at = {.file = e->file, .pointer = e->pointer, .line = r->line, .col = e->col};
        bpi_error_add(r->errs, e->code, at, e->wrong, e->right);
    }
    if (r->code == BP_OK && node->kind != BPI_OBJECT) {
        wrong(r, BP_EVALUE, node->at, "a line of a log is an object",
              "write {\"at\": 0, \"event\": \"note\", \"text\": \"...\"}");
        node = NULL;
    }
    return r->code == BP_OK ? node : NULL;
}

static const bpi_node *need(reader *r, const bpi_node *node, const char *name)
{
    const bpi_node *value = bpi_node_member(node, name);
    if (!value) {
        char what[80];
        snprintf(what, sizeof what, "\"%s\" is missing here", name);
        wrong(r, BP_EVALUE, node->at, what, "");
    }
    return value;
}

static const char *take_text(reader *r, const bpi_node *node, const char *name, size_t most)
{
    const bpi_node *v = need(r, node, name);
    uint32_t code = 0;
    if (!v)
        return "";
    if (v->kind != BPI_STRING || v->len == 0 || v->len > most) {
        char what[80];
        snprintf(what, sizeof what, "\"%s\" is not a text of 1 to %zu bytes", name, most);
        wrong(r, BP_EVALUE, v->at, what, "");
        return "";
    }
    if (bpi_utf8_unplain(v->text, v->len, false, &code) != v->len)
        wrong(r, BP_EVALUE, v->at, "a log holds no control characters", "");
    return v->text;
}

static int64_t take_number(reader *r, const bpi_node *node, const char *name, int64_t most)
{
    const bpi_node *v = need(r, node, name);
    if (!v)
        return 0;
    if (v->kind != BPI_NUMBER || !v->whole) {
        char what[80];
        snprintf(what, sizeof what, "\"%s\" is not a whole number of seconds", name);
        wrong(r, BP_EVALUE, v->at, what, "");
        return 0;
    }
    if (v->integer < -most || v->integer > most) {
        char what[80], right[80];
        snprintf(what, sizeof what, "\"%s\" is out of range", name);
        snprintf(right, sizeof right, "-%" PRId64 " to %" PRId64, most, most);
        wrong(r, BP_ERANGE, v->at, what, right);
        return 0;
    }
    return v->integer;
}

/* Every member must be one of `names`. */
static void no_others(reader *r, const bpi_node *node, const char *const *names)
{
    for (const bpi_node *m = node->first; m; m = m->next) {
        bool known = false;
        bpi_near near = bpi_near_to(m->name, m->name_len);
        for (const char *const *n = names; *n; n++) {
            known |= strcmp(*n, m->name) == 0;
            bpi_near_offer(&near, *n);
        }
        if (known)
            continue;
        char what[160], right[80] = "take it out";
        snprintf(what, sizeof what, "\"%.60s\" has no meaning in this line", m->name);
        if (near.name)
            snprintf(right, sizeof right, "write \"%s\"", near.name);
        wrong(r, BP_EVALUE, m->name_at, what, right);
    }
}

bp_code bpi_line_head(bp_log_head *out, bpi_arena *a, const char *file, uint32_t line,
                      const char *text, size_t len, bp_errors *errs)
{
    static const char *const names[] = {"backpot", "format", "show", "stamp", "rehearsal", NULL};
    reader r = {.errs = errs, .line = line};
    *out = (bp_log_head){.show = "", .stamp = ""};
    const bpi_node *node = tree(&r, a, file, text, len);
    if (!node)
        return r.code;
    const bpi_node *mark = bpi_node_member(node, "backpot");
    if (!mark || !bpi_node_is(mark, "log")) {
        wrong(&r, BP_EVALUE, node->at, "this is not the head of a log",
              "a log begins with {\"backpot\":\"log\",\"format\":1,...}");
        return r.code;
    }
    const bpi_node *format = need(&r, node, "format");
    if (format && format->kind == BPI_NUMBER && format->whole && format->integer > BP_LOG_FORMAT) {
        wrong(&r, BP_EVALUE, format->at, "this log is of a newer format than this program reads",
              "use the backpot that wrote it; this one reads format 1");
        return r.code;
    }
    if (format &&
        (format->kind != BPI_NUMBER || !format->whole || format->integer != BP_LOG_FORMAT)) {
        wrong(&r, BP_EVALUE, format->at, "this format of a log is not known", "format 1 is");
        return r.code; /* what follows may have another meaning */
    }
    no_others(&r, node, names);
    out->show = take_text(&r, node, "show", MOST_ID);
    out->stamp = take_text(&r, node, "stamp", MOST_ID);
    const bpi_node *rehearsal = need(&r, node, "rehearsal");
    if (rehearsal && rehearsal->kind != BPI_BOOL)
        wrong(&r, BP_EVALUE, rehearsal->at, "\"rehearsal\" is neither true nor false", "");
    out->rehearsal = rehearsal && rehearsal->truth;
    return r.code;
}

static bool read_kind(reader *r, bp_event *out, const bpi_node *node)
{
    const bpi_node *v = need(r, node, "event");
    if (!v)
        return false;
    const char *word = v->kind == BPI_STRING ? v->text : "";
    bpi_near near = bpi_near_to(word, strlen(word));
    for (unsigned k = 0; k < BP_DAY_KINDS; k++) {
        if (strcmp(kinds[k].word, word) == 0) {
            out->kind = (bp_event_kind)k;
            return true;
        }
        bpi_near_offer(&near, kinds[k].word);
    }
    char what[120], right[80] = "";
    snprintf(what, sizeof what, "no event is called \"%.60s\"", word);
    if (near.name)
        snprintf(right, sizeof right, "write \"%s\"", near.name);
    wrong(r, BP_EVALUE, v->at, what, right);
    return false;
}

bp_code bpi_line_event(bp_event *out, bpi_arena *a, const char *file, uint32_t line,
                       const char *text, size_t len, bp_errors *errs)
{
    reader r = {.errs = errs, .line = line};
    *out = (bp_event){.air = "", .beat = "", .op = "", .text = "", .line = line};
    const bpi_node *node = tree(&r, a, file, text, len);
    if (!node)
        return r.code;
    out->at = take_number(&r, node, "at", BPI_LINE_AT);
    if (!read_kind(&r, out, node))
        return r.code;
    unsigned has = kinds[out->kind].members;
    const char *names[8] = {"at", "event"};
    size_t n = 2;
    if (has & BP_HAS_AIR)
        out->air = take_text(&r, node, names[n++] = "air", MOST_ID);
    if (has & BP_HAS_BEAT)
        out->beat = take_text(&r, node, names[n++] = "beat", MOST_ID);
    if (has & BP_HAS_OP)
        out->op = take_text(&r, node, names[n++] = "op", MOST_ID);
    if (has & BP_HAS_TEXT)
        out->text = take_text(&r, node, names[n++] = "text", BPI_MAX_TEXT);
    if (has & BP_HAS_SECONDS)
        out->seconds = take_number(&r, node, names[n++] = "seconds", BPI_LINE_SECONDS);
    names[n] = NULL;
    no_others(&r, node, names);
    return r.code;
}

/* ---- writing ------------------------------------------------------------------------------- */

static void put_member(bpi_text *out, const char *name, const char *value)
{
    bpi_text_f(out, ",\"%s\":", name);
    bpi_json_put_string(out, value, strlen(value));
}

void bpi_line_put_head(bpi_text *out, const bp_log_head *head)
{
    bpi_text_f(out, "{\"backpot\":\"log\",\"format\":%d", BP_LOG_FORMAT);
    put_member(out, "show", head->show);
    put_member(out, "stamp", head->stamp);
    bpi_text_f(out, ",\"rehearsal\":%s}\n", head->rehearsal ? "true" : "false");
}

void bpi_line_put_event(bpi_text *out, const bp_event *e)
{
    unsigned has = kinds[e->kind].members;
    bpi_text_f(out, "{\"at\":%" PRId64, e->at);
    put_member(out, "event", kinds[e->kind].word);
    if (has & BP_HAS_AIR)
        put_member(out, "air", e->air);
    if (has & BP_HAS_BEAT)
        put_member(out, "beat", e->beat);
    if (has & BP_HAS_OP)
        put_member(out, "op", e->op);
    if (has & BP_HAS_TEXT)
        put_member(out, "text", e->text);
    if (has & BP_HAS_SECONDS)
        bpi_text_f(out, ",\"seconds\":%" PRId64, e->seconds);
    bpi_text_put(out, "}\n");
}

static bool text_ok(const char *text, size_t most)
{
    uint32_t code = 0;
    size_t len = text ? strlen(text) : 0;
    return len > 0 && len <= most && bpi_utf8_unplain(text, len, false, &code) == len;
}

bp_code bpi_line_check(const bp_event *e, bp_errors *errs)
{
    unsigned has = bp_event_members(e->kind);
    if ((unsigned)e->kind >= BP_DAY_KINDS || ((has & BP_HAS_AIR) && !text_ok(e->air, MOST_ID)) ||
        ((has & BP_HAS_BEAT) && !text_ok(e->beat, MOST_ID)) ||
        ((has & BP_HAS_OP) && !text_ok(e->op, MOST_ID)) ||
        ((has & BP_HAS_TEXT) && !text_ok(e->text, BPI_MAX_TEXT)))
        return bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE, "this cannot stand in a log",
                             "texts that are not empty, not too long, without control characters");
    if (e->at < -BPI_LINE_AT || e->at > BPI_LINE_AT || e->seconds < -BPI_LINE_SECONDS ||
        e->seconds > BPI_LINE_SECONDS)
        return bpi_error_add(errs, BP_ERANGE, BPI_NOWHERE,
                             "this moment is more than eight days from the show day", "");
    return BP_OK;
}

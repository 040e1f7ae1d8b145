#include "day/log.h"

#include <string.h>

#include "base/file.h"
#include "base/limits.h"
#include "day/line.h"

bp_code bpi_log_init(bpi_log *l, const char *path, bp_errors *errs)
{
    *l = (bpi_log){.a = bpi_arena_new()};
    const char *file = l->a ? bpi_arena_copy(l->a, path, strlen(path)) : NULL;
    if (!file) {
        bpi_log_release(l);
        return bpi_error_no_memory(errs);
    }
    l->log = (bp_log){.file = file, .head = {.show = "", .stamp = ""}};
    return BP_OK;
}

void bpi_log_release(bpi_log *l)
{
    bpi_arena_free(l->a);
    *l = (bpi_log){0};
}

static bp_code take_line(bpi_log *l, const char *text, size_t len, bp_errors *errs)
{
    uint32_t line = l->lines + 1;
    if (line == 1)
        return bpi_line_head(&l->log.head, l->a, l->log.file, line, text, len, errs);
    bp_event *e = bpi_arena_more(l->a, &l->list, &l->room, l->log.events, sizeof *e);
    if (!e)
        return bpi_error_no_memory(errs);
    l->log.event = l->list;
    bp_code rc = bpi_line_event(e, l->a, l->log.file, line, text, len, errs);
    if (rc == BP_OK && l->log.events > 0 && e->at < e[-1].at)
        rc = bpi_error_add(errs, BP_EVALUE, (bpi_where){l->log.file, "/at", line, 1},
                           "this event lies before the one on the line above it",
                           "the moments of a log never decrease");
    if (rc == BP_OK)
        l->log.events++;
    return rc;
}

bp_code bpi_log_take(bpi_log *l, const char *bytes, size_t len, bool whole, bp_errors *errs)
{
    bp_code first = BP_OK;
    size_t at = 0;
    for (const char *end; (end = memchr(bytes + at, '\n', len - at)) != NULL;) {
        size_t line = (size_t)(end - (bytes + at));
        bp_code rc = take_line(l, bytes + at, line, errs);
        if (rc != BP_OK && first == BP_OK)
            first = rc;
        if (rc != BP_OK && (whole || rc == BP_ENOMEM || l->lines == 0))
            break;
        at += line + 1;
        l->lines++;
    }
    l->taken += at;
    l->log.torn = at < len;
    return first;
}

bool bpi_log_is_stub(const bp_log_head *head, const char *bytes, size_t len, bool *no_memory)
{
    bpi_text line = BPI_TEXT_EMPTY;
    bpi_line_put_head(&line, head);
    *no_memory = line.failed;
    bool stub = !line.failed && len < line.len && memcmp(bytes, line.s, len) == 0;
    bpi_text_release(&line);
    return stub;
}

bp_code bp_log_read(bp_log **out, const char *path, bp_errors *errs)
{
    *out = NULL;
    bpi_log l;
    bpi_text bytes = BPI_TEXT_EMPTY;
    bp_code rc = bpi_log_init(&l, path, errs);
    if (rc != BP_OK)
        return rc;
    rc = bpi_file_read(&bytes, path, BPI_MAX_FILE, errs);
    if (rc == BP_OK)
        rc = bpi_log_take(&l, bytes.s, bytes.len, false, errs);
    if (rc == BP_OK && l.lines == 0)
        rc = bpi_error_add(errs, BP_ESYNTAX, (bpi_where){l.log.file, "", 1, 1},
                           "this log has no whole line", "its first line is its head");
    bpi_text_release(&bytes);
    bp_log *log = rc == BP_OK ? BPI_TAKE(l.a, 1, bp_log) : NULL;
    if (rc == BP_OK && !log)
        rc = bpi_error_no_memory(errs);
    if (!log) {
        bpi_log_release(&l);
        return rc;
    }
    *log = l.log;
    log->own = l.a;
    *out = log;
    return BP_OK;
}

void bp_log_free(bp_log *log)
{
    if (log)
        bpi_arena_free(log->own);
}

bp_code bpi_log_is_of(const bp_log *log, const char *show, const char *stamp, bp_errors *errs)
{
    const bpi_where at = {.file = log->file, .line = 1, .col = 1};
    if (strcmp(log->head.show, show) != 0)
        return bpi_error_f(errs, BP_EVALUE, at, "name a log of this show",
                           "this is the log of the show \"%.60s\"", log->head.show);
    if (stamp && strcmp(log->head.stamp, stamp) != 0)
        return bpi_error_f(errs, BP_EVALUE, at,
                           "put the show file back as it was, or name another file",
                           "this log was begun with version %.20s of the show, and it is %.20s now",
                           log->head.stamp, stamp);
    return BP_OK;
}

uint32_t bp_log_mishaps(const bp_log *log, const bp_event **last)
{
    uint32_t n = 0;
    *last = NULL;
    for (uint32_t i = 0; i < log->events; i++)
        if (log->event[i].kind == BP_DAY_MISHAP) {
            *last = &log->event[i];
            n++;
        }
    return n;
}

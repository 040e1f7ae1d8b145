/* src/day/logbook.c - a log that is added to: each line whole, synced, and read back by everybody.
 *
 * Owns     the open file.
 * May use  base/, day/log, day/line.
 *
 * Under a lock on the whole file: what others have added is read, what was cut off is taken away, one
 * line is written and synced. When any of it fails the file is cut back to whole lines, at once or by
 * the next one who adds. A log that is removed while it is open is put back from what is still held
 * open.
 */
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <time.h>

#include "base/file.h"
#include "base/limits.h"
#include "base/memory.h"
#include "base/sys.h"
#include "day/line.h"
#include "day/log.h"

struct bp_logbook {
    bpi_log l;
    bp_log_head head; /* texts live in l.a */
    int fd;
};

#define FLAGS (O_RDWR | O_APPEND | O_CLOEXEC | O_NOCTTY | O_NONBLOCK)

/* ---- the lock ------------------------------------------------------------------------------ */

#define TRIES 100 /* of 10 ms each */

/* Whoever holds it is writing one line. A file system without locks has none: a line is then still
 * one write at the end of the file. */
static bp_code lock(const bp_logbook *b, int fd, bp_errors *errs)
{
    for (int i = 0; bpi_sys_lock(fd, F_WRLCK) != 0; i++) {
        if (errno == EINTR)
            continue;
        if (errno != EAGAIN && errno != EACCES)
            return BP_OK;
        if (i == TRIES)
            return bpi_error_add(errs, BP_EIO, (bpi_where){.file = b->l.log.file},
                                 "cannot write it: another program holds it", "");
        nanosleep(&(struct timespec){.tv_nsec = 10000000}, NULL);
    }
    return BP_OK;
}

static void unlock(const bp_logbook *b)
{
    bpi_sys_lock(b->fd, F_UNLCK);
}

/* ---- reading ------------------------------------------------------------------------------- */

static bp_code read_rest(bp_logbook *b, bpi_text *bytes, bp_errors *errs)
{
    if (bpi_sys_seek(b->fd, (off_t)b->l.taken) < 0)
        return bpi_file_error(errs, b->l.log.file, "read it", errno);
    return bpi_file_read_fd(bytes, b->fd, b->l.log.file, BPI_MAX_FILE - b->l.taken, errs);
}

static bp_code read_new(bp_logbook *b, bp_errors *errs)
{
    struct stat st;
    if (bpi_sys_fstat(b->fd, &st) != 0)
        return bpi_file_error(errs, b->l.log.file, "read it", errno);
    if ((size_t)st.st_size == b->l.taken) {
        b->l.log.torn = false;
        return BP_OK;
    }
    bpi_text bytes = BPI_TEXT_EMPTY;
    bp_code rc = BP_OK;
    if ((size_t)st.st_size < b->l.taken)
        rc = bpi_error_add(errs, BP_EIO, (bpi_where){.file = b->l.log.file},
                           "somebody has made this log shorter", "lines are only ever added");
    if (rc == BP_OK)
        rc = read_rest(b, &bytes, errs);
    if (rc == BP_OK)
        rc = bpi_log_take(&b->l, bytes.s, bytes.len, true, errs);
    bpi_text_release(&bytes);
    return rc;
}

/* ---- a log that was removed ------------------------------------------------------------------ */

static bp_code sync_folder_of(const char *path, bp_errors *errs)
{
    bpi_text folder = BPI_TEXT_EMPTY;
    size_t n = bpi_file_folder(path);
    bpi_text_add(&folder, n ? path : ".", n ? n : 1);
    bp_code rc = folder.failed ? bpi_error_no_memory(errs) : bpi_file_sync_folder(folder.s, errs);
    bpi_text_release(&folder);
    return rc;
}

/* The whole lines that were in the log, into the file that stands in its place: a new one, or one that
 * another program is putting back as well. */
static bp_code refill(bp_logbook *b, int fd, const bpi_text *lines, bp_errors *errs)
{
    const char *path = b->l.log.file;
    bpi_text there = BPI_TEXT_EMPTY;
    bp_code rc = bpi_file_read_fd(&there, fd, path, BPI_MAX_FILE, errs);
    size_t both = there.len < lines->len ? there.len : lines->len;
    if (rc == BP_OK && both > 0 && memcmp(there.s, lines->s, both) != 0)
        rc = bpi_error_add(errs, BP_EIO, (bpi_where){.file = path},
                           "it was removed, and another file stands in its place",
                           "move that away: the log is then put back");
    if (rc == BP_OK && both < lines->len) {
        int error = bpi_file_put(fd, lines->s + both, lines->len - both);
        error = error ? error : bpi_file_sync(fd);
        if (error)
            rc = bpi_file_error(errs, path, "put it back", error);
        if (error && bpi_sys_truncate(fd, (off_t)both) == 0 && both == 0)
            bpi_sys_unlink(path);
    }
    if (rc == BP_OK)
        rc = sync_folder_of(path, errs);
    bpi_text_release(&there);
    return rc;
}

static bp_code put_back(bp_logbook *b, bp_errors *errs)
{
    const char *path = b->l.log.file;
    bpi_text lines = BPI_TEXT_EMPTY;
    int fd = -1;
    bp_code rc = bpi_sys_seek(b->fd, 0) < 0
                     ? bpi_file_error(errs, path, "read it", errno)
                     : bpi_file_read_fd(&lines, b->fd, path, BPI_MAX_FILE, errs);
    if (rc == BP_OK) {
        lines.len = b->l.taken < lines.len ? b->l.taken : lines.len;
        fd = bpi_sys_open(path, FLAGS | O_CREAT, 0666);
        if (fd < 0)
            rc = bpi_file_error(errs, path, "put it back, it was removed", errno);
    }
    if (rc == BP_OK)
        rc = lock(b, fd, errs);
    if (rc == BP_OK) {
        rc = refill(b, fd, &lines, errs);
        bpi_sys_lock(fd, F_UNLCK);
    }
    bpi_text_release(&lines);
    if (rc != BP_OK && fd >= 0)
        bpi_sys_close(fd);
    if (rc == BP_OK) {
        bpi_sys_close(b->fd);
        b->fd = fd;
    }
    return rc;
}

/* See that the open file is still the one that others find. */
static bp_code stay(bp_logbook *b, bp_errors *errs)
{
    struct stat st;
    if (bpi_sys_fstat(b->fd, &st) != 0)
        return bpi_file_error(errs, b->l.log.file, "read it", errno);
    return st.st_nlink ? BP_OK : put_back(b, errs);
}

bp_code bp_logbook_catch_up(bp_logbook *b, bp_errors *errs)
{
    bp_code rc = stay(b, errs);
    return rc == BP_OK ? read_new(b, errs) : rc;
}

/* ---- writing ------------------------------------------------------------------------------- */

/* Back to whole lines. */
static int cut_back(const bp_logbook *b)
{
    int rc = bpi_sys_truncate(b->fd, (off_t)b->l.taken);
    while (rc != 0 && errno == EINTR)
        rc = bpi_sys_truncate(b->fd, (off_t)b->l.taken);
    return rc == 0 ? 0 : errno;
}

/* Under the lock, after catching up. */
static bp_code write_line(bp_logbook *b, const bpi_text *line, bp_errors *errs)
{
    if (line->failed)
        return bpi_error_no_memory(errs);
    if (line->len > BPI_MAX_FILE - b->l.taken)
        return bpi_error_f(errs, BP_ELIMIT, (bpi_where){.file = b->l.log.file}, "",
                           "it is full: a log holds %u bytes", (unsigned)BPI_MAX_FILE);
    int error = b->l.log.torn ? cut_back(b) : 0;
    if (!error) {
        error = bpi_file_put(b->fd, line->s, line->len);
        if (!error)
            error = bpi_file_sync(b->fd);
        if (error)
            b->l.log.torn = cut_back(b) != 0;
    }
    if (error)
        return bpi_file_error(errs, b->l.log.file, "write it", error);
    return bpi_log_take(&b->l, line->s, line->len, true, errs);
}

bp_code bp_logbook_add(bp_logbook *b, const bp_event *event, bp_errors *errs)
{
    bp_code rc = bpi_line_check(event, errs);
    if (rc == BP_OK)
        rc = stay(b, errs);
    if (rc == BP_OK)
        rc = lock(b, b->fd, errs);
    if (rc != BP_OK)
        return rc;
    rc = read_new(b, errs);
    if (rc == BP_OK) {
        bp_event e = *event;
        const bp_log *log = &b->l.log;
        if (log->events > 0 && log->event[log->events - 1].at > e.at)
            e.at = log->event[log->events - 1].at;
        bpi_text line = BPI_TEXT_EMPTY;
        bpi_line_put_event(&line, &e);
        rc = write_line(b, &line, errs);
        bpi_text_release(&line);
    }
    unlock(b);
    return rc;
}

/* ---- opening ------------------------------------------------------------------------------- */

static bp_code check_head(const bp_logbook *b, bp_errors *errs)
{
    const bp_log *log = &b->l.log;
    bpi_where at = {.file = log->file, .line = 1, .col = 1};
    bp_code rc = bpi_log_is_of(log, b->head.show, NULL, errs);
    if (rc == BP_OK && log->head.rehearsal != b->head.rehearsal)
        rc =
            bpi_error_add(errs, BP_EVALUE, at,
                          log->head.rehearsal ? "this is the log of a rehearsal"
                                              : "this is the log of a show day, not of a rehearsal",
                          "name another file");
    return rc == BP_OK ? bpi_log_is_of(log, b->head.show, b->head.stamp, errs) : rc;
}

/* A new file, or one that was cut off in its very first line. */
static bp_code write_head(bp_logbook *b, bp_errors *errs)
{
    bpi_text line = BPI_TEXT_EMPTY;
    bpi_line_put_head(&line, &b->head);
    bp_code rc = write_line(b, &line, errs);
    if (rc == BP_OK)
        rc = sync_folder_of(b->l.log.file, errs);
    bpi_text_release(&line);
    return rc;
}

static bp_code read_first(bp_logbook *b, bool *stub, bp_errors *errs)
{
    bpi_text bytes = BPI_TEXT_EMPTY;
    bool no_memory = false;
    bp_code rc = read_rest(b, &bytes, errs);
    *stub = rc == BP_OK && bpi_log_is_stub(&b->head, bytes.s, bytes.len, &no_memory);
    if (no_memory)
        rc = bpi_error_no_memory(errs);
    if (rc == BP_OK && *stub)
        b->l.log.torn = bytes.len > 0;
    else if (rc == BP_OK)
        rc = bpi_log_take(&b->l, bytes.s, bytes.len, false, errs);
    if (rc == BP_OK && !*stub && b->l.lines == 0)
        rc = bpi_error_add(errs, BP_ESYNTAX, (bpi_where){b->l.log.file, "", 1, 1},
                           "there is a file of this name, and it is no log", "name another file");
    if (rc == BP_OK && !*stub)
        rc = check_head(b, errs);
    bpi_text_release(&bytes);
    return rc;
}

/* Open it, or make it; *made says which. */
static bp_code open_file(bp_logbook *b, bool *made, bp_errors *errs)
{
    const char *path = b->l.log.file;
    for (int i = 0; i < 100; i++) { /* it may come and go in between */
        *made = false;
        b->fd = bpi_sys_open(path, FLAGS, 0);
        if (b->fd < 0 && errno == ENOENT) {
            *made = true;
            b->fd = bpi_sys_open(path, FLAGS | O_CREAT | O_EXCL, 0666);
        }
        if (b->fd >= 0 || (errno != EINTR && errno != EEXIST))
            break;
    }
    if (b->fd < 0)
        return bpi_file_error(errs, path, "open it", errno);
    struct stat st;
    if (bpi_sys_fstat(b->fd, &st) != 0)
        return bpi_file_error(errs, path, "open it", errno);
    if (!S_ISREG(st.st_mode))
        return bpi_error_add(errs, BP_EIO, (bpi_where){.file = path}, "it is no regular file", "");
    return BP_OK;
}

static bp_code open_book(bp_logbook *b, const bp_log_head *head, bp_errors *errs)
{
    b->head =
        (bp_log_head){bpi_arena_copy(b->l.a, head->show, strlen(head->show)),
                      bpi_arena_copy(b->l.a, head->stamp, strlen(head->stamp)), head->rehearsal};
    if (!b->head.show || !b->head.stamp)
        return bpi_error_no_memory(errs);
    bool made = false, stub = false;
    bp_code rc = open_file(b, &made, errs);
    if (rc == BP_OK)
        rc = lock(b, b->fd, errs);
    if (rc == BP_OK) {
        rc = read_first(b, &stub, errs);
        if (rc == BP_OK && stub)
            rc = write_head(b, errs);
        if (rc != BP_OK && made)
            bpi_sys_unlink(b->l.log.file);
        unlock(b);
    }
    return rc;
}

bp_code bp_logbook_open(bp_logbook **out, const char *path, const bp_log_head *head,
                        bp_errors *errs)
{
    *out = NULL;
    bp_logbook *b = bpi_mem_get(sizeof *b);
    if (!b)
        return bpi_error_no_memory(errs);
    *b = (bp_logbook){.fd = -1};
    bp_code rc = bpi_log_init(&b->l, path, errs);
    if (rc == BP_OK)
        rc = open_book(b, head, errs);
    if (rc == BP_OK)
        *out = b;
    else
        bp_logbook_close(b);
    return rc;
}

void bp_logbook_close(bp_logbook *b)
{
    if (!b)
        return;
    if (b->fd >= 0)
        bpi_sys_close(b->fd); /* every line is on the disk already */
    bpi_log_release(&b->l);
    bpi_mem_drop(b);
}

const bp_log *bp_logbook_log(const bp_logbook *b)
{
    return &b->l.log;
}

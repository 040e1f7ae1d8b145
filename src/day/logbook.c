/* src/day/logbook.c - a log that is added to: each line whole, synced, and read back by everybody.
 *
 * Owns     the open file.
 * May use  base/, day/log, day/line.
 *
 * Under a lock on the whole file: what others have added is read, what was cut off is taken away, one
 * line is written and synced. When any of it fails the file is cut back to whole lines, at once or by
 * the next one who adds.
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

/* ---- the lock ------------------------------------------------------------------------------ */

#define TRIES 100 /* of 10 ms each */

/* Whoever holds it is writing one line. A file system without locks has none: a line is then still
 * one write at the end of the file. */
static bp_code lock(const bp_logbook *b, bp_errors *errs)
{
    for (int i = 0; bpi_sys_lock(b->fd, F_WRLCK) != 0; i++) {
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

bp_code bp_logbook_catch_up(bp_logbook *b, bp_errors *errs)
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

/* ---- writing ------------------------------------------------------------------------------- */

static int write_all(int fd, const char *bytes, size_t len)
{
    while (len > 0) {
        ssize_t n = bpi_sys_write(fd, bytes, len);
        if (n < 0 && errno == EINTR)
            continue;
        if (n <= 0)
            return n < 0 ? errno : ENOSPC;
        bytes += n;
        len -= (size_t)n;
    }
    return 0;
}

/* Back to whole lines. */
static int cut_back(const bp_logbook *b)
{
    int rc = bpi_sys_truncate(b->fd, (off_t)b->l.taken);
    while (rc != 0 && errno == EINTR)
        rc = bpi_sys_truncate(b->fd, (off_t)b->l.taken);
    return rc == 0 ? 0 : errno;
}

static int sync_file(int fd)
{
    int rc = bpi_sys_fsync(fd);
    while (rc != 0 && errno == EINTR)
        rc = bpi_sys_fsync(fd);
    return rc == 0 || errno == EINVAL ? 0 : errno; /* EINVAL: such a file cannot be synced */
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
        error = write_all(b->fd, line->s, line->len);
        if (!error)
            error = sync_file(b->fd);
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
        rc = lock(b, errs);
    if (rc != BP_OK)
        return rc;
    rc = bp_logbook_catch_up(b, errs);
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
    const bp_log_head *is = &b->l.log.head, *want = &b->head;
    bpi_where at = {.file = b->l.log.file, .line = 1, .col = 1};
    if (strcmp(is->show, want->show) != 0)
        return bpi_error_f(errs, BP_EVALUE, at, "name another file",
                           "this is the log of the show \"%.60s\"", is->show);
    if (is->rehearsal != want->rehearsal)
        return bpi_error_add(errs, BP_EVALUE, at,
                             is->rehearsal ? "this is the log of a rehearsal"
                                           : "this is the log of a show day, not of a rehearsal",
                             "name another file");
    if (strcmp(is->stamp, want->stamp) != 0)
        return bpi_error_f(errs, BP_EVALUE, at,
                           "put the show file back as it was, or name another file",
                           "this log was begun with version %.20s of the show, and it is %.20s now",
                           is->stamp, want->stamp);
    return BP_OK;
}

/* A new file, or one that was cut off in its very first line. */
static bp_code write_head(bp_logbook *b, bp_errors *errs)
{
    bpi_text line = BPI_TEXT_EMPTY, folder = BPI_TEXT_EMPTY;
    bpi_line_put_head(&line, &b->head);
    bp_code rc = write_line(b, &line, errs);
    const char *path = b->l.log.file;
    size_t n = bpi_file_folder(path);
    bpi_text_add(&folder, n ? path : ".", n ? n : 1);
    if (rc == BP_OK && folder.failed)
        rc = bpi_error_no_memory(errs);
    if (rc == BP_OK)
        rc = bpi_file_sync_folder(folder.s, errs);
    bpi_text_release(&line);
    bpi_text_release(&folder);
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
    int flags = O_RDWR | O_APPEND | O_CLOEXEC | O_NOCTTY | O_NONBLOCK;
    for (int i = 0; i < 100; i++) { /* it may come and go in between */
        *made = false;
        b->fd = bpi_sys_open(path, flags, 0);
        if (b->fd < 0 && errno == ENOENT) {
            *made = true;
            b->fd = bpi_sys_open(path, flags | O_CREAT | O_EXCL, 0666);
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
        rc = lock(b, errs);
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

#define _XOPEN_SOURCE 700 /* realpath */

#include "base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/sys.h"

#define PIECE 65536 /* bytes asked for at once */

/* strerror follows the locale; these are the ones a user meets. */
static const char *reason(int error)
{
    switch (error) {
    case ENOENT:
        return "there is no such file or folder";
    case EACCES:
    case EPERM:
        return "permission is denied";
    case ENOSPC:
        return "the disk is full";
    case EDQUOT:
        return "the disk quota is used up";
    case EIO:
        return "the device reports an error";
    case EISDIR:
        return "it is a folder";
    case ENOTDIR:
        return "a part of its path is not a folder";
    case EROFS:
        return "the file system is read-only";
    case EMFILE:
    case ENFILE:
        return "too many files are open";
    case ENAMETOOLONG:
        return "its name is too long";
    case ELOOP:
        return "its links go in a circle";
    case EFBIG:
        return "it would be larger than the system allows";
    case EEXIST:
        return "something of that name is there already";
    default:
        return NULL;
    }
}

bp_code bpi_file_error(bp_errors *errs, const char *path, const char *doing, int error)
{
    const char *why = reason(error);
    bpi_where where = {.file = path};
    if (why)
        return bpi_error_f(errs, BP_EIO, where, "", "cannot %s: %s", doing, why);
    return bpi_error_f(errs, BP_EIO, where, "", "cannot %s: system error %d", doing, error);
}

bp_code bpi_file_read_fd(bpi_text *out, int fd, const char *name, size_t most, bp_errors *errs)
{
    struct stat st;
    if (bpi_sys_fstat(fd, &st) != 0)
        return bpi_file_error(errs, name, "read it", errno);
    if (S_ISDIR(st.st_mode))
        return bpi_file_error(errs, name, "read it", EISDIR);

    size_t before = out->len;
    bp_code rc = BP_OK;
    char piece[PIECE];
    for (;;) {
        ssize_t n = bpi_sys_read(fd, piece, sizeof piece);
        if (n < 0 && errno == EINTR)
            continue;
        if (n < 0) {
            rc = bpi_file_error(errs, name, "read it", errno);
            break;
        }
        if (n == 0)
            break;
        if ((size_t)n > most - (out->len - before)) {
            rc = bpi_error_f(errs, BP_ELIMIT, (bpi_where){.file = name}, "",
                             "it is too large; at most %zu bytes are read", most);
            break;
        }
        bpi_text_add(out, piece, (size_t)n);
        if (out->failed) {
            rc = bpi_error_no_memory(errs);
            break;
        }
    }
    if (rc == BP_OK && out->len == before)
        bpi_text_add(out, "", 0); /* so that out->s is a text even for an empty file */
    if (rc == BP_OK && out->failed)
        rc = bpi_error_no_memory(errs);
    if (rc != BP_OK && out->s) {
        out->len = before;
        out->s[before] = '\0';
    }
    return rc;
}

bp_code bpi_file_read(bpi_text *out, const char *path, size_t most, bp_errors *errs)
{
    int fd = bpi_sys_open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY, 0);
    while (fd < 0 && errno == EINTR)
        fd = bpi_sys_open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY, 0);
    if (fd < 0)
        return bpi_file_error(errs, path, "open it", errno);
    bp_code rc = bpi_file_read_fd(out, fd, path, most, errs);
    bpi_sys_close(fd); /* nothing was written, so nothing can be lost by it */
    return rc;
}

size_t bpi_file_folder(const char *path)
{
    const char *slash = strrchr(path, '/');
    if (!slash)
        return 0;
    return slash == path ? 1 : (size_t)(slash - path); /* "/a" stands in "/" */
}

const char *bpi_file_barred(const char *path, const char *folder)
{
    struct stat st;
    char *home = realpath(folder[0] ? folder : ".", NULL);
    char *real = home ? realpath(path, NULL) : NULL;
    const char *why = NULL;
    if (real) {
        size_t n = strcmp(home, "/") == 0 ? 0 : strlen(home);
        if (strncmp(real, home, n) != 0 || real[n] != '/')
            why = "a link leads out of the folder of the show";
        else if (stat(real, &st) == 0 && !S_ISREG(st.st_mode) && !S_ISDIR(st.st_mode))
            why = "it is no regular file";
    }
    free(real); /* lint: free: realpath hands it out */
    free(home); /* lint: free: realpath hands it out */
    return why;
}

int bpi_file_put(int fd, const char *bytes, size_t len)
{
    while (len > 0) {
        ssize_t n = bpi_sys_write(fd, bytes, len);
        if (n < 0 && errno == EINTR)
            continue;
        if (n < 0)
            return errno;
        if (n == 0)
            return EIO; /* a device that takes nothing would be asked for ever */
        bytes += n;
        len -= (size_t)n;
    }
    return 0;
}

int bpi_file_sync(int fd)
{
    int rc = bpi_sys_fsync(fd);
    while (rc != 0 && errno == EINTR)
        rc = bpi_sys_fsync(fd);
    return rc == 0 || errno == EINVAL ? 0 : errno; /* EINVAL: such a file cannot be synced */
}

/* A device or a pipe that a rename would put a file in place of: /dev/null of the whole machine, where
 * the user may. */
static bool is_special(const char *path)
{
    struct stat st;
    return stat(path, &st) == 0 && !S_ISREG(st.st_mode) && !S_ISDIR(st.st_mode);
}

/* Names for temporary files are tried in order, so that a left-over of a killed run is stepped
 * over. */
#define MOST_TEMPS 100

bp_code bpi_file_write_temp(bpi_text *temp, const char *path, const char *bytes, size_t len,
                            bp_errors *errs)
{
    size_t folder = bpi_file_folder(path);
    const char *name = path + folder + (path[folder] == '/');
    size_t name_len = strlen(name);
    if (name_len > 200) /* the usual limit of 255 with what is added; cut: it need not be whole */
        name_len = 200;
    int fd = -1, error = EEXIST;
    if (is_special(path))
        return bpi_error_f(errs, BP_EIO, (bpi_where){.file = path}, "name a regular file",
                           "cannot write it: it is a device or a pipe");
    for (int k = 0; fd < 0 && (error == EEXIST || error == EINTR) && k < MOST_TEMPS; k++) {
        bpi_text_reset(temp);
        bpi_text_add(temp, path, (size_t)(name - path));
        bpi_text_f(temp, ".%.*s.new%d", (int)name_len, name, k);
        if (temp->failed)
            return bpi_error_no_memory(errs);
        fd = bpi_sys_open(temp->s, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        error = fd < 0 ? errno : 0;
    }
    if (fd < 0)
        return bpi_file_error(errs, path, "write it", error);
    error = bpi_file_put(fd, bytes, len);
    if (!error)
        error = bpi_file_sync(fd);
    if (bpi_sys_close(fd) != 0 && !error && errno != EINTR)
        error = errno; /* a network file system may only now say that it is full */
    if (!error)
        return BP_OK;
    bpi_sys_unlink(temp->s);
    return bpi_file_error(errs, path, "write it", error);
}

bp_code bpi_file_sync_folder(const char *folder, bp_errors *errs)
{
    int fd = bpi_sys_open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);
    if (fd < 0)
        return bpi_file_error(errs, folder, "open the folder", errno);
    int error = bpi_file_sync(fd);
    bpi_sys_close(fd);
    if (error == ENOTSUP)
        error = 0; /* a file system that cannot sync a folder */
    return error ? bpi_file_error(errs, folder, "write the folder", error) : BP_OK;
}

bp_code bpi_file_write(const char *path, const char *bytes, size_t len, bp_errors *errs)
{
    bpi_text temp = BPI_TEXT_EMPTY, folder = BPI_TEXT_EMPTY;
    size_t n = bpi_file_folder(path);
    bpi_text_add(&folder, n ? path : ".", n ? n : 1);
    bp_code rc = folder.failed ? bpi_error_no_memory(errs)
                               : bpi_file_write_temp(&temp, path, bytes, len, errs);
    if (rc == BP_OK) {
        if (bpi_sys_rename(temp.s, path) != 0) {
            rc = bpi_file_error(errs, path, "put it in place", errno);
            bpi_sys_unlink(temp.s);
        } else {
            rc = bpi_file_sync_folder(folder.s, errs);
        }
    }
    bpi_text_release(&temp);
    bpi_text_release(&folder);
    return rc;
}

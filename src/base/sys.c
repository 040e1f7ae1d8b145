#include "base/sys.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <unistd.h>

#ifdef BPI_TESTING
static long countdown = -1;
static int fail_error, fail_after, failed;
static size_t chunk;

void bpi_sys_fail_at(long k, int error, int after)
{
    countdown = k;
    fail_error = error;
    fail_after = after;
    failed = 0;
}

int bpi_sys_failed(void)
{
    return failed;
}

int bpi_sys_waits(void)
{
    return countdown >= 0;
}

void bpi_sys_chunk(size_t most)
{
    chunk = most;
}

static int refuse(void)
{
    if (countdown < 0)
        return 0;
    if (countdown > 0) {
        countdown--;
        return 0;
    }
    if (!fail_after)
        countdown = -1;
    failed = 1;
    errno = fail_error;
    return 1;
}
#define REFUSE_WITH(value)                                                                         \
    if (refuse())                                                                                  \
    return (value)
#define BOUND(len) (chunk && (len) > chunk ? chunk : (len))
#else
#define REFUSE_WITH(value) (void)0
#define BOUND(len)         (len)
#endif

int bpi_sys_open(const char *path, int flags, mode_t mode)
{
    REFUSE_WITH(-1);
    return open(path, flags, mode);
}

ssize_t bpi_sys_read(int fd, void *to, size_t len)
{
    REFUSE_WITH(-1);
    return read(fd, to, BOUND(len));
}

ssize_t bpi_sys_write(int fd, const void *from, size_t len)
{
    REFUSE_WITH(-1);
    return write(fd, from, BOUND(len));
}

int bpi_sys_fstat(int fd, struct stat *st)
{
    REFUSE_WITH(-1);
    return fstat(fd, st);
}

int bpi_sys_fsync(int fd)
{
    REFUSE_WITH(-1);
    return fsync(fd);
}

int bpi_sys_close(int fd)
{
    int rc = close(fd); /* even where it is told to fail: the descriptor is gone either way */
    REFUSE_WITH(-1);
    return rc;
}

int bpi_sys_rename(const char *from, const char *to)
{
    REFUSE_WITH(-1);
    return rename(from, to);
}

int bpi_sys_link(const char *from, const char *to)
{
    REFUSE_WITH(-1);
    return link(from, to);
}

int bpi_sys_unlink(const char *path)
{
    REFUSE_WITH(-1);
    return unlink(path);
}

int bpi_sys_mkdir(const char *path, mode_t mode)
{
    REFUSE_WITH(-1);
    return mkdir(path, mode);
}

off_t bpi_sys_seek(int fd, off_t from_start)
{
    REFUSE_WITH(-1);
    return lseek(fd, from_start, SEEK_SET);
}

int bpi_sys_truncate(int fd, off_t len)
{
    REFUSE_WITH(-1);
    return ftruncate(fd, len);
}

int bpi_sys_lock(int fd, int kind)
{
    REFUSE_WITH(-1);
    struct flock range = {.l_type = (short)kind, .l_whence = SEEK_SET};
    return fcntl(fd, F_SETLK, &range);
}

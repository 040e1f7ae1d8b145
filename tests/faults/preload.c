/* tests/faults/preload.c - a library to be preloaded into the program: it refuses memory to whoever
 * asks, the program's libraries too, makes system calls fail or move little, and kills the process
 * before a chosen one. Told by the environment:
 *
 *   FAULT_MEM=n      request n for memory (from 1) fails; with FAULT_AFTER=1 so do all after it
 *   FAULT_ROOM=n     the heap holds n bytes and no more, as on a machine that is full
 *   FAULT_CALL=n     call n (from 1) that touches a file fails with errno FAULT_ERROR, or, with
 *                    FAULT_ERROR=kill, the process is killed before it, a write when half is written
 *   FAULT_SHORT=k    reads and writes move at most k bytes, and every third is interrupted (EINTR)
 *   FAULT_WRITES=1   count only calls that change something: open to create, write, fsync, rename,
 *                    link, unlink, mkdir, ftruncate
 *   FAULT_NAME=end   count only calls on files whose path ends so
 *   FAULT_WHILE=path calls after call n fail too, as long as there is a file of that name
 *   FAULT_COUNT=path how many requests and calls there were is written there at the end
 *
 * Counting starts with main: what the loader does is not the program's.
 */
#define _GNU_SOURCE
#include <errno.h>
#include <fcntl.h>
#include <malloc.h>
#include <signal.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t n, size_t size);
extern void __libc_free(void *block);
extern void *__libc_realloc(void *block, size_t size);

static bool on, mem_after, call_kill, writes_only;
static unsigned long mem, mem_at, calls, call_at, moves;
static size_t most, room, live;
static int call_error;
static const char *count_path, *name_end, *while_path;
static bool named[1024]; /* descriptors of files whose path ends in name_end */

static unsigned long number(const char *name)
{
    const char *s = getenv(name);
    return s ? strtoul(s, NULL, 10) : 0;
}

__attribute__((constructor)) static void begin(void)
{
    const char *error = getenv("FAULT_ERROR");
    mem_at = number("FAULT_MEM");
    mem_after = number("FAULT_AFTER") != 0;
    call_at = number("FAULT_CALL");
    most = number("FAULT_SHORT");
    room = number("FAULT_ROOM");
    writes_only = number("FAULT_WRITES") != 0;
    call_kill = error && strcmp(error, "kill") == 0;
    call_error = error ? atoi(error) : EIO;
    count_path = getenv("FAULT_COUNT");
    name_end = getenv("FAULT_NAME");
    while_path = getenv("FAULT_WHILE");
    on = true;
}

__attribute__((destructor)) static void end(void)
{
    on = false;
    FILE *f = count_path ? fopen(count_path, "w") : NULL;
    if (f) {
        fprintf(f, "%lu %lu\n", mem, calls);
        fclose(f);
    }
}

/* ---- memory ------------------------------------------------------------------------------ */

static bool refused(void)
{
    if (!on)
        return false;
    unsigned long n = __atomic_add_fetch(&mem, 1, __ATOMIC_RELAXED);
    if (!mem_at || n < mem_at || (n > mem_at && !mem_after))
        return false;
    errno = ENOMEM;
    return true;
}

/* Bytes in use, counted as the C library rounds them. */
static void *took(void *block)
{
    if (block)
        __atomic_add_fetch(&live, malloc_usable_size(block), __ATOMIC_RELAXED);
    return block;
}

static bool full(size_t size)
{
    return room && (size > room || live > room - size);
}

void *malloc(size_t size)
{
    return refused() || full(size) ? NULL : took(__libc_malloc(size));
}

void *calloc(size_t n, size_t size)
{
    bool over = size && n > (size_t)-1 / size;
    return over || refused() || full(n * size) ? NULL : took(__libc_calloc(n, size));
}

void *realloc(void *block, size_t size)
{
    size_t old = block ? malloc_usable_size(block) : 0;
    if (refused() || (size > old && full(size - old)))
        return NULL;
    void *grown = __libc_realloc(block, size);
    if (grown || !size)
        __atomic_sub_fetch(&live, old, __ATOMIC_RELAXED);
    return took(grown);
}

void free(void *block)
{
    if (block)
        __atomic_sub_fetch(&live, malloc_usable_size(block), __ATOMIC_RELAXED);
    __libc_free(block);
}

/* ---- files ------------------------------------------------------------------------------- */

/* Is this call to fail? `changes`: it changes something on disk. `path` or `fd`: what it is about. */
static bool fails(bool changes, const char *path, int fd)
{
    if (!on || (writes_only && !changes))
        return false;
    if (name_end && path) {
        size_t n = strlen(path), end = strlen(name_end);
        if (n < end || strcmp(path + n - end, name_end) != 0)
            return false;
    } else if (name_end && (fd < 0 || fd >= 1024 || !named[fd])) {
        return false;
    }
    bool lasts =
        while_path && call_at && calls >= call_at && syscall(SYS_access, while_path, F_OK) == 0;
    if (++calls != call_at && !lasts)
        return false;
    if (call_kill)
        raise(SIGKILL);
    errno = call_error;
    return true;
}

static bool interrupted(void)
{
    if (!on || !most || ++moves % 3)
        return false;
    errno = EINTR;
    return true;
}

static size_t bound(size_t len)
{
    return on && most && len > most ? most : len;
}

int open(const char *path, int flags, ...)
{
    va_list args;
    va_start(args, flags);
    int mode = flags & O_CREAT ? va_arg(args, int) : 0;
    va_end(args);
    if (fails((flags & O_CREAT) != 0, path, -1))
        return -1;
    int fd = (int)syscall(SYS_openat, AT_FDCWD, path, flags, mode);
    if (fd >= 0 && fd < 1024) {
        size_t n = strlen(path), end = name_end ? strlen(name_end) : 0;
        named[fd] = name_end && n >= end && strcmp(path + n - end, name_end) == 0;
    }
    return fd;
}

int open64(const char *path, int flags, ...) __attribute__((alias("open")));

ssize_t read(int fd, void *to, size_t len)
{
    if (interrupted() || fails(false, NULL, fd))
        return -1;
    return syscall(SYS_read, fd, to, bound(len));
}

ssize_t write(int fd, const void *from, size_t len)
{
    if (interrupted())
        return -1;
    bool about = !name_end || (fd >= 0 && fd < 1024 && named[fd]);
    if (on && call_kill && about && calls + 1 == call_at)
        syscall(SYS_write, fd, from, len / 2);
    if (fails(true, NULL, fd))
        return -1;
    return syscall(SYS_write, fd, from, bound(len));
}

int fstat(int fd, struct stat *st)
{
    return fails(false, NULL, fd) ? -1 : (int)syscall(SYS_fstat, fd, st);
}

/* The program is built for offsets of 64 bits, and then asks for it by this name. */
int fstat64(int fd, struct stat64 *st) __attribute__((alias("fstat")));

int fsync(int fd)
{
    return fails(true, NULL, fd) ? -1 : (int)syscall(SYS_fsync, fd);
}

int ftruncate(int fd, off_t len)
{
    return fails(true, NULL, fd) ? -1 : (int)syscall(SYS_ftruncate, fd, len);
}

int ftruncate64(int fd, off_t len) __attribute__((alias("ftruncate")));

int rename(const char *from, const char *to)
{
    return fails(true, to, -1) ? -1 : (int)syscall(SYS_rename, from, to);
}

int link(const char *from, const char *to)
{
    return fails(true, to, -1) ? -1 : (int)syscall(SYS_link, from, to);
}

int unlink(const char *path)
{
    return fails(true, path, -1) ? -1 : (int)syscall(SYS_unlink, path);
}

int mkdir(const char *path, mode_t mode)
{
    return fails(true, path, -1) ? -1 : (int)syscall(SYS_mkdir, path, mode);
}

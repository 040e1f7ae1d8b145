/* src/base/sys.h - the few system calls that touch files, so that a test can make any of them fail.
 *
 * Owns     nothing.
 * May use  POSIX.1-2008.
 *
 * Each is the call of its name, with errno as that call sets it.
 */
#ifndef BP_BASE_SYS_H
#define BP_BASE_SYS_H

#include <stddef.h>
#include <sys/stat.h>
#include <sys/types.h>

int bpi_sys_open(const char *path, int flags, mode_t mode);
ssize_t bpi_sys_read(int fd, void *to, size_t len);
ssize_t bpi_sys_write(int fd, const void *from, size_t len);
int bpi_sys_fstat(int fd, struct stat *st);
int bpi_sys_fsync(int fd);
int bpi_sys_close(int fd);
int bpi_sys_rename(const char *from, const char *to);
int bpi_sys_link(const char *from, const char *to);
int bpi_sys_unlink(const char *path);
int bpi_sys_mkdir(const char *path, mode_t mode);
off_t bpi_sys_seek(int fd, off_t from_start);
int bpi_sys_truncate(int fd, off_t len);
int bpi_sys_lock(int fd, int kind); /* fcntl F_SETLK on the whole file: F_WRLCK, F_UNLCK */

#ifdef BPI_TESTING
/* Call number k (from 0) after this one fails with `error`; with `after`, so do all that follow.
 * Below 0: none fails. One counter for the process: tests that use it begin no threads of their own,
 * and bpi_each begins none while a call is still to fail. */
void bpi_sys_fail_at(long k, int error, int after);
int bpi_sys_failed(void);        /* has a call been made to fail since then?        */
int bpi_sys_waits(void);         /* is one still to fail?                           */
void bpi_sys_chunk(size_t most); /* reads and writes move at most so much; 0: no bound */
#endif
#endif

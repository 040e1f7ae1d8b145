/* src/base/file.h - whole files in and out; an old file survives every failure to replace it.
 *
 * Owns     nothing that outlives a call.
 * May use  base/.
 */
#ifndef BP_BASE_FILE_H
#define BP_BASE_FILE_H

#include <stddef.h>

#include "base/error.h"
#include "base/text.h"

/* Append all bytes of `path` to `out`: a regular file, a pipe or a terminal; "-" is nothing
 * special.
 *
 * Bounds   more than `most` bytes is BP_ELIMIT.
 * Errors   BP_EIO (missing, a folder, unreadable, ...), BP_ELIMIT, BP_ENOMEM; `out` is then as it
 * was.
 */
bp_code bpi_file_read(bpi_text *out, const char *path, size_t most, bp_errors *errs);

/* Why `path` must not be read for a file that stands in `folder` ("": the current one): with all
 * links followed it lies outside, or it is no regular file, such as a pipe that nobody may ever
 * write to. NULL: nothing speaks against it, or it cannot be reached, which reading it will say. */
const char *bpi_file_barred(const char *path, const char *folder);

/* Read an open file descriptor to its end in the same way; `name` is how messages call it. */
bp_code bpi_file_read_fd(bpi_text *out, int fd, const char *name, size_t most, bp_errors *errs);

/* All bytes to an open descriptor; and what was written to the disk. 0, or the errno that ended it. */
int bpi_file_put(int fd, const char *bytes, size_t len);
int bpi_file_sync(int fd);

/* Write a whole file: to a temporary file beside it, synced, then renamed over it. What is there must be
 * a regular file, or a link to one or to nothing, which is then replaced.
 *
 * Errors   BP_EIO, BP_ENOMEM; the old file is then untouched, and no temporary file is left unless
 *          even removing it fails.
 */
bp_code bpi_file_write(const char *path, const char *bytes, size_t len, bp_errors *errs);

/* The two halves of it, for base/outset. `temp` gets the path of a synced temporary file in the
 * folder of `path`, which the caller renames or removes. */
bp_code bpi_file_write_temp(bpi_text *temp, const char *path, const char *bytes, size_t len,
                            bp_errors *errs);
bp_code bpi_file_sync_folder(const char *folder, bp_errors *errs);

/* Length of the folder part of a path, without the slash behind it; 0: none ("a.json"). */
size_t bpi_file_folder(const char *path);

/* Add "cannot DOING: REASON" for errno at `path`; returns BP_EIO. */
bp_code bpi_file_error(bp_errors *errs, const char *path, const char *doing, int error);

#endif

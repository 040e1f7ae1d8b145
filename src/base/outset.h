/* src/base/outset.h - a set of files that replaces the old set all at once or not at all.
 *
 * Owns     the temporary files until commit.
 * May use  base/.
 *
 * add writes and syncs a temporary file beside its place, so a full disk is noticed while every old
 * file still stands. commit renames them all; when a rename fails, those already done are undone
 * from hard links kept to the old files (on a file system without links that is not possible, and
 * the error says which files are new).
 */
#ifndef BP_BASE_OUTSET_H
#define BP_BASE_OUTSET_H

#include <stddef.h>

#include "base/error.h"

typedef struct bpi_outset bpi_outset;

/* A set for the folder `dir`, which is made if it is missing, with those above it.
 * Errors: BP_EIO, BP_ENOMEM; *out is then NULL. */
bp_code bpi_outset_new(bpi_outset **out, const char *dir, bp_errors *errs);

/* Add one file. `name` has no '/', is not empty, does not begin with '.', is not in the set yet.
 * Errors: BP_EVALUE (the name), BP_EIO, BP_ENOMEM. */
bp_code bpi_outset_add(bpi_outset *set, const char *name, const char *bytes, size_t len,
                       bp_errors *errs);

/* Take a file that an earlier run wrote away in the same commit; none there is no error. */
bp_code bpi_outset_remove(bpi_outset *set, const char *name, bp_errors *errs);

/* Put every file in its place. Errors: BP_EIO; the old files then stand as they did. */
bp_code bpi_outset_commit(bpi_outset *set, bp_errors *errs);

/* Give the set up; what was not committed is removed. NULL does nothing. */
void bpi_outset_free(bpi_outset *set);

#endif

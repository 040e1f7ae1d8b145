/* src/cli/newfile.h - write a file that must not be there yet.
 *
 * Owns     nothing that outlives a call.
 * May use  base/file, base/sys, cli/signals.
 */
#ifndef BP_CLI_NEWFILE_H
#define BP_CLI_NEWFILE_H

#include <stdbool.h>
#include <stddef.h>

#include "backpot/error.h"

/* Write `path` whole, or not at all. Without `replace`, a file that is there already stays, even one
 * that came into being a moment ago. Errors: BP_EIO, BP_ENOMEM. */
bp_code bpi_newfile_write(const char *path, const char *bytes, size_t len, bool replace,
                          bp_errors *errs);

#endif

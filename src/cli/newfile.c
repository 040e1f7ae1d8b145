#include "cli/newfile.h"

#include <errno.h>

#include "base/error.h"
#include "base/file.h"
#include "base/sys.h"
#include "base/text.h"
#include "cli/signals.h"

/* A second name for the synced temporary file: unlike a rename, this never replaces anything. */
static bp_code link_into_place(const char *path, const char *bytes, size_t len, bp_errors *errs)
{
    bpi_text temp = BPI_TEXT_EMPTY;
    bp_code rc = bpi_file_write_temp(&temp, path, bytes, len, errs);
    if (rc == BP_OK) {
        if (bpi_sys_link(temp.s, path) != 0)
            rc = errno == EEXIST
                     ? bpi_error_add(errs, BP_EIO, (bpi_where){.file = path}, "is there already",
                                     "give another name, or --force to replace it")
                     : bpi_file_error(errs, path, "write", errno);
        bpi_sys_unlink(temp.s);
    }
    bpi_text_release(&temp);
    return rc;
}

bp_code bpi_newfile_write(const char *path, const char *bytes, size_t len, bool replace,
                          bp_errors *errs)
{
    sigset_t before;
    bpi_signals_hold(&before);
    bp_code rc =
        replace ? bpi_file_write(path, bytes, len, errs) : link_into_place(path, bytes, len, errs);
    bpi_signals_release(&before);
    return rc;
}

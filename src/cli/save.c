#include "cli/save.h"

#include "cli/signals.h"

bp_code bpi_save_plan(const bp_plan *plan, const bp_output_options *how, bp_errors *errs)
{
    bp_files *files = NULL;
    bp_code rc = bp_outputs_write(&files, plan, how, errs);
    if (rc == BP_OK) {
        sigset_t before;
        bpi_signals_hold(&before);
        rc = bp_outputs_save(files, how->folder, errs);
        bpi_signals_release(&before);
    }
    bp_files_free(files);
    return rc;
}

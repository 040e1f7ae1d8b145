/* src/cli/save.h - write all outputs of a plan into a folder.
 *
 * Owns     nothing.
 * May use  out, cli/signals.
 *
 * A signal that ends the program waits while files are being replaced.
 */
#ifndef BP_CLI_SAVE_H
#define BP_CLI_SAVE_H

#include "backpot/output.h"

bp_code bpi_save_plan(const bp_plan *plan, const bp_output_options *how, bp_errors *errs);

#endif

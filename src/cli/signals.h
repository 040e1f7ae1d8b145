/* src/cli/signals.h - put off being stopped while files are being replaced.
 *
 * Owns     the signals of the process that end it, while held.
 * May use  POSIX.1-2008.
 *
 * What comes meanwhile ends the program on release: no temporary file is left behind.
 */
#ifndef BP_CLI_SIGNALS_H
#define BP_CLI_SIGNALS_H

#include <signal.h>

void bpi_signals_hold(sigset_t *before);
void bpi_signals_release(const sigset_t *before);

#endif

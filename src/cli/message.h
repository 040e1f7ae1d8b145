/* src/cli/message.h - everything the program says to standard error.
 *
 * Owns     nothing.
 * May use  base/, cli/command.h for the exit statuses.
 *
 * No control character of a file name or a show file reaches the terminal.
 */
#ifndef BP_CLI_MESSAGE_H
#define BP_CLI_MESSAGE_H

#include <stdio.h>

#include "backpot/error.h"
#include "cli/command.h"

/* One line each, and a last one for those that were not kept. */
void bpi_message_errors(const bp_errors *errs);

/* The same, headed by the name of the program and followed by where to read on. */
bpi_exit bpi_message_usage(const bp_errors *errs, const char *command);

/* One line "backpot: ...". */
#if defined(__GNUC__)
__attribute__((format(printf, 1, 2)))
#endif
void bpi_message(const char *format, ...);

/* A line of any text without its control characters, to `to`. */
void bpi_message_line(FILE *to, const char *text);

/* How the program ends after `code`. */
bpi_exit bpi_message_exit(bp_code code);

#endif

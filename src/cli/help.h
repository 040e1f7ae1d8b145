/* src/cli/help.h - help for the program and for one command, printed from their tables.
 *
 * Owns     nothing.
 * May use  cli/command.
 */
#ifndef BP_CLI_HELP_H
#define BP_CLI_HELP_H

#include <stdio.h>

#include "cli/command.h"

void bpi_help_program(FILE *to);
void bpi_help_command(FILE *to, const bpi_command *c);

#endif

/* src/cli/command.h - what a command of the program is, and with which status the program ends.
 *
 * Owns     the table of commands and the list of exit statuses.
 * May use  cli/options.
 *
 * Help is printed from these tables; a test holds the manual page, the README and the completions
 * against them.
 */
#ifndef BP_CLI_COMMAND_H
#define BP_CLI_COMMAND_H

#include "cli/options.h"

/* name, status, meaning */
#define BPI_EXITS(X)                                                                               \
    X(BPI_EXIT_DONE, 0, "all is done")                                                             \
    X(BPI_EXIT_FILE, 1, "a file could not be read or written, or memory ran out")                  \
    X(BPI_EXIT_SHOW, 2, "a show file has mistakes; nothing was written")                           \
    X(BPI_EXIT_NO_PLAN, 3, "no plan exists; why is said, and the least-late plan is written")      \
    X(BPI_EXIT_USAGE, 4, "the command line was not understood; nothing was done")                  \
    X(BPI_EXIT_UNSURE, 5,                                                                          \
      "the search ended without an answer; the least-late plan found, if any, is written")         \
    X(BPI_EXIT_INTERNAL, 6, "a mistake in backpot itself; nothing was written")                    \
    X(BPI_EXIT_UNSAFE, 7,                                                                          \
      "food safety forbids the plan; what would cure it is said, nothing was written")

#define BPI_AS_ENUM(name, status, meaning) name = (status),
typedef enum bpi_exit { BPI_EXITS(BPI_AS_ENUM) BPI_EXIT_END } bpi_exit;
#undef BPI_AS_ENUM

typedef struct bpi_command {
    const char *name;
    const char *operands; /* as help writes them: "SHOW"                      */
    const char *help;     /* one line                                        */
    const char *more;     /* lines for the command's own help, or NULL        */
    const bpi_option *option;
    unsigned options;
    int least, most; /* how many operands                               */
    bpi_exit (*run)(const bpi_args *args);
} bpi_command;

/* One file each: src/cli/NAME.c. */
extern const bpi_command bpi_command_after, bpi_command_check, bpi_command_draft, bpi_command_help,
    bpi_command_lengths, bpi_command_live, bpi_command_mend, bpi_command_new, bpi_command_plan,
    bpi_command_schema;

/* All of them by name; ends in NULL. */
extern const bpi_command *const bpi_commands[];

/* The command of that name; NULL: none, and the mistake is added with the nearest name. */
const bpi_command *bpi_command_find(const char *name, bp_errors *errs);

#endif

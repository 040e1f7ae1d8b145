/* src/cli/options.h - reads the words after a command by a table of its options.
 *
 * Owns     nothing; the answers point into argv, which is put in order on the way.
 * May use  base/.
 *
 *   --name=VALUE   --name VALUE   -n VALUE   -nVALUE   -qv for -q -v   -- ends the options
 *
 * Names are whole: what is short for one option today would be short for two tomorrow. Every
 * command knows --help and -h besides. All mistakes are found in one run.
 */
#ifndef BP_CLI_OPTIONS_H
#define BP_CLI_OPTIONS_H

#include <stdbool.h>
#include <stdint.h>

#include "backpot/error.h"

#define BPI_MAX_OPTIONS 16

/* One row of a command's table. */
typedef struct bpi_option {
    const char *name;  /* without its dashes                                       */
    const char *value; /* what follows it, as help calls it: "DIR"; NULL: nothing   */
    const char *help;  /* one line for help                                         */
    char letter;       /* the short form; 0: none                                   */
} bpi_option;

typedef struct bpi_args {
    const char *value[BPI_MAX_OPTIONS]; /* by row: NULL not given, else what follows it, or "" */
    char **operand;                     /* the words that are no options, in order             */
    int operands;
    bool help; /* asked for help instead */
} bpi_args;

/* Read argv[0..argc) by the `n` rows of `table`. Errors: BP_EVALUE, one for each mistake. */
bp_code bpi_args_read(bpi_args *out, const bpi_option *table, unsigned n, int argc, char **argv,
                      bp_errors *errs);

/* The number given to option `row`; *out is kept when the option was not given.
 * Errors: BP_EVALUE when it is not a whole number from `least` to `most`. */
bp_code bpi_args_number(uint32_t *out, const bpi_args *args, const bpi_option *table, unsigned row,
                        uint32_t least, uint32_t most, bp_errors *errs);

#endif

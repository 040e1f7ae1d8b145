/* src/cli/check.c - backpot check: report what is wrong with show files, and do no more. */
#include <stdio.h>

#include "backpot/show.h"
#include "cli/command.h"
#include "cli/message.h"

enum { QUIET };
static const bpi_option options[] = {
    [QUIET] = {"quiet", NULL, "say nothing of a file without mistakes", 'q'},
};

static bpi_exit check_one(const char *path, bool quiet)
{
    bp_errors errs = {0};
    bp_show *show = NULL;
    bp_code rc = bp_show_open(&show, path, &errs);
    bp_show_free(show);
    bpi_message_errors(&errs);
    if (rc == BP_OK && !quiet) {
        char line[512];
        snprintf(line, sizeof line, "%.400s: no mistakes", path);
        bpi_message_line(stdout, line);
    }
    return bpi_message_exit(rc);
}

static bpi_exit run(const bpi_args *args)
{
    bpi_exit status = BPI_EXIT_DONE;
    for (int i = 0; i < args->operands; i++) {
        bpi_exit one = check_one(args->operand[i], args->value[QUIET]);
        if (status == BPI_EXIT_DONE)
            status = one;
    }
    return status;
}

const bpi_command bpi_command_check = {
    .name = "check",
    .operands = "SHOW...",
    .help = "report what is wrong with a show file",
    .more = "Each mistake is one line: FILE:LINE:COLUMN: what is wrong; what would be right.\n"
            "Of several files all are checked; the exit status is that of the first with a\n"
            "mistake.\n",
    .option = options,
    .options = sizeof options / sizeof *options,
    .least = 1,
    .most = 1000,
    .run = run,
};

/* src/cli/main.c - the program: finds the command, reads its options, closes what it printed. */
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "base/error.h"
#include "base/zone.h"
#include "cli/command.h"
#include "cli/help.h"
#include "cli/message.h"

/* Were standard input, output or error closed, the next file opened would take its number, and a
 * message would land in a sheet. A closed output gets a reader's end, so that printing is refused
 * and reported. */
static bool hold_standard_files(void)
{
    for (int fd = 0; fd <= 2; fd++)
        if (fcntl(fd, F_GETFD) < 0 && open("/dev/null", fd == 1 ? O_RDONLY : O_RDWR) != fd)
            return false;
    return true;
}

static volatile sig_atomic_t reader_gone;

/* A write to a pipe that nobody reads then fails like any other, and files in hand are finished. */
static void note_reader_gone(int number)
{
    (void)number;
    reader_gone = 1;
}

/* A reader that went away has what it wanted: no message, but no success either. */
static bpi_exit close_output(bpi_exit status)
{
    bool failed = ferror(stdout) != 0;
    errno = 0;
    if (fclose(stdout) != 0)
        failed = true;
    if (!failed)
        return status;
    if (!reader_gone)
        bpi_message("cannot write to standard output: %s",
                    errno ? strerror(errno) : "an earlier write failed");
    return BPI_EXIT_FILE;
}

static bpi_exit run_command(const bpi_command *command, int argc, char **argv)
{
    bp_errors errs = {0};
    bpi_args args;
    bp_code rc = bpi_args_read(&args, command->option, command->options, argc, argv, &errs);
    if (args.help) {
        bpi_help_command(stdout, command);
        return BPI_EXIT_DONE;
    }
    if (args.operands < command->least)
        rc = bpi_error_f(&errs, BP_EVALUE, BPI_NOWHERE, "", "%s: %s is missing", command->name,
                         command->operands);
    if (args.operands > command->most)
        rc = bpi_error_f(&errs, BP_EVALUE, BPI_NOWHERE, "", "%s: \"%.60s\" is one word too many",
                         command->name, args.operand[command->most]);
    return rc == BP_OK ? command->run(&args) : bpi_message_usage(&errs, command->name);
}

static bpi_exit run(int argc, char **argv)
{
    const char *first = argc > 1 ? argv[1] : "";
    if (strcmp(first, "--help") == 0 || strcmp(first, "-h") == 0) {
        bpi_help_program(stdout);
        return BPI_EXIT_DONE;
    }
    if (strcmp(first, "--version") == 0 || strcmp(first, "-V") == 0) {
        printf("backpot %s\n", BP_VERSION);
        return BPI_EXIT_DONE;
    }
    if (argc < 2) {
        bpi_help_program(stderr);
        return BPI_EXIT_USAGE;
    }
    bp_errors errs = {0};
    const bpi_command *command = bpi_command_find(first, &errs);
    if (!command)
        return bpi_message_usage(&errs, NULL);
    return run_command(command, argc - 2, argv + 2);
}

int main(int argc, char **argv)
{
    if (!hold_standard_files())
        return BPI_EXIT_FILE;
    struct sigaction note = {.sa_handler = note_reader_gone, .sa_flags = SA_RESTART};
    sigemptyset(&note.sa_mask);
    sigaction(SIGPIPE, &note, NULL);
    /* A write beyond the limit on the size of a file (ulimit -f) then fails like any other, too. */
    struct sigaction ignore = {.sa_handler = SIG_IGN};
    sigemptyset(&ignore.sa_mask);
    sigaction(SIGXFSZ, &ignore, NULL);

    bpi_exit status = run(argc, argv);
    bpi_zone_release_all();
    return (int)close_output(status);
}

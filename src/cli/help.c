#include "cli/help.h"

#include <stdio.h>

#include "cli/message.h"

/* The column where an explanation starts. */
#define COLUMN 24

static void row(FILE *to, const char *left, const char *right)
{
    fprintf(to, "  %-*s %s\n", COLUMN - 3, left, right);
}

void bpi_help_program(FILE *to)
{
    fputs("backpot turns a show file into everything the crew of a live cooking slot needs.\n\n"
          "Use: backpot COMMAND ...\n\nCommands:\n",
          to);
    for (const bpi_command *const *c = bpi_commands; *c; c++) {
        char left[64];
        snprintf(left, sizeof left, "%s %s", (*c)->name, (*c)->operands);
        row(to, left, (*c)->help);
    }
    fputs("\nOptions:\n", to);
    row(to, "-h, --help", "this text; after a command, help for it");
    row(to, "-V, --version", "the version of the program");
    fputs("\nExit status:\n", to);
#define ROW(name, status, meaning) row(to, #status, meaning);
    BPI_EXITS(ROW)
#undef ROW
}

void bpi_help_command(FILE *to, const bpi_command *c)
{
    fprintf(to, "Use: backpot %s%s%s%s\n\n%s.\n", c->name, c->options ? " [OPTION]..." : "",
            c->operands[0] ? " " : "", c->operands, c->help);
    fputs("\nOptions:\n", to);
    for (unsigned i = 0; i < c->options; i++) {
        const bpi_option *o = &c->option[i];
        char left[64];
        char letter[5] = "    ";
        if (o->letter)
            snprintf(letter, sizeof letter, "-%c, ", o->letter);
        snprintf(left, sizeof left, "%s--%s%s%s", letter, o->name, o->value ? " " : "",
                 o->value ? o->value : "");
        row(to, left, o->help);
    }
    row(to, "-h, --help", "this text");
    if (c->more)
        fprintf(to, "\n%s", c->more);
}

static bpi_exit run(const bpi_args *args)
{
    if (args->operands == 0) {
        bpi_help_program(stdout);
        return BPI_EXIT_DONE;
    }
    bp_errors errs = {0};
    const bpi_command *command = bpi_command_find(args->operand[0], &errs);
    if (!command)
        return bpi_message_usage(&errs, NULL);
    bpi_help_command(stdout, command);
    return BPI_EXIT_DONE;
}

const bpi_command bpi_command_help = {
    .name = "help",
    .operands = "[COMMAND]",
    .help = "explain the program or one command",
    .most = 1,
    .run = run,
};

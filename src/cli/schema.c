/* src/cli/schema.c - backpot schema: print the JSON Schema of a show file. */
#include <stdio.h>

#include "backpot/show.h"
#include "cli/command.h"

static bpi_exit run(const bpi_args *args)
{
    (void)args;
    size_t len = 0;
    const char *text = bp_schema_text(&len);
    fwrite(text, 1, len, stdout); /* main asks whether it was written */
    return BPI_EXIT_DONE;
}

const bpi_command bpi_command_schema = {
    .name = "schema",
    .operands = "",
    .help = "print the JSON Schema (2020-12) of a show file",
    .more = "An editor that knows JSON Schema can then propose and check members as you write.\n",
    .run = run,
};

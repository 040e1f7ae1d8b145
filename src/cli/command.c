#include "cli/command.h"

#include <stdio.h>
#include <string.h>

#include "base/error.h"
#include "base/near.h"

const bpi_command *const bpi_commands[] = {
    &bpi_command_after,
    &bpi_command_check,
    &bpi_command_draft,
    &bpi_command_help,
    &bpi_command_lengths,
    &bpi_command_live,
    &bpi_command_mend,
    &bpi_command_new,
    &bpi_command_plan,
    &bpi_command_schema,
    NULL,
};

const bpi_command *bpi_command_find(const char *name, bp_errors *errs)
{
    bpi_near near = bpi_near_to(name, strlen(name));
    for (const bpi_command *const *c = bpi_commands; *c; c++) {
        if (strcmp((*c)->name, name) == 0)
            return *c;
        bpi_near_offer(&near, (*c)->name);
    }
    char right[80];
    snprintf(right, sizeof right, "write %s", near.name ? near.name : "backpot help for a list");
    bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, right, "\"%.60s\" is not a command", name);
    return NULL;
}

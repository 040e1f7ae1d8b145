/* src/cli/draft.c - backpot draft: say what could be shown in a slot without beats, and what it costs. */
#include <stdio.h>
#include <string.h>

#include "backpot/draft.h"
#include "backpot/output.h"
#include "base/each.h"
#include "base/error.h"
#include "cli/command.h"
#include "cli/message.h"

enum { LIST };
static const bpi_option options[] = {
    [LIST] = {"list", "N", "at most so many drafts of a segment, 1 to 9; else 3", 0},
};

/* 0: it is none. */
static uint32_t number_of(const char *text)
{
    if (!text)
        return 3;
    return text[0] >= '1' && text[0] <= '0' + BP_DRAFTS && text[1] == '\0'
               ? (uint32_t)(text[0] - '0')
               : 0;
}

static bp_code tell(const bp_drafts *drafts, bp_errors *errs)
{
    char *text = NULL;
    size_t len = 0;
    bp_code rc = bp_drafts_write(&text, &len, drafts, errs);
    if (rc == BP_OK)
        fwrite(text, 1, len, stdout);
    bp_free(text);
    return rc;
}

static bpi_exit run(const bpi_args *args)
{
    bp_errors errs = {0};
    const bp_plan_options search = {.no_fixes = true, .threads = bpi_each_processors()};
    bp_show *show = NULL;
    bp_drafts *drafts = NULL;
    uint32_t most = number_of(args->value[LIST]);
    if (!most) {
        bpi_error_f(&errs, BP_EVALUE, BPI_NOWHERE, "write a number from 1 to 9",
                    "--list cannot be \"%.60s\"", args->value[LIST]);
        return bpi_message_usage(&errs, "draft");
    }
    bp_code rc = bp_show_open(&show, args->operand[0], &errs);
    if (rc == BP_OK)
        rc = bp_drafts_make(&drafts, show, most, &search, &errs);
    if (drafts)
        rc = tell(drafts, &errs);
    bp_drafts_free(drafts);
    bp_show_free(show);
    bpi_message_errors(&errs);
    return bpi_message_exit(rc);
}

const bpi_command bpi_command_draft = {
    .name = "draft",
    .operands = "SHOW",
    .help = "say what could be shown in each slot without beats, and what it costs",
    .more =
        "From the steps of the recipes that have an \"air\" part: an opening, steps, each dish\n"
        "finished, a tasting, a close. No two drafts ask the kitchen for the same containers;\n"
        "each is the best of those that do. Each is planned whole, and nothing is written.\n"
        "\"draft\" in a segment bounds the swap-outs and the burners on the set, and takes one.\n",
    .option = options,
    .options = sizeof options / sizeof *options,
    .least = 1,
    .most = 1,
    .run = run,
};

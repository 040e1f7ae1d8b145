/* src/cli/lengths.c - backpot lengths: plan a show, say what its slots become at other lengths. */
#include <stdio.h>

#include "backpot/output.h"
#include "backpot/plan.h"
#include "backpot/show.h"
#include "base/each.h"
#include "base/error.h"
#include "cli/command.h"
#include "cli/message.h"

enum { LOSE, SLOT };
static const bpi_option options[] = {
    [LOSE] = {"lose", "TIMES", "losses to tell of, such as 0:20,0:45, instead of the usual", 0},
    [SLOT] = {"slot", "LENGTH", "tell of this length alone, beat by beat", 0},
};

static bp_code tell(const bp_plan *plan, const bpi_args *args, bp_errors *errs)
{
    const bp_lengths_options how = {.lose = args->value[LOSE], .slot = args->value[SLOT]};
    char *text = NULL;
    size_t len = 0;
    bp_code rc = bp_lengths_write(&text, &len, plan, &how, errs);
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
    bp_plan *plan = NULL;
    bp_code rc = bp_show_open(&show, args->operand[0], &errs), told = BP_OK;
    if (rc == BP_OK)
        rc = bp_plan_make(&plan, show, &search, &errs);
    if (plan && plan->verdict != BP_NONE)
        told = tell(plan, args, &errs);
    bp_plan_free(plan);
    bp_show_free(show);
    if (told == BP_EVALUE) /* an option; a show with mistakes has no plan */
        return bpi_message_usage(&errs, "lengths");
    bpi_message_errors(&errs);
    return bpi_message_exit(told != BP_OK ? told : rc);
}

const bpi_command bpi_command_lengths = {
    .name = "lengths",
    .operands = "SHOW",
    .help = "say what each slot becomes at every length, and when time is lost on air",
    .more = "The show is planned, and nothing is written. Each length, to the second, from the\n"
            "longest that what is cooked can serve down to the shortest that still shows a\n"
            "finished dish: which beats are left out, and which swap-outs are then not needed.\n"
            "Then what becomes of each beat when 0:30, 1:00 or 1:30 is lost before the hit,\n"
            "and what goes when as much is lost at the start of any beat on air.\n"
            "Above it stands how far the hit can move with everything cooked as planned.\n"
            "Beats are numbered as on the cue sheet.\n",
    .option = options,
    .options = sizeof options / sizeof *options,
    .least = 1,
    .most = 1,
    .run = run,
};

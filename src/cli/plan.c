/* src/cli/plan.c - backpot plan: read a show, plan it, write the papers, say what comes out. */
#include <stdio.h>
#include <string.h>

#include "backpot/output.h"
#include "backpot/plan.h"
#include "backpot/show.h"
#include "base/each.h"
#include "base/error.h"
#include "base/near.h"
#include "cli/command.h"
#include "cli/message.h"
#include "cli/progress.h"
#include "cli/save.h"

/* A search of a day is a mistake in typing. */
#define MOST_SECONDS 86400

enum { OUTPUT, ONLY, WITHOUT, PAPER, SEARCH, CHANCE, DAYS, SEED, QUIET };
static const bpi_option options[] = {
    [OUTPUT] = {"output", "DIR", "write the files into this folder, made if missing", 'o'},
    [ONLY] = {"only", "NAMES", "write these files and no others", 0},
    [WITHOUT] = {"without", "NAMES", "leave these files out", 0},
    [PAPER] = {"paper", "SIZE", "a4 or letter, instead of what the show says", 0},
    [SEARCH] = {"seconds", "N", "go on searching for a better plan so long", 0},
    [CHANCE] = {"chance", "N", "allow steps longer until so many days in a hundred hold, 1 to 99",
                0},
    [DAYS] = {"days", "N", "play the day so often to see how likely the plan holds; 20000", 0},
    [SEED] = {"seed", "N", "play other days; 0", 0},
    [QUIET] = {"quiet", NULL, "print no summary", 'q'},
};

/* Fewer days say nothing, more take minutes. */
#define LEAST_DAYS 100
#define MOST_DAYS  10000000

#define BIT(number) (UINT32_C(1) << (number))

static const struct {
    const char *name;
    uint32_t bit;
} outputs[] = {
#define ROW(number, name, file) {name, BIT(number)},
    BP_OUTPUTS(ROW)
#undef ROW
};

/* The outputs named in a list such as "labels,json". */
static uint32_t named(const bpi_args *args, unsigned row, bp_errors *errs)
{
    uint32_t set = 0;
    const char *p = args->value[row];
    while (p) {
        size_t len = strcspn(p, ",");
        uint32_t bit = 0;
        bpi_near near = bpi_near_to(p, len);
        for (size_t i = 0; i < sizeof outputs / sizeof *outputs; i++) {
            bpi_near_offer(&near, outputs[i].name);
            if (strlen(outputs[i].name) == len && strncmp(outputs[i].name, p, len) == 0)
                bit = outputs[i].bit;
        }
        if (!bit) {
            char right[80];
            snprintf(right, sizeof right, "write %s",
                     near.name ? near.name : "one that backpot help plan lists");
            bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, right,
                        "option --%s: no file is called \"%.*s\"", options[row].name,
                        len < 60 ? (int)len : 60, p);
        }
        set |= bit;
        p = p[len] ? p + len + 1 : NULL;
    }
    return set;
}

static bp_paper paper(const char *size, bp_errors *errs)
{
    if (!size)
        return BP_PAPER_OF_SHOW;
    if (strcmp(size, "a4") == 0 || strcmp(size, "A4") == 0)
        return BP_PAPER_A4;
    if (strcmp(size, "letter") == 0 || strcmp(size, "Letter") == 0)
        return BP_PAPER_LETTER;
    bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "write a4 or letter",
                "option --paper cannot be \"%.60s\"", size);
    return BP_PAPER_OF_SHOW;
}

static bp_code print_summary(const bp_plan *plan, bp_errors *errs)
{
    char *text = NULL;
    size_t len = 0;
    bp_code rc = bp_summary_write(&text, &len, plan, errs);
    if (rc == BP_OK)
        fwrite(text, 1, len, stdout);
    bp_free(text);
    return rc;
}

/* Nobody should cook by a plan that food safety forbids, so it is told and not written. Files first: a
 * reader of the summary that goes away must not cost the crew its sheets. */
static bp_code deliver(const bp_plan *plan, const bpi_args *args, const bp_output_options *how,
                       bp_errors *errs)
{
    bp_code rc = BP_OK;
    if (how->folder && plan->verdict != BP_NONE && !plan->stopped)
        rc = bpi_save_plan(plan, how, errs);
    if (rc == BP_OK && !args->value[QUIET])
        rc = print_summary(plan, errs);
    return rc;
}

static bpi_exit make(const char *path, const bpi_args *args, bp_plan_options *search,
                     const bp_output_options *how)
{
    bp_errors errs = {0};
    bp_show *show = NULL;
    bp_plan *plan = NULL;
    bp_code rc = bp_show_open(&show, path, &errs);
    if (rc == BP_OK) {
        if (search->seconds)
            bpi_progress_begin(search);
        rc = bp_plan_make(&plan, show, search, &errs);
        if (search->seconds && bpi_progress_end() && plan)
            fputs("stopped: this is the best plan found so far\n", stderr);
    }
    if (plan) {
        bp_code delivered = deliver(plan, args, how, &errs);
        if (delivered != BP_OK)
            rc = delivered;
    }
    bp_plan_free(plan);
    bp_show_free(show);
    bpi_message_errors(&errs);
    return bpi_message_exit(rc);
}

static bpi_exit run(const bpi_args *args)
{
    bp_errors errs = {0};
    bp_plan_options search = {.threads = bpi_each_processors()};
    bp_output_options how = {.folder = args->value[OUTPUT]};
    bpi_args_number(&search.seconds, args, options, SEARCH, 1, MOST_SECONDS, &errs);
    uint32_t seed = 0;
    bpi_args_number(&search.chance, args, options, CHANCE, 1, 99, &errs);
    bpi_args_number(&search.days, args, options, DAYS, LEAST_DAYS, MOST_DAYS, &errs);
    bpi_args_number(&seed, args, options, SEED, 0, UINT32_MAX, &errs);
    search.seed = seed;
    how.paper = paper(args->value[PAPER], &errs);
    uint32_t only = named(args, ONLY, &errs), without = named(args, WITHOUT, &errs);
    how.leave_out = without | (args->value[ONLY] ? ~only : 0);
    if (errs.n == 0 && (~how.leave_out & (BIT(BP_NOUTPUTS) - 1)) == 0)
        bpi_error_add(&errs, BP_EVALUE, BPI_NOWHERE, "--only and --without leave no file to write",
                      "name fewer");
    if (errs.n)
        return bpi_message_usage(&errs, "plan");
    return make(args->operand[0], args, &search, &how);
}

const bpi_command bpi_command_plan = {
    .name = "plan",
    .operands = "SHOW",
    .help = "plan a show; write its sheets, labels, lists, calendars and data",
    .more =
        "Without -o nothing is written: the summary alone is printed.\n"
        "Every file is replaced whole or not at all. With no plan, the least-late one is\n"
        "written and marked as late on every sheet. A plan that food safety forbids is not\n"
        "written.\n\n"
        "Where steps have low, likely and high times the day is played many times, and the\n"
        "summary says how likely each swap-out is on set in time, what makes it late, and what\n"
        "an earlier call buys.\n\n"
        "NAMES are separated by commas:\n"
#define ROW(number, name, file) "  " name " (" file ")\n"
    BP_OUTPUTS(ROW)
#undef ROW
        "The calendar is one file for the kitchen and one, prep-COOK.ics, for each cook.\n",
    .option = options,
    .options = sizeof options / sizeof *options,
    .least = 1,
    .most = 1,
    .run = run,
};

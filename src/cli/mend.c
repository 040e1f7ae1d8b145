/* src/cli/mend.c - backpot mend: something went wrong; the plan from now on, and what moved. */
#include <stdio.h>
#include <string.h>

#include "backpot/mend.h"
#include "backpot/output.h"
#include "backpot/show.h"
#include "base/error.h"
#include "base/text.h"
#include "cli/command.h"
#include "cli/message.h"
#include "cli/save.h"

enum { OUTPUT, QUIET };
static const bpi_option options[] = {
    [OUTPUT] = {"output", "DIR", "write every sheet and calendar anew into this folder", 'o'},
    [QUIET] = {"quiet", NULL, "do not say what moved", 'q'},
};

/* ---- what moved ------------------------------------------------------------------------------ */

static const bp_op *find(const bp_plan *p, const char *key)
{
    for (uint32_t i = 0; i < p->ops; i++)
        if (strcmp(p->op[i].key, key) == 0)
            return &p->op[i];
    return NULL;
}

/* What nobody sees move: a container waits longer or less. */
static bool is_still(bp_op_kind kind)
{
    return kind == BP_OP_WAIT || kind == BP_OP_SET;
}

static const char *who(const bp_plan *p, const bp_op *op)
{
    return op->person == BP_NO_INDEX ? "nobody" : p->person[op->person].name;
}

static void put_op(bpi_text *out, const bp_plan *p, const bp_op *op)
{
    char clock[BP_CLOCK_ROOM];
    bpi_text_f(out, "%-6s %s: %s", bp_plan_clock(clock, p, op->from), who(p, op), op->text);
    for (uint32_t i = 0; i < op->serves.n; i++)
        bpi_text_f(out, "%s%s", i ? " " : " (", p->container[p->index[op->serves.first + i]].code);
    bpi_text_put(out, op->serves.n ? ")" : "");
}

static void print_line(bpi_text *line)
{
    bpi_message_line(stdout, line->failed ? "out of memory" : line->s);
    bpi_text_reset(line);
}

static void print_moved(const bp_plan *now, const bp_plan *before, int64_t from)
{
    bpi_text line = BPI_TEXT_EMPTY;
    uint32_t n = 0;
    for (uint32_t i = 0; i < now->ops; i++) {
        const bp_op *op = &now->op[i], *was = find(before, op->key);
        char clock[BP_CLOCK_ROOM];
        if (is_still(op->kind) ||
            (was && was->from == op->from && was->to == op->to && was->person == op->person))
            continue;
        put_op(&line, now, op);
        if (!was)
            bpi_text_put(&line, ", new");
        else if (was->from != op->from)
            bpi_text_f(&line, ", was %s", bp_plan_clock(clock, before, was->from));
        else if (was->to != op->to)
            bpi_text_f(&line, ", until %s", bp_plan_clock(clock, now, op->to));
        if (was && was->person != op->person)
            bpi_text_f(&line, ", was %s", who(before, was));
        print_line(&line);
        n++;
    }
    for (uint32_t i = 0; i < before->ops; i++)
        if (!is_still(before->op[i].kind) && before->op[i].from >= from &&
            !find(now, before->op[i].key)) {
            put_op(&line, before, &before->op[i]);
            bpi_text_put(&line, ", no more");
            print_line(&line);
            n++;
        }
    for (uint32_t i = 0; i < now->containers; i++)
        if (now->container[i].late > 0) {
            char length[BP_CLOCK_ROOM];
            bpi_text_f(&line, "%s is on set %s late", now->container[i].code,
                       bp_length_text(length, now->container[i].late));
            print_line(&line);
        }
    bpi_text_f(&line, n == 1 ? "%u change" : "%u changes", (unsigned)n);
    bpi_text_f(&line, "; %s",
               now->verdict == BP_LATE ? "not everything is there in time"
                                       : "everything is there in time");
    print_line(&line);
    bpi_text_release(&line);
}

/* ---- the command ----------------------------------------------------------------------------- */

static bpi_exit run(const bpi_args *args)
{
    bp_errors errs = {0};
    bp_show *show = NULL;
    bp_plan *plan = NULL, *before = NULL;
    int64_t from = 0;
    bp_code rc = bp_show_open(&show, args->operand[0], &errs);
    if (rc == BP_OK)
        rc = bp_plan_mend(&plan, &before, &from, show, (const char *const *)args->operand + 1,
                          (uint32_t)args->operands - 1, &errs);
    const bp_output_options how = {.folder = args->value[OUTPUT]};
    if (plan && how.folder && !plan->stopped) {
        bp_code written = bpi_save_plan(plan, &how, &errs);
        rc = written == BP_OK ? rc : written;
    }
    if (plan && !args->value[QUIET])
        print_moved(plan, before, from);
    bp_plan_free(plan);
    bp_plan_free(before);
    bp_show_free(show);
    bpi_message_errors(&errs);
    return bpi_message_exit(rc);
}

const bpi_command bpi_command_mend = {
    .name = "mend",
    .operands = "SHOW MISHAP...",
    .help = "something went wrong: plan anew from then on, moving little",
    .more =
        "A MISHAP is one word of the command line, in quotation marks:\n"
        "  \"07:10 B2 burnt\"                a container is lost, with all that was done for it\n"
        "  \"07:10 oven ID dead\"            with what is in it\n"
        "  \"07:10 burner dead\"             what stands on it goes to another\n"
        "  \"07:10 COOK late until 07:40\"   what is in hand is finished first\n"
        "  \"07:10 B2 STEP until 07:25\"     a step under way takes longer\n"
        "On the second mishap of a day say the first one too, and so on. Until then all is\n"
        "taken to have gone to plan. What had begun stays as it was.\n"
        "With -o into the folder of the plan its calendars are told what changed.\n",
    .option = options,
    .options = sizeof options / sizeof *options,
    .least = 2,
    .most = 1 + BP_MEND_LINES,
    .run = run,
};

/* src/cli/mend.c - backpot mend: something went wrong; the plan from now on, and what moved. */
#include <stdio.h>
#include <string.h>

#include "backpot/day.h"
#include "backpot/mend.h"
#include "backpot/output.h"
#include "backpot/show.h"
#include "base/error.h"
#include "base/text.h"
#include "cli/command.h"
#include "cli/message.h"
#include "cli/save.h"

enum { LOG, OUTPUT, QUIET };
static const bpi_option options[] = {
    [LOG] = {"log", "FILE", "the past as it was ticked; with -o the mishap is entered there", 'l'},
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

/* Who stays longer than the show file has them. */
static void print_overtime(const bp_plan *p, bpi_text *line)
{
    for (uint32_t i = 0; i < p->stints; i++) {
        const bp_stint *s = &p->stint[i];
        char until[BP_CLOCK_ROOM], wrap[BP_CLOCK_ROOM];
        if (s->release <= s->wrap)
            continue;
        bpi_text_f(line, "%s works until %s, past the wrap at %s", p->person[s->person].name,
                   bp_plan_clock(until, p, s->release), bp_plan_clock(wrap, p, s->wrap));
        print_line(line);
    }
}

/* What was taken off, or is on, later than its step allows. A mended plan has such a step as it was, with
 * no window but that: so it is told once, against the plan before, which had it planned. */
static void print_overdone(const bp_plan *now, const bp_plan *before, bpi_text *line)
{
    for (uint32_t i = 0; i < now->ops; i++) {
        const bp_op *op = &now->op[i], *was = find(before, op->key);
        char clock[BP_CLOCK_ROOM], length[BP_CLOCK_ROOM];
        if ((op->kind != BP_OP_PASSIVE && op->kind != BP_OP_OVEN) || !was ||
            was->off_most == BP_NO_TIME)
            continue;
        int64_t over = op->to - op->from - (was->off_most - was->from);
        if (over <= 0)
            continue;
        for (uint32_t k = 0; k < op->serves.n; k++)
            bpi_text_f(line, "%s%s", k ? " " : "",
                       now->container[now->index[op->serves.first + k]].code);
        bpi_text_f(line, ": %s, off at %s, %s longer than its step allows: taste it", op->text,
                   bp_plan_clock(clock, now, op->to), bp_length_text(length, over));
        print_line(line);
    }
}

static void print_moved(const bp_plan *now, const bp_plan *before, int64_t from, bool ticked)
{
    bpi_text line = BPI_TEXT_EMPTY;
    uint32_t n = 0;
    for (uint32_t i = 0; i < now->ops; i++) {
        const bp_op *op = &now->op[i], *was = find(before, op->key);
        char clock[BP_CLOCK_ROOM];
        if (is_still(op->kind) || op->to <= from ||
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
    if (ticked) /* else a step is longer because that is the mishap */
        print_overdone(now, before, &line);
    print_overtime(now, &line);
    bpi_text_f(&line, n == 1 ? "%u change" : "%u changes", (unsigned)n);
    bpi_text_f(&line, "; %s",
               now->verdict == BP_LATE ? "not everything is there in time"
                                       : "everything is there in time");
    print_line(&line);
    bpi_text_release(&line);
}

/* ---- the command ----------------------------------------------------------------------------- */

/* What is mended, and by what. */
typedef struct job {
    const bpi_args *args;
    bp_show *show;
    bp_log *log; /* NULL: all went to plan */
    bp_plan *plan, *before;
    int64_t from;
} job;

static uint32_t lines_of(const bpi_args *args)
{
    return (uint32_t)args->operands - 1;
}

/* By the log as it is now; `entered`: the mishaps of the command line stand in it. */
static bp_code mend(job *j, bool entered, bp_errors *errs)
{
    const char *path = j->args->value[LOG];
    bp_code rc = BP_OK;
    bp_log_free(j->log);
    j->log = NULL;
    if (path)
        rc = bp_log_read(&j->log, path, errs);
    bp_plan_free(j->plan);
    bp_plan_free(j->before);
    j->plan = j->before = NULL;
    if (rc == BP_OK)
        rc = bp_plan_mend_day(&j->plan, &j->before, &j->from, j->show, j->log,
                              (const char *const *)j->args->operand + 1,
                              entered ? 0 : lines_of(j->args), errs);
    return rc;
}

/* Into the log, from which the kitchen's clock goes on. *other: something was ticked meanwhile, so that
 * what it goes on with is another plan. */
static bp_code enter(const job *j, bool *other, bp_errors *errs)
{
    bp_logbook *book = NULL;
    bp_code rc = bp_logbook_open(&book, j->args->value[LOG], &j->log->head, errs);
    for (uint32_t i = 0; rc == BP_OK && i < lines_of(j->args); i++) {
        bp_event e = {.kind = BP_DAY_MISHAP, .at = j->from, .air = "", .beat = "", .op = ""};
        e.text = j->args->operand[1 + i];
        rc = bp_logbook_add(book, &e, errs);
    }
    *other = rc == BP_OK && bp_logbook_log(book)->events != j->log->events + lines_of(j->args);
    bp_logbook_close(book);
    return rc;
}

/* First into the log: the sheets must not follow a mishap that the clock does not know. `mended` is how
 * mending ended. */
static bp_code write_all(job *j, bp_code mended, bp_errors *errs)
{
    const bp_output_options how = {.folder = j->args->value[OUTPUT]};
    bool other = false;
    bp_code rc = j->log ? enter(j, &other, errs) : BP_OK;
    if (rc != BP_OK)
        return rc;
    if (other) {
        *errs = (bp_errors){0};
        mended = mend(j, true, errs);
    }
    if (!j->plan || j->plan->stopped)
        return mended;
    rc = bpi_save_plan(j->plan, &how, errs);
    return rc == BP_OK ? mended : rc;
}

static bpi_exit run(const bpi_args *args)
{
    bp_errors errs = {0};
    job j = {.args = args};
    bp_code rc = bp_show_open(&j.show, args->operand[0], &errs);
    if (rc == BP_OK)
        rc = mend(&j, false, &errs);
    if (j.plan && args->value[OUTPUT] && !j.plan->stopped)
        rc = write_all(&j, rc, &errs);
    if (j.plan && !args->value[QUIET])
        print_moved(j.plan, j.before, j.from, j.log != NULL);
    bp_plan_free(j.plan);
    bp_plan_free(j.before);
    bp_log_free(j.log);
    bp_show_free(j.show);
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
        "  \"07:10 behind\"                  nothing else: go on from what the log says\n"
        "What had begun stays as it was. With --log that is what was ticked in the kitchen, the\n"
        "mishaps so far are in the log, and with -o the new one is entered there: live goes on\n"
        "with the mended plan. Without a log all is taken to have gone to plan until then; on the\n"
        "second mishap of a day say the first one too, and so on.\n"
        "With -o into the folder of the plan its calendars are told what changed.\n",
    .option = options,
    .options = sizeof options / sizeof *options,
    .least = 2,
    .most = 1 + BP_MEND_LINES,
    .run = run,
};

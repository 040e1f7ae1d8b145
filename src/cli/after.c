/* src/cli/after.c - backpot after: the log of a day against its plan, and what it teaches. */
#include <stdio.h>
#include <string.h>

#include "backpot/after.h"
#include "backpot/mend.h"
#include "backpot/show.h"
#include "base/each.h"
#include "base/error.h"
#include "base/file.h"
#include "base/span.h"
#include "base/text.h"
#include "cli/command.h"
#include "cli/message.h"

#define MOST_DAYS 60

enum { REPORT, LEARN, QUIET };
static const bpi_option options[] = {
    [REPORT] = {"report", "FILE", "write the last of the days on one page, as PDF", 0},
    [LEARN] = {"learn", NULL, "write the learned times into the show and its recipes", 0},
    [QUIET] = {"quiet", NULL, "do not tell what was planned and done", 'q'},
};

static void print_line(bpi_text *line)
{
    bpi_message_line(stdout, line->failed ? "out of memory" : line->s ? line->s : "");
    bpi_text_reset(line);
}

/* "0:30", or "-" */
static void put_span(bpi_text *out, int64_t seconds)
{
    if (seconds == BP_NO_TIME)
        bpi_text_put(out, "-");
    else
        bpi_span_minutes(out, seconds);
}

/* "+0:05", "-0:05", "0:00" */
static void put_over(bpi_text *out, int64_t seconds)
{
    if (seconds > 0)
        bpi_text_put(out, "+");
    put_span(out, seconds);
}

/* Blanks up to a column. */
static void fill(bpi_text *out, size_t column)
{
    do
        bpi_text_put(out, " ");
    while (!out->failed && out->len < column);
}

static int64_t length_of(const bp_actual *a)
{
    return a->from == BP_NO_TIME || a->to == BP_NO_TIME ? BP_NO_TIME : a->to - a->from;
}

/* ---- one day --------------------------------------------------------------------------------- */

static void print_air(const bp_after *a, uint32_t i, bpi_text *line)
{
    const bp_plan *p = a->plan;
    const bp_air *air = &p->air[i];
    char clock[BP_CLOCK_ROOM];
    if (a->air[i].from == BP_NO_TIME)
        return;
    bpi_text_f(line, "%s: hit planned %s, ", air->title, bp_plan_clock(clock, p, air->hit));
    bpi_text_f(line, "came %s; slot ", bp_plan_clock(clock, p, a->air[i].from));
    put_span(line, air->slot);
    bpi_text_put(line, " planned");
    print_line(line);
    bpi_text_put(line, "  beat            planned   lasted   over");
    print_line(line);
    for (uint32_t k = 0; k < air->beats.n; k++) {
        uint32_t b = air->beats.first + k;
        if (a->beat[b].from == BP_NO_TIME && p->beat[b].dropped)
            continue;
        bpi_text_f(line, "  %s", p->beat[b].id);
        fill(line, 18);
        put_span(line, p->beat[b].length);
        fill(line, 28);
        put_span(line, length_of(&a->beat[b]));
        fill(line, 37);
        put_over(line, bp_after_beat_over(a, b));
        print_line(line);
    }
}

static bool was_ticked(const bp_after_op *x)
{
    return x->done.from != BP_NO_TIME || x->done.to != BP_NO_TIME;
}

static void print_op(const bp_after *a, uint32_t o, size_t day, bpi_text *line)
{
    char clock[BP_CLOCK_ROOM];
    const bp_after_op *x = &a->op[o];
    const bp_plan *p = x->plan;
    const bp_op *op = &p->op[x->op];
    bpi_text_f(line, "  %s", bp_plan_clock(clock, p, op->from));
    fill(line, 9 + day);
    put_span(line, op->to - op->from);
    fill(line, 17 + day);
    bpi_text_put(line, x->done.from == BP_NO_TIME ? "-" : bp_plan_clock(clock, p, x->done.from));
    fill(line, 27 + 2 * day);
    put_span(line, length_of(&x->done));
    fill(line, 36 + 2 * day);
    put_over(line, bp_after_op_over(a, o));
    fill(line, 44 + 2 * day);
    for (uint32_t i = 0; i < op->serves.n; i++)
        bpi_text_f(line, "%s ", p->container[p->index[op->serves.first + i]].code);
    bpi_text_put(line, op->text);
    print_line(line);
}

static void print_kitchen(const bp_after *a, bpi_text *line)
{
    bool first = true;
    size_t day = a->ops && a->op[0].plan->op[a->op[0].op].from < 0 ? 4 : 0; /* "Wed " */
    for (uint32_t o = 0; o < a->ops; o++) {
        if (!was_ticked(&a->op[o]))
            continue;
        if (first) {
            bpi_text_put(line, "  planned");
            fill(line, 17 + day);
            bpi_text_put(line, "began");
            fill(line, 27 + 2 * day);
            bpi_text_put(line, "lasted");
            fill(line, 36 + 2 * day);
            bpi_text_put(line, "over");
            print_line(line);
        }
        first = false;
        print_op(a, o, day, line);
    }
}

/* ---- the days -------------------------------------------------------------------------------- */

/* A log, and the plans that were in force: the show's, then one after each mishap. */
typedef struct day {
    bp_log *log;
    bp_after *after;
    bp_plan *plan[1 + BP_MEND_LINES]; /* the first is shared by all days */
    uint32_t plans;
} day;

typedef struct days {
    day day[MOST_DAYS];
    const bp_after *after[MOST_DAYS];
    uint32_t n;
} days;

static void print_mishaps(const day *d, bpi_text *line)
{
    uint32_t n = 1;
    for (uint32_t i = 0; i < d->log->events; i++) {
        const bp_event *e = &d->log->event[i];
        if (e->kind != BP_DAY_MISHAP)
            continue;
        bpi_text_f(line, "  went wrong: %s%s", e->text,
                   n++ < d->plans ? "; from then on by the mended plan"
                                  : "; no mended plan, so by the one before");
        print_line(line);
    }
}

static void print_day(const day *d)
{
    const bp_after *a = d->after;
    bpi_text line = BPI_TEXT_EMPTY;
    bpi_text_f(&line, "%s%s%s", a->file, a->rehearsal ? ", a rehearsal" : "",
               a->other ? ", of another version of the show" : "");
    print_line(&line);
    print_mishaps(d, &line);
    if (a->unknown) {
        bpi_text_f(&line, "  %u event%s what the plan does not have, and %s left out",
                   (unsigned)a->unknown, a->unknown == 1 ? " names" : "s name",
                   a->unknown == 1 ? "is" : "are");
        print_line(&line);
    }
    for (uint32_t i = 0; i < a->plan->airs; i++)
        print_air(a, i, &line);
    print_kitchen(a, &line);
    bpi_text_release(&line);
}

/* ---- what it teaches ------------------------------------------------------------------------- */

static void put_three(bpi_text *out, int64_t low, int64_t likely, int64_t high)
{
    bpi_span_words(out, likely);
    if (low == high)
        return;
    bpi_text_put(out, " (");
    bpi_span_words(out, low);
    bpi_text_put(out, " to ");
    bpi_span_words(out, high);
    bpi_text_put(out, ")");
}

static void print_lesson(const bp_lesson *k, bpi_text *line)
{
    bpi_text_f(line, "  %s, %s: %u times", k->recipe, k->step, (unsigned)k->seen);
    if (k->odd)
        bpi_text_f(line, ", %u of them odd", (unsigned)k->odd);
    if (k->enough) {
        bpi_text_put(line, ": ");
        put_three(line, k->low, k->likely, k->high);
        bpi_text_put(line, k->together ? " for one container; written is " : "; written is ");
        put_three(line, k->was_low, k->was_likely, k->was_high);
    } else
        bpi_text_f(line, ": too few, %d are needed", BP_LEARN_LEAST);
    print_line(line);
}

static void print_lessons(const bp_lessons *l, bool beats)
{
    bpi_text line = BPI_TEXT_EMPTY;
    bool begun = false;
    for (uint32_t i = 0; i < l->lessons; i++) {
        if (l->lesson[i].beat != beats)
            continue;
        if (!begun) {
            bpi_text_put(&line,
                         beats ? "Beats as they were seen" : "Hands-on steps as they were seen");
            print_line(&line);
        }
        begun = true;
        print_lesson(&l->lesson[i], &line);
    }
    bpi_text_release(&line);
}

static bp_code learn(const bp_lessons *lessons, bool quiet, bp_errors *errs)
{
    uint32_t written = 0;
    bp_code rc = bp_lessons_write(lessons, &written, errs);
    char line[80];
    snprintf(line, sizeof line, written == 1 ? "%u time was written" : "%u times were written",
             (unsigned)written);
    if (!quiet || rc != BP_OK)
        bpi_message_line(stdout, line);
    return rc;
}

static bp_code write_report(const bp_after *a, const char *path, bp_errors *errs)
{
    char *bytes = NULL;
    size_t len = 0;
    bp_code rc = bp_report_write(&bytes, &len, a, errs);
    if (rc == BP_OK)
        rc = bpi_file_write(path, bytes, len, errs);
    bp_free(bytes);
    return rc;
}

/* ---- the command ----------------------------------------------------------------------------- */

static bool has_mishaps(const bp_log *log)
{
    for (uint32_t i = 0; i < log->events; i++)
        if (log->event[i].kind == BP_DAY_MISHAP)
            return true;
    return false;
}

/* The day was held all the same where a mishap left no plan, or was one of another version of the show. */
static bp_code find_plans(day *d, const bp_show *show, bp_plan *plan, bp_errors *errs)
{
    bp_errors unheard = {0};
    uint32_t n = 0;
    bp_code rc = BP_OK;
    d->plan[0] = plan;
    if (has_mishaps(d->log))
        rc = bp_plan_mend_each(d->plan + 1, &n, show, d->log, &unheard);
    d->plans = 1 + n;
    if (rc != BP_ENOMEM && rc != BP_EINTERNAL)
        return BP_OK;
    *errs = unheard;
    return rc;
}

static bp_code add_day(days *all, const bp_show *show, bp_plan *plan, const char *path,
                       bp_errors *errs)
{
    day *d = &all->day[all->n++];
    bp_code rc = bp_log_read(&d->log, path, errs);
    if (rc == BP_OK)
        rc = find_plans(d, show, plan, errs);
    if (rc == BP_OK)
        rc = bp_after_make(&d->after, (const bp_plan *const *)d->plan, d->plans, d->log, errs);
    all->after[all->n - 1] = d->after;
    return rc;
}

/* The log beside "morning.json" is "morning.log". */
static bp_code add_own(days *d, const bp_show *show, bp_plan *plan, const char *file,
                       bp_errors *errs)
{
    bpi_text path = BPI_TEXT_EMPTY;
    size_t n = strlen(file);
    if (n > 5 && strcmp(file + n - 5, ".json") == 0)
        n -= 5;
    bpi_text_f(&path, "%.*s.log", (int)n, file);
    bp_code rc = path.failed ? bpi_error_no_memory(errs) : add_day(d, show, plan, path.s, errs);
    bpi_text_release(&path);
    return rc;
}

static bp_code tell(const bpi_args *args, const days *d, const bp_show *show, bp_errors *errs)
{
    bp_lessons *lessons = NULL;
    bool quiet = args->value[QUIET] != NULL;
    bp_code rc = bp_lessons_make(&lessons, show, d->after, d->n, errs);
    for (uint32_t i = 0; rc == BP_OK && i < d->n && !quiet; i++)
        print_day(&d->day[i]);
    if (rc == BP_OK && !quiet)
        print_lessons(lessons, false);
    if (rc == BP_OK && !quiet)
        print_lessons(lessons, true);
    if (rc == BP_OK && args->value[REPORT])
        rc = write_report(d->after[d->n - 1], args->value[REPORT], errs);
    if (rc == BP_OK && args->value[LEARN])
        rc = learn(lessons, quiet, errs);
    bp_lessons_free(lessons);
    return rc;
}

static bpi_exit run(const bpi_args *args)
{
    bp_errors errs = {0};
    bp_show *show = NULL;
    bp_plan *plan = NULL;
    days d = {.n = 0};
    bp_code rc = bp_show_open(&show, args->operand[0], &errs);
    if (rc == BP_OK) {
        bp_plan_options quick = {.no_fixes = true, .threads = bpi_each_processors()};
        rc = bp_plan_make(&plan, show, &quick, &errs);
        if (rc == BP_ENOFIT && plan && plan->verdict == BP_LATE) {
            rc = BP_OK; /* the day was held all the same */
            errs.n = errs.more = 0;
        }
    }
    if (rc == BP_OK && args->operands == 1)
        rc = add_own(&d, show, plan, args->operand[0], &errs);
    for (int i = 1; rc == BP_OK && i < args->operands; i++)
        rc = add_day(&d, show, plan, args->operand[i], &errs);
    if (rc == BP_OK)
        rc = tell(args, &d, show, &errs);
    for (uint32_t i = 0; i < d.n; i++) {
        bp_after_free(d.day[i].after);
        bp_log_free(d.day[i].log);
        for (uint32_t k = 1; k < d.day[i].plans; k++)
            bp_plan_free(d.day[i].plan[k]);
    }
    bp_plan_free(plan);
    bp_show_free(show);
    bpi_message_errors(&errs);
    return bpi_message_exit(rc);
}

const bpi_command bpi_command_after = {
    .name = "after",
    .operands = "SHOW [LOG]...",
    .help = "hold the log of a day against its plan, and learn from it",
    .more =
        "Each LOG is one day that \"live\" ran on the floor, in the kitchen or both; without any\n"
        "it is SHOW.log beside SHOW.json. Said is of each beat and each operation that was\n"
        "ticked what was planned and how long it lasted, and of each hands-on step and each beat\n"
        "how long it takes: likely is the median, low and high the least and the most, without\n"
        "days and times that lie far off.\n\n"
        "With --learn, steps and beats seen three times or more get these as their times; the\n"
        "bounds of a beat only ever become wider. Nothing else in the files changes.\n",
    .option = options,
    .options = sizeof options / sizeof *options,
    .least = 1,
    .most = 1 + MOST_DAYS,
    .run = run,
};

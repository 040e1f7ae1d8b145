/* src/cli/new.c - backpot new: write a small show to start from, asking on a terminal. */
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "backpot/plan.h"
#include "backpot/show.h"
#include "base/error.h"
#include "cli/command.h"
#include "cli/message.h"
#include "cli/newfile.h"

enum { TITLE, DATE, ZONE, HIT, SLOT, COOKS, BURNERS, OVENS, FORCE };
static const bpi_option options[] = {
    [TITLE] = {"title", "TEXT", "title of the show", 0},
    [DATE] = {"date", "DATE", "day of the show", 0},
    [ZONE] = {"zone", "ZONE", "IANA time zone, such as Europe/Lisbon", 0},
    [HIT] = {"hit", "TIME", "clock time at which the segment starts", 0},
    [SLOT] = {"slot", "LENGTH", "length of the segment, minutes:seconds", 0},
    [COOKS] = {"cooks", "N", "how many cooks", 0},
    [BURNERS] = {"burners", "N", "how many burners", 0},
    [OVENS] = {"ovens", "N", "how many ovens; 0: none", 0},
    [FORCE] = {"force", NULL, "replace a file that is there", 'f'},
};
/* Bounds typing; the library knows what a kitchen can have. */
#define MOST_COUNT 99
#define QUESTIONS  FORCE /* the rows before it are asked for */

/* Where the answer to option `row` is kept. */
static const char **text_of(bp_starter *s, unsigned row)
{
    const char **const texts[] = {[TITLE] = &s->title,
                                  [DATE] = &s->date,
                                  [ZONE] = &s->zone,
                                  [HIT] = &s->hit,
                                  [SLOT] = &s->slot};
    return texts[row];
}

static unsigned *number_of(bp_starter *s, unsigned row)
{
    return row == COOKS ? &s->cooks : row == BURNERS ? &s->burners : &s->ovens;
}

/* The question for option `row`, and what is taken when the answer is empty. */
static void put_question(unsigned row)
{
    bp_starter usual = *bp_starter_defaults();
    fprintf(stderr, "%s [", options[row].help);
    if (row < COOKS)
        fprintf(stderr, "%s]? ", *text_of(&usual, row));
    else
        fprintf(stderr, "%u]? ", *number_of(&usual, row));
}

/* Keep what is given for option `row`; the library judges the texts. */
static void answer(bp_starter *s, const bpi_args *args, unsigned row, bp_errors *errs)
{
    if (row < COOKS) {
        *text_of(s, row) = args->value[row];
    } else {
        uint32_t n = UINT32_MAX; /* not given, or no number: as it was */
        bpi_args_number(&n, args, options, row, row == OVENS ? 0 : 1, MOST_COUNT, errs);
        if (n != UINT32_MAX)
            *number_of(s, row) = n ? n : BP_STARTER_NONE;
    }
}

typedef enum typed { TYPED, TYPED_TOO_MUCH, TYPED_NO_TEXT, TYPED_NOTHING_MORE } typed;

static typed read_line(char *to, size_t room)
{
    size_t len = 0;
    typed got = TYPED;
    int c;
    while ((c = getchar()) != EOF && c != '\n') {
        if (len + 1 < room)
            to[len++] = (char)c;
        else
            got = TYPED_TOO_MUCH;
        if (c == '\0')
            got = TYPED_NO_TEXT;
    }
    to[len] = '\0';
    return c == EOF && len == 0 ? TYPED_NOTHING_MORE : got;
}

/* Would the starter be accepted so far? */
static bp_code judge(const bp_starter *s, bp_errors *errs)
{
    char *text = NULL;
    size_t len = 0;
    bp_code rc = bp_starter_write(&text, &len, s, errs);
    bp_free(text);
    return rc;
}

/* Ask for what the options left open, each until the answer is usable; an empty one takes
 * the default. `lines` holds the texts. false: the answers ended. */
static bool ask(bp_starter *s, const bpi_args *given, char lines[QUESTIONS][256])
{
    fputs("An empty answer takes what stands in brackets.\n", stderr);
    for (unsigned row = 0; row < QUESTIONS; row++) {
        while (!given->value[row]) {
            bp_errors errs = {0};
            put_question(row);
            typed got = read_line(lines[row], sizeof lines[row]);
            if (got == TYPED_NOTHING_MORE) {
                fputc('\n', stderr);
                return false;
            }
            bpi_args one = {.value = {[0] = NULL}};
            one.value[row] = got == TYPED && lines[row][0] ? lines[row] : NULL;
            if (got == TYPED_TOO_MUCH)
                bpi_error_add(&errs, BP_EVALUE, BPI_NOWHERE, "the answer is too long", "");
            else if (got == TYPED_NO_TEXT)
                bpi_error_add(&errs, BP_EVALUE, BPI_NOWHERE, "the answer is no text",
                              "write it without a NUL");
            else
                answer(s, &one, row, &errs);
            if (errs.n == 0 && judge(s, &errs) == BP_OK)
                break;
            bpi_message_errors(&errs);
        }
    }
    return true;
}

/* A starter that cannot be planned is no start: plan it before it is written. */
static bp_code try_plan(const char *text, size_t len, const char *path, bp_errors *errs)
{
    bp_show *show = NULL;
    bp_plan *plan = NULL;
    bp_code rc = bp_show_read(&show, text, len, path, NULL, errs);
    if (rc == BP_OK)
        rc = bp_plan_make(&plan, show, NULL, errs);
    if (rc == BP_ENOFIT || rc == BP_EUNSURE) {
        bpi_message("with these answers no plan exists; nothing was written");
        for (uint32_t i = 0; plan && i < plan->facts; i++)
            bpi_message_line(stderr, plan->fact[i].text);
        for (uint32_t i = 0; plan && i < plan->fixes; i++)
            bpi_message("this would help: %s", plan->fix[i].text);
    }
    bp_plan_free(plan);
    bp_show_free(show);
    return rc;
}

static bpi_exit run(const bpi_args *args)
{
    const char *path = args->operand[0];
    char lines[QUESTIONS][256] = {{0}};
    bp_starter starter = {0};
    bp_errors errs = {0};
    for (unsigned row = 0; row < QUESTIONS; row++)
        answer(&starter, args, row, &errs);
    bp_code rc = errs.n ? BP_EVALUE : judge(&starter, &errs);
    if (rc == BP_ENOMEM)
        bpi_message_errors(&errs);
    if (rc != BP_OK)
        return rc == BP_ENOMEM ? BPI_EXIT_FILE : bpi_message_usage(&errs, "new");

    if (!args->value[FORCE] && access(path, F_OK) == 0) {
        bpi_message("%s is there already; give another name, or --force to replace it", path);
        return BPI_EXIT_FILE;
    }
    if (isatty(STDIN_FILENO) && isatty(STDERR_FILENO) && !ask(&starter, args, lines)) {
        bpi_message("the answers ended; nothing was written");
        return BPI_EXIT_FILE;
    }

    char *text = NULL;
    size_t len = 0;
    rc = bp_starter_write(&text, &len, &starter, &errs);
    if (rc == BP_OK)
        rc = try_plan(text, len, path, &errs);
    if (rc == BP_OK)
        rc = bpi_newfile_write(path, text, len, args->value[FORCE], &errs);
    bp_free(text);
    bpi_message_errors(&errs);
    if (rc == BP_OK) {
        char line[600];
        snprintf(line, sizeof line, "%.400s is written; plan it: backpot plan %.100s -o DIR", path,
                 path);
        bpi_message_line(stdout, line);
    }
    return bpi_message_exit(rc);
}

const bpi_command bpi_command_new = {
    .name = "new",
    .operands = "FILE",
    .help = "write a small show to start from",
    .more = "On a terminal it asks for what no option gives. The show plans as it is written.\n",
    .option = options,
    .options = sizeof options / sizeof *options,
    .least = 1,
    .most = 1,
    .run = run,
};

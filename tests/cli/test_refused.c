/* Each command run with memory refused: it says so, and nothing is written. */
#include <check.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "backpot/day.h"
#include "backpot/kitchen.h"
#include "backpot/plan.h"
#include "backpot/show.h"
#include "base/memory.h"
#include "cli/command.h"
#include "support/share.h"

#define SHOW "tests/plan/terrine.json"

static char folder[] = "/tmp/backpot-test-XXXXXX";
static char said[2][16384]; /* to standard output and to standard error */

static const char *in_folder(const char *name)
{
    static char path[80];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

static void set_up(void)
{
    ck_assert_ptr_nonnull(mkdtemp(folder));
}

static void tear_down(void)
{
    static const char *const names[] = {"0", "1", "day.log", "new.json", "report.pdf"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        unlink(in_folder(names[i]));
    ck_assert_int_eq(rmdir(folder), 0); /* and no temporary file is left in it */
}

static void read_said(int stream)
{
    FILE *f = fopen(in_folder(stream ? "1" : "0"), "rb");
    ck_assert_ptr_nonnull(f);
    size_t n = fread(said[stream], 1, sizeof said[stream] - 1, f);
    said[stream][n] = '\0';
    fclose(f);
}

/* A command as the program runs it, its words ended by NULL, files of ours in our folder; what it says
 * goes to `said`. Its memory is
 * refused from request k on, only that one unless `after`; below 0: none. */
static bpi_exit run(const char *const *words, long k, int after, bool *fired)
{
    char *argv[8], path[8][80];
    int argc = 0, kept[2], to[2];
    bpi_args args;
    bp_errors errs = {0};
    const bpi_command *c = bpi_command_find(words[0], &errs);
    ck_assert_ptr_nonnull(c);
    for (words++; words[argc]; argc++) {
        const char *word = words[argc];
        bool ours = strcmp(word, "day.log") == 0 || strcmp(word, "new.json") == 0 ||
                    strcmp(word, "report.pdf") == 0;
        snprintf(path[argc], sizeof path[argc], "%s", ours ? in_folder(word) : word);
        argv[argc] = path[argc];
    }
    ck_assert_int_eq(bpi_args_read(&args, c->option, c->options, argc, argv, &errs), BP_OK);
    unlink(in_folder("new.json"));
    unlink(in_folder("report.pdf"));
    fflush(NULL);
    for (int i = 0; i < 2; i++) {
        kept[i] = dup(i + 1);
        to[i] = open(in_folder(i ? "1" : "0"), O_WRONLY | O_CREAT | O_TRUNC, 0600);
        ck_assert(kept[i] >= 0 && to[i] >= 0);
        dup2(to[i], i + 1);
    }
    bpi_mem_fail_at(k, after);
    bpi_exit how = c->run(&args);
    *fired = bpi_mem_failed() != 0;
    bpi_mem_fail_at(-1, 0);
    fflush(NULL);
    for (int i = 0; i < 2; i++) {
        dup2(kept[i], i + 1);
        close(kept[i]);
        close(to[i]);
        read_said(i);
    }
    return how;
}

/* A day that went to plan, but for what is not ticked: a minute late. */
static void write_log(void)
{
    bp_errors errs = {0};
    bp_plan_options quick = {.no_fixes = true};
    bp_show *show = NULL;
    bp_plan *plan = NULL;
    bp_logbook *book = NULL;
    ck_assert_int_eq(bp_show_open(&show, SHOW, &errs), BP_OK);
    ck_assert_int_eq(bp_plan_make(&plan, show, &quick, &errs), BP_OK);
    bp_log_head head = {plan->show_id, plan->stamp, false};
    ck_assert_int_eq(bp_logbook_open(&book, in_folder("day.log"), &head, &errs), BP_OK);
    bp_event e = {.air = "", .beat = "", .op = "", .text = ""};
    for (uint32_t o = 0; o < plan->ops; o++) {
        if (!bp_op_is_ticked(plan->op[o].kind))
            continue;
        e.op = plan->op[o].key;
        for (int done = 0; done < 2; done++) {
            e.kind = done ? BP_DAY_DONE : BP_DAY_START;
            e.at = (done ? plan->op[o].to : plan->op[o].from) + 60;
            ck_assert_int_eq(bp_logbook_add(book, &e, &errs), BP_OK);
        }
    }
    e = (bp_event){.kind = BP_DAY_HIT, .at = plan->air[0].hit, .air = plan->air[0].id};
    e.beat = e.op = e.text = "";
    ck_assert_int_eq(bp_logbook_add(book, &e, &errs), BP_OK);
    for (uint32_t b = 0; b < plan->beats; b++) {
        e.kind = BP_DAY_BEAT;
        e.at = plan->beat[b].from + 5;
        e.beat = plan->beat[b].id;
        ck_assert_int_eq(bp_logbook_add(book, &e, &errs), BP_OK);
    }
    bp_logbook_close(book);
    bp_plan_free(plan);
    bp_show_free(show);
}

typedef struct command {
    const char *word[8];
    bpi_exit how; /* with all its memory */
} command;

static const command commands[] = {
    {{"plan", SHOW}, BPI_EXIT_DONE},
    {{"check", SHOW}, BPI_EXIT_DONE},
    {{"lengths", SHOW}, BPI_EXIT_DONE},
    {{"draft", SHOW}, BPI_EXIT_DONE},
    {{"mend", SHOW, "06:40 Rui late until 06:45"}, BPI_EXIT_DONE},
    {{"mend", SHOW, "07:53 A1 dropped", "--log", "day.log"}, BPI_EXIT_NO_PLAN},
    {{"after", SHOW, "day.log"}, BPI_EXIT_DONE},
    {{"after", SHOW, "day.log", "--report", "report.pdf", "-q"}, BPI_EXIT_DONE},
    {{"new", "new.json"}, BPI_EXIT_DONE},
};

/* How many requests a command makes. */
static long requests_of(const command *c)
{
    bool fired;
    long few = 0, many = 1; /* there is a request `few`, and none `many` */
    do {
        many *= 2;
        run(c->word, many, 0, &fired);
    } while (fired);
    while (many - few > 1) {
        long half = few + (many - few) / 2;
        run(c->word, half, 0, &fired);
        *(fired ? &few : &many) = half;
    }
    return many;
}

/* From every other request on nothing more is to be had, of the rest one alone is refused: the exit
 * status says so, or, where only a line is lost, that line does. The requests lie further and further
 * apart, but for the last ones, when the plan is made and told. */
START_TEST(memory_refused_is_told)
{
    const command *c = &commands[_i];
    bool fired = true;
    write_log();
    long all = requests_of(c), dense = all - 50 / (long)share();
    for (long k = 0, next; k <= all; k = next) {
        next = k >= dense ? k + 1 : k + 1 + k / 4 < dense ? k + 1 + k / 4 : dense;
        long alive = bpi_mem_alive();
        bpi_exit how = run(c->word, k, (int)(k % 2), &fired);
        ck_assert_int_eq(bpi_mem_alive(), alive);
        ck_assert(fired == (k < all));
        if (how == BPI_EXIT_FILE) {
            ck_assert_msg(fired && strstr(said[1], "memory"), "request %ld: %s", k, said[1]);
            ck_assert_int_ne(access(in_folder("new.json"), F_OK), 0);
            ck_assert_int_ne(access(in_folder("report.pdf"), F_OK), 0);
        } else {
            ck_assert_msg(how == c->how, "request %ld: %d", k, (int)how);
            ck_assert_msg(!fired || strstr(said[0], "out of memory") ||
                              strstr(said[1], "out of memory"),
                          "request %ld: %s%s", k, said[0], said[1]);
        }
    }
}
END_TEST

Suite *suite_cli_refused(void);
Suite *suite_cli_refused(void)
{
    Suite *s = suite_create("cli/refused");
    TCase *t = tcase_create("refused");
    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_loop_test(t, memory_refused_is_told, 0, sizeof commands / sizeof *commands);
    suite_add_tcase(s, t);
    return s;
}

#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/error.h"
#include "cli/options.h"

enum { OUTPUT, ONLY, QUIET, SECONDS };
static const bpi_option table[] = {
    [OUTPUT] = {"output", "DIR", "", 'o'},
    [ONLY] = {"only", "NAMES", "", 0},
    [QUIET] = {"quiet", NULL, "", 'q'},
    [SECONDS] = {"seconds", "N", "", 's'},
};
#define ROWS (sizeof table / sizeof *table)

typedef struct row {
    const char *name;
    const char *words[6];
    const char *output, *only, *quiet;
    const char *operands; /* joined by '|'                     */
    const char *wrong;    /* first message; NULL: none expected */
} row;

static const row rows[] = {
    {"nothing", {NULL}, NULL, NULL, NULL, "", NULL},
    {"a long option and its value", {"--output", "d", NULL}, "d", NULL, NULL, "", NULL},
    {"a value behind =", {"--output=d", NULL}, "d", NULL, NULL, "", NULL},
    {"a value that holds =", {"--only=a=b", NULL}, NULL, "a=b", NULL, "", NULL},
    {"a letter and its value", {"-o", "d", NULL}, "d", NULL, NULL, "", NULL},
    {"a letter with its value", {"-od", NULL}, "d", NULL, NULL, "", NULL},
    {"letters together", {"-qo", "d", NULL}, "d", NULL, "", "", NULL},
    {"words between options", {"a", "-q", "b", NULL}, NULL, NULL, "", "a|b", NULL},
    {"a dash is a word", {"-", NULL}, NULL, NULL, NULL, "-", NULL},
    {"two dashes end options", {"--", "-q", "--", NULL}, NULL, NULL, NULL, "-q|--", NULL},
    {"a value may look like an option", {"-o", "-q", NULL}, "-q", NULL, NULL, "", NULL},
    {"an empty word is a word", {"", NULL}, NULL, NULL, NULL, "", NULL},
    {"unknown", {"--zzz", NULL}, NULL, NULL, NULL, "", "option --zzz is not known"},
    {"near",
     {"--outptu=d", NULL},
     NULL,
     NULL,
     NULL,
     "",
     "option --outptu is not known; write --output"},
    {"no short forms of names",
     {"--out=d", NULL},
     NULL,
     NULL,
     NULL,
     "",
     "option --out is not known; write --output"},
    {"unknown letter", {"-qx", NULL}, NULL, NULL, "", "", "option -x is not known"},
    {"value missing",
     {"--output", NULL},
     NULL,
     NULL,
     NULL,
     "",
     "option --output lacks what follows it; write --output DIR"},
    {"letter's value missing",
     {"-o", NULL},
     NULL,
     NULL,
     NULL,
     "",
     "option --output lacks what follows it; write --output DIR"},
    {"empty value",
     {"--output=", NULL},
     NULL,
     NULL,
     NULL,
     "",
     "option --output lacks what follows it; write --output DIR"},
    {"value not wanted",
     {"--quiet=yes", NULL},
     NULL,
     NULL,
     NULL,
     "",
     "option --quiet takes no value; leave out the = and what follows it"},
    {"given twice",
     {"-q", "--quiet", NULL},
     NULL,
     NULL,
     "",
     "",
     "option --quiet is given twice; give it once"},
};

static void same(const char *name, const char *what, const char *got, const char *want)
{
    ck_assert_msg((got == NULL) == (want == NULL) && (!got || strcmp(got, want) == 0),
                  "%s: %s is \"%s\", not \"%s\"", name, what, got ? got : "(not given)",
                  want ? want : "(not given)");
}

START_TEST(words_are_read_by_the_table)
{
    const row *r = &rows[_i];
    char *argv[6];
    int argc = 0;
    for (; r->words[argc]; argc++)
        argv[argc] = (char *)(size_t)r->words[argc];
    bpi_args args;
    bp_errors errs = {0};
    bp_code rc = bpi_args_read(&args, table, ROWS, argc, argv, &errs);

    char line[512] = "", operands[64] = "";
    if (errs.n)
        bp_error_text(line, sizeof line, &errs.item[0]);
    for (int i = 0; i < args.operands; i++)
        snprintf(operands + strlen(operands), sizeof operands - strlen(operands), "%s%s",
                 i ? "|" : "", args.operand[i]);
    ck_assert_msg(rc == (r->wrong ? BP_EVALUE : BP_OK), "%s: %s", r->name, line);
    same(r->name, "the message", errs.n ? line : NULL, r->wrong);
    same(r->name, "output", args.value[OUTPUT], r->output);
    same(r->name, "only", args.value[ONLY], r->only);
    same(r->name, "quiet", args.value[QUIET], r->quiet);
    same(r->name, "the operands", operands, r->operands);
    ck_assert(!args.help);
}
END_TEST

START_TEST(all_mistakes_are_found_in_one_run)
{
    char unknown[] = "--zzz", once[] = "-q", twice[] = "-q", bare[] = "--output";
    char *argv[] = {unknown, once, twice, bare};
    bpi_args args;
    bp_errors errs = {0};
    ck_assert_int_eq(bpi_args_read(&args, table, ROWS, 4, argv, &errs), BP_EVALUE);
    ck_assert_uint_eq(errs.n, 3);
}
END_TEST

START_TEST(every_command_knows_help)
{
    char name[] = "--help", letter[] = "-h", letters[] = "-qh";
    char *forms[] = {name, letter, letters};
    for (int i = 0; i < 3; i++) {
        bpi_args args;
        ck_assert_int_eq(bpi_args_read(&args, table, ROWS, 1, &forms[i], NULL), BP_OK);
        ck_assert(args.help);
    }
}
END_TEST

static const struct {
    const char *text;
    bool good;
    uint32_t number;
} numbers[] = {
    {"1", true, 1},         {"86400", true, 86400}, {"007", true, 7},
    {"0", false, 0},        {"86401", false, 0},    {"4294967297", false, 0},
    {"1e3", false, 0},      {"-1", false, 0},       {"+1", false, 0},
    {" 1", false, 0},       {"1 ", false, 0},       {"99999999999999999999", false, 0},
    {"eighteen", false, 0},
};

START_TEST(numbers_stay_in_their_range)
{
    bpi_args args = {.value = {[SECONDS] = numbers[_i].text}};
    bp_errors errs = {0};
    uint32_t n = 0;
    bp_code rc = bpi_args_number(&n, &args, table, SECONDS, 1, 86400, &errs);
    ck_assert_msg((rc == BP_OK) == numbers[_i].good, "\"%s\"", numbers[_i].text);
    ck_assert_uint_eq(n, numbers[_i].number);
    ck_assert_uint_eq(errs.n, numbers[_i].good ? 0 : 1);
}
END_TEST

START_TEST(a_number_not_given_keeps_what_was)
{
    bpi_args args = {.value = {NULL}};
    uint32_t n = 42;
    ck_assert_int_eq(bpi_args_number(&n, &args, table, SECONDS, 1, 9, NULL), BP_OK);
    ck_assert_uint_eq(n, 42);
}
END_TEST

Suite *suite_cli_options(void);
Suite *suite_cli_options(void)
{
    Suite *s = suite_create("cli/options");
    TCase *t = tcase_create("options");
    tcase_add_loop_test(t, words_are_read_by_the_table, 0, (int)(sizeof rows / sizeof *rows));
    tcase_add_test(t, all_mistakes_are_found_in_one_run);
    tcase_add_test(t, every_command_knows_help);
    tcase_add_loop_test(t, numbers_stay_in_their_range, 0, (int)(sizeof numbers / sizeof *numbers));
    tcase_add_test(t, a_number_not_given_keeps_what_was);
    suite_add_tcase(s, t);
    return s;
}

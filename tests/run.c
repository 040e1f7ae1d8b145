/* tests/run.c - runs every suite, or those named on the command line; --list names them.
 *
 * A file tests/LAYER/test_NAME.c gives `Suite *suite_LAYER_NAME(void)`; the Makefile lists them.
 * No check run at all is a failure: a misspelt name must not look like success. A test is ended when it
 * hangs, after ten minutes of the clock (CK_DEFAULT_TIMEOUT=SECONDS: after so many), and never because a
 * machine is busy.
 */
#include <check.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define X(name) Suite *suite_##name(void);
#include "suites.h"
#undef X

static const struct {
    const char *name;
    Suite *(*make)(void);
} suites[] = {
#define X(name) {#name, suite_##name},
#include "suites.h"
#undef X
};

static bool wanted(const char *name, int argc, char **argv)
{
    for (int i = 1; i < argc; i++)
        if (strcmp(argv[i], name) == 0)
            return true;
    return argc <= 1;
}

int main(int argc, char **argv)
{
    if (argc == 2 && strcmp(argv[1], "--list") == 0) {
        for (size_t i = 0; i < sizeof suites / sizeof *suites; i++)
            puts(suites[i].name);
        return EXIT_SUCCESS;
    }
    if (setenv("CK_DEFAULT_TIMEOUT", "600", 0) != 0)
        return EXIT_FAILURE;
    SRunner *runner = srunner_create(NULL);
    for (size_t i = 0; i < sizeof suites / sizeof *suites; i++)
        if (wanted(suites[i].name, argc, argv))
            srunner_add_suite(runner, suites[i].make());
    srunner_run_all(runner, CK_NORMAL);
    int run = srunner_ntests_run(runner);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    if (run == 0)
        fprintf(stderr, "no test was run\n");
    return run > 0 && failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

/* tests/bench/shows.c - solves the problems behind show files and says how each level went.
 *
 * Owns     nothing.
 * May use  the library, prep with it.
 *
 *   build/engine-shows [--work N] FILE...
 *
 * One CSV row for each level of each show; work is counted, seconds are of this machine.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "prep/solve.h"

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

static int one(const char *name, const bp_eng_limits *limits)
{
    static const char *const status[] = {"unknown", "feasible", "optimal", "infeasible"};
    static bp_errors errs;
    bp_show *show = NULL;
    bpi_arena *a = bpi_arena_new();
    bpi_live *live = NULL;
    bpi_prep *prep = NULL;
    bp_eng_solution *s = NULL;
    errs.n = errs.more = 0;
    bp_code rc = a ? bp_show_open(&show, name, &errs) : BP_ENOMEM;
    if (rc == BP_OK)
        rc = bpi_live_make(&live, a, show, &errs);
    if (rc == BP_OK)
        rc = bpi_prep_make(&prep, a, show, live, NULL, &errs);
    double start = now();
    if (rc == BP_OK)
        rc = bp_eng_solve(&s, &prep->problem, limits, &errs);
    double took = now() - start;
    if (rc == BP_OK) {
        for (uint32_t k = 0; k < prep->problem.levels; k++)
            printf("%s,%u,%s,%u,%lld,%lld,%d,%llu,%.3f\n", name, prep->problem.activities,
                   status[s->status], k, (long long)s->value[k], (long long)s->bound[k],
                   k < s->proved, (unsigned long long)s->work, took);
    } else {
        fprintf(stderr, "%s: %s\n", name, errs.n ? errs.item[0].wrong : "no memory");
    }
    fflush(stdout);
    bp_eng_solution_free(s);
    bpi_arena_free(a);
    bp_show_free(show);
    return rc != BP_OK;
}

int main(int argc, char **argv)
{
    bp_eng_limits limits = {.work = BPI_SOLVE_FIRST, .better = BPI_SOLVE_BETTER};
    int first = 1, bad = 0;
    if (argc > 2 && strcmp(argv[1], "--work") == 0) {
        limits.better = (uint64_t)atoll(argv[2]);
        first = 3;
    }
    if (first >= argc) {
        fprintf(stderr, "usage: engine-shows [--work N] FILE...\n");
        return 2;
    }
    puts("show,activities,status,level,value,bound,proved,work,seconds");
    for (int k = first; k < argc; k++)
        bad |= one(argv[k], &limits);
    return bad;
}

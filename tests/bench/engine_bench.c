/* tests/bench/engine_bench.c - solves published instances.
 *
 * Owns     nothing.
 * May use  the public header, tests/bench/instance.
 *
 *   build/engine-bench [--seconds N] [--work N] FILE...
 *
 * One CSV row a file: instance,status,value,bound,seconds. Without a schedule the value is empty.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "backpot/engine.h"
#include "bench/instance.h"

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

static bool solve(const char *path, const bp_eng_limits *limits)
{
    static const char *const status[] = {"unknown", "feasible", "optimal", "infeasible"};
    static bp_errors errs;
    instance i;
    const char *why, *slash = strrchr(path, '/');
    if (!instance_read(&i, path, &why)) {
        fprintf(stderr, "%s: %s\n", path, why);
        return false;
    }
    double start = now();
    bp_eng_solution *s = NULL;
    errs.n = errs.more = 0;
    bool fine = bp_eng_solve(&s, &i.p, limits, &errs) == BP_OK;
    if (!fine)
        fprintf(stderr, "%s: %s\n", path, errs.item[0].wrong);
    else if (s->start)
        printf("%s,%s,%lld,%lld,%.3f\n", slash ? slash + 1 : path, status[s->status],
               (long long)s->value[0], (long long)s->bound[0], now() - start);
    else
        printf("%s,%s,,,%.3f\n", slash ? slash + 1 : path, status[s->status], now() - start);
    fflush(stdout);
    bp_eng_solution_free(s);
    instance_release(&i);
    return fine;
}

int main(int argc, char **argv)
{
    bp_eng_limits limits = {.work = 1, .seconds = 10};
    int k = 1;
    for (; k + 1 < argc && strncmp(argv[k], "--", 2) == 0; k += 2) {
        if (strcmp(argv[k], "--seconds") == 0) {
            limits.seconds = (uint32_t)strtoul(argv[k + 1], NULL, 10);
        } else if (strcmp(argv[k], "--work") == 0) {
            limits.work = strtoull(argv[k + 1], NULL, 10);
            limits.seconds = 0;
        } else {
            break;
        }
    }
    if (k >= argc || strncmp(argv[k], "--", 2) == 0) {
        fputs("usage: engine-bench [--seconds N] [--work N] FILE...\n", stderr);
        return 2;
    }
    puts("instance,status,value,bound,seconds");
    bool fine = true;
    for (; k < argc; k++)
        fine = solve(argv[k], &limits) && fine;
    return fine ? 0 : 1;
}

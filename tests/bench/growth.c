/* tests/bench/growth.c - how time and memory grow with the number of operations of a day.
 *
 * Owns     nothing.
 * May use  the public header, tests/support/kitchen_day.
 *
 *   build/engine-growth [--seed N] [--first] STEPS...
 *
 * A day of each size is made up and planned in a process of its own, once for the first schedule
 * and (without --first) once more within the usual work. One CSV row each; seconds of the processor
 * and the most memory are of that process, with the day in it. The last lines give the exponents:
 * the slope of the logarithms, by least squares.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "backpot/engine.h"
#include "support/kitchen_day.h"

enum { MOST_SIZES = 32 };

typedef struct figures {
    bool fine;
    uint32_t activities, options;
    bp_eng_status status;
    uint32_t proved;
    int64_t value[BP_ENG_LEVELS];
    uint64_t work;
    double made, took; /* seconds */
    double mib;        /* filled in by the parent: the most it held */
} figures;

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

static figures plan(uint32_t seed, uint32_t steps, bool first)
{
    static bp_errors errs;
    figures f = {0};
    kitchen_day d;
    bp_eng_solution *s = NULL;
    bp_eng_limits limits = {.first = first};
    double start = now();
    if (!kitchen_day_init_wide(&d, seed, steps))
        return f;
    f.made = now() - start;
    f.activities = d.p.activities;
    f.options = d.p.options;
    start = now();
    f.fine = bp_eng_solve(&s, &d.p, &limits, &errs) == BP_OK;
    f.took = now() - start;
    if (f.fine) {
        f.status = s->status;
        f.proved = s->proved;
        f.work = s->work;
        memcpy(f.value, s->value, sizeof f.value);
    } else {
        fprintf(stderr, "%u steps: %s\n", steps, errs.item[0].wrong);
    }
    bp_eng_solution_free(s);
    kitchen_day_release(&d);
    return f;
}

/* The same in a process of its own, to know what it alone took. */
static figures measure(uint32_t seed, uint32_t steps, bool first)
{
    figures f = {0};
    int ends[2], status = 0;
    fflush(stdout);
    if (pipe(ends) != 0)
        return f;
    pid_t child = fork();
    if (child == 0) {
        f = plan(seed, steps, first);
        struct rusage used;
        getrusage(RUSAGE_SELF, &used);
        f.mib = (double)used.ru_maxrss / 1024;
        _exit(write(ends[1], &f, sizeof f) == (ssize_t)sizeof f ? 0 : 1);
    }
    close(ends[1]);
    if (child < 0 || read(ends[0], &f, sizeof f) != (ssize_t)sizeof f)
        f.fine = false;
    close(ends[0]);
    if (child > 0)
        waitpid(child, &status, 0);
    return f;
}

/* The slope of log y over log x. */
static double exponent(const double *x, const double *y, uint32_t n)
{
    double sx = 0, sy = 0, sxx = 0, sxy = 0;
    for (uint32_t k = 0; k < n; k++) {
        double u = log(x[k]), v = log(y[k]);
        sx += u;
        sy += v;
        sxx += u * u;
        sxy += u * v;
    }
    return (n * sxy - sx * sy) / (n * sxx - sx * sx);
}

int main(int argc, char **argv)
{
    static const char *const status[] = {"unknown", "feasible", "optimal", "infeasible"};
    uint32_t seed = 1, n = 0;
    bool only_first = false, fine = true;
    double size[MOST_SIZES], took[2][MOST_SIZES], mib[2][MOST_SIZES];
    int k = 1;
    for (; k < argc && strncmp(argv[k], "--", 2) == 0; k++) {
        if (strcmp(argv[k], "--first") == 0)
            only_first = true;
        else if (strcmp(argv[k], "--seed") == 0 && k + 1 < argc)
            seed = (uint32_t)strtoul(argv[++k], NULL, 10);
        else
            k = argc;
    }
    if (k >= argc || argc - k > MOST_SIZES) {
        fputs("usage: engine-growth [--seed N] [--first] STEPS...\n", stderr);
        return 2;
    }
    puts("activities,options,until,status,proved,late,call,waiting,hands,work,seconds,mib");
    for (; k < argc; k++, n++)
        for (uint32_t all = 0; all < (only_first ? 1 : 2); all++) {
            figures f = measure(seed, (uint32_t)strtoul(argv[k], NULL, 10), !all);
            fine = fine && f.fine && f.status != BP_ENG_UNKNOWN && f.status != BP_ENG_INFEASIBLE;
            printf("%u,%u,%s,%s,%u,%lld,%lld,%lld,%lld,%llu,%.4f,%.1f\n", f.activities, f.options,
                   all ? "work" : "first", f.fine ? status[f.status] : "failed", f.proved,
                   (long long)f.value[0], (long long)f.value[1], (long long)f.value[2],
                   (long long)f.value[3], (unsigned long long)f.work, f.took, f.mib);
            size[n] = f.activities ? f.activities : 1;
            took[all][n] = f.took > 0 ? f.took : 1e-6;
            mib[all][n] = f.mib > 0 ? f.mib : 1;
        }
    for (uint32_t all = 0; n > 1 && all < (only_first ? 1 : 2); all++)
        printf("# %s: time grows with n^%.2f, memory with n^%.2f\n", all ? "work" : "first",
               exponent(size, took[all], n), exponent(size, mib[all], n));
    return fine ? 0 : 1;
}

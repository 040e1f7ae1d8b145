/* tests/bench/engine_bench.c - solves published instances.
 *
 * Owns     nothing.
 * May use  the public header, tests/bench/instance.
 *
 *   build/engine-bench [--seconds N] [--work N] [--starts FILE] FILE...
 *
 * One CSV row a file: instance,status,value,bound,seconds. Without a schedule the value is empty.
 * Seconds are of the processor, to stop at and to print. To the file of --starts a line is added
 * for each schedule: instance, value, the start of every activity.
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
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

/* Seconds of the processor, so that a busy machine changes nothing. */
typedef struct watch {
    double until;
} watch;

static bool go_on(void *ctx, const bp_eng_progress *p)
{
    (void)p;
    const watch *w = ctx;
    return now() < w->until;
}

static void write_starts(FILE *f, const char *name, const bp_eng_solution *s)
{
    fprintf(f, "%s,%lld", name, (long long)s->value[0]);
    for (uint32_t a = 0; a < s->activities; a++)
        fprintf(f, ",%d", (int)s->start[a]);
    fputc('\n', f);
}

static bool solve(const char *path, uint64_t work, double seconds, FILE *starts)
{
    static const char *const status[] = {"unknown", "feasible", "optimal", "infeasible"};
    static bp_errors errs;
    instance i;
    const char *why, *slash = strrchr(path, '/'), *name = slash ? slash + 1 : path;
    if (!instance_read(&i, path, &why)) {
        fprintf(stderr, "%s: %s\n", path, why);
        return false;
    }
    double start = now();
    watch w = {start + seconds};
    bp_eng_limits limits = {.work = work, .tell = go_on, .ctx = &w};
    bp_eng_solution *s = NULL;
    errs.n = errs.more = 0;
    bool fine = bp_eng_solve(&s, &i.p, &limits, &errs) == BP_OK;
    if (!fine)
        fprintf(stderr, "%s: %s\n", path, errs.item[0].wrong);
    else if (s->start)
        printf("%s,%s,%lld,%lld,%.3f\n", name, status[s->status], (long long)s->value[0],
               (long long)s->bound[0], now() - start);
    else
        printf("%s,%s,,,%.3f\n", name, status[s->status], now() - start);
    fflush(stdout);
    if (fine && starts && s->start)
        write_starts(starts, name, s);
    bp_eng_solution_free(s);
    instance_release(&i);
    return fine;
}

int main(int argc, char **argv)
{
    uint64_t work = UINT64_MAX / 4;
    double seconds = 10;
    const char *into = NULL;
    int k = 1;
    for (; k + 1 < argc && strncmp(argv[k], "--", 2) == 0; k += 2) {
        if (strcmp(argv[k], "--seconds") == 0) {
            seconds = strtod(argv[k + 1], NULL);
        } else if (strcmp(argv[k], "--work") == 0) {
            work = strtoull(argv[k + 1], NULL, 10);
            seconds = 1e9;
        } else if (strcmp(argv[k], "--starts") == 0) {
            into = argv[k + 1];
        } else {
            break;
        }
    }
    if (k >= argc || strncmp(argv[k], "--", 2) == 0) {
        fputs("usage: engine-bench [--seconds N] [--work N] [--starts FILE] FILE...\n", stderr);
        return 2;
    }
    FILE *starts = into ? fopen(into, "a") : NULL;
    if (into && !starts) {
        perror(into);
        return 1;
    }
    puts("instance,status,value,bound,seconds");
    bool fine = true;
    for (; k < argc; k++)
        fine = solve(argv[k], work, seconds, starts) && fine;
    if (starts && fclose(starts) != 0) {
        perror(into);
        fine = false;
    }
    return fine ? 0 : 1;
}

/* tests/bench/days.c - plans made-up kitchen days and says how it went.
 *
 * Owns     nothing.
 * May use  the public header, tests/support/kitchen_day.
 *
 *   build/engine-days COUNT STEPS [WORK] [FIRST]
 *
 * One CSV row a day, then a summary on the last line. Work is counted, so it is the same
 * everywhere; seconds are of this machine.
 */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "backpot/engine.h"
#include "support/kitchen_day.h"

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

int main(int argc, char **argv)
{
    if (argc < 3) {
        fprintf(stderr, "usage: engine-days COUNT STEPS [WORK] [FIRST]\n");
        return 2;
    }
    static const char *const status[] = {"unknown", "feasible", "optimal", "infeasible"};
    uint32_t count = (uint32_t)atoi(argv[1]), steps = (uint32_t)atoi(argv[2]), seen[4] = {0};
    bp_eng_limits limits = {.work = argc > 3 ? (uint64_t)atoll(argv[3]) : 0};
    uint32_t first = argc > 4 ? (uint32_t)atoi(argv[4]) : 1;
    double *took = calloc(count + 1, sizeof *took);
    if (!took)
        return 1;
    puts("day,activities,status,proved,late,call,waiting,hands,bound,work,seconds");
    for (uint32_t k = 0; k < count; k++) {
        kitchen_day d;
        static bp_errors errs;
        bp_eng_solution *s = NULL;
        if (!kitchen_day_init(&d, first + k, steps))
            return 1;
        double start = now();
        if (bp_eng_solve(&s, &d.p, &limits, &errs) != BP_OK) {
            fprintf(stderr, "day %u: %s\n", first + k, errs.item[0].wrong);
            return 1;
        }
        took[k] = now() - start;
        seen[s->status]++;
        printf("%u,%u,%s,%u,%lld,%lld,%lld,%lld,%lld,%llu,%.4f\n", first + k, d.p.activities,
               status[s->status], s->proved, (long long)s->value[0], (long long)s->value[1],
               (long long)s->value[2], (long long)s->value[3],
               (long long)s->bound[s->proved < 4 ? s->proved : 3], (unsigned long long)s->work,
               took[k]);
        fflush(stdout);
        bp_eng_solution_free(s);
        kitchen_day_release(&d);
    }
    qsort(took, count, sizeof *took, by_size);
    printf("# %u optimal, %u feasible, %u infeasible, %u unknown; median %.4f s, 90th %.4f s, "
           "worst %.4f s\n",
           seen[2], seen[1], seen[3], seen[0], took[count / 2], took[count * 9 / 10],
           took[count - 1]);
    free(took);
    return 0;
}

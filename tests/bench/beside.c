/* tests/bench/beside.c - solves problems and writes the same ones for another solver.
 *
 * Owns     nothing.
 * May use  the library, prep with it; tests/bench/instance, dzn; tests/support/kitchen_day.
 *
 *   build/engine-beside OUT SECONDS ITEM...
 *
 * An item is a published instance (.sm, .sch), a show file (.json) or a made-up day (day:SEED:STEPS).
 * Each is solved for its first objective, its first two and so on, for SECONDS of the processor each.
 * A CSV row each, and OUT/ITEM.LEVEL.dzn with the same question, the objectives before held at the
 * values found.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "bench/dzn.h"
#include "bench/instance.h"
#include "prep/solve.h"
#include "support/kitchen_day.h"

enum { LEVELS = BP_ENG_LEVELS };

static bp_errors errs;

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

static bool go_on(void *until, const bp_eng_progress *p)
{
    (void)p;
    return now() < *(const double *)until;
}

/* The problem with its first `levels` objectives only. */
static bp_eng_term *cut(bp_eng_problem *p, uint32_t levels)
{
    bp_eng_term *term = calloc((size_t)p->terms + 1, sizeof *term);
    uint32_t kept = 0;
    for (uint32_t t = 0; term && t < p->terms; t++)
        if (p->term[t].level < levels)
            term[kept++] = p->term[t];
    p->term = term;
    p->terms = kept;
    p->levels = levels;
    return term;
}

static bool write_dzn(const char *out, const char *name, const bp_eng_problem *p, uint32_t level,
                      const int64_t *value)
{
    char path[512];
    if ((size_t)snprintf(path, sizeof path, "%s/%s.%u.dzn", out, name, level) >= sizeof path)
        return false;
    FILE *f = fopen(path, "w");
    if (!f)
        return false;
    bool fine = dzn_write(f, p, level, value);
    return fclose(f) == 0 && fine;
}

static bool compare(const char *out, const char *name, const bp_eng_problem *p, double seconds)
{
    static const char *const status[] = {"unknown", "feasible", "optimal", "infeasible"};
    bool fine = true;
    uint32_t levels = p->levels < LEVELS ? p->levels : LEVELS;
    for (uint32_t k = 0; k < levels && fine; k++) {
        bp_eng_problem part = *p;
        bp_eng_term *term = cut(&part, k + 1);
        double start = now(), until = start + seconds;
        bp_eng_limits limits = {.work = UINT64_MAX / 4, .tell = go_on, .ctx = &until};
        bp_eng_solution *s = NULL;
        errs.n = errs.more = 0;
        fine = term && bp_eng_solve(&s, &part, &limits, &errs) == BP_OK;
        if (fine) {
            printf("%s,%u,%u,%s,%lld,%lld,%.4f\n", name, p->activities, k, status[s->status],
                   (long long)s->value[k], (long long)s->bound[k], now() - start);
            fflush(stdout);
            fine = write_dzn(out, name, &part, k, s->value);
            if (s->status == BP_ENG_UNKNOWN || s->status == BP_ENG_INFEASIBLE)
                levels = 0; /* no value to hold for what comes next */
        }
        bp_eng_solution_free(s);
        free(term);
    }
    return fine;
}

static bool show(const char *out, const char *name, const char *path, double seconds)
{
    bp_show *of = NULL;
    bpi_live *live = NULL;
    bpi_prep *prep = NULL;
    bpi_arena *a = bpi_arena_new();
    bool fine = a && bp_show_open(&of, path, &errs) == BP_OK &&
                bpi_live_make(&live, a, of, &errs) == BP_OK &&
                bpi_prep_make(&prep, a, of, live, NULL, &errs) == BP_OK &&
                compare(out, name, &prep->problem, seconds);
    bpi_arena_free(a);
    bp_show_free(of);
    return fine;
}

static bool one(const char *out, const char *item, double seconds)
{
    const char *slash = strrchr(item, '/'), *why, *dot = strrchr(item, '.');
    char name[256];
    unsigned seed, steps;
    snprintf(name, sizeof name, "%s", slash ? slash + 1 : item);
    for (char *c = name; *c; c++)
        *c = *c == ':' ? '-' : *c;
    if (sscanf(item, "day:%u:%u", &seed, &steps) == 2) {
        kitchen_day d;
        bool fine = kitchen_day_init(&d, seed, steps) && compare(out, name, &d.p, seconds);
        kitchen_day_release(&d);
        return fine;
    }
    if (dot && strcmp(dot, ".json") == 0)
        return show(out, name, item, seconds);
    instance i;
    if (!instance_read(&i, item, &why)) {
        fprintf(stderr, "%s: %s\n", item, why);
        return false;
    }
    bool fine = compare(out, name, &i.p, seconds);
    instance_release(&i);
    return fine;
}

int main(int argc, char **argv)
{
    if (argc < 4) {
        fputs("usage: engine-beside OUT SECONDS ITEM...\n", stderr);
        return 2;
    }
    int bad = 0;
    double seconds = strtod(argv[2], NULL);
    puts("item,activities,level,status,value,bound,seconds");
    for (int k = 3; k < argc; k++)
        if (!one(argv[1], argv[k], seconds)) {
            fprintf(stderr, "%s: %s\n", argv[k], errs.n ? errs.item[0].wrong : "failed");
            bad = 1;
        }
    return bad;
}

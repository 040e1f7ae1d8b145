/* tests/faults/memory.c - plans each show again and again, refusing another request for memory.
 *
 * memory STRIDE SHOW...: the 1st request of the library, then the 1st + STRIDE, ... until a run meets none.
 *
 * Each run must end in BP_ENOMEM with one message and nothing kept, or, where it could do without,
 * in the very bytes of an undisturbed run. Once a request alone is refused, once all after it too.
 */
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/output.h"
#include "backpot/plan.h"
#include "backpot/show.h"
#include "base/memory.h"
#include "base/text.h"
#include "base/zone.h"

static unsigned long passed, failed;

static void check(bool good, const char *show, long k, const char *what)
{
    passed += good;
    failed += !good;
    if (!good)
        printf("FAILED: %s: request %ld: %s\n", show, k, what);
}

/* What a run made, as one text: owned by the C library, so that it is not counted. */
typedef struct made {
    char *bytes;
    size_t len;
} made;

static void take(made *m, const char *bytes, size_t len)
{
    char *more = realloc(m->bytes, m->len + len + 1);
    if (!more)
        abort();
    memcpy(more + m->len, bytes, len);
    m->bytes = more;
    m->len += len;
}

static bp_code run(made *m, const char *path, bp_errors *errs)
{
    bp_show *show = NULL;
    bp_plan *plan = NULL;
    bp_files *files = NULL;
    char *summary = NULL;
    size_t len = 0;
    bp_plan_options little = {.work = 400000};
    bp_output_options all = {0};
    *m = (made){0};
    errs->n = errs->more = 0;
    bp_code rc = bp_show_open(&show, path, errs);
    if (rc == BP_OK)
        rc = bp_plan_make(&plan, show, &little, errs);
    bp_code end = rc;
    if (plan)
        end = bp_outputs_write(&files, plan, &all, errs);
    if (plan && end == BP_OK)
        end = bp_summary_write(&summary, &len, plan, errs);
    if (plan && end == BP_OK) {
        for (uint32_t i = 0; i < files->n; i++)
            take(m, files->file[i].bytes, files->file[i].len);
        take(m, summary, len);
    }
    bp_free(summary);
    bp_files_free(files);
    bp_plan_free(plan);
    bp_show_free(show);
    return end != BP_OK ? end : rc;
}

static unsigned long try_show(const char *path, long stride, int after)
{
    static bp_errors errs;
    made whole, now;
    unsigned long faults = 0;
    bpi_mem_fail_at(-1, 0);
    bp_code good = run(&whole, path, &errs);
    long before = bpi_mem_alive();
    check(before == 0, path, -1, "an undisturbed run keeps memory");
    check(good == BP_OK || good == BP_ENOFIT, path, -1, "it cannot be planned at all");
    for (long k = 0;; k += stride) {
        bpi_mem_fail_at(k, after);
        bp_code rc = run(&now, path, &errs);
        bool met = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        check(bpi_mem_alive() == 0, path, k, "memory is kept");
        if (rc == BP_ENOMEM)
            check(errs.n == 1 || good == BP_ENOFIT, path, k, "not one message");
        else
            check(rc == good && now.len == whole.len &&
                      memcmp(now.bytes, whole.bytes, now.len) == 0,
                  path, k, "neither refused nor the same");
        free(now.bytes);
        faults += met;
        if (!met)
            break;
    }
    printf("%s: %lu requests refused%s\n", path, faults, after ? " with all that follow" : "");
    fflush(stdout);
    free(whole.bytes);
    return faults;
}

int main(int argc, char **argv)
{
    long stride = argc > 1 ? strtol(argv[1], NULL, 10) : 0;
    if (argc < 3 || stride < 1) {
        fprintf(stderr, "use: memory STRIDE SHOW...\n");
        return EXIT_FAILURE;
    }
    unsigned long faults = 0;
    for (int i = 2; i < argc; i++)
        for (int after = 0; after <= 1; after++)
            faults += try_show(argv[i], stride, after);
    bpi_zone_release_all();
    printf("%lu requests refused\n%lu passed, %lu failed\n", faults, passed, failed);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

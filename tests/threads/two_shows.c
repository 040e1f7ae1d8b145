/* tests/threads/two_shows.c - shows read, planned and written in two threads at once, each with threads
 * of its own, give the same bytes as one after the other with none.
 *
 * Owns     nothing.
 * May use  the public headers alone, as a program that plans in threads would.
 *
 *   build/two-shows ROUNDS FILE...
 *
 * Each round plans every file beside the next one. Under ThreadSanitizer (`make tsan`) a race of ours
 * ends the program; what the libraries below do among themselves is listed in tests/tsan.supp.
 */
#include <pthread.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/draft.h"
#include "backpot/output.h"
#include "backpot/plan.h"
#include "backpot/show.h"

#define WORK UINT64_C(2000000) /* enough for a plan of each shipped show */

typedef struct job {
    const char *path;
    uint32_t threads; /* of its own: a plan is the same with any number */
    bp_code code;
    bp_files *files;
    char *summary, *drafts;
    size_t len, drafts_len;
    bp_errors errs;
} job;

static void *run(void *arg)
{
    job *j = arg;
    bp_show *show = NULL;
    bp_plan *plan = NULL;
    bp_drafts *drafts = NULL;
    const bp_plan_options options = {.work = WORK, .threads = j->threads};
    const bp_output_options output = {0};
    j->code = bp_show_open(&show, j->path, &j->errs);
    if (j->code == BP_OK)
        j->code = bp_plan_make(&plan, show, &options, &j->errs);
    if (plan && (bp_outputs_write(&j->files, plan, &output, &j->errs) != BP_OK ||
                 bp_summary_write(&j->summary, &j->len, plan, &j->errs) != BP_OK))
        j->code = BP_EINTERNAL;
    /* Several plans of one and the same show. */
    if (plan && (bp_drafts_make(&drafts, show, 2, &options, &j->errs) != BP_OK ||
                 bp_drafts_write(&j->drafts, &j->drafts_len, drafts, &j->errs) != BP_OK))
        j->code = BP_EINTERNAL;
    bp_drafts_free(drafts);
    bp_plan_free(plan);
    bp_show_free(show);
    return NULL;
}

static void release(job *j)
{
    bp_files_free(j->files);
    bp_free(j->summary);
    bp_free(j->drafts);
    *j = (job){.path = j->path};
}

static bool is_same(const job *a, const job *b)
{
    if (a->code != b->code || !a->files != !b->files || a->len != b->len ||
        a->errs.n != b->errs.n || (a->len && memcmp(a->summary, b->summary, a->len) != 0) ||
        a->drafts_len != b->drafts_len ||
        (a->drafts_len && memcmp(a->drafts, b->drafts, a->drafts_len) != 0))
        return false;
    for (uint32_t i = 0; i < a->errs.n; i++)
        if (strcmp(a->errs.item[i].wrong, b->errs.item[i].wrong) != 0)
            return false;
    if (!a->files)
        return true;
    if (a->files->n != b->files->n)
        return false;
    for (uint32_t i = 0; i < a->files->n; i++) {
        const bp_file *x = &a->files->file[i], *y = &b->files->file[i];
        if (strcmp(x->name, y->name) != 0 || x->len != y->len || memcmp(x->bytes, y->bytes, x->len))
            return false;
    }
    return true;
}

/* Two files at once; each must come out as it did alone. */
static unsigned pair(const job *a, const job *b)
{
    job two[2] = {{.path = a->path, .threads = 2}, {.path = b->path, .threads = 3}};
    const job *alone[2] = {a, b};
    pthread_t thread[2];
    unsigned bad = 0;
    for (int i = 0; i < 2; i++)
        if (pthread_create(&thread[i], NULL, run, &two[i]) != 0)
            exit(2);
    for (int i = 0; i < 2; i++)
        pthread_join(thread[i], NULL);
    for (int i = 0; i < 2; i++) {
        if (!is_same(&two[i], alone[i])) {
            printf("FAILED: %s beside %s is another than alone (%s)\n", two[i].path,
                   two[1 - i].path, bp_code_text(two[i].code));
            bad++;
        }
        release(&two[i]);
    }
    return bad;
}

int main(int argc, char **argv)
{
    unsigned long rounds = argc > 2 ? strtoul(argv[1], NULL, 10) : 0;
    size_t n = argc > 2 ? (size_t)argc - 2 : 0;
    job *alone = calloc(n ? n : 1, sizeof *alone);
    unsigned passed = 0, failed = 0;
    if (!alone || !rounds) {
        fprintf(stderr, "usage: two-shows ROUNDS FILE...\n");
        return 2;
    }
    /* Two at once first, when nothing that is made once for the process is there yet. */
    job early[2] = {{.path = argv[2], .threads = 2}, {.path = argv[argc - 1]}};
    pthread_t thread[2];
    for (int i = 0; i < 2; i++)
        if (pthread_create(&thread[i], NULL, run, &early[i]) != 0)
            return 2;
    for (int i = 0; i < 2; i++)
        pthread_join(thread[i], NULL);
    for (size_t i = 0; i < n; i++) {
        alone[i].path = argv[i + 2];
        run(&alone[i]);
        if (!alone[i].files) {
            printf("FAILED: %s has no plan: %s\n", alone[i].path, bp_code_text(alone[i].code));
            failed++;
        }
    }
    for (int i = 0; i < 2; i++) {
        bool good = is_same(&early[i], &alone[i ? n - 1 : 0]);
        passed += good;
        failed += !good;
        if (!good)
            printf("FAILED: %s first of all is another than later\n", early[i].path);
        release(&early[i]);
    }
    for (unsigned long r = 0; r < rounds; r++)
        for (size_t i = 0; i < n; i++) {
            unsigned bad = pair(&alone[i], &alone[(i + 1 + r) % n]);
            failed += bad;
            passed += 2 - bad;
        }
    for (size_t i = 0; i < n; i++)
        release(&alone[i]);
    free(alone);
    printf("%u passed, %u failed\n", passed, failed);
    return failed != 0;
}

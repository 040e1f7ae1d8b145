/* tests/fuzz/fuzz_plan.c - a show that can be read is planned within little work, and its data and
 * lists are written: the plan's own checker never objects, and the same show gives the same bytes.
 */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/output.h"
#include "backpot/plan.h"
#include "backpot/show.h"
#include "base/text.h"
#include "out/json.h"
#include "out/pull.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len);

static void write_all(bpi_text *out, const bp_show *show)
{
    static bp_errors errs;
    bp_plan *plan = NULL;
    char *summary = NULL;
    size_t n = 0;
    bp_plan_options little = {.work = 300000};
    errs.n = errs.more = 0;
    bp_code rc = bp_plan_make(&plan, show, &little, &errs);
    if (rc == BP_EINTERNAL || (rc == BP_OK) != (errs.n == 0))
        abort();
    if (plan && (bpi_json_write(out, plan, &errs) != BP_OK ||
                 bpi_pull_csv_write(out, plan, &errs) != BP_OK ||
                 bp_summary_write(&summary, &n, plan, &errs) != BP_OK))
        abort();
    bp_free(summary);
    bp_plan_free(plan);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len)
{
    bp_show *show = NULL;
    bpi_text once = BPI_TEXT_EMPTY, again = BPI_TEXT_EMPTY;
    if (bp_show_read(&show, (const char *)data, len, "fuzz.json", NULL, NULL) != BP_OK)
        return 0;
    write_all(&once, show);
    write_all(&again, show);
    if (once.len != again.len || (once.len && memcmp(once.s, again.s, once.len) != 0))
        abort();
    bpi_text_release(&once);
    bpi_text_release(&again);
    bp_show_free(show);
    return 0;
}

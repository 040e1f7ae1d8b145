/* tests/fuzz/fuzz_show.c - any bytes are read as a show, or refused with at least one error; never
 * both, never neither.
 */
#include <stdint.h>
#include <stdlib.h>

#include "backpot/show.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len);
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len)
{
    static bp_errors errs;
    bp_show *show = NULL;
    char line[1200];
    errs.n = errs.more = 0;
    bp_code code = bp_show_read(&show, (const char *)data, len, "fuzz.json", NULL, &errs);
    if ((code == BP_OK) != (errs.n == 0) || (code == BP_OK) != (show != NULL))
        abort();
    for (uint32_t i = 0; i < errs.n; i++)
        if (bp_error_text(line, sizeof line, &errs.item[i]) == 0)
            abort();
    bp_show_free(show);
    return 0;
}

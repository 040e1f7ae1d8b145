/* tests/fuzz/fuzz_log.c - any bytes are read as the log of a day or refused with an error. What was
 * read is written again line by line, and that is read to the same lines. In one piece and in two it
 * is the same log, for a log grows while it is read.
 */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "day/line.h"
#include "day/log.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len);

static void put(bpi_text *out, const bpi_log *l)
{
    bpi_line_put_head(out, &l->log.head);
    for (uint32_t i = 0; i < l->log.events; i++)
        bpi_line_put_event(out, &l->log.event[i]);
}

static void read_again(const bpi_text *t)
{
    bpi_log l;
    bpi_text again = BPI_TEXT_EMPTY;
    if (bpi_log_init(&l, "again.log", NULL) != BP_OK)
        return;
    if (bpi_log_take(&l, t->s, t->len, true, NULL) != BP_OK)
        abort();
    put(&again, &l);
    if (again.len != t->len || memcmp(again.s, t->s, t->len) != 0)
        abort();
    bpi_text_release(&again);
    bpi_log_release(&l);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len)
{
    static bp_errors errs;
    const char *bytes = (const char *)data;
    bpi_log l, parts;
    bpi_text once = BPI_TEXT_EMPTY, twice = BPI_TEXT_EMPTY;
    errs.n = errs.more = 0;
    if (bpi_log_init(&l, "fuzz.log", NULL) != BP_OK)
        return 0;
    bp_code rc = bpi_log_take(&l, bytes, len, true, &errs);
    if ((rc == BP_OK) != (errs.n == 0))
        abort();
    if (rc == BP_OK && l.lines > 0) {
        put(&once, &l);
        read_again(&once);
        if (bpi_log_init(&parts, "fuzz.log", NULL) == BP_OK) {
            size_t half = len / 2;
            if (bpi_log_take(&parts, bytes, half, true, NULL) != BP_OK ||
                bpi_log_take(&parts, bytes + parts.taken, len - parts.taken, true, NULL) != BP_OK)
                abort();
            put(&twice, &parts);
            if (once.len != twice.len || memcmp(once.s, twice.s, once.len) != 0)
                abort();
            bpi_log_release(&parts);
        }
    }
    bpi_text_release(&once);
    bpi_text_release(&twice);
    bpi_log_release(&l);
    return 0;
}

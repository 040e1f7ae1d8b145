#include <stdint.h>
#include <stdlib.h>

#include "out/calendar.h"
#include "out/earlier.h"

/* Any bytes are read as a calendar of an earlier run, or refused with one error. What was read is
 * then cancelled, event by event, or refused; and the calendar written is one that is read again. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len);

static void read_again(const bpi_text *t, bpi_arena *a, const bp_plan *plan)
{
    bpi_earlier e;
    if (bpi_earlier_read(&e, a, t->s, t->len, "again.ics", plan->show_id, NULL) != BP_OK)
        abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len)
{
    static bp_errors errs;
    static const bp_plan plan = {.show_id = "s",
                                 .title = "t",
                                 .zone = "Europe/Lisbon",
                                 .year = 2026,
                                 .month = 12,
                                 .day = 3,
                                 .midnight = 1796256000,
                                 .stamp = "0",
                                 .defer = "d",
                                 .file = "s.json"};
    bpi_arena *a = bpi_arena_new();
    if (!a)
        return 0;
    bpi_earlier e;
    bpi_text t = BPI_TEXT_EMPTY;
    errs.n = errs.more = 0;
    bp_code rc = bpi_earlier_read(&e, a, (const char *)data, len, "fuzz.ics", plan.show_id, &errs);
    if ((rc == BP_OK) != (errs.n == 0))
        abort();
    if (rc == BP_OK) {
        rc = bpi_calendar_write(&t, &plan, NULL, &e, e.cooks, &errs);
        if (rc == BP_OK)
            read_again(&t, a, &plan);
        else if (errs.n != 1)
            abort();
    }
    bpi_text_release(&t);
    bpi_arena_free(a);
    return 0;
}

#include "cli/renewal.h"

#include <stdio.h>

/* The plan is ours if the clock goes on by it. */
static bp_code go_on(bpi_renewal *r, bp_plan *plan, bpi_watch *watch, bpi_tend *tend,
                     bpi_journal *j, bp_errors *errs)
{
    bool late = plan->verdict == BP_LATE;
    bp_code rc = watch ? bpi_watch_go_on(watch, plan, errs) : bpi_tend_go_on(tend, plan, errs);
    if (rc != BP_OK) {
        bp_plan_free(plan);
        return rc;
    }
    bp_plan_free(r->mended);
    r->mended = plan;
    snprintf(j->message, sizeof j->message, "the plan was mended%s",
             late ? ": not everything is there in time" : "");
    return BP_OK;
}

void bpi_renewal_take(bpi_renewal *r, const bp_show *show, bpi_watch *watch, bpi_tend *tend,
                      bool on_air)
{
    bpi_journal *j = watch ? &watch->log : &tend->log;
    if (!j->book || j->lost_n || !j->kind->behind(j->state))
        return;
    const bp_log *log = bp_logbook_log(j->book);
    const bp_event *last = NULL;
    uint32_t mishaps = bp_log_mishaps(log, &last);
    if (r->tried == mishaps) /* no plan was found for them */
        return;
    if (on_air) {
        if (r->told != mishaps)
            snprintf(j->message, sizeof j->message,
                     "%.60s: ask the kitchen; its plan shows once off air", last->text);
        r->told = mishaps;
        return;
    }
    bp_plan *plan = NULL, *before = NULL;
    bp_errors errs = {0};
    int64_t at = 0;
    bp_code rc = bp_plan_mend_day(&plan, &before, &at, show, log, NULL, 0, &errs);
    bp_plan_free(before);
    r->tried = mishaps;
    if (plan && !plan->stopped)
        rc = go_on(r, plan, watch, tend, j, &errs);
    else
        bp_plan_free(plan);
    r->behind[0] = '\0';
    if (rc != BP_OK)
        snprintf(r->behind, sizeof r->behind, "THE PLAN IS NOT MENDED: %.150s",
                 errs.n ? errs.item[0].wrong : "");
    if (rc != BP_OK && watch) /* there the line of the alarm is for the slot */
        snprintf(j->message, sizeof j->message, "%.150s", r->behind);
}

void bpi_renewal_release(bpi_renewal *r)
{
    bp_plan_free(r->mended);
}

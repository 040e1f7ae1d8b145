#include "live/nodraft.h"

#include "live/change.h"
#include "live/draft.h"
#include "live/telling.h"

/* The text that was put together is a cure, if the segment is drafted so. */
static bp_code cure_draft(bpi_teller *t, const bpi_drafting *as, bool *found, bp_errors *errs)
{
    bpi_proposal proposal[BPI_PROPOSE_MOST];
    bpi_change c;
    uint32_t n = 0;
    bp_code rc = bpi_draft_list(proposal, &n, as->take, t->show, t->segment, as, errs);
    *found = rc == BP_OK && n >= as->take;
    if (!*found) {
        bpi_text_reset(&t->text);
        return rc == BP_ENOFIT ? BP_OK : rc;
    }
    const char *text = bpi_teller_text(t);
    uint32_t number = (uint32_t)(t->segment - t->show->segment);
    bool begun = bpi_change_begin(&c, t->to->arena, t->show, number, t->beat, t->n);
    if (begun)
        c.segment->draft = *as;
    bpi_teller_cure(t, text, as->where, begun ? c.show : NULL);
    return BP_OK; /* no memory is told once, at the end */
}

/* The least that one of the limits must be, the other left as it is. */
static bp_code cure_limit(bpi_teller *t, bool swaps, bp_errors *errs)
{
    bpi_drafting as = t->segment->draft;
    uint32_t *limit = swaps ? &as.swaps : &as.burners;
    bool found = false;
    bp_code rc = BP_OK;
    for (uint32_t n = *limit; n < BPI_MAX_BEATS && !found && rc == BP_OK && !t->failed;) {
        *limit = ++n;
        bpi_text_f(&t->text, "allow %u %s%s on the set of %s", (unsigned)n,
                   swaps ? "swap-out" : "burner", n == 1 ? "" : "s", t->segment->id);
        rc = cure_draft(t, &as, &found, errs);
    }
    return rc;
}

static bp_code cure_take(bpi_teller *t, bp_errors *errs)
{
    bpi_drafting as = t->segment->draft;
    bool found = false;
    bp_code rc = BP_OK;
    while (as.take > 1 && !found && rc == BP_OK && !t->failed) {
        as.take--;
        bpi_text_f(&t->text, "take draft %u of %s", (unsigned)as.take, t->segment->id);
        rc = cure_draft(t, &as, &found, errs);
    }
    return rc;
}

static void put_limits(bpi_teller *t)
{
    const bpi_drafting *d = &t->segment->draft;
    const char *id = t->segment->id;
    bpi_teller_slot(t);
    if (d->swaps != UINT32_MAX) {
        bpi_text_f(&t->text, "at most %u swap-out%s may stand on the set of %s", (unsigned)d->swaps,
                   d->swaps == 1 ? "" : "s", id);
        bpi_teller_clash(t, d->where);
    }
    if (d->burners != UINT32_MAX) {
        bpi_text_f(&t->text, "at most %u burner%s may be in use on the set of %s",
                   (unsigned)d->burners, d->burners == 1 ? "" : "s", id);
        bpi_teller_clash(t, d->where);
    }
    if (d->take > 1) {
        bpi_text_f(&t->text, "draft %u of %s is taken", (unsigned)d->take, id);
        bpi_teller_clash(t, d->where);
    }
}

bp_code bpi_nodraft_tell(bpi_clashes *to, const bpi_show *show, uint32_t number, bp_errors *errs)
{
    const bpi_segment *segment = &show->segment[number];
    const bpi_drafting *d = &segment->draft;
    const bpi_beat none = {0};
    bpi_teller t = {
        .to = to, .show = show, .segment = segment, .beat = &none, .slot = segment->slot};
    uint32_t cures_before = to->cure_n;
    put_limits(&t);
    bp_code rc = t.failed ? BP_OK : cure_take(&t, errs);
    if (rc == BP_OK && d->swaps != UINT32_MAX && !t.failed)
        rc = cure_limit(&t, true, errs);
    if (rc == BP_OK && d->burners != UINT32_MAX && !t.failed)
        rc = cure_limit(&t, false, errs);
    bpi_text_release(&t.text);
    if (rc != BP_OK)
        return rc;
    if (t.failed)
        return bpi_error_no_memory(errs);
    return bpi_error_f(errs, BP_ENOFIT, d->where, bpi_teller_after(to, cures_before),
                       "no draft of segment %s is as its \"draft\" wants it", segment->id);
}

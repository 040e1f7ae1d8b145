/* src/plan/drafts.c - every draft of a show's slots, each planned whole.
 *
 * Owns     bp_drafts_make of backpot/draft.h.
 * May use  live/draft, plan/, model/, base/.
 */
#include "backpot/draft.h"

#include <assert.h>
#include <string.h>

#include "base/arena.h"
#include "live/draft.h"

_Static_assert(BP_DRAFTS == BPI_PROPOSE_MOST, "as many are listed as are looked for");

typedef struct drafter {
    const bpi_show *show;
    const bp_plan_options *options;
    bpi_arena *arena;
    bp_draft *draft;
    uint32_t n;
    uint32_t most;
    bp_errors *errs;
} drafter;

/* The show with one segment drafted so; NULL: no memory. */
static const bpi_show *show_with(bpi_arena *a, const bpi_show *show, uint32_t segment,
                                 uint32_t take)
{
    bpi_show *s = BPI_TAKE(a, 1, bpi_show);
    bpi_segment *g = BPI_TAKE(a, show->segments, bpi_segment);
    if (!s || !g)
        return NULL;
    *s = *show;
    memcpy(g, show->segment, show->segments * sizeof *g);
    g[segment].draft.stated = true;
    g[segment].draft.take = take;
    s->segment = g;
    return s;
}

/* A draft that the kitchen cannot make is one all the same, and is shown as such. */
static bp_code add(drafter *d, uint32_t segment, uint32_t number, const bpi_proposal *p)
{
    bpi_arena *aside = bpi_arena_new();
    const bpi_show *show = aside ? show_with(aside, d->show, segment, number) : NULL;
    const char *id = d->show->segment[segment].id;
    bp_draft *x = &d->draft[d->n];
    bp_errors said = {0};
    bp_code rc = BP_ENOMEM;
    *x = (bp_draft){.segment = bpi_arena_copy(d->arena, id, strlen(id)),
                    .number = number,
                    .worth = p->worth,
                    .swap_outs = p->swaps,
                    .burners = p->burners};
    if (show && x->segment)
        rc = bp_plan_make(&x->plan, show, d->options, &said);
    bpi_arena_free(aside);
    d->n++;
    switch (rc) {
    case BP_OK:
    case BP_ENOFIT:
        return BP_OK;
    case BP_EUNSAFE:
        bp_plan_free(x->plan);
        x->plan = NULL;
        return BP_OK;
    case BP_EUNSURE:
        return BP_OK;
    case BP_ENOMEM:
        return bpi_error_no_memory(d->errs);
    default:
        return bpi_error_add(d->errs, rc, d->show->segment[segment].where,
                             said.n ? said.item[0].wrong : "a draft could not be planned", "");
    }
}

static bp_code add_segment(drafter *d, uint32_t segment)
{
    const bpi_segment *g = &d->show->segment[segment];
    bpi_proposal proposal[BPI_PROPOSE_MOST];
    uint32_t n = 0;
    bp_code rc = bpi_draft_list(proposal, &n, d->most, d->show, g, &g->draft, d->errs);
    if (rc == BP_ENOFIT)
        return bpi_error_f(d->errs, rc, g->draft.stated ? g->draft.where : g->slot_where,
                           "see what backpot plan says of the show",
                           "segment %s has no draft that fills its slot%s", g->id,
                           g->draft.stated ? " within its limits" : "");
    for (uint32_t i = 0; i < n && rc == BP_OK; i++)
        rc = add(d, segment, i + 1, &proposal[i]);
    return rc;
}

bp_code bp_drafts_make(bp_drafts **out, const bp_show *show, uint32_t most,
                       const bp_plan_options *options, bp_errors *errs)
{
    assert(most >= 1 && most <= BP_DRAFTS);
    bpi_arena *a = bpi_arena_new();
    bp_drafts *all = a ? BPI_TAKE(a, 1, bp_drafts) : NULL;
    drafter d = {.show = show, .options = options, .arena = a, .most = most, .errs = errs};
    *out = NULL;
    if (all)
        d.draft = BPI_TAKE(a, (size_t)show->segments * most, bp_draft);
    if (!d.draft) {
        bpi_arena_free(a);
        return bpi_error_no_memory(errs);
    }
    *all = (bp_drafts){.draft = d.draft, .own = a};
    bp_code rc = BP_OK;
    for (uint32_t i = 0; i < show->segments && rc == BP_OK; i++)
        if (show->segment[i].beats == 0)
            rc = add_segment(&d, i);
    all->drafts = d.n;
    if (rc != BP_OK)
        bp_drafts_free(all);
    else
        *out = all;
    return rc;
}

void bp_drafts_free(bp_drafts *drafts)
{
    if (!drafts)
        return;
    for (uint32_t i = 0; i < drafts->drafts; i++)
        bp_plan_free(drafts->draft[i].plan);
    bpi_arena_free(drafts->own);
}

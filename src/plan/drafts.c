/* src/plan/drafts.c - every draft of a show's slots, each planned whole.
 *
 * Owns     bp_drafts_make of backpot/draft.h.
 * May use  live/draft, plan/, model/, base/.
 */
#include "backpot/draft.h"

#include <assert.h>
#include <string.h>

#include "base/arena.h"
#include "base/each.h"
#include "live/draft.h"

_Static_assert(BP_DRAFTS == BPI_PROPOSE_MOST, "as many are listed as are looked for");

/* How the plan of one draft ended. */
typedef struct ended {
    uint32_t segment;
    bp_code rc;
    bp_error first; /* with another end than OK: what was said first, if anything */
} ended;

typedef struct drafter {
    const bpi_show *show;
    bp_plan_options options; /* of each plan */
    bpi_arena *arena;
    bp_draft *draft;
    ended *ended;
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

/* Several at once: it writes to its own rows alone. */
static void plan_one(void *ctx, uint32_t i)
{
    const drafter *d = ctx;
    bp_draft *x = &d->draft[i];
    ended *e = &d->ended[i];
    bpi_arena *aside = bpi_arena_new();
    const bpi_show *show = aside ? show_with(aside, d->show, e->segment, x->number) : NULL;
    bp_errors said = {0};
    e->rc = show ? bp_plan_make(&x->plan, show, &d->options, &said) : BP_ENOMEM;
    if (said.n)
        e->first = said.item[0];
    bpi_arena_free(aside);
}

/* A draft that the kitchen cannot make is one all the same, and is shown as such. */
static bp_code settle(drafter *d, uint32_t i)
{
    bp_draft *x = &d->draft[i];
    const ended *e = &d->ended[i];
    switch (e->rc) {
    case BP_OK:
    case BP_ENOFIT:
    case BP_EUNSURE:
        return BP_OK;
    case BP_EUNSAFE:
        bp_plan_free(x->plan);
        x->plan = NULL;
        return BP_OK;
    case BP_ENOMEM:
        return bpi_error_no_memory(d->errs);
    default:
        return bpi_error_add(d->errs, e->rc, d->show->segment[e->segment].where,
                             e->first.wrong[0] ? e->first.wrong : "a draft could not be planned",
                             "");
    }
}

static bp_code add(drafter *d, uint32_t segment, uint32_t number, const bpi_proposal *p)
{
    const char *id = d->show->segment[segment].id;
    bp_draft *x = &d->draft[d->n];
    *x = (bp_draft){.segment = bpi_arena_copy(d->arena, id, strlen(id)),
                    .number = number,
                    .worth = p->worth,
                    .swap_outs = p->swaps,
                    .burners = p->burners};
    d->ended[d->n].segment = segment;
    d->n++;
    return x->segment ? BP_OK : bpi_error_no_memory(d->errs);
}

/* The threads are shared out: to as many drafts at once as there are, and what is left to each. */
static bp_code plan_all(drafter *d)
{
    uint32_t threads = d->options.tell ? 1 : d->options.threads;
    d->options.threads = d->n ? threads / d->n : 0;
    bpi_each(threads, d->n, plan_one, d);
    bp_code rc = BP_OK;
    for (uint32_t i = 0; i < d->n && rc == BP_OK; i++)
        rc = settle(d, i);
    return rc;
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
    drafter d = {.show = show, .arena = a, .most = most, .errs = errs};
    if (options)
        d.options = *options;
    *out = NULL;
    if (all) {
        d.draft = BPI_TAKE(a, (size_t)show->segments * most, bp_draft);
        d.ended = BPI_TAKE(a, (size_t)show->segments * most, ended);
    }
    if (!d.draft || !d.ended) {
        bpi_arena_free(a);
        return bpi_error_no_memory(errs);
    }
    *all = (bp_drafts){.draft = d.draft, .own = a};
    bp_code rc = BP_OK;
    for (uint32_t i = 0; i < show->segments && rc == BP_OK; i++)
        if (show->segment[i].beats == 0)
            rc = add_segment(&d, i);
    if (rc == BP_OK)
        rc = plan_all(&d);
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

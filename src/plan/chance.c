/* src/plan/chance.c - how likely a plan holds, what would make it late, what an earlier call buys.
 *
 * Owns     plan.chance.
 * May use  plan/network, risk (its public header), base/.
 *
 * The same luck for the same step in every variant, so that an earlier call is never worse for the
 * luck of the draw.
 */
#include <stdlib.h>

#include "base/each.h"
#include "base/error.h"
#include "base/limits.h"
#include "plan/network.h"

enum {
    WIDTH = 30,       /* seconds of a bin                             */
    EARLIES = 6,      /* calls tried                                  */
    WORTH = 2000,     /* days that are worth a thread and its counts  */
    HALF = 500,       /* thousandths                                  */
    NINE_TENTHS = 900 /* the same                                     */
};
static const int64_t early_by[EARLIES] = {0, 300, 600, 900, 1200, 1800};

_Static_assert(BP_CHANCE_BINS == BP_RISK_BINS, "bins are handed on as they are");

static bp_code play(bp_risk_result **out, const bpi_network *n, const bp_plan_options *o,
                    bp_errors *errs)
{
    uint32_t days = o->days ? o->days : BP_PLAN_DAYS;
    uint32_t most = days / WORTH < BPI_MOST_THREADS ? days / WORTH : BPI_MOST_THREADS;
    bp_risk_options how = {.days = days,
                           .seed = o->seed,
                           .bin = (uint32_t)(n->unit > WIDTH ? 1 : WIDTH / n->unit),
                           .threads = o->threads < most ? o->threads : most};
    bp_code rc = bp_risk_play(out, &n->risk, &how, errs);
    return rc == BP_EVALUE ? BP_EINTERNAL : rc;
}

static const uint32_t *copy_bins(bpi_fill *f, const uint32_t *bin)
{
    uint32_t *kept = BPI_FILL(f, BP_CHANCE_BINS, uint32_t);
    for (uint32_t i = 0; kept && i < BP_CHANCE_BINS; i++)
        kept[i] = bin[i];
    return kept;
}

/* ---- containers -------------------------------------------------------------------------- */

static int64_t on_set_by(const bp_risk_fate *fate, const bp_chance *c, int64_t set_by,
                         uint32_t thousandths)
{
    int32_t bins = bp_risk_quantile(fate->bin, c->days, 1, thousandths);
    return bins == INT32_MAX ? BP_NO_TIME : set_by + bins * c->width;
}

static void fill_odds(bpi_fill *f, bp_chance *c, const bpi_network *n, const bp_risk_result *r)
{
    bp_odds *odds = BPI_FILL(f, f->plan->containers, bp_odds);
    if (!odds)
        return;
    for (uint32_t i = 0; i < n->risk.dues; i++) {
        int64_t set_by = f->container[n->box[i]].set_by;
        odds[n->box[i]] = (bp_odds){.on_time = r->fate[i].held,
                                    .half = on_set_by(&r->fate[i], c, set_by, HALF),
                                    .nine_tenths = on_set_by(&r->fate[i], c, set_by, NINE_TENTHS),
                                    .bin = copy_bins(f, r->fate[i].bin)};
    }
    c->odds = odds;
}

/* ---- steps ------------------------------------------------------------------------------- */

static int worst_first(const void *a, const void *b)
{
    const bp_driver *x = a, *y = b;
    if (x->late != y->late)
        return x->late > y->late ? -1 : 1;
    return x->op < y->op ? -1 : x->op > y->op;
}

static void fill_drivers(bpi_fill *f, bp_chance *c, const bpi_network *n, const bp_risk_result *r)
{
    bp_driver *driver = BPI_FILL(f, n->uncertain, bp_driver);
    if (!driver)
        return;
    for (uint32_t j = 0; j < n->risk.activities; j++)
        if (n->activity[j].low < n->activity[j].high && r->part[j].late)
            driver[c->drivers++] = (bp_driver){f->op_of[j], r->part[j].late, r->part[j].critical};
    if (c->drivers > 1)
        qsort(driver, c->drivers, sizeof *driver, worst_first);
    c->driver = driver;
}

static void add_losses(const bpi_fill *f, const bpi_network *n, const bp_risk_result *r)
{
    for (uint32_t j = 0; f->loss && j < n->risk.activities; j++) {
        const bpi_job *job = &f->prep->job[j];
        if (n->activity[j].low < n->activity[j].high)
            f->loss[job->recipe * BPI_MAX_STEPS + job->step] += r->part[j].late;
    }
}

static void fill_buffers(bpi_fill *f, bp_chance *c)
{
    bp_buffer *list = BPI_FILL(f, f->buffers, bp_buffer);
    for (uint32_t i = 0; list && i < f->buffers; i++)
        list[i] =
            (bp_buffer){bpi_fill_copy(f, f->buffer[i].recipe), bpi_fill_copy(f, f->buffer[i].step),
                        bpi_fill_copy(f, f->buffer[i].text), f->buffer[i].seconds};
    c->buffer = list;
    c->buffers = f->buffers;
}

/* ---- earlier calls ----------------------------------------------------------------------- */

/* What stands on the set past its best when it comes so much earlier. */
static uint32_t stale(const bpi_fill *f, int64_t by)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < f->plan->containers; i++) {
        const bp_container *c = &f->container[i];
        n += c->best_by != BP_NO_TIME && c->best_by - by < c->last;
    }
    return n;
}

static uint32_t not_so_early(const bp_plan *plan, int64_t by)
{
    for (uint32_t i = 0; i < plan->stints; i++)
        if (plan->stint[i].call - by < plan->stint[i].earliest)
            return plan->stint[i].person;
    return BP_NO_INDEX;
}

static bp_code fill_earlies(bpi_fill *f, bp_chance *c, bpi_network *n, const bp_plan_options *o,
                            bp_errors *errs)
{
    bp_early *early = BPI_FILL(f, EARLIES, bp_early);
    bp_code rc = BP_OK;
    int64_t now = 0;
    for (uint32_t i = 0; early && i < EARLIES && rc == BP_OK; i++) {
        for (uint32_t j = 0; j < n->risk.activities; j++)
            if (!bpi_network_pinned(f, j))
                n->activity[j].release -= (int32_t)((early_by[i] - now) / n->unit);
        now = early_by[i];
        bp_risk_result *r = NULL;
        rc = play(&r, n, o, errs);
        if (rc == BP_OK)
            early[i] = (bp_early){now, r->good, stale(f, now), not_so_early(f->plan, now)};
        bp_risk_result_free(r);
    }
    c->early = early;
    c->earlies = EARLIES;
    return rc;
}

/* ---- all of it --------------------------------------------------------------------------- */

static bp_code fill(bpi_fill *f, bpi_network *n, const bp_plan_options *o, bp_errors *errs)
{
    bp_risk_result *r = NULL;
    bp_code rc = play(&r, n, o, errs);
    bp_chance *c = rc == BP_OK ? BPI_FILL(f, 1, bp_chance) : NULL;
    if (c) {
        *c = (bp_chance){.days = r->days,
                         .seed = o->seed,
                         .share = n->risk.share,
                         .uncertain = n->uncertain,
                         .on_time = r->good,
                         .width = n->unit > WIDTH ? n->unit : WIDTH,
                         .bin = copy_bins(f, r->bin),
                         .asked = o->chance,
                         .without = f->buffers ? f->without : r->good};
        add_losses(f, n, r);
        fill_buffers(f, c);
        fill_odds(f, c, n, r);
        fill_drivers(f, c, n, r);
        rc = fill_earlies(f, c, n, o, errs);
        f->plan->chance = c;
    }
    bp_risk_result_free(r);
    return rc;
}

bp_code bpi_fill_chance(bpi_fill *f, const bp_plan_options *options, bp_errors *errs)
{
    if (!f->schedule || f->plan->verdict != BP_PLANNED || f->failed)
        return BP_OK;
    bpi_arena *a = bpi_arena_new();
    if (!a)
        return bpi_error_no_memory(errs);
    bpi_network *n = NULL;
    bp_code rc = bpi_network_make(&n, a, f, early_by[EARLIES - 1], errs);
    if (rc == BP_OK && n->uncertain && n->risk.dues)
        rc = fill(f, n, options, errs);
    bpi_arena_free(a);
    return rc;
}

/* src/risk/play.c - days shared out to threads, and their counts put together.
 *
 * Owns     the result, and the arena it lives in.
 * May use  risk/day, base/.
 */
#include "base/each.h"
#include "base/error.h"
#include "risk/day.h"

static void run(void *players, uint32_t i)
{
    bpi_player_run((bpi_player *)players + i);
}

/* mean and deviation in thousandths, from sums of differences to `usual`. */
static void spread(bp_risk_fate *f, int64_t sum, uint64_t squares, int32_t usual, uint32_t days)
{
    int64_t n = days, off = (sum / n) * 1000 + sum % n * 1000 / n;
    uint64_t square = squares / days * 1000000 + squares % days * 1000000 / days;
    uint64_t mean = (uint64_t)(off * off);
    f->mean = (int64_t)usual * 1000 + off;
    f->deviation = square > mean ? (int64_t)bpi_fix_sqrt(square - mean) : 0;
}

static bp_code fill(bp_risk_result **out, bpi_arena *a, const bpi_net *net, const bpi_player *p,
                    bp_errors *errs)
{
    const bp_risk_network *n = net->of;
    const bpi_tally *t = &p->tally;
    bp_risk_result *r = BPI_TAKE(a, 1, bp_risk_result);
    bp_risk_fate *fate = BPI_TAKE(a, n->dues, bp_risk_fate);
    if (!r || !fate)
        return bpi_error_no_memory(errs);
    for (uint32_t i = 0; i < n->dues; i++) {
        fate[i] = (bp_risk_fate){.held = t->held[i],
                                 .least = t->least[i],
                                 .most = t->most[i],
                                 .bin = t->bin + (size_t)i * BP_RISK_BINS};
        spread(&fate[i], t->sum[i], t->squares[i], net->usual[i], p->days);
    }
    *r = (bp_risk_result){.days = p->days,
                          .good = t->good,
                          .fate = fate,
                          .bin = t->bin + (size_t)n->dues * BP_RISK_BINS,
                          .part = t->part,
                          .own = a};
    *out = r;
    return BP_OK;
}

static bp_code play(bp_risk_result **out, bpi_arena *a, const bp_risk_network *network,
                    const bp_risk_options *o, bp_errors *errs)
{
    bpi_net *net = NULL;
    bp_code rc = bpi_net_make(&net, a, network, errs);
    if (rc != BP_OK)
        return rc;
    uint32_t days = o->days ? o->days : BP_RISK_DAYS;
    uint32_t n = o->threads ? o->threads : 1, blocks = (days + BPI_DAYS - 1) / BPI_DAYS;
    n = n > blocks ? blocks : n;
    bpi_player *player = BPI_TAKE(a, n, bpi_player);
    bool have = player != NULL;
    for (uint32_t i = 0; have && i < n; i++) {
        have = bpi_player_init(&player[i], a, net);
        player[i].days = days;
        player[i].width = o->bin ? o->bin : 1;
        player[i].key0 = (uint32_t)o->seed;
        player[i].key1 = (uint32_t)(o->seed >> 32);
        player[i].first = i;
        player[i].stride = n;
    }
    if (!have)
        return bpi_error_no_memory(errs);
    bpi_each(n, n, run, player);
    for (uint32_t i = 1; i < n; i++)
        bpi_tally_add(&player[0].tally, &player[i].tally, network);
    return fill(out, a, net, &player[0], errs);
}

bp_code bp_risk_play(bp_risk_result **out, const bp_risk_network *network,
                     const bp_risk_options *options, bp_errors *errs)
{
    static const bp_risk_options defaults;
    const bp_risk_options *o = options ? options : &defaults;
    *out = NULL;
    if (o->days > BP_RISK_MOST_DAYS || o->threads > BPI_MOST_THREADS || o->bin > BP_RISK_MOST_TIME)
        return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "",
                           "days, threads or the width of a bin are out of range");
    bpi_arena *a = bpi_arena_new();
    if (!a)
        return bpi_error_no_memory(errs);
    bp_code rc = play(out, a, network, o, errs);
    if (rc != BP_OK)
        bpi_arena_free(a);
    return rc;
}

void bp_risk_result_free(bp_risk_result *result)
{
    if (result)
        bpi_arena_free(result->own);
}

int32_t bp_risk_quantile(const uint32_t bin[BP_RISK_BINS], uint32_t days, uint32_t width,
                         uint32_t thousandths)
{
    uint64_t want = ((uint64_t)days * thousandths + 999) / 1000, sum = 0;
    for (int32_t k = 0; k < BP_RISK_BINS - 1; k++) {
        sum += bin[k];
        if (sum >= want)
            return (k - BP_RISK_BINS / 2) * (int32_t)(width ? width : 1);
    }
    return INT32_MAX;
}

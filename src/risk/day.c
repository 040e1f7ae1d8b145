#include "risk/day.h"

#include <assert.h>

#include "risk/philox.h"

/* ---- storage ----------------------------------------------------------------------------- */

static bool tally_init(bpi_tally *t, bpi_arena *a, const bp_risk_network *n)
{
    t->held = BPI_TAKE(a, n->dues, uint32_t);
    t->sum = BPI_TAKE(a, n->dues, int64_t);
    t->squares = BPI_TAKE(a, n->dues, uint64_t);
    t->least = BPI_TAKE(a, n->dues, int32_t);
    t->most = BPI_TAKE(a, n->dues, int32_t);
    t->bin = BPI_TAKE(a, ((size_t)n->dues + 1) * BP_RISK_BINS, uint32_t);
    t->part = BPI_TAKE(a, n->activities, bp_risk_part);
    if (!t->held || !t->sum || !t->squares || !t->least || !t->most || !t->bin || !t->part)
        return false;
    for (uint32_t i = 0; i < n->dues; i++) {
        t->least[i] = INT32_MAX;
        t->most[i] = INT32_MIN;
    }
    return true;
}

bool bpi_player_init(bpi_player *p, bpi_arena *a, const bpi_net *net)
{
    const bp_risk_network *n = net->of;
    p->net = net;
    p->start = BPI_TAKE(a, (size_t)n->activities * BPI_DAYS, int32_t);
    p->end = BPI_TAKE(a, (size_t)n->activities * BPI_DAYS, int32_t);
    p->length = BPI_TAKE(a, BPI_DAYS, int32_t);
    p->luck = BPI_TAKE(a, (size_t)n->groups * BPI_DAYS, int32_t);
    p->late = BPI_TAKE(a, (size_t)n->dues * BPI_DAYS, int32_t);
    p->seen = BPI_TAKE(a, n->activities, uint32_t);
    return p->start && p->end && p->length && p->luck && p->late && p->seen &&
           tally_init(&p->tally, a, n);
}

void bpi_tally_add(bpi_tally *to, const bpi_tally *from, const bp_risk_network *of)
{
    to->good += from->good;
    for (uint32_t i = 0; i < of->dues; i++) {
        to->held[i] += from->held[i];
        to->sum[i] += from->sum[i];
        to->squares[i] += from->squares[i];
        to->least[i] = from->least[i] < to->least[i] ? from->least[i] : to->least[i];
        to->most[i] = from->most[i] > to->most[i] ? from->most[i] : to->most[i];
    }
    for (size_t i = 0; i < ((size_t)of->dues + 1) * BP_RISK_BINS; i++)
        to->bin[i] += from->bin[i];
    for (uint32_t i = 0; i < of->activities; i++) {
        to->part[i].critical += from->part[i].critical;
        to->part[i].late += from->part[i].late;
    }
}

/* ---- luck and lengths -------------------------------------------------------------------- */

enum { OWN, COMMON }; /* kinds of streams */

/* Deviations of one stream: a counter gives the words of four days. */
static void draw(const bpi_player *p, uint32_t block, uint32_t kind, uint64_t stream, int32_t *z)
{
    uint32_t counter[4] = {0, kind, (uint32_t)stream, (uint32_t)(stream >> 32)}, word[4];
    for (uint32_t d = 0; d < BPI_DAYS; d += 4) {
        counter[0] = (block * BPI_DAYS + d) / 4;
        bpi_philox(word, counter, p->key0, p->key1);
        for (uint32_t k = 0; k < 4; k++)
            z[d + k] = bpi_normal_z(&p->net->normal, word[k]);
    }
}

static void lengths(const bpi_player *p, uint32_t block, uint32_t act)
{
    const bp_risk_activity *a = &p->net->of->activity[act];
    const int32_t *table = p->net->table[act];
    int32_t *z = p->length;
    draw(p, block, OWN, a->stream, z);
    if (a->group != BP_RISK_NONE) {
        const int32_t *f = p->luck + (size_t)a->group * BPI_DAYS;
        for (uint32_t d = 0; d < BPI_DAYS; d++)
            z[d] = (int32_t)(((int64_t)p->net->own * z[d] + (int64_t)p->net->common * f[d]) /
                             (1 << 15));
    }
    for (uint32_t d = 0; d < BPI_DAYS; d++)
        z[d] = bpi_shape_length(table, z[d]);
}

/* ---- one block --------------------------------------------------------------------------- */

static void later(int32_t *restrict s, const int32_t *restrict t, int32_t lag)
{
    for (uint32_t d = 0; d < BPI_DAYS; d++)
        s[d] = t[d] + lag > s[d] ? t[d] + lag : s[d];
}

static void play(bpi_player *p, uint32_t block)
{
    const bpi_net *net = p->net;
    const bp_risk_network *n = net->of;
    for (uint32_t g = 0; g < n->groups; g++)
        draw(p, block, COMMON, g, p->luck + (size_t)g * BPI_DAYS);
    for (uint32_t k = 0; k < n->activities; k++) {
        uint32_t i = net->order[k];
        const bp_risk_activity *a = &n->activity[i];
        int32_t *s = p->start + (size_t)i * BPI_DAYS, *e = p->end + (size_t)i * BPI_DAYS;
        for (uint32_t d = 0; d < BPI_DAYS; d++)
            s[d] = a->release;
        for (uint32_t j = net->first[i]; j < net->first[i + 1]; j++) {
            const bp_risk_link *l = &n->link[net->into[j]];
            later(s, (l->from_start ? p->start : p->end) + (size_t)l->from * BPI_DAYS, l->lag);
        }
        if (net->table[i]) {
            lengths(p, block, i);
            for (uint32_t d = 0; d < BPI_DAYS; d++)
                e[d] = s[d] + p->length[d];
        } else {
            for (uint32_t d = 0; d < BPI_DAYS; d++)
                e[d] = s[d] + a->low;
        }
    }
}

/* ---- what came of it --------------------------------------------------------------------- */

static uint32_t bin_of(int32_t late, uint32_t width)
{
    int64_t middle = BP_RISK_BINS / 2, w = width;
    int64_t k = middle + (late > 0 ? (late + w - 1) / w : -(-(int64_t)late / w));
    return (uint32_t)(k < 0 ? 0 : k >= BP_RISK_BINS ? BP_RISK_BINS - 1 : k);
}

static void measure(bpi_player *p, uint32_t days)
{
    const bp_risk_network *n = p->net->of;
    bpi_tally *t = &p->tally;
    assert(p->start && p->end);
    for (uint32_t i = 0; i < n->dues; i++) {
        const bp_risk_due *due = &n->due[i];
        const int32_t *at = (due->start ? p->start : p->end) + (size_t)due->act * BPI_DAYS;
        const int32_t *from =
            due->since == BP_RISK_NONE ? NULL : p->start + (size_t)due->since * BPI_DAYS;
        int32_t *late = p->late + (size_t)i * BPI_DAYS;
        uint32_t *bin = t->bin + (size_t)i * BP_RISK_BINS;
        for (uint32_t d = 0; d < days; d++) {
            int32_t v = from ? at[d] - from[d] : at[d];
            int64_t off = (int64_t)v - p->net->usual[i];
            late[d] = v - due->most;
            t->held[i] += late[d] <= 0;
            t->sum[i] += off;
            t->squares[i] += (uint64_t)(off * off);
            t->least[i] = late[d] < t->least[i] ? late[d] : t->least[i];
            t->most[i] = late[d] > t->most[i] ? late[d] : t->most[i];
            bin[bin_of(late[d], p->width)]++;
        }
    }
}

/* Back along the chain of one day from a due; `number` is the day's, from 1. */
static void follow(bpi_player *p, uint32_t due, uint32_t d, uint32_t number, bool worst,
                   bool missed)
{
    const bp_risk_network *n = p->net->of;
    uint32_t i = n->due[due].act;
    bool whole = !n->due[due].start; /* its own length counts */
    for (;;) {
        int32_t length = p->end[(size_t)i * BPI_DAYS + d] - p->start[(size_t)i * BPI_DAYS + d];
        if (worst)
            p->tally.part[i].critical++;
        if (missed && whole && length > n->activity[i].planned && p->seen[i] != number) {
            p->seen[i] = number;
            p->tally.part[i].late++;
        }
        uint32_t l = bpi_net_binding(p->net, i, p->start + d, p->end + d, BPI_DAYS);
        if (l == BP_RISK_NONE)
            return;
        i = n->link[l].from;
        whole = !n->link[l].from_start;
    }
}

static void judge(bpi_player *p, uint32_t block, uint32_t days)
{
    const bp_risk_network *n = p->net->of;
    bpi_tally *t = &p->tally;
    for (uint32_t d = 0; d < days; d++) {
        uint32_t worst = 0;
        for (uint32_t i = 1; i < n->dues; i++)
            if (p->late[(size_t)i * BPI_DAYS + d] > p->late[(size_t)worst * BPI_DAYS + d])
                worst = i;
        int32_t most = p->late[(size_t)worst * BPI_DAYS + d];
        uint32_t number = block * BPI_DAYS + d + 1;
        t->good += most <= 0;
        t->bin[(size_t)n->dues * BP_RISK_BINS + bin_of(most, p->width)]++;
        follow(p, worst, d, number, true, most > 0);
        for (uint32_t i = 0; most > 0 && i < n->dues; i++)
            if (i != worst && p->late[(size_t)i * BPI_DAYS + d] > 0)
                follow(p, i, d, number, false, true);
    }
}

void bpi_player_run(bpi_player *p)
{
    for (uint32_t block = p->first; block * (uint64_t)BPI_DAYS < p->days; block += p->stride) {
        uint32_t left = p->days - block * BPI_DAYS;
        uint32_t days = left < BPI_DAYS ? left : BPI_DAYS;
        play(p, block);
        measure(p, days);
        if (p->net->of->dues)
            judge(p, block, days);
        else
            p->tally.good += days;
    }
}

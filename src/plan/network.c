#include "plan/network.h"

#include <assert.h>

#include "base/error.h"

/* Last job of one unit of a resource; of what is taken by amount, of so much of it. */
typedef struct unit {
    uint32_t job;  /* BPI_NO_INDEX: free from the start  */
    int32_t until; /* engine time: free again             */
    int32_t state; /* of an oven                          */
    int32_t some;  /* of a circuit, in watts; of a cook, in percent */
} unit;

typedef struct builder {
    const bpi_fill *f;
    const bp_eng_problem *q;
    const bpi_schedule *s;
    bpi_network *n;
    bpi_arena *a;
    uint32_t *ends_with; /* per job: the job whose start ends it; BPI_NO_INDEX: its own length */
    uint32_t *order;     /* jobs by start                                                      */
    uint32_t *into, *lag_from; /* per job, from into[job] up to into[job + 1]: what leads to it */
    void *link;
    size_t link_room;
    bool failed;
} builder;

bool bpi_network_pinned(const bpi_fill *f, uint32_t j)
{
    bp_op_kind kind = f->prep->job[j].kind;
    return kind == BP_OP_RESET || kind == BP_OP_STAND_BY || kind == BP_OP_SET;
}

static void link_jobs(builder *b, uint32_t from, uint32_t to, bool from_start, int32_t minutes)
{
    bp_risk_link *l =
        b->failed ? NULL
                  : bpi_arena_more(b->a, &b->link, &b->link_room, b->n->risk.links, sizeof *l);
    if (!l) {
        b->failed = true;
        return;
    }
    *l = (bp_risk_link){from, to, from_start, (int32_t)(minutes * (60 / b->n->unit))};
    b->n->risk.links++;
}

static const bp_eng_option *option_of(const builder *b, uint32_t j)
{
    return &b->q->option[b->q->activity[j].option0 + b->s->option[j]];
}

/* ---- lengths ----------------------------------------------------------------------------- */

static uint32_t group_of(const builder *b, uint32_t j)
{
    const bpi_way *way = bpi_schedule_way(b->f->prep, b->s, j);
    if (way->cook != BPI_NO_INDEX)
        return way->cook;
    if (b->f->prep->job[j].kind == BP_OP_OVEN && way->oven != BPI_NO_INDEX)
        return b->f->show->kitchen.cooks + way->oven;
    return BP_RISK_NONE;
}

/* Its own name gives an operation its luck: the same in every plan of the show. FNV-1a, 64 bits. */
static uint64_t stream_of(const builder *b, uint32_t j)
{
    uint64_t h = UINT64_C(14695981039346656037);
    for (const char *key = b->f->plan->op[b->f->op_of[j]].key; *key; key++)
        h = (h ^ (uint8_t)*key) * UINT64_C(1099511628211);
    return h;
}

/* The step of a job whose length is as uncertain as the step's; NULL: it is not. */
static const bpi_step *uncertain_step(const builder *b, uint32_t j)
{
    const bpi_job *job = &b->f->prep->job[j];
    if (job->kind != BP_OP_ACTIVE && job->kind != BP_OP_PASSIVE && job->kind != BP_OP_OVEN)
        return NULL;
    const bpi_step *s = &b->f->written->recipe[job->recipe].step[job->step];
    return s->time.uncertain && s->time.least < s->time.most ? s : NULL;
}

static void fill_activity(builder *b, uint32_t j)
{
    bpi_network *n = b->n;
    const bpi_step *s = uncertain_step(b, j);
    int32_t per_minute = (int32_t)(60 / n->unit);
    bool stretches = b->ends_with[j] != BPI_NO_INDEX;
    bp_risk_activity *a = &n->activity[j];
    int32_t length = (stretches ? option_of(b, j)->least : b->s->length[j]) * per_minute;
    *a = (bp_risk_activity){
        .low = length,
        .likely = length,
        .high = length,
        .planned = b->s->length[j] * per_minute,
        .release = (int32_t)((bpi_schedule_from(b->f->prep, b->s, j) - n->zero) / n->unit),
        .group = BP_RISK_NONE};
    if (!s || b->f->op_of[j] == BP_NO_INDEX)
        return;
    /* One job for several containers is as uncertain, in proportion, as the step itself. */
    int64_t whole = s->together ? s->together_once + s->together_each * b->f->prep->job[j].serves
                                : s->time.likely;
    int64_t of = (s->together && s->time.likely ? s->time.likely : whole) * n->unit;
    if (of == 0)
        whole = of = 1; /* likely to take no time at all: nothing to be in proportion to */
    a->low = (int32_t)(s->time.least * whole / of);
    a->likely = (int32_t)(s->time.likely * whole / of);
    a->high = (int32_t)((s->time.most * whole + of - 1) / of);
    a->group = group_of(b, j);
    a->stream = stream_of(b, j);
    n->uncertain++;
}

/* ---- what comes before what -------------------------------------------------------------- */

static bool is_on(const builder *b, const bp_eng_lag *l)
{
    return l->from != BP_ENG_ORIGIN && l->to != BP_ENG_ORIGIN &&
           (l->if_act == BP_ENG_NONE || b->s->option[l->if_act] == l->if_opt);
}

static bool waits(const builder *b, uint32_t j)
{
    bp_op_kind kind = b->f->prep->job[j].kind;
    return kind == BP_OP_WAIT || kind == BP_OP_PASSIVE || kind == BP_OP_OVEN || kind == BP_OP_DIRTY;
}

/* A start that must not come after the end of what goes on by itself makes that end wait for it. */
static void find_ends(builder *b)
{
    for (uint32_t i = 0; i < b->q->lags; i++) {
        const bp_eng_lag *l = &b->q->lag[i];
        if (is_on(b, l) && waits(b, l->to) && l->from_end == BP_ENG_START &&
            l->to_end == BP_ENG_END && l->least == 0)
            b->ends_with[l->to] = l->from;
    }
}

/* A job that is part of another is that other, and so is who helps: both begin at once. */
static uint32_t whole_of(const builder *b, uint32_t j)
{
    uint32_t lead = bpi_schedule_lead(b->f->prep, b->s, j);
    const bpi_job *job = &b->f->prep->job[lead];
    return job->kind == BP_OP_HELP ? bpi_schedule_lead(b->f->prep, b->s, job->number) : lead;
}

static void link_lags(builder *b)
{
    for (uint32_t i = 0; i < b->q->lags; i++) {
        const bp_eng_lag *l = &b->q->lag[i];
        if (is_on(b, l) && l->to_end == BP_ENG_START && l->least >= 0 &&
            whole_of(b, l->from) != whole_of(b, l->to))
            link_jobs(b, whole_of(b, l->from), whole_of(b, l->to), l->from_end == BP_ENG_START,
                      l->least);
    }
}

/* Where the links into each job come from, as far as they are lags. */
static bool keep_lags(builder *b)
{
    const bp_risk_link *link = b->link;
    uint32_t n = b->n->risk.links, jobs = b->q->activities;
    b->into = BPI_TAKE(b->a, (size_t)jobs + 2, uint32_t);
    b->lag_from = BPI_TAKE(b->a, n, uint32_t);
    if (!b->into || !b->lag_from)
        return false;
    assert(link || n == 0);
    for (uint32_t i = 0; i < n; i++)
        b->into[link[i].to + 2]++;
    for (uint32_t j = 0; j < jobs; j++)
        b->into[j + 2] += b->into[j + 1];
    for (uint32_t i = 0; i < n; i++)
        b->lag_from[b->into[link[i].to + 1]++] = link[i].from;
    return true;
}

static bool leads_to(const builder *b, uint32_t from, uint32_t to)
{
    for (uint32_t i = b->into[to]; i < b->into[to + 1]; i++)
        if (b->lag_from[i] == from)
            return true;
    return false;
}

/* At one moment the order of two starts is free: a link must not close a circle. Links at the same
 * moment have none, so this ends. */
static bool reaches(const builder *b, uint32_t from, uint32_t to)
{
    const bp_risk_link *link = b->link;
    if (from == to)
        return true;
    for (uint32_t i = 0; i < b->n->risk.links; i++)
        if (link[i].from == from && b->s->start[link[i].to] == b->s->start[to] &&
            reaches(b, link[i].to, to))
            return true;
    return false;
}

static void follow_unit(builder *b, uint32_t res, const unit *u, uint32_t j, int32_t state)
{
    const bp_eng_resource *r = &b->q->resource[res];
    int32_t change = 0;
    if (u->job == BPI_NO_INDEX)
        return;
    if (r->states && u->state >= 0 && state >= 0)
        change = b->q->change[r->change0 + (uint32_t)u->state * r->states + (uint32_t)state];
    uint32_t ends = b->ends_with[u->job], whole = whole_of(b, u->job);
    uint32_t from = ends != BPI_NO_INDEX ? ends : whole;
    j = whole_of(b, j);
    if (b->s->start[from] == b->s->start[j] && reaches(b, j, from))
        return;
    if (ends != BPI_NO_INDEX)
        link_jobs(b, ends, j, true, change);
    else if (b->s->length[u->job] < b->s->length[whole]) /* who helps is free before that ends */
        link_jobs(b, whole, j, true, b->s->length[u->job] + change);
    else
        link_jobs(b, whole, j, false, change);
}

/* The free unit whose last job leads to this one anyway; else the one that is free longest. */
static unit *pick(const builder *b, unit *units, uint32_t n, uint32_t j)
{
    unit *best = NULL;
    for (uint32_t i = 0; i < n; i++) {
        unit *u = &units[i];
        if (u->until > b->s->start[j])
            continue;
        if (u->job != BPI_NO_INDEX && (b->ends_with[u->job] == j || leads_to(b, u->job, j)))
            return u;
        if (!best || u->until < best->until)
            best = u;
    }
    return best;
}

static void chain(builder *b, uint32_t res, unit *units, uint32_t n)
{
    for (uint32_t i = 0; i < n; i++)
        units[i] = (unit){BPI_NO_INDEX, INT32_MIN, -1, 0};
    for (uint32_t k = 0; k < b->q->activities && !b->failed; k++) {
        uint32_t j = b->order[k];
        const bp_eng_option *o = option_of(b, j);
        for (uint32_t i = 0; i < o->needs && b->s->length[j] > 0; i++) {
            const bp_eng_need *need = &b->q->need[o->need0 + i];
            if (need->res != res)
                continue;
            /* Another temperature takes the whole oven. */
            for (uint32_t v = 0; v < n && need->state >= 0; v++)
                if (units[v].state != need->state && units[v].until <= b->s->start[j])
                    follow_unit(b, res, &units[v], j, need->state);
            for (int32_t c = 0; c < need->amount; c++) {
                unit *u = pick(b, units, n, j);
                if (!u)
                    break; /* a resource without bound */
                if (need->state < 0 || u->state == need->state)
                    follow_unit(b, res, u, j, need->state);
                *u = (unit){j, b->s->start[j] + b->s->length[j], need->state, 0};
            }
        }
    }
}

/* The watts of a circuit, and the attention of a cook, go from job to job as planned, those first that are
 * free longest. `units` has room for one more than jobs need it. */
static void chain_amounts(builder *b, uint32_t res, unit *units)
{
    uint32_t n = 1;
    units[0] = (unit){BPI_NO_INDEX, INT32_MIN, -1, b->q->resource[res].capacity};
    for (uint32_t k = 0; k < b->q->activities && !b->failed; k++) {
        uint32_t j = b->order[k], all = n;
        const bp_eng_option *o = option_of(b, j);
        for (uint32_t i = 0; i < o->needs && b->s->length[j] > 0; i++) {
            const bp_eng_need *need = &b->q->need[o->need0 + i];
            if (need->res != res)
                continue;
            for (int32_t left = need->amount; left > 0;) {
                unit *u = pick(b, units, all, j);
                if (!u)
                    break;
                int32_t part = u->some < left ? u->some : left;
                follow_unit(b, res, u, j, -1);
                u->some -= part;
                left -= part;
                if (!u->some)
                    u->until = INT32_MAX;
            }
            units[n++] = (unit){j, b->s->start[j] + b->s->length[j], -1, need->amount};
        }
    }
}

/* By start, then by number; few enough for an insertion each. */
static void sort_jobs(builder *b)
{
    for (uint32_t k = 0; k < b->q->activities; k++) {
        uint32_t at = k;
        for (; at > 0 && b->s->start[k] < b->s->start[b->order[at - 1]]; at--)
            b->order[at] = b->order[at - 1];
        b->order[at] = k;
    }
}

static void link_resources(builder *b)
{
    uint32_t most = 0;
    for (uint32_t r = 0; r < b->q->resources; r++)
        if (b->q->resource[r].capacity > (int32_t)most)
            most = (uint32_t)b->q->resource[r].capacity;
    /* More units than there are jobs' needs are never taken. */
    most = most > b->q->needs ? b->q->needs : most;
    unit *units = BPI_TAKE(b->a, (size_t)b->q->needs + 1, unit);
    if (!units) {
        b->failed = true;
        return;
    }
    for (uint32_t r = 0; r < b->q->resources && !b->failed; r++) {
        int32_t n = b->q->resource[r].capacity;
        bpi_res_kind kind = b->f->prep->res[r].kind;
        if (kind == BPI_RES_CIRCUIT || (kind == BPI_RES_SHIFT && n > 1))
            chain_amounts(b, r, units);
        else
            chain(b, r, units, n < 0 ? 0 : (uint32_t)n > most ? most : (uint32_t)n);
    }
}

/* ---- what must be in time ---------------------------------------------------------------- */

static void fill_dues(builder *b, bp_risk_due *due)
{
    bpi_network *n = b->n;
    for (uint32_t i = 0; i < b->f->prep->boxes; i++) {
        uint32_t carry = b->f->prep->box[i].carry;
        if (carry == BPI_NO_INDEX)
            continue;
        int64_t by = b->f->container[i].set_by - n->zero;
        n->box[n->risk.dues] = i;
        due[n->risk.dues++] =
            (bp_risk_due){.act = carry, .since = BP_RISK_NONE, .most = (int32_t)(by / n->unit)};
    }
}

/* ---- all of it --------------------------------------------------------------------------- */

/* It stands to the end of the axis, and nobody waits for it. */
static bool left_dirty(const builder *b, uint32_t j)
{
    return b->s->start[j] + b->s->length[j] == b->q->horizon &&
           (b->f->prep->job[j].kind == BP_OP_DIRTY || b->f->prep->job[j].kind == BP_OP_WASH);
}

/* Seconds while the longest day that could be fits, else minutes. */
static void measure(builder *b, int64_t early)
{
    int32_t first = INT32_MAX, last = 0;
    int64_t more = early;
    for (uint32_t j = 0; j < b->q->activities; j++) {
        int32_t end = b->s->start[j] + b->s->length[j];
        if (left_dirty(b, j))
            continue;
        first = b->s->start[j] < first ? b->s->start[j] : first;
        last = end > last ? end : last;
        const bpi_step *s = uncertain_step(b, j);
        more += s ? s->time.most : 0;
    }
    b->n->zero = b->f->prep->zero + (int64_t)(first == INT32_MAX ? 0 : first) * 60 - early;
    b->n->unit = (int64_t)(last - first) * 60 + more > BP_RISK_MOST_TIME * 9 / 10 ? 60 : 1;
}

bp_code bpi_network_make(bpi_network **out, bpi_arena *a, const bpi_fill *f, int64_t early,
                         bp_errors *errs)
{
    const bp_eng_problem *q = &f->prep->problem;
    *out = NULL;
    bpi_network *n = BPI_TAKE(a, 1, bpi_network);
    builder b = {.f = f, .q = q, .s = f->schedule, .n = n, .a = a};
    b.ends_with = BPI_TAKE(a, q->activities, uint32_t);
    b.order = BPI_TAKE(a, q->activities, uint32_t);
    bp_risk_due *due = BPI_TAKE(a, f->prep->boxes, bp_risk_due);
    if (!n || !b.ends_with || !b.order || !due)
        return bpi_error_no_memory(errs);
    n->activity = BPI_TAKE(a, q->activities, bp_risk_activity);
    n->box = BPI_TAKE(a, f->prep->boxes, uint32_t);
    if (!n->activity || !n->box)
        return bpi_error_no_memory(errs);
    for (uint32_t j = 0; j < q->activities; j++)
        b.ends_with[j] = BPI_NO_INDEX;
    measure(&b, early);
    sort_jobs(&b);
    find_ends(&b);
    for (uint32_t j = 0; j < q->activities; j++)
        fill_activity(&b, j);
    link_lags(&b);
    b.failed |= !keep_lags(&b);
    if (!b.failed)
        link_resources(&b);
    fill_dues(&b, due);
    if (b.failed)
        return bpi_error_no_memory(errs);
    n->risk.activity = n->activity;
    n->risk.activities = q->activities;
    n->risk.link = b.link;
    n->risk.due = due;
    n->risk.groups = f->show->kitchen.cooks + f->show->kitchen.ovens;
    n->risk.share = BPI_NETWORK_SHARE;
    *out = n;
    return BP_OK;
}

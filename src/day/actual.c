#include "day/actual.h"

typedef enum status { COMING, OPEN, ENDED } status;

typedef struct actual {
    bpi_day *d;
    const bpi_prep *p;
    const bpi_schedule *s;
    const bp_kitchen_view *v;
    const uint32_t *op_of;
    uint32_t n;
    int32_t *from, *to; /* of each job  */
    status *is;         /* of solid ones */
    int32_t *limit;     /* what builds on it began then, at the earliest; INT32_MAX: nothing has */
} actual;

/* ---- what jobs are --------------------------------------------------------------------------- */

/* The others have the time that is left between those: they wait, or are left out. */
static bool is_solid(const actual *a, uint32_t j)
{
    bp_op_kind k = a->p->job[j].kind;
    return k != BP_OP_WAIT && k != BP_OP_SET && a->op_of[j] != BP_NO_INDEX;
}

static uint32_t lead_of(const actual *a, uint32_t j)
{
    return bpi_schedule_lead(a->p, a->s, j);
}

/* Does one job end where the other starts, always? */
static bool touches(const bp_eng_lag *l)
{
    return l->from_end == BP_ENG_END && l->to_end == BP_ENG_START && l->least == 0 &&
           l->fact == 0 && l->if_act == BP_ENG_NONE && l->from < BP_ENG_ORIGIN &&
           l->to < BP_ENG_ORIGIN;
}

static int32_t minute(const actual *a, int64_t t)
{
    return bpi_minutes_up(t - a->p->zero);
}

/* ---- what was ticked ------------------------------------------------------------------------- */

/* What has ended: by a tick, or as it was said when the plan was last mended. */
static void take_task(actual *a, uint32_t j)
{
    const bp_task *t = &a->v->task[a->op_of[j]];
    int32_t now = a->d->now;
    a->from[j] = minute(a, t->from);
    a->to[j] = minute(a, t->to);
    a->is[j] = t->state == BP_TASK_DONE ? ENDED : t->state == BP_TASK_UNDER_WAY ? OPEN : COMING;
    if (a->is[j] == COMING && a->s->start[j] >= now) { /* nobody plans by a forecast */
        a->from[j] = a->s->start[j];
        a->to[j] = a->from[j] + a->s->length[j];
    }
    if (a->is[j] == OPEN && a->to[j] <= now)
        a->to[j] = now + 1;
    if (a->p->job[j].kind == BP_OP_STAND_BY) {
        a->from[j] = a->s->start[j];
        a->to[j] = a->from[j] + a->s->length[j];
        a->is[j] = a->to[j] <= now ? ENDED : a->from[j] < now ? OPEN : COMING;
    }
    if (a->to[j] <= a->from[j])
        a->to[j] = a->from[j] + 1;
}

/* ---- what must have been done ---------------------------------------------------------------- */

static bool lower(int32_t *limit, int32_t to)
{
    if (*limit <= to)
        return false;
    *limit = to;
    return true;
}

/* A place is on before anything stands there: what was ended directly before it stood there, or what
 * came after that has begun. */
static void limit_warm_up(actual *a, uint32_t j)
{
    for (uint32_t i = 0; i < a->d->lags; i++) {
        const bp_eng_lag *l = &a->d->lag[i];
        if (!touches(l))
            continue;
        uint32_t from = lead_of(a, l->from), to = lead_of(a, l->to);
        if (!bpi_is_warmed(a->p, &a->p->job[j], bpi_schedule_way(a->p, a->s, to)))
            continue;
        lower(&a->limit[j], a->limit[to]);
        if (is_solid(a, to) && a->is[to] != COMING)
            lower(&a->limit[j], a->from[to]);
        else if (is_solid(a, from) && a->is[from] == ENDED)
            lower(&a->limit[j], a->to[from]);
    }
}

/* When what comes after each job began. An oven is on before a load goes in. */
static void find_limits(actual *a)
{
    for (uint32_t j = 0; j < a->n; j++)
        a->limit[j] = INT32_MAX;
    for (bool more = true; more;) {
        more = false;
        for (uint32_t i = 0; i < a->d->lags; i++) {
            const bp_eng_lag *l = &a->d->lag[i];
            if (!touches(l))
                continue;
            uint32_t next = lead_of(a, l->to);
            int32_t at =
                is_solid(a, next) && a->is[next] != COMING ? a->from[next] : a->limit[next];
            more |= lower(&a->limit[l->from], at);
            more |= lower(&a->limit[lead_of(a, l->from)], a->limit[l->from]);
        }
    }
    for (uint32_t j = 0; j < a->n; j++)
        if (a->p->job[j].kind == BP_OP_WARM_UP)
            limit_warm_up(a, j);
    for (uint32_t j = 0; j < a->n; j++) {
        const bpi_job *job = &a->p->job[j];
        uint32_t bake = job->kind == BP_OP_PREHEAT ? lead_of(a, job->number) : j;
        if (bake != j && is_solid(a, bake) && a->is[bake] != COMING)
            lower(&a->limit[j], a->from[bake]);
    }
}

static void infer(actual *a)
{
    for (uint32_t j = 0; j < a->n; j++) {
        if (!is_solid(a, j) || a->limit[j] == INT32_MAX || a->is[j] == ENDED)
            continue;
        int32_t from = a->is[j] == OPEN ? a->from[j] : a->s->start[j];
        int32_t to = from + a->s->length[j];
        a->to[j] = to < a->limit[j] ? to : a->limit[j];
        a->from[j] = a->is[j] == OPEN ? from : a->to[j] - a->s->length[j];
        if (a->to[j] <= a->from[j])
            a->to[j] = a->from[j] + 1;
        a->is[j] = ENDED;
    }
}

/* Nobody helps with what has not begun, or where that is over; one of the two was ticked. */
static void pair_help(actual *a)
{
    for (uint32_t j = 0; j < a->n; j++) {
        const bpi_job *job = &a->p->job[j];
        if (job->kind != BP_OP_HELP || !is_solid(a, j) || !is_solid(a, job->number))
            continue;
        bool whole = a->p->show->recipe[job->recipe].step[job->step].help_time == 0;
        uint32_t at = job->number, from = a->is[at] == COMING ? j : at, to = from == j ? at : j;
        if (a->is[from] == COMING || a->is[to] != COMING)
            continue;
        a->is[to] = to == j || whole ? a->is[from] : OPEN;
        a->from[to] = a->from[from];
        a->to[to] = whole ? a->to[from] : a->from[to] + a->s->length[to];
    }
}

/* ---- in order -------------------------------------------------------------------------------- */

/* The earliest that the next may start. */
static int32_t end_of(const actual *a, uint32_t j)
{
    return is_solid(a, j) ? a->to[j] : a->from[j];
}

/* Nothing of a container starts before what it builds on has ended: the ticks of a minute are spread
 * over some. What does not take any time follows; with `waits`, it alone. */
static void follow(actual *a, bool waits)
{
    for (bool more = true; more;) {
        more = false;
        for (uint32_t i = 0; i < a->d->lags; i++) {
            const bp_eng_lag *l = &a->d->lag[i];
            if (!touches(l))
                continue;
            uint32_t x = lead_of(a, l->to);
            int32_t end = end_of(a, lead_of(a, l->from));
            if (a->from[x] >= end || (is_solid(a, x) && (waits || a->is[x] == COMING)))
                continue;
            a->from[x] = end;
            if (is_solid(a, x) && a->to[x] <= end)
                a->to[x] = end + 1;
            more = true;
        }
    }
}

static bool is_being_put_on(const actual *a, uint32_t j)
{
    return a->p->job[j].kind == BP_OP_LOAD && is_solid(a, j) && a->is[j] == OPEN &&
           lead_of(a, j) == j;
}

/* A cook who has begun to put on two things ends one after the other: what is then on for the same time
 * would have to come off in the same minute, too. */
static void end_one_by_one(actual *a)
{
    for (bool more = true; more;) {
        more = false;
        for (uint32_t i = 0; i < a->n; i++)
            for (uint32_t j = 0; j < a->n && is_being_put_on(a, i); j++)
                if (j != i && is_being_put_on(a, j) && a->to[i] == a->to[j] &&
                    bpi_schedule_way(a->p, a->s, i)->cook ==
                        bpi_schedule_way(a->p, a->s, j)->cook &&
                    (a->from[i] < a->from[j] || (a->from[i] == a->from[j] && i < j))) {
                    a->to[j]++;
                    more = true;
                }
    }
}

static void put_in_order(actual *a)
{
    follow(a, false);
    for (uint32_t i = 0; i < a->d->lags; i++) { /* what meets the next goes on until then */
        const bp_eng_lag *l = &a->d->lag[i];
        uint32_t x = touches(l) ? lead_of(a, l->to) : 0, y = touches(l) ? lead_of(a, l->from) : 0;
        if (touches(l) && is_solid(a, x) && a->is[x] != COMING && !is_solid(a, y) &&
            a->p->job[y].kind == BP_OP_LOAD && a->from[y] < a->from[x])
            a->from[x] = a->from[y]; /* put on in passing, as soon as the step before it was over */
        if (touches(l) && is_solid(a, x) && is_solid(a, y) && a->is[x] != COMING &&
            a->to[y] < a->from[x])
            a->to[y] = a->from[x];
    }
    for (uint32_t j = 0; j < a->n; j++) {
        if (!is_solid(a, j) || a->is[j] == COMING || a->p->job[j].kind == BP_OP_STAND_BY)
            continue;
        int32_t past = a->is[j] == ENDED ? a->to[j] : a->from[j] + 1;
        a->d->now = past > a->d->now ? past : a->d->now;
    }
    for (uint32_t j = 0; j < a->n; j++)
        if (a->p->job[j].kind == BP_OP_STAND_BY) {
            continue; /* it has its time whatever else is late */
        } else if (is_solid(a, j) && a->is[j] == OPEN && a->to[j] <= a->d->now) {
            a->to[j] = a->d->now + 1; /* nobody said that it is done */
        } else if (is_solid(a, j) && a->is[j] == COMING && a->from[j] < a->d->now) {
            a->to[j] += a->d->now - a->from[j];
            a->from[j] = a->d->now;
        }
    end_one_by_one(a);
}

static uint32_t next_of(const actual *a, uint32_t j)
{
    for (uint32_t i = 0; i < a->d->lags; i++)
        if (a->d->lag[i].from == j && touches(&a->d->lag[i]))
            return lead_of(a, a->d->lag[i].to);
    return BPI_NO_INDEX;
}

/* Waits last from what has ended to what comes next; what is left out between lies at their end. */
static void fill_gaps(actual *a)
{
    for (uint32_t j = 0; j < a->n; j++) { /* on the set until it is needed, or not at all */
        bool stays = a->p->job[j].kind == BP_OP_SET && a->to[j] > a->from[j];
        if (!is_solid(a, j) && !stays)
            a->to[j] = a->from[j];
    }
    for (uint32_t j = 0; j < a->n; j++) {
        if (a->p->job[j].kind != BP_OP_WAIT || bpi_schedule_way(a->p, a->s, j)->out)
            continue;
        uint32_t next = next_of(a, j);
        while (next != BPI_NO_INDEX && !is_solid(a, next))
            next = next_of(a, next);
        int32_t to =
            next == BPI_NO_INDEX || a->from[next] < a->from[j] ? a->from[j] : a->from[next];
        for (uint32_t x = j; x != next; x = next_of(a, x)) {
            a->to[x] = to;
            if (x != j)
                a->from[x] = to;
        }
    }
}

/* ---- all of it ------------------------------------------------------------------------------- */

static bp_code keep(actual *a, bp_errors *errs)
{
    bpi_schedule *s = BPI_TAKE(a->d->a, 1, bpi_schedule);
    if (!s)
        return bpi_error_no_memory(errs);
    *s = *a->s;
    s->start = a->from;
    s->length = a->to;
    for (uint32_t j = 0; j < a->n; j++) {
        uint32_t lead = lead_of(a, j);
        if (lead != j) { /* its own end is not yet a length where it comes first */
            s->start[j] = s->start[lead];
            s->length[j] = lead < j ? s->start[lead] + s->length[lead] : s->length[lead];
        }
        s->length[j] -= s->start[j];
    }
    a->d->schedule = s;
    return BP_OK;
}

bp_code bpi_actual_take(bpi_day *d, bp_kitchen *kitchen, const uint32_t *op_of, bp_errors *errs)
{
    actual a = {.d = d, .p = d->prep, .s = d->schedule, .op_of = op_of};
    a.n = a.p->problem.activities;
    a.from = BPI_TAKE(d->a, a.n, int32_t);
    a.to = BPI_TAKE(d->a, a.n, int32_t);
    a.is = BPI_TAKE(d->a, a.n, status);
    a.limit = BPI_TAKE(d->a, a.n, int32_t);
    if (!a.from || !a.to || !a.is || !a.limit)
        return bpi_error_no_memory(errs);
    bp_kitchen_view v;
    bp_kitchen_look(&v, kitchen, a.p->zero + (int64_t)d->now * 60);
    a.v = &v;
    for (uint32_t j = 0; j < a.n; j++) {
        a.from[j] = a.s->start[j];
        a.to[j] = a.s->start[j] + a.s->length[j];
        if (is_solid(&a, j))
            take_task(&a, j);
    }
    for (uint32_t i = 0; i < d->lags; i++) {
        const bp_eng_lag *l = &d->lag[i];
        if (touches(l) && !is_solid(&a, l->to))
            a.from[l->to] = INT32_MIN; /* until what comes before has ended */
    }
    pair_help(&a);
    find_limits(&a);
    infer(&a);
    pair_help(&a);
    put_in_order(&a);
    /* What was put off until now puts off what waits after it: a wait that stayed behind would have begun,
     * and what it follows would not. */
    follow(&a, true);
    fill_gaps(&a);
    return keep(&a, errs);
}

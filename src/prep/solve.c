#include "prep/solve.h"

#include <string.h>

/* Moves are tried on a problem without objective, so that only what must hold is asked. */
typedef struct trial {
    const bpi_prep *p;
    bpi_schedule *s;
    bp_eng_problem bare;
    bp_eng_solution now; /* lends the arrays of s */
} trial;

static bool holds(const trial *t)
{
    char why[200];
    return bp_eng_verify(&t->bare, &t->now, NULL, why, sizeof why);
}

static const bp_eng_option *option_of(const bpi_prep *p, uint32_t j, uint32_t k)
{
    return &p->problem.option[p->problem.activity[j].option0 + k];
}

const bpi_way *bpi_schedule_way(const bpi_prep *p, const bpi_schedule *s, uint32_t j)
{
    return &p->way[p->problem.activity[j].option0 + s->option[j]];
}

int64_t bpi_schedule_from(const bpi_prep *p, const bpi_schedule *s, uint32_t j)
{
    return p->zero + (int64_t)s->start[j] * 60;
}

int64_t bpi_schedule_to(const bpi_prep *p, const bpi_schedule *s, uint32_t j)
{
    return p->zero + ((int64_t)s->start[j] + s->length[j]) * 60;
}

bool bpi_schedule_out(const bpi_prep *p, const bpi_schedule *s, uint32_t j)
{
    return s->length[j] == 0 || bpi_schedule_way(p, s, j)->out;
}

/* Perishable food goes where it keeps longest, other food stays on the counter if that does. */
static int64_t liking(const bpi_prep *p, uint32_t j, uint32_t k)
{
    const bpi_job *job = &p->job[j];
    const bpi_way *way = &p->way[p->problem.activity[j].option0 + k];
    bool perishable =
        job->step != BPI_NO_INDEX && p->show->recipe[job->recipe].step[job->step].perishable;
    if (!perishable && way->keep == BPI_COUNTER)
        return INT64_MAX;
    return option_of(p, j, k)->most;
}

static void better_places(trial *t)
{
    bpi_schedule *s = t->s;
    for (uint32_t j = 0; j < t->bare.activities; j++) {
        if (t->p->job[j].kind != BP_OP_WAIT || bpi_schedule_lead(t->p, s, j) != j)
            continue;
        for (uint32_t k = 0; k < t->bare.activity[j].options; k++) {
            uint32_t was = s->option[j];
            if (t->p->way[t->bare.activity[j].option0 + k].with ||
                liking(t->p, j, k) <= liking(t->p, j, was) ||
                option_of(t->p, j, k)->most < s->length[j])
                continue;
            s->option[j] = k;
            if (!holds(t))
                s->option[j] = was;
        }
    }
}

/* Would the call of a cook, and the end of their work where that is a goal, stay what they are
 * whether job j of that length is done at `start` in this shift or not at all? */
static bool within_shift(const trial *t, uint32_t j, const bpi_way *way, int32_t start)
{
    int32_t first = INT32_MAX, last = INT32_MIN;
    for (uint32_t i = 0; i < t->bare.activities; i++) {
        const bpi_way *w = bpi_schedule_way(t->p, t->s, i);
        if (i == j || w->cook != way->cook || w->shift != way->shift || t->s->length[i] == 0)
            continue;
        int32_t end = t->s->start[i] + t->s->length[i];
        first = t->s->start[i] < first ? t->s->start[i] : first;
        last = end > last ? end : last;
    }
    bool on_the_day = t->p->show->kitchen.cook[way->cook].shift[way->shift].wrap > 0;
    return first <= start && (on_the_day || start + t->s->length[j] <= last);
}

static bool switches_on(const trial *t, uint32_t j)
{
    bp_op_kind kind = t->p->job[j].kind;
    return (kind == BP_OP_PREHEAT || kind == BP_OP_WARM_UP) && !bpi_schedule_out(t->p, t->s, j);
}

/* Nobody switches on an oven that is on: a preheat goes where the load it is for may follow another;
 * and no place where nothing will stand. True where one went, and with it perhaps a minute of
 * somebody's time. */
static bool spare_preheats(trial *t)
{
    bpi_schedule *s = t->s;
    bool any = false;
    for (uint32_t j = 0; j < t->bare.activities; j++) {
        uint32_t was = s->option[j];
        int32_t length = s->length[j];
        if (!switches_on(t, j))
            continue;
        bool spare = false;
        s->start[j] += length; /* its end, which the load is held to, stays where it is */
        s->length[j] = 0;
        for (uint32_t k = 0; k < t->bare.activity[j].options && !spare; k++) {
            s->option[j] = k;
            spare = bpi_schedule_way(t->p, s, j)->out && holds(t);
        }
        any |= spare;
        if (!spare) {
            s->start[j] -= length;
            s->option[j] = was;
            s->length[j] = length;
        }
    }
    return any;
}

/* Is no goal worse than before? On a day that is mended a job that goes counts as moved. */
static bool no_worse(const trial *t)
{
    const bp_eng_problem *q = &t->p->problem;
    bp_eng_solution now = t->now;
    bp_eng_value(q, &now);
    for (uint32_t l = 0; l < q->levels; l++)
        if (now.value[l] != t->s->value[l])
            return now.value[l] < t->s->value[l];
    return true;
}

/* Does nothing but washing start after job j? */
static bool is_last(const trial *t, uint32_t j)
{
    for (uint32_t i = 0; i < t->bare.activities; i++)
        if (t->p->job[i].kind != BP_OP_WASH && t->p->job[i].kind != BP_OP_DIRTY &&
            !bpi_schedule_out(t->p, t->s, i) && t->s->start[i] > t->s->start[j])
            return false;
    return true;
}

/* No vessel is washed that nobody uses again: it stands dirty to the end. True where one is not. */
static bool spare_washes(trial *t)
{
    bpi_schedule *s = t->s;
    bool any = false;
    for (uint32_t j = 1; j < t->bare.activities; j++) {
        uint32_t was = s->option[j], never = 0;
        int32_t start = s->start[j], length = s->length[j], stood = s->length[j - 1];
        if (t->p->job[j].kind != BP_OP_WASH || bpi_schedule_out(t->p, s, j))
            continue;
        bool last = is_last(t, j);
        while (t->p->way[t->bare.activity[j].option0 + never + 1].out)
            never++;
        s->option[j] = never;
        s->start[j] = t->bare.horizon;
        s->length[j] = 0;
        s->length[j - 1] = t->bare.horizon - s->start[j - 1]; /* the job before: it stands dirty */
        if (holds(t) && (last || no_worse(t))) {
            any = true;
            continue;
        }
        s->option[j] = was;
        s->start[j] = start;
        s->length[j] = length;
        s->length[j - 1] = stood;
    }
    return any;
}

#define MOST_TRIES 240 /* min before the bake that are looked at for each cook */

/* When the load of a preheat is in, or the first thing stands in the place that is switched on. */
static int32_t wanted_from(const trial *t, uint32_t j)
{
    if (t->p->job[j].kind == BP_OP_PREHEAT)
        return t->s->start[t->p->job[j].number];
    int32_t first = t->bare.horizon;
    for (uint32_t i = 0; i < t->bare.activities; i++)
        if (bpi_is_warmed(t->p, &t->p->job[j], bpi_schedule_way(t->p, t->s, i)) &&
            t->s->start[i] < first)
            first = t->s->start[i];
    return first;
}

/* By whoever is there: an oven is not to be on all night because somebody was free in the evening.
 * Not where a call would change by it, for that is a goal. */
static void late_preheats(trial *t)
{
    bpi_schedule *s = t->s;
    for (uint32_t j = 0; j < t->bare.activities; j++) {
        uint32_t who = s->option[j];
        int32_t at = s->start[j];
        if (!switches_on(t, j) || !within_shift(t, j, bpi_schedule_way(t->p, s, j), at))
            continue;
        int32_t bake = wanted_from(t, j);
        for (uint32_t k = 0; k < t->bare.activity[j].options; k++) {
            const bpi_way *way = &t->p->way[t->bare.activity[j].option0 + k];
            s->option[j] = k;
            for (int32_t n = 0; n < MOST_TRIES && !way->out && bake - n > at; n++) {
                s->start[j] = bake - n;
                if (within_shift(t, j, way, bake - n) && holds(t)) {
                    who = k;
                    at = bake - n;
                }
            }
        }
        s->option[j] = who;
        s->start[j] = at;
    }
}

/* ---- what is one job for several ---------------------------------------------------------- */

uint32_t bpi_schedule_lead(const bpi_prep *p, const bpi_schedule *s, uint32_t j)
{
    uint32_t with = bpi_schedule_way(p, s, j)->with;
    return with ? with - 1 : j;
}

/* Each job gets the containers of those that are part of it, by number. */
static const bpi_prep *share(bpi_arena *a, const bpi_prep *p, const bpi_schedule *s)
{
    uint32_t n = p->problem.activities, serves = 0, used = 0;
    for (uint32_t j = 0; j < n; j++)
        serves += p->job[j].serves;
    bpi_prep *shared = BPI_TAKE(a, 1, bpi_prep);
    bpi_job *job = BPI_TAKE(a, n, bpi_job);
    uint32_t *serve = BPI_TAKE(a, 2 * (size_t)serves, uint32_t); /* of the part, and of the whole */
    if (!shared || !job || !serve)
        return NULL;
    for (uint32_t j = 0; j < n; j++) {
        job[j] = p->job[j];
        job[j].serve0 = used;
        job[j].serves = 0;
        for (uint32_t i = 0; i < n; i++)
            for (uint32_t k = 0;
                 (i == j || bpi_schedule_lead(p, s, i) == j) && k < p->job[i].serves; k++) {
                uint32_t box = p->serve[p->job[i].serve0 + k], at = used + job[j].serves++;
                for (; at > used && serve[at - 1] > box; at--)
                    serve[at] = serve[at - 1];
                serve[at] = box;
            }
        used += job[j].serves;
    }
    *shared = *p;
    shared->job = job;
    shared->serve = serve;
    return shared;
}

/* ---- the latest start -------------------------------------------------------------------- */

/* Jobs that touch: `a` ends where `b` starts, always. */
static bool touches(const bp_eng_lag *l)
{
    return l->from_end == BP_ENG_END && l->to_end == BP_ENG_START && l->least == 0 &&
           l->fact == 0 && l->from != BP_ENG_ORIGIN && l->to != BP_ENG_ORIGIN;
}

static bool gives_way(const bpi_job *job)
{
    return job->kind == BP_OP_WAIT || job->kind == BP_OP_SET || job->kind == BP_OP_DIRTY;
}

/* Those that are part of what moves go with it, and so do who helps and what they help with. */
static bool take_along(const trial *t, bool *moved)
{
    bool any = false;
    for (uint32_t i = 0; i < t->bare.activities; i++) {
        const bpi_job *job = &t->p->job[i];
        if (!moved[i] && !gives_way(job) && moved[bpi_schedule_lead(t->p, t->s, i)])
            any = moved[i] = true;
        if (job->kind == BP_OP_HELP && moved[i] != moved[job->number])
            any = moved[i] = moved[job->number] = true;
    }
    return any;
}

/* A vessel stands dirty from where the wait before it now ends. */
static void follow_waits(trial *t)
{
    bpi_schedule *s = t->s;
    for (uint32_t i = 0; i < t->bare.lags; i++) {
        const bp_eng_lag *l = &t->bare.lag[i];
        if (!touches(l) || t->p->job[l->to].kind != BP_OP_DIRTY)
            continue;
        int32_t from = s->start[l->from] + s->length[l->from];
        bool out = bpi_schedule_out(t->p, s, l->to);
        if (!out)
            s->length[l->to] -= from - s->start[l->to];
        s->start[l->to] = from;
        if (out && bpi_schedule_out(t->p, s, l->to + 1)) /* nothing is washed there either */
            s->start[l->to + 1] = from;
    }
}

/* Moves job j, and what is fixed to its end, by one minute. `moved` marks those that move. */
static void push(trial *t, uint32_t j, bool *moved, int32_t by)
{
    bpi_schedule *s = t->s;
    memset(moved, 0, t->bare.activities * sizeof *moved);
    moved[j] = true;
    for (bool more = true; more;) {
        more = take_along(t, moved);
        for (uint32_t i = 0; i < t->bare.lags; i++) {
            const bp_eng_lag *l = &t->bare.lag[i];
            if (touches(l) && moved[l->from] && !moved[l->to] && !gives_way(&t->p->job[l->to])) {
                bool take_off = t->p->job[l->from].loads || t->p->job[l->to].loads;
                if (take_off && !gives_way(&t->p->job[l->from]))
                    more = moved[l->to] = true;
            }
        }
    }
    for (uint32_t i = 0; i < t->bare.activities; i++)
        if (moved[i])
            s->start[i] += by;
    for (uint32_t i = 0; i < t->bare.lags; i++) {
        const bp_eng_lag *l = &t->bare.lag[i];
        if (!touches(l))
            continue;
        bool before = moved[l->to] && !moved[l->from], after = moved[l->from] && !moved[l->to];
        if (before && (gives_way(&t->p->job[l->from]) || t->p->job[l->from].takes_off))
            s->length[l->from] += by;
        if (after && gives_way(&t->p->job[l->to]) && t->p->job[l->to].kind != BP_OP_DIRTY) {
            s->start[l->to] += by;
            s->length[l->to] -= by;
        }
    }
    follow_waits(t);
}

#define MOST_SLACK 120 /* min: more than that, nobody asks */

static bool lengths_ok(const trial *t)
{
    for (uint32_t i = 0; i < t->bare.activities; i++)
        if (t->s->length[i] < 0)
            return false;
    return true;
}

static void latest_starts(trial *t, bool *moved)
{
    bpi_schedule *s = t->s;
    for (uint32_t j = 0; j < t->bare.activities; j++) {
        int32_t was = s->start[j], by = 0;
        s->latest[j] = was;
        if (gives_way(&t->p->job[j]) || bpi_schedule_out(t->p, s, j))
            continue;
        do {
            by++;
            push(t, j, moved, 1);
        } while (by <= MOST_SLACK && lengths_ok(t) && holds(t));
        push(t, j, moved, -by);
        s->latest[j] = was + by - 1;
    }
}

/* ---- places by name ---------------------------------------------------------------------- */

static bool stays_somewhere(const bpi_prep *p, const bpi_schedule *s, uint32_t j)
{
    return (p->job[j].kind == BP_OP_WAIT || p->job[j].kind == BP_OP_PASSIVE) && s->length[j] > 0 &&
           bpi_schedule_way(p, s, j)->keep >= 0;
}

static bool has_room(const bpi_prep *p, const bpi_schedule *s, uint32_t j, uint32_t place)
{
    uint32_t there = 0;
    for (uint32_t i = 0; i < p->problem.activities; i++)
        if (i != j && s->place[i] == place && s->start[i] < s->start[j] + s->length[j] &&
            s->start[j] < s->start[i] + s->length[i])
            there++;
    return there < p->show->kitchen.place[place].count;
}

static uint32_t place_before(const bpi_prep *p, const bpi_schedule *s, uint32_t j)
{
    for (uint32_t i = 0; i < p->problem.activities; i++)
        if (s->place[i] != BPI_NO_INDEX && s->start[i] + s->length[i] == s->start[j] &&
            p->job[i].serves == p->job[j].serves &&
            p->serve[p->job[i].serve0] == p->serve[p->job[j].serve0])
            return s->place[i];
    return BPI_NO_INDEX;
}

/* By start: then whoever came before and is still there is all that matters, and since all rooms of
 * a kind were enough there is one in some place. */
static void name_places(const bpi_prep *p, bpi_schedule *s, uint32_t *order)
{
    uint32_t n = 0;
    for (uint32_t j = 0; j < p->problem.activities; j++) {
        s->place[j] = BPI_NO_INDEX;
        if (!stays_somewhere(p, s, j))
            continue;
        uint32_t at = n++;
        while (at > 0 && s->start[order[at - 1]] > s->start[j]) {
            order[at] = order[at - 1];
            at--;
        }
        order[at] = j;
    }
    for (uint32_t i = 0; i < n; i++) {
        uint32_t j = order[i], before = place_before(p, s, j);
        int32_t keep = bpi_schedule_way(p, s, j)->keep;
        if (bpi_schedule_way(p, s, j)->place) {
            s->place[j] = bpi_schedule_way(p, s, j)->place - 1;
            continue;
        }
        if (before != BPI_NO_INDEX && (int32_t)p->show->kitchen.place[before].keep == keep &&
            has_room(p, s, j, before)) {
            s->place[j] = before;
            continue;
        }
        uint32_t first = BPI_NO_INDEX; /* for a day that had more there than there is room for */
        for (uint32_t k = 0; k < p->show->kitchen.places && s->place[j] == BPI_NO_INDEX; k++) {
            if ((int32_t)p->show->kitchen.place[k].keep != keep)
                continue;
            first = first == BPI_NO_INDEX ? k : first;
            if (has_room(p, s, j, k))
                s->place[j] = k;
        }
        if (s->place[j] == BPI_NO_INDEX)
            s->place[j] = first;
    }
}

/* ---- all of it --------------------------------------------------------------------------- */

static bp_code keep_solution(bpi_schedule *s, bpi_arena *a, const bp_eng_solution *found,
                             bp_errors *errs)
{
    uint32_t n = found->activities;
    s->start = BPI_TAKE(a, n, int32_t);
    s->length = BPI_TAKE(a, n, int32_t);
    s->option = BPI_TAKE(a, n, uint32_t);
    s->latest = BPI_TAKE(a, n, int32_t);
    s->place = BPI_TAKE(a, n, uint32_t);
    if (!s->start || !s->length || !s->option || !s->latest || !s->place)
        return bpi_error_no_memory(errs);
    memcpy(s->start, found->start, n * sizeof *s->start);
    memcpy(s->length, found->length, n * sizeof *s->length);
    memcpy(s->option, found->option, n * sizeof *s->option);
    memcpy(s->value, found->value, sizeof s->value);
    memcpy(s->bound, found->bound, sizeof s->bound);
    s->proved = found->proved;
    return BP_OK;
}

static bp_code settle(bpi_schedule *s, bpi_arena *a, const bpi_prep *p, bp_errors *errs)
{
    uint32_t n = p->problem.activities;
    trial t = {.p = p, .s = s, .bare = p->problem};
    t.bare.terms = 0;
    t.bare.levels = 0;
    t.now = (bp_eng_solution){.status = BP_ENG_FEASIBLE,
                              .activities = n,
                              .start = s->start,
                              .length = s->length,
                              .option = s->option};
    bool *moved = BPI_TAKE(a, n, bool);
    uint32_t *order = BPI_TAKE(a, n, uint32_t);
    if (!moved || !order)
        return bpi_error_no_memory(errs);
    if (!holds(&t))
        return bpi_error_add(errs, BP_EINTERNAL, BPI_NOWHERE, "the schedule found does not hold",
                             "");
    better_places(&t);
    bool spared = spare_washes(&t);
    if (spare_preheats(&t) || spared) {
        bp_eng_value(&p->problem, &t.now);
        memcpy(s->value, t.now.value, sizeof s->value);
        for (uint32_t l = s->proved;
             l-- > 0;) /* it may be worse, without what only seemed better */
            if (s->value[l] != s->bound[l]) {
                s->proved = l;
                s->status = BP_ENG_FEASIBLE;
            }
    }
    late_preheats(&t);
    latest_starts(&t, moved);
    name_places(p, s, order);
    s->prep = share(a, p, s);
    return s->prep ? BP_OK : bpi_error_no_memory(errs);
}

bp_code bpi_solve(bpi_schedule **out, bpi_arena *a, const bpi_prep *p, const bp_eng_limits *limits,
                  bp_errors *errs)
{
    *out = NULL;
    bpi_schedule *s = BPI_TAKE(a, 1, bpi_schedule);
    if (!s)
        return bpi_error_no_memory(errs);
    bp_eng_limits most = *limits;
    if (!most.work) {
        most.work = BPI_SOLVE_FIRST;
        most.better = BPI_SOLVE_BETTER;
    }
    bp_eng_solution *found = NULL;
    bp_code rc = bp_eng_solve(&found, &p->problem, &most, errs);
    if (rc != BP_OK)
        return rc == BP_EVALUE ? BP_EINTERNAL : rc;
    s->work = found->work;
    s->status = found->status;
    bool any = found->start != NULL;
    if (any)
        rc = keep_solution(s, a, found, errs);
    bp_eng_solution_free(found);
    if (rc == BP_OK && any)
        rc = settle(s, a, p, errs);
    if (rc == BP_OK)
        *out = s;
    return rc;
}

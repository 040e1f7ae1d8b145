#include "day/bind.h"

#include <string.h>

#include "day/late.h"
#include "day/past.h"

/* ---- rows ------------------------------------------------------------------------------------ */

void bpi_binding_lag(bpi_binding *b, uint32_t from, bp_eng_end from_end, uint32_t to,
                     bp_eng_end to_end, int32_t least)
{
    b->lag[b->q.lags++] = (bp_eng_lag){.from = from,
                                       .to = to,
                                       .from_end = from_end,
                                       .to_end = to_end,
                                       .least = least,
                                       .if_act = BP_ENG_NONE};
}

static void not_before(bpi_binding *b, uint32_t j, bp_eng_end end, int32_t t)
{
    bpi_binding_lag(b, BP_ENG_ORIGIN, BP_ENG_START, j, end, t);
}

static void exactly(bpi_binding *b, uint32_t j, bp_eng_end end, int32_t t)
{
    not_before(b, j, end, t);
    bpi_binding_lag(b, j, end, BP_ENG_ORIGIN, BP_ENG_START, -t);
}

static void choose(bpi_binding *b, uint32_t j, uint32_t option)
{
    b->literal[b->q.literals] = (bp_eng_literal){j, option, false};
    b->clause[b->q.clauses++] = (bp_eng_clause){b->q.literals++, 1, 0};
}

static bool is_lost(const bpi_binding *b, uint32_t j)
{
    return bpi_match_lost(b->p, b->d, j);
}

static const struct bpi_longer *told(const bpi_binding *b, uint32_t j)
{
    const bpi_job *job = &b->p->job[j];
    /* Who helps with all of it stays as long. */
    bool step =
        bpi_day_is_step(job->kind) ||
        (job->kind == BP_OP_HELP && b->p->show->recipe[job->recipe].step[job->step].help_time == 0);
    for (uint32_t i = 0; i < b->d->longers && step; i++)
        if (job->step == b->d->longer[i].step && bpi_day_serves(b->p, j, b->d->longer[i].container))
            return &b->d->longer[i];
    return NULL;
}

static bool stretches(bp_op_kind k)
{
    return k == BP_OP_WAIT || k == BP_OP_SET || k == BP_OP_PASSIVE || k == BP_OP_OVEN ||
           k == BP_OP_DIRTY;
}

/* Only these options are numbered as they were: in a row, and after one, there may be fewer. */
static bool is_joint(const bpi_binding *b, uint32_t j)
{
    const bpi_job *job = &b->p->job[j];
    const bpi_recipe *r = job->step == BPI_NO_INDEX ? NULL : &b->p->show->recipe[job->recipe];
    return r && r->step[job->step].together;
}

static bool same_way(const bpi_way *a, const bpi_way *b)
{
    return !a->with && !b->with && a->cook == b->cook && a->shift == b->shift &&
           a->oven == b->oven && a->keep == b->keep && a->place == b->place && a->day == b->day &&
           a->out == b->out;
}

/* Is option o of job j what was chosen: part of the batch, or its work by the same hands? */
static bool as_was(const bpi_binding *b, uint32_t j, uint32_t o, bool part)
{
    const bpi_prep *old = b->d->prep;
    const bpi_way *way = &b->p->way[b->q.activity[j].option0 + o];
    if (!is_joint(b, j))
        return o == b->d->schedule->option[b->was[j]];
    if (part)
        return way->with == b->match->lead[j] + 1;
    uint32_t lead = bpi_schedule_lead(old, b->d->schedule, b->was[j]);
    return same_way(way, bpi_schedule_way(old, b->d->schedule, lead));
}

/* A batch that its last step has divided waits as several. */
static bool can_be_part(const bpi_binding *b, uint32_t j)
{
    for (uint32_t o = 0; o < b->q.activity[j].options && b->match->lead[j] != j; o++)
        if (as_was(b, j, o, true))
            return true;
    return false;
}

/* A job that had begun: as it was, its end too unless it may still stretch. */
static void freeze(bpi_binding *b, uint32_t j)
{
    const bpi_schedule *s = b->d->schedule;
    uint32_t k = b->was[j];
    int32_t from = s->start[k], to = from + s->length[k], now = b->d->now;
    const struct bpi_longer *longer = told(b, j);
    bool open = !longer && stretches(b->p->job[j].kind) && to >= now;
    bool part = can_be_part(b, j);
    if (longer)
        to = (int32_t)((longer->to - b->p->zero) / 60);
    exactly(b, j, BP_ENG_START, from);
    if (open)
        not_before(b, j, BP_ENG_END, now);
    b->from[j] = from;
    b->to[j] = to;
    b->open[j] = open;
    bp_eng_clause chosen = {b->q.literals, 0, 0};
    for (uint32_t i = 0; i < b->q.activity[j].options; i++) {
        bp_eng_option *o = &b->option[b->q.activity[j].option0 + i];
        if (!as_was(b, j, i, part))
            continue;
        b->literal[b->q.literals++] = (bp_eng_literal){j, i, false};
        chosen.literals++;
        b->chosen[j] = i;
        if (open && b->late && b->d->ticked && from + o->most <= b->q.horizon) {
            bpi_late_run_over(b, j, o, from);
        } else if (!open) {
            o->least = o->most = to - from;
            o->fact = 0;
        } else if (b->late && o->most < now - from)
            o->most = now - from; /* only a plan that may be late has it on so long */
    }
    b->clause[b->q.clauses++] = chosen;
}

/* Operations that people see move. */
static bool counts(bp_op_kind k)
{
    return k != BP_OP_WAIT && k != BP_OP_SET && k != BP_OP_DIRTY;
}

/* It counts when it starts at another time, and when another cook does it. */
static void stay(bpi_binding *b, uint32_t j, uint32_t k)
{
    const bpi_schedule *s = b->d->schedule;
    const bp_eng_activity *a = &b->q.activity[j];
    uint32_t cook = bpi_schedule_way(b->d->prep, s, k)->cook;
    b->term[b->q.terms++] =
        (bp_eng_term){.kind = BP_ENG_MOVED, .a = j, .at = s->start[k], .weight = 1};
    for (uint32_t o = 0; o < a->options && cook != BPI_NO_INDEX; o++) {
        const bpi_way *way = &b->p->way[a->option0 + o];
        if (!way->out && way->cook != cook)
            b->term[b->q.terms++] =
                (bp_eng_term){.kind = BP_ENG_TAKES, .a = j, .b = o, .weight = 1};
    }
}

/* An oven that need not be switched on once more, and a batch that need not be split, is better
 * left. */
static void leave_out(bpi_binding *b, uint32_t j)
{
    const bp_eng_activity *a = &b->q.activity[j];
    for (uint32_t o = 0; o < a->options; o++)
        if (!b->p->way[a->option0 + o].out)
            b->term[b->q.terms++] =
                (bp_eng_term){.kind = BP_ENG_TAKES, .a = j, .b = o, .weight = 1};
}

/* Nothing of it counts: it is for a lost container, or heated an oven that is dead. */
static bool in_vain(const bpi_binding *b, uint32_t j)
{
    const bpi_job *job = &b->p->job[j];
    if (job->kind != BP_OP_PREHEAT)
        return is_lost(b, j);
    uint32_t bake = b->was[job->number];
    if (is_lost(b, job->number) || bake == BPI_NO_INDEX)
        return true;
    /* The part of a batch is in no oven itself. */
    uint32_t oven = bpi_schedule_way(b->d->prep, b->d->schedule, bake)->oven;
    return oven != BPI_NO_INDEX && b->d->dead[oven] != BP_NO_TIME &&
           bpi_day_to(b->d, bake) > b->d->now;
}

static void never(bpi_binding *b, uint32_t j, uint32_t option)
{
    b->literal[b->q.literals] = (bp_eng_literal){j, option, true};
    b->clause[b->q.clauses++] = (bp_eng_clause){b->q.literals++, 1, 0};
}

/* Switched on from now on, if at all; left out, its moment says nothing. */
static void on_from_now(bpi_binding *b, uint32_t j)
{
    const bp_eng_activity *a = &b->q.activity[j];
    for (uint32_t o = 0; o < a->options; o++)
        if (!b->p->way[a->option0 + o].out) {
            not_before(b, j, BP_ENG_START, b->d->now);
            b->lag[b->q.lags - 1].if_act = j;
            b->lag[b->q.lags - 1].if_opt = o;
        }
}

/* An oven, or a place: left out, it says nothing of its moment. */
static bool switches_on(const bpi_binding *b, uint32_t j)
{
    return b->p->job[j].kind == BP_OP_PREHEAT || b->p->job[j].kind == BP_OP_WARM_UP;
}

/* Did another load, that had no preheat of its own either, go in before it? */
static bool goes_second(const bpi_binding *b, uint32_t bake, uint32_t oven)
{
    const bpi_day *d = b->d;
    for (uint32_t i = 0; i < b->q.activities; i++) {
        uint32_t k = b->was[i];
        if (b->p->job[i].kind == BP_OP_PREHEAT && k != BPI_NO_INDEX &&
            bpi_schedule_out(d->prep, d->schedule, k) && !is_lost(b, b->p->job[i].number)) {
            uint32_t other = b->was[b->p->job[i].number];
            if (bpi_schedule_way(d->prep, d->schedule, other)->oven == oven &&
                (bpi_day_from(d, other) < bpi_day_from(d, bake) ||
                 (bpi_day_from(d, other) == bpi_day_from(d, bake) && other < bake)))
                return true;
        }
    }
    return false;
}

static bool is_taken(const bpi_binding *b, uint32_t heat)
{
    for (uint32_t j = 0; j < b->q.activities; j++)
        if (b->heat[j] == heat)
            return true;
    return false;
}

/* The oven was on for a load that is lost, and what went in after it bakes on: the switching on is
 * now owed to that. A load that had begun has no other preheat. */
static void inherit(bpi_binding *b, uint32_t j)
{
    const bpi_day *d = b->d;
    const bp_eng_activity *a = &b->q.activity[j];
    uint32_t bake = b->was[b->p->job[j].number];
    uint32_t oven = bpi_schedule_way(d->prep, d->schedule, bake)->oven;
    bool second = goes_second(b, bake, oven);
    for (uint32_t i = 0; i < b->q.activities && !second; i++) {
        uint32_t k = b->was[i];
        if (b->p->job[i].kind != BP_OP_PREHEAT || k == BPI_NO_INDEX || !in_vain(b, i) ||
            bpi_schedule_out(d->prep, d->schedule, k) || bpi_day_to(d, k) > bpi_day_from(d, bake) ||
            bpi_schedule_way(d->prep, d->schedule, b->was[b->p->job[i].number])->oven != oven ||
            is_taken(b, k))
            continue;
        b->heat[j] = k;
        b->hint[j] = bpi_day_from(d, k);
        exactly(b, j, BP_ENG_START, bpi_day_from(d, k));
        choose(b, j, d->schedule->option[k]);
        return;
    }
    for (uint32_t o = 0; o < a->options; o++)
        if (!b->p->way[a->option0 + o].out)
            never(b, j, o);
}

static void bind_job(bpi_binding *b, uint32_t j)
{
    const bpi_day *d = b->d;
    uint32_t k = bpi_match_work(b->match, d, j);
    bool heats = switches_on(b, j), oven = b->p->job[j].kind == BP_OP_PREHEAT;
    bool out = k == BPI_NO_INDEX || bpi_schedule_out(d->prep, d->schedule, k);
    bool begun = k != BPI_NO_INDEX && bpi_day_from(d, k) < d->now && !in_vain(b, j);
    b->hint[j] =
        k == BPI_NO_INDEX || (!begun && bpi_day_from(d, k) < d->now) ? d->now : bpi_day_from(d, k);
    if (begun && oven && !out) { /* what it was switched on for goes into that oven */
        uint32_t bake = b->was[b->p->job[j].number];
        choose(b, b->p->job[j].number, d->schedule->option[bake]);
    }
    if (begun && !(out && heats)) { /* one left out says nothing: its load may not have begun */
        freeze(b, j);
        return;
    }
    if (begun && oven) {
        uint32_t bake = b->was[b->p->job[j].number];
        if (bpi_day_from(d, bake) < d->now && !is_lost(b, b->p->job[j].number))
            inherit(b, j);
        else
            on_from_now(b, j);
    } else if (heats) {
        on_from_now(b, j);
    } else
        not_before(b, j, BP_ENG_START, d->now);
    if (out && (heats || (k != BPI_NO_INDEX && is_joint(b, j))))
        leave_out(b, j);
    else if (!out && counts(b->p->job[j].kind) && bpi_day_from(d, k) >= d->now)
        stay(b, j, k);
}

/* ---- what is not there ----------------------------------------------------------------------- */

static int32_t clamp(const bpi_binding *b, int64_t t, bool up)
{
    int64_t s = t - b->p->zero;
    int32_t at = up ? bpi_minutes_up(s) : bpi_minutes_down(s);
    return at < 0 ? 0 : at > b->q.horizon ? b->q.horizon : at;
}

static void take_away(bpi_binding *b, uint32_t res, int32_t from, int32_t to)
{
    if (from < to)
        b->span[b->q.spans++] = (bp_eng_span){res, from, to, 0, 0};
}

/* Nothing bakes in a dead oven; what is done in it may still be taken out. */
static void bind_ovens(bpi_binding *b)
{
    const bpi_day *d = b->d;
    for (uint32_t j = 0; j < b->q.activities; j++)
        for (uint32_t o = 0; b->p->job[j].kind == BP_OP_OVEN && o < b->q.activity[j].options; o++) {
            uint32_t oven = b->p->way[b->q.activity[j].option0 + o].oven;
            if (oven == BPI_NO_INDEX || d->dead[oven] == BP_NO_TIME)
                continue;
            bpi_binding_lag(b, j, BP_ENG_END, BP_ENG_ORIGIN, BP_ENG_START,
                            -clamp(b, d->dead[oven], true));
            b->lag[b->q.lags - 1].if_act = j;
            b->lag[b->q.lags - 1].if_opt = o;
        }
}

static void bind_resources(bpi_binding *b)
{
    const bpi_day *d = b->d;
    for (uint32_t r = 0; r < b->q.resources; r++) {
        const bpi_res *res = &b->p->res[r];
        b->resource[r].alike = 0; /* their past is not alike */
        for (uint32_t i = 0; i < d->burners && res->kind == BPI_RES_BURNER; i++)
            b->span[b->q.spans++] =
                (bp_eng_span){r, clamp(b, d->burner[i], true), b->q.horizon,
                              (int32_t)(d->prep->show->kitchen.burners - i - 1), 0};
        for (uint32_t i = 0; i < d->aways && res->kind == BPI_RES_SHIFT; i++)
            if (res->a == d->away[i].person)
                take_away(b, r, clamp(b, d->away[i].from, false), clamp(b, d->away[i].to, true));
    }
}

/* Lateness first where there is any, then what has moved, then the rest. */
static void bind_levels(bpi_binding *b, uint32_t terms, bool late)
{
    uint32_t moved = late ? 1 : 0;
    for (uint32_t i = 0; i < terms; i++)
        if (b->term[i].level >= moved)
            b->term[i].level++;
    for (uint32_t i = terms; i < b->q.terms; i++)
        b->term[i].level =
            b->term[i].kind == BP_ENG_LATE || b->term[i].kind == BP_ENG_LASTS ? 0 : moved;
    b->q.levels++;
}

/* Its container was lost at some moment of the day. */
static bool is_anew(const bpi_binding *b, uint32_t carry)
{
    return b->d->apart[b->p->serve[b->p->job[carry].serve0]];
}

/* What stands on the set already, and what has to be made anew, is in no order any more: nothing waits for
 * the set to be dressed from its start. */
static void drop_orders(bpi_binding *b, uint32_t lags)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < b->q.lags; i++) {
        const bp_eng_lag *l = &b->lag[i];
        bool order = i < lags && l->fact && b->p->fact[l->fact].kind == BPI_FACT_DRESS;
        if (!order ||
            (b->chosen[l->to] == BPI_NO_INDEX && !is_anew(b, l->from) && !is_anew(b, l->to)))
            b->lag[kept++] = *l;
    }
    b->q.lags = kept;
}

/* ---- all of it ------------------------------------------------------------------------------- */

#define MORE(b, T, list, n, more) ((T *)copy_rows((b)->d->a, (b)->q.list, (n), (more), sizeof(T)))

static void *copy_rows(bpi_arena *a, const void *rows, uint32_t n, uint32_t more, size_t size)
{
    void *copy = bpi_arena_take(a, (size_t)n + more, size);
    if (copy && n)
        memcpy(copy, rows, n * size);
    return copy;
}

bp_code bpi_bind(bpi_prep *p, const bpi_day *d, const bpi_match *match, bool late,
                 const int32_t **hint, bp_errors *errs)
{
    bpi_binding b = {
        .d = d, .p = p, .q = p->problem, .match = match, .was = match->was, .late = late};
    uint32_t n = b.q.activities, terms = b.q.terms, lags = b.q.lags;
    uint32_t rows = b.q.resources * (BPI_DAY_ROWS + 2 + n);
    b.lag = MORE(&b, bp_eng_lag, lag, b.q.lags, 4 * n + 3 * b.q.options);
    b.span = MORE(&b, bp_eng_span, span, b.q.spans, rows);
    b.clause = MORE(&b, bp_eng_clause, clause, b.q.clauses, 2 * n + b.q.options);
    b.literal = MORE(&b, bp_eng_literal, literal, b.q.literals, 2 * n + b.q.options);
    b.option = MORE(&b, bp_eng_option, option, b.q.options, 0);
    b.term = MORE(&b, bp_eng_term, term, terms, 3 * n + 2 * b.q.options);
    b.need = MORE(&b, bp_eng_need, need, b.q.needs, b.q.needs);
    b.resource = MORE(&b, bp_eng_resource, resource, b.q.resources, 0);
    b.hint = BPI_TAKE(d->a, n, int32_t);
    b.heat = BPI_TAKE(d->a, n, uint32_t);
    b.chosen = BPI_TAKE(d->a, n, uint32_t);
    b.from = BPI_TAKE(d->a, n, int32_t);
    b.to = BPI_TAKE(d->a, n, int32_t);
    b.open = BPI_TAKE(d->a, n, bool);
    b.mixed = BPI_TAKE(d->a, n, uint32_t);
    if (!b.lag || !b.span || !b.clause || !b.literal || !b.option || !b.term || !b.resource ||
        !b.need || !b.hint || !b.heat || !b.chosen || !b.from || !b.to || !b.open || !b.mixed)
        return bpi_error_no_memory(errs);
    for (uint32_t j = 0; j < n; j++)
        b.heat[j] = b.chosen[j] = BPI_NO_INDEX;
    for (uint32_t j = 0; j < n; j++)
        bind_job(&b, j);
    if (late)
        bpi_late_allow(&b);
    bind_ovens(&b);
    bind_resources(&b);
    bind_levels(&b, terms, late);
    b.q.option = b.option;
    b.q.need = b.need;
    b.q.resource = b.resource;
    uint32_t added = b.q.lags - lags;
    drop_orders(&b, lags);
    lags = b.q.lags - added;
    if (d->ticked) {
        const bpi_past past = {b.chosen, b.from, b.to, b.open, b.mixed, p->job, p->fact, d->now};
        bpi_past_drop_lags(&b.q, b.lag, lags, &past);
        bpi_past_mix_heats(&b.q, b.option, b.need, &past);
        bpi_past_make_room(&b.q, b.resource, b.span, &past);
    }
    b.q.lag = b.lag;
    b.q.span = b.span;
    b.q.clause = b.clause;
    b.q.literal = b.literal;
    b.q.term = b.term;
    p->problem = b.q;
    *hint = b.hint;
    return BP_OK;
}

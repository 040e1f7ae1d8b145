/* src/plan/ops.c - operations: the jobs of the schedule that take any time.
 *
 * Owns     the list of operations, in the order in which people read them.
 * May use  plan/fill, prep/, base/.
 */
#include <stdlib.h>
#include <string.h>

#include "plan/fill.h"

static const bpi_step *step_of(const bpi_fill *f, const bpi_job *job)
{
    return job->step == BPI_NO_INDEX ? NULL : &f->show->recipe[job->recipe].step[job->step];
}

static void push_tool(bpi_fill *f, bp_slice *uses, const bp_eng_need *need, uint32_t tool)
{
    for (int32_t i = 0; i < need->amount; i++)
        bpi_fill_push(f, uses, f->tool[tool]);
}

/* What it occupies, one entry a piece; vessels and tools first, then where it stands. */
static bp_slice uses_of(bpi_fill *f, uint32_t j)
{
    const bpi_job *job = &f->prep->job[j];
    const bp_eng_problem *q = &f->prep->problem;
    const bp_eng_option *o = &q->option[q->activity[j].option0 + f->schedule->option[j]];
    const bpi_way *way = bpi_schedule_way(f->prep, f->schedule, j);
    bp_slice uses = bpi_fill_begin(f);
    for (uint32_t i = 0; i < o->needs; i++) {
        const bp_eng_need *need = &q->need[o->need0 + i];
        const bpi_res *res = &f->prep->res[need->res];
        if (res->kind == BPI_RES_BURNER)
            bpi_fill_push(f, &uses, f->burner);
        else if (res->kind == BPI_RES_OVEN)
            bpi_fill_push(f, &uses, f->oven0 + res->a);
        else if (res->kind == BPI_RES_TOOL)
            push_tool(f, &uses, need, res->a);
    }
    int32_t positions = 1;
    for (uint32_t i = 0; i < o->needs; i++)
        if (f->prep->res[q->need[o->need0 + i].res].kind == BPI_RES_KEEP)
            positions = q->need[o->need0 + i].amount;
    for (int32_t i = 0; f->schedule->place[j] != BPI_NO_INDEX && i < positions; i++)
        bpi_fill_push(f, &uses, f->place[f->schedule->place[j]]);
    if (f->schedule->place[j] == BPI_NO_INDEX && way->keep == BPI_COUNTER &&
        f->counter != BP_NO_INDEX)
        bpi_fill_push(f, &uses, f->counter);
    if (job->kind == BP_OP_SET)
        bpi_fill_push(f, &uses, f->set0 + f->live->air[job->air].segment);
    return uses;
}

/* A vessel is washed for whoever uses it next. */
static bp_slice serves_of(bpi_fill *f, const bpi_job *job)
{
    bp_slice serves = bpi_fill_begin(f);
    for (uint32_t i = 0; i < job->serves && job->kind != BP_OP_WASH; i++)
        bpi_fill_push(f, &serves, f->prep->serve[job->serve0 + i]);
    return serves;
}

static uint32_t dish_of(const bpi_fill *f, const bpi_job *job)
{
    uint32_t dish = BP_NO_INDEX;
    for (uint32_t i = 0; i < job->serves && job->kind != BP_OP_WASH; i++) {
        uint32_t d = f->prep->box[f->prep->serve[job->serve0 + i]].dish;
        if (i > 0 && d != dish)
            return BP_NO_INDEX;
        dish = d;
    }
    return dish;
}

static void window_of(const bpi_fill *f, uint32_t j, bp_op *op)
{
    uint32_t main = j;
    if (f->prep->job[j].kind == BP_OP_TAKE_OFF)
        main = j - 1; /* the job before is what it takes off */
    if (!f->prep->job[main].takes_off)
        return;
    const bp_eng_problem *q = &f->prep->problem;
    const bp_eng_option *o = &q->option[q->activity[main].option0 + f->schedule->option[main]];
    int64_t from = bpi_schedule_from(f->prep, f->schedule, main);
    op->off_least = from + (int64_t)o->least * 60;
    op->off_most = from + (int64_t)o->most * 60;
}

/* How long it keeps on set: the least of what its last steps say. */
static int64_t hold_on_set(const bpi_fill *f, uint32_t box)
{
    const bpi_swap *w = bpi_fill_swap(f, box);
    const bpi_recipe *r = &f->show->recipe[f->prep->box[box].recipe];
    uint64_t built_on = 0;
    int64_t hold = w->steps ? BPI_NO_LIMIT : BPI_MEASURE_HOLD;
    for (uint32_t s = 0; s < r->steps; s++)
        if (w->steps >> s & 1)
            built_on |= r->step[s].before_all;
    for (uint32_t s = 0; s < r->steps; s++)
        if ((w->steps & ~built_on) >> s & 1)
            hold = r->step[s].hold_set < hold ? r->step[s].hold_set : hold;
    return hold;
}

/* How long it keeps on counter and set together after this WAIT. */
static int64_t hold_in_room(const bpi_fill *f, uint32_t j)
{
    const bpi_step *s = step_of(f, &f->prep->job[j]);
    if (!s)
        return BPI_MEASURE_HOLD;
    if (!s->hold_stated || bpi_schedule_way(f->prep, f->schedule, j)->keep != BPI_COUNTER)
        return BPI_NO_LIMIT;
    return s->hold[BPI_COUNTER] > s->hold_set ? s->hold[BPI_COUNTER] : s->hold_set;
}

/* Until when a container on set keeps its quality; BP_NO_TIME: without limit. What it waited on the
 * counter before counts, the carry between does not. */
static int64_t best_by(const bpi_fill *f, uint32_t box)
{
    const bpi_prep *p = f->prep;
    int64_t on_set = bpi_schedule_to(p, f->schedule, p->box[box].carry);
    int64_t least = hold_on_set(f, box);
    for (uint32_t j = 0; j < p->problem.activities; j++) {
        const bpi_job *job = &p->job[j];
        if (job->kind != BP_OP_WAIT || job->next != BPI_NO_INDEX || p->serve[job->serve0] != box)
            continue;
        int64_t hold = hold_in_room(f, j);
        if (hold != BPI_NO_LIMIT && hold - (int64_t)f->schedule->length[j] * 60 < least)
            least = hold - (int64_t)f->schedule->length[j] * 60;
    }
    return least == BPI_NO_LIMIT ? BP_NO_TIME : on_set + least;
}

static void hold_of(const bpi_fill *f, uint32_t j, bp_op *op)
{
    const bpi_job *job = &f->prep->job[j];
    const bpi_step *s = step_of(f, job);
    int32_t keep = bpi_schedule_way(f->prep, f->schedule, j)->keep;
    int64_t hold = BPI_NO_LIMIT;
    if (job->kind == BP_OP_SET)
        op->hold_until = best_by(f, f->prep->serve[job->serve0]);
    else if (job->kind == BP_OP_WAIT)
        hold = !s ? BPI_MEASURE_HOLD : s->hold_stated && keep >= 0 ? s->hold[keep] : BPI_NO_LIMIT;
    if (hold != BPI_NO_LIMIT)
        op->hold_until = op->from + hold;
}

static void fill_op(bpi_fill *f, uint32_t j, bp_op *op)
{
    const bpi_job *job = &f->prep->job[j];
    const bpi_step *s = step_of(f, job);
    const bpi_way *way = bpi_schedule_way(f->prep, f->schedule, j);
    bool works = job->kind != BP_OP_WAIT && job->kind != BP_OP_SET && job->kind != BP_OP_WASH &&
                 job->kind != BP_OP_HELP;
    *op = (bp_op){
        .kind = job->kind,
        .person = way->cook == BPI_NO_INDEX ? BP_NO_INDEX : way->cook,
        .dish = dish_of(f, job),
        .air = job->air == BPI_NO_INDEX ? BP_NO_INDEX : job->air,
        .watch = s && job->kind == BP_OP_ACTIVE ? s->watch : 0,
        .light = s && job->kind == BP_OP_ACTIVE && s->light,
        .from = bpi_schedule_from(f->prep, f->schedule, j),
        .to = bpi_schedule_to(f->prep, f->schedule, j),
        .off_least = BP_NO_TIME,
        .off_most = BP_NO_TIME,
        .latest_from = f->prep->zero + (int64_t)f->schedule->latest[j] * 60,
        .hold_until = BP_NO_TIME,
        .oven_mC = s && works ? s->oven_mC : BP_NO_TEMP,
        .core_mC = s && works ? s->core_mC : BP_NO_TEMP,
    };
    op->serves = serves_of(f, job);
    op->uses = uses_of(f, j);
    window_of(f, j, op);
    hold_of(f, j, op);
    bpi_fill_op_words(f, j, op);
}

/* An operation while the list is put in order. */
typedef struct placed {
    bp_op op;
    uint32_t job;
} placed;

static int by_time(const void *a, const void *b)
{
    const bp_op *x = &((const placed *)a)->op, *y = &((const placed *)b)->op;
    if (x->from != y->from)
        return x->from < y->from ? -1 : 1;
    if (x->person != y->person)
        return x->person < y->person ? -1 : 1;
    return strcmp(x->key, y->key); /* keys are unique, so the order is one whatever qsort does */
}

static void stand_on_set(bpi_fill *f)
{
    for (uint32_t b = 0; b < f->prep->boxes; b++) {
        const bpi_box *box = &f->prep->box[b];
        bp_container *c = &f->container[b];
        if (box->carry == BPI_NO_INDEX)
            continue;
        c->on_set = bpi_schedule_to(f->prep, f->schedule, box->carry);
        c->late = c->on_set > c->set_by ? c->on_set - c->set_by : 0;
        c->best_by = best_by(f, b);
    }
}

void bpi_fill_ops(bpi_fill *f)
{
    uint32_t n = f->prep->problem.activities;
    placed *list = BPI_FILL(f, n, placed);
    bp_op *op = BPI_FILL(f, n, bp_op);
    uint32_t *op_of = BPI_FILL(f, n, uint32_t);
    if (!list || !op || !op_of || !f->schedule)
        return;
    uint32_t ops = 0;
    for (uint32_t j = 0; j < n && !f->failed; j++) {
        op_of[j] = BP_NO_INDEX;
        if (bpi_schedule_out(f->prep, f->schedule, j) || f->prep->job[j].kind == BP_OP_DIRTY)
            continue;
        fill_op(f, j, &list[ops].op);
        list[ops++].job = j;
    }
    if (f->failed)
        return;
    if (ops > 1)
        qsort(list, ops, sizeof *list, by_time);
    for (uint32_t i = 0; i < ops; i++) {
        op[i] = list[i].op;
        op_of[list[i].job] = i;
    }
    stand_on_set(f);
    f->plan->op = op;
    f->plan->ops = ops;
    f->op_of = op_of;
}

/* src/plan/optext.c - the words of an operation: key, text, quantities, cautions.
 *
 * Owns     their wording.
 * May use  plan/fill, safety/, prep/, base/.
 */
#include "plan/fill.h"

#include <assert.h>

#include "base/span.h"
#include "safety/caution.h"
#include "safety/limits.h"

static const bpi_step *step_of(const bpi_fill *f, const bpi_job *job)
{
    return job->step == BPI_NO_INDEX ? NULL : &f->show->recipe[job->recipe].step[job->step];
}

static const bpi_segment *segment_of(const bpi_fill *f, const bpi_job *job)
{
    return &f->show->segment[f->live->air[job->air].segment];
}

static uint32_t oven_of(const bpi_fill *f, uint32_t j)
{
    return f->prep->job[j].kind == BP_OP_OVEN ? bpi_schedule_way(f->prep, f->schedule, j)->oven
                                              : BPI_NO_INDEX;
}

/* The oven that a PREHEAT switches on, and how many of it come before this one. */
static uint32_t preheat_of(const bpi_fill *f, uint32_t j, uint32_t *before)
{
    uint32_t o = oven_of(f, f->prep->job[j].number);
    const int32_t *start = f->schedule->start;
    *before = 0;
    for (uint32_t i = 0; i < f->prep->problem.activities; i++)
        if (f->prep->job[i].kind == BP_OP_PREHEAT && !bpi_schedule_out(f->prep, f->schedule, i) &&
            oven_of(f, f->prep->job[i].number) == o)
            *before += start[i] < start[j] || (start[i] == start[j] && i < j);
    return o;
}

/* The place that a WARM_UP switches on. */
static const bpi_place *warmed(const bpi_fill *f, const bpi_job *job)
{
    return &f->show->kitchen.place[job->number % f->show->kitchen.places];
}

/* ---- key --------------------------------------------------------------------------------- */

static bool is_joint(const bpi_fill *f, const bpi_job *job)
{
    const bpi_step *s = step_of(f, job);
    if (!s || !s->together)
        return false;
    return job->kind != BP_OP_WAIT ||
           (job->next != BPI_NO_INDEX && f->show->recipe[job->recipe].step[job->next].together);
}

static void key_of_air(const bpi_fill *f, uint32_t air, bpi_text *key)
{
    const bpi_segment *g = &f->show->segment[f->live->air[air].segment];
    bpi_text_put(key, g->id);
    if (g->hits > 1)
        bpi_text_f(key, "/%u", (unsigned)f->live->air[air].hit + 1);
}

/* What a container made once more no longer has in common with others leaves them their key; a '.'
 * stands in no id. */
static void key_of_box(bpi_fill *f, uint32_t j, bpi_text *key)
{
    const bpi_job *job = &f->prep->job[j];
    uint32_t own = f->prep->serve[job->serve0];
    uint32_t box = f->name && f->name[j] != BPI_NO_INDEX ? f->name[j] : own;
    const bpi_segment *g = &f->show->segment[f->live->air[f->prep->box[box].air].segment];
    key_of_air(f, f->prep->box[box].air, key);
    bpi_text_f(key, "/%s/%s%s", g->dish[bpi_fill_swap(f, box)->dish].id, f->prep->box[box].code,
               f->again && f->again[own] && is_joint(f, job) ? ".again" : "");
}

/* Ids only, so that a changed word is no new operation. */
static const char *key_of(bpi_fill *f, uint32_t j)
{
    const bpi_job *job = &f->prep->job[j];
    const bpi_step *s = step_of(f, job);
    const char *step = s ? s->id : "";
    bpi_text key = BPI_TEXT_EMPTY;
    if (job->kind == BP_OP_PREHEAT) {
        uint32_t before;
        bpi_text_f(&key, "oven/%s/preheat", f->show->kitchen.oven[preheat_of(f, j, &before)].id);
        if (before)
            bpi_text_f(&key, "/%u", (unsigned)before + 1);
        return bpi_fill_text(f, &key);
    }
    if (job->kind == BP_OP_WARM_UP) {
        bpi_text_f(&key, "place/%s/warm-up", warmed(f, job)->id);
        if (job->number >= f->show->kitchen.places)
            bpi_text_f(&key, "/%u", (unsigned)(job->number / f->show->kitchen.places) + 1);
        return bpi_fill_text(f, &key);
    }
    if (job->serves)
        key_of_box(f, j, &key);
    else
        key_of_air(f, job->air, &key);
    if (job->kind == BP_OP_WAIT && !s) { /* a '.' stands in no id, so no step has this key */
        bpi_text_put(&key, ".wait");
        return bpi_fill_text(f, &key);
    }
    switch (job->kind) {
    case BP_OP_ACTIVE:
    case BP_OP_PASSIVE:
    case BP_OP_OVEN:
        bpi_text_f(&key, "/%s", step);
        break;
    case BP_OP_LOAD:
        bpi_text_f(&key, "/%s/load", step);
        break;
    case BP_OP_HELP:
        bpi_text_f(&key, "/%s/help", step);
        break;
    case BP_OP_TAKE_OFF:
        bpi_text_f(&key, "/%s/take-off", step);
        break;
    case BP_OP_WAIT:
        bpi_text_f(&key, "/wait/%s/%s", step,
                   job->next == BPI_NO_INDEX ? "set"
                                             : f->show->recipe[job->recipe].step[job->next].id);
        break;
    case BP_OP_MEASURE:
        bpi_text_put(&key, ".measure");
        break;
    case BP_OP_CARRY:
        bpi_text_put(&key, ".carry");
        break;
    case BP_OP_SET:
        bpi_text_put(&key, ".set");
        break;
    case BP_OP_RESET:
        bpi_text_put(&key, "/reset");
        break;
    case BP_OP_STAND_BY:
        bpi_text_f(&key, "/stand-by/%u", (unsigned)job->number + 1);
        break;
    case BP_OP_WASH: /* a '.' stands in no id */
        bpi_text_f(&key, "%s%s/%s", s ? "/wash/" : ".wash", step,
                   f->show->kitchen.tool[job->number].id);
        break;
    case BP_OP_PREHEAT:
    case BP_OP_WARM_UP:
    case BP_OP_DIRTY:
        break;
    }
    return bpi_fill_text(f, &key);
}

/* ---- text -------------------------------------------------------------------------------- */

static const char *oven_name(const bpi_fill *f, uint32_t j)
{
    uint32_t o = bpi_schedule_way(f->prep, f->schedule, j)->oven;
    return o == BPI_NO_INDEX ? "oven" : f->show->kitchen.oven[o].name;
}

static void load_text(const bpi_fill *f, uint32_t j, const bpi_step *s, bpi_text *text)
{
    assert(s); /* what is loaded or taken off is a step */
    if (s->kind == BPI_OVEN)
        bpi_text_f(text, "Into the %s: %s", oven_name(f, j + 1), s->text);
    else if (s->burner)
        bpi_text_f(text, "On a burner: %s", s->text);
    else
        bpi_text_f(text, "Start: %s", s->text);
}

static void take_off_text(const bpi_fill *f, uint32_t j, const bpi_step *s, bpi_text *text)
{
    assert(s);
    if (s->kind == BPI_OVEN)
        bpi_text_f(text, "Out of the %s: %s", oven_name(f, j - 1), s->text);
    else if (s->burner)
        bpi_text_f(text, "Off the burner: %s", s->text);
    else
        bpi_text_f(text, "End: %s", s->text);
}

static void wait_text(const bpi_fill *f, uint32_t j, const bpi_step *s, bpi_text *text)
{
    static const char *const where[BPI_KEEPS] = {"on the counter", "hot", "cold"};
    int32_t keep = bpi_schedule_way(f->prep, f->schedule, j)->keep;
    bool about = keep < 0 || (keep != BPI_COUNTER && f->schedule->place[j] == BPI_NO_INDEX);
    bpi_text_f(text, "Waits %s", about ? "where it is" : where[keep]);
    bpi_text_f(text, s ? ", after: %s" : ", %s", s ? s->text : "measured");
}

/* What the same cook starts in passing, because its LOAD was left out: the step after a hands-on
 * operation that starts where this one ends. */
static void passing_text(const bpi_fill *f, uint32_t j, bpi_text *text)
{
    const bp_eng_problem *q = &f->prep->problem;
    for (uint32_t i = 0; i < q->lags; i++) {
        const bp_eng_lag *l = &q->lag[i];
        if (l->if_act != BP_ENG_NONE && l->to == j && l->from == l->if_act &&
            f->prep->job[l->from].kind == BP_OP_LOAD && f->schedule->option[l->from] == l->if_opt)
            bpi_text_f(text, "; at once: %s", step_of(f, &f->prep->job[l->from])->text);
    }
}

/* What the oven is set to once the last of its loads at one temperature is out: the loads of
 * different temperatures are never in it together, so the one that ended last before the next
 * starts is the one to set it after. */
static void reset_oven_text(const bpi_fill *f, uint32_t j, bpi_text *text)
{
    const bpi_schedule *s = f->schedule;
    uint32_t o = oven_of(f, j - 1), next = BPI_NO_INDEX;
    if (o == BPI_NO_INDEX)
        return;
    int64_t out = bpi_schedule_to(f->prep, s, j - 1);
    for (uint32_t i = 0; i < f->prep->problem.activities; i++) {
        if (i == j - 1 || oven_of(f, i) != o || bpi_schedule_out(f->prep, s, i))
            continue;
        int64_t to = bpi_schedule_to(f->prep, s, i);
        if (to > out || (to == out && i > j - 1)) { /* one that comes out later */
            if (bpi_schedule_from(f->prep, s, i) < out)
                return;
            if (next == BPI_NO_INDEX || s->start[i] < s->start[next])
                next = i;
        }
    }
    if (next == BPI_NO_INDEX)
        return;
    const bpi_step *bake = step_of(f, &f->prep->job[next]);
    if (bake->oven_mC != step_of(f, &f->prep->job[j - 1])->oven_mC)
        bpi_text_f(text, "; then set the %s to %s", f->show->kitchen.oven[o].name, bake->oven_text);
}

static const char *cook_of(const bpi_fill *f, uint32_t j)
{
    return f->show->kitchen.cook[bpi_schedule_way(f->prep, f->schedule, j)->cook].name;
}

/* Who helps with job j, and for how long where it is not all of it. */
static void helped_text(const bpi_fill *f, uint32_t j, bpi_text *text)
{
    for (uint32_t i = 0; i < f->prep->problem.activities; i++) {
        if (f->prep->job[i].kind != BP_OP_HELP || f->prep->job[i].number != j ||
            bpi_schedule_out(f->prep, f->schedule, i))
            continue;
        bpi_text_f(text, " (%s helps", cook_of(f, i));
        if (f->schedule->length[i] < f->schedule->length[j]) {
            bpi_text_put(text, " for the first ");
            bpi_span_words(text, (int64_t)f->schedule->length[i] * 60);
        }
        bpi_text_char(text, ')');
    }
}

static const char *dish_title(const bpi_fill *f, const bpi_job *job)
{
    return segment_of(f, job)->dish[bpi_fill_swap(f, f->prep->serve[job->serve0])->dish].title;
}

/* "Wash up 2 x oven tray, from B1" */
static void wash_text(const bpi_fill *f, uint32_t j, bpi_text *text)
{
    const bpi_job *job = &f->prep->job[j];
    const bp_eng_problem *q = &f->prep->problem;
    const bp_eng_option *o = &q->option[q->activity[j].option0 + f->schedule->option[j]];
    int32_t n = 1;
    for (uint32_t i = 0; i < o->needs; i++)
        if (f->prep->res[q->need[o->need0 + i].res].kind == BPI_RES_TOOL &&
            f->prep->res[q->need[o->need0 + i].res].a == job->number)
            n = q->need[o->need0 + i].amount;
    bpi_text_put(text, "Wash up ");
    if (n > 1)
        bpi_text_f(text, "%d x ", (int)n);
    bpi_text_f(text, "%s, from ", f->show->kitchen.tool[job->number].name);
    for (uint32_t i = 0; i < job->serves; i++)
        bpi_text_f(text, "%s%s", i ? " " : "", f->prep->box[f->prep->serve[job->serve0 + i]].code);
}

static const char *text_of(bpi_fill *f, uint32_t j)
{
    const bpi_job *job = &f->prep->job[j];
    const bpi_step *s = step_of(f, job);
    bpi_text text = BPI_TEXT_EMPTY;
    switch (job->kind) {
    case BP_OP_ACTIVE:
    case BP_OP_PASSIVE:
    case BP_OP_OVEN:
        assert(s);
        bpi_text_put(&text, s->text);
        break;
    case BP_OP_LOAD:
        load_text(f, j, s, &text);
        break;
    case BP_OP_HELP:
        assert(s);
        bpi_text_f(&text, "Help %s: %s", cook_of(f, job->number), s->text);
        break;
    case BP_OP_TAKE_OFF:
        take_off_text(f, j, s, &text);
        reset_oven_text(f, j, &text);
        break;
    case BP_OP_WAIT:
        wait_text(f, j, s, &text);
        break;
    case BP_OP_MEASURE:
        bpi_text_f(&text, "Measure %s: %s",
                   bpi_fill_swap(f, f->prep->serve[job->serve0])->steps ? "what goes in on air"
                                                                        : "the ingredients",
                   dish_title(f, job));
        break;
    case BP_OP_CARRY:
    case BP_OP_SET:
        bpi_text_f(&text, "%s: %s, %s", job->kind == BP_OP_CARRY ? "To the set" : "On the set",
                   dish_title(f, job),
                   bp_stage_name((bp_stage)bpi_fill_swap(f, f->prep->serve[job->serve0])->stage));
        break;
    case BP_OP_PREHEAT:
        s = step_of(f, &f->prep->job[job->number]); /* the bake that it is for */
        assert(s);
        bpi_text_f(&text, "Switch on the %s: %s", oven_name(f, job->number), s->oven_text);
        break;
    case BP_OP_WARM_UP:
        bpi_text_f(&text, "Switch on the %s: ", warmed(f, job)->name);
        bpi_temp_put(&text, warmed(f, job)->temp_mC);
        if (bpi_place_warms(warmed(f, job))) {
            bpi_text_put(&text, ", hot in ");
            bpi_span_words(&text, (int64_t)bpi_place_warms(warmed(f, job)) * 60);
        }
        break;
    case BP_OP_RESET:
        bpi_text_f(&text, "Clear the set after: %s", segment_of(f, job)->title);
        break;
    case BP_OP_STAND_BY:
        bpi_text_f(&text, "Stand by on the set: %s", segment_of(f, job)->title);
        break;
    case BP_OP_WASH:
        wash_text(f, j, &text);
        break;
    case BP_OP_DIRTY:
        break;
    }
    if (job->kind == BP_OP_ACTIVE)
        helped_text(f, j, &text);
    if (job->kind == BP_OP_ACTIVE || job->kind == BP_OP_TAKE_OFF)
        passing_text(f, j, &text);
    return bpi_fill_text(f, &text);
}

/* ---- detail and cautions ----------------------------------------------------------------- */

static const char *caution_of(bpi_fill *f, const bpi_job *job, const bpi_step *s)
{
    if (!s || job->kind == BP_OP_WAIT || job->kind == BP_OP_WASH || !s->hazards)
        return "";
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_caution_put(&text, s->hazards);
    return bpi_fill_text(f, &text);
}

void bpi_fill_op_words(bpi_fill *f, uint32_t j, bp_op *op)
{
    const bpi_job *job = &f->prep->job[j];
    const bpi_step *s = step_of(f, job);
    const bpi_step *bake = job->kind == BP_OP_PREHEAT ? step_of(f, &f->prep->job[job->number]) : s;
    op->key = key_of(f, j);
    op->text = text_of(f, j);
    op->detail = bpi_fill_detail(f, job);
    op->caution = caution_of(f, job, s);
    op->oven_text = op->core_text = "";
    if (bake && job->kind == BP_OP_PREHEAT)
        op->oven_mC = bake->oven_mC;
    if (bake && op->oven_mC != BP_NO_TEMP)
        op->oven_text = bpi_fill_copy(f, bake->oven_text);
    if (op->core_mC != BP_NO_TEMP) {
        bpi_text core = BPI_TEXT_EMPTY;
        bpi_temp_put(&core, op->core_mC);
        op->core_text = bpi_fill_text(f, &core);
    }
}

/* The checker against plans that were good until one thing in them, or in their show, was changed.
 *
 * Each row of a table is one kind of change. It is made at every place where it can be made, one at
 * a time, and each time the checker must object and name what was changed. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"
#include "base/memory.h"
#include "model/show.h"

#define WORK 2000000 /* enough for a plan, not for the best one */

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

/* What was changed: one of these must be named. */
static const char *names[3];

typedef enum did { DONE, NOT_HERE, NO_MORE } did;

static char *extra; /* made for a change, given back when it is undone */

static void name(const char *one, const char *two, const char *three)
{
    names[0] = one;
    names[1] = two;
    names[2] = three;
}

static bool is_named(void)
{
    for (uint32_t e = 0; e < errs.n; e++)
        for (int i = 0; i < 3; i++)
            if (names[i] && strstr(errs.item[e].wrong, names[i]))
                return true;
    return false;
}

/* The plan's arrays are only lent as const: a test may write to them. */
static bp_op *op_at(uint32_t i)
{
    return i < plan->ops ? (bp_op *)&plan->op[i] : NULL;
}

static bp_container *box_at(uint32_t i)
{
    return i < plan->containers ? (bp_container *)&plan->container[i] : NULL;
}

static bp_beat *beat_at(uint32_t i)
{
    return i < plan->beats ? (bp_beat *)&plan->beat[i] : NULL;
}

static bp_air *air_at(uint32_t i)
{
    return i < plan->airs ? (bp_air *)&plan->air[i] : NULL;
}

static const char *code_of(const bp_op *op)
{
    return op->serves.n ? plan->container[plan->index[op->serves.first]].code : NULL;
}

static bool hands_on(const bp_op *op)
{
    return op->kind != BP_OP_PASSIVE && op->kind != BP_OP_OVEN && op->kind != BP_OP_WAIT &&
           op->kind != BP_OP_SET;
}

static bool of_step(const bp_op *op)
{
    return op->kind == BP_OP_ACTIVE || op->kind == BP_OP_PASSIVE || op->kind == BP_OP_OVEN;
}

/* The operation, for a change to it; also named by the container it is for. */
static bp_op *take_op(uint32_t i, did *d)
{
    bp_op *op = op_at(i);
    *d = op ? DONE : NO_MORE;
    if (op)
        name(op->key, code_of(op), NULL);
    return op;
}

/* ---- operations -------------------------------------------------------------------------- */

static did op_starts_later(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->kind == BP_OP_PREHEAT || op->kind == BP_OP_RESET)
        return op ? NOT_HERE : d;
    op->from += 60;
    op->to += 60;
    return d;
}

static did op_is_longer(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->kind == BP_OP_RESET || op->kind == BP_OP_STAND_BY || op->kind == BP_OP_PREHEAT)
        return op ? NOT_HERE : d;
    op->to += 60;
    return d;
}

static did op_is_shorter(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (op)
        op->to -= 60;
    return d;
}

static did op_is_off_the_minute(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (op)
        op->from -= 30;
    return d;
}

static did op_has_nobody(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (op && !hands_on(op))
        return NOT_HERE;
    if (op)
        op->person = BP_NO_INDEX;
    return d;
}

static did op_unattended_has_a_cook(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (op && hands_on(op))
        return NOT_HERE;
    if (op)
        op->person = 0;
    return d;
}

static did op_is_given_to_a_busy_cook(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || !hands_on(op))
        return op ? NOT_HERE : d;
    for (uint32_t k = 0; k < plan->ops; k++) {
        const bp_op *o = &plan->op[k];
        if (o->person != BP_NO_INDEX && o->person != op->person && o->from < op->to &&
            op->from < o->to) {
            op->person = o->person;
            name(op->key, o->key, NULL);
            return d;
        }
    }
    return NOT_HERE;
}

static did op_is_of_another_kind(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || !of_step(op))
        return op ? NOT_HERE : d;
    op->kind = op->kind == BP_OP_OVEN ? BP_OP_PASSIVE : BP_OP_OVEN;
    return d;
}

static did op_is_missing(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op)
        return d;
    if (op->kind == BP_OP_RESET || op->kind == BP_OP_STAND_BY)
        name(plan->air[op->air].id, NULL, NULL);
    if (op->kind == BP_OP_PREHEAT)
        name("it is switched on", NULL, NULL);
    memmove(op, op + 1, (plan->ops - i - 1) * sizeof *op);
    plan->ops--;
    return d;
}

static did op_has_the_key_of_another(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (op) {
        op->key = plan->op[i == 0 ? 1 : 0].key;
        name(op->key, NULL, NULL);
    }
    return d;
}

static did op_serves_another_container(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->serves.n == 0)
        return op ? NOT_HERE : d;
    uint32_t *c = (uint32_t *)&plan->index[op->serves.first];
    *c = (*c + 1) % plan->containers;
    return d;
}

static did op_serves_nobody(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->serves.n == 0)
        return op ? NOT_HERE : d;
    op->serves.n = 0;
    return d;
}

static did op_occupies_nothing(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->uses.n == 0)
        return op ? NOT_HERE : d;
    if (op->kind == BP_OP_OVEN) /* then the oven is switched on for fewer bakes, too */
        name(op->key, NULL, NULL);
    op->uses.n = 0;
    return d;
}

static did op_is_too_hot(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->kind != BP_OP_OVEN)
        return op ? NOT_HERE : d;
    op->oven_mC += 1000;
    return d;
}

static did op_has_another_core(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || !of_step(op) || op->core_mC == BP_NO_TEMP)
        return op ? NOT_HERE : d;
    op->core_mC -= 1000;
    return d;
}

static did op_tells_another_window(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->off_most == BP_NO_TIME)
        return op ? NOT_HERE : d;
    op->off_most += 60;
    return d;
}

static did op_tells_another_hold(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->hold_until == BP_NO_TIME)
        return op ? NOT_HERE : d;
    op->hold_until += 60;
    return d;
}

static did op_could_start_before_it_does(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (op)
        op->latest_from = op->from - 60;
    return d;
}

static did op_is_for_another_appearance(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || plan->airs < 2 || !(of_step(op) || op->kind == BP_OP_STAND_BY))
        return op ? NOT_HERE : d;
    op->air = (op->air + 1) % plan->airs;
    if (op->kind == BP_OP_STAND_BY)
        name(plan->air[op->air].id, op->key, NULL);
    return d;
}

static did op_numbers_are_out_of_range(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op)
        return d;
    switch (i % 4) {
    case 0:
        op->person = plan->persons;
        break;
    case 1:
        op->serves.first = plan->indexes + 1;
        break;
    case 2:
        op->uses.n = UINT32_MAX;
        break;
    default:
        op->dish = plan->dishes;
    }
    return d;
}

/* A wait goes to a kind of place where the step states no hold, or a shorter one. */
static did op_waits_in_the_wrong_place(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->kind != BP_OP_WAIT)
        return op ? NOT_HERE : d;
    for (uint32_t k = 0; k < op->uses.n; k++) {
        uint32_t *use = (uint32_t *)&plan->index[op->uses.first + k];
        bp_thing_kind is = plan->thing[*use].kind;
        if (is != BP_PLACE_COLD && is != BP_PLACE_HOT && is != BP_PLACE_COUNTER)
            continue;
        *use = 0; /* the burners: no place at all */
        return d;
    }
    return NOT_HERE;
}

/* ---- beats ------------------------------------------------------------------------------- */

static bp_beat *take_beat(uint32_t i, did *d)
{
    bp_beat *b = beat_at(i);
    *d = !b ? NO_MORE : b->dropped ? NOT_HERE : DONE;
    if (b)
        name(b->id, NULL, NULL);
    return *d == DONE ? b : NULL;
}

/* A beat of a draft that the show says nothing about: its usual length and name are the draft's. */
static bool is_usual(const bp_beat *b)
{
    for (uint32_t a = 0; a < plan->airs; a++) {
        bp_slice in = plan->air[a].beats;
        uint32_t i = (uint32_t)(b - plan->beat);
        if (i >= in.first && i - in.first < in.n)
            name(b->id, plan->air[a].id, NULL);
        if (i >= in.first && i - in.first < in.n && plan->air[a].drafted)
            return !strchr(b->id, '.') || strstr(b->id, ".finished");
    }
    return false;
}

#define VERSION(title, change)                                                                     \
    static did title(uint32_t i)                                                                   \
    {                                                                                              \
        if (i >= plan->versions)                                                                   \
            return NO_MORE;                                                                        \
        bp_version *x = (bp_version *)&plan->version[i];                                           \
        name(air_of_version(i)->id, NULL, NULL);                                                   \
        change;                                                                                    \
        return DONE;                                                                               \
    }

static const bp_air *air_of_version(uint32_t i)
{
    uint32_t a = 0;
    while (i - plan->air[a].versions.first >= plan->air[a].versions.n)
        a++;
    return &plan->air[a];
}

VERSION(version_is_longer, x->most++)
VERSION(version_is_shorter, x->least--)
VERSION(version_ends_before_it_begins, x->most = x->least - 1)
VERSION(version_keeps_what_is_not_there, x->kept |= UINT64_C(1) << 63)
VERSION(version_leaves_out_what_must_stay, x->kept = 0)
VERSION(version_has_no_lengths, x->at_least.n--)
VERSION(version_has_lengths_of_another, x->at_most = x->at_least;
        if (x->least == x->most) return NOT_HERE)
VERSION(version_needs_all, if (!x->unused.n) return NOT_HERE;
        name(plan->container[plan->index[x->unused.first]].code, NULL, NULL); x->unused.n = 0)
VERSION(version_is_out_of_range, x->at_most.first = UINT32_MAX; name("versions", NULL, NULL))

#define BEAT(title, change)                                                                        \
    static did title(uint32_t i)                                                                   \
    {                                                                                              \
        did d;                                                                                     \
        bp_beat *b = take_beat(i, &d);                                                             \
        if (b) {                                                                                   \
            change;                                                                                \
        }                                                                                          \
        return d;                                                                                  \
    }
BEAT(beat_is_longer, b->length++; name(b->id, i + 1 < plan->beats ? b[1].id : NULL, "fill"))
BEAT(beat_starts_later, b->from++)
BEAT(beat_tells_wrong_time_in, b->time_in++)
BEAT(beat_tells_wrong_time_left, b->time_left++)
BEAT(beat_has_a_least_above_its_length, b->least = b->length + 1)
BEAT(beat_has_a_most_below_its_length, b->most = b->length - 1)
BEAT(beat_has_another_likely, if (is_usual(b)) return NOT_HERE;
     b->likely = b->likely > b->least ? b->likely - 1 : b->likely + 1)
BEAT(beat_tells_wrong_whether_words_set_it, b->words_floor = !b->words_floor)
BEAT(beat_has_other_words, b->words = "Something else")
BEAT(beat_is_another, if (is_usual(b)) return NOT_HERE; b->id = "another")
BEAT(beat_tells_wrong_whether_it_is_a_tasting, is_usual(b); b->taste = !b->taste)
BEAT(beat_tells_wrong_whether_it_stays, is_usual(b); b->keep = !b->keep)
BEAT(beat_is_worth_another_figure, if (is_usual(b)) return NOT_HERE; b->worth++)
BEAT(beat_forgets_what_it_needs, if (!b->needs) return NOT_HERE; b->needs = 0)
BEAT(beat_stands_beside_nothing, if (strcmp(b->id, "hello") || b->on.n < 2) return NOT_HERE;
     b->on.n--)
BEAT(beat_has_silent_words, if (!b->spoken) return NOT_HERE; b->spoken = 0)
BEAT(beat_says_more_than_it_can, b->spoken = b->least + 1)
BEAT(beat_says_nothing_for_long, if (b->spoken) return NOT_HERE; b->spoken = 1;
     name(b->id, NULL, NULL))
BEAT(beat_needs_itself, b->needs |= ~UINT64_C(0))
BEAT(beat_on_air_is_not_ready, b->ready = false)
BEAT(beat_refers_to_no_dish, b->dish = plan->dishes)

/* It goes without its containers: a beat that needs one is not served. */
static did beat_works_with_nothing(uint32_t i)
{
    did d;
    bp_beat *b = take_beat(i, &d);
    if (!b || b->on.n == 0)
        return b ? NOT_HERE : d;
    name(b->id, plan->container[plan->index[b->on.first]].code, NULL);
    b->on.n = 0;
    if (b->in.n == 0 && b->dish == BP_NO_INDEX)
        return NOT_HERE; /* it only stands there */
    return d;
}

static did beat_brings_nothing_on(uint32_t i)
{
    did d;
    bp_beat *b = take_beat(i, &d);
    if (!b || b->in.n == 0)
        return b ? NOT_HERE : d;
    name(b->id, plan->container[plan->index[b->in.first]].code, NULL);
    b->in.n = 0;
    return d;
}

static did beat_takes_nothing_off(uint32_t i)
{
    did d;
    bp_beat *b = take_beat(i, &d);
    if (!b || b->out.n == 0)
        return b ? NOT_HERE : d;
    name(b->id, plan->container[plan->index[b->out.first]].code, NULL);
    b->out.n = 0;
    return d;
}

static did beat_is_dropped(uint32_t i)
{
    did d;
    bp_beat *b = take_beat(i, &d);
    if (!b)
        return d;
    name(b->id, i + 1 < plan->beats ? b[1].id : "fill", "fill");
    b->dropped = true;
    b->from = b->length = 0;
    b->in.n = b->out.n = b->on.n = 0;
    return d;
}

/* ---- containers -------------------------------------------------------------------------- */

#define BOX(title, change)                                                                         \
    static did title(uint32_t i)                                                                   \
    {                                                                                              \
        bp_container *c = box_at(i);                                                               \
        if (!c)                                                                                    \
            return NO_MORE;                                                                        \
        name(c->code, NULL, NULL);                                                                 \
        change;                                                                                    \
        return DONE;                                                                               \
    }
BOX(box_lacks_a_step, if (c->steps == 0) return NOT_HERE; c->steps &= c->steps - 1)
BOX(box_has_another_step, c->steps |= UINT64_C(1) << 40)
BOX(box_is_of_another_stage, c->stage = c->stage == BP_RAW ? BP_MID : BP_RAW)
BOX(box_is_of_stage_finished, if (c->stage == BP_FINISHED) return NOT_HERE; c->stage = BP_FINISHED)
BOX(box_must_be_set_earlier, c->set_by -= 60)
BOX(box_must_be_set_later, c->set_by += 60)
BOX(box_is_on_set_earlier, c->on_set -= 60)
BOX(box_is_on_set_later, c->on_set += 60)
BOX(box_is_on_set_too_late, c->on_set = c->set_by + 60; c->late = 60)
BOX(box_is_never_on_set, c->on_set = BP_NO_TIME)
BOX(box_is_needed_earlier, c->needed--)
BOX(box_is_needed_longer, c->last++)
BOX(box_is_needed_shorter, c->last--)
BOX(box_keeps_otherwise, c->best_by = c->best_by == BP_NO_TIME ? 0 : c->best_by + 1)
BOX(box_says_it_is_late, c->late = 60)
BOX(box_feeds_one_more, c->portions++)
BOX(box_is_of_another_size, if (c->role == BP_ROLE_TASTE) return NOT_HERE; c->size_num++)
BOX(box_bears_an_earlier_hit, if (c->hit_from == BP_NO_TIME) return NOT_HERE; c->hit_from--)
BOX(box_bears_no_hit_so_early, if (c->hit_from == BP_NO_TIME) return NOT_HERE; c->hit_from++)
BOX(box_bears_a_later_hit, if (c->hit_to == BP_NO_TIME) return NOT_HERE; c->hit_to++)
BOX(box_bears_no_hit_so_late, if (c->hit_to == BP_NO_TIME) return NOT_HERE; c->hit_to--)
BOX(box_bears_any_hit, if (c->hit_to == BP_NO_TIME) return NOT_HERE; c->hit_to = BP_NO_TIME)
BOX(box_is_too_small_to_taste, if (c->role != BP_ROLE_TASTE) return NOT_HERE; c->size_den *= 8)
BOX(box_comes_otherwise_hot, c->comes_hot = !c->comes_hot)
BOX(box_is_hot_after_no_beat, if (!c->hot) return NOT_HERE; c->hot &= c->hot - 1)
BOX(box_is_hot_after_a_beat_too_many, c->hot |= UINT64_C(1) << 63)
BOX(box_has_the_code_of_another, c->code = plan->container[i == 0 ? 1 : 0].code;
    name(c->code, NULL, NULL))
BOX(box_comes_on_in_another_beat, c->beat = c->beat == 0 ? 1 : 0)
BOX(box_is_of_another_dish, if (plan->dishes < 2) return NOT_HERE;
    c->dish = (c->dish + 1) % plan->dishes;
    name(c->code, plan->dish[c->dish].id,
         plan->dish[(c->dish + plan->dishes - 1) % plan->dishes].id))
BOX(box_is_called_finished, if (c->stage == BP_FINISHED) return NOT_HERE; c->state = "finished")
BOX(box_stands_elsewhere, c->station = *c->station ? "" : "elsewhere")
BOX(box_is_called_measured, if (c->stage == BP_RAW) return NOT_HERE; c->state = "measured")

static did box_has_another_role(uint32_t i)
{
    bp_container *c = box_at(i / 5);
    if (!c)
        return NO_MORE;
    if (c->role == (bp_role)(i % 5))
        return NOT_HERE;
    name(c->code, plan->dish[c->dish].id, NULL);
    for (uint32_t k = 0; k < plan->beats; k++)
        for (uint32_t j = 0; j < plan->beat[k].on.n; j++)
            if (plan->index[plan->beat[k].on.first + j] == i / 5)
                names[2] = plan->beat[k].id;
    c->role = (bp_role)(i % 5);
    return DONE;
}

/* ---- appearances, teases, cooks, things, goals ------------------------------------------- */

#define AIR(title, change)                                                                         \
    static did title(uint32_t i)                                                                   \
    {                                                                                              \
        bp_air *a = air_at(i);                                                                     \
        if (!a)                                                                                    \
            return NO_MORE;                                                                        \
        name(a->id, NULL, NULL);                                                                   \
        change;                                                                                    \
        return DONE;                                                                               \
    }
AIR(air_has_another_slot, a->slot++)
AIR(air_is_hit_at_another_time, a->hit++;
    name(show->segment[0].id, show->segment[show->segments - 1].id, NULL))
AIR(air_is_set_by_another_time, a->set_by++)
AIR(air_floats_longer, a->floats++)
AIR(air_feeds_one_more, a->portions++)
AIR(air_miscounts_its_hits, a->hit_no++)
AIR(air_tells_wrong_whether_it_is_a_draft, a->drafted = !a->drafted)
AIR(air_has_no_teases, if (a->teases.n == 0) return NOT_HERE; a->teases.n = 0)
AIR(air_has_too_many_beats, a->beats.n = plan->beats + 1)

static did tease_is_at_another_time(uint32_t i)
{
    if (i >= plan->teases)
        return NO_MORE;
    name("tease", NULL, NULL);
    ((bp_tease *)plan->tease)[i].at++;
    return DONE;
}

static did tease_shows_another_container(uint32_t i)
{
    if (i >= plan->teases)
        return NO_MORE;
    uint32_t *c = &((bp_tease *)plan->tease)[i].container;
    name("tease", plan->container[*c].code, NULL);
    *c = (*c + 1) % plan->containers;
    return DONE;
}

static bp_stint *take_stint(uint32_t i, did *d)
{
    *d = i < plan->stints ? DONE : NO_MORE;
    bp_stint *t = *d == DONE ? (bp_stint *)&plan->stint[i] : NULL;
    if (t)
        name(plan->person[t->person].id, plan->person[t->person].name, NULL);
    return t;
}

#define STINT(title, change)                                                                       \
    static did title(uint32_t i)                                                                   \
    {                                                                                              \
        did d;                                                                                     \
        bp_stint *t = take_stint(i, &d);                                                           \
        if (t) {                                                                                   \
            change;                                                                                \
        }                                                                                          \
        return d;                                                                                  \
    }
STINT(stint_is_called_earlier, t->call -= 60)
STINT(stint_is_called_later, t->call += 60)
STINT(stint_ends_at_once, t->release = t->call)
STINT(stint_ends_after_the_wrap, t->release = t->wrap + 60)
STINT(stint_is_in_another_shift, t->earliest -= 60)

static did thing_is_there_once_more(uint32_t i)
{
    bp_thing *t = (bp_thing *)plan->thing;
    if (i >= plan->things)
        return NO_MORE;
    if (t[i].kind == BP_SET || t[i].count == 0)
        return NOT_HERE;
    t[i].count++;
    name(t[i].id, NULL, NULL);
    return DONE;
}

static did goal_is_told_better(uint32_t i)
{
    if (i >= plan->goals)
        return NO_MORE;
    bp_goal *g = (bp_goal *)&plan->goal[i];
    name(g->name, NULL, NULL);
    g->value = g->bound - 1;
    return DONE;
}

static did crew_time_is_told_otherwise(uint32_t i)
{
    bp_goal *g = (bp_goal *)&plan->goal[1];
    name(g->name, NULL, NULL);
    g->value += i == 0 ? 1 : -1;
    return i < 2 ? DONE : NO_MORE;
}

static did lateness_is_told_where_none_is(uint32_t i)
{
    bp_goal *g = (bp_goal *)&plan->goal[0];
    name(g->name, NULL, NULL);
    g->value = 1;
    return i < 1 ? DONE : NO_MORE;
}

static did plan_is_called_late(uint32_t i)
{
    name("late", NULL, NULL);
    plan->verdict = BP_LATE;
    return i < 1 ? DONE : NO_MORE;
}

static did plan_is_called_proved(uint32_t i)
{
    bp_goal *g = (bp_goal *)&plan->goal[2];
    name(g->name, NULL, NULL);
    plan->proved = true;
    g->proved = false;
    return i < 1 ? DONE : NO_MORE;
}

/* ---- the show asks for more than the plan gives ------------------------------------------ */

static bpi_step *step_at(uint32_t i)
{
    for (uint32_t r = 0; r < show->recipes; r++) {
        if (i < show->recipe[r].steps)
            return (bpi_step *)&show->recipe[r].step[i];
        i -= show->recipe[r].steps;
    }
    return NULL;
}

/* Is the step done ahead for anybody? Its key ends in its name. */
static bool is_done_ahead(const bpi_step *s)
{
    size_t len = strlen(s->id);
    for (uint32_t o = 0; o < plan->ops; o++) {
        const char *key = plan->op[o].key;
        size_t all = strlen(key);
        if (of_step(&plan->op[o]) && all > len && key[all - len - 1] == '/' &&
            strcmp(key + all - len, s->id) == 0)
            return true;
    }
    return false;
}

static did step_takes_longer(uint32_t i)
{
    bpi_step *s = step_at(i);
    if (!s)
        return NO_MORE;
    if (!is_done_ahead(s))
        return NOT_HERE;
    name(s->id, NULL, NULL);
    int64_t by = s->time.most - s->time.least + 60;
    s->time.least += by;
    s->time.likely += by;
    s->time.most += by;
    s->together_once += 60;
    return DONE;
}

static did step_is_another_kind(uint32_t i)
{
    bpi_step *s = step_at(i);
    if (!s)
        return NO_MORE;
    if (!is_done_ahead(s))
        return NOT_HERE;
    name(s->id, NULL, NULL);
    s->kind = s->kind == BPI_ACTIVE ? BPI_OVEN : BPI_ACTIVE;
    return DONE;
}

static bool serves_several(const bpi_step *s)
{
    for (uint32_t o = 0; o < plan->ops; o++) {
        const char *last = strrchr(plan->op[o].key, '/');
        if (of_step(&plan->op[o]) && plan->op[o].serves.n > 1 && last &&
            strcmp(last + 1, s->id) == 0)
            return true;
    }
    return false;
}

static did step_is_or_is_not_done_together(uint32_t i)
{
    bpi_step *s = step_at(i);
    if (!s)
        return NO_MORE;
    uint32_t ops = 0;
    for (uint32_t o = 0; o < plan->ops; o++)
        ops += of_step(&plan->op[o]) && plan->op[o].serves.n == 1;
    if (!is_done_ahead(s) || (!s->together && ops == 0))
        return NOT_HERE;
    if (s->kind != BPI_ACTIVE && !serves_several(s))
        return NOT_HERE; /* for one it takes what it takes, together or not */
    name(s->id, NULL, NULL);
    s->together = !s->together;
    s->together_most = UINT32_MAX;
    s->together_once = s->time.likely + 600;
    return DONE;
}

static did a_job_takes_fewer_containers(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || !of_step(op) || op->serves.n < 2)
        return op ? NOT_HERE : d;
    for (uint32_t r = 0; r < show->recipes; r++)
        for (uint32_t k = 0; k < show->recipe[r].steps; k++)
            ((bpi_step *)&show->recipe[r].step[k])->together_most = op->serves.n - 1;
    name("and one job takes", NULL, NULL);
    return d;
}

/* A pot that is divided took longer to cook than one that is not. */
static did each_takes_longer(uint32_t i)
{
    bpi_step *s = step_at(i);
    if (!s)
        return NO_MORE;
    if (!s->together || !serves_several(s))
        return NOT_HERE;
    s->together_each += s->time.most - s->time.least + 60;
    name(s->id, NULL, NULL);
    return DONE;
}

static did step_wants_a_skill_nobody_has(uint32_t i)
{
    bpi_step *s = step_at(i);
    if (!s)
        return NO_MORE;
    if (!is_done_ahead(s) || s->kind != BPI_ACTIVE || show->skills == 0)
        return NOT_HERE;
    name(s->id, NULL, NULL);
    for (uint32_t k = 0; k < show->kitchen.cooks; k++)
        ((bpi_cook *)&show->kitchen.cook[k])->skills = 0;
    s->skill = 0;
    return DONE;
}

static did step_wants_a_second_cook(uint32_t i)
{
    bpi_step *s = step_at(i);
    if (!s)
        return NO_MORE;
    if (!is_done_ahead(s) || s->kind != BPI_ACTIVE)
        return NOT_HERE;
    s->help = true;
    name("nobody helps", NULL, NULL);
    return DONE;
}

static did step_is_hotter(uint32_t i)
{
    bpi_step *s = step_at(i);
    if (!s)
        return NO_MORE;
    if (!is_done_ahead(s) || s->kind != BPI_OVEN)
        return NOT_HERE;
    name(s->id, NULL, NULL);
    s->oven_mC += 10000;
    return DONE;
}

static did step_wants_a_burner(uint32_t i)
{
    bpi_step *s = step_at(i);
    if (!s)
        return NO_MORE;
    if (!is_done_ahead(s) || s->burner)
        return NOT_HERE;
    name(s->id, NULL, NULL);
    s->burner = true;
    return DONE;
}

static did step_wants_a_tool(uint32_t i)
{
    static const uint32_t twice[] = {0, 0, 0, 0, 0, 0, 0, 0, 0};
    bpi_step *s = step_at(i);
    if (!s)
        return NO_MORE;
    if (!is_done_ahead(s) || show->kitchen.tools == 0)
        return NOT_HERE;
    name(s->id, NULL, NULL);
    s->tool = twice;
    s->tools = 9;
    return DONE;
}

static did a_wait_is_longer_than_the_hold(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->kind != BP_OP_WAIT || !strstr(op->key, "/wait/")) /* or only measured */
        return op ? NOT_HERE : d;
    for (uint32_t r = 0; r < show->recipes; r++)
        for (uint32_t k = 0; k < show->recipe[r].steps; k++) {
            bpi_step *s = (bpi_step *)&show->recipe[r].step[k];
            char part[80];
            snprintf(part, sizeof part, "/wait/%s/", s->id);
            if (!strstr(op->key, part))
                continue;
            s->hold_stated = true;
            for (int keep = 0; keep < BPI_KEEPS; keep++)
                s->hold[keep] = op->to - op->from - 1;
        }
    return d;
}

static did the_set_keeps_less(uint32_t i)
{
    bp_container *c = box_at(i);
    if (!c)
        return NO_MORE;
    if (c->steps == 0)
        return NOT_HERE;
    name(c->code, NULL, NULL);
    for (uint32_t k = 0; step_at(k); k++)
        step_at(k)->hold_set = c->last - c->on_set - 1;
    for (uint32_t k = 0; k < plan->containers; k++) /* else it is the told best-by that is wrong */
        box_at(k)->best_by = box_at(k)->on_set + c->last - c->on_set - 1;
    for (uint32_t k = 0; k < plan->ops; k++)
        if (op_at(k)->kind == BP_OP_SET)
            op_at(k)->hold_until = op_at(k)->from + c->last - c->on_set - 1;
    return DONE;
}

static did a_cook_comes_later(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || !hands_on(op))
        return op ? NOT_HERE : d;
    const bpi_cook *k = &show->kitchen.cook[op->person];
    for (uint32_t s = 0; s < k->shifts; s++)
        if (k->shift[s].call <= op->from && op->to <= k->shift[s].wrap)
            ((bpi_shift *)k->shift)[s].call = op->from + 60;
    return d;
}

static did a_cook_goes_earlier(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || !hands_on(op))
        return op ? NOT_HERE : d;
    const bpi_cook *k = &show->kitchen.cook[op->person];
    for (uint32_t s = 0; s < k->shifts; s++)
        if (k->shift[s].call <= op->from && op->to <= k->shift[s].wrap)
            ((bpi_shift *)k->shift)[s].wrap = op->to - 60;
    return d;
}

static did a_cook_has_a_break(uint32_t i)
{
    static bpi_break rest;
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || !hands_on(op))
        return op ? NOT_HERE : d;
    bpi_cook *k = (bpi_cook *)&show->kitchen.cook[op->person];
    rest.from = op->to - 60;
    rest.to = op->to + 600;
    k->rest = &rest;
    k->rests = 1;
    return d;
}

/* Most pieces of a thing in use at once. */
static uint32_t peak_of(uint32_t thing)
{
    uint32_t peak = 0;
    for (uint32_t o = 0; o < plan->ops; o++) {
        uint32_t n = 0;
        for (uint32_t k = 0; k < plan->ops; k++)
            for (uint32_t u = 0; plan->op[k].from <= plan->op[o].from &&
                                 plan->op[o].from < plan->op[k].to && u < plan->op[k].uses.n;
                 u++)
                if (plan->thing[thing].kind != BP_OVEN || plan->op[k].kind == BP_OP_OVEN)
                    n += plan->index[plan->op[k].uses.first + u] == thing;
        peak = n > peak ? n : peak;
    }
    return peak;
}

static did there_is_one_less_than_is_in_use(uint32_t i)
{
    if (i >= plan->things)
        return NO_MORE;
    bp_thing *t = (bp_thing *)&plan->thing[i];
    bpi_kitchen *k = &show->kitchen;
    uint32_t peak = peak_of(i), *count = NULL;
    if (peak == 0 || t->count == 0 || t->kind == BP_SET)
        return NOT_HERE;
    if (t->kind == BP_BURNER)
        count = &k->burners;
    for (uint32_t n = 0; n < k->ovens; n++)
        if (strcmp(k->oven[n].id, t->id) == 0)
            count = &((bpi_oven *)k->oven)[n].positions;
    for (uint32_t n = 0; n < k->tools; n++)
        if (strcmp(k->tool[n].id, t->id) == 0)
            count = &((bpi_tool *)k->tool)[n].count;
    for (uint32_t n = 0; n < k->places; n++)
        if (strcmp(k->place[n].id, t->id) == 0)
            count = &((bpi_place *)k->place)[n].count;
    ck_assert_ptr_nonnull(count);
    name("in use at once", NULL, NULL);
    t->count = *count = peak - 1; /* told right, so that only its use is wrong */
    return DONE;
}

static bp_draw *draw_at(uint32_t i)
{
    return i < plan->draws ? (bp_draw *)&plan->draw[i] : NULL;
}

static bp_circuit *circuit_at(uint32_t i)
{
    return i < plan->circuits ? (bp_circuit *)&plan->circuit[i] : NULL;
}

static did draw_is_told_less(uint32_t i)
{
    bp_draw *d = draw_at(i);
    if (!d)
        return NO_MORE;
    name(plan->op[d->op].key, NULL, NULL);
    d->watts--;
    return DONE;
}

static did draw_is_from_another_circuit(uint32_t i)
{
    bp_draw *d = draw_at(i);
    if (!d)
        return NO_MORE;
    name(plan->op[d->op].key, NULL, NULL);
    d->circuit = (d->circuit + 1) % plan->circuits;
    return DONE;
}

static did draw_refers_to_nothing(uint32_t i)
{
    bp_draw *d = draw_at(i / 2);
    if (!d)
        return NO_MORE;
    name("refers to nothing", NULL, NULL);
    *(i % 2 ? &d->op : &d->circuit) = i % 2 ? plan->ops : plan->circuits;
    return DONE;
}

static did circuit_is_not_told(uint32_t i)
{
    if (i >= plan->circuits)
        return NO_MORE;
    name("circuits", NULL, NULL);
    plan->circuits--;
    return i ? NOT_HERE : DONE;
}

static did circuit_tells_more_amperes(uint32_t i)
{
    bp_circuit *c = circuit_at(i);
    if (!c)
        return NO_MORE;
    name(c->id, NULL, NULL);
    c->amperes++;
    return DONE;
}

static did circuit_tells_less_at_most(uint32_t i)
{
    bp_circuit *c = circuit_at(i);
    if (!c)
        return NO_MORE;
    name(c->id, NULL, NULL);
    c->most--;
    return DONE;
}

static did circuit_tells_the_most_at_another_time(uint32_t i)
{
    bp_circuit *c = circuit_at(i);
    if (!c)
        return NO_MORE;
    name(c->id, NULL, NULL);
    c->most_at += 60;
    return DONE;
}

static bp_stand *stand_at(uint32_t i)
{
    return i < plan->stands ? (bp_stand *)&plan->stand[i] : NULL;
}

/* Small bowls are not asked for: they are counted from what is measured. */
static did one_less_stands_on_the_set(uint32_t i)
{
    bp_stand *s = stand_at(i);
    if (!s)
        return NO_MORE;
    if (strcmp(s->item, "small bowl") == 0)
        return NOT_HERE;
    name(s->kind == BP_GOOD_SUPPLY ? plan->air[s->air].id : plan->container[s->container].code,
         NULL, NULL);
    s->count--;
    return DONE;
}

static did what_stands_refers_to_nothing(uint32_t i)
{
    bp_stand *s = stand_at(i / 3);
    if (!s)
        return NO_MORE;
    name("stand", NULL, NULL);
    *(i % 3 == 0 ? &s->air : i % 3 == 1 ? &s->container : &s->beat) = 1000;
    return DONE;
}

static bp_pack *pack_at(uint32_t i)
{
    bp_pack *x = i < plan->packs ? (bp_pack *)&plan->pack[i] : NULL;
    if (x)
        name("packed", "in use", "pack");
    return x;
}

static did one_more_is_packed(uint32_t i)
{
    bp_pack *x = pack_at(i);
    if (!x)
        return NO_MORE;
    if (strcmp(x->item, "small bowl") == 0)
        return NOT_HERE;
    x->count++;
    return DONE;
}

static did one_less_is_in_use(uint32_t i)
{
    bp_pack *x = pack_at(i);
    if (!x)
        return NO_MORE;
    if (x->kind == BP_GOOD_SUPPLY || strcmp(x->item, "small bowl") == 0)
        return NOT_HERE;
    x->in_use--;
    return DONE;
}

static did somebody_else_provides_it(uint32_t i)
{
    bp_pack *x = pack_at(i);
    if (!x)
        return NO_MORE;
    if (strcmp(x->item, "small bowl") == 0)
        return NOT_HERE;
    name("who provides it", NULL, NULL);
    x->provided = !x->provided;
    return DONE;
}

static did the_pull_list_has_another_provide_it(uint32_t i)
{
    bp_good *g = i < plan->goods ? (bp_good *)&plan->good[i] : NULL;
    if (!g)
        return NO_MORE;
    if (g->kind == BP_GOOD_FOOD || strcmp(g->item, "small bowl") == 0)
        return NOT_HERE;
    name("on the pull list", NULL, NULL);
    g->provided = !g->provided;
    return DONE;
}

static did what_is_packed_refers_to_nothing(uint32_t i)
{
    bp_pack *x = pack_at(i / 2);
    if (!x)
        return NO_MORE;
    if (i % 2)
        x->use = x->use == BP_PACK_KITCHEN ? BP_PACK_SET : BP_PACK_KITCHEN;
    else
        x->air = x->air == BP_NO_INDEX ? 0 : 1000;
    return DONE;
}

/* Told right in the plan, so that only what is drawn is wrong. */
static did circuit_carries_less_than_is_drawn(uint32_t i)
{
    bp_circuit *told = circuit_at(i);
    bpi_circuit *is = told ? (bpi_circuit *)&show->kitchen.circuit[i] : NULL;
    if (!is)
        return NO_MORE;
    name("at once", NULL, NULL);
    told->volts = is->volts = 1;
    told->amperes = is->amperes = told->watts = told->most - 1;
    return DONE;
}

static did a_tool_draws_more(uint32_t i)
{
    if (i >= show->kitchen.tools)
        return NO_MORE;
    bpi_tool *t = (bpi_tool *)&show->kitchen.tool[i];
    if (t->circuit == BPI_NO_INDEX)
        return NOT_HERE;
    t->watts++;
    name("draws", NULL, NULL);
    return DONE;
}

static did the_burners_draw_more(uint32_t i)
{
    if (i > 0)
        return NO_MORE;
    if (show->kitchen.burner_circuit == BPI_NO_INDEX)
        return NOT_HERE;
    show->kitchen.burner_watts++;
    name("draws", NULL, NULL);
    return DONE;
}

static did an_oven_heats_slowly(uint32_t i)
{
    if (i >= show->kitchen.ovens)
        return NO_MORE;
    bpi_oven *o = (bpi_oven *)&show->kitchen.oven[i];
    uint32_t thing = 0;
    while (plan->thing[thing].kind != BP_OVEN || strcmp(plan->thing[thing].id, o->id) != 0)
        thing++;
    if (peak_of(thing) == 0)
        return NOT_HERE;
    o->heat_mC_min = 1;
    name("is not hot then", NULL, NULL);
    return DONE;
}

static did an_oven_stands_hot_and_empty(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (op && op->kind != BP_OP_PREHEAT)
        return NOT_HERE;
    for (uint32_t k = 0; op && k < show->kitchen.ovens; k++) {
        op->from -= show->kitchen.oven[k].idle + 60;
        op->to = op->from + 60;
    }
    name("stands hot and empty too long", NULL, NULL);
    return d;
}

static did an_oven_is_switched_on_while_it_is_on(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->kind != BP_OP_PREHEAT)
        return op ? NOT_HERE : d;
    bp_op *other = op_at(i == 0 ? 1 : 0);
    char *key = malloc(strlen(op->key) + 3); /* undo() brings the old one back */
    ck_assert_ptr_nonnull(key);
    sprintf(key, "%s/7", op->key);
    *other = *op;
    other->key = key;
    name("it is switched on 2 times", NULL, NULL);
    extra = key;
    return d;
}

/* Either alone is as long as it keeps; both together are longer. */
static did counter_and_set_together_are_too_long(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->kind != BP_OP_WAIT)
        return op ? NOT_HERE : d;
    const bp_container *c = &plan->container[plan->index[op->serves.first]];
    const bp_op *carry = NULL;
    bool counter = false;
    for (uint32_t k = 0; k < plan->ops; k++)
        if (plan->op[k].kind == BP_OP_CARRY && plan->op[k].to == c->on_set &&
            plan->index[plan->op[k].serves.first] == plan->index[op->serves.first])
            carry = &plan->op[k];
    for (uint32_t k = 0; k < op->uses.n; k++)
        counter |= plan->thing[plan->index[op->uses.first + k]].kind == BP_PLACE_COUNTER;
    int64_t waits = op->to - op->from, stands = c->last - c->on_set;
    d = NOT_HERE;
    for (uint32_t r = 0; carry && carry->from == op->to && counter && r < show->recipes; r++)
        for (uint32_t k = 0; k < show->recipe[r].steps; k++) {
            bpi_step *s = (bpi_step *)&show->recipe[r].step[k];
            char part[80];
            snprintf(part, sizeof part, "/wait/%s/set", s->id);
            if (!strstr(op->key, part) || !s->hold_stated || stands <= 0)
                continue;
            s->hold[BPI_COUNTER] = s->hold_set = waits > stands ? waits : stands;
            d = DONE;
        }
    name("after the counter", NULL, NULL);
    return d;
}

static did more_goes_in_on_air(uint32_t i)
{
    did d;
    bp_op *op = take_op(i, &d);
    if (!op || op->kind != BP_OP_MEASURE)
        return op ? NOT_HERE : d;
    for (uint32_t r = 0; r < show->recipes; r++)
        for (uint32_t s = 0; s < show->recipe[r].steps; s++)
            ((bpi_step *)&show->recipe[r].step[s])->ingredients += 9;
    return d;
}

/* Only the change, up and down: it starts as hot as it gets. */
static did an_oven_changes_slowly(uint32_t i)
{
    if (i >= show->kitchen.ovens)
        return NO_MORE;
    bpi_oven *o = (bpi_oven *)&show->kitchen.oven[i];
    int32_t first = BP_NO_TEMP;
    bool two = false;
    for (uint32_t k = 0; k < plan->ops; k++)
        if (plan->op[k].kind == BP_OP_OVEN) {
            two |= first != BP_NO_TEMP && first != plan->op[k].oven_mC;
            first = plan->op[k].oven_mC;
        }
    if (!two || show->kitchen.ovens > 1)
        return NOT_HERE;
    o->cold_mC = 1000000;
    o->heat_mC_min = o->cool_mC_min = 1;
    name("has not changed", NULL, NULL);
    return DONE;
}

#define SHOW(title, times, change)                                                                 \
    static did title(uint32_t i)                                                                   \
    {                                                                                              \
        if (i >= (times))                                                                          \
            return NO_MORE;                                                                        \
        change;                                                                                    \
        return DONE;                                                                               \
    }
#define SEGMENT(i) ((bpi_segment *)&show->segment[i])
SHOW(carrying_takes_longer, 1, show->kitchen.carry += 60; name(".carry", NULL, NULL))
SHOW(taking_off_takes_longer, 1, show->kitchen.take_off += 60; name("/take-off", NULL, NULL))
SHOW(loading_takes_longer, 1, show->kitchen.load += 60; name("/load", NULL, NULL))
SHOW(another_hand_is_asked_for, show->segments, SEGMENT(i)->hands++;
     name(SEGMENT(i)->id, NULL, NULL))
SHOW(one_more_is_to_eat, show->segments, SEGMENT(i)->hosts++; name(SEGMENT(i)->id, NULL, NULL))
SHOW(the_lead_is_longer, show->segments, SEGMENT(i)->lead += 60; name(SEGMENT(i)->id, NULL, NULL))
SHOW(the_slot_is_longer, show->segments, SEGMENT(i)->slot++; name(SEGMENT(i)->id, NULL, NULL))
SHOW(the_segment_is_hit_later, show->segments, ((bpi_hit *)SEGMENT(i)->hit)->at += 60;
     name(SEGMENT(i)->id, NULL, NULL))

static did clearing_the_set_takes_longer(uint32_t i)
{
    bp_op *op = op_at(i);
    if (!op)
        return NO_MORE;
    if (op->kind != BP_OP_RESET)
        return NOT_HERE;
    for (uint32_t g = 0; g < show->segments; g++)
        SEGMENT(g)->reset = op->to - op->from + 60;
    name(op->key, NULL, NULL);
    return DONE;
}

static bpi_dish *dish_at(uint32_t i)
{
    for (uint32_t g = 0; g < show->segments; g++) {
        if (i < show->segment[g].dishes)
            return (bpi_dish *)&show->segment[g].dish[i];
        i -= show->segment[g].dishes;
    }
    return NULL;
}

static did another_spare_is_asked_for(uint32_t i)
{
    bpi_dish *d = dish_at(i);
    if (!d)
        return NO_MORE;
    d->spares[BPI_FINISHED]++;
    name("spares of this state", NULL, NULL);
    return DONE;
}

static did who_eats_of_it_changes(uint32_t i)
{
    bpi_dish *d = dish_at(i);
    if (!d)
        return NO_MORE;
    bool any = false;
    for (uint32_t a = 0; a < plan->airs; a++)
        any |= plan->air[a].portions > 0;
    if (!any)
        return NOT_HERE;
    d->taste = !d->taste;
    name(d->id, NULL, NULL);
    return DONE;
}

static did a_container_is_to_be_larger(uint32_t i)
{
    bpi_dish *d = dish_at(i);
    if (!d)
        return NO_MORE;
    d->size[BPI_FINISHED].num += d->size[BPI_FINISHED].den;
    name("its size", NULL, NULL);
    return DONE;
}

static bpi_beat *written_at(uint32_t i)
{
    for (uint32_t g = 0; g < show->segments; g++) {
        if (i < show->segment[g].beats)
            return (bpi_beat *)&show->segment[g].beat[i];
        i -= show->segment[g].beats;
    }
    return NULL;
}

static did a_beat_needs_its_dish_in_another_state(uint32_t i)
{
    bpi_beat *b = written_at(i);
    if (!b)
        return NO_MORE;
    if (b->dish == BPI_NO_INDEX || b->shows != BPI_SHOWS_FINISHED)
        return NOT_HERE;
    b->shows = BPI_SHOWS_AFTER;
    b->after = 0;
    name(b->id, NULL, NULL);
    return DONE;
}

static did a_beat_does_what_comes_last(uint32_t i)
{
    static uint32_t last[1];
    bpi_beat *b = written_at(i);
    if (!b)
        return NO_MORE;
    if (b->dish == BPI_NO_INDEX || b->shows != BPI_SHOWS_STEPS || b->does_n == 0)
        return NOT_HERE;
    for (uint32_t g = 0; g < show->segments; g++)
        if (b >= show->segment[g].beat && b < show->segment[g].beat + show->segment[g].beats) {
            const bpi_recipe *r = &show->recipe[show->segment[g].dish[b->dish].recipe];
            last[0] = r->order[r->steps - 1];
            if (b->does[0] == last[0])
                return NOT_HERE;
        }
    b->does = last;
    b->does_n = 1;
    name(b->id, NULL, NULL);
    return DONE;
}

static did a_beat_takes_longer_than_it_has(uint32_t i)
{
    bpi_beat *b = written_at(i);
    if (!b)
        return NO_MORE;
    b->time.least = b->time.likely = b->time.most = b->time.most + 1;
    name(b->id, NULL, NULL);
    return DONE;
}

/* Dropped in the plan, number i of the first appearance; its show has it written. */
static bpi_beat *dropped(uint32_t i, did *d)
{
    bpi_beat *b = written_at(i);
    *d = b ? NOT_HERE : NO_MORE;
    for (uint32_t k = 0; b && k < plan->beats; k++)
        if (strcmp(plan->beat[k].id, b->id) == 0) {
            ((bp_beat *)&plan->beat[k])->dropped = true;
            *d = DONE;
        }
    return *d == DONE ? b : NULL;
}

static did a_beat_must_stay_and_is_dropped(uint32_t i)
{
    did d;
    bpi_beat *b = dropped(i, &d);
    if (b)
        b->keep = true;
    name("it must stay", NULL, NULL);
    return d;
}

static did a_beat_needs_one_that_is_dropped(uint32_t i)
{
    did d;
    bpi_beat *b = dropped(i, &d);
    for (uint32_t g = 0; b && g < show->segments; g++) {
        const bpi_segment *seg = &show->segment[g];
        if (b < seg->beat || b >= seg->beat + seg->beats)
            continue;
        if (seg->beats < 2)
            return NOT_HERE;
        ((bpi_beat *)seg->beat)[b == seg->beat ? 1 : 0].needs |= UINT64_C(1) << (b - seg->beat);
    }
    name("which is dropped", NULL, NULL);
    return d;
}

/* A step comes to depend on one that its plan does later. */
static did a_step_comes_after_the_last(uint32_t i)
{
    uint32_t r = 0, at = i;
    while (r < show->recipes && at >= show->recipe[r].steps)
        at -= show->recipe[r++].steps;
    if (r == show->recipes)
        return NO_MORE;
    const bpi_recipe *recipe = &show->recipe[r];
    uint32_t last = recipe->order[recipe->steps - 1];
    bpi_step *s = (bpi_step *)&recipe->step[at];
    if (at == last || !is_done_ahead(&recipe->step[last]) || !is_done_ahead(s) ||
        s->ahead != BPI_NO_INDEX)
        return NOT_HERE;
    s->after |= UINT64_C(1) << last;
    s->before_all |= UINT64_C(1) << last;
    name(s->id, recipe->step[last].id, "steps lack");
    return DONE;
}

/* ---- drafts ------------------------------------------------------------------------------ */

static did a_draft_may_use_less(uint32_t i)
{
    if (i >= 2 * show->segments)
        return NO_MORE;
    bpi_segment *g = (bpi_segment *)&show->segment[i / 2];
    if (g->beats > 0)
        return NOT_HERE;
    g->draft.stated = true;
    if (i % 2)
        g->draft.swaps = 1;
    else
        g->draft.burners = 0;
    name("swap-outs stand on its set", "burners are in use on its set", NULL);
    return DONE;
}

/* ---- stations ---------------------------------------------------------------------------- */

BEAT(beat_is_walked_to_longer, b->walk++)
BEAT(beat_is_somewhere_else, b->place++)
BEAT(beat_is_at_another_post, b->post++)
BEAT(beat_has_more_room, b->room++)
BEAT(beat_crosses_what_it_does_not, b->crosses = b->crosses[0] ? "" : "past the stove")

BEAT(beat_has_its_camera_later, b->camera_late++)
BEAT(beat_has_another_camera, b->camera = "crane")
BEAT(beat_has_a_slower_camera, b->camera_move++)

/* Number i of all stations; NULL: there are no more. */
static bpi_station *station_at(uint32_t i)
{
    for (uint32_t g = 0; g < show->segments; g++) {
        if (i < show->segment[g].stations)
            return (bpi_station *)&show->segment[g].station[i];
        i -= show->segment[g].stations;
    }
    return NULL;
}

static did a_station_is_farther_away(uint32_t i)
{
    bpi_station *s = station_at(i);
    if (!s)
        return NO_MORE;
    if (s->walk == 0)
        return NOT_HERE;
    s->walk++;
    name("how far it is walked to it", NULL, NULL);
    return DONE;
}

/* So slow that no time between two beats is enough. */
static did a_camera_takes_longer(uint32_t i)
{
    for (uint32_t g = 0; g < show->segments; i -= show->segment[g++].cameras) {
        if (i >= show->segment[g].cameras)
            continue;
        bpi_camera *c = (bpi_camera *)&show->segment[g].camera[i];
        if (c->move == 0)
            return NOT_HERE;
        c->move = 600;
        name("how late its camera is", "its camera is told wrong", NULL);
        return DONE;
    }
    return NO_MORE;
}

static did a_station_has_no_room(uint32_t i)
{
    bpi_station *s = station_at(i);
    if (!s)
        return NO_MORE;
    s->room = 0;
    name(s->id, NULL, NULL);
    return DONE;
}

/* ---- lines, claims, answers ---------------------------------------------------------------- */

static bp_claim *claim_at(uint32_t i)
{
    return i < plan->claims ? (bp_claim *)&plan->claim[i] : NULL;
}

static did claim_is_judged_otherwise(uint32_t i)
{
    bp_claim *c = claim_at(i / 2);
    if (!c)
        return NO_MORE;
    c->holds = (bp_truth)(((int)c->holds + 1 + (int)(i % 2)) % 3);
    name(plan->beat[c->beat].id, NULL, NULL);
    return DONE;
}

static did claim_is_of_another_dish(uint32_t i)
{
    bp_claim *c = claim_at(i);
    if (!c)
        return NO_MORE;
    c->dish = "nothing";
    name("not that of the show", NULL, NULL);
    return DONE;
}

static did claim_is_said_elsewhere(uint32_t i)
{
    bp_claim *c = claim_at(i);
    if (!c)
        return NO_MORE;
    name(plan->beat[c->beat].id, NULL, NULL);
    c->beat++;
    return DONE;
}

static did claim_is_judged_by_no_rule(uint32_t i)
{
    bp_claim *c = claim_at(i);
    if (!c)
        return NO_MORE;
    if (c->holds == BP_UNSURE)
        return NOT_HERE;
    c->rule = "";
    name("without a rule", NULL, NULL);
    return DONE;
}

static did there_is_less_in_the_food(uint32_t i)
{
    bp_claim *c = claim_at(i);
    if (!c)
        return NO_MORE;
    if (c->holds != BP_YES)
        return NOT_HERE;
    for (uint32_t r = 0; r < show->recipes; r++)
        for (int n = 0; n < BPI_NUTRIENTS; n++)
            ((bpi_recipe *)&show->recipe[r])->nutrition.amount[n] /= 9;
    name(plan->beat[c->beat].id, NULL, NULL);
    return DONE;
}

static did line_reads_otherwise(uint32_t i)
{
    if (i >= plan->lines)
        return NO_MORE;
    ((bp_line *)&plan->line[i])->text = "nothing";
    name("graphic", "supers", NULL);
    return DONE;
}

static did line_goes_at_once(uint32_t i)
{
    if (i >= plan->lines)
        return NO_MORE;
    ((bp_line *)&plan->line[i])->up = 1;
    name("read a line", NULL, NULL);
    return DONE;
}

static did beat_has_one_line_less(uint32_t i)
{
    bp_beat *b = beat_at(i);
    if (!b)
        return NO_MORE;
    if (b->lines.n == 0)
        return NOT_HERE;
    b->lines.n--;
    name(b->id, NULL, NULL);
    return DONE;
}

static did answer_says_something_else(uint32_t i)
{
    if (i >= plan->replies)
        return NO_MORE;
    ((bp_reply *)&plan->reply[i])->say = "nothing";
    name("answer", NULL, NULL);
    return DONE;
}

static did there_is_one_answer_less(uint32_t i)
{
    if (i > 0 || plan->replies == 0)
        return NO_MORE;
    plan->replies--;
    name("answer", NULL, NULL);
    return DONE;
}

/* What is done for what is cooked ahead is a step of the dish, or is for what another step makes. */
static did a_step_is_no_more_for_what_is_cooked_ahead(uint32_t i)
{
    bpi_step *s = step_at(i);
    if (!s)
        return NO_MORE;
    if (s->ahead == BPI_NO_INDEX || !is_done_ahead(s))
        return NOT_HERE;
    s->ahead = BPI_NO_INDEX;
    name(s->id, NULL, NULL);
    return DONE;
}

static did a_step_is_for_what_another_cooks_ahead(uint32_t i)
{
    bpi_step *s = step_at(i);
    if (!s)
        return NO_MORE;
    if (s->ahead == BPI_NO_INDEX || !is_done_ahead(s))
        return NOT_HERE;
    s->ahead = s->ahead ? s->ahead - 1 : s->ahead + 1;
    name(s->id, s[1].id, "cooked ahead");
    return DONE;
}

/* ---- the table --------------------------------------------------------------------------- */

static const struct {
    const char *name;
    did (*change)(uint32_t place);
} changes[] = {
#define ROW(f)                                                                                     \
    {                                                                                              \
#f, f                                                                                      \
    }
    ROW(op_starts_later),
    ROW(op_is_longer),
    ROW(op_is_shorter),
    ROW(op_is_off_the_minute),
    ROW(op_has_nobody),
    ROW(op_unattended_has_a_cook),
    ROW(op_is_given_to_a_busy_cook),
    ROW(op_is_of_another_kind),
    ROW(op_is_missing),
    ROW(op_has_the_key_of_another),
    ROW(op_serves_another_container),
    ROW(op_serves_nobody),
    ROW(op_occupies_nothing),
    ROW(op_is_too_hot),
    ROW(op_has_another_core),
    ROW(op_tells_another_window),
    ROW(op_tells_another_hold),
    ROW(op_could_start_before_it_does),
    ROW(op_is_for_another_appearance),
    ROW(op_numbers_are_out_of_range),
    ROW(op_waits_in_the_wrong_place),
    ROW(beat_is_longer),
    ROW(beat_starts_later),
    ROW(beat_tells_wrong_time_in),
    ROW(beat_tells_wrong_time_left),
    ROW(beat_has_a_least_above_its_length),
    ROW(beat_has_a_most_below_its_length),
    ROW(beat_has_another_likely),
    ROW(beat_tells_wrong_whether_words_set_it),
    ROW(beat_has_other_words),
    ROW(beat_is_another),
    ROW(beat_tells_wrong_whether_it_is_a_tasting),
    ROW(beat_tells_wrong_whether_it_stays),
    ROW(beat_is_worth_another_figure),
    ROW(beat_forgets_what_it_needs),
    ROW(beat_stands_beside_nothing),
    ROW(version_is_longer),
    ROW(version_is_shorter),
    ROW(version_ends_before_it_begins),
    ROW(version_keeps_what_is_not_there),
    ROW(version_leaves_out_what_must_stay),
    ROW(version_has_no_lengths),
    ROW(version_has_lengths_of_another),
    ROW(version_needs_all),
    ROW(version_is_out_of_range),
    ROW(beat_has_silent_words),
    ROW(beat_says_more_than_it_can),
    ROW(beat_says_nothing_for_long),
    ROW(beat_needs_itself),
    ROW(beat_on_air_is_not_ready),
    ROW(beat_refers_to_no_dish),
    ROW(beat_works_with_nothing),
    ROW(beat_brings_nothing_on),
    ROW(beat_takes_nothing_off),
    ROW(beat_is_dropped),
    ROW(box_lacks_a_step),
    ROW(box_has_another_step),
    ROW(box_is_of_another_stage),
    ROW(box_is_of_stage_finished),
    ROW(box_must_be_set_earlier),
    ROW(box_must_be_set_later),
    ROW(box_is_on_set_earlier),
    ROW(box_is_on_set_later),
    ROW(box_is_on_set_too_late),
    ROW(box_is_never_on_set),
    ROW(box_is_needed_earlier),
    ROW(box_is_needed_longer),
    ROW(box_is_needed_shorter),
    ROW(box_keeps_otherwise),
    ROW(box_says_it_is_late),
    ROW(box_feeds_one_more),
    ROW(box_is_of_another_size),
    ROW(box_bears_an_earlier_hit),
    ROW(box_bears_no_hit_so_early),
    ROW(box_bears_a_later_hit),
    ROW(box_bears_no_hit_so_late),
    ROW(box_bears_any_hit),
    ROW(box_is_too_small_to_taste),
    ROW(box_comes_otherwise_hot),
    ROW(box_is_hot_after_no_beat),
    ROW(box_is_hot_after_a_beat_too_many),
    ROW(box_has_the_code_of_another),
    ROW(box_comes_on_in_another_beat),
    ROW(box_is_of_another_dish),
    ROW(box_is_called_finished),
    ROW(box_is_called_measured),
    ROW(box_stands_elsewhere),
    ROW(box_has_another_role),
    ROW(air_has_another_slot),
    ROW(air_is_hit_at_another_time),
    ROW(air_is_set_by_another_time),
    ROW(air_floats_longer),
    ROW(air_feeds_one_more),
    ROW(air_miscounts_its_hits),
    ROW(air_tells_wrong_whether_it_is_a_draft),
    ROW(air_has_no_teases),
    ROW(air_has_too_many_beats),
    ROW(tease_is_at_another_time),
    ROW(tease_shows_another_container),
    ROW(stint_is_called_earlier),
    ROW(stint_is_called_later),
    ROW(stint_ends_at_once),
    ROW(stint_ends_after_the_wrap),
    ROW(stint_is_in_another_shift),
    ROW(thing_is_there_once_more),
    ROW(goal_is_told_better),
    ROW(crew_time_is_told_otherwise),
    ROW(lateness_is_told_where_none_is),
    ROW(plan_is_called_late),
    ROW(plan_is_called_proved),
    ROW(step_takes_longer),
    ROW(step_is_another_kind),
    ROW(step_is_or_is_not_done_together),
    ROW(each_takes_longer),
    ROW(a_job_takes_fewer_containers),
    ROW(step_wants_a_skill_nobody_has),
    ROW(step_wants_a_second_cook),
    ROW(step_is_hotter),
    ROW(step_wants_a_burner),
    ROW(step_wants_a_tool),
    ROW(a_wait_is_longer_than_the_hold),
    ROW(the_set_keeps_less),
    ROW(a_cook_comes_later),
    ROW(a_cook_goes_earlier),
    ROW(a_cook_has_a_break),
    ROW(there_is_one_less_than_is_in_use),
    ROW(draw_is_told_less),
    ROW(one_less_stands_on_the_set),
    ROW(one_more_is_packed),
    ROW(one_less_is_in_use),
    ROW(somebody_else_provides_it),
    ROW(what_is_packed_refers_to_nothing),
    ROW(the_pull_list_has_another_provide_it),
    ROW(what_stands_refers_to_nothing),
    ROW(draw_is_from_another_circuit),
    ROW(draw_refers_to_nothing),
    ROW(circuit_is_not_told),
    ROW(circuit_tells_more_amperes),
    ROW(circuit_tells_less_at_most),
    ROW(circuit_tells_the_most_at_another_time),
    ROW(circuit_carries_less_than_is_drawn),
    ROW(a_tool_draws_more),
    ROW(the_burners_draw_more),
    ROW(an_oven_heats_slowly),
    ROW(an_oven_stands_hot_and_empty),
    ROW(an_oven_is_switched_on_while_it_is_on),
    ROW(an_oven_changes_slowly),
    ROW(counter_and_set_together_are_too_long),
    ROW(more_goes_in_on_air),
    ROW(carrying_takes_longer),
    ROW(taking_off_takes_longer),
    ROW(loading_takes_longer),
    ROW(another_hand_is_asked_for),
    ROW(one_more_is_to_eat),
    ROW(the_lead_is_longer),
    ROW(the_slot_is_longer),
    ROW(the_segment_is_hit_later),
    ROW(clearing_the_set_takes_longer),
    ROW(another_spare_is_asked_for),
    ROW(who_eats_of_it_changes),
    ROW(a_container_is_to_be_larger),
    ROW(a_beat_needs_its_dish_in_another_state),
    ROW(a_beat_does_what_comes_last),
    ROW(a_beat_takes_longer_than_it_has),
    ROW(a_beat_must_stay_and_is_dropped),
    ROW(a_beat_needs_one_that_is_dropped),
    ROW(a_step_comes_after_the_last),
    ROW(beat_is_walked_to_longer),
    ROW(beat_is_somewhere_else),
    ROW(beat_is_at_another_post),
    ROW(beat_has_more_room),
    ROW(beat_crosses_what_it_does_not),
    ROW(beat_has_its_camera_later),
    ROW(beat_has_another_camera),
    ROW(beat_has_a_slower_camera),
    ROW(a_camera_takes_longer),
    ROW(a_station_is_farther_away),
    ROW(a_station_has_no_room),
    ROW(a_draft_may_use_less),
    ROW(claim_is_judged_otherwise),
    ROW(claim_is_of_another_dish),
    ROW(claim_is_said_elsewhere),
    ROW(claim_is_judged_by_no_rule),
    ROW(there_is_less_in_the_food),
    ROW(line_reads_otherwise),
    ROW(line_goes_at_once),
    ROW(beat_has_one_line_less),
    ROW(answer_says_something_else),
    ROW(there_is_one_answer_less),
    ROW(a_step_is_no_more_for_what_is_cooked_ahead),
    ROW(a_step_is_for_what_another_cooks_ahead),
#undef ROW
};

/* ---- making a change, and undoing it ------------------------------------------------------ */

/* Copies of everything that a change may touch. */
typedef struct copy {
    void *of, *bytes;
    size_t size;
} copy;
static copy copies[400];
static size_t copied;

static void keep(const void *of, size_t n, size_t size)
{
    if (n == 0)
        return;
    ck_assert_uint_lt(copied, sizeof copies / sizeof *copies);
    copy *c = &copies[copied++];
    *c = (copy){(void *)of, malloc(n * size), n * size};
    ck_assert_ptr_nonnull(c->bytes);
    memcpy(c->bytes, of, c->size);
}

static void keep_all(void)
{
    copied = 0;
    keep(plan, 1, sizeof *plan);
    keep(plan->op, plan->ops, sizeof *plan->op);
    keep(plan->container, plan->containers, sizeof *plan->container);
    keep(plan->beat, plan->beats, sizeof *plan->beat);
    keep(plan->air, plan->airs, sizeof *plan->air);
    keep(plan->tease, plan->teases, sizeof *plan->tease);
    keep(plan->stand, plan->stands, sizeof *plan->stand);
    keep(plan->pack, plan->packs, sizeof *plan->pack);
    keep(plan->good, plan->goods, sizeof *plan->good);
    keep(plan->stint, plan->stints, sizeof *plan->stint);
    keep(plan->thing, plan->things, sizeof *plan->thing);
    keep(plan->goal, plan->goals, sizeof *plan->goal);
    keep(plan->index, plan->indexes, sizeof *plan->index);
    keep(plan->circuit, plan->circuits, sizeof *plan->circuit);
    keep(plan->draw, plan->draws, sizeof *plan->draw);
    const bpi_kitchen *k = &show->kitchen;
    keep(plan->version, plan->versions, sizeof *plan->version);
    keep(plan->line, plan->lines, sizeof *plan->line);
    keep(plan->claim, plan->claims, sizeof *plan->claim);
    keep(plan->reply, plan->replies, sizeof *plan->reply);
    keep(show->recipe, show->recipes, sizeof *show->recipe);
    keep(show, 1, sizeof *show);
    keep(k->cook, k->cooks, sizeof *k->cook);
    keep(k->oven, k->ovens, sizeof *k->oven);
    keep(k->tool, k->tools, sizeof *k->tool);
    keep(k->place, k->places, sizeof *k->place);
    keep(k->circuit, k->circuits, sizeof *k->circuit);
    for (uint32_t i = 0; i < k->cooks; i++)
        keep(k->cook[i].shift, k->cook[i].shifts, sizeof *k->cook[i].shift);
    for (uint32_t i = 0; i < show->recipes; i++)
        keep(show->recipe[i].step, show->recipe[i].steps, sizeof *show->recipe[i].step);
    keep(show->segment, show->segments, sizeof *show->segment);
    for (uint32_t i = 0; i < show->segments; i++) {
        const bpi_segment *g = &show->segment[i];
        keep(g->dish, g->dishes, sizeof *g->dish);
        keep(g->beat, g->beats, sizeof *g->beat);
        keep(g->hit, g->hits, sizeof *g->hit);
        keep(g->station, g->stations, sizeof *g->station);
        keep(g->camera, g->cameras, sizeof *g->camera);
    }
}

static void undo(void)
{
    for (size_t i = 0; i < copied; i++)
        memcpy(copies[i].of, copies[i].bytes, copies[i].size);
    free(extra);
    extra = NULL;
}

static bp_code verify(void)
{
    memset(&errs, 0, sizeof errs);
    return bp_plan_verify(plan, show, &errs);
}

static bp_code open_and_make(const char *file)
{
    bp_plan_options options = {.work = WORK};
    memset(&errs, 0, sizeof errs);
    ck_assert_int_eq(bp_show_open(&show, file, &errs), BP_OK);
    return bp_plan_make(&plan, show, &options, &errs);
}

static void done(void)
{
    for (size_t i = 0; i < copied; i++)
        free(copies[i].bytes);
    copied = 0;
    bp_plan_free(plan);
    bp_show_free(show);
}

static const char *const shows[] = {
    "shows/harbour-breakfast.json",     "shows/orchard-two-segments.json",
    "shows/festival-two-hits.json",     "shows/cottage-remote.json",
    "shows/lock-keeper-day-ahead.json", "tests/plan/shows/one-circuit.json"};
#define SHOWS (sizeof shows / sizeof *shows)

static uint32_t try_everywhere(size_t row)
{
    uint32_t tried = 0;
    for (uint32_t place = 0;; place++) {
        name(NULL, NULL, NULL);
        did d = changes[row].change(place);
        if (d == DONE) {
            bp_code rc = verify();
            ck_assert_msg(rc == BP_EINTERNAL, "%s at %u: no objection (%s)", changes[row].name,
                          place, names[0] ? names[0] : "");
            /* where there is more to object to than is kept, it may be among the rest */
            ck_assert_msg(is_named() || errs.more, "%s at %u: %s is not named but: %s",
                          changes[row].name, place, names[0], errs.item[0].wrong);
            tried++;
        }
        undo();
        if (d == NO_MORE)
            return tried;
    }
}

START_TEST(every_change_is_objected_to_wherever_it_is_made)
{
    static uint32_t tried[sizeof changes / sizeof *changes];
    for (size_t s = 0; s < SHOWS; s++) {
        ck_assert_int_eq(open_and_make(shows[s]), BP_OK);
        ck_assert_int_eq(verify(), BP_OK);
        keep_all();
        for (size_t row = 0; row < sizeof changes / sizeof *changes; row++)
            tried[row] += try_everywhere(row);
        ck_assert_int_eq(verify(), BP_OK); /* all was undone */
        done();
    }
    for (size_t row = 0; row < sizeof changes / sizeof *changes; row++)
        ck_assert_msg(tried[row] > 0, "%s was never tried", changes[row].name);
}
END_TEST

START_TEST(a_late_plan_is_held_to_all_but_its_lateness)
{
    ck_assert_int_eq(open_and_make("shows/one-burner-too-few.json"), BP_ENOFIT);
    ck_assert_int_eq(plan->verdict, BP_LATE);
    ck_assert_int_eq(verify(), BP_OK);
    keep_all();
    plan->verdict = BP_PLANNED;
    ck_assert_int_eq(verify(), BP_EINTERNAL);
    undo();
    static did (*const still[])(uint32_t) = {op_starts_later,
                                             op_is_shorter,
                                             op_has_nobody,
                                             op_is_missing,
                                             box_lacks_a_step,
                                             beat_starts_later,
                                             a_cook_comes_later,
                                             a_cook_has_a_break,
                                             step_takes_longer,
                                             op_occupies_nothing,
                                             there_is_one_less_than_is_in_use};
    for (size_t k = 0; k < sizeof still / sizeof *still; k++) {
        uint32_t tried = 0;
        for (uint32_t place = 0;; place++) {
            did d = still[k](place);
            if (d == DONE) {
                ck_assert_msg(verify() == BP_EINTERNAL, "change %zu at %u", k, place);
                tried++;
            }
            undo();
            if (d == NO_MORE)
                break;
        }
        ck_assert_uint_gt(tried, 0);
    }
    done();
}
END_TEST

/* Greens wilt in a pot for 1 to 2 min while beat 2 is talk of 60 to 80 s, and beat 3 takes them off:
 * one container serves both. With talk that may be shorter, or last longer, it does not. */
static const struct {
    int64_t least, most;
    bool holds;
} talk[] = {{60, 80, true}, {60, 100, true}, {59, 80, false}, {60, 101, false}, {90, 95, true}};

START_TEST(what_cooks_by_itself_on_air_must_come_out_before_the_next_beat)
{
    ck_assert_int_eq(open_and_make("tests/plan/shows/wilts-on-air.json"), BP_OK);
    ck_assert_uint_eq(plan->containers, 2);
    bpi_beat *written = (bpi_beat *)&show->segment[0].beat[1];
    written->time.least = beat_at(1)->least = talk[_i].least;
    written->time.most = beat_at(1)->most = talk[_i].most;
    bp_code rc = verify();
    bool walked = false;
    for (uint32_t e = 0; e < errs.n; e++)
        walked |= strncmp(errs.item[e].wrong, "out: ", 5) == 0;
    ck_assert_msg(walked == !talk[_i].holds, "%lld to %lld s: %s", (long long)talk[_i].least,
                  (long long)talk[_i].most, rc == BP_OK ? "holds" : errs.item[0].wrong);
    done();
}
END_TEST

START_TEST(every_request_for_memory_fails_once)
{
    ck_assert_int_eq(open_and_make(shows[3]), BP_OK);
    long alive = bpi_mem_alive();
    bool fired = true;
    for (long k = 0; fired; k++) {
        memset(&errs, 0, sizeof errs);
        bpi_mem_fail_at(k, 0);
        bp_code rc = bp_plan_verify(plan, show, &errs);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
    done();
}
END_TEST

Suite *suite_plan_verify(void);
Suite *suite_plan_verify(void)
{
    Suite *s = suite_create("plan/verify");
    TCase *c = tcase_create("verify");
    tcase_add_test(c, every_change_is_objected_to_wherever_it_is_made);
    tcase_add_test(c, a_late_plan_is_held_to_all_but_its_lateness);
    tcase_add_loop_test(c, what_cooks_by_itself_on_air_must_come_out_before_the_next_beat, 0,
                        sizeof talk / sizeof *talk);
    tcase_add_test(c, every_request_for_memory_fails_once);
    suite_add_tcase(s, c);
    return s;
}

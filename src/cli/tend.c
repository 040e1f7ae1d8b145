#include "cli/tend.h"

#include <stdio.h>

#include "cli/board.h"
#include "cli/screen.h"

static bp_code kitchen_make(void **out, const bp_plan *plan, bp_errors *errs)
{
    bp_kitchen *kitchen = NULL;
    bp_code rc = bp_kitchen_new(&kitchen, plan, errs);
    *out = kitchen;
    return rc;
}

static void kitchen_drop(void *state)
{
    bp_kitchen_free(state);
}

static bp_code kitchen_can(const void *state, const bp_event *e, bp_errors *errs)
{
    return bp_kitchen_can(state, e, errs);
}

static bp_code kitchen_apply(void *state, const bp_event *e, bp_errors *errs)
{
    return bp_kitchen_apply(state, e, errs);
}

static bp_code kitchen_follow(void *state, const bp_log *log, bp_errors *errs)
{
    return bp_kitchen_follow(state, log, errs);
}

static bool kitchen_behind(const void *state)
{
    return bp_kitchen_is_behind(state);
}

const bpi_day_kind bpi_day_kitchen = {kitchen_make,  kitchen_drop,   kitchen_can,
                                      kitchen_apply, kitchen_follow, kitchen_behind};

bp_code bpi_tend_init(bpi_tend *t, const bp_plan *plan, bp_logbook *book, bp_errors *errs)
{
    *t = (bpi_tend){.plan = plan, .mark = BP_NO_INDEX};
    return bpi_journal_init(&t->log, &bpi_day_kitchen, plan, book, errs);
}

void bpi_tend_release(bpi_tend *t)
{
    bpi_journal_release(&t->log);
    *t = (bpi_tend){0};
}

bp_code bpi_tend_go_on(bpi_tend *t, const bp_plan *plan, bp_errors *errs)
{
    bp_code rc = bpi_journal_anew(&t->log, plan, errs);
    if (rc == BP_OK)
        t->plan = plan;
    return rc;
}

bp_kitchen *bpi_tend_kitchen(const bpi_tend *t)
{
    return t->log.state;
}

static void say(bpi_tend *t, bp_event_kind kind, uint32_t op, int64_t at)
{
    bp_event e = {
        .kind = kind, .at = at, .air = "", .beat = "", .op = t->plan->op[op].key, .text = ""};
    bpi_journal_event(&t->log, &e);
}

void bpi_tend_catch_up(bpi_tend *t, int64_t now)
{
    const bp_plan *p = t->plan;
    for (int64_t at = INT64_MIN, next; at <= now; at = next) { /* a log goes forward */
        next = now + 1;
        for (uint32_t o = 0; o < p->ops; o++) {
            if (!bp_op_is_ticked(p->op[o].kind))
                continue;
            if (p->op[o].to == at)
                say(t, BP_DAY_DONE, o, at);
            if (p->op[o].to > at && p->op[o].to < next)
                next = p->op[o].to;
            if (p->op[o].from > at && p->op[o].from < next)
                next = p->op[o].from;
        }
        for (uint32_t o = 0; o < p->ops; o++)
            if (bp_op_is_ticked(p->op[o].kind) && p->op[o].from == at && at < now)
                say(t, BP_DAY_START, o, at);
    }
}

/* ---- keys ------------------------------------------------------------------------------------ */

/* Nobody begins so long before it is planned by pressing a key twice. */
#define DUE 60 /* s */

static void tick(bpi_tend *t, uint32_t person, int64_t now)
{
    bp_kitchen_view v;
    bp_kitchen_look(&v, bpi_tend_kitchen(t), now);
    uint32_t o = v.at[person];
    if (o == BP_NO_INDEX) {
        snprintf(t->log.message, sizeof t->log.message, "%.60s has done all",
                 t->plan->person[person].name);
        return;
    }
    if (v.task[o].state == BP_TASK_TO_COME) {
        say(t, BP_DAY_START, o, now);
        return;
    }
    say(t, BP_DAY_DONE, o, now);
    if (t->log.message[0])
        return;
    bp_kitchen_look(&v, bpi_tend_kitchen(t), now);
    o = v.at[person];
    if (o != BP_NO_INDEX && v.task[o].state == BP_TASK_TO_COME && t->plan->op[o].from <= now + DUE)
        say(t, BP_DAY_START, o, now);
}

/* What comes after the one that has not begun yet is done first. */
static void swap(bpi_tend *t, uint32_t person, int64_t now)
{
    bp_kitchen_view v;
    bp_kitchen_look(&v, bpi_tend_kitchen(t), now);
    uint32_t o = v.at[person];
    uint32_t next = o == BP_NO_INDEX ? o : bp_kitchen_after(bpi_tend_kitchen(t), &v, o);
    if (next == BP_NO_INDEX)
        snprintf(t->log.message, sizeof t->log.message, "nothing comes next");
    else if (v.task[o].state == BP_TASK_UNDER_WAY)
        snprintf(t->log.message, sizeof t->log.message, "it has begun: end it, or undo it, first");
    else
        say(t, BP_DAY_START, next, now);
}

static void undo(bpi_tend *t, int64_t now)
{
    bp_kitchen_view v;
    bp_kitchen_look(&v, bpi_tend_kitchen(t), now);
    if (v.last == BP_NO_INDEX)
        snprintf(t->log.message, sizeof t->log.message, "there is nothing to undo");
    else
        say(t, BP_DAY_UNDO, v.last, now);
}

static void move_mark(bpi_tend *t, int by)
{
    uint32_t list[BPI_BOARD_PERSONS], n = bpi_board_persons(list, t->plan);
    int at = by > 0 ? -1 : (int)n;
    for (uint32_t i = 0; i < n; i++)
        if (list[i] == t->mark)
            at = (int)i;
    at += by;
    t->mark = at < 0 || at >= (int)n ? BP_NO_INDEX : list[at];
}

void bpi_tend_key(bpi_tend *t, int key, int64_t now)
{
    uint32_t list[BPI_BOARD_PERSONS], n = bpi_board_persons(list, t->plan);
    uint32_t who = t->mark == BP_NO_INDEX && n == 1 ? list[0] : t->mark;
    t->log.message[0] = '\0';
    if (key >= '1' && key <= '9' && (uint32_t)(key - '1') < n) {
        tick(t, list[key - '1'], now);
        return;
    }
    switch (key) {
    case ' ':
    case BPI_KEY_ENTER:
    case 'n':
    case 'N':
        if (who == BP_NO_INDEX)
            snprintf(t->log.message, sizeof t->log.message,
                     "whose? press a number, or mark a cook with UP and DOWN");
        else if (key == 'n' || key == 'N')
            swap(t, who, now);
        else
            tick(t, who, now);
        break;
    case 'u':
    case 'U':
        undo(t, now);
        break;
    case BPI_KEY_UP:
    case BPI_KEY_DOWN:
        move_mark(t, key == BPI_KEY_UP ? -1 : 1);
        break;
    case BPI_KEY_ESCAPE:
        t->mark = BP_NO_INDEX;
        break;
    case 'q':
    case 'Q':
    case BPI_KEY_END:
        t->leave = true;
        break;
    default:
        break;
    }
}

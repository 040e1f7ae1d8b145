/* src/cli/timers.c - on the kitchen's board: what cooks unattended, and what came off too late. */
#include "cli/board.h"

#include <stdio.h>

#include "cli/face.h"

#define NAME BPI_BOARD_NAME

static const bp_op *op_of(const bpi_board *b, uint32_t o)
{
    return &b->plan->op[o];
}

/* ---- what is on ------------------------------------------------------------------------------ */

static int64_t due(const bpi_board *b, uint32_t o)
{
    const bp_task *t = &b->view->task[o];
    return t->off_least != BP_NO_TIME ? t->off_least : t->to;
}

static bool cooks_now(const bpi_board *b, uint32_t o)
{
    bp_op_kind k = op_of(b, o)->kind;
    if (op_of(b, o)->watch && b->view->task[o].state == BP_TASK_UNDER_WAY)
        return b->view->at[op_of(b, o)->person] != o; /* else it stands with its cook */
    return (k == BP_OP_PASSIVE || k == BP_OP_OVEN) && b->view->task[o].state == BP_TASK_UNDER_WAY;
}

/* Is a due before b, or at the same moment and in the plan before it? */
static bool sooner(const bpi_board *b, uint32_t x, uint32_t y)
{
    return due(b, x) != due(b, y) ? due(b, x) < due(b, y) : x < y;
}

static void draw_timer(bpi_grid *g, int row, const bpi_board *b, uint32_t o)
{
    const bp_task *t = &b->view->task[o];
    char right[96], time[BPI_FACE_TIME], least[BP_CLOCK_ROOM], most[BP_CLOCK_ROOM];
    int64_t now = b->view->now, until = t->off_most != BP_NO_TIME ? t->off_most : t->to;
    bpi_look look = BPI_PLAIN;
    bpi_text line = BPI_TEXT_EMPTY;
    bpi_board_minute(least, b->plan, due(b, o));
    bpi_board_minute(most, b->plan, until);
    if (op_of(b, o)->watch)
        snprintf(right, sizeof right, "until %s, in %s", most,
                 bpi_face_time(time, until > now ? until - now : 0, false));
    else if (now < due(b, o))
        snprintf(right, sizeof right, "off %s to %s, in %s", least, most,
                 bpi_face_time(time, due(b, o) - now, false));
    else if (now <= until)
        snprintf(right, sizeof right, "TAKE IT OFF, %s left",
                 bpi_face_time(time, until - now, false));
    else
        snprintf(right, sizeof right, "TOO LONG BY %s", bpi_face_time(time, now - until, false));
    if (now >= due(b, o))
        look = BPI_REVERSE;
    int used = bpi_grid_put_right(g, row, NAME, g->columns - 1, right, look);
    bpi_board_put_codes(&line, b, op_of(b, o));
    if (op_of(b, o)->watch)
        bpi_text_f(&line, " %s watches:", b->plan->person[op_of(b, o)->person].name);
    bpi_text_f(&line, " %s", op_of(b, o)->text);
    bpi_board_draw_text(g, row, NAME, g->columns - NAME - used - 3, &line, BPI_PLAIN);
}

void bpi_board_draw_timers(bpi_grid *g, int row, int end, const bpi_board *b)
{
    uint32_t last = BP_NO_INDEX;
    for (bool first = true; row < end; first = false, row++) {
        uint32_t best = BP_NO_INDEX;
        for (uint32_t o = 0; o < b->plan->ops; o++)
            if (cooks_now(b, o) && (last == BP_NO_INDEX || sooner(b, last, o)) &&
                (best == BP_NO_INDEX || sooner(b, o, best)))
                best = o;
        if (best == BP_NO_INDEX)
            return;
        if (first)
            bpi_grid_put(g, row, 0, NAME - 1, "COOKS", BPI_BOLD);
        draw_timer(g, row, b, best);
        last = best;
    }
}

/* ---- what came off too late ------------------------------------------------------------------ */

static bool is_to_come(const bpi_board *b, const bp_op *op)
{
    for (uint32_t i = 0; i < op->serves.n; i++)
        if (b->view->on_set[b->plan->index[op->serves.first + i]] > b->view->now)
            return true;
    return false;
}

void bpi_board_put_overdone(bpi_text *out, const bpi_board *b)
{
    for (uint32_t o = 0; o < b->plan->ops; o++) {
        const bp_task *t = &b->view->task[o];
        if (t->state != BP_TASK_DONE || t->started == BP_NO_TIME || t->off_most == BP_NO_TIME ||
            t->done - t->off_most < 60 || !is_to_come(b, op_of(b, o)))
            continue;
        bpi_text codes = BPI_TEXT_EMPTY;
        bpi_board_put_codes(&codes, b, op_of(b, o));
        bpi_text_f(out, "%s%s %d min",
                   out->len ? ", " : "TASTE, ON TOO LONG: ", codes.len ? codes.s : "",
                   (int)((t->done - t->off_most) / 60));
        out->failed |= codes.failed;
        bpi_text_release(&codes);
    }
}

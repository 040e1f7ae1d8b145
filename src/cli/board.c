#include "cli/board.h"

#include <stdio.h>
#include <string.h>

#include "cli/face.h"

#define LARGE    8  /* rows of a block with large figures: its label, the figures          */
#define LOW      6  /* with low ones                                                       */
#define SMALL    3  /* without any: now, what it takes, next                               */
#define MOST     11 /* rows that a block can make use of                                   */
#define FIGURES  27 /* columns of "12:05" in large figures, and a gap                      */
#define NAME     BPI_BOARD_NAME
#define LEAST    2 /* rows kept for what cooks unattended                                 */
#define OVERHEAD 4 /* rows of head, notice, message and keys                              */

uint32_t bpi_board_persons(uint32_t *list, const bp_plan *plan)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < plan->persons; i++) {
        bool works = false;
        for (uint32_t o = 0; o < plan->ops; o++)
            works |= plan->op[o].person == i && bp_op_is_ticked(plan->op[o].kind);
        if (works && n < BPI_BOARD_PERSONS)
            list[n++] = i;
    }
    return n;
}

static const bp_op *op_of(const bpi_board *b, uint32_t o)
{
    return &b->plan->op[o];
}

char *bpi_board_minute(char out[BP_CLOCK_ROOM], const bp_plan *plan, int64_t t)
{
    return bp_plan_clock(out, plan, t - (t % 60 + 60) % 60);
}

/* ---- words ----------------------------------------------------------------------------------- */

void bpi_board_put_codes(bpi_text *out, const bpi_board *b, const bp_op *op)
{
    for (uint32_t i = 0; i < op->serves.n; i++)
        bpi_text_f(out, "%s%s", out->len ? " " : "",
                   b->plan->container[b->plan->index[op->serves.first + i]].code);
}

/* Lines of a text as one. */
static void put_lines(bpi_text *out, const char *lines)
{
    bool first = out->len == 0;
    while (*lines) {
        size_t n = strcspn(lines, "\n");
        bpi_text_f(out, "%s%.*s", first ? "" : "; ", (int)n, lines);
        first = false;
        lines += n + (lines[n] == '\n');
    }
}

void bpi_board_draw_text(bpi_grid *g, int row, int column, int room, bpi_text *text, bpi_look look)
{
    if (!text->failed && text->s)
        bpi_grid_put(g, row, column, room, text->s, look);
    bpi_text_release(text);
}

/* "NEXT 07:22 Into the deck oven: Roast (B4)" */
static void draw_next(bpi_grid *g, int row, int column, int room, const bpi_board *b,
                      const char *lead, uint32_t o)
{
    bpi_text line = BPI_TEXT_EMPTY, codes = BPI_TEXT_EMPTY;
    char clock[BP_CLOCK_ROOM];
    int64_t from = b->view->task[o].from;
    bpi_board_put_codes(&codes, b, op_of(b, o));
    bpi_text_f(&line, "%s %s %s%s%s", lead, bpi_board_minute(clock, b->plan, from),
               codes.len ? codes.s : "", codes.len ? " " : "", op_of(b, o)->text);
    bpi_text_release(&codes);
    bpi_board_draw_text(g, row, column, room, &line, BPI_PLAIN);
}

/* What its person comes to after operation o, a row each until row `end`. */
static void draw_coming(bpi_grid *g, int row, int end, int column, const bpi_board *b, uint32_t o)
{
    const char *lead = "NEXT";
    for (; row < end; row++, lead = "THEN") {
        o = bp_kitchen_after(b->kitchen, b->view, o);
        if (o == BP_NO_INDEX)
            return;
        draw_next(g, row, column, g->columns - column - 1, b, lead, o);
    }
}

/* ---- a cook ---------------------------------------------------------------------------------- */

typedef struct hand {
    const char *label; /* of the time */
    int64_t time;
    int64_t late; /* seconds, 60 and up; else 0 */
} hand;

static hand hand_of(const bpi_board *b, uint32_t o)
{
    const bp_task *t = &b->view->task[o];
    const bp_op *op = op_of(b, o);
    int64_t now = b->view->now, late = 0;
    hand h = {"", 0, 0};
    if (t->state == BP_TASK_UNDER_WAY) {
        int64_t left = t->from + (op->to - op->from) - now;
        late = t->to - op->to;
        h.label = left < 0 ? "OVER BY" : "LEFT";
        h.time = left < 0 ? -left : left;
    } else {
        int64_t wait = op->from - now;
        late = t->from - op->from;
        h.label = wait > 0 ? "STARTS IN" : "SHOULD HAVE BEGUN";
        h.time = wait > 0 ? wait : -wait;
    }
    h.late = late >= 60 ? late : 0;
    return h;
}

/* "must begin by 07:52" where it is late, so that the cook knows what there is to lose. */
static void put_late(bpi_text *out, const bpi_board *b, uint32_t o, const hand *h)
{
    char clock[BP_CLOCK_ROOM];
    if (h->late)
        bpi_text_f(out, "%d MIN LATE", (int)(h->late / 60));
    if (b->view->task[o].state == BP_TASK_TO_COME && h->late)
        bpi_text_f(out,
                   b->view->now > op_of(b, o)->latest_from ? ", too late since %s"
                                                           : ", may wait until %s",
                   bp_plan_clock(clock, b->plan, op_of(b, o)->latest_from));
}

/* Rows of what comes next in a block of so many: the rest is for what is in hand. */
static int coming(int high)
{
    return high >= LARGE ? high - 6 : high >= SMALL + 1 ? 2 : 1;
}

static void draw_large(bpi_grid *g, int row, int high, const bpi_board *b, const char *name,
                       uint32_t o, bpi_look look)
{
    hand h = hand_of(b, o);
    char time[BPI_FACE_TIME];
    int room = g->columns - FIGURES - 1, end = row + high - coming(high), at = row + 1;
    const bp_op *op = op_of(b, o);
    bpi_grid_put(g, row, 0, FIGURES - 1, h.label, BPI_BOLD);
    bpi_face_time(time, h.time, false);
    if (strlen(time) > 5)
        bpi_grid_put(g, row + 1, 0, FIGURES - 2, time, BPI_REVERSE);
    else if (high >= LARGE)
        bpi_grid_figures(g, row + 1, 0, 1, time);
    else
        bpi_grid_low_figures(g, row + 1, 0, time);
    bpi_text line = BPI_TEXT_EMPTY;
    put_late(&line, b, o, &h);
    int used =
        line.s ? bpi_grid_put_right(g, row, FIGURES, g->columns - 1, line.s, BPI_REVERSE) : 0;
    bpi_text_release(&line);
    bpi_grid_put(g, row, FIGURES, room - used - 1, name, look);
    bpi_board_put_codes(&line, b, op);
    bpi_text_f(&line, "%s%s", line.len ? " " : "", op->text);
    if (!line.failed) /* of the last row there is use for a caution */
        at += bpi_grid_wrap(g, at, end - at > 2 ? 2 : 1, FIGURES, room, line.s, BPI_BOLD);
    bpi_text_release(&line);
    put_lines(&line, op->detail);
    if (line.len && at < end)
        at += bpi_grid_wrap(g, at, end - at > 1 ? (end - at) / 2 : 1, FIGURES, room, line.s,
                            BPI_PLAIN);
    bpi_text_release(&line);
    put_lines(&line, op->caution);
    if (line.len && at < end)
        bpi_grid_wrap(g, at, end - at, FIGURES, room, line.s, BPI_PLAIN);
    bpi_text_release(&line);
    draw_coming(g, end, row + high, FIGURES, b, o);
}

static void draw_small(bpi_grid *g, int row, int high, const bpi_board *b, const char *name,
                       uint32_t o, bpi_look look)
{
    hand h = hand_of(b, o);
    char time[BPI_FACE_TIME], right[64];
    const bp_op *op = op_of(b, o);
    int end = row + high - coming(high);
    bpi_text line = BPI_TEXT_EMPTY;
    snprintf(right, sizeof right, "%s %s", h.label, bpi_face_time(time, h.time, false));
    int used = bpi_grid_put_right(g, row, NAME, g->columns - 1, right, BPI_BOLD);
    bpi_grid_put(g, row, 0, NAME - 1, name, look);
    bpi_board_put_codes(&line, b, op);
    bpi_text_f(&line, "%s%s", line.len ? " " : "", op->text);
    bpi_board_draw_text(g, row, NAME, g->columns - NAME - used - 3, &line, BPI_BOLD);
    put_late(&line, b, o, &h);
    used = line.s ? bpi_grid_put_right(g, row + 1, NAME, g->columns - 1, line.s, BPI_REVERSE) : 0;
    bpi_text_release(&line);
    put_lines(&line, op->detail);
    put_lines(&line, op->caution);
    if (line.len)
        bpi_grid_wrap(g, row + 1, end - row - 1, NAME, g->columns - NAME - used - 3, line.s,
                      BPI_PLAIN);
    bpi_text_release(&line);
    draw_coming(g, end, row + high, NAME, b, o);
}

static void draw_cook(bpi_grid *g, int row, int high, const bpi_board *b, uint32_t person,
                      uint32_t number)
{
    char name[80];
    uint32_t o = b->view->at[person];
    bool large = g->columns >= 80 && high >= LOW;
    bpi_look look = b->mark == person ? BPI_REVERSE : BPI_BOLD;
    if (number < 9)
        snprintf(name, sizeof name, "%u %.60s", (unsigned)number + 1, b->plan->person[person].name);
    else
        snprintf(name, sizeof name, "  %.60s", b->plan->person[person].name);
    if (o == BP_NO_INDEX) {
        bpi_grid_put(g, row, large ? FIGURES : 0, large ? g->columns - FIGURES : NAME - 1, name,
                     look);
        bpi_grid_put(g, row + large, large ? FIGURES : NAME, g->columns, "all done", BPI_PLAIN);
    } else if (large)
        draw_large(g, row, high, b, name, o, look);
    else
        draw_small(g, row, high, b, name, o, look);
}

/* ---- all of it ------------------------------------------------------------------------------- */

static void draw_head(bpi_grid *g, const bpi_board *b)
{
    char right[96], time[48];
    bpi_face_clock(time, sizeof time, b->plan, b->view->now);
    if (b->speed)
        snprintf(right, sizeof right, "REHEARSAL x%u   %s ", (unsigned)b->speed, time);
    else
        snprintf(right, sizeof right, "%s ", time);
    bpi_grid_fill(g, 0, 0, g->columns, ' ', BPI_REVERSE);
    bpi_grid_put(g, 0, 1, g->columns - (int)strlen(right) - 3, b->plan->title, BPI_REVERSE);
    bpi_grid_put_right(g, 0, 0, g->columns, right, BPI_REVERSE);
}

#define MORE 6 /* columns of ", +12" */

/* "LATE ON SET: A1 3 min, A2 5 min, +4", in so many columns where two fit. */
static void put_late_on_set(bpi_text *line, const bpi_board *b, size_t columns)
{
    unsigned told = 0, more = 0;
    for (uint32_t c = 0; c < b->plan->containers; c++) {
        char one[48];
        int64_t late = b->view->on_set[c] - b->plan->container[c].set_by;
        if (late < 60)
            continue;
        int n =
            snprintf(one, sizeof one, "%s%s %d min",
                     told ? ", " : "LATE ON SET: ", b->plan->container[c].code, (int)(late / 60));
        if (told && (more || line->len + (size_t)n + MORE > columns)) {
            more++;
            continue;
        }
        bpi_text_put(line, one);
        told++;
    }
    if (more)
        bpi_text_f(line, ", +%u", more);
}

/* The containers that are expected late on set or are overdone, or the next one that is due there. */
static void draw_notice(bpi_grid *g, int row, const bpi_board *b)
{
    const bp_plan *p = b->plan;
    bpi_text line = BPI_TEXT_EMPTY, over = BPI_TEXT_EMPTY;
    char clock[BP_CLOCK_ROOM];
    bpi_look look = BPI_REVERSE;
    uint32_t next = BP_NO_INDEX;
    for (uint32_t c = 0; c < p->containers; c++)
        if (b->view->on_set[c] > b->view->now &&
            (next == BP_NO_INDEX || b->view->on_set[c] < b->view->on_set[next]))
            next = c;
    bpi_board_put_overdone(&over, b);
    size_t room = g->columns > 2 ? (size_t)g->columns - 2 : 0, after = over.len ? over.len + 2 : 0;
    put_late_on_set(&line, b, room > after ? room - after : 0);
    if (over.len)
        bpi_text_f(&line, "%s%s", line.len ? "; " : "", over.s);
    line.failed |= over.failed;
    bpi_text_release(&over);
    if (b->alarm[0]) {
        bpi_text_reset(&line);
        bpi_text_put(&line, b->alarm);
    } else if (!line.len && next != BP_NO_INDEX) {
        look = BPI_PLAIN;
        bpi_text_f(&line, "Next on set: %s by %s", p->container[next].code,
                   bpi_board_minute(clock, p, p->container[next].set_by));
    }
    if (look == BPI_REVERSE && line.len)
        bpi_grid_fill(g, row, 0, g->columns, ' ', look);
    bpi_board_draw_text(g, row, 1, g->columns - 2, &line, look);
}

void bpi_board_draw(bpi_grid *g, const bpi_board *b)
{
    uint32_t list[BPI_BOARD_PERSONS], n = bpi_board_persons(list, b->plan), first = 0;
    int room = g->rows - OVERHEAD - LEAST, row = 2;
    int high = n ? room / (int)n : SMALL; /* all the room there is is theirs */
    high = high < SMALL ? SMALL : high > MOST ? MOST : high;
    uint32_t fit = room / high > 0 ? (uint32_t)(room / high) : 1;
    for (uint32_t i = 0; i < n; i++) /* the marked one is among them */
        if (list[i] == b->mark && i >= fit)
            first = i - fit + 1;
    draw_head(g, b);
    draw_notice(g, 1, b);
    for (uint32_t i = first; i < n && i < first + fit; i++, row += high)
        draw_cook(g, row, high, b, list[i], i);
    bpi_board_draw_timers(g, row, g->rows - 2, b);
    bpi_grid_fill(g, g->rows - 2, 0, g->columns, ' ', BPI_PLAIN);
    bpi_grid_put(g, g->rows - 2, 1, g->columns - 2, b->message, BPI_BOLD);
    bpi_grid_fill(g, g->rows - 1, 0, g->columns, ' ', BPI_REVERSE);
    bpi_grid_put(g, g->rows - 1, 1, g->columns - 2,
                 "1 2 begin, done  UP DOWN mark  SPACE the marked  N next first  U undo  Q leave",
                 BPI_REVERSE);
}

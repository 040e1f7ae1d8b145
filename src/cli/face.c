#include "cli/face.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "cli/notice.h"

#define WIDE       80 /* columns and rows that the large figures are drawn for */
#define HIGH       24
#define GROUP      26 /* columns of "12:05" in large figures             */
#define LEFT       6  /* column of what stands behind "NOW", "NEXT"        */
#define MOST_BOXES 8

char *bpi_face_time(char out[BPI_FACE_TIME], int64_t seconds, bool plus)
{
    const char *sign = seconds < 0 ? "-" : plus && seconds > 0 ? "+" : "";
    int64_t s = seconds < 0 ? -seconds : seconds;
    if (s >= 3600)
        snprintf(out, BPI_FACE_TIME, "%s%" PRId64 ":%02d:%02d", sign, s / 3600, (int)(s / 60 % 60),
                 (int)(s % 60));
    else
        snprintf(out, BPI_FACE_TIME, "%s%d:%02d", sign, (int)(s / 60), (int)(s % 60));
    return out;
}

void bpi_face_clock(char *out, size_t room, const bp_plan *plan, int64_t t)
{
    char text[BP_CLOCK_ROOM];
    const char *colon = strchr(bp_plan_clock(text, plan, t), ':');
    size_t head = colon ? (size_t)(colon - text) + 3 : strlen(text);
    bool seconds = colon && strlen(colon) > 3 && colon[3] == ':';
    snprintf(out, room, "%.*s%s%s", (int)head, text, seconds ? "" : ":00", text + head);
}

const bp_beat *bpi_face_beat(const bpi_face *f, uint32_t i)
{
    return &f->plan->beat[f->plan->air[f->view->air].beats.first + i];
}

/* ---- parts ------------------------------------------------------------------------------------ */

static void draw_head(bpi_grid *g, const bpi_face *f)
{
    const bp_air *air = &f->plan->air[f->view->air];
    char right[96], time[48];
    bpi_face_clock(time, sizeof time, f->plan, f->view->now);
    if (f->speed)
        snprintf(right, sizeof right, "REHEARSAL x%u   %s ", (unsigned)f->speed, time);
    else
        snprintf(right, sizeof right, "%s ", time);
    bpi_grid_fill(g, 0, 0, g->columns, ' ', BPI_REVERSE);
    bpi_grid_put(g, 0, 1, g->columns - (int)strlen(right) - 3, air->title, BPI_REVERSE);
    bpi_grid_put_right(g, 0, 0, g->columns, right, BPI_REVERSE);
}

/* One of the three large times. Too little room: in one line of plain type. */
static void draw_time(bpi_grid *g, int row, int number, const char *label, const char *time)
{
    int scale = g->columns / WIDE < g->rows / HIGH ? g->columns / WIDE : g->rows / HIGH;
    int room = scale > 0 ? GROUP * scale : g->columns / 3;
    int column = scale > 0 ? number * (g->columns - room) / 2 : number * room + 1;
    bpi_grid_put(g, row, column, room - 1, label, BPI_BOLD);
    if (scale > 0 && (int)strlen(time) <= 5)
        bpi_grid_figures(g, row + 1, column, scale, time);
    else if (scale > 0 && (int)strlen(time) <= 7 && number == 0)
        bpi_grid_figures(g, row + 1, column, scale, time); /* "1:02:03": the next one stays away */
    else
        bpi_grid_put(g, row + 1, column, room - 2, time, BPI_REVERSE);
}

static int times_height(const bpi_grid *g)
{
    int scale = g->columns / WIDE < g->rows / HIGH ? g->columns / WIDE : g->rows / HIGH;
    return 1 + (scale > 0 ? BPI_GRID_FIGURE * scale : 1);
}

static void draw_drift(bpi_grid *g, int row, const bp_floor_view *v)
{
    char time[BPI_FACE_TIME];
    bpi_face_time(time, v->drift, true);
    draw_time(g, row, 2, v->drift > 0 ? "OVER" : v->drift < 0 ? "UNDER" : "ON TIME", time);
}

static void draw_times(bpi_grid *g, int row, const bpi_face *f)
{
    const bp_floor_view *v = f->view;
    char time[BPI_FACE_TIME];
    if (v->phase == BP_FLOOR_BEFORE) {
        int64_t to_hit = v->hit - v->now;
        draw_time(g, row, 0, to_hit >= 0 ? "ON AIR IN" : "SHOULD HAVE BEGUN",
                  bpi_face_time(time, to_hit >= 0 ? to_hit : -to_hit, false));
        if (to_hit > -3600 && to_hit < 3600) /* an hour takes the room of two */
            draw_time(g, row, 1, "SLOT", bpi_face_time(time, v->length, false));
        draw_drift(g, row, v);
    } else if (v->phase == BP_FLOOR_OFF) {
        draw_time(g, row, 0, "OFF AIR AFTER", bpi_face_time(time, v->elapsed, false));
        draw_time(g, row, 1, "SLOT", bpi_face_time(time, v->length, false));
        int64_t over = v->elapsed - v->length;
        draw_time(g, row, 2,
                  over > 0   ? "RAN OVER"
                  : over < 0 ? "RAN UNDER"
                             : "TO THE SECOND",
                  bpi_face_time(time, over, true));
    } else {
        bool beat = v->beat != BP_NO_INDEX, over = beat && v->beat_left < 0;
        draw_time(g, row, 0, over ? "BEAT IS OVER BY" : "BEAT LEFT",
                  beat ? bpi_face_time(time, over ? -v->beat_left : v->beat_left, over) : "-");
        int64_t left = v->length - v->elapsed;
        draw_time(g, row, 1, left < 0 ? "SLOT IS OVER BY" : "SLOT LEFT",
                  bpi_face_time(time, left < 0 ? -left : left, left < 0));
        draw_drift(g, row, v);
    }
}

/* ---- beats ------------------------------------------------------------------------------------ */

static int count(uint64_t set)
{
    int n = 0;
    for (; set; set &= set - 1)
        n++;
    return n;
}

/* A beat on one line: "NEXT   Blend the cooked pot          stove  0:33". */
static void draw_beat(bpi_grid *g, int row, const bpi_face *f, const char *lead, uint32_t i,
                      bpi_look look)
{
    const bp_floor_view *v = f->view;
    const bp_beat *b = bpi_face_beat(f, i);
    char right[120], time[BPI_FACE_TIME];
    const char *state = NULL;
    if (v->out >> i & 1)
        state = "dropped";
    else if (v->gone >> i & 1)
        state = i == v->beat ? NULL : "no time";
    if (!state)
        state = bpi_face_time(time, i == v->beat ? v->beat_long : v->fit.length[i], false);
    snprintf(right, sizeof right, "%.40s%s%.20s%s%7s", b->station,
             b->station[0] && b->camera[0] ? ", " : "", b->camera,
             b->station[0] || b->camera[0] ? "  " : "", state);
    int used = bpi_grid_put_right(g, row, LEFT, g->columns - 1, right, look);
    bpi_grid_put(g, row, 0, LEFT, lead, look);
    bpi_grid_put(g, row, LEFT, g->columns - LEFT - used - 3, b->text[0] ? b->text : b->id, look);
}

/* "IN   A3 Red lentil soup, after: simmer", each code with its dish; too many: codes alone. */
static void draw_boxes(bpi_grid *g, int row, const bpi_face *f, const char *lead,
                       const uint32_t *box, uint32_t n, bool in)
{
    bpi_text line = BPI_TEXT_EMPTY;
    uint32_t shown = n < MOST_BOXES ? n : MOST_BOXES;
    for (int brief = 0; brief < 2; brief++) {
        bpi_text_reset(&line);
        for (uint32_t k = 0; k < shown; k++) {
            const bp_container *c = &f->plan->container[box[k]];
            bpi_text_f(&line, "%s%s", k ? (brief ? " " : "; ") : "", c->code);
            if (!brief)
                bpi_text_f(&line, " %s, %s", f->plan->dish[c->dish].title, c->state);
            if (!brief && in && c->station[0])
                bpi_text_f(&line, ", to the %s", c->station);
        }
        if (line.len <= (size_t)(g->columns > LEFT + 6 ? g->columns - LEFT - 6 : 0))
            break;
    }
    if (n && line.s && !line.failed) {
        bpi_grid_put(g, row, LEFT, 5, lead, BPI_BOLD);
        bpi_grid_put(g, row, LEFT + 5, g->columns - LEFT - 6, line.s, BPI_PLAIN);
    }
    bpi_text_release(&line);
}

static void draw_in(bpi_grid *g, int row, const bpi_face *f, uint32_t beat)
{
    uint32_t box[MOST_BOXES];
    draw_boxes(g, row, f, "IN", box, bp_floor_comes(box, MOST_BOXES, f->floor, f->view, beat),
               true);
}

static void draw_out(bpi_grid *g, int row, const bpi_face *f, uint32_t beat)
{
    uint32_t box[MOST_BOXES];
    draw_boxes(g, row, f, "OUT", box, bp_floor_goes(box, MOST_BOXES, f->floor, f->view, beat),
               false);
}

static int draw_now(bpi_grid *g, int row, const bpi_face *f)
{
    const bp_floor_view *v = f->view;
    if (v->beat == BP_NO_INDEX || v->phase == BP_FLOOR_OFF)
        return row;
    char lead[16];
    snprintf(lead, sizeof lead, "NOW %d", count(v->done) + 1);
    draw_beat(g, row, f, lead, v->beat, BPI_BOLD);
    const char *words = bpi_face_beat(f, v->beat)->words;
    bpi_grid_wrap(g, row + 1, 2, LEFT, g->columns - LEFT - 1, words, BPI_PLAIN);
    draw_in(g, row + 3, f, v->beat);
    draw_out(g, row + 4, f, v->beat);
    return row + 5;
}

/* Next with what it needs, then as many of the others as there is room for, the marked one among
 * them. */
static void draw_to_come(bpi_grid *g, int row, int end, const bpi_face *f)
{
    const bp_floor_view *v = f->view;
    uint32_t n = f->plan->air[v->air].beats.n;
    uint32_t first = v->beat == BP_NO_INDEX ? 0 : v->beat + 1;
    if (v->next != BP_NO_INDEX) {
        draw_beat(g, row, f, "NEXT", v->next, f->mark == v->next ? BPI_REVERSE : BPI_BOLD);
        draw_in(g, row + 1, f, v->next);
        row += 2;
    }
    uint32_t room = end > row ? (uint32_t)(end - row) : 0, before = 0;
    for (uint32_t i = first; i < n && f->mark != BP_NO_INDEX && i < f->mark; i++)
        before += i != v->next;
    uint32_t skip = before >= room && room > 0 ? before - room + 1 : 0;
    for (uint32_t i = first; i < n && row < end; i++) {
        if (i == v->next)
            continue;
        if (skip > 0) {
            skip--;
            continue;
        }
        draw_beat(g, row++, f, "", i, f->mark == i ? BPI_REVERSE : BPI_PLAIN);
    }
}

static const char *keys(const bp_floor_view *v)
{
    switch (v->phase) {
    case BP_FLOOR_BEFORE:
        return "SPACE on air   L late   C cut   D drop   UP DOWN mark   Q leave";
    case BP_FLOOR_HELD:
        return "H go on   C cut   D drop   UP DOWN mark   Q leave";
    case BP_FLOOR_OFF:
        return "B back on air   Q leave";
    case BP_FLOOR_ON:
        break;
    }
    return v->next == BP_NO_INDEX
               ? "SPACE off air   B back   H hold   C cut   Q leave"
               : "SPACE next   B back   H hold   D drop   C cut   UP DOWN mark   Q leave";
}

void bpi_face_draw(bpi_grid *g, const bpi_face *f)
{
    int row = 1;
    draw_head(g, f);
    draw_times(g, row, f);
    row += times_height(g);
    bpi_notice_draw(g, row++, f);
    row = draw_now(g, row, f);
    if (f->view->phase != BP_FLOOR_OFF)
        draw_to_come(g, row, g->rows - 2, f);
    bpi_grid_put(g, g->rows - 2, 1, g->columns - 2, f->message, BPI_BOLD);
    bpi_grid_fill(g, g->rows - 1, 0, g->columns, ' ', BPI_REVERSE);
    bpi_grid_put(g, g->rows - 1, 1, g->columns - 2, keys(f->view), BPI_REVERSE);
}

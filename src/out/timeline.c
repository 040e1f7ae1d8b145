#include "out/timeline.h"

#include <string.h>

#include "out/facts.h"
#include "out/ink.h"
#include "out/page.h"
#include "out/paper.h"
#include "out/timeline_layout.h"

#define FONT_BAR  ((bpi_font){8.5, false, false})
#define FONT_BOLD ((bpi_font){8.5, true, false})
#define FONT_NAME ((bpi_font){10, true, false})
#define FONT_AXIS ((bpi_font){9, true, false})
#define LABELS    112.0 /* names of the lanes */
#define AXIS      14.0
#define MARK_ROW  13.0
#define KEY       18.0 /* room for the key of the hatches */

enum {
    MARK_ROWS = 4, /* for the names of hit times and set-by times */
    MARKED = 64    /* appearances whose names are kept apart      */
};

/* How a kind looks: in black and white, and by more than its grey. */
typedef struct look {
    const char *name; /* in the key; NULL: as the kind above */
    double fill, text, line;
    bpi_hatch hatch;
    bool dashed;
} look;

static const look looks[] = {
    [BP_OP_ACTIVE] = {"hands-on step", 1, 0, 1.2, BPI_HATCH_NONE, false},
    [BP_OP_MEASURE] = {"measure", 0.86, 0, 1.2, BPI_HATCH_NONE, false},
    [BP_OP_LOAD] = {"load, take off, heat", 0.3, 1, 0.6, BPI_HATCH_NONE, false},
    [BP_OP_TAKE_OFF] = {NULL, 0.3, 1, 0.6, BPI_HATCH_NONE, false},
    [BP_OP_PREHEAT] = {NULL, 0.3, 1, 0.6, BPI_HATCH_NONE, false},
    [BP_OP_CARRY] = {"carry", 0, 1, 0.6, BPI_HATCH_NONE, false},
    [BP_OP_PASSIVE] = {"by itself", 1, 0, 0.8, BPI_HATCH_RISING, false},
    [BP_OP_OVEN] = {"in the oven", 1, 0, 0.8, BPI_HATCH_UPRIGHT, false},
    [BP_OP_WAIT] = {"waits", 1, 0, 0.7, BPI_HATCH_LEVEL, true},
    [BP_OP_SET] = {"on the set", 1, 0, 0.7, BPI_HATCH_DOUBLE, false},
    [BP_OP_RESET] = {"clear, stand by", 0.72, 0, 0.6, BPI_HATCH_NONE, true},
    [BP_OP_STAND_BY] = {NULL, 0.72, 0, 0.6, BPI_HATCH_NONE, true},
};

/* ---- bars -------------------------------------------------------------------------------- */

/* In the lane of a container its code is known; elsewhere it comes first. */
static const char *bar_text(bpi_page *p, const bp_op *op, bpi_tl_part part)
{
    bool still = op->kind == BP_OP_WAIT || op->kind == BP_OP_SET;
    const char *codes =
        part == BPI_TL_PATHS ? "" : bpi_page_keep(p, bpi_fact_codes(p->arena, p->plan, op->serves));
    if (still)
        return codes;
    const char *s = *codes ? bpi_page_f(p, "%s %s", codes, op->text) : op->text;
    return *op->oven_text && op->kind == BP_OP_OVEN ? bpi_page_f(p, "%s, %s", s, op->oven_text) : s;
}

/* Text on a hatch stands on white. */
static void put_text(bpi_page *p, const look *k, bpi_font font, const char *text, double x,
                     double y, double w, double h)
{
    if (k->hatch != BPI_HATCH_NONE) {
        double wide = bpi_type_width(p->type, font, text),
               high = bpi_type_height(p->type, font, text, w);
        bpi_page_fill(p, x, y, (wide < w ? wide : w) + 1, high < h ? high : h, 1);
    }
    bpi_ink_text_cut(p, font, text, x, y, w, h, k->text);
}

/* The whole text where it fits; else the number and as much as fits; else the number alone, upright
 * or turned; nothing where not even that is readable. */
static void draw_bar_text(bpi_page *p, const look *k, const char *text, const char *number,
                          double x, double y, double w, double h)
{
    double line = bpi_type_height(p->type, FONT_BAR, "0", -1);
    double wide = bpi_type_width(p->type, FONT_BOLD, number);
    if (h < line)
        y -= (line - h) / 2; /* a low lane: ascenders have air above them */
    double room = h < line ? line : h;
    if (*text && w > 12 && bpi_ink_fits(p, FONT_BAR, text, w - 4, room)) {
        put_text(p, k, FONT_BAR, text, x + 2, y, w - 4, room);
    } else if (!*number) {
        if (*text && w > 24)
            put_text(p, k, FONT_BAR, text, x + 2, y, w - 4, room);
    } else if (w > wide + 40) {
        put_text(p, k, FONT_BAR, bpi_page_f(p, "%s %s", number, text), x + 2, y, w - 4, room);
    } else if (w >= wide + 1.5) {
        double top = y + (room - line) / 2;
        if (k->hatch != BPI_HATCH_NONE)
            bpi_page_fill(p, x + (w - wide) / 2, top, wide, line, 1);
        bpi_page_text_grey(p, FONT_BOLD, number, x + (w - wide) / 2, top, wide + 1, BPI_LEFT,
                           k->text);
    } else if (w >= 7 && h >= wide) {
        if (k->hatch != BPI_HATCH_NONE)
            bpi_page_fill(p, x + 0.5, y + 1, w - 1, h - 2, 1);
        bpi_ink_text_up(p, FONT_BOLD, number, x, y, w, h, k->text);
    }
}

static void draw_box(bpi_page *p, const look *k, double x, double y, double w, double h)
{
    bpi_page_fill(p, x, y, w, h, k->fill);
    bpi_ink_hatch(p, k->hatch, x, y, w, h);
    if (k->dashed)
        bpi_ink_dashed_frame(p, x, y, w, h, k->line);
    else
        bpi_page_frame(p, x, y, w, h, k->line);
}

/* ---- one page of one part ---------------------------------------------------------------- */

typedef struct view {
    const bpi_tl *tl;
    const bpi_tl_page *page;
    bpi_tl_part part;
    double x, y, h; /* upper left corner of the bars; their height on this page */
} view;

static double page_x(const view *v, double axis)
{
    return v->x + axis - v->page->from;
}

static void draw_container_name(bpi_page *p, uint32_t container, double y, double height)
{
    const bp_plan *plan = p->plan;
    const bp_container *c = &plan->container[container];
    const char *what = bpi_page_f(p, "%s%s, %s", c->late > 0 ? "LATE: " : "",
                                  c->dish < plan->dishes ? plan->dish[c->dish].title : "",
                                  bp_stage_name(c->stage));
    bpi_page_text(p, (bpi_font){13, true, false}, c->code, p->left, y + (height - 17) / 2, 34,
                  BPI_LEFT);
    bpi_ink_text_cut(p, (bpi_font){8, false, false}, what, p->left + 36, y, LABELS - 40, height, 0);
}

/* The number within the group is never cut, however long the name. */
static void draw_thing_name(bpi_page *p, const bpi_tl_lane *lane, double y, double height)
{
    const bp_thing *t = &p->plan->thing[lane->group];
    const char *name = *t->name ? t->name : t->id;
    if (t->kind == BP_BURNER)
        name = "burner";
    else if (t->kind == BP_SET)
        name = bpi_page_f(p, "set: %s", t->id);
    bpi_font font = height > 15 ? FONT_NAME : FONT_BOLD;
    double high = height > 15 ? 12 : 10.5, w = LABELS - 8, number = 0;
    y += (height - high) / 2 - 1;
    if (t->count != 1 || lane->number > 0) {
        const char *text = bpi_page_f(p, "%u", (unsigned)lane->number + 1);
        number = bpi_type_width(p->type, font, text) + 4;
        bpi_page_text(p, font, text, p->left, y, w, BPI_RIGHT);
    }
    bpi_ink_text_cut(p, font, name, p->left, y, w - number, high, 0);
}

static void draw_lane_name(bpi_page *p, const view *v, const bpi_tl_lane *lane, double y,
                           double height)
{
    if (v->part == BPI_TL_PATHS) {
        if (lane->number == 0)
            draw_container_name(p, lane->group, y, height);
    } else if (lane->person) {
        bpi_ink_text_cut(p, FONT_NAME, p->plan->person[lane->group].name, p->left,
                         y + (height - 14) / 2, LABELS - 6, 14, 0);
    } else {
        draw_thing_name(p, lane, y, height);
    }
}

/* A container's way: a thin line through its bars, to a point when it is first on camera. */
static void draw_path(bpi_page *p, const view *v, uint32_t container, double y, double h)
{
    const bpi_tl *tl = v->tl;
    const bp_container *c = &p->plan->container[container];
    double from = -1, to = bpi_tl_x(tl, c->needed);
    for (uint32_t i = 0; i < tl->bars; i++)
        if (tl->lane[tl->bar[i].lane].group == container && (from < 0 || tl->bar[i].x0 < from))
            from = tl->bar[i].x0;
    if (from >= 0 && from < to)
        bpi_page_line(p, page_x(v, from), y + h / 2, page_x(v, to), y + h / 2, 1);
}

static void draw_needed(bpi_page *p, const view *v, uint32_t container, double y, double h)
{
    double x = page_x(v, bpi_tl_x(v->tl, p->plan->container[container].needed));
    bpi_page_fill(p, x - 3.5, y + h / 2 - 3.5, 7, 7, 1);
    bpi_page_fill(p, x - 2.5, y + h / 2 - 2.5, 5, 5, 0);
}

static void draw_lane(bpi_page *p, const view *v, const bpi_tl_row *row)
{
    const bpi_tl *tl = v->tl;
    const bpi_tl_lane *lane = &tl->lane[row->lane];
    double y = v->y + row->y, h = row->height - 2;
    draw_lane_name(p, v, lane, y, row->height);
    bpi_ink_clip(p, v->x, v->y - 1, tl->width, v->h + 2);
    if (v->part == BPI_TL_PATHS && lane->number == 0)
        draw_path(p, v, lane->group, y, h);
    for (uint32_t i = 0; i < tl->bars; i++) {
        const bpi_tl_bar *b = &tl->bar[i];
        if (b->lane != row->lane || b->x1 <= v->page->from || b->x0 >= v->page->to)
            continue;
        double x0 = page_x(v, b->x0), w = b->x1 - b->x0;
        /* A hair of white between neighbours, or black ones would run together. */
        draw_box(p, &looks[p->plan->op[b->op].kind], x0 + 0.4, y + 1, w > 1.8 ? w - 0.8 : 1, h);
    }
    if (v->part == BPI_TL_PATHS && lane->number == 0)
        draw_needed(p, v, lane->group, y, h);
    bpi_ink_unclip(p);
}

static void draw_lane_texts(bpi_page *p, const view *v, const bpi_tl_row *row)
{
    const bpi_tl *tl = v->tl;
    for (uint32_t i = 0; i < tl->bars; i++) {
        const bpi_tl_bar *b = &tl->bar[i];
        if (b->lane != row->lane || b->x1 <= v->page->from || b->x0 >= v->page->to)
            continue;
        const bp_op *op = &p->plan->op[b->op];
        double x0 = page_x(v, b->x0 > v->page->from ? b->x0 : v->page->from);
        double x1 = page_x(v, b->x1 < v->page->to ? b->x1 : v->page->to);
        bool still = op->kind == BP_OP_WAIT || op->kind == BP_OP_SET;
        draw_bar_text(p, &looks[op->kind], bar_text(p, op, v->part),
                      still ? "" : bpi_page_f(p, "%u", (unsigned)b->op + 1), x0, v->y + row->y + 1,
                      x1 - x0, row->height - 2);
    }
}

/* ---- axis -------------------------------------------------------------------------------- */

static const int64_t steps[] = {300, 900, 1800, 3600, 7200, 14400};

static void draw_ticks(bpi_page *p, const view *v)
{
    const bpi_tl *tl = v->tl;
    for (uint32_t i = 0; i < tl->pieces; i++) {
        const bpi_tl_piece *piece = &tl->piece[i];
        char clock[BP_CLOCK_ROOM];
        double room =
            bpi_type_width(p->type, FONT_AXIS, bp_plan_clock(clock, p->plan, piece->from)) + 8;
        size_t k = 0;
        while (k + 1 < sizeof steps / sizeof *steps && (double)steps[k] * tl->scale < room)
            k++;
        for (int64_t t = piece->from; t <= piece->to; t += 300) {
            double axis = bpi_tl_x(tl, t);
            if (t % steps[k] != 0 || axis < v->page->from - 0.01 || axis > v->page->to + 0.01)
                continue;
            double x = page_x(v, axis), left = x - room / 2;
            const char *text = bpi_page_f(p, "%s", bp_plan_clock(clock, p->plan, t));
            if (left + room <= v->x + tl->width + room / 2) /* else it would leave the paper */
                bpi_page_text(p, FONT_AXIS, text, left, v->y - AXIS, room, BPI_CENTRE);
            bpi_page_line(p, x, v->y - 3, x, v->y, 0.8);
            bpi_page_fill(p, x - 0.25, v->y, 0.5, v->h, 0.6);
        }
    }
}

static void draw_tears(bpi_page *p, const view *v)
{
    const bpi_tl *tl = v->tl;
    for (uint32_t i = 0; i + 1 < tl->pieces; i++) {
        double x = tl->piece[i + 1].x - BPI_TL_GAP;
        if (x >= v->page->from - 0.01 && x < v->page->to)
            bpi_ink_tear(p, page_x(v, x), v->y - 3, BPI_TL_GAP, v->h + 6);
    }
}

/* Names of moments, over the axis: each in the lowest row where it covers no other. */
typedef struct names {
    struct {
        double left, right;
        uint32_t row;
    } at[2 * MARKED];
    uint32_t n;
} names;

static uint32_t free_row(names *taken, double left, double right)
{
    uint32_t row = 0;
    for (bool moved = true; moved && row + 1 < MARK_ROWS;) {
        moved = false;
        for (uint32_t i = 0; i < taken->n; i++)
            if (taken->at[i].row == row && left < taken->at[i].right && taken->at[i].left < right) {
                row++;
                moved = true;
                break;
            }
    }
    if (taken->n < 2 * MARKED) {
        taken->at[taken->n].left = left;
        taken->at[taken->n].right = right;
        taken->at[taken->n++].row = row;
    }
    return row;
}

/* A moment that stands out: its line through all lanes, then its name, which no line crosses. */
typedef struct mark {
    double x, left, width, y;
    const char *text;
    bool solid;
} mark;

/* false: not on this page. */
static bool place_mark(bpi_page *p, const view *v, mark *m, int64_t t, names *taken)
{
    double axis = bpi_tl_x(v->tl, t);
    if (axis < v->page->from - 0.01 || axis > v->page->to + 0.01)
        return false;
    m->x = page_x(v, axis);
    m->width = bpi_type_width(p->type, FONT_AXIS, m->text) + 4;
    m->left = m->x + 2;
    if (m->left + m->width > v->x + v->tl->width)
        m->left = m->x - 2 - m->width;
    m->y = v->y - AXIS - (free_row(taken, m->left, m->left + m->width) + 1) * MARK_ROW;
    return true;
}

static void draw_mark(bpi_page *p, const view *v, const mark *m, bool line)
{
    if (!line) {
        bpi_page_fill(p, m->left, m->y, m->width, MARK_ROW - 1, 1);
        bpi_page_text(p, FONT_AXIS, m->text, m->left, m->y, m->width, BPI_LEFT);
    } else if (m->solid) {
        bpi_page_line(p, m->x, m->y, m->x, v->y + v->h, 2);
    } else {
        bpi_ink_dash(p, m->x, m->y, m->x, v->y + v->h, 1.6);
    }
}

static void draw_marks(bpi_page *p, const view *v)
{
    const bp_plan *plan = p->plan;
    char clock[BP_CLOCK_ROOM];
    for (int names_too = 0; names_too < 2; names_too++) {
        names taken = {.n = 0};
        for (uint32_t i = 0; i < plan->airs; i++) {
            const bp_air *air = &plan->air[i];
            mark hit = {.solid = true}, set = {.solid = false};
            hit.text = bpi_page_f(p, "HIT %s %s", bp_plan_clock(clock, plan, air->hit), air->id);
            set.text = bpi_page_f(p, "set by %s", bp_plan_clock(clock, plan, air->set_by));
            if (place_mark(p, v, &hit, air->hit, &taken))
                draw_mark(p, v, &hit, !names_too);
            if (place_mark(p, v, &set, air->set_by, &taken))
                draw_mark(p, v, &set, !names_too);
        }
    }
}

static double view_height(const view *v)
{
    double h = 0;
    for (uint32_t i = 0; i < v->page->rows.n; i++) {
        const bpi_tl_row *r = &v->tl->row[v->page->rows.first + i];
        h = r->y + r->height;
    }
    return h;
}

/* Draws one page of a layout from p->y on and moves it past. */
static void draw_view(bpi_page *p, const bpi_tl *tl, uint32_t page, bpi_tl_part part)
{
    view v = {tl, &tl->page[page], part, p->left + LABELS, p->y + AXIS + MARK_ROWS * MARK_ROW, 0};
    v.h = view_height(&v);
    p->y = v.y + v.h + 6;
    if (p->dry)
        return; /* its height is all that a count of pages needs */
    draw_ticks(p, &v);
    bpi_page_frame(p, v.x, v.y, tl->width, v.h, 0.8);
    for (uint32_t i = 0; i < v.page->rows.n; i++)
        draw_lane(p, &v, &tl->row[v.page->rows.first + i]);
    draw_marks(p, &v);
    draw_tears(p, &v);
    for (uint32_t i = 0; i < v.page->rows.n; i++)
        draw_lane_texts(p, &v, &tl->row[v.page->rows.first + i]);
}

/* ---- key and legend ---------------------------------------------------------------------- */

static void draw_key(bpi_page *p, double y)
{
    double x = p->left;
    for (size_t i = 0; i < sizeof looks / sizeof *looks; i++) {
        const look *k = &looks[i];
        if (!k->name)
            continue;
        double wide = bpi_type_width(p->type, FONT_BAR, k->name) + 1;
        draw_box(p, k, x, y + 2, 18, 9);
        bpi_page_text(p, FONT_BAR, k->name, x + 21, y + 1, wide, BPI_LEFT);
        x += wide + 25;
    }
    bpi_page_fill(p, x, y + 4, 5, 5, 0);
    bpi_page_text(p, FONT_BAR, "first on camera", x + 9, y + 1, 80, BPI_LEFT);
}

static const char *legend_text(bpi_page *p, const bp_op *op)
{
    char from[BP_CLOCK_ROOM], to[BP_CLOCK_ROOM];
    const char *codes = bpi_page_keep(p, bpi_fact_codes(p->arena, p->plan, op->serves));
    const char *s =
        bpi_page_f(p, "%s\xE2\x80\x93%s%s%s: %s", bp_plan_clock(from, p->plan, op->from),
                   bp_plan_clock(to, p->plan, op->to), *codes ? "  " : "", codes, op->text);
    if (*op->oven_text && !strstr(op->text, op->oven_text))
        s = bpi_page_f(p, "%s, %s", s, op->oven_text);
    if (op->person != BP_NO_INDEX)
        s = bpi_page_f(p, "%s (%s)", s, p->plan->person[op->person].name);
    return s;
}

/* Every numbered operation, in columns; `columns` 0: as many as 330 points each allow. */
static void draw_legend(bpi_page *p)
{
    uint32_t columns = (uint32_t)((p->right - p->left) / 330);
    if (columns == 0)
        columns = 1;
    double w = (p->right - p->left) / columns, top = p->y, lowest = top;
    uint32_t column = 0, count = 0, each = 0;
    for (uint32_t i = 0; i < p->plan->ops; i++)
        count += p->plan->op[i].kind != BP_OP_WAIT && p->plan->op[i].kind != BP_OP_SET;
    each = (count + columns - 1) / columns;
    for (uint32_t i = 0, n = 0; i < p->plan->ops; i++) {
        const bp_op *op = &p->plan->op[i];
        if (op->kind == BP_OP_WAIT || op->kind == BP_OP_SET)
            continue;
        const char *text = legend_text(p, op);
        double high = bpi_type_height(p->type, FONT_BAR, text, w - 34) + 2;
        if ((p->y + high > p->bottom || n == each) && p->y > top) {
            n = 0;
            p->y = top;
            if (++column == columns) {
                bpi_page_begin(p);
                column = 0;
                lowest = top = p->y;
            }
        }
        n++;
        double x = p->left + column * w;
        bpi_page_text(p, FONT_BOLD, bpi_page_f(p, "%u", (unsigned)i + 1), x, p->y, 22, BPI_RIGHT);
        bpi_page_text(p, FONT_BAR, text, x + 26, p->y, w - 34, BPI_LEFT);
        p->y += high;
        if (p->y > lowest)
            lowest = p->y;
    }
    p->y = lowest;
}

/* ---- papers ------------------------------------------------------------------------------ */

static const struct {
    const char *name;
    double minute; /* points a minute at least */
} parts[] = {
    [BPI_TL_PATHS] = {"each container's way to the set", 2},
    [BPI_TL_LANES] = {"who and what is busy", 7},
};

static const bpi_tl *layout(bpi_page *p, bpi_tl_part part, double width, double height)
{
    bpi_tl_ask ask = {part, width, height, parts[part].minute};
    const bpi_tl *tl = bpi_tl_make(p->arena, p->plan, &ask);
    if (!tl)
        p->no_memory = true;
    return tl;
}

static void draw_nothing(bpi_page *p)
{
    bpi_page_begin(p);
    bpi_page_para(p, BPI_FONT_BODY, "Nothing is to be done in this plan.");
}

/* The free part of a page is known once one has been begun: a dry one tells. */
static void draw_part(bpi_page *p, bpi_tl_part part)
{
    const bpi_tl *tl = NULL;
    p->section = parts[part].name;
    for (uint32_t i = 0; i == 0 || (tl && i < tl->pages); i++) {
        bpi_page_begin(p);
        if (!tl)
            tl = layout(p, part, p->right - p->left - LABELS,
                        p->bottom - p->y - AXIS - MARK_ROWS * MARK_ROW - KEY);
        if (!tl || i >= tl->pages)
            return;
        draw_view(p, tl, i, part);
        draw_key(p, p->bottom - KEY + 4);
    }
}

static void draw_pages(bpi_page *p)
{
    if (p->plan->ops == 0) {
        draw_nothing(p);
        return;
    }
    draw_part(p, BPI_TL_PATHS);
    draw_part(p, BPI_TL_LANES);
    p->section = "the numbers";
    bpi_page_begin(p);
    draw_legend(p);
}

static void draw_picture(bpi_page *p)
{
    if (p->plan->ops == 0) {
        draw_nothing(p);
        return;
    }
    const bpi_tl *tl[2] = {NULL, NULL};
    double wide = 630; /* the key needs as much */
    for (bpi_tl_part part = BPI_TL_PATHS; part <= BPI_TL_LANES; part++) {
        bpi_tl_ask ask = {part, 0, 0, parts[BPI_TL_LANES].minute};
        tl[part] = bpi_tl_make(p->arena, p->plan, &ask);
        if (!tl[part]) {
            p->no_memory = true;
            return;
        }
        if (tl[part]->width > wide)
            wide = tl[part]->width;
    }
    if (p->dry) {
        p->width = wide + LABELS + 2 * 30;
        p->height = 1e6; /* no page is that full: found below */
    }
    bpi_page_begin(p);
    for (bpi_tl_part part = BPI_TL_PATHS; part <= BPI_TL_LANES; part++)
        if (tl[part]->pages > 0)
            draw_view(p, tl[part], 0, part);
    draw_key(p, p->y);
    p->y += KEY;
    draw_legend(p);
    if (p->dry) /* what is free below is not needed */
        p->height -= p->bottom - p->y - 12;
}

bp_code bpi_timeline_pdf_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"Timeline", letter, true, false, draw_pages};
    return bpi_paper_write(out, plan, &sheet, errs);
}

bp_code bpi_timeline_svg_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"Timeline", letter, true, false, draw_picture};
    return bpi_paper_write_picture(out, plan, &sheet, errs);
}

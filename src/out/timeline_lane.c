#include "out/timeline_lane.h"

#include "out/facts.h"
#include "out/ink.h"

#define FONT_NAME ((bpi_font){10, true, false})
#define NUMBER    18.0 /* room for the number of a place */

/* How a kind looks: in black and white, and by more than its grey. */
typedef struct look {
    const char *name; /* in the key; NULL: looks as `like` */
    double fill, text, line;
    bpi_hatch hatch;
    bool dashed;
    bp_op_kind like;
} look;

static const look looks[] = {
    [BP_OP_ACTIVE] = {"hands-on step", 1, 0, 1.2, BPI_HATCH_NONE, false, BP_OP_ACTIVE},
    [BP_OP_PASSIVE] = {"by itself", 1, 0, 0.8, BPI_HATCH_RISING, false, BP_OP_PASSIVE},
    [BP_OP_OVEN] = {"in the oven", 1, 0, 0.8, BPI_HATCH_UPRIGHT, false, BP_OP_OVEN},
    [BP_OP_LOAD] = {"load, take off, heat, wash", 0.3, 1, 0.6, BPI_HATCH_NONE, false, BP_OP_LOAD},
    [BP_OP_TAKE_OFF] = {.like = BP_OP_LOAD},
    [BP_OP_MEASURE] = {"measure", 0.86, 0, 1.2, BPI_HATCH_NONE, false, BP_OP_MEASURE},
    [BP_OP_WAIT] = {"waits", 1, 0, 0.7, BPI_HATCH_LEVEL, true, BP_OP_WAIT},
    [BP_OP_CARRY] = {"carry", 0, 1, 0.6, BPI_HATCH_NONE, false, BP_OP_CARRY},
    [BP_OP_SET] = {"on the set", 1, 0, 0.7, BPI_HATCH_DOUBLE, false, BP_OP_SET},
    [BP_OP_PREHEAT] = {.like = BP_OP_LOAD},
    [BP_OP_RESET] = {"clear, stand by", 0.72, 0, 0.6, BPI_HATCH_NONE, true, BP_OP_RESET},
    [BP_OP_STAND_BY] = {.like = BP_OP_RESET},
    [BP_OP_WASH] = {.like = BP_OP_LOAD},
    [BP_OP_WARM_UP] = {.like = BP_OP_LOAD},
    [BP_OP_HELP] = {"help", 0.86, 0, 1.2, BPI_HATCH_NONE, true, BP_OP_HELP},
};

static const look *look_of(bp_op_kind kind)
{
    return &looks[looks[kind].like];
}

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
    double line = bpi_type_height(p->type, BPI_TL_FONT_BAR, "0", -1);
    double wide = bpi_type_width(p->type, BPI_TL_FONT_BOLD, number);
    if (h < line)
        y -= (line - h) / 2; /* a low lane: ascenders have air above them */
    double room = h < line ? line : h;
    if (*text && w > 12 && bpi_ink_fits(p, BPI_TL_FONT_BAR, text, w - 4, room)) {
        put_text(p, k, BPI_TL_FONT_BAR, text, x + 2, y, w - 4, room);
    } else if (!*number) {
        if (*text && w > 24)
            put_text(p, k, BPI_TL_FONT_BAR, text, x + 2, y, w - 4, room);
    } else if (w > wide + 40) {
        put_text(p, k, BPI_TL_FONT_BAR, bpi_page_f(p, "%s %s", number, text), x + 2, y, w - 4,
                 room);
    } else if (w >= wide + 1.5) {
        double top = y + (room - line) / 2;
        if (k->hatch != BPI_HATCH_NONE)
            bpi_page_fill(p, x + (w - wide) / 2, top, wide, line, 1);
        bpi_page_text_grey(p, BPI_TL_FONT_BOLD, number, x + (w - wide) / 2, top, wide + 1, BPI_LEFT,
                           k->text);
    } else if (w >= 7 && h >= wide) {
        if (k->hatch != BPI_HATCH_NONE)
            bpi_page_fill(p, x + 0.5, y + 1, w - 1, h - 2, 1);
        bpi_ink_text_up(p, BPI_TL_FONT_BOLD, number, x, y, w, h, k->text);
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

/* ---- lanes ------------------------------------------------------------------------------- */

static void draw_container_name(bpi_page *p, double labels, uint32_t container, double y,
                                double height)
{
    const bp_plan *plan = p->plan;
    const bp_container *c = &plan->container[container];
    const char *what = bpi_page_f(p, "%s%s, %s", c->late > 0 ? "LATE: " : "",
                                  c->dish < plan->dishes ? plan->dish[c->dish].title : "",
                                  bp_stage_name(c->stage));
    bpi_page_text(p, (bpi_font){13, true, false}, c->code, p->left, y + (height - 17) / 2, 34,
                  BPI_LEFT);
    bpi_ink_text_cut(p, (bpi_font){8, false, false}, what, p->left + 36, y, labels - 40, height, 0);
}

static const char *thing_name(bpi_page *p, const bp_thing *t)
{
    if (t->kind == BP_BURNER)
        return "burner";
    if (t->kind == BP_SET)
        return bpi_page_f(p, "set: %s", t->id);
    return *t->name ? t->name : t->id;
}

double bpi_tl_label_room(bpi_page *p)
{
    double room = BPI_TL_LABELS;
    for (uint32_t i = 0; i < p->plan->things; i++) {
        const char *name = thing_name(p, &p->plan->thing[i]);
        double wide = bpi_type_width(p->type, FONT_NAME, name) + NUMBER + 8;
        if (wide > room)
            room = wide;
    }
    return room < BPI_TL_MOST ? room : BPI_TL_MOST;
}

/* The number within the group is never cut, however long the name. */
static void draw_thing_name(bpi_page *p, double labels, const bpi_tl_lane *lane, double y,
                            double height)
{
    const bp_thing *t = &p->plan->thing[lane->group];
    const char *name = thing_name(p, t);
    bpi_font font = height > 15 ? FONT_NAME : BPI_TL_FONT_BOLD;
    double high = height > 15 ? 12 : 10.5, w = labels - 8, number = 0;
    y += (height - high) / 2 - 1;
    if (t->count != 1 || lane->number > 0) {
        const char *text = bpi_page_f(p, "%u", (unsigned)lane->number + 1);
        number = bpi_type_width(p->type, font, text) + 4;
        bpi_page_text(p, font, text, p->left, y, w, BPI_RIGHT);
    }
    bpi_ink_text_cut(p, font, name, p->left, y, w - number, high, 0);
}

static void draw_lane_name(bpi_page *p, const bpi_tl_view *v, const bpi_tl_lane *lane, double y,
                           double height)
{
    if (v->part == BPI_TL_PATHS) {
        if (lane->number == 0)
            draw_container_name(p, v->labels, lane->group, y, height);
    } else if (lane->person && lane->number > 0) {
        bpi_page_text(p, BPI_TL_FONT_AXIS, "at once", p->left, y + (height - 10) / 2, v->labels - 6,
                      BPI_RIGHT);
    } else if (lane->person) {
        bpi_ink_text_cut(p, FONT_NAME, p->plan->person[lane->group].name, p->left,
                         y + (height - 14) / 2, v->labels - 6, 14, 0);
    } else {
        draw_thing_name(p, v->labels, lane, y, height);
    }
}

/* A container's way: a thin line through its bars, to a point when it is first on camera. */
static void draw_path(bpi_page *p, const bpi_tl_view *v, uint32_t container, double y, double h)
{
    const bpi_tl *tl = v->tl;
    const bp_container *c = &p->plan->container[container];
    double from = -1, to = bpi_tl_x(tl, c->needed);
    for (uint32_t i = 0; i < tl->bars; i++)
        if (tl->lane[tl->bar[i].lane].group == container && (from < 0 || tl->bar[i].x0 < from))
            from = tl->bar[i].x0;
    if (from >= 0 && from < to)
        bpi_page_line(p, bpi_tl_page_x(v, from), y + h / 2, bpi_tl_page_x(v, to), y + h / 2, 1);
}

static void draw_needed(bpi_page *p, const bpi_tl_view *v, uint32_t container, double y, double h)
{
    double x = bpi_tl_page_x(v, bpi_tl_x(v->tl, p->plan->container[container].needed));
    bpi_page_fill(p, x - 3.5, y + h / 2 - 3.5, 7, 7, 1);
    bpi_page_fill(p, x - 2.5, y + h / 2 - 2.5, 5, 5, 0);
}

void bpi_tl_draw_lane(bpi_page *p, const bpi_tl_view *v, const bpi_tl_row *row)
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
        double x0 = bpi_tl_page_x(v, b->x0), w = b->x1 - b->x0;
        /* A hair of white between neighbours, or black ones would run together. */
        draw_box(p, look_of(p->plan->op[b->op].kind), x0 + 0.4, y + 1, w > 1.8 ? w - 0.8 : 1, h);
    }
    if (v->part == BPI_TL_PATHS && lane->number == 0)
        draw_needed(p, v, lane->group, y, h);
    bpi_ink_unclip(p);
}

void bpi_tl_draw_lane_texts(bpi_page *p, const bpi_tl_view *v, const bpi_tl_row *row)
{
    const bpi_tl *tl = v->tl;
    for (uint32_t i = 0; i < tl->bars; i++) {
        const bpi_tl_bar *b = &tl->bar[i];
        if (b->lane != row->lane || b->x1 <= v->page->from || b->x0 >= v->page->to)
            continue;
        const bp_op *op = &p->plan->op[b->op];
        double x0 = bpi_tl_page_x(v, b->x0 > v->page->from ? b->x0 : v->page->from);
        double x1 = bpi_tl_page_x(v, b->x1 < v->page->to ? b->x1 : v->page->to);
        bool still = op->kind == BP_OP_WAIT || op->kind == BP_OP_SET;
        draw_bar_text(p, look_of(op->kind), bar_text(p, op, v->part),
                      still ? "" : bpi_page_f(p, "%u", (unsigned)b->op + 1), x0, v->y + row->y + 1,
                      x1 - x0, row->height - 2);
    }
}

static bool is_drawn(const bp_plan *plan, const look *k)
{
    for (uint32_t i = 0; i < plan->ops; i++)
        if (look_of(plan->op[i].kind) == k)
            return true;
    return false;
}

void bpi_tl_draw_key(bpi_page *p, double y)
{
    double x = p->left;
    for (size_t i = 0; i < sizeof looks / sizeof *looks; i++) {
        const look *k = &looks[i];
        if (!is_drawn(p->plan, k))
            continue;
        double wide = bpi_type_width(p->type, BPI_TL_FONT_BAR, k->name) + 1;
        draw_box(p, k, x, y + 2, 18, 9);
        bpi_page_text(p, BPI_TL_FONT_BAR, k->name, x + 21, y + 1, wide, BPI_LEFT);
        x += wide + 24;
    }
    bpi_page_fill(p, x, y + 4, 5, 5, 0);
    bpi_page_text(p, BPI_TL_FONT_BAR, "first on camera", x + 9, y + 1, 80, BPI_LEFT);
}

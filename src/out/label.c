#include "out/label.h"

#include <string.h>

#include "out/facts.h"
#include "out/page.h"
#include "out/paper.h"

enum { ACROSS = 2, MOST_DOWN = 4, LEAST_DOWN = 2, MOST_LINES = 14 };

#define EDGE    10.0 /* inside a label, clear of the scissors */
#define CUT     9.0  /* length of a cut mark */
#define CODE    50.0 /* size of the code */
#define SMALLER 0.94 /* one step of shrinking */
#define LEAST                                                                                      \
    0.9 /* shrunk to no less, so that 11 points stay about 10, unless a label of a
                        quarter of the paper is too small for that: then fewer stand on a page */

/* One paragraph of a label. */
typedef struct line {
    bpi_font font;
    const char *text;
} line;

typedef struct lines {
    line at[MOST_LINES];
    uint32_t n;
} lines;

static void say(lines *l, double size, bool bold, const char *text)
{
    if (*text && l->n < MOST_LINES)
        l->at[l->n++] = (line){{size, bold, false}, text};
}

static const char *clock_text(bpi_page *p, int64_t t)
{
    char clock[BP_CLOCK_ROOM];
    return bpi_page_f(p, "%s", bp_plan_clock(clock, p->plan, t));
}

/* The last thing that is done to it before it waits or is carried: who made it, and when. */
static uint32_t made_by(const bp_plan *plan, uint32_t container)
{
    uint32_t best = BP_NO_INDEX;
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *o = &plan->op[i];
        if (o->person == BP_NO_INDEX || o->kind == BP_OP_CARRY || o->kind == BP_OP_STAND_BY ||
            o->kind == BP_OP_RESET || o->kind == BP_OP_PREHEAT || o->kind == BP_OP_HELP ||
            !bpi_fact_serves(plan, i, container))
            continue;
        if (best == BP_NO_INDEX || o->to >= plan->op[best].to)
            best = i;
    }
    return best;
}

static const char *made_text(bpi_page *p, uint32_t container)
{
    const bp_plan *plan = p->plan;
    uint32_t op = made_by(plan, container);
    if (op == BP_NO_INDEX)
        return "";
    return bpi_page_f(p, "Made by %s, %s", plan->person[plan->op[op].person].name,
                      clock_text(p, plan->op[op].to));
}

static const char *beat_text(bpi_page *p, const bp_container *c)
{
    const bp_plan *plan = p->plan;
    const bp_air *air = c->air < plan->airs ? &plan->air[c->air] : NULL;
    const char *s = !air ? "" : air->rehearsal ? bpi_page_f(p, "REHEARSAL %s", air->id) : air->id;
    if (air && c->beat != BP_NO_INDEX && c->beat >= air->beats.first)
        s = bpi_page_f(p, "%s, beat %u: %s", s, (unsigned)(c->beat - air->beats.first + 1),
                       plan->beat[c->beat].text);
    if (c->role != BP_ROLE_AIR)
        s = bpi_page_f(p, "%s (%s)", s, bp_role_name(c->role));
    return s;
}

/* "Good for a hit from 08:11:30 to 08:37": whoever moves the hit asks the label. */
static const char *hits_text(bpi_page *p, const bp_container *c)
{
    const char *from = bpi_page_f(p, "Good for a hit from %s", clock_text(p, c->hit_from));
    return c->hit_to == BP_NO_TIME ? from
                                   : bpi_page_f(p, "%s to %s", from, clock_text(p, c->hit_to));
}

static void say_all(bpi_page *p, lines *l, uint32_t container)
{
    const bp_plan *plan = p->plan;
    const bp_container *c = &plan->container[container];
    char clock[BP_CLOCK_ROOM];
    say(l, 14, true, bpi_page_keep(p, bpi_fact_container(p->arena, plan, container)));
    say(l, 11, false, beat_text(p, c));
    say(l, 11, true, bpi_page_f(p, "Allergens: %s", *c->allergens ? c->allergens : "none named"));
    const char *by = "";
    if (c->use_by != BP_NO_TIME)
        by = bpi_page_f(p, "Use by %s", clock_text(p, c->use_by));
    if (c->best_by != BP_NO_TIME)
        by = bpi_page_f(p, "%s%sBest by %s", by, *by ? "   " : "", clock_text(p, c->best_by));
    say(l, 12, true, by);
    if (c->hit_from != BP_NO_TIME && plan->verdict == BP_PLANNED)
        say(l, 11, false, hits_text(p, c));
    for (uint32_t i = 0; i < plan->findings; i++)
        if (plan->finding[i].container == container && *plan->finding[i].accepted)
            say(l, 11, true,
                bpi_page_f(p, "Stop of %s accepted by %s", plan->finding[i].rule,
                           plan->finding[i].accepted));
    const char *made = made_text(p, container);
    if (c->late > 0)
        say(l, 11.5, true, bpi_page_f(p, "LATE PLAN: %s late", bp_length_text(clock, c->late)));
    else if (plan->verdict != BP_PLANNED)
        made = bpi_page_f(p, "%s%sLATE PLAN", made, *made ? "   " : "");
    say(l, 11, false, made);
    char date[BPI_FACT_DATE_ROOM];
    say(l, 9, false,
        bpi_page_f(p, "%s, %s, plan %s", plan->title, bpi_fact_date(date, plan), plan->stamp));
}

static double height_of(bpi_page *p, const lines *l, double width, double scale)
{
    double sum = 0;
    for (uint32_t i = 0; i < l->n; i++) {
        bpi_font font = l->at[i].font;
        font.size *= scale;
        sum += bpi_type_height(p->type, font, l->at[i].text, width) + 1.5 * scale;
    }
    return sum;
}

static double scale_of(bpi_page *p, const lines *l, double width, double high)
{
    double scale = 1;
    while (height_of(p, l, width, scale) > high && scale > 0.05)
        scale *= SMALLER;
    return scale;
}

static void draw_lines(bpi_page *p, const lines *l, double x, double y, double width, double high)
{
    double scale = scale_of(p, l, width, high);
    for (uint32_t i = 0; i < l->n; i++) {
        bpi_font font = l->at[i].font;
        font.size *= scale;
        bpi_page_text(p, font, l->at[i].text, x, y, width, BPI_LEFT);
        y += bpi_type_height(p->type, font, l->at[i].text, width) + 1.5 * scale;
    }
}

/* One text in a box of one line, as large as it fits up to `font`. Returns its height. */
static double draw_fitted(bpi_page *p, bpi_font font, const char *text, double x, double y,
                          double width, bpi_align align)
{
    while (bpi_type_width(p->type, font, text) > width && font.size > 1)
        font.size *= SMALLER;
    bpi_page_text(p, font, text, x, y, width, align);
    return bpi_type_height(p->type, font, text, width);
}

/* Where the lines of a label begin below its upper edge. */
static double head_high(void)
{
    return CODE * 1.17 - 4;
}

static void draw_label(bpi_page *p, uint32_t container, double x, double y, double w, double h)
{
    const bp_container *c = &p->plan->container[container];
    double half = w / 2, right = x + half;
    draw_fitted(p, (bpi_font){CODE, true, false}, c->code, x, y - 6, half - 8, BPI_LEFT);
    double at = y;
    at += draw_fitted(p, (bpi_font){10, true, false}, "On the set by", right, at, half, BPI_RIGHT);
    at += draw_fitted(p, (bpi_font){20, true, false}, clock_text(p, c->set_by), right, at, half,
                      BPI_RIGHT);
    const char *where = *c->station ? bpi_page_f(p, "%s, size %s", c->station, c->size)
                                    : bpi_page_f(p, "size %s", c->size);
    draw_fitted(p, (bpi_font){12, true, false}, where, right, at, half, BPI_RIGHT);
    double top = y + head_high();
    bpi_page_line(p, x, top, x + w, top, 1.2);
    lines l = {.n = 0};
    say_all(p, &l, container);
    draw_lines(p, &l, x, top + 3, w, y + h - top - 3);
}

/* Short strokes at the edge of the paper and small crosses between labels. */
static void draw_cuts(bpi_page *p, int down, double w, double h)
{
    for (int i = 0; i <= ACROSS; i++)
        for (int k = 0; k <= down; k++) {
            double x = p->left + i * w, y = p->top + k * h;
            bpi_page_line(p, x - (i > 0 ? CUT : 0), y, x + (i < ACROSS ? CUT : 0), y, 0.6);
            bpi_page_line(p, x, y - (k > 0 ? CUT : 0), x, y + (k < down ? CUT : 0), 0.6);
        }
}

/* Below the labels, on the strip that the scissors leave: what other sheets have in head and foot.
 * Returns its height. */
static double draw_strip(bpi_page *p, double y, bool draw)
{
    const bp_plan *plan = p->plan;
    const char *page = bpi_page_f(p, "%s, labels, plan %s, page %d of %d", plan->title, plan->stamp,
                                  p->number, p->dry ? 999 : p->total);
    if (bpi_fact_warns(plan))
        page = bpi_page_f(p, "%s. %s", bpi_page_keep(p, bpi_fact_late(p->arena, plan)), page);
    double width = p->right - p->left;
    double high = bpi_type_height(p->type, BPI_FONT_NOTE_BOLD, page, width);
    if (draw) {
        bpi_page_text(p, BPI_FONT_NOTE_BOLD, page, p->left, y, width, BPI_LEFT);
        bpi_page_text(p, BPI_FONT_NOTE, plan->defer, p->left, y + high, width, BPI_LEFT);
    }
    return high + bpi_type_height(p->type, BPI_FONT_NOTE, plan->defer, width);
}

static double label_high(bpi_page *p, int down)
{
    return (p->bottom - p->top - draw_strip(p, 0, false) - 4) / down;
}

/* As many labels one below the other as leave each readable. */
static int choose_down(bpi_page *p)
{
    int down = MOST_DOWN;
    double wide = (p->right - p->left) / ACROSS - 2 * EDGE;
    for (uint32_t i = 0; i < p->plan->containers && down > LEAST_DOWN; i++) {
        lines l = {.n = 0};
        say_all(p, &l, i);
        while (down > LEAST_DOWN &&
               scale_of(p, &l, wide, label_high(p, down) - 2 * EDGE - head_high() - 3) < LEAST)
            down--;
    }
    return down;
}

static void draw(bpi_page *p)
{
    double w = 0, h = 0;
    int down = MOST_DOWN;
    for (uint32_t i = 0; i < p->plan->containers || p->number == 0; i++) {
        if (i == 0) {
            bpi_page_begin(p);
            down = choose_down(p);
        }
        uint32_t place = i % (uint32_t)(ACROSS * down);
        if (place == 0) {
            if (i > 0)
                bpi_page_begin(p);
            w = (p->right - p->left) / ACROSS;
            h = label_high(p, down);
            draw_strip(p, p->top + down * h + 4, true);
            draw_cuts(p, down, w, h);
        }
        if (p->plan->containers == 0) {
            bpi_page_para(p, BPI_FONT_BODY, "This plan has no containers to label.");
            break;
        }
        uint32_t column = place % ACROSS, row = place / ACROSS;
        draw_label(p, i, p->left + column * w + EDGE, p->top + row * h + EDGE, w - 2 * EDGE,
                   h - 2 * EDGE);
    }
}

bp_code bpi_labels_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"Labels", letter, false, true, draw, NULL};
    return bpi_paper_write(out, plan, &sheet, errs);
}

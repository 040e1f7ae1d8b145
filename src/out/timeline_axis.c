#include "out/timeline_axis.h"

#include "out/ink.h"

enum { MARKED = 64 }; /* appearances whose names are kept apart */

static const int64_t steps[] = {300, 900, 1800, 3600, 7200, 14400};

void bpi_tl_draw_ticks(bpi_page *p, const bpi_tl_view *v)
{
    const bpi_tl *tl = v->tl;
    double free_from = 0; /* right of the last clock time: another covers none */
    for (uint32_t i = 0; i < tl->pieces; i++) {
        const bpi_tl_piece *piece = &tl->piece[i];
        char clock[BP_CLOCK_ROOM];
        double room =
            bpi_type_width(p->type, BPI_TL_FONT_AXIS, bp_plan_clock(clock, p->plan, piece->from)) +
            8;
        size_t k = 0;
        while (k + 1 < sizeof steps / sizeof *steps && (double)steps[k] * tl->scale < room)
            k++;
        for (int64_t t = piece->from; t <= piece->to; t += 300) {
            double axis = bpi_tl_x(tl, t);
            if (t % steps[k] != 0 || axis < v->page->from - 0.01 || axis > v->page->to + 0.01)
                continue;
            double x = bpi_tl_page_x(v, axis), left = x - room / 2;
            const char *text = bpi_page_f(p, "%s", bp_plan_clock(clock, p->plan, t));
            double wide = bpi_type_width(p->type, BPI_TL_FONT_AXIS, text);
            /* Right of the bars it would leave the paper. */
            if (x <= v->x + tl->width && x - wide / 2 >= free_from) {
                bpi_page_text(p, BPI_TL_FONT_AXIS, text, left, v->y - BPI_TL_AXIS, room,
                              BPI_CENTRE);
                free_from = x + wide / 2 + 3;
            }
            bpi_page_line(p, x, v->y - 3, x, v->y, 0.8);
            bpi_page_fill(p, x - 0.25, v->y, 0.5, v->h, 0.6);
        }
    }
}

void bpi_tl_draw_tears(bpi_page *p, const bpi_tl_view *v)
{
    const bpi_tl *tl = v->tl;
    for (uint32_t i = 0; i + 1 < tl->pieces; i++) {
        double x = tl->piece[i + 1].x - BPI_TL_GAP;
        if (x >= v->page->from - 0.01 && x < v->page->to)
            bpi_ink_tear(p, bpi_tl_page_x(v, x), v->y - 3, BPI_TL_GAP, v->h + 6);
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
    for (bool moved = true; moved && row + 1 < BPI_TL_MARK_ROWS;) {
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
static bool place_mark(bpi_page *p, const bpi_tl_view *v, mark *m, int64_t t, names *taken)
{
    double axis = bpi_tl_x(v->tl, t);
    if (axis < v->page->from - 0.01 || axis > v->page->to + 0.01)
        return false;
    m->x = bpi_tl_page_x(v, axis);
    m->width = bpi_type_width(p->type, BPI_TL_FONT_AXIS, m->text) + 4;
    m->left = m->x + 2;
    if (m->left + m->width > v->x + v->tl->width)
        m->left = m->x - 2 - m->width;
    m->y =
        v->y - BPI_TL_AXIS - (free_row(taken, m->left, m->left + m->width) + 1) * BPI_TL_MARK_ROW;
    return true;
}

static void draw_mark(bpi_page *p, const bpi_tl_view *v, const mark *m, bool line)
{
    if (!line) {
        bpi_page_fill(p, m->left, m->y, m->width, BPI_TL_MARK_ROW - 1, 1);
        bpi_page_text(p, BPI_TL_FONT_AXIS, m->text, m->left, m->y, m->width, BPI_LEFT);
    } else if (m->solid) {
        bpi_page_line(p, m->x, m->y, m->x, v->y + v->h, 2);
    } else {
        bpi_ink_dash(p, m->x, m->y, m->x, v->y + v->h, 1.6);
    }
}

void bpi_tl_draw_marks(bpi_page *p, const bpi_tl_view *v)
{
    const bp_plan *plan = p->plan;
    char clock[BP_CLOCK_ROOM];
    for (int names_too = 0; names_too < 2; names_too++) {
        names taken = {.n = 0};
        for (uint32_t i = 0; i < plan->airs; i++) {
            const bp_air *air = &plan->air[i];
            mark hit = {.solid = true}, set = {.solid = false};
            hit.text = bpi_page_f(p, "%s %s %s", air->rehearsal ? "REHEARSAL" : "HIT",
                                  bp_plan_clock(clock, plan, air->hit), air->id);
            if (air->floats)
                hit.text = bpi_page_f(p, "%s, until %s", hit.text,
                                      bp_plan_clock(clock, plan, air->hit + air->floats));
            set.text = bpi_page_f(p, "set by %s", bp_plan_clock(clock, plan, air->set_by));
            if (place_mark(p, v, &hit, air->hit, &taken))
                draw_mark(p, v, &hit, !names_too);
            if (place_mark(p, v, &set, air->set_by, &taken))
                draw_mark(p, v, &set, !names_too);
        }
    }
}

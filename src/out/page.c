#include "out/page.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "out/facts.h"

#define MARGIN 30.0
#define GAP    4.0

const char *bpi_page_f(bpi_page *p, const char *format, ...)
{
    char fixed[256];
    va_list args;
    va_start(args, format);
    int len = vsnprintf(fixed, sizeof fixed, format, args);
    va_end(args);
    char *s = len < 0 ? NULL : bpi_arena_take(p->arena, (size_t)len + 1, 1);
    if (!s) {
        p->no_memory = true;
        return "";
    }
    if ((size_t)len < sizeof fixed) {
        memcpy(s, fixed, (size_t)len);
    } else {
        va_start(args, format);
        vsnprintf(s, (size_t)len + 1, format, args);
        va_end(args);
    }
    return s;
}

const char *bpi_page_keep(bpi_page *p, const char *text)
{
    if (!text)
        p->no_memory = true;
    return text ? text : "";
}

/* ---- ink --------------------------------------------------------------------------------- */

static void ink(bpi_page *p, double grey)
{
    cairo_set_source_rgb(p->cr, grey, grey, grey);
}

void bpi_page_text_grey(bpi_page *p, bpi_font font, const char *text, double x, double y,
                        double width, bpi_align align, double grey)
{
    if (p->dry)
        return;
    ink(p, grey);
    bpi_type_show(p->type, font, text, x, y, width, align);
}

void bpi_page_text(bpi_page *p, bpi_font font, const char *text, double x, double y, double width,
                   bpi_align align)
{
    bpi_page_text_grey(p, font, text, x, y, width, align, 0);
}

double bpi_page_lines(bpi_page *p, bpi_font font, const char *text, double x, double y,
                      double width, bpi_align align, double limit, uint32_t *line, bool draw)
{
    ink(p, 0);
    return bpi_type_lines(p->type, font, text, x, y, width, align, limit, line, draw && !p->dry);
}

void bpi_page_fill(bpi_page *p, double x, double y, double w, double h, double grey)
{
    if (p->dry)
        return;
    ink(p, grey);
    cairo_rectangle(p->cr, x, y, w, h);
    cairo_fill(p->cr);
}

void bpi_page_frame(bpi_page *p, double x, double y, double w, double h, double line)
{
    if (p->dry)
        return;
    ink(p, 0);
    cairo_set_line_width(p->cr, line);
    cairo_rectangle(p->cr, x, y, w, h);
    cairo_stroke(p->cr);
}

void bpi_page_line(bpi_page *p, double x0, double y0, double x1, double y1, double line)
{
    if (p->dry)
        return;
    ink(p, 0);
    cairo_set_line_width(p->cr, line);
    cairo_move_to(p->cr, x0, y0);
    cairo_line_to(p->cr, x1, y1);
    cairo_stroke(p->cr);
}

void bpi_page_triangle(bpi_page *p, double x, double y, double size)
{
    if (p->dry)
        return;
    ink(p, 0);
    cairo_set_line_width(p->cr, size / 10);
    cairo_set_line_join(p->cr, CAIRO_LINE_JOIN_ROUND);
    cairo_move_to(p->cr, x + size / 2, y + size * 0.06);
    cairo_line_to(p->cr, x + size * 0.97, y + size * 0.9);
    cairo_line_to(p->cr, x + size * 0.03, y + size * 0.9);
    cairo_close_path(p->cr);
    cairo_stroke(p->cr);
    cairo_set_line_join(p->cr, CAIRO_LINE_JOIN_MITER);
    bpi_font bang = {size * 0.62, true, false};
    double high = bpi_type_height(p->type, bang, "!", size);
    bpi_page_text(p, bang, "!", x, y + size * 0.56 - high / 2, size, BPI_CENTRE);
}

void bpi_page_para(bpi_page *p, bpi_font font, const char *text)
{
    double width = p->right - p->left, height = bpi_type_height(p->type, font, text, width);
    bpi_page_need(p, height);
    bpi_page_text(p, font, text, p->left, p->y, width, BPI_LEFT);
    p->y += height;
}

/* ---- the same on every page ---------------------------------------------------------------- */

static void draw_late_band(bpi_page *p)
{
    bpi_font font = {12, true, false};
    double width = p->right - p->left - 12;
    const char *text = bpi_page_keep(p, bpi_fact_late(p->arena, p->plan));
    double height = bpi_type_height(p->type, font, text, width);
    bpi_page_fill(p, p->left, p->top, p->right - p->left, height + 8, 0);
    bpi_page_text_grey(p, font, text, p->left + 6, p->top + 4, width, BPI_LEFT, 1);
    p->top += height + 8 + GAP;
}

static void draw_head(bpi_page *p)
{
    bpi_font big = {12, true, false};
    const char *where =
        *p->section ? bpi_page_f(p, "%s: %s", p->sheet->name, p->section) : p->sheet->name;
    char date[BPI_FACT_DATE_ROOM];
    const char *what = bpi_page_f(p, "%s, plan %s", bpi_fact_date(date, p->plan), p->plan->stamp);
    double width = p->right - p->left, side = bpi_type_width(p->type, BPI_FONT_NOTE_BOLD, what) + 6;
    double rest = width - side, first = bpi_type_width(p->type, big, where) + 14;
    if (first > rest * 0.6)
        first = rest * 0.6;
    double h1 = bpi_type_height(p->type, big, where, first);
    double h2 = bpi_type_height(p->type, BPI_FONT_NOTE_BOLD, p->plan->title, rest - first - GAP);
    bpi_page_text(p, big, where, p->left, p->top, first, BPI_LEFT);
    bpi_page_text(p, BPI_FONT_NOTE_BOLD, p->plan->title, p->left + first, p->top + 2,
                  rest - first - GAP, BPI_LEFT);
    bpi_page_text(p, BPI_FONT_NOTE_BOLD, what, p->right - side, p->top + 2, side, BPI_RIGHT);
    p->top += (h1 > h2 + 2 ? h1 : h2 + 2) + GAP;
    bpi_page_line(p, p->left, p->top, p->right, p->top, 1.5);
    p->top += 2 * GAP;
}

static void draw_foot(bpi_page *p)
{
    const bpi_font font = BPI_FONT_NOTE_BOLD; /* so that A4 holds the words in one line */
    const char *page = bpi_page_f(p, "page %d of %d", p->number, p->dry ? 99 : p->total);
    double width = p->right - p->left, side = bpi_type_width(p->type, font, page) + 1;
    double most = bpi_type_width(p->type, font, "page 99 of 99") + 1;
    side = side > most ? side : most; /* the same while dry */
    double high = bpi_type_height(p->type, BPI_FONT_NOTE, p->plan->defer, width - side - GAP);
    double line = bpi_type_height(p->type, font, page, side);
    double h = high > line ? high : line;
    double y = p->bottom - h;
    bpi_page_line(p, p->left, y - GAP, p->right, y - GAP, 1.5);
    bpi_page_text(p, BPI_FONT_NOTE, p->plan->defer, p->left, y, width - side - GAP, BPI_LEFT);
    bpi_page_text(p, font, page, p->right - side, y, side, BPI_RIGHT);
    p->bottom = y - 2 * GAP;
}

void bpi_page_begin(bpi_page *p)
{
    if (p->number > 0 && !p->dry)
        cairo_show_page(p->cr);
    p->number++;
    p->left = p->top = MARGIN;
    p->right = p->width - MARGIN;
    p->bottom = p->height - MARGIN;
    if (!p->sheet->bare) {
        if (bpi_fact_warns(p->plan))
            draw_late_band(p);
        draw_head(p);
        draw_foot(p);
    }
    p->y = p->top;
    if (p->again)
        p->again(p, p->again_of);
}

void bpi_page_need(bpi_page *p, double height)
{
    if (p->y + height > p->bottom + 0.01 && p->y > p->top)
        bpi_page_begin(p);
}

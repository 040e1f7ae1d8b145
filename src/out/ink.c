#include "out/ink.h"

#define HATCH_STEP 4.0

static void pen(bpi_page *p, double line)
{
    cairo_set_source_rgb(p->cr, 0, 0, 0);
    cairo_set_line_width(p->cr, line);
}

/* Part of a path: all lines of a hatch are one stroke, which keeps files small. */
static void line_to(bpi_page *p, double x0, double y0, double x1, double y1)
{
    cairo_move_to(p->cr, x0, y0);
    cairo_line_to(p->cr, x1, y1);
}

/* Slanted lines, cut at the box by arithmetic: a clip would make the file larger. Lines start on
 * multiples of the step over the whole page, so that neighbours join. */
static void rising(bpi_page *p, double x, double y, double w, double h)
{
    double first = (double)(long)((x + y) / HATCH_STEP) * HATCH_STEP;
    for (int i = 0; first + i * HATCH_STEP < x + w + y + h; i++) {
        double sum = first + i * HATCH_STEP;
        double x0 = sum - (y + h), y0 = y + h, x1 = sum - y, y1 = y;
        if (x0 < x) {
            x0 = x;
            y0 = sum - x;
        }
        if (x1 > x + w) {
            x1 = x + w;
            y1 = sum - x1;
        }
        if (x0 < x1)
            line_to(p, x0, y0, x1, y1);
    }
}

void bpi_ink_hatch(bpi_page *p, bpi_hatch hatch, double x, double y, double w, double h)
{
    if (p->dry)
        return;
    pen(p, 0.5);
    switch (hatch) {
    case BPI_HATCH_NONE:
        break;
    case BPI_HATCH_RISING:
        rising(p, x, y, w, h);
        break;
    case BPI_HATCH_UPRIGHT:
        for (int i = 0; HATCH_STEP * (0.5 + 0.75 * i) < w; i++) {
            double at = x + HATCH_STEP * (0.5 + 0.75 * i);
            line_to(p, at, y, at, y + h);
        }
        break;
    case BPI_HATCH_LEVEL:
        line_to(p, x, y + h / 2, x + w, y + h / 2);
        break;
    case BPI_HATCH_DOUBLE:
        pen(p, 1);
        line_to(p, x, y + h / 2 - 1.5, x + w, y + h / 2 - 1.5);
        line_to(p, x, y + h / 2 + 1.5, x + w, y + h / 2 + 1.5);
        break;
    }
    cairo_stroke(p->cr);
}

static const double dashes[] = {3, 2};

void bpi_ink_dash(bpi_page *p, double x0, double y0, double x1, double y1, double line)
{
    if (p->dry)
        return;
    pen(p, line);
    cairo_set_dash(p->cr, dashes, 2, 0);
    line_to(p, x0, y0, x1, y1);
    cairo_stroke(p->cr);
    cairo_set_dash(p->cr, NULL, 0, 0);
}

void bpi_ink_dashed_frame(bpi_page *p, double x, double y, double w, double h, double line)
{
    if (p->dry)
        return;
    pen(p, line);
    cairo_set_dash(p->cr, dashes, 2, 0);
    cairo_rectangle(p->cr, x, y, w, h);
    cairo_stroke(p->cr);
    cairo_set_dash(p->cr, NULL, 0, 0);
}

void bpi_ink_clip(bpi_page *p, double x, double y, double w, double h)
{
    if (p->dry)
        return;
    cairo_save(p->cr);
    cairo_rectangle(p->cr, x, y, w, h);
    cairo_clip(p->cr);
}

void bpi_ink_unclip(bpi_page *p)
{
    if (!p->dry)
        cairo_restore(p->cr);
}

static void zigzag(bpi_page *p, double x, double y, double h)
{
    cairo_move_to(p->cr, x, y);
    for (int i = 1; i * 5.0 < h; i++)
        cairo_line_to(p->cr, x + (i % 2 ? 4 : 0), y + i * 5.0);
    cairo_line_to(p->cr, x, y + h);
    cairo_stroke(p->cr);
}

void bpi_ink_tear(bpi_page *p, double x, double y, double w, double h)
{
    if (p->dry)
        return;
    bpi_page_fill(p, x + 4, y, w - 8, h, 1);
    pen(p, 0.8);
    zigzag(p, x + 4, y, h);
    zigzag(p, x + w - 8, y, h);
}

bool bpi_ink_fits(bpi_page *p, bpi_font font, const char *text, double w, double h)
{
    return bpi_type_show_cut(p->type, font, text, 0, 0, w, h, false);
}

void bpi_ink_text_cut(bpi_page *p, bpi_font font, const char *text, double x, double y, double w,
                      double h, double grey)
{
    if (p->dry)
        return;
    cairo_set_source_rgb(p->cr, grey, grey, grey);
    bpi_type_show_cut(p->type, font, text, x, y, w, h, true);
}

void bpi_ink_text_up(bpi_page *p, bpi_font font, const char *text, double x, double y, double w,
                     double h, double grey)
{
    double high = bpi_type_height(p->type, font, text, -1);
    if (p->dry)
        return;
    cairo_save(p->cr);
    cairo_translate(p->cr, x + w / 2 - high / 2, y + h);
    cairo_rotate(p->cr, -3.14159265358979323846 / 2);
    bpi_page_text_grey(p, font, text, 0, 0, h, BPI_CENTRE, grey);
    cairo_restore(p->cr);
}

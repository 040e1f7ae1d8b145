#include "out/page.h"

#include <cairo-pdf.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/error.h"
#include "out/facts.h"

#define MARGIN 30.0
#define GAP    4.0

/* ISO 216 A4 is 210 x 297 mm; US Letter is 8.5 x 11 in. */
static const struct {
    double width, height;
} papers[2] = {{210 / 25.4 * 72, 297 / 25.4 * 72}, {8.5 * 72, 11.0 * 72}};

static cairo_status_t take(void *out, const unsigned char *bytes, unsigned int len)
{
    bpi_text *t = out;
    bpi_text_add(t, (const char *)bytes, len);
    return t->failed ? CAIRO_STATUS_WRITE_ERROR : CAIRO_STATUS_SUCCESS;
}

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
    double half = (width - side) / 2 - 2 * GAP;
    double h1 = bpi_type_height(p->type, big, where, half);
    double h2 = bpi_type_height(p->type, BPI_FONT_NOTE_BOLD, p->plan->title, half);
    bpi_page_text(p, big, where, p->left, p->top, half, BPI_LEFT);
    bpi_page_text(p, BPI_FONT_NOTE_BOLD, p->plan->title, p->left + half + 2 * GAP, p->top + 2, half,
                  BPI_LEFT);
    bpi_page_text(p, BPI_FONT_NOTE_BOLD, what, p->right - side, p->top + 2, side, BPI_RIGHT);
    p->top += (h1 > h2 + 2 ? h1 : h2 + 2) + GAP;
    bpi_page_line(p, p->left, p->top, p->right, p->top, 1.5);
    p->top += 2 * GAP;
}

static void draw_foot(bpi_page *p)
{
    const char *page = bpi_page_f(p, "page %d of %d", p->number, p->dry ? 999 : p->total);
    double width = p->right - p->left, side = 90;
    double high = bpi_type_height(p->type, BPI_FONT_NOTE, p->plan->defer, width - side - GAP);
    double line = bpi_type_height(p->type, BPI_FONT_BOLD, page, side);
    double h = high > line ? high : line;
    double y = p->bottom - h;
    bpi_page_line(p, p->left, y - GAP, p->right, y - GAP, 1.5);
    bpi_page_text(p, BPI_FONT_NOTE, p->plan->defer, p->left, y, width - side - GAP, BPI_LEFT);
    bpi_page_text(p, BPI_FONT_BOLD, page, p->right - side, y, side, BPI_RIGHT);
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
        if (p->plan->verdict != BP_PLANNED)
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

/* ---- the document -------------------------------------------------------------------------- */

static void describe(cairo_surface_t *surface, bpi_page *p)
{
    const bp_plan *plan = p->plan;
    const char *date = bpi_page_f(p, "%04d-%02d-%02dT00:00:00", plan->year, plan->month, plan->day);
    const char *title = bpi_page_f(p, "%s: %s", plan->title, p->sheet->name);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT,
                                   bpi_page_f(p, "plan %s", plan->stamp));
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "backpot " BP_VERSION);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_MOD_DATE, date);
}

static void draw_all(bpi_page *p, bool dry)
{
    p->dry = dry;
    p->number = 0;
    p->section = "";
    p->again = NULL;
    p->sheet->draw(p);
    if (dry)
        p->total = p->number;
    else
        cairo_show_page(p->cr);
}

static bp_code cairo_code(cairo_status_t status, const bpi_text *out, bp_errors *errs)
{
    if (status == CAIRO_STATUS_SUCCESS && !out->failed)
        return BP_OK;
    if (out->failed || status == CAIRO_STATUS_NO_MEMORY)
        return bpi_error_no_memory(errs);
    return bpi_error_f(errs, BP_EIO, BPI_NOWHERE, "", "a page could not be drawn: %s",
                       cairo_status_to_string(status));
}

static bp_code write_pages(bpi_page *p, cairo_surface_t *surface, bpi_text *out, bp_errors *errs)
{
    bp_code rc = cairo_code(cairo_status(p->cr), out, errs);
    if (rc == BP_OK)
        rc = bpi_type_open(&p->type, p->cr, errs);
    if (rc != BP_OK)
        return rc;
    describe(surface, p);
    draw_all(p, true);
    rc = bpi_type_check(p->type, errs);
    if (rc == BP_OK && !p->no_memory) {
        draw_all(p, false);
        cairo_surface_finish(surface);
        rc = cairo_code(cairo_status(p->cr), out, errs);
        if (rc == BP_OK)
            rc = cairo_code(cairo_surface_status(surface), out, errs);
        if (rc == BP_OK)
            rc = bpi_type_check(p->type, errs);
    }
    if (rc == BP_OK && p->no_memory)
        rc = bpi_error_no_memory(errs);
    return rc;
}

bp_code bpi_page_write(bpi_text *out, const bp_plan *plan, const bpi_sheet *sheet, bp_errors *errs)
{
    bpi_page page = {.plan = plan, .sheet = sheet, .section = ""};
    page.width = papers[sheet->letter].width;
    page.height = papers[sheet->letter].height;
    if (sheet->landscape) {
        double w = page.width;
        page.width = page.height;
        page.height = w;
    }
    size_t before = out->len;
    page.arena = bpi_arena_new();
    if (!page.arena)
        return bpi_error_no_memory(errs);
    cairo_surface_t *surface =
        cairo_pdf_surface_create_for_stream(take, out, page.width, page.height);
    page.cr = cairo_create(surface);
    bp_code rc = write_pages(&page, surface, out, errs);
    bpi_type_free(page.type);
    cairo_destroy(page.cr);
    cairo_surface_destroy(surface);
    bpi_arena_free(page.arena);
    if (rc != BP_OK && out->s) {
        out->len = before;
        out->s[before] = '\0';
    }
    return rc;
}

/* src/out/page.h - pages with the same furniture on each, and the ink on them.
 *
 * Owns     the head and foot of every page, and where the free part of it is.
 * May use  base/, out/type, out/facts, Cairo; reads the plan.
 * Units    points; y grows downwards.
 *
 *   +----------------------------------------+
 *   | LATE PLAN ...  (only of a late plan)   |
 *   | show title        sheet, date, stamp   |
 *   |----------------------------------------|  top
 *   | left     what the sheet draws    right |
 *   |                                        |  bottom
 *   |----------------------------------------|
 *   | defer words                page n of m |
 *   +----------------------------------------+
 *
 * The sheet is drawn twice by the same code: dry, to count the pages, then on paper. Everything
 * that leaves ink goes through this module, which leaves none while dry.
 *
 * Same plan, same bytes: dates in the file are the show's, never the clock's.
 */
#ifndef BP_OUT_PAGE_H
#define BP_OUT_PAGE_H

#include <cairo.h>
#include <stdbool.h>
#include <stdint.h>

#include "backpot/plan.h"
#include "base/arena.h"
#include "base/text.h"
#include "out/type.h"

typedef struct bpi_page bpi_page;

typedef struct bpi_sheet {
    const char *name; /* "Cue sheet" */
    bool letter, landscape;
    bool bare; /* no furniture: labels, cut apart, carry their own */
    void (*draw)(bpi_page *p);
    const void *of; /* what it tells of beside the plan; NULL: nothing */
} bpi_sheet;

/* The document while its sheet draws on it. */
struct bpi_page {
    const bp_plan *plan;
    const bpi_sheet *sheet;
    bpi_arena *arena; /* texts made on the way; goes with the document */
    bpi_type *type;
    cairo_t *cr;
    double width, height;            /* of the paper                         */
    double left, right, top, bottom; /* of what is free on this page         */
    double y;                        /* where the next block goes            */
    int number, total;               /* of pages; total 0 while dry          */
    bool dry;
    bool no_memory;
    const char *section;                     /* named in the head of the page; ""      */
    void (*again)(bpi_page *, const void *); /* heading that repeats on a new page; NULL: none */
    const void *again_of;
    const void *due; /* a table whose heading waits for its first row; NULL: none */
    double due_room; /* so much must fit under that                               */
    void *own;       /* what the sheet keeps between its passes, in the arena; NULL at first */
};

/* Start a page; whatever was begun is closed. y is then at the top, under a heading that repeats.
 */
void bpi_page_begin(bpi_page *p);

/* See to it that `height` more fits: on this page, or on a new one. */
void bpi_page_need(bpi_page *p, double height);

/* A text that lives as long as the document; "" without memory, which the document then reports. */
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
const char *
bpi_page_f(bpi_page *p, const char *format, ...);

/* `text`, or "" where it is NULL for want of memory, which the document then reports. */
const char *bpi_page_keep(bpi_page *p, const char *text);

/* Ink. `grey` is 0 (black) to 1 (white). */
void bpi_page_text(bpi_page *p, bpi_font font, const char *text, double x, double y, double width,
                   bpi_align align);
void bpi_page_text_grey(bpi_page *p, bpi_font font, const char *text, double x, double y,
                        double width, bpi_align align, double grey);
double bpi_page_lines(bpi_page *p, bpi_font font, const char *text, double x, double y,
                      double width, bpi_align align, double limit, uint32_t *line, bool draw);
void bpi_page_fill(bpi_page *p, double x, double y, double w, double h, double grey);
void bpi_page_frame(bpi_page *p, double x, double y, double w, double h, double line);
void bpi_page_line(bpi_page *p, double x0, double y0, double x1, double y1, double line);
void bpi_page_triangle(bpi_page *p, double x, double y, double size); /* with '!': caution */

/* A paragraph at y over the whole width, y moved past it. */
void bpi_page_para(bpi_page *p, bpi_font font, const char *text);

#endif

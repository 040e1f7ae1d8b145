/* src/out/type.h - measured type: text set in boxes of a given width, never outside them.
 *
 * Owns     one Pango context and layout for each pass over a document. The font map is Pango's own,
 *          one for each thread: finding the fonts anew for each paper took longer than setting it.
 * May use  base/, Pango and Cairo.
 * Units    points (1/72 inch); y grows downwards; a box is placed by its upper left corner.
 *
 * Text is always set as plain text, never as markup. The family is DejaVu Sans (figures of equal
 * width by design), DejaVu Serif for spoken words; letters that they lack come from whatever font
 * has them. A letter that no font has is remembered and makes the document fail: a blank or a box
 * on paper would be read by nobody.
 *
 * Out of memory inside GLib ends the process: Pango offers no other way.
 */
#ifndef BP_OUT_TYPE_H
#define BP_OUT_TYPE_H

#include <cairo.h>
#include <stdbool.h>
#include <stdint.h>

#include "backpot/error.h"

typedef struct bpi_font {
    double size;
    bool bold, serif;
} bpi_font;

/* Sizes are for arm's length in poor light: nothing that is worked from is below 11 points. */
#define BPI_FONT_BODY      ((bpi_font){11.5, false, false})
#define BPI_FONT_STAGE     ((bpi_font){11, false, false}) /* beside a code */
#define BPI_FONT_BOLD      ((bpi_font){11.5, true, false})
#define BPI_FONT_STEP      ((bpi_font){13, true, false})  /* what to do                      */
#define BPI_FONT_WORDS     ((bpi_font){12, false, true})  /* spoken                          */
#define BPI_FONT_CLOCK     ((bpi_font){17, true, false})  /* when                            */
#define BPI_FONT_FIGURE    ((bpi_font){14, false, false}) /* lengths                         */
#define BPI_FONT_CODE      ((bpi_font){15, true, false})  /* codes of containers             */
#define BPI_FONT_HEAD      ((bpi_font){10, true, false})  /* head of a column                */
#define BPI_FONT_TITLE     ((bpi_font){19, true, false})  /* of a segment, name of a cook    */
#define BPI_FONT_BIG       ((bpi_font){22, true, false})  /* hit time, call                  */
#define BPI_FONT_NOTE      ((bpi_font){9, false, false})  /* furniture: head and foot of page */
#define BPI_FONT_NOTE_BOLD ((bpi_font){9, true, false})

typedef enum bpi_align { BPI_LEFT, BPI_RIGHT, BPI_CENTRE } bpi_align;

typedef struct bpi_type bpi_type;

/* Errors: BP_EIO (no font at all), BP_ENOMEM. `cr` outlives the type. */
bp_code bpi_type_open(bpi_type **out, cairo_t *cr, bp_errors *errs);
void bpi_type_free(bpi_type *t); /* NULL does nothing */

/* Width of a text that is not wrapped; height of one that is, at `width`. */
double bpi_type_width(bpi_type *t, bpi_font font, const char *text);
double bpi_type_height(bpi_type *t, bpi_font font, const char *text, double width);

/* Show the whole text in a box. */
void bpi_type_show(bpi_type *t, bpi_font font, const char *text, double x, double y, double width,
                   bpi_align align);

/* Show as much as fits into a box of `height`, an ellipsis after what is cut. true: all of it was
 * shown; with `draw` false nothing is shown and only the answer is given. */
bool bpi_type_show_cut(bpi_type *t, bpi_font font, const char *text, double x, double y,
                       double width, double height, bool draw);

/* Work through a wrapped text from line *line on: lines that end above `limit` are taken (shown
 * with `draw`), *line is set to the first one that was not, or to UINT32_MAX when none is left.
 * Returns the height used. */
double bpi_type_lines(bpi_type *t, bpi_font font, const char *text, double x, double y,
                      double width, bpi_align align, double limit, uint32_t *line, bool draw);

/* BP_EIO when some text held a letter that no font has; it is named. */
bp_code bpi_type_check(const bpi_type *t, bp_errors *errs);

#endif

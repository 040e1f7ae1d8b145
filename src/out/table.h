/* src/out/table.h - ruled tables on pages: rows that wrap and stay whole, a heading that repeats.
 *
 * Owns     nothing; cells live in the document's arena.
 * May use  out/page, out/type, base/.
 * Units    points.
 *
 * A row goes to a new page as a whole. Only a row taller than a page is split, between lines, with
 * nothing lost.
 */
#ifndef BP_OUT_TABLE_H
#define BP_OUT_TABLE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "out/page.h"

#define BPI_TABLE_COLUMNS 8

typedef struct bpi_column {
    double points;    /* wide on any paper, for figures that must not wrap; 0: by its share */
    double share;     /* of the width that is left, in any unit                             */
    const char *head; /* "" in all of them: the title alone stands above the rows */
    bpi_align align;
} bpi_column;

typedef struct bpi_table {
    const bpi_column *column;
    uint32_t columns;
    const char *title; /* above the heading, repeated with it; NULL: none */
    bool tight;        /* less white between the lines: to be looked up, not worked down */
} bpi_table;

typedef enum bpi_mark { BPI_NO_MARK, BPI_CAUTION_MARK, BPI_TICK_BOX } bpi_mark;

typedef struct bpi_para {
    bpi_font font;
    bpi_mark mark;
    double gap;       /* above it */
    const char *lead; /* a code that stands before it; NULL: none */
    const char *text;
} bpi_para;

typedef struct bpi_cell {
    bpi_para *para;
    size_t paras, room;
} bpi_cell;

typedef struct bpi_row {
    bpi_cell cell[BPI_TABLE_COLUMNS];
    bpi_cell below;      /* under the cells, where more width saves lines */
    uint32_t below_from; /* the column at which it begins; it ends with the table */
    double least;        /* height */
    bool band;           /* on light grey */
    bool whole;          /* the first cell takes the whole width; the others are empty */
} bpi_row;

/* The heading is drawn with the first row, on one page with it, and again on each new page until the
 * table ends. `first` is how much must fit under it besides: several rows that belong together; 0: the
 * first row alone. */
void bpi_table_begin(bpi_page *p, const bpi_table *table, double first);
void bpi_table_row(bpi_page *p, const bpi_table *table, const bpi_row *row);
void bpi_table_end(bpi_page *p);

/* Add a paragraph to a cell; an empty text adds nothing. */
void bpi_cell_add(bpi_page *p, bpi_cell *cell, bpi_font font, const char *text);
void bpi_cell_add_marked(bpi_page *p, bpi_cell *cell, bpi_font font, bpi_mark mark,
                         const char *text);
/* Each line of `lines` by itself. */
void bpi_cell_add_lines(bpi_page *p, bpi_cell *cell, bpi_mark mark, const char *lines);
/* "CAUTION: ..." with its mark, for each line of `cautions`. */
void bpi_cell_add_cautions(bpi_page *p, bpi_cell *cell, const char *cautions);
void bpi_cell_add_led(bpi_page *p, bpi_cell *cell, const char *lead, bpi_font font,
                      const char *text);

#endif

/* src/cli/grid.h - a screen as rows of cells, before it goes to a terminal.
 *
 * Owns     the cells.
 * May use  base/.
 * Units    cells; row and column count from 0.
 *
 * What is drawn outside is cut off, so that a layout need not ask at every step.
 */
#ifndef BP_CLI_GRID_H
#define BP_CLI_GRID_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define BPI_GRID_BLOCK 0x2588u /* a cell filled whole */

typedef enum bpi_look { BPI_PLAIN, BPI_BOLD, BPI_REVERSE } bpi_look;

typedef struct bpi_cell {
    uint32_t code; /* 0: the right half of the character before */
    bpi_look look;
} bpi_cell;

typedef struct bpi_grid {
    int rows, columns;
    bpi_cell *cell;
} bpi_grid;

/* All blank. false: no memory, and the grid is as it was. */
bool bpi_grid_reset(bpi_grid *g, int rows, int columns);
void bpi_grid_release(bpi_grid *g);

/* Put a text into at most `room` cells of a row; what does not fit is cut, with a dot in its last
 * cell. Control characters and what takes no cell are left out. Returns the cells it took. */
int bpi_grid_put(bpi_grid *g, int row, int column, int room, const char *text, bpi_look look);
/* The same, ending before column `end`; it begins at `least` at the earliest. */
int bpi_grid_put_right(bpi_grid *g, int row, int least, int end, const char *text, bpi_look look);
void bpi_grid_fill(bpi_grid *g, int row, int column, int room, uint32_t code, bpi_look look);

/* Break a text at blanks into at most `rows` lines of `room` cells; the last is cut. Returns the
 * lines used. */
int bpi_grid_wrap(bpi_grid *g, int row, int rows, int column, int room, const char *text,
                  bpi_look look);

/* Large figures: digits, ':', '+', '-', and blanks; each 7 rows high and 5 columns wide (':' 2,
 * signs 3), with a column between, all times `scale`. Returns the columns it takes, drawn or not. */
#define BPI_GRID_FIGURE 7
int bpi_grid_figures(bpi_grid *g, int row, int column, int scale, const char *text);
/* Digits, ':' and blanks as wide, of 5 rows. */
#define BPI_GRID_LOW_FIGURE 5
int bpi_grid_low_figures(bpi_grid *g, int row, int column, const char *text);

#endif

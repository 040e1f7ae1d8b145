/* src/cli/screen.h - the terminal: cells out, keys in.
 *
 * Owns     the state of the terminal from open to close, and the signals that end the program then.
 * May use  ncurses, cli/grid.
 *
 * Resizing, and being stopped and continued, are taken care of here. A terminal that is gone shows
 * as BPI_KEY_GONE.
 */
#ifndef BP_CLI_SCREEN_H
#define BP_CLI_SCREEN_H

#include "backpot/error.h"
#include "cli/grid.h"

/* Any other key is its character. */
enum {
    BPI_KEY_NONE = 0,
    BPI_KEY_ENTER = '\n',
    BPI_KEY_ESCAPE = 27,
    BPI_KEY_ERASE = 127,
    BPI_KEY_UP = 1000,
    BPI_KEY_DOWN,
    BPI_KEY_RESIZE,
    BPI_KEY_END, /* somebody asks the program to end: SIGINT, SIGTERM */
    BPI_KEY_GONE /* there is no terminal any more                    */
};

/* Errors: BP_EIO: no terminal. Its message says so. */
bp_code bpi_screen_open(bp_errors *errs);
void bpi_screen_close(void);
void bpi_screen_size(int *rows, int *columns);
void bpi_screen_show(const bpi_grid *g);
void bpi_screen_redraw(void); /* everything anew at the next show */
int bpi_screen_key(int wait_ms);

#endif

/* src/cli/board.h - the kitchen's day as its cooks see it.
 *
 * Owns     the layout.
 * May use  the public headers, base/, cli/grid, cli/face for times.
 *
 * A block for each cook: what is in hand, how long it still takes, what comes next; below, what cooks
 * unattended, the soonest to come off first. The cooks share all the room there is: with six rows each
 * (three cooks on 24) the time stands in figures of five rows, with more in large ones, to be read from two
 * metres; what is left shows more steps to come. No meaning hangs on colour or on bold type.
 *
 * Two files: board.c draws the cooks and the frame, timers.c what cooks unattended.
 */
#ifndef BP_CLI_BOARD_H
#define BP_CLI_BOARD_H

#include "backpot/kitchen.h"
#include "base/text.h"
#include "cli/grid.h"

typedef struct bpi_board {
    const bp_plan *plan;
    const bp_kitchen *kitchen;
    const bp_kitchen_view *view;
    uint32_t speed;      /* of a rehearsal; 0: it is none                       */
    uint32_t mark;       /* the person that the keys for one mean; BP_NO_INDEX: none */
    const char *message; /* to be read now; ""                                  */
    const char *alarm;   /* goes on until it is mended, such as a full disk; "" */
} bpi_board;

void bpi_board_draw(bpi_grid *g, const bpi_board *board);

/* Persons who have something to do in the plan, in its order; returns how many. */
#define BPI_BOARD_PERSONS 64
uint32_t bpi_board_persons(uint32_t *list, const bp_plan *plan);

/* ---- between the two files ------------------------------------------------------------------- */

#define BPI_BOARD_NAME 8 /* columns of "1 Ines" */

/* The containers that it is for, "A1 A2", after a blank where `out` has something. */
void bpi_board_put_codes(bpi_text *out, const bpi_board *b, const bp_op *op);

/* The minute that the clock shows then; returns `out`. */
char *bpi_board_minute(char out[BP_CLOCK_ROOM], const bp_plan *plan, int64_t t);

/* Draw a text, unless memory ran out on the way, and release it. */
void bpi_board_draw_text(bpi_grid *g, int row, int column, int room, bpi_text *text, bpi_look look);

/* A row each for what is on, from `row` until `end`, the soonest to come off first. */
void bpi_board_draw_timers(bpi_grid *g, int row, int end, const bpi_board *b);

/* What was taken off later than its step allows, until it is on set; not where nobody said when it was
 * put on. */
void bpi_board_put_overdone(bpi_text *out, const bpi_board *b);

#endif

/* src/cli/board.h - the kitchen's day as its cooks see it.
 *
 * Owns     the layout.
 * May use  the public headers, base/, cli/grid, cli/face for times.
 *
 * A block for each cook: what is in hand, how long it still takes, what comes next; below, what cooks
 * unattended, the soonest to come off first. The cooks share all the room there is: with six rows each
 * (three cooks on 24) the time stands in figures of five rows, with more in large ones, to be read from two
 * metres; what is left shows more steps to come. No meaning hangs on colour or on bold type.
 */
#ifndef BP_CLI_BOARD_H
#define BP_CLI_BOARD_H

#include "backpot/kitchen.h"
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

#endif

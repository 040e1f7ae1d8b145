/* src/safety/board.h - raw food before ready-to-eat food on one board.
 *
 * Owns     nothing; the texts live in the caller's arena.
 * May use  base/, model/; bp_finding of the public plan.
 * Units    plan time.
 *
 * FDA Food Code 3-302.11(A): raw animal food is kept from food that nobody cooks any more. A board that
 * goes from one to the other is washed, rinsed and sanitized between: the show cannot say that it was,
 * so this is a caution. With more boards of the kind, one is marked for raw food.
 */
#ifndef BP_SAFETY_BOARD_H
#define BP_SAFETY_BOARD_H

#include "backpot/plan.h"
#include "base/arena.h"
#include "base/error.h"
#include "model/show.h"

/* One use of a tool that is a board, by start. */
typedef struct bpi_board_use {
    uint32_t tool; /* of kitchen.tool                          */
    int64_t from;
    uint32_t container; /* the first it is for                 */
    const char *text;   /* of the step                         */
    bool raw;           /* it brings raw animal food on it     */
    bool ready;         /* no later step heats what lies on it */
} bpi_board_use;

/* What a step does to a board. */
bool bpi_board_raw(const bpi_step *step);
bool bpi_board_ready(const bpi_recipe *recipe, uint32_t step);

/* A finding for each change from raw to ready, into `finding` of room `uses`; their number in *n. Errors:
 * BP_ENOMEM. A set of limits without "apart" finds nothing. */
bp_code bpi_board_check(bp_finding *finding, uint32_t *n, bpi_arena *a, const bpi_show *show,
                        const bpi_board_use *use, uint32_t uses, bp_errors *errs);

#endif

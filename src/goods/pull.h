/* src/goods/pull.h - the pull list: everything to buy or fetch, summed over all containers.
 *
 * Owns     the lines, in the caller's arena.
 * May use  goods/measure, model/, base/, the public plan header.
 *
 * Food. A container takes the ingredients of its steps, times its size. Lines of one item from one place
 * are one line as far as they can be added (goods/measure); what cannot be added stays a line of its
 * own. A volume or a count whose ingredient says what it weighs is added to a mass of the same item,
 * or rounded up to packs sold by weight, and the line says by which weight: nothing is guessed. Where
 * the show names a pack, the sum is rounded up to whole packs; pieces without a pack are rounded up
 * to whole pieces.
 * What the show has in its pantry is taken off what is bought, line by line until it is gone.
 *
 * Vessels and tools. As many as are in use or gone at one time, at most: they are washed and used again. The
 * small bowls that measured ingredients stand in are vessels without a name in the show.
 */
#ifndef BP_GOODS_PULL_H
#define BP_GOODS_PULL_H

#include <stdbool.h>
#include <stdint.h>

#include "backpot/plan.h"
#include "base/arena.h"
#include "base/error.h"
#include "model/show.h"

/* What one container takes. */
typedef struct bpi_pull_box {
    const char *code; /* "A2" */
    uint32_t recipe;
    bpi_ratio size;
    uint64_t steps; /* whose ingredients go into it: bpi_pull_steps */
} bpi_pull_box;

#define BPI_PULL_BOWL      UINT32_MAX /* for something measured: no tool of the kitchen */
#define BPI_PULL_BOWL_NAME "small bowl"
#define BPI_PULL_BOWL_NOTE "one for each measured ingredient"

/* One vessel or tool in use, from <= t < to. */
typedef struct bpi_pull_use {
    uint32_t tool;     /* of kitchen.tool, or BPI_PULL_BOWL */
    int64_t from, to;  /* any unit of time */
    const char *codes; /* containers it is used for, "A1 A2"; "" */
    uint32_t stage;    /* 0: in the kitchen; else 1 + the appearance on whose set it stands */
} bpi_pull_use;

/* How many of a tool are in use at one time, at most; and where `at` is not NULL, when so first. */
uint32_t bpi_gear_most(uint32_t tool, const bpi_pull_use *use, uint32_t uses, int64_t *at);

/* Is it for the container of that code? */
bool bpi_gear_is_for(const bpi_pull_use *use, const char *code);

/* The steps whose ingredients a container needs: those done ahead and those done with it on air, for
 * which they stand measured on set; of a raw one all, for it shows them all. */
uint64_t bpi_pull_steps(const bpi_recipe *recipe, bpi_stage stage, uint64_t ahead, uint64_t on_air);

/* Make the list: food by place (those without one last), aisle, item and order of the show; then vessels,
 * tools and supplies, in the order of the show. Codes stand in the order of `box`. `supply` says how
 * many of each supply of the show the day takes; NULL: none.
 *
 * Errors  BP_ERANGE (an amount times a size that cannot be held exactly), BP_ENOMEM; *out is then NULL.
 */
bp_code bpi_pull_make(const bp_good **out, uint32_t *n, bpi_arena *a, const bpi_show *show,
                      const bpi_pull_box *box, uint32_t boxes, const bpi_pull_use *use,
                      uint32_t uses, const uint32_t *supply, bp_errors *errs);

#endif

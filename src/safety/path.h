/* src/safety/path.h - one container followed over time against the published limits.
 *
 * Owns     the rules; the findings and their texts live in the caller's arena.
 * May use  base/, model/, safety/limits; bp_finding of the public plan.
 * Units    plan time and whole seconds; thousandths of a degree Celsius.
 *
 *   from   06:10       06:22      06:40              08:05       08:19        08:28
 *          | COUNTER   | COOK     | HOT              | COUNTER   | SET        |
 *          | dice      | simmer   | (waits)          | carry     | (stands)   | `last`
 *            out of control         in control         out of control
 *
 * Time out of control is summed over the whole chain from where the food is perishable on; nothing
 * sets it back to zero, neither the refrigerator nor the stove (3-501.19 counts from the first
 * removal; that pauses in hot or cold keeping do not count is common practice, no source). Hot
 * places are taken to keep 57 °C, cold ones 5 °C: a thermometer on the day decides.
 */
#ifndef BP_SAFETY_PATH_H
#define BP_SAFETY_PATH_H

#include <stdbool.h>
#include <stdint.h>

#include "backpot/plan.h"
#include "base/arena.h"
#include "base/error.h"
#include "model/show.h"

typedef enum bpi_stay {
    BPI_STAY_COUNTER, /* waits, or is worked on, at room temperature; also while it is carried */
    BPI_STAY_HOT,     /* hot keeping                                                           */
    BPI_STAY_COLD,    /* cold keeping, or a passive step that keeps it cold                    */
    BPI_STAY_SET,     /* stands on the set                                                     */
    BPI_STAY_COOK     /* a step on a burner or in an oven                                      */
} bpi_stay;

/* One stretch of a container's life. Zeroed members are the usual case of each. */
typedef struct bpi_stretch {
    int64_t from, to;
    bpi_stay stay;
    bool perishable;      /* the food needs time or temperature control in this stretch           */
    const bpi_step *step; /* the step it is in; NULL: it waits, is carried, stands                */
} bpi_stretch;

typedef struct bpi_path {
    /* By start. Branches of a recipe that run side by side overlap: they count once. A gap in which
     * none is under way counts as COUNTER, perishable as the stretch before it. */
    const bpi_stretch *stretch;
    uint32_t stretches;
    bool finished; /* every step of the recipe is done ahead                                     */
    bool eaten;    /* hosts and tasters eat from it                                              */
    int64_t last;  /* last moment on camera, or of tasting; BPI_NO_TIME: the end of the last stretch
                    */
} bpi_path;

typedef struct bpi_path_result {
    int64_t uncontrolled; /* seconds out of control until `last` */
    int64_t use_by;       /* when they reach the limit if it stays where it is; BPI_NO_TIME: it was
                             never perishable                                                     */
    bool cooked;          /* no raw animal food is left in it uncooked                            */
    const bp_finding
        *finding; /* in time order; `container` is BP_NO_INDEX, for the caller to fill */
    uint32_t findings;
} bpi_path_result;

/* Follow one container.
 *
 * Findings  of a finished or eaten container: a target core below the least for its kind of food
 *           that no later step makes good (stop), or none stated for a kind that has one (caution;
 *           note for plants), 3-401.11, 3-401.13, 3-403.11;
 *           a raw animal ingredient that no later step cooks to a stated core (caution);
 *           eaten although it is not finished, or not cooked through (stop).
 *           Of every container: longer out of control than 4 h (stop), 3-501.19;
 *           kept cold after heat without a step that chills it (caution), or with one (note: the
 *           times to check), 3-501.14;
 *           kept hot after it was cooked and chilled, without a step that heats it to 74 °C, or
 *           with one that takes more than 2 h (caution), 3-403.11;
 *           kept cold for more than 24 h after cooking (note), past its seventh day (stop),
 * 3-501.17. Bounds    the day of 3-501.17 is counted from plan time, so a clock change moves its
 * end by an hour. Errors    BP_ENOMEM; *out is then zeroed.
 */
bp_code bpi_path_check(bpi_path_result *out, bpi_arena *a, const bpi_path *path, bp_errors *errs);

#endif

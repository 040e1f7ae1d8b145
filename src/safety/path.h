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
    const bpi_place *place; /* the place it waits or rests in; NULL: none of the kitchen's        */
} bpi_stretch;

typedef struct bpi_path {
    const bpi_limits *limits;
    /* By start. Branches of a recipe that run side by side overlap: they count once. A gap in which
     * none is under way counts as COUNTER, perishable as the stretch before it. */
    const bpi_stretch *stretch;
    uint32_t stretches;
    bool finished; /* every step of the recipe is done ahead                                     */
    bool eaten;    /* hosts and tasters eat from it                                              */
    int64_t last;  /* last moment on camera, or of tasting; BPI_NO_TIME: the end of the last stretch
                    */
} bpi_path;

/* A temperature to be read on the day. */
typedef struct bpi_reading {
    int64_t at;
    const char *rule, *text;
} bpi_reading;

typedef struct bpi_path_result {
    int64_t uncontrolled; /* seconds out of control until `last` */
    int64_t use_by;       /* when they reach the limit if it stays where it is; BPI_NO_TIME: it was
                             never perishable                                                     */
    bool cooked;          /* no raw animal food is left in it uncooked                            */
    const bp_finding
        *finding; /* in time order; `container` is BP_NO_INDEX, for the caller to fill */
    uint32_t findings;
    const bpi_reading *reading; /* in time order */
    uint32_t readings;
} bpi_path_result;

/* Follow one container.
 *
 * The weights. STOP: what the show file says breaks a limit. CAUTION: it does not say enough to tell.
 * NOTE: within the limits, and what to look at on the day.
 *
 * Findings, sections as in the default set of limits:
 *   3-401.11  of a finished or eaten container: a target core below the least for its kind of food
 *   3-401.13  that no later step makes good (stop), or none stated for a kind that has one (caution;
 *   3-403.11  plants: note); raw animal food that no later step cooks (caution); eaten although it is
 *             not finished, or not cooked through (stop); reheated for longer than 2 h (stop); kept
 *             hot after it was chilled, with no step between that heats it through (stop)
 *   3-501.13  thawed on the counter (stop), or in water for longer than 4 h with what follows (stop)
 *   3-501.14  cooled past a limit, by the model (stop) or within them (note); kept cold after heat and
 *             nothing says how it cools (caution)
 *   3-501.16  a hot or cold place that is set outside the limit (stop)
 *   3-501.17  kept cold for more than 24 h (note), past its last day (stop)
 *   3-501.19  out of control for longer than 4 h (stop)
 *
 * Readings  each core, each hour or two in hot keeping (BPI_PATH_PROBE), what comes out of the cold, and
 *           the two moments of cooling.
 * Bounds    the day of 3-501.17 is counted from plan time, so a clock change moves its end by an hour.
 *           Branches of a recipe that cool side by side are followed as one.
 * Errors    BP_ENOMEM; *out is then zeroed.
 */
#define BPI_PATH_PROBE 7200 /* s between readings in hot keeping; common practice, no source */
bp_code bpi_path_check(bpi_path_result *out, bpi_arena *a, const bpi_path *path, bp_errors *errs);

#endif

/* backpot/kitchen.h - the kitchen on the day: where each operation stands, by the ticks in its log.
 *
 * A kitchen is a plan and the events so far, as a floor is (backpot/floor.h); it holds no clock. The
 * events are "start", "done" and "undo" of operations that people do. What cooks unattended begins
 * when it has been put on and ends when somebody begins to take it off; waiting is never ticked.
 *
 * Units   moments are plan time, lengths whole seconds.
 */
#ifndef BP_KITCHEN_H
#define BP_KITCHEN_H

#include "backpot/day.h"
#include "backpot/plan.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bp_kitchen bp_kitchen;

/* A day on which nothing has been done yet, or of a plan that was mended what had been done by then. The
 * plan must outlive it.
 *
 * Owner   *out is new, release it with bp_kitchen_free; NULL on failure.
 * Errors  BP_EVALUE (the plan has no operation), BP_ENOMEM.
 */
bp_code bp_kitchen_new(bp_kitchen **out, const bp_plan *plan, bp_errors *errs);
void bp_kitchen_free(bp_kitchen *kitchen); /* NULL does nothing */

/* Can this happen now? Errors: BP_EVALUE: an operation that the plan does not have, or that nobody
 * does. What is so already is no mistake. Events of the floor always can. */
bp_code bp_kitchen_can(const bp_kitchen *kitchen, const bp_event *event, bp_errors *errs);

/* Let it happen. Errors: as above; the kitchen is then as it was. */
bp_code bp_kitchen_apply(bp_kitchen *kitchen, const bp_event *event, bp_errors *errs);

/* Let everything happen that stands in the log and has not yet been taken from it. Errors: as above,
 * with the file and line of the event; those before it have happened. Of what the log holds up to the
 * last mishap that a mended plan has taken in, nothing is asked: the plan has it. Ticks that are of another
 * plan of the same day are passed over. */
bp_code bp_kitchen_follow(bp_kitchen *kitchen, const bp_log *log, bp_errors *errs);

/* Has a mishap been followed that the plan does not know of? Mend the plan (backpot/mend.h), and begin anew
 * with that. */
bool bp_kitchen_is_behind(const bp_kitchen *kitchen);

typedef enum bp_task_state { BP_TASK_TO_COME, BP_TASK_UNDER_WAY, BP_TASK_DONE } bp_task_state;

/* An operation as it stands. */
typedef struct bp_task {
    bp_task_state state;
    int64_t started, done; /* as ticked; BP_NO_TIME: not, or not yet                           */
    int64_t from, to;      /* as ticked, else as expected                                       */
    int64_t off_least, off_most; /* the doneness window, moved to when it was put on; BP_NO_TIME */
} bp_task;

/* How things stand at a moment. What is to come is expected in the planned order, never before it was
 * planned, after all that was planned before it for the same cook or container, and as long as
 * planned: a forecast, not a plan. */
typedef struct bp_kitchen_view {
    int64_t now;
    const bp_task *task;   /* one each of plan.op                                            */
    const int64_t *on_set; /* one each of plan.container: when it is expected on set          */
    const uint32_t *at;    /* one each of plan.person: the operation in hand, or to begin next;
                              BP_NO_INDEX: none. What is watched comes where it is due, or
                              where nothing else is to be done meanwhile                     */
    uint32_t last;         /* the operation that was ticked last; BP_NO_INDEX: none          */
} bp_kitchen_view;

/* The arrays are the kitchen's, until the next look. */
void bp_kitchen_look(bp_kitchen_view *view, bp_kitchen *kitchen, int64_t now);

/* The operation that its person comes to after this one: the next that is neither done nor under way;
 * BP_NO_INDEX: none. */
uint32_t bp_kitchen_after(const bp_kitchen *kitchen, const bp_kitchen_view *view, uint32_t op);

/* Does somebody do it, and tick it? */
bool bp_op_is_ticked(bp_op_kind kind);

#ifdef __cplusplus
}
#endif
#endif

/* backpot/draft.h - what could be shown in a slot whose beats nobody has written.
 *
 * From the steps of its recipes that can be shown, a slot is drafted with an opening, the finished dish of
 * each, a tasting where somebody eats, and a close. Drafts differ in the containers that they ask the
 * kitchen for; of those that ask for the same, there is the best alone. Best is: of greatest worth in
 * all; of these with the most beats; of these with the earlier ones.
 */
#ifndef BP_DRAFT_H
#define BP_DRAFT_H

#include <stddef.h>
#include <stdint.h>

#include "backpot/error.h"
#include "backpot/plan.h"
#include "backpot/show.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BP_DRAFTS 9 /* most that are listed of one segment */

typedef struct bp_draft {
    const char *segment;         /* its id                                                  */
    uint32_t number;             /* from 1, best first: "take" in "draft" of the segment    */
    int32_t worth;               /* of its beats, in all                                    */
    uint32_t swap_outs, burners; /* containers on the set; burners in use there at once     */
    bp_plan *plan;               /* of the whole show with it; late or none where the kitchen cannot
                                    make it; NULL: the search ended without an answer, or food
                                    safety forbids it                                        */
} bp_draft;

typedef struct bp_drafts {
    const bp_draft *draft; /* by segment, then number */
    uint32_t drafts;
    void *own; /* storage; not for the caller */
} bp_drafts;

/* Draft each segment that names no beats, at most `most` ways (1..BP_DRAFTS), within the limits that its
 * "draft" states, and plan the show with each; other segments stay as they are.
 *
 * Owner   *out is new, release it with bp_drafts_free; NULL on failure.
 * Errors  BP_ENOFIT (a segment has no draft), BP_EUNSURE, BP_ELIMIT, BP_ENOMEM, BP_EINTERNAL.
 */
bp_code bp_drafts_make(bp_drafts **out, const bp_show *show, uint32_t most,
                       const bp_plan_options *options, bp_errors *errs);
void bp_drafts_free(bp_drafts *drafts); /* NULL does nothing */

/* The drafts as text for a terminal: beats, and what each costs. Release *out with bp_free. Errors:
 * BP_ENOMEM; *out is NULL then. */
bp_code bp_drafts_write(char **out, size_t *len, const bp_drafts *drafts, bp_errors *errs);

#ifdef __cplusplus
}
#endif

#endif

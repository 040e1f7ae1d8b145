/* backpot/mend.h - something went wrong: the plan from now on, with as little moved as can be.
 *
 * What went wrong is said in one line, which begins with the clock time at which it is noticed:
 *
 *     07:10 B2 burnt                   a container is lost: burnt, spilt, dropped, lost, spoilt
 *     07:10 oven deck dead             with all that is in it
 *     07:10 burner dead                one of them; what stands on it goes to another, which must be
 *                                      free
 *     07:10 Ines away until 07:40      a cook; what is in hand is finished first. Also late, hurt, out
 *     07:10 B2 simmer until 07:25      a step that is under way takes longer
 *     07:10 behind                     nothing else: go on from what the log of the day says
 *
 * Containers go by their codes, ovens and steps by their ids, cooks by id or name.
 *
 * What had begun by then stays as it was. Without the log of the day everything is taken to have gone to
 * plan until then; with it, what was ticked was done when it was ticked, and what was not, and was not needed
 * for what was, is still to be done. Of the
 * rest, first nothing is late, then as few operations as possible start at another time or change
 * hands, then the goals of a plan follow in their order. The checker of all plans tests the result,
 * and that the past stands.
 */
#ifndef BP_MEND_H
#define BP_MEND_H

#include "backpot/day.h"
#include "backpot/plan.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BP_MEND_LINES 20 /* most mishaps of a day */

/* Plan a show and mend the plan for each line in turn.
 *
 * Owner   *out is the plan after the last line, *before the one before it (operations have the same
 *         keys in both, so a reader can tell what moved), *now the moment from which on they may
 *         differ; release both with bp_plan_free. Both are set
 *         with BP_ENOFIT too where a late plan was found; NULL with any other failure.
 * Errors  BP_EVALUE (a line that is not understood, that names what is not there, or that lies before
 *         the line above it), BP_ENOFIT (nothing can be mended in time), BP_EUNSURE, BP_EINTERNAL (the
 *         checker objects), BP_EUNSAFE (a food safety stop forbids the plan, which is set all the same,
 *         not to be followed), BP_ELIMIT, BP_ENOMEM; and those of bp_plan_make.
 */
bp_code bp_plan_mend(bp_plan **out, bp_plan **before, int64_t *now, const bp_show *show,
                     const char *const *line, uint32_t lines, bp_errors *errs);

/* The same by the log of the day: the past is as it was ticked in the kitchen. Each mishap in the log is
 * mended by the ticks before it in the file, then `line`, which may be none where the log has some, by all
 * of them. What stands longer than it keeps, and cannot be helped, counts as late.
 *
 * Owner   as above; *before is the plan that was followed until the last mishap.
 * Errors  as above; BP_EVALUE where the log is that of another show or of another version of it.
 */
bp_code bp_plan_mend_day(bp_plan **out, bp_plan **before, int64_t *now, const bp_show *show,
                         const bp_log *log, const char *const *line, uint32_t lines,
                         bp_errors *errs);

/* Every plan of such a day: that after the first mishap of its log, after the second, and so on.
 *
 * Owner   plan[0..*n) are new, release each with bp_plan_free; *n is set whatever is returned.
 * Errors  as above, of the first mishap that cannot be taken in, and what comes before it stands; BP_EVALUE
 *         too where the log has none. That a plan is late or stopped is none.
 */
bp_code bp_plan_mend_each(bp_plan *plan[BP_MEND_LINES], uint32_t *n, const bp_show *show,
                          const bp_log *log, bp_errors *errs);

#ifdef __cplusplus
}
#endif
#endif

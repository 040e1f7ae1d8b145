/* backpot/after.h - after the day: its log against its plan, and what can be learned from it.
 *
 * Units   moments are plan time, lengths whole seconds. A slot's time runs from its hit and stands
 *         still while it is held.
 */
#ifndef BP_AFTER_H
#define BP_AFTER_H

#include "backpot/day.h"
#include "backpot/plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* How something went; BP_NO_TIME where the log does not tell. */
typedef struct bp_actual {
    int64_t from, to;
} bp_actual;

/* An operation: as it was planned when it began, or when it was due, and as it was done. */
typedef struct bp_after_op {
    const bp_plan *plan; /* that was in force then */
    uint32_t op;         /* of it                  */
    bp_actual done;
} bp_after_op;

/* What was done, by a log. */
typedef struct bp_after {
    const bp_plan *plan; /* as the show has it                                               */
    const char *file;    /* of the log                                                        */
    bool rehearsal;
    bool other;            /* the log is of another version of the show                         */
    uint32_t unknown;      /* events left out: they name what the plan does not have            */
    const bp_after_op *op; /* what cooks unattended too; by planned start                       */
    uint32_t ops;
    const bp_actual *beat; /* one each of plan.beat: in slot time, from the hit                 */
    const bp_actual *air;  /* one each of plan.air: hit and end, on the wall clock              */
    void *own;             /* storage; not for the caller                                       */
} bp_after;

/* Hold a log against the plan of its show, plan[0], and those that it was mended to, one after each mishap
 * of the log, or after as many as could be mended (bp_plan_mend_each). `plans` is at least 1. What was done
 * for a container that was then lost, and once more, is there twice. The plans must outlive it.
 *
 * Owner   *out is new, release it with bp_after_free; NULL on failure.
 * Errors  BP_EVALUE (the log is of another show, or its events make no sense), BP_ENOMEM.
 */
bp_code bp_after_make(bp_after **out, const bp_plan *const *plan, uint32_t plans, const bp_log *log,
                      bp_errors *errs);
void bp_after_free(bp_after *after); /* NULL does nothing */

/* Seconds that after.op[op], or a beat of the plan, took longer than planned; BP_NO_TIME: the log does not
 * tell how long it took. */
int64_t bp_after_op_over(const bp_after *after, uint32_t op);
int64_t bp_after_beat_over(const bp_after *after, uint32_t beat);

/* One page of it, with a picture: each slot and each cook, planned above done, and what ran over the
 * most, as PDF.
 *
 * Owner   *out is new, release it with bp_free.
 * Errors  BP_EIO (a font is missing), BP_ENOMEM; *out is then NULL.
 */
bp_code bp_report_write(char **out, size_t *len, const bp_after *after, bp_errors *errs);

/* ---- learning ---------------------------------------------------------------------------- */

#define BP_LEARN_LEAST 3 /* times that a step must have been seen */

/* A hands-on step, or a beat, as it was seen. */
typedef struct bp_lesson {
    const char *recipe, *step; /* ids; of a beat those of its segment and itself            */
    bool beat;
    const char *file; /* where its time is written                                 */
    uint32_t line, col;
    int64_t was_low, was_likely, was_high; /* as written                                    */
    uint32_t seen;                         /* times that its start and end were ticked      */
    uint32_t odd;                          /* of these left out, as far from all others     */
    bool enough;                           /* at least BP_LEARN_LEAST are left              */
    int64_t low, likely, high;             /* what was seen, rounded; 0 where not enough    */
    bool together;                         /* done in batches: as for one container         */
    int64_t once, each;                    /* of a batch, in the same proportion            */
} bp_lesson;

typedef struct bp_lessons {
    const bp_lesson
        *lesson; /* in the order of the recipes of the show; then beats, of its segments */
    uint32_t lessons;
    void *own;
} bp_lessons;

/* How long steps and beats took on some days.
 *
 * Shape   Likely is the median of what was seen, low and high are the least and the greatest of it, all
 *         without what is odd: first whole days, where there are three or more, by the median of how
 *         far the steps of each ran over or under their plan; then single times. Odd is a day further
 *         than 3, and a time further than 5, scaled median absolute deviations from the median (1.4826
 *         x the median of the distances); these are taken to be at least 15 s, a twentieth of the
 *         median, or, of days, a twentieth of the plan. Learned are hands-on steps, and beats that the
 *         show file writes.
 *         A batch counts as its length in proportion to what "once" and "each" make of its size: so the
 *         "time" of the step, and with its likely one "once" and "each", become longer or shorter. A
 *         change of no more than the rounding is none.
 *         Of a beat, odd is what lies further than 5 deviations of at least 3 s; its days are told apart
 *         by its appearances. Likely is what was seen; low and high, which bound it at every length of
 *         the slot, only ever become wider.
 * Source  F. R. Hampel, The influence curve and its role in robust estimation (JASA 69, 1974), for the
 *         measure; the factor makes it a standard deviation where lengths are normal.
 * Owner   *out is new, release it with bp_lessons_free; NULL on failure. All days are of one plan.
 * Errors  BP_ENOMEM.
 */
bp_code bp_lessons_make(bp_lessons **out, const bp_show *show, const bp_after *const *day,
                        uint32_t days, bp_errors *errs);
void bp_lessons_free(bp_lessons *lessons); /* NULL does nothing */

/* Write each lesson that has seen enough, and differs from what is written, into the file where the
 * time stands, as {"low": ..., "likely": ..., "high": ...}; of a batch "once" and "each" too. No other
 * byte of a file changes, and each is replaced whole; *written counts the lessons. Nothing is written
 * where one file cannot be read; where one of several cannot be written, those before it are.
 *
 * Errors  BP_EVALUE (a file has been changed since the show was read), BP_EIO, BP_ENOMEM.
 */
bp_code bp_lessons_write(const bp_lessons *lessons, uint32_t *written, bp_errors *errs);

#ifdef __cplusplus
}
#endif
#endif

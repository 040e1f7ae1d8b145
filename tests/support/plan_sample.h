/* tests/support/plan_sample.h - a plan written by hand, for tests of what is made from a plan.
 *
 * Owns     nothing; everything stands in the caller's plan_sample, which a test may then change.
 * May use  include/backpot/plan.h.
 *
 * Two appearances, three dishes, 14 containers, about 80 operations from the afternoon before on,
 * three cooks, one of them the presenter. It is meant to be awkward: letters of several scripts,
 * fractions, long texts, a dropped beat, a tease, an oven that changes its temperature, a wait that
 * lasts overnight, and one container that comes six minutes late. It is consistent (no cook does
 * two things at once, no thing is used more often than it exists) but no planner made it.
 */
#ifndef BP_TESTS_SUPPORT_PLAN_SAMPLE_H
#define BP_TESTS_SUPPORT_PLAN_SAMPLE_H

#include "backpot/plan.h"

enum {
    SAMPLE_BEATS = 16,
    SAMPLE_CONTAINERS = 14,
    SAMPLE_OPS = 96,
    SAMPLE_INDEX = 512,
    SAMPLE_VERSIONS = 2
};

typedef struct plan_sample {
    bp_plan plan; /* what the writers get */
    bp_air air[2];
    bp_beat beat[SAMPLE_BEATS];
    bp_version version[SAMPLE_VERSIONS];
    bp_container container[SAMPLE_CONTAINERS];
    bp_op op[SAMPLE_OPS];
    uint32_t index[SAMPLE_INDEX];
} plan_sample;

void plan_sample_fill(plan_sample *s);

/* The same with nothing late: verdict BP_PLANNED. */
void plan_sample_fill_planned(plan_sample *s);

#endif

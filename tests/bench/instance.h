/* tests/bench/instance.h - readers for two published formats of scheduling problems.
 *
 * Owns     the arrays of one problem, released at once.
 * May use  the public header of the engine.
 *
 *   .sm   PSPLIB, single mode: R. Kolisch and A. Sprecher, "PSPLIB - a project scheduling problem
 *         library", European Journal of Operational Research 96 (1997) 205-216
 *   .sch  ProGen/max: C. Schwindt, reports WIOR, University of Karlsruhe, 1996-1998
 *
 * The makespan, the start of the last activity, becomes the only objective.
 */
#ifndef BP_TESTS_BENCH_INSTANCE_H
#define BP_TESTS_BENCH_INSTANCE_H

#include "backpot/engine.h"

typedef struct instance {
    bp_eng_problem p;
    void *rows[6];
} instance;

/* The format is told by the end of the name. False: *why says what is wrong. */
bool instance_read(instance *out, const char *path, const char **why);
void instance_release(instance *i);

#endif

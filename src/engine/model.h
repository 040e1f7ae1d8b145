/* src/engine/model.h - a problem put into variables, arcs, clauses and propagators.
 *
 * Owns     the core and, in its arena, everything the propagators look at.
 * May use  engine/core, linear, cumulative, and the public header.
 *
 *   activity   start, end and length are variables; ends a fixed way apart share one
 *   option     one literal each; two options are one variable and its opposite
 *   fact       a literal: true (solving), false (switched off), or a variable (explaining)
 */
#ifndef BP_ENGINE_MODEL_H
#define BP_ENGINE_MODEL_H

#include "backpot/engine.h"
#include "engine/core.h"
#include "engine/cumulative.h"
#include "engine/linear.h"

struct bpi_arena;

typedef struct bpi_sum {
    bpi_ref a, b, c; /* a = b + c */
} bpi_sum;

/* A whole schedule, per activity. */
typedef struct bpi_schedule {
    int32_t *start, *length;
    uint32_t *option; /* number within the activity */
} bpi_schedule;

typedef struct bpi_model {
    const bp_eng_problem *p;
    struct bpi_arena *arena;
    bpi_core core;
    bpi_ref *start, *length, *end; /* per activity */
    bpi_lit *option;               /* per option   */
    bpi_lit *fact;                 /* per fact     */
    bpi_linear *level;             /* per level    */
    bpi_cumulative *resource;      /* per resource */
    uint32_t *first;               /* per resource: view of its first start, 0: no goal asks */
} bpi_model;

/* `ask`: a fact is a variable of its own, to be assumed; else it holds. `goals`: with objectives.
 * False: no memory. The problem must have passed bpi_problem_check. Release it either way. */
bool bpi_model_init(bpi_model *m, const bp_eng_problem *p, const bool *off, bool ask, bool goals);
void bpi_model_release(bpi_model *m);

/* Pieces of it, one file each; false: no memory. */
bool bpi_model_places(bpi_model *m);    /* model_place.c    */
bool bpi_model_resources(bpi_model *m); /* model_resource.c */
bool bpi_model_goals(bpi_model *m);     /* model_goal.c     */
bool bpi_model_pools(bpi_model *m);     /* model_pool.c     */
/* Propagate one resource: its tasks and segments are there. */
bool bpi_model_cumulative(bpi_model *m, bpi_cumulative *r);
/* model_crew.c. Per term of the problem: the view of its first start, its place among the terms of
 * the level; for terms of kind CALL. */
bool bpi_model_crew(bpi_model *m, uint32_t level, const uint32_t *first_of,
                    const uint32_t *term_of);

/* The value of each level in a schedule. */
void bpi_model_values(const bpi_model *m, const bpi_schedule *s, int64_t value[BP_ENG_LEVELS]);

/* True exactly while activity a takes option o (counted over all) and lasts longer than 0. */
bool bpi_model_runs(bpi_model *m, uint32_t a, uint32_t o, bpi_lit *out);

bool bpi_model_sum(bpi_model *m, bpi_ref a, bpi_ref b, bpi_ref c); /* a = b + c */

static inline bpi_ref bpi_ref_fixed(int32_t v)
{
    return (bpi_ref){0, v};
}

#endif

/* backpot/engine.h - resource-constrained project scheduling with minimum and maximum time lags.
 *
 * Numbers in; starts, a proof or a conflict out. Nothing here knows of food. The caller holds a
 * problem as plain arrays; solving reads it only. Times are whole units of the caller's choice (a
 * kitchen uses minutes), at least 0 and at most BP_ENG_MOST_TIME, on one axis that starts at 0.
 *
 *   activity   is placed once: a start, one of its options, and a length the option allows
 *   option     one way to do an activity: what it takes of which resources while it runs, and how
 *              long it may last. An option without needs and with length 0 means "left out"
 *   lag        time(to) >= time(from) + least, between two ends; a maximum lag is the reverse lag
 *              with `least` below zero; a release or a deadline is a lag from or to BP_ENG_ORIGIN
 *   resource   a renewable capacity with a calendar; with states (the temperatures of an oven)
 *              activities overlap only in an equal state, and a change of state costs time
 *   fact       what a constraint is owed to. Fact 0 is beyond question. The others can be switched
 *              off, and a conflict names the fewest of them that cannot hold together
 *   level      one objective, a weighted sum to be made least; levels are strictly ordered
 *
 * All functions are re-entrant and deterministic: search effort is counted work, not time.
 *
 * Words follow R. Kolisch and A. Sprecher (PSPLIB, 1997) and K. Neumann, C. Schwindt and
 * J. Zimmermann (Project Scheduling with Time Windows, 2003).
 */
#ifndef BP_ENGINE_H
#define BP_ENGINE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "backpot/error.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BP_ENG_NONE      UINT32_MAX       /* no activity, option, fact                       */
#define BP_ENG_ORIGIN    (UINT32_MAX - 1) /* as an end of a lag: time 0                      */
#define BP_ENG_MOST_TIME 1000000          /* horizon and lengths; lags within +- of it       */
#define BP_ENG_LEVELS    6                /* most objective levels                           */

/* Taken from one resource while the activity runs (not at all while its length is 0). An option
 * names a resource at most once. With amount 0 it still holds the state. */
typedef struct bp_eng_need {
    uint32_t res;
    int32_t amount; /* 0 and up                                                       */
    int32_t state;  /* of a resource with states: 0..states-1; of others: -1          */
} bp_eng_need;

typedef struct bp_eng_option {
    uint32_t need0, needs; /* slice of problem.need                                    */
    int32_t least, most;   /* length: 0 <= least <= most                               */
    uint32_t fact;         /* the upper limit `most` is owed to; off: most is boundless */
    int32_t who;           /* class for BP_ENG_SPLIT, such as a person; -1: none       */
} bp_eng_option;

typedef struct bp_eng_activity {
    uint32_t option0, options; /* slice of problem.option; at least one                */
} bp_eng_activity;

typedef enum bp_eng_end { BP_ENG_START, BP_ENG_END } bp_eng_end;

/* time(to, to_end) >= time(from, from_end) + least, only while activity `if_act` takes its option
 * number `if_opt` (counted from its option0) where if_act is not BP_ENG_NONE. */
typedef struct bp_eng_lag {
    uint32_t from, to; /* activities; one of them may be BP_ENG_ORIGIN                 */
    bp_eng_end from_end, to_end;
    int32_t least;
    uint32_t if_act, if_opt;
    uint32_t fact;
} bp_eng_lag;

/* In [from, to) the resource has this capacity instead of its usual one; where several spans
 * overlap the least counts. Activities do not pause: one that runs into the span needs it too.
 * While its fact is off the usual capacity holds again; but a span that allows as much as that or
 * more then leaves no limit, so that switching a fact off never forbids anything. */
typedef struct bp_eng_span {
    uint32_t res;
    int32_t from, to, capacity;
    uint32_t fact;
} bp_eng_span;

typedef struct bp_eng_resource {
    int32_t capacity;
    uint32_t fact;        /* the capacity is owed to; off: boundless                            */
    uint32_t states;      /* 0: none                                                            */
    uint32_t change0;     /* slice of problem.change: states x states, row: from, column: to    */
    uint32_t fact_change; /* that states exclude each other and take time to change             */
    uint32_t alike;       /* resources with the same number above 0 are interchangeable: same
                             capacity, spans, and part in every activity's options and terms    */
} bp_eng_resource;

/* At least one literal must hold: activity takes (or, negated, does not take) an option. */
typedef struct bp_eng_literal {
    uint32_t act, opt;
    bool negated;
} bp_eng_literal;
typedef struct bp_eng_clause {
    uint32_t literal0, literals; /* slice of problem.literal */
    uint32_t fact;
} bp_eng_clause;

typedef enum bp_eng_kind {
    BP_ENG_STARTS, /* weight x start of activity a                                             */
    BP_ENG_ENDS,   /* weight x end of a                                                        */
    BP_ENG_LASTS,  /* weight x length of a                                                     */
    BP_ENG_LATE,   /* weight x max(0, end of a - at)                                           */
    BP_ENG_CALL,   /* weight x (at - earliest start on resource a); 0 where it is unused        */
    BP_ENG_REACH,  /* weight x (latest end - earliest start on resource a); 0 where unused      */
    BP_ENG_TAKES,  /* weight where a takes option b                                            */
    BP_ENG_SPLIT,  /* weight where the options of a and b have different `who`, none being -1   */
    BP_ENG_MOVED   /* weight where a does not start at `at`                                    */
} bp_eng_kind;

/* For CALL and REACH an activity is on a resource when its length and its amount are above 0. */
typedef struct bp_eng_term {
    uint32_t level; /* 0 comes first                        */
    bp_eng_kind kind;
    uint32_t a, b;
    int32_t at;
    int32_t weight; /* 0..1000000; those of a level add up to 2^30 at most */
} bp_eng_term;

typedef struct bp_eng_problem {
    int32_t horizon; /* every end is at most this */
    uint32_t facts;  /* numbers 0..facts-1; at least 1 */
    uint32_t levels;
    const bp_eng_activity *activity;
    uint32_t activities;
    const bp_eng_option *option;
    uint32_t options;
    const bp_eng_need *need;
    uint32_t needs;
    const bp_eng_lag *lag;
    uint32_t lags;
    const bp_eng_resource *resource;
    uint32_t resources;
    const bp_eng_span *span;
    uint32_t spans;
    const int32_t *change;
    uint32_t changes;
    const bp_eng_literal *literal;
    uint32_t literals;
    const bp_eng_clause *clause;
    uint32_t clauses;
    const bp_eng_term *term;
    uint32_t terms;
} bp_eng_problem;

typedef enum bp_eng_status {
    BP_ENG_UNKNOWN,   /* the work ran out first               */
    BP_ENG_FEASIBLE,  /* a schedule, not proved best          */
    BP_ENG_OPTIMAL,   /* a schedule, proved best in all levels */
    BP_ENG_INFEASIBLE /* proved: there is none                */
} bp_eng_status;

typedef struct bp_eng_solution {
    bp_eng_status status;
    uint32_t activities;
    int32_t *start, *length; /* per activity; NULL without a schedule                         */
    uint32_t *option;        /* number of the option within the activity                      */
    int64_t value[BP_ENG_LEVELS];
    int64_t bound[BP_ENG_LEVELS]; /* proved lower bound, given the levels before at their value */
    uint32_t proved;              /* so many levels, from the first, are proved                */
    uint64_t work;                /* counted work spent                                        */
} bp_eng_solution;

/* Told now and then while solving, for a progress line; return false to stop at the best so far. */
typedef struct bp_eng_progress {
    uint32_t level;
    bool found;
    int64_t value, bound;
    uint64_t work;
} bp_eng_progress;

/* An all-zero value means the defaults. */
typedef struct bp_eng_limits {
    uint64_t work;       /* most counted work; 0: BP_ENG_WORK                              */
    uint64_t better;     /* counted work from the first schedule on, within `work`; 0: all of it */
    uint32_t seconds;    /* 0: never look at the clock; else go on past `work` until then  */
    bool first;          /* stop at the first schedule: feasibility only                   */
    const bool *off;     /* per fact: switched off; NULL: none                             */
    bool none;           /* explain: solving has proved that there is no schedule          */
    const int32_t *hint; /* start per activity to begin from; NULL: none                   */
    bool (*tell)(void *ctx, const bp_eng_progress *p);
    void *ctx;
} bp_eng_limits;

#define BP_ENG_WORK 40000000u

/* Solve.
 *
 * Owner   *out is new, release it with bp_eng_solution_free; set to NULL on failure.
 * Errors  BP_EVALUE (the problem is not well formed: the message says which row), BP_ENOMEM.
 *         A problem without a schedule is no error: the status says so.
 */
bp_code bp_eng_solve(bp_eng_solution **out, const bp_eng_problem *p, const bp_eng_limits *limits,
                     bp_errors *errs);
void bp_eng_solution_free(bp_eng_solution *s); /* NULL does nothing */

/* Why an infeasible problem has no schedule: facts that cannot hold together.
 *
 * `minimal` says that each of them was proved needed: switch any one off and a schedule exists.
 * With limits->none a conflict is always given, if need be one larger than it has to be.
 * Owner   *out is new, release it with bp_eng_conflict_free; NULL on failure.
 * Errors  as bp_eng_solve; BP_EVALUE also where the problem has a schedule; BP_EUNSURE where the
 *         work ran out before infeasibility was proved.
 */
typedef struct bp_eng_conflict {
    uint32_t facts;
    uint32_t *fact; /* ascending; empty: it is impossible even with every fact off */
    bool minimal;
    uint64_t work;
} bp_eng_conflict;
bp_code bp_eng_explain(bp_eng_conflict **out, const bp_eng_problem *p, const bp_eng_limits *limits,
                       bp_errors *errs);
void bp_eng_conflict_free(bp_eng_conflict *c); /* NULL does nothing */

/* Test a solution against the problem, by code that shares nothing with the search.
 *
 * Returns true where every constraint of a fact not switched off holds and the values are right;
 * else `why` (of `room` bytes) says what does not.
 */
bool bp_eng_verify(const bp_eng_problem *p, const bp_eng_solution *s, const bool *off, char *why,
                   size_t room);

/* Fill in s->value from the schedule that `s` holds, which must be one of the problem's. */
void bp_eng_value(const bp_eng_problem *p, bp_eng_solution *s);

#ifdef __cplusplus
}
#endif
#endif

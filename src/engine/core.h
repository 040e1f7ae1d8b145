/* src/engine/core.h - variables, the trail of their bounds, and propagation to a fixed point.
 *
 * Owns     every bound, why it holds, the arcs and clauses over bounds, the queue of propagators.
 * May use  base/, engine/grow.
 * Units    counted work: one for each arc, watched clause or task looked at.
 *
 * A variable x is an integer. It has two views, 2x for x itself and 2x+1 for -x, and the one thing
 * kept about a view is its lower bound; the upper bound of x is minus the lower bound of -x. A
 * literal says "view >= least", so its opposite is a literal too: -view >= 1 - least. A Boolean is
 * a variable within 0..1. Clauses, arcs, explanations and learning all speak in such literals, so
 * nothing is encoded and a horizon of a million costs no more than one of ten.
 *
 *   trail   | root bounds | level 1: decision, what follows | level 2: ... |
 *             each entry: view, old and new bound, the entry of the same view before it, reason
 *
 * Variable 0 is the constant 0; its literals are "true" and "false".
 */
#ifndef BP_ENGINE_CORE_H
#define BP_ENGINE_CORE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct bpi_lit {
    uint32_t view;
    int32_t least;
} bpi_lit;

#define BPI_LIT_TRUE  ((bpi_lit){0, 0})
#define BPI_LIT_FALSE ((bpi_lit){1, 1})

static inline bpi_lit bpi_lit_not(bpi_lit l)
{
    return (bpi_lit){l.view ^ 1, 1 - l.least};
}

/* A view and a number added to it: the end of an activity of fixed length is its start + length. */
typedef struct bpi_ref {
    uint32_t view;
    int32_t add;
} bpi_ref;

static inline bpi_lit bpi_ref_least(bpi_ref r, int32_t v) /* r >= v */
{
    return (bpi_lit){r.view, v - r.add};
}
static inline bpi_lit bpi_ref_most(bpi_ref r, int32_t v) /* r <= v */
{
    return (bpi_lit){r.view ^ 1, r.add - v};
}

/* Why a bound holds: a kind in the low bits, a place above them. */
typedef enum bpi_why {
    BPI_WHY_DECIDED,
    BPI_WHY_CLAUSE, /* place in clause.words; the literal made true comes first             */
    BPI_WHY_ARC,    /* number of the arc                                                     */
    BPI_WHY_STORED, /* place in reason: count, then literals that together imply the bound  */
    BPI_WHY_SUM,    /* the same; the bound is the sum of the two bounds, so may be weakened */
    BPI_WHY_ASK     /* number of the propagator, which is asked when the reason is wanted    */
} bpi_why;
#define BPI_WHY(kind, place) ((uint32_t)(kind) | (uint32_t)(place) << 3)
#define BPI_MOST_PLACE       (UINT32_MAX >> 3)

typedef struct bpi_step {
    uint32_t view;
    int32_t old, now;
    uint32_t before; /* trail place of the same view's step before, BPI_NO_STEP: none */
    uint32_t level;
    uint32_t why;
} bpi_step;
#define BPI_NO_STEP UINT32_MAX

/* to >= from + add, while cond holds. Each is kept twice, mirrored: -from >= -to + add. */
typedef struct bpi_arc {
    uint32_t from, to;
    int32_t add;
    bpi_lit cond;
} bpi_arc;

/* A clause in clause.words: size, flags, activity, then literals; the first two are watched. */
#define BPI_CLAUSE_HEAD 3u
typedef struct bpi_watch {
    int32_t at;      /* looked at when the bound of the view reaches this: literal just false */
    uint32_t clause; /* place in clause.words                                                  */
    bpi_lit other;   /* some other literal of it: when true there is nothing to do             */
} bpi_watch;

struct bpi_core;
typedef bool bpi_run(struct bpi_core *c, void *self); /* false: conflict, or out of memory */
/* Literals that held before step `at` and imply that it reached `least`. Their number; they stay the
 * propagator's own until it is asked or run again. */
typedef uint32_t bpi_because(const struct bpi_core *c, void *self, uint32_t at, int32_t least,
                             const bpi_lit **out);

/* One of a rank runs only when none of a quicker rank is waiting. */
typedef enum bpi_rank { BPI_QUICK, BPI_SLOW, BPI_SLOWEST, BPI_RANKS } bpi_rank;

typedef struct bpi_propagator {
    bpi_run *run;
    bpi_because *because; /* NULL: all its reasons are stored */
    void *self;
    bool queued;
    uint8_t rank;
} bpi_propagator;

/* An array of numbers per view. */
typedef struct bpi_numbers {
    uint32_t *item;
    uint32_t items, item_room;
} bpi_numbers;

typedef struct bpi_watches {
    bpi_watch *item;
    uint32_t items, item_room;
} bpi_watches;

typedef struct bpi_core {
    /* per view */
    int32_t *low, *root; /* bound now; bound at level 0     */
    uint32_t *last;      /* its newest step on the trail     */
    bpi_numbers *arcs;   /* arcs from it                     */
    bpi_numbers *conds;  /* arcs whose condition speaks of it */
    bpi_numbers *wakes;  /* propagators to queue             */
    bpi_watches *watch;
    uint32_t views, low_room, root_room, last_room, arcs_room, conds_room, wakes_room, watch_room;

    bpi_step *trail;
    uint32_t trails, trail_room;
    uint32_t done;   /* steps before this were propagated */
    uint32_t *level; /* where each level's steps start; level[0] is level 1 */
    uint32_t levels, level_room;

    int32_t *reason; /* stored explanations, cut back with the trail */
    uint32_t reasons, reason_room;
    uint32_t *reason_mark; /* per level: reasons when it started */
    uint32_t reason_mark_room;
    uint32_t *done_mark; /* per level: `done` when it started; several may start before the first of
                            them is propagated */
    uint32_t done_mark_room;

    bpi_arc *arc;
    uint32_t arcs_made, arc_room;

    struct {
        int32_t *words;
        uint32_t used, words_room;
        uint32_t *learned; /* places, oldest first */
        uint32_t learneds, learned_room;
        uint32_t *given; /* clauses of the problem */
        uint32_t givens, given_room;
    } clause;

    bpi_propagator *prop;
    uint32_t props, prop_room;
    uint32_t *queue[BPI_RANKS]; /* rings, each of `props` places */
    uint32_t queue_room[BPI_RANKS], queue_head[BPI_RANKS], queue_len[BPI_RANKS];

    bpi_lit *why; /* the conflict: literals that cannot hold together; also scratch for reasons */
    uint32_t whys, why_room;

    uint64_t work;
    bool no_memory;
    bool broken; /* the root bounds contradict each other: nothing is feasible any more */
} bpi_core;

bool bpi_core_init(bpi_core *c); /* false: no memory; release it all the same */
void bpi_core_release(bpi_core *c);

/* While building, at level 0. Return UINT32_MAX / false without memory. */
uint32_t bpi_core_var(bpi_core *c, int32_t low, int32_t high); /* its view */
bool bpi_core_arc(bpi_core *c, bpi_ref from, bpi_ref to, int64_t add, bpi_lit cond);
bool bpi_core_clause(bpi_core *c, const bpi_lit *l, uint32_t n); /* at least one of them */
uint32_t bpi_core_propagator(bpi_core *c, bpi_run *run, void *self, bpi_rank rank);
void bpi_core_ask(bpi_core *c, uint32_t prop, bpi_because *because); /* for BPI_WHY_ASK */
bool bpi_core_wake(bpi_core *c, uint32_t prop, uint32_t view); /* when its lower bound rises */

static inline int32_t bpi_ref_low(const bpi_core *c, bpi_ref r)
{
    return c->low[r.view] + r.add;
}
static inline int32_t bpi_ref_high(const bpi_core *c, bpi_ref r)
{
    return r.add - c->low[r.view ^ 1];
}
static inline bool bpi_lit_holds(const bpi_core *c, bpi_lit l)
{
    return c->low[l.view] >= l.least;
}
static inline bool bpi_lit_fails(const bpi_core *c, bpi_lit l)
{
    return c->low[l.view ^ 1] >= 1 - l.least;
}

/* Raise a bound. False: it contradicts the opposite bound; why[] then holds the conflict. */
bool bpi_core_set(bpi_core *c, bpi_lit l, uint32_t why);
/* The same with an explanation copied from n literals that hold. */
bool bpi_core_set_stored(bpi_core *c, bpi_lit l, const bpi_lit *because, uint32_t n, bpi_why kind);
/* A conflict of its own: literals that hold now and cannot hold together. Always false. */
bool bpi_core_conflict(bpi_core *c, const bpi_lit *because, uint32_t n);

bool bpi_core_propagate(bpi_core *c); /* false: conflict in why[], or no memory */
void bpi_core_queue(bpi_core *c, uint32_t prop);
bool bpi_core_decide(bpi_core *c, bpi_lit l); /* opens a level; l must be open; false: no memory */
void bpi_core_back(bpi_core *c, uint32_t level);

/* Literals that imply step `at` reaching `least`, appended to *out. False: no memory. */
bool bpi_core_explain(bpi_core *c, uint32_t at, int32_t least, bpi_lit **out, uint32_t *outs,
                      uint32_t *out_room);
int32_t bpi_core_low_before(const bpi_core *c, uint32_t view, uint32_t at); /* its bound then */
/* The step that made "view >= least" true; BPI_NO_STEP: it holds at the root. */
uint32_t bpi_core_step(const bpi_core *c, bpi_lit l);

/* clause.c */
bool bpi_clause_visit(bpi_core *c, const bpi_step *s); /* a bound rose: the clauses watching it */
bool bpi_clause_learn(bpi_core *c, const bpi_lit *l, uint32_t n, uint32_t lbd, uint32_t *place);
bool bpi_clause_reduce(bpi_core *c); /* at level 0: forget what holds, and half of the learned */
void bpi_clause_bump(bpi_core *c, uint32_t place);

#endif

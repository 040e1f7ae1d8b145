/* src/plan/verify.h - what the parts of the independent checker share.
 *
 * Owns     the names that a plan's numbers resolve to in the show, in an arena of its own.
 * May use  base/, model/. Nothing of live/, prep/ or engine/: what they worked out is tested here from
 *          the show file alone.
 * Units    plan time and whole seconds, as in the plan.
 * Parts    verify_plan (the order of them), verify_name (numbers and names resolve), verify_air
 *          (appearances, beats), verify_walk (each beat finds its dish in the state it needs),
 *          verify_version (other lengths), verify_talk (claims, answers, lines), verify_station (walking,
 *          room, hot containers in the way), verify_box (what
 *          containers there are), verify_step (the
 *          path of each container through its steps), verify_crew (cooks, reset, stand-by),
 *          verify_use (everything with a count; ovens), verify_vessel (what is washed),
 *          verify_power (circuits), verify_stand (the set), verify_pack (what is packed), verify_goal (the
 *          objectives), verify_amends and verify_ticks (a day that did not go as planned).
 *
 * The rules are those that plan.h, live/live.h and prep/prep.h state in words.
 */
#ifndef BP_PLAN_VERIFY_H
#define BP_PLAN_VERIFY_H

#include <stdbool.h>
#include <stdint.h>

#include "backpot/plan.h"
#include "base/arena.h"
#include "base/error.h"
#include "model/show.h"

/* What a beat asks of its dish. */
typedef struct bpi_want {
    bool state;     /* it asks for one                  */
    uint32_t dish;  /* of the segment; BPI_NO_INDEX: none */
    uint64_t steps; /* that must be done, and no other  */
    const uint32_t *does;
    uint32_t does_n;
} bpi_want;

/* What is known of a day that did not go as planned. */
typedef struct bpi_amends {
    const bp_plan *before; /* what was planned until now                                    */
    int64_t now;           /* whole minutes                                                 */
    const bool *lost;      /* of each container: all done for it until now was in vain      */
    const bool *apart;     /* of each container: nothing is done for it together with others */
    const int64_t *dead;   /* of each oven: from then on it is; BP_NO_TIME: it is not       */
    const int64_t *burner; /* from each of these on there is one burner less                */
    uint32_t burners;
    const struct bpi_absence {
        uint32_t person;
        int64_t from, to;
    } * away;
    uint32_t aways;
    const struct bpi_longer {
        uint32_t container, step;
        int64_t to;
    } * longer;
    uint32_t longers;
    bool ticked; /* the past is as it happened: in `before`, and by these since */
    const struct bpi_tick {
        const char *op; /* its key */
        int64_t at;
        enum bpi_tick_kind { BPI_TICK_START, BPI_TICK_DONE, BPI_TICK_UNDO } what;
    } * tick;
    uint32_t ticks;
} bpi_amends;

typedef struct bpi_verify {
    const bp_plan *plan;
    const bpi_amends *amends; /* NULL: a plan as the show has it */
    const bpi_show *show;
    bp_errors *errs;
    bpi_arena *arena;
    bool objected;

    uint32_t *segment, *hit;   /* of each appearance                                */
    uint32_t *dish;            /* of each container: number in its segment          */
    const bpi_recipe **recipe; /* of each container                                 */
    uint32_t *step;            /* of each operation: from its key; BPI_NO_INDEX: none */
    bool *known;               /* of each operation: the show asks for it           */
    bpi_want *want;            /* of each beat                                      */
} bpi_verify;

/* One thing that does not hold; `what` is a key, a code or an id. */
#if defined(__GNUC__)
__attribute__((format(printf, 3, 4)))
#endif
void bpi_object(bpi_verify *v, const char *what, const char *form, ...);

/* The parts, in this order; the first two end the test where they object. */
bool bpi_verify_names(bpi_verify *v); /* false: no memory */
bool bpi_verify_air(bpi_verify *v);   /* the same         */
void bpi_verify_walk(bpi_verify *v);
void bpi_verify_version(bpi_verify *v);
void bpi_verify_talk(bpi_verify *v);
void bpi_verify_station(bpi_verify *v);
void bpi_verify_box(bpi_verify *v);
void bpi_verify_step(bpi_verify *v);
void bpi_verify_crew(bpi_verify *v);
void bpi_verify_dress(bpi_verify *v);
void bpi_verify_use(bpi_verify *v);
void bpi_verify_warm(bpi_verify *v);
bool bpi_verify_vessel(bpi_verify *v); /* false: no memory */
void bpi_verify_power(bpi_verify *v);
void bpi_verify_stand(bpi_verify *v);
bool bpi_verify_pack(bpi_verify *v); /* false: no memory */
void bpi_verify_goal(bpi_verify *v);

/* A plan that was mended: the past as it was, all of it, and the rest by what is known. */
bp_code bpi_verify_mended(const bp_plan *plan, const bpi_show *show, const bpi_amends *amends,
                          bp_errors *errs);
void bpi_verify_amends(bpi_verify *v);
/* Does it switch a place on that the other stands in? */
bool bpi_is_warmed_for(const bpi_verify *v, const bp_op *warm_up, const bp_op *op);
/* Did it begin before now, or was its length told: then the show does not say how long it lasts. */
bool bpi_is_given(const bpi_verify *v, uint32_t op);
/* Does it lie in a past that is as it happened, whatever the show says? */
bool bpi_is_past(const bpi_verify *v, const bp_op *op);
/* An operation in such a past may go on beyond what it may last for a minute from now, for as long as the
 * plan before let it, and where the plan is late. */
bool bpi_runs_over(const bpi_verify *v, const bp_op *op, int64_t most);
/* The end of a step that was said to take longer; BP_NO_TIME: nothing was said. */
int64_t bpi_told(const bpi_verify *v, uint32_t op);
void bpi_verify_ticks(bpi_verify *v);
/* The operation of that key; NULL: there is none. */
const bp_op *bpi_op_of_key(const bp_plan *plan, const char *key);
const bp_op *bpi_op_before(const bpi_verify *v, const char *key); /* in the plan before */
/* Is one of the containers of an operation of `plan` lost? All of them, of one of the plan before, so that it
 * need not have happened? */
bool bpi_for_lost(const bpi_verify *v, const bp_plan *plan, const bp_op *op);
bool bpi_in_vain(const bpi_verify *v, const bp_op *op);

/* How many times is it in the slice? */
uint32_t bpi_among(const bp_plan *p, bp_slice slice, uint32_t number);

/* How many places an operation stands in. *right: as many positions as its vessels say, at least one. */
uint32_t bpi_places(const bpi_verify *v, const bp_op *op, bool *right);

bool bpi_is_hands_on(bp_op_kind kind);
const bpi_dish *bpi_dish_of(const bpi_verify *v, uint32_t container);
int64_t bpi_slot_end(const bpi_verify *v, uint32_t air);
int64_t bpi_slot_latest(const bpi_verify *v, uint32_t air); /* where the hit floats */

/* The least hold on set of the steps that a container ends with; measured: four hours. */
int64_t bpi_set_hold(const bpi_recipe *recipe, uint64_t steps);

/* Until when a container on set keeps, with what it waited on the counter before; BPI_NO_LIMIT. */
int64_t bpi_keeps_until(const bpi_verify *v, uint32_t container);

/* How many of a vessel a container's food goes to the set in. */
uint32_t bpi_comes_in(bpi_verify *v, uint32_t container, uint32_t tool);

/* Steps that beats do with the container, and that are not done ahead for it. */
uint64_t bpi_on_air(const bpi_verify *v, uint32_t container);

/* To whole minutes of plan time, or as a length. */
int64_t bpi_minute_up(int64_t seconds);
int64_t bpi_minute_down(int64_t seconds);

#endif

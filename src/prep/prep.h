/* src/prep/prep.h - what the kitchen does ahead: operations from stages, as a problem of numbers.
 *
 * Owns     the jobs (one for each activity of the engine's problem, same number), the containers
 *          they are for, what each option and resource of the problem means, and the facts.
 * May use  engine (its public header), live/, model/, base/.
 * Units    the engine counts whole minutes from `zero`, a plan time on a whole minute, which lies
 *          BPI_PREP_MARGIN before the first call, so that an earlier call can be tried.
 *          Everything else here is plan time and whole seconds.
 * Parts    build (the problem), of crew (resources and calendars), steps, joint, ahead, wait (a
 *          container's jobs), vessel (what is washed), help (second pairs of hands), onset (carry, set,
 *          reset, stand-by), heat (ovens) and goal (objectives), which share prep/making and prep/rows;
 *          fact (what a constraint is owed to), solve (a schedule, then who stands where), why, cure and
 *          ease (no schedule: conflict, fixes, late schedule).
 *
 * What each operation of a plan means. The planner builds to these rules and the checker holds
 * every plan to them.
 *
 * Rounding. Every operation starts and ends on a whole minute. Hands-on lengths are rounded up to
 * whole minutes and last at least one; a least time is rounded up, a most time, a hold and a set-by
 * down. A container must stand on set at `last - hold_set` rounded up, at the earliest.
 *
 * ACTIVE    a step of kind active: time.likely, one cook with its skill; its burner, tools and
 *           vessels for the whole length. Also a passive step in whose window no whole minute lies
 *           (as 90 s on a burner): the cook stays with it, time.least rounded up.
 * PASSIVE   nobody. Its burner, tools, vessels, or positions of a place of its `keep` kind.
 *             window          time.least to time.most, TAKE_OFF exactly at its end
 *             on a burner     exactly time.likely, TAKE_OFF exactly at its end
 *             else            time.likely; then it simply waits on where it is, without a TAKE_OFF,
 *                             as long as the hold of its kind of place (`keep`, else the counter)
 *                             allows; where that hold is 0, with a TAKE_OFF
 * OVEN      nobody. One position of one oven (the step's own, else any) at its temperature, and its
 *           vessels; time.least to time.most (no whole minute in it: time.least rounded up).
 *           LOAD directly before and TAKE_OFF directly after, which take that position too: a load is in
 *           the oven from when somebody begins to put it in until it is out. Loads share an oven only at
 *           an equal temperature; from when the last is out to when the first of another temperature is
 *           begun to be put in lies the change at the oven's rate, rounded up.
 * LOAD      one cook, any, kitchen.load; directly before a PASSIVE or OVEN, and on the burner and
 *           with the vessels of that step, or in the oven. Before a PASSIVE that adds no ingredients and
 *           goes on where one hands-on operation for the same containers ended, it is left out if
 *           it starts that very minute: who has just finished starts it.
 * TAKE_OFF  one cook, any, kitchen.take_off; with the vessels of the step, and still on its burner,
 *           which draws nothing any more; directly after it.
 * MEASURE   for a container with no step done (raw): one cook, a minute for every three
 *           ingredients, at least two. For one that a beat does a step with: the ingredients of
 *           what is done on air, a minute for every three; they stand in small bowls beside the
 *           container, and are carried and counted with it. Holds on the counter and on set
 *           together for four hours. (Common practice, no source.)
 * WAIT      from the end of one step (its TAKE_OFF, where there is one) to the start of the next
 *           that builds directly on it, or to the CARRY. Takes positions of one place, of a kind of
 *           which the step done states a hold, not longer than that hold; and each vessel that both
 *           steps name: a pot stays with its food (one that is washed: see below). No hold stated:
 *           on the counter, without limit.
 *           The counter takes no room where the kitchen names no counter place. Branches of a
 *           recipe that are not yet joined stand apart and each takes its own positions. Length 0:
 *           nothing is taken.
 * positions one; or as many as the vessels that the operation has say together in `room`, if that is
 *           more; all of them in one place.
 * ahead     steps that name a step in `ahead` are done, for each container that has that step, all
 *           in file order or none: the planner chooses. Done, they stand between that step and what
 *           comes after it, with a WAIT before each and after the last. Each container has its own.
 * together  one operation may serve several containers of one appearance (together_across: of any;
 *           its appearance is the first of theirs) that are made by one recipe
 *           and need that step, at most together_most; hands-on time together_once + together_each
 *           x containers. An unattended step for several is LOAD, step and TAKE_OFF for all of them,
 *           on one burner, or in one position or place, with the vessels of one; its time is that of
 *           one and together_each more for each further container.
 *           Without together_split there are as few of them as together_most allows;
 *           with it the planner chooses. It starts after all that must precede it in each container;
 *           each container then goes its own way under the hold, except that what is of one batch
 *           before and after waits as one: one WAIT for all.
 * CARRY     one container, one cook, kitchen.carry; ends not after its set_by.
 * dress     of a segment: its containers, but for those that a tease shows, are in an order, each with
 *           the first entry of the list that names its dish or its station, or after all of them. No
 *           CARRY starts before the CARRY of each container earlier in that order has ended.
 * SET       from the end of the CARRY to `last`, the last moment on camera where the hit comes as
 *           late as its segment may float, not longer than the least hold_set of the steps it ends
 *           with. Counter and set are both at room temperature: where the WAIT before the CARRY is on
 *           the counter, it and the time from the end of the CARRY to `last` together are not longer
 *           than the longer of its two holds.
 * RESET     after each appearance but the last of the show: one cook, segment.reset; starts at or
 *           after the end of the slot of the latest hit. No container of a later appearance is
 *           carried before it ends, save one for a tease that comes before the end of that slot.
 * STAND_BY  segment.hands of them for each appearance: one cook each, from the segment's set-by (hit
 *           less lead) rounded down to the end of the slot of the latest hit rounded up.
 * PREHEAT   one cook, one minute, ends the time the oven needs from cold to the temperature, rounded
 *           up, before a load is begun to be put in, and at most oven.idle, rounded down, earlier
 *           than that. Each load has one, or follows one before it in the same oven: started
 *           earlier, and out at most oven.idle and the time of a change of temperature before
 *           it. One that follows has none: nobody switches on what is on.
 *
 * WARM_UP   for each hot place that `heats`, and each working day on which anything stands there: one
 *           cook, one minute, on that day; ends the time from cold to the temperature of the place,
 *           rounded up, before anything stands there. It is on from then until the last of the day has
 *           left it: nothing stands there over a night, which is BPI_NIGHT or longer with nobody's
 *           shift as the show has them; one day ends and the next begins in the middle of it.
 *
 * HELP      for an ACTIVE of a step with `help`: another cook, with the skill of the help, from its
 *           start; help_time rounded up, and no longer than the ACTIVE, or where that is 0 for all
 *           of it. It names nothing that the ACTIVE occupies, and serves the same containers.
 *
 * WASH      one cook, any, tool.wash x how many; with those vessels of one kind, and one
 *           of tool.wash_at, a sink, where one is named. What of them is dirty when
 *           it starts, of whichever container, is clean when it ends. A plan has none that can be
 *           left out.
 *
 * Vessels that are washed. A vessel with a washing time is in use from the first operation of the
 * step that first names it until the container's food has gone into something else: through each
 * step that names no vessel at all, each WAIT, the CARRY and the SET, which has besides what a step
 * names that is done on air. A step that names vessels has the food in those: what it came in and it
 * does not name is emptied as it starts. Where several steps build on one, the first of them in order
 * goes on with its vessels. A job together is emptied at its end, unless what comes next is done
 * together too and it may not be cooked ahead; what is not the first of a batch is emptied as that
 * starts. What is cooked ahead and comes out of it in other vessels than it went in is emptied
 * before what comes next. Emptied, it is dirty until a WASH; on the set it stands until the RESET,
 * and after the last appearance for good.
 *
 * Circuits. What is plugged into a circuit draws its watts while an operation has it in use: a tool
 * with a step itself, a burner with the step and its LOAD, a vessel not while food waits in it. Never
 * more at once than amperes x volts.
 *
 * A cook does one operation at a time, all of it between call and wrap of one shift and outside
 * breaks; but an ACTIVE of a step with `watch` takes no more of a cook than that percent of their
 * attention. A cook watches as many at once as take 100 together, and beside them does one ACTIVE of a
 * step that is `light`, where they take less than 50. All of the kitchen is near enough: which work can
 * be done beside what is watched, the show says by calling it light. A cook watches a step to its end.
 */
#ifndef BP_PREP_PREP_H
#define BP_PREP_PREP_H

#include <stdbool.h>
#include <stdint.h>

#include "backpot/engine.h"
#include "backpot/plan.h"
#include "base/arena.h"
#include "live/live.h"
#include "model/show.h"

#define BPI_PREP_MARGIN   21600 /* s: an earlier call, or a later wrap, is tried up to 6 h away */
#define BPI_MEASURE_HOLD  14400 /* s: measured raw ingredients, on the counter and on set       */
#define BPI_MEASURE_EACH  3     /* ingredients measured in a minute                             */
#define BPI_MEASURE_LEAST 2     /* min                                                          */
#define BPI_PREHEAT       1     /* min of a cook to switch an oven on, or a place that is heated */
#define BPI_NIGHT         14400 /* s: a time without anybody's shift that parts two working days */
/* Attention of a cook, in percent; light work takes more than half, so that there is never twice of it. */
#define BPI_ATTENTION  100
#define BPI_LIGHT      51
#define BPI_PREP_NEVER INT32_MIN

/* A container: a swap-out with its number. */
typedef struct bpi_box {
    uint32_t air, swap;  /* live.air[air].swap[swap]                                       */
    uint32_t dish;       /* number of its dish over all segments, as in plan.dish           */
    uint32_t recipe;     /* of show.recipe                                                  */
    char code[8];        /* "A2": letter of the dish, number in order of need              */
    uint32_t carry, set; /* its jobs; BPI_NO_INDEX where it is skipped                      */
} bpi_box;

/* One job is one activity of the problem. */
typedef struct bpi_job {
    bp_op_kind kind;
    uint32_t air;            /* BPI_NO_INDEX: PREHEAT, WARM_UP                                 */
    uint32_t recipe, step;   /* WAIT: the step it comes after; BPI_NO_INDEX: none              */
    uint32_t next;           /* WAIT: the step it is for; BPI_NO_INDEX: the carry              */
    uint32_t serve0, serves; /* slice of prep.serve: the containers; of a schedule's prep also those
                                of the jobs that are part of it                               */
    uint32_t number; /* PREHEAT: the job it heats the oven for; STAND_BY: from 0; WASH, DIRTY:
                        the vessel, of kitchen.tool; HELP: the job it helps with; WARM_UP:
                        the place, of kitchen.place, and the day x kitchen.places      */
    bool optional;   /* its first option is to be left out                             */
    bool loads;      /* PASSIVE, OVEN: the job before is its LOAD                       */
    bool takes_off;  /* PASSIVE, OVEN: the job after is its TAKE_OFF                    */
} bpi_job;

/* What an option of the problem means; same number. */
typedef struct bpi_way {
    uint32_t cook, shift; /* BPI_NO_INDEX: nobody                                       */
    uint32_t oven;        /* BPI_NO_INDEX: none                                         */
    int32_t keep;         /* bpi_keep of a WAIT, or of a PASSIVE; -1: none              */
    bool out;             /* left out, or part of another job                           */
    uint32_t with;        /* 1 + the job that this one is part of; 0: none              */
    uint32_t place;       /* 1 + the place of the kitchen; 0: any of that kind, or none */
    uint32_t day;         /* the working day on which that is hot; 0: the first, or any */
} bpi_way;

/* What a resource of the problem is; same number. */
typedef enum bpi_res_kind {
    BPI_RES_SHIFT, /* a: cook, b: shift */
    BPI_RES_BURNER,
    BPI_RES_OVEN,    /* a: oven           */
    BPI_RES_TOOL,    /* a: tool or vessel */
    BPI_RES_KEEP,    /* a: bpi_keep, b: 1 + the place of the kitchen, 0: all of that kind */
    BPI_RES_CIRCUIT, /* a: circuit; in watts */
    BPI_RES_MISSING  /* never there       */
} bpi_res_kind;
typedef struct bpi_res {
    bpi_res_kind kind;
    uint32_t a, b;
} bpi_res;

/* What a constraint is owed to, and what the numbers of the fact are. */
typedef enum bpi_fact_kind {
    BPI_FACT_NONE,  /* beyond question                                    */
    BPI_FACT_CALL,  /* a: cook, b: shift                                  */
    BPI_FACT_WRAP,  /* a: cook, b: shift                                  */
    BPI_FACT_REST,  /* a: cook, b: break                                  */
    BPI_FACT_COOK,  /* a: cook; does one thing at a time                  */
    BPI_FACT_SKILL, /* a: skill                                           */
    BPI_FACT_BURNERS,
    BPI_FACT_POSITIONS, /* a: oven                                            */
    BPI_FACT_CHANGE,    /* a: oven; one temperature at a time                 */
    BPI_FACT_PREHEAT,   /* a: oven; it starts cold                            */
    BPI_FACT_IDLE,      /* a: oven; it does not stand hot and empty for long  */
    BPI_FACT_WARM_UP,   /* a: place; it starts cold                           */
    BPI_FACT_TOOL,      /* a: tool                                            */
    BPI_FACT_WASH,      /* a: tool; it is washed before it is used again      */
    BPI_FACT_PLACE,     /* a: bpi_keep, b: as of BPI_RES_KEEP                 */
    BPI_FACT_CIRCUIT,   /* a: circuit                                         */
    BPI_FACT_HOLD,      /* a: recipe, b: step, c: bpi_keep; b none: measured  */
    BPI_FACT_NO_HOLD,   /* a: recipe, b: step; it may wait nowhere            */
    BPI_FACT_HOLD_SET,  /* a: recipe, b: step; b none: measured               */
    BPI_FACT_WINDOW,    /* a: recipe, b: step                                 */
    BPI_FACT_SET_BY,    /* a: segment, b: dish or none, at: set-by            */
    BPI_FACT_HELP,      /* a: recipe, b: step; it takes two cooks            */
    BPI_FACT_RESET,     /* a: segment                                         */
    BPI_FACT_HANDS,     /* a: segment                                         */
    BPI_FACT_FLOAT,     /* a: segment                                         */
    BPI_FACT_DRESS      /* a: segment; its set is dressed in an order         */
} bpi_fact_kind;
typedef struct bpi_fact {
    bpi_fact_kind kind;
    uint32_t a, b, c;
    int64_t at;
    bpi_where where;
} bpi_fact;

typedef struct bpi_prep {
    const bpi_show *show;
    const bpi_live *live;
    int64_t zero; /* plan time of engine time 0 */
    const bpi_box *box;
    uint32_t boxes;
    const bpi_job *job; /* problem.activities of them */
    const uint32_t *serve;
    const bpi_way *way;   /* problem.options of them    */
    const bpi_res *res;   /* problem.resources of them  */
    const bpi_fact *fact; /* problem.facts of them; number 0 is beyond question */
    /* How many of a vessel that is not washed a container's food goes to the set in: box by box, kitchen.tool
     * by kitchen.tool. The planner is not bound by it. */
    const uint16_t *gone;
    bp_eng_problem problem;
} bpi_prep;

/* Levels of the objective. A problem that may be late has them one further up. */
enum { BPI_GOAL_CREW, BPI_GOAL_WAIT, BPI_GOAL_HANDS, BPI_GOALS };

/* How the problem is to differ from the show. All zero: not at all. */
typedef struct bpi_prep_change {
    bool late; /* set-bys and wraps may be missed, at level 0; they are then no constraint */
    int32_t
        at_most; /* min: with late, set-bys are missed, and work goes on, by no more; 0: any   */
    const bool *skip;  /* per container: do without it; NULL: none                                */
    const bool *apart; /* per container: nothing is done for it together with others; NULL: none */
    bool implied;      /* with rows that say nothing as long as all facts hold: for a problem whose
                         facts are to be loosened                                                */
} bpi_prep_change;

/* Build the jobs of a show and the engine's problem.
 *
 * Owner   *out and all in it live in `a`; show and live must outlive it. NULL on failure.
 * Errors  BP_ELIMIT (more than BPI_MAX_SWAPS containers or BPI_MAX_OPS jobs), BP_ENOMEM.
 */
bp_code bpi_prep_make(bpi_prep **out, bpi_arena *a, const bpi_show *show, const bpi_live *live,
                      const bpi_prep_change *change, bp_errors *errs);

/* Does the WARM_UP `on` switch on what a job stands in that goes this way? */
bool bpi_is_warmed(const bpi_prep *p, const bpi_job *on, const bpi_way *way);

/* Whole minutes of a length, and engine time of a plan time, rounded up or down. */
int32_t bpi_minutes_up(int64_t seconds);
int32_t bpi_minutes_down(int64_t seconds);

#endif

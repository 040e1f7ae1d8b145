/* src/plan/fill.h - what the parts that fill in a plan share.
 *
 * Owns     growing lists and copies of texts in the plan's arena: the plan outlives the show.
 * May use  prep/, live/, safety/, goods/, model/, base/.
 * Parts    who (people and things), air (appearances, beats), boxes (dishes,
 *          containers), ops (operations),
 *          power (circuits), versions (appearances at other lengths), moved (hits at other times),
 *          optext (words of operations), follow (safety), shop (goods), gear (vessels and tools),
 *          stand (the set), pack (what is packed), chance,
 *          why (facts and changes), all put together by make.
 *
 * Running out of memory is a mark, asked for once at the end.
 */
#ifndef BP_PLAN_FILL_H
#define BP_PLAN_FILL_H

#include "backpot/plan.h"
#include "base/arena.h"
#include "base/text.h"
#include "live/live.h"
#include "prep/prep.h"
#include "prep/solve.h"

typedef struct bpi_fill {
    bp_plan *plan;
    bpi_arena *a;
    const bpi_show *show;    /* with buffers                     */
    const bpi_show *written; /* as written: how long steps take  */
    const bp_buffer *buffer;
    uint32_t buffers;
    uint32_t without; /* days on time of the plan without buffers */
    uint64_t *loss;   /* late days per step, recipes x BPI_MAX_STEPS; NULL: not asked for */
    const bpi_live *live;
    const bpi_prep *prep;         /* NULL: the live side has no answer yet */
    const bpi_schedule *schedule; /* NULL: none                            */
    const uint32_t *name;         /* per job: the container it goes by; NULL: its first        */
    const bool *again;            /* per container: it is made once more, apart; NULL: none is */
    bool failed;                  /* out of memory */

    uint32_t *index; /* plan.index while it grows */
    size_t index_room;
    uint32_t indexes;

    bp_air *air;              /* the plan's, still open to changes */
    bp_container *container;  /* the same */
    const uint32_t *stand_of; /* per plan.stand: the supply of the show; BPI_NO_INDEX: none */
    const uint32_t *op_of;    /* per job: its operation, of plan.op; BP_NO_INDEX: none */

    /* Numbers of plan.thing. */
    uint32_t burner, oven0, set0, counter; /* counter: where the kitchen names none */
    const uint32_t *tool, *place;          /* by number in the kitchen              */
} bpi_fill;

const char *bpi_fill_copy(bpi_fill *f, const char *text);
const char *bpi_fill_text(bpi_fill *f, bpi_text *text); /* copies, and releases it */
void *bpi_fill_room(bpi_fill *f, size_t n, size_t size);
#define BPI_FILL(f, n, T) ((T *)bpi_fill_room((f), (n), sizeof(T)))

/* A slice of plan.index: begin, push each, end. */
bp_slice bpi_fill_begin(const bpi_fill *f);
void bpi_fill_push(bpi_fill *f, bp_slice *slice, uint32_t n);

const bpi_swap *bpi_fill_swap(const bpi_fill *f, uint32_t box);

/* The parts, in this order. */
void bpi_fill_head(bpi_fill *f);   /* the show                                     */
void bpi_fill_things(bpi_fill *f); /* what can be occupied                         */
void bpi_fill_air(bpi_fill *f);    /* dishes, containers, appearances, beats       */
void bpi_fill_boxes(bpi_fill *f, const uint32_t *beat0); /* with them: dishes, containers; the
                                                            first beat of each appearance */
void bpi_fill_talk(bpi_fill *f, bp_beat *beat);          /* with them: lines, claims, answers   */
void bpi_fill_ops(bpi_fill *f);   /* operations; when each container is on set    */
void bpi_fill_power(bpi_fill *f); /* what circuits carry, after the operations    */
bp_code bpi_fill_versions(bpi_fill *f, bp_errors *errs); /* at other lengths of slots */
void bpi_fill_moved(bpi_fill *f);  /* how far hits can move; after people and safety */
void bpi_fill_people(bpi_fill *f); /* persons, and their stints by the operations  */
bp_code bpi_fill_safety(bpi_fill *f, bp_errors *errs); /* findings, use-bys         */
void bpi_fill_stands(bpi_fill *f);                     /* what stands on the set    */
bp_code bpi_fill_goods(bpi_fill *f, bp_errors *errs);  /* pull list                 */
void bpi_fill_packs(bpi_fill *f);                      /* the same, by what it is for */
bp_code bpi_fill_chance(bpi_fill *f, const bp_plan_options *options, bp_errors *errs);

/* All of them, with the goals; `late`: the schedule may be late, its level 0 says by how much;
 * `moved`: the level after that counts what has changed. */
bp_code bpi_fill_all(bpi_fill *f, bool late, bool moved, bp_errors *errs);

/* Tell of the food safety stops that forbid a plan; returns BP_EUNSAFE. */
bp_code bpi_fill_stopped(const bp_plan *plan, const bpi_show *show, bp_errors *errs);

/* Quantities of what a job adds, one a line. */
const char *bpi_fill_detail(bpi_fill *f, const bpi_job *job);

/* Steps whose ingredients are measured for the set with a container. */
uint64_t bpi_fill_measured(const bpi_fill *f, uint32_t box);

/* Every use of a vessel, tool or small bowl, in the kitchen and on the set; returns how many. NULL: only
 * counts. */
struct bpi_pull_use;
uint32_t bpi_fill_uses(bpi_fill *f, struct bpi_pull_use *use);

/* How many of a supply of the show the day takes: those that stand on the set, and what no beat names. */
uint32_t bpi_fill_supplies(const bpi_fill *f, uint32_t supply);
/* How many of it are in the kitchen alone. */
uint32_t bpi_fill_supplies_off(const bpi_fill *f, uint32_t supply);

/* Words of an operation of job j: texts are filled in, all else stands. */
void bpi_fill_op_words(bpi_fill *f, uint32_t j, bp_op *op);

#endif

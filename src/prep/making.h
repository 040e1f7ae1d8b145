/* src/prep/making.h - what the parts of prep hand on to each other while a problem is built.
 *
 * Owns     nothing.
 * May use  prep/rows.
 */
#ifndef BP_PREP_MAKING_H
#define BP_PREP_MAKING_H

#include "prep/rows.h"

typedef struct bpi_making {
    bpi_rows rows;
    const bpi_show *show;
    const bpi_live *live;
    bpi_prep_change change;
    int64_t zero;    /* plan time of engine time 0 */
    int32_t horizon; /* engine time                */

    bpi_box *box;
    uint32_t boxes;

    /* All attention of a cook, as a resource has it: 1 where the show watches nothing. */
    int32_t attention;
    /* Numbers of resources. */
    const uint32_t *shift; /* the first shift of each cook, the others follow     */
    uint32_t burner, oven0, tool0, circuit0;
    uint32_t keep[BPI_KEEPS]; /* BPI_NO_INDEX: takes no room, or place0            */
    uint32_t place0;          /* of each place, where vessels are of several sizes or a
                                 place is heated; BPI_NO_INDEX: all positions of a kind
                                 are one                                           */
    /* Temperatures of each oven, ascending: its states. */
    const int32_t *const *temp;
    const uint32_t *temps;

    /* Middles of the nights between working days, engine time, ascending. */
    const int32_t *night;
    uint32_t nights;

    bpi_list roomed; /* of onset: rows that wait for the job on the set */

    /* Vessels that are washed: their numbers in kitchen.tool, which of them are used more often than
     * there are of them, and how many a container's food is in at a step, boxes x BPI_MAX_STEPS x
     * vessels. */
    uint32_t washed;
    uint32_t
        vessels; /* of wash_tool: behind those that are washed stand all others, which bind nothing */
    const uint32_t *wash_tool;
    const bool *scarce;
    uint16_t *inside;

    /* What a hands-on job needs beside its cook; filled before its options are added. */
    bp_eng_need *extra;
    uint32_t extras;
} bpi_making;

/* Engine time of a plan time, on or after it, or on or before it. */
int32_t bpi_making_up(const bpi_making *m, int64_t t);
int32_t bpi_making_down(const bpi_making *m, int64_t t);

/* crew: resources, calendars, and options that take them. */
void bpi_crew_make(bpi_making *m);
void bpi_crew_extra(bpi_making *m, uint32_t res, int32_t amount); /* with the next job */
/* What the step takes, for the container: its burner, which is `on` or no more, all its tools or its
 * vessels alone. */
void bpi_crew_extra_step(bpi_making *m, uint32_t box, const bpi_step *s, bool on, bool tools);
void bpi_crew_needs(bpi_making *m); /* give them to the last option */
void bpi_crew_options(bpi_making *m, int32_t length,
                      uint32_t skill); /* one for each cook's shift */
/* The same of a hands-on step, which may leave a cook attention for others. */
void bpi_crew_options_step(bpi_making *m, int32_t length, const bpi_step *s);
/* To put it on for the step, or take it off: one for each cook's shift, and oven it may be in. The
 * position of the oven is taken, at the temperature of the step. */
void bpi_crew_hands(bpi_making *m, const bpi_step *s, int32_t length);
/* The same of a job that is as long as another has it. */
void bpi_crew_options_between(bpi_making *m, int32_t least, int32_t most, uint32_t skill);
void bpi_crew_left_out(bpi_making *m); /* the option to leave a job out   */
/* To stand in a place of that kind, with what the job takes: one option, or one for each place where
 * those count apart, and of a heated one for each working day, and one to go on at once. How many. */
uint32_t bpi_crew_stand(bpi_making *m, uint32_t keep, int32_t least, int32_t most, uint32_t fact);

/* wait: container `box` waits after the step of `after` (none: measured) until job `to` (for step
 * `next`, none: carry); `from` is the job it follows. */
uint32_t bpi_wait_make(bpi_making *m, const bpi_job *after, uint32_t from, uint32_t to,
                       uint32_t next, uint32_t box);
/* The same, not yet between two jobs. `aside`: its first option is to be left out. */
uint32_t bpi_wait_job(bpi_making *m, const bpi_job *after, uint32_t next, uint32_t box, bool aside);

/* vessel: what is washed before it is used again. */
const uint16_t *bpi_vessel_gone(bpi_making *m); /* as prep.gone */
void bpi_vessel_find(bpi_making *m); /* which, how often, and what each container's food is in */
/* With the next job: what the food is in at a step that names no vessel, while it waits from one
 * step to the next (BPI_NO_INDEX: to the carry), and on its way to the set and there. */
void bpi_vessel_at_step(bpi_making *m, uint32_t box, uint32_t step);
void bpi_vessel_at_wait(bpi_making *m, uint32_t box, uint32_t step, uint32_t next);
void bpi_vessel_at_set(bpi_making *m, uint32_t box);
/* From `step`, which job `last` ends, by job `wait` to step `next` (BPI_NO_INDEX: the carry). `main`,
 * `to`: the jobs of the two steps themselves, of which each may be part of another where it is done
 * together. `aside`: this way is not gone where `wait` takes its first option. */
typedef struct bpi_passage {
    uint32_t box, step, next, last, wait, main, to;
    bool aside;
} bpi_passage;
void bpi_vessel_empty(bpi_making *m, const bpi_passage *w); /* what is emptied there, and washed */
void bpi_vessel_strike(bpi_making *m); /* what comes back from the set, once it is cleared */

/* steps: the steps of every container, and the waits between them. */
void bpi_steps_make(bpi_making *m);
/* Options of the last job, an unattended step: one, or one for each oven or place. How many. */
uint32_t bpi_steps_unattended(bpi_making *m, uint32_t box, const bpi_step *s, int32_t least,
                              int32_t most, uint32_t fact);
/* Steps that `s` builds on directly: its `after` without those that another of them builds on. */
uint64_t bpi_steps_before(const bpi_recipe *r, uint32_t s);
/* Minutes that an unattended step may last beyond its least. */
int32_t bpi_steps_slack(const bpi_step *s);
/* The jobs of a step for one container, each of which may be left out by its first option. */
void bpi_steps_aside(bpi_making *m, uint32_t box, uint32_t step, uint32_t *first, uint32_t *last);

/* ahead: from job `from`, which ends a step (`main`: its own job) that may be cooked ahead, to job
 * `to` (for step `next`, none: carry), either at once or by way of what is done for what is cooked ahead. */
typedef struct bpi_ahead_waits {
    uint32_t fresh, again; /* the wait before `to`: at once, or after the last step of the way  */
    uint32_t step;         /* that last step                                                    */
} bpi_ahead_waits;
bpi_ahead_waits bpi_ahead_make(bpi_making *m, uint32_t from, uint32_t main, uint32_t to,
                               uint32_t next, uint32_t box);

/* joint: one job for several containers. */
typedef struct bpi_row {
    const bpi_step *s;
    uint32_t n;           /* containers in the row                                             */
    const uint32_t *box;  /* by place in it                                                    */
    const uint32_t *slot; /* their places in the row that the show asks for; ascending. Where
                             some are done apart the others keep to the batches they were in   */
    uint32_t *job;
} bpi_row;
/* A job for each container of the row for the step of `like`, and who does it for whom; the numbers
 * go to row.job, row.s need not be set. `help`: room for as many numbers, of who helps with them. */
void bpi_joint_make(bpi_making *m, bpi_job like, bpi_row row, uint32_t *help);
/* The same of an unattended step: for each container what puts it on, the step (row.job), and what
 * takes it off, where it does not stay (last: NULL). */
typedef struct bpi_ends {
    uint32_t *first, *last;
} bpi_ends;
void bpi_joint_unattended(bpi_making *m, bpi_job like, bpi_row row, bpi_ends ends);
/* The option of `job` to be part of the job `lead`; BPI_NO_INDEX: none. */
uint32_t bpi_joint_option(const bpi_making *m, uint32_t job, uint32_t lead);
/* The last job, a wait, is part of the wait `lead` where the jobs before and after it take these
 * options. */
void bpi_joint_wait(bpi_making *m, uint32_t wait, uint32_t lead, uint32_t from, uint32_t out,
                    uint32_t to, uint32_t in);
/* Minutes of a job for these containers. */
int32_t bpi_joint_minutes(const bpi_making *m, const bpi_step *s, const uint32_t *box, uint32_t n);

/* help: a second pair of hands at a hands-on step. */
/* For the job `at`, of so many minutes, of one container. */
void bpi_help_make(bpi_making *m, uint32_t at, int32_t length);
/* Minutes of help with a job that takes so many. */
int32_t bpi_help_minutes(const bpi_step *s, int32_t length);
/* Options of the last job, which is `help`: a cook each, and nobody where the fact is let go. */
void bpi_help_options(bpi_making *m, uint32_t help, int32_t least, int32_t most);
/* It starts with the job that it helps with, and where it is for all of that also ends with it. */
void bpi_help_meet(bpi_making *m, uint32_t help);

/* onset: measuring, carrying, standing on set, reset, stand-by. */
void bpi_onset_carry(bpi_making *m, uint32_t box);
/* The carried container stands on set, at most `hold_set` seconds. */
void bpi_onset_set(bpi_making *m, uint32_t box, int64_t hold_set, uint32_t fact);
void bpi_onset_measured(bpi_making *m, uint32_t box); /* the whole way of a raw container */
/* What goes in on air stands beside the container, which is carried: measured, and carried with it. */
void bpi_onset_beside(bpi_making *m, uint32_t box);
/* Longer than that it may not stand either, once what limits it more is loosened. */
void bpi_onset_set_too(bpi_making *m, uint32_t box, int64_t hold_set, uint32_t fact);
/* Counter and set are one room: after `wait`, if it is there, the container stands at most `hold`
 * seconds in both together. */
void bpi_onset_room(bpi_making *m, uint32_t box, uint32_t wait, int64_t hold, uint32_t fact);
void bpi_onset_make(bpi_making *m); /* what an appearance needs itself   */

/* heat: the change table of each oven, and switching it on. */
bool bpi_heat_takes(const bpi_step *s, uint32_t oven); /* may it be baked there? */
void bpi_heat_states(bpi_making *m);
int32_t bpi_heat_state(const bpi_making *m, uint32_t oven, int32_t temp_mC);
/* Job `hands` puts into, or takes out of, the oven that job `bake` is in. */
void bpi_heat_door(bpi_making *m, uint32_t hands, uint32_t bake);
void bpi_heat_make(bpi_making *m);

/* warm: switching on the hot places that are heated. */
void bpi_warm_days(bpi_making *m);
void bpi_warm_make(bpi_making *m);

/* goal: the terms of the objective. */
void bpi_goal_make(bpi_making *m);

#endif

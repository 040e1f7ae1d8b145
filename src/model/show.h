/* src/model/show.h - a show as read: the kitchen, its people, the segments, the recipes.
 *
 * Owns     the meaning of every member of a show file; nothing here is computed from another part,
 *          except that names are resolved to indices and clock times to plan times.
 * May use  base/.
 * Units    durations are whole seconds; moments are plan time (base/clock.h: elapsed seconds since
 *          local midnight of the show day; below zero is the day before). Temperatures are
 *          thousandths of a degree Celsius. Texts end in NUL, are valid UTF-8, are never NULL (""
 *          where absent) and live in the arena of the show.
 * Marks    each `where` is the place in the file to point at when that fact is in the way.
 */
#ifndef BP_MODEL_SHOW_H
#define BP_MODEL_SHOW_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/clock.h"
#include "base/error.h"
#include "base/text.h"
#include "model/allergen.h"
#include "model/limitset.h"
#include "model/nutrient.h"
#include "model/quantity.h"
#include "model/weight.h"

#define BPI_NO_INDEX UINT32_MAX
#define BPI_NO_TIME  INT64_MIN
#define BPI_NO_TEMP  INT32_MIN
#define BPI_NO_LIMIT INT64_MAX

/* A length of time. In the file "8 min" (all three equal), "15-18 min" (a window: the planner may
 * choose any length in it; likely = least), {"low", "likely", "high"} (uncertain: plan on likely);
 * for beats "20-40 s" (likely: the middle, rounded down). */
typedef struct bpi_length {
    int64_t least, likely, most; /* seconds, 0 <= least <= likely <= most */
    bool window, uncertain;
    bpi_where where;
} bpi_length;

/* ---- the kitchen ------------------------------------------------------------------------- */

typedef struct bpi_break {
    int64_t from, to;
    bpi_where where;
} bpi_break;

/* One stretch in which a cook can be at work: "call" (earliest) to "wrap" (latest). */
typedef struct bpi_shift {
    int64_t call, wrap;
    bpi_where call_where, wrap_where;
} bpi_shift;

typedef struct bpi_cook {
    const char *id, *name;
    bool presenter; /* a presenter who cooks until make-up: that is their wrap */
    const bpi_shift *shift;
    uint32_t shifts; /* at least 1, in time order, apart */
    const bpi_break *rest;
    uint32_t rests;
    const uint32_t *skill; /* indices into show.skill */
    uint32_t skills;
    bpi_where where;
} bpi_cook;

typedef struct bpi_oven {
    const char *id, *name;
    uint32_t positions;  /* loads it takes at once, at least 1               */
    int32_t heat_mC_min; /* thousandths of a degree a minute, above 0        */
    int32_t cool_mC_min; /* the same on the way down                         */
    int32_t cold_mC;     /* temperature it starts from                       */
    int64_t idle;        /* how long it may stand hot and empty: longer, and it is switched off
                            and heated anew; default 1 h (common practice, no source) */
    bpi_where where, positions_where, idle_where;
} bpi_oven;

/* Something used and given back: a mixer, a blender, a kind of pot. */
typedef struct bpi_tool {
    const char *id, *name;
    uint32_t count;
    bool vessel;      /* from "vessels": a pot, pan, tray, bowl  */
    const char *size; /* of a vessel, as written, such as "6 qt" */
    int64_t wash;     /* of a vessel: hands-on time to wash one before it is used again, and it is
                         then followed, from its first use until it is emptied; 0: it is not */
    uint32_t wash_at; /* of a vessel: the tool it is washed in; BPI_NO_INDEX: none */
    uint32_t room;    /* of a vessel: positions that one takes in a place; 0: not stated, and a
                         container takes one, whatever it is in */
    bool provided;    /* by the house: the crew does not bring it */
    bool board;       /* food is cut on it: raw before ready-to-eat is told */
    uint32_t watts;   /* of each, in use; 0: none, or on no circuit that is told of */
    uint32_t circuit; /* it draws them from; BPI_NO_INDEX: none                     */
    bpi_where where, wash_where;
} bpi_tool;

/* What hangs on one fuse or breaker of the kitchen. */
typedef struct bpi_circuit {
    const char *id, *name;
    uint32_t amperes, volts; /* its watts are one times the other */
    bpi_where where;
} bpi_circuit;
uint32_t bpi_circuit_watts(const bpi_circuit *c);

typedef enum bpi_keep { BPI_COUNTER, BPI_HOT, BPI_COLD, BPI_KEEPS } bpi_keep;
const char *bpi_keep_name(bpi_keep k); /* "counter", "hot", "cold" */

/* A place where containers wait. A kind without a place in the file: the counter has room without
 * bound, hot and cold do not exist. */
typedef struct bpi_place {
    const char *id, *name;
    bpi_keep keep;
    uint32_t count;  /* positions: containers it takes, of vessels that say no `room` */
    int32_t temp_mC; /* as it is set; BPI_NO_TEMP: not stated, as the limits want it */
    /* A hot one is on from the start, or switched on and heated: mC a minute, from cold; 0: on */
    int32_t heat_mC_min, cold_mC;
    bpi_where where;
} bpi_place;

/* Minutes, rounded up, from switching on a place that is heated until it is hot. */
int32_t bpi_place_warms(const bpi_place *place);

typedef struct bpi_kitchen {
    const bpi_cook *cook;
    uint32_t cooks;
    uint32_t burners;
    bpi_where burners_where;
    uint32_t burner_watts;   /* of each, in use; 0: not told         */
    uint32_t burner_percent; /* of that reaches the food; 0: not told */
    uint32_t burner_circuit; /* BPI_NO_INDEX: none                   */
    const bpi_circuit *circuit;
    uint32_t circuits;
    const bpi_oven *oven;
    uint32_t ovens;
    const bpi_tool *tool;
    uint32_t tools;
    const bpi_place *place;
    uint32_t places;
    bpi_where places_where;
    int64_t carry;    /* one container from kitchen to set, by one cook; default 1 min */
    int64_t load;     /* hands-on time to put a load in an oven; default 1 min         */
    int64_t take_off; /* hands-on time to take something off or out; default 1 min     */
    bpi_where carry_where;
} bpi_kitchen;

/* ---- recipes ----------------------------------------------------------------------------- */

typedef struct bpi_ingredient {
    const char *item;        /* "red lentils"                                            */
    bpi_quantity amount;     /* for the whole recipe (size 1); kind none: "to taste"     */
    const char *amount_text; /* as written                                               */
    const char *note;        /* "rinsed"                                                 */
    const char *from;        /* where it is fetched: "dry store", "market"               */
    const char *aisle;       /* where it stands there: "baking"                          */
    const char *instead;     /* what does in its place, for people                       */
    bpi_quantity pack;       /* smallest amount that can be bought; kind none: any       */
    bpi_weight weighs;       /* what a measure of it weighs; measure of kind none: not stated */
    uint32_t allergens;      /* bit set, model/allergen.h                                */
    bool raw_animal;         /* member "raw": true - raw meat, poultry, fish, egg        */
    bpi_where where;
} bpi_ingredient;

typedef enum bpi_step_kind { BPI_ACTIVE, BPI_PASSIVE, BPI_OVEN } bpi_step_kind;

/* Bit set of hazards; each has a caution printed beside the step (safety/caution.h). */
typedef enum bpi_hazard {
    BPI_HOT_OIL = 1 << 0,
    BPI_OPEN_FLAME = 1 << 1,
    BPI_HOT_BLENDER = 1 << 2, /* hot liquid in a closed blender */
    BPI_KNIFE = 1 << 3,
    BPI_RAW_POULTRY = 1 << 4,
    BPI_RAW_MEAT = 1 << 5,
    BPI_ALCOHOL = 1 << 6, /* spirit near a burner */
    BPI_STEAM = 1 << 7,
    BPI_HOT_SUGAR = 1 << 8
} bpi_hazard;

/* Kind of food, for the least core temperature (FDA Food Code 3-401.11, 3-401.13, 3-403.11). */
typedef enum bpi_food {
    BPI_FOOD_OTHER,
    BPI_FOOD_WHOLE_MEAT, /* whole-muscle meat, fish, eggs to order   */
    BPI_FOOD_GROUND,     /* ground meat, eggs for a group            */
    BPI_FOOD_POULTRY,    /* poultry, stuffed food                    */
    BPI_FOOD_REHEATED,   /* cooked, cooled, heated again to hold hot */
    BPI_FOOD_PLANT,      /* fruit and vegetables cooked to hold hot  */
    BPI_FOOD_ROAST,      /* whole roast, by temperature and time     */
    BPI_FOOD_PACKAGED    /* from a sealed pack, heated to hold hot   */
} bpi_food;

/* What a step cools food in. */
typedef enum bpi_cool_in {
    BPI_COOL_NOT, /* it does not cool it, or does not say how */
    BPI_COOL_ROOM,
    BPI_COOL_REFRIGERATOR,
    BPI_COOL_FREEZER,
    BPI_COOL_CHILLER, /* moving cold air: a blast chiller */
    BPI_COOL_ICE_BATH
} bpi_cool_in;

/* How a step cools food: a layer `depth_um` thick from its one face to the other. */
typedef struct bpi_cool {
    bpi_cool_in in;
    int64_t depth_um;   /* micrometres, above 0                                             */
    int32_t around_mC;  /* surroundings                                                     */
    int32_t from_mC;    /* what it starts at; BPI_NO_TEMP: the core it was cooked to        */
    int32_t to_mC;      /* its time is what it takes down to here; BPI_NO_TEMP: it is stated */
    int32_t read_mC[2]; /* a reading of such a pan: from one to the other ... BPI_NO_TEMP   */
    int64_t read_s;     /* ... in so many seconds; 0: none                                  */
} bpi_cool;

/* What a step heats, if its time is worked out from that: so much of a whole recipe, and of a
 * container in proportion to its size. */
typedef struct bpi_heating {
    int64_t mass_mg;         /* 0: its time is stated                            */
    bpi_quantity amount;     /* as written                                       */
    int of;                  /* of bpi_heating_foods, model/heating.h            */
    int32_t from_mC, to_mC;  /* the first below the second                       */
    uint32_t watts, percent; /* put in, and how much of it reaches the food      */
} bpi_heating;

/* How a step thaws food (FDA Food Code 3-501.13). */
typedef enum bpi_thaw {
    BPI_THAW_NOT,
    BPI_THAW_COLD,  /* in refrigeration      */
    BPI_THAW_WATER, /* under running water   */
    BPI_THAW_COOK,  /* as part of cooking    */
    BPI_THAW_COUNTER
} bpi_thaw;

typedef struct bpi_step {
    const char *id, *text;
    bpi_step_kind kind;
    bpi_length time;     /* active: hands-on; passive, oven: unattended                */
    uint64_t after;      /* direct predecessors, a bit per step of the recipe          */
    uint64_t before_all; /* every step that must come before it                        */
    /* Done only where that step is cooked ahead of its use, kept, and made ready again: the planner
     * chooses for each container. Of one step in file order, each after the one before.
     * BPI_NO_INDEX: a step like any other. */
    uint32_t ahead;
    const bpi_ingredient *ingredient;
    uint32_t ingredients;
    bool burner;           /* on a burner for the whole step                            */
    int32_t oven_mC;       /* oven steps: temperature; BPI_NO_TEMP otherwise            */
    const char *oven_text; /* as written: "400 F"                                       */
    uint32_t oven;         /* a certain oven; BPI_NO_INDEX: any                         */
    const uint32_t *tool;  /* tools and vessels in use for the whole step               */
    uint32_t tools;
    uint32_t skill; /* index into show.skill; BPI_NO_INDEX: none                 */
    int32_t keep;   /* passive: the bpi_keep it sits in; -1: on its burner, or anywhere */
    /* How long the container keeps its quality in each kind of place after this step. Nothing
     * stated at all: BPI_NO_LIMIT on the counter, hot and cold. A kind that is not stated while
     * another is: 0, it may not wait there. */
    int64_t hold[BPI_KEEPS];
    int64_t hold_set; /* standing on the set; default: as on the counter           */
    bool hold_stated;
    bpi_where hold_where[BPI_KEEPS], hold_set_where;
    bool together; /* one job may serve several swap-outs that need this step ...           */
    /* ... and takes once + each x containers; of an unattended step that is the likely, of a window the
     * least time, and `each` is whole minutes. */
    int64_t together_once, together_each;
    uint32_t together_most; /* containers that one job takes; UINT32_MAX: all */
    bool together_split;    /* the planner may make more jobs than that asks for */
    bool together_across;   /* also for containers of several appearances; split is then set too */
    /* A second cook for the first help_time seconds of a step of kind active, or for all of it (0). */
    bool help;
    int64_t help_time;
    uint32_t help_skill; /* index into show.skill; BPI_NO_INDEX: none */
    bpi_where help_where;
    /* Of a step of kind active: percent of a cook's attention that watching it takes, 1..99 (0: it is not
     * watched, and takes all of it); work that is done beside what is watched. Not both. */
    uint32_t watch;
    bool light;
    bool shown;              /* has an "air" member: how it is shown                      */
    bpi_length air_time;     /* how long it takes to show                                 */
    int32_t air_worth;       /* how worth seeing it is, 0..100; default 10                */
    const char *air_words;   /* words to say                                              */
    const char *air_station; /* where a beat that is drafted of it happens; "": not said   */
    uint32_t hazards;        /* bpi_hazard                                                */
    int32_t core_mC;         /* target core temperature; BPI_NO_TEMP: none                */
    int64_t core_for;        /* how long that core is held; 0: not stated                     */
    bpi_food food;
    bpi_cool cool;
    bpi_heating heat; /* `time` is then that of one whole recipe, in whole minutes */
    bpi_thaw thaw;
    bool perishable; /* from here on the container needs time or temperature control */
    bpi_where where, time_where, oven_where, ahead_where;
} bpi_step;

/* An answer kept ready for what hosts ask. */
typedef enum bpi_about {
    BPI_ABOUT_SUBSTITUTION,
    BPI_ABOUT_STORAGE,
    BPI_ABOUT_COST,
    BPI_ABOUT_OTHER
} bpi_about;

typedef struct bpi_answer {
    int about; /* bpi_about */
    const char *ask, *say;
} bpi_answer;

typedef struct bpi_recipe {
    const char *id, *title;
    uint32_t serves; /* portions of the whole recipe; default 4 */
    bpi_nutrition nutrition;
    const bpi_answer *answer;
    uint32_t answers;
    const bpi_step *step; /* in file order                           */
    uint32_t steps;
    const uint32_t *order; /* the steps in a topological order, file order where free */
    uint64_t all;          /* bit set of every step but those that are `ahead`        */
    bpi_where where;
} bpi_recipe;

/* ---- on air ------------------------------------------------------------------------------ */

/* A size of a container as a fraction of the recipe, above 0. */
typedef struct bpi_ratio {
    uint32_t num, den;
} bpi_ratio;

typedef enum bpi_stage { BPI_RAW, BPI_MID, BPI_FINISHED, BPI_STAGES } bpi_stage;
const char *bpi_stage_name(bpi_stage s); /* "raw", "mid-cook", "finished" */

typedef struct bpi_dish {
    const char *id, *title;
    uint32_t recipe;
    bpi_ratio size[BPI_STAGES];  /* of a swap-out at each stage; default 1       */
    uint32_t spares[BPI_STAGES]; /* extra containers at each stage; default 0    */
    int64_t lead;                /* own dressing lead; BPI_NO_TIME: the segment's */
    bool taste;                  /* hosts and tasters eat of it; default true     */
    bpi_where where, lead_where;
} bpi_dish;

/* What a beat shows of its dish. */
typedef enum bpi_shows {
    BPI_SHOWS_NOTHING, /* no dish, or talk over whatever stands there      */
    BPI_SHOWS_STEPS,   /* the state that the first of its `does` starts from */
    BPI_SHOWS_RAW,     /* measured, nothing cooked                         */
    BPI_SHOWS_AFTER,   /* after step `after` and all before it             */
    BPI_SHOWS_FINISHED
} bpi_shows;

/* Something said of a nutrient. */
typedef enum bpi_says {
    BPI_SAYS_HIGH,
    BPI_SAYS_GOOD,
    BPI_SAYS_MORE,
    BPI_SAYS_LIGHT,
    BPI_SAYS_FREE,
    BPI_SAYS_VERY_LOW,
    BPI_SAYS_LOW,
    BPI_SAYS_REDUCED
} bpi_says;

typedef struct bpi_claim {
    int says;              /* bpi_says                                         */
    const char *said;      /* in the words that were chosen: "rich in"         */
    int of;                /* bpi_nutrient_id                                  */
    uint32_t dish;         /* index into the segment's dishes                  */
    const char *than;      /* what it is compared with; ""                     */
    bpi_nutrition than_of; /* and what is in that                              */
    bpi_where where;
} bpi_claim;

typedef struct bpi_beat {
    const char *id, *text;
    uint32_t dish; /* index into the segment's dishes; BPI_NO_INDEX: none     */
    bpi_shows shows;
    uint32_t after;       /* a step, for BPI_SHOWS_AFTER                              */
    const uint32_t *does; /* steps done or begun on air, in order                     */
    uint32_t does_n;
    bpi_length time;        /* least, likely, most on air                               */
    const char *words;      /* to be said: a floor under the time                       */
    int32_t worth;          /* what is lost when it is dropped, 0..100; default 10      */
    bool keep;              /* never dropped                                            */
    uint64_t needs;         /* beats of this segment without which it makes no sense    */
    const uint32_t *beside; /* dishes whose finished dish stands in view meanwhile   */
    uint32_t besides;
    const char *station;
    uint32_t at; /* index into the segment's stations; BPI_NO_INDEX: it has none             */
    const char *camera; /* that is on it; ""                                               */
    uint32_t camera_at; /* index into the segment's cameras; BPI_NO_INDEX: none of them     */
    const char *const *graphic; /* lines put on the screen                                  */
    uint32_t graphics;
    bool supers; /* what goes in is put on the screen: a line for each ingredient */
    const bpi_claim *claim;
    uint32_t claims;
    bool taste;           /* hosts and tasters eat here                               */
    const uint32_t *tool; /* taken up beside those of its steps: of kitchen.tool               */
    uint32_t tools;
    const uint32_t *supply; /* used here: of show.supply, each once                            */
    uint32_t supplies;
    bpi_where where;
} bpi_beat;

typedef struct bpi_tease {
    int64_t at; /* plan time of the close-up of the finished dish; it belongs to the next hit */
    int64_t length;
    uint32_t dish;
    bpi_where where;
} bpi_tease;

typedef struct bpi_hit {
    int64_t at; /* plan time */
    bpi_where where;
} bpi_hit;

/* Where something happens on the set. Stations stand in a row, in the order of the file. */
typedef struct bpi_station {
    const char *id;
    int64_t walk;  /* seconds from the station before it in the row; the first: 0     */
    int64_t place; /* seconds from the first                                          */
    uint32_t room; /* containers that can stand there at once; UINT32_MAX: not stated */
    bpi_where where;
} bpi_station;

/* A camera that is moved from station to station: a close-up on wheels. */
typedef struct bpi_camera {
    const char *id;
    int64_t move; /* seconds from one station to any other; 0: it sees them all from where it is */
    bpi_where where;
} bpi_camera;

/* How the beats of a segment that names none are drafted. */
typedef struct bpi_drafting {
    bool stated;
    uint32_t swaps;   /* at most so many containers on the set; UINT32_MAX: any number */
    uint32_t burners; /* and so many burners in use there at once; the same            */
    uint32_t take;    /* which of the drafts that differ, from 1, best first           */
    bpi_where where;
} bpi_drafting;

typedef struct bpi_segment {
    const char *id, *title;
    const bpi_hit *hit;
    uint32_t hits;  /* at least 1, ascending                                          */
    int64_t slot;   /* length on air                                                  */
    int64_t lead;   /* dressing lead before the hit; default 5 min                    */
    int64_t reset;  /* hands-on time to clear the set after it; default 3 min         */
    int64_t floats; /* each hit may come so much later than its time; default 0      */
    bool rehearsal; /* off air: its stages are of its own, the hit is when it begins  */
    uint32_t hands; /* cooks who stand by on set, set-by to end of slot; default 0    */
    uint32_t pace;  /* spoken words a minute; default 150                             */
    const bpi_dish *dish;
    uint32_t dishes;
    const bpi_beat *beat;
    uint32_t beats; /* 0: draft them from the recipes */
    bpi_drafting draft;
    const bpi_station *station;
    uint32_t stations; /* 0: nobody says where they are, and nobody walks */
    const bpi_camera *camera;
    uint32_t cameras; /* 0: a beat's camera is a name alone */
    /* The order in which the set is dressed: ids of its dishes and stations; all else comes after. */
    const char *const *dress;
    uint32_t dresses; /* 0: in any order */
    const bpi_tease *tease;
    uint32_t teases;
    const char *const *host;
    uint32_t hosts;
    const char *const *taster;
    uint32_t tasters;
    const uint32_t *host_allergies, *taster_allergies; /* of each, bit sets, model/allergen.h */
    const bpi_answer *answer;
    uint32_t answers;
    bpi_where where, slot_where, lead_where, reset_where, floats_where, hands_where, stations_where;
    bpi_where dress_where;
} bpi_segment;

/* "stove, then Soup, then all else": the order in which its set is dressed; nothing where there is none. */
void bpi_segment_put_dress(bpi_text *out, const bpi_segment *segment);

/* ---- at hand, and besides ------------------------------------------------------------------ */

/* What is at hand and need not be bought. */
typedef struct bpi_pantry {
    const char *item;    /* as the recipes name it */
    bpi_quantity amount; /* kind none: enough of it */
    bpi_where where;
} bpi_pantry;

typedef enum bpi_per {
    BPI_PER_SHOW,
    BPI_PER_COOK,       /* who is called             */
    BPI_PER_APPEARANCE, /* one hit of a segment      */
    BPI_PER_CONTAINER,
    BPI_PER_TASTE, /* who eats, for each container they eat from */
    BPI_PER_BEAT,  /* a beat that names it, on air              */
    BPI_PER_STRIKE /* what is taken to clear the set after an appearance */
} bpi_per;
const char *bpi_per_words(bpi_per per); /* "for the show", "a cook" */

/* No food and no tool of the kitchen: spoons, towels, gloves. */
typedef struct bpi_supply {
    const char *item, *from;
    uint32_t count;
    bpi_per per;
    bool provided; /* by the house */
    bpi_where where;
} bpi_supply;

/* ---- food safety ------------------------------------------------------------------------- */

/* A stop that somebody answers for. */
typedef struct bpi_accept {
    const char *rule; /* as the finding names it, whole or from its section on */
    const char *dish; /* id of a dish                                          */
    bpi_stage stage;  /* of its containers; BPI_STAGES: any                    */
    const char *by, *why;
    bpi_where where;
} bpi_accept;

typedef enum bpi_paper { BPI_A4, BPI_LETTER } bpi_paper;

typedef struct bp_show {
    bpi_arena *arena;
    const char *file; /* as the caller named it */
    const char *id, *title, *zone_name;
    bpi_clock clock; /* date and zone */
    bpi_kitchen kitchen;
    const char *const *skill; /* every skill that a cook has or a step asks for */
    uint32_t skills;
    const bpi_recipe *recipe;
    uint32_t recipes;
    const bpi_segment *segment;
    uint32_t segments;
    const bpi_limits *limits; /* that the food is held to */
    bpi_law law;
    const bpi_accept *accept;
    uint32_t accepts;
    const bpi_pantry *pantry;
    uint32_t pantries;
    const bpi_supply *supply;
    uint32_t supplies;
    int64_t alarm;   /* before a step starts; default 5 min */
    bpi_paper paper; /* default A4                          */
    char stamp[16];  /* version of the plan: digest of the show file and the recipe files it read */
} bpi_show;

#endif

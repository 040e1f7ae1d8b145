/* backpot/plan.h - the whole plan of a show: what every output is made from.
 *
 * One structure stands behind every sheet, label, calendar and picture. It is plain data, to be read
 * only; all of it, texts too, lives until bp_plan_free and does not need the show any more.
 *
 * Units   durations are whole seconds. Moments are plan time: elapsed whole seconds since local
 *         midnight of the show day, below zero on the day before; bp_plan_clock puts them on a wall
 *         clock. Prep operations start on whole minutes.
 * Texts   valid UTF-8 ending in NUL, never NULL, "" where there is nothing to say. They may hold any
 *         character of the show file but control characters.
 * Order   every list is in the order in which people read it; equal input gives equal order.
 */
#ifndef BP_PLAN_H
#define BP_PLAN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "backpot/error.h"
#include "backpot/show.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BP_PLAN_FORMAT 1          /* version of this structure as written to plan.json */
#define BP_NO_INDEX    UINT32_MAX /* no such thing */
#define BP_NO_TIME     INT64_MIN  /* no such moment */
#define BP_NO_TEMP     INT32_MIN  /* no temperature */

/* A list inside the plan: `n` members from `first` of the array that the comment names. */
typedef struct bp_slice {
    uint32_t first, n;
} bp_slice;

/* ---- who and what ------------------------------------------------------------------------ */

typedef struct bp_person {
    const char *id, *name;
    bool presenter;
    bp_slice stints; /* of plan.stint: when this cook is at work; none: not needed */
} bp_person;

/* One stretch of work of one cook. */
typedef struct bp_stint {
    uint32_t person;
    int64_t call;           /* when they start: their first operation                   */
    int64_t release;        /* when they may go                                         */
    int64_t earliest, wrap; /* what the show file allows                                */
} bp_stint;

/* A break of one cook inside a stint. */
typedef struct bp_rest {
    uint32_t person;
    int64_t from, to;
} bp_rest;

/* What a container or an operation can occupy: one lane of the timeline each. */
typedef enum bp_thing_kind {
    BP_BURNER, /* all burners are one thing with a count */
    BP_OVEN,
    BP_TOOL,
    BP_VESSEL,
    BP_PLACE_COUNTER,
    BP_PLACE_HOT,
    BP_PLACE_COLD,
    BP_SET /* the set of a segment; not limited */
} bp_thing_kind;

typedef struct bp_thing {
    bp_thing_kind kind;
    const char *id, *name, *size; /* size of a vessel */
    uint32_t count;               /* how many, or how many loads; 0: not limited */
} bp_thing;

/* ---- on air ------------------------------------------------------------------------------ */

/* Something put on the screen while a beat is on air. */
typedef enum bp_line_kind {
    BP_LINE_GRAPHIC, /* as written                                        */
    BP_LINE_SUPER    /* an ingredient that goes in: "1 1/2 cups red lentils" */
} bp_line_kind;

typedef struct bp_line {
    bp_line_kind kind;
    const char *text;
    int64_t up; /* seconds it stays up, to be read twice */
} bp_line;

/* Does a claim hold? */
typedef enum bp_truth { BP_NO, BP_YES, BP_UNSURE } bp_truth;
const char *bp_truth_name(bp_truth truth); /* "no", "yes", "not enough data" */

/* Something said on air of a nutrient, against the published threshold for it. */
typedef struct bp_claim {
    uint32_t beat;      /* of plan.beat: where it is said                             */
    const char *dish;   /* title of the dish                                          */
    const char *text;   /* "good source of fiber"                                     */
    const char *figure; /* "fiber 7 g a serving, 25 % of the daily value"; "" unknown */
    bp_truth holds;
    const char *why;  /* "at least 10 % and at most 19 % of the daily value in 245 g" */
    const char *rule; /* "21 CFR 101.54(c)(1)"; "": no threshold is published       */
} bp_claim;

/* An answer kept ready for what hosts ask. */
typedef struct bp_reply {
    uint32_t air;      /* of plan.air                                       */
    const char *dish;  /* title; "": of the whole appearance                */
    const char *about; /* "substitution", "storage", "cost", "other"        */
    const char *ask, *say;
    int64_t spoken; /* how long it takes to say                          */
} bp_reply;

typedef struct bp_beat {
    const char *id, *text, *words, *station;
    uint32_t dish;               /* of plan.dish; BP_NO_INDEX: none                       */
    int64_t from, length;        /* plan time; whole seconds                              */
    int64_t time_in, time_left;  /* into the slot at its start; left of the slot at its end */
    int64_t least, likely, most; /* what the show file allows (least: words counted in)    */
    int64_t spoken;              /* how long its words take to say; 0: none                */
    bool words_floor;            /* the spoken words set the least                         */
    bool dropped;                /* left out to fit; from and length are 0 then            */
    bool taste;
    bool keep;           /* must stay, however short the slot                       */
    bool ready;          /* all it works with is cooked: if dropped, it can come back */
    int32_t worth;       /* what is lost when it is dropped, 0..100                 */
    uint64_t needs;      /* beats of the appearance, a bit each from its first: without them it
                         makes no sense, or its container is not in the state it needs */
    bp_slice in, out;    /* of plan.index: containers that come on, and go off      */
    bp_slice on;         /* of plan.index: containers this beat works with or shows */
    bp_slice lines;      /* of plan.line: what is put on the screen, in order     */
    const char *caution; /* usual cautions of what is done on air, one a line; ""   */
    uint32_t post;       /* its station's number in the row, from 1; 0: none stated */
    uint32_t room;       /* containers that can stand there at once; 0: not stated  */
    int64_t place;       /* its station: seconds along the row from the first; 0: none stated */
    int64_t walk;        /* seconds at its start, of its length, to come from the beat before;
                            least, likely and most are without it                       */
    const char *crosses; /* hot containers that are passed on the way, or come along: "past the
                            stove, where B3 is hot"; ""                                 */
    const char *camera;  /* that is on it; ""                                           */
    int64_t camera_move; /* seconds that this camera takes from one station to another   */
    int64_t camera_late; /* seconds for which it is still on its way when it is wanted; 0: it has
                            the time that it takes                                      */
} bp_beat;

typedef struct bp_tease {
    int64_t at, length;
    uint32_t dish;
    uint32_t container; /* the hero that must stand there */
} bp_tease;

/* One appearance: a segment at one of its hit times. */
typedef struct bp_air {
    const char *id, *title;      /* id: the segment's; with more than one hit "id/2" and so on */
    uint32_t hit_no, hits;       /* 1-based                                               */
    int64_t hit, slot;           /* moment; length                                        */
    int64_t set_by;              /* hit less the dressing lead                            */
    int64_t floats;              /* the hit may come so much later: all keeps until then  */
    const char *dress;           /* the order its set is dressed in: "stove, then Soup"; "" */
    bool drafted;                /* the beats were proposed, not written in the show file */
    bp_slice beats;              /* of plan.beat, on air order; dropped ones in their place */
    bp_slice teases;             /* of plan.tease                                         */
    const char *hosts, *tasters; /* "Ana, Ben" */
    uint32_t portions, pace;     /* to taste: who eats and one, 0: none; spoken words a minute */
    bp_slice versions;           /* of plan.version: what it is at other lengths          */
    const char *longest_why;     /* what keeps the longest of them from being longer; ""  */
    int64_t hit_from, hit_to; /* so far it can move, all but its lead as planned; BP_NO_TIME: any */
    uint32_t hit_from_box, hit_to_box;     /* of plan.container: breaks first; BP_NO_INDEX: none */
    const char *hit_from_why, *hit_to_why; /* "A3 is past its best"; ""                  */
    bool rehearsal;                        /* off air; the title says so too             */
} bp_air;

/* What an appearance becomes at other lengths of its slot: one choice of beats and the stretch of
 * lengths it holds for, worked out at every second. Lengths between two stretches are those that no
 * choice of beats fills exactly. bp_slot_refit gives the beats at any length. */
typedef struct bp_version {
    int64_t least, most; /* lengths of the slot, both counted in              */
    uint64_t kept;       /* beats of the appearance, a bit each from its first */
    bp_slice unused;     /* of plan.index: containers that then no beat works with or shows */
    bp_slice at_least, at_most; /* of plan.index: seconds of each beat at those lengths; 0: out */
} bp_version;

/* ---- swap-outs --------------------------------------------------------------------------- */

typedef enum bp_stage { BP_RAW, BP_MID, BP_FINISHED } bp_stage;

typedef enum bp_role {
    BP_ROLE_AIR,    /* worked with on camera                           */
    BP_ROLE_BEAUTY, /* the finished dish that is shown, never eaten first */
    BP_ROLE_TEASE,  /* a hero of its own for a tease                   */
    BP_ROLE_TASTE,  /* finished, cooked through, for hosts and tasters */
    BP_ROLE_SPARE
} bp_role;

typedef struct bp_dish {
    const char *id, *title;
    const char *letter; /* first part of the codes of its containers: "A"            */
    const char *recipe; /* title of the recipe                                       */
    uint32_t serves;
} bp_dish;

typedef struct bp_container {
    const char *code; /* unique in the plan: "A2"; the same on every paper       */
    uint32_t dish, air;
    bp_stage stage;
    bp_role role;
    const char *state;     /* in words: "measured", "after: simmer", "finished"      */
    const char *why;       /* why it exists: "the simmer takes 15 min, beat 3 gives it 40 s" */
    const char *station;   /* where it stands on set; ""                             */
    const char *size;      /* of the recipe: "1", "1/2"                              */
    const char *allergens; /* "milk, wheat"; "none named"                            */
    uint32_t size_num, size_den;
    uint32_t portions; /* eaten from it; 0: none                                 */
    uint32_t beat;     /* of plan.beat: first one that needs it; BP_NO_INDEX     */
    int64_t set_by;    /* must stand on the set                                  */
    int64_t on_set;    /* planned to stand there                                 */
    int64_t needed;    /* first moment on camera                                 */
    int64_t last;      /* last moment it is needed on camera                     */
    int64_t best_by;   /* its quality ends on set; BP_NO_TIME: no limit stated   */
    int64_t use_by;    /* safe to eat until; BP_NO_TIME: not perishable           */
    int64_t late;      /* seconds past set_by; above 0 only in a late plan        */
    int64_t hit_from;  /* cooked and carried as planned, it bears a hit from here ... */
    int64_t hit_to;    /* ... to here; BP_NO_TIME: no limit, or a hero of a tease  */
    int64_t remake;    /* from the start of its first operation until it is on set */
    uint64_t steps;    /* bit per step of the recipe: cooked ahead                */
    bool comes_hot;    /* it was on a burner or in an oven, and not cooled since  */
    uint64_t hot; /* beats of its appearance, a bit each from the first, after which it is so */
} bp_container;

/* ---- prep -------------------------------------------------------------------------------- */

typedef enum bp_op_kind {
    BP_OP_ACTIVE,   /* hands-on step                                    */
    BP_OP_PASSIVE,  /* unattended                                       */
    BP_OP_OVEN,     /* unattended, in an oven                           */
    BP_OP_LOAD,     /* hands-on: into the oven, or started              */
    BP_OP_TAKE_OFF, /* hands-on: off the burner, out of the oven        */
    BP_OP_MEASURE,  /* hands-on: measure the raw ingredients, or what goes in on air */
    BP_OP_WAIT,     /* a container holds in a place                     */
    BP_OP_CARRY,    /* hands-on: to the set                             */
    BP_OP_SET,      /* stands on the set until it is needed             */
    BP_OP_PREHEAT,  /* hands-on: switch an oven on or change it         */
    BP_OP_RESET,    /* hands-on: clear the set between segments         */
    BP_OP_STAND_BY, /* hands-on: on the set during a slot               */
    BP_OP_WASH,     /* hands-on: wash vessels that are used again       */
    BP_OP_HELP,     /* hands-on: a second pair of hands at an ACTIVE    */
    BP_OP_WARM_UP,  /* hands-on: switch a place on that keeps hot       */
    BP_OP_DIRTY     /* in no plan: a vessel stands until it is washed   */
} bp_op_kind;

/* "active", "passive", ... as in plan.json; never NULL. */
const char *bp_op_kind_name(bp_op_kind kind);
const char *bp_stage_name(bp_stage stage); /* "raw", "mid-cook", "finished" */
const char *bp_role_name(bp_role role);    /* "air", "beauty", "tease", "tasting", "spare" */

typedef struct bp_op {
    bp_op_kind kind;
    const char *key;     /* stable name, from ids only: "main/soup/A2/simmer"; unique */
    const char *text;    /* for a cook: "Simmer the lentils"                          */
    const char *detail;  /* quantities, one a line: "1 1/2 cups red lentils, rinsed"  */
    const char *caution; /* usual cautions, one a line                              */
    uint32_t person;     /* of plan.person; BP_NO_INDEX: nobody                       */
    bp_slice serves;     /* of plan.index: containers it is for                       */
    bp_slice uses;  /* of plan.index: things it occupies; LOAD and TAKE_OFF name the oven they are
                            at, and take no position of it; a place stands there for each position */
    uint32_t dish;  /* BP_NO_INDEX: none                                         */
    uint32_t air;   /* the appearance it is for; BP_NO_INDEX: none               */
    uint32_t watch; /* ACTIVE: percent of the cook's attention, 1..99; 0: all of it, or           */
    bool light;     /* what is left beside that which the cook watches                            */
    int64_t from, to;
    int64_t off_least, off_most; /* doneness window: take it off between; BP_NO_TIME */
    int64_t latest_from;      /* it may start so late and all still holds, the rest left as it is */
    int64_t hold_until;       /* WAIT, SET: quality ends; BP_NO_TIME: no limit             */
    int32_t oven_mC, core_mC; /* BP_NO_TEMP: none                                    */
    const char *oven_text, *core_text; /* as written: "400 F"                        */
} bp_op;

/* What hangs on one fuse or breaker of the kitchen. The plan draws no more from it at once than it
 * carries; whether it may be loaded so is for the electrician and the local code to say. */
typedef struct bp_circuit {
    const char *id, *name;
    uint32_t amperes, volts, watts; /* watts: one times the other             */
    uint32_t most;                  /* watts drawn at once, at most           */
    int64_t most_at;                /* from when first; BP_NO_TIME: never any */
} bp_circuit;

/* What an operation draws from a circuit, all of its length. */
typedef struct bp_draw {
    uint32_t op, circuit, watts; /* of plan.op, of plan.circuit */
} bp_draw;

/* ---- what to fetch, what to heed --------------------------------------------------------- */

typedef enum bp_good_kind {
    BP_GOOD_FOOD,
    BP_GOOD_VESSEL,
    BP_GOOD_TOOL,
    BP_GOOD_SUPPLY /* spoons, towels */
} bp_good_kind;

/* "food", "vessel", "tool", "supply", as in plan.json; never NULL. */
const char *bp_good_kind_name(bp_good_kind kind);

typedef struct bp_good {
    bp_good_kind kind;
    const char *item, *note, *from; /* from: where it is fetched                     */
    const char *need;               /* what the plan uses: "2 1/4 cups"                          */
    const char *buy;                /* rounded up to what can be bought: "2 x 400 g can"; "nothing":
                                       all of it is at hand; "": as needed                        */
    const char *codes;              /* the containers it goes into: "A1 A2 B1"                   */
    const char *allergens;
    const char *aisle;   /* where it stands in the place it is fetched from; ""              */
    const char *have;    /* what is at hand of it: "500 ml", "at hand"; ""                   */
    const char *instead; /* what does in its place; ""                                       */
    bool provided;       /* a vessel, tool or supply: by the house, nobody brings it         */
} bp_good;

/* What stands on the set besides the containers and what is measured with them: a tool or vessel that
 * a beat takes up, and supplies. In order of appearance, container, beat; those without a container
 * last. */
typedef struct bp_stand {
    bp_good_kind kind; /* never food                                                 */
    const char *item;  /* "whisk", "tasting spoon"                                   */
    const char *note;  /* of a vessel its size; of a supply "1 a person and dish"; ""  */
    uint32_t count;
    uint32_t air;
    uint32_t container;  /* it is used with; BP_NO_INDEX: with none in particular      */
    uint32_t beat;       /* of plan.beat: the first that takes it up; BP_NO_INDEX: none */
    const char *station; /* where it stands; "": not said                             */
} bp_stand;

/* For what something is packed. */
typedef enum bp_pack_for {
    BP_PACK_KITCHEN, /* what is used before the hit, and stays there */
    BP_PACK_SET,     /* what stands on the set of an appearance      */
    BP_PACK_TASTING, /* what those who eat there need                */
    BP_PACK_STRIKE   /* what its set is cleared with                 */
} bp_pack_for;

/* "kitchen", "set", "tasting", "strike", as in plan.json; never NULL. */
const char *bp_pack_for_name(bp_pack_for use);

/* What is packed, by what it is first used for: kitchen, then each appearance, its set, its tasting.
 * One thing that is used again later is packed once. Food is not among it. */
typedef struct bp_pack {
    bp_pack_for use;
    uint32_t air; /* BP_NO_INDEX: of the kitchen */
    bp_good_kind kind;
    const char *item, *note;
    uint32_t count;    /* packed for this; 0: all of it was in use before               */
    uint32_t in_use;   /* here, at once, at most: what it takes beyond `count` is packed before or
                          after                                                         */
    bool provided;     /* by the house; else the crew brings it */
    const char *codes; /* the containers it is for              */
} bp_pack;

/* A stop breaks a limit, by what the show file says; a caution cannot be told from it; a note is within
 * the limits and says what to look at. */
typedef enum bp_weight { BP_NOTE, BP_CAUTION, BP_STOP } bp_weight;

typedef struct bp_finding {
    bp_weight weight;
    uint32_t container;   /* BP_NO_INDEX: the whole plan              */
    int64_t at;           /* BP_NO_TIME: no certain moment            */
    const char *rule;     /* "FDA Food Code 3-501.19(B)"; ""          */
    const char *text;     /* what, and what would cure it             */
    const char *accepted; /* a stop that the show file accepts: by whom, and why; "" */
} bp_finding;

/* A temperature to be read on the day, and written down by hand. */
typedef struct bp_reading {
    bp_slice containers; /* of plan.index; none: what is fetched              */
    int64_t at;          /* when it is due; BP_NO_TIME: when it is received   */
    const char *text;    /* what must be reached: "Simmer: core at least 74 °C (165 °F)" */
    const char *rule;    /* "" where none is published                        */
} bp_reading;

/* ---- when no plan exists ----------------------------------------------------------------- */

/* One of the facts that cannot hold together, in the show file's own words. */
typedef struct bp_fact {
    const char *text;    /* "Ines can be called from 06:30"          */
    const char *pointer; /* JSON Pointer                             */
    const char *file;
    uint32_t line, col;
} bp_fact;

/* A change that was solved again and found to help. */
typedef struct bp_fix {
    const char *text;    /* "call Ines at 06:05"                     */
    const char *pointer; /* member of the show file that would change */
    bool whole; /* with it alone the whole show has a plan; else only its beats fit, and no plan
                   of the kitchen was found within the search effort                        */
} bp_fix;

/* ---- how likely it holds ----------------------------------------------------------------- */

/* The day is played many times by backpot/risk.h. Each step with low, likely and high times takes
 * another length each day; every other takes what is planned, of a doneness window the least. Nobody
 * starts before the planned start, and everybody keeps to the planned order: a cook, burner, oven,
 * tool and place goes from one operation to the next as planned, whatever was late. Breaks give way.
 */

/* How one container fares. Moments are days' ends put in order: half of the days were not later. */
typedef struct bp_odds {
    uint32_t on_time;          /* days on which it stood on the set by its set-by    */
    int64_t half, nine_tenths; /* on set by then on so many days, up to half a minute */
    const uint32_t *bin;       /* BP_CHANCE_BINS counts of lateness, as in bp_chance  */
} bp_odds;

/* A step that makes the show late. */
typedef struct bp_driver {
    uint32_t op;       /* of plan.op                                                           */
    uint32_t late;     /* days on which something was late, this step ran over its plan, and what
                          was late waited for it, through however many others                  */
    uint32_t critical; /* days on which the tightest container waited for it, run over or not  */
} bp_driver;

/* What an earlier call of the whole crew buys: every start is so much earlier, but for what hangs on
 * the slots (stand by, clear the set). */
typedef struct bp_early {
    int64_t by;       /* seconds                                                   */
    uint32_t on_time; /* days on which everything was on set in time               */
    uint32_t stale;   /* containers that would stand past their best               */
    uint32_t person;  /* of plan.person: who could not be called so early; BP_NO_INDEX */
} bp_early;

/* Time that a plan allows a step beyond its likely time. */
typedef struct bp_buffer {
    const char *recipe, *step; /* ids                                          */
    const char *text;          /* of the step                                  */
    int64_t seconds;           /* longer than likely; of a job for several, in proportion */
} bp_buffer;

#define BP_CHANCE_BINS 512 /* number k counts days with lateness in ((k - 257), (k - 256)] x bin */

typedef struct bp_chance {
    uint32_t days;
    uint64_t seed;
    uint32_t share; /* thousandths: how alike the luck of two steps of one cook or one oven is */
    uint32_t uncertain;  /* operations with low, likely and high times                          */
    uint32_t on_time;    /* days on which every container stood on the set by its set-by        */
    int64_t width;       /* of a bin, seconds                                                   */
    const uint32_t *bin; /* of the greatest lateness over all containers                   */
    const bp_odds *odds; /* per plan.container                                             */
    const bp_driver *driver; /* worst first; only those that made something late               */
    uint32_t drivers;
    const bp_early *early; /* by 0, 5, 10, 15, 20, 30 min                                      */
    uint32_t earlies;
    uint32_t asked;          /* chance asked for, in hundredths; 0: none                       */
    uint32_t without;        /* days on time of the plan without buffers; on_time where none    */
    const bp_buffer *buffer; /* by recipe and step of the show                                 */
    uint32_t buffers;
} bp_chance;

/* ---- the plan ---------------------------------------------------------------------------- */

typedef enum bp_verdict {
    BP_PLANNED, /* everything holds                                            */
    BP_LATE,    /* no plan exists; this is the least-late one, marked as such   */
    BP_NONE     /* no plan exists, not even a late one                         */
} bp_verdict;

/* One objective, in order of rank. */
typedef struct bp_goal {
    const char *name;     /* "late", "crew time", "waiting", "hand-overs" */
    const char *unit;     /* "min", "weighted min", "times"               */
    int64_t value, bound; /* reached; proved that it cannot be less        */
    bool proved;          /* value is the least possible, given the goals before */
} bp_goal;

typedef struct bp_plan {
    int format;
    bp_verdict verdict;
    const char *show_id, *title, *file;
    const char *zone;     /* IANA name */
    int year, month, day; /* the show day */
    int64_t midnight;     /* its local midnight, UTC seconds since 1970 */
    const char *stamp;    /* version: equal for equal input */
    bool mended;          /* something went wrong: see backpot/mend.h */
    int64_t mended_at;    /* where mended: what began before it is as it was, on whole minutes */
    uint32_t mishaps;     /* taken in: those of the log of the day, and those to be entered there */
    bool letter;          /* paper: US Letter instead of A4 */
    int64_t alarm;        /* before an operation starts */
    const char *defer;    /* the words that defer to local code and licensed practice */
    bool proved;          /* every goal is */
    uint64_t work;        /* counted search effort */

    const bp_person *person;
    uint32_t persons;
    const bp_stint *stint;
    uint32_t stints;
    const bp_rest *rest; /* by person, then start */
    uint32_t rests;
    const bp_thing *thing;
    uint32_t things;
    const bp_air *air; /* by hit time */
    uint32_t airs;
    const bp_beat *beat;
    uint32_t beats;
    const bp_version *version; /* by appearance, longest first */
    uint32_t versions;
    const bp_tease *tease;
    uint32_t teases;
    const bp_line *line; /* by beat */
    uint32_t lines;
    const bp_claim *claim; /* by beat */
    uint32_t claims;
    const bp_reply *reply; /* by appearance; of its dishes first */
    uint32_t replies;
    const bp_dish *dish;
    uint32_t dishes;
    const bp_container *container;
    uint32_t containers;
    const bp_op *op; /* by start, then person, then key */
    uint32_t ops;
    const bp_circuit *circuit; /* as in the show file */
    uint32_t circuits;
    const bp_draw *draw; /* by op, then circuit */
    uint32_t draws;
    const bp_good *good;
    uint32_t goods;
    const bp_stand *stand;
    uint32_t stands;
    const bp_pack *pack;
    uint32_t packs;
    const char *limits;        /* title of the published limits that the food was held to */
    bool stopped;              /* a stop that nobody accepts forbids this plan            */
    const bp_finding *finding; /* heaviest first */
    uint32_t findings;
    const bp_reading *reading; /* by moment; those without one first */
    uint32_t readings;
    const bp_fact *fact;
    uint32_t facts;
    bool facts_minimal; /* each of them was proved needed for the conflict */
    bool unsure; /* no plan was found and none excluded: with the facts loosened one was found */
    const bp_fix *fix;
    uint32_t fixes;
    bool fixes_cut;   /* some changes that may help were given up within the search effort      */
    bool late_unsure; /* with BP_NONE: a late plan was not found, but was not excluded either   */
    const bp_goal *goal;
    uint32_t goals;
    const bp_chance *chance; /* NULL: no plan, a late one, or no step has low, likely and high  */
    const uint32_t *index;   /* what the slices of indices refer to */
    uint32_t indexes;
    void *own; /* storage; not for the caller */
} bp_plan;

#define BP_PLAN_DAYS 20000 /* a chance is then off by 0.7 in a hundred, at most, 19 times of 20 */

/* An all-zero value means the defaults. */
typedef struct bp_plan_options {
    uint64_t work;    /* most counted search effort; 0: the default                 */
    uint32_t seconds; /* go on searching so long; 0: effort alone decides           */
    bool no_fixes;    /* when there is no plan, do not look for changes that help   */
    uint32_t days;    /* days to play for the chance; 0: BP_PLAN_DAYS; at most 10000000 */
    uint64_t seed;    /* of their luck                                              */
    uint32_t chance;  /* 1..99: hold on so many days of a hundred; 0: as it comes    */
    /* At most, while the call lasts; 0, 1: this one alone; above 64: 64. The plan is the same, to the
     * byte. The others let no signal in; each takes as much memory again as a search. */
    uint32_t threads;
    /* Told now and then: the goal that is made less now, its number in bp_plan.goal (UINT32_MAX: no
     * plan was found yet), by this thread alone. Return false to go on with the best plan so far. */
    bool (*tell)(void *ctx, uint32_t goal, int64_t value, int64_t bound, uint64_t work);
    void *ctx;
} bp_plan_options;

/* Work out the whole plan.
 *
 * Owner   *out is new, release it with bp_plan_free. It is set, too, with BP_ENOFIT, and with
 *         BP_EUNSURE where `unsure` is set: then its verdict says whether it holds a late plan, and
 *         facts and fixes say why; and with BP_EUNSAFE: then its findings say what forbids it, and
 *         nobody should cook by it. NULL with any other failure.
 * Errors  BP_EUNSAFE (one for each stop that the show file does not accept; a late plan may have
 *         them too), BP_ENOFIT (no plan exists), BP_EUNSURE (none found and none excluded), BP_EINTERNAL (the
 *         independent checker objects: nothing is handed out), BP_ELIMIT, BP_ENOMEM.
 */
bp_code bp_plan_make(bp_plan **out, const bp_show *show, const bp_plan_options *options,
                     bp_errors *errs);
void bp_plan_free(bp_plan *plan); /* NULL does nothing */

/* Test a plan against its show by code that shares nothing with the planner: every lag, hold,
 * window, capacity, calendar, temperature and set-by. A late plan is held to all but what it says is late.
 * Errors  BP_EINTERNAL for each thing that does not hold, with the operation and the fact named.
 */
bp_code bp_plan_verify(const bp_plan *plan, const bp_show *show, bp_errors *errs);

/* Wall clock of a moment: "05:42", "05:42:30" where seconds count, with the day in front where it is
 * not the show day: "Wed 16:00". Returns `out`. */
#define BP_CLOCK_ROOM 32
char *bp_plan_clock(char out[BP_CLOCK_ROOM], const bp_plan *plan, int64_t t);

/* A length for people: "40 s", "4 min", "1 h 10 min", "2 min 30 s". Returns `out`. */
char *bp_length_text(char out[BP_CLOCK_ROOM], int64_t seconds);

#ifdef __cplusplus
}
#endif
#endif

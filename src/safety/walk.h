/* src/safety/walk.h - what is known of a container while its stretches are walked.
 *
 * Owns     the findings and probes as they grow, in the caller's arena.
 * May use  safety/path, safety/limits, base/.
 * Parts    path (the walk; time out of control, cold and hot keeping, thawing), cooking (cores,
 *          reheating, what is eaten), cooling (the two limits, by model/thermal).
 */
#ifndef BP_SAFETY_WALK_H
#define BP_SAFETY_WALK_H

#include "base/text.h"
#include "safety/limits.h"
#include "safety/path.h"

/* Food on its way down, by the model. */
typedef struct bpi_cooling {
    bool on;            /* it is being cooled, and how is known               */
    bool unheated;      /* it never was hot: 3-501.14(B)                      */
    int64_t depth_um;   /* of the layer                                       */
    int64_t k;          /* of where it is now; 0: not known                   */
    int32_t around_mC;  /* of where it is now                                 */
    int32_t temp_mC;    /* at ...                                             */
    int64_t at;         /* ... this moment                                    */
    int64_t clock;      /* the limits count from here; BP_NO_TIME: not yet    */
    int64_t first, all; /* it was down to the first, the second; BP_NO_TIME   */
    bool told;          /* a finding says how it comes out                    */
    bpi_cool how;       /* of the last step that cooled it                    */
    const char *text;   /* of that step                                       */
} bpi_cooling;

typedef struct bpi_walk {
    bpi_arena *a;
    const bpi_path *path;
    const bpi_limits *limits;
    int64_t last;
    void *finding, *probe;
    size_t findings, room, probes, probe_room;
    bool failed; /* out of memory */

    int64_t uncontrolled, use_by;
    int64_t counted; /* up to here time out of control was counted: branches overlap */
    bool ever_perishable;
    const bpi_step *raw; /* the step that brought raw animal food in; NULL: none is uncooked */
    bool warm;           /* heated, and not chilled since                                    */
    bool cooked;         /* heated at least once                                             */
    bool chilled;        /* cooked, then cold, and not reheated since                        */
    int32_t hot_mC;      /* the core of the last heat; BP_NO_TEMP: not stated                */
    int64_t cold_from;   /* first moment of cold keeping after cooking; BP_NO_TIME           */
    int64_t cold_to;     /* last moment in the cold; BP_NO_TIME                              */
    int64_t thaw_from;   /* in running water since; BP_NO_TIME: not thawed so                */
    bool told_cold, told_hot, told_place[BPI_KEEPS];
    bpi_cooling cooling;
} bpi_walk;

/* Both take what `text` holds. */
void bpi_walk_add(bpi_walk *w, bp_weight weight, int64_t at, const char *rule, bpi_text *text);
void bpi_walk_probe(bpi_walk *w, int64_t at, const char *rule, bpi_text *text);

/* A stretch on the heat, number i of the path. */
void bpi_walk_cook(bpi_walk *w, uint32_t i);
bool bpi_walk_brings_raw(const bpi_step *step);
void bpi_walk_eaten(bpi_walk *w); /* at the end */

/* Any stretch, for food on its way down; a cold one that may begin that. */
void bpi_walk_cooling(bpi_walk *w, const bpi_stretch *s);
void bpi_walk_chill(bpi_walk *w, const bpi_stretch *s);
void bpi_walk_cooled(bpi_walk *w); /* it is heated again, or the walk ends */

#endif

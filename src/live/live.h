/* src/live/live.h - what happens on air: fitted beats, and the swap-outs they need.
 *
 * Owns     the result of the live side for every appearance (segment x hit) of a show. The parts are
 *          live/words and live/fit (lengths that sum to the slot), live/drop (what goes when it
 *          overruns), live/draft (beats from recipes), live/walk and live/stage (containers from
 *          beats, with live/why in words) and live/clash, live/nodraft, live/noroom (when no choice
 *          fits). live/refit fits what is left of a slot that is under way.
 * May use  model/, base/.
 * Units    plan time and whole seconds.
 */
#ifndef BP_LIVE_LIVE_H
#define BP_LIVE_LIVE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/error.h"
#include "model/show.h"

typedef struct bpi_fitted {
    int64_t from, length;        /* plan time, seconds; both 0 where dropped        */
    int64_t least, likely, most; /* as used: spoken words are a floor under least; walking to its
                                    station is not counted in                               */
    bool words_floor;            /* the words raised the least length                */
    bool dropped;
    int64_t walk;     /* of the length: to come from the station of the beat before          */
    int64_t farthest; /* the most that this can be, whatever is dropped                    */
    uint64_t needs;   /* beats without which it cannot come: its own, and those that bring its
                       container to it (live/walk)                                            */
    bool ready;       /* all it works with is cooked ahead: if it is dropped, it can come back  */
} bpi_fitted;

typedef enum bpi_role {
    BPI_ROLE_AIR,
    BPI_ROLE_BEAUTY,
    BPI_ROLE_TEASE,
    BPI_ROLE_TASTE,
    BPI_ROLE_SPARE
} bpi_role;

/* One container, before it has a code. */
typedef struct bpi_swap {
    uint32_t dish; /* index into the segment's dishes                                     */
    bpi_stage stage;
    bpi_role role;
    uint64_t steps; /* of its recipe, done ahead: bit per step; closed under predecessors   */
    bpi_ratio size;
    uint32_t portions;   /* eaten from it; 0: none                                           */
    uint32_t first_beat; /* index into bpi_air.beat; BPI_NO_INDEX: none (tease, spare)        */
    uint32_t last_beat;  /* the same container goes on until here                            */
    uint64_t beats;      /* those kept that work with it or show it: a bit each              */
    uint32_t tease;      /* first tease of the segment that shows it; BPI_NO_INDEX: none      */
    int64_t set_by;      /* must stand on the set: hit, or tease, less the lead              */
    int64_t needed;      /* first moment on camera (tasting, spare: of what it is for)       */
    int64_t last;        /* last moment on camera, if the hit comes as late as it may           */
    const char *why;     /* "the simmer takes 15 min, beat 3 gives it 40 s"                  */
    bpi_where where;     /* the beat, tease or dish that asks for it                         */
} bpi_swap;

typedef struct bpi_air {
    uint32_t segment, hit; /* indices; hit within the segment                          */
    int64_t at;            /* the hit time                                             */
    bool drafted;
    const bpi_beat *beat; /* the segment's own, or drafted                            */
    uint32_t beats;
    const bpi_fitted *fitted; /* one a beat */
    const bpi_swap *swap;     /* in order of first need; one is one container              */
    uint32_t swaps;
    uint32_t portions; /* hosts, tasters and one more; 0: nobody eats               */
} bpi_air;

/* Facts of the show file in each other's way: texts and places, for a plan that cannot be. */
typedef struct bpi_clash {
    const char *text;
    bpi_where where;
} bpi_clash;

/* A change with which the beats fit, and the show as it would be with it. */
typedef struct bpi_remedy {
    const char *text; /* "make the slot of main 2:15" */
    bpi_where where;  /* what would change            */
    const bpi_show *show;
} bpi_remedy;

typedef struct bpi_live {
    const bpi_air *air; /* by hit time */
    uint32_t airs;
    const bpi_clash *clash; /* with BP_ENOFIT: why a slot cannot be filled or kept */
    uint32_t clashes;
    const bpi_remedy *cure; /* each was tried: the beats fit; the kitchen was not asked */
    uint32_t cures;
} bpi_live;

/* When the slot of an appearance is over at the latest: its hit may come so much later as it floats. */
int64_t bpi_live_end(const bpi_show *show, const bpi_air *air);

/* Steps done or begun on air with the container, not ahead: what goes in then stands beside it. */
uint64_t bpi_live_on_air(const bpi_air *air, const bpi_swap *swap);

/* Work out every appearance of the show.
 *
 * Lengths are fitted with the worth of each beat as its weight (at least 1).
 * Owner   *out and all in it live in `a`.
 * Errors  BP_ENOFIT (beats that must stay overrun their slot, or even their most does not fill it:
 *         *out then holds clash and cure, and the appearances of the other segments), BP_EUNSURE,
 *         BP_ELIMIT, BP_ENOMEM.
 */
bp_code bpi_live_make(bpi_live **out, bpi_arena *a, const bpi_show *show, bp_errors *errs);

#endif

/* src/out/timeline_layout.h - where the lanes and bars of the timeline stand: numbers only.
 *
 * Owns     nothing; the layout lives in the caller's arena.
 * May use  base/, out/facts; reads the plan.
 * Units    plan time in seconds; points. x runs along the axis from its beginning, over all pages.
 *
 *   axis     | piece    |gap|  piece                    |   a gap stands for more than an hour in
 *            0          x   x+gap                    length   which nothing is begun or ended
 *   windows  |----------------|-----------------|            one page wide each
 *
 * A lane holds bars that do not overlap; what would overlap goes to a further lane of its group.
 */
#ifndef BP_OUT_TIMELINE_LAYOUT_H
#define BP_OUT_TIMELINE_LAYOUT_H

#include <stdbool.h>
#include <stdint.h>

#include "backpot/plan.h"
#include "base/arena.h"

#define BPI_TL_GAP     26.0 /* points that a gap is wide */
#define BPI_TL_SQUEEZE 0.78 /* the lowest lane still holds a line of type */

typedef enum bpi_tl_part {
    BPI_TL_PATHS, /* a group of lanes a container: its way to the set       */
    BPI_TL_LANES  /* a group a cook, the burners, an oven, a place, a set   */
} bpi_tl_part;

typedef struct bpi_tl_ask {
    bpi_tl_part part;
    double width, height; /* free for bars on one page; 0: as much as is needed, one page */
    double minute;        /* points a minute at least                                     */
} bpi_tl_ask;

typedef struct bpi_tl_piece {
    int64_t from, to;
    double x; /* of `from` */
} bpi_tl_piece;

typedef struct bpi_tl_lane {
    uint32_t group;  /* person, thing or container: what the part and kind say   */
    bool person;     /* of LANES: group is a person, not a thing                 */
    uint32_t number; /* within the group, from 0                                 */
    double height;
} bpi_tl_lane;

typedef struct bpi_tl_bar {
    uint32_t op, lane;
    double x0, x1;
} bpi_tl_bar;

/* One lane on one page; y from the top of the bars. Lanes are made lower, by no more than
 * BPI_TL_SQUEEZE, where that saves a page. */
typedef struct bpi_tl_row {
    uint32_t lane;
    double y, height;
} bpi_tl_row;

typedef struct bpi_tl_page {
    double from, to; /* of the axis */
    bp_slice rows;   /* of row      */
} bpi_tl_page;

typedef struct bpi_tl {
    double scale;                 /* points a second, outside gaps */
    double length, width, height; /* of the axis, of a page's window, of the tallest page */
    bpi_tl_piece *piece;
    uint32_t pieces;
    bpi_tl_lane *lane;
    uint32_t lanes;
    bpi_tl_bar *bar; /* of a group: by start */
    uint32_t bars;
    bpi_tl_row *row;
    uint32_t rows;
    bpi_tl_page *page;
    uint32_t pages;
} bpi_tl;

/* NULL: no memory. A plan in which nothing happens has no pages. */
bpi_tl *bpi_tl_make(bpi_arena *a, const bp_plan *plan, const bpi_tl_ask *ask);

double bpi_tl_x(const bpi_tl *tl, int64_t t); /* held inside the axis */

#endif

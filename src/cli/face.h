/* src/cli/face.h - the clock of a slot as a person sees it.
 *
 * Owns     the layout.
 * May use  the public headers, base/, cli/grid.
 *
 * Three times stand in large figures, to be read from two metres: what is left of the beat on air,
 * of the slot, and how far the slot is over or under. No meaning hangs on colour or on bold type.
 */
#ifndef BP_CLI_FACE_H
#define BP_CLI_FACE_H

#include "backpot/floor.h"
#include "cli/grid.h"

typedef struct bpi_face {
    const bp_plan *plan;
    const bp_floor *floor;
    const bp_floor_view *view;
    uint32_t speed;      /* of a rehearsal; 0: it is none                            */
    uint32_t mark;       /* the beat that the keys for one beat mean; BP_NO_INDEX: none */
    const char *message; /* to be read now, such as a question; ""                   */
    const char *alarm;   /* goes on until it is mended, such as a full disk; ""      */
} bpi_face;

void bpi_face_draw(bpi_grid *g, const bpi_face *face);

/* "0:35", "12:05", "1:02:03"; with "-" or, if `plus`, "+" before it. Returns `out`. */
#define BPI_FACE_TIME 32
char *bpi_face_time(char out[BPI_FACE_TIME], int64_t seconds, bool plus);

/* The wall clock, with its seconds even when they are none; another day than the show's is named. */
void bpi_face_clock(char *out, size_t room, const bp_plan *plan, int64_t t);

/* A beat of the appearance that is looked at. */
const bp_beat *bpi_face_beat(const bpi_face *face, uint32_t i);

#endif

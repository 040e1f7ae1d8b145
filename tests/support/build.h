/* tests/support/build.h - a show put together by hand, for tests of what lies above the reader.
 *
 * Everything lives in one b_show that the caller holds (it is large: make it static). What is added
 * gets usable values, which the test may then change; b_done works out what follows from them.
 */
#ifndef BP_TESTS_BUILD_H
#define BP_TESTS_BUILD_H

#include "model/show.h"

#define B_RECIPES  4
#define B_STEPS    16
#define B_SEGMENTS 3
#define B_DISHES   4
#define B_BEATS    64
#define B_LIST     8

typedef struct b_show {
    bpi_show show;
    bpi_recipe recipe[B_RECIPES];
    bpi_step step[B_RECIPES][B_STEPS];
    uint32_t order[B_RECIPES][B_STEPS];
    bpi_segment segment[B_SEGMENTS];
    bpi_hit hit[B_SEGMENTS][B_LIST];
    bpi_dish dish[B_SEGMENTS][B_DISHES];
    bpi_beat beat[B_SEGMENTS][B_BEATS];
    uint32_t does[B_SEGMENTS][B_BEATS][B_LIST];
    bpi_tease tease[B_SEGMENTS][B_LIST];
    bpi_cook cook[B_LIST];
    bpi_shift shift[B_LIST];
    bpi_break rest[B_LIST][B_LIST];
    bpi_oven oven[B_LIST];
    bpi_tool tool[B_LIST];
    bpi_place place[B_LIST];
    uint32_t tools[B_RECIPES][B_STEPS][B_LIST];
} b_show;

/* Empty; the show day is 2026-12-03, in UTC. */
void b_init(b_show *b);
void b_release(b_show *b);

/* Steps follow one another in the order in which they are added; seconds. */
bpi_recipe *b_recipe(b_show *b, const char *id, uint32_t serves);
bpi_step *b_step(b_show *b, const char *id, bpi_step_kind kind, int64_t seconds);
bpi_step *b_window(b_show *b, const char *id, bpi_step_kind kind, int64_t least, int64_t most);

bpi_segment *b_segment(b_show *b, const char *id, int64_t hit, int64_t slot);
void b_hit(b_show *b, int64_t hit);
bpi_dish *b_dish(b_show *b, const char *id, uint32_t recipe);
bpi_tease *b_tease(b_show *b, int64_t at, int64_t length, uint32_t dish);
void b_hosts(b_show *b, uint32_t n);

/* A beat of the newest segment; likely is the middle. `does` lists step ids with blanks between. */
bpi_beat *b_talk(b_show *b, const char *id, int64_t least, int64_t most);
bpi_beat *b_beat(b_show *b, const char *id, uint32_t dish, const char *does, int64_t least,
                 int64_t most);

/* Whole once more: before_all, order, all. */
void b_done(b_show *b);

#endif

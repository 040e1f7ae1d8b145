/* Which tools and vessels stand on the set with a container, told by hand for each case. */
#include "live/tool.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"
#include "support/build.h"

#define HIT (8 * 3600 + 24 * 60)

static b_show b;
static bpi_live *live;
static bp_errors errs;
static const uint32_t pan[] = {0}, pan_and_whisk[] = {0, 1}, two_whisks[] = {1, 1}, spoon[] = {2};

/* A sauce: melted in a pan, whisked in it on air, shown with a spoon. */
static void sauce(void)
{
    b_init(&b);
    memset(&errs, 0, sizeof errs);
    static const char *const names[] = {"pan", "whisk", "spoon"};
    for (uint32_t i = 0; i < 3; i++)
        b.tool[i] = (bpi_tool){.id = names[i],
                               .name = names[i],
                               .count = 4,
                               .size = "",
                               .vessel = i == 0,
                               .circuit = BPI_NO_INDEX};
    b.show.kitchen.tool = b.tool;
    b.show.kitchen.tools = 3;
    b_recipe(&b, "sauce", 4);
    bpi_step *melt = b_step(&b, "melt", BPI_ACTIVE, 240);
    melt->tool = pan;
    melt->tools = 1;
    bpi_step *whisk = b_step(&b, "whisk", BPI_ACTIVE, 20);
    whisk->tool = pan_and_whisk;
    whisk->tools = 2;
    b_step(&b, "pour", BPI_ACTIVE, 20);
    b_segment(&b, "main", HIT, 60);
    b_dish(&b, "sauce", 0)->taste = false;
    b_beat(&b, "whisk", 0, "whisk", 20, 40);
    bpi_beat *look = b_beat(&b, "look", 0, "", 20, 40);
    look->shows = BPI_SHOWS_AFTER;
    look->after = 1;
    look->tool = spoon;
    look->tools = 1;
    b_done(&b);
}

static uint32_t count(uint32_t swap, uint32_t tool, uint32_t *beat)
{
    const bpi_air *air = &live->air[0];
    return bpi_live_tool(&b.show, air, &air->swap[swap], tool, beat);
}

static void make(void)
{
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, &b.show, &errs), BP_OK);
}

/* It is whisked in the pan that it was melted in; the same goes on to be looked at. The finished dish
 * stands beside it. */
START_TEST(a_pot_comes_with_its_food_and_a_tool_does_not)
{
    uint32_t beat = 99;
    sauce();
    make();
    ck_assert_uint_eq(live->air[0].swaps, 2);
    ck_assert_uint_eq(count(0, 0, &beat), 0);
    ck_assert_uint_eq(beat, 99);
    ck_assert_uint_eq(count(0, 1, &beat), 1);
    ck_assert_uint_eq(beat, 0);
    ck_assert_uint_eq(count(0, 2, &beat), 1);
    ck_assert_uint_eq(beat, 1);
    b_release(&b);
}
END_TEST

/* Melted in nothing that the show names, it needs a pan; a beat's own pan is one more than that it comes
 * in; a beat may take up two whisks where a step takes one. */
START_TEST(what_a_beat_names_comes_on_top)
{
    uint32_t beat = 99;
    sauce();
    b.step[0][0].tools = 0;
    make();
    ck_assert_uint_eq(count(0, 0, &beat), 1);
    ck_assert_uint_eq(beat, 0);
    b_release(&b);
    sauce();
    b.beat[0][1].tool = pan;
    b.beat[0][0].tool = two_whisks;
    b.beat[0][0].tools = 2;
    make();
    ck_assert_uint_eq(count(0, 0, &beat), 1);
    ck_assert_uint_eq(beat, 1);
    ck_assert_uint_eq(count(0, 1, &beat), 2);
    ck_assert_uint_eq(count(0, 2, &beat), 0);
    b_release(&b);
}
END_TEST

/* The spoon of both beats is one spoon, there from the first; the spoon of a beat in which another dish
 * is worked with is not the sauce's, which only stands beside it. */
START_TEST(what_two_beats_take_up_is_there_once)
{
    static const uint32_t sauce_dish[] = {0};
    uint32_t beat = 99;
    sauce();
    b.beat[0][0].tool = spoon;
    b.beat[0][0].tools = 1;
    make();
    ck_assert_uint_eq(count(0, 2, &beat), 1);
    ck_assert_uint_eq(beat, 0);
    b_release(&b);
    sauce();
    b_recipe(&b, "bread", 4);
    b_step(&b, "slice", BPI_ACTIVE, 20);
    b_dish(&b, "bread", 1)->taste = false;
    bpi_beat *both = b_beat(&b, "both", 1, "slice", 20, 40);
    both->tool = two_whisks;
    both->tools = 2;
    both->beside = sauce_dish;
    both->besides = 1;
    ((bpi_segment *)b.show.segment)->slot = 90;
    b_done(&b);
    make();
    uint32_t with = 0, beside = 0;
    for (uint32_t i = 0; i < live->air[0].swaps; i++) {
        const bpi_swap *w = &live->air[0].swap[i];
        if (!(w->beats >> 2 & 1))
            continue;
        with += w->dish == 1 ? count(i, 1, &beat) : 0;
        beside += w->dish == 0 ? 1 + count(i, 1, &beat) : 0;
    }
    ck_assert_uint_eq(with, 2);
    ck_assert_uint_eq(beside, 1); /* it is there, and has no whisk */
    b_release(&b);
}
END_TEST

/* Whisked too long for its beat, it is looked at in another container: each has its own. */
START_TEST(each_container_has_what_its_own_beats_take_up)
{
    uint32_t beat = 99;
    uint64_t seen = 0;
    sauce();
    b.step[0][1].time = (bpi_length){.least = 240, .likely = 240, .most = 240};
    make();
    ck_assert_uint_eq(live->air[0].swaps, 3);
    for (uint32_t i = 0; i < 3;
         i++) { /* whisked, looked at, and the finished one that no beat has */
        uint64_t beats = live->air[0].swap[i].beats;
        ck_assert_uint_eq(count(i, 1, &beat), beats & 1);
        ck_assert_uint_eq(count(i, 2, &beat), beats >> 1);
        seen |= beats;
    }
    ck_assert_uint_eq(seen, 3);
    b_release(&b);
}
END_TEST

Suite *suite_live_tool(void);
Suite *suite_live_tool(void)
{
    Suite *s = suite_create("live/tool");
    TCase *c = tcase_create("tool");
    tcase_add_test(c, a_pot_comes_with_its_food_and_a_tool_does_not);
    tcase_add_test(c, what_a_beat_names_comes_on_top);
    tcase_add_test(c, what_two_beats_take_up_is_there_once);
    tcase_add_test(c, each_container_has_what_its_own_beats_take_up);
    suite_add_tcase(s, c);
    return s;
}

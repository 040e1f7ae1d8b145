#include "live/walk.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "support/build.h"

static b_show b;
static bpi_chain chain[BPI_MAX_BEATS];
static uint64_t needs[BPI_MAX_BEATS];
static uint32_t chains;

static void setup(void)
{
    b_init(&b);
}

static void teardown(void)
{
    b_release(&b);
}

/* Walk the first segment with every beat on air, at the lengths of the file. */
static void walk(void)
{
    static bpi_fitted fitted[BPI_MAX_BEATS];
    b_done(&b);
    const bpi_segment *g = &b.segment[0];
    for (uint32_t i = 0; i < g->beats; i++)
        fitted[i] = (bpi_fitted){.least = g->beat[i].time.least, .most = g->beat[i].time.most};
    chains = bpi_walk(chain, needs, b.show.recipe, g, g->beat, fitted, g->beats, ~UINT64_C(0));
}

/* A slot of 4:25 with one dish, as many are. */
static void slot_with_a_dish(void)
{
    b_segment(&b, "main", 8 * 3600, 265);
    b_dish(&b, "dish", 0);
}

/* ---- facts of the trade: common practice, no source -------------------------------------- */

/* Bite-size potatoes simmer about 15 min; the slot is 4:25: the pot that is put on cannot be the
 * one that is mashed. */
START_TEST(a_fifteen_minute_simmer_makes_a_mid_cook_swap_out)
{
    b_recipe(&b, "potatoes", 4);
    b_step(&b, "cut", BPI_ACTIVE, 240);
    b_step(&b, "simmer", BPI_PASSIVE, 900);
    b_step(&b, "mash", BPI_ACTIVE, 40);
    slot_with_a_dish();
    b_beat(&b, "in", 0, "simmer", 30, 60);
    b_talk(&b, "talk", 60, 120);
    b_beat(&b, "mash", 0, "mash", 40, 80);
    walk();
    ck_assert_uint_eq(chains, 2);
    ck_assert_uint_eq(chain[0].steps, 1); /* cut */
    ck_assert_int_eq(chain[0].why, BPI_WHY_AHEAD);
    ck_assert_uint_eq(chain[1].steps, 3); /* cut, simmered */
    ck_assert_int_eq(chain[1].why, BPI_WHY_SHORT);
    ck_assert_uint_eq(chain[1].step, 1);
    ck_assert_uint_eq(chain[1].from, 0);
    ck_assert_uint_eq(needs[2], 0); /* it does not need the beat that put the first pot on */
}
END_TEST

/* Whole spices infuse 15 min; milk goes in; then tea 5 min: two unattended steps with something
 * added between, each longer than its beat, make two. */
START_TEST(two_unattended_steps_with_something_added_between_make_two)
{
    b_recipe(&b, "infusion", 4);
    b_step(&b, "infuse", BPI_PASSIVE, 900);
    b_step(&b, "milk", BPI_ACTIVE, 20);
    b_step(&b, "draw", BPI_PASSIVE, 300);
    b_step(&b, "strain", BPI_ACTIVE, 30);
    slot_with_a_dish();
    b_beat(&b, "spices", 0, "infuse", 20, 40);
    b_beat(&b, "milk", 0, "milk draw", 40, 60);
    b_beat(&b, "strain", 0, "strain", 40, 60);
    walk();
    ck_assert_uint_eq(chains, 3);
    ck_assert_uint_eq(chain[0].steps, 0);
    ck_assert_int_eq(chain[0].why, BPI_WHY_RAW);
    uint32_t mid_cook = 0;
    for (uint32_t i = 0; i < chains; i++)
        mid_cook += chain[i].steps != 0 && chain[i].steps != b.recipe[0].all;
    ck_assert_uint_eq(mid_cook, 2);
    ck_assert_uint_eq(chain[1].steps, 1);
    ck_assert_uint_eq(chain[2].steps, 7);
}
END_TEST

/* Spirit cooks off in 1 to 2 min: that is done on air, in one pan from first to last. */
START_TEST(a_step_of_a_minute_or_two_is_done_on_air_with_no_swap_out)
{
    b_recipe(&b, "sauce", 4);
    b_step(&b, "pour", BPI_ACTIVE, 10);
    b_window(&b, "cook-off", BPI_ACTIVE, 60, 120);
    b_step(&b, "butter", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_beat(&b, "pour", 0, "pour cook-off", 75, 120);
    b_beat(&b, "butter", 0, "butter", 25, 60);
    walk();
    ck_assert_uint_eq(chains, 1);
    ck_assert_uint_eq(chain[0].beats, 3);
    ck_assert_uint_eq(needs[1], 1);
}
END_TEST

/* Shredded cabbage wilts in 3 min, unattended, while the other dish is talked about. */
START_TEST(three_minutes_pass_while_the_other_dish_is_on)
{
    b_recipe(&b, "cabbage", 4);
    b_window(&b, "wilt", BPI_PASSIVE, 180, 240);
    b_step(&b, "toss", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_beat(&b, "in", 0, "wilt", 10, 20);
    b_talk(&b, "other", 180, 200);
    b_beat(&b, "toss", 0, "toss", 20, 40);
    walk();
    ck_assert_uint_eq(chains, 1);
    ck_assert_uint_eq(needs[2], 3); /* and it needs the talk that gives it its time */
    b.beat[0][1].time.least = 179;
    walk();
    ck_assert_uint_eq(chains, 2);
    ck_assert_int_eq(chain[1].why, BPI_WHY_SHORT);
}
END_TEST

/* Shallots 5 min, garlic 2 min, spirit 1 to 2 min, sauce 10 min in a 4:25 slot. */
START_TEST(a_pan_sauce_needs_a_pan_for_each_long_step)
{
    b_recipe(&b, "sauce", 4);
    b_step(&b, "shallots", BPI_ACTIVE, 300);
    b_step(&b, "garlic", BPI_ACTIVE, 120);
    b_window(&b, "spirit", BPI_ACTIVE, 60, 120);
    b_step(&b, "reduce", BPI_PASSIVE, 600);
    b_step(&b, "finish", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_beat(&b, "shallots", 0, "shallots", 20, 30);
    b_beat(&b, "garlic", 0, "garlic", 20, 30);
    b_beat(&b, "spirit", 0, "spirit reduce", 65, 90);
    b_beat(&b, "finish", 0, "finish", 30, 60);
    walk();
    ck_assert_uint_eq(chains, 4);
    ck_assert_uint_eq(chain[0].steps, 0);
    ck_assert_uint_eq(chain[1].steps, 1);
    ck_assert_uint_eq(chain[2].steps, 3);
    ck_assert_uint_eq(chain[3].steps, 15);
}
END_TEST

/* ---- the rules --------------------------------------------------------------------------- */

START_TEST(an_unattended_step_past_its_window_wants_another_container)
{
    b_recipe(&b, "eggs", 4);
    b_window(&b, "boil", BPI_PASSIVE, 60, 100);
    b_step(&b, "peel", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_beat(&b, "in", 0, "boil", 10, 20);
    b_talk(&b, "talk", 60, 80);
    b_beat(&b, "peel", 0, "peel", 20, 40);
    walk();
    ck_assert_uint_eq(chains, 1); /* 20 s + 80 s is just within 100 s */
    b.beat[0][1].time.most = 81;
    walk();
    ck_assert_uint_eq(chains, 2);
    ck_assert_int_eq(chain[1].why, BPI_WHY_LONG);
}
END_TEST

START_TEST(without_a_window_the_hold_on_the_set_limits_the_wait)
{
    b_recipe(&b, "eggs", 4);
    bpi_step *boil = b_step(&b, "boil", BPI_PASSIVE, 60);
    b_step(&b, "peel", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_beat(&b, "in", 0, "boil", 10, 20);
    b_talk(&b, "talk", 60, 140);
    b_beat(&b, "peel", 0, "peel", 20, 40);
    boil->hold_set = 100;
    walk();
    ck_assert_uint_eq(chains, 1);
    boil->hold_set = 99;
    walk();
    ck_assert_uint_eq(chains, 2);
}
END_TEST

START_TEST(an_uncertain_step_takes_its_likely_time)
{
    b_recipe(&b, "eggs", 4);
    bpi_step *whisk = b_step(&b, "whisk", BPI_ACTIVE, 30);
    b_step(&b, "fold", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_beat(&b, "whisk", 0, "whisk", 35, 40);
    b_beat(&b, "fold", 0, "fold", 20, 40);
    whisk->time = (bpi_length){.least = 30, .likely = 35, .most = 90, .uncertain = true};
    walk();
    ck_assert_uint_eq(chains, 1);
    whisk->time.likely = 36;
    walk();
    ck_assert_uint_eq(chains, 2);
}
END_TEST

START_TEST(two_beats_of_the_same_step_share_the_container_and_add_up)
{
    b_recipe(&b, "dough", 4);
    b_step(&b, "knead", BPI_ACTIVE, 70);
    b_step(&b, "shape", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_beat(&b, "one", 0, "knead", 30, 40);
    b_talk(&b, "talk", 20, 30);
    b_beat(&b, "two", 0, "knead", 40, 50);
    b_beat(&b, "shape", 0, "shape", 20, 40);
    walk();
    ck_assert_uint_eq(chains, 1);
    ck_assert_uint_eq(needs[2], 1);
    ck_assert_uint_eq(needs[3], 5);
    b.beat[0][2].time.least = 39;
    walk();
    ck_assert_uint_eq(chains, 2);
    ck_assert_uint_eq(chain[0].beats, 5);
}
END_TEST

/* What comes first may come again after the others: it stays the first, of whatever dish. */
START_TEST(containers_come_in_the_order_of_their_first_beats)
{
    b_recipe(&b, "slaw", 4);
    b_step(&b, "grate", BPI_ACTIVE, 300);
    b_step(&b, "toss", BPI_ACTIVE, 20);
    b_recipe(&b, "soup", 4);
    b_step(&b, "stir", BPI_ACTIVE, 200);
    b_step(&b, "taste", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_dish(&b, "second", 1);
    b_beat(&b, "stir", 1, "stir", 20, 30);
    b_beat(&b, "toss", 0, "toss", 20, 30);
    b_beat(&b, "again", 1, "stir", 20, 30);
    walk();
    ck_assert_uint_eq(chains, 2);
    ck_assert_uint_eq(chain[0].dish, 1);
    ck_assert_uint_eq(chain[0].beats, 5);
    ck_assert_uint_eq(chain[1].dish, 0);
    ck_assert_uint_eq(chain[1].beats, 2);
}
END_TEST

START_TEST(what_waits_unchanged_is_taken_up_again)
{
    b_recipe(&b, "salad", 4);
    b_step(&b, "cut", BPI_ACTIVE, 300);
    b_step(&b, "dress", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_beat(&b, "raw", 0, "", 10, 20)->shows = BPI_SHOWS_RAW;
    bpi_beat *after = b_beat(&b, "cut", 0, "", 10, 20);
    after->shows = BPI_SHOWS_AFTER;
    after->after = 0;
    b_beat(&b, "raw-again", 0, "cut", 10, 20);
    b_beat(&b, "dress", 0, "dress", 20, 30);
    walk();
    ck_assert_uint_eq(chains, 2);
    ck_assert_uint_eq(chain[0].beats, 5);
    ck_assert_uint_eq(chain[1].beats, 10);
    ck_assert_uint_eq(needs[3], 0); /* nothing was done to it before */
}
END_TEST

START_TEST(the_finished_dish_is_no_chain)
{
    b_recipe(&b, "soup", 4);
    b_step(&b, "cook", BPI_PASSIVE, 900);
    slot_with_a_dish();
    b_beat(&b, "reveal", 0, "", 10, 20)->shows = BPI_SHOWS_FINISHED;
    bpi_beat *after = b_beat(&b, "after", 0, "", 10, 20);
    after->shows = BPI_SHOWS_AFTER;
    after->after = 0;
    b_beat(&b, "talk", 0, "", 10, 20)->shows = BPI_SHOWS_NOTHING;
    walk();
    ck_assert_uint_eq(chains, 0);
}
END_TEST

START_TEST(steps_on_another_branch_are_done_ahead)
{
    b_recipe(&b, "tart", 4);
    b_step(&b, "pastry", BPI_ACTIVE, 600);
    b_step(&b, "cream", BPI_ACTIVE, 300)->after = 0;
    b_step(&b, "fill", BPI_ACTIVE, 20)->after = 3;
    b_step(&b, "sugar", BPI_ACTIVE, 10);
    slot_with_a_dish();
    b_beat(&b, "fill", 0, "fill sugar", 30, 40);
    walk();
    ck_assert_uint_eq(chains, 1);
    ck_assert_uint_eq(chain[0].steps, 3);
    ck_assert_uint_eq(chain[0].step, 0); /* the longer of the two */
}
END_TEST

START_TEST(beats_off_air_give_no_time)
{
    b_recipe(&b, "eggs", 4);
    b_step(&b, "boil", BPI_PASSIVE, 60);
    b_step(&b, "peel", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_beat(&b, "in", 0, "boil", 10, 20);
    b_talk(&b, "talk", 60, 140);
    b_beat(&b, "peel", 0, "peel", 20, 40);
    b_done(&b);
    bpi_fitted fitted[3] = {
        {.least = 10, .most = 20}, {.least = 60, .most = 80}, {.least = 20, .most = 40}};
    ck_assert_uint_eq(bpi_walk(chain, needs, b.show.recipe, &b.segment[0], b.beat[0], fitted, 3, 7),
                      1);
    ck_assert_uint_eq(bpi_walk(chain, needs, b.show.recipe, &b.segment[0], b.beat[0], fitted, 3, 5),
                      2);
    ck_assert_uint_eq(bpi_walk(chain, needs, b.show.recipe, &b.segment[0], b.beat[0], fitted, 3, 2),
                      0);
}
END_TEST

/* The boil of a minute has the talk alone, 59 s and then 60; what is said more is off air. */
START_TEST(a_beat_off_air_gives_not_one_second)
{
    b_recipe(&b, "eggs", 4);
    b_step(&b, "boil", BPI_PASSIVE, 60);
    b_step(&b, "peel", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_beat(&b, "in", 0, "boil", 10, 20);
    b_talk(&b, "talk", 59, 59);
    b_talk(&b, "more", 30, 60);
    b_beat(&b, "peel", 0, "peel", 20, 40);
    b_done(&b);
    bpi_fitted fitted[4] = {{.least = 10, .most = 20},
                            {.least = 59, .most = 59},
                            {.least = 30, .most = 60},
                            {.least = 20, .most = 40}};
    ck_assert_uint_eq(
        bpi_walk(chain, needs, b.show.recipe, &b.segment[0], b.beat[0], fitted, 4, 11), 2);
    fitted[1].least = 60;
    fitted[1].most = 60;
    ck_assert_uint_eq(
        bpi_walk(chain, needs, b.show.recipe, &b.segment[0], b.beat[0], fitted, 4, 11), 1);
}
END_TEST

START_TEST(what_its_beat_has_no_time_for_holds_up_what_comes_after_it)
{
    b_recipe(&b, "salad", 4);
    b_step(&b, "cut", BPI_ACTIVE, 100);
    b_step(&b, "salt", BPI_ACTIVE, 10);
    b_step(&b, "toss", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_beat(&b, "both", 0, "cut salt", 50, 60);
    b_beat(&b, "toss", 0, "toss", 20, 30);
    walk();
    ck_assert_uint_eq(chains, 2); /* 10 s of salt would fit into 50 s, but nothing is cut */
    ck_assert_uint_eq(chain[1].steps, 3);
    b.step[0][0].time.least = b.step[0][0].time.likely = b.step[0][0].time.most = 40;
    walk();
    ck_assert_uint_eq(chains, 1);
}
END_TEST

START_TEST(a_pot_left_alone_is_taken_up_to_be_shown)
{
    b_recipe(&b, "syrup", 4);
    b_step(&b, "boil", BPI_PASSIVE, 60);
    b_step(&b, "strain", BPI_ACTIVE, 20);
    slot_with_a_dish();
    b_beat(&b, "on", 0, "boil", 10, 20);
    b_talk(&b, "talk", 60, 80);
    bpi_beat *shown = b_beat(&b, "shown", 0, "", 10, 20);
    shown->shows = BPI_SHOWS_AFTER;
    shown->after = 0;
    b_beat(&b, "strain", 0, "strain", 20, 30);
    walk();
    ck_assert_uint_eq(chains, 1);
    ck_assert_uint_eq(chain[0].beats, 13);
    ck_assert_uint_eq(needs[2], 3); /* the talk gives it its time */
}
END_TEST

START_TEST(a_beat_without_a_dish_or_that_shows_none_asks_for_no_state)
{
    uint64_t steps = 99;
    b_recipe(&b, "soup", 4);
    b_step(&b, "cook", BPI_PASSIVE, 900);
    slot_with_a_dish();
    const bpi_beat *talk = b_talk(&b, "talk", 10, 20);
    bpi_beat *dish = b_beat(&b, "soup", 0, "", 10, 20);
    b_done(&b);
    ck_assert(!bpi_walk_needs(&steps, &b.recipe[0], talk));
    dish->shows = BPI_SHOWS_NOTHING;
    ck_assert(!bpi_walk_needs(&steps, &b.recipe[0], dish));
    ck_assert_uint_eq(steps, 99);
    dish->shows = BPI_SHOWS_FINISHED;
    ck_assert(bpi_walk_needs(&steps, &b.recipe[0], dish));
    ck_assert_uint_eq(steps, 1);
}
END_TEST

Suite *suite_live_walk(void);
Suite *suite_live_walk(void)
{
    Suite *s = suite_create("live/walk");
    TCase *trade = tcase_create("facts of the trade");
    tcase_add_checked_fixture(trade, setup, teardown);
    tcase_add_test(trade, a_fifteen_minute_simmer_makes_a_mid_cook_swap_out);
    tcase_add_test(trade, two_unattended_steps_with_something_added_between_make_two);
    tcase_add_test(trade, a_step_of_a_minute_or_two_is_done_on_air_with_no_swap_out);
    tcase_add_test(trade, three_minutes_pass_while_the_other_dish_is_on);
    tcase_add_test(trade, a_pan_sauce_needs_a_pan_for_each_long_step);
    suite_add_tcase(s, trade);
    TCase *c = tcase_create("rules");
    tcase_add_checked_fixture(c, setup, teardown);
    tcase_add_test(c, an_unattended_step_past_its_window_wants_another_container);
    tcase_add_test(c, without_a_window_the_hold_on_the_set_limits_the_wait);
    tcase_add_test(c, an_uncertain_step_takes_its_likely_time);
    tcase_add_test(c, two_beats_of_the_same_step_share_the_container_and_add_up);
    tcase_add_test(c, containers_come_in_the_order_of_their_first_beats);
    tcase_add_test(c, what_waits_unchanged_is_taken_up_again);
    tcase_add_test(c, the_finished_dish_is_no_chain);
    tcase_add_test(c, steps_on_another_branch_are_done_ahead);
    tcase_add_test(c, beats_off_air_give_no_time);
    tcase_add_test(c, a_beat_off_air_gives_not_one_second);
    tcase_add_test(c, what_its_beat_has_no_time_for_holds_up_what_comes_after_it);
    tcase_add_test(c, a_pot_left_alone_is_taken_up_to_be_shown);
    tcase_add_test(c, a_beat_without_a_dish_or_that_shows_none_asks_for_no_state);
    suite_add_tcase(s, c);
    return s;
}

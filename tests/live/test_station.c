#include "live/station.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"
#include "support/build.h"

static b_show b;
static bpi_live *live;
static bp_errors errs;

#define HIT (8 * 3600 + 24 * 60)

static bpi_station row[3];

/* A pan that is fried, a tray that is baked, at a stove, a counter and a table in a row. */
static void two_dishes(void)
{
    b_init(&b);
    memset(&errs, 0, sizeof errs);
    row[0] = (bpi_station){.id = "stove", .room = UINT32_MAX};
    row[1] = (bpi_station){.id = "counter", .walk = 3, .place = 3, .room = UINT32_MAX};
    row[2] = (bpi_station){.id = "table", .walk = 5, .place = 8, .room = UINT32_MAX};
    b_recipe(&b, "fried", 4);
    b_step(&b, "cut", BPI_ACTIVE, 240);
    b_step(&b, "fry", BPI_ACTIVE, 20)->burner = true;
    b_recipe(&b, "baked", 4);
    b_step(&b, "mix", BPI_ACTIVE, 240);
    b_step(&b, "bake", BPI_OVEN, 1200);
    b_step(&b, "top", BPI_ACTIVE, 60);
    b_segment(&b, "main", HIT, 100);
    b_dish(&b, "pan", 0);
    b_dish(&b, "tray", 1);
    b.segment[0].station = row;
    b.segment[0].stations = 3;
    b_beat(&b, "fry", 0, "fry", 20, 40)->at = 0;
    b_beat(&b, "top", 1, "top", 20, 40)->at = 1;
    b_beat(&b, "look", 0, "", 20, 40)->shows = BPI_SHOWS_FINISHED;
    b.beat[0][2].at = 2;
    b_done(&b);
}

static bp_code make(void)
{
    memset(&errs, 0, sizeof errs);
    return bpi_live_make(&live, b.show.arena, &b.show, &errs);
}

START_TEST(walking_is_part_of_the_beat_it_leads_to)
{
    two_dishes();
    ck_assert_int_eq(make(), BP_OK);
    const bpi_fitted *f = live->air[0].fitted;
    static const int64_t walks[] = {0, 3, 5};
    int64_t at = HIT;
    for (uint32_t i = 0; i < 3; i++) {
        ck_assert_int_eq(f[i].walk, walks[i]);
        ck_assert_int_eq(f[i].from, at);
        at += f[i].length;
    }
    ck_assert_int_eq(at, HIT + 100);
    /* 8 s of walking, 92 for three beats of 30 s likely: 31, 31 + 3, 30 + 5. */
    ck_assert_int_eq(f[0].length, 31);
    ck_assert_int_eq(f[1].length, 34);
    ck_assert_int_eq(f[2].length, 35);
    ck_assert_int_eq(f[2].farthest, 8);
    /* Without walking 60 s do for three beats; with it 68, so the pan goes, which is 8 s from the
     * table and the tray 5. */
    b.segment[0].slot = 67;
    ck_assert_int_eq(make(), BP_OK);
    f = live->air[0].fitted;
    ck_assert(!f[0].dropped && !f[1].dropped && f[2].dropped);
    b.segment[0].slot = 68;
    ck_assert_int_eq(make(), BP_OK);
    ck_assert(!live->air[0].fitted[2].dropped);
    b_release(&b);
}
END_TEST

START_TEST(walking_that_overruns_the_slot_is_told)
{
    two_dishes();
    for (uint32_t i = 0; i < 3; i++)
        b.beat[0][i].keep = true;
    b.segment[0].slot = 67;
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_uint_eq(live->clashes, 5);
    ck_assert_str_eq(live->clash[4].text, "walking between their stations takes 8 s");
    ck_assert_str_eq(live->cure[0].text, "make the slot of main 1:08");
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, live->cure[0].show, &errs), BP_OK);
    b_release(&b);
}
END_TEST

/* Not the beat before counts, nor the first, but the one that is farthest away. */
START_TEST(the_farthest_walk_is_from_any_beat_before)
{
    two_dishes();
    b.beat[0][0].at = 1;
    b.beat[0][1].at = 0;
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_int_eq(live->air[0].fitted[1].farthest, 3);
    ck_assert_int_eq(live->air[0].fitted[2].farthest, 8);
}
END_TEST

START_TEST(a_station_that_is_too_small_is_told_with_the_room_it_needs)
{
    two_dishes();
    b.beat[0][1].at = 0; /* pan and tray at the stove */
    row[0].room = 1;
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_uint_eq(live->clashes, 2);
    ck_assert_str_eq(live->clash[0].text, "station stove has room for 1 container");
    ck_assert_str_eq(live->clash[1].text, "2 stand there when beat fry is on air");
    ck_assert_uint_eq(live->cures, 1);
    ck_assert_str_eq(live->cure[0].text, "give station stove room for 2");
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, live->cure[0].show, &errs), BP_OK);
    row[2].room = 0; /* the dish that is looked at */
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_str_eq(live->cure[0].text, "give station stove room for 2, station table room for 1");
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, live->cure[0].show, &errs), BP_OK);
    /* The line told is that of the first one, where the file has lines. */
    row[0].where.line = 11, row[2].where.line = 13;
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_int_eq(errs.item[0].line, 11);
    row[0].room = 2, row[2].room = 1;
    ck_assert_int_eq(make(), BP_OK);
    b_release(&b);
}
END_TEST

/* Of two beats with as many there the first is told. */
START_TEST(the_fullest_beat_is_the_first_of_equals)
{
    two_dishes();
    ck_assert_int_eq(make(), BP_OK);
    bpi_air air = live->air[0];
    bpi_beat beat[] = {{.at = 1}, {.at = 0}, {.at = 0}};
    bpi_swap along = {.beats = 7, .first_beat = 0, .last_beat = 2};
    air.beat = beat;
    air.swap = &along;
    air.swaps = 1;
    uint32_t at = 9;
    ck_assert_uint_eq(bpi_station_most(&at, &air, 0), 1);
    ck_assert_uint_eq(at, 1);
    ck_assert_uint_eq(bpi_station_most(&at, &air, 1), 1);
    ck_assert_uint_eq(at, 0);
    ck_assert_uint_eq(bpi_station_most(&at, &air, 2), 0);
    b_release(&b);
}
END_TEST

START_TEST(a_container_goes_along_and_is_taken_away)
{
    two_dishes();
    ck_assert_int_eq(make(), BP_OK);
    const bpi_air *air = &live->air[0];
    const bpi_swap *pan = NULL;
    for (uint32_t c = 0; c < air->swaps; c++)
        if (air->swap[c].role == BPI_ROLE_AIR && air->swap[c].dish == 0)
            pan = &air->swap[c];
    ck_assert_ptr_nonnull(pan);
    ck_assert_uint_eq(bpi_station_of(air, pan, 0), 0);
    ck_assert_uint_eq(bpi_station_of(air, pan, 1), BPI_NO_INDEX); /* away after its beat */
    bpi_swap along = *pan;
    along.beats = 5, along.last_beat = 2; /* fried, and shown at the table */
    ck_assert_uint_eq(bpi_station_of(air, &along, 1), 0);
    ck_assert_uint_eq(bpi_station_of(air, &along, 2), 2);
    along.first_beat = BPI_NO_INDEX;
    ck_assert_uint_eq(bpi_station_of(air, &along, 0), BPI_NO_INDEX);
    b_release(&b);
}
END_TEST

START_TEST(what_was_heated_is_hot_until_it_is_cooled)
{
    two_dishes();
    ck_assert_int_eq(make(), BP_OK);
    const bpi_air *air = &live->air[0];
    bpi_swap w = {.dish = 0, .steps = 1, .beats = 1};
    const bpi_recipe *fried = &b.recipe[0], *baked = &b.recipe[1];
    ck_assert(bpi_station_hot(fried, air, &w, 0)); /* it is fried on air */
    w.beats = 0;
    ck_assert(!bpi_station_hot(fried, air, &w, 0)); /* cut */
    w.steps = 3;
    ck_assert(bpi_station_hot(fried, air, &w, 0));
    w = (bpi_swap){.dish = 1, .steps = 7};
    ck_assert(bpi_station_hot(baked, air, &w, 0)); /* topped while hot */
    b.step[1][2].keep = BPI_COLD;
    ck_assert(!bpi_station_hot(baked, air, &w, 0));
    b.step[1][2].keep = -1;
    b.step[1][2].cool.in = BPI_COOL_ICE_BATH;
    ck_assert(!bpi_station_hot(baked, air, &w, 0));
    b_release(&b);
}
END_TEST

START_TEST(every_request_fails_once)
{
    bool fired = true;
    for (long at = 0; fired; at++) {
        two_dishes();
        b.beat[0][1].at = 0;
        row[0].room = 1;
        bpi_mem_fail_at(at, 0);
        bp_code rc = make();
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_ENOFIT);
        b_release(&b);
    }
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

/* The pan has no station of its own; the tray comes to the counter, and then to the stove. */
START_TEST(a_place_in_the_order_of_dressing_is_that_of_the_first_entry_that_names_it)
{
    static const char *const order[] = {"stove", "counter", "tray", "pan"};
    static bpi_dish dish[] = {{.id = "pan"}, {.id = "tray"}};
    static bpi_beat beat[] = {{.station = ""}, {.station = "counter"}, {.station = "stove"}};
    bpi_segment segment = {.dish = dish, .dishes = 2, .dress = order, .dresses = 4};
    bpi_air air = {.beat = beat, .beats = 3};
    bpi_swap pan = {.dish = 0, .beats = 1, .tease = BPI_NO_INDEX};
    bpi_swap tray = {.dish = 1, .beats = 6, .tease = BPI_NO_INDEX};
    ck_assert_str_eq(bpi_station_name(&air, &pan), "");
    ck_assert_str_eq(bpi_station_name(&air, &tray), "counter");
    ck_assert_uint_eq(bpi_station_dress(&segment, &air, &pan), 3);
    ck_assert_uint_eq(bpi_station_dress(&segment, &air, &tray), 1);
    segment.dresses = 1; /* neither is named: both come after all that is */
    ck_assert_uint_eq(bpi_station_dress(&segment, &air, &pan), 1);
    ck_assert_uint_eq(bpi_station_dress(&segment, &air, &tray), 1);
    segment.dress = order + 2; /* by the dish */
    ck_assert_uint_eq(bpi_station_dress(&segment, &air, &tray), 0);
    tray.tease = 0;
    ck_assert_uint_eq(bpi_station_dress(&segment, &air, &tray), BPI_NO_INDEX);
    segment.dresses = 0;
    ck_assert_uint_eq(bpi_station_dress(&segment, &air, &pan), BPI_NO_INDEX);
}
END_TEST

Suite *suite_live_station(void);
Suite *suite_live_station(void)
{
    Suite *s = suite_create("live/station");
    TCase *c = tcase_create("station");
    tcase_add_test(c, walking_is_part_of_the_beat_it_leads_to);
    tcase_add_test(c, walking_that_overruns_the_slot_is_told);
    tcase_add_test(c, the_farthest_walk_is_from_any_beat_before);
    tcase_add_test(c, a_station_that_is_too_small_is_told_with_the_room_it_needs);
    tcase_add_test(c, the_fullest_beat_is_the_first_of_equals);
    tcase_add_test(c, a_container_goes_along_and_is_taken_away);
    tcase_add_test(c, what_was_heated_is_hot_until_it_is_cooled);
    tcase_add_test(c, every_request_fails_once);
    tcase_add_test(c, a_place_in_the_order_of_dressing_is_that_of_the_first_entry_that_names_it);
    suite_add_tcase(s, c);
    return s;
}

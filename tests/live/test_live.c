#include "live/live.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "base/memory.h"
#include "live/stage.h"
#include "support/build.h"

static b_show b;
static bpi_live *live;
static bp_errors errs;

static void setup(void)
{
    b_init(&b);
    memset(&errs, 0, sizeof errs);
}

static void teardown(void)
{
    b_release(&b);
}

static bp_code make(void)
{
    b_done(&b);
    memset(&errs, 0, sizeof errs);
    return bpi_live_make(&live, b.show.arena, &b.show, &errs);
}

#define HIT (8 * 3600 + 24 * 60)

/* Potatoes that simmer 15 min, in a 4:25 slot of five beats. */
static void potatoes(void)
{
    b_recipe(&b, "potatoes", 4);
    b_step(&b, "cut", BPI_ACTIVE, 240);
    b_window(&b, "simmer", BPI_PASSIVE, 900, 1080);
    b_step(&b, "mash", BPI_ACTIVE, 40);
    b_segment(&b, "main", HIT, 265);
    b_dish(&b, "mash", 0);
    b_talk(&b, "hello", 15, 25)->keep = true;
    b_beat(&b, "in", 0, "simmer", 30, 50);
    b_talk(&b, "chat", 60, 120)->worth = 1;
    b_beat(&b, "mash", 0, "mash", 40, 80);
    b_beat(&b, "bye", 0, "", 15, 30)->shows = BPI_SHOWS_FINISHED;
    b.beat[0][4].keep = true;
}

static const bpi_swap *swap_of(const bpi_air *air, bpi_role role, uint32_t number)
{
    for (uint32_t i = 0; i < air->swaps; i++)
        if (air->swap[i].role == role && number-- == 0)
            return &air->swap[i];
    ck_abort_msg("no such container");
    return NULL;
}

static uint32_t count_of(const bpi_air *air, bpi_role role)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < air->swaps; i++)
        n += air->swap[i].role == role;
    return n;
}

/* Beats follow one another from the hit to the end of the slot, within their bounds. */
static void must_fill_the_slot(const bpi_air *air)
{
    int64_t at = air->at;
    for (uint32_t i = 0; i < air->beats; i++) {
        const bpi_fitted *f = &air->fitted[i];
        if (f->dropped) {
            ck_assert_int_eq(f->from, 0);
            ck_assert_int_eq(f->length, 0);
            ck_assert(!air->beat[i].keep);
            continue;
        }
        ck_assert_int_eq(f->from, at);
        ck_assert_int_ge(f->length, f->least);
        ck_assert_int_le(f->length, f->most);
        at += f->length;
    }
    ck_assert_int_eq(at, air->at + b.segment[air->segment].slot);
}

START_TEST(beats_fill_the_slot_from_the_hit_on)
{
    potatoes();
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_uint_eq(live->airs, 1);
    const bpi_air *air = &live->air[0];
    ck_assert_int_eq(air->at, HIT);
    ck_assert(!air->drafted);
    must_fill_the_slot(air);
    /* 33 s more than likely in all. The chat, worth 1, takes them up to a price of 49, which is 25;
     * the others, worth 10, take 2 each: a third would cost 50. */
    static const int64_t by_hand[] = {22, 42, 115, 62, 24};
    for (uint32_t i = 0; i < 5; i++)
        ck_assert_int_eq(air->fitted[i].length, by_hand[i]);
}
END_TEST

START_TEST(containers_say_when_and_why)
{
    potatoes();
    ck_assert_int_eq(make(), BP_OK);
    const bpi_air *air = &live->air[0];
    ck_assert_uint_eq(air->swaps, 3); /* two pots and the beauty: nobody eats */
    const bpi_swap *one = &air->swap[0], *two = &air->swap[1], *beauty = &air->swap[2];
    ck_assert_int_eq(one->stage, BPI_MID);
    ck_assert_str_eq(one->why, "the cut takes 4 min, no beat gives it time before beat 2");
    ck_assert_uint_eq(one->first_beat, 1);
    ck_assert_int_eq(one->needed, air->fitted[1].from);
    ck_assert_int_eq(one->last, air->fitted[2].from);
    ck_assert_int_eq(one->set_by, HIT - 300);
    ck_assert_int_eq(two->role, BPI_ROLE_AIR);
    ck_assert_str_eq(two->why, "the simmer takes 15 min, beats 2 to 3 give it 2 min 37 s");
    ck_assert_int_eq(beauty->role, BPI_ROLE_BEAUTY);
    ck_assert_int_eq(beauty->stage, BPI_FINISHED);
    ck_assert_uint_eq(beauty->first_beat, 4);
    ck_assert_str_eq(beauty->why, "beat 5 shows the finished dish");
    ck_assert_int_eq(beauty->last, HIT + 265);
    ck_assert_uint_eq(air->portions, 0);
    /* What is done on air with each: put on to simmer, mashed, nothing. */
    ck_assert_uint_eq(bpi_live_on_air(air, one), 2);
    ck_assert_uint_eq(bpi_live_on_air(air, two), 4);
    ck_assert_uint_eq(bpi_live_on_air(air, beauty), 0);
    b.segment[0].slot = 90; /* the mash is dropped, and with it what was done */
    bpi_swap all = *one;
    all.first_beat = 0, all.last_beat = 4;
    ck_assert_uint_eq(bpi_live_on_air(air, &all), 6);
    ck_assert_int_eq(make(), BP_OK);
    ck_assert(live->air[0].fitted[3].dropped);
    ck_assert_uint_eq(bpi_live_on_air(&live->air[0], &all), 2);
}
END_TEST

START_TEST(reasons_are_english_for_one_and_for_many)
{
    b_recipe(&b, "broth", 4);
    b_window(&b, "greens", BPI_PASSIVE, 900, 1080);
    b_step(&b, "toss", BPI_ACTIVE, 40);
    b_segment(&b, "main", HIT, 60);
    b_dish(&b, "broth", 0);
    b_beat(&b, "toss", 0, "toss", 30, 40);
    b_talk(&b, "eat", 20, 30)->taste = true;
    b.segment[0].hosts = 1;
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_str_eq(swap_of(&live->air[0], BPI_ROLE_AIR, 0)->why,
                     "the greens step takes 15 min, no beat gives it time before beat 1");
    ck_assert_str_eq(swap_of(&live->air[0], BPI_ROLE_TASTE, 0)->why,
                     "1 person eats from it, and one portion more");
    static const struct {
        const char *id, *why;
    } rows[] = {{"toss", "the toss takes 15 min, no beat gives it time before beat 1"},
                {"s", "the s takes 15 min, no beat gives it time before beat 1"},
                {"as", "the as step takes 15 min, no beat gives it time before beat 1"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        b.step[0][0].id = rows[i].id;
        ck_assert_int_eq(make(), BP_OK);
        ck_assert_str_eq(swap_of(&live->air[0], BPI_ROLE_AIR, 0)->why, rows[i].why);
    }
}
END_TEST

START_TEST(words_are_a_floor_under_their_beat)
{
    potatoes();
    b.beat[0][0].words = /* 75 words: 30 s at 150 a minute */
        "a a a a a a a a a a a a a a a a a a a a a a a a a "
        "a a a a a a a a a a a a a a a a a a a a a a a a a "
        "a a a a a a a a a a a a a a a a a a a a a a a a a";
    ck_assert_int_eq(make(), BP_OK);
    const bpi_fitted *f = &live->air[0].fitted[0];
    ck_assert(f->words_floor);
    ck_assert_int_eq(f->least, 30);
    ck_assert_int_eq(f->most, 30);
    ck_assert_int_eq(f->length, 30);
    must_fill_the_slot(&live->air[0]);
    ck_assert(!live->air[0].fitted[1].words_floor);
}
END_TEST

START_TEST(what_overruns_is_dropped_and_nobody_cooks_for_it)
{
    potatoes();
    b.segment[0].slot = 120; /* the least lengths are 160 s in all */
    ck_assert_int_eq(make(), BP_OK);
    const bpi_air *air = &live->air[0];
    must_fill_the_slot(air);
    ck_assert(air->fitted[2].dropped); /* worth 1, 60 s */
    ck_assert_uint_eq(count_of(air, BPI_ROLE_AIR), 2);

    b.segment[0].slot = 60; /* hello, bye and one more */
    ck_assert_int_eq(make(), BP_OK);
    air = &live->air[0];
    must_fill_the_slot(air);
    ck_assert(air->fitted[3].dropped && !air->fitted[1].dropped);
    ck_assert_uint_eq(count_of(air, BPI_ROLE_AIR), 1);
    ck_assert_uint_eq(count_of(air, BPI_ROLE_BEAUTY), 1);
}
END_TEST

START_TEST(a_beat_falls_with_the_one_that_brought_its_container_there)
{
    b_recipe(&b, "sauce", 4);
    b_step(&b, "pour", BPI_ACTIVE, 20);
    b_step(&b, "butter", BPI_ACTIVE, 20);
    b_segment(&b, "main", HIT, 50);
    b_dish(&b, "sauce", 0);
    b_beat(&b, "pour", 0, "pour", 30, 40)->worth = 5;
    b_beat(&b, "butter", 0, "butter", 30, 50)->worth = 50;
    b_talk(&b, "talk", 30, 50)->worth = 20;
    ck_assert_int_eq(make(), BP_OK);
    must_fill_the_slot(&live->air[0]);
    /* butter alone is worth most, but its pan comes from the beat before */
    ck_assert(!live->air[0].fitted[2].dropped);
    ck_assert(live->air[0].fitted[1].dropped);
    ck_assert_uint_eq(count_of(&live->air[0], BPI_ROLE_AIR), 0);
}
END_TEST

START_TEST(what_must_stay_gets_a_container_of_its_own_rather_than_no_plan)
{
    b_recipe(&b, "sauce", 4);
    b_step(&b, "pour", BPI_ACTIVE, 20);
    b_step(&b, "butter", BPI_ACTIVE, 20);
    b_segment(&b, "main", HIT, 50);
    b_dish(&b, "sauce", 0);
    b_beat(&b, "pour", 0, "pour", 30, 40);
    b_beat(&b, "butter", 0, "butter", 30, 50)->keep = true;
    ck_assert_int_eq(make(), BP_OK);
    const bpi_air *air = &live->air[0];
    must_fill_the_slot(air);
    ck_assert(air->fitted[0].dropped);
    ck_assert_uint_eq(count_of(air, BPI_ROLE_AIR), 1);
    ck_assert_uint_eq(air->swap[0].steps, 1); /* poured ahead */
}
END_TEST

START_TEST(two_hits_each_have_all_their_own)
{
    potatoes();
    b_hit(&b, HIT + 3600);
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_uint_eq(live->airs, 2);
    ck_assert_uint_eq(live->air[0].swaps, 3);
    ck_assert_uint_eq(live->air[1].swaps, 3);
    for (uint32_t i = 0; i < 3; i++) {
        ck_assert_int_eq(live->air[1].swap[i].set_by, live->air[0].swap[i].set_by + 3600);
        ck_assert_int_eq(live->air[1].swap[i].needed, live->air[0].swap[i].needed + 3600);
    }
    must_fill_the_slot(&live->air[1]);
}
END_TEST

START_TEST(appearances_come_by_hit_time)
{
    potatoes();
    b_segment(&b, "early", HIT - 3600, 20);
    b_talk(&b, "hello", 10, 30);
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_uint_eq(live->airs, 2);
    ck_assert_uint_eq(live->air[0].segment, 1);
    ck_assert_uint_eq(live->air[0].swaps, 0);
}
END_TEST

/* ---- the finished dish ------------------------------------------------------------------- */

START_TEST(the_finished_dish_is_there_whether_shown_or_not)
{
    potatoes();
    b.beat[0][4].shows = BPI_SHOWS_NOTHING;
    ck_assert_int_eq(make(), BP_OK);
    const bpi_swap *beauty = swap_of(&live->air[0], BPI_ROLE_BEAUTY, 0);
    ck_assert_uint_eq(beauty->first_beat, BPI_NO_INDEX);
    ck_assert_int_eq(beauty->needed, HIT);
    ck_assert_int_eq(beauty->last, HIT + 265);
}
END_TEST

START_TEST(everybody_eats_from_a_dish_of_its_own)
{
    static const struct {
        uint32_t hosts, serves, portions;
        bpi_ratio size;
    } rows[] = {
        {1, 4, 2, {1, 2}},  {2, 4, 3, {3, 4}}, {3, 4, 4, {1, 1}}, {4, 4, 5, {5, 4}},
        {1, 24, 2, {1, 4}}, {2, 6, 3, {1, 2}}, {4, 2, 5, {5, 2}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        b_release(&b);
        b_init(&b);
        potatoes();
        b_hosts(&b, rows[i].hosts);
        b.recipe[0].serves = rows[i].serves;
        ck_assert_int_eq(make(), BP_OK);
        const bpi_air *air = &live->air[0];
        ck_assert_uint_eq(air->portions, rows[i].portions);
        const bpi_swap *taste = swap_of(air, BPI_ROLE_TASTE, 0);
        ck_assert_uint_eq(count_of(air, BPI_ROLE_BEAUTY), 1); /* not the only beauty */
        ck_assert_uint_eq(taste->portions, rows[i].portions);
        ck_assert_int_eq(taste->stage, BPI_FINISHED); /* cooked through ahead */
        ck_assert_uint_eq(taste->steps, b.recipe[0].all);
        ck_assert_uint_eq(taste->size.num, rows[i].size.num);
        ck_assert_uint_eq(taste->size.den, rows[i].size.den);
        ck_assert_uint_eq(taste->first_beat, BPI_NO_INDEX); /* after the slot */
        ck_assert_int_eq(taste->needed, HIT + 265);
    }
}
END_TEST

START_TEST(a_dish_not_to_taste_has_none_and_a_tasting_beat_sets_the_time)
{
    potatoes();
    b_dish(&b, "other", 0)->taste = false;
    b_hosts(&b, 2);
    b.beat[0][2].taste = true;
    ck_assert_int_eq(make(), BP_OK);
    const bpi_air *air = &live->air[0];
    ck_assert_uint_eq(count_of(air, BPI_ROLE_TASTE), 1);
    ck_assert_uint_eq(count_of(air, BPI_ROLE_BEAUTY), 2);
    const bpi_swap *taste = swap_of(air, BPI_ROLE_TASTE, 0);
    ck_assert_uint_eq(taste->dish, 0);
    ck_assert_uint_eq(taste->first_beat, 2);
    ck_assert_int_eq(taste->needed, air->fitted[2].from);
    ck_assert_int_eq(taste->last, air->fitted[3].from);
    /* A beat in which another dish is tasted sets it no time: it is eaten after the slot. */
    b.beat[0][2].dish = 1;
    b.beat[0][2].shows = BPI_SHOWS_NOTHING;
    ck_assert_int_eq(make(), BP_OK);
    ck_assert(live->air[0].fitted[2].ready); /* it works with nothing */
    ck_assert_int_eq(swap_of(&live->air[0], BPI_ROLE_TASTE, 0)->needed, HIT + 265);
    b.beat[0][2].dish = 0;
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_uint_eq(swap_of(&live->air[0], BPI_ROLE_TASTE, 0)->first_beat, 2);
}
END_TEST

START_TEST(the_beauty_stands_through_a_tease_if_it_keeps)
{
    potatoes();
    b_tease(&b, HIT - 900, 10, 0);
    /* from 5 min before the tease to the end of the slot: 300 + 900 + 265 s */
    b.step[0][2].hold_set = 1465;
    ck_assert_int_eq(make(), BP_OK);
    const bpi_air *air = &live->air[0];
    ck_assert_uint_eq(count_of(air, BPI_ROLE_TEASE), 0);
    const bpi_swap *beauty = swap_of(air, BPI_ROLE_BEAUTY, 0);
    ck_assert_uint_eq(beauty->tease, 0);
    ck_assert_int_eq(beauty->set_by, HIT - 1200);
    ck_assert_int_eq(beauty->needed, HIT - 900);
    ck_assert_int_eq(beauty->last, HIT + 265);

    b.step[0][2].hold_set = 1464;
    ck_assert_int_eq(make(), BP_OK);
    air = &live->air[0];
    ck_assert_uint_eq(count_of(air, BPI_ROLE_TEASE), 1);
    const bpi_swap *hero = swap_of(air, BPI_ROLE_TEASE, 0);
    ck_assert_ptr_eq(hero, &air->swap[0]);
    ck_assert_int_eq(hero->set_by, HIT - 1200);
    ck_assert_int_eq(hero->last, HIT - 890);
    ck_assert_str_eq(hero->why, "the tease at 08:09 needs one of its own: a finished one keeps 24 "
                                "min 24 s on the set");
    ck_assert_int_eq(swap_of(air, BPI_ROLE_BEAUTY, 0)->set_by, HIT - 300);

    b.dish[0][0].lead = 60; /* of the dish, before that of the segment */
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_int_eq(swap_of(&live->air[0], BPI_ROLE_BEAUTY, 0)->set_by, HIT - 960);
    b.step[0][2].hold_set = 1200;
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_int_eq(swap_of(&live->air[0], BPI_ROLE_BEAUTY, 0)->set_by, HIT - 60);
    ck_assert_int_eq(swap_of(&live->air[0], BPI_ROLE_TEASE, 0)->set_by, HIT - 960);
}
END_TEST

START_TEST(teases_after_the_slot_at_one_moment_and_of_another_dish)
{
    potatoes();
    b_dish(&b, "other", 0)->taste = false;
    b_tease(&b, HIT + 265, 10, 0); /* the beauty stays for it */
    b_tease(&b, HIT - 900, 10, 1); /* this one has its own beauty */
    b_tease(&b, HIT - 900, 20, 0); /* the same moment, twice      */
    b_tease(&b, HIT - 900, 10, 0);
    b_tease(&b, HIT - 1000, 10, 0); /* listed late, and earlier */
    b.step[0][2].hold_set = 900;
    ck_assert_int_eq(make(), BP_OK);
    const bpi_air *air = &live->air[0];
    const bpi_swap *beauty = NULL, *hero = NULL;
    for (uint32_t i = 0; i < air->swaps; i++) {
        const bpi_swap *s = &air->swap[i];
        beauty = s->dish == 0 && s->role == BPI_ROLE_BEAUTY ? s : beauty;
        hero = s->dish == 0 && s->role == BPI_ROLE_TEASE ? s : hero;
    }
    ck_assert_ptr_nonnull(beauty);
    ck_assert_int_eq(beauty->last, HIT + 275);
    ck_assert_int_eq(beauty->needed, air->fitted[4].from);
    ck_assert_uint_eq(beauty->tease, 0);
    ck_assert_uint_eq(count_of(air, BPI_ROLE_TEASE),
                      2); /* one for all three, one of the other dish */
    ck_assert_ptr_nonnull(hero);
    ck_assert_int_eq(hero->needed, HIT - 1000);
    ck_assert_int_eq(hero->last, HIT - 880);
    ck_assert_uint_eq(hero->tease, 4);
}
END_TEST

START_TEST(the_beauty_comes_on_where_it_stands_beside)
{
    potatoes();
    b_dish(&b, "other", 0)->taste = false;
    static const uint32_t dish[] = {0}, other[] = {1};
    b.beat[0][0].beside = dish;
    b.beat[0][0].besides = 1;
    b.beat[0][1].beside = other;
    b.beat[0][1].besides = 1;
    ck_assert_int_eq(make(), BP_OK);
    const bpi_swap *beauty = swap_of(&live->air[0], BPI_ROLE_BEAUTY, 0);
    ck_assert_uint_eq(swap_of(&live->air[0], BPI_ROLE_BEAUTY, 1)->beats, 1 << 1);
    ck_assert_uint_eq(beauty->first_beat, 0);
    ck_assert_uint_eq(beauty->last_beat, 4);
    ck_assert_uint_eq(beauty->beats, 1 | 1 << 4); /* in between it waits, and nobody shows it */
    ck_assert_int_eq(beauty->needed, HIT);
    ck_assert_str_eq(beauty->why, "beat 1 shows the finished dish");
}
END_TEST

START_TEST(a_tease_belongs_to_the_first_hit_from_it_on)
{
    potatoes();
    b_hit(&b, HIT + 7200);
    b_done(&b);
    static const struct {
        int64_t at;
        uint32_t hit;
    } rows[] = {{HIT - 1, 0},    {HIT, 0},        {HIT + 1, 1},
                {HIT + 7199, 1}, {HIT + 7200, 1}, {HIT + 7201, 1}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const bpi_tease t = {.at = rows[i].at};
        ck_assert_uint_eq(bpi_stage_tease_hit(&b.segment[0], &t), rows[i].hit);
    }
}
END_TEST

START_TEST(teases_near_each_other_share_a_hero_and_each_hit_has_its_own)
{
    potatoes();
    b_hit(&b, HIT + 7200);
    b_tease(&b, HIT - 3000, 10, 0);
    b_tease(&b, HIT - 2900, 10, 0);
    b_tease(&b, HIT + 7200 - 100, 10, 0);
    b.step[0][2].hold_set = 900;
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_uint_eq(count_of(&live->air[0], BPI_ROLE_TEASE), 1);
    ck_assert_int_eq(swap_of(&live->air[0], BPI_ROLE_TEASE, 0)->needed, HIT - 3000);
    ck_assert_int_eq(swap_of(&live->air[0], BPI_ROLE_TEASE, 0)->last, HIT - 2890);
    ck_assert_uint_eq(count_of(&live->air[1], BPI_ROLE_TEASE), 0);
    ck_assert_uint_eq(swap_of(&live->air[1], BPI_ROLE_BEAUTY, 0)->tease, 2);
}
END_TEST

START_TEST(spares_are_of_each_state_at_their_stage)
{
    potatoes();
    b.dish[0][0].spares[BPI_RAW] = 1; /* though no beat shows it raw */
    b.dish[0][0].spares[BPI_MID] = 2; /* of two states */
    b.dish[0][0].spares[BPI_FINISHED] = 1;
    b.dish[0][0].size[BPI_MID] = (bpi_ratio){1, 2};
    ck_assert_int_eq(make(), BP_OK);
    const bpi_air *air = &live->air[0];
    ck_assert_uint_eq(count_of(air, BPI_ROLE_SPARE), 6);
    uint32_t of_state[8] = {0};
    for (uint32_t i = 0; i < air->swaps; i++) {
        const bpi_swap *s = &air->swap[i];
        if (s->role == BPI_ROLE_SPARE)
            of_state[s->steps]++;
        ck_assert_uint_eq(s->size.den, s->stage == BPI_MID ? 2 : 1);
    }
    ck_assert_uint_eq(of_state[0], 1);
    ck_assert_uint_eq(of_state[1], 2);
    ck_assert_uint_eq(of_state[3], 2);
    ck_assert_uint_eq(of_state[7], 1);
}
END_TEST

/* Two containers in one state, both wanted on air at once, are one state all the same. */
START_TEST(a_state_that_stands_twice_has_its_spares_once)
{
    potatoes();
    b.dish[0][0].spares[BPI_MID] = 1;
    b_beat(&b, "again", 0, "mash", 20, 40);
    b.segment[0].slot += 30;
    ck_assert_int_eq(make(), BP_OK);
    const bpi_air *air = &live->air[0];
    uint32_t twice = 0, spares = 0;
    for (uint32_t i = 0; i < air->swaps; i++)
        if (air->swap[i].steps == 3)
            *(air->swap[i].role == BPI_ROLE_SPARE ? &spares : &twice) += 1;
    ck_assert_uint_eq(twice, 2);
    ck_assert_uint_eq(spares, 1);
    /* Nor do the finished ones that are eaten or teased count as states of their own. */
    b_hosts(&b, 2);
    b_tease(&b, HIT - 90000, 10, 0);
    b.step[0][2].hold_set = 900;
    b.dish[0][0].spares[BPI_MID] = 0;
    b.dish[0][0].spares[BPI_FINISHED] = 1;
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_uint_eq(count_of(&live->air[0], BPI_ROLE_SPARE), 1);
    ck_assert_uint_eq(count_of(&live->air[0], BPI_ROLE_TEASE), 1);
    ck_assert_uint_eq(count_of(&live->air[0], BPI_ROLE_TASTE), 1);
}
END_TEST

START_TEST(too_many_containers_are_refused)
{
    potatoes();
    b.dish[0][0].spares[BPI_FINISHED] = BPI_MAX_SWAPS - 3;
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_uint_eq(live->air[0].swaps, BPI_MAX_SWAPS);
    b.dish[0][0].spares[BPI_FINISHED]++;
    ck_assert_int_eq(make(), BP_ELIMIT);
    ck_assert_ptr_null(live);
    ck_assert_uint_eq(errs.n, 1);
    b.dish[0][0].spares[BPI_FINISHED] = BPI_MAX_SWAPS / 2;
    b_hit(&b, HIT + 7200);
    ck_assert_int_eq(make(), BP_ELIMIT); /* over all appearances */
}
END_TEST

/* ---- drafts ------------------------------------------------------------------------------ */

static void shown(bpi_step *s, int64_t least, int64_t most, int32_t worth)
{
    s->shown = true;
    s->air_time = (bpi_length){.least = least, .likely = (least + most) / 2, .most = most};
    s->air_worth = worth;
}

START_TEST(a_slot_without_beats_is_drafted_from_its_recipes)
{
    b_recipe(&b, "potatoes", 4);
    shown(b_step(&b, "cut", BPI_ACTIVE, 240), 30, 60, 20);
    shown(b_step(&b, "simmer", BPI_PASSIVE, 900), 30, 60, 30);
    shown(b_step(&b, "mash", BPI_ACTIVE, 40), 45, 90, 40);
    b_segment(&b, "main", HIT, 240);
    b_dish(&b, "mash", 0);
    b_hosts(&b, 1);
    ck_assert_int_eq(make(), BP_OK);
    const bpi_air *air = &live->air[0];
    static const char *const all[] = {"open",          "mash.cut", "mash.simmer", "mash.mash",
                                      "mash.finished", "taste",    "close"};
    ck_assert(air->drafted);
    ck_assert_uint_eq(air->beats, 7);
    for (uint32_t i = 0; i < 7; i++) {
        ck_assert_str_eq(air->beat[i].id, all[i]);
        ck_assert(!air->fitted[i].dropped);
    }
    must_fill_the_slot(air);
    ck_assert_uint_eq(count_of(air, BPI_ROLE_AIR), 3); /* raw, cut, simmered */

    /* 100 s: besides 41 s of what frames it, the 59 s left have room for the step worth most. */
    b.segment[0].slot = 100;
    ck_assert_int_eq(make(), BP_OK);
    air = &live->air[0];
    ck_assert_uint_eq(air->beats, 5);
    ck_assert_str_eq(air->beat[1].id, "mash.mash");
    must_fill_the_slot(air);

    /* with 101 s two of 30 s each are worth more than one of 45 s */
    b.segment[0].slot = 101;
    ck_assert_int_eq(make(), BP_OK);
    air = &live->air[0];
    ck_assert_uint_eq(air->beats, 6);
    ck_assert_str_eq(air->beat[1].id, "mash.cut");
    ck_assert_str_eq(air->beat[2].id, "mash.simmer");
    must_fill_the_slot(air);
}
END_TEST

START_TEST(words_of_a_step_count_in_a_draft)
{
    b_recipe(&b, "potatoes", 4);
    bpi_step *cut = b_step(&b, "cut", BPI_ACTIVE, 10);
    shown(cut, 2, 5, 20);
    cut->air_words = "a a a a a a a a a a a a a a a a a a a a a a a a a"; /* 25: 10 s */
    b_segment(&b, "main", HIT, 36);
    b_dish(&b, "mash", 0);
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_uint_eq(live->air[0].beats, 4);
    ck_assert_int_eq(live->air[0].fitted[1].length, 10);
    b.segment[0].slot = 35; /* 26 s frame it */
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_uint_eq(live->air[0].beats, 3);
}
END_TEST

START_TEST(a_draft_uses_what_is_not_said)
{
    b_recipe(&b, "potatoes", 4);
    b_step(&b, "cut", BPI_ACTIVE, 10)->shown = true; /* for 15 to 60 s, likely 30 */
    b_segment(&b, "main", HIT, 175)->title = "";
    b_dish(&b, "mash", 0);
    ck_assert_int_eq(make(), BP_OK); /* 45 + 60 + 40 + 30 s: all at their longest */
    ck_assert_str_eq(live->air[0].beat[0].text, "Welcome");
    ck_assert_int_eq(live->air[0].fitted[1].least, 15);
    ck_assert_int_eq(live->air[0].fitted[1].likely, 30);
    ck_assert_int_eq(live->air[0].fitted[1].length, 60);
    b.segment[0].title = "Potatoes";
    ck_assert_int_eq(make(), BP_OK);
    ck_assert_str_eq(live->air[0].beat[0].text, "Welcome: Potatoes");
}
END_TEST

START_TEST(a_draft_whose_frame_overruns_lets_no_beat_go)
{
    b_recipe(&b, "potatoes", 4);
    b_step(&b, "cut", BPI_ACTIVE, 10);
    b_segment(&b, "main", HIT, 20);
    b_dish(&b, "mash", 0);
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_str_eq(errs.item[0].wrong,
                     "the beats of segment main that must stay overrun it by 6 s");
    ck_assert_uint_eq(live->cures, 1); /* what is drafted has no line to change */
    ck_assert_str_eq(live->cure[0].text, "make the slot of main 0:26");
    b.segment[0].slot = 26;
    ck_assert_int_eq(make(), BP_OK);
}
END_TEST

START_TEST(a_draft_that_cannot_fill_the_slot_says_so)
{
    b_recipe(&b, "potatoes", 4);
    shown(b_step(&b, "cut", BPI_ACTIVE, 10), 10, 20, 20);
    b_segment(&b, "main", HIT, 500);
    b_dish(&b, "mash", 0);
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_uint_gt(live->clashes, 0);
    ck_assert_uint_eq(live->cures, 2);
    ck_assert_str_eq(live->cure[0].text, "make the slot of main 2:15");
    ck_assert_str_eq(live->cure[1].text, "let beat mash.cut last up to 6 min 25 s");
}
END_TEST

/* ---- when it cannot be ------------------------------------------------------------------- */

START_TEST(beats_that_must_stay_and_overrun_are_told_with_cures_that_work)
{
    potatoes();
    b.segment[0].slot = 90;
    b.beat[0][2].keep = true; /* 15 + 60 + 15 s at the least: just fits */
    ck_assert_int_eq(make(), BP_OK);
    b.beat[0][2].needs = UINT64_C(1) << 1; /* 30 s more */
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_uint_eq(live->airs, 0);
    ck_assert_uint_eq(live->clashes, 5);
    ck_assert_str_eq(live->clash[0].text, "the slot of main is 1:30");
    ck_assert_str_eq(live->clash[1].text, "beat hello takes at least 15 s and must stay");
    ck_assert_str_eq(live->clash[2].text,
                     "beat in takes at least 30 s and is needed by one that must stay");
    ck_assert_uint_eq(live->cures, 2);
    ck_assert_str_eq(live->cure[0].text, "make the slot of main 2:00");
    ck_assert_str_eq(live->cure[1].text,
                     "let beat chat be dropped"); /* another one alone is too little */
    ck_assert_uint_eq(errs.n, 1);
    ck_assert_str_eq(errs.item[0].wrong,
                     "the beats of segment main that must stay overrun it by 30 s");
    ck_assert_str_eq(errs.item[0].right, live->cure[0].text);

    b.segment[0].slot = 120;
    ck_assert_int_eq(make(), BP_OK);
    b.segment[0].slot = 90;
    b.beat[0][2].keep = false;
    ck_assert_int_eq(make(), BP_OK);
}
END_TEST

START_TEST(beats_that_do_not_fill_the_slot_are_told_with_cures_that_work)
{
    potatoes();
    b.segment[0].slot = 340; /* the most is 305 s */
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_uint_eq(live->clashes, 6);
    ck_assert_str_eq(live->clash[1].text, "beat hello lasts at most 25 s");
    ck_assert_str_eq(errs.item[0].wrong,
                     "the beats of segment main do not fill it: at their longest they miss 35 s");
    ck_assert_uint_eq(live->cures, 6);
    ck_assert_str_eq(live->cure[0].text, "make the slot of main 5:05");
    ck_assert_str_eq(live->cure[3].text, "let beat chat last up to 2 min 35 s");
    b.beat[0][2].time.most = 155;
    ck_assert_int_eq(make(), BP_OK);
    b.beat[0][2].time.most = 154;
    ck_assert_int_eq(make(), BP_ENOFIT);
}
END_TEST

START_TEST(words_that_overrun_can_be_cut)
{
    b_recipe(&b, "potatoes", 4);
    b_step(&b, "cut", BPI_ACTIVE, 10);
    b_segment(&b, "main", HIT, 30);
    b_talk(&b, "hello", 10, 15)->keep = true;
    b.beat[0][0].words = "a a a a a a a a a a a a a a a a a a a a a a a a a"
                         " a a a a a a a a a a a a a a a a a a a a a a a a a";
    b_talk(&b, "bye", 15, 30)->keep = true;
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_str_eq(live->clash[1].text,
                     "beat hello takes at least 20 s for its words, 150 a minute, and must stay");
    ck_assert_str_eq(live->cure[live->cures - 1].text, "cut the words of beat hello to 37");
    b.beat[0][0].words = "a a a a a a a a a a a a a a a a a a a a a a a a a"
                         " a a a a a a a a a a a a";
    ck_assert_int_eq(make(), BP_OK);
    /* Without a word it takes 18 s, and would still overrun by 3: no words to cut are offered. */
    b.beat[0][0].words = "a a a a a a a a a a a a a a a a a a a a a a a a a"
                         " a a a a a a a a a a a a a a a a a a a a a a a a a";
    b.beat[0][0].time = (bpi_length){.least = 18, .likely = 20, .most = 25};
    ck_assert_int_eq(make(), BP_ENOFIT);
    for (uint32_t i = 0; i < live->cures; i++)
        ck_assert_ptr_null(strstr(live->cure[i].text, "cut the words"));
}
END_TEST

START_TEST(beats_that_never_come_out_even_are_told)
{
    b_recipe(&b, "potatoes", 4);
    b_step(&b, "cut", BPI_ACTIVE, 10);
    b_segment(&b, "main", HIT, 45);
    b_talk(&b, "hello", 30, 30)->keep = true;
    b_talk(&b, "one", 20, 20);
    b_talk(&b, "two", 20, 20);
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_uint_ge(live->cures, 3);
    ck_assert_str_eq(live->cure[0].text, "make the slot of main 0:30");
    ck_assert_str_eq(live->cure[1].text, "make the slot of main 0:50");
    ck_assert_str_eq(live->cure[2].text, "let beat hello last up to 45 s");
    ck_assert_uint_eq(live->clashes, 3);
    ck_assert_str_eq(live->clash[0].text, "the slot of main is 0:45");
    ck_assert_str_eq(live->clash[1].text, "all its beats take at least 1:10");
    ck_assert_str_eq(live->clash[2].text,
                     "no choice of beats that keeps what must stay, and what each needs, fills it");
    /* The nearest that comes out even is looked for from the next second on, both ways. */
    b.segment[0].slot = 31;
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_str_eq(live->cure[0].text, "make the slot of main 0:30");
    b.segment[0].slot = 49;
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_str_eq(live->cure[1].text, "make the slot of main 0:50");
}
END_TEST

START_TEST(every_segment_that_cannot_be_is_told_of)
{
    potatoes();
    b.segment[0].slot = 340;
    b_segment(&b, "second", HIT + 7200, 10);
    b_talk(&b, "long", 20, 30)->keep = true;
    b_segment(&b, "third", HIT + 9000, 25);
    b_talk(&b, "fine", 20, 30);
    ck_assert_int_eq(make(), BP_ENOFIT);
    ck_assert_uint_eq(errs.n, 2);
    ck_assert_uint_eq(live->airs, 1);
    ck_assert_uint_eq(live->air[0].segment, 2);
}
END_TEST

/* ---- the same containers serve every shorter slot ---------------------------------------- */

static uint32_t next_of(uint64_t *state)
{
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (uint32_t)(*state >> 33);
}

static int64_t below(uint64_t *state, int64_t n)
{
    return (int64_t)(next_of(state) % (uint32_t)n);
}

/* A random show of one segment with two dishes; a beat does a random step or two. */
static void random_show(uint64_t *state)
{
    static const char *const names[] = {"a", "b", "c", "d", "e"};
    static const char *const pairs[] = {"a b", "b c", "c d", "d e"};
    static const char *const ids[] = {"b1", "b2", "b3", "b4", "b5", "b6", "b7", "b8"};
    for (int r = 0; r < 2; r++) {
        b_recipe(&b, r ? "two" : "one", 4);
        for (int s = 0; s < 5; s++) {
            bpi_step *step = b_step(&b, names[s], below(state, 2) ? BPI_ACTIVE : BPI_PASSIVE,
                                    5 + below(state, 60));
            step->hold_set = below(state, 3) ? BPI_NO_LIMIT : 100;
            if (s > 0 && below(state, 4) == 0)
                step->after = UINT64_C(1) << below(state, s);
        }
    }
    b_segment(&b, "main", HIT, 120 + below(state, 200));
    b_dish(&b, "one", 0);
    b_dish(&b, "two", 1);
    b_hosts(&b, (uint32_t)below(state, 3));
    int beats = 3 + (int)below(state, 6);
    for (int i = 0; i < beats; i++) {
        int64_t least = 10 + below(state, 50), most = least + below(state, 40);
        bpi_beat *beat = NULL;
        switch (below(state, 5)) {
        case 0:
            beat = b_talk(&b, ids[i], least, most);
            break;
        case 1:
            beat = b_beat(&b, ids[i], (uint32_t)below(state, 2), "", least, most);
            beat->shows = below(state, 2) ? BPI_SHOWS_RAW : BPI_SHOWS_FINISHED;
            break;
        case 2:
            beat =
                b_beat(&b, ids[i], (uint32_t)below(state, 2), pairs[below(state, 4)], least, most);
            break;
        default:
            beat =
                b_beat(&b, ids[i], (uint32_t)below(state, 2), names[below(state, 5)], least, most);
        }
        beat->worth = (int32_t)below(state, 50);
        beat->keep = below(state, 6) == 0;
        if (i > 0 && below(state, 5) == 0)
            beat->needs = UINT64_C(1) << below(state, i);
    }
}

START_TEST(random_slots_are_filled_and_every_beat_has_its_container)
{
    uint64_t state = 11;
    uint32_t planned = 0, impossible = 0;
    for (int round = 0; round < 1500; round++) {
        b_release(&b);
        b_init(&b);
        random_show(&state);
        bp_code rc = make();
        if (rc == BP_ENOFIT) {
            impossible++;
            ck_assert_uint_gt(live->clashes, 1);
            ck_assert_uint_gt(errs.n, 0);
            continue;
        }
        ck_assert_int_eq(rc, BP_OK);
        planned++;
        const bpi_air *air = &live->air[0];
        must_fill_the_slot(air);
        ck_assert_uint_eq(count_of(air, BPI_ROLE_BEAUTY), 2);
        ck_assert_uint_eq(count_of(air, BPI_ROLE_TASTE), air->portions ? 2 : 0);
        for (uint32_t i = 0; i < air->beats; i++) {
            const bpi_beat *beat = &air->beat[i];
            if (air->fitted[i].dropped)
                continue;
            for (uint32_t k = 0; k < air->beats; k++)
                ck_assert(!(beat->needs >> k & 1) || !air->fitted[k].dropped);
            if (beat->dish == BPI_NO_INDEX || beat->shows == BPI_SHOWS_FINISHED)
                continue;
            bool served = false; /* a container of the dish is in use at this beat */
            for (uint32_t k = 0; k < air->swaps; k++) {
                const bpi_swap *s = &air->swap[k];
                served |= s->role == BPI_ROLE_AIR && s->dish == beat->dish &&
                          s->needed <= air->fitted[i].from &&
                          s->last >= air->fitted[i].from + air->fitted[i].length;
            }
            ck_assert(served);
        }
        for (uint32_t k = 1; k < air->swaps; k++)
            ck_assert_int_le(air->swap[k - 1].needed, air->swap[k].needed);
    }
    ck_assert_uint_gt(planned, 300);
    ck_assert_uint_gt(impossible, 100);
}
END_TEST

START_TEST(every_request_for_memory_fails_once)
{
    enum { WRITTEN, DRAFTED, SHORT, OVERRUN, GAP, KINDS };
    for (int kind = 0; kind < KINDS; kind++) {
        b_release(&b);
        b_init(&b);
        potatoes();
        b_hosts(&b, 2);
        b_tease(&b, HIT - 3000, 10, 0);
        b.step[0][2].hold_set = 900;
        b.dish[0][0].spares[BPI_RAW] = 1;
        for (uint32_t i = 0; i < 3; i++)
            shown(&b.step[0][i], 20, 40, 10);
        if (kind == DRAFTED)
            b.segment[0].beats = 0;
        if (kind == SHORT)
            b.segment[0].slot = 600;
        if (kind == OVERRUN) {
            b.segment[0].slot = 20;
            b.beat[0][0].words = "a a a a a a a a a a a a a a a a a a a a a a a a a a a a a a a a "
                                 "a a a a a a a a a a";
        }
        if (kind == GAP) { /* 15 s and 30 s or 60 s: not 80 */
            for (uint32_t i = 0; i < 5; i++)
                b.beat[0][i].time.most = b.beat[0][i].time.likely = b.beat[0][i].time.least;
            b.segment[0].slot = 80;
        }
        b_done(&b);
        long alive = bpi_mem_alive();
        bool fired = true;
        for (long k = 0; fired; k++) {
            bpi_arena *a = bpi_arena_new();
            ck_assert_ptr_nonnull(a);
            memset(&errs, 0, sizeof errs);
            bpi_mem_fail_at(k, k % 2 == 0);
            bp_code rc = bpi_live_make(&live, a, &b.show, &errs);
            fired = bpi_mem_failed() != 0;
            bpi_mem_fail_at(-1, 0);
            ck_assert_int_eq(rc, fired ? BP_ENOMEM : kind >= SHORT ? BP_ENOFIT : BP_OK);
            ck_assert_int_eq(errs.n > 0, rc != BP_OK);
            bpi_arena_free(a);
            ck_assert_int_eq(bpi_mem_alive(), alive);
        }
    }
}
END_TEST

/* What is done last decides, not what is still to do or has gone into something; of two, the shorter. */
START_TEST(what_was_done_last_says_how_long_it_keeps_on_the_set)
{
    bpi_step step[] = {{.hold_set = 100},
                       {.hold_set = 50, .before_all = 1},
                       {.hold_set = 70},
                       {.hold_set = 900, .before_all = 7}};
    const bpi_recipe r = {.step = step, .steps = 4};
    ck_assert_int_eq(bpi_stage_hold_set(&r, 0), BPI_NO_LIMIT);
    ck_assert_int_eq(bpi_stage_hold_set(&r, 1), 100);
    ck_assert_int_eq(bpi_stage_hold_set(&r, 3), 50);
    ck_assert_int_eq(bpi_stage_hold_set(&r, 5), 70);
    ck_assert_int_eq(bpi_stage_hold_set(&r, 15), 900);
}
END_TEST

START_TEST(quarters_of_a_recipe_are_in_lowest_terms)
{
    static const struct {
        uint32_t portions, serves, num, den;
    } rows[] = {{1, 4, 1, 4}, {2, 4, 1, 2}, {3, 4, 3, 4},  {4, 4, 1, 1},  {5, 4, 5, 4},
                {6, 4, 3, 2}, {8, 4, 2, 1}, {16, 4, 4, 1}, {1, 100, 1, 4}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bpi_ratio r = bpi_stage_quarters(rows[i].portions, rows[i].serves);
        ck_assert_uint_eq(r.num, rows[i].num);
        ck_assert_uint_eq(r.den, rows[i].den);
    }
}
END_TEST

START_TEST(beats_that_no_effort_chooses_among_are_told)
{
    b_recipe(&b, "potatoes", 4);
    b_step(&b, "cut", BPI_ACTIVE, 10);
    b_segment(&b, "main", HIT, 40001);
    static char ids[BPI_MAX_BEATS][8];
    for (uint32_t i = 0; i < BPI_MAX_BEATS; i++) {
        snprintf(ids[i], sizeof ids[i], "b%u", (unsigned)i);
        b_talk(&b, ids[i], 200 + 38 * i, 200 + 38 * i);
    }
    ck_assert_int_eq(make(), BP_EUNSURE);
    ck_assert_str_eq(errs.item[0].wrong,
                     "no best choice among the beats of segment main was found");
    ck_assert_str_eq(errs.item[0].right, "let fewer beats need each other");
}
END_TEST

Suite *suite_live_live(void);
Suite *suite_live_live(void)
{
    Suite *s = suite_create("live/live");
    TCase *c = tcase_create("live");
    tcase_add_checked_fixture(c, setup, teardown);
    tcase_add_test(c, beats_fill_the_slot_from_the_hit_on);
    tcase_add_test(c, containers_say_when_and_why);
    tcase_add_test(c, reasons_are_english_for_one_and_for_many);
    tcase_add_test(c, words_are_a_floor_under_their_beat);
    tcase_add_test(c, what_overruns_is_dropped_and_nobody_cooks_for_it);
    tcase_add_test(c, a_beat_falls_with_the_one_that_brought_its_container_there);
    tcase_add_test(c, what_must_stay_gets_a_container_of_its_own_rather_than_no_plan);
    tcase_add_test(c, two_hits_each_have_all_their_own);
    tcase_add_test(c, appearances_come_by_hit_time);
    tcase_add_test(c, the_finished_dish_is_there_whether_shown_or_not);
    tcase_add_test(c, everybody_eats_from_a_dish_of_its_own);
    tcase_add_test(c, a_dish_not_to_taste_has_none_and_a_tasting_beat_sets_the_time);
    tcase_add_test(c, the_beauty_stands_through_a_tease_if_it_keeps);
    tcase_add_test(c, teases_after_the_slot_at_one_moment_and_of_another_dish);
    tcase_add_test(c, the_beauty_comes_on_where_it_stands_beside);
    tcase_add_test(c, a_tease_belongs_to_the_first_hit_from_it_on);
    tcase_add_test(c, teases_near_each_other_share_a_hero_and_each_hit_has_its_own);
    tcase_add_test(c, spares_are_of_each_state_at_their_stage);
    tcase_add_test(c, a_state_that_stands_twice_has_its_spares_once);
    tcase_add_test(c, too_many_containers_are_refused);
    tcase_add_test(c, a_slot_without_beats_is_drafted_from_its_recipes);
    tcase_add_test(c, words_of_a_step_count_in_a_draft);
    tcase_add_test(c, a_draft_uses_what_is_not_said);
    tcase_add_test(c, a_draft_whose_frame_overruns_lets_no_beat_go);
    tcase_add_test(c, a_draft_that_cannot_fill_the_slot_says_so);
    tcase_add_test(c, beats_that_must_stay_and_overrun_are_told_with_cures_that_work);
    tcase_add_test(c, beats_that_do_not_fill_the_slot_are_told_with_cures_that_work);
    tcase_add_test(c, words_that_overrun_can_be_cut);
    tcase_add_test(c, beats_that_never_come_out_even_are_told);
    tcase_add_test(c, every_segment_that_cannot_be_is_told_of);
    tcase_add_test(c, random_slots_are_filled_and_every_beat_has_its_container);
    tcase_add_test(c, every_request_for_memory_fails_once);
    tcase_add_test(c, what_was_done_last_says_how_long_it_keeps_on_the_set);
    tcase_add_test(c, quarters_of_a_recipe_are_in_lowest_terms);
    tcase_add_test(c, beats_that_no_effort_chooses_among_are_told);
    suite_add_tcase(s, c);
    return s;
}

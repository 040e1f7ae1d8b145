/* The floor of a shipped show, moment by moment, without a terminal. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/floor.h"
#include "backpot/show.h"
#include "base/memory.h"

#define WORK 4000000 /* enough for a plan, not for the best one */

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;
static bp_floor *floor_;
static bp_floor_view view;
static const bp_air *air;

/* Once for all tests: they do not change it. */
static void make_plan(void)
{
    bp_plan_options options = {.work = WORK};
    ck_assert(bp_show_open(&show, "shows/harbour-breakfast.json", &errs) == BP_OK);
    ck_assert(bp_plan_make(&plan, show, &options, &errs) == BP_OK);
    air = &plan->air[0];
}

static void free_plan(void)
{
    bp_plan_free(plan);
    bp_show_free(show);
}

static void set_up(void)
{
    errs = (bp_errors){0};
    ck_assert_int_eq(bp_floor_new(&floor_, plan, &errs), BP_OK);
}

static void tear_down(void)
{
    bp_floor_free(floor_);
}

static const char *id(uint32_t beat)
{
    return plan->beat[air->beats.first + beat].id;
}

static uint32_t number(const char *beat)
{
    uint32_t i = 0;
    while (i < air->beats.n && strcmp(id(i), beat) != 0)
        i++;
    return i;
}

/* Something happens so many seconds after the planned hit. */
static bp_code happens(bp_event_kind kind, int64_t t, const char *beat, int64_t seconds)
{
    bp_event e = {.kind = kind,
                  .at = air->hit + t,
                  .air = air->id,
                  .beat = beat,
                  .op = "",
                  .text = "",
                  .seconds = seconds};
    bp_code can = bp_floor_can(floor_, &e, &errs), does = bp_floor_apply(floor_, &e, &errs);
    ck_assert_int_eq(can, does);
    return does;
}

static void must(bp_event_kind kind, int64_t t, const char *beat, int64_t seconds)
{
    ck_assert_msg(happens(kind, t, beat, seconds) == BP_OK, "%s", errs.item[0].wrong);
}

static void refused(bp_event_kind kind, int64_t t, const char *beat, int64_t seconds)
{
    static bp_floor_view before;
    ck_assert_int_eq(bp_floor_look(&before, floor_, air->hit + t, &errs), BP_OK);
    errs.n = 0;
    ck_assert_int_eq(happens(kind, t, beat, seconds), BP_EVALUE);
    ck_assert_uint_eq(errs.n, 2);
    ck_assert_int_eq(bp_floor_look(&view, floor_, air->hit + t, &errs), BP_OK);
    ck_assert_int_eq(view.phase, before.phase);
    ck_assert_uint_eq(view.beat, before.beat);
    ck_assert_int_eq(view.length, before.length);
    ck_assert_uint_eq(view.out, before.out);
}

static void look(int64_t t)
{
    ck_assert_int_eq(bp_floor_look(&view, floor_, air->hit + t, &errs), BP_OK);
}

/* What must hold of every view: the beats left fill what is left, or it says by how much not. */
static void adds_up(void)
{
    int64_t at = view.elapsed, sum = 0;
    for (uint32_t i = 0; i < air->beats.n; i++)
        if (view.fit.kept >> i & 1) {
            if (i == view.beat)
                at = view.fit.from[i];
            ck_assert_int_eq(view.fit.from[i], at);
            at += view.fit.length[i];
            sum += view.fit.length[i];
        }
    ck_assert(sum > 0);
    ck_assert_int_eq(at - view.length, view.fit.over);
    ck_assert_uint_eq(view.done & view.fit.kept, 0);
    ck_assert_uint_eq(view.out & view.fit.kept, 0);
    ck_assert_uint_eq(view.gone & (view.fit.kept | view.done | view.out), 0);
}

static void run_to(uint32_t beat)
{
    must(BP_DAY_HIT, 0, "", 0);
    for (uint32_t i = 0; i <= beat; i++)
        must(BP_DAY_BEAT, plan->beat[air->beats.first + i].time_in, id(i), 0);
}

/* ---- as planned ------------------------------------------------------------------------------ */

START_TEST(before_the_hit_it_counts_down)
{
    look(-90);
    ck_assert_int_eq(view.phase, BP_FLOOR_BEFORE);
    ck_assert_int_eq(view.hit - view.now, 90);
    ck_assert_int_eq(view.length, air->slot);
    ck_assert_int_eq(view.drift, 0);
    ck_assert_uint_eq(view.beat, BP_NO_INDEX);
    ck_assert_uint_eq(view.next, 0);
    adds_up();
}
END_TEST

/* A slot that goes to plan shows the cue sheet's own times at each second of it. */
START_TEST(a_slot_that_goes_to_plan_is_the_cue_sheet)
{
    must(BP_DAY_HIT, 0, "", 0);
    for (uint32_t i = 0; i < air->beats.n; i++) {
        const bp_beat *b = &plan->beat[air->beats.first + i];
        must(BP_DAY_BEAT, b->time_in, b->id, 0);
        for (int64_t t = b->time_in; t < b->time_in + b->length; t++) {
            look(t);
            ck_assert_int_eq(view.phase, BP_FLOOR_ON);
            ck_assert_uint_eq(view.beat, i);
            ck_assert_uint_eq(view.next, i + 1 < air->beats.n ? i + 1 : BP_NO_INDEX);
            ck_assert_int_eq(view.beat_left, b->time_in + b->length - t);
            ck_assert_int_eq(view.beat_long, b->length);
            ck_assert_int_eq(view.drift, 0);
            ck_assert_int_eq(view.fit.over, 0);
            adds_up();
        }
    }
    must(BP_DAY_OFF, air->slot, "", 0);
    look(air->slot + 5);
    ck_assert_int_eq(view.phase, BP_FLOOR_OFF);
    ck_assert_int_eq(view.elapsed, air->slot);
}
END_TEST

/* Containers come and go as the plan's own lists say. */
START_TEST(containers_come_and_go_as_planned)
{
    must(BP_DAY_HIT, 0, "", 0);
    for (uint32_t i = 0; i < air->beats.n; i++) {
        const bp_beat *b = &plan->beat[air->beats.first + i];
        must(BP_DAY_BEAT, b->time_in, b->id, 0);
        look(b->time_in);
        for (uint32_t k = i; k < air->beats.n; k++) {
            uint32_t list[8], n = bp_floor_comes(list, 8, floor_, &view, k);
            for (uint32_t c = 0; c < n; c++)
                ck_assert(bp_slot_uses(plan, list[c], UINT64_C(1) << k));
            for (uint32_t c = 0; c < n; c++)
                for (uint32_t j = 0; j < k; j++)
                    ck_assert(!bp_slot_uses(plan, list[c], UINT64_C(1) << j));
        }
    }
    look(0);
    uint32_t in[8], out[8];
    ck_assert_uint_eq(bp_floor_comes(in, 8, floor_, &view, number("blend")), 1);
    ck_assert_uint_eq(bp_floor_goes(out, 8, floor_, &view, number("blend")), 1);
    ck_assert_uint_eq(in[0], out[0]);
}
END_TEST

/* ---- what the keys do ------------------------------------------------------------------------ */

START_TEST(a_beat_that_runs_over_is_made_up_in_those_to_come)
{
    run_to(1);
    const bp_beat *b = &plan->beat[air->beats.first + 1];
    int64_t end = b->time_in + b->length;
    look(end + 7);
    ck_assert_uint_eq(view.beat, 1);
    ck_assert_int_eq(view.beat_left, -7);
    ck_assert_int_eq(view.drift, 7);
    ck_assert_int_eq(view.fit.over, 0);
    ck_assert_int_eq(view.fit.from[2], end + 7);
    adds_up();
    must(BP_DAY_BEAT, end + 7, id(2), 0);
    look(end + 7);
    ck_assert_int_eq(view.drift, 7);
    ck_assert_int_eq(view.fit.over, 0);
    adds_up();
}
END_TEST

START_TEST(a_beat_that_ends_early_gives_its_time_to_the_others)
{
    run_to(1);
    const bp_beat *b = &plan->beat[air->beats.first + 1];
    int64_t at = b->time_in + b->length - 9;
    must(BP_DAY_BEAT, at, id(2), 0);
    look(at);
    ck_assert_int_eq(view.drift, -9);
    ck_assert_int_eq(view.fit.over, 0);
    adds_up();
}
END_TEST

START_TEST(a_cut_refits_at_once)
{
    run_to(1);
    for (int64_t cut = 10; cut <= air->slot; cut += 10) {
        must(BP_DAY_CUT, 40, "", 10);
        look(40);
        ck_assert_int_eq(view.length, air->slot - cut);
        adds_up();
    }
    ck_assert_int_gt(view.fit.over, 0);
    refused(BP_DAY_CUT, 40, "", 10);
    must(BP_DAY_CUT, 40, "", -air->slot / 10 * 10);
    look(40);
    ck_assert_int_eq(view.length, air->slot);
    ck_assert_int_eq(view.fit.over, 0);
    ck_assert_uint_eq(view.gone, 0);
}
END_TEST

START_TEST(back_is_as_if_next_had_never_been_pressed)
{
    static bp_floor_view before;
    run_to(2);
    look(100);
    before = view;
    must(BP_DAY_BEAT, 101, id(3), 0);
    look(102);
    ck_assert_uint_eq(view.beat, 3);
    must(BP_DAY_BACK, 102, id(2), 0);
    look(100);
    ck_assert_mem_eq(&view, &before, sizeof view);
    refused(BP_DAY_BACK, 103, id(0), 0);
    refused(BP_DAY_BEAT, 103, id(0), 0);
    must(BP_DAY_BACK, 103, id(1), 0);
}
END_TEST

START_TEST(off_air_can_be_taken_back)
{
    run_to(air->beats.n - 1);
    must(BP_DAY_OFF, air->slot - 4, "", 0);
    look(air->slot + 30);
    ck_assert_int_eq(view.phase, BP_FLOOR_OFF);
    ck_assert_int_eq(view.elapsed, air->slot - 4);
    ck_assert_uint_eq(view.done, (UINT64_C(1) << air->beats.n) - 1);
    refused(BP_DAY_BACK, air->slot - 2, id(0), 0);
    must(BP_DAY_BACK, air->slot - 2, id(air->beats.n - 1), 0);
    look(air->slot - 2);
    ck_assert_int_eq(view.phase, BP_FLOOR_ON);
    ck_assert_int_eq(view.elapsed, air->slot - 2);
}
END_TEST

START_TEST(a_hold_takes_no_time_of_the_slot)
{
    run_to(2);
    must(BP_DAY_HOLD, 90, "", 0);
    must(BP_DAY_HOLD, 95, "", 0); /* two people */
    look(120);
    ck_assert_int_eq(view.phase, BP_FLOOR_HELD);
    ck_assert_int_eq(view.held, 30);
    ck_assert_int_eq(view.elapsed, 90);
    must(BP_DAY_GO_ON, 130, "", 0);
    must(BP_DAY_GO_ON, 131, "", 0);
    look(140);
    ck_assert_int_eq(view.phase, BP_FLOOR_ON);
    ck_assert_int_eq(view.elapsed, 100);
    adds_up();
}
END_TEST

START_TEST(a_beat_dropped_by_hand_stays_out_until_it_is_kept)
{
    run_to(1);
    uint32_t blend = number("blend");
    must(BP_DAY_DROP, 40, "blend", 0);
    look(40);
    ck_assert(view.out >> blend & 1);
    adds_up();
    refused(BP_DAY_BEAT, 41, "blend", 0);
    refused(BP_DAY_DROP, 41, id(1), 0);
    must(BP_DAY_KEEP, 45, "blend", 0);
    look(45);
    ck_assert(view.fit.kept >> blend & 1);
    ck_assert_uint_eq(view.out, 0);
    adds_up();
}
END_TEST

START_TEST(a_late_hit_moves_the_whole_slot)
{
    must(BP_DAY_LATE, -60, "", 120);
    look(0);
    ck_assert_int_eq(view.hit, air->hit + 120);
    ck_assert_int_eq(view.length, air->slot);
    must(BP_DAY_LATE, 10, "", 90); /* in all, not more */
    look(10);
    ck_assert_int_eq(view.hit, air->hit + 90);
    must(BP_DAY_HIT, 100, "", 0);
    look(105);
    ck_assert_int_eq(view.hit, air->hit + 100);
    ck_assert_int_eq(view.elapsed, 5);
    refused(BP_DAY_LATE, 106, "", 10);
}
END_TEST

START_TEST(what_comes_too_late_to_keep_is_told)
{
    uint32_t stale = 0;
    for (int64_t late = 0; late <= 4 * 3600; late += 600) {
        must(BP_DAY_LATE, -60, "", late);
        look(0);
        if (view.spoils == BP_NO_INDEX)
            continue;
        stale++;
        const bp_container *c = &plan->container[view.spoils];
        ck_assert_int_eq(view.spoils_at, view.unsafe ? c->use_by : c->best_by);
        ck_assert_int_lt(view.spoils_at, view.hit + view.length);
    }
    ck_assert_uint_gt(stale, 0);
    must(BP_DAY_LATE, -60, "", 0);
    look(0);
    ck_assert_uint_eq(view.spoils, BP_NO_INDEX);
}
END_TEST

/* A camera that needs 20 s between stations, at the first beat and at the second, then at the third. */
START_TEST(a_camera_on_its_way_is_told_and_has_the_time_of_the_beats_between)
{
    bp_beat *b = (bp_beat *)&plan->beat[air->beats.first], kept[3];
    memcpy(kept, b, sizeof kept);
    for (uint32_t i = 0; i < 3; i++)
        b[i].place = 0;
    b[0].station = "front", b[1].station = b[2].station = "stove";
    b[0].camera = b[1].camera = "close-up";
    b[1].camera_move = 20;
    look(-10);
    ck_assert_int_eq(view.camera_late[0], 0);
    ck_assert_int_eq(view.camera_late[1], 20);
    run_to(0);
    look(5);
    ck_assert_int_eq(view.camera_late[1], 20);
    b[1].camera = "", b[1].camera_move = 0;
    b[2].camera = "close-up";
    b[2].camera_move = 20;
    must(BP_DAY_BEAT, 15, id(1), 0); /* from 15 s on */
    look(16);
    int64_t gap = view.fit.from[2] - 15;
    ck_assert_int_eq(view.camera_late[2], gap < 20 ? 20 - gap : 0);
    must(BP_DAY_BEAT, 22, id(2), 0); /* the second lasted 7 s */
    look(23);
    ck_assert_int_eq(view.camera_late[2], 13);
    ck_assert_int_eq(view.camera_late[1], 0);
    memcpy(b, kept, sizeof kept);
}
END_TEST

START_TEST(nothing_happens_before_the_hit_that_cannot)
{
    refused(BP_DAY_BEAT, -5, id(0), 0);
    refused(BP_DAY_BACK, -5, id(0), 0);
    refused(BP_DAY_HOLD, -5, "", 0);
    refused(BP_DAY_GO_ON, -5, "", 0);
    refused(BP_DAY_OFF, -5, "", 0);
    bp_event e = {.kind = BP_DAY_HIT, .air = "nowhere", .beat = "", .op = "", .text = ""};
    ck_assert_int_eq(bp_floor_apply(floor_, &e, &errs), BP_EVALUE);
    e = (bp_event){.kind = BP_DAY_DROP, .air = air->id, .beat = "none", .op = "", .text = ""};
    ck_assert_int_eq(bp_floor_apply(floor_, &e, &errs), BP_EVALUE);
    e = (bp_event){.kind = BP_DAY_DONE, .air = "", .beat = "", .op = "any", .text = ""};
    ck_assert_int_eq(bp_floor_apply(floor_, &e, &errs), BP_OK); /* the kitchen's own affair */
}
END_TEST

/* Two people press the same key, or one does twice. */
START_TEST(pressed_twice_is_pressed_once)
{
    static bp_floor_view once;
    run_to(1);
    look(60);
    once = view;
    must(BP_DAY_HIT, 50, "", 0);
    must(BP_DAY_BEAT, 51, id(1), 0);
    must(BP_DAY_BACK, 52, id(1), 0); /* to the beat that is on air */
    look(60);
    ck_assert_mem_eq(&view, &once, sizeof view);
    must(BP_DAY_OFF, 70, "", 0);
    must(BP_DAY_OFF, 80, "", 0);
    look(90);
    ck_assert_int_eq(view.elapsed, 70);
}
END_TEST

START_TEST(a_slot_that_ends_while_it_is_held_lasted_until_the_hold)
{
    run_to(2);
    must(BP_DAY_HOLD, 90, "", 0);
    must(BP_DAY_OFF, 120, "", 0);
    look(130);
    ck_assert_int_eq(view.phase, BP_FLOOR_OFF);
    ck_assert_int_eq(view.elapsed, 90);
    refused(BP_DAY_CUT, 131, "", 10);
    refused(BP_DAY_DROP, 131, id(3), 0);
    refused(BP_DAY_HOLD, 131, "", 0);
    refused(BP_DAY_LATE, 131, "", 60);
}
END_TEST

/* The slot once more, an hour after it. */
START_TEST(the_slot_that_is_on_or_next_is_shown)
{
    bp_air twice[2] = {*air, *air};
    bp_plan two = *plan, none = *plan;
    twice[1].id = "again";
    twice[1].hit += 3600;
    two.air = twice;
    two.airs = 2;
    none.airs = 0;
    bp_floor_free(floor_);
    ck_assert_int_eq(bp_floor_new(&floor_, &none, &errs), BP_EVALUE);
    ck_assert_ptr_null(floor_);
    ck_assert_int_eq(bp_floor_new(&floor_, &two, &errs), BP_OK);
    look(-10);
    ck_assert_uint_eq(view.air, 0);
    run_to(0);
    must(BP_DAY_OFF, 100, "", 0);
    look(159); /* how it went, for a minute */
    ck_assert_uint_eq(view.air, 0);
    look(160);
    ck_assert_uint_eq(view.air, 1);
    ck_assert_int_eq(view.phase, BP_FLOOR_BEFORE);
    bp_event e = {.kind = BP_DAY_HIT, .at = air->hit + 110, .air = "again", .beat = ""};
    ck_assert_int_eq(bp_floor_apply(floor_, &e, &errs), BP_OK);
    look(120); /* what is on air goes before */
    ck_assert_uint_eq(view.air, 1);
    ck_assert_int_eq(view.phase, BP_FLOOR_ON);
    e.kind = BP_DAY_OFF;
    e.at = air->hit + 200;
    ck_assert_int_eq(bp_floor_apply(floor_, &e, &errs), BP_OK);
    look(259);
    ck_assert_uint_eq(view.air, 1);
    look(10000); /* the day is over */
    ck_assert_uint_eq(view.air, 1);
    ck_assert_int_eq(view.phase, BP_FLOOR_OFF);
}
END_TEST

/* ---- from a log ------------------------------------------------------------------------------ */

/* However a run of events is cut in two, following both parts is following the whole. */
START_TEST(a_log_followed_in_parts_is_the_same_floor)
{
    const char *a = air->id;
    bp_event event[] = {
        {.kind = BP_DAY_OPEN, .at = air->hit - 9, .air = "", .beat = ""},
        {.kind = BP_DAY_HIT, .at = air->hit + 3, .air = a, .beat = ""},
        {.kind = BP_DAY_BEAT, .at = air->hit + 3, .air = a, .beat = id(0)},
        {.kind = BP_DAY_CUT, .at = air->hit + 20, .air = a, .beat = "", .seconds = 60},
        {.kind = BP_DAY_BEAT, .at = air->hit + 22, .air = a, .beat = id(1)},
        {.kind = BP_DAY_DROP, .at = air->hit + 30, .air = a, .beat = id(3)},
        {.kind = BP_DAY_HOLD, .at = air->hit + 35, .air = a, .beat = ""},
        {.kind = BP_DAY_GO_ON, .at = air->hit + 55, .air = a, .beat = ""},
        {.kind = BP_DAY_BEAT, .at = air->hit + 70, .air = a, .beat = id(2)},
    };
    uint32_t n = sizeof event / sizeof *event;
    bp_log log = {.file = "t.log", .event = event, .events = n};
    ck_assert_int_eq(bp_floor_follow(floor_, &log, &errs), BP_OK);
    look(80);
    static bp_floor_view whole;
    whole = view;
    for (uint32_t cut = 0; cut <= n; cut++) {
        bp_floor *f = NULL;
        ck_assert_int_eq(bp_floor_new(&f, plan, &errs), BP_OK);
        log.events = cut;
        ck_assert_int_eq(bp_floor_follow(f, &log, &errs), BP_OK);
        log.events = n;
        ck_assert_int_eq(bp_floor_follow(f, &log, &errs), BP_OK);
        ck_assert_int_eq(bp_floor_look(&view, f, air->hit + 80, &errs), BP_OK);
        ck_assert_mem_eq(&view, &whole, sizeof view);
        bp_floor_free(f);
    }
    ck_assert_int_eq(view.elapsed, 57);
    ck_assert_int_eq(view.length, air->slot - 60);
}
END_TEST

START_TEST(an_event_that_cannot_be_is_told_by_its_line)
{
    bp_event event[] = {{.kind = BP_DAY_OPEN, .line = 2},
                        {.kind = BP_DAY_HOLD, .line = 3, .air = air->id}};
    bp_log log = {.file = "t.log", .event = event, .events = 2};
    ck_assert_int_eq(bp_floor_follow(floor_, &log, &errs), BP_EVALUE);
    ck_assert_str_eq(errs.item[0].file, "t.log");
    ck_assert_uint_eq(errs.item[0].line, 3);
}
END_TEST

START_TEST(memory_that_is_refused_is_told)
{
    for (long k = 0; k < 2; k++) {
        bp_floor *f = NULL;
        errs.n = 0;
        bpi_mem_fail_at(k, 0);
        ck_assert_int_eq(bp_floor_new(&f, plan, &errs), BP_ENOMEM);
        bpi_mem_fail_at(-1, 0);
        ck_assert_ptr_null(f);
        ck_assert_uint_eq(errs.n, 1);
    }
    bpi_mem_fail_at(0, 1);
    bp_code rc = bp_floor_look(&view, floor_, air->hit, &errs);
    bpi_mem_fail_at(-1, 0);
    ck_assert_int_eq(rc, BP_ENOMEM);
}
END_TEST

Suite *suite_day_floor(void);
Suite *suite_day_floor(void)
{
    Suite *s = suite_create("day/floor");
    TCase *c = tcase_create("floor");
    tcase_add_unchecked_fixture(c, make_plan, free_plan);
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, before_the_hit_it_counts_down);
    tcase_add_test(c, a_slot_that_goes_to_plan_is_the_cue_sheet);
    tcase_add_test(c, containers_come_and_go_as_planned);
    tcase_add_test(c, a_beat_that_runs_over_is_made_up_in_those_to_come);
    tcase_add_test(c, a_beat_that_ends_early_gives_its_time_to_the_others);
    tcase_add_test(c, a_cut_refits_at_once);
    tcase_add_test(c, back_is_as_if_next_had_never_been_pressed);
    tcase_add_test(c, off_air_can_be_taken_back);
    tcase_add_test(c, a_hold_takes_no_time_of_the_slot);
    tcase_add_test(c, a_beat_dropped_by_hand_stays_out_until_it_is_kept);
    tcase_add_test(c, a_late_hit_moves_the_whole_slot);
    tcase_add_test(c, what_comes_too_late_to_keep_is_told);
    tcase_add_test(c, a_camera_on_its_way_is_told_and_has_the_time_of_the_beats_between);
    tcase_add_test(c, nothing_happens_before_the_hit_that_cannot);
    tcase_add_test(c, pressed_twice_is_pressed_once);
    tcase_add_test(c, a_slot_that_ends_while_it_is_held_lasted_until_the_hold);
    tcase_add_test(c, the_slot_that_is_on_or_next_is_shown);
    tcase_add_test(c, a_log_followed_in_parts_is_the_same_floor);
    tcase_add_test(c, an_event_that_cannot_be_is_told_by_its_line);
    tcase_add_test(c, memory_that_is_refused_is_told);
    suite_add_tcase(s, c);
    return s;
}

/* A slot under way, asked of whole plans. */
#include "backpot/slot.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "live/live.h"
#include "support/share.h"

#define WORK 4000000 /* enough for a plan, not for the best one */

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

static void make(const char *file)
{
    bp_plan_options options = {.work = WORK};
    errs.n = errs.more = 0;
    ck_assert_msg(bp_show_open(&show, file, &errs) == BP_OK, "%s", errs.item[0].wrong);
    bp_code rc = bp_plan_make(&plan, show, &options, &errs);
    ck_assert_msg(rc == BP_OK, "%s", errs.item[0].wrong);
}

static void done(void)
{
    bp_plan_free(plan);
    bp_show_free(show);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

static const char *const shows[] = {"shows/harbour-breakfast.json",
                                    "shows/orchard-two-segments.json",
                                    "shows/festival-two-hits.json", "shows/cottage-remote.json"};

START_TEST(at_its_own_length_a_slot_is_as_planned_at_every_beat)
{
    make(shows[_i]);
    for (uint32_t a = 0; a < plan->airs; a++) {
        const bp_air *air = &plan->air[a];
        uint64_t past = 0;
        for (uint32_t i = 0; i <= air->beats.n; i++) {
            const bp_beat *b = &plan->beat[air->beats.first + i];
            bool here = i < air->beats.n && !b->dropped;
            bp_slot_now now = {.beat = i, .length = air->slot, .done = past};
            now.elapsed = here ? b->time_in : i < air->beats.n ? 0 : air->slot;
            if (i < air->beats.n && !here)
                continue;
            bp_slot_fit fit;
            ck_assert_int_eq(bp_slot_refit(&fit, plan, a, &now, &errs), BP_OK);
            ck_assert_int_eq(fit.over, 0);
            ck_assert_uint_eq(fit.stranded, 0);
            for (uint32_t k = i; k < air->beats.n; k++) {
                const bp_beat *o = &plan->beat[air->beats.first + k];
                ck_assert_int_eq(fit.kept >> k & 1, !o->dropped);
                ck_assert_int_eq(fit.length[k], o->length);
                ck_assert_int_eq(fit.from[k], o->dropped ? 0 : o->time_in);
            }
            past |= here ? UINT64_C(1) << i : 0;
        }
        for (uint32_t c = 0; c < plan->containers; c++)
            if (plan->container[c].air == a && plan->container[c].beat != BP_NO_INDEX) {
                ck_assert(bp_slot_uses(plan, c, past));
                ck_assert(!bp_slot_uses(plan, c, 0));
            }
    }
    done();
}
END_TEST

/* A slot written shorter in the show file is what its version says, second by second. */
START_TEST(versions_are_what_a_show_of_that_length_gives)
{
    make(shows[_i]);
    uint32_t seconds = 0;
    for (uint32_t a = 0; a < plan->airs; a++) {
        const bp_air *air = &plan->air[a];
        uint32_t g = 0;
        while (strncmp(show->segment[g].id, air->id, strlen(show->segment[g].id)) != 0)
            g++;
        bpi_segment *segment = (bpi_segment *)&show->segment[g];
        int64_t longest = plan->version[air->versions.first].most;
        int64_t shortest = plan->version[air->versions.first + air->versions.n - 1].least;
        ck_assert_int_ge(longest, air->slot);
        ck_assert_int_le(shortest, air->slot);
        for (int64_t slot = shortest; slot <= longest && !air->drafted; slot++) {
            uint32_t v = air->versions.first, end = v + air->versions.n;
            while (v < end && (slot < plan->version[v].least || slot > plan->version[v].most))
                v++;
            bpi_arena *arena = bpi_arena_new();
            bpi_live *live = NULL;
            segment->slot = slot;
            errs.n = errs.more = 0;
            bp_code rc = bpi_live_make(&live, arena, show, &errs);
            ck_assert_int_eq(rc, v < end ? BP_OK : BP_ENOFIT);
            const bpi_air *then = NULL;
            for (uint32_t k = 0; rc == BP_OK && k < live->airs; k++)
                if (live->air[k].segment == g && live->air[k].at == air->hit)
                    then = &live->air[k];
            for (uint32_t i = 0; then && i < then->beats; i++) {
                ck_assert_int_eq(plan->version[v].kept >> i & 1, !then->fitted[i].dropped);
                if (slot == plan->version[v].least)
                    ck_assert_int_eq(plan->index[plan->version[v].at_least.first + i],
                                     then->fitted[i].length);
                if (slot == plan->version[v].most)
                    ck_assert_int_eq(plan->index[plan->version[v].at_most.first + i],
                                     then->fitted[i].length);
            }
            seconds += then != NULL;
            bpi_arena_free(arena);
        }
        segment->slot = air->slot;
    }
    ck_assert(seconds > 100 || plan->air[0].drafted);
    done();
}
END_TEST

/* Would the hit do, so much later, with everything cooked and carried as planned? By the words of
 * plan.h, second by second. */
static bool does(uint32_t a, int64_t later)
{
    const bp_air *air = &plan->air[a];
    int64_t hit = air->hit + later, end = hit + air->slot;
    for (uint32_t k = 0; k < plan->airs; k++)
        if (k != a && (plan->air[k].hit < air->hit
                           ? plan->air[k].hit + plan->air[k].slot + plan->air[k].floats > hit
                           : plan->air[k].hit < end))
            return false;
    for (uint32_t i = 0; i < plan->containers; i++) {
        const bp_container *c = &plan->container[i];
        if (c->air != a || c->role == BP_ROLE_TEASE)
            continue;
        int64_t first = c->needed > air->hit ? c->needed : air->hit;
        if (c->on_set > first + later)
            return false;
        int64_t last = c->last - air->floats + later;
        if (c->best_by != BP_NO_TIME && last > c->best_by)
            return false;
        if (c->use_by != BP_NO_TIME && last > c->use_by)
            return false;
    }
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *op = &plan->op[i];
        if (op->air != a)
            continue;
        if (op->kind == BP_OP_RESET && op->latest_from < end)
            return false;
        for (uint32_t k = 0; op->kind == BP_OP_STAND_BY && k < plan->ops; k++)
            if (plan->op[k].person == op->person && plan->op[k].from >= op->to &&
                plan->op[k].from < end)
                return false;
        for (uint32_t k = 0; op->kind == BP_OP_STAND_BY && k < plan->stints; k++)
            if (plan->stint[k].person == op->person && plan->stint[k].call <= op->from &&
                plan->stint[k].release >= op->to && plan->stint[k].wrap < end)
                return false;
    }
    return true;
}

START_TEST(a_hit_moves_as_far_as_everything_bears_it)
{
    make(shows[_i]);
    for (uint32_t a = 0; a < plan->airs; a++) {
        const bp_air *air = &plan->air[a];
        ck_assert_int_le(air->hit_from, air->hit);
        ck_assert(air->hit_to == BP_NO_TIME || air->hit_to >= air->hit);
        ck_assert(air->hit_from_why[0]);
        for (int64_t later = -7200; later <= 7200; later += share()) {
            int64_t hit = air->hit + later;
            bool in = hit >= air->hit_from && (air->hit_to == BP_NO_TIME || hit <= air->hit_to);
            ck_assert_msg(does(a, later) == in, "%s, %lld s later", air->id, (long long)later);
        }
        if (air->hit_to_box != BP_NO_INDEX)
            ck_assert_int_eq(plan->container[air->hit_to_box].hit_to, air->hit_to);
        if (air->hit_from_box != BP_NO_INDEX)
            ck_assert_int_eq(plan->container[air->hit_from_box].hit_from, air->hit_from);
    }
    done();
}
END_TEST

/* Second by second: the camera sets off when its last beat ends, and every second after it is wanted
 * in which it has not come is one that it is late. */
static int64_t late_by_ticking(const bp_beat *beat, uint32_t n, uint32_t i, const int64_t *from,
                               const int64_t *length)
{
    int64_t last = from[n - 1] + length[n - 1], here = 0, wanted = 0, late = 0;
    const char *at = NULL, *to = NULL;
    for (int64_t t = 0; t < from[i]; t++)
        for (uint32_t k = 0; k < i; k++)
            if (t >= from[k] && t < from[k] + length[k] &&
                !strcmp(beat[k].camera, beat[i].camera)) {
                at = beat[k].station;
                here = t + 1;
            }
    to = beat[i].station;
    wanted = from[i];
    for (int64_t step = i ? beat[i].place - beat[i - 1].place : 0; step; step += step > 0 ? -1 : 1)
        wanted++;
    if (!at || !beat[i].camera_move || strcmp(at, to) == 0)
        return 0;
    for (int64_t left = beat[i].camera_move, t = here; left > 0 && t < last + 1000; left--, t++)
        late += t >= wanted;
    return late;
}

START_TEST(a_camera_is_late_by_the_seconds_it_is_not_there)
{
    static const char *const station[] = {"front", "counter", "stove"}, *const camera[] = {"", "a",
                                                                                           "b"};
    static const int64_t place[] = {0, 3, 7}, move[] = {0, 6, 25};
    uint32_t word = 20261015, lates = 0;
    for (int round = 0; round < 2000; round++) {
        bp_beat beat[6], kept_beat[6];
        int64_t from[BP_SLOT_BEATS] = {0}, length[BP_SLOT_BEATS] = {0}, late[BP_SLOT_BEATS];
        int64_t kept_from[6], kept_length[6], at = 0;
        uint32_t number[6], n = 0;
        uint64_t kept = 0;
        for (uint32_t i = 0; i < 6; i++) {
            uint32_t s = (word = word * 1664525 + 1013904223) >> 16, c = s / 3 % 3;
            beat[i] = (bp_beat){.station = station[s % 3],
                                .place = place[s % 3],
                                .camera = camera[c],
                                .camera_move = move[c]};
            if (s / 9 % 4 == 0)
                continue; /* left out */
            kept |= UINT64_C(1) << i;
            from[i] = at;
            length[i] = 7 + s / 36 % 20;
            at += length[i];
            kept_beat[n] = beat[i];
            kept_from[n] = from[i];
            kept_length[n] = length[i];
            number[n++] = i;
        }
        bp_air one = {.beats = {0, 6}};
        bp_plan made = {.air = &one, .airs = 1, .beat = beat, .beats = 6};
        bp_slot_cameras(late, &made, 0, kept, from, length);
        for (uint32_t k = 0; k < n; k++) {
            ck_assert_int_eq(late[number[k]],
                             late_by_ticking(kept_beat, n, k, kept_from, kept_length));
            lates += late[number[k]] > 0;
        }
        for (uint32_t i = 0; i < 6; i++)
            ck_assert(kept >> i & 1 || late[i] == 0);
    }
    ck_assert_uint_ge(lates, 500);
}
END_TEST

START_TEST(states_that_cannot_be_are_refused)
{
    make(shows[0]);
    static const bp_slot_now wrong[] = {
        {.beat = 99, .length = 60},
        {.begun = true, .spent = 5, .elapsed = 4, .length = 60},
        {.spent = 5, .elapsed = 5, .length = 60},
        {.spent = -1, .begun = true, .length = 60},
        {.length = -1},
        {.length = INT64_MAX},
        {.elapsed = INT64_MAX, .length = 60},
    };
    bp_slot_fit fit = {.over = 99};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        errs.n = 0;
        ck_assert_int_eq(bp_slot_refit(&fit, plan, 0, &wrong[i], &errs), BP_EVALUE);
        ck_assert_uint_eq(errs.n, 1);
        ck_assert_int_eq(fit.over, 99);
    }
    bp_slot_now end = {.beat = plan->air[0].beats.n, .begun = true, .length = 60};
    ck_assert_int_eq(bp_slot_refit(&fit, plan, 0, &end, &errs), BP_EVALUE);
    ck_assert_int_eq(bp_slot_refit(&fit, plan, plan->airs, &end, &errs), BP_EVALUE);
    bp_slot_now now = {.length = 200};
    bpi_mem_fail_at(0, 0);
    errs.n = 0;
    ck_assert_int_eq(bp_slot_refit(&fit, plan, 0, &now, &errs), BP_ENOMEM);
    bpi_mem_fail_at(-1, 0);
    ck_assert_uint_eq(errs.n, 1);
    done();
}
END_TEST

/* ---- time lost on air, by trying every set of the beats that are left --------------------- */

/* May these be the beats from `at` on, in so many seconds? From what the plan says of its beats alone. */
static bool may_be(const bp_air *air, uint32_t at, uint64_t past, uint64_t set, int64_t room)
{
    int64_t least = 0, most = 0, place = -1;
    for (uint32_t i = 0; i < air->beats.n; i++) {
        const bp_beat *b = &plan->beat[air->beats.first + i];
        if (i < at) {
            place = past >> i & 1 ? b->place : place;
            continue;
        }
        if (!(set >> i & 1)) {
            if (b->keep)
                return false;
            continue;
        }
        if (!b->ready || (b->needs & ~(set | past)))
            return false;
        int64_t walk = place < 0 ? 0 : llabs(b->place - place);
        place = b->place;
        least += b->least + walk;
        most += b->most + walk;
    }
    return least <= room && room <= most;
}

static bool is_worth_more(const bp_air *air, uint64_t one, uint64_t other)
{
    int64_t worth = 0, number = 0;
    for (uint32_t i = 0; i < air->beats.n; i++) {
        int64_t d = (int64_t)(one >> i & 1) - (int64_t)(other >> i & 1);
        worth += d * plan->beat[air->beats.first + i].worth;
        number += d;
    }
    if (worth != 0 || number != 0)
        return worth != 0 ? worth > 0 : number > 0;
    uint64_t differ = one ^ other;
    return differ && (one & differ & -differ);
}

START_TEST(time_lost_at_any_beat_takes_what_is_worth_least)
{
    make(shows[_i]);
    uint32_t exact = 0;
    for (uint32_t a = 0; a < plan->airs; a++) {
        const bp_air *air = &plan->air[a];
        uint64_t past = 0;
        ck_assert_uint_le(air->beats.n, 12);
        for (uint32_t i = 0; i < air->beats.n; i++) {
            const bp_beat *b = &plan->beat[air->beats.first + i];
            if (b->dropped)
                continue;
            for (int64_t loss = 0; loss <= 100 && loss < b->time_left + b->length;
                 loss += share()) {
                bp_slot_now now = {
                    .beat = i, .elapsed = b->time_in, .length = air->slot - loss, .done = past};
                int64_t room = now.length - now.elapsed;
                bp_slot_fit fit;
                ck_assert_int_eq(bp_slot_refit(&fit, plan, a, &now, &errs), BP_OK);
                bool any = false;
                uint64_t best = 0;
                for (uint64_t k = 0; k < UINT64_C(1) << (air->beats.n - i); k++)
                    if (may_be(air, i, past, k << i, room) &&
                        (!any || is_worth_more(air, k << i, best))) {
                        any = true;
                        best = k << i;
                    }
                ck_assert_msg(any == (fit.over == 0), "%s, beat %s, %lld s lost", air->id, b->id,
                              (long long)loss);
                if (any)
                    ck_assert_uint_eq(fit.kept, best);
                exact += any;
            }
            past |= UINT64_C(1) << i;
        }
    }
    ck_assert_uint_gt(exact, 200 / share());
    done();
}
END_TEST

/* On the way to a beat is what the plan says, and no station holds more than it has room for. */
START_TEST(what_is_in_the_way_of_the_slot_as_planned_is_what_the_plan_says)
{
    make(shows[_i]);
    for (uint32_t a = 0; a < plan->airs; a++) {
        const bp_slice beats = plan->air[a].beats;
        bp_slot_way way;
        uint64_t kept = 0, hot = 0;
        for (uint32_t i = 0; i < beats.n; i++) {
            kept |= plan->beat[beats.first + i].dropped ? 0 : UINT64_C(1) << i;
            hot |= plan->beat[beats.first + i].crosses[0] ? UINT64_C(1) << i : 0;
        }
        bp_slot_ways(&way, plan, a, kept);
        ck_assert_uint_eq(way.hot, hot);
        ck_assert_uint_eq(way.full, 0);
    }
    done();
}
END_TEST

/* A row of front, counter and stove; the counter holds two. The pot P comes hot, and is worked with at
 * the counter and then at the stove; the pan Q is heated at the counter and then shown at the front;
 * the bowl R stands at the counter to the end. Worked out by hand. */
START_TEST(what_is_in_the_way_follows_from_the_beats_that_come)
{
    enum { P, Q, R };
    static const uint32_t on[] = {P, Q, P, R, Q};
    bp_beat beat[] = {
        {.station = "counter", .post = 2, .room = 2, .on = {0, 1}}, /* 0: P          */
        {.station = "counter", .post = 2, .room = 2, .on = {1, 1}}, /* 1: Q, heated  */
        {.station = "stove", .post = 3, .on = {2, 1}},              /* 2: P          */
        {.station = "counter", .post = 2, .room = 2, .on = {3, 1}}, /* 3: R          */
        {.station = "front", .post = 1, .on = {4, 1}},              /* 4: Q is shown */
        {.station = "stove", .post = 3},                            /* 5: talk       */
    };
    bp_container box[] = {{.comes_hot = true, .hot = 5}, {.hot = 18}, {.hot = 0}};
    bp_air one = {.beats = {0, 6}};
    bp_plan by_hand = {.air = &one,
                       .airs = 1,
                       .beat = beat,
                       .beats = 6,
                       .container = box,
                       .containers = 3,
                       .index = on,
                       .indexes = 5};
    static const struct {
        uint64_t kept, hot, full;
        uint32_t most; /* at the counter at first */
    } rows[] = {
        /* All three at the counter in beats 0 and 1; P goes along hot to 2, Q to 4. */
        {0x1f, 0x14, 0x03, 3},
        /* Without 2 P is gone after 0: P, Q and R there in 0 alone. */
        {0x1b, 0x10, 0x01, 3},
        /* Without 3 and R there is room. */
        {0x17, 0x14, 0, 2},
        /* Without 1 Q stays cold and comes along cold. */
        {0x1d, 0x04, 0x01, 3},
        /* From the stove (2) to the front (4) past the counter, where hot Q does not stand: it comes
         * along itself, hot by beat 1. */
        {0x16, 0x14, 0, 2},
        /* After 1 at the counter, 5 at the stove: nothing between. */
        {0x22, 0, 0, 1},
        {0, 0, 0, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bp_slot_way way;
        bp_slot_ways(&way, &by_hand, 0, rows[i].kept);
        uint32_t most = bp_slot_stand(&by_hand, 0, rows[i].kept, 0, 3);
        ck_assert_msg(way.hot == rows[i].hot && way.full == rows[i].full && most == rows[i].most,
                      "row %zu: hot %llx, full %llx, %u", i, (unsigned long long)way.hot,
                      (unsigned long long)way.full, most);
    }
    /* From the front to the stove past the counter, where hot P stands until beat 2 takes it. */
    beat[1] = (bp_beat){.station = "front", .post = 1, .on = {1, 1}};
    bp_slot_way way;
    bp_slot_ways(&way, &by_hand, 0, 0x26); /* 1, 2, 5 */
    ck_assert_uint_eq(way.hot, 0x04);
    beat[2] = (bp_beat){.station = "stove", .post = 3};
    beat[3].on = (bp_slice){2, 1}; /* P, at the counter to beat 3 */
    bp_slot_ways(&way, &by_hand, 0, 0x2e);
    ck_assert_uint_eq(way.hot, 0x04); /* on the way to 2 past P; P is gone before 5 */
}
END_TEST

Suite *suite_plan_slot(void);
Suite *suite_plan_slot(void)
{
    Suite *s = suite_create("plan/slot");
    TCase *c = tcase_create("slot");
    tcase_add_loop_test(c, at_its_own_length_a_slot_is_as_planned_at_every_beat, 0,
                        (int)(sizeof shows / sizeof *shows));
    tcase_add_loop_test(c, versions_are_what_a_show_of_that_length_gives, 0,
                        (int)(sizeof shows / sizeof *shows));
    tcase_add_loop_test(c, time_lost_at_any_beat_takes_what_is_worth_least, 0,
                        (int)(sizeof shows / sizeof *shows));
    tcase_add_loop_test(c, a_hit_moves_as_far_as_everything_bears_it, 0,
                        (int)(sizeof shows / sizeof *shows));
    tcase_add_test(c, states_that_cannot_be_are_refused);
    tcase_add_test(c, a_camera_is_late_by_the_seconds_it_is_not_there);
    tcase_add_loop_test(c, what_is_in_the_way_of_the_slot_as_planned_is_what_the_plan_says, 0,
                        (int)(sizeof shows / sizeof *shows));
    tcase_add_test(c, what_is_in_the_way_follows_from_the_beats_that_come);
    suite_add_tcase(s, c);
    return s;
}

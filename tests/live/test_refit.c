#include "live/refit.h"

#include <check.h>
#include <stdlib.h>

#include "base/memory.h"

/* A generator of our own: the same numbers everywhere. */
static uint32_t next_of(uint64_t *state)
{
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (uint32_t)(*state >> 33);
}

static int64_t below(uint64_t *state, int64_t n)
{
    return (int64_t)(next_of(state) % (uint32_t)n);
}

#define MOST 6

/* One question. */
typedef struct quiz {
    bpi_slot_beat b[MOST];
    uint32_t n;
    bpi_refit_now now;
    bool stays[MOST];
} quiz;

static void ask(quiz *q, uint64_t *state, bool walks)
{
    *q = (quiz){.n = (uint32_t)below(state, MOST) + 1};
    int64_t sum = 0;
    for (uint32_t i = 0; i < q->n; i++) {
        bpi_slot_beat *b = &q->b[i];
        b->least = below(state, 6);
        b->likely = b->least + below(state, 4);
        b->most = b->likely + below(state, 4);
        b->worth = (int32_t)below(state, 4) * 5;
        b->keep = below(state, 5) == 0;
        b->ready = below(state, 6) != 0;
        for (int k = (int)below(state, 3); k > 0; k--)
            b->needs |= UINT64_C(1) << below(state, q->n);
        b->needs &= ~(UINT64_C(1) << i);
        b->place = walks ? below(state, 5) : 0;
        sum += b->likely + b->place;
    }
    q->now.beat = below(state, 3) ? 0 : (uint32_t)below(state, q->n + 1);
    q->now.begun = q->now.beat < q->n && below(state, 2);
    q->now.spent = q->now.begun ? below(state, 9) : 0;
    q->now.elapsed = q->now.spent + (q->now.beat ? below(state, 8) : 0);
    q->now.length = below(state, sum + 12);
    q->now.done = (uint64_t)below(state, 64);
    q->now.out = below(state, 3) ? 0 : (uint64_t)below(state, 64);
    for (uint32_t i = 0; i < q->n; i++) {
        bool on_air = q->now.begun && i == q->now.beat;
        q->stays[i] = q->b[i].keep || on_air;
    }
}

static bool has(uint64_t set, uint32_t i)
{
    return set >> i & 1;
}

/* Seconds to walk to beat i of a set from the one before, or from the last one that was done. */
static int64_t walk_to(const quiz *q, uint64_t set, uint32_t i)
{
    for (uint32_t j = i; j-- > 0;)
        if (j < q->now.beat ? has(q->now.done, j) : has(set, j)) {
            int64_t d = q->b[i].place - q->b[j].place;
            return d < 0 ? -d : d;
        }
    return 0;
}

/* What the beat takes, with the walk; on air, at least what it has taken so far. */
static int64_t takes(const quiz *q, uint64_t set, uint32_t i, int64_t alone)
{
    int64_t all = alone + walk_to(q, set, i);
    return q->now.begun && i == q->now.beat && all < q->now.spent ? q->now.spent : all;
}

/* May beat i be on air at all, whatever others are? */
static bool may_come(const quiz *q, uint32_t i)
{
    if (q->now.begun && i == q->now.beat)
        return true;
    return i >= q->now.beat && i < q->n && q->b[i].ready && !has(q->now.out, i);
}

/* The beats that can come, as the largest set that holds together: found by trying all sets. */
static uint64_t possible(const quiz *q)
{
    uint64_t best = 0;
    for (uint64_t set = 0; set < UINT64_C(1) << q->n; set++) {
        bool good = true;
        for (uint32_t i = 0; i < q->n && good; i++) {
            if (!has(set, i))
                continue;
            good = may_come(q, i);
            for (uint32_t j = 0; j < q->n && good && !q->stays[i]; j++)
                if (has(q->b[i].needs, j))
                    good = j < q->now.beat ? has(q->now.done, j) : has(set, j);
        }
        if (good && __builtin_popcountll(set) > __builtin_popcountll(best))
            best = set; /* such sets grow together: the largest holds all others */
    }
    return best;
}

/* Is it a whole choice: with all that stays and can, and all that each needs and can? */
static bool is_choice(const quiz *q, uint64_t can, uint64_t set)
{
    if (set & ~can)
        return false;
    for (uint32_t i = 0; i < q->n; i++) {
        if (has(can, i) && q->stays[i] && !has(set, i))
            return false;
        if (has(set, i) && (q->b[i].needs & can & ~set))
            return false;
    }
    return true;
}

static void sums(const quiz *q, uint64_t set, int64_t *least, int64_t *most)
{
    *least = *most = 0;
    for (uint32_t i = 0; i < q->n; i++)
        if (has(set, i)) {
            *least += takes(q, set, i, q->b[i].least);
            *most += takes(q, set, i, q->b[i].most);
        }
}

static bool is_better(const quiz *q, uint64_t one, uint64_t other)
{
    int64_t worth = 0, number = 0;
    for (uint32_t i = 0; i < q->n; i++) {
        int64_t d = (int64_t)has(one, i) - (int64_t)has(other, i);
        worth += d * q->b[i].worth;
        number += d;
    }
    if (worth != 0)
        return worth > 0;
    if (number != 0)
        return number > 0;
    uint64_t differ = one ^ other;
    return differ && (one & differ & -differ);
}

/* The best choice of exactly this length; false: there is none. */
static bool best_at(const quiz *q, uint64_t can, int64_t length, uint64_t *best)
{
    bool any = false;
    for (uint64_t set = 0; set < UINT64_C(1) << q->n; set++) {
        int64_t least, most;
        sums(q, set, &least, &most);
        if (!is_choice(q, can, set) || length < least || length > most)
            continue;
        if (!any || is_better(q, set, *best))
            *best = set;
        any = true;
    }
    return any;
}

static int64_t cost_of(const quiz *q, uint64_t set, uint32_t i, int64_t x)
{
    int64_t weight = q->b[i].worth > 1 ? q->b[i].worth : 1;
    int64_t off = x - takes(q, set, i, q->b[i].likely);
    return weight * off * off;
}

/* Least cost of filling `length` with the beats of the set from i on. */
static int64_t least_cost(const quiz *q, uint64_t set, uint32_t i, int64_t length)
{
    if (i == q->n)
        return length == 0 ? 0 : INT64_MAX;
    if (!has(set, i))
        return least_cost(q, set, i + 1, length);
    int64_t best = INT64_MAX;
    int64_t least = takes(q, set, i, q->b[i].least), most = takes(q, set, i, q->b[i].most);
    for (int64_t x = least; x <= most && x <= length; x++) {
        int64_t rest = least_cost(q, set, i + 1, length - x);
        if (rest != INT64_MAX && rest + cost_of(q, set, i, x) < best)
            best = rest + cost_of(q, set, i, x);
    }
    return best;
}

START_TEST(small_slots_under_way_match_brute_force)
{
    uint64_t state = 11;
    uint32_t exact = 0, over = 0, under = 0, between = 0, stranded = 0, under_way = 0;
    for (int round = 0; round < 6000; round++) {
        quiz q;
        ask(&q, &state, round % 2);
        bpi_refitted got;
        ck_assert_int_eq(bpi_refit(&got, q.b, q.n, &q.now), BP_OK);

        uint64_t can = possible(&q), want = 0;
        int64_t begin = q.now.elapsed - q.now.spent, room = q.now.length - begin;
        int64_t shortest = INT64_MAX, longest = 0, by = 0, least, most;
        for (uint64_t set = 0; set < UINT64_C(1) << q.n; set++) {
            sums(&q, set, &least, &most);
            if (!is_choice(&q, can, set))
                continue;
            shortest = least < shortest ? least : shortest;
            longest = most > longest ? most : longest;
        }
        bool found = best_at(&q, can, room, &want);
        for (int64_t d = 1; !found && d < 200; d++) {
            by = -d;
            found = best_at(&q, can, room - d, &want);
            if (!found) {
                by = d;
                found = best_at(&q, can, room + d, &want);
            }
        }
        ck_assert(found || can == 0);
        if (can == 0)
            by = -room;
        exact += by == 0;
        over += room < shortest && can;
        under += room > longest && can;
        between += by != 0 && room >= shortest && room <= longest;
        under_way += q.now.begun;
        ck_assert_int_eq(got.over, by);
        if (room < shortest) {
            /* no choice by worth any more: only what stays, and what that needs */
            for (uint32_t i = 0; i < q.n; i++)
                if (has(got.kept, i))
                    ck_assert_int_eq(got.last[i], takes(&q, got.kept, i, q.b[i].least));
            sums(&q, got.kept, &least, &most);
            ck_assert_int_eq(least, shortest == INT64_MAX ? 0 : shortest);
            ck_assert(is_choice(&q, can, got.kept));
        } else if (room > longest) {
            ck_assert_uint_eq(got.kept, can);
        } else {
            ck_assert_uint_eq(got.kept, want);
        }
        int64_t at = begin, cost = 0;
        for (uint32_t i = 0; i < q.n; i++) {
            bool in = has(got.kept, i);
            ck_assert_int_eq(got.from[i], in ? at : 0);
            at += got.last[i];
            cost += in ? cost_of(&q, got.kept, i, got.last[i]) : 0;
            ck_assert(in || got.last[i] == 0);
            bool lost = false;
            for (uint32_t j = 0; j < q.n; j++)
                if (has(q.b[i].needs, j))
                    lost |= !has(j < q.now.beat ? q.now.done : can, j);
            ck_assert_int_eq(has(got.stranded, i), in && lost);
            stranded += has(got.stranded, i);
        }
        ck_assert_int_eq(at, q.now.length + by);
        ck_assert_int_eq(cost, least_cost(&q, got.kept, 0, room + by));
    }
    ck_assert_uint_gt(exact, 1500);
    ck_assert_uint_gt(over, 200);
    ck_assert_uint_gt(under, 200);
    ck_assert_uint_gt(between, 20);
    ck_assert_uint_gt(stranded, 100);
    ck_assert_uint_gt(under_way, 500);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(at_one_ten_we_lose_forty_seconds)
{
    /* 20 + 50 + 40 + 40 + 30 = 180 s; at 1:10 the third begins, and 2:20 is the new end: 70 s are
     * left for a pair worth 30 and one worth 40, and the close. Worth decides: 5 + 40 is less than
     * 30, so the middle two cannot both stay. */
    const bpi_slot_beat b[] = {
        {15, 20, 25, 10, true, true, 0, 0},  {40, 50, 60, 10, false, true, 0, 0},
        {30, 40, 45, 30, false, true, 2, 0}, {30, 40, 50, 40, false, true, 0, 0},
        {20, 30, 40, 10, true, true, 0, 0},
    };
    bpi_refit_now now = {.beat = 2, .elapsed = 70, .length = 140, .done = 3};
    bpi_refitted got;
    ck_assert_int_eq(bpi_refit(&got, b, 5, &now), BP_OK);
    ck_assert_uint_eq(got.kept, 0x18);
    ck_assert_int_eq(got.over, 0);
    ck_assert_int_eq(got.from[3], 70);
    ck_assert_int_eq(got.last[3], 40);
    ck_assert_int_eq(got.last[4], 30);

    now.begun = true; /* 5 s later it is on air and has to stay */
    now.spent = 5;
    now.elapsed = 75;
    ck_assert_int_eq(bpi_refit(&got, b, 5, &now), BP_OK);
    ck_assert_uint_eq(got.kept, 0x14);
    ck_assert_int_eq(got.from[2], 70);
    ck_assert_int_eq(got.last[2] + got.last[4], 70);

    now = (bpi_refit_now){.beat = 2, .elapsed = 70, .length = 140, .done = 1};
    ck_assert_int_eq(bpi_refit(&got, b, 5, &now), BP_OK); /* what it needs was left out */
    ck_assert_uint_eq(got.kept, 0x18);
}
END_TEST

START_TEST(past_the_end_only_the_close_is_left)
{
    const bpi_slot_beat b[] = {
        {15, 20, 25, 10, true, true, 0, 0},
        {40, 50, 60, 10, false, true, 0, 0},
        {20, 30, 40, 10, true, true, 2, 0},
    };
    bpi_refit_now now = {.beat = 1, .elapsed = 100, .length = 90, .done = 1, .out = 2};
    bpi_refitted got;
    ck_assert_int_eq(bpi_refit(&got, b, 3, &now), BP_OK);
    ck_assert_uint_eq(got.kept, 4);
    ck_assert_uint_eq(got.stranded, 4);
    ck_assert_int_eq(got.over, 30);
    now = (bpi_refit_now){.beat = 3, .elapsed = 80, .length = 90, .done = 7};
    ck_assert_int_eq(bpi_refit(&got, b, 3, &now), BP_OK);
    ck_assert_uint_eq(got.kept, 0);
    ck_assert_int_eq(got.over, -10);
}
END_TEST

START_TEST(without_memory_nothing_is_said)
{
    const bpi_slot_beat b = {5, 6, 7, 10, false, true, 0, 0};
    const bpi_refit_now now = {.length = 6};
    bpi_refitted got = {.over = 99};
    for (long k = 0; k < 2; k++) {
        bpi_mem_fail_at(k, 0);
        ck_assert_int_eq(bpi_refit(&got, &b, 1, &now), BP_ENOMEM);
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(got.over, 99);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
    ck_assert_int_eq(bpi_refit(&got, &b, 1, &now), BP_OK);
    ck_assert_int_eq(got.last[0], 6);
}
END_TEST

START_TEST(a_full_house_is_refitted_too)
{
    bpi_slot_beat b[BPI_MAX_BEATS];
    for (uint32_t i = 0; i < BPI_MAX_BEATS; i++)
        b[i] = (bpi_slot_beat){10, 20, 30, 10, false, true, 0, 0};
    bpi_refit_now now = {.length = 64 * 20};
    bpi_refitted got;
    ck_assert_int_eq(bpi_refit(&got, b, BPI_MAX_BEATS, &now), BP_OK);
    ck_assert_uint_eq(got.kept, ~UINT64_C(0));
    ck_assert_int_eq(got.over, 0);
    for (uint32_t i = 0; i < BPI_MAX_BEATS; i++)
        ck_assert_int_eq(got.last[i], 20);
    now = (bpi_refit_now){
        .beat = BPI_MAX_BEATS, .elapsed = 64 * 20, .length = 64 * 20 + 7, .done = ~UINT64_C(0)};
    ck_assert_int_eq(bpi_refit(&got, b, BPI_MAX_BEATS, &now), BP_OK);
    ck_assert_uint_eq(got.kept, 0);
    ck_assert_int_eq(got.over, -7);
}
END_TEST

Suite *suite_live_refit(void);
Suite *suite_live_refit(void)
{
    Suite *s = suite_create("live/refit");
    TCase *c = tcase_create("refit");
    tcase_add_test(c, small_slots_under_way_match_brute_force);
    tcase_add_test(c, at_one_ten_we_lose_forty_seconds);
    tcase_add_test(c, past_the_end_only_the_close_is_left);
    tcase_add_test(c, without_memory_nothing_is_said);
    tcase_add_test(c, a_full_house_is_refitted_too);
    suite_add_tcase(s, c);
    return s;
}

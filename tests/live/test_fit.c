#include "live/fit.h"

#include <check.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

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

static int64_t cost_of(const bpi_fit_beat *b, int64_t x)
{
    return b->weight * (x - b->likely) * (x - b->likely);
}

static int64_t cost_of_all(const bpi_fit_beat *b, uint32_t n)
{
    int64_t sum = 0;
    for (uint32_t i = 0; i < n; i++)
        sum += cost_of(&b[i], b[i].length);
    return sum;
}

/* Least cost over every way to fill the slot; INT64_MAX: there is none. */
static int64_t brute_force(const bpi_fit_beat *b, uint32_t n, int64_t slot)
{
    if (n == 0)
        return slot == 0 ? 0 : INT64_MAX;
    int64_t best = INT64_MAX;
    for (int64_t x = b->least; x <= b->most && x <= slot; x++) {
        int64_t rest = brute_force(b + 1, n - 1, slot - x);
        if (rest != INT64_MAX && rest + cost_of(b, x) < best)
            best = rest + cost_of(b, x);
    }
    return best;
}

static void must_sum_and_stay_in_bounds(const bpi_fit_beat *b, uint32_t n, int64_t slot)
{
    int64_t sum = 0;
    for (uint32_t i = 0; i < n; i++) {
        ck_assert_int_ge(b[i].length, b[i].least);
        ck_assert_int_le(b[i].length, b[i].most);
        sum += b[i].length;
    }
    ck_assert_int_eq(sum, slot);
}

/* Karush-Kuhn-Tucker for whole seconds: no second moved from one beat to another lowers the cost;
 * for a convex separable cost that is enough for an optimum. */
static void must_meet_kkt(const bpi_fit_beat *b, uint32_t n)
{
    for (uint32_t i = 0; i < n; i++)
        for (uint32_t j = 0; j < n; j++) {
            if (i == j || b[i].length == b[i].least || b[j].length == b[j].most)
                continue;
            int64_t saved = cost_of(&b[i], b[i].length) - cost_of(&b[i], b[i].length - 1);
            int64_t paid = cost_of(&b[j], b[j].length + 1) - cost_of(&b[j], b[j].length);
            ck_assert_int_ge(paid, saved);
            if (paid == saved && j < i) /* of equal price, the earlier beat has it already */
                ck_abort_msg("beat %u holds a second that beat %u should have", i, j);
        }
}

START_TEST(small_slots_match_brute_force)
{
    uint64_t state = 1;
    uint32_t solved = 0, over = 0, too_short = 0;
    for (int round = 0; round < 3000; round++) {
        bpi_fit_beat b[5];
        uint32_t n = (uint32_t)below(&state, 5) + 1;
        int64_t most = 0;
        for (uint32_t i = 0; i < n; i++) {
            b[i].least = below(&state, 5);
            b[i].likely = b[i].least + below(&state, 4);
            b[i].most = b[i].likely + below(&state, 4);
            b[i].weight = 1 + below(&state, 5);
            b[i].length = -1;
            most += b[i].most;
        }
        int64_t slot = below(&state, most + 2);
        int64_t best = brute_force(b, n, slot);
        switch (bpi_fit(b, n, slot)) {
        case BPI_FIT_OK:
            solved++;
            must_sum_and_stay_in_bounds(b, n, slot);
            ck_assert_int_eq(cost_of_all(b, n), best);
            must_meet_kkt(b, n);
            break;
        case BPI_FIT_OVER:
            over++;
            ck_assert_int_eq(best, INT64_MAX);
            ck_assert_int_eq(b[0].length, -1);
            break;
        case BPI_FIT_SHORT:
            too_short++;
            ck_assert_int_eq(best, INT64_MAX);
            ck_assert_int_eq(b[0].length, -1);
            break;
        }
    }
    ck_assert_uint_gt(solved, 1000);
    ck_assert_uint_gt(over, 100);
    ck_assert_uint_gt(too_short, 100);
}
END_TEST

START_TEST(long_slots_meet_the_optimality_conditions)
{
    uint64_t state = 2;
    for (int round = 0; round < 400; round++) {
        bpi_fit_beat b[64];
        uint32_t n = (uint32_t)below(&state, 64) + 1;
        int64_t least = 0, most = 0;
        for (uint32_t i = 0; i < n; i++) {
            b[i].least = below(&state, 90);
            b[i].likely = b[i].least + below(&state, 60);
            b[i].most = b[i].likely + below(&state, 4) * below(&state, 60);
            b[i].weight = 1 + below(&state, 101);
            least += b[i].least;
            most += b[i].most;
        }
        int64_t slot = least + (most > least ? below(&state, most - least + 1) : 0);
        ck_assert_int_eq(bpi_fit(b, n, slot), BPI_FIT_OK);
        must_sum_and_stay_in_bounds(b, n, slot);
        must_meet_kkt(b, n);
    }
}
END_TEST

START_TEST(the_greatest_times_and_weights_do_not_overflow)
{
    bpi_fit_beat b[3] = {
        {0, 0, BPI_FIT_MOST, BPI_FIT_WEIGHT, 0},
        {0, BPI_FIT_MOST, BPI_FIT_MOST, BPI_FIT_WEIGHT, 0},
        {0, 0, BPI_FIT_MOST, 1, 0},
    };
    ck_assert_int_eq(bpi_fit(b, 3, 3 * BPI_FIT_MOST), BPI_FIT_OK);
    for (int i = 0; i < 3; i++)
        ck_assert_int_eq(b[i].length, BPI_FIT_MOST);
    ck_assert_int_eq(bpi_fit(b, 3, 0), BPI_FIT_OK);
    for (int i = 0; i < 3; i++)
        ck_assert_int_eq(b[i].length, 0);
}
END_TEST

/* Equal weights, nothing at a bound: each beat moves by the same, and what cannot be shared goes to
 * the first ones. 100 s likely in all, 107 to fill: 3, 2, 2. */
START_TEST(what_cannot_be_shared_goes_to_the_first)
{
    bpi_fit_beat b[3] = {{10, 30, 90, 1, 0}, {10, 30, 90, 1, 0}, {10, 40, 90, 1, 0}};
    ck_assert_int_eq(bpi_fit(b, 3, 107), BPI_FIT_OK);
    ck_assert_int_eq(b[0].length, 33);
    ck_assert_int_eq(b[1].length, 32);
    ck_assert_int_eq(b[2].length, 42);
}
END_TEST

START_TEST(no_beats_fill_only_an_empty_slot)
{
    ck_assert_int_eq(bpi_fit(NULL, 0, 0), BPI_FIT_OK);
    ck_assert_int_eq(bpi_fit(NULL, 0, 1), BPI_FIT_SHORT);
}
END_TEST

Suite *suite_live_fit(void);
Suite *suite_live_fit(void)
{
    Suite *s = suite_create("live/fit");
    TCase *c = tcase_create("fit");
    tcase_add_test(c, small_slots_match_brute_force);
    tcase_add_test(c, long_slots_meet_the_optimality_conditions);
    tcase_add_test(c, the_greatest_times_and_weights_do_not_overflow);
    tcase_add_test(c, what_cannot_be_shared_goes_to_the_first);
    tcase_add_test(c, no_beats_fill_only_an_empty_slot);
    suite_add_tcase(s, c);
    return s;
}

#include "live/drop.h"

#include <check.h>
#include <stdlib.h>

#include "base/limits.h"
#include "base/memory.h"

static uint32_t next_of(uint64_t *state)
{
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (uint32_t)(*state >> 33);
}

static int64_t below(uint64_t *state, int64_t n)
{
    return (int64_t)(next_of(state) % (uint32_t)n);
}

static bool is_allowed(const bpi_drop_beat *b, uint32_t n, uint64_t set, int64_t slot)
{
    int64_t least = 0, most = 0, at = -1;
    for (uint32_t i = 0; i < n; i++) {
        bool in = set >> i & 1;
        if (b[i].keep && !in)
            return false;
        if (!in)
            continue;
        if ((b[i].needs & set) != b[i].needs)
            return false;
        int64_t walk = at < 0 ? 0 : llabs(b[i].place - at);
        at = b[i].place;
        least += b[i].least + walk;
        most += b[i].most + walk;
    }
    return least <= slot && slot <= most;
}

/* Is the first set better, by the words of drop.h? */
static bool is_better(const bpi_drop_beat *b, uint32_t n, uint64_t one, uint64_t other)
{
    int64_t worth = 0, number = 0;
    for (uint32_t i = 0; i < n; i++) {
        int64_t d = (int64_t)(one >> i & 1) - (int64_t)(other >> i & 1);
        worth += d * b[i].worth;
        number += d;
    }
    if (worth != 0)
        return worth > 0;
    if (number != 0)
        return number > 0;
    uint64_t differ = one ^ other;
    return differ && (one & differ & -differ);
}

START_TEST(small_sets_match_brute_force)
{
    uint64_t state = 7;
    uint32_t solved = 0, none = 0, dropping = 0;
    for (int round = 0; round < 3000; round++) {
        bpi_drop_beat b[9] = {{0}};
        uint32_t n = (uint32_t)below(&state, 9) + 1;
        int64_t sum = 0;
        for (uint32_t i = 0; i < n; i++) {
            b[i].least = below(&state, 12);
            b[i].most = b[i].least + below(&state, 6);
            b[i].worth = (int32_t)below(&state, 4) * 5;
            b[i].keep = below(&state, 8) == 0;
            for (int k = (int)below(&state, 3); k > 0; k--)
                b[i].needs |= UINT64_C(1) << below(&state, n);
            b[i].needs &= ~(UINT64_C(1) << i);
            b[i].place = round % 2 ? below(&state, 8) : 0; /* in every other one people walk */
            sum += b[i].least + b[i].place;
        }
        int64_t slot = below(&state, sum + 8);
        bool any = false;
        uint64_t best = 0;
        for (uint64_t set = 0; set < UINT64_C(1) << n; set++)
            if (is_allowed(b, n, set, slot) && (!any || is_better(b, n, set, best))) {
                any = true;
                best = set;
            }
        uint64_t kept = 0;
        bp_code rc = bpi_drop(&kept, b, n, slot);
        ck_assert_int_eq(rc, any ? BP_OK : BP_ENOFIT);
        if (!any) {
            none++;
            continue;
        }
        solved++;
        dropping += best != (UINT64_C(1) << n) - 1;
        ck_assert_uint_eq(kept, best);
    }
    ck_assert_uint_gt(solved, 500);
    ck_assert_uint_gt(none, 200);
    ck_assert_uint_gt(dropping, 300);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(every_slot_at_once_is_each_slot_alone)
{
    uint64_t state = 3;
    for (int round = 0; round < 200; round++) {
        bpi_drop_beat b[9] = {{0}};
        uint64_t kept[80];
        bool fits[80];
        uint32_t n = (uint32_t)below(&state, 9) + 1;
        for (uint32_t i = 0; i < n; i++) {
            b[i].least = below(&state, 10);
            b[i].most = b[i].least + below(&state, 5);
            b[i].worth = (int32_t)below(&state, 4) * 5;
            b[i].keep = below(&state, 8) == 0;
            b[i].needs = below(&state, 2) ? UINT64_C(1) << below(&state, n) : 0;
            b[i].needs &= ~(UINT64_C(1) << i);
            b[i].place = below(&state, 6);
        }
        int64_t least = below(&state, 20);
        ck_assert_int_eq(bpi_drop_each(kept, fits, b, n, least, least + 79), BP_OK);
        for (int64_t slot = least; slot < least + 80; slot++) {
            uint64_t alone = 0;
            bp_code rc = bpi_drop(&alone, b, n, slot);
            ck_assert_int_eq(rc, fits[slot - least] ? BP_OK : BP_ENOFIT);
            if (rc == BP_OK)
                ck_assert_uint_eq(alone, kept[slot - least]);
        }
    }
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(a_full_house_of_beats_is_chosen_exactly)
{
    /* 64 beats in 32 pairs, the second of each needing the first; 20 s a beat; room for ten. Pair k
     * is worth 10 + k, so the last five pairs stay. */
    bpi_drop_beat b[BPI_MAX_BEATS] = {{0}};
    for (uint32_t i = 0; i < BPI_MAX_BEATS; i++) {
        b[i].least = 20;
        b[i].most = 30;
        b[i].worth = i % 2 ? (int32_t)(10 + i / 2) : 0;
        if (i % 2)
            b[i].needs = UINT64_C(1) << (i - 1);
    }
    uint64_t kept = 0;
    ck_assert_int_eq(bpi_drop(&kept, b, BPI_MAX_BEATS, 200), BP_OK);
    ck_assert_uint_eq(kept, UINT64_C(0x3FF) << 54);
}
END_TEST

START_TEST(what_stays_brings_what_it_needs)
{
    bpi_drop_beat b[3] = {
        {10, 10, 0, false, 0, 0}, {10, 10, 90, false, 0, 0}, {10, 10, 0, true, UINT64_C(1), 0}};
    uint64_t kept = 0;
    ck_assert_int_eq(bpi_drop(&kept, b, 3, 20), BP_OK);
    ck_assert_uint_eq(kept, 5);
    ck_assert_uint_eq(bpi_drop_closure(b, 3, 4), 5);
    kept = 99;
    ck_assert_int_eq(bpi_drop(&kept, b, 3, 10), BP_ENOFIT);
    ck_assert_uint_eq(kept, 99);
}
END_TEST

START_TEST(without_memory_nothing_is_chosen)
{
    bpi_drop_beat b = {10, 10, 0, false, 0, 0};
    uint64_t kept = 99;
    for (long k = 0; k < 2; k++) {
        bpi_mem_fail_at(k, 0);
        ck_assert_int_eq(bpi_drop(&kept, &b, 1, 10), BP_ENOMEM);
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
    ck_assert_uint_eq(kept, 99);
    ck_assert_int_eq(bpi_drop(&kept, &b, 1, 10), BP_OK);
    ck_assert_uint_eq(kept, 1);
}
END_TEST

/* Lengths by twos do not fill an odd slot: nothing bounds the search, and no state comes again. */
START_TEST(no_effort_is_spent_without_end)
{
    bpi_drop_beat b[BPI_MAX_BEATS];
    for (uint32_t i = 0; i < BPI_MAX_BEATS; i++)
        b[i] = (bpi_drop_beat){.least = 200 + 38 * i, .most = 200 + 38 * i, .worth = (int32_t)i};
    uint64_t kept = 99;
    bool fits = false;
    ck_assert_int_eq(bpi_drop(&kept, b, BPI_MAX_BEATS, 40001), BP_EUNSURE);
    ck_assert_uint_eq(kept, 99);
    /* Where one fits, the effort for each slot is its own. */
    ck_assert_int_eq(bpi_drop_each(&kept, &fits, b, 1, 200, 200), BP_OK);
    ck_assert(fits);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(a_slot_of_less_than_nothing_has_no_choice)
{
    const bpi_drop_beat b = {10, 10, 0, false, 0, 0};
    uint64_t kept = 99;
    bool fits = true;
    ck_assert_int_eq(bpi_drop(&kept, &b, 1, -1), BP_ENOFIT);
    ck_assert_int_eq(bpi_drop_each(&kept, &fits, &b, 1, 5, 4), BP_OK); /* of no slot at all */
    ck_assert_uint_eq(kept, 99);
    ck_assert(fits);
}
END_TEST

Suite *suite_live_drop(void);
Suite *suite_live_drop(void)
{
    Suite *s = suite_create("live/drop");
    TCase *c = tcase_create("drop");
    tcase_add_test(c, small_sets_match_brute_force);
    tcase_add_test(c, every_slot_at_once_is_each_slot_alone);
    tcase_add_test(c, a_full_house_of_beats_is_chosen_exactly);
    tcase_add_test(c, what_stays_brings_what_it_needs);
    tcase_add_test(c, without_memory_nothing_is_chosen);
    tcase_add_test(c, no_effort_is_spent_without_end);
    tcase_add_test(c, a_slot_of_less_than_nothing_has_no_choice);
    suite_add_tcase(s, c);
    return s;
}

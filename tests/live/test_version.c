#include "live/version.h"

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

static bool has(uint64_t set, uint32_t i)
{
    return set >> i & 1;
}

/* A set that may be on air in a slot of this length, by the words of the headers. */
static bool is_choice(const bpi_slot_beat *b, uint32_t n, uint64_t set, int64_t slot)
{
    int64_t least = 0, most = 0, at = -1;
    for (uint32_t i = 0; i < n; i++) {
        if (!has(set, i) && b[i].keep)
            return false;
        if (!has(set, i))
            continue;
        if (!b[i].ready || (b[i].needs & ~set))
            return false;
        int64_t walk = at < 0 ? 0 : at < b[i].place ? b[i].place - at : at - b[i].place;
        at = b[i].place;
        least += b[i].least + walk;
        most += b[i].most + walk;
    }
    return least <= slot && slot <= most;
}

static bool is_better(const bpi_slot_beat *b, uint32_t n, uint64_t one, uint64_t other)
{
    int64_t worth = 0, number = 0;
    for (uint32_t i = 0; i < n; i++) {
        int64_t d = (int64_t)has(one, i) - (int64_t)has(other, i);
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

static bool best_of(uint64_t *best, const bpi_slot_beat *b, uint32_t n, int64_t slot)
{
    bool any = false;
    for (uint64_t set = 0; set < UINT64_C(1) << n; set++)
        if (is_choice(b, n, set, slot) && (!any || is_better(b, n, set, *best))) {
            *best = set;
            any = true;
        }
    return any;
}

START_TEST(every_second_of_small_families_matches_brute_force)
{
    uint64_t state = 5;
    uint32_t rows = 0, holes = 0, seconds = 0, back = 0;
    for (int round = 0; round < 800; round++) {
        bpi_slot_beat b[8] = {{0}};
        uint32_t n = (uint32_t)below(&state, 8) + 1, versions = 0;
        for (uint32_t i = 0; i < n; i++) {
            b[i].least = below(&state, 9);
            b[i].likely = b[i].least + below(&state, 3);
            b[i].most = b[i].likely + below(&state, 3);
            b[i].worth = (int32_t)below(&state, 4) * 5;
            b[i].ready = below(&state, 8) != 0;
            b[i].keep = b[i].ready && below(&state, 6) == 0;
            b[i].needs = below(&state, 2) ? UINT64_C(1) << below(&state, n) : 0;
            b[i].needs &= ~(UINT64_C(1) << i);
            b[i].place = round % 2 ? below(&state, 5) : 0;
        }
        uint64_t sense = below(&state, 2) ? (uint64_t)below(&state, 256) : 0;
        int64_t longest = below(&state, 90);
        const bpi_version *v = NULL;
        bpi_arena *a = bpi_arena_new();
        ck_assert_int_eq(bpi_version_make(&v, &versions, a, b, n, sense, longest), BP_OK);

        uint64_t want[90] = {0};
        bool fits[90] = {false};
        int64_t shortest = 0;
        for (int64_t t = 0; t <= longest; t++)
            fits[t] = best_of(&want[t], b, n, t);
        while (shortest <= longest &&
               (!fits[shortest] || !want[shortest] || (sense && !(want[shortest] & sense))))
            shortest++;
        uint32_t row = 0;
        for (int64_t t = longest; t >= 0; t--) {
            bool inside = row < versions && v[row].least <= t && t <= v[row].most;
            bool is = fits[t] && t >= shortest;
            ck_assert_int_eq(inside, is);
            if (is) {
                ck_assert_uint_eq(v[row].kept, want[t]);
                seconds++;
            }
            holes += !is && t > shortest;
            if (inside && v[row].least == t) {
                row++;
                back += row < versions && (v[row].kept & ~v[row - 1].kept);
            }
        }
        ck_assert_uint_eq(row, versions);
        for (uint32_t k = 1; k < versions; k++) /* a stretch is not told in two */
            ck_assert(v[k].kept != v[k - 1].kept || v[k].most + 1 < v[k - 1].least);
        rows += versions;
        bpi_arena_free(a);
    }
    ck_assert_uint_gt(rows, 2000);
    ck_assert_uint_gt(seconds, 5000);
    ck_assert_uint_gt(holes, 100);
    ck_assert_uint_gt(back, 100); /* what went comes back in a shorter one */
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(the_last_to_show_a_dish_ends_the_family)
{
    const bpi_slot_beat b[] = {
        {10, 20, 30, 50, false, true, 0, 0},
        {20, 30, 40, 10, false, true, 0, 0}, /* the finished dish */
        {10, 20, 30, 20, false, true, 0, 0},
    };
    bpi_arena *a = bpi_arena_new();
    const bpi_version *v = NULL;
    uint32_t n = 0;
    ck_assert_int_eq(bpi_version_make(&v, &n, a, b, 3, 2, 500), BP_OK);
    ck_assert_uint_eq(n, 1); /* at 39 s the two that are worth more go on without it */
    ck_assert_int_eq(v[0].most, 100);
    ck_assert_int_eq(v[0].least, 40);
    ck_assert_int_eq(bpi_version_make(&v, &n, a, b, 3, 0, 500), BP_OK);
    ck_assert_uint_eq(n, 3);
    ck_assert_uint_eq(v[1].kept, 5);
    ck_assert_int_eq(v[1].least, 20);
    ck_assert_uint_eq(v[2].kept, 1);
    ck_assert_int_eq(v[2].least, 10);
    bpi_arena_free(a);
}
END_TEST

START_TEST(without_memory_there_is_no_family)
{
    const bpi_slot_beat b = {5, 6, 7, 10, false, true, 0, 0};
    const bpi_version *v = NULL;
    uint32_t n = 0;
    bool fired = true;
    for (long k = 0; fired; k++) {
        bpi_arena *a = bpi_arena_new();
        bpi_mem_fail_at(k, 0);
        bp_code rc = bpi_version_make(&v, &n, a, &b, 1, 0, 7);
        bpi_mem_fail_at(-1, 0);
        fired = rc == BP_ENOMEM;
        ck_assert(fired || rc == BP_OK);
        bpi_arena_free(a);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

Suite *suite_live_version(void);
Suite *suite_live_version(void)
{
    Suite *s = suite_create("live/version");
    TCase *c = tcase_create("version");
    tcase_add_test(c, every_second_of_small_families_matches_brute_force);
    tcase_add_test(c, the_last_to_show_a_dish_ends_the_family);
    tcase_add_test(c, without_memory_there_is_no_family);
    suite_add_tcase(s, c);
    return s;
}

#include "live/change.h"

#include <check.h>
#include <stdlib.h>

#include "base/memory.h"
#include "support/build.h"

static b_show b;

static void setup(void)
{
    b_init(&b);
    b_recipe(&b, "potatoes", 4);
    b_step(&b, "cut", BPI_ACTIVE, 240);
    b_segment(&b, "main", 30000, 265);
    b_dish(&b, "mash", 0);
    for (int i = 0; i < 6; i++)
        b_talk(&b, "beat", 10 + i, 20 + i);
    b.beat[0][2].needs = 1u << 1;
    b.beat[0][4].needs = 1u << 2 | 1u << 0;
    b.beat[0][5].needs = 1u << 0;
    b.beat[0][5].keep = true;
    b_done(&b);
}

static void teardown(void)
{
    b_release(&b);
}

static bpi_change begin(void)
{
    bpi_change c;
    ck_assert(bpi_change_begin(&c, b.show.arena, &b.show, 0, b.beat[0], b.segment[0].beats));
    return c;
}

START_TEST(what_needs_a_beat_goes_with_it)
{
    bpi_change c = begin();
    ck_assert_uint_eq(bpi_change_leave_out(&c, 1u << 1), 1u << 1 | 1u << 2 | 1u << 4);
    ck_assert_uint_eq(c.show->segment[0].beats, 3);
    static const int64_t left[] = {10, 13, 15};
    for (int i = 0; i < 3; i++)
        ck_assert_int_eq(c.show->segment[0].beat[i].time.least, left[i]);
    ck_assert_uint_eq(c.show->segment[0].beat[2].needs, 1); /* by its new number */
    ck_assert_uint_eq(b.segment[0].beats, 6);               /* the show itself is as it was */
    ck_assert_uint_eq(b.beat[0][4].needs, 5);
}
END_TEST

START_TEST(what_must_stay_is_not_left_out)
{
    bpi_change c = begin();
    ck_assert_uint_eq(bpi_change_leave_out(&c, 1u << 0), 0); /* the last one needs it */
    ck_assert_uint_eq(c.segment->beats, 6);
    c.beat[5].keep = false;
    ck_assert_uint_eq(bpi_change_leave_out(&c, 63), 0); /* a slot of nothing */
    ck_assert_uint_eq(c.segment->beats, 6);
}
END_TEST

START_TEST(without_memory_nothing_is_changed)
{
    bool fired = true;
    for (long k = 0; fired; k++) {
        bpi_arena *a = bpi_arena_new();
        bpi_change c;
        bpi_mem_fail_at(k, 0);
        bool made = bpi_change_begin(&c, a, &b.show, 0, b.beat[0], b.segment[0].beats);
        fired = !made;
        bpi_mem_fail_at(-1, 0);
        bpi_arena_free(a);
    }
}
END_TEST

Suite *suite_live_change(void);
Suite *suite_live_change(void)
{
    Suite *s = suite_create("live/change");
    TCase *c = tcase_create("change");
    tcase_add_checked_fixture(c, setup, teardown);
    tcase_add_test(c, what_needs_a_beat_goes_with_it);
    tcase_add_test(c, what_must_stay_is_not_left_out);
    tcase_add_test(c, without_memory_nothing_is_changed);
    suite_add_tcase(s, c);
    return s;
}

/* What was done of a day whose plan was mended: each operation by the plan that was in force. Plans and
 * ticks are made up. */
#include "day/deeds.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"

#define MOST 20

static const bp_person person[] = {{.name = "Ada"}, {.name = "Bo"}};
static const uint32_t served[] = {0, 1};
static const bp_container container[] = {{.code = "A1"}, {.code = "B1"}};

#define OP(k, who, box, start, end)                                                                \
    {                                                                                              \
        .key = (k), .kind = BP_OP_ACTIVE, .person = (who), .serves = {(box), 1}, .from = (start),  \
        .to = (end), .off_least = BP_NO_TIME, .off_most = BP_NO_TIME                               \
    }

static const bp_op first[] = {OP("A1/chop", 0, 0, 600, 900), OP("B1/chop", 1, 1, 600, 1000),
                              OP("A1/serve", 0, 0, 900, 1200), OP("B1/mix", 1, 1, 1000, 1300),
                              OP("A1.carry", 0, 0, 1200, 1260)};
/* A1 is burnt at 1000 s, and begun anew; B1 was begun and goes on. */
static const bp_op second[] = {OP("B1/chop", 1, 1, 660, 1080), OP("A1/chop", 0, 0, 1080, 1380),
                               OP("B1/mix", 1, 1, 1080, 1380), OP("A1/serve", 0, 0, 1380, 1680),
                               OP("A1.carry", 0, 0, 1680, 1740)};
/* And at 1200 s it takes longer: what was begun stands, the rest is put off. */
static const bp_op third[] = {OP("B1/chop", 1, 1, 660, 1080), OP("A1/chop", 0, 0, 1140, 1440),
                              OP("B1/mix", 1, 1, 1140, 1440), OP("A1/serve", 0, 0, 1500, 1800),
                              OP("A1.carry", 0, 0, 1800, 1860)};

#define PLAN(list, nth, at)                                                                        \
    {                                                                                              \
        .op = (list), .ops = 5, .person = person, .persons = 2, .container = container,            \
        .containers = 2, .index = served, .mended = (nth) > 0, .mended_at = (at), .mishaps = (nth) \
    }
static const bp_plan plans[] = {PLAN(first, 0, 0), PLAN(second, 1, 1020), PLAN(third, 2, 1200)};
static const bp_plan *const by[] = {&plans[0], &plans[1], &plans[2]};

static bp_event event[MOST];
static bp_log day;
static bpi_arena *arena;
static bp_errors errs;
static const bp_after_op *row;
static uint32_t rows, unknown;

static void set_up(void)
{
    arena = bpi_arena_new();
    errs = (bp_errors){0};
    day = (bp_log){.file = "day.log", .event = event};
    row = NULL;
    rows = unknown = 0;
}

static void tear_down(void)
{
    bpi_arena_free(arena);
}

static void add(bp_event_kind kind, int64_t at, const char *op)
{
    ck_assert_uint_lt(day.events, MOST);
    event[day.events++] = (bp_event){.kind = kind,
                                     .at = at,
                                     .air = "",
                                     .beat = "",
                                     .op = op,
                                     .text = "",
                                     .line = day.events + 2};
}

static void add_morning(void)
{
    add(BP_DAY_START, 605, "A1/chop");
    add(BP_DAY_START, 610, "B1/chop");
    add(BP_DAY_DONE, 890, "A1/chop");
}

static bp_code make(uint32_t n)
{
    rows = unknown = 0;
    return bpi_deeds_make(&row, &rows, &unknown, arena, by, n, &day, &errs);
}

static void is(uint32_t i, uint32_t nth, const char *key, int64_t from, int64_t to)
{
    ck_assert_uint_lt(i, rows);
    ck_assert_ptr_eq(row[i].plan, by[nth]);
    ck_assert_str_eq(row[i].plan->op[row[i].op].key, key);
    ck_assert_msg(row[i].done.from == from && row[i].done.to == to, "%s: %lld to %lld", key,
                  (long long)row[i].done.from, (long long)row[i].done.to);
}

START_TEST(what_is_done_once_more_is_there_twice)
{
    add_morning();
    add(BP_DAY_MISHAP, 1000, "");
    add(BP_DAY_DONE, 1050, "B1/chop");
    add(BP_DAY_START, 1085, "A1/chop");
    add(BP_DAY_START, 1100, "B1/mix");
    add(BP_DAY_DONE, 1370, "A1/chop");
    add(BP_DAY_DONE, 1430, "B1/mix");
    ck_assert_int_eq(make(2), BP_OK);
    ck_assert_uint_eq(rows, 6);
    is(0, 0, "A1/chop", 605, 890);
    is(1, 0, "B1/chop", 610, 1050); /* begun by the one plan, ended by the other */
    is(2, 1, "A1/chop", 1085, 1370);
    is(3, 1, "B1/mix", 1100, 1430); /* by the first it was due later */
    is(4, 1, "A1/serve", BP_NO_TIME, BP_NO_TIME);
    is(5, 1, "A1.carry", BP_NO_TIME, BP_NO_TIME);
    ck_assert_uint_eq(unknown, 0);
}
END_TEST

START_TEST(without_a_mended_plan_the_first_goes_on)
{
    add_morning();
    add(BP_DAY_MISHAP, 1000, "");
    add(BP_DAY_DONE, 1050, "B1/chop");
    add(BP_DAY_START, 1085, "A1/serve");
    ck_assert_int_eq(make(1), BP_OK);
    ck_assert_uint_eq(rows, 5);
    is(0, 0, "A1/chop", 605, 890);
    is(1, 0, "B1/chop", 610, 1050);
    is(2, 0, "A1/serve", 1085, BP_NO_TIME);
    is(3, 0, "B1/mix", BP_NO_TIME, BP_NO_TIME);
    is(4, 0, "A1.carry", BP_NO_TIME, BP_NO_TIME);
}
END_TEST

/* What had begun by the second mishap keeps the plan it began by, and its own seconds. */
START_TEST(two_mishaps_are_followed_in_turn)
{
    add_morning();
    add(BP_DAY_MISHAP, 1000, "");
    add(BP_DAY_DONE, 1050, "B1/chop");
    add(BP_DAY_START, 1085, "A1/chop");
    add(BP_DAY_START, 1100, "B1/mix");
    add(BP_DAY_MISHAP, 1190, "");
    add(BP_DAY_DONE, 1433, "A1/chop");
    add(BP_DAY_START, 1520, "A1/serve");
    ck_assert_int_eq(make(3), BP_OK);
    ck_assert_uint_eq(rows, 6);
    is(0, 0, "A1/chop", 605, 890);
    is(1, 0, "B1/chop", 610, 1050);
    is(2, 1, "A1/chop", 1085, 1433);
    is(3, 1, "B1/mix", 1100, BP_NO_TIME);
    is(4, 2, "A1/serve", 1520, BP_NO_TIME);
    is(5, 2, "A1.carry", BP_NO_TIME, BP_NO_TIME);
}
END_TEST

/* The mended plan says when it began; the log does not. */
START_TEST(a_past_that_nobody_ticked_has_no_times)
{
    add(BP_DAY_START, 605, "A1/chop");
    add(BP_DAY_DONE, 890, "A1/chop");
    add(BP_DAY_MISHAP, 1000, "");
    add(BP_DAY_DONE, 1050, "B1/chop");
    ck_assert_int_eq(make(2), BP_OK);
    is(0, 0, "A1/chop", 605, 890);
    is(1, 1, "B1/chop", BP_NO_TIME, 1050);
}
END_TEST

/* Ended at 980 s, by the mended plan on the minute after that. */
START_TEST(a_tick_is_taken_back_across_the_mishap)
{
    bp_op op[5];
    memcpy(op, second, sizeof op);
    op[0].to = 1020;
    const bp_plan ended = PLAN(op, 1, 1020);
    const bp_plan *const both[] = {&plans[0], &ended};
    static const bp_actual left[] = {{610, 980}, {610, BP_NO_TIME}, {BP_NO_TIME, BP_NO_TIME}};
    add_morning();
    add(BP_DAY_DONE, 980, "B1/chop");
    add(BP_DAY_MISHAP, 1000, "");
    for (int undone = 0; undone < 3; undone++) {
        rows = unknown = 0;
        ck_assert_int_eq(bpi_deeds_make(&row, &rows, &unknown, arena, both, 2, &day, &errs), BP_OK);
        is(1, 0, "B1/chop", left[undone].from, left[undone].to);
        add(BP_DAY_UNDO, 1030 + undone, "B1/chop");
    }
}
END_TEST

START_TEST(what_the_plan_in_force_has_not_is_counted)
{
    add_morning();
    add(BP_DAY_START, 895, "C1/boil");
    add(BP_DAY_MISHAP, 1000, "");
    add(BP_DAY_START, 1085, "C1/boil");
    ck_assert_int_eq(make(2), BP_OK);
    ck_assert_uint_eq(unknown, 2);
}
END_TEST

START_TEST(memory_is_refused)
{
    add_morning();
    add(BP_DAY_MISHAP, 1000, "");
    add(BP_DAY_DONE, 1050, "B1/chop");
    bp_code rc = BP_ENOMEM;
    int refused = -1;
    while (rc == BP_ENOMEM) {
        bpi_arena *own = bpi_arena_new();
        ck_assert_ptr_nonnull(own);
        errs = (bp_errors){0};
        bpi_mem_fail_at(++refused, 0);
        rc = bpi_deeds_make(&row, &rows, &unknown, own, by, 2, &day, &errs);
        bpi_mem_fail_at(-1, 0);
        bpi_arena_free(own);
        ck_assert_uint_eq(errs.n, rc == BP_ENOMEM);
    }
    ck_assert_int_eq(rc, BP_OK);
    ck_assert_int_gt(refused, 1);
}
END_TEST

Suite *suite_day_deeds(void);
Suite *suite_day_deeds(void)
{
    Suite *suite = suite_create("day/deeds");
    TCase *c = tcase_create("deeds");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, what_is_done_once_more_is_there_twice);
    tcase_add_test(c, without_a_mended_plan_the_first_goes_on);
    tcase_add_test(c, two_mishaps_are_followed_in_turn);
    tcase_add_test(c, a_past_that_nobody_ticked_has_no_times);
    tcase_add_test(c, a_tick_is_taken_back_across_the_mishap);
    tcase_add_test(c, what_the_plan_in_force_has_not_is_counted);
    tcase_add_test(c, memory_is_refused);
    suite_add_tcase(suite, c);
    return suite;
}

#include "goods/pack.h"

#include <check.h>

#include "base/memory.h"

#define STAGES 3 /* the kitchen and two sets */

/* As many in all as are in use at one time, whoever begins; each for the stage that was first to find
 * none free. */
static const struct {
    const char *name;
    bpi_pull_use use[5];
    uint32_t uses;
    bpi_pack_count want[STAGES];
} rows[] = {
    {"none", {{0}}, 0, {{0, 0}, {0, 0}, {0, 0}}},
    {"another tool", {{1, 0, 9, "A1", 0}}, 1, {{0, 0}, {0, 0}, {0, 0}}},
    {"one, then the set", {{0, 10, 20, "A1", 1}, {0, 0, 10, "A1", 0}}, 2, {{1, 1}, {0, 1}, {0, 0}}},
    {"a second while it is away",
     {{0, 0, 11, "A1", 0}, {0, 10, 20, "A2", 1}},
     2,
     {{1, 1}, {1, 1}, {0, 0}}},
    {"both at once: the kitchen packs",
     {{0, 5, 9, "A2", 2}, {0, 5, 9, "A1", 0}, {0, 9, 12, "A3", 2}, {0, 9, 12, "A3", 2}},
     4,
     {{1, 1}, {0, 0}, {1, 2}}},
    {"no time at all", {{0, 5, 5, "A1", 0}}, 1, {{0, 0}, {0, 0}, {0, 0}}},
    {"packed here, and used elsewhere in between",
     {{0, 0, 5, "A1", 1}, {0, 5, 20, "A2", 0}, {0, 10, 20, "A3", 1}},
     3,
     {{0, 1}, {2, 1}, {0, 0}}},
};

START_TEST(each_thing_is_packed_once)
{
    bpi_pack_count is[STAGES];
    bpi_arena *a = bpi_arena_new();
    uint32_t sum = 0;
    ck_assert(bpi_pack_tool(is, STAGES, 0, rows[_i].use, rows[_i].uses, a));
    for (uint32_t s = 0; s < STAGES; s++) {
        ck_assert_msg(
            is[s].packed == rows[_i].want[s].packed && is[s].in_use == rows[_i].want[s].in_use,
            "%s, stage %u: %u packed, %u in use", rows[_i].name, s, is[s].packed, is[s].in_use);
        sum += is[s].packed;
    }
    ck_assert_uint_eq(sum, bpi_gear_most(0, rows[_i].use, rows[_i].uses, NULL));
    bpi_arena_free(a);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(every_request_for_memory_may_fail)
{
    bpi_pack_count is[STAGES];
    bool done = false;
    for (long k = 0; !done; k++) {
        bpi_mem_fail_at(k, 0);
        bpi_arena *a = bpi_arena_new();
        done = a && bpi_pack_tool(is, STAGES, 0, rows[2].use, rows[2].uses, a);
        bpi_mem_fail_at(-1, 0);
        bpi_arena_free(a);
        ck_assert(done || k < 20);
        ck_assert(!done || k > 0);
    }
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

Suite *suite_goods_pack(void);
Suite *suite_goods_pack(void)
{
    Suite *s = suite_create("goods/pack");
    TCase *c = tcase_create("pack");
    tcase_add_loop_test(c, each_thing_is_packed_once, 0, sizeof rows / sizeof *rows);
    tcase_add_test(c, every_request_for_memory_may_fail);
    suite_add_tcase(s, c);
    return s;
}

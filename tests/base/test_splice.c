/* Parts of a text replaced: held to doing it byte by byte. */
#include "base/splice.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"

static bp_errors errs;

START_TEST(what_is_between_stays)
{
    bpi_text out = BPI_TEXT_EMPTY;
    const bpi_splice part[] = {{0, 1, "AA", 2}, {1, 1, "-", 1}, {4, 6, "", 0}, {6, 6, "end", 3}};
    bpi_text_put(&out, ">");
    ck_assert_int_eq(bpi_splice_apply(&out, "abcdef", 6, part, 4, &errs), BP_OK);
    ck_assert_str_eq(out.s, ">AA-bcdend");
    bpi_text_reset(&out);
    ck_assert_int_eq(bpi_splice_apply(&out, "a\0b", 3, part, 1, &errs), BP_OK);
    ck_assert_uint_eq(out.len, 4);
    ck_assert_mem_eq(out.s, "AA\0b", 4);
    bpi_text_reset(&out);
    ck_assert_int_eq(bpi_splice_apply(&out, "", 0, NULL, 0, &errs), BP_OK);
    ck_assert_uint_eq(out.len, 0);
    bpi_text_release(&out);
}
END_TEST

static const bpi_splice wrong[][2] = {
    {{2, 4, "x", 1}, {3, 5, "y", 1}}, /* one over the other  */
    {{3, 4, "x", 1}, {1, 2, "y", 1}}, /* out of order        */
    {{0, 1, "x", 1}, {5, 7, "y", 1}}, /* beyond the end      */
    {{2, 1, "x", 1}, {3, 4, "y", 1}}, /* ends before it began */
};

START_TEST(parts_in_each_others_way_are_refused)
{
    bpi_text out = BPI_TEXT_EMPTY;
    bpi_text_put(&out, "kept");
    errs = (bp_errors){0};
    ck_assert_int_eq(bpi_splice_apply(&out, "abcdef", 6, wrong[_i], 2, &errs), BP_ERANGE);
    ck_assert_uint_eq(errs.n, 1);
    ck_assert_str_eq(out.s, "kept");
    bpi_text_release(&out);
}
END_TEST

static uint32_t state;

static uint32_t draw(uint32_t n) /* 0 .. n - 1 */
{
    state = state * 1664525u + 1013904223u;
    return (uint32_t)(((uint64_t)state * n) >> 32);
}

/* Texts and parts made up from a seed. Each byte of the old text is in no part and stands in the new
 * one, in order, or in one and does not. */
START_TEST(nothing_else_changes)
{
    enum { LENGTH = 200, PARTS = 12 };
    char old[LENGTH], want[LENGTH * 4], with[PARTS][8];
    for (state = 1; state < 3000; state += 7) {
        uint32_t seed = state, n = draw(LENGTH + 1), parts = 0, at = 0;
        size_t used = 0;
        bpi_splice part[PARTS];
        for (uint32_t i = 0; i < n; i++)
            old[i] = (char)draw(256);
        while (parts < PARTS) {
            uint32_t from = at + draw(n - at + 1), to = from + draw(n - from + 1);
            size_t len = draw(sizeof with[0]);
            for (size_t i = 0; i < len; i++)
                with[parts][i] = (char)draw(256);
            for (; at < from; at++)
                want[used++] = old[at];
            memcpy(want + used, with[parts], len);
            used += len;
            at = to;
            part[parts] = (bpi_splice){from, to, with[parts], len};
            parts++;
            if (draw(3) == 0)
                break;
        }
        for (; at < n; at++)
            want[used++] = old[at];
        bpi_text out = BPI_TEXT_EMPTY;
        ck_assert_int_eq(bpi_splice_apply(&out, old, n, part, parts, &errs), BP_OK);
        ck_assert_msg(out.len == used && (used == 0 || memcmp(out.s, want, used) == 0), "seed %u",
                      seed);
        bpi_text_release(&out);
        state = seed;
    }
}
END_TEST

START_TEST(without_memory_it_is_as_before)
{
    const bpi_splice part[] = {{0, 1, "AA", 2}};
    bool fired = true;
    for (long k = 0; fired; k++) {
        bpi_text out = BPI_TEXT_EMPTY;
        errs = (bp_errors){0};
        bpi_mem_fail_at(k, 0);
        bp_code rc = bpi_splice_apply(&out, "abcdef", 6, part, 1, &errs);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        bpi_text_release(&out);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

Suite *suite_base_splice(void);
Suite *suite_base_splice(void)
{
    Suite *s = suite_create("base/splice");
    TCase *c = tcase_create("splice");
    tcase_add_test(c, what_is_between_stays);
    tcase_add_loop_test(c, parts_in_each_others_way_are_refused, 0,
                        (int)(sizeof wrong / sizeof *wrong));
    tcase_add_test(c, nothing_else_changes);
    tcase_add_test(c, without_memory_it_is_as_before);
    suite_add_tcase(s, c);
    return s;
}

#include "base/arena.h"

#include <check.h>
#include <stdint.h>
#include <string.h>

#include "base/limits.h"
#include "base/memory.h"

START_TEST(takes_are_zeroed_aligned_and_apart)
{
    bpi_arena *a = bpi_arena_new();
    ck_assert_ptr_nonnull(a);
    char *last = NULL;
    for (size_t size = 1; size < 3 * BPI_ARENA_BLOCK; size = size * 2 + 1) {
        char *p = bpi_arena_take(a, 1, size);
        ck_assert_ptr_nonnull(p);
        ck_assert_uint_eq((uintptr_t)p % sizeof(void *), 0);
        ck_assert_ptr_ne(p, last);
        for (size_t i = 0; i < size; i++)
            ck_assert_int_eq(p[i], 0);
        memset(p, 0x5A, size); /* a later take must not be found dirty */
        last = p;
    }
    bpi_arena_free(a);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(a_product_that_overflows_is_refused)
{
    bpi_arena *a = bpi_arena_new();
    ck_assert_ptr_null(bpi_arena_take(a, SIZE_MAX / 2, 3));
    ck_assert_ptr_null(bpi_arena_take(a, SIZE_MAX, 1));
    ck_assert_ptr_null(bpi_arena_copy(a, "x", SIZE_MAX));
    bpi_arena_free(a);
}
END_TEST

START_TEST(a_list_grows_and_keeps_its_members)
{
    bpi_arena *a = bpi_arena_new();
    void *list = NULL;
    size_t room = 0;
    for (size_t n = 0; n < 1000; n++) {
        int *place = bpi_arena_more(a, &list, &room, n, sizeof(int));
        ck_assert_ptr_nonnull(place);
        ck_assert_int_eq(*place, 0);
        *place = (int)n;
    }
    for (size_t n = 0; n < 1000; n++)
        ck_assert_int_eq(((int *)list)[n], (int)n);
    bpi_arena_free(a);
}
END_TEST

START_TEST(without_memory_a_list_stays_as_it_was)
{
    bpi_arena *a = bpi_arena_new();
    void *list = NULL;
    size_t room = 0, n = 0;
    for (; n < BPI_LIST_FIRST; n++)
        *(int *)bpi_arena_more(a, &list, &room, n, sizeof(int)) = 7;
    void *before = list;
    bpi_mem_fail_at(0, 1);
    void *grown = NULL;
    while ((grown = bpi_arena_take(a, 1, sizeof(int))) != NULL) /* use up the block in hand */
        ;
    ck_assert_ptr_null(bpi_arena_more(a, &list, &room, n, sizeof(int)));
    bpi_mem_fail_at(-1, 0);
    ck_assert_ptr_eq(list, before);
    ck_assert_int_eq(((int *)list)[0], 7);
    bpi_arena_free(a);
}
END_TEST

START_TEST(what_is_joined_lives_and_ends_with_the_arena_it_joined)
{
    long alive = bpi_mem_alive();
    for (int how = 0; how < 4; how++) { /* each of the two empty or not */
        bpi_arena *a = bpi_arena_new(), *from = bpi_arena_new();
        char *in_a = how & 1 ? bpi_arena_copy(a, "below", 5) : NULL;
        char *in_from = how & 2 ? bpi_arena_copy(from, "beside", 6) : NULL;
        if (in_from) /* and a block of its own */
            ck_assert_ptr_nonnull(bpi_arena_take(from, 1, 2 * BPI_ARENA_BLOCK));
        bpi_arena_join(a, from);
        bpi_arena_join(a, NULL);
        char *after = bpi_arena_copy(a, "after", 5);
        ck_assert_str_eq(after, "after");
        ck_assert(!in_a || strcmp(in_a, "below") == 0);
        ck_assert(!in_from || strcmp(in_from, "beside") == 0);
        bpi_arena_free(a);
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
}
END_TEST

Suite *suite_base_arena(void);
Suite *suite_base_arena(void)
{
    Suite *s = suite_create("base/arena");
    TCase *c = tcase_create("arena");
    tcase_add_test(c, takes_are_zeroed_aligned_and_apart);
    tcase_add_test(c, a_product_that_overflows_is_refused);
    tcase_add_test(c, a_list_grows_and_keeps_its_members);
    tcase_add_test(c, without_memory_a_list_stays_as_it_was);
    tcase_add_test(c, what_is_joined_lives_and_ends_with_the_arena_it_joined);
    suite_add_tcase(s, c);
    return s;
}

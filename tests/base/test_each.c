/* Tasks done by one thread or by several: each once, number 0 by the caller, the same put together. */
#include "base/each.h"

#include <check.h>
#include <pthread.h>
#include <signal.h>
#include <stdbool.h>
#include <string.h>

#include "base/memory.h"
#include "base/sys.h"

enum { TASKS = 500 };

typedef struct row {
    pthread_t by;
    uint32_t times, value;
    int interrupts; /* is SIGINT let in? */
} row;

static row rows[TASKS];
static uint32_t order[TASKS], ordered;

static void fill_row(void *ctx, uint32_t i)
{
    row *r = (row *)ctx + i;
    sigset_t now;
    pthread_sigmask(SIG_SETMASK, NULL, &now);
    r->by = pthread_self();
    r->interrupts = !sigismember(&now, SIGINT);
    for (uint32_t k = 0; k <= i; k++)
        r->value += k * k;
    r->times++;
}

static void note(void *ctx, uint32_t i)
{
    fill_row(ctx, i);
    order[ordered++] = i;
}

static void fresh(void)
{
    memset(rows, 0, sizeof rows);
    ordered = 0;
    bpi_each_begun();
}

static bool all_here(uint32_t n)
{
    for (uint32_t i = 0; i < n; i++)
        if (!pthread_equal(rows[i].by, pthread_self()))
            return false;
    return true;
}

START_TEST(each_is_done_once_by_any_number_of_threads)
{
    static const uint32_t threads[] = {0, 1, 2, 3, 8, 64, 1000};
    for (size_t t = 0; t < sizeof threads / sizeof *threads; t++) {
        fresh();
        bpi_each(threads[t], TASKS, fill_row, rows);
        uint32_t most = threads[t] > 64 ? 64 : threads[t];
        ck_assert_uint_eq(bpi_each_begun(), most > 1 ? most - 1 : 0);
        ck_assert(pthread_equal(rows[0].by, pthread_self()));
        for (uint32_t i = 0; i < TASKS; i++) {
            ck_assert_uint_eq(rows[i].times, 1);
            ck_assert_uint_eq(rows[i].value, i * (i + 1) * (2 * i + 1) / 6);
        }
    }
}
END_TEST

START_TEST(no_more_threads_are_begun_than_there_are_tasks)
{
    fresh();
    bpi_each(8, 0, fill_row, rows);
    ck_assert_uint_eq(bpi_each_begun(), 0);
    ck_assert_uint_eq(rows[0].times, 0);
    bpi_each(8, 1, fill_row, rows);
    ck_assert_uint_eq(bpi_each_begun(), 0);
    ck_assert_uint_eq(rows[0].times, 1);
    bpi_each(8, 3, fill_row, rows);
    ck_assert_uint_eq(bpi_each_begun(), 2);
    ck_assert_uint_eq(rows[2].times, 1);
    ck_assert_uint_eq(rows[3].times, 0);
}
END_TEST

START_TEST(one_thread_goes_by_number)
{
    fresh();
    bpi_each(1, TASKS, note, rows);
    ck_assert_uint_eq(ordered, TASKS);
    for (uint32_t i = 0; i < TASKS; i++)
        ck_assert_uint_eq(order[i], i);
    ck_assert(all_here(TASKS));
}
END_TEST

START_TEST(without_threads_to_be_had_all_is_done_here)
{
    fresh();
    bpi_each_refuse(1);
    bpi_each(4, TASKS, note, rows);
    bpi_each_refuse(0);
    ck_assert_uint_eq(bpi_each_begun(), 0);
    ck_assert_uint_eq(ordered, TASKS);
    ck_assert(all_here(TASKS));
}
END_TEST

static void *got[4];

static void ask_memory(void *ctx, uint32_t i)
{
    (void)ctx;
    got[i] = bpi_mem_get(1);
}

/* Which request is refused must not hang on who comes first. */
START_TEST(while_a_refusal_waits_request_k_is_that_of_task_k)
{
    fresh();
    for (long k = 0; k < 4; k++) {
        bpi_mem_fail_at(k, 0);
        bpi_each(4, 4, ask_memory, NULL);
        ck_assert_uint_eq(bpi_each_begun(), 0);
        ck_assert_int_eq(bpi_mem_waits(), 0); /* it has come */
        for (long i = 0; i < 4; i++) {
            ck_assert(!got[i] == (i == k));
            bpi_mem_drop(got[i]);
        }
    }
    bpi_mem_fail_at(-1, 0);
    bpi_sys_fail_at(1000, 5, 0);
    bpi_each(4, TASKS, note, rows);
    bpi_sys_fail_at(-1, 0, 0);
    ck_assert_uint_eq(bpi_each_begun(), 0);
    ck_assert(all_here(TASKS));
    bpi_each(4, TASKS, fill_row, rows);
    ck_assert_uint_eq(bpi_each_begun(), 3);
}
END_TEST

static void ask_much_memory(void *ctx, uint32_t i)
{
    (void)ctx;
    (void)i;
    for (int k = 0; k < 200; k++)
        bpi_mem_drop(bpi_mem_get(8));
}

START_TEST(blocks_are_counted_right_whoever_asks_for_them)
{
    long alive = bpi_mem_alive();
    bpi_each(8, TASKS, ask_much_memory, NULL);
    ck_assert_int_eq(bpi_mem_alive(), alive);
}
END_TEST

/* A handler of the caller's program runs where it would have run without us. */
START_TEST(the_other_threads_let_no_signal_in)
{
    fresh();
    bpi_each(4, TASKS, fill_row, rows);
    for (uint32_t i = 0; i < TASKS; i++)
        ck_assert(rows[i].interrupts == !!pthread_equal(rows[i].by, pthread_self()));
    sigset_t now;
    pthread_sigmask(SIG_SETMASK, NULL, &now);
    ck_assert(!sigismember(&now, SIGINT));
}
END_TEST

START_TEST(there_is_a_processor)
{
    uint32_t n = bpi_each_processors();
    ck_assert(n >= 1 && n <= BPI_MOST_THREADS);
}
END_TEST

Suite *suite_base_each(void);
Suite *suite_base_each(void)
{
    Suite *s = suite_create("base/each");
    TCase *c = tcase_create("each");
    tcase_add_test(c, each_is_done_once_by_any_number_of_threads);
    tcase_add_test(c, no_more_threads_are_begun_than_there_are_tasks);
    tcase_add_test(c, one_thread_goes_by_number);
    tcase_add_test(c, without_threads_to_be_had_all_is_done_here);
    tcase_add_test(c, while_a_refusal_waits_request_k_is_that_of_task_k);
    tcase_add_test(c, blocks_are_counted_right_whoever_asks_for_them);
    tcase_add_test(c, the_other_threads_let_no_signal_in);
    tcase_add_test(c, there_is_a_processor);
    suite_add_tcase(s, c);
    return s;
}

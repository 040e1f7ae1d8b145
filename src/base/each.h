/* src/base/each.h - tasks that know nothing of each other, several at once.
 *
 * Owns     nothing; threads begin and end within the call.
 * May use  POSIX threads, base/memory and base/sys (is a refusal waiting?).
 *
 * Tasks are told apart by number. Which thread does which, and when, is chance: so a task writes to what
 * is its own alone, and its caller puts the results together by number. Then one thread and many give
 * the same bytes.
 */
#ifndef BP_BASE_EACH_H
#define BP_BASE_EACH_H

#include <stdint.h>

#define BPI_MOST_THREADS 64

/* Call one(ctx, i) for each i below n, by at most `threads` at once (0 or 1: by this one alone, in
 * order; more than BPI_MOST_THREADS: so many). The calling thread is one of them; number 0 is always
 * its own, and it comes back when all are done. The others let no signal in: those are for who called.
 * A thread that cannot be had costs time, nothing else. While a refusal waits (bpi_mem_fail_at,
 * bpi_sys_fail_at) all is done in order, so that request number k is the same each time. */
void bpi_each(uint32_t threads, uint32_t n, void (*one)(void *ctx, uint32_t i), void *ctx);

/* As many threads as there are processors, 1 to BPI_MOST_THREADS. */
uint32_t bpi_each_processors(void);

#ifdef BPI_TESTING
void bpi_each_refuse(int refuse); /* from now on no thread can be had, or they can again         */
uint32_t bpi_each_begun(void);    /* threads begun by this thread's calls since it asked last    */
#endif
#endif

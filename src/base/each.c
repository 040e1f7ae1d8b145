#include "base/each.h"

#include <pthread.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <unistd.h>

#include "base/memory.h"
#include "base/sys.h"

typedef struct work {
    void (*one)(void *ctx, uint32_t i);
    void *ctx;
    uint32_t n;
    atomic_uint next; /* never far beyond n: each thread takes one that is not there */
} work;

#ifdef BPI_TESTING
static int refused;
static _Thread_local uint32_t begun;

void bpi_each_refuse(int refuse)
{
    refused = refuse;
}

uint32_t bpi_each_begun(void)
{
    uint32_t n = begun;
    begun = 0;
    return n;
}
#endif

static void take_turns(work *w)
{
    for (;;) {
        uint32_t i = atomic_fetch_add(&w->next, 1);
        if (i >= w->n)
            return;
        w->one(w->ctx, i);
    }
}

static void *run(void *w)
{
    take_turns(w);
    return NULL;
}

static bool begin(pthread_t *thread, work *w)
{
#ifdef BPI_TESTING
    if (refused)
        return false;
#endif
    bool fine = pthread_create(thread, NULL, run, w) == 0;
#ifdef BPI_TESTING
    begun += fine;
#endif
    return fine;
}

static uint32_t begin_all(pthread_t *thread, uint32_t most, work *w)
{
    sigset_t all, before;
    uint32_t n = 0;
    sigfillset(&all);
    if (pthread_sigmask(SIG_SETMASK, &all, &before) != 0)
        return 0;
    while (n < most && begin(&thread[n], w))
        n++;
    pthread_sigmask(SIG_SETMASK, &before, NULL);
    return n;
}

void bpi_each(uint32_t threads, uint32_t n, void (*one)(void *ctx, uint32_t i), void *ctx)
{
    pthread_t thread[BPI_MOST_THREADS];
    work w = {.one = one, .ctx = ctx, .n = n};
    atomic_init(&w.next, 1);
    threads = threads > BPI_MOST_THREADS ? BPI_MOST_THREADS : threads;
    threads = threads > n ? n : threads;
#ifdef BPI_TESTING
    if (bpi_mem_waits() || bpi_sys_waits())
        threads = 1;
#endif
    if (n == 0)
        return;
    uint32_t others = threads > 1 ? begin_all(thread, threads - 1, &w) : 0;
    one(ctx, 0);
    take_turns(&w);
    for (uint32_t i = 0; i < others; i++)
        pthread_join(thread[i], NULL);
}

uint32_t bpi_each_processors(void)
{
    long n = sysconf(_SC_NPROCESSORS_ONLN);
    return n < 1 ? 1 : n > BPI_MOST_THREADS ? BPI_MOST_THREADS : (uint32_t)n;
}

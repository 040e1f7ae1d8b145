#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

#ifdef BPI_TESTING
#include <stdatomic.h>

static long countdown = -1;
static int fail_after, failed;
static atomic_long alive; /* counted by every thread */

void bpi_mem_fail_at(long k, int after)
{
    countdown = k;
    fail_after = after;
    failed = 0;
}

int bpi_mem_failed(void)
{
    return failed;
}

int bpi_mem_waits(void)
{
    return countdown >= 0;
}

long bpi_mem_alive(void)
{
    return alive;
}

static int refuse(void)
{
    if (countdown < 0)
        return 0;
    if (countdown > 0) {
        countdown--;
        return 0;
    }
    if (!fail_after)
        countdown = -1;
    failed = 1;
    return 1;
}
#endif

void *bpi_mem_get(size_t size)
{
#ifdef BPI_TESTING
    if (refuse())
        return NULL;
#endif
    void *block = calloc(1, size ? size : 1);
#ifdef BPI_TESTING
    alive += block != NULL;
#endif
    return block;
}

void *bpi_mem_grow(void *block, size_t size)
{
#ifdef BPI_TESTING
    if (refuse())
        return NULL;
#endif
    void *grown = realloc(block, size ? size : 1);
#ifdef BPI_TESTING
    alive += grown && !block;
#endif
    return grown;
}

int bpi_mem_room(size_t size)
{
#ifdef BPI_TESTING
    if (refuse())
        return 0;
#endif
    void *volatile block = malloc(size); /* volatile: else the compiler leaves both calls out */
    free(block);
    return block != NULL;
}

void bpi_mem_drop(void *block)
{
#ifdef BPI_TESTING
    alive -= block != NULL;
#endif
    free(block);
}

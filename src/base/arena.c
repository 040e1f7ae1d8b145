#include "base/arena.h"

#include <stdalign.h>
#include <stdint.h>
#include <string.h>

#include "base/limits.h"
#include "base/memory.h"

typedef struct block {
    struct block *older;
    size_t used, room;
    max_align_t data[];
} block;

struct bpi_arena {
    block *newest;
};

bpi_arena *bpi_arena_new(void)
{
    return bpi_mem_get(sizeof(bpi_arena));
}

void bpi_arena_free(bpi_arena *a)
{
    if (!a)
        return;
    for (block *b = a->newest; b;) {
        block *older = b->older;
        bpi_mem_drop(b);
        b = older;
    }
    bpi_mem_drop(a);
}

void bpi_arena_join(bpi_arena *a, bpi_arena *from)
{
    if (!from)
        return;
    block **end = &from->newest;
    while (*end)
        end = &(*end)->older;
    if (a->newest) { /* below the newest, which may have room left */
        *end = a->newest->older;
        a->newest->older = from->newest;
    } else {
        a->newest = from->newest;
    }
    bpi_mem_drop(from);
}

static block *add_block(bpi_arena *a, size_t room)
{
    if (room > SIZE_MAX - sizeof(block))
        return NULL;
    block *b = bpi_mem_get(sizeof(block) + room);
    if (!b)
        return NULL;
    b->room = room;
    b->older = a->newest;
    a->newest = b;
    return b;
}

void *bpi_arena_take(bpi_arena *a, size_t n, size_t size)
{
    const size_t unit = alignof(max_align_t);
    if (size && n > (SIZE_MAX - unit) / size)
        return NULL;
    size_t want = n * size;
    block *b = a->newest;
#ifdef BPI_ARENA_EACH
    b = add_block(a, want);
#else
    want = (want + unit - 1) / unit * unit;
    if (!b || b->room - b->used < want)
        b = add_block(a, want > BPI_ARENA_BLOCK ? want : BPI_ARENA_BLOCK);
#endif
    if (!b)
        return NULL;
    void *place = (char *)b->data + b->used;
    b->used += want;
    return place;
}

char *bpi_arena_copy(bpi_arena *a, const char *text, size_t len)
{
    if (len == SIZE_MAX)
        return NULL;
    char *copy = bpi_arena_take(a, len + 1, 1);
    if (copy && len)
        memcpy(copy, text, len);
    return copy;
}

void *bpi_arena_more(bpi_arena *a, void **list, size_t *room, size_t n, size_t size)
{
    if (n >= *room) {
        size_t twice = *room ? *room * 2 : BPI_LIST_FIRST;
        if (twice < *room)
            return NULL;
        void *wider = bpi_arena_take(a, twice, size);
        if (!wider)
            return NULL;
        if (n)
            memcpy(wider, *list, n * size);
        *list = wider;
        *room = twice;
    }
    return (char *)*list + n * size;
}

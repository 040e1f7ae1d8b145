/* src/base/arena.h - storage that is given back all at once.
 *
 * Owns     a chain of blocks; everything one show or one solve reads or computes lives in one.
 * May use  base/memory.
 *
 *   arena -> block | used ...... | free |  -> older block -> NULL
 *
 * With -DBPI_ARENA_EACH each request gets a block of its own, so that the address sanitizer sees an
 * overrun and a failing request can be any of them.
 */
#ifndef BP_BASE_ARENA_H
#define BP_BASE_ARENA_H

#include <stddef.h>

typedef struct bpi_arena bpi_arena;

bpi_arena *bpi_arena_new(void);    /* NULL: no memory        */
void bpi_arena_free(bpi_arena *a); /* NULL does nothing */

/* What is in `from` now lives in `a`, and `from` is gone. NULL for `from` does nothing. */
void bpi_arena_join(bpi_arena *a, bpi_arena *from);

/* n things of `size` bytes, zeroed and aligned for any type; NULL: no memory, or n*size overflows.
 * n of 0 gives a valid pointer to nothing. */
void *bpi_arena_take(bpi_arena *a, size_t n, size_t size);
#define BPI_TAKE(a, n, T) ((T *)bpi_arena_take((a), (n), sizeof(T)))

/* A copy of `len` bytes with a NUL after them; NULL: no memory. */
char *bpi_arena_copy(bpi_arena *a, const char *text, size_t len);

/* Room for one more in a list that lives in an arena: moves *list of *room things to a list of
 * twice the room once n reaches it. Returns NULL without memory (the list is as it was), else the
 * place of thing n, zeroed. The old list stays in the arena until it is freed. */
void *bpi_arena_more(bpi_arena *a, void **list, size_t *room, size_t n, size_t size);

#endif

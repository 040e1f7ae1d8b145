/* src/engine/grow.h - arrays that grow and shrink while a search runs.
 *
 * Owns     nothing; the array belongs to the structure that names its three members.
 * May use  base/memory.
 *
 * An arena gives nothing back before its end, and the trail, the reasons and the learned clauses
 * come and go millions of times, so these live on the heap, each as `T *x; uint32_t xs, x_room;`.
 */
#ifndef BP_ENGINE_GROW_H
#define BP_ENGINE_GROW_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Room for `n` things of `size` bytes; false: no memory, the array is as it was. */
bool bpi_grow_to(void **data, uint32_t *room, uint64_t n, size_t size);

#define BPI_GROW(data, room, n)                                                                    \
    ((n) <= (room) || bpi_grow_to((void **)&(data), &(room), (n), sizeof *(data)))

#endif

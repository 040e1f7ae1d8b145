/* src/base/memory.h - the one door to the heap.
 *
 * Owns     nothing; every block of the library is asked for and given back here, so that a test
 *          can refuse any request and count what is alive.
 * May use  the C library.
 */
#ifndef BP_BASE_MEMORY_H
#define BP_BASE_MEMORY_H

#include <stddef.h>

void *bpi_mem_get(size_t size);               /* zeroed; NULL: none                    */
void *bpi_mem_grow(void *block, size_t size); /* as realloc; NULL: none, block stays   */
void bpi_mem_drop(void *block);               /* NULL does nothing                     */

/* Could so much more be had at once? Asked before a library is called that cannot do without memory
 * (libical then goes on with half a time zone or crashes, GLib ends the process): 0 is the last
 * moment at which that can be said instead. */
int bpi_mem_room(size_t size);
#define BPI_ROOM_ZONE     ((size_t)4 << 20)  /* a time zone of libical: 2 MB          */
#define BPI_ROOM_CALENDAR ((size_t)8 << 20)  /* a calendar of libical: 3 MB           */
#define BPI_ROOM_PAPER    ((size_t)64 << 20) /* a paper, with all fonts: 30 MB        */

#ifdef BPI_TESTING
/* Request number k (from 0) after this call fails; with `after`, so do all that follow. Below 0:
 * none fails. The counter is one for the process: tests that use it begin no threads of their own, and
 * bpi_each begins none while a refusal waits. */
void bpi_mem_fail_at(long k, int after);
int bpi_mem_failed(void); /* has a request been refused since then? */
int bpi_mem_waits(void);  /* is one still to be refused?            */
long bpi_mem_alive(void); /* blocks given and not yet dropped       */
#endif
#endif

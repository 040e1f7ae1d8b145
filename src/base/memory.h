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

#ifdef BPI_TESTING
/* Request number k (from 0) after this call fails; with `after`, so do all that follow. Below 0:
 * none fails. The counter is one for the process: tests that use it are single-threaded. */
void bpi_mem_fail_at(long k, int after);
int bpi_mem_failed(void); /* has a request been refused since then? */
long bpi_mem_alive(void); /* blocks given and not yet dropped       */
#endif
#endif

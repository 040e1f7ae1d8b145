/* src/engine/draw.h - random numbers for the searches that try things out: the same on every machine.
 *
 * Owns     nothing: the state is its caller's.
 * May use  nothing.
 *
 * xorshift64*: S. Vigna, "An experimental exploration of Marsaglia's xorshift generators, scrambled"
 * (2016); from memory.
 */
#ifndef BP_ENGINE_DRAW_H
#define BP_ENGINE_DRAW_H

#include <stdint.h>

/* A number from 0 to below - 1; below > 0. *state is not 0, and is moved on. */
static inline uint32_t bpi_draw(uint64_t *state, uint32_t below)
{
    uint64_t x = *state;
    x ^= x >> 12;
    x ^= x << 25;
    x ^= x >> 27;
    *state = x;
    return (uint32_t)((x * 0x2545F4914F6CDD1Du) >> 33) % below;
}

#endif

/* tests/support/share.h - how much of what a test makes up is tried in a slow build.
 */
#ifndef BP_TESTS_SHARE_H
#define BP_TESTS_SHARE_H

#include <stdint.h>

/* SHARE of the environment, a number from 1 to 9: one in so many seeds, moments or requests for memory
 * is tried. 1 where it says nothing: all. The Makefile sets it for builds with sanitizers. */
uint32_t share(void);

#endif

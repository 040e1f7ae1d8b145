/* tests/bench/dzn.h - an engine problem as data for tests/bench/beside.mzn.
 *
 * Owns     nothing.
 * May use  the public header of the engine.
 */
#ifndef BP_TESTS_BENCH_DZN_H
#define BP_TESTS_BENCH_DZN_H

#include <stdio.h>

#include "backpot/engine.h"

/* Level `level` is to be made least, those before it held at value[]. All facts hold. False: no
 * memory, or the file did not take it all. */
bool dzn_write(FILE *f, const bp_eng_problem *p, uint32_t level, const int64_t *value);

#endif

/* src/engine/check.h - is a problem well formed?
 *
 * Owns     nothing.
 * May use  the public header, base/error.
 */
#ifndef BP_ENGINE_CHECK_H
#define BP_ENGINE_CHECK_H

#include "backpot/engine.h"

/* BP_OK, or BP_EVALUE with every row that is wrong named in `errs`. */
bp_code bpi_problem_check(const bp_eng_problem *p, bp_errors *errs);

#endif

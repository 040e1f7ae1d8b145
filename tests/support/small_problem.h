/* tests/support/small_problem.h - scheduling problems small enough to try everything.
 *
 * Owns     the arrays of one problem.
 * May use  the public header of the engine only: the search below knows nothing of the engine.
 */
#ifndef BP_TESTS_SMALL_PROBLEM_H
#define BP_TESTS_SMALL_PROBLEM_H

#include "backpot/engine.h"

enum { SMALL_ROWS = 64 };

typedef struct small_problem {
    bp_eng_problem p;
    bp_eng_activity activity[SMALL_ROWS];
    bp_eng_option option[SMALL_ROWS];
    bp_eng_need need[SMALL_ROWS];
    bp_eng_lag lag[SMALL_ROWS];
    bp_eng_resource resource[SMALL_ROWS];
    bp_eng_span span[SMALL_ROWS];
    int32_t change[SMALL_ROWS];
    bp_eng_literal literal[SMALL_ROWS];
    bp_eng_clause clause[SMALL_ROWS];
    bp_eng_term term[SMALL_ROWS];
} small_problem;

/* Hand-made problems: each adds a row and returns its number. */
void small_init(small_problem *s, int32_t horizon, uint32_t facts, uint32_t levels);
uint32_t small_resource(small_problem *s, int32_t capacity, uint32_t fact);
uint32_t small_activity(small_problem *s); /* its options follow it at once */
uint32_t small_option(small_problem *s, int32_t least, int32_t most, uint32_t fact, int32_t who);
void small_need(small_problem *s, uint32_t res, int32_t amount, int32_t state); /* of that option */
uint32_t small_task(small_problem *s, int32_t length, uint32_t res,
                    int32_t amount); /* one option */
void small_lag(small_problem *s, uint32_t from, bp_eng_end from_end, uint32_t to, bp_eng_end to_end,
               int32_t least, uint32_t fact);
void small_after(small_problem *s, uint32_t first, uint32_t then); /* end to start */
void small_span(small_problem *s, uint32_t res, int32_t from, int32_t to, int32_t capacity,
                uint32_t fact);
void small_term(small_problem *s, uint32_t level, bp_eng_kind kind, uint32_t a, uint32_t b,
                int32_t at, int32_t weight);

/* A random one that uses every kind of row; equal seeds give equal problems. */
void small_random(small_problem *s, uint32_t seed);

/* Try everything. False: no schedule. Else value[] is the least, level by level. */
bool small_brute(const small_problem *s, const bool *off, int64_t value[BP_ENG_LEVELS]);

uint32_t small_draw(uint32_t *state, uint32_t below); /* xorshift: the same everywhere */

#endif

/* src/prep/rows.h - the rows of an engine problem while it grows.
 *
 * Owns     growing lists in an arena; bpi_rows_problem lends them as one problem.
 * May use  prep/prep.h, base/.
 *
 * Rows are added in order: a job, its options, the needs of each option. Running out of memory is a
 * mark, asked for once at the end (base/text.h does the same); an added row then goes nowhere.
 */
#ifndef BP_PREP_ROWS_H
#define BP_PREP_ROWS_H

#include "prep/prep.h"

typedef struct bpi_list {
    void *v;
    size_t room;
    uint32_t n;
} bpi_list;

typedef struct bpi_rows {
    bpi_arena *a;
    bool failed; /* out of memory */
    bpi_list activity, option, need, lag, resource, span, change, literal, clause, term;
    bpi_list job, serve, way, res, fact;
} bpi_rows;

/* The number of the fact with these values, a new one where there is none yet. Number 0 is made by
 * the first call whatever it asks for: it is beyond question. */
uint32_t bpi_rows_fact(bpi_rows *r, bpi_fact_kind kind, uint32_t a, uint32_t b, uint32_t c,
                       int64_t at, bpi_where where);

uint32_t bpi_rows_resource(bpi_rows *r, bpi_res what, int32_t capacity, uint32_t fact);
void bpi_rows_span(bpi_rows *r, uint32_t res, int32_t from, int32_t to, int32_t capacity,
                   uint32_t fact);

void bpi_rows_change(bpi_rows *r, int32_t minutes); /* next entry of a change table */

/* A job, without an option yet. `serve`: the containers, copied. */
uint32_t bpi_rows_job(bpi_rows *r, bpi_job job, const uint32_t *serve, uint32_t serves);
/* An option of the last job; returns its number within the job. */
uint32_t bpi_rows_option(bpi_rows *r, bpi_way way, int32_t least, int32_t most, uint32_t fact);
void bpi_rows_need(bpi_rows *r, uint32_t res, int32_t amount,
                   int32_t state); /* of the last option */

/* time(to, to_end) >= time(from, from_end) + least */
void bpi_rows_lag(bpi_rows *r, uint32_t from, bp_eng_end from_end, uint32_t to, bp_eng_end to_end,
                  int32_t least, uint32_t fact);
void bpi_rows_lag_if(bpi_rows *r, uint32_t from, bp_eng_end from_end, uint32_t to,
                     bp_eng_end to_end, int32_t least, uint32_t act, uint32_t opt, uint32_t fact);
void bpi_rows_meet(bpi_rows *r, uint32_t a, uint32_t b); /* b starts exactly at the end of a */
void bpi_rows_not_before(bpi_rows *r, uint32_t act, bp_eng_end end, int32_t time, uint32_t fact);
void bpi_rows_not_after(bpi_rows *r, uint32_t act, bp_eng_end end, int32_t time, uint32_t fact);

/* One of these must hold: literals are given to the next clause. */
void bpi_rows_literal(bpi_rows *r, uint32_t act, uint32_t opt, bool negated);
void bpi_rows_clause(bpi_rows *r, uint32_t literals, uint32_t fact);

void bpi_rows_term(bpi_rows *r, uint32_t level, bp_eng_kind kind, uint32_t a, uint32_t b,
                   int32_t at, int64_t weight);

/* Row n of a list. */
#define BPI_ROW(list, T, i) (&((T *)(list).v)[i])

void bpi_rows_problem(const bpi_rows *r, bp_eng_problem *p, int32_t horizon, uint32_t levels);

#endif

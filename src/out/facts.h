/* src/out/facts.h - what the papers say about a plan, found by looking through it.
 *
 * Owns     nothing; answers are texts in the caller's arena or indices into the plan.
 * May use  base/; reads the plan.
 * Units    plan time and whole seconds.
 */
#ifndef BP_OUT_FACTS_H
#define BP_OUT_FACTS_H

#include <stdbool.h>
#include <stdint.h>

#include "backpot/plan.h"
#include "base/arena.h"
#include "base/text.h"

/* A text grown on the heap, moved into the arena; *t is released. NULL: no memory. */
const char *bpi_fact_keep(bpi_arena *a, bpi_text *t);

#define BPI_FACT_DATE_ROOM 32

/* "Thu 3 Dec 2026". Returns `out`. */
char *bpi_fact_date(char out[BPI_FACT_DATE_ROOM], const bp_plan *plan);

/* As bp_plan_clock, always with seconds: "08:24:00". Returns `out`. */
char *bpi_fact_clock(char out[BP_CLOCK_ROOM], const bp_plan *plan, int64_t t);

/* "0:20", "12:05": minutes and seconds. Returns `out`. */
char *bpi_fact_minutes(char out[BP_CLOCK_ROOM], int64_t seconds);

/* "95.3 %": of so many days, rounded down to a tenth, so that "100 %" is all of them; "under 0.1 %".
 * Returns `out`. */
char *bpi_fact_chance(char out[BP_CLOCK_ROOM], uint32_t n, uint32_t days);

/* Is there something that every page must say? What: "LATE PLAN: C5 6 min late", all that is late named;
 * "DO NOT USE: food safety forbids this plan". NULL: no memory. */
bool bpi_fact_warns(const bp_plan *plan);
const char *bpi_fact_late(bpi_arena *a, const bp_plan *plan);

/* "Red lentil soup, mid-cook, after: simmer". NULL: no memory. */
const char *bpi_fact_container(bpi_arena *a, const bp_plan *plan, uint32_t container);

/* "A2 A3 B1" of the containers in a slice. NULL: no memory. */
const char *bpi_fact_codes(bpi_arena *a, const bp_plan *plan, bp_slice containers);

bool bpi_fact_hands_on(bp_op_kind kind); /* a person works on it all the time */
bool bpi_fact_serves(const bp_plan *plan, uint32_t op, uint32_t container);

/* The last operation that ended by the start of `op` and was for one of its containers; not a wait.
 * BP_NO_INDEX: none. With `person` only one that a person does. */
uint32_t bpi_fact_before(const bp_plan *plan, uint32_t op, bool person);

/* The first hands-on operation from the end of `op` on for one of its containers. */
uint32_t bpi_fact_after(const bp_plan *plan, uint32_t op);

/* Who answers for an operation: its own person; of an unattended one, who started it, else who ends
 * it. BP_NO_INDEX: nobody has to do with it. */
uint32_t bpi_fact_person(const bp_plan *plan, uint32_t op);

/* Of what is watched, and of what is done beside it: "Watch it, with 40 % of your attention. Meanwhile: B1
 * Peel the beets, 10:05 to 10:20"; nothing of all else. */
void bpi_fact_meanwhile(bpi_text *out, const bp_plan *plan, const bp_op *op);

/* The operation that carries a container to the set; BP_NO_INDEX: none. */
uint32_t bpi_fact_carry(const bp_plan *plan, uint32_t container);

#endif

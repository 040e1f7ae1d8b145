/* tests/support/prep_show.h - small shows for tests of prep and plan, and questions about them.
 *
 * Owns     the show, the live side and the problem of one test.
 * May use  the library.
 */
#ifndef BP_TESTS_SUPPORT_PREP_SHOW_H
#define BP_TESTS_SUPPORT_PREP_SHOW_H

#include "backpot/plan.h"
#include "prep/prep.h"

typedef struct prep_show {
    bp_show *show;
    bpi_arena *arena;
    bpi_live *live;
    bpi_prep *prep;
} prep_show;

/* A show of one segment, hit at 08:00 for three minutes, lead 5 min. Each argument is the inside of
 * a JSON array or object: `kitchen` members, `recipes`, `dishes`, `beats`. */
char *prep_show_text(const char *kitchen, const char *recipes, const char *dishes,
                     const char *beats);

/* The text of a file; the text with the first `from` in it written as `to` (the old one is freed). Both
 * fail the test where there is none. */
char *prep_show_file(const char *path);
char *prep_show_change(char *text, const char *from, const char *to);

/* Beats that show dish "d" after a step, given as a text, and then finished. */
#define PREP_SHOW_IN_AND_OUT(step)                                                                 \
    "{\"id\": \"in\", \"text\": \"In\", \"dish\": \"d\", \"shows\": {\"after\": \"" step "\"}, "   \
    "\"time\": \"20-90 s\"}, {\"id\": \"out\", \"text\": \"Out\", \"dish\": \"d\", \"shows\": "    \
    "\"finished\", \"time\": \"20-90 s\"}"

/* Read it and plan it with so much work, without changes and chances. Fails the test where it cannot
 * be read, or neither a plan nor a late one comes of it. */
bp_code prep_show_plan(bp_plan **plan, bp_show **show, char *text, uint64_t work, bp_errors *errs);

/* Both are gone, and so is all memory. */
void prep_show_free(bp_plan **plan, bp_show **show);

/* Read and plan the show of a file, refused one request for memory after another, further and further
 * apart so that it ends: no plan is left, nothing leaks, and with all memory there is one. `change` (or
 * NULL) is done to the show once it is read. */
void prep_show_refuse(const char *path, void (*change)(bp_show *show));

/* Does the checker object to the plan, and say that? */
bool prep_show_objects(const bp_plan *plan, const bp_show *show, const char *what, bp_errors *errs);

/* Read it, work out the live side and build the problem. Fails the test where that fails. */
void prep_show_init(prep_show *p, char *text);
void prep_show_release(prep_show *p);

/* The only job of that kind for the step (NULL: any) and the container code (NULL: any); fails the
 * test unless there is exactly one. */
uint32_t prep_show_job(const prep_show *p, bp_op_kind kind, const char *step, const char *code);
uint32_t prep_show_count(const prep_show *p, bp_op_kind kind, const char *step, const char *code);

/* Option k of job j. */
const bp_eng_option *prep_show_option(const prep_show *p, uint32_t j, uint32_t k);

/* How many of the resource of that kind (and number) an option needs. */
int32_t prep_show_needs(const prep_show *p, const bp_eng_option *o, bpi_res_kind kind, uint32_t a);

/* A least lag between two ends without a condition; INT32_MIN: none. */
int32_t prep_show_lag(const prep_show *p, uint32_t from, bp_eng_end from_end, uint32_t to,
                      bp_eng_end to_end);

#endif

/* What a term costs beyond its least, for each kind of term, counted on paper. */
#include "engine/costly.h"

#include <check.h>

#include "support/small_problem.h"

static small_problem s;
static bpi_model model;
static bpi_search search;

static void costs(bp_eng_kind kind, uint32_t a, uint32_t b, int32_t at, int64_t cost,
                  uint32_t where)
{
    const bp_eng_term t = {0, kind, a, b, at, 10};
    uint32_t there = BP_ENG_NONE;
    int64_t found = bpi_costly_term(&search, &t, &there);
    ck_assert_msg(found == 10 * cost, "kind %d: %lld", kind, (long long)found);
    ck_assert_uint_eq(there, where);
}

START_TEST(each_kind_of_term_costs_what_it_must_not)
{
    small_init(&s, 50, 1, 1);
    uint32_t r = small_resource(&s, 2, 0), q = small_resource(&s, 1, 0);
    for (int32_t who = -1; who < 2; who++) { /* activities 0, 1, 2, by nobody, 0 and 1 */
        uint32_t a = small_activity(&s);
        small_option(&s, 2, 9, 0, who);
        small_need(&s, r, who >= 0, -1);
        small_option(&s, 2, 9, 0, who);
        small_lag(&s, BP_ENG_ORIGIN, BP_ENG_START, a, BP_ENG_START, 4, 0);
    }
    small_term(&s, 0, BP_ENG_STARTS, 0, 0, 0, 1);
    ck_assert(bpi_model_init(&model, &s.p, NULL, false, true));
    ck_assert(bpi_search_init(&search, &model));
    ck_assert(bpi_search_root(&search));
    for (uint32_t a = 0; a < 3; a++) {
        search.best.start[a] = 5 + 3 * (int32_t)a; /* 5, 8, 11 */
        search.best.length[a] = 2 + (int32_t)a;    /* 2, 3, 4  */
        search.best.option[a] = 0;
    }
    costs(BP_ENG_STARTS, 1, 0, 0, 8 - 4, 1);
    costs(BP_ENG_ENDS, 1, 0, 0, 11 - 6, 1);
    costs(BP_ENG_LASTS, 2, 0, 0, 4 - 2, 2);
    costs(BP_ENG_LATE, 2, 0, 10, 5, 2);
    costs(BP_ENG_LATE, 2, 0, 15, 0, 2);
    costs(BP_ENG_CALL, r, 0, 20, 20 - 8, 1); /* activity 0 takes none of it */
    costs(BP_ENG_REACH, r, 0, 0, 15 - 8, 1);
    costs(BP_ENG_REACH, q, 0, 0, 0, BP_ENG_NONE);
    costs(BP_ENG_TAKES, 2, 0, 0, 1, 2);
    costs(BP_ENG_TAKES, 2, 1, 0, 0, 2);
    costs(BP_ENG_MOVED, 2, 0, 11, 0, 2);
    costs(BP_ENG_MOVED, 2, 0, 12, 1, 2);
    costs(BP_ENG_SPLIT, 1, 2, 0, 1, 1);
    costs(BP_ENG_SPLIT, 2, 1, 0, 1, 2);
    costs(BP_ENG_SPLIT, 2, 2, 0, 0, 2);
    costs(BP_ENG_SPLIT, 0, 2, 0, 0, 0);
    costs(BP_ENG_SPLIT, 2, 0, 0, 0, 2);
    search.best.option[1] = 1; /* now the resource is that of the last one alone */
    costs(BP_ENG_CALL, r, 0, 20, 20 - 11, 2);
    search.best.length[2] = 0; /* and of none */
    costs(BP_ENG_CALL, r, 0, 20, 0, BP_ENG_NONE);
    bpi_search_release(&search);
    bpi_model_release(&model);
}
END_TEST

Suite *suite_engine_costly(void);
Suite *suite_engine_costly(void)
{
    Suite *suite = suite_create("engine/costly");
    TCase *c = tcase_create("costly");
    tcase_add_test(c, each_kind_of_term_costs_what_it_must_not);
    suite_add_tcase(suite, c);
    return suite;
}

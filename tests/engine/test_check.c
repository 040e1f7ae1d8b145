/* Problems that are not well formed: each is refused, and the message names the row. */
#include <check.h>
#include <string.h>

#include "backpot/engine.h"
#include "support/small_problem.h"

static bp_errors errs;
static small_problem s;

typedef void spoil(void);
typedef struct bad {
    const char *row;
    spoil *how;
} bad;

#define BAD(name, code)                                                                            \
    static void name(void)                                                                         \
    {                                                                                              \
        code;                                                                                      \
    }
BAD(negative_horizon, s.p.horizon = -1)
BAD(long_horizon, s.p.horizon = BP_ENG_MOST_TIME + 1)
BAD(no_facts, s.p.facts = 0)
BAD(many_levels, s.p.levels = BP_ENG_LEVELS + 1)
BAD(no_rows, s.p.lag = NULL)
BAD(no_options, s.activity[0].options = 0)
BAD(options_beyond, s.activity[1].option0 = 60)
BAD(options_shared, s.activity[1].option0 = 0)
BAD(option_turned, s.option[0].most = -1)
BAD(option_fact, s.option[1].fact = 2)
BAD(needs_beyond, s.option[1].needs = 9)
BAD(options_none_beyond, s.activity[1].option0 = 9)
BAD(options_from_the_last, s.activity[1].options = 2)
BAD(option_least, s.option[0].least = -1)
BAD(option_long, s.option[0].most = BP_ENG_MOST_TIME + 1)
BAD(need_resource, s.need[0].res = 7)
BAD(need_just_beyond, s.need[0].res = 2)
BAD(need_twice, s.need[1].res = 0)
BAD(need_amount, s.need[0].amount = -2)
BAD(need_state, s.need[0].state = 0)
BAD(need_no_state, s.need[1].state = 2)
BAD(need_state_below, s.need[1].state = -1)
BAD(need_large, s.need[0].amount = BP_ENG_MOST_TIME + 1)
BAD(capacity, s.resource[0].capacity = -1)
BAD(capacity_large, s.resource[0].capacity = BP_ENG_MOST_TIME + 1)
BAD(resource_fact_change, s.resource[1].fact_change = 2)
BAD(many_states, s.resource[1].states = 65536)
BAD(change_long, s.change[1] = BP_ENG_MOST_TIME + 1)
BAD(resource_fact, s.resource[0].fact = 5)
BAD(changes_beyond, s.resource[1].change0 = 1)
BAD(change_negative, s.change[1] = -1)
BAD(change_to_itself, s.change[3] = 1)
BAD(span_turned, s.span[0].to = 2)
BAD(span_resource, s.span[0].res = 2)
BAD(span_early, s.span[0].from = -1)
BAD(span_long, s.span[0].to = 2 * BP_ENG_MOST_TIME + 1)
BAD(span_large, s.span[0].capacity = BP_ENG_MOST_TIME + 1)
BAD(span_capacity, s.span[0].capacity = -1)
BAD(span_fact, s.span[0].fact = 3)
BAD(lag_origin, s.lag[0].from = s.lag[0].to = BP_ENG_ORIGIN)
BAD(lag_activity, s.lag[0].to = 2)
BAD(lag_from, s.lag[0].from = 2)
BAD(lag_end, s.lag[0].from_end = (bp_eng_end)2)
BAD(lag_other_end, s.lag[0].to_end = (bp_eng_end)2)
BAD(lag_longer, s.lag[0].least = BP_ENG_MOST_TIME + 1)
BAD(lag_condition_activity, s.lag[0].if_act = 2)
BAD(lag_long, s.lag[0].least = -BP_ENG_MOST_TIME - 1)
BAD(lag_condition, (s.lag[0].if_act = 1, s.lag[0].if_opt = 1))
BAD(lag_fact, s.lag[0].fact = 2)
BAD(literal_option, s.literal[0].opt = 4)
BAD(literal_activity, s.literal[0].act = 2)
BAD(clause_far_beyond, s.clause[0].literal0 = 2)
BAD(clause_beyond, s.clause[0].literals = 2)
BAD(clause_fact, s.clause[0].fact = 2)
BAD(span_second, (s.p.spans = 2, s.span[1] = s.span[0], s.span[1].from = -1))
BAD(lag_second, (s.p.lags = 2, s.lag[1] = s.lag[0], s.lag[1].fact = 2))
BAD(literal_second, (s.p.literals = 2, s.literal[1].act = 2))
BAD(clause_second, (s.p.clauses = 2, s.clause[1] = s.clause[0], s.clause[1].fact = 2))
BAD(term_second, (s.p.terms = 2, s.term[1] = s.term[0], s.term[1].weight = -1))
BAD(term_level, s.term[0].level = 1)
BAD(term_kind, s.term[0].kind = (bp_eng_kind)99)
BAD(term_resource, (s.term[0].kind = BP_ENG_CALL, s.term[0].a = 2))
BAD(term_activity, s.term[0].a = 2)
BAD(term_split, (s.term[0].kind = BP_ENG_SPLIT, s.term[0].b = 2))
BAD(term_takes, (s.term[0].kind = BP_ENG_TAKES, s.term[0].b = 2))
BAD(term_takes_of_none, (s.term[0].kind = BP_ENG_TAKES, s.term[0].a = 2))
BAD(term_reach, (s.term[0].kind = BP_ENG_REACH, s.term[0].a = 2))
BAD(term_weight, s.term[0].weight = -1)
BAD(term_heavy, s.term[0].weight = 1000001)
BAD(term_early, s.term[0].at = -BP_ENG_MOST_TIME - 1)
BAD(term_time, s.term[0].at = BP_ENG_MOST_TIME + 1)

static const bad table[] = {
    {"problem.horizon", negative_horizon},
    {"problem.horizon", long_horizon},
    {"problem.facts", no_facts},
    {"problem.levels", many_levels},
    {"problem.lag", no_rows},
    {"activity[0]", no_options},
    {"activity[1]", options_beyond},
    {"activity[1]", options_shared},
    {"activity[1]", options_none_beyond},
    {"activity[1]", options_from_the_last},
    {"option[0]", option_turned},
    {"option[1]", option_fact},
    {"option[1]", needs_beyond},
    {"need[0]", need_resource},
    {"need[0]", need_just_beyond},
    {"option[0]", need_twice},
    {"option[0]", option_least},
    {"option[0]", option_long},
    {"need[0]", need_amount},
    {"need[0]", need_state},
    {"need[0]", need_large},
    {"need[1]", need_no_state},
    {"need[1]", need_state_below},
    {"resource[0]", capacity},
    {"resource[0]", resource_fact},
    {"resource[0]", capacity_large},
    {"resource[1]", changes_beyond},
    {"resource[1]", change_negative},
    {"resource[1]", change_to_itself},
    {"resource[1]", resource_fact_change},
    {"resource[1]", many_states},
    {"resource[1]", change_long},
    {"span[0]", span_turned},
    {"span[0]", span_resource},
    {"span[0]", span_capacity},
    {"span[0]", span_fact},
    {"span[0]", span_early},
    {"span[0]", span_long},
    {"span[0]", span_large},
    {"lag[0]", lag_origin},
    {"lag[0]", lag_activity},
    {"lag[0]", lag_long},
    {"lag[0]", lag_condition},
    {"lag[0]", lag_fact},
    {"lag[0]", lag_from},
    {"lag[0]", lag_end},
    {"lag[0]", lag_other_end},
    {"lag[0]", lag_longer},
    {"lag[0]", lag_condition_activity},
    {"literal[0]", literal_option},
    {"literal[0]", literal_activity},
    {"clause[0]", clause_beyond},
    {"clause[0]", clause_fact},
    {"clause[0]", clause_far_beyond},
    {"span[1]", span_second},
    {"lag[1]", lag_second},
    {"literal[1]", literal_second},
    {"clause[1]", clause_second},
    {"term[1]", term_second},
    {"term[0]", term_level},
    {"term[0]", term_kind},
    {"term[0]", term_resource},
    {"term[0]", term_activity},
    {"term[0]", term_split},
    {"term[0]", term_takes},
    {"term[0]", term_weight},
    {"term[0]", term_time},
    {"term[0]", term_takes_of_none},
    {"term[0]", term_reach},
    {"term[0]", term_heavy},
    {"term[0]", term_early},
};

static void a_sound_problem(void)
{
    small_init(&s, 20, 2, 1);
    small_resource(&s, 1, 0);
    small_resource(&s, 2, 0);
    s.resource[1].states = 2;
    s.p.changes = 4;
    s.change[1] = s.change[2] = 2;
    small_activity(&s);
    small_option(&s, 1, 3, 1, -1);
    small_need(&s, 0, 1, -1);
    small_need(&s, 1, 1, 1);
    small_activity(&s);
    small_option(&s, 2, 2, 0, -1);
    small_after(&s, 0, 1);
    small_span(&s, 0, 2, 4, 0, 1);
    s.literal[0] = (bp_eng_literal){0, 0, false};
    s.p.literals = 1;
    s.clause[0] = (bp_eng_clause){0, 1, 0};
    s.p.clauses = 1;
    small_term(&s, 0, BP_ENG_ENDS, 1, 0, 0, 1);
}

START_TEST(a_row_that_is_wrong_is_named)
{
    const bad *b = &table[_i];
    bp_eng_solution *out = NULL;
    bp_eng_conflict *c = NULL;
    a_sound_problem();
    errs.n = errs.more = 0;
    ck_assert_int_eq(bp_eng_solve(&out, &s.p, NULL, &errs), BP_OK);
    ck_assert_int_eq(out->value[0], 3); /* one long, then two: done before the span */
    bp_eng_solution_free(out);
    b->how();
    ck_assert_int_eq(bp_eng_solve(&out, &s.p, NULL, &errs), BP_EVALUE);
    ck_assert_ptr_null(out);
    ck_assert_uint_ge(errs.n, 1);
    ck_assert_msg(strstr(errs.item[0].wrong, b->row) != NULL, "%s", errs.item[0].wrong);
    ck_assert_int_eq(bp_eng_explain(&c, &s.p, NULL, &errs), BP_EVALUE);
    ck_assert_ptr_null(c);
}
END_TEST

/* 1100 terms of the greatest weight are more than 2^30 together, and 1073 are not. */
START_TEST(the_weights_of_a_level_have_a_bound)
{
    enum { MANY = 1100, MOST = 1073 };
    static bp_eng_term term[MANY];
    bp_eng_solution *out = NULL;
    small_init(&s, 5, 1, 1);
    small_activity(&s);
    small_option(&s, 0, 0, 0, -1);
    for (uint32_t k = 0; k < MANY; k++)
        term[k] = (bp_eng_term){.kind = BP_ENG_STARTS, .weight = 1000000};
    s.p.term = term;
    s.p.terms = MOST;
    errs.n = errs.more = 0;
    ck_assert_int_eq(bp_eng_solve(&out, &s.p, NULL, &errs), BP_OK);
    ck_assert_int_eq(out->status, BP_ENG_OPTIMAL);
    bp_eng_solution_free(out);
    s.p.terms = MANY;
    ck_assert_int_eq(bp_eng_solve(&out, &s.p, NULL, &errs), BP_EVALUE);
    ck_assert_ptr_null(out);
    ck_assert_msg(strstr(errs.item[0].wrong, "problem.term[1073]") != NULL, "%s",
                  errs.item[0].wrong);
}
END_TEST

Suite *suite_engine_check(void);
Suite *suite_engine_check(void)
{
    Suite *suite = suite_create("engine/check");
    TCase *c = tcase_create("malformed");
    tcase_add_loop_test(c, a_row_that_is_wrong_is_named, 0, (int)(sizeof table / sizeof *table));
    tcase_add_test(c, the_weights_of_a_level_have_a_bound);
    suite_add_tcase(suite, c);
    return suite;
}

/* What a crew must give, on numbers worked out by hand. */
#include "engine/crew.h"

#include <check.h>

#include "base/memory.h"

/* Two cooks, each of whom costs 100 less the first start. The first starts at 20 at the latest, and one
 * of the two has 10 to give by 30. By 30 the work and the first cook cost 10 and 70, so within 85 the
 * second may start 5 before the 100 of the latest start, no earlier. */
typedef struct two {
    bpi_core c;
    bpi_linear goal;
    bpi_crew w;
    uint32_t first, second, in, early, later, none; /* none: nobody's */
    int64_t coef[2];
    uint32_t view[2];
    bpi_lit scratch[3], on[2], because[16];
    uint32_t order[8];
    bool mine[2];
    bpi_member member[3]; /* one more than there are, who must not be looked at */
    bpi_job job;
    bpi_break rest;
    int32_t time[8];
} two;

static void begin(two *t, int64_t most)
{
    *t = (two){0};
    ck_assert(bpi_core_init(&t->c));
    t->first = bpi_core_var(&t->c, 0, 20);
    t->second = bpi_core_var(&t->c, 0, 100);
    uint32_t start = bpi_core_var(&t->c, 0, 20), on = bpi_core_var(&t->c, 0, 1),
             other = bpi_core_var(&t->c, 0, 1);
    t->in = bpi_core_var(&t->c, 0, 1);
    t->early = bpi_core_var(&t->c, 0, 8);
    t->later = bpi_core_var(&t->c, 0, 10);
    ck_assert(t->in != UINT32_MAX && t->early != UINT32_MAX && t->later != UINT32_MAX);
    t->none = bpi_core_var(&t->c, 0, 100);
    ck_assert(t->none != UINT32_MAX && start != UINT32_MAX && on != UINT32_MAX &&
              other != UINT32_MAX);
    for (int k = 0; k < 2; k++) {
        t->coef[k] = 1;
        t->view[k] = (k ? t->second : t->first) ^ 1;
        t->mine[k] = true;
        t->member[k] = (bpi_member){k ? t->second : t->first, 100};
    }
    t->member[2] = (bpi_member){t->none, 100};
    t->on[0] = (bpi_lit){on, 1};
    t->on[1] = bpi_lit_not(t->on[0]);
    t->job = (bpi_job){{start, 0}, 10, BPI_LIT_TRUE, t->on};
    for (uint32_t k = 0; k < 8; k++)
        t->order[k] = k;
    t->goal = (bpi_linear){.coef = t->coef,
                           .view = t->view,
                           .scratch = t->scratch,
                           .terms = 2,
                           .base = 200,
                           .most = most,
                           .most_guarded = INT64_MAX,
                           .guard = BPI_LIT_TRUE};
    t->w = (bpi_crew){.goal = &t->goal,
                      .mine = t->mine,
                      .weight = 1,
                      .member = t->member,
                      .job = &t->job,
                      .members = 2,
                      .jobs = 1,
                      .order = t->order,
                      .time = t->time,
                      .because = t->because};
    ck_assert(bpi_core_propagate(&t->c));
    ck_assert(bpi_core_decide(&t->c, (bpi_lit){other, 1})); /* reasons are kept from here on */
}

START_TEST(what_is_left_of_the_cost_bounds_a_first_start)
{
    two t;
    begin(&t, 85);
    ck_assert(bpi_crew_run(&t.c, &t.w));
    ck_assert_int_eq(t.c.low[t.second], 95);
    ck_assert_int_eq(t.c.low[t.first], 0);
    ck_assert_int_eq(t.c.low[t.none], 0);
    bpi_core_release(&t.c);
    begin(&t, 80);
    ck_assert(bpi_crew_run(&t.c, &t.w));
    ck_assert_int_eq(t.c.low[t.second], 100);
    bpi_core_release(&t.c);
    begin(&t, 79); /* less than they must give */
    ck_assert(!bpi_crew_run(&t.c, &t.w));
    ck_assert(!t.c.no_memory);
    bpi_core_release(&t.c);
}
END_TEST

/* The first cook's break from 25 to 40 is 15 more that he costs by 40. */
static void begin_with_break(two *t, int32_t from, int32_t to, int32_t latest, int64_t most)
{
    begin(t, most);
    t->rest = (bpi_break){0, from, to};
    t->w.rest = &t->rest;
    t->w.rests = 1;
    ck_assert(
        bpi_core_set_stored(&t->c, (bpi_lit){t->first ^ 1, -latest}, NULL, 0, BPI_WHY_STORED));
}

START_TEST(a_break_costs_as_long_as_its_cook_has_begun)
{
    two t;
    begin_with_break(&t, 25, 40, 20, 85);
    ck_assert(bpi_crew_run(&t.c, &t.w));
    ck_assert_int_eq(t.c.low[t.second], 100);
    bpi_core_release(&t.c);
    begin_with_break(&t, 25, 40, 20, 84);
    ck_assert(!bpi_crew_run(&t.c, &t.w) && !t.c.no_memory);
    bpi_core_release(&t.c);
}
END_TEST

static bool among(const bpi_core *c, bpi_lit l)
{
    for (uint32_t k = 0; k < c->whys; k++)
        if (c->why[k].view == l.view && c->why[k].least == l.least)
            return true;
    return false;
}

/* Puts what l was set for into why. */
static void explain(bpi_core *c, bpi_lit l)
{
    uint32_t step = bpi_core_step(c, l);
    ck_assert(step != BPI_NO_STEP);
    c->whys = 0;
    ck_assert(bpi_core_explain(c, step, l.least, &c->why, &c->whys, &c->why_room));
}

/* Both begin by 20. By 30 the job costs 10, what is left of the break 5, and each cook 70. That the first
 * began before his break is a reason; of the second only that he began by 30. */
START_TEST(the_reasons_are_no_more_than_what_is_needed)
{
    two t;
    begin_with_break(&t, 25, 40, 20, 154);
    ck_assert(bpi_core_set_stored(&t.c, (bpi_lit){t.second ^ 1, -20}, NULL, 0, BPI_WHY_STORED));
    ck_assert(!bpi_crew_run(&t.c, &t.w) && !t.c.no_memory);
    ck_assert_uint_eq(t.c.whys, 4);
    ck_assert(among(&t.c, BPI_LIT_TRUE));
    ck_assert(among(&t.c, bpi_ref_most(t.job.start, 20)));
    ck_assert(among(&t.c, (bpi_lit){t.first ^ 1, -20}));
    ck_assert(among(&t.c, (bpi_lit){t.second ^ 1, -30}));
    bpi_core_release(&t.c);
}
END_TEST

/* A break from 15 to 25, of a cook who has begun: by 25 the job costs 5, the break 10, the first cook 75.
 * Within 92 the job can have had no more than 7 by then. */
START_TEST(a_job_is_pushed_by_what_a_break_costs)
{
    two t;
    begin_with_break(&t, 15, 25, 15, 92);
    ck_assert(bpi_crew_run(&t.c, &t.w));
    ck_assert_int_eq(bpi_ref_low(&t.c, t.job.start), 18);
    bpi_core_release(&t.c);
    for (int after = 0; after < 2; after++) { /* this request alone, and with all that follow */
        begin_with_break(&t, 15, 25, 15, 92);
        t.c.reason_room = 0; /* nothing fits into what there is */
        bpi_mem_fail_at(0, after);
        bool fine = bpi_crew_run(&t.c, &t.w);
        ck_assert(bpi_mem_failed());
        bpi_mem_fail_at(-1, 0);
        ck_assert(!fine && t.c.no_memory);
        bpi_core_release(&t.c);
    }
}
END_TEST

/* Something else, the first in the sum, costs 7 already: of 86 the cooks then have 79, less than they must
 * give, and that cost is a reason. */
START_TEST(what_else_is_in_the_sum_is_a_reason)
{
    for (int64_t most = 86; most < 88; most++) {
        two t;
        begin(&t, most);
        int64_t coef[] = {1, 1, 1};
        uint32_t view[] = {t.none, t.view[0], t.view[1]};
        bool mine[] = {false, true, true};
        t.goal.coef = coef, t.goal.view = view, t.goal.terms = 3, t.w.mine = mine;
        ck_assert(bpi_core_set_stored(&t.c, (bpi_lit){t.none, 7}, NULL, 0, BPI_WHY_STORED));
        ck_assert(bpi_crew_run(&t.c, &t.w) == (most == 87));
        ck_assert(!t.c.no_memory);
        ck_assert(most == 87 || among(&t.c, (bpi_lit){t.none, 7}));
        bpi_core_release(&t.c);
    }
}
END_TEST

/* The same job where somebody outside may do it. Until it is known that the two do it, it bounds
 * nothing. From 12 on it would have had 10 by 22, when the first has cost 78 of the 84: so it goes
 * outside, for it starts by 15, and from then on it would have had more than 6. */
START_TEST(a_job_counts_while_it_is_in_the_group)
{
    two t;
    begin(&t, 84);
    t.job.in = (bpi_lit){t.in, 1};
    ck_assert(bpi_core_set_stored(&t.c, bpi_ref_most(t.job.start, 12), NULL, 0, BPI_WHY_STORED));
    ck_assert(bpi_crew_run(&t.c, &t.w));
    ck_assert(bpi_lit_fails(&t.c, t.job.in));
    explain(&t.c, bpi_lit_not(t.job.in));
    ck_assert(among(&t.c, bpi_ref_most(t.job.start, 15)));
    bpi_core_release(&t.c);

    begin(&t, 85);
    t.job.in = (bpi_lit){t.in, 1};
    ck_assert(bpi_crew_run(&t.c, &t.w));
    ck_assert(!bpi_lit_fails(&t.c, t.job.in) && !bpi_lit_holds(&t.c, t.job.in));
    ck_assert(bpi_core_set_stored(&t.c, t.job.in, NULL, 0, BPI_WHY_STORED));
    ck_assert(bpi_crew_run(&t.c, &t.w));
    ck_assert_int_eq(t.c.low[t.second], 95);
    explain(&t.c, (bpi_lit){t.second, 95});
    ck_assert(among(&t.c, t.job.in));
    bpi_core_release(&t.c);

    begin(&t, 79);
    t.job.in = (bpi_lit){t.in, 1};
    ck_assert(bpi_core_set_stored(&t.c, t.job.in, NULL, 0, BPI_WHY_STORED));
    ck_assert(!bpi_crew_run(&t.c, &t.w) && !t.c.no_memory);
    ck_assert(among(&t.c, t.job.in));
    bpi_core_release(&t.c);
}
END_TEST

/* Four minutes each of two that the first surely has to do, 8 and 10 at the latest: by 14 he has had 8,
 * so he starts by 6, of which the break from 7 to 9 would take 2 more were he there before it; the next
 * round finds that he is. */
START_TEST(a_member_starts_in_time_for_what_is_surely_his)
{
    two t;
    begin_with_break(&t, 7, 9, 20, 1000);
    bpi_lit his[2] = {BPI_LIT_TRUE, BPI_LIT_FALSE};
    bpi_job job[2] = {{{t.early, 0}, 4, BPI_LIT_TRUE, his}, {{t.later, 0}, 4, BPI_LIT_TRUE, his}};
    t.w.job = job;
    t.w.jobs = 2;
    ck_assert(bpi_crew_run(&t.c, &t.w));
    ck_assert_int_eq(-t.c.low[t.first ^ 1], 6);
    ck_assert(bpi_crew_run(&t.c, &t.w));
    ck_assert_int_eq(-t.c.low[t.first ^ 1], 4);
    explain(&t.c, (bpi_lit){t.first ^ 1, -4});
    ck_assert(
        among(&t.c, (bpi_lit){t.first ^ 1, -6})); /* the break counts since he was there by 6 */
    bpi_core_release(&t.c);
}
END_TEST

START_TEST(a_refused_request_is_told)
{
    two t;
    begin(&t, 85);
    bpi_mem_fail_at(0, 0);
    bool fine = bpi_crew_run(&t.c, &t.w);
    ck_assert(bpi_mem_failed());
    bpi_mem_fail_at(-1, 0);
    ck_assert(!fine && t.c.no_memory);
    bpi_core_release(&t.c);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

Suite *suite_engine_crew(void);
Suite *suite_engine_crew(void)
{
    Suite *s = suite_create("engine/crew");
    TCase *c = tcase_create("crew");
    tcase_add_test(c, what_is_left_of_the_cost_bounds_a_first_start);
    tcase_add_test(c, a_break_costs_as_long_as_its_cook_has_begun);
    tcase_add_test(c, the_reasons_are_no_more_than_what_is_needed);
    tcase_add_test(c, a_job_is_pushed_by_what_a_break_costs);
    tcase_add_test(c, what_else_is_in_the_sum_is_a_reason);
    tcase_add_test(c, a_job_counts_while_it_is_in_the_group);
    tcase_add_test(c, a_member_starts_in_time_for_what_is_surely_his);
    tcase_add_test(c, a_refused_request_is_told);
    suite_add_tcase(s, c);
    return s;
}

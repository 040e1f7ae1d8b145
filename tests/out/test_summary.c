#include "out/summary.h"

#include <check.h>
#include <string.h>

#include "backpot/output.h"
#include "base/memory.h"
#include "base/utf8.h"
#include "support/plan_sample.h"

static plan_sample sample;

static void says(const char *s, const char *part)
{
    if (!strstr(s, part)) /* a summary is longer than what a message may hold */
        ck_abort_msg("nothing of \"%s\" in\n%.2000s", part, s);
}

START_TEST(a_late_plan_says_what_is_late_why_and_what_would_help)
{
    plan_sample_fill(&sample);
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_summary_put(&t, &sample.plan, NULL), BP_OK);
    says(t.s, "LATE: the show cannot be planned as written.");
    says(t.s, "  C5, Πορτοκαλόπιτα (orange filo cake): 6 min late\n");
    says(t.s, "each one is needed for it:\n"
              "  sample.json:14:40: the deck oven has 3 positions\n");
    says(t.s, "  leave out the spare finished cake (/segments/1/dishes/0/spares)\n");
    says(t.s, "  late: 6 min, proved least\n");
    says(t.s, "not proved least; it cannot be below 455\n");
    says(t.s, "  hand-overs: 9 times, not proved least\n");
    bpi_text_release(&t);
}
END_TEST

START_TEST(what_reaches_its_bound_is_told_apart_from_what_is_proved)
{
    plan_sample_fill(&sample);
    bp_goal goal = {"hand-overs", "times", 0, 0, false};
    sample.plan.goal = &goal;
    sample.plan.goals = 1;
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_summary_put(&t, &sample.plan, NULL), BP_OK);
    says(t.s, "  hand-overs: 0 times, not to be bettered while the rest stays as it is\n");
    bpi_text_release(&t);
}
END_TEST

START_TEST(no_plan_gives_no_times_and_calls_nobody)
{
    plan_sample_fill(&sample);
    sample.plan.verdict = BP_NONE;
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_summary_put(&t, &sample.plan, NULL), BP_OK);
    says(t.s, "NO PLAN: the show cannot be planned as written, not even late.");
    says(t.s, "the simmer takes 15 min, beat 3 gives it 38 s\n");
    ck_assert_ptr_null(strstr(t.s, "; on set"));
    ck_assert_ptr_null(strstr(t.s, "\nCalls\n"));
    bpi_text_release(&t);
}
END_TEST

START_TEST(a_plan_says_what_a_person_would_read_out)
{
    plan_sample_fill_planned(&sample);
    char *text = NULL;
    size_t len = 0;
    ck_assert_int_eq(bp_summary_write(&text, &len, &sample.plan, NULL), BP_OK);
    ck_assert_uint_eq(strlen(text), len);
    says(text, "Manhã na Ribeira: the long morning show\n"
               "Thu 3 Dec 2026, Europe/Lisbon, plan 1f2e3d4c\n");
    says(text,
         "Planned: with likely times everything is on set in time. Played with longer ones it "
         "is on 50.0 % of days.\n");
    says(text,
         "  08:24  Dois pratos para uma manhã fria (two bowls for a cold morning), slot 4:25, "
         "may come until 08:28, on set by 08:19\n"
         "     1  08:24:00   20 s  Hosts welcome, both dishes on the counter [A4 B3]\n");
    says(text, "     5  left out         Croûtons");
    says(text, "        08:11:30   10 s  tease: Abóbora assada (roast squash) [B4]\n");
    says(text,
         "  A3  Red lentil soup, mid-cook: the simmer takes 15 min, beat 3 gives it 38 s; on set "
         "08:14\n");
    says(text, "  Inês: Wed 15:00 to Wed 16:20; 06:40 to 09:20\n");
    says(text, "  Marta (presenter): 07:00 to 07:25\n");
    says(text, "The first 10 minutes\n  Wed 15:00  Inês: C2 C3 C4 C5 Boil water");
    says(text, "  06:00  Rui: "); /* the show day has first minutes of its own */
    says(text, "  CAUTION: A2: A2 stands below 135 F");
    says(text, "(08:10) [FDA Food Code 3-501.16(A)]\n");
    ck_assert_ptr_null(strstr(text, "LATE"));
    ck_assert_ptr_null(strstr(text, "cannot all hold"));
    bp_free(text);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

/* Who asked for no chance is told how to; where it is sure, nothing is said of it. */
START_TEST(the_first_line_says_how_often_it_holds)
{
    plan_sample_fill_planned(&sample);
    bp_chance chance = *sample.plan.chance;
    chance.asked = 0;
    sample.plan.chance = &chance;
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_summary_put(&t, &sample.plan, NULL), BP_OK);
    says(t.s, "is on 50.0 % of days; --chance 95 plans for room where it pays.\n");
    t.len = 0;
    chance.on_time = chance.days;
    ck_assert_int_eq(bpi_summary_put(&t, &sample.plan, NULL), BP_OK);
    says(t.s, "Planned: everything is on set in time.\n");
    bpi_text_release(&t);
}
END_TEST

START_TEST(no_plan_at_all_still_says_why)
{
    plan_sample_fill(&sample);
    bp_plan plan = {.verdict = BP_NONE,
                    .title = "x",
                    .zone = "UTC",
                    .year = 2026,
                    .month = 1,
                    .day = 1,
                    .stamp = "s",
                    .defer = "d",
                    .fact = sample.plan.fact,
                    .facts = sample.plan.facts};
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_summary_put(&t, &plan, NULL), BP_OK);
    says(t.s, "NO PLAN");
    says(t.s, "\nThese cannot all hold; fewer may do, this was not tried to the end:\n  "
              "sample.json:14:40: ");
    ck_assert_ptr_null(strstr(t.s, "On air"));
    bpi_text_release(&t);
}
END_TEST

START_TEST(nothing_in_it_can_steer_a_terminal)
{
    plan_sample_fill_planned(&sample);
    sample.plan.title = "\x1b[2Jbad \xE2\x80\xAE title\xFF";
    sample.container[0].why = "a\tb";
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_summary_put(&t, &sample.plan, NULL), BP_OK);
    for (size_t i = 0; i < t.len;) {
        uint32_t code = 0;
        size_t n = strcspn(t.s + i, "\n");
        ck_assert_uint_eq(bpi_utf8_unplain(t.s + i, n, false, &code), n);
        i += n + 1;
    }
    bpi_text_release(&t);
}
END_TEST

START_TEST(every_request_fails_once)
{
    static bp_errors errs;
    plan_sample_fill(&sample);
    bool fired = true;
    for (long k = 0; fired; k++) {
        char *text = NULL;
        size_t len = 0;
        errs.n = 0;
        bpi_mem_fail_at(k, 0);
        bp_code rc = bp_summary_write(&text, &len, &sample.plan, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert((text == NULL) == fired);
        bp_free(text);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

START_TEST(the_chance_is_said_in_full)
{
    plan_sample_fill_planned(&sample);
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_summary_put(&t, &sample.plan, NULL), BP_OK);
    says(t.s, "How likely it holds (2000 days played, seed 12345678901234567890)\n"
              "  50.0 %: everything on set in time\n"
              "  95 % was asked for; this is the best that was reached\n"
              "  Longer than likely, so that it holds (without: 10.0 %)\n"
              "    3 min more for: Sweat the vegetables\n");
    says(t.s,
         " 50.0 %\n  Behind it when something was late (of the late days)\n"); /* no nine in ten */
    says(t.s, ": 90.0 %\n");
    says(t.s, "    5 min earlier: 99.9 %\n"); /* one day short of all */
    says(t.s, "    10 min earlier: 100 %; 1 swap-out would stand past its best; ");
    says(t.s, "cannot be called so early\n");
    bpi_text_release(&t);
}
END_TEST

Suite *suite_out_summary(void);
Suite *suite_out_summary(void)
{
    Suite *s = suite_create("out/summary");
    TCase *c = tcase_create("summary");
    tcase_add_test(c, a_late_plan_says_what_is_late_why_and_what_would_help);
    tcase_add_test(c, what_reaches_its_bound_is_told_apart_from_what_is_proved);
    tcase_add_test(c, no_plan_gives_no_times_and_calls_nobody);
    tcase_add_test(c, a_plan_says_what_a_person_would_read_out);
    tcase_add_test(c, the_first_line_says_how_often_it_holds);
    tcase_add_test(c, no_plan_at_all_still_says_why);
    tcase_add_test(c, nothing_in_it_can_steer_a_terminal);
    tcase_add_test(c, the_chance_is_said_in_full);
    tcase_add_test(c, every_request_fails_once);
    suite_add_tcase(s, c);
    return s;
}

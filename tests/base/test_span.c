#include "base/span.h"

#include <check.h>
#include <string.h>

static const struct {
    int64_t seconds;
    const char *words, *minutes;
} rows[] = {
    {0, "0 s", "0:00"},
    {5, "5 s", "0:05"},
    {-5, "-5 s", "-0:05"},
    {40, "40 s", "0:40"},
    {60, "1 min", "1:00"},
    {240, "4 min", "4:00"},
    {265, "4 min 25 s", "4:25"},
    {-265, "-4 min 25 s", "-4:25"},
    {3600, "1 h", "60:00"},
    {3605, "1 h 5 s", "60:05"},
    {4200, "1 h 10 min", "70:00"},
    {4205, "1 h 10 min 5 s", "70:05"},
    {93600, "26 h", "1560:00"},
    {INT64_MIN, "-2562047788015215 h 30 min 8 s", "-153722867280912930:08"},
};

START_TEST(spans_are_written_for_people)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_span_words(&t, rows[_i].seconds);
    ck_assert_str_eq(t.s, rows[_i].words);
    bpi_text_reset(&t);
    bpi_span_minutes(&t, rows[_i].seconds);
    ck_assert_str_eq(t.s, rows[_i].minutes);
    bpi_text_release(&t);
}
END_TEST

/* Sums and differences of clock readings in backtiming. Those marked SVN are printed by School
 * Video News, "Backtiming the News" (schoolvideonews.com): a roast for 19:00, and a news show. UTN:
 * "Up to News Time" (thjkoc.net, 2009-06-30). DIN: Defense Information School, "Back Timing"
 * (PAVILION, article 3430333): a 40 s bed plus a 10 s ramp. DIL: "Dilettante's Dictionary", back
 * timing. RAD: a question thread on radio backtiming (2007-08-29), its data; the answer is
 * arithmetic. The rest is sexagesimal arithmetic; nothing wraps at an hour, a day, or below zero.
 */
#define HMS(h, m, s) ((int64_t)(h)*3600 + (m)*60 + (s))
static const struct {
    const char *source;
    int64_t seconds;
    const char *hours;
} clocks[] = {
    {"SVN roast goes in", HMS(19, 0, 0) - HMS(4, 0, 0), "15:00:00"},
    {"SVN oven on", HMS(15, 0, 0) - HMS(0, 30, 0), "14:30:00"},
    {"SVN potatoes go in", HMS(19, 0, 0) - HMS(0, 20, 0), "18:40:00"},
    {"SVN water on", HMS(18, 40, 0) - HMS(0, 10, 0), "18:30:00"},
    {"SVN show length", HMS(18, 29, 30) - HMS(18, 0, 0), "00:29:30"},
    {"DIL last segment", HMS(0, 30, 0) - HMS(0, 3, 0), "00:27:00"},
    {"UTN time to fill", HMS(12, 0, 0) - HMS(11, 52, 0), "00:08:00"},
    {"DIN talk time", 40 + 10, "00:00:50"},
    {"RAD five seconds over", HMS(9, 19, 0) - (HMS(9, 15, 30) + HMS(0, 3, 35)), "-00:00:05"},
    {"sexagesimal", HMS(9, 45, 0) - HMS(0, 3, 30), "09:41:30"},
    {"sexagesimal", HMS(10, 0, 0) - 1, "09:59:59"},
    {"sexagesimal, below zero", HMS(0, 2, 10) - HMS(0, 5, 0), "-00:02:50"},
    {"sexagesimal, past midnight", HMS(23, 58, 30) + HMS(0, 3, 45), "24:02:15"},
    {"sexagesimal", HMS(18, 29, 30) - HMS(0, 6, 45), "18:22:45"},
    {"sexagesimal", 59 + 1, "00:01:00"},
    {"sexagesimal", HMS(12, 0, 0) - HMS(0, 59, 59), "11:00:01"},
    /* A segment counted back from its end at 09:48:30, beats of 20, 45, 60, 35, 30 and 20 s. */
    {"goodbye", HMS(9, 48, 30) - 20, "09:48:10"},
    {"taste and plate", HMS(9, 48, 10) - 45, "09:47:25"},
    {"finish in the pan", HMS(9, 47, 25) - 60, "09:46:25"},
    {"swap", HMS(9, 46, 25) - 35, "09:45:50"},
    {"ingredients", HMS(9, 45, 50) - 30, "09:45:20"},
    {"hello", HMS(9, 45, 20) - 20, "09:45:00"},
};

START_TEST(published_backtimes_are_printed_as_published)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_span_hours(&t, clocks[_i].seconds);
    ck_assert_msg(strcmp(t.s, clocks[_i].hours) == 0, "%s: %s", clocks[_i].source, t.s);
    bpi_text_release(&t);
}
END_TEST

Suite *suite_base_span(void);
Suite *suite_base_span(void)
{
    Suite *s = suite_create("base/span");
    TCase *c = tcase_create("span");
    tcase_add_loop_test(c, spans_are_written_for_people, 0, (int)(sizeof rows / sizeof *rows));
    tcase_add_loop_test(c, published_backtimes_are_printed_as_published, 0,
                        (int)(sizeof clocks / sizeof *clocks));
    suite_add_tcase(s, c);
    return s;
}

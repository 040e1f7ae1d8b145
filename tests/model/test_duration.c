#include "model/duration.h"

#include <check.h>
#include <string.h>

static const struct {
    const char *text;
    int64_t seconds;
} spans[] = {
    {"8 min", 480},
    {"20 s", 20},
    {"1 h 10 min", 4200},
    {"2 min 30 s", 150},
    {"1 d", 86400},
    {"7 d", 604800},
    {"0 s", 0},
    {"90 min", 5400},
    {"8min", 480},
    {"1h10min", 4200},
    {"1 d 2 h 3 min 4 s", 93784},
    {"PT15M", 900},
    {"PT1H10M", 4200},
    {"P1D", 86400},
    {"P1DT1S", 86401},
    {"PT0S", 0},
    {"PT90M", 5400},
    {"P7D", 604800},
    {"604800 s", 604800},
    {"000008 min", 480},
};

START_TEST(spans_are_read)
{
    bpi_fault f;
    int64_t n = -1;
    ck_assert_msg(bpi_span_read(&n, spans[_i].text, strlen(spans[_i].text), &f), "%s: %s",
                  spans[_i].text, f.wrong);
    ck_assert_int_eq(n, spans[_i].seconds);
    n = -1;
    ck_assert(bpi_slot_read(&n, spans[_i].text, strlen(spans[_i].text), &f));
    ck_assert_int_eq(n, spans[_i].seconds);
}
END_TEST

static const struct {
    const char *text;
    size_t at;
    const char *wrong, *right;
} bad_spans[] = {
    {"", 0, "the length of time is empty", "write it like \"8 min\", \"20 s\" or \"1 h 10 min\""},
    {"8", 1, "the number has no unit", "write one of \"s\", \"min\", \"h\", \"d\""},
    {"8 mins", 2, "unit \"mins\" is not known", "write \"min\""},
    {"8 minutes", 2, "unit \"minutes\" is not known", "write \"min\""},
    {"8 m", 2, "unit \"m\" is not known", "write \"min\""},
    {"8 Min", 2, "unit \"Min\" is not known", "write \"min\""},
    {"2 hrs", 2, "unit \"hrs\" is not known", "write \"h\""},
    {"20 sec", 3, "unit \"sec\" is not known", "write \"s\""},
    {"2 fortnights", 2, "unit \"fortnights\" is not known",
     "write one of \"s\", \"min\", \"h\", \"d\""},
    {"-5 min", 0, "a length of time cannot be negative", "write it without the minus sign"},
    {"\xE2\x88\x92"
     "5 min",
     0, "a length of time cannot be negative", "write it without the minus sign"},
    {"1.5 h", 1, "a length of time is made of whole numbers",
     "write \"1 h 30 min\", not \"1.5 h\""},
    {"1,5 h", 1, "a length of time is made of whole numbers",
     "write \"1 h 30 min\", not \"1.5 h\""},
    {"10 min 1 h", 8, "\"h\" cannot follow \"min\"",
     "write each unit once, the larger first: \"1 h 10 min\""},
    {"1 h 1 h", 5, "\"h\" cannot follow \"h\"",
     "write each unit once, the larger first: \"1 h 10 min\""},
    {"8 min ", 5, "\" \" cannot follow a length of time", "take it out"},
    {" 8 min", 0, "a length of time needs a number here",
     "write it like \"8 min\", \"20 s\" or \"1 h 10 min\""},
    {"8  min", 2, "the number has no unit", "write one of \"s\", \"min\", \"h\", \"d\""},
    {"8 min!", 5, "\"!\" cannot follow a length of time", "take it out"},
    {"15-18 min", 2, "a window cannot stand here", "write one length, such as \"8 min\""},
    {"1 min - 2 min", 5, "a window cannot stand here", "write one length, such as \"8 min\""},
    {"8 d", 0, "the length is more than 7 days", "at most 7 d can be planned"},
    {"P8D", 0, "the length is more than 7 days", "at most 7 d can be planned"},
    {"7 d 1 s", 0, "the length is more than 7 days", "at most 7 d can be planned"},
    {"99999999999999999999999999 d", 0, "the length is more than 7 days",
     "at most 7 d can be planned"},
    {"4:25", 1, "minutes:seconds is the form of a slot only", "write \"4 min 25 s\""},
    {"P1W", 2, "this is not an ISO 8601 length in days, hours, minutes, seconds",
     "write it like \"PT15M\", \"PT1H10M\" or \"P1D\", or plainly \"15 min\""},
    {"PT1M1H", 5, "this is not an ISO 8601 length in days, hours, minutes, seconds",
     "write it like \"PT15M\", \"PT1H10M\" or \"P1D\", or plainly \"15 min\""},
    {"P1H", 2, "this is not an ISO 8601 length in days, hours, minutes, seconds",
     "write it like \"PT15M\", \"PT1H10M\" or \"P1D\", or plainly \"15 min\""},
    {"P1DT", 4, "the ISO 8601 length is not complete",
     "write it like \"PT15M\", \"PT1H10M\" or \"P1D\", or plainly \"15 min\""},
    {"P", 1, "the ISO 8601 length is not complete",
     "write it like \"PT15M\", \"PT1H10M\" or \"P1D\", or plainly \"15 min\""},
    {"PT5", 3, "this is not an ISO 8601 length in days, hours, minutes, seconds",
     "write it like \"PT15M\", \"PT1H10M\" or \"P1D\", or plainly \"15 min\""},
    {"PT5M ", 4, "\" \" cannot follow a length of time", "take it out"},
};

START_TEST(what_is_no_span_is_named)
{
    bpi_fault f;
    int64_t n = -1;
    const char *text = bad_spans[_i].text;
    ck_assert_msg(!bpi_span_read(&n, text, strlen(text), &f), "%s was accepted", text);
    ck_assert_int_eq(n, -1);
    ck_assert_str_eq(f.wrong, bad_spans[_i].wrong);
    ck_assert_str_eq(f.right, bad_spans[_i].right);
    ck_assert_msg(f.at == bad_spans[_i].at, "%s: %zu", text, f.at);
}
END_TEST

START_TEST(slots_are_minutes_and_seconds)
{
    static const struct {
        const char *text;
        int64_t seconds; /* below 0: refused */
    } slots[] = {{"4:25", 265},  {"0:30", 30},           {"125:00", 7500},
                 {"04:05", 245}, {"4:60", -1},           {"4:5", -1},
                 {"4:", -1},     {"4:025", -1},          {":25", -1},
                 {"4:25 s", -1}, {"99999999999:00", -1}, {"-4:25", -1}};
    for (size_t i = 0; i < sizeof slots / sizeof *slots; i++) {
        bpi_fault f;
        int64_t n = -1;
        bool ok = bpi_slot_read(&n, slots[i].text, strlen(slots[i].text), &f);
        ck_assert_msg(ok == (slots[i].seconds >= 0), "%s", slots[i].text);
        ck_assert_int_eq(n, slots[i].seconds);
    }
}
END_TEST

static const struct {
    const char *text;
    int64_t least, most; /* below 0: refused */
} windows[] = {
    {"8 min", 480, 480},
    {"15-18 min", 900, 1080},
    {"15 - 18 min", 900, 1080},
    {"15\xE2\x80\x93"
     "18 min",
     900, 1080},
    {"40 s - 1 min", 40, 60},
    {"40 s\xE2\x80\x93"
     "1 min",
     40, 60},
    {"1 h 10 min - 1 h 20 min 5 s", 4200, 4805},
    {"15-15 min", 900, 900},
    {"PT15M", 900, 900},
    {"8 min - PT10M", 480, 600},
    {"18-15 min", -1, -1},
    {"1 min - 40 s", -1, -1},
    {"1-2 min 30 s", -1, -1},
    {"1-2-3 min", -1, -1},
    {"15-", -1, -1},
    {"15 min -", -1, -1},
    {"-15 min", -1, -1},
    {"15-18", -1, -1},
    {"1-9 d", -1, -1},
    {"15 to 18 min", -1, -1},
};

START_TEST(windows_have_two_ends)
{
    bpi_fault f;
    int64_t least = -1, most = -1;
    const char *text = windows[_i].text;
    bool ok = bpi_window_read(&least, &most, text, strlen(text), &f);
    ck_assert_msg(ok == (windows[_i].least >= 0), "%s", text);
    ck_assert_int_eq(least, windows[_i].least);
    ck_assert_int_eq(most, windows[_i].most);
    if (!ok)
        ck_assert(f.wrong[0] && f.right[0] && f.at <= strlen(text));
}
END_TEST

START_TEST(every_cut_of_a_text_is_read_within_its_bytes)
{
    static const char text[] = "1 d 2 h 3 min 4 s - P1DT2H3M4S";
    for (size_t from = 0; from < sizeof text; from++)
        for (size_t to = from; to < sizeof text; to++) {
            bpi_fault f = {0, "", ""};
            int64_t a = 0, b = 0;
            char cut[sizeof text];
            memcpy(cut, text + from, to - from); /* nothing readable stands behind it */
            if (!bpi_window_read(&a, &b, cut, to - from, &f))
                ck_assert(f.at <= to - from && f.wrong[0]);
            else
                ck_assert_int_le(a, b);
        }
}
END_TEST

Suite *suite_model_duration(void);
Suite *suite_model_duration(void)
{
    Suite *s = suite_create("model/duration");
    TCase *c = tcase_create("duration");
    tcase_add_loop_test(c, spans_are_read, 0, sizeof spans / sizeof *spans);
    tcase_add_loop_test(c, what_is_no_span_is_named, 0, sizeof bad_spans / sizeof *bad_spans);
    tcase_add_test(c, slots_are_minutes_and_seconds);
    tcase_add_loop_test(c, windows_have_two_ends, 0, sizeof windows / sizeof *windows);
    tcase_add_test(c, every_cut_of_a_text_is_read_within_its_bytes);
    suite_add_tcase(s, c);
    return s;
}

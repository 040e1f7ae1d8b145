#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/show.h"
#include "base/memory.h"
#include "model/show.h"

static bp_errors errs;

static bpi_show *start(const bp_starter *answers)
{
    char *text = NULL;
    size_t len = 0;
    bp_show *show = NULL;
    errs.n = errs.more = 0;
    ck_assert_msg(bp_starter_write(&text, &len, answers, &errs) == BP_OK, "%s", errs.item[0].wrong);
    ck_assert_uint_eq(strlen(text), len);
    ck_assert_int_eq(bp_show_read(&show, text, len, "new.json", NULL, &errs), BP_OK);
    bp_free(text);
    return show;
}

START_TEST(no_answers_give_a_whole_show)
{
    bpi_show *show = start(&(bp_starter){0});
    ck_assert_str_eq(show->title, "My First Show");
    ck_assert_uint_eq(show->kitchen.cooks, 2);
    ck_assert_uint_eq(show->segment[0].beats, 6);
    bp_show_free(show);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(answers_stand_in_the_show)
{
    bpi_show *show = start(&(bp_starter){"Caf\xC3\xA9 \"One\"", "2026-03-29", "Europe/Paris",
                                         "01:10", "5:30", 3, 5, 2});
    ck_assert_str_eq(show->title, "Caf\xC3\xA9 \"One\"");
    ck_assert_str_eq(show->zone_name, "Europe/Paris");
    ck_assert_int_eq(show->segment[0].hit[0].at, 4200);
    ck_assert_int_eq(show->segment[0].slot, 330);
    ck_assert_uint_eq(show->kitchen.cooks, 3);
    ck_assert_uint_eq(show->kitchen.burners, 5);
    ck_assert_uint_eq(show->kitchen.ovens, 2);
    ck_assert_int_eq(show->kitchen.cook[2].shift[0].call, 4200 - 9000); /* the day before */
    bp_show_free(show);
}
END_TEST

START_TEST(a_kitchen_may_have_no_oven)
{
    bpi_show *show = start(&(bp_starter){.ovens = BP_STARTER_NONE});
    ck_assert_uint_eq(show->kitchen.ovens, 0);
    ck_assert_uint_eq(show->kitchen.burners, 2);
    bp_show_free(show);
}
END_TEST

START_TEST(beats_of_every_slot_can_fill_it)
{
    for (int slot = 60; slot <= 900; slot += 13) {
        char text[16];
        snprintf(text, sizeof text, "%d:%02d", slot / 60, slot % 60);
        bpi_show *show = start(&(bp_starter){.slot = text});
        int64_t least = 0, most = 0;
        for (uint32_t i = 0; i < show->segment[0].beats; i++) {
            least += show->segment[0].beat[i].time.least;
            most += show->segment[0].beat[i].time.most;
        }
        ck_assert_int_le(least, slot);
        ck_assert_int_ge(most, slot);
        bp_show_free(show);
    }
}
END_TEST

static const struct {
    const char *name;
    bp_starter answers;
    const char *wrong;
} unusable[] = {
    {"no title", {.title = "  "}, "title: it is empty"},
    {"a line in the title", {.title = "a\nb"}, "title: it holds a control character"},
    {"half a character", {.title = "Caf\xC3"}, "title: it is not UTF-8"},
    {"no such day", {.date = "2026-02-30"}, "date \"2026-02-30\": it is not a usable date"},
    {"a far day", {.date = "2040-01-01"}, "date \"2040-01-01\": it is not a usable date"},
    {"no such zone", {.zone = "Europe/Nowhere"}, "zone \"Europe/Nowhere\": it is not known"},
    {"a skipped hit",
     {.date = "2026-03-29", .zone = "Europe/Paris", .hit = "02:30"},
     "hit \"02:30\": the clock skips this time that day"},
    {"no clock time", {.hit = "half past"}, "hit \"half past\": this is not a clock time"},
    {"another day", {.hit = "+1d 08:00"}, "hit \"+1d 08:00\": a plain clock time is wanted"},
    {"a short slot",
     {.slot = "20 s"},
     "slot \"20 s\": the starter has too much or too little to show"},
    {"a slot in words", {.slot = "long"}, "slot \"long\": a length of time needs a number here"},
    {"too many cooks", {.cooks = 17}, "cooks: 17 are too many"},
    {"too many burners", {.burners = 65}, "burners: 65 are too many"},
};

START_TEST(an_unusable_answer_is_named)
{
    char *text = (char *)"x";
    size_t len = 1;
    errs.n = errs.more = 0;
    ck_assert_int_eq(bp_starter_write(&text, &len, &unusable[_i].answers, &errs), BP_EVALUE);
    ck_assert_ptr_null(text);
    ck_assert_uint_eq(len, 0);
    ck_assert_str_eq(errs.item[0].wrong, unusable[_i].wrong);
    ck_assert_msg(errs.item[0].right[0], "%s: nothing is said that would be right",
                  unusable[_i].name);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(every_request_fails_once)
{
    int fired = 1;
    for (long k = 0; fired; k++) {
        char *text = NULL;
        size_t len = 0;
        errs.n = errs.more = 0;
        bpi_mem_fail_at(k, 0);
        bp_code code = bp_starter_write(&text, &len, &(bp_starter){0}, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(code, fired ? BP_ENOMEM : BP_OK);
        ck_assert_uint_eq(errs.n, fired ? 1 : 0);
        bp_free(text);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

START_TEST(the_schema_ends_where_it_says)
{
    size_t len = 0;
    const char *text = bp_schema_text(&len);
    ck_assert_uint_eq(strlen(text), len);
    ck_assert_int_eq(text[0], '{');
    ck_assert_str_eq(text + len - 2, "}\n");
}
END_TEST

Suite *suite_model_starter(void);
Suite *suite_model_starter(void)
{
    Suite *s = suite_create("model/starter");
    TCase *c = tcase_create("starter");
    tcase_add_test(c, no_answers_give_a_whole_show);
    tcase_add_test(c, answers_stand_in_the_show);
    tcase_add_test(c, a_kitchen_may_have_no_oven);
    tcase_add_test(c, beats_of_every_slot_can_fill_it);
    tcase_add_loop_test(c, an_unusable_answer_is_named, 0, sizeof unusable / sizeof *unusable);
    tcase_add_test(c, every_request_fails_once);
    tcase_add_test(c, the_schema_ends_where_it_says);
    suite_add_tcase(s, c);
    return s;
}

#include "model/show.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/show.h"
#include "base/memory.h"

static bp_errors errs;

static const char *first_error(void)
{
    static char line[600];
    line[0] = '\0';
    if (errs.n)
        bp_error_text(line, sizeof line, &errs.item[0]);
    return line;
}

static bpi_show *open_show(const char *path)
{
    bp_show *show = NULL;
    errs.n = errs.more = 0;
    bp_code code = bp_show_open(&show, path, &errs);
    ck_assert_msg(code == BP_OK, "%s", first_error());
    ck_assert_uint_eq(errs.n, 0);
    return show;
}

static const char *const shipped[] = {
    "shows/cottage-remote.json",       "shows/festival-two-hits.json",
    "shows/harbour-breakfast.json",    "shows/one-burner-too-few.json",
    "shows/orchard-two-segments.json", "shows/lock-keeper-day-ahead.json",
};

START_TEST(every_shipped_show_is_read)
{
    bpi_show *show = open_show(shipped[_i]);
    ck_assert_str_eq(show->file, shipped[_i]);
    ck_assert_uint_ge(show->recipes, 1);
    bp_show_free(show);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(members_of_the_breakfast_show_mean_what_they_say)
{
    bpi_show *show = open_show("shows/harbour-breakfast.json");
    ck_assert_str_eq(show->id, "harbour-breakfast");
    ck_assert_str_eq(show->zone_name, "Europe/Lisbon");
    ck_assert_int_eq(show->alarm, 300);
    ck_assert_int_eq(show->paper, BPI_A4);
    ck_assert_uint_eq(strlen(show->stamp), 8);

    const bpi_kitchen *k = &show->kitchen;
    ck_assert_uint_eq(k->cooks, 2);
    ck_assert_int_eq(k->cook[0].shift[0].call, 5 * 3600 + 30 * 60);
    ck_assert_int_eq(k->cook[0].rest[0].from, 6 * 3600 + 50 * 60);
    ck_assert_str_eq(show->skill[k->cook[1].skill[0]], "pastry");
    ck_assert_uint_eq(k->burners, 3);
    ck_assert_int_eq(k->oven[0].heat_mC_min, 12000);
    ck_assert_uint_eq(k->tools, 3);
    ck_assert(!k->tool[0].vessel && k->tool[1].vessel);
    ck_assert_int_eq(k->place[1].keep, BPI_COLD);
    ck_assert_int_eq(k->load, 60);

    const bpi_recipe *soup = &show->recipe[0];
    ck_assert_uint_eq(soup->steps, 4);
    ck_assert_uint_eq(soup->all, 15);
    const bpi_step *simmer = &soup->step[2];
    ck_assert_uint_eq(simmer->after, 2);
    ck_assert_uint_eq(simmer->before_all, 3);
    ck_assert_int_eq(simmer->time.least, 900);
    ck_assert_int_eq(simmer->time.likely, 900);
    ck_assert_int_eq(simmer->time.most, 1080);
    ck_assert(simmer->time.window && !simmer->time.uncertain);
    ck_assert_int_eq(simmer->hold[BPI_HOT], 2400);
    ck_assert_int_eq(simmer->hold[BPI_COUNTER], 0);
    ck_assert_int_eq(simmer->core_mC, 74000);
    ck_assert_int_eq(simmer->air_time.likely, 30);
    ck_assert(simmer->perishable && soup->step[3].perishable && !soup->step[1].perishable);
    ck_assert_str_eq(k->tool[simmer->tool[0]].id, "pot");
    ck_assert_int_eq(simmer->ingredient[0].amount.num, 3);
    ck_assert_int_eq(simmer->ingredient[0].amount.den, 2);
    ck_assert_str_eq(bpi_units[simmer->ingredient[0].amount.unit].name, "cup");
    ck_assert(soup->step[0].together);
    ck_assert_int_eq(soup->step[0].together_each, 240);
    ck_assert_int_eq(show->recipe[1].step[2].oven_mC, 204444); /* 400 F */

    const bpi_segment *seg = &show->segment[0];
    ck_assert_int_eq(seg->hit[0].at, 8 * 3600 + 24 * 60);
    ck_assert_int_eq(seg->slot, 265);
    ck_assert_uint_eq(seg->hosts, 2);
    ck_assert_str_eq(seg->host[1], "Joel");
    ck_assert_uint_eq(seg->beats, 8);
    ck_assert_uint_eq(seg->beat[0].dish, BPI_NO_INDEX);
    ck_assert_int_eq(seg->beat[0].time.likely, 20);
    ck_assert_int_eq(seg->beat[3].shows, BPI_SHOWS_STEPS);
    ck_assert_uint_eq(seg->beat[3].does[0], 3);
    ck_assert_int_eq(seg->beat[7].shows, BPI_SHOWS_FINISHED);
    ck_assert_uint_gt(seg->where.line, 70);
    bp_show_free(show);
}
END_TEST

START_TEST(a_missing_file_is_named)
{
    bp_show *show = NULL;
    errs.n = errs.more = 0;
    ck_assert_int_eq(bp_show_open(&show, "shows/no-such.json", &errs), BP_EIO);
    ck_assert_ptr_null(show);
    ck_assert_ptr_nonnull(strstr(first_error(), "shows/no-such.json"));
    bp_show_free(NULL);
    bp_free(NULL);
}
END_TEST

Suite *suite_model_show(void);
Suite *suite_model_show(void)
{
    Suite *s = suite_create("model/show");
    TCase *c = tcase_create("show");
    tcase_add_loop_test(c, every_shipped_show_is_read, 0, sizeof shipped / sizeof *shipped);
    tcase_add_test(c, members_of_the_breakfast_show_mean_what_they_say);
    tcase_add_test(c, a_missing_file_is_named);
    suite_add_tcase(s, c);
    return s;
}

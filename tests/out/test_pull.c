#include "out/pull.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"
#include "support/plan_sample.h"

static const bp_good goods[] = {
    {BP_GOOD_FOOD, "red lentils", "rinsed", "dry store", "5 1/4 cups", "3 × 500 g", "A1 A2", "", "",
     "", "", false},
    {BP_GOOD_FOOD, "味噌", "", "market", "2 tbsp", "", "A1", "soybeans", "", "", "", false},
    {BP_GOOD_FOOD, "stock", "", "dry store", "3 L", "", "A3", "celery", "", "", "", false},
    {BP_GOOD_TOOL, "blender", "", "", "1", "", "A3", "", "", "", "", false},
    {BP_GOOD_VESSEL, "pot", "4 L", "", "5", "", "A1 A2 A3", "", "", "", "", false},
};
#define GOODS (sizeof goods / sizeof *goods)

static bp_plan plan_of(const bp_good *good, uint32_t n)
{
    return (bp_plan){.title = "Morning",
                     .zone = "UTC",
                     .year = 2026,
                     .month = 12,
                     .day = 3,
                     .stamp = "1f2e3d4c",
                     .defer = "Local code first.",
                     .good = good,
                     .goods = n};
}

START_TEST(the_list_is_grouped_and_its_columns_stand_under_each_other)
{
    bp_plan plan = plan_of(goods, GOODS);
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_pull_text_write(&t, &plan, NULL), BP_OK);
    ck_assert_str_eq(t.s, "Pull list: Morning\n"
                          "Thu 3 Dec 2026, plan 1f2e3d4c\n"
                          "\n"
                          "dry store\n"
                          "  [ ]  5 1/4 cups  red lentils, rinsed       buy 3 × 500 g  A1 A2\n"
                          "  [ ]  3 L         stock (contains celery)                  A3\n"
                          "\n"
                          "market\n"
                          "  [ ]  2 tbsp      味噌 (contains soybeans)                 A1\n"
                          "\n"
                          "Vessels\n"
                          "  [ ]  5           pot, 4 L                                 A1 A2 A3\n"
                          "\n"
                          "Tools\n"
                          "  [ ]  1           blender                                  A3\n"
                          "\n"
                          "Local code first.\n");
    bpi_text_release(&t);
}
END_TEST

START_TEST(aisles_what_is_at_hand_and_supplies)
{
    static const bp_good more[] = {
        {BP_GOOD_FOOD, "carrots", "", "market", "1 kg", "500 g", "A1", "", "roots", "500 g", "",
         false},
        {BP_GOOD_FOOD, "leeks", "", "market", "3", "", "A1", "", "onions", "", "2 onions", false},
        {BP_GOOD_FOOD, "salt", "", "market", "to taste", "nothing", "A1", "", "", "at hand", "",
         false},
        {BP_GOOD_SUPPLY, "spoon", "2 a cook", "props", "4", "", "", "", "", "", "", false},
        {BP_GOOD_SUPPLY, "cloth", "", "", "1", "", "", "", "", "", "", false},
    };
    bp_plan plan = plan_of(more, 5);
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_pull_text_write(&t, &plan, NULL), BP_OK);
    ck_assert_str_eq(strstr(t.s, "\n\n") + 2,
                     "market: roots\n"
                     "  [ ]  1 kg      carrots          have 500 g, buy 500 g  A1\n"
                     "\n"
                     "market: onions\n"
                     "  [ ]  3         leeks                                   A1\n"
                     "                 or else: 2 onions\n"
                     "\n"
                     "market\n"
                     "  [ ]  to taste  salt             at hand                A1\n"
                     "\n"
                     "Supplies, props\n"
                     "  [ ]  4         spoon, 2 a cook\n"
                     "\n"
                     "Supplies\n"
                     "  [ ]  1         cloth\n"
                     "\n"
                     "Local code first.\n");
    bpi_text_release(&t);
}
END_TEST

START_TEST(nothing_to_fetch_is_said)
{
    bp_plan plan = plan_of(NULL, 0);
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_pull_text_write(&t, &plan, NULL), BP_OK);
    ck_assert_ptr_nonnull(strstr(t.s, "Nothing to fetch.\n"));
    bpi_text_release(&t);
}
END_TEST

/* RFC 4180 2: rules 1, 5, 6 and 7. */
START_TEST(the_table_quotes_as_rfc_4180_has_it_and_disarms_formulas)
{
    static const bp_good awkward[] = {
        {BP_GOOD_FOOD, "flour, \"strong\"", "", "", "=1+1", "+2", "@A1", "-", "", "", "", false},
        {BP_GOOD_TOOL, "spoon", "a;b", "café", "1", "", "", "=a,b", "", "", "", false},
        {BP_GOOD_TOOL, "\uFF1D1", "x\uFF1D1", "\uFF0B", "1", "\uFF0D", "\uFF20", "\uFF1E", "", "",
         "", false},
    };
    bp_plan plan = plan_of(awkward, 3);
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_pull_csv_write(&t, &plan, NULL), BP_OK);
    ck_assert_str_eq(
        t.s, "kind,from,item,note,need,buy,containers,allergens,aisle,have,instead,provided\r\n"
             "food,,\"flour, \"\"strong\"\"\",,'=1+1,'+2,'@A1,'-,,,,\r\n"
             "tool,café,spoon,a;b,1,,,\"'=a,b\",,,,\r\n"
             "tool,'\uFF0B,'\uFF1D1,x\uFF1D1,1,'\uFF0D,'\uFF20,\uFF1E,,,,\r\n");
    bpi_text_release(&t);
}
END_TEST

START_TEST(every_request_fails_once)
{
    static plan_sample sample;
    static bp_errors errs;
    plan_sample_fill(&sample);
    bool fired = true;
    for (long k = 0; fired; k++) {
        bpi_text t = BPI_TEXT_EMPTY, csv = BPI_TEXT_EMPTY;
        errs.n = 0;
        bpi_mem_fail_at(k, 0);
        bp_code rc = bpi_pull_text_write(&t, &sample.plan, &errs);
        if (rc == BP_OK)
            rc = bpi_pull_csv_write(&csv, &sample.plan, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert_uint_eq(errs.n, fired);
        bpi_text_release(&t);
        bpi_text_release(&csv);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

Suite *suite_out_pull(void);
Suite *suite_out_pull(void)
{
    Suite *s = suite_create("out/pull");
    TCase *c = tcase_create("pull");
    tcase_add_test(c, the_list_is_grouped_and_its_columns_stand_under_each_other);
    tcase_add_test(c, aisles_what_is_at_hand_and_supplies);
    tcase_add_test(c, nothing_to_fetch_is_said);
    tcase_add_test(c, the_table_quotes_as_rfc_4180_has_it_and_disarms_formulas);
    tcase_add_test(c, every_request_fails_once);
    suite_add_tcase(s, c);
    return s;
}

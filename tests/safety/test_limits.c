#include "safety/limits.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"

/* Rows of a collection of published food limits, carried here with their ids and sources. `seen`:
 * the text was read there; the federal section number is the one that text gives itself. */
typedef struct row {
    const char *id;
    bpi_limit_id limit;
    int celsius, fahrenheit; /* BPI_NO_DEGREES: the row gives none */
    int64_t seconds;         /* -1: the row gives none             */
    const char *rule;
} row;

#define NONE BPI_NO_DEGREES

static const row rows[] = {
    /* Virginia 12VAC5-421-700 (wording of the FDA Food Code 2017, amended eff. 2021-06-10),
     * law.cornell.edu/regulations/virginia/12VAC5-421-700: source seen */
    {"FS-001, FS-002", BPI_LIMIT_COOK_WHOLE, 63, 145, -1, "3-401.11(A)(1)"},
    {"FS-003", BPI_LIMIT_COOK_WHOLE, NONE, NONE, 15, "3-401.11(A)(1)"},
    {"FS-004, FS-005", BPI_LIMIT_COOK_GROUND, 68, 155, -1, "3-401.11(A)(2)"},
    {"FS-006", BPI_LIMIT_COOK_GROUND, NONE, NONE, 17, "3-401.11(A)(2)"},
    {"FS-010, FS-011", BPI_LIMIT_COOK_POULTRY, 74, 165, -1, "3-401.11(A)(3)"},
    {"FS-012: < 1 s", BPI_LIMIT_COOK_POULTRY, NONE, NONE, 0, "3-401.11(A)(3)"},
    /* FDA Food Code 2022 and 2017, federal text not at hand: from memory */
    {"FS-052", BPI_LIMIT_COOK_PLANT, 57, 135, -1, "3-401.13"},
    /* Delaware Food Code 16 Del. Admin. Code 3-403.11, casetext.com copy (2024-06-01): source seen
     */
    {"FS-060", BPI_LIMIT_REHEAT, 74, 165, -1, "3-403.11(A)"},
    {"FS-061", BPI_LIMIT_REHEAT, NONE, NONE, 15, "3-403.11(A)"},
    {"FS-065: 2 h", BPI_LIMIT_REHEAT_TIME, NONE, NONE, 7200, "3-403.11(D)"},
    /* Delaware 3-501.14, casetext.com copy (2024-06-01): source seen */
    {"FS-081, FS-082: 21 C in 2 h", BPI_LIMIT_COOL_FIRST, 21, 70, 7200, "3-501.14(A)(1)"},
    {"FS-083, FS-084: 5 C in 6 h in all", BPI_LIMIT_COOL_ALL, 5, 41, 21600, "3-501.14(A)(2)"},
    /* Wisconsin ATCP 75 Appendix 3-501.16 (Register July 2020), casetext.com copy: source seen */
    {"FS-100", BPI_LIMIT_HOLD_HOT, 57, 135, -1, "3-501.16(A)(1)"},
    {"FS-102", BPI_LIMIT_HOLD_COLD, 5, 41, -1, "3-501.16(A)(2)"},
    /* Virginia 12VAC5-421-830 (2017 snapshot), varules.elaws.us/code/12vac5-421-830: source seen */
    {"FS-110: 24 h", BPI_LIMIT_DATE_MARK, NONE, NONE, 86400, "3-501.17(A)"},
    {"FS-111: 7 days at 5 C", BPI_LIMIT_KEEP_COLD, 5, 41, 7 * 86400, "3-501.17(A)"},
    /* Delaware 3-501.19, casetext.com copy (2024-06-01): source seen */
    {"FS-120: 4 h", BPI_LIMIT_UNCONTROLLED, NONE, NONE, 14400, "3-501.19(B)"},
};

START_TEST(each_limit_is_the_published_one)
{
    const row *r = &rows[_i];
    const bpi_limit *limit = bpi_limit_of(r->limit);
    ck_assert_msg(r->celsius == NONE || r->celsius == limit->celsius, "%s: %d C", r->id,
                  limit->celsius);
    ck_assert_msg(r->fahrenheit == NONE || r->fahrenheit == limit->fahrenheit, "%s: %d F", r->id,
                  limit->fahrenheit);
    ck_assert_msg(r->seconds == -1 || r->seconds == limit->seconds, "%s: %ld s", r->id,
                  (long)limit->seconds);
    ck_assert_msg(strstr(limit->rule, r->rule) != NULL, "%s: %s", r->id, limit->rule);
}
END_TEST

START_TEST(every_limit_says_its_section_and_where_it_was_read)
{
    bool held[BPI_LIMITS] = {false};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        held[rows[i].limit] = true;
    for (bpi_limit_id id = 0; id < BPI_LIMITS; id++) {
        const bpi_limit *limit = bpi_limit_of(id);
        ck_assert_msg(held[id], "no published row for limit %d", id);
        ck_assert(strncmp(limit->rule, "FDA Food Code 3-", 16) == 0);
        ck_assert(*limit->seen != '\0' && *limit->what != '\0');
    }
}
END_TEST

/* Each edge in both units, as a show file would have it: thousandths of °C, °F rounded to one. */
static const struct {
    const char *name;
    bpi_food food;
    int32_t temp_mC;
    bool reached;
} edges[] = {
    {"63 C for whole meat", BPI_FOOD_WHOLE_MEAT, 63000, true},
    {"145 F for whole meat is 62.778 C", BPI_FOOD_WHOLE_MEAT, 62778, true},
    {"144 F for whole meat", BPI_FOOD_WHOLE_MEAT, 62222, false},
    {"68 C for ground meat, below 155 F", BPI_FOOD_GROUND, 68000, true},
    {"67.9 C for ground meat", BPI_FOOD_GROUND, 67900, false},
    {"74 C for poultry", BPI_FOOD_POULTRY, 74000, true},
    {"165 F for poultry is 73.889 C", BPI_FOOD_POULTRY, 73889, true},
    {"73.8 C for poultry", BPI_FOOD_POULTRY, 73800, false},
    {"57 C for plants, below 135 F", BPI_FOOD_PLANT, 57000, true},
    {"134 F for plants", BPI_FOOD_PLANT, 56667, false},
    {"165 F reheated", BPI_FOOD_REHEATED, 73889, true},
    {"135 F reheated", BPI_FOOD_REHEATED, 57222, false},
};

START_TEST(a_limit_is_reached_in_whichever_unit_it_was_written)
{
    ck_assert_msg(bpi_limit_reached(bpi_limit_cook(edges[_i].food), edges[_i].temp_mC) ==
                      edges[_i].reached,
                  "%s", edges[_i].name);
}
END_TEST

START_TEST(other_food_has_no_published_core)
{
    ck_assert_ptr_null(bpi_limit_cook(BPI_FOOD_OTHER));
}
END_TEST

static const struct {
    int32_t temp_mC;
    const char *text;
} temps[] = {
    {74000, "74 °C (165 °F)"},  {73889, "73.9 °C (165 °F)"}, {0, "0 °C (32 °F)"},
    {-20000, "-20 °C (-4 °F)"}, {-17778, "-17.8 °C (0 °F)"}, {57222, "57.2 °C (135 °F)"},
    {-49, "0 °C (32 °F)"},
};

START_TEST(temperatures_are_written_in_both_units)
{
    for (size_t i = 0; i < sizeof temps / sizeof *temps; i++) {
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_temp_put(&t, temps[i].temp_mC);
        ck_assert_str_eq(t.s, temps[i].text);
        bpi_text_release(&t);
    }
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_limit_put(&t, bpi_limit_of(BPI_LIMIT_HOLD_HOT));
    ck_assert_str_eq(t.s, "57 °C (135 °F)");
    bpi_text_release(&t);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

Suite *suite_safety_limits(void);
Suite *suite_safety_limits(void)
{
    Suite *s = suite_create("safety/limits");
    TCase *c = tcase_create("limits");
    tcase_add_loop_test(c, each_limit_is_the_published_one, 0, sizeof rows / sizeof *rows);
    tcase_add_test(c, every_limit_says_its_section_and_where_it_was_read);
    tcase_add_loop_test(c, a_limit_is_reached_in_whichever_unit_it_was_written, 0,
                        sizeof edges / sizeof *edges);
    tcase_add_test(c, other_food_has_no_published_core);
    tcase_add_test(c, temperatures_are_written_in_both_units);
    suite_add_tcase(s, c);
    return s;
}

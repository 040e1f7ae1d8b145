#include "safety/limits.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/show.h"
#include "base/file.h"
#include "base/memory.h"
#include "model/allergen.h"
#include "support/rows.h"

/* tests/safety/published.csv carries every row of a collection of published food-safety values, each
 * with its source, its section and how it is known. Each row is named here: held against the built-in
 * sets of limits, tested by a file that names it, or outside what the program does, and why. A row
 * that nothing names fails. */
#define ROWS "tests/safety/published.csv"

typedef enum how { TEMP, TIME, LATER, ALLERGEN, ELSEWHERE, OUTSIDE } how;

typedef struct binding {
    const char *from, *to; /* rows from the one to the other, in file order */
    how how;
    const char *set; /* name of a set; of ELSEWHERE the file that names them; of OUTSIDE why */
    bpi_limit_id limit;
    uint32_t row; /* of that limit; of TIME, the next row of the file is the next row of it */
} binding;

#define FC "us-food-code"

static const binding bindings[] = {
    {"FS-001", "FS-002", TEMP, FC, BPI_LIMIT_COOK_WHOLE, 0},
    {"FS-003", NULL, TIME, FC, BPI_LIMIT_COOK_WHOLE, 0},
    {"FS-004", "FS-005", TEMP, FC, BPI_LIMIT_COOK_GROUND, 0},
    {"FS-006", NULL, TIME, FC, BPI_LIMIT_COOK_GROUND, 0},
    {"FS-007", NULL, TIME, FC, BPI_LIMIT_COOK_GROUND, 1},
    {"FS-008", NULL, TIME, FC, BPI_LIMIT_COOK_GROUND, 2},
    {"FS-009", NULL, TIME, FC, BPI_LIMIT_COOK_GROUND, 3},
    {"FS-010", "FS-011", TEMP, FC, BPI_LIMIT_COOK_POULTRY, 0},
    {"FS-012", NULL, TIME, FC, BPI_LIMIT_COOK_POULTRY, 0},
    {"FS-013", NULL, OUTSIDE, "a steak served undercooked needs a notice to who eats it", 0, 0},
    {"FS-014", NULL, TIME, "us-food-code-2013", BPI_LIMIT_COOK_GROUND, 0},
    {"FS-020", "FS-036", TIME, FC, BPI_LIMIT_COOK_ROAST, 0},
    {"FS-040", "FS-044", OUTSIDE, "a show does not say what a roast weighs", 0, 0},
    {"FS-A65-130", "FS-A65-158", TIME, "us-fsis-6-5-log", BPI_LIMIT_COOK_ROAST, 0},
    {"FS-A70-130", "FS-A70-158", TIME, "us-fsis-7-log", BPI_LIMIT_COOK_ROAST, 0},
    {"FS-050", "FS-051", OUTSIDE, "a kitchen has no microwave oven", 0, 0},
    {"FS-052", NULL, TEMP, FC, BPI_LIMIT_COOK_PLANT, 0},
    {"FS-053", NULL, OUTSIDE, "non-continuous cooking needs a written procedure", 0, 0},
    {"FS-054", "FS-056", OUTSIDE, "fish for raw service is not planned", 0, 0},
    {"FS-060", NULL, TEMP, FC, BPI_LIMIT_REHEAT, 0},
    {"FS-061", NULL, TIME, FC, BPI_LIMIT_REHEAT, 0},
    {"FS-062", "FS-063", OUTSIDE, "a kitchen has no microwave oven", 0, 0},
    {"FS-064", NULL, TEMP, FC, BPI_LIMIT_REHEAT_PACKAGED, 0},
    {"FS-065", NULL, TIME, FC, BPI_LIMIT_REHEAT_TIME, 0},
    {"FS-070", NULL, TEMP, FC, BPI_LIMIT_RECEIVE_COLD, 0},
    {"FS-071", NULL, TEMP, FC, BPI_LIMIT_RECEIVE_EGGS, 0},
    {"FS-072", NULL, TEMP, FC, BPI_LIMIT_RECEIVE_HOT, 0},
    {"FS-073", NULL, TEMP, FC, BPI_LIMIT_THAW_COLD, 0},
    {"FS-074", NULL, TEMP, FC, BPI_LIMIT_THAW_WATER, 0},
    {"FS-075", NULL, TIME, FC, BPI_LIMIT_THAW_WATER, 0},
    {"FS-076", NULL, TEMP, FC, BPI_LIMIT_THAW_COLD, 0},
    {"FS-077", NULL, TEMP, FC, BPI_LIMIT_THAW_COLD, 0},
    {"FS-080", NULL, TEMP, FC, BPI_LIMIT_COOL_FROM, 0},
    {"FS-081", NULL, TEMP, FC, BPI_LIMIT_COOL_FIRST, 0},
    {"FS-082", NULL, TIME, FC, BPI_LIMIT_COOL_FIRST, 0},
    {"FS-083", NULL, TEMP, FC, BPI_LIMIT_COOL_ALL, 0},
    {"FS-084", NULL, TIME, FC, BPI_LIMIT_COOL_ALL, 0},
    {"FS-085", NULL, TIME, FC, BPI_LIMIT_COOL_UNHEATED, 0},
    {"FS-086", NULL, TIME, FC, BPI_LIMIT_COOL_UNHEATED, 0},
    {"FS-087", NULL, TEMP, FC, BPI_LIMIT_RECEIVE_EGGS, 0},
    {"FS-088", NULL, TEMP, FC, BPI_LIMIT_REHEAT, 0}, /* what the log says to do */
    {"FS-089", NULL, ELSEWHERE, "tests/model/test_thermal.c", 0, 0},
    {"FS-090", NULL, OUTSIDE, "the depth of the food counts, not the height of its pan", 0, 0},
    {"FS-091", "FS-092", OUTSIDE, "the stabilization of a meat plant, from memory", 0, 0},
    {"FS-100", NULL, TEMP, FC, BPI_LIMIT_HOLD_HOT, 0},
    {"FS-101", NULL, TEMP, FC, BPI_LIMIT_HOLD_ROAST, 0},
    {"FS-102", NULL, TEMP, FC, BPI_LIMIT_HOLD_COLD, 0},
    {"FS-103", NULL, TEMP, FC, BPI_LIMIT_RECEIVE_EGGS, 0},
    {"FS-110", NULL, TIME, FC, BPI_LIMIT_DATE_MARK, 0},
    {"FS-111", NULL, TIME, FC, BPI_LIMIT_KEEP_COLD, 0},
    {"FS-112", "FS-114", OUTSIDE, "a show does not say when a package was opened or marked", 0, 0},
    {"FS-120", NULL, TIME, FC, BPI_LIMIT_UNCONTROLLED, 0},
    {"FS-121", NULL, TEMP, FC, BPI_LIMIT_HOLD_COLD, 0},
    {"FS-122", NULL, TEMP, FC, BPI_LIMIT_HOLD_HOT, 0},
    {"FS-123", "FS-126", OUTSIDE, "longer than 4 h needs readings through the day", 0, 0},
    {"FS-130", NULL, TIME, "us-home", BPI_LIMIT_UNCONTROLLED, 0},
    {"FS-131", "FS-132", OUTSIDE, "a show does not say how hot the room is; the longer is used", 0,
     0},
    {"FS-133", NULL, TIME, "us-home", BPI_LIMIT_KEEP_COLD, 0},
    {"FS-134", NULL, OUTSIDE, "freezing is not planned", 0, 0},
    {"FS-135", NULL, TEMP, "us-home", BPI_LIMIT_REHEAT, 0},
    {"FS-140", NULL, TEMP, "us-home", BPI_LIMIT_COOK_GROUND, 0},
    {"FS-141", NULL, TEMP, "us-home", BPI_LIMIT_COOK_POULTRY, 0},
    {"FS-142", NULL, TEMP, "us-home", BPI_LIMIT_COOK_WHOLE, 0},
    {"FS-143", NULL, TEMP, "us-home", BPI_LIMIT_COOK_POULTRY, 0},
    {"FS-144", NULL, TEMP, "us-home", BPI_LIMIT_COOK_WHOLE, 0},
    {"FS-145", NULL, TEMP, "us-home", BPI_LIMIT_REHEAT, 0},
    {"FS-146", NULL, TEMP, "us-home", BPI_LIMIT_REHEAT_PACKAGED, 0},
    {"FS-147", NULL, TEMP, "us-home", BPI_LIMIT_COOK_GROUND, 0},
    {"FS-148", NULL, TEMP, "us-home", BPI_LIMIT_REHEAT, 0},
    {"FS-149", NULL, TEMP, "us-home", BPI_LIMIT_COOK_WHOLE, 0},
    {"FS-150", NULL, TIME, "us-home", BPI_LIMIT_COOK_WHOLE, 0},
    {"FS-160", NULL, TEMP, "us-armed-forces", BPI_LIMIT_HOLD_HOT, 0},
    {"FS-161", NULL, TIME, "us-armed-forces", BPI_LIMIT_COOL_FIRST, 0},
    {"FS-162", NULL, LATER, "us-armed-forces", BPI_LIMIT_COOL_ALL, 0},
    {"FS-163", NULL, TIME, "us-armed-forces", BPI_LIMIT_COOK_GROUND, 0},
    {"FS-164", NULL, TIME, "us-armed-forces", BPI_LIMIT_COOK_ROAST, 0},
    {"FS-165", NULL, TIME, "new-york-city", BPI_LIMIT_UNCONTROLLED, 0},
    {"FS-166", NULL, OUTSIDE, "longer than 4 h needs readings through the day", 0, 0},
    {"FS-167", NULL, TEMP, "us-wisconsin", BPI_LIMIT_RECEIVE_EGGS, 0},
    {"FS-200", "FS-334", ELSEWHERE, "tests/safety/test_claim.c", 0, 0},
    {"FS-350", "FS-372", OUTSIDE, "figures are told as the show states them, not as on a label", 0,
     0},
    {"FS-373", "FS-374", OUTSIDE, "energy is stated, not worked out from protein and carbohydrate",
     0, 0},
    {"FS-375", NULL, ELSEWHERE, "tests/safety/test_claim.c", 0, 0},
    {"FS-400", "FS-408", ALLERGEN, NULL, 0, 0},
    {"FS-409", NULL, ELSEWHERE, "tests/model/test_allergen.c", 0, 0},
    {"FS-410", "FS-411", OUTSIDE, "the dates of a law that is in force", 0, 0},
};

/* The show of tests/model/base.json, held to a built-in set. */
static bp_show *held_to(const char *set)
{
    bpi_text t = BPI_TEXT_EMPTY, with = BPI_TEXT_EMPTY;
    bp_show *show = NULL;
    ck_assert_int_eq(bpi_file_read(&t, "tests/model/base.json", 1u << 20, NULL), BP_OK);
    bpi_text_f(&with, "{\"safety\": {\"limits\": \"%s\"},%s", set, strchr(t.s, '{') + 1);
    ck_assert_msg(bp_show_read(&show, with.s, with.len, "base.json", "tests/model", NULL) == BP_OK,
                  "%s", set);
    bpi_text_release(&t);
    bpi_text_release(&with);
    return show;
}

static int64_t seconds_of(const row *r)
{
    static const struct {
        const char *unit;
        int64_t seconds;
    } units[] = {{"s", 1}, {"min", 60}, {"h", 3600}, {"day", 86400}};
    if (r->field[2][0] == '<') /* "<1" s: an instant */
        return 0;
    for (size_t i = 0; i < sizeof units / sizeof *units; i++)
        if (strcmp(units[i].unit, r->field[3]) == 0)
            return strtol(r->field[2], NULL, 10) * units[i].seconds;
    ck_abort_msg("%s: unit %s", r->field[0], r->field[3]);
}

/* "63" of unit "°C", "°F" or "°C (145 °F)"; and a temperature in the words of a ladder, "at 54.4 °C". */
static void hold_temp(const row *r, const bpi_limit *limit)
{
    bpi_text t = BPI_TEXT_EMPTY;
    char want[64];
    int32_t printed = (int32_t)strtol(r->field[2], NULL, 10);
    bpi_limit_put(&t, limit);
    if (strcmp(r->field[3], "°F") == 0)
        snprintf(want, sizeof want, "(%d °F)", printed);
    else if (strcmp(r->field[3], "°C") == 0)
        snprintf(want, sizeof want, "%d °C", printed);
    else
        snprintf(want, sizeof want, "%d %s", printed, r->field[3]);
    ck_assert_msg(strstr(t.s, want) != NULL, "%s wants %s: %s", r->field[0], want, t.s);
    bpi_text_release(&t);
}

static void hold(const row *r, const binding *b, uint32_t more, const bpi_limits *set)
{
    ck_assert_msg(b->row + more < set->rows[b->limit], "%s: set %s has no such row", r->field[0],
                  b->set);
    const bpi_limit *limit = &set->row[b->limit][b->row + more];
    const char *at = strstr(r->field[1], "at ");
    char pair[64];
    if (b->how == TEMP) {
        hold_temp(r, limit);
        return;
    }
    int64_t first = b->how == LATER ? set->row[BPI_LIMIT_COOL_FIRST]->seconds : 0;
    ck_assert_msg(limit->seconds - first == seconds_of(r), "%s: %ld s", r->field[0],
                  (long)limit->seconds);
    /* A ladder: its temperatures too, as printed in °F. */
    if (at && sscanf(at, "at %*f °C (%63[0-9]", pair) == 1) {
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_limit_put(&t, limit);
        strcat(pair, " °F)");
        ck_assert_msg(strstr(t.s, pair) != NULL, "%s: %s", r->field[0], t.s);
        bpi_text_release(&t);
    }
}

static void named_in(const char *path, const char *id)
{
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_msg(bpi_file_read(&t, path, 1u << 20, NULL) == BP_OK, "%s", path);
    ck_assert_msg(strstr(t.s, id) != NULL, "%s does not name %s", path, id);
    bpi_text_release(&t);
}

START_TEST(every_row_is_held)
{
    rows all = rows_read(ROWS);
    size_t at = 0;
    for (size_t i = 0; i < sizeof bindings / sizeof *bindings; i++) {
        const binding *b = &bindings[i];
        bool limit = b->how == TEMP || b->how == TIME || b->how == LATER;
        bp_show *show = limit ? held_to(b->set) : NULL;
        ck_assert_msg(at < all.n && strcmp(all.row[at].field[0], b->from) == 0,
                      "row %zu is %s, and %s is held next", at, all.row[at].field[0], b->from);
        for (uint32_t more = 0;; more++) {
            const row *r = &all.row[at++];
            bool last = strcmp(r->field[0], b->to ? b->to : b->from) == 0;
            if (limit)
                hold(r, b, b->how == TIME ? more : 0, show->limits);
            else if (b->how == ELSEWHERE)
                named_in(b->set, more == 0 || last ? r->field[0] : "FS-");
            else if (b->how == ALLERGEN)
                ck_assert_msg(bpi_allergen_find(strcmp(r->field[2], "Crustacean shellfish")
                                                    ? r->field[2]
                                                    : "crustacean shellfish") < bpi_allergen_count,
                              "%s: %s", r->field[0], r->field[2]);
            else
                ck_assert(b->set[0]);
            if (last)
                break;
            ck_assert_msg(at < all.n, "%s is missing", b->to);
        }
        bp_show_free(show);
    }
    ck_assert_msg(at == all.n, "nothing holds %s", at < all.n ? all.row[at].field[0] : "");
    rows_release(&all);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

/* What the program holds food to says its rule and where that was read, in every set. */
START_TEST(every_limit_says_its_rule_and_its_source)
{
    ck_assert_uint_ge(bpi_limit_file_count, 8);
    for (uint32_t i = 0; i < bpi_limit_file_count; i++) {
        bp_show *show = held_to(bpi_limit_files[i].name);
        ck_assert_str_eq(show->limits->id, bpi_limit_files[i].name);
        for (int id = 0; id < BPI_LIMITS; id++)
            for (uint32_t k = 0; k < show->limits->rows[id]; k++) {
                const bpi_limit *l = &show->limits->row[id][k];
                ck_assert(l->rule[0] && l->source[0]);
                /* °C and °F of one row are the same to a degree of either. */
                ck_assert_msg(abs(l->celsius - l->fahrenheit) <= 556, "%s: %s %d %d",
                              bpi_limit_files[i].name, l->rule, l->celsius, l->fahrenheit);
            }
        bp_show_free(show);
    }
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

Suite *suite_safety_published(void);
Suite *suite_safety_published(void)
{
    Suite *s = suite_create("safety/published");
    TCase *c = tcase_create("published");
    tcase_add_test(c, every_row_is_held);
    tcase_add_test(c, every_limit_says_its_rule_and_its_source);
    suite_add_tcase(s, c);
    return s;
}

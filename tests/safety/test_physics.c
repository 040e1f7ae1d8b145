#include <check.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "base/memory.h"
#include "model/heating.h"
#include "model/thermal.h"
#include "support/rows.h"

/* tests/safety/physics.csv carries every row of a collection of published values of heating and cooling,
 * each with its source, its section and how it is known. Each row is named here: the models are held to
 * it, a file that names it tests it, or it is outside what the program does, and why. A row that nothing
 * names fails. */
#define ROWS "tests/safety/physics.csv"

typedef enum how {
    PROBLEM,   /* a worked problem on Newton's law: data, k and answers, as their ids end */
    CAPACITY,  /* the heat capacity of a food of the table, `what`                        */
    WATER,     /* that of water by another author: within 1/4 % of the table's            */
    ELSEWHERE, /* `what` is the file                                                      */
    OUTSIDE    /* `what` says why                                                         */
} how;

typedef struct binding {
    const char *from, *to; /* rows from the one to the other, in file order */
    how how;
    const char *what;
} binding;

#define THERMAL "tests/model/test_thermal.c"
#define HEATING "tests/model/test_heating.c"
#define NO_FOOD "no food of the table has that name"
#define PARTS   "a food is named, not made up of its parts"

static const binding bindings[] = {
    {"PH-COF-T0", "PH-TUA-C1", PROBLEM, NULL},
    {"PH-TUA-KP", "PH-PIZ-KP", PROBLEM, NULL},
    {"PH-RULE-1", "PH-RULE-5", ELSEWHERE, THERMAL},
    {"PH-100", "PH-103", ELSEWHERE, THERMAL},
    {"PH-104", "PH-106", OUTSIDE, "rules that no longer hold; a show may bring its own"},
    {"PH-CP-WAT-a", "PH-CP-WAT-d", OUTSIDE, PARTS},
    {"PH-CP-WAT-20", NULL, WATER, NULL},
    {"PH-CP-WAI-a", "PH-CP-MIX", OUTSIDE, PARTS},
    {"PH-H75-0", NULL, WATER, NULL},
    {"PH-H75-1", "PH-H75-4", OUTSIDE, PARTS},
    {"PH-SIE-0", NULL, WATER, NULL},
    {"PH-SIE-1", "PH-SIE-5", OUTSIDE, PARTS},
    {"PH-SIE-6", "PH-SIE-7", OUTSIDE, "what cooling takes from a refrigerator is not asked"},
    {"PH-G00", "PH-G12", OUTSIDE, NO_FOOD},
    {"PH-G13", NULL, CAPACITY, "milk"},
    {"PH-G14", "PH-G16", OUTSIDE, NO_FOOD},
    {"PH-G17", NULL, CAPACITY, "soup"},
    {"PH-G18", NULL, OUTSIDE, NO_FOOD},
    {"PH-G19", NULL, CAPACITY, "potatoes"},
    {"PH-G20", "PH-G21", OUTSIDE, NO_FOOD},
    {"PH-G22", NULL, CAPACITY, "tomatoes"},
    {"PH-G23", NULL, OUTSIDE, NO_FOOD},
    {"PH-G24", NULL, CAPACITY, "water"},
    {"PH-G25", NULL, OUTSIDE, "nothing is frozen"},
    {"PH-200", NULL, WATER, NULL},
    {"PH-201", "PH-211", ELSEWHERE, HEATING},
    {"PH-212", "PH-217", ELSEWHERE, HEATING},
    {"PH-218", NULL, ELSEWHERE, HEATING},
    {"PH-219", NULL, OUTSIDE, "food is heated to what is stated, not to the boil"},
};

static int32_t mC(double fahrenheit)
{
    double x = (fahrenheit - 32) * 5000 / 9;
    return (int32_t)(x < 0 ? x - 0.5 : x + 0.5);
}

/* Seconds of "min", "h" and "1/min"; 0: none of them. */
static double unit_of(const char *unit)
{
    unit += strncmp(unit, "1/", 2) == 0 ? 2 : 0;
    return strncmp(unit, "min", 3) == 0 ? 60 : unit[0] == 'h' ? 3600 : 0;
}

/* The row of the same problem whose id ends so. */
static const row *of_problem(const rows *all, const row *r, const char *end)
{
    char id[32];
    snprintf(id, sizeof id, "%.6s-%s", r->field[0], end);
    const row *found = rows_find(all, id);
    ck_assert_msg(found != NULL, "%s is missing", id);
    return found;
}

static int32_t data(const rows *all, const row *r, const char *end)
{
    const row *found = of_problem(all, r, end);
    ck_assert_str_eq(found->field[3], "°F");
    return mC(strtod(found->field[2], NULL));
}

/* Tolerance: k to 3 in 10 000 and times to 2 s + 1 in 10 000 of the exact answer, for a show's
 * temperatures are held to a thousandth of a degree Celsius; a printed answer to the last digit that is
 * printed, and a second, for times are whole ones here, rounded up. */
static void hold_problem(const rows *all, const row *r)
{
    const char *end = r->field[0] + 7, *value = r->field[2], *at;
    double want = strtod(value, NULL), unit = unit_of(r->field[3]), after;
    char each[8], extra[8] = "";
    int32_t from = data(all, r, "T0"), around = data(all, r, "TA"), then = data(all, r, "T1");
    at = strstr(of_problem(all, r, "T1")->field[1], "after ");
    ck_assert_msg(at && sscanf(at, "after %lf %7s", &after, each) == 2, "%s", r->field[0]);
    int64_t k = bpi_thermal_rate(from, then, around, (int64_t)(after * unit_of(each)));
    ck_assert_int_gt(k, 0);
    if (end[0] == 'T')
        return;
    if (end[0] == 'K') {
        double is = (double)k / 1e12 * unit;
        ck_assert_msg(rows_near(is, want, end[1] ? rows_digit(value) : want * 3e-4), "%s: %f",
                      r->field[0], is);
        return;
    }
    if ((at = strstr(r->field[1], "temperature at ")) != NULL) {
        ck_assert_int_eq(sscanf(at, "temperature at %lf %7s", &after, each), 2);
        int32_t there = bpi_thermal_after(from, around, k, (int64_t)(after * unit_of(each)));
        ck_assert_msg(rows_near(there, mC(want), 3), "%s: %d", r->field[0], there);
        return;
    }
    at = strstr(r->field[1], "time to ");
    ck_assert_msg(at && sscanf(at, "time to %lf", &after) == 1, "%s", r->field[0]);
    int32_t to = mC(after);
    int64_t t = bpi_thermal_until(from, to, around, k);
    double within = end[0] == 'C' ? 2 + want * unit / 1e4 : rows_digit(value) * unit + 1;
    if (unit == 0) { /* "9 h 13 min" */
        double hours, minutes;
        ck_assert_int_eq(sscanf(value, "%lf h %lf %7s", &hours, &minutes, extra), 3);
        want = hours * 60 + minutes;
        unit = within = 60;
    }
    ck_assert_msg(rows_near((double)t, want * unit, within), "%s: %ld s", r->field[0], (long)t);
    /* There, and not a second earlier. */
    int32_t there = bpi_thermal_after(from, around, k, t);
    ck_assert_msg(from > around ? there <= to + 1 : there >= to - 1, "%s", r->field[0]);
}

/* J/kgK; of a row in kJ, or of a gram in J, a thousand times its value. */
static double capacity(const row *r)
{
    return strtod(r->field[2], NULL) * (r->field[3][0] == 'k' || r->field[3][1] == '\0' ? 1000 : 1);
}

static double capacity_of(const char *food)
{
    const bpi_heating_food *f = bpi_heating_foods;
    while (f->name && strcmp(f->name, food) != 0)
        f++;
    ck_assert_msg(f->name != NULL, "%s", food);
    return f->c;
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
        ck_assert_msg(at < all.n && strcmp(all.row[at].field[0], b->from) == 0,
                      "row %zu is %s, and %s is held next", at, all.row[at].field[0], b->from);
        for (bool first = true, last = false; !last; first = false, at++) {
            ck_assert_msg(at < all.n, "%s is missing", b->to);
            const row *r = &all.row[at];
            last = strcmp(r->field[0], b->to ? b->to : b->from) == 0;
            if (b->how == PROBLEM)
                hold_problem(&all, r);
            else if (b->how == CAPACITY)
                ck_assert_msg(rows_near(capacity_of(b->what), capacity(r), 1e-6), "%s",
                              r->field[0]);
            else if (b->how == WATER)
                ck_assert_msg(rows_near(capacity_of("water"), capacity(r), capacity(r) / 400), "%s",
                              r->field[0]);
            else if (b->how == ELSEWHERE && (first || last))
                named_in(b->what, r->field[0]);
        }
    }
    ck_assert_msg(at == all.n, "nothing holds %s", at < all.n ? all.row[at].field[0] : "");
    rows_release(&all);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

Suite *suite_safety_physics(void);
Suite *suite_safety_physics(void)
{
    Suite *s = suite_create("safety/physics");
    TCase *c = tcase_create("physics");
    tcase_add_test(c, every_row_is_held);
    suite_add_tcase(s, c);
    return s;
}

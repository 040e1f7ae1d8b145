#include "goods/measure.h"

#include <check.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/temperature.h"
#include "support/rows.h"

/* tests/goods/published.csv carries every row of a collection of published units, weights and scalings,
 * each with its source and how it is known. Each row is named here: what the program has for it is
 * held to the row, or the row is outside of what it does, and why. A row that nothing names fails. */
#define ROWS "tests/goods/published.csv"

typedef enum how {
    EXACT,   /* `amount` is the row's value, to all its digits      */
    PRINTED, /* ... to its last digit                               */
    ROUNDED, /* ... within 3.1 %: a table for kitchens and labels   */
    SAME,    /* `amount` is as much as `times` of `other`           */
    SCALED,  /* `amount` times `times` hundredths is the row's value */
    PER, /* so many of `other` are in `amount`, to the row's last digit; NULL: in the row's ounces */
    DEGREES, /* "41 °F printed" or "exact": the row itself is read  */
    APART,   /* mass against volume: never added, never worked out  */
    OUTSIDE
} how;

typedef struct binding {
    const char *from, *to;
    how how;
    const char *amount, *other; /* of OUTSIDE: why */
    uint32_t times;
} binding;

static const binding bindings[] = {
    {"UN-001", NULL, EXACT, "1 gallon", NULL, 0},
    {"UN-002", NULL, EXACT, "1 quart", NULL, 0},
    {"UN-003", NULL, EXACT, "1 pint", NULL, 0},
    {"UN-004", NULL, EXACT, "1 cup", NULL, 0},
    {"UN-005", NULL, EXACT, "1/2 cup", NULL, 0},
    {"UN-006", NULL, EXACT, "1 fl oz", NULL, 0},
    {"UN-007", NULL, EXACT, "1 tbsp", NULL, 0},
    {"UN-008", NULL, EXACT, "1 tsp", NULL, 0},
    {"UN-009", NULL, EXACT, "1 lb", NULL, 0},
    {"UN-010", NULL, EXACT, "1 oz", NULL, 0},
    {"UN-011", "UN-012", OUTSIDE, "lengths are of pans alone", NULL, 0},
    {"UN-013", NULL, SAME, "1 cup", "1 tbsp", 16},
    {"UN-014", NULL, SAME, "1 tbsp", "1 tsp", 3},
    {"UN-015", NULL, SAME, "1 cup", "1 fl oz", 8},
    {"UN-016", "UN-019", OUTSIDE,
     "sticks and eggs are counted; a show may say what they weigh (test_weights)", NULL, 0},
    {"UN-020", "UN-024", OUTSIDE, "spoons and cups are those of the US", NULL, 0},
    {"UN-030", NULL, ROUNDED, "1 tsp", NULL, 0},
    {"UN-031", NULL, ROUNDED, "1 tbsp", NULL, 0},
    {"UN-032", NULL, ROUNDED, "1 cup", NULL, 0},
    {"UN-033", NULL, ROUNDED, "1 fl oz", NULL, 0},
    {"UN-034", NULL, ROUNDED, "1 oz", NULL, 0},
    {"UN-040", NULL, PRINTED, "1 tsp", NULL, 0},
    {"UN-041", NULL, PRINTED, "1 tbsp", NULL, 0},
    {"UN-042", NULL, PRINTED, "1 fl oz", NULL, 0},
    {"UN-043", NULL, PRINTED, "1/4 cup", NULL, 0},
    {"UN-044", NULL, PRINTED, "1/2 cup", NULL, 0},
    {"UN-045", NULL, PRINTED, "1 cup", NULL, 0},
    {"UN-046", NULL, PRINTED, "1 pint", NULL, 0},
    {"UN-047", NULL, PRINTED, "1 quart", NULL, 0},
    {"UN-050", NULL, ROUNDED, "1/4 tsp", NULL, 0},
    {"UN-051", NULL, ROUNDED, "1/2 tsp", NULL, 0},
    {"UN-052", NULL, ROUNDED, "1 tsp", NULL, 0},
    {"UN-053", NULL, ROUNDED, "1 tbsp", NULL, 0},
    {"UN-054", NULL, ROUNDED, "1/4 cup", NULL, 0},
    {"UN-055", NULL, ROUNDED, "1/3 cup", NULL, 0},
    {"UN-056", NULL, ROUNDED, "1/2 cup", NULL, 0},
    {"UN-057", NULL, ROUNDED, "3/4 cup", NULL, 0},
    {"UN-058", NULL, ROUNDED, "1 cup", NULL, 0},
    {"UN-059", NULL, ROUNDED, "1 pint", NULL, 0},
    {"UN-060", NULL, ROUNDED, "1 quart", NULL, 0},
    {"UN-061", NULL, ROUNDED, "1/2 gallon", NULL, 0},
    {"UN-062", NULL, ROUNDED, "1 gallon", NULL, 0},
    {"UN-063", NULL, ROUNDED, "1 oz", NULL, 0},
    {"UN-064", NULL, ROUNDED, "1/4 lb", NULL, 0},
    {"UN-065", NULL, ROUNDED, "1 lb", NULL, 0},
    {"UN-080", "UN-112", DEGREES, NULL, NULL, 0},
    {"UN-G000", "UN-215", APART, "1 cup", "1 g", 0},
    {"UN-220", "UN-286", OUTSIDE, "a can is bought by what is written on it", NULL, 0},
    {"UN-290", "UN-295", OUTSIDE, "a scoop is no unit here", NULL, 0},
    {"UN-300", NULL, OUTSIDE, "a size is a fraction of the recipe, and stated", NULL, 0},
    {"UN-301", NULL, SCALED, "1.25 lb", "1 lb", 348},
    {"UN-302", NULL, PER, "0.35 lb", "1 oz", 0},
    {"UN-303", "UN-309", OUTSIDE, "ounces are rounded up, so that no cook is short", NULL, 0},
    {"UN-310", "UN-313", OUTSIDE, "a size is a fraction of the recipe, and stated", NULL, 0},
    {"UN-314", NULL, SCALED, "2 lb", "1 lb", 261},
    {"UN-315", NULL, SCALED, "6 gallon", "1 gallon", 333},
    {"UN-316", NULL, PER, "0.98 gallon", "1 quart", 0},
    {"UN-317", NULL, PER, "0.92 quart", "1 pint", 0},
    {"UN-318", NULL, PER, "0.84 pint", "1 cup", 0},
    {"UN-319", NULL, PER, "0.68 cup", "1 tbsp", 0},
    {"UN-320", NULL, PER, "0.88 tbsp", "1 tsp", 0},
    {"UN-321", "UN-322", OUTSIDE, "teaspoons are rounded up, so that no cook is short", NULL, 0},
    {"UN-330", "UN-345", PER, NULL, "1 lb", 0},
    {"UN-346", NULL, PER, "42 oz", "1 lb", 0},
    {"UN-347", NULL, OUTSIDE, "a size is a fraction of the recipe, and stated", NULL, 0},
};

static bpi_measure measure(const char *text)
{
    bpi_quantity q;
    bpi_fault f;
    bpi_measure m;
    ck_assert_msg(bpi_quantity_read(&q, text, strlen(text), &f), "%s", text);
    ck_assert(bpi_measure_of(&m, &q));
    return m;
}

/* Grams or millilitres: the program itself counts in exact fractions of a millionth of them. */
static double size(const char *text)
{
    bpi_measure m = measure(text);
    return (double)m.num / (double)m.den / 1e6;
}

static void hold_degrees(const row *r)
{
    char text[16];
    int32_t mC = 0;
    bpi_fault f;
    snprintf(text, sizeof text, "%ld F", strtol(r->field[1], NULL, 10));
    ck_assert_msg(bpi_temperature_read(&mC, text, strlen(text), &f), "%s", text);
    ck_assert_msg(
        rows_near(mC / 1e3, strtod(r->field[2], NULL), rows_digit(r->field[2]) / 2 + 5e-4),
        "%s: %d mC", r->field[0], mC);
}

static void hold(const row *r, const binding *b)
{
    double value = strtod(r->field[2], NULL);
    bpi_measure m, other;
    switch (b->how) {
    case EXACT:
        ck_assert_msg(rows_near(size(b->amount), value, 1e-10 * value), "%s", r->field[0]);
        break;
    case PRINTED:
        ck_assert_msg(rows_near(size(b->amount), value, rows_digit(r->field[2]) / 2), "%s",
                      r->field[0]);
        break;
    case ROUNDED:
        ck_assert_msg(rows_near(size(b->amount), value, 0.031 * value), "%s", r->field[0]);
        break;
    case SAME:
        m = measure(b->amount);
        other = measure(b->other);
        ck_assert(bpi_measure_scale(&other, b->times, 1));
        ck_assert_msg(m.num == other.num && m.den == other.den, "%s", r->field[0]);
        ck_assert_int_eq(b->times, (uint32_t)value);
        break;
    case SCALED:
        m = measure(b->amount);
        ck_assert(bpi_measure_scale(&m, b->times, 100));
        ck_assert_msg(rows_near((double)m.num / (double)m.den / 1e6, value * size(b->other), 1e-6),
                      "%s", r->field[0]);
        break;
    case PER: {
        char ounces[16];
        snprintf(ounces, sizeof ounces, "%ld oz", strtol(r->field[1], NULL, 10));
        double in = size(b->amount ? b->amount : ounces) / size(b->other);
        ck_assert_msg(rows_near(in, value, rows_digit(r->field[2]) / 2 + 1e-9), "%s: %f",
                      r->field[0], in);
        break;
    }
    case DEGREES:
        hold_degrees(r);
        break;
    case APART:
        m = measure(b->amount);
        other = measure(b->other);
        ck_assert(!bpi_measure_alike(&m, &other));
        ck_assert_int_eq(bpi_measure_packs(&m, &other), 0);
        break;
    case OUTSIDE:
        ck_assert(b->amount[0]);
        break;
    }
}

START_TEST(every_row_is_held)
{
    rows all = rows_read(ROWS);
    size_t at = 0;
    for (size_t i = 0; i < sizeof bindings / sizeof *bindings; i++) {
        const binding *b = &bindings[i];
        ck_assert_msg(at < all.n && strcmp(all.row[at].field[0], b->from) == 0,
                      "row %zu is %s, and %s is held next", at, all.row[at].field[0], b->from);
        for (bool last = false; !last; at++) {
            ck_assert_msg(at < all.n, "%s is missing", b->to);
            hold(&all.row[at], b);
            last = strcmp(all.row[at].field[0], b->to ? b->to : b->from) == 0;
        }
    }
    ck_assert_msg(at == all.n, "nothing holds %s", at < all.n ? all.row[at].field[0] : "");
    rows_release(&all);
}
END_TEST

Suite *suite_goods_published(void);
Suite *suite_goods_published(void)
{
    Suite *s = suite_create("goods/published");
    TCase *c = tcase_create("published");
    tcase_add_test(c, every_row_is_held);
    suite_add_tcase(s, c);
    return s;
}

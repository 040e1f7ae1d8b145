#include "goods/measure.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/show.h"
#include "support/rows.h"

/* tests/goods/weights.csv carries the published weights of kitchen measures (USDA National Nutrient
 * Database for Standard Reference, release 28, file WEIGHT), each row with its source. Every row is held:
 * the built-in table to it where it is a volume, and the arithmetic to it where it is anything else. */
#define ROWS "tests/goods/weights.csv"

static const char *const volumes[] = {"cup", "tbsp", "tablespoon", "tsp", "fl oz", "quart"};

/* The unit a measure begins with, and what is left of it: how the food is cut. NULL: no volume. */
static const char *unit_of(const char *measure, char cut[80])
{
    for (size_t i = 0; i < sizeof volumes / sizeof *volumes; i++) {
        size_t n = strlen(volumes[i]);
        if (strncmp(measure, volumes[i], n) != 0 || (measure[n] >= 'a' && measure[n] <= 'z'))
            continue;
        size_t len = 0;
        bool inside = false; /* what stands in brackets is a remark */
        for (const char *s = measure + n; *s && len < 79; s++) {
            inside = inside || *s == '(';
            if (!inside && (len || (*s != ' ' && *s != ',')))
                cut[len++] = *s;
            inside = inside && *s != ')';
        }
        while (len && (cut[len - 1] == ' ' || cut[len - 1] == ','))
            len--;
        cut[len] = '\0';
        return strcmp(volumes[i], "tablespoon") ? volumes[i] : "tbsp";
    }
    return NULL;
}

static bpi_measure weighed(const char *amount, const char *weight)
{
    bpi_quantity q;
    bpi_weight w = {.number = NULL};
    bpi_fault f;
    bpi_measure m;
    ck_assert_msg(bpi_quantity_read(&q, amount, strlen(amount), &f), "%s: %s", amount, f.wrong);
    ck_assert_msg(bpi_weight_read(&w, weight, strlen(weight), &f), "%s: %s", weight, f.wrong);
    ck_assert(bpi_measure_of(&m, &q));
    ck_assert_msg(bpi_measure_weigh(&m, &w), "%s of %s", amount, weight);
    ck_assert_int_eq(m.dimension, BPI_MASS);
    return m;
}

static double grams(const bpi_measure *m)
{
    return (double)m->num / (double)m->den / 1e6;
}

/* A volume: the table has the food so cut, and gives that weight; a spoon of it to within the digit that
 * a spoon is printed with, or a quarter: the table itself gives 5 g for a spoon of grated cheese and 100 g
 * for the cup of 16 of them. */
static void hold_volume(const row *r, const char *unit, const char *cut)
{
    char name[160], amount[32];
    snprintf(name, sizeof name, "%s%s%s", r->field[1], *cut ? ", " : "", cut);
    if (strcmp(cut, "or 1 packet") == 0 || strcmp(cut, "fluid") == 0)
        *strrchr(name, ',') = '\0';
    if (strcmp(name, "Cream, fluid, heavy whipping") == 0)
        strcat(name, ", fluid");
    snprintf(amount, sizeof amount, "%s %s", strcmp(r->field[2], ".333") ? r->field[2] : "1/3",
             unit);
    if (amount[0] == '.')
        snprintf(amount, sizeof amount, "0%s %s", r->field[2], unit);
    bpi_measure m = weighed(amount, name);
    double want = strtod(r->field[4], NULL), off = grams(&m) - want;
    bool cup = strcmp(unit, "cup") == 0 && strcmp(r->field[2], "1") == 0;
    ck_assert_msg((off < 0 ? -off : off) <= (cup ? 1e-9 : want * 0.26), "%s of %s: %f g, %s g",
                  amount, name, grams(&m), r->field[4]);
}

/* A piece, a slice, an ounce: the row as a show would state it, three times over. */
static void hold_piece(const row *r)
{
    char weight[64], count[32], half[32];
    if (strcmp(r->field[3], "oz") == 0) {
        bpi_quantity q;
        bpi_measure m;
        bpi_fault f;
        snprintf(count, sizeof count, "%s oz", r->field[2]);
        ck_assert(bpi_quantity_read(&q, count, strlen(count), &f) && bpi_measure_of(&m, &q));
        double off = grams(&m) - strtod(r->field[4], NULL);
        ck_assert_msg(off > -0.5 && off < 0.5, "%s: %s", r->field[1], count);
        return;
    }
    const char *zero = r->field[2][0] == '.' ? "0" : "";
    snprintf(weight, sizeof weight, "%s%s piece = %s g", zero, r->field[2], r->field[4]);
    snprintf(count, sizeof count, "%s%s piece", zero, r->field[2]);
    snprintf(half, sizeof half, "%g piece", 3 * strtod(r->field[2], NULL));
    bpi_measure one = weighed(count, weight), three = weighed(half, weight);
    double want = strtod(r->field[4], NULL), off = grams(&one) - want;
    ck_assert_msg(off > -1e-9 && off < 1e-9, "%s, %s", r->field[1], r->field[3]);
    ck_assert(bpi_measure_scale(&one, 3, 1));
    ck_assert_msg(one.num == three.num && one.den == three.den, "%s, %s", r->field[1], r->field[3]);
}

START_TEST(every_row_is_held)
{
    rows all = rows_read(ROWS);
    size_t spoons = 0, pieces = 0;
    char cut[80];
    for (size_t i = 0; i < all.n; i++) {
        const char *unit = unit_of(all.row[i].field[3], cut);
        if (unit)
            hold_volume(&all.row[i], unit, cut);
        else
            hold_piece(&all.row[i]);
        spoons += unit != NULL;
        pieces += unit == NULL;
    }
    ck_assert_uint_eq(spoons + pieces, 280);
    ck_assert_uint_gt(spoons, 140);
    rows_release(&all);
}
END_TEST

/* Every weight that is built in is one of the published rows. */
START_TEST(every_built_in_weight_is_published)
{
    rows all = rows_read(ROWS);
    for (uint32_t k = 0; k < bpi_weight_row_count; k++) {
        const bpi_weight_row *w = &bpi_weight_rows[k];
        bool found = false;
        for (size_t i = 0; i < all.n && !found; i++)
            found = strcmp(all.row[i].field[0], w->number) == 0 &&
                    strncmp(all.row[i].field[1], w->name, strlen(all.row[i].field[1])) == 0 &&
                    strtod(all.row[i].field[4], NULL) == strtod(w->mass, NULL);
        ck_assert_msg(found, "%s", w->name);
        ck_assert_msg(k == 0 || strcmp(bpi_weight_rows[k - 1].name, w->name) < 0, "%s", w->name);
        /* Who writes a show finds its name in the schema. */
        char quoted[160];
        snprintf(quoted, sizeof quoted, "            \"%s\"", w->name);
        ck_assert_msg(strstr(bp_schema_text(&(size_t){0}), quoted) != NULL, "%s", w->name);
    }
    rows_release(&all);
}
END_TEST

START_TEST(weights_are_read_or_refused)
{
    static const struct {
        const char *text, *wrong;
        size_t at;
    } bad[] = {
        {"", "no published weight is known for \"\"", 0},
        {"flour", "no published weight is known for \"flour\"", 0},
        {"1 cup = ", "behind \"=\" stands a mass, and no packs anywhere", 7},
        {"1 cup = 2 cup", "behind \"=\" stands a mass, and no packs anywhere", 7},
        {"100 g = 100 g", "before \"=\" stands a volume or a count", 0},
        {"= 100 g", "before \"=\" stands a volume or a count", 0},
        {"1 cup = 2 x 100 g can", "behind \"=\" stands a mass, and no packs anywhere", 7},
        {"1 cup jar = 100 g", "behind \"=\" stands a mass, and no packs anywhere", 11},
        {"1 cupp = g", "", 9},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        bpi_weight w;
        bpi_fault f = {0, "", ""};
        ck_assert_msg(!bpi_weight_read(&w, bad[i].text, strlen(bad[i].text), &f), "%s",
                      bad[i].text);
        if (bad[i].wrong[0])
            ck_assert_str_eq(f.wrong, bad[i].wrong);
        ck_assert_msg(f.right[0], "%s", bad[i].text);
        ck_assert_uint_le(f.at, strlen(bad[i].text));
    }
    bpi_fault f = {0, "", ""};
    bpi_weight w;
    ck_assert(!bpi_weight_read(&w, "FLOUR, white, bread", 19, &f));
    ck_assert_str_eq(f.right,
                     "write \"Wheat flour, white, bread, enriched\", or \"1 cup = 125 g\"");
}
END_TEST

/* What is not of the kind that the weight is stated for stays as it is, and so do packs. */
START_TEST(only_what_is_stated_is_weighed)
{
    static const char *const kept[] = {"3 clove", "400 g", "2 x 100 ml jar", "3", ""};
    bpi_weight cup, none = {.number = NULL};
    bpi_fault f;
    ck_assert(bpi_weight_read(&cup, "1 cup = 125 g", 13, &f));
    for (size_t i = 0; i < sizeof kept / sizeof *kept; i++) {
        bpi_quantity q;
        bpi_measure m;
        ck_assert(bpi_quantity_read(&q, kept[i], strlen(kept[i]), &f) && bpi_measure_of(&m, &q));
        bpi_measure before = m;
        ck_assert_msg(!bpi_measure_weigh(&m, &cup), "%s", kept[i]);
        ck_assert(!bpi_measure_weigh(&m, &none));
        ck_assert_int_eq(m.num, before.num);
        ck_assert_int_eq(m.dimension, before.dimension);
    }
    bpi_measure most = {.dimension = BPI_VOLUME, .word = "", .num = INT64_MAX / 2, .den = 1};
    ck_assert(!bpi_measure_weigh(&most, &cup));
}
END_TEST

Suite *suite_goods_weights(void);
Suite *suite_goods_weights(void)
{
    Suite *s = suite_create("goods/weights");
    TCase *c = tcase_create("weights");
    tcase_add_test(c, every_row_is_held);
    tcase_add_test(c, every_built_in_weight_is_published);
    tcase_add_test(c, weights_are_read_or_refused);
    tcase_add_test(c, only_what_is_stated_is_weighed);
    suite_add_tcase(s, c);
    return s;
}

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/show.h"
#include "base/limits.h"
#include "base/memory.h"
#include "base/text.h"
#include "model/show.h"

/* Size bounds from both sides, and recipes in files of their own. */

static bp_errors errs;

/* A show built from its lists; NULL: one plain member. */
typedef struct parts {
    const char *cooks, *recipes, *steps, *segments, *hits, *beats, *hosts, *title;
} parts;

static void put_show(bpi_text *t, const parts *p)
{
    const char *steps =
        p->steps ? p->steps
                 : "{\"id\":\"a\",\"text\":\"a\",\"kind\":\"active\",\"time\":\"1 min\"}";
    bpi_text_f(t,
               "{\"backpot\":1,\"id\":\"x\",\"title\":\"%s\",\"date\":\"2026-10-24\","
               "\"zone\":\"UTC\",\"kitchen\":{\"cooks\":[",
               p->title ? p->title : "x");
    bpi_text_put(t, p->cooks ? p->cooks : "{\"id\":\"c\",\"call\":\"05:00\",\"wrap\":\"09:00\"}");
    bpi_text_put(t, "]},\"recipes\":[");
    if (p->recipes) {
        bpi_text_put(t, p->recipes);
    } else {
        bpi_text_put(t, "{\"id\":\"r\",\"title\":\"r\",\"steps\":[");
        bpi_text_put(t, steps);
        bpi_text_put(t, "]}");
    }
    bpi_text_put(t, "],\"segments\":[");
    if (p->segments) {
        bpi_text_put(t, p->segments);
    } else {
        bpi_text_put(t, "{\"id\":\"s\",\"title\":\"s\",\"slot\":\"4:00\",\"hit\":[");
        bpi_text_put(t, p->hits ? p->hits : "\"08:00\"");
        bpi_text_put(t, "],\"hosts\":[");
        bpi_text_put(t, p->hosts ? p->hosts : "");
        bpi_text_put(t, "],\"dishes\":[{\"id\":\"d\",\"recipe\":\"r\"}],\"beats\":[");
        bpi_text_put(t, p->beats ? p->beats : "{\"id\":\"b\",\"text\":\"b\",\"time\":\"9 s\"}");
        bpi_text_put(t, "]}");
    }
    bpi_text_put(t, "]}");
}

static bp_code read_parts(const parts *p)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bp_show *show = NULL;
    errs.n = errs.more = 0;
    put_show(&t, p);
    ck_assert(!t.failed);
    bp_code code = bp_show_read(&show, t.s, t.len, "made.json", NULL, &errs);
    bp_show_free(show);
    bpi_text_release(&t);
    return code;
}

/* n copies of a form with up to two numbers, the index, between commas. */
static char *copies(const char *before, const char *after, int n)
{
    bpi_text t = BPI_TEXT_EMPTY;
    for (int i = 0; i < n; i++)
        bpi_text_f(&t, "%s%s%d%s", i ? "," : "", before, i, after);
    return t.s;
}

static const struct {
    const char *list;
    size_t field;
    int most;
    const char *before, *after, *wrong;
} lists[] = {
    {"cooks", offsetof(parts, cooks), BPI_MAX_COOKS, "{\"id\":\"c",
     "\",\"call\":\"05:00\",\"wrap\":\"09:00\"}", "\"cooks\" has 17 members"},
    {"recipes", offsetof(parts, recipes), BPI_MAX_RECIPES, "{\"title\":\"t\",\"id\":\"r",
     "\",\"steps\":[{\"id\":\"a\",\"text\":\"a\",\"kind\":\"active\",\"time\":\"1 min\"}]}",
     "\"recipes\" has 65 members"},
    {"steps", offsetof(parts, steps), BPI_MAX_STEPS, "{\"id\":\"s",
     "\",\"text\":\"a\",\"kind\":\"active\",\"time\":\"1 min\"}", "\"steps\" has 65 members"},
    {"segments", offsetof(parts, segments), BPI_MAX_SEGMENTS, "{\"id\":\"s",
     "\",\"title\":\"t\",\"hit\":\"08:00\",\"slot\":\"1:00\",\"dishes\":[{\"id\":\"d\","
     "\"recipe\":\"r\"}]}",
     "\"segments\" has 17 members"},
    {"beats", offsetof(parts, beats), BPI_MAX_BEATS, "{\"id\":\"b",
     "\",\"text\":\"b\",\"time\":\"1 s\"}", "\"beats\" has 65 members"},
    {"hosts", offsetof(parts, hosts), BPI_MAX_LIST, "\"h", "\"", "\"hosts\" has 257 members"},
};

START_TEST(lists_are_bounded)
{
    for (int more = 0; more < 2; more++) {
        parts p = {0};
        char *list = copies(lists[_i].before, lists[_i].after, lists[_i].most + more);
        bpi_text recipes = BPI_TEXT_EMPTY;
        *(const char **)(void *)((char *)&p + lists[_i].field) = list;
        if (p.recipes) { /* the dish of the plain segment is made by "r" */
            bpi_text_put(&recipes, list);
            char *r = strstr(recipes.s, "\"r0\"");
            memmove(r + 2, r + 3, strlen(r + 3) + 1);
            p.recipes = recipes.s;
        }
        bp_code code = read_parts(&p);
        bool told = false;
        for (uint32_t i = 0; i < errs.n; i++)
            told = told || (errs.item[i].code == BP_ELIMIT &&
                            strcmp(errs.item[i].wrong, lists[_i].wrong) == 0);
        ck_assert_msg(told == (more == 1), "%s", lists[_i].list);
        if (!more && !p.segments) /* segments at one time are refused for that */
            ck_assert_msg(code == BP_OK, "%s: %s", lists[_i].list, errs.item[0].wrong);
        bpi_text_release(&recipes);
        bpi_mem_drop(list);
    }
}
END_TEST

START_TEST(hits_are_bounded)
{
    ck_assert_int_eq(read_parts(&(parts){.hits = "\"01:00\",\"02:00\",\"03:00\",\"04:00\","
                                                 "\"05:00\",\"06:00\",\"07:00\",\"08:00\""}),
                     BP_OK);
    ck_assert_int_eq(
        read_parts(&(parts){.hits = "\"01:00\",\"02:00\",\"03:00\",\"04:00\",\"05:00\","
                                    "\"06:00\",\"07:00\",\"08:00\",\"09:00\""}),
        BP_ELIMIT);
}
END_TEST

START_TEST(texts_are_bounded)
{
    char title[2 * 120 + 1] = "";
    for (int i = 0; i < 60; i++)
        strcat(title, "\xC3\xA9"); /* 120 bytes */
    ck_assert_int_eq(read_parts(&(parts){.title = title}), BP_OK);
    strcat(title, "  "); /* blanks at the ends do not count */
    ck_assert_int_eq(read_parts(&(parts){.title = title}), BP_OK);
    strcat(title, "x");
    ck_assert_int_eq(read_parts(&(parts){.title = title}), BP_ELIMIT);
    ck_assert_str_eq(errs.item[0].wrong, "\"title\" has 123 bytes");
}
END_TEST

START_TEST(sixty_four_steps_make_a_full_set)
{
    char *steps =
        copies("{\"id\":\"s", "\",\"text\":\"a\",\"kind\":\"active\",\"time\":\"1 min\"}", 64);
    bpi_text t = BPI_TEXT_EMPTY;
    bp_show *show = NULL;
    put_show(&t, &(parts){.steps = steps});
    ck_assert_int_eq(bp_show_read(&show, t.s, t.len, "made.json", NULL, &errs), BP_OK);
    const bpi_recipe *r = &show->recipe[0];
    ck_assert(r->all == UINT64_MAX);
    ck_assert(r->step[63].before_all == UINT64_MAX >> 1);
    for (uint32_t i = 0; i < 64; i++)
        ck_assert_uint_eq(r->order[i], i);
    bp_show_free(show);
    bpi_text_release(&t);
    bpi_mem_drop(steps);
}
END_TEST

START_TEST(more_mistakes_than_fit_are_counted)
{
    char *beats = copies("{\"id\":\"b", "\",\"text\":\"\",\"time\":\"1 m\"}", 64);
    ck_assert_int_eq(read_parts(&(parts){.beats = beats}), BP_EVALUE);
    ck_assert_uint_eq(errs.n, BP_MAX_ERRORS);
    ck_assert_uint_eq(errs.more, 128 - BP_MAX_ERRORS);
    bpi_mem_drop(beats);
}
END_TEST

/* ---- recipes in files ----------------------------------------------------------------------- */

static bp_code with_recipe(bp_show **show, const char *path, const char *folder)
{
    char recipes[300];
    bpi_text t = BPI_TEXT_EMPTY;
    snprintf(recipes, sizeof recipes,
             "\"%s\",{\"id\":\"r\",\"title\":\"r\",\"steps\":[{\"id\":\"a\",\"text\":\"a\","
             "\"kind\":\"active\",\"time\":\"1 min\"}]}",
             path);
    put_show(&t, &(parts){.recipes = recipes});
    errs.n = errs.more = 0;
    *show = NULL;
    bp_code code = bp_show_read(show, t.s, t.len, "made.json", folder, &errs);
    bpi_text_release(&t);
    return code;
}

START_TEST(a_recipe_may_be_a_file)
{
    bp_show *show = NULL;
    ck_assert_int_eq(with_recipe(&show, "recipes/good.json", "tests/model"), BP_OK);
    ck_assert_str_eq(show->recipe[0].id, "tart");
    ck_assert_uint_eq(show->recipe[0].serves, 4);
    ck_assert_str_eq(show->recipe[0].where.file, "tests/model/recipes/good.json");
    ck_assert_str_eq(show->recipe[0].step[0].where.pointer, "/steps/0");
    bp_show *again = NULL;
    ck_assert_int_eq(with_recipe(&again, "recipes/good.json", "tests/model/."), BP_OK);
    ck_assert_str_eq(show->stamp, again->stamp); /* the content counts, not where it stands */
    bp_show_free(show);
    bp_show_free(again);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

static const struct {
    const char *path, *folder, *file;
    uint32_t line;
    bp_code code;
    const char *wrong; /* begins so */
} files[] = {
    {"recipes/wrong.json", "tests/model", "tests/model/recipes/wrong.json", 4, BP_EVALUE,
     "unit \"mins\" is not known"},
    {"recipes/broken.json", "tests/model", "tests/model/recipes/broken.json", 3, BP_ESYNTAX, ""},
    {"recipes/none.json", "tests/model", "made.json", 1, BP_EIO,
     "recipe file \"recipes/none.json\": cannot open it: there is no such file or folder"},
    {"recipes", "tests/model", "made.json", 1, BP_EIO, "recipe file \"recipes\": cannot "},
    {"recipes/good.json", NULL, "made.json", 1, BP_EVALUE,
     "a show that is no file cannot name recipe files"},
    {"../model/recipes/good.json", "tests/model", "made.json", 1, BP_EVALUE,
     "the path of a recipe file leaves the folder of the show"},
    {"recipes/../recipes/good.json", "tests/model", "made.json", 1, BP_EVALUE,
     "the path of a recipe file leaves the folder of the show"},
    {"/etc/hostname", "tests/model", "made.json", 1, BP_EVALUE,
     "the path of a recipe file is not relative"},
    {"recipes//good.json", "tests/model", "made.json", 1, BP_EVALUE,
     "the path of a recipe file has an empty part"},
    {"recipes/", "tests/model", "made.json", 1, BP_EVALUE,
     "the path of a recipe file has an empty part"},
    {"", "tests/model", "made.json", 1, BP_EVALUE, "the path of a recipe file is empty"},
    {"c:good.json", "tests/model", "made.json", 1, BP_EVALUE,
     "the path of a recipe file is not relative"},
};

START_TEST(a_recipe_file_that_is_wrong_is_named)
{
    bp_show *show = NULL;
    ck_assert_int_eq(with_recipe(&show, files[_i].path, files[_i].folder), files[_i].code);
    ck_assert_ptr_null(show);
    ck_assert_uint_eq(errs.n, 1);
    const bp_error *e = &errs.item[0];
    ck_assert_str_eq(e->file, files[_i].file);
    ck_assert_uint_eq(e->line, files[_i].line);
    ck_assert_msg(strncmp(e->wrong, files[_i].wrong, strlen(files[_i].wrong)) == 0, "%s", e->wrong);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(every_request_fails_once_while_a_file_is_read)
{
    int fired = 1;
    for (long k = 0; fired; k++) {
        bp_show *show = NULL;
        bpi_text t = BPI_TEXT_EMPTY;
        put_show(&t, &(parts){.recipes = "\"recipes/good.json\""});
        char *dish = strstr(t.s, "\"recipe\":\"r\"");
        memcpy(dish, "\"title\" :\"r\"", 12); /* no dish by "r" */
        bpi_mem_fail_at(k, 0);
        errs.n = errs.more = 0;
        bp_code code = bp_show_read(&show, t.s, t.len, "made.json", "tests/model", &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(code, fired ? BP_ENOMEM : BP_EVALUE);
        bpi_text_release(&t);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

Suite *suite_model_bounds(void);
Suite *suite_model_bounds(void)
{
    Suite *s = suite_create("model/bounds");
    TCase *c = tcase_create("bounds");
    tcase_add_loop_test(c, lists_are_bounded, 0, sizeof lists / sizeof *lists);
    tcase_add_test(c, hits_are_bounded);
    tcase_add_test(c, texts_are_bounded);
    tcase_add_test(c, sixty_four_steps_make_a_full_set);
    tcase_add_test(c, more_mistakes_than_fit_are_counted);
    tcase_add_test(c, a_recipe_may_be_a_file);
    tcase_add_loop_test(c, a_recipe_file_that_is_wrong_is_named, 0, sizeof files / sizeof *files);
    tcase_add_test(c, every_request_fails_once_while_a_file_is_read);
    suite_add_tcase(s, c);
    return s;
}

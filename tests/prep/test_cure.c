/* Each kind of change that is offered where a show has no plan, on shows made so that it helps: what
 * it says, and that the least trouble comes first. */
#include <check.h>
#include <string.h>

#include "prep/cure.h"
#include "prep/why.h"
#include "support/prep_show.h"

#define COOK(id, name, call)                                                                       \
    "{\"id\": \"" id "\", \"name\": \"" name "\", \"call\": \"" call "\", \"wrap\": \"09:00\"}"
#define SKILLED(id, name, call)                                                                    \
    "{\"id\": \"" id "\", \"name\": \"" name "\", \"call\": \"" call                               \
    "\", \"wrap\": \"09:00\", \"skills\": [\"pastry\"]}"
#define OVEN                  "{\"id\": \"deck\", \"name\": \"deck\", \"positions\": 1}"
#define KITCHEN(cooks, ovens) "\"cooks\": [" cooks "], \"burners\": 1, \"ovens\": [" ovens "]"
#define STEP(id, rest)                                                                             \
    "{\"id\": \"" id "\", \"text\": \"" id "\", \"hold\": {\"counter\": \"15 min\"}, " rest "}"
/* Keeps without limit. */
#define BY_HAND(id, time)                                                                          \
    "{\"id\": \"" id "\", \"text\": \"" id                                                         \
    "\", \"kind\": \"active\", \"after\": [], \"time\": \"" time "\"}"
#define ON_FIRE(id, time)                                                                          \
    STEP(id, "\"kind\": \"passive\", \"after\": [], \"burner\": true, \"time\": \"" time "\"")
#define BAKE(id, time, heat)                                                                       \
    STEP(id, "\"kind\": \"oven\", \"after\": [], \"time\": \"" time                                \
             "\", \"oven\": {\"temperature\": \"" heat "\"}")
#define JOIN(after)                                                                                \
    STEP("join", "\"kind\": \"active\", \"time\": \"1 min\", \"after\": [" after "]")
#define LAST(id, time) STEP(id, "\"kind\": \"active\", \"time\": \"" time "\"")
#define RECIPE(steps)  "{\"id\": \"r\", \"title\": \"Roll\", \"steps\": [" steps "]}"
#define DISH(more)                                                                                 \
    "{\"id\": \"d\", \"title\": \"Roll\", \"recipe\": \"r\", \"taste\": false" more "}"
#define SHOWN                                                                                      \
    "{\"id\": \"end\", \"text\": \"end\", \"dish\": \"d\", \"shows\": \"finished\", \"time\": "    \
    "\"20-180 s\"}"
#define DOES(id)                                                                                   \
    "{\"id\": \"" id "\", \"text\": \"" id "\", \"dish\": \"d\", \"does\": [\"" id                 \
    "\"], \"time\": \"20-180 s\"}"
#define TEASED SHOWN "], \"teases\": [{\"at\": \"07:45\", \"length\": \"10 s\", \"dish\": \"d\"}"
#define NEEDS(id, of)                                                                              \
    "{\"id\": \"" id "\", \"text\": \"" id "\", \"dish\": \"d\", \"does\": [\"" id                 \
    "\"], \"needs\": [\"" of "\"], \"time\": \"20-180 s\"}"
#define HANDS(n) SHOWN "], \"hands\": " n ", \"reset\": \"1 min\", \"hosts\": [\"Ro\""

static prep_show p;
static bpi_why_not *why;

static void done(void)
{
    prep_show_release(&p);
}

static void explain(const char *kitchen, const char *recipe, const char *dish, const char *beats)
{
    static const bp_eng_limits none;
    prep_show_init(&p, prep_show_text(kitchen, recipe, dish, beats));
    ck_assert_int_eq(bpi_why_make(&why, p.arena, p.prep, &none, true, 1, NULL), BP_OK);
}

/* The change that says so; that begins so, where the text ends in ", and ". */
static const bpi_cure *offered(const char *text)
{
    bpi_text all = BPI_TEXT_EMPTY;
    size_t len = strlen(text);
    bool begins = len > 6 && strcmp(text + len - 6, ", and ") == 0;
    for (uint32_t i = 0; i < why->cures.n; i++) {
        const bpi_cure *c = &why->cures.cure[i];
        if (begins ? strncmp(c->text, text, len) == 0 : strcmp(c->text, text) == 0) {
            bpi_text_release(&all);
            return c;
        }
        bpi_text_f(&all, "\n  %s", c->text);
    }
    ck_abort_msg("not offered: %s; but:%s", text, all.s ? all.s : " nothing");
    return NULL;
}

static const struct {
    const char *kitchen, *recipe, *dish, *beats, *change, *pointer;
} rows[] = {
    /* Two on one burner, which may not wait for each other. */
    {KITCHEN(COOK("bo", "Bo", "05:00"), OVEN),
     RECIPE(ON_FIRE("a", "20 min") "," ON_FIRE("b", "20 min") "," JOIN("\"a\", \"b\"")), DISH(""),
     SHOWN, "have 2 burners", "/kitchen/burners"},
    /* The same, and nobody is there in time: neither helps by itself. */
    {KITCHEN(COOK("bo", "Bo", "07:50"), OVEN),
     RECIPE(ON_FIRE("a", "20 min") "," ON_FIRE("b", "20 min") "," JOIN("\"a\", \"b\"")), DISH(""),
     SHOWN, "call Bo at 07:30, and have 2 burners", "/kitchen/cooks/0/call"},
    /* Two heats at once. */
    {KITCHEN(COOK("bo", "Bo", "05:00"), OVEN),
     RECIPE(BAKE("a", "20 min", "200 C") "," BAKE("b", "20 min", "100 C") "," JOIN("\"a\", \"b\"")),
     DISH(""), SHOWN, "have a second oven like the deck", "/kitchen/ovens"},
    /* Half an hour by hand for each: there is time for one. */
    {KITCHEN(COOK("bo", "Bo", "07:15"), OVEN), RECIPE(BY_HAND("roll", "30 min")),
     DISH(", \"spares\": {\"finished\": 1}"), SHOWN, "do without A2 (Roll, a spare)", NULL},
    {KITCHEN(COOK("bo", "Bo", "07:15"), OVEN),
     RECIPE("{\"id\": \"roll\", \"text\": \"roll\", \"kind\": \"active\", \"time\": \"30 min\", "
            "\"hold\": "
            "{\"counter\": \"1 h\", \"set\": \"9 min\"}}"),
     DISH(""), TEASED, "do without A1 (Roll, for the tease)", NULL},
    /* What is caught mid-cook costs a container of its own. */
    {KITCHEN(COOK("bo", "Bo", "07:15"), OVEN),
     RECIPE(BY_HAND("roll", "30 min") "," LAST("glaze", "1 min")), DISH(""),
     DOES("glaze") "," SHOWN, "do without A1 (Roll, mid-cook): leave out the beat \"glaze\"", NULL},
    {KITCHEN(COOK("bo", "Bo", "07:15"), OVEN),
     RECIPE(BY_HAND("roll", "30 min") "," LAST("glaze", "1 min") "," LAST("cut", "1 min")),
     DISH(""), DOES("glaze") "," NEEDS("cut", "glaze") "," SHOWN,
     "do without A1 (Roll, mid-cook): leave out the beats \"glaze\" and \"cut\"", NULL},
    /* Nobody else is there to stand by. */
    {KITCHEN(COOK("bo", "Bo", "05:00") "," COOK("cy", "Cy", "08:01"), OVEN),
     RECIPE(BY_HAND("roll", "30 min")), DISH(""), HANDS("2"),
     "let only 1 cook stand by on the set for \"S\"", NULL},
    /* Ten hours by hand, ten in the oven: more than anybody may be called for. */
    {KITCHEN(COOK("bo", "Bo", "05:00") "," SKILLED("cy", "Cy", "05:00"), OVEN),
     RECIPE(BY_HAND("a", "5 h") "," BY_HAND("b", "5 h") "," BY_HAND("c", "5 h") "," BAKE(
         "d", "5 h", "200 C") "," BAKE("e", "5 h",
                                       "200 C") "," JOIN("\"a\", \"b\", \"c\", \"d\", \"e\"")),
     DISH(""), SHOWN, "have one more cook, with the hours and skills of Cy, and ",
     "/kitchen/cooks"},
    /* Twice as many by hand as there are. */
    {KITCHEN(COOK("bo", "Bo", "05:00") "," COOK("cy", "Cy", "05:00"), OVEN),
     RECIPE(BY_HAND("a", "5 h") "," BY_HAND("b", "5 h") "," BY_HAND("c", "5 h") "," BY_HAND(
         "d", "5 h") "," JOIN("\"a\", \"b\", \"c\", \"d\"")),
     DISH(""), SHOWN,
     "have one more cook, with the hours of Bo, and have one more cook, with the hours of Cy, and "
     "have a second oven like the deck, and ",
     "/kitchen/cooks"},
};

START_TEST(a_change_that_helps_is_offered)
{
    explain(rows[_i].kitchen, rows[_i].recipe, rows[_i].dish, rows[_i].beats);
    const bpi_cure *c = offered(rows[_i].change);
    if (rows[_i].pointer)
        ck_assert_str_eq(c->pointer, rows[_i].pointer);
}
END_TEST

#define FOUR(a, b, c, d)                                                                           \
    COOK(a, "One", "05:00")                                                                        \
    "," COOK(b, "One", "05:00") "," COOK(c, "One", "05:00") "," COOK(d, "One", "05:00")

/* A trifle that takes pastry, by one of fourteen: with the hours of each a second one would help. */
START_TEST(no_more_changes_are_offered_than_anybody_reads)
{
    explain(
        KITCHEN(SKILLED("cy", "Cy", "07:40") "," FOUR("a", "b", "c", "d") "," FOUR(
                    "e", "f", "g", "h") "," FOUR("i", "j", "k", "l"),
                OVEN),
        RECIPE("{\"id\": \"roll\", \"text\": \"roll\", \"kind\": \"active\", \"time\": \"10 min\", "
               "\"skill\": \"pastry\"}"),
        DISH(", \"spares\": {\"finished\": 1}"), SHOWN);
    offered("call Cy at 07:30");
    ck_assert_str_eq(why->cures.cure[0].text, "call Cy at 07:30"); /* the least trouble */
    ck_assert_uint_le(why->cures.n, 12);
}
END_TEST

/* A step that is longer than all the time that is looked at: nothing helps, and that is an answer. */
START_TEST(a_step_beyond_all_days_is_helped_by_nothing)
{
    explain(KITCHEN(COOK("bo", "Bo", "05:00"), OVEN),
            RECIPE(BY_HAND("a", "20 h") "," BAKE("b", "20 h", "200 C") "," JOIN("\"a\", \"b\"")),
            DISH(""), SHOWN);
    ck_assert_uint_eq(why->cures.n, 0);
}
END_TEST

Suite *suite_prep_cure(void);
Suite *suite_prep_cure(void)
{
    Suite *s = suite_create("prep/cure");
    TCase *c = tcase_create("cure");
    tcase_add_checked_fixture(c, NULL, done);
    tcase_add_loop_test(c, a_change_that_helps_is_offered, 0, sizeof rows / sizeof *rows);
    tcase_add_test(c, no_more_changes_are_offered_than_anybody_reads);
    tcase_add_test(c, a_step_beyond_all_days_is_helped_by_nothing);
    suite_add_tcase(s, c);
    return s;
}

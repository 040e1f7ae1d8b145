/* The order in which the set is dressed: what is later in it is carried when all before stands there. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"
#include "support/prep_show.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

/* Two dishes of one step; Q keeps `set` on the set. The set-by is 07:55, a carry takes a minute, Q is
 * last seen at 08:03. */
#define STEP(id, set)                                                                              \
    "{\"id\": \"" id "\", \"title\": \"" id "\", \"serves\": 4, \"steps\": [{\"id\": \"cut\", "    \
    "\"text\": \"Cut\", \"kind\": \"active\", \"time\": \"7 min\", \"hold\": {\"counter\": \"1 "   \
    "h\", \"set\": \"" set "\"}}]}"
#define KITCHEN                                                                                    \
    "\"cooks\": [{\"id\": \"a\", \"name\": \"Ana\", \"call\": \"06:00\", \"wrap\": \"09:00\"}], "  \
    "\"carry\": \"1 min\""
#define DISHES                                                                                     \
    "{\"id\": \"p\", \"title\": \"Plum\", \"recipe\": \"p\"}, {\"id\": \"q\", \"title\": "         \
    "\"Quince\", \"recipe\": \"q\"}"
#define BEATS                                                                                      \
    "{\"id\": \"one\", \"text\": \"One\", \"dish\": \"p\", \"shows\": \"finished\", \"time\": "    \
    "\"90 s\", \"station\": \"back\"}, {\"id\": \"two\", \"text\": \"Two\", \"dish\": \"q\", "     \
    "\"shows\": \"finished\", \"time\": \"90 s\", \"station\": \"front\"}"

static bp_show *read_show(const char *set, const char *more)
{
    char recipes[800];
    snprintf(recipes, sizeof recipes, STEP("p", "30 min") ", " STEP("q", "%s"), set);
    char *text = prep_show_text(KITCHEN, recipes, DISHES, BEATS);
    text = prep_show_change(text, "\"slot\": \"3:00\"", more);
    bp_show *out = NULL;
    memset(&errs, 0, sizeof errs);
    ck_assert_msg(bp_show_read(&out, text, strlen(text), "t.json", NULL, &errs) == BP_OK, "%s",
                  errs.item[0].wrong);
    free(text);
    return out;
}

static bp_code make(const char *set, const char *more)
{
    bp_plan_options options = {.days = 1};
    show = read_show(set, more);
    return bp_plan_make(&plan, show, &options, &errs);
}

static void done(void)
{
    prep_show_free(&plan, &show);
}

#define DRESS(list)      "\"slot\": \"3:00\", \"dress\": [" list "]"
#define AT(hour, minute) ((hour)*3600 + (minute)*60)

/* The only container of a dish: P or Q. */
static const bp_container *box_of(const char *dish)
{
    for (uint32_t i = 0; i < plan->containers; i++)
        if (strcmp(plan->dish[plan->container[i].dish].id, dish) == 0)
            return &plan->container[i];
    ck_abort_msg("%s has none", dish);
}

static const bp_op *carry_of(const char *dish)
{
    for (uint32_t i = 0; i < plan->ops; i++)
        if (plan->op[i].kind == BP_OP_CARRY &&
            &plan->container[plan->index[plan->op[i].serves.first]] == box_of(dish))
            return &plan->op[i];
    ck_abort_msg("%s is not carried", dish);
}

static const struct {
    const char *dress, *told;
    bool plum_first;
} orders[] = {
    {DRESS("\"p\", \"q\""), "Plum, then Quince", true},
    {DRESS("\"q\", \"p\""), "Quince, then Plum", false},
    {DRESS("\"p\""), "Plum, then all else", true},
    {DRESS("\"q\""), "Quince, then all else", false},
    {DRESS("\"back\", \"front\""), "back, then front, then all else", true},
    {DRESS("\"front\", \"back\""), "front, then back, then all else", false},
    {DRESS("\"front\", \"p\""), "front, then Plum, then all else", false},
};

/* Q keeps 9 min on the set, so it cannot stand there before 07:54; with Q first, P follows at 07:55, which
 * is as late as it may. With P first, P stands there when Q sets out. */
START_TEST(what_comes_first_stands_there_when_the_next_is_carried)
{
    ck_assert_int_eq(make("9 min", orders[_i].dress), BP_OK);
    ck_assert_str_eq(plan->air[0].dress, orders[_i].told);
    const bp_container *p = box_of("p"), *q = box_of("q");
    ck_assert_int_eq(p->set_by, AT(7, 55));
    ck_assert_int_eq(q->last, AT(8, 3));
    ck_assert_int_ge(q->on_set, AT(7, 54));
    if (orders[_i].plum_first) {
        ck_assert_int_le(p->on_set, carry_of("q")->from);
        ck_assert_str_eq(carry_of("p")->detail, "");
        ck_assert_str_eq(carry_of("q")->detail, "to the set after: A1");
    } else {
        ck_assert_int_eq(q->on_set, AT(7, 54));
        ck_assert_int_eq(p->on_set, AT(7, 55));
        ck_assert_str_eq(carry_of("p")->detail, "to the set after: B1");
    }
    done();
}
END_TEST

/* With 8 min Q stands there at 07:55 at the earliest, and P after it is a minute late. */
START_TEST(an_order_that_cannot_be_kept_is_named_and_let_go)
{
    ck_assert_int_eq(make("8 min", DRESS("\"p\", \"q\"")), BP_OK);
    done();
    ck_assert_int_eq(make("8 min", DRESS("\"q\", \"p\"")), BP_ENOFIT);
    bool named = false, holds = false, by = false, offered = false;
    for (uint32_t i = 0; i < plan->facts; i++) {
        named |= strcmp(plan->fact[i].text,
                        "the set of \"S\" is dressed in this order: Quince, then Plum") == 0;
        holds |= strstr(plan->fact[i].text, "keeps 8 min on the set") != NULL;
        by |= strstr(plan->fact[i].text, "must stand on the set by 07:55") != NULL;
    }
    ck_assert(named && holds && by);
    for (uint32_t i = 0; i < plan->fixes; i++)
        offered |= strcmp(plan->fix[i].text, "dress \"S\" in any order") == 0;
    ck_assert(offered);
    ck_assert_int_eq(plan->verdict, BP_LATE);
    ck_assert_int_eq(box_of("q")->late, 0);
    ck_assert_int_eq(box_of("p")->late, 60);
    ck_assert_int_ge(carry_of("p")->from, box_of("q")->on_set);
    done();
}
END_TEST

/* What a tease at 07:30 shows, and its twin that stands there from then on, is in no order. */
START_TEST(a_tease_is_in_no_order)
{
    ck_assert_int_eq(make("9 min", DRESS("\"q\", \"p\"") ", \"teases\": [{\"at\": \"07:40\", "
                                                         "\"length\": \"10 s\", \"dish\": \"p\"}]"),
                     BP_OK);
    ck_assert_uint_eq(plan->teases, 1);
    const bp_container *shown = &plan->container[plan->tease[0].container];
    ck_assert_int_le(shown->on_set, AT(7, 35));
    ck_assert_int_ge(box_of("q")->on_set, AT(7, 54));
    done();
}
END_TEST

static const char *const others[] = {"\"slot\": \"3:00\"", DRESS("\"q\", \"p\""),
                                     DRESS("\"front\""), DRESS("\"p\", \"front\"")};

START_TEST(the_checker_objects_to_another_order)
{
    ck_assert_int_eq(make("9 min", DRESS("\"p\", \"q\"")), BP_OK);
    bp_show *other = read_show("9 min", others[_i]);
    bool later = strstr(others[_i], "[\"q") || strstr(others[_i], "[\"front");
    ck_assert(
        prep_show_objects(plan, other, "the order of dressing is not that of the show", &errs));
    ck_assert_int_eq(
        prep_show_objects(plan, other, "it is carried before B1 stands on the set", &errs), later);
    ck_assert(!prep_show_objects(plan, show, "order", &errs));
    bp_show_free(other);
    done();
}
END_TEST

static void back_row_first(bp_show *s)
{
    static const char *const order[] = {"squash", "soup"};
    bpi_segment *g = (bpi_segment *)s->segment;
    g->dress = order;
    g->dresses = 2;
}

START_TEST(memory_may_end)
{
    prep_show_refuse("shows/harbour-breakfast.json", back_row_first);
}
END_TEST

Suite *suite_plan_dress(void);
Suite *suite_plan_dress(void)
{
    Suite *s = suite_create("plan/dress");
    TCase *c = tcase_create("dress");
    tcase_set_timeout(c, 0);
    tcase_add_loop_test(c, what_comes_first_stands_there_when_the_next_is_carried, 0,
                        (int)(sizeof orders / sizeof *orders));
    tcase_add_test(c, an_order_that_cannot_be_kept_is_named_and_let_go);
    tcase_add_test(c, a_tease_is_in_no_order);
    tcase_add_loop_test(c, the_checker_objects_to_another_order, 0,
                        (int)(sizeof others / sizeof *others));
    tcase_add_test(c, memory_may_end);
    suite_add_tcase(s, c);
    return s;
}

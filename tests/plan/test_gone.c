/* A vessel that is not washed is gone with its food until the set is cleared: as many are fetched. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"
#include "base/memory.h"
#include "support/prep_show.h"

#define KITCHEN                                                                                    \
    "\"cooks\": [{\"id\": \"a\", \"name\": \"Ana\", \"call\": \"05:00\", \"wrap\": \"12:00\"}], "  \
    "\"burners\": 1, \"vessels\": [{\"id\": \"pot\", \"count\": %d}, {\"id\": \"bowl\", "          \
    "\"count\": 4}]"
/* Cut in a bowl, stewed in a pot, and then what `last` says. */
#define RECIPE                                                                                     \
    "{\"id\": \"r\", \"title\": \"Stew\", \"serves\": 4, \"steps\": [{\"id\": \"cut\", \"text\": " \
    "\"Cut\", \"kind\": \"active\", \"time\": \"4 min\", \"vessels\": [\"bowl\"]}, {\"id\": "      \
    "\"stew\", \"text\": \"Stew\", \"kind\": \"passive\", \"time\": \"9 min\", \"burner\": true, " \
    "\"vessels\": [\"pot\"]}, {\"id\": \"season\", \"text\": \"Season\", \"kind\": \"active\", "   \
    "\"time\": \"2 min\"%s}]}"
#define DISH "{\"id\": \"d\", \"recipe\": \"r\"}"

/* One container is shown as stewed, the other one finished. */
static const struct {
    const char *hit, *last;
    int pots;
    const char *need_pots, *need_bowls; /* fetched; "": none is */
    uint32_t at_set;                    /* pots on the set of an appearance                    */
    bool short_of;                      /* a caution that there are fewer than are needed       */
} rows[] = {
    {"\"hit\": \"08:00\"", "", 2, "2", "1", 2, false}, /* seasoned in its pot */
    {"\"hit\": \"08:00\"", "", 1, "2", "1", 2, true},
    {"\"hit\": \"08:00\"", ", \"vessels\": [\"bowl\"]", 1, "1", "1", 1, false}, /* into the bowl */
    /* Those of the first are back when the set is clear, an hour and more before they are needed. */
    {"\"hit\": [\"08:00\", \"11:00\"], \"reset\": \"5 min\"", "", 2, "2", "1", 2, false},
};

static const char *need_of(const bp_plan *plan, const char *item)
{
    for (uint32_t i = 0; i < plan->goods; i++)
        if (plan->good[i].kind == BP_GOOD_VESSEL && strcmp(plan->good[i].item, item) == 0)
            return plan->good[i].need;
    return "";
}

static uint32_t packed(const bp_plan *plan, const char *item, uint32_t air)
{
    for (uint32_t i = 0; i < plan->packs; i++)
        if (plan->pack[i].kind == BP_GOOD_VESSEL && strcmp(plan->pack[i].item, item) == 0 &&
            plan->pack[i].air == air)
            return plan->pack[i].in_use;
    return 0;
}

START_TEST(a_pot_is_gone_with_its_food_until_the_set_is_clear)
{
    static bp_errors errs;
    bp_show *show = NULL;
    bp_plan *plan = NULL;
    char kitchen[400], recipe[700];
    snprintf(kitchen, sizeof kitchen, KITCHEN, rows[_i].pots);
    snprintf(recipe, sizeof recipe, RECIPE, rows[_i].last);
    char *text = prep_show_text(kitchen, recipe, DISH, PREP_SHOW_IN_AND_OUT("stew"));
    text = prep_show_change(text, "\"hit\": \"08:00\"", rows[_i].hit);
    ck_assert_int_eq(prep_show_plan(&plan, &show, text, 200000, &errs), BP_OK);
    ck_assert_str_eq(need_of(plan, "pot"), rows[_i].need_pots);
    ck_assert_str_eq(need_of(plan, "bowl"), rows[_i].need_bowls);
    for (uint32_t a = 0; a < plan->airs; a++)
        ck_assert_uint_eq(packed(plan, "pot", a), rows[_i].at_set);
    bool told = false;
    for (uint32_t i = 0; i < plan->findings; i++)
        told |= strstr(plan->finding[i].text, "pot: 2 are needed at once") != NULL;
    ck_assert_int_eq(told, rows[_i].short_of);
    for (uint32_t i = 0; i < plan->packs; i++) /* the checker counts them itself */
        if (strcmp(plan->pack[i].item, "pot") == 0 && plan->pack[i].air == 0)
            ((bp_pack *)plan->pack)[i].in_use--;
    ck_assert(prep_show_objects(plan, show, "are told to be in use at s", &errs));
    bp_plan_free(plan);
    bp_show_free(show);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

Suite *suite_plan_gone(void);
Suite *suite_plan_gone(void)
{
    Suite *s = suite_create("plan/gone");
    TCase *c = tcase_create("gone");
    tcase_add_loop_test(c, a_pot_is_gone_with_its_food_until_the_set_is_clear, 0,
                        (int)(sizeof rows / sizeof *rows));
    suite_add_tcase(s, c);
    return s;
}

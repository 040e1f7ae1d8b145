/* Steps whose time is what food takes to cool. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/backpot.h"
#include "support/prep_show.h"

#define WORK 2000000

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

static bp_code make(const char *call, const char *cool, const char *hold)
{
    static char recipe[1200], kitchen[400];
    snprintf(
        kitchen, sizeof kitchen,
        "\"cooks\": [{\"id\": \"kim\", \"call\": \"%s\", \"wrap\": \"09:00\"}], \"burners\": 2, "
        "\"places\": [{\"id\": \"c\", \"name\": \"table\", \"keeps\": \"counter\", \"count\": 6}]",
        call);
    snprintf(recipe, sizeof recipe,
             "{\"id\": \"r\", \"title\": \"R\", \"steps\": ["
             "{\"id\": \"boil\", \"text\": \"Boil it\", \"kind\": \"passive\", \"burner\": true, "
             "\"time\": \"10 min\"}, "
             "{\"id\": \"chill\", \"text\": \"Chill it\", \"kind\": \"passive\", \"cool\": %s, "
             "\"keep\": \"counter\", \"hold\": %s}, "
             "{\"id\": \"dress\", \"text\": \"Dress it\", \"kind\": \"active\", \"time\": \"3 "
             "min\"}]}",
             cool, hold);
    char *text = prep_show_text(
        kitchen, recipe, "{\"id\": \"d\", \"title\": \"D\", \"recipe\": \"r\", \"taste\": false}",
        PREP_SHOW_IN_AND_OUT("chill"));
    return prep_show_plan(&plan, &show, text, WORK, &errs);
}

static void done(void)
{
    prep_show_free(&plan, &show);
}

/* Whole minutes, rounded up, from then on.
 *   coffee   PH-COF and PH-COW of tests/safety/physics.csv: OpenStax Calculus Volume 1, Exponential Growth
 *            and Decay (m53651), worked examples; printed as 5 and 2.5, and as 7 and 3.5 minutes.
 *   a layer  by hand: k = 2 x 100 / (1000 x 4100 x depth); ln(90 / 5) / k is 2963 s at 5 cm, 1185 s at 2. */
static const struct {
    const char *cool;
    int64_t minutes;
} rows[] = {
    {"{\"in\": \"room\", \"around\": \"70 F\", \"depth\": \"8 cm\", \"from\": \"200 F\", \"to\": "
     "\"155 F\", "
     "\"reading\": {\"from\": \"200 F\", \"then\": \"180 F\", \"after\": \"2 min\"}}",
     6},
    {"{\"in\": \"room\", \"around\": \"70 F\", \"depth\": \"8 cm\", \"from\": \"200 F\", \"to\": "
     "\"175 F\", "
     "\"reading\": {\"from\": \"200 F\", \"then\": \"180 F\", \"after\": \"2 min\"}}",
     3},
    {"{\"in\": \"room\", \"around\": \"75 F\", \"depth\": \"8 cm\", \"from\": \"200 F\", \"to\": "
     "\"155 F\", "
     "\"reading\": {\"from\": \"200 F\", \"then\": \"185 F\", \"after\": \"2 min\"}}",
     7},
    {"{\"in\": \"room\", \"around\": \"75 F\", \"depth\": \"8 cm\", \"from\": \"200 F\", \"to\": "
     "\"175 F\", "
     "\"reading\": {\"from\": \"200 F\", \"then\": \"185 F\", \"after\": \"2 min\"}}",
     4},
    {"{\"in\": \"ice bath\", \"depth\": \"5 cm\", \"from\": \"90 C\", \"to\": \"5 C\"}", 50},
    {"{\"in\": \"ice bath\", \"depth\": \"2 cm\", \"from\": \"90 C\", \"to\": \"5 C\"}", 20},
};

START_TEST(the_time_is_what_the_model_makes_of_it)
{
    uint32_t pots = 0, loads = 0;
    ck_assert_int_eq(make("04:00", rows[_i].cool, "{\"set\": \"20 min\", \"counter\": \"20 min\"}"),
                     BP_OK);
    for (uint32_t o = 0; o < plan->ops; o++) {
        const bp_op *op = &plan->op[o];
        if (!strstr(op->text, "Chill it"))
            continue;
        if (op->kind == BP_OP_PASSIVE) {
            ck_assert_int_eq(op->to - op->from, rows[_i].minutes * 60);
            pots++;
        } else if (op->kind == BP_OP_LOAD) {
            const char *told = strstr(op->detail, "to cool: ");
            ck_assert_msg(told && strstr(told, ", by the probe"), "%s", op->detail);
            loads++;
        }
    }
    ck_assert_uint_eq(pots, 2);
    ck_assert_uint_ge(loads, 1); /* who has just taken it off the heat starts it */
    done();
}
END_TEST

/* Called at 06:05, away from 06:30 to 07:40: what cools for 50 min comes off while nobody is there. */
START_TEST(no_plan_says_that_the_time_was_worked_out)
{
    bool told = false;
    bp_code rc =
        make("06:05\", \"breaks\": [{\"from\": \"06:30\", \"to\": \"07:40\"}], \"note\": \"",
             rows[4].cool, "{\"set\": \"20 min\", \"counter\": \"0 min\"}");
    ck_assert_int_eq(rc, BP_ENOFIT);
    for (uint32_t i = 0; i < plan->facts; i++)
        told = told || strstr(plan->fact[i].text,
                              "\"Chill it\" must come off after 50 min, as its \"cool\" works out");
    ck_assert_msg(told, "%s", plan->facts ? plan->fact[0].text : "none");
    done();
}
END_TEST

Suite *suite_plan_cooled(void);
Suite *suite_plan_cooled(void)
{
    Suite *suite = suite_create("plan/cooled");
    TCase *c = tcase_create("cooled");
    tcase_add_loop_test(c, the_time_is_what_the_model_makes_of_it, 0, 6);
    tcase_add_test(c, no_plan_says_that_the_time_was_worked_out);
    suite_add_tcase(suite, c);
    return suite;
}

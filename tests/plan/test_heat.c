/* Steps whose time is worked out from what they heat, alone and together; the checker's own count. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"
#include "model/show.h"
#include "support/prep_show.h"

#define WORK 4000000

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

#define POWER ", \"watts\": 2000, \"percent\": 74"

/* A pot of the whole recipe (4 l), and two of half of it: 961 s and 481 s at 1480 W that reach it. */
static bp_code make_with(const char *of_step, const char *of_kitchen, const char *together,
                         const char *call)
{
    static char recipe[1200], kitchen[600];
    snprintf(kitchen, sizeof kitchen,
             "\"cooks\": [{\"id\": \"kim\", \"call\": \"%s\", \"wrap\": \"09:00\"}], "
             "\"burners\": 1, %s\"places\": [{\"id\": \"h\", \"name\": \"cupboard\", \"keeps\": "
             "\"hot\", \"count\": 6}]",
             call, of_kitchen);
    snprintf(recipe, sizeof recipe,
             "{\"id\": \"r\", \"title\": \"R\", \"steps\": ["
             "{\"id\": \"boil\", \"text\": \"Bring it to the boil\", \"kind\": \"passive\", "
             "\"burner\": true, \"ingredients\": [{\"item\": \"salt\", \"amount\": \"2 tsp\"}], "
             "\"heat\": {\"amount\": \"4 l\", \"from\": \"15 C\", \"to\": \"100 C\"%s}%s, "
             "\"hold\": {\"hot\": \"2 h\", \"set\": \"20 min\"}}, "
             "{\"id\": \"dress\", \"text\": \"Dress it\", \"kind\": \"active\", \"time\": \"3 "
             "min\"}]}",
             of_step, together);
    char *text =
        prep_show_text(kitchen, recipe,
                       "{\"id\": \"d\", \"title\": \"D\", \"recipe\": \"r\", \"taste\": false, "
                       "\"spares\": {\"finished\": 1}, \"sizes\": {\"finished\": \"1/2\"}}",
                       PREP_SHOW_IN_AND_OUT("boil"));
    return prep_show_plan(&plan, &show, text, WORK, &errs);
}

static bp_code make(const char *together, const char *call)
{
    return make_with(POWER, "", together, call);
}

static void done(void)
{
    prep_show_free(&plan, &show);
}

static const bp_op *next(bp_op_kind kind, uint32_t *from)
{
    while (*from < plan->ops)
        if (plan->op[(*from)++].kind == kind)
            return &plan->op[*from - 1];
    return NULL;
}

START_TEST(each_pot_takes_what_its_size_asks_for)
{
    uint32_t n = 0, whole = 0, half = 0;
    ck_assert_int_eq(make("", "04:00"), BP_OK);
    for (const bp_op *op; (op = next(BP_OP_PASSIVE, &n));) {
        bool small = plan->container[plan->index[op->serves.first]].size_den == 2;
        ck_assert_uint_eq(op->serves.n, 1);
        ck_assert_int_eq(op->to - op->from, small ? 9 * 60 : 17 * 60);
        ck_assert_int_eq(op->off_least, op->to);
        ck_assert_int_eq(op->off_most, op->to);
        whole += !small;
        half += small;
    }
    ck_assert_uint_eq(whole, 1);
    ck_assert_uint_eq(half, 2);
    done();
}
END_TEST

/* 8 l: 1923 s, 33 min; 35 where each was rounded up by itself. */
START_TEST(one_big_pot_takes_as_long_as_all_it_holds)
{
    uint32_t n = 0, loads = 0;
    ck_assert_int_eq(make(", \"together\": {}", "04:00"), BP_OK);
    const bp_op *op = next(BP_OP_PASSIVE, &n);
    ck_assert_uint_eq(op->serves.n, 3);
    ck_assert_int_eq(op->to - op->from, 33 * 60);
    ck_assert_ptr_null(next(BP_OP_PASSIVE, &n));
    const bp_op *load = next(BP_OP_LOAD, &loads);
    ck_assert_ptr_nonnull(strstr(load->detail, "1 tbsp + 1 tsp salt"));
    ck_assert_ptr_nonnull(
        strstr(load->detail, "to heat: 8 l of water, 15 °C (59 °F) to 100 °C (212 °F)"));
    done();
}
END_TEST

/* Burners of 2500 W, of which 40 % reach the food: 1422900 J to 4 l are 24 min, half of it is 12, all
 * three pots in one 48; a step that states its own power is not touched by it. */
START_TEST(the_power_of_the_kitchen_counts)
{
    static const char of_kitchen[] = "\"burner_watts\": 2500, \"burner_percent\": 40, ";
    static const struct {
        const char *of_step, *together;
        int64_t whole, half, all;
    } rows[] = {{"", "", 24, 12, 0}, {"", ", \"together\": {}", 0, 0, 48}, {POWER, "", 17, 9, 0}};
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        uint32_t n = 0, pots = 0;
        ck_assert_int_eq(make_with(rows[r].of_step, of_kitchen, rows[r].together, "04:00"), BP_OK);
        for (const bp_op *op; (op = next(BP_OP_PASSIVE, &n));) {
            bool small = plan->container[plan->index[op->serves.first]].size_den == 2;
            int64_t want = op->serves.n == 3 ? rows[r].all : small ? rows[r].half : rows[r].whole;
            ck_assert_int_eq(op->to - op->from, want * 60);
            pots++;
        }
        ck_assert_uint_eq(pots, rows[r].all ? 1 : 3);
        done();
    }
}
END_TEST

/* Two in a pot, or as many as serve the plan: each pot as long as what is in it. */
START_TEST(a_pot_of_some_takes_what_they_ask_for)
{
    static const char *const rows[] = {", \"together\": {\"most\": 2}",
                                       ", \"together\": {\"split\": true}",
                                       ", \"together\": {\"most\": 2, \"split\": true}"};
    uint32_t n = 0, served = 0;
    ck_assert_int_eq(make(rows[_i], "04:00"), BP_OK);
    for (const bp_op *op; (op = next(BP_OP_PASSIVE, &n));) {
        uint32_t halves = 0;
        for (uint32_t i = 0; i < op->serves.n; i++) {
            const bp_container *c = &plan->container[plan->index[op->serves.first + i]];
            halves += 2 * c->size_num / c->size_den;
        }
        /* 2 l by 85 K: 711 450 J */
        ck_assert_int_eq(op->to - op->from, (halves * 711450 + 88799) / 88800 * 60);
        served += op->serves.n;
    }
    ck_assert_uint_eq(served, 3);
    done();
}
END_TEST

/* Called at 06:05, away from 06:30 to 07:40: what is on for 33 min comes off while nobody is there. */
START_TEST(no_plan_says_that_the_time_was_worked_out)
{
    bool told = false;
    ck_assert_int_eq(make(", \"together\": {}",
                          "06:05\", \"breaks\": [{\"from\": \"06:30\", \"to\": \"07:40\"}], "
                          "\"note\": \""),
                     BP_ENOFIT);
    for (uint32_t i = 0; i < plan->facts; i++)
        told = told || strstr(plan->fact[i].text,
                              "\"Bring it to the boil\" must come off after 17 min for one whole "
                              "recipe, as its \"heat\" works out, and of more or less in "
                              "proportion");
    ck_assert(told);
    done();
}
END_TEST

typedef void spoil(void);

static bpi_step *boil(void)
{
    return (bpi_step *)&show->recipe[0].step[0];
}

static bp_op *pot(void)
{
    uint32_t n = 0;
    return (bp_op *)next(BP_OP_PASSIVE, &n);
}

static void less_power(void)
{
    boil()->heat.watts = 1900;
}
static void more_power(void)
{
    boil()->heat.watts = 2200;
}
static void less_reaches_it(void)
{
    boil()->heat.percent = 70;
}
static void colder(void)
{
    boil()->heat.from_mC -= 5000;
}
static void hotter(void)
{
    boil()->heat.to_mC -= 5000;
}
static void more_of_it(void)
{
    boil()->heat.mass_mg += 400000;
}
static void other_food(void)
{
    boil()->heat.of = 4;
}
static void too_much_of_it(void)
{
    boil()->heat.mass_mg = INT64_C(4000000000);
}
static void shorter(void)
{
    pot()->to -= 60;
}
static void longer(void)
{
    pot()->from -= 60;
}
static void told_wrong(void)
{
    pot()->off_least -= 60;
}

/* Each changes the show or the plan by a little; the checker must object to the pot. */
START_TEST(the_checker_counts_for_itself)
{
    static spoil *const rows[] = {less_power, more_power, less_reaches_it, colder,
                                  hotter,     more_of_it, other_food,      too_much_of_it,
                                  shorter,    longer,     told_wrong};
    bool named = false;
    ck_assert_int_eq(make(", \"together\": {}", "04:00"), BP_OK);
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    rows[_i]();
    ck_assert_int_ne(bp_plan_verify(plan, show, &errs), BP_OK);
    for (uint32_t e = 0; e < errs.n; e++)
        named = named || strstr(errs.item[e].wrong, "/boil");
    ck_assert(named);
    done();
}
END_TEST

Suite *suite_plan_heat(void);
Suite *suite_plan_heat(void)
{
    Suite *s = suite_create("plan/heat");
    TCase *c = tcase_create("heat");
    tcase_add_test(c, each_pot_takes_what_its_size_asks_for);
    tcase_add_test(c, one_big_pot_takes_as_long_as_all_it_holds);
    tcase_add_test(c, the_power_of_the_kitchen_counts);
    tcase_add_loop_test(c, a_pot_of_some_takes_what_they_ask_for, 0, 3);
    tcase_add_test(c, no_plan_says_that_the_time_was_worked_out);
    tcase_add_loop_test(c, the_checker_counts_for_itself, 0, 11);
    suite_add_tcase(s, c);
    return s;
}

/* What is said about food, judged twice: the thresholds of 21 CFR 101.54 to 101.62 as whole numbers
 * (safety/claim, held to the published rows by tests/safety/test_claim.c), and the checker's own reading of
 * them in floating point (plan/verify_talk). Nutrients of made-up foods from seeds. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"
#include "base/text.h"
#include "model/nutrient.h"
#include "model/show.h"
#include "safety/claim.h"
#include "support/prep_show.h"
#include "support/share.h"

#define ANSWER "{\"about\": \"cost\", \"ask\": \"Dear?\", \"say\": \"No.\"}"
#define ROUNDS 400

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;
static uint64_t word;

static void set_up(void)
{
    char *text = prep_show_change(prep_show_file("tests/plan/terrine.json"), "\"keep\": true}",
                                  "\"keep\": true, \"graphics\": [\"Lentil terrine\"], \"claims\": "
                                  "[{\"says\": \"high\", \"of\": \"fiber\"}]}");
    text = prep_show_change(text, "\"serves\": 4, ",
                            "\"serves\": 4, \"answers\": [" ANSWER
                            "], \"nutrition\": {\"serving\": \"120 g\", \"reference\": \"85 g\", "
                            "\"source\": \"ours\", \"fiber\": \"9 g\"}, ");
    ck_assert_int_eq(prep_show_plan(&plan, &show, text, 0, &errs), BP_OK);
    ck_assert_uint_eq(plan->claims, 1);
    ck_assert_int_eq(plan->claim[0].holds, BP_YES);
}

static void tear_down(void)
{
    bp_plan_free(plan);
    bp_show_free(show);
}

/* Does the checker object, and with these words? NULL: it must not. */
static void objects(const char *what)
{
    memset(&errs, 0, sizeof errs);
    bp_code rc = bp_plan_verify(plan, show, &errs);
    bool told = false;
    for (uint32_t e = 0; e < errs.n; e++)
        told |= what && strstr(errs.item[e].wrong, what) != NULL;
    ck_assert_msg(rc == (what ? BP_EINTERNAL : BP_OK), "%s",
                  errs.n ? errs.item[0].wrong : "nothing is objected to");
    ck_assert_msg(told == (what != NULL), "%s", what);
}

/* From 0 to below n: xorshift (Marsaglia, Journal of Statistical Software 8(14), 2003). */
static uint64_t below(uint64_t n)
{
    word ^= word << 13;
    word ^= word >> 7;
    word ^= word << 17;
    return word % n;
}

/* So many digits at most, each number of digits as likely. */
static int64_t about(uint32_t least, uint32_t most)
{
    uint64_t top = 1;
    for (uint64_t n = least + below(most - least + 1); n > 0; n--)
        top *= 10;
    return 1 + (int64_t)below(top);
}

/* Energy up to 1000 kcal, of the others up to 100 g, most of them less; now and then not stated, or such
 * that fat gives about as much of the energy as some threshold says. */
static void make_up(bpi_nutrition *n)
{
    bpi_nutrition_init(n);
    n->stated = true;
    n->meal = below(3) == 0;
    n->serving = below(12) ? 100 + (int64_t)below(4000) : BPI_NOT_STATED;
    n->reference = below(12) ? 100 + (int64_t)below(3000) : BPI_NOT_STATED;
    for (int k = 0; k < BPI_NUTRIENTS; k++)
        n->amount[k] = !below(10)        ? BPI_NOT_STATED
                       : k == BPI_ENERGY ? about(3, 6)
                                         : about(6, k <= BPI_SATURATED_FAT ? 10 : 11);
}

/* Each kind of claim of each nutrient, of many foods. What one holds the other holds; told the other way
 * round it is objected to. */
START_TEST(claims_are_judged_alike_by_both)
{
    bpi_claim *claim = (bpi_claim *)&show->segment[0].beat[0].claim[0];
    bpi_nutrition *food = (bpi_nutrition *)&show->recipe[0].nutrition;
    bp_claim *said = (bp_claim *)&plan->claim[0];
    uint32_t seen[BP_UNSURE + BP_YES + BP_NO + 1] = {0};
    char text[200];
    word = UINT64_C(88172645463325252) + (uint64_t)_i;
    claim->says = _i;
    claim->said = "so much";
    said->text = text;
    said->rule = said->figure = "made up";
    /* The first of them in a slow build: a stride would miss nutrients. */
    for (uint32_t k = 0; k < ROUNDS * BPI_NUTRIENTS / share(); k++) {
        bpi_text figure = BPI_TEXT_EMPTY, why = BPI_TEXT_EMPTY;
        claim->of = (int)(k % (k & 64 ? BPI_NUTRIENTS : BPI_PROTEIN));
        claim->than = below(6) ? "the tin" : "";
        make_up(food);
        make_up(&claim->than_of);
        snprintf(text, sizeof text, "so much %s", bpi_nutrients[claim->of].name);
        said->holds = bpi_claim_judge(claim, food, &figure, &why).verdict;
        bpi_text_release(&figure);
        bpi_text_release(&why);
        objects(NULL);
        bp_truth was = said->holds;
        seen[was]++;
        said->holds = was == BP_YES ? BP_NO : BP_YES;
        objects(was == BP_UNSURE ? "can be told is told wrong" : "holds is told wrong");
        said->holds = was == BP_UNSURE ? BP_NO : BP_UNSURE;
        objects("can be told is told wrong");
    }
    uint32_t least = 48 / share(); /* of each, so that the foods are not all of one kind */
    ck_assert_uint_ge(seen[BP_YES], least);
    ck_assert_uint_ge(seen[BP_NO], least);
    ck_assert_uint_ge(seen[BP_UNSURE], least);
}
END_TEST

START_TEST(what_is_not_of_the_show_is_objected_to)
{
    bp_claim *said = (bp_claim *)&plan->claim[0], was = *said;
    bp_line *line = (bp_line *)&plan->line[0], line_was = *line;
    bp_reply *reply = (bp_reply *)&plan->reply[0], reply_was = *reply;
    objects(NULL);
    said->rule = "";
    objects("is judged without a rule or a figure");
    *said = was;
    said->figure = "";
    objects("is judged without a rule or a figure");
    *said = was;
    said->text = "high";
    objects("a claim is not that of the show");
    said->text = "fiber";
    objects("a claim is not that of the show");
    *said = was;
    said->dish = "Salad";
    objects("a claim is not that of the show");
    *said = was;
    said->beat = 7;
    objects("");
    *said = was;
    plan->claims = 0;
    objects("a claim of the show is not judged");
    plan->claims = 1;
    line->text = "Terrine";
    objects("a graphic is not that of the show");
    *line = line_was;
    line->kind = BP_LINE_SUPER;
    objects("a graphic is not that of the show");
    *line = line_was;
    line->up = 2;
    objects("nobody can read a line so fast");
    *line = line_was;
    bp_beat *beat = (bp_beat *)&plan->beat[0];
    beat->lines.n = 0;
    objects("its lines on the screen are not those of the show");
    beat->lines.n = 2;
    objects("its lines on the screen are out of order");
    beat->lines.n = 1;
    reply->say = "Yes.";
    objects("answer 1 is not that of the show");
    *reply = reply_was;
    reply->ask = "Cheap?";
    objects("answer 1 is not that of the show");
    *reply = reply_was;
    reply->dish = "";
    objects("answer 1 is not that of the show");
    *reply = reply_was;
    reply->spoken = -1;
    objects("answer 1 is not that of the show");
    *reply = reply_was;
    plan->replies = 0;
    objects("answer 1 is not that of the show");
    plan->replies = 1;
    objects(NULL);
}
END_TEST

Suite *suite_plan_talk(void);
Suite *suite_plan_talk(void)
{
    Suite *s = suite_create("plan/talk");
    TCase *t = tcase_create("talk");
    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_loop_test(t, claims_are_judged_alike_by_both, BPI_SAYS_HIGH, BPI_SAYS_REDUCED + 1);
    tcase_add_test(t, what_is_not_of_the_show_is_objected_to);
    suite_add_tcase(s, t);
    return s;
}

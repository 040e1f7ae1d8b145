/* A pot is a thing: it stands on its burner until somebody has taken it off, and then somewhere. Small
 * shows of our own making, worked by hand beside each. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/backpot.h"
#include "base/memory.h"
#include "model/show.h"
#include "support/prep_show.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

static void done(void)
{
    bp_plan_free(plan);
    bp_show_free(show);
    plan = NULL;
    show = NULL;
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

static const bp_op *find(const char *key)
{
    for (uint32_t i = 0; i < plan->ops; i++)
        if (strcmp(plan->op[i].key, key) == 0)
            return &plan->op[i];
    ck_abort_msg("no operation is called %s", key);
    return NULL;
}

static uint32_t thing_of(const char *id)
{
    for (uint32_t t = 0; t < plan->things; t++)
        if (strcmp(plan->thing[t].id, id) == 0)
            return t;
    ck_abort_msg("nothing is called %s", id);
    return 0;
}

static uint32_t uses(const bp_op *op, const char *id)
{
    uint32_t n = 0, thing = thing_of(id);
    for (uint32_t i = 0; i < op->uses.n; i++)
        n += plan->index[op->uses.first + i] == thing;
    return n;
}

static bool objects(const char *word)
{
    memset(&errs, 0, sizeof errs);
    if (bp_plan_verify(plan, show, &errs) == BP_OK)
        return false;
    for (uint32_t i = 0; i < errs.n; i++)
        if (strstr(errs.item[i].wrong, word))
            return true;
    return false;
}

/* ---- on a burner ------------------------------------------------------------------------------- */

static bp_code two_pots(const char *call)
{
    char kitchen[400];
    snprintf(kitchen, sizeof kitchen,
             "\"cooks\": [{\"id\": \"ana\", \"call\": \"%s\", \"wrap\": \"09:00\"}, {\"id\": "
             "\"rui\", \"call\": \"%s\", \"wrap\": \"09:00\"}], \"burners\": 1, \"take_off\": "
             "\"3 min\"",
             call, call);
    return prep_show_plan(
        &plan, &show,
        prep_show_text(kitchen,
                       "{\"id\": \"r\", \"title\": \"Broth\", \"steps\": [{\"id\": \"simmer\", "
                       "\"text\": \"Simmer\", \"kind\": \"passive\", \"time\": \"10 min\", "
                       "\"burner\": true, \"ingredients\": [{\"item\": \"stock\", \"amount\": "
                       "\"1 L\"}]}, {\"id\": \"dress\", \"text\": \"Dress\", \"kind\": "
                       "\"active\", \"time\": \"1 min\"}]}",
                       "{\"id\": \"d\", \"title\": \"Broth\", \"recipe\": \"r\"}",
                       PREP_SHOW_IN_AND_OUT("simmer")),
        0, &errs);
}

/* Two pots for one burner, two cooks. Each is put on (1 min), simmers (10) and is taken off (3), and only
 * then comes the other; the last is carried (1): 2 x 14 + 1 = 29 min before 07:55. Were the burner free
 * when taking off begins, the second cook could put the other pot on in that time, and 26 would do. */
START_TEST(a_burner_is_taken_until_the_pot_is_off)
{
    ck_assert_int_eq(two_pots("07:27"), BP_ENOFIT);
    bool fact = false;
    for (uint32_t i = 0; i < plan->facts; i++)
        fact |= strcmp(plan->fact[i].text, "the kitchen has 1 burner") == 0;
    ck_assert(fact);
    done();
    ck_assert_int_eq(two_pots("07:26"), BP_OK);
    const bp_op *off[2];
    uint32_t n = 0, *index = (uint32_t *)plan->index;
    for (uint32_t i = 0; i < plan->ops; i++) {
        if (plan->op[i].kind == BP_OP_TAKE_OFF && n < 2)
            off[n++] = &plan->op[i];
        if (plan->op[i].kind == BP_OP_LOAD && n == 1)
            ck_assert_int_eq(plan->op[i].from, off[0]->to);
    }
    ck_assert_uint_eq(n, 2);
    for (uint32_t i = 0; i < 2; i++) {
        ck_assert_uint_eq(uses(off[i], "burners"), 1);
        index[off[i]->uses.first] = thing_of("s"); /* on the set, of all places */
        ck_assert(objects("it is on no burner"));
        index[off[i]->uses.first] = thing_of("burners");
    }
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    ((bp_op *)off[0])->to += 60; /* it is taken off while the next is put on */
    ck_assert(objects("2 of burners are in use at once, there are 1"));
    ((bp_op *)off[0])->to -= 60;
    done();
}
END_TEST

Suite *suite_plan_place(void);
Suite *suite_plan_place(void)
{
    Suite *s = suite_create("plan/place");
    TCase *c = tcase_create("place");
    tcase_set_timeout(c, 0); /* as slow as the machine is */
    tcase_add_test(c, a_burner_is_taken_until_the_pot_is_off);
    suite_add_tcase(s, c);
    return s;
}

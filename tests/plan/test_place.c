/* A pot is a thing: it stands on its burner until somebody has taken it off, and then somewhere. Small
 * shows of our own making, worked by hand beside each. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/backpot.h"
#include "model/show.h"
#include "support/prep_show.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

static void done(void)
{
    prep_show_free(&plan, &show);
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
    return prep_show_objects(plan, show, word, &errs);
}

static bool has_fact(const char *text)
{
    bool found = false;
    for (uint32_t i = 0; i < plan->facts; i++)
        found |= strcmp(plan->fact[i].text, text) == 0;
    return found;
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

/* ---- in an oven ------------------------------------------------------------------------------- */

static bp_code two_trays(const char *call, const char *oven)
{
    char kitchen[600];
    snprintf(kitchen, sizeof kitchen,
             "\"cooks\": [{\"id\": \"ana\", \"call\": \"%s\", \"wrap\": \"09:00\"}, {\"id\": "
             "\"rui\", \"call\": \"%s\", \"wrap\": \"09:00\"}], \"load\": \"2 min\", "
             "\"take_off\": \"3 min\", \"ovens\": [{\"id\": \"deck\", \"name\": \"deck\", "
             "%s, \"heats\": \"18 C/min\", \"cools\": \"5 C/min\"}]",
             call, call, oven);
    return prep_show_plan(
        &plan, &show,
        prep_show_text(kitchen,
                       "{\"id\": \"r\", \"title\": \"Bake\", \"steps\": [{\"id\": \"bake\", "
                       "\"text\": \"Bake\", \"kind\": \"oven\", \"time\": \"10 min\", "
                       "\"oven\": {\"temperature\": \"200 C\"}, \"ingredients\": [{\"item\": "
                       "\"dough\", \"amount\": \"1 kg\"}]}, {\"id\": \"dress\", \"text\": "
                       "\"Dress\", \"kind\": \"active\", \"time\": \"1 min\"}]}",
                       "{\"id\": \"d\", \"title\": \"Bake\", \"recipe\": \"r\"}",
                       PREP_SHOW_IN_AND_OUT("bake")),
        0, &errs);
}

/* Two trays, two cooks, one position. The oven is switched on (1 min) and hot after 10, from 20 to 200 C at
 * 18 a minute; each tray is put in (2), bakes (10) and is taken out (3), and only then is the other begun
 * to be put in; the last is carried (1): 11 + 2 x 15 + 1 = 42 min before 07:55. Were the position free from
 * when taking out begins, or taken only when the load is in, 37 would do. Side by side one is
 * still to be dressed (1) when it is out: 11 + 15 + 2 = 28. */
START_TEST(a_position_is_taken_until_the_load_is_out)
{
    ck_assert_int_eq(two_trays("07:14", "\"positions\": 1"), BP_ENOFIT);
    ck_assert(has_fact("deck takes 1 load at once"));
    done();
    ck_assert_int_eq(two_trays("07:27", "\"positions\": 2"), BP_OK);
    done();
    ck_assert_int_eq(two_trays("07:13", "\"positions\": 1"), BP_OK);
    const bp_op *off = NULL, *load = NULL;
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *op = &plan->op[i];
        if (op->kind == BP_OP_TAKE_OFF && !off)
            off = op;
        if (op->kind == BP_OP_LOAD)
            load = op; /* the last of them */
        if (op->kind == BP_OP_LOAD || op->kind == BP_OP_OVEN || op->kind == BP_OP_TAKE_OFF)
            ck_assert_uint_eq(uses(op, "deck"), 1);
    }
    ck_assert(off && load);
    ck_assert_int_eq(load->from, off->to);
    ((bp_op *)off)->to += 60; /* it is taken out while the next is put in */
    ck_assert(objects("2 of deck are in use at once, there are 1"));
    ((bp_op *)off)->to -= 60;
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    done();
}
END_TEST

/* ---- in a place -------------------------------------------------------------------------------- */

/* Two containers rest in the cold for 20 min, in a crock each, which says how many positions it takes; one
 * cook, a minute each to put in and take out. */
static bp_code two_crocks(const char *call, const char *room, const char *places)
{
    char kitchen[600];
    snprintf(kitchen, sizeof kitchen,
             "\"cooks\": [{\"id\": \"ana\", \"call\": \"%s\", \"wrap\": \"09:00\"}], "
             "\"vessels\": [{\"id\": \"crock\", \"name\": \"big crock\", \"count\": 2%s}], "
             "\"places\": [%s]",
             call, room, places);
    return prep_show_plan(
        &plan, &show,
        prep_show_text(kitchen,
                       "{\"id\": \"r\", \"title\": \"Jelly\", \"steps\": [{\"id\": \"set\", "
                       "\"text\": \"Let it set\", \"kind\": \"passive\", \"time\": "
                       "\"20-21 min\", \"keep\": \"cold\", \"vessels\": [\"crock\"], "
                       "\"ingredients\": [{\"item\": \"juice\", \"amount\": \"1 L\"}]}, "
                       "{\"id\": \"turn-out\", \"text\": \"Turn out\", \"kind\": "
                       "\"active\", \"time\": \"1 min\"}]}",
                       "{\"id\": \"d\", \"title\": \"Jelly\", \"recipe\": \"r\"}",
                       PREP_SHOW_IN_AND_OUT("set")),
        0, &errs);
}

#define SHELF(id, count)                                                                           \
    "{\"id\": \"" id "\", \"name\": \"" id "\", \"keeps\": \"cold\", \"count\": " count "}"

static uint32_t cold_at_once(void)
{
    uint32_t most = 0;
    for (uint32_t i = 0; i < plan->ops; i++) {
        uint32_t n = 0;
        for (uint32_t k = 0; k < plan->ops; k++)
            n += plan->op[k].kind == BP_OP_PASSIVE && plan->op[k].from <= plan->op[i].from &&
                 plan->op[i].from < plan->op[k].to;
        most = n > most ? n : most;
    }
    return most;
}

/* Side by side: in (1), 20 min, out (1), the other out (1), turned out (1), two carries (2): the first goes
 * in by 07:55 - 26. One after the other it takes 20 min more. `beside`: there is room for both at once. */
static const struct {
    const char *room, *places;
    bool beside;
} shelves[] = {
    {"", SHELF("shelf", "2"), true}, /* a container takes one position, whatever it is in */
    {"", SHELF("shelf", "1"), false},
    {", \"room\": 1", SHELF("shelf", "2"), true},
    {", \"room\": 2", SHELF("shelf", "4"), true},
    {", \"room\": 2", SHELF("shelf", "3"), false},
    {", \"room\": 2", SHELF("shelf", "2") ", " SHELF("drawer", "2"), true},
    {", \"room\": 2", SHELF("shelf", "3") ", " SHELF("drawer", "1"), false}, /* not half in each */
};

START_TEST(a_big_vessel_takes_more_positions)
{
    bool sized = strstr(shelves[_i].room, "2") != NULL;
    bp_code rc = two_crocks("07:20", shelves[_i].room, shelves[_i].places);
    ck_assert_int_eq(rc, shelves[_i].beside ? BP_OK : BP_ENOFIT);
    if (!shelves[_i].beside) {
        ck_assert(has_fact(!sized ? "there is room for 1 container cold"
                                  : "shelf has 3 positions; a big crock takes 2"));
        done();
        rc = two_crocks("06:50", shelves[_i].room, shelves[_i].places);
        ck_assert_int_eq(rc, BP_OK);
    }
    ck_assert_uint_eq(cold_at_once(), shelves[_i].beside ? 2 : 1);
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *op = &plan->op[i];
        if (op->kind != BP_OP_PASSIVE)
            continue;
        uint32_t here = uses(op, "shelf"), want = sized ? 2 : 1;
        if (here != want) { /* the other shelf, and only in one of the two */
            ck_assert_uint_eq(here, 0);
            ck_assert_uint_eq(uses(op, "drawer"), want);
        }
        ck_assert_uint_eq(uses(op, "crock"), 1);
    }
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    done();
}
END_TEST

START_TEST(more_positions_are_offered)
{
    bp_plan_options options = {.work = 4000000, .days = 1};
    ck_assert_int_eq(two_crocks("07:20", ", \"room\": 2", SHELF("shelf", "3")), BP_ENOFIT);
    bp_plan_free(plan);
    ck_assert_int_eq(bp_plan_make(&plan, show, &options, &errs), BP_ENOFIT);
    bool offered = false;
    for (uint32_t i = 0; i < plan->fixes; i++)
        offered |= strcmp(plan->fix[i].text, "have 4 positions in shelf") == 0;
    ck_assert(offered);
    done();
}
END_TEST

/* The checker: a crock in one position, in three, half on another shelf; two that share one. */
START_TEST(the_checker_counts_positions)
{
    ck_assert_int_eq(
        two_crocks("07:20", ", \"room\": 2", SHELF("shelf", "2") ", " SHELF("drawer", "2")), BP_OK);
    uint32_t *index = (uint32_t *)plan->index, tried = 0;
    for (uint32_t i = 0; i < plan->ops; i++) {
        bp_op *op = (bp_op *)&plan->op[i], was = *op;
        if (op->kind != BP_OP_PASSIVE)
            continue;
        uint32_t last = op->uses.first + op->uses.n - 1, place = index[last];
        uint32_t other = place == thing_of("shelf") ? thing_of("drawer") : thing_of("shelf");
        op->uses.n--; /* places stand last */
        ck_assert(objects("it takes other positions than its vessels say"));
        *op = was;
        index[last] = other;
        ck_assert(objects("it does not stand cold"));
        index[last - 1] = other;
        ck_assert(objects("4 of "));
        index[last] = index[last - 1] = place;
        tried++;
    }
    ck_assert_uint_eq(tried, 2);
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    done();
}
END_TEST

Suite *suite_plan_place(void);
Suite *suite_plan_place(void)
{
    Suite *s = suite_create("plan/place");
    TCase *c = tcase_create("place");
    tcase_add_test(c, a_burner_is_taken_until_the_pot_is_off);
    tcase_add_test(c, a_position_is_taken_until_the_load_is_out);
    tcase_add_loop_test(c, a_big_vessel_takes_more_positions, 0, sizeof shelves / sizeof *shelves);
    tcase_add_test(c, more_positions_are_offered);
    tcase_add_test(c, the_checker_counts_positions);
    suite_add_tcase(s, c);
    return s;
}

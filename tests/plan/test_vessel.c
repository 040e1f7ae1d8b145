/* Vessels that are washed before they are used again: tests/plan/shows/pans.json, with fewer of them.
 *
 * Each of two hits takes three pans: one that food goes into on the set, one that comes in half done,
 * and one whose food goes into a bowl; and two pots, as a batch is two containers of three. What is used
 * u times and is there n times is washed u - n times, by counting: no source is needed. What a pan
 * of 28 cm is, and how long it takes to wash, is invented. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"
#include "base/file.h"
#include "base/text.h"
#include "model/show.h"
#include "support/prep_show.h"

#define PANS "\"28 cm\", \"count\": 12, \"wash\": \"3 min 30 s\""
#define POTS "\"6 L\", \"count\": 12, \"wash\": \"5 min\""
#define BOIL "\"together\": {\"most\": 2}, \"hold\""

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

/* The show's text with each of some words, in pairs up to NULL, replaced by others. */
static bp_code read_with(const char *const *pairs)
{
    bpi_text text = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_file_read(&text, "tests/plan/shows/pans.json", 1u << 20, NULL), BP_OK);
    for (; pairs && pairs[0]; pairs += 2) {
        bpi_text other = BPI_TEXT_EMPTY;
        const char *at = strstr(text.s, pairs[0]);
        ck_assert_msg(at != NULL, "%s", pairs[0]);
        bpi_text_f(&other, "%.*s%s%s", (int)(at - text.s), text.s, pairs[1], at + strlen(pairs[0]));
        bpi_text_release(&text);
        text = other;
    }
    memset(&errs, 0, sizeof errs);
    bp_code rc = bp_show_read(&show, text.s, strlen(text.s), "pans.json", ".", &errs);
    bpi_text_release(&text);
    return rc;
}

static bp_code plan_with(const char *const *pairs)
{
    bp_plan_options options = {.work = 4000000, .days = 100};
    ck_assert_int_eq(read_with(pairs), BP_OK);
    return bp_plan_make(&plan, show, &options, &errs);
}

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

static uint32_t uses(const bp_op *op, uint32_t thing)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < op->uses.n; i++)
        n += plan->index[op->uses.first + i] == thing;
    return n;
}

/* How many of a vessel are washed over the day. */
static uint32_t washed(const char *id)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < plan->ops; i++)
        if (plan->op[i].kind == BP_OP_WASH)
            n += uses(&plan->op[i], thing_of(id));
    return n;
}

static const bp_op *op_of(const char *key)
{
    for (uint32_t i = 0; i < plan->ops; i++)
        if (strcmp(plan->op[i].key, key) == 0)
            return &plan->op[i];
    ck_abort_msg("no operation is called %s", key);
    return NULL;
}

/* ---- by counting ----------------------------------------------------------------------------- */

START_TEST(what_is_used_more_often_than_it_is_there_is_washed)
{
    char pans[80], pots[80];
    uint32_t n = (uint32_t)_i;
    snprintf(pans, sizeof pans, "\"28 cm\", \"count\": %d, \"wash\": \"3 min 30 s\"", _i);
    snprintf(pots, sizeof pots, "\"6 L\", \"count\": %d, \"wash\": \"5 min\"", _i);
    ck_assert_int_eq(plan_with((const char *[]){PANS, pans, POTS, pots, NULL}), BP_OK);
    ck_assert_uint_eq(washed("pan"), n < 6 ? 6 - n : 0);
    ck_assert_uint_eq(washed("pot"), n < 4 ? 4 - n : 0);
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *op = &plan->op[i];
        if (op->kind != BP_OP_WASH)
            continue;
        bool pan = uses(op, thing_of("pan")) > 0; /* whole minutes: 3 min 30 s are 4 */
        ck_assert_int_eq(op->to - op->from, pan ? 240 : 300);
        ck_assert_uint_lt(op->person, plan->persons);
        ck_assert_uint_eq(op->serves.n, 0);
        ck_assert(strncmp(op->text,
                          pan ? "Wash up saut\xC3\xA9 pan, from A" : "Wash up pot, from B",
                          pan ? 25 : 19) == 0);
    }
    done();
}
END_TEST

/* It is on the list as often as it is in use, on the set and dirty at once, and no oftener. */
START_TEST(the_pull_list_counts_what_is_dirty)
{
    static const char *const rows[][2] = {{"2", "2"}, {"5", "5"}};
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        char pans[80];
        snprintf(pans, sizeof pans, "\"28 cm\", \"count\": %s, \"wash\": \"3 min 30 s\"",
                 rows[r][0]);
        ck_assert_int_eq(plan_with((const char *[]){PANS, pans, NULL}), BP_OK);
        const char *need = NULL;
        for (uint32_t i = 0; i < plan->goods; i++)
            if (strcmp(plan->good[i].note, "28 cm") == 0)
                need = plan->good[i].need;
        ck_assert_ptr_nonnull(need);
        ck_assert_str_eq(need, rows[r][1]);
        done();
    }
}
END_TEST

/* The pan goes on with its food through what names no vessel, to the set and on it; a bowl empties
 * it. */
START_TEST(a_pan_stays_with_its_food)
{
    static const char *const with[] = {"main/1/greens/A2/fry",  "main/1/greens/A2.carry",
                                       "main/1/greens/A2.set",  "main/1/greens/A3/fry",
                                       "main/1/greens/A3/salt", "main/1/greens/A1.carry",
                                       "main/1/greens/A1.set"};
    static const char *const without[] = {"main/1/greens/A3/plate", "main/1/greens/A3.carry",
                                          "main/1/greens/A3.set", "main/1/greens/A1/cut"};
    ck_assert_int_eq(plan_with(NULL), BP_OK);
    for (size_t i = 0; i < sizeof with / sizeof *with; i++)
        ck_assert_msg(uses(op_of(with[i]), thing_of("pan")) == 1, "%s", with[i]);
    for (size_t i = 0; i < sizeof without / sizeof *without; i++)
        ck_assert_msg(uses(op_of(without[i]), thing_of("pan")) == 0, "%s", without[i]);
    done();
}
END_TEST

/* Two stand on the set at once: with one there is no plan, and it is said what would help. */
START_TEST(the_conflict_names_the_vessel)
{
    ck_assert_int_eq(plan_with((const char *[]){
                         PANS, "\"28 cm\", \"count\": 1, \"wash\": \"3 min 30 s\"", NULL}),
                     BP_ENOFIT);
    bool fact = false, fix = false;
    for (uint32_t i = 0; i < plan->facts; i++)
        fact |= strcmp(plan->fact[i].text, "the kitchen has 1 x saut\xC3\xA9 pan (28 cm)") == 0;
    for (uint32_t i = 0; i < plan->fixes; i++)
        fix |= strcmp(plan->fix[i].text, "have 2 x saut\xC3\xA9 pan (28 cm)") == 0;
    ck_assert(fact);
    ck_assert(fix);
    done();
}
END_TEST

/* With an hour at the sink for each there is no time for it between the hits: the washing itself is
 * among what cannot hold. */
START_TEST(the_conflict_names_the_washing)
{
    ck_assert_int_eq(
        plan_with((const char *[]){PANS, "\"28 cm\", \"count\": 2, \"wash\": \"1 h\"", NULL}),
        BP_ENOFIT);
    bool wash = false, pan = false;
    for (uint32_t i = 0; i < plan->facts; i++) {
        wash |= strcmp(plan->fact[i].text,
                       "a saut\xC3\xA9 pan is washed before it is used again, in 1 h") == 0;
        pan |= strstr(plan->fact[i].text, "2 x saut\xC3\xA9 pan (28 cm)") != NULL;
    }
    ck_assert(wash);
    ck_assert(pan);
    bool fix = false;
    for (uint32_t i = 0; i < plan->fixes; i++)
        fix |= strstr(plan->fix[i].text, "x saut\xC3\xA9 pan (28 cm)") != NULL;
    ck_assert(fix);
    done();
}
END_TEST

#define SINK    "\"tools\": [{\"id\": \"sink\", \"name\": \"deep sink\"}], \"vessels\": ["
#define AT_SINK ", \"wash_at\": \"sink\""

static const char *const at_sink[] = {"\"vessels\": [",
                                      SINK,
                                      PANS,
                                      "\"28 cm\", \"count\": 2, \"wash\": \"3 min 30 s\"" AT_SINK,
                                      POTS,
                                      "\"6 L\", \"count\": 2, \"wash\": \"5 min\"" AT_SINK,
                                      NULL};

/* One sink: nothing is washed beside anything else, it is said where, and nobody fetches it. */
START_TEST(what_is_washed_takes_the_sink)
{
    ck_assert_int_eq(plan_with(at_sink), BP_OK);
    uint32_t sink = thing_of("sink"), n = 0;
    ck_assert_int_eq(plan->thing[sink].kind, BP_TOOL);
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *a = &plan->op[i];
        ck_assert_uint_eq(uses(a, sink), a->kind == BP_OP_WASH);
        n += a->kind == BP_OP_WASH;
        for (uint32_t j = 0; j < i && a->kind == BP_OP_WASH; j++)
            ck_assert(plan->op[j].kind != BP_OP_WASH || plan->op[j].to <= a->from ||
                      a->to <= plan->op[j].from);
    }
    ck_assert_uint_eq(n, 6); /* 4 pans and 2 pots, by counting */
    for (uint32_t i = 0; i < plan->goods; i++)
        ck_assert_str_ne(plan->good[i].item, "deep sink");
    done();
}
END_TEST

/* Two pans could be washed in time, at two sinks. */
START_TEST(the_conflict_names_the_sink)
{
    ck_assert_int_eq(
        plan_with((const char *[]){"\"vessels\": [", SINK, PANS,
                                   "\"28 cm\", \"count\": 2, \"wash\": \"40 min\"" AT_SINK, NULL}),
        BP_ENOFIT);
    bool wash = false, sink = false, fix = false;
    for (uint32_t i = 0; i < plan->facts; i++) {
        wash |=
            strcmp(plan->fact[i].text, "a saut\xC3\xA9 pan is washed before it is used again, in "
                                       "40 min (deep sink)") == 0;
        sink |= strcmp(plan->fact[i].text, "the kitchen has 1 x deep sink") == 0;
    }
    for (uint32_t i = 0; i < plan->fixes; i++)
        fix |= strstr(plan->fix[i].text, "have ") != NULL;
    ck_assert(wash);
    ck_assert(sink);
    ck_assert(fix);
    done();
}
END_TEST

/* ---- batches, and a day ahead ------------------------------------------------------------------ */

#define FEW_POTS "\"6 L\", \"count\": 2, \"wash\": \"5 min\""
#define SERVE    "{\"id\": \"serve\""

/* How a recipe goes on, and how often its pots are used at the two hits together. */
static const struct {
    const char *name;
    const char *pairs[7];
    uint32_t used; /* 0: as many as the planner makes of it, but it holds */
} ways[] = {
    {"in two pots for three", {POTS, FEW_POTS, NULL}, 4},
    {"each apart", {POTS, FEW_POTS, BOIL, "\"hold\"", NULL}, 6},
    {"on in the same pot, together",
     {POTS, FEW_POTS, SERVE,
      "{\"id\": \"rest\", \"text\": \"Let it rest\", \"kind\": \"passive\", \"time\": \"5-7 min\", "
      "\"together\": {\"most\": 2}, \"hold\": {\"hot\": \"1 h\"}}, {\"id\": \"serve\"",
      NULL},
     4},
    {"together into other pots",
     {POTS, FEW_POTS, SERVE,
      "{\"id\": \"rest\", \"text\": \"Let it rest\", \"kind\": \"passive\", \"time\": \"5-7 min\", "
      "\"vessels\": [\"bowl\"], \"together\": {\"most\": 2}, \"hold\": {\"hot\": \"1 h\"}}, "
      "{\"id\": \"serve\"",
      NULL},
     4},
    {"one pot each, poured together",
     {POTS, "\"6 L\", \"count\": 3, \"wash\": \"5 min\"", BOIL, "\"hold\"", SERVE,
      "{\"id\": \"rest\", \"text\": \"Let it rest\", \"kind\": \"passive\", \"time\": \"5-7 min\", "
      "\"vessels\": [\"bowl\"], \"together\": {}, \"hold\": {\"hot\": \"1 h\"}}, {\"id\": "
      "\"serve\"",
      NULL},
     6},
    {"split as it likes, poured together",
     {POTS, FEW_POTS, BOIL, "\"together\": {\"most\": 3, \"split\": true}, \"hold\"", SERVE,
      "{\"id\": \"rest\", \"text\": \"Let it rest\", \"kind\": \"passive\", \"time\": \"5-7 min\", "
      "\"together\": {\"most\": 3, \"split\": true}, \"hold\": {\"hot\": \"1 h\"}}, "
      "{\"id\": \"serve\"",
      NULL},
     0},
};

START_TEST(a_batch_has_a_pot)
{
    uint32_t pots = strstr(ways[_i].pairs[1], "\"count\": 3") ? 3 : 2;
    bp_code rc = plan_with(ways[_i].pairs);
    ck_assert_msg(rc == BP_OK, "%s: %d %s", ways[_i].name, (int)rc, errs.item[0].wrong);
    if (ways[_i].used)
        ck_assert_msg(washed("pot") == ways[_i].used - pots, "%s: %u", ways[_i].name,
                      (unsigned)washed("pot"));
    done();
}
END_TEST

#define AHEAD(more)                                                                                \
    "{\"id\": \"chill\", \"text\": \"Chill it\", \"kind\": \"passive\", \"time\": \"30 min\", "    \
    "\"ahead\": \"boil\", \"keep\": \"cold\", \"hold\": {\"cold\": \"1 d\"}" more "}, "            \
    "{\"id\": \"warm\", \"text\": \"Warm it\", \"kind\": \"passive\", \"time\": \"8-12 min\", "    \
    "\"ahead\": \"boil\", \"burner\": true, \"vessels\": [\"pot\"], "                              \
    "\"hold\": {\"hot\": \"1 h\"}}, {\"id\": \"serve\""

/* Cooked ahead because its pot cannot wait: the planner must, as fresh it may not wait at all. */
static const struct {
    const char *ahead;
    uint32_t used; /* pots: one where it stays in it, two where it is chilled in something else */
} aheads[] = {{AHEAD(""), 6}, {AHEAD(", \"vessels\": [\"bowl\"]"), 12}};

START_TEST(what_is_cooked_ahead_has_a_pot)
{
    ck_assert_int_eq(plan_with((const char *[]){POTS, FEW_POTS, BOIL, "\"hold\"", SERVE,
                                                aheads[_i].ahead, NULL}),
                     BP_OK);
    uint32_t ahead = 0;
    for (uint32_t i = 0; i < plan->ops; i++)
        ahead += plan->op[i].kind == BP_OP_PASSIVE && strstr(plan->op[i].key, "/warm") != NULL;
    uint32_t more = aheads[_i].used == 12 ? ahead : 0; /* a second pot for each that is */
    ck_assert_uint_eq(washed("pot"), 6 + more - 2);
    done();
}
END_TEST

/* ---- the checker ------------------------------------------------------------------------------- */

static bool objects(const char *word)
{
    return prep_show_objects(plan, show, word, &errs);
}

/* The plan's arrays are only lent as const: a test may write to them. */
static bp_op *change_op(uint32_t i)
{
    return (bp_op *)&plan->op[i];
}

static const char *const few[] = {PANS, "\"28 cm\", \"count\": 2, \"wash\": \"3 min 30 s\"", POTS,
                                  FEW_POTS, NULL};

/* Each change at each place where it can be made. */
START_TEST(the_checker_misses_no_vessel)
{
    ck_assert_int_eq(plan_with(few), BP_OK);
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    uint32_t changed = 0;
    for (uint32_t i = 0; i < plan->ops; i++) {
        bp_op *op = change_op(i), was = *op;
        uint32_t pan = uses(op, thing_of("pan")), pot = uses(op, thing_of("pot"));
        if (!pan && !pot)
            continue;
        op->uses.n = 0;
        ck_assert_msg(objects(op->key), "%s without its vessel", op->key);
        *op = was;
        changed++;
    }
    ck_assert_uint_gt(changed, 30);
    done();
}
END_TEST

START_TEST(the_checker_counts_the_washing)
{
    ck_assert_int_eq(plan_with(few), BP_OK);
    uint32_t washes = 0;
    for (uint32_t i = 0; i < plan->ops; i++) {
        bp_op *op = change_op(i), was = *op;
        if (op->kind != BP_OP_WASH)
            continue;
        washes++;
        op->to -= 60;
        ck_assert(objects("washing up takes"));
        *op = was;
        op->serves = (bp_slice){plan->op[0].serves.first, 1};
        ck_assert(objects("or it is for a container"));
        *op = was;
        op->from = plan->op[0].from - 600; /* before anything is dirty */
        op->to = op->from + (was.to - was.from);
        ck_assert(objects("are washed than are dirty"));
        *op = was;
        op->kind = BP_OP_RESET; /* nobody washes it: it stays dirty, and one too many is in use */
        op->uses.n = 0;
        ck_assert(objects("are in use or dirty, there are"));
        *op = was;
        op->uses.n = 0;
        ck_assert(objects("nothing in the show asks for it"));
        *op = was;
    }
    ck_assert_uint_eq(washes, 6);
    done();
}
END_TEST

/* Washed somewhere else, or with the sink twice. */
START_TEST(the_checker_asks_for_the_sink)
{
    ck_assert_int_eq(plan_with(at_sink), BP_OK);
    uint32_t sink = thing_of("sink"), *index = (uint32_t *)plan->index, washes = 0;
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *op = &plan->op[i];
        for (uint32_t k = 0; k < op->uses.n; k++) {
            uint32_t at = op->uses.first + k, was = index[at];
            if (was != sink)
                continue;
            washes++;
            index[at] = thing_of("bowl");
            ck_assert(objects("does not occupy its sink"));
            index[at] = was;
        }
        bp_op *wash = change_op(i), was = *wash;
        for (uint32_t j = 0; j < plan->ops && op->kind == BP_OP_WASH; j++) {
            if (j == i || plan->op[j].kind != BP_OP_WASH)
                continue;
            wash->from = plan->op[j].from; /* by two cooks at once */
            wash->to = wash->from + (was.to - was.from);
            ck_assert(objects("2 of sink are in use at once, there are 1"));
            *wash = was;
        }
    }
    ck_assert_uint_eq(washes, 6);
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    done();
}
END_TEST

/* The plan of a show with more of them is none of one with fewer. */
START_TEST(the_checker_counts_what_is_there)
{
    ck_assert_int_eq(plan_with(NULL), BP_OK);
    for (uint32_t t = 0; t < show->kitchen.tools; t++) {
        bpi_tool *tool = (bpi_tool *)&show->kitchen.tool[t], was = *tool;
        bp_thing *thing = (bp_thing *)&plan->thing[thing_of(tool->id)];
        if (!tool->wash)
            continue;
        tool->count = thing->count = 3; /* as many as are in use at once, but none is washed */
        ck_assert(objects("are in use or dirty, there are 3"));
        *tool = was;
        thing->count = was.count;
    }
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    done();
}
END_TEST

/* ---- and without memory ------------------------------------------------------------------------ */

static void fewer(bp_show *s)
{
    ((bpi_tool *)&s->kitchen.tool[0])->count = 2;
    ((bpi_tool *)&s->kitchen.tool[1])->count = 2;
}

START_TEST(without_memory_no_show_and_no_plan)
{
    prep_show_refuse("tests/plan/shows/pans.json", fewer);
}
END_TEST

Suite *suite_plan_vessel(void);
Suite *suite_plan_vessel(void)
{
    Suite *s = suite_create("plan/vessel");
    TCase *c = tcase_create("vessel");
    tcase_add_loop_test(c, what_is_used_more_often_than_it_is_there_is_washed, 2, 8);
    tcase_add_test(c, the_pull_list_counts_what_is_dirty);
    tcase_add_test(c, a_pan_stays_with_its_food);
    tcase_add_test(c, the_conflict_names_the_vessel);
    tcase_add_test(c, the_conflict_names_the_washing);
    tcase_add_test(c, what_is_washed_takes_the_sink);
    tcase_add_test(c, the_conflict_names_the_sink);
    tcase_add_loop_test(c, a_batch_has_a_pot, 0, sizeof ways / sizeof *ways);
    tcase_add_loop_test(c, what_is_cooked_ahead_has_a_pot, 0, sizeof aheads / sizeof *aheads);
    tcase_add_test(c, the_checker_misses_no_vessel);
    tcase_add_test(c, the_checker_counts_the_washing);
    tcase_add_test(c, the_checker_asks_for_the_sink);
    tcase_add_test(c, the_checker_counts_what_is_there);
    tcase_add_test(c, without_memory_no_show_and_no_plan);
    suite_add_tcase(s, c);
    return s;
}

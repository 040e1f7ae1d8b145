/* The checker of mended plans: a day that went to plan, mended by nothing, is let pass; whatever is then
 * told otherwise is objected to. */
#include <check.h>
#include <string.h>

#include "backpot/show.h"
#include "base/memory.h"
#include "plan/verify.h"

#define SHOW "shows/harbour-breakfast.json"
#define MOST 400
#define NOW  (INT64_C(7) * 3600 + 40 * 60)

static bp_errors errs;
static bp_show *show;
static bp_plan *made;

/* What a test changes: the plan, what was planned before, what is known of the day. */
static bp_plan plan, before;
static bp_op op[MOST], was[MOST];
static bpi_amends day;
static bool lost[64], apart[64];
static int64_t dead[8], burner[8];
static struct bpi_absence away;
static struct bpi_longer longer;
static struct bpi_tick tick[2 * MOST];

static void make_plan(void)
{
    bp_plan_options options = {.work = 4000000}; /* enough for a plan, not for the best one */
    errs = (bp_errors){0};
    ck_assert(bp_show_open(&show, SHOW, &errs) == BP_OK);
    ck_assert(bp_plan_make(&made, show, &options, &errs) == BP_OK);
    ck_assert(made->ops < MOST && made->containers <= 64 && show->kitchen.ovens <= 8);
}

static void free_plan(void)
{
    bp_plan_free(made);
    bp_show_free(show);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

static void set_up(void)
{
    plan = before = *made;
    memcpy(op, made->op, made->ops * sizeof *op);
    memcpy(was, made->op, made->ops * sizeof *was);
    plan.op = op;
    before.op = was;
    plan.mended = true;
    plan.mended_at = NOW;
    memset(lost, 0, sizeof lost);
    memset(apart, 0, sizeof apart);
    for (int i = 0; i < 8; i++)
        dead[i] = BP_NO_TIME;
    day = (bpi_amends){.before = &before, .now = NOW, .lost = lost, .apart = apart, .dead = dead};
    day.burner = burner;
    day.away = &away;
    day.longer = &longer;
    day.tick = tick;
}

static bp_code verify(void)
{
    errs = (bp_errors){0};
    return bpi_verify_mended(&plan, show, &day, &errs);
}

static void passes(void)
{
    ck_assert_msg(verify() == BP_OK, "%s", errs.item[0].wrong);
}

/* About that key, or about any where it is NULL. */
static bool says(const char *key, const char *what)
{
    for (uint32_t i = 0; i < errs.n; i++)
        if (strstr(errs.item[i].wrong, what) && (!key || strstr(errs.item[i].wrong, key)))
            return true;
    return false;
}

static void objects(const char *key, const char *what)
{
    ck_assert_int_eq(verify(), BP_EINTERNAL);
    ck_assert_msg(says(key, what), "%s: %s, not %s", key ? key : "", errs.item[0].wrong, what);
}

/* The first of a kind that ended by now, or, at its end, is under way then. */
static uint32_t past(bp_op_kind kind)
{
    for (uint32_t o = 0; o < plan.ops; o++)
        if (op[o].kind == kind && op[o].to <= NOW)
            return o;
    ck_abort_msg("none of this kind");
    return 0;
}

static bool is_ticked(const bp_op *x)
{
    return x->person != BP_NO_INDEX && x->kind != BP_OP_STAND_BY;
}

static void add_tick(uint32_t o, enum bpi_tick_kind what, int64_t at)
{
    tick[day.ticks++] = (struct bpi_tick){.op = op[o].key, .at = at, .what = what};
}

/* All that had begun as planned, but for one; MOST: no one. */
static void tick_all_but(uint32_t but)
{
    day.ticked = true;
    day.ticks = 0;
    for (uint32_t o = 0; o < plan.ops; o++) {
        if (!is_ticked(&op[o]) || op[o].from >= NOW || o == but)
            continue;
        add_tick(o, BPI_TICK_START, op[o].from);
        if (op[o].to <= NOW)
            add_tick(o, BPI_TICK_DONE, op[o].to);
    }
}

/* ---- by the plan ----------------------------------------------------------------------------- */

START_TEST(the_past_is_as_it_was_planned)
{
    uint32_t chop = past(BP_OP_ACTIVE);
    passes();
    was[chop].from += 60;
    objects(op[chop].key, "it is said to have begun, and was not planned so");
    set_up();
    was[chop].person = (op[chop].person + 1) % plan.persons;
    objects(op[chop].key, "it is said to have begun, and was not planned so");
    set_up();
    was[chop].key = "main/soup/Z9/chop";
    objects(op[chop].key, "it is said to have begun, and was not planned so");
    ck_assert(says("main/soup/Z9/chop", "it had begun, and is not in the plan any more"));
    set_up();
    was[chop].to += 60;
    objects(op[chop].key, "it has ended another time than was planned");
    set_up();
    lost[plan.index[op[chop].serves.first]] = true;
    objects(op[chop].key, "its container is lost, and it lies in the past");
}
END_TEST

START_TEST(what_was_said_to_take_longer_does)
{
    uint32_t chop = past(BP_OP_ACTIVE);
    const bp_container *c = &plan.container[plan.index[op[chop].serves.first]];
    const bpi_recipe *r = &show->recipe[show->segment[0].dish[c->dish].recipe];
    uint32_t step = 0;
    while (strcmp(r->step[step].id, strrchr(op[chop].key, '/') + 1) != 0)
        step++;
    longer = (struct bpi_longer){plan.index[op[chop].serves.first], step, op[chop].to};
    day.longers = 1;
    passes(); /* it has lasted as long as was said */
    longer.to += 60;
    objects(op[chop].key, "it does not last as long as was said");
}
END_TEST

/* ---- what is not there ----------------------------------------------------------------------- */

START_TEST(nothing_asks_for_what_is_gone)
{
    uint32_t bake = 0, hot = 0;
    while (op[bake].kind != BP_OP_OVEN)
        bake++;
    for (uint32_t k = 0; k < show->kitchen.ovens; k++)
        dead[k] = op[bake].to - 60;
    objects(op[bake].key, "it is in an oven that is dead");
    for (uint32_t k = 0; k < show->kitchen.ovens; k++)
        dead[k] = INT64_C(20) * 3600; /* in the evening */
    passes();
    set_up();
    uint32_t next = 0; /* the first that a cook is to do */
    while (op[next].from < NOW || !is_ticked(&op[next]))
        next++;
    away = (struct bpi_absence){op[next].person, op[next].from, op[next].to};
    day.aways = 1;
    objects(op[next].key, "its cook is not there");
    away.to = op[next].from; /* back when it begins */
    away.from = away.to - 60;
    verify();
    ck_assert(!says(op[next].key, "its cook is not there"));
    set_up();
    while (plan.thing[plan.index[op[hot].uses.first]].kind != BP_BURNER || op[hot].uses.n == 0)
        hot++;
    for (uint32_t i = 0; i < show->kitchen.burners; i++)
        burner[i] = op[hot].from + 60;
    day.burners = show->kitchen.burners;
    objects("burner", "burners are in use, and 0 are left");
}
END_TEST

/* ---- by the log ------------------------------------------------------------------------------ */

static bool share(const bp_op *a, const bp_op *b)
{
    for (uint32_t i = 0; i < a->serves.n; i++)
        for (uint32_t k = 0; k < b->serves.n; k++)
            if (plan.index[a->serves.first + i] == plan.index[b->serves.first + k])
                return true;
    return false;
}

/* Has anything that builds on it begun? Then it must have been done, ticked or not. */
static bool is_needed(uint32_t o)
{
    for (uint32_t i = 0; i < plan.ops; i++)
        if (op[i].from >= op[o].to && op[i].from < NOW && share(&op[i], &op[o]))
            return true;
    return false;
}

START_TEST(what_nobody_ticked_has_not_been_done)
{
    uint32_t found = 0;
    tick_all_but(MOST);
    passes();
    for (uint32_t o = 0; o < plan.ops; o++) {
        if (!is_ticked(&op[o]) || op[o].kind == BP_OP_PREHEAT || op[o].from >= NOW)
            continue;
        tick_all_but(o);
        bp_code rc = verify();
        bool told = says(op[o].key, "it is said to have begun, and nobody ticked it");
        ck_assert_msg(told == !is_needed(o), "%s", op[o].key);
        ck_assert_int_eq(rc, told ? BP_EINTERNAL : BP_OK);
        found += told;
        add_tick(o, BPI_TICK_START, op[o].from); /* begun, but not ended */
        verify();
        told = says(op[o].key, "it is said to have ended, and nobody ticked it");
        ck_assert_msg(told == (op[o].to <= NOW && !is_needed(o)), "%s", op[o].key);
    }
    ck_assert_uint_gt(found, 0);
}
END_TEST

START_TEST(what_was_ticked_was_done_then)
{
    uint32_t o = past(BP_OP_ACTIVE), late = 0;
    tick_all_but(o);
    add_tick(o, BPI_TICK_START, op[o].from - 60);
    add_tick(o, BPI_TICK_START, op[o].from); /* once more says nothing */
    add_tick(o, BPI_TICK_DONE, op[o].to);
    add_tick(o, BPI_TICK_DONE, op[o].to + 60);
    objects(op[o].key, "it began another time than it was ticked");
    ck_assert(!says(op[o].key, "it ended another time"));
    tick_all_but(o);
    add_tick(o, BPI_TICK_START, op[o].from);
    add_tick(o, BPI_TICK_DONE, op[o].to - 120);
    objects(op[o].key, "it ended another time than it was ticked");
    add_tick(o, BPI_TICK_UNDO, op[o].to - 60); /* of its end alone */
    add_tick(o, BPI_TICK_DONE, op[o].to);
    passes();
    tick_all_but(o);
    add_tick(o, BPI_TICK_START, op[o].from - 120);
    add_tick(o, BPI_TICK_UNDO, op[o].from - 60);
    add_tick(o, BPI_TICK_START, op[o].from);
    add_tick(o, BPI_TICK_DONE, op[o].to);
    passes();
    was[o].person = (op[o].person + 1) % plan.persons;
    objects(op[o].key, "it was done by another cook");
    set_up();
    tick_all_but(MOST);
    lost[plan.index[op[o].serves.first]] = true;
    objects(op[o].key, "its container is lost, and it lies in the past");
    set_up();
    tick_all_but(MOST);
    while (!is_ticked(&op[late]) || op[late].kind == BP_OP_PREHEAT || op[late].from < NOW)
        late++;
    add_tick(late, BPI_TICK_START, NOW - 60);
    objects(op[late].key, "it had begun, and is still to come");
}
END_TEST

/* The plan before was mended, a minute ago: what it has of the past nobody need tick again. */
START_TEST(what_a_mended_plan_had_done_stays_done)
{
    uint32_t o = past(BP_OP_ACTIVE);
    day.ticked = true;
    before.mended = true;
    before.mended_at = NOW;
    passes();
    was[o].to += 60;
    objects(op[o].key, "it has ended another time than it did");
    set_up();
    day.ticked = true;
    before.mended = true;
    before.mended_at = op[o].from; /* before it began */
    objects(NULL, "nobody ticked it");
}
END_TEST

Suite *suite_plan_amends(void);
Suite *suite_plan_amends(void)
{
    Suite *s = suite_create("plan/amends");
    TCase *c = tcase_create("amends");
    tcase_add_unchecked_fixture(c, make_plan, free_plan);
    tcase_add_checked_fixture(c, set_up, NULL);
    tcase_add_test(c, the_past_is_as_it_was_planned);
    tcase_add_test(c, what_was_said_to_take_longer_does);
    tcase_add_test(c, nothing_asks_for_what_is_gone);
    tcase_add_test(c, what_nobody_ticked_has_not_been_done);
    tcase_add_test(c, what_was_ticked_was_done_then);
    tcase_add_test(c, what_a_mended_plan_had_done_stays_done);
    suite_add_tcase(s, c);
    return s;
}

/* Whole plans: of the shipped shows, and of small ones for facts of the trade. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/backpot.h"
#include "base/memory.h"
#include "support/prep_show.h"

/* Search effort of a test: enough for a plan, not for the best one. */
#define WORK 4000000

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

static bp_code make(const char *file)
{
    bp_plan_options options = {.work = WORK};
    errs.n = errs.more = 0;
    ck_assert_msg(bp_show_open(&show, file, &errs) == BP_OK, "%s", errs.item[0].wrong);
    return bp_plan_make(&plan, show, &options, &errs);
}

static bp_code make_text(char *text)
{
    bp_plan_options options = {.work = WORK};
    errs.n = errs.more = 0;
    bp_code rc = bp_show_read(&show, text, strlen(text), "t.json", NULL, &errs);
    free(text);
    ck_assert_msg(rc == BP_OK, "%s", errs.item[0].wrong);
    return bp_plan_make(&plan, show, &options, &errs);
}

static void done(void)
{
    prep_show_free(&plan, &show);
}

/* ---- what every plan must be ------------------------------------------------------------- */

static void nobody_does_two_things_at_once(void)
{
    for (uint32_t i = 0; i < plan->ops; i++)
        for (uint32_t j = i + 1; j < plan->ops; j++)
            if (plan->op[i].person != BP_NO_INDEX && plan->op[i].person == plan->op[j].person)
                ck_assert_msg(plan->op[j].from >= plan->op[i].to, "%s and %s", plan->op[i].key,
                              plan->op[j].key);
}

static uint32_t used(const bp_op *op, uint32_t thing)
{
    uint32_t n = 0;
    for (uint32_t k = 0; k < op->uses.n; k++)
        n += plan->index[op->uses.first + k] == thing;
    return n;
}

static void nothing_is_used_more_often_than_it_is_there(void)
{
    for (uint32_t t = 0; t < plan->things; t++)
        for (uint32_t i = 0; plan->thing[t].count && i < plan->ops; i++) {
            uint32_t n = 0; /* at the start of an operation, where a use can only rise */
            for (uint32_t j = 0; j < plan->ops; j++)
                if (plan->op[j].from <= plan->op[i].from && plan->op[i].from < plan->op[j].to &&
                    (plan->thing[t].kind != BP_OVEN || plan->op[j].kind == BP_OP_OVEN))
                    n += used(&plan->op[j], t);
            ck_assert_msg(n <= plan->thing[t].count, "%s at %s", plan->thing[t].name,
                          plan->op[i].key);
        }
}

static void everything_starts_on_a_whole_minute_and_can_start_no_later_than_it_says(void)
{
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *op = &plan->op[i];
        ck_assert_int_eq(op->from % 60, 0);
        ck_assert_int_eq(op->to % 60, 0);
        ck_assert_int_gt(op->to, op->from);
        ck_assert_int_ge(op->latest_from, op->from);
        ck_assert(op->text[0] && op->key[0]);
        if (op->off_least != BP_NO_TIME)
            ck_assert_int_le(op->off_least, op->off_most);
        if (op->hold_until != BP_NO_TIME && op->kind == BP_OP_WAIT)
            ck_assert_int_le(op->to, op->hold_until);
    }
}

static void keys_and_codes_are_unique(void)
{
    for (uint32_t i = 0; i < plan->ops; i++)
        for (uint32_t j = 0; j < i; j++)
            ck_assert_str_ne(plan->op[i].key, plan->op[j].key);
    for (uint32_t i = 0; i < plan->containers; i++)
        for (uint32_t j = 0; j < i; j++)
            ck_assert_str_ne(plan->container[i].code, plan->container[j].code);
}

static void check_plan(void)
{
    nobody_does_two_things_at_once();
    nothing_is_used_more_often_than_it_is_there();
    everything_starts_on_a_whole_minute_and_can_start_no_later_than_it_says();
    keys_and_codes_are_unique();
}

static const char *const shipped[] = {
    "shows/cottage-remote.json", "shows/festival-two-hits.json", "shows/harbour-breakfast.json",
    "shows/lock-keeper-day-ahead.json", "shows/orchard-two-segments.json"};

START_TEST(a_shipped_show_is_planned_in_time)
{
    bp_code rc = make(shipped[_i]);
    ck_assert_msg(rc == BP_OK, "%s: %s", shipped[_i], errs.n ? errs.item[0].wrong : "");
    ck_assert_int_eq(plan->verdict, BP_PLANNED);
    check_plan();
    ck_assert_uint_eq(plan->goals, 4);
    ck_assert_int_eq(plan->goal[0].value, 0);
    for (uint32_t i = 0; i < plan->goals; i++)
        ck_assert_int_le(plan->goal[i].bound, plan->goal[i].value);
    for (uint32_t i = 0; i < plan->containers; i++) {
        const bp_container *c = &plan->container[i];
        ck_assert_int_le(c->on_set, c->set_by);
        ck_assert_int_eq(c->late, 0);
        if (c->best_by != BP_NO_TIME)
            ck_assert_int_ge(c->best_by, c->last);
    }
    ck_assert_uint_gt(plan->goods, 0);
    ck_assert_uint_eq(plan->facts, 0);
}
END_TEST

START_TEST(two_runs_give_one_plan)
{
    bp_plan_options options = {.work = WORK / 4};
    bp_plan *again = NULL;
    errs.n = 0;
    ck_assert_int_eq(bp_show_open(&show, shipped[0], &errs), BP_OK);
    ck_assert_int_eq(bp_plan_make(&plan, show, &options, &errs), BP_OK);
    ck_assert_int_eq(bp_plan_make(&again, show, &options, &errs), BP_OK);
    bp_output_options out = {.leave_out = ~(1u << BP_OUT_JSON)};
    bp_files *a = NULL, *b = NULL;
    ck_assert_int_eq(bp_outputs_write(&a, plan, &out, &errs), BP_OK);
    bp_show_free(show); /* the plan does not need it any more */
    show = NULL;
    ck_assert_int_eq(bp_outputs_write(&b, again, &out, &errs), BP_OK);
    ck_assert_uint_eq(a->n, 1);
    ck_assert_uint_eq(a->file[0].len, b->file[0].len);
    ck_assert_mem_eq(a->file[0].bytes, b->file[0].bytes, a->file[0].len);
    bp_files_free(a);
    bp_files_free(b);
    bp_plan_free(again);
}
END_TEST

/* ---- no plan ----------------------------------------------------------------------------- */

START_TEST(a_show_that_cannot_be_planned_says_why_and_what_helps)
{
    ck_assert_int_eq(make("shows/one-burner-too-few.json"), BP_ENOFIT);
    ck_assert_ptr_nonnull(plan);
    ck_assert_int_eq(plan->verdict, BP_LATE);
    check_plan();
    ck_assert(plan->facts_minimal);
    ck_assert_uint_gt(plan->facts, 0);
    bool burner = false, fixed = false, late = false;
    for (uint32_t i = 0; i < plan->facts; i++) {
        ck_assert_uint_gt(plan->fact[i].line, 0);
        ck_assert_str_eq(plan->fact[i].file, "shows/one-burner-too-few.json");
        burner = burner || strcmp(plan->fact[i].pointer, "/kitchen/burners") == 0;
    }
    for (uint32_t i = 0; i < plan->fixes; i++)
        fixed = fixed || (plan->fix[i].whole && strcmp(plan->fix[i].text, "have 2 burners") == 0);
    for (uint32_t i = 0; i < plan->containers; i++)
        late = late || plan->container[i].late > 0;
    ck_assert(burner);
    ck_assert(fixed);
    ck_assert(late);
    ck_assert_int_gt(plan->goal[0].value, 0);
}
END_TEST

#define COOK(call)                                                                                 \
    "\"cooks\": [{\"id\": \"a\", \"name\": \"Ana\", \"call\": \"" call "\", \"wrap\": \"09:00\"}]"
#define OVEN                                                                                       \
    ", \"ovens\": [{\"id\": \"o\", \"name\": \"oven\", \"positions\": 2, \"heats\": \"10 "         \
    "C/min\"}]"
#define BAKE(id, degrees)                                                                          \
    "{\"id\": \"" id "\", \"title\": \"" id                                                        \
    "\", \"steps\": [{\"id\": \"bake\", \"text\": \"Bake\","                                       \
    "\"kind\": \"oven\", \"time\": \"25-27 min\", \"oven\": {\"temperature\": \"" degrees          \
    "\"}, \"hold\": {\"counter\": \"2 h\"}}]}"
#define DISH(id)                                                                                   \
    "{\"id\": \"" id "\", \"title\": \"" id "\", \"recipe\": \"" id "\", \"taste\": false}"
#define SHOWS(dish)                                                                                \
    "{\"id\": \"" dish "\", \"text\": \"" dish "\", \"dish\": \"" dish                             \
    "\", \"shows\": \"finished\", \"time\": \"60-180 s\", \"keep\": true}"

/* Written out by hand: the cook who is called at 07:40 has 15 minutes until 07:55. The dish takes
 * 20 and a minute to carry, so 07:34 is the latest; a call is on a full five minutes. */
START_TEST(a_call_too_late_is_named_and_the_call_that_would_do)
{
    char *text = prep_show_text(COOK("07:40"),
                                "{\"id\": \"d\", \"title\": \"D\", \"steps\": [{\"id\": \"cut\", "
                                "\"text\": \"Cut\", \"kind\": \"active\", \"time\": \"20 min\"}]}",
                                DISH("d"), SHOWS("d"));
    ck_assert_int_eq(make_text(text), BP_ENOFIT);
    ck_assert(plan->facts_minimal);
    ck_assert_uint_ge(plan->facts, 2);
    bool call = false, fix = false;
    for (uint32_t i = 0; i < plan->facts; i++)
        call = call || strcmp(plan->fact[i].text, "Ana can be called from 07:40") == 0;
    for (uint32_t i = 0; i < plan->fixes; i++)
        fix = fix || strcmp(plan->fix[i].text, "call Ana at 07:30") == 0;
    ck_assert(call);
    ck_assert(fix);
    ck_assert_int_eq(plan->verdict, BP_LATE);
    ck_assert_int_eq(plan->container[0].late, 6 * 60); /* 07:40 + 20 + 1 is 08:01 */
}
END_TEST

/* ---- facts of the trade ------------------------------------------------------------------ */

static const bp_op *the_op(bp_op_kind kind, const char *code)
{
    for (uint32_t i = 0; i < plan->ops; i++)
        for (uint32_t k = 0; plan->op[i].kind == kind && k < plan->op[i].serves.n; k++)
            if (strcmp(plan->container[plan->index[plan->op[i].serves.first + k]].code, code) == 0)
                return &plan->op[i];
    ck_abort_msg("no such operation");
}

/* Common practice, no source: two bakes at 400 F and 350 F in one oven cannot overlap. */
START_TEST(two_temperatures_do_not_share_an_oven)
{
    ck_assert_int_eq(
        make_text(prep_show_text(COOK("05:00") OVEN, BAKE("x", "400 F") "," BAKE("y", "350 F"),
                                 DISH("x") "," DISH("y"), SHOWS("x") "," SHOWS("y"))),
        BP_OK);
    check_plan();
    const bp_op *a = the_op(BP_OP_OVEN, "A1"), *b = the_op(BP_OP_OVEN, "B1");
    ck_assert_int_ne(a->oven_mC, b->oven_mC);
    const bp_op *first = a->from < b->from ? a : b, *second = first == a ? b : a;
    /* 50 F are 27.8 C: up at 10 C a minute 3 min, down at 5 C (the default) 6 min */
    ck_assert_int_ge(second->from - first->to, (second->oven_mC > first->oven_mC ? 3 : 6) * 60);
}
END_TEST

/* Common practice, no source: two at 350 F may. With 40 minutes of crew they must. */
START_TEST(one_temperature_is_shared)
{
    ck_assert_int_eq(
        make_text(prep_show_text(COOK("07:06") OVEN, BAKE("x", "350 F") "," BAKE("y", "350 F"),
                                 DISH("x") "," DISH("y"), SHOWS("x") "," SHOWS("y"))),
        BP_OK);
    check_plan();
    const bp_op *a = the_op(BP_OP_OVEN, "A1"), *b = the_op(BP_OP_OVEN, "B1");
    ck_assert(a->from < b->to && b->from < a->to);
}
END_TEST

/* Common practice, no source: an oven that bakes in the evening is not left on until the morning. It
 * is switched on anew, from cold: 160 degrees at 10 a minute, 16 min. */
START_TEST(an_oven_is_not_left_on_overnight)
{
    ck_assert_int_eq(
        make_text(prep_show_text(
            "\"cooks\": [{\"id\": \"a\", \"name\": \"Ana\", \"shifts\": [{\"call\": \"-1d 18:00\", "
            "\"wrap\": \"-1d 21:00\"}, {\"call\": \"07:15\", \"wrap\": \"09:00\"}]}]" OVEN
            ", \"places\": [{\"id\": \"c\", \"keeps\": \"cold\", \"count\": 2}]",
            "{\"id\": \"d\", \"title\": \"D\", \"steps\": ["
            "{\"id\": \"bake\", \"text\": \"Bake\", \"kind\": \"oven\", \"time\": \"90 min\", "
            "\"oven\": {\"temperature\": \"180 C\"}, \"hold\": {\"cold\": \"1 d\"}},"
            "{\"id\": \"warm\", \"text\": \"Warm\", \"kind\": \"oven\", \"time\": \"10 min\", "
            "\"oven\": {\"temperature\": \"180 C\"}, \"hold\": {\"counter\": \"30 min\"}}]}",
            DISH("d"), SHOWS("d"))),
        BP_OK);
    check_plan();
    uint32_t heats = 0;
    for (uint32_t i = 0; i < plan->ops; i++)
        if (plan->op[i].kind == BP_OP_PREHEAT) {
            ck_assert_str_eq(plan->op[i].key, heats ? "oven/o/preheat/2" : "oven/o/preheat");
            ck_assert_int_eq(plan->op[i].to > 0, heats);
            heats++;
        }
    ck_assert_uint_eq(heats, 2);
}
END_TEST

/* Two segments of three dishes; the onions of a dish may be chopped for all its containers at once,
 * or in any parts. `keep` is how long they keep. */
static char *three_dishes(const char *cooks, const char *each, const char *keep)
{
    static char text[6000];
    size_t n = 0;
    n += (size_t)snprintf(text, sizeof text,
                          "{\"backpot\": 1, \"id\": \"t\", \"title\": \"T\", \"date\": "
                          "\"2026-12-03\", \"zone\": \"UTC\", "
                          "\"kitchen\": {\"burners\": 4, \"cooks\": [%s]}, \"recipes\": [",
                          cooks);
    for (int d = 0; d < 3; d++)
        n += (size_t)snprintf(
            text + n, sizeof text - n,
            "%s{\"id\": \"r%d\", \"title\": \"R\", \"steps\": [{\"id\": \"chop\", \"text\": "
            "\"Chop\", "
            "\"kind\": \"active\", \"time\": \"40 min\", \"hold\": {\"counter\": \"%s\"}%s}, "
            "{\"id\": \"braise\", \"text\": \"Braise\", \"kind\": \"passive\", \"time\": \"15 "
            "min\", "
            "\"burner\": true}]}",
            d ? ", " : "", d, keep, each);
    n += (size_t)snprintf(text + n, sizeof text - n, "], \"segments\": [");
    for (int g = 0; g < 2; g++) {
        n +=
            (size_t)snprintf(text + n, sizeof text - n,
                             "%s{\"id\": \"s%d\", \"title\": \"S\", \"hit\": \"0%d:00\", \"slot\": "
                             "\"3:00\", \"dishes\": [",
                             g ? ", " : "", g, g + 7);
        for (int d = g; d < 1 + 2 * g; d++)
            n += (size_t)snprintf(text + n, sizeof text - n,
                                  "%s{\"id\": \"d%d\", \"recipe\": \"r%d\", \"taste\": false}",
                                  d > g ? ", " : "", d, d);
        n += (size_t)snprintf(text + n, sizeof text - n, "], \"beats\": [");
        for (int d = g; d < 1 + 2 * g; d++)
            n += (size_t)snprintf(
                text + n, sizeof text - n,
                "%s{\"id\": \"in%d\", \"text\": \"In\", \"dish\": \"d%d\", \"does\": [\"braise\"], "
                "\"time\": \"20-90 s\"}, {\"id\": \"out%d\", \"text\": \"Out\", \"dish\": \"d%d\", "
                "\"shows\": \"finished\", \"time\": \"20-90 s\"}",
                d > g ? ", " : "", d, d, d, d);
        n += (size_t)snprintf(text + n, sizeof text - n, "]}");
    }
    snprintf(text + n, sizeof text - n, "]}");
    char *kept = malloc(strlen(text) + 1);
    ck_assert_ptr_nonnull(kept);
    return strcpy(kept, text);
}

static uint32_t chops(uint32_t *joint)
{
    uint32_t n = 0;
    *joint = 0;
    for (uint32_t i = 0; i < plan->ops; i++)
        if (plan->op[i].kind == BP_OP_ACTIVE) {
            n++;
            *joint += plan->op[i].serves.n > 1;
        }
    return n;
}

#define KIM      "{\"id\": \"kim\", \"call\": \"01:00\", \"wrap\": \"09:30\"}"
#define LEE      "{\"id\": \"lee\", \"call\": \"01:00\", \"wrap\": \"09:30\"}"
#define MAY_JOIN ", \"together\": {\"once\": \"35 min\", \"each\": \"5 min\", \"split\": true}"

/* Each dish has two containers: what goes into the pot on air, and the finished one, whose pot is on
 * for 40 min. Chopped together the first waits at least so long: kept for 3 h it may, and the engine
 * proves that less of the cook's time is possible so; kept for 30 min it cannot. */
START_TEST(what_may_be_joined_is_joined_where_it_serves_and_keeps)
{
    uint32_t joint;
    ck_assert_msg(make_text(three_dishes(KIM, "", "3 h")) == BP_OK, "%s; %s", errs.item[0].wrong,
                  errs.item[0].right);
    ck_assert_uint_eq(chops(&joint), 6);
    ck_assert_uint_eq(joint, 0);
    ck_assert_str_eq(plan->goal[1].name, "crew time");
    int64_t least_apart = plan->goal[1].bound;
    done();
    ck_assert_int_eq(make_text(three_dishes(KIM, MAY_JOIN, "3 h")), BP_OK);
    check_plan();
    ck_assert_uint_lt(chops(&joint), 6);
    ck_assert_uint_gt(joint, 0);
    ck_assert_int_lt(plan->goal[1].value, least_apart);
    done();
    ck_assert_int_eq(make_text(three_dishes(KIM ", " LEE, MAY_JOIN, "20 min")), BP_OK);
    check_plan();
    ck_assert_uint_eq(chops(&joint), 6);
    ck_assert_uint_eq(joint, 0);
}
END_TEST

/* ---- out of memory ----------------------------------------------------------------------- */

/* Every request of the library is refused once. The engine asks for most of them; the problem is
 * small, so that it is over soon. */
static void every_request_fails_once(const char *call, bp_code whole)
{
    static char kitchen[200];
    snprintf(
        kitchen, sizeof kitchen,
        "\"cooks\": [{\"id\": \"a\", \"name\": \"Ana\", \"call\": \"%s\", \"wrap\": \"09:00\"}]",
        call);
    char *text = prep_show_text(kitchen,
                                "{\"id\": \"d\", \"title\": \"D\", \"steps\": [{\"id\": \"cut\", "
                                "\"text\": \"Cut\", \"kind\": \"active\", \"time\": \"20 min\"}]}",
                                DISH("d"), SHOWS("d"));
    bp_plan_options options = {.work = 20000};
    errs.n = errs.more = 0;
    ck_assert_int_eq(bp_show_read(&show, text, strlen(text), "t.json", NULL, &errs), BP_OK);
    free(text);
    long alive = bpi_mem_alive();
    int fired = 1;
    for (long k = 0; fired; k++) {
        bpi_mem_fail_at(k, 0);
        errs.n = errs.more = 0;
        bp_code rc = bp_plan_make(&plan, show, &options, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_msg(rc == (fired ? BP_ENOMEM : whole), "request %ld: %d", k, (int)rc);
        ck_assert(fired ? plan == NULL : plan != NULL);
        bp_plan_free(plan);
        plan = NULL;
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
}

START_TEST(a_plan_survives_any_refused_request)
{
    every_request_fails_once("05:00", BP_OK);
}
END_TEST

START_TEST(an_explanation_survives_any_refused_request)
{
    every_request_fails_once("07:40", BP_ENOFIT);
}
END_TEST

Suite *suite_plan_make(void);
Suite *suite_plan_make(void)
{
    Suite *s = suite_create("plan/make");
    TCase *c = tcase_create("plans");
    tcase_add_checked_fixture(c, NULL, done);
    tcase_add_loop_test(c, a_shipped_show_is_planned_in_time, 0,
                        (int)(sizeof shipped / sizeof *shipped));
    tcase_add_test(c, two_runs_give_one_plan);
    tcase_add_test(c, a_show_that_cannot_be_planned_says_why_and_what_helps);
    tcase_add_test(c, a_call_too_late_is_named_and_the_call_that_would_do);
    tcase_add_test(c, two_temperatures_do_not_share_an_oven);
    tcase_add_test(c, one_temperature_is_shared);
    tcase_add_test(c, an_oven_is_not_left_on_overnight);
    tcase_add_test(c, what_may_be_joined_is_joined_where_it_serves_and_keeps);
    tcase_add_test(c, a_plan_survives_any_refused_request);
    tcase_add_test(c, an_explanation_survives_any_refused_request);
    suite_add_tcase(s, c);
    return s;
}

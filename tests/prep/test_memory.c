/* Prep with each request for memory refused in turn: one message, nothing kept, and never half a
 * problem, half a schedule or half an explanation. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "prep/solve.h"
#include "prep/why.h"
#include "support/prep_show.h"

static bp_errors errs;
static bp_show *show;
static bpi_arena *base;
static bpi_live *live;

static void open_show(const char *path)
{
    errs.n = errs.more = 0;
    ck_assert_int_eq(bp_show_open(&show, path, &errs), BP_OK);
    base = bpi_arena_new();
    ck_assert_ptr_nonnull(base);
    ck_assert_int_eq(bpi_live_make(&live, base, show, &errs), BP_OK);
}

static void done(void)
{
    bpi_mem_fail_at(-1, 0);
    bpi_arena_free(base);
    bp_show_free(show);
    base = NULL;
    show = NULL;
}

/* What is done with the show: in an arena that is given back afterwards. */
typedef bp_code asked(bpi_arena *a, const void *with);

/* Ask again and again, each time with another request refused, until none is met any more; returns
 * how often one was. */
static long refuse(asked *ask, const void *with, int after, long stride)
{
    long times = -1;
    bool met = true;
    for (long k = 0; met; k += stride, times++) {
        bpi_arena *a = bpi_arena_new();
        ck_assert_ptr_nonnull(a);
        errs.n = errs.more = 0;
        long alive = bpi_mem_alive();
        bpi_mem_fail_at(k, after);
        bp_code rc = ask(a, with);
        met = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_msg(rc == (met ? BP_ENOMEM : BP_OK), "request %ld: %d", k, (int)rc);
        ck_assert_uint_eq(errs.n, met ? 1 : 0);
        bpi_arena_free(a);
        ck_assert_int_lt(bpi_mem_alive(),
                         alive); /* the arena is gone, and all that came after it */
    }
    return times;
}

static long refuse_each(asked *ask, const void *with, int after)
{
    return refuse(ask, with, after, 1);
}

/* ---- the problem ------------------------------------------------------------------------- */

static const char *const shows[] = {
    "shows/cottage-remote.json",       "shows/festival-two-hits.json",
    "shows/harbour-breakfast.json",    "shows/lock-keeper-day-ahead.json",
    "shows/orchard-two-segments.json", "shows/one-burner-too-few.json",
};

static bp_code make_problem(bpi_arena *a, const void *with)
{
    bpi_prep *p = NULL;
    bp_code rc = bpi_prep_make(&p, a, show, live, with, &errs);
    ck_assert((p != NULL) == (rc == BP_OK));
    return rc;
}

START_TEST(a_problem_is_made_whole_or_refused)
{
    open_show(shows[_i]);
    const bpi_prep_change late = {.late = true, .at_most = 8}, implied = {.implied = true};
    ck_assert_int_gt(refuse_each(make_problem, NULL, 0), 0);
    ck_assert_int_gt(refuse_each(make_problem, NULL, 1), 0);
    ck_assert_int_gt(refuse_each(make_problem, &late, 0), 0);
    ck_assert_int_gt(refuse_each(make_problem, &implied, 0), 0);
}
END_TEST

/* ---- a schedule -------------------------------------------------------------------------- */

static const bp_eng_limits little = {.work = 20000};

static bp_code make_schedule(bpi_arena *a, const void *with)
{
    bpi_schedule *s = NULL;
    bp_code rc = bpi_solve(&s, a, with, &little, &errs);
    ck_assert((s != NULL) == (rc == BP_OK));
    ck_assert(!s || s->status == BP_ENG_UNKNOWN || (s->start && s->latest && s->place && s->prep));
    return rc;
}

#define COOK(call, wrap)                                                                           \
    "{\"id\": \"b\", \"name\": \"Bo\", \"call\": \"" call "\", \"wrap\": \"" wrap "\"}"
#define KITCHEN(cooks)                                                                             \
    "\"cooks\": [" cooks "], \"burners\": 1, \"ovens\": [{\"id\": \"o\", \"name\": \"oven\", "     \
    "\"positions\": 1}], \"vessels\": [{\"id\": \"pot\", \"name\": \"pot\", \"count\": 1}], "      \
    "\"places\": [{\"id\": \"h\", \"name\": \"hot\", \"keeps\": \"hot\", \"count\": 1}]"
#define STEP(id, rest) "{\"id\": \"" id "\", \"text\": \"" id "\", " rest "}"
#define RECIPE(steps)  "{\"id\": \"r\", \"title\": \"R\", \"steps\": [" steps "]}"
#define DISH           "{\"id\": \"d\", \"title\": \"D\", \"recipe\": \"r\", \"taste\": false}"
#define BEATS                                                                                      \
    "{\"id\": \"end\", \"text\": \"end\", \"dish\": \"d\", \"shows\": \"finished\", \"time\": "    \
    "\"20-180 s\"}"

static prep_show p;

static void done_small(void)
{
    bpi_mem_fail_at(-1, 0);
    prep_show_release(&p);
}

START_TEST(a_schedule_is_found_whole_or_refused)
{
    prep_show_init(
        &p, prep_show_text(KITCHEN(COOK("05:00", "09:00")),
                           RECIPE(STEP("cut", "\"kind\": \"active\", \"time\": \"5 min\"") "," STEP(
                               "bake", "\"kind\": \"oven\", \"time\": \"20-25 min\", \"oven\": "
                                       "{\"temperature\": \"200 C\"}, \"hold\": {\"hot\": \"1 h\", "
                                       "\"counter\": \"20 min\"}")),
                           DISH, BEATS));
    ck_assert_int_gt(refuse_each(make_schedule, p.prep, 0), 10);
    ck_assert_int_gt(refuse_each(make_schedule, p.prep, 1), 10);
}
END_TEST

/* ---- why not ----------------------------------------------------------------------------- */

static bp_code explain(bpi_arena *a, const void *with)
{
    bpi_why_not *why = NULL;
    bp_code rc = bpi_why_make(&why, a, with, &little, true, 1, &errs);
    ck_assert((why != NULL) == (rc == BP_OK));
    return rc;
}

#define CUT(time) STEP("cut", "\"kind\": \"active\", \"time\": \"" time "\"")
#define BOIL(more)                                                                                 \
    STEP("boil", "\"kind\": \"passive\", \"time\": \"30 min\", \"burner\": true, \"hold\": "       \
                 "{}" more)
#define BAKE                                                                                       \
    STEP("bake", "\"kind\": \"oven\", \"time\": \"30 min\", \"after\": [], \"hold\": {}, "         \
                 "\"oven\": {\"temperature\": \"200 C\"}")
#define JOIN                                                                                       \
    STEP("join", "\"kind\": \"active\", \"time\": \"1 min\", \"after\": [\"boil\", \"bake\"]")

#define GLAZE STEP("glaze", "\"kind\": \"active\", \"time\": \"1 min\"")
#define SPARED                                                                                     \
    "{\"id\": \"d\", \"title\": \"D\", \"recipe\": \"r\", \"taste\": false, \"spares\": "          \
    "{\"finished\": 1}}"
#define GLAZED                                                                                     \
    "{\"id\": \"glaze\", \"text\": \"glaze\", \"dish\": \"d\", \"does\": [\"glaze\"], \"time\": "  \
    "\"20-180 s\"}"

/* Shows without a plan, each with changes of another kind on offer. */
static const struct {
    const char *kitchen, *recipe, *dish, *beats;
    long stride; /* more than one where a run takes long */
} none[] = {
    /* a call that comes too late, and a wrap that comes too soon */
    {KITCHEN(COOK("07:20", "09:00")), RECIPE(CUT("40 min")), DISH, BEATS, 1},
    {KITCHEN(COOK("07:20", "07:30")), RECIPE(CUT("40 min")), DISH, BEATS, 1},
    /* not enough pots, and two that cannot end at once */
    {KITCHEN(COOK("05:00", "09:00")),
     RECIPE(BOIL(", \"after\": [], \"vessels\": [\"pot\", \"pot\"]") "," BAKE "," JOIN), DISH,
     BEATS, 7},
    /* a spare that there is no time for, and a beat that takes a container of its own */
    {KITCHEN(COOK("07:15", "09:00")), RECIPE(CUT("30 min")), SPARED, BEATS, 1},
    {KITCHEN(COOK("07:15", "09:00")), RECIPE(CUT("30 min") "," GLAZE), DISH, GLAZED "," BEATS, 3},
};

START_TEST(an_explanation_is_given_whole_or_refused)
{
    prep_show_init(
        &p, prep_show_text(none[_i].kitchen, none[_i].recipe, none[_i].dish, none[_i].beats));
    ck_assert_int_gt(refuse(explain, p.prep, 0, none[_i].stride), 20);
    ck_assert_int_gt(refuse(explain, p.prep, 1, 3 * none[_i].stride), 20);
}
END_TEST

Suite *suite_prep_memory(void);
Suite *suite_prep_memory(void)
{
    Suite *s = suite_create("prep/memory");
    TCase *c = tcase_create("shipped");
    tcase_add_checked_fixture(c, NULL, done);
    tcase_add_loop_test(c, a_problem_is_made_whole_or_refused, 0, sizeof shows / sizeof *shows);
    suite_add_tcase(s, c);
    c = tcase_create("small");
    tcase_add_checked_fixture(c, NULL, done_small);
    tcase_add_test(c, a_schedule_is_found_whole_or_refused);
    tcase_add_loop_test(c, an_explanation_is_given_whole_or_refused, 0, sizeof none / sizeof *none);
    suite_add_tcase(s, c);
    return s;
}

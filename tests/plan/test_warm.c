/* Hot places that are heated: switched on in time, on no longer than for a day. Small shows of our own
 * making, worked by hand beside each; tests/plan/cabinet.json, invented, for mended days. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "backpot/backpot.h"
#include "model/show.h"
#include "support/prep_show.h"

#define CABINET "tests/plan/cabinet.json"
#define HEATED  "\"temperature\": \"65 C\", \"heats\": \"1 C/min\""

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;

static void done(void)
{
    prep_show_free(&plan, &show);
}

/* Two containers rest for 10 min in a hot place, one of them is then dressed; one cook, a minute for each
 * thing that is done by hand. */
static bp_code two_rest(const char *shifts, const char *places)
{
    char kitchen[700];
    snprintf(kitchen, sizeof kitchen,
             "\"cooks\": [{\"id\": \"ana\", \"shifts\": [%s]}], \"places\": [%s]", shifts, places);
    return prep_show_plan(
        &plan, &show,
        prep_show_text(
            kitchen,
            "{\"id\": \"r\", \"title\": \"Dough\", \"steps\": [{\"id\": \"rest\", "
            "\"text\": \"Let it rest\", \"kind\": \"passive\", \"time\": \"10 min\", "
            "\"keep\": \"hot\", \"hold\": {\"hot\": \"20 min\", \"set\": \"20 min\"}, "
            "\"ingredients\": [{\"item\": \"flour\", \"amount\": \"1 kg\"}]}, "
            "{\"id\": \"dress\", \"text\": \"Dress\", \"kind\": \"active\", "
            "\"time\": \"1 min\", \"hold\": {\"hot\": \"20 min\", \"set\": \"20 min\"}}]}",
            "{\"id\": \"d\", \"title\": \"Dough\", \"recipe\": \"r\"}",
            PREP_SHOW_IN_AND_OUT("rest")),
        0, &errs);
}

#define SHIFT(from, to) "{\"call\": \"" from "\", \"wrap\": \"" to "\"}"
#define PLACE(id, heated)                                                                          \
    "{\"id\": \"" id "\", \"name\": \"" id "\", \"keeps\": \"hot\", \"count\": 6, " heated "}"
#define COLD PLACE("cupboard", HEATED)
#define HOT  PLACE("drawer", "\"temperature\": \"65 C\"")

static const bp_op *switched_on(const bp_plan *p)
{
    const bp_op *on = NULL;
    for (uint32_t i = 0; i < p->ops; i++)
        if (p->op[i].kind == BP_OP_WARM_UP) {
            ck_assert_ptr_null(on);
            on = &p->op[i];
        }
    return on;
}

static bool stands_in(const bp_op *op, const char *place)
{
    for (uint32_t i = 0; i < op->uses.n; i++)
        if (strcmp(plan->thing[plan->index[op->uses.first + i]].id, place) == 0)
            return true;
    return false;
}

static int64_t first_in(const char *place)
{
    int64_t first = INT64_MAX;
    for (uint32_t i = 0; i < plan->ops; i++)
        if (stands_in(&plan->op[i], place) && plan->op[i].from < first)
            first = plan->op[i].from;
    return first;
}

static bool has_fact(const char *text)
{
    for (uint32_t i = 0; i < plan->facts; i++)
        if (strcmp(plan->fact[i].text, text) == 0)
            return true;
    return false;
}

static bool has_fix(const char *text)
{
    for (uint32_t i = 0; i < plan->fixes; i++)
        if (strstr(plan->fix[i].text, text))
            return true;
    return false;
}

static bool objects(const char *word)
{
    return prep_show_objects(plan, show, word, &errs);
}

/* ---- planned ----------------------------------------------------------------------------------- */

/* Put in (1), rested (10), dressed (1), carried (1), and the other carried (1), which was put in meanwhile:
 * the first is put in 14 min before 07:55, at 07:41, and stands from 07:42. From 20 to 65 C at 1 C a minute
 * are 45 min, and a minute to switch it on: 06:56. */
START_TEST(it_is_switched_on_so_long_before)
{
    ck_assert_int_eq(two_rest(SHIFT("07:41", "09:00"), HOT), BP_OK);
    ck_assert_ptr_null(switched_on(plan));
    done();
    ck_assert_int_eq(two_rest(SHIFT("07:42", "09:00"), HOT), BP_ENOFIT);
    done();
    ck_assert_int_eq(two_rest(SHIFT("06:00", "09:00"), COLD), BP_OK);
    const bp_op *on = switched_on(plan);
    ck_assert_ptr_nonnull(on);
    ck_assert_str_eq(on->key, "place/cupboard/warm-up");
    ck_assert_str_eq(on->text, "Switch on the cupboard: 65 °C (149 °F), hot in 45 min");
    ck_assert_int_eq(on->from, 6 * 3600 + 56 * 60);
    ck_assert_int_eq(on->to, on->from + 60);
    ck_assert_int_eq(first_in("cupboard"), on->to + 45 * 60);
    ck_assert_uint_eq(on->serves.n, 0);
    ck_assert_uint_eq(on->uses.n, 0);
    done();
}
END_TEST

START_TEST(who_comes_too_late_for_it_is_told_why)
{
    ck_assert_int_eq(two_rest(SHIFT("06:57", "09:00"), COLD), BP_ENOFIT);
    ck_assert(has_fact("cupboard has to be switched on, and takes 45 min until it is hot"));
    bp_plan_free(plan); /* and with the changes that would help */
    ck_assert_int_eq(bp_plan_make(&plan, show, NULL, &errs), BP_ENOFIT);
    ck_assert(has_fix("call ana at 06:55")); /* calls are offered in fives */
    done();
    ck_assert_int_eq(two_rest(SHIFT("06:56", "09:00"), COLD), BP_OK);
    done();
}
END_TEST

/* What is hot already does, where it has the room. */
START_TEST(a_hot_place_is_taken_before_a_cold_one)
{
    ck_assert_int_eq(two_rest(SHIFT("06:00", "09:00"), COLD ", " HOT), BP_OK);
    ck_assert_ptr_null(switched_on(plan));
    ck_assert_int_eq(first_in("cupboard"), INT64_MAX);
    ck_assert_int_eq(first_in("drawer"), 7 * 3600 + 42 * 60);
    done();
}
END_TEST

/* Half a degree more takes a whole minute. Where it is as hot as it is set to be, who switches it on puts
 * in the first container next. */
START_TEST(the_time_is_what_is_missing_by_the_rate)
{
    static const struct {
        const char *heated;
        int64_t minutes;
    } by[] = {
        {"\"temperature\": \"65 C\", \"heats\": \"2 C/min\"", 23},
        {"\"temperature\": \"149 F\", \"heats\": \"9 F/min\"", 9},
        {"\"temperature\": \"65.5 C\", \"heats\": \"5 C/min\"", 10},
        {"\"temperature\": \"65 C\", \"heats\": \"1 C/min\", \"cold\": \"35 C\"", 30},
        {"\"temperature\": \"55 C\", \"heats\": \"1 C/min\", \"cold\": \"60 C\"", 1},
    };
    char place[200];
    snprintf(place, sizeof place, PLACE("cupboard", "%s"), by[_i].heated);
    bp_code rc = two_rest(SHIFT("06:00", "09:00"), place);
    ck_assert_msg(rc == BP_OK || rc == BP_EUNSAFE, "%s", errs.n ? errs.item[0].wrong : "");
    ck_assert_int_eq(first_in("cupboard"), switched_on(plan)->to + by[_i].minutes * 60);
    done();
}
END_TEST

/* ---- nights ------------------------------------------------------------------------------------ */

/* Who wrapped four hours before somebody comes has left it off. */
START_TEST(it_is_not_on_over_a_night)
{
    ck_assert_int_eq(two_rest(SHIFT("01:00", "02:57") ", " SHIFT("06:57", "09:00"), COLD),
                     BP_ENOFIT);
    ck_assert(has_fact("cupboard has to be switched on, and takes 45 min until it is hot"));
    done();
    ck_assert_int_eq(two_rest(SHIFT("01:00", "02:58") ", " SHIFT("06:57", "09:00"), COLD), BP_OK);
    ck_assert_str_eq(switched_on(plan)->key, "place/cupboard/warm-up");
    ck_assert_int_eq(switched_on(plan)->to, 2 * 3600 + 58 * 60);
    done();
    ck_assert_int_eq(two_rest(SHIFT("-1d 16:00", "-1d 18:00") ", " SHIFT("06:00", "09:00"), COLD),
                     BP_OK);
    ck_assert_str_eq(switched_on(plan)->key, "place/cupboard/warm-up/2");
    ck_assert_int_eq(switched_on(plan)->from, 6 * 3600 + 56 * 60);
    done();
}
END_TEST

/* ---- the checker ------------------------------------------------------------------------------- */

START_TEST(the_checker_works_it_out_by_itself)
{
    ck_assert_int_eq(two_rest(SHIFT("-1d 16:00", "-1d 18:00") ", " SHIFT("06:00", "09:00"), COLD),
                     BP_OK);
    bp_op *on = (bp_op *)switched_on(plan), was = *on;
    on->from += 60;
    on->to += 60;
    on->latest_from += 60;
    ck_assert(objects("place cupboard is not hot then"));
    *on = was;
    on->from = -8 * 3600 + 30 * 60;
    on->to = on->from + 60;
    ck_assert(objects("place cupboard is on over a night"));
    *on = was;
    on->kind = BP_OP_RESET;
    ck_assert(objects("place cupboard is not hot then"));
    *on = was;
    on->key = "place/drawer/warm-up";
    ck_assert(objects("the show has no such place that is heated"));
    on->key = "place/cupboard/warm-up/x";
    ck_assert(objects("the show has no such place that is heated"));
    *on = was;
    ck_assert_int_eq(bp_plan_verify(plan, show, &errs), BP_OK);
    bp_op *other = NULL; /* a second time, or for nothing */
    for (uint32_t i = 0; i < plan->ops && !other; i++)
        if (plan->op[i].kind == BP_OP_LOAD)
            other = (bp_op *)&plan->op[i];
    ck_assert_ptr_nonnull(other);
    was = *other;
    *other = *on;
    other->key = "place/cupboard/warm-up";
    other->from += 1800;
    other->to += 1800;
    ck_assert(objects("it is switched on once more on that day"));
    other->from = -8 * 3600 + 30 * 60;
    other->to = other->from + 60;
    ck_assert(objects("nothing stands there then"));
    *other = was;
    done();
}
END_TEST

/* ---- a day that goes wrong --------------------------------------------------------------------- */

/* Whenever somebody looks, what was switched on stays so, and what was not is switched on from then. */
START_TEST(a_mended_day_knows_what_is_on)
{
    bp_plan *before = NULL;
    int64_t now = 0, t = 6 * 3600 + 40 * 60 + _i * 420;
    char line[40];
    snprintf(line, sizeof line, "%02d:%02d A2 burnt", (int)(t / 3600), (int)(t / 60 % 60));
    const char *lines = line;
    errs = (bp_errors){0};
    ck_assert_int_eq(bp_show_open(&show, CABINET, &errs), BP_OK);
    bp_code rc = bp_plan_mend(&plan, &before, &now, show, &lines, 1, &errs);
    if (rc == BP_EVALUE) { /* nothing of it was begun, so nothing burnt */
        ck_assert_ptr_null(plan);
        bp_show_free(show);
        return;
    }
    ck_assert_msg((rc == BP_OK || rc == BP_ENOFIT) && plan, "%s", errs.n ? errs.item[0].wrong : "");
    const bp_op *was = switched_on(before), *on = switched_on(plan);
    ck_assert(was && on);
    if (was->from < now) {
        ck_assert_int_eq(on->from, was->from);
        ck_assert_uint_eq(on->person, was->person);
    } else
        ck_assert_int_ge(on->from, now);
    ck_assert_int_ge(first_in("cabinet"), on->to + 45 * 60);
    bp_plan_free(before);
    done();
}
END_TEST

START_TEST(no_memory_is_no_plan)
{
    prep_show_refuse(CABINET, NULL);
}
END_TEST

Suite *suite_plan_warm(void);
Suite *suite_plan_warm(void)
{
    Suite *s = suite_create("plan/warm");
    TCase *c = tcase_create("warm");
    tcase_set_timeout(c, 0);
    tcase_add_test(c, it_is_switched_on_so_long_before);
    tcase_add_test(c, who_comes_too_late_for_it_is_told_why);
    tcase_add_test(c, a_hot_place_is_taken_before_a_cold_one);
    tcase_add_loop_test(c, the_time_is_what_is_missing_by_the_rate, 0, 5);
    tcase_add_test(c, it_is_not_on_over_a_night);
    tcase_add_test(c, the_checker_works_it_out_by_itself);
    tcase_add_loop_test(c, a_mended_day_knows_what_is_on, 0, 12);
    tcase_add_test(c, no_memory_is_no_plan);
    suite_add_tcase(s, c);
    return s;
}

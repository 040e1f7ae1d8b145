/* The jobs that prep builds for each kind of step, and what they take. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"
#include "support/prep_show.h"

#define KITCHEN                                                                                    \
    "\"cooks\": [{\"id\": \"a\", \"name\": \"Ana\", \"call\": \"05:00\", \"wrap\": \"09:00\","     \
    "\"skills\": [\"pastry\"]}, {\"id\": \"b\", \"name\": \"Bo\", \"call\": \"05:00\", \"wrap\": " \
    "\"09:00\"}], \"burners\": 2, \"ovens\": [{\"id\": \"o\", \"name\": \"oven\", \"positions\": " \
    "2, \"heats\": \"10 C/min\", \"cools\": \"5 C/min\", \"cold\": \"20 C\"}],"                    \
    "\"vessels\": [{\"id\": \"pot\", \"name\": \"pot\", \"count\": 3}],"                           \
    "\"places\": [{\"id\": \"h\", \"name\": \"hot\", \"keeps\": \"hot\", \"count\": 2}]"
#define STEP(id, rest)   "{\"id\": \"" id "\", \"text\": \"" id "\", " rest "}"
#define ACTIVE(id, time) STEP(id, "\"kind\": \"active\", \"time\": \"" time "\"")
#define RECIPE(steps)    "{\"id\": \"r\", \"title\": \"R\", \"steps\": [" steps "]}"
#define DISH(id)         "{\"id\": \"" id "\", \"title\": \"D\", \"recipe\": \"r\", \"taste\": false}"
#define SHOWS(id, dish, what)                                                                      \
    "{\"id\": \"" id "\", \"text\": \"" id "\", \"dish\": \"" dish "\", " what                     \
    ", \"time\": \"20-180 s\"}"
#define FINISHED "\"shows\": \"finished\""

static prep_show p;

/* One dish of these steps, shown finished and nothing else. */
static void one_dish(const char *recipe)
{
    prep_show_init(&p, prep_show_text(KITCHEN, recipe, DISH("d"), SHOWS("show", "d", FINISHED)));
}

static void done(void)
{
    prep_show_release(&p);
}

START_TEST(a_simmer_is_put_on_and_taken_off_inside_its_window)
{
    one_dish(RECIPE(STEP("simmer", "\"kind\": \"passive\", \"time\": \"15-18 min\", "
                                   "\"burner\": true, \"vessels\": [\"pot\"]")));
    uint32_t load = prep_show_job(&p, BP_OP_LOAD, "simmer", "A1");
    uint32_t simmer = prep_show_job(&p, BP_OP_PASSIVE, "simmer", "A1");
    uint32_t off = prep_show_job(&p, BP_OP_TAKE_OFF, "simmer", "A1");
    const bp_eng_option *o = prep_show_option(&p, simmer, 0);
    ck_assert_int_eq(o->least, 15);
    ck_assert_int_eq(o->most, 18);
    ck_assert_int_eq(p.prep->fact[o->fact].kind, BPI_FACT_WINDOW);
    ck_assert_int_eq(prep_show_needs(&p, o, BPI_RES_BURNER, 0), 1);
    ck_assert_int_eq(prep_show_needs(&p, o, BPI_RES_TOOL, 0), 1);
    ck_assert_int_eq(o->who, -1);
    ck_assert_int_eq(prep_show_needs(&p, prep_show_option(&p, load, 0), BPI_RES_BURNER, 0), 1);
    /* The pot stands on its burner until somebody has taken it off. */
    ck_assert_int_eq(prep_show_needs(&p, prep_show_option(&p, off, 0), BPI_RES_BURNER, 0), 1);
    ck_assert_int_eq(prep_show_needs(&p, prep_show_option(&p, off, 0), BPI_RES_TOOL, 0), 1);
    ck_assert_int_eq(prep_show_lag(&p, load, BP_ENG_END, simmer, BP_ENG_START), 0);
    ck_assert_int_eq(prep_show_lag(&p, simmer, BP_ENG_START, load, BP_ENG_END), 0);
    ck_assert_int_eq(prep_show_lag(&p, simmer, BP_ENG_END, off, BP_ENG_START), 0);
    ck_assert_int_eq(prep_show_lag(&p, off, BP_ENG_START, simmer, BP_ENG_END), 0);
}
END_TEST

static const struct {
    const char *what, *time;
    bp_op_kind kind;
    int32_t least, most;
    uint32_t take_offs;
} on_a_burner[] = {
    {"a single time is exact", "15 min", BP_OP_PASSIVE, 15, 15, 1},
    {"a window in seconds shrinks to whole minutes", "100-200 s", BP_OP_PASSIVE, 2, 3, 1},
    {"no whole minute in it: the cook stays, long enough", "90 s", BP_OP_ACTIVE, 2, 2, 0},
    {"a window between two minutes is watched as well", "70-110 s", BP_OP_ACTIVE, 2, 2, 0},
};

START_TEST(a_burner_is_left_only_on_a_whole_minute)
{
    char recipe[300];
    snprintf(recipe, sizeof recipe,
             RECIPE(STEP("s", "\"kind\": \"passive\", \"burner\": true, \"time\": \"%s\"")),
             on_a_burner[_i].time);
    one_dish(recipe);
    uint32_t j = prep_show_job(&p, on_a_burner[_i].kind, "s", "A1");
    ck_assert_int_eq(prep_show_option(&p, j, 0)->least, on_a_burner[_i].least);
    ck_assert_int_eq(prep_show_option(&p, j, 0)->most, on_a_burner[_i].most);
    ck_assert_msg(prep_show_count(&p, BP_OP_TAKE_OFF, "s", NULL) == on_a_burner[_i].take_offs, "%s",
                  on_a_burner[_i].what);
}
END_TEST

START_TEST(a_rest_goes_on_by_itself_and_nobody_ends_it)
{
    one_dish(RECIPE(ACTIVE("mix", "2 min") "," STEP(
        "rest", "\"kind\": \"passive\", \"time\": \"10 min\", "
                "\"hold\": {\"counter\": \"1 h\", \"hot\": \"2 h\"}")));
    ck_assert_uint_eq(prep_show_count(&p, BP_OP_TAKE_OFF, NULL, NULL), 0);
    uint32_t load = prep_show_job(&p, BP_OP_LOAD, "rest", "A1");
    ck_assert(p.prep->job[load].optional);
    ck_assert(p.prep->way[p.prep->problem.activity[load].option0].out);
    uint32_t wait = prep_show_job(&p, BP_OP_WAIT, "rest", "A1");
    ck_assert_uint_eq(p.prep->problem.activity[wait].options, 1); /* it stays where it is */
    ck_assert_int_eq(p.prep->way[p.prep->problem.activity[wait].option0].keep, BPI_COUNTER);
    ck_assert_int_eq(prep_show_option(&p, wait, 0)->most, 60);
}
END_TEST

START_TEST(what_adds_ingredients_needs_hands_to_start)
{
    one_dish(RECIPE(ACTIVE("mix", "2 min") "," STEP("soak",
                                                    "\"kind\": \"passive\", \"time\": \"10 min\", "
                                                    "\"ingredients\": [{\"item\": \"water\"}]")));
    ck_assert(!p.prep->job[prep_show_job(&p, BP_OP_LOAD, "soak", "A1")].optional);
}
END_TEST

START_TEST(a_bake_takes_a_position_at_its_temperature)
{
    one_dish(RECIPE(
        STEP("bake",
             "\"kind\": \"oven\", \"time\": \"25-28 min\", "
             "\"oven\": {\"temperature\": \"200 C\"}") "," STEP("again",
                                                                "\"kind\": \"oven\", \"time\": \"5 "
                                                                "min\", \"oven\": "
                                                                "{\"temperature\": \"180 C\"}")));
    uint32_t bake = prep_show_job(&p, BP_OP_OVEN, "bake", "A1");
    const bp_eng_option *o = prep_show_option(&p, bake, 0);
    ck_assert_int_eq(o->least, 25);
    ck_assert_int_eq(o->most, 28);
    ck_assert_int_eq(prep_show_needs(&p, o, BPI_RES_OVEN, 0), 1);
    ck_assert_int_eq(p.prep->problem.need[o->need0].state, 1); /* 180 C is 0, 200 C is 1 */
    static const bp_op_kind hands[] = {BP_OP_LOAD, BP_OP_TAKE_OFF};
    for (int i = 0; i < 2; i++) { /* whoever is at the door has the same position */
        const bp_eng_option *door =
            prep_show_option(&p, prep_show_job(&p, hands[i], "bake", "A1"), 0);
        ck_assert_int_eq(prep_show_needs(&p, door, BPI_RES_OVEN, 0), 1);
    }
    const bp_eng_resource *oven = &p.prep->problem.resource[p.prep->problem.need[o->need0].res];
    ck_assert_uint_eq(oven->states, 2);
    const int32_t *change = p.prep->problem.change + oven->change0;
    ck_assert_int_eq(change[0 * 2 + 0], 0);
    ck_assert_int_eq(change[0 * 2 + 1], 2); /* 20 degrees up at 10 a minute  */
    ck_assert_int_eq(change[1 * 2 + 0], 4); /* 20 degrees down at 5 a minute */
}
END_TEST

/* The preheat of a load at job `bake`. */
static uint32_t preheat_for(uint32_t bake)
{
    for (uint32_t j = 0; j < p.prep->problem.activities; j++)
        if (p.prep->job[j].kind == BP_OP_PREHEAT && p.prep->job[j].number == bake)
            return j;
    ck_abort_msg("nobody switches it on");
}

/* Least of a lag that holds only with option `opt` of job `act`; INT32_MIN: none. */
static int32_t lag_if(uint32_t from, bp_eng_end from_end, uint32_t to, bp_eng_end to_end,
                      uint32_t act, uint32_t opt)
{
    for (uint32_t i = 0; i < p.prep->problem.lags; i++) {
        const bp_eng_lag *l = &p.prep->problem.lag[i];
        if (l->from == from && l->from_end == from_end && l->to == to && l->to_end == to_end &&
            l->if_act == act && l->if_opt == opt)
            return l->least;
    }
    return INT32_MIN;
}

/* From 20 to 200 C at 10 a minute: 18 min; then at most the hour that it may stand empty. */
START_TEST(an_oven_is_hot_for_its_load_and_not_for_long_before)
{
    one_dish(RECIPE(STEP("bake", "\"kind\": \"oven\", \"time\": \"25-28 min\", "
                                 "\"oven\": {\"temperature\": \"200 C\"}")));
    uint32_t bake = prep_show_job(&p, BP_OP_OVEN, "bake", "A1"), on = preheat_for(bake);
    uint32_t in = prep_show_job(&p, BP_OP_LOAD, "bake", "A1");
    ck_assert_int_eq(lag_if(on, BP_ENG_END, in, BP_ENG_START, bake, 0), 18);
    ck_assert_int_eq(lag_if(in, BP_ENG_START, on, BP_ENG_END, bake, 0), -(18 + 60));
    ck_assert_uint_eq(p.prep->problem.activity[on].options, 3); /* left out, or one of two cooks */
    ck_assert_int_eq(prep_show_option(&p, on, 1)->least, 1);
}
END_TEST

/* 180 C after 200 C: the change takes 4 min, and the hour comes on top of it. */
START_TEST(a_load_may_follow_another_in_an_oven_that_is_on)
{
    one_dish(RECIPE(STEP(
        "bake",
        "\"kind\": \"oven\", \"time\": \"25 min\", "
        "\"oven\": {\"temperature\": \"200 C\"}") "," STEP("again", "\"kind\": \"oven\", \"time\": "
                                                                    "\"5 min\", "
                                                                    "\"oven\": {\"temperature\": "
                                                                    "\"180 C\"}")));
    uint32_t bake = prep_show_job(&p, BP_OP_OVEN, "bake", "A1");
    uint32_t again = prep_show_job(&p, BP_OP_OVEN, "again", "A1"), on = preheat_for(again);
    ck_assert_uint_eq(p.prep->problem.activity[on].options, 4);
    ck_assert(p.prep->way[p.prep->problem.activity[on].option0 + 3].out);
    ck_assert_int_eq(lag_if(bake, BP_ENG_START, again, BP_ENG_START, on, 3), 0);
    uint32_t in = prep_show_job(&p, BP_OP_LOAD, "again", "A1");
    uint32_t out = prep_show_job(&p, BP_OP_TAKE_OFF, "bake", "A1");
    ck_assert_int_eq(lag_if(in, BP_ENG_START, out, BP_ENG_END, on, 3), -(4 + 60));
}
END_TEST

START_TEST(one_job_serves_all_that_is_done_together)
{
    prep_show_init(
        &p, prep_show_text(
                KITCHEN,
                RECIPE(STEP("chop",
                            "\"kind\": \"active\", \"time\": \"6 min\", "
                            "\"together\": {\"once\": \"1 min\", "
                            "\"each\": \"4 min\"}") "," ACTIVE("fry", "5 min") "," ACTIVE("plate",
                                                                                          "3 min")),
                DISH("d"),
                SHOWS("fry", "d", "\"does\": [\"fry\"]") "," SHOWS(
                    "plate", "d", "\"does\": [\"plate\"]") "," SHOWS("end", "d", FINISHED)));
    ck_assert_uint_eq(p.prep->boxes, 3);
    uint32_t lead = BPI_NO_INDEX, parts = 0;
    for (uint32_t j = 0; j < p.prep->problem.activities; j++)
        if (p.prep->job[j].kind == BP_OP_ACTIVE && p.prep->job[j].step == 0) {
            const bp_eng_activity *a = &p.prep->problem.activity[j];
            if (p.prep->way[a->option0].with == 0) {
                lead = j;
                ck_assert_uint_eq(a->options, 2); /* by either cook, for all of them */
                ck_assert_int_eq(prep_show_option(&p, j, 0)->least, 1 + 3 * 4);
                continue;
            }
            ck_assert_uint_eq(a->options, 1); /* nothing to choose: part of that one */
            ck_assert_uint_eq(p.prep->way[a->option0].with, lead + 1);
            ck_assert_uint_eq(p.prep->problem.option[a->option0].needs, 0);
            parts++;
        }
    ck_assert_uint_eq(parts, 2);
    ck_assert_uint_eq(prep_show_count(&p, BP_OP_ACTIVE, "fry", NULL), 2);
    ck_assert_uint_eq(prep_show_count(&p, BP_OP_WAIT, "chop", NULL), 3); /* each its own way */
}
END_TEST

START_TEST(a_hold_names_the_places_where_it_may_wait)
{
    one_dish(RECIPE(STEP("cook", "\"kind\": \"active\", \"time\": \"2 min\", \"hold\": "
                                 "{\"hot\": \"40 min 30 s\", \"set\": \"12 min\"}")));
    uint32_t wait = prep_show_job(&p, BP_OP_WAIT, "cook", "A1");
    ck_assert_uint_eq(p.prep->problem.activity[wait].options, 1);
    const bp_eng_option *o = prep_show_option(&p, wait, 0);
    ck_assert_int_eq(o->least, 0);
    ck_assert_int_eq(o->most, 40); /* rounded down */
    ck_assert_int_eq(prep_show_needs(&p, o, BPI_RES_KEEP, BPI_HOT), 1);
    ck_assert_int_eq(p.prep->fact[o->fact].kind, BPI_FACT_HOLD);
    ck_assert_uint_gt(p.prep->fact[o->fact].where.line, 0);
    uint32_t set = prep_show_job(&p, BP_OP_SET, NULL, "A1");
    ck_assert_int_eq(prep_show_option(&p, set, 0)->most, 12);
    ck_assert_int_eq(p.prep->fact[prep_show_option(&p, set, 0)->fact].kind, BPI_FACT_HOLD_SET);
}
END_TEST

START_TEST(a_pot_stays_with_its_food_between_steps_that_name_it)
{
    one_dish(RECIPE(
        STEP("fry", "\"kind\": \"active\", \"time\": \"2 min\", \"vessels\": [\"pot\"]") "," STEP(
            "boil",
            "\"kind\": \"active\", \"time\": \"2 min\", \"vessels\": [\"pot\"]") "," ACTIVE("plate",
                                                                                            "1 "
                                                                                            "mi"
                                                                                            "n")));
    uint32_t held = prep_show_job(&p, BP_OP_WAIT, "fry", "A1");
    uint32_t freed = prep_show_job(&p, BP_OP_WAIT, "boil", "A1");
    ck_assert_int_eq(prep_show_needs(&p, prep_show_option(&p, held, 0), BPI_RES_TOOL, 0), 1);
    ck_assert_int_eq(prep_show_needs(&p, prep_show_option(&p, freed, 0), BPI_RES_TOOL, 0), 0);
}
END_TEST

START_TEST(a_skill_leaves_out_who_lacks_it)
{
    one_dish(
        RECIPE(STEP("roll", "\"kind\": \"active\", \"time\": \"2 min\", \"skill\": \"pastry\"")));
    uint32_t roll = prep_show_job(&p, BP_OP_ACTIVE, "roll", "A1");
    ck_assert_uint_eq(p.prep->problem.activity[roll].options, 2);
    for (uint32_t k = 0; k < 2; k++) {
        const bp_eng_option *o = prep_show_option(&p, roll, k);
        ck_assert_int_eq(prep_show_needs(&p, o, BPI_RES_MISSING, 0), o->who == 0 ? 0 : 1);
    }
}
END_TEST

START_TEST(raw_ingredients_are_measured)
{
    prep_show_init(
        &p,
        prep_show_text(
            KITCHEN,
            RECIPE(STEP("mix", "\"kind\": \"active\", \"time\": \"2 min\", \"ingredients\": ["
                               "{\"item\": \"a\"}, {\"item\": \"b\"}, {\"item\": \"c\"}, "
                               "{\"item\": \"d\"}, {\"item\": \"e\"}, {\"item\": \"f\"}, "
                               "{\"item\": \"g\"}]")),
            DISH("d"), SHOWS("raw", "d", "\"shows\": \"raw\"") "," SHOWS("end", "d", FINISHED)));
    uint32_t j = prep_show_job(&p, BP_OP_MEASURE, NULL, NULL);
    ck_assert_int_eq(prep_show_option(&p, j, 0)->least, 3); /* seven of them, three a minute */
}
END_TEST

#define CREAM                                                                                      \
    STEP("boil", "\"kind\": \"active\", \"time\": \"5 min\", \"hold\": {\"counter\": \"30 min\"}") \
    "," STEP("stir",                                                                               \
             "\"kind\": \"active\", \"time\": \"1 min\", \"ingredients\": [{\"item\": "            \
             "\"cream\"}, {\"item\": \"dill\"}, {\"item\": \"salt\"}, {\"item\": \"pepper\"}]")

/* Four of them, three a minute: two minutes, at whatever time, and onto the tray that is carried. */
START_TEST(what_goes_in_on_air_is_measured_beside_the_pot)
{
    prep_show_init(&p, prep_show_text(KITCHEN, RECIPE(CREAM), DISH("d"),
                                      SHOWS("stir", "d", "\"does\": [\"stir\"]") "," SHOWS(
                                          "end", "d", FINISHED)));
    uint32_t j = prep_show_job(&p, BP_OP_MEASURE, NULL, NULL);
    ck_assert_int_eq(prep_show_option(&p, j, 0)->least, 2);
    uint32_t pot = p.prep->serve[p.prep->job[j].serve0];
    ck_assert_uint_gt(p.live->air[0].swap[p.prep->box[pot].swap].steps, 0);
    uint32_t wait = j + 1, carry = p.prep->box[pot].carry;
    ck_assert_int_eq(p.prep->job[wait].kind, BP_OP_WAIT);
    ck_assert_int_eq(prep_show_lag(&p, wait, BP_ENG_END, carry, BP_ENG_START), 0);
}
END_TEST

/* On camera until 08:03, 30 min on counter and set, a minute of carrying: from 07:32 on. */
START_TEST(counter_and_set_are_one_room)
{
    one_dish(
        RECIPE(STEP("cook", "\"kind\": \"active\", \"time\": \"2 min\", \"hold\": "
                            "{\"counter\": \"30 min\", \"hot\": \"1 h\", \"set\": \"12 min\"}")));
    uint32_t wait = prep_show_job(&p, BP_OP_WAIT, "cook", "A1");
    bool found = false;
    for (uint32_t i = 0; i < p.prep->problem.lags; i++) {
        const bp_eng_lag *l = &p.prep->problem.lag[i];
        if (l->from != BP_ENG_ORIGIN || l->to != wait)
            continue;
        found = true;
        ck_assert_int_eq(p.prep->zero + (int64_t)l->least * 60, (7 * 60 + 32) * 60);
        ck_assert_uint_eq(l->if_act, wait);
        ck_assert_int_eq(p.prep->way[p.prep->problem.activity[wait].option0 + l->if_opt].keep,
                         BPI_COUNTER);
        ck_assert_int_eq(p.prep->fact[l->fact].kind, BPI_FACT_HOLD);
    }
    ck_assert(found);
}
END_TEST

START_TEST(a_container_is_on_set_by_the_lead_before_the_hit)
{
    one_dish(RECIPE(ACTIVE("cook", "2 min")));
    uint32_t carry = prep_show_job(&p, BP_OP_CARRY, NULL, "A1");
    int64_t by = -prep_show_lag(&p, carry, BP_ENG_END, BP_ENG_ORIGIN, BP_ENG_START);
    ck_assert_int_eq(p.prep->zero + by * 60, (7 * 60 + 55) * 60);
}
END_TEST

START_TEST(codes_are_letters_and_numbers_in_order_of_need)
{
    prep_show_init(&p, prep_show_text(KITCHEN,
                                      RECIPE(ACTIVE("cook", "2 min") "," ACTIVE("plate", "2 min")),
                                      DISH("x") "," DISH("y"),
                                      SHOWS("one", "y", "\"does\": [\"plate\"]") "," SHOWS(
                                          "two", "x", "\"does\": [\"plate\"]")));
    bool seen[2] = {false, false};
    ck_assert_str_eq(p.prep->box[0].code, "A1");
    for (uint32_t b = 0; b < p.prep->boxes; b++) {
        const bpi_box *box = &p.prep->box[b];
        ck_assert_uint_eq(box->dish, (uint32_t)(box->code[0] - 'A'));
        seen[box->code[0] - 'A'] = true;
        for (uint32_t c = 0; c < b; c++)
            ck_assert_str_ne(box->code, p.prep->box[c].code);
    }
    ck_assert(seen[0] && seen[1]);
}
END_TEST

START_TEST(minutes_round_the_right_way_on_either_side_of_midnight)
{
    ck_assert_int_eq(bpi_minutes_up(61), 2);
    ck_assert_int_eq(bpi_minutes_down(61), 1);
    ck_assert_int_eq(bpi_minutes_up(-61), -1);
    ck_assert_int_eq(bpi_minutes_down(-61), -2);
    ck_assert_int_eq(bpi_minutes_up(60), 1);
    ck_assert_int_eq(bpi_minutes_down(-60), -1);
}
END_TEST

/* A kitchen of two ovens: which one a bake may go into, and its heat among those asked of that one. */
START_TEST(a_bake_goes_into_the_oven_it_names)
{
    prep_show_init(
        &p, prep_show_text(
                "\"cooks\": [{\"id\": \"a\", \"name\": \"Ana\", \"call\": \"05:00\", \"wrap\": "
                "\"09:00\"}], \"ovens\": [{\"id\": \"o\", \"name\": \"o\", \"positions\": 1}, "
                "{\"id\": \"u\", \"name\": \"u\", \"positions\": 1}]",
                RECIPE(STEP("low",
                            "\"kind\": \"oven\", \"time\": \"5 min\", \"oven\": "
                            "{\"temperature\": \"90 C\"}") "," STEP("named",
                                                                    "\"kind\": \"oven\", \"time\": "
                                                                    "\"5 min\", \"oven\": "
                                                                    "{\"temperature\": \"200 C\", "
                                                                    "\"in\": \"u\"}")),
                DISH("d"), SHOWS("show", "d", FINISHED)));
    uint32_t low = prep_show_job(&p, BP_OP_OVEN, "low", "A1");
    uint32_t named = prep_show_job(&p, BP_OP_OVEN, "named", "A1");
    ck_assert_uint_eq(p.prep->problem.activity[low].options, 2);
    ck_assert_uint_eq(p.prep->problem.activity[named].options, 1);
    const bp_eng_option *o = prep_show_option(&p, named, 0);
    ck_assert_int_eq(prep_show_needs(&p, o, BPI_RES_OVEN, 0), 0);
    ck_assert_int_eq(prep_show_needs(&p, o, BPI_RES_OVEN, 1), 1);
    ck_assert_int_eq(p.prep->problem.need[o->need0].state, 1); /* 90 C is 0 there */
    for (uint32_t i = 0; i < p.prep->problem.resources; i++)
        if (p.prep->res[i].kind == BPI_RES_OVEN)
            ck_assert_uint_eq(p.prep->problem.resource[i].states, p.prep->res[i].a == 1 ? 2 : 1);
}
END_TEST

/* 90 s of rest: two minutes, for nobody sees what is done by half a minute. */
START_TEST(a_rest_lasts_whole_minutes)
{
    one_dish(RECIPE(STEP("rest", "\"kind\": \"passive\", \"time\": \"90 s\"")));
    uint32_t rest = prep_show_job(&p, BP_OP_PASSIVE, "rest", "A1");
    ck_assert_int_eq(prep_show_option(&p, rest, 0)->least, 2);
    ck_assert_int_eq(prep_show_option(&p, rest, 0)->most, 2);
}
END_TEST

/* Watched in the hot cupboard, for no whole minute is in its window: it takes a room all the same. */
START_TEST(what_is_watched_where_it_keeps_takes_a_room)
{
    one_dish(
        RECIPE(STEP("warm", "\"kind\": \"passive\", \"time\": \"70-110 s\", \"keep\": \"hot\"")));
    uint32_t warm = prep_show_job(&p, BP_OP_ACTIVE, "warm", "A1");
    ck_assert_int_eq(prep_show_option(&p, warm, 0)->least, 2);
    ck_assert_int_eq(prep_show_needs(&p, prep_show_option(&p, warm, 0), BPI_RES_KEEP, BPI_HOT), 1);
}
END_TEST

/* A live side with so many containers, all like its first one. */
static bp_code make_with(uint32_t swaps, bp_errors *errs)
{
    static bpi_swap swap[BPI_MAX_SWAPS + 1];
    for (uint32_t i = 0; i < swaps; i++)
        swap[i] = p.live->air[0].swap[0];
    bpi_air air = p.live->air[0];
    bpi_live live = *p.live;
    air.swap = swap;
    air.swaps = swaps;
    live.air = &air;
    bpi_prep *made = NULL;
    errs->n = errs->more = 0;
    bp_code rc = bpi_prep_make(&made, p.arena, p.show, &live, NULL, errs);
    ck_assert((made != NULL) == (rc == BP_OK));
    return rc;
}

START_TEST(a_show_too_large_to_plan_is_refused_with_what_would_help)
{
    static bp_errors errs;
    one_dish(RECIPE(ACTIVE("cut", "1 min")));
    ck_assert_int_eq(make_with(BPI_MAX_SWAPS, &errs), BP_OK);
    ck_assert_int_eq(make_with(BPI_MAX_SWAPS + 1, &errs), BP_ELIMIT);
    ck_assert_str_eq(errs.item[0].wrong, "the show needs 129 containers, more than 128");
    ck_assert_str_eq(errs.item[0].right, "fewer beats, dishes or spares");
}
END_TEST

/* 16 steps and as many waits, a carry and the set, 128 times over: 4352 jobs. */
START_TEST(more_jobs_than_can_be_planned_are_refused)
{
    static bp_errors errs;
    char steps[4000] = "", one[120];
    for (int i = 0; i < 16; i++) {
        snprintf(one, sizeof one, "%s" STEP("s%d", "\"kind\": \"active\", \"time\": \"1 min\""),
                 i ? "," : "", i, i);
        strcat(steps, one);
    }
    char recipe[4100];
    snprintf(recipe, sizeof recipe, RECIPE("%s"), steps);
    one_dish(recipe);
    ck_assert_int_eq(make_with(117, &errs), BP_OK); /* 3978 */
    ck_assert_int_eq(make_with(BPI_MAX_SWAPS, &errs), BP_ELIMIT);
    ck_assert_str_eq(errs.item[0].wrong, "the show needs 4352 prep operations, more than 4000");
}
END_TEST

Suite *suite_prep_prep(void);
Suite *suite_prep_prep(void)
{
    Suite *s = suite_create("prep/prep");
    TCase *c = tcase_create("jobs");
    tcase_add_checked_fixture(c, NULL, done);
    tcase_add_test(c, a_simmer_is_put_on_and_taken_off_inside_its_window);
    tcase_add_loop_test(c, a_burner_is_left_only_on_a_whole_minute, 0,
                        (int)(sizeof on_a_burner / sizeof *on_a_burner));
    tcase_add_test(c, a_rest_goes_on_by_itself_and_nobody_ends_it);
    tcase_add_test(c, what_adds_ingredients_needs_hands_to_start);
    tcase_add_test(c, a_bake_takes_a_position_at_its_temperature);
    tcase_add_test(c, an_oven_is_hot_for_its_load_and_not_for_long_before);
    tcase_add_test(c, a_load_may_follow_another_in_an_oven_that_is_on);
    tcase_add_test(c, one_job_serves_all_that_is_done_together);
    tcase_add_test(c, a_hold_names_the_places_where_it_may_wait);
    tcase_add_test(c, a_pot_stays_with_its_food_between_steps_that_name_it);
    tcase_add_test(c, a_skill_leaves_out_who_lacks_it);
    tcase_add_test(c, raw_ingredients_are_measured);
    tcase_add_test(c, what_goes_in_on_air_is_measured_beside_the_pot);
    tcase_add_test(c, counter_and_set_are_one_room);
    tcase_add_test(c, a_container_is_on_set_by_the_lead_before_the_hit);
    tcase_add_test(c, codes_are_letters_and_numbers_in_order_of_need);
    tcase_add_test(c, a_bake_goes_into_the_oven_it_names);
    tcase_add_test(c, a_rest_lasts_whole_minutes);
    tcase_add_test(c, what_is_watched_where_it_keeps_takes_a_room);
    tcase_add_test(c, a_show_too_large_to_plan_is_refused_with_what_would_help);
    tcase_add_test(c, more_jobs_than_can_be_planned_are_refused);
    tcase_add_test(c, minutes_round_the_right_way_on_either_side_of_midnight);
    suite_add_tcase(s, c);
    return s;
}

/* Plans mended after each kind of mishap on shipped shows. bp_plan_mend has each tested by the
 * checker; here it is asked that the past stands, and that the mishap is heeded. */
#include "backpot/mend.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/show.h"
#include "base/memory.h"
#include "support/prep_show.h"
#include "support/share.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan, *before;
static int64_t now;

static bp_code mend(const char *file, const char *const *line, uint32_t lines)
{
    errs = (bp_errors){0};
    ck_assert(bp_show_open(&show, file, &errs) == BP_OK);
    return bp_plan_mend(&plan, &before, &now, show, line, lines, &errs);
}

static void done(void)
{
    bp_plan_free(plan);
    bp_plan_free(before);
    bp_show_free(show);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

static const bp_op *find(const bp_plan *p, const char *key)
{
    for (uint32_t i = 0; i < p->ops; i++)
        if (strcmp(p->op[i].key, key) == 0)
            return &p->op[i];
    return NULL;
}

static bool is_for(const bp_plan *p, const bp_op *op, const char *code)
{
    for (uint32_t i = 0; i < op->serves.n; i++)
        if (strcmp(p->container[p->index[op->serves.first + i]].code, code) == 0)
            return true;
    return false;
}

/* What had begun is in both plans, but for what was done for a lost container. */
static void past_stands(const char *lost)
{
    for (uint32_t i = 0; i < before->ops; i++) {
        const bp_op *was = &before->op[i], *op = find(plan, was->key);
        if (was->from >= now || was->kind == BP_OP_PREHEAT || (lost && is_for(before, was, lost)))
            continue;
        ck_assert_msg(op && op->from == was->from && op->person == was->person, "%s", was->key);
    }
    for (uint32_t i = 0; i < plan->ops; i++)
        if (lost && is_for(plan, &plan->op[i], lost) && plan->op[i].serves.n == 1)
            ck_assert_msg(plan->op[i].from >= now, "%s", plan->op[i].key);
}

/* Starts and cooks that differ, among what people do. */
static uint32_t changes(void)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *op = &plan->op[i], *was = find(before, op->key);
        if (op->kind != BP_OP_WAIT && op->kind != BP_OP_SET)
            n += !was || was->from != op->from || was->person != op->person;
    }
    return n;
}

/* The custard keeps hot, and this kitchen has no hot place: while nobody is there to carry it, from 08:03
 * to 08:20, it stands about. Each of those 17 min counts as late, and so does each that it is on set
 * after 08:05, at 08:22. */
START_TEST(what_has_no_place_is_put_aside)
{
    const char *line = "07:50 ines away until 08:20";
    ck_assert_int_eq(mend("tests/plan/rehearsal.json", &line, 1), BP_ENOFIT);
    ck_assert_ptr_nonnull(plan);
    const bp_op *wait = find(plan, "plate/bowl/B1/wait/stir/set");
    ck_assert_ptr_nonnull(wait);
    ck_assert_int_eq(wait->from, 8 * 3600 + 3 * 60);
    ck_assert_int_eq(wait->to, 8 * 3600 + 20 * 60);
    ck_assert_uint_eq(wait->uses.n, 0);
    ck_assert_str_eq(wait->text,
                     "Waits where it is, after: Stir the custard until it coats a spoon");
    ck_assert_str_eq(plan->goal[0].name, "late");
    ck_assert_int_eq(plan->goal[0].value, 17 + 17);
    done();
}
END_TEST

#define HARBOUR "shows/harbour-breakfast.json"

/* What had been diced for all is diced for it alone. A4 has a part in the batch, A1 gave it its key,
 * A5 leads it: it keeps its key, its time and its cook. */
static const struct {
    const char *code;
    uint32_t most; /* A5 goes on the burner as soon as it is chopped: another way has to be found */
} lost_in_a_batch[] = {{"A4", 3}, {"A1", 3}, {"A5", 7}};

START_TEST(a_container_lost_from_a_batch_costs_little)
{
    char text[32];
    const char *line[] = {text}, *code = lost_in_a_batch[_i].code;
    snprintf(text, sizeof text, "07:19 %s burnt", code);
    ck_assert_msg(mend(HARBOUR, line, 1) == BP_OK, "%s", errs.item[0].wrong);
    past_stands(code);
    ck_assert(changes() >= 1 &&
              changes() <=
                  lost_in_a_batch[_i].most); /* the job made anew, and what gives way to it */
    const bp_op *was = find(before, "main/soup/A1/chop"), *op = find(plan, "main/soup/A1/chop");
    ck_assert(was && op);
    ck_assert_uint_eq(was->serves.n, 5);
    ck_assert_uint_eq(op->serves.n, 4);
    ck_assert(!is_for(plan, op, code) && op->from == was->from && op->to == was->to);
    char key[40];
    snprintf(key, sizeof key, "main/soup/%s.again/chop", code);
    op = find(plan, key);
    ck_assert_ptr_nonnull(op);
    ck_assert_int_ge(op->from, now);
    ck_assert(strcmp(plan->stamp, before->stamp) != 0);
    done();
}
END_TEST

START_TEST(a_container_lost_late_is_made_anew_and_is_late)
{
    const char *line[] = {"08:05 A4 burnt"};
    ck_assert_int_eq(mend(HARBOUR, line, 1), BP_ENOFIT);
    ck_assert_ptr_nonnull(plan);
    ck_assert_int_eq(plan->verdict, BP_LATE);
    past_stands("A4");
    for (uint32_t i = 0; i < plan->containers; i++)
        if (strcmp(plan->container[i].code, "A4") == 0)
            ck_assert_int_gt(plan->container[i].late, 0);
    done();
}
END_TEST

START_TEST(a_cook_who_is_away_does_nothing_then)
{
    const char *line[] = {"07:05 Rui away until 07:30"};
    ck_assert_msg(mend(HARBOUR, line, 1) == BP_OK, "%s", errs.item[0].wrong);
    past_stands(NULL);
    for (uint32_t i = 0; i < plan->ops; i++)
        if (plan->op[i].person != BP_NO_INDEX &&
            strcmp(plan->person[plan->op[i].person].name, "Rui") == 0)
            ck_assert(plan->op[i].from < now || plan->op[i].from >= 7 * 3600 + 1800);
    done();
}
END_TEST

static const struct {
    const char *line, *key;
    int64_t to;
    bp_code code;
} longer[] = {
    {"08:00 B3 roast until 08:15", "main/squash/B3/roast", 8 * 3600 + 15 * 60, BP_OK},
    {"08:00 B3 roast until 08:20", "main/squash/B3/roast", 8 * 3600 + 20 * 60, BP_ENOFIT},
};

START_TEST(a_step_that_takes_longer_lasts_so_long)
{
    const char *line[] = {longer[_i].line};
    ck_assert_int_eq(mend(HARBOUR, line, 1), longer[_i].code);
    past_stands(NULL);
    const bp_op *op = find(plan, longer[_i].key);
    ck_assert_ptr_nonnull(op);
    ck_assert_int_eq(op->to, longer[_i].to);
    done();
}
END_TEST

static uint32_t burners_at(const bp_plan *p, int64_t t)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < p->ops; i++)
        for (uint32_t k = 0; k < p->op[i].uses.n; k++)
            n += p->op[i].from <= t && t < p->op[i].to &&
                 p->thing[p->index[p->op[i].uses.first + k]].kind == BP_BURNER;
    return n;
}

START_TEST(with_burners_less_no_more_are_used)
{
    const char *line[] = {"07:00 burner dead", "07:01 burner dead"};
    ck_assert_int_eq(mend(HARBOUR, line, 2), BP_ENOFIT); /* with one burner soup is late */
    ck_assert_ptr_nonnull(plan);
    past_stands(NULL);
    uint32_t most = 0;
    for (int64_t t = now; t < 9 * 3600; t += 60) {
        ck_assert_uint_le(burners_at(plan, t), 1);
        most = burners_at(before, t) > most ? burners_at(before, t) : most;
    }
    ck_assert_uint_eq(most, 2);
    done();
}
END_TEST

static void say(char *out, int64_t at, const char *what, int64_t until)
{
    int n = snprintf(out, 60, "%02d:%02d%s", (int)(at / 3600), (int)(at / 60 % 60), what);
    if (until)
        snprintf(out + n, 60 - (size_t)n, " %02d:%02d", (int)(until / 3600),
                 (int)(until / 60 % 60));
}

/* The second loss is of a pot whose work was already its own; what takes longer is told once. */
START_TEST(mishaps_of_one_pot_add_up)
{
    const char *line[] = {"07:24 A1 burnt", "07:35 A1.again burnt"};
    ck_assert_int_eq(mend(HARBOUR, line, 2), BP_EVALUE);
    bp_show_free(show);
    ck_assert_int_eq(mend(HARBOUR, (const char *const[]){"06:00 burner dead"}, 1), BP_OK);
    const bp_op *chop = find(before, "main/soup/A1/chop");
    int64_t from = chop->from, to = chop->to;
    bp_plan_free(plan);
    bp_plan_free(before);
    bp_show_free(show);
    char text[5][60];
    const char *twice[] = {text[0], text[1], text[2], text[3]}, *no[] = {text[4]};
    say(text[0], from + 300, " A3 chop until", to + 180);
    say(text[1], to + 240, " A1 spilt", 0);
    say(text[2], to + 1080, " A2 spilt", 0);
    say(text[3], to + 1380, " A1 spilt", 0);
    say(text[4], from + 300, " A3 chop until", to);
    ck_assert_int_eq(mend(HARBOUR, no, 1), BP_EVALUE);
    ck_assert(strstr(errs.item[0].wrong, "lasts so long anyway") != NULL);
    bp_show_free(show);
    bp_code rc = mend(HARBOUR, twice, 4);
    ck_assert_msg(rc == BP_OK || rc == BP_ENOFIT, "%s", errs.item[0].wrong);
    ck_assert_ptr_nonnull(plan);
    past_stands("A1");
    const bp_op *op = find(plan, "main/soup/A1/chop");
    ck_assert(op && op->serves.n == 3 && op->to == to + 180);
    done();
}
END_TEST

START_TEST(without_an_oven_it_says_what_cannot_be_baked)
{
    const char *line[] = {"07:10 oven deck dead"};
    ck_assert_int_eq(mend(HARBOUR, line, 1), BP_ENOFIT);
    ck_assert_ptr_null(plan);
    ck_assert_ptr_null(before);
    ck_assert(strstr(errs.item[0].wrong, "what must still be baked: B1 B3 B4") != NULL);
    done();
}
END_TEST

/* ---- two ovens alike ----------------------------------------------------------------------- */

/* Loading takes three minutes, so that an oven can die meanwhile. */
static const char two_ovens[] =
    "\"cooks\": [{\"id\": \"ines\", \"name\": \"Ines\", \"call\": \"05:00\", \"wrap\": "
    "\"10:00\"}], "
    "\"ovens\": [{\"id\": \"deck\", \"positions\": 1}, {\"id\": \"stone\", \"positions\": 1}], "
    "\"burners\": 0, \"load\": \"3 min\", \"carry\": \"1 min\"";
static const char bread[] = "{\"id\": \"bread\", \"title\": \"Bread\", \"steps\": [{\"id\": "
                            "\"bake\", \"text\": \"Bake it\", "
                            "\"kind\": \"oven\", \"time\": \"20 min\", \"oven\": {\"temperature\": "
                            "\"200 C\"}, \"after\": []}]}";

static void read_bread(void)
{
    char *text = prep_show_text(
        two_ovens, bread,
        "{\"id\": \"d\", \"title\": \"Bread\", \"recipe\": \"bread\", \"taste\": false}",
        "{\"id\": \"out\", \"text\": \"Out\", \"dish\": \"d\", \"shows\": \"finished\", "
        "\"time\": \"60-180 s\"}");
    errs = (bp_errors){0};
    bp_code rc = bp_show_read(&show, text, strlen(text), "bread.json", NULL, &errs);
    ck_assert_msg(rc == BP_OK, "%s", errs.item[0].wrong);
    free(text);
}

/* The oven that an operation is at. */
static const char *oven_of(const bp_plan *p, const bp_op *op)
{
    for (uint32_t i = 0; op && i < op->uses.n; i++)
        if (p->thing[p->index[op->uses.first + i]].kind == BP_OVEN)
            return p->thing[p->index[op->uses.first + i]].id;
    return "";
}

/* Of two that serve as well, it is the same one each time; of one load, the first. */
START_TEST(of_two_ovens_alike_the_same_is_used)
{
    bp_plan_options options = {.days = 1};
    for (int i = 0; i < 2; i++) {
        read_bread();
        ck_assert_int_eq(bp_plan_make(&plan, show, &options, &errs), BP_OK);
        ck_assert_str_eq(oven_of(plan, find(plan, "s/d/A1/bake")), "deck");
        done();
        plan = NULL;
    }
}
END_TEST

/* What was being put into an oven when that died is made anew, in the other one. */
START_TEST(what_was_being_put_into_an_oven_that_dies_is_lost)
{
    read_bread();
    bp_plan_options options = {.days = 1};
    bp_plan *planned = NULL;
    ck_assert_int_eq(bp_plan_make(&planned, show, &options, &errs), BP_OK);
    const bp_op *load = find(planned, "s/d/A1/bake/load");
    ck_assert(load && load->to - load->from == 180);
    int64_t at = load->from + 60 + 60 * _i; /* while it is put in; when it just is in */
    char text[40];
    const char *line[] = {text};
    snprintf(text, sizeof text, "%02d:%02d oven deck dead", (int)(at / 3600), (int)(at / 60 % 60));
    bp_code rc = bp_plan_mend(&plan, &before, &now, show, line, 1, &errs);
    ck_assert_msg(rc == BP_OK || (rc == BP_ENOFIT && plan), "%s", errs.item[0].wrong);
    ck_assert_int_eq(now, at);
    const bp_op *bake = find(plan, "s/d/A1/bake"), *anew = find(plan, "s/d/A1/bake/load");
    ck_assert_str_eq(oven_of(plan, bake), "stone");
    ck_assert_int_ge(anew->from, now);
    ck_assert_int_ge(bake->from, anew->to);
    ck_assert_int_eq(bake->to - bake->from, 1200);
    bp_plan_free(planned);
    done();
}
END_TEST

START_TEST(one_mishap_after_another)
{
    const char *line[] = {"07:05 Rui away until 07:30", "07:10 A4 burnt"};
    ck_assert_msg(mend(HARBOUR, line, 2) == BP_OK, "%s", errs.item[0].wrong);
    past_stands("A4");
    for (uint32_t i = 0; i < plan->ops; i++) /* still away */
        if (plan->op[i].person != BP_NO_INDEX && plan->op[i].from >= 7 * 3600 + 600 &&
            plan->op[i].from < 7 * 3600 + 1800)
            ck_assert(strcmp(plan->person[plan->op[i].person].name, "Rui") != 0);
    done();
}
END_TEST

static const struct {
    const char *line, *says;
} wrong[] = {
    {"", "is not understood"},
    {"A4 burnt", "\"A4\" is no time of the show day"},
    {"25:00 A4 burnt", "is no time of the show day"},
    {"07:10 A4", "is not understood"},
    {"07:10 Z9 burnt", "there is no container \"Z9\""},
    {"07:10 oven none dead", "there is no oven \"none\""},
    {"07:10 Nobody away until 07:20", "there is no cook \"Nobody\""},
    {"07:10 A4 fry until 07:20", "there is no step \"fry\""},
    {"07:10 Rui away until 07:05", "it ends before it is noticed"},
    {"06:50 B1 roast until 08:20", "by the plan this step is not under way then"},
    {"07:25 Rui away until 07:26", "this cook has work in hand until then"},
    {"06:42 A4 burnt", "by the plan nothing has been done for A4 by then"},
    {"08:35 A5 dropped", "by the plan A5 is not needed any more by then"},
    {"07:10 ring dead", "is not understood"},
    {"07:10 A4 chop until 07:22 or so", "is not understood"},
    {"-1d", "\"-1d\" is no time of the show day"}, /* and no hour after it */
    {"-1d 16:00 A4", "is not understood"},
    {"+ A4 burnt", "\"+\" is no time of the show day"},
    {"07:10 oven none dented", "is not understood"},
    {"07:10 burner lost", "there is no container \"burner\""},
    {"07:10 Rui away for 07:20", "is not understood"},
    {"07:10 Rui back until 07:20", "there is no container \"Rui\""},
    {" 07:10\tring   dead ", "is not understood"},
    {"07:10 A2 blend until 07:20", "this container has no such step done ahead"},
    {"07:00 A4 chop until 07:01", "by the plan this step lasts so long anyway"},
    {"07:10 behind", "by the plan nobody is behind"},
    {"-1d 01:00 behind", "by the plan nobody is behind"}, /* before there is anything to plan */
};

START_TEST(what_is_not_understood_is_told)
{
    const char *line[] = {wrong[_i].line};
    ck_assert_int_eq(mend(HARBOUR, line, 1), BP_EVALUE);
    ck_assert_msg(strstr(errs.item[0].wrong, wrong[_i].says) != NULL, "%s", errs.item[0].wrong);
    ck_assert_ptr_null(plan);
    ck_assert_ptr_null(before);
    done();
}
END_TEST

/* One burner after another goes, at the moment when the most of them are in use. */
START_TEST(a_burner_in_use_is_not_taken_away)
{
    const char *none[] = {"06:30 burner dead"};
    ck_assert_int_eq(mend(HARBOUR, none, 1), BP_OK);
    int64_t at = now;
    for (int64_t t = now; t < 9 * 3600; t += 60)
        if (burners_at(before, t - 60) == burners_at(before, t) &&
            burners_at(before, t) > burners_at(before, at))
            at = t;
    uint32_t used = burners_at(before, at);
    ck_assert_uint_ge(used, 1);
    bp_plan_free(plan);
    bp_plan_free(before);
    bp_show_free(show);
    char text[32];
    snprintf(text, sizeof text, "%02d:%02d burner dead", (int)(at / 3600), (int)(at / 60 % 60));
    const char *all[] = {text, text, text, text};
    ck_assert_int_eq(mend(HARBOUR, all, 4 - used), BP_EVALUE); /* three burners, one too many */
    ck_assert_msg(strstr(errs.item[0].wrong, "burners are in use then") != NULL, "%s",
                  errs.item[0].wrong);
    done();
}
END_TEST

START_TEST(no_more_burners_die_than_there_are)
{
    const char *line[] = {"05:10 burner dead", "05:20 burner dead", "05:30 burner dead"};
    ck_assert_int_eq(mend("tests/plan/terrine.json", line, 3), BP_EVALUE); /* it cooks nothing */
    ck_assert_str_eq(errs.item[0].wrong, "all burners of the kitchen are dead");
    ck_assert_ptr_null(plan);
    done();
}
END_TEST

START_TEST(what_has_no_plan_cannot_be_mended)
{
    const char *line[] = {"07:10 burner dead"};
    ck_assert_int_eq(mend("shows/one-burner-too-few.json", line, 1), BP_ENOFIT);
    ck_assert_msg(strstr(errs.item[0].wrong, "there is no plan to mend") != NULL, "%s",
                  errs.item[0].wrong);
    ck_assert_ptr_null(plan);
    done();
}
END_TEST

START_TEST(what_went_wrong_is_said_in_order)
{
    const char *back[] = {"07:10 A4 burnt", "07:09 A3 burnt"};
    ck_assert_int_eq(mend(HARBOUR, back, 2), BP_EVALUE);
    ck_assert_msg(strstr(errs.item[0].wrong, "before what was said before it") != NULL, "%s",
                  errs.item[0].wrong);
    ck_assert_ptr_null(plan);
    done();
}
END_TEST

START_TEST(a_day_has_one_mishap_at_least_and_not_too_many)
{
    const char *line[BP_MEND_LINES + 1];
    for (int i = 0; i <= BP_MEND_LINES; i++)
        line[i] = "07:10 A4 burnt";
    ck_assert_int_eq(mend(HARBOUR, line, 0), BP_EVALUE);
    ck_assert_str_eq(errs.item[0].wrong, "between 1 and 20 mishaps can be mended at once, not 0");
    ck_assert_ptr_null(plan);
    bp_show_free(show);
    ck_assert_int_eq(mend(HARBOUR, line, BP_MEND_LINES + 1), BP_EVALUE);
    ck_assert_ptr_null(before);
    done();
}
END_TEST

#define MEMORY_STEP 499 /* every so many requests: each run takes three plans */

START_TEST(without_memory_nothing_is_kept)
{
    const char *line[] = {"07:24 A1 burnt", "07:40 burner dead"};
    errs = (bp_errors){0};
    ck_assert(bp_show_open(&show, HARBOUR, &errs) == BP_OK);
    long alive = bpi_mem_alive();
    bool fired = true;
    for (long k = 0; fired; k += MEMORY_STEP * share()) {
        errs = (bp_errors){0};
        bpi_mem_fail_at(k, 1);
        bp_code rc = bp_plan_mend(&plan, &before, &now, show, line, 2, &errs);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert((plan != NULL) == (rc == BP_OK) && (before != NULL) == (rc == BP_OK));
        bp_plan_free(plan);
        bp_plan_free(before);
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
    bp_show_free(show);
}
END_TEST

Suite *suite_day_mend(void);
Suite *suite_day_mend(void)
{
    Suite *s = suite_create("day/mend");
    TCase *c = tcase_create("mend");
    tcase_add_loop_test(c, a_container_lost_from_a_batch_costs_little, 0,
                        (int)(sizeof lost_in_a_batch / sizeof *lost_in_a_batch));
    tcase_add_test(c, what_has_no_place_is_put_aside);
    tcase_add_test(c, a_container_lost_late_is_made_anew_and_is_late);
    tcase_add_test(c, a_cook_who_is_away_does_nothing_then);
    tcase_add_loop_test(c, a_step_that_takes_longer_lasts_so_long, 0,
                        (int)(sizeof longer / sizeof *longer));
    tcase_add_test(c, with_burners_less_no_more_are_used);
    tcase_add_test(c, a_burner_in_use_is_not_taken_away);
    tcase_add_test(c, mishaps_of_one_pot_add_up);
    tcase_add_test(c, without_an_oven_it_says_what_cannot_be_baked);
    tcase_add_test(c, of_two_ovens_alike_the_same_is_used);
    tcase_add_loop_test(c, what_was_being_put_into_an_oven_that_dies_is_lost, 0, 3);
    tcase_add_test(c, one_mishap_after_another);
    tcase_add_loop_test(c, what_is_not_understood_is_told, 0, (int)(sizeof wrong / sizeof *wrong));
    tcase_add_test(c, no_more_burners_die_than_there_are);
    tcase_add_test(c, what_has_no_plan_cannot_be_mended);
    tcase_add_test(c, what_went_wrong_is_said_in_order);
    tcase_add_test(c, a_day_has_one_mishap_at_least_and_not_too_many);
    tcase_add_test(c, without_memory_nothing_is_kept);
    suite_add_tcase(s, c);
    return s;
}

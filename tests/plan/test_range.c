/* The checker's first question: do the numbers of a plan point anywhere? One after another points past
 * the end of its list, and is objected to before anything is looked up by it. */
#include <check.h>
#include <string.h>

#include "backpot/show.h"
#include "base/memory.h"
#include "support/prep_show.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *made, plan;
static bp_person person[8];
static bp_stint stint[8];
static bp_air air;
static bp_beat beat;
static bp_version version[64];
static bp_tease tease;
static bp_finding finding;
static bp_container box[8];
static bp_op op[64];
static uint32_t list[1024];

static void set_up(void)
{
    errs = (bp_errors){0};
    ck_assert_int_eq(bp_show_open(&show, "tests/plan/terrine.json", &errs), BP_OK);
    ck_assert_int_eq(bp_plan_make(&made, show, NULL, &errs), BP_OK);
    ck_assert(made->persons <= 8 && made->stints <= 8 && made->airs == 1 && made->beats == 1);
    ck_assert(made->versions > 0 && made->versions <= 64 && made->containers <= 8);
    ck_assert(made->ops <= 64 && made->indexes < 1000);
}

static void tear_down(void)
{
    bp_plan_free(made);
    bp_show_free(show);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

/* The plan anew, to be changed. */
static void copy(void)
{
    plan = *made;
    memcpy(person, made->person, made->persons * sizeof *person);
    memcpy(stint, made->stint, made->stints * sizeof *stint);
    memcpy(version, made->version, made->versions * sizeof *version);
    memcpy(box, made->container, made->containers * sizeof *box);
    memcpy(op, made->op, made->ops * sizeof *op);
    memcpy(list, made->index, made->indexes * sizeof *list);
    air = made->air[0];
    beat = made->beat[0];
    plan.person = person;
    plan.stint = stint;
    plan.version = version;
    plan.container = box;
    plan.op = op;
    plan.index = list;
    plan.air = &air;
    plan.beat = &beat;
}

static const struct {
    void *at;
    size_t size;
    const char *says;
} rows[] = {
#define NUMBER(number, text)                                                                       \
    {                                                                                              \
        &(number), sizeof(number), text                                                            \
    }
    NUMBER(person[1].stints.n, "stints are out of range"),
    NUMBER(person[0].stints.first, "stints are out of range"),
    NUMBER(stint[0].person, "is of nobody"),
    NUMBER(air.beats.n, "beats or teases are out of range"),
    NUMBER(air.teases.n, "beats or teases are out of range"),
    NUMBER(air.versions.n, "versions are out of range"),
    NUMBER(beat.in.n, "containers or dish are out of range"),
    NUMBER(beat.out.n, "containers or dish are out of range"),
    NUMBER(beat.on.n, "containers or dish are out of range"),
    NUMBER(beat.dish, "containers or dish are out of range"),
    NUMBER(version[0].unused.n, "lists of number 0 are out of range"),
    NUMBER(version[0].at_least.n, "lists of number 0 are out of range"),
    NUMBER(version[0].at_most.n, "lists of number 0 are out of range"),
    NUMBER(box[0].dish, "dish, appearance, beat or size are out of range"),
    NUMBER(box[0].air, "dish, appearance, beat or size are out of range"),
    NUMBER(box[1].beat, "dish, appearance, beat or size are out of range"),
    NUMBER(box[1].stage, "dish, appearance, beat or size are out of range"),
    NUMBER(box[0].role, "dish, appearance, beat or size are out of range"),
    NUMBER(op[0].serves.n, "cook, containers, things or dish are out of range"),
    NUMBER(op[1].uses.n, "cook, containers, things or dish are out of range"),
    NUMBER(op[0].person, "cook, containers, things or dish are out of range"),
    NUMBER(op[0].air, "cook, containers, things or dish are out of range"),
    NUMBER(op[0].dish, "cook, containers, things or dish are out of range"),
    NUMBER(op[0].kind, "cook, containers, things or dish are out of range"),
#undef NUMBER
};

START_TEST(a_number_that_points_nowhere_is_objected_to)
{
    const uint32_t nowhere = 99999;
    copy();
    ck_assert_int_eq(bp_plan_verify(&plan, show, &errs), BP_OK);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        copy();
        ck_assert_uint_eq(rows[i].size, sizeof nowhere);
        memcpy(rows[i].at, &nowhere, sizeof nowhere);
        ck_assert_msg(prep_show_objects(&plan, show, rows[i].says, &errs), "row %zu: %s", i,
                      errs.item[0].wrong);
    }
    copy();
    box[0].size_den = 0;
    ck_assert(prep_show_objects(&plan, show, "beat or size are out of range", &errs));
    copy();
    list[beat.on.first] = nowhere;
    ck_assert(prep_show_objects(&plan, show, "containers or dish are out of range", &errs));
    copy();
    plan.tease = &tease;
    plan.teases = 1;
    tease = (bp_tease){.container = nowhere};
    ck_assert(prep_show_objects(&plan, show, "number 0 shows no container", &errs));
    copy();
    plan.finding = &finding;
    plan.findings = 1;
    finding = (bp_finding){.container = nowhere};
    ck_assert(prep_show_objects(&plan, show, "number 0 is about no container", &errs));
}
END_TEST

Suite *suite_plan_range(void);
Suite *suite_plan_range(void)
{
    Suite *s = suite_create("plan/range");
    TCase *c = tcase_create("range");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, a_number_that_points_nowhere_is_objected_to);
    suite_add_tcase(s, c);
    return s;
}

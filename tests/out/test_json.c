#include "out/json.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/json.h"
#include "base/memory.h"
#include "base/zone.h"
#include "support/plan_sample.h"

static plan_sample sample;
static bp_errors errs;
static bpi_arena *arena;
static bpi_text text;

static void set_up(void)
{
    plan_sample_fill(&sample);
    arena = bpi_arena_new();
    text = BPI_TEXT_EMPTY;
}

static void tear_down(void)
{
    bpi_text_release(&text);
    bpi_arena_free(arena);
    bpi_zone_release_all();
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

static bpi_node *written(void)
{
    bpi_node *doc = NULL;
    ck_assert_int_eq(bpi_json_write(&text, &sample.plan, &errs), BP_OK);
    ck_assert_int_eq(bpi_json_read(&doc, arena, "plan.json", text.s, text.len, &errs), BP_OK);
    return doc;
}

/* The node at a path of names and places: "op/3/from/t". */
static const bpi_node *at(const bpi_node *n, const char *path)
{
    char name[64];
    while (n && *path) {
        size_t len = strcspn(path, "/");
        ck_assert_uint_lt(len, sizeof name);
        memcpy(name, path, len);
        name[len] = '\0';
        if (n->kind == BPI_ARRAY) {
            long i = strtol(name, NULL, 10);
            n = n->first;
            while (n && i-- > 0)
                n = n->next;
        } else {
            n = bpi_node_member(n, name);
        }
        path += len + (path[len] == '/');
    }
    ck_assert_msg(n != NULL, "no %s", path);
    return n;
}

START_TEST(every_array_of_the_plan_stands_whole)
{
    const bpi_node *doc = written();
    const bp_plan *p = &sample.plan;
    const struct {
        const char *name;
        uint32_t n;
    } arrays[] = {
        {"person", p->persons},   {"stint", p->stints},     {"rest", p->rests},
        {"thing", p->things},     {"air", p->airs},         {"beat", p->beats},
        {"tease", p->teases},     {"dish", p->dishes},      {"container", p->containers},
        {"op", p->ops},           {"good", p->goods},       {"finding", p->findings},
        {"version", p->versions}, {"reading", p->readings}, {"fact", p->facts},
        {"fix", p->fixes},        {"goal", p->goals},       {"pack", p->packs},
        {"stand", p->stands},
    };
    for (size_t i = 0; i < sizeof arrays / sizeof *arrays; i++) {
        const bpi_node *list = at(doc, arrays[i].name);
        ck_assert_int_eq(list->kind, BPI_ARRAY);
        ck_assert_msg(list->count == arrays[i].n, "%s", arrays[i].name);
    }
    ck_assert_int_eq(at(doc, "format")->integer, BP_PLAN_FORMAT);
    ck_assert(bpi_node_is(at(doc, "verdict"), "late"));
}
END_TEST

START_TEST(moments_carry_both_plan_seconds_and_the_wall_clock)
{
    const bpi_node *doc = written();
    for (uint32_t i = 0; i < sample.plan.containers; i++) {
        char path[32];
        snprintf(path, sizeof path, "container/%u/set_by/t", i);
        ck_assert_int_eq(at(doc, path)->integer, sample.container[i].set_by);
    }
    ck_assert(bpi_node_is(at(doc, "air/0/hit/local"), "2026-12-03T08:24:00+00:00"));
    ck_assert(bpi_node_is(at(doc, "stint/0/call/local"), "2026-12-02T15:00:00+00:00"));
    ck_assert_int_eq(at(doc, "container/0/use_by")->kind, BPI_NULL);
    ck_assert_int_eq(at(doc, "beat/4/from")->kind, BPI_NULL); /* left out */
}
END_TEST

/* Lisbon goes back at 01:00 UTC on 2026-10-25 (tzdata): 01:30 is read twice, told apart here. */
START_TEST(a_doubled_hour_is_told_apart_by_the_offset)
{
    sample.plan.month = 10;
    sample.plan.day = 25;
    sample.plan.midnight = 1792882800;
    sample.container[0].needed = 5400;
    sample.container[1].needed = 9000;
    const bpi_node *doc = written();
    ck_assert(bpi_node_is(at(doc, "container/0/needed/local"), "2026-10-25T01:30:00+01:00"));
    ck_assert(bpi_node_is(at(doc, "container/1/needed/local"), "2026-10-25T01:30:00+00:00"));
}
END_TEST

START_TEST(slices_sets_and_absences_become_lists_and_nulls)
{
    sample.container[0].steps = UINT64_C(1) << 63 | 5;
    const bpi_node *doc = written();
    ck_assert_uint_eq(at(doc, "container/0/steps")->count, 3);
    ck_assert_int_eq(at(doc, "container/0/steps/2")->integer, 63);
    ck_assert_uint_eq(at(doc, "air/1/beats")->count, 6);
    ck_assert_int_eq(at(doc, "air/1/beats/0")->integer, 9);
    ck_assert_int_eq(at(doc, "beat/0/in/1")->integer, 7); /* A4 B3 */
    ck_assert_int_eq(at(doc, "beat/0/dish")->kind, BPI_NULL);
    ck_assert_int_eq(at(doc, "op/0/core_mC")->kind, BPI_NULL);
}
END_TEST

START_TEST(awkward_texts_come_back_whole)
{
    sample.plan.title = "\"quoted\" back\\slash ½ \U0001F35C";
    const bpi_node *doc = written();
    ck_assert(bpi_node_is(at(doc, "title"), sample.plan.title));
}
END_TEST

START_TEST(every_request_fails_once)
{
    bool fired = true;
    for (long k = 0; fired; k++) {
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_mem_fail_at(k, 0);
        bp_code rc = bpi_json_write(&t, &sample.plan, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        bpi_text_release(&t);
    }
}
END_TEST

START_TEST(the_chance_is_written_whole_or_as_null)
{
    ck_assert_int_eq(at(written(), "chance")->kind, BPI_NULL);
    bpi_text_release(&text);
    plan_sample_fill_planned(&sample);
    const bpi_node *doc = written();
    ck_assert_ptr_nonnull(strstr(text.s, "\"seed\": 12345678901234567890,"));
    ck_assert_double_eq(at(doc, "chance/on_time")->number, 1000);
    ck_assert_double_eq(at(doc, "chance/bin/258")->number, 1000);
    ck_assert_double_eq(at(doc, "chance/odds/13/on_time")->number, 2000);
    ck_assert_int_eq(at(doc, "chance/odds/0/nine_tenths")->kind, BPI_NULL);
    ck_assert_double_eq(at(doc, "chance/driver/1/op")->number, 5);
    ck_assert_int_eq(at(doc, "chance/early/1/person")->kind, BPI_NULL);
    ck_assert_double_eq(at(doc, "chance/buffer/0/seconds")->number, 180);
    ck_assert_double_eq(at(doc, "chance/early/2/person")->number, 0);
}
END_TEST

Suite *suite_out_json(void);
Suite *suite_out_json(void)
{
    Suite *s = suite_create("out/json");
    TCase *c = tcase_create("json");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, every_array_of_the_plan_stands_whole);
    tcase_add_test(c, moments_carry_both_plan_seconds_and_the_wall_clock);
    tcase_add_test(c, a_doubled_hour_is_told_apart_by_the_offset);
    tcase_add_test(c, slices_sets_and_absences_become_lists_and_nulls);
    tcase_add_test(c, awkward_texts_come_back_whole);
    tcase_add_test(c, every_request_fails_once);
    tcase_add_test(c, the_chance_is_written_whole_or_as_null);
    suite_add_tcase(s, c);
    return s;
}

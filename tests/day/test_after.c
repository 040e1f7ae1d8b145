/* A log against its plan, and what is learned from some days of it. The logs are made up. */
#include "backpot/after.h"

#include <check.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "backpot/show.h"
#include "base/arena.h"
#include "base/file.h"
#include "base/json.h"
#include "base/limits.h"
#include "base/memory.h"
#include "base/sys.h"

#define SHOW "shows/harbour-breakfast.json"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;
static char dir[64], path[96];

static void make_plan(void)
{
    bp_plan_options options = {.work = 4000000}; /* enough for a plan, not for the best one */
    errs = (bp_errors){0};
    ck_assert(bp_show_open(&show, SHOW, &errs) == BP_OK);
    ck_assert(bp_plan_make(&plan, show, &options, &errs) == BP_OK);
}

static void free_plan(void)
{
    bp_plan_free(plan);
    bp_show_free(show);
}

static void set_up(void)
{
    errs = (bp_errors){0};
    strcpy(dir, "/tmp/backpot-test-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(dir));
    snprintf(path, sizeof path, "%s/show.json", dir);
}

static void tear_down(void)
{
    bpi_sys_fail_at(-1, 0, 0);
    unlink(path);
    ck_assert_int_eq(rmdir(dir), 0);
}

/* ---- a log ----------------------------------------------------------------------------------- */

static uint32_t op_of(bp_op_kind kind)
{
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].kind == kind)
            return o;
    ck_abort_msg("none of this kind");
    return 0;
}

static bp_event event(bp_event_kind kind, int64_t at, const char *beat, const char *op, int64_t n)
{
    unsigned has = bp_event_members(kind);
    return (bp_event){.kind = kind,
                      .at = at,
                      .air = has & BP_HAS_AIR ? plan->air[0].id : "",
                      .beat = beat,
                      .op = op,
                      .text = "",
                      .seconds = n};
}

static bp_log log_of(const bp_event *list, uint32_t n)
{
    return (bp_log){
        .file = "day.log", .head = {plan->show_id, plan->stamp, false}, .event = list, .events = n};
}

START_TEST(beats_last_from_one_to_the_next_without_holds)
{
    const bp_air *air = &plan->air[0];
    const bp_beat *b = &plan->beat[air->beats.first];
    int64_t hit = air->hit + 5;
    const bp_event list[] = {
        event(BP_DAY_HIT, hit, "", "", 0),
        event(BP_DAY_BEAT, hit, b[0].id, "", 0),
        event(BP_DAY_BEAT, hit + 30, b[1].id, "", 0),
        event(BP_DAY_HOLD, hit + 40, "", "", 0),
        event(BP_DAY_GO_ON, hit + 100, "", "", 0), /* a minute that is none of the slot's */
        event(BP_DAY_BEAT, hit + 110, b[2].id, "", 0),
        event(BP_DAY_BACK, hit + 112, b[1].id, "", 0), /* that was a mistake */
        event(BP_DAY_BEAT, hit + 125, b[3].id, "", 0),
        event(BP_DAY_OFF, hit + 160, "", "", 0),
    };
    bp_log log = log_of(list, sizeof list / sizeof *list);
    bp_after *a = NULL;
    ck_assert_int_eq(bp_after_make(&a, (const bp_plan *const *)&plan, 1, &log, &errs), BP_OK);
    const bp_actual *beat = &a->beat[air->beats.first];
    ck_assert_int_eq(beat[0].from, 0);
    ck_assert_int_eq(beat[0].to, 30);
    ck_assert_int_eq(beat[1].to, 65); /* 125 - 60 */
    ck_assert_int_eq(beat[2].from, BP_NO_TIME);
    ck_assert_int_eq(beat[3].from, 65);
    ck_assert_int_eq(beat[3].to, 100);
    ck_assert_int_eq(a->air[0].from, hit);
    ck_assert_int_eq(a->air[0].to, hit + 160);
    ck_assert_int_eq(bp_after_beat_over(a, air->beats.first), 30 - b[0].length);
    ck_assert_int_eq(bp_after_beat_over(a, air->beats.first + 2), BP_NO_TIME);
    bp_after_free(a);
}
END_TEST

START_TEST(operations_last_as_they_were_ticked)
{
    uint32_t load = op_of(BP_OP_LOAD), cooks = load;
    const bp_op *op = &plan->op[load];
    while (strncmp(plan->op[cooks].key, op->key, strlen(op->key) - 5) != 0 || cooks == load)
        cooks = (cooks + 1) % plan->ops; /* "x/load" belongs to "x" */
    const bp_event list[] = {
        event(BP_DAY_START, op->from, "", op->key, 0),
        event(BP_DAY_DONE, op->to + 20, "", op->key, 0),
        event(BP_DAY_START, op->to + 30, "", "main/none", 0), /* of an earlier version */
        event(BP_DAY_DONE, op->to + 40, "", plan->op[0].key, 0),
    };
    bp_log log = log_of(list, 4);
    bp_after *a = NULL;
    log.head.stamp = "00000000";
    log.head.rehearsal = true;
    ck_assert_int_eq(bp_after_make(&a, (const bp_plan *const *)&plan, 1, &log, &errs), BP_OK);
    ck_assert(a->other && a->rehearsal);
    ck_assert_uint_eq(a->unknown, 1);
    ck_assert_int_eq(bp_after_op_over(a, load), 20);
    ck_assert_int_eq(a->op[cooks].done.from, op->to + 20);
    ck_assert_int_eq(bp_after_op_over(a, 0), BP_NO_TIME); /* nobody ticked its start */
    bp_after_free(a);
    log.head.show = "another";
    ck_assert_int_eq(bp_after_make(&a, (const bp_plan *const *)&plan, 1, &log, &errs), BP_EVALUE);
    ck_assert_ptr_null(a);
}
END_TEST

/* ---- learning -------------------------------------------------------------------------------- */

#define DAYS 5
static bp_after_op *op[DAYS];
static bp_actual *beat[DAYS];
static bp_after day[DAYS];
static const bp_after *list[DAYS];

/* Every hands-on step took this much of its plan, in percent, on each of the days. */
static void live_through(const int *percent, uint32_t days)
{
    for (uint32_t i = 0; i < days; i++) {
        op[i] = bpi_mem_get(plan->ops * sizeof *op[i]);
        for (uint32_t o = 0; o < plan->ops; o++) {
            int64_t length = plan->op[o].to - plan->op[o].from;
            int64_t from = plan->op[o].from;
            op[i][o] = (bp_after_op){plan, o, {from, from + length * percent[i] / 100}};
        }
        beat[i] = bpi_mem_get(plan->beats * sizeof *beat[i]);
        for (uint32_t b = 0; b < plan->beats; b++)
            beat[i][b] =
                (bp_actual){plan->beat[b].time_in,
                            plan->beat[b].time_in + plan->beat[b].length * percent[i] / 100};
        day[i] = (bp_after){.plan = plan, .op = op[i], .ops = plan->ops, .beat = beat[i]};
        list[i] = &day[i];
    }
}

static void forget(uint32_t days)
{
    for (uint32_t i = 0; i < days; i++) {
        bpi_mem_drop(op[i]);
        bpi_mem_drop(beat[i]);
    }
}

static const bp_lesson *lesson_of(const bp_lessons *l, const char *step)
{
    for (uint32_t i = 0; i < l->lessons; i++)
        if (strcmp(l->lesson[i].step, step) == 0)
            return &l->lesson[i];
    return NULL;
}

/* Five minutes by the plan; what low, likely and high become. */
static const struct {
    const char *name;
    int percent[DAYS];
    uint32_t days, odd_days;
    int64_t low, likely, high;
} lives[] = {
    {"as planned", {100, 100, 100}, 3, 0, 300, 300, 300},
    {"one day, four pots", {110}, 1, 0, 330, 330, 330},
    {"slower", {110, 120, 130}, 3, 0, 330, 360, 390},
    {"one odd day", {100, 104, 300, 96, 108}, 5, 1, 285, 300, 330},
    {"an odd one of three", {100, 400, 104}, 3, 1, 300, 300, 315},
    {"a fast one", {100, 104, 20, 96, 108}, 5, 1, 285, 300, 330},
    {"two kinds of day", {100, 200}, 2, 0, 300, 450, 600},
};

START_TEST(one_odd_day_teaches_nothing)
{
    bp_lessons *l = NULL;
    live_through(lives[_i].percent, lives[_i].days);
    ck_assert_int_eq(bp_lessons_make(&l, show, list, lives[_i].days, &errs), BP_OK);
    const bp_lesson *sweat = lesson_of(l, "sweat");
    ck_assert_msg(sweat && sweat->enough, "%s", lives[_i].name);
    ck_assert_uint_eq(sweat->seen % lives[_i].days, 0);
    ck_assert_uint_eq(sweat->odd, sweat->seen / lives[_i].days * lives[_i].odd_days);
    ck_assert_msg(sweat->low == lives[_i].low && sweat->likely == lives[_i].likely &&
                      sweat->high == lives[_i].high,
                  "%s: %d %d %d", lives[_i].name, (int)sweat->low, (int)sweat->likely,
                  (int)sweat->high);
    /* "chop" is a batch of once 1 min and each 4 min, 5 or 9 min; its time says 6 (5 to 10) for one. */
    const bp_lesson *chop = lesson_of(l, "chop");
    if (chop && chop->enough && chop->likely != chop->was_likely) {
        ck_assert_int_eq((chop->likely * 60 + 180) / 360, chop->once);
        ck_assert_int_eq((chop->likely * 240 + 180) / 360, chop->each);
    }
    ck_assert_msg(chop && chop->together &&
                      (!chop->enough || llabs(chop->likely - 360 * lives[_i].likely / 300) <= 15),
                  "%s: %d", lives[_i].name, chop ? (int)chop->likely : 0);
    ck_assert_ptr_null(lesson_of(l, "roast")); /* the oven's    */
    bp_lessons_free(l);
    forget(lives[_i].days);
}
END_TEST

/* One pot of one day that took far too long is no lesson either. */
START_TEST(one_odd_time_teaches_nothing)
{
    static const int percent[] = {100, 104, 96};
    bp_lessons *l = NULL;
    live_through(percent, 3);
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].kind == BP_OP_ACTIVE && strstr(plan->op[o].key, "/sweat")) {
            op[1][o].done.to += 3600;
            break;
        }
    ck_assert_int_eq(bp_lessons_make(&l, show, list, 3, &errs), BP_OK);
    ck_assert_uint_eq(lesson_of(l, "sweat")->odd, 1);
    ck_assert_int_eq(lesson_of(l, "sweat")->high, 315);
    bp_lessons_free(l);
    forget(3);
}
END_TEST

/* A beat of each appearance: likely as seen, the bounds only wider, one odd time left out. */
START_TEST(beats_are_learned_and_only_become_wider)
{
    static const int percent[] = {100, 100, 100, 100};
    const bp_beat *b = &plan->beat[plan->air[0].beats.first];
    bp_lessons *l = NULL;
    live_through(percent, 4);
    uint32_t k = plan->air[0].beats.first;
    beat[0][k].to = beat[0][k].from + b->likely;
    beat[1][k].to = beat[1][k].from + b->likely - 1;
    beat[2][k].to = beat[2][k].from + b->likely + 1;
    beat[3][k].to = beat[3][k].from + b->most + 4;
    ck_assert_int_eq(bp_lessons_make(&l, show, list, 4, &errs), BP_OK);
    const bp_lesson *seen = lesson_of(l, b->id);
    ck_assert(seen && seen->beat && seen->enough);
    ck_assert_str_eq(seen->recipe, plan->air[0].id);
    ck_assert_uint_eq(seen->seen, 4);
    ck_assert_uint_eq(seen->odd, 0);
    ck_assert_int_eq(seen->low, seen->was_low);
    ck_assert_int_eq(seen->likely, b->likely);
    ck_assert_int_eq(seen->high, seen->was_high + 4);
    bp_lessons_free(l);
    beat[3][k].to = beat[3][k].from + 10 * b->most;
    beat[0][k].to = BP_NO_TIME; /* left out on that day */
    beat[0][k].from = BP_NO_TIME;
    ck_assert_int_eq(bp_lessons_make(&l, show, list, 4, &errs), BP_OK);
    seen = lesson_of(l, b->id);
    ck_assert(!seen->enough && seen->seen == 3 && seen->odd == 1);
    bp_lessons_free(l);
    forget(4);
}
END_TEST

/* ---- writing --------------------------------------------------------------------------------- */

/* The shipped show as others would lay it out. */
static const char *const layouts[][2] = {
    {"\n", "\n"}, {"\n", "\r\n"}, {": ", " :\t"}, {", \"", " ,\""}, {"sweat", "sw\\u0065at"},
};

static void put_show(const char *from, const char *to, bpi_text *kept)
{
    bpi_text was = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_file_read(&was, SHOW, BPI_MAX_FILE, &errs), BP_OK);
    for (const char *s = was.s; *s;) {
        bool here = strncmp(s, from, strlen(from)) == 0;
        bpi_text_add(kept, here ? to : s, here ? strlen(to) : 1);
        s += here ? strlen(from) : 1;
    }
    bpi_text_put(kept, "\n\n ");
    bpi_text_release(&was);
    ck_assert_int_eq(bpi_file_write(path, kept->s, kept->len, &errs), BP_OK);
}

/* Times of steps, batches and beats, by the tree: all other bytes must be the same. Returns how many
 * times differ. */
static uint32_t compare(const bpi_node *a, const bpi_node *b, const char *old, const char *new,
                        size_t *old_at, size_t *new_at)
{
    uint32_t n = 0;
    bool is_batch = a->name && (strcmp(a->name, "once") == 0 || strcmp(a->name, "each") == 0);
    bool is_time = is_batch || (a->name && strcmp(a->name, "time") == 0 && a->parent &&
                                bpi_node_member(a->parent, "text"));
    size_t la = a->to - a->from, lb = b->to - b->from;
    if (is_time && (la != lb || memcmp(old + a->from, new + b->from, la) != 0)) {
        ck_assert_uint_eq(a->from - *old_at, b->from - *new_at);
        ck_assert_mem_eq(old + *old_at, new + *new_at, a->from - *old_at);
        *old_at = a->to;
        *new_at = b->to;
        return !is_batch;
    }
    if (is_time)
        return 0;
    ck_assert_int_eq(a->kind, b->kind);
    ck_assert_uint_eq(a->count, b->count);
    for (const bpi_node *c = a->first, *d = b->first; c; c = c->next, d = d->next)
        n += compare(c, d, old, new, old_at, new_at);
    return n;
}

static uint32_t differences(const bpi_text *old)
{
    bpi_arena *a = bpi_arena_new();
    bpi_node *before = NULL, *after = NULL;
    bpi_text now = BPI_TEXT_EMPTY;
    size_t old_at = 0, new_at = 0;
    ck_assert_int_eq(bpi_file_read(&now, path, BPI_MAX_FILE, &errs), BP_OK);
    ck_assert_int_eq(bpi_json_read(&before, a, "old", old->s, old->len, &errs), BP_OK);
    ck_assert_int_eq(bpi_json_read(&after, a, "new", now.s, now.len, &errs), BP_OK);
    uint32_t n = compare(before, after, old->s, now.s, &old_at, &new_at);
    ck_assert_uint_eq(old->len - old_at, now.len - new_at);
    ck_assert_mem_eq(old->s + old_at, now.s + new_at, old->len - old_at);
    bpi_text_release(&now);
    bpi_arena_free(a);
    return n;
}

START_TEST(only_the_times_change)
{
    static const int percent[] = {110, 120, 130};
    bp_show *mine = NULL;
    bp_lessons *l = NULL;
    bpi_text old = BPI_TEXT_EMPTY;
    uint32_t written = 0;
    put_show(layouts[_i][0], layouts[_i][1], &old);
    live_through(percent, 3);
    ck_assert_int_eq(bp_show_open(&mine, path, &errs), BP_OK);
    ck_assert_int_eq(bp_lessons_make(&l, mine, list, 3, &errs), BP_OK);
    ck_assert_int_eq(bp_lessons_write(l, &written, &errs), BP_OK);
    ck_assert_uint_ge(written, 3);
    ck_assert_uint_eq(differences(&old), written);
    bp_show_free(mine);
    bp_lessons_free(l);
    ck_assert_int_eq(bp_show_open(&mine, path, &errs), BP_OK); /* and it is what was learned */
    ck_assert_int_eq(bp_lessons_make(&l, mine, list, 3, &errs), BP_OK);
    const bp_lesson *sweat = lesson_of(l, "sweat");
    ck_assert_int_eq(sweat->was_low, sweat->low);
    ck_assert_int_eq(sweat->was_likely, sweat->likely);
    ck_assert_int_eq(sweat->was_high, sweat->high);
    ck_assert_int_eq(bp_lessons_write(l, &written, &errs), BP_OK); /* nothing is new */
    ck_assert_uint_eq(written, 0);
    bp_lessons_free(l);
    bp_show_free(mine);
    forget(3);
    bpi_text_release(&old);
}
END_TEST

START_TEST(a_file_that_was_changed_is_left_alone)
{
    static const int percent[] = {110, 120, 130};
    bp_show *mine = NULL;
    bp_lessons *l = NULL;
    bpi_text old = BPI_TEXT_EMPTY, later = BPI_TEXT_EMPTY;
    uint32_t written = 9;
    put_show("\n", "\n", &old);
    live_through(percent, 3);
    ck_assert_int_eq(bp_show_open(&mine, path, &errs), BP_OK);
    ck_assert_int_eq(bp_lessons_make(&l, mine, list, 3, &errs), BP_OK);
    put_show("\n", "\n\n", &later);
    ck_assert_int_eq(bp_lessons_write(l, &written, &errs), BP_EVALUE);
    ck_assert(strstr(errs.item[0].wrong, "stands here no more") != NULL);
    ck_assert_uint_eq(written, 0);
    ck_assert_uint_eq(differences(&later), 0);
    unlink(path);
    ck_assert_int_eq(bp_lessons_write(l, &written, &errs), BP_EIO);
    bp_show_free(mine);
    bp_lessons_free(l);
    forget(3);
    bpi_text_release(&old);
    bpi_text_release(&later);
}
END_TEST

/* Whatever fails, the file is the old one or the new one. */
START_TEST(a_full_disk_and_no_memory_leave_the_file)
{
    static const int percent[] = {110, 120, 130};
    bp_show *mine = NULL;
    bp_lessons *l = NULL;
    bpi_text old = BPI_TEXT_EMPTY;
    uint32_t written = 0;
    put_show("\n", "\n", &old);
    live_through(percent, 3);
    ck_assert_int_eq(bp_show_open(&mine, path, &errs), BP_OK);
    bool fired = true;
    long alive = bpi_mem_alive();
    for (long k = 0; fired; k++) {
        errs = (bp_errors){0};
        bpi_mem_fail_at(k, 0);
        bp_code rc = bp_lessons_make(&l, mine, list, 3, &errs);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        bp_lessons_free(fired ? NULL : l);
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
    ck_assert_int_eq(bp_lessons_make(&l, mine, list, 3, &errs), BP_OK);
    alive = bpi_mem_alive();
    errs = (bp_errors){0};
    bpi_sys_fail_at(0, ENOSPC, 1);
    ck_assert_int_eq(bp_lessons_write(l, &written, &errs), BP_EIO);
    bpi_sys_fail_at(-1, 0, 0);
    ck_assert_uint_eq(differences(&old), 0);
    fired = true;
    for (long k = 0; fired; k += 37) {
        errs = (bp_errors){0};
        bpi_mem_fail_at(k, 1);
        bp_code rc = bp_lessons_write(l, &written, &errs);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert_int_eq(bpi_mem_alive(), alive);
        if (fired)
            ck_assert_uint_eq(differences(&old), 0);
    }
    bp_lessons_free(l);
    bp_show_free(mine);
    forget(3);
    bpi_text_release(&old);
}
END_TEST

Suite *suite_day_after(void);
Suite *suite_day_after(void)
{
    Suite *s = suite_create("day/after");
    TCase *c = tcase_create("after");
    tcase_add_unchecked_fixture(c, make_plan, free_plan);
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, beats_last_from_one_to_the_next_without_holds);
    tcase_add_test(c, operations_last_as_they_were_ticked);
    tcase_add_loop_test(c, one_odd_day_teaches_nothing, 0, (int)(sizeof lives / sizeof *lives));
    tcase_add_test(c, one_odd_time_teaches_nothing);
    tcase_add_test(c, beats_are_learned_and_only_become_wider);
    tcase_add_loop_test(c, only_the_times_change, 0, (int)(sizeof layouts / sizeof *layouts));
    tcase_add_test(c, a_file_that_was_changed_is_left_alone);
    tcase_add_test(c, a_full_disk_and_no_memory_leave_the_file);
    suite_add_tcase(s, c);
    return s;
}

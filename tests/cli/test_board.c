/* The kitchen's board and its keys, without a terminal. */
#include "cli/board.h"

#include <check.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/show.h"
#include "cli/face.h"
#include "cli/screen.h"
#include "cli/tend.h"

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;
static bp_op *op;
static bpi_tend tend;
static bpi_grid grid;
static char line[400];
static uint32_t who[BPI_BOARD_PERSONS], persons;

static void make_plan(void)
{
    bp_plan_options options = {.work = 4000000}; /* enough for a plan, not for the best one */
    setlocale(LC_CTYPE, "C.UTF-8");
    ck_assert(bp_show_open(&show, "shows/harbour-breakfast.json", &errs) == BP_OK);
    ck_assert(bp_plan_make(&plan, show, &options, &errs) == BP_OK);
    op = calloc(plan->ops, sizeof *op); /* whoever the plan names: the work is shared by two */
    ck_assert_ptr_nonnull(op);
    for (uint32_t o = 0, n = 0; o < plan->ops; o++) {
        op[o] = plan->op[o];
        if (bp_op_is_ticked(op[o].kind))
            op[o].person = n++ % 2;
    }
    plan->op = op;
    persons = bpi_board_persons(who, plan);
    ck_assert_uint_eq(persons, 2);
}

static void free_plan(void)
{
    bp_plan_free(plan);
    free(op);
    bp_show_free(show);
}

static void set_up(void)
{
    errs = (bp_errors){0};
    ck_assert_int_eq(bpi_tend_init(&tend, plan, NULL, &errs), BP_OK);
}

static void tear_down(void)
{
    bpi_tend_release(&tend);
    bpi_grid_release(&grid);
}

static bp_kitchen_view look(int64_t now)
{
    bp_kitchen_view view;
    bp_kitchen_look(&view, bpi_tend_kitchen(&tend), now);
    return view;
}

static void draw_view(int rows, int columns, const bp_kitchen_view *view)
{
    bpi_board board = {.plan = plan,
                       .kitchen = bpi_tend_kitchen(&tend),
                       .view = view,
                       .mark = tend.mark,
                       .message = tend.log.message,
                       .alarm = tend.log.alarm};
    ck_assert(bpi_grid_reset(&grid, rows, columns));
    bpi_board_draw(&grid, &board);
}

static void draw(int rows, int columns, int64_t now)
{
    bp_kitchen_view view = look(now);
    draw_view(rows, columns, &view);
}

/* One row as ASCII: filled cells are '#', other characters '?'. */
static const char *row(int r)
{
    int n = 0;
    for (int c = 0; c < grid.columns; c++) {
        uint32_t code = grid.cell[r * grid.columns + c].code;
        line[n++] = (char)(code == BPI_GRID_BLOCK ? '#' : code < 127 ? code : '?');
    }
    line[n] = '\0';
    return line;
}

static bool shows(const char *text)
{
    for (int r = 0; r < grid.rows; r++)
        if (strstr(row(r), text))
            return true;
    return false;
}

static uint32_t first_for(uint32_t person)
{
    for (uint32_t o = 0; o < plan->ops; o++)
        if (plan->op[o].person == person && bp_op_is_ticked(plan->op[o].kind))
            return o;
    ck_abort_msg("nothing to do");
    return 0;
}

START_TEST(it_says_what_each_cook_does_now_and_next)
{
    const bp_op *first = &plan->op[0];
    draw(24, 80, first->from - 90);
    for (uint32_t i = 0; i < persons; i++) {
        char name[80];
        snprintf(name, sizeof name, "%u %s", i + 1, plan->person[who[i]].name);
        ck_assert_msg(shows(name), "%s", name);
        char text[40];
        snprintf(text, sizeof text, "%.30s", plan->op[first_for(who[i])].text);
        ck_assert_msg(shows(text), "%s", text);
    }
    ck_assert(shows("STARTS IN"));
    ck_assert(shows("NEXT "));
    ck_assert(!shows("LATE"));
    draw(24, 80, first->from + 240);
    ck_assert(shows("SHOULD HAVE BEGUN"));
    ck_assert(shows("4 MIN LATE"));
    draw(24, 80, first->from + 10800);
    ck_assert(shows("LATE ON SET: "));
}
END_TEST

/* Three sizes: large figures, one line each, and one that has room for a single cook. */
START_TEST(it_fits_what_room_there_is)
{
    for (int rows = 1; rows < 60; rows++)
        for (int columns = 1; columns < 200; columns += 7)
            draw(rows, columns, plan->op[0].from + 3000);
    draw(60, 80, plan->op[0].from + 3000);
    ck_assert(shows("####"));
    draw(14, 60, plan->op[0].from + 3000);
    ck_assert(!shows("####"));
    ck_assert(shows("NEXT "));
    tend.mark = who[persons - 1];
    draw(9, 60, plan->op[0].from + 3000);
    ck_assert(shows(plan->person[tend.mark].name));
}
END_TEST

static int count_rows(const char *text)
{
    int n = 0;
    for (int r = 0; r < grid.rows; r++)
        n += strstr(row(r), text) != NULL;
    return n;
}

/* Six rows for each of two cooks have figures of five rows, four have none; both have two steps to come. */
START_TEST(what_room_there_is_is_used)
{
    int64_t now = plan->op[0].from - 600;
    draw(18, 80, now);
    ck_assert(strstr(row(3), "##") && strstr(row(7), "##") && strstr(row(8), "STARTS IN"));
    ck_assert(strstr(row(9), "##") && strstr(row(13), "##"));
    ck_assert(strstr(row(6), "NEXT ") && strstr(row(7), "THEN "));
    ck_assert_int_eq(count_rows("THEN "), 2);
    draw(14, 80, now);
    ck_assert(!shows("##"));
    ck_assert_int_eq(count_rows("STARTS IN"), 2);
    ck_assert(strstr(row(4), "NEXT ") && strstr(row(5), "THEN "));
    ck_assert_int_eq(count_rows("THEN "), 2);
    draw(12, 80, now);
    ck_assert_int_eq(count_rows("NEXT "), 2);
    ck_assert_int_eq(count_rows("THEN "), 0);
    draw(40, 80, now); /* and no more than is of use */
    ck_assert(strstr(row(2 + 11), "2 "));
    ck_assert_int_ge(count_rows("THEN "), 6);
}
END_TEST

START_TEST(a_key_begins_and_ends)
{
    uint32_t o = first_for(plan->op[0].person);
    int number = '1';
    while (who[number - '1'] != plan->op[0].person)
        number++;
    int64_t from = plan->op[o].from, to = plan->op[o].to;
    bpi_tend_key(&tend, number, from + 10);
    ck_assert_int_eq(look(from + 10).task[o].state, BP_TASK_UNDER_WAY);
    bpi_tend_key(&tend, number, to + 5); /* and what is due begins at once */
    bp_kitchen_view v = look(to + 5);
    ck_assert_int_eq(v.task[o].done, to + 5);
    uint32_t next = v.at[plan->op[0].person];
    ck_assert_int_eq(v.task[next].started, plan->op[next].from <= to + 65 ? to + 5 : BP_NO_TIME);
    bool went_on = v.task[next].started != BP_NO_TIME;
    bpi_tend_key(&tend, 'u', to + 6);
    if (went_on)
        bpi_tend_key(&tend, 'U', to + 6);
    v = look(to + 6);
    ck_assert_int_eq(v.task[next].state, BP_TASK_TO_COME);
    ck_assert_int_eq(v.task[o].state, BP_TASK_UNDER_WAY);
}
END_TEST

START_TEST(a_mark_says_who_is_meant)
{
    int64_t at = plan->op[0].from;
    bpi_tend_key(&tend, ' ', at);
    ck_assert(strstr(tend.log.message, "whose?") != NULL);
    bpi_tend_key(&tend, BPI_KEY_DOWN, at);
    ck_assert_uint_eq(tend.mark, who[0]);
    bpi_tend_key(&tend, BPI_KEY_UP, at);
    ck_assert_uint_eq(tend.mark, BP_NO_INDEX);
    bpi_tend_key(&tend, BPI_KEY_UP, at);
    ck_assert_uint_eq(tend.mark, who[persons - 1]);
    bp_kitchen_view v = look(at);
    uint32_t now = v.at[tend.mark], next = bp_kitchen_after(bpi_tend_kitchen(&tend), &v, now);
    bpi_tend_key(&tend, 'n', at); /* the other way round */
    v = look(at + 1);
    ck_assert_uint_eq(v.at[tend.mark], next);
    ck_assert_int_eq(v.task[now].state, BP_TASK_TO_COME);
    bpi_tend_key(&tend, 'n', at + 1);
    ck_assert(strstr(tend.log.message, "it has begun") != NULL);
    bpi_tend_key(&tend, ' ', at + 2);
    ck_assert_uint_eq(look(at + 2).at[tend.mark], now);
    bpi_tend_key(&tend, BPI_KEY_ESCAPE, at + 2);
    ck_assert_uint_eq(tend.mark, BP_NO_INDEX);
    bpi_tend_key(&tend, 'q', at + 2);
    ck_assert(tend.leave);
}
END_TEST

/* A rehearsal from the middle: all before went as planned. */
START_TEST(it_can_begin_in_the_middle)
{
    int64_t now = plan->op[plan->ops / 2].from;
    bpi_tend_catch_up(&tend, now);
    bp_kitchen_view v = look(now);
    for (uint32_t o = 0; o < plan->ops; o++)
        if (bp_op_is_ticked(plan->op[o].kind))
            ck_assert_msg((v.task[o].started != BP_NO_TIME) == (plan->op[o].from < now) &&
                              (v.task[o].done != BP_NO_TIME) == (plan->op[o].to <= now),
                          "%s", plan->op[o].key);
    draw(24, 80, now);
    ck_assert(shows("COOKS"));
    ck_assert(!shows("LATE ON SET"));
}
END_TEST

/* What cooks unattended: how long until it may come off, how long it still may stay, and how much too
 * long it is on. */
START_TEST(what_cooks_says_when_it_comes_off)
{
    uint32_t o = 0;
    while (o < plan->ops && plan->op[o].kind != BP_OP_PASSIVE && plan->op[o].kind != BP_OP_OVEN)
        o++;
    ck_assert_uint_lt(o, plan->ops);
    int64_t now = plan->op[o].from + 60;
    bp_kitchen_view v = look(now);
    bp_task *task = (bp_task *)&v.task[o];
    task->state = BP_TASK_UNDER_WAY;
    task->off_least = now + 90;
    task->off_most = now + 300;
    draw_view(24, 80, &v);
    ck_assert(shows("in 1:30") && !shows("TAKE IT OFF") && !shows("TOO LONG BY"));
    v.now = now + 90;
    draw_view(24, 80, &v);
    ck_assert(shows("TAKE IT OFF, 3:30 left"));
    v.now = now + 310;
    draw_view(24, 80, &v);
    ck_assert(shows("TOO LONG BY 0:10"));
    task->off_least = task->off_most = BP_NO_TIME; /* no window: the time alone */
    task->to = now + 311;
    draw_view(24, 80, &v);
    ck_assert(shows("in 0:01") && !shows("TOO LONG BY"));
}
END_TEST

/* What was taken off too late says so until it is on set, and not where nobody said when it was put on. */
START_TEST(what_came_off_too_late_is_told)
{
    uint32_t o = 0;
    while (o < plan->ops && plan->op[o].kind != BP_OP_PASSIVE && plan->op[o].kind != BP_OP_OVEN)
        o++;
    ck_assert_uint_lt(o, plan->ops);
    int64_t now = plan->op[o].to + 600;
    uint32_t box = plan->index[plan->op[o].serves.first];
    char want[80];
    snprintf(want, sizeof want, "TASTE, ON TOO LONG: %s", plan->container[box].code);
    bp_kitchen_view v = look(now);
    bp_task *task = (bp_task *)&v.task[o];
    int64_t *on_set = (int64_t *)v.on_set;
    task->state = BP_TASK_DONE;
    task->started = plan->op[o].from;
    task->off_most = now - 600;
    task->done = task->off_most + 59;
    for (uint32_t i = 0; i < plan->op[o].serves.n; i++)
        on_set[plan->index[plan->op[o].serves.first + i]] = now + 900;
    draw_view(24, 80, &v);
    ck_assert(!shows("ON TOO LONG"));
    task->done = task->off_most + 299;
    draw_view(24, 200, &v); /* behind what is late on set, if it has room */
    ck_assert(shows(want) && shows(" 4 min"));
    task->started = BP_NO_TIME;
    draw_view(24, 200, &v);
    ck_assert(!shows("ON TOO LONG"));
    task->started = plan->op[o].from;
    for (uint32_t i = 0; i < plan->op[o].serves.n; i++)
        on_set[plan->index[plan->op[o].serves.first + i]] = now;
    draw_view(24, 200, &v);
    ck_assert(!shows("ON TOO LONG"));
}
END_TEST

/* All are late on set, and one came off too late: on 80 columns both are told, and how many more are late. */
START_TEST(what_came_off_too_late_is_told_beside_all_that_is_late)
{
    uint32_t o = 0;
    while (o < plan->ops && plan->op[o].kind != BP_OP_PASSIVE && plan->op[o].kind != BP_OP_OVEN)
        o++;
    ck_assert_uint_lt(o, plan->ops);
    int64_t now = plan->op[o].to + 600;
    bp_kitchen_view v = look(now);
    bp_task *task = (bp_task *)&v.task[o];
    task->state = BP_TASK_DONE;
    task->started = plan->op[o].from;
    task->done = now;
    task->off_most = now - 240;
    char all[400] = "LATE ON SET: ", over[80] = "", more[12];
    uint32_t told = 0;
    for (uint32_t c = 0; c < plan->containers; c++) {
        ((int64_t *)v.on_set)[c] = plan->container[c].set_by + 60 * (100 + c);
        snprintf(all + strlen(all), sizeof all - strlen(all), "%s%s %u min", c ? ", " : "",
                 plan->container[c].code, (unsigned)(100 + c));
    }
    ck_assert_uint_gt(plan->containers, 4);
    draw_view(24, 300, &v);
    ck_assert(shows(all) && shows("; TASTE, ON TOO LONG: ") && shows(" 4 min"));
    draw_view(24, 80, &v);
    ck_assert(shows("LATE ON SET: ") && shows("; TASTE, ON TOO LONG: ") && shows(" 4 min"));
    for (uint32_t c = 0; c < plan->containers; c++) {
        snprintf(over, sizeof over, "%s %u min", plan->container[c].code, (unsigned)(100 + c));
        told += shows(over);
    }
    ck_assert_uint_ge(told, 1);
    snprintf(more, sizeof more, ", +%u;", (unsigned)(plan->containers - told));
    ck_assert(shows(more));
}
END_TEST

/* With the next step light, and due meanwhile, the cook has that in hand; what they watch is below. */
START_TEST(what_is_watched_has_a_timer)
{
    uint32_t o = first_for(who[0]), next = o + 1;
    while (plan->op[next].person != who[0])
        next++;
    op[o].watch = 30;
    op[o].to = op[o].from + 1200;
    op[next].light = true;
    op[next].from = op[o].from + 60;
    op[next].to = op[o].to;
    char watches[200];
    snprintf(watches, sizeof watches, "%s watches: %.20s", plan->person[who[0]].name, op[o].text);
    bpi_tend_key(&tend, '1', op[o].from);
    draw(24, 100, op[o].from + 120);
    ck_assert(shows(watches));
    ck_assert(shows("in 18:00"));
    op[next].light = false;
    draw(24, 100, op[o].from + 120);
    ck_assert(!shows(watches)); /* it is what the cook does */
}
END_TEST

START_TEST(a_full_disk_is_told)
{
    snprintf(tend.log.alarm, sizeof tend.log.alarm, "NOT WRITTEN DOWN: the disk is full");
    draw(24, 80, plan->op[0].from);
    ck_assert(shows("NOT WRITTEN DOWN: the disk is full"));
}
END_TEST

START_TEST(a_key_that_can_do_nothing_says_why)
{
    int64_t end = plan->op[plan->ops - 1].from + 86400;
    bpi_tend_key(&tend, 'u', plan->op[0].from);
    ck_assert_str_eq(tend.log.message, "there is nothing to undo");
    bpi_tend_key(&tend, '9', plan->op[0].from); /* there is no ninth cook */
    bpi_tend_key(&tend, 'x', plan->op[0].from);
    ck_assert_str_eq(tend.log.message, "");
    ck_assert_uint_eq(look(plan->op[0].from).last, BP_NO_INDEX);
    bpi_tend_catch_up(&tend, end);
    tend.mark = who[0];
    bpi_tend_key(&tend, 'N', end);
    ck_assert_str_eq(tend.log.message, "nothing comes next");
}
END_TEST

START_TEST(when_all_is_done_it_says_so)
{
    int64_t end = plan->op[plan->ops - 1].from + 86400;
    bpi_tend_catch_up(&tend, end);
    draw(24, 80, end);
    ck_assert(shows("all done"));
    bpi_tend_key(&tend, '1', end);
    ck_assert(strstr(tend.log.message, "has done all") != NULL);
}
END_TEST

Suite *suite_cli_board(void);
Suite *suite_cli_board(void)
{
    Suite *s = suite_create("cli/board");
    TCase *c = tcase_create("board");
    tcase_add_unchecked_fixture(c, make_plan, free_plan);
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, it_says_what_each_cook_does_now_and_next);
    tcase_add_test(c, it_fits_what_room_there_is);
    tcase_add_test(c, what_room_there_is_is_used);
    tcase_add_test(c, a_key_begins_and_ends);
    tcase_add_test(c, a_mark_says_who_is_meant);
    tcase_add_test(c, it_can_begin_in_the_middle);
    tcase_add_test(c, what_cooks_says_when_it_comes_off);
    tcase_add_test(c, what_came_off_too_late_is_told);
    tcase_add_test(c, what_came_off_too_late_is_told_beside_all_that_is_late);
    tcase_add_test(c, what_is_watched_has_a_timer);
    tcase_add_test(c, a_full_disk_is_told);
    tcase_add_test(c, a_key_that_can_do_nothing_says_why);
    tcase_add_test(c, when_all_is_done_it_says_so);
    suite_add_tcase(s, c);
    return s;
}

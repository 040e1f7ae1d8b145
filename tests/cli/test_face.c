/* The clock's layout and its keys, without a terminal. */
#include "cli/face.h"

#include <check.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "backpot/show.h"
#include "base/memory.h"
#include "base/sys.h"
#include "cli/screen.h"
#include "cli/watch.h"

#define WORK 4000000 /* enough for a plan, not for the best one */

static bp_errors errs;
static bp_show *show;
static bp_plan *plan;
static const bp_air *air;
static bpi_watch watch;
static bpi_grid grid;
static char line[400];

static void make_plan(void)
{
    bp_plan_options options = {.work = WORK};
    setlocale(LC_CTYPE, "C.UTF-8");
    ck_assert(bp_show_open(&show, "shows/harbour-breakfast.json", &errs) == BP_OK);
    ck_assert(bp_plan_make(&plan, show, &options, &errs) == BP_OK);
    air = &plan->air[0];
}

static void free_plan(void)
{
    bp_plan_free(plan);
    bp_show_free(show);
}

static void set_up(void)
{
    errs = (bp_errors){0};
    ck_assert_int_eq(bpi_watch_init(&watch, plan, NULL, &errs), BP_OK);
}

static void tear_down(void)
{
    bpi_watch_release(&watch);
    bpi_grid_release(&grid);
}

static void key(int k, int64_t t)
{
    bpi_watch_key(&watch, k, air->hit + t);
}

static void type(const char *keys, int64_t t)
{
    for (; *keys; keys++)
        key(*keys, t);
}

static bp_floor_view look(int64_t t)
{
    bp_floor_view view;
    ck_assert_int_eq(bp_floor_look(&view, bpi_watch_floor(&watch), air->hit + t, &errs), BP_OK);
    return view;
}

static void draw_view(int rows, int columns, const bp_floor_view *view)
{
    bpi_face face = {.plan = plan,
                     .floor = bpi_watch_floor(&watch),
                     .view = view,
                     .mark = watch.mark,
                     .message = bpi_watch_message(&watch),
                     .alarm = watch.log.alarm};
    ck_assert(bpi_grid_reset(&grid, rows, columns));
    bpi_face_draw(&grid, &face);
}

static void draw(int rows, int columns, int64_t t)
{
    bp_floor_view view = look(t);
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
    while (n > 0 && line[n - 1] == ' ')
        n--;
    line[n] = '\0';
    return line;
}

/* Is it anywhere on the screen? */
static bool shows(const char *text)
{
    for (int r = 0; r < grid.rows; r++)
        if (strstr(row(r), text))
            return true;
    return false;
}

/* What stands on the line of a beat's containers. */
static const char *boxes(const char *lead, uint32_t beat, bool in)
{
    static char text[80];
    bp_floor_view v = look(30);
    uint32_t c = BP_NO_INDEX;
    ck_assert_uint_ge(in ? bp_floor_comes(&c, 1, bpi_watch_floor(&watch), &v, beat)
                         : bp_floor_goes(&c, 1, bpi_watch_floor(&watch), &v, beat),
                      1);
    snprintf(text, sizeof text, "      %-5s%s", lead, plan->container[c].code);
    return text;
}

static bool begins(const char *text, const char *with)
{
    return strncmp(text, with, strlen(with)) == 0;
}

/* ---- cells ----------------------------------------------------------------------------------- */

START_TEST(what_does_not_fit_is_cut)
{
    ck_assert(bpi_grid_reset(&grid, 3, 10));
    ck_assert_int_eq(bpi_grid_put(&grid, 0, 2, 100, "abcdefghijk", BPI_PLAIN), 8);
    ck_assert_str_eq(row(0), "  abcdefg.");
    ck_assert_int_eq(bpi_grid_put(&grid, 1, 0, 4, "abcd", BPI_PLAIN), 4);
    ck_assert_str_eq(row(1), "abcd");
    ck_assert_int_eq(bpi_grid_put(&grid, 2, 0, 10, "a\033[2Jb\xff", BPI_PLAIN), 6);
    ck_assert_str_eq(row(2), "a[2Jb?"); /* no control character reaches the terminal */
    bpi_grid_put(&grid, 9, 0, 5, "x", BPI_PLAIN);
    bpi_grid_put(&grid, 0, 12, 5, "x", BPI_PLAIN);
    bpi_grid_put_right(&grid, 1, 0, 10, "wxyz", BPI_PLAIN);
    ck_assert_str_eq(row(1), "abcd  wxyz");
}
END_TEST

START_TEST(wide_characters_take_two_cells)
{
    ck_assert(bpi_grid_reset(&grid, 1, 10));
    ck_assert_int_eq(bpi_grid_put(&grid, 0, 0, 10, "日本x", BPI_PLAIN), 5);
    ck_assert_uint_eq(grid.cell[1].code, 0);
    ck_assert_uint_eq(grid.cell[4].code, 'x');
    ck_assert_int_eq(bpi_grid_put(&grid, 0, 0, 4, "日本x", BPI_PLAIN), 3); /* no half of one */
}
END_TEST

START_TEST(words_are_broken_at_blanks)
{
    ck_assert(bpi_grid_reset(&grid, 3, 12));
    ck_assert_int_eq(bpi_grid_wrap(&grid, 0, 2, 0, 12, "low heat and let it go sweet", BPI_PLAIN),
                     2);
    ck_assert_str_eq(row(0), "low heat and");
    ck_assert_str_eq(row(1), "let it go s.");
    ck_assert_str_eq(row(2), "");
}
END_TEST

START_TEST(lengths_are_written_as_on_a_clock)
{
    static const struct {
        int64_t s;
        bool plus;
        const char *text;
    } rows[] = {{0, true, "0:00"},        {35, false, "0:35"},       {-8, true, "-0:08"},
                {8, true, "+0:08"},       {725, false, "12:05"},     {3599, false, "59:59"},
                {3600, false, "1:00:00"}, {36125, false, "10:02:05"}};
    char text[BPI_FACE_TIME];
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_str_eq(bpi_face_time(text, rows[i].s, rows[i].plus), rows[i].text);
}
END_TEST

/* No two figures look alike: digits differ in at least four cells, signs in two. */
START_TEST(figures_can_be_told_apart)
{
    static const char all[] = "0123456789+-";
    static bool filled[sizeof all][BPI_GRID_FIGURE * 5];
    for (size_t i = 0; all[i]; i++) {
        char one[2] = {all[i], '\0'};
        ck_assert(bpi_grid_reset(&grid, BPI_GRID_FIGURE, 5));
        ck_assert_int_eq(bpi_grid_figures(&grid, 0, 0, 1, one), i < 10 ? 6 : 4);
        for (int c = 0; c < BPI_GRID_FIGURE * 5; c++)
            filled[i][c] = grid.cell[c].code == BPI_GRID_BLOCK;
        for (size_t j = 0; j < i; j++) {
            int differ = 0;
            for (int c = 0; c < BPI_GRID_FIGURE * 5; c++)
                differ += filled[i][c] != filled[j][c];
            ck_assert_msg(differ >= (i < 10 ? 4 : 2), "%c and %c", all[i], all[j]);
        }
    }
}
END_TEST

/* ---- the face -------------------------------------------------------------------------------- */

START_TEST(low_figures_can_be_told_apart)
{
    static bool filled[10][BPI_GRID_LOW_FIGURE * 5];
    for (int i = 0; i < 10; i++) {
        char one[2] = {(char)('0' + i), '\0'};
        ck_assert(bpi_grid_reset(&grid, BPI_GRID_LOW_FIGURE, 5));
        ck_assert_int_eq(bpi_grid_low_figures(&grid, 0, 0, one), 6);
        for (int c = 0; c < BPI_GRID_LOW_FIGURE * 5; c++)
            filled[i][c] = grid.cell[c].code == BPI_GRID_BLOCK;
        for (int j = 0; j < i; j++) {
            int differ = 0;
            for (int c = 0; c < BPI_GRID_LOW_FIGURE * 5; c++)
                differ += filled[i][c] != filled[j][c];
            ck_assert_msg(differ >= 2, "%d and %d", i, j);
        }
    }
}
END_TEST

START_TEST(everything_stands_on_80_by_24)
{
    draw(24, 80, -30);
    ck_assert(strncmp(row(0), " Two bowls for a cold morning  ", 31) == 0);
    ck_assert_str_eq(row(0) + 71, "08:23:30");
    ck_assert(shows("ON AIR IN") && shows("SLOT") && shows("ON TIME") && shows("SPACE on air"));
    key(' ', 0);
    key(' ', 24);
    draw(24, 80, 30);
    ck_assert(shows("BEAT LEFT") && shows("SLOT LEFT") && shows("SPACE next"));
    ck_assert(strncmp(row(10), "NOW 2 Vegetables into the hot pot", 33) == 0);
    ck_assert(shows("Low heat, lid off, and let the carrots"));
    ck_assert(strncmp(row(15), "NEXT  Lentils and stock go in, lid on", 37) == 0);
    ck_assert(begins(row(13), boxes("IN", 1, true)));
    ck_assert(begins(row(14), boxes("OUT", 1, false)));
    ck_assert(begins(row(16), boxes("IN", 2, true)));
    ck_assert(shows("Where to find the recipes") || shows("Hosts taste both"));
    /* 0:37 of the beat, 3:55 of the slot, +0:00: three groups, apart, over seven rows */
    for (int r = 2; r < 9; r++) {
        const char *s = row(r);
        ck_assert_int_le((int)strlen(s), 80);
        ck_assert(s[26] == ' ' && s[53] == ' ');
    }
}
END_TEST

START_TEST(any_size_is_drawn_within_its_edges)
{
    key(' ', 0);
    key(' ', 24);
    for (int rows = 1; rows < 60; rows += 3)
        for (int columns = 1; columns < 200; columns += 7) {
            draw(rows, columns, 30);
            ck_assert_int_eq(grid.rows, rows);
        }
    draw(14, 60, 30);
    ck_assert(shows("0:37") && shows("3:55") && shows("NOW 2") && shows("NEXT"));
    draw(48, 160, 30); /* twice as large */
    ck_assert_int_eq((int)strspn(row(2) + 2, "#"), 6);
}
END_TEST

START_TEST(what_must_not_be_overlooked_has_a_line)
{
    key(' ', 0);
    key('h', 30);
    draw(24, 80, 42);
    ck_assert(shows("HELD for 0:12") && shows("H go on"));
    key('h', 42);
    key('c', 50);
    type("4:00\n", 50);
    draw(24, 80, 50);
    ck_assert(shows("TOO LONG BY"));
    snprintf(watch.log.alarm, sizeof watch.log.alarm, "NOT WRITTEN DOWN: the disk is full");
    draw(24, 80, 50);
    ck_assert(shows("NOT WRITTEN DOWN: the disk is full"));
}
END_TEST

/* The worst of it alone: what is not safe, what spoils, what does not fit, what lost what it needs. */
START_TEST(the_worst_has_the_line)
{
    char want[80], clock[BP_CLOCK_ROOM];
    key(' ', 0);
    bp_floor_view v = look(30);
    v.fit.stranded = 2;
    draw_view(24, 80, &v);
    ck_assert(shows("a beat that must stay has lost one that it needs"));
    v.fit.over = -75;
    draw_view(24, 80, &v);
    ck_assert(shows("SHORT BY 1:15, even at its longest") && !shows("has lost one"));
    v.fit.over = 20;
    draw_view(24, 80, &v);
    ck_assert(shows("TOO LONG BY 0:20, even at its shortest: drop a beat"));
    v.spoils = 0;
    v.spoils_at = air->hit + 60;
    bp_plan_clock(clock, plan, v.spoils_at);
    snprintf(want, sizeof want, "%s is past its best after %s", plan->container[0].code, clock);
    draw_view(24, 80, &v);
    ck_assert(shows(want) && !shows("TOO LONG BY"));
    v.unsafe = true;
    snprintf(want, sizeof want, "%s IS NOT SAFE TO EAT after %s", plan->container[0].code, clock);
    draw_view(24, 80, &v);
    ck_assert(shows(want));
}
END_TEST

/* Off air what no longer counts is not told. */
START_TEST(off_air_it_says_how_it_went)
{
    key(' ', 0);
    bp_floor_view v = look(30);
    v.phase = BP_FLOOR_OFF;
    v.spoils = BP_NO_INDEX;
    v.fit.over = 20;
    v.elapsed = v.length;
    draw_view(24, 80, &v);
    ck_assert(shows("TO THE SECOND") && !shows("TOO LONG") && !shows("NOW 1"));
    v.elapsed = v.length + 61;
    v.fit.over = -20;
    draw_view(24, 80, &v);
    ck_assert(shows("RAN OVER") && !shows("SHORT BY"));
}
END_TEST

START_TEST(a_hit_that_is_past_is_told)
{
    draw(24, 80, 40);
    ck_assert(shows("SHOULD HAVE BEGUN") && !shows("ON AIR IN"));
    draw(24, 80, -4000); /* an hour takes the room of the slot's length */
    ck_assert(shows("ON AIR IN") && !shows("SLOT"));
}
END_TEST

/* Room for two beats to come: they go up until the marked one is among them. */
START_TEST(the_marked_beat_is_always_in_sight)
{
    key(' ', 0);
    uint32_t last = air->beats.n - 1;
    char text[40];
    snprintf(text, sizeof text, "%.20s", plan->beat[air->beats.first + last].text);
    bp_floor_view v = look(10);
    draw_view(14, 80, &v);
    ck_assert(!shows(text));
    watch.mark = last;
    draw_view(14, 80, &v);
    ck_assert(shows(text));
    watch.mark = BP_NO_INDEX;
}
END_TEST

START_TEST(a_beat_that_there_is_no_time_for_says_so)
{
    key(' ', 0);
    bp_floor_view v = look(10);
    ck_assert_uint_eq(v.gone, 0);
    draw_view(24, 80, &v);
    ck_assert(!shows("no time"));
    v.gone = 7; /* the one on air is shown with its time all the same */
    draw_view(24, 80, &v);
    ck_assert(shows("no time"));
    for (int r = 0; r < grid.rows; r++)
        if (begins(row(r), "NOW 1"))
            ck_assert_ptr_null(strstr(row(r), "no time"));
}
END_TEST

START_TEST(a_camera_stands_by_its_beat_and_is_told_when_it_is_late)
{
    bp_beat *b = (bp_beat *)&plan->beat[air->beats.first], kept[2];
    memcpy(kept, b, sizeof kept);
    b[0].place = b[1].place = 0;
    b[0].station = "front", b[1].station = "stove";
    b[0].camera = b[1].camera = "close-up";
    b[1].camera_move = 20;
    key(' ', 0);
    draw(24, 80, 10);
    ck_assert(shows("front, close-up") && shows("stove, close-up"));
    ck_assert(shows("CAMERA close-up IS 0:20 LATE for NEXT: Vegetables into the hot pot"));
    key(' ', 24);
    draw(24, 80, 30); /* it is on now */
    ck_assert(!shows("CAMERA"));
    memcpy(b, kept, sizeof kept);
}
END_TEST

/* The beat that comes next is walked to past something hot, or finds its station full. */
START_TEST(what_is_in_the_way_to_the_next_beat_is_told)
{
    bp_beat *b = (bp_beat *)&plan->beat[air->beats.first], kept[2];
    uint32_t c = plan->index[b[1].on.first];
    bp_container *box = (bp_container *)&plan->container[c], was = *box;
    memcpy(kept, b, sizeof kept);
    ck_assert_uint_gt(b[1].on.n, 0);
    b[0].post = 1, b[1].post = 2;
    b[1].station = "stove";
    b[0].on = (bp_slice){b[1].on.first, 1}; /* it comes along from the first */
    key(' ', 0);
    box->comes_hot = false, box->hot = 0;
    draw(24, 80, 10);
    ck_assert(!shows("HOT IN THE WAY") && !shows("FULL for NEXT"));
    box->hot = 1; /* after the first beat */
    draw(24, 80, 10);
    ck_assert(shows("HOT IN THE WAY to NEXT: Vegetables into the hot pot"));
    b[1].room = 1;
    b[1].on.n = 2;
    draw(24, 80, 10);
    ck_assert(shows("FULL for NEXT: stove holds 2, has room for 1"));
    *box = was;
    memcpy(b, kept, sizeof kept);
}
END_TEST

START_TEST(a_beat_that_runs_over_says_so)
{
    key(' ', 0);
    draw(24, 80, 30);
    ck_assert(shows("BEAT IS OVER BY") && shows("OVER"));
    for (int i = 0; i < 8; i++)
        key(' ', 100 + i);
    draw(24, 80, 110);
    ck_assert(shows("OFF AIR AFTER") && shows("RAN UNDER") && shows("B back on air"));
}
END_TEST

/* ---- keys ------------------------------------------------------------------------------------ */

START_TEST(the_first_space_is_the_hit_and_the_first_beat)
{
    key(' ', 3);
    bp_floor_view v = look(3);
    ck_assert_int_eq(v.phase, BP_FLOOR_ON);
    ck_assert_int_eq(v.hit, air->hit + 3);
    ck_assert_uint_eq(v.beat, 0);
}
END_TEST

START_TEST(long_before_the_hit_space_asks_first)
{
    key(' ', -600);
    ck_assert_int_eq(look(-600).phase, BP_FLOOR_BEFORE);
    ck_assert(strstr(bpi_watch_message(&watch), "On air now? Y or N") != NULL);
    key('n', -599);
    ck_assert_int_eq(look(-599).phase, BP_FLOOR_BEFORE);
    key(' ', -598);
    key('y', -597);
    ck_assert_int_eq(look(-597).phase, BP_FLOOR_ON);
}
END_TEST

START_TEST(lengths_are_typed)
{
    static const struct {
        const char *typed;
        int64_t cut; /* INT64_MAX: refused */
    } rows[] = {{"40\n", 40},          {"0:40\n", 40},
                {"1:05\n", 65},        {"-0:20\n", -20},
                {"1:5\n", INT64_MAX},  {":40\n", INT64_MAX},
                {"\n", INT64_MAX},     {"1:60\n", INT64_MAX},
                {"9:00\n", INT64_MAX}, {"x4y0\n", 40},
                {"12\1770\n", 10},     {"40\033", INT64_MAX},
                {"0:4\1775\n", 5 + 0}, {"999999999999\n", INT64_MAX},
                {"-0\n", INT64_MAX}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        int64_t before = look(-9).length;
        key('c', -9);
        type(rows[i].typed, -9);
        int64_t cut = before - look(-9).length;
        if (strcmp(rows[i].typed, "0:4\1775\n") == 0)
            ck_assert_int_eq(cut, 0); /* "0:5" is no length */
        else
            ck_assert_msg(cut == (rows[i].cut == INT64_MAX ? 0 : rows[i].cut), "%s", rows[i].typed);
    }
    key('l', -9);
    type("2:00\n", -9);
    ck_assert_int_eq(look(-9).hit, air->hit + 120);
}
END_TEST

START_TEST(the_mark_says_which_beat_is_dropped)
{
    key(' ', 0);
    key(BPI_KEY_DOWN, 5);
    key(BPI_KEY_DOWN, 5);
    ck_assert_uint_eq(watch.mark, 2);
    key('d', 6);
    ck_assert_uint_eq(look(6).out, 4);
    draw(24, 80, 6);
    ck_assert(shows("dropped"));
    key('d', 7);
    ck_assert_uint_eq(look(7).out, 0);
    key(BPI_KEY_ESCAPE, 7);
    key('d', 8); /* the next one, and the same again */
    ck_assert_uint_eq(look(8).out, 2);
    key('d', 8);
    ck_assert_uint_eq(look(8).out, 0);
    key('d', 8);
    key(BPI_KEY_ESCAPE, 8);
    key(BPI_KEY_UP, 9);
    ck_assert_uint_eq(watch.mark, air->beats.n - 1);
    key(' ', 10);
    ck_assert_uint_eq(watch.mark, BP_NO_INDEX);
    ck_assert_uint_eq(look(10).beat, 2);
}
END_TEST

/* A key that can do nothing now says why, and nothing happens. */
START_TEST(a_key_that_can_do_nothing_says_why)
{
    key('b', -5);
    ck_assert_str_eq(bpi_watch_message(&watch), "there is no beat to go back to");
    key(' ', 0);
    key('h', 5);
    bp_floor_view v = look(6);
    key(' ', 6);
    ck_assert_str_eq(bpi_watch_message(&watch), "the slot is held: press H to go on");
    ck_assert_uint_eq(look(6).beat, v.beat);
    key('h', 6);
    for (uint32_t i = 1; i < air->beats.n; i++)
        key(' ', 10 + i);
    v = look(40);
    ck_assert_uint_eq(v.next, BP_NO_INDEX);
    key('d', 40);
    ck_assert_str_eq(bpi_watch_message(&watch), "there is no beat to drop");
    ck_assert_uint_eq(look(40).out, v.out);
    key('c', 41);
    type("0:3", 41);
    ck_assert_str_eq(bpi_watch_message(&watch), "Cut by how much? (0:40; -0:20 gives time)  0:3_");
    key(BPI_KEY_ESCAPE, 41);
    ck_assert_str_eq(bpi_watch_message(&watch), "");
    key('x', 42);
    v = look(42);
    ck_assert_int_eq(v.phase, BP_FLOOR_ON);
    key(' ', 43);
    ck_assert_int_eq(look(43).phase, BP_FLOOR_OFF);
    key(' ', 44);
    ck_assert_int_eq(look(44).phase, BP_FLOOR_OFF);
    key('q', 45); /* off air nothing is asked */
    ck_assert(watch.leave);
}
END_TEST

START_TEST(leaving_on_air_asks_first)
{
    key(' ', 0);
    key('q', 5);
    ck_assert(!watch.leave);
    key('n', 5);
    key(BPI_KEY_END, 6);
    ck_assert(!watch.leave);
    key('Y', 6);
    ck_assert(watch.leave);
}
END_TEST

#define NEW_PATH "/tmp/backpot-test-XXXXXX"

/* A path at which there is nothing yet, and the head of a log of this plan. */
static bp_log_head new_log(char path[static sizeof NEW_PATH])
{
    int fd = mkstemp(path);
    ck_assert_int_ge(fd, 0);
    close(fd);
    unlink(path);
    return (bp_log_head){plan->show_id, plan->stamp, true};
}

/* A full disk does not stop the clock; once there is room all of it is in the log, and the floor is
 * what the log says. */
START_TEST(what_cannot_be_written_is_written_later)
{
    char path[] = NEW_PATH;
    bp_log_head head = new_log(path);
    bp_logbook *book = NULL;
    bp_log *log = NULL;
    ck_assert_int_eq(bp_logbook_open(&book, path, &head, &errs), BP_OK);
    bpi_watch_release(&watch);
    ck_assert_int_eq(bpi_watch_init(&watch, plan, book, &errs), BP_OK);
    bpi_sys_fail_at(0, 28 /* ENOSPC */, 1);
    key(' ', 0);
    key(' ', 20);
    bpi_watch_tick(&watch);
    bp_floor_view full = look(25);
    ck_assert_uint_eq(full.beat, 1);
    ck_assert_uint_eq(watch.log.lost_n, 3);
    ck_assert(strstr(watch.log.alarm, "NOT WRITTEN DOWN:") != NULL);
    ck_assert(strstr(watch.log.alarm, "the disk is full") != NULL);
    bpi_sys_fail_at(-1, 0, 0);
    bpi_watch_tick(&watch);
    bp_floor_view later = look(25);
    ck_assert_mem_eq(&full, &later, sizeof full);
    ck_assert_uint_eq(watch.log.lost_n, 0);
    ck_assert_str_eq(watch.log.alarm, "");
    ck_assert_int_eq(bp_log_read(&log, path, &errs), BP_OK);
    ck_assert_uint_eq(log->events, 3);
    bp_log_free(log);
    bp_logbook_close(book);
    unlink(path);
}
END_TEST

/* A key for which there is no memory is lost, and that is told; the next one counts. */
START_TEST(without_memory_a_key_is_told_to_be_lost)
{
    bpi_mem_fail_at(0, 1);
    key(' ', 0);
    bool grown = bpi_grid_reset(&grid, 30, 90);
    bpi_mem_fail_at(-1, 0);
    ck_assert(!grown);
    ck_assert(strstr(watch.log.alarm, "out of memory") != NULL);
    ck_assert_int_eq(look(1).phase, BP_FLOOR_BEFORE);
    key(' ', 1);
    ck_assert_int_eq(look(2).phase, BP_FLOOR_ON);
}
END_TEST

/* A log that says what cannot have been is not gone on from. */
START_TEST(a_log_that_does_not_fit_is_not_followed)
{
    char path[] = NEW_PATH;
    bp_log_head head = new_log(path);
    bp_event off = {
        .kind = BP_DAY_OFF, .at = air->hit, .air = air->id, .beat = "", .op = "", .text = ""};
    bp_logbook *book = NULL, *other = NULL;
    ck_assert_int_eq(bp_logbook_open(&book, path, &head, &errs), BP_OK);
    bpi_watch_release(&watch);
    ck_assert_int_eq(bpi_watch_init(&watch, plan, book, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_open(&other, path, &head, &errs), BP_OK);
    ck_assert_int_eq(bp_logbook_add(other, &off, &errs), BP_OK); /* another program's mistake */
    bpi_watch_tick(&watch);
    ck_assert_msg(strstr(watch.log.alarm, "the slot has not begun") != NULL, "%s", watch.log.alarm);
    bpi_watch_release(&watch);
    errs = (bp_errors){0};
    ck_assert_int_eq(bpi_watch_init(&watch, plan, book, &errs), BP_EVALUE);
    ck_assert_str_eq(errs.item[0].wrong, "the slot has not begun");
    bp_logbook_close(other);
    bp_logbook_close(book);
    unlink(path);
}
END_TEST

/* The same day by a plan in which a container comes late: what was pressed stays. */
START_TEST(a_mended_plan_is_gone_on_by)
{
    char path[] = NEW_PATH, want[80], clock[BP_CLOCK_ROOM];
    bp_log_head head = new_log(path);
    bp_logbook *book = NULL;
    ck_assert_int_eq(bp_logbook_open(&book, path, &head, &errs), BP_OK);
    bpi_watch_release(&watch);
    ck_assert_int_eq(bpi_watch_init(&watch, plan, book, &errs), BP_OK);
    key(' ', 0);
    key(' ', 20);
    ck_assert(!watch.log.kind->behind(watch.log.state));
    bp_event e = {BP_DAY_MISHAP, air->hit + 22, "", "", "", "07:24 A4 burnt", 0, 0};
    ck_assert_int_eq(bp_logbook_add(book, &e, &errs), BP_OK);
    bpi_watch_tick(&watch);
    ck_assert(watch.log.kind->behind(watch.log.state));
    bp_floor_view was = look(25);

    bp_plan *asked = plan, mended = *plan;
    bp_container box[64];
    ck_assert_uint_le(plan->containers, 64);
    memcpy(box, plan->container, plan->containers * sizeof *box);
    box[3].late = 240;
    box[3].on_set = box[3].set_by + 240;
    mended.container = box;
    mended.mishaps = 1;
    ck_assert_int_eq(bpi_watch_go_on(&watch, &mended, &errs), BP_OK);
    plan = &mended;
    ck_assert(!watch.log.kind->behind(watch.log.state));
    bp_floor_view v = look(25);
    ck_assert_mem_eq(&was, &v, sizeof v);
    v.now = box[3].on_set - 1;
    snprintf(want, sizeof want, "LATE ON SET: %s at %s", box[3].code,
             bp_plan_clock(clock, plan, box[3].on_set));
    draw_view(24, 80, &v);
    ck_assert_msg(shows(want), "%s", want);
    v.now = box[3].on_set; /* it is there */
    draw_view(24, 80, &v);
    ck_assert(!shows("LATE ON SET"));
    v.now--;
    v.phase = BP_FLOOR_OFF;
    draw_view(24, 80, &v);
    ck_assert(!shows("LATE ON SET"));
    plan = asked;
    bpi_watch_release(&watch);
    ck_assert_int_eq(bpi_watch_init(&watch, plan, NULL, &errs), BP_OK);
    bp_logbook_close(book);
    unlink(path);
}
END_TEST

Suite *suite_cli_face(void);
Suite *suite_cli_face(void)
{
    Suite *s = suite_create("cli/face");
    TCase *c = tcase_create("face");
    tcase_add_unchecked_fixture(c, make_plan, free_plan);
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, what_does_not_fit_is_cut);
    tcase_add_test(c, wide_characters_take_two_cells);
    tcase_add_test(c, words_are_broken_at_blanks);
    tcase_add_test(c, lengths_are_written_as_on_a_clock);
    tcase_add_test(c, figures_can_be_told_apart);
    tcase_add_test(c, low_figures_can_be_told_apart);
    tcase_add_test(c, everything_stands_on_80_by_24);
    tcase_add_test(c, any_size_is_drawn_within_its_edges);
    tcase_add_test(c, what_must_not_be_overlooked_has_a_line);
    tcase_add_test(c, the_worst_has_the_line);
    tcase_add_test(c, off_air_it_says_how_it_went);
    tcase_add_test(c, a_hit_that_is_past_is_told);
    tcase_add_test(c, the_marked_beat_is_always_in_sight);
    tcase_add_test(c, a_beat_that_there_is_no_time_for_says_so);
    tcase_add_test(c, a_camera_stands_by_its_beat_and_is_told_when_it_is_late);
    tcase_add_test(c, what_is_in_the_way_to_the_next_beat_is_told);
    tcase_add_test(c, a_beat_that_runs_over_says_so);
    tcase_add_test(c, the_first_space_is_the_hit_and_the_first_beat);
    tcase_add_test(c, long_before_the_hit_space_asks_first);
    tcase_add_test(c, lengths_are_typed);
    tcase_add_test(c, the_mark_says_which_beat_is_dropped);
    tcase_add_test(c, a_key_that_can_do_nothing_says_why);
    tcase_add_test(c, leaving_on_air_asks_first);
    tcase_add_test(c, what_cannot_be_written_is_written_later);
    tcase_add_test(c, without_memory_a_key_is_told_to_be_lost);
    tcase_add_test(c, a_log_that_does_not_fit_is_not_followed);
    tcase_add_test(c, a_mended_plan_is_gone_on_by);
    suite_add_tcase(s, c);
    return s;
}

#include "out/timeline_layout.h"

#include <check.h>

#include "base/memory.h"
#include "support/plan_sample.h"

static plan_sample sample;

/* Pages as they are, and one picture without an end. */
static const bpi_tl_ask asks[] = {
    {BPI_TL_PATHS, 670, 400, 2}, {BPI_TL_LANES, 670, 400, 7}, {BPI_TL_LANES, 500, 120, 3},
    {BPI_TL_PATHS, 0, 0, 7},     {BPI_TL_LANES, 0, 0, 7},
};

enum { ASKS = sizeof asks / sizeof *asks };

static bpi_arena *arena;

static const bpi_tl *lay_out(const bpi_tl_ask *ask)
{
    plan_sample_fill(&sample);
    arena = bpi_arena_new();
    const bpi_tl *tl = bpi_tl_make(arena, &sample.plan, ask);
    ck_assert_ptr_nonnull(tl);
    return tl;
}

START_TEST(no_two_bars_of_a_lane_overlap)
{
    const bpi_tl *tl = lay_out(&asks[_i]);
    ck_assert_uint_gt(tl->bars, 50);
    for (uint32_t i = 0; i < tl->bars; i++)
        for (uint32_t k = i + 1; k < tl->bars; k++)
            if (tl->bar[i].lane == tl->bar[k].lane)
                ck_assert(tl->bar[i].x1 <= tl->bar[k].x0 + 1e-6 ||
                          tl->bar[k].x1 <= tl->bar[i].x0 + 1e-6);
    bpi_arena_free(arena);
}
END_TEST

START_TEST(every_bar_is_inside_the_axis_and_runs_forward)
{
    const bpi_tl *tl = lay_out(&asks[_i]);
    for (uint32_t i = 0; i < tl->bars; i++) {
        ck_assert_double_ge(tl->bar[i].x0, 0);
        ck_assert_double_ge(tl->bar[i].x1, tl->bar[i].x0);
        ck_assert_double_le(tl->bar[i].x1, tl->length + 1e-6);
        ck_assert_uint_lt(tl->bar[i].lane, tl->lanes);
    }
    bpi_arena_free(arena);
}
END_TEST

START_TEST(every_bar_is_on_a_page_for_each_stretch_it_crosses)
{
    const bpi_tl *tl = lay_out(&asks[_i]);
    for (uint32_t i = 0; i < tl->bars; i++) {
        double shown = 0, long_ = tl->bar[i].x1 - tl->bar[i].x0;
        for (uint32_t k = 0; k < tl->pages; k++)
            for (uint32_t r = 0; r < tl->page[k].rows.n; r++) {
                if (tl->row[tl->page[k].rows.first + r].lane != tl->bar[i].lane)
                    continue;
                double from = tl->bar[i].x0 > tl->page[k].from ? tl->bar[i].x0 : tl->page[k].from;
                double to = tl->bar[i].x1 < tl->page[k].to ? tl->bar[i].x1 : tl->page[k].to;
                shown += to > from ? to - from : 0;
            }
        ck_assert_double_eq_tol(shown, long_, 1e-6); /* once, and all of it */
    }
    bpi_arena_free(arena);
}
END_TEST

START_TEST(rows_stay_inside_their_page_and_apart)
{
    const bpi_tl *tl = lay_out(&asks[_i]);
    ck_assert_uint_gt(tl->pages, 0);
    for (uint32_t k = 0; k < tl->pages; k++) {
        double end = 0;
        for (uint32_t r = 0; r < tl->page[k].rows.n; r++) {
            const bpi_tl_row *row = &tl->row[tl->page[k].rows.first + r];
            ck_assert_double_ge(row->y, end - 1e-6);
            end = row->y + row->height;
            ck_assert_double_ge(row->height, tl->lane[row->lane].height * BPI_TL_SQUEEZE - 1e-6);
        }
        ck_assert_double_le(end, tl->height + 1e-6);
        if (asks[_i].height > 0)
            ck_assert_double_le(end, asks[_i].height + 1e-6);
    }
    bpi_arena_free(arena);
}
END_TEST

START_TEST(a_minute_is_as_wide_as_asked_or_wider)
{
    const bpi_tl *tl = lay_out(&asks[_i]);
    ck_assert_double_ge(tl->scale * 60, asks[_i].minute - 1e-6);
    bpi_arena_free(arena);
}
END_TEST

START_TEST(the_night_is_left_out_of_the_axis)
{
    const bpi_tl *tl = lay_out(&asks[_i]);
    ck_assert_uint_eq(tl->pieces, 2);          /* the sample works on two days */
    ck_assert_int_le(tl->piece[0].to, -27000); /* before 16:30 on the day before */
    ck_assert_int_ge(tl->piece[1].from, 6 * 3600 - 600);
    double night = bpi_tl_x(tl, 0);
    double evening = tl->piece[1].x - BPI_TL_GAP;
    ck_assert_double_gt(night, evening);
    ck_assert_double_lt(night, tl->piece[1].x);
    bpi_arena_free(arena);
}
END_TEST

START_TEST(time_moves_to_the_right)
{
    const bpi_tl *tl = lay_out(&asks[_i]);
    double before = -1;
    for (int64_t t = tl->piece[0].from; t <= tl->piece[tl->pieces - 1].to; t += 60) {
        double x = bpi_tl_x(tl, t);
        ck_assert_double_gt(x, before);
        before = x;
    }
    ck_assert_double_eq_tol(before, tl->length, 1e-6);
    bpi_arena_free(arena);
}
END_TEST

START_TEST(a_plan_without_operations_has_no_pages)
{
    plan_sample_fill(&sample);
    arena = bpi_arena_new();
    sample.plan.ops = sample.plan.airs = 0;
    const bpi_tl *tl = bpi_tl_make(arena, &sample.plan, &asks[_i]);
    ck_assert_ptr_nonnull(tl);
    ck_assert_uint_eq(tl->pages, 0);
    bpi_arena_free(arena);
}
END_TEST

/* Burner and counter are one thing of as many lanes as are taken; who is there stays where it is, though
 * another that starts at that minute comes first in the list. */
START_TEST(a_pot_stays_on_its_burner)
{
    static const struct {
        uint32_t box;
        int64_t from, to;
        uint32_t lane;
    } rows[] = {{0, 0, 600, 0},    {1, 0, 900, 1},     {2, 600, 1200, 2}, {0, 600, 700, 0},
                {1, 900, 1000, 1}, {0, 1200, 1300, 0}, {2, 1200, 1300, 2}};
    static const bp_thing burner = {.kind = BP_BURNER, .id = "", .name = "burner", .size = ""};
    static const uint32_t index[] = {0, 1, 2};
    enum { ROWS = sizeof rows / sizeof *rows };
    bp_op op[ROWS];
    plan_sample_fill(&sample);
    for (uint32_t i = 0; i < ROWS; i++)
        op[i] = (bp_op){.kind = BP_OP_ACTIVE,
                        .key = "",
                        .text = "",
                        .person = BP_NO_INDEX,
                        .from = rows[i].from,
                        .to = rows[i].to,
                        .serves = {rows[i].box, 1},
                        .uses = {0, 1}};
    sample.plan.op = op;
    sample.plan.ops = ROWS;
    sample.plan.thing = &burner;
    sample.plan.things = 1;
    sample.plan.index = index;
    arena = bpi_arena_new();
    const bpi_tl *tl = bpi_tl_make(arena, &sample.plan, &asks[4]);
    ck_assert_ptr_nonnull(tl);
    ck_assert_uint_eq(tl->bars, ROWS);
    for (uint32_t i = 0; i < ROWS; i++)
        ck_assert_msg(tl->bar[i].lane == rows[i].lane, "%u in lane %u", tl->bar[i].op,
                      tl->bar[i].lane);
    bpi_arena_free(arena);
}
END_TEST

START_TEST(without_memory_there_is_no_layout)
{
    plan_sample_fill(&sample);
    bool fired = true;
    for (long k = 0; fired; k++) {
        arena = bpi_arena_new();
        bpi_mem_fail_at(k, 0);
        const bpi_tl *tl = bpi_tl_make(arena, &sample.plan, &asks[_i]);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(tl == NULL, fired);
        bpi_arena_free(arena);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

Suite *suite_out_timeline_layout(void);
Suite *suite_out_timeline_layout(void)
{
    Suite *s = suite_create("out/timeline_layout");
    TCase *c = tcase_create("layout");
    tcase_add_loop_test(c, no_two_bars_of_a_lane_overlap, 0, ASKS);
    tcase_add_loop_test(c, every_bar_is_inside_the_axis_and_runs_forward, 0, ASKS);
    tcase_add_loop_test(c, every_bar_is_on_a_page_for_each_stretch_it_crosses, 0, ASKS);
    tcase_add_loop_test(c, rows_stay_inside_their_page_and_apart, 0, ASKS);
    tcase_add_loop_test(c, a_minute_is_as_wide_as_asked_or_wider, 0, ASKS);
    tcase_add_loop_test(c, the_night_is_left_out_of_the_axis, 0, ASKS);
    tcase_add_loop_test(c, time_moves_to_the_right, 0, ASKS);
    tcase_add_loop_test(c, a_plan_without_operations_has_no_pages, 0, ASKS);
    tcase_add_test(c, a_pot_stays_on_its_burner);
    tcase_add_loop_test(c, without_memory_there_is_no_layout, 0, ASKS);
    suite_add_tcase(s, c);
    return s;
}

#include "safety/board.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"

#define CUT   0
#define DRESS 1

/* Three steps; what comes before what stands in `before_all`, not in their order in the file. FDA Food
 * Code 3-302.11(A). */
static bpi_step step[3];
static bpi_recipe recipe;

static void setup(void)
{
    memset(step, 0, sizeof step);
    memset(&recipe, 0, sizeof recipe);
    for (uint32_t i = 0; i < 3; i++)
        step[i].kind = BPI_ACTIVE;
    recipe.step = step;
    recipe.steps = 3;
}

START_TEST(what_nobody_heats_any_more_is_ready)
{
    step[DRESS].before_all = 1u << CUT;
    ck_assert(bpi_board_ready(&recipe, CUT));
    ck_assert(bpi_board_ready(&recipe, DRESS));
}
END_TEST

START_TEST(a_later_step_that_heats_makes_it_not_ready_wherever_it_stands)
{
    for (uint32_t heater = 0; heater < 3; heater++)
        for (int oven = 0; oven <= 1; oven++) {
            setup();
            uint32_t cut = (heater + 1) % 3, other = (heater + 2) % 3;
            step[heater].burner = !oven;
            step[heater].kind = oven ? BPI_OVEN : BPI_ACTIVE;
            step[heater].before_all = UINT64_C(1) << cut;
            ck_assert(!bpi_board_ready(&recipe, cut));
            ck_assert(!bpi_board_ready(&recipe, heater)); /* it heats itself */
            ck_assert(bpi_board_ready(&recipe, other));   /* nothing of it is heated */
        }
}
END_TEST

START_TEST(raw_meat_is_not_ready_though_nobody_heats_it)
{
    step[CUT].hazards = BPI_RAW_MEAT;
    ck_assert(!bpi_board_ready(&recipe, CUT));
    ck_assert(bpi_board_raw(&step[CUT]));
    step[CUT].hazards = BPI_RAW_POULTRY;
    ck_assert(!bpi_board_ready(&recipe, CUT));
    step[CUT].hazards = BPI_KNIFE;
    ck_assert(bpi_board_ready(&recipe, CUT));
    ck_assert(!bpi_board_raw(&step[CUT]));
    static const bpi_ingredient things[] = {{.item = "parsley"},
                                            {.item = "eggs", .raw_animal = true}};
    step[CUT].ingredient = things;
    step[CUT].ingredients = 1;
    ck_assert(!bpi_board_raw(&step[CUT]));
    step[CUT].ingredients = 2; /* whatever its cautions are */
    ck_assert(bpi_board_raw(&step[CUT]) && !bpi_board_ready(&recipe, CUT));
}
END_TEST

/* Raw on board 0, then ready on it; on board 1 ready alone. */
START_TEST(a_board_that_goes_from_raw_to_ready_is_told_once_for_each_change)
{
    static const bpi_board_use use[] = {{0, 100, 7, "Joint the chicken", true, false},
                                        {1, 200, 3, "Slice the bread", false, true},
                                        {0, 300, 4, "Chop herbs", false, true},
                                        {0, 400, 5, "Chop mint", false, true}};
    for (uint32_t count = 1; count <= 3; count++) {
        bp_show *opened = NULL;
        ck_assert_int_eq(bp_show_open(&opened, "tests/model/base.json", NULL), BP_OK);
        const bpi_tool tool[] = {{.name = "board", .count = count}, {.name = "other", .count = 1}};
        bpi_show show = *opened;
        show.kitchen.tool = tool;
        show.kitchen.tools = 2;
        bp_finding finding[4];
        uint32_t n = 0;
        bpi_arena *a = bpi_arena_new();
        ck_assert_int_eq(bpi_board_check(finding, &n, a, &show, use, 4, NULL), BP_OK);
        ck_assert_uint_eq(n, 1);
        ck_assert_int_eq(finding[0].weight, BP_CAUTION);
        ck_assert_uint_eq(finding[0].container, 4);
        ck_assert_int_eq(finding[0].at, 300);
        ck_assert_ptr_nonnull(strstr(finding[0].rule, "3-302.11"));
        ck_assert_ptr_nonnull(strstr(finding[0].text, "(\"Joint the chicken\")"));
        ck_assert_int_eq(strstr(finding[0].text, "mark one of them") != NULL, count > 1);
        ck_assert_int_eq(strstr(finding[0].text, "or bring a second") != NULL, count == 1);
        bpi_arena_free(a);
        bp_show_free(opened);
    }
}
END_TEST

/* What is neither raw nor ready (a carrot for the pot) does not clean the board. Refused memory is told. */
START_TEST(a_carrot_in_between_does_not_clean_a_board)
{
    static const bpi_board_use use[] = {{0, 100, 7, "Joint the chicken", true, false},
                                        {0, 200, 3, "Dice the carrots", false, false},
                                        {0, 300, 4, "Chop herbs", false, true}};
    static bp_errors errs;
    bp_show *opened = NULL;
    ck_assert_int_eq(bp_show_open(&opened, "tests/model/base.json", NULL), BP_OK);
    const bpi_tool tool = {.name = "board", .count = 1};
    bpi_show show = *opened;
    show.kitchen.tool = &tool;
    show.kitchen.tools = 1;
    bool fired = true;
    for (long k = 0; fired; k++) {
        bp_finding finding[3];
        uint32_t n = 0;
        bpi_arena *a = bpi_arena_new();
        errs = (bp_errors){0};
        bpi_mem_fail_at(k, 0);
        bp_code rc = bpi_board_check(finding, &n, a, &show, use, 3, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert_uint_eq(errs.n, fired);
        ck_assert_uint_eq(n, !fired);
        if (!fired)
            ck_assert_uint_eq(finding[0].container, 4);
        bpi_arena_free(a);
    }
    bpi_limits without = *show.limits; /* a set may lack the rule */
    without.rows[BPI_LIMIT_APART] = 0;
    show.limits = &without;
    uint32_t n = 9;
    ck_assert_int_eq(bpi_board_check(NULL, &n, NULL, &show, use, 3, &errs), BP_OK);
    ck_assert_uint_eq(n, 0);
    bp_show_free(opened);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

Suite *suite_safety_board(void);
Suite *suite_safety_board(void)
{
    Suite *s = suite_create("safety/board");
    TCase *c = tcase_create("board");
    tcase_add_checked_fixture(c, setup, NULL);
    tcase_add_test(c, what_nobody_heats_any_more_is_ready);
    tcase_add_test(c, a_later_step_that_heats_makes_it_not_ready_wherever_it_stands);
    tcase_add_test(c, raw_meat_is_not_ready_though_nobody_heats_it);
    tcase_add_test(c, a_board_that_goes_from_raw_to_ready_is_told_once_for_each_change);
    tcase_add_test(c, a_carrot_in_between_does_not_clean_a_board);
    suite_add_tcase(s, c);
    return s;
}

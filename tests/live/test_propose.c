#include "live/propose.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "base/memory.h"
#include "live/draft.h"
#include "support/build.h"

/* Drafts against brute force: every choice of beats is written into the show as if by hand, and the live
 * side says which containers it needs. Nothing of live/propose is used for that. */

static b_show b;
static bp_errors errs;
static uint64_t state;

#define HIT (8 * 3600 + 24 * 60)

static uint32_t below(uint32_t n)
{
    state = state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (uint32_t)(state >> 33) % n;
}

static const bpi_station rows[] = {{.id = "front", .room = UINT32_MAX},
                                   {.id = "stove", .walk = 4, .place = 4, .room = UINT32_MAX},
                                   {.id = "table", .walk = 9, .place = 13, .room = UINT32_MAX}};

static void make_up(void)
{
    static const char *const ids[] = {"one", "two", "three", "four", "five"};
    uint32_t recipes = 1 + below(2);
    for (uint32_t r = 0; r < recipes; r++) {
        b_recipe(&b, r ? "slaw" : "soup", 4);
        uint32_t steps = 2 + below(recipes == 1 ? 4 : 3);
        for (uint32_t i = 0; i < steps; i++) {
            bool alone = below(3) == 0;
            /* Some are short enough to be done on air, so that a container goes on. */
            int64_t time = below(2) ? 10 + below(30) : 300;
            bpi_step *s = b_step(&b, ids[i], alone ? BPI_PASSIVE : BPI_ACTIVE, time);
            s->burner = below(2);
            s->shown = below(6) > 0;
            int64_t least = 10 + below(30);
            s->air_time = (bpi_length){.least = least, .likely = least + 5, .most = least + 15};
            s->air_worth = 10 * (int32_t)below(4);
            s->air_station = below(2) ? rows[below(3)].id : "";
        }
    }
    b_segment(&b, "main", HIT, 60 + below(160));
    for (uint32_t r = 0; r < recipes; r++)
        b_dish(&b, r ? "b" : "a", r)->taste = below(2);
    b_hosts(&b, below(2));
    if (below(2)) {
        b.segment[0].station = rows;
        b.segment[0].stations = 3;
    }
    b.dish[0][0].spares[BPI_MID] = below(4) == 0;
    b.dish[0][0].spares[BPI_RAW] = below(4) == 0;
    b_done(&b);
}

typedef struct group {
    uint64_t kept;
    int64_t worth;
    uint32_t count, swaps, burners, n;
    uint64_t box[64]; /* dish and steps, sorted */
} group;

static int by_number(const void *one, const void *other)
{
    uint64_t x = *(const uint64_t *)one, y = *(const uint64_t *)other;
    return x < y ? -1 : x > y;
}

/* Burners that are on while beat k is on air. */
static uint32_t burners_at(const bpi_air *air, uint32_t k)
{
    uint32_t n = 0;
    for (uint32_t c = 0; c < air->swaps; c++) {
        const bpi_swap *w = &air->swap[c];
        bool on = false;
        for (uint32_t i = 0; i <= k && w->role == BPI_ROLE_AIR; i++) {
            if (!(w->beats >> i & 1))
                continue;
            const bpi_step *s = &b.recipe[b.dish[0][w->dish].recipe].step[air->beat[i].does[0]];
            on = s->burner &&
                 (i == k || (s->kind == BPI_PASSIVE && s->time.least > air->fitted[i].least));
        }
        n += on;
    }
    return n;
}

/* What one choice asks for; false: it does not fill the slot. */
static bool look(group *g, const bpi_beat *all, uint32_t n, uint64_t kept)
{
    bpi_live *live = NULL;
    int64_t least = 0, most = 0, at = 0;
    bpi_segment *seg = &b.segment[0];
    memset(g, 0, sizeof *g);
    g->kept = kept;
    for (uint32_t i = 0; i < n; i++) {
        if (!(kept >> i & 1)) {
            if (all[i].keep)
                return false;
            continue;
        }
        int64_t to = seg->stations ? rows[all[i].at].place : 0; /* the first is at the front */
        least += all[i].time.least + llabs(to - at);
        most += all[i].time.most + llabs(to - at);
        at = to;
        g->worth += all[i].worth;
        b.beat[0][g->count++] = all[i];
    }
    if (least > seg->slot || most < seg->slot)
        return false;
    bpi_arena *a = bpi_arena_new();
    seg->beats = g->count;
    ck_assert_int_eq(bpi_live_make(&live, a, &b.show, &errs), BP_OK);
    const bpi_air *air = &live->air[0];
    g->swaps = air->swaps;
    for (uint32_t c = 0; c < air->swaps; c++)
        if (air->swap[c].role == BPI_ROLE_AIR)
            g->box[g->n++] = (uint64_t)air->swap[c].dish << 32 | air->swap[c].steps;
    qsort(g->box, g->n, sizeof *g->box, by_number);
    for (uint32_t k = 0; k < air->beats; k++)
        if (burners_at(air, k) > g->burners)
            g->burners = burners_at(air, k);
    seg->beats = 0;
    bpi_arena_free(a);
    return true;
}

static bool is_better(const group *x, const group *y)
{
    if (x->worth != y->worth)
        return x->worth > y->worth;
    if (x->count != y->count)
        return x->count > y->count;
    uint64_t differ = x->kept ^ y->kept;
    return differ && (x->kept & differ & -differ);
}

static bool is_same(const group *x, const group *y)
{
    return x->n == y->n && memcmp(x->box, y->box, x->n * sizeof *x->box) == 0;
}

#define GROUPS 4096
static group groups[GROUPS];

/* All that differ, best first. */
static uint32_t brute_force(const bpi_beat *all, uint32_t n, const bpi_drafting *within)
{
    uint32_t found = 0;
    for (uint64_t kept = 0; kept < UINT64_C(1) << n; kept++) {
        group g;
        if (!look(&g, all, n, kept) || g.swaps > within->swaps || g.burners > within->burners)
            continue;
        uint32_t k = 0;
        while (k < found && !is_same(&groups[k], &g))
            k++;
        ck_assert_uint_lt(k, GROUPS);
        if (k == found || is_better(&g, &groups[k]))
            groups[k] = g;
        found += k == found;
    }
    for (uint32_t i = 1; i < found; i++)
        for (uint32_t k = i; k > 0 && is_better(&groups[k], &groups[k - 1]); k--) {
            group swap = groups[k];
            groups[k] = groups[k - 1];
            groups[k - 1] = swap;
        }
    return found;
}

/* Everything there is to choose from: a slot in which all of it just fits. */
static uint32_t candidates(bpi_beat *all)
{
    const bpi_beat *beat = NULL;
    uint32_t n = 0;
    bpi_segment wide = b.segment[0];
    wide.slot = 100000; /* nothing fills it: all is handed out */
    ck_assert_int_eq(bpi_draft(&beat, &n, b.show.arena, &b.show, &wide, &errs), BP_OK);
    ck_assert_uint_le(n, 16);
    memcpy(all, beat, n * sizeof *all);
    return n;
}

START_TEST(drafts_are_those_of_brute_force)
{
    uint32_t rounds = 0, several = 0, none = 0, bound = 0;
    state = 11;
    for (; rounds < 400; rounds++) {
        b_init(&b);
        make_up();
        bpi_beat all[BPI_MAX_BEATS];
        bpi_proposal out[BPI_PROPOSE_MOST];
        uint32_t n = candidates(all), got = 0, list = 1 + below(BPI_PROPOSE_MOST);
        bpi_drafting within = {.swaps = below(2) ? UINT32_MAX : 2 + below(6),
                               .burners = below(2) ? UINT32_MAX : below(3)};
        uint32_t want = brute_force(all, n, &within);
        bp_code rc = bpi_draft_list(out, &got, list, &b.show, &b.segment[0], &within, &errs);
        ck_assert_int_eq(rc, want ? BP_OK : BP_ENOFIT);
        ck_assert_uint_eq(got, want < list ? want : list);
        for (uint32_t i = 0; i < got; i++) {
            ck_assert_msg(out[i].kept == groups[i].kept, "round %u, draft %u", rounds, i);
            ck_assert_int_eq(out[i].worth, groups[i].worth);
            ck_assert_uint_eq(out[i].swaps, groups[i].swaps);
            ck_assert_uint_eq(out[i].burners, groups[i].burners);
        }
        none += want == 0;
        several += want > 2;
        bound += got > 0 && within.swaps != UINT32_MAX;
        b_release(&b);
    }
    ck_assert_uint_gt(none, 10);
    ck_assert_uint_gt(several, 50);
    ck_assert_uint_gt(bound, 50);
}
END_TEST

/* The first draft without limits is what a slot gets that says nothing of drafting. */
START_TEST(the_first_draft_is_the_one_that_is_taken_unasked)
{
    state = 5;
    for (uint32_t round = 0; round < 200; round++) {
        const bpi_beat *plain = NULL, *first = NULL;
        uint32_t n = 0, m = 0;
        b_init(&b);
        make_up();
        b.segment[0].draft = (bpi_drafting){false, UINT32_MAX, UINT32_MAX, 1, BPI_NOWHERE};
        ck_assert_int_eq(bpi_draft(&plain, &n, b.show.arena, &b.show, &b.segment[0], &errs), BP_OK);
        b.segment[0].draft.stated = true;
        bp_code rc = bpi_draft(&first, &m, b.show.arena, &b.show, &b.segment[0], &errs);
        ck_assert_int_eq(rc, BP_OK);
        ck_assert_uint_eq(n, m);
        for (uint32_t i = 0; i < n; i++)
            ck_assert_str_eq(plain[i].id, first[i].id);
        b_release(&b);
    }
}
END_TEST

/* Three steps that can be shown, the pot between them left alone on a burner. */
static void potatoes(void)
{
    b_recipe(&b, "potatoes", 4);
    static const char *const ids[] = {"cut", "simmer", "mash"};
    for (uint32_t i = 0; i < 3; i++) {
        bpi_step *s = b_step(&b, ids[i], i == 1 ? BPI_PASSIVE : BPI_ACTIVE, i == 2 ? 40 : 600);
        s->shown = true;
        s->burner = i > 0;
        s->air_time = (bpi_length){.least = 45, .likely = 60, .most = 90};
        s->air_worth = 20;
    }
    b_segment(&b, "main", HIT, 200);
    b_dish(&b, "mash", 0);
    b.segment[0].draft = (bpi_drafting){true, UINT32_MAX, UINT32_MAX, 1, BPI_NOWHERE};
    b_done(&b);
}

START_TEST(limits_are_kept_and_what_would_lift_them_is_told)
{
    bpi_live *live = NULL;
    bpi_drafting *d = &b.segment[0].draft;
    b_init(&b);
    potatoes();
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, &b.show, &errs), BP_OK);
    ck_assert_uint_eq(live->air[0].swaps, 4); /* raw, cut, simmered, the beauty */
    d->swaps = 3;
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, &b.show, &errs), BP_OK);
    ck_assert_uint_eq(live->air[0].swaps, 3);
    d->swaps = UINT32_MAX, d->burners = 1; /* the pot left to simmer, and the one that is mashed */
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, &b.show, &errs), BP_OK);
    ck_assert_uint_eq(live->air[0].beats, 5);
    d->swaps = 1;
    memset(&errs, 0, sizeof errs);
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, &b.show, &errs), BP_ENOFIT);
    ck_assert_uint_eq(live->clashes, 3);
    ck_assert_str_eq(live->clash[0].text, "the slot of main is 3:20");
    ck_assert_str_eq(live->clash[1].text, "at most 1 swap-out may stand on the set of main");
    ck_assert_str_eq(live->clash[2].text, "at most 1 burner may be in use on the set of main");
    ck_assert_uint_eq(live->cures, 1); /* more burners alone do not help */
    ck_assert_str_eq(live->cure[0].text, "allow 2 swap-outs on the set of main");
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, live->cure[0].show, &errs), BP_OK);
    d->swaps = d->burners = UINT32_MAX, d->take = 9;
    memset(&errs, 0, sizeof errs);
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, &b.show, &errs), BP_ENOFIT);
    ck_assert_uint_eq(live->cures, 1);
    ck_assert_str_eq(live->cure[0].text, "take draft 7 of main"); /* each set of steps but none */
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, live->cure[0].show, &errs), BP_OK);
    d->swaps = 0, d->burners = UINT32_MAX, d->take = 1;
    b.segment[0].slot = 100; /* which the welcome, the beauty and the close fill alone */
    memset(&errs, 0, sizeof errs);
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, &b.show, &errs), BP_ENOFIT);
    ck_assert_str_eq(live->clash[1].text, "at most 0 swap-outs may stand on the set of main");
    ck_assert_str_eq(live->cure[0].text, "allow 1 swap-out on the set of main");
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, live->cure[0].show, &errs), BP_OK);
    ck_assert_uint_eq(live->air[0].beats, 3);
    d->swaps = UINT32_MAX, d->burners = 0;
    b.segment[0].slot = 200; /* one step at least: but each but the first takes a burner */
    b.step[0][0].burner = true;
    memset(&errs, 0, sizeof errs);
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, &b.show, &errs), BP_ENOFIT);
    ck_assert_str_eq(live->clash[1].text, "at most 0 burners may be in use on the set of main");
    ck_assert_str_eq(live->cure[0].text, "allow 1 burner on the set of main");
    ck_assert_int_eq(bpi_live_make(&live, b.show.arena, live->cure[0].show, &errs), BP_OK);
    b_release(&b);
}
END_TEST

/* A dish that stands behind the list of those that are made asks for nothing. */
START_TEST(dishes_that_are_not_made_count_for_nothing)
{
    uint32_t swaps[2];
    for (uint32_t k = 0; k < 2; k++) {
        bpi_live *live = NULL;
        b_init(&b);
        potatoes();
        b_hosts(&b, 1);
        b_dish(&b, "b", 0)->taste = k == 1;
        b.segment[0].dishes--;
        ck_assert_int_eq(bpi_live_make(&live, b.show.arena, &b.show, &errs), BP_OK);
        swaps[k] = live->air[0].swaps;
        b.segment[0].draft.swaps = swaps[k]; /* it may have as many as it takes */
        ck_assert_int_eq(bpi_live_make(&live, b.show.arena, &b.show, &errs), BP_OK);
        ck_assert_uint_eq(live->air[0].swaps, swaps[k]);
        b_release(&b);
    }
    ck_assert_uint_eq(swaps[0], swaps[1]);
}
END_TEST

START_TEST(every_request_fails_once)
{
    static const bpi_drafting few[] = {
        {true, UINT32_MAX, UINT32_MAX, 2, {0}},
        {true, 1, UINT32_MAX, 1, {0}},          /* only with more swap-outs */
        {true, UINT32_MAX, UINT32_MAX, 9, {0}}, /* not so many   */
        {true, 1, 1, 9, {0}}};                  /* none as it is, none with a change */
    for (size_t k = 0; k < sizeof few / sizeof *few; k++) {
        bool fired = true;
        for (long at = 0; fired; at++) {
            bpi_live *live = NULL;
            b_init(&b);
            potatoes();
            b.segment[0].draft = few[k];
            memset(&errs, 0, sizeof errs);
            bpi_mem_fail_at(at, 0);
            bp_code rc = bpi_live_make(&live, b.show.arena, &b.show, &errs);
            fired = bpi_mem_failed() != 0;
            bpi_mem_fail_at(-1, 0);
            ck_assert_int_eq(rc, fired ? BP_ENOMEM : k ? BP_ENOFIT : BP_OK);
            b_release(&b);
        }
    }
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

/* Cut, boiled, and beside both an herb that is chopped: its bowl, in which nothing was done, comes last. */
START_TEST(containers_are_told_apart_in_whatever_order_they_come)
{
    b_init(&b);
    b_recipe(&b, "soup", 4);
    static const char *const ids[] = {"cut", "boil", "chop"};
    for (uint32_t i = 0; i < 3; i++) {
        bpi_step *s = b_step(&b, ids[i], BPI_ACTIVE, 600);
        s->shown = true;
        s->air_time = (bpi_length){.least = 20, .likely = 30, .most = 60};
        s->air_worth = 20;
    }
    b.step[0][2].after = 0;
    b_segment(&b, "main", HIT, 200);
    b_dish(&b, "soup", 0);
    b_done(&b);
    const bpi_drafting within = {true, UINT32_MAX, UINT32_MAX, BPI_PROPOSE_MOST, BPI_NOWHERE};
    bpi_proposal out[BPI_PROPOSE_MOST];
    uint32_t n = 0;
    ck_assert_int_eq(
        bpi_draft_list(out, &n, BPI_PROPOSE_MOST, &b.show, &b.segment[0], &within, &errs), BP_OK);
    /* Beats: open 0, cut 1, boil 2, chop 3, finished 4, close 5; one step alone does not fill the slot. To
     * boil and chop asks for the same bowls as to cut and boil, only later: it is not told again. */
    static const uint64_t by_hand[] = {0x3F, 0x37, 0x3B};
    static const uint32_t boxes[] = {4, 3, 3};
    ck_assert_uint_eq(n, 3);
    for (uint32_t i = 0; i < n; i++) {
        ck_assert_uint_eq(out[i].kept, by_hand[i]);
        ck_assert_uint_eq(out[i].swaps, boxes[i]);
    }
    b_release(&b);
}
END_TEST

/* Up to four dishes with so many steps to show, as long each. */
static void all_steps(uint32_t steps, int64_t length)
{
    b_init(&b);
    memset(&errs, 0, sizeof errs);
    static char ids[BPI_MAX_STEPS][8];
    static const char *const recipes[] = {"one", "two", "three", "four"};
    for (uint32_t i = 0; i < steps; i++) {
        if (i % B_STEPS == 0)
            b_recipe(&b, recipes[i / B_STEPS], 4);
        snprintf(ids[i], sizeof ids[i], "s%u", (unsigned)i);
        bpi_step *s = b_step(&b, ids[i], BPI_ACTIVE, 600);
        s->shown = true;
        s->air_time.least = s->air_time.likely = s->air_time.most = length;
    }
    b_segment(&b, "main", HIT, 1000);
    for (uint32_t i = 0; i < b.show.recipes; i++)
        b_dish(&b, recipes[i], i);
    b_done(&b);
}

START_TEST(a_draft_of_too_many_beats_is_refused)
{
    const bpi_beat *beat = NULL;
    uint32_t n = 0;
    all_steps(58, 10); /* four dishes that are shown finished, a welcome, a close */
    b.segment[0].slot = 58 * 10 + 100;
    ck_assert_int_eq(bpi_draft(&beat, &n, b.show.arena, &b.show, &b.segment[0], &errs), BP_OK);
    ck_assert_uint_eq(n, 64);
    b_release(&b);
    all_steps(59, 10);
    ck_assert_int_eq(bpi_draft(&beat, &n, b.show.arena, &b.show, &b.segment[0], &errs), BP_ELIMIT);
    ck_assert_str_eq(errs.item[0].wrong,
                     "there are 65 beats to choose from for this slot, at most 64 can be");
    ck_assert_str_eq(errs.item[0].right, "write the beats, or show fewer steps of its recipes");
    b_release(&b);
}
END_TEST

START_TEST(no_effort_is_spent_without_end)
{
    /* Forty bowls of which some are shown: whichever they are, as many of them are asked for. */
    static bpi_step step[40];
    static uint32_t order[40];
    static char ids[40][8];
    all_steps(1, 12);
    for (uint32_t i = 0; i < 40; i++) {
        snprintf(ids[i], sizeof ids[i], "s%u", (unsigned)i);
        step[i] = b.step[0][0];
        step[i].id = ids[i];
        order[i] = i;
    }
    b.recipe[0].step = step;
    b.recipe[0].order = order;
    b.recipe[0].steps = 40;
    b.recipe[0].all = (UINT64_C(1) << 40) - 1;
    b.segment[0].slot = 300;
    const bpi_drafting within = {true, UINT32_MAX, UINT32_MAX, 2, BPI_NOWHERE};
    bpi_proposal out[BPI_PROPOSE_MOST];
    uint32_t n = 7;
    ck_assert_int_eq(bpi_draft_list(out, &n, 2, &b.show, &b.segment[0], &within, &errs),
                     BP_EUNSURE);
    ck_assert_uint_eq(n, 0);
    ck_assert_str_eq(errs.item[0].wrong, "no best draft of this slot was found");
    ck_assert_str_eq(errs.item[0].right, "write its beats");
    b_release(&b);
}
END_TEST

Suite *suite_live_propose(void);
Suite *suite_live_propose(void)
{
    Suite *s = suite_create("live/propose");
    TCase *c = tcase_create("propose");
    tcase_add_test(c, drafts_are_those_of_brute_force);
    tcase_add_test(c, the_first_draft_is_the_one_that_is_taken_unasked);
    tcase_add_test(c, limits_are_kept_and_what_would_lift_them_is_told);
    tcase_add_test(c, no_effort_is_spent_without_end);
    tcase_add_test(c, dishes_that_are_not_made_count_for_nothing);
    tcase_add_test(c, every_request_fails_once);
    tcase_add_test(c, containers_are_told_apart_in_whatever_order_they_come);
    tcase_add_test(c, a_draft_of_too_many_beats_is_refused);
    suite_add_tcase(s, c);
    return s;
}

#include "support/build.h"

#include <check.h>
#include <string.h>

static const char *const host_names[] = {"Marta", "Joel", "Nuno", "Lia"};

void b_init(b_show *b)
{
    memset(b, 0, sizeof *b);
    bpi_show *s = &b->show;
    s->file = "built.json";
    s->id = s->title = "built";
    s->zone_name = "UTC";
    s->recipe = b->recipe;
    s->segment = b->segment;
    s->alarm = 300;
    s->kitchen = (bpi_kitchen){.cook = b->cook,
                               .oven = b->oven,
                               .tool = b->tool,
                               .place = b->place,
                               .carry = 60,
                               .load = 60,
                               .take_off = 60};
    bpi_zone *zone = NULL;
    s->arena = bpi_arena_new();
    ck_assert_ptr_nonnull(s->arena);
    ck_assert_int_eq(bpi_zone_open(&zone, s->arena, "UTC", 3), BP_OK);
    ck_assert(bpi_clock_init(&s->clock, zone, (bpi_date){2026, 12, 3}));
}

void b_release(b_show *b)
{
    bpi_arena_free(b->show.arena);
    b->show.arena = NULL;
}

static uint32_t newest(uint32_t n)
{
    ck_assert_uint_gt(n, 0);
    return n - 1;
}

bpi_recipe *b_recipe(b_show *b, const char *id, uint32_t serves)
{
    uint32_t i = b->show.recipes++;
    ck_assert_uint_lt(i, B_RECIPES);
    b->recipe[i] = (bpi_recipe){
        .id = id, .title = id, .serves = serves, .step = b->step[i], .order = b->order[i]};
    return &b->recipe[i];
}

bpi_step *b_window(b_show *b, const char *id, bpi_step_kind kind, int64_t least, int64_t most)
{
    uint32_t r = newest(b->show.recipes), i = b->recipe[r].steps++;
    ck_assert_uint_lt(i, B_STEPS);
    bpi_step *s = &b->step[r][i];
    *s = (bpi_step){.id = id,
                    .text = id,
                    .kind = kind,
                    .time = {.least = least, .likely = least, .most = most, .window = most > least},
                    .after = i > 0 ? UINT64_C(1) << (i - 1) : 0,
                    .oven_mC = kind == BPI_OVEN ? 200000 : BPI_NO_TEMP,
                    .oven_text = kind == BPI_OVEN ? "200 C" : "",
                    .oven = BPI_NO_INDEX,
                    .skill = BPI_NO_INDEX,
                    .keep = -1,
                    .hold_set = BPI_NO_LIMIT,
                    .air_words = "",
                    .air_station = "",
                    .air_worth = 10,
                    .core_mC = BPI_NO_TEMP};
    for (int k = 0; k < BPI_KEEPS; k++)
        s->hold[k] = BPI_NO_LIMIT;
    return s;
}

bpi_step *b_step(b_show *b, const char *id, bpi_step_kind kind, int64_t seconds)
{
    return b_window(b, id, kind, seconds, seconds);
}

bpi_segment *b_segment(b_show *b, const char *id, int64_t hit, int64_t slot)
{
    uint32_t i = b->show.segments++;
    ck_assert_uint_lt(i, B_SEGMENTS);
    b->segment[i] = (bpi_segment){.id = id,
                                  .title = id,
                                  .hit = b->hit[i],
                                  .slot = slot,
                                  .lead = 300,
                                  .reset = 180,
                                  .pace = 150,
                                  .dish = b->dish[i],
                                  .beat = b->beat[i],
                                  .tease = b->tease[i],
                                  .host = host_names,
                                  .taster = host_names};
    b_hit(b, hit);
    return &b->segment[i];
}

void b_hit(b_show *b, int64_t hit)
{
    uint32_t g = newest(b->show.segments), i = b->segment[g].hits++;
    ck_assert_uint_lt(i, B_LIST);
    b->hit[g][i] = (bpi_hit){.at = hit};
}

bpi_dish *b_dish(b_show *b, const char *id, uint32_t recipe)
{
    uint32_t g = newest(b->show.segments), i = b->segment[g].dishes++;
    ck_assert_uint_lt(i, B_DISHES);
    b->dish[g][i] = (bpi_dish){.id = id,
                               .title = id,
                               .recipe = recipe,
                               .size = {{1, 1}, {1, 1}, {1, 1}},
                               .lead = BPI_NO_TIME,
                               .taste = true};
    return &b->dish[g][i];
}

bpi_tease *b_tease(b_show *b, int64_t at, int64_t length, uint32_t dish)
{
    uint32_t g = newest(b->show.segments), i = b->segment[g].teases++;
    ck_assert_uint_lt(i, B_LIST);
    b->tease[g][i] = (bpi_tease){.at = at, .length = length, .dish = dish};
    return &b->tease[g][i];
}

void b_hosts(b_show *b, uint32_t n)
{
    ck_assert_uint_le(n, sizeof host_names / sizeof *host_names);
    b->segment[newest(b->show.segments)].hosts = n;
}

bpi_beat *b_talk(b_show *b, const char *id, int64_t least, int64_t most)
{
    uint32_t g = newest(b->show.segments), i = b->segment[g].beats++;
    ck_assert_uint_lt(i, B_BEATS);
    b->beat[g][i] = (bpi_beat){.id = id,
                               .text = id,
                               .words = "",
                               .station = "",
                               .camera = "",
                               .camera_at = BPI_NO_INDEX,
                               .dish = BPI_NO_INDEX,
                               .time = {.least = least, .likely = (least + most) / 2, .most = most},
                               .worth = 10};
    return &b->beat[g][i];
}

static uint32_t find_step(const bpi_recipe *r, const char *id, size_t len)
{
    for (uint32_t i = 0; i < r->steps; i++)
        if (strlen(r->step[i].id) == len && memcmp(r->step[i].id, id, len) == 0)
            return i;
    ck_abort_msg("no step %s", id);
    return 0;
}

bpi_beat *b_beat(b_show *b, const char *id, uint32_t dish, const char *does, int64_t least,
                 int64_t most)
{
    bpi_beat *beat = b_talk(b, id, least, most);
    uint32_t g = newest(b->show.segments), i = newest(b->segment[g].beats);
    beat->dish = dish;
    beat->shows = BPI_SHOWS_STEPS;
    beat->does = b->does[g][i];
    while (*does) {
        size_t len = strcspn(does, " ");
        ck_assert_uint_lt(beat->does_n, B_LIST);
        b->does[g][i][beat->does_n++] = find_step(&b->recipe[b->dish[g][dish].recipe], does, len);
        does += len + strspn(does + len, " ");
    }
    return beat;
}

void b_done(b_show *b)
{
    for (uint32_t r = 0; r < b->show.recipes; r++) {
        bpi_recipe *recipe = &b->recipe[r];
        recipe->all = recipe->steps == 64 ? ~UINT64_C(0) : (UINT64_C(1) << recipe->steps) - 1;
        for (uint32_t i = 0; i < recipe->steps; i++) { /* steps come after earlier ones only */
            bpi_step *s = &b->step[r][i];
            s->before_all = s->after;
            for (uint32_t k = 0; k < i; k++)
                if (s->after >> k & 1)
                    s->before_all |= b->step[r][k].before_all;
            b->order[r][i] = i;
        }
    }
}

/* src/plan/boxes.c - dishes and their containers.
 *
 * Owns     lists of the plan, filled in from live/ and prep/.
 * May use  plan/fill, live/station, prep/, model/, base/.
 */
#include "live/station.h"
#include "model/allergen.h"
#include "plan/fill.h"

static const char *letter_of(bpi_fill *f, const char *code)
{
    size_t n = 0;
    while (code[n] >= 'A' && code[n] <= 'Z')
        n++;
    const char *kept = bpi_arena_copy(f->a, code, n);
    f->failed |= !kept;
    return kept ? kept : "";
}

static void fill_dishes(bpi_fill *f)
{
    uint32_t n = 0;
    for (uint32_t b = 0; b < f->prep->boxes; b++)
        if (f->prep->box[b].dish >= n)
            n = f->prep->box[b].dish + 1;
    bp_dish *list = BPI_FILL(f, n, bp_dish);
    if (!list)
        return;
    for (uint32_t b = f->prep->boxes; b-- > 0;) {
        const bpi_box *box = &f->prep->box[b];
        const bpi_segment *seg = &f->show->segment[f->live->air[box->air].segment];
        const bpi_dish *dish = &seg->dish[bpi_fill_swap(f, b)->dish];
        const bpi_recipe *recipe = &f->show->recipe[box->recipe];
        if (list[box->dish].id)
            continue;
        list[box->dish] =
            (bp_dish){bpi_fill_copy(f, dish->id), bpi_fill_copy(f, dish->title),
                      letter_of(f, box->code), bpi_fill_copy(f, recipe->title), recipe->serves};
    }
    f->plan->dish = list;
    f->plan->dishes = n;
}

/* ---- containers -------------------------------------------------------------------------- */

static uint64_t last_steps(const bpi_recipe *r, uint64_t steps)
{
    uint64_t built_on = 0;
    for (uint32_t s = 0; s < r->steps; s++)
        if (steps >> s & 1)
            built_on |= r->step[s].before_all;
    return steps & ~built_on;
}

static const char *state_of(bpi_fill *f, const bpi_recipe *r, const bpi_swap *w)
{
    bpi_text text = BPI_TEXT_EMPTY;
    if (w->steps == 0)
        bpi_text_put(&text, "measured");
    else if (w->stage == BPI_FINISHED)
        bpi_text_put(&text, "finished");
    else {
        uint64_t ends = last_steps(r, w->steps);
        const char *lead = "after: ";
        for (uint32_t s = 0; s < r->steps; s++)
            if (ends >> s & 1) {
                bpi_text_f(&text, "%s%s", lead, r->step[s].id);
                lead = ", ";
            }
    }
    return bpi_fill_text(f, &text);
}

static const char *size_of(bpi_fill *f, bpi_ratio r)
{
    bpi_text text = BPI_TEXT_EMPTY;
    if (r.den > 1 && r.num > r.den)
        bpi_text_f(&text, "%u %u/%u", (unsigned)(r.num / r.den), (unsigned)(r.num % r.den),
                   (unsigned)r.den);
    else if (r.den > 1)
        bpi_text_f(&text, "%u/%u", (unsigned)r.num, (unsigned)r.den);
    else
        bpi_text_f(&text, "%u", (unsigned)r.num);
    return bpi_fill_text(f, &text);
}

/* Of everything in the recipe that is in it: a raw tray stands there with all that is measured. */
static const char *allergens_of(bpi_fill *f, const bpi_recipe *r, uint64_t steps)
{
    uint32_t set = 0;
    for (uint32_t s = 0; s < r->steps; s++)
        for (uint32_t i = 0; (steps == 0 || (steps >> s & 1)) && i < r->step[s].ingredients; i++)
            set |= r->step[s].ingredient[i].allergens;
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_put(&text, "");
    bpi_allergen_put(&text, set, f->show->law);
    if (!text.len)
        bpi_text_put(&text, "none named");
    return bpi_fill_text(f, &text);
}

static uint64_t hot_after(const bpi_recipe *recipe, const bpi_air *air, const bpi_swap *w)
{
    uint64_t hot = 0;
    for (uint32_t i = 0; i < air->beats; i++)
        if ((w->beats >> i & 1) && bpi_station_hot(recipe, air, w, i))
            hot |= UINT64_C(1) << i;
    return hot;
}

static void fill_containers(bpi_fill *f, const uint32_t *beat0)
{
    bp_container *list = BPI_FILL(f, f->prep->boxes, bp_container);
    if (!list)
        return;
    for (uint32_t b = 0; b < f->prep->boxes; b++) {
        const bpi_box *box = &f->prep->box[b];
        const bpi_swap *w = bpi_fill_swap(f, b);
        const bpi_air *air = &f->live->air[box->air];
        const bpi_recipe *recipe = &f->show->recipe[box->recipe];
        list[b] = (bp_container){
            .code = bpi_fill_copy(f, box->code),
            .dish = box->dish,
            .air = box->air,
            .stage = (bp_stage)w->stage,
            .role = (bp_role)w->role,
            .state = state_of(f, recipe, w),
            .why = bpi_fill_copy(f, w->why),
            .station = bpi_fill_copy(f, bpi_station_name(air, w)),
            .size = size_of(f, w->size),
            .allergens = allergens_of(f, recipe, w->steps),
            .size_num = w->size.num,
            .size_den = w->size.den,
            .portions = w->portions,
            .beat = w->first_beat == BPI_NO_INDEX ? BP_NO_INDEX : beat0[box->air] + w->first_beat,
            .set_by = w->set_by,
            .on_set = BP_NO_TIME,
            .needed = w->needed,
            .last = w->last,
            .best_by = BP_NO_TIME,
            .use_by = BP_NO_TIME,
            .hit_from = BP_NO_TIME,
            .hit_to = BP_NO_TIME,
            .steps = w->steps,
            .comes_hot = bpi_station_hot(recipe, air, w, BPI_NO_INDEX),
            .hot = hot_after(recipe, air, w),
        };
    }
    f->container = list;
    f->plan->container = list;
    f->plan->containers = f->prep->boxes;
}

void bpi_fill_boxes(bpi_fill *f, const uint32_t *beat0)
{
    fill_dishes(f);
    fill_containers(f, beat0);
}

/* src/plan/shop.c - what is measured into each operation, and what is fetched for all.
 *
 * Owns     nothing: amounts are goods/'s.
 * May use  plan/fill, goods/, safety/, prep/, live/station, base/.
 */
#include "goods/entry.h"
#include "goods/measure.h"
#include "goods/pull.h"
#include "live/station.h"
#include "model/heating.h"
#include "plan/fill.h"
#include "safety/limits.h"

static bpi_ratio size_of(const bpi_fill *f, const bpi_job *job)
{
    bpi_ratio sum = bpi_fill_swap(f, f->prep->serve[job->serve0])->size;
    for (uint32_t i = 1; i < job->serves; i++)
        sum = bpi_ratio_add(sum, bpi_fill_swap(f, f->prep->serve[job->serve0 + i])->size);
    return sum;
}

static bool loaded_by_hand(const bpi_job *job)
{
    return job->kind == BP_OP_ACTIVE || job->kind == BP_OP_LOAD;
}

static uint64_t on_air(const bpi_fill *f, uint32_t box)
{
    return bpi_live_on_air(&f->live->air[f->prep->box[box].air], bpi_fill_swap(f, box));
}

/* Steps whose ingredients are measured for the set: of a raw container all, else those done on air
 * with it. */
uint64_t bpi_fill_measured(const bpi_fill *f, uint32_t box)
{
    uint64_t all = f->show->recipe[f->prep->box[box].recipe].all;
    return bpi_fill_swap(f, box)->steps ? on_air(f, box) : all;
}

static void put_steps(bpi_text *text, const bpi_recipe *r, uint64_t steps, bpi_ratio size)
{
    for (uint32_t i = 0; i < r->steps; i++) {
        const bpi_step *s = &r->step[r->order[i]];
        if (!(steps >> r->order[i] & 1) || !s->ingredients)
            continue;
        if (text->len)
            bpi_text_char(text, '\n');
        bpi_entry_put_step(text, s, size);
    }
}

/* "to heat: 8 l of water, 15 °C (59 °F) to 100 °C (212 °F)", as much as there is in all. */
static void put_heating(bpi_text *text, const bpi_heating *h, bpi_ratio size)
{
    bpi_measure m;
    bpi_text_put(text, text->len ? "\nto heat: " : "to heat: ");
    if (bpi_measure_of(&m, &h->amount) && bpi_measure_scale(&m, size.num, size.den))
        bpi_measure_put(text, &m);
    else
        bpi_text_put(text, "all");
    bpi_text_f(text, " of %s, ", bpi_heating_foods[h->of].name);
    bpi_temp_put(text, h->from_mC);
    bpi_text_put(text, " to ");
    bpi_temp_put(text, h->to_mC);
}

/* "to cool: 95 °C (203 °F) to 5 °C (41 °F), as the probe says" */
static void put_cooling(bpi_text *text, const bpi_cool *c)
{
    bpi_text_put(text, text->len ? "\nto cool: " : "to cool: ");
    bpi_temp_put(text, c->from_mC);
    bpi_text_put(text, " to ");
    bpi_temp_put(text, c->to_mC);
    bpi_text_put(text, ", by the probe");
}

static uint32_t dressed_as(const bpi_fill *f, uint32_t box)
{
    const bpi_air *air = &f->live->air[f->prep->box[box].air];
    return bpi_station_dress(&f->show->segment[air->segment], air, bpi_fill_swap(f, box));
}

/* "to the set after: A1 A2", those that come just before it in the order that is asked for. */
static void put_dress(bpi_text *text, const bpi_fill *f, uint32_t box)
{
    uint32_t rank = dressed_as(f, box), last = BPI_NO_INDEX;
    for (uint32_t b = 0; b < f->prep->boxes && rank != BPI_NO_INDEX; b++) {
        uint32_t is = f->prep->box[b].air == f->prep->box[box].air ? dressed_as(f, b) : rank;
        if (is < rank && (last == BPI_NO_INDEX || is > last))
            last = is;
    }
    for (uint32_t b = 0, n = 0; b < f->prep->boxes && last != BPI_NO_INDEX; b++)
        if (f->prep->box[b].air == f->prep->box[box].air && dressed_as(f, b) == last)
            bpi_text_f(text, "%s%s", n++ ? " " : "to the set after: ", f->prep->box[b].code);
}

const char *bpi_fill_detail(bpi_fill *f, const bpi_job *job)
{
    const bpi_recipe *r = job->recipe == BPI_NO_INDEX ? NULL : &f->show->recipe[job->recipe];
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_put(&text, "");
    uint32_t box = job->serves ? f->prep->serve[job->serve0] : 0;
    if (r && loaded_by_hand(job)) {
        const bpi_step *s = &r->step[job->step];
        bpi_entry_put_step(&text, s, size_of(f, job));
        if (s->heat.mass_mg)
            put_heating(&text, &s->heat, size_of(f, job));
        if (s->cool.in != BPI_COOL_NOT && s->cool.to_mC != BPI_NO_TEMP)
            put_cooling(&text, &s->cool);
    } else if (r && job->kind == BP_OP_MEASURE)
        put_steps(&text, r, bpi_fill_measured(f, box), size_of(f, job));
    else if (r && job->kind == BP_OP_CARRY) {
        bpi_text beside = BPI_TEXT_EMPTY;
        put_dress(&text, f, box);
        if (bpi_fill_swap(f, box)->steps)
            put_steps(&beside, r, bpi_fill_measured(f, box), size_of(f, job));
        if (beside.len)
            bpi_text_f(&text, "%son its tray, measured:\n%s", text.len ? "\n" : "", beside.s);
        f->failed |= beside.failed;
        bpi_text_release(&beside);
    }
    return bpi_fill_text(f, &text);
}

bp_code bpi_fill_goods(bpi_fill *f, bp_errors *errs)
{
    if (!f->prep || f->failed)
        return BP_OK;
    uint32_t uses = bpi_fill_uses(f, NULL);
    bpi_pull_use *use = BPI_FILL(f, uses, bpi_pull_use);
    bpi_pull_box *box = BPI_FILL(f, f->prep->boxes, bpi_pull_box);
    uint32_t *supply = BPI_FILL(f, f->show->supplies + 1, uint32_t);
    if (f->failed)
        return BP_OK;
    bpi_fill_uses(f, use);
    for (uint32_t b = 0; b < f->prep->boxes; b++) {
        const bpi_swap *w = bpi_fill_swap(f, b);
        const bpi_recipe *r = &f->show->recipe[f->prep->box[b].recipe];
        box[b] = (bpi_pull_box){f->container[b].code, f->prep->box[b].recipe, w->size,
                                bpi_pull_steps(r, w->stage, w->steps, on_air(f, b))};
    }
    if (f->failed)
        return BP_OK;
    for (uint32_t i = 0; i < f->show->supplies; i++)
        supply[i] = bpi_fill_supplies(f, i);
    return bpi_pull_make(&f->plan->good, &f->plan->goods, f->a, f->show, box, f->prep->boxes, use,
                         uses, supply, errs);
}

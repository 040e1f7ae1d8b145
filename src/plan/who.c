/* src/plan/who.c - people, their stints and breaks, and the things that can be occupied.
 *
 * Owns     those lists of the plan.
 * May use  plan/fill, prep/, base/.
 */
#include "plan/fill.h"

static bp_thing_kind place_kind(bpi_keep keep)
{
    static const bp_thing_kind kinds[BPI_KEEPS] = {BP_PLACE_COUNTER, BP_PLACE_HOT, BP_PLACE_COLD};
    return kinds[keep];
}

static void add_thing(bpi_fill *f, bp_thing *list, bp_thing_kind kind, const char *id,
                      const char *name, const char *size, uint32_t count)
{
    list[f->plan->things++] = (bp_thing){kind, bpi_fill_copy(f, id), bpi_fill_copy(f, name),
                                         bpi_fill_copy(f, size), count};
}

/* Order: burners, ovens, tools, vessels, places by kind, the sets. */
void bpi_fill_things(bpi_fill *f)
{
    const bpi_kitchen *k = &f->show->kitchen;
    bp_plan *p = f->plan;
    size_t most = 2 + (size_t)k->ovens + k->tools + k->places + f->show->segments;
    bp_thing *list = BPI_FILL(f, most, bp_thing);
    uint32_t *tool = BPI_FILL(f, k->tools, uint32_t);
    uint32_t *place = BPI_FILL(f, k->places, uint32_t);
    if (!list || !tool || !place)
        return;
    f->burner = p->things;
    add_thing(f, list, BP_BURNER, "burners", "burners", "", k->burners);
    f->oven0 = p->things;
    for (uint32_t i = 0; i < k->ovens; i++)
        add_thing(f, list, BP_OVEN, k->oven[i].id, k->oven[i].name, "", k->oven[i].positions);
    for (int vessel = 0; vessel <= 1; vessel++)
        for (uint32_t i = 0; i < k->tools; i++)
            if (k->tool[i].vessel == (vessel == 1)) {
                tool[i] = p->things;
                add_thing(f, list, vessel ? BP_VESSEL : BP_TOOL, k->tool[i].id, k->tool[i].name,
                          k->tool[i].size, k->tool[i].count);
            }
    f->counter = BP_NO_INDEX;
    for (int keep = 0; keep < BPI_KEEPS; keep++) {
        bool named = false;
        for (uint32_t i = 0; i < k->places; i++)
            if (k->place[i].keep == (bpi_keep)keep) {
                place[i] = p->things;
                named = true;
                add_thing(f, list, place_kind(k->place[i].keep), k->place[i].id, k->place[i].name,
                          "", k->place[i].count);
            }
        if (!named && keep == BPI_COUNTER) {
            f->counter = p->things;
            add_thing(f, list, BP_PLACE_COUNTER, "counter", "counter", "", 0);
        }
    }
    f->set0 = p->things;
    for (uint32_t i = 0; i < f->show->segments; i++)
        add_thing(f, list, BP_SET, f->show->segment[i].id, f->show->segment[i].title, "", 0);
    f->tool = tool;
    f->place = place;
    p->thing = list;
}

static int64_t last_slot_end(const bpi_fill *f)
{
    int64_t end = INT64_MIN;
    for (uint32_t i = 0; i < f->live->airs; i++) {
        int64_t e = bpi_live_end(f->show, &f->live->air[i]);
        end = e > end ? e : end;
    }
    return -((-end - (end < 0 ? 0 : 59)) / 60) * 60;
}

/* On the show day a cook stays until the last slot is over; before it, until their work is. */
static bp_stint stint(const bpi_fill *f, uint32_t c, uint32_t s, int64_t from, int64_t to)
{
    const bpi_shift *shift = &f->show->kitchen.cook[c].shift[s];
    int64_t release = to, end = last_slot_end(f);
    end = end > shift->wrap ? shift->wrap : end;
    if (shift->wrap > 0 && end > release)
        release = end;
    return (bp_stint){c, from, release, shift->call, shift->wrap};
}

/* Breaks that lie in a stint of their cook. */
static void fill_rests(bpi_fill *f)
{
    const bpi_kitchen *k = &f->show->kitchen;
    uint32_t most = 0, n = 0;
    for (uint32_t i = 0; i < k->cooks; i++)
        most += k->cook[i].rests;
    bp_rest *list = BPI_FILL(f, most, bp_rest);
    if (!list)
        return;
    for (uint32_t c = 0; c < k->cooks; c++)
        for (uint32_t i = 0; i < k->cook[c].rests; i++)
            for (uint32_t s = 0; s < f->plan->person[c].stints.n; s++) {
                const bp_stint *in = &f->plan->stint[f->plan->person[c].stints.first + s];
                const bpi_break *rest = &k->cook[c].rest[i];
                if (rest->from >= in->call && rest->to <= in->release)
                    list[n++] = (bp_rest){c, rest->from, rest->to};
            }
    f->plan->rest = list;
    f->plan->rests = n;
}

void bpi_fill_people(bpi_fill *f)
{
    const bpi_kitchen *k = &f->show->kitchen;
    uint32_t shifts = 0;
    for (uint32_t i = 0; i < k->cooks; i++)
        shifts += k->cook[i].shifts;
    bp_person *person = BPI_FILL(f, k->cooks, bp_person);
    bp_stint *list = BPI_FILL(f, shifts, bp_stint);
    if (!person || !list)
        return;
    uint32_t n = 0;
    for (uint32_t c = 0; c < k->cooks; c++) {
        person[c] = (bp_person){bpi_fill_copy(f, k->cook[c].id),
                                bpi_fill_copy(f, k->cook[c].name),
                                k->cook[c].presenter,
                                {n, 0}};
        for (uint32_t s = 0; f->schedule && s < k->cook[c].shifts; s++) {
            int64_t from = INT64_MAX, to = INT64_MIN;
            for (uint32_t j = 0; j < f->prep->problem.activities; j++) {
                const bpi_way *way = bpi_schedule_way(f->prep, f->schedule, j);
                if (way->cook != c || way->shift != s || bpi_schedule_out(f->prep, f->schedule, j))
                    continue;
                int64_t t = bpi_schedule_from(f->prep, f->schedule, j);
                from = t < from ? t : from;
                t = bpi_schedule_to(f->prep, f->schedule, j);
                to = t > to ? t : to;
            }
            if (from > to)
                continue;
            list[n++] = stint(f, c, s, from, to);
            person[c].stints.n++;
        }
    }
    f->plan->person = person;
    f->plan->persons = k->cooks;
    f->plan->stint = list;
    f->plan->stints = n;
    fill_rests(f);
}

#include "plan/heed.h"

#include <string.h>

#include "model/allergen.h"
#include "safety/limits.h"

/* ---- findings as they grow ------------------------------------------------------------------ */

/* Heaviest first; equal ones as they come. */
void bpi_heed_finding(bpi_heed *h, const bp_finding *x)
{
    bp_finding *list =
        h->f->failed ? NULL
                     : bpi_arena_more(h->f->a, &h->finding, &h->room, h->findings, sizeof *list);
    if (!list) {
        h->f->failed = true;
        return;
    }
    list = h->finding;
    size_t at = h->findings++;
    for (; at > 0 && list[at - 1].weight < x->weight; at--)
        list[at] = list[at - 1];
    list[at] = *x;
    list[at].rule = bpi_fill_copy(h->f, x->rule);
    list[at].accepted = x->accepted ? x->accepted : "";
}

/* One row for all containers that one reading is for. */
static void add_reading(bpi_heed *h, const bpi_reading *r, uint32_t box)
{
    bp_reading *list = h->reading;
    for (size_t i = 0; i < h->readings; i++)
        if (list[i].at == r->at && strcmp(list[i].text, r->text) == 0 &&
            list[i].containers.first + list[i].containers.n == h->f->indexes) {
            bpi_fill_push(h->f, &list[i].containers, box);
            return;
        }
    bp_reading *p = h->f->failed ? NULL
                                 : bpi_arena_more(h->f->a, &h->reading, &h->reading_room,
                                                  h->readings, sizeof *p);
    if (!p) {
        h->f->failed = true;
        return;
    }
    h->readings++;
    *p = (bp_reading){bpi_fill_begin(h->f), r->at, r->text, bpi_fill_copy(h->f, r->rule)};
    if (box != BP_NO_INDEX)
        bpi_fill_push(h->f, &p->containers, box);
}

/* ---- allergies ------------------------------------------------------------------------------- */

static uint32_t allergens_in(const bpi_recipe *r, uint64_t steps)
{
    uint32_t set = 0;
    for (uint32_t s = 0; s < r->steps; s++)
        for (uint32_t i = 0; (steps >> s & 1) && i < r->step[s].ingredients; i++)
            set |= r->step[s].ingredient[i].allergens;
    return set;
}

static void heed_eater(bpi_heed *h, uint32_t box, const char *name, uint32_t allergies)
{
    bpi_fill *f = h->f;
    const bpi_swap *w = bpi_fill_swap(f, box);
    uint32_t both = bpi_allergen_meet(
        allergies, allergens_in(&f->show->recipe[f->prep->box[box].recipe], w->steps));
    if (!both)
        return;
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_f(&t, "%s is allergic to ", name);
    bpi_allergen_put(&t, both, BPI_LAW_ANY);
    bpi_text_put(&t, ", which is in it; leave it out, or let them not eat of it");
    bp_finding x = {BP_STOP, box, w->needed, "taster's allergy", bpi_fill_text(f, &t), ""};
    bpi_heed_finding(h, &x);
}

void bpi_heed_eaters(bpi_heed *h, uint32_t box)
{
    const bpi_fill *f = h->f;
    const bpi_segment *seg = &f->show->segment[f->live->air[f->prep->box[box].air].segment];
    if (bpi_fill_swap(f, box)->portions == 0)
        return;
    for (uint32_t i = 0; i < seg->hosts; i++)
        heed_eater(h, box, seg->host[i], seg->host_allergies[i]);
    for (uint32_t i = 0; i < seg->tasters; i++)
        heed_eater(h, box, seg->taster[i], seg->taster_allergies[i]);
}

/* ---- what is accepted ------------------------------------------------------------------------ */

static bool names_rule(const bpi_accept *a, const char *rule)
{
    size_t whole = strlen(rule), part = strlen(a->rule);
    return part <= whole && strcmp(rule + whole - part, a->rule) == 0 &&
           (part == whole || rule[whole - part - 1] == ' ');
}

static bool accepts(const bpi_fill *f, const bpi_accept *a, const bp_finding *x)
{
    const bpi_swap *w = bpi_fill_swap(f, x->container);
    const bpi_segment *seg =
        &f->show->segment[f->live->air[f->prep->box[x->container].air].segment];
    return names_rule(a, x->rule) && strcmp(seg->dish[w->dish].id, a->dish) == 0 &&
           (a->stage == BPI_STAGES || a->stage == w->stage);
}

void bpi_heed_accepted(bpi_heed *h)
{
    bpi_fill *f = h->f;
    for (uint32_t i = 0; i < f->show->accepts; i++) {
        const bpi_accept *a = &f->show->accept[i];
        bool answers = false;
        for (size_t k = 0; k < h->findings && !f->failed; k++) {
            bp_finding *x = (bp_finding *)h->finding + k;
            if (x->weight != BP_STOP || x->container == BP_NO_INDEX || !accepts(f, a, x))
                continue;
            bpi_text t = BPI_TEXT_EMPTY;
            bpi_text_f(&t, "%s: %s", a->by, a->why);
            x->accepted = bpi_fill_text(f, &t);
            answers = true;
        }
        if (answers)
            continue;
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_text_f(&t, "the show accepts a stop of %s for dish %s, and there is none; take it out",
                   a->rule, a->dish);
        bp_finding x = {BP_NOTE, BP_NO_INDEX, BP_NO_TIME, "", bpi_fill_text(f, &t), ""};
        bpi_heed_finding(h, &x);
    }
    for (size_t k = 0; k < h->findings; k++) {
        const bp_finding *x = (bp_finding *)h->finding + k;
        f->plan->stopped |= x->weight == BP_STOP && !x->accepted[0];
    }
}

/* ---- what is received ------------------------------------------------------------------------ */

static bool item_before(const bpi_show *show, uint32_t r, uint32_t s, uint32_t i)
{
    const char *item = show->recipe[r].step[s].ingredient[i].item;
    for (uint32_t x = 0; x <= r; x++)
        for (uint32_t y = 0; y < show->recipe[x].steps && (x < r || y <= s); y++)
            for (uint32_t k = 0; k < show->recipe[x].step[y].ingredients; k++) {
                if (x == r && y == s && k == i)
                    return false;
                const bpi_ingredient *in = &show->recipe[x].step[y].ingredient[k];
                if (in->raw_animal && strcmp(in->item, item) == 0)
                    return true;
            }
    return false;
}

/* Raw animal food is read when it comes in, each item once. */
static void read_received(bpi_heed *h)
{
    const bpi_show *show = h->f->show;
    const bpi_limit *limit = bpi_limit_of(show->limits, BPI_LIMIT_RECEIVE_COLD);
    for (uint32_t r = 0; r < show->recipes && limit; r++)
        for (uint32_t s = 0; s < show->recipe[r].steps; s++)
            for (uint32_t i = 0; i < show->recipe[r].step[s].ingredients; i++) {
                const bpi_ingredient *in = &show->recipe[r].step[s].ingredient[i];
                if (!in->raw_animal || item_before(show, r, s, i))
                    continue;
                bpi_text t = BPI_TEXT_EMPTY;
                bpi_text_f(&t, "Received: %s at most ", in->item);
                bpi_limit_put(&t, limit);
                bpi_reading x = {BP_NO_TIME, limit->rule, bpi_fill_text(h->f, &t)};
                add_reading(h, &x, BP_NO_INDEX);
            }
}

/* ---- readings -------------------------------------------------------------------------------- */

/* By moment; equal ones as they came. */
static void sort_readings(bpi_heed *h)
{
    bp_reading *list = h->reading;
    for (size_t i = 1; i < h->readings; i++) {
        bp_reading moved = list[i];
        size_t to = i;
        for (; to > 0 && list[to - 1].at > moved.at; to--)
            list[to] = list[to - 1];
        list[to] = moved;
    }
}

static bool earlier(const bpi_reading *a, uint32_t box, const bpi_reading *b, uint32_t other)
{
    int text = strcmp(a->text, b->text);
    return a->at != b->at ? a->at < b->at : text ? text < 0 : box < other;
}

/* The readings of all containers, equal ones side by side, so that one row serves them. */
void bpi_heed_readings(bpi_heed *h, const bpi_path_result *result, uint32_t n)
{
    uint32_t all = 0, taken = 0;
    for (uint32_t b = 0; b < n; b++)
        all += result[b].readings;
    const bpi_reading *last = NULL;
    uint32_t last_box = 0;
    read_received(h);
    for (; taken < all && !h->f->failed; taken++) {
        const bpi_reading *best = NULL;
        uint32_t best_box = 0;
        for (uint32_t b = 0; b < n; b++)
            for (uint32_t i = 0; i < result[b].readings; i++) {
                const bpi_reading *r = &result[b].reading[i];
                bool open = !last || earlier(last, last_box, r, b);
                if (open && (!best || earlier(r, b, best, best_box))) {
                    best = r;
                    best_box = b;
                }
            }
        if (!best)
            break; /* the rest are the same reading of the same container twice */
        add_reading(h, best, best_box);
        last = best;
        last_box = best_box;
    }
    sort_readings(h);
}

#include "goods/pull.h"

#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "goods/list.h"
#include "goods/measure.h"
#include "model/allergen.h"

/* One line while it is summed. Texts are those of the show until it is printed. */
typedef struct line {
    const bpi_ingredient *first; /* the ingredient that opened it */
    bpi_measure need, pack;      /* pack: BPI_NO_AMOUNT where none is named */
    const bpi_weight *weight;    /* of all that is in the line; NULL: not of all, or not one   */
    bpi_text notes, codes;       /* "rinsed; sifted", "A1 A2"                                  */
    bpi_text instead;            /* what does in its place                                     */
    uint32_t allergens;
    uint32_t number; /* order of opening */
} line;

typedef struct pull {
    bpi_arena *a;
    const bpi_show *show;
    const bpi_pull_box *box;
    uint32_t boxes;
    bp_errors *errs;
    line *food;
    size_t foods, food_room;
    bpi_measure *left; /* of each line of the pantry; dimension BPI_NO_AMOUNT: enough of it */
    bpi_good_list list;
} pull;

uint64_t bpi_pull_steps(const bpi_recipe *recipe, bpi_stage stage, uint64_t ahead, uint64_t on_air)
{
    return stage == BPI_RAW ? recipe->all : ahead | on_air;
}

/* ---- food ---------------------------------------------------------------------------------- */

static bool one_thing(const bpi_ingredient *a, const bpi_ingredient *b)
{
    return strcmp(a->item, b->item) == 0 && strcmp(a->from, b->from) == 0 &&
           strcmp(a->aisle, b->aisle) == 0;
}

/* May this ingredient go on that line? One of the two may name no pack; two packs must be equal. */
static bool belongs(const line *l, const bpi_ingredient *in, const bpi_measure *need,
                    const bpi_measure *pack)
{
    bool packs =
        l->pack.dimension == BPI_NO_AMOUNT || pack->dimension == BPI_NO_AMOUNT ||
        (bpi_measure_alike(&l->pack, pack) && l->pack.num == pack->num && l->pack.den == pack->den);
    return packs && one_thing(l->first, in) && bpi_measure_alike(&l->need, need);
}

static bp_code too_large(const pull *p, const bpi_ingredient *in)
{
    return bpi_error_f(p->errs, BP_ERANGE, in->where,
                       "write a smaller amount, or one with simpler fractions",
                       "the amount of %s is too large to be scaled", in->item);
}

/* ---- volume and mass ------------------------------------------------------------------------ */

/* Is the same thing also asked for by weight? Only then is a volume of it weighed. */
static bool also_by_weight(const pull *p, const bpi_ingredient *in)
{
    for (uint32_t b = 0; b < p->boxes; b++) {
        const bpi_recipe *r = &p->show->recipe[p->box[b].recipe];
        for (uint32_t s = 0; s < r->steps; s++)
            for (uint32_t i = 0; (p->box[b].steps >> s & 1) && i < r->step[s].ingredients; i++) {
                const bpi_ingredient *other = &r->step[s].ingredient[i];
                bool plain = !other->amount.packs && !other->amount.word[0];
                if (other->amount.dimension == BPI_MASS && plain && one_thing(other, in))
                    return true;
            }
    }
    return false;
}

static bool same_weight(const bpi_weight *a, const bpi_weight *b)
{
    bpi_measure by_a, by_b;
    bpi_measure_of_plain(&by_a, &a->mass);
    bpi_measure_of_plain(&by_b, &a->measure);
    return bpi_measure_weigh(&by_b, b) && by_a.num == by_b.num && by_a.den == by_b.den;
}

/* "1 cup = 125 g (USDA SR28 20081)" */
static void note_weight(bpi_text *notes, const bpi_weight *w)
{
    bpi_measure measure, mass;
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_measure_of_plain(&measure, &w->measure);
    bpi_measure_of_plain(&mass, &w->mass);
    bpi_measure_put(&t, &measure);
    bpi_text_put(&t, " = ");
    bpi_measure_put(&t, &mass);
    if (w->number)
        bpi_text_f(&t, " (USDA SR28 %s)", w->number);
    if (t.failed)
        notes->failed = true;
    else
        bpi_good_word(notes, t.s, t.len, "; ");
    bpi_text_release(&t);
}

static bp_code add_ingredient(pull *p, const bpi_ingredient *in, const bpi_pull_box *box)
{
    bpi_measure need, pack;
    if (!bpi_measure_of(&need, &in->amount) || !bpi_measure_of(&pack, &in->pack) ||
        !bpi_measure_scale(&need, box->size.num, box->size.den))
        return too_large(p, in);
    /* "2 x 400 g can" says itself what can be bought. */
    if (pack.dimension == BPI_NO_AMOUNT && need.each_num) {
        pack = need;
        pack.num = need.each_num;
        pack.den = need.each_den;
    }
    const bpi_weight *weight = in->weighs.measure.dimension == BPI_NO_AMOUNT ? NULL : &in->weighs;
    bool weighed = weight && also_by_weight(p, in) && bpi_measure_weigh(&need, weight);
    line *l = NULL;
    for (size_t i = 0; i < p->foods && !l; i++)
        if (belongs(&p->food[i], in, &need, &pack)) {
            bpi_measure sum = p->food[i].need;
            if (!bpi_measure_add(&sum, &need))
                continue; /* a sum that cannot be held exactly stays two lines */
            l = &p->food[i];
            l->need = sum;
        }
    if (!l) {
        l = bpi_arena_more(p->a, (void **)&p->food, &p->food_room, p->foods, sizeof *l);
        if (!l)
            return bpi_error_no_memory(p->errs);
        *l = (line){.first = in,
                    .need = need,
                    .pack = pack,
                    .weight = weight,
                    .number = (uint32_t)p->foods++};
    }
    if (!weight || (l->weight && !same_weight(l->weight, weight)))
        l->weight = NULL;
    if (l->pack.dimension == BPI_NO_AMOUNT)
        l->pack = pack;
    bpi_good_word(&l->notes, in->note, strlen(in->note), "; ");
    if (weighed)
        note_weight(&l->notes, weight);
    bpi_good_word(&l->instead, in->instead, strlen(in->instead), "; ");
    bpi_good_word(&l->codes, box->code, strlen(box->code), " ");
    l->allergens |= in->allergens;
    bool failed = l->notes.failed || l->codes.failed || l->instead.failed;
    return failed ? bpi_error_no_memory(p->errs) : BP_OK;
}

static bp_code add_food(pull *p, const bpi_pull_box *box)
{
    const bpi_recipe *r = &p->show->recipe[box->recipe];
    for (uint32_t s = 0; s < r->steps; s++)
        for (uint32_t i = 0; i < r->step[s].ingredients; i++)
            if (box->steps >> s & 1) {
                bp_code rc = add_ingredient(p, &r->step[s].ingredient[i], box);
                if (rc != BP_OK)
                    return rc;
            }
    return BP_OK;
}

static int by_place(const void *x, const void *y)
{
    const line *a = x, *b = y;
    int from = strcmp(a->first->from, b->first->from);
    if (from) /* what has no place stands last */
        return !a->first->from[0] ? 1 : !b->first->from[0] ? -1 : from;
    int aisle = strcmp(a->first->aisle, b->first->aisle);
    if (aisle)
        return !a->first->aisle[0] ? 1 : !b->first->aisle[0] ? -1 : aisle;
    int item = strcmp(a->first->item, b->first->item);
    return item ? item : (a->number > b->number) - (a->number < b->number);
}

/* ---- printing ------------------------------------------------------------------------------ */

/* What is at hand goes to the lines of the item in the order of the list, until it is gone. Says what
 * there is, and takes it off what must be bought; true: nothing need be bought. */
static bool take_from_pantry(pull *p, bpi_text *have, line *l, bpi_measure *buy)
{
    for (uint32_t i = 0; i < p->show->pantries; i++) {
        const bpi_pantry *at_hand = &p->show->pantry[i];
        bpi_measure *left = &p->left[i], mass = *buy;
        if (strcmp(at_hand->item, l->first->item) != 0)
            continue;
        if (at_hand->amount.dimension == BPI_NO_AMOUNT || buy->dimension == BPI_NO_AMOUNT) {
            bpi_text_put(have, "at hand");
            return true;
        }
        if (left->num == 0) /* taken by a line above */
            continue;
        bpi_text_put(have, have->len ? " + " : "");
        bpi_measure_put(have, left);
        if (!bpi_measure_alike(buy, left) && l->weight && left->dimension == BPI_MASS &&
            bpi_measure_weigh(&mass, l->weight) && bpi_measure_alike(&mass, left)) {
            *buy = mass;
            note_weight(&l->notes, l->weight);
        }
        if (!bpi_measure_alike(buy, left))
            bpi_text_put(have, ", judge for how much");
        else if (!bpi_measure_take(buy, left))
            return true;
    }
    return false;
}

/* What must be bought beyond what is at hand: `all` says that this is the whole of the need. */
static void put_buy(bpi_text *out, line *l, const bpi_measure *buy, bool all)
{
    int64_t packs;
    bpi_measure mass = *buy;
    bpi_measure whole = {
        .dimension = BPI_COUNT, .unit = buy->unit, .word = buy->word, .num = 1, .den = 1};
    if (l->pack.dimension != BPI_NO_AMOUNT) {
        packs = bpi_measure_packs(buy, &l->pack);
        if (!packs && l->weight && l->pack.dimension == BPI_MASS &&
            bpi_measure_weigh(&mass, l->weight)) {
            packs = bpi_measure_packs(&mass, &l->pack);
            note_weight(&l->notes, l->weight);
        }
        if (packs) {
            bpi_measure_put_packs(out, packs, &l->pack);
        } else { /* cups of what is sold by weight: how many is for a person to judge */
            bpi_text_put(out, "packs of ");
            bpi_measure_put(out, &l->pack);
            bpi_text_put(out, ", judge how many");
        }
    } else if (buy->dimension == BPI_COUNT && buy->den != 1) {
        bpi_measure_put_packs(out, bpi_measure_packs(buy, &whole), &whole);
    } else if (!all) {
        bpi_measure_put(out, buy);
    }
}

static const char *copy(const pull *p, const char *text)
{
    return bpi_arena_copy(p->a, text, strlen(text));
}

static bp_code print_line(pull *p, line *l, bpi_text *t)
{
    const bpi_good_list *list = &p->list;
    bp_good *g = bpi_good_list_more(&p->list);
    bpi_measure buy = l->need;
    if (!g)
        return bpi_error_no_memory(p->errs);
    g->kind = BP_GOOD_FOOD;
    g->item = copy(p, l->first->item);
    g->from = copy(p, l->first->from);
    g->aisle = copy(p, l->first->aisle);
    bpi_measure_put(t, &l->need);
    g->need = bpi_good_list_keep(list, t);
    bool enough = take_from_pantry(p, t, l, &buy);
    bool all = t->len == 0;
    g->have = bpi_good_list_keep(list, t);
    if (!enough)
        put_buy(t, l, &buy, all);
    else
        bpi_text_put(t, "nothing");
    g->buy = bpi_good_list_keep(list, t);
    bpi_allergen_put(t, l->allergens, p->show->law);
    g->allergens = bpi_good_list_keep(list, t);
    g->note = bpi_good_list_keep(list, &l->notes);
    g->codes = bpi_good_list_keep(list, &l->codes);
    g->instead = bpi_good_list_keep(list, &l->instead);
    if (!g->item || !g->from || !g->aisle || !g->need || !g->have || !g->buy || !g->allergens ||
        !g->note || !g->codes || !g->instead)
        return bpi_error_no_memory(p->errs);
    p->list.n++;
    return BP_OK;
}

static bp_code print_food(pull *p, bpi_text *t)
{
    bp_code rc = BP_OK;
    if (p->foods) /* qsort takes no NULL */
        qsort(p->food, p->foods, sizeof *p->food, by_place);
    for (size_t i = 0; i < p->foods && rc == BP_OK; i++)
        rc = print_line(p, &p->food[i], t);
    return rc;
}

static bp_code open_pantry(pull *p)
{
    p->left = BPI_TAKE(p->a, p->show->pantries + 1, bpi_measure);
    if (!p->left)
        return bpi_error_no_memory(p->errs);
    for (uint32_t i = 0; i < p->show->pantries; i++) {
        const bpi_pantry *at_hand = &p->show->pantry[i];
        if (!bpi_measure_of(&p->left[i], &at_hand->amount))
            return bpi_error_f(p->errs, BP_ERANGE, at_hand->where, "write a smaller amount",
                               "the amount of %s at hand is too large", at_hand->item);
    }
    return BP_OK;
}

/* ---- all of it ------------------------------------------------------------------------------- */

bp_code bpi_pull_make(const bp_good **out, uint32_t *n, bpi_arena *a, const bpi_show *show,
                      const bpi_pull_box *box, uint32_t boxes, const bpi_pull_use *use,
                      uint32_t uses, const uint32_t *supply, bp_errors *errs)
{
    *out = NULL;
    *n = 0;
    pull p = {.a = a, .show = show, .box = box, .boxes = boxes, .errs = errs};
    p.list = (bpi_good_list){.a = a, .errs = errs};
    bpi_text t = BPI_TEXT_EMPTY;
    bp_code rc = open_pantry(&p);
    for (uint32_t i = 0; i < boxes && rc == BP_OK; i++)
        rc = add_food(&p, &box[i]);
    if (rc == BP_OK)
        rc = print_food(&p, &t);
    if (rc == BP_OK)
        rc = bpi_gear_list(&p.list, show, box, boxes, use, uses, supply);
    for (size_t i = 0; i < p.foods; i++) {
        bpi_text_release(&p.food[i].notes);
        bpi_text_release(&p.food[i].codes);
        bpi_text_release(&p.food[i].instead);
    }
    bpi_text_release(&t);
    if (rc == BP_OK) {
        *out = p.list.good;
        *n = (uint32_t)p.list.n;
    }
    return rc;
}

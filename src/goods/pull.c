#include "goods/pull.h"

#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "goods/measure.h"
#include "model/allergen.h"

/* One line while it is summed. Texts are those of the show until it is printed. */
typedef struct line {
    const bpi_ingredient *first; /* the ingredient that opened it */
    bpi_measure need, pack;      /* pack: BPI_NO_AMOUNT where none is named */
    const bpi_weight *weight;    /* of all that is in the line; NULL: not of all, or not one   */
    bpi_text notes, codes;       /* "rinsed; sifted", "A1 A2" */
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
    bp_good *good;
    size_t goods, good_room;
} pull;

uint64_t bpi_pull_steps(const bpi_recipe *recipe, bpi_stage stage, uint64_t ahead, uint64_t on_air)
{
    return stage == BPI_RAW ? recipe->all : ahead | on_air;
}

/* Append `word` unless it is already one of the words in `list`. */
static void add_word(bpi_text *list, const char *word, size_t len, const char *between)
{
    if (len == 0)
        return;
    size_t gap = strlen(between);
    for (size_t i = 0; list->s && i + len <= list->len; i++) {
        bool begins = i == 0 || (i >= gap && memcmp(list->s + i - gap, between, gap) == 0);
        bool ends = i + len == list->len || strncmp(list->s + i + len, between, gap) == 0;
        if (begins && ends && memcmp(list->s + i, word, len) == 0)
            return;
    }
    if (list->len)
        bpi_text_put(list, between);
    bpi_text_add(list, word, len);
}

static void add_words(bpi_text *list, const char *words)
{
    while (*words) {
        size_t len = strcspn(words, " ");
        add_word(list, words, len, " ");
        words += len + strspn(words + len, " ");
    }
}

/* ---- food ---------------------------------------------------------------------------------- */

/* May this ingredient go on that line? One of the two may name no pack; two packs must be equal. */
static bool belongs(const line *l, const bpi_ingredient *in, const bpi_measure *need,
                    const bpi_measure *pack)
{
    bool packs =
        l->pack.dimension == BPI_NO_AMOUNT || pack->dimension == BPI_NO_AMOUNT ||
        (bpi_measure_alike(&l->pack, pack) && l->pack.num == pack->num && l->pack.den == pack->den);
    return packs && strcmp(l->first->item, in->item) == 0 &&
           strcmp(l->first->from, in->from) == 0 && bpi_measure_alike(&l->need, need);
}

static bp_code too_large(const pull *p, const bpi_ingredient *in)
{
    return bpi_error_f(p->errs, BP_ERANGE, in->where,
                       "write a smaller amount, or one with simpler fractions",
                       "the amount of %s is too large to be scaled", in->item);
}

/* ---- volume and mass ------------------------------------------------------------------------ */

static bool one_thing(const bpi_ingredient *a, const bpi_ingredient *b)
{
    return strcmp(a->item, b->item) == 0 && strcmp(a->from, b->from) == 0;
}

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
    bpi_measure x, y;
    if (!bpi_measure_of(&x, &a->measure))
        return false;
    y = x;
    return bpi_measure_weigh(&x, a) && bpi_measure_weigh(&y, b) && x.num == y.num && x.den == y.den;
}

/* "1 cup = 125 g (USDA SR28 20081)" */
static void note_weight(bpi_text *notes, const bpi_weight *w)
{
    bpi_measure measure, mass;
    bpi_text t = BPI_TEXT_EMPTY;
    if (!bpi_measure_of(&measure, &w->measure) || !bpi_measure_of(&mass, &w->mass))
        return;
    bpi_measure_put(&t, &measure);
    bpi_text_put(&t, " = ");
    bpi_measure_put(&t, &mass);
    if (w->number)
        bpi_text_f(&t, " (USDA SR28 %s)", w->number);
    if (t.failed)
        notes->failed = true;
    else
        add_word(notes, t.s, t.len, "; ");
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
    add_word(&l->notes, in->note, strlen(in->note), "; ");
    if (weighed)
        note_weight(&l->notes, weight);
    add_words(&l->codes, box->code);
    l->allergens |= in->allergens;
    return l->notes.failed || l->codes.failed ? bpi_error_no_memory(p->errs) : BP_OK;
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
    int item = strcmp(a->first->item, b->first->item);
    return item ? item : (a->number > b->number) - (a->number < b->number);
}

/* ---- printing ------------------------------------------------------------------------------ */

/* A copy of a text in the arena, which then is empty; NULL: no memory. */
static const char *keep(const pull *p, bpi_text *t)
{
    const char *kept = t->failed ? NULL : bpi_arena_copy(p->a, t->s ? t->s : "", t->len);
    bpi_text_reset(t);
    return kept;
}

static void put_buy(bpi_text *out, line *l)
{
    int64_t packs;
    bpi_measure mass = l->need;
    bpi_measure whole = {
        .dimension = BPI_COUNT, .unit = l->need.unit, .word = l->need.word, .num = 1, .den = 1};
    if (l->pack.dimension != BPI_NO_AMOUNT) {
        packs = bpi_measure_packs(&l->need, &l->pack);
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
    } else if (l->need.dimension == BPI_COUNT && l->need.den != 1) {
        bpi_measure_put_packs(out, bpi_measure_packs(&l->need, &whole), &whole);
    }
}

static bp_good *add_good(pull *p)
{
    return bpi_arena_more(p->a, (void **)&p->good, &p->good_room, p->goods, sizeof *p->good);
}

static bp_code print_food(pull *p, bpi_text *t)
{
    if (p->foods) /* qsort takes no NULL */
        qsort(p->food, p->foods, sizeof *p->food, by_place);
    for (size_t i = 0; i < p->foods; i++) {
        line *l = &p->food[i];
        bp_good *g = add_good(p);
        if (!g)
            return bpi_error_no_memory(p->errs);
        g->kind = BP_GOOD_FOOD;
        g->item = bpi_arena_copy(p->a, l->first->item, strlen(l->first->item));
        g->from = bpi_arena_copy(p->a, l->first->from, strlen(l->first->from));
        bpi_measure_put(t, &l->need);
        g->need = keep(p, t);
        put_buy(t, l);
        g->buy = keep(p, t);
        bpi_allergen_put(t, l->allergens, p->show->law);
        g->allergens = keep(p, t);
        g->note = keep(p, &l->notes);
        g->codes = keep(p, &l->codes);
        if (!g->item || !g->from || !g->need || !g->buy || !g->allergens || !g->note || !g->codes)
            return bpi_error_no_memory(p->errs);
        p->goods++;
    }
    return BP_OK;
}

/* ---- vessels and tools ----------------------------------------------------------------------- */

/* How many of a tool are in use at one time, at most: at the start of some use, for in between the
 * number only falls. */
static uint32_t most_at_once(uint32_t tool, const bpi_pull_use *use, uint32_t uses)
{
    uint32_t most = 0;
    for (uint32_t i = 0; i < uses; i++) {
        uint32_t n = 0;
        if (use[i].tool != tool)
            continue;
        for (uint32_t k = 0; k < uses; k++)
            n += use[k].tool == tool && use[k].from <= use[i].from && use[i].from < use[k].to;
        most = n > most ? n : most;
    }
    return most;
}

static bp_code print_tool(pull *p, uint32_t number, const bpi_tool *tool, const bpi_pull_use *use,
                          uint32_t uses, bpi_text *t)
{
    uint32_t most = most_at_once(number, use, uses);
    if (most == 0)
        return BP_OK;
    bp_good *g = add_good(p);
    if (!g)
        return bpi_error_no_memory(p->errs);
    *g = (bp_good){.kind = tool->vessel ? BP_GOOD_VESSEL : BP_GOOD_TOOL,
                   .from = "",
                   .buy = "",
                   .allergens = ""};
    g->item = bpi_arena_copy(p->a, tool->name, strlen(tool->name));
    g->note = bpi_arena_copy(p->a, tool->size, strlen(tool->size));
    bpi_text_f(t, "%u", (unsigned)most);
    g->need = keep(p, t);
    for (uint32_t i = 0; i < uses; i++)
        if (use[i].tool == number)
            add_words(t, use[i].codes);
    g->codes = keep(p, t);
    if (!g->item || !g->note || !g->need || !g->codes)
        return bpi_error_no_memory(p->errs);
    p->goods++;
    return BP_OK;
}

static bp_code print_tools(pull *p, bool vessels, const bpi_pull_use *use, uint32_t uses,
                           bpi_text *t)
{
    bp_code rc = BP_OK;
    for (uint32_t k = 0; k < p->show->kitchen.tools && rc == BP_OK; k++)
        if (p->show->kitchen.tool[k].vessel == vessels)
            rc = print_tool(p, k, &p->show->kitchen.tool[k], use, uses, t);
    return rc;
}

bp_code bpi_pull_make(const bp_good **out, uint32_t *n, bpi_arena *a, const bpi_show *show,
                      const bpi_pull_box *box, uint32_t boxes, const bpi_pull_use *use,
                      uint32_t uses, bp_errors *errs)
{
    *out = NULL;
    *n = 0;
    static const bpi_tool bowl = {
        .name = "small bowl", .size = "one for each measured ingredient", .vessel = true};
    pull p = {.a = a, .show = show, .box = box, .boxes = boxes, .errs = errs};
    bpi_text t = BPI_TEXT_EMPTY;
    bp_code rc = BP_OK;
    for (uint32_t i = 0; i < boxes && rc == BP_OK; i++)
        rc = add_food(&p, &box[i]);
    if (rc == BP_OK)
        rc = print_food(&p, &t);
    if (rc == BP_OK)
        rc = print_tools(&p, true, use, uses, &t);
    if (rc == BP_OK)
        rc = print_tool(&p, BPI_PULL_BOWL, &bowl, use, uses, &t);
    if (rc == BP_OK)
        rc = print_tools(&p, false, use, uses, &t);
    for (size_t i = 0; i < p.foods; i++) {
        bpi_text_release(&p.food[i].notes);
        bpi_text_release(&p.food[i].codes);
    }
    bpi_text_release(&t);
    if (rc == BP_OK) {
        *out = p.good;
        *n = (uint32_t)p.goods;
    }
    return rc;
}

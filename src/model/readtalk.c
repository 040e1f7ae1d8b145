/* src/model/readtalk.c - what is said and shown beside the cooking.
 *
 * Owns     "nutrition" of a recipe, "answers", "claims" and "graphics" of a show file.
 * May use  base/, model/read; the dishes of the segment have been read.
 */
#include "model/read.h"

#include <stddef.h>
#include <stdio.h>

#include "base/limits.h"

#define NAME 120 /* bytes of a name */

/* ---- nutrition ----------------------------------------------------------------------------- */

static void read_amount(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    int64_t *field = (int64_t *)(void *)((char *)into + m->field);
    bool energy = m->field == offsetof(bpi_nutrition, amount[BPI_ENERGY]);
    bpi_fault f = {0, "", ""};
    if (bpi_read_is_text(r, v, m->name,
                         energy ? "write it like \"210 kcal\"" : "write it like \"120 mg\"") &&
        !bpi_nutrient_read(field, v->text, v->len, energy, &f))
        bpi_read_fault(r, v, &f);
}

static void read_serving(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_fault f = {0, "", ""};
    if (bpi_read_is_text(r, v, m->name, "write it like \"330 g\"") &&
        !bpi_serving_read((int64_t *)(void *)((char *)into + m->field), v->text, v->len, &f))
        bpi_read_fault(r, v, &f);
}

#define OWN 4 /* members before the nutrients */

/* `own` has its members that are not nutrients. */
static void read_food(bpi_reader *r, bpi_nutrition *n, const bpi_node *v, const char *what,
                      const bpi_member own[OWN], uint32_t owns)
{
    bpi_member members[OWN + BPI_NUTRIENTS];
    uint32_t count = 0;
    for (; count < owns; count++)
        members[count] = own[count];
    for (size_t i = 0; i < BPI_NUTRIENTS; i++)
        members[count++] =
            (bpi_member){.name = bpi_nutrients[i].name,
                         .read = read_amount,
                         .field = offsetof(bpi_nutrition, amount) + i * sizeof n->amount[0]};
    bpi_nutrition_init(n);
    n->stated = bpi_read_object(r, n, v, what, members, count);
}

void bpi_read_nutrition(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member own[OWN] = {
        {"serving", read_serving, offsetof(bpi_nutrition, serving), NULL, 0, 0, 0, NULL},
        {"reference", read_serving, offsetof(bpi_nutrition, reference), NULL, 0, 0, 0, NULL},
        {"meal", bpi_read_flag, offsetof(bpi_nutrition, meal), NULL, 0, 0, 0, NULL},
        {"source", bpi_read_text, offsetof(bpi_nutrition, source), NULL, 1, BPI_MAX_TEXT, 0, NULL},
    };
    (void)m;
    read_food(r, &((bpi_recipe *)into)->nutrition, v, "\"nutrition\"", own, OWN);
}

/* ---- answers ------------------------------------------------------------------------------- */

static const bpi_word abouts[] = {{"substitution", BPI_ABOUT_SUBSTITUTION},
                                  {"storage", BPI_ABOUT_STORAGE},
                                  {"cost", BPI_ABOUT_COST},
                                  {"other", BPI_ABOUT_OTHER},
                                  {NULL, 0}};

const bpi_answer *bpi_read_answers(bpi_reader *r, uint32_t *n, const bpi_node *v)
{
    static const bpi_member members[] = {
        {"about", bpi_read_word, offsetof(bpi_answer, about), NULL, 0, 0, 0, abouts},
        {"ask", bpi_read_text, offsetof(bpi_answer, ask), "\"ask\": \"Can it be frozen?\"", 1,
         BPI_MAX_TEXT, 0, NULL},
        {"say", bpi_read_text, offsetof(bpi_answer, say), "\"say\": \"Yes, for three months.\"", 1,
         BPI_MAX_TEXT, 0, NULL},
    };
    bpi_answer *list = BPI_READ_LIST(r, v, "answers", 0, BPI_MAX_LIST, bpi_answer, n);
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        list[e->index] = (bpi_answer){.about = BPI_ABOUT_OTHER};
        bpi_read_object(r, &list[e->index], e, "an answer", BPI_MEMBERS(members));
    }
    return list;
}

/* ---- claims -------------------------------------------------------------------------------- */

static const bpi_word saids[] = {{"high", BPI_SAYS_HIGH},
                                 {"rich in", BPI_SAYS_HIGH},
                                 {"excellent source", BPI_SAYS_HIGH},
                                 {"good source", BPI_SAYS_GOOD},
                                 {"contains", BPI_SAYS_GOOD},
                                 {"provides", BPI_SAYS_GOOD},
                                 {"more", BPI_SAYS_MORE},
                                 {"added", BPI_SAYS_MORE},
                                 {"fortified", BPI_SAYS_MORE},
                                 {"light", BPI_SAYS_LIGHT},
                                 {"free", BPI_SAYS_FREE},
                                 {"very low", BPI_SAYS_VERY_LOW},
                                 {"low", BPI_SAYS_LOW},
                                 {"reduced", BPI_SAYS_REDUCED},
                                 {NULL, 0}};

static void read_of(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_word words[BPI_NUTRIENTS + 1];
    for (int i = 0; i < BPI_NUTRIENTS; i++)
        words[i] = (bpi_word){bpi_nutrients[i].name, i};
    words[BPI_NUTRIENTS] = (bpi_word){NULL, 0};
    bpi_member with = *m;
    with.words = words;
    bpi_read_word(r, into, v, &with);
}

static void read_than(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member own[OWN] = {
        {"food", NULL, 0, "\"food\": \"the same soup from a tin\"", 0, 0, 0, NULL},
        {"serving", read_serving, offsetof(bpi_nutrition, serving), NULL, 0, 0, 0, NULL},
    };
    bpi_claim *c = into;
    (void)m;
    read_food(r, &c->than_of, v, "\"than\"", own, 2);
    const bpi_node *food = bpi_node_member(v, "food");
    const char *name = food ? bpi_read_plain(r, food, "food", 1, NAME) : NULL;
    if (name)
        c->than = name;
}

void bpi_read_claims(bpi_reader *r, bpi_beat *b, const bpi_node *v, const bpi_segment *seg)
{
    static const bpi_member members[] = {
        {"says", bpi_read_word, offsetof(bpi_claim, says), "\"says\": \"good source\"", 0, 0, 0,
         saids},
        {"of", read_of, offsetof(bpi_claim, of), "\"of\": \"fiber\"", 0, 0, 0, NULL},
        {"dish", NULL, 0, NULL, 0, 0, 0, NULL},
        {"than", read_than, 0, NULL, 0, 0, 0, NULL},
    };
    char haver[80];
    bpi_claim *list = BPI_READ_LIST(r, v, "claims", 0, BPI_MAX_LIST, bpi_claim, &b->claims);
    b->claim = list;
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_claim *c = &list[e->index];
        *c = (bpi_claim){.said = "", .dish = b->dish, .than = "", .where = e->at};
        bpi_nutrition_init(&c->than_of);
        bool read = bpi_read_object(r, c, e, "a claim", BPI_MEMBERS(members));
        const bpi_node *says = bpi_node_member(e, "says"), *dish = bpi_node_member(e, "dish");
        for (const bpi_word *w = saids; says && w->text; w++)
            if (bpi_node_is(says, w->text))
                c->said = w->text;
        if (dish) {
            snprintf(haver, sizeof haver, "segment \"%s\"", seg->id);
            c->dish = bpi_read_ref(r, dish, &r->dish, "a claim is about dish", haver);
        } else if (read && b->dish == BPI_NO_INDEX && !bpi_node_member(v->parent, "dish")) {
            bpi_read_wrong(r, BP_EVALUE, e->at, "add \"dish\"",
                           "a claim of beat \"%s\" does not say of which dish", b->id);
        }
    }
}

/* ---- graphics ------------------------------------------------------------------------------ */

void bpi_read_graphics(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_beat *b = into;
    const char **line = BPI_READ_LIST(r, v, m->name, 1, BPI_MAX_LIST, const char *, &b->graphics);
    b->graphic = line;
    for (const bpi_node *e = v->first; e && line; e = e->next) {
        const char *text = bpi_read_plain(r, e, m->name, 1, NAME);
        line[e->index] = text ? text : "";
    }
}

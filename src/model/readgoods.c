/* src/model/readgoods.c - what is at hand, and what is fetched besides food and tools.
 *
 * Owns     "pantry" and "supplies" of a show file; lists of tools by their names.
 * May use  base/, model/read, model/quantity.
 */
#include "model/read.h"

#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"

#define WORDS 120 /* bytes of a name */

static void read_at_hand(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_fault f = {0, "", ""};
    bpi_pantry *p = into;
    if (bpi_read_is_text(r, v, m->name, "write it like \"500 ml\"; leave it out for enough") &&
        !bpi_quantity_read(&p->amount, v->text, v->len, &f))
        bpi_read_fault(r, v, &f);
}

void bpi_read_pantry(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member members[] = {
        {"item", bpi_read_text, offsetof(bpi_pantry, item), "\"item\": \"olive oil\"", 1, WORDS, 0,
         NULL},
        {"amount", read_at_hand, 0, NULL, 0, 0, 0, NULL},
    };
    bpi_show *show = into;
    bpi_pantry *list = BPI_READ_LIST(r, v, m->name, 0, BPI_MAX_LIST, bpi_pantry, &show->pantries);
    show->pantry = list;
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_pantry *p = &list[e->index];
        p->where = e->at;
        p->amount.den = 1;
        bpi_read_object(r, p, e, "a line of the pantry", BPI_MEMBERS(members));
    }
}

void bpi_read_supplies(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_word pers[] = {{"show", BPI_PER_SHOW},
                                    {"cook", BPI_PER_COOK},
                                    {"appearance", BPI_PER_APPEARANCE},
                                    {"container", BPI_PER_CONTAINER},
                                    {"taste", BPI_PER_TASTE},
                                    {"beat", BPI_PER_BEAT},
                                    {"strike", BPI_PER_STRIKE},
                                    {NULL, 0}};
    static const bpi_member members[] = {
        {"item", bpi_read_text, offsetof(bpi_supply, item), "\"item\": \"tasting spoon\"", 1, WORDS,
         0, NULL},
        {"from", bpi_read_text, offsetof(bpi_supply, from), NULL, 0, WORDS, 0, NULL},
        {"count", bpi_read_count, offsetof(bpi_supply, count), NULL, 1, 1000, 0, NULL},
        {"per", bpi_read_word, offsetof(bpi_supply, per), NULL, 0, 0, 0, pers},
        {"provided", bpi_read_flag, offsetof(bpi_supply, provided), NULL, 0, 0, 0, NULL},
    };
    bpi_show *show = into;
    bpi_supply *list = BPI_READ_LIST(r, v, m->name, 0, BPI_MAX_LIST, bpi_supply, &show->supplies);
    show->supply = list;
    const char **item = BPI_TAKE(r->a, show->supplies, const char *);
    if (!item)
        bpi_read_no_memory(r);
    r->supply.unread = !list || !item;
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_supply *s = &list[e->index];
        s->where = e->at;
        s->count = 1;
        s->per = BPI_PER_SHOW;
        bpi_read_object(r, s, e, "a supply", BPI_MEMBERS(members));
        if (item)
            item[e->index] = s->item;
    }
    if (!r->supply.unread)
        r->supply = (bpi_names){item, show->supplies, false};
}

void bpi_read_tool_names(bpi_reader *r, const uint32_t **list, uint32_t *n, const bpi_node *v,
                         const char *who, const char *id)
{
    const bpi_kitchen *k = &r->show->kitchen;
    bool vessel = strcmp(v->name, "vessels") == 0;
    uint32_t more = 0, known = 0, first = 0;
    char prefix[80];
    if (!bpi_read_list(r, v, v->name, 0, BPI_MAX_LIST, 1, &more))
        return;
    const char **ids = BPI_TAKE(r->a, k->tools, const char *);
    uint32_t *to = BPI_TAKE(r->a, *n + more, uint32_t);
    if (!ids || !to) {
        bpi_read_no_memory(r);
        return;
    }
    for (uint32_t i = 0; i < k->tools; i++)
        if (k->tool[i].vessel == vessel) {
            first = known ? first : i;
            ids[known++] = k->tool[i].id ? k->tool[i].id : "";
        }
    if (*n)
        memcpy(to, *list, *n * sizeof *to);
    bpi_names names = {ids, known, false};
    snprintf(prefix, sizeof prefix, "%s \"%s\" uses %s", who, id, vessel ? "vessel" : "tool");
    for (const bpi_node *e = v->first; e; e = e->next) {
        uint32_t at = bpi_read_ref(r, e, &names, prefix, "the kitchen");
        if (at < known)
            to[(*n)++] = first + at;
    }
    *list = to;
}

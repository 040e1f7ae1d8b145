/* src/model/readhit.c - when it is on air.
 *
 * Owns     hits and teases of a segment, and that no two slots meet.
 * May use  base/, model/read; dishes, slot and float of the segment have been read.
 */
#include "model/read.h"

#include <stddef.h>

#include "base/limits.h"

void bpi_read_hits(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_segment *seg = into;
    bpi_hit *list = NULL;
    if (v->kind != BPI_ARRAY) {
        list = BPI_TAKE(r->a, 1, bpi_hit);
        if (!list) {
            bpi_read_no_memory(r);
            return;
        }
        *list = (bpi_hit){bpi_read_moment(r, v, m->name), v->at};
        seg->hit = list;
        seg->hits = 1;
        return;
    }
    list = BPI_READ_LIST(r, v, m->name, 1, BPI_MAX_HITS, bpi_hit, &seg->hits);
    seg->hit = list;
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_hit *h = &list[e->index];
        *h = (bpi_hit){bpi_read_moment(r, e, m->name), e->at};
        if (e->index && h->at != BPI_NO_TIME && h[-1].at != BPI_NO_TIME && h->at <= h[-1].at)
            bpi_read_wrong(r, BP_EVALUE, e->at, "write the hits in time order",
                           "this hit is not after the one before it");
    }
}

static void check_tease(bpi_reader *r, const bpi_segment *seg, const bpi_tease *t)
{
    bool before = t->at == BPI_NO_TIME || seg->hits == 0;
    for (uint32_t i = 0; i < seg->hits && !before; i++) {
        int64_t hit = seg->hit[i].at;
        if (hit == BPI_NO_TIME)
            return;
        if (t->at >= hit && t->at < hit + seg->slot + seg->floats) {
            bpi_read_wrong(r, BP_EVALUE, t->where, "write a time before the hit",
                           "the tease falls into the slot of segment \"%s\"", seg->id);
            return;
        }
        before = t->at < hit;
        if (before && t->at + t->length > hit)
            bpi_read_wrong(r, BP_EVALUE, t->where, "begin it earlier, or make it shorter",
                           "the tease runs into the hit of segment \"%s\"", seg->id);
    }
    if (!before)
        bpi_read_wrong(r, BP_EVALUE, t->where, "write a time before the hit",
                       "the tease comes after the last hit of segment \"%s\"", seg->id);
}

void bpi_read_teases(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member members[] = {
        {"at", bpi_read_clock, offsetof(bpi_tease, at), "\"at\": \"08:11:30\"", 0, 0,
         offsetof(bpi_tease, where), NULL},
        {"length", bpi_read_span_member, offsetof(bpi_tease, length), "\"length\": \"10 s\"", 1,
         600, 0, NULL},
        {"dish", NULL, 0, "\"dish\": \"soup\"", 0, 0, 0, NULL},
    };
    bpi_segment *seg = into;
    bpi_tease *list = BPI_READ_LIST(r, v, m->name, 0, BPI_MAX_LIST, bpi_tease, &seg->teases);
    seg->tease = list;
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_tease *t = &list[e->index];
        *t = (bpi_tease){.at = BPI_NO_TIME, .where = e->at};
        bpi_read_object(r, t, e, "a tease", BPI_MEMBERS(members));
        const bpi_node *dish = bpi_node_member(e, "dish");
        if (dish)
            t->dish = bpi_read_dish(r, dish, "a tease shows dish", seg->id);
        check_tease(r, seg, t);
    }
}

void bpi_check_air(bpi_reader *r, const bpi_segment *a, const bpi_segment *b)
{
    for (uint32_t i = 0; i < a->hits; i++)
        for (uint32_t k = 0; k < b->hits; k++) {
            int64_t from = a->hit[i].at, other = b->hit[k].at;
            if (from == BPI_NO_TIME || other == BPI_NO_TIME || (a == b && k <= i))
                continue;
            if (from == other || (from < other ? from + a->slot + a->floats > other
                                               : other + b->slot + b->floats > from))
                bpi_read_wrong(r, BP_EVALUE, b->hit[k].where,
                               a->floats || b->floats
                                   ? "write times that are apart, however late a hit may come"
                                   : "write times that are apart",
                               a == b ? "segment \"%s\" is hit again while it is on air"
                                      : "segment \"%s\" is on air together with segment \"%s\"",
                               b->id, a->id);
        }
}

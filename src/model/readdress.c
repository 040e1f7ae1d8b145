/* src/model/readdress.c - the order in which a set is dressed.
 *
 * Owns     "dress" of a segment.
 * May use  base/, model/read; dishes, stations and beats of the segment have been read.
 */
#include "model/read.h"

#include <string.h>

#include "base/limits.h"

static bool is_dish(const bpi_segment *seg, const char *name)
{
    for (uint32_t i = 0; i < seg->dishes; i++)
        if (strcmp(seg->dish[i].id, name) == 0)
            return true;
    return false;
}

/* Where the segment has no stations, what its beats name are some. */
static bool is_station(const bpi_segment *seg, const char *name)
{
    for (uint32_t i = 0; i < seg->stations; i++)
        if (strcmp(seg->station[i].id, name) == 0)
            return true;
    for (uint32_t i = 0; i < seg->beats; i++)
        if (strcmp(seg->beat[i].station, name) == 0)
            return true;
    return false;
}

static void check_dressed(bpi_reader *r, const bpi_segment *seg, const bpi_node *e,
                          const char *const *list)
{
    const char *name = list[e->index];
    bool dish = is_dish(seg, name), station = is_station(seg, name);
    for (uint32_t i = 0; i < e->index; i++)
        if (strcmp(list[i], name) == 0) {
            bpi_read_wrong(r, BP_EVALUE, e->at, "name it once",
                           "\"dress\" of segment \"%s\" names \"%.60s\" twice", seg->id, name);
            return;
        }
    if (dish && station)
        bpi_read_wrong(r, BP_EVALUE, e->at, "give the station another name",
                       "\"%.60s\" is both a dish and a station of segment \"%s\"", name, seg->id);
    else if (!dish && !station && !r->dish.unread && !r->station.unread)
        bpi_read_wrong(r, BP_EVALUE, e->at, "name one of its dishes or stations",
                       "segment \"%s\" has no dish and no station \"%.60s\" to dress", seg->id,
                       name);
}

void bpi_read_dress(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_segment *seg = into;
    uint32_t n = 0;
    const char **list = BPI_READ_LIST(r, v, m->name, 1, BPI_MAX_LIST, const char *, &n);
    if (!list)
        return;
    for (const bpi_node *e = v->first; e; e = e->next) {
        const char *name = bpi_read_plain(r, e, m->name, m->low, m->high);
        list[e->index] = name ? name : "";
        if (name)
            check_dressed(r, seg, e, list);
    }
    seg->dress = list;
    seg->dresses = n;
    seg->dress_where = v->at;
}

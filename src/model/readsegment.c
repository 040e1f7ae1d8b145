/* src/model/readsegment.c - what is on air.
 *
 * Owns     "segments" of a show file: dishes, stations, cameras, who eats.
 * May use  base/, model/read; kitchen and recipes have been read.
 */
#include "model/read.h"

#include <inttypes.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"

#define HOUR  INT64_C(3600)
#define WORDS 120 /* bytes of a name */

/* ---- dishes -------------------------------------------------------------------------------- */

static void read_ratio(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_fault f = {0, "", ""};
    int64_t num = 0, den = 0;
    if (!bpi_read_is_text(r, v, m->name, "write it like \"1/2\" or \"1\""))
        return;
    if (!bpi_fraction_read(&num, &den, v->text, v->len, &f))
        bpi_read_fault(r, v, &f);
    else if (num > m->high * den || num * m->high < den)
        bpi_read_wrong(r, BP_ERANGE, v->at, "write a part of the recipe from 1/100 to 100",
                       "\"%s\" cannot be %s", m->name, v->text);
    else
        *(bpi_ratio *)(void *)((char *)into + m->field) = (bpi_ratio){(uint32_t)num, (uint32_t)den};
}

static void read_sizes(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    (void)m;
    static const bpi_member members[] = {
        {"raw", read_ratio, offsetof(bpi_dish, size[BPI_RAW]), NULL, 0, 100, 0, NULL},
        {"mid-cook", read_ratio, offsetof(bpi_dish, size[BPI_MID]), NULL, 0, 100, 0, NULL},
        {"finished", read_ratio, offsetof(bpi_dish, size[BPI_FINISHED]), NULL, 0, 100, 0, NULL},
    };
    bpi_read_object(r, into, v, "\"sizes\"", BPI_MEMBERS(members));
}

static void read_spares(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    (void)m;
    static const bpi_member members[] = {
        {"raw", bpi_read_count, offsetof(bpi_dish, spares[BPI_RAW]), NULL, 0, 8, 0, NULL},
        {"mid-cook", bpi_read_count, offsetof(bpi_dish, spares[BPI_MID]), NULL, 0, 8, 0, NULL},
        {"finished", bpi_read_count, offsetof(bpi_dish, spares[BPI_FINISHED]), NULL, 0, 8, 0, NULL},
    };
    bpi_read_object(r, into, v, "\"spares\"", BPI_MEMBERS(members));
}

static void read_dishes(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member members[] = {
        {"id", bpi_read_id, offsetof(bpi_dish, id), "\"id\": \"soup\"", 0, 0, 0, NULL},
        {"title", bpi_read_text, offsetof(bpi_dish, title), NULL, 1, WORDS, 0, NULL},
        {"recipe", NULL, 0, "\"recipe\": \"lentils\"", 0, 0, 0, NULL},
        {"sizes", read_sizes, 0, NULL, 0, 0, 0, NULL},
        {"spares", read_spares, 0, NULL, 0, 0, 0, NULL},
        {"lead", bpi_read_span_member, offsetof(bpi_dish, lead), NULL, 0, 4 * HOUR,
         offsetof(bpi_dish, lead_where), NULL},
        {"taste", bpi_read_flag, offsetof(bpi_dish, taste), NULL, 0, 0, 0, NULL},
    };
    bpi_segment *seg = into;
    char prefix[80];
    bpi_dish *list = BPI_READ_LIST(r, v, m->name, 1, BPI_MAX_LIST, bpi_dish, &seg->dishes);
    seg->dish = list;
    r->dish = bpi_read_ids(r, v, "dishes");
    if (!list)
        r->dish = (bpi_names){.unread = true};
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_dish *d = &list[e->index];
        *d = (bpi_dish){.size = {{1, 1}, {1, 1}, {1, 1}},
                        .lead = BPI_NO_TIME,
                        .taste = true,
                        .recipe = BPI_NO_INDEX,
                        .where = e->at,
                        .lead_where = seg->lead_where};
        bpi_read_object(r, d, e, "a dish", BPI_MEMBERS(members));
        const bpi_node *recipe = bpi_node_member(e, "recipe");
        if (!recipe)
            continue;
        snprintf(prefix, sizeof prefix, "dish \"%s\" is made by recipe", d->id);
        uint32_t k = bpi_read_ref(r, recipe, &r->recipe, prefix, "the show");
        d->recipe = k < r->recipe.n ? k : BPI_NO_INDEX;
        if (!d->title[0] && d->recipe != BPI_NO_INDEX)
            d->title = r->show->recipe[d->recipe].title;
    }
}

/* ---- stations and cameras ------------------------------------------------------------------ */

static void read_stations(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member members[] = {
        {"id", bpi_read_id, offsetof(bpi_station, id), "\"id\": \"stove\"", 0, 0, 0, NULL},
        {"walk", bpi_read_span_member, offsetof(bpi_station, walk), NULL, 0, 600, 0, NULL},
        {"room", bpi_read_count, offsetof(bpi_station, room), NULL, 0, BPI_MAX_SWAPS, 0, NULL},
    };
    bpi_segment *seg = into;
    bpi_station *list = BPI_READ_LIST(r, v, m->name, 1, BPI_MAX_LIST, bpi_station, &seg->stations);
    int64_t place = 0;
    seg->station = list;
    seg->stations_where = v->at;
    r->station = bpi_read_ids(r, v, "stations");
    if (!list)
        r->station = (bpi_names){.unread = true};
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_station *s = &list[e->index];
        *s = (bpi_station){.room = UINT32_MAX, .where = e->at};
        bpi_read_object(r, s, e, "a station", BPI_MEMBERS(members));
        if (e->index == 0 && bpi_node_member(e, "walk"))
            bpi_read_wrong(r, BP_EVALUE, bpi_node_member(e, "walk")->name_at, "take it out",
                           "the first station of the row has none before it to walk from");
        place += e->index ? s->walk : 0;
        s->place = place;
    }
}

static void read_cameras(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member members[] = {
        {"id", bpi_read_id, offsetof(bpi_camera, id), "\"id\": \"close-up\"", 0, 0, 0, NULL},
        {"move", bpi_read_span_member, offsetof(bpi_camera, move), NULL, 0, 600, 0, NULL},
    };
    bpi_segment *seg = into;
    bpi_camera *list = BPI_READ_LIST(r, v, m->name, 1, BPI_MAX_LIST, bpi_camera, &seg->cameras);
    seg->camera = list;
    r->camera = bpi_read_ids(r, v, "cameras");
    if (!list)
        r->camera = (bpi_names){.unread = true};
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        list[e->index] = (bpi_camera){.where = e->at};
        bpi_read_object(r, &list[e->index], e, "a camera", BPI_MEMBERS(members));
    }
}

/* ---- hosts and tasters ---------------------------------------------------------------------- */

/* A name, or {"name": "Ana", "allergies": ["milk"]}. */
static void read_eaters(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    typedef struct eater {
        const char *name;
        uint32_t allergies;
    } eater;
    static const bpi_member members[] = {
        {"name", bpi_read_text, offsetof(eater, name), "\"name\": \"Ana\"", 1, WORDS, 0, NULL},
        {"allergies", bpi_read_allergens, offsetof(eater, allergies), NULL, 0, 0, 0, NULL},
    };
    bpi_segment *seg = into;
    bool host = strcmp(m->name, "hosts") == 0;
    uint32_t n = 0;
    const char **name = BPI_READ_LIST(r, v, m->name, 0, BPI_MAX_LIST, const char *, &n);
    uint32_t *allergies = BPI_TAKE(r->a, n, uint32_t);
    if (!allergies)
        bpi_read_no_memory(r);
    if (!name || !allergies)
        return;
    for (const bpi_node *e = v->first; e; e = e->next) {
        eater x = {.name = ""};
        if (e->kind == BPI_OBJECT)
            bpi_read_object(r, &x, e, "who eats", BPI_MEMBERS(members));
        else
            x.name = bpi_read_plain(r, e, m->name, m->low, m->high);
        name[e->index] = x.name ? x.name : "";
        allergies[e->index] = x.allergies;
    }
    *(host ? &seg->host : &seg->taster) = name;
    *(host ? &seg->hosts : &seg->tasters) = n;
    *(host ? &seg->host_allergies : &seg->taster_allergies) = allergies;
}

static void read_answers(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_segment *seg = into;
    (void)m;
    seg->answer = bpi_read_answers(r, &seg->answers, v);
}

/* ---- drafting ------------------------------------------------------------------------------- */

static void read_draft(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member members[] = {
        {"swap-outs", bpi_read_count, offsetof(bpi_drafting, swaps), NULL, 1, BPI_MAX_SWAPS, 0,
         NULL},
        {"burners", bpi_read_count, offsetof(bpi_drafting, burners), NULL, 0, 64, 0, NULL},
        {"take", bpi_read_count, offsetof(bpi_drafting, take), NULL, 1, 9, 0, NULL},
    };
    bpi_segment *seg = into;
    if (bpi_node_member(v->parent, "beats"))
        bpi_read_wrong(r, BP_EVALUE, v->name_at, "take one of the two out",
                       "segment \"%s\" has its beats written and \"%s\" for drafting them", seg->id,
                       m->name);
    seg->draft.where = v->at;
    seg->draft.stated = bpi_read_object(r, &seg->draft, v, "\"draft\"", BPI_MEMBERS(members));
}

/* ---- segments ------------------------------------------------------------------------------- */

static void read_segment(bpi_reader *r, bpi_segment *seg, const bpi_node *node)
{
    static const bpi_member members[] = {
        {"id", bpi_read_id, offsetof(bpi_segment, id), "\"id\": \"main\"", 0, 0, 0, NULL},
        {"title", bpi_read_text, offsetof(bpi_segment, title),
         "\"title\": \"Two bowls for a cold morning\"", 1, WORDS, 0, NULL},
        {"slot", bpi_read_slot_member, offsetof(bpi_segment, slot), "\"slot\": \"4:25\"", 10,
         2 * HOUR, offsetof(bpi_segment, slot_where), NULL},
        {"hit", bpi_read_hits, 0, "\"hit\": \"08:24\"", 0, 0, 0, NULL},
        {"lead", bpi_read_span_member, offsetof(bpi_segment, lead), NULL, 0, 4 * HOUR,
         offsetof(bpi_segment, lead_where), NULL},
        {"reset", bpi_read_span_member, offsetof(bpi_segment, reset), NULL, 0, 4 * HOUR,
         offsetof(bpi_segment, reset_where), NULL},
        {"float", bpi_read_span_member, offsetof(bpi_segment, floats), NULL, 0, 2 * HOUR,
         offsetof(bpi_segment, floats_where), NULL},
        {"rehearsal", bpi_read_flag, offsetof(bpi_segment, rehearsal), NULL, 0, 0, 0, NULL},
        {"hands", bpi_read_count, offsetof(bpi_segment, hands), NULL, 0, BPI_MAX_COOKS,
         offsetof(bpi_segment, hands_where), NULL},
        {"pace", bpi_read_count, offsetof(bpi_segment, pace), NULL, 60, 300, 0, NULL},
        {"hosts", read_eaters, 0, NULL, 1, WORDS, 0, NULL},
        {"tasters", read_eaters, 0, NULL, 1, WORDS, 0, NULL},
        {"dishes", read_dishes, 0, "\"dishes\": [{\"id\": \"soup\", \"recipe\": \"lentils\"}]", 0,
         0, 0, NULL},
        {"stations", read_stations, 0, NULL, 0, 0, 0, NULL},
        {"cameras", read_cameras, 0, NULL, 0, 0, 0, NULL},
        {"beats", bpi_read_beats, 0, NULL, 0, 0, 0, NULL},
        {"dress", bpi_read_dress, 0, NULL, 1, WORDS, 0, NULL},
        {"teases", bpi_read_teases, 0, NULL, 0, 0, 0, NULL},
        {"answers", read_answers, 0, NULL, 0, 0, 0, NULL},
        {"draft", read_draft, 0, NULL, 0, 0, 0, NULL},
    };
    *seg = (bpi_segment){.lead = 300,
                         .draft = {.swaps = UINT32_MAX, .burners = UINT32_MAX, .take = 1},
                         .reset = 180,
                         .pace = 150,
                         .where = node->at,
                         .slot_where = node->at,
                         .lead_where = node->at,
                         .reset_where = node->at,
                         .floats_where = node->at,
                         .hands_where = node->at,
                         .dress_where = node->at};
    r->dish = r->beat = r->station = r->camera = (bpi_names){0};
    bpi_read_object(r, seg, node, "a segment", BPI_MEMBERS(members));
    uint32_t cooks = r->show->kitchen.cooks;
    if (cooks && seg->hands > cooks)
        bpi_read_wrong(r, BP_EVALUE, seg->hands_where, "write fewer, or add cooks",
                       "segment \"%s\" wants %" PRIu32 " hands on set, and there are %" PRIu32
                       " cooks",
                       seg->id, seg->hands, cooks);
}

/* Where beats are drafted, a step is shown at a station that the segment has. */
static void check_shown(bpi_reader *r, const bpi_segment *seg, const bpi_recipe *recipe)
{
    for (uint32_t s = 0; s < recipe->steps; s++) {
        const bpi_step *step = &recipe->step[s];
        bool there = !step->shown || !step->air_station[0];
        for (uint32_t i = 0; i < seg->stations && !there; i++)
            there = strcmp(seg->station[i].id, step->air_station) == 0;
        if (!there)
            bpi_read_wrong(r, BP_EVALUE, step->where, "name one of its stations",
                           "step \"%s\" is shown at station \"%.60s\", which segment \"%s\" does "
                           "not have",
                           step->id, step->air_station, seg->id);
    }
}

void bpi_read_segments(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_show *show = into;
    bpi_segment *list =
        BPI_READ_LIST(r, v, m->name, 1, BPI_MAX_SEGMENTS, bpi_segment, &show->segments);
    show->segment = list;
    bpi_read_ids(r, v, "segments");
    for (const bpi_node *e = v->first; e && list; e = e->next)
        read_segment(r, &list[e->index], e);
    for (uint32_t g = 0; g < show->segments; g++)
        for (uint32_t d = 0; d < list[g].dishes && list[g].beats == 0 && list[g].stations; d++)
            if (list[g].dish[d].recipe != BPI_NO_INDEX)
                check_shown(r, &list[g], &show->recipe[list[g].dish[d].recipe]);
    for (uint32_t b = 0; b < show->segments; b++)
        for (uint32_t a = 0; a <= b; a++)
            bpi_check_air(r, &list[a], &list[b]);
}

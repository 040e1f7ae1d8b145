/* src/model/readsegment.c - what is on air.
 *
 * Owns     "segments" of a show file: dishes, beats, hits, teases.
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

/* ---- beats --------------------------------------------------------------------------------- */

/* The dish of a beat, tease, ...; BPI_NO_INDEX: a mistake was added. */
static uint32_t dish_of(bpi_reader *r, const bpi_node *v, const char *prefix, const char *segment)
{
    char haver[80];
    snprintf(haver, sizeof haver, "segment \"%s\"", segment);
    uint32_t k = bpi_read_ref(r, v, &r->dish, prefix, haver);
    return k < r->dish.n ? k : BPI_NO_INDEX;
}

/* A step that is only for what is cooked ahead is no state of the dish. */
static bool may_be_left_out(bpi_reader *r, const bpi_node *v, const bpi_recipe *recipe, uint32_t k)
{
    bool out = k < recipe->steps && recipe->step[k].ahead != BPI_NO_INDEX;
    if (out)
        bpi_read_wrong(r, BP_EVALUE, v->at, "name the step that its \"ahead\" names",
                       "step \"%s\" is only for what is cooked ahead, and may be left out",
                       recipe->step[k].id);
    return out;
}

static void read_does(bpi_reader *r, bpi_beat *b, const bpi_node *v, const bpi_recipe *recipe,
                      const bpi_names *steps)
{
    char prefix[80], haver[80];
    snprintf(prefix, sizeof prefix, "beat \"%s\" does step", b->id);
    snprintf(haver, sizeof haver, "recipe \"%s\"", recipe->id);
    uint32_t n = 0;
    uint32_t *list = BPI_READ_LIST(r, v, "does", 1, BPI_MAX_STEPS, uint32_t, &n);
    if (!list)
        return;
    b->does = list;
    for (const bpi_node *e = v->first; e; e = e->next) {
        uint32_t k = bpi_read_ref(r, e, steps, prefix, haver);
        if (k >= recipe->steps || k >= steps->n || may_be_left_out(r, e, recipe, k))
            continue;
        for (uint32_t i = 0; i < b->does_n; i++)
            if (list[i] == k)
                bpi_read_wrong(r, BP_EVALUE, e->at, "write each step once",
                               "beat \"%s\" does step \"%s\" twice", b->id, steps->id[k]);
            else if (recipe->step[list[i]].before_all >> k & 1)
                bpi_read_wrong(r, BP_EVALUE, e->at, "write the steps in the order of the recipe",
                               "beat \"%s\" does step \"%s\" after \"%s\", which needs it first",
                               b->id, steps->id[k], steps->id[list[i]]);
        list[b->does_n++] = k;
    }
}

static void read_shows(bpi_reader *r, bpi_beat *b, const bpi_node *v, const bpi_recipe *recipe,
                       const bpi_names *steps)
{
    static const char right[] = "write \"raw\", \"finished\" or {\"after\": \"a step\"}";
    if (v->kind == BPI_OBJECT) {
        static const bpi_member members[] = {
            {"after", NULL, 0, "\"after\": \"simmer\"", 0, 0, 0, NULL}};
        char prefix[80], haver[80];
        bpi_read_object(r, b, v, "\"shows\"", BPI_MEMBERS(members));
        const bpi_node *after = bpi_node_member(v, "after");
        if (!after)
            return;
        snprintf(prefix, sizeof prefix, "beat \"%s\" shows the dish after step", b->id);
        snprintf(haver, sizeof haver, "recipe \"%s\"", recipe->id);
        uint32_t k = bpi_read_ref(r, after, steps, prefix, haver);
        b->shows = BPI_SHOWS_AFTER;
        b->after = k < steps->n && !may_be_left_out(r, after, recipe, k) ? k : 0;
    } else if (bpi_node_is(v, "raw")) {
        b->shows = BPI_SHOWS_RAW;
    } else if (bpi_node_is(v, "finished")) {
        b->shows = BPI_SHOWS_FINISHED;
    } else if (v->kind == BPI_STRING) {
        bpi_read_wrong(r, BP_EVALUE, v->at, right, "\"shows\" cannot be \"%s\"", v->text);
    } else {
        bpi_read_wrong(r, BP_EVALUE, v->at, right, "\"shows\" cannot be %s",
                       bpi_kind_text(v->kind));
    }
}

static void read_action(bpi_reader *r, bpi_beat *b, const bpi_node *node, const bpi_segment *seg)
{
    const bpi_node *dish = bpi_node_member(node, "dish"), *does = bpi_node_member(node, "does");
    const bpi_node *shows = bpi_node_member(node, "shows");
    char prefix[80];
    if (does && shows)
        bpi_read_wrong(r, BP_EVALUE, shows->name_at, "keep one, or make two beats of it",
                       "beat \"%s\" has \"does\" and \"shows\"", b->id);
    if (!dish) {
        if (does || shows)
            bpi_read_wrong(r, BP_EVALUE, (does ? does : shows)->name_at, "add \"dish\"",
                           "beat \"%s\" does not say of which dish", b->id);
        return;
    }
    snprintf(prefix, sizeof prefix, "beat \"%s\" is about dish", b->id);
    b->dish = dish_of(r, dish, prefix, seg->id);
    uint32_t k = b->dish == BPI_NO_INDEX ? BPI_NO_INDEX : seg->dish[b->dish].recipe;
    if (k == BPI_NO_INDEX)
        return;
    if (does) {
        b->shows = BPI_SHOWS_STEPS;
        read_does(r, b, does, &r->show->recipe[k], &r->recipe_steps[k]);
    } else if (shows) {
        read_shows(r, b, shows, &r->show->recipe[k], &r->recipe_steps[k]);
    }
}

static void read_needs(bpi_reader *r, bpi_beat *b, const bpi_node *v, const bpi_segment *seg,
                       uint32_t self)
{
    char prefix[80], haver[80];
    uint32_t n = 0;
    snprintf(prefix, sizeof prefix, "beat \"%s\" needs beat", b->id);
    snprintf(haver, sizeof haver, "segment \"%s\"", seg->id);
    if (!bpi_read_list(r, v, "needs", 0, BPI_MAX_BEATS, 1, &n))
        return;
    for (const bpi_node *e = v->first; e; e = e->next) {
        uint32_t k = bpi_read_ref(r, e, &r->beat, prefix, haver);
        if (k == self && k < r->beat.n)
            bpi_read_wrong(r, BP_EVALUE, e->at, "take it out", "beat \"%s\" needs itself", b->id);
        else if (k < r->beat.n)
            b->needs |= UINT64_C(1) << k;
    }
}

static void read_beside(bpi_reader *r, bpi_beat *b, const bpi_node *v, const bpi_segment *seg)
{
    char prefix[80];
    uint32_t n = 0;
    snprintf(prefix, sizeof prefix, "beat \"%s\" stands beside dish", b->id);
    uint32_t *list = BPI_READ_LIST(r, v, "beside", 1, BPI_MAX_LIST, uint32_t, &n);
    b->beside = list;
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        uint32_t k = dish_of(r, e, prefix, seg->id);
        if (k == BPI_NO_INDEX)
            continue;
        for (uint32_t i = 0; i < b->besides; i++)
            if (list[i] == k)
                bpi_read_wrong(r, BP_EVALUE, e->at, "write each dish once",
                               "beat \"%s\" stands beside dish \"%s\" twice", b->id,
                               seg->dish[k].id);
        list[b->besides++] = k;
    }
}

/* ---- stations -------------------------------------------------------------------------------- */

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

/* Where a segment has stations, each of its beats is at one. */
static void read_at(bpi_reader *r, bpi_beat *b, const bpi_node *node, const bpi_segment *seg)
{
    char prefix[80], haver[80];
    const bpi_node *at = bpi_node_member(node, "station");
    if (!seg->station)
        return;
    if (!at) {
        bpi_read_wrong(r, BP_EVALUE, node->at, "add \"station\"",
                       "beat \"%s\" does not say at which station", b->id);
        return;
    }
    snprintf(prefix, sizeof prefix, "beat \"%s\" is at station", b->id);
    snprintf(haver, sizeof haver, "segment \"%s\"", seg->id);
    uint32_t k = bpi_read_ref(r, at, &r->station, prefix, haver);
    b->at = k < seg->stations ? k : BPI_NO_INDEX;
}

static void read_beats(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member members[] = {
        {"id", bpi_read_id, offsetof(bpi_beat, id), "\"id\": \"hello\"", 0, 0, 0, NULL},
        {"text", bpi_read_text, offsetof(bpi_beat, text), "\"text\": \"Welcome\"", 1, BPI_MAX_TEXT,
         0, NULL},
        {"time", bpi_read_length, offsetof(bpi_beat, time), "\"time\": \"20-40 s\"", 1, HOUR, 0,
         NULL},
        {"dish", NULL, 0, NULL, 0, 0, 0, NULL},
        {"does", NULL, 0, NULL, 0, 0, 0, NULL},
        {"shows", NULL, 0, NULL, 0, 0, 0, NULL},
        {"words", bpi_read_text, offsetof(bpi_beat, words), NULL, 0, BPI_MAX_TEXT, 0, NULL},
        {"worth", bpi_read_count, offsetof(bpi_beat, worth), NULL, 0, 100, 0, NULL},
        {"keep", bpi_read_flag, offsetof(bpi_beat, keep), NULL, 0, 0, 0, NULL},
        {"needs", NULL, 0, NULL, 0, 0, 0, NULL},
        {"beside", NULL, 0, NULL, 0, 0, 0, NULL},
        {"station", bpi_read_text, offsetof(bpi_beat, station), NULL, 0, WORDS, 0, NULL},
        {"taste", bpi_read_flag, offsetof(bpi_beat, taste), NULL, 0, 0, 0, NULL},
        {"graphics", bpi_read_graphics, 0, NULL, 0, 0, 0, NULL},
        {"supers", bpi_read_flag, offsetof(bpi_beat, supers), NULL, 0, 0, 0, NULL},
        {"claims", NULL, 0, NULL, 0, 0, 0, NULL},
    };
    bpi_segment *seg = into;
    bpi_beat *list = BPI_READ_LIST(r, v, m->name, 1, BPI_MAX_BEATS, bpi_beat, &seg->beats);
    seg->beat = list;
    r->beat = bpi_read_ids(r, v, "beats");
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_beat *b = &list[e->index];
        *b = (bpi_beat){.dish = BPI_NO_INDEX, .at = BPI_NO_INDEX, .worth = 10, .where = e->at};
        if (!bpi_read_object(r, b, e, "a beat", BPI_MEMBERS(members)))
            continue;
        if (b->time.window)
            b->time.likely = (b->time.least + b->time.most) / 2;
        read_action(r, b, e, seg);
        read_at(r, b, e, seg);
        const bpi_node *needs = bpi_node_member(e, "needs");
        if (needs)
            read_needs(r, b, needs, seg, e->index);
        const bpi_node *beside = bpi_node_member(e, "beside");
        if (beside)
            read_beside(r, b, beside, seg);
        const bpi_node *claims = bpi_node_member(e, "claims");
        if (claims)
            bpi_read_claims(r, b, claims, seg);
        if (b->supers && b->does_n == 0)
            bpi_read_wrong(r, BP_EVALUE, bpi_node_member(e, "supers")->at,
                           "add \"does\", or write the lines as \"graphics\"",
                           "beat \"%s\" does nothing that ingredients go into", b->id);
    }
}

/* ---- hits and teases ------------------------------------------------------------------------ */

static void read_hits(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
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
        if (t->at >= hit && t->at < hit + seg->slot) {
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

static void read_teases(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
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
            t->dish = dish_of(r, dish, "a tease shows dish", seg->id);
        check_tease(r, seg, t);
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
        {"hit", read_hits, 0, "\"hit\": \"08:24\"", 0, 0, 0, NULL},
        {"lead", bpi_read_span_member, offsetof(bpi_segment, lead), NULL, 0, 4 * HOUR,
         offsetof(bpi_segment, lead_where), NULL},
        {"reset", bpi_read_span_member, offsetof(bpi_segment, reset), NULL, 0, 4 * HOUR,
         offsetof(bpi_segment, reset_where), NULL},
        {"hands", bpi_read_count, offsetof(bpi_segment, hands), NULL, 0, BPI_MAX_COOKS,
         offsetof(bpi_segment, hands_where), NULL},
        {"pace", bpi_read_count, offsetof(bpi_segment, pace), NULL, 60, 300, 0, NULL},
        {"hosts", read_eaters, 0, NULL, 1, WORDS, 0, NULL},
        {"tasters", read_eaters, 0, NULL, 1, WORDS, 0, NULL},
        {"dishes", read_dishes, 0, "\"dishes\": [{\"id\": \"soup\", \"recipe\": \"lentils\"}]", 0,
         0, 0, NULL},
        {"stations", read_stations, 0, NULL, 0, 0, 0, NULL},
        {"beats", read_beats, 0, NULL, 0, 0, 0, NULL},
        {"teases", read_teases, 0, NULL, 0, 0, 0, NULL},
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
                         .hands_where = node->at};
    r->dish = r->beat = r->station = (bpi_names){0};
    bpi_read_object(r, seg, node, "a segment", BPI_MEMBERS(members));
    uint32_t cooks = r->show->kitchen.cooks;
    if (cooks && seg->hands > cooks)
        bpi_read_wrong(r, BP_EVALUE, seg->hands_where, "write fewer, or add cooks",
                       "segment \"%s\" wants %" PRIu32 " hands on set, and there are %" PRIu32
                       " cooks",
                       seg->id, seg->hands, cooks);
}

/* Two segments, or two hits of one, cannot be on air at once. */
static void check_air(bpi_reader *r, const bpi_segment *a, const bpi_segment *b)
{
    for (uint32_t i = 0; i < a->hits; i++)
        for (uint32_t k = 0; k < b->hits; k++) {
            int64_t from = a->hit[i].at, other = b->hit[k].at;
            if (from == BPI_NO_TIME || other == BPI_NO_TIME || (a == b && k <= i))
                continue;
            if (from == other || (from < other ? from + a->slot > other : other + b->slot > from))
                bpi_read_wrong(r, BP_EVALUE, b->hit[k].where, "write times that are apart",
                               a == b ? "segment \"%s\" is hit again while it is on air"
                                      : "segment \"%s\" is on air together with segment \"%s\"",
                               b->id, a->id);
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
    for (uint32_t b = 0; b < show->segments; b++)
        for (uint32_t a = 0; a <= b; a++)
            check_air(r, &list[a], &list[b]);
}

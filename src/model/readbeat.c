/* src/model/readbeat.c - what happens on camera.
 *
 * Owns     "beats" of a segment.
 * May use  base/, model/read; the segment's dishes, stations and cameras have been read.
 */
#include "model/read.h"

#include <stddef.h>
#include <stdio.h>

#include "base/limits.h"

#define HOUR  INT64_C(3600)
#define WORDS 120 /* bytes of a name */

uint32_t bpi_read_dish(bpi_reader *r, const bpi_node *v, const char *prefix, const char *segment)
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
    b->dish = bpi_read_dish(r, dish, prefix, seg->id);
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
        uint32_t k = bpi_read_dish(r, e, prefix, seg->id);
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

/* Where a segment has cameras, the one that a beat names is one of them; it need not name one. */
static void read_camera(bpi_reader *r, bpi_beat *b, const bpi_node *node, const bpi_segment *seg)
{
    char prefix[80], haver[80];
    const bpi_node *camera = bpi_node_member(node, "camera");
    if (!camera || !seg->camera)
        return;
    snprintf(prefix, sizeof prefix, "beat \"%s\" is on camera", b->id);
    snprintf(haver, sizeof haver, "segment \"%s\"", seg->id);
    uint32_t k = bpi_read_ref(r, camera, &r->camera, prefix, haver);
    b->camera_at = k < seg->cameras ? k : BPI_NO_INDEX;
}

/* What it takes up beside the tools of its steps goes with the container that it works with. */
static void read_gear(bpi_reader *r, bpi_beat *b, const bpi_node *node)
{
    static const char *const names[] = {"tools", "vessels"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const bpi_node *v = bpi_node_member(node, names[i]);
        if (!v)
            continue;
        bpi_read_tool_names(r, &b->tool, &b->tools, v, "beat", b->id);
        if (b->shows == BPI_SHOWS_NOTHING)
            bpi_read_wrong(
                r, BP_EVALUE, v->name_at,
                "add \"does\" or \"shows\"; what goes with no dish is one of \"supplies\"",
                "beat \"%s\" has \"%s\" and works with no dish", b->id, names[i]);
    }
}

static void read_supplies(bpi_reader *r, bpi_beat *b, const bpi_node *v)
{
    char prefix[80];
    uint32_t n = 0;
    snprintf(prefix, sizeof prefix, "beat \"%s\" uses supply", b->id);
    uint32_t *list = BPI_READ_LIST(r, v, "supplies", 1, BPI_MAX_LIST, uint32_t, &n);
    b->supply = list;
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        uint32_t k = bpi_read_ref(r, e, &r->supply, prefix, "\"supplies\"");
        if (k < r->show->supplies && r->show->supply[k].per == BPI_PER_STRIKE)
            bpi_read_wrong(r, BP_EVALUE, e->at, "name another, or write \"per\": \"beat\" there",
                           "beat \"%s\" uses \"%.60s\", which is for clearing the set", b->id,
                           r->show->supply[k].item);
        bool twice = false;
        if (k >= r->supply.n)
            continue;
        for (uint32_t i = 0; i < b->supplies; i++)
            twice |= list[i] == k;
        if (twice)
            bpi_read_wrong(r, BP_EVALUE, e->at, "write each once, and how many in \"supplies\"",
                           "beat \"%s\" uses supply \"%s\" twice", b->id, e->text);
        else
            list[b->supplies++] = k;
    }
}

void bpi_read_beats(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
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
        {"camera", bpi_read_text, offsetof(bpi_beat, camera), NULL, 0, WORDS, 0, NULL},
        {"taste", bpi_read_flag, offsetof(bpi_beat, taste), NULL, 0, 0, 0, NULL},
        {"graphics", bpi_read_graphics, 0, NULL, 0, 0, 0, NULL},
        {"supers", bpi_read_flag, offsetof(bpi_beat, supers), NULL, 0, 0, 0, NULL},
        {"claims", NULL, 0, NULL, 0, 0, 0, NULL},
        {"tools", NULL, 0, NULL, 0, 0, 0, NULL},
        {"vessels", NULL, 0, NULL, 0, 0, 0, NULL},
        {"supplies", NULL, 0, NULL, 0, 0, 0, NULL},
    };
    bpi_segment *seg = into;
    bpi_beat *list = BPI_READ_LIST(r, v, m->name, 1, BPI_MAX_BEATS, bpi_beat, &seg->beats);
    seg->beat = list;
    r->beat = bpi_read_ids(r, v, "beats");
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_beat *b = &list[e->index];
        *b = (bpi_beat){.dish = BPI_NO_INDEX,
                        .at = BPI_NO_INDEX,
                        .camera_at = BPI_NO_INDEX,
                        .worth = 10,
                        .where = e->at};
        if (!bpi_read_object(r, b, e, "a beat", BPI_MEMBERS(members)))
            continue;
        if (b->time.window)
            b->time.likely = (b->time.least + b->time.most) / 2;
        read_action(r, b, e, seg);
        read_at(r, b, e, seg);
        read_camera(r, b, e, seg);
        const bpi_node *needs = bpi_node_member(e, "needs");
        if (needs)
            read_needs(r, b, needs, seg, e->index);
        const bpi_node *beside = bpi_node_member(e, "beside");
        if (beside)
            read_beside(r, b, beside, seg);
        read_gear(r, b, e);
        const bpi_node *supplies = bpi_node_member(e, "supplies");
        if (supplies)
            read_supplies(r, b, supplies);
        const bpi_node *claims = bpi_node_member(e, "claims");
        if (claims)
            bpi_read_claims(r, b, claims, seg);
        if (b->supers && b->does_n == 0)
            bpi_read_wrong(r, BP_EVALUE, bpi_node_member(e, "supers")->at,
                           "add \"does\", or write the lines as \"graphics\"",
                           "beat \"%s\" does nothing that ingredients go into", b->id);
    }
}

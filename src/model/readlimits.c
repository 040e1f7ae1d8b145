/* src/model/readlimits.c - sets of safety limits, and what a show says of its food safety.
 *
 * Owns     the form of a set (model/limitset.h), and "safety" of a show file.
 * May use  base/, model/read, model/partfile.
 */
#include "model/read.h"

#include <inttypes.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"
#include "base/near.h"
#include "model/limitset.h"
#include "model/partfile.h"

#define WORDS 160 /* bytes of a rule or a source */
#define DAY   INT64_C(86400)

static const struct {
    const char *name;
    bool temp, time, optional;
} limits[BPI_LIMITS] = {
#define ROW(number, name, temp, time, optional) [number] = {name, temp, time, optional},
    BPI_LIMIT_NAMES(ROW)
#undef ROW
};

/* One row while it is read. */
typedef struct entry {
    bpi_limit limit;
    bpi_limit_id id;
} entry;

static bool read_row(bpi_reader *r, entry *e, const bpi_node *node)
{
    bpi_word words[BPI_LIMITS + 1] = {{NULL, 0}};
    for (int i = 0; i < BPI_LIMITS; i++)
        words[i] = (bpi_word){limits[i].name, i};
    const bpi_member members[] = {
        {"limit", bpi_read_word, offsetof(entry, id), "\"limit\": \"hold hot\"", 0, 0, 0, words},
        {"celsius", bpi_read_temperature, offsetof(entry, limit.celsius), NULL, -40000, 120000, 0,
         NULL},
        {"fahrenheit", bpi_read_temperature, offsetof(entry, limit.fahrenheit), NULL, -40000,
         120000, 0, NULL},
        {"time", bpi_read_span_member, offsetof(entry, limit.seconds), NULL, 1, 7 * DAY, 0, NULL},
        {"rule", bpi_read_text, offsetof(entry, limit.rule), "\"rule\": \"By-law 12, 4\"", 1, WORDS,
         0, NULL},
        {"source", bpi_read_text, offsetof(entry, limit.source),
         "\"source\": \"the by-law as posted in 2026\"", 1, 2 * WORDS, 0, NULL},
    };
    bp_code before = r->code;
    e->limit.celsius = e->limit.fahrenheit = BPI_NO_TEMP;
    if (!bpi_read_object(r, e, node, "a row", BPI_MEMBERS(members)) || r->code != before)
        return false;
    bpi_limit *l = &e->limit;
    if (l->celsius == BPI_NO_TEMP)
        l->celsius = l->fahrenheit;
    if (l->fahrenheit == BPI_NO_TEMP)
        l->fahrenheit = l->celsius;
    if (limits[e->id].temp && l->celsius == BPI_NO_TEMP)
        bpi_read_wrong(r, BP_EVALUE, node->at, "add \"celsius\": \"60 C\"",
                       "limit \"%s\" states no temperature", limits[e->id].name);
    if (limits[e->id].time && l->seconds == 0)
        bpi_read_wrong(r, BP_EVALUE, node->at, "add \"time\": \"2 h\"",
                       "limit \"%s\" states no time", limits[e->id].name);
    return true;
}

/* The rows of one limit stand together, in the order of the file; they take the place of the base's. */
static void sort_in(bpi_limits *out, bpi_limit *place, const entry *e, uint32_t n)
{
    for (bpi_limit_id id = 0; id < BPI_LIMITS; id++) {
        uint32_t own = 0;
        for (uint32_t i = 0; i < n; i++)
            if (e[i].id == id)
                place[own++] = e[i].limit;
        if (own) {
            out->row[id] = place;
            out->rows[id] = own;
        }
        place += own;
    }
}

static void read_rows(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_limits *out = into;
    uint32_t n = 0;
    entry *list = BPI_READ_LIST(r, v, m->name, 0, BPI_MAX_LIST, entry, &n);
    bpi_limit *row = BPI_TAKE(r->a, n, bpi_limit);
    if (!row)
        bpi_read_no_memory(r);
    bool good = list && row;
    for (const bpi_node *e = v->first; e && list; e = e->next)
        good = read_row(r, &list[e->index], e) && good;
    if (good)
        sort_in(out, row, list, n);
}

static void read_version(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    (void)into;
    (void)m;
    if (v->kind == BPI_NUMBER && v->whole && v->integer > 1)
        bpi_read_wrong(r, BP_EVALUE, v->at, "use the backpot that they were written for",
                       "these limits are of version %" PRId64
                       ", newer than this program, which reads version 1",
                       v->integer);
    else if (v->kind != BPI_NUMBER || !v->whole || v->integer != 1)
        bpi_read_wrong(r, BP_EVALUE, v->at, "write \"backpot_limits\": 1",
                       "this version of the format is not known");
}

static const bpi_limits *built_in(bpi_reader *r, const char *name);

/* The built-in set that a text names; NULL: a mistake was added. */
static const char *name_of_set(bpi_reader *r, const bpi_node *v)
{
    char right[100] = "write \"" BPI_LIMITS_DEFAULT "\"";
    bpi_near near = bpi_near_to(v->text, v->len);
    for (uint32_t i = 0; i < bpi_limit_file_count; i++) {
        if (strcmp(bpi_limit_files[i].name, v->text) == 0)
            return bpi_limit_files[i].name;
        bpi_near_offer(&near, bpi_limit_files[i].name);
    }
    if (near.name)
        snprintf(right, sizeof right, "did you mean \"%s\"?", near.name);
    bpi_read_wrong(r, BP_EVALUE, v->at, right, "no set of limits is called \"%s\"", v->text);
    return NULL;
}

/* One deep: a built-in set may stand on another, a file on a built-in one. */
static void read_base(bpi_reader *r, bpi_limits *out, const bpi_node *v)
{
    if (!bpi_read_is_text(r, v, "base", "write the name of a built-in set"))
        return;
    const char *name = name_of_set(r, v);
    const bpi_limits *base = name ? built_in(r, name) : NULL;
    if (base)
        *out = *base;
}

static const bpi_limits *limits_of(bpi_reader *r, const bpi_node *doc)
{
    static const bpi_member members[] = {
        {"backpot_limits", read_version, 0, "\"backpot_limits\": 1", 0, 0, 0, NULL},
        {"id", bpi_read_id, offsetof(bpi_limits, id), "\"id\": \"harbour-town\"", 0, 0, 0, NULL},
        {"title", bpi_read_text, offsetof(bpi_limits, title), "\"title\": \"By-law 12\"", 1, 120, 0,
         NULL},
        {"rows", read_rows, 0, "\"rows\": [ ... ]", 0, 0, 0, NULL},
        {"base", NULL, 0, NULL, 0, 0, 0, NULL},
    };
    bpi_limits *out = BPI_TAKE(r->a, 1, bpi_limits);
    if (!out) {
        bpi_read_no_memory(r);
        return NULL;
    }
    bp_code before = r->code;
    const bpi_node *base = bpi_node_member(doc, "base");
    if (base)
        read_base(r, out, base);
    bpi_read_object(r, out, doc, "a set of limits", BPI_MEMBERS(members));
    if (r->code != before)
        return NULL;
    for (int id = 0; id < BPI_LIMITS; id++)
        if (out->rows[id] == 0 && !limits[id].optional)
            bpi_read_wrong(r, BP_EVALUE, doc->at,
                           "add a row, or \"base\": \"" BPI_LIMITS_DEFAULT "\"",
                           "the set has no row of limit \"%s\"", limits[id].name);
    return r->code == before ? out : NULL;
}

static const bpi_limits *built_in(bpi_reader *r, const char *name)
{
    for (uint32_t i = 0; i < bpi_limit_file_count; i++) {
        const bpi_limit_file *f = &bpi_limit_files[i];
        bpi_node *doc = NULL;
        if (strcmp(f->name, name) != 0)
            continue;
        bp_code code = bpi_json_read(&doc, r->a, name, (const char *)f->bytes, f->len, r->errs);
        if (code == BP_OK)
            return limits_of(r, doc);
        if (code == BP_ENOMEM)
            bpi_read_no_memory(r);
        else if (r->code == BP_OK)
            r->code = code;
    }
    return NULL;
}

/* ---- "safety" of a show -------------------------------------------------------------------- */

static void read_limits(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_show *show = into;
    size_t end = strlen(".json");
    if (!bpi_read_is_text(r, v, m->name, "write \"" BPI_LIMITS_DEFAULT "\""))
        return;
    if (v->len > end && strcmp(v->text + v->len - end, ".json") == 0) {
        const bpi_node *doc =
            bpi_part_file(r, v, m->name, "limits",
                          "write a path inside the folder of the show, such as \"limits.json\"");
        if (doc)
            show->limits = limits_of(r, doc);
        return;
    }
    const char *name = name_of_set(r, v);
    if (name)
        show->limits = built_in(r, name);
}

/* Where a dish of this id is, in any segment. */
static void check_dish(bpi_reader *r, const bpi_node *v, const bpi_show *show)
{
    char right[100] = "write the id of a dish of some segment";
    bpi_near near = bpi_near_to(v->text, v->len);
    for (uint32_t s = 0; s < show->segments; s++)
        for (uint32_t d = 0; d < show->segment[s].dishes; d++) {
            const char *id = show->segment[s].dish[d].id;
            if (!id || strcmp(id, v->text) == 0)
                return; /* or it could not be read, which was said */
            bpi_near_offer(&near, id);
        }
    if (near.name)
        snprintf(right, sizeof right, "did you mean \"%s\"?", near.name);
    bpi_read_wrong(r, BP_EVALUE, v->at, right, "no segment has a dish \"%s\"", v->text);
}

static void read_accept(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_word stages[] = {
        {"raw", BPI_RAW}, {"mid-cook", BPI_MID}, {"finished", BPI_FINISHED}, {NULL, 0}};
    static const bpi_member members[] = {
        {"rule", bpi_read_text, offsetof(bpi_accept, rule), "\"rule\": \"3-501.19(B)\"", 1, WORDS,
         0, NULL},
        {"dish", bpi_read_id, offsetof(bpi_accept, dish), "\"dish\": \"soup\"", 0, 0, 0, NULL},
        {"stage", bpi_read_word, offsetof(bpi_accept, stage), NULL, 0, 0, 0, stages},
        {"by", bpi_read_text, offsetof(bpi_accept, by), "\"by\": \"Ines Faro, kitchen manager\"", 1,
         WORDS, 0, NULL},
        {"why", bpi_read_text, offsetof(bpi_accept, why), "\"why\": \"written procedure 7\"", 1,
         BPI_MAX_TEXT, 0, NULL},
    };
    bpi_show *show = into;
    bpi_accept *list = BPI_READ_LIST(r, v, m->name, 0, BPI_MAX_LIST, bpi_accept, &show->accepts);
    show->accept = list;
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        list[e->index] = (bpi_accept){.stage = BPI_STAGES, .where = e->at};
        bpi_read_object(r, &list[e->index], e, "an acceptance", BPI_MEMBERS(members));
        const bpi_node *dish = bpi_node_member(e, "dish");
        if (dish && dish->kind == BPI_STRING && list[e->index].dish[0])
            check_dish(r, dish, show);
    }
}

void bpi_read_safety(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_word laws[] = {{"US", BPI_LAW_US}, {"EU", BPI_LAW_EU}, {NULL, 0}};
    static const bpi_member members[] = {
        {"limits", read_limits, 0, NULL, 0, 0, 0, NULL},
        {"allergens", bpi_read_word, offsetof(bpi_show, law), NULL, 0, 0, 0, laws},
        {"accept", read_accept, 0, NULL, 0, 0, 0, NULL},
    };
    (void)m;
    bpi_read_object(r, into, v, "\"safety\"", BPI_MEMBERS(members));
}

void bpi_read_default_limits(bpi_reader *r, bpi_show *show)
{
    if (!show->limits)
        show->limits = built_in(r, BPI_LIMITS_DEFAULT);
}

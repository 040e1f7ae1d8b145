/* src/model/open.c - the public way into a show: from a file or from memory, whole or not at all.
 *
 * Owns     the top of the show file, the order in which its parts are read, and the order in which
 *          mistakes are told.
 * May use  base/, model/read.
 */
#include "backpot/show.h"

#include <inttypes.h>
#include <stddef.h>
#include <string.h>

#include "base/digest.h"
#include "base/file.h"
#include "base/limits.h"
#include "base/memory.h"
#include "model/read.h"

static void read_version(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    (void)into;
    (void)m;
    if (v->kind == BPI_NUMBER && v->whole && v->integer > BP_SHOW_FORMAT)
        bpi_read_wrong(r, BP_EVALUE, v->at, "use the backpot that it was written for",
                       "this show file is of version %" PRId64
                       ", newer than this program, which reads version %d",
                       v->integer, BP_SHOW_FORMAT);
    else if (v->kind != BPI_NUMBER || !v->whole || v->integer != BP_SHOW_FORMAT)
        bpi_read_wrong(r, BP_EVALUE, v->at, "write \"backpot\": 1",
                       "this version of the format is not known");
}

static void read_zone(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_zone **zone = into;
    if (!bpi_read_is_text(r, v, m->name, "write it like \"Europe/Lisbon\""))
        return;
    bp_code code = bpi_zone_open(zone, r->a, v->text, v->len);
    if (code == BP_ENOMEM)
        bpi_read_no_memory(r);
    else if (code != BP_OK)
        bpi_read_wrong(r, BP_EVALUE, v->at, "write an IANA name such as \"Europe/Lisbon\"",
                       "time zone \"%s\" is not known", v->text);
}

/* Date and zone make the clock; both are read first, so that every clock time can be placed. */
static void read_clock(bpi_reader *r, const bpi_node *doc)
{
    const bpi_node *zone = bpi_node_member(doc, "zone"), *date = bpi_node_member(doc, "date");
    const bpi_member as_zone = {.name = "zone"};
    bpi_zone *z = NULL;
    bpi_date day = {0, 0, 0};
    if (zone)
        read_zone(r, &z, zone, &as_zone);
    if (!date || !bpi_read_is_text(r, date, "date", "write it like \"2026-12-03\""))
        return;
    if (!bpi_civil_read(&day, date->text, date->len)) {
        bpi_read_wrong(r, BP_EVALUE, date->at, "write it like \"2026-12-03\"",
                       "\"%s\" is not a date", date->text);
        return;
    }
    if (day.year < BPI_MIN_YEAR || day.year > BPI_MAX_YEAR) {
        bpi_read_wrong(r, BP_ERANGE, date->at, "write a date from 1970 to 2037",
                       "the clock changes of the year %d are not known", (int)day.year);
        return;
    }
    if (!z)
        return;
    r->show->zone_name = bpi_zone_name(z);
    r->clock_set = bpi_clock_init(&r->show->clock, z, day);
    if (!r->clock_set)
        bpi_read_wrong(r, BP_EVALUE, date->at, "write a date that the zone has",
                       "%s has no %s: the calendar skips it", r->show->zone_name, date->text);
}

static void read_document(bpi_reader *r, const bpi_node *doc)
{
    static const bpi_word papers[] = {{"A4", BPI_A4}, {"Letter", BPI_LETTER}, {NULL, 0}};
    static const bpi_member members[] = {
        {"backpot", read_version, 0, "\"backpot\": 1", 0, 0, 0, NULL},
        {"$schema", bpi_read_ignored, 0, NULL, 0, 0, 0, NULL},
        {"id", bpi_read_id, offsetof(bpi_show, id), "\"id\": \"harbour-breakfast\"", 0, 0, 0, NULL},
        {"title", bpi_read_text, offsetof(bpi_show, title), "\"title\": \"Harbour Breakfast\"", 1,
         120, 0, NULL},
        {"date", NULL, 0, "\"date\": \"2026-12-03\"", 0, 0, 0, NULL},
        {"zone", NULL, 0, "\"zone\": \"Europe/Lisbon\"", 0, 0, 0, NULL},
        {"paper", bpi_read_word, offsetof(bpi_show, paper), NULL, 0, 0, 0, papers},
        {"alarm", bpi_read_span_member, offsetof(bpi_show, alarm), NULL, 0, 86400, 0, NULL},
        {"kitchen", bpi_read_kitchen, offsetof(bpi_show, kitchen), "\"kitchen\": { ... }", 0, 0, 0,
         NULL},
        {"recipes", bpi_read_recipes, 0, "\"recipes\": [ ... ]", 0, 0, 0, NULL},
        {"supplies", bpi_read_supplies, 0, NULL, 0, 0, 0, NULL},
        {"segments", bpi_read_segments, 0, "\"segments\": [ ... ]", 0, 0, 0, NULL},
        {"safety", bpi_read_safety, 0, NULL, 0, 0, 0, NULL},
        {"pantry", bpi_read_pantry, 0, NULL, 0, 0, 0, NULL},
    };
    r->show->alarm = 300;
    r->show->paper = BPI_A4;
    r->show->zone_name = "";
    read_clock(r, doc);
    bpi_read_object(r, r->show, doc, "a show", BPI_MEMBERS(members));
    if (!bpi_node_member(bpi_node_member(doc, "safety"), "limits"))
        bpi_read_default_limits(r, r->show);
}

/* Is b to be told before a? Mistakes of one file go by place; files stay as they were met. */
static bool goes_before(const bp_error *b, const bp_error *a)
{
    return strcmp(a->file, b->file) == 0 &&
           (b->line < a->line || (b->line == a->line && b->col < a->col));
}

/* Parts are read in the order in which they need each other; people read from top to bottom. */
static void sort_errors(bp_errors *errs, uint32_t from)
{
    for (uint32_t i = from + 1; i < errs->n; i++)
        for (uint32_t k = i; k > from && goes_before(&errs->item[k], &errs->item[k - 1]); k--) {
            bp_error other = errs->item[k];
            errs->item[k] = errs->item[k - 1];
            errs->item[k - 1] = other;
        }
}

static bp_code read_into(bpi_reader *r, const char *text, size_t len)
{
    bpi_node *doc = NULL;
    uint32_t from = r->errs ? r->errs->n : 0, more = r->errs ? r->errs->more : 0;
    bp_code code = bpi_json_read(&doc, r->a, r->file, text, len, r->errs);
    if (code != BP_OK)
        return code;
    bpi_text_add(&r->bytes, text, len);
    read_document(r, doc);
    if (r->bytes.failed)
        bpi_read_no_memory(r);
    if (r->code == BP_OK) {
        bpi_digest_text(r->show->stamp, r->bytes.s, r->bytes.len);
        return BP_OK;
    }
    if (!r->errs)
        return r->code;
    if (r->code == BP_ENOMEM) { /* what else was found may only follow from it */
        r->errs->n = from;
        r->errs->more = more;
        return bpi_error_no_memory(r->errs);
    }
    sort_errors(r->errs, from);
    return from < r->errs->n ? r->errs->item[from].code : r->code;
}

bp_code bp_show_read(bp_show **out, const char *text, size_t len, const char *name,
                     const char *folder, bp_errors *errs)
{
    *out = NULL;
    bpi_arena *a = bpi_arena_new();
    bpi_show *show = a ? BPI_TAKE(a, 1, bpi_show) : NULL;
    char *file = show ? bpi_arena_copy(a, name, strlen(name)) : NULL;
    if (!file) {
        bpi_arena_free(a);
        return bpi_error_no_memory(errs);
    }
    show->arena = a;
    show->file = file;
    bpi_reader r = {.a = a, .errs = errs, .show = show, .file = file, .folder = folder};
    bp_code code = read_into(&r, text, len);
    bpi_text_release(&r.bytes);
    if (code != BP_OK)
        bpi_arena_free(a);
    else
        *out = show;
    return code;
}

bp_code bp_show_open(bp_show **out, const char *path, bp_errors *errs)
{
    *out = NULL;
    bpi_text bytes = BPI_TEXT_EMPTY, folder = BPI_TEXT_EMPTY;
    bp_code code = bpi_file_read(&bytes, path, BPI_MAX_FILE, errs);
    if (code == BP_OK) {
        size_t n = bpi_file_folder(path);
        bpi_text_add(&folder, path, n);
        code = folder.failed ? bpi_error_no_memory(errs)
                             : bp_show_read(out, bytes.s ? bytes.s : "", bytes.len, path,
                                            folder.s ? folder.s : "", errs);
    }
    bpi_text_release(&bytes);
    bpi_text_release(&folder);
    return code;
}

void bp_show_free(bp_show *show)
{
    if (show)
        bpi_arena_free(show->arena);
}

void bp_free(void *text)
{
    bpi_mem_drop(text);
}

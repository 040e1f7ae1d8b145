/* src/day/revise.c - learned times written into the files where they stand.
 *
 * Owns     the form of what is written.
 * May use  base/, the public headers.
 */
#include <stdlib.h>
#include <string.h>

#include "backpot/after.h"
#include "base/arena.h"
#include "base/error.h"
#include "base/file.h"
#include "base/json.h"
#include "base/limits.h"
#include "base/span.h"
#include "base/splice.h"

/* Of a batch "once" and "each" change with the likely length alone. */
static bool is_news(const bp_lesson *k)
{
    return k->enough &&
           (k->low != k->was_low || k->likely != k->was_likely || k->high != k->was_high);
}

#define PARTS 3 /* of a file that a lesson may replace: "time", "once", "each" */

static const bpi_node *value_at(const bpi_node *v, uint32_t line, uint32_t col)
{
    const bpi_node *found = v->at.line == line && v->at.col == col ? v : NULL;
    for (const bpi_node *c = v->first; c && !found; c = c->next)
        found = value_at(c, line, col); /* as deep as the text, which is bounded */
    return found;
}

static void put_length(bpi_text *out, const char *lead, int64_t seconds, const char *end)
{
    bpi_text_put(out, lead);
    bpi_span_words(out, seconds);
    bpi_text_put(out, end);
}

/* The parts of one file that the lessons replace, in the order of the file. */
typedef struct edits {
    bpi_splice *part;
    bpi_text *text; /* what is put there, in the order of the lessons */
    uint32_t n, lessons;
} edits;

static int by_place(const void *a, const void *b)
{
    size_t x = ((const bpi_splice *)a)->from, y = ((const bpi_splice *)b)->from;
    return x < y ? -1 : x > y;
}

static bp_code add_edit(edits *e, const bpi_node *v, bpi_text *t, bp_errors *errs)
{
    if (t->failed || !t->s)
        return bpi_error_no_memory(errs);
    e->part[e->n++] = (bpi_splice){v->from, v->to, t->s, t->len};
    return BP_OK;
}

/* "once" and "each" of a step, whose time stands at `time`. */
static bp_code edit_batch(edits *e, const bp_lesson *k, const bpi_node *time, bpi_text *t,
                          bp_errors *errs)
{
    static const char *const name[] = {"once", "each"};
    const bpi_node *together = time->parent ? bpi_node_member(time->parent, "together") : NULL;
    bp_code rc = BP_OK;
    for (int i = 0; together && rc == BP_OK && i < 2; i++) {
        const bpi_node *v = bpi_node_member(together, name[i]);
        if (!v)
            continue;
        put_length(&t[i], "\"", i ? k->each : k->once, "\"");
        rc = add_edit(e, v, &t[i], errs);
    }
    return rc;
}

static bp_code find_edits(edits *e, const bp_lessons *l, const char *file, const bpi_node *doc,
                          bp_errors *errs)
{
    for (uint32_t i = 0; i < l->lessons; i++) {
        const bp_lesson *k = &l->lesson[i];
        if (!is_news(k) || strcmp(k->file, file) != 0)
            continue;
        const bpi_node *v = value_at(doc, k->line, k->col);
        if (!v || !v->name || strcmp(v->name, "time") != 0)
            return bpi_error_f(
                errs, BP_EVALUE, (bpi_where){.file = file, .line = k->line, .col = k->col},
                "it was changed while it was read: try again",
                "the time of %s %.60s stands here no more", k->beat ? "beat" : "step", k->step);
        bpi_text *t = &e->text[PARTS * i];
        put_length(t, "{\"low\": \"", k->low, "\", ");
        put_length(t, "\"likely\": \"", k->likely, "\", ");
        put_length(t, "\"high\": \"", k->high, "\"}");
        bp_code rc = add_edit(e, v, t, errs);
        if (rc == BP_OK && k->together && k->likely != k->was_likely)
            rc = edit_batch(e, k, v, t + 1, errs);
        if (rc != BP_OK)
            return rc;
        e->lessons++;
    }
    qsort(e->part, e->n, sizeof *e->part, by_place);
    return BP_OK;
}

/* The file as it is to be; it is read once more, for nobody is left a file that is no JSON. */
static bp_code revise(bpi_text *out, const bp_lessons *l, const char *file, uint32_t *count,
                      bp_errors *errs)
{
    bpi_text was = BPI_TEXT_EMPTY;
    bpi_node *doc = NULL;
    edits e = {0};
    bpi_arena *a = bpi_arena_new();
    if (a) {
        e.part = BPI_TAKE(a, PARTS * (size_t)l->lessons, bpi_splice);
        e.text = BPI_TAKE(a, PARTS * (size_t)l->lessons, bpi_text);
    }
    if (!e.part || !e.text) {
        bpi_arena_free(a);
        return bpi_error_no_memory(errs);
    }
    bp_code rc = bpi_file_read(&was, file, BPI_MAX_FILE, errs);
    if (rc == BP_OK)
        rc = bpi_json_read(&doc, a, file, was.s, was.len, errs);
    if (rc == BP_OK)
        rc = find_edits(&e, l, file, doc, errs);
    if (rc == BP_OK)
        rc = bpi_splice_apply(out, was.s, was.len, e.part, e.n, errs);
    if (rc == BP_OK)
        rc = bpi_json_read(&doc, a, file, out->s, out->len, errs);
    for (uint32_t i = 0; i < PARTS * l->lessons; i++)
        bpi_text_release(&e.text[i]);
    bpi_text_release(&was);
    bpi_arena_free(a);
    *count = e.lessons;
    return rc;
}

static bool is_first_of_file(const bp_lessons *l, uint32_t i)
{
    for (uint32_t k = 0; k < i; k++)
        if (is_news(&l->lesson[k]) && strcmp(l->lesson[k].file, l->lesson[i].file) == 0)
            return false;
    return is_news(&l->lesson[i]);
}

bp_code bp_lessons_write(const bp_lessons *l, uint32_t *written, bp_errors *errs)
{
    bp_code rc = BP_OK;
    *written = 0;
    for (int pass = 0; pass < 2; pass++) { /* first all is read and made, then all is written */
        for (uint32_t i = 0; rc == BP_OK && i < l->lessons; i++) {
            uint32_t count = 0;
            bpi_text text = BPI_TEXT_EMPTY;
            if (!is_first_of_file(l, i))
                continue;
            rc = revise(&text, l, l->lesson[i].file, &count, errs);
            if (rc == BP_OK && pass == 1)
                rc = bpi_file_write(l->lesson[i].file, text.s, text.len, errs);
            if (rc == BP_OK && pass == 1)
                *written += count;
            bpi_text_release(&text);
        }
    }
    return rc;
}

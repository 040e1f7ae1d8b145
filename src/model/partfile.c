#include "model/partfile.h"

#include <stdio.h>
#include <string.h>

#include "base/file.h"
#include "base/limits.h"

#define MOST_PATH 255

/* What is wrong with a path, NULL: nothing. */
static const char *bad_path(const char *p)
{
    size_t len = strlen(p);
    if (len == 0)
        return "is empty";
    if (len > MOST_PATH)
        return "has more than 255 bytes";
    if (p[0] == '/' || strchr(p, '\\') || strchr(p, ':'))
        return "is not relative, with \"/\" between its parts";
    for (const char *part = p; part;) {
        size_t n = strcspn(part, "/");
        if (n == 2 && memcmp(part, "..", 2) == 0)
            return "leaves the folder of the show";
        if (n == 0)
            return "has an empty part";
        part = part[n] ? part + n + 1 : NULL;
    }
    return NULL;
}

/* The file could not be read: point at the path in the show, keep the reason. */
static void point_at(bpi_reader *r, const bpi_node *path, const char *kind, bp_code code,
                     uint32_t before)
{
    const char *reason = bp_code_text(code);
    if (r->errs && r->errs->n > before)
        reason = r->errs->item[before].wrong;
    char wrong[300];
    snprintf(wrong, sizeof wrong, "%s file \"%s\": %s", kind, path->text, reason);
    if (r->errs && r->errs->n > before)
        r->errs->n = before;
    bpi_read_wrong(r, code, path->at, "write a path from the folder of the show file", "%s", wrong);
}

const bpi_node *bpi_part_file(bpi_reader *r, const bpi_node *path, const char *member,
                              const char *kind, const char *right)
{
    if (!bpi_read_plain(r, path, member, 0, BPI_MAX_TEXT))
        return NULL;
    const char *bad = bad_path(path->text);
    if (bad)
        bpi_read_wrong(r, BP_EVALUE, path->at, right, "the path of a %s file %s", kind, bad);
    else if (!r->folder)
        bpi_read_wrong(r, BP_EVALUE, path->at, right, "a show that is no file cannot name %s files",
                       kind);
    if (bad || !r->folder)
        return NULL;
    bpi_text full = BPI_TEXT_EMPTY, bytes = BPI_TEXT_EMPTY;
    bpi_node *doc = NULL;
    if (r->folder[0])
        bpi_text_f(&full, "%s/", r->folder);
    bpi_text_put(&full, path->text);
    const char *barred = full.failed ? NULL : bpi_file_barred(full.s, r->folder);
    if (barred) {
        bpi_text_release(&full);
        bpi_read_wrong(r, BP_EVALUE, path->at, "write the path of a file inside that folder",
                       "%s file \"%s\": %s", kind, path->text, barred);
        return NULL;
    }
    uint32_t before = r->errs ? r->errs->n : 0;
    bp_code code = full.failed ? BP_ENOMEM : bpi_file_read(&bytes, full.s, BPI_MAX_FILE, r->errs);
    if (code == BP_EIO || code == BP_ELIMIT) {
        point_at(r, path, kind, code, before);
    } else if (code == BP_OK) {
        bpi_text_char(&r->bytes, '\0'); /* so that moving text between files changes the stamp */
        bpi_text_add(&r->bytes, bytes.s, bytes.len);
        code = bpi_json_read(&doc, r->a, full.s, bytes.len ? bytes.s : "", bytes.len, r->errs);
        if (code != BP_OK && r->code == BP_OK)
            r->code = code;
    }
    if (code == BP_ENOMEM || r->bytes.failed) {
        doc = NULL;
        bpi_read_no_memory(r);
    }
    bpi_text_release(&full);
    bpi_text_release(&bytes);
    return doc;
}

/* src/out/outputs.c - all files of a plan, made in memory and saved as one set.
 *
 * Owns     which writer makes which file, and the bytes until bp_files_free.
 * May use  base/, out/.
 */
#include "backpot/output.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "base/file.h"
#include "base/limits.h"
#include "base/outset.h"
#include "base/sys.h"
#include "base/text.h"
#include "out/calendar.h"
#include "out/chance.h"
#include "out/cue.h"
#include "out/earlier.h"
#include "out/fetch_sheet.h"
#include "out/json.h"
#include "out/pack.h"
#include "out/prep.h"
#include "out/label.h"
#include "out/pull.h"
#include "out/strike.h"
#include "out/timeline.h"
#include "out/tray.h"

typedef bp_code paper_writer(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);
typedef bp_code data_writer(bpi_text *out, const bp_plan *plan, bp_errors *errs);

static const struct {
    paper_writer *paper;
    data_writer *data; /* both NULL: the calendars */
} writers[BP_NOUTPUTS] = {
    [BP_OUT_CUE_SHEET] = {bpi_cue_sheet_write, NULL},
    [BP_OUT_PREP_SHEET] = {bpi_prep_sheet_write, NULL},
    [BP_OUT_TIMELINE_PDF] = {bpi_timeline_pdf_write, NULL},
    [BP_OUT_TIMELINE_SVG] = {bpi_timeline_svg_write, NULL},
    [BP_OUT_CHANCE] = {bpi_chance_write, NULL},
    [BP_OUT_LABELS] = {bpi_labels_write, NULL},
    [BP_OUT_TRAY_MAP] = {bpi_tray_map_write, NULL},
    [BP_OUT_TRAY_TEXT] = {NULL, bpi_tray_text_write},
    [BP_OUT_STRIKE_SHEET] = {bpi_strike_sheet_write, NULL},
    [BP_OUT_STRIKE_TEXT] = {NULL, bpi_strike_text_write},
    [BP_OUT_PACK_SHEET] = {bpi_pack_sheet_write, NULL},
    [BP_OUT_PACK_TEXT] = {NULL, bpi_pack_text_write},
    [BP_OUT_PACK_CSV] = {NULL, bpi_pack_csv_write},
    [BP_OUT_PULL_SHEET] = {bpi_pull_sheet_write, NULL},
    [BP_OUT_PULL_TEXT] = {NULL, bpi_pull_text_write},
    [BP_OUT_PULL_CSV] = {NULL, bpi_pull_csv_write},
    [BP_OUT_JSON] = {NULL, bpi_json_write},
};

#define AS_FILE(number, name, file) file,
static const char *const file_names[] = {BP_OUTPUTS(AS_FILE)};
#undef AS_FILE

/* The set being made. `files` lives in `arena`, and so do the bytes. */
typedef struct maker {
    bpi_arena *arena;
    const bp_plan *plan;
    const char *folder; /* of the earlier calendars; NULL */
    bool letter;
    void *list;
    size_t n, room;
    bp_errors *errs;
} maker;

/* Takes what `text` holds. */
static bp_code keep(maker *m, const char *name, bpi_text *text)
{
    bp_file *f = bpi_arena_more(m->arena, &m->list, &m->room, m->n, sizeof *f);
    char *bytes = f ? bpi_arena_copy(m->arena, text->s ? text->s : "", text->len) : NULL;
    if (!bytes)
        return bpi_error_no_memory(m->errs);
    snprintf(f->name, sizeof f->name, "%s", name);
    f->bytes = bytes;
    f->len = text->len;
    m->n++;
    return BP_OK;
}

/* ---- calendars --------------------------------------------------------------------------- */

/* What an earlier run left under that name; nothing there is nothing wrong. The events point into
 * `bytes`, which the caller releases. */
static bp_code read_earlier(maker *m, bpi_earlier *out, bpi_text *bytes, const char *name)
{
    *out = (bpi_earlier){.cooks = ""};
    if (!m->folder)
        return BP_OK;
    bpi_text path = BPI_TEXT_EMPTY;
    bpi_text_f(&path, "%s/%s", m->folder, name);
    if (path.failed)
        return bpi_error_no_memory(m->errs);
    int fd = bpi_sys_open(path.s, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK, 0);
    bp_code rc = BP_OK;
    if (fd >= 0) {
        rc = bpi_file_read_fd(bytes, fd, path.s, BPI_MAX_FILE, m->errs);
        bpi_sys_close(fd); /* only read */
        const char *file = bpi_arena_copy(m->arena, path.s, path.len);
        if (rc == BP_OK)
            rc = file ? bpi_earlier_read(out, m->arena, bytes->s ? bytes->s : "", bytes->len, file,
                                         m->plan->show_id, m->errs)
                      : bpi_error_no_memory(m->errs);
    } else if (errno != ENOENT) {
        rc = bpi_file_error(m->errs, path.s, "read the calendar of an earlier run", errno);
    }
    bpi_text_release(&path);
    return rc == BP_ELIMIT ? BP_EIO : rc;
}

/* One calendar; *cooks is set from that of the kitchen. */
static bp_code make_calendar(maker *m, const char *cook, const char **cooks)
{
    char name[BPI_CALENDAR_ROOM];
    bpi_text bytes = BPI_TEXT_EMPTY, text = BPI_TEXT_EMPTY;
    bpi_earlier earlier;
    bpi_calendar_file(name, cook);
    bp_code rc = read_earlier(m, &earlier, &bytes, name);
    if (rc == BP_OK && !cook) {
        *cooks = bpi_calendar_cooks(m->arena, m->plan, earlier.cooks);
        rc = *cooks ? BP_OK : bpi_error_no_memory(m->errs);
    }
    if (rc == BP_OK)
        rc = bpi_calendar_write(&text, m->plan, cook, &earlier, cook ? "" : *cooks, m->errs);
    if (rc == BP_OK)
        rc = keep(m, name, &text);
    bpi_text_release(&bytes);
    bpi_text_release(&text);
    return rc;
}

static bp_code make_calendars(maker *m)
{
    const char *cooks = "";
    bp_code rc = make_calendar(m, NULL, &cooks);
    for (const char *s = cooks; rc == BP_OK && *s;) {
        size_t n = strcspn(s, " ");
        const char *cook = bpi_arena_copy(m->arena, s, n);
        rc = cook ? make_calendar(m, cook, NULL) : bpi_error_no_memory(m->errs);
        s += n + (s[n] == ' ');
    }
    return rc;
}

/* ---- all files --------------------------------------------------------------------------- */

static bp_code make(maker *m, bp_output which)
{
    if (!writers[which].paper && !writers[which].data)
        return which == BP_OUT_CALENDAR ? make_calendars(m) : BP_OK;
    bpi_text text = BPI_TEXT_EMPTY;
    bp_code rc = writers[which].paper ? writers[which].paper(&text, m->plan, m->letter, m->errs)
                                      : writers[which].data(&text, m->plan, m->errs);
    if (rc == BP_OK)
        rc = keep(m, file_names[which], &text);
    bpi_text_release(&text);
    return rc;
}

/* Without any plan there is nothing to cook by: only the data, which says why. */
static bool is_wanted(const bp_plan *plan, const bp_output_options *options, bp_output which)
{
    if (options->leave_out >> which & 1)
        return false;
    return plan->verdict != BP_NONE || which == BP_OUT_JSON;
}

bp_code bp_outputs_write(bp_files **out, const bp_plan *plan, const bp_output_options *options,
                         bp_errors *errs)
{
    static const bp_output_options defaults = {0};
    const bp_output_options *o = options ? options : &defaults;
    *out = NULL;
    maker m = {.plan = plan, .folder = o->folder, .errs = errs};
    m.letter = o->paper == BP_PAPER_OF_SHOW ? plan->letter : o->paper == BP_PAPER_LETTER;
    m.arena = bpi_arena_new();
    if (!m.arena)
        return bpi_error_no_memory(errs);
    bp_code rc = BP_OK;
    for (bp_output which = 0; which < BP_NOUTPUTS && rc == BP_OK; which++)
        if (is_wanted(plan, o, which))
            rc = make(&m, which);
    bp_files *files = rc == BP_OK ? BPI_TAKE(m.arena, 1, bp_files) : NULL;
    if (rc == BP_OK && !files)
        rc = bpi_error_no_memory(errs);
    if (rc != BP_OK) {
        bpi_arena_free(m.arena);
        return rc;
    }
    *files = (bp_files){.n = (uint32_t)m.n, .file = m.list, .own = m.arena};
    *out = files;
    return BP_OK;
}

void bp_files_free(bp_files *files)
{
    if (files)
        bpi_arena_free(files->own);
}

bp_code bp_outputs_save(const bp_files *files, const char *folder, bp_errors *errs)
{
    bpi_outset *set = NULL;
    bp_code rc = bpi_outset_new(&set, folder, errs);
    for (uint32_t i = 0; i < files->n && rc == BP_OK; i++)
        rc = bpi_outset_add(set, files->file[i].name, files->file[i].bytes, files->file[i].len,
                            errs);
    if (rc == BP_OK)
        rc = bpi_outset_commit(set, errs);
    bpi_outset_free(set);
    return rc;
}

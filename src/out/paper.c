#include "out/paper.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <pthread.h>
#include <string.h>

#include "base/error.h"
#include "base/memory.h"

/* ISO 216 A4 is 210 x 297 mm; US Letter is 8.5 x 11 in. */
static const struct {
    double width, height;
} papers[2] = {{210 / 25.4 * 72, 297 / 25.4 * 72}, {8.5 * 72, 11.0 * 72}};

static cairo_status_t take(void *out, const unsigned char *bytes, unsigned int len)
{
    bpi_text *t = out;
    bpi_text_add(t, (const char *)bytes, len);
    return t->failed ? CAIRO_STATUS_WRITE_ERROR : CAIRO_STATUS_SUCCESS;
}

static void describe(cairo_surface_t *surface, bpi_page *p)
{
    const bp_plan *plan = p->plan;
    const char *date = bpi_page_f(p, "%04d-%02d-%02dT00:00:00", plan->year, plan->month, plan->day);
    const char *title = bpi_page_f(p, "%s: %s", plan->title, p->sheet->name);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT,
                                   bpi_page_f(p, "plan %s", plan->stamp));
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "backpot " BP_VERSION);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_MOD_DATE, date);
}

static bp_code cairo_code(cairo_status_t status, const bpi_text *out, bp_errors *errs)
{
    if (status == CAIRO_STATUS_SUCCESS && !out->failed)
        return BP_OK;
    if (out->failed || status == CAIRO_STATUS_NO_MEMORY)
        return bpi_error_no_memory(errs);
    return bpi_error_f(errs, BP_EIO, BPI_NOWHERE, "", "a page could not be drawn: %s",
                       cairo_status_to_string(status));
}

static bp_code draw_once(bpi_page *p, bool dry, bp_errors *errs)
{
    p->dry = dry;
    p->number = 0;
    p->section = "";
    p->again = NULL;
    p->due = NULL;
    p->sheet->draw(p);
    if (dry)
        p->total = p->number;
    else
        cairo_show_page(p->cr);
    bp_code rc = bpi_type_check(p->type, errs);
    return rc == BP_OK && p->no_memory ? bpi_error_no_memory(errs) : rc;
}

/* Threads with contexts of their own still share a font's FreeType face, which Cairo hands out without
   its lock ("not thread-safe": the manual of cairo_ft_scaled_font_lock_face); Pango measures with it. */
static pthread_mutex_t alone = PTHREAD_MUTEX_INITIALIZER;

/* One pass over the sheet on a surface of its own; `surface` is given up. */
static bp_code pass(bpi_page *p, cairo_surface_t *surface, bool dry, bpi_text *out, bp_errors *errs)
{
    pthread_mutex_lock(&alone);
    p->cr = cairo_create(surface);
    bp_code rc = cairo_code(cairo_status(p->cr), out, errs);
    if (rc == BP_OK)
        rc = bpi_type_open(&p->type, p->cr, errs);
    if (rc == BP_OK)
        rc = draw_once(p, dry, errs);
    cairo_surface_finish(surface);
    if (rc == BP_OK)
        rc = cairo_code(cairo_status(p->cr), out, errs);
    if (rc == BP_OK)
        rc = cairo_code(cairo_surface_status(surface), out, errs);
    bpi_type_free(p->type);
    p->type = NULL;
    cairo_destroy(p->cr);
    cairo_surface_destroy(surface);
    pthread_mutex_unlock(&alone);
    return rc;
}

static void give_back(bpi_text *out, size_t before)
{
    out->len = before;
    if (out->s)
        out->s[before] = '\0';
}

bp_code bpi_paper_write(bpi_text *out, const bp_plan *plan, const bpi_sheet *sheet, bp_errors *errs)
{
    bpi_page p = {.plan = plan, .sheet = sheet, .section = "", .arena = bpi_arena_new()};
    if (!p.arena || !bpi_mem_room(BPI_ROOM_PAPER)) {
        bpi_arena_free(p.arena);
        return bpi_error_no_memory(errs);
    }
    p.width = sheet->landscape ? papers[sheet->letter].height : papers[sheet->letter].width;
    p.height = sheet->landscape ? papers[sheet->letter].width : papers[sheet->letter].height;
    size_t before = out->len;
    bp_code rc = pass(&p, cairo_pdf_surface_create_for_stream(NULL, NULL, p.width, p.height), true,
                      out, errs);
    if (rc == BP_OK) {
        cairo_surface_t *s = cairo_pdf_surface_create_for_stream(take, out, p.width, p.height);
        describe(s, &p);
        rc = pass(&p, s, false, out, errs);
    }
    bpi_arena_free(p.arena);
    if (rc != BP_OK)
        give_back(out, before);
    return rc;
}

/* Cairo numbers surfaces over the life of the process; in the file there is only this one. */
static void put_without_number(bpi_text *out, const char *svg, size_t len)
{
    static const char mark[] = "\"surface";
    size_t at = 0;
    for (size_t i = 0; i + sizeof mark - 1 < len; i++) {
        if (memcmp(svg + i, mark, sizeof mark - 1) != 0)
            continue;
        i += sizeof mark - 1;
        bpi_text_add(out, svg + at, i - at);
        while (i < len && svg[i] >= '0' && svg[i] <= '9')
            i++;
        at = i;
    }
    bpi_text_add(out, svg + at, len - at);
}

bp_code bpi_paper_write_picture(bpi_text *out, const bp_plan *plan, const bpi_sheet *sheet,
                                bp_errors *errs)
{
    bpi_page p = {.plan = plan, .sheet = sheet, .section = "", .arena = bpi_arena_new()};
    bpi_text svg = BPI_TEXT_EMPTY;
    if (!p.arena || !bpi_mem_room(BPI_ROOM_PAPER)) {
        bpi_arena_free(p.arena);
        return bpi_error_no_memory(errs);
    }
    p.width = papers[sheet->letter].height;
    p.height = papers[sheet->letter].width;
    size_t before = out->len;
    bp_code rc = pass(&p, cairo_svg_surface_create_for_stream(NULL, NULL, p.width, p.height), true,
                      &svg, errs);
    if (rc == BP_OK)
        rc = pass(&p, cairo_svg_surface_create_for_stream(take, &svg, p.width, p.height), false,
                  &svg, errs);
    if (rc == BP_OK) {
        put_without_number(out, svg.s, svg.len);
        if (out->failed)
            rc = bpi_error_no_memory(errs);
    }
    bpi_text_release(&svg);
    bpi_arena_free(p.arena);
    if (rc != BP_OK)
        give_back(out, before);
    return rc;
}

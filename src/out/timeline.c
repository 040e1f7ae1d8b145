#include "out/timeline.h"

#include "out/page.h"
#include "out/paper.h"
#include "out/timeline_axis.h"
#include "out/timeline_lane.h"
#include "out/timeline_layout.h"
#include "out/timeline_legend.h"

static double view_height(const bpi_tl_view *v)
{
    double h = 0;
    for (uint32_t i = 0; i < v->page->rows.n; i++) {
        const bpi_tl_row *r = &v->tl->row[v->page->rows.first + i];
        h = r->y + r->height;
    }
    return h;
}

/* Draws one page of a layout from p->y on and moves it past. */
static void draw_view(bpi_page *p, const bpi_tl *tl, uint32_t page, bpi_tl_part part, double labels)
{
    bpi_tl_view v = {
        tl,     &tl->page[page],  part,
        labels, p->left + labels, p->y + BPI_TL_AXIS + BPI_TL_MARK_ROWS * BPI_TL_MARK_ROW,
        0};
    v.h = view_height(&v);
    p->y = v.y + v.h + 6;
    if (p->dry)
        return; /* its height is all that a count of pages needs */
    bpi_tl_draw_ticks(p, &v);
    bpi_page_frame(p, v.x, v.y, tl->width, v.h, 0.8);
    for (uint32_t i = 0; i < v.page->rows.n; i++)
        bpi_tl_draw_lane(p, &v, &tl->row[v.page->rows.first + i]);
    bpi_tl_draw_marks(p, &v);
    bpi_tl_draw_tears(p, &v);
    for (uint32_t i = 0; i < v.page->rows.n; i++)
        bpi_tl_draw_lane_texts(p, &v, &tl->row[v.page->rows.first + i]);
}

/* ---- papers ------------------------------------------------------------------------------ */

static const struct {
    const char *name;
    double minute; /* points a minute at least */
} parts[] = {
    [BPI_TL_PATHS] = {"each container's way to the set", 2},
    [BPI_TL_LANES] = {"who and what is busy", 7},
};

static const bpi_tl *layout(bpi_page *p, bpi_tl_part part, double width, double height)
{
    bpi_tl_ask ask = {part, width, height, parts[part].minute};
    const bpi_tl *tl = bpi_tl_make(p->arena, p->plan, &ask);
    if (!tl)
        p->no_memory = true;
    return tl;
}

static void draw_nothing(bpi_page *p)
{
    bpi_page_begin(p);
    bpi_page_para(p, BPI_FONT_BODY, "Nothing is to be done in this plan.");
}

/* The free part of a page is known once one has been begun: a dry one tells. */
static void draw_part(bpi_page *p, bpi_tl_part part)
{
    const bpi_tl *tl = NULL;
    const double labels = bpi_tl_label_room(p);
    p->section = parts[part].name;
    for (uint32_t i = 0; i == 0 || (tl && i < tl->pages); i++) {
        bpi_page_begin(p);
        if (!tl)
            tl = layout(p, part, p->right - p->left - labels,
                        p->bottom - p->y - BPI_TL_AXIS - BPI_TL_MARK_ROWS * BPI_TL_MARK_ROW -
                            BPI_TL_KEY);
        if (!tl || i >= tl->pages)
            return;
        draw_view(p, tl, i, part, labels);
        bpi_tl_draw_key(p, p->bottom - BPI_TL_KEY + 4);
    }
}

static void draw_pages(bpi_page *p)
{
    if (p->plan->ops == 0) {
        draw_nothing(p);
        return;
    }
    draw_part(p, BPI_TL_PATHS);
    draw_part(p, BPI_TL_LANES);
    p->section = "the numbers";
    bpi_page_begin(p);
    bpi_tl_draw_legend(p);
}

static void draw_picture(bpi_page *p)
{
    if (p->plan->ops == 0) {
        draw_nothing(p);
        return;
    }
    const bpi_tl *tl[2] = {NULL, NULL};
    const double labels = bpi_tl_label_room(p);
    double wide = 630; /* the key needs as much */
    for (bpi_tl_part part = BPI_TL_PATHS; part <= BPI_TL_LANES; part++) {
        bpi_tl_ask ask = {part, 0, 0, parts[BPI_TL_LANES].minute};
        tl[part] = bpi_tl_make(p->arena, p->plan, &ask);
        if (!tl[part]) {
            p->no_memory = true;
            return;
        }
        if (tl[part]->width > wide)
            wide = tl[part]->width;
    }
    if (p->dry) {
        p->width = wide + labels + 2 * 30;
        p->height = 1e6; /* no page is that full: found below */
    }
    bpi_page_begin(p);
    for (bpi_tl_part part = BPI_TL_PATHS; part <= BPI_TL_LANES; part++)
        if (tl[part]->pages > 0)
            draw_view(p, tl[part], 0, part, labels);
    bpi_tl_draw_key(p, p->y);
    p->y += BPI_TL_KEY;
    bpi_tl_draw_legend(p);
    if (p->dry) /* what is free below is not needed */
        p->height -= p->bottom - p->y - 12;
}

bp_code bpi_timeline_pdf_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"Timeline", letter, true, false, draw_pages, NULL};
    return bpi_paper_write(out, plan, &sheet, errs);
}

bp_code bpi_timeline_svg_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"Timeline", letter, true, false, draw_picture, NULL};
    return bpi_paper_write_picture(out, plan, &sheet, errs);
}

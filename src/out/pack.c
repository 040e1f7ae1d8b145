#include "out/pack.h"

#include <inttypes.h>
#include <stdio.h>

#include "out/facts.h"
#include "out/page.h"
#include "out/paper.h"
#include "out/plain.h"
#include "out/table.h"

/* ---- words --------------------------------------------------------------------------------- */

static bool begins(const bp_plan *plan, uint32_t i)
{
    return i == 0 || plan->pack[i].use != plan->pack[i - 1].use ||
           plan->pack[i].air != plan->pack[i - 1].air;
}

/* "Set: Supper, 08:24 (on set by 08:19)" */
static const char *title_of(bpi_arena *a, const bp_plan *plan, const bp_pack *x)
{
    bpi_text t = BPI_TEXT_EMPTY;
    char hit[BP_CLOCK_ROOM], set_by[BP_CLOCK_ROOM], off[BP_CLOCK_ROOM];
    if (x->use == BP_PACK_KITCHEN) {
        bpi_text_put(&t, "Kitchen, before the hit");
    } else {
        const bp_air *air = &plan->air[x->air];
        bpi_text_f(&t, "%s: %s, %s",
                   x->use == BP_PACK_SET      ? "Set"
                   : x->use == BP_PACK_STRIKE ? "Strike"
                                              : "Tasting",
                   air->title, bp_plan_clock(hit, plan, air->hit));
        if (x->use == BP_PACK_STRIKE)
            bpi_text_f(&t, " (off air at %s)", bp_plan_clock(off, plan, air->hit + air->slot));
        else
            bpi_text_f(&t, " (on set by %s)", bp_plan_clock(set_by, plan, air->set_by));
    }
    return bpi_fact_keep(a, &t);
}

/* "2 in use, 1 of them packed already"; "" where all of them are packed here. */
static const char *remark_of(bpi_arena *a, const bp_pack *x)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_put(&t, "");
    if (x->count && x->in_use > x->count)
        bpi_text_f(&t, "%" PRIu32 " in use, %" PRIu32 " of them packed already", x->in_use,
                   x->in_use - x->count);
    return bpi_fact_keep(a, &t);
}

static const char *who_of(const bp_pack *x)
{
    return !x->count ? "packed already" : x->provided ? "provided" : "brought";
}

static const char *item_of(bpi_arena *a, const bp_pack *x)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_f(&t, "%s%s%s", x->item, *x->note ? ", " : "", x->note);
    return bpi_fact_keep(a, &t);
}

/* ---- on paper ------------------------------------------------------------------------------- */

static const bpi_column columns[] = {
    {64, 0, "", BPI_LEFT},
    {0, 250, "", BPI_LEFT},
    {100, 0, "", BPI_LEFT},
    {0, 110, "", BPI_LEFT},
};

static void draw_line(bpi_page *p, const bpi_table *table, const bp_pack *x, bool band)
{
    bpi_row row = {.least = 28, .band = band};
    const char *n = bpi_page_f(p, "%" PRIu32, x->count ? x->count : x->in_use);
    if (x->count)
        bpi_cell_add_marked(p, &row.cell[0], BPI_FONT_STEP, BPI_TICK_BOX, n);
    else
        bpi_cell_add(p, &row.cell[0], BPI_FONT_STEP, bpi_page_f(p, "(%s)", n));
    bpi_cell_add(p, &row.cell[1], BPI_FONT_STEP, x->item);
    bpi_cell_add(p, &row.cell[1], BPI_FONT_BODY, x->note);
    bpi_cell_add(p, &row.cell[1], BPI_FONT_BODY, bpi_page_keep(p, remark_of(p->arena, x)));
    bpi_cell_add(p, &row.cell[2], BPI_FONT_BODY, who_of(x));
    bpi_cell_add(p, &row.cell[3], BPI_FONT_BODY, x->codes);
    bpi_table_row(p, table, &row);
}

static uint32_t draw_group(bpi_page *p, uint32_t i)
{
    const bp_plan *plan = p->plan;
    const bpi_table table = {columns, 4, bpi_page_keep(p, title_of(p->arena, plan, &plan->pack[i])),
                             true};
    bool band = false;
    bpi_table_begin(p, &table, 0);
    do {
        draw_line(p, &table, &plan->pack[i++], band);
        band = !band;
    } while (i < plan->packs && !begins(plan, i));
    bpi_table_end(p);
    return i;
}

static void draw(bpi_page *p)
{
    bpi_page_begin(p);
    for (uint32_t i = 0; i < p->plan->packs;)
        i = draw_group(p, i);
    if (!p->plan->packs)
        bpi_page_para(p, BPI_FONT_STEP, "Nothing to pack.");
}

bp_code bpi_pack_sheet_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"Pack list", letter, false, false, draw, NULL};
    return bpi_paper_write(out, plan, &sheet, errs);
}

/* ---- as text -------------------------------------------------------------------------------- */

#define WIDEST 60 /* a longer item pushes its own line out, not all of them */

static bool measure(size_t *most, bpi_arena *a, const bp_plan *plan)
{
    for (uint32_t i = 0; i < plan->packs; i++) {
        const char *item = item_of(a, &plan->pack[i]);
        size_t w = item ? bpi_plain_width(item) : 0;
        if (!item)
            return false;
        *most = w > *most && w <= WIDEST ? w : *most;
    }
    return true;
}

static bool put_line(bpi_text *out, bpi_arena *a, const bp_pack *x, size_t most)
{
    const char *item = item_of(a, x), *remark = remark_of(a, x);
    if (!item || !remark)
        return false;
    bpi_text_f(out, "  %s  %4" PRIu32 "  ", x->count ? "[ ]" : "   ",
               x->count ? x->count : x->in_use);
    bpi_plain_put(out, item);
    for (size_t w = bpi_plain_width(item); w < most; w++)
        bpi_text_char(out, ' ');
    bpi_text_f(out, "  %-14s%s%s%s%s\n", who_of(x), *x->codes ? "  " : "", x->codes,
               *remark ? "  " : "", remark);
    return true;
}

/* No blanks at the end of a line. */
static void trim(bpi_text *out)
{
    while (out->len > 1 && !out->failed && out->s[out->len - 2] == ' ') {
        out->s[out->len - 2] = '\n';
        out->s[--out->len] = '\0';
    }
}

bp_code bpi_pack_text_write(bpi_text *out, const bp_plan *plan, bp_errors *errs)
{
    bpi_arena *a = bpi_arena_new();
    size_t most = 0;
    bool good = a && measure(&most, a, plan);
    bpi_plain_head(out, "Pack list", plan);
    for (uint32_t i = 0; i < plan->packs && good; i++) {
        const char *title = begins(plan, i) ? title_of(a, plan, &plan->pack[i]) : "";
        good = title != NULL;
        if (good && *title) {
            bpi_text_char(out, '\n');
            bpi_plain_put(out, title);
            bpi_text_char(out, '\n');
        }
        good = good && put_line(out, a, &plan->pack[i], most);
        trim(out);
    }
    if (!plan->packs)
        bpi_text_put(out, "\nNothing to pack.\n");
    bpi_plain_foot(out, plan);
    bpi_arena_free(a);
    return good && !out->failed ? BP_OK : bpi_error_no_memory(errs);
}

/* ---- as a table ----------------------------------------------------------------------------- */

bp_code bpi_pack_csv_write(bpi_text *out, const bp_plan *plan, bp_errors *errs)
{
    bpi_text_put(out, "for,appearance,kind,item,note,packed,in use,by,containers\r\n");
    for (uint32_t i = 0; i < plan->packs; i++) {
        const bp_pack *x = &plan->pack[i];
        char count[16], in_use[16];
        snprintf(count, sizeof count, "%" PRIu32, x->count);
        snprintf(in_use, sizeof in_use, "%" PRIu32, x->in_use);
        const char *const cell[] = {bp_pack_for_name(x->use),
                                    x->air == BP_NO_INDEX ? "" : plan->air[x->air].id,
                                    bp_good_kind_name(x->kind),
                                    x->item,
                                    x->note,
                                    count,
                                    in_use,
                                    x->provided ? "house" : "crew",
                                    x->codes};
        bpi_plain_cells(out, cell, sizeof cell / sizeof *cell);
    }
    return out->failed ? bpi_error_no_memory(errs) : BP_OK;
}

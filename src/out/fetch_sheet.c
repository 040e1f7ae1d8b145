#include "out/fetch_sheet.h"

#include <string.h>

#include "out/facts.h"
#include "out/fetch.h"
#include "out/page.h"
#include "out/paper.h"
#include "out/table.h"

static const bpi_column columns[] = {
    {0, 140, "", BPI_LEFT},
    {0, 165, "", BPI_LEFT},
    {0, 100, "", BPI_LEFT},
    {0, 100, "", BPI_LEFT},
};

/* What is ticked: packs, what is missing, or all of it. */
static const char *fetched(const bp_good *g)
{
    return bpi_fetch_at_hand(g) ? "at hand" : *g->buy ? g->buy : g->need;
}

/* What to mind when fetching it, in one line where it fits. */
static const char *beside(bpi_page *p, const bp_good *g)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_put(&t, "");
    if (*g->allergens)
        bpi_text_f(&t, "contains %s", g->allergens);
    if (*g->instead)
        bpi_text_f(&t, "%sor else: %s", t.len ? "; " : "", g->instead);
    return bpi_page_keep(p, bpi_fact_keep(p->arena, &t));
}

static void draw_good(bpi_page *p, const bpi_table *table, const bp_good *g, bool band)
{
    bpi_row row = {.least = 28, .band = band, .below_from = 1};
    bpi_cell_add_marked(p, &row.cell[0], BPI_FONT_STEP, BPI_TICK_BOX, fetched(g));
    bool food = g->kind == BP_GOOD_FOOD; /* else its note is a size, or how many there are of it */
    bpi_cell_add(p, &row.cell[1], BPI_FONT_STEP, g->item);
    bpi_cell_add(p, &row.cell[food ? 1 : 2], BPI_FONT_BODY, g->note);
    bpi_cell_add(p, &row.below, BPI_FONT_BODY, beside(p, g));
    if (strcmp(fetched(g), g->need) != 0)
        bpi_cell_add(p, &row.cell[2], BPI_FONT_BODY, bpi_page_f(p, "need %s", g->need));
    if (*g->have && strcmp(g->have, "at hand") != 0)
        bpi_cell_add(p, &row.cell[2], BPI_FONT_BODY, bpi_page_f(p, "have %s", g->have));
    if (g->provided)
        bpi_cell_add(p, &row.cell[2], BPI_FONT_BODY, "provided by the house");
    bpi_cell_add(p, &row.cell[3], BPI_FONT_BODY, g->codes);
    bpi_table_row(p, table, &row);
}

static void draw(bpi_page *p)
{
    uint32_t n = 0;
    const bpi_fetch *group = bpi_fetch_groups(p->arena, p->plan, &n);
    p->no_memory |= !group;
    bpi_page_begin(p);
    for (uint32_t i = 0; group && i < n; i++) {
        const bpi_table table = {columns, 4, group[i].name, true};
        bpi_table_begin(p, &table, 0);
        for (uint32_t k = 0; k < group[i].goods; k++)
            draw_good(p, &table, &p->plan->good[group[i].good[k]], k % 2 != 0);
        bpi_table_end(p);
    }
    if (group && n == 0)
        bpi_page_para(p, BPI_FONT_STEP, "Nothing to fetch.");
}

bp_code bpi_pull_sheet_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"Pull list", letter, false, false, draw, NULL};
    return bpi_paper_write(out, plan, &sheet, errs);
}

#include "out/log.h"

#include "out/facts.h"
#include "out/table.h"

#define BLANK "______" /* to write on */

static const bpi_column heed_columns[] = {
    {96, 0, "", BPI_LEFT},
    {84, 0, "When", BPI_LEFT},
    {0, 100, "What, and what cures it", BPI_LEFT},
};

static const bpi_column log_columns[] = {
    {80, 0, "When", BPI_LEFT},
    {72, 0, "Code", BPI_LEFT},
    {0, 100, "What must be reached", BPI_LEFT},
    {62, 0, "Read at", BPI_LEFT},
    {62, 0, "Degrees", BPI_LEFT},
    {62, 0, "Initials", BPI_LEFT},
};

static const char *clock_text(bpi_page *p, int64_t t)
{
    char clock[BP_CLOCK_ROOM];
    return t == BP_NO_TIME ? "" : bpi_page_f(p, "%s", bp_plan_clock(clock, p->plan, t));
}

static void draw_finding(bpi_page *p, const bpi_table *table, const bp_finding *f)
{
    static const char *const weights[] = {
        [BP_NOTE] = "Note", [BP_CAUTION] = "CAUTION", [BP_STOP] = "STOP"};
    bpi_row row = {.least = 26, .band = f->weight == BP_STOP};
    bpi_cell_add_marked(p, &row.cell[0], f->weight == BP_NOTE ? BPI_FONT_BODY : BPI_FONT_BOLD,
                        f->weight == BP_NOTE ? BPI_NO_MARK : BPI_CAUTION_MARK, weights[f->weight]);
    if (f->container != BP_NO_INDEX)
        bpi_cell_add(p, &row.cell[0], BPI_FONT_CODE, p->plan->container[f->container].code);
    bpi_cell_add(p, &row.cell[1], BPI_FONT_STEP, clock_text(p, f->at));
    bpi_cell_add(p, &row.cell[2], BPI_FONT_BODY,
                 *f->rule ? bpi_page_f(p, "%s (%s)", f->text, f->rule) : f->text);
    if (*f->accepted)
        bpi_cell_add(p, &row.cell[2], BPI_FONT_BOLD, bpi_page_f(p, "ACCEPTED by %s", f->accepted));
    bpi_table_row(p, table, &row);
}

static void draw_findings(bpi_page *p)
{
    const bp_plan *plan = p->plan;
    const bpi_table table = {
        heed_columns, 3, bpi_page_f(p, "To heed, food by the limits of %s", plan->limits), false};
    bpi_table_begin(p, &table, 60);
    for (uint32_t i = 0; i < plan->findings; i++)
        draw_finding(p, &table, &plan->finding[i]);
    bpi_table_end(p);
}

static void draw_reading(bpi_page *p, const bpi_table *table, const bp_reading *r, bool band)
{
    bpi_row row = {.least = 34, .band = band};
    if (r->at == BP_NO_TIME)
        bpi_cell_add(p, &row.cell[0], BPI_FONT_BODY, "on receipt");
    else
        bpi_cell_add(p, &row.cell[0], BPI_FONT_STEP, clock_text(p, r->at));
    bpi_cell_add(p, &row.cell[1], BPI_FONT_STEP,
                 bpi_page_keep(p, bpi_fact_codes(p->arena, p->plan, r->containers)));
    bpi_cell_add(p, &row.cell[2], BPI_FONT_BODY, r->text);
    for (int i = 3; i < 6; i++)
        bpi_cell_add(p, &row.cell[i], BPI_FONT_FIGURE, BLANK);
    bpi_table_row(p, table, &row);
}

static void draw_readings(bpi_page *p)
{
    const bp_plan *plan = p->plan;
    const bpi_table table = {
        log_columns, 6, "Probe log: read the coldest part, of cooling food the warmest", false};
    bpi_table_begin(p, &table, 60);
    for (uint32_t i = 0; i < plan->readings; i++)
        draw_reading(p, &table, &plan->reading[i], i % 2);
    bpi_table_end(p);
}

void bpi_log_draw(bpi_page *p)
{
    if (p->plan->findings + p->plan->readings == 0)
        return;
    p->section = "food safety";
    bpi_page_begin(p);
    if (p->plan->findings)
        draw_findings(p);
    if (p->plan->readings)
        draw_readings(p);
}

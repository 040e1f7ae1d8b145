#include "out/said.h"

#include "out/facts.h"
#include "out/table.h"

static const bpi_column claim_columns[] = {
    {0, 150, "Beat", BPI_LEFT},
    {0, 140, "Words", BPI_LEFT},
    {0, 130, "May it be said", BPI_LEFT},
    {0, 310, "Figure, and what decides", BPI_LEFT},
};

static const bpi_column reply_columns[] = {
    {0, 120, "About", BPI_LEFT},
    {0, 200, "If they ask", BPI_LEFT},
    {0, 360, "Say", BPI_LEFT},
    {50, 0, "Takes", BPI_RIGHT},
};

const char *bpi_said_truth(bp_truth truth)
{
    return truth == BP_YES ? "yes" : truth == BP_NO ? "NO, do not say it" : "NOT ENOUGH DATA";
}

void bpi_said_claims_draw(bpi_page *p, uint32_t air)
{
    const bpi_table table = {claim_columns, 4, "Said of nutrients, by the thresholds for labels",
                             false};
    const bp_slice beats = p->plan->air[air].beats;
    bool begun = false, band = false;
    for (uint32_t i = 0; i < p->plan->claims; i++) {
        const bp_claim *c = &p->plan->claim[i];
        if (c->beat < beats.first || c->beat - beats.first >= beats.n)
            continue;
        if (!begun)
            bpi_table_begin(p, &table, 60);
        begun = true;
        bpi_row row = {.least = 24, .band = band};
        bpi_cell_add(p, &row.cell[0], BPI_FONT_STAGE,
                     bpi_page_f(p, "%u. %s", (unsigned)(c->beat - beats.first) + 1, c->dish));
        bpi_cell_add(p, &row.cell[1], BPI_FONT_BOLD, c->text);
        bpi_cell_add_marked(p, &row.cell[2], BPI_FONT_BOLD,
                            c->holds == BP_YES ? BPI_NO_MARK : BPI_CAUTION_MARK,
                            bpi_said_truth(c->holds));
        bpi_cell_add(p, &row.cell[3], BPI_FONT_BODY, c->figure);
        bpi_cell_add(p, &row.cell[3], BPI_FONT_BODY,
                     *c->rule ? bpi_page_f(p, "%s (%s)", c->why, c->rule) : c->why);
        bpi_table_row(p, &table, &row);
        band = !band;
    }
    if (begun)
        bpi_table_end(p);
}

void bpi_said_replies_draw(bpi_page *p, uint32_t air)
{
    const bpi_table table = {reply_columns, 4, "Answers kept ready", false};
    bool begun = false, band = false;
    for (uint32_t i = 0; i < p->plan->replies; i++) {
        const bp_reply *r = &p->plan->reply[i];
        char a[BP_CLOCK_ROOM];
        if (r->air != air)
            continue;
        if (!begun)
            bpi_table_begin(p, &table, 60);
        begun = true;
        bpi_row row = {.least = 24, .band = band};
        bpi_cell_add(p, &row.cell[0], BPI_FONT_STAGE, r->about);
        bpi_cell_add(p, &row.cell[0], BPI_FONT_BODY, r->dish);
        bpi_cell_add(p, &row.cell[1], BPI_FONT_BODY, r->ask);
        bpi_cell_add(p, &row.cell[2], BPI_FONT_WORDS, r->say);
        bpi_cell_add(p, &row.cell[3], BPI_FONT_FIGURE,
                     bpi_page_f(p, "%s", bpi_fact_minutes(a, r->spoken)));
        bpi_table_row(p, &table, &row);
        band = !band;
    }
    if (begun)
        bpi_table_end(p);
}

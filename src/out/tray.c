#include "out/tray.h"

#include <string.h>

#include "base/utf8.h"
#include "out/facts.h"
#include "out/page.h"
#include "out/paper.h"
#include "out/plain.h"
#include "out/spot.h"
#include "out/table.h"

static const bpi_column columns[] = {
    {30, 0, "No.", BPI_RIGHT},
    {78, 0, "Code", BPI_LEFT},
    {0, 150, "What stands there", BPI_LEFT},
    {0, 105, "Used in", BPI_LEFT},
    {0, 175, "On its tray", BPI_LEFT},
};

static void draw_spot(bpi_page *p, const bpi_table *table, const bpi_spot *spot, uint32_t place)
{
    uint32_t c = spot->container;
    bpi_row row = {.least = 34, .band = place % 2 == 0};
    bpi_cell_add(p, &row.cell[0], BPI_FONT_FIGURE, bpi_page_f(p, "%u", (unsigned)place));
    if (c != BP_NO_INDEX) {
        bpi_cell_add_marked(p, &row.cell[1], BPI_FONT_CODE, BPI_TICK_BOX,
                            p->plan->container[c].code);
        bpi_cell_add(p, &row.cell[2], BPI_FONT_STEP,
                     bpi_page_keep(p, bpi_fact_container(p->arena, p->plan, c)));
        bpi_cell_add_lines(p, &row.cell[4], BPI_TICK_BOX,
                           bpi_page_keep(p, bpi_spot_tray(p->arena, p->plan, c)));
    } else {
        bpi_cell_add_marked(p, &row.cell[2], BPI_FONT_STEP, BPI_TICK_BOX,
                            bpi_page_keep(p, bpi_spot_stand(p->arena, p->plan, spot->stand)));
    }
    bpi_cell_add_lines(p, &row.cell[3], BPI_NO_MARK,
                       bpi_page_keep(p, bpi_spot_used(p->arena, p->plan, spot, "\n")));
    bpi_table_row(p, table, &row);
}

static void draw_station(bpi_page *p, const bpi_spots *station)
{
    const bpi_table table = {columns, 5,
                             *station->name ? bpi_page_f(p, "%s, left to right", station->name)
                                            : "No station named, left to right",
                             false};
    bpi_table_begin(p, &table, 0);
    for (uint32_t i = 0; i < station->spots; i++)
        draw_spot(p, &table, &station->spot[i], i + 1);
    bpi_table_end(p);
    p->y += 10;
}

static void draw_stations(bpi_page *p, uint32_t air)
{
    uint32_t n = 0;
    const bpi_spots *list = bpi_spot_stations(p->arena, p->plan, air, &n);
    p->no_memory |= !list;
    for (uint32_t i = 0; list && i < n; i++)
        draw_station(p, &list[i]);
}

static void draw(bpi_page *p)
{
    const bp_plan *plan = p->plan;
    for (uint32_t a = 0; a < plan->airs; a++) {
        char clock[BP_CLOCK_ROOM];
        p->section = bpi_page_f(p, "%s at %s", plan->air[a].id,
                                bp_plan_clock(clock, plan, plan->air[a].hit));
        bpi_page_begin(p);
        bpi_page_para(p, BPI_FONT_TITLE, plan->air[a].title);
        p->y += 4;
        bpi_page_para(p, BPI_FONT_STEP,
                      bpi_page_f(p, "All of it on set by %s.",
                                 bp_plan_clock(clock, plan, plan->air[a].set_by)));
        p->y += 6;
        draw_stations(p, a);
    }
    if (plan->airs == 0)
        bpi_page_begin(p);
}

bp_code bpi_tray_map_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"Tray map", letter, false, false, draw, NULL};
    return bpi_paper_write(out, plan, &sheet, errs);
}

/* ---- as text --------------------------------------------------------------------------------- */

static void put_tray(bpi_text *out, const char *s)
{
    while (*s) {
        size_t len = strcspn(s, "\n");
        bpi_text_put(out, "           [ ] ");
        bpi_utf8_plain(out, s, len);
        bpi_text_char(out, '\n');
        s += len + (s[len] == '\n');
    }
}

static bool put_spot(bpi_text *out, bpi_arena *a, const bp_plan *plan, const bpi_spot *spot,
                     uint32_t place)
{
    uint32_t c = spot->container;
    const char *used = bpi_spot_used(a, plan, spot, "; ");
    const char *what =
        c == BP_NO_INDEX ? bpi_spot_stand(a, plan, spot->stand) : bpi_fact_container(a, plan, c);
    const char *tray = c == BP_NO_INDEX ? "" : bpi_spot_tray(a, plan, c);
    if (!used || !what || !tray)
        return false;
    bpi_text_f(out, "  %2u  [ ]  ", (unsigned)place);
    if (c != BP_NO_INDEX)
        bpi_text_f(out, "%s  ", plan->container[c].code);
    bpi_plain_put(out, what);
    bpi_text_f(out, "%s%s\n", *used ? ": " : "", used);
    put_tray(out, tray);
    return true;
}

static bool put_air(bpi_text *out, bpi_arena *a, const bp_plan *plan, uint32_t air)
{
    char clock[BP_CLOCK_ROOM], set_by[BP_CLOCK_ROOM];
    uint32_t n = 0;
    const bpi_spots *list = bpi_spot_stations(a, plan, air, &n);
    bool good = list != NULL;
    bpi_text_f(out, "\n%s  ", bp_plan_clock(clock, plan, plan->air[air].hit));
    bpi_plain_put(out, plan->air[air].title);
    bpi_text_f(out, "; all of it on set by %s\n",
               bp_plan_clock(set_by, plan, plan->air[air].set_by));
    for (uint32_t i = 0; i < n && good; i++) {
        bpi_text_char(out, '\n');
        bpi_plain_put(out, *list[i].name ? list[i].name : "No station named");
        bpi_text_put(out, ", left to right\n");
        for (uint32_t k = 0; k < list[i].spots && good; k++)
            good = put_spot(out, a, plan, &list[i].spot[k], k + 1);
    }
    return good;
}

bp_code bpi_tray_text_write(bpi_text *out, const bp_plan *plan, bp_errors *errs)
{
    bpi_arena *a = bpi_arena_new();
    bool good = a != NULL;
    bpi_plain_head(out, "Tray map", plan);
    for (uint32_t i = 0; i < plan->airs && good; i++)
        good = put_air(out, a, plan, i);
    bpi_plain_foot(out, plan);
    bpi_arena_free(a);
    return good && !out->failed ? BP_OK : bpi_error_no_memory(errs);
}

#include "out/tray.h"

#include <string.h>

#include "out/facts.h"
#include "out/page.h"
#include "out/paper.h"
#include "out/table.h"

static const bpi_column columns[] = {
    {30, 0, "No.", BPI_RIGHT},
    {78, 0, "Code", BPI_LEFT},
    {0, 150, "What stands there", BPI_LEFT},
    {0, 105, "Used in", BPI_LEFT},
    {0, 175, "On its tray", BPI_LEFT},
};

/* A container that no beat asks for stands behind all others. */
static uint32_t order_of(const bp_container *c)
{
    return c->beat; /* BP_NO_INDEX is the greatest */
}

/* The next container of that station after number `last` in the order of use; BP_NO_INDEX: none. */
static uint32_t next_of(const bp_plan *plan, uint32_t air, const char *station, uint32_t last)
{
    uint32_t best = BP_NO_INDEX;
    for (uint32_t i = 0; i < plan->containers; i++) {
        const bp_container *c = &plan->container[i];
        if (c->air != air || strcmp(c->station, station) != 0)
            continue;
        bool after = last == BP_NO_INDEX || order_of(c) > order_of(&plan->container[last]) ||
                     (order_of(c) == order_of(&plan->container[last]) && i > last);
        if (after && (best == BP_NO_INDEX || order_of(c) < order_of(&plan->container[best])))
            best = i;
    }
    return best;
}

static const char *used_in(bpi_page *p, const bp_air *air, uint32_t container)
{
    const bp_plan *plan = p->plan;
    char clock[BP_CLOCK_ROOM];
    const char *s = "";
    for (uint32_t i = 0; i < air->beats.n; i++) {
        const bp_beat *b = &plan->beat[air->beats.first + i];
        for (uint32_t k = 0; k < b->on.n && !b->dropped; k++)
            if (plan->index[b->on.first + k] == container)
                s = bpi_page_f(p, "%s%sbeat %u, %s", s, *s ? "\n" : "", (unsigned)i + 1,
                               bpi_fact_clock(clock, plan, b->from));
    }
    const bp_container *c = &plan->container[container];
    if (!*s)
        s = bp_role_name(c->role);
    if (c->set_by != air->set_by) /* a tease comes first */
        s = bpi_page_f(p, "%s\non set by %s", s, bp_plan_clock(clock, plan, c->set_by));
    return s;
}

/* What the one who carries it takes along, line by line; the heading of that list goes without saying. */
static void add_tray(bpi_page *p, bpi_cell *cell, uint32_t container)
{
    const bp_plan *plan = p->plan;
    uint32_t carry = bpi_fact_carry(plan, container);
    const char *s = carry == BP_NO_INDEX ? "" : plan->op[carry].detail;
    for (uint32_t i = 0; i < plan->ops && plan->container[container].stage == BP_RAW; i++)
        if (plan->op[i].kind == BP_OP_MEASURE && bpi_fact_serves(plan, i, container))
            s = plan->op[i].detail; /* all of it is measured */
    while (*s) {
        size_t len = strcspn(s, "\n");
        if (len && s[len - 1] != ':')
            bpi_cell_add_marked(p, cell, BPI_FONT_BODY, BPI_TICK_BOX,
                                bpi_page_f(p, "%.*s", (int)len, s));
        s += len + (s[len] == '\n');
    }
}

static void draw_container(bpi_page *p, const bpi_table *table, const bp_air *air,
                           uint32_t container, uint32_t place)
{
    const bp_container *c = &p->plan->container[container];
    bpi_row row = {.least = 34, .band = place % 2 == 0};
    bpi_cell_add(p, &row.cell[0], BPI_FONT_FIGURE, bpi_page_f(p, "%u", (unsigned)place));
    bpi_cell_add_marked(p, &row.cell[1], BPI_FONT_CODE, BPI_TICK_BOX, c->code);
    bpi_cell_add(p, &row.cell[2], BPI_FONT_STEP,
                 bpi_page_keep(p, bpi_fact_container(p->arena, p->plan, container)));
    bpi_cell_add(p, &row.cell[3], BPI_FONT_BODY, used_in(p, air, container));
    add_tray(p, &row.cell[4], container);
    bpi_table_row(p, table, &row);
}

static bool is_first_there(const bp_plan *plan, uint32_t air, uint32_t container)
{
    for (uint32_t i = 0; i < container; i++)
        if (plan->container[i].air == air &&
            strcmp(plan->container[i].station, plan->container[container].station) == 0)
            return false;
    return true;
}

static void draw_station(bpi_page *p, uint32_t air, const char *station)
{
    const bpi_table table = {columns, 5,
                             *station ? bpi_page_f(p, "%s, left to right", station)
                                      : "No station named, left to right",
                             false};
    uint32_t place = 1;
    bpi_table_begin(p, &table, 60);
    for (uint32_t i = next_of(p->plan, air, station, BP_NO_INDEX); i != BP_NO_INDEX;
         i = next_of(p->plan, air, station, i))
        draw_container(p, &table, &p->plan->air[air], i, place++);
    bpi_table_end(p);
    p->y += 10;
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
        for (uint32_t i = 0; i < plan->containers; i++)
            if (plan->container[i].air == a && is_first_there(plan, a, i))
                draw_station(p, a, plan->container[i].station);
    }
    if (plan->airs == 0)
        bpi_page_begin(p);
}

bp_code bpi_tray_map_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"Tray map", letter, false, false, draw, NULL};
    return bpi_paper_write(out, plan, &sheet, errs);
}

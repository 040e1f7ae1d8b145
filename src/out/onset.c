#include "out/onset.h"

#include "out/facts.h"
#include "out/table.h"

static const bpi_column change_columns[] = {
    {0, 140, "When", BPI_LEFT},
    {0, 110, "Who", BPI_LEFT},
    {0, 190, "", BPI_LEFT},
    {0, 250, "Containers", BPI_LEFT},
};

static const bpi_column stand_columns[] = {
    {46, 0, "Code", BPI_LEFT},        {0, 250, "Dish and stage", BPI_LEFT},
    {136, 0, "For", BPI_LEFT},        {66, 0, "Station", BPI_LEFT},
    {128, 0, "Carried in", BPI_LEFT}, {76, 0, "On camera", BPI_LEFT},
    {0, 130, "Allergens", BPI_LEFT},
};

static const char *container_text(bpi_page *p, uint32_t container)
{
    return bpi_page_keep(p, bpi_fact_container(p->arena, p->plan, container));
}

static void draw_stand(bpi_page *p, const bpi_table *table, uint32_t container, bool band)
{
    const bp_plan *plan = p->plan;
    const bp_container *c = &plan->container[container];
    const uint32_t carry = bpi_fact_carry(plan, container);
    const int64_t in = carry == BP_NO_INDEX ? c->on_set : plan->op[carry].from;
    const uint32_t by = carry == BP_NO_INDEX ? BP_NO_INDEX : plan->op[carry].person;
    char a[BP_CLOCK_ROOM];
    bpi_row row = {.least = 24, .band = band};
    bpi_cell_add(p, &row.cell[0], BPI_FONT_CODE, c->code);
    bpi_cell_add(p, &row.cell[1], BPI_FONT_BODY, container_text(p, container));
    if (c->role != BP_ROLE_AIR)
        bpi_cell_add(p, &row.cell[2], BPI_FONT_BOLD,
                     c->portions ? bpi_page_f(p, "%s, %u portions", bp_role_name(c->role),
                                              (unsigned)c->portions)
                                 : bp_role_name(c->role));
    bpi_cell_add(p, &row.cell[3], BPI_FONT_BODY, c->station);
    bpi_cell_add_led(p, &row.cell[4], bpi_page_f(p, "%s", bp_plan_clock(a, plan, in)),
                     BPI_FONT_BODY, by == BP_NO_INDEX ? "" : plan->person[by].name);
    if (c->late > 0)
        bpi_cell_add(p, &row.cell[4], BPI_FONT_BOLD,
                     bpi_page_f(p, "LATE %s", bp_length_text(a, c->late)));
    bpi_cell_add(p, &row.cell[5], BPI_FONT_BODY,
                 bpi_page_f(p, "%s", bpi_fact_clock(a, plan, c->needed)));
    bpi_cell_add(p, &row.cell[6], BPI_FONT_BODY, c->allergens);
    for (uint32_t i = 0; i < plan->findings; i++)
        if (plan->finding[i].container == container && *plan->finding[i].accepted)
            bpi_cell_add_marked(p, &row.cell[1], BPI_FONT_BOLD, BPI_CAUTION_MARK,
                                bpi_page_f(p, "Stop of %s accepted by %s", plan->finding[i].rule,
                                           plan->finding[i].accepted));
    bpi_table_row(p, table, &row);
}

/* The container of this appearance that is carried in next after (time, number); BP_NO_INDEX. */
static uint32_t next_in(const bp_plan *plan, uint32_t air, int64_t after, uint32_t last)
{
    uint32_t best = BP_NO_INDEX;
    for (uint32_t i = 0; i < plan->containers; i++) {
        const bp_container *c = &plan->container[i];
        if (c->air != air || c->on_set < after ||
            (c->on_set == after && last != BP_NO_INDEX && i <= last))
            continue;
        if (best == BP_NO_INDEX || c->on_set < plan->container[best].on_set)
            best = i;
    }
    return best;
}

void bpi_onset_draw(bpi_page *p, uint32_t air)
{
    const char *dress = p->plan->air[air].dress;
    const char *title = "On the set, in the order they are carried in";
    if (*dress)
        title = bpi_page_f(p, "%s. Dressed: %s", title, dress);
    const bpi_table table = {stand_columns, 7, title, false};
    uint32_t c = next_in(p->plan, air, INT64_MIN, BP_NO_INDEX);
    if (c == BP_NO_INDEX)
        return;
    bool band = false;
    bpi_table_begin(p, &table, 100);
    for (; c != BP_NO_INDEX; c = next_in(p->plan, air, p->plan->container[c].on_set, c)) {
        draw_stand(p, &table, c, band);
        band = !band;
    }
    bpi_table_end(p);
}

/* ---- the break before -------------------------------------------------------------------- */

/* Is it who brings something in or out between the end of the appearance before and this hit? Clearing
 * the set is for the appearance before, carrying for this one. */
static bool is_change(const bp_plan *plan, const bp_op *op, uint32_t air)
{
    int64_t end = plan->air[air - 1].hit + plan->air[air - 1].slot;
    if (op->from < end || op->from >= plan->air[air].hit)
        return false;
    return (op->kind == BP_OP_RESET && op->air == air - 1) ||
           (op->kind == BP_OP_CARRY && op->air == air);
}

static const char *all_codes(bpi_page *p, uint32_t air)
{
    const char *s = "";
    for (uint32_t i = 0; i < p->plan->containers; i++)
        if (p->plan->container[i].air == air)
            s = bpi_page_f(p, "%s%s%s", s, *s ? " " : "", p->plan->container[i].code);
    return s;
}

static const char *to_station(bpi_page *p, const bp_op *op)
{
    const char *at =
        op->serves.n ? p->plan->container[p->plan->index[op->serves.first]].station : "";
    return *at ? bpi_page_f(p, "in, to %s", at) : "in";
}

void bpi_onset_change_draw(bpi_page *p, uint32_t air)
{
    const bp_plan *plan = p->plan;
    const bpi_table table = {change_columns, 4, "In the break before: who brings what out and in",
                             true};
    bool begun = false;
    if (air == 0)
        return;
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *op = &plan->op[i];
        if (!is_change(plan, op, air))
            continue;
        if (!begun)
            bpi_table_begin(p, &table, 60);
        begun = true;
        char from[BP_CLOCK_ROOM], to[BP_CLOCK_ROOM];
        bool out = op->kind == BP_OP_RESET;
        bpi_row row = {.least = 18};
        bpi_cell_add(p, &row.cell[0], BPI_FONT_BOLD,
                     bpi_page_f(p, "%s to %s", bp_plan_clock(from, plan, op->from),
                                bp_plan_clock(to, plan, op->to)));
        bpi_cell_add(p, &row.cell[1], BPI_FONT_BODY,
                     op->person < plan->persons ? plan->person[op->person].name : "");
        bpi_cell_add(p, &row.cell[2], BPI_FONT_BODY,
                     out ? "out, all that is left of" : to_station(p, op));
        bpi_cell_add(p, &row.cell[3], BPI_FONT_STAGE,
                     out ? all_codes(p, air - 1)
                         : bpi_page_keep(p, bpi_fact_codes(p->arena, plan, op->serves)));
        bpi_table_row(p, &table, &row);
    }
    if (begun)
        bpi_table_end(p);
}

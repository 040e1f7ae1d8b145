#include "out/ifs.h"

#include "out/cut.h"
#include "out/facts.h"
#include "out/table.h"

static const bpi_column moved_columns[] = {
    {46, 0, "Code", BPI_LEFT},
    {0, 270, "Dish and stage", BPI_LEFT},
    {0, 150, "Good for a hit from", BPI_LEFT},
    {0, 150, "to", BPI_LEFT},
    {0, 150, "To make it again", BPI_LEFT},
};

#define ROW 20.0 /* height of a row of one line */

/* What must fit under a heading for so many rows to stand on one page; of a table longer than a
 * page, its first rows. */
static double together(const bpi_page *p, uint32_t rows)
{
    double all = ROW * rows;
    return all < p->bottom - p->top - 3 * ROW ? all : 4 * ROW;
}

/* ---- if time is lost --------------------------------------------------------------------- */

/* The columns of a panel: what it is about, and one for each loss, under what is left of the slot. */
static bpi_table panel(bpi_page *p, bpi_column *column, const bp_air *air, const bpi_losses *l,
                       const char *title, const char *first, bool as_planned)
{
    uint32_t n = 0;
    char loss[BP_CLOCK_ROOM], left[BP_CLOCK_ROOM];
    column[n++] = (bpi_column){0, 230, first, BPI_LEFT};
    if (as_planned)
        column[n++] = (bpi_column){
            0, 80, bpi_page_f(p, "slot %s", bpi_fact_minutes(left, air->slot)), BPI_LEFT};
    for (uint32_t k = 0; k < l->n; k++)
        column[n++] =
            (bpi_column){0, 120,
                         bpi_page_f(p, "lose %s, slot %s", bpi_fact_minutes(loss, l->loss[k]),
                                    bpi_fact_minutes(left, air->slot - l->loss[k])),
                         BPI_LEFT};
    return (bpi_table){column, n, title, true};
}

static bool ask(bpi_page *p, bp_slot_fit *fit, uint32_t air, uint32_t at, int64_t loss)
{
    bp_errors aside = {0};
    bp_code rc = bpi_cut_make(fit, p->plan, air, at, loss, &aside);
    p->no_memory |= rc == BP_ENOMEM;
    return rc == BP_OK;
}

static const char *beat_name(bpi_page *p, const bp_air *air, uint32_t i)
{
    return bpi_page_f(p, "%u. %s", (unsigned)i + 1, p->plan->beat[air->beats.first + i].text);
}

/* What walks into each other then, if anything does. */
static void draw_ways(bpi_page *p, uint32_t number, const bpi_table *table, const bpi_losses *l,
                      const bp_slot_fit *fit)
{
    bpi_row row = {.least = 16};
    bool any = false;
    bpi_cell_add(p, &row.cell[0], BPI_FONT_BOLD, "On the set then");
    for (uint32_t k = 0; k < l->n; k++) {
        const char *way = bpi_page_keep(p, bpi_cut_way(p->arena, p->plan, number, fit[k].kept));
        any |= *way != '\0';
        bpi_cell_add(p, &row.cell[2 + k], BPI_FONT_BOLD, way);
    }
    if (any)
        bpi_table_row(p, table, &row);
}

/* Each beat's length when so much is lost before the hit; then what is not needed. */
static void draw_cuts(bpi_page *p, uint32_t number, const bpi_losses *l)
{
    const bp_air *air = &p->plan->air[number];
    bpi_column column[2 + BPI_CUTS];
    bp_slot_fit fit[BPI_CUTS];
    const bpi_table table =
        panel(p, column, air, l, "If we lose time before the hit", "Beat", true);
    for (uint32_t k = 0; k < l->n; k++)
        if (!ask(p, &fit[k], number, 0, l->loss[k]))
            return;
    bpi_table_begin(p, &table, together(p, air->beats.n + 1));
    char a[BP_CLOCK_ROOM];
    for (uint32_t i = 0; i < air->beats.n; i++) {
        const bp_beat *b = &p->plan->beat[air->beats.first + i];
        bpi_row row = {.least = 16};
        bpi_cell_add(p, &row.cell[0], BPI_FONT_BODY, beat_name(p, air, i));
        bpi_cell_add(p, &row.cell[1], BPI_FONT_BODY,
                     b->dropped ? "OUT" : bpi_page_f(p, "%s", bpi_fact_minutes(a, b->length)));
        for (uint32_t k = 0; k < l->n; k++) {
            bool comes = fit[k].kept >> i & 1;
            bpi_cell_add(p, &row.cell[2 + k], comes ? BPI_FONT_BODY : BPI_FONT_BOLD,
                         comes ? bpi_page_f(p, "%s", bpi_fact_minutes(a, fit[k].length[i]))
                               : "OUT");
        }
        bpi_table_row(p, &table, &row);
    }
    bpi_row row = {.least = 16};
    bpi_cell_add(p, &row.cell[0], BPI_FONT_BOLD, "Not needed then");
    for (uint32_t k = 0; k < l->n; k++) {
        bpi_cell_add(p, &row.cell[2 + k], BPI_FONT_BOLD,
                     bpi_page_keep(p, bpi_cut_unused(p->arena, p->plan, number, fit[k].kept)));
        if (fit[k].over)
            bpi_cell_add(
                p, &row.cell[2 + k], BPI_FONT_BOLD,
                bpi_page_f(p, "%s %s",
                           bpi_fact_minutes(a, fit[k].over < 0 ? -fit[k].over : fit[k].over),
                           fit[k].over < 0 ? "SHORT" : "OVER"));
    }
    bpi_table_row(p, &table, &row);
    draw_ways(p, number, &table, l, fit);
    bpi_table_end(p);
}

/* What goes when as much is lost at the start of a beat. */
static void draw_late_cuts(bpi_page *p, uint32_t number, const bpi_losses *l)
{
    const bp_air *air = &p->plan->air[number];
    bpi_column column[2 + BPI_CUTS];
    const bpi_table table = panel(p, column, air, l, "If we lose time on air: what goes",
                                  "Told when this is to begin", false);
    bool begun = false;
    for (uint32_t i = 0; i < air->beats.n; i++) {
        if (!bpi_cut_is_boundary(p->plan, number, i))
            continue;
        if (!begun)
            bpi_table_begin(p, &table, together(p, air->beats.n));
        begun = true;
        char a[BP_CLOCK_ROOM];
        bpi_row row = {.least = 16};
        bpi_cell_add(p, &row.cell[0], BPI_FONT_BODY,
                     bpi_page_f(p, "%s  %s",
                                bpi_fact_minutes(a, p->plan->beat[air->beats.first + i].time_in),
                                beat_name(p, air, i)));
        for (uint32_t k = 0; k < l->n; k++) {
            bp_slot_fit fit;
            if (ask(p, &fit, number, i, l->loss[k]))
                bpi_cell_add(p, &row.cell[1 + k], fit.over ? BPI_FONT_BOLD : BPI_FONT_BODY,
                             bpi_page_keep(p, bpi_cut_text(p->arena, p->plan, number, i, &fit)));
        }
        bpi_table_row(p, &table, &row);
    }
    if (begun)
        bpi_table_end(p);
}

void bpi_if_lost_draw(bpi_page *p, uint32_t air)
{
    const bpi_losses l = bpi_cut_usual(&p->plan->air[air]);
    if (l.n == 0)
        return;
    draw_cuts(p, air, &l);
    draw_late_cuts(p, air, &l);
}

/* ---- if the hit moves -------------------------------------------------------------------- */

/* The container of this appearance that a later hit breaks next after (time, number). */
static uint32_t next_broken(const bp_plan *plan, uint32_t air, int64_t after, uint32_t last)
{
    uint32_t best = BP_NO_INDEX;
    int64_t least = 0;
    for (uint32_t i = 0; i < plan->containers; i++) {
        const bp_container *c = &plan->container[i];
        int64_t to = c->hit_to == BP_NO_TIME ? INT64_MAX : c->hit_to;
        if (c->air != air || c->hit_from == BP_NO_TIME || to < after ||
            (to == after && last != BP_NO_INDEX && i <= last))
            continue;
        if (best == BP_NO_INDEX || to < least) {
            best = i;
            least = to;
        }
    }
    return best;
}

static void draw_moved_row(bpi_page *p, const bpi_table *table, uint32_t container)
{
    const bp_plan *plan = p->plan;
    const bp_container *c = &plan->container[container];
    const bp_air *air = &plan->air[c->air];
    char a[BP_CLOCK_ROOM];
    bpi_row row = {.least = 16};
    bpi_cell_add(p, &row.cell[0], BPI_FONT_STAGE, c->code);
    bpi_cell_add(p, &row.cell[1], BPI_FONT_BODY,
                 bpi_page_keep(p, bpi_fact_container(p->arena, plan, container)));
    bpi_cell_add(p, &row.cell[2], air->hit_from_box == container ? BPI_FONT_BOLD : BPI_FONT_BODY,
                 bpi_page_f(p, "%s%s", bpi_fact_clock(a, plan, c->hit_from),
                            air->hit_from_box == container ? ", breaks first" : ""));
    bpi_cell_add(p, &row.cell[3], air->hit_to_box == container ? BPI_FONT_BOLD : BPI_FONT_BODY,
                 c->hit_to == BP_NO_TIME
                     ? "no limit"
                     : bpi_page_f(p, "%s%s", bpi_fact_clock(a, plan, c->hit_to),
                                  air->hit_to_box == container ? ", breaks first" : ""));
    bpi_cell_add(p, &row.cell[4], BPI_FONT_BODY,
                 bpi_page_f(p, "start %s before", bp_length_text(a, c->remake)));
    bpi_table_row(p, table, &row);
}

static uint32_t moved_rows(const bp_plan *plan, uint32_t air)
{
    uint32_t rows = 1; /* of the hit itself */
    for (uint32_t i = 0; i < plan->containers; i++)
        rows += plan->container[i].air == air;
    return rows;
}

bool bpi_if_moved_fits(const bpi_page *p, uint32_t air)
{
    return p->y + ROW * (moved_rows(p->plan, air) + 2) <= p->bottom;
}

/* How far the hit can move, and each container's own part in it, those that break first on top. */
void bpi_if_moved_draw(bpi_page *p, uint32_t air)
{
    const bp_plan *plan = p->plan;
    const bp_air *at = &plan->air[air];
    uint32_t c = next_broken(plan, air, INT64_MIN, BP_NO_INDEX);
    if (c == BP_NO_INDEX || plan->verdict != BP_PLANNED)
        return;
    char from[BP_CLOCK_ROOM], to[BP_CLOCK_ROOM];
    const bpi_table table = {moved_columns, 5, "If the hit moves, with all cooked as planned",
                             true};
    bpi_table_begin(p, &table, together(p, moved_rows(plan, air)));
    bpi_row row = {.least = 16, .whole = true, .band = true};
    bpi_cell_add(
        p, &row.cell[0], BPI_FONT_BOLD,
        bpi_page_f(p, "The hit can be from %s (before it %s) to %s%s%s%s.",
                   bp_plan_clock(from, plan, at->hit_from), at->hit_from_why,
                   at->hit_to == BP_NO_TIME ? "any time" : bp_plan_clock(to, plan, at->hit_to),
                   at->hit_to == BP_NO_TIME ? "" : " (after it ", at->hit_to_why,
                   at->hit_to == BP_NO_TIME ? "" : ")"));
    bpi_table_row(p, &table, &row);
    while (c != BP_NO_INDEX) {
        draw_moved_row(p, &table, c);
        int64_t to_hit = plan->container[c].hit_to;
        c = next_broken(plan, air, to_hit == BP_NO_TIME ? INT64_MAX : to_hit, c);
    }
    bpi_table_end(p);
}

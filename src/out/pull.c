#include "out/pull.h"

#include <string.h>

#include "out/plain.h"

/* ---- the list ---------------------------------------------------------------------------- */

#define COLUMNS 3
#define WIDEST  60 /* a longer cell pushes its own line out, not all of them */

typedef struct cells {
    bpi_text column[COLUMNS];
} cells;

static void release(cells *c)
{
    for (int i = 0; i < COLUMNS; i++)
        bpi_text_release(&c->column[i]);
}

static cells cells_of(const bp_good *g)
{
    cells c = {{BPI_TEXT_EMPTY, BPI_TEXT_EMPTY, BPI_TEXT_EMPTY}};
    bpi_plain_put(&c.column[0], g->need);
    bpi_plain_put(&c.column[1], g->item);
    if (*g->note) {
        bpi_text_put(&c.column[1], ", ");
        bpi_plain_put(&c.column[1], g->note);
    }
    if (*g->allergens) {
        bpi_text_put(&c.column[1], " (contains ");
        bpi_plain_put(&c.column[1], g->allergens);
        bpi_text_char(&c.column[1], ')');
    }
    if (*g->have) {
        bpi_text_put(&c.column[2], strcmp(g->have, "at hand") ? "have " : "");
        bpi_plain_put(&c.column[2], g->have);
    }
    if (*g->buy && !(*g->have && strcmp(g->have, "at hand") == 0)) {
        bpi_text_put(&c.column[2], *g->have ? ", buy " : "buy ");
        bpi_plain_put(&c.column[2], g->buy);
    }
    for (int i = 0; i < COLUMNS; i++)
        bpi_text_put(&c.column[i], ""); /* never NULL */
    return c;
}

static bool failed(const cells *c)
{
    for (int i = 0; i < COLUMNS; i++)
        if (c->column[i].failed)
            return true;
    return false;
}

static bool measure(size_t most[COLUMNS], const bp_plan *plan)
{
    bool good = true;
    for (uint32_t i = 0; i < plan->goods && good; i++) {
        cells c = cells_of(&plan->good[i]);
        good = !failed(&c);
        for (int k = 0; k < COLUMNS && good; k++) {
            size_t w = bpi_plain_width(c.column[k].s);
            if (w > most[k] && w <= WIDEST)
                most[k] = w;
        }
        release(&c);
    }
    return good;
}

static bool put_good(bpi_text *out, const bp_good *g, const size_t most[COLUMNS])
{
    cells c = cells_of(g);
    bool good = !failed(&c);
    bpi_text_put(out, "  [ ]");
    for (int k = 0; k < COLUMNS && good; k++) {
        bpi_text_f(out, "  %s", c.column[k].s);
        for (size_t w = bpi_plain_width(c.column[k].s); w < most[k]; w++)
            bpi_text_char(out, ' ');
    }
    bpi_text_put(out, "  ");
    bpi_plain_put(out, g->codes);
    while (out->len && !out->failed && out->s[out->len - 1] == ' ')
        out->s[--out->len] = '\0';
    bpi_text_char(out, '\n');
    if (*g->instead) {
        bpi_text_f(out, "       %*s  or else: ", (int)(most[0] < WIDEST ? most[0] : WIDEST), "");
        bpi_plain_put(out, g->instead);
        bpi_text_char(out, '\n');
    }
    release(&c);
    return good;
}

static bool placed(const bp_good *g)
{
    return g->kind == BP_GOOD_FOOD || g->kind == BP_GOOD_SUPPLY;
}

/* "market: vegetables", "Vessels". */
static void put_group(bpi_text *out, const bp_good *g)
{
    if (!placed(g)) {
        bpi_text_put(out, g->kind == BP_GOOD_VESSEL ? "Vessels" : "Tools");
        return;
    }
    if (g->kind == BP_GOOD_SUPPLY)
        bpi_text_put(out, *g->from ? "Supplies, " : "Supplies");
    bpi_plain_put(out, *g->from || g->kind == BP_GOOD_SUPPLY ? g->from : "From anywhere");
    if (*g->aisle) {
        bpi_text_put(out, ": ");
        bpi_plain_put(out, g->aisle);
    }
}

static bool same_group(const bp_good *a, const bp_good *b)
{
    return a->kind == b->kind &&
           (!placed(a) || (strcmp(a->from, b->from) == 0 && strcmp(a->aisle, b->aisle) == 0));
}

static bool is_first_of_group(const bp_plan *plan, uint32_t i)
{
    for (uint32_t j = 0; j < i; j++)
        if (same_group(&plan->good[i], &plan->good[j]))
            return false;
    return true;
}

/* The groups of one kind, each where its first member stands in the plan. */
static bool put_kind(bpi_text *out, const bp_plan *plan, bp_good_kind kind,
                     const size_t most[COLUMNS])
{
    bool good = true;
    for (uint32_t i = 0; i < plan->goods; i++) {
        if (plan->good[i].kind != kind || !is_first_of_group(plan, i))
            continue;
        bpi_text_char(out, '\n');
        put_group(out, &plan->good[i]);
        bpi_text_char(out, '\n');
        for (uint32_t j = i; j < plan->goods; j++)
            if (same_group(&plan->good[i], &plan->good[j]))
                good = put_good(out, &plan->good[j], most) && good;
    }
    return good;
}

bp_code bpi_pull_text_write(bpi_text *out, const bp_plan *plan, bp_errors *errs)
{
    static const bp_good_kind kinds[] = {BP_GOOD_FOOD, BP_GOOD_VESSEL, BP_GOOD_TOOL,
                                         BP_GOOD_SUPPLY};
    size_t most[COLUMNS] = {0};
    bpi_plain_head(out, "Pull list", plan);
    bool good = measure(most, plan);
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        good = good && put_kind(out, plan, kinds[i], most);
    if (plan->goods == 0)
        bpi_text_put(out, "\nNothing to fetch.\n");
    bpi_plain_foot(out, plan);
    return good && !out->failed ? BP_OK : bpi_error_no_memory(errs);
}

/* ---- the table --------------------------------------------------------------------------- */

bp_code bpi_pull_csv_write(bpi_text *out, const bp_plan *plan, bp_errors *errs)
{
    bpi_text_put(out, "kind,from,item,note,need,buy,containers,allergens,aisle,have,instead\r\n");
    for (uint32_t i = 0; i < plan->goods; i++) {
        const bp_good *g = &plan->good[i];
        const char *const cell[] = {bp_good_kind_name(g->kind),
                                    g->from,
                                    g->item,
                                    g->note,
                                    g->need,
                                    g->buy,
                                    g->codes,
                                    g->allergens,
                                    g->aisle,
                                    g->have,
                                    g->instead};
        bpi_plain_cells(out, cell, sizeof cell / sizeof *cell);
    }
    return out->failed ? bpi_error_no_memory(errs) : BP_OK;
}

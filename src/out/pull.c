#include "out/pull.h"

#include <string.h>

#include "out/fetch.h"
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
    if (g->provided)
        bpi_text_put(&c.column[2], "provided");
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

static bool put_group(bpi_text *out, const bp_plan *plan, const bpi_fetch *group,
                      const size_t most[COLUMNS])
{
    bool good = true;
    bpi_text_char(out, '\n');
    bpi_plain_put(out, group->name);
    bpi_text_char(out, '\n');
    for (uint32_t i = 0; i < group->goods; i++)
        good = put_good(out, &plan->good[group->good[i]], most) && good;
    return good;
}

bp_code bpi_pull_text_write(bpi_text *out, const bp_plan *plan, bp_errors *errs)
{
    size_t most[COLUMNS] = {0};
    uint32_t n = 0;
    bpi_arena *a = bpi_arena_new();
    const bpi_fetch *group = a ? bpi_fetch_groups(a, plan, &n) : NULL;
    bool good = group && measure(most, plan);
    bpi_plain_head(out, "Pull list", plan);
    for (uint32_t i = 0; good && i < n; i++)
        good = put_group(out, plan, &group[i], most);
    if (plan->goods == 0)
        bpi_text_put(out, "\nNothing to fetch.\n");
    bpi_plain_foot(out, plan);
    bpi_arena_free(a);
    return good && !out->failed ? BP_OK : bpi_error_no_memory(errs);
}

/* ---- the table --------------------------------------------------------------------------- */

bp_code bpi_pull_csv_write(bpi_text *out, const bp_plan *plan, bp_errors *errs)
{
    bpi_text_put(
        out, "kind,from,item,note,need,buy,containers,allergens,aisle,have,instead,provided\r\n");
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
                                    g->instead,
                                    g->provided ? "yes" : ""};
        bpi_plain_cells(out, cell, sizeof cell / sizeof *cell);
    }
    return out->failed ? bpi_error_no_memory(errs) : BP_OK;
}

#include "out/pull.h"

#include <glib.h>
#include <string.h>

#include "base/utf8.h"
#include "out/facts.h"

/* ---- the list ---------------------------------------------------------------------------- */

#define COLUMNS 3
#define WIDEST  60 /* a longer cell pushes its own line out, not all of them */

/* Columns that a text takes on paper with letters of one width. */
static size_t width(const char *s)
{
    size_t n = 0, len = strlen(s);
    for (size_t i = 0; i < len;) {
        uint32_t code = 0xFFFD;
        size_t step = bpi_utf8_step(s + i, len - i, &code);
        i += step ? step : 1;
        if (!g_unichar_iszerowidth(code))
            n += g_unichar_iswide(code) ? 2 : 1;
    }
    return n;
}

static void put(bpi_text *out, const char *s)
{
    bpi_utf8_plain(out, s, strlen(s));
}

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
    put(&c.column[0], g->need);
    put(&c.column[1], g->item);
    if (*g->note) {
        bpi_text_put(&c.column[1], ", ");
        put(&c.column[1], g->note);
    }
    if (*g->allergens) {
        bpi_text_put(&c.column[1], " (contains ");
        put(&c.column[1], g->allergens);
        bpi_text_char(&c.column[1], ')');
    }
    if (*g->have) {
        bpi_text_put(&c.column[2], strcmp(g->have, "at hand") ? "have " : "");
        put(&c.column[2], g->have);
    }
    if (*g->buy && !(*g->have && strcmp(g->have, "at hand") == 0)) {
        bpi_text_put(&c.column[2], *g->have ? ", buy " : "buy ");
        put(&c.column[2], g->buy);
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
            size_t w = width(c.column[k].s);
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
        for (size_t w = width(c.column[k].s); w < most[k]; w++)
            bpi_text_char(out, ' ');
    }
    bpi_text_put(out, "  ");
    put(out, g->codes);
    while (out->len && !out->failed && out->s[out->len - 1] == ' ')
        out->s[--out->len] = '\0';
    bpi_text_char(out, '\n');
    if (*g->instead) {
        bpi_text_f(out, "       %*s  or else: ", (int)(most[0] < WIDEST ? most[0] : WIDEST), "");
        put(out, g->instead);
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
    put(out, *g->from || g->kind == BP_GOOD_SUPPLY ? g->from : "From anywhere");
    if (*g->aisle) {
        bpi_text_put(out, ": ");
        put(out, g->aisle);
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
    char date[BPI_FACT_DATE_ROOM];
    size_t most[COLUMNS] = {0};
    bpi_text_put(out, "Pull list: ");
    put(out, plan->title);
    bpi_text_f(out, "\n%s, plan %s\n", bpi_fact_date(date, plan), plan->stamp);
    bool good = measure(most, plan);
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        good = good && put_kind(out, plan, kinds[i], most);
    if (plan->goods == 0)
        bpi_text_put(out, "\nNothing to fetch.\n");
    bpi_text_char(out, '\n');
    put(out, plan->defer);
    bpi_text_char(out, '\n');
    return good && !out->failed ? BP_OK : bpi_error_no_memory(errs);
}

/* ---- the table --------------------------------------------------------------------------- */

/* A spreadsheet takes these for the start of a formula, some also in full width. */
static bool is_formula(const char *s)
{
    static const char *const signs[] = {"=", "+", "-", "@", "\uFF1D", "\uFF0B", "\uFF0D", "\uFF20"};
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (strncmp(s, signs[i], strlen(signs[i])) == 0)
            return true;
    return false;
}

static void put_cell(bpi_text *out, const char *s, bool last)
{
    bool formula = is_formula(s);
    bool quoted = strpbrk(s, ",\"\r\n") != NULL;
    bpi_text_put(out, quoted ? "\"" : "");
    bpi_text_put(out, formula ? "'" : "");
    for (; *s; s++) {
        if (*s == '"')
            bpi_text_char(out, '"');
        bpi_text_char(out, *s);
    }
    bpi_text_put(out, quoted ? "\"" : "");
    bpi_text_put(out, last ? "\r\n" : ",");
}

bp_code bpi_pull_csv_write(bpi_text *out, const bp_plan *plan, bp_errors *errs)
{
    static const char *const kinds[] = {[BP_GOOD_FOOD] = "food",
                                        [BP_GOOD_VESSEL] = "vessel",
                                        [BP_GOOD_TOOL] = "tool",
                                        [BP_GOOD_SUPPLY] = "supply"};
    bpi_text_put(out, "kind,from,item,note,need,buy,containers,allergens,aisle,have,instead\r\n");
    for (uint32_t i = 0; i < plan->goods; i++) {
        const bp_good *g = &plan->good[i];
        const char *const cell[] = {kinds[g->kind], g->from, g->item,   g->note,
                                    g->need,        g->buy,  g->codes,  g->allergens,
                                    g->aisle,       g->have, g->instead};
        size_t n = sizeof cell / sizeof *cell;
        for (size_t k = 0; k < n; k++)
            put_cell(out, cell[k], k + 1 == n);
    }
    return out->failed ? bpi_error_no_memory(errs) : BP_OK;
}

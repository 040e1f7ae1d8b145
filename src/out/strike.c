#include "out/strike.h"

#include <string.h>

#include "out/facts.h"
#include "out/page.h"
#include "out/paper.h"
#include "out/plain.h"
#include "out/table.h"

/* The rule of the third one, from memory, is FDA Food Code 3-306.14(A). */
static const char *const cautions[] = {
    "Times count on from how the food was kept as planned. When in doubt, throw it out.",
    "What stood warm for longer goes sooner. A stricter local code comes first.",
    "What was put before somebody to eat is not served again, whatever the time.",
    "Where no limit is told, the show file calls nothing in it perishable: a person judges.",
};

/* ---- what is cleared ------------------------------------------------------------------------ */

static bool sooner(const bp_plan *plan, uint32_t a, uint32_t b)
{
    int64_t x = plan->container[a].use_by, y = plan->container[b].use_by;
    if (x == y)
        return a < b;
    return y == BP_NO_TIME || (x != BP_NO_TIME && x < y);
}

/* The container of an appearance that is thrown away next after `last`; BP_NO_INDEX: none. */
static uint32_t next_of(const bp_plan *plan, uint32_t air, uint32_t last)
{
    uint32_t best = BP_NO_INDEX;
    for (uint32_t c = 0; c < plan->containers; c++)
        if (plan->container[c].air == air && (last == BP_NO_INDEX || sooner(plan, last, c)) &&
            (best == BP_NO_INDEX || sooner(plan, c, best)))
            best = c;
    return best;
}

static const bp_op *reset_of(const bp_plan *plan, uint32_t air)
{
    for (uint32_t i = 0; i < plan->ops; i++)
        if (plan->op[i].kind == BP_OP_RESET && plan->op[i].air == air)
            return &plan->op[i];
    return NULL;
}

/* "From 08:29 to 08:34: Rui Sol", "From 08:28:25; by whom: ____". */
static const char *when_of(bpi_arena *a, const bp_plan *plan, uint32_t air)
{
    bpi_text t = BPI_TEXT_EMPTY;
    char from[BP_CLOCK_ROOM], to[BP_CLOCK_ROOM];
    const bp_op *op = reset_of(plan, air);
    int64_t end = plan->air[air].hit + plan->air[air].slot + plan->air[air].floats;
    bpi_text_f(&t, "Cleared from %s", bp_plan_clock(from, plan, op ? op->from : end));
    if (op)
        bpi_text_f(&t, " to %s", bp_plan_clock(to, plan, op->to));
    if (op && op->person < plan->persons)
        bpi_text_f(&t, ": %s", plan->person[op->person].name);
    else
        bpi_text_put(&t, "; nobody is planned for it, by whom: ____________________");
    return bpi_fact_keep(a, &t);
}

static const char *by_of(bpi_arena *a, const bp_plan *plan, const bp_container *c)
{
    bpi_text t = BPI_TEXT_EMPTY;
    char clock[BP_CLOCK_ROOM];
    int64_t end = plan->air[c->air].hit + plan->air[c->air].slot;
    if (c->use_by == BP_NO_TIME)
        bpi_text_put(&t, "no limit told");
    else
        bpi_text_f(&t, "%s%s", bp_plan_clock(clock, plan, c->use_by),
                   c->use_by <= end ? ", at once" : "");
    return bpi_fact_keep(a, &t);
}

static bool stands_with(const bp_plan *plan, uint32_t container, const char *item)
{
    for (uint32_t i = 0; i < plan->stands; i++)
        if (plan->stand[i].container == container && strcmp(plan->stand[i].item, item) == 0)
            return true;
    return false;
}

static void put(bpi_text *t, uint32_t n, const char *item, const char *note)
{
    bpi_text_f(t, "%s%u x %s%s%s", t->len ? "\n" : "", (unsigned)n, item, *note ? ", " : "", note);
}

/* Vessels that are followed stand on the set with their food: its operation there names them. */
static void put_followed(bpi_text *t, const bp_plan *plan, uint32_t c)
{
    for (uint32_t o = 0; o < plan->ops; o++) {
        const bp_op *op = &plan->op[o];
        if (op->kind != BP_OP_SET || !bpi_fact_serves(plan, o, c))
            continue;
        for (uint32_t i = 0; i < op->uses.n; i++) {
            const bp_thing *thing = &plan->thing[plan->index[op->uses.first + i]];
            if (thing->kind == BP_VESSEL && !stands_with(plan, c, thing->name))
                put(t, 1, thing->name, thing->size);
        }
    }
}

/* What is washed with a container, one a line. Supplies are not: they go to where they came from. */
static const char *washed(bpi_arena *a, const bp_plan *plan, uint32_t c)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_put(&t, "");
    put_followed(&t, plan, c);
    for (uint32_t i = 0; i < plan->stands; i++)
        if (plan->stand[i].container == c && plan->stand[i].kind != BP_GOOD_SUPPLY)
            put(&t, plan->stand[i].count, plan->stand[i].item,
                plan->stand[i].kind == BP_GOOD_VESSEL ? plan->stand[i].note : "");
    return bpi_fact_keep(a, &t);
}

static bool is_other(const bp_stand *s, uint32_t air)
{
    return s->air == air && (s->container == BP_NO_INDEX || s->kind == BP_GOOD_SUPPLY);
}

static bool is_same(const bp_stand *a, const bp_stand *b)
{
    return a->kind == b->kind && strcmp(a->item, b->item) == 0 &&
           strcmp(a->station, b->station) == 0;
}

/* All other things of an appearance that stood there, one a line: those of one kind at a station together. */
static const char *others(bpi_arena *a, const bp_plan *plan, uint32_t air)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_put(&t, "");
    for (uint32_t i = 0; i < plan->stands; i++) {
        const bp_stand *s = &plan->stand[i];
        bool told = !is_other(s, air);
        uint32_t count = 0;
        for (uint32_t k = 0; k < plan->stands && !told; k++)
            if (is_other(&plan->stand[k], air) && is_same(s, &plan->stand[k])) {
                told = k < i;
                count += plan->stand[k].count;
            }
        if (!told)
            put(&t, count, s->item, s->station);
    }
    return bpi_fact_keep(a, &t);
}

/* ---- on paper ------------------------------------------------------------------------------- */

static const bpi_column columns[] = {
    {76, 0, "Code", BPI_LEFT},
    {0, 190, "What is left", BPI_LEFT},
    {112, 0, "Thrown away by", BPI_LEFT},
    {0, 130, "Washed", BPI_LEFT},
};

static void draw_box(bpi_page *p, const bpi_table *table, uint32_t i, bool band)
{
    const bp_container *c = &p->plan->container[i];
    bpi_row row = {.least = 30, .band = band};
    bpi_cell_add_marked(p, &row.cell[0], BPI_FONT_CODE, BPI_TICK_BOX, c->code);
    bpi_cell_add(p, &row.cell[1], BPI_FONT_BODY,
                 bpi_page_keep(p, bpi_fact_container(p->arena, p->plan, i)));
    if (*c->station)
        bpi_cell_add(p, &row.cell[1], BPI_FONT_BODY, bpi_page_f(p, "at: %s", c->station));
    bpi_cell_add(p, &row.cell[2], c->use_by == BP_NO_TIME ? BPI_FONT_BODY : BPI_FONT_STEP,
                 bpi_page_keep(p, by_of(p->arena, p->plan, c)));
    bpi_cell_add_lines(p, &row.cell[3], BPI_TICK_BOX,
                       bpi_page_keep(p, washed(p->arena, p->plan, i)));
    bpi_table_row(p, table, &row);
}

static void draw_air(bpi_page *p, uint32_t air)
{
    const bp_plan *plan = p->plan;
    char clock[BP_CLOCK_ROOM];
    p->section = bpi_page_f(p, "%s at %s", plan->air[air].id,
                            bp_plan_clock(clock, plan, plan->air[air].hit));
    bpi_page_begin(p);
    bpi_page_para(p, BPI_FONT_TITLE, plan->air[air].title);
    p->y += 4;
    bpi_page_para(p, BPI_FONT_STEP, bpi_page_keep(p, when_of(p->arena, plan, air)));
    p->y += 6;
    bool band = false;
    const bpi_table table = {columns, 4, NULL, true};
    bpi_table_begin(p, &table, 0);
    for (uint32_t c = next_of(plan, air, BP_NO_INDEX); c != BP_NO_INDEX;
         c = next_of(plan, air, c)) {
        draw_box(p, &table, c, band);
        band = !band;
    }
    const char *loose = bpi_page_keep(p, others(p->arena, plan, air));
    bpi_row row = {.whole = true};
    bpi_cell_add_lines(p, &row.cell[0], BPI_TICK_BOX, loose);
    if (*loose)
        bpi_table_row(p, &table, &row);
    bpi_table_end(p);
    bpi_page_need(p, 60);
    for (size_t i = 0; i < sizeof cautions / sizeof *cautions; i++)
        bpi_page_para(p, BPI_FONT_BODY, cautions[i]);
}

static void draw(bpi_page *p)
{
    for (uint32_t a = 0; a < p->plan->airs; a++)
        draw_air(p, a);
    if (!p->plan->airs)
        bpi_page_begin(p);
}

bp_code bpi_strike_sheet_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"Strike list", letter, false, false, draw, NULL};
    return bpi_paper_write(out, plan, &sheet, errs);
}

/* ---- as text -------------------------------------------------------------------------------- */

static void put_lines(bpi_text *out, const char *before, const char *s)
{
    while (*s) {
        size_t len = strcspn(s, "\n");
        bpi_text_f(out, "%s", before);
        bpi_text_add(out, s, len);
        bpi_text_char(out, '\n');
        s += len + (s[len] == '\n');
    }
}

static bool put_box(bpi_text *out, bpi_arena *a, const bp_plan *plan, uint32_t i)
{
    const bp_container *c = &plan->container[i];
    const char *what = bpi_fact_container(a, plan, i), *by = by_of(a, plan, c);
    const char *wash = washed(a, plan, i);
    if (!what || !by || !wash)
        return false;
    bpi_text_f(out, "  [ ] %-4s ", c->code);
    bpi_plain_put(out, what);
    bpi_text_f(out, "%s", *c->station ? ", at: " : "");
    bpi_plain_put(out, c->station);
    bpi_text_f(out, "; thrown away by: %s\n", by);
    put_lines(out, "           [ ] wash ", wash);
    return true;
}

static bool put_air(bpi_text *out, bpi_arena *a, const bp_plan *plan, uint32_t air)
{
    char clock[BP_CLOCK_ROOM];
    const char *when = when_of(a, plan, air), *loose = others(a, plan, air);
    if (!when || !loose)
        return false;
    bpi_text_f(out, "\n%s  ", bp_plan_clock(clock, plan, plan->air[air].hit));
    bpi_plain_put(out, plan->air[air].title);
    bpi_text_char(out, '\n');
    bpi_plain_put(out, when);
    bpi_text_char(out, '\n');
    for (uint32_t c = next_of(plan, air, BP_NO_INDEX); c != BP_NO_INDEX; c = next_of(plan, air, c))
        if (!put_box(out, a, plan, c))
            return false;
    put_lines(out, "  [ ] ", loose);
    return true;
}

bp_code bpi_strike_text_write(bpi_text *out, const bp_plan *plan, bp_errors *errs)
{
    bpi_arena *a = bpi_arena_new();
    bool good = a != NULL;
    bpi_plain_head(out, "Strike list", plan);
    for (uint32_t i = 0; i < plan->airs && good; i++)
        good = put_air(out, a, plan, i);
    for (size_t i = 0; i < sizeof cautions / sizeof *cautions; i++)
        bpi_text_f(out, "\n%s\n", cautions[i]);
    bpi_plain_foot(out, plan);
    bpi_arena_free(a);
    return good && !out->failed ? BP_OK : bpi_error_no_memory(errs);
}

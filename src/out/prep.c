#include "out/prep.h"

#include <string.h>

#include "out/facts.h"
#include "out/log.h"
#include "out/page.h"
#include "out/paper.h"
#include "out/table.h"

static const bpi_column columns[] = {
    {26, 0, "", BPI_LEFT},
    {86, 0, "Start", BPI_LEFT},
    {0, 300, "What", BPI_LEFT},
    {0, 122, "Where", BPI_LEFT},
};

static const bpi_table table = {columns, 4, NULL, false};

/* Found once: what came before each operation, and who answers for it. */
typedef struct links {
    uint32_t *before, *person;
} links;

static const links *links_of(const bpi_page *p)
{
    return p->own;
}

static bool find_links(bpi_page *p)
{
    links *l = BPI_TAKE(p->arena, 1, links);
    if (!l)
        return false;
    l->before = BPI_TAKE(p->arena, p->plan->ops, uint32_t);
    l->person = BPI_TAKE(p->arena, p->plan->ops, uint32_t);
    if (!l->before || !l->person)
        return false;
    for (uint32_t i = 0; i < p->plan->ops; i++) {
        l->before[i] = bpi_fact_before(p->plan, i, false);
        l->person[i] = bpi_fact_person(p->plan, i);
    }
    p->own = l;
    return true;
}

static const char *clock_text(bpi_page *p, int64_t t)
{
    char clock[BP_CLOCK_ROOM];
    return bpi_page_f(p, "%s", bp_plan_clock(clock, p->plan, t));
}

/* ---- the head of a cook's sheet ------------------------------------------------------------ */

static double put_figure(bpi_page *p, double x, const char *name, const char *figure)
{
    double wide = bpi_type_width(p->type, BPI_FONT_BIG, figure) + 1;
    bpi_page_text(p, BPI_FONT_HEAD, name, x, p->y, wide, BPI_LEFT);
    bpi_page_text(p, BPI_FONT_BIG, figure, x, p->y + 12, wide, BPI_LEFT);
    return x + wide + 30;
}

static void draw_person_head(bpi_page *p, uint32_t person)
{
    const bp_plan *plan = p->plan;
    const bp_person *who = &plan->person[person];
    bpi_page_para(p, BPI_FONT_TITLE,
                  who->presenter ? bpi_page_f(p, "%s, presenter", who->name) : who->name);
    p->y += 4;
    for (uint32_t i = 0; i < who->stints.n; i++) {
        const bp_stint *s = &plan->stint[who->stints.first + i];
        double x = put_figure(p, p->left, "Call", clock_text(p, s->call));
        put_figure(p, x, "Release", clock_text(p, s->release));
        p->y += 40;
    }
    for (uint32_t i = 0; i < plan->rests; i++)
        if (plan->rest[i].person == person)
            bpi_page_para(p, BPI_FONT_STEP,
                          bpi_page_f(p, "Break %s to %s", clock_text(p, plan->rest[i].from),
                                     clock_text(p, plan->rest[i].to)));
    p->y += 6;
}

/* ---- where --------------------------------------------------------------------------------- */

static uint32_t times_used(const bp_plan *plan, bp_slice uses, uint32_t at)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < uses.n; i++)
        if (plan->index[uses.first + i] == plan->index[uses.first + at]) {
            if (i < at)
                return 0; /* said already */
            n++;
        }
    return n;
}

static bool is_place(const bp_thing *t)
{
    return t->kind >= BP_PLACE_COUNTER && t->kind <= BP_PLACE_COLD;
}

static const char *thing_text(bpi_page *p, const bp_op *op, const bp_thing *t, uint32_t n)
{
    const char *name = *t->name ? t->name : t->id;
    const char *s = name;
    if (t->kind == BP_BURNER)
        s = n == 1 ? "1 burner" : bpi_page_f(p, "%u burners", (unsigned)n);
    else if (n > 1 && is_place(t))
        s = bpi_page_f(p, "%s, %u positions", name, (unsigned)n);
    else if (n > 1)
        s = bpi_page_f(p, "%u \xC3\x97 %s", (unsigned)n, name);
    if (t->kind == BP_OVEN && *op->oven_text)
        s = bpi_page_f(p, "%s, %s", s, op->oven_text);
    if (*t->size)
        s = bpi_page_f(p, "%s, %s", s, t->size);
    return s;
}

static void add_where(bpi_page *p, bpi_cell *cell, const bp_op *op)
{
    const bp_plan *plan = p->plan;
    for (uint32_t i = 0; i < op->uses.n; i++) {
        uint32_t n = times_used(plan, op->uses, i);
        if (n == 0)
            continue;
        const bp_thing *t = &plan->thing[plan->index[op->uses.first + i]];
        bool heat = t->kind == BP_BURNER || t->kind == BP_OVEN;
        bpi_cell_add(p, cell, heat ? BPI_FONT_BOLD : BPI_FONT_BODY, thing_text(p, op, t, n));
    }
    for (uint32_t i = 0; i < plan->draws; i++)
        if (&plan->op[plan->draw[i].op] == op)
            bpi_cell_add(p, cell, BPI_FONT_BODY,
                         bpi_page_f(p, "%u W from %s", (unsigned)plan->draw[i].watts,
                                    plan->circuit[plan->draw[i].circuit].name));
    if (op->kind != BP_OP_CARRY)
        return;
    for (uint32_t i = 0; i < op->serves.n; i++) {
        const bp_container *c = &plan->container[plan->index[op->serves.first + i]];
        if (*c->station)
            bpi_cell_add(p, cell, BPI_FONT_BOLD, bpi_page_f(p, "%s: %s", c->code, c->station));
    }
}

/* ---- what ---------------------------------------------------------------------------------- */

/* "between 07:51 and 07:54"; "" where no window is given. */
static const char *window_text(bpi_page *p, const bp_op *op)
{
    if (op->off_least == BP_NO_TIME && op->off_most == BP_NO_TIME)
        return "";
    if (op->off_least == BP_NO_TIME)
        return bpi_page_f(p, "by %s", clock_text(p, op->off_most));
    if (op->off_most == BP_NO_TIME)
        return bpi_page_f(p, "from %s on", clock_text(p, op->off_least));
    if (op->off_most == op->off_least)
        return bpi_page_f(p, "at %s", clock_text(p, op->off_most));
    return bpi_page_f(p, "between %s and %s", clock_text(p, op->off_least),
                      clock_text(p, op->off_most));
}

/* The place of a wait, and how many positions of it; BP_NO_INDEX: not said, or on the set. */
static uint32_t place_of(const bp_plan *plan, const bp_op *wait, uint32_t *positions)
{
    uint32_t place = BP_NO_INDEX;
    *positions = 0;
    for (uint32_t i = 0; i < wait->uses.n && wait->kind == BP_OP_WAIT; i++) {
        uint32_t thing = plan->index[wait->uses.first + i];
        if (!is_place(&plan->thing[thing]))
            continue;
        place = thing;
        ++*positions;
    }
    return place;
}

static bool same_wait(const bp_plan *plan, const bp_op *a, const bp_op *b)
{
    uint32_t of_a, of_b;
    return a->kind == b->kind && a->hold_until == b->hold_until &&
           place_of(plan, a, &of_a) == place_of(plan, b, &of_b) && of_a == of_b;
}

/* Waits alike in all but their ends share a line: "Then: hot cupboard, good until 08:33: A3 until
 * 08:13, A5 until 08:14". */
static void add_wait(bpi_page *p, bpi_cell *cell, uint32_t first)
{
    const bp_plan *plan = p->plan;
    const bp_op *w = &plan->op[first];
    uint32_t positions, place = place_of(plan, w, &positions), before = links_of(p)->before[first];
    const char *s = "Then wait";
    if (w->kind == BP_OP_SET)
        s = "Then: on the set";
    else if (place != BP_NO_INDEX)
        s = bpi_page_f(p, "Then: %s", thing_text(p, w, &plan->thing[place], positions));
    if (w->hold_until != BP_NO_TIME)
        s = bpi_page_f(p, "%s, good until %s", s, clock_text(p, w->hold_until));
    for (uint32_t i = first; i < plan->ops; i++) {
        const bp_op *o = &plan->op[i];
        if (links_of(p)->before[i] == before && same_wait(plan, w, o))
            s = bpi_page_f(p, "%s%s %s until %s", s, i == first ? ":" : ",",
                           bpi_page_keep(p, bpi_fact_codes(p->arena, plan, o->serves)),
                           clock_text(p, o->to));
    }
    bpi_cell_add(p, cell, BPI_FONT_BODY, s);
}

static bool is_wait(const bp_op *op)
{
    return op->kind == BP_OP_WAIT || op->kind == BP_OP_SET;
}

/* Where what is done here goes to wait, and how long it may. */
static void add_then(bpi_page *p, bpi_cell *cell, uint32_t op)
{
    const bp_plan *plan = p->plan;
    for (uint32_t i = op + 1; i < plan->ops; i++) {
        bool said = !is_wait(&plan->op[i]) || links_of(p)->before[i] != op;
        for (uint32_t k = op + 1; k < i && !said; k++)
            said = links_of(p)->before[k] == op && same_wait(plan, &plan->op[i], &plan->op[k]);
        if (!said)
            add_wait(p, cell, i);
    }
}

/* The core temperature is read when a dish comes off the heat, so it is said there. */
static bool says_core(const bp_plan *plan, uint32_t op)
{
    if (!*plan->op[op].core_text || plan->op[op].kind == BP_OP_LOAD)
        return false;
    uint32_t after = bpi_fact_hands_on(plan->op[op].kind) ? BP_NO_INDEX : bpi_fact_after(plan, op);
    return after == BP_NO_INDEX || plan->op[after].kind != BP_OP_TAKE_OFF;
}

static void add_what(bpi_page *p, bpi_cell *cell, uint32_t n)
{
    const bp_plan *plan = p->plan;
    const bp_op *op = &plan->op[n];
    const char *codes = bpi_page_keep(p, bpi_fact_codes(p->arena, plan, op->serves));
    const char *text =
        bpi_fact_hands_on(op->kind) ? op->text : bpi_page_f(p, "In the background: %s", op->text);
    if (op->serves.n == 1) {
        bpi_cell_add_led(p, cell, codes, BPI_FONT_STEP, text);
    } else {
        bpi_cell_add(p, cell, BPI_FONT_CODE, codes);
        bpi_cell_add(p, cell, BPI_FONT_STEP, text);
    }
    bpi_cell_add(p, cell, BPI_FONT_BODY, op->detail);
    bpi_text meanwhile = BPI_TEXT_EMPTY;
    bpi_fact_meanwhile(&meanwhile, plan, op);
    bpi_cell_add(p, cell, BPI_FONT_BOLD, bpi_page_keep(p, bpi_fact_keep(p->arena, &meanwhile)));
    if (says_core(plan, n))
        bpi_cell_add(p, cell, BPI_FONT_BOLD,
                     bpi_page_f(p, "Core temperature at least %s", op->core_text));
    bpi_cell_add_cautions(p, cell, op->caution);
}

/* ---- rows ---------------------------------------------------------------------------------- */

static void draw_work(bpi_page *p, uint32_t n)
{
    const bp_plan *plan = p->plan;
    const bp_op *op = &plan->op[n];
    bpi_row row = {.least = 40};
    bpi_cell_add_marked(p, &row.cell[0], BPI_FONT_BODY, BPI_TICK_BOX, "");
    bpi_cell_add(p, &row.cell[1], BPI_FONT_CLOCK, clock_text(p, op->from));
    bpi_cell_add(p, &row.cell[1], BPI_FONT_FIGURE, bpi_page_f(p, "to %s", clock_text(p, op->to)));
    if (op->latest_from > op->from)
        bpi_cell_add(p, &row.cell[1], BPI_FONT_BODY,
                     bpi_page_f(p, "latest %s", clock_text(p, op->latest_from)));
    add_what(p, &row.cell[2], n);
    const char *window = window_text(p, op);
    if (!*window && op->kind == BP_OP_TAKE_OFF && links_of(p)->before[n] != BP_NO_INDEX)
        window = window_text(p, &plan->op[links_of(p)->before[n]]);
    if (*window)
        bpi_cell_add(p, &row.cell[2], BPI_FONT_BOLD, bpi_page_f(p, "Take off %s", window));
    add_then(p, &row.cell[2], n);
    add_where(p, &row.cell[3], op);
    bpi_table_row(p, &table, &row);
}

static void draw_background(bpi_page *p, uint32_t n)
{
    const bp_plan *plan = p->plan;
    const bp_op *op = &plan->op[n];
    bpi_row row = {.least = 40, .band = true};
    bpi_cell_add(p, &row.cell[1], BPI_FONT_FIGURE, clock_text(p, op->from));
    bpi_cell_add(p, &row.cell[1], BPI_FONT_FIGURE, bpi_page_f(p, "to %s", clock_text(p, op->to)));
    add_what(p, &row.cell[2], n);
    const char *window = window_text(p, op), *next = "";
    uint32_t after = bpi_fact_after(plan, n);
    if (after != BP_NO_INDEX && plan->op[after].person != BP_NO_INDEX &&
        plan->op[after].from == op->to)
        next = bpi_page_f(p, "%s at %s", plan->person[plan->op[after].person].name,
                          clock_text(p, op->to));
    if (*window)
        bpi_cell_add(p, &row.cell[2], BPI_FONT_BOLD,
                     bpi_page_f(p, "Take off %s%s%s", window, *next ? ": " : "", next));
    else if (*next)
        bpi_cell_add(p, &row.cell[2], BPI_FONT_BOLD, bpi_page_f(p, "Next: %s", next));
    add_then(p, &row.cell[2], n);
    add_where(p, &row.cell[3], op);
    bpi_table_row(p, &table, &row);
}

static void draw_rest(bpi_page *p, const bp_rest *rest)
{
    bpi_row row = {.least = 26};
    bpi_cell_add(p, &row.cell[1], BPI_FONT_CLOCK, clock_text(p, rest->from));
    bpi_cell_add(p, &row.cell[2], BPI_FONT_STEP,
                 bpi_page_f(p, "Break until %s", clock_text(p, rest->to)));
    bpi_table_row(p, &table, &row);
}

/* Does the operation have a row on this cook's sheet? Waits are told by the step before them. */
static bool has_row(const bpi_page *p, uint32_t op, uint32_t person)
{
    const bp_plan *plan = p->plan;
    const bp_op *o = &plan->op[op];
    if (is_wait(o) && links_of(p)->before[op] != BP_NO_INDEX)
        return false;
    uint32_t who = links_of(p)->person[op];
    return who == person || (who == BP_NO_INDEX && person == 0);
}

static bool has_work(const bpi_page *p, uint32_t person)
{
    for (uint32_t i = 0; i < p->plan->ops; i++)
        if (has_row(p, i, person))
            return true;
    return false;
}

static void draw_breaks(bpi_page *p, uint32_t person, uint32_t *next, int64_t until)
{
    for (; *next < p->plan->rests; ++*next) {
        const bp_rest *rest = &p->plan->rest[*next];
        if (rest->person != person)
            continue;
        if (rest->from > until)
            break;
        draw_rest(p, rest);
    }
}

static void draw_person(bpi_page *p, uint32_t person)
{
    const bp_plan *plan = p->plan;
    p->section = plan->person[person].name;
    bpi_page_begin(p);
    draw_person_head(p, person);
    bpi_table_begin(p, &table, 60);
    uint32_t rest = 0;
    for (uint32_t i = 0; i < plan->ops; i++) {
        if (!has_row(p, i, person))
            continue;
        draw_breaks(p, person, &rest, plan->op[i].from);
        if (bpi_fact_hands_on(plan->op[i].kind))
            draw_work(p, i);
        else
            draw_background(p, i);
    }
    draw_breaks(p, person, &rest, INT64_MAX);
    bpi_table_end(p);
}

static void draw(bpi_page *p)
{
    if (!p->own && !find_links(p)) {
        p->no_memory = true;
        return;
    }
    for (uint32_t i = 0; i < p->plan->persons; i++)
        if (has_work(p, i))
            draw_person(p, i);
    bpi_log_draw(p);
    if (p->number == 0) {
        bpi_page_begin(p);
        bpi_page_para(p, BPI_FONT_BODY, "There is nothing to prepare in this plan.");
    }
}

bp_code bpi_prep_sheet_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"Prep sheet", letter, false, false, draw, NULL};
    return bpi_paper_write(out, plan, &sheet, errs);
}

#include "out/cue.h"

#include <string.h>

#include "out/facts.h"
#include "out/ifs.h"
#include "out/page.h"
#include "out/paper.h"
#include "out/table.h"

static const bpi_column beat_columns[] = {
    {94, 0, "Clock", BPI_LEFT},
    {42, 0, "In", BPI_RIGHT},
    {48, 0, "Length", BPI_RIGHT},
    {42, 0, "Left", BPI_RIGHT},
    {0, 234, "Action and words", BPI_LEFT},
    {66, 0, "Station", BPI_LEFT},
    {0, 192, "Comes on", BPI_LEFT},
    {62, 0, "Goes off", BPI_LEFT},
};

static const bpi_column left_out_columns[] = {
    {0, 400, "Action", BPI_LEFT},
    {0, 100, "Station", BPI_LEFT},
    {80, 0, "Shortest", BPI_RIGHT},
    {80, 0, "Likely", BPI_RIGHT},
};

static const bpi_column change_columns[] = {
    {0, 140, "When", BPI_LEFT},
    {0, 110, "Who", BPI_LEFT},
    {0, 190, "", BPI_LEFT},
    {0, 250, "Containers", BPI_LEFT},
};

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

static const bpi_column stand_columns[] = {
    {46, 0, "Code", BPI_LEFT},        {0, 250, "Dish and stage", BPI_LEFT},
    {136, 0, "For", BPI_LEFT},        {66, 0, "Station", BPI_LEFT},
    {128, 0, "Carried in", BPI_LEFT}, {76, 0, "On camera", BPI_LEFT},
    {0, 130, "Allergens", BPI_LEFT},
};

/* A figure under a small name, for the head of an appearance. */
static double put_figure(bpi_page *p, double x, const char *name, const char *figure)
{
    double a = bpi_type_width(p->type, BPI_FONT_HEAD, name) + 1;
    double b = bpi_type_width(p->type, BPI_FONT_BIG, figure) + 1;
    double wide = a > b ? a : b;
    bpi_page_text(p, BPI_FONT_HEAD, name, x, p->y, wide, BPI_LEFT);
    bpi_page_text(p, BPI_FONT_BIG, figure, x, p->y + 12, wide, BPI_LEFT);
    return x + wide + 26;
}

/* What else is worth knowing before the first beat. */
static const char *people_text(bpi_page *p, const bp_air *air)
{
    const char *s = "";
    if (*air->hosts)
        s = bpi_page_f(p, "Hosts: %s. ", air->hosts);
    if (*air->tasters)
        s = bpi_page_f(p, "%sTasters: %s. ", s, air->tasters);
    if (air->portions)
        s = bpi_page_f(p, "%sPortions to taste: %u. ", s, (unsigned)air->portions);
    if (air->hits > 1)
        s = bpi_page_f(p, "%sHit %u of %u. ", s, (unsigned)air->hit_no, (unsigned)air->hits);
    for (uint32_t i = 0; i < air->beats.n; i++)
        if (p->plan->beat[air->beats.first + i].spoken) {
            s = bpi_page_f(p, "%sIn brackets, how long words take at %u a minute. ", s,
                           (unsigned)air->pace);
            break;
        }
    if (air->drafted)
        s = bpi_page_f(p, "%sThe beats were drafted from the recipes.", s);
    return s;
}

static void draw_tease(bpi_page *p, const bp_tease *t)
{
    char clock[BP_CLOCK_ROOM], length[BP_CLOCK_ROOM];
    const char *what = t->dish < p->plan->dishes ? p->plan->dish[t->dish].title : "";
    const char *code =
        t->container < p->plan->containers ? p->plan->container[t->container].code : "";
    p->y += 2;
    bpi_page_para(p, BPI_FONT_STEP,
                  bpi_page_f(p, "Tease at %s, %s long: %s %s",
                             bpi_fact_clock(clock, p->plan, t->at),
                             bp_length_text(length, t->length), code, what));
}

static void draw_air_head(bpi_page *p, const bp_air *air)
{
    char a[BP_CLOCK_ROOM];
    bpi_page_para(p, BPI_FONT_TITLE, air->title);
    p->y += 4;
    double x = put_figure(p, p->left, "Hit", bpi_fact_clock(a, p->plan, air->hit));
    x = put_figure(p, x, "Slot", bpi_fact_minutes(a, air->slot));
    x = put_figure(p, x, "Out", bpi_fact_clock(a, p->plan, air->hit + air->slot));
    x = put_figure(p, x, "Set by", bpi_fact_clock(a, p->plan, air->set_by));
    const char *people = people_text(p, air);
    double high = bpi_type_height(p->type, BPI_FONT_BODY, people, p->right - x);
    bpi_page_text(p, BPI_FONT_BODY, people, x, p->y, p->right - x, BPI_LEFT);
    p->y += high > 40 ? high : 40;
    for (uint32_t i = 0; i < air->teases.n; i++)
        draw_tease(p, &p->plan->tease[air->teases.first + i]);
    p->y += 6;
}

static const char *container_text(bpi_page *p, uint32_t container)
{
    return bpi_page_keep(p, bpi_fact_container(p->arena, p->plan, container));
}

static void add_containers(bpi_page *p, bpi_cell *cell, bp_slice list)
{
    const bp_plan *plan = p->plan;
    for (uint32_t i = 0; i < list.n; i++) {
        const bp_container *c = &plan->container[plan->index[list.first + i]];
        bpi_cell_add_led(p, cell, c->code, BPI_FONT_STAGE,
                         bpi_page_f(p, "%s, %s",
                                    c->dish < plan->dishes ? plan->dish[c->dish].title : "",
                                    bp_stage_name(c->stage)));
    }
}

/* Is what the beat works with said by what comes on? */
static bool all_come_on(const bp_plan *plan, const bp_beat *b)
{
    for (uint32_t i = 0; i < b->on.n; i++) {
        bool found = false;
        for (uint32_t k = 0; k < b->in.n && !found; k++)
            found = plan->index[b->in.first + k] == plan->index[b->on.first + i];
        if (!found)
            return false;
    }
    return true;
}

/* What is put on the screen, and for how long. */
static void add_lines(bpi_page *p, bpi_cell *cell, const bp_beat *b, bp_line_kind kind,
                      const char *name)
{
    char a[BP_CLOCK_ROOM];
    const char *s = "";
    int64_t up = 0;
    for (uint32_t i = 0; i < b->lines.n; i++) {
        const bp_line *line = &p->plan->line[b->lines.first + i];
        if (line->kind != kind)
            continue;
        s = bpi_page_f(p, "%s%s%s", s, *s ? " / " : "", line->text);
        up += line->up;
    }
    if (*s)
        bpi_cell_add_marked(
            p, cell, BPI_FONT_BODY, up > b->length ? BPI_CAUTION_MARK : BPI_NO_MARK,
            bpi_page_f(p, up > b->length ? "%s: %s (to be read it needs %s)" : "%s: %s (%s)", name,
                       s, bpi_fact_minutes(a, up)));
}

static const char *truth_text(bp_truth truth)
{
    return truth == BP_YES ? "yes" : truth == BP_NO ? "NO, do not say it" : "NOT ENOUGH DATA";
}

/* What is said of a nutrient, and whether it may be; why stands in a table of its own. */
static void add_claims(bpi_page *p, bpi_cell *cell, uint32_t beat)
{
    for (uint32_t i = 0; i < p->plan->claims; i++) {
        const bp_claim *c = &p->plan->claim[i];
        if (c->beat == beat)
            bpi_cell_add_marked(
                p, cell, BPI_FONT_BOLD, c->holds == BP_YES ? BPI_NO_MARK : BPI_CAUTION_MARK,
                bpi_page_f(p, "\xE2\x80\x9C%s\xE2\x80\x9D: %s", c->text, truth_text(c->holds)));
    }
}

static void draw_beat(bpi_page *p, const bpi_table *table, const bp_beat *b, uint32_t number,
                      bool band)
{
    char a[BP_CLOCK_ROOM];
    bpi_row row = {.least = 28, .band = band, .below_from = 4};
    bpi_cell_add(p, &row.cell[0], BPI_FONT_CLOCK,
                 bpi_page_f(p, "%s", bpi_fact_clock(a, p->plan, b->from)));
    bpi_cell_add(p, &row.cell[1], BPI_FONT_FIGURE,
                 bpi_page_f(p, "%s", bpi_fact_minutes(a, b->time_in)));
    bpi_cell_add(p, &row.cell[2], BPI_FONT_FIGURE,
                 bpi_page_f(p, "%s", bpi_fact_minutes(a, b->length)));
    bpi_cell_add(p, &row.cell[3], BPI_FONT_FIGURE,
                 bpi_page_f(p, "%s", bpi_fact_minutes(a, b->time_left)));
    bpi_cell_add(p, &row.cell[4], BPI_FONT_STEP,
                 bpi_page_f(p, "%u. %s", (unsigned)number, b->text));
    if (!all_come_on(p->plan, b))
        bpi_cell_add(
            p, &row.cell[4], BPI_FONT_BOLD,
            bpi_page_f(p, "with %s", bpi_page_keep(p, bpi_fact_codes(p->arena, p->plan, b->on))));
    bpi_cell_add(p, &row.cell[5], BPI_FONT_BODY, b->station);
    if (b->walk)
        bpi_cell_add(p, &row.cell[5], BPI_FONT_BODY,
                     bpi_page_f(p, "walk %s", bpi_fact_minutes(a, b->walk)));
    if (*b->crosses)
        bpi_cell_add_marked(p, &row.cell[4], BPI_FONT_BOLD, BPI_CAUTION_MARK,
                            bpi_page_f(p, "On the way %s", b->crosses));
    if (b->taste)
        bpi_cell_add(p, &row.cell[4], BPI_FONT_BOLD, "Tasting");
    if (*b->words)
        bpi_cell_add(p, &row.below, BPI_FONT_WORDS,
                     bpi_page_f(p, "\xE2\x80\x9C%s\xE2\x80\x9D (%s)", b->words,
                                bpi_fact_minutes(a, b->spoken)));
    bpi_cell_add_cautions(p, &row.below, b->caution);
    add_lines(p, &row.below, b, BP_LINE_GRAPHIC, "Graphic");
    add_lines(p, &row.below, b, BP_LINE_SUPER, "Super");
    add_claims(p, &row.below, (uint32_t)(b - p->plan->beat));
    add_containers(p, &row.cell[6], b->in);
    bpi_cell_add(p, &row.cell[7], BPI_FONT_CODE,
                 bpi_page_keep(p, bpi_fact_codes(p->arena, p->plan, b->out)));
    bpi_table_row(p, table, &row);
}

static void draw_beats(bpi_page *p, const bp_air *air)
{
    const bpi_table table = {beat_columns, 8, NULL, false};
    bool band = false;
    bpi_table_begin(p, &table, 60);
    for (uint32_t i = 0; i < air->beats.n; i++) {
        const bp_beat *b = &p->plan->beat[air->beats.first + i];
        if (b->dropped)
            continue;
        draw_beat(p, &table, b, i + 1, band);
        band = !band;
    }
    bpi_table_end(p);
}

static void draw_left_out(bpi_page *p, const bp_air *air)
{
    const bpi_table table = {left_out_columns, 4, "Left out to fit the slot", false};
    bool begun = false;
    for (uint32_t i = 0; i < air->beats.n; i++) {
        const bp_beat *b = &p->plan->beat[air->beats.first + i];
        if (!b->dropped)
            continue;
        if (!begun)
            bpi_table_begin(p, &table, 40);
        begun = true;
        char a[BP_CLOCK_ROOM];
        bpi_row row = {.least = 24};
        bpi_cell_add(p, &row.cell[0], BPI_FONT_BODY,
                     bpi_page_f(p, "%u. %s", (unsigned)i + 1, b->text));
        bpi_cell_add(p, &row.cell[1], BPI_FONT_BODY, b->station);
        bpi_cell_add(p, &row.cell[2], BPI_FONT_BODY,
                     bpi_page_f(p, "%s", bpi_fact_minutes(a, b->least)));
        bpi_cell_add(p, &row.cell[3], BPI_FONT_BODY,
                     bpi_page_f(p, "%s", bpi_fact_minutes(a, b->likely)));
        bpi_table_row(p, &table, &row);
    }
    if (begun)
        bpi_table_end(p);
}

static void draw_claims(bpi_page *p, uint32_t air)
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
                            truth_text(c->holds));
        bpi_cell_add(p, &row.cell[3], BPI_FONT_BODY, c->figure);
        bpi_cell_add(p, &row.cell[3], BPI_FONT_BODY,
                     *c->rule ? bpi_page_f(p, "%s (%s)", c->why, c->rule) : c->why);
        bpi_table_row(p, &table, &row);
        band = !band;
    }
    if (begun)
        bpi_table_end(p);
}

static void draw_replies(bpi_page *p, uint32_t air)
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

static void draw_stands(bpi_page *p, uint32_t air)
{
    const bpi_table table = {stand_columns, 7, "On the set, in the order they are carried in",
                             false};
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

static bool has_stations(const bp_plan *plan, const bp_air *air)
{
    for (uint32_t i = 0; i < air->beats.n; i++)
        if (plan->beat[air->beats.first + i].place)
            return true;
    return false;
}

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

/* Who brings what in and out in the break before this appearance, in order of time. */
static void draw_change(bpi_page *p, uint32_t air)
{
    const bp_plan *plan = p->plan;
    const bpi_table table = {change_columns, 4, "In the break before: who brings what out and in",
                             true};
    bool begun = false;
    if (air == 0 ||
        (!has_stations(plan, &plan->air[air]) && !has_stations(plan, &plan->air[air - 1])))
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

static void draw(bpi_page *p)
{
    if (p->plan->airs == 0) {
        bpi_page_begin(p);
        bpi_page_para(p, BPI_FONT_BODY, "Nothing goes on air in this plan.");
    }
    for (uint32_t i = 0; i < p->plan->airs; i++) {
        const bp_air *air = &p->plan->air[i];
        char a[BP_CLOCK_ROOM];
        p->section = bpi_page_f(p, "%s at %s", air->id, bp_plan_clock(a, p->plan, air->hit));
        bpi_page_begin(p);
        draw_air_head(p, air);
        draw_beats(p, air);
        draw_left_out(p, air);
        draw_change(p, i);
        draw_stands(p, i);
        draw_claims(p, i);
        draw_replies(p, i);
        bool told = bpi_if_moved_fits(p, i);
        if (told)
            bpi_if_moved_draw(p, i);
        bpi_if_lost_draw(p, i);
        if (!told)
            bpi_if_moved_draw(p, i);
    }
}

bp_code bpi_cue_sheet_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"Cue sheet", letter, true, false, draw, NULL};
    return bpi_paper_write(out, plan, &sheet, errs);
}

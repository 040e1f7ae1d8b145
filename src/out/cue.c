#include "out/cue.h"

#include <string.h>

#include "out/facts.h"
#include "out/ifs.h"
#include "out/onset.h"
#include "out/page.h"
#include "out/paper.h"
#include "out/said.h"
#include "out/table.h"

#define BEAT_COLUMNS 8
#define WHERE        5 /* the station, and below it the camera */

static const bpi_column beat_columns[BEAT_COLUMNS] = {
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
    double x = put_figure(p, p->left, air->rehearsal ? "Rehearsal" : "Hit",
                          bpi_fact_clock(a, p->plan, air->hit));
    if (air->floats)
        x = put_figure(p, x, "At the latest", bpi_fact_clock(a, p->plan, air->hit + air->floats));
    x = put_figure(p, x, "Slot", bpi_fact_minutes(a, air->slot));
    x = put_figure(p, x, "Out", bpi_fact_clock(a, p->plan, air->hit + air->slot));
    x = put_figure(p, x, "Set by", bpi_fact_clock(a, p->plan, air->set_by));
    const char *people = people_text(p, air);
    if (p->right - x < 150) { /* too narrow to be read beside the figures */
        p->y += 40;
        x = p->left;
    }
    double high = bpi_type_height(p->type, BPI_FONT_BODY, people, p->right - x);
    bpi_page_text(p, BPI_FONT_BODY, people, x, p->y, p->right - x, BPI_LEFT);
    p->y += high > 40 || x == p->left ? high : 40;
    for (uint32_t i = 0; i < air->teases.n; i++)
        draw_tease(p, &p->plan->tease[air->teases.first + i]);
    p->y += 6;
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

/* What is said of a nutrient, and whether it may be; why stands in a table of its own. */
static void add_claims(bpi_page *p, bpi_cell *cell, uint32_t beat)
{
    for (uint32_t i = 0; i < p->plan->claims; i++) {
        const bp_claim *c = &p->plan->claim[i];
        if (c->beat == beat)
            bpi_cell_add_marked(
                p, cell, BPI_FONT_BOLD, c->holds == BP_YES ? BPI_NO_MARK : BPI_CAUTION_MARK,
                bpi_page_f(p, "\xE2\x80\x9C%s\xE2\x80\x9D: %s", c->text, bpi_said_truth(c->holds)));
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
    bpi_cell_add(p, &row.cell[WHERE], BPI_FONT_BODY, b->station);
    if (b->walk)
        bpi_cell_add(p, &row.cell[WHERE], BPI_FONT_BODY,
                     bpi_page_f(p, "walk %s", bpi_fact_minutes(a, b->walk)));
    if (*b->camera)
        bpi_cell_add(p, &row.cell[WHERE], BPI_FONT_BODY, b->camera);
    if (b->camera_late)
        bpi_cell_add_marked(p, &row.cell[4], BPI_FONT_BOLD, BPI_CAUTION_MARK,
                            bpi_page_f(p, "Camera %s is there %lld s late: its move takes %lld s",
                                       b->camera, (long long)b->camera_late,
                                       (long long)b->camera_move));
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
    bpi_column column[BEAT_COLUMNS];
    const bpi_table table = {column, BEAT_COLUMNS, NULL, false};
    bool band = false;
    memcpy(column, beat_columns, sizeof column);
    for (uint32_t i = 0; i < air->beats.n; i++)
        if (*p->plan->beat[air->beats.first + i].camera)
            column[WHERE].head = "Station, camera";
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
        bpi_onset_change_draw(p, i);
        bpi_onset_draw(p, i);
        bpi_said_claims_draw(p, i);
        bpi_said_replies_draw(p, i);
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

#include "out/table.h"

#include <string.h>

#define PAD_X       4.0
#define PAD_Y       5.0
#define TIGHT_Y     3.0
#define AFTER       12.0 /* below a table */
#define AFTER_TIGHT 8.0
#define LEAD        32.0 /* least room for a code before a paragraph */
#define MARK        17.0 /* room for a mark before a paragraph */
#define BOX         23.0 /* and for a box to be ticked */
#define BELOW_GAP   3.0
#define BAND        0.91 /* light enough for type, dark enough to survive a copier */
#define NOTHING     1e9  /* no limit */

/* How far into a cell a row has come: a paragraph, and a line of it. */
typedef struct cursor {
    size_t para;
    uint32_t line;
} cursor;

static double width_of(const bpi_page *p, const bpi_table *t, uint32_t column)
{
    double left = p->right - p->left, shares = 0;
    if (t->column[column].points > 0)
        return t->column[column].points;
    for (uint32_t i = 0; i < t->columns; i++) {
        left -= t->column[i].points;
        shares += t->column[i].points > 0 ? 0 : t->column[i].share;
    }
    return left * t->column[column].share / shares;
}

static void add(bpi_page *p, bpi_cell *cell, bpi_para para)
{
    void *list = cell->para;
    bpi_para *place = bpi_arena_more(p->arena, &list, &cell->room, cell->paras, sizeof *cell->para);
    if (!place) {
        p->no_memory = true;
        return;
    }
    cell->para = list;
    *place = para;
    cell->paras++;
}

void bpi_cell_add(bpi_page *p, bpi_cell *cell, bpi_font font, const char *text)
{
    if (*text)
        add(p, cell, (bpi_para){font, BPI_NO_MARK, 2, NULL, text});
}

void bpi_cell_add_marked(bpi_page *p, bpi_cell *cell, bpi_font font, bpi_mark mark,
                         const char *text)
{
    add(p, cell, (bpi_para){font, mark, 4, NULL, text});
}

void bpi_cell_add_lines(bpi_page *p, bpi_cell *cell, bpi_mark mark, const char *lines)
{
    for (const char *s = lines; *s;) {
        size_t len = strcspn(s, "\n");
        bpi_cell_add_marked(p, cell, BPI_FONT_BODY, mark, bpi_page_f(p, "%.*s", (int)len, s));
        s += len + (s[len] == '\n');
    }
}

void bpi_cell_add_cautions(bpi_page *p, bpi_cell *cell, const char *cautions)
{
    for (const char *s = cautions; *s;) {
        size_t len = strcspn(s, "\n");
        if (len > 0)
            bpi_cell_add_marked(p, cell, BPI_FONT_BOLD, BPI_CAUTION_MARK,
                                bpi_page_f(p, "CAUTION: %.*s", (int)len, s));
        s += len + (s[len] == '\n');
    }
}

void bpi_cell_add_led(bpi_page *p, bpi_cell *cell, const char *lead, bpi_font font,
                      const char *text)
{
    add(p, cell, (bpi_para){font, BPI_NO_MARK, 4, lead, text});
}

static void draw_mark(bpi_page *p, const bpi_para *para, double x, double y)
{
    if (para->lead) /* on the first base line of what follows */
        bpi_page_text(p, BPI_FONT_CODE, para->lead, x, y - 2, LEAD * 4, BPI_LEFT);
    if (para->mark == BPI_CAUTION_MARK)
        bpi_page_triangle(p, x, y, 14);
    else if (para->mark == BPI_TICK_BOX)
        bpi_page_frame(p, x + 0.8, y + 1, 16, 16, 1.6);
}

static double indent_of(bpi_page *p, const bpi_para *para)
{
    if (!para->lead)
        return para->mark == BPI_NO_MARK ? 0 : para->mark == BPI_TICK_BOX ? BOX : MARK;
    double wide = bpi_type_width(p->type, BPI_FONT_CODE, para->lead) + 5;
    return wide > LEAD ? wide : LEAD;
}

static double mark_height(const bpi_para *para)
{
    return para->mark == BPI_TICK_BOX ? 18 : para->mark == BPI_CAUTION_MARK ? 14 : 0;
}

/* Take what fits above `limit` from the cursor on; shows it with `draw`. Returns the height. */
static double run_cell(bpi_page *p, const bpi_cell *cell, cursor *c, double x, double width,
                       bpi_align align, double y, double limit, bool draw)
{
    double used = 0;
    for (; c->para < cell->paras; c->para++, c->line = 0) {
        const bpi_para *para = &cell->para[c->para];
        double indent = indent_of(p, para);
        double gap = used > 0 ? para->gap : 0;
        bool fresh = c->line == 0;
        double high = bpi_page_lines(p, para->font, para->text, x + indent, y + used + gap,
                                     width - indent, align, limit, &c->line, draw);
        if (high <= 0)
            break;
        if (fresh && draw)
            draw_mark(p, para, x, y + used + gap);
        if (fresh && high < mark_height(para))
            high = mark_height(para);
        used += gap + high;
        if (c->line != UINT32_MAX)
            break;
    }
    return used;
}

/* The cursors of a row: one a column, and that of what stands below. */
#define BELOW   BPI_TABLE_COLUMNS
#define CURSORS (BPI_TABLE_COLUMNS + 1)

static bool cells_done(const bpi_table *t, const bpi_row *row, const cursor *c)
{
    for (uint32_t i = 0; i < (row->whole ? 1 : t->columns); i++)
        if (c[i].para < row->cell[i].paras)
            return false;
    return true;
}

static bool row_done(const bpi_table *t, const bpi_row *row, const cursor *c)
{
    return cells_done(t, row, c) && c[BELOW].para == row->below.paras;
}

static double run_below(bpi_page *p, const bpi_table *t, const bpi_row *row, cursor *c, double y,
                        double limit, bool draw)
{
    double x = p->left;
    for (uint32_t i = 0; i < row->below_from; i++)
        x += width_of(p, t, i);
    return run_cell(p, &row->below, c, x + PAD_X, p->right - x - 2 * PAD_X, BPI_LEFT, y, limit,
                    draw);
}

/* One pass over the cells; returns the height of the row. */
static double run_row(bpi_page *p, const bpi_table *t, const bpi_row *row, cursor *c, double y,
                      double limit, bool draw)
{
    double x = p->left, tallest = 0;
    for (uint32_t i = 0; i < t->columns; i++) {
        double width = row->whole ? p->right - p->left : width_of(p, t, i);
        double high = run_cell(p, &row->cell[i], &c[i], x + PAD_X, width - 2 * PAD_X,
                               row->whole ? BPI_LEFT : t->column[i].align, y, limit, draw);
        if (high > tallest)
            tallest = high;
        if (row->whole)
            break;
        x += width;
    }
    if (row->below.paras == 0 || !cells_done(t, row, c))
        return tallest;
    double gap = tallest > 0 ? BELOW_GAP : 0;
    return tallest + gap + run_below(p, t, row, &c[BELOW], y + tallest + gap, limit, draw);
}

static double pad_of(const bpi_table *t)
{
    return t->tight ? TIGHT_Y : PAD_Y;
}

static double measure(bpi_page *p, const bpi_table *t, const bpi_row *row)
{
    cursor c[CURSORS] = {{0, 0}};
    double high = run_row(p, t, row, c, 0, NOTHING, false) + 2 * pad_of(t);
    return high > row->least ? high : row->least;
}

/* Put what fits of the row here, `high` tall. */
static void put(bpi_page *p, const bpi_table *t, const bpi_row *row, cursor *c, double high)
{
    if (row->band)
        bpi_page_fill(p, p->left, p->y, p->right - p->left, high, BAND);
    bpi_page_line(p, p->left, p->y, p->right, p->y, 0.8);
    run_row(p, t, row, c, p->y + pad_of(t), p->y + high - pad_of(t), true);
    p->y += high;
    bpi_page_line(p, p->left, p->y, p->right, p->y, 0.8);
}

static void put_row(bpi_page *p, const bpi_table *t, const bpi_row *row, double high)
{
    cursor c[CURSORS] = {{0, 0}};
    bpi_page_need(p, high);
    if (p->y + high <= p->bottom + 0.01) {
        if (p->dry)
            p->y += high; /* measured, and nothing to show */
        else
            put(p, t, row, c, high);
        return;
    }
    do { /* taller than a page */
        cursor before[CURSORS];
        memcpy(before, c, sizeof c);
        put(p, t, row, c, p->bottom - p->y);
        bool moved = false;
        for (uint32_t i = 0; i < CURSORS; i++)
            moved = moved || c[i].para != before[i].para || c[i].line != before[i].line;
        if (!moved)
            return; /* not one line fits on a whole page: no paper is that small */
        if (!row_done(t, row, c))
            bpi_page_begin(p);
    } while (!row_done(t, row, c));
}

/* ---- heading ----------------------------------------------------------------------------- */

static double title_height(bpi_page *p, const bpi_table *t)
{
    return t->title ? bpi_type_height(p->type, BPI_FONT_STEP, t->title, p->right - p->left) + 3 : 0;
}

static bool has_heads(const bpi_table *t)
{
    for (uint32_t i = 0; i < t->columns; i++)
        if (*t->column[i].head)
            return true;
    return false;
}

static double head_height(bpi_page *p, const bpi_table *t)
{
    double tallest = 0;
    for (uint32_t i = 0; i < t->columns; i++) {
        double high = bpi_type_height(p->type, BPI_FONT_HEAD, t->column[i].head,
                                      width_of(p, t, i) - 2 * PAD_X);
        if (high > tallest)
            tallest = high;
    }
    return has_heads(t) ? tallest + 6 : 0;
}

static void draw_heading(bpi_page *p, const void *of)
{
    const bpi_table *t = of;
    if (t->title) {
        bpi_page_text(p, BPI_FONT_STEP, t->title, p->left, p->y, p->right - p->left, BPI_LEFT);
        p->y += title_height(p, t);
    }
    double high = head_height(p, t), x = p->left;
    bpi_page_line(p, p->left, p->y, p->right, p->y, 1.6);
    if (high <= 0)
        return;
    for (uint32_t i = 0; i < t->columns; i++) {
        double width = width_of(p, t, i);
        bpi_page_text(p, BPI_FONT_HEAD, t->column[i].head, x + PAD_X, p->y + 3, width - 2 * PAD_X,
                      t->column[i].align);
        x += width;
    }
    p->y += high;
    bpi_page_line(p, p->left, p->y, p->right, p->y, 1.6);
}

/* The heading that waits, with a row so high under it. */
static void head_now(bpi_page *p, double high)
{
    const bpi_table *t = p->due;
    if (!t)
        return;
    double under = high > p->due_room ? high : p->due_room;
    p->due = NULL;
    bpi_page_need(p, title_height(p, t) + head_height(p, t) + under);
    draw_heading(p, t);
    p->again = draw_heading;
    p->again_of = t;
}

void bpi_table_row(bpi_page *p, const bpi_table *t, const bpi_row *row)
{
    double high = measure(p, t, row);
    head_now(p, high);
    put_row(p, t, row, high);
}

void bpi_table_begin(bpi_page *p, const bpi_table *t, double first)
{
    p->due = t;
    p->due_room = first;
}

void bpi_table_end(bpi_page *p)
{
    head_now(p, 0); /* it had no rows */
    const bpi_table *t = p->again_of;
    p->again = NULL;
    p->y += t->tight ? AFTER_TIGHT : AFTER;
}

#define _XOPEN_SOURCE 700 /* wcwidth */

#include "cli/grid.h"

#include <assert.h>
#include <string.h>
#include <wchar.h>

#include "base/memory.h"
#include "base/utf8.h"

bool bpi_grid_reset(bpi_grid *g, int rows, int columns)
{
    if (g->rows != rows || g->columns != columns || !g->cell) {
        bpi_cell *cell = bpi_mem_get((size_t)rows * (size_t)columns * sizeof *cell + 1);
        if (!cell)
            return false;
        bpi_mem_drop(g->cell);
        *g = (bpi_grid){rows, columns, cell};
    }
    for (int i = 0; i < rows; i++)
        bpi_grid_fill(g, i, 0, columns, ' ', BPI_PLAIN);
    return true;
}

void bpi_grid_release(bpi_grid *g)
{
    bpi_mem_drop(g->cell);
    *g = (bpi_grid){0};
}

static void set(bpi_grid *g, int row, int column, uint32_t code, bpi_look look)
{
    if (row >= 0 && row < g->rows && column >= 0 && column < g->columns) {
        assert(g->cell);
        g->cell[row * g->columns + column] = (bpi_cell){code, look};
    }
}

void bpi_grid_fill(bpi_grid *g, int row, int column, int room, uint32_t code, bpi_look look)
{
    for (int i = 0; i < room; i++)
        set(g, row, column + i, code, look);
}

/* The next character of a text and the cells it takes; a byte that is none takes one, as '?'. */
static size_t step(const char *text, size_t len, uint32_t *code, int *cells)
{
    size_t n = bpi_utf8_step(text, len, code);
    if (n == 0) {
        *code = '?';
        n = 1;
    }
    *cells = bpi_utf8_is_control(*code) || bpi_utf8_is_bidi(*code) ? 0 : wcwidth((wchar_t)*code);
    if (*cells < 0)
        *cells = 1; /* a locale that does not know it */
    return n;
}

static int width(const char *text, size_t len)
{
    int sum = 0;
    for (size_t at = 0; at < len;) {
        uint32_t code = 0;
        int cells = 0;
        at += step(text + at, len - at, &code, &cells);
        sum += cells;
    }
    return sum;
}

static int put(bpi_grid *g, int row, int column, int room, const char *text, size_t len,
               bpi_look look)
{
    if (room > g->columns - column)
        room = g->columns - column;
    bool cut = width(text, len) > room;
    int used = 0;
    for (size_t at = 0; at < len;) {
        uint32_t code = 0;
        int cells = 0;
        at += step(text + at, len - at, &code, &cells);
        if (cells == 0)
            continue;
        if (used + cells > room - (cut ? 1 : 0))
            break;
        set(g, row, column + used, code, look);
        if (cells == 2)
            set(g, row, column + used + 1, 0, look);
        used += cells;
    }
    if (cut && room > 0)
        set(g, row, column + used++, '.', look);
    return used;
}

int bpi_grid_put(bpi_grid *g, int row, int column, int room, const char *text, bpi_look look)
{
    return room > 0 ? put(g, row, column, room, text, strlen(text), look) : 0;
}

int bpi_grid_put_right(bpi_grid *g, int row, int least, int end, const char *text, bpi_look look)
{
    int column = end - width(text, strlen(text));
    if (column < least)
        column = least;
    return bpi_grid_put(g, row, column, end - column, text, look);
}

int bpi_grid_wrap(bpi_grid *g, int row, int rows, int column, int room, const char *text,
                  bpi_look look)
{
    int used = 0;
    while (*text && used < rows) {
        size_t len = strlen(text), take = len;
        if (used + 1 < rows && width(text, len) > room) {
            take = 0;
            for (size_t i = 1; i < len; i++)
                if (text[i] == ' ' && width(text, i) <= room)
                    take = i;
            if (take == 0)
                take = len; /* one word that is too long */
        }
        put(g, row + used++, column, room, text, take, look);
        text += take;
        while (*text == ' ')
            text++;
    }
    return used;
}

/* ---- large figures --------------------------------------------------------------------------- */

static const char *const figures[][BPI_GRID_FIGURE] = {
    {" ### ", "## ##", "## ##", "## ##", "## ##", "## ##", " ### "},
    {"  ## ", " ### ", "  ## ", "  ## ", "  ## ", "  ## ", " ####"},
    {"#####", "   ##", "   ##", "#####", "##   ", "##   ", "#####"},
    {"#####", "   ##", "   ##", " ####", "   ##", "   ##", "#####"},
    {"## ##", "## ##", "## ##", "#####", "   ##", "   ##", "   ##"},
    {"#####", "##   ", "##   ", "#####", "   ##", "   ##", "#####"},
    {"#####", "##   ", "##   ", "#####", "## ##", "## ##", "#####"},
    {"#####", "   ##", "   ##", "  ## ", "  ## ", " ##  ", " ##  "},
    {"#####", "## ##", "## ##", " ### ", "## ##", "## ##", "#####"},
    {"#####", "## ##", "## ##", "#####", "   ##", "   ##", "#####"},
    {"  ", "##", "##", "  ", "##", "##", "  "},
    {"   ", "   ", " # ", "###", " # ", "   ", "   "},
    {"   ", "   ", "   ", "###", "   ", "   ", "   "},
    {"     ", "     ", "     ", "     ", "     ", "     ", "     "},
};

static const char *const *figure(char c)
{
    static const char order[] = "0123456789:+- ";
    const char *at = strchr(order, c);
    return figures[c && at ? at - order : 13];
}

int bpi_grid_figures(bpi_grid *g, int row, int column, int scale, const char *text)
{
    int used = 0;
    for (; *text; text++) {
        const char *const *rows = figure(*text);
        int wide = (int)strlen(rows[0]);
        for (int r = 0; r < BPI_GRID_FIGURE * scale; r++)
            for (int c = 0; c < wide * scale; c++)
                if (rows[r / scale][c / scale] == '#')
                    set(g, row + r, column + used + c, BPI_GRID_BLOCK, BPI_PLAIN);
        used += (wide + 1) * scale;
    }
    return used;
}

int bpi_grid_low_figures(bpi_grid *g, int row, int column, const char *text)
{
    static const int taken[BPI_GRID_LOW_FIGURE] = {0, 1, 3, 5, 6}; /* the others say nothing new */
    int used = 0;
    for (; *text; text++) {
        const char *const *rows = figure(*text);
        int wide = (int)strlen(rows[0]);
        for (int r = 0; r < BPI_GRID_LOW_FIGURE; r++)
            for (int c = 0; c < wide; c++)
                if (rows[taken[r]][c] == '#')
                    set(g, row + r, column + used + c, BPI_GRID_BLOCK, BPI_PLAIN);
        used += wide + 1;
    }
    return used;
}

#define _XOPEN_SOURCE    700
#define NCURSES_WIDECHAR 1

#include "cli/screen.h"

#include <curses.h>
#include <locale.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <unistd.h>

#include "base/error.h"

static volatile sig_atomic_t ending, gone;
static SCREEN *screen;
static bool blocks; /* the terminal has a character for a filled cell */

static void note_ending(int number)
{
    ending = 1;
    if (number == SIGHUP)
        gone = 1;
}

/* ncurses looks after SIGTSTP, SIGCONT and SIGWINCH. */
static void watch_signals(void)
{
    struct sigaction act = {.sa_handler = note_ending};
    sigemptyset(&act.sa_mask);
    sigaction(SIGINT, &act, NULL);
    sigaction(SIGTERM, &act, NULL);
    sigaction(SIGHUP, &act, NULL);
}

bp_code bpi_screen_open(bp_errors *errs)
{
    if (!isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO))
        return bpi_error_add(errs, BP_EIO, BPI_NOWHERE, "this needs a terminal to draw on",
                             "start it in one");
    /* Characters are the terminal's affair; nothing else of the locale is taken on. */
    if (!setlocale(LC_CTYPE, "") || MB_CUR_MAX == 1)
        setlocale(LC_CTYPE, "C.UTF-8");
    blocks = MB_CUR_MAX > 1;
    screen = newterm(NULL, stdout, stdin);
    if (!screen)
        return bpi_error_add(errs, BP_EIO, BPI_NOWHERE, "this kind of terminal is not known",
                             "set TERM to what it is, such as TERM=vt100");
    set_term(screen);
    watch_signals();
    set_escdelay(50);
    cbreak();
    noecho();
    nonl();
    keypad(stdscr, TRUE);
    curs_set(0);
    return BP_OK;
}

void bpi_screen_close(void)
{
    if (!screen)
        return;
    endwin();
    delscreen(screen);
    screen = NULL;
}

void bpi_screen_size(int *rows, int *columns)
{
    getmaxyx(stdscr, *rows, *columns);
}

void bpi_screen_redraw(void)
{
    clearok(stdscr, TRUE);
}

static attr_t look_of(const bpi_cell *c)
{
    if (c->code == BPI_GRID_BLOCK && !blocks)
        return A_REVERSE;
    return c->look == BPI_REVERSE ? A_REVERSE : c->look == BPI_BOLD ? A_BOLD : A_NORMAL;
}

void bpi_screen_show(const bpi_grid *g)
{
    for (int r = 0; r < g->rows; r++)
        for (int c = 0; c < g->columns; c++) {
            const bpi_cell *cell = &g->cell[r * g->columns + c];
            if (cell->code == 0)
                continue;
            wchar_t text[2] = {(wchar_t)cell->code, L'\0'};
            if (!blocks && cell->code > 126)
                text[0] = cell->code == BPI_GRID_BLOCK ? L' ' : L'?';
            cchar_t out;
            setcchar(&out, text, look_of(cell), 0, NULL);
            mvadd_wch(r, c, &out);
        }
    refresh();
}

static int ended(void)
{
    if (gone)
        return BPI_KEY_GONE;
    ending = 0;
    return BPI_KEY_END;
}

int bpi_screen_key(int wait_ms)
{
    struct pollfd in = {.fd = STDIN_FILENO, .events = POLLIN};
    if (ending)
        return ended();
    timeout(wait_ms);
    wint_t code = 0;
    int kind = get_wch(&code);
    if (ending)
        return ended();
    if (kind == ERR)
        return poll(&in, 1, 0) > 0 && (in.revents & (POLLHUP | POLLERR | POLLNVAL)) ? BPI_KEY_GONE
                                                                                    : BPI_KEY_NONE;
    if (kind == KEY_CODE_YES) {
        switch (code) {
        case KEY_UP:
            return BPI_KEY_UP;
        case KEY_DOWN:
            return BPI_KEY_DOWN;
        case KEY_RESIZE:
            return BPI_KEY_RESIZE;
        case KEY_BACKSPACE:
            return BPI_KEY_ERASE;
        case KEY_ENTER:
            return BPI_KEY_ENTER;
        default:
            return BPI_KEY_NONE;
        }
    }
    if (code == '\r')
        return BPI_KEY_ENTER;
    if (code == '\b')
        return BPI_KEY_ERASE;
    return code < 127 ? (int)code : code == 127 ? BPI_KEY_ERASE : BPI_KEY_NONE;
}

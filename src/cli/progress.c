#include "cli/progress.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { WIDTH = 79 };

static volatile sig_atomic_t ended;
static struct sigaction before;
static char shown[WIDTH + 1];

static void end_search(int number)
{
    (void)number;
    ended = 1;
}

size_t bpi_progress_line(char *out, size_t room, uint32_t goal, int64_t value, int64_t bound)
{
    static const struct {
        const char *name, *unit;
    } goals[] = {{"late", "min"},
                 {"crew time", "min"},
                 {"waiting", "weighted min"},
                 {"hand-overs", "times"}};
    *out = '\0';
    if (goal >= sizeof goals / sizeof *goals)
        return 0;
    bound = bound > 0 ? bound : 0;
    int len = 0;
    if (value > bound)
        len = snprintf(out, room, "%s: %lld %s, at least %lld, gap %lld %%; Ctrl-C keeps this plan",
                       goals[goal].name, (long long)value, goals[goal].unit, (long long)bound,
                       (long long)((value - bound) * 100 / value));
    else
        len = snprintf(out, room, "%s: %lld %s, the least there can be; Ctrl-C keeps this plan",
                       goals[goal].name, (long long)value, goals[goal].unit);
    return len < 0 ? 0 : (size_t)len < room ? (size_t)len : room - 1;
}

/* Over what stood there; short lines leave nothing of long ones behind. */
static void show(const char *line)
{
    if (strcmp(line, shown) == 0)
        return;
    fprintf(stderr, "\r%-*s", (int)strlen(shown), line);
    if (!*line)
        fputc('\r', stderr);
    fflush(stderr);
    snprintf(shown, sizeof shown, "%s", line);
}

static bool tell(void *ctx, uint32_t goal, int64_t value, int64_t bound, uint64_t work)
{
    char line[WIDTH + 1];
    const bool *terminal = ctx;
    (void)work;
    if (*terminal && bpi_progress_line(line, sizeof line, goal, value, bound) > 0)
        show(line);
    return !ended;
}

void bpi_progress_begin(bp_plan_options *options)
{
    static bool terminal;
    struct sigaction act = {.sa_handler = end_search, .sa_flags = (int)SA_RESETHAND};
    sigemptyset(&act.sa_mask);
    ended = 0;
    shown[0] = '\0';
    terminal = isatty(STDERR_FILENO) == 1;
    sigaction(SIGINT, NULL, &before);
    if (before.sa_handler != SIG_IGN)
        sigaction(SIGINT, &act, NULL);
    options->tell = tell;
    options->ctx = &terminal;
}

bool bpi_progress_end(void)
{
    sigaction(SIGINT, &before, NULL);
    show("");
    return ended != 0;
}

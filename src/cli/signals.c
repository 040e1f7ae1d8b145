#include "cli/signals.h"

#include <stddef.h>

void bpi_signals_hold(sigset_t *before)
{
    sigset_t ending;
    sigemptyset(&ending);
    sigaddset(&ending, SIGINT);
    sigaddset(&ending, SIGTERM);
    sigaddset(&ending, SIGHUP);
    sigprocmask(SIG_BLOCK, &ending, before);
}

void bpi_signals_release(const sigset_t *before)
{
    sigprocmask(SIG_SETMASK, before, NULL);
}

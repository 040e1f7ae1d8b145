/* src/cli/progress.h - how a long search goes, and a way to end it: for plan --seconds.
 *
 * Owns     what SIGINT does, and the last line of the terminal on stderr, from begin to end.
 * May use  POSIX.1-2008, the public header of plans.
 *
 * The first SIGINT ends the search, and the best plan so far goes the way of any other; the second
 * ends the program. Where SIGINT was ignored it stays so. Without a terminal no line is written.
 */
#ifndef BP_CLI_PROGRESS_H
#define BP_CLI_PROGRESS_H

#include "backpot/plan.h"

/* Sets options->tell, and lets SIGINT end the search from now on. */
void bpi_progress_begin(bp_plan_options *options);
/* Takes the line away; SIGINT is what it was. True: the search was ended by it. */
bool bpi_progress_end(void);

/* The line, without its end. Returns its length; 0: there is nothing to tell. */
size_t bpi_progress_line(char *out, size_t room, uint32_t goal, int64_t value, int64_t bound);

#endif

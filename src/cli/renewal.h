/* src/cli/renewal.h - the plan that a clock goes on by, mended when its log says that something went wrong.
 *
 * Owns     the mended plan.
 * May use  the public headers, cli/watch, cli/tend. No terminal.
 */
#ifndef BP_CLI_RENEWAL_H
#define BP_CLI_RENEWAL_H

#include "backpot/mend.h"
#include "cli/tend.h"
#include "cli/watch.h"

/* All zero at first. */
typedef struct bpi_renewal {
    bp_plan *mended;  /* what the clock goes on by; NULL: nothing was mended */
    uint32_t tried;   /* mishaps of the log when that was last tried          */
    uint32_t told;    /* of the log when the floor was last told              */
    char behind[200]; /* why the plan could not be mended; ""                 */
} bpi_renewal;

/* Go on by the plan mended, ticks and all, where the log holds more mishaps than the plan knows. Until
 * there is one, and on air, when nobody can wait the second or more that planning takes, the clock goes on
 * by what it has, and says what went wrong. One of watch and tend is not NULL: the clock. */
void bpi_renewal_take(bpi_renewal *r, const bp_show *show, bpi_watch *watch, bpi_tend *tend,
                      bool on_air);
/* After the clock, which goes on by the plan. */
void bpi_renewal_release(bpi_renewal *r);

#endif

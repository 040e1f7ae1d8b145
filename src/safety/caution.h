/* src/safety/caution.h - the usual words of caution beside a step, and the words that defer.
 *
 * Owns     the table; static text.
 * May use  base/, model/.
 */
#ifndef BP_SAFETY_CAUTION_H
#define BP_SAFETY_CAUTION_H

#include <stddef.h>
#include <stdint.h>

#include "base/text.h"
#include "model/show.h"

typedef struct bpi_caution {
    bpi_hazard hazard;
    const char *name;   /* as a show file names it: "hot oil" */
    const char *text;   /* one sentence                       */
    const char *source; /* of the advice                      */
} bpi_caution;

/* One row a hazard, in the order of their bits; *n gets how many. */
const bpi_caution *bpi_cautions(size_t *n);

/* Append the caution of each hazard in the set, one a line, no newline after the last. */
void bpi_caution_put(bpi_text *out, uint32_t hazards);

/* Every sheet that carries food says this: who decides, and that this plan does not certify. */
const char *bpi_defer_words(void);

#endif

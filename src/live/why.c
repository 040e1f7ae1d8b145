#include "live/why.h"

#include <assert.h>
#include <string.h>

#include "base/span.h"

static uint32_t first_kept(const bpi_air *air, uint64_t beats)
{
    uint32_t i = 0;
    while (!(beats >> i & 1) || air->fitted[i].dropped) {
        i++;
        assert(i < air->beats); /* a container without one is not made */
    }
    return i;
}

/* "the simmer", but "the greens step": an id that may be a plural would not go with "takes". */
static void put_the(bpi_text *out, const bpi_step *step)
{
    size_t n = strlen(step->id);
    bool plural = n > 1 && step->id[n - 1] == 's' && step->id[n - 2] != 's';
    bpi_text_f(out, "the %s%s", step->id, plural ? " step" : "");
}

static void put_takes(bpi_text *out, const bpi_recipe *recipe, uint32_t step)
{
    put_the(out, &recipe->step[step]);
    bpi_text_put(out, " takes ");
    bpi_span_words(out, bpi_walk_time(&recipe->step[step]));
}

/* "beat 3 gives it 40 s", "beats 3 to 5 give it 1 min 10 s". */
static void put_gives(bpi_text *out, const bpi_air *air, const bpi_step *step, uint32_t from,
                      uint32_t until)
{
    int64_t given = 0;
    uint32_t last = from;
    for (uint32_t i = from; i < until; i++)
        if (!air->fitted[i].dropped && (step->kind != BPI_ACTIVE || i == from)) {
            given += air->fitted[i].length;
            last = i;
        }
    if (last == from)
        bpi_text_f(out, "beat %u gives it ", from + 1);
    else
        bpi_text_f(out, "beats %u to %u give it ", from + 1, last + 1);
    bpi_span_words(out, given);
}

void bpi_why_chain(bpi_text *out, const bpi_air *air, const bpi_recipe *recipe,
                   const bpi_chain *chain)
{
    uint32_t beat = first_kept(air, chain->beats) + 1;
    switch (chain->why) { /* every kind has its case. GCOVR_EXCL_BR_LINE */
    case BPI_WHY_RAW:
        bpi_text_f(out, "beat %u starts from the measured ingredients", beat);
        break;
    case BPI_WHY_AHEAD:
        put_takes(out, recipe, chain->step);
        bpi_text_f(out, ", no beat gives it time before beat %u", beat);
        break;
    case BPI_WHY_SHORT:
        put_takes(out, recipe, chain->step);
        bpi_text_put(out, ", ");
        put_gives(out, air, &recipe->step[chain->step], chain->from, chain->until);
        break;
    case BPI_WHY_LONG:
        put_the(out, &recipe->step[chain->step]);
        bpi_text_f(out, " would be overdone by beat %u: ", beat);
        put_takes(out, recipe, chain->step);
        bpi_text_put(out, ", ");
        put_gives(out, air, &recipe->step[chain->step], chain->from, chain->until);
        break;
    case BPI_WHY_BACK:
        bpi_text_f(out, "beat %u goes back to a state that the container before it is past", beat);
        break;
    }
}

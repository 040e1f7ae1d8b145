#include "safety/board.h"

#include "base/text.h"
#include "safety/limits.h"
#include "safety/walk.h"

bool bpi_board_raw(const bpi_step *step)
{
    return bpi_walk_brings_raw(step) || (step->hazards & (BPI_RAW_POULTRY | BPI_RAW_MEAT));
}

static bool heats(const bpi_step *step)
{
    return step->burner || step->kind == BPI_OVEN;
}

bool bpi_board_ready(const bpi_recipe *recipe, uint32_t step)
{
    if (heats(&recipe->step[step]) || bpi_board_raw(&recipe->step[step]))
        return false;
    for (uint32_t s = 0; s < recipe->steps; s++)
        if ((recipe->step[s].before_all >> step & 1) && heats(&recipe->step[s]))
            return false;
    return true;
}

/* The last use before number i that brought raw food on the board, whatever lay on it since; uses: none,
 * or the board was to be washed for ready-to-eat food since. */
static uint32_t before(const bpi_board_use *use, uint32_t uses, uint32_t i)
{
    for (uint32_t k = i; k-- > 0;)
        if (use[k].tool == use[i].tool && (use[k].raw || use[k].ready))
            return use[k].raw ? k : uses;
    return uses;
}

bp_code bpi_board_check(bp_finding *finding, uint32_t *n, bpi_arena *a, const bpi_show *show,
                        const bpi_board_use *use, uint32_t uses, bp_errors *errs)
{
    const bpi_limit *rule = bpi_limit_of(show->limits, BPI_LIMIT_APART);
    *n = 0;
    for (uint32_t i = 0; i < uses && rule; i++) {
        const bpi_tool *tool = &show->kitchen.tool[use[i].tool];
        uint32_t last = before(use, uses, i);
        if (!use[i].ready || last == uses)
            continue;
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_text_f(&t, "%s goes from raw food (\"%s\") to ready-to-eat food (\"%s\"); ", tool->name,
                   use[last].text, use[i].text);
        bpi_text_put(&t, tool->count > 1
                             ? "mark one of them for raw food, or wash, rinse and "
                               "sanitize it between"
                             : "wash, rinse and sanitize it between, or bring a second");
        const char *kept = t.failed ? NULL : bpi_arena_copy(a, t.s, t.len);
        bpi_text_release(&t);
        if (!kept)
            return bpi_error_no_memory(errs);
        finding[(*n)++] =
            (bp_finding){BP_CAUTION, use[i].container, use[i].from, rule->rule, kept, ""};
    }
    return BP_OK;
}

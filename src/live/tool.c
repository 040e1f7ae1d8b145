#include "live/tool.h"

static uint32_t times(const uint32_t *list, uint32_t n, uint32_t tool)
{
    uint32_t found = 0;
    for (uint32_t i = 0; i < n; i++)
        found += list[i] == tool;
    return found;
}

static bool came_in(const bpi_recipe *r, uint64_t steps, uint32_t tool)
{
    for (uint32_t s = 0; s < r->steps; s++)
        if ((steps >> s & 1) && times(r->step[s].tool, r->step[s].tools, tool))
            return true;
    return false;
}

uint32_t bpi_live_tool(const bpi_show *show, const bpi_air *air, const bpi_swap *swap,
                       uint32_t tool, uint32_t *beat)
{
    const bpi_recipe *r = &show->recipe[show->segment[air->segment].dish[swap->dish].recipe];
    uint64_t steps = bpi_live_on_air(air, swap);
    uint32_t most = 0;
    if (show->kitchen.tool[tool].vessel && came_in(r, swap->steps, tool))
        steps = 0;
    for (uint32_t i = 0; i < air->beats; i++) {
        const bpi_beat *b = &air->beat[i];
        if (!(swap->beats >> i & 1) || b->dish != swap->dish)
            continue;
        uint32_t n = times(b->tool, b->tools, tool);
        for (uint32_t k = 0; k < b->does_n; k++) {
            const bpi_step *s = &r->step[b->does[k]];
            uint32_t of_step = steps >> b->does[k] & 1 ? times(s->tool, s->tools, tool) : 0;
            n = of_step > n ? of_step : n;
        }
        if (n && !most)
            *beat = i;
        most = n > most ? n : most;
    }
    return most;
}

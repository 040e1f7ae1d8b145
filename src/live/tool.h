/* src/live/tool.h - which tools and vessels stand on the set with a container.
 *
 * Owns     nothing.
 * May use  live/live, model/.
 */
#ifndef BP_LIVE_TOOL_H
#define BP_LIVE_TOOL_H

#include "live/live.h"

/* How many of a tool or vessel must stand on the set with the container: what the steps take that are
 * done with it on air, and what its beats name, each counted once and used again. A vessel that
 * it comes in, by a step that was done ahead, is there already unless a beat names one more; a tool is
 * not. *beat: the first that takes it up, where the answer is above 0. */
uint32_t bpi_live_tool(const bpi_show *show, const bpi_air *air, const bpi_swap *swap,
                       uint32_t tool, uint32_t *beat);

#endif

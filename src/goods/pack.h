/* src/goods/pack.h - how many of a vessel or tool are packed for each stage of its use.
 *
 * Owns     nothing: counts are written where the caller says.
 * May use  goods/pull, base/, the public plan header.
 *
 * Uses are served in the order in which they begin, each by one that is free, else by one more, which
 * is then packed for that stage. So as many are packed in all as are in use at one time, at most.
 */
#ifndef BP_GOODS_PACK_H
#define BP_GOODS_PACK_H

#include <stdbool.h>

#include "base/arena.h"
#include "goods/pull.h"

typedef struct bpi_pack_count {
    uint32_t packed; /* for this stage                */
    uint32_t in_use; /* in this stage at once, at most */
} bpi_pack_count;

/* Set count[0 .. stages): every stage of a use of the tool must be below `stages`. `a` is for what is
 * needed on the way. false: no memory. */
bool bpi_pack_tool(bpi_pack_count *count, uint32_t stages, uint32_t tool, const bpi_pull_use *use,
                   uint32_t uses, bpi_arena *a);

#endif

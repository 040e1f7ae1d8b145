/* src/goods/list.h - the pull list while it grows.
 *
 * Owns     nothing: lines and texts live in the caller's arena.
 * May use  base/, the public plan header.
 */
#ifndef BP_GOODS_LIST_H
#define BP_GOODS_LIST_H

#include "backpot/plan.h"
#include "base/arena.h"
#include "base/error.h"
#include "base/text.h"
#include "goods/pull.h"

typedef struct bpi_good_list {
    bpi_arena *a;
    bp_errors *errs;
    bp_good *good;
    size_t n, room;
} bpi_good_list;

/* Room for one more line, which counts once `n` is raised, all its texts ""; NULL: no memory. */
bp_good *bpi_good_list_more(bpi_good_list *list);

/* A copy of a text in the arena, which then is empty; NULL: no memory. */
const char *bpi_good_list_keep(const bpi_good_list *list, bpi_text *t);

/* Append `word` unless it is already one of those in `list`, or empty. */
void bpi_good_word(bpi_text *list, const char *word, size_t len, const char *between);

/* Vessels and tools, as many as are in use at one time, then supplies, so many of each (NULL: none). */
bp_code bpi_gear_list(bpi_good_list *list, const bpi_show *show, const bpi_pull_box *box,
                      uint32_t boxes, const bpi_pull_use *use, uint32_t uses,
                      const uint32_t *supply);

#endif

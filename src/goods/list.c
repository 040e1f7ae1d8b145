#include "goods/list.h"

#include <string.h>

bp_good *bpi_good_list_more(bpi_good_list *list)
{
    bp_good *g =
        bpi_arena_more(list->a, (void **)&list->good, &list->room, list->n, sizeof *list->good);
    if (g)
        *g = (bp_good){.item = "",
                       .note = "",
                       .from = "",
                       .aisle = "",
                       .need = "",
                       .have = "",
                       .buy = "",
                       .codes = "",
                       .allergens = "",
                       .instead = ""};
    return g;
}

const char *bpi_good_list_keep(const bpi_good_list *list, bpi_text *t)
{
    const char *kept = t->failed ? NULL : bpi_arena_copy(list->a, t->s ? t->s : "", t->len);
    bpi_text_reset(t);
    return kept;
}

void bpi_good_word(bpi_text *list, const char *word, size_t len, const char *between)
{
    if (len == 0)
        return;
    size_t gap = strlen(between);
    for (size_t i = 0; list->s && i + len <= list->len; i++) {
        bool begins = i == 0 || (i >= gap && memcmp(list->s + i - gap, between, gap) == 0);
        bool ends = i + len == list->len || strncmp(list->s + i + len, between, gap) == 0;
        if (begins && ends && memcmp(list->s + i, word, len) == 0)
            return;
    }
    if (list->len)
        bpi_text_put(list, between);
    bpi_text_add(list, word, len);
}

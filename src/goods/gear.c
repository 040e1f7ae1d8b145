/* src/goods/gear.c - vessels, tools and supplies of the pull list.
 *
 * Owns     how many of each are fetched; lines as in goods/list.
 * May use  goods/list, model/show, base/.
 */
#include <inttypes.h>
#include <string.h>

#include "goods/list.h"

uint32_t bpi_gear_most(uint32_t tool, const bpi_pull_use *use, uint32_t uses, int64_t *at)
{
    uint32_t most = 0;
    for (uint32_t i = 0; i < uses; i++) { /* in between the number only falls */
        uint32_t n = 0;
        if (use[i].tool != tool)
            continue;
        for (uint32_t k = 0; k < uses; k++)
            n += use[k].tool == tool && use[k].from <= use[i].from && use[i].from < use[k].to;
        if (n > most || (n == most && at && use[i].from < *at)) {
            most = n;
            if (at)
                *at = use[i].from;
        }
    }
    return most;
}

/* What the list is counted from. */
typedef struct from {
    const bpi_pull_box *box;
    uint32_t boxes;
    const bpi_pull_use *use;
    uint32_t uses;
} from;

static bool has_code(const char *codes, const char *code)
{
    size_t len = strlen(code);
    for (const char *at = strstr(codes, code); at; at = strstr(at + 1, code))
        if ((at == codes || at[-1] == ' ') && (at[len] == '\0' || at[len] == ' '))
            return true;
    return false;
}

bool bpi_gear_is_for(const bpi_pull_use *use, const char *code)
{
    return has_code(use->codes, code);
}

/* In the order of the containers. */
static void put_codes(bpi_text *t, const from *f, uint32_t tool)
{
    for (uint32_t b = 0; b < f->boxes; b++)
        for (uint32_t i = 0; i < f->uses; i++)
            if (f->use[i].tool == tool && has_code(f->use[i].codes, f->box[b].code))
                bpi_good_word(t, f->box[b].code, strlen(f->box[b].code), " "); /* once */
}

static bp_code add_tool(bpi_good_list *list, uint32_t number, const bpi_tool *tool, const from *f)
{
    uint32_t most = bpi_gear_most(number, f->use, f->uses, NULL);
    bpi_text t = BPI_TEXT_EMPTY;
    if (most == 0)
        return BP_OK;
    bp_good *g = bpi_good_list_more(list);
    if (!g)
        return bpi_error_no_memory(list->errs);
    g->kind = tool->vessel ? BP_GOOD_VESSEL : BP_GOOD_TOOL;
    g->item = bpi_arena_copy(list->a, tool->name, strlen(tool->name));
    g->note = bpi_arena_copy(list->a, tool->size, strlen(tool->size));
    g->provided = tool->provided;
    bpi_text_f(&t, "%" PRIu32, most);
    g->need = bpi_good_list_keep(list, &t);
    put_codes(&t, f, number);
    g->codes = bpi_good_list_keep(list, &t);
    bpi_text_release(&t);
    if (!g->item || !g->note || !g->need || !g->codes)
        return bpi_error_no_memory(list->errs);
    list->n++;
    return BP_OK;
}

static bp_code add_tools(bpi_good_list *list, const bpi_show *show, bool vessels, const from *f)
{
    bp_code rc = BP_OK;
    for (uint32_t k = 0; k < show->kitchen.tools && rc == BP_OK; k++)
        if (show->kitchen.tool[k].vessel == vessels)
            rc = add_tool(list, k, &show->kitchen.tool[k], f);
    return rc;
}

static bp_code add_supply(bpi_good_list *list, const bpi_supply *s, uint32_t count)
{
    bpi_text t = BPI_TEXT_EMPTY;
    if (count == 0)
        return BP_OK;
    bp_good *g = bpi_good_list_more(list);
    if (!g)
        return bpi_error_no_memory(list->errs);
    g->kind = BP_GOOD_SUPPLY;
    g->provided = s->provided;
    g->item = bpi_arena_copy(list->a, s->item, strlen(s->item));
    g->from = bpi_arena_copy(list->a, s->from, strlen(s->from));
    bpi_text_f(&t, "%" PRIu32, count);
    g->need = bpi_good_list_keep(list, &t);
    bpi_text_f(&t, "%" PRIu32 " %s", s->count, bpi_per_words(s->per));
    g->note = bpi_good_list_keep(list, &t);
    bpi_text_release(&t);
    if (!g->item || !g->from || !g->need || !g->note)
        return bpi_error_no_memory(list->errs);
    list->n++;
    return BP_OK;
}

bp_code bpi_gear_list(bpi_good_list *list, const bpi_show *show, const bpi_pull_box *box,
                      uint32_t boxes, const bpi_pull_use *use, uint32_t uses,
                      const uint32_t *supply)
{
    static const bpi_tool bowl = {
        .name = BPI_PULL_BOWL_NAME, .size = BPI_PULL_BOWL_NOTE, .vessel = true};
    const from f = {box, boxes, use, uses};
    bp_code rc = add_tools(list, show, true, &f);
    if (rc == BP_OK)
        rc = add_tool(list, BPI_PULL_BOWL, &bowl, &f);
    if (rc == BP_OK)
        rc = add_tools(list, show, false, &f);
    for (uint32_t i = 0; supply && i < show->supplies && rc == BP_OK; i++)
        rc = add_supply(list, &show->supply[i], supply[i]);
    return rc;
}

#include "prep/grown.h"

#include <string.h>

static void *one_more(bpi_arena *a, const void *list, uint32_t n, size_t size, uint32_t like)
{
    char *longer = bpi_arena_take(a, (size_t)n + 1, size);
    if (!longer)
        return NULL;
    memcpy(longer, list, n * size);
    memcpy(longer + n * size, longer + like * size, size);
    return longer;
}

/* "the second Ines": she has no name yet. */
static const char *second(bpi_arena *a, const char *name)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_f(&t, "the second %s", name);
    const char *kept = t.failed ? NULL : bpi_arena_copy(a, t.s, t.len);
    bpi_text_release(&t);
    return kept;
}

bool bpi_grown_add(bpi_show *show, bpi_arena *a, bpi_more what, uint32_t like)
{
    bpi_kitchen *k = &show->kitchen;
    if (what == BPI_MORE_COOKS) {
        bpi_cook *cook = one_more(a, k->cook, k->cooks, sizeof *cook, like);
        k->cook = cook;
        return cook && (cook[k->cooks++].name = second(a, cook[like].name));
    }
    bpi_oven *oven = one_more(a, k->oven, k->ovens, sizeof *oven, like);
    k->oven = oven;
    return oven && (oven[k->ovens++].name = second(a, oven[like].name));
}

void bpi_grown_put(bpi_text *out, const bpi_show *show, bpi_more what, uint32_t like)
{
    const bpi_kitchen *k = &show->kitchen;
    if (what == BPI_MORE_COOKS)
        bpi_text_f(out, "have one more cook, with the hours%s of %s",
                   k->cook[like].skills ? " and skills" : "", k->cook[like].name);
    else
        bpi_text_f(out, "have a second oven like the %s", k->oven[like].name);
}

const char *bpi_grown_pointer(bpi_more what)
{
    return what == BPI_MORE_COOKS ? "/kitchen/cooks" : "/kitchen/ovens";
}

#include "out/fetch.h"

#include <string.h>

#include "out/facts.h"

static bool placed(const bp_good *g)
{
    return g->kind == BP_GOOD_FOOD || g->kind == BP_GOOD_SUPPLY;
}

static bool same_group(const bp_good *a, const bp_good *b)
{
    return a->kind == b->kind &&
           (!placed(a) || (strcmp(a->from, b->from) == 0 && strcmp(a->aisle, b->aisle) == 0));
}

static bool is_first(const bp_plan *plan, uint32_t i)
{
    for (uint32_t j = 0; j < i; j++)
        if (same_group(&plan->good[i], &plan->good[j]))
            return false;
    return true;
}

static const char *name_of(bpi_arena *a, const bp_good *g)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bool supply = g->kind == BP_GOOD_SUPPLY;
    if (!placed(g))
        bpi_text_put(&t, g->kind == BP_GOOD_VESSEL ? "Vessels" : "Tools");
    else if (supply)
        bpi_text_put(&t, *g->from ? "Supplies, " : "Supplies");
    if (placed(g))
        bpi_text_put(&t, *g->from || supply ? g->from : "From anywhere");
    if (placed(g) && *g->aisle)
        bpi_text_f(&t, ": %s", g->aisle);
    return bpi_fact_keep(a, &t);
}

static bool add_group(bpi_arena *a, const bp_plan *plan, uint32_t first, bpi_fetch *to)
{
    uint32_t *list = BPI_TAKE(a, plan->goods - first, uint32_t);
    *to = (bpi_fetch){name_of(a, &plan->good[first]), list, 0};
    for (uint32_t i = first; list && i < plan->goods; i++)
        if (same_group(&plan->good[first], &plan->good[i]))
            list[to->goods++] = i;
    return list && to->name;
}

const bpi_fetch *bpi_fetch_groups(bpi_arena *a, const bp_plan *plan, uint32_t *n)
{
    static const bp_good_kind kinds[] = {BP_GOOD_FOOD, BP_GOOD_VESSEL, BP_GOOD_TOOL,
                                         BP_GOOD_SUPPLY};
    bpi_fetch *list = BPI_TAKE(a, plan->goods + 1, bpi_fetch);
    *n = 0;
    for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++)
        for (uint32_t i = 0; list && i < plan->goods; i++)
            if (plan->good[i].kind == kinds[k] && is_first(plan, i) &&
                !add_group(a, plan, i, &list[(*n)++]))
                return NULL;
    return list;
}

bool bpi_fetch_at_hand(const bp_good *g)
{
    return strcmp(g->have, "at hand") == 0 || strcmp(g->buy, "nothing") == 0;
}

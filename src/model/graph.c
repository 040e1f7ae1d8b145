#include "model/graph.h"

#include <inttypes.h>

#include "base/limits.h"

static uint64_t bit(uint32_t i)
{
    return UINT64_C(1) << i;
}

static const bpi_node *child(const bpi_node *list, uint32_t index)
{
    const bpi_node *v = list->first;
    while (v && v->index != index)
        v = v->next;
    return v;
}

static uint32_t lowest(uint64_t set)
{
    uint32_t i = 0;
    while (!(set >> i & 1))
        i++;
    return i;
}

/* Every step of `left` waits for another of them. Walk from the first one to something it waits for
 * until a step comes round again, and name that round: a after b after a. */
static void name_cycle(bpi_reader *r, const bpi_step *step, uint64_t left, const bpi_node *nodes)
{
    uint32_t walk[BPI_MAX_STEPS + 1] = {0}, n = 0, at = lowest(left);
    uint64_t seen = 0;
    while (!(seen & bit(at))) {
        seen |= bit(at);
        walk[n++] = at;
        at = lowest(step[at].after & left);
    }
    uint32_t first = 0;
    while (walk[first] != at)
        first++;
    bpi_text round = BPI_TEXT_EMPTY;
    for (uint32_t i = first; i < n; i++)
        bpi_text_f(&round, "\"%s\" after ", step[walk[i]].id);
    bpi_text_f(&round, "\"%s\"", step[at].id);
    const bpi_node *node = child(nodes, at);
    const bpi_node *after = node ? bpi_node_member(node, "after") : NULL;
    if (round.failed)
        bpi_read_no_memory(r);
    else
        bpi_read_wrong(r, BP_EVALUE, after ? after->at : step[at].where,
                       "take one of these out of \"after\"", "the steps wait for each other: %s",
                       round.s);
    bpi_text_release(&round);
}

void bpi_graph_order(bpi_reader *r, bpi_recipe *recipe, bpi_step *step, const bpi_node *nodes)
{
    uint32_t n = recipe->steps;
    uint32_t *order = BPI_TAKE(r->a, n, uint32_t);
    if (!order) {
        bpi_read_no_memory(r);
        return;
    }
    uint64_t left = n == 64 ? UINT64_MAX : bit(n) - 1;
    recipe->all = left;
    recipe->order = order;
    for (uint32_t done = 0; done < n; done++) {
        uint32_t next = 0;
        while (next < n && (!(left & bit(next)) || step[next].after & left))
            next++;
        if (next == n) {
            name_cycle(r, step, left, nodes);
            return;
        }
        bpi_step *s = &step[next];
        order[done] = next;
        left &= ~bit(next);
        bool inherited = false;
        for (uint32_t p = 0; p < n; p++)
            if (s->after & bit(p)) {
                s->before_all |= bit(p) | step[p].before_all;
                inherited = inherited || step[p].perishable;
            }
        if (!bpi_node_member(child(nodes, next), "perishable"))
            s->perishable = inherited;
    }
}

#include "model/ahead.h"

#include "base/limits.h"
#include "model/graph.h"

static uint64_t bit(uint32_t i)
{
    return UINT64_C(1) << i;
}

uint32_t bpi_ahead_first(const bpi_recipe *recipe, uint32_t step)
{
    for (uint32_t i = 0; i < recipe->steps; i++)
        if (recipe->step[i].ahead == step)
            return i;
    return BPI_NO_INDEX;
}

uint32_t bpi_ahead_next(const bpi_recipe *recipe, uint32_t from)
{
    for (uint32_t i = from + 1; i < recipe->steps; i++)
        if (recipe->step[i].ahead == recipe->step[from].ahead)
            return i;
    return BPI_NO_INDEX;
}

/* What does not go with "ahead". */
static const struct {
    const char *name, *right;
} apart[] = {{"after", "take it out: it comes after the step that \"ahead\" names"},
             {"air", "show the step that \"ahead\" names"},
             {"together", "take it out: each container has its own"},
             {"help", "give it to a step that is always done"},
             {"ingredients", "give them to a step that is always done"}};

static bool check_aside(bpi_reader *r, const bpi_step *step, const bpi_step *s,
                        const bpi_node *node)
{
    const bpi_step *of = &step[s->ahead];
    bool good = true;
    for (size_t i = 0; i < sizeof apart / sizeof *apart; i++) {
        const bpi_node *v = bpi_node_member(node, apart[i].name);
        if (v)
            bpi_read_wrong(r, BP_EVALUE, v->name_at, apart[i].right,
                           "step \"%s\" is for what is cooked ahead and has \"%s\"", s->id,
                           apart[i].name);
        good = good && !v;
    }
    if (of->ahead != BPI_NO_INDEX)
        bpi_read_wrong(r, BP_EVALUE, s->ahead_where, "name the step that cooks it",
                       "step \"%s\" is itself for what is cooked ahead", of->id);
    else if (of->kind == BPI_PASSIVE && !of->burner && !of->time.window)
        bpi_read_wrong(r, BP_EVALUE, s->ahead_where,
                       "name a step on a burner, in an oven, with hands or with a window of time",
                       "step \"%s\" goes on where it is, and nobody ends it", of->id);
    else
        return good;
    return false;
}

/* The first step of those with its "ahead"? */
static bool is_first(const bpi_step *step, uint32_t i)
{
    bool first = step[i].ahead != BPI_NO_INDEX;
    for (uint32_t k = 0; k < i; k++)
        first = first && step[k].ahead != step[i].ahead;
    return first;
}

/* A step comes after none that may be left out; and only one after what may be cooked ahead. */
static bool check_after(bpi_reader *r, const bpi_step *step, uint32_t n, const bpi_node *nodes)
{
    uint32_t next[BPI_MAX_STEPS] = {0};
    bool good = true;
    for (const bpi_node *e = nodes->first; e; e = e->next) {
        const bpi_step *s = &step[e->index];
        const bpi_node *after = bpi_node_member(e, "after");
        for (uint32_t p = 0; p < n && s->ahead == BPI_NO_INDEX; p++) {
            if (!(s->after & bit(p)))
                continue;
            next[p]++;
            if (step[p].ahead == BPI_NO_INDEX)
                continue;
            good = false;
            bpi_read_wrong(
                r, BP_EVALUE, after ? after->at : e->at, "name the step that its \"ahead\" names",
                "step \"%s\" comes after \"%s\", which may be left out", s->id, step[p].id);
        }
    }
    for (uint32_t i = 0; i < n; i++)
        if (is_first(step, i) && next[step[i].ahead] > 1) {
            good = false;
            bpi_read_wrong(r, BP_EVALUE, step[i].ahead_where,
                           "cook ahead what comes before, or let the steps follow one another",
                           "%u steps go on from step \"%s\", and one can be cooked ahead",
                           (unsigned)next[step[i].ahead], step[step[i].ahead].id);
        }
    return good;
}

static void keeps_as(bpi_step *s, const bpi_step *of)
{
    for (int k = 0; k < BPI_KEEPS; k++) {
        s->hold[k] = of->hold[k];
        s->hold_where[k] = of->hold_where[k];
    }
    s->hold_set = of->hold_set;
    s->hold_set_where = of->hold_set_where;
    s->hold_stated = of->hold_stated;
}

void bpi_ahead_read(bpi_reader *r, bpi_recipe *recipe, bpi_step *step, const bpi_node *nodes)
{
    uint32_t last[BPI_MAX_STEPS], before = BPI_NO_INDEX;
    uint64_t aside = 0;
    bool good = true;
    for (uint32_t i = 0; i < recipe->steps; i++)
        last[i] = i;
    for (const bpi_node *e = nodes->first; e; e = e->next) {
        bpi_step *s = &step[e->index];
        if (s->ahead != BPI_NO_INDEX) {
            good = check_aside(r, step, s, e) && good;
            aside |= bit(e->index);
            s->after = bit(last[s->ahead]);
            last[s->ahead] = e->index;
            continue;
        }
        if (e->kind == BPI_OBJECT && !bpi_node_member(e, "after") && before != BPI_NO_INDEX)
            s->after = bit(before);
        before = e->index;
    }
    if (!check_after(r, step, recipe->steps, nodes) || !good)
        return; /* what comes after what cannot be told */
    for (uint32_t i = 0; i < recipe->steps; i++)
        if (step[i].ahead != BPI_NO_INDEX && last[step[i].ahead] == i && !step[i].hold_stated)
            keeps_as(&step[i], &step[step[i].ahead]);
    bpi_graph_order(r, recipe, step, nodes);
    recipe->all &= ~aside;
}

#include "engine/core.h"

#include <assert.h>
#include <string.h>

#include "base/memory.h"
#include "engine/grow.h"

bool bpi_core_init(bpi_core *c)
{
    *c = (bpi_core){0};
    return bpi_core_var(c, 0, 0) == 0;
}

void bpi_core_release(bpi_core *c)
{
    for (uint32_t v = 0; v < c->views; v++) {
        bpi_mem_drop(c->arcs[v].item);
        bpi_mem_drop(c->conds[v].item);
        bpi_mem_drop(c->wakes[v].item);
        bpi_mem_drop(c->watch[v].item);
    }
    bpi_mem_drop(c->low);
    bpi_mem_drop(c->root);
    bpi_mem_drop(c->last);
    bpi_mem_drop(c->arcs);
    bpi_mem_drop(c->conds);
    bpi_mem_drop(c->wakes);
    bpi_mem_drop(c->watch);
    bpi_mem_drop(c->trail);
    bpi_mem_drop(c->level);
    bpi_mem_drop(c->reason);
    bpi_mem_drop(c->reason_mark);
    bpi_mem_drop(c->done_mark);
    bpi_mem_drop(c->arc);
    bpi_mem_drop(c->clause.words);
    bpi_mem_drop(c->clause.learned);
    bpi_mem_drop(c->clause.given);
    bpi_mem_drop(c->prop);
    for (uint32_t q = 0; q < BPI_RANKS; q++)
        bpi_mem_drop(c->queue[q]);
    bpi_mem_drop(c->why);
    *c = (bpi_core){0};
}

static bool lack(bpi_core *c)
{
    c->no_memory = true;
    return false;
}

uint32_t bpi_core_var(bpi_core *c, int32_t low, int32_t high)
{
    assert(c->levels == 0 && low <= high);
    uint64_t n = (uint64_t)c->views + 2;
    if (!BPI_GROW(c->low, c->low_room, n) || !BPI_GROW(c->root, c->root_room, n) ||
        !BPI_GROW(c->last, c->last_room, n) || !BPI_GROW(c->arcs, c->arcs_room, n) ||
        !BPI_GROW(c->conds, c->conds_room, n) || !BPI_GROW(c->wakes, c->wakes_room, n) ||
        !BPI_GROW(c->watch, c->watch_room, n)) {
        c->no_memory = true;
        return UINT32_MAX;
    }
    uint32_t view = c->views;
    c->low[view] = c->root[view] = low;
    c->low[view + 1] = c->root[view + 1] = -high;
    for (uint32_t v = view; v < view + 2; v++) {
        c->last[v] = BPI_NO_STEP;
        c->arcs[v] = c->conds[v] = c->wakes[v] = (bpi_numbers){0};
        c->watch[v] = (bpi_watches){0};
    }
    c->views += 2;
    return view;
}

static bool add_number(bpi_core *c, bpi_numbers *list, uint32_t x)
{
    if (!BPI_GROW(list->item, list->item_room, (uint64_t)list->items + 1))
        return lack(c);
    list->item[list->items++] = x;
    return true;
}

static bool one_arc(bpi_core *c, bpi_arc arc)
{
    if (c->arcs_made >= BPI_MOST_PLACE ||
        !BPI_GROW(c->arc, c->arc_room, (uint64_t)c->arcs_made + 1))
        return lack(c);
    uint32_t n = c->arcs_made++;
    c->arc[n] = arc;
    if (!add_number(c, &c->arcs[arc.from], n))
        return false;
    if (!bpi_lit_holds(c, arc.cond))
        return add_number(c, &c->conds[arc.cond.view], n);
    c->arc[n].cond = BPI_LIT_TRUE;
    /* What it says of the root bounds at once; later only changes are looked at. */
    return bpi_core_set(c, (bpi_lit){arc.to, c->low[arc.from] + arc.add}, 0) || !c->no_memory;
}

bool bpi_core_arc(bpi_core *c, bpi_ref from, bpi_ref to, int64_t add, bpi_lit cond)
{
    if (bpi_lit_fails(c, cond))
        return true;
    int64_t gap = add + from.add - to.add;
    /* A gap beyond every bound only says that the arc cannot hold; keep the numbers small. */
    int32_t d = gap > INT32_MAX / 8 ? INT32_MAX / 8 : (int32_t)gap;
    if (gap < INT32_MIN / 8 || (from.view == to.view && gap <= 0))
        return true;
    if (from.view == to.view) {
        bpi_lit no = bpi_lit_not(cond);
        return bpi_core_clause(c, &no, 1);
    }
    if (c->low[from.view] + d > -c->low[to.view ^ 1] && !bpi_lit_holds(c, cond)) {
        bpi_lit no = bpi_lit_not(cond);
        return bpi_core_clause(c, &no, 1);
    }
    if (-c->low[from.view ^ 1] + d <= c->low[to.view])
        return true; /* holds always */
    return one_arc(c, (bpi_arc){from.view, to.view, d, cond}) &&
           one_arc(c, (bpi_arc){to.view ^ 1, from.view ^ 1, d, cond});
}

uint32_t bpi_core_propagator(bpi_core *c, bpi_run *run, void *self, bpi_rank rank)
{
    bool room = BPI_GROW(c->prop, c->prop_room, (uint64_t)c->props + 1);
    for (uint32_t q = 0; q < BPI_RANKS && room; q++)
        room = BPI_GROW(c->queue[q], c->queue_room[q], (uint64_t)c->props + 1);
    if (!room) {
        c->no_memory = true;
        return UINT32_MAX;
    }
    /* The rings change their length: nothing may be in them. All are queued before the search. */
    for (uint32_t q = 0; q < BPI_RANKS; q++)
        c->queue_head[q] = c->queue_len[q] = 0;
    for (uint32_t p = 0; p < c->props; p++)
        c->prop[p].queued = false;
    c->prop[c->props] = (bpi_propagator){run, NULL, self, false, (uint8_t)rank};
    return c->props++;
}

void bpi_core_ask(bpi_core *c, uint32_t prop, bpi_because *because)
{
    c->prop[prop].because = because;
}

bool bpi_core_wake(bpi_core *c, uint32_t prop, uint32_t view)
{
    bpi_numbers *w = &c->wakes[view];
    if (view < 2 || (w->items && w->item[w->items - 1] == prop))
        return true; /* the constant never changes */
    return add_number(c, w, prop);
}

void bpi_core_queue(bpi_core *c, uint32_t prop)
{
    bpi_propagator *p = &c->prop[prop];
    if (p->queued)
        return;
    p->queued = true;
    uint32_t q = p->rank;
    c->queue[q][(c->queue_head[q] + c->queue_len[q]++) % c->props] = prop;
}

static bool keep_why(bpi_core *c, const bpi_lit *l, uint32_t n)
{
    if (!BPI_GROW(c->why, c->why_room, n))
        return lack(c);
    if (n)
        memmove(c->why, l, n * sizeof *l);
    c->whys = n;
    return true;
}

bool bpi_core_conflict(bpi_core *c, const bpi_lit *because, uint32_t n)
{
    if (c->levels == 0)
        c->broken = true;
    keep_why(c, because, n);
    return false;
}

/* The newest step made l true, which a bound forbids. The conflict is what led to the step and that
 * bound; l itself and the bound would only say that x cannot be above and below. */
static bool clash(bpi_core *c, bpi_lit l)
{
    if (c->levels == 0) {
        c->broken = true;
        return false;
    }
    c->whys = 0;
    if (!bpi_core_explain(c, c->trails - 1, l.least, &c->why, &c->whys, &c->why_room) ||
        !BPI_GROW(c->why, c->why_room, (uint64_t)c->whys + 1))
        return lack(c);
    c->why[c->whys++] = bpi_lit_not(l);
    return false;
}

bool bpi_core_set(bpi_core *c, bpi_lit l, uint32_t why)
{
    int32_t old = c->low[l.view];
    if (old >= l.least)
        return true;
    if (!BPI_GROW(c->trail, c->trail_room, (uint64_t)c->trails + 1))
        return lack(c);
    c->trail[c->trails] = (bpi_step){l.view, old, l.least, c->last[l.view], c->levels, why};
    c->last[l.view] = c->trails++;
    c->low[l.view] = l.least;
    int32_t high = -c->low[l.view ^ 1];
    if (l.least <= high)
        return true;
    return clash(c, (bpi_lit){l.view, high + 1});
}

bool bpi_core_set_stored(bpi_core *c, bpi_lit l, const bpi_lit *because, uint32_t n, bpi_why kind)
{
    if (c->low[l.view] >= l.least)
        return true;
    if (c->levels == 0)
        return bpi_core_set(c, l, 0);
    uint32_t place = c->reasons;
    uint64_t end = (uint64_t)place + 1 + 2 * (uint64_t)n;
    if (end > BPI_MOST_PLACE || !BPI_GROW(c->reason, c->reason_room, end))
        return lack(c);
    c->reason[place] = (int32_t)n;
    if (n)
        memcpy(&c->reason[place + 1], because, n * sizeof *because);
    c->reasons = (uint32_t)end;
    return bpi_core_set(c, l, BPI_WHY(kind, place));
}

bool bpi_core_decide(bpi_core *c, bpi_lit l)
{
    if (!BPI_GROW(c->level, c->level_room, (uint64_t)c->levels + 1) ||
        !BPI_GROW(c->reason_mark, c->reason_mark_room, (uint64_t)c->levels + 1) ||
        !BPI_GROW(c->done_mark, c->done_mark_room, (uint64_t)c->levels + 1))
        return lack(c);
    c->level[c->levels] = c->trails;
    c->done_mark[c->levels] = c->done;
    c->reason_mark[c->levels++] = c->reasons;
    return bpi_core_set(c, l, BPI_WHY(BPI_WHY_DECIDED, 0));
}

static void empty_queues(bpi_core *c)
{
    for (uint32_t q = 0; q < BPI_RANKS; q++) {
        for (uint32_t k = 0; k < c->queue_len[q]; k++)
            c->prop[c->queue[q][(c->queue_head[q] + k) % c->props]].queued = false;
        c->queue_len[q] = 0;
    }
}

void bpi_core_back(bpi_core *c, uint32_t level)
{
    if (level >= c->levels)
        return;
    uint32_t keep = c->level[level];
    while (c->trails > keep) {
        const bpi_step *s = &c->trail[--c->trails];
        c->low[s->view] = s->old;
        c->last[s->view] = s->before;
    }
    c->reasons = c->reason_mark[level];
    c->levels = level;
    c->done = c->done_mark[level];
    empty_queues(c);
}

static bool follow_arc(bpi_core *c, uint32_t n)
{
    const bpi_arc *a = &c->arc[n];
    int32_t least = c->low[a->from] + a->add;
    c->work++;
    if (c->low[a->to] >= least)
        return true;
    if (bpi_lit_holds(c, a->cond))
        return bpi_core_set(c, (bpi_lit){a->to, least}, BPI_WHY(BPI_WHY_ARC, n));
    int32_t high = -c->low[a->to ^ 1];
    if (least <= high || bpi_lit_fails(c, a->cond))
        return true;
    bpi_lit because[2] = {{a->from, high + 1 - a->add}, {a->to ^ 1, -high}};
    return bpi_core_set_stored(c, bpi_lit_not(a->cond), because, 2, BPI_WHY_STORED);
}

static bool visit(bpi_core *c, uint32_t at)
{
    bpi_step s = c->trail[at];
    const bpi_numbers *list = &c->arcs[s.view];
    for (uint32_t k = 0; k < list->items; k++)
        if (!follow_arc(c, list->item[k]))
            return false;
    list = &c->conds[s.view];
    for (uint32_t k = 0; k < list->items; k++) {
        int32_t need = c->arc[list->item[k]].cond.least;
        if (s.old < need && need <= s.now && !follow_arc(c, list->item[k]))
            return false;
    }
    if (!bpi_clause_visit(c, &s))
        return false;
    list = &c->wakes[s.view];
    for (uint32_t k = 0; k < list->items; k++)
        bpi_core_queue(c, list->item[k]);
    return true;
}

/* At the root a bound needs no reason any more: make it the root bound and forget the steps. */
static void settle_root(bpi_core *c)
{
    for (uint32_t k = 0; k < c->trails; k++) {
        uint32_t v = c->trail[k].view;
        c->root[v] = c->low[v];
        c->last[v] = BPI_NO_STEP;
    }
    c->trails = c->done = c->reasons = 0;
}

bool bpi_core_propagate(bpi_core *c)
{
    if (c->broken)
        return false;
    for (;;) {
        while (c->done < c->trails)
            if (!visit(c, c->done++))
                return false;
        uint32_t q = 0;
        while (q < BPI_RANKS && !c->queue_len[q])
            q++;
        if (q == BPI_RANKS)
            break;
        uint32_t n = c->queue[q][c->queue_head[q]];
        c->queue_head[q] = (c->queue_head[q] + 1) % c->props;
        c->queue_len[q]--;
        c->prop[n].queued = false;
        if (!c->prop[n].run(c, c->prop[n].self))
            return false;
    }
    if (c->levels == 0)
        settle_root(c);
    return true;
}

uint32_t bpi_core_step(const bpi_core *c, bpi_lit l)
{
    if (l.least <= c->root[l.view])
        return BPI_NO_STEP;
    uint32_t at = c->last[l.view];
    while (at != BPI_NO_STEP && c->trail[at].old >= l.least)
        at = c->trail[at].before;
    return at;
}

int32_t bpi_core_low_before(const bpi_core *c, uint32_t view, uint32_t at)
{
    int32_t low = c->low[view];
    for (uint32_t k = c->last[view]; k != BPI_NO_STEP && k >= at; k = c->trail[k].before)
        low = c->trail[k].old;
    return low;
}

static bool append(bpi_core *c, bpi_lit **out, uint32_t *outs, uint32_t *room, bpi_lit l)
{
    if (l.least <= c->root[l.view])
        return true;
    if (!BPI_GROW(*out, *room, (uint64_t)*outs + 1))
        return lack(c);
    (*out)[(*outs)++] = l;
    return true;
}

bool bpi_core_explain(bpi_core *c, uint32_t at, int32_t least, bpi_lit **out, uint32_t *outs,
                      uint32_t *out_room)
{
    const bpi_step *s = &c->trail[at];
    uint32_t place = s->why >> 3;
    switch ((bpi_why)(s->why & 7)) {
    case BPI_WHY_DECIDED:
        break;
    case BPI_WHY_ARC: {
        const bpi_arc *a = &c->arc[place];
        return append(c, out, outs, out_room, (bpi_lit){a->from, least - a->add}) &&
               append(c, out, outs, out_room, a->cond);
    }
    case BPI_WHY_CLAUSE: {
        const int32_t *w = &c->clause.words[place];
        uint32_t n = (uint32_t)w[0];
        bpi_lit l;
        bpi_clause_bump(c, place);
        for (uint32_t k = 1; k < n; k++) {
            memcpy(&l, &w[BPI_CLAUSE_HEAD + 2 * k], sizeof l);
            if (!append(c, out, outs, out_room, bpi_lit_not(l)))
                return false;
        }
        return true;
    }
    case BPI_WHY_STORED:
    case BPI_WHY_SUM: {
        uint32_t n = (uint32_t)c->reason[place];
        int32_t spare = (s->why & 7) == BPI_WHY_SUM ? s->now - least : 0;
        bpi_lit l;
        for (uint32_t k = 0; k < n; k++) {
            memcpy(&l, &c->reason[place + 1 + 2 * k], sizeof l);
            l.least -= spare;
            spare = 0;
            if (!append(c, out, outs, out_room, l))
                return false;
        }
        return true;
    }
    case BPI_WHY_ASK: {
        const bpi_lit *because;
        uint32_t n = c->prop[place].because(c, c->prop[place].self, at, least, &because);
        for (uint32_t k = 0; k < n; k++)
            if (!append(c, out, outs, out_room, because[k]))
                return false;
        return true;
    }
    }
    return true;
}

#include "engine/cumulative.h"

/* Where each task surely runs; part_from INT32_MAX: nowhere. */
static uint32_t find_parts(bpi_core *c, bpi_cumulative *r)
{
    uint32_t sure = 0;
    for (uint32_t t = 0; t < r->tasks; t++) {
        const bpi_task *k = &r->task[t];
        int32_t from = bpi_ref_high(c, k->start), to = bpi_ref_low(c, k->end);
        bool runs = from < to && bpi_lit_holds(c, k->on);
        r->part_from[t] = runs ? from : INT32_MAX;
        r->part_to[t] = runs ? to : INT32_MAX;
        sure += runs;
    }
    c->work += r->tasks;
    return sure;
}

/* Insertion sort: between two runs little changes place. Ties by number keep it deterministic. */
static void sort(bpi_core *c, uint32_t *order, const int32_t *key, uint32_t n)
{
    for (uint32_t k = 1; k < n; k++) {
        uint32_t x = order[k], at = k;
        for (; at &&
               (key[order[at - 1]] > key[x] || (key[order[at - 1]] == key[x] && order[at - 1] > x));
             at--)
            order[at] = order[at - 1];
        order[at] = x;
        c->work += (k - at) / 8;
    }
}

static void limit_of(const bpi_core *c, const bpi_cumulative *r, uint32_t s, bpi_profile *p)
{
    p->capacity = INT32_MAX;
    p->guard = BPI_LIT_TRUE;
    for (uint32_t k = 0; k < r->segment[s].limits; k++) {
        const bpi_limit *l = &r->limit[r->segment[s].first + k];
        if (bpi_lit_holds(c, l->guard)) {
            p->capacity = l->capacity;
            p->guard = l->guard;
            return;
        }
    }
}

/* Sweep over starts, ends and limits. Pieces that cannot bind any task are left out. */
static void build(bpi_core *c, bpi_cumulative *r, uint32_t sure, int32_t most_amount)
{
    uint32_t a = 0, b = 0, s = 0;
    int32_t height = 0, at = 0;
    r->profiles = 0;
    bpi_profile piece;
    limit_of(c, r, 0, &piece);
    for (;;) {
        while (a < sure && r->part_from[r->by_from[a]] <= at)
            height += r->task[r->by_from[a++]].amount;
        while (b < sure && r->part_to[r->by_to[b]] <= at)
            height -= r->task[r->by_to[b++]].amount;
        while (r->segment[s].to <= at) {
            if (s + 1 == r->segments)
                return;
            limit_of(c, r, ++s, &piece);
        }
        int32_t next = r->segment[s].to;
        if (a < sure && r->part_from[r->by_from[a]] < next)
            next = r->part_from[r->by_from[a]];
        if (b < sure && r->part_to[r->by_to[b]] < next)
            next = r->part_to[r->by_to[b]];
        if (piece.capacity != INT32_MAX && height > piece.capacity - most_amount) {
            piece.from = at;
            piece.to = next;
            piece.height = height;
            r->profile[r->profiles++] = piece;
        }
        at = next;
    }
}

/* Why more than `most` is taken at p, without task `but`. Returns the count of literals. */
static uint32_t because(bpi_core *c, bpi_cumulative *r, int32_t p, int64_t most, uint32_t but,
                        bpi_lit guard, uint32_t count)
{
    int64_t sum = 0;
    r->because[count++] = guard;
    for (uint32_t t = 0; t < r->tasks; t++)
        if (t != but && r->part_from[t] <= p && p < r->part_to[t])
            sum += r->task[t].amount;
    int64_t spare = sum - most - 1;
    c->work += r->tasks / 4;
    for (uint32_t t = 0; t < r->tasks; t++) {
        if (t == but || !(r->part_from[t] <= p && p < r->part_to[t]))
            continue;
        const bpi_task *k = &r->task[t];
        if (k->amount <= spare) {
            spare -= k->amount;
            continue;
        }
        r->because[count++] = bpi_ref_most(k->start, p);
        r->because[count++] = bpi_ref_least(k->end, p + 1);
        r->because[count++] = k->on;
    }
    return count;
}

static int64_t room_for(const bpi_profile *p, const bpi_task *k)
{
    return (int64_t)p->capacity - k->amount;
}

static uint32_t first_after(const bpi_cumulative *r, int32_t at) /* first piece with to > at */
{
    uint32_t low = 0, high = r->profiles;
    while (low < high) {
        uint32_t mid = (low + high) / 2;
        if (r->profile[mid].to > at)
            high = mid;
        else
            low = mid + 1;
    }
    return low;
}

static bool own(const bpi_cumulative *r, uint32_t t, const bpi_profile *p)
{
    return r->part_from[t] <= p->from && p->from < r->part_to[t];
}

static bool push_start(bpi_core *c, bpi_cumulative *r, uint32_t t)
{
    const bpi_task *k = &r->task[t];
    for (uint32_t n = first_after(r, bpi_ref_low(c, k->start)); n < r->profiles; n++) {
        const bpi_profile *p = &r->profile[n];
        if (p->from >= bpi_ref_low(c, k->end))
            break;
        c->work++;
        if (p->height <= room_for(p, k) || own(r, t, p))
            continue;
        while (bpi_ref_low(c, k->start) < p->to && bpi_ref_low(c, k->end) > p->from) {
            int32_t end = bpi_ref_low(c, k->end), at = (end < p->to ? end : p->to) - 1;
            if (bpi_ref_low(c, k->start) > at)
                break;
            r->because[0] = bpi_ref_least(k->end, at + 1);
            r->because[1] = k->on;
            uint32_t count = because(c, r, at, room_for(p, k), t, p->guard, 2);
            if (!bpi_core_set_stored(c, bpi_ref_least(k->start, at + 1), r->because, count,
                                     BPI_WHY_STORED))
                return false;
        }
    }
    return true;
}

static bool push_end(bpi_core *c, bpi_cumulative *r, uint32_t t)
{
    const bpi_task *k = &r->task[t];
    /* Pieces that start before the latest end, from the last down. */
    for (uint32_t n = first_after(r, bpi_ref_high(c, k->end) - 1) + 1; n-- > 0;) {
        if (n >= r->profiles)
            continue;
        const bpi_profile *p = &r->profile[n];
        if (p->from >= bpi_ref_high(c, k->end))
            continue;
        if (p->to <= bpi_ref_high(c, k->start))
            break;
        c->work++;
        if (p->height <= room_for(p, k) || own(r, t, p))
            continue;
        while (bpi_ref_high(c, k->end) > p->from && bpi_ref_high(c, k->start) < p->to) {
            int32_t start = bpi_ref_high(c, k->start), at = start > p->from ? start : p->from;
            if (bpi_ref_high(c, k->end) <= at)
                break;
            r->because[0] = bpi_ref_most(k->start, at);
            r->because[1] = k->on;
            uint32_t count = because(c, r, at, room_for(p, k), t, p->guard, 2);
            if (!bpi_core_set_stored(c, bpi_ref_most(k->end, at), r->because, count,
                                     BPI_WHY_STORED))
                return false;
        }
    }
    return true;
}

/* A task that would surely run where there is no room is not on this resource. */
static bool rule_out(bpi_core *c, bpi_cumulative *r, uint32_t t)
{
    const bpi_task *k = &r->task[t];
    int32_t from = bpi_ref_high(c, k->start), to = bpi_ref_low(c, k->end);
    for (uint32_t n = first_after(r, from); from < to && n < r->profiles; n++) {
        const bpi_profile *p = &r->profile[n];
        if (p->from >= to)
            break;
        c->work++;
        if (p->height <= room_for(p, k))
            continue;
        int32_t at = from > p->from ? from : p->from;
        r->because[0] = bpi_ref_most(k->start, at);
        r->because[1] = bpi_ref_least(k->end, at + 1);
        uint32_t count = because(c, r, at, room_for(p, k), t, p->guard, 2);
        return bpi_core_set_stored(c, bpi_lit_not(k->on), r->because, count, BPI_WHY_STORED);
    }
    return true;
}

bool bpi_cumulative_run(bpi_core *c, void *self)
{
    bpi_cumulative *r = self;
    uint32_t sure = find_parts(c, r);
    sort(c, r->by_from, r->part_from, r->tasks);
    sort(c, r->by_to, r->part_to, r->tasks);
    int32_t most_amount = 0;
    for (uint32_t t = 0; t < r->tasks; t++)
        if (!bpi_lit_fails(c, r->task[t].on) && r->task[t].amount > most_amount)
            most_amount = r->task[t].amount;
    build(c, r, sure, most_amount);
    for (uint32_t n = 0; n < r->profiles; n++) {
        const bpi_profile *p = &r->profile[n];
        if (p->height > p->capacity) {
            int32_t at = p->from + (p->to - p->from) / 2;
            return bpi_core_conflict(c, r->because,
                                     because(c, r, at, p->capacity, UINT32_MAX, p->guard, 0));
        }
    }
    if (!r->profiles)
        return true;
    for (uint32_t t = 0; t < r->tasks; t++) {
        const bpi_task *k = &r->task[t];
        if (bpi_lit_fails(c, k->on))
            continue;
        bool fine =
            bpi_lit_holds(c, k->on) ? push_start(c, r, t) && push_end(c, r, t) : rule_out(c, r, t);
        if (!fine)
            return false;
    }
    return true;
}

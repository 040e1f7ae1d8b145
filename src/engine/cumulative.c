#include "engine/cumulative.h"

/* What has changed since the last run: tasks, and the time in which their sure parts did. */
typedef struct news {
    uint32_t sure;
    int32_t from, to; /* from >= to: no part */
} news;

static void widen(news *w, int32_t from, int32_t to)
{
    w->from = from < w->from ? from : w->from;
    w->to = to > w->to ? to : w->to;
}

static news look(bpi_core *c, bpi_cumulative *r)
{
    news w = {0, INT32_MAX, INT32_MIN};
    for (uint32_t t = 0; t < r->tasks; t++) {
        const bpi_task *k = &r->task[t];
        bpi_seen *s = &r->seen[t];
        int32_t from = bpi_ref_high(c, k->start), to = bpi_ref_low(c, k->end);
        int32_t start = bpi_ref_low(c, k->start), end = bpi_ref_high(c, k->end);
        bool on = bpi_lit_holds(c, k->on), runs = from < to && on;
        from = runs ? from : INT32_MAX;
        to = runs ? to : INT32_MAX;
        s->changed = s->start != start || s->end != end || s->on != on;
        if (s->part_from != from || s->part_to != to) {
            if (s->part_from != INT32_MAX)
                widen(&w, s->part_from, s->part_to);
            if (runs)
                widen(&w, from, to);
            s->changed = true;
        }
        *s = (bpi_seen){start, end, from, to, on, s->changed};
        w.sure += runs;
    }
    if (!r->built || r->loose_limits)
        widen(&w, INT32_MIN, INT32_MAX);
    c->work += r->tasks / 2;
    return w;
}

/* Insertion sort: between two runs little changes place. Ties by number keep it deterministic. */
static void sort(bpi_core *c, bpi_cumulative *r, uint32_t *order, bool by_to)
{
    for (uint32_t k = 1; k < r->tasks; k++) {
        uint32_t x = order[k], at = k;
        int32_t key = by_to ? r->seen[x].part_to : r->seen[x].part_from;
        for (; at; at--) {
            const bpi_seen *s = &r->seen[order[at - 1]];
            int32_t other = by_to ? s->part_to : s->part_from;
            if (other < key || (other == key && order[at - 1] < x))
                break;
            order[at] = order[at - 1];
        }
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
static void build(bpi_core *c, bpi_cumulative *r, uint32_t sure)
{
    uint32_t a = 0, b = 0, s = 0;
    int32_t height = 0, at = 0;
    r->profiles = 0;
    r->tightest = INT32_MIN;
    bpi_profile piece;
    limit_of(c, r, 0, &piece);
    for (;;) {
        while (a < sure && r->seen[r->by_from[a]].part_from <= at)
            height += r->task[r->by_from[a++]].amount;
        while (b < sure && r->seen[r->by_to[b]].part_to <= at)
            height -= r->task[r->by_to[b++]].amount;
        while (r->segment[s].to <= at) {
            if (s + 1 == r->segments)
                return;
            limit_of(c, r, ++s, &piece);
        }
        int32_t next = r->segment[s].to;
        if (a < sure && r->seen[r->by_from[a]].part_from < next)
            next = r->seen[r->by_from[a]].part_from;
        if (b < sure && r->seen[r->by_to[b]].part_to < next)
            next = r->seen[r->by_to[b]].part_to;
        if (piece.capacity != INT32_MAX && height > piece.capacity - r->most_amount) {
            piece.from = at;
            piece.to = next;
            piece.height = height;
            r->profile[r->profiles++] = piece;
            if (height - piece.capacity > r->tightest)
                r->tightest = height - piece.capacity;
        }
        at = next;
    }
}

/* Why more than `most` is taken at p, without task `but`. Returns the count of literals. */
static uint32_t because(bpi_core *c, bpi_cumulative *r, int32_t p, int64_t most, uint32_t but,
                        bpi_lit guard, uint32_t count)
{
    int64_t sum = 0;
    uint32_t begun = 0;
    r->because[count++] = guard;
    for (; begun < r->tasks; begun++) {
        uint32_t t = r->by_from[begun];
        if (r->seen[t].part_from > p)
            break;
        if (t != but && p < r->seen[t].part_to)
            sum += r->task[t].amount;
    }
    int64_t spare = sum - most - 1;
    c->work += begun / 4;
    for (uint32_t n = 0; n < begun; n++) {
        uint32_t t = r->by_from[n];
        if (t == but || p >= r->seen[t].part_to)
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
    return r->seen[t].part_from <= p->from && p->from < r->seen[t].part_to;
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

static bool overload(bpi_core *c, bpi_cumulative *r)
{
    for (uint32_t n = 0; r->tightest > 0 && n < r->profiles; n++) {
        const bpi_profile *p = &r->profile[n];
        if (p->height > p->capacity) {
            int32_t at = p->from + (p->to - p->from) / 2;
            return !bpi_core_conflict(c, r->because,
                                      because(c, r, at, p->capacity, UINT32_MAX, p->guard, 0));
        }
    }
    return false;
}

static bool push(bpi_core *c, bpi_cumulative *r, uint32_t t, const news *w)
{
    const bpi_task *k = &r->task[t];
    const bpi_seen *s = &r->seen[t];
    if (k->amount + r->tightest <= 0 || bpi_lit_fails(c, k->on))
        return true;
    if (!s->changed && (s->start >= w->to || s->end <= w->from))
        return true;
    return s->on ? push_start(c, r, t) && push_end(c, r, t) : rule_out(c, r, t);
}

bool bpi_cumulative_run(bpi_core *c, void *self)
{
    bpi_cumulative *r = self;
    news w = look(c, r);
    uint32_t t = 0;
    if (w.from < w.to) {
        sort(c, r, r->by_from, false);
        sort(c, r, r->by_to, true);
        build(c, r, w.sure);
        r->built = true;
    }
    bool fine = !overload(c, r);
    while (fine && r->profiles && t < r->tasks)
        fine = push(c, r, t++, &w);
    /* What a conflict kept from being looked at is to be looked at next time. */
    for (t -= t > 0; !fine && t < r->tasks; t++)
        r->seen[t].start = INT32_MIN;
    return fine;
}

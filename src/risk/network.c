#include "risk/network.h"

#include "base/error.h"

static bool within(int64_t v)
{
    return v >= -BP_RISK_MOST_TIME && v <= BP_RISK_MOST_TIME;
}

static bp_code wrong(bp_errors *errs, const char *row, uint32_t i, const char *what)
{
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "", "%s %u of the network %s", row,
                       (unsigned)i, what);
}

static bp_code check_rows(const bp_risk_network *n, bp_errors *errs)
{
    if (n->share > 1000)
        return bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE,
                             "the share of the group in the luck is more than all of it",
                             "0..1000");
    for (uint32_t i = 0; i < n->activities; i++) {
        const bp_risk_activity *a = &n->activity[i];
        if (a->low < 0 || a->low > a->likely || a->likely > a->high || a->high > BP_RISK_MOST_TIME)
            return wrong(errs, "activity", i, "has lengths out of order or out of range");
        if (a->release < 0 || a->release > BP_RISK_MOST_TIME)
            return wrong(errs, "activity", i, "has a release out of range");
        if (a->group != BP_RISK_NONE && a->group >= n->groups)
            return wrong(errs, "activity", i, "names a group that is not there");
        if (a->shape != BP_RISK_PERT && a->shape != BP_RISK_TRIANGLE)
            return wrong(errs, "activity", i, "has a shape that is not known");
    }
    for (uint32_t i = 0; i < n->links; i++)
        if (n->link[i].from >= n->activities || n->link[i].to >= n->activities ||
            !within(n->link[i].lag))
            return wrong(errs, "link", i, "names no activity, or has a lag out of range");
    for (uint32_t i = 0; i < n->dues; i++)
        if (n->due[i].act >= n->activities || !within(n->due[i].most) ||
            (n->due[i].since != BP_RISK_NONE && n->due[i].since >= n->activities))
            return wrong(errs, "due", i, "names no activity, or is out of range");
    return BP_OK;
}

static bool sort_links(bpi_net *m, bpi_arena *a)
{
    const bp_risk_network *n = m->of;
    uint32_t *first = BPI_TAKE(a, (size_t)n->activities + 1, uint32_t);
    uint32_t *into = BPI_TAKE(a, n->links, uint32_t);
    uint32_t *next = BPI_TAKE(a, n->activities, uint32_t);
    if (!first || !into || !next)
        return false;
    for (uint32_t i = 0; i < n->links; i++)
        first[n->link[i].to + 1]++;
    for (uint32_t i = 0; i < n->activities; i++) {
        next[i] = first[i];
        first[i + 1] += first[i];
    }
    for (uint32_t i = 0; i < n->links; i++)
        into[next[n->link[i].to]++] = i;
    m->first = first;
    m->into = into;
    return true;
}

/* Depth first over what comes before; where there is no circle each is put after all of it. */
static bp_code sort_activities(bpi_net *m, bpi_arena *a, bp_errors *errs)
{
    const bp_risk_network *n = m->of;
    uint32_t *order = BPI_TAKE(a, n->activities, uint32_t);
    uint32_t *stack = BPI_TAKE(a, n->activities, uint32_t);
    uint32_t *next = BPI_TAKE(a, n->activities, uint32_t); /* link to look at, on from `first` */
    uint8_t *state = BPI_TAKE(a, n->activities, uint8_t);  /* 0 new, 1 on the stack, 2 placed  */
    if (!order || !stack || !next || !state)
        return bpi_error_no_memory(errs);
    uint32_t placed = 0;
    for (uint32_t root = 0; root < n->activities; root++) {
        uint32_t depth = 0;
        if (state[root])
            continue;
        state[root] = 1;
        stack[depth++] = root;
        while (depth) {
            uint32_t i = stack[depth - 1];
            if (m->first[i] + next[i] == m->first[i + 1]) {
                state[i] = 2;
                order[placed++] = i;
                depth--;
                continue;
            }
            uint32_t from = n->link[m->into[m->first[i] + next[i]++]].from;
            if (state[from] == 1)
                return wrong(errs, "activity", from, "waits for itself");
            if (state[from] == 0) {
                state[from] = 1;
                stack[depth++] = from;
            }
        }
    }
    m->order = order;
    return BP_OK;
}

/* Starts and ends with each length as `pick` says: 0 likely, 1 high. Returns the last end. */
static int64_t pass(const bpi_net *m, int pick, int64_t *start, int64_t *end)
{
    const bp_risk_network *n = m->of;
    int64_t last = 0;
    for (uint32_t k = 0; k < n->activities; k++) {
        uint32_t i = m->order[k];
        int64_t s = n->activity[i].release;
        for (uint32_t j = m->first[i]; j < m->first[i + 1]; j++) {
            const bp_risk_link *l = &n->link[m->into[j]];
            int64_t t = (l->from_start ? start[l->from] : end[l->from]) + l->lag;
            s = t > s ? t : s;
        }
        start[i] = s;
        end[i] = s + (pick ? n->activity[i].high : n->activity[i].likely);
        last = end[i] > last ? end[i] : last;
    }
    return last;
}

static bp_code find_usual(bpi_net *m, bpi_arena *a, bp_errors *errs)
{
    const bp_risk_network *n = m->of;
    int64_t *start = BPI_TAKE(a, n->activities, int64_t);
    int64_t *end = BPI_TAKE(a, n->activities, int64_t);
    int32_t *usual = BPI_TAKE(a, n->dues, int32_t);
    if (!start || !end || !usual)
        return bpi_error_no_memory(errs);
    if (pass(m, 1, start, end) > BP_RISK_MOST_TIME)
        return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "count time in larger units",
                           "the network may last longer than %d units", BP_RISK_MOST_TIME);
    pass(m, 0, start, end);
    for (uint32_t i = 0; i < n->dues; i++) {
        const bp_risk_due *d = &n->due[i];
        int64_t t = (d->start ? start : end)[d->act];
        usual[i] = (int32_t)(d->since == BP_RISK_NONE ? t : t - start[d->since]);
    }
    m->usual = usual;
    return BP_OK;
}

static bool same_length(const bp_risk_activity *a, const bp_risk_activity *b)
{
    return a->low == b->low && a->likely == b->likely && a->high == b->high && a->shape == b->shape;
}

static bool make_tables(bpi_net *m, bpi_arena *a, const bpi_shapes *shapes)
{
    const bp_risk_network *n = m->of;
    const int32_t **table = BPI_TAKE(a, n->activities, const int32_t *);
    if (!table)
        return false;
    for (uint32_t i = 0; i < n->activities; i++) {
        if (n->activity[i].low == n->activity[i].high)
            continue;
        for (uint32_t j = 0; j < i && !table[i]; j++)
            if (table[j] && same_length(&n->activity[i], &n->activity[j]))
                table[i] = table[j];
        if (!table[i])
            table[i] = bpi_shape_make(shapes, a, &n->activity[i]);
        if (!table[i])
            return false;
    }
    m->table = table;
    return true;
}

bp_code bpi_net_make(bpi_net **out, bpi_arena *a, const bp_risk_network *of, bp_errors *errs)
{
    *out = NULL;
    bp_code rc = check_rows(of, errs);
    if (rc != BP_OK)
        return rc;
    bpi_net *m = BPI_TAKE(a, 1, bpi_net);
    bpi_shapes *shapes = BPI_TAKE(a, 1, bpi_shapes);
    if (!m || !shapes)
        return bpi_error_no_memory(errs);
    m->of = of;
    if (!sort_links(m, a))
        return bpi_error_no_memory(errs);
    rc = sort_activities(m, a, errs);
    if (rc == BP_OK)
        rc = find_usual(m, a, errs);
    if (rc != BP_OK)
        return rc;
    bpi_shapes_init(shapes);
    m->normal = shapes->normal;
    m->common = (int32_t)bpi_fix_sqrt(((uint64_t)of->share << 30) / 1000);
    m->own = (int32_t)bpi_fix_sqrt(((uint64_t)(1000 - of->share) << 30) / 1000);
    if (!make_tables(m, a, shapes))
        return bpi_error_no_memory(errs);
    *out = m;
    return BP_OK;
}

uint32_t bpi_net_binding(const bpi_net *n, uint32_t act, const int32_t *start, const int32_t *end,
                         uint32_t step)
{
    int32_t at = start[(size_t)act * step];
    if (at == n->of->activity[act].release)
        return BP_RISK_NONE;
    for (uint32_t j = n->first[act]; j < n->first[act + 1]; j++) {
        const bp_risk_link *l = &n->of->link[n->into[j]];
        if ((l->from_start ? start : end)[(size_t)l->from * step] + l->lag == at)
            return n->into[j];
    }
    return BP_RISK_NONE;
}

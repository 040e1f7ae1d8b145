#include "out/timeline_layout.h"

#include "out/facts.h"

#define QUIET       3600 /* seconds without a beginning or an end that are left out */
#define ROUND       300  /* pieces begin and end on five minutes */
#define PERSON_LANE 31.0
#define HEAT_LANE   22.0 /* burners, ovens, tools */
#define PLACE_LANE  13.0
#define PATH_LANE   23.0
#define GROUP_GAP   5.0

typedef struct span {
    int64_t from, to;
} span;

/* Lists that grow in the arena; `none` once there was no memory. */
typedef struct maker {
    bpi_arena *a;
    const bp_plan *plan;
    const bpi_tl_ask *ask;
    bpi_tl *tl;
    size_t lane_room, bar_room, row_room, page_room;
    bool none;
} maker;

static void *more(maker *m, void *list_at, size_t *room, uint32_t n, size_t size)
{
    void *list = *(void **)list_at;
    void *place = bpi_arena_more(m->a, &list, room, n, size);
    *(void **)list_at = list;
    if (!place)
        m->none = true;
    return place;
}

/* ---- axis -------------------------------------------------------------------------------- */

static int64_t floor_to(int64_t t, int64_t step)
{
    int64_t rest = t % step;
    return t - (rest < 0 ? rest + step : rest);
}

static void put_span(span *list, uint32_t *n, int64_t from, int64_t to)
{
    uint32_t at = (*n)++;
    for (; at > 0 && list[at - 1].from > from; at--)
        list[at] = list[at - 1];
    list[at] = (span){from, to};
}

/* What happens, by start: work as a whole, what goes on by itself by its two ends. */
static uint32_t list_spans(span *list, const bp_plan *plan)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *o = &plan->op[i];
        if (o->kind == BP_OP_WAIT || o->kind == BP_OP_SET)
            continue;
        if (bpi_fact_hands_on(o->kind)) {
            put_span(list, &n, o->from, o->to);
        } else {
            put_span(list, &n, o->from, o->from);
            put_span(list, &n, o->to, o->to);
        }
    }
    for (uint32_t i = 0; i < plan->airs; i++) {
        put_span(list, &n, plan->air[i].hit,
                 plan->air[i].hit + plan->air[i].slot + plan->air[i].floats);
        put_span(list, &n, plan->air[i].set_by, plan->air[i].set_by);
    }
    return n;
}

static void make_pieces(maker *m)
{
    const bp_plan *plan = m->plan;
    size_t most = 2 * ((size_t)plan->ops + plan->airs);
    span *list = BPI_TAKE(m->a, most, span);
    bpi_tl_piece *piece = BPI_TAKE(m->a, most, bpi_tl_piece);
    if (!list || !piece) {
        m->none = true;
        return;
    }
    uint32_t n = list_spans(list, plan), pieces = 0;
    for (uint32_t i = 0; i < n; i++) {
        if (pieces == 0 || list[i].from - piece[pieces - 1].to > QUIET)
            piece[pieces++] = (bpi_tl_piece){list[i].from, list[i].to, 0};
        else if (list[i].to > piece[pieces - 1].to)
            piece[pieces - 1].to = list[i].to;
    }
    for (uint32_t i = 0; i < pieces; i++) {
        piece[i].from = floor_to(piece[i].from, ROUND);
        piece[i].to = floor_to(piece[i].to + ROUND, ROUND);
    }
    m->tl->piece = piece;
    m->tl->pieces = pieces;
}

/* Scale and windows: the fewest pages at `minute` or more, filled. */
static void make_scale(maker *m)
{
    bpi_tl *tl = m->tl;
    int64_t seconds = 0;
    for (uint32_t i = 0; i < tl->pieces; i++)
        seconds += tl->piece[i].to - tl->piece[i].from;
    double gaps = tl->pieces > 1 ? (tl->pieces - 1) * BPI_TL_GAP : 0;
    double least = (double)seconds / 60 * m->ask->minute + gaps, length = least;
    if (m->ask->width > 0) {
        uint32_t windows = (uint32_t)((least - 0.001) / m->ask->width) + 1;
        length = windows * m->ask->width;
    }
    tl->width = m->ask->width > 0 ? m->ask->width : length;
    tl->length = length;
    tl->scale = seconds > 0 ? (length - gaps) / (double)seconds : 1;
    double x = 0;
    for (uint32_t i = 0; i < tl->pieces; i++) {
        tl->piece[i].x = x;
        x += (double)(tl->piece[i].to - tl->piece[i].from) * tl->scale + BPI_TL_GAP;
    }
}

double bpi_tl_x(const bpi_tl *tl, int64_t t)
{
    double end = 0;
    for (uint32_t i = 0; i < tl->pieces; i++) {
        const bpi_tl_piece *p = &tl->piece[i];
        if (t < p->from) {
            if (i == 0)
                return 0;
            const bpi_tl_piece *q = p - 1;
            return end + BPI_TL_GAP * (double)(t - q->to) / (double)(p->from - q->to);
        }
        end = p->x + (double)(p->to - p->from) * tl->scale;
        if (t <= p->to)
            return p->x + (double)(t - p->from) * tl->scale;
    }
    return end;
}

/* ---- lanes ------------------------------------------------------------------------------- */

static bool is_free(const maker *m, uint32_t lane, const bp_op *o)
{
    const bpi_tl *tl = m->tl;
    for (uint32_t i = 0; i < tl->bars; i++) {
        const bp_op *other = &m->plan->op[tl->bar[i].op];
        if (tl->bar[i].lane == lane && other->to > o->from && o->to > other->from)
            return false;
    }
    return true;
}

static bool share(const bp_plan *p, uint32_t a, uint32_t b)
{
    for (uint32_t i = 0; i < p->op[a].serves.n; i++)
        if (bpi_fact_serves(p, b, p->index[p->op[a].serves.first + i]))
            return true;
    return false;
}

static bool uses(const bp_plan *p, uint32_t op, uint32_t thing)
{
    for (uint32_t i = 0; i < p->op[op].uses.n; i++)
        if (p->index[p->op[op].uses.first + i] == thing)
            return true;
    return false;
}

/* What ends in a lane as the operation starts; BP_NO_INDEX: nothing. */
static uint32_t ends_in(const maker *m, uint32_t lane, const bp_op *o)
{
    for (uint32_t i = 0; i < m->tl->bars; i++)
        if (m->tl->bar[i].lane == lane && m->plan->op[m->tl->bar[i].op].to == o->from)
            return m->tl->bar[i].op;
    return BP_NO_INDEX;
}

/* Does what ended go on in something else that starts with the operation? Then its lane is not free. */
static bool is_kept(const maker *m, uint32_t ended, uint32_t op, uint32_t thing)
{
    const bp_plan *p = m->plan;
    for (uint32_t i = 0; i < p->ops && ended != BP_NO_INDEX; i++)
        if (i != op && p->op[i].from == p->op[op].from && uses(p, i, thing) && share(p, ended, i))
            return !share(p, ended, op);
    return false;
}

/* A pot stays on its burner, what stands in a place stays there: the lane where what the operation goes on
 * with has just ended, else the first of the group that is free. */
static uint32_t lane_of_thing(const maker *m, uint32_t first, uint32_t op, uint32_t thing)
{
    const bp_op *o = &m->plan->op[op];
    uint32_t best = m->tl->lanes;
    for (uint32_t lane = m->tl->lanes; lane-- > first;) {
        uint32_t ended = ends_in(m, lane, o);
        if (!is_free(m, lane, o) || is_kept(m, ended, op, thing))
            continue;
        if (ended != BP_NO_INDEX && share(m->plan, ended, op))
            return lane;
        best = lane;
    }
    return best;
}

/* The first lane of the group, which began at `first`, that is free by then; tl.lanes: one more. */
static uint32_t lane_of(const maker *m, uint32_t first, uint32_t op)
{
    uint32_t lane = first;
    while (lane < m->tl->lanes && !is_free(m, lane, &m->plan->op[op]))
        lane++;
    return lane;
}

static void add_bar(maker *m, uint32_t first, uint32_t lane, uint32_t op, bpi_tl_lane like)
{
    bpi_tl *tl = m->tl;
    const bp_op *o = &m->plan->op[op];
    if (lane == tl->lanes) {
        bpi_tl_lane *place = more(m, &tl->lane, &m->lane_room, tl->lanes, sizeof *place);
        if (!place)
            return;
        *place = like;
        place->number = lane - first;
        tl->lanes++;
    }
    bpi_tl_bar *bar = more(m, &tl->bar, &m->bar_room, tl->bars, sizeof *bar);
    if (!bar)
        return;
    *bar = (bpi_tl_bar){op, lane, bpi_tl_x(tl, o->from), bpi_tl_x(tl, o->to)};
    tl->bars++;
}

static double lane_height(bp_thing_kind kind)
{
    return kind == BP_BURNER || kind == BP_OVEN || kind == BP_TOOL ? HEAT_LANE : PLACE_LANE;
}

static void add_people(maker *m)
{
    for (uint32_t who = 0; who < m->plan->persons; who++) {
        uint32_t first = m->tl->lanes;
        for (uint32_t i = 0; i < m->plan->ops && !m->none; i++)
            if (m->plan->op[i].person == who)
                add_bar(m, first, lane_of(m, first, i), i,
                        (bpi_tl_lane){who, true, 0, PERSON_LANE});
    }
}

/* Vessels have no lane: where a pot stands says what matters. */
static void add_things(maker *m)
{
    const bp_plan *plan = m->plan;
    for (uint32_t thing = 0; thing < plan->things; thing++) {
        uint32_t first = m->tl->lanes;
        if (plan->thing[thing].kind == BP_VESSEL)
            continue;
        double height = lane_height(plan->thing[thing].kind);
        for (uint32_t i = 0; i < plan->ops && !m->none; i++)
            for (uint32_t k = 0; k < plan->op[i].uses.n && !m->none; k++)
                if (plan->index[plan->op[i].uses.first + k] == thing)
                    add_bar(m, first, lane_of_thing(m, first, i, thing), i,
                            (bpi_tl_lane){thing, false, 0, height});
    }
}

static void add_paths(maker *m)
{
    for (uint32_t c = 0; c < m->plan->containers; c++) {
        uint32_t first = m->tl->lanes;
        for (uint32_t i = 0; i < m->plan->ops && !m->none; i++)
            if (bpi_fact_serves(m->plan, i, c) && m->plan->op[i].kind != BP_OP_HELP)
                add_bar(m, first, lane_of(m, first, i), i, (bpi_tl_lane){c, false, 0, PATH_LANE});
    }
}

/* ---- pages ------------------------------------------------------------------------------- */

static bool lane_is_used(const bpi_tl *tl, uint32_t lane, double from, double to)
{
    for (uint32_t i = 0; i < tl->bars; i++)
        if (tl->bar[i].lane == lane && tl->bar[i].x0 < to && tl->bar[i].x1 > from)
            return true;
    return false;
}

static bool same_group(const bpi_tl_lane *a, const bpi_tl_lane *b)
{
    return a->group == b->group && a->person == b->person;
}

static bpi_tl_page *add_page(maker *m, double from)
{
    bpi_tl *tl = m->tl;
    bpi_tl_page *page = more(m, &tl->page, &m->page_room, tl->pages, sizeof *page);
    if (page) {
        *page = (bpi_tl_page){from, from + tl->width, {tl->rows, 0}};
        tl->pages++;
    }
    return page;
}

/* How high all lanes of a window are together. */
static double window_height(const bpi_tl *tl, double from)
{
    double sum = 0;
    const bpi_tl_lane *before = NULL;
    for (uint32_t lane = 0; lane < tl->lanes; lane++) {
        const bpi_tl_lane *l = &tl->lane[lane];
        if (!lane_is_used(tl, lane, from, from + tl->width))
            continue;
        sum += l->height + (before && !same_group(before, l) ? GROUP_GAP : 0);
        before = l;
    }
    return sum;
}

/* 1, or less where that brings all lanes onto one page. */
static double squeeze(const maker *m, double from)
{
    double needed = window_height(m->tl, from), most = m->ask->height;
    return most > 0 && needed > most && needed * BPI_TL_SQUEEZE <= most ? most / needed : 1;
}

/* The lanes that have something in one window, on as many pages as their heights need. */
static void add_window(maker *m, double from)
{
    bpi_tl *tl = m->tl;
    bpi_tl_page *page = add_page(m, from);
    double y = 0, factor = squeeze(m, from);
    const bpi_tl_lane *before = NULL;
    if (!page)
        return;
    for (uint32_t lane = 0; lane < tl->lanes; lane++) {
        const bpi_tl_lane *l = &tl->lane[lane];
        double height = l->height * factor;
        if (!lane_is_used(tl, lane, from, from + tl->width))
            continue;
        if (before && !same_group(before, l))
            y += GROUP_GAP * factor;
        if (m->ask->height > 0 && y + height > m->ask->height + 0.001 && page->rows.n > 0) {
            page = add_page(m, from);
            y = 0;
            if (!page)
                return;
        }
        bpi_tl_row *row = more(m, &tl->row, &m->row_room, tl->rows, sizeof *row);
        if (!row)
            return;
        *row = (bpi_tl_row){lane, y, height};
        tl->rows++;
        page->rows.n++;
        y += height;
        if (y > tl->height)
            tl->height = y;
        before = l;
    }
    if (page && page->rows.n == 0)
        tl->pages--; /* nothing happens here */
}

bpi_tl *bpi_tl_make(bpi_arena *a, const bp_plan *plan, const bpi_tl_ask *ask)
{
    maker m = {.a = a, .plan = plan, .ask = ask, .tl = BPI_TAKE(a, 1, bpi_tl)};
    if (!m.tl)
        return NULL;
    make_pieces(&m);
    if (m.none)
        return NULL;
    make_scale(&m);
    if (ask->part == BPI_TL_PATHS) {
        add_paths(&m);
    } else {
        add_people(&m);
        add_things(&m);
    }
    for (uint32_t k = 0; k * m.tl->width < m.tl->length - 0.5 && !m.none; k++)
        add_window(&m, k * m.tl->width);
    return m.none ? NULL : m.tl;
}

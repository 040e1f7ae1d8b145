/* src/plan/verify_station.c - stations: walking, room, hot containers in the way, cameras. */
#include "plan/verify.h"

#include <string.h>

/* The row is walked station by station here, not by its places. */
static int64_t walk_of(const bpi_segment *g, uint32_t from, uint32_t to)
{
    int64_t sum = 0;
    for (uint32_t i = from < to ? from : to; i < (from < to ? to : from); i++)
        sum += g->station[i + 1].walk;
    return sum;
}

/* The station of beat k. That of a drafted one has only its name in the plan. */
static uint32_t at_of(const bpi_verify *v, uint32_t air, uint32_t k)
{
    const bpi_segment *g = &v->show->segment[v->segment[air]];
    const bp_beat *b = &v->plan->beat[v->plan->air[air].beats.first + k];
    uint32_t at = BPI_NO_INDEX;
    for (uint32_t i = 0; i < g->stations && g->beats == 0; i++)
        if (strcmp(g->station[i].id, b->station) == 0)
            at = i;
    return k < g->beats ? g->beat[k].at : at;
}

/* A drafted beat is at one, and where its recipe says. */
static void test_drafted(bpi_verify *v, uint32_t air, uint32_t k)
{
    const bpi_segment *g = &v->show->segment[v->segment[air]];
    const bp_beat *b = &v->plan->beat[v->plan->air[air].beats.first + k];
    const bpi_want *w = &v->want[v->plan->air[air].beats.first + k];
    if (at_of(v, air, k) == BPI_NO_INDEX)
        bpi_object(v, b->id, "it is at no station of its segment");
    for (uint32_t i = 0; i < w->does_n && w->dish != BPI_NO_INDEX; i++) {
        const char *at = v->show->recipe[g->dish[w->dish].recipe].step[w->does[i]].air_station;
        if (at[0] && strcmp(at, b->station) != 0)
            bpi_object(v, b->id, "its step is shown at another station");
    }
}

/* Where a container is when a beat begins: with the last beat that worked with it, else where it is
 * first wanted; BPI_NO_INDEX: it is gone, or no beat ever works with it. */
static uint32_t whereabouts(const bpi_verify *v, uint32_t air, uint32_t c, uint32_t k)
{
    const bp_plan *p = v->plan;
    uint32_t at = BPI_NO_INDEX;
    bool later = false;
    for (uint32_t i = 0; i < p->air[air].beats.n; i++) {
        const bp_beat *b = &p->beat[p->air[air].beats.first + i];
        if (b->dropped || !bpi_among(p, b->on, c))
            continue;
        if (at == BPI_NO_INDEX || i <= k)
            at = at_of(v, air, i);
        later |= i >= k;
    }
    return later ? at : BPI_NO_INDEX;
}

/* Did heat come to it, ahead or on air before beat k, and no cold after that? */
static bool is_hot(const bpi_verify *v, uint32_t air, uint32_t c, uint32_t k)
{
    const bp_plan *p = v->plan;
    const bpi_recipe *r = v->recipe[c];
    uint64_t done = p->container[c].steps, hot = 0;
    for (uint32_t i = 0; i < k; i++) {
        const bpi_want *w = &v->want[p->air[air].beats.first + i];
        for (uint32_t j = 0;
             bpi_among(p, p->beat[p->air[air].beats.first + i].on, c) && j < w->does_n; j++)
            done |= w->dish == v->dish[c] ? UINT64_C(1) << w->does[j] : 0;
    }
    for (uint32_t s = 0; s < r->steps; s++)
        if ((done >> s & 1) && (r->step[s].burner || r->step[s].kind == BPI_OVEN))
            hot |= UINT64_C(1) << s;
    for (uint32_t s = 0; s < r->steps; s++)
        if ((done >> s & 1) && (r->step[s].keep == BPI_COLD || r->step[s].cool.in != BPI_COOL_NOT))
            hot &= ~r->step[s].before_all;
    return hot != 0;
}

static bool is_between(uint32_t from, uint32_t at, uint32_t to)
{
    return from < to ? from < at && at < to : to < at && at < from;
}

static void test_walk(bpi_verify *v, uint32_t air, uint32_t last, uint32_t k)
{
    const bp_plan *p = v->plan;
    const bpi_segment *g = &v->show->segment[v->segment[air]];
    const bp_beat *b = &p->beat[p->air[air].beats.first + k];
    uint32_t to = at_of(v, air, k), from = last == BPI_NO_INDEX ? to : at_of(v, air, last);
    if (to == BPI_NO_INDEX || from == BPI_NO_INDEX)
        return; /* told */
    bool crosses = false;
    if (b->walk != walk_of(g, from, to) || b->place != walk_of(g, 0, to))
        bpi_object(v, b->id, "how far it is walked to it is told wrong");
    for (uint32_t c = 0; c < p->containers && from != to; c++) {
        if (p->container[c].air != air || !is_hot(v, air, c, k))
            continue;
        uint32_t before = whereabouts(v, air, c, k ? k - 1 : 0);
        if (whereabouts(v, air, c, k) == BPI_NO_INDEX || before == BPI_NO_INDEX)
            continue;
        crosses |= is_between(from, before, to) ||
                   (bpi_among(p, b->on, c) && before != to && !bpi_among(p, b->in, c));
    }
    if (crosses != (b->crosses[0] != '\0'))
        bpi_object(v, b->id, "whether hot containers are in the way is told wrong");
}

static void test_room(bpi_verify *v, uint32_t air, uint32_t k)
{
    const bp_plan *p = v->plan;
    const bpi_segment *g = &v->show->segment[v->segment[air]];
    for (uint32_t s = 0; s < g->stations; s++) {
        uint32_t n = 0;
        for (uint32_t c = 0; c < p->containers; c++)
            n += p->container[c].air == air && whereabouts(v, air, c, k) == s;
        if (n > g->station[s].room)
            bpi_object(v, g->station[s].id, "%u containers stand there in beat %s", n,
                       p->beat[p->air[air].beats.first + k].id);
    }
}

/* Every camera is followed from where it was left: when it may go, and when it is wanted. */
static void test_cameras(bpi_verify *v, uint32_t air)
{
    const bp_plan *p = v->plan;
    const bpi_segment *g = &v->show->segment[v->segment[air]];
    for (uint32_t c = 0; c < g->cameras; c++) {
        int64_t free_at = 0;
        uint32_t left = BPI_NO_INDEX;
        for (uint32_t k = 0; k < g->beats; k++) {
            const bp_beat *b = &p->beat[p->air[air].beats.first + k];
            if (b->dropped || g->beat[k].camera_at != c)
                continue;
            bool moves =
                left != BPI_NO_INDEX && strcmp(g->beat[left].station, g->beat[k].station) != 0;
            int64_t gap = b->from + b->walk - free_at, needs = moves ? g->camera[c].move : 0;
            if (b->camera_late != (gap < needs ? needs - gap : 0))
                bpi_object(v, b->id, "how late its camera is there is told wrong");
            free_at = b->from + b->length;
            left = k;
        }
    }
    for (uint32_t k = 0; k < p->air[air].beats.n; k++) {
        const bp_beat *b = &p->beat[p->air[air].beats.first + k];
        uint32_t c = k < g->beats ? g->beat[k].camera_at : BPI_NO_INDEX;
        if (strcmp(b->camera, k < g->beats ? g->beat[k].camera : "") != 0 ||
            b->camera_move != (c == BPI_NO_INDEX ? 0 : g->camera[c].move) ||
            (b->camera_late && (b->dropped || c == BPI_NO_INDEX)))
            bpi_object(v, b->id, "its camera is told wrong");
    }
}

/* A container is for the first station that a beat it is on in names. */
static void test_place(bpi_verify *v, uint32_t c)
{
    const bp_plan *p = v->plan;
    const bp_slice beats = p->air[p->container[c].air].beats;
    const char *at = "";
    for (uint32_t k = 0; k < beats.n && !*at; k++)
        if (bpi_among(p, p->beat[beats.first + k].on, c))
            at = p->beat[beats.first + k].station;
    if (strcmp(at, p->container[c].station) != 0)
        bpi_object(v, p->container[c].code, "its station is told wrong");
}

/* The station of a beat, and how much it holds. */
static void test_post(bpi_verify *v, uint32_t air, uint32_t k)
{
    const bpi_segment *g = &v->show->segment[v->segment[air]];
    const bp_beat *b = &v->plan->beat[v->plan->air[air].beats.first + k];
    uint32_t at = g->stations ? at_of(v, air, k) : BPI_NO_INDEX, room = 0;
    if (at != BPI_NO_INDEX && g->station[at].room != UINT32_MAX)
        room = g->station[at].room;
    if (b->post != (at == BPI_NO_INDEX ? 0 : at + 1) || b->room != room)
        bpi_object(v, b->id, "the number or the room of its station is told wrong");
}

static void test_hot(bpi_verify *v, uint32_t c)
{
    const bp_plan *p = v->plan;
    uint32_t air = p->container[c].air;
    uint64_t hot = 0;
    for (uint32_t k = 0; k < p->air[air].beats.n; k++)
        if (bpi_among(p, p->beat[p->air[air].beats.first + k].on, c) && is_hot(v, air, c, k + 1))
            hot |= UINT64_C(1) << k;
    if (p->container[c].hot != hot || p->container[c].comes_hot != is_hot(v, air, c, 0))
        bpi_object(v, p->container[c].code, "when it is hot is told wrong");
}

void bpi_verify_station(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    for (uint32_t c = 0; c < p->containers; c++) {
        test_place(v, c);
        test_hot(v, c);
    }
    for (uint32_t a = 0; a < p->airs; a++) {
        const bpi_segment *g = &v->show->segment[v->segment[a]];
        uint32_t last = BPI_NO_INDEX;
        test_cameras(v, a);
        for (uint32_t k = 0; k < p->air[a].beats.n; k++) {
            const bp_beat *b = &p->beat[p->air[a].beats.first + k];
            bool on = !b->dropped && g->stations;
            test_post(v, a, k);
            if (g->stations && g->beats == 0)
                test_drafted(v, a, k);
            if (b->dropped && g->stations && b->place != walk_of(g, 0, at_of(v, a, k)))
                bpi_object(v, b->id, "where it would be is told wrong");
            if (on) {
                test_walk(v, a, last, k);
                test_room(v, a, k);
                last = k;
            } else if (b->walk || b->crosses[0] || (!g->stations && b->place)) {
                bpi_object(v, b->id, "it is walked to where nobody walks");
            }
        }
    }
}

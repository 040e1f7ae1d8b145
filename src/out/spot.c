#include "out/spot.h"

#include <string.h>

#include "out/facts.h"

/* ---- stations ------------------------------------------------------------------------------ */

static const char *station_of(const bp_plan *plan, const bpi_spot *s)
{
    return s->container != BP_NO_INDEX ? plan->container[s->container].station
                                       : plan->stand[s->stand].station;
}

static uint32_t beat_of(const bp_plan *plan, const bpi_spot *s)
{
    return s->container != BP_NO_INDEX ? plan->container[s->container].beat
                                       : plan->stand[s->stand].beat; /* none is the greatest */
}

/* In order of use; what a beat uses by itself stands behind its containers. */
static void put(const bp_plan *plan, bpi_spot *list, uint32_t *n, bpi_spot s)
{
    uint32_t at = (*n)++;
    for (; at > 0 && beat_of(plan, &s) < beat_of(plan, &list[at - 1]); at--)
        list[at] = list[at - 1];
    list[at] = s;
}

static uint32_t spots_at(const bp_plan *plan, uint32_t air, const char *station, bpi_spot *list)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < plan->containers; i++)
        if (plan->container[i].air == air && strcmp(plan->container[i].station, station) == 0)
            put(plan, list, &n, (bpi_spot){i, BP_NO_INDEX});
    for (uint32_t i = 0; i < plan->stands; i++)
        if (plan->stand[i].air == air && plan->stand[i].container == BP_NO_INDEX &&
            strcmp(plan->stand[i].station, station) == 0)
            put(plan, list, &n, (bpi_spot){BP_NO_INDEX, i});
    return n;
}

static bool known(const bpi_spots *list, uint32_t n, const char *name)
{
    for (uint32_t i = 0; i < n; i++)
        if (strcmp(list[i].name, name) == 0)
            return true;
    return false;
}

const bpi_spots *bpi_spot_stations(bpi_arena *a, const bp_plan *plan, uint32_t air, uint32_t *n)
{
    uint32_t most = plan->containers + plan->stands;
    bpi_spots *list = BPI_TAKE(a, most + 1, bpi_spots);
    *n = 0;
    for (uint32_t i = 0; list && i < most; i++) {
        bool box = i < plan->containers;
        const bpi_spot s = {box ? i : BP_NO_INDEX, box ? BP_NO_INDEX : i - plan->containers};
        uint32_t of = box ? plan->container[i].air : plan->stand[s.stand].air;
        bool on_tray = !box && plan->stand[s.stand].container != BP_NO_INDEX;
        if (of != air || on_tray || known(list, *n, station_of(plan, &s)))
            continue;
        bpi_spot *spot = BPI_TAKE(a, most + 1, bpi_spot);
        if (!spot)
            return NULL;
        bpi_spots *to = &list[(*n)++];
        *to = (bpi_spots){station_of(plan, &s), spot, 0};
        to->spots = spots_at(plan, air, to->name, spot);
    }
    return list;
}

/* ---- words --------------------------------------------------------------------------------- */

/* By what a supply is counted is of no use to who dresses the set. */
static void put_stand(bpi_text *t, const bp_stand *s)
{
    const char *note = s->kind == BP_GOOD_SUPPLY ? "" : s->note;
    bpi_text_f(t, "%u x %s%s%s", (unsigned)s->count, s->item, *note ? ", " : "", note);
}

const char *bpi_spot_stand(bpi_arena *a, const bp_plan *plan, uint32_t stand)
{
    bpi_text t = BPI_TEXT_EMPTY;
    put_stand(&t, &plan->stand[stand]);
    return bpi_fact_keep(a, &t);
}

/* What is measured with it, line by line; the heading of that list goes without saying. */
static const char *measured(const bp_plan *plan, uint32_t container)
{
    uint32_t carry = bpi_fact_carry(plan, container);
    const char *s = carry == BP_NO_INDEX ? "" : plan->op[carry].detail;
    for (uint32_t i = 0; i < plan->ops && plan->container[container].stage == BP_RAW; i++)
        if (plan->op[i].kind == BP_OP_MEASURE && bpi_fact_serves(plan, i, container))
            s = plan->op[i].detail; /* all of it is measured */
    return s;
}

const char *bpi_spot_tray(bpi_arena *a, const bp_plan *plan, uint32_t container)
{
    bpi_text t = BPI_TEXT_EMPTY;
    for (uint32_t i = 0; i < plan->stands; i++)
        if (plan->stand[i].container == container) {
            bpi_text_put(&t, t.len ? "\n" : "");
            put_stand(&t, &plan->stand[i]);
        }
    for (const char *s = measured(plan, container); *s;) {
        size_t len = strcspn(s, "\n");
        if (len && s[len - 1] != ':') {
            bpi_text_put(&t, t.len ? "\n" : "");
            bpi_text_add(&t, s, len);
        }
        s += len + (s[len] == '\n');
    }
    return bpi_fact_keep(a, &t);
}

static void put_beat(bpi_text *t, const bp_plan *plan, const bp_air *air, uint32_t i,
                     const char *between)
{
    char clock[BP_CLOCK_ROOM];
    bpi_text_f(t, "%sbeat %u, %s", t->len ? between : "", (unsigned)i + 1,
               bpi_fact_clock(clock, plan, plan->beat[air->beats.first + i].from));
}

const char *bpi_spot_used(bpi_arena *a, const bp_plan *plan, const bpi_spot *spot,
                          const char *between)
{
    bpi_text t = BPI_TEXT_EMPTY;
    char clock[BP_CLOCK_ROOM];
    const bp_container *c =
        spot->container == BP_NO_INDEX ? NULL : &plan->container[spot->container];
    const bp_air *air = &plan->air[c ? c->air : plan->stand[spot->stand].air];
    for (uint32_t i = 0; i < air->beats.n; i++) {
        const bp_beat *b = &plan->beat[air->beats.first + i];
        bool uses = !c && air->beats.first + i == plan->stand[spot->stand].beat;
        for (uint32_t k = 0; k < b->on.n && !b->dropped && c; k++)
            uses |= plan->index[b->on.first + k] == spot->container;
        if (uses)
            put_beat(&t, plan, air, i, between);
    }
    if (!t.len)
        bpi_text_put(&t, c ? bp_role_name(c->role) : "");
    if (c && c->set_by != air->set_by) /* a tease comes first */
        bpi_text_f(&t, "%son set by %s", between, bp_plan_clock(clock, plan, c->set_by));
    return bpi_fact_keep(a, &t);
}

/* src/plan/verify_stand.c - what stands on the set is what beats take up and what the show supplies. */
#include <string.h>

#define MEASURE_BOWL "small bowl"

#include "plan/verify.h"

static const bpi_segment *segment_of(const bpi_verify *v, uint32_t air)
{
    return &v->show->segment[v->segment[air]];
}

static uint32_t count_in(const uint32_t *list, uint32_t n, uint32_t x)
{
    uint32_t found = 0;
    for (uint32_t i = 0; i < n; i++)
        found += list[i] == x;
    return found;
}

/* The beat of the show file behind one of the plan; NULL: it was drafted. */
static const bpi_beat *written(const bpi_verify *v, uint32_t air, uint32_t i)
{
    const bpi_segment *g = segment_of(v, air);
    return i < g->beats ? &g->beat[i] : NULL;
}

/* So many of a tool or vessel stand with container c. */
static uint32_t stands_with(const bpi_verify *v, uint32_t c, uint32_t tool)
{
    const bp_plan *p = v->plan;
    const bp_container *box = &p->container[c];
    const bpi_recipe *r = v->recipe[c];
    uint64_t on_air = bpi_on_air(v, c);
    uint32_t most = 0;
    for (uint32_t s = 0; s < r->steps; s++)
        if (box->steps >> s & 1 && v->show->kitchen.tool[tool].vessel &&
            count_in(r->step[s].tool, r->step[s].tools, tool))
            on_air = 0; /* it comes in one */
    for (uint32_t s = 0; s < r->steps; s++)
        if (on_air >> s & 1) {
            uint32_t n = count_in(r->step[s].tool, r->step[s].tools, tool);
            most = n > most ? n : most;
        }
    for (uint32_t i = 0; i < p->air[box->air].beats.n; i++) {
        const bp_beat *b = &p->beat[p->air[box->air].beats.first + i];
        const bpi_beat *w = written(v, box->air, i);
        if (!w || b->dropped || w->dish != v->dish[c] || !bpi_among(p, b->on, c))
            continue;
        uint32_t n = count_in(w->tool, w->tools, tool);
        most = n > most ? n : most;
    }
    return most;
}

static bool is_of(const bp_stand *s, bp_good_kind kind, const char *item, const char *note)
{
    return s->kind == kind && strcmp(s->item, item) == 0 && strcmp(s->note, note) == 0;
}

static void test_tools(bpi_verify *v, uint32_t c)
{
    const bp_plan *p = v->plan;
    for (uint32_t k = 0; k < v->show->kitchen.tools; k++) {
        const bpi_tool *t = &v->show->kitchen.tool[k];
        bp_good_kind kind = t->vessel ? BP_GOOD_VESSEL : BP_GOOD_TOOL;
        uint32_t is = 0, told = 0;
        for (uint32_t o = 0; o < v->show->kitchen.tools; o++) { /* two may have one name */
            const bpi_tool *other = &v->show->kitchen.tool[o];
            if (other->vessel == t->vessel && strcmp(other->name, t->name) == 0 &&
                strcmp(other->size, t->size) == 0)
                is += stands_with(v, c, o);
        }
        for (uint32_t i = 0; i < p->stands; i++)
            if (p->stand[i].container == c && is_of(&p->stand[i], kind, t->name, t->size))
                told += p->stand[i].count;
        bool bowls = strcmp(t->name, MEASURE_BOWL) == 0; /* for what is measured, too */
        if (bowls ? told < is : told != is)
            bpi_object(v, p->container[c].code, "%u of %s stand with it, and it needs %u", told,
                       t->id, is);
    }
}

/* ---- supplies ------------------------------------------------------------------------------ */

/* Beats of an appearance on air that name it. */
static uint32_t naming(const bpi_verify *v, uint32_t air, uint32_t supply)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < v->plan->air[air].beats.n; i++) {
        const bpi_beat *w = written(v, air, i);
        n += w && !v->plan->beat[v->plan->air[air].beats.first + i].dropped &&
             count_in(w->supply, w->supplies, supply);
    }
    return n;
}

static uint32_t wanted(const bpi_verify *v, uint32_t air, uint32_t supply)
{
    const bpi_supply *s = &v->show->supply[supply];
    const bpi_segment *g = segment_of(v, air);
    uint32_t n = 0;
    if (s->per == BPI_PER_APPEARANCE)
        return s->count;
    if (s->per == BPI_PER_BEAT)
        return s->count * naming(v, air, supply);
    for (uint32_t c = 0; c < v->plan->containers; c++) {
        const bp_container *box = &v->plan->container[c];
        if (box->air == air && s->per == BPI_PER_CONTAINER)
            n += s->count;
        if (box->air == air && s->per == BPI_PER_TASTE && box->portions)
            n += s->count * (g->hosts + g->tasters);
    }
    return n;
}

static void test_supply(bpi_verify *v, uint32_t air, uint32_t supply)
{
    const bpi_supply *s = &v->show->supply[supply];
    uint32_t told = 0;
    bool kitchen = s->per == BPI_PER_SHOW || s->per == BPI_PER_COOK;
    for (uint32_t i = 0; i < v->plan->stands; i++)
        if (v->plan->stand[i].air == air && v->plan->stand[i].kind == BP_GOOD_SUPPLY &&
            strcmp(v->plan->stand[i].item, s->item) == 0)
            told += v->plan->stand[i].count;
    for (uint32_t k = 0; k < v->show->supplies; k++)
        if (k != supply && strcmp(v->show->supply[k].item, s->item) == 0)
            return; /* two lines of one name cannot be told apart here */
    if (kitchen ? told && !naming(v, air, supply) : told != wanted(v, air, supply))
        bpi_object(v, v->plan->air[air].id, "%u of %s stand on the set, and %u are wanted", told,
                   s->item, kitchen ? 0 : wanted(v, air, supply));
}

void bpi_verify_stand(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    for (uint32_t i = 0; i < p->stands; i++) {
        const bp_stand *s = &p->stand[i];
        bool box = s->container != BP_NO_INDEX, beat = s->beat != BP_NO_INDEX;
        if (s->air >= p->airs || (box && s->container >= p->containers) ||
            (beat && s->beat >= p->beats) || (box && p->container[s->container].air != s->air) ||
            s->kind == BP_GOOD_FOOD) {
            bpi_object(v, "stand", "number %u refers to nothing", i);
            return;
        }
        const char *at = box    ? p->container[s->container].station
                         : beat ? p->beat[s->beat].station
                                : "";
        if (strcmp(s->station, at) != 0)
            bpi_object(v, s->item, "it stands at another station than what it is for");
    }
    for (uint32_t c = 0; c < p->containers; c++)
        test_tools(v, c);
    for (uint32_t a = 0; a < p->airs; a++)
        for (uint32_t k = 0; k < v->show->supplies; k++)
            test_supply(v, a, k);
}

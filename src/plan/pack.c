/* src/plan/pack.c - what is packed, by what it is first used for.
 *
 * Owns     plan.pack.
 * May use  plan/fill, goods/pack, goods/pull, base/.
 */
#include "goods/pack.h"
#include "goods/pull.h"
#include "plan/fill.h"

typedef struct packs {
    bpi_fill *f;
    const bpi_pull_use *use;
    uint32_t uses;
    bpi_pack_count *count; /* tool by tool, stage by stage; the small bowls behind the tools */
    uint32_t stages;
    void *list;
    size_t n, room;
} packs;

static void add(packs *p, bp_pack x)
{
    bpi_fill *f = p->f;
    bp_pack *to = f->failed ? NULL : bpi_arena_more(f->a, &p->list, &p->room, p->n, sizeof *to);
    if (!to) {
        f->failed = true;
        return;
    }
    *to = x;
    p->n++;
}

static void put_code(bpi_text *t, const char *code)
{
    bpi_text_f(t, "%s%s", t->len ? " " : "", code);
}

/* ---- vessels and tools --------------------------------------------------------------------- */

static bool is_for(const packs *p, uint32_t tool, uint32_t stage, const char *code)
{
    for (uint32_t i = 0; i < p->uses; i++)
        if (p->use[i].tool == tool && p->use[i].stage == stage && bpi_gear_is_for(&p->use[i], code))
            return true;
    return false;
}

static const char *codes_of(packs *p, uint32_t tool, uint32_t stage)
{
    bpi_fill *f = p->f;
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_put(&t, "");
    for (uint32_t b = 0; b < f->prep->boxes; b++)
        if (is_for(p, tool, stage, f->container[b].code))
            put_code(&t, f->container[b].code);
    return bpi_fill_text(f, &t);
}

static void add_tool(packs *p, uint32_t k, uint32_t stage, bp_pack x)
{
    bpi_fill *f = p->f;
    const bpi_kitchen *kitchen = &f->show->kitchen;
    bool bowl = k == kitchen->tools;
    const bpi_pack_count *n = &p->count[k * p->stages + stage];
    if (!n->in_use)
        return;
    x.count = n->packed;
    x.in_use = n->in_use;
    x.kind = bowl || kitchen->tool[k].vessel ? BP_GOOD_VESSEL : BP_GOOD_TOOL;
    x.item = bpi_fill_copy(f, bowl ? BPI_PULL_BOWL_NAME : kitchen->tool[k].name);
    x.note = bpi_fill_copy(f, bowl ? BPI_PULL_BOWL_NOTE : kitchen->tool[k].size);
    x.provided = !bowl && kitchen->tool[k].provided;
    x.codes = codes_of(p, bowl ? BPI_PULL_BOWL : k, stage);
    add(p, x);
}

static void add_tools(packs *p, uint32_t stage, bp_pack x)
{
    const bpi_kitchen *kitchen = &p->f->show->kitchen;
    for (uint32_t k = 0; k < kitchen->tools; k++)
        if (kitchen->tool[k].vessel)
            add_tool(p, k, stage, x);
    add_tool(p, kitchen->tools, stage, x);
    for (uint32_t k = 0; k < kitchen->tools; k++)
        if (!kitchen->tool[k].vessel)
            add_tool(p, k, stage, x);
}

static bool count_tools(packs *p)
{
    uint32_t tools = p->f->show->kitchen.tools;
    bpi_arena *a = bpi_arena_new();
    bool good = a != NULL;
    for (uint32_t k = 0; k <= tools && good; k++)
        good = bpi_pack_tool(&p->count[k * p->stages], p->stages, k < tools ? k : BPI_PULL_BOWL,
                             p->use, p->uses, a);
    bpi_arena_free(a);
    return good;
}

/* ---- supplies ------------------------------------------------------------------------------ */

static void add_supply(packs *p, uint32_t k, bp_pack x)
{
    bpi_fill *f = p->f;
    const bpi_supply *s = &f->show->supply[k];
    bool strike = s->per == BPI_PER_STRIKE;
    if (strike != (x.use == BP_PACK_STRIKE))
        return;
    bpi_text codes = BPI_TEXT_EMPTY, note = BPI_TEXT_EMPTY;
    uint32_t last = BP_NO_INDEX;
    bpi_text_put(&codes, "");
    x.count = strike ? s->count : x.use == BP_PACK_KITCHEN ? bpi_fill_supplies_off(f, k) : 0;
    for (uint32_t i = 0; i < f->plan->stands && !strike && x.use != BP_PACK_KITCHEN; i++) {
        const bp_stand *stand = &f->plan->stand[i];
        bool taste = s->per == BPI_PER_TASTE;
        if (f->stand_of[i] != k || stand->air != x.air || taste != (x.use == BP_PACK_TASTING))
            continue;
        x.count += stand->count;
        if (stand->container != BP_NO_INDEX && stand->container != last)
            put_code(&codes, f->container[stand->container].code);
        last = stand->container;
    }
    bpi_text_f(&note, "%u %s", (unsigned)s->count, bpi_per_words(s->per));
    x.in_use = x.count;
    x.kind = BP_GOOD_SUPPLY;
    x.item = bpi_fill_copy(f, s->item);
    x.note = bpi_fill_text(f, &note);
    x.provided = s->provided;
    x.codes = bpi_fill_text(f, &codes);
    if (x.count)
        add(p, x);
}

static void add_supplies(packs *p, bp_pack x)
{
    for (uint32_t k = 0; k < p->f->show->supplies; k++)
        add_supply(p, k, x);
}

/* ---- all of it ------------------------------------------------------------------------------- */

void bpi_fill_packs(bpi_fill *f)
{
    if (!f->prep || !f->schedule)
        return;
    packs p = {.f = f, .uses = bpi_fill_uses(f, NULL), .stages = f->live->airs + 1};
    bpi_pull_use *use = BPI_FILL(f, p.uses + 1, bpi_pull_use);
    p.count = BPI_FILL(f, (size_t)p.stages * (f->show->kitchen.tools + 1), bpi_pack_count);
    if (!f->failed)
        bpi_fill_uses(f, use);
    p.use = use;
    f->failed = f->failed || !count_tools(&p);
    for (uint32_t s = 0; s < p.stages && !f->failed; s++) {
        bp_pack x = {.use = s ? BP_PACK_SET : BP_PACK_KITCHEN, .air = s ? s - 1 : BP_NO_INDEX};
        add_tools(&p, s, x);
        add_supplies(&p, x);
        x.use = BP_PACK_TASTING;
        if (s)
            add_supplies(&p, x);
        x.use = BP_PACK_STRIKE;
        if (s)
            add_supplies(&p, x);
    }
    f->plan->pack = p.list;
    f->plan->packs = (uint32_t)p.n;
}

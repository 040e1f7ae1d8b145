/* src/model/readkitchen.c - the kitchen and its people.
 *
 * Owns     "kitchen" of a show file: cooks, burners, circuits, ovens, tools and vessels, places.
 * May use  base/, model/read.
 */
#include "model/read.h"

#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"

#define HOUR       INT64_C(3600)
#define WORDS      120 /* bytes of a name: it must fit a lane or a column */
#define MOST_WATTS 20000

/* ---- cooks -------------------------------------------------------------------------------- */

static void read_shifts(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m);
static void read_breaks(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m);
static void read_skills(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m);

#define CLOCK(T, name, field, where)                                                               \
    {                                                                                              \
        name, bpi_read_clock, offsetof(T, field), "\"" name "\": \"05:30\"", 0, 0,                 \
            offsetof(T, where), NULL                                                               \
    }

static const bpi_member shift_members[] = {
    CLOCK(bpi_shift, "call", call, call_where),
    CLOCK(bpi_shift, "wrap", wrap, wrap_where),
};
static const bpi_member break_members[] = {
    CLOCK(bpi_break, "from", from, where),
    {"to", bpi_read_clock, offsetof(bpi_break, to), "\"to\": \"07:00\"", 0, 0, 0, NULL},
};

static bool in_order(int64_t a, int64_t b)
{
    return a == BPI_NO_TIME || b == BPI_NO_TIME || a < b;
}

static void check_shift(bpi_reader *r, const bpi_shift *s)
{
    if (!in_order(s->call, s->wrap))
        bpi_read_wrong(r, BP_EVALUE, s->wrap_where, "write a \"wrap\" later than the \"call\"",
                       "the wrap is not after the call");
}

static void read_shifts(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_cook *cook = into;
    bpi_shift *list = BPI_READ_LIST(r, v, m->name, 1, BPI_MAX_LIST, bpi_shift, &cook->shifts);
    cook->shift = list;
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_shift *s = &list[e->index];
        s->call = s->wrap = BPI_NO_TIME;
        bpi_read_object(r, s, e, "a shift", BPI_MEMBERS(shift_members));
        check_shift(r, s);
        if (e->index && !in_order(s[-1].wrap, s->call))
            bpi_read_wrong(r, BP_EVALUE, s->call_where,
                           "write the shifts in time order, with time between them",
                           "this shift does not begin after the one before it has ended");
    }
}

static void read_breaks(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_cook *cook = into;
    bpi_break *list = BPI_READ_LIST(r, v, m->name, 0, BPI_MAX_LIST, bpi_break, &cook->rests);
    cook->rest = list;
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_break *b = &list[e->index];
        b->from = b->to = BPI_NO_TIME;
        bpi_read_object(r, b, e, "a break", BPI_MEMBERS(break_members));
        b->where = e->at;
        if (!in_order(b->from, b->to))
            bpi_read_wrong(r, BP_EVALUE, b->where, "write a \"to\" later than the \"from\"",
                           "the break does not end after it begins");
        if (e->index && b[-1].to != b->from && !in_order(b[-1].to, b->from))
            bpi_read_wrong(r, BP_EVALUE, b->where, "write the breaks in time order",
                           "this break begins before the one before it has ended");
    }
}

static void read_skills(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_cook *cook = into;
    uint32_t *list = BPI_READ_LIST(r, v, m->name, 0, BPI_MAX_LIST, uint32_t, &cook->skills);
    cook->skill = list;
    uint32_t n = 0;
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        const char *text = bpi_read_plain(r, e, "skills", 1, WORDS);
        uint32_t skill = text ? bpi_read_skill(r, text) : BPI_NO_INDEX;
        if (skill != BPI_NO_INDEX)
            list[n++] = skill;
    }
    cook->skills = n;
}

/* A break that nobody would notice, outside every shift, is a slip of the pen. */
static void check_breaks(bpi_reader *r, const bpi_cook *cook)
{
    for (uint32_t i = 0; i < cook->rests; i++) {
        const bpi_break *b = &cook->rest[i];
        bool inside = b->from == BPI_NO_TIME || b->to == BPI_NO_TIME || cook->shifts == 0;
        for (uint32_t k = 0; k < cook->shifts; k++) {
            const bpi_shift *s = &cook->shift[k];
            inside = inside || s->call == BPI_NO_TIME || s->wrap == BPI_NO_TIME ||
                     s->wrap <= s->call || (s->call <= b->from && b->to <= s->wrap);
        }
        if (!inside)
            bpi_read_wrong(r, BP_EVALUE, b->where, "write a break between \"call\" and \"wrap\"",
                           "cook \"%s\" has a break outside working hours", cook->id);
    }
}

static void read_cook(bpi_reader *r, bpi_cook *cook, const bpi_node *node)
{
    static const bpi_member members[] = {
        {"id", bpi_read_id, offsetof(bpi_cook, id), "\"id\": \"ana\"", 0, 0, 0, NULL},
        {"name", bpi_read_text, offsetof(bpi_cook, name), NULL, 1, WORDS, 0, NULL},
        {"presenter", bpi_read_flag, offsetof(bpi_cook, presenter), NULL, 0, 0, 0, NULL},
        {"call", NULL, 0, NULL, 0, 0, 0, NULL},
        {"wrap", NULL, 0, NULL, 0, 0, 0, NULL},
        {"shifts", read_shifts, 0, NULL, 0, 0, 0, NULL},
        {"breaks", read_breaks, 0, NULL, 0, 0, 0, NULL},
        {"skills", read_skills, 0, NULL, 0, 0, 0, NULL},
    };
    cook->where = node->at;
    if (!bpi_read_object(r, cook, node, "a cook", BPI_MEMBERS(members)))
        return;
    if (!cook->name[0])
        cook->name = cook->id;
    const bpi_node *call = bpi_node_member(node, "call"), *wrap = bpi_node_member(node, "wrap");
    const bpi_node *shifts = bpi_node_member(node, "shifts");
    if (shifts && (call || wrap)) {
        bpi_read_wrong(r, BP_EVALUE, (call ? call : wrap)->name_at, "keep one of the two",
                       "a cook has \"call\" and \"wrap\", or \"shifts\", not both");
    } else if (!shifts && (!call || !wrap)) {
        bpi_read_wrong(r, BP_EVALUE, node->at, "add \"call\": \"05:30\", \"wrap\": \"09:30\"",
                       "a cook needs \"call\" and \"wrap\", or \"shifts\"");
    } else if (!shifts) {
        bpi_shift *s = BPI_TAKE(r->a, 1, bpi_shift);
        if (!s) {
            bpi_read_no_memory(r);
            return;
        }
        *s = (bpi_shift){bpi_read_moment(r, call, "call"), bpi_read_moment(r, wrap, "wrap"),
                         call->at, wrap->at};
        check_shift(r, s);
        cook->shift = s;
        cook->shifts = 1;
    }
    check_breaks(r, cook);
}

static void read_cooks(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_kitchen *k = into;
    bpi_cook *list = BPI_READ_LIST(r, v, m->name, 1, BPI_MAX_COOKS, bpi_cook, &k->cooks);
    k->cook = list;
    bpi_read_ids(r, v, "cooks");
    for (const bpi_node *e = v->first; e && list; e = e->next)
        read_cook(r, &list[e->index], e);
    r->cook_skills = r->show->skills;
}

/* ---- things ------------------------------------------------------------------------------- */

static void read_ovens(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member members[] = {
        {"id", bpi_read_id, offsetof(bpi_oven, id), "\"id\": \"deck\"", 0, 0, 0, NULL},
        {"name", bpi_read_text, offsetof(bpi_oven, name), NULL, 1, WORDS, 0, NULL},
        {"positions", bpi_read_count, offsetof(bpi_oven, positions), NULL, 1, 64,
         offsetof(bpi_oven, positions_where), NULL},
        {"heats", bpi_read_rate, offsetof(bpi_oven, heat_mC_min), NULL, 500, 200000, 0, NULL},
        {"cools", bpi_read_rate, offsetof(bpi_oven, cool_mC_min), NULL, 500, 200000, 0, NULL},
        {"cold", bpi_read_temperature, offsetof(bpi_oven, cold_mC), NULL, 0, 60000, 0, NULL},
        {"idle", bpi_read_span_member, offsetof(bpi_oven, idle), NULL, 0, 24 * HOUR,
         offsetof(bpi_oven, idle_where), NULL},
    };
    bpi_kitchen *k = into;
    bpi_oven *list = BPI_READ_LIST(r, v, m->name, 0, BPI_MAX_LIST, bpi_oven, &k->ovens);
    k->oven = list;
    r->oven = bpi_read_ids(r, v, "ovens");
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_oven *o = &list[e->index];
        *o = (bpi_oven){.positions = 1,
                        .heat_mC_min = 10000,
                        .cool_mC_min = 5000,
                        .cold_mC = 20000,
                        .idle = HOUR,
                        .where = e->at,
                        .positions_where = e->at,
                        .idle_where = e->at};
        bpi_read_object(r, o, e, "an oven", BPI_MEMBERS(members));
        if (!o->name[0])
            o->name = o->id;
    }
}

/* What is heated has to be told to which temperature. */
static void check_heats(bpi_reader *r, const bpi_node *node, const bpi_place *p)
{
    const bpi_node *heats = bpi_node_member(node, "heats"), *cold = bpi_node_member(node, "cold");
    if (!heats && cold)
        bpi_read_wrong(r, BP_EVALUE, cold->name_at, "add \"heats\": \"2 C/min\", or leave it out",
                       "\"cold\" is where a place starts that \"heats\"");
    else if (heats && bpi_node_member(node, "keeps") && p->keep != BPI_HOT)
        bpi_read_wrong(r, BP_EVALUE, heats->name_at, "leave it out, or write \"keeps\": \"hot\"",
                       "only a place that keeps hot is heated");
    else if (heats && !bpi_node_member(node, "temperature"))
        bpi_read_wrong(r, BP_EVALUE, heats->name_at, "add \"temperature\": \"65 C\"",
                       "a place that \"heats\" needs the temperature that it is heated to");
}

static void read_places(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_word kinds[] = {
        {"hot", BPI_HOT}, {"cold", BPI_COLD}, {"counter", BPI_COUNTER}, {NULL, 0}};
    static const bpi_member members[] = {
        {"id", bpi_read_id, offsetof(bpi_place, id), "\"id\": \"warmer\"", 0, 0, 0, NULL},
        {"name", bpi_read_text, offsetof(bpi_place, name), NULL, 1, WORDS, 0, NULL},
        {"keeps", bpi_read_word, offsetof(bpi_place, keep), "\"keeps\": \"hot\"", 0, 0, 0, kinds},
        {"count", bpi_read_count, offsetof(bpi_place, count), "\"count\": 4", 1, 1000, 0, NULL},
        {"temperature", bpi_read_temperature, offsetof(bpi_place, temp_mC), NULL, -40000, 120000, 0,
         NULL},
        {"heats", bpi_read_rate, offsetof(bpi_place, heat_mC_min), NULL, 500, 200000, 0, NULL},
        {"cold", bpi_read_temperature, offsetof(bpi_place, cold_mC), NULL, 0, 60000, 0, NULL},
    };
    bpi_kitchen *k = into;
    bpi_place *list = BPI_READ_LIST(r, v, m->name, 0, BPI_MAX_LIST, bpi_place, &k->places);
    k->place = list;
    bpi_read_ids(r, v, "places");
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_place *p = &list[e->index];
        p->where = e->at;
        p->temp_mC = BPI_NO_TEMP;
        p->cold_mC = 20000;
        if (bpi_read_object(r, p, e, "a place", BPI_MEMBERS(members)))
            check_heats(r, e, p);
        if (!p->name[0])
            p->name = p->id;
    }
}

/* ---- electricity --------------------------------------------------------------------------- */

static void read_circuits(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member members[] = {
        {"id", bpi_read_id, offsetof(bpi_circuit, id), "\"id\": \"wall\"", 0, 0, 0, NULL},
        {"name", bpi_read_text, offsetof(bpi_circuit, name), NULL, 1, WORDS, 0, NULL},
        {"amperes", bpi_read_count, offsetof(bpi_circuit, amperes), "\"amperes\": 16", 1, 400, 0,
         NULL},
        {"volts", bpi_read_count, offsetof(bpi_circuit, volts), "\"volts\": 230", 1, 1000, 0, NULL},
    };
    bpi_kitchen *k = into;
    bpi_circuit *list = BPI_READ_LIST(r, v, m->name, 0, BPI_MAX_LIST, bpi_circuit, &k->circuits);
    k->circuit = list;
    r->circuit = bpi_read_ids(r, v, "circuits");
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_circuit *c = &list[e->index];
        c->where = e->at;
        bpi_read_object(r, c, e, "a circuit", BPI_MEMBERS(members));
        if (!c->name[0])
            c->name = c->id;
    }
}

/* The circuit that `node` names in member `name`, for what draws `watts`, told of in member
 * `watts_name`: the two come together. BPI_NO_INDEX: none. */
static uint32_t read_plug(bpi_reader *r, const bpi_kitchen *k, const bpi_node *node,
                          const char *name, const char *watts_name, uint32_t watts)
{
    const bpi_node *at = bpi_node_member(node, name), *of = bpi_node_member(node, watts_name);
    if (!at && !of)
        return BPI_NO_INDEX;
    if (!at || !of) {
        bpi_read_wrong(r, BP_EVALUE, (at ? at : of)->name_at, "write both, or neither",
                       "\"%s\" without \"%s\": a load is told in watts on a circuit",
                       at ? name : watts_name, at ? watts_name : name);
        return BPI_NO_INDEX;
    }
    char prefix[80];
    snprintf(prefix, sizeof prefix, "\"%s\" is", name);
    uint32_t c = bpi_read_ref(r, at, &r->circuit, prefix, "the kitchen");
    if (c >= k->circuits)
        return BPI_NO_INDEX;
    uint32_t most = bpi_circuit_watts(&k->circuit[c]);
    if (watts > most && most)
        bpi_read_wrong(r, BP_EVALUE, of->at, "put it on another circuit, or mend the figures",
                       "%u watts are more than circuit \"%s\" carries, %u A at %u V", watts,
                       k->circuit[c].id, k->circuit[c].amperes, k->circuit[c].volts);
    return c;
}

/* ---- tools --------------------------------------------------------------------------------- */

/* Where a vessel is washed: one of the tools, which come first in the list. */
static uint32_t read_sink(bpi_reader *r, const bpi_node *vessel, const bpi_names *tools)
{
    const bpi_node *at = bpi_node_member(vessel, "wash_at");
    if (!at || !tools)
        return BPI_NO_INDEX;
    if (!bpi_node_member(vessel, "wash"))
        bpi_read_wrong(r, BP_EVALUE, at->at, "say how long washing one takes, \"wash\": \"3 min\"",
                       "\"wash_at\" without \"wash\"");
    uint32_t k = bpi_read_ref(r, at, tools, "\"wash_at\" is tool", "the kitchen");
    return k < tools->n ? k : BPI_NO_INDEX;
}

/* Tools and vessels are one list: both are used for a step and given back. `tools`: the names of
 * the tools, for vessels. */
static bpi_names read_tools(bpi_reader *r, bpi_kitchen *k, const bpi_node *v,
                            const bpi_names *tools, bpi_tool *list)
{
    bool vessel = tools != NULL;
    static const bpi_member members[] = {
        {"id", bpi_read_id, offsetof(bpi_tool, id), "\"id\": \"mixer\"", 0, 0, 0, NULL},
        {"name", bpi_read_text, offsetof(bpi_tool, name), NULL, 1, WORDS, 0, NULL},
        {"count", bpi_read_count, offsetof(bpi_tool, count), NULL, 1, 1000, 0, NULL},
        {"provided", bpi_read_flag, offsetof(bpi_tool, provided), NULL, 0, 0, 0, NULL},
        {"board", bpi_read_flag, offsetof(bpi_tool, board), NULL, 0, 0, 0, NULL},
        {"watts", bpi_read_count, offsetof(bpi_tool, watts), NULL, 1, MOST_WATTS, 0, NULL},
        {"circuit", NULL, 0, NULL, 0, 0, 0, NULL},
        {"size", bpi_read_text, offsetof(bpi_tool, size), NULL, 0, WORDS, 0, NULL}, /* of vessels */
        {"wash", bpi_read_span_member, offsetof(bpi_tool, wash), NULL, 1, HOUR,
         offsetof(bpi_tool, wash_where), NULL}, /* of vessels */
        {"wash_at", NULL, 0, NULL, 0, 0, 0, NULL},
        {"room", bpi_read_count, offsetof(bpi_tool, room), NULL, 1, 64, 0, NULL}, /* of vessels */
    };
    const size_t all = sizeof members / sizeof *members, of_all = all - 4;
    bpi_names names = bpi_read_ids(r, v, vessel ? "vessels" : "tools");
    for (const bpi_node *e = v->first; e; e = e->next) {
        bpi_tool *t = &list[k->tools++];
        t->count = 1;
        t->vessel = vessel;
        t->where = e->at;
        t->size = "";
        t->wash_where = e->at;
        t->circuit = t->wash_at = BPI_NO_INDEX;
        if (bpi_read_object(r, t, e, vessel ? "a vessel" : "a tool", members,
                            vessel ? all : of_all)) {
            t->circuit = read_plug(r, k, e, "circuit", "watts", t->watts);
            t->wash_at = read_sink(r, e, tools);
        }
        if (!t->name[0])
            t->name = t->id;
    }
    return names;
}

static void read_all_tools(bpi_reader *r, bpi_kitchen *k, const bpi_node *kitchen)
{
    const bpi_node *tools = bpi_node_member(kitchen, "tools");
    const bpi_node *vessels = bpi_node_member(kitchen, "vessels");
    uint32_t n = 0, n_vessels = 0;
    bpi_names names = {0};
    if (tools && !bpi_read_list(r, tools, "tools", 0, BPI_MAX_LIST, 1, &n)) {
        tools = NULL;
        names.unread = true;
    }
    if (vessels && !bpi_read_list(r, vessels, "vessels", 0, BPI_MAX_LIST, 1, &n_vessels))
        vessels = NULL;
    bpi_tool *list = BPI_TAKE(r->a, n + n_vessels, bpi_tool);
    if (!list) {
        bpi_read_no_memory(r);
        return;
    }
    k->tool = list;
    if (tools)
        names = read_tools(r, k, tools, NULL, list);
    if (vessels)
        read_tools(r, k, vessels, &names, list);
}

/* Their power says what a circuit carries, or what a pot gets of it, or both. */
static void read_burners(bpi_reader *r, bpi_kitchen *k, const bpi_node *v)
{
    const bpi_node *watts = bpi_node_member(v, "burner_watts");
    const bpi_node *percent = bpi_node_member(v, "burner_percent");
    if (percent && !watts)
        bpi_read_wrong(r, BP_EVALUE, percent->name_at, "add \"burner_watts\": 2000",
                       "\"burner_percent\" without \"burner_watts\": it is a share of that");
    if (!percent || bpi_node_member(v, "burner_circuit"))
        k->burner_circuit = read_plug(r, k, v, "burner_circuit", "burner_watts", k->burner_watts);
}

void bpi_read_kitchen(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member members[] = {
        {"cooks", read_cooks, 0,
         "\"cooks\": [{\"id\": \"ana\", \"call\": \"05:30\", \"wrap\": \"09:30\"}]", 0, 0, 0, NULL},
        {"burners", bpi_read_count, offsetof(bpi_kitchen, burners), NULL, 0, 64,
         offsetof(bpi_kitchen, burners_where), NULL},
        {"circuits", read_circuits, 0, NULL, 0, 0, 0, NULL},
        {"burner_watts", bpi_read_count, offsetof(bpi_kitchen, burner_watts), NULL, 1, MOST_WATTS,
         0, NULL},
        {"burner_circuit", NULL, 0, NULL, 0, 0, 0, NULL},
        {"burner_percent", bpi_read_count, offsetof(bpi_kitchen, burner_percent), NULL, 1, 100, 0,
         NULL},
        {"ovens", read_ovens, 0, NULL, 0, 0, 0, NULL},
        {"tools", NULL, 0, NULL, 0, 0, 0, NULL},
        {"vessels", NULL, 0, NULL, 0, 0, 0, NULL},
        {"places", read_places, 0, NULL, 0, 0, offsetof(bpi_kitchen, places_where), NULL},
        {"carry", bpi_read_span_member, offsetof(bpi_kitchen, carry), NULL, 0, HOUR,
         offsetof(bpi_kitchen, carry_where), NULL},
        {"load", bpi_read_span_member, offsetof(bpi_kitchen, load), NULL, 0, HOUR, 0, NULL},
        {"take_off", bpi_read_span_member, offsetof(bpi_kitchen, take_off), NULL, 0, HOUR, 0, NULL},
    };
    bpi_kitchen *k = (bpi_kitchen *)(void *)((char *)into + m->field);
    k->carry = k->load = k->take_off = 60;
    k->burners_where = k->places_where = k->carry_where = v->at;
    /* Kept where the number cannot be read, so that no step complains of having none. */
    k->burners = bpi_node_member(v, "burners") ? UINT32_MAX : 0;
    k->burner_circuit = BPI_NO_INDEX;
    if (!bpi_read_object(r, k, v, "a kitchen", BPI_MEMBERS(members)))
        return;
    read_burners(r, k, v);
    read_all_tools(r, k, v);
}
